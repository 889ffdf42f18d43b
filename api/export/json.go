package export

import (
	"encoding/json"
	"io"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/routing/trip"
)

// asJSON is for programs.
func asJSON() Format {
	return Format{"json", "application/json", []writer{
		of(func(w io.Writer, p *trip.Plan) error { return JSON(w, wire.NewTrip(p)) }),
		of(func(w io.Writer, r *trip.Routes) error { return JSON(w, wire.NewRoutes(r)) }),
		of(func(w io.Writer, l *trip.Ladders) error { return JSON(w, wire.NewLadders(l)) }),
		of(func(w io.Writer, a *wire.RigAnswer) error { return JSON(w, wire.NewRigReport(a)) }),
		of(func(w io.Writer, d *regs.Design) error { return JSON(w, wire.NewDesign(d)) }),
		of(func(w io.Writer, d EveryRow) error { return JSON(w, wire.NewDesign(d.Design)) }),
		of(func(w io.Writer, c *wire.Coverage) error { return JSON(w, c) }),
	}}
}

// JSON writes a value as all JSON is written here: with line breaks, since people
// read it too, and with the signs of HTML as they are.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
