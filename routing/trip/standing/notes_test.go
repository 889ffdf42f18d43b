package standing

import (
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/routing/network"

	"github.com/paulmach/orb"
)

// What the map says names its element, the network's revision and date, and that
// nobody vouches for it.
func TestNotesNameTheirSource(t *testing.T) {
	a := atlasOf(t, way{"9", orb.Point{-76, 45}, orb.Point{-75.9, 45}, 0})
	n, j := a.Network, &Judge{Atlas: a}
	l := NewLedger()
	l.note(note{rule: "posted width", outcome: finding.Forbidden, text: "2"}, 5, Element("way", 12))
	l.note(note{rule: "gate", outcome: finding.Unknown}, 6, SpotElement(network.Spot{OSM: 7, OnNode: 1}))
	l.note(note{rule: "turn", outcome: finding.Unknown}, 7, SpotElement(network.Spot{OSM: 8, Kind: network.UnreadTurn}))
	got := j.Said(l, []string{"XA-A"})
	for i, want := range []string{"way 12", "node 7", "relation 8"} {
		if len(got) < 3 || len(got[i].Citations) != 1 || !strings.Contains(got[i].Place.String(), want) {
			t.Fatalf("%d: %+v", i, got)
		}
		if r := got[i].Citations[0]; r.ID != "osm "+want || r.Revision != n.About.Revision || r.Year != "2026-11-25" || r.Status != finding.Secondary || !strings.Contains(r.Source, want) || r.Published == "" {
			t.Errorf("%s: %+v", want, r)
		}
	}
}
