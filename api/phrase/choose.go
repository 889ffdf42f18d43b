package phrase

import (
	"strings"

	"golang.org/x/text/language"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Choose returns the language of a word such as fr. Without one it is the language
// that an Accept-Language header likes best (RFC 9110, section 12.5.4), and English
// where that likes none. units is a word of [measure.Systems], "" for both. The error
// is a [*measure.FieldError] of lang or units.
func Choose(lang, accept, units string) (*Language, error) {
	tag, err := tagOf(lang, accept)
	if err != nil {
		return nil, err
	}
	system := measure.Both
	if units != "" {
		if system, err = measure.ParseSystem(strings.ToLower(units)); err != nil {
			return nil, &measure.FieldError{
				Field: "units", Value: units, Problem: say.That("error.no_system_of_units"),
				Fix: say.That("fix.one_of", "words", measure.Systems()),
			}
		}
	}
	return In(tag, system), nil
}

// Words lists what lang may say, one for each of [Languages].
func Words() (out []string) {
	for _, t := range Languages() {
		out = append(out, t.String())
	}
	return out
}

func tagOf(lang, accept string) (language.Tag, error) {
	known := Languages()
	match := language.NewMatcher(known)
	if lang == "" {
		wanted, _, _ := language.ParseAcceptLanguage(accept) // what cannot be read wants nothing
		_, i, _ := match.Match(wanted...)
		return known[i], nil
	}
	tag, err := language.Parse(lang)
	_, i, sure := match.Match(tag)
	if err != nil || sure < language.High {
		return tag, &measure.FieldError{
			Field: "lang", Value: lang, Problem: say.That("error.no_language_of_the"), Fix: say.That("fix.one_of", "words",
				Words()),
		}
	}
	return known[i], nil
}
