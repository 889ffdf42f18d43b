package measure

import (
	"math/big"
	"strings"

	"wayhouse/regs/say"
)

// What follows reads the quantities that are computed with and never compared
// with a threshold of the law. Each is the float64 nearest to the exact value
// of the text, so two ways of writing one value give the same number.

// ParseSpeed reads 62 mph, 100 km/h and 25 m/s, with the refusals of
// [ParseLength].
func ParseSpeed(text string) (Speed, error) {
	kmh := unit{factor: big.NewRat(5, 18)}
	v, err := parser{quantity: "speed", example: "100 km/h, 62 mph", units: map[string]unit{
		"km/h": kmh, "kmh": kmh, "kph": kmh, "mph": {factor: big.NewRat(44704, 100000)},
		"mi/h": {factor: big.NewRat(44704, 100000)}, "m/s": {factor: big.NewRat(1, 1)},
	}}.derived(text)
	return Speed(v), err
}

// ParsePower reads 276 kW and 370 hp, with the refusals of [ParseLength]. A
// horsepower is 550 ft lbf/s, 745.699 871 582 270 22 W exactly; a metric one is
// not read.
func ParsePower(text string) (Power, error) {
	hp := new(big.Rat).Mul(poundForce, big.NewRat(550*3048, 10_000))
	v, err := parser{quantity: "power", example: "276 kW, 370 hp", units: map[string]unit{
		"kw": {factor: big.NewRat(1000, 1)}, "w": {factor: big.NewRat(1, 1)}, "hp": {factor: hp},
	}}.derived(text)
	return Power(v), err
}

// ParsePressure reads 550 kPa, 80 psi and 5.5 bar, with the refusals of [ParseLength].
func ParsePressure(text string) (Pressure, error) {
	psi := new(big.Rat).Mul(poundForce, big.NewRat(100_000_000, 254*254))
	v, err := parser{quantity: "pressure", example: "550 kPa, 80 psi", units: map[string]unit{
		"kpa": {factor: big.NewRat(1000, 1)}, "psi": {factor: psi}, "bar": {factor: big.NewRat(100_000, 1)},
	}}.derived(text)
	return Pressure(v), err
}

// ParseVolume reads 120 L, 0.12 m3 and 32 US gal. A bare gallon is refused
// because two are in use.
func ParseVolume(text string) (Volume, error) {
	litre, gallon := unit{factor: big.NewRat(1, 1000)}, unit{factor: big.NewRat(3_785_411_784, 1_000_000_000_000)}
	p := parser{quantity: "volume", example: "120 L, 32 US gal", units: map[string]unit{
		"l": litre, "litre": litre, "litres": litre, "liter": litre, "liters": litre, "us gal": gallon, "gal us": gallon,
		"us gallon": gallon, "us gallons": gallon,
		"m3": {factor: big.NewRat(1, 1)}, "m³": {factor: big.NewRat(1, 1)},
	}}
	if s := strings.ToLower(strings.TrimSpace(text)); strings.Contains(s, "gal") && !strings.Contains(s, "us gal") &&
		!strings.Contains(s, "gal us") {
		return 0, p.fail(text, say.That("error.does_not_say_which_gallon"), say.That("fix.write_it_in_l"))
	}
	v, err := p.derived(text)
	return Volume(v), err
}

// ParseArea reads 12.5 m2 and 134 sq ft, with the refusals of [ParseLength].
func ParseArea(text string) (Area, error) {
	metre, foot := unit{factor: big.NewRat(1, 1)}, unit{factor: big.NewRat(3048*3048, 100_000_000)}
	v, err := parser{quantity: "area", example: "12.5 m2, 134 sq ft", units: map[string]unit{
		"m2": metre, "m²": metre, "ft2": foot, "ft²": foot, "sq ft": foot, "pi2": foot, "pi²": foot,
	}}.derived(text)
	return Area(v), err
}

// ParseForce reads 22.2 kN and 5000 lbf, with the refusals of [ParseLength].
func ParseForce(text string) (Force, error) {
	v, err := parser{quantity: "force", example: "22.2 kN, 5000 lbf", units: map[string]unit{
		"n": {factor: big.NewRat(1, 1)}, "kn": {factor: big.NewRat(1000, 1)}, "lbf": {factor: poundForce, thousands: true},
	}}.derived(text)
	return Force(v), err
}

// poundForce is a pound under standard gravity, 4.448 221 615 260 5 N exactly
// (NIST SP 811, 2008, B.8).
var poundForce = new(big.Rat).Mul(big.NewRat(45_359_237, 100_000_000), big.NewRat(980_665, 100_000))

// derived reads a quantity above zero as the nearest float64.
func (p parser) derived(text string) (float64, error) {
	s, err := p.clean(text)
	if err != nil {
		return 0, err
	}
	r, err := p.simple(text, s)
	if err != nil {
		return 0, err
	}
	if r.Sign() == 0 {
		return 0, &ParseError{
			Quantity: p.quantity, Text: text, Zero: true, Problem: say.That("error.zero"),
			Fix: say.That("fix.above_zero"),
		}
	}
	v, _ := r.Float64()
	return v, nil
}

// ParseOffset reads a length from a point of reference, which may be 0 or, with
// a leading minus, lie on the other side of it.
func ParseOffset(text string) (Length, error) {
	s := strings.TrimSpace(text)
	rest, negative := strings.CutPrefix(s, "-")
	if !negative {
		rest, negative = strings.CutPrefix(s, "−")
	}
	l, err := ParseLength(rest)
	if bad, ok := err.(*ParseError); ok && bad.Zero {
		return 0, nil
	}
	if negative {
		l = -l
	}
	return l, err
}

// ParseDistance reads 450 km and 280 mi, with the refusals of [ParseLength].
func ParseDistance(text string) (Distance, error) {
	mile := unit{factor: big.NewRat(1_609_344, 1000), thousands: true}
	v, err := parser{quantity: "distance", example: "450 km, 280 mi", units: map[string]unit{
		"km": {factor: big.NewRat(1000, 1)}, "mi": mile, "mile": mile, "miles": mile,
	}}.derived(text)
	return Distance(v), err
}
