package regs

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// A row that was read and verified today, and still cannot clear, says why; the
// answer of a check says the same.
func TestVerifiedRowsSayWhyTheyCannotClear(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(*limit.Row)
		says   string // "" where nothing stands in the way
	}{
		"plain":           {func(*limit.Row) {}, ""},
		"of one kind":     {kind(limit.HouseTrailer), ""},
		"a condition":     {func(r *limit.Row) { r.Condition = "with a flag" }, "row.to_read(condition: with a flag)"},
		"a step further":  {func(r *limit.Row) { r.Tier = limit.Beyond }, "row.beyond"},
		"an unsure tier":  {func(r *limit.Row) { r.Tier = limit.Unsure }, "row.unsure"},
		"at times":        {func(r *limit.Row) { r.When, r.Times = "at night", window.ParseCondition("at night") }, "row.times(when: at night)"},
		"roads in words":  {func(r *limit.Row) { r.Road = "Main Street" }, "row.roads(roads: Main Street)"},
		"of a country":    {inside("CA"), "row.country"},
		"read long ago":   {func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }, "row.stale"},
		"only recalled":   {status(finding.Memory), "row.recalled"},
		"not in force":    {func(r *limit.Row) { r.ValidFrom = june.AddDate(1, 0, 0) }, "row.not_in_force"},
		"a shipped rival": {func(r *limit.Row) { r.ID += rows.RivalSuffix; r.Status = finding.Published }, "row.rival"},
	} {
		r := clean(status(finding.Verified), tc.change)
		tables := of(r)
		got := strings.Join(say.Strings(tables.Obstacles("limits", r.ID, june)), "; ")
		if (got == "") != (tc.says == "") || !strings.Contains(got, tc.says) {
			t.Errorf("%s: %q, want %q", name, got, tc.says)
		}
		b, blocked := tables.Blocked(r.Jurisdiction, june)[limit.Height]
		if blocked != (tc.says != "") || blocked && (b.Row != r.ID || !cmp.Equal(strings.Join(say.Strings(b.Why), "; "), got)) {
			t.Errorf("%s: %+v", name, b)
		}
		// What stands in no way clears, and what does not.
		v := high(400)
		v.Kind = limit.HouseTrailer
		if f := answer(t, tables, v, "CA-XX", limit.Height, june); (f.Outcome == finding.Clear) != (tc.says == "") {
			t.Errorf("%s: %s, obstacles %q", name, f.Outcome, got)
		}
	}
	// One row that can clear is enough, and of the others the nearest shows.
	two := of(clean(at("a", 400), func(r *limit.Row) { r.Condition, r.When = "x", "at night" }), clean(at("b", 400), func(r *limit.Row) { r.Condition = "x" }))
	if b := two.Blocked("CA-XX", june)[limit.Height]; b.Row != "b" {
		t.Errorf("%+v", b)
	}
	if b := of(clean(at("a", 400), status(finding.Memory)), clean(at("b", 410))).Blocked("CA-XX", june); len(b) != 0 {
		t.Errorf("%+v", b)
	}
	if why := of(clean()).Obstacles("limits", "none", june); why != nil {
		t.Errorf("of no row: %v", why)
	}
}

// The same for structures and duties.
func TestOtherRowsSayWhyTheyCannotClear(t *testing.T) {
	proof := rows.Proof{Status: finding.Verified, Source: "made up", ReadOn: june}
	height := 5 * measure.Metre
	bridge := func(change func(*clearance.Structure)) *clearance.Structure {
		s := &clearance.Structure{ID: "s", Posted: &height, Status: finding.Verified, ReadOn: june}
		change(s)
		return s
	}
	for says, r := range map[string]Rows{
		"":                                    {Clearances: []*clearance.Structure{bridge(func(*clearance.Structure) {})}},
		"structure.no_figure":                 {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.Posted = nil })}},
		"figure.made_long_ago(":               {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.MeasuredOn = june.AddDate(-3, 0, 0) })}},
		"two roads":                           {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.Doubt = "two roads" })}},
		"structure.to_read(words: left lane)": {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.Words = "left lane" })}},
		"structure.no_place":                  {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.Unplaced = true })}},
		"row.ended":                           {Clearances: []*clearance.Structure{bridge(func(s *clearance.Structure) { s.Until = june.AddDate(0, -1, 0) })}},
		"row.country":                         {Duty: []*duty.Row{{ID: "s", Jurisdiction: "CA", Proof: proof}}},
		"row.note_to_read(note: see s. 2)":    {Duty: []*duty.Row{{ID: "s", Jurisdiction: "CA-XX", Note: "see s. 2", Proof: proof}}},
	} {
		tables, table := NewTables("x", r, nil), "clearances"
		if r.Duty != nil {
			table = "duty"
		}
		got := strings.Join(say.Strings(tables.Obstacles(table, "s", june.Add(time.Hour))), "; ")
		if (got == "") != (says == "") || !strings.Contains(got, says) {
			t.Errorf("%q: %q", says, got)
		}
	}
}
