package clearance

import (
	"math"

	"github.com/paulmach/orb"
)

// Index finds structures by place. It is immutable.
type Index struct {
	all   []*Structure
	cells map[cell][]int32 // places in all
}

// cell is a square of a hundredth of a degree: a kilometre or less on a side.
type cell struct{ x, y int32 }

const cellsPerDegree = 100

func cellOf(p orb.Point) cell {
	return cell{int32(math.Floor(p.Lon() * cellsPerDegree)), int32(math.Floor(p.Lat() * cellsPerDegree))}
}

// NewIndex indexes structures.
func NewIndex(all []*Structure) *Index {
	ix := &Index{all: all, cells: make(map[cell][]int32, len(all))}
	for i, s := range all {
		c := cellOf(s.Point)
		ix.cells[c] = append(ix.cells[c], int32(i))
	}
	return ix
}

// Len is how many structures there are.
func (ix *Index) Len() int { return len(ix.all) }

// In visits the structures in a bound, borders included, in no order.
func (ix *Index) In(b orb.Bound, visit func(*Structure)) {
	if len(ix.all) == 0 {
		return
	}
	low, high := cellOf(b.Min), cellOf(b.Max)
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
