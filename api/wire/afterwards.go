package wire

import (
	"strings"

	"wayhouse/regs/say"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
)

// AfterwardsRequest is where the rig goes after the last stop: that way is one of the trip.
type AfterwardsRequest struct {
	To string `json:"to" minLength:"1" maxLength:"200" doc:"home, the first stop, or a place as that of a stop"`
}

// home is the word for the first stop.
const home = "home"

// afterwards adds the stop that a rig goes to after the last one.
func (r *reader) afterwards(q TripRequest, out *trip.Request, places *place.Gazetteer) {
	const field = "afterwards.to"
	switch {
	case q.Afterwards == nil:
		return
	case q.Route != nil:
		r.fail("afterwards", nil, say.That("error.beside_a_route"), say.That("fix.leave_it_out"))
		return
	case len(out.Stops) == 0 || len(out.Stops) < len(q.Stops):
		return // refused as it is
	}
	first, last := out.Stops[0], out.Stops[len(out.Stops)-1]
	next := choosing.Stop{Label: first.Label, Point: first.Point, Street: first.Street}
	if !strings.EqualFold(strings.TrimSpace(q.Afterwards.To), home) {
		var ok bool
		if next, ok = r.named(field, q.Afterwards.To, places); !ok {
			return
		}
	}
	if next.Point == last.Point {
		r.fail(field, q.Afterwards.To, say.That("error.ends_there_already"), say.That("fix.leave_it_out"))
		return
	}
	out.Stops = append(out.Stops, next)
}
