package trip

import (
	"fmt"
	"math"
	"slices"
	"strconv"
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
	own  bool
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
	shuts   bool   // it shuts the rig out
}

// newTraveller judges for the time of a trip, which is on the clock of its first
// stop.
func newTraveller(n *network.Network, r Request, departure time.Time) *traveller {
	t := &traveller{
		net: n, rig: r.Rig, modes: modes(r.Rig), roads: map[judged]*judgement{}, spots: map[judgedSpot]*judgement{}, bans: map[int32]bool{},
	}
	// Signs are read on that clock everywhere: the hours on either side are for
	// the zones that are crossed.
	const zones = 3 * time.Hour
	t.from, t.to = departure.Add(-zones), departure.Add(zones+underway(r))
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
	const slow = 35 * measure.KilometrePerHour
	return time.Duration(float64(length) / float64(slow) * float64(time.Second))
}

// modes lists everything that signs may take a rig for. What is not known is
// taken to be possible, so that the signs of each bind. A heavy goods vehicle
// is one by its rated mass (OpenStreetMap wiki, Key:hgv, 2025), which is not
// known, so that any rig may be one.
func modes(r rig.Rig) []network.Mode {
	out := []network.Mode{network.Motorcars, network.GoodsVehicles, network.Trailers, network.HeavyGoods}
	if r.Unit.Coupling.Form() != limit.Trailer {
		out = append(out, network.Articulated)
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
	key := judgedSpot{judged{s.Road, reverse}, s.Kind, s.Own == 1}
	if j, ok := t.spots[key]; ok {
		return j
	}
	r := t.net.Record(s.Road)
	j := &judgement{}
	if s.Own == 1 {
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
	case network.Blocked:
		return finding.Unknown, "a barrier that is open to vehicles: how wide its gap is, is not known"
	case network.UnreadTurn:
		return finding.Unknown, "a turn rule that could not be read: look for the sign"
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
	said := map[network.Word]network.Sign{}
	bases := make([]network.Word, len(t.modes))
	for i, m := range t.modes {
		word, sign := base(r, m, reverse, otherwise)
		bases[i] = word
		if _, known := said[word]; !known {
			said[word] = sign
		}
	}
	t.conditional(j, r, reverse, bases)
	t.hazmat(j, r, reverse)
	t.unread(j, r, reverse)
	for _, word := range []network.Word{network.Refused, network.Permission, network.Destination, network.Discouraged} {
		if sign, ok := said[word]; ok {
			j.word(word, fmt.Sprintf("access for %s", sign.For), sign.For, t.net.Text(sign.Text))
		}
	}
}

// word says what an access word means.
func (j *judgement) word(w network.Word, what string, whom network.Mode, text string) {
	switch w {
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
	}
}

// unread says which access signs are not understood, whatever others say.
func (t *traveller) unread(j *judgement, r network.Record, reverse bool) {
	for _, s := range r.Signs {
		if s.Subject == network.Access && s.Word == network.Unread && s.Bound.Binds(reverse) && (t.isFor(s.For) || s.For == network.Hazmat) {
			j.say(note{rule: "access", outcome: finding.Unknown, text: t.net.Text(s.Text),
				summary: fmt.Sprintf("access for %s is stated in words that are not understood", s.For)})
		}
	}
}

// base returns the sign without a condition that counts for a mode: of the most
// specific mode, one of this direction before one of both, and of several the
// strictest.
func base(r network.Record, m network.Mode, reverse bool, otherwise network.Word) (network.Word, network.Sign) {
	for _, of := range m.Chain() {
		var best network.Sign
		found := false
		for _, s := range r.Signs {
			if s.Subject != network.Access || s.For != of || s.When != 0 || s.Word == network.Unread || !s.Bound.Binds(reverse) {
				continue
			}
			closer := s.Bound != network.BothWays && best.Bound == network.BothWays
			if !found || closer || (s.Bound == network.BothWays) == (best.Bound == network.BothWays) && s.Word > best.Word {
				best, found = s, true
			}
		}
		if found {
			return best.Word, best
		}
	}
	return otherwise, network.Sign{For: network.MotorVehicles}
}

// conditional judges the signs that hold under a condition, where they are
// stricter than what holds without for a mode that they are for; bases has that
// for each mode.
func (t *traveller) conditional(j *judgement, r network.Record, reverse bool, bases []network.Word) {
	for _, s := range r.Signs {
		if s.Subject != network.Access || s.When == 0 || s.Word == network.Unread || !s.Bound.Binds(reverse) {
			continue
		}
		stricter := false
		for i, m := range t.modes {
			stricter = stricter || s.Word > bases[i] && slices.Contains(m.Chain(), s.For)
		}
		if stricter {
			j.say(t.atHours(j, s))
		}
	}
}

// atHours judges one access sign under a condition.
func (t *traveller) atHours(j *judgement, s network.Sign) note {
	when, what := t.net.Text(s.When), fmt.Sprintf("access for %s is %s", s.For, s.Word)
	n := note{rule: "access at hours", text: t.net.Text(s.Text) + " @ (" + when + ")"}
	switch window.ParseCondition(when).During(t.from, t.to, window.Env{}) {
	case window.Open:
		n.shuts = s.Word == network.Refused
		j.shut = j.shut || n.shuts
		j.ends = j.ends || s.Word == network.Permission || s.Word == network.Destination
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + when}}
		n.summary = what + " at hours that the trip may meet: " + when
	case window.Closed:
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + when}}
		n.summary = what + " at other hours than those planned: " + when
	default:
		n.outcome, n.summary = finding.Unknown, what+" under a condition that could not be decided: "+when
	}
	return n
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
		if s.Subject == network.Access || s.State == network.NoFigure || !s.Bound.Binds(reverse) || !t.isFor(s.For) && s.For != network.Hazmat {
			continue
		}
		if s.Subject.Height() && s.State == network.Known {
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
	if s.For == network.Hazmat {
		n.summary = fmt.Sprintf("a limit of %s is posted for hazardous goods: whether propane aboard counts is not known", s.Subject)
		j.say(n)
		return
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
		j.shut, n.shuts = true, true
		n.outcome = finding.Forbidden
		n.summary = fmt.Sprintf("%s is limited to %s, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case exceeds && holds == window.Unknown:
		n.summary = fmt.Sprintf("%s is limited to %s under a condition that could not be decided, and the rig exceeds it", s.Subject, printed(s.Subject, s.Value))
	case exceeds:
		n.shuts = holds == window.Open
		j.shut = j.shut || n.shuts
		n.outcome, n.demands = finding.Conditional, finding.Demands{Hours: []string{"not during " + t.net.Text(s.When)}}
		n.summary = fmt.Sprintf("%s is limited to %s at certain hours, which the rig exceeds", s.Subject, printed(s.Subject, s.Value))
	case least:
		n.summary = fmt.Sprintf("%s is limited to %s; that of the rig is known only as a least value", s.Subject, printed(s.Subject, s.Value))
	default:
		n.summary = fmt.Sprintf("%s is limited to %s by the map, which nobody vouches for: read the sign", s.Subject, printed(s.Subject, s.Value))
	}
	if s.Subject.Mass() && strings.Contains(strings.ToLower(limitText), "ton") {
		n.summary += "; its tons are taken for short ones, the lightest of short, metric and long"
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

// words puts the text of a sign behind a summary.
func (n note) words() string {
	if strings.TrimSpace(n.text) == "" {
		return n.summary
	}
	return fmt.Sprintf("%s (tagged %q)", n.summary, n.text)
}
