package sweep

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Place is a corner, a driveway or a gate that a rig is to get through, seen from above:
// a way in, and one that leaves it on a side. Its edges are what the rig must not reach
// over.
type Place struct {
	From, Into measure.Distance // widths of the way in and of the way out
	Angle      Angle            // by which the way out turns off; 0: a gate straight ahead
	Side       Side             // that it turns to
	GoesOn     bool             // the way in goes on beyond, as a road beside a driveway does
	Kerb       measure.Distance // radius of the edges where the ways meet; 0: sharp
	Gate       *Gate            // across the way out; nil: none
}

// Gate is an opening in a wall across a way.
type Gate struct {
	Width  measure.Distance
	Behind measure.Distance // along the way out, from where that begins
	Offset measure.Distance // of its middle from the middle of the way out, to the left
}

// Bounds of a place, this project's choice.
const (
	narrowest, widest measure.Distance = 1, 60
	sharpest                           = 150 * Degree
	gateWall                           = 0.2 // m: how thick the wall of a gate is
)

// Check returns a *measure.FieldError that names the first field that is out of range or
// contradicts another.
func (p Place) Check() error {
	within := func(field string, value, low, high measure.Distance) error {
		if low <= value && value <= high { // NaN fails too
			return nil
		}
		return &measure.FieldError{
			Field: field, Value: number(value), Problem: say.That("error.out_of_range_or"),
			Fix: say.That("fix.between", "low", number(low)+" m", "high", number(high)+" m"),
		}
	}
	checks := []error{
		within("corner.from", p.From, narrowest, widest), within("corner.into", p.Into, narrowest, widest),
		within("corner.kerb", p.Kerb, 0, widest), within("corner.angle", measure.Distance(p.Angle/Degree), 0, 150),
	}
	if g := p.Gate; g != nil {
		checks = append(checks, within("corner.gate.width", g.Width, narrowest, p.Into),
			within("corner.gate.behind", g.Behind, 0, 2*widest),
			within("corner.gate.offset", g.Offset, (g.Width-p.Into)/2, (p.Into-g.Width)/2))
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	return nil
}

// Edges are the edges of a place to the left and to the right of who drives through it.
// Where the way in goes on, its far end belongs to the right of a left turn.
type Edges struct{ Left, Right []orb.LineString }

// ground is a place as a left turn: what may be driven on, and its edges.
type ground struct {
	inside      orb.Ring
	left, right []orb.LineString
}

// lay draws a place as a left turn, its inner corner at the origin, the way in along x
// with its left edge on y = 0, both ways as long as given.
func (p Place) lay(far float64) ground {
	in, out := float64(p.From), float64(p.Into)
	if p.Angle == 0 {
		return p.straight(in, far)
	}
	sin, cos := math.Sincos(float64(p.Angle))
	d, n := vec{cos, sin}, vec{sin, -cos}
	begin := vec{-far, 0}
	inner := p.kerbed(begin, vec{}, d.times(far))
	var right, beyond []vec
	if p.GoesOn {
		q := vec{out / sin, 0}
		beyond = p.kerbed(q.add(d.times(far)), q, vec{q.x + far, 0})
		right = []vec{{q.x + far, -in}, {-far, -in}}
	} else {
		corner := n.times(out).add(d.times((out*cos - in) / sin))
		right = []vec{corner.add(d.times(far)), corner, {-far, -in}}
	}
	var g ground
	leftWall, rightWall := p.posts(d, n, out)
	g.left = []orb.LineString{line(insert(inner, leftWall, d))}
	outer := insert(append(beyond, right...), rightWall, d.times(-1))
	if p.GoesOn {
		outer = append(insert(beyond, rightWall, d.times(-1)), right...)
		g.right = []orb.LineString{line(outer[:len(outer)-2]), line(outer[len(outer)-2:])}
	} else {
		g.right = []orb.LineString{line(outer)}
	}
	g.inside = append(orb.Ring(g.left[0].Clone()), line(outer)...)
	g.inside = append(g.inside, g.inside[0])
	return g
}

// straight is a gate straight ahead: a way of one width, the gate's wall where x is 0.
func (p Place) straight(in, far float64) ground {
	d, n := vec{1, 0}, vec{0, -1}
	var g ground
	left, right := p.posts(d, n, in)
	g.left = []orb.LineString{line(insert([]vec{{-far, 0}, {far, 0}}, left, d))}
	g.right = []orb.LineString{line(insert([]vec{{far, -in}, {-far, -in}}, right, d.times(-1)))}
	g.inside = append(orb.Ring(g.left[0].Clone()), g.right[0]...)
	g.inside = append(g.inside, g.inside[0])
	return g
}

// posts are the walls of the gate from the left and from the right edge of the way out,
// each as it is met along that edge; none without a gate.
func (p Place) posts(d, n vec, out float64) (left, right []vec) {
	if p.Gate == nil {
		return nil, nil
	}
	at, half := float64(p.Gate.Behind), float64(p.Gate.Width)/2
	middle := out/2 - float64(p.Gate.Offset) // from the left edge
	wall := func(from, to float64) []vec {
		a, b := n.times(from).add(d.times(at)), n.times(to).add(d.times(at))
		thick := d.times(gateWall)
		return []vec{a, b, b.add(thick), a.add(thick)}
	}
	left, right = wall(0, middle-half), wall(out, middle+half)
	right[0], right[1], right[2], right[3] = right[3], right[2], right[1], right[0]
	return left, right
}

// insert puts the points of a wall into an edge that runs along a direction, where the
// edge passes its foot.
func insert(edge, wall []vec, along vec) []vec {
	if wall == nil {
		return edge
	}
	for i := 1; i < len(edge); i++ {
		way := edge[i].sub(edge[i-1])
		if way.angle(along) > 1e-6 {
			continue
		}
		if after := wall[0].sub(edge[i-1]).dot(along); after > -1e-9 && after < way.length() {
			return append(append(append([]vec{}, edge[:i]...), wall...), edge[i:]...)
		}
	}
	return edge
}

// kerbed is an edge with its corner rounded.
func (p Place) kerbed(a, corner, b vec) []vec {
	if p.Kerb == 0 {
		return []vec{a, corner, b}
	}
	rounded, err := Round(line([]vec{a, corner, b}), p.Kerb)
	if err != nil { // three points that are apart
		return []vec{a, corner, b}
	}
	kept := rounded.Path[:1]
	const every = 6 // of the points of an arc: the chords lie within a hand of it
	for i := 1; i < len(rounded.Path)-1; i++ {
		if i == 1 || i == len(rounded.Path)-2 || i%every == 0 {
			kept = append(kept, rounded.Path[i])
		}
	}
	out := make([]vec, 0, len(kept)+1)
	for _, q := range append(kept, rounded.Path[len(rounded.Path)-1]) {
		out = append(out, vec{q[0], q[1]})
	}
	return out
}

// room is how far two bodies stay from the edges to the left and to the right; negative
// is how far they reach over.
type room struct{ left, right float64 }

func (r room) least() float64 { return min(r.left, r.right) }

// room measures a stance. The distance of two outlines is that of a corner of one from the
// other; a corner beyond the edges counts against the nearer one.
func (g *ground) room(s Stance) room {
	out := room{math.Inf(1), math.Inf(1)}
	for _, body := range [][4]orb.Point{s.Tow, s.Unit} {
		for _, corner := range body {
			left, right := away(g.left, corner), away(g.right, corner)
			if !planar.RingContains(g.inside, corner) {
				if left < right {
					left = -left
				} else {
					right = -right
				}
			}
			out.left, out.right = min(out.left, left), min(out.right, right)
		}
		out.left, out.right = min(out.left, reaches(g.left, body)), min(out.right, reaches(g.right, body))
	}
	return out
}

func away(edges []orb.LineString, p orb.Point) float64 {
	least := math.Inf(1)
	for _, e := range edges {
		least = min(least, planar.DistanceFrom(e, p))
	}
	return least
}

// reaches is how far the corners of edges stay from a body, negative where they are in it.
func reaches(edges []orb.LineString, body [4]orb.Point) float64 {
	ring := orb.Ring{body[0], body[1], body[2], body[3], body[0]}
	least := math.Inf(1)
	for _, e := range edges {
		for _, p := range e[1 : len(e)-1] {
			far := planar.DistanceFrom(orb.LineString(ring), p)
			if planar.RingContains(ring, p) {
				far = -far
			}
			least = min(least, far)
		}
	}
	return least
}
