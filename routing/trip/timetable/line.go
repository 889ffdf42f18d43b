package timetable

import (
	"errors"
	"fmt"
	"time"

	"wayhouse/regs/measure"
)

// line is a journey as the search sees it: steps in a row.
type line struct {
	journey *Journey
	steps   []step
	laws    []law
	lastLaw Limits // of which the last of them is made
	tracks  tracked
	grid    minutes // of driving, between two places to rest
	base    minutes // a midnight from which days of 24 h are counted
	hours   map[[2]*Hours]*windows
}

// act is what happens in a step.
type act uint8

const (
	leaving  act = iota // a stop: standing until it is left, before packing
	halting             // at a place on the way, off duty
	arriving            // at a stop
	working             // on duty
	sailing             // on duty
	driving
)

// step is a part of a journey.
type step struct {
	act            act
	does           Kind
	long           minutes // of work or driving, or off duty in a halt at the least
	hours          *windows
	law            int // -1: none
	drive, section int // -1 at a stop
	stop           int // -1 under way
	begins, ends   measure.Distance
	likely         time.Duration // of driving
	packs          minutes       // at work between here and the next driving
	next           int           // the step of that driving; -1: none before a stop, a boat or the end
}

// check refuses what is no journey.
func (j *Journey) check() error {
	if len(j.Stops) < 2 || len(j.Drives) != len(j.Stops)-1 {
		return fmt.Errorf("%d drives between %d stops", len(j.Drives), len(j.Stops))
	}
	if j.Habits.NotDriven < 0 || j.Habits.NotDriven >= time.Hour {
		return fmt.Errorf("%v not driven of each hour", j.Habits.NotDriven)
	}
	deadline := false
	for i, s := range j.Stops {
		if s.Zone == nil {
			return fmt.Errorf("stop %d has no time zone", i)
		}
		deadline = deadline || i > 0 && !s.By.IsZero()
	}
	if j.Depart.IsZero() && !deadline {
		return errors.New("neither a departure nor a deadline")
	}
	for _, d := range j.Drives {
		for _, s := range d {
			if err := s.check(); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s Section) check() error {
	l := s.Limits
	switch {
	case s.Zone == nil:
		return errors.New("a section has no time zone")
	case s.Halt < 0:
		return fmt.Errorf("a halt of %v", s.Halt)
	case s.Likely < 0 || s.Slow < s.Likely:
		return fmt.Errorf("a section of %v likely and %v slow", s.Likely, s.Slow)
	case l.Rest <= 0 && (l.Driving > 0 || l.OnDuty > 0 || l.Elapsed > 0), l.Break <= 0 && l.BreakAfter > 0:
		return errors.New("a limit that no rest ends")
	case l.Cycle.OnDuty > 0 && (l.Cycle.Days < 1 || l.Cycle.Days > cycleDays), l.FreeDays > 0 && l.FreeOff <= 0:
		return errors.New("a cycle without days")
	case l.Cycle.Restart > 0 && l.Cycle.Restart < 24*time.Hour:
		return errors.New("a cycle begins anew within a day")
	}
	return nil
}

// longWork is after how much work at a stop the crew may rest.
const longWork = 4 * 60

func newLine(j *Journey) *line { return lineOf(j, map[[2]*Hours]*windows{}) }

// lineOf is a journey whose hours in minutes may be known, and are kept.
func lineOf(j *Journey, hours map[[2]*Hours]*windows) *line {
	ln := &line{journey: j, hours: hours}
	ln.base = ln.midnight()
	var at measure.Distance
	tanks := j.Habits.Fuel > 0 && j.Burns()
	fuel, tank := until(Interval{Way: j.Habits.FuelEvery}, j.Habits.Fuel), 1.0
	for i, d := range j.Drives {
		ln.leave(i, at)
		p := &pacer{line: ln, at: at, drive: i, fuel: fuel, tanks: tanks, tank: tank,
			check: until(j.Habits.CheckFirst, j.Habits.Check)}
		for s := range d {
			p.section(s)
		}
		at, fuel, tank = p.at, p.fuel, p.tank
		ln.arrive(i+1, at)
	}
	ln.tracks = tracks(ln.laws)
	ln.lookAhead()
	ln.grid = ln.grain()
	return ln
}

// midnight is one on the clock of the start, about when the journey is.
func (ln *line) midnight() minutes {
	about := ln.journey.Depart
	for _, s := range ln.journey.Stops {
		for _, t := range []time.Time{s.From, s.By} {
			if about.IsZero() {
				about = t
			}
		}
	}
	y, m, d := about.In(ln.journey.Stops[0].Zone).Date()
	return upTo(time.Date(y, m, d, 0, 0, 0, 0, ln.journey.Stops[0].Zone))
}

func (ln *line) leave(stop int, at measure.Distance) {
	law := ln.number(ln.journey.Drives[stop].first())
	ln.add(step{act: leaving, stop: stop, law: law, begins: at, ends: at})
	ln.work(Packing, up(ln.journey.Stops[stop].Packing), stop, law, at)
}

func (ln *line) arrive(stop int, at measure.Distance) {
	law := ln.number(ln.journey.Drives[stop-1].last())
	ln.add(step{act: arriving, stop: stop, law: law, begins: at, ends: at})
	ln.work(SetUp, up(ln.journey.Stops[stop].SetUp), stop, law, at)
}

// first and last are the limits at the ends of a drive; none of one without sections.
func (d Drive) first() (l Limits) {
	if len(d) > 0 {
		l = d[0].Limits
	}
	return l
}

func (d Drive) last() (l Limits) {
	if len(d) > 0 {
		l = d[len(d)-1].Limits
	}
	return l
}

// work adds work at a stop, between whose parts the crew may rest.
func (ln *line) work(does Kind, long minutes, stop, law int, at measure.Distance) {
	for ; long > 0; long -= longWork {
		ln.add(step{act: working, does: does, long: min(long, longWork), stop: stop, law: law, begins: at, ends: at})
	}
}

func (ln *line) add(s step) {
	if s.stop >= 0 {
		s.drive, s.section = -1, -1
	}
	ln.steps = append(ln.steps, s)
}

// lookAhead tells each step when the next driving comes.
func (ln *line) lookAhead() {
	next, packs := -1, minutes(0)
	for i := len(ln.steps) - 1; i >= 0; i-- {
		s := &ln.steps[i]
		switch s.act {
		case driving:
			next, packs = i, 0
		case working:
			packs += s.long
		case arriving, sailing:
			next, packs = -1, 0
		}
		s.next, s.packs = next, packs
	}
}

// windows are when a section is travelled, in minutes: when it may be, and the crew does.
func (ln *line) windows(law, habit *Hours) *windows {
	key := [2]*Hours{law, habit}
	if _, ok := ln.hours[key]; !ok {
		ln.hours[key] = windowsOf(law).and(windowsOf(habit))
	}
	return ln.hours[key]
}
