package permit

import (
	"testing"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// An amount has digits and a point; what an exponent makes of it is none, and
// no fee is "NaN CAD".
func TestFeeRefusesExponents(t *testing.T) {
	for _, text := range []string{"1e30", "1e99999", "1E+9", "5e-3"} {
		for _, column := range []string{"fee", "fee_per_km", "fee_bands"} {
			cell := text
			if column == "fee_bands" {
				cell = "width: " + text
			}
			p, err := permitOf(map[string]string{column: cell})
			if err != nil {
				continue
			}
			amount, _ := p.Fee.Of(Case{Way: 1000, Sizes: map[limit.Quantity]limit.Amount{limit.Width: 1}})
			t.Errorf("%s %q is read, the fee is %.20q", column, cell, amount)
		}
	}
}

// A size that lies in none of the bands has no known fee; it is not free.
func TestSizeOutsideAllBandsIsNotFree(t *testing.T) {
	fee := feeOf(t, map[string]string{"fee_bands": "width > 2.6 m and <= 3.65 m: 55; width > 3.65 m and <= 5 m: 95"})
	for _, width := range []measure.Length{2 * measure.Metre, 6 * measure.Metre} {
		amount, unknown := fee.Of(Case{Sizes: map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(width)}})
		if amount != "" || unknown.None() {
			t.Errorf("%s wide: %q, %q", width, amount, unknown)
		}
	}
}
