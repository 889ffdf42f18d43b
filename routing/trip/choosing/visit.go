package choosing

import "time"

// Visit is when a stop is to be reached and left; the zero value is whenever.
type Visit struct {
	From, By       Clock         // the window of arrival
	Stay           time.Duration // at least
	Until          Clock         // not left before
	SetUp, Packing time.Duration // after arrival and before leaving
	Nights         int
	Ground         Ground
}

// Clock is a moment, or, where it is local, what the clocks at a place show; the zero
// value is none.
type Clock struct {
	At    time.Time
	Local bool
}

// In is the moment on the clocks of a zone, the zero time for none. Of a time that the
// clocks show twice it is the first; ok is false for one that they skip.
func (c Clock) In(zone *time.Location) (at time.Time, ok bool) {
	if c.At.IsZero() || !c.Local {
		if !c.At.IsZero() {
			at = c.At.In(zone)
		}
		return at, true
	}
	y, m, d := c.At.Date()
	at = time.Date(y, m, d, c.At.Hour(), c.At.Minute(), c.At.Second(), 0, zone)
	if start, _ := at.ZoneBounds(); !start.IsZero() {
		_, before := start.Add(-1).Zone()
		_, after := at.Zone()
		if first := at.Add(-time.Duration(before-after) * time.Second); before > after && first.Before(start) {
			at = first // which of the two time.Date gives hangs on the zone
		}
	}
	return at, at.Hour() == c.At.Hour() && at.Minute() == c.At.Minute()
}

// Twice is the moment on the clocks of a zone where they show that time once more, since they
// go back; ok is false where they do not.
func (c Clock) Twice(zone *time.Location) (first time.Time, ok bool) {
	first, ok = c.In(zone)
	if c.At.IsZero() || !c.Local || !ok {
		return first, false
	}
	_, end := first.ZoneBounds()
	if end.IsZero() {
		return first, false
	}
	_, before := first.Zone()
	_, after := end.Zone()
	return first, !first.Add(time.Duration(before-after) * time.Second).Before(end)
}
