package trip

import (
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip/timetable"
)

// mostSteps is how many smaller sizes of each kind are planned anew: our choice.
const mostSteps = 4

// remedies tries, where a timetable misses a deadline, what takes other hours on the same way:
// a permit of each jurisdiction whose hours are kept, and a unit that is smaller. What gains
// nothing is not told.
func (b *builder) remedies(ways []way, cuts []cut, t *Timetable) {
	if t == nil || t.Missed == nil || t.Missed.Before {
		return
	}
	s, j, ok := b.journey(ways, cuts)
	if !ok {
		return
	}
	m := t.Missed
	for _, code := range s.permitHours() {
		r := timetable.Tried(timetable.AnotherPermit, s.at(j, s.vehicle(), code))
		r.Jurisdiction, r.Whom = code, s.Tables.OfficeName(code)
		if m.Gains(r) {
			m.Would = append(m.Would, r)
		}
	}
	for _, one := range []struct {
		kind timetable.Remedying
		of   limit.Quantity
	}{
		{timetable.Narrower, limit.Width}, {timetable.Lower, limit.Height}, {timetable.Shorter, limit.CombinationLength},
	} {
		if r, ok := s.smaller(j, m, one.of); ok {
			r.Kind = one.kind
			m.Would = append(m.Would, r)
		}
	}
}

// permitHours lists the jurisdictions on the way whose permits take hours away.
func (s *scheduling) permitHours() (out []string) {
	for _, c := range s.cuts {
		zone := s.zoneOf(c)
		rules := func(spared ...string) int {
			return len(s.Tables.TravelRules(s.vehicle(), s.place(c), s.from.In(zone), s.until.In(zone), spared...))
		}
		for _, code := range c.codes {
			if !slices.Contains(out, code) && rules(code) < rules() {
				out = append(out, code)
			}
		}
	}
	return out
}

// at is a journey at the hours of another vehicle, or without those of permits of
// jurisdictions.
func (s *scheduling) at(j timetable.Journey, v regs.Vehicle, spared ...string) timetable.Journey {
	hours := make([]*timetable.Hours, len(s.cuts))
	for i, c := range s.cuts {
		hours[i] = s.hours(c, v, spared...)
	}
	drives := make([]timetable.Drive, len(j.Drives))
	for d, sections := range j.Drives {
		drives[d] = slices.Clone(sections)
		for i := range sections {
			drives[d][i].Hours = hours[s.drives[d][i].cut]
		}
	}
	j.Drives = drives
	return j
}

// smaller tries a unit with less of a quantity, by as little as changes its hours and gains
// the most; ok is false where none gains anything.
func (s *scheduling) smaller(
	j timetable.Journey, m *timetable.Missed, q limit.Quantity,
) (best timetable.Remedy, ok bool) {
	v := s.vehicle()
	is, known := v.Measures[q].Value()
	if !known {
		return best, false
	}
	last, tries := s.rules(v), 0
	for _, size := range s.steps(q, v) {
		less := s.with(q, size)
		rules := s.rules(less)
		if slices.Equal(rules, last) {
			continue
		}
		if last, tries = rules, tries+1; tries > mostSteps {
			break
		}
		r := timetable.Tried("", s.at(j, less))
		r.Size, r.Less = measure.Length(size), measure.Length(is-size)
		if m.Gains(r) && (!ok || r.Does || r.Late < best.Late) {
			best, ok = r, true
		}
		if r.Does {
			break
		}
	}
	return best, ok
}

// with is the vehicle with less of a quantity; what is taken off a length is taken off the unit.
func (s *scheduling) with(q limit.Quantity, size limit.Amount) regs.Vehicle {
	v := s.vehicle()
	if unit, ok := v.Measures[limit.TrailerLength].Value(); ok && q == limit.CombinationLength {
		whole, _ := v.Measures[q].Value()
		v.Measures[limit.TrailerLength] = measure.Exactly(unit - (whole - size))
	}
	v.Measures[q] = measure.Exactly(size)
	return v
}

// rules are those of hours on the way, cut by cut.
func (s *scheduling) rules(v regs.Vehicle) (out []string) {
	for _, c := range s.cuts {
		zone := s.zoneOf(c)
		for _, r := range s.Tables.TravelRules(v, s.place(c), s.from.In(zone), s.until.In(zone)) {
			out = append(out, r.ID)
		}
		out = append(out, "")
	}
	return out
}

// steps are the sizes at which hours on the way may change, the greatest first.
func (s *scheduling) steps(q limit.Quantity, v regs.Vehicle) (out []limit.Amount) {
	for _, c := range s.cuts {
		out = append(out, s.Tables.Steps(q, v, s.place(c))...)
		if unit, ok := v.Measures[limit.TrailerLength].Value(); ok && q == limit.CombinationLength {
			whole, _ := v.Measures[q].Value()
			for _, step := range s.Tables.Steps(limit.TrailerLength, v, s.place(c)) {
				out = append(out, whole-(unit-step))
			}
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	slices.Reverse(out)
	return out
}
