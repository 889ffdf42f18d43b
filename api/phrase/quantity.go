package phrase

import (
	"fmt"
	"math"
	"strings"

	"github.com/cockroachdb/apd/v3"
	"golang.org/x/text/number"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/say"
)

// A figure is a quantity as a template sees it: it prints to the nearest step, and
// the functions of templates round it to a safe side.
type figure struct {
	in *Language
	of any
}

func (f figure) String() string { return f.in.print(f.of, measure.Nearest) }

// down and up round to a safe side; what is no quantity prints as it is.
func down(v any) string { return toward(v, measure.Down) }

func up(v any) string { return toward(v, measure.Up) }

func toward(v any, how measure.Rounding) string {
	if f, ok := v.(figure); ok {
		return f.in.print(f.of, how)
	}
	return fmt.Sprint(v)
}

// alone prints in one system: the metric one unless the language has customary units
// alone.
func (f figure) alone() figure { return figure{f.in.in(measure.Metric), f.of} }

// beside prints in the system that alone leaves out, where the language has both.
func (f figure) beside() figure { return figure{f.in.in(measure.Customary), f.of} }

// in is the language with one system where it has both.
func (l *Language) in(one measure.System) *Language {
	if l.units != measure.Both {
		return l
	}
	return In(l.tag, one)
}

// EachSystem is the language with one system at a time, for tables, which have no room
// for both in a cell.
func (l *Language) EachSystem() []*Language {
	if l.units != measure.Both {
		return []*Language{l}
	}
	return []*Language{l.in(measure.Metric), l.in(measure.Customary)}
}

// Shown is what prints a quantity as the language does; anything else is left as it is.
func (l *Language) Shown(v any) any {
	switch v.(type) {
	case finding.Quantity, measure.Length, measure.Mass, measure.Distance, measure.Rise, measure.Speed, measure.Volume,
		measure.Power, measure.Force, measure.Pressure, measure.Area, measure.Consumption, money.Money, *apd.Decimal:
		return figure{l, v}
	default:
		return v
	}
}

// Quantity writes a quantity in the units of the language: sizes to the nearest 5 mm or
// 1/8 in, masses to 5 kg or 10 lb, small ones finer. A "≈" marks what had to be
// rounded. "" is for what is not known.
func (l *Language) Quantity(q any) string { return l.print(q, measure.Nearest) }

// Down writes a quantity rounded down: a margin is never shown greater than it is, a
// shortfall never smaller.
func (l *Language) Down(q any) string { return l.print(q, measure.Down) }

// Up writes a quantity rounded up.
func (l *Language) Up(q any) string { return l.print(q, measure.Up) }

// stated writes a size as its source must have printed it: in the system in which it is
// round, without rounding.
func stated(v any) string {
	f, ok := v.(figure)
	l, length := f.of.(measure.Length)
	switch {
	case !ok || !length:
		return fmt.Sprint(v)
	case l%measure.Millimetre != 0 && l%(measure.Inch/16) == 0:
		return f.in.feet(l, measure.Inch/16, measure.Nearest)
	default:
		return f.in.metres(l, measure.Millimetre/10, measure.Nearest)
	}
}

// Alone writes a quantity in the first system of [Language.EachSystem].
func (l *Language) Alone(q any) string { return l.EachSystem()[0].Quantity(q) }

// print writes a quantity; anything else prints as it is.
func (l *Language) print(q any, how measure.Rounding) string {
	switch q := q.(type) {
	case finding.Quantity:
		return l.ofFinding(q, how)
	case measure.Length:
		metric, customary := 5*measure.Millimetre, measure.Inch/8
		if small(q, fineLength) {
			metric, customary = measure.Millimetre/10, measure.Inch/16
		}
		return l.system(l.metres(q, metric, how), l.feet(q, customary, how))
	case measure.Mass:
		metric, customary := 5*measure.Kilogram, 10*measure.Pound
		if small(q, fineMass) {
			metric, customary = measure.Kilogram/10, measure.Pound
		}
		return l.system(l.kilograms(q, metric, how), l.pounds(q, customary, how))
	case money.Money:
		return l.Money(q)
	case *apd.Decimal:
		return l.Decimal(q)
	case measure.Distance:
		return l.system(l.kilometres(q), l.miles(q))
	case measure.Rise:
		return l.system(l.number(float64(q), 0)+" "+l.unit("metre"),
			l.number(float64(q)/float64(foot), 0)+" "+l.unit("foot"))
	case measure.Speed:
		return l.system(l.number(float64(q/measure.KilometrePerHour), 0)+" "+l.unit("kilometre_per_hour"),
			l.number(float64(q/measure.MilePerHour), 0)+" "+l.unit("mile_per_hour"))
	case measure.Volume:
		return l.system(l.number(float64(q/measure.Litre), 1)+" "+l.unit("litre"),
			l.number(float64(q/measure.USGallon), 1)+" "+l.unit("us_gallon"))
	case measure.Power:
		return l.system(l.number(float64(q)/1000, 0)+" "+l.unit("kilowatt"),
			l.number(float64(q/measure.Horsepower), 0)+" "+l.unit("horsepower"))
	case measure.Force:
		return l.system(l.number(float64(q)/1000, 1)+" "+l.unit("kilonewton"),
			l.number(float64(q/measure.PoundForce), 0)+" "+l.unit("pound_force"))
	case measure.Pressure:
		return l.system(l.number(float64(q/measure.Kilopascal), 0)+" "+l.unit("kilopascal"),
			l.number(float64(q/measure.PSI), 0)+" "+l.unit("pound_per_square_inch"))
	case measure.Area:
		return l.system(l.number(float64(q), 1)+" "+l.unit("square_metre"),
			l.number(float64(q/measure.SquareFoot), 0)+" "+l.unit("square_foot"))
	case measure.Consumption:
		return l.system(l.number(float64(q/measure.LitrePer100Kilometres), 1)+" "+l.unit("litre_per_100_kilometres"),
			l.number(q.MilesPerUSGallon(), 1)+" "+l.unit("mile_per_us_gallon"))
	default:
		return fmt.Sprint(q)
	}
}

// system puts together what the units of the language show.
func (l *Language) system(metric, customary string) string {
	switch l.units {
	case measure.Metric:
		return metric
	case measure.Customary:
		return customary
	default:
		return metric + " (" + customary + ")"
	}
}

// Below fine sizes print to 0.1 mm and 1/16 in, and masses to 0.1 kg and 1 lb: a step
// of the others would be much of them.
const (
	fineLength = 10 * measure.Centimetre
	fineMass   = 100 * measure.Kilogram
)

func small[T ~int64](v, fine T) bool { return -fine < v && v < fine }

func (l *Language) metres(v, step measure.Length, how measure.Rounding) string {
	r, exact := measure.Round(v, step, how)
	return approx(exact) + l.decimal(r.Metres(), 4) + " " + l.unit("metre")
}

// feet writes feet and inches; the sign of a negative length, such as a margin,
// stands in front.
func (l *Language) feet(v, step measure.Length, how measure.Rounding) string {
	const sixteenth = measure.Inch / 16
	r, exact := measure.Round(v, step, how)
	sign := ""
	if r < 0 {
		sign, r = "-", -r
	}
	n := int64(r / sixteenth)
	inches := []string{l.decimal(float64(n/16%12), 0)}
	if part, of := n%16, int64(16); part != 0 {
		for part%2 == 0 {
			part, of = part/2, of/2
		}
		inches = append(inches, fmt.Sprintf("%d/%d", part, of))
		if n/16%12 == 0 {
			inches = inches[1:]
		}
	}
	out := strings.Join(inches, " ") + " " + l.unit("inch")
	if feet := n / 16 / 12; feet != 0 {
		out = l.decimal(float64(feet), 0) + " " + l.unit("foot") + " " + out
	}
	return approx(exact) + sign + out
}

func (l *Language) kilograms(v, step measure.Mass, how measure.Rounding) string {
	r, exact := measure.Round(v, step, how)
	return approx(exact) + l.decimal(r.Kilograms(), 1) + " " + l.unit("kilogram")
}

func (l *Language) pounds(v, step measure.Mass, how measure.Rounding) string {
	r, exact := measure.Round(v, step, how)
	return approx(exact) + l.decimal(r.Pounds(), 0) + " " + l.unit("pound")
}

// A way shorter than these prints in metres, and in feet.
const (
	kilometre measure.Distance = 1000
	tenthMile                  = measure.Mile / 10
	foot      measure.Distance = 0.3048
)

func (l *Language) kilometres(d measure.Distance) string {
	if math.Abs(float64(d)) < float64(kilometre) {
		return l.short(float64(d), 2) + " " + l.unit("metre")
	}
	return l.number(float64(d/kilometre), 1) + " " + l.unit("kilometre")
}

func (l *Language) miles(d measure.Distance) string {
	switch long := measure.Distance(math.Abs(float64(d))); {
	case long < tenthMile:
		return l.short(float64(d/foot), 1) + " " + l.unit("foot")
	case long < kilometre:
		return l.number(float64(d/measure.Mile), 2) + " " + l.unit("mile")
	default:
		return l.number(float64(d/measure.Mile), 1) + " " + l.unit("mile")
	}
}

// short writes metres or feet, those below ten with decimals.
func (l *Language) short(v float64, decimals int) string {
	if v == 0 || math.Abs(v) >= 9.995 {
		decimals = 0
	}
	return l.number(v, decimals)
}

// ofFinding writes what a finding compared or what is left, "" for what is not known.
func (l *Language) ofFinding(q finding.Quantity, how measure.Rounding) string {
	text := ""
	if q.AtLeast && how == measure.Nearest {
		how = measure.Down // it is at least that
	}
	if v, ok := q.Length(); ok {
		text = l.print(v, how)
	} else if v, ok := q.Mass(); ok {
		text = l.print(v, how)
	}
	if text != "" && q.AtLeast {
		return l.Say(say.That("quantity.at_least", "value", text))
	}
	return text
}

// unit is the symbol of a unit in the language.
func (l *Language) unit(name string) string { return l.symbols[name] }

// number writes a number with so many decimals.
func (l *Language) number(v float64, decimals int) string {
	if math.Abs(v) < 0.5*math.Pow10(-decimals) {
		v = 0 // never -0
	}
	return l.digits(v, number.MinFractionDigits(decimals), number.MaxFractionDigits(decimals))
}

// decimal writes a number with as many decimals as it has, and at most so many.
func (l *Language) decimal(v float64, most int) string {
	return l.digits(v, number.MaxFractionDigits(most))
}

// digits writes a number with the marks of the language. The tables of the library are
// of CLDR 32, where French has a no-break space between thousands; since CLDR 34 it is
// the narrow one.
func (l *Language) digits(v float64, options ...number.Option) string {
	return strings.ReplaceAll(l.numbers.Sprint(number.Decimal(v, options...)), "\u00a0", "\u202f")
}

func approx(exact bool) string {
	if exact {
		return ""
	}
	return "≈ "
}
