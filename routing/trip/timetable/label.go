package timetable

// cycleDays is the longest cycle that can be counted.
const cycleDays = 14

// label is a state of the crew at one place: when it is there, and what its drivers have
// behind them.
type label struct {
	at     minutes
	clocks [maxLaws]clock
	day    minutes // the number of the day at which the counts below were brought up to date
	driven minutes // on it
	busy   minutes // on it; short stops off duty count
	duties [cycleDays]int16
	free   minutes // when a time off duty as long as any law asks for was over last
	off    minutes // since when it is off duty; onDuty: it is not
	stays  minutes // it leaves the stop that it is at no earlier
	begun  minutes // when its shift began, after the last time off duty that is a rest for any law
	loose  minutes // how much later all since then could have been, and be right

	prev  int32 // the label that it comes from, -1 at the start
	step  int32 // in which step it came to be
	took  took
	least minutes // of time off duty, as asked for
	until minutes // when that ends at the earliest
	why   Why
	stops int16   // how often it stood off duty
	fresh bool    // from standing off duty: there is no sense in standing on
	rests bool    // its shift begins with it
	later minutes // by how much it puts off the shift before it, which stands the less for it
	gone  bool    // another one covers it
}

// took is how a label came to be.
type took uint8

const (
	started took = iota
	drove
	worked
	arrived
	left
	rested
)

const onDuty minutes = -1

// clock counts for one law since its last rest.
type clock struct {
	from                 minutes // when the rest was over
	driven, duty, unbent minutes // unbent: driving since a break
	cycle                minutes // the day on which its cycle began
}

func (ln *line) dayOf(at minutes) minutes {
	d := at - ln.base
	if d < 0 {
		d -= aDay - 1
	}
	return d / aDay
}

// turn brings the counts of days up to the day of the label.
func (ln *line) turn(l *label) {
	day := ln.dayOf(l.at)
	if day == l.day {
		return
	}
	by := min(day-l.day, cycleDays)
	copy(l.duties[by:], l.duties[:cycleDays-by])
	clear(l.duties[:by])
	l.day, l.driven, l.busy = day, 0, 0
}

// onDuty passes time on duty.
func (ln *line) onDuty(l *label, long minutes, drives bool) {
	ln.begin(l)
	if ln.tracks.daily || ln.tracks.cycle {
		l.loose = min(l.loose, max(ln.toMidnight(l.at)-long, 0))
	}
	for i := range ln.laws {
		c := &l.clocks[i]
		c.duty += long
		if drives {
			c.driven, c.unbent = c.driven+long, c.unbent+long
		}
	}
	for long > 0 {
		part := min(long, ln.toMidnight(l.at))
		l.busy += part
		l.duties[0] += int16(part)
		if drives {
			l.driven += part
		}
		l.at, long = l.at+part, long-part
		ln.turn(l)
	}
}

// offSince is since when a crew is off duty; it begins to be now, if it is not.
func (l *label) offSince() minutes {
	if l.off == onDuty {
		return l.at
	}
	return l.off
}

func (ln *line) toMidnight(at minutes) minutes { return ln.base + (ln.dayOf(at)+1)*aDay - at }

// shortOff is what counts as time off duty in a day, at the least.
const shortOff = 30

// begin ends time off duty.
func (ln *line) begin(l *label) {
	if l.off != onDuty && l.at-l.off < shortOff {
		l.busy += min(l.at-l.off, l.at-(ln.base+l.day*aDay))
	}
	l.off, l.fresh = onDuty, false
}

// offDuty stands off duty until a moment, since before if the crew is so already.
func (ln *line) offDuty(l *label, until minutes) {
	l.off = l.offSince()
	l.at = until
	ln.turn(l)
	long := until - l.off
	l.rests = false
	for i, law := range ln.laws {
		c := &l.clocks[i]
		if long >= law.rest {
			l.begun, l.loose, l.rests = until, forever, true
			c.from, c.driven, c.duty, c.unbent = until, 0, 0, 0
		}
		if long >= law.breaks {
			c.unbent = 0
		}
		if law.restart > 0 && long >= law.restart {
			c.cycle = l.day
		}
	}
	if long >= ln.longestFree() {
		l.free = until
	}
}

// putOff begins the shift of a label later, by as much as it stands at its end for nothing:
// up to a moment until which it stands, of which some is needed. That is no worse: less
// time has elapsed since the rest.
func (ln *line) putOff(l *label, needed, until minutes) {
	by := min(l.loose, until-needed)
	if !ln.tracks.elapsed || by <= 0 {
		return
	}
	for i := range ln.laws {
		if c := &l.clocks[i]; c.from == l.begun {
			c.from += by
		}
	}
	if l.free == l.begun {
		l.free += by
	}
	l.begun, l.loose, l.later, l.off = l.begun+by, l.loose-by, by, l.off+by
}

// roomBeyond is how much later a drive that is over could have been by what a law counts
// from before the shift.
func (ln *line) roomBeyond(l *label, number int) minutes {
	out := forever
	if number < 0 {
		return out
	}
	law, c := ln.laws[number], l.clocks[number]
	if law.elapsed > 0 && c.from != l.begun {
		out = law.elapsed - (l.at - c.from)
	}
	if law.freeWithin > 0 && l.free != l.begun {
		out = min(out, law.freeWithin-(l.at-l.free))
	}
	return out
}

func (ln *line) longestFree() (out minutes) {
	for _, law := range ln.laws {
		out = max(out, law.freeOff)
	}
	return out
}

// may is how long the crew may drive on from now under a law, at most so long; it does not
// look past midnight where days count.
func (ln *line) may(l *label, number int, long minutes) minutes {
	if number < 0 {
		return long
	}
	law, c := ln.laws[number], l.clocks[number]
	least := func(limit, used minutes) {
		if limit > 0 {
			long = min(long, limit-used)
		}
	}
	least(law.driving, c.driven)
	least(law.duty, c.duty)
	least(law.elapsed, l.at-c.from)
	least(law.breakAfter, c.unbent)
	least(law.freeWithin, l.at-l.free)
	if ln.tracks.daily || ln.tracks.cycle {
		long = min(long, ln.toMidnight(l.at))
		least(law.dayDriving, l.driven)
		least(law.dayBusy, l.busy)
		least(law.cycle, ln.inCycle(l, number))
	}
	return max(long, 0)
}

// inCycle is the time on duty in the cycle of a law.
func (ln *line) inCycle(l *label, number int) (sum minutes) {
	for i := 0; i < ln.laws[number].cycleDays; i++ {
		if l.day-minutes(i) >= l.clocks[number].cycle {
			sum += minutes(l.duties[i])
		}
	}
	return sum
}

// mayWork reports whether work leaves a day the time off duty that a law asks for.
func (ln *line) mayWork(l *label, number int, long minutes) bool {
	if number < 0 || ln.laws[number].dayBusy == 0 {
		return true
	}
	most := ln.laws[number].dayBusy
	today := min(long, ln.toMidnight(l.at))
	return l.busy+today <= most
}

// covers reports whether whatever a label can still reach another one can reach as well,
// and no later: it is not later, and its drivers have no more behind them. It may stand
// until the other one is there.
func (ln *line) covers(a, b *label) bool {
	gap := b.at - a.at
	if b.fresh && !a.fresh { // b may be a itself, having stood
		return false
	}
	if gap < 0 || a.stays > b.stays || b.off != onDuty && (a.off == onDuty || a.off > b.off) {
		return false
	}
	for i := range ln.laws {
		law, p, q := &ln.laws[i], &a.clocks[i], &b.clocks[i]
		if p.driven > q.driven || p.duty > q.duty || p.unbent > q.unbent {
			return false
		}
		if law.elapsed > 0 && p.from+a.putsOff(p.from, gap) < q.from || law.cycle > 0 && !ln.lessDuty(a, b, i) {
			return false
		}
	}
	if ln.tracks.elapsed && a.begun+a.loose < b.begun+b.loose {
		return false
	}
	if ln.tracks.daily && (a.day == b.day || a.fresh) && (a.driven > b.driven || a.busy > b.busy) {
		return false
	}
	return !ln.tracks.free || a.free+a.putsOff(a.free, gap) >= b.free
}

// putsOff is how much later a time off duty could have been over by standing for so long.
func (l *label) putsOff(over, gap minutes) minutes {
	if over != l.begun {
		return 0
	}
	return min(l.loose, gap)
}

// lessDuty reports whether a has no more time on duty than b in any last days of the cycle
// of a law. One that has just stood goes on at once: its days are those until then.
func (ln *line) lessDuty(a, b *label, number int) bool {
	var p, q minutes
	back := b.day - a.day
	if a.fresh {
		back = 0
	}
	for i := range minutes(ln.laws[number].cycleDays) {
		if b.day-i >= b.clocks[number].cycle {
			q += minutes(b.duties[i])
		}
		if i >= back && a.day-(i-back) >= a.clocks[number].cycle {
			p += minutes(a.duties[i-back])
		}
		if p > q {
			return false
		}
	}
	return true
}
