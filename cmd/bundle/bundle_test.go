package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// Rebuilding from the sources gives the committed files byte for byte.
func TestCommittedFilesAreCurrent(t *testing.T) {
	dir := filepath.Join("..", "..", "data")
	areas, err := buildAreas(filepath.Join(dir, areasSource))
	if err != nil {
		t.Fatal(err)
	}
	roads, err := buildRoads(filepath.Join(dir, roadsSource), areas)
	if err != nil {
		t.Fatal(err)
	}
	for name, built := range map[string][]byte{areasFile: areas, roadsFile: roads} {
		committed, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !bytes.Equal(built, committed) {
			t.Errorf("%s is not what its source gives (%v); run go run ./cmd/bundle", name, err)
		}
	}
}

// No point that thinning drops lies further than its bound from the line kept,
// in degrees, which overstate distances east and west.
func TestThinningBound(t *testing.T) {
	fc, err := readSource(filepath.Join("..", "..", "data", areasSource))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fc.Features[:12] {
		thinned := thin(f.Geometry).(orb.MultiPolygon)
		for i, polygon := range f.Geometry.(orb.MultiPolygon) {
			kept := thinned[i][0]
			if len(kept) < 4 || kept[0] != kept[len(kept)-1] {
				t.Fatalf("%v: a ring of %d points", f.Properties["name"], len(kept))
			}
			for k := 0; k < len(polygon[0]); k += 25 {
				if d := planar.DistanceFrom(orb.LineString(kept), polygon[0][k]); d*metresPerDegree > thinning+0.01 {
					t.Errorf("%v: a point is %.1f m off", f.Properties["name"], d*metresPerDegree)
				}
			}
		}
	}
}
