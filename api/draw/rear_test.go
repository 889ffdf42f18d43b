package draw

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// Every axle shows its wheels, out to where its tires reach, and the width over all is
// that of the widest of them.
func TestRearViewShowsEveryWheel(t *testing.T) {
	u := rig.Unit{Frame: rig.Frame{
		Outline: []rig.Box{box("house", -0.3, 8, 1.22, 0.5, 4)},
		Axles: []rig.Axle{
			{At: at(5), Track: ptr(at(2)), Width: at(0.2)}, {At: at(6), Track: ptr(at(2.45)), Width: at(0.235), Tires: 4},
			{At: at(7), Over: ptr(at(2.3)), Track: ptr(at(2.1)), Width: at(0.2)},
		},
	}}
	r, err := rig.Assemble(u, rig.Tow{}, rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	v := newPlan(phrase.English(), r, r.Statics(), false).rear
	var outer []measure.Length
	for _, w := range v.wheels {
		outer = append(outer, max(-w.left, w.right))
	}
	if want := []measure.Length{at(1.1), at(1.1), at(1.3425), at(1.3425), at(1.15), at(1.15)}; !slices.Equal(outer, want) {
		t.Errorf("wheels out to %v, want %v", outer, want)
	}
	if got := strings.Join(spans(v.above), "; "); !strings.HasPrefix(got, "-1.3425 to 1.3425 width 2.685 m") {
		t.Error(got)
	}
	if got := strings.Join(spans(v.below), "; "); !strings.Contains(got, "over tires 2.685 m") || !strings.Contains(got, "-1 to 1 track 2 m") {
		t.Error(got)
	}
	if b, _ := v.bounds(); b.left > at(-1.3425) || b.right < at(1.3425) {
		t.Errorf("the view ends within a wheel: %v", b)
	}
}

// Wheels whose place is not known are not drawn, and what the width then is is not said
// as if it were known.
func TestRearViewOfWheelsThatAreNotKnown(t *testing.T) {
	u := rig.Unit{Frame: rig.Frame{
		Outline: []rig.Box{box("house", -0.3, 8, 1.22, 0.5, 4)},
		Axles:   []rig.Axle{{At: at(5), Track: ptr(at(2)), Width: at(0.2)}, {At: at(6)}},
	}}
	r, err := rig.Assemble(u, rig.Tow{}, rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	v := newPlan(phrase.English(), r, r.Statics(), false).rear
	if missing := strings.Join(v.missing, "\n"); len(v.wheels) != 2 || !strings.Contains(missing, "wheels of axle 2: not drawn") || !strings.Contains(missing, "width over all: not known") {
		t.Errorf("%d wheels:\n%s", len(v.wheels), missing)
	}
	if got := strings.Join(spans(v.above), "; "); !strings.Contains(got, "width at least 2.44 m") {
		t.Error(got)
	}
}
