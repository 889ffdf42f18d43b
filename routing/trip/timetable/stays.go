package timetable

import "time"

// stays adds what a crew does at a stop from setting up to packing.
func (t *tracer) stays(l, before *label, st *step) {
	if st.stop == 0 {
		t.likely = l.at.in(time.UTC)
		return
	}
	stop := t.journey.Stops[st.stop]
	over := min(max(before.at+up(stop.Stay), before.stays), l.at)
	if before.took != arrived {
		t.offFrom = t.likely
	}
	call := &t.table.Calls[len(t.table.Calls)-1]
	until := t.staysUntil(st.stop, upTo(call.Arrive.Likely))
	t.likely = latest(t.likely.Add(stop.Stay), until.in(time.UTC))
	t.add(st, Entry{Kind: Stay, For: OfStop}, before.at, over)
	t.rests(l, t.offFrom)
	t.add(st, t.standing(l, l.at-before.offSince()), over, l.at)
}

// rests moves the likely crew on to where its time off duty is over that began at a moment.
func (t *tracer) rests(l *label, since time.Time) {
	t.likely = latest(t.likely, since.Add(l.least.long()))
	t.likely = latest(t.likely, l.until.in(time.UTC))
	if at, ok := t.goesOn(int(l.step), upTo(t.likely)); ok && at > upTo(t.likely) {
		t.likely = at.in(time.UTC)
	}
}

// standing is what a time off duty of so long is called.
func (t *tracer) standing(l *label, long minutes) Entry {
	e := Entry{Kind: Wait, For: l.why}
	switch {
	case l.why == OfLimits:
		e.Kind = Break
	case l.why == OfWindow && t.mightGo(int(l.step), l.at-1):
		e.For = OfHabit
	}
	for _, law := range t.laws {
		if law.rest > 0 && long >= law.rest {
			e.Kind = Rest
		}
	}
	return e
}

// mightGo reports whether travel is allowed after a step that is over at a moment, though the crew
// does not choose to.
func (t *tracer) mightGo(number int, at minutes) bool {
	st := &t.steps[number]
	if st.next < 0 {
		return false
	}
	next := &t.steps[st.next]
	s := t.journey.Drives[next.drive][next.section]
	return t.windows(s.Hours, nil).open(at+st.packs) > 0
}

// leaves ends the last call of a chain, and tells each stop when it is left.
func (t *tracer) leaves(last *label, st *step) {
	zone := time.UTC
	if st.stop >= 0 {
		zone = t.journey.Stops[st.stop].Zone
	}
	if !t.table.Arrival.Slow.IsZero() {
		t.table.Over = Moment{last.at.in(zone), t.likely.In(zone)}
	}
	for _, e := range t.table.Entries {
		if e.Stop > 0 && e.Stop < len(t.table.Calls)-1 {
			t.table.Calls[e.Stop].Leave = Moment{e.To, e.Likely}
		}
	}
}

// days groups the entries by the date on which they begin.
func (t *Table) days() {
	for i, e := range t.Entries {
		y, m, d := e.From.Date()
		date := time.Date(y, m, d, 0, 0, 0, 0, e.From.Location())
		n := len(t.Days)
		if n == 0 || date.Format(time.DateOnly) > t.Days[n-1].Date.Format(time.DateOnly) {
			t.Days = append(t.Days, Day{Date: date, First: i})
			n++
		}
		day := &t.Days[n-1]
		day.Last = i
		if e.Kind == Driving {
			day.Driving += e.To.Sub(e.From)
		}
		day.Way += e.Ends - e.Begins
	}
}
