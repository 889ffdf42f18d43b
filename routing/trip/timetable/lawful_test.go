package timetable

import (
	"fmt"
	"slices"
	"time"
)

// What follows checks a table against its journey and knows nothing of how one is found:
// it draws every minute of the crew and asks each rule of each minute of driving.

// doing is what the crew does in a minute.
type doing byte

const (
	idle   doing = 'o'
	works  doing = 'w'
	drives doing = 'd'
)

// crewLog is what a crew does from a moment, bit by bit. Before that it is off duty.
type crewLog struct {
	from time.Time
	bit  time.Duration // a minute, or an hour
	what []doing
}

// offRun is how many minutes up to one, without it, are off duty in a row.
func (g crewLog) offRun(i int) int {
	n := 0
	for i-n-1 >= 0 && g.what[i-n-1] == idle {
		n++
	}
	if n == i {
		return 1 << 20 // off since long before
	}
	return n
}

// since is the first minute after the last time off duty of so long before a minute.
func (g crewLog) since(i int, off time.Duration) int {
	for k := i; k > 0; k-- {
		if g.what[k-1] == idle && (k == len(g.what) || g.what[k] != idle || k == i) &&
			time.Duration(g.offRun(k))*g.bit >= off {
			return k
		}
	}
	return 0
}

func (g crewLog) count(from, to int, what ...doing) time.Duration {
	n := 0
	for i := max(from, 0); i < to; i++ {
		if slices.Contains(what, g.what[i]) {
			n++
		}
	}
	return time.Duration(n) * g.bit
}

// breaks lists the limits that driving in a bit breaks. The day begins at dayStart.
func (g crewLog) breaks(i int, l Limits, drivers int, dayStart time.Time) (out []string) {
	each := time.Duration(max(drivers, 1))
	over := func(name string, used, limit time.Duration) {
		if limit > 0 && used > limit {
			out = append(out, fmt.Sprintf("%s %v over %v", name, used, limit))
		}
	}
	shift := g.since(i, l.Rest)
	over("driving", g.count(shift, i+1, drives), l.Driving*each)
	over("on duty", g.count(shift, i+1, drives, works), l.OnDuty)
	over("elapsed", time.Duration(i+1-shift)*g.bit, l.Elapsed)
	over("without a break", g.count(g.since(i, l.Break), i+1, drives), l.BreakAfter*each)
	at := g.from.Add(time.Duration(i) * g.bit)
	day := int(24 * time.Hour / g.bit)
	today := int(at.Sub(dayStart)/(24*time.Hour))*day - int(g.from.Sub(dayStart)/g.bit)
	over("driving in a day", g.count(today, i+1, drives), l.DayDriving*each)
	if l.DayOff > 0 {
		over("not off duty in a day", g.count(today, i+1, drives, works), 24*time.Hour-l.DayOff)
	}
	if l.Cycle.OnDuty > 0 {
		first := today - day*(l.Cycle.Days-1)
		if l.Cycle.Restart > 0 {
			first = max(first, g.since(i, l.Cycle.Restart))
		}
		over("cycle", g.count(first, i+1, drives, works), l.Cycle.OnDuty)
	}
	if l.FreeDays > 0 {
		over("without time free", time.Duration(i+1-g.since(i, l.FreeOff))*g.bit,
			time.Duration(l.FreeDays)*24*time.Hour-l.FreeOff)
	}
	return out
}

// logOf draws the minutes of a table.
func logOf(t *Table) (crewLog, error) {
	g := crewLog{bit: time.Minute}
	for i, e := range t.Entries {
		if i == 0 {
			g.from = e.From
		} else if !e.From.Equal(t.Entries[i-1].To) {
			return g, fmt.Errorf("a gap before entry %d", i)
		}
		what := works
		switch e.Kind {
		case Driving:
			what = drives
		case Break, Rest, Stay, Wait:
			what = idle
		}
		for range int(e.To.Sub(e.From) / time.Minute) {
			g.what = append(g.what, what)
		}
	}
	return g, nil
}

// unlawful lists what is wrong with a table.
func unlawful(j Journey, t *Table) (out []string) {
	g, err := logOf(t)
	if err != nil {
		return []string{err.Error()}
	}
	about := j.Depart
	for _, s := range j.Stops {
		for _, m := range []time.Time{s.From, s.By} {
			if about.IsZero() {
				about = m
			}
		}
	}
	y, m, d := about.In(j.Stops[0].Zone).Date()
	dayStart := time.Date(y, m, d-100, 0, 0, 0, 0, j.Stops[0].Zone)
	_, offset0 := about.In(j.Stops[0].Zone).Zone()
	_, offset1 := dayStart.Zone()
	dayStart = dayStart.Add(time.Duration(offset1-offset0) * time.Second) // days are of 24 h
	for i, e := range t.Entries {
		if e.Kind != Driving {
			continue
		}
		s := j.Drives[e.Drive][e.Section]
		if !within(s.Hours, e.From, e.To) || !within(s.Habit, e.From, e.To) {
			out = append(out, fmt.Sprintf("entry %d drives from %v to %v, outside its hours", i, e.From, e.To))
		}
		for at := e.From; at.Before(e.To); at = at.Add(time.Minute) {
			k := int(at.Sub(g.from) / time.Minute)
			for _, b := range g.breaks(k, s.Limits, j.Crew.Drivers, dayStart) {
				out = append(out, fmt.Sprintf("entry %d at %v: %s", i, at, b))
			}
		}
	}
	return append(out, unserved(j, t)...)
}

// within reports whether a time lies in spans that touch.
func within(h *Hours, from, to time.Time) bool {
	if h == nil {
		return true
	}
	for _, s := range h.Spans {
		if !s.From.After(from) && s.To.After(from) {
			from = s.To
		}
	}
	return !from.Before(to)
}

// unserved lists what of sections and stops a table leaves out.
func unserved(j Journey, t *Table) (out []string) {
	driven := map[[2]int]time.Duration{}
	at := make([]map[Kind]time.Duration, len(j.Stops))
	halted := map[[2]int]time.Duration{}
	for i := range at {
		at[i] = map[Kind]time.Duration{}
	}
	for _, e := range t.Entries {
		if e.Kind == Driving || e.Kind == Ferry {
			driven[[2]int{e.Drive, e.Section}] += e.To.Sub(e.From)
		} else if e.Stop < 0 && driven[[2]int{e.Drive, e.Section}] == 0 && e.Kind != Border && e.Kind != Handover {
			halted[[2]int{e.Drive, e.Section}] += e.To.Sub(e.From)
		}
		if e.Stop >= 0 {
			at[e.Stop][e.Kind] += e.To.Sub(e.From)
		}
		if e.Likely.After(e.To) {
			out = append(out, fmt.Sprintf("likely over at %v, after %v", e.Likely, e.To))
		}
	}
	if t.Arrival.Slow.IsZero() {
		return out
	}
	for i, d := range j.Drives {
		var got, want time.Duration // a minute may be shared by two sections
		for k, s := range d {
			got, want = got+driven[[2]int{i, k}], want+s.Slow
			if stood := halted[[2]int{i, k}]; stood < s.Halt {
				out = append(out, fmt.Sprintf("it stands for %v before section %d, not %v", stood, k, s.Halt))
			}
			if got < want {
				out = append(out, fmt.Sprintf("drive %d to section %d takes %v", i, k, got))
			}
		}
	}
	for i, s := range j.Stops {
		c := t.Calls[i]
		begins, ends := c.Arrive.Slow, c.Leave.Slow
		if i > 0 && at[i][SetUp] < s.SetUp || i < len(j.Stops)-1 && at[i][Packing] < s.Packing {
			out = append(out, fmt.Sprintf("stop %d is not set up or packed", i))
		}
		if i > 0 && !s.By.IsZero() && begins.After(s.By) && (t.Missed == nil || c.Late == 0) {
			out = append(out, fmt.Sprintf("stop %d is reached at %v, after %v", i, begins, s.By))
		}
		if i == 0 || i == len(j.Stops)-1 {
			continue
		}
		opens := begins
		if s.From.After(opens) {
			opens = s.From
		}
		leaves := []time.Time{opens.Add(s.SetUp + s.Stay + s.Packing), s.Until}
		if s.Nights > 0 {
			y, m, d := begins.In(s.Zone).Date()
			leaves = append(leaves, time.Date(y, m, d+s.Nights, 0, int(j.Habits.Morning/time.Minute), 0, 0, s.Zone))
		}
		for _, l := range leaves {
			if ends.Before(l) {
				out = append(out, fmt.Sprintf("stop %d is left at %v, before %v", i, ends, l))
			}
		}
	}
	return out
}
