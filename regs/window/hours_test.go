package window_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/window"
)

// What a rule of hours means by holidays must be in the table of holidays.
func TestShippedHoursNameCalendars(t *testing.T) {
	raw, err := data.Files.ReadFile("tables/hours.csv")
	if err != nil {
		t.Fatal(err)
	}
	all, records, err := window.HoursTable().ReadCSV(raw)
	if err != nil || len(all) == 0 || len(records) != len(all) {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	known := shippedCalendars(t)
	for _, h := range all {
		if strings.Contains(h.Text, "PH") && len(known[h.Calendar]) == 0 {
			t.Errorf("%s speaks of the holidays of %s, of which there are none", h.ID, h.Calendar)
		}
		if (h.Open == nil) != (h.Text == "") || h.Open == nil && h.Demand == "" {
			t.Errorf("%s asks nothing", h.ID)
		}
		if h.Open != nil && h.Open.BySun() != (strings.Contains(h.Text, "sun")) {
			t.Errorf("%s, %q: by the sun %v", h.ID, h.Text, h.Open.BySun())
		}
	}
}

const hoursHead = "id,jurisdiction,for,over_height,over_width,over_length,over_mass,roads,open,calendar,demand,when,valid_from,valid_to,note,status,source,section,source_year,source_url,read_on\n"

// hours is a row of the table with some cells replaced; it is invented.
func hours(t testing.TB, change map[string]string) string {
	t.Helper()
	cells := map[string]string{"id": "h", "jurisdiction": "CA-XX", "for": "permit", "open": "Mo-Fr sunrise-sunset; PH off", "status": "invented", "source": "made up"}
	for column, value := range change {
		cells[column] = value
	}
	record := make(rows.Record, 0, len(window.HoursTable().Columns))
	for _, column := range window.HoursTable().Columns {
		record = append(record, cells[column])
	}
	var out bytes.Buffer
	if err := window.HoursTable().WriteCSV(&out, []rows.Record{record}); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), hoursHead) {
		t.Fatalf("the head line is now %q", strings.SplitN(out.String(), "\n", 2)[0])
	}
	return out.String()
}

func TestReadHours(t *testing.T) {
	raw := hours(t, map[string]string{
		"over_height": "4.15 m", "over_width": `12'`, "over_length": "25 m", "over_mass": "63 500 kg", "roads": "ref=I *", "when": "Nov-Mar",
		"valid_from": "2027-01-01", "valid_to": "2027-12-31", "note": "a note", "read_on": "2026-11-25",
	})
	got, _, err := window.HoursTable().ReadCSV([]byte(raw))
	if err != nil || len(got) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	h := got[0]
	if h.For != window.Permitted || *h.Beyond.Height != 4150*measure.Millimetre || *h.Beyond.Width != 12*measure.Foot || *h.Beyond.Length != 25*measure.Metre || *h.Beyond.Mass != 63500*measure.Kilogram ||
		h.Beyond.None() || h.Calendar != "CA-XX" || h.Open.String() != h.Text || h.Status != finding.Invented || h.Note != "a note" || len(h.Times.Words) > 0 {
		t.Errorf("read %+v", h)
	}
	winter := time.Date(2027, 1, 10, 12, 0, 0, 0, time.UTC)
	if h.Times.At(winter, window.Env{}) != open || h.Times.At(winter.AddDate(0, 6, 0), window.Env{}) != closed {
		t.Errorf("in force %s in winter, %s in summer", h.Times.At(winter, window.Env{}), h.Times.At(winter.AddDate(0, 6, 0), window.Env{}))
	}
	if bare, _, err := window.HoursTable().ReadCSV([]byte(hours(t, map[string]string{"open": "", "demand": "in daylight", "for": "all", "calendar": "other"}))); err != nil || bare[0].Open != nil || !bare[0].Beyond.None() || bare[0].Calendar != "other" {
		t.Errorf("a demand alone: %+v, %v", bare, err)
	}
}

func TestReadHoursBad(t *testing.T) {
	for column, change := range map[string]map[string]string{
		"open":         {"open": ""},
		"for":          {"for": "some"},
		"over_width":   {"over_width": "4.3"},
		"over_mass":    {"over_mass": "4 m"},
		"over_height":  {"over_height": "14 feet tall"},
		"over_length":  {"over_length": "-1 m"},
		"valid_from":   {"valid_from": "January"},
		"valid_to":     {"valid_from": "2027-02-01", "valid_to": "2027-01-31"},
		"status":       {"status": ""},
		"source":       {"source": ""},
		"jurisdiction": {"jurisdiction": ""},
		"read_on":      {"read_on": "25 November 2026"},
	} {
		_, _, err := window.HoursTable().ReadCSV([]byte(hours(t, change)))
		var cell *rows.CellError
		if !errors.As(err, &cell) || cell.Column != column || cell.Fix.None() {
			t.Errorf("%v: %v", change, err)
		}
	}
	for _, text := range []string{"from eight to five", "Mo-Fr 8-17", "sunrise", "25:00-26:00", "Mo-Fr 08:00-18:00; ; PH off"} {
		if _, _, err := window.HoursTable().ReadCSV([]byte(hours(t, map[string]string{"open": text}))); err == nil || !strings.Contains(err.Error(), "line 2, column open") || !strings.Contains(err.Error(), "error.no_hours(why: hours_error.at(text: ") {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Whatever is read is written as it was, and answers.
func FuzzHours(f *testing.F) {
	raw, err := data.Files.ReadFile("tables/hours.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	f.Add([]byte(hours(f, nil)))
	f.Add([]byte(hours(f, map[string]string{"open": "(sunrise-00:30)-26:00+; PH -1 day 14:00-24:00 off || \"ask\"", "when": "Nov-Mar AND wet"})))
	f.Fuzz(func(t *testing.T, raw []byte) {
		all, records, err := window.HoursTable().ReadCSV(raw)
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := window.HoursTable().WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		again, _, err := window.HoursTable().ReadCSV(out.Bytes())
		if err != nil || len(again) != len(all) {
			t.Fatalf("%d of %d rows come back: %v", len(again), len(all), err)
		}
		from := time.Date(2026, 6, 3, 21, 30, 0, 0, time.UTC)
		env := window.Env{Sun: drifting, Twilight: drifting, Holiday: gappy}
		for i, h := range all {
			if h.Open == nil {
				continue
			}
			got, same := h.Open.Through(from, from.Add(5*time.Hour), env), again[i].Open.Through(from, from.Add(5*time.Hour), env)
			if want := through(each(h.Open, from, from.Add(5*time.Hour), env)); got != want || same != want {
				t.Fatalf("%q from %s: %s, read again %s; every minute says %s", h.Text, from, got, same, want)
			}
		}
	})
}
