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
			Heading: rapid.Float64Range(0, 360).Draw(t, "heading"),
		}
	}
	return out
}

func drawVehicle(t *rapid.T) Vehicle {
	low := measure.Area(rapid.Float64Range(1, 10).Draw(t, "drag"))
	mass := measure.Mass(rapid.Int64Range(2000, 30_000).Draw(t, "kg")) * measure.Kilogram
	return Vehicle{
		DragArea: Range[measure.Area]{low, low * 1.4}, Mass: Range[measure.Mass]{mass, mass + measure.Tonne},
		Fuel: rapid.SampledFrom([]Fuel{Diesel, Gasoline}).Draw(t, "fuel"),
	}
}

func drawWeather(t *rapid.T) Weather {
	w := StillAir(measure.Distance(rapid.Float64Range(0, 3000).Draw(t, "altitude")))
	w.Wind = measure.Speed(rapid.Float64Range(0, 25).Draw(t, "wind"))
	if rapid.Bool().Draw(t, "known") {
		from := rapid.Float64Range(0, 360).Draw(t, "from")
		w.From = &from
	}
	return w
}

// Worked by hand from the road-load equation, each end with its own figures.
func TestOver(t *testing.T) {
	v := Vehicle{DragArea: Range[measure.Area]{6.5, 9}, Mass: Range[measure.Mass]{9000 * measure.Kilogram, 10_000 * measure.Kilogram}, Fuel: Diesel}
	w := Weather{Air: Range[measure.Density]{1.16, 1.39}}
	got := v.Over([]Section{{Length: 36_000, Speed: 20, Surface: Gravel}, {Length: 100, Surface: Paved}}, w, 0)
	low := 0.5*1.16*6.5*400 + 0.015*9000*9.80665
	high := 0.5*1.39*9*400 + 0.030*10_000*9.80665
	near(t, "low, L", float64(got.Fuel.Low/measure.Litre), (low*20/0.92+2000)/(0.38*35.8e6)*1800, 1e-9)
	near(t, "high, L", float64(got.Fuel.High/measure.Litre), (high*20/0.85+5000)/(0.33*35.8e6)*1800, 1e-9)
	near(t, "air, J", got.Energy.Air, 0.5*1.39*9*400*36_000, 1e-3)
	near(t, "rolling, J", got.Energy.Rolling, 0.030*10_000*9.80665*36_000, 1e-3)
	if got.Time != 30*time.Minute || got.Length != 36_000 || got.Unknown != 100 || got.Slowed != 0 {
		t.Errorf("%+v", got)
	}
}

// Rolling resistance of each surface at both ends, as its sources give it: see
// rolling.
func TestSurfaces(t *testing.T) {
	for surface, want := range map[Surface][2]float64{
		SurfaceUnknown: {0.007, 0.030}, Paved: {0.007, 0.017}, Gravel: {0.015, 0.030}, Loose: {0.03, 0.1},
	} {
		low, high := exactly(7, 10_000, nil).ends(StillAir(0))
		for i, e := range []end{low, high} {
			_, rolling, _ := e.against(Section{Surface: surface}, StillAir(0), 10)
			near(t, "rolling", float64(rolling), want[i]*10_000*9.80665, 1e-9)
		}
	}
}

// Worked by hand: 2 m/s from the side on 25 m/s is a yaw of 4.574 degrees, which
// adds 1 % a degree at the low end and 1.5 % at the high end.
func TestYawAtBothEnds(t *testing.T) {
	from := 90.0
	w := Weather{Air: Range[measure.Density]{1.2, 1.2}, Wind: 2, From: &from}
	low, high := exactly(7, 10_000, nil).ends(w)
	for i, e := range []end{low, high} {
		air, _, _ := e.against(Section{}, w, 25)
		near(t, "air", float64(air), 0.5*1.2*7*math.Sqrt(629)*25*(1+[]float64{0.01, 0.015}[i]*4.5739), 0.01)
	}
}

// Down a slope that needs no power an engine burns nothing at the low end and idles
// at the high end.
func TestOverrun(t *testing.T) {
	v := exactly(7, 10_000, nil)
	got := v.Over([]Section{{Length: 20 * 3600, Grade: -0.10, Speed: 20, Surface: Paved}}, StillAir(0), 0)
	if got.Fuel.Low != 0 {
		t.Errorf("burns %v in overrun", got.Fuel.Low)
	}
	near(t, "idle, L/h", float64(got.Fuel.High/measure.Litre), 3.41, 0.005)
	near(t, "nothing from the engine", got.Energy.Wheels()/got.Energy.Brakes, 0, 1e-12)
}

func TestSlowedAndStuck(t *testing.T) {
	v := exactly(7, 10_000, watts(100_000))
	way := []Section{{Length: 1000, Speed: 20, Surface: Paved}, {Length: 500, Grade: 0.08, Speed: 20, Surface: Paved}, {Length: 50, Grade: 0.9, Speed: 20, Surface: Paved}}
	got := v.Over(way, StillAir(0), 0)
	if got.Slowed != 550 || got.Stuck != 50 {
		t.Errorf("slowed on %v, stuck on %v", got.Slowed, got.Stuck)
	}
	held, _ := v.Holds(way[1], StillAir(0), 20)
	want := 1000/20.0 + 500/float64(held) + 50/float64(crawl)
	near(t, "seconds", got.Time.Seconds(), want, 1e-6)
	if capped := v.Over(way[:1], StillAir(0), 10); capped.Time != 100*time.Second {
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
		{float64(a.Fuel.Low), float64(b.Fuel.Low), float64(a.Fuel.Low)}, {float64(a.Fuel.High), float64(b.Fuel.High), float64(a.Fuel.High)},
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
		e := v.Over(way, StillAir(0), 0).Energy
		wheels := 0.0
		for _, s := range way {
			_, high := v.ends(StillAir(0))
			air, rolling, climb := high.against(s, StillAir(0), s.Speed)
			wheels += max(float64(air+rolling+climb), 0) * float64(s.Length)
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
		heavy.Mass = Range[measure.Mass]{v.Mass.Low + measure.Tonne, v.Mass.High + measure.Tonne}
		blunt.DragArea = Range[measure.Area]{v.DragArea.Low + 1, v.DragArea.High + 1}
		w := StillAir(0)
		base := v.Over(way, w, 0).Fuel
		if !(0 < base.Low && base.Low < base.High) {
			t.Fatalf("%v", base)
		}
		windy := w
		windy.Wind = 5
		for name, got := range map[string]Range[measure.Volume]{
			"mass": heavy.Over(way, w, 0).Fuel, "drag": blunt.Over(way, w, 0).Fuel, "speed": v.Over(faster, w, 0).Fuel, "wind": v.Over(way, windy, 0).Fuel,
		} {
			if got.Low <= base.Low || got.High <= base.High {
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
		w := StillAir(0)
		still := v.Over(way, w, 0).Fuel
		w.Wind, w.From = slowest*measure.Speed(rapid.Float64Range(0, 1).Draw(t, "wind, of the slowest")), &from
		if got := v.Over(way, w, 0).Fuel; got.Low < still.Low*(1-1e-12) || got.High < still.High*(1-1e-12) {
			t.Fatalf("%v with wind, %v without", got, still)
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
		for _, f := range []float64{float64(r.Length), r.Time.Seconds(), float64(r.Fuel.Low), float64(r.Fuel.High), r.Energy.Air, r.Energy.Rolling, r.Energy.Climb, r.Energy.Brakes} {
			if math.IsNaN(f) || math.IsInf(f, 0) {
				t.Fatalf("%+v", r)
			}
		}
		if r.Fuel.Low < 0 || r.Fuel.Low > r.Fuel.High || r.Energy.Wheels() < -1e-6*r.Energy.Brakes || r.Time <= 0 {
			t.Fatalf("%+v", r)
		}
	})
}

func TestOverSpeed(t *testing.T) {
	v := exactly(7, 10_000, nil)
	way := []Section{{Length: 100_000, Speed: 30, Surface: Paved}}
	got := v.OverSpeed(way, StillAir(0), []measure.Speed{20, 25, 40})
	for i, seconds := range []float64{5000, 4000, 100_000.0 / 30} {
		near(t, "seconds", got[i].Time.Seconds(), seconds, 1e-6)
		if want := v.Over(way, StillAir(0), got[i].Top).Fuel; got[i].Fuel != want {
			t.Errorf("%v, want %v", got[i].Fuel, want)
		}
	}
	if got[0].Fuel.High >= got[1].Fuel.High {
		t.Errorf("%v", got)
	}
}

// The saving of a nose runs from nothing to what the best of it takes off.
func TestSaves(t *testing.T) {
	s := Shape{Outline: 10, Nose: Flat, Gap: gap(0)}
	v := Vehicle{DragArea: s.DragArea(), Mass: Range[measure.Mass]{10_000 * measure.Kilogram, 10_000 * measure.Kilogram}, Fuel: Diesel}
	way := []Section{{Length: 100_000, Speed: 25, Surface: Paved}}
	got := v.Saves(way, Weather{Air: Range[measure.Density]{1.2, 1.2}}, s.WithNose(Rounded))
	near(t, "low", float64(got.Low), 0, 0)
	want := 0.5 * 1.2 * 9 * (1 - 0.46) * 625 * 100_000 / 0.85 / (0.33 * 35.8e9)
	near(t, "high", float64(got.High), want, 1e-12)
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
		fuel := v.EachHigh(way, StillAir(0), nil)
		total := measure.Volume(0)
		for _, f := range fuel {
			total += f
		}
		if run := v.Over(way, StillAir(0), 0).Fuel.High; math.Abs(float64(run-total)) > 1e-12*float64(run) {
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
	gap := measure.Distance(0.9)
	shape := Shape{Outline: 10, Nose: Flat, Gap: &gap}
	mass := 9000 * measure.Kilogram
	v := Vehicle{DragArea: shape.DragArea(), Mass: Range[measure.Mass]{Low: mass, High: mass}, Fuel: Diesel}
	run := v.Over([]Section{
		{Length: 60_000, Speed: 90 * measure.KilometrePerHour, Surface: Paved},
		{Length: 5000, Grade: 0.06, Speed: 60 * measure.KilometrePerHour, Surface: Paved},
		{Length: 5000, Grade: -0.06, Speed: 60 * measure.KilometrePerHour, Surface: Paved},
	}, StillAir(0), 80*measure.KilometrePerHour)
	fmt.Printf("%.0f km in %v\n", run.Length/1000, run.Time.Round(time.Minute))
	fmt.Printf("%.0f to %.0f L\n", run.Fuel.Low/measure.Litre, run.Fuel.High/measure.Litre)
	fmt.Printf("air %.0f MJ, rolling %.0f MJ, brakes %.0f MJ\n", run.Energy.Air*1e-6, run.Energy.Rolling*1e-6, run.Energy.Brakes*1e-6)
	// Output:
	// 70 km in 55m0s
	// 15 to 34 L
	// air 208 MJ, rolling 105 MJ, brakes 10 MJ
}

func BenchmarkOver(b *testing.B) {
	way := hilly(10_000)
	from := 270.0
	for name, bc := range map[string]struct {
		power *measure.Power
		w     Weather
	}{
		"still":         {nil, StillAir(0)},
		"power":         {watts(150_000), StillAir(0)},
		"wind":          {watts(150_000), Weather{Air: StillAir(0).Air, Wind: 8, From: &from}},
		"wind anywhere": {watts(150_000), Weather{Air: StillAir(0).Air, Wind: 8}},
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
