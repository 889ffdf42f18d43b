package trip

import (
	"slices"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
)

// permits works out what has to be asked for before the trip.
func (b *builder) permits() {
	var way []regs.Passage
	for _, l := range b.plan.Legs {
		way = append(way, b.passages(l)...)
	}
	b.plan.Permits = b.Tables.Permits(b.vehicle(), way)
	b.plan.Findings = append(b.plan.Findings, b.Tables.PermitFindings(b.plan.Permits)...)
}

// passages splits a leg by the jurisdictions and municipalities that its
// findings name. Near a border the leg counts for both sides.
func (b *builder) passages(l Leg) []regs.Passage {
	zone := b.legZone(l) // permits hold by the day of the place
	var out []regs.Passage
	for _, f := range l.Findings {
		i := slices.IndexFunc(out, func(p regs.Passage) bool { return p.Jurisdiction == f.Jurisdiction })
		if i < 0 {
			p := regs.Passage{
				Jurisdiction: f.Jurisdiction, Length: l.Length, Roads: l.used, Earliest: b.plan.Departure.In(zone),
				Latest: b.stands.Latest().In(zone),
			}
			if !l.Start.IsZero() {
				p.From = l.Start.In(zone)
			}
			if !l.EndSlow.IsZero() {
				p.Until = l.EndSlow.In(zone)
			}
			i, out = len(out), append(out, p)
		}
		out[i].Findings = append(out[i].Findings, finding.Finding{Rule: f.Rule, Demands: f.Demands})
	}
	return out
}

// duty works out what binds the driver, even of a slow trip, and the making of the
// rig, once for each jurisdiction on the way.
func (b *builder) duty() {
	driving := b.longestShift()
	r := b.request.Rig
	var done []string
	for _, l := range b.plan.Legs {
		for _, code := range l.Jurisdictions {
			if slices.Contains(done, code) {
				continue
			}
			done = append(done, code)
			d := r.Drive(code, b.plan.Departure)
			d.Driving, d.Line = driving, b.within(code)
			b.plan.Findings = append(b.plan.Findings, b.Tables.Duty(d)...)
		}
	}
}

// longestShift is the longest driving between two rests, of the whole trip where none are
// planned; 0: not known.
func (b *builder) longestShift() (longest time.Duration) {
	if t := b.plan.Timetable; t != nil {
		return t.longestShift()
	}
	for _, l := range b.plan.Legs {
		if !l.Time.Unknown.None() {
			return 0
		}
		longest += l.Time.Slow
	}
	return longest
}

// within is the way of a trip in a jurisdiction.
func (b *builder) within(code string) orb.LineString {
	var out orb.LineString
	for _, l := range b.plan.Legs {
		if slices.Contains(l.Jurisdictions, code) {
			out = append(out, l.Line...)
		}
	}
	return out
}
