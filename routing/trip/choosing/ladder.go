package choosing

import (
	"context"
	"errors"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// LadderQuantities lists what a ladder can climb in.
func LadderQuantities() []rig.Quantity { return []rig.Quantity{rig.Height, rig.Width, rig.Mass} }

// Ladder is a list of steps from the greatest rig that passes to the fastest way.
type Ladder struct {
	Steps    []Step
	Complete bool         // false: there are more steps than were sought
	Why      say.Remark   // where there is no step
	Off      []say.Remark // stops that lie far from the network
}

// Step is the best way past all stops for rigs up to a size.
type Step struct {
	Most      int64 // nanometres or tens of micrograms; 0: nothing known limits it
	By        say.Remark
	Binds     []int              // the drives from stop to stop, from 0, that leave no more room
	Citations []finding.Citation // where what limits it comes from
	Cost      search.Millis      // of all drives, as the search reckons it
	Line      orb.LineString
	Length    measure.Distance
	Time      driving.Duration
	Ferry     bool
	Unknowns  []say.Remark // unmeasured structures and signs on the way, each once
	Passes    bool         // whether the given rig passes by it; false where its size is not known
	Areas     []string     // jurisdictions on the way
	Invented  bool         // what limits it was made up
}

// maxSteps is how many steps are sought.
const maxSteps = 200

// floor closes what leaves no more than a value of a quantity.
type floor struct {
	quantity rig.Quantity
	value    int64
	known    bool // what says nothing of the quantity is closed too
}

// Ladder climbs past all stops, for rigs of every size of a quantity. What the rig is in it
// itself does not matter, and letters that raise a sign do not count. shut goes round what
// is unmeasured. Every drive is sought as of the departure: a ladder knows no dates.
func (c *Chooser) Ladder(ctx context.Context, q rig.Quantity, shut bool) (Ladder, error) {
	return c.thinned(q).ladder(ctx, q, shut)
}

// thinned chooses for a rig that is so small in a quantity that it passes everywhere.
func (c *Chooser) thinned(q rig.Quantity) *Chooser {
	there, of := c.stands.Case, c.Case
	there.Rig, of.Rig = there.Rig.Thinned(q), of.Rig.Thinned(q)
	return New(c.engine, standing.New(c.Atlas, there), of)
}

// rung is the fastest way of one drive above a floor.
type rung struct {
	path  search.Path
	room  standing.Room
	ferry bool
}

// ladder climbs from the fastest way: each next way must leave more room than the
// one before, until none does. Only the drives that left no more than the floor are sought
// again; the others stay the fastest above it.
func (c *Chooser) ladder(ctx context.Context, q rig.Quantity, shut bool) (Ladder, error) {
	at, err := c.Snap()
	if err != nil {
		return Ladder{}, err
	}
	out, above := Ladder{Complete: true, Off: c.Off}, &floor{quantity: q, known: shut}
	var before []rung
	for len(out.Steps) < maxSteps {
		drives, err := c.climb(ctx, at, above, before)
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return out, err
		}
		if slices.EqualFunc(before, drives, func(a, b rung) bool {
			return a.path.Cost == b.path.Cost && a.ferry == b.ferry
		}) {
			out.Steps = out.Steps[:len(out.Steps)-1] // as soon, and with more room
		}
		step := c.step(drives, q)
		out.Steps = append(out.Steps, step)
		if step.Most == 0 {
			break
		}
		above.value, before = step.Most, drives
	}
	out.Complete = len(out.Steps) < maxSteps
	slices.Reverse(out.Steps)
	if len(out.Steps) == 0 {
		out.Why = say.That("ladder.no_way", "quantity", q)
		if shut {
			out.Why = say.That("ladder.all_unmeasured")
		}
	}
	return out, nil
}

// climb finds the fastest way of each drive that leaves more room than the floor; before are
// those above the floor before, nil at first.
func (c *Chooser) climb(ctx context.Context, at []network.Snapped, above *floor, before []rung) ([]rung, error) {
	out := slices.Clone(before)
	if before == nil {
		out = make([]rung, len(at)-1)
	}
	for i := range out {
		if before != nil && out[i].room.Most > above.value {
			continue
		}
		path, err := c.First(ctx, at[i].Position, at[i+1].Position, Terms{Above: above})
		if err != nil {
			return nil, err
		}
		out[i] = rung{path: path, room: standing.Free}
		for _, p := range path.Pieces {
			if r := c.barriers.room(p, above.quantity); r.Most < out[i].room.Most {
				out[i].room = r
			}
			out[i].ferry = out[i].ferry || c.Network.Class[p.Arc.Edge()].Water()
		}
	}
	return out, nil
}

// step adds drives up.
func (c *Chooser) step(drives []rung, q rig.Quantity) (s Step) {
	most := standing.Free
	for i, d := range drives {
		switch {
		case d.room.Most < most.Most:
			most, s.Binds = d.room, []int{i}
		case d.room.Most == most.Most && most.Most < standing.Free.Most:
			s.Binds = append(s.Binds, i)
		}
		s.Cost, s.Length, s.Ferry = s.Cost+d.path.Cost, s.Length+d.path.Length(), s.Ferry || d.ferry
		s.Time = s.Time.Add(c.pace.Time(d.path.Pieces))
		c.tells(&s, d.path.Pieces, q)
	}
	s.Unknowns = say.Once(s.Unknowns)
	if most.Most < standing.Free.Most {
		s.Most, s.By, s.Citations, s.Invented = most.Most, most.By, most.Citations, most.Invented
	}
	return s
}

// tells adds to a step where a drive runs, and what of it is not measured.
func (c *Chooser) tells(s *Step, pieces []network.Piece, q rig.Quantity) {
	for _, p := range pieces {
		s.Line = network.Join(s.Line, c.Network.Line(p))
		s.Unknowns = append(s.Unknowns, c.stands.Unmeasured(p, q)...)
		for _, code := range c.Network.Jurisdictions(p.Arc.Edge()) {
			if !slices.Contains(s.Areas, code) {
				s.Areas = append(s.Areas, code)
			}
		}
	}
}

// passes reports whether a piece leaves more room than a floor.
func (c *Chooser) passes(p network.Piece, f *floor) bool {
	r := c.barriers.room(p, f.quantity)
	return r.Most > f.value && !(f.known && r.Unknown)
}
