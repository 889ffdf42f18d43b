package draw

import (
	"cmp"
	"slices"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// wheelWidth is with what wheels are drawn from behind where the width of a tire
// is not known, 0.24 m: this project's choice, no source.
const wheelWidth = 240 * measure.Millimetre

// rearView shows the unit from behind: its right side at the right. The tow
// vehicle is not drawn.
func rearView(in *phrase.Language, r rig.Rig, s rig.Statics, states []rig.Measures) view {
	v := view{in: in, heading: in.Say(say.That("draw.rear")), centre: gravityOf(s.Centre.Across, s.Centre.Up)}
	v.behind(r.Unit, states)
	v.sides(r.Unit, s)
	v.levels = v.levelsOf(r.Unit, states[0], fromBehind)
	return v
}

// behind adds the outline and its width, or a box with what is known of it.
func (v *view) behind(u rig.Unit, states []rig.Measures) {
	shapes, strikes := unitShapes(u, states, fromBehind)
	wide, known := u.WithoutTires()
	high := height(u, states[0])
	switch {
	case len(u.Outline) > 0:
	case !known || high == nil:
		v.lacks(say.That("draw.unit_unsized_behind"))
	default:
		v.shapes = append(v.shapes, boxed(-wide/2, wide/2, *high, v.in.Say(say.That("draw.unit_box"))))
		v.lacks(say.That("draw.unit_boxed_behind"))
	}
	v.shapes, v.strikes = append(v.shapes, shapes...), strikes
	v.across(u, states[0])
}

// across adds the dimension line of the width: of all that is known of it.
func (v *view) across(u rig.Unit, travel rig.Measures) {
	least := u.Width.AtLeast()
	if least {
		v.lacks(say.That("draw.width_unknown"))
	}
	words := func(wide measure.Length) string {
		return v.in.Say(say.That("draw.width", "width", wide, "least", least))
	}
	if travel.Shaped {
		e := travel.Extent
		v.above = append(v.above, span{-e.Left, e.Right, words(e.Width())})
	} else if wide, known := u.Width.Least(); known {
		v.above = append(v.above, span{-wide / 2, wide / 2, words(wide)})
	}
}

// sides adds the wheels of every axle, then the track and what the tires of each side
// carry. Where axles differ that is at the least track, as the statics have it.
func (v *view) sides(u rig.Unit, s rig.Statics) {
	for i, a := range u.Frame.Axles {
		v.wheelsOf(i, a)
	}
	if u.House != nil {
		v.widest(u)
	}
	track := leastTrack(u)
	if track == 0 {
		v.lacks(say.That("draw.no_track"))
		return
	}
	left, right := sideLoads(u, s)
	where := v.in.Say(say.That("draw.all_axles"))
	v.loads = append(v.loads,
		load{at: -track / 2, what: v.in.Say(say.That("draw.left_tires")), where: where, carries: carries(v.in, left)},
		load{at: track / 2, what: v.in.Say(say.That("draw.right_tires")), where: where, carries: carries(v.in, right)})
	v.below = append(v.below, span{-track / 2, track / 2, v.in.Say(say.That("draw.track", "track", track))})
}

// wheelsOf adds the outer wheels of an axle to both sides. How far apart the two wheels
// of a dual one stand is not described; where the width of a tire is not known they are
// not to scale across either.
func (v *view) wheelsOf(i int, a rig.Axle) {
	tire := cmp.Or(a.Width, wheelWidth)
	var outer measure.Length
	switch over := a.OverTires(); {
	case over != nil:
		outer = *over / 2
	case a.Track != nil:
		outer = (*a.Track + tire) / 2
	default:
		v.lacks(say.That("draw.no_wheels", "axle", i+1))
		return
	}
	left, right := rect{-outer, -outer + tire, 0, 2 * wheelRadius}, rect{outer - tire, outer, 0, 2 * wheelRadius}
	if !slices.Contains(v.wheels, left) { // one behind another
		v.wheels = append(v.wheels, left, right)
	}
}

// widest adds the dimension line over the tires of the widest axle of a unit that is
// narrower without them, where it is known of every one.
func (v *view) widest(u rig.Unit) {
	var most measure.Length
	for _, a := range u.Frame.Axles {
		over := a.OverTires()
		if over == nil {
			return
		}
		most = max(most, *over)
	}
	if most > 0 {
		v.below = append(v.below, span{-most / 2, most / 2, v.in.Say(say.That("draw.over_tires", "width", most))})
	}
}

// leastTrack is the least track of a unit; 0 where that of one axle is not known.
func leastTrack(u rig.Unit) (track measure.Length) {
	for _, a := range u.Frame.Axles {
		if a.Track == nil {
			return 0
		}
		if track == 0 || *a.Track < track {
			track = *a.Track
		}
	}
	return track
}

// sideLoads are what the tires of each side carry. The left ones carry the most
// where the right ones carry the least: both lie as far from half of all axles.
func sideLoads(u rig.Unit, s rig.Statics) (left, right measure.Known[rig.Estimate]) {
	if t := u.Ticket; t != nil && t.Left != nil {
		return measure.Exactly(rig.Exactly(*t.Left)), s.Right
	}
	on, halved := s.Right.Value()
	group, carried := s.Group.Value()
	if halved && carried {
		both := group.Low + group.High
		left = measure.Exactly(rig.Estimate{Low: both/2 - on.High, Likely: group.Likely - on.Likely, High: both/2 - on.Low})
	}
	return left, s.Right
}
