package window

import "time"

// clock is a time of day: minutes after midnight, or after sunrise or sunset.
type clock struct {
	minutes float64
	event   event
}

type event uint8

const (
	midnight event = iota
	sunrise
	sunset
	dawn
	dusk
)

// span is a stretch of hours that begins on a day. An open end may go on for
// longer than it says.
type span struct {
	from, to clock
	openEnd  bool
}

// onDay returns the minutes of a clock from the midnight that starts a day; ok
// is false where the sun is not known.
func (c clock) onDay(start time.Time, env Env) (minutes float64, ok bool) {
	if c.event == midnight {
		return c.minutes, true
	}
	source := env.Sun
	if c.event == dawn || c.event == dusk {
		source = env.Twilight
	}
	if source == nil {
		return 0, false
	}
	rise, set, ok := source(start)
	if !ok {
		return 0, false
	}
	at := rise
	if c.event == sunset || c.event == dusk {
		at = set
	}
	return minuteOf(at.In(start.Location()), start) + c.minutes, true
}

// bounds returns the earliest and the latest minute that a clock can mean on a
// day. Without the sun they are wide: on clocks that people keep, away from the
// polar circles, it rises before 14:00 and sets between 10:00 and 2:00.
func (c clock) bounds(start time.Time, env Env) (early, late float64) {
	if m, ok := c.onDay(start, env); ok {
		return m, m
	}
	switch c.event {
	case sunrise:
		return c.minutes, 14*60 + c.minutes
	case sunset:
		return 10*60 + c.minutes, 26*60 + c.minutes
	default:
		return c.minutes, minutesPerDay + c.minutes
	}
}

// nominal is where a clock stands among others on a usual day.
func (c clock) nominal() float64 {
	return c.minutes + map[event]float64{dawn: 5 * 60, sunrise: 6 * 60, sunset: 18 * 60, dusk: 19 * 60}[c.event]
}

func (s span) overMidnight() bool { return s.to.nominal() <= s.from.nominal() && !s.openEnd }

// holds reports whether a minute, counted from the midnight that starts the day,
// lies within the span that begins on it.
func (s span) holds(minute float64, start time.Time, env Env) truth {
	from0, from1 := s.from.bounds(start, env)
	to0, to1 := s.to.bounds(start, env)
	if s.overMidnight() {
		to0, to1 = to0+minutesPerDay, to1+minutesPerDay
	}
	inside := and(reached(minute, from0, from1), not(reached(minute, to0, to1)))
	if s.openEnd && inside == no && minute >= from0 && minute < minutesPerDay {
		return perhaps
	}
	return inside
}

// reached reports whether a minute has reached a moment that lies between two.
func reached(minute, early, late float64) truth {
	switch {
	case minute >= late:
		return yes
	case minute < early:
		return no
	default:
		return perhaps
	}
}

func not(t truth) truth {
	switch t {
	case yes:
		return no
	case no:
		return yes
	default:
		return perhaps
	}
}
