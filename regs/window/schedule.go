// Package window tells when something holds: hours of travel, of a sign, of an
// office. It reads values of the opening_hours grammar and the conditions of
// tags (OpenStreetMap wiki, opening_hours/specification and Conditional
// restrictions, 2025), so that rules and tags share one parser.
//
// What it cannot know without help (public and school holidays, the sun) it
// answers as unknown, unless the answer is the same either way.
package window

import "time"

// State is what a schedule says of a moment.
type State uint8

// The states. Closed is what no rule speaks of.
const (
	Closed State = iota
	Open
	Unknown
)

func (s State) String() string {
	switch s {
	case Closed:
		return "closed"
	case Open:
		return "open"
	default:
		return "unknown"
	}
}

// Env is what an evaluation needs beside the clock; a nil func means that it
// is not known.
type Env struct {
	// Sun returns sunrise and sunset of the calendar day, in its location.
	Sun func(day time.Time) (rise, set time.Time, ok bool)
	// Twilight returns dawn and dusk in the same way, the ends of civil twilight.
	Twilight func(day time.Time) (dawn, dusk time.Time, ok bool)
	// Holiday tells of a calendar day whether it is a public or a school holiday.
	Holiday func(day time.Time) (public, school bool, known bool)
}

// Schedule is a parsed value, read-only.
type Schedule struct {
	text  string
	rules []rule
}

func (s *Schedule) String() string { return s.text }

// join is how a rule follows the one before.
type join uint8

const (
	instead   join = iota // ";": it replaces what the rules before say of its days
	besides               // ",": it adds to them
	otherwise             // "||": it speaks where they leave closed
)

// rule is one rule of a schedule.
type rule struct {
	join  join
	days  []selector // all must hold; none: every day
	spans []span     // any must hold; none: the whole day
	state State
	note  string // a comment in its own words
}

// truth is yes, no or not known.
type truth uint8

const (
	no truth = iota
	yes
	perhaps
)

func truthOf(b bool) truth {
	if b {
		return yes
	}
	return no
}

func and(a, b truth) truth {
	switch {
	case a == no || b == no:
		return no
	case a == yes && b == yes:
		return yes
	default:
		return perhaps
	}
}

func or(a, b truth) truth {
	switch {
	case a == yes || b == yes:
		return yes
	case a == no && b == no:
		return no
	default:
		return perhaps
	}
}

// states is the set of states that are possible, a bit each.
type states uint8

func only(s State) states { return 1 << s }

func (s states) one() State {
	switch s {
	case only(Closed):
		return Closed
	case only(Open):
		return Open
	default:
		return Unknown
	}
}

// At tells the state at a moment, on the clock of t's location. Where the
// answer hangs on something that env does not know it is Unknown.
func (s *Schedule) At(t time.Time, env Env) State {
	set := only(Closed)
	for _, r := range s.rules {
		set = r.apply(set, t, env)
	}
	return set.one()
}

// apply changes the possible states by one rule. Whether it speaks of the day
// may not be known: then both are possible.
func (r rule) apply(before states, t time.Time, env Env) states {
	today := day(t)
	spilt := no
	for back := 1; back <= spill && len(r.spans) > 0; back++ { // whole days end with themselves
		start := today.AddDate(0, 0, -back)
		spilt = or(spilt, and(r.speaks(start, env), r.holds(t, start, env)))
	}
	within := r.holds(t, today, env)
	switch r.speaks(today, env) {
	case yes:
		return r.answer(before, or(within, spilt), true)
	case no:
		return r.answer(before, spilt, false)
	default:
		return r.answer(before, or(within, spilt), true) | r.answer(before, spilt, false)
	}
}

// answer is what is possible after a rule that holds now or not, and that
// speaks of the day or not.
func (r rule) answer(before states, now truth, speaks bool) states {
	var after states
	if now != no {
		after |= only(r.state)
	}
	if now != yes {
		after |= r.silent(before, speaks)
	}
	if r.join != otherwise {
		return after
	}
	out := before &^ only(Closed) // what is said already stays
	if before&only(Closed) != 0 {
		out |= after
	}
	return out
}

// silent is what a rule leaves at a moment outside its hours: of a day that it
// speaks of, a rule that replaces leaves nothing, unless it only takes hours
// away.
func (r rule) silent(before states, speaks bool) states {
	if speaks && r.join == instead && (r.state != Closed || len(r.spans) == 0) {
		return only(Closed)
	}
	return before
}

// spill is how many days before a moment a span may have begun: ends go up to
// 48:00.
const spill = 2

func day(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}

func (r rule) speaks(day time.Time, env Env) truth {
	out := yes
	for _, s := range r.days {
		out = and(out, s.test(day, env))
	}
	return out
}

// holds reports whether a moment lies in the hours that begin on a day.
func (r rule) holds(t, start time.Time, env Env) truth {
	if len(r.spans) == 0 {
		return truthOf(day(t).Equal(start))
	}
	out := no
	for _, s := range r.spans {
		out = or(out, s.holds(minuteOf(t, start), start, env))
	}
	return out
}

// minutesPerDay is of the clock, not of the sun: days on which clocks change
// have it too.
const minutesPerDay = 24 * 60

// minuteOf counts the minutes on the clock from the midnight that starts day.
func minuteOf(t, start time.Time) float64 {
	days := 0
	for d := start; d.Before(day(t)); d = d.AddDate(0, 0, 1) {
		days++
	}
	return float64(days*minutesPerDay+t.Hour()*60+t.Minute()) + float64(t.Second())/60
}
