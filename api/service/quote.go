package service

import (
	"context"
	"slices"

	"wayhouse/api/wire"
	"wayhouse/regs/compare"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Quote plans a trip and prices what it takes.
func (s *Service) Quote(ctx context.Context, q wire.Asked[wire.TripRequest]) (*trip.Priced, error) {
	return s.quoteSaved(ctx, q, "")
}

// HasCard reports whether there is a card to price a trip by: one that it names or brings, or
// any of the tables.
func (s *Service) HasCard(q wire.TripRequest) bool {
	return q.Quote != nil && (q.Quote.Card != "" || q.Quote.RatesCSV != "") || len(rates.Cards(s.Newest().Rates())) > 0
}

// quoteSaved prices a trip that was saved under a name, "" for none.
func (s *Service) quoteSaved(ctx context.Context, q wire.Asked[wire.TripRequest], name string) (*trip.Priced, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.ReadQuote)
	if err != nil {
		return nil, err
	}
	all := beside(p.Tables.Rates(), asked.Rates)
	if asked.Deal.Card, err = card(all, asked.Card); err != nil {
		return nil, err
	}
	plan, err := forTrip(p, name).Plan(ctx, asked.Trip)
	if err != nil {
		return nil, err
	}
	asked.Deal.Term, asked.Deal.Shown = p.Tables.Term, rows.DayOf(s.Clock())
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

// quoted is the trip of a quote as a side of a comparison.
func quoted(p *trip.Priced) compare.Side {
	out := compare.Side{
		Name: p.Plan.Name, Invented: p.Quote.Invented, Verdict: p.Plan.Verdict, Findings: planned(p.Plan).Findings,
		Facts: []compare.Fact{{Name: say.That("compare.length"), Value: p.Plan.Length}},
	}
	if p.Quote.Number != "" {
		out.Name = p.Quote.Number
	}
	return out
}
