package osm_test

import (
	"cmp"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/word"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/routing/place"
	"wayhouse/testdata/extracts"
)

// scanned is an address as a plain scan of an extract says it.
type scanned struct {
	number, street, city string
	at                   orb.Point
	off                  float64 // metres that the middle of its building may be off
}

// scan lists the addresses on streets of an extract by another reader: of buildings the
// middle of the box of their corners.
func scan(t *testing.T, path string) (out []scanned) {
	all := elements(t, path)
	points := map[int64]orb.Point{}
	for _, e := range all {
		if e.kind == 'n' {
			points[e.id] = e.point
		}
	}
	for _, e := range all {
		a := scanned{number: e.tags["addr:housenumber"], street: e.tags["addr:street"], city: e.tags["addr:city"], at: e.point}
		if a.number == "" || a.street == "" || e.kind == 'r' {
			continue
		}
		if e.kind == 'w' {
			var line orb.LineString
			for _, ref := range e.refs {
				line = append(line, points[ref])
			}
			a.at = line.Bound().Center()
			a.off = float64(geodesic.Between(line.Bound().Min, line.Bound().Max)) / 2
		}
		for number := range strings.FieldsFuncSeq(a.number, func(r rune) bool { return r == ';' || r == ',' }) {
			one := a
			one.number = strings.TrimSpace(number)
			out = append(out, one)
		}
	}
	return out
}

// roadsOf are the lines of the roads of an extract by their folded names, by another reader.
func roadsOf(t *testing.T, path string) map[string][]orb.LineString {
	all := elements(t, path)
	points := map[int64]orb.Point{}
	for _, e := range all {
		if e.kind == 'n' {
			points[e.id] = e.point
		}
	}
	out := map[string][]orb.LineString{}
	for _, e := range all {
		if _, ok := e.drivable(); !ok || e.kind != 'w' || e.tags["name"] == "" {
			continue
		}
		var line orb.LineString
		for _, ref := range e.refs {
			line = append(line, points[ref])
		}
		key := word.Street(e.tags["name"])
		out[key] = append(out[key], line)
	}
	return out
}

// gazetteer finds places on a network and nowhere else.
func gazetteer(t *testing.T, n *network.Network, areas *area.Index) *place.Gazetteer {
	t.Helper()
	g, err := place.Read([]byte("name,lat,lon,jurisdiction\nNowhere,0,0,XX-XX\n"), areas.Called)
	if err != nil {
		t.Fatal(err)
	}
	for p := range n.Places() {
		if p.Kind.Settlement() && p.Name != "" && len(p.Jurisdictions) > 0 {
			g.Add([]place.Place{{Kind: place.Town, Name: p.Name, Jurisdiction: p.Jurisdictions[0], Point: p.Point}})
		}
	}
	g.Roads = n
	return g
}

// Every address that another reader finds in an extract is found by its text, at its place;
// and where a road of its street is within 200 m, that road is known under its name.
func TestAddressesAgainstAScan(t *testing.T) {
	raw, err := data.Files.ReadFile("areas/jurisdictions.bin")
	if err != nil {
		t.Fatal(err)
	}
	areas, err := area.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{extracts.Delaware, "andorra-latest.osm.bz2"} {
		path := filepath.Join(extracts.Real(t), name)
		want := scan(t, path)
		n, report, err := osm.Build(t.Context(), []string{path}, osm.Options{Areas: areas})
		if err != nil {
			t.Fatal(err)
		}
		if report.Addresses != len(want) {
			t.Errorf("%s: %d addresses, another reader has %d", name, report.Addresses, len(want))
		}
		g, index, lines := gazetteer(t, n, areas), network.NewIndex(n), roadsOf(t, path)
		found, several, near, own, nearest := 0, 0, 0, 0, 0
		for _, a := range want {
			switch got, err := g.Find(strings.TrimSuffix(a.number+" "+a.street+", "+a.city, ", ")); {
			case err == nil && float64(geodesic.Between(got.Point, a.at)) <= a.off+160: // or one of the same address beside it
				found++
			case err != nil && strings.HasPrefix(err.Error(), "error.places"):
				several++
			default:
				t.Logf("%s: %v: %v, %v", name, a, cmp.Or(got.String(), "nothing"), err)
			}
			if !passes(lines[word.Street(a.street)], a.at) {
				continue
			}
			near++
			for i, s := range index.Near(a.at, 200) {
				if n.Bears(s.Edge, a.street) {
					if own++; i == 0 {
						nearest++
					}
					break
				}
			}
		}
		t.Logf("%s: of %d addresses %d found by their text, %d are several; of %d with their street near %d are put onto it, "+
			"of %d it is the nearest road", name, len(want), found, several, near, own, nearest)
		if found+several < len(want)*95/100 || several > len(want)/50 || own < near*95/100 || near < len(want)/2 {
			t.Errorf("%s: of %d addresses %d found, %d several; %d of %d on their own street", name, len(want), found, several, own, near)
		}
	}
}

// passes reports whether a line comes within 190 m of a point, on a plane at its latitude:
// well within the 200 m that the program looks at.
func passes(lines []orb.LineString, p orb.Point) bool {
	const metres, within = 111_320, 190
	shrink := math.Cos(p.Lat() * math.Pi / 180)
	flat := func(q orb.Point) (x, y float64) {
		return (q.Lon() - p.Lon()) * shrink * metres, (q.Lat() - p.Lat()) * metres
	}
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			ax, ay := flat(line[i-1])
			bx, by := flat(line[i])
			dx, dy := bx-ax, by-ay
			along := 0.0
			if l := dx*dx + dy*dy; l > 0 {
				along = max(0, min(1, -(ax*dx+ay*dy)/l))
			}
			if math.Hypot(ax+along*dx, ay+along*dy) <= within {
				return true
			}
		}
	}
	return false
}
