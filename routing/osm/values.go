package osm

import (
	"errors"
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// Reading is what a tag's value says of a quantity.
type Reading[T any] struct {
	Value  T // where State is Known
	State  network.State
	Note   string // what was chosen where more than one reading is possible
	Likely string // of an Unreadable value: what its mapper probably meant
}

// noFigures are the values that say there is no figure, or none on a sign
// (OpenStreetMap wiki, Key:maxheight and Key:maxweight, 2025). None of them
// says that a rig fits.
var noFigures = []string{
	"default", "none", "no_sign", "no_indications", "no_indication", "unsigned", "below_default", "no", "unlimited",
	"unspecified", "unknown",
}

// A span is what a figure must lie within to be believed.
type span[T ~int64] struct{ least, most T }

// Plausible figures; what lies outside is a slip of the unit or the point.
// Heights, widths and masses: this project's rule; lengths: common practice,
// no source.
var (
	heights = span[measure.Length]{1500 * measure.Millimetre, 6500 * measure.Millimetre}
	widths  = span[measure.Length]{1500 * measure.Millimetre, 20 * measure.Metre}
	lengths = span[measure.Length]{2 * measure.Metre, 60 * measure.Metre}
	masses  = span[measure.Mass]{500 * measure.Kilogram, 150 * measure.Tonne}
)

// ReadHeight reads a clear height. A bare number is in metres.
func ReadHeight(text string) Reading[measure.Length] { return readLength(text, heights) }

// ReadWidth reads a width. A bare number is in metres.
func ReadWidth(text string) Reading[measure.Length] { return readLength(text, widths) }

// ReadLength reads the length that a vehicle may have. A bare number is in
// metres.
func ReadLength(text string) Reading[measure.Length] { return readLength(text, lengths) }

var (
	bare      = regexp.MustCompile(`^\d+(?:[.,]\d+)?$`)
	halfFeet  = regexp.MustCompile(`^(\d{1,2})' ?(\d{1,2})$`) // 14'6, its inch mark missing
	tons      = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?(?:tons?|st)$`)
	shortMark = regexp.MustCompile(`st$`)
)

func readLength(text string, plausible span[measure.Length]) (r Reading[measure.Length]) {
	s := strings.TrimSpace(text)
	if r.settle(s) {
		return r
	}
	if bare.MatchString(s) {
		s += " m"
	}
	v, err := measure.ParseLength(s)
	switch {
	case err != nil:
		r.State, r.Likely = network.Unreadable, likelyFeet(s)
	case v < plausible.least || v > plausible.most:
		r.State, r.Likely = network.Unreadable, likelyLength(text, plausible)
	default:
		r.State, r.Value = network.Known, v
	}
	return r
}

// settle answers for values that hold no figure.
func (r *Reading[T]) settle(s string) bool {
	switch {
	case s == "":
		r.State = network.Absent
	case slices.Contains(noFigures, strings.ToLower(s)):
		r.State = network.NoFigure
	default:
		return false
	}
	return true
}

func likelyFeet(s string) string {
	if m := halfFeet.FindStringSubmatch(s); m != nil {
		return fmt.Sprintf("%s ft %s in", m[1], m[2])
	}
	return ""
}

// likelyLength looks for a unit with which a bare figure would be plausible.
func likelyLength(text string, plausible span[measure.Length]) string {
	s := strings.TrimSpace(text)
	if !bare.MatchString(s) {
		return ""
	}
	for _, unit := range []string{"ft", "cm", "in"} {
		if v, err := measure.ParseLength(s + " " + unit); err == nil && v >= plausible.least && v <= plausible.most {
			return s + " " + unit
		}
	}
	return ""
}

// ReadMass reads a mass. A bare number is in tonnes. Where "tons" may be
// short, metric or long ones, the lightest counts and Note says so.
func ReadMass(text string) (r Reading[measure.Mass]) {
	s := strings.TrimSpace(text)
	if r.settle(s) {
		return r
	}
	if bare.MatchString(s) {
		s += " t"
	}
	if m := tons.FindStringSubmatch(strings.ToLower(s)); m != nil {
		if !shortMark.MatchString(strings.ToLower(s)) {
			r.Note = "short tons are taken, the lightest of short, metric and long"
		}
		s = m[1] + " short tons"
	}
	v, err := measure.ParseMass(s)
	if err == nil && v >= masses.least && v <= masses.most {
		r.State, r.Value = network.Known, v
		return r
	}
	r.State, r.Note = network.Unreadable, ""
	if err == nil && bare.MatchString(strings.TrimSpace(text)) {
		r.Likely = likelyMass(strings.TrimSpace(text))
	}
	return r
}

func likelyMass(s string) string {
	for _, unit := range []string{"kg", "lb"} {
		if v, err := measure.ParseMass(s + " " + unit); err == nil && v >= masses.least && v <= masses.most {
			return s + " " + unit
		}
	}
	return ""
}

// noSpeeds are the values of a speed that hold no figure.
var noSpeeds = []string{"none", "signals", "variable", "walk", "no", "unposted", "implicit"}

var (
	zoneSpeed = regexp.MustCompile(`^[A-Za-z]{2}(?:-[A-Za-z]{2,3})?:[a-z_0-9]+$`) // DE:urban
	knots     = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?knots$`)
)

// fastest is beyond any posted speed.
const fastest = 250 * measure.KilometrePerHour

// knot is 1852 m an hour (NIST SP 811, 2008, B.8).
const knot = measure.Speed(1852.0 / 3600)

// ReadSpeed reads a speed limit. A bare number is in km/h.
func ReadSpeed(text string) (r Reading[measure.Speed]) {
	s := strings.TrimSpace(text)
	if s == "" {
		return r
	}
	if slices.Contains(noSpeeds, strings.ToLower(s)) || zoneSpeed.MatchString(s) {
		r.State = network.NoFigure
		return r
	}
	v, err := speed(s)
	if err != nil || v <= 0 || v > fastest {
		r.State = network.Unreadable
		return r
	}
	r.State, r.Value = network.Known, v
	return r
}

func speed(s string) (measure.Speed, error) {
	if m := knots.FindStringSubmatch(s); m != nil {
		r, ok := new(big.Rat).SetString(m[1])
		if !ok {
			return 0, errors.New("no number")
		}
		f, _ := r.Float64()
		return measure.Speed(f) * knot, nil
	}
	if bare.MatchString(s) {
		s += " km/h"
	}
	return measure.ParseSpeed(s)
}
