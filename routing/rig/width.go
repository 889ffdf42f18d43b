package rig

import (
	"slices"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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
	said, given := u.Width.Least()
	house := said
	e, shaped := u.extent(Travelling, nil)
	if shaped {
		house = e.Width()
		if u.Width.Known() && said != house && said != u.overAll(tires) {
			width := &said
			return agree("unit.width", &width, house, say.That("measured.outline"))
		}
	}
	if !given && !shaped { // its tires alone are no width of a unit
		return nil
	}
	width := max(house, said)
	more := u.Width.AtLeast() || !all && !within(width, u.Frame.Axles) && (!given || tires > said)
	width = max(width, u.overAll(tires))
	if u.Width = measure.Exactly(width); more {
		u.Width = u.Width.OrMore()
	}
	if house != width {
		u.House = &house
	}
	return nil
}

// overAll is how wide the outline of a unit and tires are together.
func (u Unit) overAll(tires measure.Length) measure.Length {
	e, _ := u.extent(Travelling, nil)
	return e.over(tires).Width()
}

// WithoutTires is the width of a unit without its tires, or a least one.
func (u Unit) WithoutTires() (width measure.Length, known bool) {
	if u.House != nil {
		return *u.House, true
	}
	return u.Width.Least()
}

// across is what a unit measures across, of tires alone at least that.
func (u Unit) across() measure.Known[measure.Length] { return orTires(u.Width, u.Frame.Axles) }

// across is what a tow vehicle measures across, of tires alone at least that.
func (t Tow) across() measure.Known[measure.Length] { return orTires(t.Width, t.Truck.Axles) }

func orTires(width measure.Known[measure.Length], axles []Axle) measure.Known[measure.Length] {
	if tires, _ := overTires(axles); width.Open() && tires > 0 {
		return measure.AtLeast(tires)
	}
	return width
}

// measuredWidth takes the greater of the body and its tires for the width of a tow
// vehicle.
func (t *Tow) measuredWidth() {
	tires, all := overTires(t.Truck.Axles)
	if body, given := t.Width.Least(); !given || tires <= body {
		return
	}
	if t.Width = measure.Exactly(tires); !all {
		t.Width = t.Width.OrMore()
	}
}

// Alone takes the height and the width of a unit for those of the rig, where no tow
// vehicle is given: a design is checked before anybody knows what will pull it. What is
// known of the unit as a least value alone stays one.
func (r Rig) Alone() Rig {
	r.Height, r.Width = measure.Given(r.Unit.Height), r.Unit.across()
	return r
}

// Passing is how wide the rig is for what it passes between, mirrors included where they
// are given.
func (r Rig) Passing() measure.Known[measure.Length] {
	if r.Tow.OverMirrors == nil {
		return r.Width
	}
	return measure.Greatest(r.Width, measure.Exactly(*r.Tow.OverMirrors))
}

// Weighs is what the rig weighs, or at least: no less than its unit.
func (r Rig) Weighs() measure.Known[measure.Mass] {
	if r.Mass.Known() {
		return r.Mass
	}
	return measure.Greatest(r.Mass, r.Unit.Mass).OrMore()
}

// eachAcross lists how wide each axle of a unit is over its tires.
func (u Unit) eachAcross() (out []limit.Across) {
	for _, a := range u.Frame.Axles {
		one := limit.Across{Tires: a.Tires}
		if over := a.OverTires(); over != nil {
			one.Over = *over
		}
		out = append(out, one)
	}
	return out
}
