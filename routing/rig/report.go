package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Report is what a rig is, before any road is chosen.
type Report struct {
	Rig        Rig
	Statics    Statics
	Needs      Needs
	Levers     []Lever
	States     []Measures
	Tip        measure.Known[Tip]
	Winds      Winds
	Underneath measure.Known[Underneath]
	Turning    Turning
	Bending    measure.Known[Bending]
	Steering   measure.Known[Steering]
	Level      measure.Known[Level]
	Stops      measure.Known[Stops]
	Holding    *Holding // nil: no anchors are described
	Drag       measure.Known[Drag]
	Grades     measure.Known[[]Held] // the speed it holds on grades
	Burning    measure.Known[Burning]
	Findings   []finding.Finding
	Departure  []say.Remark
	Cautions   []say.Remark
}

// Report works out all that a description tells. What it does not tell is
// unknown, and named.
func (r Rig) Report() Report {
	s := r.Statics()
	return Report{
		Rig: r, Statics: s, Needs: r.Needs(s), Levers: r.levers(s), States: r.States(), Tip: r.Tip(s),
		Winds: r.Winds(
			s,
		), Underneath: r.Underneath(), Turning: r.Turning(), Bending: r.Bending(), Holding: r.Holding(),
		Steering: r.Steering(s),
		Level:    r.Level(), Stops: r.Stops(s),
		Drag: r.Drag(), Grades: r.Held(),
		Burning:  r.Burning(),
		Findings: r.Findings(s), Departure: r.Departure(), Cautions: Cautions(),
	}
}

// Findings answers everything about a rig that hangs on no road. A rig of which
// nothing but its size is given has one finding, that nothing of it was checked.
func (r Rig) Findings(s Statics) []finding.Finding {
	if !r.Described() {
		return []finding.Finding{{
			Topic: finding.Rig, Rule: RuleRatings, Place: say.That("rig.rig"), Outcome: finding.Unknown,
			Reason: finding.NotDescribed, Says: []say.Remark{say.That("rig.not_described")},
			Settles: finding.By(describe("unit.running_gear"), weigh(ofTicket, say.That("task.weigh_rig"))),
		}}
	}
	out := append(r.Ratings(s), r.Stability(s)...)
	if h := r.Holding(); h != nil {
		out = append(out, h.finding())
	}
	out = append(out, r.bends()...)
	out = append(out, r.steers(s), r.stands(), r.tires(s), r.brakes(s))
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

// Described reports whether anything is known of the rig but its size.
func (r Rig) Described() bool {
	f, t := r.Unit.Frame, r.Tow.Truck
	return len(f.Axles)+len(f.Parts)+len(f.Movables)+len(f.Anchors)+len(f.Outline)+len(t.Axles) > 0 ||
		f.Ticket != nil || f.Ratings != Ratings{} || t.Ratings != Ratings{}
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
			Topic: finding.Rig, Rule: RuleForgotten, Place: say.Text(m.Forgotten), Outcome: finding.Review,
			Reason: finding.Practice, Value: finding.Of(max(m.Extent.Top, m.Above)),
			Says: []say.Remark{say.That("rig.forgotten", "name", m.Forgotten, "does", m.Does, "changes",
				m.Changes(states[0]))},
			Settles: finding.By(
				seeTo(say.That("rig.walks_round"), say.That("task.movable", "name", m.Forgotten, "does", m.Does)),
			),
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
func Cautions() []say.Remark {
	return []say.Remark{say.That("rig.caution_aid"), say.That("rig.caution_mass"), say.That("rig.caution_stiff"),
		say.That("caution.unknown")}
}
