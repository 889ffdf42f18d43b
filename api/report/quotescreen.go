package report

import (
	"io"
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/money"
	"wayhouse/regs/rates"
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
			"quoted", say.Day(q.Quoted), "on", say.Day(q.On), "until", perhapsDay(q), "length", p.Plan.Length))
	s.part(say.That("quote.label.price")).keeps(comesTo(q))
	if hindered := q.Hindrances(); len(hindered) > 0 {
		s.part(say.That("quote.label.draft")).keeps(say.That("quote.draft", "why", hindered))
	}
	if p.CustomerCopy {
		s.headings(q)
	} else {
		s.lines(q)
	}
	s.unpriced(q, p.CustomerCopy)
	terms := s.apart(say.That("quote.label.terms"))
	for _, all := range [][]say.Remark{termsOf(q, false), termsOf(q, true)} {
		if len(all) > 0 {
			terms.keeps(say.That("quote.terms", "all", all))
		}
	}
	if !p.CustomerCopy {
		s.card(q)
	}
	last := s.whole()
	last.apart = true
	last.keeps(say.That("quote.words"), p.Plan.Cautions[0])
	s.credit(p.Plan.About)
	return s
}

// termsOf are what the card says of the contract, or what is charged if it comes to it.
func termsOf(q *quote.Quote, contract bool) (out []say.Remark) {
	for _, r := range q.Terms {
		if r.Item.IsTerm() == contract {
			out = append(out, quote.TermSays(r))
		}
	}
	return out
}

func perhapsDay(q *quote.Quote) any {
	if q.ValidUntil.IsZero() {
		return ""
	}
	return say.Day(q.ValidUntil)
}

// comesTo is what a quote comes to, and what that leaves out.
func comesTo(q *quote.Quote) say.Remark {
	in := func(d *apd.Decimal) any {
		if d == nil {
			return nil
		}
		return money.Money{Amount: d, Currency: q.Currency}
	}
	return say.That("quote.total", "likely", in(q.Total.Likely), "low", in(q.Total.Low), "high", in(q.Total.High),
		"unpriced", q.Unpriced(), "spread", q.Total.High == nil || q.Total.Low.Cmp(q.Total.High) != 0)
}

// lines writes a row for each line that has an amount.
func (s *screen) lines(q *quote.Quote) {
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
			part.row(true, "", s.in.Say(l.Says()), s.quantity(l, q), s.rate(l), s.amount(l.Amount.Likely, q),
				s.amount(l.Amount.Low, q), s.amount(l.Amount.High, q))
		}
	}
	part.row(true, "", s.in.Say(say.That("quote.sum")), "", "", s.amount(q.Total.Likely, q), s.amount(q.Total.Low, q),
		s.amount(q.Total.High, q))
}

// headings writes a row for each heading.
func (s *screen) headings(q *quote.Quote) {
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
	for _, l := range q.Lines {
		if !l.Priced() {
			whom := l.Whom
			if customer {
				whom = say.Remark{}
			}
			part.briefly(say.That("quote.not_priced", "what", l.Says(), "why", l.Unknown, "whom", whom))
		}
	}
	for _, l := range q.Lines {
		if l.Priced() && !l.Doubt.None() && !customer {
			part.tells(say.That("quote.confirm", "what", l.Says(), "why", l.Doubt))
		}
		if l.Priced() && !l.Open.None() {
			part.tells(say.That("quote.no_end", "what", l.Says(), "why", l.Open))
		}
	}
}

// card says by which card was priced, and what is not on it.
func (s *screen) card(q *quote.Quote) {
	var apart []say.Term
	for _, item := range q.Apart {
		apart = append(apart, item)
	}
	s.part(say.That("quote.label.card")).tells(say.That("quote.card", "card", q.Card, "apart", apart))
}

func (s *screen) amount(d *apd.Decimal, q *quote.Quote) string {
	if d == nil {
		return s.in.Say(say.That("quote.open"))
	}
	return s.in.Amount(money.Money{Amount: d, Currency: q.Currency})
}

// quantity is how much a line counts, at its likely value.
func (s *screen) quantity(l quote.Line, q *quote.Quote) string {
	if l.Unit == rates.Percent {
		return s.in.Say(say.That("quote.share", "of", money.Money{Amount: l.Base.Likely, Currency: q.Currency}))
	}
	unit := l.Unit
	if unit == rates.Each {
		unit = ""
	}
	return s.in.Say(say.That("quote.quantity", "amount", l.Quantity.Likely, "unit", unit))
}

// rate is the price of one, at its likely value.
func (s *screen) rate(l quote.Line) string {
	var price any = l.Rate.Likely
	if l.Unit != rates.Percent {
		price = money.Money{Amount: l.Rate.Likely, Currency: l.Currency}
	}
	return s.in.Say(say.That("quote.rate", "price", price, "percent", l.Unit == rates.Percent, "minimum", l.Minimum != nil,
		"given", l.Told != nil))
}
