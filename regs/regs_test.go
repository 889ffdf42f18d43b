package regs

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
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
		"the same":           {first, "a b: office.named(name: First, contact: ): clear"},
		"another office":     {Rows{Limits: first.Limits, Offices: []*permit.Office{{Jurisdiction: "CA-XX", Name: "Second"}}}, "a b: office.named(name: Second, contact: ): clear"},
		"no office":          {Rows{Limits: first.Limits}, "a b: office.permits(of: CA-XX): clear"},
		"another row":        {other, "a b: office.permits(of: CA-XX): conditional"},
		"a row less":         {shorter, "a: office.permits(of: CA-XX): clear"},
		"nothing":            {Rows{}, ": office.permits(of: CA-XX): unknown"},
		"the first rows cut": {Rows{Limits: first.Limits[:1]}, "a: office.permits(of: CA-XX): clear"},
	} {
		for _, earlier := range []*Tables{nil, before, NewTables("0", Rows{}, nil), NewTables("2", tc.rows, before)} {
			tables := NewTables("3", tc.rows, earlier)
			var ids []string
			for _, r := range tables.Rows("") {
				ids = append(ids, r.ID)
			}
			got := strings.Join(ids, " ") + ": " + tables.Office("CA-XX").String() + ": " + string(answer(t, tables, high(395), "CA-XX", limit.Height, june).Outcome)
			if got != tc.want || tables.Revision != "3" {
				t.Errorf("%s: %q of revision %s, want %q", name, got, tables.Revision, tc.want)
			}
		}
	}
}

// A municipality is one however its name is written: in rows of any table, by the
// map, and in a question.
func TestTownsMatchByFoldedName(t *testing.T) {
	row := clean(at("width", 250), inside("CA-QC/Montréal"), func(r *limit.Row) { r.Quantity = limit.Width })
	other := clean(at("height", 400), inside("CA-QC/MONTREAL"))
	office := permit.Office{ID: "o", Jurisdiction: "CA-QC/montreal", Name: "the city's desk"}
	tables := NewTables("test", Rows{Limits: pointers([]limit.Row{row, other}), Offices: []*permit.Office{&office}}, nil)
	v := Vehicle{Measures: map[limit.Quantity]Measure{limit.Width: measure.Exactly(260 * centi), limit.Height: measure.Exactly(410 * centi)}}
	for _, town := range []string{"Montréal", "Montreal", "MONTRÉAL", "Montre\u0301al"} {
		found := tables.Check(v, Stay{Jurisdictions: []string{"CA-QC"}, Towns: []string{town}}, june)
		rows := map[string]string{}
		for _, f := range found {
			for _, r := range f.Citations {
				rows[r.ID] = f.Jurisdiction
			}
		}
		if rows["width"] == "" || rows["width"] != rows["height"] {
			t.Errorf("%q: the rows are shown in %v", town, rows)
		}
		if owner := rule(t, found, "road owner"); strings.Contains(says(owner), "towns:") {
			t.Errorf("%q: %s", town, says(owner))
		}
		if code := "CA-QC/" + town; tables.Office(code).Get("name") != office.Name || len(tables.Rows(code)) != 2 || tables.Coverage(code, june)[limit.Width] == CoverMissing {
			t.Errorf("%q: ask %q, %d rows", town, tables.Office(code).String(), len(tables.Rows(code)))
		}
	}
	if found := tables.Check(v, Stay{Jurisdictions: []string{"CA-QC"}, Towns: []string{"Laval"}}, june); !strings.Contains(says(rule(t, found, "road owner")), "owner.elsewhere(towns: ") {
		t.Error("rows of a town elsewhere are passed over in silence")
	}
}

// A row that forbids on roads that are perhaps not driven is for a person to decide,
// and names them; on one that surely is driven it forbids.
func TestWhatPerhapsBindsForbidsNothingOutright(t *testing.T) {
	ban := func(change map[string]string) *Tables {
		change["outcome"] = "forbidden"
		return of(read(t, change))
	}
	driven := []roads.Road{{Refs: []string{"17"}, Class: "primary"}, {Name: "Main Street", Class: "minor road"}}
	for _, tc := range []struct {
		name  string
		row   map[string]string
		kind  limit.Kind
		roads []roads.Road
		want  finding.Outcome
		says  string
	}{
		{"an equal number with another prefix", map[string]string{"roads": "ref=ON 17"}, limit.KindUnknown, driven[:1], finding.Review, "open: [17], more: 0)"},
		{"a road without a number", map[string]string{"roads": "ref=ON 417"}, limit.KindUnknown, driven, finding.Review, "open: [Main Street], more: 0)"},
		{"roads in words", map[string]string{"road": "county roads"}, limit.KindUnknown, driven, finding.Review, "hangs.roads(roads: county roads, open: [17 Main Street], more: 0)"},
		{"another number", map[string]string{"roads": "ref=ON 417"}, limit.KindUnknown, driven[:1], finding.Unknown, ""},
		{"the road itself", map[string]string{"roads": "ref=17"}, limit.KindUnknown, driven, finding.Forbidden, ""},
		{"the class itself", map[string]string{"roads": "class=minor road"}, limit.KindUnknown, driven, finding.Forbidden, ""},
		{"a class that is not known", map[string]string{"roads": "class=freeway"}, limit.KindUnknown, []roads.Road{{Name: "Bypass"}}, finding.Review, "open: [Bypass], more: 0)"},
		{"if it counts as something", map[string]string{"kind": "manufactured_home"}, limit.KindUnknown, driven, finding.Review, "hangs.kind(kind: manufactured_home)"},
		{"what it is", map[string]string{"kind": "manufactured_home"}, limit.ManufacturedHome, driven, finding.Forbidden, ""},
	} {
		v := with(limit.Subject{Kind: tc.kind}, limit.Height, 500*centi)
		f := rule(t, ban(tc.row).Check(v, Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true, Roads: tc.roads}, june), "height")
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) {
			t.Errorf("%s: %s, %q; want %s that says %q", tc.name, f.Outcome, says(f), tc.want, tc.says)
		}
	}
}
