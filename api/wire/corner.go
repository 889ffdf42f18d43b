package wire

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
)

// CornerRequest is a corner, a driveway or a gate to try the rig in, without a trip.
type CornerRequest struct {
	From       Length       `json:"from,omitzero" doc:"Width of the way in, as much of it as may be used"`
	Into       Length       `json:"into,omitzero" doc:"Width of the way out; as the way in when left out"`
	Turn       Hand         `json:"turn,omitempty" doc:"The side that the way out turns to; right when left out"`
	AngleDeg   *float64     `json:"angle_deg,omitempty" minimum:"0" maximum:"150" doc:"By which the way out turns off: 90 when left out, 0 for a gate straight ahead"`
	GoesOn     bool         `json:"goes_on,omitempty" doc:"The way in goes on beyond the way out, as a road does beside a driveway"`
	KerbRadius Span         `json:"kerb_radius,omitzero" doc:"Of the edges where both ways meet; sharp when left out"`
	Gate       *GateRequest `json:"gate,omitempty" doc:"Across the way out; left out where there is none"`
}

// GateRequest is an opening across a way.
type GateRequest struct {
	Width  Length `json:"width,omitzero" doc:"Of the opening"`
	Behind Span   `json:"behind,omitzero" doc:"How far along the way out it stands; where that begins when left out"`
	Offset Offset `json:"offset,omitzero" doc:"Of its middle from the middle of the way out, to the left; with a minus to the right"`
}

// tried reads a place to try the rig in, nil for none.
func (r *reader) tried(q *CornerRequest) *sweep.Place {
	if q == nil {
		return nil
	}
	long := func(l *measure.Length) measure.Distance {
		if l == nil {
			return 0
		}
		return measure.Distance(l.Metres())
	}
	if q.From.Is == nil {
		r.fail("corner.from", nil, say.That("error.missing"), say.That("fix.give_it_with_a_unit"))
		return nil
	}
	p := sweep.Place{
		From: long(q.From.Is), Into: long(q.From.Is), Angle: 90 * sweep.Degree, Side: sweep.Right, GoesOn: q.GoesOn,
		Kerb: long(q.KerbRadius.Is),
	}
	if q.Into.Is != nil {
		p.Into = long(q.Into.Is)
	}
	if q.AngleDeg != nil {
		p.Angle = sweep.Angle(*q.AngleDeg) * sweep.Degree
	}
	if q.Turn == Hand(rig.Left) {
		p.Side = sweep.Left
	}
	if g := q.Gate; g != nil {
		p.Gate = &sweep.Gate{Width: long(g.Width.Is), Behind: long(g.Behind.Is), Offset: long(g.Offset.Is)}
	}
	r.note(p.Check())
	return &p
}

// CornerFit is whether and how the rig gets through a place.
type CornerFit struct {
	Passes   bool         `json:"passes" doc:"On the line that was found; where it is false another may be there, with room to go back and forth"`
	LeftM    float64      `json:"left_m" doc:"What it keeps from the edges to the left; negative: it reaches over"`
	RightM   float64      `json:"right_m" doc:"What it keeps from the edges to the right; negative: it reaches over"`
	RadiusM  float64      `json:"radius_m" doc:"Of the arcs of the line, by the middle of the first axle"`
	TurnM    float64      `json:"turns_in_m" doc:"How far past the inner corner the middle of the first axle is where it begins to turn in; negative: before it"`
	AsideM   float64      `json:"from_inner_edge_m" doc:"How far from the edge of the side that it turns to the middle of the first axle runs in"`
	OutDeg   float64      `json:"swings_out_deg" doc:"By how much it first turns to the other side"`
	OverDeg  float64      `json:"turns_over_deg" doc:"By how much it turns further than the way out, and back"`
	BendsDeg float64      `json:"bends_deg" doc:"The greatest angle between tow vehicle and unit"`
	MayDeg   *float64     `json:"may_bend_deg,omitempty" doc:"The angle at which the unit touches its tow vehicle; left out where it does not to 90 degrees, or where that is not known"`
	CutsInM  float64      `json:"cuts_in_m" doc:"How far from the line the middle of the unit's axles passes"`
	Cuts     string       `json:"cuts_in_to" enum:"left,right," doc:"The side of that; empty for nothing"`
	SwingsM  float64      `json:"tail_swings_m" doc:"How far the rear corner of the unit swings out beyond its side"`
	Swings   string       `json:"tail_swings_to" enum:"left,right," doc:"The side of that; empty for nothing"`
	Line     [][2]float64 `json:"line_m" doc:"The way of the middle of the first axle: ahead along the way in, and to the left, from the inner corner"`
}

// CornerAnswer is what came of trying a corner, a driveway or a gate.
type CornerAnswer struct {
	Fit     *CornerFit `json:"fit" doc:"The line that keeps the rig furthest from all edges, of those that were looked at; null where it cannot be drawn"`
	LockM   float64    `json:"lock_m" doc:"The least radius that was tried, of the middle of the first axle"`
	Assumed bool       `json:"lock_assumed,omitempty" doc:"The turning radius of the tow vehicle is not given"`
	Unknown string     `json:"unknown,omitempty"`
}

func (tell teller) newTried(m *rig.Manoeuvre) *CornerAnswer {
	if m == nil {
		return nil
	}
	out := &CornerAnswer{LockM: m.Lock.Metres(), Assumed: m.Assumed, Unknown: tell.Say(m.Fit.Why())}
	f, ok := m.Fit.Value()
	if !ok {
		return out
	}
	to := func(v float64) float64 { return math.Round(1000*v) / 1000 }
	degrees := func(a sweep.Angle) float64 { return math.Round(10*float64(a/sweep.Degree)) / 10 }
	out.Fit = &CornerFit{
		Passes: f.Passes(), LeftM: to(float64(f.Left)), RightM: to(float64(f.Right)), RadiusM: to(float64(f.Radius)),
		TurnM: to(float64(f.Turn)), AsideM: to(float64(f.Aside)), OutDeg: degrees(f.Out), OverDeg: degrees(f.Over),
		BendsDeg: degrees(f.Swept.Articulation), CutsInM: to(float64(f.Swept.OffTracking)), Cuts: f.Swept.Cuts.String(),
		SwingsM: to(float64(f.Swept.TailSwing)), Swings: f.Swept.Swings.String(),
	}
	if m.Bends > 0 {
		out.Fit.MayDeg = &m.Bends
	}
	for _, p := range f.Course.Path {
		out.Fit.Line = append(out.Fit.Line, [2]float64{to(p[0]), to(p[1])})
	}
	return out
}
