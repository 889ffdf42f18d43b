package timetable

import (
	"errors"
	"math/bits"
	"slices"
	"time"

	"wayhouse/routing/trip/ordering"
)

// ahead tells the least that is left of a tour: by the set of stops that are left and the one
// that it is at.
type ahead struct {
	long   [][]minutes // from each stop to each other, with what is not driven, at the least
	near   [][]minutes // the same, past other stops where that is shorter
	way    [][]minutes // all that is left, of long
	wheel  [][]minutes // of it, at the wheel
	likely [][]time.Duration
	shift  minutes // driving between two rests of all drivers at the most; 0: without a limit
	rest   minutes // how long one takes at the least
	open   *windows
}

// ahead reckons what is left of all orders.
func (t Tour) ahead() (*orders, error) {
	switch {
	case t.Depart.IsZero():
		return nil, errors.New("an order is sought from a departure")
	case len(t.Stops) < 2 || len(t.Stops) > bits.UintSize || len(t.Ways) != len(t.Stops):
		return nil, errors.New("ways lead from each stop to each other")
	}
	o := &orders{Tour: &t, hours: map[[2]*Hours]*windows{}}
	n := len(t.Stops)
	wheel, likely := make([][]minutes, n), make([][]time.Duration, n)
	o.long = make([][]minutes, n)
	for i := range n {
		o.long[i], wheel[i], likely[i] = make([]minutes, n), make([]minutes, n), make([]time.Duration, n)
		for k := range n {
			o.long[i][k], wheel[i][k], likely[i][k] = nowhere, nowhere, nowhere
			if way := t.Ways[i][k]; way != nil {
				one := Journey{Depart: t.Depart, Stops: []Stop{t.Stops[i], t.Stops[k]}, Drives: []Drive{way}, Habits: t.Habits}
				if err := one.check(); err != nil {
					return nil, err
				}
				o.long[i][k], wheel[i][k], likely[i][k] = way.takes(t.Habits)
			}
		}
	}
	o.way, o.wheel = ordering.Onward(o.long, nowhere), ordering.Onward(wheel, nowhere)
	o.likely = ordering.Onward(likely, nowhere)
	o.near, o.eased = closed(o.long), eased(t.Ways)
	o.limits()
	o.anyHour()
	return o, nil
}

// takes is how long a drive takes at the least, how much of it at the wheel, and the likely
// time of driving.
func (d Drive) takes(h Habits) (long, wheel minutes, likely time.Duration) {
	var stands, sails, drives time.Duration
	for _, s := range d {
		stands, likely = stands+s.Pause, likely+s.Likely
		if s.Ferry {
			sails += s.Slow
		} else {
			drives += h.lengthened(s.Slow)
		}
	}
	wheel = down(drives)
	return wheel + down(stands+sails), wheel, likely
}

// closed are the shortest times by way of any stops.
func closed(long [][]minutes) [][]minutes {
	out := make([][]minutes, len(long))
	for i := range long {
		out[i] = slices.Clone(long[i])
		out[i][i] = 0
	}
	for by := range out {
		for i := range out {
			for k := range out {
				out[i][k] = min(out[i][k], out[i][by]+out[by][k])
			}
		}
	}
	return out
}

// eased are ways that ask for nothing but so much driving between two rests.
func eased(ways [][]Drive) (out [][]Drive) {
	for _, from := range ways {
		var all []Drive
		for _, way := range from {
			way = slices.Clone(way)
			for i, s := range way {
				way[i].Limits = Limits{Driving: s.Limits.Driving, Rest: s.Limits.Rest}
			}
			all = append(all, way)
		}
		out = append(out, all)
	}
	return out
}

// sections calls for every section of every way.
func (t *Tour) sections(of func(Section)) {
	for _, from := range t.Ways {
		for _, way := range from {
			for _, s := range way {
				of(s)
			}
		}
	}
}

// limits sets the longest shift and the shortest rest that any section asks for.
func (o *orders) limits() {
	free := false
	o.sections(func(s Section) {
		if s.Ferry {
			return
		}
		free = free || s.Limits.Driving <= 0
		o.shift = max(o.shift, up(s.Limits.Driving)*minutes(max(o.Crew.Drivers, 1)))
		if rest := down(s.Limits.Rest); o.rest == 0 || rest < o.rest {
			o.rest = rest
		}
	})
	if free {
		o.shift = 0
	}
}

// anyHour sets the hours at which some section is open.
func (o *orders) anyHour() {
	var spans []Span
	always := false
	o.sections(func(s Section) {
		open := s.Hours
		if open == nil {
			open = s.Habit
		}
		if open != nil {
			spans = append(spans, open.Spans...)
		}
		always = always || open == nil && !s.Ferry && s.Slow > 0
	})
	if always {
		return
	}
	slices.SortFunc(spans, func(a, b Span) int { return a.From.Compare(b.From) })
	o.open = windowsOf(&Hours{Spans: spans})
}

// after is when so much has been driven at the earliest from a moment on, at hours at which
// some section is open.
func (w *windows) after(at, long minutes) minutes {
	for w != nil && long > 0 {
		one, ok := w.first(at)
		if !ok {
			return forever
		}
		at = max(at, one.opens)
		part := min(long, one.closes-at)
		at, long = at+part, long-part
	}
	return at + long
}

func (o *orders) opens(stop int) (at minutes) {
	if from := o.Stops[stop].From; !from.IsZero() {
		at = upTo(from)
	}
	return at
}

// tardy is how late an arrival is.
func (o *orders) tardy(stop int, at minutes) minutes {
	by := o.Stops[stop].By
	if by.IsZero() {
		return 0
	}
	return max(at-downTo(by), 0)
}

// leaves is when the last stop of a beginning is left at the earliest.
func (o *orders) leaves(b begun) minutes {
	stop := o.Stops[b.at()]
	if b.at() == 0 {
		at := b.ready
		if !stop.Until.IsZero() {
			at = max(at, upTo(stop.Until))
		}
		return at
	}
	ln := line{journey: &o.Journey}
	return max(b.ready+up(stop.Stay), ln.staysUntil(b.at(), b.first)) + up(stop.Packing)
}

// stands is the work at a stop between arriving and leaving, and how long the crew is off duty
// there at the least.
func (o *orders) stands(stop int) (work, off minutes) {
	s := o.Stops[stop]
	work, off = up(s.SetUp)+up(s.Packing), up(s.Stay)
	if s.Nights > 0 { // from just before midnight, when clocks go forward
		off = max(off, down(o.Habits.Morning)+minutes(s.Nights-1)*aDay-60-work)
	}
	return work, off
}

// goes is when a stop is left at the earliest, by its dates alone.
func (o *orders) goes(stop int) (at minutes) {
	s := o.Stops[stop]
	if !s.From.IsZero() {
		at = upTo(s.From) + up(s.SetUp) + up(s.Stay) + up(s.Packing)
	}
	if !s.Until.IsZero() {
		at = max(at, upTo(s.Until))
	}
	return at
}

// bound is what no order is better than that begins so.
func (o *orders) bound(b begun) Outcome {
	from, last := b.at(), len(o.Stops)-1
	if o.way[b.left][from] >= nowhere {
		return Outcome{Never: true}
	}
	leaves, late := o.leaves(b), b.late
	var work, off, dated minutes
	for left := b.left; left != 0; left &= left - 1 {
		stop := bits.TrailingZeros(left) + 1
		late += o.tardy(stop, leaves+o.near[from][stop])
		w, f := o.stands(stop)
		work, off = work+w, off+f
		dated = max(dated, o.goes(stop)+o.near[stop][last])
	}
	wheel := o.wheel[b.left][from]
	if o.shift > 0 && wheel > 0 {
		off = max(off, (wheel-1)/o.shift*o.rest)
	}
	driven := o.open.after(leaves, wheel)
	if driven >= forever {
		return Outcome{Never: true}
	}
	arrives := max(leaves+o.way[b.left][from]+work+off, driven, dated)
	over := max(arrives, o.opens(last)) + up(o.Stops[last].SetUp)
	return o.outcome(late+o.tardy(last, arrives), over, b.driven+o.likely[b.left][from])
}
