// Package trip composes one trip: it routes a rig between its stops, cuts the
// way into legs at jurisdiction borders, asks the rules of each, and adds up
// time and fuel. Whatever the network, the tables or the rig do not say is a
// finding that says unknown.
package trip

import (
	"context"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Planner plans trips on one network and one state of the tables. It is safe
// for use by many goroutines.
type Planner struct {
	standing.Atlas
	Engine *search.Engine
}

// New returns a planner. A network that was not prepared for searches is
// prepared first; the error is that of the context, or of [search.New].
func New(ctx context.Context, n *network.Network, areas *area.Index, tables *regs.Tables) (*Planner, error) {
	engine, err := search.New(ctx, n)
	if err != nil {
		return nil, err
	}
	return &Planner{standing.Atlas{Network: n, Index: network.NewIndex(n), Areas: areas, Tables: tables}, engine}, nil
}

// Plan is the answer.
type Plan struct {
	Name        string
	Invented    bool
	Rig         rig.Rig
	Departure   time.Time
	Verdict     finding.RollUp
	Findings    []finding.Finding // of the trip as a whole
	Legs        []Leg
	Sailings    []Sailing
	Permits     []regs.Need // to ask for, in the order of the way
	Avoided     []choosing.Avoided
	Passable    bool         // false: every way is shut, and the plan shows a shut one
	Given       bool         // the route was prescribed
	Waits       bool         // for a road to open, nobody knows how long
	Off         []say.Remark // stops that lie far from the network
	Length      measure.Distance
	TruckRoads  measure.Known[measure.Distance] // how much of it is truck roads
	Time        driving.Duration
	Fuel        driving.Fuel
	Road        *driving.Drive   // what the way does to the rig
	Particulars Particulars      // as they were given
	Sites       []Site           // to look at before; none on a way that was not planned by itself
	Turns       []Site           // where it leaves a road for another, each; likewise
	OwnHours    *window.Schedule // at which the crew drives by its own choice; nil: whenever it may
	Home        bool             // it ends at its first stop
	Order       *Order           // of the stops; nil: as they were given
	Timetable   *Timetable       // nil where a part of the way has no known time
	About       network.About
	Tables      string // revision
	Assumptions []say.Remark
	Cautions    []say.Remark

	edges []network.EdgeID // that it drives
	cost  search.Millis    // of the way, as the search reckons it
}

// Leg is a stretch between two stops inside one jurisdiction, or within the
// reach of a border inside the several that it may lie in.
type Leg struct {
	From, To      say.Remark   // stops, borders, or places on a given line
	Jurisdictions []string     // none: not known
	Towns         []string     // municipalities; "" where a part lies in none that is known
	Roads         []say.Remark // what they are called, in the order of travel
	Line          orb.LineString
	Length        measure.Distance
	Start         time.Time // likely; zero where an earlier leg has no time
	StartSlow     time.Time // of a slow trip
	End, EndSlow  time.Time // the same of its end; zero where it has no known time
	Time          driving.Duration
	Fuel          driving.Fuel
	Signals       int             // junctions and crossings with signals, where the network has them
	Stops         int             // stop signs
	Unmatched     bool            // a part of a given route that matches no road
	Climb         *standing.Climb // nil where the network has no terrain
	Findings      []finding.Finding
	Structures    []standing.Passing

	zone   string       // as the network says
	owners []say.Remark // what it says of who runs the roads
	used   []roads.Road
	own    bool // it says that they are the jurisdiction's own
}

// Verdict sums the findings of the leg up.
func (l Leg) Verdict() finding.RollUp { return finding.Roll(l.Findings) }

// Arrival is when the trip reaches its last stop, likely and on a slow trip; ok is false
// where that is not known.
func (p *Plan) Arrival() (likely, slow time.Time, ok bool) {
	if t := p.Timetable; t != nil {
		return t.Arrival.Likely, t.Arrival.Slow, !t.Arrival.Slow.IsZero()
	}
	if len(p.Legs) == 0 {
		return likely, slow, false
	}
	last := p.Legs[len(p.Legs)-1]
	return last.End, last.EndSlow, !last.EndSlow.IsZero()
}

// Over is when the trip is done with as planned, or begins where that is not known.
func (p *Plan) Over() time.Time {
	if p.Timetable != nil && !p.Timetable.Over.Slow.IsZero() {
		return p.Timetable.Over.Slow
	}
	if _, slow, known := p.Arrival(); known {
		return slow
	}
	return p.Departure
}

// Ends are where a plan begins and ends.
func (p *Plan) Ends() (from, to say.Remark) {
	if len(p.Legs) > 0 {
		from, to = p.Legs[0].From, p.Legs[len(p.Legs)-1].To
	}
	return from, to
}

// unmatched is how much of a given route matches no road.
func (p *Plan) unmatched() (length measure.Distance) {
	for _, l := range p.Legs {
		if l.Unmatched {
			length += l.Length
		}
	}
	return length
}
