package regs

import (
	"math"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// Largest is the greatest value of a quantity in a set of jurisdictions.
type Largest struct {
	Quantity       limit.Quantity
	Proven         finding.Quantity // none where it is not established in all of them
	Decides        []string         // jurisdictions that allow no more
	NotEstablished []string         // jurisdictions without a row that settles it
	Invented       bool             // an invented row is among those it rests on

	Unproven *Stated           // the smallest figure that any of them states; nil where none states one
	Unstated []string          // jurisdictions in which no row states a figure
	Open     []finding.Finding // at that figure, where it is not established: what would prove it
}

// Envelope is the largest unit for a set of jurisdictions.
type Envelope struct {
	Free     []Largest // without a permit
	NoEscort []Largest // with a permit and surely without an escort; what is not proven is not looked for
}

// DrawnBy are the quantities by which a unit is drawn.
func DrawnBy() []limit.Quantity {
	return []limit.Quantity{limit.Height, limit.Width, limit.TrailerLength, limit.CombinationLength, limit.GrossMass}
}

// Largest works out the largest unit of a vehicle's kind, use and combination in
// one jurisdiction without a permit, by quantity, as it stands on the road:
// whatever the vehicle's own measures are uncertain by.
func (t *Tables) Largest(v Vehicle, code string, at time.Time) (out []Largest) {
	v.Uncertain = nil
	for _, q := range DrawnBy() {
		out = append(out, t.overAll(v, []string{code}, at, q, isClear))
	}
	return out
}

// envelope works out the largest unit of a vehicle's kind, use and combination
// for all of some jurisdictions, with what the vehicle's measures are uncertain by
// kept before every limit. A value is established only where each of them has a
// row that settles it. What is good for every value up to one is good for a measure
// that is uncertain by so much less.
func (t *Tables) envelope(v Vehicle, codes []string, at time.Time, asked []limit.Quantity) Envelope {
	var out Envelope
	for _, q := range DrawnBy() {
		if slices.Contains(asked, q) {
			free := t.overAll(v, codes, at, q, isClear)
			t.unproven(&free, v, codes, at)
			out.Free = append(out.Free, free)
			out.NoEscort = append(out.NoEscort, t.overAll(v, codes, at, q, unescorted))
		}
	}
	return out
}

// unescorted reports whether a quantity is clear, or allowed under a permit with
// nothing unknown and no escort.
func unescorted(found []finding.Finding) bool {
	for _, f := range found {
		if f.Outcome != finding.Clear && f.Outcome != finding.Conditional {
			return false
		}
	}
	return len(found) > 0 && asksNobody(found)
}

func (t *Tables) overAll(v Vehicle, codes []string, at time.Time, q limit.Quantity,
	good func([]finding.Finding) bool) Largest {
	out := Largest{Quantity: q}
	places := map[string]*checking{}
	for _, code := range codes {
		c := t.across(v, code, at).exactly()
		places[code] = c
		out.Invented = out.Invented || slices.ContainsFunc(c.applied(code, q), func(b appliedLimit) bool {
			return b.row.Status == finding.Invented
		})
	}
	least := limit.Amount(math.MaxInt64)
	for settled := false; !settled; { // what is good in one place may not be in another that allows more
		settled = true
		for _, code := range codes {
			if slices.Contains(out.NotEstablished, code) ||
				least < math.MaxInt64 && good(places[code].with(q, least).quantity(code, q)) {
				continue
			}
			most, ok := places[code].largest(code, q, good, least)
			if !ok {
				out.NotEstablished = append(out.NotEstablished, code)
				continue
			}
			least, settled = most, false
		}
	}
	if len(out.NotEstablished) > 0 || len(codes) == 0 {
		return out
	}
	out.Proven = q.Of(least - v.Uncertain[q].By)
	for _, code := range codes {
		if most, ok := places[code].largest(code, q, good, math.MaxInt64); ok && most == least {
			out.Decides = append(out.Decides, code)
		}
	}
	return out
}

// unproven adds the smallest figure that any jurisdiction states, and what is open at
// it.
func (t *Tables) unproven(l *Largest, v Vehicle, codes []string, at time.Time) {
	for _, code := range codes {
		if s := t.across(v, code, at).stated(code, l.Quantity); s != nil {
			l.Unproven = l.Unproven.with(s)
		} else {
			l.Unstated = append(l.Unstated, code)
		}
	}
	size := oneStep(l.Quantity) // any: no row speaks of one
	if l.Unproven != nil {
		size = l.Unproven.most
	}
	for _, code := range l.NotEstablished {
		c := t.across(v, code, at).exactly().with(l.Quantity, size)
		c.brief = false
		l.Open = append(l.Open, c.quantity(code, l.Quantity)[0])
	}
}
