package draw

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
)

// triedOut shows the rig from above on the line that was found through the corner, the
// driveway or the gate that was to be tried, between its edges. The way in leads up.
func (p plan) triedOut(letter float64) *canvas {
	c := newCanvas(p.in, letter)
	fit, ok := p.tried.Fit.Value()
	why := p.tried.Fit.Why()
	var course sweep.Course
	if ok {
		var err error
		if course, err = fit.Rig.Course(fit.Course.Path, cornerStep); err != nil {
			why, ok = say.Of(err), false
		}
		course.Stances = course.Stances[straightIn(course, fit.Rig):]
	}
	if !ok {
		c.paragraphs(point{}, 40, []string{p.in.Say(say.That("draw.corner_unknown", "why", why))})
		return c
	}
	for i := range course.Stances {
		upward(&course.Stances[i])
	}
	c.along(course)
	c.edges(course, fit)
	c.paragraphs(point{X: c.Least.X, Y: c.Most.Y + 2*letter}, max(c.Wide()/letter, 30), []string{
		p.in.Say(say.That("draw.tried", "passes", fit.Passes(), "left", measure.OfMetres(float64(fit.Left)),
			"right", measure.OfMetres(float64(fit.Right)), "radius", measure.OfMetres(float64(fit.Radius)),
			"angle", float64(fit.Swept.Articulation/sweep.Degree)))})
	return c
}

// straightIn is how many stances at the beginning of a line are not worth the room: the
// rig comes straight for its own length there, of which only the last is drawn.
func straightIn(course sweep.Course, r sweep.Combination) int {
	rig := r.FrontOverhang + r.Wheelbase + r.HitchBehindRear + r.CouplingToAxles + r.UnitRear
	return min(max(int((rig-runIn)/cornerStep), 0), len(course.Stances)-stances)
}

// edges draws what of the edges of a place lies about where the rig passes.
func (c *canvas) edges(course sweep.Course, fit sweep.Fit) {
	var passes orb.MultiPoint
	for _, s := range course.Stances {
		passes = append(append(passes, s.Tow[:]...), s.Unit[:]...)
	}
	const beyond = 1 // m: so that an edge is not cut off along itself
	beside := max(fit.Place.From, fit.Place.Into) - min(fit.Rig.TowWidth, fit.Rig.UnitWidth)
	about := passes.Bound().Pad(float64(max(beside, 0)) + beyond)
	name := c.in.Say(say.That("draw.edge"))
	for _, side := range [][]orb.LineString{fit.Edges.Left, fit.Edges.Right} {
		for _, edge := range side {
			for _, seen := range clip.LineString(about, turnedUp(edge)) {
				at := make([]point, len(seen))
				for i, p := range seen {
					at[i] = flat(p)
				}
				c.Line(ground, name, at...)
			}
		}
	}
}

// ahead turns a place so that what leads ahead leads up the page.
func ahead(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} }

func turnedUp(l orb.LineString) orb.LineString {
	out := make(orb.LineString, len(l))
	for i, p := range l {
		out[i] = ahead(p)
	}
	return out
}

// upward turns where a rig stands as [ahead] turns a place.
func upward(s *sweep.Stance) {
	for _, p := range []*orb.Point{&s.Front, &s.TowAxle, &s.Coupling, &s.UnitAxle} {
		*p = ahead(*p)
	}
	for k := range s.Tow {
		s.Tow[k], s.Unit[k] = ahead(s.Tow[k]), ahead(s.Unit[k])
	}
}
