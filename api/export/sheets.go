package export

import (
	"io"
	"strconv"
	"strings"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/routing/trip"
)

// column is one of a sheet, under the name that JSON has for the same; its cells are
// numbers with a point, true or false, or texts, lists with semicolons between.
type column[T any] struct {
	name string
	cell func(T) string
}

// sheet writes a line for each of some things, with the mark of the answer that they
// are of: a sheet has no head for it.
func sheet[T any](w io.Writer, mark string, of []T, columns []column[T]) error {
	columns = append(columns, column[T]{"mark", func(T) string { return mark }})
	var names []string
	for _, c := range columns {
		names = append(names, c.name)
	}
	var records []rows.Record
	for _, one := range of {
		var r rows.Record
		for _, c := range columns {
			r = append(r, c.cell(one))
		}
		records = append(records, r)
	}
	return rows.WriteCSV(w, names, records)
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// perhaps is empty for what is not known.
func perhaps(v *float64) string {
	if v == nil {
		return ""
	}
	return number(*v)
}

func list(of []string) string { return strings.Join(of, "; ") }

// numbered is a thing with its place in a list.
type numbered[T any] struct {
	of   T
	in   string
	at   int
	from float64 // metres from the first stop
}

// waySheet has a line for each way, the best one first.
func waySheet(w io.Writer, v report.View, r *trip.Routes) error {
	type row = numbered[wire.Option]
	out := wire.NewRoutes(v.In, r)
	best := wire.Option{
		LengthM:  out.Best.LengthM,
		DrivingS: out.Best.DrivingS,
		SlowS:    out.Best.SlowS,
		Verdict:  out.Best.Verdict,
	}
	best.Jurisdictions, best.Roads = out.Best.Driven()
	all := []row{{of: best, in: "best"}}
	for i, o := range out.Alternatives {
		all = append(all, row{of: o, in: "alternative " + strconv.Itoa(i+1)})
	}
	if out.Free != nil {
		all = append(all, row{of: *out.Free, in: "free"})
	}
	if out.PermitFree != nil {
		all = append(all, row{of: *out.PermitFree, in: "permit_free"})
	}
	return sheet(w, out.Mark, all, []column[row]{
		{"way", func(o row) string { return o.in }},
		{"length_m", func(o row) string { return number(o.of.LengthM) }},
		{"driving_s", func(o row) string { return perhaps(o.of.DrivingS) }},
		{"driving_slow_s", func(o row) string { return perhaps(o.of.SlowS) }},
		{"extra_m", func(o row) string { return number(o.of.ExtraM) }},
		{"extra_driving_s", func(o row) string { return perhaps(o.of.ExtraS) }},
		{"outcome", func(o row) string { return string(o.of.Verdict.Outcome) }},
		{"unknowns", func(o row) string { return strconv.Itoa(o.of.Verdict.Unknowns) }},
		{"permits_added", func(o row) string { return list(o.of.Permits) }},
		{"permits_spared", func(o row) string { return list(o.of.Spared) }},
		{"jurisdictions", func(o row) string { return list(o.of.Jurisdictions) }},
		{"roads", func(o row) string { return list(o.of.Roads) }},
	})
}

// stepSheet has a line for each step of both ladders.
func stepSheet(w io.Writer, v report.View, l *trip.Ladders) error {
	type step = numbered[wire.LadderStep]
	out := wire.NewLadders(v.In, l)
	var all []step
	for i, s := range out.Open.Steps {
		all = append(all, step{of: s, in: "unmeasured_open", at: i + 1})
	}
	for i, s := range out.Shut.Steps {
		all = append(all, step{of: s, in: "unmeasured_shut", at: i + 1})
	}
	return sheet(w, out.Mark, all, []column[step]{
		{"ladder", func(s step) string { return s.in }},
		{"step", func(s step) string { return strconv.Itoa(s.at) }},
		{"most_m", func(s step) string { return perhaps(s.of.MostM) }},
		{"most_kg", func(s step) string { return perhaps(s.of.MostKG) }},
		{"by", func(s step) string { return s.of.By }},
		{"binds", func(s step) string { return numbers(s.of.Binds) }},
		{"length_m", func(s step) string { return number(s.of.LengthM) }},
		{"driving_s", func(s step) string { return perhaps(s.of.DrivingS) }},
		{"driving_slow_s", func(s step) string { return perhaps(s.of.SlowS) }},
		{"ferry", func(s step) string { return strconv.FormatBool(s.of.Ferry) }},
		{"unknowns", func(s step) string { return list(s.of.Unknowns) }},
		{"jurisdictions", func(s step) string { return list(s.of.Jurisdictions) }},
		{"passes", func(s step) string {
			if s.of.Passes == nil {
				return ""
			}
			return strconv.FormatBool(*s.of.Passes)
		}},
	})
}

// checkSheet has a line for each quantity in each jurisdiction.
func checkSheet(w io.Writer, v report.View, d *regs.Design) error {
	type answer struct {
		wire.DesignAnswer
		sum finding.RollUp
	}
	var all []answer
	out := wire.NewDesign(v.In, d)
	for i, a := range out.Answers {
		all = append(all, answer{a, finding.Roll(d.Answers[i].Findings)})
	}
	figure := func(f *wire.Figure) wire.Figure {
		if f == nil {
			return wire.Figure{}
		}
		return *f
	}
	stated := func(s *wire.Stated) wire.Stated {
		if s == nil {
			return wire.Stated{}
		}
		return *s
	}
	return sheet(w, out.Mark, all, []column[answer]{
		{"jurisdiction", func(a answer) string { return a.Jurisdiction }},
		{"quantity", func(a answer) string { return string(a.Quantity) }},
		{"outcome", func(a answer) string { return string(a.sum.Outcome()) }},
		{"unknowns", func(a answer) string { return strconv.Itoa(a.sum.Unknowns) }},
		{"proven_m", func(a answer) string { return perhaps(figure(a.Proven).M) }},
		{"proven_kg", func(a answer) string { return perhaps(figure(a.Proven).KG) }},
		{"stated_m", func(a answer) string { return perhaps(stated(a.Stated).M) }},
		{"stated_kg", func(a answer) string { return perhaps(stated(a.Stated).KG) }},
		{"stated_rows", func(a answer) string { return list(stated(a.Stated).Rows) }},
		{"to_clear", func(a answer) string { return a.ToClear }},
	})
}

// rigSheet has a line for each check of a rig by itself.
func rigSheet(w io.Writer, v report.View, a *wire.RigAnswer) error {
	type check = wire.Finding
	out := wire.NewRigReport(v.In, a)
	return sheet(w, out.Mark, out.Findings, []column[check]{
		{"rule", func(f check) string { return string(f.Rule) }},
		{"jurisdiction", func(f check) string { return f.Jurisdiction }},
		{"place", func(f check) string { return f.Place }},
		{"outcome", func(f check) string { return string(f.Outcome) }},
		{"reason", func(f check) string { return string(f.Reason) }},
		{"value_m", func(f check) string { return perhaps(f.ValueM) }},
		{"value_kg", func(f check) string { return perhaps(f.ValueKG) }},
		{"margin_m", func(f check) string { return perhaps(f.MarginM) }},
		{"margin_kg", func(f check) string { return perhaps(f.MarginKG) }},
		{"summary", func(f check) string { return f.Summary }},
	})
}
