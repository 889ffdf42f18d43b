// Package rates holds rate cards: prices of moving a unit, an item each, kept as every table
// is, and the taxes on them.
package rates

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
)

// Rate is one price of a card.
type Rate struct {
	ID        string
	Card      string // "": of every card, as taxes are
	Item      Item
	Name      string       // of a tax, a ferry or a toll; else more about the item, or ""
	Unit      Unit         // that the price is for one of
	Amount    *apd.Decimal // nil: there is such a price, and it is not known
	Low, High *apd.Decimal // between which it may come to lie; Amount where nothing is stated
	Minimum   *apd.Decimal // what a line comes to at least; nil: none
	Currency  string       // ISO 4217; "" of a percentage without a minimum
	// Jurisdiction is where it is for, of a tax the destination; "" for anywhere, a country for
	// all in it.
	Jurisdiction string
	Origin       string          // where the journey must begin, as Jurisdiction
	UpToLength   *measure.Length // of the rig, as ferries have it; nil: of any
	UpToHeight   *measure.Length
	Days         int       // of a term: within how many
	From, To     time.Time // the first and the last day of the move that it is for; zero: not stated
	Ask          string    // whom, where it is not known
	Note         string
	rows.Proof
}

// Table is the table of rates.
func Table() rows.Table[Rate] {
	return rows.Table[Rate]{
		Name: "rates",
		Columns: append([]string{
			"id", "card", "item", "name", "unit", "amount", "low", "high", "minimum", "currency", "jurisdiction", "origin",
			"up_to_length", "up_to_height", "days", "valid_from", "valid_to", "ask", "note",
		}, rows.ProofColumns()...),
		Optional: []string{
			"name", "low", "high", "minimum", "jurisdiction", "origin", "up_to_length", "up_to_height", "days", "valid_from",
			"valid_to", "ask", "note", "section", "source_year", "source_url", "read_on",
		},
		Read: read,
	}
}

func read(c *rows.Cells) Rate {
	r := Rate{
		ID: c.Need("id"), Card: c.Get("card"), Item: rows.OneOf(c, "item", Items()...), Name: c.Get("name"),
		Unit: rows.OneOf(c, "unit", Units()...), Amount: amount(c, "amount"), Low: amount(c, "low"), High: amount(c, "high"),
		Minimum: amount(c, "minimum"), Currency: c.Get("currency"), Jurisdiction: area(c, "jurisdiction"),
		Origin: area(c, "origin"), UpToLength: c.Length("up_to_length"), UpToHeight: c.Length("up_to_height"),
		Days: int(c.Number("days")), From: c.Day("valid_from"), To: c.Day("valid_to"), Ask: c.Get("ask"), Note: c.Get("note"),
		Proof: rows.ReadProof(c),
	}
	r.check(c)
	if r.Low == nil {
		r.Low = r.Amount
	}
	if r.High == nil {
		r.High = r.Amount
	}
	return r
}

// check notes what cells must not say beside each other.
func (r Rate) check(c *rows.Cells) {
	switch {
	case r.Item == Tax && r.Jurisdiction == "":
		c.Fail("jurisdiction", say.That("error.empty"), say.That("fix.tax_destination"))
	case r.Item == Tax && r.Name == "":
		c.Fail("name", say.That("error.empty"), say.That("fix.tax_name"))
	case r.Item != Tax && r.Card == "":
		c.Fail("card", say.That("error.empty"), say.That("fix.name_the_card"))
	case !r.Item.takes(r.Unit):
		c.Fail("unit", say.That("error.unit_of_item", "item", string(r.Item)),
			say.That("fix.one_of", "words", rows.Texts(r.Item.Units())))
	case (r.ofMoney() && r.Amount != nil || r.Minimum != nil) && !money.Known(r.Currency):
		c.Fail("currency", say.That("error.no_currency_of_price"), say.That("fix.give_its_three_letters"))
	case r.Low != nil && (r.Amount == nil || r.Low.Cmp(r.Amount) > 0):
		c.Fail("low", say.That("error.beyond_the_price"), say.That("fix.low_amount_high"))
	case r.High != nil && (r.Amount == nil || r.High.Cmp(r.Amount) < 0):
		c.Fail("high", say.That("error.beyond_the_price"), say.That("fix.low_amount_high"))
	case !r.To.IsZero() && r.To.Before(r.From):
		c.Fail("valid_to", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
	}
}

// ofMoney reports whether the amount is one of money: no percentage, and not the days of a
// term.
func (r Rate) ofMoney() bool { return r.Unit != Percent && (r.Unit != Day || !r.Item.IsTerm()) }

// takes reports whether a price of the item may be for one of a unit.
func (i Item) takes(u Unit) bool { return slices.Contains(i.Units(), u) }

func amount(c *rows.Cells, column string) *apd.Decimal {
	if c.Get(column) == "" {
		return nil
	}
	d, err := money.Parse(c.Get(column))
	if err != nil {
		c.Fail(column, say.That("error.no_amount"), say.That("fix.write_it_like_48"))
	}
	return d
}

// area is the code of a jurisdiction, or none.
func area(c *rows.Cells, column string) string {
	if c.Get(column) == "" {
		return ""
	}
	return c.Code(column)
}

// Case is what a price is asked for.
type Case struct {
	Card           string
	Item           Item
	Name           string   // of a ferry or a toll, "" where it is not known; of a tax, "" for all
	Also           []string // what else a ferry is called
	Jurisdiction   string   // where, of a tax the destination; "" where it is not known
	Origin         string   // of the journey
	Length, Height *measure.Length
	On             time.Time // the day of the move
}

// For are the prices of an item, one for each unit and, of a tax, each name. Of several the
// nearest counts: of the card before one of every card, of the place before one of its
// country or of anywhere, for the smallest size that holds the rig. Where two are as near,
// both are returned: a person decides.
func For(all []*Rate, c Case) []*Rate {
	var held, out []*Rate
	for _, r := range all {
		if r.holds(c) {
			held = append(held, r)
		}
	}
	for _, r := range held {
		if !slices.ContainsFunc(held, func(o *Rate) bool { return r.Rivals(o) && near(o, r) > 0 }) {
			out = append(out, r)
		}
	}
	return out
}

// holds reports whether a price is one for the case.
func (r *Rate) holds(c Case) bool {
	some, _ := rows.Holds(r.From, r.To, c.On, c.On)
	return r.Item == c.Item && (r.Card == c.Card || r.Card == "") && some &&
		r.named(c) &&
		covers(r.Jurisdiction, c.Jurisdiction) && covers(r.Origin, c.Origin) &&
		within(r.UpToLength, c.Length) && within(r.UpToHeight, c.Height)
}

// named reports whether a price is one for what has a name: a ferry, a toll or a tax.
func (r *Rate) named(c Case) bool {
	switch r.Item {
	case Ferry, Toll:
		return r.Name == "" || Alike(r.Name, append([]string{c.Name}, c.Also...)...)
	case Tax:
		return c.Name == "" || r.Name == c.Name
	}
	return true
}

// Alike reports whether a name is one of several, however it is written: accents, case, hyphens,
// arrows and strokes do not count, and Saint may be short.
func Alike(name string, among ...string) bool {
	plain := func(s string) string { return word.Town(strokes.Replace(s)) }
	return name != "" && slices.ContainsFunc(among, func(s string) bool { return plain(s) == plain(name) })
}

var strokes = strings.NewReplacer("/", " ", "—", " ", "→", " ", "↔", " ", "<->", " ", "->", " ", ",", " ")

// covers reports whether a price for an area is one for a place: for anywhere, the place
// itself, or what it lies in.
func covers(area, place string) bool {
	return area == "" || area == place || strings.HasPrefix(place, area+"-") || strings.HasPrefix(place, area+"/")
}

// within reports whether a size is surely no more than a bound.
func within(bound, size *measure.Length) bool { return bound == nil || size != nil && *size <= *bound }

// Rivals reports whether only one of two prices may count.
func (r *Rate) Rivals(o *Rate) bool {
	return r.Unit == o.Unit && (r.Name == o.Name || r.Item == Ferry || r.Item == Toll)
}

// near is above 0 where a price is nearer to a case than another that holds too, below 0 where
// it is further, 0 where neither is.
func near(a, b *Rate) int {
	for _, n := range []int{
		len(a.Card) - len(b.Card), min(len(a.Name), 1) - min(len(b.Name), 1), len(a.Jurisdiction) - len(b.Jurisdiction),
		len(a.Origin) - len(b.Origin), tighter(a.UpToLength, b.UpToLength), tighter(a.UpToHeight, b.UpToHeight),
	} {
		if n != 0 {
			return n
		}
	}
	return 0
}

// tighter is above 0 where the first bound is below the second.
func tighter(a, b *measure.Length) int {
	switch {
	case a == nil && b == nil || a != nil && b != nil && *a == *b:
		return 0
	case a != nil && (b == nil || *a < *b):
		return 1
	default:
		return -1
	}
}

// Cards lists the cards among prices, each once, in order of their names.
func Cards(all []*Rate) []string {
	seen := map[string]bool{}
	for _, r := range all {
		if r.Card != "" {
			seen[r.Card] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
