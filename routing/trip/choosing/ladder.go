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

// Step is the best way for rigs up to a size.
type Step struct {
	Most      int64 // nanometres or tens of micrograms; 0: nothing known limits it
	By        say.Remark
	Citations []finding.Citation // where what limits it comes from
	Path      search.Path
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

// Ladder climbs between the first two stops, for rigs of every size of a quantity.
// What the rig is in it itself does not matter, and letters that raise a sign do not
// count. shut goes round what is unmeasured.
func (c *Chooser) Ladder(ctx context.Context, q rig.Quantity, shut bool) (Ladder, error) {
	return c.thinned(q, c.Stops[:2]).ladder(ctx, q, shut)
}

// thinned chooses between some of the stops for a rig that is so small in a quantity that
// it passes everywhere.
func (c *Chooser) thinned(q rig.Quantity, stops []Stop) *Chooser {
	there, of := c.stands.Case, c.Case
	there.Rig, there.Clock = there.Rig.Thinned(q), c.Zone(c.Areas.At(stops[0].Point))
	there.Underway = standing.Underway([]orb.Point{stops[0].Point, stops[1].Point}, nil)
	of.Rig, of.Stops = of.Rig.Thinned(q), stops
	return New(c.engine, standing.New(c.Atlas, there), of)
}

// ladder climbs from the fastest way: each next way must leave more room than the
// one before, until none does.
func (c *Chooser) ladder(ctx context.Context, q rig.Quantity, shut bool) (Ladder, error) {
	at, err := c.Snap()
	if err != nil {
		return Ladder{}, err
	}
	out, above := Ladder{Complete: true, Off: c.Off}, &floor{quantity: q, known: shut}
	for len(out.Steps) < maxSteps {
		step, err := c.climb(ctx, at, above)
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return out, err
		}
		if n := len(out.Steps); n > 0 && out.Steps[n-1].Path.Cost == step.Path.Cost && out.Steps[n-1].Ferry == step.Ferry {
			out.Steps = out.Steps[:n-1] // as soon, and with more room
		}
		out.Steps = append(out.Steps, step)
		if step.Most == 0 {
			break
		}
		above.value = step.Most
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

// climb finds the fastest way that leaves more room than the floor.
func (c *Chooser) climb(ctx context.Context, at []network.Snapped, above *floor) (Step, error) {
	path, err := c.First(ctx, at[0].Position, at[1].Position, Terms{Above: above})
	if err != nil {
		return Step{}, err
	}
	s := Step{Path: path, Length: path.Length(), Time: c.pace.Time(path.Pieces)}
	most := standing.Free
	seen := map[string]bool{}
	for _, p := range path.Pieces {
		if r := c.barriers.room(p, above.quantity); r.Most < most.Most {
			most = r
		}
		s.Line = network.Join(s.Line, c.Network.Line(p))
		s.Ferry = s.Ferry || c.Network.Class[p.Arc.Edge()].Water()
		for _, u := range c.stands.Unmeasured(p, above.quantity) {
			if key := u.String(); !seen[key] {
				seen[key] = true
				s.Unknowns = append(s.Unknowns, u)
			}
		}
		for _, code := range c.Network.Jurisdictions(p.Arc.Edge()) {
			if !slices.Contains(s.Areas, code) {
				s.Areas = append(s.Areas, code)
			}
		}
	}
	if most.Most < standing.Free.Most {
		s.Most, s.By, s.Citations, s.Invented = most.Most, most.By, most.Citations, most.Invented
	}
	return s, nil
}

// passes reports whether a piece leaves more room than a floor.
func (c *Chooser) passes(p network.Piece, f *floor) bool {
	r := c.barriers.room(p, f.quantity)
	return r.Most > f.value && !(f.known && r.Unknown)
}
