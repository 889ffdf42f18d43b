package measure

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/say"
)

// A value is in one state of three, and what it tells follows from that.
func TestKnown(t *testing.T) {
	why, seven := say.That("test.why"), 7
	for name, tc := range map[string]struct {
		of          Known[int]
		value, isIt bool // the value is told; a least one is
		why         say.Remark
	}{
		"the zero value": {of: Known[int]{}},
		"left out":       {of: Given[int](nil)},
		"for a reason":   {of: Because[int](why), why: why},
		"at least":       {of: AtLeast(7), isIt: true},
		"known":          {of: Exactly(7), value: true, isIt: true},
		"given":          {of: Given(&seven), value: true, isIt: true},
	} {
		v, ok := tc.of.Value()
		least, some := tc.of.Least()
		if ok != tc.value || tc.of.Known() != tc.value || (tc.of.Pointer() != nil) != tc.value {
			t.Errorf("%s: the value is told: %v, %v, %v", name, ok, tc.of.Known(), tc.of.Pointer())
		}
		if some != tc.isIt || tc.of.Open() == tc.isIt || tc.of.AtLeast() != (tc.isIt && !tc.value) {
			t.Errorf("%s: a least value is told: %v, %v, %v", name, some, tc.of.Open(), tc.of.AtLeast())
		}
		if (v == 7) != tc.value || (least == 7) != tc.isIt {
			t.Errorf("%s: %d, at least %d", name, v, least)
		}
		if tc.of.Why().String() != tc.why.String() {
			t.Errorf("%s: because %s, want %s", name, tc.of.Why(), tc.why)
		}
	}
}

// known draws a value of which the truth is given, in any state that is true of it.
func known(t *rapid.T, truth Length, name string) Known[Length] {
	switch rapid.IntRange(0, 2).Draw(t, name) {
	case 0:
		return Known[Length]{}
	case 1:
		return AtLeast(truth - Length(rapid.IntRange(0, 9).Draw(t, name+" less")))
	default:
		return Exactly(truth)
	}
}

// What is worked out of values is true of what they truly are: it is known only where
// every one is, and otherwise never more.
func TestKnownStaysTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := Length(rapid.IntRange(0, 20).Draw(t, "x")), Length(rapid.IntRange(0, 20).Draw(t, "y"))
		a, b := known(t, x, "a"), known(t, y, "b")
		for name, tc := range map[string]struct {
			got  Known[Length]
			want Length
			some bool
		}{
			"sum":      {Sum(a, b), x + y, !a.Open() && !b.Open()},
			"greatest": {Greatest(a, b), max(x, y), !a.Open() || !b.Open()},
		} {
			least, some := tc.got.Least()
			if v, ok := tc.got.Value(); ok != (a.Known() && b.Known()) || ok && v != tc.want {
				t.Fatalf("%s of %+v and %+v: %v, known %v", name, a, b, v, ok)
			}
			if some != tc.some || some && least > tc.want {
				t.Fatalf("%s of %+v and %+v: at least %v, of truly %v", name, a, b, least, tc.want)
			}
		}
	})
	if got := Greatest[Length](); !got.Open() {
		t.Errorf("the greatest of none is %+v", got)
	}
}
