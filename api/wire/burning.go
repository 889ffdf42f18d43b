package wire

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// Burning is what a rig burns by speed and grade.
type Burning struct {
	Rates    []FuelRate `json:"rates" doc:"By grade, then by speed"`
	Coverage float64    `json:"coverage" doc:"The share of such rigs and days that lies between both ends"`
	Logs     int        `json:"logs" doc:"Of the user, by which drag, tires and engine were reckoned"`
	Learnt   *Learnt    `json:"by_logs" doc:"What these figures are by the logs; null for no log"`
	Unknown  string     `json:"unknown,omitempty"`
}

// FuelRate is what a rig burns at a speed on a grade.
type FuelRate struct {
	SpeedKMH float64  `json:"speed_kmh"`
	Grade    float64  `json:"grade" doc:"Rise over run"`
	Likely   *float64 `json:"likely_l_per_100km" doc:"Null where the engine may not hold the speed"`
	Low      *float64 `json:"low_l_per_100km" doc:"Of the ends that the covered share lies between"`
	High     *float64 `json:"high_l_per_100km" doc:"Of the same ends"`
	MPG      *float64 `json:"likely_mpg_us" doc:"Miles per US gallon"`
}

// Learnt are figures as logs of fuel leave them, and as they are without.
type Learnt struct {
	Drag          float64 `json:"drag_area_m2" doc:"Likely"`
	DragBefore    float64 `json:"drag_area_without_m2" doc:"Likely, without logs"`
	Rolling       float64 `json:"rolling" doc:"Coefficient of rolling resistance on a paved road, likely"`
	RollingBefore float64 `json:"rolling_without" doc:"Likely, without logs"`
	Engine        float64 `json:"engine" doc:"Efficiency of the engine, likely"`
	EngineBefore  float64 `json:"engine_without" doc:"Likely, without logs"`
}

func (tell teller) newBurning(known measure.Known[rig.Burning]) Burning {
	b, _ := known.Value()
	out := Burning{
		Rates: each(b.Rates, newRate), Coverage: drive.Coverage, Logs: b.Logs, Unknown: tell.Say(known.Why()),
	}
	if b.Logs > 0 {
		now, was := b.Now, b.Without
		out.Learnt = &Learnt{float64(now.Drag.Likely), float64(was.Drag.Likely), now.Rolling.Likely,
			was.Rolling.Likely, now.Engine.Likely, was.Engine.Likely}
	}
	return out
}

func newRate(r rig.Rate) FuelRate {
	out := FuelRate{SpeedKMH: kmh(r.Speed), Grade: r.Grade}
	if !r.Held {
		return out
	}
	per100 := func(c measure.Consumption) *float64 {
		v := round(float64(c / measure.LitrePer100Kilometres))
		return &v
	}
	mpg := round(r.Burns.Likely.MilesPerUSGallon())
	out.Likely, out.Low, out.High, out.MPG = per100(r.Burns.Likely), per100(r.Burns.Low), per100(r.Burns.High), &mpg
	return out
}
