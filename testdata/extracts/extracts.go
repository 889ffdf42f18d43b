// Package extracts makes OpenStreetMap extracts for measurements, in the OPL
// text format that osmium reads. What is in them is invented.
package extracts

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
)

// Grid writes an extract with about so many nodes: streets that cross in a
// square, bent between the crossings, each eighth a primary road and each
// thirty-second a trunk road that passes over the streets it crosses on
// bridges; some signs, turn rules and a power line. The same numbers give the
// same extract.
func Grid(w io.Writer, nodes int, seed uint64) error {
	g := &grid{w: bufio.NewWriterSize(w, 1<<20), random: rand.New(rand.NewPCG(seed, 1)), side: 2}
	for g.count(g.side+1) <= nodes {
		g.side++
	}
	g.nodes()
	g.ways()
	g.turns()
	return g.w.Flush()
}

const (
	spacing = 0.004 // degrees between streets
	bends   = 2     // nodes between two crossings
	stretch = 16    // crossings of one way
	every   = 32    // of the trunk roads
)

type grid struct {
	w      *bufio.Writer
	random *rand.Rand
	side   int // streets each way
	way    int64
	turn   [][3]int64 // from, via, to
}

func (g *grid) count(side int) int { return side*side + 2*side*(side-1)*bends }

// Nodes are numbered: crossings first, then the bends of streets that run east,
// then of those that run north. A trunk road crosses others at nodes of its
// own only where both are trunk roads.
func (g *grid) crossing(x, y int) int64 { return int64(y*g.side+x) + 1 }

func (g *grid) bend(north bool, x, y, k int) int64 {
	base := g.side * g.side
	if north {
		base += g.side * g.side * bends
	}
	return int64(base+(y*g.side+x)*bends+k) + 1
}

func (g *grid) nodes() {
	at := func(id int64, x, y float64) {
		fmt.Fprintf(g.w, "n%d v1 x%.7f y%.7f\n", id, -80+x*spacing+0.0004*(g.random.Float64()-0.5),
			40+y*spacing*0.75+0.0003*(g.random.Float64()-0.5))
	}
	for y := range g.side {
		for x := range g.side {
			at(g.crossing(x, y), float64(x), float64(y))
		}
	}
	for _, north := range []bool{false, true} {
		for y := range g.side {
			for x := range g.side {
				for k := range bends {
					part := float64(k+1) / (bends + 1)
					if north {
						at(g.bend(true, x, y, k), float64(x), float64(y)+part)
					} else {
						at(g.bend(false, x, y, k), float64(x)+part, float64(y))
					}
				}
			}
		}
	}
}

func (g *grid) ways() {
	for street := range g.side {
		for _, north := range []bool{false, true} {
			for start := 0; start < g.side-1; start += stretch {
				g.street(street, north, start, min(start+stretch, g.side-1))
			}
		}
	}
	g.way++
	fmt.Fprintf(g.w, "w%d v1 Tpower=line Nn%d,n%d\n", g.way, g.bend(false, 0, 0, 0), g.bend(true, g.side-1, g.side-2, 0))
}

// street writes one way between two crossings of a street.
func (g *grid) street(street int, north bool, from, to int) {
	node := func(i int) int64 {
		if north {
			return g.crossing(street, i)
		}
		return g.crossing(i, street)
	}
	bend := func(i, k int) int64 {
		if north {
			return g.bend(true, street, i, k)
		}
		return g.bend(false, i, street, k)
	}
	g.way++
	if g.random.IntN(50) == 0 && from > 0 {
		g.turn = append(g.turn, [3]int64{g.way - 1, node(from), g.way})
	}
	fmt.Fprintf(g.w, "w%d v1 T%s Nn%d", g.way, g.tags(street, north), node(from))
	for i := from; i < to; i++ {
		for k := range bends {
			fmt.Fprintf(g.w, ",n%d", bend(i, k))
		}
		if street%every == 0 && i+1 < to && (i+1)%every != 0 {
			continue // over the streets that it crosses
		}
		fmt.Fprintf(g.w, ",n%d", node(i+1))
	}
	fmt.Fprintln(g.w)
}

func (g *grid) tags(street int, north bool) string {
	tags := fmt.Sprintf("name=Invented%%20%%Street%%20%%%d", street)
	switch {
	case street%every == 0:
		tags += ",highway=trunk,oneway=no,bridge=yes,layer=1,maxspeed=50%20%mph"
	case street%8 == 0:
		tags += ",highway=primary,lanes=2,surface=asphalt"
	case north && street%3 == 0:
		tags += ",highway=residential,oneway=yes"
	default:
		tags += ",highway=residential"
	}
	switch g.random.IntN(200) {
	case 0:
		tags += ",maxheight=4.1"
	case 1:
		tags += ",maxweight=7.5"
	case 2:
		tags += ",access=destination"
	}
	return tags
}

func (g *grid) turns() {
	for i, t := range g.turn {
		fmt.Fprintf(g.w, "r%d v1 Ttype=restriction,restriction=no_straight_on Mw%d@from,n%d@via,w%d@to\n", i+1,
			t[0], t[1], t[2])
	}
}
