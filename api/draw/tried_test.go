package draw

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/routing/rig/sweep"
)

// The drawing of a corner is that of the one that was tried: its edges stand as far apart
// as its ways are wide, the rig stays off them by what the answer says, and it leaves to
// the side that it turns to.
func TestTriedCornerIsDrawn(t *testing.T) {
	r, s := inventedRig(t)
	for name, place := range map[string]sweep.Place{
		"left":     {From: 13, Into: 10, Angle: 90 * sweep.Degree, Side: sweep.Left},
		"right":    {From: 13, Into: 10, Angle: 90 * sweep.Degree, Side: sweep.Right},
		"driveway": {From: 14, Into: 11, Angle: 80 * sweep.Degree, Side: sweep.Right, GoesOn: true, Kerb: 3},
		"gate": {
			From: 12, Into: 12, Angle: 90 * sweep.Degree, Side: sweep.Left, Gate: &sweep.Gate{Width: 8, Behind: 6},
		},
		"gate straight": {From: 8, Into: 8, Gate: &sweep.Gate{Width: 5, Offset: 1}},
	} {
		tried, err := r.Try(place)
		if err != nil {
			t.Fatal(err)
		}
		p := newPlan(phrase.English(), r, s, true)
		p.tried = tried
		edges, bodies := laid(p.triedOut(190).Marks)
		if len(edges) < 2 || len(bodies) != 2*(stances+1) {
			t.Fatalf("%s: %d edges, %d bodies", name, len(edges), len(bodies))
		}
		fit, _ := tried.Fit.Value()
		if got, want := leastRoom(edges, bodies), float64(min(fit.Left, fit.Right)); got < want-0.01 {
			t.Errorf("%s: drawn %v m from an edge, the answer says %v", name, got, want)
		}
		last := bodies[2*(stances-1)] // before the stance where it is bent most
		right := last[0][0] > bodies[0][0][0]
		if place.Angle > 0 && right != (place.Side == sweep.Right) {
			t.Errorf("%s: leaves to the right: %v", name, right)
		}
		in := bodies[1] // the unit, where it comes in
		if wide := widthAt(edges, in[3][1]); math.Abs(wide-float64(place.From)) > 0.01 {
			t.Errorf("%s: the way in is drawn %v m wide, not %v", name, wide, place.From)
		}
		tidy(t, Tried(phrase.English(), r, s, tried, true))
	}
}

// laid are the edges and the bodies of a drawing in metres, y up.
func laid(marks []picture.Mark) (edges, bodies []orb.LineString) {
	for _, m := range marks {
		var at orb.LineString
		for _, p := range m.At {
			at = append(at, orb.Point{p.X / 1000, -p.Y / 1000})
		}
		switch m.Name {
		case "edge of the way":
			edges = append(edges, at)
		case "tow vehicle, from above", "unit, from above":
			bodies = append(bodies, append(at, at[0]))
		}
	}
	return edges, bodies
}

// leastRoom is the least distance of a corner of a body from an edge.
func leastRoom(edges, bodies []orb.LineString) float64 {
	least := math.Inf(1)
	for _, b := range bodies {
		for _, corner := range b {
			for _, e := range edges {
				least = min(least, planar.DistanceFrom(e, corner))
			}
		}
	}
	return least
}

// widthAt is how far apart the outermost edges are that a line across crosses.
func widthAt(edges []orb.LineString, up float64) float64 {
	left, right := math.Inf(1), math.Inf(-1)
	for _, e := range edges {
		for i := 1; i < len(e); i++ {
			if a, b := e[i-1], e[i]; (a[1]-up)*(b[1]-up) <= 0 && a[0] == b[0] {
				left, right = min(left, a[0]), max(right, a[0])
			}
		}
	}
	return right - left
}

// A corner that cannot be driven is not drawn as another one: the words say why.
func TestTriedCornerNotKnown(t *testing.T) {
	r, s := bareRig(t)
	tried, err := r.Try(sweep.Place{From: 8, Into: 6, Angle: 90 * sweep.Degree, Side: sweep.Left})
	if err != nil || tried.Fit.Known() {
		t.Fatal(tried, err)
	}
	p := newPlan(phrase.English(), r, s, true)
	p.tried = tried
	if c := p.triedOut(190); !c.Bare() || len(c.Marks) == 0 {
		t.Errorf("%v", c.Marks)
	}
}
