package window

import "time"

// Stretch is a stretch of time; its end is not in it.
type Stretch struct {
	From, To time.Time
	// IfListed tells that it is one only if the list of holidays is right, which was not
	// verified.
	IfListed bool
}

// Stretches lists when a rule lets a vehicle travel between two moments, in order. Where
// it is not known whether the rule binds, it does; where it is not known whether it is
// open, it is not, but for holidays: days that a list does not name are taken to be none,
// and what hangs on that is marked. Ends are whole minutes within the hours.
func (h *Hours) Stretches(from, to time.Time, env Env) []Stretch {
	listed := env
	listed.Holiday = asListed(env.Holiday)
	var out []Stretch
	c := Condition{hours: append(h.Times.hours[:len(h.Times.hours):len(h.Times.hours)], h.schedules()...)}
	for t := from; t.Before(to); {
		next := c.next(t, env)
		if end := h.endOfForce(t); end.After(t) && end.Before(next) {
			next = end
		}
		if next.After(to) {
			next = to
		}
		if h.lets(t, listed) {
			end := next
			if !h.lets(next.Add(-time.Second), listed) { // the sun sets within a minute
				end = next.Add(-time.Minute)
			}
			out = Joined(out, Stretch{t, end, !h.lets(t, env)})
		}
		t = next
	}
	return out
}

func (h *Hours) schedules() []*Schedule {
	if h.Open == nil {
		return nil
	}
	return []*Schedule{h.Open}
}

// lets reports whether the rule surely lets a vehicle travel at a moment.
func (h *Hours) lets(t time.Time, env Env) bool {
	if h.Open == nil || !h.inForce(t) || h.When != "" && h.Times.At(t, env) == Closed {
		return true
	}
	return h.Open.At(t, env) == Open
}

// inForce reports whether the rule is in force on the day of a moment, on its clock.
func (h *Hours) inForce(t time.Time) bool {
	on := dateOf(t)
	return (h.From.IsZero() || !on.Before(dateOf(h.From))) && (h.To.IsZero() || !on.After(dateOf(h.To)))
}

// endOfForce is the midnight at which the day of a moment ends.
func (h *Hours) endOfForce(t time.Time) time.Time { return day(t).AddDate(0, 0, 1) }

// asListed takes a day of which a list says nothing for no holiday.
func asListed(tells func(time.Time) (public, school, known bool)) func(time.Time) (public, school, known bool) {
	return func(day time.Time) (public, school, known bool) {
		if tells != nil {
			public, school, _ = tells(day)
		}
		return public, school, true
	}
}

// Joined adds a stretch to those before it: to the last of them, where it goes on from it.
func Joined(list []Stretch, s Stretch) []Stretch {
	if !s.From.Before(s.To) {
		return list
	}
	if n := len(list); n > 0 && !list[n-1].To.Before(s.From) && list[n-1].IfListed == s.IfListed {
		list[n-1].To = s.To
		return list
	}
	return append(list, s)
}

// Both lists when two lists of stretches hold at once.
func Both(a, b []Stretch) []Stretch {
	var out []Stretch
	for i, k := 0, 0; i < len(a) && k < len(b); {
		both := Stretch{a[i].From, a[i].To, a[i].IfListed || b[k].IfListed}
		if b[k].From.After(both.From) {
			both.From = b[k].From
		}
		if b[k].To.Before(both.To) {
			both.To = b[k].To
			k++
		} else {
			i++
		}
		out = Joined(out, both)
	}
	return out
}
