package export

import (
	"io"

	"wayhouse/api/draw"
	"wayhouse/api/report"
	"wayhouse/api/wire"
)

// asSVG is a picture to scale.
func asSVG() Format {
	return Format{"svg", "image/svg+xml", []writer{of(SVG)}}
}

// SVG draws a rig.
func SVG(w io.Writer, v report.View, a *wire.RigAnswer) error {
	return draw.SVG(w, v.In, a.Report.Rig, a.Statics, a.Invented)
}
