package report

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// planScreen is the answer to a plan on one screen: what was asked, what it comes to
// and what decides that; the way and when it is driven; what the rules say, what to
// ask for and to pass under; fuel; what to do next.
func planScreen(v View, p *trip.Plan) *screen {
	s := &screen{in: v.In, full: v.Full}
	s.asked(p)
	s.verdict(p, decisive)
	s.way(p)
	s.rules(p)
	s.permits(p)
	s.escorts(p)
	s.overhead(p)
	s.fuel(p)
	s.tasks(p.Tasks())
	s.foot(s.examples(p))
	s.credit(p.About)
	return s
}

// asked says what was asked: from where to where, when, and with what.
func (s *screen) asked(p *trip.Plan) {
	from, to := p.Ends()
	s.whole().briefly(say.That("screen.plan.title", "invented", p.RestsOnInvented(), "name", s.clip(p.Name),
		"from", s.name(from), "to", s.name(to), "via", s.between(p)))
	s.rig(p.Rig)
	s.order(p)
}

// order says in which order the stops are driven, where one was chosen.
func (s *screen) order(p *trip.Plan) {
	if p.Order != nil {
		s.part(say.That("screen.label.order")).keeps(p.Order.Says())
	}
}

// between are the stops of a timetable between its first and its last.
func (s *screen) between(p *trip.Plan) (out []string) {
	if p.Timetable == nil {
		return nil
	}
	for i, stop := range p.Timetable.Journey.Stops {
		if i > 0 && i < len(p.Timetable.Journey.Stops)-1 {
			out = append(out, s.name(stop.Label))
		}
	}
	return out
}

func (s *screen) name(r say.Remark) string { return s.clip(s.in.Say(r)) }

// rig says how large a rig is and what it counts as; of its height and its width only
// what is not the unit's own.
func (s *screen) rig(r rig.Rig) {
	u := r.Unit
	s.part(say.That("screen.label.unit")).keeps(say.That("screen.unit", "name", s.clip(u.Name), "height", given(u.Height),
		"measured", u.HeightMeasured, "designed", u.Height != nil && !u.HeightMeasured, "width", leastOf(u.Width),
		"length", given(u.Length), "mass", leastOf(u.Mass)))
	var height, width any
	if h, ok := r.Height.Value(); !ok || u.Height == nil || h != *u.Height {
		height = leastOf(r.Height)
	}
	if w, ok := r.Width.Value(); !ok || w != *cmp.Or(u.Width.Pointer(), new(measure.Length)) {
		width = leastOf(r.Width)
	}
	s.part(say.That("screen.label.rig")).keeps(say.That("screen.rig", "name", s.clip(r.Tow.Name), "form", r.Tow.Form,
		"height", height, "width", width, "length", leastOf(r.Length), "mass", leastOf(r.Mass),
		"kind", u.Kind, "use", r.Use))
}

// size is a length or a mass, or that it is not known.
func size(q finding.Quantity) any {
	if !q.Known() {
		return say.That("screen.size_not_known")
	}
	return q
}

func given[T measure.Length | measure.Mass](v *T) any {
	if v == nil {
		return size(finding.Quantity{})
	}
	return size(finding.Of(*v))
}

func leastOf[T measure.Length | measure.Mass](k measure.Known[T]) any {
	return size(finding.Sized(k, finding.Of[T]))
}

// examples are things of a plan that --why opens.
func (s *screen) examples(p *trip.Plan) (out []string) {
	for _, l := range p.Legs {
		out = append(out, l.Jurisdictions...)
	}
	slices.Sort(out)
	if out = slices.Compact(out); len(out) > 1 {
		out = out[len(out)-1:]
	}
	out = append(out, s.in.Say(say.That("screen.leg", "n", 1)), s.in.Term(limit.Width))
	for _, one := range passings(p) {
		return append(out, one.ID)
	}
	return out
}
