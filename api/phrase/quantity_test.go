package phrase

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

const m, kg = measure.Metre, measure.Kilogram

// One figure prints one way: sizes on their grid, exact ones bare, others marked.
func TestQuantity(t *testing.T) {
	for _, tc := range []struct {
		of         any
		metric, us string
	}{
		{162 * measure.Inch, "≈ 4.115 m", "13 ft 6 in"},
		{415 * measure.Centimetre, "4.15 m", "≈ 13 ft 7 3/8 in"},
		{4_114_000 * measure.Nanometre * 1000, "≈ 4.115 m", "≈ 13 ft 6 in"},
		{23 * m, "23 m", "≈ 75 ft 5 1/2 in"},
		{-36 * measure.Millimetre, "-0.036 m", "≈ -1 7/16 in"},
		{measure.Millimetre / 5, "0.0002 m", "≈ 0 in"},
		{measure.Length(0), "0 m", "0 in"},
		{3 * measure.Inch / 4, "≈ 0.0191 m", "3/4 in"},
		{10_900 * kg, "10,900 kg", "≈ 24,030 lb"},
		{80_000 * measure.Pound, "≈ 36,285 kg", "80,000 lb"},
		{63_500 * kg, "63,500 kg", "≈ 139,990 lb"},
		{3 * kg, "3 kg", "≈ 7 lb"},
		{measure.Mass(0), "0 kg", "0 lb"},
		{90 * measure.KilometrePerHour, "90 km/h", "56 mph"},
		{measure.Distance(196_900), "196.9 km", "122.3 mi"},
		{measure.Distance(1_234_567), "1,234.6 km", "767.1 mi"},
		{measure.Distance(450), "450 m", "0.28 mi"},
		{measure.Distance(-5.26), "-5.26 m", "-17 ft"},
		{measure.Distance(2.5), "2.50 m", "8.2 ft"},
		{measure.Distance(0), "0 m", "0 ft"},
		{measure.Rise(1500), "1,500 m", "4,921 ft"},
		{52.3 * measure.Litre, "52.3 L", "13.8 US gal"},
		{measure.Power(276_000), "276 kW", "370 hp"},
		{measure.Force(22_200), "22.2 kN", "4,991 lbf"},
		{550 * measure.Kilopascal, "550 kPa", "80 psi"},
		{measure.Area(12.5), "12.5 m2", "135 sq ft"},
		{25 * measure.LitrePer100Kilometres, "25.0 L/100 km", "9.4 mpg US"}, // 235.2146 / 25
		{finding.Of(4 * m).Least(), "at least 4 m", "at least ≈ 13 ft 1 3/8 in"},
		{finding.Quantity{}, "", ""},
	} {
		if got := In(language.English, measure.Metric).Quantity(tc.of); got != tc.metric {
			t.Errorf("%#v: %q, want %q", tc.of, got, tc.metric)
		}
		if got := In(language.English, measure.Customary).Quantity(tc.of); got != tc.us {
			t.Errorf("%#v: %q, want %q", tc.of, got, tc.us)
		}
	}
	l := English()
	if got := l.Quantity(415 * measure.Centimetre); got != "4.15 m (≈ 13 ft 7 3/8 in)" {
		t.Errorf("both: %q", got)
	}
	if down, up := l.Down(166*measure.Centimetre+measure.Nanometre), l.Up(-99*measure.Millimetre); down != "≈ 1.66 m (≈ 5 ft 5 1/4 in)" || up != "-0.099 m (≈ -3 7/8 in)" {
		t.Errorf("down %q, up %q", down, up)
	}
	if one, two := l.Alone(4*m), In(language.English, measure.Customary).Alone(3*measure.Foot); one != "4 m" || two != "3 ft 0 in" {
		t.Errorf("alone: %q, %q", one, two)
	}
}

// The marks of numbers are those of the language. CLDR 42, French: a comma before the
// decimals, U+202F between thousands, two digits of which stand with the others.
func TestNumbersInFrench(t *testing.T) {
	fr := French()
	for _, tc := range []struct{ got, want string }{
		{fr.Quantity(10_900 * kg), "10\u202f900 kg (≈ 24\u202f030 lb)"},
		{fr.Quantity(-415 * measure.Centimetre), "-4,15 m (≈ -13 pi 7 3/8 po)"},
		{fr.number(1_234_567.25, 1), "1\u202f234\u202f567,2"},
		{fr.signed(7.25, 2), "+7,25"},
		{English().number(-0.04, 1), "0.0"},
	} {
		if tc.got != tc.want {
			t.Errorf("%+q, want %+q", tc.got, tc.want)
		}
	}
}

// Every language has a symbol for every unit.
func TestEveryUnitHasASymbol(t *testing.T) {
	for _, tag := range Languages() {
		l := In(tag, measure.Both)
		for _, name := range []string{
			"metre", "kilometre", "foot", "inch", "mile", "kilogram", "pound", "kilometre_per_hour", "mile_per_hour", "litre", "litre_per_100_kilometres", "mile_per_us_gallon",
			"us_gallon", "square_metre", "square_foot", "kilowatt", "horsepower", "kilonewton", "pound_force", "kilopascal", "pound_per_square_inch",
		} {
			if l.unit(name) == "" {
				t.Errorf("%s: no symbol of a %s", tag, name)
			}
		}
		if len(l.symbols) != 21 {
			t.Errorf("%s: %d symbols", tag, len(l.symbols))
		}
	}
}

// readLength reads what was printed, and whether it is marked as rounded.
func readLength(t *rapid.T, text string) (measure.Length, bool) {
	text, rounded := strings.CutPrefix(text, "≈ ")
	if text == "0 m" || text == "0 in" {
		return 0, rounded
	}
	feet, inches, both := strings.Cut(text, " ft ")
	if both && inches == "0 in" {
		text = feet + " ft"
	}
	v, err := measure.ParseOffset(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return v, rounded
}

// readMass is readLength of a mass.
func readMass(t *rapid.T, text string) (measure.Mass, bool) {
	text, rounded := strings.CutPrefix(text, "≈ ")
	text, negative := strings.CutPrefix(text, "-")
	if text == "0 kg" || text == "0 lb" {
		return 0, rounded
	}
	v, err := measure.ParseMass(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if negative {
		v = -v
	}
	return v, rounded
}

// What is printed reads back within half a step, on its safe side where it has one, and
// bare only where it is the value itself.
func TestPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, length, weight := In(language.English, measure.Metric), 5*measure.Millimetre, 5*kg
		if rapid.Bool().Draw(t, "customary") {
			l, length, weight = In(language.English, measure.Customary), measure.Inch/8, 10*measure.Pound
		}
		v := measure.Length(rapid.Int64Range(-int64(60*m), int64(60*m)).Draw(t, "length"))
		if rapid.Bool().Draw(t, "on a grid") {
			v -= v % rapid.SampledFrom([]measure.Length{measure.Centimetre, measure.Inch / 8}).Draw(t, "grid")
		}
		holds(t, v, length, l, func(s string) (measure.Length, bool) { return readLength(t, s) })
		mass := measure.Mass(rapid.Int64Range(-int64(80_000*kg), int64(80_000*kg)).Draw(t, "mass"))
		if rapid.Bool().Draw(t, "on a grid of masses") {
			mass -= mass % (10 * rapid.SampledFrom([]measure.Mass{kg, measure.Pound}).Draw(t, "grid of masses"))
		}
		holds(t, mass, weight, l, func(s string) (measure.Mass, bool) { return readMass(t, s) })
	})
}

func holds[T ~int64](t *rapid.T, v, step T, l *Language, read func(string) (T, bool)) {
	near, rounded := read(l.Quantity(v))
	if math.Abs(float64(near-v)) > float64(step)/2 || rounded != (near != v) {
		t.Fatalf("%d prints as %s", v, l.Quantity(v))
	}
	if down, rounded := read(l.Down(v)); down > v || v-down >= step || rounded != (down != v) {
		t.Fatalf("%d prints as %s or more", v, l.Down(v))
	}
	if up, rounded := read(l.Up(v)); up < v || up-v >= step || rounded != (up != v) {
		t.Fatalf("%d prints as %s or less", v, l.Up(v))
	}
}

// What is printed in French in customary units reads back too: 13 pi 6 1/2 po.
func TestFrenchReadsBack(t *testing.T) {
	l := In(language.French, measure.Customary)
	rapid.Check(t, func(t *rapid.T) {
		v := measure.Inch / 8 * measure.Length(rapid.Int64Range(80, 6000).Draw(t, "eighths"))
		if got, err := measure.ParseLength(l.Quantity(v)); err != nil || got != v {
			t.Fatalf("%s: %v, %v", l.Quantity(v), got, err)
		}
		mass := 10 * measure.Pound * measure.Mass(rapid.Int64Range(30, 20_000).Draw(t, "tens of pounds"))
		if got, err := measure.ParseMass(l.Quantity(mass)); err != nil || got != mass {
			t.Fatalf("%s: %v, %v", l.Quantity(mass), got, err)
		}
	})
}

// A greater size never prints as less.
func TestPrintedKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := In(language.English, rapid.SampledFrom([]measure.System{measure.Metric, measure.Customary}).Draw(t, "system"))
		a := measure.Length(rapid.Int64Range(0, int64(m)).Draw(t, "a"))
		b := a + measure.Length(rapid.Int64Range(0, int64(2*measure.Centimetre)).Draw(t, "more"))
		for _, print := range []func(any) string{l.Quantity, l.Down, l.Up} {
			less, _ := readLength(t, print(a))
			more, _ := readLength(t, print(b))
			if less > more {
				t.Fatalf("%d is %s and %d is %s", a, print(a), b, print(b))
			}
		}
	})
}

// One language prints for many at a time.
func TestManyPrintAtOnce(t *testing.T) {
	l := In(language.English, measure.Both)
	r := say.That("limit.less", "by", finding.Of(12_345*kg), "how", "lighter")
	want := l.Say(r)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 50 {
				if got := l.Say(r); got != want {
					t.Errorf("%q, want %q", got, want)
				}
			}
		})
	}
	wait.Wait()
}

// What there is room for and what is left are never told as more, what is missing never
// as less.
func TestSentencesRoundToTheSafeSide(t *testing.T) {
	l := English()
	size := finding.Of(2*m + 4*measure.Millimetre)
	length := 2*m + 4*measure.Millimetre
	for want, r := range map[string]say.Remark{
		"≈ 2 m (≈ 6 ft 6 7/8 in), CA-ON": say.That("screen.check.stated_in", "value", size, "under", false, "where", "CA-ON", "silent", 0),
		"≈ 2.005 m (≈ 6 ft 7 in) lower":  say.That("limit.less", "by", size, "how", limit.Height.Less()),
		"13 ft 6 in posted":              say.That("figure.of", "figure", 162*measure.Inch, "of", clearance.Posted),
		"2.004 m posted":                 say.That("figure.of", "figure", length, "of", clearance.Posted),
		"posted ≈ 2 m":                   say.That("passage.room", "of", clearance.Posted, "length", length),
		"height is limited to ≈ 2 m (≈ 6 ft 6 7/8 in), which the rig exceeds": say.That("posted.exceeded", "quantity",
			limit.Height, "posted", size),
		"≈ 2 m (≈ 6 ft 6 7/8 in)": say.That("rig.rating", "rating", length),
		"too low: ≈ 2.005 m short under the posted ≈ 2 m": say.That("structure.too_low", "short", length, "of",
			clearance.Posted, "figure", length),
		"2.2 m - rig = ≈ -2.005 m": say.That("passage.sum", "parts", say.Each([]string{"2.2 m", "rig"}), "margin", -length),
		"≈ 2,000 kg to ≈ 2,005 kg, likely ≈ 2,000 kg (≈ 4,410 lb to ≈ 4,420 lb, likely ≈ 4,410 lb)": say.That(
			"rig.mass_between", "low", 2001*kg, "high", 2001*kg+kg/2, "likely", 2001*kg),
	} {
		if got := l.Say(r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What a value is called says to which side it is rounded, in every sentence of every
// language that prints it.
func TestNamesOfValuesAreRounded(t *testing.T) {
	none := []string{"report.grades"} // a speed
	plain := regexp.MustCompile(`\{\{(?:alone )?\.(margin|left|spare|clears|most|rating|posted|allows|proven|short|over|needs)\}\}|` +
		`\{\{with \.(?:margin|left|spare|most|rating|short|over|needs|proven)\}\}[^{]*\{\{(?:alone )?\.\}\}`)
	side := regexp.MustCompile(`\{\{(down|up) (?:\(alone )?\.(\w+)`)
	for _, tag := range Languages() {
		for code, n := range sentences(In(tag, measure.Both)) {
			if found := plain.FindString(n.String()); found != "" && !slices.Contains(none, code) {
				t.Errorf("%s: %s prints %s to the nearest step", tag, code, found)
			}
			for _, m := range side.FindAllStringSubmatch(n.String(), -1) {
				if less := slices.Contains([]string{"short", "over", "needs", "by", "high", "swept"}, m[2]); less != (m[1] == "up") {
					t.Errorf("%s: %s rounds .%s %s", tag, code, m[2], m[1])
				}
			}
		}
	}
}
