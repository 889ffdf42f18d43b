package trip

import (
	"time"

	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// Crew is who drives, and what they ask beside the law.
type Crew struct {
	timetable.Crew
	Driving time.Duration // no more between two rests; 0: as the law or the planned default has it
	Rest    time.Duration // no less
}

// Pace is what takes time on the way beside driving and rest.
type Pace struct {
	timetable.Habits
	Hours    *window.Schedule // at which the crew drives by its own choice; nil: whenever it may
	Border   time.Duration    // at a border between countries
	Ferry    time.Duration    // before one sails
	Handover time.Duration    // where escorts change
}

// morning is when a night at a stop is over: our choice.
const morning = 7 * time.Hour

// visits are the stops of a journey on their own clocks. Errors name the field that cannot
// be used.
func (p *Planner) visits(r *Request) ([]timetable.Stop, error) {
	var out []timetable.Stop
	for i, s := range r.Stops {
		v, zone := s.Visit, p.Zone(p.Areas.At(s.Point))
		stop := timetable.Stop{
			Label: say.Text(s.Label), Zone: zone, Stay: v.Stay, SetUp: v.SetUp, Packing: v.Packing, Nights: v.Nights,
		}
		for _, c := range []struct {
			name string
			from choosing.Clock
			to   *time.Time
		}{{"arrive_from", v.From, &stop.From}, {"arrive_by", v.By, &stop.By}, {"until", v.Until, &stop.Until}} {
			at, ok := c.from.In(zone)
			if !ok {
				return nil, fail(r.given(i)+"."+c.name, c.from.At.Format(wallClock),
					say.That("error.does_not_exist_at"), say.That("fix.give_another_time_or"))
			}
			*c.to = at
		}
		out = append(out, stop)
	}
	return out, r.inOrder(out)
}

const wallClock = "2006-01-02T15:04"

// inOrder refuses windows that end before they begin, and, of an order that was given, stops
// that no way of driving reaches one after the other.
func (r *Request) inOrder(stops []timetable.Stop) error {
	var after time.Time // the earliest that a stop may be left
	for i, s := range stops {
		bad := func(name string, at time.Time, problem, fix say.Remark) error {
			return fail(r.given(i)+"."+name, at.Format(wallClock), problem, fix)
		}
		switch {
		case i == 0 && !s.From.IsZero():
			return bad("arrive_from", s.From, say.That("error.the_trip_begins_there"), say.That("fix.give_depart_or_until"))
		case i == 0 && !s.By.IsZero():
			return bad("arrive_by", s.By, say.That("error.the_trip_begins_there"), say.That("fix.give_depart_or_until"))
		case !s.From.IsZero() && !s.By.IsZero() && s.By.Before(s.From):
			return bad("arrive_by", s.By, say.That("error.before_arrive_from"), say.That("fix.check_both_times"))
		case !r.AnyOrder && !s.By.IsZero() && s.By.Before(after):
			return bad("arrive_by", s.By, say.That("error.before_a_stop", "until", after), say.That("fix.check_both_times"))
		case !s.Until.IsZero() && !s.From.IsZero() && s.Until.Before(s.From):
			return bad("until", s.Until, say.That("error.before_arrive_from"), say.That("fix.check_both_times"))
		}
		for _, at := range []time.Time{s.From, s.Until} {
			if at.After(after) {
				after = at
			}
		}
	}
	return nil
}

// lasting is how long a trip stays at its stops, or is kept by their dates, after its
// departure at the least.
func lasting(stops []timetable.Stop, departure time.Time) (long time.Duration) {
	long = staying(stops)
	for _, s := range stops {
		for _, at := range []time.Time{s.From, s.Until} {
			if !at.IsZero() {
				long = max(long, at.Sub(departure))
			}
		}
	}
	return long
}
