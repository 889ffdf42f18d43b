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
	"wayhouse/routing/rig/drive"
)

// Coupling joins the unit to the tow vehicle.
type Coupling string

// The couplings.
const (
	CouplingUnknown Coupling = ""
	Ball            Coupling = "ball"
	Pintle          Coupling = "pintle"
	FifthWheel      Coupling = "fifth_wheel"
	Gooseneck       Coupling = "gooseneck"
)

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

// Unit is the house on its trailer, as it travels. What is nil or zero is not
// known.
//
// Of a load on a trailer, Length, Width and Mass are those of the load until [Assemble]
// takes them for Load and works out those of both together.
type Unit struct {
	Name           string
	Height         *measure.Length
	Width          *measure.Length // the greater of house and tires
	WidthAtLeast   bool            // something that is not known may be wider
	House          *measure.Length // width without tires; nil: the same
	Length         *measure.Length // overall, coupling included
	Mass           *measure.Mass   // gross, as it travels
	HeightMeasured bool            // on the finished unit, loaded, tires at pressure
	MeasuredOn     time.Time
	Kind           limit.Kind
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
	Width           *measure.Length // the greater of body and tires, without mirrors
	WidthAtLeast    bool            // tires of unknown width may stick out further
	OverMirrors     *measure.Length // as they are set for the unit
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
	// What sticks out before the foremost point of the tow vehicle, and behind
	// the centre of the last axle; both may be 0.
	FrontOverhang, RearOverhang *measure.Length
	Loads                       []limit.AxleLoad // every axle, from the front
}

// Rig is a tow vehicle and a unit, coupled. What is nil is not known; it is
// never taken from the unit alone.
type Rig struct {
	Unit   Unit
	Tow    Tow
	Use    limit.Use
	Height *measure.Length
	Width  *measure.Length
	Length *measure.Length
	Mass   *measure.Mass
	Axles  int

	FrontOverhang, RearOverhang *measure.Length
	Loads                       []limit.AxleLoad // every axle, from the front; none: not described
	Scaled                      []limit.AxleLoad // those of them that were given; none: Loads are worked out
	// LeastUnit and Least are the low ends of masses that were only worked out from
	// parts, or of which only the load or its trailer is known; nil where they are known,
	// or nothing is.
	LeastUnit, Least *measure.Mass
	// WindwardShare is the share of the unit's mass that is to stay on its windward
	// tires in a gust; 0 is this project's choice.
	WindwardShare float64
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
	r := Rig{Unit: u, Tow: t, Use: use, FrontOverhang: o.FrontOverhang, RearOverhang: o.RearOverhang, Loads: o.Loads, Scaled: o.Loads}
	if r.RearOverhang == nil && u.CouplingToRear != nil && u.CouplingToAxle != nil {
		behind := *u.CouplingToRear - *u.CouplingToAxle
		r.RearOverhang = &behind
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
	if r.Height, err = overall("height", o.Height, highest(u.Height, t.Height), u.Height); err != nil {
		return r, err
	}
	if r.Width, err = overall("width", o.Width, highest(unless(u.WidthAtLeast, u.Width), unless(t.WidthAtLeast, t.Width)), u.leastWidth()); err != nil {
		return r, err
	}
	if r.Length, err = overall("length", o.Length, sum(t.FrontToCoupling, u.CouplingToRear), u.Length); err != nil {
		return r, err
	}
	if r.Mass, err = overall("mass", o.Mass, cmp.Or(sum(t.Mass, u.Mass), whole(o.Loads)), u.Mass); err != nil {
		return r, err
	}
	r.workOut(r.Statics())
	return r, nil
}

// workOut fills in what is not given and follows from the balance of the rig.
func (r *Rig) workOut(s Statics) {
	if r.Loads == nil {
		r.Loads = r.loads(s)
	}
	if r.Unit.Mass == nil {
		r.LeastUnit = greatest(r.Unit.Load.Mass, r.Unit.Trailer.Mass)
		if s.Basis == ByParts {
			r.LeastUnit = greatest(r.LeastUnit, &s.Unit.Low)
		}
	}
	if r.Mass == nil {
		r.Least = sum(r.LeastUnit, r.Tow.Mass)
		if whole, ok := s.Rig.Value(); ok {
			r.Least = greatest(r.Least, &whole.Low)
		}
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

// Task is what the rig asks of its driver in a jurisdiction, on a way that is not
// known yet.
func (r Rig) Task(code string, at time.Time) regs.Task {
	task := regs.Task{Jurisdiction: code, Use: r.Use, Unit: measure.Given(r.Unit.Mass), Rig: measure.Given(r.Mass), At: at}
	if !task.Unit.Open() || !task.Rig.Open() {
		return task
	}
	if r.LeastUnit != nil {
		task.Unit = measure.AtLeast(*r.LeastUnit)
	}
	if r.Least != nil {
		task.Rig = measure.AtLeast(*r.Least)
	}
	return task
}

// countAxles returns how many axles a rig has. Where they are described their
// number must be the one that is given.
func countAxles(given int, loads []limit.AxleLoad) (int, error) {
	if n := len(loads); n > 0 && given > 0 && n != given {
		return 0, &measure.FieldError{Field: "rig.axles", Value: fmt.Sprint(n), Problem: fmt.Sprintf("describes another number of axles than unit and tow vehicle have together, %d", given),
			Fix: "describe every axle of the rig, from the front"}
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
}](name string, given, worked, unit *T) (*T, error) {
	switch {
	case given != nil && worked != nil && *given != *worked:
		return nil, &measure.FieldError{Field: "rig." + name, Value: (*given).String(),
			Problem: "differs from " + (*worked).String() + ", which the tow vehicle and the unit add up to", Fix: "give only one of the two"}
	case given == nil:
		given = worked
	}
	if given != nil && unit != nil && *given < *unit {
		return nil, &measure.FieldError{Field: "rig." + name, Value: (*given).String(),
			Problem: "is below that of the unit alone, " + (*unit).String(), Fix: "check both figures"}
	}
	return given, nil
}

func highest[T ~int64](a, b *T) *T {
	if a == nil || b == nil {
		return nil
	}
	v := max(*a, *b)
	return &v
}

func sum[T ~int64](a, b *T) *T {
	if a == nil || b == nil {
		return nil
	}
	v := *a + *b
	return &v
}

// Vehicle returns what rules read. The height and width of a rig of which a part
// was not measured are at least those of the rest. Mirrors are left out of the width, as
// laws do. The height is as uncertain before a limit as before a structure; how other
// sizes became known is not asked, and they are taken as given.
func (r Rig) Vehicle(a clearance.Allowances) regs.Vehicle {
	v := regs.Vehicle{
		Subject:  limit.Subject{Kind: r.Unit.Kind, Use: r.Use, Form: r.Unit.Coupling.Form(), Tow: r.Tow.Form, Axles: r.Axles},
		Measures: map[limit.Quantity]regs.Measure{}, Loads: r.Loads, Across: r.Unit.across(),
	}
	trailer, leastTrailer := r.Unit.trailerLength()
	put(v, limit.Height, r.Height, r.Unit.Height)
	put(v, limit.Width, r.Width, r.LeastWidth())
	put(v, limit.TrailerLength, trailer, leastTrailer)
	put(v, limit.CombinationLength, r.Length, nil)
	put(v, limit.SingleVehicleLength, r.Tow.Length, nil)
	put(v, limit.GrossMass, r.Mass, r.Least)
	put(v, limit.FrontOverhang, r.FrontOverhang, nil)
	put(v, limit.RearOverhang, r.RearOverhang, nil)
	put(v, limit.KingpinToRearAxle, r.Unit.CouplingToAxle, nil)
	if h, ok := r.Clear(); ok {
		v.Uncertain = map[limit.Quantity]regs.Uncertainty{limit.Height: {By: limit.Amount(a.Error(h)), Designed: !h.Measured}}
	}
	return v
}

func put[T ~int64](v regs.Vehicle, q limit.Quantity, known, least *T) {
	switch {
	case known != nil:
		v.Measures[q] = measure.Exactly(limit.Amount(*known))
	case least != nil:
		v.Measures[q] = measure.AtLeast(limit.Amount(*least))
	}
}

// Clear returns the height to pass under structures with; ok is false where
// not even the unit's is known.
func (r Rig) Clear() (h clearance.Height, ok bool) {
	switch {
	case r.Height != nil: // the height was measured only if it is the unit's
		measured := r.Unit.HeightMeasured && r.Unit.Height != nil && *r.Unit.Height == *r.Height
		return clearance.Height{Length: *r.Height, Measured: measured}, true
	case r.Unit.Height != nil:
		return clearance.Height{Length: *r.Unit.Height, Measured: r.Unit.HeightMeasured, AtLeast: true}, true
	default:
		return h, false
	}
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
		{"unit.height", u.Height, m, 8 * m}, {"unit.width", u.Width, m, 8 * m}, {"unit.length", u.Length, 2 * m, 40 * m},
		{"unit.trailer.length", u.Trailer.Length, 2 * m, 40 * m}, {"unit.trailer.width", u.Trailer.Width, m, 8 * m},
		{"unit.coupling_to_rear", u.CouplingToRear, m, 40 * m}, {"unit.coupling_to_last_axle", u.CouplingToAxle, m, 40 * m},
		{"rig.front_overhang", o.FrontOverhang, 0, 10 * m}, {"rig.rear_overhang", o.RearOverhang, 0, 20 * m},
		{"tow.height", t.Height, m, 5 * m}, {"tow.width", t.Width, m, 4 * m}, {"tow.over_mirrors", t.OverMirrors, m, 5 * m}, {"tow.length", t.Length, 2 * m, 20 * m},
		{"tow.front_to_coupling", t.FrontToCoupling, m, 20 * m}, {"tow.turning_radius", t.TurningRadius, 3 * m, 30 * m},
		{"unit.deck_height", u.Deck, 100 * measure.Millimetre, 3 * m}, {"unit.ground_clearance", u.Clearance, 20 * measure.Millimetre, 2 * m}, {"unit.tail_clearance", u.TailClearance, 20 * measure.Millimetre, 3 * m},
		{"rig.height", o.Height, m, 8 * m}, {"rig.width", o.Width, m, 8 * m}, {"rig.length", o.Length, 4 * m, 60 * m},
	} {
		if err := b.check(); err != nil {
			return err
		}
	}
	masses := []bound[measure.Mass]{
		{"unit.mass", u.Mass, 200 * kg, 100_000 * kg}, {"unit.trailer.mass", u.Trailer.Mass, 100 * kg, 60_000 * kg}, {"tow.mass", t.Mass, 500 * kg, 60_000 * kg}, {"rig.mass", o.Mass, 700 * kg, 200_000 * kg},
	}
	for i, l := range o.Loads {
		masses = append(masses, bound[measure.Mass]{fmt.Sprintf("rig.axles[%d].mass", i), l.Mass, 50 * kg, 30_000 * kg})
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
	print := func(v T) (both, metric string) {
		switch v := any(v).(type) {
		case measure.Length:
			return v.String(), v.Metric()
		case measure.Mass:
			return v.String(), v.Metric()
		}
		return "", ""
	}
	value, _ := print(*b.value)
	_, least := print(b.min)
	_, most := print(b.max)
	return &measure.FieldError{Field: b.field, Value: value, Problem: "is outside " + least + " to " + most + ", where every such vehicle lies", Fix: "check the figure and its unit"}
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
	}{{"unit", u.Height, u.Width}, {"rig", o.Height, o.Width}} {
		if q.height != nil && q.width != nil && *q.height < *q.width {
			out = append(out, Question{Confirm: "height_below_width", FieldError: measure.FieldError{
				Field: q.of + ".height", Value: q.height.String(),
				Problem: "is below the width, " + q.width.String() + ": are the two swapped",
				Fix:     "swap them, or confirm height_below_width",
			}})
		}
	}
	if q, ok := massQuestion(u); ok {
		out = append(out, q)
	}
	return out
}

// massQuestion asks about a mass that is implausible as given and plausible
// with kilograms and pounds exchanged.
func massQuestion(u Unit) (Question, bool) {
	if u.Kind == limit.LoadOnTrailer {
		u.Length, u.Width, u.Mass = u.Load.Length, u.Load.Width, u.Load.Mass
	}
	if u.Mass == nil || u.Width == nil || u.Length == nil {
		return Question{}, false
	}
	area := u.Width.Metres() * u.Length.Metres()
	fits := func(m measure.Mass) bool {
		perArea := m.Kilograms() / area
		return leastPerArea <= perArea && perArea <= mostPerArea
	}
	kilograms := u.Mass.Kilograms()
	asPounds := measure.Mass(kilograms * float64(measure.Pound))                                       // the kilograms were pounds
	asKilograms := measure.Mass(float64(*u.Mass) / float64(measure.Pound) * float64(measure.Kilogram)) // the pounds were kilograms
	ask := func(other string) (Question, bool) {
		return Question{Confirm: "unit_mass", FieldError: measure.FieldError{
			Field: "unit.mass", Value: u.Mass.String(),
			Problem: fmt.Sprintf("is %.0f kg on each square metre of the unit, which fits no house on a trailer, but %s would fit", kilograms/area, other),
			Fix:     "correct the unit, or confirm unit_mass",
		}}, true
	}
	switch {
	case fits(*u.Mass):
		return Question{}, false
	case fits(asPounds):
		return ask(fmt.Sprintf("%.0f lb", kilograms))
	case fits(asKilograms):
		return ask(fmt.Sprintf("%.0f kg", float64(*u.Mass)/float64(measure.Pound)))
	default:
		return Question{}, false
	}
}
