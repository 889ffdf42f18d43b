package drive

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Nose is the shape of the front of a unit.
type Nose string

// Term is the code of the nose's name.
func (n Nose) Term() say.Code { return say.Word("nose", string(n)) }

// The noses.
const (
	NoseUnknown Nose = ""
	Flat        Nose = "flat"
	Rounded     Nose = "rounded"
	Raked       Nose = "raked"
)

// Noses lists those that can be given.
func Noses() []Nose { return append([]Nose{Flat}, Shaped()...) }

// Shaped lists the noses that take less than a flat one.
func Shaped() []Nose { return []Nose{Rounded, Raked} }

// The drag coefficient of a flat-fronted house behind a pickup or a medium truck,
// on its full outline: this project's estimate; nothing is published for such a
// house.
var flatCoefficient = Range[float64]{0.65, 0.90}

// noses is by what the flat figure is multiplied. Rounding the edges of a box took
// up to 54 % off its drag (NASA Spinoff, 2008, read second-hand); how much of that a
// house gets nothing says, so the high end is 1. Raked: this project's estimate.
var noses = map[Nose]Range[float64]{
	Flat: {1, 1}, Rounded: {0.46, 1}, Raked: {0.70, 1}, NoseUnknown: {0.46, 1},
}

// factor is by what the flat figure is multiplied; a nose that is not listed is one
// that is not known, never one without drag.
func (n Nose) factor() Range[float64] {
	if f, ok := noses[n]; ok {
		return f
	}
	return noses[NoseUnknown]
}

// boxCoefficient is that of a long box with sharp edges near the ground (S. F.
// Hoerner, Fluid-Dynamic Drag, chapter 3, from memory).
var boxCoefficient = Range[float64]{0.9, 1.1}

// A gap between cab and unit beyond the first 0.75 m costs 4 % of drag for each
// 0.25 m, at most 16 % (2 % of fuel, half of which is air, from memory, little
// confidence). It counts on the high end alone.
const (
	gapFree  = 0.75 // m
	gapStep  = 0.25 // m
	gapCost  = 0.04
	gapWorst = 0.16
)

// Shape is what the air meets.
type Shape struct {
	Outline measure.Area // of the unit, from the front
	Nose    Nose
	RoofBox measure.Area      // of what stands on the roof, from the front
	Gap     *measure.Distance // between cab and unit; nil: not known
}

// DragArea is the drag coefficient times the area of a rig.
func (s Shape) DragArea() Range[measure.Area] {
	nose := s.Nose.factor()
	gap := gapWorst
	if s.Gap != nil {
		gap = min(max(float64(*s.Gap)-gapFree, 0)/gapStep*gapCost, gapWorst)
	}
	return Range[measure.Area]{
		Low:  measure.Area(flatCoefficient.Low*nose.Low)*s.Outline + measure.Area(boxCoefficient.Low)*s.RoofBox,
		High: measure.Area(flatCoefficient.High*nose.High*(1+gap))*s.Outline + measure.Area(boxCoefficient.High)*s.RoofBox,
	}
}

// WithNose is the drag area with another nose in place of a flat one, for what that
// saves: on the low end it takes off as little as it may, on the high end as much.
func (s Shape) WithNose(n Nose) Range[measure.Area] {
	s.Nose = Flat
	flat, nose := s.DragArea(), n.factor()
	box := Range[measure.Area]{measure.Area(boxCoefficient.Low) * s.RoofBox, measure.Area(boxCoefficient.High) * s.RoofBox}
	return Range[measure.Area]{(flat.Low-box.Low)*measure.Area(nose.High) + box.Low,
		(flat.High-box.High)*measure.Area(nose.Low) + box.High}
}

// Source says what the drag area rests on.
func (s Shape) Source() []say.Remark {
	out := []say.Remark{say.That("drag.flat_front", "low", flatCoefficient.Low, "high", flatCoefficient.High)}
	switch s.Nose {
	case Rounded:
		out = append(out, say.That("drag.rounded"))
	case Raked:
		out = append(out, say.That("drag.raked"))
	case Flat:
	default:
		out = append(out, say.That("drag.any_nose"))
	}
	if s.Gap == nil {
		out = append(out, say.That("drag.no_gap"))
	}
	return out
}
