package draw

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
)

// cornerRadius is the radius of the corner that is drawn, of the middle of the first
// axle, where the rig can hold it: that of a wide corner in a town.
const cornerRadius = 12.5 * measure.Distance(1)

// cornered shows the rig from above as it turns a square corner to the right, and the
// room that it takes.
func (p plan) cornered(letter float64) *canvas {
	c := newCanvas(p.in, letter)
	r, ok := p.rig.Turning().Rig.Value()
	if !ok {
		c.paragraphs(point{}, 40, []string{p.in.Say(say.That("draw.corner_unknown", "why", p.rig.Turning().Rig.Why()))})
		return c
	}
	radius := cornerRadius
	if lock := p.rig.Tow.TurningRadius; lock != nil {
		radius = max(radius, measure.Distance(lock.Metres()))
	}
	path := cornerPath(radius, runIn, r.Wheelbase+r.HitchBehindRear+r.CouplingToAxles+r.UnitRear)
	course, err := r.Course(path, cornerStep)
	var driver sweep.Driver
	swept, failed := driver.Drive(r, path)
	if err != nil || failed != nil {
		c.paragraphs(point{}, 40, []string{p.in.Say(say.That("draw.corner_not_held", "radius", radius))})
		return c
	}
	c.along(course)
	c.paragraphs(point{X: c.Least.X, Y: c.Most.Y + 2*letter}, max(c.Wide()/letter, 30), []string{
		p.in.Say(say.That("draw.corner", "radius", measure.OfMetres(float64(radius)),
			"by", measure.OfMetres(float64(swept.OffTracking)), "needs", measure.OfMetres(float64(swept.Width)),
			"angle", float64(swept.Articulation/sweep.Degree)))})
	return c
}

// runIn is how far the first axle comes straight before the corner, metres: before that
// nothing turns.
const runIn = 2

// cornerStep is how far apart the rig is drawn in a corner, metres.
const cornerStep = 0.4

// cornerPath is the way of the middle of the first axle: straight up the page, a quarter
// of a circle to the right, and straight on.
func cornerPath(radius, in, out measure.Distance) orb.LineString {
	r := float64(radius)
	path := orb.LineString{{0, -float64(in)}}
	const pieces = 90
	for i := range pieces + 1 {
		sin, cos := math.Sincos(float64(i) / pieces * math.Pi / 2)
		path = append(path, orb.Point{r - r*cos, r * sin})
	}
	return append(path, orb.Point{r + float64(out), r})
}

// flat puts planar metres on the canvas.
func flat(p orb.Point) point { return point{X: 1000 * p[0], Y: -1000 * p[1]} }

// along draws where a rig comes along: all that it sweeps, how it stands here and there
// and, in heavier lines, where it is bent most, and the ways of its first axle and of the unit's axles.
func (c *canvas) along(course sweep.Course) {
	for _, s := range course.Stances {
		c.body(room, "", s.Tow)
		c.body(room, "", s.Unit)
	}
	n := len(course.Stances)
	front, rear := make([]point, n), make([]point, n)
	for i, s := range course.Stances {
		front[i], rear[i] = flat(s.Front), flat(s.UnitAxle)
	}
	for i := range stances {
		c.stands(course.Stances[i*(n-1)/(stances-1)], stands)
	}
	c.stands(slices.MaxFunc(course.Stances, func(a, b sweep.Stance) int {
		return cmp.Compare(math.Abs(float64(a.Articulation)), math.Abs(float64(b.Articulation)))
	}), over)
	c.Line(strong, c.in.Say(say.That("draw.way_front")), front...)
	c.Line(axis, c.in.Say(say.That("draw.way_rear")), rear...)
}

// stands draws both bodies of a rig where they stand.
func (c *canvas) stands(s sweep.Stance, l picture.Look) {
	c.body(l, c.in.Say(say.That("draw.tow_above")), s.Tow)
	c.body(l, c.in.Say(say.That("draw.unit_above")), s.Unit)
}

// stances are in how many places a rig is drawn with its outlines in a corner.
const stances = 5

var (
	room   = picture.Look{Fill: wall}
	stands = picture.Look{Stroke: grey, Width: 0.08}
)

func (c *canvas) body(l picture.Look, name string, corners [4]orb.Point) {
	c.Area(l, name, flat(corners[0]), flat(corners[1]), flat(corners[2]), flat(corners[3]))
}

// turns adds how a rig bends, and beside it how it turns a corner, each to a scale of
// its own with a bar.
func (c *canvas) turns(p plan) {
	top := point{X: c.Least.X, Y: c.Most.Y + 2.5*c.Letter}
	half := (c.Wide() - 4*c.Letter) / 2
	type above struct {
		heading say.Remark
		draw    func(letter float64) *canvas
	}
	corner := above{say.That("draw.cornered"), p.cornered}
	if p.tried != nil {
		corner = above{say.That("draw.tried_above"), p.triedOut}
	}
	for _, v := range []above{{say.That("draw.bent"), p.bent}, corner} {
		c.letters(top, picture.Start, c.in.Say(v.heading), 1.15)
		c.fitted(v.draw, top.Plus(0, 1.2*c.Letter), half)
		top.X += half + 4*c.Letter
	}
}

// fitted places a drawing under and to the right of a point, as large as a width and as
// much height hold it.
func (c *canvas) fitted(draw func(letter float64) *canvas, at point, room float64) {
	const tries = 4 // words do not shrink with what is drawn
	scale := 1.0
	small := draw(c.Letter)
	for range tries {
		scale *= min(room/(scale*small.Wide()), 0.8*room/(scale*(small.Most.Y-small.Least.Y)))
		scale = min(scale, 1)
		small = draw(c.Letter / scale)
	}
	c.place(small, at.Plus(-scale*small.Least.X, -scale*small.Least.Y), scale)
	if small.Bare() {
		return
	}
	c.scale(point{X: at.X, Y: at.Y + scale*(small.Most.Y-small.Least.Y) + 2.4*c.Letter}, room/3, scale, 1, 5)
}
