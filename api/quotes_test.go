package api_test

import (
	"encoding/csv"
	"math/big"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/wire"
)

func askQuote(t testing.TB, q object, headers ...string) *httptest.ResponseRecorder {
	t.Helper()
	return ask(t.Context(), handler(), http.MethodPost, "/v1/quotes", text(q), headers...)
}

// priced is the example with the invented card, and what else is said of the quote.
func priced(t testing.TB, quote object) object {
	t.Helper()
	raw, err := os.ReadFile("../data/example/rates.csv")
	if err != nil {
		t.Fatal(err)
	}
	of := object{"rates_csv": string(raw), "quoted_on": "2027-04-01"}
	for k, v := range quote {
		of[k] = v
	}
	q := example(t, "", "")
	q["quote"] = of
	return q
}

func quoted(t testing.TB, quote object) wire.Quote {
	t.Helper()
	w := askQuote(t, priced(t, quote))
	expect(t, w, http.StatusOK, "application/json")
	return read[wire.Quote](t, w)
}

// told is all that the example leaves open.
func told() object {
	return object{
		"card": "marlwick-2027", "number": "2027-14", "for": "A. Customer", "deadhead": "25 km", "empty_return": "charged",
		"nights": 0, "declared_value": "85000 CAD", "given_prices": []object{
			{"item": "permit", "price": "135.50 CAD", "source": "by phone, 2027-04-01"},
			{"item": "escort", "price": "0 CAD", "source": "none is asked for, by phone, 2027-04-01"},
			{"item": "toll", "price": "2 USD", "source": "the bridge"},
		},
		"exchange": []object{{"of": "USD", "rate": 1.365, "source": "a bank, 2027-04-01"}},
	}
}

func rat(t testing.TB, s *string) *big.Rat {
	t.Helper()
	out, ok := new(big.Rat).SetString(*s)
	if !ok {
		t.Fatal(*s)
	}
	return out
}

// The lines of a quote add up, each is its quantity times its rate to the cent, and the
// customer's copy has the same total and nothing of how it came about.
func TestQuoteOfExample(t *testing.T) {
	q := quoted(t, told())
	if q.Mark != wire.InventedMark || q.Unpriced != 0 || q.Final || q.Currency != "CAD" || q.ValidUntil != "2027-05-01" || q.Move != "2027-05-11" {
		t.Errorf("%+v", q)
	}
	sum := new(big.Rat)
	for _, l := range q.Lines {
		sum.Add(sum, rat(t, l.Amount.Likely))
		of := new(big.Rat).Mul(rat(t, l.Quantity.Likely), rat(t, l.Rate.Likely))
		switch {
		case l.Unit == "percent":
			of.Quo(of, big.NewRat(100, 1))
		case l.Currency == "USD":
			of.Mul(of, big.NewRat(1365, 1000))
		}
		if want := of.FloatString(2); l.Minimum == "" && *l.Amount.Likely != want { // it rounds halves away from zero
			t.Errorf("%s: %s, want %s", l.Name, *l.Amount.Likely, want)
		}
	}
	if sum.FloatString(2) != *q.Total.Likely || q.Total.High == nil {
		t.Errorf("lines come to %s, the total is %+v", sum.FloatString(2), q.Total)
	}
	more := told()
	more["customer_copy"] = true
	w := askQuote(t, priced(t, more))
	copied := read[wire.Quote](t, w)
	if *copied.Total.Likely != *q.Total.Likely || len(copied.Lines) != 0 || copied.Card != "" {
		t.Errorf("%+v", copied)
	}
	for _, never := range []string{"margin", "contingency", "marlwick", "4.35", "rate_currency"} {
		if strings.Contains(w.Body.String(), never) {
			t.Errorf("the customer reads %q", never)
		}
	}
}

// What nobody has a price of is named with whom to ask, and the quote is not final.
func TestQuoteUnpriced(t *testing.T) {
	q := quoted(t, nil)
	var open []string
	for _, l := range q.Lines {
		if l.Unknown != "" {
			open = append(open, l.Item)
			if l.Ask == "" || l.Amount.Likely != nil {
				t.Errorf("%+v", l)
			}
		}
	}
	slices.Sort(open)
	want := []string{"deadhead", "escort", "insurance", "permit", "permit", "return_trip", "toll"}
	if !slices.Equal(open, want) || q.Unpriced != len(want) || q.Total.High != nil || q.Final {
		t.Errorf("%q of %d, %+v", open, q.Unpriced, q.Total)
	}
	refused(t, askQuote(t, priced(t, object{"final": true})), 422, entry{"quote.final", "true", "cannot be final", "ask for a draft"})
}

func TestRefusesQuotes(t *testing.T) {
	for name, tc := range map[string]struct {
		quote object
		want  entry
	}{
		"no such card":     {object{"card": "gull"}, entry{"quote.card", "gull", "is no rate card", "marlwick-2027"}},
		"no amount":        {object{"declared_value": "a lot"}, entry{"quote.declared_value", "a lot", "is no amount of money", "135.50 CAD"}},
		"no currency":      {object{"currency": "QQQ"}, entry{"quote.currency", "QQQ", "is no currency", "three letters"}},
		"no currency of":   {object{"exchange": []object{{"of": "QQQ", "rate": 1, "source": "x"}}}, entry{"quote.exchange[0].of", "QQQ", "is no currency", "three letters"}},
		"no item":          {object{"given_prices": []object{{"item": "margin", "price": "1 CAD", "source": "x"}}}, entry{"quote.given_prices[0].item", "margin", "is not known", "haulage"}},
		"a price alone":    {object{"given_prices": []object{{"item": "toll", "price": "1", "source": "x"}}}, entry{"quote.given_prices[0].price", "1", "is no amount of money", ""}},
		"no place":         {object{"given_prices": []object{{"item": "toll", "price": "1 CAD", "source": "x", "jurisdiction": "Nowhere"}}}, entry{"quote.given_prices[0].jurisdiction", "Nowhere", "", ""}},
		"no rates":         {object{"rates_csv": "id,card\n"}, entry{"quote.rates_csv", "", "", ""}},
		"no day":           {object{"quoted_on": "soon"}, entry{"quote.quoted_on", "soon", "", ""}},
		"a bare deadhead":  {object{"deadhead": 25}, entry{"quote.deadhead", "25", "a number without a unit", "deadhead_km"}},
		"another way back": {object{"empty_return": "perhaps"}, entry{"quote.empty_return", "perhaps", "is not known", "not_charged"}},
	} {
		t.Run(name, func(t *testing.T) {
			refused(t, askQuote(t, priced(t, tc.quote)), 422, tc.want)
		})
	}
	q := example(t, "", "")
	refused(t, askQuote(t, q), 422, entry{"quote.card", "", "no rate card is named", "rates"})
	// a trip file with a quote in it is still one for a plan
	expect(t, ask(t.Context(), handler(), http.MethodPost, "/v1/trips", text(priced(t, nil))), http.StatusOK, "application/json")
}

// A sheet has a line for each line of a quote, and of the customer's copy for each heading.
func TestQuoteSheet(t *testing.T) {
	q := quoted(t, told())
	more := told()
	more["customer_copy"] = true
	for _, tc := range []struct {
		quote object
		lines int
		head  string
	}{{told(), len(q.Lines), "item,name,heading"}, {more, len(q.Headings), "heading,low,likely"}} {
		w := askQuote(t, priced(t, tc.quote), "Accept", "text/csv")
		expect(t, w, http.StatusOK, "text/csv")
		body := w.Body.String()
		all, err := csv.NewReader(strings.NewReader(body)).ReadAll()
		if err != nil || len(all) != tc.lines+1 || !strings.HasPrefix(body, tc.head) {
			t.Errorf("%d lines, %v, want %d\n%s", len(all), err, tc.lines+1, body)
		}
	}
}

// A quote is printed as any paper is, and its pages have what its JSON has.
func TestQuoteIsPrinted(t *testing.T) {
	q := quoted(t, told())
	w := askQuote(t, priced(t, told()), "Accept", "application/pdf")
	expect(t, w, http.StatusOK, "application/pdf")
	if !strings.HasPrefix(w.Body.String(), "%PDF-") {
		t.Errorf("%.20q", w.Body.String())
	}
	w = askQuote(t, priced(t, told()), "Accept", "text/html")
	expect(t, w, http.StatusOK, "text/html")
	page := strings.ReplaceAll(w.Body.String(), ",", "")
	for _, l := range q.Lines {
		if !strings.Contains(page, *l.Amount.Likely) {
			t.Errorf("%s: no %s", l.Name, *l.Amount.Likely)
		}
	}
}

// Two quotes differ by the lines that moved the price.
func TestComparesQuotes(t *testing.T) {
	dearer := told()
	dearer["margin_percent"] = 20
	dearer["given_prices"] = append(told()["given_prices"].([]object), object{"item": "other", "name": "crane", "price": "450 CAD", "source": "its owner"})
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/comparisons", text(object{"quotes": object{"a": priced(t, told()), "b": priced(t, dearer)}}))
	expect(t, w, http.StatusOK, "application/json")
	var names []string
	for _, f := range read[wire.Comparison](t, w).Facts {
		names = append(names, f.Name)
	}
	if want := []string{"total", "before taxes", "contingency", "margin", "tax, GST", "tax, QST", "other, crane"}; !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
}

// Whatever is said of a quote is in it: its currency, days that are lost, waiting, its own
// contingency, a price of one place, and a term of the card with its note.
func TestQuoteTakesAllThatIsSaid(t *testing.T) {
	all := told()
	for k, v := range (object{
		"currency": "CAD", "version": 2, "standby": "2 h", "weather_days": 1, "contingency_percent": 2.5, "margin_percent": 10,
		"nights": 1, "final": false, "customer_copy": false, "empty_return": "not_charged",
		"given_prices": []object{{"item": "permit", "jurisdiction": "CA-QC", "name": "", "price": "135.50 CAD", "source": "by phone"}},
	}) {
		all[k] = v
	}
	q := quoted(t, all)
	amounts := map[string]string{}
	for _, l := range q.Lines {
		if l.Amount.Likely != nil {
			amounts[l.Item] = *l.Amount.Likely
		}
	}
	for item, want := range map[string]string{"standby": "190.00", "weather_day": "620.00", "lodging": "160.00", "permit": "135.50"} {
		if amounts[item] != want {
			t.Errorf("%s: %s, want %s", item, amounts[item], want)
		}
	}
	if _, has := amounts["return_trip"]; has || q.Version != 2 {
		t.Errorf("%+v", amounts)
	}
	raw, err := os.ReadFile("../data/example/rates.csv")
	if err != nil {
		t.Fatal(err)
	}
	csv := strings.Replace(string(raw), "marlwick-payment,marlwick-2027,payment,,day,15,,,,,,,,,,2027-01-01,2027-12-31,,,", "marlwick-payment,marlwick-2027,payment,,day,15,,,,,,,,,,2027-01-01,2027-12-31,,after the invoice,", 1)
	csv += "old,marlwick-2027,fuel_surcharge,,percent,3,,,,,,,,,,,,,,verified,somebody,,,,2020-01-01\n"
	all["rates_csv"], all["declared_value"], all["deadhead_km"] = csv, "100 CAD", 25
	delete(all, "deadhead")
	q = quoted(t, all)
	if !slices.ContainsFunc(q.Terms, func(r wire.QuoteTerm) bool { return r.Note == "after the invoice" }) {
		t.Errorf("%+v", q.Terms)
	}
	for _, l := range q.Lines {
		if l.Item == "insurance" && (l.Minimum != "120.00" || *l.Amount.Likely != "120.00") || l.Item == "fuel_surcharge" && l.Doubt == "" {
			t.Errorf("%+v", l)
		}
	}
}

// A card that is kept in the tables and given beside them is there once.
func TestCardKeptAndGiven(t *testing.T) {
	want := quoted(t, nil)
	k := keeping(t, nil)
	q := priced(t, nil)
	table := must(csv.NewReader(strings.NewReader(q["quote"].(object)["rates_csv"].(string))).ReadAll())
	for _, row := range table[1:] {
		c := cells{}
		for i, name := range table[0] {
			if name != "id" && name != "tables_revision" {
				c[name] = row[i]
			}
		}
		does[wire.Made](t, k, http.MethodPut, rowAt("rates", row[0]), put(c), ifNone...)
	}
	w := k.ask(t, http.MethodPost, "/v1/quotes", q)
	expect(t, w, http.StatusOK, "application/json")
	if got := read[wire.Quote](t, w); *got.Total.Likely != *want.Total.Likely || got.Unpriced != want.Unpriced {
		t.Errorf("%s without %d, want %s without %d", *got.Total.Likely, got.Unpriced, *want.Total.Likely, want.Unpriced)
	}
}
