package parts

import (
	"math"
	"testing"

	"wayhouse/regs/measure"
)

// A house worked by hand from the same loads, 7.3 x 2.44 m with walls of 2.7 m:
// walls 52.6 m2, roof 17.8 m2 of plan times 1.1, floor 17.8 m2. That sum took
// 39.1, 68.4 and 39.1 kg/m2, rounded up by at most 0.11 % from 8, 14 and 8 psf;
// with its areas rounded as well it may differ by 0.2 %.
func TestHouseByHand(t *testing.T) {
	c := shipped(t)
	var sum float64
	for _, tc := range []struct {
		id           string
		amount, want float64
	}{
		{"wall-2x4-lap-wood", 52.6, 2057}, {"roof-metal", 17.8 * 1.1, 1340}, {"floor-2x12-carpet-vinyl-open", 17.8, 696},
	} {
		_, typical, _, err := part(t, c, tc.id).Mass(tc.amount)
		if err != nil {
			t.Fatal(err)
		}
		if kg := typical.Kilograms(); math.Abs(kg-tc.want) > 0.002*tc.want {
			t.Errorf("%s: %.1f kg, want %v", tc.id, kg, tc.want)
		}
		sum += typical.Kilograms()
	}
	if math.Abs(sum-4093) > 0.002*4093 {
		t.Errorf("in all %.1f kg, want 4093", sum)
	}
}

// The same assemblies put together from other rows, worked by hand: framing in
// metres per m2, 1/0.406 with a tenth more for plates, rims and corners. Each
// must lie between the ends of the printed one. It tests that the table agrees
// with itself, not that it is true.
func TestLayersAgree(t *testing.T) {
	c := shipped(t)
	const framing = 1.1 / 0.406 // m per m2
	type layer struct {
		id     string
		amount float64
	}
	board := func(n float64) layer { return layer{"gypsum-board-12mm", n} }
	for id, layers := range map[string][]layer{
		"wall-2x4-bare":                {{"stud-wood-38x89", framing}, {"plywood-softwood-12mm", 1}, board(1)},
		"wall-2x4-lap-wood":            {{"stud-wood-38x89", framing}, {"plywood-softwood-12mm", 1}, board(1), {"cedar-siding", 0.018 * 1.2}},
		"wall-2x6-bare":                {{"stud-wood-38x140", framing}, {"osb-11mm", 1}, board(1)},
		"partition-2x4":                {{"stud-wood-38x89", framing}, board(2)},
		"roof-metal":                   {{"joist-wood-38x235", framing}, {"osb-11mm", 1}, board(1), {"roofing-steel-0-45mm", 1}, {"insulation-fibreglass-batt", 0.235}},
		"roof-asphalt-shingles":        {{"joist-wood-38x235", framing}, {"osb-11mm", 1}, board(1), {"roofing-asphalt-shingles", 1}},
		"ceiling-gypsum":               {board(1)},
		"floor-2x12-carpet-vinyl":      {{"joist-wood-38x286", framing}, {"osb-18mm", 1}, board(1), {"flooring-sheet-vinyl", 1}},
		"floor-2x12-carpet-vinyl-open": {{"joist-wood-38x286", framing}, {"osb-18mm", 1}, {"flooring-sheet-vinyl", 1}},
		"floor-2x12-wood":              {{"joist-wood-38x286", framing}, {"osb-18mm", 1}, board(1), {"flooring-hardwood-19mm", 1}},
	} {
		var sum measure.Mass
		for _, l := range layers {
			_, typical, _, err := part(t, c, l.id).Mass(l.amount)
			if err != nil {
				t.Fatal(err)
			}
			sum += typical
		}
		if whole := part(t, c, id); sum < whole.Low || sum > whole.High {
			t.Errorf("%s: the layers weigh %v, it from %v to %v", id, sum, whole.Low, whole.High)
		}
		t.Logf("%s: %.1f of %.1f kg/m2", id, sum.Kilograms(), part(t, c, id).Typical.Kilograms())
	}
}

// Boards and studs weigh their density times their size, worked by hand.
// Densities and the masses of boards and studs were recalled apart, and rounded
// to a tenth of a kilogram: that and 3 % between them.
func TestDensitiesAgree(t *testing.T) {
	c := shipped(t)
	for _, tc := range []struct {
		id, of string
		volume float64 // m3 per amount
	}{
		{"stud-wood-38x89", "lumber-spf", 0.038 * 0.089},
		{"stud-wood-38x140", "lumber-spf", 0.038 * 0.140},
		{"joist-wood-38x184", "lumber-spf", 0.038 * 0.184},
		{"joist-wood-38x235", "lumber-spf", 0.038 * 0.235},
		{"joist-wood-38x286", "lumber-spf", 0.038 * 0.286},
		{"plywood-softwood-12mm", "plywood-softwood", 0.0125},
		{"osb-11mm", "osb", 0.0111},
		{"osb-18mm", "osb", 0.018},
		{"fibre-cement-8mm", "fibre-cement", 0.008},
		{"glazing-single-3mm", "glass", 0.003},
		{"glazing-double-3mm", "glass", 0.006},
		{"glazing-triple-3mm", "glass", 0.009},
		{"roofing-steel-0-45mm", "steel", 0.00045 * 1.2},
	} {
		got, want := part(t, c, tc.id).Typical.Kilograms(), part(t, c, tc.of).Typical.Kilograms()*tc.volume
		if math.Abs(got-want) > 0.03*want {
			t.Errorf("%s: %.3f kg, by its density %.3f", tc.id, got, want)
		}
	}
}

// Common practice, no source: a steel stud weighs 10 to 60 % less than a wood
// one of its size.
func TestSteelStuds(t *testing.T) {
	c := shipped(t)
	wood := part(t, c, "stud-wood-38x89").Typical.Kilograms()
	for _, id := range []string{"stud-steel-92-33mil", "stud-steel-92-18mil"} {
		less := 1 - part(t, c, id).Typical.Kilograms()/wood
		if less < 0.10-1e-12 || less > 0.60+1e-12 {
			t.Errorf("%s weighs %.1f %% less than wood", id, 100*less)
		}
	}
}
