package regs

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
)

// A state that is made from an earlier one answers from its own rows, whether
// they are those of the earlier one or others.
func TestTablesAfterOthers(t *testing.T) {
	first := Rows{Limits: pointers([]limit.Row{clean(at("a", 400)), clean(at("b", 410), inside("CA-YY"))}), Offices: []*permit.Office{{Jurisdiction: "CA-XX", Name: "First"}}}
	before := NewTables("1", first, nil)
	shorter := Rows{Limits: slices.Clone(first.Limits[:1])}
	other := Rows{Limits: slices.Clone(first.Limits)}
	changed := clean(at("a", 390))
	other.Limits[0] = &changed
	for name, tc := range map[string]struct {
		rows Rows
		want string // ids of the rows, who is asked, and what 3.95 m is
	}{
		"the same":           {first, "a b: First: clear"},
		"another office":     {Rows{Limits: first.Limits, Offices: []*permit.Office{{Jurisdiction: "CA-XX", Name: "Second"}}}, "a b: Second: clear"},
		"no office":          {Rows{Limits: first.Limits}, "a b: the office of CA-XX that gives oversize permits: clear"},
		"another row":        {other, "a b: the office of CA-XX that gives oversize permits: conditional"},
		"a row less":         {shorter, "a: the office of CA-XX that gives oversize permits: clear"},
		"nothing":            {Rows{}, ": the office of CA-XX that gives oversize permits: unknown"},
		"the first rows cut": {Rows{Limits: first.Limits[:1]}, "a: the office of CA-XX that gives oversize permits: clear"},
	} {
		for _, earlier := range []*Tables{nil, before, NewTables("0", Rows{}, nil), NewTables("2", tc.rows, before)} {
			tables := NewTables("3", tc.rows, earlier)
			var ids []string
			for _, r := range tables.Rows("") {
				ids = append(ids, r.ID)
			}
			got := strings.Join(ids, " ") + ": " + tables.Ask("CA-XX") + ": " + string(answer(t, tables, high(395), "CA-XX", limit.Height, june).Outcome)
			if got != tc.want || tables.Revision != "3" {
				t.Errorf("%s: %q of revision %s, want %q", name, got, tables.Revision, tc.want)
			}
		}
	}
}
