package rig

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Service is what a tire is made for, as its size begins or ends with.
type Service string

// The services.
const (
	TrailerTire    Service = "trailer"     // ST
	LightTruckTire Service = "light_truck" // LT
	PassengerTire  Service = "passenger"   // P, or no letter
	TruckTire      Service = "truck"
)

// Services lists the services.
func Services() []Service {
	return []Service{TrailerTire, LightTruckTire, PassengerTire, TruckTire}
}

// Symbol is the letter on a tire's side that tells how fast it may run.
type Symbol string

// symbols are the greatest speeds of the letters, in km/h (ISO 4000-1, as in a published
// chart, read).
var symbols = map[Symbol]measure.Speed{
	"F": 80, "G": 90, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150, "Q": 160, "R": 170, "S": 180, "T": 190,
	"U": 200, "H": 210, "V": 240,
}

// Symbols lists the letters, slow ones first.
func Symbols() []Symbol {
	return []Symbol{"F", "G", "J", "K", "L", "M", "N", "P", "Q", "R", "S", "T", "U", "H", "V"}
}

// Tires is what is known of the tires of an axle beyond their size and rating.
type Tires struct {
	For         Service           // "": not known
	Pressure    *measure.Pressure // cold, as they are inflated
	RatedAt     *measure.Pressure // cold, that their rating asks for
	SpeedSymbol Symbol            // "": none, or not known
}

// Trailer tires without a symbol run no faster than 65 mph at their pressure, to 75 mph
// with 10 psi more (The Tire and Rim Association, as tire makers and engineers quote it,
// read second-hand).
const (
	trailerTireSpeed  = 65 * measure.MilePerHour
	trailerTireFaster = 75 * measure.MilePerHour
	fasterPressure    = 10 * measure.PSI
)

// onOthers is what the rating of a passenger car's tire is divided by on anything but a
// passenger car: 49 CFR 571.120, S5.1.2 (quoted in NHTSA's interpretation of 17 November
// 1976, read).
const onOthers = 1.10

// underPressure is the power of the share of its pressure with which what a tire carries
// falls: published tables of light truck and trailer tires lie between 0.50 and 0.75
// (TestPressureOfTables). What is told to carry less is told by the high power.
const (
	pressureLeast = 0.75
	pressureMost  = 0.50
)

// inflated is the share of its rating that a tire carries at its pressure: as little, and
// as much, as published tables have it. A pressure above that of the rating adds nothing.
func (t Tires) inflated() (low, high float64, ok bool) {
	if t.Pressure == nil || t.RatedAt == nil || *t.RatedAt <= 0 {
		return 0, 0, false
	}
	of := min(float64(*t.Pressure / *t.RatedAt), 1)
	return math.Pow(of, pressureLeast), math.Pow(of, pressureMost), true
}

// Now is what all tires of an axle carry at the pressure they have, at the least and at
// the most, under a passenger car or not; ok is false where a rating or a pressure is not
// known.
func (a Axle) Now(car bool) (low, high measure.Mass, ok bool) {
	all := a.tireRating()
	least, most, inflated := a.On.inflated()
	if all == nil || !inflated {
		return 0, 0, false
	}
	by := 1.0
	if a.On.For == PassengerTire && !car {
		by = onOthers
	}
	return times(least/by, *all), times(most/by, *all), true
}

// fastest is how fast a tire may run at its pressure; 0: not known.
func (t Tires) fastest() measure.Speed {
	if t.SpeedSymbol != "" {
		return symbols[t.SpeedSymbol] * measure.KilometrePerHour
	}
	if t.For != TrailerTire {
		return 0
	}
	if t.Pressure != nil && t.RatedAt != nil && *t.Pressure >= *t.RatedAt+fasterPressure {
		return trailerTireFaster
	}
	return trailerTireSpeed
}

// treads are the tires of one axle, with what is asked of them.
type treads struct {
	Axle
	at      say.Remark
	load    measure.Known[Estimate]
	weighed bool
	car     bool // under a passenger car
}

// treads lists the tires of the rig, axle by axle.
func (r Rig) treads(s Statics) (out []treads) {
	add := func(axles []Axle, loads []Estimate, weighed, car bool, at func(int) say.Remark) {
		for i, a := range axles {
			t := treads{Axle: a, at: at(i + 1), weighed: weighed, car: car}
			if i < len(loads) {
				t.load = measure.Exactly(loads[i])
			}
			out = append(out, t)
		}
	}
	alone := s.OfScale() && s.Each && s.Bars == nil
	add(r.Unit.Frame.Axles, s.Axles, alone || s.Weighed, false, unitAxle)
	add(r.Tow.Truck.Axles, s.Tow, s.Weighed, r.Tow.Form == limit.Car, towAxle)
	return out
}

// tires answers whether tires carry what is on them at the pressure they have, and run as
// fast as the rig does: about the axle of which it is worst.
func (r Rig) tires(s Statics) finding.Finding {
	worst := finding.Finding{
		Topic: finding.Rig, Rule: RuleTires, Place: say.That("rig.rig"),
		Settles: finding.By(finding.Step{By: finding.Answer, Of: "unit.running_gear", Asks: say.That("task.tires")}),
	}
	worst.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.no_unit_axles"))
	for i, t := range r.treads(s) {
		f := finding.Finding{Topic: finding.Rig, Rule: RuleTires, Place: t.at, Settles: worst.Settles}
		t.judge(&f, cmp.Or(r.WindRoad, windyRoad))
		if i == 0 || slices.Index(gravest, f.Outcome) < slices.Index(gravest, worst.Outcome) {
			worst = f
		}
	}
	return worst
}

// gravest are outcomes, the gravest first.
var gravest = []finding.Outcome{finding.Forbidden, finding.Review, finding.Unknown, finding.Clear}

// judge answers for the tires of one axle at a speed.
func (t treads) judge(f *finding.Finding, road measure.Speed) {
	low, high, rated := t.Now(t.car)
	load, weighs := t.load.Value()
	if weighs {
		f.Figures = load.Says()
	}
	fastest := t.On.fastest()
	carries := say.That("rig.tires_carry", "at", t.at, "low", low, "pressure", say.Remark{})
	if rated {
		carries = say.That("rig.tires_carry", "at", t.at, "low", low, "pressure", *t.On.Pressure)
		f.Citations = t.On.rows()
		f.Margin = finding.Of(low - load.High)
	}
	switch {
	case rated && weighs && load.Low > high:
		f.Answer(finding.Forbidden, finding.Exceeded, say.That("rig.tires_over", "carries", carries))
	case fastest > 0 && road > fastest:
		f.Margin = finding.Quantity{}
		f.Citations = t.On.rows()
		f.Settles = finding.By(seeTo(say.That("rig.driver"), say.That("task.tire_speed", "speed", fastest)))
		f.Answer(finding.Review, finding.Exceeded,
			say.That("rig.tires_too_fast", "at", t.at, "fastest", fastest, "road", road))
	case !rated:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.tires_unknown", "at", t.at))
	case !weighs:
		f.Margin = finding.Quantity{}
		f.Answer(finding.Unknown, finding.NotMeasured, say.That("rig.tires_not_weighed", "carries", carries))
	case load.Likely > low:
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.tires_likely_over", "carries", carries))
	case load.High > low:
		f.Answer(finding.Review, finding.Little, say.That("rig.tires_perhaps_over", "carries", carries))
	case !t.weighed:
		f.Settles = finding.By(weigh(ofAxles, say.That("task.weigh_rig")))
		f.Answer(finding.Unknown, finding.NotMeasured, say.That("rig.tires_would_carry", "carries", carries))
	case fastest == 0:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.tires_no_symbol", "carries", carries))
	case *t.On.Pressure < *t.On.RatedAt:
		f.Settles = finding.By(judge(say.That("task.tire_table")))
		f.Answer(finding.Unknown, finding.NoRow, say.That("rig.tires_by_table", "carries", carries))
	default:
		f.Answer(finding.Clear, "", say.That("rig.tires_within", "carries", carries))
	}
}

// rows are what the figures of a tire rest on.
func (t Tires) rows() []finding.Citation {
	out := []finding.Citation{{
		ID: "tire-pressure", Published: "load with the 0.50 to 0.75 power of the pressure", Status: finding.Secondary,
		Source: "load and inflation tables of light truck and trailer tires, as printed by makers", ReadOn: handlingRead,
		Decides: t.SpeedSymbol != "" || t.For != TrailerTire,
	}}
	if t.For == PassengerTire {
		out = append(out, finding.Citation{
			ID: "passenger-tire", Published: "divided by 1.10", Status: finding.Published, Section: "S5.1.2",
			Source: "49 CFR 571.120, as NHTSA quotes it, interpretation of 1976-11-17", ReadOn: handlingRead, Decides: true,
		})
	}
	if t.For == TrailerTire && t.SpeedSymbol == "" {
		out = append(out, finding.Citation{
			ID: "trailer-tire-speed", Published: "65 mph; 75 mph with 10 psi more", Status: finding.Secondary,
			Source: "The Tire and Rim Association, as tire engineers quote it", ReadOn: handlingRead, Decides: true,
		})
	}
	return out
}
