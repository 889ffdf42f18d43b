package rig

import (
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/parts"
)

// What is possible and more likely a slip (common practice, no source).
const (
	besides     = 300 * measure.Millimetre // how far a thing may lie outside the outline
	mostOfFluid = 1500 * measure.Kilogram  // of one tank of a house
)

// Words that confirm what was asked about.
const (
	outsideOutline = "outside_outline"
	roofBelow      = "roof_below_floor"
	weighsNothing  = "weighs_nothing"
	largeTank      = "large_tank"
)

// implausible asks about parts, movables and anchors as they travel: each of
// them counts only once it was put right or confirmed.
func implausible(u Unit) (out []Question) {
	boxes := u.OutlineIn(Travelling, nil)
	ask := func(confirm, field string, value any, problem say.Remark) {
		out = append(out, Question{Confirm: confirm, FieldError: measure.FieldError{
			Field: field, Value: fmt.Sprint(value), Problem: problem, Fix: say.That("fix.correct_or_confirm", "word", confirm),
		}})
	}
	for _, p := range u.Parts {
		switch {
		case p.Mass.High == 0 && p.Group != parts.Fluid: // a tank may travel empty
			ask(weighsNothing, p.Field+".count", 0, say.That("error.weighs_nothing", "name", p.Name))
		case p.Group == parts.Fluid && p.Mass.Likely > mostOfFluid:
			ask(largeTank, p.Field+".volume", p.Mass.Likely, say.That("error.more_than_a_tank", "name", p.Name))
		}
		place := p.Place
		if p.Trailer {
			place.Up = nil // axles stand below the house, and their box may not be described
		}
		if axis, at, far := outside(boxes, place); far > besides {
			ask(outsideOutline, p.Field+"."+axis, at, say.That("error.outside_outline", "name", p.Name, "far", far))
		}
		if floor, ok := floorUnder(u, p.Place); ok && p.Group == parts.Roof && *p.Place.Up < floor {
			ask(roofBelow, p.Field+".up", *p.Place.Up, say.That("error.roof_below_floor", "name", p.Name, "floor", floor))
		}
	}
	for i, m := range u.Movables {
		if m.Travel == nil {
			continue
		}
		if axis, at, far := outside(boxes, m.Travel.Place); far > besides {
			ask(outsideOutline, fmt.Sprintf("unit.movables[%d].travel.%s", i, axis), at,
				say.That("error.outside_outline", "name", m.Name, "far", far))
		}
	}
	for i, a := range u.Anchors {
		along, across := length(a.Along), length(a.Across)
		if axis, at, far := outside(boxes, Coordinates{Along: &along, Across: &across}); far > besides {
			ask(outsideOutline, fmt.Sprintf("unit.anchors[%d].%s", i, axis), at,
				say.That("error.outside_outline", "name", a.Name, "far", far))
		}
	}
	return out
}

// length is a distance as a length.
func length(d measure.Distance) measure.Length {
	return measure.Length(float64(d) * float64(measure.Metre))
}

// outside tells how far a place lies outside the nearest box, along the axis on
// which it lies furthest outside of that one. What is not known of a place lies
// nowhere; an outline that is not described has no outside.
func outside(boxes []Box, p Coordinates) (axis string, at, far measure.Length) {
	for i, b := range boxes {
		name, place, by := b.misses(p)
		if i == 0 || by < far {
			axis, at, far = name, place, by
		}
	}
	return axis, at, far
}

// misses tells how far a place lies outside of a box, 0 within.
func (b Box) misses(p Coordinates) (axis string, at, far measure.Length) {
	for _, side := range []struct {
		axis     string
		at       *measure.Length
		from, to measure.Length
	}{{"along", p.Along, b.From, b.To}, {"across", p.Across, -b.Left, b.Right}, {"up", p.Up, b.Bottom, b.Top}} {
		if side.at == nil {
			continue
		}
		if by := max(side.from-*side.at, *side.at-side.to, 0); by > far {
			axis, at, far = side.axis, *side.at, by
		}
	}
	return axis, at, far
}

// floorUnder is the floor of a unit at a place whose height is known: its deck,
// or the bottom of the box there that reaches highest.
func floorUnder(u Unit, p Coordinates) (floor measure.Length, ok bool) {
	if p.Up == nil {
		return 0, false
	}
	var top measure.Length
	for _, b := range u.Outline {
		if p.Along != nil && b.From <= *p.Along && *p.Along <= b.To && b.Top > top {
			floor, top, ok = b.Bottom, b.Top, true
		}
	}
	if u.Deck != nil && *u.Deck > floor {
		return *u.Deck, true
	}
	return floor, ok
}
