package limit

import (
	"fmt"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

const (
	feet   = measure.Foot
	pounds = measure.Pound
)

// federal is the bridge formula of the United States as it ships: W = 500
// (L N/(N-1) + 12 N + 36) to the nearest 500 lb (23 CFR 658.17(e); known
// second-hand), with the exception for two tandems (23 USC 127, second-hand).
func federal(t testing.TB) Row {
	t.Helper()
	rows, _ := shipped(t)
	i := slices.IndexFunc(rows, func(r Row) bool { return r.Quantity == BridgeFormula && r.Jurisdiction == "US" })
	if i < 0 {
		t.Fatal("the bridge formula does not ship")
	}
	return rows[i]
}

// stand places axles so many feet behind the first and loads them with so many
// pounds.
func stand(at []measure.Length, mass ...measure.Mass) []AxleLoad {
	out := make([]AxleLoad, len(at))
	for i := range at {
		out[i] = AxleLoad{At: at[i] * feet, Mass: measure.Exactly(mass[i] * pounds), Tires: 4, Width: 235 * measure.Millimetre}
	}
	return out
}

// heavier is what an axle carries, and more.
func heavier(l AxleLoad, by measure.Mass) measure.Known[measure.Mass] {
	return measure.Sum(l.Mass, measure.Exactly(by))
}

// Worked out by hand from the formula, just half-way down: research table,
// weights and hours, section 2 (our arithmetic; the half-way rule is
// second-hand). Entries 3 axles 20 ft, 4 axles 35 ft and 5 axles 51 ft are also
// in the federal pamphlet on bridge formula weights (from memory). The check
// values 7 to 11 are among them.
func TestBridgeFormulaTable(t *testing.T) {
	b := federal(t).Bridge
	for _, tc := range []struct {
		axles   int
		apart   measure.Length // ft
		allowed measure.Mass   // lb
	}{
		{2, 9, 39_000}, {2, 10, 40_000},
		{3, 9, 42_500}, {3, 10, 43_500}, {3, 11, 44_000}, {3, 12, 45_000}, {3, 16, 48_000}, {3, 20, 51_000}, {3, 30, 58_500},
		{4, 12, 50_000}, {4, 20, 55_500}, {4, 35, 65_500}, {4, 36, 66_000}, {4, 38, 67_500},
		{5, 20, 60_500}, {5, 30, 66_500}, {5, 40, 73_000}, {5, 51, 80_000},
		{6, 43, 80_000}, {7, 34, 80_000},
	} {
		if got := b.Formula(tc.apart*feet, tc.axles); got != tc.allowed*pounds {
			t.Errorf("%d axles, %d ft: %s, want %d lb", tc.axles, tc.apart, got, tc.allowed)
		}
	}
	// Check value 7 in both units: 51 000 lb is 23 133 kg to the nearest.
	if got := b.Formula(20*feet, 3).Kilograms(); got < 23_132.5 || got >= 23_133.5 {
		t.Errorf("3 axles, 20 ft: %.1f kg, want 23 133", got)
	}
	for _, axles := range []int{-1, 0, 1} {
		if got := b.Formula(20*feet, axles); got != 0 {
			t.Errorf("%d axles: %s; the formula says nothing of them", axles, got)
		}
	}
}

// Half-way between two steps the lower counts: 9 ft and 3 axles give 42 750 lb,
// 11 ft 44 250 lb (check values 10 and 11; the rounding is second-hand). A
// nanometre further the formula gives the higher step, and the nearest foot does
// not.
func TestBridgeFormulaRoundsHalfWayDown(t *testing.T) {
	b := federal(t).Bridge
	for apart, down := range map[measure.Length]measure.Mass{9: 42_500, 11: 44_000} {
		for by, want := range map[measure.Length]measure.Mass{-1: down, 0: down, 1: down + 500} {
			if got := b.at(apart*feet+by, 3); got != want*pounds {
				t.Errorf("3 axles, %d ft and %d nm: %s, want %d lb", apart, by, got, want)
			}
			if got := b.Formula(apart*feet+by, 3); got != down*pounds {
				t.Errorf("3 axles, %d ft and %d nm, also to the foot: %s, want %d lb", apart, by, got, down)
			}
		}
	}
}

// Statutes that print a table measure to the nearest foot, of just half a foot
// the larger (Wisconsin 348.15(5m): 50 ft 5 in is 50 ft, 50 ft 6 in is 51 ft;
// South Dakota 32-22-16.1 and Florida 316.535 say the nearest foot); the formula
// itself takes the length as it is. The lower binds.
func TestBridgeFormulaToTheNearestFootAndAsItIs(t *testing.T) {
	b := federal(t).Bridge
	for _, tc := range []struct {
		axles  int
		inches measure.Length
		want   measure.Mass // lb, worked out by hand
	}{
		{5, 50*12 + 5, 79_000}, // 50 ft: 79 250; as it is 79 510
		{5, 50*12 + 6, 79_500}, // as it is 79 563; 51 ft: 79 875, which is 80 000
		{5, 50*12 + 7, 79_500}, // as it is 79 615; 51 ft: 80 000
		{5, 51 * 12, 80_000},
		{2, 9*12 + 5, 39_000},  // 9 ft; as it is 39 417, which is 39 500
		{2, 9*12 + 6, 39_500},  // as it is; 10 ft: 40 000
		{2, 9*12 + 11, 40_000}, // as it is 39 917; 10 ft: 40 000
		{3, 20*12 - 1, 51_000}, // as it is 50 938; 20 ft: 51 000
		{4, 35*12 + 11, 66_000},
	} {
		if got := b.Formula(tc.inches*measure.Inch, tc.axles); got != tc.want*pounds {
			t.Errorf("%d axles, %d in: %s, want %d lb", tc.axles, tc.inches, got, tc.want)
		}
	}
}

// The table as California prints it (Vehicle Code 35551(a), as amended in 2023):
// from 4 to 8 ft 34 000 lb whatever the number of axles, then the formula. Its
// 40 000 lb for two axles beyond 10 ft are those of two single axles. Wisconsin's
// examples of class A highways have 34 000 lb at 4 ft, 40 000 at 10 ft and 46 500
// for three axles on 14 ft.
func TestBridgeFormulaAgainstThePrintedTable(t *testing.T) {
	r := federal(t)
	for apart, row := range map[measure.Length][]measure.Mass{ // by the number of axles, from 2
		4: {34_000, 34_000, 34_000}, 5: {34_000, 34_000, 34_000}, 6: {34_000, 34_000, 34_000}, 7: {34_000, 34_000, 34_000}, 8: {34_000, 34_000, 34_000},
		9: {39_000, 42_500}, 10: {40_000, 43_500}, 11: {0, 44_000}, 12: {0, 45_000, 50_000}, 13: {0, 45_500, 50_500}, 14: {0, 46_500, 51_500},
		15: {0, 47_000, 52_000}, 16: {0, 48_000, 52_500}, 17: {0, 48_500, 53_500}, 18: {0, 49_500, 54_000}, 19: {0, 50_000, 54_500}, 20: {0, 51_000, 55_500},
		21: {0, 51_500, 56_000}, 22: {0, 52_500, 56_500}, 23: {0, 53_000, 57_500}, 24: {0, 54_000, 58_000}, 25: {0, 54_500, 58_500}, 26: {0, 55_500, 59_500},
		27: {0, 56_000, 60_000}, 28: {0, 57_000, 60_500},
	} {
		for i, want := range row {
			loads := make([]AxleLoad, i+2)
			for k := range loads {
				loads[k].At = apart * feet * measure.Length(k) / measure.Length(len(loads)-1)
			}
			if got := r.Bridge.allows(loads); want != 0 && got != Amount(want*pounds) {
				t.Errorf("%d axles, %d ft: %s, want %d lb", len(loads), apart, measure.Mass(got), want)
			}
		}
	}
}

// A tandem is axles over 40 and up to 96 in apart, and carries 34 000 lb (23 CFR
// 658.5 and 658.17(d)). The formula would give two axles 33 500 lb up to 45 in,
// 33 000 at the nearest foot below 42 in, and 38 000 at 96 in.
func TestTandemCarriesItsShareByTheBridgeFormula(t *testing.T) {
	b := federal(t).Bridge
	for by, want := range map[measure.Length]measure.Mass{
		40 * measure.Inch: 33_000, 40*measure.Inch + 1: 34_000, 41 * measure.Inch: 34_000, 42 * measure.Inch: 34_000, 46 * measure.Inch: 34_000,
		60 * measure.Inch: 34_000, 96 * measure.Inch: 34_000, 96*measure.Inch + 1: 38_000,
	} {
		if got := b.allows([]AxleLoad{{}, {At: by}}); got != Amount(want*pounds) {
			t.Errorf("two axles %s apart: %s, want %d lb", by, measure.Mass(got), want)
		}
	}
	plain := Bridge{Step: 500 * pounds, PerAxle: 12, Constant: 36} // names no tandem
	if got := plain.allows([]AxleLoad{{}, {At: 41 * measure.Inch}}); got != Amount(33_000*pounds) {
		t.Errorf("two axles 41 in apart by the formula alone: %s", measure.Mass(got))
	}
}

// The formula in whole fractions, apart from the code: the nearest step, of two
// as near the lower, for the length and for the nearest foot.
func TestBridgeFormulaIsExact(t *testing.T) {
	b := federal(t).Bridge
	exact := func(apart measure.Length, n int) measure.Mass {
		steps := big.NewRat(int64(apart)*int64(n), int64(feet)*int64(n-1))
		steps.Add(steps, big.NewRat(int64(12*n+36), 1))
		// ceil(x - 1/2) rounds half-way down.
		steps.Sub(steps, big.NewRat(1, 2))
		up := new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(steps.Num()), steps.Denom()))
		return measure.Mass(up.Int64()) * 500 * pounds
	}
	rapid.Check(t, func(t *rapid.T) {
		apart := measure.Length(rapid.Int64Range(0, int64(150*feet)).Draw(t, "apart"))
		n := rapid.IntRange(2, 12).Draw(t, "axles")
		foot := apart / feet * feet
		if apart-foot >= feet/2 {
			foot += feet
		}
		if got, want := b.Formula(apart, n), min(exact(apart, n), exact(foot, n)); got != want {
			t.Fatalf("%d axles, %d nm: %s, want %s", n, apart, got, want)
		}
		if b.Formula(apart+measure.Millimetre, n) < b.Formula(apart, n) {
			t.Fatalf("%d axles allow less a millimetre further than %d nm apart", n, apart)
		}
	})
}

// Every group of two or more consecutive axles counts, however far apart (23
// CFR 658.17(e), second-hand).
func TestBridgeFormulaOfEveryGroup(t *testing.T) {
	r := federal(t)
	for n := range 7 {
		groups, sure := r.Groups(stand(make([]measure.Length, n), make([]measure.Mass, n)...))
		seen := map[string]bool{}
		for _, g := range groups {
			if g.First < 1 || g.Last > n || g.Last <= g.First {
				t.Errorf("%d axles: group %d to %d", n, g.First, g.Last)
			}
			seen[fmt.Sprint(g.First, g.Last)] = true
		}
		if want := n * (n - 1) / 2; len(seen) != want || len(groups) != want || sure != Yes {
			t.Errorf("%d axles: %d groups (%d of their own, sure %d), want %d", n, len(groups), len(seen), sure, want)
		}
	}
}

// The pamphlet's truck of 80 000 lb on 51 ft (check values 7 to 9, 12 and 13):
// its axles 2 to 5 weigh 68 000 lb on 35 ft, for which the formula gives
// 65 500. On 36 ft two tandems may (23 USC 127, second-hand).
func TestBridgeFormulaOfTwoTandems(t *testing.T) {
	r := federal(t)
	mass := []measure.Mass{12_000, 17_000, 17_000, 17_000, 17_000}
	for _, tc := range []struct {
		name   string
		at     []measure.Length
		change func([]AxleLoad)
		beyond string // the only groups beyond the formula
		allows measure.Mass
	}{
		{"35 ft", []measure.Length{0, 16, 20, 47, 51}, nil, "2-5", 65_500},
		{"36 ft", []measure.Length{0, 16, 20, 48, 52}, nil, "", 68_000},
		{"a nanometre under 36 ft", []measure.Length{0, 16, 20, 48, 52}, func(l []AxleLoad) { l[1].At++ }, "2-5", 66_000},
		{"axles of one tandem 40 in apart", []measure.Length{0, 16, 20, 48, 52}, func(l []AxleLoad) {
			l[2].At = l[1].At + 40*measure.Inch
		}, "2-3 2-5", 66_000}, // no tandem, and 2 axles on 40 in may weigh 33 000 lb
		{"axles of one tandem 96 in apart", []measure.Length{0, 16, 24, 48, 52}, nil, "", 68_000},
		{"axles of one tandem over 96 in apart", []measure.Length{0, 16, 24, 48, 52}, func(l []AxleLoad) { l[2].At++ }, "2-5", 66_000},
		{"one tandem over its share", []measure.Length{0, 16, 20, 48, 52}, func(l []AxleLoad) { l[4].Mass = heavier(l[4], 1) }, "2-5 4-5", 66_000},
		{"one under, one over", []measure.Length{0, 16, 20, 48, 52}, func(l []AxleLoad) {
			l[1].Mass = heavier(l[1], -100*pounds)
			l[4].Mass = heavier(l[4], 100*pounds)
		}, "2-5 4-5", 66_000},
		{"further than the formula needs", []measure.Length{0, 16, 20, 56, 60}, nil, "", 71_500},
	} {
		loads := stand(tc.at, mass...)
		if tc.change != nil {
			tc.change(loads)
		}
		groups, _ := r.Groups(loads)
		got := ""
		for _, g := range r.Beyond(groups) {
			got += fmt.Sprintf(" %d-%d", g.First, g.Last)
		}
		i := slices.IndexFunc(groups, func(g Group) bool { return g.First == 2 && g.Last == 5 })
		if want := tc.beyond; got != "" && got[1:] != want || got == "" && want != "" || groups[i].Limit != Amount(tc.allows*pounds) {
			t.Errorf("%s: beyond %q, axles 2 to 5 may weigh %s; want %q, %d lb", tc.name, got, measure.Mass(groups[i].Limit), want, tc.allows)
		}
	}
}

// A tandem of which one axle was not weighed gets no exception, and what is not
// known is beyond nothing.
func TestBridgeFormulaWithoutMass(t *testing.T) {
	r := federal(t)
	for i := range 5 {
		loads := stand([]measure.Length{0, 16, 20, 48, 52}, 12_000, 17_000, 17_000, 17_000, 17_000)
		loads[i].Mass = measure.Known[measure.Mass]{}
		groups, _ := r.Groups(loads)
		for _, g := range groups {
			within := g.First <= i+1 && i+1 <= g.Last
			if g.Mass.Open() != within {
				t.Errorf("axle %d not weighed: %s weighs %v", i+1, g.Name(), g.Mass)
			}
			if g.First == 2 && g.Last == 5 && i > 0 && g.Limit != Amount(66_000*pounds) {
				t.Errorf("axle %d not weighed: %s may weigh %s", i+1, g.Name(), measure.Mass(g.Limit))
			}
		}
		for _, g := range r.Beyond(groups) {
			if g.First <= i+1 && i+1 <= g.Last {
				t.Errorf("axle %d not weighed: %s is beyond", i+1, g.Name())
			}
		}
	}
}

// A mass 10 micrograms above the limit is beyond it, one at it is not.
func TestBridgeFormulaToTheLastUnit(t *testing.T) {
	r := federal(t)
	for by, want := range map[measure.Mass]int{-1: 0, 0: 0, 1: 1} {
		loads := stand([]measure.Length{0, 10, 20}, 17_000, 17_000, 17_000) // 51 000 lb on 20 ft
		loads[1].Mass = heavier(loads[1], by)
		groups, _ := r.Groups(loads)
		if beyond := r.Beyond(groups); len(beyond) != want {
			t.Errorf("51 000 lb and %d tens of micrograms: %v beyond", by, beyond)
		}
	}
}

func TestParseBridge(t *testing.T) {
	plain, err := parseBridge("500 kg (L N/(N-1) + 6 N + 20), L in ft")
	if want := (Bridge{Step: 500 * measure.Kilogram, PerAxle: 6, Constant: 20}); err != nil || plain != want {
		t.Errorf("%+v, %v; want %+v", plain, err, want)
	}
	for _, text := range []string{
		"", "500 lb", "34000 lb", "500 (L N/(N-1) + 12 N + 36), L in ft", "0 lb (L N/(N-1) + 12 N + 36), L in ft",
		"500 lb (L N/(N-1) + 12 N + 36)", "500 lb (L N/(N-1) + 12 N + 36), L in m", "500 lb (L N/(N-1) - 12 N + 36), L in ft",
		"500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems of 40 in, 36 ft or more apart, 34000 lb each",
		"500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems of > 40 in, 36 or more apart, 34000 lb each",
		"500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems of > 40 in, 36 ft or more apart, 34000 each",
		"500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems", "x 500 lb (L N/(N-1) + 12 N + 36), L in ft and more",
	} {
		if b, err := parseBridge(text); err == nil {
			t.Errorf("%q is read as %+v", text, b)
		}
	}
}
