package trip

import (
	"time"

	"wayhouse/routing/trip/timetable"
)

// Timetable is when a plan drives, rests and stands. The entries of its table name the legs
// of the plan: [timetable.Entry.Leg] counts them from 0.
type Timetable struct {
	Journey timetable.Journey // what it was made of
	timetable.Table
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
