package match

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// street is a road of a small town, in metres east and north of 76 W, 45 N.
type street struct {
	ref    string
	oneWay bool
	line   [][2]float64
}

func place(p [2]float64) orb.Point {
	const perDegree, cosine = 111_150.0, 0.7071
	return orb.Point{-76 + p[0]/perDegree/cosine, 45 + p[1]/perDegree}
}

func drawn(points ...[2]float64) (out orb.LineString) {
	for _, p := range points {
		out = append(out, place(p))
	}
	return out
}

// town builds the streets, which meet where they have the same ends. Arcs are
// numbered 2 i along street i and 2 i + 1 against it.
func town(t testing.TB, bans [][]network.Arc, streets ...street) (*network.Network, *network.Index, Rules) {
	t.Helper()
	b := network.NewBuilder()
	nodes := map[[2]float64]network.NodeID{}
	node := func(at [2]float64) network.NodeID {
		if _, ok := nodes[at]; !ok {
			nodes[at] = b.Node(place(at))
		}
		return nodes[at]
	}
	for _, s := range streets {
		e := network.Edge{From: node(s.line[0]), To: node(s.line[len(s.line)-1]), Line: drawn(s.line...), Class: network.Primary, Ref: s.ref}
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	b.Graph()
	for _, arcs := range bans {
		b.Ban(arcs, network.Ban{For: network.Everyone})
	}
	n, err := b.Finish(network.About{Name: "made up", Caution: "for tests", Lacks: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	closed := func(a network.Arc) bool { return a.Reverse() && streets[a.Edge()].oneWay }
	return n, network.NewIndex(n), Rules{Closed: closed, Banned: func(int32) bool { return true }}
}

func arcsOf(pieces []network.Piece) (out []network.Arc) {
	for _, p := range pieces {
		out = append(out, p.Arc)
	}
	return out
}

// matched finds a line that lies on roads all along.
func matched(t *testing.T, n *network.Network, ix *network.Index, line orb.LineString, rules Rules) Section {
	t.Helper()
	sections, err := ByLine(context.Background(), n, ix, line, rules)
	if err != nil || len(sections) != 1 || sections[0].Gap != nil {
		t.Fatalf("%d sections, %v: %+v", len(sections), err, sections)
	}
	return sections[0]
}

// What is driven follows the direction of the line, and what is forbidden only
// where nothing else fits.
func TestDirectionOfALine(t *testing.T) {
	divided := []street{ // carriageways 30 m apart, joined at both ends
		{oneWay: true, line: [][2]float64{{0, 0}, {1000, 0}}}, {oneWay: true, line: [][2]float64{{1000, 30}, {0, 30}}},
		{line: [][2]float64{{-500, 15}, {0, 0}}}, {line: [][2]float64{{0, 30}, {-500, 15}}},
		{line: [][2]float64{{1000, 0}, {1500, 15}}}, {line: [][2]float64{{1000, 30}, {1500, 15}}},
	}
	cross := []street{
		{line: [][2]float64{{0, 0}, {500, 0}}}, {line: [][2]float64{{500, 0}, {1000, 0}}},
		{line: [][2]float64{{500, 0}, {500, 400}}}, {line: [][2]float64{{500, 0}, {500, -400}}},
	}
	hairpin := []street{{line: [][2]float64{{0, 0}, {300, 0}, {310, 8}, {300, 16}, {0, 16}}}}
	for name, tc := range map[string]struct {
		streets []street
		bans    [][]network.Arc
		line    orb.LineString
		want    []network.Arc
	}{
		"the carriageway of its direction, drawn in the middle": {divided, nil, drawn([2]float64{-400, 15}, [2]float64{200, 15}, [2]float64{800, 15}, [2]float64{1400, 15}), []network.Arc{4, 0, 8}},
		"the other carriageway on the way back":                 {divided, nil, drawn([2]float64{1400, 15}, [2]float64{800, 15}, [2]float64{200, 15}, [2]float64{-400, 15}), []network.Arc{11, 2, 6}},
		"drawn on the wrong carriageway":                        {divided, nil, drawn([2]float64{50, 30}, [2]float64{500, 30}, [2]float64{950, 30}), []network.Arc{0}},
		"a one-way street, the way it is open":                  {[]street{{oneWay: true, line: [][2]float64{{0, 0}, {500, 0}}}}, nil, drawn([2]float64{50, 0}, [2]float64{450, 0}), []network.Arc{0}},
		"a one-way street against its sign":                     {[]street{{oneWay: true, line: [][2]float64{{0, 0}, {500, 0}}}}, nil, drawn([2]float64{450, 0}, [2]float64{50, 0}), []network.Arc{1}},
		"straight over a junction":                              {cross, nil, drawn([2]float64{100, 0}, [2]float64{900, 0}), []network.Arc{0, 2}},
		"a turn":                                                {cross, nil, drawn([2]float64{100, 0}, [2]float64{500, 0}, [2]float64{500, 300}), []network.Arc{0, 4}},
		"a forbidden turn":                                      {cross, [][]network.Arc{{0, 4}}, drawn([2]float64{100, 0}, [2]float64{500, 0}, [2]float64{500, 300}), []network.Arc{0, 4}},
		"out and back":                                          {cross, nil, drawn([2]float64{100, 0}, [2]float64{500, 0}, [2]float64{500, 300}, [2]float64{500, 0}, [2]float64{900, 0}), []network.Arc{0, 4, 5, 2}},
		"to and fro on one road":                                {cross[:1], nil, drawn([2]float64{50, 0}, [2]float64{450, 0}, [2]float64{50, 0}), []network.Arc{0, 1}},
		"round a hairpin":                                       {hairpin, nil, drawn([2]float64{20, 0}, [2]float64{300, 0}, [2]float64{310, 8}, [2]float64{300, 16}, [2]float64{20, 16}), []network.Arc{0}},
		"round a hairpin, back":                                 {hairpin, nil, drawn([2]float64{20, 16}, [2]float64{300, 16}, [2]float64{310, 8}, [2]float64{300, 0}, [2]float64{20, 0}), []network.Arc{1}},
	} {
		t.Run(name, func(t *testing.T) {
			n, ix, rules := town(t, tc.bans, tc.streets...)
			s := matched(t, n, ix, tc.line, rules)
			if got := arcsOf(s.Pieces); !slices.Equal(got, tc.want) {
				t.Errorf("arcs %v, want %v", got, tc.want)
			}
			if d, whole := lengthOf(s.Pieces), geodesic.Length(tc.line); d < whole-60 || d > whole+60 {
				t.Errorf("%v of roads for %v of line", d, whole)
			}
		})
	}
}

// A line drawn on a carriageway that is closed to its direction says so.
func TestLineNearerToAClosedRoad(t *testing.T) {
	n, ix, rules := town(t, nil, street{oneWay: true, line: [][2]float64{{0, 0}, {1000, 0}}}, street{oneWay: true, line: [][2]float64{{1000, 40}, {0, 40}}})
	var line [][2]float64
	for x := 50.0; x < 1000; x += 75 {
		line = append(line, [2]float64{x, 40})
	}
	s := matched(t, n, ix, drawn(line...), rules)
	if len(s.Nearer) == 0 || s.Nearer[0].Edge != 1 || s.Nearer[0].Closer < 35 || s.Nearer[len(s.Nearer)-1].To < 900 {
		t.Errorf("found %v, nearer %+v", arcsOf(s.Pieces), s.Nearer)
	}
}

// Of parallel roads a noisy line follows its own all along, and where it runs
// in the middle the other one is named.
func TestParallelRoads(t *testing.T) {
	n, ix, rules := town(t, nil,
		street{line: [][2]float64{{0, 0}, {2000, 0}}}, street{line: [][2]float64{{0, 35}, {2000, 35}}},
		street{line: [][2]float64{{0, 0}, {0, 35}}}, street{line: [][2]float64{{2000, 0}, {2000, 35}}})
	random := rand.New(rand.NewPCG(3, 5))
	along := func(north, noise float64) orb.LineString {
		var line [][2]float64
		for x := 50.0; x < 1950; x += 40 {
			line = append(line, [2]float64{x + noise*random.NormFloat64(), north + noise*random.NormFloat64()})
		}
		return drawn(line...)
	}
	for edge, north := range []float64{0, 35} {
		for _, noise := range []float64{0, 5, 10} {
			s := matched(t, n, ix, along(north, noise), rules)
			if got := arcsOf(s.Pieces); !slices.Equal(got, []network.Arc{network.Arc(2 * edge)}) {
				t.Errorf("road %d, noise %v: arcs %v", edge, noise, got)
			}
		}
	}
	if s := matched(t, n, ix, along(17.5, 1), rules); len(s.Rivals) == 0 || len(s.Likely) == 0 {
		t.Errorf("in the middle: found %v, rivals %v, likely %v", arcsOf(s.Pieces), s.Rivals, s.Likely)
	}
}

// A prescribed road is driven on the carriageway of the direction.
func TestByRoadsKeepsDirections(t *testing.T) {
	n, ix, rules := town(t, nil,
		street{ref: "7", oneWay: true, line: [][2]float64{{0, 0}, {3000, 0}}}, street{ref: "7", oneWay: true, line: [][2]float64{{3000, 30}, {0, 30}}},
		street{line: [][2]float64{{-500, 0}, {0, 0}}}, street{line: [][2]float64{{0, 30}, {-500, 0}}}, street{line: [][2]float64{{0, 0}, {0, -300}}},
		street{line: [][2]float64{{3000, 0}, {3000, 30}}}, street{line: [][2]float64{{3000, 0}, {3500, 0}}})
	west, east := snap(t, ix, place([2]float64{-400, 0})), snap(t, ix, place([2]float64{3400, 0}))
	for _, tc := range []struct {
		from, to network.Position
		want     network.EdgeID
	}{{west, east, 0}, {east, west, 1}} {
		found, err := ByRoads(context.Background(), n, tc.from, tc.to, []string{"7"}, rules)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range arcsOf(found.Pieces) {
			if rules.Closed(a) || a.Edge() < 2 && a.Edge() != tc.want {
				t.Errorf("to %v: arcs %v", tc.to, arcsOf(found.Pieces))
			}
		}
	}
}
