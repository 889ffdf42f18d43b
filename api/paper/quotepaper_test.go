package paper

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/language"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip"
	"wayhouse/testdata/english"
	"wayhouse/testdata/needs"
)

// toldOfQuote is the most of what the example leaves open; the bridge has no price.
const toldOfQuote = `
for: A. Customer
number: 2027-14
quoted_on: 2027-04-20
deadhead: 25 km
empty_return: charged
declared_value: 85000 CAD
given_prices:
  - {item: permit, price: 135.50 CAD, source: "by phone, 2027-04-01"}
`

// quoted is the quote of the example by its invented card, with what is said of it.
func quoted(t testing.TB, says string, customer bool) *trip.Priced {
	t.Helper()
	q := exampleTrip(func(q *wire.TripRequest) {
		if err := yaml.Unmarshal([]byte(says), &q.Quote); err != nil {
			t.Fatal(err)
		}
		q.Quote.RatesCSV = string(must(os.ReadFile(example + "rates.csv")))
		q.Quote.CustomerCopy = customer
	})
	p, err := known().Quote(t.Context(), wire.Asked[wire.TripRequest]{Said: q})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The paper of a quote, and the customer's copy, are as they were looked at.
func TestQuotePapers(t *testing.T) {
	for name, customer := range map[string]bool{"quote": false, "quote-customer": true} {
		p := quoted(t, toldOfQuote, customer)
		revisions := strings.NewReplacer(p.Plan.Tables, "TABLES", p.Plan.About.Revision, "ROADS")
		theirs := append(untranslated(), p.Plan.Name)
		said := wire.NewQuote(phrase.English(), p)
		for _, l := range said.Lines {
			theirs = append(theirs, l.Source)
		}
		for _, g := range said.Attributions {
			theirs = append(theirs, g.String())
		}
		for _, tag := range phrase.Languages() {
			golden := "../../testdata/paper-" + name + "." + tag.String() + ".txt"
			got := revisions.Replace(words(t, htmlOf(t, OfQuote(printed(tag, measure.Both), p)...)))
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(must(os.ReadFile(golden))), got); diff != "" {
				t.Errorf("%s:\n%s", golden, diff)
			}
			if said := english.In(got, theirs...); tag == language.French && said != "" {
				t.Errorf("%s has English: %s", name, said)
			}
		}
	}
}

// A PDF, as another program reads it (pdftotext of poppler), has every amount, every term and
// everything that is not priced that the JSON of the quote has; the customer's copy has nothing
// of how the price comes about, whatever is not priced.
func TestQuotePDFHasWhatJSONHas(t *testing.T) {
	needs.Require(t, needs.Poppler)
	for _, says := range []string{toldOfQuote, `{empty_return: charged}`} {
		for _, customer := range []bool{false, true} {
			p := quoted(t, says, customer)
			file := filepath.Join(t.TempDir(), "quote.pdf")
			if err := os.WriteFile(file, pdfOf(t, OfQuote(printed(language.English, measure.Metric), p)...), 0o644); err != nil {
				t.Fatal(err)
			}
			text := strings.ReplaceAll(squeezed(string(must(exec.Command("pdftotext", "-raw", file, "-").Output()))), ",", "")
			has := func(want string) {
				if !strings.Contains(text, strings.ReplaceAll(squeezed(want), ",", "")) {
					t.Errorf("customer %t: the PDF lacks %q", customer, want)
				}
			}
			q := wire.NewQuote(phrase.In(language.English, measure.Metric), p)
			amounts := 0
			all := []wire.QuoteAmount{q.Subtotal, q.Total}
			for _, h := range q.Headings {
				has(h.Name)
				if h.Amount.Likely != nil {
					all = append(all, h.Amount)
				}
			}
			for _, l := range q.Lines {
				has(l.Name)
				has(l.Unknown)
				has(l.Ask)
				all = append(all, l.Amount)
			}
			for _, a := range all {
				for _, end := range []*string{a.Low, a.Likely, a.High} {
					if end != nil {
						has(*end)
						amounts++
					}
				}
			}
			for _, term := range q.Terms {
				has(term.Says)
			}
			for _, said := range append(append(q.Cautions, q.Assumptions...), q.For, q.Counted, "INVENTED", "UNPRICED ITEM") {
				has(said)
			}
			if amounts < 12 || customer != (len(q.Lines) == 0) {
				t.Errorf("%d amounts, %d lines", amounts, len(q.Lines))
			}
			for _, never := range []string{"margin", "contingency", "marlwick", "4.35"} {
				if customer && strings.Contains(text, never) {
					t.Errorf("the customer reads %q", never)
				}
			}
		}
	}
}

// A quote is void on the day that its card says, and not when other papers are.
func TestQuoteHoldsAsItsCardSays(t *testing.T) {
	p := quoted(t, toldOfQuote, true)
	d := OfQuote(printed(language.English, measure.Both), p)[0]
	if foot := string(must(json.Marshal(d.Foot))); p.Quote.ValidUntil.IsZero() ||
		!strings.Contains(foot, "VOID AFTER "+p.Quote.ValidUntil.Format("2006-01-02")) {
		t.Errorf("valid until %v: %s", p.Quote.ValidUntil, foot)
	}
}
