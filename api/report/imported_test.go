package report_test

import (
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// The report of an import names its extracts and what could not be read, the first of
// many, in each language.
func TestImport(t *testing.T) {
	r := osm.Report{
		Sources: []string{"part1.osm", "part2.osm"}, Attribution: osm.Attribution, Nodes: 2, Edges: 1, Roads: 1,
		KilometresByClass: map[string]float64{"trunk": 1234.56, "ferry": 2}, Signs: map[string]int{"height": 3},
		Places:     map[string]int{"fuel station": 5},
		Boundaries: map[string]int{"level 7": 4, "level 8 incomplete": 6},
		Turns:      osm.Turns{Relations: 4, Dropped: []osm.Dropped{{Reason: "via is missing"}, {Reason: "via is missing"}}},
		Malformed:  []osm.Malformed{{Type: "way", ID: 1, Key: "maxheight", Value: "12", Likely: "12 ft"}},
		Carries:    []network.Fact{network.Structures}, Lacks: []network.Fact{network.Grades},
	}
	for range 40 {
		r.Malformed = append(r.Malformed, osm.Malformed{Type: "node", ID: 2, Key: "maxweight", Value: "x", Taken: "5 t"})
	}
	for in, want := range map[*phrase.Language][]string{
		phrase.English(): {
			"part1.osm, part2.osm", "way 1  maxheight=12  (perhaps 12 ft)", osm.Attribution, "2 nodes, 1 edges of 1 roads",
			"ferry 2.0, trunk 1,234.6", "height 3", "fuel station 5", "level 7 4, level 8 incomplete 6",
			"dropped     via is missing 2", "node 2  maxweight=x  (read: 5 t)",
			"and 1 more, all of them in the JSON form", "carries       structures", "lacks         grades",
		},
		phrase.French(): {
			"part1.osm, part2.osm", "way 1  maxheight=12  (peut-être 12 ft)", osm.Attribution, "2 nœuds, 1 arêtes de 1 routes",
			"traversier 2,0, grand axe 1\u202f234,6", "hauteur 3", "station-service 5", "niveau 7 4, niveau 8 incomplet 6",
			"et 1 de plus, tous dans la forme JSON", "contient      ouvrages", "ne dit pas    pentes",
		},
	} {
		var text strings.Builder
		check(t, report.Import(&text, in, &r))
		for _, w := range want {
			if !strings.Contains(text.String(), w) {
				t.Errorf("%s: %q is not in:\n%s", in.Tag(), w, text.String())
			}
		}
	}
}
