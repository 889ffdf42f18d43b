package draw

import (
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// tow adds a tow vehicle: its box and its axles. The coupling point is where the
// unit's is.
func (v *view) tow(t rig.Tow, s rig.Statics) {
	v.body(t)
	if t.CouplingAt == nil || len(t.Truck.Axles) == 0 {
		v.missing = append(v.missing, "axles of the tow vehicle: not drawn, they or where its coupling sits are "+
			"not described")
		return
	}
	for i, a := range t.Truck.Axles {
		v.axle(a.At-*t.CouplingAt, fmt.Sprintf("tow axle %d", i+1), nth(s.Tow, i))
	}
}

// body adds the cab where it is known, and a dotted box for the rest: the shape of
// a tow vehicle is not described.
func (v *view) body(t rig.Tow) {
	switch {
	case t.Length == nil || t.Height == nil:
		v.missing = append(v.missing, "tow vehicle: not drawn, its "+unknownOf(t)+" not known")
		return
	case t.FrontToCoupling == nil:
		v.missing = append(v.missing, fmt.Sprintf("tow vehicle: not drawn, where the coupling sits in its %s is "+
			"not known", figure(*t.Length)))
		return
	}
	front := -*t.FrontToCoupling
	rear := front + *t.Length
	if cab := t.CabToCoupling; cab != nil && front < -*cab && -*cab <= rear {
		v.shapes = append(v.shapes, shape{
			rect: rect{front, -*cab, 0, *t.Height}, name: "cab of the tow vehicle", open: true,
		}, bed(-*cab, rear))
		v.missing = append(v.missing, "tow vehicle: how high it is behind its cab is not known, the dotted box "+
			"there is as high as the wheels")
		return
	}
	v.shapes = append(v.shapes, boxed(front, rear, *t.Height, "tow vehicle, outline not described"))
	v.missing = append(v.missing, "tow vehicle: outline not described, the dotted box is of its length and height")
}

func bed(from, to measure.Length) shape {
	return boxed(from, to, 2*wheelRadius, "tow vehicle behind its cab, height not known")
}

func unknownOf(t rig.Tow) string {
	switch {
	case t.Length != nil:
		return "height is"
	case t.Height != nil:
		return "length is"
	default:
		return "length and height are"
	}
}
