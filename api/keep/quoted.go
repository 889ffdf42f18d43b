package keep

import (
	"time"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/finding"
	"wayhouse/regs/rates"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Quoted is a quote as it was answered, so that it can be printed again with the figures that
// were sent, in any language and form, when its rates and roads are gone.
type Quoted struct {
	Number     string       `json:"number,omitempty"`
	Version    int          `json:"version"`
	For        string       `json:"for,omitempty"`
	Card       string       `json:"card"`
	Currency   string       `json:"currency"`
	Customer   bool         `json:"customer_copy,omitempty"` // what was asked for
	Quoted     time.Time    `json:"quoted_on"`
	On         time.Time    `json:"move_on"`
	ValidUntil time.Time    `json:"valid_until,omitzero"`
	Invented   bool         `json:"invented,omitempty"`
	Lines      []QuotedLine `json:"lines"`
	Terms      []QuotedRow  `json:"terms,omitempty"`
	Apart      []rates.Item `json:"apart,omitempty"`
	Hinders    []Remark     `json:"hinders,omitempty"`
	Subtotal   Ends         `json:"subtotal"`
	Total      Ends         `json:"total"`
	Move       Move         `json:"move"`
}

// Ends are a figure that is not known exactly; a null high end is open.
type Ends struct {
	Low    *apd.Decimal `json:"low"`
	Likely *apd.Decimal `json:"likely"`
	High   *apd.Decimal `json:"high"`
}

// Move is what a quote says of the trip that it is for.
type Move struct {
	Name      string                 `json:"name,omitempty"`
	From      *Remark                `json:"from"`
	To        *Remark                `json:"to"`
	Departure time.Time              `json:"departure"`
	Zone      string                 `json:"zone"` // of the clock of the departure, as the tz database has it
	Over      time.Time              `json:"over"`
	LengthM   float64                `json:"length_m"`
	Unit      string                 `json:"unit,omitempty"`
	Measured  bool                   `json:"height_measured,omitempty"`
	Sizes     map[rig.Quantity]*Size `json:"sizes"` // null is not known
	Tables    string                 `json:"tables"`
	Roads     network.About          `json:"roads"`
	Cautions  []Remark               `json:"cautions"`
}

// Size is a length in nanometres or a mass in tens of micrograms.
type Size struct {
	Is      int64 `json:"is"`
	AtLeast bool  `json:"at_least,omitempty"`
}

// QuotedLine is a line of a quote.
type QuotedLine struct {
	Item         rates.Item      `json:"item"`
	Jurisdiction string          `json:"jurisdiction,omitempty"`
	Name         string          `json:"name,omitempty"`
	Called       *Remark         `json:"called,omitempty"`
	Quantity     Ends            `json:"quantity"`
	Unit         rates.Unit      `json:"unit,omitempty"`
	Rate         Ends            `json:"rate"`
	Currency     string          `json:"rate_currency,omitempty"`
	Base         *Ends           `json:"base,omitempty"` // of a percentage
	Exchange     *QuotedExchange `json:"exchange,omitempty"`
	Minimum      *apd.Decimal    `json:"raised_to,omitempty"`
	Amount       Ends            `json:"amount"`
	Row          *QuotedRow      `json:"row,omitempty"`
	Fee          *QuotedRow      `json:"fee,omitempty"`      // of an authority
	Told         *string         `json:"told,omitempty"`     // who gave the price for this move
	Revision     int             `json:"revision,omitempty"` // in which the row was written; 0: in none
	Unknown      *Remark         `json:"unknown,omitempty"`
	Whom         *Remark         `json:"whom,omitempty"`
	Doubt        *Remark         `json:"doubt,omitempty"`
	Open         *Remark         `json:"open,omitempty"`
}

// QuotedExchange is a rate of exchange.
type QuotedExchange struct {
	Of     string       `json:"of"`
	Rate   *apd.Decimal `json:"rate"`
	Source string       `json:"source"`
}

// QuotedRow is what a quote shows of a row of rates, or of permits.
type QuotedRow struct {
	ID       string         `json:"id"`
	Item     rates.Item     `json:"item,omitempty"`
	Name     string         `json:"name,omitempty"`
	Unit     rates.Unit     `json:"unit,omitempty"`
	Amount   *apd.Decimal   `json:"amount,omitempty"`
	Currency string         `json:"currency,omitempty"`
	Days     int            `json:"days,omitempty"`
	Note     string         `json:"note,omitempty"`
	Status   finding.Status `json:"status"`
	Source   string         `json:"source"`
	Section  string         `json:"section,omitempty"`
	Year     string         `json:"source_year,omitempty"`
	URL      string         `json:"source_url,omitempty"`
	ReadOn   time.Time      `json:"read_on,omitzero"`
}

// NewQuoted takes a quote down. revision is in which revision of the tables the row of a line
// was written, 0 for one that stands in none.
func NewQuoted(p *trip.Priced, revision func(quote.Line) int) *Quoted {
	q := p.Quote
	out := &Quoted{
		Number: q.Number, Version: q.Version, For: q.For, Card: q.Card, Currency: q.Currency, Customer: p.CustomerCopy,
		Quoted: q.Quoted, On: q.On, ValidUntil: q.ValidUntil, Invented: q.Invented, Apart: q.Apart,
		Hinders: newRemarks(q.Hinders), Subtotal: Ends(q.Subtotal), Total: Ends(q.Total), Move: newMove(p.Plan),
	}
	for _, l := range q.Lines {
		line := newLine(l)
		line.Revision = revision(l)
		out.Lines = append(out.Lines, line)
	}
	for _, r := range q.Terms {
		out.Terms = append(out.Terms, *newRow(r))
	}
	return out
}

func newLine(l quote.Line) QuotedLine {
	out := QuotedLine{
		Item: l.Item, Jurisdiction: l.Jurisdiction, Name: l.Name, Called: newRemark(l.Called), Quantity: Ends(l.Quantity),
		Unit: l.Unit, Rate: Ends(l.Rate), Currency: l.Currency, Minimum: l.Minimum, Amount: Ends(l.Amount),
		Row: newRow(l.Row), Unknown: newRemark(l.Unknown), Whom: newRemark(l.Whom), Doubt: newRemark(l.Doubt),
		Open: newRemark(l.Open), Base: (*Ends)(l.Base), Exchange: (*QuotedExchange)(l.Exchange),
	}
	if l.Fee != nil {
		c := l.Fee.Row
		out.Fee = &QuotedRow{ID: c.ID, Status: c.Status, Source: c.Source}
	}
	if l.Told != nil {
		out.Told = &l.Told.Source
	}
	return out
}

func newRow(r *rates.Rate) *QuotedRow {
	if r == nil {
		return nil
	}
	return &QuotedRow{
		ID: r.ID, Item: r.Item, Name: r.Name, Unit: r.Unit, Amount: r.Amount, Currency: r.Currency, Days: r.Days,
		Note: r.Note, Status: r.Status, Source: r.Source, Section: r.Section, Year: r.Year, URL: r.URL, ReadOn: r.ReadOn,
	}
}

// newMove takes down what a quote says of its trip.
func newMove(p *trip.Plan) Move {
	from, to := p.Ends()
	out := Move{
		Name: p.Name, From: newRemark(from), To: newRemark(to), Departure: p.Departure, Zone: p.Departure.Location().String(),
		Over: p.Over(), LengthM: float64(p.Length), Unit: p.Rig.Unit.Name, Measured: p.Rig.Unit.HeightMeasured,
		Sizes: map[rig.Quantity]*Size{}, Tables: p.Tables, Cautions: newRemarks(p.Cautions),
		Roads: network.About{
			Name: p.About.Name, Vintage: p.About.Vintage, Attribution: p.About.Attribution, Licence: p.About.Licence,
			Revision: p.About.Revision,
		},
	}
	for q, size := range sizes(&p.Rig) {
		out.Sizes[q] = size.take()
	}
	return out
}
