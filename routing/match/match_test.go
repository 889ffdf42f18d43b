package match

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/data"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

func bundled(t testing.TB) (*network.Network, *network.Index) {
	t.Helper()
	raw, err := data.Files.ReadFile("roads/network.wayroads")
	if err != nil {
		t.Fatal(err)
	}
	n, err := network.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	return n, network.NewIndex(n)
}

// A few places in the region of the bundled roads.
var (
	perth    = orb.Point{-76.24939, 44.90011}
	cornwall = orb.Point{-74.72815, 45.01809}
	ottawa   = orb.Point{-75.69812, 45.41117}
	montreal = orb.Point{-73.58781, 45.50884}
)

// byLength makes a millimetre cost a millisecond: the shortest way is sought.
func byLength(p network.Piece, _ search.Millis) (search.Millis, bool) {
	return search.Millis(1000 * p.Length()), true
}

func route(t testing.TB, n *network.Network, ix *network.Index, from, to orb.Point) (search.Path, orb.LineString) {
	t.Helper()
	a, errA := ix.Snap(from, 5000, nil)
	b, errB := ix.Snap(to, 5000, nil)
	path, err := search.Plain(context.Background(), n, a.Position, b.Position, search.Rules{Cost: byLength})
	if errors.Join(errA, errB, err) != nil {
		t.Fatal(errors.Join(errA, errB, err))
	}
	var line orb.LineString
	for _, p := range path.Pieces {
		line = append(line, n.Line(p)...)
	}
	return path, line
}

func edges(pieces []network.Piece) []network.EdgeID {
	var out []network.EdgeID
	for _, p := range pieces {
		if p.Length() > 100 { // a short stub at either end may be missed
			out = append(out, p.Arc.Edge())
		}
	}
	return out
}

// The line of a route is found on the roads of that route, even when each of
// its points is some metres off.
func TestLineOfARoute(t *testing.T) {
	n, ix := bundled(t)
	random := rand.New(rand.NewPCG(1, 2))
	for name, ends := range map[string][2]orb.Point{"Perth to Cornwall": {perth, cornwall}, "Montreal to Ottawa": {montreal, ottawa}} {
		for _, noise := range []float64{0, 0.0002} { // degrees; 0.0002 is about 20 m
			path, line := route(t, n, ix, ends[0], ends[1])
			for i := range line {
				line[i][0] += noise * (2*random.Float64() - 1)
				line[i][1] += noise * (2*random.Float64() - 1)
			}
			sections, err := ByLine(context.Background(), n, ix, line, Rules{})
			if err != nil || len(sections) != 1 || sections[0].Gap != nil {
				t.Fatalf("%s, noise %v: %d sections, %v", name, noise, len(sections), err)
			}
			got := search.Path{Pieces: sections[0].Pieces}
			if d := math.Abs(float64(got.Length() - path.Length())); d > 500 {
				t.Errorf("%s, noise %v: %v, the route has %v", name, noise, got.Length(), path.Length())
			}
			if want, got := edges(path.Pieces), edges(got.Pieces); !slices.Equal(want, got) {
				t.Errorf("%s, noise %v: edges %v, want %v", name, noise, got, want)
			}
		}
	}
}

// Pieces follow each other without a jump.
func TestLineHangsTogether(t *testing.T) {
	n, ix := bundled(t)
	_, line := route(t, n, ix, perth, montreal)
	sections, err := ByLine(context.Background(), n, ix, line, Rules{})
	if err != nil || len(sections) != 1 {
		t.Fatal(len(sections), err)
	}
	var at orb.Point
	for i, p := range sections[0].Pieces {
		piece := n.Line(p)
		if gap := geodesic.Between(at, piece[0]); i > 0 && gap > 1 {
			t.Errorf("piece %d starts %v away from the end of the last", i, gap)
		}
		at = piece[len(piece)-1]
	}
}

// A line that leaves the roads has a gap there, and the roads on both sides of
// it are still found; nothing is put in its place.
func TestLineWithAGap(t *testing.T) {
	n, ix := bundled(t)
	_, line := route(t, n, ix, perth, cornwall)
	cut := len(line) / 2
	detour := append(slices.Clone(line[:cut]), orb.Point{line[cut][0] + 0.02, line[cut][1] + 0.05})
	detour = append(detour, line[cut:]...)
	sections, err := ByLine(context.Background(), n, ix, detour, Rules{})
	if err != nil {
		t.Fatal(err)
	}
	var gaps, roads int
	var length measure.Distance
	for _, s := range sections {
		if s.Gap != nil {
			gaps++
			length += geodesic.Length(s.Gap)
			continue
		}
		roads++
	}
	if gaps == 0 || roads < 2 || length < 5000 {
		t.Errorf("%d gaps of %v, %d stretches of road", gaps, length, roads)
	}
}

// A line that crosses a road is not on it.
func TestLineAcross(t *testing.T) {
	n, ix := bundled(t)
	sections, err := ByLine(context.Background(), n, ix, orb.LineString{{-75.11630, 45.3050}, {-75.11630, 45.3095}}, Rules{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sections {
		if s.Gap == nil {
			t.Errorf("found %v for a line across the 417", lengthOf(s.Pieces))
		}
	}
}

func TestLineNowhere(t *testing.T) {
	n, ix := bundled(t)
	for name, line := range map[string]orb.LineString{
		"Atlantic":      {{-40, 45}, {-39.9, 45}},
		"one place":     {perth, perth},
		"antimeridian":  {{179.9, 45}, {-179.9, 45}},
		"pole to pole":  {{0, 90}, {0, -90}},
		"same, on road": {{-75.4, 44.8}, {-75.4, 44.8}},
	} {
		sections, err := ByLine(context.Background(), n, ix, line, Rules{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, s := range sections {
			if s.Gap == nil {
				t.Errorf("%s: found %v", name, s.Pieces)
			}
		}
	}
}

func snap(t *testing.T, ix *network.Index, p orb.Point) network.Position {
	t.Helper()
	s, err := ix.Snap(p, 5000, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s.Position
}

func TestByRoads(t *testing.T) {
	n, ix := bundled(t)
	found, err := ByRoads(context.Background(), n, snap(t, ix, ottawa), snap(t, ix, montreal), []string{"417", "40"}, Rules{})
	if err != nil || len(found.Unmatched) > 0 {
		t.Fatal(found.Unmatched, err)
	}
	named := map[string]bool{}
	for _, p := range found.Pieces {
		named[n.Ref(p.Arc.Edge())] = true
	}
	var unnamed measure.Distance
	for _, p := range found.Unnamed {
		unnamed += p.Length()
	}
	if !named["417"] || !named["40"] || unnamed > 15_000 {
		t.Errorf("roads %v, unnamed %v", named, unnamed)
	}
	// The other order leads nowhere sensible: each road must be used in turn.
	back, err := ByRoads(context.Background(), n, snap(t, ix, ottawa), snap(t, ix, montreal), []string{"40", "417"}, Rules{})
	if err == nil && len(back.Unnamed) <= len(found.Unnamed) {
		t.Errorf("the wrong order needs no more joining: %d pieces", len(back.Unnamed))
	}
}

func TestByRoadsUnmatched(t *testing.T) {
	n, ix := bundled(t)
	found, err := ByRoads(context.Background(), n, snap(t, ix, ottawa), snap(t, ix, montreal), []string{"417", "No such road", "40"}, Rules{})
	if err != nil || !slices.Equal(found.Unmatched, []string{"No such road"}) {
		t.Errorf("%v, %v", found.Unmatched, err)
	}
	if _, err := ByRoads(context.Background(), n, snap(t, ix, ottawa), snap(t, ix, montreal), []string{"No such road"}, Rules{}); !errors.Is(err, ErrUnknown) {
		t.Errorf("with no known road: %v", err)
	}
}

func TestCancelled(t *testing.T) {
	n, ix := bundled(t)
	_, line := route(t, n, ix, perth, cornwall)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := ByLine(ctx, n, ix, line, Rules{}); !errors.Is(err, context.Canceled) {
		t.Errorf("line: %v", err)
	}
	if _, err := ByRoads(ctx, n, snap(t, ix, ottawa), snap(t, ix, montreal), []string{"417"}, Rules{}); !errors.Is(err, context.Canceled) {
		t.Errorf("roads: %v", err)
	}
}
