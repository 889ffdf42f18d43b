package wire

import (
	"cmp"
	"fmt"
	"strconv"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/area"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// QuoteRequest is what a quote rests on beside its trip. What is left out is not known, and
// not priced where the card has a price of it.
type QuoteRequest struct {
	Card         string            `json:"card,omitempty" maxLength:"100" doc:"The rate card to price with; may be left out where there is only one"`
	RatesCSV     string            `json:"rates_csv,omitempty" minLength:"1" doc:"Rates beside those of the tables, as CSV in the columns of the table rates"`
	Currency     string            `json:"currency,omitempty" pattern:"^[A-Z]{3}$" doc:"Of the quote (ISO 4217); that in which the card prices haulage when left out"`
	Number       string            `json:"number,omitempty" maxLength:"100" doc:"Of the quote, as you count them"`
	Version      int               `json:"version,omitempty" minimum:"1" maximum:"10000" doc:"Of the quote of this number; 1 when left out"`
	For          string            `json:"for,omitempty" maxLength:"200" doc:"Whom it is for"`
	Quoted       string            `json:"quoted_on,omitempty" format:"date" doc:"The day of the quote; today when left out"`
	Deadhead     Run               `json:"deadhead,omitzero" minimum:"0" maximum:"20000" doc:"How far the truck comes to the unit, empty; may be 0 km"`
	Returns      EmptyReturn       `json:"empty_return,omitempty" doc:"Whether the truck's empty way back is charged, as long as the way there, and that of escorts"`
	Nights       *int              `json:"nights,omitempty" minimum:"0" maximum:"100" doc:"Nights on the way; those of the timetable when left out"`
	Standby      Time              `json:"standby,omitzero" minimum:"0" maximum:"1000" doc:"How long the rig is to wait with its crew, such as 2 h; what the timetable waits by day when left out"`
	WeatherDays  int               `json:"weather_days,omitempty" minimum:"0" maximum:"100" doc:"Days to be lost to the weather that the price is to hold"`
	Declared     string            `json:"declared_value,omitempty" maxLength:"40" doc:"Of the goods, such as 85000 CAD"`
	Contingency  *float64          `json:"contingency_percent,omitempty" minimum:"0" maximum:"100" doc:"Instead of the card's"`
	Margin       *float64          `json:"margin_percent,omitempty" minimum:"0" maximum:"1000" doc:"Instead of the card's"`
	Given        []GivenPrice      `json:"given_prices,omitempty" maxItems:"100" doc:"Prices that somebody was told for this move; each stands for all of its item"`
	Exchange     []ExchangeRequest `json:"exchange,omitempty" maxItems:"20" doc:"Rates of exchange; nothing is converted without one"`
	CustomerCopy bool              `json:"customer_copy,omitempty" doc:"The customer's copy: one price for each heading, without rates and margin"`
	Final        bool              `json:"final,omitempty" doc:"Refuse a quote that cannot be final"`
}

// GivenPrice is a price that somebody was told for a move.
type GivenPrice struct {
	Item         PricedItem `json:"item" doc:"What the price is for"`
	Jurisdiction string     `json:"jurisdiction,omitempty" maxLength:"100" doc:"Where it is for, such as CA-QC; anywhere when left out"`
	Name         string     `json:"name,omitempty" maxLength:"200" doc:"Of the tax, or of what is else to be paid"`
	Price        string     `json:"price" maxLength:"40" doc:"Such as 135 CAD; 0 CAD where nothing is to be paid"`
	Source       string     `json:"source" minLength:"1" maxLength:"200" doc:"Who said so, and when"`
}

// ExchangeRequest is a rate of exchange.
type ExchangeRequest struct {
	Of     string  `json:"of" pattern:"^[A-Z]{3}$" doc:"The currency that is converted (ISO 4217)"`
	Rate   float64 `json:"rate" minimum:"0.000001" maximum:"1000000" doc:"What one of it costs in the currency of the quote"`
	Source string  `json:"source" minLength:"1" maxLength:"200" doc:"Whose rate, and of when"`
}

// QuoteAsked is a question for a quote, as it was read.
type QuoteAsked struct {
	Trip         trip.Request
	Deal         trip.Deal
	Rates        []*rates.Rate // beside those of the tables
	Card         string        // "": none is named
	CustomerCopy bool
	Final        bool
}

// ReadQuote reads a trip and what its quote rests on. The error is a [*Refusal] that names
// every field to mend.
func (q TripRequest) ReadQuote(k Known) (out QuoteAsked, err error) {
	r := k.reader()
	if q.Quote != nil {
		out = r.quote(*q.Quote, k.Areas)
	}
	out.Deal.Quoted = rows.DayOf(k.Now)
	if q.Quote != nil && q.Quote.Quoted != "" {
		out.Deal.Quoted = r.date("quote.quoted_on", q.Quote.Quoted)
	}
	out.Trip, err = q.read(r, k)
	return out, err
}

func (r *reader) quote(q QuoteRequest, areas *area.Index) QuoteAsked {
	out := QuoteAsked{Card: q.Card, CustomerCopy: q.CustomerCopy, Final: q.Final}
	d := &out.Deal
	d.Card, d.Currency, d.Number, d.Version, d.For = q.Card, q.Currency, q.Number, cmp.Or(q.Version, 1), q.For
	d.Deadhead, d.Nights, d.WeatherDays, d.Standby = q.Deadhead.Is, q.Nights, q.WeatherDays, q.Standby.Is
	if q.Returns != "" {
		charged := q.Returns == Charged
		d.Returns = &charged
	}
	if q.Declared != "" {
		d.Declared = r.money("quote.declared_value", q.Declared)
	}
	d.Percent = map[rates.Item]*apd.Decimal{}
	for item, percent := range map[rates.Item]*float64{rates.Contingency: q.Contingency, rates.Margin: q.Margin} {
		if percent != nil {
			d.Percent[item] = shortest(*percent)
		}
	}
	for i, g := range q.Given {
		d.Given = append(d.Given, r.givenPrice(fmt.Sprintf("quote.given_prices[%d]", i), g, areas))
	}
	for i, e := range q.Exchange {
		if !money.Known(e.Of) {
			r.fail(fmt.Sprintf("quote.exchange[%d].of", i), e.Of, say.That("error.no_currency_of_price"),
				say.That("fix.give_its_three_letters"))
		}
		d.Rates = append(d.Rates, quote.Exchange{Of: e.Of, Rate: shortest(e.Rate), Source: e.Source})
	}
	if q.Currency != "" && !money.Known(q.Currency) {
		r.fail("quote.currency", q.Currency, say.That("error.no_currency_of_price"), say.That("fix.give_its_three_letters"))
	}
	out.Rates = r.rates("quote.rates_csv", q.RatesCSV)
	return out
}

// rates reads a CSV of rates.
func (r *reader) rates(field, csv string) (out []*rates.Rate) {
	if csv == "" {
		return nil
	}
	read, _, err := rates.Table().ReadCSV([]byte(csv))
	r.csv(field, err, say.That("fix.data_example_rates_csv"))
	for i := range read {
		out = append(out, &read[i])
	}
	return out
}

func (r *reader) money(field, text string) *money.Money {
	m, err := money.ParseMoney(text)
	if err != nil {
		r.fail(field, text, say.That("error.no_money"), say.That("fix.like", "text", "135.50 CAD"))
		return nil
	}
	return &m
}

func (r *reader) givenPrice(field string, q GivenPrice, areas *area.Index) quote.Given {
	out := quote.Given{Item: rates.Item(q.Item), Name: q.Name, Source: q.Source}
	if q.Jurisdiction != "" {
		out.Jurisdiction, _ = r.area(field+".jurisdiction", q.Jurisdiction, areas)
	}
	if m := r.money(field+".price", q.Price); m != nil {
		out.Price = *m
	}
	return out
}

// shortest is the shortest decimal that stands for a number, so that 12.5 in JSON is exactly
// 12.5.
func shortest(v float64) *apd.Decimal {
	d, _, err := apd.NewFromString(strconv.FormatFloat(v, 'f', -1, 64))
	if err != nil {
		return new(apd.Decimal) // no number is none
	}
	return d
}
