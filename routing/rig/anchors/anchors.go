// Package anchors works out what the anchors between a house and its trailer are
// asked for, by the accelerations that rules name for cargo and the wind of the
// road. It is a comparison load for the engineer, not a proof that anything
// holds.
//
// A stiff house sits on a stiff deck and all fasteners are alike. The true forces
// hang on how stiff each of them, the walls and the frame are. Not considered:
// friction on the deck, the deck pressing beyond the outermost anchors, bumps,
// fatigue, prying, that a strap only pulls, a pull and a push at the same time on
// one fastener, and what the fastener is set in.
//
// Places are along behind the coupling point, across to the right of the middle
// line and up from the plane of the anchors, in metres.
package anchors

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Caution goes with every answer.
func Caution() say.Remark { return say.That("hold.caution") }

// Body is what the anchors hold, without the trailer, and its centre of mass.
//
// A range of masses needs both of its ends: a heavy house asks for more when it is
// shaken, a light one when the wind lifts it.
type Body struct {
	Mass              measure.Mass
	Along, Across, Up measure.Distance
}

// weight returns the weight in newtons.
func (b Body) weight() float64 { return b.Mass.Kilograms() * drive.Gravity }

// Kind is what an anchor is. The forces do not depend on it.
type Kind string

// Term is the code of the kind's name.
func (k Kind) Term() say.Code { return say.Word("anchor_kind", string(k)) }

// The kinds. None means that it is not said.
const (
	HoldDown Kind = "hold-down"
	Bolt     Kind = "bolt"
	Strap    Kind = "strap"
	Weld     Kind = "weld"
	Other    Kind = "other"
)

// Kinds lists those that can be given.
func Kinds() []Kind { return []Kind{HoldDown, Bolt, Strap, Weld, Other} }

// Anchor is one or several fasteners at one place.
type Anchor struct {
	Name          string
	Kind          Kind
	Along, Across measure.Distance
	Count         int
	Uplift, Shear *measure.Force // working load limit of one fastener; nil: not known
}

// Result is what is asked of every anchor, in the order they came in.
type Result struct {
	Demands []Demand
	// Cannot names the cases that this layout cannot carry: a moment across anchors
	// that stand in one line, a twist on a single place. What they would ask for is
	// in no demand.
	Cannot []Name
	// LeftOut says what of the wind is in no demand because it is not given.
	LeftOut []say.Remark
}

// Count is how many demands compare so with their ratings.
func (r Result) Count(s Status) (n int) {
	for _, d := range r.Demands {
		if d.Status() == s {
			n++
		}
	}
	return n
}

// Assess works out the most that any case asks of each anchor:
//
//  1. For each case, in still air and again in the given wind: the forces on the
//     body and their moments about the middle of the fasteners.
//  2. Pull: the vertical force is shared alike, the moments in proportion to the
//     distance from the middle, as under a stiff plate on springs that are alike.
//     Where the house presses down the pull is 0.
//  3. Push: the level force is shared alike, the twist in proportion to the
//     distance from the middle and square to it.
//  4. A case whose moments the layout cannot carry goes to Cannot, and no demand
//     counts as known.
//
// Forces and moments balance within 1e-9 of the weight. The error is a
// [*measure.FieldError].
func Assess(b Body, anchors []Anchor, w Wind) (Result, error) {
	if err := check(b, anchors, w); err != nil {
		return Result{}, err
	}
	out := Result{Demands: make([]Demand, len(anchors)), LeftOut: w.leftOut()}
	for i, a := range anchors {
		out.Demands[i].Anchor = a
	}
	g := groupOf(anchors)
	for _, c := range Cases() {
		still := out.meet(g, c.Name, g.load(b, Wind{}, c))
		windy := out.meet(g, c.Name, g.load(b, w, c))
		if !still || !windy {
			out.Cannot = append(out.Cannot, c.Name)
		}
	}
	for i := range out.Demands {
		out.Demands[i].Partial = len(out.Cannot) > 0
	}
	return out, nil
}

// meet raises the demands to those of a load, false where it cannot be carried.
func (r *Result) meet(g group, name Name, l load) bool {
	pull, pulls := g.pull(l)
	push, pushes := g.push(l)
	if !pulls || !pushes {
		return false
	}
	for i := range r.Demands {
		d := &r.Demands[i]
		x, y := g.arm(d.Anchor)
		d.raisePull(measure.Force(pull.at(x, y)), name)
		d.raisePush(measure.Force(push.at(x, y)), name)
	}
	return true
}
