package wire

import (
	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Quote is a price for a move. Amounts are decimals as texts, exact; null is not known, or an
// end that is open. The customer's copy has no lines.
type Quote struct {
	Mark     string `json:"mark,omitempty" doc:"INVENTED where the quote rests on invented data"`
	Name     string `json:"name,omitempty" doc:"Of the trip"`
	Counted  string `json:"number,omitempty" doc:"Of the quote, as it was given"`
	Version  int    `json:"version" doc:"Of the quote of this number"`
	For      string `json:"for,omitempty" doc:"Whom it is for"`
	Customer bool   `json:"customer_copy" doc:"Whether this is the customer's copy"`

	Quoted     string      `json:"quoted_on" doc:"The day of the quote"`
	Move       string      `json:"move_on" doc:"The day of the move, whose prices and taxes count"`
	ValidUntil string      `json:"valid_until,omitempty"`
	Expired    bool        `json:"expired" doc:"Whether its last day is over"`
	From       string      `json:"from"`
	To         string      `json:"to"`
	LengthM    float64     `json:"length_m"`
	Unit       string      `json:"unit,omitempty" doc:"What is moved, by its name"`
	Currency   string      `json:"currency" doc:"Of all amounts (ISO 4217)"`
	Card       string      `json:"card,omitempty" doc:"The rate card; left out of the customer's copy"`
	Final      bool        `json:"final" doc:"Whether nothing keeps the quote from being final"`
	Hindrances []string    `json:"hindrances" doc:"What keeps the quote from being final"`
	Unpriced   int         `json:"unpriced" doc:"How many items have no price; the total is without them"`
	Headings   []QuoteSum  `json:"headings" doc:"What the lines under each heading come to"`
	Lines      []QuoteLine `json:"lines,omitempty" doc:"Left out of the customer's copy"`
	Subtotal   QuoteAmount `json:"subtotal" doc:"Before taxes"`
	Total      QuoteAmount `json:"total" doc:"With taxes, without what has no price"`
	Terms      []QuoteTerm `json:"terms" doc:"What the card says of the contract, and what is charged if it comes to it"`
	Apart      []string    `json:"not_on_card,omitempty"`
	Edition
	Assumptions  []string      `json:"assumptions"`
	Cautions     []string      `json:"cautions"`
	Attributions []Attribution `json:"attributions"`
}

// QuoteAmount is an amount that is not known exactly.
type QuoteAmount struct {
	Low    *string `json:"low" doc:"It comes to no less"`
	Likely *string `json:"likely" doc:"With every figure at its likely value"`
	High   *string `json:"high" doc:"It comes to no more; null where the end is open"`
}

// QuoteSum is what a heading comes to.
type QuoteSum struct {
	Heading  string      `json:"heading" doc:"The word of the heading"`
	Name     string      `json:"name" doc:"The heading for people"`
	Amount   QuoteAmount `json:"amount" doc:"What the priced lines of the heading come to"`
	Unpriced []string    `json:"unpriced" doc:"What has no price under the heading"`
}

// QuoteLine is a quantity at a rate.
type QuoteLine struct {
	Mark         string      `json:"mark,omitempty"`
	Item         string      `json:"item" doc:"What is priced, by the word of the table rates"`
	Name         string      `json:"name" doc:"What is priced, for people"`
	Heading      string      `json:"heading" doc:"The word of its heading"`
	Jurisdiction string      `json:"jurisdiction,omitempty"`
	Quantity     QuoteAmount `json:"quantity" doc:"Of a price in percent, what it is a share of"`
	Unit         string      `json:"unit,omitempty" doc:"That the rate is for one of"`
	Rate         QuoteAmount `json:"rate" doc:"The price of one, or the percentage"`
	Currency     string      `json:"rate_currency,omitempty" doc:"Of the rate"`
	Exchange     string      `json:"exchange_rate,omitempty" doc:"By which the rate was converted"`
	Minimum      string      `json:"raised_to,omitempty" doc:"The minimum to which the line was raised"`
	Amount       QuoteAmount `json:"amount" doc:"In the currency of the quote; without ends where the line is not priced"`
	Row          string      `json:"row,omitempty" doc:"The row of the rate, or of the fee"`
	Source       string      `json:"source,omitempty" doc:"Where the rate comes from"`
	Unknown      string      `json:"unknown,omitempty" doc:"Why the line is not priced"`
	Ask          string      `json:"ask,omitempty" doc:"Whom to ask for the price"`
	Doubt        string      `json:"to_confirm,omitempty" doc:"Why the price is to be confirmed"`
	Open         string      `json:"open,omitempty" doc:"Why the amount has no upper end"`
}

// QuoteTerm is a line of the card that is in no sum.
type QuoteTerm struct {
	Mark   string `json:"mark,omitempty"`
	Item   string `json:"item" doc:"What it is about, by the word of the table rates"`
	Says   string `json:"says" doc:"The term for people"`
	Amount string `json:"amount,omitempty" doc:"In the unit; left out where it is not known"`
	Unit   string `json:"unit,omitempty" doc:"Of the amount"`
	Within int    `json:"within_days,omitempty" doc:"Within how many days, before the move or after the invoice"`
	Note   string `json:"note,omitempty" doc:"What the row says more"`
}

// NewQuote writes a quote as it stands in JSON.
func NewQuote(in *phrase.Language, p *trip.Priced) *Quote {
	tell := teller{in}
	q := p.Quote
	from, to := p.Plan.Ends()
	out := &Quote{
		Mark: mark(
			q.Invented,
		), Name: p.Plan.Name, Counted: q.Number, Version: q.Version, For: q.For, Customer: p.CustomerCopy,
		Quoted: day(
			q.Quoted,
		), Move: day(q.On), ValidUntil: day(q.ValidUntil), Expired: q.Expired(), From: tell.Say(from), To: tell.Say(to),
		LengthM: round(float64(p.Plan.Length)), Unit: p.Plan.Rig.Unit.Name, Currency: q.Currency, Card: q.Card,
		Hindrances: append([]string{}, tell.Each(q.HindersShown(p.CustomerCopy))...), Unpriced: q.Unpriced(),
		Headings: each(q.Sums(), func(s quote.Sum) QuoteSum { return tell.newQuoteSum(q, s, p.CustomerCopy) }),
		Lines:    each(q.Lines, func(l quote.Line) QuoteLine { return tell.newQuoteLine(q, l) }),
		Subtotal: amounts(q.Subtotal, q.Currency), Total: amounts(q.Total, q.Currency),
		Terms: each(q.Terms, tell.newQuoteTerm), Edition: NewEdition(p.Plan.Tables),
		Assumptions: tell.Each(p.Assumptions()), Cautions: tell.Each(p.Plan.Cautions),
		Attributions: Credits(in, p.Plan.About, false),
	}
	for _, item := range q.Apart {
		out.Apart = append(out.Apart, tell.Term(item))
	}
	out.Final = len(q.Hindrances()) == 0
	if p.CustomerCopy {
		out.Card, out.Lines, out.Apart = "", nil, nil
	}
	return out
}

func (tell teller) newQuoteSum(q *quote.Quote, s quote.Sum, customer bool) QuoteSum {
	out := QuoteSum{
		Heading: string(s.Heading), Name: tell.Term(s.Heading), Amount: amounts(s.Amount, q.Currency), Unpriced: []string{},
	}
	for _, l := range s.Lines {
		if !l.Priced() {
			out.Unpriced = append(out.Unpriced, tell.Say(l.Shown(customer)))
		}
	}
	return out
}

func (tell teller) newQuoteLine(q *quote.Quote, l quote.Line) QuoteLine {
	out := QuoteLine{
		Mark: mark(l.Invented()), Item: string(l.Item), Name: tell.Say(l.Says()), Heading: string(l.Heading()),
		Jurisdiction: l.Jurisdiction, Quantity: decimals(l.Quantity), Unit: string(l.Unit), Rate: decimals(l.Rate),
		Currency: l.Currency, Unknown: tell.Say(l.Unknown), Doubt: tell.Say(l.Doubt), Open: tell.Say(l.Open),
		Source: tell.Say(l.Source()), Row: l.RowID(),
	}
	if l.Unit == rates.Percent && l.Base != nil && l.Priced() {
		out.Quantity = amounts(*l.Base, q.Currency)
	}
	if l.Exchange != nil {
		out.Exchange = l.Exchange.Rate.Text('f')
	}
	if l.Minimum != nil {
		out.Minimum = money.Text(l.Minimum, q.Currency)
	}
	if l.Priced() {
		out.Amount = amounts(l.Amount, q.Currency)
	} else {
		out.Ask = tell.Say(l.Whom)
	}
	return out
}

func (tell teller) newQuoteTerm(r *rates.Rate) QuoteTerm {
	out := QuoteTerm{
		Mark: mark(r.Status == finding.Invented), Item: string(r.Item), Unit: string(r.Unit), Within: r.Days, Note: r.Note,
		Says: tell.Say(quote.TermSays(r)),
	}
	if r.Amount != nil {
		out.Amount = r.Amount.Text('f')
	}
	return out
}

// amounts are the ends of an amount, to the smallest unit of its currency.
func amounts(r quote.Range, currency string) QuoteAmount {
	return ends(r, func(d *apd.Decimal) string { return money.Text(d, currency) })
}

// decimals are the ends of a figure as it stands.
func decimals(r quote.Range) QuoteAmount {
	return ends(r, func(d *apd.Decimal) string { return d.Text('f') })
}

func ends(r quote.Range, text func(*apd.Decimal) string) QuoteAmount {
	of := func(d *apd.Decimal) *string {
		if d == nil {
			return nil
		}
		s := text(d)
		return &s
	}
	return QuoteAmount{of(r.Low), of(r.Likely), of(r.High)}
}
