package permit

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// record fills the columns of a table from cells; what they leave out is empty.
func record[T any](table rows.Table[T], cells map[string]string) rows.Record {
	out := make(rows.Record, len(table.Columns))
	for i, column := range table.Columns {
		out[i] = cells[column]
	}
	return out
}

// permitOf reads a permit of CA-XX (invented).
func permitOf(changes map[string]string) (Permit, error) {
	cells := map[string]string{"id": "p", "jurisdiction": "CA-XX", "name": "A permit", "for": "size", "currency": "CAD", "status": "published", "source": "A law"}
	for column, text := range changes {
		cells[column] = text
	}
	return Permits().Row(1, record(Permits(), cells))
}

func feeOf(t testing.TB, changes map[string]string) Fee {
	t.Helper()
	p, err := permitOf(changes)
	if err != nil {
		t.Fatal(err)
	}
	return p.Fee
}

// The parts of a fee add up. By hand; the rates are invented but for 20, 0.085
// for a km and 0.10 for a tonne and km over, which are those of the Northwest
// Territories (single-trip permit help page, 2021; read by the shipped table).
func TestFee(t *testing.T) {
	over := 2 * measure.Tonne
	at := func(width measure.Length) map[limit.Quantity]limit.Amount {
		return map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(width), limit.Height: limit.Amount(4 * measure.Metre)}
	}
	const bands = "width <= 3.65 m: 55; width > 3.65 m and <= 5 m: 95.50; width > 5 m: 200"
	for _, tc := range []struct {
		name    string
		cells   map[string]string
		c       Case
		amount  string
		unknown string
	}{
		{"nothing", map[string]string{}, Case{Way: 1000}, "", "fee.open"},
		{"flat", map[string]string{"fee": "48"}, Case{}, "48.00 CAD", ""},
		{"free", map[string]string{"fee": "0"}, Case{}, "0.00 CAD", ""},
		{"per km", map[string]string{"fee_per_km": "0.085"}, Case{Way: 100_000}, "8.50 CAD", ""},
		{"per km, rounded to the cent", map[string]string{"fee_per_km": "0.085"}, Case{Way: 1234}, "0.10 CAD", ""}, // 0.10489
		{"per km, half a cent up", map[string]string{"fee_per_km": "0.01"}, Case{Way: 500}, "0.01 CAD", ""},        // 0.005
		{"per km, whole metres", map[string]string{"fee_per_km": "10"}, Case{Way: 999.6}, "10.00 CAD", ""},
		{"per tonne and km", map[string]string{"fee_per_tonne_km": "0.10"}, Case{Way: 100_000, OverMass: &over}, "20.00 CAD", ""},
		{"all of them", map[string]string{"fee": "20", "fee_per_km": "0.085", "fee_per_tonne_km": "0.10"}, Case{Way: 100_000, OverMass: &over}, "48.50 CAD", ""},
		{"mass not known", map[string]string{"fee": "20", "fee_per_tonne_km": "0.10"}, Case{Way: 100_000}, "", "fee.over_mass_open"},
		{"first band, at its end", map[string]string{"fee_bands": bands}, Case{Sizes: at(3650 * measure.Millimetre)}, "55.00 CAD", ""},
		{"second band", map[string]string{"fee_bands": bands}, Case{Sizes: at(3650*measure.Millimetre + 1)}, "95.50 CAD", ""},
		{"third band", map[string]string{"fee_bands": bands}, Case{Sizes: at(6 * measure.Metre)}, "200.00 CAD", ""},
		{"band beside a flat part", map[string]string{"fee": "10", "fee_bands": bands}, Case{Sizes: at(measure.Metre)}, "65.00 CAD", ""},
		{"the first that holds", map[string]string{"fee_bands": "width > 1 m: 5; width > 2 m: 7"}, Case{Sizes: at(3 * measure.Metre)}, "5.00 CAD", ""},
		{"bands of two sizes", map[string]string{"fee_bands": "width > 1 m: 5; height > 3 m: 7"}, Case{Sizes: at(3 * measure.Metre)}, "12.00 CAD", ""},
		{"size not known", map[string]string{"fee": "10", "fee_bands": bands}, Case{}, "", "fee.size_open(quantity: width)"},
		{"no band holds", map[string]string{"fee_bands": "width > 3 m: 55"}, Case{Sizes: at(3 * measure.Metre)}, "", "fee.no_band(quantity: width)"},
		{"no band holds, a flat part", map[string]string{"fee": "10", "fee_bands": "width > 3 m: 55"}, Case{Sizes: at(3 * measure.Metre)}, "", "fee.no_band(quantity: width)"},
		{"no band of one of two sizes", map[string]string{"fee_bands": "width > 1 m: 5; height > 4.2 m: 7"}, Case{Sizes: at(3 * measure.Metre)}, "", "fee.no_band(quantity: height)"},
		{"another size not known", map[string]string{"fee_bands": "width > 1 m: 5; trailer_length > 12 m: 7"}, Case{Sizes: at(3 * measure.Metre)}, "", "fee.size_open(quantity: trailer_length)"},
	} {
		amount, unknown := feeOf(t, tc.cells).Of(tc.c)
		if amount != tc.amount || unknown.String() != tc.unknown {
			t.Errorf("%s: %q, %q; want %q, %q", tc.name, amount, unknown, tc.amount, tc.unknown)
		}
	}
}

// A longer way and a heavier rig never cost less.
func TestFeeGrows(t *testing.T) {
	fee := feeOf(t, map[string]string{"fee": "20", "fee_per_km": "0.085", "fee_per_tonne_km": "0.10"})
	rapid.Check(t, func(t *rapid.T) {
		km, more := rapid.IntRange(0, 5000).Draw(t, "km"), rapid.IntRange(0, 100).Draw(t, "more")
		kg, over := rapid.IntRange(0, 60_000).Draw(t, "kg"), rapid.IntRange(0, 1000).Draw(t, "over")
		of := func(km, kg int) int {
			mass := measure.Mass(kg) * measure.Kilogram
			amount, unknown := fee.Of(Case{Way: measure.Distance(km * 1000), OverMass: &mass})
			if !unknown.None() {
				t.Fatal(unknown)
			}
			cents := 0
			for _, r := range amount {
				if r >= '0' && r <= '9' {
					cents = 10*cents + int(r-'0')
				}
			}
			return cents
		}
		// In tenths of a cent: 20 + 0.085 km + 0.0001 kg km.
		if got, exact := of(km, kg), 20_000+85*km+kg*km/10; 10*got > exact+6 || 10*got < exact-6 {
			t.Fatalf("%d km, %d kg over: %d cents, want %d tenths of one", km, kg, got, exact)
		}
		if of(km+more, kg+over) < of(km, kg) {
			t.Fatalf("%d km and %d kg more cost less", more, over)
		}
	})
}

func TestReadFeeBad(t *testing.T) {
	for name, cells := range map[string]map[string]string{
		"fee with a currency":   {"fee": "48 USD"},
		"negative":              {"fee": "-1"},
		"words":                 {"fee_per_km": "free"},
		"not a number":          {"fee": "NaN"},
		"endless":               {"fee_per_tonne_km": "Infinity"},
		"too long":              {"fee": "1.0000000000001"},
		"with an exponent":      {"fee": "1e3"},
		"a small exponent":      {"fee_per_km": "85E-3"},
		"with a sign":           {"fee": "+48"},
		"without a figure":      {"fee": ".5"},
		"ends in a point":       {"fee": "48."},
		"too large":             {"fee": "1234567890"},
		"with a comma":          {"fee": "1,000"},
		"band with an exponent": {"fee_bands": "width > 3 m: 1e9"},
		"no currency":           {"fee": "48", "currency": ""},
		"no letters of one":     {"fee": "48", "currency": "C$"},
		"bands, no currency":    {"fee_bands": "width > 3 m: 55", "currency": ""},
		"band without amount":   {"fee_bands": "width > 3 m"},
		"band of another size":  {"fee_bands": "gross_mass > 3 t: 55"},
		"band of no size":       {"fee_bands": "> 3 m: 55"},
		"band without unit":     {"fee_bands": "width > 3: 55"},
		"band of words":         {"fee_bands": "wide: 55"},
		"negative band":         {"fee_bands": "width > 3 m: -55"},
		"second band of a list": {"fee_bands": "width <= 3 m: 55; width > 3 m: many"},
	} {
		if p, err := permitOf(cells); err == nil {
			t.Errorf("%s: read as %+v", name, p.Fee)
		}
	}
}

func TestReadPermit(t *testing.T) {
	p, err := permitOf(map[string]string{"for": "size mass", "lead_days": "0", "wants": "height; rear_overhang ;", "valid_days": "7"})
	if lead, known := p.LeadDays.Value(); err != nil || !known || lead != 0 || p.Calendar != "CA-XX" || len(p.For) != 2 || len(p.Wants) != 2 || p.ValidDays != 7 || p.Fee.Known() {
		t.Errorf("%+v, %v", p, err)
	}
	if p, err := permitOf(map[string]string{"over_height": "4.5 m", "over_width": "14 ft"}); err != nil || *p.OverHeight != 4500*measure.Millimetre || *p.OverWidth != 14*measure.Foot {
		t.Errorf("%+v, %v", p, err)
	}
	if p, err := permitOf(map[string]string{"calendar": "an office"}); err != nil || !p.LeadDays.Open() || p.Calendar != "an office" {
		t.Errorf("%+v, %v", p, err)
	}
	for _, cells := range []map[string]string{{"for": ""}, {"for": "size, mass"}, {"for": "boats"}, {"lead_days": "soon"}, {"valid_days": "-1"}, {"name": ""}, {"over_width": "wide"}, {"over_height": "4.5"}} {
		if p, err := permitOf(cells); err == nil {
			t.Errorf("%v: read as %+v", cells, p)
		}
	}
}

var money2 = regexp.MustCompile(`^\d+\.\d\d CAD$`)

// Whatever bands are read, a fee comes out as an amount with two decimals, or
// says what is missing; without sizes it is never an amount.
func FuzzFeeBands(f *testing.F) {
	for _, text := range []string{
		"width <= 3.65 m: 55; width > 3.65 m: 95", "height > 13'6\": 10;", "width: 5", "combination_length > 23 m and <= 30 m: 0.5; trailer_length < 16 m: 1e1", ":", ";;",
	} {
		f.Add(text, int64(3_650_000_000))
	}
	f.Fuzz(func(t *testing.T, text string, size int64) {
		p, err := permitOf(map[string]string{"fee_bands": text})
		if err != nil {
			return
		}
		sizes := map[limit.Quantity]limit.Amount{}
		for _, q := range limit.Quantities() {
			sizes[q] = limit.Amount(size)
		}
		amount, unknown := p.Fee.Of(Case{Sizes: sizes})
		if (amount == "") == unknown.None() || amount != "" && !money2.MatchString(amount) {
			t.Fatalf("%q: %q, %q", text, amount, unknown)
		}
		if amount, unknown := p.Fee.Of(Case{}); amount != "" || unknown.None() {
			t.Fatalf("%q of sizes that are not known: %q, %q", text, amount, unknown)
		}
		if p.Fee.Known() != (strings.Trim(text, "; \t\r\n\v\f\u0085\u00a0") != "") {
			t.Fatalf("%q: known %v", text, p.Fee.Known())
		}
	})
}
