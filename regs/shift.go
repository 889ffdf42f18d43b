package regs

import (
	"cmp"
	"time"

	"wayhouse/regs/duty"
	"wayhouse/regs/limit"
)

// Shift is what binds a driver's hours, as rows say or as it is planned where none binds. A
// part that is 0 is not limited.
type Shift struct {
	Driving    time.Duration // between two rests
	OnDuty     time.Duration // work between two rests
	Elapsed    time.Duration // since a rest ended, in which there is driving
	Rest       time.Duration // in one go
	DayDriving time.Duration // in each day
	DayOff     time.Duration // off duty in each day, with the rest
	FreeOff    time.Duration // in one go, once in so many days
	FreeDays   int
	BreakAfter time.Duration // of driving
	Break      time.Duration
	Cycle      time.Duration // work in so many days
	CycleDays  int
	Restart    time.Duration // the rest that begins a new cycle
	// Default tells that no row is known to bind: it is what this project plans with, no law.
	Default bool
	Rows    []*duty.Row
}

// PlannedShift is what is planned where no law of hours is known to bind: 10 h of driving and
// 8 h of rest, our choice.
func PlannedShift() Shift {
	return Shift{Driving: 10 * time.Hour, Rest: 8 * time.Hour, Default: true}
}

// Shift is what binds the hours of a drive in one jurisdiction: that of [PlannedShift] for
// who does not travel for business, or does not say, and where no row binds. Of a cycle that
// may be chosen the one of the fewest days counts.
func (t *Tables) Shift(d Drive) Shift {
	var out Shift
	if d.Use != limit.Commercial {
		return PlannedShift()
	}
	for _, topic := range duty.Hours() {
		for _, r := range t.dutyRows(d.Jurisdiction, topic) {
			if applies, _ := r.Binds(d.asked()); applies != limit.No && !r.Free {
				out.take(r)
				out.Rows = append(out.Rows, r)
			}
		}
	}
	if out.Driving == 0 && out.OnDuty == 0 && out.Elapsed == 0 {
		return PlannedShift()
	}
	if out.Rest == 0 {
		out.Rest = PlannedShift().Rest
	}
	if out.BreakAfter > 0 && out.Break == 0 {
		out.Break = out.Rest // how long it is, no row says
	}
	return out
}

// take makes a shift as strict as a row.
func (s *Shift) take(r *duty.Row) {
	switch r.Topic {
	case duty.Driving:
		s.Driving = least(s.Driving, r.Hours)
		if r.Days == 1 {
			s.DayDriving = least(s.DayDriving, r.Hours)
		}
	case duty.OnDuty:
		s.OnDuty = least(s.OnDuty, r.Hours)
	case duty.Elapsed:
		s.Elapsed = least(s.Elapsed, r.Hours)
	case duty.Rest:
		if r.Days > 0 {
			s.FreeOff, s.FreeDays = max(s.FreeOff, r.Hours), min(cmp.Or(s.FreeDays, r.Days), r.Days)
		} else {
			s.Rest, s.DayOff = max(s.Rest, r.Hours), max(s.DayOff, r.Off)
		}
	case duty.Break:
		s.BreakAfter, s.Break = least(s.BreakAfter, r.Hours), max(s.Break, r.Off)
	case duty.Cycle:
		if s.CycleDays == 0 || r.Days < s.CycleDays {
			s.Cycle, s.CycleDays, s.Restart = r.Hours, r.Days, r.Off
		}
	}
}

// least is the lesser of two limits, of which 0 is none.
func least(a, b time.Duration) time.Duration {
	if a == 0 || b > 0 && b < a {
		return b
	}
	return a
}
