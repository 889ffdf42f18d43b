package timetable

import (
	"math"
	"math/bits"
	"time"

	"wayhouse/regs/measure"
)

// pacer lays the sections of a drive out in steps of whole minutes, and puts checks and
// fuel between them.
type pacer struct {
	*line
	at    measure.Distance
	drive int
	slow  time.Duration // driven so far in this drive, not rounded
	given minutes       // of it, in steps
	fuel  Interval      // until it is taken
	tanks bool          // fuel is taken when the tank is down
	tank  float64       // what is left of it, as a share
	check Interval      // until the next one
}

// until is an interval of which neither part is left out, but may be endless.
func until(i Interval, takes time.Duration) Interval {
	if i.Way <= 0 || takes <= 0 {
		i.Way = measure.Distance(math.Inf(1))
	}
	if i.Driving <= 0 || takes <= 0 {
		i.Driving = math.MaxInt64
	}
	return i
}

// minutes are how many of so many metres each fit into what is left, at least one.
func (i Interval) minutes(each float64) minutes {
	out := down(i.Driving)
	if w := float64(i.Way); !math.IsInf(w, 1) && each > 0 {
		out = min(out, minutes(w/each))
	}
	return max(out, 1)
}

// less is what is left of an interval, and whether it is over within the next minute.
func (i Interval) less(part minutes, each float64) (Interval, bool) {
	i.Driving -= part.long()
	i.Way -= measure.Distance(each * float64(part))
	return i, i.Driving < time.Minute || float64(i.Way) < each
}

// section adds a section. In minutes it is never shorter than it is, nor so short that its
// hours and limits would bind nobody.
func (p *pacer) section(number int) {
	d := p.journey.Drives[p.drive]
	s := d[number]
	base := step{
		law: p.number(s.Limits), drive: p.drive, section: number, stop: -1, begins: p.at, ends: p.at,
	}
	p.halt(base, up(s.Halt))
	p.standing(base, s.Waits, up(s.Pause))
	switch {
	case s.Ferry:
		p.crossing(base, s)
	case s.Slow > 0:
		p.slow += p.journey.Habits.lengthened(s.Slow)
		long := max(up(p.slow)-p.given, 1)
		p.given += long
		base.hours = p.windows(s.Hours, s.Habit)
		p.lay(base, s, long, number == len(d)-1)
	}
	p.at = base.begins + s.Length
}

// lengthened is a driving with what of each hour is not driven, rounded up.
func (h Habits) lengthened(d time.Duration) time.Duration {
	high, low := bits.Mul64(uint64(d), uint64(time.Hour))
	out, rest := bits.Div64(high, low, uint64(time.Hour-h.NotDriven))
	return time.Duration(out + min(rest, 1))
}

func (p *pacer) halt(base step, long minutes) {
	if long > 0 {
		base.act, base.long, base.hours = halting, long, nil
		p.add(base)
	}
}

func (p *pacer) standing(base step, does Kind, long minutes) {
	if long > 0 {
		base.act, base.does, base.long, base.hours = working, does, long, nil
		p.add(base)
	}
}

func (p *pacer) crossing(base step, s Section) {
	base.act, base.does, base.long, base.ends = sailing, Ferry, up(s.Slow), p.at+s.Length
	base.likely = s.Likely
	p.add(base)
}

// lay adds the driving of a section, cut where the load is checked and fuel taken; at the
// end of a drive neither is.
func (p *pacer) lay(base step, s Section, long minutes, last bool) {
	each, share := float64(s.Length)/float64(long), float64(p.journey.Habits.lengthened(s.Likely))/float64(long)
	h := p.journey.Habits
	if p.dry(s, 0, each) {
		p.fill(base)
	}
	for done := minutes(0); done < long; {
		one := base
		one.act, one.does = driving, Driving
		one.long = min(p.check.minutes(each), p.fuel.minutes(each), p.lasts(s, done, long-done, each))
		from := measure.Distance(each * float64(done))
		one.begins = base.begins + from
		one.likely = time.Duration(share * float64(one.long))
		done += one.long
		to := measure.Distance(each * float64(done))
		one.ends = base.begins + to
		p.add(one)

		here := base
		here.begins, here.ends = one.ends, one.ends
		var checks, fuels bool
		p.check, checks = p.check.less(one.long, each)
		p.fuel, fuels = p.fuel.less(one.long, each)
		p.tank -= s.Burnt(to) - s.Burnt(from)
		if last && done == long {
			return
		}
		if checks {
			p.check = until(h.CheckEvery, h.Check)
			p.standing(here, Check, up(h.Check))
		}
		if fuels || done < long && p.dry(s, done, each) {
			p.fill(here)
		}
	}
}
