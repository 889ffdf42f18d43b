package trip

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/match"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// alongLine finds a prescribed line in the network.
func (b *builder) alongLine(ctx context.Context, line orb.LineString) ([]way, error) {
	if err := b.stopsOnLine(line); err != nil {
		return nil, err
	}
	sections, err := match.ByLine(ctx, b.Network, b.Index, line, b.matching())
	if err != nil {
		return nil, err
	}
	if len(sections) == 0 {
		return nil, fail("route", "", "has no length", "give two points or more that differ")
	}
	if !slices.ContainsFunc(sections, func(s match.Section) bool { return s.Gap == nil }) {
		return nil, fail("route", fmt.Sprint(sections[0].To), "matches no road of this network", "give a line along its roads, longitude first, or use a network of that place")
	}
	var out []way
	b.rivals = nil
	for i, s := range sections {
		b.plan.Findings = append(b.plan.Findings, b.doubts(s)...)
		b.rivals = slices.Concat(b.rivals, s.Rivals, s.Ends)
		out = append(out, way{
			from: b.sectionEnd(s, false), to: b.sectionEnd(s, true), Way: driving.Way{Pieces: s.Pieces, Gap: s.Gap}, gapAt: s.From,
			starts: i == 0, stops: i == len(sections)-1,
		})
	}
	out[0].from, out[len(out)-1].to = b.endLabel(0, "start of the given route"), b.endLabel(-1, "end of the given route")
	return out, nil
}

// matching is what a given route is matched under: the directions that are
// closed to the rig whatever its size, and the turns that are forbidden to it. It
// is matched to them only where nothing else fits, and then they are findings.
func (b *builder) matching() match.Rules {
	return match.Rules{Closed: b.stands.ArcClosed, Banned: b.stands.Banned}
}

// sectionEnd names the start or the end of a section by its coordinates.
func (b *builder) sectionEnd(s match.Section, last bool) string {
	line := s.Gap
	if line == nil && last {
		line = b.Network.Line(s.Pieces[len(s.Pieces)-1])
	} else if line == nil {
		line = b.Network.Line(s.Pieces[0])
	}
	p := line[0]
	if last {
		p = line[len(line)-1]
	}
	return fmt.Sprintf("%.4f, %.4f on the given route", p.Lat(), p.Lon())
}

// noticeable is how far a given line may lie from the roads found for it
// without a word.
const noticeable measure.Distance = 60

// prescriber is the step of asking whoever gave a route.
func prescriber() []finding.Step { return finding.Asking(finding.Office, say.That("ask.prescriber")) }

// ofGiven is an unknown of the route that was given.
func ofGiven(reason finding.Reason, says say.Remark) finding.Finding {
	return finding.Finding{
		Topic: finding.Given, Rule: "given route", Outcome: finding.Unknown, Reason: reason, Says: []say.Remark{says}, Settles: prescriber(),
	}
}

// doubts says where a given line may follow other roads than those that were
// found for it.
func (b *builder) doubts(s match.Section) (out []finding.Finding) {
	add := func(r say.Remark) { out = append(out, ofGiven(finding.Perhaps, r)) }
	if s.Off > noticeable {
		add(say.That("given.off_roads", "off", s.Off, "at", s.OffAt))
	}
	for _, n := range s.Nearer {
		add(say.That("given.nearer", "from", n.From, "to", n.To, "closer", n.Closer, "road", b.Network.RoadName(n.Edge)))
	}
	if length := lengthOf(s.Likely); length > leastRival {
		add(say.That("given.other_roads", "length", length, "from", s.From, "to", s.To, "roads", b.roads(s.Likely)))
	}
	return out
}

// lengthOf adds pieces up.
func lengthOf(pieces []network.Piece) (length measure.Distance) {
	for _, p := range pieces {
		length += p.Length()
	}
	return length
}

// leastRival is how much of other roads a given line may mean without a word;
// what stands over them is listed all the same.
const leastRival measure.Distance = 50

// rivalFindings answers for the structures over roads that a given line may mean
// instead of those that were found for it, where no leg passes the same.
func (b *builder) rivalFindings() {
	type met struct {
		id, name string
		outcome  finding.Outcome
	}
	said := map[met]bool{}
	for _, p := range b.rivals {
		for _, s := range b.stands.On(p) {
			key := met{s.Key(), s.Structure.Name, s.Passage.Outcome}
			if said[key] || slices.ContainsFunc(b.plan.Legs, func(l Leg) bool { return l.passes(s) }) {
				continue
			}
			said[key], b.listed[s.Key()] = true, true
			b.aside(s, say.That("structure.rival_road"))
		}
	}
}

// stopsOnLine refuses stops that do not lie along a given line, in its order.
func (b *builder) stopsOnLine(line orb.LineString) error {
	samples := match.Sample(line)
	b.off = nil
	passed := 0 // the sample nearest to the stop before
	for i, s := range b.request.Stops {
		at, nearest := 0, geodesic.Between(s.Point, samples[0])
		for k, p := range samples {
			if d := geodesic.Between(s.Point, p); d < nearest {
				at, nearest = k, d
			}
		}
		field := fmt.Sprintf("stops[%d]", i)
		if nearest > choosing.Reach {
			return fail(field, s.Label, fmt.Sprintf("lies %s from the given line", nearest), "give stops on the line, or leave them out")
		}
		if at < passed {
			return fail(field, s.Label, "comes before the stop before it along the given line", "give the stops in the order of the line, or leave them out")
		}
		b.off = append(b.off, choosing.StandsOff(nearest, say.That("off.line", "stop", s.Label, "distance", nearest))...)
		passed = at
	}
	return nil
}

// endLabel names an end of a given route by the stop given for it, if any.
func (b *builder) endLabel(i int, otherwise string) string {
	stops := b.request.Stops
	if len(stops) == 0 {
		return otherwise
	}
	if i < 0 {
		return stops[len(stops)-1].Label
	}
	return stops[0].Label
}

// alongRoads finds prescribed road numbers in the network.
func (b *builder) alongRoads(ctx context.Context, roads []string) ([]way, error) {
	snapped, err := b.chooses.Snap()
	if err != nil {
		return nil, err
	}
	found, err := match.ByRoads(ctx, b.Network, snapped[0].Position, snapped[1].Position, roads, b.matching())
	if errors.Is(err, match.ErrUnknown) {
		return nil, fail("route.roads", strings.Join(roads, ", "), "none of the roads is in this network", "check the numbers, or give the route as a line")
	}
	if errors.Is(err, match.ErrApart) {
		return nil, fail("route.roads", strings.Join(roads, ", "), err.Error(), "check their order, or give the route as a line")
	}
	if err != nil {
		return nil, err
	}
	for _, name := range found.Unmatched {
		f := ofGiven(finding.NotMapped, say.That("given.unknown_road", "road", name))
		f.Place = say.Text(name)
		b.plan.Findings = append(b.plan.Findings, f)
	}
	if len(found.Unnamed) > 0 {
		b.plan.Findings = append(b.plan.Findings, b.unnamed(found.Unnamed))
	}
	return []way{{
		from: b.request.Stops[0].Label, to: b.request.Stops[1].Label, Way: driving.Way{Pieces: found.Pieces}, starts: true, stops: true,
		access: [2]say.Remark{b.chooses.OffRoads[0], b.chooses.OffRoads[1]},
	}}, nil
}

// unnamed says which stretches join the roads of a given route without being
// named by it.
func (b *builder) unnamed(pieces []network.Piece) finding.Finding {
	return ofGiven(finding.Perhaps, say.That("given.unnamed", "length", lengthOf(pieces), "roads", b.roads(pieces)))
}
