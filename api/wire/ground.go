package wire

import "wayhouse/routing/trip/choosing"

// GroundRequest is what is known of the place where the unit stands at a stop.
type GroundRequest struct {
	SlopePercent *float64        `json:"slope_percent,omitempty" minimum:"0" maximum:"50" doc:"The steepest slope under the unit, such as 3"`
	Reach        Span            `json:"reach,omitzero" minimum:"0" maximum:"3" doc:"How much lower than another a corner may stand: what its jack reaches, with the blocks under it"`
	Circle       Length          `json:"circle,omitzero" minimum:"1" maximum:"1000" doc:"Across the widest circle that is clear to turn in"`
	WayOut       choosing.WayOut `json:"way_out,omitempty" enum:"through,turning,backing" doc:"How the rig leaves: ahead, after turning round, or backwards"`
}

func ground(q *GroundRequest) choosing.Ground {
	if q == nil {
		return choosing.Ground{}
	}
	g := choosing.Ground{Reach: q.Reach.Is, Circle: q.Circle.Is, Out: q.WayOut}
	if q.SlopePercent != nil {
		slope := *q.SlopePercent / 100
		g.Slope = &slope
	}
	return g
}
