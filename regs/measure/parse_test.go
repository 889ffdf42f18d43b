package measure

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	for _, tc := range []struct {
		text string
		want Length
	}{
		{`13'6"`, 162 * Inch},
		{`13 ft 6 in`, 162 * Inch},
		{`13'-6 1/2"`, 162*Inch + Inch/2},
		{`13′ 6½″`, 162*Inch + Inch/2},
		{`13 feet 6 inches`, 162 * Inch},
		{"13\u00a0pi 6\u00a01/2 po", 162*Inch + Inch/2},
		{`162 in`, 162 * Inch},
		{`1/64 in`, 396_875},
		{`6 1/2 in`, 6*Inch + Inch/2},
		{`13.5 ft`, 162 * Inch},
		{`8'`, 8 * Foot},
		{`4.15 m`, 4150 * Millimetre},
		{`4,15 m`, 4150 * Millimetre},
		{`4,1 m`, 4100 * Millimetre},
		{`0,415 m`, 415 * Millimetre},
		{`4.150 m`, 4150 * Millimetre},
		{`415cm`, 4150 * Millimetre},
		{`4 150 mm`, 4150 * Millimetre},
		{`2.6 metres`, 2600 * Millimetre},
	} {
		got, err := ParseLength(tc.text)
		if err != nil || got != tc.want {
			t.Errorf("ParseLength(%q) = %d, %v; want %d", tc.text, got, err, tc.want)
		}
	}
}

func TestParseMass(t *testing.T) {
	for _, tc := range []struct {
		text string
		want Mass
	}{
		{`24,000 lb`, 24_000 * Pound},
		{`80 000 lb`, 80_000 * Pound},
		{`1,234,567 lb`, 1_234_567 * Pound},
		{`10.9 t`, 10_900 * Kilogram},
		{`10,9 t`, 10_900 * Kilogram},
		{`10900 kg`, 10_900 * Kilogram},
		{`10,900 kg`, 10_900 * Kilogram},
		{"10\u202f900 kg", 10_900 * Kilogram},
		{`12 short tons`, 24_000 * Pound},
	} {
		got, err := ParseMass(tc.text)
		if err != nil || got != tc.want {
			t.Errorf("ParseMass(%q) = %d, %v; want %d", tc.text, got, err, tc.want)
		}
	}
}

func TestParseSpeed(t *testing.T) {
	for text, want := range map[string]Speed{"62 mph": 62 * MilePerHour, "90 km/h": 25, "25 m/s": 25} {
		got, err := ParseSpeed(text)
		if diff := got - want; err != nil || diff > 1e-12 || diff < -1e-12 {
			t.Errorf("ParseSpeed(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	mass := func(s string) error { _, err := ParseMass(s); return err }
	speed := func(s string) error { _, err := ParseSpeed(s); return err }
	for _, tc := range []struct {
		parse func(string) error
		text  string
		want  []string // parts of the message
	}{
		{length, "", []string{"error.empty"}},
		{length, "4.15", []string{"error.no_unit", "4.15 m"}},
		{length, "13'6", []string{"error.no_readable_inches_after"}},
		{length, "13'12\"", []string{"error.12_inches_or_more"}},
		{length, "6\"4'", []string{"error.not_a(quantity: length)"}},
		{length, "4,150 m", []string{"4.150 m", "4150 m"}},
		{length, "1,234,5 m", []string{"error.not_a(quantity: length)"}},
		{length, "-4 m", []string{"negative"}},
		{length, "0 m", []string{"error.zero"}},
		{length, "0.0000000001 m", []string{"amount.nanometre"}},
		{length, "1/3 in", []string{"finer"}},
		{length, "3/2 in", []string{"error.a_fraction_that_is"}},
		{length, "1/0 in", []string{"error.a_fraction_that_is"}},
		{length, "99999999999999999999 km", []string{"error.absurdly_large"}},
		{length, "4.15 kg", []string{"error.no_unit_of(unit: kg, quantity: length)"}},
		{length, strings.Repeat("9", 100) + " m", []string{"error.too_long"}},
		{length, "vier Meter", []string{"error.not_a(quantity: length)"}},
		{mass, "10,900 t", []string{"10.900 t", "10900 t"}},
		{mass, "24000", []string{"error.no_unit"}},
		{mass, "12 tons", []string{"error.does_not_say_which; fix.write_it_in_t"}},
		{mass, "24,000.5 lb", []string{"finer"}},
		{mass, "1/2 lb", []string{"error.a_fraction_of_something"}},
		{mass, "4 m", []string{"error.no_unit_of(unit: m, quantity: mass)"}},
		{speed, "90", []string{"error.no_unit"}},
		{speed, "0 km/h", []string{"error.zero"}},
	} {
		err := tc.parse(tc.text)
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("%q: got %v, want a ParseError", tc.text, err)
			continue
		}
		for _, part := range tc.want {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%q: %q does not say %q", tc.text, err, part)
			}
		}
		if pe.Fix.None() {
			t.Errorf("%q: no fix", tc.text)
		}
	}
}

// NIST SP 811 (2008), Appendix B.8: factors printed in bold are exact.
func TestFactorsAreNIST(t *testing.T) {
	for _, tc := range []struct {
		customary, metric string
	}{{"1 in", "25.4 mm"}, {"1 ft", "0.3048 m"}, {"8 ft 6 in", "2.5908 m"}, {"13 ft 6 in", "4.1148 m"}} {
		a, errA := ParseLength(tc.customary)
		b, errB := ParseLength(tc.metric)
		if a != b || errA != nil || errB != nil {
			t.Errorf("%s = %d nm, %s = %d nm (%v, %v)", tc.customary, a, tc.metric, b, errA, errB)
		}
	}
	a, errA := ParseMass("1 lb")
	b, errB := ParseMass("0.45359237 kg")
	if a != b || errA != nil || errB != nil {
		t.Errorf("1 lb = %d, 0.45359237 kg = %d (%v, %v)", a, b, errA, errB)
	}
	if got := float64(100 * MilePerHour / KilometrePerHour); got < 160.9343999 || got > 160.9344001 {
		t.Errorf("100 mph = %v km/h", got)
	}
	if USGallon != 231*0.0254*0.0254*0.0254 {
		t.Errorf("US gallon = %v m3", float64(USGallon))
	}
}

// What is printed in either system reads back as the same value whenever it
// is not marked as rounded.
func TestPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(1, 400).Draw(t, "n")) * rapid.SampledFrom([]Length{Inch / 16, Centimetre, Millimetre, Foot}).Draw(t, "unit")
		for _, text := range []string{l.Metric(), l.Customary()} {
			if strings.HasPrefix(text, "≈") {
				continue
			}
			if got, err := ParseLength(text); err != nil || got != l {
				t.Fatalf("%d prints %q reads %d, %v", l, text, got, err)
			}
		}
		m := Mass(rapid.Int64Range(1, 99_999).Draw(t, "m")) * rapid.SampledFrom([]Mass{Pound, Kilogram}).Draw(t, "unit")
		for _, text := range []string{m.Metric(), m.Customary()} {
			if strings.HasPrefix(text, "≈") {
				continue
			}
			if got, err := ParseMass(text); err != nil || got != m {
				t.Fatalf("%d prints %q reads %d, %v", m, text, got, err)
			}
		}
	})
}

func TestString(t *testing.T) {
	for want, got := range map[string]string{
		"4.15 m (≈ 13 ft 7 3/8 in)": (4150 * Millimetre).String(),
		"4.1148 m (13 ft 6 in)":     (162 * Inch).String(),
		"-0.05 m (≈ -1 15/16 in)":   (-50 * Millimetre).String(),
		"10900 kg (≈ 24,030 lb)":    (10_900 * Kilogram).String(),
		"≈ 10886.2 kg (24,000 lb)":  (24_000 * Pound).String(),
		"90 km/h (56 mph)":          Speed(25).String(),
		"196.9 km (122.3 mi)":       Distance(196_900).String(),
		"3.8 L (1.0 US gal)":        USGallon.String(),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`13'6"`, "4,15 m", "4,150 m", "6 1/2 in", "13'-6 1/2\"", "162 in", "½ in", "", "1/0 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s)
		if err == nil && (l <= 0 || l > MaxLength) {
			t.Fatalf("ParseLength(%q) = %d", s, l)
		}
		if err != nil {
			return
		}
		if back, err := ParseLength(strings.TrimPrefix(l.Metric(), "≈ ")); err == nil && back-l > Millimetre/10 {
			t.Fatalf("%q: %d prints %q", s, l, l.Metric())
		}
	})
}

func FuzzParseMass(f *testing.F) {
	for _, s := range []string{"24,000 lb", "10,900 t", "10.9 t", "1,234,567 kg", "12 tons"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if m, err := ParseMass(s); err == nil && (m <= 0 || m > MaxMass) {
			t.Fatalf("ParseMass(%q) = %d", s, m)
		}
	})
}

func ExampleParseLength() {
	l, _ := ParseLength(`13'6"`)
	fmt.Println(l)
	// Output: 4.1148 m (13 ft 6 in)
}
