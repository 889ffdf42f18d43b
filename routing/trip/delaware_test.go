package trip

import (
	"context"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// rigs are five that Delaware is driven with, from a low and light one to one
// that is too tall for many bridges, with what they wish. All are invented.
func rigs() []Request {
	sized := func(height, width, long, kg int64, w choosing.Wishes) Request {
		return house(func(r *Request) {
			r.Rig = rig.Rig{
				Unit:   rig.Unit{Kind: limit.TinyHome, Coupling: rig.FifthWheel, Height: length(height), Length: length(long - 6000)},
				Height: measure.Given(length(height)), Width: measure.Given(length(width)), Length: measure.Given(length(long)), Mass: measure.Given(mass(kg)),
			}
			r.Wishes = w
		})
	}
	return []Request{
		sized(2500, 2000, 9000, 3000, choosing.Wishes{}),
		sized(3900, 2500, 13_000, 7000, choosing.Wishes{NoTolls: true}),
		sized(4100, 2600, 15_000, 9000, choosing.Wishes{Top: 85 * measure.KilometrePerHour}),
		sized(4300, 3000, 17_000, 13_000, choosing.Wishes{Hazmat: standing.Yes}),
		sized(4800, 3600, 21_000, 24_000, choosing.Wishes{NoUnmeasured: true, Top: 70 * measure.KilometrePerHour}),
	}
}

// delawarePlanner plans on the roads of Delaware (OpenStreetMap of 2016-08-10,
// ODbL), with empty tables.
func delawarePlanner(t testing.TB) *Planner {
	return plannerOf(t, filepath.Join(extracts.Real(t), extracts.Delaware))
}

// plannerOf plans on the roads of an extract, with empty tables.
func plannerOf(t testing.TB, extract string) *Planner {
	n, _, err := osm.Build(context.Background(), []string{extract}, osm.Options{})
	if err != nil {
		t.Fatal(err)
	}
	raw, err := data.Files.ReadFile("areas/jurisdictions.bin")
	if err != nil {
		t.Fatal(err)
	}
	areas, err := area.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(context.Background(), n, areas, regs.NewTables("empty", regs.Rows{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The engine costs what Dijkstra's search does under the same rules, for five
// rigs on pairs of places with everything that the map says of them.
func TestDelawareRigs(t *testing.T) {
	p := delawarePlanner(t)
	sources := 10 // of 50 pairs each
	if needs.Long {
		sources = 20
	}
	for i, r := range rigs() {
		pairs, ways, settled := delaware(t, p, r, sources, uint64(i))
		t.Logf("rig %d: %d pairs, %d with a way, %d states settled each", i, pairs, ways, settled/pairs)
		if ways < pairs/10 {
			t.Errorf("rig %d: only %d of %d pairs have a way", i, ways, pairs)
		}
	}
}

func delaware(t *testing.T, p *Planner, r Request, sources int, seed uint64) (pairs, ways, settled int) {
	random := rand.New(rand.NewPCG(seed, 11))
	r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
	b, err := p.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	position := func() network.Position {
		for {
			e := network.EdgeID(random.IntN(p.Network.Edges()))
			if b.stands.Drivable(e) {
				return network.Position{Edge: e, Offset: p.Network.Length[e] * measure.Distance(random.Float64())}
			}
		}
	}
	rules := b.chooses.Rules(choosing.Terms{})
	for range sources {
		from, to := position(), make([]network.Position, 50)
		for i := range to {
			to[i] = position()
		}
		want, err := search.PlainMany(context.Background(), p.Network, from, to, rules)
		if err != nil {
			t.Fatal(err)
		}
		for i := range to {
			got, err := p.Engine.Route(context.Background(), from, to[i], rules)
			if errors.Is(err, search.ErrNoRoute) {
				got.Cost, err = search.Infinite, nil
			}
			if err != nil || got.Cost != want[i] {
				t.Fatalf("%v to %v: %d ms, %v; Dijkstra says %d ms", from, to[i], got.Cost, err, want[i])
			}
			if pairs, settled = pairs+1, settled+got.Settled; got.Cost < search.Infinite {
				ways++
			}
		}
	}
	return pairs, ways, settled
}
