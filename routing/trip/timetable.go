package trip

import "wayhouse/routing/trip/timetable"

// Timetable is when a plan drives, rests and stands. The entries of its table name the legs
// of the plan: [timetable.Entry.Leg] counts them from 0.
type Timetable struct {
	Journey timetable.Journey // what it was made of
	timetable.Table
}
