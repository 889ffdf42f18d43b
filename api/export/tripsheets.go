package export

import (
	"io"
	"slices"
	"strconv"
	"time"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// tripSheets are the sheets of a trip, that of its legs where none is named.
var tripSheets = []struct {
	name  string
	write func(io.Writer, *wire.Trip) error
}{{"legs", legSheet}, {"structures", structureSheet}, {"tasks", taskSheet}, {"timetable", timeSheet}}

// Sheets are the names of the sheets of a trip.
func Sheets() (out []string) {
	for _, s := range tripSheets {
		out = append(out, s.name)
	}
	return out
}

// tripSheet writes the sheet of a trip that is asked for. The error is a
// [*measure.FieldError] for a name of none.
func tripSheet(w io.Writer, v report.View, p *trip.Plan) error {
	i := 0
	if v.Sheet != "" {
		if i = slices.Index(Sheets(), v.Sheet); i < 0 {
			return &measure.FieldError{Field: "sheet", Value: v.Sheet, Problem: say.That("error.no_sheet"),
				Fix: say.That("fix.one_of", "words", Sheets())}
		}
	}
	return tripSheets[i].write(w, wire.NewTrip(v.In, p))
}

// legSheet has a line for each leg of a trip.
func legSheet(w io.Writer, out *wire.Trip) error {
	type leg = numbered[wire.Leg]
	var legs []leg
	from := 0.0
	for i, l := range out.Legs {
		legs = append(legs, leg{of: l, at: i + 1, from: from})
		from += l.LengthM
	}
	return sheet(w, out.Mark, legs, []column[leg]{
		{"leg", func(l leg) string { return strconv.Itoa(l.at) }},
		{"from", func(l leg) string { return l.of.From }},
		{"to", func(l leg) string { return l.of.To }},
		{"jurisdictions", func(l leg) string { return list(l.of.Jurisdictions) }},
		{"towns", func(l leg) string { return list(l.of.Towns) }},
		{"roads", func(l leg) string { return list(l.of.Roads) }},
		{"from_m", func(l leg) string { return number(tenths(l.from)) }},
		{"length_m", func(l leg) string { return number(l.of.LengthM) }},
		{"start", func(l leg) string {
			if l.of.Start == nil {
				return ""
			}
			return l.of.Start.Format(time.RFC3339)
		}},
		{"driving_s", func(l leg) string { return perhaps(l.of.DrivingS) }},
		{"driving_slow_s", func(l leg) string { return perhaps(l.of.SlowS) }},
		{"fuel_likely_l", func(l leg) string { return perhaps(l.of.Fuel.LikelyL) }},
		{"fuel_low_l", func(l leg) string { return perhaps(l.of.Fuel.LowL) }},
		{"fuel_high_l", func(l leg) string { return perhaps(l.of.Fuel.HighL) }},
		{"outcome", func(l leg) string { return string(l.of.Verdict.Outcome) }},
		{"unknowns", func(l leg) string { return strconv.Itoa(l.of.Verdict.Unknowns) }},
		{"unmatched", func(l leg) string { return strconv.FormatBool(l.of.Unmatched) }},
	})
}

// structureSheet has a line for each structure on the way, in the order of travel.
func structureSheet(w io.Writer, out *wire.Trip) error {
	type row = numbered[wire.Structure]
	var all []row
	from := 0.0
	for i, l := range out.Legs {
		for _, s := range l.Structures {
			all = append(all, row{of: s, at: i + 1, from: from + s.AtM})
		}
		from += l.LengthM
	}
	return sheet(w, out.Mark, all, []column[row]{
		{"leg", func(s row) string { return strconv.Itoa(s.at) }},
		{"id", func(s row) string { return s.of.ID }},
		{"name", func(s row) string { return s.of.Name }},
		{"from_m", func(s row) string { return number(tenths(s.from)) }},
		{"lat", func(s row) string { return number(s.of.Lat) }},
		{"lon", func(s row) string { return number(s.of.Lon) }},
		{"outcome", func(s row) string { return string(s.of.Outcome) }},
		{"margin_m", func(s row) string { return perhaps(s.of.MarginM) }},
		{"sum", func(s row) string { return s.of.Sum }},
		{"why", func(s row) string { return s.of.Why }},
		{"others", func(s row) string { return list(s.of.Others) }},
		{"doubt", func(s row) string { return s.of.Doubt }},
		{"ask", func(s row) string { return s.of.Ask }},
	})
}

// taskSheet has a line for each question of each task, in the order in which they help.
func taskSheet(w io.Writer, out *wire.Trip) error {
	type row struct {
		of     wire.Task
		ask    wire.TaskAsk
		number int
	}
	var all []row
	for i, t := range out.Tasks.List {
		for _, a := range t.Asks {
			all = append(all, row{t, a, i + 1})
		}
	}
	return sheet(w, out.Mark, all, []column[row]{
		{"task", func(r row) string { return strconv.Itoa(r.number) }},
		{"id", func(r row) string { return r.of.ID }},
		{"by", func(r row) string { return string(r.ask.By) }},
		{"whom", func(r row) string { return r.of.Whom }},
		{"asks", func(r row) string { return r.ask.Asks }},
		{"legs", func(r row) string { return numbers(r.of.Legs) }},
		{"alone", func(r row) string { return strconv.Itoa(r.of.Alone) }},
		{"helps", func(r row) string { return strconv.Itoa(r.of.Helps) }},
		{"command", func(r row) string { return r.ask.Command }},
	})
}

func numbers(of []int) string {
	var out []string
	for _, n := range of {
		out = append(out, strconv.Itoa(n))
	}
	return list(out)
}

// timeSheet has a line for each entry of the timetable; none where there is none.
func timeSheet(w io.Writer, out *wire.Trip) error {
	type row struct {
		of   wire.TravelEntry
		date string
	}
	var all []row
	if out.Timetable != nil {
		for _, d := range out.Timetable.Days {
			for _, e := range d.Entries {
				all = append(all, row{e, d.Date})
			}
		}
	}
	return sheet(w, out.Mark, all, []column[row]{
		{"date", func(r row) string { return r.date }},
		{"kind", func(r row) string { return string(r.of.Kind) }},
		{"from", func(r row) string { return r.of.From.Format(time.RFC3339) }},
		{"to", func(r row) string { return r.of.To.Format(time.RFC3339) }},
		{"to_likely", func(r row) string { return r.of.Likely.Format(time.RFC3339) }},
		{"stop", func(r row) string { return ordinal(r.of.Stop) }},
		{"leg", func(r row) string { return ordinal(r.of.Leg) }},
		{"begins_m", func(r row) string { return number(r.of.BeginsM) }},
		{"ends_m", func(r row) string { return number(r.of.EndsM) }},
		{"why", func(r row) string { return string(r.of.Why) }},
		{"if_holidays", func(r row) string { return strconv.FormatBool(r.of.IfHolidays) }},
		{"hours_not_known", func(r row) string { return list(r.of.HoursOpen) }},
	})
}

// ordinal is empty for none.
func ordinal(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}
