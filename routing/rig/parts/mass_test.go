package parts

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// Worked by hand: mass times amount.
func TestMass(t *testing.T) {
	r := Entry{ID: "x", Per: SquareMetre, Low: 30 * measure.Kilogram, Typical: 39*measure.Kilogram + measure.Kilogram/10, High: 100 * measure.Pound}
	for _, tc := range []struct {
		amount             float64
		low, typical, high measure.Mass
	}{
		{0, 0, 0, 0},
		{1, r.Low, r.Typical, r.High},
		{52.6, 1578 * measure.Kilogram, 205_666_000_000, 5260 * measure.Pound},
		{0.1, 3 * measure.Kilogram, 391_000_000, 10 * measure.Pound},
		{1e6, 30_000_000 * measure.Kilogram, 39_100_000 * measure.Kilogram, 100_000_000 * measure.Pound},
		{1e-9, 3, 4, 5}, // 3.00, 3.91 and 4.54 units
		{1e-300, 0, 0, 0},
	} {
		low, typical, high, err := r.Mass(tc.amount)
		if err != nil || low != tc.low || typical != tc.typical || high != tc.high {
			t.Errorf("%v: %d, %d, %d, %v; want %d, %d, %d", tc.amount, low, typical, high, err, tc.low, tc.typical, tc.high)
		}
	}
}

func TestMassRefused(t *testing.T) {
	r := Entry{ID: "x", Per: Metre, Low: measure.Kilogram, Typical: measure.Kilogram, High: measure.MaxMass / 2}
	for _, tc := range []struct {
		amount float64
		says   string
	}{
		{-1, "error.negative_or_no_number; fix.amount(per: m)"}, {-1e-300, "error.negative_or_no_number; fix.amount(per: m)"}, {math.Inf(-1), "error.negative_or_no_number; fix.amount(per: m)"}, {math.NaN(), "error.negative_or_no_number"},
		{math.Inf(1), "error.absurdly_large"}, {math.Nextafter(MaxAmount, math.Inf(1)), "error.absurdly_large"},
		{2.0000001, "error.absurdly_heavy"}, {MaxAmount, "error.absurdly_heavy"},
	} {
		low, typical, high, err := r.Mass(tc.amount)
		var field *measure.FieldError
		if low != 0 || typical != 0 || high != 0 || !errors.As(err, &field) || field.Field != "amount" || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%v: %d, %d, %d, %v; want %q", tc.amount, low, typical, high, err, tc.says)
		}
	}
	if _, _, high, err := r.Mass(2); err != nil || high != measure.MaxMass {
		t.Errorf("the largest mass: %d, %v", high, err)
	}
}

// What was not found is not weightless.
func TestMassOfNothing(t *testing.T) {
	if _, _, _, err := (Entry{}).Mass(5); !errors.Is(err, ErrNoPart) {
		t.Errorf("a row without masses: %v", err)
	}
}

// The ends stay in order, more weighs more, and the parts of an amount add up
// to the whole within the stated rounding.
func TestMassGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kg := rapid.Float64Range(0.001, 2000)
		low := kg.Draw(t, "low")
		typical := low + kg.Draw(t, "more")
		high := typical + kg.Draw(t, "most")
		r := Entry{ID: "x", Per: Each, Low: units(low), Typical: units(typical), High: units(high)}
		amount := rapid.Float64Range(0, 4000)
		a, b := amount.Draw(t, "a"), amount.Draw(t, "b")
		lowA, typicalA, highA, errA := r.Mass(a)
		lowB, typicalB, highB, errB := r.Mass(b)
		lowSum, typicalSum, highSum, errSum := r.Mass(a + b)
		if err := errors.Join(errA, errB, errSum); err != nil {
			t.Fatal(err)
		}
		if !(0 <= lowA && lowA <= typicalA && typicalA <= highA) {
			t.Fatalf("%d, %d, %d", lowA, typicalA, highA)
		}
		for _, tc := range []struct{ a, b, sum measure.Mass }{{lowA, lowB, lowSum}, {typicalA, typicalB, typicalSum}, {highA, highB, highSum}} {
			if off := tc.sum - tc.a - tc.b; off < -3 || off > 3 { // one unit for each of the three
				t.Fatalf("%d and %d make %d", tc.a, tc.b, tc.sum)
			}
			if tc.sum < tc.a || tc.sum < tc.b {
				t.Fatalf("%d and %d make less, %d", tc.a, tc.b, tc.sum)
			}
		}
	})
}

func units(kilograms float64) measure.Mass {
	return measure.Mass(kilograms * float64(measure.Kilogram))
}

func BenchmarkMass(b *testing.B) {
	r, _ := shipped(b).Find("wall-2x4-lap-wood")
	b.ReportAllocs()
	for b.Loop() {
		if _, _, _, err := r.Mass(52.6); err != nil {
			b.Fatal(err)
		}
	}
}
