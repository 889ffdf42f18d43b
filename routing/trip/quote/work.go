// Package quote prices what a move takes by a rate card: lines of a quantity and a rate, low,
// likely and high, and what nobody has a price of. It knows no roads and no rigs: [Work] is
// all that it is told.
//
// Quantities are rounded as they are shown, each line to the smallest unit of the currency,
// half away from zero; sums are exact. So whoever multiplies what a line shows has its amount.
package quote

import (
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
)

// Range is a figure that is not known exactly. A nil High is an end that is open.
type Range struct{ Low, Likely, High *apd.Decimal }

// Exactly is a figure without a spread.
func Exactly(d *apd.Decimal) Range { return Range{d, d, d} }

// Count is a whole number without a spread.
func Count(n int) Range { return Exactly(apd.New(int64(n), 0)) }

// Quantity is how much there is of a part in one unit.
type Quantity struct {
	Unit rates.Unit
	Range
	Open say.Remark // why it has no upper end
}

// Part is something that a move takes and somebody is paid for.
type Part struct {
	Item         rates.Item
	Jurisdiction string     // where; "" for anywhere, or where that is not known
	Name         string     // of a ferry, a toll or a tax
	Also         []string   // what else a ferry is called: by its ends
	Called       say.Remark // more about it
	Quantities   []Quantity // in every unit that a price of the item may have
	Base         *Range     // of which a price in percent is; nil: there is none
	Unknown      say.Remark // why nothing of this is known
	Missing      say.Remark // why there is no quantity for some price; none: nobody gave one
	Perhaps      bool       // whether there is any of it is not known
	Needed       bool       // it is a part of the move even where the card has no price for it
	Fee          *Fee       // what it costs where the card has no price for it
	NoPrice      say.Remark // why nobody but the card has a price of it
	Whom         say.Remark // to ask
}

// Fee is a price that stands on no card: that of an authority.
type Fee struct {
	money.Money
	Row   finding.Citation
	Doubt say.Remark
}

// Given is a price that somebody was told for this move. It stands for all parts of its item,
// there or of that name where it says so. One of a name stands for one part whose name nobody
// knows, as roads do not name all their ferries. Where there is none it is a part of its own.
type Given struct {
	Item         rates.Item
	Jurisdiction string
	Name         string
	Price        money.Money
	Source       string // who said so, or where it stands
}

// covers reports whether a given price is one of a part.
func (g Given) covers(p Part) bool { return g.there(p) && (g.Name == "" || p.named(g.Name)) }

// named reports whether a part goes by a name: a tax by its own alone, however it is written
// else.
func (p Part) named(name string) bool {
	return p.Name == name || p.Item != rates.Tax && rates.Alike(name, append([]string{p.Name}, p.Also...)...)
}

// names reports whether a given price may be one of a part whose name nobody knows.
func (g Given) names(p Part) bool {
	return g.there(p) && g.Name != "" && p.Name == "" && p.Item != rates.Tax
}

func (g Given) there(p Part) bool {
	return g.Item == p.Item && (g.Jurisdiction == "" || g.Jurisdiction == p.Jurisdiction)
}

// Exchange is a rate of exchange: so much of the currency of the quote for one of another.
type Exchange struct {
	Of     string
	Rate   *apd.Decimal
	Source string
}

// Work is what is to be priced, and on which terms.
type Work struct {
	Card     string
	Currency string // of the quote; "": that of the card
	Number   string // of the quote, and which of its versions
	Version  int
	For      string    // whom
	Quoted   time.Time // the day of the quote
	Shown    time.Time // the day on which it is read; zero: that of the quote
	On       time.Time // the day of the move
	From, To string    // jurisdictions where it begins and ends; "": not known
	Length   *measure.Length
	Height   *measure.Length
	Term     time.Duration // for which a row that was read counts
	Parts    []Part
	Given    []Given
	Rates    []Exchange
	Declared *money.Money                // value of the goods; nil: not known
	Percent  map[rates.Item]*apd.Decimal // contingency and margin instead of the card's
	Hinders  []say.Remark                // why the move itself cannot be promised
	Invented bool                        // what is moved or the way is an example
}
