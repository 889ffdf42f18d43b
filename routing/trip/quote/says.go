package quote

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Says is what a line is about.
func (l Line) Says() say.Remark {
	return say.That("quote.line", "item", l.Item, "called", l.Called, "where", l.place())
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

// Multiplied is the likely amount of a line with its quantity and its rate.
func (l Line) Multiplied(currency string) say.Remark {
	of := any(l.Quantity.Likely)
	if l.Unit == rates.Percent {
		of = money.Money{Amount: l.Base.Likely, Currency: currency}
	}
	var rate any = l.Rate.Likely
	if l.Unit != rates.Percent {
		rate = money.Money{Amount: l.Rate.Likely, Currency: l.Currency}
	}
	return say.That("quote.multiplied", "amount", money.Money{Amount: l.Amount.Likely, Currency: currency}, "of", of,
		"unit", l.Unit, "rate", rate, "percent", l.Unit == rates.Percent)
}
