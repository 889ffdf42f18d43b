package draw

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// projection is how a box is seen.
type projection func(rig.Box) rect

func fromSide(b rig.Box) rect { return rect{b.From, b.To, b.Bottom, b.Top}.upright() }

func fromBehind(b rig.Box) rect { return rect{-b.Left, b.Right, b.Bottom, b.Top}.upright() }

// unitShapes are the outline of a unit and its movables, and where those that
// were forgotten stick out.
func unitShapes(u rig.Unit, states []rig.Measures, see projection) (shapes []shape, strikes []spot) {
	for _, b := range u.Outline {
		shapes = append(shapes, shape{rect: see(b), name: b.Name})
	}
	var whole []rect
	for _, b := range u.OutlineIn(rig.Travelling, nil) {
		whole = append(whole, see(b))
	}
	travel, _ := around(whole)
	for i, m := range u.Movables {
		if m.Travel != nil && m.Travel.Box != nil {
			shapes = append(shapes, shape{rect: see(*m.Travel.Box), style: fitted, name: m.Name, tag: i + 1})
		}
		if !standsElsewhere(m) {
			continue
		}
		s := shape{rect: see(*m.Stand.Box), style: standing, name: m.Name, tag: i + 1}
		if states[2+i].Hits { // after the two states of the whole unit
			s.style = sticking
			strikes = append(strikes, beyond(s.rect, travel)...)
		}
		shapes = append(shapes, s)
	}
	return shapes, strikes
}

// standsElsewhere reports whether a movable takes room while the unit stands that it
// does not take on the road. The name of a box is not compared.
func standsElsewhere(m rig.Movable) bool {
	if m.Stand == nil || m.Stand.Box == nil {
		return false
	}
	if m.Travel == nil || m.Travel.Box == nil {
		return true
	}
	stand, travel := *m.Stand.Box, *m.Travel.Box
	stand.Name, travel.Name = "", ""
	return stand != travel
}

// beyond lists the middle of each side of r that lies outside of whole.
func beyond(r, whole rect) []spot {
	var out []spot
	m := r.middle()
	for _, side := range []struct {
		out bool
		at  spot
	}{
		{r.top > whole.top, spot{m.x, r.top}}, {r.bottom < whole.bottom, spot{m.x, r.bottom}},
		{r.left < whole.left, spot{r.left, m.up}}, {r.right > whole.right, spot{r.right, m.up}},
	} {
		if side.out {
			out = append(out, side.at)
		}
	}
	return out
}

// boxed is the box of overall measurements of what is not described.
func boxed(from, to, height measure.Length, name string) shape {
	return shape{rect: rect{from, to, 0, height}.upright(), style: unsure, name: name, open: true}
}

// height of a unit as it travels: what the tape says counts before the outline.
func height(u rig.Unit, travel rig.Measures) *measure.Length {
	if u.Height == nil && travel.Shaped {
		return &travel.Extent.Top
	}
	return u.Height
}

// gravityOf is the centre of gravity as seen along one direction, nil where it is
// not known.
func gravityOf(x, up rig.Centre) *gravity {
	across, ok := reachOf(x)
	if !ok {
		return nil
	}
	g := gravity{x: across}
	if high, ok := reachOf(up); ok {
		g.up = &high
	}
	return &g
}

// reachOf rounds to the millimetre. Parts without any mass have no centre.
func reachOf(c rig.Centre) (reach, bool) {
	if !c.Known() {
		return reach{}, false
	}
	var out [3]measure.Length
	for i, d := range []measure.Distance{c.Low, c.Likely, c.High} {
		if math.IsNaN(float64(d)) || math.Abs(float64(d)) > measure.MaxLength.Metres() {
			return reach{}, false
		}
		out[i] = measure.Length(math.Round(float64(d)*1000)) * measure.Millimetre
	}
	return reach{out[0], out[1], out[2]}, true
}
