package export_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/google/go-cmp/cmp"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip"
)

func calendarOf(p *trip.Plan, in *phrase.Language) (string, error) {
	var out bytes.Buffer
	err := must(export.Named("ics", export.For[*trip.Plan]())).Write(&out, report.View{In: in, Printed: noon()}, p)
	return out.String(), err
}

// The calendar of a trip is read back by a parser of other authors: each day of driving and
// each stop is an event at its times.
func TestCalendar(t *testing.T) {
	text := must(calendarOf(tours.Show(t, nil), phrase.English()))
	cal := must(ical.NewDecoder(strings.NewReader(text)).Decode())
	var got [][3]string
	seen := map[string]bool{}
	for _, e := range cal.Events() {
		from, to := must(e.DateTimeStart(time.UTC)), must(e.DateTimeEnd(time.UTC))
		got = append(got, [3]string{must(e.Props.Text(ical.PropSummary)), from.Format(time.RFC3339), to.Format(time.RFC3339)})
		uid := must(e.Props.Text(ical.PropUID))
		if seen[uid] || uid == "" {
			t.Errorf("%q names two events", uid)
		}
		seen[uid] = true
		if stamp := must(e.Props.DateTime(ical.PropDateTimeStamp, time.UTC)); !stamp.Equal(noon()) {
			t.Errorf("stamped %s", stamp)
		}
		if status := must(e.Props.Text(ical.PropStatus)); status != "TENTATIVE" {
			t.Errorf("%s: it is %s while nothing is clear", uid, status)
		}
	}
	drive := "A show at the quay: Perth, ON to Perth, ON: drive of "
	want := [][3]string{
		{drive + "809.1 km", "2027-05-12T12:00:00Z", "2027-05-12T22:40:00Z"},
		{drive + "490.9 km", "2027-05-13T10:00:00Z", "2027-05-13T16:20:00Z"},
		{drive + "695.5 km", "2027-05-15T15:00:00Z", "2027-05-16T00:00:00Z"},
		{drive + "604.5 km", "2027-05-17T10:00:00Z", "2027-05-17T18:00:00Z"},
		{"Gaspé, QC; the quay", "2027-05-13T16:20:00Z", "2027-05-15T15:00:00Z"},
		{"Perth, ON", "2027-05-17T18:00:00Z", "2027-05-17T18:00:00Z"},
	}
	if !cmp.Equal(got, want) {
		t.Errorf("(- want, + got) %s", cmp.Diff(want, got))
	}
	says := must(cal.Events()[4].Props.Text(ical.PropDescription))
	for _, want := range []string{"INVENTED", "reaches Gaspé, QC; the quay 12:20", "29 h 40 min to spare"} {
		if !strings.Contains(says, want) {
			t.Errorf("the stop does not say %q: %s", want, says)
		}
	}
}

// RFC 5545, 3.1: lines end with CRLF and have at most 75 octets, and no character is cut
// in two; 3.6: a calendar has its version and who made it; 3.8.7.2: DTSTAMP is in UTC.
func TestCalendarLines(t *testing.T) {
	for _, in := range []*phrase.Language{phrase.English(), phrase.French()} {
		text := must(calendarOf(tours.Show(t, nil), in))
		if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "\r\nEND:VCALENDAR\r\n") {
			t.Errorf("ends of lines: %q", text)
		}
		for line := range strings.SplitSeq(text, "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Errorf("%d octets: %q", len(line), line)
			}
		}
		for _, want := range []string{"BEGIN:VCALENDAR\r\n", "\r\nVERSION:2.0\r\n", "\r\nDTSTAMP:20270510T160000Z\r\n", "\r\nDTSTART:20270512T120000Z\r\n"} {
			if !strings.Contains("\r\n"+text, want) {
				t.Errorf("%q is missing", want)
			}
		}
	}
}

// A newer calendar of a trip replaces the older one, and one of another day does not.
func TestCalendarNames(t *testing.T) {
	uids := func(p *trip.Plan) (out []string) {
		for _, e := range must(ical.NewDecoder(strings.NewReader(must(calendarOf(p, phrase.English())))).Decode()).Events() {
			out = append(out, must(e.Props.Text(ical.PropUID)))
		}
		return out
	}
	first, later := tours.Show(t, nil), tours.Show(t, nil)
	later.Timetable.Departure = later.Timetable.Departure.AddDate(0, 0, 7)
	if a, b := uids(first), uids(tours.Show(t, nil)); !cmp.Equal(a, b) {
		t.Errorf("%s", cmp.Diff(a, b))
	}
	if a, b := uids(first), uids(later); a[0] == b[0] {
		t.Errorf("two trips have the event %s", a[0])
	}
}

// A calendar leads along as a track does: no trip that is forbidden, and none without times.
func TestCalendarRefused(t *testing.T) {
	forbidden, open := tours.Show(t, nil), tours.Show(t, nil)
	forbidden.Verdict.Worst = finding.Forbidden
	open.Timetable = nil
	for name, p := range map[string]*trip.Plan{"forbidden": forbidden, "without a timetable": open} {
		var wrong *measure.FieldError
		if text, err := calendarOf(p, phrase.English()); !errors.As(err, &wrong) || text != "" {
			t.Errorf("%s: %v, %q", name, err, text)
		}
	}
}
