package change

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// thing is what stands over or on a road.
type thing struct {
	kind network.Kind
	of   Element
	way  int64 // the road, as it is compared
}

// stands is a thing as it is on one side.
type stands struct {
	edge  network.EdgeID
	at    orb.Point
	facts []fact // its heights, or whom it lets through
}

// things compares what stands over and on the roads that both sides have.
func (d *differ) things() {
	found := [2]map[thing]stands{d.sides[0].things(), d.sides[1].things()}
	d.renumbered(found)
	for t := range union(found) {
		if len(d.sides[0].edges[t.way]) == 0 || len(d.sides[1].edges[t.way]) == 0 {
			continue // the road itself is the change
		}
		before, was := found[0][t]
		after, is := found[1][t]
		if was && is && same(before.facts, after.facts) {
			continue
		}
		c := Change{Kind: Structure, How: Altered, Element: t.of, What: say.That("change.thing", "kind", t.kind),
			Before: values(before.facts), After: values(after.facts), Point: after.at}
		if !t.kind.Overhead() {
			c.Kind = Closure
		}
		s, e := d.sides[1], after.edge
		switch {
		case !was:
			c.How = Added
		case !is:
			c.How, c.Point, s, e = Gone, before.at, d.sides[0], before.edge
		}
		d.out = append(d.out, s.where(c, e))
	}
}

// blocks reports whether a kind of thing can close a road.
func blocks(k network.Kind) bool {
	return slices.Contains([]network.Kind{
		network.Gate, network.Blocked, network.Checkpoint, network.SignPost, network.OtherBarrier,
	}, k)
}

// things lists what stands over the roads of a side, and what can close them. A sign of height
// that hangs on nothing known is a limit of its road.
func (s *side) things() map[thing]stands {
	out := map[thing]stands{}
	for e := range network.EdgeID(s.net.Edges()) {
		for _, spot := range s.net.Spots(e) {
			counts := spot.Kind.Overhead() && spot.Kind != network.PostedHeight || blocks(spot.Kind)
			if !counts || s.net.Origin(e) == 0 {
				continue
			}
			t := thing{kind: spot.Kind, of: Element{"way", spot.OSM}, way: s.way(s.net.Origin(e))}
			if spot.OnNode == 1 {
				t.of.Type = "node"
			} else {
				t.of.ID = s.way(spot.OSM) // a bridge is a way, which may bear another id
			}
			if _, known := out[t]; !known {
				out[t] = stands{e, s.net.Point(network.Position{Edge: e, Offset: spot.Offset}), s.spot(spot)}
			}
		}
	}
	return out
}

// spot is what a thing says itself that matters: over a road its heights, on it the rest too.
// What the road says of it is a limit of the road.
func (s *side) spot(spot network.Spot) []fact {
	var out []fact
	if spot.Own == 0 {
		return nil
	}
	for _, f := range s.record(spot.Road) {
		if f.kind == Limit && f.subject.Height() || !spot.Kind.Overhead() && f.kind != Direction {
			out = append(out, f)
		}
	}
	slices.SortFunc(out, func(a, b fact) int { return strings.Compare(a.text, b.text) })
	return out
}

// inOrder lists things by element.
func inOrder(things map[thing]stands) []thing {
	return slices.SortedFunc(maps.Keys(things), func(a, b thing) int {
		return cmp.Or(cmp.Compare(a.of.ID, b.of.ID), cmp.Compare(a.way, b.way), cmp.Compare(a.kind, b.kind))
	})
}

// samePlace is how far apart a thing may be drawn that only got another id.
const samePlace measure.Distance = 50

// renumbered drops things that both sides have at one place under two ids.
func (d *differ) renumbered(found [2]map[thing]stands) {
	type on struct {
		kind network.Kind
		way  int64
	}
	gone := map[on][]thing{}
	for _, t := range inOrder(found[0]) {
		if _, is := found[1][t]; !is {
			gone[on{t.kind, t.way}] = append(gone[on{t.kind, t.way}], t)
		}
	}
	for _, t := range inOrder(found[1]) {
		after := found[1][t]
		if _, was := found[0][t]; was {
			continue
		}
		for _, old := range gone[on{t.kind, t.way}] {
			before, still := found[0][old]
			if still && same(before.facts, after.facts) && geodesic.Between(before.at, after.at) <= samePlace {
				delete(found[0], old)
				delete(found[1], t)
				break
			}
		}
	}
}

// turns compares the turn rules.
func (d *differ) turns() {
	rules := [2]map[int64]network.EdgeID{d.sides[0].turns(), d.sides[1].turns()}
	for i, how := range []How{Gone, Added} {
		for _, id := range sortedKeys(rules[i]) {
			if _, both := rules[1-i][id]; !both {
				c := Change{Kind: Turn, How: how, Element: Element{"relation", id}, What: say.That("change.turn")}
				d.out = append(d.out, d.sides[i].where(c, rules[i][id]))
			}
		}
	}
}

// turns lists the turn rules of a side, each with the road that it begins on.
func (s *side) turns() map[int64]network.EdgeID {
	out := map[int64]network.EdgeID{}
	for i := range s.net.Bans() {
		if ban, arcs := s.net.Ban(i); ban.OSM != 0 && len(arcs) > 0 {
			if _, known := out[ban.OSM]; !known {
				out[ban.OSM] = arcs[0].Edge()
			}
		}
	}
	return out
}
