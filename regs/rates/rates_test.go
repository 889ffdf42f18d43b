package rates

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wayhouse/data"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// rateOf reads a price of an invented card.
func rateOf(t testing.TB, changes map[string]string) (*Rate, error) {
	t.Helper()
	cells := map[string]string{
		"id": "r", "card": "tern", "item": "haulage", "unit": "km", "amount": "4.25", "currency": "CAD",
		"status": "invented", "source": "invented for this test",
	}
	for column, text := range changes {
		cells[column] = text
	}
	record := make(rows.Record, len(Table().Columns))
	for i, column := range Table().Columns {
		record[i] = cells[column]
	}
	r, err := Table().Row(1, record)
	return &r, err
}

func TestReads(t *testing.T) {
	r, err := rateOf(t, map[string]string{"low": "4", "minimum": "250", "jurisdiction": "CA-ON", "up_to_length": "12 m", "days": "3", "valid_from": "2027-01-01"})
	if err != nil || r.Low.String() != "4" || r.High.String() != "4.25" || r.Minimum.String() != "250" || r.Days != 3 ||
		*r.UpToLength != 12*measure.Metre || r.Jurisdiction != "CA-ON" || r.From.IsZero() {
		t.Errorf("%+v, %v", r, err)
	}
	if r, err := rateOf(t, map[string]string{"amount": ""}); err != nil || r.Amount != nil || r.Low != nil {
		t.Errorf("a price that is not known: %+v, %v", r, err)
	}
	for name, bad := range map[string]map[string]string{
		"no card":             {"card": ""},
		"a unit of others":    {"unit": "night"},
		"no currency":         {"currency": ""},
		"no currency of ISO":  {"currency": "QQQ"},
		"an amount with one":  {"amount": "4.25 CAD"},
		"low above":           {"low": "5"},
		"high below":          {"high": "4"},
		"high of nothing":     {"amount": "", "high": "4"},
		"days the wrong way":  {"valid_from": "2027-02-01", "valid_to": "2027-01-01"},
		"a tax of nowhere":    {"item": "tax", "unit": "percent", "name": "GST"},
		"a tax without name":  {"item": "tax", "unit": "percent", "jurisdiction": "CA-ON"},
		"an item of no table": {"item": "haulages"},
		"a minimum of what":   {"item": "insurance", "unit": "percent", "currency": "", "minimum": "50"},
	} {
		if r, err := rateOf(t, bad); err == nil {
			t.Errorf("%s: read as %+v", name, r)
		}
	}
}

// The nearest price counts: of the place before its country, of a card before every card, for
// the smallest size that holds the rig; two that are as near are both told.
func TestFor(t *testing.T) {
	make := func(id string, changes map[string]string) *Rate {
		r, err := rateOf(t, changes)
		if err != nil {
			t.Fatal(err)
		}
		r.ID = id
		return r
	}
	ferry := func(id, name, length string) *Rate {
		return make(id, map[string]string{"item": "ferry", "unit": "each", "name": name, "up_to_length": length})
	}
	all := []*Rate{
		make("anywhere", nil), make("canada", map[string]string{"jurisdiction": "CA"}), make("ontario", map[string]string{"jurisdiction": "CA-ON"}),
		make("hours", map[string]string{"unit": "hour"}), make("other card", map[string]string{"card": "gull"}),
		make("past", map[string]string{"jurisdiction": "CA-ON", "valid_to": "2026-12-31"}),
		make("twice a", map[string]string{"item": "standby", "unit": "hour"}), make("twice b", map[string]string{"item": "standby", "unit": "hour"}),
		ferry("short", "", "10 m"), ferry("long", "", "20 m"), ferry("any", "", ""), ferry("named", "Tern", "20 m"),
		make("gst", map[string]string{"item": "tax", "unit": "percent", "name": "GST", "card": "", "jurisdiction": "CA-QC", "origin": "CA"}),
		make("qst", map[string]string{"item": "tax", "unit": "percent", "name": "QST", "card": "", "jurisdiction": "CA-QC", "origin": "CA-QC"}),
		make("qst, inbound", map[string]string{"item": "tax", "unit": "percent", "name": "QST", "card": "", "jurisdiction": "CA-QC", "origin": "CA"}),
	}
	day := time.Date(2027, 5, 11, 0, 0, 0, 0, time.UTC)
	metres := func(n measure.Length) *measure.Length { n *= measure.Metre; return &n }
	for _, tc := range []struct {
		c    Case
		want string
	}{
		{Case{Item: Haulage, Jurisdiction: "CA-ON"}, "ontario hours"},
		{Case{Item: Haulage, Jurisdiction: "CA-ON/Ottawa"}, "ontario hours"},
		{Case{Item: Haulage, Jurisdiction: "CA-QC"}, "canada hours"},
		{Case{Item: Haulage, Jurisdiction: "US-NY"}, "anywhere hours"},
		{Case{Item: Haulage}, "anywhere hours"},
		{Case{Item: Haulage, Card: "gull"}, "other card"},
		{Case{Item: Standby}, "twice a twice b"},
		{Case{Item: Ferry, Length: metres(9)}, "short"},
		{Case{Item: Ferry, Length: metres(10)}, "short"},
		{Case{Item: Ferry, Length: metres(11)}, "long"},
		{Case{Item: Ferry, Length: metres(11), Name: "Tern"}, "named"},
		{Case{Item: Ferry, Length: metres(21)}, "any"},
		{Case{Item: Ferry}, "any"},
		{Case{Item: Tax, Jurisdiction: "CA-QC", Origin: "CA-ON"}, "gst qst, inbound"},
		{Case{Item: Tax, Jurisdiction: "CA-QC", Origin: "CA-QC"}, "gst qst"},
		{Case{Item: Tax, Jurisdiction: "CA-QC"}, ""},
		{Case{Item: Toll}, ""},
	} {
		if tc.c.On = day; tc.c.Card == "" {
			tc.c.Card = "tern"
		}
		var got []string
		for _, r := range For(all, tc.c) {
			got = append(got, r.ID)
		}
		if strings.Join(got, " ") != tc.want {
			t.Errorf("%+v: %q, want %q", tc.c, got, tc.want)
		}
	}
	if got := Cards(all); !slices.Equal(got, []string{"gull", "tern"}) {
		t.Errorf("%q", got)
	}
}

// The taxes that ship, held against what Revenu Québec prints of freight transportation
// (Domestic Inbound Services, summary: from Canada outside Québec, GST and no QST; from
// Québec, both; from outside Canada, zero-rated) and the rates of the Canada Revenue Agency
// (Which rate to charge; 14 % in Nova Scotia from 2025-04-01 on, Notice 342).
func TestShippedTaxes(t *testing.T) {
	raw, err := data.Files.ReadFile("tables/rates.csv")
	if err != nil {
		t.Fatal(err)
	}
	read, _, err := Table().ReadCSV(raw)
	if err != nil {
		t.Fatal(err)
	}
	var all []*Rate
	for i := range read {
		all = append(all, &read[i])
	}
	for _, tc := range []struct{ from, to, want string }{
		{"CA-ON", "CA-QC", "GST 5; QST 0"}, {"CA-QC", "CA-QC", "GST 5; QST 9.975"}, {"US-NY", "CA-QC", "GST/HST 0"},
		{"CA-QC", "CA-ON", "HST 13"}, {"CA-ON", "CA-NB", "HST 15"}, {"CA-ON", "CA-NS", "HST 14"}, {"CA-BC", "CA-AB", "GST 5"},
		{"CA-ON", "US-NY", "GST/HST 0; state tax not known"}, {"US-NY", "US-VT", "state tax not known"},
		{"CA-ON", "CA-BC", "GST 5; PST not known"},
	} {
		var got []string
		for _, r := range For(all, Case{Item: Tax, Jurisdiction: tc.to, Origin: tc.from, On: time.Date(2027, 5, 11, 0, 0, 0, 0, time.UTC)}) {
			amount := "not known"
			if r.Amount != nil {
				amount = r.Amount.String()
			}
			got = append(got, r.Name+" "+amount)
		}
		if slices.Sort(got); strings.Join(got, "; ") != tc.want {
			t.Errorf("%s to %s: %q, want %s", tc.from, tc.to, got, tc.want)
		}
	}
}
