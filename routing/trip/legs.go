package trip

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/matching"
	"wayhouse/routing/trip/standing"
)

// addLegs adds a way to the plan: a leg for each stage of it.
func (b *builder) addLegs(at int, w way, cuts []cut, stages []stage) error {
	if w.Gap != nil {
		b.finish(b.gapLeg(w), stage{}, w.Starts, w.Stops, w)
		return nil
	}
	first := true
	for i, s := range stages {
		c := cuts[s.cut]
		if c.way != at {
			continue
		}
		leg := b.roadLeg(s)
		leg.From, leg.To = w.From, w.To
		switch {
		case s.on:
			leg.From = b.plan.Legs[len(b.plan.Legs)-1].To
		case !first:
			leg.From = border(cuts[s.cut-1].codes, c.codes)
		}
		last := s.cut == len(cuts)-1 || cuts[s.cut+1].way != at
		switch {
		case i+1 < len(stages) && stages[i+1].on:
			leg.To, last = b.parked(stages[i+1]), false
		case !last:
			leg.To = border(c.codes, cuts[s.cut+1].codes)
		}
		if i+1 < len(stages) && s.stands(stages[i+1]) {
			leg.Findings = append(leg.Findings, b.parking(leg, s, stages[i+1]))
		}
		b.finish(leg, s, w.Starts && first, w.Stops && last, w)
		first = false
	}
	passings := 0
	for _, l := range b.plan.Legs {
		passings += len(l.Structures)
	}
	if passings > MaxPassings {
		return fail(
			"structures",
			fmt.Sprint(passings),
			say.That("error.passings", "bound", MaxPassings),
			say.That("fix.split_the_trip_or"),
		)
	}
	return nil
}

// parked is where the rig stands between two legs, on the road on which the next begins.
func (b *builder) parked(next stage) say.Remark {
	return say.That("route.parked", "road", b.Network.RoadName(next.pieces[0].Arc.Edge()), "after", b.driven())
}

// driven is how long the legs of the plan are.
func (b *builder) driven() (length measure.Distance) {
	for _, l := range b.plan.Legs {
		length += l.Length
	}
	return length
}

// atBorders cuts pieces where their jurisdictions change.
func (b *builder) atBorders(pieces []network.Piece) [][]network.Piece {
	var out [][]network.Piece
	for i, p := range pieces {
		if i == 0 || !b.Network.SameArea(pieces[i-1].Arc.Edge(), p.Arc.Edge()) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], p)
	}
	return out
}

func (b *builder) codes(pieces []network.Piece) []string {
	return b.Network.Jurisdictions(pieces[0].Arc.Edge())
}

func border(a, b []string) say.Remark {
	return say.That("route.border", "from", strings.Join(a, "/"), "to", strings.Join(b, "/"))
}

func (b *builder) roadLeg(st stage) Leg {
	pieces := st.pieces
	l := Leg{
		Jurisdictions: b.codes(pieces), Roads: b.RoadNames(pieces), Time: b.drives.Time(pieces),
		zone: b.Network.Zone(pieces[0].Arc.Edge()),
	}
	ledger := standing.NewLedger()
	for i, p := range pieces {
		b.stands.Drive(ledger, p, l.Length)
		l.Towns = addTowns(l.Towns, b.Network.Town(p.Arc.Edge()))
		signals, stops := b.Network.Controls(p.Arc)
		l.Signals, l.Stops = l.Signals+signals, l.Stops+stops
		for _, s := range b.stands.On(p) {
			b.listed[s.Key()] = true
			if s.Passage.Shut != nil {
				s = b.asPlanned(s, l, st, pieces[:i+1])
			}
			at := l.Length + b.Network.Along(s.At, p.Arc) - p.Start
			if s.Whole && l.passes(s) || l.again(s, at) {
				continue
			}
			l.Structures = append(l.Structures, b.stands.Passing(s, at, strings.Join(l.Jurisdictions, "/")))
		}
		l.Line = network.Join(l.Line, b.Network.Line(p))
		l.Length += p.Length()
		if b.Network.Class[p.Arc.Edge()].Water() {
			l.Findings = append(l.Findings, b.stands.Ferry(p.Arc.Edge(), l.Jurisdictions))
		}
	}
	l.Fuel = b.drives.Leg(pieces)
	l.Findings = slices.Concat(l.Findings, b.stands.Said(ledger, l.Jurisdictions),
		b.drives.Climbs(ledger, strings.Join(l.Jurisdictions, "/")))
	if ledger.Small {
		l.Findings = append(l.Findings, b.stands.Survey(l.Jurisdictions)...)
	}
	l.used = ledger.Roads
	l.owners, l.own = ledger.Owners, !ledger.Alien && !b.Network.Lacks(network.Owners)
	if !b.Network.Lacks(network.Grades) {
		l.Climb = &ledger.Climb
	}
	return l
}

// asPlanned is a structure on the last of the pieces that a stage begins with, as the rig
// meets it at the planned time on the clock of the place: where the road is closed just then,
// that shuts it.
func (b *builder) asPlanned(s standing.Placed, l Leg, st stage, pieces []network.Piece) standing.Placed {
	there, last := b.drives.Time(pieces), b.drives.Time(pieces[len(pieces)-1:])
	start, slow, known := b.moments(st, there)
	if !known {
		return s
	}
	until, late := start.In(b.legZone(l)), slow.In(b.legZone(l))
	from, since := until.Add(-last.Duration), late.Add(-last.Slow)
	if shut := s.Passage.Shut; shut.Cover(from, until) || shut.Cover(since, late) {
		s.Passage.Outcome, s.Passage.Reason = finding.Forbidden, finding.Exceeded
		s.Passage.Others = append(slices.Clone(s.Passage.Others), say.That("structure.closed_then", "day", say.Day(from)))
	}
	return s
}

// moments is when the rig has driven for so long on a stage, likely and on a slow trip.
func (b *builder) moments(st stage, driven driving.Duration) (likely, slow time.Time, known bool) {
	if !st.slow.IsZero() {
		whole := b.drives.Time(st.pieces)
		return partWay(
				st.start,
				st.end,
				driven.Duration,
				whole.Duration,
			), partWay(
				st.slow,
				st.late,
				driven.Slow,
				whole.Slow,
			), true
	}
	start, late := b.nextStart()
	if start.IsZero() || b.plan.Waits || !driven.Unknown.None() {
		return start, late, false
	}
	return start.Add(driven.Duration), late.Add(driven.Slow), true
}

// partWay is the moment at a share of the driving between two, in which the rig stands too.
func partWay(from, to time.Time, driven, whole time.Duration) time.Time {
	if whole <= 0 {
		return to
	}
	return from.Add(time.Duration(float64(to.Sub(from)) * float64(driven) / float64(whole)))
}

// passes reports whether the leg has the structure already, met in the same way.
func (l *Leg) passes(p standing.Placed) bool {
	return slices.ContainsFunc(l.Structures, func(s standing.Passing) bool {
		return s.ID == p.Structure.ID && s.Called.String() == p.Called.String() && s.Outcome == p.Passage.Outcome &&
			s.Margin == p.Passage.Margin
	})
}

// again reports whether a structure was just listed at the same place: where
// roads are split at it, each part has it.
func (l *Leg) again(p standing.Placed, at measure.Distance) bool {
	return slices.ContainsFunc(l.Structures, func(s standing.Passing) bool {
		return s.ID == p.Structure.ID && s.Called.String() == p.Called.String() && s.Outcome == p.Passage.Outcome &&
			s.Margin == p.Passage.Margin && math.Abs(float64(s.At-at)) < 1
	})
}

// addTowns adds the municipalities of an edge to others; "" is one that is not known.
func addTowns(towns []string, of string) []string {
	for name := range strings.SplitSeq(of, ";") {
		if !slices.Contains(towns, name) {
			towns = append(towns, name)
		}
	}
	return towns
}

// gapLeg is a part of a given route that matches no road. It lies in every
// jurisdiction that one of its points may lie in.
func (b *builder) gapLeg(w way) Leg {
	l := Leg{From: w.From, To: w.To, Line: w.Gap, Length: geodesic.Length(w.Gap), Unmatched: true}
	l.Time.Unknown = driving.NoRoad()
	l.Fuel.Unknown = l.Time.Unknown
	nowhere := false
	for _, p := range w.Gap {
		codes := b.Areas.At(p)
		nowhere = nowhere || len(codes) == 0
		for _, c := range codes {
			if !slices.Contains(l.Jurisdictions, c) {
				l.Jurisdictions = append(l.Jurisdictions, c)
			}
		}
	}
	slices.Sort(l.Jurisdictions)
	l.Findings = b.stands.Survey(l.Jurisdictions)
	l.Findings = append(l.Findings, finding.Finding{
		Topic: finding.Given, Rule: "given route", Jurisdiction: strings.Join(l.Jurisdictions, "/"), Outcome: finding.Unknown,
		Reason: finding.NotMapped, Settles: matching.Prescriber(),
		Says: []say.Remark{say.That("given.no_road", "length", l.Length, "from", w.At, "to", w.At+l.Length,
			"beyond", slices.ContainsFunc(l.Line, func(p orb.Point) bool { return !b.Network.Spans(p) }))},
	})
	if nowhere {
		l.Findings = append(l.Findings, finding.Finding{
			Topic: finding.Network, Rule: "jurisdiction", Outcome: finding.Unknown, Reason: finding.NotMapped,
			Says: []say.Remark{say.That("given.nowhere")}, Settles: b.stands.Office(""),
		})
	}
	return l
}

// finish asks the rules of a leg and adds it to the plan.
func (b *builder) finish(l Leg, s stage, first, last bool, w way) {
	b.times(&l, s)
	at := l.Start
	if at.IsZero() {
		at = b.plan.Departure
	}
	if opens, waits := s.opens(); waits && at.Before(opens) {
		at = opens // a rig that is early waits
	}
	at = at.In(b.legZone(l)) // rows are in force by the day of the place
	place := regs.Stay{
		Jurisdictions: l.Jurisdictions, OwnerKnown: l.own, Towns: l.Towns, Owners: l.owners, Roads: l.used,
		Ends: []orb.Point{l.Line[0], l.Line[len(l.Line)-1]},
	}
	if !l.EndSlow.IsZero() {
		place.Until = l.EndSlow.In(at.Location())
	}
	place.Latest = b.stands.Latest().In(at.Location())
	l.Findings = append(b.Tables.Check(b.vehicle(), place, at), l.Findings...)
	for _, s := range standing.ByRisk(l.Structures) {
		l.Findings = append(l.Findings, s.Finding())
	}
	l.Findings = append(l.Findings, b.stands.Lacks(l.Jurisdictions)...)
	if first {
		l.Findings = append(l.Findings, b.stands.AtStop("first kilometre", l.From, w.access[0], l.Jurisdictions))
	}
	if last {
		l.Findings = append(l.Findings, b.stands.AtStop("last kilometre", l.To, w.access[1], l.Jurisdictions))
	}
	b.plan.Legs = append(b.plan.Legs, l)
}

// times sets when a leg is driven: as its stage has it, or after the driving of all legs
// before.
func (b *builder) times(l *Leg, s stage) {
	if !s.slow.IsZero() {
		l.Start, l.StartSlow, l.End, l.EndSlow = s.start, s.slow, s.end, s.late
		return
	}
	l.Start, l.StartSlow = b.nextStart()
	if !l.Start.IsZero() && l.Time.Unknown.None() && !b.plan.Waits {
		l.End, l.EndSlow = l.Start.Add(l.Time.Duration), l.StartSlow.Add(l.Time.Slow)
	}
}

// opens is when the hours began in which the stage is driven as planned; ok is false where
// none are kept.
func (s *stage) opens() (at time.Time, ok bool) {
	if s.hours == nil || s.slow.IsZero() {
		return at, false
	}
	for _, span := range s.hours.Spans {
		if !s.slow.Before(span.From) {
			at = span.From
		}
	}
	return at, !at.IsZero()
}

// legZone is the time zone of a leg: what the network says, else that of its
// first jurisdiction.
func (b *builder) legZone(l Leg) *time.Location {
	if loc, err := time.LoadLocation(l.zone); err == nil && l.zone != "" {
		return loc
	}
	return b.Zone(l.Jurisdictions)
}

// nextStart is when the next leg starts, likely and on a slow trip; zero once a leg
// has no known time.
func (b *builder) nextStart() (likely, slow time.Time) {
	if b.plan.Waits && len(b.plan.Legs) > 0 {
		return likely, slow
	}
	likely, slow = b.plan.Departure, b.plan.Departure
	for _, l := range b.plan.Legs {
		if !l.Time.Unknown.None() {
			return time.Time{}, time.Time{}
		}
		likely, slow = likely.Add(l.Time.Duration), slow.Add(l.Time.Slow)
	}
	return likely, slow
}
