package trip

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rates"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/quote"
	"wayhouse/routing/trip/timetable"
)

// vehicles are how many escort vehicles go at once: those that are surely asked for, and all
// that may be.
type vehicles struct{ sure, most int }

func (v vehicles) times(n int) quote.Range { return counts(v.sure*n, v.most*n) }

// with are the vehicles that go before and after something.
func (v vehicles) with(o vehicles) vehicles {
	return vehicles{min(v.sure, o.sure), min(v.most, o.most)}
}

// also are the vehicles at the busiest of two times.
func (v vehicles) also(o vehicles) vehicles {
	return vehicles{max(v.sure, o.sure), max(v.most, o.most)}
}

// along is what escorts drive in one jurisdiction.
type along struct {
	code        string
	vehicles                     // at once
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

// escorts are the vehicles that a leg asks for in a jurisdiction; open: whether there are more
// is not known.
func (l *Leg) escorts(code string) (v vehicles, open bool) {
	var sure, all finding.Demands
	for _, f := range l.Findings {
		if of, _, _ := strings.Cut(f.Jurisdiction, "/"); of != code {
			continue
		}
		all = all.Union(f.Demands)
		if f.Outcome == finding.Conditional || f.Outcome == finding.Forbidden {
			sure = sure.Union(f.Demands)
		}
		open = open || limit.OfEscorts(f.Rule) && f.Outcome == finding.Unknown
	}
	return vehicles{sure.Escorts(), all.Escorts()}, open
}

// drives adds a leg.
func (a *along) drives(l Leg) {
	v, open := l.escorts(a.code)
	a.vehicles, a.open = a.also(v), a.open || open
	a.least, a.all = a.least+measure.Distance(v.sure)*l.Length, a.all+measure.Distance(v.most)*l.Length
	a.short += time.Duration(v.sure) * l.Time.Duration
	a.long += time.Duration(v.most) * l.Time.Duration
	a.slow += time.Duration(v.most) * l.Time.Slow
	a.unknown = say.Or(a.unknown, l.Time.Unknown)
}

// engaged are the escorts of one jurisdiction by the timetable: nights and days of a vehicle,
// and how long they stand by between, by day.
type engaged struct {
	nights, days vehicles // times the vehicles
	least, all   time.Duration
}

// engages is how long a timetable keeps the escorts of a jurisdiction. They stay with a rig
// that stands between two drives on which they go; what comes before the first and behind the
// last is not theirs.
func (p *Plan) engages(code string) (out engaged) {
	days, nights := map[time.Time]vehicles{}, map[time.Time]vehicles{}
	for i, e := range p.Timetable.Entries {
		v := p.beside(code, i)
		if v.most == 0 {
			continue
		}
		y, m, d := e.From.Date()
		day := time.Date(y, m, d, 0, 0, 0, 0, e.From.Location())
		days[day.UTC()] = days[day.UTC()].also(v)
		over := midnights(e.From, e.To)
		for _, at := range over {
			days[at] = days[at].also(v)
		}
		switch {
		case !stands(e.Kind):
		case len(over) > 0:
			for _, at := range over {
				nights[at] = nights[at].also(v)
			}
		case e.Kind != timetable.Rest:
			out.least += time.Duration(v.sure) * e.To.Sub(e.From)
			out.all += time.Duration(v.most) * e.To.Sub(e.From)
		}
	}
	for _, v := range days {
		out.days = vehicles{out.days.sure + v.sure, out.days.most + v.most}
	}
	for _, v := range nights {
		out.nights = vehicles{out.nights.sure + v.sure, out.nights.most + v.most}
	}
	return out
}

// beside are the escorts of a jurisdiction that are with the rig during an entry of the
// timetable: those of the leg that it drives, or of the legs before and after it stands.
func (p *Plan) beside(code string, entry int) vehicles {
	all := p.Timetable.Entries
	on := func(i int) (vehicles, bool) {
		if all[i].Kind != timetable.Driving || all[i].Leg < 0 || all[i].Leg >= len(p.Legs) {
			return vehicles{}, false
		}
		v, _ := p.Legs[all[i].Leg].escorts(code)
		return v, true
	}
	if v, drives := on(entry); drives {
		return v
	}
	before, after := vehicles{}, vehicles{}
	for i := entry - 1; i >= 0; i-- {
		if v, drives := on(i); drives {
			before = v
			break
		}
	}
	for i := entry + 1; i < len(all); i++ {
		if v, drives := on(i); drives {
			after = v
			break
		}
	}
	return before.with(after)
}

// escorts are the escort vehicles, their way home, their nights and how long they stand by.
// What may be asked for counts as likely.
func (p *Plan) escorts(d Deal) (out []quote.Part) {
	for _, a := range p.escorted() {
		drive := quote.Part{Item: rates.Escort, Jurisdiction: a.code, Needed: true, Whom: say.That("quote.whom_office",
			"where", say.Jurisdiction(a.code)), Missing: say.Or(a.unknown, say.That("quote.no_days"))}
		if a.most == 0 {
			drive.Unknown = say.That("quote.escorts_open")
			out = append(out, drive)
			continue
		}
		way := append(quote.Distances(a.least, a.all, a.all), quote.Quantity{Unit: rates.Each, Range: a.times(1)})
		drive.Quantities = slices.Clone(way)
		if a.unknown.None() {
			drive.Quantities = append(drive.Quantities, quote.Hours(a.short, a.long, a.slow))
		}
		stay, days := p.stay(a, d)
		if days != nil {
			drive.Quantities = append(drive.Quantities, *days)
		}
		drive.Quantities = a.more(drive.Quantities)
		home := quote.Part{Item: rates.EscortReturn, Jurisdiction: a.code, Quantities: way, Whom: say.That("quote.whom_card")}
		if d.Returns == nil {
			home.Unknown, home.Whom = say.That("quote.no_return"), say.That("quote.whom_dispatcher")
		}
		out = append(out, drive)
		if d.Returns == nil || *d.Returns {
			out = append(out, home)
		}
		out = append(out, stay...)
	}
	return out
}

// more leaves the high end of quantities open where there may be more vehicles.
func (a along) more(all []quote.Quantity) []quote.Quantity {
	if a.open {
		return quote.AtLeast(all, say.That("quote.more_escorts"))
	}
	return all
}

// stay is what escorts are paid for while the rig stands, and for how many days they are
// there: by the timetable, unless other nights are said than it has. days is nil where that is
// not known.
func (p *Plan) stay(a along, d Deal) (parts []quote.Part, days *quote.Quantity) {
	night := quote.Part{Item: rates.EscortNight, Jurisdiction: a.code, Whom: say.That("quote.whom_dispatcher")}
	stands := quote.Part{Item: rates.EscortStandby, Jurisdiction: a.code, Whom: say.That("quote.whom_dispatcher")}
	if d.schedule {
		with := p.engages(a.code)
		days = &a.more([]quote.Quantity{{Unit: rates.Day, Range: with.days.times(1)}})[0]
		if with.nights.most > 0 {
			night.Needed, night.Whom = true, say.That("quote.whom_card")
			night.Quantities = a.more([]quote.Quantity{{Unit: rates.Night, Range: with.nights.times(1)}})
			parts = append(parts, night)
		}
		if with.all > 0 {
			stands.Needed, stands.Whom = true, say.That("quote.whom_card")
			stands.Quantities = a.more([]quote.Quantity{quote.Hours(with.least, with.all, with.all)})
			parts = append(parts, stands)
		}
		return parts, days
	}
	switch {
	case d.Nights == nil:
		night.Unknown = say.That("quote.no_nights")
		return append(parts, night), nil
	case *d.Nights > 0:
		night.Unknown, night.Needed = say.That("quote.nights_nowhere"), true
		parts = append(parts, night)
	default:
		days = &a.more([]quote.Quantity{{Unit: rates.Day, Range: a.times(1)}})[0]
	}
	return parts, days
}

func counts(low, likely int) quote.Range {
	return quote.Range{Low: quote.Count(low).Low, Likely: quote.Count(likely).Likely, High: quote.Count(likely).High}
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
