package draw

import (
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
	wide, high := u.Width, height(u, states[0])
	switch {
	case len(u.Outline) > 0:
	case wide == nil || high == nil:
		v.missing = append(v.missing, "unit: not drawn, neither its outline nor both its width and its height are known")
	default:
		v.shapes = append(v.shapes, boxed(-*wide/2, *wide/2, *high, "unit, outline not described"))
		v.missing = append(v.missing, "unit: outline not described, the dotted box is of its width and height, its middle taken for the middle line")
	}
	v.shapes, v.strikes = append(v.shapes, shapes...), strikes
	if e := states[0].Extent; states[0].Shaped {
		v.above = append(v.above, span{-e.Left, e.Right, "width " + e.Width().Up()})
	} else if wide != nil {
		v.above = append(v.above, span{-*wide / 2, *wide / 2, "width " + wide.Up()})
	}
}

// sides adds wheels, track and what the tires of each side carry. Where axles
// differ it takes the least track, as the statics do.
func (v *view) sides(u rig.Unit, s rig.Statics) {
	track, tire := gauge(u)
	if track == 0 {
		v.missing = append(v.missing, "wheels and what each side carries: not drawn, the track is not known")
		return
	}
	left, right := sideLoads(u, s)
	for _, side := range []struct {
		at   measure.Length
		name string
		on   *rig.Estimate
	}{{-track / 2, "left tires", left}, {track / 2, "right tires", right}} {
		v.wheels = append(v.wheels, rect{side.at - tire/2, side.at + tire/2, 0, 2 * wheelRadius})
		v.loads = append(v.loads, load{at: side.at, what: side.name, where: "all axles of the unit", carries: carries(side.on)})
	}
	v.below = append(v.below, span{-track / 2, track / 2, "track " + figure(track)})
}

// gauge is the least track of a unit and the tires there; 0 where the track of one
// axle is not known.
func gauge(u rig.Unit) (track, tire measure.Length) {
	for _, a := range u.Frame.Axles {
		if a.Track == nil {
			return 0, 0
		}
		if track == 0 || *a.Track < track {
			track, tire = *a.Track, a.Width
		}
	}
	if tire == 0 {
		tire = wheelWidth
	}
	return track, tire
}

// sideLoads are what the tires of each side carry. The left ones carry the most
// where the right ones carry the least: both lie as far from half of all axles.
func sideLoads(u rig.Unit, s rig.Statics) (left, right *rig.Estimate) {
	if t := u.Ticket; t != nil && t.Left != nil {
		weighed := rig.Exactly(*t.Left)
		return &weighed, s.Right
	}
	if s.Right == nil || s.Group == nil {
		return nil, s.Right
	}
	both := s.Group.Low + s.Group.High
	return &rig.Estimate{Low: both/2 - s.Right.High, Likely: s.Group.Likely - s.Right.Likely, High: both/2 - s.Right.Low}, s.Right
}
