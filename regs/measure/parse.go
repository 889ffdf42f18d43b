package measure

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"wayhouse/regs/say"
)

// Kind is of what a quantity is one.
type Kind string

// Term is the code of the kind's name.
func (k Kind) Term() say.Code { return say.Word("measured", string(k)) }

// ParseError says why a text is no quantity and how to write it instead.
type ParseError struct {
	Quantity Kind
	Text     string // as given
	Problem  say.Remark
	Fix      say.Remark
	Zero     bool // it reads as zero, which only an allowance may be
}

func (e *ParseError) Error() string {
	return fmt.Sprintf("%s %q: %s; %s", e.Quantity, e.Text, e.Problem, e.Fix)
}

// Remark is all of it in one sentence.
func (e *ParseError) Remark() say.Remark {
	return say.That("error.and_fix", "problem", e.Problem, "fix", e.Fix)
}

// maxText bounds what a parser looks at; the longest sensible text is a third
// of it.
const maxText = 64

// A unit is a factor to the smallest unit of its kind. A comma before three
// digits is read as a thousands mark only where thousands is set.
type unit struct {
	factor    *big.Rat
	thousands bool
}

func whole[T ~int64](n T) *big.Rat { return new(big.Rat).SetInt64(int64(n)) }

// number matches an unsigned decimal with point or comma, optionally grouped
// by threes.
const number = `(\d{1,3}(?:[ ,]\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?)`

var (
	simple    = regexp.MustCompile(`^` + number + `\s*([a-z'"/²³° ]*(?:[a-z][23])?)$`)
	fraction  = regexp.MustCompile(`^(?:(\d+)[ -]+)?(\d+)/(\d+)\s*([a-z"]*)$`)
	feetParts = regexp.MustCompile(`^(\d+)\s*('|ft|feet|foot|pi)[\s-]*(.+)$`)
)

var signs = strings.NewReplacer(
	"′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`,
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "½", " 1/2", "¼", " 1/4", "¾", " 3/4",
)

// parser reads texts of one kind of quantity.
type parser struct {
	quantity Kind
	units    map[string]unit
	example  string
	finest   say.Remark // what one smallest unit is called
	max      *big.Rat
}

func (p parser) fail(text string, problem, fix say.Remark) error {
	return &ParseError{Quantity: p.quantity, Text: text, Problem: problem, Fix: fix}
}

// clean folds signs and case; it refuses what no quantity starts with.
func (p parser) clean(text string) (string, error) {
	switch s := strings.ToLower(strings.TrimSpace(signs.Replace(text))); {
	case len(text) > maxText:
		return "", p.fail(
			strings.ToValidUTF8(text[:maxText], "")+"...",
			say.That("error.too_long"),
			say.That("fix.like", "text", p.example),
		)
	case s == "":
		return "", p.fail(text, say.That("error.empty"), say.That("fix.like", "text", p.example))
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "−"):
		return "", p.fail(text, say.That("error.negative"), say.That("fix.give_a_value_above_zero"))
	default:
		return s, nil
	}
}

// decimal reads the digits of a number under the comma rule of its unit.
func (p parser) decimal(text, digits, name string, u unit) (*big.Rat, error) {
	digits = strings.ReplaceAll(digits, " ", "")
	groups := strings.Count(digits, ",")
	if groups > 0 {
		after := digits[strings.LastIndex(digits, ",")+1:]
		grouped := groups > 1 || strings.Contains(after, ".") || len(after) == 3
		leadingZero := strings.HasPrefix(digits, "0,")
		switch {
		case grouped && u.thousands && !leadingZero && strings.Index(digits, ",") <= 3:
			digits = strings.ReplaceAll(digits, ",", "")
		case !grouped, leadingZero && groups == 1 && !strings.Contains(after, ".") && !u.thousands:
			digits = strings.Replace(digits, ",", ".", 1)
		default:
			point := strings.Replace(strings.ReplaceAll(digits, ".", ""), ",", ".", 1)
			point = strings.ReplaceAll(point, ",", "")
			bare := strings.ReplaceAll(digits, ",", "")
			return nil, p.fail(text,
				say.That("error.two_ways", "one", point+" "+name, "other", bare+" "+name),
				say.That("fix.write_a_point_for"))
		}
	}
	r, ok := new(big.Rat).SetString(digits)
	if !ok {
		return nil, p.fail(text, say.That("error.no_readable_number"), say.That("fix.like", "text", p.example))
	}
	return r, nil
}

// simple reads one number with one unit, or a bare fraction with one.
func (p parser) simple(text, s string) (*big.Rat, error) {
	if m := fraction.FindStringSubmatch(s); m != nil {
		return p.fraction(text, m)
	}
	m := simple.FindStringSubmatch(s)
	if m == nil {
		return nil, p.fail(text, say.That("error.not_a", "quantity", p.quantity), say.That("fix.like", "text", p.example))
	}
	name := strings.TrimSpace(m[2])
	if name == "" {
		return nil, p.fail(text, say.That("error.no_unit"), say.That("fix.add_unit", "text", p.example))
	}
	u, ok := p.units[name]
	if !ok {
		return nil, p.fail(text, say.That("error.no_unit_of", "unit", name, "quantity", p.quantity),
			say.That("fix.like", "text", p.example))
	}
	r, err := p.decimal(text, m[1], name, u)
	if err != nil {
		return nil, err
	}
	return r.Mul(r, u.factor), nil
}

// fraction reads "6 1/2 in" and "1/2 in". Only inches are written so.
func (p parser) fraction(text string, m []string) (*big.Rat, error) {
	if _, isInch := inches[m[4]]; !isInch || p.quantity != "length" {
		return nil, p.fail(text, say.That("error.a_fraction_of_something"), say.That("fix.decimals", "text", p.example))
	}
	part, ok := new(big.Rat).SetString(m[2] + "/" + m[3])
	if !ok || part.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, p.fail(text, say.That("error.a_fraction_that_is"), say.That("fix.like", "text", p.example))
	}
	if m[1] != "" {
		n, _ := new(big.Rat).SetString(m[1])
		part.Add(part, n)
	}
	return part.Mul(part, whole(Inch)), nil
}

// finish checks that a value is whole in the smallest unit and in range.
func (p parser) finish(text string, r *big.Rat) (int64, error) {
	switch {
	case r.Sign() == 0:
		return 0, &ParseError{Quantity: p.quantity, Text: text, Zero: true, Problem: say.That("error.zero"),
			Fix: say.That("fix.give_a_value_above")}
	case r.Cmp(p.max) > 0:
		return 0, p.fail(text, say.That("error.absurdly_large"), say.That("fix.check_the_unit"))
	case !r.IsInt():
		return 0, p.fail(text, say.That("error.finer", "finest", p.finest), say.That("fix.round"))
	}
	return r.Num().Int64(), nil
}

var inches = map[string]unit{
	"in": {factor: whole(Inch)}, "inch": {factor: whole(Inch)},
	"inches": {factor: whole(Inch)}, `"`: {factor: whole(Inch)}, "po": {factor: whole(Inch)},
}

func lengths() parser {
	units := map[string]unit{
		"mm": {factor: whole(Millimetre)}, "cm": {factor: whole(Centimetre)}, "m": {factor: whole(Metre)},
		"metre": {factor: whole(Metre)}, "metres": {factor: whole(Metre)}, "meter": {factor: whole(Metre)},
		"meters": {factor: whole(Metre)}, "km": {factor: whole(Kilometre)}, "ft": {factor: whole(Foot)},
		"foot": {factor: whole(Foot)}, "feet": {factor: whole(Foot)}, "'": {factor: whole(Foot)},
		"pi": {factor: whole(Foot)},
	}
	for name, u := range inches {
		units[name] = u
	}
	return parser{
		quantity: "length", units: units, example: `4.15 m, 13'6", 162 in`, finest: say.That("amount.nanometre"),
		max: whole(MaxLength),
	}
}

func masses() parser {
	units := map[string]unit{
		"t": {factor: whole(Tonne)}, "tonne": {factor: whole(Tonne)}, "tonnes": {factor: whole(Tonne)},
		"short ton": {factor: whole(ShortTon)}, "short tons": {factor: whole(ShortTon)},
	}
	for _, name := range []string{"kg", "kgs", "kilogram", "kilograms"} {
		units[name] = unit{factor: whole(Kilogram), thousands: true}
	}
	for _, name := range []string{"lb", "lbs", "pound", "pounds"} {
		units[name] = unit{factor: whole(Pound), thousands: true}
	}
	return parser{
		quantity: "mass", units: units, example: "10900 kg, 10.9 t, 24,000 lb", finest: say.That("amount.ten_micrograms"),
		max: whole(MaxMass),
	}
}

// ParseLength reads 13'6", 13 ft 6 in, 13'-6 1/2", 162 in, 4.15 m, 4,15 m and
// the like. A bare number, a zero, a negative, a text that can be read in two
// ways (4,150 m) and anything finer than a nanometre are a [*ParseError].
func ParseLength(text string) (Length, error) {
	p := lengths()
	s, err := p.clean(text)
	if err != nil {
		return 0, err
	}
	r, err := p.length(text, s)
	if err != nil {
		return 0, err
	}
	n, err := p.finish(text, r)
	return Length(n), err
}

func (p parser) length(text, s string) (*big.Rat, error) {
	m := feetParts.FindStringSubmatch(s)
	if m == nil {
		return p.simple(text, s)
	}
	feet, _ := new(big.Rat).SetString(m[1])
	rest, err := p.inchPart(text, m[3])
	if err != nil {
		return nil, err
	}
	return rest.Add(rest, feet.Mul(feet, whole(Foot))), nil
}

// inchPart reads what follows the feet: inches below 12, with their unit.
func (p parser) inchPart(text, s string) (*big.Rat, error) {
	in := parser{quantity: p.quantity, units: inches, example: p.example}
	r, err := in.simple(text, s)
	if err != nil {
		return nil, p.fail(text, say.That("error.no_readable_inches_after"), say.That("fix.write_it_like_136"))
	}
	if r.Cmp(whole(Foot)) >= 0 {
		return nil, p.fail(text, say.That("error.12_inches_or_more"), say.That("fix.carry_them_into_the"))
	}
	return r, nil
}

// ParseMass reads 24,000 lb, 10900 kg, 10.9 t, 12 short tons and the like. A
// bare "ton" is refused because three are in use; so is what [ParseLength]
// refuses in its own kind.
func ParseMass(text string) (Mass, error) {
	p := masses()
	s, err := p.clean(text)
	if err != nil {
		return 0, err
	}
	if strings.HasSuffix(s, "ton") || strings.HasSuffix(s, "tons") {
		if !strings.Contains(s, "short") {
			return 0, p.fail(text, say.That("error.does_not_say_which"),
				say.That("fix.write_it_in_t"))
		}
	}
	r, err := p.simple(text, s)
	if err != nil {
		return 0, err
	}
	n, err := p.finish(text, r)
	return Mass(n), err
}
