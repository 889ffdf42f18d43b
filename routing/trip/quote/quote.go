package quote

import (
	"slices"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Quote is a price for a move.
type Quote struct {
	Work
	Lines      []Line
	Terms      []*rates.Rate // in no sum: what a contract says, or what is charged if it comes to it
	Subtotal   Range         // before taxes
	Total      Range
	ValidUntil time.Time    // zero: the card does not say
	Apart      []rates.Item // those of which the card has no price, and that are in no line
}

// Line is one line of a quote.
type Line struct {
	Part
	Quantity Range // as shown; none of a percentage, which is of Base
	Unit     rates.Unit
	Rate     Range
	Currency string       // of the rate
	Exchange *Exchange    // where that is not the currency of the quote
	Minimum  *apd.Decimal // to which the line was raised, in the currency of the quote; nil: it was not
	Amount   Range        // in the currency of the quote; zero where the line is not priced
	Row      *rates.Rate  // of the card; nil: the price is given, or that of an authority
	Told     *Given       // the price that was given
	Doubt    say.Remark   // why the price is to be confirmed
	Open     say.Remark   // why the amount has no upper end
}

// Priced reports whether a line has an amount.
func (l Line) Priced() bool { return l.Unknown.None() }

// Unpriced counts the lines without an amount.
func (q *Quote) Unpriced() (n int) {
	for _, l := range q.Lines {
		if !l.Priced() {
			n++
		}
	}
	return n
}

// NothingPriced reports whether lines have no amount but for shares of nothing: the total is
// then a sum of nothing, and no price.
func (q *Quote) NothingPriced() bool {
	return q.Unpriced() > 0 && !slices.ContainsFunc(q.Lines, func(l Line) bool {
		return l.Priced() && (l.Unit != rates.Percent || !l.Amount.Likely.IsZero())
	})
}

// Expired reports whether the last day of the quote is over on the day on which it is read.
func (q *Quote) Expired() bool { return !q.ValidUntil.IsZero() && q.Shown.After(q.ValidUntil) }

// Hindrances are why the quote cannot be final; none: it can.
func (q *Quote) Hindrances() []say.Remark {
	out := slices.Clone(q.Hinders)
	if q.Expired() {
		out = append(out, say.That("quote.expired", "until", say.Day(q.ValidUntil)))
	}
	doubts, open := 0, 0
	for _, l := range q.Lines {
		if !l.Doubt.None() {
			doubts++
		}
		if !l.Open.None() {
			open++
		}
	}
	if n := q.Unpriced(); n > 0 {
		out = append(out, say.That("quote.unpriced", "count", n))
	}
	if open > 0 {
		out = append(out, say.That("quote.open_ends", "count", open))
	}
	if doubts > 0 {
		out = append(out, say.That("quote.to_confirm", "count", doubts))
	}
	if q.Invented {
		out = append(out, say.That("quote.invented"))
	}
	return out
}

// HindersShown are the hindrances that are shown; to the customer those alone that are not of how the
// price comes about, so that there can be none of a quote that is not final.
func (q *Quote) HindersShown(customer bool) []say.Remark {
	return slices.DeleteFunc(q.Hindrances(), func(r say.Remark) bool {
		return customer && r.Code == "quote.to_confirm"
	})
}

// Heading is what a customer sees of some lines: one price.
type Heading string

// The headings.
const (
	Transport Heading = "transport"
	Escorts   Heading = "escorts"
	Permits   Heading = "permits"
	Crossings Heading = "crossings" // tolls and ferries
	Insured   Heading = "insurance"
	Others    Heading = "others"
	Taxes     Heading = "taxes"
)

// Headings lists the headings in order.
func Headings() []Heading {
	return []Heading{Transport, Escorts, Permits, Crossings, Insured, Others, Taxes}
}

// Term is the code of the heading's name.
func (h Heading) Term() say.Code { return say.Word("quote.heading", string(h)) }

// Heading is under which a line stands. Contingency and margin are a part of transport, so
// that no other heading shows them.
func (l Line) Heading() Heading {
	switch l.Item {
	case rates.Escort, rates.EscortReturn, rates.EscortNight, rates.EscortStandby:
		return Escorts
	case rates.Permit, rates.PermitAgent, rates.Survey:
		return Permits
	case rates.Toll, rates.Ferry:
		return Crossings
	case rates.Insurance:
		return Insured
	case rates.Other:
		return Others
	case rates.Tax:
		return Taxes
	}
	return Transport
}

// Sum is what a heading comes to.
type Sum struct {
	Heading Heading
	Amount  Range
	Lines   []Line
}

// Sums are the headings that have lines.
func (q *Quote) Sums() (out []Sum) {
	for _, h := range Headings() {
		var lines []Line
		for _, l := range q.Lines {
			if l.Heading() == h {
				lines = append(lines, l)
			}
		}
		if len(lines) > 0 {
			out = append(out, Sum{h, sum(lines), lines})
		}
	}
	return out
}
