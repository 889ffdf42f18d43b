package standing

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// traveller is what the signs of roads are judged for: a rig that may be any
// of several modes, on the road between two times.
type traveller struct {
	net      *network.Network
	rig      rig.Rig
	modes    []network.Mode
	from, to time.Time // on the clock of the first stop
	timed    map[network.RoadID]bool

	hazmatAboard Answer

	roads map[judged]*judgement
	spots map[judgedSpot]*judgement
	bans  map[int32]bool
}

// judged is what the judgement of a road hangs on.
type judged struct {
	road    network.RoadID
	reverse bool
	zone    string // whose clock its conditions are read on; "" where it has none
}

// judgedSpot is what the judgement of a spot hangs on.
type judgedSpot struct {
	judged
	kind network.Kind
	own  bool
}

// judgement is what the signs of a road mean for the rig in one direction.
type judgement struct {
	closed bool   // to any such vehicle, whatever its size and hour
	shut   bool   // to this rig, by a figure or a word that always holds
	hours  bool   // to this rig, at certain hours
	ends   bool   // open only where a trip begins or ends
	notes  []note // what has to be said when it is driven
}

// note is a finding that many pieces of a leg may share.
type note struct {
	rule    string
	outcome finding.Outcome
	summary string
	value   finding.Quantity
	demands finding.Demands
	text    string // of the sign, as the source writes it
	shuts   bool   // it shuts the rig out
	when    string // at which hours it shuts the rig out, whether it surely meets them or not; "" always or never
	subject network.Subject
	limit   int64 // of the subject, where it always holds: nanometres, or tens of micrograms; 0: none
}

// newTraveller judges for the time of a trip, which is on the clock of its first
// stop.
func newTraveller(n *network.Network, c *Case) *traveller {
	from := c.Departure.In(c.Clock)
	return &traveller{
		net: n, rig: c.Rig, modes: modes(c.Rig), roads: map[judged]*judgement{}, spots: map[judgedSpot]*judgement{}, bans: map[int32]bool{}, timed: map[network.RoadID]bool{},
		from: from, to: from.Add(c.Underway), hazmatAboard: c.Hazmat,
	}
}

// key says what a judgement hangs on.
func (t *traveller) key(road network.RoadID, e network.EdgeID, reverse bool) judged {
	timed, known := t.timed[road]
	if !known {
		timed = slices.ContainsFunc(t.net.Record(road).Signs, func(s network.Sign) bool { return s.When != 0 })
		t.timed[road] = timed
	}
	k := judged{road: road, reverse: reverse}
	if timed {
		k.zone = t.net.Zone(e)
	}
	return k
}

// during tells whether a condition holds while the trip is under way, on the
// clock of a zone: Open where it surely does on a trip that goes well. A trip
// that goes badly, and a zone that is not known, may meet more hours: that is
// unknown.
func (t *traveller) during(when, zone string) window.State {
	c := window.ParseCondition(when)
	from, to, slack := t.from, t.to, 4*time.Hour // Canada and the United States lie within it, but for the far west and north
	if loc, err := time.LoadLocation(zone); err == nil && zone != "" {
		from, to, slack = from.In(loc), to.In(loc), 0
	}
	state := c.During(from, to, window.Env{})
	late := to.Add(2*to.Sub(from) + time.Hour)
	if state == window.Closed && c.During(from.Add(-slack), late.Add(slack), window.Env{}) != window.Closed {
		return window.Unknown
	}
	return state
}

// sometime tells whether a condition surely holds at some moment until the rig has
// long arrived, however long it waits on the way.
func (t *traveller) sometime(when, zone string) bool {
	from := t.from.In(t.clock(zone))
	return window.ParseCondition(when).During(from, from.Add(Patience+2*t.to.Sub(t.from)), window.Env{}) == window.Open
}

// clock is the clock of a zone, that of the first stop where it is not known.
func (t *traveller) clock(zone string) *time.Location {
	if loc, err := time.LoadLocation(zone); err == nil && zone != "" {
		return loc
	}
	return t.from.Location()
}

// modes lists everything that signs may take a rig for. What is not known is
// taken to be possible, so that the signs of each bind. A heavy goods vehicle
// is one by its rated mass (OpenStreetMap wiki, Key:hgv, 2025), which is not
// known, so that any rig may be one.
func modes(r rig.Rig) []network.Mode {
	out := network.EveryRig()
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
	key := t.key(t.net.RoadID(a.Edge()), a.Edge(), a.Reverse())
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
	t.access(j, r, key, network.Allowed)
	t.figures(j, r, key)
	t.surface(j, r)
	t.roads[key] = j
	return j
}

// spot judges what stands on a road at one place.
func (t *traveller) spot(s network.Spot, reverse bool) *judgement {
	key := judgedSpot{t.key(s.Road, s.Edge, reverse), s.Kind, s.Own == 1}
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
		t.access(j, r, key.judged, otherwise)
		t.figures(j, r, key.judged)
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
	case network.AtJunction:
		return finding.Unknown, "a barrier or a sign stands at a junction: which of its roads it binds is not known"
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

// words puts the text of a sign behind a summary.
func (n note) words() string {
	if strings.TrimSpace(n.text) == "" {
		return n.summary
	}
	return fmt.Sprintf("%s (tagged %q)", n.summary, n.text)
}
