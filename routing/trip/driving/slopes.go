package driving

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/standing"
)

// descents lists long descents, and roads that are steep somewhere along them
// though not on the whole; they ask for no mass and no fuel.
func (d *Driver) descents(o *Drive) {
	for _, one := range drive.Descents(d.driven) {
		s := Slope{Spot: d.spotAt(one.At), Length: one.Length, Grade: one.Grade, Drop: one.Drop}
		if d.pulled.Known() {
			s.Heat, s.Power = d.vehicle.Brakes(one, d.weather, holdBack)
		}
		o.Descents = append(o.Descents, s)
	}
	var at measure.Distance
	for _, p := range d.passed {
		g, ok := d.Network.Grade(p.Arc)
		drop := measure.Distance(g.Descent) * p.Length() / d.Network.Length[p.Arc.Edge()]
		if known := o.listed(at, p.Length()); ok && p.driven && g.Steepest <= -steepAlong && known != nil {
			known.Steepest = max(known.Steepest, -float64(g.Steepest))
		} else if ok && p.driven && g.Steepest <= -steepAlong && drop >= steepDrop {
			o.Descents = append(o.Descents, Slope{
				Spot: Spot{
					At: at, Point: d.Network.Point(d.along(p.Piece, 0)), Road: d.Network.RoadName(p.Arc.Edge()),
				}, Length: p.Length(),
				Grade: float64(drop / p.Length()), Steepest: -float64(g.Steepest), Drop: drop,
			})
		}
		at += p.length()
	}
	slices.SortStableFunc(o.Descents, func(a, b Slope) int { return cmp.Compare(b.Drop, a.Drop) })
}

// A road is steep somewhere along it from 6 % over its steepest 100 m, if it goes
// down by 20 m or more on the whole: this project's choice.
const (
	steepAlong = 0.06
	steepDrop  = 20 // m
)

// listed is the descent that is listed for a stretch of the way; nil for none.
func (o *Drive) listed(at, length measure.Distance) *Slope {
	i := slices.IndexFunc(o.Descents, func(d Slope) bool { return d.At < at+length && at < d.At+d.Length })
	if i < 0 {
		return nil
	}
	return &o.Descents[i]
}

// hardClimbs lists where the engine does not hold the assumed speed.
func (d *Driver) hardClimbs(o *Drive) {
	if d.vehicle.Power == nil {
		return
	}
	var at measure.Distance
	for _, s := range d.driven {
		if s.Grade > 0 && s.Speed > 0 {
			if v, ok := d.vehicle.Holds(s, d.weather, s.Speed); v < s.Speed {
				o.climb(Slope{
					Spot: Spot{At: at}, Length: s.Length, Grade: s.Grade, Drop: s.Length * measure.Distance(s.Grade),
					Speed: v, Stuck: !ok,
				})
			}
		}
		at += s.Length
	}
	slices.SortStableFunc(o.Climbs, func(a, b Slope) int { return cmp.Compare(a.Speed, b.Speed) })
	for i := range o.Climbs {
		o.Climbs[i].Spot = d.spotAt(o.Climbs[i].At)
	}
}

// climb adds a climb, to the one before where it goes on from it.
func (o *Drive) climb(s Slope) {
	const rest = 200 // m between two that are one
	n := len(o.Climbs)
	if n == 0 || s.At-o.Climbs[n-1].At-o.Climbs[n-1].Length > rest {
		o.Climbs = append(o.Climbs, s)
		return
	}
	last := &o.Climbs[n-1]
	last.Drop += s.Drop
	last.Length = s.At + s.Length - last.At
	last.Grade = float64(last.Drop / last.Length)
	last.Speed, last.Stuck = min(last.Speed, s.Speed), last.Stuck || s.Stuck
}

// pullFindings answers fuel stops, climbs and descents.
func (d *Driver) pullFindings(o *Drive) []finding.Finding {
	var out []finding.Finding
	if r := d.rig; r.Described() {
		if why := o.Tank.Unknown; !why.None() {
			step, untold := r.Untold()
			if !untold {
				step = finding.Step{By: finding.Expert, Whom: say.That("ask.tow_maker"), Of: "tow", Asks: say.That("task.range")}
			}
			out = append(out, finding.Finding{
				Topic: finding.Road, Rule: "fuel stops", Outcome: finding.Unknown, Reason: finding.NotGiven,
				Says: []say.Remark{say.That("road.no_range", "why", why)}, Settles: finding.By(step),
			})
		}
		if r.Tow.Power == nil || !o.Unknown.None() || o.FlatRoad > 0 {
			out = append(out, d.openClimbs(o))
		}
	}
	if n := len(o.Tank.Stops); n > 0 {
		out = append(out, finding.Finding{
			Topic: finding.Road, Rule: "fuel stops", Place: o.Tank.Stops[0].Place(), Outcome: finding.Review,
			Reason:  finding.Practice,
			Says:    []say.Remark{say.That("road.fuel_stops", "stops", n, "range", o.Tank.Range)},
			Settles: meeting(say.That("task.fuel_stops", "stops", n)),
		})
	}
	if len(o.Climbs) > 0 {
		out = append(out, o.climbFinding())
	}
	if len(o.Descents) > 0 {
		out = append(out, o.descentFinding())
	}
	return out
}

// climbFinding answers the climbs on which the engine may not hold the assumed speed.
func (o *Drive) climbFinding() finding.Finding {
	c, n := o.Climbs[0], len(o.Climbs)
	says := say.That("road.hard_climbs", "climbs", n, "length", c.Length, "percent", 100*c.Grade, "speed", c.Speed)
	if c.Stuck {
		says = say.That("road.stuck_on_climb", "climbs", n, "length", c.Length, "percent", 100*c.Grade)
	}
	return finding.Finding{
		Topic: finding.Road, Rule: "climbs", Place: c.Spot.Place(), Outcome: finding.Review,
		Reason: finding.Practice, Figures: say.That("road.speed", "speed", c.Speed),
		Says:    []say.Remark{says},
		Settles: surveyed(say.That("task.climbs", "climbs", n)),
	}
}

// descentFinding answers long and steep descents.
func (o *Drive) descentFinding() finding.Finding {
	d, n := o.Descents[0], len(o.Descents)
	along := say.That("road.descent", "drop", measure.Rise(d.Drop), "length", d.Length, "percent", 100*d.Grade)
	if d.Steepest > 0 {
		along = say.That("road.descent_steepest", "descent", along, "percent", 100*d.Steepest)
	}
	if d.Heat > 0 {
		along = say.That("road.descent_heat", "descent", along, "heat", d.Heat/1e6, "power", d.Power, "speed", holdBack)
	}
	return finding.Finding{
		Topic: finding.Road, Rule: "descents", Place: d.Spot.Place(), Outcome: finding.Review,
		Reason:  finding.Practice,
		Says:    []say.Remark{say.That("road.descents", "descents", n, "greatest", along)},
		Settles: surveyed(say.That("task.descents", "descents", n)),
	}
}

// openClimbs says of which climbs and descents nothing is known.
func (d *Driver) openClimbs(o *Drive) finding.Finding {
	var why []say.Remark
	if o.FlatRoad > 0 {
		why = append(why, say.That("road.taken_as_level", "length", o.FlatRoad))
	}
	if d.rig.Tow.Power == nil {
		why = append(why, say.That("rig.no_power"))
	}
	if !o.Unknown.None() {
		why = append(why, o.Unknown)
	}
	return finding.Finding{
		Topic: finding.Road, Rule: "climbs and descents", Outcome: finding.Unknown, Reason: finding.NotDescribed,
		Says:    []say.Remark{say.That("road.climbs_unknown", "why", why)},
		Settles: d.climbing(o),
	}
}

// climbing is what settles climbs and descents: a network that knows them and what the
// tow vehicle does, or somebody who has driven the way with such a rig.
func (d *Driver) climbing(o *Drive) [][]finding.Step {
	out := surveyed(say.That("task.slopes"))
	if d.rig.Tow.Power == nil || o.FlatRoad == 0 {
		return out
	}
	return append(
		out,
		[]finding.Step{{By: finding.Data, Of: "network", Asks: say.That("task.fact", "fact", network.Grades)}},
	)
}

// Climbs says of what is known of the climbs of a leg what was not considered.
func (d *Driver) Climbs(l *standing.Ledger, jurisdiction string) []finding.Finding {
	if d.Network.Lacks(network.Grades) || l.Length == 0 {
		return nil
	}
	f := finding.Finding{
		Topic: finding.Road, Rule: finding.Rule(network.Grades), Jurisdiction: jurisdiction, Outcome: finding.Unknown,
		Reason:  finding.NotDescribed,
		Settles: surveyed(say.That("task.slopes")),
	}
	if l.Steep {
		f.Figures = say.That("road.climb_figures", "up", measure.Rise(l.Climb.Ascent), "down", measure.Rise(l.Climb.Descent),
			"steepest", 100*float64(l.Climb.Steepest))
	}
	open := []say.Remark{say.That("road.brakes")}
	if d.rig.Tow.Power == nil {
		open = append(open, say.That("road.power"))
	}
	if !d.pulled.Known() {
		open = append(open, say.That("road.fuel"))
	}
	f.Says = []say.Remark{say.That("road.not_considered", "open", open)}
	if l.Climb.Unknown > 0 {
		f.Says = []say.Remark{say.That("road.grades_unknown", "length", l.Climb.Unknown, "open", open)}
	}
	return []finding.Finding{f}
}
