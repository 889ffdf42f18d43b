package export

import (
	"io"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
)

// asText is for people.
func asText() Format {
	return Format{"text", "text/plain; charset=utf-8", []writer{
		of(func(w io.Writer, v report.View, p *trip.Plan) error { return report.Plan(w, v, p, credits(v, p.About)) }),
		of(func(w io.Writer, v report.View, r *trip.Routes) error {
			return report.Routes(w, v, r, credits(v, r.Best.About))
		}),
		of(func(w io.Writer, v report.View, l *trip.Ladders) error {
			return report.Ladders(w, v, l, credits(v, l.About))
		}),
		of(func(w io.Writer, v report.View, m *trip.Moves) error {
			return report.Moves(w, v, m, credits(v, m.About))
		}),
		of(func(w io.Writer, v report.View, p *trip.Priced) error {
			return report.Quote(w, v, p, credits(v, p.Plan.About))
		}),
		of(report.Rig),
		of(report.Design),
		of(report.Comparison),
		of(report.Coverage),
		of(report.Jurisdictions),
		of(report.Settings),
		of(report.Places), of(report.Parts), of(report.Sources), of(report.Tables), of(report.Rows),
		of(report.Versions), of(report.Revisions), of(report.Differences), of(report.SavedTrips), of(report.Season),
	}}
}

// credits are what an answer on a network must carry, a line each.
func credits(v report.View, about network.About) (lines []string) {
	for _, a := range wire.Credits(v.In, about, false) {
		lines = append(lines, a.String())
	}
	return lines
}
