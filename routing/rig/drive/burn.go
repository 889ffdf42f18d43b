package drive

import (
	"math"

	"wayhouse/regs/measure"
)

// Burn is an amount of fuel, with what each cause alone adds to the likely amount or
// takes off it.
type Burn struct {
	Likely measure.Volume
	dear   measure.Volume
	less   [causes]measure.Volume
	more   [causes]measure.Volume
}

// Add returns both amounts together: what errs in one errs the same way in the other.
func (b Burn) Add(o Burn) Burn {
	b.Likely += o.Likely
	b.dear += o.dear
	for c := range causes {
		b.less[c] += o.less[c]
		b.more[c] += o.more[c]
	}
	return b
}

// up and down are what a cause alone adds at most and takes off at most.
func (b Burn) up(c Cause) float64   { return float64(max(b.less[c], b.more[c], 0)) }
func (b Burn) down(c Cause) float64 { return float64(max(-b.less[c], -b.more[c], 0)) }

// Band is the likely amount and the ends that nine of ten ways lie between: what the
// causes add, each at its end alone, as the root of the sum of squares, since they are
// independent of each other.
func (b Burn) Band() Band[measure.Volume] {
	var up, down float64
	for c := range causes {
		up = math.Hypot(up, b.up(c))
		down = math.Hypot(down, b.down(c))
	}
	return Band[measure.Volume]{b.Likely, max(b.Likely-measure.Volume(down), 0), b.Likely + measure.Volume(up)}
}

// Most is what is burnt with everything at its dear end at once, for filling the tank.
func (b Burn) Most() measure.Volume { return max(b.dear, b.Band().High) }

// Share is the share of a cause in how far the ends lie apart, 0 to 1.
func (b Burn) Share(c Cause) float64 {
	var all float64
	for o := range causes {
		all += b.up(o)*b.up(o) + b.down(o)*b.down(o)
	}
	if all == 0 {
		return 0
	}
	return (b.up(c)*b.up(c) + b.down(c)*b.down(c)) / all
}
