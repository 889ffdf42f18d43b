package window

import (
	"slices"

	"wayhouse/regs/say"
)

// Says is what the schedule means, rule by rule, with the text that it was read from.
func (s *Schedule) Says() say.Remark {
	var rules []say.Remark
	for i, r := range s.rules {
		rules = append(rules, r.says(s.rules[:i]))
	}
	return say.That("schedule.of", "grammar", s.text, "rules", rules)
}

// Says is when the condition holds: its hours as [Schedule.Says] has them, anything else
// in its own words.
func (c Condition) Says() say.Remark {
	var parts []say.Remark
	for _, s := range c.hours {
		parts = append(parts, s.Says())
	}
	switch parts = append(parts, say.Each(c.Words)...); len(parts) {
	case 0:
		return say.Remark{}
	case 1:
		return parts[0]
	default:
		return say.That("schedule.all", "parts", parts)
	}
}

// says is what a rule means behind those before it.
func (r rule) says(before []rule) say.Remark {
	out := r.stated()
	if r.note != "" {
		out = say.That("schedule.noted", "says", out, "note", r.note)
	}
	switch {
	case len(before) == 0 || r.join != otherwise && r.state == Closed: // it only takes away
		return out
	case r.join == otherwise:
		return say.That("schedule.otherwise", "says", out)
	case r.join == besides:
		return say.That("schedule.besides", "says", out)
	case slices.ContainsFunc(before, r.mayReplace):
		return say.That("schedule.in_place", "says", out)
	default:
		return out
	}
}

// stated is what a rule says by itself.
func (r rule) stated() say.Remark {
	when := r.when()
	switch r.state {
	case Closed:
		return say.That("schedule.except", "when", when)
	case Unknown:
		return say.That("schedule.perhaps", "when", when)
	default:
		return when
	}
}

func (r rule) when() say.Remark {
	if len(r.days) == 0 && len(r.spans) == 0 {
		return say.That("hours.any_time")
	}
	var hours, days []say.Remark
	for _, s := range r.spans {
		hours = append(hours, s.says())
	}
	for _, d := range slices.Backward(r.days) { // weekdays stand next to the hours
		days = append(days, d.says())
	}
	return say.That("schedule.when", "hours", hours, "days", days)
}

// mayReplace reports whether a day of the rule may have hours of one before it. It
// surely has none of days of the week that are other ones, if those end by midnight.
func (r rule) mayReplace(before rule) bool {
	if before.state == Closed { // it takes away also where this one would replace it
		return r.meets(before)
	}
	return r.meets(before) || slices.ContainsFunc(before.spans, span.spills)
}

func (r rule) meets(other rule) bool {
	a, b := r.week(), other.week()
	for day, on := range a {
		if on && b[day] {
			return true
		}
	}
	return false
}

// week are the days of the week on which a rule may speak, all where anything but days
// of the week decides.
func (r rule) week() (on [7]bool) {
	for day := range on {
		on[day] = true
		for _, s := range r.days {
			on[day] = on[day] && mayBe(s, day)
		}
	}
	return on
}

// mayBe reports whether some days of a selector may fall on a day of the week.
func mayBe(s selector, day int) bool {
	switch s := s.(type) {
	case weekdayRange:
		return inCycle(day, int(s.first), int(s.last))
	case anyOf:
		return slices.ContainsFunc(s, func(one selector) bool { return mayBe(one, day) })
	case nthWeekday:
		return int(s.day) == day
	default:
		return true
	}
}

// spills reports whether hours go on after the midnight that ends their day.
func (s span) spills() bool {
	return s.openEnd || s.overMidnight() || s.to.event == midnight && s.to.minutes > minutesPerDay
}
