package cities

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"
)

const some = 100_000 // nodes, enough for the shares to be those of larger networks

// shape is what a network looks like when its directions are forgotten: the
// shares of its nodes that are stripped with the dead ends, that have two
// neighbours in what is left and that have more, and of the streets in what is
// left those that are one-way.
type shape struct {
	nodes, outDegree, tree, coreTwo, junctions, oneWay float64
}

func TestShape(t *testing.T) {
	for _, tc := range []struct {
		hard      bool
		low, high shape
	}{
		{false, shape{.9, 2.3, .28, .32, .26, .10}, shape{1.1, 2.5, .38, .40, .36, .15}},
		{true, shape{.9, 2.8, .05, .18, .63, .10}, shape{1.05, 3.0, .11, .28, .73, .15}},
	} {
		for seed := range uint64(2) {
			got := shapeOf(Build(Plan{some, tc.hard, seed}))
			got.nodes /= some
			if !within(got, tc.low, tc.high) {
				t.Errorf("hard %v, seed %d:\n got %.3f\nfrom %.3f\n  to %.3f", tc.hard, seed, got, tc.low, tc.high)
			}
		}
	}
}

func within(got, low, high shape) bool {
	for i := range reflect.TypeFor[shape]().NumField() {
		at := func(s shape) float64 { return reflect.ValueOf(s).Field(i).Float() }
		if at(got) < at(low) || at(got) > at(high) {
			return false
		}
	}
	return true
}

func shapeOf(r *Roads) shape {
	near, n := neighbours(r), float64(len(r.Lat))
	degree := stripped(near)
	s := shape{nodes: n, outDegree: float64(len(r.Head)) / n, oneWay: oneWay(r, degree)}
	for _, d := range degree {
		switch {
		case d < 2:
			s.tree += 1 / n
		case d == 2:
			s.coreTwo += 1 / n
		default:
			s.junctions += 1 / n
		}
	}
	return s
}

// neighbours returns the neighbours of each node.
func neighbours(r *Roads) [][]uint32 {
	near := make([][]uint32, len(r.Lat))
	for v := range near {
		for _, w := range r.Head[r.First[v]:r.First[v+1]] {
			near[v], near[w] = append(near[v], w), append(near[w], uint32(v))
		}
	}
	for v := range near {
		slices.Sort(near[v])
		near[v] = slices.Compact(near[v])
	}
	return near
}

// stripped returns the degrees of the nodes after those of degree 1 were taken
// off until none was left; theirs is 0.
func stripped(near [][]uint32) []int {
	degree := make([]int, len(near))
	for v := range near {
		degree[v] = len(near[v])
	}
	for v := range near {
		for at := uint32(v); degree[at] == 1; {
			degree[at] = 0
			at = near[at][slices.IndexFunc(near[at], func(w uint32) bool { return degree[w] > 0 })]
			degree[at]--
		}
	}
	return degree
}

// oneWay returns the share of the streets in what is left that have no way back.
func oneWay(r *Roads, degree []int) float64 {
	var arcs, single float64
	for v := range len(r.Lat) {
		for a := r.First[v]; a < r.First[v+1]; a++ {
			head := r.Head[a]
			if r.Class[a] != Street || degree[v] < 2 || degree[head] < 2 {
				continue
			}
			arcs++
			if !slices.Contains(r.Head[r.First[head]:r.First[head+1]], uint32(v)) {
				single++
			}
		}
	}
	return single / ((arcs + single) / 2)
}

// plans are of all sizes that a test has time for.
func plans() []Plan {
	return []Plan{{}, {1, true, 1}, {500, false, 2}, {5_000, true, 3}, {some, false, 4}, {some, true, 5}}
}

// forEach runs a test on a network of each plan.
func forEach(t *testing.T, check func(t *testing.T, p Plan, r *Roads)) {
	for _, p := range plans() {
		t.Run(fmt.Sprint(p), func(t *testing.T) { check(t, p, Build(p)) })
	}
}

func TestSamePlanSameRoads(t *testing.T) {
	forEach(t, func(t *testing.T, p Plan, r *Roads) {
		if !reflect.DeepEqual(r, Build(p)) {
			t.Error("two networks of one plan differ")
		}
		p.Seed++
		if reflect.DeepEqual(r, Build(p)) {
			t.Error("another seed gives the same network")
		}
	})
}

func TestStronglyConnected(t *testing.T) {
	forEach(t, func(t *testing.T, _ Plan, r *Roads) {
		n := &net{spots: make([]spot, len(r.Lat))}
		for v := range len(r.Lat) {
			for _, w := range r.Head[r.First[v]:r.First[v+1]] {
				n.arcs = append(n.arcs, arc{tail: uint32(v), head: w})
			}
		}
		for _, backward := range []bool{false, true} {
			if slices.Contains(n.links(backward).reach(0), false) {
				t.Errorf("backward %v: not all nodes are reached", backward)
			}
		}
	})
}

func TestArrays(t *testing.T) {
	forEach(t, func(t *testing.T, _ Plan, r *Roads) {
		n, m := len(r.Lat), len(r.Head)
		if len(r.Lat) != n || len(r.Lon) != n {
			t.Errorf("%d and %d coordinates of %d nodes", len(r.Lat), len(r.Lon), n)
		}
		if r.First[0] != 0 || int(r.First[n]) != m || !slices.IsSorted(r.First) {
			t.Error("the arcs are not sorted by tail")
		}
		if len(r.Weight) != m || len(r.Class) != m || len(r.Metres) != m {
			t.Errorf("%d weights, %d classes, %d lengths of %d arcs", len(r.Weight), len(r.Class), len(r.Metres), m)
		}
		for v := range n {
			checkHeads(t, v, r.Head[r.First[v]:r.First[v+1]])
		}
	})
}

// checkHeads wants no loop, and heads that rise, so none twice.
func checkHeads(t *testing.T, tail int, heads []uint32) {
	for i, h := range heads {
		if int(h) == tail || i > 0 && h <= heads[i-1] {
			t.Errorf("node %d has arcs to %d", tail, heads)
		}
	}
}

func TestWeightsAreOfTheClass(t *testing.T) {
	forEach(t, func(t *testing.T, p Plan, r *Roads) {
		class := mannerOf(p.Hard).kmh
		for a, metres := range r.Metres {
			kmh := float64(metres) * 3600 / float64(r.Weight[a])
			if off := kmh/class[r.Class[a]] - 1; r.Weight[a] == 0 || math.Abs(off) > 0.051 {
				t.Fatalf("arc %d of class %d: %g m in %d ms, %g km/h", a, r.Class[a], metres, r.Weight[a], kmh)
			}
		}
	})
}

// The plan is flat, and a coordinate is good to half a metre.
func TestMetresAreOfTheCoordinates(t *testing.T) {
	forEach(t, func(t *testing.T, _ Plan, r *Roads) {
		shrink := math.Cos(middleLat * math.Pi / 180)
		for v := range len(r.Lat) {
			for a := r.First[v]; a < r.First[v+1]; a++ {
				dx := float64(r.Lon[r.Head[a]]-r.Lon[v]) * shrink
				dy := float64(r.Lat[r.Head[a]] - r.Lat[v])
				straight := math.Hypot(dx, dy) * metresPerDegree
				if got := float64(r.Metres[a]); got < straight-1 || got > straight*1.05+1 {
					t.Fatalf("arc %d is %g m long, %g m straight", a, got, straight)
				}
			}
		}
	})
}

func TestStreetsDoNotMeetMotorways(t *testing.T) {
	forEach(t, func(t *testing.T, _ Plan, r *Roads) {
		on := make([]bool, len(r.Lat)) // a motorway, which are all two-way
		for v := range on {
			on[v] = slices.Contains(r.Class[r.First[v]:r.First[v+1]], Motorway)
		}
		for v := range on {
			for a := r.First[v]; a < r.First[v+1]; a++ {
				if r.Class[a] == Street && (on[v] || on[r.Head[a]]) {
					t.Fatalf("street %d from node %d to node %d meets a motorway", a, v, r.Head[a])
				}
			}
		}
	})
}

func TestCapped(t *testing.T) {
	r := Build(Plan{Nodes: 20_000})
	slower := 0
	for a, weight := range r.Capped(70) {
		want := max(r.Weight[a], uint32(math.Round(float64(r.Metres[a])*3600/70)))
		if weight != want {
			t.Fatalf("arc %d of class %d: %d ms, want %d", a, r.Class[a], weight, want)
		}
		if weight > r.Weight[a] {
			slower++
		}
	}
	fast := 0
	for _, c := range r.Class {
		if c <= Arterial {
			fast++
		}
	}
	if slower != fast {
		t.Errorf("%d arcs are slower under a cap of 70 km/h, want the %d of motorways and arterials", slower, fast)
	}
}

// Cells in a row on a Hilbert curve are neighbours, and it visits each once.
func TestHilbert(t *testing.T) {
	const side = 64
	var cells [side * side][2]int
	for x := range side {
		for y := range side {
			cells[hilbert(uint32(x), uint32(y))] = [2]int{x, y}
		}
	}
	for i, c := range cells[1:] {
		if dx, dy := c[0]-cells[i][0], c[1]-cells[i][1]; dx*dx+dy*dy != 1 {
			t.Fatalf("%d comes after %d", c, cells[i])
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Build(Plan{Nodes: some})
	}
}
