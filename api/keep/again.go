package keep

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rates"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Priced is the quote again, with no more of its plan than a quote shows.
func (q *Quoted) Priced() *trip.Priced {
	out := &quote.Quote{
		Work: quote.Work{
			Number: q.Number, Version: q.Version, For: q.For, Card: q.Card, Currency: q.Currency, Quoted: q.Quoted, On: q.On,
			Hinders: saying(q.Hinders), Invented: q.Invented,
		},
		Subtotal: quote.Range(q.Subtotal), Total: quote.Range(q.Total), ValidUntil: q.ValidUntil, Apart: q.Apart,
	}
	for _, l := range q.Lines {
		out.Lines = append(out.Lines, l.line())
	}
	for _, r := range q.Terms {
		out.Terms = append(out.Terms, r.rate())
	}
	return &trip.Priced{Plan: q.Move.plan(), Quote: out, CustomerCopy: q.Customer}
}

func (l QuotedLine) line() quote.Line {
	out := quote.Line{
		Part: quote.Part{
			Item: l.Item, Jurisdiction: l.Jurisdiction, Name: l.Name, Called: l.Called.says(), Unknown: l.Unknown.says(),
			Whom: l.Whom.says(), Base: (*quote.Range)(l.Base),
		},
		Quantity: quote.Range(l.Quantity), Unit: l.Unit, Rate: quote.Range(l.Rate), Currency: l.Currency,
		Exchange: (*quote.Exchange)(l.Exchange), Minimum: l.Minimum, Amount: quote.Range(l.Amount), Row: l.Row.rate(),
		Doubt: l.Doubt.says(), Open: l.Open.says(),
	}
	if f := l.Fee; f != nil {
		out.Fee = &quote.Fee{Row: finding.Citation{ID: f.ID, Status: f.Status, Source: f.Source}}
	}
	if l.Told != nil {
		out.Told = &quote.Given{Item: l.Item, Source: *l.Told}
	}
	return out
}

func (r *QuotedRow) rate() *rates.Rate {
	if r == nil {
		return nil
	}
	return &rates.Rate{
		ID: r.ID, Item: r.Item, Name: r.Name, Unit: r.Unit, Amount: r.Amount, Low: r.Amount, High: r.Amount,
		Currency: r.Currency, Days: r.Days, Note: r.Note,
		Proof: rows.Proof{
			Status: r.Status, Source: r.Source, Section: r.Section, Year: r.Year, URL: r.URL, ReadOn: r.ReadOn,
		},
	}
}

// plan is the head of a plan: its name, its ends, its length, what was moved and what it
// rested on.
func (m Move) plan() *trip.Plan {
	if zone, err := time.LoadLocation(m.Zone); err == nil && m.Zone != "" { // one without a name has its offset
		m.Departure, m.Over = m.Departure.In(zone), m.Over.In(zone)
	}
	out := &trip.Plan{
		Name: m.Name, Departure: m.Departure, Length: measure.Distance(m.LengthM), About: m.Roads, Tables: m.Tables,
		Cautions: saying(m.Cautions),
		Legs: []trip.Leg{{
			From: m.From.says(), To: m.To.says(), Start: m.Departure, StartSlow: m.Departure, End: m.Over, EndSlow: m.Over,
		}},
	}
	out.Rig.Unit.Name, out.Rig.Unit.HeightMeasured = m.Unit, m.Measured
	for q, size := range sizes(&out.Rig) {
		size.put(m.Sizes[q])
	}
	return out
}

// known is a size of a rig.
type known interface {
	take() *Size
	put(*Size)
}

// sizes are those that papers print of a rig.
func sizes(r *rig.Rig) map[rig.Quantity]known {
	return map[rig.Quantity]known{
		rig.Height: size[measure.Length]{&r.Height}, rig.Width: size[measure.Length]{&r.Width},
		rig.Length: size[measure.Length]{&r.Length}, rig.Mass: size[measure.Mass]{&r.Mass},
	}
}

type size[T ~int64] struct{ of *measure.Known[T] }

func (s size[T]) take() *Size {
	if is, some := s.of.Least(); some {
		return &Size{int64(is), s.of.AtLeast()}
	}
	return nil
}

func (s size[T]) put(was *Size) {
	switch {
	case was == nil:
		*s.of = measure.Because[T](say.Remark{})
	case was.AtLeast:
		*s.of = measure.AtLeast(T(was.Is))
	default:
		*s.of = measure.Exactly(T(was.Is))
	}
}
