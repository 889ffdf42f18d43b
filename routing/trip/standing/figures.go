package standing

import (
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
	limitText := t.net.Text(s.Text)
	n := note{
		topic: finding.Sign, rule: "posted " + s.Subject.String(), outcome: finding.Unknown, text: limitText, subject: s.Subject,
	}
	value, least, known := t.measured(s.Subject)
	if known {
		n.value = amount(s.Subject, value)
	}
	if s.For == network.Hazmat {
		n.reason, n.says = finding.NotGiven, say.That("posted.for_hazmat", "quantity", s.Subject)
		j.say(n)
		return
	}
	holds, when := window.Open, t.net.Text(s.When)
	if s.When != 0 {
		n.text += " @ (" + when + ")"
		holds = t.during(when, zone)
	}
	if s.State == network.Known && s.When == 0 {
		n.limit = s.Value
	}
	exceeds := known && s.State == network.Known && value > s.Value
	posted := amount(s.Subject, s.Value)
	switch {
	case s.State != network.Known:
		n.reason, n.says = finding.ToRead, say.That("posted.unreadable", "quantity", s.Subject)
	case !known:
		n.reason, n.says = finding.NotGiven, say.That("posted.rig_not_known", "quantity", s.Subject, "posted", posted)
	case exceeds && holds == window.Open && s.When == 0:
		j.shut, n.shuts = true, true
		n.outcome, n.reason = finding.Forbidden, finding.Exceeded
		n.says = say.That("posted.exceeded", "quantity", s.Subject, "posted", posted)
	case exceeds && holds == window.Unknown:
		n.reason, n.says = finding.TimeOpen, say.That("posted.exceeded_perhaps", "quantity", s.Subject, "posted", posted)
	case exceeds:
		n.shuts = holds == window.Open
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []say.Remark{say.That("hours.not_during", "when", when)}}
		n.says = say.That("posted.exceeded_at_hours", "quantity", s.Subject, "posted", posted)
	case least:
		n.reason, n.says = finding.AtLeast, say.That("posted.rig_at_least", "quantity", s.Subject, "posted", posted)
	default:
		n.reason, n.says = finding.SecondHand, say.That("posted.by_the_map", "quantity", s.Subject, "posted", posted)
	}
	if exceeds && s.When != 0 && t.sometime(when, zone) {
		j.hours, n.when = true, when
	}
	if s.Subject.Mass() && strings.Contains(strings.ToLower(limitText), "ton") {
		n.says = say.That("posted.short_tons", "says", n.says)
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

// amount is a value of what a sign is about.
func amount(s network.Subject, v int64) finding.Quantity {
	if s.Mass() {
		return finding.Of(measure.Mass(v))
	}
	return finding.Of(measure.Length(v))
}

// surface says what the road is like, where that asks for a decision.
func (t *traveller) surface(j *judgement, r network.Record) {
	review := func(rule string, says say.Remark, text string) {
		j.say(note{topic: finding.Road, rule: rule, outcome: finding.Review, reason: finding.Practice, says: says, text: text})
	}
	if r.Flags.Has(network.Ford) {
		review("ford", say.That("way.through_water"), "")
	}
	if r.Paved == network.Unpaved {
		review("surfaces", say.That("way.unpaved"), t.net.Text(r.Surface))
	}
	if r.Flags.Has(network.Toll) {
		j.say(note{topic: finding.Road, rule: "toll", outcome: finding.Unknown, reason: finding.NotMapped, says: say.That("way.toll")})
	}
	if bad := t.net.Text(r.Smoothness); slices.Contains([]string{"bad", "very_bad", "horrible", "very_horrible", "impassable"}, bad) {
		review("surfaces", say.That("way.rough"), bad)
	}
	if steep, known := incline(t.net.Text(r.Incline)); known && steep >= steepIncline {
		review("grades", say.That("way.steep", "percent", steep), t.net.Text(r.Incline))
	}
	if r.Width > 0 {
		t.carriageway(j, r.Width)
	}
}

// carriageway compares the tagged width of a road with the rig.
func (t *traveller) carriageway(j *judgement, road measure.Length) {
	value, least, known := t.measured(network.MaxWidth)
	n := note{topic: finding.Road, rule: "lanes", outcome: finding.Unknown, reason: finding.NotGiven}
	if known {
		n.value = amount(network.MaxWidth, value)
	}
	switch {
	case known && value > int64(road):
		n.outcome, n.reason, n.says = finding.Review, finding.Exceeded, say.That("way.narrow", "road", road)
	case !known || least:
		n.says = say.That("way.perhaps_narrow", "road", road)
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
