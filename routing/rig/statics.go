package rig

import (
	"math"

	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Basis is what masses rest on.
type Basis string

// The bases.
const (
	Nothing Basis = ""          // no parts, no ticket
	ByParts Basis = "parts"     // worked out
	OnScale Basis = "the scale" // of the unit
)

// Statics is what a rig weighs and where it stands, level and at rest.
type Statics struct {
	Basis    Basis
	Unit     Estimate
	Parts    Estimate // what the parts add up to; beside a ticket it is only shown
	Centre   CentreOfGravity
	Coupling measure.Known[Estimate] // what rests on the tow vehicle
	Share    Shares                  // of the unit's mass that rests on the coupling
	Group    measure.Known[Estimate] // what the axles of the unit carry together
	Axles    []Estimate              // of the unit; empty: not known
	Tow      []Estimate              // axles of the tow vehicle, coupled; empty: not known
	TowGross measure.Known[Estimate] // of the tow vehicle with what rests on it
	Rig      measure.Known[Estimate]
	Left     measure.Known[Estimate] // what the left tires of the unit carry, of Group
	Right    measure.Known[Estimate] // and the right ones
	Even     bool                    // the axles of the unit share alike while it stands level, or each was weighed
	Each     bool                    // what each axle of the unit carries was weighed or balanced, not shared out
	Stale    bool                    // the scale's ticket is older than a year on the day of the move
	Weighed  bool                    // every axle of the rig was weighed, coupled, and nothing contradicts it
	Apart    say.Remark              // what contradicts the parts; none for nothing
	Disputed bool                    // two answers of scales, or of a scale and the parts, contradict each other
	Bars     *Bars                   // of the hitch, which Tow, TowGross and Axles are reckoned with; nil: none
	Unknown  []say.Remark            // why something is not known
}

// Shares is a part of a whole with the ends between which it lies.
type Shares struct{ Low, Likely, High float64 }

// OfScale reports whether what the unit weighs, and rests on its coupling, was weighed
// lately and nothing contradicts it: only that clears a rating.
func (s Statics) OfScale() bool { return s.Basis == OnScale && !s.Stale && !s.Disputed }

// Statics balances a rig:
//
//  1. Take the masses of the scale, else those of the parts.
//  2. Lever the unit about its coupling point: what its axles carry, and the rest
//     on the coupling.
//  3. Share among the axles; to the sides by the centre of gravity.
//  4. Lever what rests on the coupling about the first axle of the tow vehicle,
//     and add what its axles carry empty.
//  5. Shift among independent axles what a unit does that stands off level, and move
//     what the bars of a load-distributing hitch do.
//
// The masses add up exactly. Group and Coupling are those of the unit without bars. It
// does not consider grades, or how springs give way.
func (r Rig) Statics() Statics {
	u := r.Unit
	parts := u.PartsIn(Travelling, nil)
	s := Statics{Parts: total(parts), Centre: centreOfGravity(parts)}
	mass, said := u.Mass.Value()
	switch {
	case u.Ticket != nil:
		s.weigh(r)
	case len(parts) > 0:
		s.Basis, s.Unit = ByParts, s.Parts
		s.lever(u, parts)
	default:
		s.Unknown = append(s.Unknown, say.That("rig.nothing_weighed"))
		if said {
			s.Unit = Exactly(mass)
		}
	}
	for _, m := range u.Movables {
		if m.Mass.High == 0 && m.Travel != nil && u.Ticket == nil {
			s.Unknown = append(s.Unknown, say.That("rig.movable_mass", "name", m.Name))
		}
	}
	if said && s.Parts.High > 0 && (mass < s.Parts.Low || mass > s.Parts.High) {
		s.Apart = say.That("rig.parts_apart", "mass", mass, "parts", s.Parts.Says())
	}
	s.sides(u, parts)
	s.towAxles(r.Tow)
	s.tilt(r)
	s.bars(r)
	s.scaled(r)
	if m, ok := r.Mass.Value(); ok && s.Rig.Open() {
		s.Rig = measure.Exactly(Exactly(m))
	}
	return s
}

// ticketTerm is how long a scale's ticket can clear anything: as long as a row of
// the tables, this project's choice.
const ticketTerm = 365 * 24 * time.Hour

// weigh takes what the scale said.
func (s *Statics) weigh(r Rig) {
	u, t := r.Unit, r.Unit.Ticket
	group := t.group()
	s.Basis, s.Unit = OnScale, Exactly(t.Coupling+group)
	s.Stale = !r.Day.IsZero() && r.Day.Sub(t.On) > ticketTerm
	s.set(Exactly(t.Coupling), Exactly(group))
	on := float64(t.Coupling) / float64(t.Coupling+group)
	s.Share = Shares{on, on, on}
	switch n := len(u.Frame.Axles); {
	case len(t.Axles) == n && n > 0:
		s.Even, s.Each = true, true
		for _, m := range t.Axles {
			s.Axles = append(s.Axles, Exactly(m))
		}
	case n > 0:
		s.spread(u)
	}
	s.Centre.Along = s.weighedCentre(u)
}

// weighedCentre is where along the unit the scale has its centre of gravity. Where
// its axles were weighed together and need not share alike it is not known.
func (s *Statics) weighedCentre(u Unit) Centre {
	if !s.Even || s.Unit.Likely <= 0 {
		return Centre{Missing: []say.Remark{say.That("rig.each_on_scale")}}
	}
	var moment float64
	for i, a := range u.Frame.Axles {
		moment += s.Axles[i].Likely.Kilograms() * a.At.Metres()
	}
	at := measure.Distance(moment / s.Unit.Likely.Kilograms())
	return Centre{Low: at, Likely: at, High: at}
}

func (s *Statics) set(coupling, group Estimate) {
	s.Coupling, s.Group = measure.Exactly(coupling), measure.Exactly(group)
}

// spread shares what the axles carry together among them, alike.
func (s *Statics) spread(u Unit) {
	n := len(u.Frame.Axles)
	group, _ := s.Group.Value()
	low, likely, high := share(group.Low, n), share(group.Likely, n), share(group.High, n)
	for i := range n {
		s.Axles = append(s.Axles, Estimate{low[i], likely[i], high[i]})
	}
	s.Each = n == 1
	s.Even = s.Each || u.Suspension == Equalized
}

// lever balances the parts of a unit about its coupling point.
func (s *Statics) lever(u Unit, parts []Part) {
	if missing := s.Centre.Along.Missing; missing != nil {
		s.Unknown = append(s.Unknown, say.That("rig.no_place_along", "parts", list(missing)))
		return
	}
	at, n := axlesAt(u.Frame.Axles), len(u.Frame.Axles)
	if n == 0 || at <= 0 {
		s.Unknown = append(s.Unknown, say.That("rig.no_unit_axles"))
		return
	}
	low, likely, high := ends(parts, func(p Part) measure.Length { return *p.Place.Along })
	group := Estimate{low.over(at, n), likely.over(at, n), high.over(at, n)}
	// What rests on the coupling is the lever of each part before the middle of
	// the axles: the sum of m (at - n x), over at.
	less, _, more := ends(parts, func(p Part) measure.Length { return at - measure.Length(n)**p.Place.Along })
	s.set(Estimate{less.over(at, 1), s.Unit.Likely - group.Likely, more.over(at, 1)}, group)
	of := func(centre measure.Distance) float64 { return 1 - float64(centre)*float64(n)/at.Metres() }
	s.Share = Shares{of(s.Centre.Along.High), of(s.Centre.Along.Likely), of(s.Centre.Along.Low)}
	s.spread(u)
}

// axlesAt adds up where axles stand; over their number it is their middle.
func axlesAt(axles []Axle) measure.Length {
	var at measure.Length
	for _, a := range axles {
		at += a.At
	}
	return at
}

// sides finds what the right tires of the unit carry. The coupling holds nothing
// upright: all of it is on the axles.
func (s *Statics) sides(u Unit, parts []Part) {
	group, carried := s.Group.Value()
	if t := u.Ticket; t != nil && carried {
		switch {
		case t.Right != nil:
			s.Left, s.Right = measure.Exactly(Exactly(group.Likely-*t.Right)), measure.Exactly(Exactly(*t.Right))
		case t.Left != nil:
			s.Left, s.Right = measure.Exactly(Exactly(*t.Left)), measure.Exactly(Exactly(group.Likely-*t.Left))
		}
		s.lean(u)
		return
	}
	track := u.track()
	if !carried || track == nil || !s.Centre.Across.Known() || s.Basis != ByParts {
		return
	}
	axles := axlesAt(u.Frame.Axles).Metres() / float64(len(u.Frame.Axles))
	s.Left = measure.Exactly(onSide(parts, axles, -track.Metres()))
	s.Right = measure.Exactly(onSide(parts, axles, track.Metres()))
}

// onSide is what the tires of one side carry of parts, over a track that is negative for
// the left one: half of what each part puts on the axles, and what it leans over. Each
// part is as heavy or as light as makes the end, so that no end is one that the parts
// cannot have together, and the mirror image of a unit carries the same on its other
// side.
func onSide(parts []Part, axles, track float64) Estimate {
	var low, likely, high float64
	for _, p := range parts {
		arm := p.Place.Along.Metres()/(2*axles) + p.Place.Across.Metres()/track
		less, more := arm*float64(p.Mass.Low), arm*float64(p.Mass.High)
		low += min(less, more)
		likely += arm * float64(p.Mass.Likely)
		high += max(less, more)
	}
	return Estimate{measure.Mass(math.Round(low)), measure.Mass(math.Round(likely)), measure.Mass(math.Round(high))}
}

// lean finds how far to the right the centre of gravity lies by what both sides
// carried on the scale: what is heavier on one side, over half a track, by the whole
// mass.
func (s *Statics) lean(u Unit) {
	track := u.track()
	right, ok := s.Right.Value()
	if !ok || track == nil || s.Unit.Likely <= 0 {
		return
	}
	group, _ := s.Group.Value()
	heavier := float64(2*right.Likely - group.Likely)
	at := measure.Distance(heavier / float64(s.Unit.Likely) * track.Metres() / 2)
	s.Centre.Across = Centre{Low: at, Likely: at, High: at}
}

// track is the least track of the unit's axles, nil where one is not known.
func (u Unit) track() *measure.Length {
	var least *measure.Length
	for _, a := range u.Frame.Axles {
		if a.Track == nil {
			return nil
		}
		if least == nil || *a.Track < *least {
			least = a.Track
		}
	}
	return least
}

// towAxles adds what rests on the coupling to the axles of the tow vehicle. Its
// first axle is one support, all others together are the other.
func (s *Statics) towAxles(t Tow) {
	coupling, ok := s.Coupling.Value()
	if !ok {
		return
	}
	if t.Mass != nil {
		s.TowGross = measure.Exactly(coupling.Add(Exactly(*t.Mass)))
		s.Rig = measure.Exactly(s.Unit.Add(Exactly(*t.Mass)))
	}
	n := len(t.Truck.Axles)
	if n < 2 || t.CouplingAt == nil {
		s.Unknown = append(s.Unknown, say.That("rig.no_tow_axles"))
		return
	}
	for _, a := range t.Truck.Axles {
		if a.Empty == nil {
			s.Unknown = append(s.Unknown, say.That("rig.no_empty_axles"))
			return
		}
	}
	rear := axlesAt(t.Truck.Axles[1:])
	on := func(coupling measure.Mass) []measure.Mass {
		var m moment
		m.add(coupling, *t.CouplingAt)
		behind := m.over(rear, n-1)
		return append([]measure.Mass{coupling - behind}, share(behind, n-1)...)
	}
	low, likely, high := on(coupling.Low), on(coupling.Likely), on(coupling.High)
	for i, a := range t.Truck.Axles {
		s.Tow = append(s.Tow, Estimate{min(low[i], high[i]) + *a.Empty, likely[i] + *a.Empty,
			max(low[i], high[i]) + *a.Empty})
	}
}

// scaled takes what every axle of the rig carried on a scale, coupled, where that is
// given for all of them: it counts before everything else.
func (s *Statics) scaled(r Rig) {
	tow, unit := len(r.Tow.Truck.Axles), len(r.Unit.Frame.Axles)
	if len(r.Scaled) == 0 || len(r.Scaled) != tow+unit {
		return
	}
	var on []Estimate
	for _, l := range r.Scaled {
		mass, known := l.Mass.Value()
		if !known {
			return
		}
		on = append(on, Exactly(mass))
	}
	var group, all Estimate
	for i, e := range on {
		all = all.Add(e)
		if i >= tow {
			group = group.Add(e)
		}
	}
	if g, ok := s.Group.Value(); ok && group.apart(g) {
		s.contradicted(on, tow, say.That("rig.scale_apart", "scale", group.Likely, "other", g.Says()))
		return
	}
	s.Tow, s.Axles = on[:tow], on[tow:]
	s.Even, s.Each, s.Weighed = true, true, true
	s.Group, s.Rig, s.TowGross = measure.Exactly(group), measure.Exactly(all),
		measure.Exactly(Exactly(all.Likely-group.Likely))
}

// apart reports whether what was weighed lies outside of an estimate, by more than what
// scales differ by.
func (e Estimate) apart(of Estimate) bool {
	weighed := float64(e.Likely)
	return weighed > (1+scaleError)*float64(of.High) || weighed < (1-scaleError)*float64(of.Low)
}

// contradicted keeps the heavier of two answers for each axle, and lets neither clear.
func (s *Statics) contradicted(on []Estimate, tow int, why say.Remark) {
	s.Unknown = append(s.Unknown, why)
	s.Even, s.Each, s.Disputed = false, false, true
	worse := func(of []Estimate, on []Estimate) []Estimate {
		if len(of) == 0 {
			return on
		}
		out := make([]Estimate, len(on))
		for i := range on {
			out[i] = heavier(of[i], measure.Exactly(on[i].Likely))
		}
		return out
	}
	s.Tow, s.Axles = worse(s.Tow, on[:tow]), worse(s.Axles, on[tow:])
}

// loads are the axles of the rig for rules that read them, none where they are
// not described. What was not weighed stands with its low end: it may be more. What a
// tow vehicle carries empty is as it was given.
func (r Rig) loads(s Statics) []limit.AxleLoad {
	t, u := r.Tow.Truck, r.Unit.Frame
	if len(t.Axles) == 0 || len(u.Axles) == 0 || t.CouplingAt == nil {
		return nil
	}
	var out []limit.AxleLoad
	add := func(axles []Axle, at measure.Length, masses []Estimate, sure bool) {
		known := measure.AtLeast[measure.Mass]
		if sure {
			known = measure.Exactly
		}
		for i, a := range axles {
			l := limit.AxleLoad{At: at + a.At, Steering: a.Steering, Tires: a.Tires, Width: a.Width}
			if i < len(masses) && masses[i].Low > 0 {
				l.Mass = known(masses[i].Low)
			}
			out = append(out, l)
		}
	}
	add(t.Axles, 0, s.Tow, s.Weighed)
	add(u.Axles, *t.CouplingAt, s.Axles, s.OfScale() && s.Each && s.Bars == nil || s.Weighed)
	return out
}

// list is the first of many.
func list(names []say.Remark) say.Remark {
	const most = 6
	first := min(len(names), most)
	return say.That("rig.list", "names", names[:first], "more", len(names)-first)
}

// lever is what goes from the axles to the coupling when a part is moved by 1 m
// toward the coupling. The axles must be described.
func (u Unit) lever(p Part) measure.Mass {
	var m moment
	m.add(p.Mass.Likely, measure.Metre)
	return m.over(axlesAt(u.Frame.Axles), len(u.Frame.Axles))
}
