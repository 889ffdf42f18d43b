package draw

import (
	"cmp"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// course is a line of what joins a unit to its tow vehicle: a neck, a drawbar, a hitch.
// How they run is not described, so none of them is drawn as if it were known.
type course struct {
	name    string
	through []spot
}

// Heights at which a coupling is drawn that none is given for: this project's choice, no
// source.
const (
	restsAt = 1200 * measure.Millimetre // in a bed, or on a truck
	pullsAt = 500 * measure.Millimetre  // behind a vehicle
)

// neck adds what the unit is joined by, from the coupling point to the foremost part of
// the lowest box of its outline, under what lies over it.
func (v *view) neck(u rig.Unit) {
	if len(u.Outline) == 0 || u.Coupling == rig.CouplingUnknown {
		return
	}
	frame := slices.MinFunc(u.Outline, func(a, b rig.Box) int {
		return cmp.Or(cmp.Compare(a.Bottom, b.Bottom), cmp.Compare(a.From, b.From))
	})
	if frame.From <= 0 {
		return // a box reaches the coupling
	}
	if u.Coupling != rig.Gooseneck && u.Coupling != rig.FifthWheel {
		level := min(max(given(u.CouplingHeight, pullsAt), frame.Bottom), frame.Top)
		v.courses = append(v.courses, course{v.in.Say(say.That("draw.drawbar")),
			[]spot{{0, level}, {frame.From, level}}})
		return
	}
	at := given(u.CouplingHeight, restsAt)
	over := max(at, frame.Top) + 2*measure.Foot
	for _, b := range u.Outline {
		if b.From < frame.From && b.Bottom > frame.Bottom {
			over = min(over, b.Bottom)
		}
	}
	v.courses = append(v.courses, course{v.in.Say(say.That("draw.neck")), []spot{
		{0, min(at, over)}, {0, over}, {frame.From, over}, {frame.From, frame.Top}}})
}

// hitch adds what a tow vehicle pulls with: from its rear to a coupling point behind it,
// or a plate under one that rests on it.
func (v *view) hitch(t rig.Tow, u rig.Unit) {
	if t.FrontToCoupling == nil || t.Length == nil {
		return
	}
	name := v.in.Say(say.That("draw.hitch"))
	switch rear := *t.Length - *t.FrontToCoupling; {
	case u.Coupling == rig.Gooseneck || u.Coupling == rig.FifthWheel:
		at := given(t.Truck.CouplingHeight, restsAt)
		v.courses = append(v.courses, course{name, []spot{{-plate, at}, {plate, at}}})
	case u.Coupling != rig.CouplingUnknown && rear < 0:
		at := given(t.Truck.CouplingHeight, pullsAt)
		v.courses = append(v.courses, course{name, []spot{{rear, at}, {0, at}}})
	}
}

// plate is half of what a coupling on a tow vehicle is drawn with.
const plate = 300 * measure.Millimetre

// given is a height, or the one that is drawn where none is given.
func given(l *measure.Length, otherwise measure.Length) measure.Length {
	if l == nil {
		return otherwise
	}
	return *l
}
