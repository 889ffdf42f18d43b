package permit

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/cockroachdb/apd/v3"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rows"
)

func wide(l measure.Length) map[limit.Quantity]limit.Amount {
	return map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(l)}
}

// A fee is exact to the cent: it is what fractions of whole numbers give,
// halves up.
func TestFeeIsExact(t *testing.T) {
	decimal := func(t *rapid.T, name string, most int64) string {
		places := rapid.IntRange(0, 4).Draw(t, name+" places")
		text := fmt.Sprintf("%0*d", places+1, rapid.Int64Range(0, most).Draw(t, name))
		if places == 0 {
			return text
		}
		return text[:len(text)-places] + "." + text[len(text)-places:]
	}
	rat := func(text string) *big.Rat {
		r, ok := new(big.Rat).SetString(text)
		if !ok {
			panic(text)
		}
		return r
	}
	rapid.Check(t, func(t *rapid.T) {
		flat, perKM, perTonneKM, band := decimal(t, "fee", 99_999), decimal(t, "per km", 9_999), decimal(t, "per tonne km", 9_999), decimal(t, "band", 99_999)
		metres := rapid.Int64Range(0, 9_000_000).Draw(t, "metres")
		over := measure.Mass(rapid.Int64Range(0, 10_000_000_000_000).Draw(t, "tens of micrograms"))
		amount := func(text string) *apd.Decimal {
			d, err := money.Parse(text)
			if err != nil {
				t.Fatal(err)
			}
			return d
		}
		fee := Fee{
			Currency: "CAD", Flat: amount(flat), PerKM: amount(perKM), PerTonneKM: amount(perTonneKM),
			Bands: []Band{{Quantity: limit.Width, Amount: amount(band)}},
		}
		got, unknown := fee.Of(Case{Way: measure.Distance(metres), OverMass: &over, Sizes: wide(4 * measure.Metre)})
		km, tonne := big.NewRat(metres, 1000), big.NewRat(int64(over), int64(measure.Tonne))
		sum := new(big.Rat).Add(rat(flat), rat(band))
		sum.Add(sum, new(big.Rat).Mul(rat(perKM), km))
		sum.Add(sum, new(big.Rat).Mul(rat(perTonneKM), new(big.Rat).Mul(km, tonne)))
		if want := sum.FloatString(2) + " CAD"; got != want || !unknown.None() { // FloatString rounds halves away from zero
			t.Fatalf("%s + %s/km + %s/t/km + %s for %d m and %v: %s (%s), want %s", flat, perKM, perTonneKM, band, metres, over, got, unknown, want)
		}
	})
}

// Published fees, as their rows have them: Vermont's is 48 USD for a single trip
// (23 V.S.A. 1402(a), 2024; SEEN in facts/check-values.md, 35). That of the
// Northwest Territories is worked out by hand from its row: 20 dollars, and for
// 500 km with 2 t too many 0.085 a kilometre and 0.10 a tonne and kilometre.
func TestShippedFees(t *testing.T) {
	raw, err := data.Files.ReadFile("tables/permits.csv")
	if err != nil {
		t.Fatal(err)
	}
	all, records, err := Permits().ReadCSV(raw)
	if err != nil || len(all) == 0 || len(records) != len(all) {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	over := 2 * measure.Tonne
	c := Case{Way: 500_000, OverMass: &over}
	want := map[string]string{"us-vt-permit-01": "48.00 USD", "ca-nt-permit-01": "162.50 CAD", "us-mt-permit-01": "10.00 USD"}
	for _, p := range all {
		got, unknown := p.Fee.Of(c)
		if (got == "") == unknown.None() || p.Fee.Known() != (got != "") {
			t.Errorf("%s: %q, %q", p.ID, got, unknown)
		}
		if w, ok := want[p.ID]; ok && got != w {
			t.Errorf("%s: %q, want %q", p.ID, got, w)
		}
		delete(want, p.ID)
		if len(p.For) == 0 || p.Name == "" || p.Source == "" || p.Calendar == "" {
			t.Errorf("%+v", p)
		}
	}
	if len(want) > 0 {
		t.Errorf("not in the table: %v", want)
	}
}

// Errors name the cell and how to mend it.
func TestErrorsNameTheCell(t *testing.T) {
	for _, tc := range []struct {
		column, value, says, fix string
	}{
		{"fee", "48 dollars", "error.no_amount", "fix.write_it_like_48"},
		{"fee", "48,50", "error.no_amount", "fix.write_it_like_48"},
		{"fee", "$48", "error.no_amount", "fix.write_it_like_48"},
		{"fee_per_km", "8 ct", "error.no_amount", "fix.write_it_like_48"},
		{"fee_per_tonne_km", "free", "error.no_amount", "fix.write_it_like_48"},
		{"fee_bands", "width <= 3.65 m", "parse_error.no_band_amount(text: width <= 3.65 m)", "width <= 3.65 m: 55"},
		{"fee_bands", "width <= 3.65 m: a lot", "parse_error.no_amount(text: a lot)", "width <= 3.65 m: 55"},
		{"fee_bands", "mass > 10 t: 55", "parse_error.no_band_quantity(text: mass)", "width <= 3.65 m: 55"},
		{"fee_bands", "width 3.65 m: 55", "parse_error.no_bound", "width <= 3.65 m: 55"},
		{"fee_bands", "width <= 3.65: 55", "error.no_bands", "width <= 3.65 m: 55"},
		{"fee_bands", "width > 4 m and <= 3 m: 55", "parse_error.backward", "width <= 3.65 m: 55"},
		{"fee_bands", "width <= 3.65 m: 55, width > 3.65 m: 95", "parse_error.no_amount", "width <= 3.65 m: 55"},
		{"for", "width", "error.nothing_for_permit", "fix.use_size_mass_building"},
		{"for", "size, mass", "error.nothing_for_permit", "fix.use_size_mass_building"},
		{"lead_days", "a week", "error.no_count", "fix.it_must_be_a_whole"},
		{"lead_days", "2.5", "error.no_count", "fix.it_must_be_a_whole"},
		{"valid_days", "all year", "error.no_number", "fix.it_must_be_a_whole_number"},
		{"over_width", "3.65", "unit", "m"},
		{"status", "sure", "error.not_known_here", "fix.one_of(words: [published"},
		{"read_on", "2026", "error.no_day", "fix.it_must_be_a_day"},
		{"name", "", "error.empty", "fix.fill_it_in"},
	} {
		_, err := permitOf(map[string]string{"fee": "48", tc.column: tc.value})
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != tc.column || cell.Value != tc.value || !strings.Contains(cell.Problem.String(), tc.says) || !strings.Contains(cell.Fix.String(), tc.fix) {
			t.Errorf("%s %q: %v", tc.column, tc.value, err)
		}
	}
}

func FuzzPermits(f *testing.F) {
	raw, err := data.Files.ReadFile("tables/permits.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	f.Fuzz(func(t *testing.T, raw []byte) {
		all, _, err := Permits().ReadCSV(raw)
		if err != nil {
			if all != nil || !strings.HasPrefix(err.Error(), "permits: ") {
				t.Fatalf("%d rows beside %v", len(all), err)
			}
			return
		}
		over := 100 * measure.Kilogram
		for _, p := range all {
			got, unknown := p.Fee.Of(Case{Way: 12_345, OverMass: &over, Sizes: wide(4 * measure.Metre)})
			if (got == "") == unknown.None() || strings.HasPrefix(got, "NaN") {
				t.Fatalf("row %q: %q and %q", p.ID, got, unknown)
			}
		}
	})
}
