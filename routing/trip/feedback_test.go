package trip

import (
	"context"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// feedback counts what became of routes whose lines were given back.
type feedback struct {
	routes                 int
	against, turned        int // driven against a one-way road, or by a forbidden turn
	lost, unsaid           int // came back without a structure; without one that no finding names
	other, gaps, uncertain int // with other roads; with a gap; with a finding about the given line
	length, off            measure.Distance
}

// The lines of the program's own legal routes, drawn on real roads, come back
// as these routes: OpenStreetMap of Delaware (2016-08-10) and of Andorra
// (2018-03-01), both ODbL. Each point of a line is moved by a normal error of the
// stated standard deviation, east and north.
func TestGivenLineComesBack(t *testing.T) {
	routes, farthest := map[string]int{extracts.Delaware: 30, andorra: 20}, measure.Distance(15_000)
	if needs.Long {
		routes, farthest = map[string]int{extracts.Delaware: 150, andorra: 100}, measure.Distance(1_000_000)
	}
	for name, count := range routes {
		p := plannerOf(t, filepath.Join(extracts.Real(t), name))
		for _, noise := range []measure.Distance{0, 5, 10} {
			got := feedBack(t, p, count, farthest, noise)
			t.Logf("%s, %v of noise: %+v", name, noise, got)
			allowed := 0
			if noise > 5 {
				allowed = count / 100
			}
			if got.against > allowed || got.turned > allowed || got.unsaid > 0 {
				t.Errorf("%s, %v of noise: %+v", name, noise, got)
			}
			if got.routes < count/2 {
				t.Errorf("%s: only %d of %d routes", name, got.routes, count)
			}
		}
	}
}

const andorra = "andorra-latest.osm.bz2"

// feedBack plans routes between places at random and gives their lines back.
func feedBack(t *testing.T, p *Planner, count int, farthest, noise measure.Distance) (sum feedback) {
	places, errors := rand.New(rand.NewPCG(16, 1)), rand.New(rand.NewPCG(16, uint64(noise)))
	for range count {
		r := rigs()[0]
		r.Stops[0].Point, r.Stops[1].Point = apart(p.Network, places, farthest)
		want, wantArcs := driven(t, p, r)
		if want == nil {
			continue // there is no way
		}
		var line orb.LineString
		for _, l := range want.Legs {
			line = network.Join(line, l.Line)
		}
		if len(line) < 2 {
			continue
		}
		r.Given, r.Stops = &Given{Line: moved(line, errors, noise)}, nil
		got, gotArcs := driven(t, p, r)
		if got == nil {
			t.Errorf("the line of a route is refused: %v", line)
			continue
		}
		sum.add(p.Network, want, got, wantArcs, gotArcs)
	}
	return sum
}

// apart returns two places on roads at random, no farther apart than stated.
func apart(n *network.Network, random *rand.Rand, farthest measure.Distance) (a, b orb.Point) {
	place := func() orb.Point {
		e := network.EdgeID(random.IntN(n.Edges()))
		return n.Point(network.Position{Edge: e, Offset: n.Length[e] * measure.Distance(random.Float64())})
	}
	for a = place(); b == (orb.Point{}) || geodesic.Between(a, b) > farthest || a == b; {
		b = place()
	}
	return a, b
}

// moved adds an error to each point of a line.
func moved(line orb.LineString, random *rand.Rand, noise measure.Distance) orb.LineString {
	const perDegree = 111_000.0 // m of latitude
	out := line.Clone()
	for i, p := range out {
		step := float64(noise) / perDegree
		out[i] = orb.Point{p.Lon() + step*random.NormFloat64()/math.Cos(p.Lat()*math.Pi/180), p.Lat() + step*random.NormFloat64()}
	}
	return out
}

// driven plans a trip and lists the arcs that it drives; nil where it is
// refused.
func driven(t *testing.T, p *Planner, r Request) (*Plan, []network.Piece) {
	b, err := p.newBuilder(r)
	if err != nil {
		return nil, nil
	}
	ways, err := b.ways(context.Background())
	if err != nil {
		return nil, nil
	}
	out, err := b.complete(ways)
	if err != nil {
		t.Fatal(err)
	}
	var pieces []network.Piece
	for _, w := range ways {
		pieces = append(pieces, w.Pieces...)
	}
	return out, pieces
}

func (sum *feedback) add(n *network.Network, want, got *Plan, wantArcs, gotArcs []network.Piece) {
	sum.routes++
	sum.length += want.Length
	forbidden := func(rule string) bool {
		return slices.ContainsFunc(byRule(got, rule), func(f finding.Finding) bool { return f.Outcome == finding.Forbidden })
	}
	count := func(n *int, yes bool) {
		if yes {
			*n++
		}
	}
	count(&sum.against, forbidden("one-way") && len(byRule(want, "one-way")) == 0)
	count(&sum.turned, forbidden("turn rules"))
	lost, unsaid := missing(want, got)
	count(&sum.lost, lost)
	count(&sum.unsaid, unsaid)
	off := notDriven(wantArcs, gotArcs)
	sum.off += off
	count(&sum.other, off > 0)
	count(&sum.gaps, slices.ContainsFunc(got.Legs, func(l Leg) bool { return l.Unmatched }))
	count(&sum.uncertain, len(byRule(got, "given route")) > 0)
}

// missing reports whether a plan lists fewer structures than another on its
// legs, and whether a finding names none of those that it misses.
func missing(want, got *Plan) (lost, unsaid bool) {
	listed, said := map[string]bool{}, map[string]bool{}
	for _, l := range got.Legs {
		for _, s := range l.Structures {
			listed[s.ID] = true
		}
	}
	for _, f := range findings(got) {
		for _, r := range f.Citations {
			said[r.ID] = true
		}
	}
	for _, l := range want.Legs {
		for _, s := range l.Structures {
			lost = lost || !listed[s.ID]
			unsaid = unsaid || !listed[s.ID] && !said[s.ID]
		}
	}
	return lost, unsaid
}

// notDriven adds up the arcs of a way that another does not drive, but for
// short stretches, which the ends of a line may be off by.
func notDriven(want, got []network.Piece) (sum measure.Distance) {
	const short measure.Distance = 30
	driven := map[network.Arc]bool{}
	for _, p := range got {
		driven[p.Arc] = true
	}
	for i, p := range want {
		if !driven[p.Arc] && (p.Length() > short || i > 0 && i < len(want)-1) {
			sum += p.Length()
		}
	}
	return sum
}

// A line that begins a few metres before a corner, written to 7 decimals as exports do, comes back with
// that corner, on the bundled roads and in Delaware: every arc of the route is driven again, and no other.
func TestLineOfACornerAtTheStart(t *testing.T) {
	for name, p := range map[string]*Planner{"bundled": planner(t), "Delaware": delawarePlanner(t)} {
		random := rand.New(rand.NewPCG(17, 4))
		routes, lost := 0, 0
		for routes < 25 {
			n, e := p.Network, network.EdgeID(random.IntN(p.Network.Edges()))
			if at := n.Tail(network.MakeArc(e, false)); len(n.Out(at)) < 3 || n.Length[e] < 20 {
				continue
			}
			r := rigs()[0]
			_, r.Stops[1].Point = apart(n, random, 10_000)
			r.Stops[0].Point = n.Point(network.Position{Edge: e, Offset: measure.Distance(1 + 7*random.Float64())})
			want, wantPieces := driven(t, p, r)
			if want == nil || len(wantPieces) < 3 || wantPieces[0].Length() > 10 {
				continue
			}
			var line orb.LineString
			for _, l := range want.Legs {
				line = network.Join(line, l.Line)
			}
			for i, at := range line {
				line[i] = orb.Point{math.Round(at[0]*1e7) / 1e7, math.Round(at[1]*1e7) / 1e7}
			}
			r.Given = &Given{Line: line}
			got, gotPieces := driven(t, p, r)
			if got == nil {
				t.Fatalf("%s: the line of a route is refused", name)
			}
			routes++
			if a, b := arcsOf(wantPieces), arcsOf(gotPieces); !slices.Equal(a, b) {
				lost++
				t.Logf("%s: %v became %v", name, a, b)
			}
		}
		t.Logf("%s: %d of %d routes do not come back", name, lost, routes)
		if lost > 0 {
			t.Errorf("%s: %d of %d routes do not come back", name, lost, routes)
		}
	}
}

// arcsOf lists the arcs that pieces drive, each once in a row, but for a last one of a few centimetres.
func arcsOf(pieces []network.Piece) (out []network.Arc) {
	for _, p := range pieces {
		if p.Length() > 0.1 {
			out = append(out, p.Arc)
		}
	}
	return slices.Compact(out)
}
