// Package hold works out the forces between a house and the trailer that carries
// it, under the accelerations that rules for cargo name, with the wind of the
// road. Those rules are written for cargo: here they are a comparison load for the
// engineer, not a proof that anything holds.
//
// The house and the deck are taken as stiff, the anchors as alike: the true forces
// hang on how stiff each is.
package hold

import (
	"fmt"
	"math"

	"wayhouse/regs/measure"
)

// Gravity is the standard acceleration of free fall, 9.806 65 m/s2, exact
// (NIST SP 811, 2008, B.8).
const gravity = 9.80665

// Kind is what an anchor is.
type Kind string

// The kinds.
const (
	HoldDown Kind = "hold-down"
	Bolt     Kind = "bolt"
	Strap    Kind = "strap"
	Weld     Kind = "weld"
	Other    Kind = "other"
)

// Kinds lists those that can be given.
func Kinds() []Kind { return []Kind{HoldDown, Bolt, Strap, Weld, Other} }

// Anchor is one or several fasteners at one place. Along is behind the coupling
// point, Across to the right of the middle line.
type Anchor struct {
	Name          string
	Kind          Kind
	Along, Across measure.Distance
	Count         int
	Uplift, Shear *measure.Force // rating of one fastener; nil: not known
}

// Body is what the anchors hold. Up is above the plane of the anchors.
type Body struct {
	Mass              measure.Mass
	Along, Across, Up measure.Distance
}

// Wind is what the air does to the body at road speed in a wind from the side.
type Wind struct {
	Air          measure.Density
	Road, Across measure.Speed
	Side         measure.Area     // of the body, from the side
	SideUp       measure.Distance // of the middle of the side, above the anchors
	Roof         measure.Area     // from above
}

// Coefficients of the air: on the side of a box near the ground 1.0 to 1.3, from
// memory, the higher counts; lift of a roof 0.5 to 1.0, this project's estimate
// without a source, the higher counts.
const (
	sideCoefficient = 1.3
	liftCoefficient = 1.0
)

// Case is a direction in which the body wants to go.
type Case struct {
	Name string
	// Forward, Right and Up are what the body does relative to the deck, in g. Up is
	// what is asked for beside its weight.
	Forward, Right, Up float64
	windRight          float64 // side of the wind, 0 for none
	weightless         bool    // its weight does not count against the lift
}

// Cases are the accelerations that a securement must withstand, each by itself:
// 0.8 g forward, 0.5 g rearward, 0.5 g to either side (49 CFR 393.102(a)(1), read;
// National Safety Code for motor carriers, standard 10, part 1, division 2, 2013;
// Quebec C-24.2, r. 30, s. 3(1), read), and 20 % of the weight downward where the
// cargo is not contained (49 CFR 393.102(b), read; r. 30, s. 3(2), read). For the
// working load limit the United States ask for less, 0.435 g forward and 0.25 g
// sideways (393.102(a)(2), read); Canada does not, so the stricter are taken.
func Cases() []Case {
	return []Case{
		{Name: "braking, 0.8 g", Forward: 0.8},
		{Name: "speeding up, 0.5 g", Forward: -0.5},
		{Name: "to the right, 0.5 g", Right: 0.5, windRight: 1},
		{Name: "to the left, 0.5 g", Right: -0.5, windRight: -1},
		{Name: "upward, 20 % of the weight", Up: 0.2, weightless: true},
	}
}

// Demand is what is asked of one fastener at a place, and in which case most.
type Demand struct {
	Anchor
	PullUp, PushAside         measure.Force
	PullUpCase, PushAsideCase string
}

// Share is how much of a rating a demand takes; known is false where the rating is
// not given.
func share(demand measure.Force, rating *measure.Force) (of float64, known bool) {
	if rating == nil || *rating <= 0 {
		return 0, false
	}
	return float64(demand / *rating), true
}

// Uses is the greater share of both ratings that the demands take; known is false
// where one that is asked for is not given.
func (d Demand) Uses() (of float64, known bool) {
	up, upKnown := share(d.PullUp, d.Uplift)
	aside, asideKnown := share(d.PushAside, d.Shear)
	return max(up, aside), (upKnown || d.PullUp == 0) && (asideKnown || d.PushAside == 0)
}

// Result is what is asked of every anchor.
type Result struct {
	Demands []Demand
	// Cannot names the cases that the layout cannot carry: anchors in one line hold
	// nothing upright across it.
	Cannot []string
}

// load is what a case does at the middle of the anchors: forces in newtons,
// moments in newton metres. Signs: x along toward the rear, y to the right, z up.
type load struct {
	x, y, z    float64
	mx, my, mz float64 // about the axes x, y, z through the centroid of the anchors
}

// Assess works out what each case asks of each anchor:
//
//  1. The forces at the centre of gravity and of the side, and their moments about
//     the middle of the anchors.
//  2. Pull: the weight and the lift shared alike, the moments in proportion to the
//     distance from the middle, as of a stiff plate on springs that are alike. Where
//     it presses, the deck takes it.
//  3. Push: shared alike, and the twist in proportion to the distance.
//
// Errors are [*measure.FieldError].
func Assess(b Body, anchors []Anchor, w Wind) (Result, error) {
	if err := check(b, anchors, w); err != nil {
		return Result{}, err
	}
	g := groupOf(anchors)
	out := Result{Demands: make([]Demand, len(anchors))}
	for i, a := range anchors {
		out.Demands[i].Anchor = a
	}
	for _, c := range Cases() {
		l := g.load(b, w, c)
		pulls, ok := g.pulls(anchors, l)
		if !ok {
			out.Cannot = append(out.Cannot, c.Name)
			continue
		}
		for i := range anchors {
			out.Demands[i].meet(c.Name, pulls[i], g.push(anchors[i], l))
		}
	}
	return out, nil
}

func (d *Demand) meet(name string, pull, push float64) {
	if f := measure.Force(pull); f > d.PullUp {
		d.PullUp, d.PullUpCase = f, name
	}
	if f := measure.Force(push); f > d.PushAside {
		d.PushAside, d.PushAsideCase = f, name
	}
}

func check(b Body, anchors []Anchor, w Wind) error {
	bad := func(field string, value any, problem string) error {
		return &measure.FieldError{Field: field, Value: fmt.Sprint(value), Problem: problem, Fix: "check the figure and its unit"}
	}
	if len(anchors) == 0 {
		return bad("anchors", 0, "is empty")
	}
	if b.Mass <= 0 {
		return bad("mass", b.Mass, "is not above 0")
	}
	for name, v := range map[string]float64{"along": float64(b.Along), "across": float64(b.Across), "up": float64(b.Up)} {
		if math.IsNaN(v) || math.Abs(v) > 100 {
			return bad(name, v, "is no place on a unit")
		}
	}
	for i, a := range anchors {
		if math.IsNaN(float64(a.Along+a.Across)) || math.Abs(float64(a.Along)) > 100 || math.Abs(float64(a.Across)) > 100 {
			return bad(fmt.Sprintf("anchors[%d]", i), a.Along, "is no place on a unit")
		}
		if a.Count < 1 {
			return bad(fmt.Sprintf("anchors[%d].count", i), a.Count, "is below 1")
		}
	}
	for name, v := range map[string]float64{"air": float64(w.Air), "road": float64(w.Road), "across wind": float64(w.Across), "side": float64(w.Side), "roof": float64(w.Roof), "side up": float64(w.SideUp)} {
		if math.IsNaN(v) || v < 0 || v > 1e4 {
			return bad(name, v, "is no figure of a wind")
		}
	}
	return nil
}

// group is the anchors as one: their middle and how they spread about it.
type group struct {
	n             float64
	along, across float64
	xx, yy, xy    float64
}

func groupOf(anchors []Anchor) group {
	var g group
	for _, a := range anchors {
		n := float64(a.Count)
		g.n += n
		g.along += n * float64(a.Along)
		g.across += n * float64(a.Across)
	}
	g.along, g.across = g.along/g.n, g.across/g.n
	for _, a := range anchors {
		x, y := g.arm(a)
		n := float64(a.Count)
		g.xx, g.yy, g.xy = g.xx+n*x*x, g.yy+n*y*y, g.xy+n*x*y
	}
	return g
}

func (g group) arm(a Anchor) (x, y float64) {
	return float64(a.Along) - g.along, float64(a.Across) - g.across
}

// load adds up what a case and the wind do.
func (g group) load(b Body, w Wind, c Case) load {
	weight := b.Mass.Kilograms() * gravity
	x, y, z := float64(b.Along)-g.along, float64(b.Across)-g.across, float64(b.Up)
	var l load
	at := func(fx, fy, fz, x, y, z float64) { // moments are r x F
		l.x, l.y, l.z = l.x+fx, l.y+fy, l.z+fz
		l.mx += y*fz - z*fy
		l.my += z*fx - x*fz
		l.mz += x*fy - y*fx
	}
	down := weight
	if c.weightless {
		down = 0
	}
	at(-c.Forward*weight, c.Right*weight, c.Up*weight-down, x, y, z)
	pressure := 0.5 * float64(w.Air)
	fast := float64(w.Road*w.Road + w.Across*w.Across)
	if !c.weightless {
		at(0, 0, pressure*liftCoefficient*float64(w.Roof)*fast, x, y, z)
	}
	at(0, c.windRight*pressure*sideCoefficient*float64(w.Side)*float64(w.Across*w.Across), 0, x, y, float64(w.SideUp))
	return l
}

// pulls is what each fastener is pulled up with, 0 where the deck presses; ok is
// false where the layout cannot hold a moment.
func (g group) pulls(anchors []Anchor, l load) (out []float64, ok bool) {
	// The tension t = p + q x + r y of a stiff plate balances l: sum t = z, sum t y =
	// mx, sum t x = -my.
	det := g.xx*g.yy - g.xy*g.xy
	scale := (g.xx + g.yy) * (g.xx + g.yy)
	flat := det <= 1e-12*scale || scale == 0
	if flat && math.Abs(l.mx)+math.Abs(l.my) > 1e-9*(1+math.Abs(l.z)) {
		return nil, false
	}
	var q, r float64
	if !flat {
		q = (-l.my*g.yy - l.mx*g.xy) / det
		r = (l.mx*g.xx + l.my*g.xy) / det
	}
	for _, a := range anchors {
		x, y := g.arm(a)
		out = append(out, max(l.z/g.n+q*x+r*y, 0))
	}
	return out, true
}

// push is what one fastener is pushed aside with.
func (g group) push(a Anchor, l load) float64 {
	x, y := g.arm(a)
	fx, fy := l.x/g.n, l.y/g.n
	if polar := g.xx + g.yy; polar > 0 {
		fx, fy = fx-l.mz*y/polar, fy+l.mz*x/polar
	}
	return math.Hypot(fx, fy)
}
