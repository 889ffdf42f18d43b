// Package measure holds the quantities that a rule compares.
//
// Lengths and masses are whole numbers of a unit small enough that every
// metric and every United States customary figure of the trade is exact: a
// [Length] counts nanometres, a [Mass] counts tens of micrograms. 1/64 in is
// 396 875 nm and 1 lb is 45 359 237 of those mass units, so a threshold in one
// system never flips by a conversion from the other. Everything that is only
// computed, never compared with a threshold of the law, is a named float64 in
// SI units.
//
// Conversion factors: NIST Special Publication 811 (2008), Appendix B.8, where
// the inch (25.4 mm), the foot (0.3048 m), the mile (1609.344 m) and the
// avoirdupois pound (0.453 592 37 kg) are exact.
package measure

import "math"

// Length is a length in whole nanometres.
type Length int64

// Units of length, exact. Source: NIST SP 811 (2008), B.8.
const (
	Nanometre  Length = 1
	Millimetre        = 1_000_000 * Nanometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Kilometre         = 1000 * Metre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// Metres returns the length in metres, rounded to the nearest float64.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// OfMetres is a length that was computed, to the nearest nanometre.
func OfMetres(m float64) Length { return Length(math.Round(m * float64(Metre))) }

// Mass is a mass in whole units of 10 micrograms.
type Mass int64

// Units of mass, exact. Source: NIST SP 811 (2008), B.8; the short ton is
// 2000 lb.
const (
	TenMicrograms Mass = 1
	Kilogram           = 100_000_000 * TenMicrograms
	Tonne              = 1000 * Kilogram
	Pound              = 45_359_237 * TenMicrograms
	ShortTon           = 2000 * Pound
)

// OfKilograms is a mass that was computed, to the nearest 10 micrograms.
func OfKilograms(kg float64) Mass { return Mass(math.Round(kg * float64(Kilogram))) }

// Kilograms returns the mass in kilograms, rounded to the nearest float64.
func (m Mass) Kilograms() float64 { return float64(m) / float64(Kilogram) }

// Pounds returns the mass in pounds, rounded to the nearest float64.
func (m Mass) Pounds() float64 { return float64(m) / float64(Pound) }

// Largest values that the parsers accept: far beyond any road vehicle, far
// within an int64.
const (
	MaxLength = 10_000 * Kilometre
	MaxMass   = 1_000_000 * Tonne
)

// Named SI quantities that are computed and never compared with a legal
// threshold.
type (
	Distance float64 // along a road or a geodesic, metres
	Rise     float64 // up or down, or above the sea, metres
	Speed    float64 // metres per second
	Area     float64 // square metres
	Density  float64 // kilograms per cubic metre
	Force    float64 // newtons
	Power    float64 // watts
	Volume   float64 // cubic metres
	Pressure float64 // pascals above that of the air around

	Consumption float64 // of fuel on a road, cubic metres per metre
)

// Factors of the named SI quantities. Source: NIST SP 811 (2008), B.8 (mile);
// the US gallon is 231 cubic inches (same place). A horsepower is of 550 ft lbf/s.
const (
	KilometrePerHour Speed    = 1.0 / 3.6
	MilePerHour      Speed    = 0.44704
	Mile             Distance = 1609.344
	Litre            Volume   = 1e-3
	USGallon         Volume   = 3.785411784e-3
	SquareFoot       Area     = 0.3048 * 0.3048
	PoundForce       Force    = 4.4482216152605
	Horsepower       Power    = 745.69987158227022
	Kilopascal       Pressure = 1000
	PSI              Pressure = 6894.7572931683617 // a pound-force a square inch

	LitrePer100Kilometres Consumption = 1e-8
)
