package trip

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/timetable"
)

// Move is a unit to be moved: a trip by itself, whose departure is when the unit may be
// taken at the earliest, if it says.
type Move struct {
	ID    string
	Asks  Request
	Ready bool // its departure was asked for
}

// MovesRequest asks how one crew moves several units one after another. Between them it goes
// with the tow vehicle alone. Who drives, how they travel and with what is what the first
// move says.
type MovesRequest struct {
	Moves    []Move
	AnyOrder bool // in the best order, else in that of the list
	// Base is where the crew begins, nil: at the first unit; with Back it returns there.
	Base      *choosing.Stop
	Back      bool
	Departure time.Time // not before; zero: when the first unit is ready, or that of the first move
	Local     bool      // Departure is on the clock of where the crew begins
}

// MaxMoves is how many units one crew is planned for.
const MaxMoves = 8

// Moves is how one crew moves several units.
type Moves struct {
	// All of it as one plan: its legs, its findings and the timetable of the crew, nil where a part
	// has no known time.
	*Plan
	Runs   []Run
	Order  []int // numbers of the moves, from 0, as they are driven
	Given  *Dates
	Sure   bool // no other order is better, as far as times are known
	Steady bool // rules were asked at the hours of the timetable
	Loaded measure.Distance
	Empty  measure.Distance
}

// Run is a part that is driven with one unit, or with none.
type Run struct {
	Move     int // -1: the tow vehicle alone
	ID       string
	From, To say.Remark
	Plan     *Plan
	// First and Last are its stops in the timetable of all.
	First, Last int
}

// mostTimings is how often the moves are planned again at the hours of their own timetable.
const mostTimings = 3

// MoveAll plans several moves of one crew:
//
//  1. Find the way of each unit, and those of the tow vehicle alone between them.
//  2. Put them in the order whose timetable is the best.
//  3. Plan that order, and again at the hours that come of it until they stay.
//  4. Ask the rules of each run at its hours.
//
// Errors are as of [Planner.Plan].
func (p *Planner) MoveAll(ctx context.Context, r MovesRequest) (*Moves, error) {
	m, err := p.moving(r)
	if err != nil {
		return nil, err
	}
	if err := m.prepare(ctx); err != nil {
		return nil, err
	}
	if err := m.order(ctx); err != nil {
		return nil, err
	}
	if err := m.settle(ctx); err != nil {
		return nil, err
	}
	return m.complete()
}

// moving makes one answer.
type moving struct {
	*Planner
	MovesRequest
	departure time.Time
	until     time.Time   // up to which hours are looked up
	ready     []time.Time // when each unit may be taken, zero: at any time
	loaded    []*run      // by move
	row       []*run      // in the order that is driven
	table     *Timetable  // of the row; nil: none
	out       *Moves
}

// moving refuses what cannot be planned together.
func (p *Planner) moving(r MovesRequest) (*moving, error) {
	switch {
	case len(r.Moves) == 0:
		return nil, fail("moves", "0", say.That("error.no_moves"), say.That("fix.give_moves", "bound", MaxMoves))
	case len(r.Moves) > MaxMoves:
		return nil, fail("moves", fmt.Sprint(len(r.Moves)), say.That("error.too_many", "bound", MaxMoves),
			say.That("fix.give_moves", "bound", MaxMoves))
	}
	m := &moving{Planner: p, MovesRequest: r, ready: make([]time.Time, len(r.Moves)),
		out: &Moves{Sure: true}}
	m.Moves = slices.Clone(r.Moves)
	stops := 0
	for i := range m.Moves {
		of := &m.Moves[i]
		if of.Asks.Given != nil || len(of.Asks.Stops) < 2 {
			return nil, within(i, fail("stops", fmt.Sprint(len(of.Asks.Stops)), say.That("error.a_move_is_of"),
				say.That("fix.give_a_start_and")))
		}
		if of.Ready {
			m.ready[i] = p.departure(&of.Asks)
		}
		of.Asks.Crew, of.Asks.Pace, of.Asks.Backwards = m.Moves[0].Asks.Crew, m.Moves[0].Asks.Pace, false
		stops += len(of.Asks.Stops)
	}
	if stops > mostPlaces {
		return nil, fail("moves", fmt.Sprint(stops), say.That("error.too_many", "bound", mostPlaces),
			say.That("fix.give_moves", "bound", MaxMoves))
	}
	m.departs()
	return m, nil
}

// mostPlaces is how many stops all moves have together at the most.
const mostPlaces = 18

// departs settles when the crew begins at the earliest.
func (m *moving) departs() {
	from := m.Moves[0].Asks
	if m.Base != nil {
		from.Stops = []choosing.Stop{*m.Base}
	}
	switch {
	case !m.Departure.IsZero():
		from.Departure, from.Local = m.Departure, m.Local
		m.departure = m.Planner.departure(&from)
	default:
		for _, at := range m.ready {
			if !at.IsZero() && (m.departure.IsZero() || at.Before(m.departure)) {
				m.departure = at
			}
		}
		if m.departure.IsZero() {
			m.departure = m.Planner.departure(&m.Moves[0].Asks)
		}
	}
}

// within says in which move a field cannot be used.
func within(move int, err error) error {
	var of *measure.FieldError
	if errors.As(err, &of) {
		inside := *of
		inside.Field = fmt.Sprintf("moves[%d].%s", move, of.Field)
		return &inside
	}
	return err
}

// complete asks the rules of each run, and adds all up.
func (m *moving) complete() (*Moves, error) {
	out := m.out
	all := &Plan{Passable: true, Road: &driving.Drive{}, Tables: m.Tables.Revision, About: m.Network.About,
		Departure: m.departure, Cautions: Cautions(), Rig: m.Moves[0].Asks.Rig}
	out.Plan = all
	joint, first := m.table, 0
	for _, r := range m.row {
		last := first + len(r.asks.Stops) - 1
		switch {
		case joint == nil:
		case joint.never(): // legs are cut at borders alone
			r.b.along = &timetable.Table{Missed: &timetable.Missed{Never: true}}
		default:
			r.b.along = joint.Along(first, last)
		}
		plan, err := r.b.complete(r.ways)
		if err != nil {
			return nil, r.within(err)
		}
		if r.move >= 0 {
			plan.Sites = m.sites(plan)
		}
		if joint != nil && joint.never() {
			plan.Timetable = nil
		}
		out.add(m, r, plan, first, last)
		first = r.after(first)
	}
	all.Name = strings.Join(out.IDs(), ", ")
	if all.Timetable = joint; joint != nil {
		all.Departure = joint.Departure
		out.number()
	}
	var findings []finding.Finding
	for _, f := range all.All() {
		findings = append(findings, f)
	}
	all.Verdict = finding.Roll(findings)
	return out, nil
}

// add adds the plan of a run to that of all.
func (o *Moves) add(m *moving, r *run, plan *Plan, first, last int) {
	of := Run{Move: r.move, From: say.Text(r.asks.Stops[0].Label), To: say.Text(r.asks.Stops[len(r.asks.Stops)-1].Label),
		Plan: plan, First: first, Last: last}
	if r.move >= 0 {
		of.ID = m.Moves[r.move].ID
		o.Loaded += plan.Length
	} else {
		o.Empty += plan.Length
	}
	o.Runs = append(o.Runs, of)
	o.Passable, o.Invented = o.Passable && plan.Passable, o.Invented || plan.Invented
	o.Waits = o.Waits || plan.Waits
	o.Legs, o.Findings = append(o.Legs, plan.Legs...), append(o.Findings, plan.Findings...)
	o.Permits, o.Avoided = append(o.Permits, plan.Permits...), append(o.Avoided, plan.Avoided...)
	o.Off, o.Assumptions = append(o.Off, plan.Off...), say.Once(append(o.Assumptions, plan.Assumptions...))
	o.Road.Findings = append(o.Road.Findings, plan.Road.Findings...)
	o.Length, o.Time, o.Fuel = o.Length+plan.Length, o.Time.Add(plan.Time), o.Fuel.Add(plan.Fuel)
}

// number has the entries of the timetable name the legs of all runs.
func (o *Moves) number() {
	legs := 0
	for _, r := range o.Runs {
		t, i := r.Plan.Timetable, 0
		for k := range o.Timetable.Entries {
			e := &o.Timetable.Entries[k]
			switch {
			case e.Drive < r.First || e.Drive >= r.Last:
				continue
			case t == nil: // the end is never reached, and legs are those of the journey
				e.Leg += legs
				continue
			}
			for t.Entries[i].Drive < 0 {
				i++
			}
			e.Leg = legs + t.Entries[i].Leg
			i++
		}
		legs += len(r.Plan.Legs)
	}
}

// IDs names the moves in their order.
func (o *Moves) IDs() (out []string) {
	for _, r := range o.Runs {
		if r.Move >= 0 {
			out = append(out, r.ID)
		}
	}
	return out
}

// ofUnits are rules of what a tow vehicle by itself does not have: a trailer, a coupling under
// load and what both weigh together. All others are asked of it as of any rig.
func ofUnits() []finding.Rule {
	out := []finding.Rule{
		rig.RuleUnitRating, rig.RuleUnitAxle, rig.RuleCoupling, rig.RuleCouplingShare, rig.RuleTowed, rig.RuleCombined,
		rig.RuleLevel,
	}
	for _, q := range []limit.Quantity{limit.TrailerLength, limit.KingpinToRearAxle} {
		out = append(out, finding.Rule(q))
	}
	return out
}

// dropUnit drops what is said of a unit that is not there.
func (b *builder) dropUnit() {
	rules := ofUnits()
	drop := func(list []finding.Finding) []finding.Finding {
		return slices.DeleteFunc(list, func(f finding.Finding) bool { return slices.Contains(rules, f.Rule) })
	}
	b.plan.Findings, b.plan.Road.Findings = drop(b.plan.Findings), drop(b.plan.Road.Findings)
	for i := range b.plan.Legs {
		b.plan.Legs[i].Findings = drop(b.plan.Legs[i].Findings)
	}
}
