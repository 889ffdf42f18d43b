package rig

import (
	"cmp"
	"math"

	"wayhouse/regs/measure"
)

// Face is one side of a box of the outline.
type Face string

// The faces.
const (
	FrontFace  Face = "front"
	RearFace   Face = "rear"
	LeftFace   Face = "left"
	RightFace  Face = "right"
	BottomFace Face = "bottom"
	TopFace    Face = "top"
)

// Faces lists the faces.
func Faces() []Face { return []Face{FrontFace, RearFace, LeftFace, RightFace, BottomFace, TopFace} }

// Corner is a point of a unit.
type Corner struct{ Along, Across, Up measure.Length }

// Surface is a flat wall, floor or roof: how large it is, and where its middle is.
type Surface struct {
	Area   measure.Area
	Middle Corner
}

// corners returns two opposite corners of a face.
func (b Box) corners(f Face) (from, to Corner) {
	from, to = Corner{b.From, -b.Left, b.Bottom}, Corner{b.To, b.Right, b.Top}
	switch f {
	case FrontFace:
		to.Along = from.Along
	case RearFace:
		from.Along = to.Along
	case LeftFace:
		to.Across = from.Across
	case RightFace:
		from.Across = to.Across
	case BottomFace:
		to.Up = from.Up
	case TopFace:
		from.Up = to.Up
	}
	return from, to
}

// Surface is one face of the box, as a flat rectangle.
func (b Box) Surface(f Face) Surface {
	from, to := b.corners(f)
	return Spanned(from, to, false)
}

// Spanned is the flat rectangle between two opposite corners: a wall where they
// differ in height and along or across, a floor where they do not differ in height.
// Where they differ in all three it is a roof that falls across the unit, or along
// it where lengthwise is true. Corners on one line span nothing: the area is 0.
func Spanned(from, to Corner, lengthwise bool) Surface {
	along, across := (to.Along - from.Along).Metres(), (to.Across - from.Across).Metres()
	up := (to.Up - from.Up).Metres()
	var area float64
	switch {
	case along == 0:
		area = across * up
	case across == 0:
		area = along * up
	case lengthwise:
		area = across * math.Hypot(along, up)
	default:
		area = along * math.Hypot(across, up)
	}
	return Surface{measure.Area(math.Abs(area)), Corner{
		from.Along + (to.Along-from.Along)/2, from.Across + (to.Across-from.Across)/2, from.Up + (to.Up-from.Up)/2,
	}}
}

// Place is the corner as a place that is known.
func (c Corner) Place() Coordinates { return Coordinates{&c.Along, &c.Across, &c.Up} }

// Middle is the middle of a box.
func (b Box) Middle() Corner {
	return Corner{b.From + (b.To-b.From)/2, (b.Right - b.Left) / 2, b.Bottom + (b.Top-b.Bottom)/2}
}

// Or takes what is not known of a place from a corner.
func (c Coordinates) Or(other Corner) Coordinates {
	o := other.Place()
	return Coordinates{cmp.Or(c.Along, o.Along), cmp.Or(c.Across, o.Across), cmp.Or(c.Up, o.Up)}
}
