package quote

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/testdata/needs"
)

// spread is a figure of a case as text: low, likely and high, "" for an open end.
type spread [3]string

// price is one price of an invented card.
type price struct {
	item           rates.Item
	unit           rates.Unit
	amount         spread // of a rate that is not known, none
	minimum, money string
}

// need is one part of an invented move, with a quantity of each unit of its item.
type need struct {
	item       rates.Item
	quantities map[rates.Unit]spread
	needed     bool
	fee        string // in CAD; "": none
}

// move is a random case.
type move struct {
	card      []price
	parts     []need
	taxes     []price
	dollar    string // CAD for a USD; "": not given
	declared  string // "": not
	percent   map[rates.Item]string
	whichever string // an item priced by hand, in CAD
	given     rates.Item
}

func decimal(r *rand.Rand, whole int64, places int) string {
	p := r.IntN(places + 1)
	if p == 0 {
		return fmt.Sprint(r.Int64N(whole))
	}
	return fmt.Sprintf("%d.%0*d", r.Int64N(whole), p, r.Int64N(int64(pow10(p))))
}

func pow10(n int) (out int) {
	for out = 1; n > 0; n-- {
		out *= 10
	}
	return out
}

// rising are three figures in order, some of them alike, the last one perhaps open.
func rising(r *rand.Rand, whole int64, places int, open bool) spread {
	all := []string{decimal(r, whole, places), decimal(r, whole, places), decimal(r, whole, places)}
	slices.SortFunc(all, func(a, b string) int { return rat(a).Cmp(rat(b)) })
	if r.IntN(2) == 0 {
		all[0], all[2] = all[1], all[1]
	}
	if open && r.IntN(6) == 0 {
		all[2] = ""
	}
	return spread(all)
}

func rat(text string) *big.Rat {
	out, ok := new(big.Rat).SetString(text)
	if !ok {
		panic(text)
	}
	return out
}

// shares are items that Of itself makes parts of.
var shares = []rates.Item{rates.FuelSurcharge, rates.PermitAgent, rates.Insurance, rates.Contingency, rates.Margin}

func random(r *rand.Rand) move {
	m := move{percent: map[rates.Item]string{}}
	one := func(item rates.Item, unit rates.Unit) price {
		p := price{item: item, unit: unit, amount: rising(r, 500, 6, false), money: "CAD"}
		if r.IntN(12) == 0 {
			p.amount = spread{}
		}
		if r.IntN(4) == 0 {
			p.minimum = decimal(r, 2000, 3)
		}
		if r.IntN(8) == 0 {
			p.money = "USD"
		}
		return p
	}
	for _, item := range rates.Items() {
		if item.IsTerm() || item == rates.Tax || r.IntN(5) == 0 {
			continue
		}
		units := slices.Clone(item.Units())
		r.Shuffle(len(units), func(i, j int) { units[i], units[j] = units[j], units[i] })
		for _, unit := range units[:1+r.IntN(min(2, len(units)))] {
			m.card = append(m.card, one(item, unit))
		}
		if slices.Contains(shares, item) || r.IntN(3) == 0 {
			continue
		}
		for range 1 + r.IntN(2) {
			n := need{item: item, quantities: map[rates.Unit]spread{}, needed: r.IntN(2) == 0}
			for _, unit := range item.Units() {
				if r.IntN(10) > 0 {
					n.quantities[unit] = rising(r, 3000, 4, true)
				}
			}
			if item == rates.Permit && r.IntN(2) == 0 {
				n.fee = decimal(r, 900, 2)
			}
			m.parts = append(m.parts, n)
		}
	}
	for range r.IntN(3) {
		t := one(rates.Tax, rates.Percent)
		t.money, t.minimum = "CAD", ""
		m.taxes = append(m.taxes, t)
	}
	if r.IntN(2) == 0 {
		m.dollar = decimal(r, 3, 4)
	}
	if r.IntN(2) == 0 {
		m.declared = decimal(r, 200_000, 2)
	}
	for _, item := range []rates.Item{rates.Contingency, rates.Margin} {
		if r.IntN(4) == 0 {
			m.percent[item] = decimal(r, 40, 3)
		}
	}
	if r.IntN(4) == 0 {
		m.given, m.whichever = rates.Items()[r.IntN(len(rates.Items())-9)], decimal(r, 3000, 3) // none that is a share
		if slices.Contains(shares, m.given) {
			m.given = rates.Toll
		}
	}
	return m
}

// priced is what the case comes to by the package.
func priced(m move) *Quote {
	must := func(text string) *apd.Decimal {
		if text == "" {
			return nil
		}
		d, _, err := apd.NewFromString(text)
		if err != nil {
			panic(err)
		}
		return d
	}
	of := func(s spread) Range { return Range{must(s[0]), must(s[1]), must(s[2])} }
	var all []*rates.Rate
	for i, p := range slices.Concat(m.card, m.taxes) {
		r := &rates.Rate{ID: fmt.Sprint(i), Card: "tern", Item: p.item, Unit: p.unit, Currency: p.money, Minimum: must(p.minimum)}
		if p.amount != (spread{}) {
			a := of(p.amount)
			r.Low, r.Amount, r.High = a.Low, a.Likely, a.High
		}
		if p.item == rates.Tax {
			r.Card, r.Name, r.Jurisdiction = "", fmt.Sprint("tax ", i), "CA-ON"
		}
		all = append(all, r)
	}
	w := Work{Card: "tern", Currency: "CAD", From: "CA-QC", To: "CA-ON", Quoted: time.Unix(0, 0), On: time.Unix(0, 0), Percent: map[rates.Item]*apd.Decimal{}}
	for _, n := range m.parts {
		part := Part{Item: n.item, Needed: n.needed}
		for _, unit := range n.item.Units() {
			if q, has := n.quantities[unit]; has {
				quantity := Quantity{Unit: unit, Range: of(q)}
				if quantity.High == nil {
					quantity.Open = say.Text("open")
				}
				part.Quantities = append(part.Quantities, quantity)
			}
		}
		if n.fee != "" {
			part.Fee = &Fee{Money: money.Money{Amount: must(n.fee), Currency: "CAD"}}
		}
		w.Parts = append(w.Parts, part)
	}
	if m.dollar != "" {
		w.Rates = []Exchange{{Of: "USD", Rate: must(m.dollar)}}
	}
	if m.declared != "" {
		w.Declared = &money.Money{Amount: must(m.declared), Currency: "CAD"}
	}
	for item, p := range m.percent {
		w.Percent[item] = must(p)
	}
	if m.whichever != "" {
		w.Given = []Given{{Item: m.given, Price: money.Money{Amount: must(m.whichever), Currency: "CAD"}}}
	}
	return Of(all, w)
}

// book is what the oracle keeps: sums low, likely and high, nil once open, and how many lines
// have no amount.
type book struct {
	sums     [3]*big.Rat
	unpriced int
}

func empty() book { return book{sums: [3]*big.Rat{new(big.Rat), new(big.Rat), new(big.Rat)}} }

func (b *book) put(amount [3]*big.Rat) {
	for i := range b.sums {
		if b.sums[i] != nil && amount[i] != nil {
			b.sums[i] = new(big.Rat).Add(b.sums[i], amount[i])
		} else {
			b.sums[i] = nil
		}
	}
}

func (b *book) lacks() { b.unpriced++; b.sums[2] = nil }

func (b *book) join(o book) { b.put(o.sums); b.unpriced += o.unpriced }

// cents rounds half away from zero, as FloatString does (math/big).
func cents(r *big.Rat) *big.Rat { return rat(r.FloatString(2)) }

// decimals of a quantity as a line shows it.
var decimals = map[rates.Unit]int{rates.KM: 1, rates.Mile: 1, rates.Litre: 1, rates.USGal: 1, rates.Hour: 2, rates.Metre: 2, rates.Foot: 2}

// expected works a case out by itself, in fractions: what the doc of the package and of Of
// says, and nothing of how they do it.
func expected(m move) (before, after book) {
	exchange := func(p price) *big.Rat {
		switch {
		case p.money == "CAD":
			return rat("1")
		case m.dollar == "":
			return nil
		default:
			return rat(m.dollar)
		}
	}
	least := func(p price, x *big.Rat, amount [3]*big.Rat) [3]*big.Rat {
		if p.minimum != "" {
			floor := cents(new(big.Rat).Mul(rat(p.minimum), x))
			for i := range amount {
				if amount[i] != nil && amount[i].Cmp(floor) < 0 {
					amount[i] = floor
				}
			}
		}
		return amount
	}
	// line is one price of quantities, or of a share of a base.
	line := func(into *book, p price, quantity *spread, base *book) {
		x := exchange(p)
		switch {
		case p.amount == (spread{}), x == nil && (p.unit != rates.Percent || p.money != "CAD"):
			into.lacks()
			return
		case p.unit == rates.Percent && base == nil, p.unit != rates.Percent && quantity == nil:
			into.lacks()
			return
		}
		var amount [3]*big.Rat
		for i := range amount {
			switch {
			case p.unit == rates.Percent && base.sums[i] != nil:
				amount[i] = cents(new(big.Rat).Quo(new(big.Rat).Mul(base.sums[i], rat(p.amount[i])), rat("100")))
			case p.unit != rates.Percent && quantity[i] != "":
				shown := rat(rat(quantity[i]).FloatString(decimals[p.unit]))
				amount[i] = cents(new(big.Rat).Mul(new(big.Rat).Mul(shown, rat(p.amount[i])), x))
			}
		}
		into.put(least(p, x, amount))
	}
	of := func(item rates.Item) (out []price) {
		for _, p := range m.card {
			if p.item == item {
				out = append(out, p)
			}
		}
		return out
	}
	fixed := func(text string) [3]*big.Rat { a := cents(rat(text)); return [3]*big.Rat{a, a, a} }
	hauled, permits, permitLines, costs := empty(), empty(), 0, empty()
	told := false
	for _, n := range m.parts {
		b, lines := empty(), 0
		switch {
		case m.whichever != "" && n.item == m.given:
			if !told {
				b.put(fixed(m.whichever))
				lines = 1
			}
			told = true
		case len(of(n.item)) > 0:
			for _, p := range of(n.item) {
				var q *spread
				if has, ok := n.quantities[p.unit]; ok {
					q = &has
				}
				line(&b, p, q, nil)
				lines++
			}
		case n.fee != "":
			b.put(fixed(n.fee))
			lines = 1
		case n.needed:
			b.lacks()
			lines = 1
		}
		switch n.item {
		case rates.Haulage, rates.Deadhead, rates.Return:
			hauled.join(b)
		case rates.Permit:
			permits.join(b)
			permitLines += lines
		}
		costs.join(b)
	}
	if m.whichever != "" && !told {
		costs.put(fixed(m.whichever))
		switch m.given {
		case rates.Haulage, rates.Deadhead, rates.Return:
			hauled.put(fixed(m.whichever))
		case rates.Permit:
			permits.put(fixed(m.whichever))
			permitLines++
		}
	}
	once := &spread{"1", "1", "1"}
	share := func(into *book, item rates.Item, base *book, number *spread) {
		if p, ok := m.percent[item]; ok {
			line(into, price{item: item, unit: rates.Percent, amount: spread{p, p, p}, money: "CAD"}, nil, base)
			return
		}
		for _, p := range of(item) {
			line(into, p, number, base)
		}
	}
	extra := empty()
	share(&extra, rates.FuelSurcharge, &hauled, once)
	if permitLines > 0 {
		n := fmt.Sprint(permitLines)
		share(&extra, rates.PermitAgent, &permits, &spread{n, n, n})
	}
	var value *book
	if m.declared != "" {
		value = &book{sums: fixed(m.declared)}
	}
	share(&extra, rates.Insurance, value, once)
	if len(of(rates.Insurance)) == 0 && value != nil {
		extra.lacks()
	}
	costs.join(extra)
	for _, item := range []rates.Item{rates.Contingency, rates.Margin} {
		b := empty()
		share(&b, item, &costs, once)
		costs.join(b)
	}
	after = empty()
	for _, t := range m.taxes {
		line(&after, t, nil, &costs)
	}
	if len(m.taxes) == 0 {
		after.lacks()
	}
	before = costs
	after.join(costs)
	return before, after
}

// Quotes equal an evaluation in fractions with the stated rule of rounding, over random cards:
// 10,000, a million with -tags long.
func TestEqualsFractions(t *testing.T) {
	cases := 10_000
	if needs.Long {
		cases = 1_000_000
	}
	text := func(d *apd.Decimal) string {
		if d == nil {
			return "open"
		}
		return d.Text('f')
	}
	want := func(r *big.Rat) string {
		if r == nil {
			return "open"
		}
		return r.FloatString(2)
	}
	unpriced, open := 0, 0
	for seed := range cases {
		m := random(rand.New(rand.NewPCG(18, uint64(seed))))
		q := priced(m)
		before, after := expected(m)
		for _, sum := range []struct {
			name string
			got  Range
			want book
		}{{"subtotal", q.Subtotal, before}, {"total", q.Total, after}} {
			for i, got := range []*apd.Decimal{sum.got.Low, sum.got.Likely, sum.got.High} {
				if got != nil {
					got = money.To(got, 2)
				}
				if text(got) != want(sum.want.sums[i]) {
					t.Fatalf("case %d: %s, end %d: %s, want %s; %+v", seed, sum.name, i, text(got), want(sum.want.sums[i]), m)
				}
			}
		}
		if q.Unpriced() != after.unpriced {
			t.Fatalf("case %d: %d unpriced, want %d; %+v", seed, q.Unpriced(), after.unpriced, m)
		}
		unpriced += min(1, after.unpriced)
		if q.Total.High == nil {
			open++
		}
	}
	if unpriced == 0 || unpriced == cases || open == cases {
		t.Errorf("%d of %d with unpriced lines, %d open: nothing is tested", unpriced, cases, open)
	}
}
