package rig

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Centre is where the centre of gravity lies along one direction, with the ends
// between which it lies whatever the parts weigh within theirs.
type Centre struct {
	Low, Likely, High measure.Distance
	Missing           []say.Remark // parts whose place is not known: then it is not known either
}

// Known reports whether the centre is known.
func (c Centre) Known() bool { return c.Missing == nil }

// CentreOfGravity is the centre of gravity of a unit.
type CentreOfGravity struct{ Along, Across, Up Centre }

// centreOfGravity finds the centre of parts. Without parts nothing is known.
func centreOfGravity(parts []Part) CentreOfGravity {
	return CentreOfGravity{
		Along:  centre(parts, func(p Part) *measure.Length { return p.Place.Along }),
		Across: centre(parts, func(p Part) *measure.Length { return p.Place.Across }),
		Up:     centre(parts, func(p Part) *measure.Length { return p.Place.Up }),
	}
}

func centre(parts []Part, at func(Part) *measure.Length) Centre {
	var c Centre
	for _, p := range parts {
		if at(p) == nil {
			c.Missing = append(c.Missing, say.Text(p.Name))
		}
	}
	if sum := total(parts); len(parts) > 0 && sum.Low <= 0 {
		c.Missing = append(c.Missing, say.That("rig.weightless_parts"))
	}
	if len(parts) == 0 {
		c.Missing = []say.Remark{say.That("rig.no_parts")}
	}
	if c.Missing != nil {
		return c
	}
	c.Likely = weighted(parts, at, func(p Part) measure.Mass { return p.Mass.Likely })
	c.Low, c.High = extreme(parts, at, -1), extreme(parts, at, 1)
	return c
}

func weighted(parts []Part, at func(Part) *measure.Length, mass func(Part) measure.Mass) measure.Distance {
	var moment, sum float64
	for _, p := range parts {
		m := float64(mass(p))
		moment += m * at(p).Metres()
		sum += m
	}
	return measure.Distance(moment / sum)
}

// extreme finds how far to one side the centre can lie: what lies beyond the
// centre as heavy as it may be, what lies before it as light. Where the centre
// stays when it is worked out again it is the extreme (Dinkelbach's method for a
// ratio of linear sums).
func extreme(parts []Part, at func(Part) *measure.Length, side float64) measure.Distance {
	c := weighted(parts, at, func(p Part) measure.Mass { return p.Mass.Likely })
	for range len(parts) + 1 {
		next := weighted(parts, at, func(p Part) measure.Mass {
			if side*(at(p).Metres()-float64(c)) > 0 {
				return p.Mass.High
			}
			return p.Mass.Low
		})
		if next == c {
			break
		}
		c = next
	}
	return c
}
