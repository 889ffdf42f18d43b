package osm_test

import (
	"bufio"
	"bytes"
	"container/heap"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// What follows reads extracts without this project's reader: osmium decodes
// them, and the lines that it writes are taken apart here.

// oplElement is a node, way or relation as a line of OPL says it.
type oplElement struct {
	kind  byte // n, w or r
	id    int64
	tags  map[string]string
	point orb.Point
	refs  []int64 // nodes of a way

	members []oplMember // of a relation
}

// oplMember is an element, such as "w12", and its role.
type oplMember struct{ element, role string }

// osmium runs the other reader and returns what it writes.
func osmium(t *testing.T, args ...string) []byte {
	t.Helper()
	needs.Require(t, needs.Osmium)
	var problem bytes.Buffer
	c := exec.Command("osmium", args...)
	c.Stderr = &problem
	out, err := c.Output()
	if err != nil {
		t.Fatalf("osmium %s: %v\n%s", strings.Join(args, " "), err, problem.String())
	}
	return out
}

// listed keeps what several tests read.
var listed sync.Map // of paths to functions

// elements lists what an extract holds, in its order.
func elements(t *testing.T, path string) []oplElement {
	t.Helper()
	needs.Require(t, needs.Osmium)
	once, _ := listed.LoadOrStore(path, sync.OnceValue(func() []oplElement { return readOPL(t, path) }))
	return once.(func() []oplElement)()
}

func readOPL(t *testing.T, path string) []oplElement {
	t.Helper()
	var out []oplElement
	lines := bufio.NewScanner(bytes.NewReader(osmium(t, "cat", "-f", "opl", path)))
	lines.Buffer(nil, 16<<20)
	for lines.Scan() {
		out = append(out, parseOPL(t, lines.Text()))
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// parseOPL reads one line. Source: the manual of the OPL file format (osmcode,
// 2024): fields between spaces, each named by its first letter, characters
// escaped as %hex%.
func parseOPL(t *testing.T, line string) oplElement {
	t.Helper()
	number := func(s string) int64 {
		n, err := strconv.ParseInt(s, 10, 64)
		if err != nil {
			t.Fatalf("%q in %q: %v", s, line, err)
		}
		return n
	}
	degrees := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%q in %q: %v", s, line, err)
		}
		return v
	}
	fields := strings.Split(line, " ")
	e := oplElement{kind: fields[0][0], id: number(fields[0][1:])}
	for _, f := range fields[1:] {
		if len(f) < 2 {
			continue
		}
		switch value := f[1:]; f[0] {
		case 'T':
			e.tags = map[string]string{}
			for _, tag := range strings.Split(value, ",") {
				k, v, _ := strings.Cut(tag, "=")
				e.tags[unescape(t, k)] = unescape(t, v)
			}
		case 'x':
			e.point[0] = degrees(value)
		case 'y':
			e.point[1] = degrees(value)
		case 'M':
			for _, m := range strings.Split(value, ",") {
				element, role, _ := strings.Cut(m, "@")
				e.members = append(e.members, oplMember{element, unescape(t, role)})
			}
		case 'N':
			for _, ref := range strings.Split(value, ",") {
				e.refs = append(e.refs, number(strings.TrimPrefix(ref, "n")))
			}
		}
	}
	return e
}

func unescape(t *testing.T, s string) string {
	t.Helper()
	parts := strings.Split(s, "%")
	for i := 1; i < len(parts); i += 2 { // every other one is a character in hex
		code, err := strconv.ParseInt(parts[i], 16, 32)
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		parts[i] = string(rune(code))
	}
	return strings.Join(parts, "")
}

// classes are the values of highway that vehicles use, with what they become.
// Source: OpenStreetMap wiki, Key:highway.
var classes = map[string]network.Class{
	"motorway": network.Freeway, "motorway_link": network.Freeway, "trunk": network.Trunk, "trunk_link": network.Trunk,
	"primary": network.Primary, "primary_link": network.Primary, "secondary": network.Secondary,
	"secondary_link": network.Secondary,
	"tertiary":       network.Tertiary, "tertiary_link": network.Tertiary, "unclassified": network.Minor,
	"residential":   network.Residential,
	"living_street": network.Living, "service": network.Service, "track": network.Track, "road": network.Unclassed,
}

// drivable tells whether a way is a road or a ferry that takes vehicles, and
// by which name it is counted. One that names a single node, even twice, leads
// nowhere.
func (e oplElement) drivable() (name string, ok bool) {
	leads := slices.ContainsFunc(e.refs, func(ref int64) bool { return ref != e.refs[0] })
	if e.kind != 'w' || !leads || e.tags["area"] == "yes" {
		return "", false
	}
	if e.tags["route"] == "ferry" {
		return "ferry", e.tags["motor_vehicle"] != "no" && e.tags["vehicle"] != "no"
	}
	_, ok = classes[e.tags["highway"]]
	return e.tags["highway"], ok
}

// directions tells which ways a road may be driven. Source: OpenStreetMap
// wiki, Key:oneway.
func (e oplElement) directions() (along, against bool) {
	switch e.tags["oneway"] {
	case "yes", "true", "1":
		return true, false
	case "-1", "reverse":
		return false, true
	case "no", "false", "0", "reversible", "alternating":
		return true, true
	}
	circle := e.tags["junction"] == "roundabout" || e.tags["junction"] == "circular"
	return true, !circle && e.tags["highway"] != "motorway"
}

// oracle is a graph of every node of every road, joined by nothing but ids.
type oracle struct {
	number    map[int64]int32 // of a node by its id
	id        []int64
	point     []orb.Point
	uses      []int
	neighbour [][]step
}

type step struct {
	to     int32
	metres float64
}

func newOracle(all []oplElement) *oracle {
	o := &oracle{number: map[int64]int32{}}
	at := map[int64]orb.Point{}
	for _, e := range all {
		if e.kind == 'n' {
			at[e.id] = e.point
		}
	}
	number := func(id int64) int32 {
		i, ok := o.number[id]
		if !ok {
			i = int32(len(o.point))
			o.number[id] = i
			o.id, o.point, o.uses, o.neighbour = append(
				o.id,
				id,
			), append(
				o.point,
				at[id],
			), append(
				o.uses,
				0,
			), append(
				o.neighbour,
				nil,
			)
		}
		o.uses[i]++
		return i
	}
	for _, e := range all {
		if _, ok := e.drivable(); !ok {
			continue
		}
		along, against := e.directions()
		from := number(e.refs[0])
		o.uses[from]++ // an end is a junction even where nothing else meets it
		for _, ref := range e.refs[1:] {
			to := number(ref)
			metres := float64(geodesic.Between(o.point[from], o.point[to]))
			if along {
				o.neighbour[from] = append(o.neighbour[from], step{to, metres})
			}
			if against {
				o.neighbour[to] = append(o.neighbour[to], step{from, metres})
			}
			from = to
		}
		o.uses[from]++
	}
	return o
}

// from measures the shortest ways from one node to all others; what cannot be
// reached is infinitely far.
func (o *oracle) from(start int32) []float64 {
	far := make([]float64, len(o.point))
	for i := range far {
		far[i] = math.Inf(1)
	}
	far[start] = 0
	open := &steps{{start, 0}}
	for open.Len() > 0 {
		at := heap.Pop(open).(step)
		if at.metres > far[at.to] {
			continue
		}
		for _, next := range o.neighbour[at.to] {
			if d := at.metres + next.metres; d < far[next.to] {
				far[next.to] = d
				heap.Push(open, step{next.to, d})
			}
		}
	}
	return far
}

// steps is a heap, the nearest first.
type steps []step

func (s steps) Len() int           { return len(s) }
func (s steps) Less(i, j int) bool { return s[i].metres < s[j].metres }
func (s steps) Swap(i, j int)      { s[i], s[j] = s[j], s[i] }
func (s *steps) Push(x any)        { *s = append(*s, x.(step)) }
func (s *steps) Pop() any {
	last := (*s)[len(*s)-1]
	*s = (*s)[:len(*s)-1]
	return last
}

// shortest searches the network for the shortest way by one-way flags alone.
// It is the only place that knows how a search is called.
func shortest(
	n *network.Network,
	flags []network.Flags,
	from, to network.Position,
) (metres float64, ok bool, err error) {
	path, err := search.Plain(context.Background(), n, from, to, search.Rules{
		Cost: func(p network.Piece, _ search.Millis) (search.Millis, bool) { // a millimetre a millisecond
			return search.Millis(1000 * p.Length()), drives(n, flags, p)
		},
	})
	if errors.Is(err, search.ErrNoRoute) {
		return 0, false, nil
	}
	return float64(path.Length()), err == nil, err
}

// drives tells whether a piece is open. A point of a road is open both ways:
// so a position at the end of an edge stands for the node there, whatever the
// edge allows.
func drives(n *network.Network, flags []network.Flags, p network.Piece) bool {
	e := p.Arc.Edge()
	if p.Length() == 0 && n.Length[e] > 0 {
		return true
	}
	f := flags[n.RoadID(e)]
	return !(f.Has(network.OnewayAlong) && p.Arc.Reverse() || f.Has(network.OnewayAgainst) && !p.Arc.Reverse())
}

// coordinates are a point in whole 1e-7 degrees, in which the source gives them.
type coordinates [2]int64

func placeOf(p orb.Point) coordinates {
	return coordinates{int64(math.Round(p[0] * 1e7)), int64(math.Round(p[1] * 1e7))}
}

// positions finds for each place that is one node of the network a position at
// that node.
func positions(n *network.Network) map[coordinates]network.Position {
	out, count := map[coordinates]network.Position{}, map[coordinates]int{}
	for id := range network.NodeID(len(n.Node)) {
		at := placeOf(n.Node[id])
		count[at]++
		for _, a := range n.Out(id) {
			e := a.Edge()
			if n.Length[e] == 0 {
				continue // its two ends cannot be told apart by how far along they lie
			}
			offset := measure.Distance(0)
			if a.Reverse() {
				offset = n.Length[e]
			}
			out[at] = network.Position{Edge: e, Offset: offset}
		}
	}
	for at, nodes := range count {
		if nodes > 1 {
			delete(out, at)
		}
	}
	return out
}

// Shortest ways through the network are as long as those through the extract
// as another reader gives it: nothing is lost, joined, cut or turned round.
func TestShortestWaysAgainstOracle(t *testing.T) {
	needs.Require(t, needs.Osmium)
	t.Parallel()
	const sources, targets = 50, 10
	n, _ := delawareNetwork(t)
	o := newOracle(elements(t, filepath.Join(extracts.Real(t), delaware)))
	flags := make([]network.Flags, n.Roads())
	for i := range flags {
		flags[i] = n.Record(network.RoadID(i)).Flags
	}

	standing := positions(n)
	shared := map[coordinates]int{}
	for i := range o.point {
		shared[placeOf(o.point[i])]++
	}
	var pool []int32
	alike := 0
	for i, uses := range o.uses {
		at := placeOf(o.point[i])
		if uses < 2 {
			continue
		}
		if _, ok := standing[at]; ok && shared[at] == 1 {
			pool = append(pool, int32(i))
		} else if shared[at] > 1 {
			alike++ // several nodes at one place: which is which cannot be told
		} else {
			t.Errorf("node %d joins or ends roads and is no single node of the network", o.id[i])
		}
	}
	if len(pool) < 50_000 || alike > 200 { // so few cannot hide much
		t.Fatalf("%d nodes to choose from, %d others share a place", len(pool), alike)
	}

	r := rand.New(rand.NewPCG(2016, 8)) // any seed, but always the same
	unreachable, longest := 0, 0.0
	for range sources {
		from := pool[r.IntN(len(pool))]
		far := o.from(from)
		for range targets {
			to := pool[r.IntN(len(pool))]
			want := far[to]
			got, ok, err := shortest(n, flags, standing[placeOf(o.point[from])], standing[placeOf(o.point[to])])
			switch {
			case err != nil:
				t.Fatal(err)
			case ok == math.IsInf(want, 1):
				t.Errorf("node %d to node %d: reached: %t; the oracle's way has %.3f m", o.id[from], o.id[to], ok, want)
			case !ok:
				unreachable++
			case math.Abs(got-want) > 1e-9*want:
				t.Errorf("node %d to node %d: %.9f m, the oracle's way has %.9f m", o.id[from], o.id[to], got, want)
			default:
				longest = max(longest, got)
			}
		}
	}
	t.Logf("%d pairs, %d of them not joined, the longest way %.1f km", sources*targets, unreachable, longest/1000)
	if unreachable == 0 || unreachable > sources*targets/2 || longest < 100_000 {
		t.Errorf("%d pairs not joined, the longest way %.0f m: the pairs show too little", unreachable, longest)
	}
}

// The oracle itself, on roads drawn by hand: 1 - 2 - 3 and back by 3 - 4 - 1.
func TestOracle(t *testing.T) {
	build := func(tags string) *oracle {
		var all []oplElement
		for _, line := range []string{
			"n1 v1 x0 y0", "n2 v1 x0.001 y0", "n3 v1 x0.002 y0", "n4 v1 x0.001 y0.001 Tname=a%20%b%2c%%3d%",
			"w1 v1 T" + tags + " Nn1,n2,n3", "w2 v1 Thighway=road Nn3,n4,n1", "w3 v1 Thighway=footway Nn2,n4",
			"w4 v1 Thighway=track,area=yes Nn2,n4",
		} {
			all = append(all, parseOPL(t, line))
		}
		if got := all[3].tags["name"]; got != "a b,=" {
			t.Fatalf("a name reads %q", got)
		}
		return newOracle(all)
	}
	// Lengths by the equatorial radius of WGS84, 6 378 137 m.
	direct := 0.002 * math.Pi / 180 * 6_378_137
	for tags, open := range map[string][2]bool{ // from 1 to 3, from 3 to 1
		"highway=primary":                             {true, true},
		"highway=motorway":                            {true, false},
		"highway=motorway,oneway=no":                  {true, true},
		"highway=motorway_link":                       {true, true},
		"highway=primary,oneway=yes":                  {true, false},
		"highway=primary,oneway=true":                 {true, false},
		"highway=primary,oneway=1":                    {true, false},
		"highway=primary,oneway=-1":                   {false, true},
		"highway=primary,oneway=reverse":              {false, true},
		"highway=primary,junction=roundabout":         {true, false},
		"highway=primary,junction=circular":           {true, false},
		"highway=primary,junction=circular,oneway=no": {true, true},
		"highway=steps":                               {false, false},
		"route=ferry":                                 {true, true},
		"route=ferry,motor_vehicle=no":                {false, false},
		"route=ferry,vehicle=no":                      {false, false},
		"highway=primary,area=yes":                    {false, false},
	} {
		o := build(tags)
		for i, pair := range [][2]int64{{1, 3}, {3, 1}} {
			got := o.from(o.number[pair[0]])[o.number[pair[1]]]
			if straight := math.Abs(got-direct) < 1e-6; straight != open[i] || math.IsInf(got, 1) {
				t.Errorf("%s: node %d to %d: %.6f m, straight is %.6f m and open: %t", tags, pair[0], pair[1], got, direct, open[i])
			}
		}
	}
	o := build("highway=steps")
	if _, ok := o.number[2]; ok || !slices.Equal(o.uses, []int{2, 1, 2}) {
		t.Errorf("nodes %v, used %v times", o.id, o.uses)
	}
}
