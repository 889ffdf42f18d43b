package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// The roads of these tests lie on the equator: a freeway of two carriageways eastward, a rest
// area beside the southern one, between an exit and an entry of its own; further on a road
// over it to a lot with a gate, one on the road and one at its end.
type freeway struct {
	b  *network.Builder
	at []orb.Point
	n  *network.Network
}

func (f *freeway) node(lon, lat float64) network.NodeID {
	f.at = append(f.at, orb.Point{lon, lat})
	return f.b.Node(f.at[len(f.at)-1])
}

func (f *freeway) road(
	t *testing.T,
	c network.Class,
	r network.Record,
	nodes ...network.NodeID,
) (out []network.EdgeID) {
	t.Helper()
	for i := 1; i < len(nodes); i++ {
		e, err := f.b.Edge(network.Edge{
			From: nodes[i-1], To: nodes[i], Line: []orb.Point{f.at[nodes[i-1]], f.at[nodes[i]]}, Class: c, Speed: 20,
			Road: f.b.Record(r),
		})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

func (f *freeway) place(kind network.PlaceKind, name string, lon, lat float64) {
	f.b.Place(network.Place{Kind: kind, Name: name, Point: orb.Point{lon, lat}})
}

// pieces drives edges whole, along their lines or against them.
func (f *freeway) pieces(edges []network.EdgeID, reverse bool) (out []network.Piece) {
	for _, e := range edges {
		out = append(out, f.n.Whole(network.MakeArc(e, reverse)))
	}
	if reverse {
		slices.Reverse(out)
	}
	return out
}

func metres(line ...orb.Point) float64 { return float64(geodesic.Length(line)) }

func wantHalts(t *testing.T, what string, got []network.Halt, want ...network.Halt) {
	t.Helper()
	off := func(a, b measure.Distance) bool { return math.Abs(float64(a-b)) > 1e-6 }
	same := func(a, b network.Halt) bool {
		return a.Name == b.Name && !off(a.At, b.At) && !off(a.There, b.There) && !off(a.Back, b.Back) &&
			!off(a.Rejoins, b.Rejoins)
	}
	if !slices.EqualFunc(got, want, same) {
		t.Errorf("%s:\n%+v, want\n%+v", what, got, want)
	}
}

// Distances are added up here by hand from the corners of the lines.
func TestHaltsAtAFreeway(t *testing.T) {
	f := &freeway{b: network.NewBuilder()}
	oneWay, shut := network.Record{Road: network.Road{Flags: network.OnewayAlong}}, network.Record{
		Signs: []network.Sign{{Subject: network.Access, Word: network.Refused}},
	}
	e0, e1, e2, e3 := f.node(0, 0), f.node(0.02, 0), f.node(0.04, 0), f.node(0.08, 0)
	w0, w1, w3 := f.node(0, 0.0003), f.node(0.03, 0.0003), f.node(0.08, 0.0003)
	rest, lot := f.node(0.03, -0.001), f.node(0.04, -0.005)
	east := f.road(t, network.Freeway, oneWay, e0, e1, e2, e3)
	west := f.road(t, network.Freeway, oneWay, w3, w1, w0)
	f.road(t, network.Service, oneWay, e1, rest, e2)
	f.road(t, network.Minor, network.Record{}, e2, lot)
	f.road(t, network.Minor, shut, e2, f.node(0.045, 0.02))
	f.place(network.RestArea, "Rest", 0.03, -0.0012)
	f.place(network.TruckParking, "Lot", 0.0403, -0.005)
	f.place(network.TruckParking, "Shut", 0.045, 0.0201)
	f.place(network.FuelStation, "Fuel", 0.03, -0.0011) // no place to stand
	f.place(network.TruckParking, "Far", 0.03, -0.05)
	var err error
	if f.n, err = f.b.Finish(lacking(), nil); err != nil {
		t.Fatal(err)
	}
	exit, entry := metres(f.at[e1], f.at[rest]), metres(f.at[rest], f.at[e2])
	at := func(v network.NodeID) measure.Distance { return measure.Distance(metres(f.at[e0], f.at[v])) }
	side := measure.Distance(metres(f.at[e2], f.at[lot]))
	want := []network.Halt{
		{
			Place:   network.Place{Name: "Rest"},
			At:      at(e1),
			There:   measure.Distance(exit),
			Back:    measure.Distance(entry),
			Rejoins: at(e2),
		},
		{Place: network.Place{Name: "Lot"}, At: at(e2), There: side, Back: side, Rejoins: at(e2)},
	}
	eastward := f.pieces(east, false)
	got := f.n.Halts(eastward, 3000)
	wantHalts(t, "eastward", got, want...)
	if extra := float64(got[0].Extra()); math.Abs(extra-(exit+entry-metres(f.at[e1], f.at[e2]))) > 1e-6 || extra <= 0 {
		t.Errorf("the rest area makes the way %g m longer", extra)
	}
	wantHalts(t, "within 500 m", f.n.Halts(eastward, 500))
	wantHalts(t, "on the other carriageway", f.n.Halts(f.pieces(west, false), 3000))
	begun := append(
		[]network.Piece{{Arc: network.MakeArc(east[1], false), Start: 1, End: f.n.Length[east[1]]}},
		eastward[2:]...)
	wantHalts(t, "begun behind the exit", f.n.Halts(begun, 3000), network.Halt{
		Place: network.Place{
			Name: "Lot",
		}, At: f.n.Length[east[1]] - 1, There: side, Back: side, Rejoins: f.n.Length[east[1]] - 1,
	})
	wantHalts(t, "no way", f.n.Halts(nil, 3000))
}

// A way out and back comes by twice; a place on its road is no way round.
func TestHaltsOutAndBack(t *testing.T) {
	f := &freeway{b: network.NewBuilder()}
	a, b, c := f.node(0, 0), f.node(0.1, 0), f.node(0.3, 0)
	road := f.road(t, network.Primary, network.Record{}, a, b, c)
	f.road(t, network.Service, network.Record{}, b, f.node(0.1, 0.004))
	f.place(network.TruckParking, "Lot", 0.1, 0.0041)
	f.place(network.ServiceArea, "Services", 0.2, 0.0001)
	var err error
	if f.n, err = f.b.Finish(lacking(), nil); err != nil {
		t.Fatal(err)
	}
	way := append(f.pieces(road, false), f.pieces(road, true)...)
	side, whole := measure.Distance(metres(f.at[b], orb.Point{0.1, 0.004})), measure.Distance(metres(f.at[a], f.at[c]))
	lot, services := f.n.Length[road[0]], f.n.Length[road[0]]+f.n.Length[road[1]]/2
	halt := func(name string, at, away measure.Distance) network.Halt {
		return network.Halt{Place: network.Place{Name: name}, At: at, There: away, Back: away, Rejoins: at}
	}
	wantHalts(t, "out and back", f.n.Halts(way, 2000), halt("Lot", lot, side), halt("Services", services, 0),
		halt("Services", 2*whole-services, 0), halt("Lot", 2*whole-lot, side))
}

// A place is not reached by a turn that is forbidden to all, nor left by one: the next junction is used,
// or there is no way. A rule for some, or at hours, is judged for a rig and shuts nothing here.
func TestHaltsKeepToTurnRules(t *testing.T) {
	all := network.Ban{For: network.MotorVehicles}
	for _, tc := range []struct {
		name string
		in   network.Ban // of the turn into the lane at its first junction
		out  *network.Ban
		want func(first, second measure.Distance) []measure.Distance // where the way is left and met again
	}{
		{"forbidden", all, nil, func(_, second measure.Distance) []measure.Distance {
			return []measure.Distance{second, second}
		}},
		{"to trucks alone", network.Ban{For: network.HeavyGoods}, nil,
			func(first, second measure.Distance) []measure.Distance {
				return []measure.Distance{first, second}
			}},
		{"but to some", network.Ban{For: network.MotorVehicles, Except: 1 << network.Caravans}, nil,
			func(first, second measure.Distance) []measure.Distance { return []measure.Distance{first, second} }},
		{"and no way back", all, &all, func(_, _ measure.Distance) []measure.Distance { return nil }},
	} {
		f := &freeway{b: network.NewBuilder()}
		a, b, c, d := f.node(0, 0), f.node(0.02, 0), f.node(0.03, 0), f.node(0.05, 0)
		lot := f.node(0.025, -0.004)
		road := f.road(t, network.Primary, network.Record{}, a, b, c, d)
		lane := f.road(t, network.Service, network.Record{}, b, lot, c)
		f.place(network.TruckParking, "Lot", 0.025, -0.0041)
		arc := func(e network.EdgeID, reverse bool) network.Arc { return network.MakeArc(e, reverse) }
		f.b.Ban([]network.Arc{arc(road[0], false), arc(lane[0], false)}, tc.in)
		if tc.out != nil {
			f.b.Ban([]network.Arc{arc(lane[1], false), arc(road[2], false)}, *tc.out)
			f.b.Ban([]network.Arc{arc(lane[0], true), arc(road[1], false)}, *tc.out)
		}
		var err error
		if f.n, err = f.b.Finish(lacking(), nil); err != nil {
			t.Fatal(err)
		}
		var got []measure.Distance
		for _, h := range f.n.Halts(f.pieces(road, false), 3000) {
			got = append(got, h.At, h.Rejoins)
		}
		first, second := f.n.Length[road[0]], f.n.Length[road[0]]+f.n.Length[road[1]]
		if want := tc.want(first, second); !slices.Equal(got, want) {
			t.Errorf("%s: left and met again at %v, want %v", tc.name, got, want)
		}
	}
}
