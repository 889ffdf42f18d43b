package cities

import (
	"math"
)

// spot is where a node lies, metres from the corner of the land on a flat plan.
type spot struct{ x, y float32 }

// arc is a road in one direction before it has its place in the arrays.
type arc struct {
	tail, head uint32
	weight     uint32 // ms
	metres     float32
	class      Class
}

// builder turns the lines of the land into nodes and arcs.
type builder struct {
	*land
	places []uint32 // of a point of the lattice: its node, none so far
	spots  []spot   // of a node
	arcs   []arc
}

func newBuilder(l *land, nodes int) *builder {
	b := &builder{land: l, places: make([]uint32, l.side*l.side)}
	for i := range b.places {
		b.places[i] = none
	}
	b.spots = make([]spot, 0, nodes+nodes/5)
	b.arcs = make([]arc, 0, 3*nodes)
	return b
}

// build makes all roads.
func (b *builder) build() *net {
	for axis := range b.steps {
		for line := range b.side {
			b.walk(axis, line)
		}
	}
	return &net{side: float32(b.side * pitch), spots: b.spots, arcs: b.arcs}
}

// walk makes the roads of one line, each from one place to the next.
func (b *builder) walk(axis, line int) {
	class, steps := classOf(line), b.line(axis, line)
	last, lastAt := none, 0
	for at := range b.side {
		before, after := b.runs(axis, line, at)
		if !before && !after || !b.stops(axis, line, at) {
			continue
		}
		here := b.place(point(axis, line, at))
		if before {
			b.road(last, here, at-lastAt, class, steps[lastAt])
		}
		last, lastAt = here, at
	}
}

// place returns the node at a point of the lattice. A new one is set a little
// beside the point and may get a dead end.
func (b *builder) place(x, y int) uint32 {
	v := &b.places[y*b.side+x]
	if *v != none {
		return *v
	}
	*v = b.node(float64(x*pitch)+b.about(20), float64(y*pitch)+b.about(20))
	here := *v
	if min(classOf(x), classOf(y)) != Motorway && b.rng.Float64() < b.alley {
		b.deadEnd(here)
	}
	return here
}

// about returns a number from -most to most.
func (b *builder) about(most float64) float64 { return most * (2*b.rng.Float64() - 1) }

// node adds a node at so many metres.
func (b *builder) node(x, y float64) uint32 {
	b.spots = append(b.spots, spot{float32(x), float32(y)})
	return uint32(len(b.spots) - 1)
}

// road makes a road of so many steps between two places, with bends.
func (b *builder) road(from, to uint32, steps int, class Class, way step) {
	bends := 0
	for range steps {
		if b.rng.Float64() < b.bend {
			bends++
		}
	}
	start, end, kmh := b.spots[from], b.spots[to], b.speed(class)
	for i := range bends {
		next := b.bendAt(start, end, float64(i+1)/float64(bends+1))
		b.join(from, next, class, kmh, way)
		from = next
	}
	b.join(from, to, class, kmh, way)
}

// bendAt adds a node at a share of the way, up to 15 m off the straight line.
func (b *builder) bendAt(start, end spot, share float64) uint32 {
	dx, dy := float64(end.x-start.x), float64(end.y-start.y)
	off := b.about(15) / math.Hypot(dx, dy)
	return b.node(float64(start.x)+share*dx-off*dy, float64(start.y)+share*dy+off*dx)
}

// deadEnd makes a winding street of one node or some that leads nowhere.
// Whether it is drawn over another road does not matter: they are not joined.
func (b *builder) deadEnd(from uint32) {
	heading, kmh := b.about(math.Pi), b.speed(Street)
	for more := true; more; more = b.rng.IntN(2) == 0 {
		heading += b.about(0.6)
		metres, at := 20+15*b.rng.Float64(), b.spots[from]
		next := b.node(float64(at.x)+metres*math.Cos(heading), float64(at.y)+metres*math.Sin(heading))
		b.join(from, next, Street, kmh, both)
		from = next
	}
}

// speed draws the speed of a road in km/h, within a twentieth of its class's.
func (b *builder) speed(class Class) float64 { return b.kmh[class] * (1 + b.about(0.05)) }

// join adds the arcs between two nodes, up to a twentieth longer than the
// straight line.
func (b *builder) join(from, to uint32, class Class, kmh float64, way step) {
	tail, head := b.spots[from], b.spots[to]
	straight := math.Hypot(float64(head.x-tail.x), float64(head.y-tail.y))
	metres := float32(straight * (1 + 0.05*b.rng.Float64()))
	weight := milliseconds(metres, kmh)
	if way&up != 0 {
		b.arcs = append(b.arcs, arc{from, to, weight, metres, class})
	}
	if way&down != 0 {
		b.arcs = append(b.arcs, arc{to, from, weight, metres, class})
	}
}
