package api_test

import (
	"bytes"
	"cmp"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/tours"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// The JSON of a timetable has everything that it knows: entries that follow each other
// without a gap, each deadline with what it leaves, and what would meet one that is missed.
func TestTimetableInJSON(t *testing.T) {
	kept := timetableOf(t, nil)
	var entries []wire.TravelEntry
	for _, d := range kept.Days {
		entries = append(entries, d.Entries...)
	}
	for i, e := range entries[1:] {
		if !e.From.Equal(entries[i].To) || e.From.After(e.To) || e.BeginsM > e.EndsM {
			t.Errorf("after one that ends at %s comes one from %s to %s", entries[i].To, e.From, e.To)
		}
	}
	if len(kept.Days) != 4 || len(kept.Stops) != 3 || kept.Missed != nil || kept.Latest == nil ||
		!kept.Slow.After(*kept.Arrival) {
		t.Errorf("%d days, %d stops, %+v", len(kept.Days), len(kept.Stops), kept)
	}
	if show := kept.Stops[1]; *show.SlackS != (29*time.Hour+40*time.Minute).Seconds() || show.LateS != 0 ||
		show.Place != "Gaspé, QC; the quay" {
		t.Errorf("%+v", show)
	}
	missed := timetableOf(t, func(j *timetable.Journey) { j.Stops[1].By = j.Stops[1].By.Add(-34 * time.Hour) })
	if m := missed.Missed; m == nil || m.LateS != (4*time.Hour+20*time.Minute).Seconds() ||
		len(m.Tried) != 3 || !m.Tried[0].Does ||
		m.Tried[0].Depart == nil || m.Tried[1].Does ||
		m.Mark != wire.InventedMark {
		t.Errorf("%+v", missed.Missed)
	}
}

// Moments stand to the second: what is planned is known to no fraction of one (RFC 3339,
// section 5.6, time-secfrac, which may be left out).
func TestMomentsAreWholeSeconds(t *testing.T) {
	raw := post(t, text(example(t, "", ""))).Body.String()
	if secfrac := regexp.MustCompile(`T\d{2}:\d{2}:\d{2}\.\d+`).FindString(raw); secfrac != "" ||
		!strings.Contains(raw, `T08:00:00-04:00`) {
		t.Errorf("a moment of %q in an answer of %d bytes", secfrac, len(raw))
	}
}

func timetableOf(t *testing.T, change func(*timetable.Journey)) *wire.Timetable {
	t.Helper()
	return answered(t, tours.Show(t, change))
}

// answered is the timetable of a plan as its JSON has it.
func answered(t *testing.T, p *trip.Plan) *wire.Timetable {
	t.Helper()
	raw := must(json.Marshal(wire.NewTrip(phrase.English(), p)))
	if *update {
		met.Lock()
		docOf(handler()).note(schema{Ref: "#/components/schemas/Trip"}, "", raw)
		met.Unlock()
	}
	var out wire.Trip
	if err := json.Unmarshal(raw, &out); err != nil || out.Timetable == nil {
		t.Fatalf("%v: %s", err, raw)
	}
	return out.Timetable
}

// Where no row says the hours of travel, no form lets a day read as allowed.
func TestHoursThatNobodyKnows(t *testing.T) {
	p := tours.Show(t, func(j *timetable.Journey) {
		for d := range j.Drives {
			for s := range j.Drives[d] {
				j.Drives[d][s].Hours = nil
			}
		}
	})
	p.Legs[1].Findings = append(p.Legs[1].Findings, finding.Finding{
		Topic: finding.Hours, Rule: "hours", Jurisdiction: "CA-QC", Outcome: finding.Unknown, Reason: finding.NoRow,
		Says: []say.Remark{say.That("hours.no_row", "where", say.Jurisdiction("CA-QC"))},
	})
	whole := wire.NewTrip(phrase.English(), p)
	if *update {
		met.Lock()
		docOf(handler()).note(schema{Ref: "#/components/schemas/Trip"}, "", must(json.Marshal(whole)))
		met.Unlock()
	}
	out := whole.Timetable
	if !slices.Equal(out.HoursOpen, []string{"CA-QC"}) {
		t.Errorf("%q", out.HoursOpen)
	}
	for _, d := range out.Days {
		for _, e := range d.Entries {
			if open := e.Kind == timetable.Driving && e.Leg != nil && *e.Leg == 2; open != (len(e.HoursOpen) > 0) {
				t.Errorf("%s on leg %v: %q", e.Kind, e.Leg, e.HoursOpen)
			}
		}
	}
	said := phrase.English().All(report.Doubts(p, p.Timetable.Entries))
	if !strings.Contains(said, "NOT KNOWN in CA-QC") {
		t.Errorf("%q", said)
	}
	view := report.View{In: phrase.English(), Printed: noon(), Sheet: "timetable"}
	for _, name := range []string{"ics", "csv", "text"} {
		f := must(export.Named(name, export.Formats()))
		var b bytes.Buffer
		if err := f.Write(&b, view, p); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		flat := strings.ReplaceAll(b.String(), "\r\n ", "") // RFC 5545, 3.1: long lines are folded
		if want := map[string]string{"csv": "CA-QC"}[name]; !strings.Contains(flat, cmp.Or(want, "NOT KNOWN in CA-QC")) {
			t.Errorf("%s:\n%s", name, flat)
		}
		if name == "ics" && !strings.Contains(flat, "the posted sign") {
			t.Errorf("%s defers to nobody:\n%s", name, flat)
		}
	}
}
