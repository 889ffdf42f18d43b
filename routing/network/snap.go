package network

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/golang/geo/s1"
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
	"wayhouse/routing/geodesic"
)

// EarthRadius turns the angles of s2 into metres where only nearness matters;
// lengths that are reported are geodesic. Mean radius R1 of the WGS84
// ellipsoid, 6 371 008.8 m (GeographicLib and IUGG; a sphere is up to 0.6 %
// off).
const EarthRadius measure.Distance = 6_371_008.8

// Index finds the roads near a point. It is safe for use by many goroutines.
type Index struct{ net *Network }

// NewIndex returns the index of a network.
func NewIndex(n *Network) *Index { return &Index{net: n} }

// Snapped is a point brought onto a road.
type Snapped struct {
	Position
	At       orb.Point        // on the road
	Distance measure.Distance // from the point to the road
}

// TooFarError says that no road lies within reach of a point.
type TooFarError struct {
	Point   orb.Point
	Reach   measure.Distance
	Nearest Snapped
	Road    say.Remark // of the nearest
}

func (e *TooFarError) Error() string {
	return fmt.Sprintf("no road within %.1f km of %.5f, %.5f: the nearest, %s, is %.1f km away",
		float64(e.Reach)/1000, e.Point.Lat(), e.Point.Lon(), e.Road, float64(e.Nearest.Distance)/1000)
}

// Snap brings a point onto the nearest road that keep accepts (nil accepts
// all). Beyond reach it returns a [*TooFarError] with the nearest there is.
func (ix *Index) Snap(p orb.Point, reach measure.Distance, keep func(EdgeID) bool) (Snapped, error) {
	best, ok := ix.nearest(p, keep)
	if !ok {
		return Snapped{}, fmt.Errorf("the network has no such road")
	}
	if best.Distance > reach {
		return Snapped{}, &TooFarError{Point: p, Reach: reach, Nearest: best, Road: ix.net.RoadName(best.Edge)}
	}
	return best, nil
}

func (ix *Index) nearest(p orb.Point, keep func(EdgeID) bool) (best Snapped, found bool) {
	ix.outward(p, keep, func(s Snapped, _ s1.Angle) bool {
		best, found = s, true
		return false
	})
	return best, found
}

// Near lists the roads within reach of a point, nearest first, each once.
func (ix *Index) Near(p orb.Point, reach measure.Distance) []Snapped {
	limit := s1.Angle(float64(reach / EarthRadius * 1.01)) // what a sphere may be off
	var out []Snapped
	ix.outward(p, nil, func(s Snapped, angle s1.Angle) bool {
		if angle > limit {
			return false
		}
		if s.Distance <= reach {
			out = append(out, s)
		}
		return true
	})
	return out
}

// Around lists the roads within reach of a point that lie at most so much
// farther than the nearest, nearest first: no more than most of them.
func (ix *Index) Around(p orb.Point, reach, more measure.Distance, most int) []Snapped {
	var out []Snapped
	ix.outward(p, nil, func(s Snapped, _ s1.Angle) bool {
		if s.Distance > reach || len(out) > 0 && s.Distance > out[0].Distance+more {
			return false
		}
		out = append(out, s)
		return len(out) < most
	})
	return out
}

// Passes lists the places at which an edge comes nearest to a point, in the order
// of its line: one for each time that it passes, and goes at least so much farther
// away between two.
func (ix *Index) Passes(e EdgeID, p orb.Point, between measure.Distance) []Snapped {
	shape, target, rise := ix.net.Shape(e), toS2(p), s1.Angle(float64(between/EarthRadius))
	type pass struct {
		segment int
		at      s2.Point
		angle   s1.Angle
	}
	var passes []pass
	farthest := s1.Angle(0) // since the last pass
	for i := 1; i < len(shape); i++ {
		at := s2.Project(target, toS2(shape[i-1]), toS2(shape[i]))
		d, last := at.Distance(target), len(passes)-1
		switch {
		case last < 0 || farthest >= passes[last].angle+rise && d+rise <= farthest:
			passes, farthest = append(passes, pass{i - 1, at, d}), d
		case d < passes[last].angle:
			passes[last], farthest = pass{i - 1, at, d}, d
		}
		farthest = max(farthest, toS2(shape[i]).Distance(target))
	}
	out := make([]Snapped, len(passes))
	for i, s := range passes {
		out[i] = ix.snapped(e, p, s.segment, fromS2(s.at))
	}
	return out
}

// snapped is a point brought onto one segment of an edge.
func (ix *Index) snapped(e EdgeID, p orb.Point, segment int, at orb.Point) Snapped {
	shape := ix.net.Shape(e)
	offset := geodesic.Length(shape[:segment+1]) + geodesic.Between(shape[segment], at)
	return Snapped{
		Position: Position{Edge: e, Offset: min(offset, ix.net.Length[e])}, At: at,
		Distance: geodesic.Between(p, at),
	}
}

// project finds the point of an edge nearest to p, and how far it is on the
// sphere.
func (ix *Index) project(e EdgeID, p orb.Point) (Snapped, s1.Angle) {
	shape, target := ix.net.Shape(e), toS2(p)
	best, bestAngle, bestAt := 0, s1.InfAngle(), s2.Point{}
	for i := 1; i < len(shape); i++ {
		at := s2.Project(target, toS2(shape[i-1]), toS2(shape[i]))
		if d := at.Distance(target); d < bestAngle {
			best, bestAngle, bestAt = i-1, d, at
		}
	}
	return ix.snapped(e, p, best, fromS2(bestAt)), bestAngle
}

// RoadName is what a road is called: its number, its name or its class.
func (n *Network) RoadName(e EdgeID) say.Remark {
	if called := cmp.Or(n.Ref(e), n.Name(e)); called != "" {
		return say.Text(called)
	}
	return say.That("way.unnumbered", "class", n.Class[e])
}

// joint is where a source joins the numbers of roads that run together:
// "132-138", "10/15/20", "US 13;DE 1". The line in "I-95" joins none.
var joint = regexp.MustCompile(`\s*[;/]\s*|(\d[A-Za-z]?)\s*-\s*(\d)`)

// Refs lists the numbers of an edge.
func (n *Network) Refs(e EdgeID) []string { return apart(n.Ref(e)) }

// apart lists the numbers of a reference.
func apart(ref string) []string {
	var out []string
	joined := joint.ReplaceAllString(ref, "$1;$2")
	// twice: what two lines share a digit with
	for _, ref := range strings.Split(joint.ReplaceAllString(joined, "$1;$2"), ";") {
		if ref = strings.TrimSpace(ref); ref != "" {
			out = append(out, ref)
		}
	}
	return out
}

// IsRoad reports whether an edge bears a road number.
func (n *Network) IsRoad(e EdgeID, number string) bool { return n.numbered(e, number) == roads.Yes }

// numbered tells how surely an edge bears a road number: one with other letters
// before it may be the same.
func (n *Network) numbered(e EdgeID, number string) roads.Applies {
	out := roads.Same(n.Ref(e), number)
	for _, ref := range n.Refs(e) {
		out = max(out, roads.Same(ref, number))
	}
	return out
}

// CalledKeys are what an edge of some numbers and a name is called, and Keys what a
// text calls: an edge that bears the text, or perhaps bears it, has one of them.
// They let many texts be looked for at once.
func CalledKeys(ref, name string) []string {
	out := []string{roads.Number(ref)}
	for _, one := range apart(ref) {
		out = append(out, roads.Number(one))
	}
	return slices.DeleteFunc(append(out, word.Street(name)), func(key string) bool { return key == "" })
}

// Keys are described at [CalledKeys].
func Keys(text string) [2]string { return [2]string{roads.Number(text), word.Street(text)} }

// Bears reports whether an edge is called so: by its number or by its name.
func (n *Network) Bears(e EdgeID, road string) bool {
	return n.IsRoad(e, road) || n.Name(e) != "" && word.Street(n.Name(e)) == word.Street(road)
}

// MayBear reports whether an edge perhaps is called so: by an equal number with
// other letters before it.
func (n *Network) MayBear(e EdgeID, road string) bool {
	return !n.Bears(e, road) && n.numbered(e, road) == roads.Perhaps
}

// HasRoad reports whether any edge is called so.
func (n *Network) HasRoad(road string) bool {
	seen := map[[2]StringID]bool{} // edges of one road share their names
	for e := range n.From {
		key := [2]StringID{n.ref[e], n.name[e]}
		if !seen[key] && n.Bears(EdgeID(e), road) {
			return true
		}
		seen[key] = true
	}
	return false
}

func toS2(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

func fromS2(p s2.Point) orb.Point {
	ll := s2.LatLngFromPoint(p)
	return orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
}
