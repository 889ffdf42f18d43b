package trip

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/testdata/needs"
)

// On the extract of Delaware preferring truck roads brings much more of random ways onto them for
// little more length, and the search settles states of the same order. Another extract, measured
// outside this project, had 31.6 % of the length on them, and 53 % at 1.3 for 2.6 % more length;
// this one, with its many truck roads, 52 % and 71 % for no more length at all.
func TestDelawareTruckRoads(t *testing.T) {
	p := delawarePlanner(t)
	want := 150
	if needs.Long {
		want = 1000
	}
	r := rigs()[1]
	r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
	b, err := p.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(3, 5))
	position := func() network.Position {
		for {
			e := network.EdgeID(random.IntN(p.Network.Edges()))
			if b.stands.Drivable(e) {
				return network.Position{Edge: e, Offset: p.Network.Length[e] * measure.Distance(random.Float64())}
			}
		}
	}
	var all, on [2]measure.Distance // alike, preferred
	var settled [2]int
	routes := 0
	for range want {
		from, to := position(), position()
		var found [2]search.Answer
		for i, terms := range []choosing.Terms{{Alike: true}, {}} {
			if found[i], err = p.Engine.Route(context.Background(), from, to, b.chooses.Rules(terms)); err != nil {
				break
			}
		}
		if errors.Is(err, search.ErrNoRoute) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		routes++
		for i, way := range found {
			settled[i] += way.Settled
			for _, piece := range way.Pieces {
				all[i] += piece.Length()
				if p.Network.TruckRoad(piece.Arc) {
					on[i] += piece.Length()
				}
			}
		}
	}
	before, after, longer := float64(on[0]/all[0]), float64(on[1]/all[1]), float64(all[1]/all[0])-1
	t.Logf("%d routes: %.1f %% on truck roads, preferred %.1f %% for %.2f %% more length; %d and %d states settled each",
		routes, 100*before, 100*after, 100*longer, settled[0]/routes, settled[1]/routes)
	if after < before+0.1 || longer > 0.05 || settled[1] > 3*settled[0] {
		t.Error("truck roads are not preferred as they should be, or at what cost")
	}
}

// forTrucks is a road of the test whose signs designate it for trucks.
func forTrucks(r road) road {
	r.road.Flags |= network.TruckAlong | network.TruckAgainst
	return r
}

// goes reports whether a plan goes by a road.
func goes(p *Plan, road string) bool {
	return slices.ContainsFunc(p.Legs, func(l Leg) bool {
		return slices.ContainsFunc(say.Strings(l.Roads), func(name string) bool { return strings.HasPrefix(name, road) })
	})
}

// The long way, 19.4 km, takes 2.5 times what the short one, 7.9 km, does: it is taken for the sake of
// truck roads from a factor of 2.5 on, turns and the roads at the ends aside.
func TestTruckRoadsArePreferred(t *testing.T) {
	for _, tc := range []struct {
		others network.Permille
		short  bool
	}{{0, true}, {1000, true}, {2000, true}, {2900, false}, {3000, false}} {
		w := world(t, fork(road{}, forTrucks(road{}), forTrucks(road{})), nil)
		p := plan(t, w, house(func(r *Request) { r.Wishes.Others = tc.others }))
		on, known := p.TruckRoads.Value()
		if short := goes(p, "short"); short != tc.short || !known || (on == 0) != tc.short {
			t.Errorf("others %d: by the short way %t, %.0f m on truck roads, known %t", tc.others, short, on, known)
		}
		if likely := p.Time.Seconds(); likely > 1500 {
			t.Errorf("others %d: %g s; the preference is a price, no time", tc.others, likely)
		}
	}
	if p := plan(t, world(t, fork(road{}), nil), house()); p.TruckRoads.Known() {
		t.Error("roads that know no truck roads are measured")
	}
	var refused *RequestError
	_, err := world(t, fork(road{}), nil).Plan(context.Background(), house(func(r *Request) { r.Wishes.Others = 999 }))
	if !errors.As(err, &refused) || refused.Field != "wishes.truck_roads" {
		t.Errorf("a factor below 1: %v", err)
	}
}

// A sign with hours is met by the clock, not by the price: where the preferred way comes to it open, the
// way is taken; where it comes to it shut, the way round is taken or waited for, whichever is less.
func TestTruckRoadsAndHours(t *testing.T) {
	for hours, want := range map[string]struct{ short, waits bool }{
		"08:10-08:14": {true, false}, // driven from 08:03 to 08:09: the price of the way there says from 08:08 on
		"08:00-08:12": {true, true},  // sooner than 19.4 km round
		"08:00-12:00": {false, false},
	} {
		short := forTrucks(road{signs: signs(access(everyone, refused).at(hours))})
		p := plan(t, world(t, fork(short), nil), house(func(r *Request) { r.Wishes.Others = 3000 }))
		if waits := len(byRule(p, "waiting")) > 0; goes(p, "short") != want.short || waits != want.waits || !p.Passable {
			t.Errorf("%s: by the short way %t, waits %t, passable %t", hours, goes(p, "short"), waits, p.Passable)
		}
	}
}

// Reasons tell the time that the preference takes, and no reason's time holds its price.
func TestReasonsOfTruckRoads(t *testing.T) {
	w := world(t, fork(road{}, forTrucks(road{}), forTrucks(road{})), nil)
	for _, others := range []network.Permille{network.Alike, 3000} {
		got, err := w.Routes(context.Background(), RouteRequest{Request: house(func(r *Request) { r.Wishes.Others = others }), Reasons: true})
		if err != nil {
			t.Fatal(err)
		}
		p := got.Reasons.Preferred
		if (p != nil) != (others == 3000) || len(got.Reasons.Bent) > 0 {
			t.Fatalf("others %d: %+v, %d barriers", others, p, len(got.Reasons.Bent))
		}
		if p != nil && (p.Extra < 11_000 || p.Extra > 12_000 || p.ExtraTime < 550_000 || p.ExtraTime > 650_000) {
			t.Errorf("%.0f m and %d ms more; 11.5 km at 20 m/s are 575 s, and some turns", p.Extra, p.ExtraTime)
		}
	}
}
