// Package roads says of which roads a row of a table speaks.
package roads

import (
	"strings"

	"wayhouse/regs/say"
)

// Road is what is known of a road that a leg uses.
type Road struct {
	Class   string   // of the network, see [Classes]; "": not known
	Refs    []string // numbers; none: not known
	Name    string
	Owner   string // whose it is, where that is known
	Lanes   int    // of one direction; 0: not known
	Divided string // "yes", "no"; "": not known
}

// Called names a road: by its numbers, its name or its class.
func (r Road) Called() say.Remark {
	switch {
	case len(r.Refs) > 0:
		return say.Text(strings.Join(r.Refs, "/"))
	case r.Name != "":
		return say.Text(r.Name)
	case r.Class != "":
		return say.That("road.unnumbered", "class", class(r.Class))
	default:
		return say.That("road.unknown")
	}
}

// class is a class of roads by its word.
type class string

// Term is the code of the class's name.
func (c class) Term() say.Code { return say.Word("class", string(c)) }

// Applies is how surely a row is about something.
type Applies int

// The degrees.
const (
	No Applies = iota
	Perhaps
	Yes
)

// Classes lists the classes of roads that a network tells, highest first. A road
// without a class and a line that is perhaps a ferry have none that is known.
func Classes() []string {
	return []string{
		"freeway", "trunk", "primary", "secondary", "tertiary", "local connector", "minor road", "residential street",
		"shared street",
		"service way", "track", "ferry",
	}
}

// called are other words for the classes: those of OpenStreetMap
// (wiki, Key:highway, 2025, from memory) and of common speech.
var called = map[string]string{
	"motorway": "freeway", "expressway": "freeway", "interstate": "freeway", "autoroute": "freeway",
	"motorway link": "freeway", "trunk link": "trunk", "unclassified": "minor road",
	"residential": "residential street", "street": "residential street", "living street": "shared street",
	"service": "service way", "road": "minor road",
}

// few is how many roads are named; others are counted.
const few = 3

// named names the first roads of a list, and says how many more there are.
func named(roads []Road) (names []say.Remark, more int) {
	for _, r := range roads[:min(len(roads), few)] {
		names = append(names, r.Called())
	}
	return names, len(roads) - len(names)
}
