package limit

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Quantity is what a limit limits.
type Quantity string

// The quantities of the table.
const (
	Height              Quantity = "height"
	Width               Quantity = "width"
	TrailerLength       Quantity = "trailer_length"
	CombinationLength   Quantity = "combination_length"
	SingleVehicleLength Quantity = "single_vehicle_length" // of the tow vehicle by itself
	FrontOverhang       Quantity = "front_overhang"
	RearOverhang        Quantity = "rear_overhang"
	KingpinToRearAxle   Quantity = "kingpin_to_rear_axle"
	GrossMass           Quantity = "gross_mass" // of the combination
	SteeringAxleMass    Quantity = "steering_axle_mass"
	SingleAxleMass      Quantity = "single_axle_mass"
	TandemMass          Quantity = "tandem_mass"
	TridemMass          Quantity = "tridem_mass"
	AxleGroupMass       Quantity = "axle_group_mass" // by count and spread
	BridgeFormula       Quantity = "bridge_formula"  // over every group of axles
	TireLoadPerWidth    Quantity = "tire_load_per_mm"
)

// Quantities lists them in the order in which answers come.
func Quantities() []Quantity {
	return []Quantity{
		Height, Width, TrailerLength, CombinationLength, GrossMass,
		SingleVehicleLength, FrontOverhang, RearOverhang, KingpinToRearAxle,
		SteeringAxleMass, SingleAxleMass, TandemMass, TridemMass, TireLoadPerWidth,
		AxleGroupMass, BridgeFormula,
	}
}

// Term is the code of the quantity's name.
func (q Quantity) Term() say.Code { return say.Word("quantity", string(q)) }

// Escorts is the rule of the escorts that the quantity asks for.
func (q Quantity) Escorts() finding.Rule { return finding.Rule(q) + " escorts" }

// OfEscorts reports whether a rule is about the escorts that a quantity asks for.
func OfEscorts(rule finding.Rule) bool {
	return slices.ContainsFunc(Quantities(), func(q Quantity) bool { return rule == q.Escorts() })
}

// Lesser is the word for less of a quantity: lower, narrower, lighter.
type Lesser Quantity

// Less is the word for less of the quantity.
func (q Quantity) Less() Lesser { return Lesser(q) }

// Term is the word.
func (l Lesser) Term() say.Code { return say.Word("less", string(l)) }

// OnlyWhereRuled reports whether the quantity is asked about only where a table
// has rows of it: not every law has such a rule.
func (q Quantity) OnlyWhereRuled() bool { return q == AxleGroupMass || q == BridgeFormula }

// MayBeZero reports whether a measurement can be 0; nothing else that is measured
// is.
func (q Quantity) MayBeZero() bool { return q == FrontOverhang || q == RearOverhang }

// IsMass reports whether the quantity is a mass; the others are lengths.
func (q Quantity) IsMass() bool { return q == GrossMass || q.OfAxles() }

// Amount is a value of a quantity in the exact unit of its kind: nanometres
// for lengths, tens of micrograms for masses.
type Amount int64

// Of is an amount of the quantity.
func (q Quantity) Of(a Amount) finding.Quantity {
	if q.IsMass() {
		return finding.Of(measure.Mass(a))
	}
	return finding.Of(measure.Length(a))
}

// Known is what is known of an amount of the quantity.
func (q Quantity) Known(a measure.Known[Amount]) finding.Quantity {
	return finding.Sized(a, q.Of)
}

// Parse reads an amount of the quantity. Loads on tire width and bridge
// formulas are no amounts: what they allow hangs on the axles.
func (q Quantity) Parse(text string) (Amount, error) {
	switch {
	case q == TireLoadPerWidth, q == BridgeFormula:
		return 0, say.Err(say.That("parse_error.no_amount_of", "quantity", q))
	case q.IsMass():
		m, err := measure.ParseMass(text)
		return Amount(m), err
	case !slices.Contains(Quantities(), q):
		return 0, say.Err(say.That("parse_error.no_quantity", "text", string(q), "words", quantityWords()))
	default:
		l, err := measure.ParseLength(text)
		return Amount(l), err
	}
}

func quantityWords() (out []string) {
	for _, q := range Quantities() {
		out = append(out, string(q))
	}
	return out
}
