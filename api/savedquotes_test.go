package api_test

import (
	"math/big"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"wayhouse/api/wire"
)

// ownCard keeps a card of the tables: so much for each kilometre, and a margin.
func ownCard(t *testing.T, k keeper, km string, headers ...string) (revision int) {
	t.Helper()
	row := cells{
		"card": "own", "item": "haulage", "unit": "km", "amount": km, "currency": "CAD", "status": "verified",
		"source": "my own price", "read_on": "2026-09-01",
	}
	does[wire.Made](t, k, http.MethodPut, rowAt("rates", "own-km"), put(row), headers...)
	return k.newest(t)
}

// savedQuote is the example, saved with what is said of its quote.
func savedQuote(t *testing.T, k keeper, said object) wire.SavedTrip {
	t.Helper()
	q := example(t, "", "")
	q["quote"] = said
	return does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(q), ifNone...)
}

// A saved quote is printed again as it was sent, to the letter, in every form and language and
// either copy, whatever the rates have become since.
func TestSavedQuoteStays(t *testing.T) {
	k := keeping(t, nil)
	said := told()
	said["rates_csv"] = priced(t, nil)["quote"].(object)["rates_csv"]
	delete(said, "exchange") // so that a line lacks its price
	saved := savedQuote(t, k, said)
	forms := []struct{ accept, lang, copy string }{
		{"application/json", "en", "false"}, {"application/json", "fr", "true"}, {"text/plain", "en", "false"},
		{"text/plain", "fr", "false"}, {"text/csv", "en", "true"}, {"text/html", "en", "false"}, {"text/html", "fr", "true"},
	}
	var sent []string
	for _, f := range forms {
		q := example(t, "", "")
		said["customer_copy"] = f.copy == "true"
		q["quote"] = said
		w := k.ask(t, http.MethodPost, "/v1/quotes", q, "Accept", f.accept, "Accept-Language", f.lang)
		expect(t, w, http.StatusOK, f.accept)
		sent = append(sent, w.Body.String())
	}
	ownCard(t, k, "9.99", ifNone...)
	for i, f := range forms {
		w := k.ask(t, http.MethodGet, "/v1/trips/first/quote?customer_copy="+f.copy, nil, "Accept", f.accept,
			"Accept-Language", f.lang)
		expect(t, w, http.StatusOK, f.accept)
		if w.Body.String() != sent[i] {
			t.Errorf("%+v: %s", f, firstDifference(w.Body.String(), sent[i]))
		}
	}
	first := gets[wire.Quote](t, k, "/v1/trips/first/quote")
	if saved.Quote == nil || *saved.Quote.Total.Likely != *first.Total.Likely || saved.Quote.Unpriced != 1 ||
		saved.Quote.ValidUntil != first.ValidUntil || first.Customer {
		t.Errorf("%+v, %+v", saved.Quote, first.Total)
	}
}

// firstDifference is the first line that differs, on both sides.
func firstDifference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return a[i] + "\nwas sent as\n" + b[i]
		}
	}
	return "one is longer"
}

// What moved the price of a saved trip is told for each line, by quantity and by rate, with the
// revisions that wrote both rates.
func TestWhatMovedASavedPrice(t *testing.T) {
	k := keeping(t, nil)
	before := ownCard(t, k, "4.35", ifNone...)
	saved := savedQuote(t, k, object{"card": "own", "quoted_on": "2026-11-01", "margin_percent": 10})
	if same := gets[wire.Comparison](t, k, "/v1/trips/first/changes"); len(same.Moved)+len(same.Facts) != 0 {
		t.Fatalf("nothing changed: %+v, %+v", same.Facts, same.Moved)
	}
	after := ownCard(t, k, "4.60", ifMatch(before)...)
	changed := gets[wire.Comparison](t, k, "/v1/trips/first/changes")
	var haulage, margin string
	for _, m := range changed.Moved {
		switch {
		case strings.HasPrefix(m.Says, "haulage"):
			haulage = m.Says
		case strings.HasPrefix(m.Says, "margin"):
			margin = m.Says
		}
	}
	// By hand: 339.9 km at 4.35 are 1,478.565, so 1,478.57; at 4.60 they are 1,563.54. A tenth of
	// these is 147.86 and 156.35.
	for _, want := range []string{"84.97 CAD more, by the rate", "own-km, revision " + strconv.Itoa(after),
		"before: own-km, revision " + strconv.Itoa(before)} {
		if !strings.Contains(haulage, want) {
			t.Errorf("%q does not say %q", haulage, want)
		}
	}
	if !strings.Contains(margin, "8.49 CAD more, by what it is a share of") {
		t.Errorf("%q", margin)
	}
	i := slices.IndexFunc(changed.Facts, func(f wire.ComparedFact) bool { return f.Name == "total" })
	if i < 0 || !strings.Contains(text(changed.Facts[i].A), *saved.Quote.Total.Likely) {
		t.Errorf("%+v", changed.Facts)
	}
	renewed := does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(object{
		"quote": object{"card": "own", "margin_percent": 10}, "unit": example(t, "", "")["unit"],
		"tow": example(t, "", "")["tow"], "stops": example(t, "", "")["stops"], "depart": "2027-05-11T08:00",
	}), "If-Match", `"1"`)
	if saved.Quote.Version != 1 || renewed.Quote.Version != 2 {
		t.Errorf("versions %d and %d of the quote", saved.Quote.Version, renewed.Quote.Version)
	}
	sum := rat(t, renewed.Quote.Total.Likely)
	if now := gets[wire.Quote](t, k, "/v1/trips/first/quote?version=2"); sum.Cmp(rat(t, now.Total.Likely)) != 0 ||
		sum.Cmp(rat(t, saved.Quote.Total.Likely)) <= 0 || sum.Cmp(new(big.Rat)) <= 0 {
		t.Errorf("%v, %+v", sum, now.Total)
	}
}

// A quote that is read behind its last day says so in every form, and is not final any more.
func TestSavedQuoteIsPast(t *testing.T) {
	k := keeping(t, nil)
	said := told()
	said["rates_csv"], said["quoted_on"] = priced(t, nil)["quote"].(object)["rates_csv"], noon().Format(time.DateOnly)
	savedQuote(t, k, said)
	last := noon().AddDate(0, 0, 30)
	for _, tc := range []struct {
		at   time.Time
		past bool
	}{{last, false}, {last.AddDate(0, 0, 1), true}} {
		k.Tables.Clock = func() time.Time { return tc.at }
		q := gets[wire.Quote](t, k, "/v1/trips/first/quote")
		said := slices.ContainsFunc(q.Hindrances, func(s string) bool {
			return strings.Contains(s, "it was valid until "+last.Format(time.DateOnly))
		})
		if q.Expired != tc.past || said != tc.past || q.Final {
			t.Errorf("%s: %t, %q", tc.at, q.Expired, q.Hindrances)
		}
		w := k.ask(t, http.MethodGet, "/v1/trips/first/quote", nil, "Accept", "text/plain")
		if strings.Contains(w.Body.String(), "WHICH IS PAST") != tc.past {
			t.Errorf("%s: %s", tc.at, w.Body)
		}
	}
}

// A trip that was saved without a price has no quote to print, and says how to have one.
func TestSavedWithoutAQuote(t *testing.T) {
	k := keeping(t, nil)
	does[wire.SavedTrip](t, k, http.MethodPut, "/v1/trips/first", saving(example(t, "", "")), ifNone...)
	refused(t, k.ask(t, http.MethodGet, "/v1/trips/first/quote", nil), http.StatusUnprocessableEntity,
		entry{"id", "first", "without a quote", "rate card"})
	refused(t, k.ask(t, http.MethodGet, "/v1/trips/second/quote", nil), http.StatusNotFound,
		entry{problem: "nothing is saved"})
}
