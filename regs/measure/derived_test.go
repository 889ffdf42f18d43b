package measure

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Factors: NIST SP 811 (2008), Appendix B.8 (horsepower of 550 ft lbf/s, pound-
// force, US gallon, square foot), from memory but for the gallon and the foot.
func TestParseDerived(t *testing.T) {
	power := func(s string) (float64, error) { v, err := ParsePower(s); return float64(v), err }
	volume := func(s string) (float64, error) { v, err := ParseVolume(s); return float64(v), err }
	area := func(s string) (float64, error) { v, err := ParseArea(s); return float64(v), err }
	distance := func(s string) (float64, error) { v, err := ParseDistance(s); return float64(v), err }
	pressure := func(s string) (float64, error) { v, err := ParsePressure(s); return float64(v), err }
	force := func(s string) (float64, error) { v, err := ParseForce(s); return float64(v), err }
	for _, tc := range []struct {
		parse func(string) (float64, error)
		text  string
		want  float64
		bad   string
	}{
		{power, "276 kW", 276e3, ""},
		{power, "370 hp", 370 * 745.69987158227022, ""},
		{power, "370", 0, "error.no_unit"},
		{power, "370 PS", 0, "error.no_unit_of(unit: ps"},
		{power, "0 kW", 0, "error.zero"},
		{pressure, "550 kPa", 550e3, ""},
		{pressure, "80 psi", 80 * 4.4482216152605 / (0.0254 * 0.0254), ""},
		{pressure, "5.5 bar", 550e3, ""},
		{pressure, "80", 0, "error.no_unit"},
		{volume, "120 L", 0.12, ""},
		{volume, "1,5 L", 0.0015, ""},
		{volume, "0.5 m3", 0.5, ""},
		{volume, "32 US gal", 32 * 3.785411784e-3, ""},
		{volume, "32 gal US", 32 * 3.785411784e-3, ""},
		{volume, "32 gal", 0, "error.does_not_say_which_gallon"},
		{volume, "-1 L", 0, "error.negative"},
		{area, "12.5 m2", 12.5, ""},
		{area, "12.5 m²", 12.5, ""},
		{area, "100 sq ft", 9.290304, ""},
		{area, "100 ft2", 9.290304, ""},
		{area, "100 pi2", 9.290304, ""},
		{area, "12 m", 0, "error.no_unit_of(unit: m, quantity: area)"},
		{distance, "450 km", 450_000, ""},
		{distance, "1,280 mi", 1280 * 1609.344, ""},
		{distance, "450", 0, "error.no_unit"},
		{distance, "450 m", 0, "error.no_unit_of(unit: m, quantity: distance)"},
		{force, "22.2 kN", 22_200, ""},
		{force, "5,000 lbf", 5000 * 4.4482216152605, ""},
		{force, "5000 kg", 0, "error.no_unit_of(unit: kg, quantity: force)"},
	} {
		got, err := tc.parse(tc.text)
		var bad *ParseError
		switch {
		case tc.bad == "" && (err != nil || math.Abs(got/tc.want-1) > 1e-15):
			t.Errorf("%q: %v, %v; want %v", tc.text, got, err, tc.want)
		case tc.bad != "" && (!errors.As(err, &bad) || !strings.Contains(bad.Problem.String(), tc.bad) || bad.Fix.None()):
			t.Errorf("%q: %v, %v; want %q", tc.text, got, err, tc.bad)
		}
	}
}

// One value in two units is one number.
func TestDerivedUnitsAgree(t *testing.T) {
	metric, _ := ParseArea("9.290304 m2")
	customary, _ := ParseArea("100 ft2")
	litres, _ := ParseVolume("3.785411784 L")
	gallon, _ := ParseVolume("1 US gal")
	if metric != customary || litres != gallon {
		t.Errorf("%v and %v, %v and %v", metric, customary, litres, gallon)
	}
}

func TestParseOffset(t *testing.T) {
	for text, want := range map[string]Length{"0 m": 0, "-0 m": 0, "-1.2 m": -1200 * Millimetre, "1.2 m": 1200 * Millimetre, `−6 in`: -6 * Inch, ` -1'6" `: -18 * Inch} {
		if got, err := ParseOffset(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "-", "--1 m", "1.2", "-1.2"} {
		if got, err := ParseOffset(text); err == nil {
			t.Errorf("%q reads as %v", text, got)
		}
	}
}

func FuzzParseDerived(f *testing.F) {
	for _, s := range []string{"12.5 m2", "370 hp", "32 US gal", "-1'6\"", "1e5 L", "5,000 lbf"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, parse := range []func() (float64, error){
			func() (float64, error) { v, err := ParsePower(s); return float64(v), err },
			func() (float64, error) { v, err := ParseVolume(s); return float64(v), err },
			func() (float64, error) { v, err := ParseArea(s); return float64(v), err },
			func() (float64, error) { v, err := ParsePressure(s); return float64(v), err },
			func() (float64, error) { v, err := ParseForce(s); return float64(v), err },
		} {
			if v, err := parse(); err == nil && !(v > 0) {
				t.Errorf("%q reads as %v", s, v)
			}
		}
		if l, err := ParseOffset(s); err == nil && (l > MaxLength || l < -MaxLength) {
			t.Errorf("%q reads as %v", s, l)
		}
	})
}
