package timetable

import (
	"slices"
	"time"
)

// Plan makes the table of a journey: the earliest arrival from its departure, or, where it
// names none, from the latest at which no deadline is missed. What cannot be met is
// [Table.Missed]; the table is then that of the least delay at the first stop that is
// missed. An error is of a journey that makes no sense.
func Plan(j Journey) (*Table, error) {
	if err := j.check(); err != nil {
		return nil, err
	}
	if j.Depart.IsZero() {
		return backwards(j), nil
	}
	ln := newLine(&j)
	t := ln.table(upTo(j.Depart))
	switch by, ok := ln.firstDeadline(); {
	case t.Missed != nil:
		ln.explain(t)
	case ok:
		t.departsBy(ln.latest(upTo(j.Depart), by).in(j.Stops[0].Zone))
	}
	return t, nil
}

// farBack is how long before the first deadline a departure is looked for.
const farBack = 64 * aDay

// backwards plans a journey from its deadlines. One that cannot be met from any departure is
// put off by as little as lets it be met.
func backwards(j Journey) *Table {
	var missed *Missed
	j.Stops = slices.Clone(j.Stops)
	for range j.Stops {
		ln := newLine(&j)
		by, _ := ln.firstDeadline()
		if from, ok := ln.feasibleBefore(by); ok {
			return ln.lastTable(ln.latest(from, by), missed)
		}
		t := ln.table(by - farBack)
		if missed == nil {
			ln.explain(t)
			missed = t.Missed
		}
		if t.Missed.Never {
			return t
		}
		stop := &j.Stops[t.Missed.Stop]
		stop.By = stop.By.Add(t.Missed.Late)
	}
	ln := newLine(&j)
	by, _ := ln.firstDeadline()
	return ln.lastTable(by-farBack, missed)
}

// lastTable is the table of the latest departure.
func (ln *line) lastTable(depart minutes, missed *Missed) *Table {
	t := ln.table(depart)
	if t.Missed = missed; missed != nil {
		t.Calls[missed.Stop].Late = missed.Late
	} else {
		t.departsBy(t.Departure)
	}
	return t
}

// departsBy notes the latest departure.
func (t *Table) departsBy(latest time.Time) {
	slack := max(latest.Sub(t.Departure), 0)
	t.Latest, t.Calls[0].Slack = latest, &slack
}

// firstDeadline is the first of all deadlines; ok is false where there is none.
func (ln *line) firstDeadline() (by minutes, ok bool) {
	by = forever
	for _, s := range ln.journey.Stops[1:] {
		if !s.By.IsZero() {
			by, ok = min(by, downTo(s.By)), true
		}
	}
	return by, ok
}

// feasibleBefore is a departure before a deadline at which nothing is missed.
func (ln *line) feasibleBefore(by minutes) (minutes, bool) {
	for back := aDay; back <= farBack; back *= 2 {
		if ln.feasible(by - back) {
			return by - back, true
		}
	}
	return 0, false
}

// feasible reports whether nothing is missed from a departure.
func (ln *line) feasible(depart minutes) bool {
	s := &search{line: ln, strict: true}
	return len(s.from(0, s.start(depart))) > 0
}

// latest is the latest departure from one at which nothing is missed, before one that is
// too late.
func (ln *line) latest(good, bad minutes) minutes {
	return bisect(good, bad+1, ln.feasible)
}

// bisect is the greatest value that is good, of which a lower one is and a higher is not.
func bisect(good, bad minutes, is func(minutes) bool) minutes {
	for bad-good > 1 {
		if mid := good + (bad-good)/2; is(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// start is the label of a crew that is rested and packs so as to depart.
func (s *search) start(depart minutes) []int32 {
	stop := s.journey.Stops[0]
	at := depart - up(stop.Packing)
	if !stop.Until.IsZero() {
		at = max(at, upTo(stop.Until)-up(stop.Packing))
	}
	l := label{at: at, off: at - forever, prev: -1, day: s.dayOf(at), free: at, begun: at}
	for i := range l.clocks {
		l.clocks[i] = clock{from: at, cycle: l.day}
	}
	return s.put(nil, l)
}

// table is the table of the earliest arrival.
func (ln *line) table(depart minutes) *Table {
	s := &search{line: ln}
	end := s.from(0, s.start(depart))
	best := s.best(end)
	t := &tracer{search: s, table: &Table{Missed: s.missed}}
	if len(end) == 0 {
		best = s.furthest()
		t.stuck(&s.steps[s.reach])
	}
	t.trace(best)
	if t.table.Missed == nil {
		s.slack(t.table, best)
	}
	return t.table
}

// best is the first of labels to be there, of those that are alike the one that stood the
// least often.
func (s *search) best(front []int32) int32 {
	out := int32(-1)
	for _, i := range front {
		a := &s.labels[i]
		if out < 0 || a.at < s.labels[out].at || a.at == s.labels[out].at && a.stops < s.labels[out].stops {
			out = i
		}
	}
	return out
}

// furthest is the first label that came as far as any, past all standing there.
func (s *search) furthest() int32 {
	out, way := int32(0), minutes(-1)
	for i := range s.labels {
		l := &s.labels[i]
		if l.took == rested || l.took == left {
			continue
		}
		if w := s.driven(int32(i)); w > way || w == way && l.at < s.labels[out].at {
			out, way = int32(i), w
		}
	}
	return out
}

// driven is how far along the steps a label is, in an order that grows with the way.
func (s *search) driven(i int32) minutes {
	step, m := s.labels[i].step, minutes(0)
	for ; i >= 0 && s.labels[i].step == step; i = s.labels[i].prev {
		if s.labels[i].took == drove {
			m += s.labels[i].at - s.labels[s.labels[i].prev].at
		}
	}
	return minutes(step)*forever>>10 + m
}

// slack tells of each call how much later it may be. A rig that is late has been on its
// way all the while.
func (s *search) slack(t *Table, end int32) {
	last := -1
	for i, stop := range s.journey.Stops {
		if i > 0 && !stop.By.IsZero() {
			last = i
		}
	}
	for i := end; i >= 0; i = s.labels[i].prev {
		l := &s.labels[i]
		if l.took != arrived || s.steps[l.step].stop > last {
			continue
		}
		before, step := s.labels[l.prev], int(l.step)
		most := downTo(s.journey.Stops[last].By) - before.at + 1
		room := bisect(0, most, func(late minutes) bool { return s.still(before, step, late) }).long()
		t.Calls[s.steps[step].stop].Slack = &room
	}
}

// still reports whether nothing is missed if a label is so late before a step.
func (s *search) still(l label, step int, late minutes) bool {
	again := &search{line: s.line, strict: true, fronts: s.fronts}
	l.at += late
	again.turn(&l)
	l.prev = -1
	return len(again.from(step, again.put(nil, l))) > 0
}
