package choosing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// Avoided is what the rig could not pass on the way it would otherwise take,
// and what going round costs.
type Avoided struct {
	From, To   string // stops
	Structures []standing.Passing
	Signs      []say.Remark // that shut the rig out
	Ferry      bool
	Extra      measure.Distance
	ExtraTime  driving.Duration
}

// between finds the way from one stop to the next: past nothing that is shut
// and by no ferry; by ferry if nothing else leads there; and if every way is
// shut, the way that it would take, to show what shuts it.
func (c *Chooser) between(ctx context.Context, out *Found, from, to string, start,
	end network.Position) (search.Path, error) {
	first := func(t Terms) (search.Path, error) {
		return c.orTight(func() (search.Path, error) { return c.First(ctx, start, end, t) })
	}
	free, err := first(Terms{Lifted: isOfRoad})
	if errors.Is(err, search.ErrNoRoute) {
		return free, c.unwished(ctx, from, to, start, end, func(*standing.Barrier) bool { return false })
	}
	if err != nil {
		return free, err
	}
	open, err := first(Terms{})
	switch {
	case errors.Is(err, search.ErrNoRoute):
		if err := c.unwished(ctx, from, to, start, end, isOfRoad); !errors.Is(err, search.ErrNoRoute) {
			return free, err // the rig passes if it wishes for less
		}
		out.Passable = false
		return free, nil
	case err != nil:
		return open, err
	}
	c.avoided(out, from, to, open, free)
	return open, c.ferryAvoided(ctx, out, from, to, open, start, end)
}

// First finds the cheapest path by no ferry, or by one if nothing else leads
// there and the wishes allow it.
func (c *Chooser) First(ctx context.Context, from, to network.Position, t Terms) (search.Path, error) {
	for {
		path, err := c.route(ctx, from, to, t)
		if errors.Is(err, search.ErrNoRoute) && !c.Wishes.NoFerries {
			by := t
			by.Ferries = true
			path, err = c.route(ctx, from, to, by)
		}
		if !errors.Is(err, search.ErrNoRoute) || !c.AvoidUnmeasured || t.Share >= 1000 {
			return path, err
		}
		t.Share = max(t.Share, 1) * 10 // so many hours may be more than the search can count
	}
}

// seek finds the cheapest path between two positions in one search.
func (c *Chooser) seek(ctx context.Context, from, to network.Position, t Terms) (search.Path, error) {
	found, err := c.engine.Route(ctx, from, to, c.Rules(t))
	if errors.Is(err, search.ErrNotFinished) {
		err = fail(
			"stops",
			fmt.Sprintf("%d states", budget),
			say.That("error.the_search_was_stopped"),
			say.That("fix.put_a_stop_between"),
		)
	}
	return found.Path, err
}

// avoided notes the shut structures on the way that the rig would take if they
// were open.
func (c *Chooser) avoided(out *Found, from, to string, open, free search.Path) {
	a := Avoided{From: from, To: to, Extra: open.Length() - free.Length()}
	driven := map[network.Arc]bool{}
	for _, piece := range open.Pieces {
		driven[piece.Arc] = true
	}
	for _, piece := range free.Pieces {
		if driven[piece.Arc] {
			continue // what shuts it at hours does not when the rig comes by
		}
		for _, s := range c.stands.On(piece) {
			twice := slices.ContainsFunc(a.Structures, func(o standing.Passing) bool { return o.ID == s.Structure.ID })
			if s.Passage.Outcome == finding.Forbidden && !twice {
				a.Structures = append(a.Structures,
					c.stands.Passing(s, 0, strings.Join(c.Network.Jurisdictions(piece.Arc.Edge()), "/")))
			}
		}
		a.Signs = c.shutSigns(a.Signs, piece)
	}
	if len(a.Structures)+len(a.Signs) == 0 {
		return
	}
	a.ExtraTime = c.pace.Time(open.Pieces).Sub(c.pace.Time(free.Pieces))
	out.Avoided = append(out.Avoided, a)
}

// shutSigns adds the signs that shut the rig out of a piece, each once.
func (c *Chooser) shutSigns(signs []say.Remark, p network.Piece) []say.Remark {
	for _, barrier := range c.barriers.on(p) {
		switch {
		case barrier.Trucks:
			signs = append(signs, c.stands.TruckSigns(p)...)
		case barrier.Kind == standing.BySign && barrier.Met:
			signs = append(signs, barrier.What)
		}
	}
	return say.Once(signs)
}

// ferryAvoided notes a ferry that would have been shorter.
func (c *Chooser) ferryAvoided(ctx context.Context, out *Found, from, to string, open search.Path, start,
	end network.Position) error {
	if c.Wishes.NoFerries {
		return nil
	}
	isFerry := func(p network.Piece) bool { return c.Network.Class[p.Arc.Edge()].Water() }
	path, err := c.First(ctx, start, end, Terms{Ferries: true})
	if err != nil || !slices.ContainsFunc(path.Pieces, isFerry) || slices.ContainsFunc(open.Pieces, isFerry) {
		return err
	}
	out.Avoided = append(out.Avoided, Avoided{
		From: from, To: to, Ferry: true,
		Extra: open.Length() - path.Length(), ExtraTime: driving.Duration{Unknown: say.That("road.no_crossing_time")},
	})
	return nil
}
