package standing

import (
	"cmp"
	"slices"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Passing is one structure on a leg.
type Passing struct {
	clearance.Structure
	clearance.Passage
	Called   say.Remark
	At       measure.Distance // from the start of the leg
	Height   finding.Quantity // of the rig, as compared
	Doubt    say.Remark       // why it may not stand over this road
	Citation finding.Citation // where it comes from

	Settles      [][]finding.Step // set unless clear
	Jurisdiction string
	risk         int
}

// Passing describes a structure on a leg.
func (j *Judge) Passing(s Placed, at measure.Distance, jurisdiction string) Passing {
	out := Passing{
		Structure: s.Structure, Called: s.Called, Passage: s.Passage, At: at, Doubt: s.Doubt, Jurisdiction: jurisdiction,
		risk: s.risk,
	}
	if high, some := j.Rig.Height.Least(); some {
		out.Height = finding.Of(high)
	}
	out.Citation = out.citation(s.Revision)
	if s.Passage.Outcome != finding.Clear {
		if !s.Doubt.None() && s.Passage.Outcome != finding.Forbidden {
			out.Reason = finding.Perhaps
		}
		out.Settles = j.ofStructure(out)
	}
	return out
}

// ofStructure is what settles how the rig passes a structure: somebody measures it, or
// has the rig's height go under it before, or the office says. By how little it passes
// is for the office alone.
func (j *Judge) ofStructure(p Passing) [][]finding.Step {
	asks := say.That("task.structure", "name", p.Called, "id", p.ID)
	office := finding.Step{By: finding.Office, Whom: j.Tables.Office(p.Jurisdiction), Of: p.Jurisdiction, Asks: asks}
	if p.Outcome != finding.Unknown {
		return finding.By(office)
	}
	return [][]finding.Step{{Surveying(asks)}, {{By: finding.Data, Of: "structures", Asks: asks}}, {office}}
}

// Key is that of the structure, as [Placed.Key].
func (p Passing) Key() string {
	return Placed{Structure: p.Structure, Revision: p.Citation.Revision}.Key()
}

// Finding answers for a structure.
func (p Passing) Finding() finding.Finding {
	f := finding.Finding{
		Topic: finding.Structure, Rule: "structure", Jurisdiction: p.Jurisdiction, Place: p.Called,
		Outcome: p.Outcome, Reason: p.Reason, Value: p.Height, Invented: p.Invented(), Says: p.says(),
		Settles: p.Settles, Citations: []finding.Citation{p.Citation},
	}
	if p.Known {
		f.Margin = finding.Of(p.Margin)
	}
	if !p.Doubt.None() && p.Doubt.String() != p.Why.String() {
		f.Says = append(f.Says, p.Doubt)
	}
	return f
}

// says is how the rig passes. What is asked beside the height comes first.
func (p Passing) says() []say.Remark {
	figure, of := p.Structure.Figure()
	out := slices.Clone(p.Others)
	switch {
	case figure == nil && !p.Why.None():
		return append(out, say.That("structure.not_known", "why", p.Why))
	case figure == nil:
		return out
	case len(p.Others) > 0:
		return append(out, p.Why, say.That("structure.height", "sum", p.Sum()))
	case p.Outcome == finding.Clear:
		return append(out, say.That("structure.passes", "spare", p.Margin, "of", of, "figure", *figure))
	case p.Outcome == finding.Forbidden:
		return append(out, say.That("structure.too_low", "short", -p.Margin, "of", of, "figure", *figure))
	case p.Outcome == finding.Review && !p.Why.None():
		return append(out, p.Why)
	case p.Outcome == finding.Review:
		return append(out, say.That("structure.little", "spare", p.Margin, "of", of, "figure", *figure))
	default:
		return append(out, say.That("structure.not_known", "why", p.Why))
	}
}

func (p Passing) citation(revision string) finding.Citation {
	figure, of := p.Structure.Figure()
	r := finding.Citation{
		ID: p.ID, Revision: revision, Status: p.Status, Source: p.Source, Section: p.Section, Year: p.Year,
		ReadOn: p.ReadOn, Decides: true,
	}
	r.Shows = say.That("figure.none")
	switch {
	case figure != nil:
		r.Shows = say.That("figure.of", "figure", *figure, "of", of)
		r.Says = []say.Remark{p.Sum()}
	case p.Structure.Note != "":
		r.Says = []say.Remark{say.That("structure.note", "note", p.Structure.Note)}
	}
	return r
}

// ByRisk is a list of passings in the order in which they are answered for.
func ByRisk(list []Passing) []Passing {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b Passing) int { return cmp.Compare(a.risk, b.risk) })
	return out
}
