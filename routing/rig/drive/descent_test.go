package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func down(grade float64, length measure.Distance) Section {
	return Section{Length: length, Grade: -grade, Speed: 20, Surface: Paved}
}

// The lengths are those of the Manual on Uniform Traffic Control Devices, 2009,
// section 2C.16 (from memory), a little above and a little below.
func TestDescentLengths(t *testing.T) {
	for _, tc := range []struct{ grade, feet float64 }{
		{0.05, 3000}, {0.06, 2000}, {0.07, 1000}, {0.08, 750}, {0.09, 500}, {0.12, 500},
	} {
		length := measure.Distance(tc.feet * 0.3048)
		if got := Descents([]Section{down(tc.grade+1e-6, length+1)}); len(got) != 1 {
			t.Errorf("%v over %v m is no descent", tc.grade, length+1)
		}
		if got := Descents([]Section{down(tc.grade+1e-6, length-1)}); len(got) != 0 {
			t.Errorf("%v over %v m: %v", tc.grade, length-1, got)
		}
	}
}

func TestDescents(t *testing.T) {
	flat := func(length measure.Distance) Section { return Section{Length: length} }
	for name, tc := range map[string]struct {
		way  []Section
		want []Descent
	}{
		"nothing":             {nil, nil},
		"a climb":             {[]Section{{Length: 5000, Grade: 0.08}}, nil},
		"gentle and long":     {[]Section{down(0.04, 4000)}, []Descent{{0, 4000, 160, 0.04}}},
		"gentle and short":    {[]Section{down(0.04, 3000)}, nil},
		"not steep at all":    {[]Section{down(0.02, 20_000)}, nil},
		"after a flat":        {[]Section{flat(700), down(0.08, 1000)}, []Descent{{700, 1000, 80, 0.08}}},
		"over a short rest":   {[]Section{down(0.08, 500), flat(99), down(0.08, 500)}, []Descent{{0, 1099, 80, 80.0 / 1099}}},
		"over a short rise":   {[]Section{down(0.08, 500), {Length: 50, Grade: 0.02}, down(0.08, 500)}, []Descent{{0, 1050, 79, 79.0 / 1050}}},
		"apart by a rest":     {[]Section{down(0.08, 500), flat(100), down(0.08, 500)}, []Descent{{0, 500, 40, 0.08}, {600, 500, 40, 0.08}}},
		"two rests add up":    {[]Section{down(0.08, 500), flat(60), flat(60), down(0.08, 500)}, []Descent{{0, 500, 40, 0.08}, {620, 500, 40, 0.08}}},
		"each rest is short":  {[]Section{down(0.08, 500), flat(60), down(0.08, 500), flat(60), down(0.08, 500)}, []Descent{{0, 1620, 120, 120.0 / 1620}}},
		"the rest at the end": {[]Section{down(0.08, 500), flat(50)}, []Descent{{0, 500, 40, 0.08}}},
	} {
		got := Descents(tc.way)
		if len(got) != len(tc.want) {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
			continue
		}
		for i, d := range got {
			near(t, name+", at", float64(d.At), float64(tc.want[i].At), 1e-9)
			near(t, name+", length", float64(d.Length), float64(tc.want[i].Length), 1e-9)
			near(t, name+", drop", float64(d.Drop), float64(tc.want[i].Drop), 1e-9)
			near(t, name+", grade", d.Grade, tc.want[i].Grade, 1e-12)
		}
	}
}

// Descents lie on the way, one after the other.
func TestDescentsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		way := drawWay(t, -0.12, 0.12)
		at, length := measure.Distance(0), measure.Distance(0)
		for _, s := range way {
			length += s.Length
		}
		for _, d := range Descents(way) {
			if d.At < at-1e-6 || d.Length <= 0 || d.Drop <= 0 || math.Abs(float64(d.Drop/d.Length)-d.Grade) > 1e-12 {
				t.Fatalf("%+v, after %v", d, at)
			}
			at = d.At + d.Length
		}
		if at > length+1e-6 {
			t.Fatalf("ends at %v of %v", at, length)
		}
	})
}

// Worked by hand: 10 000 kg down 6 % for 2 km at 15 m/s in air of 1.2 kg/m3, of
// which 4 m2 of drag area and 0.007 of rolling resistance take their part.
func TestBrakes(t *testing.T) {
	v := Vehicle{DragArea: Band[measure.Area]{6, 4, 9}, Mass: Band[measure.Mass]{9500 * measure.Kilogram, 9000 * measure.Kilogram, 10_000 * measure.Kilogram}, Fuel: Diesel}
	run := 1 / math.Sqrt(1+0.06*0.06)
	force := 10_000*9.80665*run*(0.06-0.007) - 0.5*1.2*4*15*15
	joules, power := v.Brakes(Descent{Length: 2000, Grade: 0.06}, Weather{Air: Band[measure.Density]{1.3, 1.2, 1.4}}, 15)
	near(t, "J", joules, force*2000, 1e-3)
	near(t, "W", float64(power), force*15, 1e-6)
	if joules, power := v.Brakes(Descent{Length: 2000, Grade: 0.005}, OfKelvins(0, coldest), 15); joules != 0 || power != 0 {
		t.Errorf("a slope that does not push takes %v J, %v W", joules, power)
	}
}
