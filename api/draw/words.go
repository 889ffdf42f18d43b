package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// plain takes out what would drive a terminal or turn a line around: names come
// from users. All words go through it where they are written.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return ' '
		}
		return r
	}, s)
}

func title(in *phrase.Language, r rig.Rig, invented bool) string {
	return in.Say(say.That("draw.title", "unit", r.Unit.Name, "tow", r.Tow.Name, "invented", invented))
}

// carries prints a mass in both systems. The ends of what is not exact are
// rounded outward, to the kilogram and to the pound.
func carries(in *phrase.Language, on measure.Known[rig.Estimate]) string {
	e, ok := on.Value()
	if !ok {
		return in.Say(say.That("draw.not_known"))
	}
	return between(in, e, measure.Kilogram) + " kg / " + between(in, e, measure.Pound) + " lb"
}

func between(in *phrase.Language, e rig.Estimate, unit measure.Mass) string {
	if e.Exact() {
		return grouped(int64(math.Round(float64(e.Likely) / float64(unit))))
	}
	low := int64(math.Floor(float64(e.Low) / float64(unit)))
	high := int64(math.Ceil(float64(e.High) / float64(unit)))
	if low < 0 {
		return in.Say(say.That("draw.between", "low", grouped(low), "high", grouped(high)))
	}
	return grouped(low) + "-" + grouped(high)
}

// grouped prints a whole number with commas.
func grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
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
		centreWords(in, s.Centre), heightWords(r.Unit, travel),
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
func centreWords(in *phrase.Language, c rig.CentreOfGravity) say.Remark {
	if !c.Along.Known() && !c.Across.Known() && !c.Up.Known() {
		return say.That("draw.centre_unknown", "why", missing(c.Along))
	}
	along := say.That("draw.along_unknown", "why", missing(c.Along))
	if at, ok := reachOf(c.Along); ok {
		along = say.That("draw.along", "at", at.words(in))
	}
	across := say.That("draw.across_unknown", "why", missing(c.Across))
	if at, ok := reachOf(c.Across); ok {
		across = say.That("draw.across", "at", at.words(in))
	}
	up := say.That("draw.up_unknown", "why", missing(c.Up))
	if at, ok := reachOf(c.Up); ok {
		up = say.That("draw.up", "at", at.words(in))
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

// words are the likely value in both systems, to 1 cm and 0.1 ft, and its ends
// rounded outward.
func (r reach) words(in *phrase.Language) string {
	out := fmt.Sprintf("%.2f m / %.1f ft", r.likely.Metres(), float64(r.likely)/float64(measure.Foot))
	if r.low == r.high {
		return out
	}
	centimetres := func(v float64) string { return fmt.Sprintf("%.2f", v/100) }
	low := math.Floor(float64(r.low) / float64(measure.Centimetre))
	high := math.Ceil(float64(r.high) / float64(measure.Centimetre))
	return in.Say(say.That("draw.reach", "likely", out, "low", centimetres(low), "high", centimetres(high)))
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
