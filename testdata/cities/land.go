package cities

import (
	"math"
	"math/rand/v2"
)

const (
	pitch   = 100 // metres between neighbouring lines of the lattice
	block   = 8   // lines from one collector to the next, and steps of a stretch
	offset  = 4   // of the first collector, so that none lies on the border
	minSide = 2 * block
)

// manner is how a network is made. Its numbers were tuned until the shares of
// tree nodes, bends and junctions came out as the design notes want them.
type manner struct {
	kmh       [4]float64 // by class
	yield     float64    // nodes that come of one point of the lattice
	urban     float64    // share of the land that cities cover
	centre    float64    // share of street steps kept in the middle of a city
	outskirts float64    // the same at its edge
	collector float64    // share of collector stretches kept outside of cities
	lane      float64    // share of street stretches kept outside of cities
	oneWay    float64    // share of street stretches in cities
	bend      float64    // chance of a bend in each step of a road
	alley     float64    // chance of a dead end at a place
}

func mannerOf(hard bool) manner {
	if hard {
		return manner{
			kmh:   [4]float64{Motorway: 70, Arterial: 60, Collector: 55, Street: 50},
			yield: 1.06, urban: 0.95, centre: 0.86, outskirts: 0.66,
			collector: 0.9, lane: 0.3, oneWay: 0.13, bend: 0.085, alley: 0.025,
		}
	}
	return manner{
		kmh:   [4]float64{Motorway: 105, Arterial: 80, Collector: 60, Street: 35},
		yield: 0.56, urban: 0.28, centre: 0.9, outskirts: 0.55,
		collector: 0.65, lane: 0.03, oneWay: 0.13, bend: 0.28, alley: 0.27,
	}
}

// step is the piece of a line between two neighbouring points of the lattice, as
// the ways it may be driven; 0: it was deleted.
type step uint8

const (
	up   step = 1 << iota // to the higher coordinate
	down                  // to the lower one
	both = up | down
)

// land is the square: how dense it is and which steps of its lines are there.
type land struct {
	manner
	rng     *rand.Rand
	side    int       // points of the lattice along a side
	density []float32 // of a block by block square: 1 in the middle of a city, 0 outside
	steps   [2][]step // of the lines along x and of those along y, line by line
}

// newLand returns empty land for so many nodes. Its side is whole blocks, so that
// the lines on the border are streets.
func newLand(m manner, nodes int, rng *rand.Rand) *land {
	side := max(minSide, int(math.Sqrt(float64(nodes)/m.yield)))
	side = (side + block - 1) / block * block
	l := &land{manner: m, rng: rng, side: side, density: make([]float32, side/block*side/block)}
	for axis := range l.steps {
		l.steps[axis] = make([]step, side*side)
	}
	return l
}

// found founds cities until they cover their share of the land. Their radii
// follow a power law; none is wider than a third of the side, and the last ones
// are cut to what is left to cover, so that the share comes out.
func (l *land) found() {
	across := float64(l.side / block)
	for left := l.urban * across * across; left >= 1; {
		radius := math.Pow(1-l.rng.Float64(), -1/1.3)
		radius = min(radius, across/6, math.Sqrt(left/math.Pi)+0.5)
		left -= float64(l.paint(l.rng.Float64()*across, l.rng.Float64()*across, radius))
	}
}

// paint paints a city, all measures in blocks; it returns how many squares were
// in no city before.
func (l *land) paint(x, y, radius float64) (fresh int) {
	across := l.side / block
	for row := max(0, int(y-radius)); row < min(across, int(y+radius)+1); row++ {
		for col := max(0, int(x-radius)); col < min(across, int(x+radius)+1); col++ {
			d := float32(1 - math.Hypot(float64(col)+0.5-x, float64(row)+0.5-y)/radius)
			at := &l.density[row*across+col]
			if d > 0 && *at == 0 {
				fresh++
			}
			*at = max(*at, d)
		}
	}
	return fresh
}

// densityAt returns the density around a point of the lattice.
func (l *land) densityAt(x, y int) float32 {
	return l.density[y/block*(l.side/block)+x/block]
}

// classOf returns the class of the line with this number.
func classOf(line int) Class {
	switch {
	case line%(16*block) == 8*block+offset:
		return Motorway
	case line%(4*block) == offset:
		return Arterial
	case line%block == offset:
		return Collector
	}
	return Street
}

// draw decides on every step of every line.
func (l *land) draw() {
	for axis := range l.steps {
		for line := range l.side {
			l.drawLine(axis, line)
		}
	}
}

// drawLine decides on the steps of one line. City streets lose single steps, all
// else whole stretches from one collector to the next, since a road in the
// country leads somewhere. A street passes a motorway or ends before it.
func (l *land) drawLine(axis, line int) {
	class, steps := classOf(line), l.line(axis, line)
	var luck float64
	var way step
	for at := range steps[:l.side-1] {
		if at == 0 || at%block == offset {
			luck, way = l.rng.Float64(), l.way()
		}
		x, y := point(axis, line, at)
		density := l.densityAt(x, y)
		switch {
		case class == Street && classOf(at) == Motorway:
			steps[at] = steps[at-1]
		case class == Street && density > 0:
			if l.rng.Float64() < l.kept(class, density) {
				steps[at] = way
			}
		case luck < l.kept(class, density):
			steps[at] = both
		}
	}
}

// way draws the ways that the streets of a stretch in a city may be driven.
func (l *land) way() step {
	if l.rng.Float64() >= l.oneWay {
		return both
	}
	return up << l.rng.IntN(2)
}

// kept returns the chance that a step is kept.
func (l *land) kept(class Class, density float32) float64 {
	switch {
	case class == Motorway:
		return 1
	case class == Arterial:
		return 0.97
	case class == Collector && density > 0:
		return 0.95
	case class == Collector:
		return l.collector
	case density > 0:
		return l.outskirts + (l.centre-l.outskirts)*float64(density)
	}
	return l.lane
}

// line returns the steps of a line; the last leads nowhere and is never there.
func (l *land) line(axis, line int) []step {
	return l.steps[axis][line*l.side : (line+1)*l.side]
}

// point returns the coordinates of a point of a line.
func point(axis, line, at int) (x, y int) {
	if axis == 0 {
		return at, line
	}
	return line, at
}

// runs reports whether a line has a step before and a step after one of its points.
func (l *land) runs(axis, line, at int) (before, after bool) {
	steps := l.line(axis, line)
	return at > 0 && steps[at-1] != 0, steps[at] != 0
}

// stops reports whether a line that comes to a point has a place there: where it
// ends or meets another. Motorways and streets pass each other unjoined.
func (l *land) stops(axis, line, at int) bool {
	before, after := l.runs(axis, line, at)
	if before != after {
		return true
	}
	one, other := classOf(line), classOf(at)
	if min(one, other) == Motorway && max(one, other) == Street {
		return false
	}
	before, after = l.runs(1-axis, at, line)
	return before || after
}
