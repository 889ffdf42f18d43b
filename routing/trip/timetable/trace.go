package timetable

import (
	"slices"
	"time"

	"wayhouse/regs/measure"
)

// tracer makes the table of a label. Beside it goes a crew that drives likely and rests as
// planned.
type tracer struct {
	*search
	table   *Table
	likely  time.Time // where the likely crew is
	offFrom time.Time // since when it is off duty
	done    minutes   // driven in the step at hand
	step    int32
}

// stuck notes where nothing that is known lets the rig go on.
func (t *tracer) stuck(st *step) {
	if t.table.Missed == nil {
		stop := st.stop
		for i := t.reach; stop < 0; i++ {
			stop = t.steps[i].stop
		}
		t.table.Missed = &Missed{Stop: stop}
	}
	m := t.table.Missed
	m.Never, m.Drive, m.Section = true, st.drive, st.section
}

func (t *tracer) trace(last int32) {
	var chain []int32
	for i := last; i >= 0; i = t.labels[i].prev {
		chain = append(chain, i)
	}
	slices.Reverse(chain)
	labels := t.putOffs(chain)
	t.likely = labels[0].at.in(time.UTC)
	t.table.Calls = []Call{{}}
	for i := range labels[1:] {
		l := &labels[i+1]
		if l.step != t.step {
			t.step, t.done = l.step, 0
		}
		st := &t.steps[l.step]
		if t.table.Departure.IsZero() && st.stop != 0 {
			t.table.Departure = labels[i].at.in(t.journey.Stops[0].Zone)
			t.table.Calls[0].Leave = Moment{t.table.Departure, t.table.Departure}
		}
		t.follow(l, &labels[i], st)
	}
	t.leaves(&labels[len(labels)-1], &t.steps[labels[len(labels)-1].step])
	t.table.days()
}

// putOffs are the labels of a chain, each as much later as one that comes after it in its
// shift puts it off.
func (t *tracer) putOffs(chain []int32) []label {
	var out []label
	for _, i := range chain {
		out = append(out, t.labels[i])
	}
	by := minutes(0)
	for i := len(out) - 1; i >= 0; i-- {
		l := &out[i]
		l.at += by
		if l.rests && by > 0 { // the likely crew is put off with it
			l.until, by = l.at, 0
		} else if !l.rests && l.off != onDuty {
			l.off += by
		}
		by += l.later
	}
	return out
}

// follow adds what a label did after the one before.
func (t *tracer) follow(l, before *label, st *step) {
	switch l.took {
	case drove:
		t.drives(l, before, st)
	case worked:
		e := Entry{Kind: st.does}
		if st.act == sailing {
			e.Begins, e.Ends = st.begins, st.ends
			t.likely = t.likely.Add(st.likely)
		} else {
			t.likely = t.likely.Add(st.long.long())
		}
		t.add(st, e, before.at, l.at)
	case arrived:
		t.arrives(l, before, st)
	case left:
		t.stays(l, before, st)
	case rested:
		if before.took != arrived {
			t.offFrom = t.likely
		}
		t.rests(l, t.offFrom)
		t.add(st, t.standing(l, l.at-before.offSince()), before.at, l.at)
	}
}

// add adds an entry until the likely crew is done, or lengthens the last one where that is the same thing.
func (t *tracer) add(st *step, e Entry, from, to minutes) {
	if slow := to.in(time.UTC); t.likely.After(slow) { // it may always do as the slow crew does
		t.likely = slow
	}
	if to <= from {
		return
	}
	e.Stop, e.Drive, e.Section, e.Leg = st.stop, st.drive, st.section, -1
	var zone *time.Location
	if st.stop >= 0 {
		zone = t.journey.Stops[st.stop].Zone
	} else {
		s := t.journey.Drives[st.drive][st.section]
		zone, e.Leg = s.Zone, s.Leg
	}
	if e.Ends == 0 {
		e.Begins, e.Ends = t.where(st), t.where(st)
	}
	e.From, e.To, e.Likely = from.in(zone), to.in(zone), t.likely.In(zone)
	if n := len(t.table.Entries); n > 0 && t.table.Entries[n-1].goesInto(e) {
		last := &t.table.Entries[n-1]
		last.To, last.Likely, last.Ends, last.IfHolidays = e.To, e.Likely, e.Ends, last.IfHolidays || e.IfHolidays
		return
	}
	t.table.Entries = append(t.table.Entries, e)
}

// goesInto reports whether an entry goes on in the next one.
func (e Entry) goesInto(next Entry) bool {
	same := next
	same.From, same.To, same.Likely, same.Begins, same.Ends = e.From, e.To, e.Likely, e.Begins, e.Ends
	same.IfHolidays = e.IfHolidays
	return same == e && e.To.Equal(next.From)
}

// where is the place along the journey.
func (t *tracer) where(st *step) measure.Distance {
	if st.act != driving {
		return st.begins
	}
	return st.begins + (st.ends-st.begins)*measure.Distance(float64(t.done)/float64(st.long))
}

func (t *tracer) drives(l, before *label, st *step) {
	long := l.at - before.at
	e := Entry{Kind: Driving, Begins: t.where(st)}
	t.done += long
	e.Ends = t.where(st)
	t.likely = st.hours.drive(t.likely, time.Duration(float64(st.likely)*float64(long)/float64(st.long)))
	if h := t.journey.Drives[st.drive][st.section].Hours; h != nil {
		e.IfHolidays = h.ifHolidays(before.at.in(time.UTC), l.at.in(time.UTC))
		t.table.IfHolidays = t.table.IfHolidays || e.IfHolidays
	}
	t.add(st, e, before.at, l.at)
}

// ifHolidays reports whether a time lies in a span that is open if the list of holidays is
// right.
func (h *Hours) ifHolidays(from, to time.Time) bool {
	return slices.ContainsFunc(h.Spans, func(s Span) bool {
		return s.IfHolidays && s.From.Before(to) && s.To.After(from)
	})
}

// drive is when a crew is through that begins at a moment and drives for so long, whenever
// it may.
func (w *windows) drive(at time.Time, long time.Duration) time.Time {
	for w != nil && long > 0 {
		one, ok := w.first(downTo(at))
		if !ok {
			break
		}
		at = latest(at, one.opens.in(time.UTC))
		part := min(long, one.closes.in(time.UTC).Sub(at))
		at, long = at.Add(part), long-part
	}
	return at.Add(long)
}

func (t *tracer) arrives(l, before *label, st *step) {
	zone := t.journey.Stops[st.stop].Zone
	call := Call{Arrive: Moment{before.at.in(zone), t.likely.In(zone)}}
	if st.stop < len(t.journey.Stops)-1 {
		call.Leave = call.Arrive
	}
	if by := t.journey.Stops[st.stop].By; !by.IsZero() && before.at > downTo(by) {
		call.Late = (before.at - downTo(by)).long()
	}
	t.table.Calls = append(t.table.Calls, call)
	if st.stop == len(t.journey.Stops)-1 {
		t.table.Arrival = call.Arrive
	}
	t.offFrom = t.likely
	if from := t.journey.Stops[st.stop].From; !from.IsZero() {
		t.likely = latest(t.likely, from)
	}
	t.add(st, Entry{Kind: Wait, For: OfArrival}, before.at, l.at)
}
