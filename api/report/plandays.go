package report

import (
	"slices"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// sureDays is how many days of a timetable are shown in any case.
const sureDays = 7

// days says when the trip drives and rests, a block for each day, under what its deadlines
// come to.
func (s *screen) days(p *trip.Plan) {
	part := s.part(say.That("screen.label.times"))
	part.keeps(s.deadlines(p.Timetable)...)
	for i, d := range p.Timetable.Days {
		tells := part.hints
		if i < sureDays {
			tells = part.keeps
		}
		tells(DayHead(s.in, p.Timetable, d))
		if details := DayDetails(s.in, p, d); len(details) > 0 {
			part.tells(say.That("day.details", "all", details))
		}
	}
}

// deadlines says what is missed, or until when the trip may leave and miss nothing.
func (s *screen) deadlines(t *trip.Timetable) (out []say.Remark) {
	if m := t.Missed; m != nil {
		out = append(out, s.missed(t, m))
	}
	if !t.Latest.IsZero() {
		out = append(out, say.That("day.latest", "at", s.in.WeekdayMoment(t.Latest),
			"later", above0(t.Latest.Sub(t.Departure))))
	}
	if t.IfHolidays {
		out = append(out, say.That("day.if_holidays"))
	}
	return out
}

func (s *screen) missed(t *trip.Timetable, m *timetable.Missed) say.Remark {
	var binds []say.Term
	for _, why := range m.Binds {
		binds = append(binds, why)
	}
	var does, tried []say.Remark
	for _, r := range m.Would {
		one := say.That("day.remedy", "does", r.Does, "kind", r.Kind, "late", above0(r.Late), "depart", s.ofDeparture(r))
		if r.Does {
			does = append(does, one)
		} else {
			tried = append(tried, one)
		}
	}
	return say.That("day.missed", "place", t.Journey.Stops[m.Stop].Label, "never", m.Never, "late", above0(m.Late),
		"binds", binds, "does", does, "tried", tried)
}

func (s *screen) ofDeparture(r timetable.Remedy) string {
	if r.Depart.IsZero() {
		return ""
	}
	return s.in.WeekdayMoment(r.Depart)
}

// DayHead says of a day when it is driven, how far and how long.
func DayHead(in *phrase.Language, t *trip.Timetable, d timetable.Day) say.Remark {
	from, to, ok := timetable.Driven(t.On(d))
	date := in.Weekday(d.Date)
	if !ok {
		return say.That("day.still", "date", date)
	}
	return say.That("day.drives", "date", date, "from", in.ZonedClock(from), "to", ending(in, to.Slow, from),
		"likely", clockAs(in, to.Likely, to.Slow), "way", d.Way, "driving", d.Driving)
}

// ending is the end of a day's driving on the clock where it is, with the zone where that is
// another than at its beginning.
func ending(in *phrase.Language, to, from time.Time) string {
	a, _ := from.Zone()
	b, _ := to.Zone()
	switch {
	case !sameDay(from, to):
		return in.WeekdayMoment(to)
	case a != b:
		return in.ZonedClock(to)
	default:
		return in.Clock(to)
	}
}

// DayDetails say what else is done on a day, in its order: jurisdictions entered, stops
// reached, everything for which the rig stands long, and where it spends the night.
func DayDetails(in *phrase.Language, p *trip.Plan, d timetable.Day) (out []say.Remark) {
	t := p.Timetable
	out = window(in, t, t.On(d))
	counted := map[timetable.Kind]int{}
	for i, e := range t.On(d) {
		out = append(out, entered(in, p, d.First+i)...)
		switch e.Kind {
		case timetable.Driving, timetable.Stay:
		case timetable.Check, timetable.Fuel:
			counted[e.Kind]++
		case timetable.Rest, timetable.Wait, timetable.Break:
			if d.First+i == d.Last && e.To.Sub(e.From) >= night {
				continue // it is told of with the night
			}
			out = append(out, standsFor(in, e))
		default:
			out = append(out, standsFor(in, e))
		}
		out = append(out, reached(in, t, d.First+i)...)
	}
	if checks, fills := counted[timetable.Check], counted[timetable.Fuel]; checks+fills > 0 {
		out = append(out, say.That("day.small", "checks", checks, "fills", fills))
	}
	return append(out, overnight(in, t, d)...)
}

// window says from when to when travel is allowed on a day: where its driving begins, and
// where it ends.
func window(in *phrase.Language, t *trip.Timetable, of []timetable.Entry) []say.Remark {
	var opens, closes string
	for _, e := range of {
		span, ok := spanOf(t, e)
		if !ok {
			continue
		}
		if opens == "" && sameDay(span.From.In(e.From.Location()), e.From) {
			opens = in.Clock(span.From.In(e.From.Location()))
		}
		if to := span.To.In(e.To.Location()); sameDay(to, e.To) {
			closes = in.Clock(to)
		} else {
			closes = ""
		}
	}
	if opens == "" && closes == "" {
		return nil
	}
	return []say.Remark{say.That("day.window", "opens", opens, "closes", closes)}
}

// spanOf is the time of travel in which an entry drives, if any is stated.
func spanOf(t *trip.Timetable, e timetable.Entry) (span timetable.Span, ok bool) {
	if e.Kind != timetable.Driving {
		return span, false
	}
	hours := t.Journey.Drives[e.Drive][e.Section].Hours
	if hours == nil {
		return span, false
	}
	i := slices.IndexFunc(hours.Spans, func(s timetable.Span) bool { return !s.From.After(e.From) && s.To.After(e.From) })
	if i < 0 {
		return span, false
	}
	return hours.Spans[i], true
}

// night is for how long a rig stands at least that is said to spend the night.
const night = 5 * time.Hour

// entered says which jurisdictions an entry is the first in.
func entered(in *phrase.Language, p *trip.Plan, at int) []say.Remark {
	e := p.Timetable.Entries[at]
	if e.Leg <= 0 || slices.Equal(p.Legs[e.Leg].Jurisdictions, p.Legs[e.Leg-1].Jurisdictions) ||
		slices.ContainsFunc(p.Timetable.Entries[:at], func(o timetable.Entry) bool { return o.Leg >= e.Leg }) {
		return nil
	}
	return []say.Remark{say.That("screen.enters", "where", p.Legs[e.Leg].Jurisdictions, "at", in.Clock(e.From))}
}

func standsFor(in *phrase.Language, e timetable.Entry) say.Remark {
	var why any
	if e.For != "" && e.Kind == timetable.Wait {
		why = e.For
	}
	return say.That("day.stands", "kind", e.Kind, "from", in.Clock(e.From), "to", clockAs(in, e.To, e.From), "why", why)
}

// reached says of the stop at which the rig is once an entry is over what its deadline
// leaves.
func reached(in *phrase.Language, t *trip.Timetable, at int) []say.Remark {
	stop := t.Entries[at].Drive + 1
	if t.Entries[at].Stop >= 0 || stop >= len(t.Calls) || at+1 < len(t.Entries) && t.Entries[at+1].Drive == stop-1 &&
		t.Entries[at+1].Stop < 0 {
		return nil
	}
	return CallSays(in, t, stop)
}

// CallSays says when a stop is reached and what its deadline leaves.
func CallSays(in *phrase.Language, t *trip.Timetable, stop int) []say.Remark {
	c, by := t.Calls[stop], t.Journey.Stops[stop].By
	var due, spare any
	if !by.IsZero() {
		due = clockAs(in, by, c.Arrive.Slow)
	}
	if c.Slack != nil && c.Late == 0 {
		spare = *c.Slack
	}
	return []say.Remark{say.That("day.reaches", "place", t.Journey.Stops[stop].Label, "at", in.Clock(c.Arrive.Slow),
		"likely", clockAs(in, c.Arrive.Likely, c.Arrive.Slow), "by", due, "spare", spare, "late", above0(c.Late))}
}

// overnight says where the rig stands when a day is over, and until when.
func overnight(in *phrase.Language, t *trip.Timetable, d timetable.Day) []say.Remark {
	last := t.Entries[d.Last]
	until := in.WeekdayMoment(last.To)
	switch {
	case last.Kind == timetable.Driving || d.Last+1 == len(t.Entries) && last.Stop < 0:
		return nil
	case last.Stop >= 0 && last.Stop < len(t.Calls)-1:
		return []say.Remark{say.That("day.at_stop", "place", t.Journey.Stops[last.Stop].Label, "until", until)}
	case last.Stop < 0 && last.To.Sub(last.From) >= night:
		return []say.Remark{say.That("day.parked", "after", last.Begins, "until", until,
			"closed", last.ForHours())}
	}
	return nil
}

// clockAs is a moment on its own clock: the time alone where the day is that of another.
func clockAs(in *phrase.Language, t, as time.Time) string {
	if sameDay(t, as) {
		return in.Clock(t)
	}
	return in.WeekdayMoment(t)
}

func sameDay(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }
