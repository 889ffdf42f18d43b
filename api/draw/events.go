package draw

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/api/draw/picture"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/driving"
	passing "wayhouse/routing/trip/standing"
)

// event is something at a place of a way.
type event struct {
	at    measure.Distance // from the first stop
	words string
	over  bool    // it stands over the road
	top   float64 // of what is drawn of it, on the canvas of its row
	draw  func(c *canvas, at point)
}

func within(all []event, from, to measure.Distance) (out []event) {
	for _, e := range all {
		if from <= e.at && e.at < to {
			out = append(out, e)
		}
	}
	return out
}

// events are all that is drawn, in the order of the way.
func (s strip) events() []event {
	out := s.structures()
	from := measure.Distance(0)
	for i, l := range s.plan.Legs {
		out = append(out, s.border(from, l.From, i == 0))
		from += l.Length
	}
	out = append(out, s.border(from, s.plan.Legs[len(s.plan.Legs)-1].To, true))
	if r := s.plan.Road; r != nil {
		for _, c := range r.Corners {
			out = append(out, s.corner(c))
		}
		for _, one := range r.Climbs {
			out = append(out, s.slope(one, "draw.climb"))
		}
		for _, one := range r.Descents {
			out = append(out, s.slope(one, "draw.descent"))
		}
		for _, stop := range r.Tank.Stops {
			out = append(out, event{at: stop.At, words: s.in.Say(say.That("draw.fuel_stop")), draw: sign})
		}
	}
	slices.SortStableFunc(out, func(a, b event) int { return cmp.Compare(a.at, b.at) })
	return out
}

// sign marks a place on the road.
func sign(c *canvas, at point) { c.Disc(empty, "", at, 0.3*c.Letter) }

// border is a stop, or a place where the jurisdiction changes.
func (s strip) border(at measure.Distance, name say.Remark, stop bool) event {
	return event{at: min(at, s.plan.Length), words: s.in.Say(name), draw: func(c *canvas, at point) {
		if stop {
			c.Disc(filled, "", at, 0.4*c.Letter)
			return
		}
		c.Line(strong, "", at.Plus(0, -0.8*c.Letter), at.Plus(0, 0.8*c.Letter))
	}}
}

func (s strip) corner(k driving.Corner) event {
	side := 1.0
	if k.Turn < 0 {
		side = -1
	}
	says := say.That("draw.turn", "right", k.Turn > 0, "degrees", math.Abs(k.Turn), "onto", k.Onto, "ring", k.Ring,
		"swept", measure.OfMetres(float64(k.Swept)), "known", k.Unknown.None())
	return event{at: k.At, words: s.in.Say(says), draw: func(c *canvas, at point) {
		p := at.Plus(0, 0.7*c.Letter*side)
		c.Line(strong, "", at, p, p.Plus(0.5*c.Letter, 0))
	}}
}

func (s strip) slope(one driving.Slope, code say.Code) event {
	says := say.That("draw.climb", "length", one.Length, "percent", 100*one.Grade)
	if code == "draw.descent" {
		says = say.That("draw.descent", "length", one.Length, "percent", 100*one.Grade)
	}
	return event{at: one.At, words: s.in.Say(says), draw: sign}
}

// structures are what stands over the road. Those without a usable figure that stand
// side by side are told together.
func (s strip) structures() (out []event) {
	from, near := measure.Distance(0), s.per*measure.Distance(3*stripLetter/stripAcross)
	unmeasured, first := 0, -1
	for _, l := range s.plan.Legs {
		for _, one := range l.Structures {
			at := from + one.At
			if one.Known || one.Outcome != finding.Unknown {
				out, first = append(out, s.structure(at, one)), -1
				continue
			}
			if first >= 0 && at-out[first].at <= near {
				unmeasured++
				out[first].words = s.in.Say(say.That("draw.unmeasured", "count", unmeasured))
				continue
			}
			unmeasured, first = 1, len(out)
			out = append(out, s.structure(at, one))
		}
		from += l.Length
	}
	return out
}

// structure draws a lintel at its clear height, in red where the rig does not pass; one
// that is not known is a broken line with a question mark just over the rig.
func (s strip) structure(at measure.Distance, one passing.Passing) event {
	figure, _ := one.Structure.Figure()
	if figure == nil {
		h, _ := s.plan.Rig.Height.Least()
		up := -stripMetre*h.Metres() - 0.4*stripLetter
		return event{at: at, over: true, top: up, words: s.in.Say(say.That("draw.over_unmeasured", "called", one.Called)),
			draw: func(c *canvas, at point) { c.lintel(at, up, looks[unsure]) }}
	}
	up, look := -stripMetre*figure.Metres(), strong
	if one.Outcome == finding.Forbidden {
		look = cross
	}
	var left, short any
	if one.Known && one.Margin >= 0 {
		left = one.Margin
	} else if one.Known {
		short = -one.Margin
	}
	says := say.That("draw.over", "called", one.Called, "posted", *figure, "left", left, "short", short,
		"state", say.Remark{Code: say.Word("state", string(one.Outcome))})
	return event{at: at, over: true, top: up, words: s.in.Say(says),
		draw: func(c *canvas, at point) { c.lintel(at, up, look) }}
}

// lintel draws a structure over the road as two posts and what lies on them.
func (c *canvas) lintel(at point, up float64, look picture.Look) {
	half := 0.5 * c.Letter
	c.Line(look, "", at.Plus(-half, 0), at.Plus(-half, up), at.Plus(half, up), at.Plus(half, 0))
}
