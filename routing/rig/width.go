package rig

import (
	"cmp"
	"slices"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// OverTires is how wide an axle stands over the outsides of its outer tires: as it was
// measured, else its track and the nominal width of a tire; nil: not known. A loaded
// sidewall may bulge beyond its nominal width, which this does not consider.
func (a Axle) OverTires() *measure.Length {
	if a.Over != nil || a.Track == nil || a.Width == 0 {
		return a.Over
	}
	over := *a.Track + a.Width
	return &over
}

// overTires is the greatest width of axles over their tires, as far as it is known: of
// an axle of which only the track is, no less than that. all reports whether it is known
// of each of them.
func overTires(axles []Axle) (widest measure.Length, all bool) {
	all = len(axles) > 0
	for _, a := range axles {
		over := a.OverTires()
		if over == nil {
			all, over = false, a.Track
		}
		if over != nil {
			widest = max(widest, *over)
		}
	}
	return widest, all
}

// within reports whether no tire of axles surely reaches beyond a width: of one whose own
// width is not known no more than the widest there are.
func within(width measure.Length, axles []Axle) bool {
	return len(axles) > 0 && !slices.ContainsFunc(axles, func(a Axle) bool {
		over := a.OverTires()
		return over != nil && *over > width || over == nil && (a.Track == nil || *a.Track+widestTire > width)
	})
}

// over widens an extent to tires, which stand alike to both sides of the middle line.
func (e Extent) over(tires measure.Length) Extent {
	e.Left, e.Right = max(e.Left, tires/2), max(e.Right, tires-tires/2)
	return e
}

// measuredWidth takes the greater of the house and its tires for the width of a unit. A
// width that is given is that of the unit over all, or of the house alone where its tires
// are wider. That of an outline without its tires is a least one.
func (u *Unit) measuredWidth() error {
	tires, all := overTires(u.Frame.Axles)
	house, said, width := u.Width, u.Width, measure.Length(0)
	if e, shaped := u.extent(Travelling, nil); shaped {
		width = e.Width()
		if said != nil && !u.WidthAtLeast && *said != width && *said != u.overAll(tires) {
			return agree("unit.width", &u.Width, width, "the outline, as it travels,")
		}
		outline := width
		house = &outline
	}
	if house == nil { // its tires alone are no width of a unit
		return nil
	}
	if said != nil {
		width = max(width, *said)
	}
	u.WidthAtLeast = u.WidthAtLeast || !all && !within(width, u.Frame.Axles) && (said == nil || tires > *said)
	width = max(width, u.overAll(tires))
	if u.Width = &width; *house != width {
		u.House = house
	}
	return nil
}

// overAll is how wide the outline of a unit and tires are together.
func (u Unit) overAll(tires measure.Length) measure.Length {
	e, _ := u.extent(Travelling, nil)
	return e.over(tires).Width()
}

// house is the width of a unit without its tires; nil: not known.
func (u Unit) house() *measure.Length { return cmp.Or(u.House, u.Width) }

// leastWidth is what a unit measures across at least; nil: nothing is known of it.
func (u Unit) leastWidth() *measure.Length {
	tires, _ := overTires(u.Frame.Axles)
	return greatest(u.Width, orNil(tires))
}

// measuredWidth takes the greater of the body and its tires for the width of a tow
// vehicle.
func (t *Tow) measuredWidth() {
	if tires, all := overTires(t.Truck.Axles); t.Width != nil && tires > *t.Width {
		t.Width, t.WidthAtLeast = &tires, !all
	}
}

// unless is a width that is surely no more.
func unless(atLeast bool, width *measure.Length) *measure.Length {
	if atLeast {
		return nil
	}
	return width
}

// Alone takes the height and the width of a unit for those of the rig, where no tow
// vehicle is given: a design is checked before anybody knows what will pull it. What is
// known of the unit as a least value alone stays one.
func (r Rig) Alone() Rig {
	r.Height, r.Width = r.Unit.Height, unless(r.Unit.WidthAtLeast, r.Unit.Width)
	return r
}

// LeastWidth is what the rig measures across at least, tires included and mirrors left
// out; nil: nothing is known of it.
func (r Rig) LeastWidth() *measure.Length {
	if r.Width != nil {
		return r.Width
	}
	tires, _ := overTires(r.Tow.Truck.Axles)
	return greatest(r.Unit.leastWidth(), r.Tow.Width, orNil(tires))
}

// Passing is how wide the rig is for what it passes between, mirrors included where they
// are given; least tells that it may be wider.
func (r Rig) Passing() (width *measure.Length, least bool) {
	return greatest(r.LeastWidth(), r.Tow.OverMirrors), r.Width == nil
}

// LeastMass is what the rig weighs at least; nil: nothing is known of it.
func (r Rig) LeastMass() *measure.Mass {
	if r.Mass != nil {
		return r.Mass
	}
	return greatest(r.Least, r.Unit.Mass, r.LeastUnit)
}

// across lists how wide each axle of a unit is over its tires.
func (u Unit) across() (out []limit.Across) {
	for _, a := range u.Frame.Axles {
		one := limit.Across{Tires: a.Tires}
		if over := a.OverTires(); over != nil {
			one.Over = *over
		}
		out = append(out, one)
	}
	return out
}

// greatest is the greatest of what is known; nil: nothing is.
func greatest[T ~int64](values ...*T) (out *T) {
	for _, v := range values {
		if v != nil && (out == nil || *v > *out) {
			out = v
		}
	}
	return out
}

func orNil(l measure.Length) *measure.Length {
	if l == 0 {
		return nil
	}
	return &l
}
