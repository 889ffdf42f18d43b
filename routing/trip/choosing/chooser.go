// Package choosing chooses among the ways between stops for one rig: the cheapest past all
// that shuts it out, others beside it, what bent it, and how much room each leaves.
package choosing

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Stop is a place on the way.
type Stop struct {
	Label string
	Point orb.Point // WGS84
	// Street is that of the stop's address, by name or number; "": none.
	Street string
	Visit  Visit
}

// Reach is how far a stop may lie from a road.
const Reach measure.Distance = 5000

// Case is the rig that goes, where to, and what is wished of its way.
type Case struct {
	Rig    rig.Rig // on the day of departure
	Stops  []Stop
	Wishes Wishes
	// AvoidUnmeasured goes round what hangs over the road without a usable
	// figure: up to an hour for each.
	AvoidUnmeasured bool
}

// Chooser chooses among ways. It remembers what it found out about roads and is not
// for several goroutines at once.
type Chooser struct {
	*standing.Atlas
	Case
	OffRoads []say.Remark // how far each stop lies from its road
	Off      []say.Remark // stops that lie far from the network
	// Then is when so much of the way is driven, by a timetable; nil: it drives without a rest.
	Then func(driven time.Duration) time.Time
	// Timed tells that a search came by a road that is shut at certain hours.
	Timed bool

	engine    *search.Engine
	stands    *standing.Judge
	pace      driving.Pace
	turns     *driving.Turner
	barriers  *barriers
	snapped   []network.Snapped
	tight     bool          // U-turns that the rig cannot drive are open
	after     search.Millis // the departure, a search begins
	shutAreas []string      // jurisdictions in which no permit is had
}

// New returns a chooser among the roads that a judge knows.
func New(engine *search.Engine, stands *standing.Judge, of Case) *Chooser {
	c := &Chooser{
		Atlas: stands.Atlas, Case: of, engine: engine, stands: stands,
		pace:  driving.Pace{Network: stands.Network, Top: of.Wishes.Top},
		turns: driving.NewTurner(stands.Network, of.Rig),
	}
	c.barriers = newBarriers(stands, &c.Case)
	return c
}

// CheckRoads refuses wishes about roads that the network does not have.
func (c *Chooser) CheckRoads() error { return c.barriers.check() }

func fail(field, value string, problem, fix say.Remark) error {
	return &measure.FieldError{Field: field, Value: value, Problem: problem, Fix: fix}
}

// Found is the best way between all stops.
type Found struct {
	Paths    []search.Path // from each stop to the next
	Avoided  []Avoided
	Passable bool // false: every way is shut, and a shut one is shown
}

// Best finds the best way between all stops.
func (c *Chooser) Best(ctx context.Context) (*Found, error) {
	snapped, err := c.Snap()
	if err != nil {
		return nil, err
	}
	if err := c.choosePermits(ctx); err != nil {
		return nil, err
	}
	out := &Found{Passable: true}
	c.after = 0
	for i := 1; i < len(snapped); i++ {
		from, to := c.Stops[i-1].Label, c.Stops[i].Label
		path, err := c.between(ctx, out, from, to, snapped[i-1].Position, snapped[i].Position)
		if errors.Is(err, search.ErrNoRoute) {
			return nil, fail(
				fmt.Sprintf("stops[%d]", i),
				to,
				say.That("error.unreached", "from", from, "ends", c.ends(snapped[i-1].Position, snapped[i].Position)),
				say.That("fix.choose_another_place_or"),
			)
		}
		if err != nil {
			return nil, err
		}
		out.Paths = append(out.Paths, c.Travelled(path))
		c.after += c.takes(path)
	}
	return out, nil
}
