package report_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// examplePriced is the quote of the example by its invented card, for somebody or with all
// that is asked for told.
func examplePriced(t *testing.T, told bool) *trip.Priced {
	t.Helper()
	p, _ := planner()
	plan, err := p.Plan(t.Context(), exampleRequest(t))
	check(t, err)
	raw, err := os.ReadFile("../../data/example/rates.csv")
	check(t, err)
	card, _, err := rates.Table().ReadCSV(raw)
	check(t, err)
	all := p.Tables.Rates()
	for i := range card {
		all = append(all[:len(all):len(all)], &card[i])
	}
	d := trip.Deal{
		Work: quote.Work{
			Card:    "marlwick-2027",
			Quoted:  time.Date(2027, 4, 1, 0, 0, 0, 0, time.UTC),
			Version: 1,
			Term:    p.Tables.Term,
		},
	}
	if told {
		nights, way, back := 0, 25*1000*measure.Distance(1), true
		cad := func(text string) money.Money {
			m, err := money.ParseMoney(text + " CAD")
			check(t, err)
			return m
		}
		value := cad("85000")
		d.Nights, d.Deadhead, d.Returns, d.Declared, d.For, d.Number = &nights, &way, &back, &value, "A. Customer", "2027-14"
		d.Given = []quote.Given{
			{Item: rates.Permit, Price: cad("135.50"), Source: "by phone, 2027-04-01"},
			{Item: rates.Escort, Price: cad("0"), Source: "none is asked for, by phone, 2027-04-01"},
			{Item: rates.Toll, Price: cad("3.60"), Source: "the bridge"},
		}
	}
	return &trip.Priced{Plan: plan, Quote: quote.Of(all, plan.Work(d))}
}

func quoteScreen(t *testing.T, v report.View, p *trip.Priced) string {
	t.Helper()
	var b strings.Builder
	check(t, report.Quote(&b, v, p, nil))
	return b.String()
}

// The quote of the example: with little told, with all told, and the customer's copy of that,
// which has no rates, no card and no margin.
func TestQuoteScreens(t *testing.T) {
	little, told := examplePriced(t, false), examplePriced(t, true)
	customer := *told
	customer.CustomerCopy = true
	for name, p := range map[string]*trip.Priced{"quote": little, "quote-told": told, "quote-customer": &customer} {
		for _, v := range views() {
			fits(t, quoteScreen(t, v, p))
		}
		for _, tag := range phrase.Languages() {
			isGolden(t, name, tag, quoteScreen(t, report.View{In: phrase.In(tag, measure.Both)}, p))
		}
	}
	text := quoteScreen(t, report.View{In: phrase.English(), Full: true}, &customer)
	has(t, text, "Transport", "A. Customer", "2027-14")
	for _, never := range []string{"margin", "contingency", "marlwick", "4.35 CAD", "12 %"} {
		if strings.Contains(text, never) {
			t.Errorf("the customer reads %q in\n%s", never, text)
		}
	}
	has(
		t,
		quoteScreen(t, report.View{In: phrase.English()}, little),
		"NO UPPER END",
		"UNPRICED ITEMS",
		"it cannot be final",
	)
	if told.Quote.Unpriced() != 0 || told.Quote.Total.High == nil {
		t.Errorf("with all told: %+v", told.Quote.Lines)
	}
	has(t, quoteScreen(t, report.View{In: phrase.English(), Why: "CA-QC"}, little), "CA-QC width")
}

// A price that was read too long ago stands with its doubt.
func TestQuoteToConfirm(t *testing.T) {
	p := examplePriced(t, true)
	old := &rates.Rate{
		ID:       "old",
		Card:     "old",
		Item:     rates.Haulage,
		Unit:     rates.KM,
		Currency: "CAD",
		Proof:    rows.Proof{Status: finding.Verified},
	}
	m, err := money.ParseMoney("4 CAD")
	check(t, err)
	old.Low, old.Amount, old.High = m.Amount, m.Amount, m.Amount
	w := p.Plan.Work(trip.Deal{Work: quote.Work{Card: "old", Quoted: p.Quote.Quoted, Version: 1}})
	text := quoteScreen(
		t,
		report.View{In: phrase.English(), Full: true},
		&trip.Priced{Plan: p.Plan, Quote: quote.Of([]*rates.Rate{old}, w)},
	)
	has(t, text, "to be confirmed", "read too long ago", "1 price is to be confirmed")
}

// A card that prices nothing of a move makes no sum, also with a margin on it: a total of 0.00
// would read as a price.
func TestAQuoteOfNothing(t *testing.T) {
	p := examplePriced(t, false)
	margin := rates.Rate{
		ID: "margin", Card: "empty", Item: rates.Margin, Unit: rates.Percent,
		Low: apd.New(8, 0), Amount: apd.New(8, 0), High: apd.New(8, 0), Currency: "CAD",
		Proof: rows.Proof{Status: finding.Verified, ReadOn: p.Quote.Quoted},
	}
	work := p.Quote.Work
	work.Card = "empty"
	p.Quote = quote.Of([]*rates.Rate{&margin}, work)
	for in, want := range map[*phrase.Language]string{phrase.English(): "NOT PRICED", phrase.French(): "NON CHIFFRÉ"} {
		for _, p.CustomerCopy = range []bool{false, true} {
			text := quoteScreen(t, report.View{In: in}, p)
			if !strings.Contains(text, want) || strings.Contains(text, "0.00 CAD") || strings.Contains(text, "0,00") {
				t.Errorf("customer %v:\n%s", p.CustomerCopy, text)
			}
		}
	}
}
