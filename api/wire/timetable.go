package wire

import (
	"time"

	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
)

// Timetable is when a trip drives, rests and stands. It is planned on the slow times of the
// road; the likely ones stand beside.
type Timetable struct {
	Mark       string          `json:"mark,omitempty"`
	Departure  time.Time       `json:"departure"`
	Latest     *time.Time      `json:"latest_departure"`
	Arrival    *time.Time      `json:"arrival" doc:"At the last stop, likely; null where it is not reached"`
	Slow       *time.Time      `json:"arrival_slow" doc:"At the last stop, as planned; null where it is not reached"`
	IfHolidays bool            `json:"if_holidays" doc:"It drives at hours that are open if the list of holidays is right"`
	Stops      []Call          `json:"stops" doc:"Those that are reached, in the order of travel"`
	HoursOpen  []string        `json:"hours_not_known"`
	FuelBy     trip.Fuelling   `json:"fuel_stops_by" enum:"pace,tank,unknown,no_time"`
	Days       []TravelDay     `json:"days" doc:"On which something begins; a stay goes on over those between"`
	Missed     *MissedDeadline `json:"missed" doc:"The first deadline that is not met; null where all are"`
}

// Call is a stop of a timetable.
type Call struct {
	Mark        string     `json:"mark,omitempty"`
	Place       string     `json:"place"`
	By          *time.Time `json:"arrive_by" doc:"Its deadline; null: none"`
	Arrival     *time.Time `json:"arrival" doc:"Likely; null at the first stop"`
	ArrivalSlow *time.Time `json:"arrival_slow" doc:"As planned; null at the first stop"`
	Leaves      *time.Time `json:"leaves" doc:"As planned; null at the last stop"`
	SlackS      *float64   `json:"slack_s"`
	LateS       float64    `json:"late_s" doc:"After its deadline; 0: in time"`
}

// TravelDay is one day of a timetable, on the calendar of where it begins.
type TravelDay struct {
	Mark     string        `json:"mark,omitempty"`
	Date     string        `json:"date" format:"date"`
	Leaves   *time.Time    `json:"leaves" doc:"When its first driving begins; null where nothing is driven"`
	Ends     *time.Time    `json:"ends" doc:"When its last driving is likely over; null where nothing is driven"`
	EndsSlow *time.Time    `json:"ends_slow" doc:"When its last driving is over as planned; null where nothing is driven"`
	DrivingS float64       `json:"driving_s" doc:"As planned"`
	LengthM  float64       `json:"length_m"`
	Entries  []TravelEntry `json:"entries" doc:"What begins on the day, without a gap"`
}

// TravelEntry is one thing that the crew does.
type TravelEntry struct {
	Mark string         `json:"mark,omitempty"`
	Kind timetable.Kind `json:"kind" enum:"drive,break,rest,wait,check,fuel,border,handover,ferry,set_up,packing,stay"`

	From       time.Time     `json:"from" doc:"As planned"`
	To         time.Time     `json:"to" doc:"As planned"`
	Likely     time.Time     `json:"to_likely" doc:"When it is likely over"`
	Stop       *int          `json:"stop" doc:"The number of the stop at which it is, from 1; null under way"`
	Leg        *int          `json:"leg" doc:"The number of the leg on which it is, from 1; null at a stop"`
	BeginsM    float64       `json:"begins_m" doc:"Where, from the first stop"`
	EndsM      float64       `json:"ends_m" doc:"Where it is over, from the first stop"`
	Why        timetable.Why `json:"why,omitempty" enum:"window,habit,limits,arrival,stop"`
	IfHolidays bool          `json:"if_holidays" doc:"It drives at hours that are open if the list of holidays is right"`
	HoursOpen  []string      `json:"hours_not_known"`
	RestsAt    *RestPlace    `json:"rests_at,omitempty" doc:"The place where it rests; left out where none is known"`
}

// RestPlace is a place of the road data at which a rig rests on its way. That it is open, free
// and large enough is not said.
type RestPlace struct {
	Mark         string  `json:"mark,omitempty"`
	Kind         string  `json:"kind" enum:"rest area,service area,truck parking"`
	Name         string  `json:"name,omitempty"`
	AlongM       float64 `json:"along_m" doc:"Where the way is left for the place, from the first stop"`
	OffM         float64 `json:"off_m" doc:"By road from the way to the place"`
	TruckLots    *int    `json:"truck_lots" doc:"How many are for trucks; null where the map does not say"`
	OpeningHours string  `json:"opening_hours,omitempty" doc:"As the map writes them"`
	Charge       string  `json:"charge,omitempty" doc:"Whether it costs money, as the map writes it"`
	Toilets      string  `json:"toilets,omitempty" doc:"Whether there are any, as the map writes it"`
	LaterS       float64 `json:"later_s" doc:"By how much the rest there puts off the last stop"`
}

// MissedDeadline is a deadline that cannot be met, or a stop that is not reached.
type MissedDeadline struct {
	Mark   string          `json:"mark,omitempty"`
	Place  string          `json:"place"`
	LateS  float64         `json:"late_s" doc:"At the least; 0 where it is never reached"`
	Before bool            `json:"due_before_departure" doc:"It is due before the trip may begin, as what is past is"`
	Never  bool            `json:"never" doc:"Nothing that is known lets the rig go on"`
	Binds  []timetable.Why `json:"binds" enum:"window,habit,limits,stop,way"`
	Tried  []Remedy        `json:"tried" doc:"What was tried"`
}

// Remedy is something that was tried to meet a deadline.
type Remedy struct {
	Mark string              `json:"mark,omitempty"`
	Kind timetable.Remedying `json:"kind" enum:"earlier,habit,second_driver,any_hour,order,permit,narrower,lower,shorter"`

	Does   bool       `json:"does" doc:"Nothing is missed then"`
	Depart *time.Time `json:"depart" doc:"At which departure; null: at that of the timetable"`
	LateS  float64    `json:"late_s" doc:"What is still missed by"`
	Stops  []int      `json:"stops"`

	Jurisdiction string   `json:"jurisdiction,omitempty" doc:"Whose permit it is"`
	Ask          string   `json:"ask,omitempty" doc:"Whom to ask for it"`
	LessM        *float64 `json:"less_m,omitempty" doc:"By how much the unit is smaller then"`
	SizeM        *float64 `json:"size_m,omitempty" doc:"What it measures then, of a length the whole rig"`
}

// newTimetable is nil where a plan has none.
func (tell teller) newTimetable(p *trip.Plan, mark string) *Timetable {
	t := p.Timetable
	if t == nil {
		return nil
	}
	place := func(stop int) string { return tell.Say(p.StopCalled(stop)) }
	out := &Timetable{
		Mark: mark, Departure: second(t.Departure), Latest: instant(t.Latest), Arrival: instant(t.Arrival.Likely),
		Slow: instant(t.Arrival.Slow), IfHolidays: t.IfHolidays, Stops: []Call{}, Days: []TravelDay{},
		HoursOpen: append([]string{}, p.HoursOpen(t.Entries)...), FuelBy: t.Fuelling(),
	}
	for i, c := range t.Calls {
		call := Call{
			Mark: mark, Place: place(i), By: instant(t.Journey.Stops[i].By), Arrival: instant(c.Arrive.Likely),
			ArrivalSlow: instant(c.Arrive.Slow), Leaves: instant(c.Leave.Slow), LateS: lasts(c.Late),
		}
		if c.Slack != nil {
			s := lasts(*c.Slack)
			call.SlackS = &s
		}
		out.Stops = append(out.Stops, call)
	}
	for _, d := range t.Days {
		out.Days = append(out.Days, newTravelDay(p, d, mark))
	}
	if m := t.Missed; m != nil {
		out.Missed = &MissedDeadline{
			Mark: mark, Place: place(m.Stop), LateS: lasts(m.Late), Before: m.Before, Never: m.Never,
			Binds: append([]timetable.Why{}, m.Binds...),
			Tried: each(m.Would, func(r timetable.Remedy) Remedy { return tell.remedy(r, mark) }),
		}
	}
	return out
}

func (tell teller) remedy(r timetable.Remedy, mark string) Remedy {
	out := Remedy{
		Mark: mark, Kind: r.Kind, Does: r.Does, Depart: instant(r.Depart), LateS: lasts(r.Late),
		Stops: append([]int{}, r.Order...), Jurisdiction: r.Jurisdiction, Ask: tell.Say(r.Whom),
	}
	if r.Less > 0 {
		less, size := r.Less.Metres(), r.Size.Metres()
		out.LessM, out.SizeM = &less, &size
	}
	return out
}

func newTravelDay(p *trip.Plan, d timetable.Day, mark string) TravelDay {
	t := p.Timetable
	out := TravelDay{
		Mark: mark, Date: d.Date.Format(time.DateOnly), DrivingS: lasts(d.Driving), LengthM: round(float64(d.Way)),
		Entries: []TravelEntry{},
	}
	if from, to, ok := timetable.Driven(t.On(d)); ok {
		out.Leaves, out.Ends, out.EndsSlow = instant(from), instant(to.Likely), instant(to.Slow)
	}
	for _, e := range t.On(d) {
		out.Entries = append(out.Entries, TravelEntry{
			Mark: mark, Kind: e.Kind, From: second(e.From), To: second(e.To), Likely: second(e.Likely), Stop: numbered(e.Stop),
			Leg: numbered(e.Leg), BeginsM: round(float64(e.Begins)), EndsM: round(float64(e.Ends)), Why: e.For,
			IfHolidays: e.IfHolidays, HoursOpen: append([]string{}, p.HoursOpen([]timetable.Entry{e})...),
			RestsAt: restPlace(t.NightAt(e), mark),
		})
	}
	return out
}

// restPlace is nil where none is known.
func restPlace(n *trip.Night, mark string) *RestPlace {
	if n == nil {
		return nil
	}
	out := &RestPlace{
		Mark: mark, Kind: n.Kind.String(), Name: n.Name, AlongM: round(float64(n.Along)), OffM: round(float64(n.There)),
		OpeningHours: n.Hours, Charge: n.Fee, Toilets: n.Toilets, LaterS: lasts(n.Later),
	}
	if lots, known := n.Trucks.Value(); known {
		out.TruckLots = &lots
	}
	return out
}

// numbered counts from 1, nil for what is not there.
func numbered(i int) *int {
	if i < 0 {
		return nil
	}
	i++
	return &i
}

// instant is a moment, nil where it is none.
func instant(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	t = second(t)
	return &t
}

// second is a moment in whole seconds: none along a road is known finer.
func second(t time.Time) time.Time { return t.Truncate(time.Second) }

// lasts is a time in whole seconds.
func lasts(d time.Duration) float64 { return d.Round(time.Second).Seconds() }
