package standing

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// traveller is what the signs of roads are judged for: a rig that may be any
// of several modes, on the road between two times.
type traveller struct {
	*Atlas
	net      *network.Network
	rig      rig.Rig
	modes    []network.Mode // that it surely may be
	from, to time.Time      // on the clock of the first stop
	timed    map[network.RoadID]bool
	signed   map[network.RoadID]bool
	trucks   map[string]regs.Trucks // by jurisdiction and municipality

	hazmatAboard Answer

	roads map[judged]*judgement
	spots map[judgedSpot]*judgement
	bans  map[int32]limit.Applies
}

// judged is what the judgement of a road hangs on.
type judged struct {
	road    network.RoadID
	reverse bool
	zone    string        // whose clock its conditions are read on; "" where it has none
	truck   limit.Applies // whether signs for trucks bind there
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
	trucks bool   // if the rig counts as a truck, which is open
	shut   bool   // to this rig, by a figure or a word that always holds
	hours  bool   // to this rig, at certain hours
	ends   bool   // open only where a trip begins or ends
	notes  []note // what has to be said when it is driven
}

// note is a finding that many pieces of a leg may share.
type note struct {
	topic   finding.Topic
	rule    finding.Rule
	outcome finding.Outcome
	reason  finding.Reason // why it is not settled
	says    say.Remark
	value   finding.Quantity
	demands finding.Demands
	text    string // of the sign, as the source writes it
	shuts   bool   // it shuts the rig out
	when    string // at which hours it shuts the rig out, whether it surely meets them or not; "" always or never
	truck   bool   // it binds only if the rig counts as a truck, which is open
	subject network.Subject
	limit   int64 // of the subject, where it always holds: nanometres, or tens of micrograms; 0: none
}

// newTraveller judges for the time of a trip, which is on the clock of its first
// stop.
func newTraveller(a *Atlas, c *Case) *traveller {
	from := c.Departure.In(c.Clock)
	return &traveller{
		Atlas: a, net: a.Network, rig: c.Rig, modes: modes(c.Rig), roads: map[judged]*judgement{},
		spots: map[judgedSpot]*judgement{}, bans: map[int32]limit.Applies{}, timed: map[network.RoadID]bool{},
		signed: map[network.RoadID]bool{}, trucks: map[string]regs.Trucks{}, from: from, to: from.Add(c.Underway),
		hazmatAboard: c.Hazmat,
	}
}

// key says what a judgement hangs on.
func (t *traveller) key(road network.RoadID, e network.EdgeID, reverse bool) judged {
	timed, known := t.timed[road]
	if !known {
		signs := t.net.Record(road).Signs
		timed = slices.ContainsFunc(signs, func(s network.Sign) bool { return s.When != 0 })
		t.timed[road], t.signed[road] = timed, len(signs) > 0
	}
	k := judged{road: road, reverse: reverse}
	if t.signed[road] {
		k.truck = t.truck(e).Binds
	}
	if timed {
		k.zone = t.net.Zone(e)
	}
	return k
}

// during reports whether a condition holds while the trip is under way, on the
// clock of a zone: Open where it surely does on a trip that goes well. A trip
// that goes badly, and a zone that is not known, may meet more hours: that is
// unknown.
func (t *traveller) during(when, zone string) window.State {
	c := window.ParseCondition(when)
	// Canada and the United States lie within it, but for the far west and north
	from, to, slack := t.from, t.to, 4*time.Hour
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

// sometime reports whether a condition surely holds at some moment until the rig has
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

// modes lists everything that signs may take a rig for, beside trucks. What is not
// known is taken to be possible, so that the signs of each bind.
func modes(r rig.Rig) []network.Mode {
	out := network.EveryRig()
	if k := r.Unit.Kind; k == limit.KindUnknown || k == limit.TinyHome || k == limit.RecreationalTrailer ||
		k == limit.HouseTrailer {
		out = append(out, network.Caravans)
	}
	return out
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
		j.close("one-way", say.That("sign.one_way"), "")
	}
	j.ends = r.Flags.Has(network.AtEnds)
	if r.Flags.Has(network.OnewayVaries) {
		j.say(note{
			topic: finding.Sign, rule: "one-way", outcome: finding.Unknown, reason: finding.TimeOpen,
			says: say.That("sign.one_way_varies"),
		})
	}
	t.signs(j, r, key, network.Allowed)
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
		t.signs(j, r, key.judged, otherwise)
	}
	if n := hindrance(s.Kind); !n.says.None() {
		n.topic, n.rule = finding.Road, finding.Rule(s.Kind.String())
		j.say(n)
	}
	t.spots[key] = j
	return j
}

// hindrance says what a thing on the road means for a rig that may pass it.
func hindrance(k network.Kind) note {
	unknown := func(r say.Remark) note { return note{outcome: finding.Unknown, reason: finding.NotMapped, says: r} }
	switch k {
	case network.Gate:
		return unknown(say.That("way.gate"))
	case network.TollBooth:
		return unknown(say.That("way.toll_booth"))
	case network.Checkpoint:
		return unknown(say.That("way.checkpoint"))
	case network.LevelCrossing:
		return unknown(say.That("way.level_crossing"))
	case network.Hump:
		return unknown(say.That("way.hump"))
	case network.Calming:
		return unknown(say.That("way.calming"))
	case network.FordSpot:
		return note{outcome: finding.Review, reason: finding.Practice, says: say.That("way.ford")}
	case network.Blocked:
		return unknown(say.That("way.blocked"))
	case network.AtJunction:
		return unknown(say.That("way.at_junction"))
	case network.UnreadTurn:
		return unknown(say.That("way.unread_turn"))
	case network.OtherBarrier:
		return unknown(say.That("way.other_barrier"))
	default:
		return note{}
	}
}

func (j *judgement) say(n note) { j.notes = append(j.notes, n) }

func (j *judgement) close(rule finding.Rule, says say.Remark, text string) {
	j.closed = true
	j.say(note{
		topic: finding.Sign, rule: rule, outcome: finding.Forbidden, reason: finding.Exceeded, says: says,
		text: text,
	})
}

// said puts the text of a sign behind what it means.
func (n note) said() say.Remark {
	if strings.TrimSpace(n.text) == "" {
		return n.says
	}
	return say.That("sign.tagged", "says", n.says, "text", n.text)
}
