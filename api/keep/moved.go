package keep

import (
	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/compare"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// facts are what a quote comes to, by names that every quote has, a fact for each line.
func (q *Quoted) facts() []compare.Fact {
	priced := q.Priced().Quote
	amount := func(d *apd.Decimal) any {
		return say.That("quote.amount", "amount", money.Money{Amount: d, Currency: q.Currency})
	}
	out := []compare.Fact{
		{Name: say.That("quote.sum"), Value: amount(q.Total.Likely)},
		{Name: say.That("quote.before_taxes"), Value: amount(q.Subtotal.Likely)},
		{Name: say.That("quote.without"), Value: priced.Unpriced()},
	}
	for _, l := range priced.Lines {
		f := compare.Fact{Name: l.Says()}
		if l.Priced() {
			f.Value = l.Multiplied(q.Currency)
		}
		out = append(out, f)
	}
	return out
}

// Prices adds two quotes to a comparison of their trips: what each comes to, a fact for each
// line, and what moved each line. A nil quote is one that nobody made.
func Prices(a, b *compare.Side, was, now *Quoted) (moved []say.Remark) {
	if was != nil {
		a.Facts = append(was.facts(), a.Facts...)
	}
	if now != nil {
		b.Facts = append(now.facts(), b.Facts...)
	}
	if was == nil || now == nil || was.Currency != now.Currency {
		return nil
	}
	left := map[string][]QuotedLine{}
	for _, l := range now.Lines {
		left[l.key()] = append(left[l.key()], l)
	}
	for _, l := range was.Lines {
		var to *QuotedLine
		if same := left[l.key()]; len(same) > 0 {
			to, left[l.key()] = &same[0], same[1:]
		}
		moved = append(moved, l.became(to, was.Currency)...)
	}
	for _, l := range now.Lines {
		if same := left[l.key()]; len(same) > 0 && l.priced() {
			left[l.key()] = same[1:]
			moved = append(
				moved,
				say.That("quote.came", "line", l.line().Says(), "amount", signed(l.Amount.Likely, now.Currency),
					"row", l.row()),
			)
		}
	}
	return moved
}

// key is by what a line of one quote is found in another.
func (l QuotedLine) key() string { return l.line().Says().String() + " " + string(l.Unit) }

func (l QuotedLine) priced() bool { return l.Unknown == nil }

// became says what moved a line to what it is now: nothing where its likely amount stays. nil
// is a line that there is no more.
func (l QuotedLine) became(now *QuotedLine, currency string) []say.Remark {
	says := l.line().Says()
	switch {
	case now == nil || !now.priced():
		if !l.priced() {
			return nil
		}
		return []say.Remark{say.That("quote.went", "line", says, "amount", signed(negative(l.Amount.Likely), currency),
			"unpriced", now != nil)}
	case !l.priced():
		return []say.Remark{say.That("quote.came", "line", says, "amount", signed(now.Amount.Likely, currency),
			"row", now.row())}
	case l.Amount.Likely.Cmp(now.Amount.Likely) == 0:
		return nil
	}
	change := less(now.Amount.Likely, l.Amount.Likely)
	quantity, rate := l.split(now, change, currency)
	row, was := now.row(), l.row()
	if row.String() == was.String() {
		was = say.Remark{}
	}
	return []say.Remark{say.That("quote.moved", "line", says, "change", signed(change, currency),
		"quantity", signed(quantity, currency), "rate", signed(rate, currency), "share", l.Unit == rates.Percent,
		"minimum", l.Minimum != nil || now.Minimum != nil, "exchange", !l.exchanges(now), "row", row, "was", was)}
}

// split is how much of a change the quantity makes, at the rate of before, and the rate, at the
// quantity of now; both nil where a minimum or another rate of exchange has its part in it.
func (l QuotedLine) split(now *QuotedLine, change *apd.Decimal, currency string) (quantity, rate *apd.Decimal) {
	before, after, times := l.Quantity.Likely, now.Quantity.Likely, apd.New(1, 0)
	switch {
	case l.Minimum != nil || now.Minimum != nil || !l.exchanges(now):
		return nil, nil
	case l.Unit == rates.Percent:
		before, after, times = l.Base.Likely, now.Base.Likely, apd.New(1, -2)
	case l.Exchange != nil:
		times = l.Exchange.Rate
	}
	if l.Rate.Likely.Cmp(now.Rate.Likely) == 0 {
		return change, nil
	}
	if before.Cmp(after) == 0 {
		return nil, change
	}
	quantity = money.Round(product(product(less(after, before), l.Rate.Likely), times), currency)
	return quantity, less(change, quantity)
}

// exchanges reports whether two lines are converted alike.
func (l QuotedLine) exchanges(o *QuotedLine) bool {
	if l.Currency != o.Currency || (l.Exchange == nil) != (o.Exchange == nil) {
		return false
	}
	return l.Exchange == nil || l.Exchange.Rate.Cmp(o.Exchange.Rate) == 0
}

// row is where the rate of a line stands: its row with the revision that wrote it, or who told
// it.
func (l QuotedLine) row() say.Remark {
	line := l.line()
	if id := line.RowID(); id != "" {
		return say.That("quote.row", "id", id, "revision", l.Revision)
	}
	return line.Source()
}

// signed is an amount with its sign, none for none and for nothing.
func signed(d *apd.Decimal, currency string) say.Remark {
	if d == nil || d.IsZero() {
		return say.Remark{}
	}
	return say.That("quote.change", "amount", money.Money{Amount: new(apd.Decimal).Abs(d), Currency: currency},
		"less", d.Negative)
}

func negative(d *apd.Decimal) *apd.Decimal { return new(apd.Decimal).Neg(d) }

func less(a, b *apd.Decimal) *apd.Decimal {
	out := new(apd.Decimal)
	_, _ = money.Exact.Sub(out, a, b) // exact: it has the digits
	return out
}

func product(a, b *apd.Decimal) *apd.Decimal {
	out := new(apd.Decimal)
	_, _ = money.Exact.Mul(out, a, b) // exact: it has the digits
	return out
}
