package quote

import (
	"math"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Distances are how far something goes, in every unit that is priced.
func Distances(low, likely, high measure.Distance) []Quantity {
	km := Range{metres(low), metres(likely), metres(high)}
	return []Quantity{{Unit: rates.KM, Range: km}, {Unit: rates.Mile, Range: km.over(apd.New(1609344, -6))}}
}

// Way is one distance, in every unit that is priced.
func Way(d measure.Distance) []Quantity { return Distances(d, d, d) }

// metres are kilometres to the metre.
func metres(d measure.Distance) *apd.Decimal { return apd.New(int64(math.Round(float64(d))), -3) }

// Hours are how long something takes, to the second.
func Hours(low, likely, high time.Duration) Quantity {
	seconds := func(d time.Duration) *apd.Decimal { return apd.New(int64(d.Round(time.Second)/time.Second), 0) }
	all := Range{seconds(low), seconds(likely), seconds(high)}
	return Quantity{Unit: rates.Hour, Range: all.over(apd.New(3600, 0))}
}

// Volumes are how much fuel is burnt, to the millilitre, in every unit that is priced.
func Volumes(low, likely, high measure.Volume) []Quantity {
	litres := func(v measure.Volume) *apd.Decimal { return apd.New(int64(math.Round(float64(v)*1e6)), -3) }
	all := Range{litres(low), litres(likely), litres(high)}
	return []Quantity{{Unit: rates.Litre, Range: all}, {Unit: rates.USGal, Range: all.over(apd.New(3785411784, -9))}}
}

// Size is a length of the rig, in every unit that is priced.
func Size(l measure.Length) []Quantity {
	all := Exactly(apd.New(int64(l/measure.Millimetre), -3))
	return []Quantity{{Unit: rates.Metre, Range: all}, {Unit: rates.Foot, Range: all.over(apd.New(3048, -4))}}
}

// Whole is a whole number of something.
func Whole(u rates.Unit, n int) Quantity { return Quantity{Unit: u, Range: Count(n)} }

// AtLeast leaves the high end of quantities open.
func AtLeast(all []Quantity, why say.Remark) []Quantity {
	for i := range all {
		all[i].High, all[i].Open = nil, why
	}
	return all
}

// over is a range divided, to 60 digits and more: rounding it as it is shown is then exact.
func (r Range) over(by *apd.Decimal) Range {
	of := func(d *apd.Decimal) *apd.Decimal {
		out := new(apd.Decimal)
		_, _ = money.Exact.Quo(out, d, by) // by a constant above 0
		return out
	}
	return Range{of(r.Low), of(r.Likely), of(r.High)}
}
