package drive

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// hilly is a way of 1000 km in so many sections.
func hilly(n int) []Section {
	out := make([]Section, n)
	for i := range out {
		out[i] = Section{
			Length: 1_000_000 / measure.Distance(n), Grade: 0.05 * math.Sin(float64(i)/20), Speed: 25, Surface: Paved,
			Heading: float64(i * 7 % 360),
		}
	}
	return out
}

// drawWay draws up to 20 sections, everything known.
func drawWay(t *rapid.T, least, most float64) []Section {
	out := make([]Section, rapid.IntRange(1, 20).Draw(t, "sections"))
	for i := range out {
		out[i] = Section{
			Length: measure.Distance(rapid.Float64Range(10, 3000).Draw(t, "length")), Grade: rapid.Float64Range(least, most).Draw(t, "grade"),
			Speed: measure.Speed(rapid.Float64Range(5, 33).Draw(t, "speed")), Surface: Surface(rapid.IntRange(0, 3).Draw(t, "surface")),
			Flow: Flow(rapid.IntRange(0, 1).Draw(t, "flow")), NoGrade: rapid.Bool().Draw(t, "no grade"),
			Heading: rapid.Float64Range(0, 360).Draw(t, "heading"),
		}
	}
	return out
}

func drawVehicle(t *rapid.T) Vehicle {
	low := measure.Area(rapid.Float64Range(1, 10).Draw(t, "drag"))
	mass := measure.Mass(rapid.Int64Range(2000, 30_000).Draw(t, "kg")) * measure.Kilogram
	return Vehicle{
		DragArea: Band[measure.Area]{low * 1.2, low, low * 1.4},
		Mass:     Band[measure.Mass]{mass + measure.Tonne/2, mass, mass + measure.Tonne},
		Fuel:     rapid.SampledFrom([]Fuel{Diesel, Gasoline}).Draw(t, "fuel"),
	}
}

func drawWeather(t *rapid.T) Weather {
	w := AnyWeather(measure.Distance(rapid.Float64Range(0, 3000).Draw(t, "altitude")))
	w.Wind = measure.Speed(rapid.Float64Range(0, 25).Draw(t, "wind"))
	if rapid.Bool().Draw(t, "known") {
		from := rapid.Float64Range(0, 360).Draw(t, "from")
		w.From = &from
	}
	return w
}

// hand is the fuel of a section in litres, worked by hand from the road-load equation.
func hand(area, air, roll, kg, stops, watts, engine, v, metres float64) float64 {
	force := 0.5*air*area*v*v + roll*kg*9.80665 + 0.5*1.05*kg*v*v*stops
	return (force*v/0.89 + watts) / (engine * 35.8e6) * metres / v
}

// Each cause alone at its end, and all of them at their dear end, worked by hand.
func TestOver(t *testing.T) {
	v := Vehicle{
		DragArea: Band[measure.Area]{5, 4, 6}, Fuel: Diesel,
		Mass: Band[measure.Mass]{9500 * measure.Kilogram, 9000 * measure.Kilogram, 10_000 * measure.Kilogram},
	}
	w := Weather{Air: Band[measure.Density]{1.25, 1.16, 1.39}}
	way := []Section{{Length: 36_000, Speed: 20, Surface: Gravel, Flow: Free}, {Length: 100, Surface: Paved}}
	got := v.Over(way, w, 0)
	low, high := withDriveline(Band[float64]{0.375, 0.34, 0.41}).Low, withDriveline(Band[float64]{0.375, 0.34, 0.41}).High
	near(t, "engine, low", low, 0.375*math.Exp(-math.Hypot(math.Log(0.375/0.34), math.Log(0.89/0.85))), 1e-12)
	near(t, "engine, high", high, 0.375*math.Exp(math.Hypot(math.Log(0.41/0.375), math.Log(0.92/0.89))), 1e-12)
	const stops = 1.0 / 50_000
	likely := hand(5, 1.25, 0.020, 9500, stops, 3000, 0.375, 20, 36_000)
	near(t, "likely, L", float64(got.Fuel.Likely/measure.Litre), likely, 1e-9)
	near(t, "most, L", float64(got.Fuel.Most()/measure.Litre), hand(6, 1.39, 0.030, 10_000, 1.0/15_000, 5000, low, 20, 36_000), 1e-9)
	for c, want := range map[Cause]float64{
		ByDrag: hand(6, 1.25, 0.020, 9500, stops, 3000, 0.375, 20, 36_000), ByAir: hand(5, 1.39, 0.020, 9500, stops, 3000, 0.375, 20, 36_000),
		ByRolling: hand(5, 1.25, 0.030, 9500, stops, 3000, 0.375, 20, 36_000), ByMass: hand(5, 1.25, 0.020, 10_000, stops, 3000, 0.375, 20, 36_000),
		ByStops: hand(5, 1.25, 0.020, 9500, 1.0/15_000, 3000, 0.375, 20, 36_000), ByEngine: hand(5, 1.25, 0.020, 9500, stops, 3000, low, 20, 36_000),
		ByAuxiliary: hand(5, 1.25, 0.020, 9500, stops, 5000, 0.375, 20, 36_000),
	} {
		near(t, fmt.Sprintf("dear end of cause %d", c), float64(got.Fuel.more[c]/measure.Litre), want-likely, 1e-9)
	}
	near(t, "air, J", got.Energy.Air, 0.5*1.25*5*400*36_000, 1e-3)
	near(t, "rolling, J", got.Energy.Rolling, 0.020*9500*9.80665*36_000, 1e-3)
	near(t, "stops, J", got.Energy.Brakes, 0.5*1.05*9500*400*stops*36_000, 1e-3)
	if got.Time != 30*time.Minute || got.Length != 36_000 || got.Unknown != 100 || got.Slowed != 0 {
		t.Errorf("%+v", got)
	}
}

// A grade that is not known costs what hills are likely to cost; a surface that is not
// known is a quarter gravel, and all of it at its dear end.
func TestWhatIsNotKnownOfARoad(t *testing.T) {
	v := exactly(5, 10_000, nil)
	way := Section{Length: 1000, Speed: 20, Surface: Paved, Flow: Free}
	level := v.Over([]Section{way}, still(1.2), 0).Fuel
	way.NoGrade = true
	hilly := v.Over([]Section{way}, still(1.2), 0).Fuel
	near(t, "hills", float64(hilly.Likely/level.Likely), 1.06, 1e-9)
	near(t, "hills, dear", float64((hilly.Likely+hilly.more[ByHills])/level.Likely), 27.7/23.5, 1e-9)
	near(t, "hills, cheap", float64((hilly.Likely+hilly.less[ByHills])/level.Likely), 1, 1e-9)
	way.NoGrade, way.Surface = false, SurfaceUnknown
	roll := func(step float64) float64 {
		var p place
		p[BySurface] = step
		of := v.at(p, still(1.2))
		return of.roll[SurfaceUnknown]
	}
	near(t, "unknown surface", roll(0), 0.009+(0.020-0.009)/4, 1e-12)
	near(t, "unknown surface, cheap", roll(-1), 0.009, 1e-12)
	near(t, "unknown surface, dear", roll(1), 0.020, 1e-12)
}

// Rolling resistance of each surface, as its sources give it: see rolling.
func TestSurfaces(t *testing.T) {
	for surface, want := range map[Surface][3]float64{
		Paved: {0.007, 0.009, 0.0125}, Gravel: {0.015, 0.020, 0.030}, Loose: {0.03, 0.05, 0.1},
	} {
		for i, step := range []float64{-1, 0, 1} {
			var p place
			p[ByRolling] = step
			of := exactly(7, 10_000, nil).at(p, still(1.2))
			_, rolling, _ := of.against(Section{Surface: surface}, Exactly(100.0), 10)
			near(t, "rolling", float64(rolling), want[i]*10_000*9.80665, 1e-9)
		}
	}
}

// Worked by hand: 2 m/s from the side on 25 m/s is a yaw of 4.574 degrees, which
// adds 1 % a degree at the low end and 1.5 % at the high end.
func TestYawAtBothEnds(t *testing.T) {
	from := 90.0
	got := Weather{Wind: 2, From: &from}.pushes(25, 0)
	near(t, "low", got.Low, math.Sqrt(629)*25*(1+0.01*4.5739), 0.01)
	near(t, "high", got.High, math.Sqrt(629)*25*(1+0.015*4.5739), 0.01)
}

// Down a slope that needs no power an engine burns nothing at the low end and idles
// at the high end.
func TestOverrun(t *testing.T) {
	v := exactly(7, 10_000, nil)
	way := []Section{{Length: 20 * 3600, Grade: -0.10, Speed: 20, Surface: Paved, Flow: Free}}
	got := v.Over(way, still(1.2), 0).Fuel
	halts := (0.5*1.05*10_000*400/50_000*20/0.89 + 3000) / (0.375 * 35.8e6) * 3600
	near(t, "L/h", float64(got.Likely/measure.Litre), max(halts, 0.22*3.785411784), 1e-6)
	e := v.engine(still(1.2))
	e.dearest.stops = [Free + 1]float64{}
	e.likely.stops = e.dearest.stops
	near(t, "without stops, L/h", float64(e.likely.burn(way[0], Exactly(400.0), 20)/measure.Litre), 0.22*3.785411784, 1e-6)
	near(t, "dear, L/h", float64(e.dearest.burn(way[0], Exactly(400.0), 20)/measure.Litre), 3.41, 0.005)
	var p place
	p[ByAuxiliary] = -1
	if cheap := v.at(p, still(1.2)); cheap.idles != 0 {
		t.Errorf("burns %v in overrun", cheap.idles)
	}
}

func TestSlowedAndStuck(t *testing.T) {
	v := exactly(7, 10_000, watts(100_000))
	way := []Section{{Length: 1000, Speed: 20, Surface: Paved}, {Length: 500, Grade: 0.08, Speed: 20, Surface: Paved}, {Length: 50, Grade: 0.9, Speed: 20, Surface: Paved}}
	got := v.Over(way, OfKelvins(0, coldest), 0)
	if got.Slowed != 550 || got.Stuck != 50 {
		t.Errorf("slowed on %v, stuck on %v", got.Slowed, got.Stuck)
	}
	held, _ := v.Holds(way[1], OfKelvins(0, coldest), 20)
	want := 1000/20.0 + 500/float64(held) + 50/float64(crawl)
	near(t, "seconds", got.Time.Seconds(), want, 1e-6)
	if capped := v.Over(way[:1], OfKelvins(0, coldest), 10); capped.Time != 100*time.Second {
		t.Errorf("a cap of 10 m/s takes %v", capped.Time)
	}
}

// Two runs add up to the run over both ways, whatever the way; a section in two
// halves is the same section, but for the last nanosecond of time.
func TestParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, w, way := drawVehicle(t), drawWeather(t), drawWay(t, -0.1, 0.1)
		if rapid.Bool().Draw(t, "power") {
			v.Power = watts(150_000)
		}
		way[0].Speed, way[len(way)-1].Grade = 0, 0.9 // one is not known, one may be too steep
		whole := v.Over(way, w, 0)
		cut := rapid.IntRange(0, len(way)).Draw(t, "cut")
		var halves []Section
		for _, s := range way {
			s.Length /= 2
			halves = append(halves, s, s)
		}
		for name, parts := range map[string]Run{
			"sum": v.Over(way[:cut], w, 0).Add(v.Over(way[cut:], w, 0)), "halves": v.Over(halves, w, 0),
		} {
			same(t, name, whole, parts)
		}
	})
}

func same(t *rapid.T, name string, a, b Run) {
	t.Helper()
	size := math.Abs(a.Energy.Climb) + a.Energy.Brakes + math.Abs(a.Energy.Air) + a.Energy.Rolling
	for _, f := range [][3]float64{
		{float64(a.Length), float64(b.Length), float64(a.Length)}, {float64(a.Slowed), float64(b.Slowed), float64(a.Length)},
		{float64(a.Unknown), float64(b.Unknown), float64(a.Unknown)}, {float64(a.Stuck), float64(b.Stuck), float64(a.Stuck)},
		{float64(a.Fuel.Band().Low), float64(b.Fuel.Band().Low), float64(a.Fuel.Likely)}, {float64(a.Fuel.Band().High), float64(b.Fuel.Band().High), float64(a.Fuel.Likely)},
		{float64(a.Fuel.Likely), float64(b.Fuel.Likely), float64(a.Fuel.Likely)}, {float64(a.Fuel.Most()), float64(b.Fuel.Most()), float64(a.Fuel.Most())},
		{a.Energy.Air, b.Energy.Air, size}, {a.Energy.Rolling, b.Energy.Rolling, size}, {a.Energy.Climb, b.Energy.Climb, size}, {a.Energy.Brakes, b.Energy.Brakes, size},
	} {
		if !(math.Abs(f[0]-f[1]) <= 1e-12*f[2]) {
			t.Fatalf("%s: %v, not %v", name, f[1], f[0])
		}
	}
	if d := a.Time - b.Time; d.Abs() > 100*time.Nanosecond {
		t.Fatalf("%s: time differs by %v", name, d)
	}
}

// Over a way that goes out and back the climbs and falls cancel: what the engine
// gave is what air, tires and brakes took.
func TestClosedWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, way := drawVehicle(t), drawWay(t, -0.12, 0.12)
		for i := len(way) - 1; i >= 0; i-- {
			back := way[i]
			back.Grade = -back.Grade
			way = append(way, back)
		}
		w := still(1.2)
		e := v.Over(way, w, 0).Energy
		wheels := 0.0
		for _, s := range way {
			of := v.at(place{}, w)
			air, rolling, climb := of.against(s, w.pushes(s.Speed, 0), s.Speed)
			wheels += (max(float64(air+rolling+climb), 0) + float64(of.halts(s, s.Speed))) * float64(s.Length)
		}
		if math.Abs(e.Wheels()-wheels) > 1e-9*wheels || math.Abs(wheels-e.Brakes-e.Air-e.Rolling) > 1e-9*wheels {
			t.Fatalf("the engine gave %v, of %+v", wheels, e)
		}
	})
}

// More mass, drag or speed never burns less where nothing pushes: from 15 m/s up,
// below which the auxiliaries make a slow way dear, and not downhill, where mass
// pushes.
func TestMoreBurnsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawVehicle(t)
		way := drawWay(t, 0, 0.1)
		faster := make([]Section, len(way))
		for i := range way {
			way[i].Speed = max(way[i].Speed, 15)
			faster[i] = way[i]
			faster[i].Speed += 2
		}
		heavy, blunt := v, v
		heavy.Mass = Band[measure.Mass]{v.Mass.Likely + measure.Tonne, v.Mass.Low + measure.Tonne, v.Mass.High + measure.Tonne}
		blunt.DragArea = Band[measure.Area]{v.DragArea.Likely + 1, v.DragArea.Low + 1, v.DragArea.High + 1}
		w := OfKelvins(0, coldest)
		base := v.Over(way, w, 0).Fuel
		if b := base.Band(); !(0 < b.Low && b.Low < b.Likely && b.Likely < b.High && b.High < base.Most()) {
			t.Fatalf("%v", base)
		}
		windy := w
		windy.Wind = 5
		for name, got := range map[string]Burn{
			"mass": heavy.Over(way, w, 0).Fuel, "drag": blunt.Over(way, w, 0).Fuel, "speed": v.Over(faster, w, 0).Fuel, "wind": v.Over(way, windy, 0).Fuel,
		} {
			if got.Likely <= base.Likely || got.Most() <= base.Most() {
				t.Fatalf("more %s: %v, not more than %v", name, got, base)
			}
		}
	})
}

// Out against the wind and back with it never takes less than both without wind at
// the same speeds, as long as the wind is no faster than the rig: one that pushes it
// along lets an engine in overrun save its auxiliaries at the low end.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, way := drawVehicle(t), drawWay(t, 0, 0)
		slowest := way[0].Speed
		for i := range way {
			way[i].Heading = 90
			slowest = min(slowest, way[i].Speed)
		}
		for _, s := range way {
			s.Heading = 270
			way = append(way, s)
		}
		from := 90.0
		w := still(1.2)
		calm := v.Over(way, w, 0).Fuel
		w.Wind, w.From = slowest*measure.Speed(rapid.Float64Range(0, 1).Draw(t, "wind, of the slowest")), &from
		if got := v.Over(way, w, 0).Fuel; got.Likely < calm.Likely*(1-1e-12) {
			t.Fatalf("%v with wind, %v without", got, calm)
		}
	})
}

// Whatever is known, what comes out is a number, and the low end is no more than
// the high end.
func TestAlwaysNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, w, way := drawVehicle(t), drawWeather(t), drawWay(t, -0.3, 0.3)
		v.Power = watts(measure.Power(rapid.Float64Range(0, 500_000).Draw(t, "W")))
		r := v.Over(way, w, measure.Speed(rapid.Float64Range(1, 40).Draw(t, "top")))
		for _, f := range []float64{float64(r.Length), r.Time.Seconds(), float64(r.Fuel.Band().Low), float64(r.Fuel.Most()), r.Energy.Air, r.Energy.Rolling, r.Energy.Climb, r.Energy.Brakes} {
			if math.IsNaN(f) || math.IsInf(f, 0) {
				t.Fatalf("%+v", r)
			}
		}
		if b := r.Fuel.Band(); b.Low < 0 || b.Low > b.Likely || b.Likely > b.High || b.High > r.Fuel.Most() || r.Energy.Wheels() < -1e-6*r.Energy.Brakes || r.Time <= 0 {
			t.Fatalf("%+v", r)
		}
	})
}

func TestOverSpeed(t *testing.T) {
	v := exactly(7, 10_000, nil)
	way := []Section{{Length: 100_000, Speed: 30, Surface: Paved}}
	got := v.OverSpeed(way, AnyWeather(0), []measure.Speed{20, 25, 40})
	for i, seconds := range []float64{5000, 4000, 100_000.0 / 30} {
		near(t, "seconds", got[i].Time.Seconds(), seconds, 1e-6)
		if want := v.Over(way, AnyWeather(0), got[i].Top).Fuel; got[i].Fuel != want {
			t.Errorf("%v, want %v", got[i].Fuel, want)
		}
	}
	if got[0].Fuel.Likely >= got[1].Fuel.Likely {
		t.Errorf("%v", got)
	}
}

// The saving of a nose runs from nothing to what the best of it takes off.
func TestSaves(t *testing.T) {
	s := Shape{Outline: 10, Nose: Flat}
	v := Vehicle{DragArea: s.DragArea(), Mass: Exactly(10_000 * measure.Kilogram), Fuel: Diesel}
	way := []Section{{Length: 100_000, Speed: 25, Surface: Paved}}
	got := v.Saves(way, still(1.2), s.WithNose(Rounded))
	each := 0.5 * 1.2 * 10 * 625 * 100_000 / 0.89 / (0.375 * 35.8e9)
	near(t, "likely", float64(got.Likely), each*(0.47-0.38), 1e-12)
	near(t, "low", float64(got.Low), 0, 0)
	near(t, "high", float64(got.High), each*(0.47-0.31), 1e-12)
}

func TestFuelStops(t *testing.T) {
	way := []Section{{Length: 1000}, {Length: 2000}, {Length: 1000}}
	for name, tc := range map[string]struct {
		tank    measure.Volume
		reserve float64
		fuel    []measure.Volume
		want    []measure.Distance
	}{
		"enough":                 {100, 0.1, []measure.Volume{20, 50, 20}, nil},
		"one stop":               {100, 0.5, []measure.Volume{40, 20, 10}, []measure.Distance{2000}},
		"two in one section":     {10, 0, []measure.Volume{1, 25, 1}, []measure.Distance{1720, 2520}},
		"nothing but a reserve":  {100, 1, []measure.Volume{40, 20, 10}, nil},
		"over sections for free": {10, 0.2, []measure.Volume{0, 0, 9}, []measure.Distance{3000 + 8000.0/9}},
	} {
		got := FuelStops(tc.tank, tc.reserve, way, tc.fuel)
		if len(got) != len(tc.want) {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
			continue
		}
		for i := range got {
			near(t, name, float64(got[i]), float64(tc.want[i]), 1e-9)
		}
	}
}

// Between two stops lies what the tank gives, and no more is left at the end.
func TestFuelStopsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, way := drawVehicle(t), drawWay(t, -0.05, 0.08)
		fuel := v.EachMost(way, AnyWeather(0), nil)
		total := measure.Volume(0)
		for _, f := range fuel {
			total += f
		}
		if run := v.Over(way, AnyWeather(0), 0).Fuel.dear; math.Abs(float64(run-total)) > 1e-12*float64(run) {
			t.Fatalf("%v, not %v", total, run)
		}
		tank := total * measure.Volume(rapid.Float64Range(0.1, 2).Draw(t, "tank"))
		stops := FuelStops(tank, 0.2, way, fuel)
		used := float64(total / (tank * 0.8))
		if n := float64(len(stops)); n > used+1e-9 || n < used-1-1e-9 {
			t.Fatalf("%v stops for %v tanks", n, used)
		}
		for i := 1; i < len(stops); i++ {
			if stops[i] <= stops[i-1] {
				t.Fatalf("%v", stops)
			}
		}
	})
}

func ExampleVehicle_Over() {
	shape := Shape{Outline: 10, Nose: Flat}
	mass := 9000 * measure.Kilogram
	v := Vehicle{DragArea: shape.DragArea(), Mass: Exactly(mass), Fuel: Diesel}
	run := v.Over([]Section{
		{Length: 60_000, Speed: 90 * measure.KilometrePerHour, Surface: Paved},
		{Length: 5000, Grade: 0.06, Speed: 60 * measure.KilometrePerHour, Surface: Paved},
		{Length: 5000, Grade: -0.06, Speed: 60 * measure.KilometrePerHour, Surface: Paved},
	}, AnyWeather(0), 80*measure.KilometrePerHour)
	fmt.Printf("%.0f km in %v\n", run.Length/1000, run.Time.Round(time.Minute))
	all := run.Fuel.Band()
	fmt.Printf("likely %.0f L, %.0f to %.0f\n", all.Likely/measure.Litre, all.Low/measure.Litre, all.High/measure.Litre)
	fmt.Printf("air %.0f MJ, rolling %.0f MJ, brakes %.0f MJ\n", run.Energy.Air*1e-6, run.Energy.Rolling*1e-6, run.Energy.Brakes*1e-6)
	// Output:
	// 70 km in 55m0s
	// likely 16 L, 13 to 21
	// air 101 MJ, rolling 56 MJ, brakes 31 MJ
}

func BenchmarkOver(b *testing.B) {
	way := hilly(10_000)
	from := 270.0
	for name, bc := range map[string]struct {
		power *measure.Power
		w     Weather
	}{
		"still":         {nil, AnyWeather(0)},
		"power":         {watts(150_000), AnyWeather(0)},
		"wind":          {watts(150_000), Weather{Air: AnyWeather(0).Air, Wind: 8, From: &from}},
		"wind anywhere": {watts(150_000), Weather{Air: AnyWeather(0).Air, Wind: 8}},
	} {
		v := exactly(7, 10_000, bc.power)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				v.Over(way, bc.w, 0)
			}
		})
	}
}
