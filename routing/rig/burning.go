package rig

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Burning is what the rig burns at a steady speed on a paved road, in air and wind that
// nobody told of.
type Burning struct {
	Rates []Rate
	// Logs is how many logs of the user it rests on; Drag, Rolling and Engine are what
	// they leave of the three figures that they tell of, Before what those are without.
	Logs         int
	Now, Without Resisting
}

// Resisting are the figures that logs of fuel tell of.
type Resisting struct {
	Drag    drive.Band[measure.Area]
	Rolling drive.Band[float64] // coefficient, on a paved road
	Engine  drive.Band[float64] // efficiency
}

// Rate is what a rig burns at a speed on a grade.
type Rate struct {
	Speed measure.Speed
	Grade float64 // rise over run
	Held  bool    // false: the engine may not hold the speed, and nothing is said of it
	Burns drive.Band[measure.Consumption]
}

// rateSpeeds and rateGrades are those that rates are shown for.
var (
	rateSpeeds = []measure.Speed{
		60 * measure.KilometrePerHour, 80 * measure.KilometrePerHour, 90 * measure.KilometrePerHour,
		100 * measure.KilometrePerHour, 110 * measure.KilometrePerHour,
	}
	rateGrades = []float64{0, 0.02, 0.04, 0.06}
)

// Burning works out rates by speed and grade.
func (r Rig) Burning() measure.Known[Burning] {
	road := r.OnRoad()
	v, ok := road.Value()
	if !ok {
		return measure.Because[Burning](road.Why())
	}
	fresh := v
	fresh.Learnt = drive.Learnt{}
	out := Burning{Logs: v.Learnt.Logs, Now: resisting(v), Without: resisting(fresh)}
	for _, g := range rateGrades {
		for _, speed := range rateSpeeds {
			out.Rates = append(out.Rates, rate(v, speed, g))
		}
	}
	return measure.Exactly(out)
}

func resisting(v drive.Vehicle) Resisting { return Resisting{v.Drag(), v.Rolling(), v.Engine()} }

func rate(v drive.Vehicle, speed measure.Speed, grade float64) Rate {
	const length measure.Distance = 100_000
	run := v.Over([]drive.Section{{
		Length: length, Grade: grade, Speed: speed, Surface: drive.Paved, Flow: drive.Free,
	}}, drive.AnyWeather(0), 0)
	each := func(v measure.Volume) measure.Consumption { return measure.Consumption(float64(v) / float64(length)) }
	b := run.Fuel.Band()
	return Rate{speed, grade, run.Slowed == 0, drive.Band[measure.Consumption]{
		Likely: each(b.Likely), Low: each(b.Low), High: each(b.High),
	}}
}
