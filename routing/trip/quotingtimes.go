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
	nights, waits := map[time.Time]bool{}, time.Duration(0)
	for _, e := range t.Entries {
		switch over := midnights(e.From, e.To); {
		case !stands(e.Kind):
		case len(over) > 0:
			for _, at := range over {
				nights[at] = true
			}
		case e.Kind == timetable.Wait:
			waits += e.To.Sub(e.From)
		}
	}
	if n := len(nights); d.Nights == nil || *d.Nights == n {
		d.Nights, d.schedule = &n, true
	}
	if d.Standby == nil {
		d.Standby, d.waits = &waits, true
	}
	return d
}

// stands reports whether the rig is left standing for as long as an entry takes.
func stands(k timetable.Kind) bool {
	return k == timetable.Rest || k == timetable.Stay || k == timetable.Wait
}

// midnights lists those from one time until another, both included, on the clock of the first:
// a rig that stops at midnight stands there for the night as one that stops before does.
func midnights(from, to time.Time) (out []time.Time) {
	y, m, day := from.Date()
	for ; ; day++ {
		switch at := time.Date(y, m, day, 0, 0, 0, 0, from.Location()); {
		case at.After(to):
			return out
		case !at.Before(from):
			out = append(out, at.UTC())
		}
	}
}
