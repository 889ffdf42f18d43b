package finding

import (
	"testing"

	"wayhouse/regs/measure"
)

// A value prints as what it is, and what is not known prints as nothing.
func TestQuantities(t *testing.T) {
	length, mass := Of(4*measure.Metre), Of(-3*measure.Kilogram)
	least := length.Least()
	for _, tc := range []struct {
		q     Quantity
		known bool
		text  string
	}{
		{Quantity{}, false, ""},
		{Quantity{AtLeast: true}, false, ""},
		{length, true, (4 * measure.Metre).String()},
		{least, true, "≥ " + (4 * measure.Metre).String()},
		{mass, true, (-3 * measure.Kilogram).String()},
	} {
		if tc.q.Known() != tc.known || tc.q.String() != tc.text {
			t.Errorf("%q, want %+v", tc.q, tc)
		}
	}
	if l, ok := length.Length(); !ok || l != 4*measure.Metre {
		t.Errorf("length %v, %v", l, ok)
	}
	if _, ok := length.Mass(); ok {
		t.Error("a length is a mass")
	}
	if m, ok := mass.Mass(); !ok || m != -3*measure.Kilogram {
		t.Errorf("mass %v, %v", m, ok)
	}
	if least.Equal(length) || least.Exactly() != length {
		t.Error("a least value and an exact one are the same, or differ in the value")
	}
}
