package export

import (
	"io"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// quoteSheet has a line for each line of a quote, or of the customer's copy for each heading.
func quoteSheet(w io.Writer, v report.View, p *trip.Priced) error {
	out := wire.NewQuote(v.In, p)
	end := func(s *string) string {
		if s == nil {
			return ""
		}
		return *s
	}
	if p.CustomerCopy {
		type sum = wire.QuoteSum
		return sheet(w, out.Mark, out.Headings, []column[sum]{
			{"heading", func(s sum) string { return s.Heading }},
			{"low", func(s sum) string { return end(s.Amount.Low) }},
			{"likely", func(s sum) string { return end(s.Amount.Likely) }},
			{"high", func(s sum) string { return end(s.Amount.High) }},
			{"currency", func(sum) string { return out.Currency }},
			{"unpriced", func(s sum) string { return list(s.Unpriced) }},
		})
	}
	type line = wire.QuoteLine
	return sheet(w, out.Mark, out.Lines, []column[line]{
		{"item", func(l line) string { return l.Item }},
		{"name", func(l line) string { return l.Name }},
		{"heading", func(l line) string { return l.Heading }},
		{"jurisdiction", func(l line) string { return l.Jurisdiction }},
		{"quantity_low", func(l line) string { return end(l.Quantity.Low) }},
		{"quantity_likely", func(l line) string { return end(l.Quantity.Likely) }},
		{"quantity_high", func(l line) string { return end(l.Quantity.High) }},
		{"unit", func(l line) string { return l.Unit }},
		{"rate", func(l line) string { return end(l.Rate.Likely) }},
		{"rate_currency", func(l line) string { return l.Currency }},
		{"low", func(l line) string { return end(l.Amount.Low) }},
		{"likely", func(l line) string { return end(l.Amount.Likely) }},
		{"high", func(l line) string { return end(l.Amount.High) }},
		{"currency", func(line) string { return out.Currency }},
		{"row", func(l line) string { return l.Row }},
		{"source", func(l line) string { return l.Source }},
		{"unknown", func(l line) string { return l.Unknown }},
		{"ask", func(l line) string { return l.Ask }},
	})
}
