package trip

import (
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/quote"
)

// fees are what authorities ask for, and surveys of the route.
func (p *Plan) fees() (out []quote.Part) {
	for _, n := range p.Permits {
		if len(n.Held) == 0 {
			out = append(out, fee(n))
		}
	}
	for _, code := range p.PermitsOpen() {
		out = append(
			out,
			quote.Part{Item: rates.Permit, Jurisdiction: code, Needed: true, Perhaps: true,
				Unknown: say.That("quote.permit_open"),
				Whom:    say.That("quote.whom_office", "where", say.Jurisdiction(code))},
		)
	}
	if p.Verdict.Demands.Survey {
		out = append(out, quote.Part{Item: rates.Survey, Needed: true, Whom: say.That("quote.whom_card"),
			Quantities: append(quote.Way(p.Length), quote.Whole(rates.Each, 1))})
	}
	return out
}

// fee is what the permits of one jurisdiction cost: known where one row alone may be it.
func fee(n regs.Need) quote.Part {
	out := quote.Part{Item: rates.Permit, Jurisdiction: n.Jurisdiction, Needed: true, Whom: n.Office,
		Quantities: []quote.Quantity{quote.Whole(rates.Each, 1)}}
	switch len(n.Permits) {
	case 0:
		out.NoPrice = say.That("quote.no_permit_row")
	case 1:
		o := n.Permits[0]
		out.Called = say.Text(o.Name)
		cost, err := money.ParseMoney(o.Fee)
		if err != nil {
			out.NoPrice = say.Or(o.FeeUnknown, say.That("fee.open"))
			break
		}
		out.Fee = &quote.Fee{Money: cost, Row: o.Row, Doubt: o.FeeUnknown}
	default:
		out.NoPrice = say.That("quote.which_permit", "count", len(n.Permits))
	}
	return out
}

// PermitsOpen lists the jurisdictions that ask for no permit as far as is known, where a size
// is not settled.
func (p *Plan) PermitsOpen() (out []string) {
	asked := func(code string) bool {
		return slices.ContainsFunc(p.Permits, func(n regs.Need) bool {
			of, _, _ := strings.Cut(n.Jurisdiction, "/")
			return of == code
		})
	}
	for _, l := range p.Legs {
		for _, code := range states(l) {
			open := slices.ContainsFunc(l.Findings, func(f finding.Finding) bool {
				return f.Topic == finding.Limit && !limit.OfEscorts(f.Rule) && f.Outcome == finding.Unknown &&
					strings.HasPrefix(f.Jurisdiction, code)
			})
			if open && !asked(code) && !slices.Contains(out, code) {
				out = append(out, code)
			}
		}
	}
	return out
}
