package parts

import (
	"errors"
	"math"
	"strconv"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// MaxAmount is the largest amount that is worked with, far beyond any house: an
// estimate of this project, no source.
const MaxAmount = 1e6

// ErrNoPart says that a row has no masses, such as one that was not found.
var ErrNoPart = errors.New("parts: a row without masses is no part")

// Mass returns what an amount of the part weighs, in the unit of Per. Each end
// is rounded to the nearest unit of mass; up to 45 000 t it is off by one unit
// at most, 10 micrograms. An amount of 0 weighs nothing.
//
// The error is [ErrNoPart] or a [*measure.FieldError]: the amount is negative, no number or
// above [MaxAmount], or so much of the part is beyond [measure.MaxMass].
//
// It does not know openings, waste or laps: the amount is what is built in.
func (r Entry) Mass(amount float64) (low, typical, high measure.Mass, err error) {
	switch {
	case r.Low <= 0: // unknown must not read as weightless
		return 0, 0, 0, ErrNoPart
	case !(amount >= 0): // also what is no number
		return 0, 0, 0, refuse(amount, say.That("error.negative_or_no_number"), say.That("fix.amount", "per", string(r.Per)))
	case amount > MaxAmount:
		return 0, 0, 0, refuse(
			amount,
			say.That("error.absurdly_large"),
			say.That("fix.check_amount", "id", r.ID, "per", string(r.Per)),
		)
	case float64(r.High)*amount > float64(measure.MaxMass):
		return 0, 0, 0, refuse(
			amount,
			say.That("error.absurdly_heavy"),
			say.That("fix.check_amount", "id", r.ID, "per", string(r.Per)),
		)
	}
	return times(r.Low, amount), times(r.Typical, amount), times(r.High, amount), nil
}

func times(m measure.Mass, amount float64) measure.Mass {
	return measure.Mass(math.Round(float64(m) * amount))
}

func refuse(amount float64, problem, fix say.Remark) error {
	return &measure.FieldError{
		Field: "amount", Value: strconv.FormatFloat(amount, 'g', -1, 64), Problem: problem, Fix: fix,
	}
}
