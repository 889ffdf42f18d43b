package limit

import (
	"regexp"
	"slices"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// agree refuses a row whose threshold is none of the figures that it has as
// published: one of the two is a slip, and the threshold is what binds. Words
// without a figure disagree with nothing, and formulas are not compared.
func agree(c *rows.Cells) {
	q := Quantity(c.Get("quantity"))
	published, threshold := c.Get("published"), c.Get("threshold")
	want, ok := comparable(q, threshold)
	if !ok {
		return
	}
	figures := printed(published, q.IsMass())
	if len(figures) == 0 || slices.Contains(figures, want) {
		return
	}
	c.Fail("threshold", say.That("error.not_published", "published", published),
		say.That("fix.make_the_two_agree"))
}

// comparable is the amount of a threshold, of loads on tire width that of the mass.
func comparable(q Quantity, text string) (Amount, bool) {
	switch q {
	case BridgeFormula:
		return 0, false
	case TireLoadPerWidth:
		w, err := parsePerWidth(text)
		return Amount(w.Mass), err == nil
	default:
		a, err := q.Parse(text)
		return a, err == nil
	}
}

// figureForm is a number with or without a unit, as sources print it: "4.15
// metres", "12,5 m", "63 500 kg", "13'6"", "39,500".
var figureForm = regexp.MustCompile(`(?i)(\d{1,3}(?:[ ,\x{a0}\x{202f}]\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?)[\s\x{a0}-]*` +
	`(metres?|meters?|feet|foot|inches|inch|centimetres?|centimeters?|millimetres?|millimeters?|` +
	`kilograms?|kilogrammes?|pounds?|tonnes?|lbs|lb|cm|mm|kg|ft|in|m|t|['’′]|["”″])?(?:\b|$|[\s.;,)(])?`)

// plainUnits are the units of [measure] by the words of sources.
var plainUnits = map[string]string{
	"metre": "m", "meter": "m", "m": "m", "feet": "ft", "foot": "ft", "ft": "ft", "'": "ft", "’": "ft", "′": "ft",
	"inche": "in", "inch": "in", "in": "in", `"`: "in", "”": "in", "″": "in",
	"centimetre": "cm", "centimeter": "cm", "cm": "cm", "millimetre": "mm", "millimeter": "mm", "mm": "mm",
	"kilogram": "kg", "kilogramme": "kg", "kg": "kg", "pound": "lb", "lb": "lb", "tonne": "t", "t": "t",
}

// printed lists the amounts that a published text may state: each figure, feet with
// the inches after them, the sum of all ("6 in above 13 ft 6 in"), and a number
// without a unit in every unit that it may be in.
func printed(text string, mass bool) []Amount {
	var out []Amount
	var sum, feet Amount
	for _, m := range figureForm.FindAllStringSubmatch(quarters.Replace(text), -1) {
		number, unit := plainNumber(m[1]), plainUnits[strings.TrimSuffix(strings.ToLower(m[2]), "s")]
		units := []string{unit}
		if unit == "" {
			units = unitsOf(mass)
		}
		for _, u := range units {
			a, ok := amountOf(number+" "+u, mass)
			if !ok {
				continue
			}
			out = append(out, a)
			if unit == "in" && feet > 0 {
				out = append(out, feet+a)
			}
			if unit != "" {
				sum += a
			}
			feet = 0
			if unit == "ft" {
				feet = a
			}
		}
	}
	if sum > 0 {
		out = append(out, sum)
	}
	return out
}

// quarters writes the fractions that statutes print as decimals.
var quarters = strings.NewReplacer(" 1/4", ".25", " 1/2", ".5", " 3/4", ".75", "½", ".5", "¼", ".25", "¾", ".75")

func unitsOf(mass bool) []string {
	if mass {
		return []string{"kg", "lb", "t"}
	}
	return []string{"m", "ft", "in", "cm", "mm"}
}

// plainNumber writes a number with a point: a comma or a blank before three digits
// parts thousands, another comma is a decimal one.
func plainNumber(text string) string {
	if grouped.MatchString(text) {
		return strings.NewReplacer(",", "", " ", "", "\u00a0", "", "\u202f", "").Replace(text)
	}
	return strings.ReplaceAll(text, ",", ".")
}

var grouped = regexp.MustCompile(`^\d{1,3}([ ,\x{a0}\x{202f}]\d{3})+(\.\d+)?$`)

func amountOf(text string, mass bool) (Amount, bool) {
	if mass {
		m, err := measure.ParseMass(text)
		return Amount(m), err == nil
	}
	l, err := measure.ParseLength(text)
	return Amount(l), err == nil
}
