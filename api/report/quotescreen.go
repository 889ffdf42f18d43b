package report

import (
	"io"
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/money"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Quote writes the quote of a plan as plain text: one screen of it, what its trip says of one
// subject, or all. attributions are the credits of the data, a line each.
func Quote(w io.Writer, v View, p *trip.Priced, attributions []string) error {
	if v.Why != "" {
		return why(w, v, subjects(p.Plan), p.Plan.Tasks())
	}
	s := quoteScreen(v, p)
	if v.Full {
		s.grounds(p.Assumptions(), p.Plan.Cautions, p.Plan.About, p.Plan.Tables, attributions)
	}
	return s.write(w, v)
}

// quoteScreen is a quote on one screen: what for and whom, what it comes to and what that
// leaves out, a line each or, for the customer, a heading each, and the terms.
func quoteScreen(v View, p *trip.Priced) *screen {
	s := &screen{in: v.In, full: v.Full}
	q := p.Quote
	from, to := p.Plan.Ends()
	s.whole().briefly(say.That("quote.title", "invented", q.Invented, "number", s.clip(q.Number), "version", q.Version,
		"name", s.clip(p.Plan.Name), "from", s.name(from), "to", s.name(to)))
	s.part(say.That("quote.label.for")).
		keeps(say.That("quote.for", "whom", s.clip(q.For), "unit", s.clip(p.Plan.Rig.Unit.Name),
			"quoted", say.Day(q.Quoted), "on", say.Day(q.On), "until", perhapsDay(q), "past", q.Expired(),
			"length", p.Plan.Length))
	s.order(p.Plan)
	s.part(say.That("quote.label.price")).keeps(q.ComesTo())
	if len(q.Hindrances()) > 0 {
		s.part(say.That("quote.label.draft")).keeps(say.That("quote.draft", "why", q.HindersShown(p.CustomerCopy)))
	}
	if p.CustomerCopy {
		s.headings(q)
	} else {
		s.lines(q)
	}
	s.unpriced(q, p.CustomerCopy)
	terms := s.apart(say.That("quote.label.terms"))
	for _, all := range [][]say.Remark{q.TermsSay(false), q.TermsSay(true)} {
		if len(all) > 0 {
			terms.keeps(say.That("quote.terms", "all", all))
		}
	}
	if !p.CustomerCopy {
		s.part(say.That("quote.label.card")).tells(q.ByCard())
	}
	last := s.whole()
	last.apart = true
	last.keeps(say.That("quote.words"), p.Plan.Cautions[0])
	s.credit(p.Plan.About)
	return s
}

func perhapsDay(q *quote.Quote) any {
	if q.ValidUntil.IsZero() {
		return ""
	}
	return say.Day(q.ValidUntil)
}

// lines writes a row for each line that has an amount.
func (s *screen) lines(q *quote.Quote) {
	if q.NothingPriced() {
		return
	}
	part := s.whole()
	part.apart = true
	part.head(
		say.That("quote.column.item"),
		say.That("quote.column.quantity"),
		say.That("quote.column.rate"),
		say.That("quote.column.likely"),
		say.That("quote.column.low"),
		say.That("quote.column.high"),
	)
	for _, l := range q.Lines {
		if l.Priced() {
			part.row(true, "", s.in.Say(l.Says()), s.in.Say(l.Counts(q.Currency)), s.in.Say(l.Price()),
				s.amount(l.Amount.Likely, q), s.amount(l.Amount.Low, q), s.amount(l.Amount.High, q))
		}
	}
	part.row(true, "", s.in.Say(say.That("quote.sum")), "", "", s.amount(q.Total.Likely, q), s.amount(q.Total.Low, q),
		s.amount(q.Total.High, q))
}

// headings writes a row for each heading.
func (s *screen) headings(q *quote.Quote) {
	if q.NothingPriced() {
		return
	}
	part := s.whole()
	part.apart = true
	part.head(
		say.That("quote.column.item"),
		say.That("quote.column.likely"),
		say.That("quote.column.low"),
		say.That("quote.column.high"),
	)
	row := func(name say.Remark, r quote.Range) {
		part.row(true, "", s.in.Say(name), s.amount(r.Likely, q), s.amount(r.Low, q), s.amount(r.High, q))
	}
	for _, h := range q.Sums() {
		if slices.ContainsFunc(h.Lines, quote.Line.Priced) {
			row(say.That("quote.under", "heading", h.Heading), h.Amount)
		}
	}
	row(say.That("quote.sum"), q.Total)
}

// unpriced says what has no price, why, and whom to ask.
func (s *screen) unpriced(q *quote.Quote, customer bool) {
	part := s.apart(say.That("quote.label.unpriced"))
	for _, r := range q.NotPriced(customer) {
		part.briefly(r)
	}
	for _, r := range q.InDoubt(customer) {
		part.tells(r)
	}
}

func (s *screen) amount(d *apd.Decimal, q *quote.Quote) string {
	if d == nil {
		return s.in.Say(say.That("quote.open"))
	}
	return s.in.Amount(money.Money{Amount: d, Currency: q.Currency})
}
