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

// noses are drag coefficients of a tow vehicle with what it pulls, on the full outline of
// that, from the ground up. Nothing is published for a house. Cars with ordinary
// trailers have 0.53 (W.-H. Hucho, read second-hand), one with a rounded trailer had
// 0.314 in the wind tunnel of the University of Maryland (a later reading of F. Buckley's
// data, read second-hand), both on the body of the trailer, which is about seven eighths
// of an outline that counts the room beneath; tractors with box vans 0.69 (21st Century
// Truck Partnership review, National Academies, 2012, read). A flat front has seven
// eighths of 0.53; the other figures and all ends are this project's, and none is below
// 0.31. The gap behind the cab, as it is common, counts in them.
var noses = map[Nose]Band[float64]{
	Flat: {0.47, 0.39, 0.58}, Rounded: {0.38, 0.31, 0.49}, Raked: {0.45, 0.38, 0.56}, NoseUnknown: {0.46, 0.36, 0.58},
}

// coefficient is that of a nose; one that is not listed is one that is not known, never
// one without drag.
func (n Nose) coefficient() Band[float64] {
	if c, ok := noses[n]; ok {
		return c
	}
	return noses[NoseUnknown]
}

// boxCoefficient is that of a long box with sharp edges near the ground, 0.9 to 1.1 (S.
// F. Hoerner, Fluid-Dynamic Drag, chapter 3, from memory).
var boxCoefficient = Band[float64]{1, 0.9, 1.1}

// stated is by how much a drag area that somebody measured may err: a twentieth, this
// project's choice.
var stated = Band[float64]{1, 0.95, 1.05}

// Shape is what the air meets.
type Shape struct {
	Outline measure.Area // of the unit, from the front
	Nose    Nose
	RoofBox measure.Area  // of what stands on the roof, from the front
	Stated  *measure.Area // coefficient times area of the rig, where it was measured
}

// DragArea is the drag coefficient times the area of a rig.
func (s Shape) DragArea() Band[measure.Area] {
	if s.Stated != nil {
		a := *s.Stated
		return Band[measure.Area]{a, a * measure.Area(stated.Low), a * measure.Area(stated.High)}
	}
	c := s.Nose.coefficient()
	of := func(nose, box float64) measure.Area {
		return measure.Area(nose)*s.Outline + measure.Area(box)*s.RoofBox
	}
	return Band[measure.Area]{
		of(c.Likely, boxCoefficient.Likely), of(c.Low, boxCoefficient.Low), of(c.High, boxCoefficient.High),
	}
}

// WithNose is the drag area with another nose, for what that saves.
func (s Shape) WithNose(n Nose) Band[measure.Area] {
	s.Nose, s.Stated = n, nil
	return s.DragArea()
}

// Source says what the drag area rests on.
func (s Shape) Source() []say.Remark {
	if s.Stated != nil {
		return []say.Remark{say.That("drag.stated")}
	}
	c := s.Nose.coefficient()
	out := []say.Remark{say.That("drag.coefficient", "likely", c.Likely, "low", c.Low, "high", c.High)}
	if s.Nose == NoseUnknown {
		out = append(out, say.That("drag.any_nose"))
	}
	return out
}
