package export

import (
	"io"

	"wayhouse/api/draw"
	"wayhouse/api/wire"
)

// asSVG is a picture to scale.
func asSVG() Format {
	return Format{"svg", "image/svg+xml", []writer{of(SVG)}}
}

// SVG draws a rig.
func SVG(w io.Writer, a *wire.RigAnswer) error {
	return draw.SVG(w, a.Report.Rig, a.Statics, a.Invented)
}
