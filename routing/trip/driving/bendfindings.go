package driving

import (
	"fmt"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// bendFindings answers corners, curves and ground as findings of the trip: a
// person must look at each place.
func (d *Driver) bendFindings(o Bends) []finding.Finding {
	var out []finding.Finding
	add := func(f finding.Finding) { out = append(out, f) }
	if len(o.Corners) > 0 {
		add(o.cornerFinding())
	}
	if slower := o.Slower(); len(slower) > 0 {
		c, n := slower[0], len(slower)
		add(finding.Finding{
			Rule: "curves", Place: c.Spot.Place(), Outcome: finding.Review, Ask: "the signs at the curves, and someone who has driven it",
			Figures: say.Text(c.Speed.String()),
			Summary: fmt.Sprintf("in %d curves the rig should be slower than the plan assumes; in the tightest, of %.0f m radius at most, %s or less", n, float64(c.Radius), c.Speed),
		})
	}
	if o.NoCurves != "" && d.rig.Described() {
		add(finding.Finding{Rule: "curves", Outcome: finding.Unknown, Ask: "the signs at the curves", Summary: "speeds in curves are not known: " + o.NoCurves})
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
	f := finding.Finding{Rule: "corners", Place: c.Place(), Outcome: finding.Review, Ask: "someone who has driven it with a rig of this length"}
	f.Summary = count(len(o.Corners), "corner", "corners") + " to look at"
	driven := slices.IndexFunc(o.Corners, func(c Corner) bool { return c.Unknown == "" })
	if open := len(o.Corners); c.Unknown != "" {
		if driven >= 0 {
			open = driven
		}
		f.Outcome = finding.Unknown
		f.Summary += fmt.Sprintf("; what the rig takes of the road is not known at %d of them: %s", open, c.Unknown)
	}
	if driven >= 0 {
		f.Summary += fmt.Sprintf("; the widest takes %.1f m of road", float64(o.Corners[driven].Swept))
	}
	if wide := slices.IndexFunc(o.Corners, Corner.TooWide); wide >= 0 {
		c = o.Corners[wide]
		f.Place = c.Place()
		f.Summary += fmt.Sprintf("; one takes %.1f m where the road is tagged %s wide", float64(c.Swept), c.RoadWidth)
	}
	return f
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Slower lists the curves in which the rig should be slower than the plan assumes.
func (o Bends) Slower() []Curve {
	return slices.DeleteFunc(slices.Clone(o.Curves), func(c Curve) bool { return !c.Slower })
}

// groundFinding says that nobody knows how steep crossings and humps are.
func (d *Driver) groundFinding(grounds []Ground) finding.Finding {
	u := d.rig.Underneath()
	f := finding.Finding{Rule: "ground clearance", Place: grounds[0].Place(), Outcome: finding.Unknown, Ask: "the railway or the road's authority, and someone who has driven it"}
	for _, g := range grounds {
		f.Citations = append(f.Citations, d.atlas.Cite(g.Of, g.Kind.String())...)
	}
	f.Summary = fmt.Sprintf("the profiles of %d level crossings and humps on the way are not known", len(grounds))
	switch {
	case u.Unknown != "":
		f.Summary += ", nor what the rig clears: " + u.Unknown
	case u.Clearance < u.Crossing:
		f.Outcome = finding.Review
		f.Summary += fmt.Sprintf("; the rig clears %.3f m and needs %.3f m for a level crossing that only just keeps to the usual standard", float64(u.Clearance), float64(u.Crossing))
	default:
		f.Summary += fmt.Sprintf("; the rig passes crests of %.0f m radius and more", float64(u.Crest))
	}
	return f
}

// TooWide reports whether the rig takes more than the road is tagged to have.
func (c Corner) TooWide() bool { return c.RoadWidth > 0 && float64(c.Swept) > c.RoadWidth.Metres() }

// Place says where a corner is, for someone who looks it up.
func (c Corner) Place() say.Remark {
	if c.Turn < 0 {
		return say.That("place.turn_left", "spot", c.Spot.Place(), "degrees", -c.Turn, "from", c.Road, "onto", c.Onto)
	}
	return say.That("place.turn_right", "spot", c.Spot.Place(), "degrees", c.Turn, "from", c.Road, "onto", c.Onto)
}

// Place gives coordinates, latitude first, and how far along the way.
func (s Spot) Place() say.Remark {
	return say.That("place.spot", "lat", s.Point.Lat(), "lon", s.Point.Lon(), "along", s.At, "road", s.Road)
}
