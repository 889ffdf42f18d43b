package wire

import (
	"time"

	"wayhouse/routing/trip"
)

// StopOrder is the order that was chosen for the stops of a trip.
type StopOrder struct {
	Mark         string   `json:"mark,omitempty"`
	Stops        []int    `json:"stops" doc:"Their numbers, from 0, in the order in which they are driven"`
	By           string   `json:"by" enum:"dates,driving" doc:"What it was chosen by: its timetable, or the driving alone"`
	Says         string   `json:"says"`
	LateS        float64  `json:"late_s" doc:"After all deadlines together"`
	GivenLateS   *float64 `json:"given_late_s"`
	SoonerS      *float64 `json:"sooner_s"`
	LessDrivingS *float64 `json:"less_driving_s"`
	Sure         bool     `json:"sure" doc:"No other order is better"`
	Open         []string `json:"open" doc:"Why another one may be better all the same"`
}

// newStopOrder is nil where stops are driven as they were given.
func (tell teller) newStopOrder(o *trip.Order, mark string) *StopOrder {
	if o == nil {
		return nil
	}
	out := &StopOrder{
		Mark: mark, Stops: o.Stops, By: "driving", Says: tell.Say(o.Says()), Sure: len(o.Open) == 0,
		Open: append([]string{}, tell.Each(o.Open)...),
	}
	seconds := func(d time.Duration) *float64 { s := lasts(d); return &s }
	switch d := o.Dates; {
	case d != nil:
		out.By, out.LateS = "dates", lasts(d.Chosen.Late)
		if !d.Given.Never {
			out.GivenLateS, out.SoonerS = seconds(d.Given.Late), seconds(d.Given.Over.Sub(d.Chosen.Over))
			out.LessDrivingS = seconds(d.Given.Driving - d.Chosen.Driving)
		}
	case o.Saves != nil && o.Saves.Unknown.None():
		out.LessDrivingS = seconds(o.Saves.Duration)
	}
	return out
}
