package export

import (
	"io"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
)

// asText is for people.
func asText() Format {
	return Format{"text", "text/plain; charset=utf-8", []writer{
		of(func(w io.Writer, p *trip.Plan) error { return report.Text(w, p, credits(p.About)) }),
		of(func(w io.Writer, r *trip.Routes) error { return report.Routes(w, r, credits(r.Best.About)) }),
		of(func(w io.Writer, l *trip.Ladders) error { return report.Ladders(w, l, credits(l.About)) }),
		of(func(w io.Writer, a *wire.RigAnswer) error {
			return report.Rig(w, a.Report, a.Plan, a.Tables, a.Invented)
		}),
		of(func(w io.Writer, d *regs.Design) error { return report.Design(w, d, false) }),
		of(func(w io.Writer, d EveryRow) error { return report.Design(w, d.Design, true) }),
		of(report.Coverage),
	}}
}

// EveryRow is a check of which a text has every row with its source, and not only
// those that decide. All other forms have them anyway.
type EveryRow struct{ *regs.Design }

// credits are what an answer on a network must carry, a line each.
func credits(about network.About) (lines []string) {
	for _, a := range wire.Credits(about, false) {
		lines = append(lines, a.String())
	}
	return lines
}
