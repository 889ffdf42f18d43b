package limit

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Road is what is known of a road that a leg uses.
type Road struct {
	Class   string   // of the network; "": not known
	Refs    []string // numbers; none: not known
	Name    string
	Owner   string // whose it is, where that is known
	Lanes   int    // of one direction; 0: not known
	Divided string // "yes", "no"; "": not known
}

// Roads says of which roads a row speaks: of those for which every term holds.
// The zero value is every road.
type Roads struct{ terms []roadTerm }

type roadTerm struct {
	key    string
	not    bool
	values []value
}

// roadKeys are what a term can ask of a road.
var roadKeys = []string{"ref", "class", "name", "owner", "lanes", "divided"}

// ParseRoads reads terms such as "ref=I *|US *; lanes=1; owner!=Peel Region".
// Values stand between bars; * takes any letters; "2+" is two lanes or more.
func ParseRoads(text string) (Roads, error) {
	var out Roads
	for _, part := range strings.Split(text, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		key, values, ok := strings.Cut(part, "=")
		key, not := strings.CutSuffix(strings.TrimSpace(key), "!")
		t := roadTerm{key: strings.TrimSpace(key), not: not}
		if !ok || !slices.Contains(roadKeys, t.key) {
			return out, fmt.Errorf("%q asks nothing of a road; begin with one of %v, such as ref=I *", part, roadKeys)
		}
		for _, v := range strings.Split(values, "|") {
			if strings.TrimSpace(v) == "" {
				return out, fmt.Errorf("%q has an empty value", part)
			}
			if !t.takes(v) {
				return out, fmt.Errorf("%q is no value of %s", strings.TrimSpace(v), t.key)
			}
			t.values = append(t.values, pattern(v))
		}
		out.terms = append(out.terms, t)
	}
	return out, nil
}

// takes tells whether a road can have a value.
func (t roadTerm) takes(text string) bool {
	text = strings.TrimSpace(text)
	switch t.key {
	case "lanes":
		n, err := strconv.Atoi(strings.TrimSuffix(text, "+"))
		return err == nil && n > 0
	case "divided":
		return text == "yes" || text == "no"
	}
	return true
}

// value is what a term takes: a pattern, or so many lanes or more.
type value struct {
	form  *regexp.Regexp
	least int // 0: as the pattern says
}

// pattern reads a value in which * stands for any letters.
func pattern(text string) value {
	v := value{}
	if n, ok := strings.CutSuffix(strings.TrimSpace(text), "+"); ok {
		v.least, _ = strconv.Atoi(n)
	}
	v.form = regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(fold(text)), `\*`, ".*") + "$")
	return v
}

var number = regexp.MustCompile(`^([a-z]+)(\d)`)

// fold writes "I-95", "I95" and "I  95" alike.
func fold(s string) string {
	s = strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(s, "-", " "))), " ")
	return number.ReplaceAllString(s, "$1 $2")
}

// Of tells how surely the row speaks of a road.
func (r Roads) Of(road Road) Applies {
	out := Yes
	for _, t := range r.terms {
		out = min(out, t.of(road))
	}
	return out
}

// Any tells whether every road is meant.
func (r Roads) Any() bool { return len(r.terms) == 0 }

func (t roadTerm) of(road Road) Applies {
	var has []string
	switch t.key {
	case "ref":
		has = road.Refs
	case "class":
		has = []string{road.Class}
	case "name":
		has = []string{road.Name}
	case "owner":
		has = []string{road.Owner}
	case "divided":
		has = []string{road.Divided}
	case "lanes":
		if road.Lanes > 0 {
			has = []string{fmt.Sprint(road.Lanes)}
		}
	}
	known, meets := false, false
	for _, v := range has {
		if v = fold(v); v != "" {
			known = true
			meets = meets || slices.ContainsFunc(t.values, func(want value) bool { return want.meets(v) })
		}
	}
	switch {
	case !known:
		return Perhaps
	case meets != t.not:
		return Yes
	default:
		return No
	}
}

func (v value) meets(has string) bool {
	if v.least > 0 {
		n, err := strconv.Atoi(has)
		return err == nil && n >= v.least
	}
	return v.form.MatchString(has)
}

// Over tells how surely the row binds somewhere on roads, and whether it
// surely binds on all of them.
func (r Roads) Over(roads []Road) (somewhere Applies, everywhere bool) {
	if r.Any() {
		return Yes, true
	}
	if len(roads) == 0 {
		return Perhaps, false
	}
	somewhere, everywhere = No, true
	for _, road := range roads {
		a := r.Of(road)
		somewhere, everywhere = max(somewhere, a), everywhere && a == Yes
	}
	return somewhere, everywhere
}
