package wire

import (
	"errors"
	"fmt"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/trip/driving"
)

// ConditionsRequest is what fuel and wind are reckoned with beside the road. What is
// left out is what each answer names: air within a range, at sea level, no wind, no
// idling.
type ConditionsRequest struct {
	TemperatureC *float64 `json:"temperature_c,omitempty" minimum:"-60" maximum:"60" doc:"Of the air"`
	AltitudeM    *float64 `json:"altitude_m,omitempty" minimum:"-500" maximum:"5000"`
	Altitude     *string  `json:"altitude,omitempty" doc:"Of the way above the sea; sea level when left out"`
	WindKMH      *float64 `json:"wind_kmh,omitempty" minimum:"0" maximum:"200"`
	Wind         *string  `json:"wind,omitempty" doc:"Speed of the wind; none when left out"`
	WindFrom     *float64 `json:"wind_from,omitempty" minimum:"0" maximum:"360" doc:"Degrees from north that it blows from; the worst for each road when left out"`
	Idle         string   `json:"idle,omitempty" maxLength:"20" doc:"How long the engine idles on the whole trip, such as 1h30m; by figures of diesel trucks"`
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
		r.within(field+".temperature_c", *q.TemperatureC, -60, 60)
		out.Kelvins = &kelvins
	}
	if l := r.offset(field+".altitude", q.AltitudeM, q.Altitude); l != nil {
		altitude := measure.Distance(l.Metres())
		r.within(field+".altitude", float64(altitude), -500, 5000)
		out.Altitude = &altitude
	}
	out.Wind = r.wind(q)
	if q.WindFrom != nil && q.Wind == nil && q.WindKMH == nil {
		r.fail(field+".wind_from", *q.WindFrom, "has no wind", "give wind too, such as 30 km/h, or leave both out")
	}
	if q.WindFrom != nil {
		r.within(field+".wind_from", *q.WindFrom, 0, 360)
		out.WindFrom = q.WindFrom
	}
	if q.Idle != "" {
		d, err := time.ParseDuration(q.Idle)
		if err != nil || d < 0 || d > 1000*time.Hour {
			r.fail(field+".idle", q.Idle, "is no time to idle", "write it like 45m or 1h30m")
		}
		out.Idle = d
	}
	if q.Windward != nil {
		r.within(field+".windward_share", *q.Windward, 0.05, 0.45)
		out.WindwardShare = *q.Windward
	}
	if q.Reserve != nil {
		r.within(field+".reserve", *q.Reserve, 0, 0.9)
		out.Reserve = *q.Reserve
	}
	return out
}

func (r *reader) wind(q *ConditionsRequest) measure.Speed {
	switch {
	case q.Wind != nil && q.WindKMH != nil:
		r.fail("conditions.wind", *q.Wind, "is given twice, as wind and as wind_kmh", "give exactly one of them")
	case q.WindKMH != nil:
		r.within("conditions.wind_kmh", *q.WindKMH, 0, 200)
		return measure.Speed(*q.WindKMH) * measure.KilometrePerHour
	case q.Wind != nil:
		v, err := measure.ParseSpeed(*q.Wind)
		var bad *measure.ParseError
		if errors.As(err, &bad) && bad.Zero {
			return 0
		}
		if err != nil {
			r.fail("conditions.wind", *q.Wind, err.Error(), "write it like 30 km/h")
		}
		r.within("conditions.wind", float64(v/measure.KilometrePerHour), 0, 200)
		return v
	}
	return 0
}

// within refuses a number outside of its bounds.
func (r *reader) within(field string, v, low, high float64) {
	if !(v >= low && v <= high) {
		r.fail(field, v, fmt.Sprintf("is outside %g to %g", low, high), "check the figure and its unit")
	}
}
