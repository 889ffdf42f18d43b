package service

import (
	"context"
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Quote plans a trip and prices what it takes.
func (s *Service) Quote(ctx context.Context, q wire.Asked[wire.TripRequest]) (*trip.Priced, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.ReadQuote)
	if err != nil {
		return nil, err
	}
	all := beside(p.Tables.Rates(), asked.Rates)
	if asked.Deal.Card, err = card(all, asked.Card); err != nil {
		return nil, err
	}
	plan, err := p.Plan(ctx, asked.Trip)
	if err != nil {
		return nil, err
	}
	asked.Deal.Term = p.Tables.Term
	out := &trip.Priced{Plan: plan, Quote: quote.Of(all, plan.Work(asked.Deal)), CustomerCopy: asked.CustomerCopy}
	if why := out.Quote.Hindrances(); asked.Final && len(why) > 0 {
		return nil, wire.Refuse(wire.FieldError{
			Field: "quote.final", Value: true, Problem: say.That("error.not_final", "why", why),
			Fix: say.That("fix.settle_them"),
		})
	}
	return out, nil
}

// beside are the rates of the tables with those that a request brings: of two of one id the
// request's counts, so that a card which is kept and given is not there twice.
func beside(kept, given []*rates.Rate) []*rates.Rate {
	own := slices.DeleteFunc(slices.Clone(kept), func(r *rates.Rate) bool {
		return slices.ContainsFunc(given, func(g *rates.Rate) bool { return g.ID == r.ID })
	})
	return append(own, given...)
}

// card is the rate card that is asked for, or the only one there is.
func card(all []*rates.Rate, asked string) (string, error) {
	cards := rates.Cards(all)
	switch {
	case slices.Contains(cards, asked):
		return asked, nil
	case asked == "" && len(cards) == 1:
		return cards[0], nil
	}
	e := wire.FieldError{Field: "quote.card", Problem: say.That("error.no_card_named"), Fix: say.That("fix.bring_a_card")}
	if asked != "" {
		e.Value, e.Problem = asked, say.That("error.no_such_card")
	}
	if len(cards) > 0 {
		e.Fix = say.That("fix.one_of", "words", cards)
	}
	return "", wire.Refuse(e)
}

// quoted is what a quote comes to, a fact for each line, so that a comparison shows what moved
// the price.
func quoted(p *trip.Priced) compare.Side {
	q := p.Quote
	out := compare.Side{
		Name: p.Plan.Name, Invented: q.Invented, Verdict: p.Plan.Verdict, Findings: planned(p.Plan).Findings,
	}
	if q.Number != "" {
		out.Name = q.Number
	}
	amount := func(d *apd.Decimal) any {
		return say.That("quote.amount", "amount", money.Money{Amount: d, Currency: q.Currency})
	}
	out.Facts = []compare.Fact{
		{
			Name:  say.That("quote.sum"),
			Value: amount(q.Total.Likely),
		}, {Name: say.That("quote.before_taxes"), Value: amount(q.Subtotal.Likely)},
		{Name: say.That("quote.without"), Value: q.Unpriced()}, {Name: say.That("compare.length"), Value: p.Plan.Length},
	}
	for _, l := range q.Lines {
		f := compare.Fact{Name: l.Says()}
		if l.Priced() {
			f.Value = l.Multiplied(q.Currency)
		}
		out.Facts = append(out.Facts, f)
	}
	return out
}
