package draw

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

func title(in *phrase.Language, r rig.Rig, invented bool) string {
	return in.Say(say.That("draw.title", "unit", r.Unit.Name, "tow", r.Tow.Name, "invented", invented))
}

// carries says a mass, of what is not exact both ends.
func carries(in *phrase.Language, on measure.Known[rig.Estimate]) string {
	e, ok := on.Value()
	switch {
	case !ok:
		return in.Say(say.That("draw.not_known"))
	case e.Exact():
		return in.Quantity(e.Likely)
	default:
		return in.Say(say.That("draw.between", "low", e.Low, "high", e.High))
	}
}

func nth(all []rig.Estimate, i int) (on measure.Known[rig.Estimate]) {
	if i >= len(all) {
		return on
	}
	return measure.Exactly(all[i])
}

// notes are what is known beside the drawing, and what is not.
func notes(in *phrase.Language, r rig.Rig, s rig.Statics, travel rig.Measures) []string {
	out := []say.Remark{
		basis(r.Unit, s),
		say.That("draw.unit_mass", "mass", carries(in, unitMass(s))),
		say.That("draw.tow_mass", "mass", carries(in, s.TowGross)),
		say.That("draw.rig_mass", "mass", carries(in, s.Rig)),
		centreWords(s.Centre), heightWords(r.Unit, travel),
	}
	if len(s.Axles) > 1 && !s.Even {
		out = append(out, say.That("draw.axles_alike"))
	}
	for _, why := range s.Unknown {
		out = append(out, say.That("draw.not_known_because", "why", why))
	}
	return in.Each(out)
}

// unitMass is what the unit weighs, not known where nothing says it.
func unitMass(s rig.Statics) measure.Known[rig.Estimate] {
	if s.Unit.High == 0 {
		return measure.Known[rig.Estimate]{}
	}
	return measure.Exactly(s.Unit)
}

func basis(u rig.Unit, s rig.Statics) say.Remark {
	switch s.Basis {
	case rig.OnScale:
		return say.That("draw.weighed", "label", u.Ticket.Label, "on", say.Day(u.Ticket.On))
	case rig.ByParts:
		return say.That("draw.by_parts")
	default:
		return say.That("draw.carries_unknown")
	}
}

// heightWords say what the height rests on, and whether the outline agrees.
func heightWords(u rig.Unit, travel rig.Measures) say.Remark {
	high := height(u, travel)
	if high == nil {
		return say.That("draw.height_unknown")
	}
	var on, outline any
	if !u.MeasuredOn.IsZero() {
		on = say.Day(u.MeasuredOn)
	}
	if travel.Shaped && travel.Extent.Top != *high {
		outline = travel.Extent.Top
	}
	return say.That("draw.height", "height", *high, "measured", u.HeightMeasured, "on", on, "outline", outline)
}

// centreWords say where the centre of gravity lies, along the unit by the scale
// where there is a ticket, else by the parts.
func centreWords(c rig.CentreOfGravity) say.Remark {
	if !c.Along.Known() && !c.Across.Known() && !c.Up.Known() {
		return say.That("draw.centre_unknown", "why", missing(c.Along))
	}
	along := say.That("draw.along_unknown", "why", missing(c.Along))
	if at, ok := reachOf(c.Along); ok {
		along = say.That("draw.along", "at", at.says())
	}
	across := say.That("draw.across_unknown", "why", missing(c.Across))
	if at, ok := reachOf(c.Across); ok {
		across = say.That("draw.across", "at", at.says())
	}
	up := say.That("draw.up_unknown", "why", missing(c.Up))
	if at, ok := reachOf(c.Up); ok {
		up = say.That("draw.up", "at", at.says())
	}
	return say.That("draw.centre", "along", along, "across", across, "up", up)
}

// missing names what keeps a centre from being known, nothing where that is not said.
func missing(c rig.Centre) say.Remark {
	const most = 3
	names := c.Missing
	if len(names) == 0 {
		return say.Remark{}
	}
	shown := min(len(names), most)
	return say.That("rig.list", "names", names[:shown], "more", len(names)-shown)
}

// says is the likely value, and its ends where they lie apart.
func (r reach) says() say.Remark {
	if r.low == r.high {
		return say.That("draw.at", "at", r.likely)
	}
	return say.That("draw.reach", "likely", r.likely, "low", r.low, "high", r.high)
}

// movables lists what each does and what is changed if it is forgotten; the first
// has the tag 1.
func movables(in *phrase.Language, u rig.Unit, states []rig.Measures) []string {
	var out []string
	for i, m := range u.Movables {
		s := states[2+i] // after the two states of the whole unit
		then := say.That("draw.no_larger")
		switch changed := s.Changes(states[0]); {
		case s.Hits:
			then = say.That("draw.sticks_out", "changes", changed)
		case m.Stand != nil && m.Stand.Box == nil:
			then = say.That("draw.room_unknown")
		case len(changed) > 0:
			then = say.That("draw.if_forgotten", "changes", changed)
		}
		out = append(out, in.Say(say.That("draw.movable", "name", m.Name, "does", m.Does, "then", then)))
	}
	return out
}
