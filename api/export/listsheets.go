package export

import (
	"cmp"
	"io"
	"slices"
	"strconv"
	"time"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/limit"
)

// coverSheet has a line for each quantity in each jurisdiction: how well the tables know it,
// and the row that comes nearest to clearing where none can.
func coverSheet(w io.Writer, _ report.View, c *wire.Coverage) error {
	type cover struct {
		code, quantity, known string
		wire.Blocked
	}
	var all []cover
	for _, code := range c.Codes {
		for _, q := range limit.Quantities() {
			if known, has := c.Coverage[code][q]; has {
				all = append(all, cover{code, string(q), string(known), c.Blocked[code][q]})
			}
		}
	}
	return sheet(w, "", all, []column[cover]{
		{"jurisdiction", func(c cover) string { return c.code }},
		{"quantity", func(c cover) string { return c.quantity }},
		{"coverage", func(c cover) string { return c.known }},
		{"row", func(c cover) string { return c.Row }},
		{"published", func(c cover) string { return c.Published }},
		{"cannot_clear", func(c cover) string { return list(c.Why) }},
	})
}

// jurisdictionSheet has a line for each jurisdiction.
func jurisdictionSheet(w io.Writer, _ report.View, all wire.Jurisdictions) error {
	type of = wire.Jurisdiction
	return sheet(w, "", all.Jurisdictions, []column[of]{
		{"code", func(j of) string { return j.Code }},
		{"name", func(j of) string { return j.Name }},
		{"name_fr", func(j of) string { return j.French }},
		{"time_zone", func(j of) string { return j.TimeZone }},
		{"ask", func(j of) string { return j.Ask }},
		{"rows", func(j of) string { return strconv.Itoa(j.Rows) }},
	})
}

// placeSheet has a line for each place.
func placeSheet(w io.Writer, _ report.View, all wire.Places) error {
	type of = wire.Place
	return sheet(w, "", all.Places, []column[of]{
		{"kind", func(p of) string { return p.Kind }},
		{"name", func(p of) string { return p.Name }},
		{"town", func(p of) string { return p.Town }},
		{"jurisdiction", func(p of) string { return p.Jurisdiction }},
		{"lat", func(p of) string { return number(p.Lat) }},
		{"lon", func(p of) string { return number(p.Lon) }},
	})
}

// partSheet has a line for each entry of the catalogue.
func partSheet(w io.Writer, _ report.View, all *wire.PartList) error {
	type of = wire.PartEntry
	return sheet(w, "", all.Parts, []column[of]{
		{"id", func(p of) string { return p.ID }},
		{"name", func(p of) string { return p.Name }},
		{"group", func(p of) string { return p.Group }},
		{"per", func(p of) string { return string(p.Per) }},
		{"low_kg", func(p of) string { return number(p.LowKG) }},
		{"typical_kg", func(p of) string { return number(p.TypicalKG) }},
		{"high_kg", func(p of) string { return number(p.HighKG) }},
		{"status", func(p of) string { return p.Status }},
		{"source", func(p of) string { return p.Source }},
	})
}

// revisionSheet has a line for each change of the tables.
func revisionSheet(w io.Writer, _ report.View, all wire.Revisions) error {
	type of = wire.Revision
	return sheet(w, "", all.Revisions, []column[of]{
		{"tables_revision", func(r of) string { return strconv.Itoa(r.Number) }},
		{"made_at", func(r of) string { return r.MadeAt }},
		{"who", func(r of) string { return r.Who }},
		{"why", func(r of) string { return r.Why }},
	})
}

// savedSheet has a line for each saved trip.
func savedSheet(w io.Writer, _ report.View, all wire.SavedTrips) error {
	type of = wire.SavedTrip
	mark := ""
	for _, t := range all.Trips {
		mark = cmp.Or(mark, t.Mark)
	}
	return sheet(w, mark, all.Trips, slices.Concat([]column[of]{
		{"id", func(t of) string { return t.ID }},
		{"version", func(t of) string { return strconv.Itoa(t.Version) }},
		{"made_at", func(t of) string { return t.MadeAt.Format(time.RFC3339) }},
		{"who", func(t of) string { return t.Who }},
		{"why", func(t of) string { return t.Why }},
		{"name", func(t of) string { return t.Name }},
		{"tables", func(t of) string { return t.Tables }},
		{"network_revision", func(t of) string { return t.Network }},
		{"outcome", func(t of) string { return string(t.Outcome) }},
		{"unknowns", func(t of) string { return strconv.Itoa(t.Unknowns) }},
	}, totals(func(t of) *wire.JobQuote {
		if t.Quote == nil {
			return nil
		}
		return &t.Quote.JobQuote
	}), []column[of]{
		{"valid_until", func(t of) string {
			if t.Quote == nil {
				return ""
			}
			return t.Quote.ValidUntil
		}},
	}))
}

// totals are what the quote of a line comes to, all empty where it has none.
func totals[T any](of func(T) *wire.JobQuote) []column[T] {
	in := func(text func(wire.JobQuote) *string) func(T) string {
		return func(line T) string {
			if q := of(line); q != nil {
				return *cmp.Or(text(*q), new(string))
			}
			return ""
		}
	}
	return []column[T]{
		{"total_low", in(func(q wire.JobQuote) *string { return q.Total.Low })},
		{"total_likely", in(func(q wire.JobQuote) *string { return q.Total.Likely })},
		{"total_high", in(func(q wire.JobQuote) *string { return q.Total.High })},
		{"currency", in(func(q wire.JobQuote) *string { return &q.Currency })},
		{"unpriced", in(func(q wire.JobQuote) *string { n := strconv.Itoa(q.Unpriced); return &n })},
	}
}

// seasonSheet has a line for each job of a season.
func seasonSheet(w io.Writer, _ report.View, s wire.Season) error {
	type of = wire.Job
	moment := func(at *time.Time) string {
		if at == nil {
			return ""
		}
		return at.Format(time.RFC3339)
	}
	mark := ""
	for _, j := range s.Jobs {
		mark = cmp.Or(mark, j.Mark)
	}
	return sheet(w, mark, s.Jobs, slices.Concat([]column[of]{
		{"id", func(j of) string { return j.ID }},
		{"outcome", func(j of) string { return string(j.Outcome) }},
		{"unknowns", func(j of) string { return counted(j.Unknowns) }},
		{"length_m", func(j of) string { return perhaps(j.LengthM) }},
		{"driving_s", func(j of) string { return perhaps(j.DrivingS) }},
		{"driving_slow_s", func(j of) string { return perhaps(j.SlowS) }},
		{"departure", func(j of) string { return moment(j.Depart) }},
		{"arrival", func(j of) string { return moment(j.Arrival) }},
		{"arrival_slow", func(j of) string { return moment(j.Late) }},
		{"fuel_likely_l", func(j of) string { return perhaps(j.FuelL) }},
		{"permits", func(j of) string { return counted(j.Permits) }},
		{"escorts", func(j of) string { return counted(j.Escorts) }},
		{"permits_not_known", func(j of) string { return list(j.PermitsOpen) }},
		{"escorts_not_known", func(j of) string { return list(j.EscortsOpen) }},
	}, totals(func(j of) *wire.JobQuote { return j.Quote }), []column[of]{
		{"error", func(j of) string { return j.Error }},
	}))
}

// counted is empty for what was not counted: a job without a plan asks not for 0 permits.
func counted(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}
