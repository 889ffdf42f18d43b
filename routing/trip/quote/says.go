package quote

import (
	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Says is what a line is about.
func (l Line) Says() say.Remark {
	return say.That("quote.line", "item", l.Item, "called", l.Called, "where", l.place())
}

// Shown is what a line is about; to the customer contingency and margin are the heading that
// they stand under.
func (l Line) Shown(customer bool) say.Remark {
	if customer && (l.Item == rates.Contingency || l.Item == rates.Margin) {
		return say.That("quote.under", "heading", l.Heading())
	}
	return l.Says()
}

// place is where a line is for, none where its name says that, or it is for anywhere.
func (l Line) place() say.Jurisdiction {
	if l.Item == rates.Tax {
		return ""
	}
	return say.Jurisdiction(l.Jurisdiction)
}

// Source is where the rate of a line comes from.
func (l Line) Source() say.Remark {
	switch {
	case l.Told != nil:
		return say.That("quote.told", "source", l.Told.Source)
	case l.Row != nil:
		return say.Text(l.Row.Cite())
	case l.Fee != nil && l.Quantity.Likely != nil:
		return say.Text(l.Fee.Row.Source)
	case l.Rate.Likely != nil:
		return say.That("quote.asked_for")
	}
	return say.Remark{}
}

// RowID is the row that the rate of a line stands in, "" for none.
func (l Line) RowID() string {
	switch {
	case l.Row != nil:
		return l.Row.ID
	case l.Fee != nil && l.Told == nil && l.Quantity.Likely != nil:
		return l.Fee.Row.ID
	}
	return ""
}

// Invented reports whether the rate of a line was made up.
func (l Line) Invented() bool {
	return l.Row != nil && l.Row.Status == finding.Invented ||
		l.Row == nil && l.Fee != nil && l.Fee.Row.Status == finding.Invented
}

// TermSays is what a term of the card says.
func TermSays(r *rates.Rate) say.Remark {
	var amount, period any
	switch {
	case r.Amount == nil:
	case r.Unit == rates.Day && r.Item.IsTerm():
		n, _ := money.To(r.Amount, 0).Int64()
		period = int(n)
	case r.Unit == rates.Percent:
		amount = r.Amount
	default:
		amount = money.Money{Amount: r.Amount, Currency: r.Currency}
	}
	return say.That("quote.term", "item", r.Item, "name", r.Name, "amount", amount, "period", period, "unit", r.Unit,
		"percent", r.Unit == rates.Percent, "term", r.Item.IsTerm(), "days", r.Days, "note", r.Note)
}

// TermsSay are what the card says of the contract, or what is charged if it comes to it.
func (q *Quote) TermsSay(contract bool) (out []say.Remark) {
	for _, r := range q.Terms {
		if r.Item.IsTerm() == contract {
			out = append(out, TermSays(r))
		}
	}
	return out
}

// ComesTo is what a quote comes to, and what that leaves out.
func (q *Quote) ComesTo() say.Remark {
	in := func(d *apd.Decimal) any {
		if d == nil {
			return nil
		}
		return money.Money{Amount: d, Currency: q.Currency}
	}
	if q.NothingPriced() {
		return say.That("quote.total_unknown", "unpriced", q.Unpriced())
	}
	return say.That("quote.total", "likely", in(q.Total.Likely), "low", in(q.Total.Low), "high", in(q.Total.High),
		"unpriced", q.Unpriced(), "spread", q.Total.High == nil || q.Total.Low.Cmp(q.Total.High) != 0)
}

// NotPriced says of each line without a price why, and whom to ask; to the customer nothing
// of how the price comes about.
func (q *Quote) NotPriced(customer bool) (out []say.Remark) {
	for _, l := range q.Lines {
		switch {
		case l.Priced():
		case customer:
			out = append(out, say.That("quote.not_priced", "what", l.Shown(true),
				"why", say.That("quote.amount_not_known"), "whom", say.Remark{}))
		default:
			out = append(out, say.That("quote.not_priced", "what", l.Says(), "why", l.Unknown, "whom", l.Whom))
		}
	}
	return out
}

// InDoubt says which prices are to be confirmed, which is not told to the customer, and
// which have no upper end.
func (q *Quote) InDoubt(customer bool) (out []say.Remark) {
	for _, l := range q.Lines {
		if l.Priced() && !l.Doubt.None() && !customer {
			out = append(out, say.That("quote.confirm", "what", l.Says(), "why", l.Doubt))
		}
		if l.Priced() && !l.Open.None() {
			out = append(out, say.That("quote.no_end", "what", l.Shown(customer), "why", l.Open))
		}
	}
	return out
}

// ByCard says by which card was priced, and what is not on it.
func (q *Quote) ByCard() say.Remark {
	var apart []say.Term
	for _, item := range q.Apart {
		apart = append(apart, item)
	}
	return say.That("quote.card", "card", q.Card, "apart", apart)
}

// Counts is how much a line counts, at its likely value, in a quote in a currency.
func (l Line) Counts(currency string) say.Remark {
	if l.Unit == rates.Percent {
		return say.That("quote.share", "of", money.Money{Amount: l.Base.Likely, Currency: currency})
	}
	unit := l.Unit
	if unit == rates.Each {
		unit = ""
	}
	return say.That("quote.quantity", "amount", l.Quantity.Likely, "unit", unit, "units", rates.Several(unit))
}

// Price is that of one, at its likely value.
func (l Line) Price() say.Remark {
	return say.That("quote.rate", "price", l.price(), "percent", l.Unit == rates.Percent, "minimum", l.Minimum != nil,
		"given", l.Told != nil)
}

// price is the likely rate, as money where it is no percentage.
func (l Line) price() any {
	if l.Unit == rates.Percent {
		return l.Rate.Likely
	}
	return money.Money{Amount: l.Rate.Likely, Currency: l.Currency}
}

// Multiplied is the likely amount of a line with its quantity and its rate.
func (l Line) Multiplied(currency string) say.Remark {
	of := any(l.Quantity.Likely)
	if l.Unit == rates.Percent {
		of = money.Money{Amount: l.Base.Likely, Currency: currency}
	}
	return say.That("quote.multiplied", "amount", money.Money{Amount: l.Amount.Likely, Currency: currency}, "of", of,
		"unit", l.Unit, "units", rates.Several(l.Unit), "rate", l.price(), "percent", l.Unit == rates.Percent)
}
