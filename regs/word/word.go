// Package word says when two names are written alike.
package word

import (
	"strings"
	"unicode"

	"github.com/agnivade/levenshtein"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// signs are those that names are written with and without.
var signs = strings.NewReplacer(".", " ", "-", " ", "‐", " ", "–", " ", "_", " ",
	"’", "'", "œ", "oe", "æ", "ae")

// Fold takes off accents, case, points and hyphens, so that "MONTREAL" finds
// Montréal and "St Albert" finds St. Albert.
func Fold(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) {
		plain := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC)
		s, _, _ = transform.String(plain, s)
	}
	return strings.Join(strings.Fields(signs.Replace(strings.ToLower(s))), " ")
}

// Town folds the name of a municipality. Saint is written in short and in full.
func Town(s string) string {
	words := strings.Fields(Fold(s))
	for i, w := range words {
		switch {
		case w == "st" && i < len(words)-1:
			words[i] = "saint"
		case w == "ste":
			words[i] = "sainte"
		}
	}
	return strings.Join(words, " ")
}

// Nearest returns the one of some words that is a slip away from a word, ok is
// false where none is.
func Nearest(s string, among []string) (near string, ok bool) {
	least := max(2, len(s)/4) + 1
	for _, w := range among {
		if d := levenshtein.ComputeDistance(Fold(s), Fold(w)); d < least {
			near, ok, least = w, true, d
		}
	}
	return near, ok
}
