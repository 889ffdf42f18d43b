package report

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// way says which way is taken, past what, how long it takes, and what the road data
// does not know of it.
func (s *screen) way(p *trip.Plan) {
	part := s.apart(say.That("screen.label.way"))
	part.briefly(
		say.That("screen.way", "length", p.Length, "shut", !p.Passable, "given", p.Given, "time", drivingTime(p.Time.Duration,
			p.Time.Unknown), "slow", ifSlow(p.Time), "roads", s.listed(s.in.Each(roads(p)))),
	)
	n := s.some(few, len(p.Avoided))
	for _, a := range p.Avoided[:n] {
		part.hints(avoids(a))
	}
	part.hides(len(p.Avoided) - n)
	if l := unmatched(p); l > 0 {
		part.keeps(say.That("head.unmatched", "length", l))
	}
	s.offs(part, p.Off)
	if p.Timetable != nil {
		s.days(p)
	} else {
		s.part(say.That("screen.label.times")).keeps(s.times(p))
	}
	truckRoads(s.roads(p.About), p)
}

// truckRoads says how much of a way is truck roads, where the road data knows of them.
func truckRoads(part *part, p *trip.Plan) {
	if on, ok := p.TruckRoads.Value(); ok && p.Length > 0 {
		part.keeps(say.That("screen.truck_roads", "percent", 100*float64(on/p.Length)))
	}
}

// unmatched is how much of a given route matches no road.
func unmatched(p *trip.Plan) (length measure.Distance) {
	for _, l := range p.Legs {
		if l.Unmatched {
			length += l.Length
		}
	}
	return length
}

// lacked is how many kinds of fact that the road data lacks are named.
const lacked = 6

// roads says what the road data is and does not know.
func (s *screen) roads(about network.About) *part {
	var lacks []say.Term
	for _, fact := range about.Lacks {
		lacks = append(lacks, fact)
	}
	more := len(lacks) - s.some(lacked, len(lacks))
	part := s.part(say.That("screen.label.roads"))
	part.keeps(say.That("screen.roads", "caution", about.Caution, "lacks", lacks[:len(lacks)-more], "more", more))
	return part
}

// roads are what the roads of a plan are called, in the order of travel.
func roads(p *trip.Plan) (out []say.Remark) {
	for _, l := range p.Legs {
		out = append(out, l.Roads...)
	}
	return slices.CompactFunc(out, sameRemark)
}

func sameRemark(a, b say.Remark) bool { return a.String() == b.String() }

// avoids says what a way leaves the shortest for, and what that costs.
func avoids(a choosing.Avoided) say.Remark {
	what := slices.Clone(a.Signs)
	for _, one := range a.Structures {
		if one.Known && one.Margin < 0 {
			what = append(what, say.That("screen.too_low", "what", one.Called, "short", -one.Margin))
		} else {
			what = append(what, one.Called)
		}
	}
	if a.Ferry {
		what = append(what, say.That("screen.ferry"))
	}
	return say.That(
		"screen.avoids",
		"what",
		say.Once(what),
		"longer",
		above0(a.Extra),
		"shorter",
		above0(-a.Extra),
		"time",
		drivingTime(a.ExtraTime.Duration, a.ExtraTime.Unknown),
	)
}

// listed is a list of words in one.
func (s *screen) listed(all []string) string { return strings.Join(all, ", ") }

// above0 is a quantity, nil where it is none.
func above0[T measure.Length | measure.Distance | time.Duration](v T) any {
	if v <= 0 {
		return nil
	}
	return v
}

// times says when each jurisdiction is entered and when the trip ends, where that is
// known.
func (s *screen) times(p *trip.Plan) say.Remark {
	var entered []say.Remark
	var in []string
	for _, l := range p.Legs {
		if !l.Start.IsZero() && !slices.Equal(in, l.Jurisdictions) && in != nil {
			entered = append(entered, say.That("screen.enters", "where", l.Jurisdictions, "at", s.clock(l.Start, p.Departure)))
		}
		in = l.Jurisdictions
	}
	if len(entered) > s.some(few, len(entered)) {
		entered = nil
	}
	depart := s.in.WeekdayMoment(p.Departure)
	likely, slow, known := p.Arrival()
	if !known {
		return say.That("screen.arrival_not_known", "depart", depart, "enters", entered)
	}
	return say.That("screen.arrival", "depart", depart, "enters", entered,
		"arrive", s.clock(likely.Add(time.Minute-1), p.Departure), "slow", s.clock(slow.Add(time.Minute-1), p.Departure))
}

// clock is a moment on the clock of another: the time alone where the day is the same.
func (s *screen) clock(t, as time.Time) string {
	t = t.In(as.Location())
	if t.Format(time.DateOnly) == as.Format(time.DateOnly) {
		return s.in.Clock(t)
	}
	return s.in.Moment(t)
}
