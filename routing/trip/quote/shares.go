package quote

import (
	"slices"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// once is one of something.
func once() []Quantity { return []Quantity{{Unit: rates.Each, Range: Count(1)}} }

// share adds the lines of an item that is a share of others, or an amount beside them.
func (p *pricer) share(item rates.Item, base Range) {
	part := Part{Item: item, Quantities: once(), Base: &base}
	percent := p.q.Percent[item]
	if percent == nil {
		p.part(part)
		return
	}
	l := Line{Part: part, Unit: rates.Percent, Rate: Exactly(percent)}
	p.settle(&l, nil)
	p.add(l)
}

// agent adds what whoever asks for permits is paid: for each, or a share of their fees.
func (p *pricer) agent() {
	permits := p.of(rates.Permit)
	if len(permits) == 0 {
		return
	}
	base := sum(permits)
	part := Part{Item: rates.PermitAgent, Base: &base}
	number := 0
	for _, l := range permits {
		if !l.Perhaps {
			number++
		}
	}
	each := []Quantity{Whole(rates.Each, number)}
	if slices.ContainsFunc(permits, func(l Line) bool { return l.Perhaps }) {
		each = AtLeast(each, say.That("quote.more_permits"))
	}
	part.Quantities = each
	p.part(part)
}

// insure adds the insurance of the goods. Where a value is declared it is asked for.
func (p *pricer) insure() {
	part := Part{
		Item: rates.Insurance, Quantities: once(), Needed: p.q.Declared != nil, Missing: say.That("quote.no_value"),
		Whom: say.That("quote.whom_customer"),
	}
	if d := p.q.Declared; d != nil {
		l := Line{Currency: d.Currency, Quantity: Count(1), Rate: Exactly(d.Amount)}
		p.settle(&l, nil)
		part.Base, part.Unknown, part.Whom = &l.Amount, l.Unknown, say.That("quote.whom_insurer")
	}
	p.part(part)
}

// taxes adds the taxes of the destination on all before them. Where no row is about it, that
// is one line without an amount.
func (p *pricer) taxes() {
	w := p.q.Work
	base := p.q.Subtotal
	part := Part{Item: rates.Tax, Jurisdiction: w.To, Base: &base, Whom: say.That("quote.whom_tax")}
	var names []string
	if w.To != "" && w.From != "" {
		for _, r := range p.prices(part) {
			names = append(names, r.Name)
		}
	}
	slices.Sort(names)
	if names = slices.Compact(names); len(names) == 0 {
		none := part
		none.Needed = true
		none.Unknown = say.That("quote.no_tax", "from", say.Jurisdiction(w.From), "to", say.Jurisdiction(w.To))
		p.part(none)
	}
	for _, name := range names {
		part.Name, part.Called = name, say.Text(name)
		p.part(part)
	}
	for i, g := range w.Given {
		if g.Item == rates.Tax && g.Name != "" && !slices.Contains(names, g.Name) {
			part.Name, part.Called = g.Name, say.Text(g.Name)
			p.given(i, part)
		}
	}
}

// terms lists what is charged if it comes to it, and what the card says of the contract.
func (p *pricer) terms() {
	for _, item := range []rates.Item{
		rates.Standby, rates.EscortStandby, rates.WeatherDay, rates.Validity, rates.Payment, rates.Deposit,
		rates.Cancellation,
	} {
		if len(p.of(item)) > 0 {
			continue
		}
		for _, r := range p.prices(Part{Item: item}) {
			p.q.Terms = append(p.q.Terms, r)
			p.q.Invented = p.q.Invented || r.Status == finding.Invented
			if item == rates.Validity && r.Amount != nil {
				days, _ := money.To(r.Amount, 0).Int64()
				p.q.ValidUntil = p.q.Quoted.AddDate(0, 0, int(days))
			}
		}
	}
}

// sum adds up what lines come to. The high end is open where that of one is, or where one has
// no amount.
func sum(lines []Line) Range {
	out := Range{new(apd.Decimal), new(apd.Decimal), new(apd.Decimal)}
	for _, l := range lines {
		if l.Amount.High == nil {
			out.High = nil
		}
		if !l.Priced() {
			continue
		}
		add(out.Low, l.Amount.Low)
		add(out.Likely, l.Amount.Likely)
		if out.High != nil {
			add(out.High, l.Amount.High)
		}
	}
	return out
}

func add(to, d *apd.Decimal) { _, _ = money.Exact.Add(to, to, d) } // exact: it has the digits

func product(all ...*apd.Decimal) *apd.Decimal {
	out := apd.New(1, 0)
	for _, d := range all {
		_, _ = money.Exact.Mul(out, out, d) // exact: it has the digits
	}
	return out
}
