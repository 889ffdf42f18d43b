package sweep

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// ErrPath is the kind of every error about a line that cannot be driven.
var ErrPath = errors.New("path cannot be driven")

func undrivable(why say.Remark) error { return fmt.Errorf("%w: %w", ErrPath, say.Err(why)) }

// Choices of this project, no source.
const (
	arcStep   = 0.1          // m: greatest distance between points of an arc
	arcTurn   = 2 * Degree   // greatest turn between points of an arc
	uTurn     = 175 * Degree // a sharper turn back has no arc worth the name
	duplicate = 1e-6         // m: closer points are one point
	farthest  = 1e8          // m: a local plane has no points beyond
)

// Rounded is a line whose kinks are arcs.
type Rounded struct {
	Path orb.LineString // planar metres
	// Least is the radius of the tightest arc. It is the radius asked for where
	// nothing forced a tighter one, a straight line included, and 0 where the
	// line turns back on itself and a kink stays.
	Least measure.Distance
}

// Round replaces each kink of a digitized line by an arc of the given radius,
// or of the greatest smaller radius whose tangents fit into half of each of the
// two segments that meet there. Points of an arc lie at most 0.1 m and 2
// degrees apart and exactly on it; straights keep only their ends. A vertex
// with a turn above 175 degrees stays a kink and makes Least 0.
//
// The radius aimed at is an assumption about how the rig is driven, not a fact
// about the road. Noise of closely spaced points makes small arcs: simplify the
// line first. Errors wrap ErrPath: fewer than two distinct points, a coordinate
// that is no number or beyond 100 000 km, a radius that is not positive and finite.
func Round(line orb.LineString, radius measure.Distance) (Rounded, error) {
	if !(radius > 0) || math.IsInf(float64(radius), 0) {
		return Rounded{}, undrivable(say.That("error.path_radius", "radius", fmt.Sprint(radius)))
	}
	nodes, err := distinct(make([]vec, 0, len(line)), line)
	if err != nil {
		return Rounded{}, err
	}
	last := len(nodes) - 1
	out := Rounded{Path: append(make(orb.LineString, 0, len(line)+256), orb.Point{nodes[0].x, nodes[0].y}), Least: radius}
	for i := 1; i < last; i++ {
		out.corner(nodes[i-1], nodes[i], nodes[i+1], float64(radius))
	}
	out.Path = append(out.Path, orb.Point{nodes[last].x, nodes[last].y})
	return out, nil
}

// corner appends the arc at b on the way from a to c.
func (o *Rounded) corner(a, b, c vec, radius float64) {
	in, out := b.sub(a), c.sub(b)
	room := min(in.length(), out.length()) / 2
	turn := in.angle(out)
	if turn == 0 {
		return
	}
	if turn > uTurn {
		o.Path, o.Least = append(o.Path, orb.Point{b.x, b.y}), 0
		return
	}
	half := math.Tan(float64(turn) / 2)
	r := min(radius, room/half)
	o.Least = min(o.Least, measure.Distance(r))
	in = in.times(1 / in.length())
	side := math.Copysign(1, in.cross(out))
	begin := b.sub(in.times(r * half))
	centre := begin.add(in.left().times(side * r))
	n := math.Ceil(max(r*float64(turn)/arcStep, float64(turn/arcTurn)))
	for k := 0.0; k <= n; k++ {
		sin, cos := math.Sincos(side * float64(turn) * k / n)
		p := centre.add(begin.sub(centre).turned(sin, cos))
		o.Path = append(o.Path, orb.Point{p.x, p.y})
	}
}

// distinct appends the points of a line to nodes, without those that repeat
// the one before.
func distinct(nodes []vec, line orb.LineString) ([]vec, error) {
	for i, p := range line {
		if !(math.Abs(p[0]) <= farthest && math.Abs(p[1]) <= farthest) { // NaN fails too
			return nodes, undrivable(say.That("error.path_point", "n", i, "point", fmt.Sprint(p)))
		}
		v := vec{p[0], p[1]}
		if len(nodes) == 0 || v.sub(nodes[len(nodes)-1]).length() > duplicate {
			nodes = append(nodes, v)
		}
	}
	if len(nodes) < 2 {
		return nodes, undrivable(say.That("error.path_points"))
	}
	return nodes, nil
}
