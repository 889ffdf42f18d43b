package phrase

import (
	"fmt"
	"strconv"
	"strings"
	"text/template"
	"time"

	"github.com/cockroachdb/apd/v3"
	"golang.org/x/text/feature/plural"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// functions are what the sentences of every language may call.
func (l *Language) functions() template.FuncMap {
	return template.FuncMap{
		"count":   l.count,
		"counted": l.counted,
		"commas":  commas,
		"listed":  listed,
		"hours":   hours,
		"down":    down,
		"up":      up,
		"alone":   figure.alone,
		"beside":  figure.beside,
		"stated":  stated,
		"both":    func() bool { return l.units == measure.Both },
		"number":  l.number,
		"decimal": l.decimal,
		"signed":  l.signed,
		"upper":   strings.ToUpper,
		"known":   func(j say.Jurisdiction) bool { return j != "" },
	}
}

// count writes a whole number with its noun, in the plural form that the language
// has for it.
func (l *Language) count(n int, one, other string) string {
	if plural.Cardinal.MatchPlural(l.tag, n, 0, 0, 0, 0) == plural.One {
		other = one
	}
	return l.decimal(float64(n), 0) + " " + other
}

// counted writes an exact number with its noun, in the plural form that the language has for
// it; what is no number stands before the noun of many.
func (l *Language) counted(amount any, one, other string) string {
	if f, ok := amount.(figure); ok {
		if d, ok := f.of.(*apd.Decimal); ok && d != nil && l.isOne(d) {
			other = one
		}
	}
	return fmt.Sprint(amount) + " " + other
}

// isOne reports whether a number takes the singular, which hangs on its decimals too: the
// operands of the plural rules of CLDR are n, v, w, f and t.
func (l *Language) isOne(d *apd.Decimal) bool {
	var short apd.Decimal
	short.Reduce(d)
	whole, decimals, _ := strings.Cut(short.Text('f'), ".")
	n, err := strconv.Atoi(whole)
	if err != nil {
		return false
	}
	f, _ := strconv.Atoi("0" + decimals)
	return plural.Cardinal.MatchPlural(l.tag, n, len(decimals), len(decimals), f, f) == plural.One
}

// signed writes a number with its sign in front, also of more than zero.
func (l *Language) signed(v float64, decimals int) string {
	if v > 0 {
		return "+" + l.number(v, decimals)
	}
	return l.number(v, decimals)
}

func commas(all []string) string { return strings.Join(all, ", ") }

// listed puts a word between the last two of a list, commas between the others.
func listed(all []string, word string) string {
	last := len(all) - 1
	if last < 1 {
		return commas(all)
	}
	return commas(all[:last]) + " " + word + " " + all[last]
}

// hours writes a duration to the minute, rounded up: 7 h 05 min.
func hours(d time.Duration) string {
	minutes := int((d + time.Minute - 1) / time.Minute)
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}
