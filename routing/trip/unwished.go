package trip

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// unwished is the error of a way that the roads have and the wishes leave none of:
// it names wishes that together leave none beside the barriers to keep. Where no wish
// is to blame it is [search.ErrNoRoute].
func (b *builder) unwished(ctx context.Context, from, to string, start, end network.Position, keep func(*standing.Barrier) bool) error {
	var known []*standing.Barrier
	for {
		path, err := b.first(ctx, start, end, terms{lifted: func(o *standing.Barrier) bool { return !keep(o) && !slices.Contains(known, o) }})
		if errors.Is(err, search.ErrNoRoute) && len(known) == 0 {
			return b.unwishedRoads(ctx, from, to, start, end)
		}
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return err
		}
		met := len(known)
		for _, p := range path.Pieces {
			for _, barrier := range b.barriers.on(p) {
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
		names = append(names, strings.TrimPrefix(barrier.What, "your wish: "))
	}
	return fail("wishes", strings.Join(names, "; "), "leave no way from "+from+" to "+to, "wish for less")
}

// unwishedRoads is the same for wishes that lift no barrier: which roads to use,
// and no ferry.
func (b *builder) unwishedRoads(ctx context.Context, from, to string, start, end network.Position) error {
	everything := terms{lifted: func(*standing.Barrier) bool { return true }}
	for _, try := range []struct {
		field, value string
		wishes       Wishes
	}{
		{"wishes.no_ferries", "true", without(b.request.Wishes, func(w *Wishes) { w.NoFerries = false })},
		{"wishes.by", strings.Join(b.request.Wishes.By, ", "), without(b.request.Wishes, func(w *Wishes) { w.By = nil })},
	} {
		kept := b.request.Wishes
		if try.wishes.NoFerries == kept.NoFerries && len(try.wishes.By) == len(kept.By) {
			continue // it was not wished
		}
		b.request.Wishes = try.wishes
		everything.ferries = !try.wishes.NoFerries
		_, err := b.route(ctx, start, end, everything)
		b.request.Wishes = kept
		if !errors.Is(err, search.ErrNoRoute) {
			return cmp.Or(err, fail(try.field, try.value, "leaves no way from "+from+" to "+to, "wish for less"))
		}
	}
	return search.ErrNoRoute
}

// without returns wishes after a change.
func without(w Wishes, change func(*Wishes)) Wishes {
	change(&w)
	return w
}
