package standing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// figures judges the limits of width, length and mass. Heights are judged
// where something stands over the road. A figure of the map can shut the rig
// out; it never clears, because nobody vouches for it.
func (t *traveller) figures(j *judgement, r network.Record, key judged) {
	for _, s := range r.Signs {
		if s.Subject == network.Access || s.State == network.NoFigure || !s.Bound.Binds(key.reverse) || !t.isFor(s.For) && s.For != network.Hazmat {
			continue
		}
		if s.Subject.Height() && s.State == network.Known {
			continue
		}
		t.figure(j, s, key.zone)
	}
}

func (t *traveller) isFor(m network.Mode) bool {
	return slices.ContainsFunc(t.modes, func(of network.Mode) bool { return slices.Contains(of.Chain(), m) })
}

func (t *traveller) figure(j *judgement, s network.Sign, zone string) {
	value, least, known := t.measured(s.Subject)
	limitText := t.net.Text(s.Text)
	n := note{rule: "posted " + s.Subject.String(), outcome: finding.Unknown, text: limitText}
	if known {
		n.value = printed(s.Subject, value)
	}
	if s.For == network.Hazmat {
		n.summary = fmt.Sprintf("a limit of %s is posted for hazardous goods: whether propane aboard counts is not known", s.Subject)
		j.say(n)
		return
	}
	holds := window.Open
	if s.When != 0 {
		when := t.net.Text(s.When)
		n.text += " @ (" + when + ")"
		holds = t.during(when, zone)
	}
	if s.State == network.Known && s.When == 0 {
		n.subject, n.limit = s.Subject, s.Value
	}
	exceeds := known && s.State == network.Known && value > s.Value
	switch {
	case s.State != network.Known:
		n.summary = fmt.Sprintf("a limit of %s is posted that could not be read", s.Subject)
	case !known:
		n.summary = fmt.Sprintf("%s is limited to %s and that of the rig is not known", s.Subject, printed(s.Subject, s.Value))
	case exceeds && holds == window.Open && s.When == 0:
		j.shut, n.shuts = true, true
		n.outcome = finding.Forbidden
		n.summary = fmt.Sprintf("%s is limited to %s, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case exceeds && holds == window.Unknown:
		n.summary = fmt.Sprintf("%s is limited to %s under a condition that could not be decided, and the rig exceeds it", s.Subject, printed(s.Subject, s.Value))
	case exceeds:
		n.shuts = holds == window.Open
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", t.net.Text(s.When))}}
		n.summary = fmt.Sprintf("%s is limited to %s at certain hours, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case least:
		n.summary = fmt.Sprintf("%s is limited to %s; that of the rig is known only as a least value", s.Subject, printed(s.Subject, s.Value))
	default:
		n.summary = fmt.Sprintf("%s is limited to %s by the map, which nobody vouches for: read the sign", s.Subject, printed(s.Subject, s.Value))
	}
	if exceeds && s.When != 0 && t.sometime(t.net.Text(s.When), zone) {
		j.hours, n.when = true, t.net.Text(s.When)
	}
	if s.Subject.Mass() && strings.Contains(strings.ToLower(limitText), "ton") {
		n.summary += "; its tons are taken for short ones, the lightest of short, metric and long"
	}
	j.say(n)
}

// measured returns what a sign limits of the rig; least tells that the true
// value may be higher. The rated mass is not known: the actual mass is the
// least that it should be. Of the axles the heaviest counts.
func (t *traveller) measured(s network.Subject) (value int64, least, known bool) {
	length := func(of, part *measure.Length) (int64, bool, bool) {
		switch {
		case of != nil:
			return int64(*of), false, true
		case part != nil:
			return int64(*part), true, true
		default:
			return 0, false, false
		}
	}
	switch s {
	case network.MaxWidth, network.MaxWidthPhysical:
		width, least := t.rig.Passing()
		if width == nil {
			return 0, false, false
		}
		return int64(*width), least, true
	case network.MaxLength:
		return length(t.rig.Length, t.rig.Unit.Length)
	case network.MaxMass, network.MaxRating:
		switch {
		case t.rig.Mass != nil:
			return int64(*t.rig.Mass), s == network.MaxRating, true
		case t.rig.LeastMass() != nil:
			return int64(*t.rig.LeastMass()), true, true
		}
	case network.MaxAxleMass:
		return heaviest(t.rig.Loads)
	}
	return 0, false, false
}

// heaviest returns the mass of the heaviest axle; least tells that one may be
// heavier, because its mass was not given or not weighed.
func heaviest(axles []limit.AxleLoad) (mass int64, least, known bool) {
	for _, a := range axles {
		least = least || a.AtLeast || a.Mass == nil
		if a.Mass == nil {
			continue
		}
		mass, known = max(mass, int64(*a.Mass)), true
	}
	return mass, least, known
}

func printed(s network.Subject, v int64) finding.Quantity {
	if s.Mass() {
		return finding.Of(measure.Mass(v))
	}
	return finding.Of(measure.Length(v))
}

// surface says what the road is like, where that asks for a decision.
func (t *traveller) surface(j *judgement, r network.Record) {
	if r.Flags.Has(network.Ford) {
		j.say(note{rule: "ford", outcome: finding.Review, summary: "the road runs through water; a person must decide"})
	}
	if r.Paved == network.Unpaved {
		j.say(note{rule: "surfaces", outcome: finding.Review, summary: "the road is not paved", text: t.net.Text(r.Surface)})
	}
	if r.Flags.Has(network.Toll) {
		j.say(note{rule: "toll", outcome: finding.Unknown, summary: "the road costs a toll: how much, and whether it takes a rig of this size, is not known"})
	}
	if bad := t.net.Text(r.Smoothness); slices.Contains([]string{"bad", "very_bad", "horrible", "very_horrible", "impassable"}, bad) {
		j.say(note{rule: "surfaces", outcome: finding.Review, summary: "the road is rough", text: bad})
	}
	if steep, known := incline(t.net.Text(r.Incline)); known && steep >= steepIncline {
		j.say(note{rule: "grades", outcome: finding.Review, text: t.net.Text(r.Incline), summary: fmt.Sprintf("the road is tagged with a grade of %.0f %%; a person must decide", steep)})
	}
	if r.Width > 0 {
		t.carriageway(j, r.Width)
	}
}

// carriageway compares the tagged width of a road with the rig.
func (t *traveller) carriageway(j *judgement, road measure.Length) {
	value, least, known := t.measured(network.MaxWidth)
	n := note{rule: "lanes", outcome: finding.Unknown}
	if known {
		n.value = printed(network.MaxWidth, value)
	}
	switch {
	case known && value > int64(road):
		n.outcome, n.summary = finding.Review, "the carriageway, "+road.String()+", is narrower than the rig"
	case !known || least:
		n.summary = "the carriageway is " + road.String() + " and the width of the rig is not known, or only in part"
	default:
		return
	}
	j.say(n)
}

// steepIncline is the tagged grade, in percent, from which a person must decide
// (common practice, no source: warning signs stand from about 8 %).
const steepIncline = 8

// incline reads a grade such as 12% or -7°, without its sign.
func incline(text string) (percent float64, ok bool) {
	number, degrees := strings.CutSuffix(text, "°")
	if !degrees {
		number = strings.TrimSuffix(text, "%")
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil {
		return 0, false
	}
	if degrees {
		v = 100 * math.Tan(v*math.Pi/180)
	}
	return math.Abs(v), true
}
