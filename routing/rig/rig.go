// Package rig couples a tow vehicle and a unit, and works out what the rig weighs,
// how it stands, what it may carry and how near it is to tipping.
package rig

import (
	"cmp"
	"fmt"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/rig/drive"
)

// Coupling joins the unit to the tow vehicle.
type Coupling string

// Term is the code of the coupling's name.
func (c Coupling) Term() say.Code { return say.Word("coupling", string(c)) }

// The couplings.
const (
	CouplingUnknown Coupling = ""
	Ball            Coupling = "ball"
	Pintle          Coupling = "pintle"
	FifthWheel      Coupling = "fifth_wheel"
	Gooseneck       Coupling = "gooseneck"
)

// rests reports whether the unit rests on the bed or frame of its tow vehicle.
func (u Unit) rests() bool { return u.Coupling == Gooseneck || u.Coupling == FifthWheel }

// Couplings lists those that can be given.
func Couplings() []Coupling { return []Coupling{Ball, Pintle, FifthWheel, Gooseneck} }

// Form returns what a rule takes the combination for. A gooseneck rests on the
// tow vehicle as a semitrailer does, but laws name it seldom: it stays unknown
// and is checked as both.
func (c Coupling) Form() limit.Form {
	switch c {
	case FifthWheel:
		return limit.Semitrailer
	case Ball, Pintle:
		return limit.Trailer
	default:
		return limit.FormUnknown
	}
}

// Form is what a rule takes the combination for: by the coupling, or as it is given.
func (u Unit) Form() limit.Form {
	return cmp.Or(u.Coupling.Form(), u.Combination)
}

// Unit is the house on its trailer, as it travels. What is nil or zero is not
// known.
//
// Of a load on a trailer, Length, Width and Mass are those of the load until [Assemble]
// takes them for Load and works out those of both together.
type Unit struct {
	Name           string
	Height         *measure.Length
	Width          measure.Known[measure.Length] // the greater of house and tires
	House          *measure.Length               // width without tires; nil: the same
	Length         *measure.Length               // overall, coupling included
	Mass           measure.Known[measure.Mass]   // gross, as it travels
	HeightMeasured bool                          // on the finished unit, loaded, tires at pressure
	MeasuredOn     time.Time
	Kind           limit.Kind
	Combination    limit.Form  // what the law takes it for, coupled, where its coupling does not say
	Told           []regs.Told // of rows of limits whether they are about it
	Done           []task.Done // of tasks about it
	Coupling       Coupling
	CouplingToRear *measure.Length // from the coupling point to the rearmost point
	CouplingToAxle *measure.Length // from the coupling point to the centre of the last axle
	Axles          int
	Load, Trailer  Own // each by itself, of a load on a trailer

	Frame
}

// Tow is a tow vehicle, as it travels. What is nil or zero is not known.
type Tow struct {
	Name            string
	Form            limit.Tow // what the law takes it for
	Height          *measure.Length
	Width           measure.Known[measure.Length] // the greater of body and tires, without mirrors
	OverMirrors     *measure.Length               // as they are set for the unit
	Length          *measure.Length
	FrontToCoupling *measure.Length // from the foremost point to the coupling point
	Mass            *measure.Mass   // with driver and fuel, without the load on its coupling
	Axles           int
	Fuel            drive.Fuel

	Truck
}

// Overall are measurements of the whole rig that were given instead of a tow
// vehicle.
type Overall struct {
	Height, Width, Length *measure.Length
	Mass                  *measure.Mass
	Rated                 *measure.Mass // as registered, or as its makers allow it
	// What sticks out before the foremost point of the tow vehicle, and behind
	// the centre of the last axle; both may be 0.
	FrontOverhang, RearOverhang *measure.Length
	Loads                       []limit.AxleLoad // every axle, from the front
}

// Rig is a tow vehicle and a unit, coupled. A size is never taken from the unit alone,
// but as a least one.
type Rig struct {
	Unit   Unit
	Tow    Tow
	Use    limit.Use
	Height measure.Known[measure.Length]
	Width  measure.Known[measure.Length]
	Length measure.Known[measure.Length]
	Mass   measure.Known[measure.Mass]
	Rated  measure.Known[measure.Mass] // as registered, or as tow vehicle and unit are rated
	Axles  int

	FrontOverhang, RearOverhang *measure.Length
	Loads                       []limit.AxleLoad // every axle, from the front; none: not described
	Scaled                      []limit.AxleLoad // those of them that were given; none: Loads are worked out
	// WindwardShare is the share of the unit's mass that is to stay on its windward
	// tires in a gust; 0 is this project's choice.
	WindwardShare float64
	// WindRoad and WindKelvins are the speed and the air that winds are reckoned at; 0 is
	// this project's choice.
	WindRoad    measure.Speed
	WindKelvins float64
	// Invented tells that the rig was made up: so is every finding about it.
	Invented bool
	// Day is when it moves: a scale's ticket grows old. Zero: not known, and none does.
	Day time.Time
}

// Assemble couples a unit to a tow vehicle, or to the overall measurements
// given for the rig. Errors are [*measure.FieldError] for measurements that
// contradict each other.
func Assemble(u Unit, t Tow, o Overall, use limit.Use) (Rig, error) {
	u, err := u.measured()
	if err != nil {
		return Rig{}, err
	}
	if t, err = t.measured(); err != nil {
		return Rig{}, err
	}
	if err := cmp.Or(checkFit(u, t), checkScaled(u, t, o)); err != nil {
		return Rig{}, err
	}
	r := Rig{
		Unit: u, Tow: t, Use: use, FrontOverhang: o.FrontOverhang, RearOverhang: o.RearOverhang, Loads: o.Loads,
		Scaled: o.Loads,
	}
	if r.RearOverhang == nil && u.CouplingToRear != nil && u.CouplingToAxle != nil {
		behind := *u.CouplingToRear - *u.CouplingToAxle
		r.RearOverhang = &behind
	}
	if r.FrontOverhang == nil {
		r.FrontOverhang = frontOverhang(u, t)
	}
	if u.Axles > 0 && t.Axles > 0 {
		r.Axles = u.Axles + t.Axles
	}
	if r.Axles, err = countAxles(r.Axles, o.Loads); err != nil {
		return r, err
	}
	if err := checkAxles(u, t, o); err != nil {
		return r, err
	}
	if r.Height, err = overall("height", o.Height, u.tallest(t), measure.Given(u.Height)); err != nil {
		return r, err
	}
	if r.Width, err = overall("width", o.Width, measure.Greatest(u.across(), t.across()), u.across()); err != nil {
		return r, err
	}
	long := measure.Sum(measure.Given(t.FrontToCoupling), measure.Given(u.CouplingToRear))
	if r.Length, err = overall("length", o.Length, long, measure.Given(u.Length)); err != nil {
		return r, err
	}
	heavy := measure.Sum(measure.Given(t.Mass), u.Mass)
	if heavy.Open() {
		heavy = limit.Together(o.Loads)
	}
	if r.Mass, err = overall("mass", o.Mass, heavy, u.Mass); err != nil {
		return r, err
	}
	r.workOut(r.Statics())
	r.Rated = measure.Given(o.Rated)
	if r.Rated.Open() {
		r.Rated = measure.Sum(measure.Given(t.Truck.Ratings.Gross), measure.Given(u.Frame.Ratings.Gross))
	}
	return r, nil
}

// frontOverhang is what of a unit sticks out before the foremost point of its tow
// vehicle: nothing where the places of both are known, since a rig that is shorter than
// its unit is refused. What the tow vehicle itself carries is not considered.
func frontOverhang(u Unit, t Tow) *measure.Length {
	if u.Length == nil || u.CouplingToRear == nil || t.FrontToCoupling == nil {
		return nil
	}
	return new(measure.Length)
}

// workOut fills in what is not given and follows from the balance of the rig.
func (r *Rig) workOut(s Statics) {
	if r.Loads == nil {
		r.Loads = r.loads(s)
	}
	if !r.Unit.Mass.Known() {
		least := measure.Greatest(measure.Given(r.Unit.Load.Mass), measure.Given(r.Unit.Trailer.Mass))
		if s.Basis == ByParts {
			least = measure.Greatest(least, measure.Exactly(s.Unit.Low))
		}
		r.Unit.Mass = least.OrMore()
	}
	if !r.Mass.Known() {
		least := measure.Sum(r.Unit.Mass, measure.Given(r.Tow.Mass))
		if whole, ok := s.Rig.Value(); ok {
			least = measure.Greatest(least, measure.Exactly(whole.Low))
		}
		r.Mass = least.OrMore()
	}
}

// On returns the rig on the day that it moves: a scale's ticket that is too old by then
// leaves masses of axles open.
func (r Rig) On(day time.Time) Rig {
	r.Day = day
	if len(r.Scaled) == 0 {
		r.Loads = r.loads(r.Statics())
	}
	return r
}

// Drive is what the rig asks of its driver in a jurisdiction, on a way that is not
// known yet.
func (r Rig) Drive(code string, at time.Time) regs.Drive {
	return regs.Drive{Jurisdiction: code, Use: r.Use, Unit: r.Unit.Mass, Rig: r.Mass, At: at}
}

// countAxles returns how many axles a rig has. Where they are described their
// number must be the one that is given.
func countAxles(given int, loads []limit.AxleLoad) (int, error) {
	if n := len(loads); n > 0 && given > 0 && n != given {
		return 0, &measure.FieldError{Field: "rig.axles", Value: fmt.Sprint(n),
			Problem: say.That("error.not_together", "axles", given),
			Fix:     say.That("fix.describe_every_axle_of")}
	} else if n > 0 {
		return n, nil
	}
	return given, nil
}

// overall decides between a measurement given for the rig and one worked out
// from its parts; neither may be below that of the unit.
func overall[T interface {
	~int64
	String() string
}](name string, given *T, worked, unit measure.Known[T]) (measure.Known[T], error) {
	exact, known := worked.Value()
	switch {
	case given != nil && known && *given != exact:
		return worked, &measure.FieldError{Field: "rig." + name, Value: (*given).String(),
			Problem: say.That("error.not_sum", "sum", exact.String()),
			Fix:     say.That("fix.give_only_one_of")}
	case given != nil:
		worked = measure.Exactly(*given)
	}
	own, _ := unit.Least()
	if is, ok := worked.Value(); ok && is < own {
		return worked, &measure.FieldError{Field: "rig." + name, Value: is.String(),
			Problem: say.That("error.below_unit", "own", own.String()), Fix: say.That("fix.check_both_figures")}
	}
	return worked, nil
}

// tallest is the height of the higher of both; that of the tow vehicle alone says nothing.
// A unit whose nose or tail is lifted by its coupling is taken as high as it then stands.
func (u Unit) tallest(t Tow) measure.Known[measure.Length] {
	if u.Height == nil {
		return measure.Known[measure.Length]{}
	}
	height := *u.Height
	if l, ok := (Rig{Unit: u, Tow: t}).Level().Value(); ok {
		height += max(l.Higher, 0)
	}
	return measure.Greatest(measure.Exactly(height), measure.Given(t.Height))
}

// Vehicle returns what rules read. The height and width of a rig of which a part
// was not measured are at least those of the rest. Mirrors are left out of the width, as
// laws do. The height is as uncertain before a limit as before a structure; how other
// sizes became known is not asked, and they are taken as given.
func (r Rig) Vehicle(a clearance.Allowances) regs.Vehicle {
	v := regs.Vehicle{
		Subject:  limit.Subject{Kind: r.Unit.Kind, Use: r.Use, Form: r.Unit.Form(), Tow: r.Tow.Form, Axles: r.Axles},
		Measures: map[limit.Quantity]regs.Measure{}, Loads: r.Loads, Told: r.Unit.Told, Across: r.Unit.eachAcross(),
	}
	put(v, limit.Height, r.Height)
	put(v, limit.Width, r.Width)
	put(v, limit.TrailerLength, r.Unit.trailerLength())
	put(v, limit.CombinationLength, r.Length)
	put(v, limit.SingleVehicleLength, measure.Given(r.Tow.Length))
	put(v, limit.GrossMass, r.Mass)
	put(v, limit.FrontOverhang, measure.Given(r.FrontOverhang))
	put(v, limit.RearOverhang, measure.Given(r.RearOverhang))
	put(v, limit.KingpinToRearAxle, measure.Given(r.Unit.CouplingToAxle))
	if h := r.Clear(); !h.Of.Open() {
		v.Uncertain = map[limit.Quantity]regs.Uncertainty{limit.Height: {By: limit.Amount(a.Error(h)), Designed: !h.Measured}}
	}
	return v
}

func put[T ~int64](v regs.Vehicle, q limit.Quantity, is measure.Known[T]) {
	if !is.Open() {
		v.Measures[q] = measure.As[limit.Amount](is)
	}
}

// Clear is the height to pass under structures with. It was measured only if it is
// the unit's.
func (r Rig) Clear() clearance.Height {
	height, _ := r.Height.Least()
	measured := r.Unit.HeightMeasured && r.Unit.Height != nil && *r.Unit.Height == height
	return clearance.Height{Of: r.Height, Measured: measured}
}

// Question is a measurement that is possible but more likely a slip. It has to
// be confirmed by name before a plan is made.
type Question struct {
	Confirm string // the word that confirms it
	measure.FieldError
}

// A bound is what a measurement must lie within to be believed (common
// practice, no source). What lies outside is a slip of the unit or the point.
type bound[T measure.Length | measure.Mass] struct {
	field    string
	value    *T
	min, max T
}

// CheckBounds refuses measurements that no unit, tow vehicle or rig has. The
// error is a [*measure.FieldError].
func CheckBounds(u Unit, t Tow, o Overall) error {
	const m, kg = measure.Metre, measure.Kilogram
	for _, b := range []bound[measure.Length]{
		{"unit.height", u.Height, m, 8 * m}, {"unit.width", u.Width.Pointer(), m, 8 * m},
		{"unit.length", u.Length, 2 * m, 40 * m},
		{"unit.trailer.length", u.Trailer.Length, 2 * m, 40 * m}, {"unit.trailer.width", u.Trailer.Width, m, 8 * m},
		{"unit.coupling_to_rear", u.CouplingToRear, m, 40 * m}, {"unit.coupling_to_last_axle", u.CouplingToAxle, m, 40 * m},
		{"rig.front_overhang", o.FrontOverhang, 0, 10 * m}, {"rig.rear_overhang", o.RearOverhang, 0, 20 * m},
		{"tow.height", t.Height, m, 5 * m}, {"tow.width", t.Width.Pointer(), m, 4 * m},
		{"tow.over_mirrors", t.OverMirrors, m, 5 * m}, {"tow.length", t.Length, 2 * m, 20 * m},
		{"tow.front_to_coupling", t.FrontToCoupling, m, 20 * m}, {"tow.turning_radius", t.TurningRadius, 3 * m, 30 * m},
		{"unit.coupling_height", u.CouplingHeight, 200 * measure.Millimetre, 2 * m},
		{"tow.coupling_height", t.Truck.CouplingHeight, 200 * measure.Millimetre, 2 * m},
		{"tow.bed_height", t.Truck.Bed, 300 * measure.Millimetre, 3 * m},
		{"unit.deck_height", u.Deck, 100 * measure.Millimetre, 3 * m}, {"unit.ground_clearance", u.Clearance,
			20 * measure.Millimetre, 2 * m}, {"unit.tail_clearance", u.TailClearance, 20 * measure.Millimetre, 3 * m},
		{"rig.height", o.Height, m, 8 * m}, {"rig.width", o.Width, m, 8 * m}, {"rig.length", o.Length, 4 * m, 60 * m},
	} {
		if err := b.check(); err != nil {
			return err
		}
	}
	masses := []bound[measure.Mass]{
		{"unit.mass", u.Mass.Pointer(), 200 * kg, 100_000 * kg},
		{"unit.trailer.mass", u.Trailer.Mass, 100 * kg, 60_000 * kg}, {"tow.mass", t.Mass, 500 * kg, 60_000 * kg},
		{"rig.mass", o.Mass, 700 * kg, 200_000 * kg}, {"rig.rated_mass", o.Rated, 700 * kg, 200_000 * kg},
	}
	for i, l := range o.Loads {
		field := fmt.Sprintf("rig.axles[%d].mass", i)
		masses = append(masses, bound[measure.Mass]{field, l.Mass.Pointer(), 50 * kg, 30_000 * kg})
	}
	for _, b := range masses {
		if err := b.check(); err != nil {
			return err
		}
	}
	return checkDescription(u, t)
}

func (b bound[T]) check() error {
	if b.value == nil || b.min <= *b.value && *b.value <= b.max {
		return nil
	}
	return &measure.FieldError{
		Field: b.field, Value: fmt.Sprint(*b.value),
		Problem: say.That("error.no_such_vehicle", "least", fmt.Sprint(b.min), "bound", fmt.Sprint(b.max)),
		Fix:     say.That("fix.check_the_figure_and"),
	}
}

// Mass of a unit per square metre of its outline, in kilograms: houses on
// trailers lie within (common practice, no source; an envelope worked out from
// published dead loads with trailer and fixtures comes to about 340 to 380).
const (
	leastPerArea = 150
	mostPerArea  = 900
)

// Questions lists what should be confirmed before the measurements are used.
func Questions(u Unit, o Overall) []Question {
	var out []Question
	for _, q := range []struct {
		of            string
		height, width *measure.Length
	}{{"unit", u.Height, u.Width.Pointer()}, {"rig", o.Height, o.Width}} {
		if q.height != nil && q.width != nil && *q.height < *q.width {
			out = append(out, Question{Confirm: "height_below_width", FieldError: measure.FieldError{
				Field: q.of + ".height", Value: q.height.String(),
				Problem: say.That("error.below_width", "width", q.width.String()),
				Fix:     say.That("fix.swap_them_or_confirm"),
			}})
		}
	}
	if q, ok := massQuestion(u); ok {
		out = append(out, q)
	}
	return append(out, implausible(u)...)
}

// massQuestion asks about a mass that is implausible as given and plausible
// with kilograms and pounds exchanged.
func massQuestion(u Unit) (Question, bool) {
	length, width, mass := u.Length, u.Width.Pointer(), u.Mass.Pointer()
	if u.Kind == limit.LoadOnTrailer {
		length, width, mass = u.Load.Length, u.Load.Width, u.Load.Mass
	}
	if mass == nil || width == nil || length == nil {
		return Question{}, false
	}
	area := width.Metres() * length.Metres()
	fits := func(m measure.Mass) bool {
		perArea := m.Kilograms() / area
		return leastPerArea <= perArea && perArea <= mostPerArea
	}
	kilograms, pounds := mass.Kilograms(), mass.Pounds()
	asPounds := measure.Mass(kilograms * float64(measure.Pound))    // the kilograms were pounds
	asKilograms := measure.Mass(pounds * float64(measure.Kilogram)) // the pounds were kilograms
	ask := func(other string) (Question, bool) {
		return Question{Confirm: "unit_mass", FieldError: measure.FieldError{
			Field: "unit.mass", Value: mass.String(),
			Problem: say.That("error.mass_of_area", "each", fmt.Sprintf("%.0f", kilograms/area), "other", other),
			Fix:     say.That("fix.correct_the_unit_or"),
		}}, true
	}
	switch {
	case fits(*mass):
		return Question{}, false
	case fits(asPounds):
		return ask(fmt.Sprintf("%.0f lb", kilograms))
	case fits(asKilograms):
		return ask(fmt.Sprintf("%.0f kg", pounds))
	default:
		return Question{}, false
	}
}
