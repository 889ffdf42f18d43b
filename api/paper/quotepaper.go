package paper

import (
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/wire"
	"wayhouse/regs/money"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// OfQuote is the paper of a quote: what it comes to under each heading and what that leaves
// out, the terms, and what it rests on. Only the own copy has lines, their rates and the card.
func OfQuote(p Print, t *trip.Priced) []Doc {
	q := t.Quote
	m := p.make(Quote, named(t.Plan), t.Plan.Rig, q.Invented)
	m.doc.Title = m.say(say.That("paper.quote_of", "number", q.Number, "version", q.Version))
	until := q.ValidUntil
	if until.IsZero() {
		until = m.holds(t.Plan.Over())
	}
	m.restsUntil(t.Plan.Tables, t.Plan.About.Revision, m.At.In(t.Plan.Departure.Location()), until)
	if len(q.Hindrances()) > 0 {
		m.mark(say.That("paper.quote_draft"))
	}
	m.offer(t)
	m.sums(q)
	if !t.CustomerCopy {
		m.priced(q)
	}
	m.each(say.That("quote.label.unpriced"), slices.Concat(q.NotPriced(t.CustomerCopy), q.InDoubt(t.CustomerCopy)))
	m.each(say.That("quote.label.terms"), slices.Concat(q.TermsSay(false), q.TermsSay(true)))
	if !t.CustomerCopy {
		m.each(say.That("quote.label.card"), []say.Remark{q.ByCard()})
	}
	var credits []say.Remark
	for _, c := range wire.Credits(m.In, t.Plan.About, false) {
		credits = append(credits, say.Text(c.String()))
	}
	m.each(say.That("paper.head_rests"), slices.Concat([]say.Remark{say.That("quote.words")}, t.Assumptions(),
		t.Plan.Cautions, credits))
	return []Doc{m.doc}
}

// each lists what there is to say under a heading, and nothing where that is nothing.
func (m *making) each(head say.Remark, all []say.Remark) {
	if len(all) > 0 {
		m.heading(head)
		m.add(List{Items: m.In.Each(all)})
	}
}

// offer says what is offered to whom, until when, and what it comes to.
func (m *making) offer(t *trip.Priced) {
	q := t.Quote
	fields := Fields{
		m.field(say.That("quote.label.for"), q.For),
		m.field(say.That("paper.quote_unit"), t.Plan.Rig.Unit.Name),
		m.field(say.That("paper.quote_far"), m.In.Quantity(t.Plan.Length)),
		m.field(say.That("paper.quote_move"), m.dayOf(q.On)),
		m.field(say.That("paper.quote_on"), m.dayOf(q.Quoted)),
		m.field(say.That("paper.quote_until"), m.dayOf(q.ValidUntil)),
		m.field(say.That("quote.label.price"), m.say(q.ComesTo())),
	}
	if len(q.Hindrances()) > 0 {
		why := say.That("quote.draft", "why", q.HindersShown(t.CustomerCopy))
		fields = append(fields, m.field(say.That("quote.label.draft"), m.say(why)))
	}
	m.add(fields)
}

// sums has a row for each heading, and what they come to before taxes and with them.
func (m *making) sums(q *quote.Quote) {
	var rows []Row
	none := m.say(say.That("paper.quote_none"))
	add := func(of say.Remark, unpriced int, r quote.Range, loud bool) {
		name := m.say(say.That("paper.quote_sum", "of", of, "unpriced", unpriced))
		cells := m.ends(r, q.Currency)
		if q.NothingPriced() {
			cells = []string{none, none, none}
		}
		rows = append(rows, Row{Cells: append([]string{name}, cells...), Loud: loud})
	}
	before := 0 // taxes, without a price
	for _, h := range q.Sums() {
		unpriced := 0
		for _, l := range h.Lines {
			if !l.Priced() {
				unpriced++
			}
		}
		if h.Heading != quote.Taxes {
			before += unpriced
		}
		if of := say.That("quote.under", "heading", h.Heading); unpriced < len(h.Lines) {
			add(of, unpriced, h.Amount, false)
		} else {
			rows = append(rows, Row{Cells: []string{m.say(of), none, none, none}})
		}
	}
	add(say.That("quote.before_taxes"), before, q.Subtotal, false)
	add(say.That("quote.sum"), q.Unpriced(), q.Total, true)
	heads := append([]say.Remark{say.That("paper.head_sums", "currency", q.Currency)}, endHeads()...)
	m.table(rows, []float64{0.46, 0.18, 0.18, 0.18}, heads...)
}

// priced has a row for each line that has an amount, with where its rate comes from.
func (m *making) priced(q *quote.Quote) {
	var rows []Row
	for _, l := range q.Lines {
		if l.Priced() {
			cells := []string{m.say(l.Says()), m.say(l.Counts(q.Currency)), m.say(l.Price())}
			rows = append(rows, Row{Cells: append(append(cells, m.ends(l.Amount, q.Currency)...), m.say(l.Source()))})
		}
	}
	if len(rows) == 0 {
		return
	}
	m.heading(say.That("paper.head_lines", "currency", q.Currency))
	heads := []say.Remark{say.That("paper.head_quantity"), say.That("paper.head_counts"), say.That("paper.head_rate")}
	m.table(rows, []float64{0.2, 0.13, 0.14, 0.11, 0.11, 0.11, 0.2},
		append(append(heads, endHeads()...), say.That("paper.head_source"))...)
}

// endHeads head the ends of an amount.
func endHeads() []say.Remark {
	return []say.Remark{say.That("quote.column.low"), say.That("quote.column.likely"), say.That("quote.column.high")}
}

// ends are the ends of an amount, which may be open.
func (m *making) ends(r quote.Range, currency string) (out []string) {
	for _, d := range []*apd.Decimal{r.Low, r.Likely, r.High} {
		if d == nil {
			out = append(out, m.say(say.That("quote.open")))
		} else {
			out = append(out, m.In.Amount(money.Money{Amount: d, Currency: currency}))
		}
	}
	return out
}
