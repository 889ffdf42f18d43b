package roads

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/regs/word"
)

// Set says of which roads a row speaks: of those for which every term holds, or
// of those that words name, which may be any. The zero value is every road.
type Set struct {
	terms []term
	words bool
	text  string
}

type term struct {
	key    string
	not    bool
	values []value
}

// keys are what a term can ask of a road.
var keys = []string{"ref", "class", "name", "owner", "lanes", "divided"}

// Read reads roads that may be named by terms or in words. What begins like a term
// is one: a slip in it is an error, not words.
func Read(text string) (Set, error) {
	key, _, ok := strings.Cut(text, "=")
	if strings.TrimSpace(text) != "" && !(ok && slices.Contains(keys, word.Fold(strings.TrimSuffix(key, "!")))) {
		return Set{words: true, text: text}, nil
	}
	return Parse(text)
}

// Parse reads terms such as "ref=I *|US *; lanes=1; owner!=Peel Region".
// Values stand between bars; * takes any letters; "2+" is two lanes or more.
func Parse(text string) (Set, error) {
	out := Set{text: text}
	for _, part := range strings.Split(text, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		key, values, ok := strings.Cut(part, "=")
		key, not := strings.CutSuffix(strings.TrimSpace(key), "!")
		t := term{key: strings.TrimSpace(key), not: not}
		if !ok || !slices.Contains(keys, t.key) {
			return out, say.Err(say.That("parse_error.no_term", "text", part, "keys", keys))
		}
		for _, v := range strings.Split(values, "|") {
			if strings.TrimSpace(v) == "" {
				return out, say.Err(say.That("parse_error.empty_value", "text", part))
			}
			read, err := t.read(strings.TrimSpace(v))
			if err != nil {
				return out, err
			}
			t.values = append(t.values, read)
		}
		out.terms = append(out.terms, t)
	}
	return out, nil
}

// read reads a value that a road can have.
func (t term) read(text string) (value, error) {
	v := value{form: pattern(t.fold(text))}
	switch t.key {
	case "ref":
		v.prefix, v.number = split(t.fold(text))
		v.digits = pattern(v.number)
	case "lanes":
		n, err := strconv.Atoi(strings.TrimSuffix(text, "+"))
		if err != nil || n <= 0 {
			return v, say.Err(say.That("parse_error.no_lanes", "text", text))
		}
		if strings.HasSuffix(text, "+") {
			v.least = n
		}
	case "divided":
		if text != "yes" && text != "no" {
			return v, say.Err(say.That("parse_error.not_divided", "text", text))
		}
	case "class":
		if !slices.ContainsFunc(Classes(), v.form.MatchString) {
			return v, unknownClass(text)
		}
	}
	return v, nil
}

func unknownClass(text string) error {
	near, ok := called[word.Fold(text)]
	if !ok {
		near, ok = word.Nearest(text, Classes())
	}
	if !ok {
		near = ""
	}
	return say.Err(say.That("parse_error.no_class", "text", text, "meant", near, "classes", Classes()))
}

// value is what a term takes: a pattern, or so many lanes or more. Of a number of
// a road the pattern is also kept in parts: "i" and "9*" of "I 9*".
type value struct {
	form           *regexp.Regexp
	least          int // 0: as the pattern says
	prefix, number string
	digits         *regexp.Regexp
}

// pattern reads a folded value in which * stands for any letters.
func pattern(folded string) *regexp.Regexp {
	return regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(folded), `\*`, ".*") + "$")
}

var (
	joined = regexp.MustCompile(`^([a-z]+)(\d)`)
	parts  = regexp.MustCompile(`^([^\d*]*)([\d*].*)$`)
)

// fold writes values alike that mean one thing: "I-95", "I95" and "I  95".
func (t term) fold(s string) string {
	switch t.key {
	case "ref":
		return joined.ReplaceAllString(word.Fold(s), "$1 $2")
	case "name":
		return word.Street(s)
	default:
		return word.Fold(s)
	}
}

// split takes a folded number of a road apart: the letters before it, and itself,
// "" where it has none.
func split(folded string) (prefix, number string) {
	m := parts.FindStringSubmatch(folded)
	if m == nil {
		return folded, ""
	}
	return strings.TrimSpace(m[1]), m[2]
}

// Of tells how surely the row speaks of a road.
func (s Set) Of(road Road) Applies {
	if s.words {
		return Perhaps
	}
	out := Yes
	for _, t := range s.terms {
		out = min(out, t.of(road))
	}
	return out
}

// Any reports whether every road is meant.
func (s Set) Any() bool { return len(s.terms) == 0 && !s.words }

// Called returns the set under the words of its source, where there are any. Words
// alone may mean any road.
func (s Set) Called(words string) Set {
	if words != "" {
		s.words = len(s.terms) == 0
		s.text = words
	}
	return s
}

func (s Set) String() string { return s.text }

func (t term) of(road Road) Applies {
	known, meets := false, No
	for _, has := range t.has(road) {
		if has = t.fold(has); has != "" {
			known = true
			for _, v := range t.values {
				meets = max(meets, v.meets(has))
			}
		}
	}
	switch {
	case !known:
		return Perhaps
	case t.not:
		return Yes - meets
	default:
		return meets
	}
}

// has lists what is known of a road that a term asks about.
func (t term) has(road Road) []string {
	switch t.key {
	case "ref":
		return road.Refs
	case "class":
		return []string{road.Class}
	case "name":
		return []string{road.Name}
	case "owner":
		return []string{road.Owner}
	case "divided":
		return []string{road.Divided}
	}
	if road.Lanes > 0 {
		return []string{fmt.Sprint(road.Lanes)}
	}
	return nil
}

func (v value) meets(has string) Applies {
	if v.least > 0 {
		if n, err := strconv.Atoi(has); err != nil || n < v.least {
			return No
		}
		return Yes
	}
	if v.form.MatchString(has) {
		return Yes
	}
	return v.perhaps(has)
}

// perhaps reports whether a number of a road may be the one meant though it is
// written with other letters: sources write "ON 17", "Highway 17" and "17" of one
// road. That a pattern takes any number says nothing of another network's.
func (v value) perhaps(has string) Applies {
	prefix, number := split(has)
	if v.number == "" || number == "" || !v.digits.MatchString(number) {
		return No
	}
	if prefix != "" && v.prefix != "" && strings.Contains(v.number, "*") {
		return No
	}
	return Perhaps
}

// Number is the number of a road without the letters before it, the whole where it
// has none: those of one road are equal, however its source writes it.
func Number(ref string) string {
	prefix, number := split(term{key: "ref"}.fold(ref))
	if number == "" {
		return prefix
	}
	return number
}

// Same tells how surely two numbers are of one road.
func Same(a, b string) Applies {
	t := term{key: "ref"}
	a, b = t.fold(a), t.fold(b)
	if a == "" || b == "" {
		return No
	}
	if a == b {
		return Yes
	}
	_, x := split(a)
	if _, y := split(b); x == "" || x != y {
		return No
	}
	return Perhaps
}

// Over tells how surely the row binds somewhere on roads, and whether it
// surely binds on all of them.
func (s Set) Over(roads []Road) (somewhere Applies, everywhere bool) {
	if s.Any() {
		return Yes, true
	}
	if len(roads) == 0 {
		return Perhaps, false
	}
	somewhere, everywhere = No, true
	for _, road := range roads {
		a := s.Of(road)
		somewhere, everywhere = max(somewhere, a), everywhere && a == Yes
	}
	return somewhere, everywhere
}

// read is how people read a set: names alone where it has nothing else.
func (s Set) read() string {
	if len(s.terms) != 1 || s.terms[0].key != "name" || s.terms[0].not {
		return strings.ReplaceAll(s.text, "_", "-") // of words such as two_lane
	}
	_, text, _ := strings.Cut(s.text, "=")
	names := strings.Split(text, "|")
	for i, name := range names {
		names[i] = strings.Trim(name, " *;")
	}
	return strings.Join(names, ", ")
}

// Doubt says of which of some roads a row speaks only perhaps.
func (s Set) Doubt(roads []Road) say.Remark {
	text := s.read()
	open := slices.DeleteFunc(slices.Clone(roads), func(r Road) bool { return s.Of(r) != Perhaps })
	if len(open) == 0 {
		return say.That("hangs.roads_open", "roads", text)
	}
	names, more := named(open)
	return say.That("hangs.roads", "roads", text, "open", names, "more", more)
}
