package draw

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

var somewhere = orb.Point{-75.7, 45.4}

// A place is as far from the middle of a map as it is on WGS84, by GeographicLib's
// problem as package geodesic solves it, and to its side: 1 m in 300 (a sphere is up to
// 0.6 % off).
func TestSitePlaces(t *testing.T) {
	m := newSiteMap(phrase.English(), somewhere, siteLetters, trip.SiteReach)
	for name, tc := range map[string]struct {
		to          orb.Point
		right, down float64
	}{
		"north": {orb.Point{-75.7, 45.402}, 0, -1}, "east": {orb.Point{-75.697, 45.4}, 1, 0},
		"south": {orb.Point{-75.7, 45.3975}, 0, 1}, "west": {orb.Point{-75.7036, 45.4}, -1, 0},
	} {
		far := float64(geodesic.Between(somewhere, tc.to))
		at := m.at(tc.to)
		if math.Abs(at.X/m.perMetre-tc.right*far) > 2 || math.Abs(at.Y/m.perMetre-tc.down*far) > 2 {
			t.Errorf("%s: %v m right, %v m down, of %v m", name, at.X/m.perMetre, at.Y/m.perMetre, far)
		}
	}
}

// Whatever roads lie around, a map stays within its frame, names each at most once, and
// labels keep off one another.
func TestAnySite(t *testing.T) {
	near := rapid.Custom(func(t *rapid.T) orb.Point {
		by := rapid.Float64Range(-0.01, 0.01)
		return orb.Point{somewhere[0] + by.Draw(t, "lon"), somewhere[1] + by.Draw(t, "lat")}
	})
	rapid.Check(t, func(t *rapid.T) {
		line := func(name string) orb.LineString { return rapid.SliceOfN(near, 2, 6).Draw(t, name) }
		s := trip.Site{Spot: driving.Spot{At: 4000, Point: somewhere}, What: say.Text(anyName.Draw(t, "what"))}
		for range rapid.IntRange(0, 12).Draw(t, "roads") {
			s.Roads = append(s.Roads, trip.NearRoad{Line: line("road"), Called: say.Text(anyName.Draw(t, "name")),
				Major: rapid.Bool().Draw(t, "major")})
		}
		p := straight(standsOver("bridge", 1, nil, 0, finding.Unknown))
		p.Legs[0].Line, p.Legs[0].Structures[0].Point = line("way"), near.Draw(t, "bridge")
		in := phrase.In(rapid.SampledFrom(phrase.Languages()).Draw(t, "language"), measure.Both)
		drawn := Site(in, p, s)
		tidy(t, drawn)
		half, names := siteLetters/2*stripLetter, map[string]int{}
		for _, m := range drawn.Marks {
			for _, at := range m.At {
				if m.Kind == picture.Line && at.Y < half && (math.Abs(at.X) > half+1e-6 || at.Y < -half-1e-6) {
					t.Fatalf("%v lies beyond the frame", m)
				}
			}
			if m.Kind == picture.Words && m.Size < 1 {
				names[m.Text]++
			}
		}
		for name, n := range names {
			if n > 1 {
				t.Fatalf("%q is written %d times", name, n)
			}
		}
		p.Sites = []trip.Site{s, s, s, s}
		tidy(t, Trip(in, p, nil))
	})
}
