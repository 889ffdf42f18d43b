package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

const (
	footer   = "Planning sketch, not a working drawing. Weigh the rig, measure its height."
	notKnown = "not known"
	mark     = "INVENTED"
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

func title(r rig.Rig, invented bool) string {
	out := "Unit without a name"
	if r.Unit.Name != "" {
		out = r.Unit.Name
	}
	if r.Tow.Name != "" {
		out += ", behind " + r.Tow.Name
	}
	if invented {
		out = mark + ": " + out
	}
	return out
}

// figure prints a length in both systems, to the nearest.
func figure(l measure.Length) string { return l.String() }

// carries prints a mass in both systems. The ends of what is not exact are
// rounded outward, to the kilogram and to the pound.
func carries(on measure.Known[rig.Estimate]) string {
	e, ok := on.Value()
	if !ok {
		return notKnown
	}
	return between(e, measure.Kilogram) + " kg / " + between(e, measure.Pound) + " lb"
}

func between(e rig.Estimate, unit measure.Mass) string {
	if e.Exact() {
		return grouped(int64(math.Round(float64(e.Likely) / float64(unit))))
	}
	low := int64(math.Floor(float64(e.Low) / float64(unit)))
	high := int64(math.Ceil(float64(e.High) / float64(unit)))
	if low < 0 {
		return grouped(low) + " to " + grouped(high)
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
	out := []string{basis(r.Unit, s)}
	for _, m := range []struct {
		what string
		of   measure.Known[rig.Estimate]
	}{{"Unit", unitMass(s)}, {"Tow vehicle with what rests on it", s.TowGross}, {"Rig", s.Rig}} {
		out = append(out, m.what+": "+carries(m.of)+".")
	}
	out = append(out, centreWords(in, s.Centre), heightWords(r.Unit, travel))
	if len(s.Axles) > 1 && !s.Even {
		out = append(out, "The axles of the unit are taken to share alike; whether they do is not known.")
	}
	for _, why := range s.Unknown {
		out = append(out, "Not known: "+in.Say(why)+".")
	}
	return out
}

// unitMass is what the unit weighs, not known where nothing says it.
func unitMass(s rig.Statics) measure.Known[rig.Estimate] {
	if s.Unit.High == 0 {
		return measure.Known[rig.Estimate]{}
	}
	return measure.Exactly(s.Unit)
}

func basis(u rig.Unit, s rig.Statics) string {
	switch s.Basis {
	case rig.OnScale:
		return fmt.Sprintf("Masses as weighed: ticket %s of %s.", u.Ticket.Label, u.Ticket.On.Format(time.DateOnly))
	case rig.ByParts:
		return "Masses worked out from the parts, not weighed."
	default:
		return "What axles and coupling carry is not known."
	}
}

// heightWords say what the height rests on, and whether the outline agrees.
func heightWords(u rig.Unit, travel rig.Measures) string {
	high := height(u, travel)
	if high == nil {
		return "Height: not known."
	}
	out := "Height: " + high.Up() + ", not measured on the finished unit"
	if u.HeightMeasured {
		out = "Height: " + high.Up() + ", measured"
		if !u.MeasuredOn.IsZero() {
			out += " on " + u.MeasuredOn.Format(time.DateOnly)
		}
	}
	if travel.Shaped && travel.Extent.Top != *high {
		out += "; the outline is drawn as described, " + figure(travel.Extent.Top)
	}
	return out + "."
}

// centreWords say where the centre of gravity lies, along the unit by the scale
// where there is a ticket, else by the parts.
func centreWords(in *phrase.Language, c rig.CentreOfGravity) string {
	if !c.Along.Known() && !c.Across.Known() && !c.Up.Known() {
		return "Centre of gravity: not known" + whyMissing(in, c.Along.Missing) + "."
	}
	out := "Centre of gravity: "
	for i, d := range []struct {
		of         rig.Centre
		where, far string
	}{{c.Along, "behind the coupling", "along the unit"}, {c.Across, "right of the middle line", "across it"},
		{c.Up, "above the ground", "its height"}} {
		if i > 0 {
			out += "; "
		}
		if at, ok := reachOf(d.of); ok {
			out += fmt.Sprintf("%s %s", at, d.where)
		} else {
			out += d.far + " " + notKnown + whyMissing(in, d.of.Missing)
		}
	}
	return out + "."
}

func whyMissing(in *phrase.Language, missing []say.Remark) string {
	const most = 3
	names := in.Each(missing)
	switch {
	case len(names) == 0:
		return ""
	case len(names) > most:
		return fmt.Sprintf(" (%s and %d more)", strings.Join(names[:most], ", "), len(names)-most)
	default:
		return " (" + strings.Join(names, ", ") + ")"
	}
}

// String prints the likely value in both systems, to 1 cm and 0.1 ft, and its ends
// rounded outward.
func (r reach) String() string {
	out := fmt.Sprintf("%.2f m / %.1f ft", r.likely.Metres(), float64(r.likely)/float64(measure.Foot))
	if r.low == r.high {
		return out
	}
	centimetres := func(v float64) string { return fmt.Sprintf("%.2f", v/100) }
	low := math.Floor(float64(r.low) / float64(measure.Centimetre))
	high := math.Ceil(float64(r.high) / float64(measure.Centimetre))
	return out + " (" + centimetres(low) + " to " + centimetres(high) + " m)"
}

// movables lists what each does and what is changed if it is forgotten; the first
// has the tag 1.
func movables(in *phrase.Language, u rig.Unit, states []rig.Measures) []string {
	var out []string
	for i, m := range u.Movables {
		line := m.Name + ": " + in.Term(m.Does)
		s := states[2+i] // after the two states of the whole unit
		changed := in.All(s.Changes(states[0]))
		switch {
		case s.Hits:
			line += "; STICKS OUT if forgotten: " + changed
		case m.Stand != nil && m.Stand.Box == nil:
			line += "; the room it takes while the unit stands is not described, not drawn"
		case changed != "":
			line += "; if forgotten: " + changed
		default:
			line += "; if forgotten: no larger outline"
		}
		out = append(out, line)
	}
	return out
}
