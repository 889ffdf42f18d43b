package report

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// rigDetails is what opens behind the ten lines of a rig: what it is, what decides of
// each state, masses beside their ratings, turning, what truck the unit takes, the way,
// and every task.
func rigDetails(v View, a *wire.RigAnswer) *screen {
	s := &screen{in: v.In, full: true}
	s.rig(a.Rig)
	s.rigVerdict(a)
	s.ratings(a.Findings)
	s.turns(a.Report)
	s.truck(a.Needs)
	s.tasks(a.Tasks())
	p := s.whole()
	p.apart = true
	p.keeps(say.That("screen.words"))
	return s
}

func (s *screen) rigVerdict(a *wire.RigAnswer) {
	c := counts{}
	all := a.Found()
	for _, f := range all {
		c.add(f.Outcome)
	}
	part := s.part(say.That("screen.label.verdict"))
	part.keeps(c.verdict(finding.Roll(all).Outcome()))
	for _, o := range []finding.Outcome{finding.Forbidden, finding.Review, finding.Conditional, finding.Unknown} {
		var about []say.Remark
		for _, f := range all {
			if finding.Outcome(stateOf(f.Outcome)) == o && !(rig.Rated(f) && o == finding.Unknown) { // those have a table
				s.speaksOf(f)
				about = append(about, say.That("screen.about", "jurisdiction", f.Jurisdiction, "rule", f.Rule,
					"place", say.Remark{}))
			}
		}
		if len(about) > 0 {
			part.briefly(say.That("screen.rig.decides", "state", stateOf(o), "about", say.Once(about)))
		}
	}
}

// long is a distance as a length, to the millimetre.
func long(d measure.Distance) measure.Length {
	return measure.Length(math.Round(1000*float64(d))) * measure.Millimetre
}

// ratings writes a table of what each part carries beside what it is rated for. Of axles
// the one with the least left stands for its vehicle.
func (s *screen) ratings(all []finding.Finding) {
	part := s.apart(say.That("screen.label.ratings"))
	tight := closest(all)
	if len(tight) == 0 {
		return
	}
	part.head(say.That("screen.column.thing"), say.That("screen.column.likely"), say.That("screen.column.most"),
		say.That("screen.column.rated"), say.That("screen.column.left"), say.That("screen.column.state"))
	var missing []say.Remark
	weighed := true
	for _, f := range tight {
		if f.Reason == finding.NotGiven && f.Figures.None() {
			missing = append(missing, say.Remark{Code: f.Rule.Term()})
			continue
		}
		weighed = weighed && f.Reason != finding.NotMeasured
		s.speaksOf(f)
		likely, most := carried(f)
		part.row(true, "", append(s.in.Each([]say.Remark{placeOf(f, all), likely, most, ratedFor(f), left(f)}),
			s.in.Term(stateOf(f.Outcome)))...)
	}
	if len(missing) > 0 {
		part.keeps(say.That("screen.rig.no_ratings", "ratings", missing))
	}
	if !weighed {
		part.keeps(say.That("screen.rig.weigh"))
	}
}

// placeOf is what a rating is of; of how many the one shown is the tightest.
func placeOf(f finding.Finding, all []finding.Finding) say.Remark {
	n := 0
	for _, o := range all {
		if o.Rule == f.Rule {
			n++
		}
	}
	if n > 1 {
		return say.That("screen.rig.tightest", "place", f.Place, "count", n)
	}
	return f.Place
}

// closest are the findings about ratings: of those of one rule the one with the gravest
// state, then with the least left.
func closest(all []finding.Finding) (out []finding.Finding) {
	order := []finding.Outcome{finding.Clear, finding.Unknown, finding.Review, finding.Forbidden}
	for _, f := range all {
		i := slices.IndexFunc(out, func(o finding.Finding) bool { return o.Rule == f.Rule })
		switch {
		case !rig.Rated(f):
		case i < 0:
			out = append(out, f)
		case cmp.Or(cmp.Compare(slices.Index(order, f.Outcome), slices.Index(order, out[i].Outcome)),
			cmp.Compare(kilos0(out[i].Margin), kilos0(f.Margin))) > 0:
			out[i] = f
		}
	}
	return out
}

func kilos0(q finding.Quantity) measure.Mass {
	m, _ := q.Mass()
	return m
}

// carried is the mass that a finding compares: what is likely, and the most.
func carried(f finding.Finding) (likely, most say.Remark) {
	if m, ok := f.Figures.Get("mass").(measure.Mass); ok {
		return say.That("screen.alone", "value", m), say.That("screen.no_answer")
	}
	if high, ok := f.Figures.Get("high").(measure.Mass); ok {
		return say.That("screen.alone", "value", f.Figures.Get("likely")), say.That("screen.alone_up", "high", high)
	}
	return say.That("screen.size_not_known"), say.That("screen.no_answer")
}

// ratedFor is the rating that a finding compares with.
func ratedFor(f finding.Finding) say.Remark {
	for _, r := range f.Says {
		if m, ok := r.Get("rating").(measure.Mass); ok {
			return say.That("screen.alone_down", "value", m)
		}
	}
	return say.That("screen.size_not_known")
}

// left is what a rating leaves at the high end of the mass.
func left(f finding.Finding) say.Remark {
	if over, is := beyond(f.Margin); is {
		return say.That("screen.rig.over", "over", over)
	}
	if f.Margin.Known() {
		return say.That("screen.alone_down", "value", f.Margin)
	}
	return say.That("screen.no_answer")
}

// turns says how the rig turns, and how far it bends.
func (s *screen) turns(r rig.Report) {
	turning := s.apart(say.That("screen.label.turning"))
	if !r.Turning.Rig.Known() {
		turning.briefly(say.That("screen.rig.not_known", "why", r.Turning.Rig.Why()))
	}
	for _, c := range r.Turning.Circles {
		switch {
		case c.Lock && c.Held:
			turning.keeps(say.That("screen.rig.lock", "radius", long(c.Radius), "in", long(c.OffTracking),
				"swept", long(c.Width)))
		case c.Radius == corner && c.Held:
			turning.tells(say.That("screen.rig.corner", "radius", long(c.Radius), "in", long(c.OffTracking),
				"swept", long(c.Width)))
		}
	}
	s.bending(turning, r.Bending)
}

// bending says whether the unit touches what tows it.
func (s *screen) bending(part *part, k measure.Known[rig.Bending]) {
	b, ok := k.Value()
	switch {
	case !ok:
	case b.First != nil:
		part.keeps(say.That("screen.rig.touches", "angle", b.First.Angle, "against", b.First.Against, "box", b.First.Box,
			"unsure", b.First.Unsure))
	default:
		part.tells(bends(b))
	}
}

// bends says that nothing touches, and how much room is left above the tow vehicle.
func bends(b rig.Bending) say.Remark {
	if b.Over == nil {
		return say.That("screen.rig.bends", "angle", float64(rig.Square))
	}
	return say.That("screen.rig.bends_over", "angle", float64(rig.Square), "room", *b.Over)
}

// corner is the radius of a wide corner in a town.
const corner = 12.5 * measure.Distance(1)

// truck says what the unit asks of whatever tows it.
func (s *screen) truck(n rig.Needs) {
	part := s.part(say.That("screen.label.truck"))
	towed, ok := n.Towed.Value()
	resting, known := n.Resting.Value()
	switch {
	case !ok:
		part.keeps(say.That("screen.rig.not_known", "why", n.Why))
		return
	case !known:
		part.keeps(say.That("screen.rig.needs_payload", "needs", towed.High))
	default:
		part.keeps(say.That("screen.rig.needs", "needs", resting.High, "high", towed.High, "share", n.ByShare))
	}
	part.keeps(say.That("screen.rig.combined", "needs", towed.High))
}
