package export

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"wayhouse/api/report"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// asICS is for calendars (iCalendar, RFC 5545): an event for each day of driving and for
// each stop, at times of UTC.
func asICS() Format {
	return Format{"ics", "text/calendar; charset=utf-8", []writer{
		of(tripCalendar),
		of(func(w io.Writer, v report.View, m *trip.Moves) error { return tripCalendar(w, v, m.Plan) }),
	}}
}

func tripCalendar(w io.Writer, v report.View, p *trip.Plan) error {
	switch {
	case !p.Drivable():
		return errForbidden("ics")
	case p.Timetable == nil:
		return &measure.FieldError{Field: "format", Value: "ics", Problem: say.That("error.no_timetable"),
			Fix: say.That("fix.no_timetable")}
	}
	c := calendar{ics.NewCalendar(), v, p}
	c.SetProductId("-//Wayhouse//Wayhouse//" + strings.ToUpper(v.In.Tag().String()))
	c.SetName(v.In.Say(title(p)))
	for _, d := range p.Timetable.Days {
		c.day(d)
	}
	for i := range p.Timetable.Calls {
		c.stop(i)
	}
	return c.SerializeTo(w, ics.WithNewLineWindows)
}

type calendar struct {
	*ics.Calendar
	view report.View
	plan *trip.Plan
}

// day is the driving of one day; what else is done on it stands in its description.
func (c calendar) day(d timetable.Day) {
	t := c.plan.Timetable
	from, to, ok := timetable.Driven(t.On(d))
	if !ok {
		return
	}
	e := c.event("day "+d.Date.Format(time.DateOnly), from, to.Slow)
	e.SetSummary(c.say(say.That("export.drive", "title", title(c.plan), "way", d.Way)))
	e.SetDescription(c.told(slices.Concat([]say.Remark{report.DayHead(c.view.In, c.plan, d)},
		report.Doubts(c.plan, t.On(d)), report.DayDetails(c.view.In, c.plan, d))))
}

// stop is the time at a stop. One at which the rig stays for no time has a moment.
func (c calendar) stop(i int) {
	t := c.plan.Timetable
	call, place := t.Calls[i], c.say(c.plan.StopCalled(i))
	from, to := call.Arrive.Slow, call.Leave.Slow
	switch {
	case i == 0 || !to.IsZero() && !to.After(from):
		return // it begins with the first drive, or is driven through
	case to.IsZero():
		to = from
		if t.Over.Slow.After(to) {
			to = t.Over.Slow
		}
	}
	e := c.event(fmt.Sprint("stop ", i), from, to)
	e.SetSummary(place)
	e.SetLocation(place)
	e.SetDescription(c.told([]say.Remark{report.CallSays(c.view.In, c.plan, i)}))
}

func (c calendar) event(name string, from, to time.Time) *ics.VEvent {
	e := c.AddEvent(c.uid(name))
	e.SetDtStampTime(c.view.Printed)
	e.SetStatus(ics.ObjectStatusTentative)
	if c.plan.Verdict.Outcome() == finding.Clear {
		e.SetStatus(ics.ObjectStatusConfirmed)
	}
	e.SetStartAt(from)
	if to.After(from) { // RFC 5545, 3.8.2.2: an end is later than its start
		e.SetEndAt(to)
	}
	return e
}

// uid names an event: the same trip on the same day has the same events, so that a newer
// calendar replaces an older one.
func (c calendar) uid(name string) string {
	t := c.plan.Timetable
	key := fmt.Sprintf("%s\x00%s\x00%s", title(c.plan), t.Departure.UTC().Format(time.DateOnly), name)
	sum := sha256.Sum256([]byte(key))
	return hex.EncodeToString(sum[:16]) + "@wayhouse"
}

// told is what an event says, with what everybody must know who gets it without the plan.
func (c calendar) told(says []say.Remark) string {
	return c.view.In.Sentences(append(says, about(c.plan)...))
}

func (c calendar) say(r say.Remark) string { return c.view.In.Say(r) }
