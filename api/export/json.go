package export

import (
	"encoding/json"
	"io"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/compare"
	"wayhouse/routing/trip"
)

// asJSON is for programs.
func asJSON() Format {
	return Format{"json", "application/json", []writer{
		of(func(w io.Writer, v report.View, p *trip.Plan) error { return JSON(w, wire.NewTrip(v.In, p)) }),
		of(func(w io.Writer, v report.View, p *trip.Priced) error { return JSON(w, wire.NewQuote(v.In, p)) }),
		of(func(w io.Writer, v report.View, r *trip.Routes) error { return JSON(w, wire.NewRoutes(v.In, r)) }),
		of(func(w io.Writer, v report.View, l *trip.Ladders) error { return JSON(w, wire.NewLadders(v.In, l)) }),
		of(func(w io.Writer, v report.View, m *trip.Moves) error { return JSON(w, wire.NewMoves(v.In, m)) }),
		of(func(w io.Writer, v report.View, a *wire.RigAnswer) error { return JSON(w, wire.NewRigReport(v.In, a)) }),
		of(func(w io.Writer, v report.View, d *regs.Design) error { return JSON(w, wire.NewDesign(v.In, d)) }),
		of(func(w io.Writer, v report.View, c *compare.Comparison) error {
			return JSON(w, wire.NewComparison(v.In, c))
		}),
		asIs[*wire.Coverage](), asIs[wire.Jurisdictions](), asIs[wire.Settings](), asIs[wire.Places](),
		asIs[*wire.PartList](), asIs[wire.Sources](), asIs[wire.TableList](), asIs[wire.RowList](),
		asIs[wire.RowVersions](), asIs[wire.Revisions](), asIs[wire.Compared](), asIs[wire.SavedTrips](),
		asIs[wire.Season](),
	}}
}

// asIs writes what is its own JSON.
func asIs[A any]() writer {
	return of(func(w io.Writer, _ report.View, a A) error { return JSON(w, a) })
}

// JSON writes a value as all JSON is written here: with line breaks, since people
// read it too, and with the signs of HTML as they are.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
