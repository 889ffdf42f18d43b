package report

import (
	"strconv"

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
	if m := p.Timetable.Missed; m != nil {
		part.inWhole(s.missed(p, m))
	}
	part.keeps(s.deadlines(p)...)
	for i, d := range p.Timetable.Days {
		tells := part.hints
		if i < sureDays {
			tells = part.keeps
		}
		tells(DayHead(s.in, p, d))
		if details := DayDetails(s.in, p, d); len(details) > 0 {
			part.tells(say.That("day.details", "all", details))
		}
	}
}

// deadlines says until when the trip may leave and miss nothing, and what its hours rest on.
func (s *screen) deadlines(p *trip.Plan) (out []say.Remark) {
	t := p.Timetable
	if !t.Latest.IsZero() {
		out = append(out, say.That("day.latest", "at", s.in.WeekdayMoment(t.Latest),
			"later", above0(t.Latest.Sub(t.Departure)), "spares", spares(p)))
	}
	switch hours := p.OwnHours; {
	case hours != nil:
		out = append(out, say.That("day.habit", "hours", hours.Says()))
	case p.InTheDark():
		out = append(out, say.That("day.in_the_dark"))
	}
	return append(out, Doubts(p, t.Entries)...)
}

// spares say how much later the rig may be at each stop that has a deadline.
func spares(p *trip.Plan) (out []say.Remark) {
	for i, c := range p.Timetable.Calls {
		stop := p.Timetable.Journey.Stops[i]
		if i > 0 && !stop.By.IsZero() && c.Slack != nil && c.Late == 0 {
			out = append(out, say.That("day.spare", "place", p.StopCalled(i), "spare", *c.Slack))
		}
	}
	return out
}

func (s *screen) missed(p *trip.Plan, m *timetable.Missed) say.Remark {
	var binds []say.Term
	for _, why := range m.Binds {
		binds = append(binds, why)
	}
	var does, tried []say.Remark
	for _, r := range m.Would {
		one := say.That("day.remedy", "does", r.Does, "kind", r.Kind, "late", above0(r.Late), "depart", s.ofDeparture(r),
			"stops", numbered(r.Order), "where", r.Jurisdiction, "whom", r.Whom, "by", above0(r.Less), "size", r.Size)
		if r.Does {
			does = append(does, one)
		} else {
			tried = append(tried, one)
		}
	}
	var due any
	if m.Before {
		due = s.in.WeekdayMoment(p.Timetable.Journey.Stops[m.Stop].By)
	}
	return say.That("day.missed", "place", p.StopCalled(m.Stop), "never", m.Never, "late", above0(m.Late),
		"before", due, "past", p.Timetable.Journey.AtOnce,
		"binds", binds, "does", does, "tried", tried)
}

// numbered are numbers of stops as people count them.
func numbered(stops []int) (out []string) {
	for _, i := range stops {
		out = append(out, strconv.Itoa(i+1))
	}
	return out
}

func (s *screen) ofDeparture(r timetable.Remedy) string {
	if r.Depart.IsZero() {
		return ""
	}
	return s.in.WeekdayMoment(r.Depart)
}

// timetable writes every entry of the timetable, a line each.
func (t *text) timetable(p *trip.Plan) {
	heads := t.heads(
		say.That("timetable.column.from"),
		say.That("timetable.column.to"),
		say.That("timetable.column.likely"),
		say.That("timetable.column.what"),
		say.That("timetable.column.at"),
	)
	for _, d := range p.Timetable.Days {
		t.line("  %s", t.in.Say(DayHead(t.in, p, d)))
		var rows []entry
		for _, e := range p.Timetable.On(d) {
			at := t.in.Say(say.That("timetable.along", "from", e.Begins, "to", above0(e.Ends-e.Begins)))
			if e.Stop >= 0 {
				at = t.in.Say(p.StopCalled(e.Stop))
			}
			what := say.That("timetable.what", "kind", e.Kind, "why", waitingFor(e), "if_holidays", e.IfHolidays)
			beside := e.From // of the likely end, which stands beside both
			if sameDay(e.From, e.To) {
				beside = e.To
			}
			rows = append(rows, entry{cells: []string{
				t.in.ZonedClock(e.From), ending(t.in, e.To, e.From), ending(t.in, e.Likely, beside), t.in.Say(what), at,
			}})
		}
		t.table(heads, rows)
	}
}
