package driving

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/bend"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
	"wayhouse/routing/trip/standing"
)

// The radius that a corner is driven on where the lock of the tow vehicle is not
// given: this project's assumption.
const assumedLock measure.Distance = 12.5

// bender finds what bends on the ways of a trip.
type bender struct {
	*Driver
	turns  rig.Turning
	plan   sweep.Combination // where it is known
	tip    measure.Known[rig.Tip]
	tracer bend.Tracer
	driver sweep.Driver
	turner *Turner
	minis  []mini
	out    Bends
}

// Bends walks the ways that were passed: their corners, their curves, and where their
// underside may touch.
func (d *Driver) Bends() Bends {
	w := &bender{
		Driver: d, turns: d.rig.Turning(), tip: d.rig.Tip(d.statics), turner: NewTurner(d.Network, d.rig),
	}
	w.plan, _ = w.turns.Rig.Value()
	w.out.NoCurves = w.tip.Why()
	var at measure.Distance
	for _, way := range d.ways {
		for _, run := range onRoad(d.Network, way.Pieces, at) {
			w.way(run)
			w.uturns(run)
		}
		at += lengthOf(way)
	}
	slices.SortStableFunc(w.out.Grounds, func(a, b Ground) int { return cmp.Compare(a.At, b.At) })
	w.out.Grounds = slices.CompactFunc(w.out.Grounds, func(a, b Ground) bool { return a.Of == b.Of && b.At-a.At < 1 })
	slices.SortStableFunc(w.out.Corners, func(a, b Corner) int {
		return cmp.Or(known(a)-known(b), cmp.Compare(b.Swept, a.Swept), cmp.Compare(math.Abs(b.Turn), math.Abs(a.Turn)))
	})
	slices.SortStableFunc(w.out.Curves, func(a, b Curve) int { return cmp.Compare(a.Speed, b.Speed) })
	return w.out
}

// stretch is one piece of a way and where on the way it begins.
type stretch struct {
	network.Piece
	at measure.Distance
}

// onRoad splits the pieces of a way where a ferry lies between them: aboard nothing
// is driven.
func onRoad(n *network.Network, pieces []network.Piece, at measure.Distance) (runs [][]stretch) {
	aboard := true
	for _, p := range pieces {
		ferry := n.Class[p.Arc.Edge()] == network.Ferry
		if !ferry && aboard {
			runs = append(runs, nil)
		}
		if !ferry {
			runs[len(runs)-1] = append(runs[len(runs)-1], stretch{p, at})
		}
		aboard = ferry
		at += p.Length()
	}
	return runs
}

func (w *bender) way(along []stretch) {
	var line orb.LineString
	for _, s := range along {
		line = network.Join(line, w.Network.Line(s.Piece))
		w.grounds(s.Piece, s.at)
	}
	w.minis = w.minisOn(along)
	bends := w.tracer.Along(line, nil)
	for _, m := range w.minis {
		bends = m.among(bends)
	}
	for _, bend := range bends {
		before, after := around(along, along[0].at+bend.At)
		spot := Spot{At: along[0].at + bend.At, Point: bend.Point, Road: w.Network.RoadName(before.Arc.Edge())}
		switch {
		case bend.Corner() && !(bend.Coarse && w.freewayOn(before, after)), w.overMini(bend):
			w.corner(line, bend, spot, before, after)
		case bend.Coarse:
			w.coarse(bend, spot, along[0].at, before, after)
		default:
			w.curve(bend, spot, before, after)
		}
	}
}

// around finds the pieces before and after a place on the way.
func around(along []stretch, at measure.Distance) (before, after stretch) {
	const slack = 1 // m, between two ways of measuring a line
	i, _ := slices.BinarySearchFunc(along, at-slack, func(s stretch, at measure.Distance) int {
		return cmp.Compare(s.at+s.Length(), at)
	})
	i = min(i, len(along)-1)
	j := i
	for j < len(along)-1 && along[j].at+along[j].Length() <= at+slack {
		j++
	}
	return along[i], along[j]
}

// freewayOn reports whether two pieces are of a freeway that meets no other road between
// them: none is built with corners.
func (w *bender) freewayOn(before, after stretch) bool {
	n := w.Network
	return n.Class[before.Arc.Edge()] == network.Freeway && n.Class[after.Arc.Edge()] == network.Freeway &&
		(before.Arc == after.Arc || len(n.Out(n.Head(before.Arc))) == 2)
}

// curve compares with the faster of the roads that meet in it.
func (w *bender) curve(bend bend.Bend, spot Spot, before, after stretch) {
	tip, ok := w.tip.Value()
	if !ok {
		return
	}
	v, assumed := tip.InCurve(bend.Radius), w.assumed(before, after)
	w.out.Curves = append(w.out.Curves, Curve{
		Spot: spot, Radius: bend.Radius, Speed: v, Assumed: assumed, Slower: assumed == 0 || v < assumed,
	})
}

// assumed is the faster of the speeds on two pieces, 0 where one is not known.
func (w *bender) assumed(before, after stretch) measure.Speed {
	v, ok := w.Speed(before.Arc.Edge())
	beyond, known := w.Speed(after.Arc.Edge())
	if !ok || !known {
		return 0
	}
	return max(v, beyond)
}

// coarse notes a bend of which the line does not show how tight it is, unless the rig
// may pass it at the assumed speed however tight: from is where the line begins.
func (w *bender) coarse(bend bend.Bend, spot Spot, from measure.Distance, before, after stretch) {
	tip, ok := w.tip.Value()
	if assumed := w.assumed(before, after); !ok || assumed > 0 && tip.InCurve(bend.Drivable()) >= assumed {
		return
	}
	o := &w.out.Coarse
	if o.Bends == 0 || math.Abs(bend.Turn*180/math.Pi) > math.Abs(o.Turn) {
		o.Spot, o.Turn = spot, bend.Turn*180/math.Pi
	}
	o.Bends++
	o.Length += max(from+bend.To-max(from+bend.From, o.until), 0)
	o.until = max(o.until, from+bend.To)
}

// corner drives the rig through a corner along the line that is drawn for it.
func (w *bender) corner(line orb.LineString, bend bend.Bend, spot Spot, before, after stretch) {
	c := Corner{
		Spot: spot, Onto: w.Network.RoadName(after.Arc.Edge()), Turn: bend.Turn * 180 / math.Pi,
		Radius: bend.Radius, Driven: assumedLock,
		RoadWidth: w.narrower(before.Arc.Edge(), after.Arc.Edge()), Unknown: w.turns.Rig.Why(),
	}
	if w.turns.Radius != nil {
		c.Driven = measure.Distance(w.turns.Radius.Metres())
	}
	c.Ring = w.onRing(before) || w.onRing(after)
	for _, m := range w.minis {
		if m.at != bend.At {
			continue
		}
		if c.Mini = true; m.diameter > 0 && (c.RoadWidth == 0 || m.diameter < c.RoadWidth) {
			c.RoadWidth = m.diameter
		}
	}
	if c.Unknown.None() {
		w.sweep(&c, line, bend.At)
	}
	if tip, ok := w.tip.Value(); ok && c.Driven > 0 {
		c.Speed = tip.InCurve(c.Driven)
	}
	w.out.Corners = append(w.out.Corners, c)
}

// sweep drives the rig on the radius of its lock where the road is drawn as a
// corner; a wider curve is driven as it is drawn.
func (w *bender) sweep(c *Corner, line orb.LineString, at measure.Distance) {
	const beyond = 60 // m to either side of the corner: the unit is straight behind it again
	window := bend.Window(line, at, beyond)
	path, err := sweep.Round(window, c.Driven)
	if err != nil {
		c.Unknown = say.That("rig.refused", "problem", say.Of(err))
		return
	}
	c.Tighter = w.turns.Radius != nil && path.Least < c.Driven
	path = eased(window, path, c.Driven)
	if c.Driven = path.Least; c.Driven == 0 {
		c.Unknown = say.That("corner.turns_back")
		return
	}
	swept, err := w.driver.Drive(w.plan, path.Path)
	switch {
	case err != nil:
		c.Unknown = say.That("rig.refused", "problem", say.Of(err))
	case swept.Jackknifed:
		c.Unknown = say.That("corner.jackknifes")
	case c.Driven < w.plan.Wheelbase:
		c.Unknown = say.That("corner.too_tight")
	default:
		c.Swept, c.OffTracking, c.TailSwing = swept.Width, swept.OffTracking, swept.TailSwing
		c.Cuts, c.Swings = swept.Cuts, swept.Swings
	}
}

// narrower is the narrower of the tagged widths of two roads; 0 where neither is
// tagged.
func (w *bender) narrower(a, b network.EdgeID) measure.Length {
	n := w.Network
	in, on := n.Record(n.RoadID(a)).Width, n.Record(n.RoadID(b)).Width
	if in == 0 || on == 0 {
		return max(in, on)
	}
	return min(in, on)
}

// known orders corners that could not be driven before the others.
func known(c Corner) int {
	if !c.Unknown.None() {
		return 0
	}
	return 1
}

// grounds notes level crossings and humps.
func (w *bender) grounds(p network.Piece, at measure.Distance) {
	n := w.Network
	for _, s := range n.Spots(p.Arc.Edge()) {
		where := network.Position{Edge: s.Edge, Offset: s.Offset}
		if s.Kind != network.LevelCrossing && s.Kind != network.Hump || !n.Covers(p, where) {
			continue
		}
		w.out.Grounds = append(w.out.Grounds, Ground{
			Spot: Spot{At: at + n.Along(where, p.Arc) - p.Start, Point: n.Point(where), Road: n.RoadName(p.Arc.Edge())},
			Kind: s.Kind, Of: standing.SpotElement(s),
		})
	}
}
