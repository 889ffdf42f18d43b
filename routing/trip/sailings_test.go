package trip

import (
	"slices"
	"testing"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/quote"
)

// fares are a card with a fare of each ferry by name, size or neither: all for one crossing.
func fares(all ...rates.Rate) (out []*rates.Rate) {
	for i, r := range all {
		r.ID, r.Card, r.Item, r.Currency, r.Low, r.High = string(rune('a'+i)), "tern", rates.Ferry, "CAD", r.Amount, r.Amount
		r.Unit = rates.Each
		out = append(out, &r)
	}
	return out
}

// A ferry of two pieces of which a border cuts one is one, with its name and its shores; one
// that the map does not name is told by its shores, and one that lands nowhere known by neither.
func TestSailings(t *testing.T) {
	water := func(name, code string, from, to measure.Distance) road {
		return road{name: name, from: off(from, 0), to: off(to, 0), class: network.Ferry, speed: 5, code: code}
	}
	land := func(town string, from, to measure.Distance) road {
		return road{name: "street", from: off(from, 0), to: off(to, 0), town: town}
	}
	p := plan(t, world(t, []road{
		land(
			"Saint-Aubin",
			0,
			3000,
		), water("Traverse du Loup", "CA-ON", 3000, 4000), water("Traverse du Loup", "CA-QC", 4000, 5000),
		land("Grèves", 5000, 8000), water("", "CA-ON", 8000, 9000), land("Île-au-Foin", 9000, 12_000),
		water("", "CA-ON", 12_000, 13_000), land("", 13_000, 15_000),
	}, nil), described(from(off(0, 0), off(15_000, 0))))
	want := []Sailing{
		{Name: "Traverse du Loup", From: "Saint-Aubin", To: "Grèves", Jurisdiction: "CA-ON"},
		{From: "Grèves", To: "Île-au-Foin", Jurisdiction: "CA-ON"},
		{From: "Île-au-Foin", Jurisdiction: "CA-ON"},
	}
	if !slices.Equal(p.Sailings, want) {
		t.Fatalf("%+v, want %+v", p.Sailings, want)
	}
	fare := func(name, text string) rates.Rate {
		amount, _, err := apd.NewFromString(text)
		if err != nil {
			t.Fatal(err)
		}
		return rates.Rate{Name: name, Amount: amount}
	}
	upTo := func(text string, length, height *measure.Length) rates.Rate {
		out := fare("", text)
		out.UpToLength, out.UpToHeight = length, height
		return out
	}
	short, long := 9*measure.Metre, 30*measure.Metre
	for name, tc := range map[string]struct {
		card []*rates.Rate
		want []string // likely amounts of the ferries; "" of one without a price
	}{
		"by name, however it is written": {fares(fare("traverse du loup", "40")), []string{"40.00", "", ""}},
		"by both ends, either way":       {fares(fare("Ile-au-Foin – Greves", "25")), []string{"", "25.00", ""}},
		"the ends in short":              {fares(fare("St-Aubin / Grèves", "38")), []string{"38.00", "", ""}},
		"of any": {
			fares(fare("", "10"), fare("Traverse du Loup", "40")),
			[]string{"40.00", "10.00", "10.00"},
		},
		"the smallest that holds the rig": {
			fares(upTo("10", &short, nil), upTo("90", &long, nil)),
			[]string{"90.00", "90.00", "90.00"},
		},
		"too low for the rig": {
			fares(upTo("10", nil, &short), upTo("9", nil, length(2000))),
			[]string{"10.00", "10.00", "10.00"},
		},
		"of another": {fares(fare("Quyon", "40")), []string{"", "", ""}},
	} {
		var got []string
		for _, l := range quote.Of(tc.card, p.Work(Deal{Work: quote.Work{Card: "tern", Currency: "CAD"}})).Lines {
			switch {
			case l.Item != rates.Ferry:
			case l.Priced():
				got = append(got, money.Text(l.Amount.Likely, "CAD"))
			default:
				got = append(got, "")
			}
		}
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: %q, want %q", name, got, tc.want)
		}
	}
	whom := quote.Of(nil, p.Work(Deal{Work: quote.Work{Card: "tern"}})).Lines
	i := slices.IndexFunc(whom, func(l quote.Line) bool { return l.Item == rates.Ferry })
	if says := whom[i].Says().String(); whom[i].Whom.None() || whom[i].Called.Get("from") != "Saint-Aubin" {
		t.Errorf("%s, ask %s", says, whom[i].Whom)
	}
}
