package wire

import (
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// VisitRequest is when a stop is to be reached and left.
type VisitRequest struct {
	ArriveFrom string         `json:"arrive_from,omitempty" maxLength:"40"`
	ArriveBy   string         `json:"arrive_by,omitempty" maxLength:"40"`
	Stay       Time           `json:"stay,omitzero" minimum:"0" maximum:"2000"`
	Until      string         `json:"until,omitempty" maxLength:"40"`
	SetUp      Time           `json:"set_up,omitzero" minimum:"0" maximum:"100" doc:"Work after arrival, such as 45 min"`
	Packing    Time           `json:"packing,omitzero" minimum:"0" maximum:"100"`
	Nights     int            `json:"nights,omitempty" minimum:"0" maximum:"60"`
	Ground     *GroundRequest `json:"ground,omitempty" doc:"What is known of the place where the unit stands"`
}

// CrewRequest is who drives.
type CrewRequest struct {
	Drivers int  `json:"drivers,omitempty" minimum:"1" maximum:"2"`
	Driving Time `json:"driving,omitzero" minimum:"0.5" maximum:"24"`
	Rest    Time `json:"rest,omitzero" minimum:"0.5" maximum:"48"`
}

// PaceRequest is what takes time on the way beside driving and rest. What is left out takes
// none.
type PaceRequest struct {
	NotDriven      Time    `json:"not_driven_per_hour,omitzero" minimum:"0" maximum:"0.9"`
	LoadCheckAfter Journey `json:"load_check_after,omitzero" minimum:"1" maximum:"5000"`
	LoadCheckEvery Journey `json:"load_check_every,omitzero" minimum:"1" maximum:"5000"`
	LoadCheck      Time    `json:"load_check,omitzero" minimum:"0" maximum:"10" doc:"What one check takes, such as 10 min"`
	FuelEvery      Journey `json:"fuel_every,omitzero" minimum:"20" maximum:"5000"`
	FuelStop       Time    `json:"fuel_stop,omitzero" minimum:"0" maximum:"10"`
	Hours          string  `json:"hours,omitempty" maxLength:"200"`
	Border         Time    `json:"border,omitzero" minimum:"0" maximum:"100"`
	Ferry          Time    `json:"ferry,omitzero" minimum:"0" maximum:"100" doc:"Before each ferry sails, such as 45 min"`
	Handover       Time    `json:"handover,omitzero" minimum:"0" maximum:"100"`
}

func (r *reader) visit(field string, q VisitRequest) choosing.Visit {
	at := func(name, text string) (c choosing.Clock) {
		if text != "" {
			c.At, c.Local = r.clock(field+"."+name, text)
		}
		return c
	}
	return choosing.Visit{
		From: at("arrive_from", q.ArriveFrom), By: at("arrive_by", q.ArriveBy), Until: at("until", q.Until),
		Stay: q.Stay.Or(0), SetUp: q.SetUp.Or(0), Packing: q.Packing.Or(0), Nights: q.Nights, Ground: ground(q.Ground),
	}
}

func crew(q *CrewRequest) trip.Crew {
	if q == nil {
		return trip.Crew{}
	}
	return trip.Crew{Crew: timetable.Crew{Drivers: q.Drivers}, Driving: q.Driving.Or(0), Rest: q.Rest.Or(0)}
}

func (r *reader) pace(q *PaceRequest) trip.Pace {
	if q == nil {
		return trip.Pace{}
	}
	return trip.Pace{
		Hours: r.habit("pace.hours", q.Hours), Border: q.Border.Or(0), Ferry: q.Ferry.Or(0), Handover: q.Handover.Or(0),
		Habits: timetable.Habits{
			NotDriven:  q.NotDriven.Or(0),
			CheckFirst: timetable.Interval{Way: q.LoadCheckAfter.Or(0)},
			CheckEvery: timetable.Interval{Way: q.LoadCheckEvery.Or(0)}, Check: q.LoadCheck.Or(0),
			FuelEvery: q.FuelEvery.Or(0), Fuel: q.FuelStop.Or(0),
		},
	}
}

// habit reads hours as tables write them, nil where there are none.
func (r *reader) habit(field, text string) *window.Schedule {
	if text == "" {
		return nil
	}
	out, err := window.Parse(text)
	if err != nil {
		r.fail(field, text, say.That("error.no_hours", "why", say.Of(err)), say.That("fix.like", "text", "sunrise-sunset"))
	}
	return out
}
