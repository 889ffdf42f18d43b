package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Quantity is a measurement of a rig that roads leave only so much of.
type Quantity string

// The quantities.
const (
	Height Quantity = "height"
	Width  Quantity = "width"
	Length Quantity = "length"
	Mass   Quantity = "mass"
)

// Quantities lists the quantities.
func Quantities() []Quantity { return []Quantity{Height, Width, Length, Mass} }

// Term names the quantity.
func (q Quantity) Term() say.Code { return "size." + say.Code(q) }

// Of is a value of the quantity, in nanometres or tens of micrograms.
func (q Quantity) Of(v int64) finding.Quantity {
	if q == Mass {
		return finding.Of(measure.Mass(v))
	}
	return finding.Of(measure.Length(v))
}

// Legal is the quantity of the rules.
func (q Quantity) Legal() limit.Quantity {
	return map[Quantity]limit.Quantity{
		Height: limit.Height, Width: limit.Width, Length: limit.CombinationLength, Mass: limit.GrossMass,
	}[q]
}

// Size is the rig's own value of a quantity, in nanometres or tens of micrograms.
func (r Rig) Size(q Quantity) measure.Known[int64] {
	switch q {
	case Height:
		return measure.As[int64](r.Height)
	case Width:
		return measure.As[int64](r.Passing())
	case Length:
		if r.Length.Open() {
			return measure.As[int64](measure.Given(r.Unit.Length)).OrMore()
		}
		return measure.As[int64](r.Length)
	case Mass:
		return measure.As[int64](r.Weighs())
	}
	return measure.Known[int64]{}
}

// least is a size that everything lets pass.
const least = 1

// Thinned makes the rig so small in a quantity that it passes everywhere, and
// leaves all else as it is.
func (r Rig) Thinned(q Quantity) Rig {
	size := measure.Exactly(measure.Length(least))
	switch q {
	case Height:
		r.Unit.HeightMeasured = r.Clear().Measured // the unit may be measured and the rig not
		if r.Unit.Height != nil {
			r.Unit.Height = size.Pointer()
		}
		if !r.Height.AtLeast() {
			r.Height = size
		} else {
			r.Height = size.OrMore()
		}
	case Width:
		r.Width, r.Tow.OverMirrors = size, nil
	case Length:
		r.Length = size
	case Mass:
		r.Mass = measure.Exactly(measure.Mass(least))
	}
	return r
}
