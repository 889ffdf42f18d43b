package timetable

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// slot is the grid of the brute force, on which all of its cases lie.
const slot = time.Hour

// brute tries every way to spend every slot, by the rules of [crewLog.breaks] alone.
type brute struct {
	j     Journey
	tasks []task
	slots int
	best  int // slots to the arrival; slots+1: none
}

// task is a slot of something, or a gate that takes no time.
type task struct {
	what    doing // of a slot
	section Section
	gate    string // "arrive", "leave", "halt"
	stop    int
}

func newBrute(j Journey, slots int) *brute {
	b := &brute{j: j, slots: slots, best: slots + 1}
	for i, d := range j.Drives {
		for _, s := range d {
			if s.Halt > 0 {
				b.tasks = append(b.tasks, task{gate: "halt", section: s})
			}
			for range int(s.Slow / slot) {
				b.tasks = append(b.tasks, task{what: drives, section: s})
			}
		}
		b.tasks = append(b.tasks, task{gate: "arrive", stop: i + 1})
		if i+1 == len(j.Drives) {
			break
		}
		for range int(j.Stops[i+1].SetUp / slot) {
			b.tasks = append(b.tasks, task{what: works})
		}
		b.tasks = append(b.tasks, task{gate: "leave", stop: i + 1})
	}
	return b
}

// try goes on from what was done so far; off is how many slots the crew has stood at the
// stop that it has set up.
func (b *brute) try(done []doing, next, stood int) {
	now := b.j.Depart.Add(time.Duration(len(done)) * slot)
	for next < len(b.tasks) && b.tasks[next].gate != "" {
		t := b.tasks[next]
		stop := b.j.Stops[t.stop]
		if t.gate == "halt" && time.Duration(stood)*slot < t.section.Halt {
			break
		}
		if t.gate == "arrive" && !stop.By.IsZero() && now.Add(-time.Duration(stood)*slot).After(stop.By) {
			return
		}
		if t.gate == "arrive" && next == len(b.tasks)-1 {
			b.best = min(b.best, len(done))
			return
		}
		if t.gate == "arrive" && now.Before(stop.From) || t.gate == "leave" && (time.Duration(stood)*slot < stop.Stay ||
			now.Before(stop.Until)) {
			break
		}
		next, stood = next+1, 0
	}
	left := 0
	for _, t := range b.tasks[next:] {
		if t.gate == "" {
			left++
		}
	}
	if len(done)+left >= b.best || len(done) == b.slots {
		return
	}
	if t := b.tasks[next]; t.gate == "" && (t.what == works || b.lawful(done, t.section, now)) {
		b.try(append(slices.Clone(done), t.what), next+1, 0)
	}
	b.try(append(slices.Clone(done), idle), next, stood+1)
}

// lawful reports whether the next slot may be driven.
func (b *brute) lawful(done []doing, s Section, now time.Time) bool {
	if !within(s.Hours, now, now.Add(slot)) || !within(s.Habit, now, now.Add(slot)) {
		return false
	}
	g := crewLog{from: b.j.Depart, bit: slot, what: append(slices.Clone(done), drives)}
	y, m, d := b.j.Depart.Date()
	return len(g.breaks(len(g.what)-1, s.Limits, b.j.Crew.Drivers, time.Date(y, m, d-100, 0, 0, 0, 0, time.UTC))) == 0
}

func hoursOf(t *rapid.T, name string, most int) time.Duration {
	return time.Duration(rapid.IntRange(0, most).Draw(t, name)) * slot
}

// someLimits are short limits, so that small cases meet them.
func someLimits(t *rapid.T) Limits {
	l := Limits{Driving: hoursOf(t, "driving", 4), OnDuty: hoursOf(t, "on duty", 5), Elapsed: hoursOf(t, "elapsed", 6),
		Rest: slot + hoursOf(t, "rest", 2)}
	if rapid.Bool().Draw(t, "breaks") {
		l.BreakAfter, l.Break = slot+hoursOf(t, "break after", 2), slot
	}
	if rapid.IntRange(0, 3).Draw(t, "daily") == 0 {
		l.DayDriving, l.DayOff = hoursOf(t, "day driving", 6), hoursOf(t, "day off", 18)
	}
	if rapid.IntRange(0, 3).Draw(t, "cyclic") == 0 {
		l.Cycle = Cycle{OnDuty: 3*slot + hoursOf(t, "cycle", 4), Days: rapid.IntRange(1, 2).Draw(t, "days"),
			Restart: 24 * slot}
	}
	return l
}

func someHours(t *rapid.T, from time.Time) *Hours {
	if rapid.Bool().Draw(t, "any hour") {
		return nil
	}
	h := &Hours{}
	for at := 0; at < 40; {
		at += rapid.IntRange(1, 6).Draw(t, "closed")
		long := rapid.IntRange(1, 8).Draw(t, "open")
		h.Spans = append(h.Spans, Span{
			From: from.Add(time.Duration(at) * slot), To: from.Add(time.Duration(at+long) * slot),
		})
		at += long
	}
	return h
}

// someJourney is one of one or two drives from an hour of a day in UTC.
func someJourney(t *rapid.T, driving int) Journey {
	depart := time.Date(2026, 7, 3, rapid.IntRange(0, 23).Draw(t, "hour"), 0, 0, 0, time.UTC)
	crew := Crew{Drivers: rapid.IntRange(1, 2).Draw(t, "drivers")}
	j := Journey{Depart: depart, Stops: []Stop{{Zone: time.UTC}}, Crew: crew}
	laws, habit := []Limits{someLimits(t), someLimits(t)}, (*Hours)(nil)
	if rapid.IntRange(0, 2).Draw(t, "habitual") == 0 {
		habit = someHours(t, depart)
	}
	if rapid.IntRange(0, 3).Draw(t, "lawless") == 0 {
		laws[1] = Limits{}
	}
	for range rapid.IntRange(1, 2).Draw(t, "drives") {
		var d Drive
		for range rapid.IntRange(1, 2).Draw(t, "sections") {
			long := time.Duration(rapid.IntRange(1, driving).Draw(t, "long")) * slot
			d = append(d, Section{
				Length: 1000, Slow: long, Likely: long / 2, Zone: time.UTC, Hours: someHours(t, depart),
				Limits: laws[rapid.IntRange(0, 1).Draw(t, "law")], Habit: habit,
			})
			if last := &d[len(d)-1]; len(d) > 1 && rapid.Bool().Draw(t, "halts") {
				last.Halt = slot + hoursOf(t, "halt", 3)
			}
		}
		stop := Stop{Zone: time.UTC, SetUp: hoursOf(t, "set up", 1), Stay: hoursOf(t, "stay", 3)}
		if rapid.Bool().Draw(t, "opens") {
			stop.From = depart.Add(hoursOf(t, "from", 12))
		}
		if rapid.IntRange(0, 3).Draw(t, "closes") == 0 {
			stop.By = stop.From.Add(hoursOf(t, "by", 8))
			if stop.From.IsZero() {
				stop.By = depart.Add(2*slot + hoursOf(t, "by", 14))
			}
		}
		if rapid.Bool().Draw(t, "held") {
			stop.Until = depart.Add(hoursOf(t, "until", 14))
		}
		j.Drives, j.Stops = append(j.Drives, d), append(j.Stops, stop)
	}
	return j
}

func describe(j Journey, t *Table) string {
	out := fmt.Sprintf("depart %v drivers %d\n", j.Depart, j.Crew.Drivers)
	for i, d := range j.Drives {
		for _, s := range d {
			out += fmt.Sprintf("  drive %d: %v halt %v limits %+v\n", i, s.Slow, s.Halt, s.Limits)
			if s.Hours != nil {
				for _, o := range s.Hours.Spans {
					out += fmt.Sprintf("    %v - %v\n", o.From.Sub(j.Depart), o.To.Sub(j.Depart))
				}
			}
		}
		s := j.Stops[i+1]
		out += fmt.Sprintf("  stop %d: from %v by %v set up %v stay %v until %v\n", i+1, s.From, s.By, s.SetUp, s.Stay,
			s.Until)
	}
	for _, e := range t.Entries {
		out += fmt.Sprintf("  %-8s %-8s %6v to %6v likely %6v stop %d drive %d section %d\n", e.Kind, e.For,
			e.From.Sub(j.Depart), e.To.Sub(j.Depart), e.Likely.Sub(j.Depart), e.Stop, e.Drive, e.Section)
	}
	return out + fmt.Sprintf("  missed %+v\n", t.Missed)
}

// Nothing that a brute force over all ways to spend the hours finds is earlier, and no
// table breaks a rule.
func TestNothingIsEarlierThanTheBruteForceSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := someJourney(t, 3)
		table, err := Plan(j)
		if err != nil {
			t.Fatal(err)
		}
		if wrong := unlawful(j, table); len(wrong) > 0 {
			t.Fatalf("%v\n%s", wrong[:min(len(wrong), 5)], describe(j, table))
		}
		b := newBrute(j, 18)
		b.try(nil, 0, 0)
		if b.best > b.slots {
			return
		}
		want := j.Depart.Add(time.Duration(b.best) * slot)
		if table.Missed != nil || table.Arrival.Slow.After(want) {
			t.Fatalf("arrives %v, could %v (%v)\n%s", table.Arrival.Slow, want, want.Sub(j.Depart), describe(j, table))
		}
	})
}
