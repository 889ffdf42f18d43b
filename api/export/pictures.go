package export

import (
	"io"

	"wayhouse/api/draw"
	"wayhouse/api/draw/picture"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// asSVG is a picture of lines: a rig to scale, the strip of a trip.
func asSVG() Format {
	return Format{"svg", "image/svg+xml", []writer{
		of(func(w io.Writer, v report.View, a *wire.RigAnswer) error { return ofRig(v, a).SVG(w) }),
		of(func(w io.Writer, v report.View, p *trip.Plan) error { return ofTrip(v, p).SVG(w) }),
	}}
}

// asPNG is the same picture, of pixels.
func asPNG() Format {
	return Format{"png", "image/png", []writer{
		of(func(w io.Writer, v report.View, a *wire.RigAnswer) error { return ofRig(v, a).PNG(w, picture.Pixels) }),
		of(func(w io.Writer, v report.View, p *trip.Plan) error { return ofTrip(v, p).PNG(w, picture.Pixels) }),
	}}
}

// Pictures are the formats that are pictures of an answer of a kind.
func Pictures[A any]() (out []Format) {
	for _, f := range For[A]() {
		if f.Name == asSVG().Name || f.Name == asPNG().Name {
			out = append(out, f)
		}
	}
	return out
}

// ofRig draws a rig.
func ofRig(v report.View, a *wire.RigAnswer) *picture.Picture {
	return draw.Tried(v.In, a.Report.Rig, a.Statics, a.Corner, a.Invented)
}

// ofTrip draws a trip.
func ofTrip(v report.View, p *trip.Plan) *picture.Picture {
	return draw.Trip(v.In, p, credits(v, p.About))
}
