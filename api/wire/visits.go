package wire

import (
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// VisitRequest is when a stop is to be reached and left.
type VisitRequest struct {
	ArriveFrom string         `json:"arrive_from,omitempty" maxLength:"40" doc:"Not received earlier, on the clock of the stop, such as 2027-05-14T15:00; the rig waits"`
	ArriveBy   string         `json:"arrive_by,omitempty" maxLength:"40" doc:"The deadline of arrival, on the clock of the stop, such as 2027-05-14T18:00"`
	Stay       Time           `json:"stay,omitzero" minimum:"0" maximum:"2000" doc:"How long it stays at least, such as 2 h, beside setting up and packing"`
	Until      string         `json:"until,omitempty" maxLength:"40" doc:"It leaves no earlier, on the clock of the stop, such as 2027-05-17T09:00"`
	SetUp      Time           `json:"set_up,omitzero" minimum:"0" maximum:"100" doc:"Work after arrival, such as 45 min"`
	Packing    Time           `json:"packing,omitzero" minimum:"0" maximum:"100" doc:"Work before leaving, such as 1 h 30 min"`
	Nights     int            `json:"nights,omitempty" minimum:"0" maximum:"60" doc:"It leaves no earlier than on the morning after so many nights"`
	Ground     *GroundRequest `json:"ground,omitempty" doc:"What is known of the place where the unit stands"`
}

// CrewRequest is who drives.
type CrewRequest struct {
	Drivers int  `json:"drivers,omitempty" minimum:"1" maximum:"2" doc:"One when left out; two drive in turns and are both on duty"`
	Driving Time `json:"driving,omitzero" minimum:"0.5" maximum:"24" doc:"No more driving between two rests, such as 8 h, for each driver; where no law is known to bind 10 h when left out"`
	Rest    Time `json:"rest,omitzero" minimum:"0.5" maximum:"48" doc:"No less rest in one go, such as 9 h; where no law is known to bind 8 h when left out"`
}

// PaceRequest is what takes time on the way beside driving and rest. What is left out takes
// none.
type PaceRequest struct {
	NotDriven      Time    `json:"not_driven_per_hour,omitzero" minimum:"0" maximum:"0.9" doc:"Of each hour under way, such as 5 min"`
	LoadCheckAfter Journey `json:"load_check_after,omitzero" minimum:"1" maximum:"5000" doc:"How far from each stop the load is checked first, such as 80 km"`
	LoadCheckEvery Journey `json:"load_check_every,omitzero" minimum:"1" maximum:"5000" doc:"How far from one check to the next, such as 240 km"`
	LoadCheck      Time    `json:"load_check,omitzero" minimum:"0" maximum:"10" doc:"What one check takes, such as 10 min"`
	FuelEvery      Journey `json:"fuel_every,omitzero" minimum:"20" maximum:"5000" doc:"How far from one filling to the next, such as 400 km"`
	FuelStop       Time    `json:"fuel_stop,omitzero" minimum:"0" maximum:"10" doc:"What one filling takes, such as 20 min"`
	Border         Time    `json:"border,omitzero" minimum:"0" maximum:"100" doc:"At each border between countries, such as 1 h"`
	Ferry          Time    `json:"ferry,omitzero" minimum:"0" maximum:"100" doc:"Before each ferry sails, such as 45 min"`
	Handover       Time    `json:"handover,omitzero" minimum:"0" maximum:"100" doc:"At each border of provinces and states at which escorts change, such as 30 min"`
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

func pace(q *PaceRequest) trip.Pace {
	if q == nil {
		return trip.Pace{}
	}
	return trip.Pace{
		Border: q.Border.Or(0), Ferry: q.Ferry.Or(0), Handover: q.Handover.Or(0),
		Habits: timetable.Habits{
			NotDriven:  q.NotDriven.Or(0),
			CheckFirst: timetable.Interval{Way: q.LoadCheckAfter.Or(0)},
			CheckEvery: timetable.Interval{Way: q.LoadCheckEvery.Or(0)}, Check: q.LoadCheck.Or(0),
			FuelEvery: q.FuelEvery.Or(0), Fuel: q.FuelStop.Or(0),
		},
	}
}
