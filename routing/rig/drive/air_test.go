package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v within %v", name, got, want, tolerance)
	}
}

// U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF): sea-level values as
// published, 288.15 K, 101 325 Pa, 1.225 kg/m3 (read). The other rows are worked
// out from its formula; the standard's own table has 1.1117, 1.0066 and 0.9093
// (from memory) at 1000, 2000 and 3000 m geometric altitude.
func TestStandardAir(t *testing.T) {
	for _, tc := range []struct{ altitude, kelvins, pascals, density float64 }{
		{0, 288.15, 101325, 1.2250},
		{500, 284.90, 95461, 1.1673},
		{1000, 281.65, 89875, 1.1116},
		{1500, 278.40, 84556, 1.0581},
		{2000, 275.15, 79495, 1.0065},
		{2500, 271.90, 74683, 0.9569},
		{3000, 268.65, 70109, 0.9091},
	} {
		kelvins, pascals, density := StandardAir(measure.Distance(tc.altitude))
		near(t, "temperature", kelvins, tc.kelvins, 0.005)
		near(t, "pressure", pascals, tc.pascals, 1)
		near(t, "density", float64(density), tc.density, 0.0005)
	}
}

// Worked by hand from the gas law at 101 325 Pa.
func TestAirOfATemperature(t *testing.T) {
	for _, tc := range []struct{ celsius, density float64 }{
		{-30, 1.4517}, {-20, 1.3944}, {0, 1.2923}, {15, 1.2250}, {30, 1.1644},
	} {
		near(t, "density", float64(Air(0, 273.15+tc.celsius)), tc.density, 0.0001)
	}
	_, _, standard := StandardAir(2000)
	near(t, "standard temperature at 2000 m", float64(Air(2000, 275.15)), float64(standard), 1e-12)
}

func TestAnyWeather(t *testing.T) {
	w := AnyWeather(0)
	near(t, "likely", float64(w.Air.Likely), 1.2250, 0.0001)
	near(t, "warm", float64(w.Air.Low), 1.1644, 0.0001)
	near(t, "cold", float64(w.Air.High), 1.3944, 0.0001)
	if w.Wind != anyWind || w.From != nil || AnyWeather(2000).Air.High >= w.Air.High {
		t.Errorf("%+v; at 2000 m the air is %v", w, AnyWeather(2000).Air)
	}
	near(t, "7 mph, m/s", float64(w.Wind), 3.129, 0.001)
	known := OfKelvins(0, 273.15)
	near(t, "of a temperature", float64(known.Air.Likely), 1.2923, 0.0001)
	near(t, "low pressure", float64(known.Air.Low), 1.2923*0.97, 0.0001)
}

// still is air of an exact density without wind.
func still(air measure.Density) Weather { return Weather{Air: Exactly(air)} }

// Worked by hand from the sum of the two speeds, 10 m/s of wind on 25 m/s: ahead
// and behind there is no yaw; from the side the air comes at 21.8 degrees, of which
// ten count.
func TestPush(t *testing.T) {
	aside := math.Sqrt(25*25+10*10) * 25
	for _, tc := range []struct{ from, heading, want float64 }{
		{90, 90, 35 * 35}, {270, 90, 15 * 15}, {0, 90, aside}, {180, 90, aside}, {-270, 450, 35 * 35},
	} {
		got := Weather{Wind: 10, From: &tc.from}.pushes(25, tc.heading)
		if tc.want != aside {
			near(t, "push", got.Likely, tc.want, 1e-9)
			continue
		}
		near(t, "push", got.Likely, aside*1.125, 1e-9)
		near(t, "push, low", got.Low, aside*1.10, 1e-9)
		near(t, "push, high", got.High, aside*1.15, 1e-9)
	}
	behind := 180.0
	near(t, "pushed from behind", Weather{Wind: 30, From: &behind}.pushes(20, 0).Likely, -100, 1e-9)
	anywhere := Weather{Wind: 10}.pushes(25, 0)
	near(t, "from anywhere, low", anywhere.Low, 15*15, 1e-9)
	// Without yaw the mean over all directions is worked by hand by an integral:
	// hypot(v + w cos, w sin) (v + w cos), 699.24 at 25 and 10 m/s; yaw adds up to 12.5 %.
	if m := anywhere.Likely; m < 699.24 || m > 699.24*1.125 {
		t.Errorf("mean %v", m)
	}
}

// Without wind the push is the square of the speed, to the last bit.
func TestNoWind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := measure.Speed(rapid.Float64Range(0, 40).Draw(t, "v"))
		from := rapid.Float64Range(-360, 720).Draw(t, "from")
		for _, w := range []Weather{{}, {From: &from}} {
			if got := w.pushes(v, 77); got != Exactly(float64(v*v)) {
				t.Fatalf("%v, not %v", got, v*v)
			}
		}
	})
}

// No known direction costs more than wind from an unknown one, and both grow with
// the speed of the rig, which the bisection of Holds rests on.
func TestWorstWind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := measure.Speed(rapid.Float64Range(1, 35).Draw(t, "v"))
		wind := measure.Speed(rapid.Float64Range(0, 30).Draw(t, "wind"))
		from := rapid.Float64Range(0, 360).Draw(t, "from")
		known, unknown := Weather{Wind: wind, From: &from}, Weather{Wind: wind}
		all, got := unknown.pushes(v, 0), known.pushes(v, 0)
		if got.High > all.High*(1+worstSlack) {
			t.Fatalf("from %v: %v, more than the worst %v", from, got, all)
		}
		for _, b := range []Band[float64]{all, got} {
			if slack := 1 + 1e-12; !(b.Low <= b.Likely*slack && b.Likely <= b.High*slack) {
				t.Fatalf("%v", b)
			}
		}
		for _, w := range []Weather{known, unknown} {
			if slow, fast := w.pushes(v, 0).High, w.pushes(v+0.5, 0).High; slow >= fast {
				t.Fatalf("%+v: %v at %v, %v faster", w, slow, v, fast)
			}
		}
	})
}

// worstSlack is what the search may miss of the worst direction, found by a
// finer one over speed and wind: see TestWorstGrid.
const worstSlack = 0.003

// The search is held against one of a tenth of a degree.
func TestWorstGrid(t *testing.T) {
	missed := 0.0
	for v := measure.Speed(5); v <= 35; v += 1.3 {
		for wind := measure.Speed(0.5); wind <= 30; wind += 0.7 {
			worst := Weather{Wind: wind}.worst(v, yawGain.High)
			for a := 0.0; a < math.Pi; a += math.Pi / 1800 {
				missed = max(missed, relative(v, wind, a, yawGain.High)/worst-1)
			}
		}
	}
	t.Logf("the grid misses up to %.4f", missed)
	if missed > worstSlack {
		t.Errorf("the grid misses %v, more than %v", missed, worstSlack)
	}
}
