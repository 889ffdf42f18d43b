package driving

import (
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip/standing"
)

// surveyed is how a finding is settled by somebody who drives the way before.
func surveyed(asks say.Remark) [][]finding.Step { return finding.By(standing.Surveying(asks)) }

// meeting is how a finding is settled by what the driver does on the way.
func meeting(asks say.Remark) [][]finding.Step {
	return finding.By(finding.Step{By: finding.Meet, Asks: asks})
}

// bendFindings answers corners, curves and ground as findings of the trip: a
// person must look at each place.
func (d *Driver) bendFindings(o Bends) []finding.Finding {
	var out []finding.Finding
	add := func(f finding.Finding) { out = append(out, f) }
	for _, u := range o.UTurns {
		add(u.finding())
	}
	if len(o.Corners) > 0 {
		add(o.cornerFinding())
	}
	if slower := o.Slower(); len(slower) > 0 {
		c, n := slower[0], len(slower)
		add(finding.Finding{
			Topic: finding.Road, Rule: "curves", Place: c.Spot.Place(), Outcome: finding.Review,
			Reason: finding.Practice, Figures: say.That("road.speed", "speed", c.Speed),
			Says:    []say.Remark{say.That("road.slower_in_curves", "curves", n, "radius", c.Radius, "speed", c.Speed)},
			Settles: meeting(say.That("road.slower_in_curves", "curves", n, "radius", c.Radius, "speed", c.Speed)),
		})
	}
	if !o.NoCurves.None() && d.rig.Described() {
		add(finding.Finding{
			Topic: finding.Road, Rule: "curves", Outcome: finding.Unknown, Reason: finding.NotDescribed,
			Says:    []say.Remark{say.That("road.no_curves", "why", o.NoCurves)},
			Settles: surveyed(say.That("task.curves")),
		})
	}
	if c := o.Coarse; c.Bends > 0 {
		add(finding.Finding{
			Topic: finding.Road, Rule: "drawn curves", Place: c.Spot.Place(), Outcome: finding.Unknown,
			Reason: finding.NotMapped, Settles: surveyed(say.That("task.coarse", "bends", c.Bends)),
			Says: []say.Remark{
				say.That("road.drawn_coarsely", "bends", c.Bends, "length", c.Length, "degrees", math.Abs(c.Turn)),
			},
		})
	}
	if n := len(o.Grounds); n > 0 {
		add(d.groundFinding(o.Grounds))
	}
	return out
}

// cornerFinding sums the corners up: one that could not be driven is unknown, and
// leaves the whole so.
func (o Bends) cornerFinding() finding.Finding {
	c := o.Corners[0]
	f := finding.Finding{
		Topic: finding.Road, Rule: "corners", Place: c.Place(), Outcome: finding.Review, Reason: finding.Practice,
		Says:    []say.Remark{say.That("road.corners", "corners", len(o.Corners))},
		Settles: surveyed(say.That("task.corners", "corners", len(o.Corners))),
	}
	driven := slices.IndexFunc(o.Corners, func(c Corner) bool { return c.Unknown.None() })
	if open := len(o.Corners); !c.Unknown.None() {
		if driven >= 0 {
			open = driven
		}
		f.Outcome, f.Reason = finding.Unknown, finding.NotDescribed
		f.Says = append(f.Says, say.That("road.corners_unknown", "corners", open, "why", c.Unknown))
	}
	if driven >= 0 {
		f.Says = append(f.Says, say.That("road.widest_corner", "takes", o.Corners[driven].Takes()))
	}
	if wide := slices.IndexFunc(o.Corners, Corner.TooWide); wide >= 0 {
		c = o.Corners[wide]
		f.Place = c.Place()
		f.Says = append(f.Says, say.That("road.corner_too_wide", "swept", c.Swept, "width", c.RoadWidth))
	}
	return f
}

// of reports whether there are places of a kind.
func of(grounds []Ground, kind network.Kind) bool {
	return slices.ContainsFunc(grounds, func(g Ground) bool { return g.Kind == kind })
}

// tooLow says over which of the places, were they built as published, a unit clears too
// little.
func tooLow(u rig.Underneath, grounds []Ground) (out []say.Remark) {
	clears := measure.OfMetres(float64(u.Clearance))
	if u.Clearance < u.Crossing && of(grounds, network.LevelCrossing) {
		out = append(out, say.That("road.needs_clearance", "clears", clears, "needs", measure.OfMetres(float64(u.Crossing))))
	}
	if u.Clearance < u.Hump && of(grounds, network.Hump) {
		out = append(out, say.That("road.needs_over_hump", "clears", clears, "needs", measure.OfMetres(float64(u.Hump))))
	}
	return out
}

// groundFinding says that nobody knows how steep crossings and humps are.
func (d *Driver) groundFinding(grounds []Ground) finding.Finding {
	f := finding.Finding{
		Topic: finding.Road, Rule: "ground clearance", Place: grounds[0].Place(), Outcome: finding.Unknown,
		Reason: finding.NotMapped,
		Settles: append(surveyed(say.That("task.grounds", "places", len(grounds))), []finding.Step{{
			By: finding.Office, Whom: say.That("ask.railway"), Of: "railway", Asks: say.That("task.grounds", "places",
				len(grounds)),
		}}),
	}
	for _, g := range grounds {
		f.Citations = append(f.Citations, d.atlas.Cite(g.Of, g.Kind.String())...)
	}
	clears := d.rig.Underneath()
	u, known := clears.Value()
	switch {
	case !known:
		f.Says = []say.Remark{say.That("road.grounds_and_rig", "places", len(grounds), "why", clears.Why())}
	case len(tooLow(u, grounds)) > 0:
		f.Outcome, f.Reason = finding.Review, finding.Exceeded
		f.Says = append([]say.Remark{say.That("road.grounds", "places", len(grounds))}, tooLow(u, grounds)...)
	default:
		f.Says = []say.Remark{say.That("road.grounds", "places", len(grounds)),
			say.That("road.passes_crests", "radius", u.Crest)}
	}
	return f
}
