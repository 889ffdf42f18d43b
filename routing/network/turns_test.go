package network_test

import (
	"math/bits"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/routing/network"
)

// tangle builds a random network of few nodes, with loops and roads side by
// side, and bans on it: ways at random, parts of other bans, and bans that go
// on from others.
func tangle(t *rapid.T) *network.Network {
	b := network.NewBuilder()
	nodes := rapid.IntRange(1, 4).Draw(t, "nodes")
	at := make([]orb.Point, nodes)
	for i := range at {
		at[i] = orb.Point{0.01 * float64(i), 45}
		b.Node(at[i])
	}
	node := rapid.IntRange(0, nodes-1)
	out := make([][]network.Arc, nodes)
	heads := map[network.Arc]int{}
	for range rapid.IntRange(1, 7).Draw(t, "edges") {
		from, to := node.Draw(t, "from"), node.Draw(t, "to")
		e, err := b.Edge(network.Edge{
			From: network.NodeID(from), To: network.NodeID(to), Line: []orb.Point{at[from], {0, 45.01}, at[to]}, Class: network.Primary,
		})
		if err != nil {
			t.Fatal(err)
		}
		there, back := network.MakeArc(e, false), network.MakeArc(e, true)
		out[from], out[to] = append(out[from], there), append(out[to], back)
		heads[there], heads[back] = to, from
	}
	goOn := func(way []network.Arc, arcs int) []network.Arc {
		for range arcs {
			way = append(way, rapid.SampledFrom(out[heads[way[len(way)-1]]]).Draw(t, "next"))
		}
		return way
	}
	var bans [][]network.Arc
	for range rapid.IntRange(0, 8).Draw(t, "bans") {
		var way []network.Arc
		if len(bans) > 0 && rapid.Bool().Draw(t, "from another") {
			old := rapid.SampledFrom(bans).Draw(t, "ban")
			start := rapid.IntRange(0, len(old)-1).Draw(t, "start")
			end := rapid.IntRange(start+1, len(old)).Draw(t, "end")
			way = slices.Clone(old[start:end])
		} else {
			// Any arc: every one of them can be driven from its tail.
			way = []network.Arc{network.Arc(rapid.IntRange(0, len(heads)-1).Draw(t, "first"))}
		}
		way = goOn(way, max(2-len(way), rapid.IntRange(0, 4).Draw(t, "more")))
		bans = append(bans, way)
		b.Ban(way, network.Ban{OSM: int64(len(bans))})
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Along any arcs, the sequences said to be driven to their end, bans and U-turns, are those
// whose arcs are the last that were driven; and the state is none just where none has begun.
func TestTurnsAgainstEverySuffix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := tangle(t)
		turns := n.Turns()
		var way []network.Arc
		var at network.TurnState
		for range rapid.IntRange(1, 40).Draw(t, "arcs") {
			way = append(way, nextArc(t, n, way))
			at = turns.Step(at, way[len(way)-1])
			ended, begun := judge(n, way)
			got := slices.Sorted(slices.Values(turns.Ends(at)))
			if !slices.Equal(got, ended) {
				t.Fatalf("after %v: sequences %v, want %v", way, got, ended)
			}
			if (at != 0) != begun {
				t.Fatalf("after %v: state %d, a sequence has begun: %t", way, at, begun)
			}
		}
	})
}

// nextArc draws one on from the last, now and then a leap, and often one of a
// ban so that bans are driven through.
func nextArc(t *rapid.T, n *network.Network, way []network.Arc) network.Arc {
	choice := rapid.IntRange(0, 3).Draw(t, "choice")
	if choice > 0 && n.Bans() > 0 && len(way) > 0 {
		_, arcs := n.Ban(rapid.IntRange(0, n.Bans()-1).Draw(t, "ban"))
		if i := slices.Index(arcs, way[len(way)-1]); i >= 0 && i+1 < len(arcs) {
			return arcs[i+1]
		}
		return arcs[0]
	}
	if choice == 0 && len(way) > 0 {
		return rapid.SampledFrom(n.Out(n.Head(way[len(way)-1]))).Draw(t, "next")
	}
	return network.Arc(rapid.IntRange(0, 2*n.Edges()-1).Draw(t, "leap"))
}

// judge compares every end of a way with every sequence.
func judge(n *network.Network, way []network.Arc) (ended []int32, begun bool) {
	for i := range n.Sequences() {
		arcs := n.Sequence(i)
		for start := range way {
			last := way[start:]
			if slices.Equal(last, arcs) {
				ended = append(ended, int32(i))
			}
			begun = begun || len(last) <= len(arcs) && slices.Equal(last, arcs[:len(last)])
		}
	}
	return ended, begun
}

// A network without a ban follows nothing.
func TestTurnsOfNone(t *testing.T) {
	turns := bundled(t).Turns()
	for a := range network.Arc(100) {
		if at := turns.Step(0, a); at != 0 || len(turns.Ends(at)) > 0 {
			t.Errorf("arc %d leads to state %d, which breaks %v", a, at, turns.Ends(at))
		}
	}
}

func set(modes ...network.Mode) (s uint16) {
	for _, m := range modes {
		s |= 1 << m
	}
	return s
}

// The hierarchy of modes is that of the OpenStreetMap wiki, Key:access, and an
// exemption holds for all below it, Relation:restriction (both from memory).
func TestBanBinds(t *testing.T) {
	const (
		everyone = network.Everyone
		vehicles = network.Vehicles
		motor    = network.MotorVehicles
		car      = network.Motorcars
		goods    = network.GoodsVehicles
		hgv      = network.HeavyGoods
		artic    = network.Articulated
		trailer  = network.Trailers
		caravan  = network.Caravans
		hazmat   = network.Hazmat
	)
	for _, tc := range []struct {
		name   string
		bound  network.Mode
		except uint16
		may    []network.Mode
		want   bool
	}{
		{"all, a car", everyone, 0, []network.Mode{car}, true},
		{"all, a caravan", everyone, 0, []network.Mode{caravan}, true},
		{"all, nobody in particular", everyone, 0, nil, false},
		{"vehicles, a trailer", vehicles, 0, []network.Mode{trailer}, true},
		{"motor vehicles, a car", motor, 0, []network.Mode{car}, true},
		{"motor vehicles, a trailer in tow", motor, 0, []network.Mode{trailer}, true},
		{"heavy goods, a car", hgv, 0, []network.Mode{car}, false},
		{"heavy goods, an articulated one", hgv, 0, []network.Mode{artic}, true},
		{"articulated, a heavy goods vehicle", artic, 0, []network.Mode{hgv}, false},
		{"goods, a heavy goods vehicle", goods, 0, []network.Mode{hgv}, false},
		{"caravans, a trailer", caravan, 0, []network.Mode{trailer}, false},
		{"trailers, a caravan", trailer, 0, []network.Mode{caravan}, true},
		{"hazardous goods, a car", hazmat, 0, []network.Mode{car}, false},
		{"hazardous goods, a car that carries them", hazmat, 0, []network.Mode{car, hazmat}, true},
		{"all, hazardous goods alone", everyone, 0, []network.Mode{hazmat}, false},
		{"all but cars, a car", everyone, set(car), []network.Mode{car}, false},
		{"all but cars, a heavy goods vehicle", everyone, set(car), []network.Mode{hgv}, true},
		{"all but cars, perhaps a car, perhaps not", everyone, set(car), []network.Mode{car, hgv}, true},
		{"all but cars and heavy goods, either", everyone, set(car, hgv), []network.Mode{car, hgv}, false},
		{"all but heavy goods, an articulated one", everyone, set(hgv), []network.Mode{artic}, false},
		{"all but articulated, a heavy goods vehicle", everyone, set(artic), []network.Mode{hgv}, true},
		{"all but motor vehicles, a car with a caravan", everyone, set(motor), []network.Mode{car, caravan}, false},
		{"all but trailers, a caravan", everyone, set(trailer), []network.Mode{caravan}, false},
		{"all but everyone, a car", everyone, set(everyone), []network.Mode{car}, false},
		{"heavy goods but cars, a heavy goods vehicle", hgv, set(car), []network.Mode{hgv}, true},
		{"heavy goods, a car or a heavy goods vehicle", hgv, 0, []network.Mode{car, hgv}, true},
		{"motor vehicles but cars, a caravan", motor, set(car), []network.Mode{caravan}, true},
	} {
		b := network.Ban{For: tc.bound, Except: tc.except}
		if got := b.Binds(tc.may); got != tc.want {
			t.Errorf("%s: %t", tc.name, got)
		}
	}
}

// What a rig may be never frees it from a ban, and an exemption never binds.
func TestBanBindsTheMoreTheMore(t *testing.T) {
	mode := rapid.Map(rapid.IntRange(0, int(network.Hazmat)), func(i int) network.Mode { return network.Mode(i) })
	rapid.Check(t, func(t *rapid.T) {
		b := network.Ban{For: mode.Draw(t, "for"), Except: rapid.Uint16().Draw(t, "except")}
		may := rapid.SliceOfN(mode, 0, 4).Draw(t, "may")
		got, any := b.Binds(may), false
		for _, m := range may {
			any = any || b.Binds([]network.Mode{m})
		}
		if got != any {
			t.Fatalf("%+v binds %v: %t, one of them: %t", b, may, got, any)
		}
		looser := b
		looser.Except |= 1 << mode.Draw(t, "exempt")
		if looser.Binds(may) && !got {
			t.Fatalf("%v binds %v, with fewer exemptions (%d) not", looser, may, bits.OnesCount16(b.Except))
		}
	})
}
