package draw

import (
	"math"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// fromAbove are places seen from above, the tow vehicle heading to the left: millimetres
// ahead of the coupling point, and to the right of the middle line.
func fromAbove(ahead, right float64) point { return point{X: -ahead, Y: -right} }

// turned is a place of the unit once it has turned about the coupling point.
func turned(ahead, right, angle float64) point {
	sin, cos := math.Sincos(angle)
	return fromAbove(ahead*cos-right*sin, ahead*sin+right*cos)
}

// bent shows the rig from above, bent to the right as far as it goes: to where it touches
// the tow vehicle, or square where it does not.
func (p plan) bent(letter float64) *canvas {
	c := newCanvas(p.in, letter)
	bending := p.rig.Bending()
	b, ok := bending.Value()
	if !ok {
		c.paragraphs(point{}, 40, []string{p.in.Say(say.That("draw.bend_unknown", "why", bending.Why()))})
		return c
	}
	angle, words := float64(rig.Square), say.That("draw.bends", "angle", float64(rig.Square))
	right := true
	if b.First != nil {
		angle, right = b.First.Angle, b.First.Right
		words = say.That("draw.touches", "angle", angle, "against", b.First.Against, "box", b.First.Box)
	}
	radians := angle * math.Pi / 180
	if !right {
		radians = -radians
	}
	c.towAbove(p.rig.Tow)
	c.unitAbove(p.rig.Unit, radians)
	if b.First != nil {
		c.touch(p.rig, *b.First, radians)
	}
	c.angle(radians, p.rig)
	c.paragraphs(point{X: c.Least.X, Y: c.Most.Y + 2*letter}, max(c.Wide()/letter, 30), []string{p.in.Say(words)})
	return c
}

// towAbove draws a tow vehicle from above: its bed, its cab and its wheels.
func (c *canvas) towAbove(t rig.Tow) {
	wide, _ := t.Width.Least()
	half, front, rear := toMM(wide)/2, toMM(*t.FrontToCoupling), toMM(*t.FrontToCoupling-*t.Length)
	c.wheelsAbove(
		t.Truck.Axles,
		func(at measure.Length) float64 { return toMM(*t.CouplingAt - at) },
		0,
		t.CouplingAt != nil,
	)
	cab := rear
	if t.CabToCoupling != nil {
		cab = toMM(*t.CabToCoupling)
		c.Box(looks[fitted], c.in.Say(say.That("draw.bed_above")), fromAbove(rear, -half), fromAbove(cab, half))
	}
	c.Box(looks[described], c.in.Say(say.That("draw.cab")), fromAbove(cab, -half), fromAbove(front, half))
}

// unitAbove draws a unit from above as it has turned: its wheels, then its outline from
// below, so that what lies over the tow vehicle is seen.
func (c *canvas) unitAbove(u rig.Unit, angle float64) {
	c.wheelsAbove(u.Frame.Axles, func(at measure.Length) float64 { return -toMM(at) }, angle, true)
	for _, b := range u.OutlineIn(rig.Travelling, nil) {
		front, rear, left, right := -toMM(b.From), -toMM(b.To), -toMM(b.Left), toMM(b.Right)
		c.Area(over, b.Name, turned(front, left, angle), turned(front, right, angle), turned(rear, right, angle),
			turned(rear, left, angle))
	}
	c.Disc(filled, c.in.Say(say.That("draw.coupling_point")), point{}, 0.25*c.Letter)
}

// over is how a unit is drawn from above, so that what is under it is seen through it.
var over = picture.Look{Stroke: ink, Width: 0.12}

// wheelsAbove draws the outer wheels of axles whose track is known.
func (c *canvas) wheelsAbove(axles []rig.Axle, ahead func(measure.Length) float64, angle float64, placed bool) {
	if !placed {
		return
	}
	for _, a := range axles {
		if a.Track == nil {
			continue
		}
		for _, side := range []float64{-1, 1} {
			at, across, r := ahead(a.At), side*toMM(*a.Track)/2, toMM(wheelRadius)
			half := toMM(max(a.Width, wheelWidth)) / 2
			c.Area(tire, "", turned(at-r, across-half, angle), turned(at+r, across-half, angle),
				turned(at+r, across+half, angle), turned(at-r, across+half, angle))
		}
	}
}

var tire = picture.Look{Fill: pale, Stroke: grey, Width: 0.06}

// angle draws the middle lines of both, and the angle between them.
func (c *canvas) angle(angle float64, r rig.Rig) {
	reach := 0.6 * c.Wide()
	if u := r.Unit.CouplingToRear; u != nil {
		reach = toMM(*u) + 2*c.Letter
	}
	c.Line(axis, "", fromAbove(toMM(*r.Tow.FrontToCoupling)+2*c.Letter, 0), fromAbove(-0.6*reach, 0))
	c.Line(axis, "", point{}, turned(-reach, 0, angle))
	arc := []point{}
	const steps = 24
	for i := range steps + 1 {
		arc = append(arc, turned(-0.45*reach, 0, angle*float64(i)/steps))
	}
	c.Line(strong, "", arc...)
	c.beside(turned(-0.45*reach-2*c.Letter, 0, angle/2), picture.Middle,
		c.in.Say(say.That("draw.degrees", "angle", math.Abs(angle)*180/math.Pi)))
}

// touch marks where a unit touches its tow vehicle: the corner of either that lies within
// the other, as near as angles are looked at.
func (c *canvas) touch(r rig.Rig, t rig.Touch, angle float64) {
	const near = 60 // mm
	w, _ := r.Tow.Width.Least()
	half, front, rear := toMM(w)/2, toMM(*r.Tow.FrontToCoupling), toMM(*r.Tow.FrontToCoupling-*r.Tow.Length)
	if cab := r.Tow.CabToCoupling; cab != nil && t.Against == rig.Cab {
		rear = toMM(*cab)
	} else if cab != nil {
		front = toMM(*cab)
	}
	for _, b := range r.Unit.OutlineIn(rig.Travelling, nil) {
		if b.Name != t.Box {
			continue
		}
		for _, side := range []float64{-toMM(b.Left), toMM(b.Right)} {
			for _, end := range []float64{-toMM(b.From), -toMM(b.To)} {
				at := turned(end, side, angle)
				if -at.X >= rear-near && -at.X <= front+near && math.Abs(at.Y) <= half+near {
					c.strike(at, c.in.Say(say.That("draw.touch_sign")))
				}
			}
		}
		for _, at := range []point{
			fromAbove(rear, -half), fromAbove(rear, half), fromAbove(front, -half), fromAbove(front, half),
		} {
			ahead, right := turnedBack(at, angle)
			if ahead <= -toMM(b.From)+near && ahead >= -toMM(b.To)-near && right >= -toMM(b.Left)-near &&
				right <= toMM(b.Right)+near {
				c.strike(at, c.in.Say(say.That("draw.touch_sign")))
			}
		}
	}
}

// turnedBack is where on a unit that has turned a place lies.
func turnedBack(at point, angle float64) (ahead, right float64) {
	back := turned(-at.X, -at.Y, -angle)
	return -back.X, -back.Y
}
