package trip

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/money"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/quote"
)

// along is what escorts drive in one jurisdiction: the vehicles that are surely asked for, and
// all that may be.
type along struct {
	code        string
	sure, most  int              // at once
	least, all  measure.Distance // of all vehicles together
	short, long time.Duration
	slow        time.Duration
	unknown     say.Remark // why there are no hours
	open        bool       // whether there are more is not known
}

// escorted is what escorts drive on a trip, in the order of the way. Near a border a leg counts
// for both sides.
func (p *Plan) escorted() []along {
	var out []along
	for _, l := range p.Legs {
		for _, code := range states(l) {
			i := slices.IndexFunc(out, func(a along) bool { return a.code == code })
			if i < 0 {
				i, out = len(out), append(out, along{code: code})
			}
			out[i].drives(l)
		}
	}
	return slices.DeleteFunc(out, func(a along) bool { return a.most == 0 && !a.open })
}

// states are the provinces and states that a leg may lie in, each once.
func states(l Leg) []string {
	var out []string
	for _, code := range l.Jurisdictions {
		if code, _, _ = strings.Cut(code, "/"); !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}

// drives adds a leg.
func (a *along) drives(l Leg) {
	var sure, all finding.Demands
	for _, f := range l.Findings {
		if code, _, _ := strings.Cut(f.Jurisdiction, "/"); code != a.code {
			continue
		}
		all = all.Union(f.Demands)
		if f.Outcome == finding.Conditional || f.Outcome == finding.Forbidden {
			sure = sure.Union(f.Demands)
		}
		a.open = a.open || limit.OfEscorts(f.Rule) && f.Outcome == finding.Unknown
	}
	n, m := sure.Escorts(), all.Escorts()
	a.sure, a.most = max(a.sure, n), max(a.most, m)
	a.least, a.all = a.least+measure.Distance(n)*l.Length, a.all+measure.Distance(m)*l.Length
	a.short += time.Duration(n) * l.Time.Duration
	a.long += time.Duration(m) * l.Time.Duration
	a.slow += time.Duration(m) * l.Time.Slow
	a.unknown = say.Or(a.unknown, l.Time.Unknown)
}

// escorts are the escort vehicles, their way home and their nights. What may be asked for
// counts as likely.
func (p *Plan) escorts(d Deal) (out []quote.Part) {
	for _, a := range p.escorted() {
		drive := quote.Part{Item: rates.Escort, Jurisdiction: a.code, Needed: true, Whom: say.That("quote.whom_office",
			"where", say.Jurisdiction(a.code)), Missing: say.Or(a.unknown, say.That("quote.no_days"))}
		if a.most == 0 {
			drive.Unknown = say.That("quote.escorts_open")
			out = append(out, drive)
			continue
		}
		way := quote.Distances(a.least, a.all, a.all)
		drive.Quantities = append(slices.Clone(way), quote.Quantity{Unit: rates.Each, Range: counts(a.sure, a.most)})
		if a.unknown.None() {
			drive.Quantities = append(drive.Quantities, quote.Hours(a.short, a.long, a.slow))
		}
		if d.Nights != nil {
			days := *d.Nights + 1
			drive.Quantities = append(drive.Quantities, quote.Quantity{Unit: rates.Day, Range: counts(a.sure*days, a.most*days)})
		}
		if a.open {
			drive.Quantities = quote.AtLeast(drive.Quantities, say.That("quote.more_escorts"))
		}
		out = append(out, drive)
		home := quote.Part{Item: rates.EscortReturn, Jurisdiction: a.code, Quantities: append(way,
			quote.Quantity{Unit: rates.Each, Range: counts(a.sure, a.most)}), Whom: say.That("quote.whom_card")}
		if d.Returns == nil {
			home.Unknown, home.Whom = say.That("quote.no_return"), say.That("quote.whom_dispatcher")
		}
		if d.Returns == nil || *d.Returns {
			out = append(out, home)
		}
		for _, night := range nights(d, rates.EscortNight, a.most) {
			night.Jurisdiction = a.code
			out = append(out, night)
		}
	}
	return out
}

func counts(low, likely int) quote.Range {
	return quote.Range{Low: quote.Count(low).Low, Likely: quote.Count(likely).Likely, High: quote.Count(likely).High}
}

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

// EscortsOpen lists the jurisdictions in which it is not known whether escorts, or more of
// them, are asked for.
func (p *Plan) EscortsOpen() (out []string) {
	for _, a := range p.escorted() {
		if a.open {
			out = append(out, a.code)
		}
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
