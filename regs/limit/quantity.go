package limit

import (
	"fmt"
	"slices"

	"wayhouse/regs/measure"
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
	TireLoadPerWidth    Quantity = "tire_load_per_mm"
)

// Quantities lists them in the order in which answers come.
func Quantities() []Quantity {
	return []Quantity{
		Height, Width, TrailerLength, CombinationLength, GrossMass,
		SingleVehicleLength, FrontOverhang, RearOverhang, KingpinToRearAxle,
		SteeringAxleMass, SingleAxleMass, TandemMass, TridemMass, TireLoadPerWidth,
	}
}

// Words returns the quantity as a reader says it.
func (q Quantity) Words() string { return words[q] }

var words = map[Quantity]string{
	Height: "height", Width: "width", TrailerLength: "trailer length", CombinationLength: "combination length",
	SingleVehicleLength: "tow vehicle length", FrontOverhang: "front overhang", RearOverhang: "rear overhang",
	KingpinToRearAxle: "coupling to rear axle", GrossMass: "gross mass", SteeringAxleMass: "steering axle mass",
	SingleAxleMass: "single axle mass", TandemMass: "tandem mass", TridemMass: "tridem mass",
	TireLoadPerWidth: "load on tire width",
}

func (q Quantity) isMass() bool {
	return slices.Contains([]Quantity{GrossMass, SteeringAxleMass, SingleAxleMass, TandemMass, TridemMass}, q)
}

// Amount is a value of a quantity in the exact unit of its kind: nanometres
// for lengths, tens of micrograms for masses.
type Amount int64

// Print prints an amount of the quantity in both systems.
func (q Quantity) Print(a Amount) string {
	if q.isMass() {
		return measure.Mass(a).String()
	}
	return measure.Length(a).String()
}

// Parse reads an amount of the quantity. Loads on tire width are kept as text
// and compared with nothing until tires are described; their amount is 0.
func (q Quantity) Parse(text string) (Amount, error) {
	switch {
	case q == TireLoadPerWidth:
		return 0, nil
	case q.isMass():
		m, err := measure.ParseMass(text)
		return Amount(m), err
	case words[q] == "":
		return 0, fmt.Errorf("quantity %q is not known; use one of %v", q, Quantities())
	default:
		l, err := measure.ParseLength(text)
		return Amount(l), err
	}
}
