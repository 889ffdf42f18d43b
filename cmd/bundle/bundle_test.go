package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/regs/area"
	"wayhouse/routing/geodesic"
)

const shippedData = "../../data"

// Same sources, same bytes: what is committed is what the sources give.
func TestRebuildGivesTheCommittedFiles(t *testing.T) {
	areas, err := buildAreas(filepath.Join(shippedData, areasSource))
	if err != nil {
		t.Fatal(err)
	}
	roads, err := buildRoads(filepath.Join(shippedData, roadsSource), areas)
	if err != nil {
		t.Fatal(err)
	}
	ready, err := readyRoads(roads)
	if err != nil {
		t.Fatal(err)
	}
	for file, got := range map[string][]byte{areasFile: areas, roadsFile: roads, readyFile: ready} {
		want, err := os.ReadFile(filepath.Join(shippedData, file))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s: rebuilt %d bytes, committed %d, the first difference in line %d", file, len(got), len(want), firstDifference(got, want))
		}
	}
}

func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return 1 + bytes.Count(a[:i], []byte("\n"))
		}
	}
	return 1 + bytes.Count(a[:min(len(a), len(b))], []byte("\n"))
}

// rings lists the rings of the source beside the thinned ones.
func rings(t *testing.T) (names []string, source, thinned []orb.Ring) {
	t.Helper()
	fc, err := readSource(filepath.Join(shippedData, areasSource))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fc.Features {
		before, after := f.Geometry.(orb.MultiPolygon), thin(f.Geometry).(orb.MultiPolygon)
		if len(before) != len(after) {
			t.Fatalf("%v: %d polygons thinned to %d", f.Properties["name"], len(before), len(after))
		}
		for p := range before {
			if len(before[p]) != len(after[p]) {
				t.Fatalf("%v: polygon %d: %d rings thinned to %d", f.Properties["name"], p, len(before[p]), len(after[p]))
			}
			for r := range before[p] {
				names = append(names, fmt.Sprintf("%v, polygon %d, ring %d", f.Properties["name"], p, r))
				source, thinned = append(source, before[p][r]), append(thinned, after[p][r])
			}
		}
	}
	return names, source, thinned
}

// RFC 7946 (2016), section 3.1.6: a ring is closed and has four or more
// positions.
func TestThinnedRingsAreRings(t *testing.T) {
	names, source, thinned := rings(t)
	before, after := 0, 0
	for i, ring := range thinned {
		before, after = before+len(source[i]), after+len(ring)
		if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
			t.Errorf("%s: %d points, from %v to %v", names[i], len(ring), ring[0], ring[len(ring)-1])
		}
	}
	if after >= before {
		t.Errorf("%d points thinned to %d", before, after)
	}
}

// Every point of the source lies within the stated 100 m of the thinned line,
// as GeoJSON draws lines: straight in longitude and latitude (RFC 7946, 2016,
// section 3.1.1).
func TestThinningStaysWithinItsBound(t *testing.T) {
	names, source, thinned := rings(t)
	dropped := 0
	for i := range source {
		kept := eachDropped(source[i], thinned[i], func(p, a, b orb.Point) {
			dropped++
			if d := geodesic.Between(p, nearest(p, a, b)); d > thinning {
				t.Errorf("%s: %v is %.0f m from the line %v to %v", names[i], p, float64(d), a, b)
			}
		})
		if kept != len(thinned[i]) {
			t.Errorf("%s: of %d points only the first %d stand in the source, in its order", names[i], len(thinned[i]), kept)
		}
	}
	if dropped < 1000 {
		t.Errorf("only %d points were dropped", dropped)
	}
}

// eachDropped calls f for every point that thinning dropped, with the two kept
// points that it lay between, and returns how many points it found kept.
func eachDropped(source, thinned orb.Ring, f func(p, a, b orb.Point)) int {
	next := 1
	for _, p := range source[1:] {
		switch {
		case next < len(thinned) && p == thinned[next]:
			next++
		case next < len(thinned):
			f(p, thinned[next-1], thinned[next])
		}
	}
	return next
}

// nearest returns the point of the line a to b nearest to p.
func nearest(p, a, b orb.Point) orb.Point {
	// Degrees of longitude shrink with the cosine of the latitude; without it
	// the foot of the perpendicular would not be the nearest point.
	shrink := math.Cos(p.Lat() * math.Pi / 180)
	dx, dy := (b[0]-a[0])*shrink, b[1]-a[1]
	along := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		along = min(max(((p[0]-a[0])*shrink*dx+(p[1]-a[1])*dy)/l, 0), 1)
	}
	return orb.Point{a[0] + along*(b[0]-a[0]), a[1] + along*(b[1]-a[1])}
}

// An island smaller than the bound stays as it is.
func TestThinKeepsSmallIslands(t *testing.T) {
	const side = thinning / metresPerDegree / 4
	island := orb.Ring{{-80, 45}, {-80 + side, 45}, {-80 + side, 45 + side}, {-80, 45 + side}, {-80, 45}}
	if got := thinRing(island); len(got) != len(island) {
		t.Errorf("%d points of %d left", len(got), len(island))
	}
}

// noAreas is an index of no jurisdiction.
func noAreas(t *testing.T) *area.Index {
	t.Helper()
	ix, err := area.New(nil, area.Tolerance)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// A road that the source does not explain is refused, not guessed at.
func TestRoadRefuses(t *testing.T) {
	line := orb.LineString{{-75, 45}, {-75, 45.1}}
	for name, bad := range map[string]struct {
		geometry   orb.Geometry
		properties geojson.Properties
	}{
		"a point":             {orb.Point{-75, 45}, geojson.Properties{"CLASS": 1, "PROV_EN": "Ontario"}},
		"one position":        {line[:1], geojson.Properties{"CLASS": 1, "PROV_EN": "Ontario"}},
		"no class":            {line, geojson.Properties{"PROV_EN": "Ontario"}},
		"another class":       {line, geojson.Properties{"CLASS": 5, "PROV_EN": "Ontario"}},
		"another province":    {line, geojson.Properties{"CLASS": 1, "PROV_EN": "Manitoba"}},
		"no province at all":  {line, geojson.Properties{"CLASS": 1}},
		"province left blank": {line, geojson.Properties{"CLASS": 1, "PROV_EN": nil}},
	} {
		f := geojson.NewFeature(bad.geometry)
		f.Properties = bad.properties
		if road, err := (nodeSet{}).road(f, noAreas(t)); err == nil {
			t.Errorf("%s: made %v", name, road.Properties)
		}
	}
}
