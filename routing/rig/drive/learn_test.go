package drive

import (
	"math"
	"testing"

	"wayhouse/regs/measure"
)

// diary is a log of 500 km with so many litres per 100 km at a speed in m/s.
func diary(per100 float64, speed measure.Speed) Log {
	calm := measure.Speed(0)
	return Log{Fuel: measure.Volume(5*per100) * measure.Litre, Distance: 500_000, Speed: speed, Wind: &calm}
}

// of is what a vehicle is likely to burn on the road of a log, in litres per 100 km.
func (l Log) of(v Vehicle) Band[float64] {
	way := Section{Length: 100_000, Speed: l.Speed, Surface: Paved, Flow: Free, NoGrade: true}
	b := v.Over([]Section{way}, l.weather(), 0).Fuel.Band()
	return Band[float64]{float64(b.Likely / measure.Litre), float64(b.Low / measure.Litre), float64(b.High / measure.Litre)}
}

// A log moves the likely figure toward itself, and never past; each log more moves it
// further and narrows the range.
func TestLogsTeach(t *testing.T) {
	for _, factor := range []float64{0.75, 0.9, 1.1, 1.3} {
		v := house(Diesel)
		before := diary(1, 25).of(v)
		log := diary(before.Likely*factor, 25)
		far, wide := math.Abs(math.Log(factor)), before.High/before.Low
		for n := 1; n <= 5; n++ {
			logs := make([]Log, n)
			for i := range logs {
				logs[i] = log
			}
			v.Learnt = Learnt{}
			v.Learnt = v.Learn(logs)
			got := log.of(v)
			if d := math.Abs(math.Log(got.Likely / before.Likely / factor)); d >= far {
				t.Errorf("%v, %d logs: %v from them, not nearer than %v", factor, n, d, far)
			} else {
				far = d
			}
			if w := got.High / got.Low; w >= wide {
				t.Errorf("%v, %d logs: %v wide, not narrower than %v", factor, n, w, wide)
			} else {
				wide = w
			}
			if (got.Likely > before.Likely) != (factor > 1) {
				t.Errorf("%v: %v after %v", factor, got.Likely, before.Likely)
			}
		}
		if far > 0.3*math.Abs(math.Log(factor)) {
			t.Errorf("%v: five logs leave %v", factor, far)
		}
	}
}

// Logs of the likely amount change no figure, and narrow what is known.
func TestLogsThatAgree(t *testing.T) {
	v := house(Diesel)
	v.Learnt = v.Learn([]Log{diary(diary(1, 25).of(v).Likely, 25), diary(diary(1, 18).of(v).Likely, 18)})
	fresh := house(Diesel)
	near(t, "drag", float64(v.Drag().Likely), float64(fresh.Drag().Likely), 1e-9)
	near(t, "rolling", v.Rolling().Likely, fresh.Rolling().Likely, 1e-12)
	near(t, "engine", v.Engine().Likely, fresh.Engine().Likely, 1e-12)
	for name, b := range map[string][2]Band[float64]{
		"rolling": {v.Rolling(), fresh.Rolling()}, "engine": {v.Engine(), fresh.Engine()},
	} {
		if b[0].High/b[0].Low >= b[1].High/b[1].Low {
			t.Errorf("%s: %v after %v", name, b[0], b[1])
		}
	}
}

// What burns more the faster it goes is drag; what burns more at a crawl as well is tires
// or engine: logs at two speeds tell them apart.
func TestLogsAtTwoSpeeds(t *testing.T) {
	v, blunt := house(Diesel), house(Diesel)
	blunt.DragArea = Exactly(v.DragArea.High)
	heavy := house(Diesel)
	teach := func(of Vehicle) Vehicle {
		var logs []Log
		for range 10 {
			logs = append(logs, diary(diary(1, 28).of(of).Likely, 28), diary(diary(1, 14).of(of).Likely, 14))
		}
		out := house(Diesel)
		out.Learnt = out.Learn(logs)
		return out
	}
	got := teach(blunt)
	heavy.Learnt.Logs, heavy.Learnt.mean[ByRolling] = 1, 1 // tires at their dear end
	tires := teach(heavy)
	if up, drag := got.Learnt.mean, tires.Learnt.mean; up[ByDrag] <= up[ByRolling] || drag[ByRolling] <= drag[ByDrag] || up[ByDrag] < 0.4 || drag[ByRolling] < 0.3 {
		t.Errorf("with a blunt front %v, with bad tires %v", up, drag)
	}
}

// One observation of one figure, worked by hand: from 0 with variance 1, an observation
// of 2 with noise 1 and slope 1 gives 1 with variance 1/2.
func TestUpdate(t *testing.T) {
	mean, spread := [learnt]float64{}, identity()
	update(&mean, &spread, 2, [learnt]float64{1, 0, 0}, 1)
	near(t, "mean", mean[0], 1, 1e-12)
	near(t, "variance", spread[0][0], 0.5, 1e-12)
	near(t, "of another", spread[1][1], 1, 1e-12)
	root := cholesky([learnt][learnt]float64{{4, 2, 0}, {2, 5, 2}, {0, 2, 2}})
	near(t, "root", root[0][0], 2, 1e-12)
	near(t, "root", root[1][0], 1, 1e-12)
	near(t, "root", root[1][1], 2, 1e-12)
	near(t, "root", root[2][1], 1, 1e-12)
	near(t, "root", root[2][2], 1, 1e-12)
}

func TestNoLogs(t *testing.T) {
	v := house(Diesel)
	if got := v.Learn(nil); got != (Learnt{}) {
		t.Errorf("%v", got)
	}
	v.Fuel = FuelUnknown
	if got := v.Learn([]Log{diary(25, 25)}); got != (Learnt{}) {
		t.Errorf("%v", got)
	}
}
