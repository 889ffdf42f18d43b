package sweep

import (
	"math"

	"wayhouse/regs/measure"
)

// Grade is rise over run: 0.05 is 5 percent.
type Grade float64

// Underside is what a rig, or one of its bodies, has between itself and a
// level road. It stands on two supports, the coupling point (or the tow's rear
// axle) and the middle of the trailer's axle group. A field that is not
// positive and finite is not known, and no answer that needs it is given.
//
// It does not consider tires and springs that give way, an axle group that
// stands on more than its middle, or jacks and pipes that hang lower than the
// clearance says.
type Underside struct {
	AxleSpan      measure.Distance // between the two supports
	Clearance     measure.Distance // of the lowest point between the supports
	RearOverhang  measure.Distance // behind the last axle
	TailClearance measure.Distance // of the lowest point of that overhang
}

// known reports whether all are positive and finite.
func known(ds ...measure.Distance) bool {
	for _, d := range ds {
		if !(d > 0) || math.IsInf(float64(d), 0) {
			return false
		}
	}
	return true
}

// CrestRadius returns the least radius of a crest in the road that the belly
// clears, span^2 / (8 clearance). That is exact for the parabola of a vertical
// curve, and for a circle too small by half the clearance. It is worked out
// for a lowest point midway between the supports, the worst place, and for a
// crest longer than the span. False where span or clearance is not known.
func (u Underside) CrestRadius() (measure.Distance, bool) {
	if !known(u.AxleSpan, u.Clearance) {
		return 0, false
	}
	return u.AxleSpan * u.AxleSpan / (8 * u.Clearance), true
}

// DepartureGrade returns the change of grade, from a level road up behind the
// last axle, at which the end of the overhang touches: tail clearance over
// overhang, the tangent of the departure angle. False where either is not
// known.
func (u Underside) DepartureGrade() (Grade, bool) {
	if !known(u.RearOverhang, u.TailClearance) {
		return 0, false
	}
	return Grade(u.TailClearance / u.RearOverhang), true
}

// Hump is a raised crossing: a flat top, and on both sides a slope down.
type Hump struct {
	Grade   Grade            // of the slopes, positive
	HalfTop measure.Distance // half the length of the flat top
	Run     measure.Distance // horizontal length of each slope
}

// The surface of a grade crossing: level with the top of the rails for 2 ft
// outside the rails, and within 3 in of that level at 30 ft from the nearest
// rail. Source: AASHTO Green Book and AREMA as given in the Texas Department
// of Transportation, Roadway Design Manual, 13.11.2; read. The standard gauge
// of 1.435 m between rails is from memory.
const (
	railLevel measure.Distance = 2 * 0.3048
	railFar   measure.Distance = 30 * 0.3048
	railDrop  measure.Distance = 3 * 0.0254
	railGauge measure.Distance = 1.435
)

// RailCrossing returns the steepest straight hump within the published surface
// of a grade crossing of one track. Built crossings can be steeper, and most
// humped ones are in no inventory: this tells what the standard lets through,
// never that a given crossing is clear.
func RailCrossing() Hump {
	run := railFar - railLevel
	return Hump{Grade: Grade(railDrop / run), HalfTop: railGauge/2 + railLevel, Run: run}
}

// Speed humps as towns build them: 12 ft long, parabolic, up to 4 in high (City of Ocoee,
// Florida, memorandum on speed humps, 1995: 3 to 4 in, 12 to 22 ft; Independence, Kentucky,
// Code of Ordinances, section 70.40: 12 ft, 3 1/4 to 3 3/4 in; both read). A bump of the
// OpenStreetMap wiki (Key:traffic_calming, read) is up to 10 cm high and 30 cm long.
const (
	humpHalf   measure.Distance = 6 * 0.3048
	humpHeight measure.Distance = 4 * 0.0254
)

// SpeedHump returns the highest published speed hump, its middle at distance 0, on a level
// road that goes on for 50 m to either side. Built ones are known to be higher.
func SpeedHump() Profile {
	const steps, level = 12, 50
	p := Profile{{-level, 0}}
	for i := range steps + 1 {
		x := measure.Distance(2*i)/steps - 1
		p = append(p, ProfilePoint{x * humpHalf, humpHeight * (1 - x*x)})
	}
	return append(p, ProfilePoint{level, 0})
}

// Profile returns the hump with the top at height 0 and its middle at distance
// 0. Nothing is known beyond its slopes.
func (h Hump) Profile() Profile {
	foot, low := h.HalfTop+h.Run, -measure.Distance(h.Grade)*h.Run
	if h.HalfTop == 0 {
		return Profile{{-foot, low}, {0, 0}, {foot, low}}
	}
	return Profile{{-foot, low}, {-h.HalfTop, 0}, {h.HalfTop, 0}, {foot, low}}
}
