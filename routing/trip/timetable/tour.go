package timetable

import (
	"cmp"
	"context"
	"math"
	"time"

	"wayhouse/routing/trip/ordering"
)

// Tour is a journey whose stops between the first and the last may be driven in any order.
type Tour struct {
	Journey           // with a departure; its drives are not read
	Ways    [][]Drive // from each stop to each other; nil: none leads there
}

// Outcome is what a journey comes to. Of two the better one misses less, or else is over
// sooner, or else drives less.
type Outcome struct {
	Never   bool          // nothing that is known lets it reach its end
	Late    time.Duration // after all its deadlines together
	Over    time.Time     // when the last stop is set up, as planned
	Driving time.Duration // likely
}

// Compare is below 0 where an outcome is better than another, above 0 where it is worse.
func (o Outcome) Compare(than Outcome) int {
	never := func(b bool) (n int) {
		if b {
			n = 1
		}
		return n
	}
	return cmp.Or(never(o.Never)-never(than.Never), cmp.Compare(o.Late, than.Late), o.Over.Compare(than.Over),
		cmp.Compare(o.Driving, than.Driving))
}

// Ordered is a tour in the best order.
type Ordered struct {
	Order []int // numbers of its stops; nil where ways or hours let no order reach the end
	Outcome
	Given Outcome // of the order in which the stops are numbered
	All   bool    // no order is better; false: not all were tried that might be
}

// What a search for an order may take: beginnings that are reckoned, and how often states of
// the crew are held against each other in all.
const (
	mostReckoned = 30_000
	mostHeld     = 1_000_000_000
)

// Best finds the best order, that in which the stops are numbered if none is better.
//
// The timetable itself judges: a whole order as any journey, and its beginnings under the
// limits of driving between two rests alone, nothing being dropped where it is late: no order
// does better, since a shorter journey has no coarser grid of rests. What follows is bound
// from below by the least driving that is left, the rests that limits ask for in it, the hours
// at which any road is open, work and stays, and what dates ask for. The error is of a
// journey that makes no sense, or of the context.
func (t Tour) Best(ctx context.Context) (out Ordered, err error) {
	o, err := t.ahead()
	if err != nil {
		return out, err
	}
	out.Given = o.given()
	seek := ordering.Seeker[begun]{
		N: len(t.Stops) - 2, Better: func(a, b begun) bool { return a.least.Compare(b.least) < 0 },
		On: func(b begun, next int, best *begun) (begun, bool, error) {
			if o.reckoned > mostReckoned || o.held > mostHeld {
				return b, false, ordering.ErrEnough
			}
			on, ok := o.on(b, next+1, best)
			return on, ok, ctx.Err()
		},
	}
	best, err := seek.Seek(o.begin())
	if out.All = best.All; best.Order != nil {
		out.Order, out.Outcome = best.State.stops, best.State.least
	}
	return out, err
}

// along is the journey by some stops in a row.
func (t *Tour) along(stops []int, ways [][]Drive) (j Journey) {
	j = t.Journey
	j.Stops, j.Drives = nil, nil
	for i, s := range stops {
		j.Stops = append(j.Stops, t.Stops[s])
		if i > 0 {
			j.Drives = append(j.Drives, ways[stops[i-1]][s])
		}
	}
	return j
}

// begun is the beginning of an order.
type begun struct {
	stops  []int
	left   uint          // stops that are left, as bits from that of stop 1
	first  minutes       // when the last of them is reached at the earliest
	ready  minutes       // and set up
	late   minutes       // so far, all together
	driven time.Duration // likely
	least  Outcome       // no order that begins so is better
}

func (b begun) at() int { return b.stops[len(b.stops)-1] }

// with is a beginning with another stop.
func (b begun) with(stop int) begun {
	b.stops = append(b.stops[:len(b.stops):len(b.stops)], stop)
	if bit := uint(1) << (stop - 1); b.left&bit != 0 {
		b.left -= bit
	}
	return b
}

// orders tells what may come of a beginning.
type orders struct {
	*Tour
	hours map[[2]*Hours]*windows // of all journeys
	eased [][]Drive              // ways under few limits

	reckoned, held int // so far
	ahead
}

func (o *orders) begin() begun {
	at := upTo(o.Depart)
	return begun{stops: []int{0}, left: 1<<(len(o.Stops)-2) - 1, first: at, ready: at}
}

// given is what the order comes to in which the stops are numbered.
func (o *orders) given() Outcome {
	b := o.begin()
	for i := 1; i < len(o.Stops); i++ {
		if o.Ways[i-1][i] == nil {
			return Outcome{Never: true}
		}
		b = o.drives(b, i)
	}
	if b, ok := o.reckon(b, false); ok {
		return o.outcome(b.late, b.ready, b.driven)
	}
	return Outcome{Never: true}
}

func (o *orders) outcome(late, over minutes, driven time.Duration) Outcome {
	return Outcome{Late: late.long(), Over: over.in(o.Stops[len(o.Stops)-1].Zone), Driving: driven}
}

// drives goes on to another stop, whose times stay those of before.
func (o *orders) drives(b begun, stop int) begun {
	for _, s := range o.Ways[b.at()][stop] {
		b.driven += s.Likely
	}
	return b.with(stop)
}

// on goes on to another stop, and to the last one where none is left between; ok is false
// where that leads nowhere, or surely to nothing better.
func (o *orders) on(b begun, stop int, best *begun) (begun, bool) {
	last := len(o.Stops) - 1
	if o.Ways[b.at()][stop] == nil {
		return b, false
	}
	worse := func(b begun) bool { return best != nil && b.least.Compare(best.least) >= 0 }
	on := o.drives(b, stop)
	on.first = o.leaves(b) + o.long[b.at()][stop]
	on.ready, on.late = max(on.first, o.opens(stop))+up(o.Stops[stop].SetUp), b.late+o.tardy(stop, on.first)
	if on.least = o.bound(on); worse(on) {
		return on, false
	}
	if on.left == 0 {
		if o.Ways[stop][last] == nil {
			return on, false
		}
		on = o.drives(on, last)
	}
	tell := func() {
		if on.at() == last {
			on.least = o.outcome(on.late, on.ready, on.driven)
		} else {
			on.least = o.bound(on)
		}
	}
	on, ok := o.reckon(on, true)
	if tell(); ok && on.at() == last && !worse(on) {
		on, ok = o.reckon(on, false)
		tell()
	}
	return on, ok && !worse(on)
}

// reckon plans a beginning by itself, eased or as it is.
func (o *orders) reckon(b begun, eased bool) (begun, bool) {
	ways := o.Ways
	if eased {
		ways = o.eased
	}
	j := o.along(b.stops, ways)
	s := &search{line: lineOf(&j, o.hours), eased: eased}
	end := s.from(0, s.start(upTo(j.Depart)))
	o.reckoned, o.held = o.reckoned+1, o.held+s.held
	if len(end) == 0 {
		return b, false
	}
	b.first, b.ready, b.late = s.first, s.labels[s.best(end)].at, s.late
	return b, true
}

// nowhere is longer than any drive.
const nowhere = math.MaxInt64 / 4
