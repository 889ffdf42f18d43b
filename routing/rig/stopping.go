package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Brakes is how the brakes of a unit are worked.
type Brakes string

// The brakes.
const (
	BrakesUnknown Brakes = ""
	NoBrakes      Brakes = "none"
	Surge         Brakes = "surge" // by the push of the unit on the coupling
	Electric      Brakes = "electric"
	Hydraulic     Brakes = "hydraulic" // by an actuator that the tow vehicle drives
	AirBrakes     Brakes = "air"
)

// AllBrakes lists those that can be given.
func AllBrakes() []Brakes { return []Brakes{NoBrakes, Surge, Electric, Hydraulic, AirBrakes} }

// Stops is how the rig stops on a level paved road.
type Stops struct {
	Brakes  Brakes
	At      []StopAt
	Slows   drive.Band[float64] // dry, in g
	Alone   drive.Band[float64] // the same with no brakes at the unit
	Unknown say.Remark          // why At and Slows are not known; Alone then tells all
}

// StopAt is how far it goes from a speed, from what the driver sees to where it stands.
type StopAt struct {
	Speed    measure.Speed
	Dry, Wet drive.Band[measure.Distance]
	Alone    drive.Band[measure.Distance] // dry, with no brakes at the unit
}

// stopsFrom are the speeds that are shown.
var stopsFrom = []measure.Speed{
	50 * measure.KilometrePerHour, 80 * measure.KilometrePerHour, 100 * measure.KilometrePerHour,
}

// Stops works out how the rig stops, by masses and by what brakes are made for: of the tow
// vehicle its gross rating, of an axle of the unit what is stated, else the axle's rating.
func (r Rig) Stops(s Statics) measure.Known[Stops] {
	tow, made := r.Tow.Mass, r.Tow.Truck.Ratings.Gross
	unit := band(s.Unit)
	if m, ok := r.Unit.Mass.Value(); ok && unit.High == 0 {
		unit = drive.Exactly(m)
	}
	switch {
	case tow == nil:
		return measure.Because[Stops](say.That("rig.field_missing", "field", "tow.mass"))
	case made == nil:
		return measure.Because[Stops](say.That("rig.field_missing", "field", "tow.gross_rating"))
	case unit.High == 0:
		return measure.Because[Stops](say.That("rig.nothing_weighed"))
	}
	onTow, onAxles := drive.Exactly(*tow), unit
	if on, ok := s.Coupling.Value(); ok && on.Low >= 0 {
		group, _ := s.Group.Value()
		onTow, onAxles = band(on.Add(Exactly(*tow))), band(group)
	}
	all := drive.Stopping{
		Tow:  drive.Wheels{Carry: onTow, Made: drive.Exactly(*made), Strength: drive.OfTow},
		Unit: drive.Wheels{Carry: onAxles, Strength: drive.OfUnit},
	}
	alone := all
	out := Stops{Brakes: r.Unit.Brakes}
	all.Unit.Made, out.Unknown = r.Unit.braked()
	for _, v := range stopsFrom {
		at := StopAt{Speed: v, Alone: alone.Distance(v, false)}
		if out.Unknown.None() {
			at.Dry, at.Wet = all.Distance(v, false), all.Distance(v, true)
		}
		out.At = append(out.At, at)
	}
	out.Slows, out.Alone = all.Slows(false), alone.Slows(false)
	return measure.Exactly(out)
}

func band(e Estimate) drive.Band[measure.Mass] {
	return drive.Band[measure.Mass]{Likely: e.Likely, Low: e.Low, High: e.High}
}

// braked is the mass that the brakes of a unit are made for, or why that is not known.
func (u Unit) braked() (made drive.Band[measure.Mass], why say.Remark) {
	switch {
	case u.Brakes == BrakesUnknown:
		return made, say.That("rig.field_missing", "field", "unit.brakes")
	case u.Brakes == NoBrakes:
		return made, say.Remark{}
	case len(u.Frame.Axles) == 0:
		return made, say.That("rig.no_unit_axles")
	}
	var all measure.Mass
	for _, a := range u.Frame.Axles {
		of := a.Rating
		if a.BrakeRating != nil {
			of = a.BrakeRating
		}
		switch {
		case a.Unbraked:
		case of == nil:
			return made, say.That("rig.brakes_of_no_rating")
		default:
			all += *of
		}
	}
	return drive.Exactly(all), say.Remark{}
}

// stopsAt is the deceleration that 49 CFR 393.52 asks of combinations of vehicles, in g: a
// braking force of 43.5 % of the weight, 14 ft/s2, to stand within 40 ft from 20 mph.
const stopsAt = 0.435

// brakes answers whether the rig stops as one must. It is never clear: only trying the
// brakes tells.
func (r Rig) brakes(s Statics) finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleStopping, Place: say.That("rig.rig"),
		Settles: finding.By(seeTo(say.That("rig.brake_shop"), say.That("task.brake_test"))),
	}
	known := r.Stops(s)
	k, ok := known.Value()
	switch {
	case !ok:
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.stopping_unknown", "why", known.Why()))
		return f
	case !k.Unknown.None():
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.stopping_unknown", "why", k.Unknown),
			say.That("rig.stops_alone", "slows", k.Alone.Likely, "asked", stopsAt))
		f.Settles = [][]finding.Step{{describe("unit.brakes"), f.Settles[0][0]}}
		return f
	}
	f.Figures = say.That("rig.stopping_figures", "likely", k.Slows.Likely, "low", k.Slows.Low, "high", k.Slows.High)
	f.Citations = []finding.Citation{{
		ID: "brake-performance", Published: "43.5 % of the weight; within 40 ft from 20 mph", Status: finding.Secondary,
		Source:  "49 CFR 393.52, of commercial vehicles, by the same table in 67 Pa. Code chapter 175",
		Section: "table I", ReadOn: handlingRead, Decides: true,
	}}
	switch {
	case k.Slows.Likely < stopsAt:
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.stops_less", "asked", stopsAt))
	case k.Slows.Low < stopsAt:
		f.Answer(finding.Review, finding.Little, say.That("rig.stops_perhaps_less", "asked", stopsAt))
	default:
		f.Answer(finding.Unknown, finding.NotMeasured, say.That("rig.stops_if_made", "asked", stopsAt))
	}
	return f
}
