package regs

import (
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/window"
)

// env is what is known of a place beside its clock: its sun, and the holidays
// of a calendar.
func (t *Tables) env(calendar string, p orb.Point) window.Env {
	return window.Env{Sun: window.SunAt(p), Twilight: window.TwilightAt(p), Holiday: t.calendars[calendar].Tells(t.Term)}
}

// during tells whether a condition holds at some moment of the way. Between
// the suns of both ends the stricter counts: Closed only where it does not hold
// by either.
func (c *checking) during(when window.Condition, code string) window.State {
	if c.p.Until.IsZero() || len(c.p.Ends) == 0 {
		return window.Unknown
	}
	out := window.Closed
	for _, end := range c.p.Ends {
		switch when.During(c.at, later(c.at, c.p.Until), c.t.env(code, end)) {
		case window.Open:
			return window.Open
		case window.Unknown:
			out = window.Unknown
		}
	}
	return out
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
