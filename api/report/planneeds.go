package report

import (
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// surePermits is how many jurisdictions' permits are shown in any case.
const surePermits = 2

// permits says what to ask for, of whom and by when.
func (s *screen) permits(p *trip.Plan) {
	part := s.part(say.That("screen.label.permits"))
	for i, n := range p.Permits {
		tells := part.hints
		if i < surePermits {
			tells = part.briefly
		}
		tells(askFor(n))
		for _, o := range n.Permits {
			s.shown = append(s.shown, finding.Finding{Topic: finding.Permits, Jurisdiction: n.Jurisdiction,
				Citations: []finding.Citation{o.Row}})
		}
	}
	if len(p.Permits) == 0 {
		part.keeps(say.That("screen.no_permit", "unknown", p.Verdict.Unknowns))
	}
}

func askFor(n regs.Need) say.Remark {
	var because []say.Term
	for _, rule := range n.Because {
		because = append(because, rule)
	}
	var by, fee say.Remark
	for _, o := range n.Permits {
		if !o.AskBy.IsZero() && by.None() {
			by = say.That("screen.ask_by", "day", say.Day(o.AskBy))
		}
		if o.Fee != "" && fee.None() {
			fee = say.That("screen.fee", "fee", o.Fee)
		}
	}
	return say.That("screen.permit", "jurisdiction", n.Jurisdiction, "because", because, "office", named(n.Office),
		"by", say.Or(by, say.That("screen.ask_by_not_known")), "fee", say.Or(fee, say.That("screen.fee_not_known")),
		"held", len(n.Held))
}

// named is an office by its name alone.
func named(office say.Remark) say.Remark {
	if name, ok := office.Get("name").(string); ok {
		return say.Text(name)
	}
	return office
}

// escorts says which vehicles go along, and where that is not known.
func (s *screen) escorts(p *trip.Plan) {
	var open []say.Remark
	for _, f := range p.All() {
		for _, q := range limit.Quantities() {
			if f.Rule == q.Escorts() && f.Outcome == finding.Unknown {
				open = append(open, say.That("screen.escorts_open", "jurisdiction", f.Jurisdiction, "quantity", q))
				s.speaksOf(f)
			}
		}
	}
	d := p.Verdict.Demands
	s.part(say.That("screen.label.escorts")).
		briefly(say.That("screen.along", "escorts", vehicles(d), "open", say.Once(open),
			"others", alongside(d)))
}

// vehicles are the escorts that are asked for.
func vehicles(d finding.Demands) say.Remark {
	if d.Escorts() == 0 {
		return say.Remark{}
	}
	return say.That("screen.escorts", "front", d.EscortsFront, "rear", d.EscortsRear, "any", d.EscortsAny)
}

// alongside is what is asked for beside escorts.
func alongside(d finding.Demands) (out []say.Remark) {
	if d.HeightPole {
		out = append(out, say.That("screen.pole"))
	}
	if d.Survey {
		out = append(out, say.That("screen.survey"))
	}
	return out
}

// fuel says what the way takes and how far the tank goes.
func (s *screen) fuel(p *trip.Plan) {
	part := s.part(say.That("screen.label.fuel"))
	if !p.Fuel.Unknown.None() {
		part.tells(say.That("screen.fuel_not_known", "why", p.Fuel.Unknown, "planned", fuelStops(p)))
		return
	}
	all := p.Fuel.Band()
	part.keeps(say.That("screen.fuel", "likely", all.Likely, "low", all.Low, "high", all.High, "tank", tank(p.Road),
		"planned", fuelStops(p)))
}

// fuelStops says which fuel stops the timetable has and what they rest on; none where there is
// nothing to add to how far the tank goes.
func fuelStops(p *trip.Plan) say.Remark {
	if p.Timetable == nil || p.Road == nil {
		return say.Remark{}
	}
	needs, stops := len(p.Road.Tank.Stops) > 0, p.Timetable.FuelStops()
	switch by := p.Timetable.Fuelling(); {
	case by == trip.ByPace:
		return say.That("screen.fuel_by_pace", "stops", stops, "every", p.Timetable.Journey.Habits.FuelEvery)
	case by == trip.ByTank && stops > 0:
		return say.That("screen.fuel_by_tank", "stops", stops)
	case by == trip.NotKnown:
		return say.That("screen.fuel_unplanned", "often", needs)
	default:
		return say.Remark{}
	}
}

// tank says how far the tank goes on a way.
func tank(d *driving.Drive) say.Remark {
	switch {
	case d == nil:
		return say.Remark{}
	case !d.Tank.Unknown.None():
		return say.That("screen.tank_not_known", "why", d.Tank.Unknown)
	case len(d.Tank.Stops) > 0:
		return say.That("screen.fill_up", "stops", len(d.Tank.Stops), "range", d.Tank.Range)
	default:
		return say.That("screen.tank_enough", "range", d.Tank.Range)
	}
}
