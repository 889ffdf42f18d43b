package trip

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/testdata/needs"
)

// Random routes in Delaware hardly ever, in under 0.5 % of them, come back along the road that they left within 50 m,
// and where they do the answer names a U-turn there; where none is wished for none does. Coming back is seen here on
// the path alone: two pieces of one road, by number or by name, that run against each other by 150 degrees or more.
// Nor do they drive through service roads: before those cost anything in mid-trip 26 of 480 did, 8 of 482 since.
func TestRoutesHardlyTurnBack(t *testing.T) {
	p := delawarePlanner(t)
	want := 200
	if needs.Long {
		want = 1000
	}
	for _, none := range []bool{false, true} {
		r := rigs()[1]
		r.Wishes.NoUTurns = none
		hardlyTurnBack(t, p, r, want)
	}
}

func hardlyTurnBack(t *testing.T, p *Planner, r Request, want int) {
	r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
	b, err := p.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 2))
	position := func() network.Position {
		for {
			e := network.EdgeID(random.IntN(p.Network.Edges()))
			if b.stands.Drivable(e) {
				return network.Position{Edge: e, Offset: p.Network.Length[e] * measure.Distance(random.Float64())}
			}
		}
	}
	routes, back, unnamed, through := 0, 0, 0, 0
	for range want {
		path, err := p.Engine.Route(context.Background(), position(), position(), b.chooses.Rules(choosing.Terms{}))
		if errors.Is(err, search.ErrNoRoute) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		routes++
		if throughService(p.Network, path.Pieces) {
			through++
		}
		if at, turns := comesBack(p.Network, path.Pieces); turns {
			back++
			if !turnNamed(b, path.Pieces, at) {
				unnamed++
				t.Logf("a route comes back at %v and no U-turn is named", at)
			}
		}
	}
	t.Logf("%d of %d routes come back, %d by no U-turn that is named; %d drive through service roads",
		back, routes, unnamed, through)
	if float64(through) >= 0.03*float64(routes) {
		t.Errorf("%d of %d routes drive through service roads", through, routes)
	}
	if float64(back) >= max(1, 0.005*float64(routes)) || unnamed > 0 || r.Wishes.NoUTurns && back > 0 {
		t.Errorf("%d of %d routes come back within 50 m, %d by no U-turn that is named", back, routes, unnamed)
	}
}

// comesBack finds where pieces run back along a road; the ends of the way, where a rig may stand either way round,
// do not count, nor does what is driven of a circle: one goes round it to turn left as well.
func comesBack(n *network.Network, pieces []network.Piece) (at orb.Point, found bool) {
	for i := 1; i < len(pieces)-1; i++ {
		mid := measure.Distance(0)
		for j := i + 1; j < len(pieces)-1 && mid <= 50; j++ {
			in, out := n.Line(pieces[i]), n.Line(pieces[j])
			turn := math.Remainder(heading(in[len(in)-2], in[len(in)-1])-heading(out[0], out[1]), 360)
			if math.Abs(turn) > 150 && min(pieces[i].Length(), pieces[j].Length()) > 5 &&
				alike(n, pieces[i], pieces[j]) && !onCircle(n, pieces[i]) && !onCircle(n, pieces[j]) {
				return in[len(in)-1], true
			}
			mid += pieces[j].Length()
		}
	}
	return at, false
}

func onCircle(n *network.Network, p network.Piece) bool {
	return n.Flags(p.Arc.Edge()).Has(network.Roundabout)
}

func heading(from, to orb.Point) float64 {
	return math.Atan2((to[0]-from[0])*math.Cos(from[1]*math.Pi/180), to[1]-from[1]) * 180 / math.Pi
}

func alike(n *network.Network, a, b network.Piece) bool {
	in, out := a.Arc.Edge(), b.Arc.Edge()
	return in == out || n.Name(in) != "" && n.Name(in) == n.Name(out) || n.Ref(in) != "" && n.Ref(in) == n.Ref(out)
}

// turnNamed reports whether the answer names a U-turn of pieces within 100 m of a place.
func turnNamed(b *builder, pieces []network.Piece, at orb.Point) bool {
	b.drives.Begin()
	b.drives.Pass(driving.Way{Pieces: pieces})
	return slices.ContainsFunc(b.drives.Bends().UTurns, func(u driving.UTurn) bool {
		return geodesic.Between(u.Point, at) <= 100
	})
}
