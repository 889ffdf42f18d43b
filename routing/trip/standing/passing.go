package standing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Passing is one structure on a leg.
type Passing struct {
	clearance.Structure
	clearance.Passage
	At     measure.Distance // from the start of the leg
	Height finding.Quantity // of the rig, as compared
	Doubt  string           // why it may not stand over this road
	Row    finding.Citation // where it comes from
	Ask    string           // whom to ask; set unless clear

	Jurisdiction string
	risk         int
}

// Passing describes a structure on a leg.
func (j *Judge) Passing(s Placed, at measure.Distance, jurisdiction string) Passing {
	out := Passing{Structure: s.Structure, Passage: s.Passage, At: at, Doubt: s.Doubt, Jurisdiction: jurisdiction, risk: s.risk}
	if h, ok := j.Rig.Clear(); ok {
		out.Height = finding.Of(h.Length)
	}
	out.Row = out.row(s.Revision)
	if s.Passage.Outcome != finding.Clear {
		out.Ask = j.Tables.Ask(jurisdiction)
	}
	return out
}

// Key is that of the structure, as [Placed.Key].
func (p Passing) Key() string { return Placed{Structure: p.Structure, Revision: p.Row.Revision}.Key() }

// Finding answers for a structure.
func (p Passing) Finding() finding.Finding {
	figure, name := p.Structure.Figure()
	f := finding.Finding{
		Rule: "structure", Jurisdiction: p.Jurisdiction, Place: say.Text(p.Name), Outcome: p.Outcome, Value: p.Height, Invented: p.Invented(),
		Ask: p.Ask, Citations: []finding.Citation{p.Row},
	}
	if p.Known {
		f.Margin = finding.Of(p.Margin)
	}
	f.Summary = p.words(figure, name)
	if p.Doubt != "" && p.Doubt != p.Why {
		f.Summary += "; " + p.Doubt
	}
	return f
}

// words says how the rig passes. What is asked beside the height comes first.
func (p Passing) words(figure *measure.Length, name string) string {
	var parts []string
	parts = append(parts, p.Others...)
	switch {
	case figure == nil && p.Why != "":
		parts = append(parts, "not known to pass: "+p.Why)
	case figure == nil:
	case len(p.Others) > 0:
		parts = append(parts, strings.TrimPrefix(p.Why+"; ", "; ")+"height: "+p.Sum())
	case p.Outcome == finding.Clear:
		parts = append(parts, fmt.Sprintf("the rig passes under the %s %s with %s to spare", name, figure.Metric(), p.Margin.Metric()))
	case p.Outcome == finding.Forbidden:
		parts = append(parts, fmt.Sprintf("too low: %s short under the %s %s", (-p.Margin).Metric(), name, figure.Metric()))
	case p.Outcome == finding.Review && p.Why != "":
		parts = append(parts, p.Why)
	case p.Outcome == finding.Review:
		parts = append(parts, fmt.Sprintf("%s to spare under the %s %s is little; a person must decide", p.Margin.Metric(), name, figure.Metric()))
	default:
		parts = append(parts, "not known to pass: "+p.Why)
	}
	return strings.Join(parts, "; ")
}

func (p Passing) row(revision string) finding.Citation {
	figure, name := p.Structure.Figure()
	r := finding.Citation{
		ID: p.ID, Revision: revision, Published: "no figure", Status: p.Status, Source: p.Source, Section: p.Section, Year: p.Year,
		ReadOn: p.ReadOn, Decides: true, Words: p.Sum(),
	}
	if p.Structure.Note != "" && figure == nil {
		r.Words = "note: " + p.Structure.Note
	}
	if figure != nil {
		r.Published = figure.Metric() + " " + name
	}
	return r
}

// ByRisk is a list of passings in the order in which they are answered for.
func ByRisk(list []Passing) []Passing {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b Passing) int { return cmp.Compare(a.risk, b.risk) })
	return out
}
