package osm_test

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
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

// scan lists the addresses on streets of an extract by another reader: of buildings, and
// of areas that relations draw, the middle of the box of their corners.
func scan(t *testing.T, path string) (out []scanned) {
	all := elements(t, path)
	points, ways, streets := map[int64]orb.Point{}, map[int64][]int64{}, map[string]string{}
	for _, e := range all {
		switch e.kind {
		case 'n':
			points[e.id] = e.point
		case 'w':
			ways[e.id] = e.refs
		}
		for _, m := range e.members {
			kind := strings.ToLower(e.tags["type"])
			if (kind == "associatedstreet" || kind == "street") && (m.role == "house" || m.role == "address") {
				streets[m.element] = e.tags["name"]
			}
		}
	}
	for _, e := range all {
		self := fmt.Sprintf("%c%d", e.kind, e.id)
		street := cmp.Or(e.tags["addr:street"], e.tags["addr:place"], streets[self])
		a := scanned{number: e.tags["addr:housenumber"], street: street, city: e.tags["addr:city"], at: e.point}
		refs := e.refs
		for _, m := range e.members {
			if way, ok := strings.CutPrefix(m.element, "w"); ok && m.role != "inner" {
				id, err := strconv.ParseInt(way, 10, 64)
				if err != nil {
					t.Fatal(err)
				}
				refs = append(refs, ways[id]...)
			}
		}
		if a.number == "" || a.street == "" || e.kind != 'n' && len(refs) == 0 {
			continue
		}
		if e.kind != 'n' {
			var line orb.LineString
			for _, ref := range refs {
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
		t.Logf(
			"%s: of %d addresses %d found by their text, %d are several; of %d with their street near %d are put onto it, "+
				"of %d it is the nearest road",
			name,
			len(want),
			found,
			several,
			near,
			own,
			nearest,
		)
		if found+several < len(want)*95/100 || several > len(want)/50 || own < near*95/100 || near < len(want)/2 {
			t.Errorf(
				"%s: of %d addresses %d found, %d several; %d of %d on their own street",
				name,
				len(want),
				found,
				several,
				own,
				near,
			)
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

// How an element has an address (OpenStreetMap wiki, Key:addr:*, Relation:multipolygon,
// Relation:associatedStreet, Relation:street).
func TestAddresses(t *testing.T) {
	s := roadWith("highway=residential", "name=Madeup Road")
	for i, p := range square(-60.2, 44.8, -60.1, 44.9)[0][0][:4] {
		s.node(int64(121+i), p)
	}
	middle := orb.Point{-60.15, 44.85}
	s.way(60, []int64{121, 122, 123})
	s.way(61, []int64{123, 124, 121})
	s.way(62, []int64{121, 122, 121})
	s.node(130, middle, "addr:housenumber=7", "addr:street=Madeup Road")
	s.node(131, middle, "addr:housenumber=8", "addr:place=Madeup Hamlet")
	s.node(132, middle, "addr:housenumber=9")
	s.node(133, middle, "addr:housenumber=10")
	s.node(134, middle, "addr:street=Madeup Road")
	s.way(63, []int64{121, 122, 123, 124, 121}, "addr:housenumber=11")
	s.relation(70, []memberOf{{"way", 60, "outer"}, {"way", 61, "outer"}, {"way", 62, "inner"}},
		"type=multipolygon", "addr:housenumber=12", "addr:street=Madeup Road")
	s.relation(71, []memberOf{{"node", 132, "house"}, {"way", 1, "street"}}, "type=associatedStreet", "name=Madeup Road")
	s.relation(72, []memberOf{{"way", 63, "address"}}, "type=street", "name=Madeup Road")
	s.relation(
		73,
		[]memberOf{{"way", 61, "outer"}, {"way", 60, ""}},
		"type=multipolygon",
		"highway=rest_area",
		"name=Madeup Rest",
	)
	n, report := made(t, osm.Options{}, s)
	got := map[string]string{}
	for _, street := range []string{"Madeup Road", "Madeup Hamlet"} {
		for _, of := range n.Streets(street) {
			for a := range of.Addresses() {
				if got[a.Number] = a.Street; geodesic.Between(a.Point, middle) > 100 {
					t.Errorf("%s %s lies at %v", a.Number, a.Street, a.Point)
				}
			}
		}
	}
	unlike(t, "addresses", got, map[string]string{
		"7": "Madeup Road", "8": "Madeup Hamlet", "9": "Madeup Road", "11": "Madeup Road", "12": "Madeup Road",
	})
	if report.Addresses != 5 {
		t.Errorf("%d addresses are counted", report.Addresses)
	}
	places := 0
	for p := range n.Places() {
		if places++; p.Kind != network.RestArea || p.OSM != 73 || p.OnNode || geodesic.Between(p.Point, middle) > 100 {
			t.Errorf("%+v", p)
		}
	}
	if places != 1 {
		t.Errorf("%d places, want the rest area alone", places)
	}
}
