// Package matching is map matching of a given route for one rig: it finds a line or
// road numbers in the network, and says what that leaves open.
package matching

import (
	"cmp"
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
	"wayhouse/routing/trip/standing"
)

// Part is a part of a trip, in the order of travel.
type Part struct {
	driving.Way
	From, To say.Remark       // stops, or places on the given line
	At       measure.Distance // of its start, along the given line
	// Starts and Stops report whether it begins and ends at a stop.
	Starts, Stops bool
}

// Found is a given route as the network has it.
type Found struct {
	Parts    []Part
	Findings []finding.Finding // of what the route leaves open
	Rivals   []network.Piece   // other roads that it may mean
	Off      []say.Remark      // stops that lie far from its line
}

// Matcher finds given routes for one rig: against a direction that is closed to it
// whatever its size and by a turn that is forbidden to it only where nothing else
// fits, and then they are findings.
type Matcher struct {
	*standing.Judge
	Stops []choosing.Stop // none, or on the route
}

func (m Matcher) rules() match.Rules { return match.Rules{Closed: m.ArcClosed, Banned: m.Banned} }

// Line finds a line.
func (m Matcher) Line(ctx context.Context, line orb.LineString) (*Found, error) {
	off, err := m.stopsOnLine(line)
	if err != nil {
		return nil, err
	}
	sections, err := match.ByLine(ctx, m.Network, m.Index, line, m.rules())
	if err != nil {
		return nil, err
	}
	if len(sections) == 0 {
		return nil, fail("route", "", say.That("error.no_length"), say.That("fix.give_two_points_or"))
	}
	if !slices.ContainsFunc(sections, func(s match.Section) bool { return s.Gap == nil }) {
		return nil, fail("route", fmt.Sprint(sections[0].To), say.That("error.matches_no_road_of"),
			say.That("fix.give_a_line_along"))
	}
	out := &Found{Off: off}
	for _, s := range sections {
		if err := m.Network.Sound(s.Pieces); err != nil {
			return nil, err
		}
		out.Findings = append(out.Findings, m.doubts(s)...)
		out.Rivals = slices.Concat(out.Rivals, s.Rivals, s.Ends)
		out.Parts = append(out.Parts, Part{
			Way: driving.Way{Pieces: s.Pieces, Gap: s.Gap}, From: m.sectionEnd(s, false), To: m.sectionEnd(s, true),
			At: s.From,
		})
	}
	out.Parts[0].From, out.Parts[len(out.Parts)-1].To = say.That("route.start"), say.That("route.end")
	if n := len(m.Stops); n > 0 {
		out.Parts[0].From, out.Parts[len(out.Parts)-1].To = say.Text(m.Stops[0].Label), say.Text(m.Stops[n-1].Label)
	}
	out.Parts[0].Starts, out.Parts[len(out.Parts)-1].Stops = true, true
	out.Parts, err = m.atStops(out.Parts)
	return out, err
}

// sectionEnd names the start or the end of a section by its coordinates.
func (m Matcher) sectionEnd(s match.Section, last bool) say.Remark {
	line := s.Gap
	if line == nil && last {
		line = m.Network.Line(s.Pieces[len(s.Pieces)-1])
	} else if line == nil {
		line = m.Network.Line(s.Pieces[0])
	}
	p := line[0]
	if last {
		p = line[len(line)-1]
	}
	return say.That("route.at", "lat", p.Lat(), "lon", p.Lon())
}

// noticeable is how far a given line may lie from the roads found for it
// without a word.
const noticeable measure.Distance = 60

// Prescriber is how a finding is settled by asking whoever gave a route.
func Prescriber() [][]finding.Step {
	return finding.By(finding.Step{By: finding.Office, Whom: say.That("ask.prescriber"), Of: "prescriber"})
}

// ofGiven is an unknown of the route that was given.
func ofGiven(reason finding.Reason, says say.Remark) finding.Finding {
	return finding.Finding{
		Topic: finding.Given, Rule: "given route", Outcome: finding.Unknown, Reason: reason,
		Says: []say.Remark{says}, Settles: Prescriber(),
	}
}

// doubts says where a given line may follow other roads than those that were
// found for it.
func (m Matcher) doubts(s match.Section) (out []finding.Finding) {
	add := func(r say.Remark) { out = append(out, ofGiven(finding.Perhaps, r)) }
	if s.Off > noticeable {
		add(say.That("given.off_roads", "off", s.Off, "at", s.OffAt))
	}
	for _, n := range s.Nearer {
		add(say.That("given.nearer", "from", n.From, "to", n.To, "closer", n.Closer, "road", m.Network.RoadName(n.Edge)))
	}
	if length := lengthOf(s.Likely); length > leastRival {
		add(say.That("given.other_roads", "length", length, "from", s.From, "to", s.To, "roads", m.RoadNames(s.Likely)))
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

// stopsOnLine refuses stops that do not lie along a given line, in its order.
func (m Matcher) stopsOnLine(line orb.LineString) (off []say.Remark, err error) {
	samples := match.Sample(line)
	passed := 0 // the sample nearest to the stop before
	for i, s := range m.Stops {
		at, nearest := 0, geodesic.Between(s.Point, samples[0])
		for k, p := range samples {
			if d := geodesic.Between(s.Point, p); d < nearest {
				at, nearest = k, d
			}
		}
		field := fmt.Sprintf("stops[%d]", i)
		if nearest > choosing.Reach {
			return nil, fail(field, s.Label, say.That("error.off_line", "away", nearest),
				say.That("fix.give_stops_on_the"))
		}
		if at < passed {
			return nil, fail(field, s.Label, say.That("error.comes_before_the_stop"),
				say.That("fix.give_the_stops_in"))
		}
		off = append(off, choosing.StandsOff(nearest, say.That("off.line", "stop", s.Label, "distance", nearest))...)
		passed = at
	}
	return off, nil
}

// Roads finds road numbers, from one position to another.
func (m Matcher) Roads(ctx context.Context, from, to network.Position, roads []string) (*Found, error) {
	found, err := match.ByRoads(ctx, m.Network, from, to, roads, m.rules())
	if errors.Is(err, match.ErrUnknown) {
		return nil, fail("route.roads", strings.Join(roads, ", "), say.That("error.none_of_the_roads"),
			say.That("fix.check_the_numbers_or"))
	}
	if errors.Is(err, match.ErrApart) {
		return nil, fail("route.roads", strings.Join(roads, ", "), say.That("error.roads_apart"),
			say.That("fix.check_their_order_or"))
	}
	if err = cmp.Or(err, m.Network.Sound(found.Pieces)); err != nil {
		return nil, err
	}
	out := &Found{
		Parts: []Part{{
			Way: driving.Way{Pieces: found.Pieces}, From: say.Text(m.Stops[0].Label),
			To: say.Text(m.Stops[1].Label), Starts: true, Stops: true,
		}},
	}
	for _, name := range found.Unmatched {
		f := ofGiven(finding.NotMapped, say.That("given.unknown_road", "road", name))
		f.Place = say.Text(name)
		out.Findings = append(out.Findings, f)
	}
	if len(found.Unnamed) > 0 { // stretches that join the roads without being named
		says := say.That("given.unnamed", "length", lengthOf(found.Unnamed), "roads", m.RoadNames(found.Unnamed))
		out.Findings = append(out.Findings, ofGiven(finding.Perhaps, says))
	}
	return out, nil
}

func fail(field, value string, problem, fix say.Remark) error {
	return &measure.FieldError{Field: field, Value: value, Problem: problem, Fix: fix}
}
