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
	"wayhouse/routing/match"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// addLegs cuts a way at borders and adds the legs to the plan.
func (b *builder) addLegs(w way) error {
	if w.Gap != nil {
		b.finish(b.gapLeg(w), w.starts, w.stops, w)
		return nil
	}
	cuts := b.atBorders(w.Pieces)
	for i, pieces := range cuts {
		leg := b.roadLeg(pieces)
		leg.From, leg.To = w.from, w.to
		if i > 0 {
			leg.From = border(b.codes(cuts[i-1]), leg.Jurisdictions)
		}
		if i < len(cuts)-1 {
			leg.To = border(leg.Jurisdictions, b.codes(cuts[i+1]))
		}
		b.finish(leg, w.starts && i == 0, w.stops && i == len(cuts)-1, w)
	}
	passings := 0
	for _, l := range b.plan.Legs {
		passings += len(l.Structures)
	}
	if passings > MaxPassings {
		return fail("structures", fmt.Sprint(passings), fmt.Sprintf("the trip passes structures more than %d times", MaxPassings), "split the trip, or keep fewer structures")
	}
	return nil
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

func border(a, b []string) string {
	return fmt.Sprintf("border of %s and %s", strings.Join(a, "/"), strings.Join(b, "/"))
}

func (b *builder) roadLeg(pieces []network.Piece) Leg {
	l := Leg{Jurisdictions: b.codes(pieces), Roads: b.roads(pieces), Time: b.drives.Time(pieces), zone: b.Network.Zone(pieces[0].Arc.Edge())}
	ledger := standing.NewLedger()
	for i, p := range pieces {
		b.stands.Drive(ledger, p, l.Length)
		l.town(b.Network.Town(p.Arc.Edge()))
		for _, s := range b.stands.On(p) {
			b.listed[s.Key()] = true
			if s.Passage.Shut != nil {
				s = b.asPlanned(s, l, pieces[:i+1])
			}
			at := l.Length + b.Network.Along(s.At, p.Arc) - p.Start
			if s.Whole && l.passes(s) || l.again(s, at) {
				continue
			}
			l.Structures = append(l.Structures, b.stands.Passing(s, at, strings.Join(l.Jurisdictions, "/")))
		}
		l.Line = driving.AppendLine(l.Line, b.Network.Line(p))
		l.Length += p.Length()
		if class := b.Network.Class[p.Arc.Edge()]; class.Water() {
			l.Findings = append(l.Findings, b.ferry(p.Arc.Edge(), class, l.Jurisdictions))
		}
	}
	l.Fuel = b.drives.Leg(pieces)
	l.Findings = slices.Concat(l.Findings, b.stands.Said(ledger, l.Jurisdictions), b.drives.Climbs(ledger, strings.Join(l.Jurisdictions, "/")))
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

// asPlanned is a structure on the last of the pieces that a leg begins with, as
// the rig meets it at the planned time on the clock of the place: where the road
// is closed just then, that shuts it.
func (b *builder) asPlanned(s standing.Placed, l Leg, pieces []network.Piece) standing.Placed {
	start, there := b.nextStart(), b.drives.Time(pieces)
	if start.IsZero() || b.waits || there.Unknown != "" {
		return s
	}
	until := start.Add(there.Duration).In(b.legZone(l))
	from := until.Add(-b.drives.Time(pieces[len(pieces)-1:]).Duration)
	if s.Passage.Shut.Cover(from, until) {
		s.Passage.Outcome = finding.Forbidden
		s.Passage.Others = append(slices.Clone(s.Passage.Others), say.That("structure.closed_then", "day", say.Day(from)))
	}
	return s
}

func (b *builder) ferry(e network.EdgeID, class network.Class, codes []string) finding.Finding {
	uses, need := say.That("way.ferry"), say.That("way.ferry_time_unknown")
	if class == network.PossibleFerry {
		uses = say.That("way.possible_ferry")
	}
	if v, ok := b.Network.Speed(e); ok {
		need = say.That("way.ferry_time", "minutes", float64(b.Network.Length[e])/float64(v)/60)
	}
	return finding.Finding{
		Topic: finding.Road, Rule: "ferry", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown, Reason: finding.NotMapped,
		Says: []say.Remark{uses, need}, Settles: finding.Asking(finding.Expert, say.That("ask.ferry")),
	}
}

// passes tells whether the leg has the structure already, met in the same way.
func (l *Leg) passes(p standing.Placed) bool {
	return slices.ContainsFunc(l.Structures, func(s standing.Passing) bool {
		return s.ID == p.Structure.ID && s.Name == p.Structure.Name && s.Outcome == p.Passage.Outcome && s.Margin == p.Passage.Margin
	})
}

// again tells whether a structure was just listed at the same place: where
// roads are split at it, each part has it.
func (l *Leg) again(p standing.Placed, at measure.Distance) bool {
	return slices.ContainsFunc(l.Structures, func(s standing.Passing) bool {
		return s.ID == p.Structure.ID && s.Name == p.Structure.Name && s.Outcome == p.Passage.Outcome && s.Margin == p.Passage.Margin && math.Abs(float64(s.At-at)) < 1
	})
}

// town notes the municipalities of a piece; "" is one that is not known.
func (l *Leg) town(names string) {
	for _, name := range strings.Split(names, ";") {
		if !slices.Contains(l.Towns, name) {
			l.Towns = append(l.Towns, name)
		}
	}
}

// gapLeg is a part of a given route that matches no road. It lies in every
// jurisdiction that one of its points may lie in.
func (b *builder) gapLeg(w way) Leg {
	l := Leg{From: w.from, To: w.to, Line: w.Gap, Length: geodesic.Length(w.Gap), Unmatched: true}
	l.Time.Unknown = driving.NoRoad
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
		Reason: finding.NotMapped, Settles: prescriber(),
		Says: []say.Remark{say.That("given.no_road", "length", l.Length, "from", w.gapAt, "to", w.gapAt+l.Length)},
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
func (b *builder) finish(l Leg, first, last bool, w way) {
	l.Start = b.nextStart()
	at := l.Start
	if at.IsZero() {
		at = b.plan.Departure
	}
	at = at.In(b.legZone(l)) // rows are in force by the day of the place
	place := regs.Place{
		Jurisdictions: l.Jurisdictions, OwnerKnown: l.own, Towns: l.Towns, Owners: l.owners, Roads: l.used,
		Ends: []orb.Point{l.Line[0], l.Line[len(l.Line)-1]},
	}
	if !l.Start.IsZero() && l.Time.Unknown == "" && !b.waits {
		place.Until = at.Add(l.Time.Duration)
	}
	place.Latest = b.stands.Latest().In(at.Location())
	l.Findings = append(b.Tables.Check(b.request.Rig.Vehicle(b.request.Allowances), place, at), l.Findings...)
	for _, s := range standing.ByRisk(l.Structures) {
		l.Findings = append(l.Findings, s.Finding())
	}
	l.Findings = append(l.Findings, b.lacks(l)...)
	if first {
		l.Findings = append(l.Findings, b.access("first kilometre", l.From, w.access[0], l))
	}
	if last {
		l.Findings = append(l.Findings, b.access("last kilometre", l.To, w.access[1], l))
	}
	b.plan.Legs = append(b.plan.Legs, l)
}

// legZone is the time zone of a leg: what the network says, else that of its
// first jurisdiction.
func (b *builder) legZone(l Leg) *time.Location {
	if loc, err := time.LoadLocation(l.zone); err == nil && l.zone != "" {
		return loc
	}
	return b.Zone(l.Jurisdictions)
}

// nextStart is when the next leg starts, zero once a leg has no known time.
func (b *builder) nextStart() time.Time {
	if b.waits && len(b.plan.Legs) > 0 {
		return time.Time{}
	}
	at := b.plan.Departure
	for _, l := range b.plan.Legs {
		if l.Time.Unknown != "" {
			return time.Time{}
		}
		at = at.Add(l.Time.Duration)
	}
	return at
}

func firstOf(codes []string) string {
	if len(codes) == 0 {
		return ""
	}
	return codes[0]
}

// lacking says what follows when the network lacks a kind of fact; nothing of what
// is asked with the rules.
func lacking(f network.Fact) say.Remark {
	switch f {
	case network.Structures:
		return say.That("network.no_structures")
	case network.RoadLimits:
		return say.That("network.no_limits")
	case network.OneWays:
		return say.That("network.no_one_ways")
	case network.TurnRules:
		return say.That("network.no_turn_rules")
	case network.Grades:
		return say.That("network.no_grades")
	case network.Lanes:
		return say.That("network.no_lanes")
	case network.Surfaces:
		return say.That("network.no_surfaces")
	case network.Speeds:
		return say.That("network.no_speeds")
	case network.Notices:
		return say.That("network.no_notices")
	default:
		return say.Remark{}
	}
}

// lacks answers unknown for each kind of fact that the network does not carry.
func (b *builder) lacks(l Leg) []finding.Finding {
	var out []finding.Finding
	for _, f := range network.AllFacts() {
		says := lacking(f)
		if !b.Network.Lacks(f) || says.None() {
			continue
		}
		out = append(out, finding.Finding{
			Topic: finding.Network, Rule: string(f), Jurisdiction: strings.Join(l.Jurisdictions, "/"), Outcome: finding.Unknown,
			Reason: finding.NotMapped, Says: []say.Remark{says},
			Settles: append(finding.Asking(finding.Office, say.That("ask.road_pole")), finding.Step{By: finding.Data, Of: string(f)}),
		})
	}
	return out
}

// access says that the way between a stop and the network is nobody's but the
// driver's.
func (b *builder) access(rule, stop string, offRoad say.Remark, l Leg) finding.Finding {
	return finding.Finding{
		Topic: finding.Road, Rule: rule, Jurisdiction: strings.Join(l.Jurisdictions, "/"), Place: say.Text(stop), Outcome: finding.Unknown,
		Reason: finding.NotMapped, Says: []say.Remark{say.That("way.at_stop", "stop", stop), offRoad},
		Settles: finding.Asking(finding.Office, say.That("ask.town")),
	}
}

// tripFindings answers for the trip as a whole.
func (b *builder) tripFindings() {
	for _, s := range b.stands.Unplaced() {
		b.listed[s.Key()] = true
		b.aside(s, say.That("structure.unbound", "reach", standing.Reach))
	}
	b.rivalFindings()
	var stops []orb.Point
	for _, s := range b.request.Stops {
		stops = append(stops, s.Point)
	}
	for _, l := range b.plan.Legs {
		stops = append(stops, l.Line[0], l.Line[len(l.Line)-1])
	}
	b.asides(stops, say.That("structure.near_stop"))
	if b.request.Given != nil {
		b.asides(match.Sample(b.request.Given.Line), say.That("structure.near_line"))
	}
	b.lost()
	if !b.plan.Passable {
		b.plan.Findings = append(b.plan.Findings, b.shutRoute())
	}
}

// shutRoute answers where every way is shut, with the structures and the signs
// that shut the one that is shown.
func (b *builder) shutRoute() finding.Finding {
	f := finding.Finding{
		Topic: finding.Route, Rule: "route", Outcome: finding.Forbidden, Reason: finding.Exceeded,
		Says: []say.Remark{say.That("route.shut")}, Settles: b.stands.Office(firstOf(b.plan.Legs[0].Jurisdictions)),
	}
	for _, l := range b.plan.Legs {
		for _, s := range l.Structures {
			if s.Outcome == finding.Forbidden {
				f.Citations = append(f.Citations, s.Row)
				f.Invented = f.Invented || s.Invented()
			}
		}
		for _, said := range l.Findings { // a rule of the tables shuts no road
			if said.Outcome == finding.Forbidden && said.Topic == finding.Sign {
				f.Citations = append(f.Citations, said.Citations...)
			}
		}
	}
	return f
}

// assumptions lists what the plan took for granted.
func (b *builder) assumptions() []string {
	out := slices.Clone(b.Network.About.Assumptions)
	out = append(out,
		"time is driving time only: hours of travel, rest, inspections, fuel stops and traffic are not counted",
		"fuel is for steady speeds in "+b.request.Conditions.Words()+", climbs reckoned with where the network has them; no drag figure of such a house has been published, so it is a range",
	)
	if top := b.request.Wishes.Top; top > 0 {
		out = append(out, "the rig drives no faster than "+top.String()+", as wished")
	}
	if b.request.Local {
		out = append(out, fmt.Sprintf("the departure is read on the clock of %s", b.plan.Departure.Location()))
	}
	if b.request.Allowances.Reduced() {
		out = append(out, "allowances under structures are less than this project's own; each sum shows them")
	}
	var zones []string
	for _, l := range b.plan.Legs {
		for _, c := range l.Jurisdictions {
			if j, ok := b.Areas.ByCode(c); ok && len(j.OtherZones) > 0 && !slices.Contains(zones, c) {
				zones = append(zones, c)
				out = append(out, fmt.Sprintf("%s keeps more than one time zone; %s is assumed for its days", c, j.TimeZone))
			}
		}
	}
	return out
}

// Cautions lists what every answer says.
func Cautions() []string {
	return []string{
		"Planning aid only. The permit office, the posted sign, the weigh scale and licensed practice decide.",
		"Unknown is not clear: ask whom the finding names before you move.",
		"Measure the height of the loaded rig with tires at pressure, and have the route driven with a height pole.",
		"Do not exceed any rating of tires, axles, coupling or tow vehicle; weigh the loaded rig on a scale.",
	}
}

// DesignCautions lists what every answer to a check without a route says.
func DesignCautions() []string {
	return append([]string{
		"No route was checked: roads, towns, toll roads and bridges may ask for less.",
		"Where a value is not established in a jurisdiction, it may be smaller there than anywhere else.",
	}, Cautions()...)
}
