package permit

import (
	"strings"

	"github.com/cockroachdb/apd/v3"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Fee is what a permit costs, as far as a row knows: the sum of its parts. A
// fee without any part is unknown, never nothing.
type Fee struct {
	Currency   string       // ISO 4217
	Flat       *apd.Decimal // nil: not given, as for all parts
	PerKM      *apd.Decimal // of the way in the jurisdiction
	PerTonneKM *apd.Decimal // of what is over the legal mass, and of the way
	Bands      []Band
}

// Band is a part of a fee that hangs on a size. Of the bands of one quantity
// the first that holds counts; those of several quantities add up.
type Band struct {
	Quantity limit.Quantity
	Range    limit.Range
	Amount   *apd.Decimal
}

// Known reports whether the fee has any part.
func (f Fee) Known() bool {
	return f.Flat != nil || f.PerKM != nil || f.PerTonneKM != nil || len(f.Bands) > 0
}

// Case is what a fee is worked out for.
type Case struct {
	Way      measure.Distance
	OverMass *measure.Mass // over the legal mass; nil: not known
	Sizes    map[limit.Quantity]limit.Amount
}

// Of works a fee out; unknown says what is missing where it cannot be.
func (f Fee) Of(c Case) (amount string, unknown say.Remark) {
	if !f.Known() {
		return "", say.That("fee.open")
	}
	sum, sure := apd.New(0, 0), apd.MakeErrDecimal(&money.Exact)
	add := func(part *apd.Decimal, factors ...*apd.Decimal) {
		product := new(apd.Decimal).Set(part)
		for _, factor := range factors {
			sure.Mul(product, product, factor)
		}
		sure.Add(sum, sum, product)
	}
	if f.Flat != nil {
		add(f.Flat)
	}
	km := ratio(int64(float64(c.Way)+0.5), 3) // whole metres
	if f.PerKM != nil {
		add(f.PerKM, km)
	}
	if f.PerTonneKM != nil {
		if c.OverMass == nil {
			return "", say.That("fee.over_mass_open")
		}
		add(f.PerTonneKM, km, ratio(int64(*c.OverMass), 11)) // tens of micrograms
	}
	if unknown := f.bands(c, add); !unknown.None() {
		return "", unknown
	}
	sure.Quantize(sum, sum, -2)
	if sure.Err() != nil {
		return "", say.That("fee.inexact")
	}
	return sum.Text('f') + " " + f.Currency, say.Remark{}
}

// bands adds the bands that hold.
func (f Fee) bands(c Case, add func(*apd.Decimal, ...*apd.Decimal)) say.Remark {
	done := map[limit.Quantity]bool{}
	for _, b := range f.Bands {
		size, given := c.Sizes[b.Quantity]
		switch {
		case !given:
			return say.That("fee.size_open", "quantity", b.Quantity)
		case !done[b.Quantity] && b.Range.Holds(measure.Length(size)):
			add(b.Amount)
			done[b.Quantity] = true
		}
	}
	for _, b := range f.Bands {
		if !done[b.Quantity] {
			return say.That("fee.no_band", "quantity", b.Quantity)
		}
	}
	return say.Remark{}
}

// ratio is n / 10^places, exact.
func ratio(n int64, places int32) *apd.Decimal { return apd.New(n, -places) }

func readFee(c *rows.Cells) Fee {
	f := Fee{
		Currency: c.Get("currency"), Flat: amount(c, "fee"), PerKM: amount(c, "fee_per_km"),
		PerTonneKM: amount(c, "fee_per_tonne_km"),
	}
	for _, part := range strings.Split(c.Get("fee_bands"), ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		b, err := parseBand(part)
		if err != nil {
			c.Fail(
				"fee_bands",
				say.That("error.no_bands", "why", say.Of(err)),
				say.That("fix.like", "text", "width <= 3.65 m: 55; width > 3.65 m: 95"),
			)
		}
		f.Bands = append(f.Bands, b)
	}
	if f.Currency != "" && !money.Code(f.Currency) || f.Known() && f.Currency == "" {
		c.Fail("currency", say.That("error.no_currency_of_the"), say.That("fix.give_its_three_letters"))
	}
	return f
}

// parseBand reads "width <= 3.65 m: 55".
func parseBand(text string) (Band, error) {
	size, amount, ok := strings.Cut(text, ":")
	if !ok {
		return Band{}, say.Err(say.That("parse_error.no_band_amount", "text", text))
	}
	quantity, bounds, _ := strings.Cut(strings.TrimSpace(size), " ")
	b := Band{Quantity: limit.Quantity(quantity)}
	switch b.Quantity {
	case limit.Height, limit.Width, limit.TrailerLength, limit.CombinationLength:
	default:
		return b, say.Err(say.That("parse_error.no_band_quantity", "text", quantity))
	}
	var err error
	if b.Range, err = limit.ParseRange(bounds); err != nil {
		return b, err
	}
	b.Amount, err = money.Parse(strings.TrimSpace(amount))
	return b, err
}

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
