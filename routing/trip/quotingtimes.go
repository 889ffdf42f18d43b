package trip

import (
	"time"

	"wayhouse/routing/trip/timetable"
)

// scheduled fills in what a timetable tells of a deal: nights, and waiting by day. What was
// said stands; where the timetable does not reach the last stop nothing is known.
func (d Deal) scheduled(t *Timetable) Deal {
	if t == nil || t.Departure.IsZero() || t.Arrival.Slow.IsZero() {
		return d
	}
	nights, waits := 0, time.Duration(0)
	for _, e := range t.Entries {
		switch n := midnights(e.From, e.To); {
		case e.Kind != timetable.Rest && e.Kind != timetable.Stay && e.Kind != timetable.Wait:
		case n > 0:
			nights += n
		case e.Kind == timetable.Wait:
			waits += e.To.Sub(e.From)
		}
	}
	if d.Nights == nil {
		d.Nights = &nights
	}
	if d.Standby == nil {
		d.Standby, d.waits = &waits, true
	}
	return d
}

// midnights counts the midnights after one time and until another, on the clock of the first.
func midnights(from, to time.Time) (n int) {
	y, m, day := from.Date()
	for at := time.Date(y, m, day+1, 0, 0, 0, 0, from.Location()); !at.After(to); n++ {
		y, m, day = at.Date()
		at = time.Date(y, m, day+1, 0, 0, 0, 0, from.Location())
	}
	return n
}
