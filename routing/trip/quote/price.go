package quote

import (
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Of prices work by the rates of its card:
//
//  1. Every part is priced by the prices of its item, or by what was given for it.
//  2. Surcharge, permit agent and insurance are shares of those, or of the declared value.
//  3. Contingency is a share of all before it, margin of all with contingency.
//  4. Taxes are shares of all before them.
//
// Neither the order of the rates nor that of the parts changes any sum.
func Of(all []*rates.Rate, w Work) *Quote {
	p := &pricer{all: all, q: &Quote{Work: w}}
	p.currency()
	for _, part := range w.Parts {
		p.part(part)
	}
	for i, g := range w.Given {
		if g.Item != rates.Tax && !p.used(i) && !slices.ContainsFunc(w.Parts, g.covers) {
			p.given(i, Part{Item: g.Item, Jurisdiction: g.Jurisdiction, Name: g.Name, Called: say.Text(g.Name)})
		}
	}
	p.share(rates.FuelSurcharge, sum(p.of(rates.Haulage, rates.Deadhead, rates.Return)))
	p.agent()
	p.insure()
	p.share(rates.Contingency, sum(p.q.Lines))
	p.share(rates.Margin, sum(p.q.Lines))
	p.q.Subtotal = sum(p.q.Lines)
	p.taxes()
	p.q.Total = sum(p.q.Lines)
	p.terms()
	slices.SortStableFunc(p.q.Lines, func(a, b Line) int {
		return slices.Index(rates.Items(), a.Item) - slices.Index(rates.Items(), b.Item)
	})
	return p.q
}

// pricer makes one quote.
type pricer struct {
	all []*rates.Rate
	q   *Quote
}

// currency is, where none is asked for, that in which the card prices haulage, or else
// anything; of several the first by its code.
func (p *pricer) currency() {
	if p.q.Currency != "" {
		return
	}
	var haulage, any []string
	for _, r := range p.all {
		switch {
		case r.Card != p.q.Card || r.Currency == "":
		case r.Item == rates.Haulage:
			haulage = append(haulage, r.Currency)
		default:
			any = append(any, r.Currency)
		}
	}
	slices.Sort(haulage)
	slices.Sort(any)
	if all := append(haulage, any...); len(all) > 0 {
		p.q.Currency = all[0]
	}
}

func (p *pricer) of(items ...rates.Item) (out []Line) {
	for _, l := range p.q.Lines {
		if slices.Contains(items, l.Item) {
			out = append(out, l)
		}
	}
	return out
}

func (p *pricer) add(l Line) {
	p.q.Lines = append(p.q.Lines, l)
	p.q.Invented = p.q.Invented || l.Invented()
}

// prices are the prices of a part.
func (p *pricer) prices(part Part) []*rates.Rate {
	w := p.q.Work
	return rates.For(p.all, rates.Case{
		Card: w.Card, Item: part.Item, Name: part.Name, Also: part.Also, Jurisdiction: part.Jurisdiction, Origin: w.From,
		Length: w.Length, Height: w.Height, On: w.On,
	})
}

// part prices a part: by what was given for it, by each price of the card, by the fee of an
// authority.
func (p *pricer) part(part Part) {
	if i := slices.IndexFunc(p.q.Given, func(g Given) bool { return g.covers(part) }); i >= 0 {
		if !p.used(i) { // once for all its parts
			p.given(i, part)
		}
		return
	}
	for i, g := range p.q.Given {
		if g.names(part) && !p.used(i) {
			p.given(i, part)
			return
		}
	}
	found := p.prices(part)
	switch {
	case len(found) == 0 && part.Fee != nil:
		p.fee(part)
	case len(found) == 0 && part.Needed:
		part.Unknown = say.Or(say.Or(part.Unknown, part.NoPrice), say.That("quote.no_price", "card", p.q.Card))
		p.add(Line{Part: part})
	case len(found) == 0 && !slices.Contains(p.q.Apart, part.Item):
		p.q.Apart = append(p.q.Apart, part.Item)
	}
	for i, r := range found {
		is := func(o *rates.Rate) bool { return o.Rivals(r) }
		switch rival := slices.IndexFunc(found[i+1:], is); {
		case slices.ContainsFunc(found[:i], is): // told already
		case rival >= 0:
			both := part
			both.Unknown = say.That("quote.two_prices", "one", r.ID, "other", found[i+1+rival].ID)
			both.Whom = say.That("quote.whom_card")
			p.add(Line{Part: both, Unit: r.Unit})
		default:
			p.add(p.line(part, r))
		}
	}
}

// used reports whether a line has a price that was given.
func (p *pricer) used(i int) bool {
	return slices.ContainsFunc(p.q.Lines, func(l Line) bool { return l.Told == &p.q.Given[i] })
}

// given is a line of a price that was given.
func (p *pricer) given(i int, part Part) {
	g := &p.q.Given[i]
	part.Unknown, part.Fee = say.Remark{}, nil
	l := Line{
		Part: part, Unit: rates.Each, Quantity: Count(1), Rate: Exactly(g.Price.Amount), Currency: g.Price.Currency, Told: g,
	}
	p.settle(&l, nil)
	p.add(l)
}

// fee is a line of the fee of an authority.
func (p *pricer) fee(part Part) {
	l := Line{
		Part: part, Unit: rates.Each, Quantity: Count(1), Rate: Exactly(part.Fee.Amount), Currency: part.Fee.Currency,
		Doubt: part.Fee.Doubt,
	}
	p.settle(&l, nil)
	p.add(l)
}

// line is a part at one price.
func (p *pricer) line(part Part, r *rates.Rate) Line {
	l := Line{
		Part: part, Unit: r.Unit, Row: r, Rate: Range{r.Low, r.Amount, r.High}, Currency: r.Currency,
		Doubt: doubt(r, p.q.Work),
	}
	l.Called = say.Or(l.Called, say.Text(r.Name))
	i := slices.IndexFunc(part.Quantities, func(q Quantity) bool { return q.Unit == r.Unit })
	switch {
	case !part.Unknown.None():
		return l
	case r.Amount == nil:
		l.Unknown, l.Whom = say.That("quote.amount_not_known"), say.Or(say.Text(r.Ask), l.Whom)
		return l
	case r.Unit != rates.Percent && i >= 0:
		l.Quantity, l.Open = part.Quantities[i].shown(), part.Quantities[i].Open
	case r.Unit != rates.Percent || part.Base == nil:
		l.Unknown = say.Or(part.Missing, say.That("quote.no_quantity", "unit", r.Unit))
		return l
	}
	p.settle(&l, r.Minimum)
	return l
}

// settle works the amount of a line out, not below a minimum.
func (p *pricer) settle(l *Line, minimum *apd.Decimal) {
	exchange := apd.New(1, 0)
	if l.Currency != "" && l.Currency != p.q.Currency {
		i := slices.IndexFunc(p.q.Rates, func(e Exchange) bool { return e.Of == l.Currency })
		if i < 0 {
			l.Unknown, l.Whom = say.That("quote.no_exchange", "of", l.Currency, "to", p.q.Currency), say.That("quote.whom_bank")
			return
		}
		l.Exchange = &p.q.Rates[i]
		exchange = l.Exchange.Rate
	}
	of, times := l.Quantity, exchange
	if l.Unit == rates.Percent {
		of, times = *l.Base, apd.New(1, -2)
	}
	amount := func(of, rate *apd.Decimal) *apd.Decimal {
		if of == nil || rate == nil {
			return nil
		}
		return money.Round(product(of, rate, times), p.q.Currency)
	}
	l.Amount = Range{amount(of.Low, l.Rate.Low), amount(of.Likely, l.Rate.Likely), amount(of.High, l.Rate.High)}
	if minimum != nil {
		l.raise(money.Round(product(minimum, exchange), p.q.Currency))
	}
}

// raise lifts what is below a minimum to it.
func (l *Line) raise(to *apd.Decimal) {
	if l.Amount.Likely.Cmp(to) < 0 {
		l.Minimum = to
	}
	for _, end := range []**apd.Decimal{&l.Amount.Low, &l.Amount.Likely, &l.Amount.High} {
		if *end != nil && (*end).Cmp(to) < 0 {
			*end = to
		}
	}
}

// shown is a quantity as a line shows it.
func (q Quantity) shown() Range {
	places := 0
	switch q.Unit {
	case rates.KM, rates.Mile, rates.Litre, rates.USGal:
		places = 1
	case rates.Hour, rates.Metre, rates.Foot:
		places = 2
	}
	to := func(d *apd.Decimal) *apd.Decimal {
		if d == nil {
			return nil
		}
		return money.To(d, places)
	}
	return Range{to(q.Low), to(q.Likely), to(q.High)}
}

// doubt is why a price is to be confirmed; that it is invented the whole quote says.
func doubt(r *rates.Rate, w Work) say.Remark {
	if why := r.Doubt(w.Quoted, w.Term); why != "" && r.Status != finding.Invented {
		return say.That("quote.doubt", "why", why)
	}
	return say.Remark{}
}
