package trip

import (
	"fmt"
	"math"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/rig"
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
	AnyOrder   bool            // those between the first and the last in the best order; not with Given
	Departure  time.Time
	Local      bool // Departure is a wall clock, to be read in the zone of the first stop
	AtOnce     bool // it departs now, and could not before
	Backwards  bool // it departs as late as the deadlines of its stops let it, not before Departure
	Crew       Crew
	Pace       Pace
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
	Done            []task.Done // of this trip
	Particulars     Particulars

	order *Order // that the stops were put in; nil: they are as they were given
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

// RequestError names the field of a request that cannot be used.
type RequestError = measure.FieldError

func fail(field, value string, problem, fix say.Remark) error {
	return &RequestError{Field: field, Value: value, Problem: problem, Fix: fix}
}

// check refuses requests that cannot be planned.
func (r *Request) check() error {
	switch {
	case r.Given == nil && len(r.Stops) < 2:
		return fail("stops", fmt.Sprint(len(r.Stops)), say.That("error.a_trip_needs_two"), say.That("fix.add_them_in_the"))
	case r.Given != nil && r.Given.Line == nil && len(r.Stops) != 2:
		return fail("stops", fmt.Sprint(len(r.Stops)), say.That("error.a_route_of_road"),
			say.That("fix.give_both"))
	case len(r.Stops) > MaxStops:
		return fail(
			"stops",
			fmt.Sprint(len(r.Stops)),
			say.That("error.too_many", "bound", MaxStops),
			say.That("fix.split_the_trip"),
		)
	case len(r.Structures) > MaxStructures:
		return fail("structures", fmt.Sprint(len(r.Structures)), say.That("error.too_many", "bound", MaxStructures),
			say.That("fix.keep_those_near_the"))
	}
	for i := 1; i < len(r.Stops); i++ {
		if r.Stops[i].Point == r.Stops[i-1].Point {
			return fail(fmt.Sprintf("stops[%d]", i), r.Stops[i].Label, say.That("error.the_same_place_as"),
				say.That("fix.take_one_of_them"))
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
		return fail("route", "", say.That("error.given_as_a_line"), say.That("fix.give_one_of_the"))
	case g.Line == nil && len(g.Roads) == 0:
		return fail("route", "", say.That("error.empty"), say.That("fix.give_a_line_of"))
	case len(g.Roads) > MaxRoads:
		return fail(
			"route.roads",
			fmt.Sprint(len(g.Roads)),
			say.That("error.too_many", "bound", MaxRoads),
			say.That("fix.split_the_trip"),
		)
	case g.Line != nil && len(g.Line) < 2:
		return fail(
			"route",
			fmt.Sprint(len(g.Line)),
			say.That("error.a_line_needs_two"),
			say.That("fix.give_the_whole_track"),
		)
	case len(g.Line) > MaxLinePoints:
		return fail("route", fmt.Sprint(len(g.Line)), say.That("error.points", "bound", MaxLinePoints),
			say.That("fix.thin_the_line_or"))
	}
	for i, name := range r.Given.Roads {
		if len(name) > maxRoadName {
			return fail(fmt.Sprintf("route.roads[%d]", i), name[:maxRoadName]+"...", say.That("error.too_long_for_a"),
				say.That("fix.give_numbers_such_as"))
		}
	}
	for i := 1; i < len(r.Given.Line); i++ {
		if math.Abs(r.Given.Line[i].Lon()-r.Given.Line[i-1].Lon()) > 180 {
			return fail(
				fmt.Sprintf("route[%d]", i),
				fmt.Sprint(r.Given.Line[i]),
				say.That("error.lies_across_the_antimeridian"),
				say.That("fix.give_the_line_in"),
			)
		}
	}
	for i, p := range r.Given.Line {
		if !(p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180) {
			return fail(fmt.Sprintf("route[%d]", i), fmt.Sprint(p), say.That("error.no_longitude_and_latitude"),
				say.That("fix.give_wgs84_coordinates_longitude"))
		}
	}
	return nil
}

// departure reads a wall clock in the zone of the first stop.
func (p *Planner) departure(r *Request) time.Time {
	if !r.Local {
		return r.Departure
	}
	y, m, d := r.Departure.Date()
	zone := p.Zone(p.Areas.At(r.firstPoint()))
	return time.Date(y, m, d, r.Departure.Hour(), r.Departure.Minute(), r.Departure.Second(), 0, zone)
}

// clockExists refuses a wall clock that the first stop skips when its clocks
// go forward.
func (r *Request) clockExists(at time.Time) error {
	if r.Local && at.Format(wallClock) != r.Departure.Format(wallClock) {
		return fail(
			"depart",
			r.Departure.Format(wallClock),
			say.That("error.does_not_exist_at"),
			say.That("fix.give_another_time_or"),
		)
	}
	return nil
}

func (r *Request) firstPoint() orb.Point {
	if len(r.Stops) > 0 {
		return r.Stops[0].Point
	}
	return r.Given.Line[0]
}

// underway is how long the trip drives when it goes well.
func (r *Request) underway() time.Duration {
	var stops []orb.Point
	for _, s := range r.Stops {
		stops = append(stops, s.Point)
	}
	if r.Given != nil {
		return standing.Underway(stops, r.Given.Line)
	}
	return standing.Underway(stops, nil)
}
