package choosing

import (
	"fmt"
	"slices"

	"github.com/golang/geo/s2"

	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip/standing"
)

// isOfRoad reports whether a barrier is there whatever the user wishes.
func isOfRoad(b *standing.Barrier) bool { return b.Kind != standing.ByWish }

// barriers knows what shuts the rig out of each road.
type barriers struct {
	stands *standing.Judge
	of     *Case
	known  map[string]*standing.Barrier
	whole  map[network.Arc][]*standing.Barrier
	areas  []*s2.Loop
	named  map[string]map[network.EdgeID]bool
	asking map[string]bool // whether a permit is asked for, by kind of road
	rooms  map[network.Arc]standing.Room
}

func newBarriers(stands *standing.Judge, of *Case) *barriers {
	out := &barriers{
		stands: stands, of: of, known: map[string]*standing.Barrier{},
		whole: map[network.Arc][]*standing.Barrier{}, named: map[string]map[network.EdgeID]bool{},
		asking: map[string]bool{}, rooms: map[network.Arc]standing.Room{},
	}
	for _, polygon := range of.Wishes.NotThrough {
		out.areas = append(out.areas, loopOf(polygon))
	}
	return out
}

// check refuses wishes about roads that the network does not have.
func (bs *barriers) check() error {
	for field, names := range map[string][]string{"wishes.by": bs.of.Wishes.By, "wishes.not_by": bs.of.Wishes.NotBy} {
		for i, name := range names {
			if !bs.has(name) {
				return fail(fmt.Sprintf("%s[%d]", field, i), name,
					say.That("error.no_road_of_this", "near", bs.elsewhere(name)), say.That("fix.check_its_number_or"))
			}
		}
	}
	return nil
}

// has reports whether any edge is called so.
func (bs *barriers) has(road string) bool {
	if name, in := apart(road); len(in) > 0 {
		return len(bs.edgesIn(name, in)) > 0
	}
	return bs.stands.Network.HasRoad(road)
}

// on lists what shuts the rig out of a piece, wishes included.
func (bs *barriers) on(p network.Piece) []*standing.Barrier {
	whole := p == bs.stands.Network.Whole(p.Arc)
	if out, ok := bs.whole[p.Arc]; ok && whole {
		return out
	}
	out := bs.wishes(p, bs.stands.Barriers(p))
	if whole {
		bs.whole[p.Arc] = out
	}
	return out
}

// wishes adds the wishes that a piece would break.
func (bs *barriers) wishes(p network.Piece, out []*standing.Barrier) []*standing.Barrier {
	n, w, e := bs.stands.Network, &bs.of.Wishes, p.Arc.Edge()
	breaks := func(broken bool, wish string, what say.Remark) {
		if broken {
			out = append(out, bs.barrier("wish "+wish, func() standing.Barrier {
				return standing.Barrier{
					What: say.That("wish.yours", "wish", what), Kind: standing.ByWish, Wish: wish, Point: n.Line(p)[0],
				}
			}))
		}
	}
	if w.NoTolls || w.NoUnpaved {
		r := n.Record(n.RoadID(e))
		breaks(w.NoTolls && r.Flags.Has(network.Toll), "no_tolls", say.That("wish.no_tolls"))
		breaks(w.NoUnpaved && r.Paved == network.Unpaved, "no_unpaved", say.That("wish.no_unpaved"))
	}
	breaks(w.NoUnmeasured && len(bs.stands.Unmeasured(p, rig.Height)) > 0, "no_unmeasured", say.That("wish.no_unmeasured"))
	for _, code := range w.NotIn {
		breaks(slices.Contains(n.Jurisdictions(e), code), "not_in "+code,
			say.That("wish.not_in", "jurisdiction", say.Jurisdiction(code)))
	}
	for _, road := range w.NotBy {
		breaks(bs.bears(e, road), "not_by "+road, say.That("wish.not_by", "road", road))
	}
	breaks(bs.drawn(p), "not_through", say.That("wish.not_through"))
	return out
}

// barrier returns the barrier of a key, made when it is first met.
func (bs *barriers) barrier(key string, make func() standing.Barrier) *standing.Barrier {
	if known, ok := bs.known[key]; ok {
		return known
	}
	out := make()
	bs.known[key] = &out
	return &out
}

// bears reports whether an edge is called so, and remembers it.
func (bs *barriers) bears(e network.EdgeID, road string) bool {
	name, in := apart(road)
	known := bs.named[road]
	if known == nil {
		known = map[network.EdgeID]bool{}
		if len(in) > 0 {
			known = bs.edgesIn(name, in)
		}
		bs.named[road] = known
	}
	yes, ok := known[e]
	if !ok && len(in) == 0 {
		yes = bs.stands.Network.Bears(e, road)
		known[e] = yes
	}
	return yes
}

// room returns the most of a quantity that passes a piece; of whole arcs it is
// remembered, for one quantity.
func (bs *barriers) room(p network.Piece, q rig.Quantity) standing.Room {
	whole := p == bs.stands.Network.Whole(p.Arc)
	if out, ok := bs.rooms[p.Arc]; ok && whole {
		return out
	}
	out := bs.stands.Room(p, q)
	if whole {
		bs.rooms[p.Arc] = out
	}
	return out
}
