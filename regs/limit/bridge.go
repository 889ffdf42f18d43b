package limit

import (
	"regexp"
	"strconv"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Bridge is a formula for what a group of axles may weigh on a bridge:
//
//	W = Step (L N/(N-1) + PerAxle N + Constant), L in feet,
//
// to the nearest Step, where L is the distance between the outer axles and N
// their number. Just half-way between two steps the lower counts, as the
// printed table of the United States has it (second-hand; 23 CFR 658.17(e)
// says only "to the nearest 500 pounds").
//
// L is taken as it is and to the nearest foot, as statutes have it that print a
// table (Wisconsin 348.15(5m), of half a foot the larger; South Dakota
// 32-22-16.1; Florida 316.535); the lower of both binds.
//
// Axles that make a tandem by their distance may weigh TandemEach, as the
// printed table has it up to 8 ft: the formula would give them less from 41 to 45
// in, and more from 5 ft on. Two tandems, the first and the last axle of which
// are TandemsApart or more from each other, may weigh TandemEach each whatever
// the formula says.
type Bridge struct {
	Step         measure.Mass
	PerAxle      int64
	Constant     int64
	Tandem       Range // how far apart the axles of a tandem are
	TandemsApart measure.Length
	TandemEach   measure.Mass
}

var bridgeForm = regexp.MustCompile(`^(.+?) \(L N/\(N-1\) \+ (\d{1,4}) N \+ (\d{1,4})\), L in ft` +
	`(?:; two tandems of (.+?), (.+?) or more apart, (.+?) each)?$`)

// bridgeExample is a formula as it is written.
const bridgeExample = "500 lb (L N/(N-1) + 12 N + 36), L in ft; two tandems of > 40 in and <= 96 in, " +
	"36 ft or more apart, 34000 lb each"

// parseBridge reads a formula as the error of one that is none shows it.
func parseBridge(text string) (Bridge, error) {
	var b Bridge
	m := bridgeForm.FindStringSubmatch(text)
	if m == nil {
		return b, say.Err(say.That("parse_error.no_bridge_formula", "like", bridgeExample))
	}
	var err error
	if b.Step, err = measure.ParseMass(m[1]); err != nil {
		return b, err
	}
	b.PerAxle, _ = strconv.ParseInt(m[2], 10, 64) // four digits at the most, by the pattern
	b.Constant, _ = strconv.ParseInt(m[3], 10, 64)
	if m[4] == "" {
		return b, nil
	}
	if b.Tandem, err = ParseRange(m[4]); err != nil {
		return b, err
	}
	if b.TandemsApart, err = measure.ParseLength(m[5]); err != nil {
		return b, err
	}
	b.TandemEach, err = measure.ParseMass(m[6])
	return b, err
}

// Formula is what the formula alone gives for axles whose outer ones are so far
// apart: the lower of what it gives for that length and for the nearest foot. Of
// fewer than two axles it is 0: the formula says nothing.
func (b Bridge) Formula(apart measure.Length, axles int) measure.Mass {
	if axles < 2 {
		return 0
	}
	feet := (apart + measure.Foot/2) / measure.Foot
	return min(b.at(apart, axles), b.at(feet*measure.Foot, axles))
}

// at is what the formula gives for a length as it is.
func (b Bridge) at(apart measure.Length, axles int) measure.Mass {
	n := int64(axles)
	// In whole steps and a rest: L N / (N-1) feet is apart*n / (foot*(n-1)).
	above, below := int64(apart)*n, int64(measure.Foot)*(n-1)
	steps, rest := above/below+b.PerAxle*n+b.Constant, above%below
	if 2*rest > below {
		steps++
	}
	return measure.Mass(steps) * b.Step
}

// allows is what a run of axles may weigh. What the exception gives two tandems
// counts only if neither of them is beyond its own share.
func (b Bridge) allows(run []AxleLoad) Amount {
	apart := run[len(run)-1].At - run[0].At
	formula := b.Formula(apart, len(run))
	switch {
	case b.Tandem.Given && b.Tandem.Holds(apart):
		return Amount(b.TandemEach)
	case b.exempt(run):
		formula = max(formula, 2*b.TandemEach)
	}
	return Amount(formula)
}

// exempt reports whether a run is two tandems far enough apart.
func (b Bridge) exempt(run []AxleLoad) bool {
	if b.TandemsApart == 0 || len(run) != 4 || run[3].At-run[0].At < b.TandemsApart {
		return false
	}
	for _, pair := range [][]AxleLoad{run[:2], run[2:]} {
		mass, some := Together(pair).Least()
		if !some || mass > b.TandemEach || !b.Tandem.Holds(pair[1].At-pair[0].At) {
			return false
		}
	}
	return true
}
