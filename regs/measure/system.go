package measure

import (
	"fmt"
	"slices"

	"wayhouse/regs/say"
)

// System is in which units quantities are printed. The zero value is both.
type System int8

// The systems.
const (
	Both      System = iota // metric, then customary in brackets
	Metric                  // of the SI
	Customary               // of the United States
)

// systems are the words that flags and requests write, by system.
var systems = []string{"both", "metric", "us"}

// Systems lists the words of [ParseSystem].
func Systems() []string { return slices.Clone(systems) }

// String is the word of a system.
func (s System) String() string { return systems[s] }

// ParseSystem reads both, metric and us.
func ParseSystem(word string) (System, error) {
	for i, w := range systems {
		if w == word {
			return System(i), nil
		}
	}
	return Both, &ParseError{
		Quantity: "units", Text: word, Problem: say.That("error.no_system_of_units"), Fix: say.That("fix.one_of", "words",
			systems),
	}
}

// MarshalText writes the word of a system.
func (s System) MarshalText() ([]byte, error) {
	if int(s) >= len(systems) || s < 0 {
		return nil, fmt.Errorf("%d is no system of units", s)
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads what [ParseSystem] does.
func (s *System) UnmarshalText(word []byte) (err error) {
	*s, err = ParseSystem(string(word))
	return err
}
