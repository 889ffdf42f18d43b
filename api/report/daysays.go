package report

import (
	"slices"
	"time"
	"wayhouse/api/phrase"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// DayHead says of a day when it is driven, how far and how long.
func DayHead(in *phrase.Language, p *trip.Plan, d timetable.Day) say.Remark {
	t := p.Timetable
	from, to, ok := timetable.Driven(t.On(d))
	date := in.Weekday(d.Date)
	if !ok {
		var at say.Remark
		if last := t.Entries[d.Last]; last.Stop >= 0 {
			at = p.StopCalled(last.Stop)
		}
		return say.That("day.still", "date", date, "at", at, "parked", parked(t, d))
	}
	var via []say.Remark
	var place say.Remark
	for i := d.First; i <= d.Last; i++ {
		stop, ok := reached(t, i)
		switch {
		case ok && t.Entries[i].To.Equal(to.Slow):
			place = p.StopCalled(stop)
		case ok:
			via = append(via, p.StopCalled(stop))
		}
	}
	return say.That("day.drives", "date", date, "from", in.ZonedClock(from), "place", place,
		"to", ending(in, to.Slow, from), "likely", ending(in, to.Likely, to.Slow), "via", via, "way", d.Way,
		"driving", d.Driving, "parked", parked(t, d))
}

// parked reports whether the rig stands on the way when a day is over.
func parked(t *trip.Timetable, d timetable.Day) bool {
	at := d.Last
	if t.Entries[at].Kind == timetable.Driving {
		at++
	}
	return at < len(t.Entries) && t.Entries[at].Stop < 0 && t.Entries[at].Kind != timetable.Driving
}

// ending is a moment on the clock where it is, with the zone where that is another than at a
// moment that stands before it in the sentence.
func ending(in *phrase.Language, to, from time.Time) string {
	a, _ := from.Zone()
	b, _ := to.Zone()
	switch {
	case !sameDay(from, to):
		return clockAs(in, to, from)
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
	_, ends, _ := timetable.Driven(t.On(d)) // the head of the day says where
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
		if stop, ok := reached(t, d.First+i); ok && (!t.Journey.Stops[stop].By.IsZero() || !e.To.Equal(ends.Slow)) {
			out = append(out, CallSays(in, p, stop))
		}
	}
	if checks, fills := counted[timetable.Check], counted[timetable.Fuel]; checks+fills > 0 {
		out = append(out, say.That("day.small", "checks", checks, "fills", fills, "tank", t.Fuelling() == trip.ByTank))
	}
	return append(out, overnight(in, p, d)...)
}

// Doubts are on what it hangs that the rig may travel at the hours of some entries; whoever
// takes a day out of its timetable says them with it.
func Doubts(p *trip.Plan, of []timetable.Entry) (out []say.Remark) {
	if codes := p.HoursOpen(of); len(codes) > 0 {
		out = append(out, say.That("day.hours_open", "where", codes))
	}
	if slices.ContainsFunc(of, func(e timetable.Entry) bool { return e.IfHolidays }) {
		out = append(out, say.That("day.if_holidays"))
	}
	return out
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
		asked := span.From.Equal(t.Journey.Depart) // from when on hours were looked up
		if opens == "" && !asked && sameDay(span.From.In(e.From.Location()), e.From) {
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

// entered says which jurisdictions an entry is the first to drive in: a rig that stands before a
// border for the night is not across it.
func entered(in *phrase.Language, p *trip.Plan, at int) []say.Remark {
	e := p.Timetable.Entries[at]
	drivenBefore := func(o timetable.Entry) bool { return o.Kind == timetable.Driving && o.Leg >= e.Leg }
	if e.Kind != timetable.Driving || e.Leg <= 0 ||
		slices.Equal(p.Legs[e.Leg].Jurisdictions, p.Legs[e.Leg-1].Jurisdictions) ||
		slices.ContainsFunc(p.Timetable.Entries[:at], drivenBefore) {
		return nil
	}
	return []say.Remark{say.That("screen.enters", "where", p.Legs[e.Leg].Jurisdictions, "at", in.Clock(e.From))}
}

// waitingFor is what an entry waits for, nil where it does not.
func waitingFor(e timetable.Entry) any {
	if e.For == "" || e.Kind != timetable.Wait {
		return nil
	}
	return e.For
}

func standsFor(in *phrase.Language, e timetable.Entry) say.Remark {
	return say.That("day.stands", "kind", e.Kind, "from", in.Clock(e.From), "to", ending(in, e.To, e.From),
		"why", waitingFor(e))
}

// reached is the stop at which the rig is once an entry is over; ok is false where the entry
// leads to none.
func reached(t *trip.Timetable, at int) (stop int, ok bool) {
	e := t.Entries[at]
	if stop = e.Drive + 1; e.Stop >= 0 || stop >= len(t.Calls) {
		return 0, false
	}
	return stop, at+1 == len(t.Entries) || t.Entries[at+1].Stop >= 0 || t.Entries[at+1].Drive > e.Drive
}

// CallSays says when a stop is reached and what its deadline leaves.
func CallSays(in *phrase.Language, p *trip.Plan, stop int) say.Remark {
	t := p.Timetable
	c, by := t.Calls[stop], t.Journey.Stops[stop].By
	var due, spare any
	if !by.IsZero() {
		due = clockAs(in, by, c.Arrive.Slow)
	}
	if c.Slack != nil && c.Late == 0 {
		spare = *c.Slack
	}
	late, before := above0(c.Late), t.Missed != nil && t.Missed.Before && t.Missed.Stop == stop
	if before {
		late = nil
	}
	return say.That("day.reaches", "place", p.StopCalled(stop), "at", in.Clock(c.Arrive.Slow),
		"likely", ending(in, c.Arrive.Likely, c.Arrive.Slow), "by", due, "spare", spare, "late", late,
		"before", before, "past", before && t.Journey.AtOnce)
}

// overnight says where the rig stands when a day is over, and until when.
func overnight(in *phrase.Language, p *trip.Plan, d timetable.Day) []say.Remark {
	t := p.Timetable
	last := t.Entries[d.Last]
	until := in.WeekdayMoment(last.To)
	switch {
	case last.Kind == timetable.Driving || d.Last+1 == len(t.Entries) && last.Stop < 0:
		return nil
	case last.Stop >= 0 && last.Stop < len(t.Calls)-1:
		return []say.Remark{say.That("day.at_stop", "place", p.StopCalled(last.Stop), "until", until)}
	case last.Stop < 0 && last.To.Sub(last.From) >= night:
		return []say.Remark{say.That("day.parked", "after", last.Begins, "until", until,
			"closed", last.For == timetable.OfWindow, "habit", last.For == timetable.OfHabit, "at", nightPlace(t.NightAt(last)))}
	}
	return nil
}

// nightPlace names the place of a night, nil where none is known.
func nightPlace(n *trip.Night) any {
	if n == nil {
		return nil
	}
	return n.Says()
}

// clockAs is a moment on its own clock: the time alone where the day is that of another.
func clockAs(in *phrase.Language, t, as time.Time) string {
	switch {
	case sameDay(t, as):
		return in.Clock(t)
	case t.Hour() == 0 && t.Minute() == 0 && sameDay(t.Add(-time.Minute), as):
		return in.Say(say.That("time.day_end"))
	default:
		return in.WeekdayMoment(t)
	}
}

func sameDay(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }
