package trip

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Plan plans a trip:
//
//  1. Refuse what cannot be planned.
//  2. Bind the structures to roads and work out the rig's margin under each.
//  3. Route between the stops, or find the prescribed route in the network.
//  4. Cut the way into legs at stops and borders.
//  5. Ask the rules of each leg; add what the network does not know.
//  6. Sum up.
//
// Errors are [*RequestError] for what the user can mend, and that of the
// context.
func (p *Planner) Plan(ctx context.Context, r Request) (*Plan, error) {
	b, err := p.newBuilder(r)
	if err != nil {
		return nil, err
	}
	ways, err := b.ways(ctx)
	if err != nil {
		return nil, err
	}
	return b.complete(ways)
}

// newBuilder returns a builder for a request that can be planned.
func (p *Planner) newBuilder(r Request) (*builder, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	departure := p.departure(&r)
	if err := r.clockExists(departure); err != nil {
		return nil, err
	}
	b := &builder{
		Planner: p, request: r, departure: departure, stands: standing.New(&p.Atlas, standing.Case{
			Rig: r.Rig, Structures: r.Structures, Revision: r.StructuresRevision, Allowances: r.Allowances, Hazmat: r.Wishes.Hazmat,
			Departure: departure, Clock: p.Zone(p.Areas.At(r.firstPoint())), Underway: r.underway(),
		}),
	}
	b.request.Rig = r.Rig.On(departure)
	if share := r.Conditions.WindwardShare; share > 0 {
		b.request.Rig.WindwardShare = share
	}
	r = b.request
	b.barriers = newBarriers(b)
	b.drives = driving.New(&p.Atlas, driving.Case{Rig: r.Rig, Conditions: r.Conditions, Top: r.Wishes.Top, Invented: r.Invented})
	b.begin()
	return b, b.barriers.check()
}

// begin starts a plan; what was found out about roads stays.
func (b *builder) begin() {
	b.plan = &Plan{
		Name: b.request.Name, Invented: b.request.Invented, Rig: b.request.Rig, Departure: b.departure, Passable: true,
		Given: b.request.Given != nil, About: b.Network.About, Tables: b.Tables.Revision, Cautions: Cautions(),
	}
	b.listed = map[string]bool{}
	b.waits = false
	b.drives.Begin()
}

// complete makes the plan of ways that were found.
func (b *builder) complete(ways []way) (*Plan, error) {
	if !b.unhindered {
		b.waitFindings(ways)
	}
	defer b.placeUntilOver(ways)()
	for _, w := range ways {
		b.plan.cost += w.cost
		b.drives.Pass(w.Way)
		if err := b.addLegs(w); err != nil {
			return nil, err
		}
		for _, p := range w.Pieces {
			b.plan.edges = append(b.plan.edges, p.Arc.Edge())
		}
	}
	b.plan.Off = b.off
	b.turnFindings(ways)
	b.plan.Road = b.drives.Road()
	b.tripFindings()
	b.permits()
	b.duty()
	b.sum()
	return b.plan, nil
}

// placeUntilOver judges structures for every moment until the trip is over at the
// latest, where its hours are not known. What it returns takes that back.
func (b *builder) placeUntilOver(ways []way) func() {
	before := b.stands
	if b.waits || slices.ContainsFunc(ways, func(w way) bool { return w.Gap != nil || b.drives.Time(w.Pieces).Unknown != "" }) {
		b.stands = b.stands.UntilOver()
	}
	return func() { b.stands = before }
}

// builder makes one plan.
type builder struct {
	*Planner
	plan       *Plan
	request    Request
	departure  time.Time
	stands     *standing.Judge
	barriers   *barriers
	snapped    []network.Snapped
	waits      bool            // the way waits somewhere: later hours are not known
	unhindered bool            // what shuts the rig out does not count on the way that is planned
	after      search.Millis   // the departure, a search begins
	shutAreas  []string        // jurisdictions in which no permit is had
	offRoads   []string        // how far each stop lies from its road, in words
	off        []string        // stops that lie far from the network, in words
	listed     map[string]bool // structures that some answer names, by id

	drives *driving.Driver
	rivals []network.Piece // of a given line, beside what was found for it
}

// way is a stretch between two stops: pieces of road, or a gap that matches
// none.
type way struct {
	driving.Way
	from, to      string
	gapAt         measure.Distance // along the given line
	starts, stops bool             // at a stop
	access        [2]string        // how far the stops at either end are from the road, in words
	cost          search.Millis
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
	const layout = "2006-01-02T15:04"
	if r.Local && at.Format(layout) != r.Departure.Format(layout) {
		return fail("depart", r.Departure.Format(layout), "does not exist at the first stop: its clocks go forward then", "give another time, or one with an offset")
	}
	return nil
}

func (r *Request) firstPoint() orb.Point {
	if len(r.Stops) > 0 {
		return r.Stops[0].Point
	}
	return r.Given.Line[0]
}

// underway is how long a trip drives when it goes well, for the hours of signs:
// its length as the crow flies, which is shorter than the road, at a speed below
// that of the road.
func (r *Request) underway() time.Duration {
	var length measure.Distance
	for i := 1; i < len(r.Stops); i++ {
		length += geodesic.Between(r.Stops[i-1].Point, r.Stops[i].Point)
	}
	if r.Given != nil {
		length = max(length, geodesic.Length(r.Given.Line))
	}
	const slow = 50 * measure.KilometrePerHour
	return time.Duration(float64(length) / float64(slow) * float64(time.Second))
}

func (b *builder) ways(ctx context.Context) ([]way, error) {
	switch g := b.request.Given; {
	case g == nil:
		return b.routed(ctx)
	case g.Line != nil:
		return b.alongLine(ctx, g.Line)
	default:
		return b.alongRoads(ctx, g.Roads)
	}
}

// routed finds the way from stop to stop.
func (b *builder) routed(ctx context.Context) ([]way, error) {
	if b.snapped == nil {
		snapped, err := b.snapStops()
		if err != nil {
			return nil, err
		}
		b.snapped = snapped
	}
	snapped := b.snapped
	if err := b.choosePermits(ctx); err != nil {
		return nil, err
	}
	var out []way
	b.after = 0
	for i := 1; i < len(snapped); i++ {
		from, to := b.request.Stops[i-1].Label, b.request.Stops[i].Label
		path, err := b.between(ctx, from, to, snapped[i-1].Position, snapped[i].Position)
		if errors.Is(err, search.ErrNoRoute) {
			return nil, fail(fmt.Sprintf("stops[%d]", i), to, "cannot be reached from "+from+": this network has no road between them that is open to such a rig", "choose another place, or give the route and have it checked")
		}
		if err != nil {
			return nil, err
		}
		out = append(out, b.wayOf(i, path))
		b.after += path.Cost
	}
	return out, nil
}

// snapStops brings every stop onto a road.
func (b *builder) snapStops() ([]network.Snapped, error) {
	var out []network.Snapped
	b.off = nil
	for i, s := range b.request.Stops {
		at, err := b.Index.Snap(s.Point, Reach, b.stands.Drivable)
		nearest, nearErr := b.Index.Snap(s.Point, Reach, nil)
		if err != nil && nearErr == nil {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "lies at roads that are closed to such a rig: "+b.stands.ClosedRoad(nearest.Edge), "choose a place on another road, or ask who may open it")
		}
		if err != nil {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "is off this network: "+err.Error(), "choose a place near one of its roads")
		}
		words := offRoad(at)
		if nearErr == nil && nearest.Edge != at.Edge && at.Distance > nearest.Distance+closer {
			words = fmt.Sprintf("; the stop lies %s from the nearest road that is open to such a rig. A nearer one is not: %s", at.Distance, b.stands.ClosedRoad(nearest.Edge))
		}
		b.offRoads = append(b.offRoads, words)
		b.standsOff(s.Label, at.Distance, "nearest road of the network that is open to such a rig")
		if i > 0 && at.Position == out[i-1].Position {
			return nil, fail(fmt.Sprintf("stops[%d]", i), s.Label, "lies at the same point of the road as the stop before", "take one of them out")
		}
		out = append(out, at)
	}
	return out, nil
}

// farOff is how far a stop may lie from the network without a word at the head of
// the answer: what leads there was not looked at.
const farOff measure.Distance = 300

// standsOff notes a stop that lies far off.
func (b *builder) standsOff(stop string, d measure.Distance, from string) {
	if d > farOff {
		b.off = append(b.off, fmt.Sprintf("%s lies %s from the %s: the way between was NOT CHECKED", stop, d, from))
	}
}

// closer is how much nearer a closed road has to be for a stop to be said to lie
// on it.
const closer measure.Distance = 15

// travelled leaves out pieces of no length, unless a structure stands on one.
func (b *builder) travelled(pieces []network.Piece) []network.Piece {
	out := slices.DeleteFunc(slices.Clone(pieces), func(p network.Piece) bool { return p.Length() == 0 && len(b.stands.On(p)) == 0 })
	if len(out) == 0 {
		return pieces[:1]
	}
	return out
}

func offRoad(s network.Snapped) string {
	return fmt.Sprintf("; the stop lies %s from the nearest road of the network", s.Distance)
}

// between finds the way from one stop to the next: past nothing that is shut
// and by no ferry; by ferry if nothing else leads there; and if every way is
// shut, the way that it would take, to show what shuts it.
func (b *builder) between(ctx context.Context, from, to string, start, end network.Position) (search.Path, error) {
	free, err := b.first(ctx, start, end, terms{lifted: isOfRoad})
	if errors.Is(err, search.ErrNoRoute) {
		return free, b.unwished(ctx, from, to, start, end, func(*standing.Barrier) bool { return false })
	}
	if err != nil {
		return free, err
	}
	open, err := b.first(ctx, start, end, terms{})
	switch {
	case errors.Is(err, search.ErrNoRoute):
		if err := b.unwished(ctx, from, to, start, end, isOfRoad); !errors.Is(err, search.ErrNoRoute) {
			return free, err // the rig passes if it wishes for less
		}
		b.plan.Passable = false
		return free, nil
	case err != nil:
		return open, err
	}
	b.avoided(from, to, open, free)
	return open, b.ferryAvoided(ctx, from, to, open, start, end)
}

// first finds the cheapest path by no ferry, or by one if nothing else leads
// there and the wishes allow it.
func (b *builder) first(ctx context.Context, from, to network.Position, t terms) (search.Path, error) {
	for {
		path, err := b.route(ctx, from, to, t)
		if errors.Is(err, search.ErrNoRoute) && !b.request.Wishes.NoFerries {
			by := t
			by.ferries = true
			path, err = b.route(ctx, from, to, by)
		}
		if !errors.Is(err, search.ErrNoRoute) || !b.request.AvoidUnmeasured || t.share >= 1000 {
			return path, err
		}
		t.share = max(t.share, 1) * 10 // so many hours may be more than the search can count
	}
}

// route finds the cheapest path between two positions.
func (b *builder) route(ctx context.Context, from, to network.Position, t terms) (search.Path, error) {
	found, err := b.Engine.Route(ctx, from, to, b.rules(t))
	if errors.Is(err, search.ErrNotFinished) {
		err = fail("stops", fmt.Sprintf("%d states", budget), "the search was stopped before it was finished: there may be a way, and there may be none", "put a stop between, or wish for less")
	}
	return found.Path, err
}

// avoided notes the shut structures on the way that the rig would take if they
// were open.
func (b *builder) avoided(from, to string, open, free search.Path) {
	a := Avoided{From: from, To: to, Extra: open.Length() - free.Length()}
	driven := map[network.Arc]bool{}
	for _, piece := range open.Pieces {
		driven[piece.Arc] = true
	}
	for _, piece := range free.Pieces {
		if driven[piece.Arc] {
			continue // what shuts it at hours does not when the rig comes by
		}
		for _, s := range b.stands.On(piece) {
			twice := slices.ContainsFunc(a.Structures, func(o standing.Passing) bool { return o.ID == s.Structure.ID })
			if s.Passage.Outcome == finding.Forbidden && !twice {
				b.listed[s.Key()] = true
				a.Structures = append(a.Structures, b.stands.Passing(s, 0, strings.Join(b.Network.Jurisdictions(piece.Arc.Edge()), "/")))
			}
		}
		a.Signs = b.shutSigns(a.Signs, piece)
	}
	if len(a.Structures)+len(a.Signs) == 0 {
		return
	}
	a.ExtraTime = b.drives.Time(open.Pieces).Sub(b.drives.Time(free.Pieces))
	b.plan.Avoided = append(b.plan.Avoided, a)
}

// shutSigns adds the signs that shut the rig out of a piece, each once.
func (b *builder) shutSigns(signs []string, p network.Piece) []string {
	for _, barrier := range b.barriers.on(p) {
		if barrier.Kind == standing.BySign && barrier.Met && !slices.Contains(signs, barrier.What) {
			signs = append(signs, barrier.What)
		}
	}
	return signs
}

// ferryAvoided notes a ferry that would have been shorter.
func (b *builder) ferryAvoided(ctx context.Context, from, to string, open search.Path, start, end network.Position) error {
	if b.request.Wishes.NoFerries {
		return nil
	}
	isFerry := func(p network.Piece) bool { return b.Network.Class[p.Arc.Edge()].Water() }
	path, err := b.first(ctx, start, end, terms{ferries: true})
	if err != nil || !slices.ContainsFunc(path.Pieces, isFerry) || slices.ContainsFunc(open.Pieces, isFerry) {
		return err
	}
	b.plan.Avoided = append(b.plan.Avoided, Avoided{
		From: from, To: to, Ferry: true, Extra: open.Length() - path.Length(), ExtraTime: driving.Duration{Unknown: "the crossing time is not known"},
	})
	return nil
}

// roads lists the names of roads in the order of travel, each run once.
func (b *builder) roads(pieces []network.Piece) []string {
	var out []string
	for _, p := range pieces {
		name := b.Network.RoadName(p.Arc.Edge())
		if len(out) == 0 || out[len(out)-1] != name {
			out = append(out, name)
		}
	}
	return out
}

// sum adds the legs up.
func (b *builder) sum() {
	p := b.plan
	all := slices.Concat(p.Findings, p.Road.Findings)
	for _, l := range p.Legs {
		p.Length += l.Length
		p.Time = p.Time.Add(l.Time)
		p.Fuel = p.Fuel.Add(l.Fuel)
		all = append(all, l.Findings...)
	}
	p.Verdict = finding.Roll(all)
	p.Assumptions = b.assumptions()
}
