package rig

import (
	"cmp"
	"fmt"
	"math"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
)

// Tip says how near a unit is to tipping over: lateral acceleration in g.
type Tip struct {
	// Rigid is T/(2h), the static stability factor: half the track over the height
	// of the centre of gravity. Nothing on springs and tires reaches it.
	Rigid float64
	// Low is what to reckon with: less the spread of heights and what springs and
	// tires take away.
	Low    float64
	Height Centre
	Track  measure.Length
}

// Between the rigid figure and a tilting vehicle: heavy vehicles reach 0.70 to
// 0.85 of it (C. B. Winkler and R. D. Ervin, Rollover of Heavy Commercial
// Vehicles, UMTRI-99-19, 1999, from memory). In motion about a quarter less than
// the static factor was found on average (SAE 2003-01-3385, read).
const (
	compliance = 0.70
	// asideShare of the lower figure is what a plan lets curves take: this
	// project's choice, for evasive steering, ruts and gusts.
	asideShare = 0.5
)

// tiltLevels are published levels of the tilt-test of tank trucks: regulators
// adopted 0.40 g as the least; of 17 tested 14 were below it and 7 below 0.35 g
// (J. H. F. Billing and J. D. Patten, An Assessment of Tank Truck Roll Stability,
// National Research Council Canada, read).
const (
	tiltAdopted = 0.40
	tiltLow     = 0.35
)

// Tip works out how near the unit is to tipping; unknown says why it cannot.
func (r Rig) Tip(s Statics) (t Tip, unknown string) {
	track := r.Unit.track()
	switch {
	case track == nil || len(r.Unit.Frame.Axles) == 0:
		return t, "the track of the unit's axles is not given"
	case !s.Centre.Up.Known():
		return t, "how high these stand is not given: " + list(s.Centre.Up.Missing)
	case s.Centre.Up.Low <= 0:
		return t, "the centre of gravity would lie in the ground: check the heights"
	}
	t = Tip{Height: s.Centre.Up, Track: *track}
	t.Rigid = track.Metres() / (2 * float64(s.Centre.Up.Likely))
	t.Low = compliance * track.Metres() / (2 * float64(s.Centre.Up.High))
	return t, ""
}

// InCurve is the speed in a level curve that takes no more than half of what
// tips the unit by the lower figure.
func (t Tip) InCurve(radius measure.Distance) measure.Speed {
	return CurveSpeed(asideShare*t.Low, radius)
}

// CurveSpeed is the speed at which a level curve takes a lateral acceleration,
// in g.
func CurveSpeed(lateral float64, radius measure.Distance) measure.Speed {
	return measure.Speed(math.Sqrt(lateral * drive.Gravity * float64(radius)))
}

// The force of wind on the side of a box near the ground: its coefficient on the
// side area is 1.0 to 1.3, from memory; the higher counts.
const sideCoefficient = 1.3

// windwardShare is the share of the unit's mass that is to stay on its windward
// tires, where nothing else is set: half of it is there in still air. This
// project's choice.
const windwardShare = 0.4

// Winds are the winds at which to stop.
type Winds struct {
	Steady, Gust measure.Speed
	Why          string
	Computed     *measure.Speed // square to the side, at which the windward side falls to the share; nil: not known
	Unknown      string
}

// The lowest limits of wind that were found published: no moves of manufactured
// homes in New Mexico in a steady wind above 25 mph or gusts above 30 mph (a
// summary of the state's trucking association, read second-hand). The
// Confederation Bridge restricts high vehicles and whatever is towed from 70
// km/h, gusts from 85 km/h (its operator's page, read).
const (
	stopSteady = 25 * measure.MilePerHour
	stopGust   = 30 * measure.MilePerHour
)

// side is the side of a unit that the wind meets.
type side struct {
	area   measure.Area
	height measure.Distance // of its middle
}

// sideOf adds up the boxes of the outline from the side. Boxes that lie behind
// one another from there count twice, which is more than the wind meets.
func (u Unit) sideOf() (side, bool) {
	var s side
	var moment float64
	for _, b := range u.OutlineIn(Travelling, nil) {
		area := (b.To - b.From).Metres() * (b.Top - b.Bottom).Metres()
		s.area += measure.Area(area)
		moment += area * (b.Top + b.Bottom).Metres() / 2
	}
	if s.area <= 0 {
		return s, false
	}
	s.height = measure.Distance(moment / float64(s.area))
	return s, true
}

// Leeward is the share of what holds the unit upright that a wind square to its
// side takes: 1 lifts the windward tires. A rigid unit is reckoned with, level
// and straight: real ones lean, and lift sooner.
func (u Unit) overturn(air measure.Density, mass measure.Mass, track measure.Length, across measure.Speed) (float64, bool) {
	s, ok := u.sideOf()
	if !ok || mass <= 0 {
		return 0, false
	}
	force := 0.5 * float64(air) * sideCoefficient * float64(s.area) * float64(across*across)
	return force * float64(s.height) / (mass.Kilograms() * drive.Gravity * track.Metres() / 2), true
}

// Winds works out at which wind to stop. What is computed can only lower what is
// published. In the wind of the road itself the crosswind meets the unit from
// ahead: only its part across the road is reckoned with, on cold air.
func (r Rig) Winds(s Statics) Winds {
	w := Winds{Steady: stopSteady, Gust: stopGust, Why: "the lowest published limits that were found, of New Mexico for manufactured homes, read second-hand"}
	track := r.Unit.track()
	cold := drive.Air(0, coldest)
	whole, ok := 0.0, false
	if track != nil {
		whole, ok = r.Unit.overturn(cold, s.Unit.Low, *track, 1)
	}
	if !ok {
		w.Unknown = "the wind that takes load off the windward side is not known: it takes the outline, the mass and the track of the unit"
		return w
	}
	// Where the share s of the mass is left on the windward side, the wind has taken
	// 1 - 2s of what holds the unit upright.
	share := cmp.Or(r.WindwardShare, windwardShare)
	v := measure.Speed(math.Sqrt((1 - 2*share) / whole))
	w.Computed = &v
	if v < w.Gust {
		w.Gust, w.Why = v, fmt.Sprintf("computed for this unit: in a gust of it, square to the side, only %.0f %% of the mass stay on the windward tires", 100*share)
		w.Steady = min(w.Steady, v*stopSteady/stopGust)
	}
	return w
}

// coldest is the air that winds are reckoned with, 253.15 K or -20 degrees
// Celsius: cold air presses harder.
const coldest = 253.15

// Stability answers tipping and wind as findings. Neither is ever clear.
func (r Rig) Stability(s Statics) []finding.Finding {
	f := finding.Finding{Rule: "tipping over", Place: "the unit", Outcome: finding.Unknown, Ask: "an engineer, with a tilt test"}
	t, unknown := r.Tip(s)
	if unknown != "" {
		f.Summary = "how near the unit is to tipping over is not known: " + unknown
		return []finding.Finding{f, r.wind(s)}
	}
	f.Value = fmt.Sprintf("%.2f g if it were rigid, lower figure %.2f g", t.Rigid, t.Low)
	f.Rows = []finding.Row{{
		ID: "tilt levels", Published: "0.40 g adopted; 7 of 17 below 0.35 g", Status: finding.Secondary, Source: "J. H. F. Billing, J. D. Patten, An Assessment of Tank Truck Roll Stability, National Research Council Canada",
	}}
	switch {
	case t.Low < tiltLow:
		f.Outcome = finding.Review
		f.Summary = fmt.Sprintf("by the lower figure the unit tips below %.2f g, where the worst of the tank trucks that were tested lay", tiltLow)
	case t.Low < tiltAdopted:
		f.Outcome = finding.Review
		f.Summary = fmt.Sprintf("by the lower figure the unit tips below the %.2f g that regulators adopted for tank trucks", tiltAdopted)
	default:
		f.Summary = fmt.Sprintf("by the lower figure the unit tips at %.2f g or above; no figure is published for such a unit", tiltAdopted)
	}
	return []finding.Finding{f, r.wind(s)}
}

func (r Rig) wind(s Statics) finding.Finding {
	w := r.Winds(s)
	f := finding.Finding{
		Rule: "wind", Place: "the unit", Outcome: finding.Review, Ask: "the forecast of the day, bridge operators, and the permit office",
		Value:   "steady " + w.Steady.String() + ", gusts " + w.Gust.String(),
		Summary: "stop at a steady wind above " + w.Steady.String() + " or gusts above " + w.Gust.String() + ": " + w.Why,
		Rows: []finding.Row{{
			ID: "stop wind", Published: "25 mph steady, 30 mph gusts", Status: finding.Secondary, Source: "New Mexico Trucking Association, summary of rules for manufactured homes", Decides: w.Computed == nil || *w.Computed >= stopGust,
		}},
	}
	if w.Unknown != "" {
		f.Outcome = finding.Unknown
		f.Summary += "; " + w.Unknown
	}
	return f
}
