package rig

import (
	"fmt"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Report is what a rig is, before any road is chosen.
type Report struct {
	Rig        Rig
	Statics    Statics
	Levers     []Lever
	States     []Measures
	Tip        *Tip // nil: not known
	Winds      Winds
	Underneath Underneath
	Turning    Turning
	Holding    *Holding // nil: no anchors are described
	Drag       Drag
	Grades     []Held // the speed it holds on grades; none: not known
	NoGrades   string // why not
	Findings   []finding.Finding
	Departure  []string
	Cautions   []string
}

// Report works out all that a description tells. What it does not tell is
// unknown, and named.
func (r Rig) Report() Report {
	s := r.Statics()
	out := Report{
		Rig: r, Statics: s, Levers: r.levers(s), States: r.States(), Winds: r.Winds(s), Underneath: r.Underneath(), Turning: r.Turning(),
		Holding: r.Holding(), Drag: r.Drag(), Departure: r.Departure(), Cautions: Cautions(),
	}
	if t, unknown := r.Tip(s); unknown == "" {
		out.Tip = &t
	}
	out.Grades, out.NoGrades = r.Held()
	out.Findings = r.Findings(s)
	return out
}

// Findings answers everything about a rig that hangs on no road. A rig of which
// nothing but its size is given has one finding, that nothing of it was checked.
func (r Rig) Findings(s Statics) []finding.Finding {
	if !r.Described() {
		return []finding.Finding{{
			Rule: "ratings", Place: say.Text("the rig"), Outcome: finding.Unknown, Ask: askScale,
			Summary: "axles, tires, coupling and ratings are not described: whether any of them is overloaded, how near the unit is to tipping over and which wind it stands is not known",
		}}
	}
	out := append(r.Ratings(s), r.Stability(s)...)
	if h := r.Holding(); h != nil {
		out = append(out, h.finding())
	}
	out = append(out, r.forgotten()...)
	if r.Invented {
		madeUp(out)
	}
	return out
}

// madeUp marks findings about a rig that nobody has.
func madeUp(findings []finding.Finding) {
	for i := range findings {
		f := &findings[i]
		f.Invented = true
		for j := range f.Citations {
			if f.Citations[j].Source == ofDescription {
				f.Citations[j].Status = finding.Invented
			}
		}
	}
}

// Described tells whether anything is known of the rig but its size.
func (r Rig) Described() bool {
	f, t := r.Unit.Frame, r.Tow.Truck
	return len(f.Axles)+len(f.Parts)+len(f.Movables)+len(f.Anchors)+len(f.Outline)+len(t.Axles) > 0 || f.Ticket != nil || f.Ratings != Ratings{} || t.Ratings != Ratings{}
}

// forgotten answers what movables do to the height if they are not made ready:
// somebody must look, each time.
func (r Rig) forgotten() []finding.Finding {
	states := r.States()
	var out []finding.Finding
	for _, m := range states {
		if m.Forgotten == "" || !m.Hits {
			continue
		}
		out = append(out, finding.Finding{
			Rule: "forgotten", Place: say.Text(m.Forgotten), Outcome: finding.Review, Ask: "who walks round the rig before it leaves",
			Value: finding.Of(max(m.Extent.Top, m.Above)), Summary: fmt.Sprintf("if %s is not made ready (%s): %s", m.Forgotten, strings.ReplaceAll(m.Does, "_", " "), m.Words(states[0])),
		})
	}
	return out
}

// Lever is what moving a part by 1 m toward the coupling does.
type Lever struct {
	Part       string
	Mass       Estimate
	ToCoupling measure.Mass // from the axles
}

// levers lists what moving each part does, in the order of the parts as they travel.
func (r Rig) levers(s Statics) []Lever {
	if s.Basis == Nothing || axlesAt(r.Unit.Frame.Axles) <= 0 {
		return nil
	}
	var out []Lever
	for _, p := range r.Unit.PartsIn(Travelling, nil) {
		out = append(out, Lever{p.Name, p.Mass, r.Unit.lever(p)})
	}
	return out
}

// Cautions are what every answer about a rig says.
func Cautions() []string {
	return []string{
		"Planning aid only. The rating plates, the weigh scale, the makers' manuals and licensed practice decide.",
		"A mass that was added up is a guess with a spread: weigh the loaded rig, each axle and each side, before it leaves.",
		"Tipping, wind and holding down are reckoned for a stiff rig on level ground: real ones lean, sway and lift sooner.",
		"Unknown is not clear: ask whom the finding names before you move.",
	}
}
