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
	"sync"
	"testing"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	tables "wayhouse/regs/roads"
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

// geoJSON is what the shipped network is made of.
func geoJSON(t testing.TB) []byte {
	t.Helper()
	raw, err := os.ReadFile("../../data/roads/network.geojson")
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// bundled is the shipped network, read once. No test may change or prepare it.
func bundled(t testing.TB) *network.Network {
	t.Helper()
	bundle.once.Do(func() { bundle.network = freshBundled(t) })
	if bundle.network == nil {
		t.Fatal("the shipped network could not be read")
	}
	return bundle.network
}

var bundle struct {
	once    sync.Once
	network *network.Network
}

// freshBundled reads the shipped network again.
func freshBundled(t testing.TB) *network.Network {
	t.Helper()
	n, err := network.ReadGeoJSON(geoJSON(t))
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

// All but 12 nodes hang together: 3,113 of 3,125 line ends by the data's
// README, whose ends are not joined in quite the same way.
func TestLargestComponent(t *testing.T) {
	n := bundled(t)
	seen := make([]bool, len(n.Node))
	largest := 0
	for start := range network.NodeID(len(n.Node)) {
		largest = max(largest, spread(n, start, seen))
	}
	if largest < 3100 || len(n.Node)-largest != 12 {
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
	ix, err := area.Read(file(t, "areas/jurisdictions.bin"))
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

// fractions of an edge at which places on it are tried.
var fractions = []measure.Distance{0, 0.25, 0.5, 0.75, 1}

// A place on a road is on the road: brought onto the nearest it moves less
// than 1 m, and brought onto its own edge it comes back to where it was along
// it.
func TestPlacesOnEdgesSnapToThemselves(t *testing.T) {
	t.Parallel()
	n := bundled(t)
	ix := network.NewIndex(n)
	for e := range network.EdgeID(n.Edges()) {
		for _, part := range fractions {
			place := network.Position{Edge: e, Offset: part * n.Length[e]}
			at := n.Point(place)
			got, err := ix.Snap(at, 100, nil)
			if err != nil || got.Distance >= 1 {
				t.Errorf("edge %d (%s) at %.1f of %.1f m: moves by %.2f m to edge %d, %v",
					e, n.RoadName(e), float64(place.Offset), float64(n.Length[e]), float64(got.Distance), got.Edge, err)
			}
			own, err := ix.Snap(at, 100, func(id network.EdgeID) bool { return id == e })
			if err != nil || own.Edge != e || math.Abs(float64(own.Offset-place.Offset)) >= 1 {
				t.Errorf("edge %d (%s) at %.1f m: comes back as edge %d at %.1f m, %v",
					e, n.RoadName(e), float64(place.Offset), own.Edge, float64(own.Offset), err)
			}
		}
	}
}

func TestSnapTooFar(t *testing.T) {
	n := bundled(t)
	ix := network.NewIndex(n)
	toronto := orb.Point{-79.3832, 43.6532}
	_, err := ix.Snap(toronto, 5000, nil)
	var far *network.TooFarError
	if !errors.As(err, &far) {
		t.Fatalf("Toronto: %v", err)
	}
	km := fmt.Sprintf("%.1f km away", float64(far.Nearest.Distance)/1000)
	for _, want := range []string{far.Road.String(), n.RoadName(far.Nearest.Edge).String(), km, "5.0 km", "43.65320, -79.38320"} {
		if want == "" || !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not say %q", err, want)
		}
	}
	if d := geodesic.Between(toronto, far.Nearest.At); far.Point != toronto || far.Reach != 5000 || math.Abs(float64(d-far.Nearest.Distance)) > 0.01 {
		t.Errorf("%+v, %.2f m away", far, float64(d))
	}
	if _, err := ix.Snap(toronto, far.Nearest.Distance, nil); err != nil {
		t.Errorf("with just enough reach: %v", err)
	}
}

func TestSnapKeeps(t *testing.T) {
	n := bundled(t)
	ix := network.NewIndex(n)
	ottawa := orb.Point{-75.6972, 45.4215}
	freeway := func(e network.EdgeID) bool { return n.Class[e] == network.Freeway }
	nearest, err := ix.Snap(ottawa, 50_000, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := ix.Snap(ottawa, 50_000, freeway)
	if err != nil || !freeway(got.Edge) || got.Distance < nearest.Distance {
		t.Errorf("edge %d (%s) at %.0f m, the nearest of all at %.0f m, %v", got.Edge, n.Class[got.Edge], float64(got.Distance), float64(nearest.Distance), err)
	}
	for e := range network.EdgeID(n.Edges()) {
		if near := nearestOn(n, e, ottawa, got.Distance-1); freeway(e) && near < got.Distance-1 {
			t.Errorf("edge %d is a freeway %.0f m away, nearer than %.0f m", e, float64(near), float64(got.Distance))
		}
	}
	all, err := ix.Snap(ottawa, 50_000, func(network.EdgeID) bool { return true })
	if err != nil || math.Abs(float64(all.Distance-nearest.Distance)) > 1 {
		t.Errorf("with all kept: %.1f m, with nil %.1f m, %v", float64(all.Distance), float64(nearest.Distance), err)
	}
	var far *network.TooFarError
	if _, err := ix.Snap(ottawa, 50_000, func(network.EdgeID) bool { return false }); err == nil || errors.As(err, &far) {
		t.Errorf("with none kept: %v, want an error that is no distance", err)
	}
	if _, err := ix.Snap(ottawa, got.Distance-1, freeway); !errors.As(err, &far) || !freeway(far.Nearest.Edge) {
		t.Errorf("with too short a reach: %v", err)
	}
}

// nearestOn measures from a point to an edge on the ellipsoid. Segments that
// are clearly farther than limit are passed over; if all are, it returns
// infinity. Within a segment it follows the great circle, as the index does,
// and looks for the least distance by cutting into thirds, without any formula
// for the foot of a perpendicular.
func nearestOn(n *network.Network, e network.EdgeID, p orb.Point, limit measure.Distance) measure.Distance {
	best := measure.Distance(math.Inf(1))
	shape := n.Shape(e)
	for i := 1; i < len(shape); i++ {
		if flat(p, shape[i-1], shape[i]) > 1.01*limit+20 {
			continue
		}
		a, b := onSphere(shape[i-1]), onSphere(shape[i])
		away := func(part float64) measure.Distance {
			ll := s2.LatLngFromPoint(s2.Interpolate(part, a, b))
			return geodesic.Between(p, orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()})
		}
		low, high := 0.0, 1.0
		for range 40 {
			left, right := low+(high-low)/3, high-(high-low)/3
			if away(left) < away(right) {
				high = right
			} else {
				low = left
			}
		}
		best = min(best, away((low+high)/2), away(0), away(1))
	}
	return best
}

func onSphere(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// flat measures from p to a segment on the plane that touches the ellipsoid at
// p, by its radii of curvature; good to 1 % within some tens of kilometres.
func flat(p, a, b orb.Point) measure.Distance {
	const axis, e2 = 6378137.0, 0.00669437999014 // WGS84: NIMA TR8350.2, 2000, table 3.1 and 3.3 (from memory)
	sin, cos := math.Sincos(p.Lat() * math.Pi / 180)
	w := 1 - e2*sin*sin
	east, north := axis/math.Sqrt(w)*cos*math.Pi/180, axis*(1-e2)/math.Pow(w, 1.5)*math.Pi/180
	ax, ay := (a[0]-p[0])*east, (a[1]-p[1])*north
	dx, dy := (b[0]-a[0])*east, (b[1]-a[1])*north
	part := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		part = min(max(-(ax*dx+ay*dy)/l, 0), 1)
	}
	return measure.Distance(math.Hypot(ax+part*dx, ay+part*dy))
}

// nearestOfAll measures every edge.
func nearestOfAll(n *network.Network, p orb.Point) measure.Distance {
	about := measure.Distance(math.Inf(1))
	for e := range network.EdgeID(n.Edges()) {
		shape := n.Shape(e)
		for i := 1; i < len(shape); i++ {
			about = min(about, flat(p, shape[i-1], shape[i]))
		}
	}
	best := measure.Distance(math.Inf(1))
	for e := range network.EdgeID(n.Edges()) {
		best = min(best, nearestOn(n, e, p, about))
	}
	return best
}

// place draws a point near the bundled roads or anywhere between them.
func place(t *rapid.T, n *network.Network) orb.Point {
	if rapid.Bool().Draw(t, "near a node") {
		p := n.Node[rapid.IntRange(0, len(n.Node)-1).Draw(t, "node")]
		aside := rapid.Float64Range(-0.01, 0.01)
		return orb.Point{p[0] + aside.Draw(t, "east"), p[1] + aside.Draw(t, "north")}
	}
	return orb.Point{rapid.Float64Range(-77.1, -72.7).Draw(t, "lon"), rapid.Float64Range(44.6, 47).Draw(t, "lat")}
}

// The nearest road is the nearest of all roads, measured one by one, to 1 m.
// Far from any road the index may take one that is farther by a small part of
// the distance: it ranks on a sphere, on which north and east differ by as much
// as the ellipsoid's radii of curvature do, 0.35 % at 45 N. It ranks the parts of
// one edge so too.
func TestSnapFindsTheNearest(t *testing.T) {
	t.Parallel()
	n := bundled(t)
	ix := network.NewIndex(n)
	rapid.Check(t, func(t *rapid.T) {
		p := place(t, n)
		got, err := ix.Snap(p, 1_000_000, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := nearestOfAll(n, p)
		if math.Abs(float64(got.Distance-want)) > max(1, 0.0035*float64(want)) {
			t.Fatalf("%v: edge %d is %.2f m away, the nearest of all %.2f m", p, got.Edge, float64(got.Distance), float64(want))
		}
		if own := nearestOn(n, got.Edge, p, got.Distance); math.Abs(float64(got.Distance-own)) > max(1, 0.0035*float64(own)) {
			t.Fatalf("%v: edge %d is said to be %.2f m away and is %.2f m", p, got.Edge, float64(got.Distance), float64(own))
		}
		if d := geodesic.Between(got.At, n.Point(got.Position)); d > 10 {
			t.Fatalf("%v: snapped to %v, %.1f m from the position it gives", p, got.At, float64(d))
		}
	})
}

func TestNear(t *testing.T) {
	n := bundled(t)
	ix := network.NewIndex(n)
	rapid.Check(t, func(t *rapid.T) {
		p := place(t, n)
		reach := measure.Distance(rapid.Float64Range(0, 5000).Draw(t, "reach"))
		listed := map[network.EdgeID]bool{}
		last := measure.Distance(0)
		for _, s := range ix.Near(p, reach) {
			if listed[s.Edge] || s.Distance > reach {
				t.Fatalf("edge %d: listed before: %t, %.2f m away, reach %.2f m", s.Edge, listed[s.Edge], float64(s.Distance), float64(reach))
			}
			// The order is that of a sphere, see TestSnapFindsTheNearest.
			if s.Distance < last-max(1, 0.0035*last) {
				t.Fatalf("edge %d, %.2f m away, stands after one %.2f m away", s.Edge, float64(s.Distance), float64(last))
			}
			listed[s.Edge], last = true, max(last, s.Distance)
		}
		for e := range network.EdgeID(n.Edges()) {
			if d := nearestOn(n, e, p, reach); d < reach-1 && !listed[e] {
				t.Fatalf("edge %d is %.2f m away, within %.2f m, and not listed", e, float64(d), float64(reach))
			}
		}
	})
}

func TestWholeLines(t *testing.T) {
	n := bundled(t)
	for e := range network.EdgeID(n.Edges()) {
		there, back := n.Whole(network.MakeArc(e, false)), n.Whole(network.MakeArc(e, true))
		line, reversed := n.Line(there), n.Line(back)
		length := n.Length[e]
		for name, got := range map[string]measure.Distance{
			"line": geodesic.Length(line), "line back": geodesic.Length(reversed), "piece": there.Length(), "piece back": back.Length(),
		} {
			if math.Abs(float64(got-length)) > 1e-3 {
				t.Errorf("edge %d: %s of %.4f m, the edge has %.4f m", e, name, float64(got), float64(length))
			}
		}
		reversed.Reverse()
		if !slices.Equal(line, reversed) {
			t.Errorf("edge %d: the line back is not the line reversed: %v, %v", e, line, reversed)
		}
		if shape := n.Shape(e); !slices.Equal(line, shape) {
			t.Errorf("edge %d: the line of all of it is %v, its shape %v", e, line, shape)
		}
	}
}

// Pieces that meet anywhere on an edge join to a line without points that lie on one
// another: the way between such would run anywhere.
func TestJoin(t *testing.T) {
	n := bundled(t)
	rapid.Check(t, func(t *rapid.T) {
		whole := n.Whole(network.Arc(rapid.IntRange(0, 2*n.Edges()-1).Draw(t, "arc")))
		shape := n.Shape(whole.Arc.Edge())
		at := geodesic.Length(shape[:rapid.IntRange(1, len(shape)).Draw(t, "points")])
		if rapid.Bool().Draw(t, "anywhere") {
			at = measure.Distance(rapid.Float64Range(0, 1).Draw(t, "part")) * whole.End
		}
		at = min(max(at+measure.Distance(rapid.Float64Range(-1e-6, 1e-6).Draw(t, "off")), 0), whole.End)
		before, after := whole, whole
		before.End, after.Start = at, at
		line := network.Join(network.Join(nil, n.Line(before)), n.Line(after))
		if got := geodesic.Length(line); math.Abs(float64(got-whole.End)) > 1 {
			t.Fatalf("cut at %v: %v long, not %v", at, got, whole.End)
		}
		for i := 1; i < len(line); i++ {
			if d := geodesic.Between(line[i-1], line[i]); d <= network.Joint {
				t.Fatalf("cut at %v: %.3g m between %v and %v", at, float64(d), line[i-1], line[i])
			}
		}
	})
}

// apart tells whether two points differ by more than the noise of arithmetic.
func apart(a, b orb.Point) bool { return geodesic.Between(a, b) > 1e-3 }

// A piece is as long as it says, runs the way of its arc and starts and ends
// where its positions are; beyond the ends of an edge a place is its end.
func TestPieces(t *testing.T) {
	t.Parallel()
	n := bundled(t)
	for e := range network.EdgeID(n.Edges()) {
		length := n.Length[e]
		for _, reverse := range []bool{false, true} {
			arc := network.MakeArc(e, reverse)
			point := func(along measure.Distance) orb.Point {
				if reverse {
					along = length - along
				}
				return n.Point(network.Position{Edge: e, Offset: along})
			}
			if apart(point(0), n.Node[n.Tail(arc)]) || apart(point(length), n.Node[n.Head(arc)]) {
				t.Errorf("arc %d: runs from %v to %v", arc, point(0), point(length))
			}
			if apart(point(-1), point(0)) || apart(point(length+1), point(length)) {
				t.Errorf("arc %d: beyond its ends stand %v and %v", arc, point(-1), point(length+1))
			}
			for i, start := range fractions {
				for _, end := range fractions[i:] {
					p := network.Piece{Arc: arc, Start: start * length, End: end * length}
					line := n.Line(p)
					if len(line) < 2 || apart(line[0], point(p.Start)) || apart(line[len(line)-1], point(p.End)) {
						t.Errorf("%+v: line %v", p, line)
					}
					// Far below the width of a road, as the package says: 1 m.
					if got := geodesic.Length(line); math.Abs(float64(got-p.Length())) >= 1 {
						t.Errorf("%+v: %.3f m of line for %.3f m", p, float64(got), float64(p.Length()))
					}
				}
			}
		}
	}
}

func TestCovers(t *testing.T) {
	n, err := network.ReadGeoJSON(roads.GeoJSON([]orb.Point{{-75, 45}, {-75, 45.01}, {-75, 45.02}},
		[]roads.Edge{{From: 0, To: 1, Class: "primary", Jurisdiction: "CA-ON"}, {From: 1, To: 2, Class: "primary", Jurisdiction: "CA-ON"}}, facts()))
	if err != nil {
		t.Fatal(err)
	}
	length := n.Length[0]
	for _, tc := range []struct {
		name       string
		reverse    bool
		start, end measure.Distance // along the arc
		edge       network.EdgeID
		offset     measure.Distance // along the line
		want       bool
	}{
		{"inside", false, 100, 300, 0, 200, true},
		{"at the start", false, 100, 300, 0, 100, true},
		{"at the end", false, 100, 300, 0, 300, true},
		{"before", false, 100, 300, 0, 99, false},
		{"after", false, 100, 300, 0, 301, false},
		{"on another edge", false, 100, 300, 1, 200, false},
		{"inside, the other way", true, 100, 300, 0, length - 200, true},
		{"at the start, the other way", true, 100, 300, 0, length - 100, true},
		{"before, the other way", true, 100, 300, 0, length - 99, false},
		{"after, the other way", true, 100, 300, 0, length - 301, false},
		{"only by the offset of the line", true, 100, 300, 0, 200, false},
		{"the start of all", false, 0, length, 0, 0, true},
		{"the end of all", false, 0, length, 0, length, true},
		{"the start of all, the other way", true, 0, length, 0, length, true},
		{"the end of all, the other way", true, 0, length, 0, 0, true},
		{"a piece of no length", false, 200, 200, 0, 200, true},
	} {
		p := network.Piece{Arc: network.MakeArc(0, tc.reverse), Start: tc.start, End: tc.end}
		at := network.Position{Edge: tc.edge, Offset: tc.offset}
		if got := n.Covers(p, at); got != tc.want {
			t.Errorf("%s: %t", tc.name, got)
		}
	}
}

// Both directions of an edge pass every place on it, or a structure would be
// driven through unseen.
func TestWholeCoversEveryPlace(t *testing.T) {
	n := bundled(t)
	rapid.Check(t, func(t *rapid.T) {
		e := network.EdgeID(rapid.IntRange(0, n.Edges()-1).Draw(t, "edge"))
		at := network.Position{Edge: e, Offset: measure.Distance(rapid.Float64Range(0, 1).Draw(t, "part")) * n.Length[e]}
		cut := measure.Distance(rapid.Float64Range(0, 1).Draw(t, "cut")) * n.Length[e]
		for _, reverse := range []bool{false, true} {
			whole := n.Whole(network.MakeArc(e, reverse))
			first, second := whole, whole
			first.End, second.Start = cut, cut
			if !n.Covers(whole, at) || !(n.Covers(first, at) || n.Covers(second, at)) {
				t.Fatalf("%+v: arc %d covers it whole: %t, in two pieces cut at %v: %t", at, whole.Arc, n.Covers(whole, at), cut, n.Covers(first, at) || n.Covers(second, at))
			}
		}
	})
}

// Road numbers as the bundled source writes them.
func TestIsRoad(t *testing.T) {
	n := bundled(t)
	joined, unnumbered := network.EdgeID(-1), network.EdgeID(-1)
	for e := range network.EdgeID(n.Edges()) {
		switch n.Ref(e) {
		case "10/15/20":
			joined = e
		case "":
			unnumbered = e
		}
	}
	if joined < 0 || unnumbered < 0 {
		t.Fatal("the network has no such roads")
	}
	for _, tc := range []struct {
		edge   network.EdgeID
		number string
		want   bool
	}{
		{joined, "10", true}, {joined, "15", true}, {joined, " 20 ", true}, {joined, "10/15/20", true},
		{joined, "1", false}, {joined, "0", false}, {joined, "10/15", false}, {joined, "", false},
		{unnumbered, "", false}, {unnumbered, "10", false},
	} {
		if got := n.IsRoad(tc.edge, tc.number); got != tc.want {
			t.Errorf("%q is %q: %t", n.Ref(tc.edge), tc.number, got)
		}
	}
}

// Rows of the tables name the classes that a network tells, and no others. What has
// no class, or is perhaps a ferry, may be of any.
func TestRowsNameTheClassesOfANetwork(t *testing.T) {
	var told []string
	for c := network.Freeway; c < network.PossibleFerry; c++ {
		told = append(told, c.String())
	}
	if !slices.Equal(told, tables.Classes()) {
		t.Errorf("networks tell %q, rows name %q", told, tables.Classes())
	}
}

// Sources join the numbers of roads that run together, and write one number in
// several ways. One with other letters before it is perhaps the same.
func TestNumbersOfAnEdge(t *testing.T) {
	for ref, want := range map[string]struct {
		refs                []string
		is17, isON17, may17 bool
	}{
		"17": {[]string{"17"}, true, false, false}, "ON 17": {[]string{"ON 17"}, false, true, true}, "on-17": {[]string{"on-17"}, false, true, true},
		"132-17": {[]string{"132", "17"}, true, false, false}, "1-2-17": {[]string{"1", "2", "17"}, true, false, false}, "US 13;ON 17": {[]string{"US 13", "ON 17"}, false, true, true},
		"10/17B/20": {[]string{"10", "17B", "20"}, false, false, false}, "": {nil, false, false, false}, "417": {[]string{"417"}, false, false, false},
	} {
		n := numbered(t, ref)
		if got := n.Refs(0); !slices.Equal(got, want.refs) {
			t.Errorf("%q: %q, want %q", ref, got, want.refs)
		}
		if n.IsRoad(0, "17") != want.is17 || n.IsRoad(0, "ON17") != want.isON17 || n.MayBear(0, "17") != want.may17 {
			t.Errorf("%q: 17 %t, ON 17 %t, perhaps 17 %t", ref, n.IsRoad(0, "17"), n.IsRoad(0, "ON17"), n.MayBear(0, "17"))
		}
	}
}

// numbered is a network of one road with a number.
func numbered(t *testing.T, ref string) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	line := []orb.Point{{-75, 45}, {-75.01, 45}}
	e := network.Edge{From: b.Node(line[0]), To: b.Node(line[1]), Line: line, Class: network.Primary, Ref: ref, Jurisdictions: []string{"CA-ON"}, Road: b.Record(network.Record{})}
	if _, err := b.Edge(e); err != nil {
		t.Fatal(err)
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}
