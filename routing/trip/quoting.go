package trip

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/quote"
)

// Deal is what is said of a quote beside its trip. What is not said is not known.
type Deal struct {
	quote.Work                    // what a plan does not tell: card, currency, days, prices that were given
	Deadhead    *measure.Distance // empty, to the first stop
	Returns     *bool             // whether the truck's empty way back is charged, and that of escorts
	Nights      *int              // nil: as the timetable has them
	Standby     *time.Duration    // nil: what the timetable waits by day
	WeatherDays int

	waits    bool // Standby is that of the timetable
	schedule bool // so are the nights, or as many as those that were said
}

// Priced is a plan with its quote.
type Priced struct {
	Plan         *Plan
	Quote        *quote.Quote
	CustomerCopy bool // what it is shown as
}

// RestsOnInvented reports whether anything of it was made up.
func (p *Priced) RestsOnInvented() bool { return p.Quote.Invented }

// Assumptions are what the quote takes for granted.
func (p *Priced) Assumptions() []say.Remark {
	return []say.Remark{say.That("quote.rounds"), say.That("quote.takes_all_as_taxed"), say.That("quote.way_back")}
}

// Work is what a plan takes, to be priced.
func (p *Plan) Work(d Deal) quote.Work {
	d = d.scheduled(p.Timetable)
	w := d.Work
	w.On, w.Invented = p.Departure, w.Invented || p.RestsOnInvented()
	if len(p.Legs) > 0 {
		w.From, w.To = state(p.Legs[0]), state(p.Legs[len(p.Legs)-1])
	}
	if l, ok := p.Rig.Length.Value(); ok {
		w.Length = &l
	}
	if h, ok := p.Rig.Height.Value(); ok {
		w.Height = &h
	}
	w.Parts = slices.Concat(p.truck(d), p.crew(d), p.escorts(d), p.fees(), p.crossings())
	if !p.Drivable() {
		w.Hinders = append(w.Hinders, say.That("quote.forbidden"))
	}
	if p.unmatched() > 0 {
		w.Hinders = append(w.Hinders, say.That("quote.unmatched", "length", p.unmatched()))
	}
	return w
}

// state is the one province or state of a leg, "" where it is not known which.
func state(l Leg) string {
	if len(l.Jurisdictions) != 1 {
		return ""
	}
	code, _, _ := strings.Cut(l.Jurisdictions[0], "/")
	return code
}

// truck is what the truck and its rig do.
func (p *Plan) truck(d Deal) []quote.Part {
	haul := quote.Part{
		Item: rates.Haulage, Needed: true, Whom: say.That("quote.whom_card"),
		Quantities: append(quote.Way(p.Length), quote.Whole(rates.Each, 1)),
	}
	if p.Time.Unknown.None() && !p.Waits {
		haul.Quantities = append(haul.Quantities, quote.Hours(p.Time.Duration, p.Time.Duration, p.Time.Slow))
	}
	if d.Nights != nil {
		haul.Quantities = append(haul.Quantities, quote.Whole(rates.Day, *d.Nights+1))
	}
	haul.Missing = say.Or(p.Time.Unknown, say.That("quote.no_days"))
	out := []quote.Part{haul}
	switch empty := (quote.Part{Item: rates.Deadhead, Whom: say.That("quote.whom_dispatcher")}); {
	case d.Deadhead == nil:
		empty.Unknown = say.That("quote.no_deadhead")
		out = append(out, empty)
	case *d.Deadhead > 0:
		empty.Needed, empty.Quantities = true, append(quote.Way(*d.Deadhead), quote.Whole(rates.Each, 1))
		out = append(out, empty)
	}
	switch back := (quote.Part{Item: rates.Return, Whom: say.That("quote.whom_dispatcher")}); {
	case d.Returns == nil && p.Home: // the truck is back with its unit
	case d.Returns == nil:
		back.Unknown = say.That("quote.no_return")
		out = append(out, back)
	case *d.Returns:
		back.Needed, back.Quantities = true, append(quote.Way(p.Length), quote.Whole(rates.Each, 1))
		out = append(out, back)
	}
	fuel := quote.Part{Item: rates.Fuel, Unknown: p.Fuel.Unknown}
	if fuel.Unknown.None() {
		b := p.Fuel.Band()
		fuel.Quantities = quote.Volumes(b.Low, b.Likely, b.High)
	}
	return append(out, fuel)
}

// crew is what the crew is paid for beside driving.
func (p *Plan) crew(d Deal) (out []quote.Part) {
	if d.Standby != nil && *d.Standby > 0 {
		out = append(out, quote.Part{
			Item: rates.Standby, Needed: !d.waits, Whom: say.That("quote.whom_card"),
			Quantities: []quote.Quantity{quote.Hours(*d.Standby, *d.Standby, *d.Standby)},
		})
	}
	if d.WeatherDays > 0 {
		out = append(out, quote.Part{
			Item: rates.WeatherDay, Needed: true, Whom: say.That("quote.whom_card"),
			Quantities: []quote.Quantity{quote.Whole(rates.Day, d.WeatherDays)},
		})
	}
	lodging := quote.Part{Item: rates.Lodging, Needed: true, Whom: say.That("quote.whom_card")}
	switch {
	case d.Nights == nil:
		lodging.Unknown, lodging.Whom = say.That("quote.no_nights"), say.That("quote.whom_dispatcher")
		return append(out, lodging)
	case *d.Nights > 0:
		lodging.Quantities = []quote.Quantity{quote.Whole(rates.Night, *d.Nights)}
		return append(out, lodging)
	}
	return out
}

// crossings are the tolls and ferries of the way, of which the roads know no price.
func (p *Plan) crossings() (out []quote.Part) {
	toll := quote.Part{Item: rates.Toll, Quantities: []quote.Quantity{quote.Whole(rates.Each, 1)}, Needed: true,
		Whom: say.That("quote.whom_road")}
	if slices.Contains(p.About.Lacks, network.RoadLimits) {
		toll.Unknown = say.That("quote.tolls_not_mapped")
		out = append(out, toll)
	}
	for _, l := range p.Legs {
		rule := func(rule finding.Rule) bool {
			return slices.ContainsFunc(l.Findings, func(f finding.Finding) bool { return f.Rule == rule })
		}
		if rule("toll") || rule("toll booth") {
			at := toll
			at.Jurisdiction = state(l)
			out = append(out, at)
		}
	}
	for _, s := range p.Sailings {
		out = append(out, s.part(p))
	}
	return out
}
