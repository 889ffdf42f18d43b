package phrase

import (
	"fmt"
	"strings"
	"text/template"
	"time"

	"golang.org/x/text/feature/plural"

	"wayhouse/regs/say"
)

// A scale is a quantity that prints in either system and rounds to a safe side.
type scale interface {
	Metric() string
	Down() string
	Up() string
}

// functions are what the sentences of every language may call.
func (l *Language) functions() template.FuncMap {
	return template.FuncMap{
		"count":  l.count,
		"commas": commas,
		"hours":  hours,
		"metric": func(v scale) string { return v.Metric() },
		"down":   func(v scale) string { return v.Down() },
		"up":     func(v scale) string { return v.Up() },
		"upper":  strings.ToUpper,
		"known":  func(j say.Jurisdiction) bool { return j != "" },
	}
}

// count writes a whole number with its noun, in the plural form that the language
// has for it.
func (l *Language) count(n int, one, other string) string {
	if plural.Cardinal.MatchPlural(l.tag, n, 0, 0, 0, 0) == plural.One {
		other = one
	}
	return fmt.Sprint(n, " ", other)
}

func commas(all []string) string { return strings.Join(all, ", ") }

// hours writes a duration to the minute, rounded up: 7 h 05 min.
func hours(d time.Duration) string {
	minutes := int((d + time.Minute - 1) / time.Minute)
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}
