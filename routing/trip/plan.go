package trip

import (
	"context"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/matching"
	"wayhouse/routing/trip/standing"
	"wayhouse/routing/trip/timetable"
)

// Plan plans a trip:
//
//  1. Refuse what cannot be planned; put the stops in order where that is left open.
//  2. Bind the structures to roads and work out the rig's margin under each.
//  3. Route between the stops, or find the prescribed route in the network.
//  4. Cut the way into legs at stops and borders.
//  5. Ask the rules of each leg; add what the network does not know.
//  6. Sum up.
//
// Errors are [*RequestError] for what the user can mend, and that of the
// context.
func (p *Planner) Plan(ctx context.Context, asked Request) (*Plan, error) {
	r, err := p.inOrder(ctx, asked)
	if err == nil {
		r, err = p.leaving(ctx, r)
	}
	if err != nil {
		return nil, err
	}
	b, err := p.newBuilder(r)
	if err != nil {
		return nil, err
	}
	ways, err := b.ways(ctx)
	if err != nil {
		return nil, err
	}
	out, err := b.complete(ways)
	if err != nil {
		return nil, err
	}
	out.Sites, out.Turns = p.sites(out), p.turns(out)
	return out, p.otherOrder(ctx, asked, out)
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
	visits, err := p.visits(&r)
	if err != nil {
		return nil, err
	}
	b := &builder{
		Planner: p, request: r, departure: departure, visits: visits, stands: standing.New(&p.Atlas, standing.Case{
			Rig: r.Rig, Structures: r.Structures, Revision: r.StructuresRevision, Allowances: r.Allowances,
			Hazmat: r.Wishes.Hazmat, Departure: departure,
			Clock: p.Zone(p.Areas.At(r.firstPoint())), Underway: r.underway() + lasting(visits, departure),
		}),
	}
	b.request.Rig = r.Rig.On(departure)
	b.request.Rig.WindRoad = r.Wishes.Top
	if k := r.Conditions.Kelvins; k != nil {
		b.request.Rig.WindKelvins = *k
	}
	if share := r.Conditions.WindwardShare; share > 0 {
		b.request.Rig.WindwardShare = share
	}
	r = b.request
	b.chooses = choosing.New(p.Engine, b.stands, choosing.Case{
		Rig: r.Rig, Stops: r.Stops, Wishes: r.Wishes, AvoidUnmeasured: r.AvoidUnmeasured,
	})
	b.drives = driving.New(&p.Atlas, driving.Case{
		Rig: r.Rig, Conditions: r.Conditions, Top: r.Wishes.Top, Invented: r.Invented,
	})
	b.begin()
	return b, b.chooses.CheckRoads()
}

// begin starts a plan; what was found out about roads stays.
func (b *builder) begin() {
	b.plan = &Plan{
		Name: b.request.Name, Invented: b.request.Invented, Rig: b.request.Rig, Departure: b.departure, Passable: true,
		Given: b.request.Given != nil, About: b.Network.About, Tables: b.Tables.Revision, Cautions: Cautions(),
		Particulars: b.request.Particulars, OwnHours: b.request.Pace.Hours, Order: b.request.order,
	}
	if stops := b.request.Stops; len(stops) > 1 {
		b.plan.Home = stops[0].Point == stops[len(stops)-1].Point
	}
	b.listed = standing.Listed{}
	b.drives.Begin()
}

// complete makes the plan of ways that were found.
func (b *builder) complete(ways []way) (*Plan, error) {
	if b.request.Given != nil {
		if _, err := b.rehearse(ways); err != nil {
			return nil, err
		}
	}
	if !b.unhindered {
		var pieces [][]network.Piece
		for _, w := range ways {
			pieces = append(pieces, w.Pieces)
		}
		waits, waiting := b.chooses.Waits(pieces, b.request.Given != nil || !b.plan.Passable)
		b.plan.Findings, b.plan.Waits = append(b.plan.Findings, waits...), waiting
	}
	cuts := b.cuts(ways)
	table, stages, err := b.schedule(ways, cuts)
	if err != nil {
		return nil, err
	}
	b.remedies(ways, cuts, table)
	defer b.placeUntilOver(ways, table)()
	if b.plan.Timetable = table; table != nil && !table.Departure.IsZero() {
		b.plan.Departure = table.Departure
	}
	for i, w := range ways {
		b.plan.cost += w.cost
		b.drives.Pass(w.Way)
		if err := b.addLegs(i, w, cuts, stages); err != nil {
			return nil, err
		}
		for _, p := range w.Pieces {
			b.plan.edges = append(b.plan.edges, p.Arc.Edge())
		}
		b.sails(w)
	}
	b.truckRoads(ways)
	b.plan.Off = slices.Concat(b.chooses.Off, b.off)
	b.turnFindings(ways)
	b.serviceRoads(ways)
	b.plan.Road = b.drives.Road()
	b.tripFindings()
	b.permits()
	b.duty()
	if b.bare {
		b.dropUnit()
	}
	b.heed()
	b.sum()
	return b.plan, nil
}

// placeUntilOver judges structures for every moment until the trip is over at the
// latest, where its hours are not known or it takes more than days. What it returns takes
// that back.
func (b *builder) placeUntilOver(ways []way, t *Timetable) func() {
	before := b.stands
	const days = 6
	long := t != nil && t.Over.Slow.After(b.departure.AddDate(0, 0, days))
	if long || b.plan.Waits || slices.ContainsFunc(ways, func(w way) bool {
		return w.Gap != nil || !b.drives.Time(w.Pieces).Unknown.None()
	}) {
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
	visits     []timetable.Stop
	stands     *standing.Judge
	chooses    *choosing.Chooser
	drives     *driving.Driver
	unhindered bool            // what shuts the rig out does not count on the way that is planned
	off        []say.Remark    // stops that lie far from a given line
	listed     standing.Listed // structures that some answer names, by key
	rivals     []network.Piece // of a given line, beside what was found for it

	along *timetable.Table // of this trip, a part of a longer journey; nil: it has its own
	until time.Time        // up to which hours are looked up for that, at the least
	bare  bool             // the tow vehicle goes alone
}

// way is a stretch between two stops: pieces of road, or a gap that matches
// none.
type way struct {
	matching.Part
	access [2]say.Remark // how far the stops at either end are from the road
	cost   search.Millis
}

func (b *builder) ways(ctx context.Context) ([]way, error) {
	if b.request.Given != nil {
		return b.given(ctx)
	}
	paths, err := b.best(ctx)
	if err != nil {
		return nil, err
	}
	return b.waysOf(paths), nil
}

// given finds the route that was given, and notes what it leaves open.
func (b *builder) given(ctx context.Context) ([]way, error) {
	m := matching.Matcher{Judge: b.stands, Stops: b.request.Stops}
	var found *matching.Found
	var access [2]say.Remark
	var err error
	if g := b.request.Given; g.Line != nil {
		found, err = m.Line(ctx, g.Line)
	} else {
		var at []network.Snapped
		if at, err = b.chooses.Snap(); err != nil {
			return nil, err
		}
		access = [2]say.Remark(b.chooses.OffRoads)
		found, err = m.Roads(ctx, at[0].Position, at[1].Position, g.Roads)
	}
	if err != nil {
		return nil, err
	}
	b.plan.Findings, b.rivals, b.off = append(b.plan.Findings, found.Findings...), found.Rivals, found.Off
	var out []way
	for _, p := range found.Parts {
		out = append(out, way{Part: p, access: access})
	}
	return out, nil
}

// best finds the way from stop to stop, and notes what it avoids.
func (b *builder) best(ctx context.Context) ([]search.Path, error) {
	found, err := b.chooses.Best(ctx)
	if err == nil {
		found, err = b.atTrueHours(ctx, found)
	}
	if err != nil {
		return nil, err
	}
	b.plan.Avoided, b.plan.Passable = found.Avoided, found.Passable
	for _, a := range found.Avoided {
		for _, s := range a.Structures {
			b.listed[s.Key()] = true
		}
	}
	return found.Paths, nil
}

// waysOf are the ways from stop to stop.
func (b *builder) waysOf(paths []search.Path) []way {
	out, off := b.between(b.chooses.Stops, paths), b.chooses.OffRoads
	for i := range out {
		out[i].access = [2]say.Remark{off[i], off[i+1]}
	}
	return out
}

// between are the ways from each of some stops to the next, without how far these are off.
func (b *builder) between(stops []choosing.Stop, paths []search.Path) (out []way) {
	for i, path := range paths {
		out = append(out, way{
			Part: matching.Part{
				Way: driving.Way{Pieces: path.Pieces}, From: say.Text(stops[i].Label), To: say.Text(stops[i+1].Label),
				Starts: true, Stops: true,
			},
			cost: path.Cost,
		})
	}
	return out
}

// heed lets what was told of tasks bear on all findings.
func (b *builder) heed() {
	done := slices.Concat(b.request.Rig.Unit.Done, b.request.Done)
	lists := [][]finding.Finding{b.plan.Findings, b.plan.Road.Findings}
	for _, l := range b.plan.Legs {
		lists = append(lists, l.Findings)
	}
	for _, list := range lists {
		task.Heed(list, done, b.departure, b.Tables.Term)
	}
}

// sum adds the legs up.
func (b *builder) sum() {
	p := b.plan
	for _, l := range p.Legs {
		p.Length += l.Length
		p.Time, p.Fuel = p.Time.Add(l.Time), p.Fuel.Add(l.Fuel)
	}
	var all []finding.Finding
	for _, f := range p.All() {
		all = append(all, f)
	}
	p.Verdict = finding.Roll(all)
	p.Assumptions = b.assumptions()
}
