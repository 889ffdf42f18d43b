package network

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// UTurn is a sequence of arcs by which a way turns back within a few metres: through a break in the median between
// two carriageways, where carriageways meet, round a small loop at the end of a street; or goes all the way round
// a loop so small, as nobody does but to turn back.
type UTurn struct {
	Start, End uint32
	Across     float32 // metres, from side to side of the line, square to the way that comes
}

// What counts as a U-turn, this project's choice. An arc is long enough to tell which way it runs from shortArm
// on; shorter ones lie between the ways in and out.
const (
	shortArm  = 3.0   // metres
	withinMid = 50.0  // metres between the ways in and out
	mostMid   = 8     // arcs between them
	shortLoop = 60.0  // metres round a loop that is turned round on
	turnsBack = 140.0 // degrees between the ways in and out
	realTurn  = 45.0  // degrees at a junction from which a road is left and does not only bend
)

// UTurns returns the number of U-turns that the roads allow.
func (n *Network) UTurns() int { return len(n.uturns) }

// UTurn returns a U-turn and its arcs.
func (n *Network) UTurn(i int) (UTurn, []Arc) {
	u := n.uturns[i]
	return u, n.uturnArcs[u.Start:u.End]
}

// findUTurns lists the U-turns of all roads. Of two, one within the other, it lists the shorter.
func (n *Network) findUTurns() {
	f := uturnFinder{preparer: newPreparer(n)}
	for a := range Arc(2 * n.Edges()) {
		if float64(n.Length[a.Edge()]) >= shortArm && f.usable(a) {
			f.way = append(f.way[:0], a)
			f.seek()
		}
	}
}

// uturnFinder walks on from one arc.
type uturnFinder struct {
	*preparer
	way []Arc
}

// seek looks for U-turns that begin with the way so far.
func (f *uturnFinder) seek() {
	last := f.way[len(f.way)-1]
	for _, on := range f.Out(f.Head(last)) {
		if on == last.Back() || !f.usable(on) || slices.Contains(f.way, on) {
			continue
		}
		f.way = append(f.way, on)
		switch from := f.turnedSince(); {
		case from == 0:
			f.keep()
		case from > 0: // found from there
		case len(f.way) <= mostMid+1 && f.between(1, len(f.way)) <= withinMid:
			f.seek()
		}
		f.way = f.way[:len(f.way)-1]
	}
}

// usable reports whether an arc may be driven in mid-trip.
func (f *uturnFinder) usable(a Arc) bool { return !f.road(a) && !f.Flags(a.Edge()).Has(AtEnds) }

// between adds up arcs of the way, metres.
func (f *uturnFinder) between(from, to int) (sum float64) {
	for _, a := range f.way[from:to] {
		sum += float64(f.Length[a.Edge()])
	}
	return sum
}

// turnedSince returns the last arc of the way against which its end runs back, or at whose start it closes a loop;
// -1 where there is none.
func (f *uturnFinder) turnedSince() int {
	last := len(f.way) - 1
	head, long := f.Head(f.way[last]), float64(f.Length[f.way[last].Edge()]) >= shortArm
	for i := last - 1; i >= 0 && f.between(i+1, last) <= withinMid; i-- {
		if f.Tail(f.way[i]) == head && f.between(i, last+1) <= shortLoop {
			return i
		}
		if long && float64(f.Length[f.way[i].Edge()]) >= shortArm && f.backs(i) {
			return i
		}
	}
	return -1
}

// backs reports whether the way turns back from an arc to its end, along the same road and at junctions: a hairpin
// is none, and nor is a sharp turn into another road. From one carriageway to the opposite one any junction counts,
// however little is turned at each: in a wedge and round a circle.
func (f *uturnFinder) backs(from int) bool {
	last := len(f.way) - 1
	if !f.SameRoad(f.way[from].Edge(), f.way[last].Edge()) {
		return false
	}
	if math.Abs(f.change(f.way[from], f.way[last], shownBy)) < turnsBack {
		return false
	}
	opposite := f.opposite(f.way[from], f.way[last])
	for i := from; i < last; i++ {
		junction := opposite && len(f.Out(f.Head(f.way[i]))) > 2
		if junction || f.way[i].Edge() == f.way[last].Edge() || f.turnsOff(f.way[i], f.way[i+1]) {
			return true
		}
	}
	return false
}

// opposite reports whether two arcs that run against each other are of two carriageways of their road, drawn apart:
// each is driven one way only, and neither is of a circle, round which one also turns left.
func (f *uturnFinder) opposite(in, out Arc) bool {
	carriageway := func(a Arc) bool { return f.road(a.Back()) && !f.Flags(a.Edge()).Has(Roundabout) }
	apart := f.origin[in.Edge()] != f.origin[out.Edge()] || f.origin[in.Edge()] == 0
	return apart && carriageway(in) && carriageway(out)
}

// turnsOff reports whether driving on from one arc to another leaves the road.
func (f *uturnFinder) turnsOff(in, on Arc) bool {
	at := f.Out(f.Tail(on))
	switch turn := math.Abs(f.change(in, on, 1)); {
	case len(at) <= 2: // carriageways meet as sharply where a divided road ends; else the road only bends
		return turn >= turnsBack && f.road(in.Back()) && f.road(on.Back())
	case turn <= realTurn:
		return false
	}
	same := 0
	for _, a := range at {
		if f.SameRoad(a.Edge(), in.Edge()) {
			same++
		}
	}
	return same != 2 || !f.SameRoad(in.Edge(), on.Edge())
}

// SameRoad reports whether two edges are of one road, by number, by name or by origin.
func (n *Network) SameRoad(a, b EdgeID) bool {
	return a == b || n.origin[a] != 0 && n.origin[a] == n.origin[b] || n.ref[a] != 0 && n.ref[a] == n.ref[b] ||
		n.name[a] != 0 && n.name[a] == n.name[b]
}

// keep adds the way to the U-turns.
func (f *uturnFinder) keep() {
	start := uint32(len(f.uturnArcs))
	f.uturnArcs = append(f.uturnArcs, f.way...)
	f.uturns = append(f.uturns, UTurn{Start: start, End: uint32(len(f.uturnArcs)), Across: f.across()})
}

// across measures how far the line of the way, with shownBy metres at either end, goes to the sides of its first
// heading.
func (f *uturnFinder) across() float32 {
	in, out := f.way[0], f.way[len(f.way)-1]
	sin, cos := math.Sincos(f.heading(in, true, shownBy) * math.Pi / 180)
	var low, high float64 // where the way in ends
	see := func(p orb.Point) {
		east, north := flat(f.Node[f.Head(in)], p)
		side := east*cos - north*sin
		low, high = min(low, side), max(high, side)
	}
	see(f.shown(in, true, shownBy))
	for _, a := range f.way[1 : len(f.way)-1] {
		for _, p := range f.Shape(a.Edge()) {
			see(p)
		}
	}
	see(f.Node[f.Tail(out)])
	see(f.shown(out, false, shownBy))
	return float32(high - low)
}
