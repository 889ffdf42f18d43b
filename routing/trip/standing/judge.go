// Package standing knows what stands on the roads and over them, structures and
// signs, and what it means for one rig at the time of one trip.
package standing

import (
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// Atlas is a network of roads, the jurisdictions that they lie in, and one state of
// the tables.
type Atlas struct {
	Network *network.Network
	Index   *network.Index
	Areas   *area.Index
	Tables  *regs.Tables
}

// Zone returns the time zone of the first jurisdiction that has one, UTC where
// none has.
func (a *Atlas) Zone(codes []string) *time.Location {
	for _, code := range codes {
		if j, ok := a.Areas.ByCode(code); ok {
			if loc, err := time.LoadLocation(j.TimeZone); err == nil {
				return loc
			}
		}
	}
	return time.UTC
}

// RoadNames lists what roads are called in the order of travel, each run once.
func (a *Atlas) RoadNames(pieces []network.Piece) []say.Remark {
	var out []say.Remark
	for _, p := range pieces {
		name := a.Network.RoadName(p.Arc.Edge())
		if len(out) == 0 || out[len(out)-1].String() != name.String() {
			out = append(out, name)
		}
	}
	return out
}

// Answer is what a question was answered with; "" is not said.
type Answer string

// The answers.
const (
	Yes Answer = "yes"
	No  Answer = "no"
)

// Case is the rig that comes by, and when.
type Case struct {
	Rig        rig.Rig
	Structures []clearance.Structure // that the trip brings along
	Revision   string                // of the table that they came from
	Allowances clearance.Allowances
	Hazmat     Answer // whether goods aboard count as hazardous
	Departure  time.Time
	Clock      *time.Location // of the first stop
	Underway   time.Duration  // how long the trip drives when it goes well
}

// Patience is how long after the departure a road may open and be waited for; one
// that is closed for longer is shut for good.
const Patience = 14 * 24 * time.Hour

// Latest is the latest moment at which the trip may still be under way: however
// long the search may let it wait, and slow as it may be.
func (c *Case) Latest() time.Time { return c.Departure.Add(Patience + 2*c.Underway) }

// Judge judges what stands on the roads for a rig. It remembers what it found out
// and is not for several goroutines at once.
type Judge struct {
	*Atlas
	Case
	signs      *traveller
	structures *placements
	barriers   map[string]*Barrier
}

// New returns a judge of a case. Structures are judged for any day of the days of
// travel that follow the departure.
func New(a *Atlas, c Case) *Judge {
	j := &Judge{Atlas: a, Case: c, barriers: map[string]*Barrier{}}
	j.signs = newTraveller(a, &j.Case)
	j.structures = a.place(&j.Case, c.Departure.AddDate(0, 0, travelDays))
	return j
}

// UntilOver is a judge of the same signs, and of structures at every moment until
// the trip is over at the latest.
func (j *Judge) UntilOver() *Judge {
	out := *j
	out.structures = j.place(&j.Case, j.Latest())
	return &out
}

// Office is how a finding is settled by asking the permit office of the first of some
// jurisdictions; of none, that of nobody's.
func (a *Atlas) Office(codes ...string) [][]finding.Step {
	return a.Tables.Asks(firstOf(codes))
}

func firstOf(codes []string) string {
	if len(codes) == 0 {
		return ""
	}
	return codes[0]
}

// On lists the structures that a piece passes under, in the order of travel.
func (j *Judge) On(p network.Piece) []Placed { return j.structures.on(p) }

// Blind counts what the network has over a piece without a usable figure.
func (j *Judge) Blind(p network.Piece) int { return j.structures.overhead.blind(p) }

// Banned reports whether a sequence is a forbidden turn that binds the rig.
func (j *Judge) Banned(sequence int32) bool { return j.signs.banned(sequence) > limit.No }

// ArcClosed reports whether a road is closed in a direction to any such vehicle,
// whatever its size and hour. What stands on it at one place does not count.
func (j *Judge) ArcClosed(a network.Arc) bool { return j.signs.road(a).closed }

// Closed reports whether a piece is closed to any such vehicle, whatever its size
// and hour.
func (j *Judge) Closed(p network.Piece) (closed bool) {
	j.judge(p, func(one *judgement) { closed = closed || one.closed })
	return closed
}

// Admits reports whether no sign of a place beside an edge, of which a record tells, shuts the rig
// out, be it at certain hours or if it counts as a truck.
func (j *Judge) Admits(place network.RoadID, beside network.EdgeID) bool {
	one := &judgement{}
	j.signs.signs(one, j.Network.Record(place), j.signs.key(place, beside, false), network.Allowed)
	return !one.closed && !one.shut && !one.hours && !one.trucks
}

// EndsOnly reports whether a piece may be driven only where a trip begins or ends.
func (j *Judge) EndsOnly(p network.Piece) (ends bool) {
	j.judge(p, func(one *judgement) { ends = ends || one.ends })
	return ends
}

// Drivable reports whether an edge is surely open to such a rig in some direction.
func (j *Judge) Drivable(e network.EdgeID) bool {
	if j.Network.Class[e].Water() {
		return false
	}
	open := func(a network.Arc) bool { one := j.signs.road(a); return !one.closed && !one.trucks }
	return open(network.MakeArc(e, false)) || open(network.MakeArc(e, true))
}

// ClosedRoad names a road and what closes it.
func (j *Judge) ClosedRoad(e network.EdgeID) say.Remark {
	road := j.Network.RoadName(e)
	if j.Network.Class[e].Water() {
		return say.That("way.is_ferry", "road", road)
	}
	for _, n := range j.signs.road(network.MakeArc(e, false)).notes {
		if n.outcome == finding.Forbidden || n.truck && n.shuts {
			return onRoad(road, n)
		}
	}
	return road
}

// onRoad is what a note says of a road.
func onRoad(road say.Remark, n note) say.Remark {
	return say.That("named", "name", road, "says", n.said())
}

// judge visits what the signs of a piece and of what stands on it mean.
func (j *Judge) judge(p network.Piece, visit func(*judgement)) {
	visit(j.signs.road(p.Arc))
	for _, s := range j.Network.Spots(p.Arc.Edge()) {
		if j.Network.Covers(p, network.Position{Edge: s.Edge, Offset: s.Offset}) {
			visit(j.signs.spot(s, p.Arc.Reverse()))
		}
	}
}

// Underway is how long a trip drives when it goes well, for the hours of signs: its
// length as the crow flies, or that of a given line, which is shorter than the road,
// at a speed below that of the road.
func Underway(stops []orb.Point, line orb.LineString) time.Duration {
	length := max(geodesic.Length(orb.LineString(stops)), geodesic.Length(line))
	const slow = 50 * measure.KilometrePerHour
	return time.Duration(float64(length) / float64(slow) * float64(time.Second))
}
