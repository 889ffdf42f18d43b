// Package trip composes one trip: it routes a rig between its stops, cuts the
// way into legs at jurisdiction borders, asks the rules of each, and adds up
// time and fuel. Whatever the network, the tables or the rig do not say is a
// finding that says unknown.
package trip

import (
	"context"
	"fmt"
	"math"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Given is a route that was prescribed: a line, or road numbers in order.
// Exactly one is set. It is checked as it is, never replaced.
type Given struct {
	Line  orb.LineString
	Roads []string
}

// Request is a trip to plan.
type Request struct {
	Name       string
	Rig        rig.Rig
	Stops      []choosing.Stop // two or more; for a given line they may be empty
	Departure  time.Time
	Local      bool // Departure is a wall clock, to be read in the zone of the first stop
	Given      *Given
	Structures []clearance.Structure
	// StructuresRevision names the state of the table that Structures came from.
	StructuresRevision string
	Allowances         clearance.Allowances
	Invented           bool // the trip is an example
	// AvoidUnmeasured goes round what hangs over the road without a usable
	// figure: up to an hour for each.
	AvoidUnmeasured bool
	Wishes          choosing.Wishes
	Conditions      driving.Conditions
}

// Limits of a request, so that one question cannot take the service.
const (
	MaxStops      = 25
	MaxStructures = 2_000
	MaxPassings   = 20_000 // structures listed on all legs together
	MaxLinePoints = 20_000
	MaxRoads      = 100
	maxRoadName   = 40
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
	Permits     []regs.Need // to ask for, in the order of the way
	Avoided     []choosing.Avoided
	Passable    bool         // false: every way is shut, and the plan shows a shut one
	Given       bool         // the route was prescribed
	Off         []say.Remark // stops that lie far from the network
	Length      measure.Distance
	Time        driving.Duration
	Fuel        driving.Fuel
	Road        *driving.Road // what the way does to the rig
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
	From, To      say.Remark // stops, borders, or places on a given line
	Jurisdictions []string   // none: not known
	Towns         []string   // municipalities; "" where a part lies in none that is known
	Roads         []string   // numbers in the order of travel
	Line          orb.LineString
	Length        measure.Distance
	Start         time.Time // zero where an earlier leg has no time
	Time          driving.Duration
	Fuel          driving.Fuel
	Unmatched     bool            // a part of a given route that matches no road
	Climb         *standing.Climb // nil where the network has no terrain
	Findings      []finding.Finding
	Structures    []standing.Passing

	zone   string   // as the network says
	owners []string // what it says of who runs the roads
	used   []roads.Road
	own    bool // it says that they are the jurisdiction's own
}

// Verdict sums the findings of the leg up.
func (l Leg) Verdict() finding.RollUp { return finding.Roll(l.Findings) }

// RequestError names the field of a request that cannot be used.
type RequestError = measure.FieldError

func fail(field, value, problem, fix string) error {
	return &RequestError{Field: field, Value: value, Problem: problem, Fix: fix}
}

// check refuses requests that cannot be planned.
func (r *Request) check() error {
	switch {
	case r.Given == nil && len(r.Stops) < 2:
		return fail("stops", fmt.Sprint(len(r.Stops)), "a trip needs two stops or more", "add them in the order of travel")
	case r.Given != nil && r.Given.Line == nil && len(r.Stops) != 2:
		return fail("stops", fmt.Sprint(len(r.Stops)), "a route of road names needs two stops, its start and its end", "give both")
	case len(r.Stops) > MaxStops:
		return fail("stops", fmt.Sprint(len(r.Stops)), fmt.Sprintf("more than %d stops", MaxStops), "split the trip")
	case len(r.Structures) > MaxStructures:
		return fail("structures", fmt.Sprint(len(r.Structures)), fmt.Sprintf("more than %d structures", MaxStructures), "keep those near the trip")
	}
	for i := 1; i < len(r.Stops); i++ {
		if r.Stops[i].Point == r.Stops[i-1].Point {
			return fail(fmt.Sprintf("stops[%d]", i), r.Stops[i].Label, "is the same place as the stop before", "take one of them out")
		}
	}
	if err := r.Wishes.Check(); err != nil {
		return err
	}
	return r.checkGiven()
}

func (r *Request) checkGiven() error {
	switch g := r.Given; {
	case g == nil:
		return nil
	case g.Line != nil && g.Roads != nil:
		return fail("route", "", "is given as a line and as road names", "give one of the two")
	case g.Line == nil && len(g.Roads) == 0:
		return fail("route", "", "is empty", "give a line of two points or more, or road names")
	case len(g.Roads) > MaxRoads:
		return fail("route.roads", fmt.Sprint(len(g.Roads)), fmt.Sprintf("more than %d roads", MaxRoads), "split the trip")
	case g.Line != nil && len(g.Line) < 2:
		return fail("route", fmt.Sprint(len(g.Line)), "a line needs two points or more", "give the whole track")
	case len(g.Line) > MaxLinePoints:
		return fail("route", fmt.Sprint(len(g.Line)), fmt.Sprintf("more than %d points", MaxLinePoints), "thin the line or split the trip")
	}
	for i, name := range r.Given.Roads {
		if len(name) > maxRoadName {
			return fail(fmt.Sprintf("route.roads[%d]", i), name[:maxRoadName]+"...", "is too long for a road number", "give numbers such as 417")
		}
	}
	for i := 1; i < len(r.Given.Line); i++ {
		if math.Abs(r.Given.Line[i].Lon()-r.Given.Line[i-1].Lon()) > 180 {
			return fail(fmt.Sprintf("route[%d]", i), fmt.Sprint(r.Given.Line[i]), "lies across the antimeridian or half the world away", "give the line in parts")
		}
	}
	for i, p := range r.Given.Line {
		if !(p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180) {
			return fail(fmt.Sprintf("route[%d]", i), fmt.Sprint(p), "is no longitude and latitude in degrees", "give WGS84 coordinates, longitude first")
		}
	}
	return nil
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
