package word

import "strings"

// endings are short forms of the words that end English street names (United States
// Postal Service, Publication 28, appendix C1; Canada Post, Addressing Guidelines, street
// types; both 2025, the commonest, from memory).
var endings = map[string]string{
	"aly": "alley", "av": "avenue", "ave": "avenue", "blvd": "boulevard", "boul": "boulevard", "br": "branch",
	"brg": "bridge", "byp": "bypass", "cir": "circle", "cl": "close", "cor": "corner", "cres": "crescent",
	"cr": "crescent", "crt": "court", "cswy": "causeway", "ct": "court", "dr": "drive", "expy": "expressway",
	"ext": "extension", "fwy": "freeway", "grv": "grove", "hts": "heights", "hwy": "highway", "lndg": "landing",
	"ln": "lane", "mdw": "meadow", "mdws": "meadows", "mnr": "manor", "pkwy": "parkway", "pky": "parkway",
	"pl": "place", "plz": "plaza", "pt": "point", "rd": "road", "rdg": "ridge", "rte": "route", "sq": "square",
	"sta": "station", "st": "street", "str": "street", "ter": "terrace", "terr": "terrace", "tpke": "turnpike",
	"trl": "trail", "vw": "view", "xing": "crossing",
}

// beginnings are short forms of the words that begin French street names (Office
// québécois de la langue française, abréviations des odonymes; Canada Post, Addressing
// Guidelines, street types; both 2025, the commonest, from memory).
var beginnings = map[string]string{
	"all": "allee", "aut": "autoroute", "av": "avenue", "ave": "avenue", "bd": "boulevard", "blvd": "boulevard",
	"bl": "boulevard", "boul": "boulevard", "ch": "chemin", "chem": "chemin", "crois": "croissant", "imp": "impasse",
	"mtee": "montee", "pl": "place", "prom": "promenade", "r": "rue", "rg": "rang", "rle": "ruelle", "rte": "route",
	"terr": "terrasse",
}

// sides are the points of the compass as streets bear them, in English and French,
// all as one letter each.
var sides = map[string]string{
	"n": "n", "north": "n", "nord": "n", "s": "s", "south": "s", "sud": "s", "e": "e", "east": "e", "est": "e",
	"w": "w", "west": "w", "ouest": "w", "o": "w", "ne": "ne", "northeast": "ne", "nw": "nw", "northwest": "nw",
	"se": "se", "southeast": "se", "sw": "sw", "southwest": "sw",
}

// within are short forms of words at any place but the last.
var within = map[string]string{
	"st": "saint", "ste": "sainte", "mt": "mount", "ft": "fort", "pte": "pointe", "gen": "general",
	"1ere": "1re", "2eme": "2e", "2ieme": "2e", "3eme": "3e", "3ieme": "3e",
	"first": "1st", "second": "2nd", "third": "3rd", "fourth": "4th", "fifth": "5th", "sixth": "6th",
	"seventh": "7th", "eighth": "8th", "ninth": "9th", "tenth": "10th", "premiere": "1re", "deuxieme": "2e",
	"troisieme": "3e",
}

// Street folds the name of a road: its kind in full, points of the compass as a letter,
// so that "W. Main St." finds West Main Street and "boul. St-Laurent E" finds Boulevard
// Saint-Laurent Est.
func Street(s string) string {
	words := strings.Fields(Fold(s))
	from, to := 0, len(words) // of the name between points of the compass
	if to > 1 {
		from, to = compass(words)
	}
	last := to - 1
	for i := from; i < to; i++ {
		w := words[i]
		switch {
		case i > from && i == last && endings[w] != "":
			words[i] = endings[w]
		case i == from && i < last && beginnings[w] != "" && !kind(words[last]):
			words[i] = beginnings[w]
		case i < last && within[w] != "":
			words[i] = within[w]
		}
	}
	return strings.Join(words, " ")
}

// compass writes the points of the compass before and behind a name as letters, and
// returns where the name between them begins and ends. "West Street", "Avenue N" and
// "North" have none: there the word is the name.
func compass(words []string) (from, to int) {
	to = len(words)
	if side := sides[words[0]]; side != "" && words[0] != "o" && (to > 2 || !kind(words[1])) {
		words[0], from = side, 1
	}
	named := to - from - 1
	if side := sides[words[to-1]]; side != "" && (named > 1 || named == 1 && from == 0 && !kind(words[0])) {
		words[to-1], to = side, to-1
	}
	return from, to
}

// kind reports whether a word is what kind of street a street is, in short or in full.
func kind(w string) bool { return kinds[w] }

var kinds = func() map[string]bool {
	out := map[string]bool{"rue": true}
	for _, words := range []map[string]string{endings, beginnings} {
		for short, full := range words {
			out[short], out[full] = true, true
		}
	}
	return out
}()
