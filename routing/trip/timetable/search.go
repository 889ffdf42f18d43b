package timetable

// grain is the grid on which a rest may begin under way: so many minutes of driving apart,
// counted in each step, beside every end of a step and wherever the rig can drive no
// further. A day of driving has the finest; more than two days have the coarsest.
func (ln *line) grain() minutes {
	total := minutes(0)
	for _, s := range ln.steps {
		if s.act == driving {
			total += s.long
		}
	}
	switch {
	case total <= aDay:
		return 15
	case total <= 2*aDay:
		return 30
	}
	return 60
}

// search finds the earliest arrival. It goes through the steps, and through the minutes of
// driving in each, and keeps at every place the labels that no other one covers.
//
// It is exact on the grain: standing where nothing asks for it, or longer than to the next
// moment that changes what is allowed, cannot help, since a later start never arrives
// earlier.
type search struct {
	*line
	labels []label
	fronts [][]int32 // in the step of driving at hand, by its minutes
	strict bool      // it ends where a deadline is missed
	eased  bool      // it goes on with all labels, in time or not
	held   int       // labels that others were held against
	missed *Missed   // the first that is
	late   minutes   // after all deadlines so far, each by its least delay
	first  minutes   // when the last stop so far is reached at the earliest
	reach  int       // the last step in which there is a label
	buffer []end
}

// from goes on from labels before a step. It returns those at the end; none where it does
// not come so far.
func (s *search) from(first int, front []int32) []int32 {
	for i := first; i < len(s.steps); i++ {
		s.reach = i
		switch st := &s.steps[i]; st.act {
		case driving:
			front = s.drive(i, st, front)
		case working, sailing:
			front = s.work(i, st, front)
		case arriving:
			front = s.arrive(i, st, front)
		case halting:
			front = s.halt(i, st, front)
		default:
			front = s.leave(i, st, front)
		}
		if len(front) == 0 {
			return nil
		}
	}
	return front
}

// put adds a label to those at a place, unless one of them covers it.
func (s *search) put(front []int32, l label) []int32 {
	s.held += len(front) + 1
	for _, i := range front {
		if old := &s.labels[i]; !old.gone && s.covers(old, &l) {
			return front
		}
	}
	for _, i := range front {
		if old := &s.labels[i]; !old.gone && s.covers(&l, old) {
			old.gone = true
		}
	}
	s.labels = append(s.labels, l)
	return append(front, int32(len(s.labels)-1))
}

// child is a label that comes from another one.
func (s *search) child(i int32, step int, how took) label {
	l := s.labels[i]
	l.prev, l.step, l.took, l.least, l.until, l.why, l.later, l.rests = i, int32(step), how, 0, 0, "", 0, false
	return l
}

func (s *search) drive(number int, st *step, front []int32) (out []int32) {
	for len(s.fronts) <= int(st.long) {
		s.fronts = append(s.fronts, nil)
	}
	for i := range s.fronts {
		s.fronts[i] = s.fronts[i][:0]
	}
	s.fronts[0] = append(s.fronts[0], front...)
	for m := minutes(0); m < st.long; m++ {
		for k := 0; k < len(s.fronts[m]); k++ {
			i := s.fronts[m][k]
			if s.labels[i].gone {
				continue
			}
			s.fronts[m] = s.stand(number, i, s.fronts[m])
			l := s.child(i, number, drove)
			open := st.hours.open(l.at)
			if long := s.may(&l, st.law, min(st.long-m, s.grid-m%s.grid, open)); long > 0 {
				s.onDuty(&l, long, true)
				l.loose = min(l.loose, open-long, s.roomBeyond(&l, st.law))
				s.fronts[m+long] = s.put(s.fronts[m+long], l)
			}
		}
	}
	for _, i := range s.fronts[st.long] {
		if !s.labels[i].gone {
			out = append(out, i)
		}
	}
	return out
}

// work passes time on duty; a crossing, however long, leaves no choice.
func (s *search) work(number int, st *step, front []int32) (out []int32) {
	for k := 0; k < len(front); k++ {
		i := front[k]
		if s.labels[i].gone {
			continue
		}
		front = s.stand(number, i, front)
		if l := s.child(i, number, worked); st.act == sailing || s.mayWork(&l, st.law, st.long) {
			s.onDuty(&l, st.long, false)
			out = s.put(out, l)
		}
	}
	return s.uncovered(out)
}

// arrive lets labels in that are in time. Where none is, the search goes on with the
// earliest unless it is strict.
func (s *search) arrive(number int, st *step, front []int32) (out []int32) {
	stop := s.journey.Stops[st.stop]
	by := forever
	if !stop.By.IsZero() {
		by = downTo(stop.By)
	}
	first := forever
	for _, i := range front {
		first = min(first, s.labels[i].at)
	}
	s.first = first
	switch {
	case s.eased:
		s.late, by = s.late+max(first-by, 0), forever
	case first > by:
		if s.strict {
			return nil
		}
		if s.missed == nil {
			s.missed = &Missed{Stop: st.stop, Late: (first - by).long(), Drive: -1, Section: -1}
		}
		s.late, by = s.late+first-by, first
	}
	if st.stop == len(s.journey.Stops)-1 {
		by = first
	}
	for _, i := range front {
		if s.labels[i].at > by {
			continue
		}
		l, waits := s.let(number, st, i, by)
		if !waits {
			out = s.put(out, l)
			continue
		}
		opens := upTo(stop.From)
		for _, needed := range s.needs(&l, opens-l.at) { // it rests while it waits, or comes later
			one := l
			s.putOff(&one, l.at+needed, opens)
			s.offDuty(&one, opens)
			out = s.put(out, one)
		}
	}
	return s.uncovered(out)
}

// let is the arrival of a label before a deadline, and whether it waits until the stop
// receives it.
func (s *search) let(number int, st *step, i int32, by minutes) (label, bool) {
	l := s.child(i, number, arrived)
	stop := s.journey.Stops[st.stop]
	l.stays, l.loose = s.staysUntil(st.stop, l.at), min(l.loose, by-l.at)
	if stop.Nights > 0 {
		l.loose = 0 // another day
	}
	if stop.From.IsZero() || upTo(stop.From) <= l.at {
		return l, false
	}
	l.why, l.off = OfArrival, l.at
	return l, true
}

// needs are times off duty that may be of use in a wait of some length.
func (s *search) needs(l *label, wait minutes) []minutes {
	out := []minutes{wait}
	if !s.tracks.elapsed {
		return out
	}
	for i, law := range s.laws {
		if law.breakAfter > 0 && l.clocks[i].unbent > 0 && law.breaks < wait {
			out = append(out, law.breaks)
		}
	}
	return append(out, 0)
}

// staysUntil is when the packing at a stop may begin at the earliest, by its nights and
// until when it is not left.
func (ln *line) staysUntil(number int, arrival minutes) (out minutes) {
	stop := ln.journey.Stops[number]
	if !stop.Until.IsZero() {
		out = upTo(stop.Until)
	}
	if stop.Nights > 0 {
		y, m, d := arrival.in(stop.Zone).Date()
		morning := down(ln.journey.Habits.Morning)
		out = max(out, upTo(timeOf(y, m, d+stop.Nights, int(morning), stop.Zone)))
	}
	return out - up(stop.Packing)
}

// uncovered are the labels of a place that none covers.
func (s *search) uncovered(front []int32) []int32 {
	kept := front[:0]
	for _, i := range front {
		if !s.labels[i].gone {
			kept = append(kept, i)
		}
	}
	return kept
}
