package trip

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/trip/timetable"
)

// Fuelling is what the fuel stops of a timetable rest on.
type Fuelling string

// What they rest on.
const (
	ByPace   Fuelling = "pace"    // the spacing that the crew gave
	ByTank   Fuelling = "tank"    // how far a tank goes at the worst
	NotKnown Fuelling = "unknown" // nothing: there are none, since the tank is not known
	Untimed  Fuelling = "no_time" // nothing: there are none, since no time is given for one
)

// fuelling is what the pace asks for.
func (s *scheduling) fuelling() Fuelling { return fuellingOf(s.request.Pace.Habits) }

func fuellingOf(h timetable.Habits) Fuelling {
	switch {
	case h.Fuel <= 0:
		return Untimed
	case h.FuelEvery > 0:
		return ByPace
	default:
		return ByTank
	}
}

// Fuelling is what the fuel stops of a timetable rest on. Where only a part of the way is
// known to take so much of the tank, what is planned for that part is not enough to tell.
func (t *Timetable) Fuelling() Fuelling {
	by := fuellingOf(t.Journey.Habits)
	if by == ByTank && !t.Journey.Burns() {
		return NotKnown
	}
	return by
}

// FuelStops counts those of a timetable.
func (t *Timetable) FuelStops() (n int) {
	for _, e := range t.Entries {
		if e.Kind == timetable.Fuel {
			n++
		}
	}
	return n
}

// drivenOf is the length of drives, without what is sailed.
func drivenOf(drives [][]stretch) (sum measure.Distance) {
	for _, drive := range drives {
		for _, one := range drive {
			if !one.ferry {
				sum += lengthOf(one.pieces)
			}
		}
	}
	return sum
}
