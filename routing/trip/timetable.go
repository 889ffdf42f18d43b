package trip

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/window"
	"wayhouse/routing/trip/timetable"
)

// Timetable is when a plan drives, rests and stands. The entries of its table name the legs
// of the plan: [timetable.Entry.Leg] counts them from 0.
type Timetable struct {
	Journey timetable.Journey // what it was made of
	timetable.Table
	Nights []Night // rests on the way at places of the network, in the order of travel
}

// longestShift is the longest that one driver drives between two rests, or stays that are
// as long as one.
func (t *Timetable) longestShift() (longest time.Duration) {
	var shift, off time.Duration
	for _, e := range t.Entries {
		switch e.Kind {
		case timetable.Driving:
			if off >= t.Journey.Drives[e.Drive][e.Section].Limits.Rest {
				shift = 0
			}
			shift, off = shift+e.To.Sub(e.From), 0
		case timetable.Rest, timetable.Break, timetable.Wait, timetable.Stay:
			off += e.To.Sub(e.From)
		default:
			off = 0
		}
		longest = max(longest, shift)
	}
	return longest / time.Duration(max(t.Journey.Crew.Drivers, 1))
}

// HoursOpen lists the jurisdictions of a leg for which no row says at which hours the rig may
// travel under a permit that is asked for, be it perhaps: a timetable drives there at any hour.
func (l *Leg) HoursOpen() (out []string) {
	for _, f := range l.Findings {
		if f.Topic == finding.Hours && f.Outcome == finding.Unknown && f.Reason == finding.NoRow &&
			!slices.Contains(out, f.Jurisdiction) {
			out = append(out, f.Jurisdiction)
		}
	}
	return out
}

// HoursOpen lists those of all the legs on which some entries of the timetable drive.
func (p *Plan) HoursOpen(of []timetable.Entry) (out []string) {
	for _, e := range of {
		if e.Kind != timetable.Driving || e.Leg < 0 || e.Leg >= len(p.Legs) {
			continue
		}
		for _, code := range p.Legs[e.Leg].HoursOpen() {
			if !slices.Contains(out, code) {
				out = append(out, code)
			}
		}
	}
	return out
}

// InTheDark reports whether the timetable drives anywhere while the sun is down.
func (p *Plan) InTheDark() bool {
	return slices.ContainsFunc(p.Timetable.Entries, func(e timetable.Entry) bool {
		return e.Kind == timetable.Driving && p.Legs[e.Leg].inTheDark(e.From, e.To)
	})
}

// inTheDark reports whether the sun is down at an end of a leg at some of a time.
func (l *Leg) inTheDark(from, to time.Time) bool {
	for i, end := range l.Line {
		if i > 0 && i < len(l.Line)-1 {
			continue
		}
		sun := window.LightAt(end).Sun
		for day := from; day.Before(to); day = day.AddDate(0, 0, 1) {
			if rise, set, _ := sun(day); from.Before(rise) && to.After(rise) || from.Before(set) && to.After(set) ||
				to.Before(rise) || from.After(set) {
				return true
			}
		}
	}
	return false
}
