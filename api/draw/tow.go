package draw

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// tow adds a tow vehicle: its box and its axles. The coupling point is where the
// unit's is.
func (v *view) tow(t rig.Tow, s rig.Statics) {
	v.body(t)
	if t.CouplingAt == nil || len(t.Truck.Axles) == 0 {
		v.lacks(say.That("draw.no_tow_axles"))
		return
	}
	for i, a := range t.Truck.Axles {
		v.axle(a.At-*t.CouplingAt, say.That("draw.tow_axle", "number", i+1), nth(s.Tow, i))
	}
}

// body adds the cab where it is known, and a dotted box for the rest: the shape of
// a tow vehicle is not described.
func (v *view) body(t rig.Tow) {
	switch {
	case t.Length == nil || t.Height == nil:
		v.lacks(unsized(t))
		return
	case t.FrontToCoupling == nil:
		v.lacks(say.That("draw.tow_unplaced", "length", *t.Length))
		return
	}
	front := -*t.FrontToCoupling
	rear := front + *t.Length
	if cab := t.CabToCoupling; cab != nil && front < -*cab && -*cab <= rear {
		v.shapes = append(v.shapes, shape{
			rect: rect{front, -*cab, 0, *t.Height}, name: v.in.Say(say.That("draw.cab")), open: true,
		})
		v.bed(t.Truck.Bed, -*cab, rear)
		return
	}
	v.shapes = append(v.shapes, boxed(front, rear, *t.Height, v.in.Say(say.That("draw.tow_box"))))
	v.lacks(say.That("draw.tow_boxed"))
}

// bed adds what a tow vehicle is behind its cab, as high as its sides are where that is
// given.
func (v *view) bed(high *measure.Length, from, to measure.Length) {
	if high == nil {
		v.shapes = append(v.shapes, boxed(from, to, 2*wheelRadius, v.in.Say(say.That("draw.bed"))))
		v.lacks(say.That("draw.tow_bed"))
		return
	}
	v.shapes = append(v.shapes, shape{
		rect: rect{from, to, 0, *high}, name: v.in.Say(say.That("draw.bed_sides")), open: true,
	})
}

// unsized says which measurement a tow vehicle lacks to be drawn.
func unsized(t rig.Tow) say.Remark {
	switch {
	case t.Length != nil:
		return say.That("draw.tow_no_height")
	case t.Height != nil:
		return say.That("draw.tow_no_length")
	default:
		return say.That("draw.tow_no_size")
	}
}
