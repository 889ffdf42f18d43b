package network_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

func bundled(t testing.TB) *network.Network {
	t.Helper()
	raw, err := data.Files.ReadFile("roads/network.geojson")
	if err != nil {
		t.Fatal(err)
	}
	n, err := network.ReadGeoJSON(raw)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// The source counts 3 982 lines of 11 232 km in Ontario and Quebec.
func TestBundled(t *testing.T) {
	n := bundled(t)
	var sum measure.Distance
	for e := range n.From {
		id := network.EdgeID(e)
		sum += n.Length[e]
		codes := n.Jurisdictions(id)
		if len(codes) == 0 || slices.ContainsFunc(codes, func(c string) bool { return c != "CA-ON" && c != "CA-QC" }) {
			t.Errorf("edge %d lies in %v", e, codes)
		}
		for _, reverse := range []bool{false, true} {
			a := network.MakeArc(id, reverse)
			if !slices.Contains(n.Out(n.Tail(a)), a) || a.Edge() != id || a.Reverse() != reverse || n.Tail(a) != n.Head(network.MakeArc(id, !reverse)) {
				t.Fatalf("arc %d does not fit its edge", a)
			}
		}
	}
	if n.Edges() != 3982 || math.Abs(float64(sum)/11_232_000-1) > 0.005 {
		t.Errorf("%d edges, %v", n.Edges(), sum)
	}
	if len(n.About.Carries) != 0 || len(n.About.Lacks) != len(network.AllFacts()) {
		t.Errorf("carries %v, lacks %v", n.About.Carries, n.About.Lacks)
	}
}

// All but a few line ends hang together: 3 113 nodes or more, by the note that
// came with the source.
func TestOneComponent(t *testing.T) {
	n := bundled(t)
	seen := map[network.NodeID]bool{n.From[0]: true}
	for queue := []network.NodeID{n.From[0]}; len(queue) > 0; queue = queue[1:] {
		for _, a := range n.Out(queue[0]) {
			if head := n.Head(a); !seen[head] {
				seen[head] = true
				queue = append(queue, head)
			}
		}
	}
	if len(seen) < 3100 {
		t.Errorf("%d of %d nodes hang together", len(seen), len(n.Node))
	}
}

// The province that the roads' own source names is among those the polygons
// give, for the middle of every road but one, which lies over water and is
// answered with none.
func TestAreasAgainstRoads(t *testing.T) {
	n := bundled(t)
	raw, err := data.Files.ReadFile("areas/jurisdictions.geojson")
	if err != nil {
		t.Fatal(err)
	}
	areas, err := area.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	none := 0
	for e := range n.From {
		id := network.EdgeID(e)
		at := areas.At(n.Point(network.Position{Edge: id, Offset: n.Length[e] / 2}))
		named := slices.ContainsFunc(n.Jurisdictions(id), func(c string) bool { return slices.Contains(at, c) })
		switch {
		case len(at) == 0:
			none++
		case !named:
			t.Errorf("edge %d: source %v, polygons %v", e, n.Jurisdictions(id), at)
		}
	}
	if none > 1 {
		t.Errorf("%d roads lie in no area", none)
	}
}

// Snapping finds the nearest road there is, by comparison with all of them.
func TestSnapIsNearest(t *testing.T) {
	n := bundled(t)
	ix := network.NewIndex(n)
	all := func(network.EdgeID) bool { return true } // takes the way without the index
	rapid.Check(t, func(t *rapid.T) {
		p := orb.Point{rapid.Float64Range(-77, -73).Draw(t, "lon"), rapid.Float64Range(44.7, 46.9).Draw(t, "lat")}
		fast, errFast := ix.Snap(p, 1e6, nil)
		slow, errSlow := ix.Snap(p, 1e6, all)
		if errFast != nil || errSlow != nil || math.Abs(float64(fast.Distance-slow.Distance)) > 1+0.004*float64(slow.Distance) {
			t.Fatalf("%v: %v by index, %v by search (%v, %v)", p, fast.Distance, slow.Distance, errFast, errSlow)
		}
		if d := geodesic.Between(fast.At, n.Point(fast.Position)); d > 5 {
			t.Fatalf("the position lies %v from the point", d)
		}
	})
}

func TestSnapTooFar(t *testing.T) {
	ix := network.NewIndex(bundled(t))
	_, err := ix.Snap(orb.Point{-79.38, 43.65}, 5000, nil)
	var far *network.TooFarError
	if !errors.As(err, &far) || far.Road == "" || far.Nearest.Distance < 100_000 || !strings.Contains(err.Error(), far.Road) {
		t.Errorf("got %v", err)
	}
}

func TestLine(t *testing.T) {
	n := bundled(t)
	rapid.Check(t, func(t *rapid.T) {
		e := network.EdgeID(rapid.IntRange(0, n.Edges()-1).Draw(t, "edge"))
		start := n.Length[e] * measure.Distance(rapid.Float64Range(0, 1).Draw(t, "start"))
		end := start + (n.Length[e]-start)*measure.Distance(rapid.Float64Range(0, 1).Draw(t, "part"))
		p := network.Piece{Arc: network.MakeArc(e, rapid.Bool().Draw(t, "reverse")), Start: start, End: end}
		if d := geodesic.Length(n.Line(p)) - p.Length(); math.Abs(float64(d)) > 0.5 {
			t.Fatalf("the line of %v is %v off", p, d)
		}
		back := network.Piece{Arc: p.Arc ^ 1, Start: n.Length[e] - p.End, End: n.Length[e] - p.Start}
		line := n.Line(back)
		line.Reverse()
		for i, q := range n.Line(p) {
			if geodesic.Between(q, line[i]) > 0.01 {
				t.Fatalf("forth and back differ at %d", i)
			}
		}
	})
}

func TestIsRoad(t *testing.T) {
	n := &network.Network{Ref: []string{"132-138", "10/15/20", "417", "", "17B"}}
	for _, tc := range []struct {
		edge   network.EdgeID
		number string
		want   bool
	}{{0, "132", true}, {0, "138", true}, {0, "13", false}, {1, "20", true}, {2, "417", true}, {2, "17", false}, {3, "", false}, {4, "17b", true}, {4, "17", false}} {
		if got := n.IsRoad(tc.edge, tc.number); got != tc.want {
			t.Errorf("%q is road %q: %v", n.Ref[tc.edge], tc.number, got)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	raw, err := data.Files.ReadFile("roads/network.geojson")
	if err != nil {
		t.Fatal(err)
	}
	head := string(raw[:strings.Index(string(raw), `"features"`)])
	whole := func(features string) string { return head + `"features":[` + features + `]}` }
	line := `{"type":"Feature","geometry":{"type":"LineString","coordinates":[[-75,45],[-75,46]]},"properties":`
	for features, want := range map[string]string{
		whole(line + `{"from":0,"to":1,"class":"primary"}}`):                             "no jurisdiction",
		whole(line + `{"from":-1,"to":1,"class":"primary","jurisdictions":["CA-ON"]}}`):  "node number",
		whole(line + `{"from":0,"to":9e9,"class":"primary","jurisdictions":["CA-ON"]}}`): "node number",
		whole(line + `{"from":0,"to":2,"class":"primary","jurisdictions":["CA-ON"]}}`):   "no line ends at node 1",
		whole(line + `{"from":0,"to":0,"class":"primary","jurisdictions":["CA-ON"]}}`):   "node 0",
		strings.Replace(whole(""), `"structures",`, "", 1):                               "structures",
		`{`: "network",
	} {
		if _, err := network.ReadGeoJSON([]byte(features)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}

func FuzzReadGeoJSON(f *testing.F) {
	f.Add([]byte(`{"type":"FeatureCollection","network":{"lacks":["structures"]},"features":[]}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if n, err := network.ReadGeoJSON(raw); err == nil {
			network.NewIndex(n)
		}
	})
}
