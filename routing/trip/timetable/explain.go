package timetable

import "slices"

// explain tries what would help where something is missed.
func (ln *line) explain(t *Table) {
	j := *ln.journey
	m := t.Missed
	if !j.Depart.IsZero() && !j.AtOnce {
		m.Would = append(m.Would, ln.earlier())
	}
	if by := j.Stops[m.Stop].By; !m.Never && !by.IsZero() && by.Before(j.Depart) {
		m.Before = true
		return
	}
	m.Binds = binds(j)
	if j.habitual() {
		m.Would = append(m.Would, Tried(BeyondHabit, without(j, OfHabit)))
	}
	if j.Crew.Drivers < 2 {
		two := j
		two.Crew.Drivers = 2
		m.Would = append(m.Would, Tried(SecondDriver, two))
	}
	m.Would = append(m.Would, Tried(AnyHour, without(j, OfWindow, OfHabit)))
}

// earlier tries to depart earlier than asked, as late as that does.
func (ln *line) earlier() Remedy {
	out := Remedy{Kind: Earlier}
	by, ok := ln.firstDeadline()
	if !ok {
		return out
	}
	depart := upTo(ln.journey.Depart)
	if from, ok := ln.feasibleBefore(min(by, depart)); ok {
		out.Does, out.Depart = true, ln.latest(from, min(by, depart)).in(ln.journey.Stops[0].Zone)
	}
	return out
}

// Tried is what a journey comes to: from its departure, or from far back where it names
// none.
func Tried(kind Remedying, j Journey) Remedy {
	out := Remedy{Kind: kind}
	missed := missedBy(j)
	if missed == nil {
		out.Does = true
	} else {
		out.Late = missed.Late
	}
	return out
}

// Gains reports whether less is missed with a remedy than without.
func (m *Missed) Gains(r Remedy) bool {
	return r.Does || m.Never && r.Late > 0 || r.Late > 0 && r.Late < m.Late
}

func missedBy(j Journey) *Missed {
	ln := newLine(&j)
	if j.Depart.IsZero() {
		by, _ := ln.firstDeadline()
		if _, ok := ln.feasibleBefore(by); ok {
			return nil
		}
		return ln.outcome(by - farBack)
	}
	return ln.outcome(upTo(j.Depart))
}

// outcome is what is missed from a departure.
func (ln *line) outcome(depart minutes) *Missed {
	s := &search{line: ln}
	if end := s.from(0, s.start(depart)); len(end) == 0 {
		return &Missed{Never: true}
	}
	return s.missed
}

// binds is the least without which nothing would be missed.
func binds(j Journey) []Why {
	all := []Why{OfWindow, OfLimits, OfStop}
	if j.habitual() {
		all = append([]Why{OfHabit}, all...)
	}
	for n := 1; n <= len(all); n++ {
		for set := range 1 << len(all) {
			var some []Why
			for i, why := range all {
				if set>>i&1 == 1 {
					some = append(some, why)
				}
			}
			if len(some) == n && missedBy(without(j, some...)) == nil {
				return some
			}
		}
	}
	return []Why{OfWay}
}

// habitual reports whether the crew keeps hours of its own choice anywhere.
func (j *Journey) habitual() bool {
	return slices.ContainsFunc(j.Drives, func(d Drive) bool {
		return slices.ContainsFunc(d, func(s Section) bool { return s.Habit != nil })
	})
}

// without is a journey without some of what makes the rig stand.
func without(j Journey, some ...Why) Journey {
	if slices.Contains(some, OfStop) {
		j.Stops = slices.Clone(j.Stops)
		for i := range j.Stops {
			s := &j.Stops[i]
			*s = Stop{Label: s.Label, Zone: s.Zone, By: s.By, SetUp: s.SetUp, Packing: s.Packing}
		}
	}
	drives := make([]Drive, len(j.Drives))
	for i, d := range j.Drives {
		drives[i] = slices.Clone(d)
		for k := range d {
			if slices.Contains(some, OfWindow) {
				drives[i][k].Hours = nil
			}
			if slices.Contains(some, OfHabit) {
				drives[i][k].Habit = nil
			}
			if slices.Contains(some, OfLimits) {
				drives[i][k].Limits, drives[i][k].Halt = Limits{}, 0
			}
		}
	}
	j.Drives = drives
	return j
}
