package choosing

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// unwished is the error of a way that the roads have and the wishes leave none of:
// it names wishes that together leave none beside the barriers to keep. Where no wish
// is to blame it is [search.ErrNoRoute].
func (c *Chooser) unwished(ctx context.Context, from, to string, start, end network.Position,
	keep func(*standing.Barrier) bool) error {
	var known []*standing.Barrier
	for {
		path, err := c.First(ctx, start, end, Terms{Lifted: func(o *standing.Barrier) bool {
			return !keep(o) && !slices.Contains(known, o)
		}})
		if errors.Is(err, search.ErrNoRoute) && len(known) == 0 {
			return c.unwishedRoads(ctx, from, to, start, end)
		}
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return err
		}
		met := len(known)
		for _, p := range path.Pieces {
			for _, barrier := range c.barriers.on(p) {
				if !isOfRoad(barrier) && !slices.Contains(known, barrier) {
					known = append(known, barrier)
				}
			}
		}
		if met == len(known) {
			return search.ErrNoRoute // cannot be: this way breaks no wish
		}
	}
	var names []string
	for _, barrier := range known {
		names = append(names, barrier.Wish)
	}
	return fail(
		"wishes",
		strings.Join(names, "; "),
		say.That("error.no_way", "from", from, "to", to),
		say.That("fix.wish_for_less"),
	)
}

// unwishedRoads is the same for wishes that lift no barrier: which roads to use,
// and no ferry.
func (c *Chooser) unwishedRoads(ctx context.Context, from, to string, start, end network.Position) error {
	everything := Terms{Lifted: func(*standing.Barrier) bool { return true }}
	for _, try := range []struct {
		field, value string
		wishes       Wishes
	}{
		{"wishes.no_ferries", "true", without(c.Wishes, func(w *Wishes) { w.NoFerries = false })},
		{"wishes.no_u_turns", "true", without(c.Wishes, func(w *Wishes) { w.NoUTurns = false })},
		{"wishes.by", strings.Join(c.Wishes.By, ", "), without(c.Wishes, func(w *Wishes) { w.By = nil })},
	} {
		kept := c.Wishes
		if try.wishes.NoFerries == kept.NoFerries && try.wishes.NoUTurns == kept.NoUTurns &&
			len(try.wishes.By) == len(kept.By) {
			continue // it was not wished
		}
		c.Wishes = try.wishes
		everything.Ferries = !try.wishes.NoFerries
		_, err := c.route(ctx, start, end, everything)
		c.Wishes = kept
		if !errors.Is(err, search.ErrNoRoute) {
			return cmp.Or(
				err,
				fail(try.field, try.value, say.That("error.no_way", "from", from, "to", to), say.That("fix.wish_for_less")),
			)
		}
	}
	return search.ErrNoRoute
}

// without returns wishes after a change.
func without(w Wishes, change func(*Wishes)) Wishes {
	change(&w)
	return w
}
