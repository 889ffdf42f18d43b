package measure

import (
	"fmt"
	"math"
	"strconv"
)

// FieldError is a quantity that came in a named field and cannot be used.
type FieldError struct {
	Field   string
	Value   string
	Problem string
	Fix     string
}

func (e *FieldError) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("%s: %s; %s", e.Field, e.Problem, e.Fix)
	}
	return fmt.Sprintf("%s %q: %s; %s", e.Field, e.Value, e.Problem, e.Fix)
}

// A field comes either as a number in the SI unit of its suffix (height_m,
// mass_kg) or as a text with a unit (height, mass), never both. Neither means
// that the value is not known: the result is nil.

// LengthField reads the pair NAME_m and NAME.
func LengthField(name string, metres *float64, text *string) (*Length, error) {
	return field(name, "_m", " m", metres, text, ParseLength)
}

// MassField reads the pair NAME_kg and NAME.
func MassField(name string, kilograms *float64, text *string) (*Mass, error) {
	return field(name, "_kg", " kg", kilograms, text, ParseMass)
}

// OffsetField reads the pair NAME_m and NAME of a length from a point of
// reference, which may be 0 or negative.
func OffsetField(name string, metres *float64, text *string) (*Length, error) {
	return field(name, "_m", " m", metres, text, ParseOffset)
}

// PowerField reads the pair NAME_kw and NAME.
func PowerField(name string, kilowatts *float64, text *string) (*Power, error) {
	return field(name, "_kw", " kW", kilowatts, text, ParsePower)
}

// VolumeField reads the pair NAME_l and NAME.
func VolumeField(name string, litres *float64, text *string) (*Volume, error) {
	return field(name, "_l", " L", litres, text, ParseVolume)
}

// AreaField reads the pair NAME_m2 and NAME.
func AreaField(name string, squareMetres *float64, text *string) (*Area, error) {
	return field(name, "_m2", " m2", squareMetres, text, ParseArea)
}

// ForceField reads the pair NAME_kn and NAME.
func ForceField(name string, kilonewtons *float64, text *string) (*Force, error) {
	return field(name, "_kn", " kN", kilonewtons, text, ParseForce)
}

func field[T any](name, suffix, unit string, si *float64, text *string, parse func(string) (T, error)) (*T, error) {
	switch {
	case si != nil && text != nil:
		return nil, &FieldError{Field: name, Value: *text, Problem: fmt.Sprintf("is given twice, as %s and as %s%s", name, name, suffix), Fix: "give exactly one of them"}
	case si != nil:
		return fromNumber(name+suffix, unit, *si, parse)
	case text != nil:
		v, err := parse(*text)
		return result(name, v, err)
	default:
		return nil, nil
	}
}

// fromNumber reads the shortest decimal that stands for the number, so that
// 4.15 in JSON is exactly 4.15 m.
func fromNumber[T any](name, unit string, si float64, parse func(string) (T, error)) (*T, error) {
	const absurd = 1e12 // beyond the largest of any quantity, and short enough to print
	if math.IsNaN(si) || math.Abs(si) > absurd {
		return nil, &FieldError{Field: name, Value: fmt.Sprint(si), Problem: "is absurdly large or no number", Fix: "give a sensible number in" + unit}
	}
	v, err := parse(strconv.FormatFloat(si, 'f', -1, 64) + unit)
	return result(name, v, err)
}

func result[T any](name string, v T, err error) (*T, error) {
	if e, ok := err.(*ParseError); ok {
		return nil, &FieldError{Field: name, Value: e.Text, Problem: e.Problem, Fix: e.Fix}
	}
	if err != nil {
		return nil, err
	}
	return &v, nil
}
