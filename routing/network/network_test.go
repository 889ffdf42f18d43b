package network_test

import (
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/testdata/roads"
)

func file(t testing.TB, path string) []byte {
	t.Helper()
	raw, err := data.Files.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func bundled(t testing.TB) *network.Network {
	t.Helper()
	n, err := network.ReadGeoJSON(file(t, "roads/network.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// sourceLines are the lines that the bundled network is made from, in the
// order of its edges.
func sourceLines(t *testing.T) []*geojson.Feature {
	t.Helper()
	f, err := os.Open("../../data/source/roads-ottawa-montreal.geojson.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		t.Fatal(err)
	}
	return fc.Features
}

// Figures of the source, as its package states or gives them (data's README:
// 3,982 lines, 11,232 km, Ontario and Quebec).
func TestBundledNetwork(t *testing.T) {
	n := bundled(t)
	if n.Edges() != 3982 {
		t.Errorf("%d edges, want 3982", n.Edges())
	}
	var total measure.Distance
	for e := range network.EdgeID(n.Edges()) {
		total += n.Length[e]
		codes := n.Jurisdictions(e)
		if len(codes) == 0 {
			t.Errorf("edge %d has no jurisdiction", e)
		}
		for _, code := range codes {
			if code != "CA-ON" && code != "CA-QC" {
				t.Errorf("edge %d lies in %s", e, code)
			}
		}
	}
	if math.Abs(float64(total)/11_232_000-1) > 0.005 {
		t.Errorf("%.1f km in all, want 11 232 to 0.5 %%", float64(total)/1000)
	}
	for _, f := range network.AllFacts() {
		if slices.Contains(n.About.Carries, f) == n.Lacks(f) {
			t.Errorf("%q must be carried or lacking, one of the two", f)
		}
	}
}

// What the data does not have must not be claimed: the source has no
// structures, signs, one-ways, turns, lanes or speeds.
func TestBundledNetworkClaimsNothing(t *testing.T) {
	about := bundled(t).About
	if len(about.Carries) != 0 {
		t.Errorf("carries %v", about.Carries)
	}
	for name, text := range map[string]string{
		"name": about.Name, "vintage": about.Vintage, "caution": about.Caution,
		"attribution": about.Attribution, "revision": about.Revision,
	} {
		if text == "" {
			t.Errorf("no %s", name)
		}
	}
	if v, known := about.Speeds[network.PossibleFerry]; known {
		t.Errorf("a ferry is taken to sail at %v m/s; its time is unknown", v)
	}
	for class, v := range about.Speeds {
		if v <= 0 || v > 130*measure.KilometrePerHour {
			t.Errorf("%s: %v m/s", class, v)
		}
	}
}

// lambertScale is how much longer the projection of the Atlas of Canada draws
// a short line at a latitude: a conformal conic with standard parallels 49 and
// 77 N on GRS80 (EPSG:3978). Formulae: J. P. Snyder, Map Projections, a Working
// Manual, USGS Professional Paper 1395, 1987, equations 14-15, 15-8 to 15-10
// and 15-4 (from memory).
func lambertScale(latitude float64) float64 {
	const f = 1 / 298.257222101
	e := math.Sqrt(f * (2 - f))
	m := func(p float64) float64 { return math.Cos(p) / math.Sqrt(1-math.Pow(e*math.Sin(p), 2)) }
	t := func(p float64) float64 {
		return math.Tan(math.Pi/4-p/2) / math.Pow((1-e*math.Sin(p))/(1+e*math.Sin(p)), e/2)
	}
	south, north, p := 49*math.Pi/180, 77*math.Pi/180, latitude*math.Pi/180
	cone := math.Log(m(south)/m(north)) / math.Log(t(south)/t(north))
	return m(south) * math.Pow(t(p)/t(south), cone) / m(p)
}

// The source's own LENGTH is measured on a map, the Atlas of Canada's
// projection: 1.5 % too long here, as that projection is south of its first
// standard parallel. Brought back to the ground by its scale, every length
// agrees: to 0.2 % or 0.5 m (coordinates are given to 1e-6 degree, 0.1 m; the
// ends of a line are moved by up to 1 m to meet others).
func TestLengthsAgainstSource(t *testing.T) {
	n := bundled(t)
	var sum, ground float64
	for i, f := range sourceLines(t) {
		e := network.EdgeID(i)
		latitude := 0.0
		for _, p := range n.Shape(e) {
			latitude += p.Lat() / float64(len(n.Shape(e)))
		}
		got := float64(n.Length[e])
		want := f.Properties.MustFloat64("LENGTH") / lambertScale(latitude)
		if math.Abs(got-want) > max(0.5, 0.002*want) {
			t.Errorf("edge %d: %.2f m, the source's %.2f m are %.2f m on the ground", e, got, f.Properties["LENGTH"], want)
		}
		sum, ground = sum+got, ground+want
	}
	if math.Abs(sum/ground-1) > 0.0005 {
		t.Errorf("%.1f km in all, the source's on the ground %.1f km", sum/1000, ground/1000)
	}
}

func TestNodesAndArcs(t *testing.T) {
	n := bundled(t)
	left := 0
	for id := range network.NodeID(len(n.Node)) {
		if len(n.Out(id)) == 0 {
			t.Errorf("no arc leaves node %d", id)
		}
		for _, a := range n.Out(id) {
			if n.Tail(a) != id {
				t.Errorf("arc %d leaves node %d and stands at %d", a, n.Tail(a), id)
			}
		}
		left += len(n.Out(id))
	}
	if left != 2*n.Edges() {
		t.Errorf("%d arcs of %d edges leave the nodes", left, n.Edges())
	}
	for e := range network.EdgeID(n.Edges()) {
		there, back := network.MakeArc(e, false), network.MakeArc(e, true)
		shape := n.Shape(e)
		switch {
		case there.Edge() != e || back.Edge() != e || there.Reverse() || !back.Reverse():
			t.Errorf("edge %d: arcs %d and %d", e, there, back)
		case n.Tail(there) != n.From[e] || n.Head(there) != n.To[e] || n.Tail(back) != n.To[e] || n.Head(back) != n.From[e]:
			t.Errorf("edge %d runs from %d to %d; its arcs from %d to %d and %d to %d", e, n.From[e], n.To[e], n.Tail(there), n.Head(there), n.Tail(back), n.Head(back))
		case shape[0] != n.Node[n.From[e]] || shape[len(shape)-1] != n.Node[n.To[e]]:
			t.Errorf("edge %d: its line runs from %v to %v, its nodes are at %v and %v", e, shape[0], shape[len(shape)-1], n.Node[n.From[e]], n.Node[n.To[e]])
		case !slices.Contains(n.Out(n.From[e]), there) || !slices.Contains(n.Out(n.To[e]), back):
			t.Errorf("edge %d does not leave its ends", e)
		}
	}
}

// Nearly all of the network hangs together: 3,113 of 3,125 line ends by the
// data's README, at least 3,100 here, where ends to about 1 m are one.
func TestLargestComponent(t *testing.T) {
	n := bundled(t)
	seen := make([]bool, len(n.Node))
	largest := 0
	for start := range network.NodeID(len(n.Node)) {
		largest = max(largest, spread(n, start, seen))
	}
	if largest < 3100 || len(n.Node)-largest > 25 {
		t.Errorf("the largest component holds %d of %d nodes", largest, len(n.Node))
	}
}

// spread marks the nodes that hang together with start and counts those that
// were not marked.
func spread(n *network.Network, start network.NodeID, seen []bool) int {
	count := 0
	for todo := []network.NodeID{start}; len(todo) > 0; {
		id := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if seen[id] {
			continue
		}
		seen[id] = true
		count++
		for _, a := range n.Out(id) {
			todo = append(todo, n.Head(a))
		}
	}
	return count
}

// The roads' source names the province of each line, the areas come from
// elsewhere: each holds the other. At the middle of a line the areas name the
// source's province, alone or beside its neighbour; for one line at the most
// they name none, and never the wrong one alone.
func TestAreasAgainstRoads(t *testing.T) {
	n, areas := bundled(t), shippedAreas(t)
	codes := map[string]string{"Ontario": "CA-ON", "Quebec": "CA-QC"}
	named, none := 0, 0
	for i, f := range sourceLines(t) {
		want, ok := codes[fmt.Sprint(f.Properties["PROV_EN"])]
		if !ok {
			continue
		}
		named++
		e := network.EdgeID(i)
		switch got := areas.At(n.Point(network.Position{Edge: e, Offset: n.Length[e] / 2})); {
		case len(got) == 0:
			none++
		case !slices.Contains(got, want):
			t.Errorf("edge %d (%s): the source says %s, the areas %v", e, n.RoadName(e), want, got)
		}
	}
	if named != 3980 || none > 1 {
		t.Errorf("%d lines with a province, want 3980; %d in no area, want 1 at the most", named, none)
	}
}

// Along its whole line, an edge says each jurisdiction that it is surely in:
// where the areas give one answer, it is among those of the edge. An edge that
// leaves it out is checked against the rules of another province.
func TestEdgesNameTheirJurisdictions(t *testing.T) {
	n, areas := bundled(t), shippedAreas(t)
	for e := range network.EdgeID(n.Edges()) {
		wrong, at := 0, orb.Point{}
		for _, p := range n.Shape(e) {
			got := areas.At(p)
			if len(got) == 1 && !slices.Contains(n.Jurisdictions(e), got[0]) {
				wrong, at = wrong+1, p
			}
		}
		if wrong > 0 {
			t.Errorf("edge %d (%s, %.1f km): says %v; at %d of %d points, such as %v, it lies in %v",
				e, n.RoadName(e), float64(n.Length[e])/1000, n.Jurisdictions(e), wrong, len(n.Shape(e)), at, areas.At(at))
		}
	}
}

func shippedAreas(t *testing.T) *area.Index {
	t.Helper()
	ix, err := area.Read(file(t, "areas/jurisdictions.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// facts are all kinds of fact, for a header that lacks them.
func facts() []string {
	var out []string
	for _, f := range network.AllFacts() {
		out = append(out, string(f))
	}
	return out
}

func TestReadGeoJSONRefusesHeader(t *testing.T) {
	nodes := []orb.Point{{-75, 45}, {-75.1, 45}}
	edges := []roads.Edge{{From: 0, To: 1, Class: "primary", Jurisdiction: "CA-ON"}}
	for i, fact := range facts() {
		raw := roads.GeoJSON(nodes, edges, slices.Delete(facts(), i, i+1))
		if _, err := network.ReadGeoJSON(raw); err == nil || !strings.Contains(err.Error(), fact) {
			t.Errorf("%q left out: %v", fact, err)
		}
		raw = roads.GeoJSON(nodes, edges, facts(), fact)
		if n, err := network.ReadGeoJSON(raw); err != nil || n.Lacks(network.Fact(fact)) {
			t.Errorf("%q carried: %v", fact, err)
		}
		both := strings.Replace(string(raw), `"lacks":[`, fmt.Sprintf(`"lacks":[%q,`, fact), 1)
		if _, err := network.ReadGeoJSON([]byte(both)); err == nil || !strings.Contains(err.Error(), fact) {
			t.Errorf("%q carried and lacking: %v", fact, err)
		}
	}
	whole := string(roads.GeoJSON(nodes, edges, facts()))
	for name, bad := range map[string]string{
		"no header":        strings.Replace(whole, `"network":`, `"other":`, 1),
		"a speed below 0":  strings.Replace(whole, `"primary":80`, `"primary":-80`, 1),
		"a speed of 0":     strings.Replace(whole, `"primary":80`, `"primary":0`, 1),
		"a speed in words": strings.Replace(whole, `"primary":80`, `"primary":"80"`, 1),
	} {
		if bad == whole {
			t.Fatalf("%s: the header is not as this test knows it: %s", name, whole)
		}
		if _, err := read(bad); err == nil {
			t.Errorf("%s: was read", name)
		}
	}
}

// read reads a network; a panic becomes the error errPanic.
func read(raw string) (n *network.Network, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%w: %v", errPanic, p)
		}
	}()
	return network.ReadGeoJSON([]byte(raw))
}

var errPanic = errors.New("panic")

// withFeature writes a network of a good feature, number 0, and another.
func withFeature(properties, geometry string) string {
	const good = `{"type":"Feature","geometry":{"type":"LineString","coordinates":[[-75,45],[-75.1,45]]},` +
		`"properties":{"from":0,"to":1,"class":"primary","jurisdictions":["CA-ON"]}}`
	return fmt.Sprintf(`{"type":"FeatureCollection","network":{"lacks":["%s"]},"features":[%s,{"type":"Feature","properties":%s,"geometry":%s}]}`,
		strings.Join(facts(), `","`), good, properties, geometry)
}

const (
	goodProperties = `{"from":1,"to":2,"class":"primary","jurisdictions":["CA-ON"]}`
	goodLine       = `{"type":"LineString","coordinates":[[-75.1,45],[-75.1,45.1]]}`
)

// unfit lists features that must be refused.
func unfit() []struct{ name, properties, geometry string } {
	line := func(coordinates string) string { return `{"type":"LineString","coordinates":` + coordinates + `}` }
	return []struct{ name, properties, geometry string }{
		{"no geometry", goodProperties, "null"},
		{"a point", goodProperties, `{"type":"Point","coordinates":[-75.1,45]}`},
		{"several lines", goodProperties, `{"type":"MultiLineString","coordinates":[[[-75.1,45],[-75.1,45.1]]]}`},
		{"no position", goodProperties, line(`[]`)},
		{"one position", goodProperties, line(`[[-75.1,45]]`)},
		{"beyond the pole", goodProperties, line(`[[-75.1,45],[-75.1,95]]`)},
		{"beyond the world", goodProperties, line(`[[-75.1,45],[-575.1,45]]`)},
		{"starts elsewhere", goodProperties, line(`[[-75.2,45],[-75.1,45.1]]`)},
		{"no properties", "null", goodLine},
		{"no start", `{"to":2,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"no end", `{"from":1,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"node below 0", `{"from":1,"to":-2,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"node far ahead", `{"from":1,"to":1000000000,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"half a node", `{"from":1,"to":2.5,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"node in words", `{"from":1,"to":"2","class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"class a number", `{"from":1,"to":2,"class":1,"jurisdictions":["CA-ON"]}`, goodLine},
		{"ref a number", `{"from":1,"to":2,"ref":401,"class":"primary","jurisdictions":["CA-ON"]}`, goodLine},
		{"no jurisdictions", `{"from":1,"to":2,"class":"primary"}`, goodLine},
		{"jurisdictions empty", `{"from":1,"to":2,"class":"primary","jurisdictions":[]}`, goodLine},
		{"jurisdictions no list", `{"from":1,"to":2,"class":"primary","jurisdictions":"CA-ON"}`, goodLine},
		{"jurisdiction empty", `{"from":1,"to":2,"class":"primary","jurisdictions":[""]}`, goodLine},
		{"jurisdiction a number", `{"from":1,"to":2,"class":"primary","jurisdictions":[35]}`, goodLine},
	}
}

func TestReadGeoJSONRefusesFeature(t *testing.T) {
	if _, err := read(withFeature(goodProperties, goodLine)); err != nil {
		t.Fatalf("the good network: %v", err)
	}
	for _, bad := range unfit() {
		t.Run(bad.name, func(t *testing.T) {
			_, err := read(withFeature(bad.properties, bad.geometry))
			if err == nil || errors.Is(err, errPanic) || !strings.Contains(err.Error(), "feature 1") {
				t.Errorf("%v, want an error that names feature 1", err)
			}
		})
	}
}

func TestReadGeoJSONRefusesFile(t *testing.T) {
	for name, bad := range map[string]string{
		"nothing":             "",
		"no JSON":             "{",
		"no collection":       `{"type":"Feature"}`,
		"no feature":          strings.Replace(withFeature(goodProperties, goodLine), `"features":[`, `"features":[null,`, 1),
		"a node without line": strings.NewReplacer(`"to":2`, `"to":3`).Replace(withFeature(goodProperties, goodLine)),
	} {
		if _, err := read(bad); err == nil || errors.Is(err, errPanic) {
			t.Errorf("%s: %v, want an error", name, err)
		}
	}
}

func FuzzReadGeoJSON(f *testing.F) {
	f.Add([]byte(withFeature(goodProperties, goodLine)))
	for _, bad := range unfit() {
		f.Add([]byte(withFeature(bad.properties, bad.geometry)))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) > 4096 {
			return
		}
		n, err := read(string(raw))
		if errors.Is(err, errPanic) {
			t.Fatal(err)
		}
		if err != nil {
			return
		}
		for e := range network.EdgeID(n.Edges()) {
			if l := float64(n.Length[e]); !(l >= 0) || math.IsInf(l, 0) {
				t.Fatalf("edge %d is %v m long", e, l)
			}
			n.Line(network.Piece{Arc: network.MakeArc(e, true), Start: n.Length[e] / 4, End: n.Length[e] / 2})
		}
		if n.Edges() > 0 {
			if _, err := network.NewIndex(n).Snap(orb.Point{-75, 45}, math.MaxFloat64, nil); err != nil {
				t.Fatal(err)
			}
		}
	})
}
