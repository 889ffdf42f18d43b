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
		s.Passage.Others = append(slices.Clone(s.Passage.Others), "closed on "+from.Format(time.DateOnly)+", when the rig comes by as planned")
	}
	return s
}

func (b *builder) ferry(e network.EdgeID, class network.Class, codes []string) finding.Finding {
	what := "a ferry"
	if class == network.PossibleFerry {
		what = "a line that may be a ferry"
	}
	need := "how long it needs is not known"
	if v, ok := b.Network.Speed(e); ok {
		need = fmt.Sprintf("the map says that it needs %.0f min", float64(b.Network.Length[e])/float64(v)/60)
	}
	return finding.Finding{
		Rule: "ferry", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown,
		Summary: "the route uses " + what + ": whether and when it runs, and whether it takes the rig with propane aboard, is not known; " + need,
		Ask:     "the ferry's operator",
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
		Rule: "given route", Jurisdiction: strings.Join(l.Jurisdictions, "/"), Outcome: finding.Unknown,
		Summary: fmt.Sprintf("%s of the given route, from %s to %s along it, match no road of this network: what stands there is not known", l.Length, w.gapAt, w.gapAt+l.Length),
		Ask:     "the office that prescribed the route",
	})
	if nowhere {
		l.Findings = append(l.Findings, finding.Finding{
			Rule: "jurisdiction", Outcome: finding.Unknown,
			Summary: "a part of this leg lies in no known jurisdiction: no rule of it was checked", Ask: b.Tables.Ask(""),
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

// lacking says for each kind of fact what follows when the network lacks it.
var lacking = map[network.Fact]string{
	network.Structures: "bridges, tunnels, gantries and wires over this leg are not in the network: what height it leaves is not known",
	network.RoadLimits: "posted limits of height, width, length and mass on this leg are not in the network",
	network.OneWays:    "one-way roads are not in the network: the route may run against one",
	network.TurnRules:  "forbidden turns are not in the network",
	network.Grades:     "climbs and descents are not in the network: brakes, power and fuel on them were not considered",
	network.Owners:     "", // asked with the rules
	network.Lanes:      "the number and width of lanes is not in the network",
	network.Surfaces:   "whether the road is paved is not in the network",
	network.Speeds:     "posted speeds are not in the network: times rest on assumed towing speeds",
	network.Notices:    "works and closures are not in the network",
}

// lacks answers unknown for each kind of fact that the network does not carry.
func (b *builder) lacks(l Leg) []finding.Finding {
	var out []finding.Finding
	for _, f := range network.AllFacts() {
		if !b.Network.Lacks(f) || lacking[f] == "" {
			continue
		}
		out = append(out, finding.Finding{
			Rule: string(f), Jurisdiction: strings.Join(l.Jurisdictions, "/"), Outcome: finding.Unknown, Summary: lacking[f],
			Ask: "the road's authority, and someone who has driven it with a height pole",
		})
	}
	return out
}

// access says that the way between a stop and the network is nobody's but the
// driver's.
func (b *builder) access(rule, stop, offRoad string, l Leg) finding.Finding {
	return finding.Finding{
		Rule: rule, Jurisdiction: strings.Join(l.Jurisdictions, "/"), Place: say.Text(stop), Outcome: finding.Unknown,
		Summary: fmt.Sprintf("streets, driveways, trees and wires at %s are not known%s", stop, offRoad),
		Ask:     "the city or county there, and someone who walks it",
	}
}

// tripFindings answers for the trip as a whole.
func (b *builder) tripFindings() {
	for _, s := range b.stands.Unplaced() {
		b.listed[s.Key()] = true
		b.aside(s, fmt.Sprintf("it could not be bound to a road: none within %s of it", standing.Reach))
	}
	b.rivalFindings()
	var stops []orb.Point
	for _, s := range b.request.Stops {
		stops = append(stops, s.Point)
	}
	for _, l := range b.plan.Legs {
		stops = append(stops, l.Line[0], l.Line[len(l.Line)-1])
	}
	b.asides(stops, "it stands near a stop or a border and may be on the way")
	if b.request.Given != nil {
		b.asides(match.Sample(b.request.Given.Line), "it stands near the given line and not on a road that was found for it")
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
		Rule: "route", Outcome: finding.Forbidden, Ask: b.Tables.Ask(firstOf(b.plan.Legs[0].Jurisdictions)),
		Summary: "every way in this network is shut to the rig; the plan shows the way it would take and what shuts it",
	}
	for _, l := range b.plan.Legs {
		for _, s := range l.Structures {
			if s.Outcome == finding.Forbidden {
				f.Citations = append(f.Citations, s.Row)
				f.Invented = f.Invented || s.Invented()
			}
		}
		for _, said := range l.Findings { // signs of the map; a rule of the tables shuts no road
			if said.Outcome == finding.Forbidden && len(said.Citations) == 1 && standing.OfMap(said.Citations[0]) {
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
