package wire

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Measured is a quantity as a request gives it: a text with a unit under the name
// of its field (height), or a number under that name with the suffix of its unit
// (height_m), never both. [Decode] reads either.
type Measured[Q any, K kind[Q]] struct {
	Is   *Q // nil: not given, and so not known
	text string
}

// Or is the quantity, or another where it is not given.
func (m Measured[Q, K]) Or(none Q) Q {
	if m.Is == nil {
		return none
	}
	return *m.Is
}

// kind is how a quantity is written.
type kind[Q any] interface {
	parse(text string) (Q, error)
	number(Q) float64 // in the unit of the suffix
	writing() writing
}

// writing is what the schema of a measured field carries of its kind.
type writing struct {
	suffix, unit string
	examples     []string
	other        string // a unit that is in use beside it
	places       int    // decimals of a number, where the quantity has a smallest unit; -1: as many as it has
	parse        func(text string) (number float64, err error)
}

// Kinds of measured fields. An offset may lie to either side of its point of
// reference, a span, a spread, a run and a breeze may be 0, all others are above 0.
type (
	Length   = Measured[measure.Length, inMetres]
	Span     = Measured[measure.Length, inMetresOrNone]
	Offset   = Measured[measure.Length, inMetresEitherWay]
	Mass     = Measured[measure.Mass, inKilograms]
	Spread   = Measured[measure.Mass, inKilogramsOrNone]
	Area     = Measured[measure.Area, inSquareMetres]
	Volume   = Measured[measure.Volume, inLitres]
	Power    = Measured[measure.Power, inKilowatts]
	Force    = Measured[measure.Force, inKilonewtons]
	Pressure = Measured[measure.Pressure, inKilopascals]
	Speed    = Measured[measure.Speed, inKilometresPerHour]
	Journey  = Measured[measure.Distance, inKilometres]
	Run      = Measured[measure.Distance, inKilometresOrNone]
	Breeze   = Measured[measure.Speed, inKilometresPerHourOrNone]
	Time     = Measured[time.Duration, inHours] // has no number beside it
)

type (
	inMetres                  struct{}
	inMetresOrNone            struct{ inMetres }
	inMetresEitherWay         struct{ inMetres }
	inKilograms               struct{}
	inKilogramsOrNone         struct{ inKilograms }
	inSquareMetres            struct{}
	inLitres                  struct{}
	inKilowatts               struct{}
	inKilonewtons             struct{}
	inKilopascals             struct{}
	inKilometres              struct{}
	inKilometresOrNone        struct{ inKilometres }
	inKilometresPerHour       struct{}
	inKilometresPerHourOrNone struct{ inKilometresPerHour }
	inHours                   struct{}
)

func (inMetres) writing() writing {
	return writing{suffix: "_m", unit: " m", other: " ft", places: 9, examples: []string{`"4.15 m"`}}
}
func (inKilograms) writing() writing {
	return writing{suffix: "_kg", unit: " kg", other: " lb", places: 8, examples: []string{`"24,000 lb"`}}
}
func (inSquareMetres) writing() writing {
	return writing{suffix: "_m2", unit: " m2", other: " sq ft", places: -1, examples: []string{`"12.5 m2"`, `"135 sq ft"`}}
}
func (inLitres) writing() writing {
	return writing{suffix: "_l", unit: " L", other: " US gal", places: -1, examples: []string{`"120 L"`, `"32 US gal"`}}
}
func (inKilowatts) writing() writing {
	return writing{suffix: "_kw", unit: " kW", other: " hp", places: -1, examples: []string{`"276 kW"`, `"370 hp"`}}
}
func (inKilonewtons) writing() writing {
	return writing{suffix: "_kn", unit: " kN", other: " lbf", places: -1, examples: []string{`"22.2 kN"`, `"5,000 lbf"`}}
}
func (inKilopascals) writing() writing {
	return writing{suffix: "_kpa", unit: " kPa", other: " psi", places: -1, examples: []string{`"550 kPa"`, `"80 psi"`}}
}
func (inKilometres) writing() writing {
	return writing{suffix: "_km", unit: " km", other: " mi", places: -1, examples: []string{`"450 km"`, `"280 mi"`}}
}
func (inKilometresPerHour) writing() writing {
	return writing{suffix: "_kmh", unit: " km/h", other: " mph", places: -1, examples: []string{`"90 km/h"`, `"55 mph"`}}
}
func (inHours) writing() writing {
	return writing{unit: " h", other: " min", places: -1, examples: []string{`"30 min"`, `"2 h"`}}
}

func (inMetres) number(l measure.Length) float64        { return l.Metres() }
func (inKilograms) number(m measure.Mass) float64       { return m.Kilograms() }
func (inSquareMetres) number(a measure.Area) float64    { return float64(a) }
func (inLitres) number(v measure.Volume) float64        { return float64(v / measure.Litre) }
func (inKilowatts) number(p measure.Power) float64      { return float64(p) / 1000 }
func (inKilonewtons) number(f measure.Force) float64    { return float64(f) / 1000 }
func (inKilopascals) number(p measure.Pressure) float64 { return float64(p / measure.Kilopascal) }
func (inKilometres) number(d measure.Distance) float64  { return float64(d) / 1000 }
func (inKilometresPerHour) number(v measure.Speed) float64 {
	return float64(v / measure.KilometrePerHour)
}

func (inHours) number(d time.Duration) float64 { return d.Hours() }

func (inMetres) parse(text string) (measure.Length, error) { return measure.ParseLength(text) }
func (inMetresOrNone) parse(text string) (measure.Length, error) {
	return orZero(measure.ParseLength(text))
}
func (inMetresEitherWay) parse(text string) (measure.Length, error) { return measure.ParseOffset(text) }
func (inKilograms) parse(text string) (measure.Mass, error)         { return measure.ParseMass(text) }
func (inKilogramsOrNone) parse(text string) (measure.Mass, error) {
	return orZero(measure.ParseMass(text))
}
func (inSquareMetres) parse(text string) (measure.Area, error)    { return measure.ParseArea(text) }
func (inLitres) parse(text string) (measure.Volume, error)        { return measure.ParseVolume(text) }
func (inKilowatts) parse(text string) (measure.Power, error)      { return measure.ParsePower(text) }
func (inKilonewtons) parse(text string) (measure.Force, error)    { return measure.ParseForce(text) }
func (inKilopascals) parse(text string) (measure.Pressure, error) { return measure.ParsePressure(text) }
func (inKilometres) parse(text string) (measure.Distance, error)  { return measure.ParseDistance(text) }
func (inKilometresOrNone) parse(text string) (measure.Distance, error) {
	return orZero(measure.ParseDistance(text))
}
func (inKilometresPerHour) parse(text string) (measure.Speed, error) { return measure.ParseSpeed(text) }
func (inKilometresPerHourOrNone) parse(text string) (measure.Speed, error) {
	return orZero(measure.ParseSpeed(text))
}

// parse reads 30 min, 2 h, 1 h 30 min, and what Go writes.
func (inHours) parse(text string) (time.Duration, error) {
	plain := strings.NewReplacer("hours", "h", "hour", "h", "minutes", "m", "minute", "m", "min", "m", " ",
		"").Replace(text)
	d, err := time.ParseDuration(plain)
	if err != nil || !strings.ContainsAny(plain, "hms") { // a bare 0 is a bare number too
		return 0, &measure.ParseError{
			Quantity: "time", Text: text, Problem: say.That("error.no_time_with_a"),
			Fix: say.That("fix.write_it_like_30"),
		}
	}
	return d, nil
}

// orZero takes a zero that is refused elsewhere.
func orZero[Q ~int64 | ~float64](q Q, err error) (Q, error) {
	var bad *measure.ParseError
	if errors.As(err, &bad) && bad.Zero {
		return 0, nil
	}
	return q, err
}

// UnmarshalJSON reads a text with a unit. A bare number is an error: only its
// field's name says what it counts.
func (m *Measured[Q, K]) UnmarshalJSON(raw []byte) error {
	var text *string
	if err := json.Unmarshal(raw, &text); err != nil || text == nil {
		return err
	}
	var how K
	q, err := how.parse(*text)
	if err != nil {
		return err
	}
	m.Is, m.text = &q, *text
	return nil
}

// MarshalJSON writes the text that was read, null where nothing was.
func (m Measured[Q, K]) MarshalJSON() ([]byte, error) {
	if m.Is == nil {
		return []byte("null"), nil
	}
	return json.Marshal(m.text)
}

// Schema says that it is a text, and to [Decode] and [Twins] that a number of
// another name may stand for it.
func (Measured[Q, K]) Schema(huma.Registry) *huma.Schema {
	var how K
	w := how.writing()
	w.parse = func(text string) (float64, error) {
		q, err := how.parse(text)
		return how.number(q), err
	}
	return &huma.Schema{Type: huma.TypeString, Extensions: map[string]any{measured: w}}
}

// measured is the extension under which a schema carries a writing.
const measured = "x-measured"

// writingOf is how a field is measured, itself or as a list; ok is false for a
// field that is not.
func writingOf(s *huma.Schema) (w writing, ok bool) {
	if s.Items != nil {
		s = s.Items
	}
	w, ok = s.Extensions[measured].(writing)
	return w, ok
}

// Twins gives every measured field of published schemas its second name, that of
// the number.
func Twins(schemas map[string]*huma.Schema) {
	for _, s := range schemas {
		for name, field := range s.Properties {
			w, ok := writingOf(field)
			if !ok {
				continue
			}
			number := *field
			number.Type, number.Extensions, number.Description = huma.TypeNumber, nil, "The same as a number, in"+w.unit
			if field.Items != nil {
				number.Type, number.Items, field.Items = huma.TypeArray, &huma.Schema{Type: huma.TypeNumber},
					&huma.Schema{Type: huma.TypeString}
			}
			field.Extensions, field.Minimum, field.Maximum = nil, nil, nil
			if w.suffix != "" {
				s.Properties[name+w.suffix] = &number
			}
		}
	}
}

// Suffixes are those of names whose fields take a number.
func Suffixes() (all []string) {
	for _, w := range []writing{
		inMetres{}.writing(), inKilograms{}.writing(), inSquareMetres{}.writing(), inLitres{}.writing(),
		inKilowatts{}.writing(),
		inKilonewtons{}.writing(), inKilopascals{}.writing(), inKilometresPerHour{}.writing(),
	} {
		all = append(all, w.suffix)
	}
	return all
}

// fromNumber is the text of the shortest decimal that stands for a number, so that
// 4.15 in JSON is exactly 4.15 m; of a sum of such numbers, whose last digits are
// noise, to the smallest unit of the quantity. ok is false for what is no sensible
// number.
func (w writing) fromNumber(number float64) (text string, ok bool) {
	const absurd = 1e12 // beyond the largest of any quantity, and short enough to print
	if math.IsNaN(number) || math.Abs(number) > absurd {
		return "", false
	}
	shortest := strconv.FormatFloat(number, 'f', -1, 64)
	if _, decimals, _ := strings.Cut(shortest, "."); w.places >= 0 && len(decimals) > w.places {
		shortest = strconv.FormatFloat(number, 'f', w.places, 64)
	}
	return shortest + w.unit, true
}

// bare says how to write a number that was given without its unit.
func (w writing) bare(name string, number float64) say.Remark {
	digits := strconv.FormatFloat(number, 'f', -1, 64)
	unit, other := w.unit, w.other
	if w.suffix == (inMetres{}).writing().suffix && number > 30 { // no vehicle is so many metres
		unit, other = " mm", " in"
	}
	field := ""
	if w.suffix != "" {
		list, _, _ := strings.Cut(name, "[")
		field = list + w.suffix
	}
	return say.That("fix.unit", "one", digits+unit, "other", digits+other, "field", field)
}

// fix says how to write a field that was given as something else than a text.
func (w writing) fix() say.Remark { return say.That("fix.quoted_unit", "examples", w.examples) }

// fault says what is wrong with a text with a unit, its bounds included; nothing where
// it is good.
func (w writing) fault(field *huma.Schema, text string) (problem, fix say.Remark) {
	number, err := w.parse(text)
	var bad *measure.ParseError
	switch {
	case errors.As(err, &bad):
		return bad.Problem, bad.Fix
	case err != nil:
		return say.Of(err), say.That("fix.check")
	case field.Minimum != nil && number < *field.Minimum, field.Maximum != nil && number > *field.Maximum:
		return outside(field, w.unit), say.That("fix.figure_unit")
	}
	return say.Remark{}, say.Remark{}
}
