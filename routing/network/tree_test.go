package network_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// onEarthAt makes a point of any two numbers: longitudes go around, latitudes
// stop at 80, both have 7 decimals as those of OpenStreetMap do.
func onEarthAt(lon, lat float64) orb.Point {
	if lon > 180 || lon < -180 {
		lon = math.Remainder(lon, 360)
	}
	decimals := func(v float64) float64 { return math.Round(v*1e7) / 1e7 }
	return orb.Point{decimals(lon), decimals(max(-80, min(80, lat)))}
}

// somewhere draws a point: anywhere, at the antimeridian, far north or south,
// or in a small neighbourhood where many lines cross.
func somewhere(t *rapid.T) orb.Point {
	lon, lat := rapid.Float64Range(-180, 180), rapid.Float64Range(-80, 80)
	switch rapid.IntRange(0, 3).Draw(t, "where") {
	case 0:
		return onEarthAt(lon.Draw(t, "lon"), lat.Draw(t, "lat"))
	case 1:
		return onEarthAt(180+rapid.Float64Range(-1, 1).Draw(t, "east"), lat.Draw(t, "lat"))
	case 2:
		return onEarthAt(lon.Draw(t, "lon"), 78+rapid.Float64Range(0, 2).Draw(t, "north"))
	default:
		return onEarthAt(179.9+rapid.Float64Range(0, 0.2).Draw(t, "east"), 79+rapid.Float64Range(-1, 1).Draw(t, "north"))
	}
}

// scattered builds a network of random lines: short ones and ones so long that
// the great circle bows far beyond the latitudes of their ends.
func scattered(t *rapid.T) *network.Network {
	b := network.NewBuilder()
	// Enough for one, two or three levels of the tree.
	edges := rapid.OneOf(rapid.IntRange(1, 20), rapid.IntRange(15, 40), rapid.IntRange(256, 300)).Draw(t, "edges")
	for range edges {
		p := somewhere(t)
		line := []orb.Point{p}
		size := rapid.SampledFrom([]float64{0, 1e-4, 0.01, 1, 60}).Draw(t, "size")
		step := rapid.Float64Range(-size, size)
		for range rapid.IntRange(1, 3).Draw(t, "segments") {
			// No segment reaches half around, where its course is open.
			p = onEarthAt(p[0]+step.Draw(t, "east"), p[1]+step.Draw(t, "north")/2)
			line = append(line, p)
		}
		from, to := b.Node(line[0]), b.Node(p)
		if _, err := b.Edge(network.Edge{From: from, To: to, Line: line, Class: network.Primary}); err != nil {
			t.Fatal(err)
		}
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// query draws a point on a line, near one or anywhere, the poles among them.
func query(t *rapid.T, n *network.Network) orb.Point {
	shape := n.Shape(network.EdgeID(rapid.IntRange(0, n.Edges()-1).Draw(t, "edge")))
	p := shape[rapid.IntRange(0, len(shape)-1).Draw(t, "point")]
	aside := rapid.Float64Range(-0.5, 0.5)
	switch rapid.IntRange(0, 4).Draw(t, "query") {
	case 0:
		return p
	case 1:
		return onEarthAt(p[0]+aside.Draw(t, "east"), p[1]+aside.Draw(t, "north"))
	case 2: // beside the middle of a bowed segment
		middle := vector(shape[0]).Add(vector(shape[1]))
		return onEarthAt(degrees(math.Atan2(middle.Y, middle.X)), degrees(math.Asin(middle.Normalize().Z))+aside.Draw(t, "north"))
	case 3:
		return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.SampledFrom([]float64{-90, 90, 89.999}).Draw(t, "pole")}
	default:
		return somewhere(t)
	}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

func vector(p orb.Point) r3.Vector {
	lon, lat := p[0]*math.Pi/180, p[1]*math.Pi/180
	return r3.Vector{X: math.Cos(lat) * math.Cos(lon), Y: math.Cos(lat) * math.Sin(lon), Z: math.Sin(lat)}
}

func between(a, b r3.Vector) float64 { return math.Atan2(a.Cross(b).Norm(), a.Dot(b)) }

// foot returns the point nearest to p on the great circle from a to b, by
// plain vectors: on the circle where p lies abreast of the segment, or an end.
// ok is false where p is the pole of the circle: all of it is equally far
// then, and what is left of p is noise.
func foot(p, a, b r3.Vector) (at r3.Vector, ok bool) {
	nearer := a
	if between(p, b) < between(p, a) {
		nearer = b
	}
	normal := a.Sub(b).Cross(a.Add(b)) // twice a x b, exact for ends close together
	if normal.Norm() < 1e-15 {
		return nearer, true
	}
	normal = normal.Normalize()
	on := p.Sub(normal.Mul(p.Dot(normal)))
	// On the far side of the sphere the ends are nearer.
	if a.Add(b).Dot(on) <= 0 || normal.Cross(a).Dot(on) <= 0 || b.Cross(normal).Dot(on) <= 0 {
		return nearer, on.Norm() > 1e-6
	}
	return on.Normalize(), on.Norm() > 1e-6
}

// measured is how far an edge is from a point, on the sphere and in metres.
// Parts of the edge that are equally far on the sphere differ in metres: the
// least and the most.
type measured struct {
	angle       float64
	least, most measure.Distance
}

// differ tells whether two angles are more apart than arithmetic makes them:
// 1e-11 radians are 0.06 mm. A quarter around from a segment its foot is found by
// the difference of numbers that are almost equal, so it is only good to 0.6 m.
func differ(a, b float64) bool {
	if a > 1 {
		return math.Abs(a-b) > 1e-7
	}
	return math.Abs(a-b) > 1e-11
}

// measureAll measures every edge; ok is false where p is the pole of one.
func measureAll(n *network.Network, p orb.Point) (out []measured, ok bool) {
	at := vector(p)
	out = make([]measured, n.Edges())
	for e := range out {
		shape := n.Shape(network.EdgeID(e))
		var feet []r3.Vector
		m := measured{angle: math.Inf(1), least: measure.Distance(math.Inf(1))}
		for i := 1; i < len(shape); i++ {
			f, ok := foot(at, vector(shape[i-1]), vector(shape[i]))
			if !ok {
				return nil, false
			}
			feet = append(feet, f)
			m.angle = min(m.angle, between(at, f))
		}
		for _, f := range feet {
			if d := between(at, f); !differ(d, m.angle) {
				d := geodesic.Between(p, orb.Point{degrees(math.Atan2(f.Y, f.X)), degrees(math.Atan2(f.Z, math.Hypot(f.X, f.Y)))})
				m.least, m.most = min(m.least, d), max(m.most, d)
			}
		}
		out[e] = m
	}
	return out, true
}

// noise is by how much the metres to a foot may differ between two ways to
// find it. A quarter around from a great circle all its points are equally
// far, so there the foot may be anywhere: 1 % is more than the ellipsoid and
// the sphere differ.
func noise(m measured) measure.Distance {
	if m.angle > 1 {
		return 0.01 * m.most
	}
	return 0.01
}

// Of the edges that are kept, no other is nearer on the sphere than the one
// that a point is brought to.
func TestSnapAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := scattered(t)
		ix := network.NewIndex(n)
		drop := rapid.IntRange(0, 4).Draw(t, "drop") // none, or all but every second, third, ...
		keep := func(e network.EdgeID) bool { return drop == 0 || int(e)%(drop+1) == drop }
		for range 4 {
			p := query(t, n)
			all, ok := measureAll(n, p)
			if !ok {
				continue
			}
			best := math.Inf(1)
			for e, m := range all {
				if keep(network.EdgeID(e)) {
					best = min(best, m.angle)
				}
			}
			got, err := ix.Snap(p, math.MaxFloat64, keep)
			var far *network.TooFarError
			if math.IsInf(best, 1) {
				if err == nil || errors.As(err, &far) {
					t.Fatalf("%v: none kept: edge %d, %v", p, got.Edge, err)
				}
				continue
			}
			if err != nil || !keep(got.Edge) {
				t.Fatalf("%v: edge %d, kept: %t, %v", p, got.Edge, keep(got.Edge), err)
			}
			if d := between(vector(p), vector(got.At)); differ(d, best) || differ(all[got.Edge].angle, best) {
				t.Fatalf("%v: edge %d, snapped to %v at %.12f; it is at %.12f, the nearest at %.12f", p, got.Edge, got.At, d, all[got.Edge].angle, best)
			}
			if got.Distance != geodesic.Between(p, got.At) || !(got.Offset >= 0 && got.Offset <= n.Length[got.Edge]) {
				t.Fatalf("%v: %+v, the edge has %.3f m", p, got, float64(n.Length[got.Edge]))
			}
			if _, err := ix.Snap(p, got.Distance, keep); err != nil {
				t.Fatalf("%v: with just enough reach: %v", p, err)
			}
			if got.Distance > 0 {
				if _, err := ix.Snap(p, got.Distance*0.999, keep); !errors.As(err, &far) || far.Nearest != got {
					t.Fatalf("%v: with too little reach: %v", p, err)
				}
			}
		}
	})
}

// The edges near a point are all that are within reach and no other, each
// once, in the order of the sphere.
func TestNearAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := scattered(t)
		ix := network.NewIndex(n)
		for range 3 {
			p := query(t, n)
			all, ok := measureAll(n, p)
			if !ok {
				continue
			}
			reach := measure.Distance(rapid.Float64Range(0, 500_000).Draw(t, "reach"))
			if rapid.Bool().Draw(t, "as far as an edge") {
				// Beyond the noise: whether it is just within reach is open.
				reach = all[rapid.IntRange(0, len(all)-1).Draw(t, "edge")].most * 1.0001
			}
			listed, last := map[network.EdgeID]bool{}, 0.0
			for _, s := range ix.Near(p, reach) {
				angle := between(vector(p), vector(s.At))
				if listed[s.Edge] || angle < last && differ(angle, last) || differ(angle, all[s.Edge].angle) || s.Distance != geodesic.Between(p, s.At) {
					t.Fatalf("%v: edge %d, listed before: %t, at %.12f after %.12f, measured %.12f", p, s.Edge, listed[s.Edge], angle, last, all[s.Edge].angle)
				}
				listed[s.Edge], last = true, angle
			}
			for e, m := range all {
				switch got := listed[network.EdgeID(e)]; {
				case !got && m.most < reach-noise(m):
					t.Fatalf("%v: edge %d is %.3f m away, within %.3f m, and not listed", p, e, float64(m.most), float64(reach))
				case got && m.least > reach+noise(m):
					t.Fatalf("%v: edge %d is %.3f m away, beyond %.3f m, and listed", p, e, float64(m.least), float64(reach))
				}
			}
		}
	})
}
