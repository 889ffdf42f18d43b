package timetable

import (
	"cmp"
	"slices"
	"time"
)

func timeOf(y int, m time.Month, d, minute int, zone *time.Location) time.Time {
	return time.Date(y, m, d, 0, minute, 0, 0, zone)
}

// end is a way of standing off duty: for so long at least, and until a moment at least.
type end struct {
	least, until minutes
	why          Why
	over         minutes // when it is, so that the crew may go on
}

// stand adds to the labels of a place those that stand there off duty first. A crew that has
// waited to be received is off duty since it came.
func (s *search) stand(number int, i int32, front []int32) []int32 {
	if s.labels[i].fresh {
		return front
	}
	at, since := s.labels[i].at, s.labels[i].offSince()
	for _, e := range s.ends(i, number, since, at) {
		earliest := at
		if since < at {
			earliest = e.over // the shift before was put off where it came
		}
		if l := s.rest(s.child(i, number, rested), e, since, earliest); l.at > at {
			s.begin(&l)
			l.fresh = true
			front = s.put(front, l)
		}
	}
	return front
}

// rest stands a label off duty to an end, since a moment, and until another one at the
// earliest.
func (s *search) rest(l label, e end, since, earliest minutes) label {
	l.off, l.least, l.until, l.why = since, e.least, e.until, e.why
	needed := max(since+e.least, earliest)
	if e.over > max(needed, e.until) {
		l.why = OfWindow
	}
	if l.took == rested || l.step > 0 {
		s.putOff(&l, needed, e.over)
	}
	l.stops++
	s.offDuty(&l, e.over)
	return l
}

// goesOn is when a crew that has stood until a moment goes on: when, after the work that
// comes first, travel is allowed.
func (s *search) goesOn(number int, at minutes) (minutes, bool) {
	st := &s.steps[number]
	if st.next < 0 {
		return at, true
	}
	opens, ok := s.steps[st.next].hours.next(at + st.packs)
	return opens - st.packs, ok
}

// ends are the ways of standing that may help a crew which is off duty since a moment and
// goes on at another at the earliest, the shortest first.
func (s *search) ends(i int32, number int, since, earliest minutes) []end {
	l := &s.labels[i]
	out := append(s.buffer[:0], end{why: OfWindow})
	after := func(long minutes) { out = append(out, end{least: long, why: OfLimits}) }
	for k, law := range s.laws {
		c := &l.clocks[k]
		if c.driven > 0 || c.duty > 0 || s.tracks.elapsed {
			after(law.rest)
		}
		if law.breakAfter > 0 && c.unbent > 0 {
			after(law.breaks)
		}
		if law.cycle > 0 && law.restart > 0 {
			after(law.restart)
		}
		if law.freeOff > 0 {
			after(law.freeOff)
		}
	}
	out = s.midnights(out, l, number)
	for k := range out {
		var ok bool
		if out[k].over, ok = s.goesOn(number, max(since+out[k].least, out[k].until, earliest)); !ok {
			out[k].over = forever
		}
	}
	out = s.openings(out, number)
	s.buffer = out
	kept := slices.DeleteFunc(out, func(e end) bool { return e.over >= forever })
	slices.SortFunc(kept, func(a, b end) int {
		return cmp.Or(cmp.Compare(a.over, b.over), cmp.Compare(a.least, b.least), cmp.Compare(a.until, b.until))
	})
	if s.tracks.elapsed { // what is needed of it decides how much later the shift may begin
		return slices.Compact(kept)
	}
	return slices.CompactFunc(kept, func(a, b end) bool { return a.over == b.over })
}

// openings adds, to ends from which a shift may begin, those of windows that open within a
// day after: where time elapses, beginning later may do better.
func (s *search) openings(out []end, number int) []end {
	st := &s.steps[number]
	if !s.tracks.elapsed || st.next < 0 || s.steps[st.next].hours == nil {
		return out
	}
	hours := s.steps[st.next].hours
	for _, e := range out {
		for at, last := e.over+st.packs, e.over+st.packs+aDay; at < last; {
			w, ok := hours.first(at)
			if !ok || w.opens > last {
				break
			}
			if w.opens > at {
				out = append(out, end{least: e.least, until: e.until, why: e.why, over: w.opens - st.packs})
			}
			at = w.closes
		}
	}
	return out
}

// midnights adds the ends of days at which a law that counts by days lets the crew go on,
// with each of the times off duty that it may need besides.
func (s *search) midnights(out []end, l *label, number int) []end {
	law := s.steps[number].law
	if !s.tracks.daily && !s.tracks.cycle || law < 0 {
		return out
	}
	next := l.at + s.toMidnight(l.at)
	days := 1
	if w := s.laws[law]; w.cycle > 0 && s.inCycle(l, law)+s.grid > w.cycle {
		days = w.cycleDays
	}
	for _, e := range out {
		for d := range minutes(days) {
			out = append(out, end{least: e.least, until: next + d*aDay, why: OfLimits})
		}
	}
	return out
}

// halt rests at a place on the way, for as long as asked at the least.
func (s *search) halt(number int, st *step, front []int32) (out []int32) {
	for _, i := range front {
		at := s.labels[i].at
		for _, e := range s.ends(i, number, at, at+st.long) {
			if e.least < st.long {
				e.least, e.why = st.long, OfLimits
			}
			l := s.rest(s.child(i, number, rested), e, at, at)
			s.begin(&l)
			l.fresh = true
			out = s.put(out, l)
		}
	}
	return s.uncovered(out)
}

// leave stands at a stop until it is left.
func (s *search) leave(number int, st *step, front []int32) (out []int32) {
	for _, i := range front {
		l := &s.labels[i]
		since := l.offSince()
		stayed, earliest := l.at, l.at
		if number > 0 {
			stayed += up(s.journey.Stops[st.stop].Stay)
			earliest = max(stayed, l.stays)
		}
		for _, e := range s.ends(i, number, since, earliest) {
			one := s.rest(s.child(i, number, left), e, since, stayed)
			one.stays, one.fresh = 0, true
			out = s.put(out, one)
		}
	}
	return s.uncovered(out)
}
