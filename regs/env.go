package regs

import (
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/rows"
	"wayhouse/regs/window"
)

// env is what is known of a place beside its clock: its sun, and the holidays
// of a calendar.
func (t *Tables) env(calendar string, p orb.Point) window.Env {
	return window.Env{Sun: window.SunAt(p), Twilight: window.TwilightAt(p), Holiday: t.calendars[calendar].Tells(t.Term)}
}

// last is the last moment at which the vehicle may be at the place.
func (c *checking) last() time.Time {
	switch {
	case !c.p.Until.IsZero():
		return later(c.at, c.p.Until)
	case !c.p.Latest.IsZero():
		return later(c.at, c.p.Latest)
	default:
		return c.at.Add(OpenEnd)
	}
}

// holds reports whether something that holds from one day to another, zero where
// not stated, does so on some day on which the vehicle may be at the place, and
// on all.
func (c *checking) holds(from, to time.Time) (some, all bool) {
	return rows.Holds(from, to, c.at, c.last())
}

// firm reports whether a row can settle anything whenever the vehicle is there.
func (c *checking) firm(p rows.Proof) bool {
	return p.Firm(c.at, c.t.Term) && p.Firm(c.last(), c.t.Term)
}

// during reports whether a condition holds at some moment of the way. Between
// the suns of both ends the stricter counts: Closed only where it does not hold
// by either.
func (c *checking) during(when window.Condition, code string) window.State {
	if c.p.Until.IsZero() || len(c.p.Ends) == 0 {
		return window.Unknown
	}
	out := window.Closed
	for _, end := range c.p.Ends {
		switch when.During(c.at, c.last(), c.t.env(code, end)) {
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
