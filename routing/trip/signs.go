package trip

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/window"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// traveller is what the signs of roads are judged for: a rig that may be any
// of several modes, on the road between two times.
type traveller struct {
	net      *network.Network
	rig      rig.Rig
	modes    []network.Mode
	from, to time.Time

	roads map[judged]*judgement
	spots map[judgedSpot]*judgement
	bans  map[int32]bool
}

type judged struct {
	road    network.RoadID
	reverse bool
}

type judgedSpot struct {
	judged
	kind network.Kind
}

// judgement is what the signs of a road mean for the rig in one direction.
type judgement struct {
	closed bool   // to any such vehicle, whatever its size and hour
	shut   bool   // to this rig, by a figure or at these hours
	ends   bool   // open only where a trip begins or ends
	notes  []note // what has to be said when it is driven
}

// note is a finding that many pieces of a leg may share.
type note struct {
	rule    string
	outcome finding.Outcome
	summary string
	value   string
	demands finding.Demands
	text    string // of the sign, as the source writes it
}

// heavyGoods is the rated mass above which goods vehicles are heavy ones
// (OpenStreetMap wiki, Key:hgv, 2025).
const heavyGoods = 3500 * measure.Kilogram

func newTraveller(n *network.Network, r Request, departure time.Time) *traveller {
	t := &traveller{
		net: n, rig: r.Rig, modes: modes(r.Rig), roads: map[judged]*judgement{}, spots: map[judgedSpot]*judgement{}, bans: map[int32]bool{},
	}
	// Signs are read on the clock of the departure: an hour on either side is for
	// the zones that are crossed.
	t.from, t.to = departure.Add(-time.Hour), departure.Add(time.Hour+underway(r))
	return t
}

// underway is a generous guess of how long a trip drives, for the hours of
// signs: its length as the crow flies at half the speed that trips are driven
// at.
func underway(r Request) time.Duration {
	var length measure.Distance
	for i := 1; i < len(r.Stops); i++ {
		length += geodesic.Between(r.Stops[i-1].Point, r.Stops[i].Point)
	}
	if r.Given != nil {
		length = max(length, geodesic.Length(r.Given.Line))
	}
	return time.Duration(float64(length/(35*measureKmPerHour)) * float64(time.Second))
}

const measureKmPerHour = measure.Distance(1.0 / 3.6) // metres per second in one km/h

// modes lists everything that signs may take a rig for. What is not known is
// taken to be possible, so that the signs of each bind.
func modes(r rig.Rig) []network.Mode {
	out := []network.Mode{network.Motorcars, network.GoodsVehicles, network.Trailers}
	if r.Mass == nil || *r.Mass > heavyGoods {
		out = append(out, network.HeavyGoods)
		if r.Unit.Coupling.Form() != limit.Trailer {
			out = append(out, network.Articulated)
		}
	}
	if k := r.Unit.Kind; k == limit.KindUnknown || k == limit.TinyHome || k == limit.RecreationalTrailer || k == limit.HouseTrailer {
		out = append(out, network.Caravans)
	}
	return out
}

// banned tells whether a forbidden sequence of turns binds the rig. One that
// holds under a condition is taken to hold always.
func (t *traveller) banned(i int32) bool {
	if bound, known := t.bans[i]; known {
		return bound
	}
	b, _ := t.net.Ban(int(i))
	t.bans[i] = b.Binds(t.modes)
	return t.bans[i]
}

// road judges the record of an arc.
func (t *traveller) road(a network.Arc) *judgement {
	key := judged{t.net.RoadID(a.Edge()), a.Reverse()}
	if j, ok := t.roads[key]; ok {
		return j
	}
	r := t.net.Record(key.road)
	j := &judgement{}
	if r.Flags.Has(network.OnewayAlong) && key.reverse || r.Flags.Has(network.OnewayAgainst) && !key.reverse {
		j.close("one-way", "the road is one-way the other way", "")
	}
	if r.Flags.Has(network.OnewayVaries) {
		j.say(note{rule: "one-way", outcome: finding.Unknown, summary: "which way the road is open changes by hour or by signal"})
	}
	t.access(j, r, key.reverse, network.Allowed)
	t.figures(j, r, key.reverse)
	t.surface(j, r)
	t.roads[key] = j
	return j
}

// spot judges what stands on a road at one place.
func (t *traveller) spot(s network.Spot, reverse bool) *judgement {
	key := judgedSpot{judged{s.Road, reverse}, s.Kind}
	if j, ok := t.spots[key]; ok {
		return j
	}
	r := t.net.Record(s.Road)
	j := &judgement{}
	if s.OnNode == 1 && s.Kind != network.ContactLine { // a contact line bears the record of its road
		otherwise := network.Allowed
		if s.Kind == network.Blocked {
			otherwise = network.Refused
		}
		t.access(j, r, reverse, otherwise)
		t.figures(j, r, reverse)
	}
	if outcome, what := hindrance(s.Kind); what != "" {
		j.say(note{rule: s.Kind.String(), outcome: outcome, summary: what})
	}
	t.spots[key] = j
	return j
}

// hindrance says what a thing on the road means for a rig that may pass it.
func hindrance(k network.Kind) (finding.Outcome, string) {
	switch k {
	case network.Gate:
		return finding.Unknown, "a gate or chain: whether it is open, and how wide, is not known"
	case network.TollBooth:
		return finding.Unknown, "a toll booth: how wide its lanes are, and what it costs, is not known"
	case network.Checkpoint:
		return finding.Unknown, "a checkpoint: whether and when it lets the rig through is not known"
	case network.LevelCrossing:
		return finding.Unknown, "a level crossing: whether a long low unit grounds on its hump is not known"
	case network.Calming:
		return finding.Unknown, "traffic calming: whether a long low unit grounds on it, or fits between it, is not known"
	case network.FordSpot:
		return finding.Review, "a ford: a person must decide whether to drive through water"
	case network.OtherBarrier:
		return finding.Unknown, "a barrier of a kind that is not understood"
	default:
		return "", ""
	}
}

func (j *judgement) say(n note) { j.notes = append(j.notes, n) }

func (j *judgement) close(rule, summary, text string) {
	j.closed = true
	j.say(note{rule: rule, outcome: finding.Forbidden, summary: summary, text: text})
}

// access judges who may use a road. otherwise is what holds where no sign says
// anything.
//
// For each mode that the rig may be, the sign of the most specific mode counts;
// of several modes the strictest. A sign under a condition counts where it is
// stricter and the condition may hold on the way.
func (t *traveller) access(j *judgement, r network.Record, reverse bool, otherwise network.Word) {
	word, text, whom := network.Allowed, "", network.Everyone
	for _, m := range t.modes {
		w, s := base(r, m, reverse, otherwise)
		if w > word {
			word, text, whom = w, t.net.Text(s.Text), s.For
		}
		t.conditional(j, r, m, reverse, w)
	}
	t.hazmat(j, r, reverse)
	what := fmt.Sprintf("access for %s", whom)
	switch word {
	case network.Refused:
		j.close("access", "the road is closed to "+whom.String(), text)
	case network.Permission:
		j.ends = true
		j.say(note{rule: "access", outcome: finding.Unknown, text: text, summary: what + " is by permission: whether you have it is not known"})
	case network.Destination:
		j.ends = true
		j.say(note{rule: "access", outcome: finding.Conditional, text: text, summary: what + " is only to or from a place on it",
			demands: finding.Demands{Conditions: []string{"the trip begins or ends on roads that are open to that only"}}})
	case network.Discouraged:
		j.say(note{rule: "access", outcome: finding.Review, text: text, summary: what + " is discouraged; a person must decide"})
	case network.Unread:
		j.say(note{rule: "access", outcome: finding.Unknown, text: text, summary: what + " is stated in words that are not understood"})
	}
}

// base returns the sign without a condition that counts for a mode.
func base(r network.Record, m network.Mode, reverse bool, otherwise network.Word) (network.Word, network.Sign) {
	for _, of := range m.Chain() {
		for _, s := range r.Signs {
			if s.Subject == network.Access && s.For == of && s.When == 0 && s.Bound.Binds(reverse) {
				return s.Word, s
			}
		}
	}
	return otherwise, network.Sign{For: network.MotorVehicles}
}

// conditional judges the signs of a mode that hold under a condition.
func (t *traveller) conditional(j *judgement, r network.Record, m network.Mode, reverse bool, otherwise network.Word) {
	for _, s := range r.Signs {
		if s.Subject != network.Access || s.When == 0 || s.Word <= otherwise || !s.Bound.Binds(reverse) || !slices.Contains(m.Chain(), s.For) {
			continue
		}
		when, what := t.net.Text(s.When), fmt.Sprintf("access for %s is %s", s.For, s.Word)
		n := note{rule: "access at hours", text: t.net.Text(s.Text) + " @ (" + when + ")"}
		switch window.ParseCondition(when).During(t.from, t.to, window.Env{}) {
		case window.Open:
			j.shut = j.shut || s.Word == network.Refused
			j.ends = j.ends || s.Word == network.Permission || s.Word == network.Destination
			n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + when}}
			n.summary = what + " at hours that the trip may meet: " + when
		case window.Closed:
			n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + when}}
			n.summary = what + " at other hours than those planned: " + when
		default:
			n.outcome, n.summary = finding.Unknown, what+" under a condition that could not be decided: "+when
		}
		j.say(n)
	}
}

// hazmat says what signs ask of those who carry hazardous goods: a unit with
// propane aboard may count among them.
func (t *traveller) hazmat(j *judgement, r network.Record, reverse bool) {
	for _, s := range r.Signs {
		if s.Subject == network.Access && s.For == network.Hazmat && s.Word > network.Allowed && s.Bound.Binds(reverse) {
			j.say(note{rule: "hazardous goods", outcome: finding.Unknown, text: t.net.Text(s.Text),
				summary: "hazardous goods are restricted: whether propane aboard counts is not known; empty and secured cylinders may be asked for"})
			return
		}
	}
}

// figures judges the limits of width, length and mass. Heights are judged
// where something stands over the road. A figure of the map can shut the rig
// out; it never clears, because nobody vouches for it.
func (t *traveller) figures(j *judgement, r network.Record, reverse bool) {
	for _, s := range r.Signs {
		if s.Subject == network.Access || s.Subject.Height() || s.State == network.NoFigure || !s.Bound.Binds(reverse) || !t.isFor(s.For) {
			continue
		}
		t.figure(j, s)
	}
}

func (t *traveller) isFor(m network.Mode) bool {
	return slices.ContainsFunc(t.modes, func(of network.Mode) bool { return slices.Contains(of.Chain(), m) })
}

func (t *traveller) figure(j *judgement, s network.Sign) {
	value, least, known := t.measured(s.Subject)
	limitText := t.net.Text(s.Text)
	n := note{rule: "posted " + s.Subject.String(), outcome: finding.Unknown, text: limitText}
	if known {
		n.value = printed(s.Subject, value)
	}
	holds := window.Open
	if s.When != 0 {
		when := t.net.Text(s.When)
		n.text += " @ (" + when + ")"
		holds = window.ParseCondition(when).During(t.from, t.to, window.Env{})
	}
	exceeds := known && s.State == network.Known && value > s.Value
	switch {
	case s.State != network.Known:
		n.summary = fmt.Sprintf("a limit of %s is posted that could not be read", s.Subject)
	case !known:
		n.summary = fmt.Sprintf("%s is limited to %s and that of the rig is not known", s.Subject, printed(s.Subject, s.Value))
	case exceeds && holds == window.Open && s.When == 0:
		j.shut = true
		n.outcome = finding.Forbidden
		n.summary = fmt.Sprintf("%s is limited to %s, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case exceeds && holds == window.Unknown:
		n.summary = fmt.Sprintf("%s is limited to %s under a condition that could not be decided, and the rig exceeds it", s.Subject, printed(s.Subject, s.Value))
	case exceeds:
		j.shut = j.shut || holds == window.Open
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + t.net.Text(s.When)}}
		n.summary = fmt.Sprintf("%s is limited to %s at certain hours, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case least:
		n.summary = fmt.Sprintf("%s is limited to %s; that of the rig is known only as a least value", s.Subject, printed(s.Subject, s.Value))
	default:
		n.summary = fmt.Sprintf("%s is limited to %s by the map, which nobody vouches for: read the sign", s.Subject, printed(s.Subject, s.Value))
	}
	j.say(n)
}

// measured returns what a sign limits of the rig; least tells that the true
// value may be higher. The rated mass is not known: the actual mass is the
// least that it should be. Axle masses are not known yet.
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
		return length(t.rig.Width, t.rig.Unit.Width)
	case network.MaxLength:
		return length(t.rig.Length, t.rig.Unit.Length)
	case network.MaxMass, network.MaxRating:
		switch {
		case t.rig.Mass != nil:
			return int64(*t.rig.Mass), s == network.MaxRating, true
		case t.rig.Unit.Mass != nil:
			return int64(*t.rig.Unit.Mass), true, true
		}
	}
	return 0, false, false
}

func printed(s network.Subject, v int64) string {
	if s.Mass() {
		return measure.Mass(v).String()
	}
	return measure.Length(v).String()
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
	if w := t.rig.Width; w != nil && r.Width > 0 && *w > r.Width {
		j.say(note{rule: "lanes", outcome: finding.Review, value: w.String(), summary: "the carriageway, " + r.Width.String() + ", is narrower than the rig"})
	}
}

// words puts the text of a sign behind a summary.
func (n note) words() string {
	if strings.TrimSpace(n.text) == "" {
		return n.summary
	}
	return fmt.Sprintf("%s (tagged %q)", n.summary, n.text)
}
