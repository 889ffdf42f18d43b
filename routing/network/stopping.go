package network

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
)

// Halt is a place where a rig may be meant to stand for long, as it is reached from a way.
type Halt struct {
	Place
	At      measure.Distance // along the way, where it is left
	There   measure.Distance // by road from the way to the place
	Back    measure.Distance // by road from the place to the way
	Rejoins measure.Distance // along the way, where it is met again; before At where one has to turn back
}

// Extra is by how much the way is longer by the place.
func (h Halt) Extra() measure.Distance { return h.There + h.Back + h.At - h.Rejoins }

// atPlace is how near a place its road lies, this project's choice, and how many of them are
// tried: a rest area beside a freeway is not entered from its lanes.
const (
	atPlace   measure.Distance = 300
	mostRoads int              = 8
)

// Halts lists rest and service areas and parking for trucks in the order in which a way comes
// by them, each as often as it does: those within so far of it by roads, there and back each,
// that are open to some rig, by no turn that is forbidden to all at all hours, and without
// turning round on a road. Other turn rules, what stands on these roads and what the signs of a
// place say are not considered: that is judged for a rig. Where the network knows of no such
// place, which [Network.Lacks] tells, it is empty.
func (n *Network) Halts(way []Piece, within measure.Distance) []Halt {
	f := &halts{
		preparer: newPreparer(n),
		index:    NewIndex(n),
		way:      way,
		within:   within,
		at:       map[NodeID][]passed{},
		banned:   n.bannedToAll(),
	}
	near := f.cells(f.follow())
	var out []Halt
	for _, r := range n.places {
		if r.Kind.Stands() && near[cellOf(r.point())] {
			out = append(out, f.of(r)...)
		}
	}
	slices.SortStableFunc(out, func(a, b Halt) int { return cmp.Compare(a.At, b.At) })
	return out
}

// halts finds how places are reached from one way.
type halts struct {
	*preparer
	index  *Index
	way    []Piece
	within measure.Distance
	at     map[NodeID][]passed // where the way comes by nodes
	banned map[[2]Arc]bool
}

// passed is a node that the way comes by: how far along it, by which arc and on by which; noArc: it
// begins or ends there.
type passed struct {
	at     measure.Distance
	in, on Arc
}

const noArc = Arc(-1)

// bannedToAll lists the turns from one arc into another that no motor vehicle may make at any hour.
func (n *Network) bannedToAll() map[[2]Arc]bool {
	out := map[[2]Arc]bool{}
	for i := range n.Bans() {
		b, arcs := n.Ban(i)
		all := b.When == 0 && b.Except == 0 && (b.For == Everyone || b.For == Vehicles || b.For == MotorVehicles)
		if all && len(arcs) == 2 {
			out[[2]Arc{arcs[0], arcs[1]}] = true
		}
	}
	return out
}

// turns reports whether one may drive from an arc on into another.
func (f *halts) turns(in, on Arc) bool {
	return in == noArc || on == noArc || on != in.Back() && !f.banned[[2]Arc{in, on}]
}

// follow notes the nodes of the way, and returns its line.
func (f *halts) follow() (line orb.LineString) {
	sum, last := measure.Distance(0), noArc
	for i, p := range f.way {
		if v := f.Tail(p.Arc); p.Start == 0 && (last == noArc || f.Head(last) != v) {
			f.at[v] = append(f.at[v], passed{sum, noArc, p.Arc})
		}
		sum, last = sum+p.Length(), noArc
		if v := f.Head(p.Arc); p.End == f.Length[p.Arc.Edge()] {
			node := passed{sum, p.Arc, noArc}
			if i+1 < len(f.way) && f.Tail(f.way[i+1].Arc) == v {
				node.on = f.way[i+1].Arc
			}
			f.at[v], last = append(f.at[v], node), p.Arc
		}
		line = append(line, f.Line(p)...)
	}
	return line
}

// cells returns the cells that what is within reach of a line may lie in.
func (f *halts) cells(line orb.LineString) map[[2]int32]bool {
	const metres = cellSize * math.Pi / 180 * float64(EarthRadius) // of a cell from south to north
	out := map[[2]int32]bool{}
	reach := float64(f.within+atPlace) / metres
	around := func(p orb.Point) {
		c, wide := cellOf(p), int32(math.Ceil(reach/math.Cos(p.Lat()*math.Pi/180)))
		for dx := -wide; dx <= wide; dx++ {
			for dy := -int32(math.Ceil(reach)); dy <= int32(math.Ceil(reach)); dy++ {
				out[[2]int32{c[0] + dx, c[1] + dy}] = true
			}
		}
	}
	for i, p := range line {
		steps := 1.0
		if i > 0 {
			steps = math.Ceil(max(math.Abs(p.Lon()-line[i-1].Lon()), math.Abs(p.Lat()-line[i-1].Lat())) / cellSize)
		}
		for k := 1.0; k < steps; k++ {
			from := line[i-1]
			around(orb.Point{from.Lon() + (p.Lon()-from.Lon())*k/steps, from.Lat() + (p.Lat()-from.Lat())*k/steps})
		}
		around(p)
	}
	return out
}

// of tells how a place is reached, once for each time that the way comes by: by the first of its roads
// that leads there and back.
func (f *halts) of(r placeRow) (out []Halt) {
	for _, road := range f.roadsOf(r.point()) {
		there, back := f.spread(road, true), f.spread(road, false)
		for _, leave := range f.leaves(road, there) {
			h := Halt{Place: f.place(r), At: leave.at, There: leave.away}
			if f.rejoin(&h, road, back) {
				out = append(out, h)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// roadsOf lists where roads come nearest to a place that any rig may drive, the nearest first: a lane of its
// parking may be cut off on the map, and another is not. A carriageway counts only where no other road is
// near, and then the nearest alone.
func (f *halts) roadsOf(p orb.Point) (out []Position) {
	open := slices.DeleteFunc(f.index.Near(p, atPlace), func(s Snapped) bool {
		return f.closedAll(MakeArc(s.Edge, false)) && f.closedAll(MakeArc(s.Edge, true))
	})
	for _, s := range open {
		if !f.carriageway(s.Edge) && len(out) < mostRoads {
			out = append(out, s.Position)
		}
	}
	if len(out) == 0 && len(open) > 0 {
		out = append(out, open[0].Position)
	}
	return out
}

// carriageway reports whether a road is built for traffic across the country, or is a one-way road that is not
// a service way: what lies beside it may belong to the other side.
func (f *halts) carriageway(e EdgeID) bool {
	oneWay := f.road(MakeArc(e, false)) || f.road(MakeArc(e, true))
	return f.Class[e].Through() || oneWay && f.Class[e] != Service
}

// branch is where a way is left or met, and how far a place is from there.
type branch struct{ at, away measure.Distance }

// branches lists all of a place's, by how far along the way they lie; away is of arcs that lead away from it, as they
// are drawn, whichever way they are driven.
func (f *halts) branches(road Position, away map[Arc]measure.Distance, towards bool) (out []branch) {
	sum := measure.Distance(0)
	for _, p := range f.way {
		if f.Covers(p, road) {
			out = append(out, branch{at: sum + f.Along(road, p.Arc) - p.Start})
		}
		sum += p.Length()
	}
	for a, d := range away {
		for _, node := range f.at[f.Head(a)] {
			if towards && f.turns(node.in, a.Back()) || !towards && f.turns(a, node.on) {
				out = append(out, branch{node.at, d})
			}
		}
	}
	slices.SortFunc(out, func(a, b branch) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.away, b.away)) })
	return out
}

// leaves returns where the way is best left for a place, once for each time that it comes by: it
// has gone farther on than there and back between two.
func (f *halts) leaves(road Position, there map[Arc]measure.Distance) (out []branch) {
	last := measure.Distance(math.Inf(-1))
	for _, b := range f.branches(road, there, true) {
		switch i := len(out) - 1; {
		case b.at-last > 2*f.within:
			out = append(out, b)
		case b.at+b.away < out[i].at+out[i].away+1: // of equal ones, to the metre, where it is nearer
			out[i] = b
		}
		last = b.at
	}
	return out
}

// rejoin finds where the way is best met again; ok is false where it is not.
func (f *halts) rejoin(h *Halt, road Position, back map[Arc]measure.Distance) (ok bool) {
	for _, b := range f.branches(road, back, false) {
		if math.Abs(float64(b.at-h.At)) <= 2*float64(f.within) && (!ok || b.away-b.at < h.Back-h.Rejoins-1) {
			h.Back, h.Rejoins, ok = b.away, b.at, true
		}
	}
	return ok
}

// spread returns how far the ends of arcs within reach are from a position by roads that are open to some
// rig, or, towards, how far it is from there to the position by the arcs driven back: Dijkstra's search.
func (f *halts) spread(from Position, towards bool) map[Arc]measure.Distance {
	done, open := map[Arc]measure.Distance{}, &reachQueue{}
	reach := func(a Arc, d measure.Distance) { // drives an arc away from the position
		driven := a
		if towards {
			driven = a.Back()
		}
		if d <= f.within && !f.closedAll(driven) {
			heap.Push(open, reached{a, d})
		}
	}
	for _, a := range []Arc{MakeArc(from.Edge, false), MakeArc(from.Edge, true)} {
		reach(a, f.Length[from.Edge]-f.Along(from, a))
	}
	for open.Len() > 0 {
		next := heap.Pop(open).(reached)
		if _, before := done[next.arc]; before {
			continue
		}
		done[next.arc] = next.away
		for _, a := range f.Out(f.Head(next.arc)) {
			if in, on := next.arc, a; !towards && f.turns(in, on) || towards && f.turns(on.Back(), in.Back()) {
				reach(a, next.away+f.Length[a.Edge()])
			}
		}
	}
	return done
}

// reached is an arc to go on from the end of.
type reached struct {
	arc  Arc
	away measure.Distance
}

// reachQueue gives the nearest first.
type reachQueue []reached

func (q reachQueue) Len() int           { return len(q) }
func (q reachQueue) Less(i, j int) bool { return q[i].away < q[j].away }
func (q reachQueue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *reachQueue) Push(x any)        { *q = append(*q, x.(reached)) }
func (q *reachQueue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
