// Package draw draws a rig to scale, from the side and from behind, as it bends and as
// it turns a corner: as a picture, and the views with characters for a terminal.
//
// Both show the same: outline, axles, what they and the coupling carry, centre of
// gravity with its ends, what folds, slides or comes off, and what would stick
// out if it were forgotten. What is known has a solid line, what only stands when
// the unit stands a dashed one, what is not described a dotted one. What is not
// known is said in words and never drawn as if it were.
//
// A drawing is for planning and no proof of anything: it considers neither
// springs nor a road that is not level.
package draw

import (
	"errors"
	"io"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/routing/rig"
)

// Rig draws the side view and the rear view of a rig, and how it bends and turns. One
// unit of the picture is 1 mm of the rig in both views; x = 0 is the coupling point and
// y = 0 the ground of the side view. s are the [rig.Rig.Statics] of r; invented marks a
// rig that does not exist.
func Rig(in *phrase.Language, r rig.Rig, s rig.Statics, invented bool) *picture.Picture {
	return Tried(in, r, s, nil, invented)
}

// Views is what [Tried] draws, in pictures one below the other.
func Views(
	in *phrase.Language, r rig.Rig, s rig.Statics, tried *rig.Manoeuvre, invented bool,
) []*picture.Picture {
	p := newPlan(in, r, s, invented)
	p.tried = tried
	return p.views()
}

// Tried is [Rig] in the corner, the driveway or the gate that was tried; nil for a wide
// corner of a town.
func Tried(in *phrase.Language, r rig.Rig, s rig.Statics, tried *rig.Manoeuvre, invented bool) *picture.Picture {
	p := newPlan(in, r, s, invented)
	p.tried = tried
	return p.picture()
}

// Columns of a text drawing.
const (
	DefaultColumns = 100
	leastColumns   = 40 // fewer leave no room for a house and its height
)

// ErrColumns is returned for a text drawing that is to fit too few columns.
var ErrColumns = errors.New("a drawing takes at least 40 columns")

// Text writes the side view and the rear view of a rig with characters, both at
// one scale, which it states. No line is longer than columns, where 0 stands for
// [DefaultColumns]; a word that is longer, such as a name, is broken. A place is
// true to half a character. Errors are [ErrColumns] and those of w.
func Text(w io.Writer, in *phrase.Language, r rig.Rig, s rig.Statics, columns int, invented bool) error {
	if columns == 0 {
		columns = DefaultColumns
	}
	if columns < leastColumns {
		return ErrColumns
	}
	_, err := io.WriteString(w, newPlan(in, r, s, invented).text(columns))
	return err
}
