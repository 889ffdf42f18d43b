package quote

import (
	"testing"

	"wayhouse/regs/money"
	"wayhouse/regs/rates"
)

// byHand has every item in every unit that a card may price it in: a rate, how much there is of
// it, and what that comes to, reckoned by hand. Shares are of a haul of 1,000.00 CAD, insurance
// of 85,000 CAD, the agent's of two fees of 100.00 CAD.
var byHand = map[rates.Item]map[rates.Unit][3]string{
	rates.Haulage: {
		rates.KM: {"4.35", "339.9", "1478.57"}, rates.Mile: {"7.00", "211.2", "1478.40"}, // 1,478.565: half a cent is one
		rates.Hour: {"165", "4.02", "663.30"}, rates.Day: {"1250", "2", "2500.00"}, rates.Each: {"1800", "1", "1800.00"},
	},
	rates.Deadhead: {
		rates.KM: {"1.90", "25", "47.50"}, rates.Mile: {"3.05", "15.5", "47.28"}, rates.Each: {"60", "1", "60.00"},
	},
	rates.Return: {
		rates.KM: {"1.90", "339.9", "645.81"}, rates.Mile: {"3.05", "211.2", "644.16"}, rates.Each: {"500", "1", "500.00"},
	},
	rates.Fuel:          {rates.Litre: {"1.72", "87.2", "149.98"}, rates.USGal: {"5.10", "23", "117.30"}},
	rates.FuelSurcharge: {rates.Percent: {"7.5", "", "75.00"}},
	rates.Standby:       {rates.Hour: {"95", "2.25", "213.75"}, rates.Day: {"800", "1", "800.00"}},
	rates.WeatherDay:    {rates.Day: {"620", "2", "1240.00"}},
	rates.Lodging:       {rates.Night: {"160", "3", "480.00"}},
	rates.Escort: {
		rates.KM: {"1.65", "120.4", "198.66"}, rates.Mile: {"2.60", "74.8", "194.48"}, rates.Hour: {"70", "3.5", "245.00"},
		rates.Day: {"550", "2", "1100.00"}, rates.Each: {"400", "2", "800.00"},
	},
	rates.EscortReturn: {
		rates.KM: {"0.95", "120.4", "114.38"}, rates.Mile: {"1.50", "74.8", "112.20"}, rates.Each: {"90", "2", "180.00"},
	},
	rates.EscortNight:   {rates.Night: {"175", "2", "350.00"}},
	rates.EscortStandby: {rates.Hour: {"55", "4.5", "247.50"}, rates.Day: {"400", "1", "400.00"}},
	rates.Permit:        {rates.Each: {"135.50", "1", "135.50"}},
	rates.PermitAgent:   {rates.Each: {"75", "", "150.00"}, rates.Percent: {"15", "", "30.00"}},
	rates.Survey: {
		rates.Each: {"300", "1", "300.00"}, rates.KM: {"1.10", "339.9", "373.89"}, rates.Mile: {"1.75", "211.2", "369.60"},
	},
	rates.Toll: {rates.Each: {"3.60", "1", "3.60"}},
	rates.Ferry: {
		rates.Each: {"40", "1", "40.00"}, rates.Metre: {"8.25", "13.5", "111.38"}, rates.Foot: {"2.50", "44.29", "110.73"},
	},
	rates.Insurance:   {rates.Percent: {"0.35", "", "297.50"}, rates.Each: {"120", "", "120.00"}},
	rates.Other:       {rates.Each: {"450", "1", "450.00"}},
	rates.Contingency: {rates.Percent: {"5", "", "50.00"}, rates.Each: {"100", "", "100.00"}},
	rates.Margin:      {rates.Percent: {"12", "", "120.00"}, rates.Each: {"250", "", "250.00"}},
	rates.Tax:         {rates.Percent: {"9.975", "", "99.75"}},
}

// Everything that a card may hold is priced, in every unit; terms are listed and in no sum.
func TestEveryItem(t *testing.T) {
	haul := Part{Item: rates.Haulage, Quantities: []Quantity{{Unit: rates.Each, Range: Exactly(dec("1"))}}, Needed: true}
	for _, item := range rates.Items() {
		for _, unit := range item.Units() {
			row := rate("row", item, unit, "30")
			if item == rates.Tax {
				row.Card, row.Name, row.Jurisdiction = "", "QST", "CA-QC"
			}
			by, known := byHand[item][unit]
			if item.IsTerm() {
				q := Of([]*rates.Rate{row}, work())
				if len(q.Terms) != 1 || TermSays(q.Terms[0]).None() || !q.Subtotal.Likely.IsZero() {
					t.Errorf("%s in %s: %+v, %s", item, unit, q.Terms, q.Subtotal.Likely)
				}
				continue
			}
			if !known {
				t.Errorf("%s in %s is not reckoned by hand", item, unit)
				continue
			}
			row.Low, row.Amount, row.High = dec(by[0]), dec(by[0]), dec(by[0])
			all, w := []*rates.Rate{row}, work()
			w.Declared = &money.Money{Amount: dec("85000"), Currency: "CAD"}
			switch {
			case by[1] != "":
				w.Parts = []Part{{Item: item, Quantities: []Quantity{{Unit: unit, Range: Exactly(dec(by[1]))}}}}
			case item == rates.PermitAgent:
				w.Parts = []Part{permit("CA-ON"), permit("CA-QC")}
			default:
				w.Parts, all = []Part{haul}, append(all, rate("haul", rates.Haulage, rates.Each, "1000"))
			}
			var got string
			for _, l := range Of(all, w).Lines {
				if l.Item == item && l.Priced() && l.Row == row {
					got = money.Text(l.Amount.Likely, "CAD")
				}
			}
			if got != by[2] {
				t.Errorf("%s in %s: %s at %s is %q, want %s", item, unit, by[1], by[0], got, by[2])
			}
		}
	}
}

func permit(code string) Part {
	fee := Fee{Money: money.Money{Amount: dec("100"), Currency: "CAD"}}
	return Part{Item: rates.Permit, Jurisdiction: code, Needed: true, Fee: &fee}
}

// A minimum lifts a line, whatever it is the price of, and is told.
func TestMinimumOfEveryItem(t *testing.T) {
	for _, item := range []rates.Item{
		rates.Haulage, rates.Deadhead, rates.Return, rates.Escort, rates.EscortReturn, rates.Survey,
	} {
		row := rate("row", item, rates.KM, "2")
		row.Minimum = dec("650")
		for km10, want := range map[string]string{"30": "650.00", "400": "800.00"} {
			q := Of([]*rates.Rate{row}, work(Part{Item: item, Quantities: []Quantity{km(km10)}}))
			l := q.Lines[0]
			if money.Text(l.Amount.Likely, "CAD") != want || (l.Minimum != nil) != (want == "650.00") {
				t.Errorf("%s of %s km: %s, raised to %v", item, km10, l.Amount.Likely, l.Minimum)
			}
		}
	}
}

// Taxes are those of where the move ends and where it begins: the rows of the destination, by
// origin, and none of another province.
func TestTaxesByDestination(t *testing.T) {
	tax := func(id, name, to, percent string) *rates.Rate {
		r := rate(id, rates.Tax, rates.Percent, percent)
		r.Card, r.Name, r.Jurisdiction, r.Currency = "", name, to, ""
		return r
	}
	all := []*rates.Rate{
		rate("haul", rates.Haulage, rates.Each, "1000"), tax("on", "HST", "CA-ON", "13"), tax("gst", "GST", "CA-QC", "5"),
		tax("qst", "QST", "CA-QC", "9.975"), tax("gst-ab", "GST", "CA-AB", "5"),
	}
	haul := Part{Item: rates.Haulage, Quantities: []Quantity{Whole(rates.Each, 1)}, Needed: true}
	for to, want := range map[string]string{"CA-ON": "1130.00", "CA-QC": "1149.75", "CA-AB": "1050.00"} {
		w := work(haul)
		w.To = to
		if q := Of(all, w); money.Text(q.Total.Likely, "CAD") != want || q.Unpriced() != 0 {
			t.Errorf("to %s: %s, want %s", to, q.Total.Likely, want)
		}
	}
}
