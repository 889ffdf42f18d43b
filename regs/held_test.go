package regs

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
)

// A permit that is held is one for this rig, on these roads: of less it is none,
// and what it does not say is not known.
func TestHeldPermitsAreComparedWithRigAndWay(t *testing.T) {
	road := func(refs ...string) []roads.Road {
		var out []roads.Road
		for _, ref := range refs {
			out = append(out, roads.Road{Refs: []string{ref}})
		}
		return out
	}
	homely := measured(410, 350)
	homely.Kind = limit.TinyHome
	unweighed := measured(410, 350)
	delete(unweighed.Measures, limit.GrossMass)
	for _, tc := range []struct {
		name  string
		v     Vehicle
		roads []roads.Road
		held  []map[string]string
		want  finding.Outcome
		says  string
	}{
		{"for just this", measured(410, 350), road("7"), []map[string]string{{"roads": "ref=7"}}, "", ""},
		{"for any road", measured(410, 350), nil, []map[string]string{{}}, "", ""},
		{"for a narrower rig", measured(410, 351), road("7"), []map[string]string{{}}, finding.Review, "has: 3.51 m"},
		{"for a lower rig", measured(441, 350), road("7"), []map[string]string{{"height": "4.4 m"}}, finding.Review, "held.size_beyond(quantity: height, most: 4.4 m"},
		{"of no stated width", measured(410, 350), road("7"), []map[string]string{{"width": ""}}, finding.Unknown, "held.size_unstated(quantity: width)"},
		{"for a mass that is not known", unweighed, road("7"), []map[string]string{{}}, finding.Unknown, "held.size_open(quantity: gross_mass"},
		{"for another road", measured(410, 350), road("8"), []map[string]string{{"roads": "ref=7"}}, finding.Review, "held.roads(roads: ref=7, by: 8)"},
		{"for a part of the way", measured(410, 350), road("7", "8"), []map[string]string{{"roads": "ref=7"}}, finding.Review, "held.roads(roads: ref=7, by: 8)"},
		{"for roads in words", measured(410, 350), road("7"), []map[string]string{{"roads": "the old bridge"}}, finding.Unknown, "the old bridge"},
		{"for a road, the way not known", measured(410, 350), nil, []map[string]string{{"roads": "ref=7"}}, finding.Unknown, "by: road.no_number"},
		{"for another kind", homely, road("7"), []map[string]string{{"kind": "manufactured_home"}}, finding.Unknown, "hangs.kind(kind: manufactured_home)"},
		{"for another use", Vehicle{Subject: limit.Subject{Use: limit.Private}, Measures: homely.Measures}, road("7"), []map[string]string{{"use": "commercial"}}, finding.Review, "held.meant(meant: [commercial])"},
		{"one of two is for it", measured(410, 350), road("7"), []map[string]string{{"width": "3 m"}, {"roads": "ref=7"}}, "", ""},
		{"one too small, one too early", measured(410, 350), road("7"), []map[string]string{{"width": "3 m"}, {"expires_on": "2027-06-20"}}, finding.Review, "permit.held_for_others"},
		{"one too small, one of a part of the days", measured(410, 350), road("7"), []map[string]string{{"width": "3 m"}, {"expires_on": "2027-06-21"}}, finding.Forbidden, "permit.held_in_part"},
	} {
		var log []permit.Contact
		for i, cells := range tc.held {
			all := map[string]string{"id": fmt.Sprint("k", i), "permit_number": fmt.Sprint(i), "width": "3.5 m"}
			for column, text := range cells {
				all[column] = text
			}
			log = append(log, contact(t, all))
		}
		p := passage("CA-XX", 1, on("08:00"), on("08:00").AddDate(0, 0, 1), asking("width"))
		p.Roads = tc.roads
		tables := NewTables("test", Rows{Contacts: pointers(log)}, nil)
		needs := tables.Permits(tc.v, []Passage{p})
		found := tables.PermitFindings(needs)
		if tc.want == "" {
			if len(found) > 0 {
				t.Errorf("%s: %+v", tc.name, found)
			}
			continue
		}
		if len(found) != 1 || found[0].Outcome != tc.want || whom(found[0]) == "" || !strings.Contains(fmt.Sprint(says(found[0]), found[0].Citations), tc.says) {
			t.Errorf("%s: %+v, want %s that says %q", tc.name, found, tc.want, tc.says)
		}
	}
}

// Of a passage whose hours are not known a permit must hold on every day on which
// it may be driven.
func TestHeldPermitsOfUnknownHours(t *testing.T) {
	for _, tc := range []struct {
		name, from, to string
		valid          string
		want           string
	}{
		{"all the time", "2027-06-21", "2027-06-25", "", ""},
		{"without days", "", "", "", ""},
		{"until the first day", "2027-06-01", "2027-06-21", "", "unknown"},
		{"from the last day on", "2027-06-25", "", "", "unknown"},
		{"until the day before", "2027-06-01", "2027-06-20", "", "review"},
		{"from the day after", "2027-06-26", "", "", "review"},
		{"all the time, of a kind valid for three days", "2027-06-21", "2027-06-25", "3", "unknown"},
	} {
		k := contact(t, map[string]string{"permit_number": "1", "valid_from": tc.from, "expires_on": tc.to})
		row := permitRow(t, map[string]string{"valid_days": tc.valid})
		p := passage("CA-XX", 1, time.Time{}, time.Time{}, asking("width"))
		p.Earliest, p.Latest = on("08:00"), on("08:00").AddDate(0, 0, 4)
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}, Contacts: []*permit.Contact{&k}}, nil)
		if got := outcomes(tables.PermitFindings(tables.Permits(measured(410, 260), []Passage{p}))); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
	}
}
