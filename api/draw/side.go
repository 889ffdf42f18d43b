package draw

import (
	"cmp"
	"slices"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// wheelRadius is with what wheels are drawn, 0.38 m: this project's choice, no
// source. The radius of a tire is not known from its width.
const wheelRadius = 380 * measure.Millimetre

// sideView shows the left side of a rig, its front at the left.
func sideView(in *phrase.Language, r rig.Rig, s rig.Statics, states []rig.Measures) view {
	v := view{in: in, heading: in.Say(say.That("draw.side")), round: true, centre: gravityOf(s.Centre.Along, s.Centre.Up)}
	v.tow(r.Tow, s)
	v.hitch(r.Tow, r.Unit)
	at := unitEnds(r.Unit, states[0])
	v.unit(r.Unit, states, at)
	v.neck(r.Unit)
	v.running(r.Unit, s)
	v.lengths(r, at)
	v.levels = v.levelsOf(r.Unit, states[0], fromSide)
	slices.SortStableFunc(v.loads, func(a, b load) int { return cmp.Compare(a.at, b.at) })
	return v
}

// unitEnds are the ends of a unit along the road, nil where they are not known.
// Of a unit of which only the length is given it takes the coupling point for the
// front.
func unitEnds(u rig.Unit, travel rig.Measures) *reach {
	switch {
	case travel.Shaped:
		return &reach{low: min(travel.Extent.Front, 0), high: travel.Extent.Rear}
	case u.Length != nil && u.CouplingToRear != nil:
		return &reach{low: *u.CouplingToRear - *u.Length, high: *u.CouplingToRear}
	case u.CouplingToRear != nil:
		return &reach{high: *u.CouplingToRear}
	case u.Length != nil:
		return &reach{high: *u.Length}
	default:
		return nil
	}
}

// unit adds the outline, or a box with what is known of it.
func (v *view) unit(u rig.Unit, states []rig.Measures, at *reach) {
	shapes, strikes := unitShapes(u, states, fromSide)
	if len(u.Outline) == 0 {
		switch high := height(u, states[0]); {
		case at == nil:
			v.lacks(say.That("draw.unit_unsized"))
		case high == nil:
			v.lacks(say.That("draw.unit_no_height"))
		default:
			v.shapes = append(v.shapes, boxed(at.low, at.high, *high, v.in.Say(say.That("draw.unit_box"))))
			v.lacks(say.That("draw.unit_boxed", "placed", u.Length != nil && u.CouplingToRear != nil))
		}
	}
	v.shapes, v.strikes = append(v.shapes, shapes...), strikes
}

// running adds the coupling point and the axles of a unit with what they carry.
func (v *view) running(u rig.Unit, s rig.Statics) {
	v.loads = append(v.loads, load{
		what: v.in.Say(say.That("draw.coupling")), where: v.in.Say(say.That("draw.coupling_height", "height", couplingUp(u))),
		carries: carries(v.in, s.Coupling), coupling: true,
	})
	if len(u.Frame.Axles) == 0 {
		v.lastAxle(u)
		return
	}
	for i, a := range u.Frame.Axles {
		v.axle(a.At, say.That("draw.axle", "number", i+1), nth(s.Axles, i))
		if i < spansShown-1 || i == len(u.Frame.Axles)-1 {
			v.below = append(v.below, span{0, a.At, v.in.Quantity(a.At)})
		}
	}
}

// spansShown is for how many axles of a unit a dimension line is drawn: for the
// first ones and the last.
const spansShown = 4

// lastAxle adds the one axle whose place is known of a unit whose running gear is
// not described.
func (v *view) lastAxle(u rig.Unit) {
	if u.CouplingToAxle == nil {
		v.lacks(say.That("draw.no_axles"))
		return
	}
	v.axle(*u.CouplingToAxle, say.That("draw.last_axle"), measure.Known[rig.Estimate]{})
	v.below = append(v.below, span{0, *u.CouplingToAxle, v.in.Quantity(*u.CouplingToAxle)})
	if u.Axles != 1 {
		v.lacks(say.That("draw.other_axles"))
	}
}

func (v *view) axle(at measure.Length, name say.Remark, on measure.Known[rig.Estimate]) {
	v.wheels = append(v.wheels, rect{at - wheelRadius, at + wheelRadius, 0, 2 * wheelRadius})
	v.loads = append(v.loads, load{
		at: at, what: v.in.Say(name), where: v.in.Say(fromCoupling(at)), carries: carries(v.in, on),
	})
}

func fromCoupling(at measure.Length) say.Remark {
	if at < 0 {
		return say.That("draw.before_coupling", "by", -at)
	}
	return say.That("draw.behind_coupling", "by", at)
}

// lengths adds the dimension lines above: of the unit, then of the rig.
func (v *view) lengths(r rig.Rig, at *reach) {
	if at == nil {
		return
	}
	v.above = append(v.above, span{at.low, at.high, v.in.Say(say.That("draw.unit_length", "length", at.high-at.low))})
	if r.Tow.FrontToCoupling != nil {
		front := -*r.Tow.FrontToCoupling
		v.above = append(v.above, span{front, at.high, v.in.Say(say.That("draw.rig_length", "length", at.high-front))})
	}
}

// levelsOf are the lines across at the travelling height, over all that is drawn,
// and at the deck, under what stands on it.
func (v *view) levelsOf(u rig.Unit, travel rig.Measures, see projection) []level {
	var out []level
	whole, ok := v.bounds()
	if high := height(u, travel); high != nil && ok {
		out = append(
			out,
			level{up: *high, from: whole.left, to: whole.right, what: v.in.Say(say.That("draw.level_height")), main: true},
		)
	}
	if u.Frame.Deck == nil {
		return out
	}
	var on []rect
	for _, b := range u.Outline {
		if b.Bottom <= *u.Frame.Deck {
			on = append(on, see(b))
		}
	}
	if deck, ok := around(on); ok {
		out = append(
			out,
			level{up: *u.Frame.Deck, from: deck.left, to: deck.right, what: v.in.Say(say.That("draw.level_deck"))},
		)
	}
	return out
}

// couplingUp is the height of a unit's coupling, nothing where it is not given.
func couplingUp(u rig.Unit) any {
	if u.CouplingHeight == nil {
		return nil
	}
	return *u.CouplingHeight
}
