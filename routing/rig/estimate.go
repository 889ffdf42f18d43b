package rig

import (
	"math/big"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Estimate is a mass and the ends between which it lies. Of what was weighed
// all three are the same.
type Estimate struct{ Low, Likely, High measure.Mass }

// Exactly is a mass without doubt.
func Exactly(m measure.Mass) Estimate { return Estimate{m, m, m} }

// Add returns the sum: both ends are met where all parts are at theirs.
func (e Estimate) Add(o Estimate) Estimate {
	return Estimate{e.Low + o.Low, e.Likely + o.Likely, e.High + o.High}
}

// Over returns an equal share of it, rounded down.
func (e Estimate) Over(n int) Estimate {
	by := measure.Mass(n)
	return Estimate{e.Low / by, e.Likely / by, e.High / by}
}

// Exact reports whether the ends are one.
func (e Estimate) Exact() bool { return e.Low == e.High }

// Says is the mass, with the ends where they differ.
func (e Estimate) Says() say.Remark {
	if e.Exact() {
		return say.That("rig.mass", "mass", e.Likely)
	}
	return say.That("rig.mass_between", "low", e.Low, "likely", e.Likely, "high", e.High)
}

// total adds up what parts weigh.
func total(parts []Part) Estimate {
	var out Estimate
	for _, p := range parts {
		out = out.Add(p.Mass)
	}
	return out
}

// moment is a sum of masses times lengths, exact: in tens of micrograms times
// nanometres it is beyond an int64.
type moment struct{ big.Int }

func (m *moment) add(mass measure.Mass, arm measure.Length) {
	var product big.Int
	product.Mul(big.NewInt(int64(mass)), big.NewInt(int64(arm)))
	m.Int.Add(&m.Int, &product)
}

// over divides a moment by length/n, to the nearest unit of mass, halves away
// from 0. The length must not be 0.
func (m *moment) over(length measure.Length, n int) measure.Mass {
	num := new(big.Int).Mul(&m.Int, big.NewInt(int64(n)))
	den := big.NewInt(int64(length))
	if den.Sign() < 0 {
		num.Neg(num)
		den.Neg(den)
	}
	// (2 |num| + den) / (2 den), with the sign of num
	twice := new(big.Int).Abs(num)
	twice.Lsh(twice, 1).Add(twice, den)
	twice.Quo(twice, den.Lsh(den, 1))
	if num.Sign() < 0 {
		twice.Neg(twice)
	}
	return measure.Mass(twice.Int64())
}

// ends picks for each part the end of its mass that makes its share of a sum
// least, likely and greatest; arm is what its mass is multiplied with.
func ends(parts []Part, arm func(Part) measure.Length) (low, likely, high moment) {
	for _, p := range parts {
		a := arm(p)
		less, more := p.Mass.Low, p.Mass.High
		if a < 0 {
			less, more = more, less
		}
		low.add(less, a)
		likely.add(p.Mass.Likely, a)
		high.add(more, a)
	}
	return low, likely, high
}

// share splits a mass among n, the rest of the division to the first ones: the
// parts add up to the whole.
func share(m measure.Mass, n int) []measure.Mass {
	out := make([]measure.Mass, n)
	each, rest := m/measure.Mass(n), m%measure.Mass(n)
	for i := range out {
		out[i] = each
		switch {
		case rest > 0:
			out[i]++
			rest--
		case rest < 0:
			out[i]--
			rest++
		}
	}
	return out
}
