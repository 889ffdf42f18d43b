package clearance

import (
	"math"

	"github.com/paulmach/orb"
)

// Index finds structures by place. It is immutable.
type Index struct {
	all    []*Structure
	cells  map[cell][]int32 // places in all
	blocks map[cell]bool    // of cells, in which there is any: a small map to ask first
	roads  map[string]map[string][]*Structure
}

// cell is a square of a hundredth of a degree: a kilometre or less on a side.
type cell struct{ x, y int32 }

const (
	cellsPerDegree = 100
	cellsPerBlock  = 16
)

func cellOf(p orb.Point) cell {
	return cell{int32(math.Floor(p.Lon() * cellsPerDegree)), int32(math.Floor(p.Lat() * cellsPerDegree))}
}

// block is the block that a cell lies in.
func (c cell) block() cell {
	return cell{int32(math.Floor(float64(c.x) / cellsPerBlock)), int32(math.Floor(float64(c.y) / cellsPerBlock))}
}

// NewIndex indexes structures.
func NewIndex(all []*Structure) *Index {
	ix := &Index{
		all: all, cells: make(map[cell][]int32, len(all)), blocks: map[cell]bool{},
		roads: map[string]map[string][]*Structure{},
	}
	for i, s := range all {
		ix.called(s)
		if s.Unplaced {
			continue
		}
		c := cellOf(s.Point)
		ix.cells[c] = append(ix.cells[c], int32(i))
		ix.blocks[c.block()] = true
	}
	return ix
}

func (ix *Index) called(s *Structure) {
	if s.Road == "" {
		return
	}
	own := ix.roads[s.Jurisdiction]
	if own == nil {
		own = map[string][]*Structure{}
		ix.roads[s.Jurisdiction] = own
	}
	own[s.Road] = append(own[s.Road], s)
}

// Roads lists the structures of a jurisdiction by the road that they name; "" has
// those that name no jurisdiction. It is not to be changed.
func (ix *Index) Roads(jurisdiction string) map[string][]*Structure { return ix.roads[jurisdiction] }

// Len is how many structures there are.
func (ix *Index) Len() int { return len(ix.all) }

// In visits the structures in a bound, borders included, in no order.
func (ix *Index) In(b orb.Bound, visit func(*Structure)) {
	low, high := cellOf(b.Min), cellOf(b.Max)
	if !ix.anyIn(low.block(), high.block()) {
		return
	}
	for x := low.x; x <= high.x; x++ {
		for y := low.y; y <= high.y; y++ {
			for _, i := range ix.cells[cell{x, y}] {
				if b.Contains(ix.all[i].Point) {
					visit(ix.all[i])
				}
			}
		}
	}
}

// anyIn reports whether any block from one to another has a structure.
func (ix *Index) anyIn(low, high cell) bool {
	for x := low.x; x <= high.x; x++ {
		for y := low.y; y <= high.y; y++ {
			if ix.blocks[cell{x, y}] {
				return true
			}
		}
	}
	return false
}
