package trip

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// off is a place so many metres east and north of 76 W, 45 N, good to 0.1 %
// within some kilometres: what WGS84 gives for 0.01 degrees there.
func off(east, north measure.Distance) [2]float64 {
	return [2]float64{float64(east) / 788.47, float64(north) / 1111.32}
}

// from sets the ends of a trip.
func from(a, b [2]float64) func(*Request) {
	return func(r *Request) {
		r.Stops = []choosing.Stop{{Label: "A", Point: point(a)}, {Label: "B", Point: point(b)}}
	}
}

func pulls(p measure.Power) func(*Request) { return func(r *Request) { r.Rig.Tow.Power = &p } }
func unpowered(r *Request)                 { r.Rig.Tow.Power = nil }
func holds(v measure.Volume) func(*Request) {
	return func(r *Request) { r.Rig.Tow.Tank = &v }
}

// described is a request by a rig of which everything that a road asks is known;
// all of it is invented. It weighs 8 t and its centre of gravity lies 1.9 m high
// over a track of 2 m.
func described(change ...func(*Request)) Request {
	describe := func(r *Request) {
		at := func(mm int64) measure.Length { return *length(mm) }
		r.Rig.Unit.Frame = rig.Frame{
			Suspension: rig.Equalized, Clearance: length(300), Nose: drive.Flat,
			Axles: []rig.Axle{{At: at(5600), Track: length(2000)}, {At: at(6400), Track: length(2000)}},
			Parts: []rig.Part{{Name: "all", Mass: rig.Exactly(5000 * measure.Kilogram), Place: rig.Coordinates{Along: length(5300), Across: length(0), Up: length(1900)}}},
		}
		r.Rig.Unit.CouplingToRear = length(8600)
		r.Rig.Tow.Width, r.Rig.Tow.FrontToCoupling = measure.Given(length(2000)), length(6200)
		r.Rig.Tow.Truck = rig.Truck{Axles: []rig.Axle{{}, {At: at(4000)}}, CouplingAt: length(5200), TurningRadius: length(8000)}
		pulls(300_000)(r)
		blows(0, nil)(r)
	}
	return house(append([]func(*Request){describe}, change...)...)
}

var tarred = network.Road{Paved: network.Paved}

// slope is a road of 3 km that rises eastward by so many metres, between level
// ones of 2 km; a negative rise falls.
func slope(rise float32) []road {
	hill := network.Grade{Known: 1, Ascent: max(rise, 0), Descent: max(-rise, 0), Steepest: rise / 3000}
	return []road{
		{name: "before", from: off(-2000, 0), to: off(0, 0), road: tarred, grade: network.Grade{Known: 1}},
		{name: "hill", from: off(0, 0), to: off(3000, 0), road: tarred, grade: hill},
		{name: "after", from: off(3000, 0), to: off(5000, 0), road: tarred, grade: network.Grade{Known: 1}},
	}
}

// overHill is a trip from end to end of slope.
var overHill = from(off(-2000, 0), off(5000, 0))

func nearly(t testing.TB, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v within %v", name, got, want, tolerance)
	}
}

// The legs burn what the trip burns, low and high, over any roads in any wind.
func TestFuelAddsUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		roads := web(rt, func() []spot { return nil })
		for i := range roads {
			roads[i].code = rapid.SampledFrom([]string{"CA-ON", "CA-QC"}).Draw(rt, "code")
			climb := func(name string) float32 { return rapid.Float32Range(0, 200).Draw(rt, name) }
			roads[i].grade = network.Grade{Known: 1, Ascent: climb("ascent"), Descent: climb("descent")}
		}
		r := described(blows(measure.Speed(rapid.IntRange(0, 15).Draw(rt, "wind")), nil))
		p, err := world(rt, roads, nil).Plan(context.Background(), r)
		if err != nil {
			return // roads that nothing joins
		}
		var sum drive.Burn
		for i, l := range p.Legs {
			b := l.Fuel.Band()
			if !(0 <= b.Low && b.Low < b.Likely && b.Likely < b.High && b.High <= l.Fuel.Most()) || // in overrun the low end is 0
				math.IsInf(float64(l.Fuel.Most()), 0) || !l.Fuel.Unknown.None() {
				rt.Fatalf("leg %d burns %+v", i, l.Fuel)
			}
			sum = sum.Add(l.Fuel.Burn)
		}
		part := func(a, b measure.Volume) float64 { return math.Abs(float64(a/b - 1)) }
		if part(sum.Likely, p.Fuel.Likely) > 1e-9 || part(sum.Band().High, p.Fuel.Band().High) > 1e-9 || part(p.Road.Run.Fuel.Most(), p.Fuel.Most()) > 1e-9 {
			rt.Fatalf("legs %v, trip %v, road %v", sum, p.Fuel, p.Road.Run.Fuel)
		}
		if math.Abs(float64(p.Road.Run.Length-p.Length)) > 1e-3 {
			rt.Fatalf("drives %v of %v", p.Road.Run.Length, p.Length)
		}
	})
	p := plan(t, world(t, abroad(), nil), described())
	if len(p.Legs) < 3 {
		t.Fatalf("%d legs", len(p.Legs))
	}
	for i, l := range p.Legs { // of one even road, each burns its share
		nearly(t, fmt.Sprintf("leg %d, litres", i), float64(l.Fuel.Most()/measure.Litre), float64(p.Fuel.Most()/measure.Litre)*float64(l.Length/p.Length), 1e-6)
	}
}

// Up costs more than level, and down gives back no more than up took. The part of
// the weight that rests on a slope is less than all of it, by 0.4 % at 9 %: so
// much less the tires roll, which the tolerance of 0.5 % allows for.
func TestFuelOfHills(t *testing.T) {
	level := plan(t, world(t, slope(0), nil), described(overHill)).Fuel
	for _, rise := range []float32{15, 60, 120, 270} {
		name := fmt.Sprintf("%.1f %%", rise/30)
		w := world(t, slope(rise), nil)
		up := plan(t, w, described(overHill)).Fuel
		down := plan(t, w, described(overHill, back)).Fuel
		for end, v := range map[string][3]measure.Volume{"likely": {up.Likely, level.Likely, down.Likely}, "most": {up.Most(), level.Most(), down.Most()}} {
			if up, level, down := v[0], v[1], v[2]; !(down < level && level < up) || down < 0.995*level-(up-level) {
				t.Errorf("%s %s: up %v, level %v, down %v", name, end, up, level, down)
			}
		}
	}
}

// There and back a rig ends as high as it began: what the engine gave is what air,
// tires and brakes took, whatever lies between, and brakes work at stops and on steep hills alone.
func TestEnergyThereAndBack(t *testing.T) {
	for _, tc := range []struct {
		rise  float32
		brake bool
	}{{0, false}, {15, false}, {270, true}} {
		r := described(overHill)
		r.Stops = append(r.Stops, r.Stops[0])
		e := plan(t, world(t, slope(tc.rise), nil), r).Road.Run.Energy
		nearly(t, fmt.Sprintf("%v m: wheels", tc.rise), e.Wheels(), e.Air+e.Rolling+e.Brakes, 1e-9*e.Wheels())
		nearly(t, "climb", e.Climb, 0, 1e-9*e.Wheels())
		// Stops alone take half of the mass times the square of the speed, 20 m/s, once in
		// 12 km, with a twentieth for what turns.
		stops := 0.5 * 1.05 * 8000 * 400 * 14_000 / 12_000
		if e.Air <= 0 || e.Rolling <= 0 || (e.Brakes > 1.01*stops) != tc.brake || e.Brakes < 0.99*stops {
			t.Errorf("%v m: %+v", tc.rise, e)
		}
	}
	// Worked by hand: 8,000 kg lifted by 270 m over 3,000 m of road take m g h times
	// the cosine of the slope.
	e := plan(t, world(t, slope(270), nil), described(overHill)).Road.Run.Energy
	nearly(t, "climb, J", e.Climb, 8000*9.80665*270/math.Sqrt(1+0.09*0.09), 0.002*e.Climb)
}

// Aboard a ferry nothing is driven: the trip burns what its roads do, however long
// the crossing is.
func TestFerryBurnsNothing(t *testing.T) {
	by := func(far measure.Distance) *Plan {
		return plan(t, world(t, []road{
			{name: "to", from: off(0, 0), to: off(3000, 0)},
			{name: "boat", from: off(3000, 0), to: off(3000+far, 0), class: network.Ferry, speed: 5},
			{name: "on", from: off(3000+far, 0), to: off(5000+far, 0)},
		}, nil), described(from(off(0, 0), off(5000+far, 0))))
	}
	near, far := by(1000), by(20_000)
	roads := plan(t, world(t, []road{{name: "to", from: off(0, 0), to: off(5000, 0)}}, nil), described(from(off(0, 0), off(5000, 0))))
	nearly(t, "fuel of a long crossing", float64(far.Fuel.Most()/near.Fuel.Most()), 1, 1e-3)
	nearly(t, "fuel of the roads", float64(far.Fuel.Most()/roads.Fuel.Most()), 1, 1e-3)
	nearly(t, "driven", float64(far.Road.Run.Length), 5000, 10)
	if !far.Fuel.Unknown.None() || far.Length < 24_000 {
		t.Errorf("%+v over %v", far.Fuel, far.Length)
	}
}

// dragArea is the drag area of the rig of a plan.
func dragArea(p *Plan) drive.Band[measure.Area] {
	drag, _ := p.Road.Drag.Value()
	return drag.Area
}

// What fuel hangs on and is not given makes it unknown, with the reason; it is
// never a figure.
func TestFuelUnknown(t *testing.T) {
	roads := slope(60)
	slow := slope(60)
	slow[2].speed = -1 // not known
	for _, tc := range []struct {
		name   string
		roads  []road
		change func(*Request)
		why    string
		none   bool // nothing of it is known
	}{
		{"no fuel", roads, func(r *Request) { r.Rig.Tow.Fuel = drive.FuelUnknown }, "rig.no_fuel", true},
		{"a fuel that nobody knows", roads, func(r *Request) { r.Rig.Tow.Fuel = "peat" }, "rig.no_fuel", true},
		{"no mass", roads, func(r *Request) { r.Rig.Mass, r.Rig.Unit.Parts = measure.Known[measure.Mass]{}, nil }, "rig.no_mass", true},
		{"no height", roads, func(r *Request) { r.Rig.Unit.Height = nil }, "rig.no_height_or_width", true},
		{"no speed", slow, func(*Request) {}, "road.no_speed", false},
	} {
		p := plan(t, world(t, tc.roads, nil), described(overHill, holds(0.1), tc.change))
		if p.Fuel.Unknown.String() != tc.why || p.Legs[0].Fuel.Unknown.String() != tc.why {
			t.Errorf("%s: trip %q, leg %q, want why", tc.name, p.Fuel.Unknown, p.Legs[0].Fuel.Unknown)
		}
		if tc.none != (p.Fuel.Likely == 0) || tc.none != (!p.Road.Unknown.None()) {
			t.Errorf("%s: %v, road %q", tc.name, p.Fuel, p.Road.Unknown)
		}
		if tc.none && len(p.Road.Speeds)+len(p.Road.Noses)+len(p.Road.Climbs)+len(p.Road.Descents)+len(p.Road.Tank.Stops) > 0 {
			t.Errorf("%s: %+v", tc.name, p.Road)
		}
		if p.Verdict.Outcome() == finding.Clear {
			t.Errorf("%s: clear", tc.name)
		}
	}
}

// A part of a given route that matches no road is in no figure of fuel, so none of
// them is known: neither what the whole takes nor how far the tank goes.
func TestFuelOverAGap(t *testing.T) {
	r := described(given(off(-2000, 0), off(4000, 0), off(4000, 9000), off(9000, 9000)), holds(0.1))
	p := plan(t, world(t, slope(0), nil), r)
	if !slices.ContainsFunc(p.Legs, func(l Leg) bool { return l.Unmatched }) {
		t.Fatal("no gap")
	}
	if p.Fuel.Unknown.None() || p.Road.Run.Length >= p.Length {
		t.Errorf("fuel %+v", p.Fuel)
	}
	if p.Road.Tank.Unknown.None() {
		t.Errorf("the tank is said to reach its reserve %d times, with a gap of the way not counted", len(p.Road.Tank.Stops))
	}
	if p.Road.Unknown.None() && p.Road.Run.Unknown == 0 {
		t.Errorf("the road's own fuel, %v, says nothing of the gap", p.Road.Run.Fuel)
	}
}

func blows(v measure.Speed, from *float64) func(*Request) {
	return func(r *Request) { r.Conditions.Wind, r.Conditions.WindFrom = &v, from }
}

func ptr[T any](v T) *T { return &v }

// East against an east wind costs more than in still air, and that more than with
// a west wind; home it is the other way round.
func TestHeadAndTailWind(t *testing.T) {
	w := world(t, slope(0), nil)
	east, west := ptr(90.0), ptr(270.0)
	for _, home := range []bool{false, true} {
		head, tail := east, west
		way := func(*Request) {}
		if home {
			head, tail, way = west, east, back
		}
		still := plan(t, w, described(overHill, way))
		against := plan(t, w, described(overHill, way, blows(8, head)))
		along := plan(t, w, described(overHill, way, blows(8, tail)))
		if f := [3]drive.Band[measure.Volume]{along.Fuel.Band(), still.Fuel.Band(), against.Fuel.Band()}; !(f[0].Low < f[1].Low && f[1].Low < f[2].Low && f[0].High < f[1].High && f[1].High < f[2].High) {
			t.Errorf("home %t: tail %v, still %v, head %v", home, f[0], f[1], f[2])
		}
		// Worked by hand: air that meets the rig at 28 in place of 20 m/s pushes
		// (28/20)^2 = 1.96 times as hard, behind it at 12 m/s 0.36 times.
		nearly(t, "head", against.Road.Run.Energy.Air/still.Road.Run.Energy.Air, 1.96, 1e-3)
		nearly(t, "tail", along.Road.Run.Energy.Air/still.Road.Run.Energy.Air, 0.36, 1e-3)
	}
}

// A wind from nobody knows where burns at the most at least what it burns from any side,
// but for the 0.3 % of air that drive.Weather states for it, and is likely to burn less
// than straight against it and more than straight along. An engine that it slows down
// burns less, so none is given.
func TestWindFromUnknown(t *testing.T) {
	w := world(t, slope(0), nil)
	rapid.Check(t, func(rt *rapid.T) {
		v := measure.Speed(rapid.Float64Range(0.1, 40).Draw(rt, "wind"))
		side := rapid.Float64Range(0, 360).Draw(rt, "from")
		fuel := func(from *float64) driving.Fuel {
			p, err := w.Plan(context.Background(), described(overHill, unpowered, blows(v, from)))
			if err != nil {
				rt.Fatal(err)
			}
			return p.Fuel
		}
		any, one := fuel(nil), fuel(&side)
		if any.Most() < 0.997*one.Most() {
			rt.Fatalf("from anywhere %v, from %v degrees %v", any, side, one)
		}
		if head, tail := fuel(ptr(90.0)), fuel(ptr(270.0)); !(tail.Likely < any.Likely && any.Likely < head.Likely*1.001) && v > 1 {
			rt.Fatalf("tail %v, anywhere %v, head %v", tail.Likely, any.Likely, head.Likely)
		}
	})
}

// Cold air is dense, air high up is thin; where the temperature is not known the
// ends are those of -20 and +30 degrees Celsius.
func TestAirAndFuel(t *testing.T) {
	w := world(t, slope(0), nil)
	in := func(celsius *float64, altitude measure.Distance) *Plan {
		return plan(t, w, described(overHill, func(r *Request) {
			if celsius != nil {
				r.Conditions.Kelvins = ptr(*celsius + 273.15)
			}
			r.Conditions.Altitude = &altitude
		}))
	}
	cold, mild, hot, any := in(ptr(-20.0), 0), in(ptr(15.0), 0), in(ptr(30.0), 0), in(nil, 0)
	if !(cold.Fuel.Likely > mild.Fuel.Likely && mild.Fuel.Likely > hot.Fuel.Likely) {
		t.Errorf("cold %v, mild %v, hot %v", cold.Fuel, mild.Fuel, hot.Fuel)
	}
	if a, m := any.Fuel.Band(), mild.Fuel.Band(); a.Likely != m.Likely || a.Low >= m.Low || a.High <= m.High {
		t.Errorf("any %v, mild %v", a, m)
	}
	for _, celsius := range []*float64{nil, ptr(15.0)} {
		if low, high := in(celsius, 0), in(celsius, 2500); !(high.Fuel.Most() < low.Fuel.Most() && high.Fuel.Likely < low.Fuel.Likely) {
			t.Errorf("at sea level %v, at 2,500 m %v", low.Fuel, high.Fuel)
		}
	}
	for want, p := range map[string]*Plan{"air.any": any, "air.celsius(degrees: 15": mild, "air.at(altitude: 2500 m": in(nil, 2500)} {
		air := p.Road.Air.String()
		if !strings.Contains(air, want) || !slices.ContainsFunc(p.Assumptions, func(r say.Remark) bool { return strings.Contains(r.String(), air) }) {
			t.Errorf("air %q, want %q in it and in %q", air, want, p.Assumptions)
		}
	}
}

// far is a level road of some 80 km eastward.
func far() []road {
	return []road{{name: "far", from: off(0, 0), to: off(80_000, 0), road: tarred, grade: network.Grade{Known: 1}}}
}

// The tank is filled where the high figure has it down to its reserve, again and
// again; on one even road those places are as far apart as the first is far.
func TestFuelStops(t *testing.T) {
	w := world(t, far(), nil)
	ends := from(off(0, 0), off(80_000, 0))
	stops := map[float64]int{}
	for _, reserve := range []float64{0, 0.25, 0.9} {
		p := plan(t, w, described(ends, holds(10*measure.Litre), func(r *Request) { r.Conditions.Reserve = reserve }))
		usable := 10 * measure.Litre * measure.Volume(1-reserve)
		tank := p.Road.Tank
		nearly(t, "usable", float64(tank.Usable/usable), 1, 1e-9)
		// By hand: one filling less than the whole way takes.
		if want := int(math.Ceil(float64(p.Fuel.Most()/usable))) - 1; len(tank.Stops) != want {
			t.Errorf("reserve %v: %d stops, want %d", reserve, len(tank.Stops), want)
		}
		nearly(t, "range", float64(tank.Range), float64(p.Length)*float64(usable/p.Fuel.Most()), 1)
		for i, s := range tank.Stops {
			nearly(t, "at", float64(s.At), float64(i+1)*float64(tank.Range), 1)
			nearly(t, "place", float64(geodesic.Between(s.Point, point(off(0, 0)))), float64(s.At), 100)
			if s.Road.String() != "far" {
				t.Errorf("on %q", s.Road)
			}
		}
		stops[reserve] = len(tank.Stops)
	}
	if !(0 < stops[0] && stops[0] < stops[0.25] && stops[0.25] < stops[0.9]) {
		t.Errorf("%v", stops)
	}
}

// Where the tank is large enough only its range is told, and where nothing is known
// of it, that is.
func TestTankUnknown(t *testing.T) {
	ends := from(off(0, 0), off(80_000, 0))
	slow := far()
	slow[0].speed = -1
	for name, tc := range map[string]struct {
		roads  []road
		change func(*Request)
		why    string
		says   bool
	}{
		"no tank":      {far(), func(*Request) {}, "road.no_tank", false},
		"no speed":     {slow, holds(0.03), "road.no_speed", false},
		"a large tank": {far(), holds(1), "", false},
		"a small tank": {far(), holds(0.01), "", true},
	} {
		p := plan(t, world(t, tc.roads, nil), described(ends, tc.change))
		tank := p.Road.Tank
		if tank.Unknown.String() != tc.why {
			t.Errorf("%s: unknown %q, want %q", name, tank.Unknown, tc.why)
		}
		said := ofRoad(p, "fuel stops")
		if len(said) > 0 != (tc.says || tc.why != "") || len(said) > 0 && (said[0].Outcome == finding.Unknown) != (tc.why != "") || len(tank.Stops) > 0 != tc.says || (tank.Range > 0) != (tc.why == "") || len(tank.Stops) == 0 && 0 < tank.Range && tank.Range < p.Length {
			t.Errorf("%s: %+v, says %+v", name, tank, said)
		}
	}
}

func ofRoad(p *Plan, rule string) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(p.Road.Findings), func(f finding.Finding) bool { return string(f.Rule) != rule })
}

// A weak engine slows down on a hill and is listed with the speed that it holds; a
// strong one is not, nor any on the way down.
func TestClimbsThatSlow(t *testing.T) {
	w := world(t, slope(240), nil)
	for _, tc := range []struct {
		name         string
		power        measure.Power
		way          func(*Request)
		slows, stuck bool
	}{
		{"strong", 300_000, nil, false, false},
		{"weak", 60_000, nil, true, false},
		{"weak, home", 60_000, back, false, false},
		{"feeble", 15_000, nil, true, true},
	} {
		r := described(overHill, pulls(tc.power))
		if tc.way != nil {
			tc.way(&r)
		}
		p := plan(t, w, r)
		said := ofRoad(p, "climbs")
		if len(p.Road.Climbs) > 0 != tc.slows || len(said) > 0 != tc.slows {
			t.Errorf("%s: %+v, says %+v", tc.name, p.Road.Climbs, said)
		}
		if !tc.slows {
			continue
		}
		c := p.Road.Climbs[0]
		nearly(t, "begins after, m", float64(c.At), 2000, 10)
		nearly(t, "begins at, m off", float64(geodesic.Between(c.Point, point(off(0, 0)))), 0, 10)
		nearly(t, "length, m", float64(c.Length), 3000, 10)
		nearly(t, "grade", c.Grade, 0.08, 0.0005)
		nearly(t, "rise, m", float64(c.Drop), 240, 0.5)
		if c.Stuck != tc.stuck || said[0].Outcome != finding.Review || strings.Contains(told(said[0]), "road.stuck_on_climb") != tc.stuck {
			t.Errorf("%s: %+v, %q", tc.name, c, told(said[0]))
		}
		if tc.stuck {
			continue
		}
		if !strings.Contains(told(said[0]), "speed: "+c.Speed.String()) || said[0].Place.Get("lat") != c.Point.Lat() {
			t.Errorf("%q at %q", told(said[0]), said[0].Place.String())
		}
		// Worked by hand: at the speed that is held, weight on the slope, tires (0.0125)
		// and air together take what 60 kW less 5 kW of auxiliaries leave behind a
		// driveline of 0.85; the mass is 8 t, the air that of -20 degrees.
		v, run := float64(c.Speed), 1/math.Sqrt(1+c.Grade*c.Grade)
		force := 8000*9.80665*run*(c.Grade+0.0125) + 0.5*float64(drive.Air(0, 253.15))*float64(dragArea(p).High)*v*v
		nearly(t, "power at the wheels, W", force*v, (60_000-5000)*0.85, 1)
	}
}

// Without the power of the engine no climb is listed, and the answer about climbs
// says that power was not considered.
func TestClimbsWithoutPower(t *testing.T) {
	w := world(t, slope(240), nil)
	for _, tc := range []struct {
		name   string
		change func(*Request)
		open   bool
	}{{"power known", pulls(60_000), false}, {"power not known", unpowered, true}} {
		p := plan(t, w, described(overHill, tc.change))
		grades := byRule(p, string(network.Grades))
		if len(grades) != 1 || grades[0].Outcome != finding.Unknown || strings.Contains(told(grades[0]), "road.power") != tc.open {
			t.Errorf("%s: %+v", tc.name, grades)
		}
		if tc.open && len(p.Road.Climbs)+len(ofRoad(p, "climbs")) > 0 {
			t.Errorf("%s: %+v", tc.name, p.Road.Climbs)
		}
	}
}

// Climbs go on over a short rest and end at a long one; the slowest comes first, and
// counts for the whole.
func TestClimbsGoOn(t *testing.T) {
	var slowest []measure.Speed
	for _, tc := range []struct {
		rest  measure.Distance
		lists int
	}{{50, 1}, {190, 1}, {400, 2}} {
		up := func(name string, a, b measure.Distance, rise float32) road {
			return road{name: name, from: off(a, 0), to: off(b, 0), road: tarred, grade: network.Grade{Known: 1, Ascent: rise}}
		}
		end := 2000 + tc.rest
		p := plan(t, world(t, []road{up("one", 0, 1000, 60), up("rest", 1000, 1000+tc.rest, 0), up("two", 1000+tc.rest, end, 80)}, nil), described(from(off(0, 0), off(end, 0)), pulls(60_000)))
		c := p.Road.Climbs
		if len(c) != tc.lists {
			t.Errorf("a rest of %v: %+v", tc.rest, c)
			continue
		}
		slowest = append(slowest, c[0].Speed)
		nearly(t, "rise of all, m", float64(c[0].Drop+c[tc.lists-1].Drop)/float64(3-tc.lists), 140, 0.5)
		if tc.lists == 1 {
			nearly(t, "length, m", float64(c[0].Length), float64(end), 10)
			nearly(t, "mean grade", c[0].Grade, 140/float64(end), 0.0005)
		} else if c[0].Road.String() != "rest" && c[0].Road.String() != "two" || c[0].Speed > c[1].Speed {
			t.Errorf("%+v", c)
		}
	}
	for _, v := range slowest {
		nearly(t, "slowest, m/s", float64(v), float64(slowest[0]), 0.01)
	}
}

// 8 % over 3 km is a long descent with its drop, 2 % is none; the other way it is
// a climb.
func TestLongDescents(t *testing.T) {
	for _, tc := range []struct {
		name  string
		rise  float32
		way   []func(*Request)
		lists bool
	}{
		{"down 8 %", -240, nil, true}, {"down 2 %", -60, nil, false}, {"up 8 %", -240, []func(*Request){back}, false}, {"up 8 %, home", 240, []func(*Request){back}, true},
	} {
		p := plan(t, world(t, slope(tc.rise), nil), described(append([]func(*Request){overHill, pulls(60_000)}, tc.way...)...))
		d, said := p.Road.Descents, ofRoad(p, "descents")
		if len(d) > 0 != tc.lists || len(said) > 0 != tc.lists {
			t.Errorf("%s: %+v, says %+v", tc.name, d, said)
			continue
		}
		if tc.lists == (len(p.Road.Climbs) > 0) && tc.name != "down 2 %" {
			t.Errorf("%s: %d descents, %d climbs", tc.name, len(d), len(p.Road.Climbs))
		}
		if !tc.lists {
			continue
		}
		nearly(t, "drop, m", float64(d[0].Drop), 240, 0.5)
		nearly(t, "length, m", float64(d[0].Length), 3000, 10)
		nearly(t, "begins after, m", float64(d[0].At), 2000, 10)
		if d[0].Road.String() != "before" && d[0].Road.String() != "after" && d[0].Road.String() != "hill" || !strings.Contains(told(said[0]), fmt.Sprintf("road.descent(drop: %v,", measure.Rise(d[0].Drop))) || said[0].Outcome != finding.Review {
			t.Errorf("%s: %+v, %q", tc.name, d[0].Spot, told(said[0]))
		}
		// Worked by hand: engine and brakes take the weight on the slope less what the
		// tires (0.007) and the air at 50 km/h take at the least, over 3 km.
		v, run := 50/3.6, 1/math.Sqrt(1+0.08*0.08)
		force := 8000*9.80665*run*(0.08-0.007) - 0.5*float64(drive.Air(0, 303.15))*float64(dragArea(p).Low)*v*v
		nearly(t, "heat, MJ", d[0].Heat/1e6, force*3000/1e6, 0.005*force*3000/1e6)
		nearly(t, "power, kW", float64(d[0].Power)/1e3, force*v/1e3, 0.005*force*v/1e3)
	}
}

// Places are counted from the first stop, ferries too: a climb and a corner at one
// junction are as far on the way.
func TestPlacesBehindAFerry(t *testing.T) {
	roads := []road{
		{name: "to", from: off(0, -9000), to: off(0, -8000)},
		{name: "boat", from: off(0, -8000), to: off(0, -1000), class: network.Ferry, speed: 5},
		{name: "on", from: off(0, -1000), to: off(0, 0)},
		{name: "hill", from: off(0, 0), to: off(3000, 0), road: tarred, grade: network.Grade{Known: 1, Ascent: 240}},
	}
	p := plan(t, world(t, roads, nil), described(from(off(0, -9000), off(3000, 0)), pulls(60_000)))
	if len(p.Road.Climbs) != 1 || len(p.Road.Corners) != 1 {
		t.Fatalf("%+v", p.Road)
	}
	climb, corner := p.Road.Climbs[0], p.Road.Corners[0]
	nearly(t, "places apart, m", float64(geodesic.Between(climb.Point, corner.Point)), 0, 1)
	nearly(t, "corner after, m", float64(corner.At), 9000, 20)
	nearly(t, "climb after, m", float64(climb.At), float64(corner.At), 1)
}

// So are places behind a part of a given route that matches no road.
func TestPlacesBehindAGap(t *testing.T) {
	roads := []road{
		{name: "to", from: off(0, 0), to: off(3000, 0)}, {name: "on", from: off(9000, 0), to: off(12_000, 0)},
		{name: "hill", from: off(12_000, 0), to: off(12_000, -3000), road: tarred, grade: network.Grade{Known: 1, Ascent: 240}},
	}
	p := plan(t, world(t, roads, nil), described(given(off(0, 0), off(12_000, 0), off(12_000, -3000)), pulls(60_000)))
	if len(p.Road.Climbs) != 1 || len(p.Road.Corners) != 1 || p.Length < 14_000 {
		t.Fatalf("%v, climbs %+v, corners %+v", p.Length, p.Road.Climbs, p.Road.Corners)
	}
	nearly(t, "corner after, m", float64(p.Road.Corners[0].At), float64(p.Length-3000), 10) // a gap is measured from road to road
	nearly(t, "climb after, m", float64(p.Road.Climbs[0].At), float64(p.Road.Corners[0].At), 1)
}

// A road that rises and falls is driven as a climb and a descent of one slope: 60 m
// up and 30 m down on 3 km are 2 km of 3 % and 1 km of -3 %.
func TestRiseAndFall(t *testing.T) {
	roads := slope(0)
	roads[1].grade = network.Grade{Known: 1, Ascent: 60, Descent: 30}
	w := world(t, roads, nil)
	p := plan(t, w, described(overHill, pulls(40_000)))
	if len(p.Road.Climbs) != 1 {
		t.Fatalf("%+v", p.Road.Climbs)
	}
	c := p.Road.Climbs[0]
	nearly(t, "length, m", float64(c.Length), 2000, 5)
	nearly(t, "grade", c.Grade, 0.03, 0.0001)
	nearly(t, "drives, m", float64(p.Road.Run.Length), 7000, 10)
	// Worked by hand: what is left is 8,000 kg lifted by 30 m.
	nearly(t, "climb, J", p.Road.Run.Energy.Climb, 8000*9.80665*30*math.Cos(math.Atan(0.03)), 10_000)
	home := plan(t, w, described(overHill, pulls(40_000), back))
	if len(home.Road.Climbs) != 1 {
		t.Fatalf("home: %+v", home.Road.Climbs)
	}
	nearly(t, "length, home, m", float64(home.Road.Climbs[0].Length), 1000, 5)
	nearly(t, "climb, home, J", home.Road.Run.Energy.Climb, -p.Road.Run.Energy.Climb, 1)
}

// Roads whose climbs are not known are taken as level, and their length is said;
// a boat is none of them.
func TestRoadsTakenAsLevel(t *testing.T) {
	some, boat := slope(0), slope(0)
	some[1].grade = network.Grade{}
	boat[1].class, boat[1].grade = network.Ferry, network.Grade{}
	for name, tc := range map[string]struct {
		roads []road
		want  float64
	}{"all known": {slope(100), 0}, "some not": {some, 3000}, "a boat": {boat, 0}} {
		nearly(t, name+": taken as level, m", float64(plan(t, world(t, tc.roads, nil), described(overHill)).Road.FlatRoad), tc.want, 10)
	}
}

// Slower takes longer and, on a level road, burns less; no faster than the plan
// assumes it is what the plan says.
func TestFuelOverSpeed(t *testing.T) {
	p := plan(t, world(t, slope(0), nil), described(overHill)) // at 72 km/h
	s := p.Road.Speeds
	if len(s) != 6 || s[0].Top != 60*measure.KilometrePerHour {
		t.Fatalf("%+v", s)
	}
	if !(s[0].Time > s[1].Time && s[0].Fuel.Likely < s[1].Fuel.Likely && s[0].Fuel.Most() < s[1].Fuel.Most()) {
		t.Errorf("at 60 km/h %+v, at 70 km/h %+v", s[0], s[1])
	}
	if last := s[len(s)-1]; last.Fuel != p.Road.Run.Fuel || last.Time != p.Road.Run.Time {
		t.Errorf("at 110 km/h %+v, the plan %+v", last, p.Road.Run)
	}
	slow := plan(t, world(t, slope(0), nil), described(overHill, func(r *Request) { r.Wishes.Top = 60 * measure.KilometrePerHour }))
	nearly(t, "as wished", float64(slow.Fuel.Most()/s[0].Fuel.Most()), 1, 1e-9)
}

// A nose saves from nothing to something against a flat one, whatever the rig has.
func TestNoses(t *testing.T) {
	var first []driving.NoseSaving
	for _, has := range []drive.Nose{drive.NoseUnknown, drive.Flat, drive.Rounded} {
		p := plan(t, world(t, slope(0), nil), described(overHill, func(r *Request) { r.Rig.Unit.Nose = has }))
		n := p.Road.Noses
		if len(n) != 2 || n[0].Nose != drive.Rounded || n[1].Nose != drive.Raked || !(n[0].Saves.High > n[1].Saves.High) {
			t.Fatalf("%q: %+v", has, n)
		}
		if first == nil {
			first = n
		}
		if !slices.Equal(n, first) {
			t.Errorf("%q: %+v, with another nose %+v", has, n, first)
		}
		for _, s := range n {
			if !(s.Saves.Low >= 0 && s.Saves.Low < s.Saves.Likely && s.Saves.Likely < s.Saves.High && s.Saves.High < 0.5*p.Fuel.Likely) {
				t.Errorf("%q: %+v of %v", has, s, p.Fuel)
			}
		}
	}
}

// Idling is counted apart from driving, its carbon dioxide with that of the way, and
// the tank is filled for both.
func TestIdling(t *testing.T) {
	w := world(t, slope(0), nil)
	none := plan(t, w, described(overHill))
	hour := plan(t, w, described(overHill, func(r *Request) { r.Conditions.Idle = time.Hour }))
	if idle := hour.Road.Idle.Band(); none.Road.Idle.Most() != 0 || hour.Fuel.Burn != none.Fuel.Burn || !(idle.Low > 0 && idle.High > idle.Low) {
		t.Errorf("%v without, %v with", none.Road.Idle, hour.Road.Idle)
	}
	// Worked by hand: diesel gives off 22.38 lb of carbon dioxide per US gallon.
	perLitre := 22.38 * 0.45359237 / 3.785411784
	nearly(t, "carbon, kg", hour.Road.Carbon.High, perLitre*float64(hour.Road.Fuel().Band().High/measure.Litre), 1e-6)
	stops := func(idle time.Duration) int {
		ends := from(off(0, 0), off(80_000, 0))
		p := plan(t, world(t, far(), nil), described(ends, holds(20*measure.Litre), func(r *Request) { r.Conditions.Idle = idle }))
		return len(p.Road.Tank.Stops)
	}
	if a, b := stops(0), stops(20*time.Hour); a >= b {
		t.Errorf("%d stops, with 20 h of idling %d", a, b)
	}
	nearly(t, "carbon, likely, kg", hour.Road.Carbon.Likely, perLitre*float64((hour.Fuel.Likely+hour.Road.Idle.Likely)/measure.Litre), 1e-6)
}

// trials are plans with something in every finding of the road.
func trials(t *testing.T, change ...func(*Request)) map[string]*Plan {
	t.Helper()
	roads := slope(240)
	roads = append(roads, road{name: "side", from: off(5000, 0), to: off(5000, 2000), road: tarred, spots: []spot{{kind: network.LevelCrossing, part: 0.5, node: true}}})
	ends := from(off(-2000, 0), off(5000, 2000))
	out := map[string]*Plan{}
	for name, more := range map[string][]func(*Request){
		"weak": {pulls(60_000), holds(0.003)}, "stuck": {pulls(15_000)}, "home": {back}, "not described": {func(r *Request) { r.Rig = house().Rig }},
		"no track": {func(r *Request) { r.Rig.Unit.Frame.Axles[0].Track, r.Rig.Unit.Frame.Axles[1].Track = nil, nil }},
		"no fuel":  {func(r *Request) { r.Rig.Tow.Fuel = "" }},
	} {
		out[name] = plan(t, world(t, roads, nil), described(append(append([]func(*Request){ends}, more...), change...)...))
	}
	return out
}

// Every answer of the road that is not clear says what it is and what settles it, and the
// verdict of the plan counts it.
func TestRoadFindingsAreWhole(t *testing.T) {
	rules := map[string]bool{}
	for name, p := range trials(t) {
		if len(p.Road.Findings) == 0 {
			t.Errorf("%s: no finding", name)
		}
		for _, f := range p.Road.Findings {
			rules[string(f.Rule)] = true
			if f.Outcome == "" || f.Rule == "" || f.Outcome != finding.Clear && (!settled(f) || told(f) == "") || f.Invented {
				t.Errorf("%s: %+v", name, f)
			}
		}
		if got, want := fmt.Sprint(p.Verdict), fmt.Sprint(finding.Roll(slices.Concat(findings(p), p.Road.Findings))); got != want {
			t.Errorf("%s: verdict %s, want %s", name, got, want)
		}
		if without := finding.Roll(findings(p)); p.Verdict.Unknowns <= without.Unknowns {
			t.Errorf("%s: %d unknowns with the road, %d without", name, p.Verdict.Unknowns, without.Unknowns)
		}
	}
	for _, rule := range []string{"fuel stops", "climbs", "descents", "corners", "curves", "ground clearance"} {
		if !rules[rule] {
			t.Errorf("no trial says anything of %s", rule)
		}
	}
}

// A review by the road alone makes the worst of a plan a review.
func TestVerdictCountsTheRoad(t *testing.T) {
	w := world(t, slope(240), nil)
	weak := plan(t, w, described(overHill, pulls(60_000)))
	if weak.Verdict.Worst != finding.Review || finding.Roll(findings(weak)).Worst == finding.Review {
		t.Errorf("worst %s, without the road %s", weak.Verdict.Worst, finding.Roll(findings(weak)).Worst)
	}
}

// Where the request is an example, all that its road says is marked.
func TestRoadOfAnExample(t *testing.T) {
	for name, p := range trials(t, func(r *Request) { r.Invented = true }) {
		for _, f := range p.Road.Findings {
			if !f.Invented {
				t.Errorf("%s: %s is not marked", name, f.Rule)
			}
		}
	}
}

// What a road does comes out anew for each way of one builder: a way round burns
// more than the best, and each burns the sum of its legs.
func TestRoadOfOtherWays(t *testing.T) {
	got := routes(t, world(t, fork(bridged(4)), nil), RouteRequest{Request: described(), Reasons: true})
	plans := []*Plan{got.Best}
	for _, o := range got.Others {
		plans = append(plans, o.Plan)
	}
	if got.Free != nil {
		plans = append(plans, got.Free.Plan)
	}
	if len(plans) < 2 {
		t.Fatal("no other way")
	}
	for i, p := range plans {
		nearly(t, fmt.Sprintf("way %d drives, m", i), float64(p.Road.Run.Length), float64(p.Length), 1e-3)
		nearly(t, "fastest", p.Road.Speeds[5].Time.Seconds(), float64(p.Length)/20, 1)
	}
}
