package standing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// figures judges the limits of width, length and mass for some modes. Heights are judged
// where something stands over the road. A figure of the map can shut the rig
// out; it never clears, because nobody vouches for it.
func (t *traveller) figures(j *judgement, r network.Record, key judged, modes []network.Mode) {
	for _, s := range r.Signs {
		if s.Subject == network.Access || s.State == network.NoFigure || !s.Bound.Binds(key.reverse) ||
			!isFor(modes, s.For) && s.For != network.Hazmat {
			continue
		}
		if s.Subject.Height() && s.State == network.Known {
			continue
		}
		t.figure(j, s, key.zone)
	}
}

// isFor reports whether a sign for a mode is for any of some.
func isFor(modes []network.Mode, m network.Mode) bool {
	return slices.ContainsFunc(modes, func(of network.Mode) bool { return slices.Contains(of.Chain(), m) })
}

func (t *traveller) figure(j *judgement, s network.Sign, zone string) {
	limitText := t.net.Text(s.Text)
	n := note{
		topic: finding.Sign, rule: finding.Rule("posted " + s.Subject.String()), outcome: finding.Unknown,
		text: limitText, subject: s.Subject,
	}
	of := t.measured(s.Subject)
	value, known := of.Least()
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
		n.outcome, n.demands = finding.Conditional, finding.Demands{
			Hours: []say.Remark{say.That("hours.not_during", "when", window.ParseCondition(when).Says())},
		}
		n.says = say.That("posted.exceeded_at_hours", "quantity", s.Subject, "posted", posted)
	case of.AtLeast():
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

// measured is what a sign limits of the rig. Where the rated mass is not known, the
// actual mass is the least that it should be. Of the axles the heaviest counts, and may be
// one whose mass was not given or not weighed.
func (t *traveller) measured(s network.Subject) measure.Known[int64] {
	switch s {
	case network.MaxRating:
		return measure.As[int64](t.rig.Truck().Rig)
	case network.MaxAxleMass:
		var loads []measure.Known[int64]
		for _, a := range t.rig.Loads {
			loads = append(loads, measure.As[int64](a.Mass))
		}
		return measure.Greatest(loads...)
	default:
		return t.rig.Size(sizeOf(s))
	}
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
	review := func(rule finding.Rule, says say.Remark, text string) {
		j.say(note{
			topic: finding.Road, rule: rule, outcome: finding.Review, reason: finding.Practice, says: says,
			text: text,
		})
	}
	if r.Flags.Has(network.Ford) {
		review("ford", say.That("way.through_water"), "")
	}
	if r.Paved == network.Unpaved {
		review("surfaces", say.That("way.unpaved"), t.net.Text(r.Surface))
	}
	if r.Flags.Has(network.Toll) {
		j.say(note{
			topic: finding.Road, rule: "toll", outcome: finding.Unknown, reason: finding.NotMapped,
			says: say.That("way.toll"),
		})
	}
	if bad := t.net.Text(r.Smoothness); slices.Contains([]string{"bad", "very_bad", "horrible", "very_horrible",
		"impassable"}, bad) {
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
	width := t.rig.Size(rig.Width)
	value, known := width.Least()
	n := note{topic: finding.Road, rule: "lanes", outcome: finding.Unknown, reason: finding.NotGiven}
	if known {
		n.value = amount(network.MaxWidth, value)
	}
	switch {
	case known && value > int64(road):
		n.outcome, n.reason, n.says = finding.Review, finding.Exceeded, say.That("way.narrow", "road", road)
	case !width.Known():
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
