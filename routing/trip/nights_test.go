package trip

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// row is a road of some 158 km eastward at 20 m/s in three parts, with service roads northward at
// its nodes that end at places: one 65 km, one 103 km from its beginning.
func row(t *testing.T, near, late *network.Place) *Planner {
	t.Helper()
	b := network.NewBuilder()
	node := func(at [2]float64) network.NodeID { return b.Node(point(at)) }
	edge := func(c network.Class, from, to network.NodeID, line ...[2]float64) {
		e := network.Edge{
			From: from, To: to, Line: []orb.Point{point(line[0]), point(line[1])}, Class: c, Speed: 20, Name: c.String(),
			Jurisdictions: []string{"CA-ON"}, Zone: "America/Toronto", Road: b.Record(network.Record{}),
		}
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	along := [][2]float64{{0, 0}, {82, 0}, {131, 0}, {200, 0}}
	last := node(along[0])
	for i, place := range []*network.Place{near, late, nil} {
		next := node(along[i+1])
		edge(network.Primary, last, next, along[i], along[i+1])
		if last = next; i < 2 {
			end := [2]float64{along[i+1][0], 0.4}
			edge(network.Service, next, node(end), along[i+1], end)
			if place != nil {
				one := *place
				one.Point = point(end)
				b.Place(one)
			}
		}
	}
	about := network.About{Name: "roads for tests", Caution: "for tests only", Carries: network.AllFacts()}
	about.Carries = slices.DeleteFunc(about.Carries, func(f network.Fact) bool { return f == network.TruckRoads })
	about.Lacks = []network.Fact{network.TruckRoads}
	n, err := b.Finish(about, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(t.Context(), n, world(t, fork(road{}), nil).Areas, regs.NewTables("empty", regs.Rows{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// tired is a rig whose crew rests 8 h after so much driving.
func tired(after time.Duration) func(*Request) {
	return func(r *Request) {
		r.Stops[0].Point, r.Stops[1].Point = point([2]float64{1, 0}), point([2]float64{199, 0})
		r.Crew.Driving, r.Crew.Rest = after, 8*time.Hour
	}
}

func restsOf(p *Plan) (out []timetable.Entry) {
	for _, e := range p.Timetable.Entries {
		if resting(e) {
			out = append(out, e)
		}
	}
	return out
}

// The rest is taken at the last place before the hours are used up that nothing said of it keeps
// the rig from; where there is none within reach, where the clock asks for it.
func TestTheRigRestsAtAPlace(t *testing.T) {
	lot := func() *network.Place { return &network.Place{Kind: network.TruckParking, Name: "Lot"} }
	few, short := lot(), lot()
	few.Trucks, short.Ground.Stay = measure.Exactly(0), "2 hours"
	for name, tc := range map[string]struct {
		near, late *network.Place
		after      time.Duration
		want       float64 // hundredths of a degree; 0: none
	}{
		"one within reach":                  {lot(), lot(), 110 * time.Minute, 131},
		"one that is passed before":         {lot(), nil, 70 * time.Minute, 82},
		"too far before":                    {lot(), nil, 110 * time.Minute, 0},
		"none":                              {nil, nil, 110 * time.Minute, 0},
		"no lots for trucks":                {nil, few, 110 * time.Minute, 0},
		"a stay that is limited":            {nil, short, 110 * time.Minute, 0},
		"so early that it would rest twice": {lot(), nil, 84 * time.Minute, 0},
	} {
		r := house(tired(tc.after))
		p := plan(t, row(t, tc.near, tc.late), r)
		clock := plan(t, row(t, nil, nil), r)
		rests := restsOf(p)
		if len(rests) == 0 || len(rests) != len(restsOf(clock)) || len(p.Timetable.Nights) > 0 != (tc.want > 0) {
			t.Errorf("%s: %d rests, by the clock %d, %+v", name, len(rests), len(restsOf(clock)), p.Timetable.Nights)
			continue
		}
		f, ok := find(p.Legs[rests[0].Leg], "place to park")
		later := p.Timetable.Arrival.Slow.Sub(clock.Timetable.Arrival.Slow)
		if tc.want == 0 {
			if later != 0 || !ok || f.Says[0].Code != "park.stands" {
				t.Errorf("%s: %v later, %+v", name, later, f)
			}
			continue
		}
		from, at := point([2]float64{1, 0}), point([2]float64{tc.want, 0})
		n := p.Timetable.NightAt(rests[0])
		if n == nil || math.Abs(float64(n.Along-geodesic.Length(orb.LineString{from, at}))) > 5 || n.Later != later {
			t.Fatalf("%s: %+v, %v later", name, n, later)
		}
		leg := p.Legs[rests[0].Leg]
		if last := leg.Line[len(leg.Line)-1]; geodesic.Length(orb.LineString{last, at}) > 5 {
			t.Errorf("%s: the leg ends at %v, not at %v", name, last, at)
		}
		if rests[0].To.Sub(rests[0].From) < r.Crew.Rest || !ok || f.Outcome != finding.Conditional ||
			f.Says[0].Code != "park.at_place" || f.Demands.Conditions[0].Get("later") != n.Later {
			t.Errorf("%s: %+v", name, f)
		}
		// the way to the place and back is driven: 445 m there and back each
		if long := leg.EndSlow.Sub(leg.StartSlow) - leg.Time.Slow; long < 80*time.Second || long > 3*time.Minute {
			t.Errorf("%s: the leg is %v longer than its road", name, long)
		}
	}
}

// A deadline that resting at the place would miss is kept.
func TestADeadlineComesBeforeThePlace(t *testing.T) {
	lot := func() *network.Place { return &network.Place{Kind: network.RestArea} }
	free := plan(t, row(t, nil, lot()), house(tired(110*time.Minute)))
	clock := plan(t, row(t, nil, nil), house(tired(110*time.Minute)))
	if len(free.Timetable.Nights) != 1 || free.Timetable.Nights[0].Later <= 0 {
		t.Fatalf("%+v", free.Timetable.Nights)
	}
	r := house(tired(110 * time.Minute))
	r.Stops[1].Visit.By = choosing.Clock{At: clock.Timetable.Arrival.Slow}
	bound := plan(t, row(t, nil, lot()), r)
	if bound.Timetable.Missed != nil || len(bound.Timetable.Nights) != 0 {
		t.Errorf("missed %+v, nights %+v", bound.Timetable.Missed, bound.Timetable.Nights)
	}
}
