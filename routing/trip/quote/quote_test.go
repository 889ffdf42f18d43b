package quote

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

func dec(text string) *apd.Decimal {
	d, _, err := apd.NewFromString(text)
	if err != nil {
		panic(err)
	}
	return d
}

func rate(id string, item rates.Item, unit rates.Unit, amount string) *rates.Rate {
	r := &rates.Rate{ID: id, Card: "tern", Item: item, Unit: unit, Currency: "CAD"}
	if amount != "" {
		r.Low, r.Amount, r.High = dec(amount), dec(amount), dec(amount)
	}
	r.Proof = rows.Proof{Status: finding.Verified, ReadOn: day}
	return r
}

var day = time.Date(2027, 5, 11, 0, 0, 0, 0, time.UTC)

func work(parts ...Part) Work {
	return Work{Card: "tern", From: "CA-ON", To: "CA-QC", Quoted: day, On: day, Term: 365 * 24 * time.Hour, Parts: parts}
}

func gst() *rates.Rate {
	r := rate("gst", rates.Tax, rates.Percent, "5")
	r.Card, r.Name, r.Jurisdiction, r.Origin, r.Currency = "", "GST", "CA-QC", "CA", ""
	return r
}

func km(text string) Quantity { return Quantity{Unit: rates.KM, Range: Exactly(dec(text))} }

// A quote by hand: 339.94 km shown as 339.9 at 4.255 CAD is 1,446.2745, so 1,446.27; 10 % of
// it is 144.627, so 144.63; 5 % of 1,590.90 is 79.545, and half a cent is a cent (Excise Tax
// Act, s. 165.2, from memory): 79.55.
func TestByHand(t *testing.T) {
	q := Of([]*rates.Rate{rate("haul", rates.Haulage, rates.KM, "4.255"), rate("margin", rates.Margin, rates.Percent, "10"), gst()},
		work(Part{Item: rates.Haulage, Quantities: []Quantity{km("339.94")}, Needed: true}))
	var got []string
	for _, l := range q.Lines {
		got = append(got, string(l.Item)+" "+money.Text(l.Amount.Likely, q.Currency))
	}
	if want := []string{"haulage 1446.27", "margin 144.63", "tax 79.55"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if total := money.Text(q.Total.High, q.Currency); total != "1670.45" || q.Currency != "CAD" || q.Unpriced() != 0 || len(q.Hindrances()) != 0 {
		t.Errorf("%s %s, %d unpriced, %v", total, q.Currency, q.Unpriced(), q.Hindrances())
	}
}

// What nobody has a price of stands as such: the total leaves it out, has no high end and
// cannot be final.
func TestUnknown(t *testing.T) {
	haul := Part{Item: rates.Haulage, Quantities: []Quantity{km("100")}, Needed: true}
	base := []*rates.Rate{rate("haul", rates.Haulage, rates.KM, "4"), gst()}
	dollars := rate("escort", rates.Escort, rates.KM, "2")
	dollars.Currency = "USD"
	old := rate("escort", rates.Escort, rates.KM, "2")
	old.ReadOn = day.AddDate(-2, 0, 0)
	for name, tc := range map[string]struct {
		rates []*rates.Rate
		part  Part
		why   say.Code // of a line; "" for none
	}{
		"no price":            {nil, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}, Needed: true}, "quote.no_price"},
		"not needed":          {nil, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}}, ""},
		"a price not known":   {[]*rates.Rate{rate("escort", rates.Escort, rates.KM, "")}, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}}, "quote.amount_not_known"},
		"a quantity not told": {[]*rates.Rate{rate("escort", rates.Escort, rates.Hour, "80")}, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}}, "quote.no_quantity"},
		"nothing known of it": {[]*rates.Rate{rate("escort", rates.Escort, rates.KM, "2")}, Part{Item: rates.Escort, Unknown: say.That("quote.no_value")}, "quote.no_value"},
		"two prices": {[]*rates.Rate{rate("one", rates.Escort, rates.KM, "2"), rate("two", rates.Escort, rates.KM, "3")},
			Part{Item: rates.Escort, Quantities: []Quantity{km("10")}}, "quote.two_prices"},
		"another currency": {[]*rates.Rate{dollars}, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}}, "quote.no_exchange"},
	} {
		q := Of(append(tc.rates, base...), work(haul, tc.part))
		i := slices.IndexFunc(q.Lines, func(l Line) bool { return !l.Priced() })
		switch {
		case tc.why == "":
			if i >= 0 || len(q.Apart) == 0 {
				t.Errorf("%s: %+v", name, q.Lines)
			}
		case i < 0 || q.Lines[i].Unknown.Code != tc.why || q.Unpriced() != 1 || q.Total.High != nil || len(q.Hindrances()) == 0:
			t.Errorf("%s: %+v", name, q.Lines)
		case money.Text(q.Total.Likely, "CAD") != "420.00":
			t.Errorf("%s: the rest is %s", name, q.Total.Likely)
		}
		given := work(haul, tc.part)
		given.Given = []Given{{Item: rates.Escort, Price: money.Money{Amount: dec("50"), Currency: "CAD"}, Source: "by phone"}}
		if q := Of(append(tc.rates, base...), given); q.Unpriced() != 0 || money.Text(q.Total.High, "CAD") != "472.50" {
			t.Errorf("%s: with a price given %+v", name, q.Total)
		}
	}
	if q := Of(append(base, old), work(haul, Part{Item: rates.Escort, Quantities: []Quantity{km("10")}})); q.Unpriced() != 0 || len(q.Hindrances()) != 1 || q.Total.High == nil {
		t.Errorf("a price of two years ago: %v", q.Hindrances())
	}
}

// Without a row for the destination the tax is not known, and never nothing.
func TestTaxNotKnown(t *testing.T) {
	w := work(Part{Item: rates.Haulage, Quantities: []Quantity{km("100")}, Needed: true})
	all := []*rates.Rate{rate("haul", rates.Haulage, rates.KM, "4"), gst()}
	for _, to := range []string{"", "US-NY", "CA-NB"} {
		if w.To = to; Of(all, w).Unpriced() != 1 {
			t.Errorf("%q: %+v", to, Of(all, w).Lines)
		}
	}
	w.To, w.From = "CA-QC", ""
	if Of(all, w).Unpriced() != 1 {
		t.Errorf("from nowhere: %+v", Of(all, w).Lines)
	}
}

// The order of rates and parts changes no sum, and a part more never lowers one.
func TestOrderAndMore(t *testing.T) {
	for seed := range 500 {
		r := rand.New(rand.NewPCG(6, uint64(seed)))
		m := random(r)
		q := priced(m)
		for range 3 {
			r.Shuffle(len(m.card), func(i, j int) { m.card[i], m.card[j] = m.card[j], m.card[i] })
			r.Shuffle(len(m.parts), func(i, j int) { m.parts[i], m.parts[j] = m.parts[j], m.parts[i] })
			if got := priced(m); got.Total.Likely.Cmp(q.Total.Likely) != 0 || got.Total.Low.Cmp(q.Total.Low) != 0 || got.Unpriced() != q.Unpriced() {
				t.Fatalf("case %d: %v in another order is %v", seed, q.Total, got.Total)
			}
		}
		if len(m.parts) == 0 || m.whichever != "" {
			continue
		}
		less := m
		less.parts = m.parts[1:]
		if got := priced(less); got.Total.Likely.Cmp(q.Total.Likely) > 0 || got.Total.Low.Cmp(q.Total.Low) > 0 || q.Total.High != nil && got.Total.High != nil && got.Total.High.Cmp(q.Total.High) > 0 {
			t.Fatalf("case %d: %v, and %v with a part less", seed, q.Total, got.Total)
		}
	}
}

// The headings of the customer's copy add up to the total, and none but transport bears margin
// or contingency.
func TestHeadingsAddUp(t *testing.T) {
	for seed := range 500 {
		q := priced(random(rand.New(rand.NewPCG(7, uint64(seed)))))
		likely, unpriced := new(apd.Decimal), 0
		for _, s := range q.Sums() {
			add(likely, s.Amount.Likely)
			for _, l := range s.Lines {
				if !l.Priced() {
					unpriced++
				}
			}
		}
		if likely.Cmp(q.Total.Likely) != 0 || unpriced != q.Unpriced() {
			t.Fatalf("case %d: %s of %s, %d of %d unpriced", seed, likely, q.Total.Likely, unpriced, q.Unpriced())
		}
	}
}

// What is charged if it comes to it is a term until the move has it; the validity of the card
// dates the quote.
func TestTerms(t *testing.T) {
	all := []*rates.Rate{rate("wait", rates.Standby, rates.Hour, "95"), rate("valid", rates.Validity, rates.Day, "30"), gst()}
	q := Of(all, work())
	if len(q.Terms) != 2 || !q.ValidUntil.Equal(day.AddDate(0, 0, 30)) {
		t.Errorf("%+v, %v", q.Terms, q.ValidUntil)
	}
	q = Of(all, work(Part{Item: rates.Standby, Quantities: []Quantity{{Unit: rates.Hour, Range: Exactly(dec("2"))}}}))
	if len(q.Terms) != 1 || money.Text(q.Subtotal.Likely, "CAD") != "190.00" {
		t.Errorf("%+v, %v", q.Terms, q.Subtotal)
	}
}

// Of two ferries that the roads do not name each is priced once: by a price that was told
// under a name, by the card where none is left. What more was told is of another.
func TestGivenOfAName(t *testing.T) {
	ferry := Part{Item: rates.Ferry, Quantities: []Quantity{Whole(rates.Each, 1)}, Needed: true}
	told := func(names ...string) (out []Given) {
		for _, name := range names {
			out = append(out, Given{Item: rates.Ferry, Name: name, Price: money.Money{Amount: dec("135"), Currency: "CAD"}, Source: "by phone"})
		}
		return out
	}
	for names, want := range map[string]string{"Sorel": "235.00", "Sorel,Quyon": "270.00", "Sorel,Quyon,Lumber Quay": "405.00"} {
		w := work(ferry, ferry)
		w.Given = told(strings.Split(names, ",")...)
		if q := Of([]*rates.Rate{rate("ferry", rates.Ferry, rates.Each, "100")}, w); money.Text(q.Subtotal.Likely, "CAD") != want || q.Unpriced() > 1 {
			t.Errorf("%s: %v, %+v", names, q.Subtotal.Likely, q.Lines)
		}
	}
}
