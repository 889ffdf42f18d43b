package api_test

import (
	"encoding/json"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/tours"
	"wayhouse/api/wire"
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
	if len(kept.Days) != 4 || len(kept.Stops) != 3 || kept.Missed != nil || kept.Latest == nil || !kept.Slow.After(*kept.Arrival) {
		t.Errorf("%d days, %d stops, %+v", len(kept.Days), len(kept.Stops), kept)
	}
	if show := kept.Stops[1]; *show.SlackS != (29*time.Hour+40*time.Minute).Seconds() || show.LateS != 0 || show.Place != "Gaspé, QC; the quay" {
		t.Errorf("%+v", show)
	}
	missed := timetableOf(t, func(j *timetable.Journey) { j.Stops[1].By = j.Stops[1].By.Add(-34 * time.Hour) })
	if m := missed.Missed; m == nil || m.LateS != (4*time.Hour+20*time.Minute).Seconds() || len(m.Tried) != 3 || !m.Tried[0].Does ||
		m.Tried[0].Depart == nil || m.Tried[1].Does || m.Mark != wire.InventedMark {
		t.Errorf("%+v", missed.Missed)
	}
}

func timetableOf(t *testing.T, change func(*timetable.Journey)) *wire.Timetable {
	t.Helper()
	raw := must(json.Marshal(wire.NewTrip(phrase.English(), tours.Show(t, change))))
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
