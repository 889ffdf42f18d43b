package anchors

import (
	"testing"

	"wayhouse/regs/measure"
)

func TestStatus(t *testing.T) {
	rated := func(f measure.Force) *measure.Force { return &f }
	for _, tc := range []struct {
		name          string
		pull, push    measure.Force
		uplift, shear *measure.Force
		partial       bool
		share         float64
		known         bool
		want          Status
	}{
		{"both within", 4000, 3000, rated(8000), rated(5000), false, 0.6, true, Within},
		{"just within", 8000, 3000, rated(8000), rated(5000), false, 1, true, Within},
		{"pull beyond", 9000, 3000, rated(7500), rated(5000), false, 1.2, true, Exceeds},
		{"push beyond", 4000, 6000, rated(8000), rated(5000), false, 1.2, true, Exceeds},
		{"no rating", 4000, 3000, nil, nil, false, 0, false, NotRated},
		{"no rating for the pull", 4000, 3000, nil, rated(5000), false, 0.6, false, NotRated},
		{"no rating for the push", 4000, 3000, rated(8000), nil, false, 0.5, false, NotRated},
		{"no pull and no rating for it", 0, 3000, nil, rated(5000), false, 0.6, true, Within},
		{"beyond one, the other not known", 4000, 6000, nil, rated(5000), false, 1.2, false, Exceeds},
		{"a case not carried", 4000, 3000, rated(8000), rated(5000), true, 0.6, false, NotCarried},
		{"no case carried", 0, 0, nil, nil, true, 0, false, NotCarried},
		{"no case carried, rated", 0, 0, rated(8000), rated(5000), true, 0, false, NotCarried},
		{"beyond in one case, another not carried", 9000, 3000, rated(7500), rated(5000), true, 1.2, false, Exceeds},
		{"a rating of nothing", 4000, 3000, rated(0), rated(5000), false, 0.6, false, NotRated},
	} {
		d := Demand{Anchor: Anchor{Count: 2, Uplift: tc.uplift, Shear: tc.shear}, PullUp: tc.pull, PushAside: tc.push, Partial: tc.partial}
		share, known := d.Uses()
		near(t, tc.name, share, tc.share, 1e-12)
		if got := d.Status(); got != tc.want || known != tc.known {
			t.Errorf("%s: %q, known %v, want %q, %v", tc.name, got, known, tc.want, tc.known)
		}
		if up, aside := d.Place(); up != 2*tc.pull || aside != 2*tc.push {
			t.Errorf("%s: the place takes %v and %v", tc.name, up, aside)
		}
	}
}

// A case that is not carried never reads as a share of 0 that is known.
func TestNotCarriedIsNotZero(t *testing.T) {
	strong := measure.Force(1e6)
	a := at(5, 0)
	a.Uplift, a.Shear = &strong, &strong
	r, err := Assess(Body{Mass: 5 * measure.Tonne, Along: 6, Across: 1, Up: 1.5}, []Anchor{a}, breeze())
	if err != nil {
		t.Fatal(err)
	}
	d := r.Demands[0]
	if _, known := d.Uses(); known || d.Status() != NotCarried || len(r.Cannot) != len(Cases()) {
		t.Errorf("%+v: %q, cannot carry %q", d, d.Status(), r.Cannot)
	}
}

// Of two cases that ask for as much the first is named, and none where the house
// presses.
func TestRaise(t *testing.T) {
	var d Demand
	d.raisePull(-500, "presses")
	d.raisePull(0, "rests")
	d.raisePush(0, "rests")
	if d.PullUp != 0 || d.PullUpCase != "" || d.PushAsideCase != "" {
		t.Errorf("nothing is asked: %+v", d)
	}
	for _, name := range []Name{"first", "second"} {
		d.raisePull(100, name)
		d.raisePush(200, name)
	}
	if d.PullUp != 100 || d.PushAside != 200 || d.PullUpCase != "first" || d.PushAsideCase != "first" {
		t.Errorf("%+v, want the first case", d)
	}
}
