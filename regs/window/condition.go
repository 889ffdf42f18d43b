package window

import (
	"math"
	"regexp"
	"strings"
	"time"

	"wayhouse/regs/say"
)

// Conditional is one part of a conditional tag: a value, and when it holds.
type Conditional struct{ Value, When string }

// ParseConditional reads the value of a conditional tag, such as
// "no @ (Mo-Fr 07:00-09:00); destination @ (22:00-06:00)". The error is a
// [*ParseError].
func ParseConditional(text string) ([]Conditional, error) {
	var out []Conditional
	offset := 0
	for _, part := range splitOutside(text, ';') {
		value, when, ok := strings.Cut(part, "@")
		c := Conditional{strings.TrimSpace(value), unwrap(strings.TrimSpace(when))}
		if !ok || c.Value == "" || c.When == "" {
			return nil, &ParseError{Text: text, Offset: offset, Problem: say.That("hours_error.no_condition")}
		}
		out = append(out, c)
		offset += len(part) + 1
	}
	return out, nil
}

// unwrap takes off brackets that hold the whole text.
func unwrap(s string) string {
	if strings.HasPrefix(s, "(") && strings.HasSuffix(s, ")") && len(splitOutside(s, 0)) == 1 {
		depth := 0
		for i, r := range s {
			switch r {
			case '(':
				depth++
			case ')':
				depth--
			}
			if depth == 0 && i < len(s)-1 {
				return s
			}
		}
		return strings.TrimSpace(s[1 : len(s)-1])
	}
	return s
}

// splitOutside splits at a separator that stands in no brackets and no quotes.
func splitOutside(s string, sep rune) []string {
	var out []string
	depth, quoted, start := 0, false, 0
	for i, r := range s {
		switch {
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '(':
			depth++
		case r == ')':
			depth--
		case r == sep && depth <= 0:
			out = append(out, s[start:i])
			start = i + 1
		}
	}
	return append(out, s[start:])
}

// Condition is when something holds: hours, or words that no clock decides.
type Condition struct {
	hours []*Schedule
	Words []string // such as "wet", "delivery", "weight>5.5"
}

var conjunction = regexp.MustCompile(`(?i)\s+and\s+`)

// ParseCondition reads a condition. What is no schedule is kept as words: it
// never fails.
func ParseCondition(when string) Condition {
	var c Condition
	for _, part := range conjunction.Split(when, -1) {
		part = unwrap(strings.TrimSpace(part))
		if s, err := Parse(part); err == nil {
			c.hours = append(c.hours, s)
		} else {
			c.Words = append(c.Words, part)
		}
	}
	return c
}

// At reports whether the condition holds at a moment: Open where it does, Closed
// where it does not, Unknown where words have to be known too.
func (c Condition) At(t time.Time, env Env) State {
	out := yes
	for _, s := range c.hours {
		switch s.At(t, env) {
		case Closed:
			out = and(out, no)
		case Unknown:
			out = and(out, perhaps)
		}
	}
	if len(c.Words) > 0 {
		out = and(out, perhaps)
	}
	return map[truth]State{yes: Open, no: Closed, perhaps: Unknown}[out]
}

// During reports whether the condition holds at some moment from one time to
// another: Open where it surely does, Closed where it surely does not.
func (c Condition) During(from, to time.Time, env Env) State {
	out := Closed
	for t := from; ; t = c.next(t, env) {
		if t.After(to) {
			t = to
		}
		switch c.At(t, env) {
		case Open:
			return Open
		case Unknown:
			out = Unknown
		}
		if !t.Before(to) {
			return out
		}
	}
}

// Pause returns the first moment from t on after which, for so long, the condition
// does not surely hold; ok is false where it has to wait beyond a limit.
func (c Condition) Pause(t, limit time.Time, long time.Duration, env Env) (at time.Time, ok bool) {
	for c.During(t, t.Add(long), env) == Open {
		if t = c.next(t, env); t.After(limit) {
			return t, false
		}
	}
	return t, true
}

// next returns the next moment at which the condition may turn: a minute that
// its hours name, the one after the sun's, or midnight. Where the sun is not
// known, it is where it may rise or set at the earliest or the latest.
func (c Condition) next(t time.Time, env Env) time.Time {
	start := day(t)
	now := t.Hour()*60 + t.Minute()
	soonest := minutesPerDay
	for _, end := range c.ends() {
		for back := 0; back <= spill; back++ {
			early, late := end.bounds(start.AddDate(0, 0, -back), env)
			for _, m := range []float64{early, late} {
				if at := (int(math.Ceil(m))%minutesPerDay + minutesPerDay) % minutesPerDay; at > now {
					soonest = min(soonest, at)
				}
			}
			if end.event == midnight {
				break // it is the same on each day
			}
		}
	}
	y, m, d := start.Date()
	next := time.Date(y, m, d, 0, soonest, 0, 0, t.Location())
	if !next.After(t) || offset(next) != offset(t) { // clocks change: an hour comes twice, or not at all
		return t.Add(time.Minute)
	}
	return next
}

func offset(t time.Time) int {
	_, seconds := t.Zone()
	return seconds
}

// ends lists where hours begin and end.
func (c Condition) ends() []clock {
	var out []clock
	for _, s := range c.hours {
		for _, r := range s.rules {
			for _, sp := range r.spans {
				out = append(out, sp.from, sp.to)
			}
		}
	}
	return out
}
