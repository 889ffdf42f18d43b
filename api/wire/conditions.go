package wire

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/driving"
)

// ConditionsRequest is what fuel and wind are reckoned with beside the road. What is
// left out is what each answer names: air within a range, at sea level, a common wind, no
// idling.
type ConditionsRequest struct {
	TemperatureC *float64 `json:"temperature_c,omitempty" minimum:"-60" maximum:"60" doc:"Of the air"`
	Altitude     Offset   `json:"altitude,omitzero" minimum:"-500" maximum:"5000" doc:"Of the way above the sea; sea level when left out"`
	Wind         Breeze   `json:"wind,omitzero" minimum:"0" maximum:"200" doc:"Speed of the wind; may be 0 km/h. A common one from anywhere when left out"`
	WindFrom     *float64 `json:"wind_from,omitempty" minimum:"0" maximum:"360" doc:"Degrees from north that it blows from; from anywhere when left out"`
	Idle         Time     `json:"idle,omitzero" minimum:"0" maximum:"1000" doc:"How long the engine idles on the whole trip, such as 1h30m; by figures of diesel trucks"`
	Windward     *float64 `json:"windward_share,omitempty" minimum:"0.05" maximum:"0.45" doc:"The share of what the unit's tires carry that is to stay on the windward ones in a gust; 0.3 when left out, 0.5 is still air"`
	Reserve      *float64 `json:"reserve,omitempty" minimum:"0" maximum:"0.9" doc:"Share of the tank that is not planned with; 0.25 when left out"`
}

func (r *reader) conditions(q *ConditionsRequest) driving.Conditions {
	out := driving.Conditions{Reserve: driving.DefaultReserve}
	if q == nil {
		return out
	}
	const field = "conditions"
	if q.TemperatureC != nil {
		kelvins := *q.TemperatureC + 273.15
		out.Kelvins = &kelvins
	}
	if l := q.Altitude.Is; l != nil {
		altitude := measure.Distance(l.Metres())
		out.Altitude = &altitude
	}
	out.Wind, out.Idle = q.Wind.Is, q.Idle.Or(0)
	if out.WindFrom = q.WindFrom; q.WindFrom != nil && q.Wind.Is == nil {
		r.fail(field+".wind_from", *q.WindFrom, say.That("error.no_wind"), say.That("fix.give_wind_too_such"))
	}
	if q.Windward != nil {
		out.WindwardShare = *q.Windward
	}
	if q.Reserve != nil {
		out.Reserve = *q.Reserve
	}
	return out
}
