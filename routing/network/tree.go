package network

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/s1"
	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
)

// The edges are found by place in a packed tree of boxes: edges sorted along
// the space-filling curve of s2, each box of a level bounding branching boxes
// of the level below. It needs no building when a file is opened.

// branching is how many boxes one box of the next level bounds.
const branching = 16

// box bounds edges in 1e-7 degrees. A box across the antimeridian has its west
// above its east.
type box struct{ South, North, West, East int32 }

const boxUnit = 1e7

func boxOf(r s2.Rect) box {
	down := func(radians float64) int32 { return int32(math.Floor(s1.Angle(radians).Degrees() * boxUnit)) }
	up := func(radians float64) int32 { return int32(math.Ceil(s1.Angle(radians).Degrees() * boxUnit)) }
	return box{South: down(r.Lat.Lo), North: up(r.Lat.Hi), West: down(r.Lng.Lo), East: up(r.Lng.Hi)}
}

func (b box) rect() s2.Rect {
	radians := func(v int32) float64 { return (s1.Angle(v) / boxUnit * s1.Degree).Radians() }
	clamp := func(v, most float64) float64 { return max(-most, min(v, most)) }
	return s2.Rect{
		Lat: r1.Interval{Lo: clamp(radians(b.South), math.Pi/2), Hi: clamp(radians(b.North), math.Pi/2)},
		Lng: s1.Interval{Lo: clamp(radians(b.West), math.Pi), Hi: clamp(radians(b.East), math.Pi)},
	}
}

// holds reports whether another box lies in this one, to the rounding of a
// conversion, and whether this one is on the Earth.
func (b box) holds(o box) bool {
	const slack = 1
	sound := b.South >= -90*boxUnit-slack && b.North <= 90*boxUnit+slack && b.West >= -180*boxUnit-slack &&
		b.West <= 180*boxUnit+slack &&
		b.East >= -180*boxUnit-slack && b.East <= 180*boxUnit+slack
	if !sound || b.South > o.South+slack || b.North < o.North-slack {
		return false
	}
	if b.West <= b.East && o.West <= o.East {
		return b.West <= o.West+slack && b.East >= o.East-slack
	}
	return b.rect().Lng.Expanded(4 * slack / boxUnit).ContainsInterval(o.rect().Lng)
}

// plant builds the tree.
func (n *Network) plant() {
	type leaf struct {
		edge EdgeID
		cell s2.CellID
		box  box
	}
	leaves := make([]leaf, n.Edges())
	for e := range leaves {
		bound := edgeBound(n.Shape(EdgeID(e)))
		leaves[e] = leaf{EdgeID(e), s2.CellIDFromLatLng(bound.Center()), boxOf(bound)}
	}
	slices.SortFunc(leaves, func(a, b leaf) int {
		return cmp.Or(cmp.Compare(a.cell, b.cell), cmp.Compare(a.edge, b.edge))
	})
	n.treeEdge, n.tree = make([]EdgeID, len(leaves)), make([]box, 0, treeSize(len(leaves)))
	for i, l := range leaves {
		n.treeEdge[i] = l.edge
		n.tree = append(n.tree, l.box)
	}
	for start, end := 0, len(n.tree); end-start > 1; {
		for i := start; i < end; i += branching {
			bound := n.tree[i].rect()
			for _, b := range n.tree[i+1 : min(i+branching, end)] {
				bound = bound.Union(b.rect())
			}
			n.tree = append(n.tree, boxOf(bound))
		}
		start, end = end, len(n.tree)
	}
}

// edgeBound bounds the great circles between the points of a line, which bow
// beyond the box of the points.
func edgeBound(shape []orb.Point) s2.Rect {
	bounder := s2.NewRectBounder()
	for _, p := range shape {
		bounder.AddPoint(toS2(p))
	}
	return bounder.RectBound()
}

// treeSize returns the number of boxes over so many edges.
func treeSize(edges int) int {
	sum := edges
	for edges > 1 {
		edges = (edges + branching - 1) / branching
		sum += edges
	}
	return sum
}

// treeItem is a box, or an edge, to be looked at in the order of distance.
type treeItem struct {
	angle     s1.Angle // no more than the distance of anything in it
	level, at int      // which box of which level; level -1: an edge
	snapped   Snapped
}

// outward calls visit with edges by growing distance on the sphere until it
// returns false. keep drops edges unseen; nil drops none.
func (ix *Index) outward(p orb.Point, keep func(EdgeID) bool, visit func(s Snapped, angle s1.Angle) bool) {
	n := ix.net
	if len(n.tree) == 0 {
		return
	}
	var starts, sizes []int
	for start, size := 0, n.Edges(); ; size = (size + branching - 1) / branching {
		starts, sizes = append(starts, start), append(sizes, size)
		start += size
		if size == 1 {
			break
		}
	}
	at := s2.LatLngFromDegrees(p.Lat(), p.Lon())
	bound := func(i int) s1.Angle { return n.tree[i].rect().DistanceToLatLng(at) }
	top := len(starts) - 1
	queue := &treeQueue{{angle: bound(starts[top]), level: top}}
	for queue.Len() > 0 {
		item := heap.Pop(queue).(treeItem)
		switch {
		case item.level < 0:
			if !visit(item.snapped, item.angle) {
				return
			}
		case item.level == 0:
			if e := n.treeEdge[item.at]; keep == nil || keep(e) {
				s, angle := ix.project(e, p)
				heap.Push(queue, treeItem{angle: angle, level: -1, snapped: s})
			}
		default:
			below := item.level - 1
			for i := item.at * branching; i < min((item.at+1)*branching, sizes[below]); i++ {
				heap.Push(queue, treeItem{angle: bound(starts[below] + i), level: below, at: i})
			}
		}
	}
}

type treeQueue []treeItem

func (q treeQueue) Len() int { return len(q) }
func (q treeQueue) Less(i, j int) bool {
	if q[i].angle != q[j].angle {
		return q[i].angle < q[j].angle
	}
	return q[i].level < q[j].level || q[i].level == q[j].level && q[i].snapped.Edge < q[j].snapped.Edge
}
func (q treeQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *treeQueue) Push(x any)   { *q = append(*q, x.(treeItem)) }
func (q *treeQueue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
