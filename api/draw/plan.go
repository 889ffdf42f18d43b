package draw

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// plan is what is drawn, before it is known with what.
type plan struct {
	in         *phrase.Language
	title      string
	side, rear view
	movables   []string // numbered as the tags of shapes
	notes      []string
	rig        rig.Rig
	tried      *rig.Manoeuvre // nil: no corner was to be tried
}

// view is what is seen from one direction, on a level ground. Lengths are to the
// right of a middle and above the ground: from the side the middle is the
// coupling point and right is behind it, from behind it is the middle line.
type view struct {
	in      *phrase.Language
	heading string
	shapes  []shape
	courses []course // what joins both
	wheels  []rect
	round   bool     // the wheels are seen from their side
	strikes []spot   // where what was forgotten sticks out
	above   []span   // dimension lines above
	below   []span   // dimension lines under the ground
	loads   []load   // from left to right
	levels  []level  // lines across
	centre  *gravity // nil: not known
	missing []string // what is not drawn, and why
}

// style says what a shape stands for.
type style int

const (
	described style = iota // the outline of the unit or the tow vehicle
	fitted                 // a movable where it travels
	standing               // a movable that is only there while the unit stands
	sticking               // the same, and it would stick out if it were forgotten
	unsure                 // a box of overall measurements around what is not described
)

type spot struct{ x, up measure.Length }

type rect struct{ left, right, bottom, top measure.Length }

// shape is a rectangle; open says that its lower side is not known.
type shape struct {
	rect
	style style
	name  string
	tag   int // of the list of movables; 0: none
	open  bool
}

// span is a dimension line.
type span struct {
	from, to measure.Length
	words    string
}

// load is what rests on the ground, or on the tow vehicle, at one place.
type load struct {
	at       measure.Length
	what     string
	where    string // in words
	carries  string
	coupling bool
}

// level is a line across at a height.
type level struct {
	up       measure.Length
	from, to measure.Length
	what     string
	main     bool // the travelling height
}

// gravity is the centre of gravity; without up it is a line.
type gravity struct {
	x  reach
	up *reach
}

type reach struct{ low, likely, high measure.Length }

func newPlan(in *phrase.Language, r rig.Rig, s rig.Statics, invented bool) plan {
	states := r.States()
	p := plan{
		in: in, title: title(in, r, invented), side: sideView(in, r, s, states), rear: rearView(in, r, s, states),
		movables: movables(in, r.Unit, states), notes: notes(in, r, s, states[0]), rig: r,
	}
	if len(p.side.wheels)+len(p.rear.wheels) > 0 {
		p.notes = append(p.notes, in.Say(say.That("draw.wheels", "high", 2*wheelRadius)))
	}
	return p
}

// lacks notes what is not drawn, and why.
func (v *view) lacks(why say.Remark) { v.missing = append(v.missing, v.in.Say(why)) }

// drawn reports whether there is anything to draw.
func (p plan) drawn() bool {
	_, side := p.side.bounds()
	_, rear := p.rear.bounds()
	return side || rear
}

// upright puts the ends of a rectangle in order.
func (r rect) upright() rect {
	return rect{min(r.left, r.right), max(r.left, r.right), min(r.bottom, r.top), max(r.bottom, r.top)}
}

func (r rect) union(o rect) rect {
	return rect{min(r.left, o.left), max(r.right, o.right), min(r.bottom, o.bottom), max(r.top, o.top)}
}

func (r rect) middle() spot { return spot{r.left + (r.right-r.left)/2, r.bottom + (r.top-r.bottom)/2} }

// around is the least rectangle around others; ok is false without any.
func around(all []rect) (out rect, ok bool) {
	for i, r := range all {
		if i == 0 {
			out = r
		}
		out = out.union(r)
	}
	return out, len(all) > 0
}

// bounds of a view, with its ground; ok is false where nothing is drawn.
func (v view) bounds() (whole rect, ok bool) {
	if len(v.shapes)+len(v.wheels) == 0 {
		return rect{}, false
	}
	all := append([]rect{{}}, v.wheels...) // the coupling point or the middle line, on the ground
	for _, s := range v.shapes {
		all = append(all, s.rect)
	}
	for _, c := range v.courses {
		for _, s := range c.through {
			all = append(all, rect{s.x, s.x, 0, s.up})
		}
	}
	for _, l := range v.loads {
		all = append(all, rect{l.at, l.at, 0, 0})
	}
	for _, s := range append(append([]span(nil), v.above...), v.below...) {
		all = append(all, rect{s.from, s.to, 0, 0})
	}
	for _, l := range v.levels {
		all = append(all, rect{l.from, l.to, 0, l.up})
	}
	if g := v.centre; g != nil {
		all = append(all, rect{g.x.low, g.x.high, 0, 0})
		if g.up != nil {
			all = append(all, rect{g.x.likely, g.x.likely, g.up.low, g.up.high})
		}
	}
	return around(all)
}
