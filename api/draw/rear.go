package draw

import (
	"cmp"
	"fmt"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// wheelWidth is with what wheels are drawn from behind where the width of a tire
// is not known, 0.24 m: this project's choice, no source.
const wheelWidth = 240 * measure.Millimetre

// rearView shows the unit from behind: its right side at the right. The tow
// vehicle is not drawn.
func rearView(r rig.Rig, s rig.Statics, states []rig.Measures) view {
	v := view{heading: "Rear view", centre: gravityOf(s.Centre.Across, s.Centre.Up)}
	v.behind(r.Unit, states)
	v.sides(r.Unit, s)
	v.levels = levels(r.Unit, states[0], v, fromBehind)
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
		v.missing = append(v.missing, "unit: not drawn, neither its outline nor both its width and its height are known")
	default:
		v.shapes = append(v.shapes, boxed(-wide/2, wide/2, *high, "unit, outline not described"))
		v.missing = append(v.missing, "unit: outline not described, the dotted box is of its width and height, "+
			"its middle taken for the middle line")
	}
	v.shapes, v.strikes = append(v.shapes, shapes...), strikes
	v.across(u, states[0])
}

// across adds the dimension line of the width: of all that is known of it.
func (v *view) across(u rig.Unit, travel rig.Measures) {
	what := "width "
	if u.Width.AtLeast() {
		what = "width at least "
		v.missing = append(v.missing, "width over all: not known, its tires or the trailer under it are not described")
	}
	if travel.Shaped {
		e := travel.Extent
		v.above = append(v.above, span{-e.Left, e.Right, what + e.Width().Up()})
	} else if wide, known := u.Width.Least(); known {
		v.above = append(v.above, span{-wide / 2, wide / 2, what + wide.Up()})
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
		v.missing = append(v.missing, "what each side carries: not drawn, the track is not known")
		return
	}
	left, right := sideLoads(u, s)
	v.loads = append(v.loads,
		load{at: -track / 2, what: "left tires", where: "all axles of the unit", carries: carries(left)},
		load{at: track / 2, what: "right tires", where: "all axles of the unit", carries: carries(right)})
	v.below = append(v.below, span{-track / 2, track / 2, "track " + figure(track)})
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
		v.missing = append(v.missing, fmt.Sprintf("wheels of axle %d: not drawn, neither its track nor its "+
			"width over tires is known", i+1))
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
		v.below = append(v.below, span{-most / 2, most / 2, "over tires " + most.Up()})
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
