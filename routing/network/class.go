package network

import (
	"fmt"
	"wayhouse/regs/say"
)

// Class is the class of a road in the source.
type Class uint8

// The classes, highest first. Local is a connecting road of the bundled
// source. PossibleFerry is a line that the source does not explain and that
// crosses water; Ferry is one that it calls so.
const (
	Unclassed Class = iota
	Freeway
	Trunk
	Primary
	Secondary
	Tertiary
	Local
	Minor
	Residential
	Living
	Service
	Track
	Ferry
	PossibleFerry
	classes // their number
)

var classNames = [classes]string{
	"road without a class", "freeway", "trunk", "primary", "secondary", "tertiary", "local connector", "minor road",
	"residential street", "shared street", "service way", "track", "ferry", "possible ferry",
}

func (c Class) String() string {
	if c >= classes {
		return fmt.Sprintf("class %d", uint8(c))
	}
	return classNames[c]
}

// Term names the class.
func (c Class) Term() say.Code { return term("class", c.String()) }

// MarshalText writes the name of a class.
func (c Class) MarshalText() ([]byte, error) {
	if c >= classes {
		return nil, fmt.Errorf("class %d is not known", uint8(c))
	}
	return []byte(classNames[c]), nil
}

// UnmarshalText reads the name of a class.
func (c *Class) UnmarshalText(text []byte) error {
	for i, name := range classNames {
		if name == string(text) {
			*c = Class(i)
			return nil
		}
	}
	return fmt.Errorf("class %q is not known", text)
}

// Water reports whether a class is a ferry or may be one.
func (c Class) Water() bool { return c == Ferry || c == PossibleFerry }

// Through reports whether a road of this class is built for traffic across the
// country: freeways and trunk roads.
func (c Class) Through() bool { return c == Freeway || c == Trunk }
