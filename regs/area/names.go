package area

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"wayhouse/regs/word"
)

// NameError says that a text is the name of no jurisdiction. Like are those whose
// name is alike: which was meant is for the asker, an answer rests on no guess.
type NameError struct {
	Text string
	Like []Jurisdiction
}

func (e *NameError) Error() string { return fmt.Sprintf("no jurisdiction is called %q", e.Text) }

// Find returns the one jurisdiction that a text names: by its code (CA-QC), the last
// part of the code (QC), or its name in English or French, in any case and without
// accents too. "CA" is a country and California, so it names neither. The error is
// a [*NameError].
func (ix *Index) Find(text string) (Jurisdiction, error) {
	var found []Jurisdiction
	for _, j := range ix.All() {
		if j.called(text) {
			found = append(found, j)
		}
	}
	if len(found) == 1 && Country(text) == "" {
		return found[0], nil
	}
	if len(found) == 0 {
		found = ix.like(text)
	}
	return Jurisdiction{}, &NameError{Text: text, Like: found}
}

// Called reports whether a text names the jurisdiction of a code, or its country.
func (ix *Index) Called(code, text string) bool {
	country, _, _ := strings.Cut(code, "-")
	return ix.byCode[code].called(text) || Country(text) == country
}

func (j Jurisdiction) called(text string) bool {
	t := word.Fold(text)
	return t != "" && slices.Contains(j.folded(), t)
}

// folded are the texts that name a jurisdiction, folded: code, its last part, names.
func (j Jurisdiction) folded() []string {
	_, short, _ := strings.Cut(j.Code, "-")
	return []string{word.Fold(j.Code), word.Fold(short), word.Fold(j.Name), word.Fold(j.French)}
}

// countries by code, with their names folded.
var countries = map[string][]string{
	"CA": {"ca", "canada"},
	"US": {"us", "usa", "u s", "u s a", "united states", "united states of america", "etats unis"},
}

// Country returns the code of the country that a text names, "" for none.
func Country(text string) string {
	for code, names := range countries {
		if slices.Contains(names, word.Fold(text)) {
			return code
		}
	}
	return ""
}

// like lists the few jurisdictions that a text may be meant for: those whose name has
// words that begin as each of its words do, else those that are a slip or two away,
// the likest first.
func (ix *Index) like(text string) []Jurisdiction {
	const few, long = 5, 60
	t := word.Fold(text)
	if t == "" || len(t) > long {
		return nil
	}
	all := ix.All()
	out := slices.DeleteFunc(slices.Clone(all), func(j Jurisdiction) bool { return !j.begins(strings.Fields(t)) })
	if len(out) == 0 {
		out = slices.DeleteFunc(all, func(j Jurisdiction) bool { return j.slips(t) > max(1, min(len(t)/4, 3)) })
		slices.SortStableFunc(out, func(a, b Jurisdiction) int { return cmp.Compare(a.slips(t), b.slips(t)) })
	}
	return out[:min(len(out), few)]
}

// begins reports whether a name of the jurisdiction has for each of some words one
// that begins so.
func (j Jurisdiction) begins(with []string) bool {
	return slices.ContainsFunc(j.folded()[2:], func(name string) bool {
		for _, w := range with {
			if !strings.HasPrefix(name, w) && !strings.Contains(name, " "+w) {
				return false
			}
		}
		return true
	})
}

// slips is how many letters a text differs by from the code of the jurisdiction or
// from a name of it.
func (j Jurisdiction) slips(folded string) int {
	least := len(folded)
	for i, name := range j.folded() {
		if i != 1 { // two letters are alike to everything
			least = min(least, levenshtein.ComputeDistance(name, folded))
		}
	}
	return least
}
