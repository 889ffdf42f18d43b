package driving

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/standing"
)

// descents lists long descents, and roads that are steep somewhere along them
// though not on the whole; they ask for no mass and no fuel.
func (d *Driver) descents(o *Road) {
	for _, one := range drive.Descents(d.driven) {
		s := Slope{Spot: d.spotAt(one.At), Length: one.Length, Grade: one.Grade, Drop: one.Drop}
		if d.unpulled == "" {
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
				Spot: Spot{At: at, Point: d.Network.Point(d.along(p.Piece, 0)), Road: d.Network.RoadName(p.Arc.Edge())}, Length: p.Length(),
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
func (o *Road) listed(at, length measure.Distance) *Slope {
	i := slices.IndexFunc(o.Descents, func(d Slope) bool { return d.At < at+length && at < d.At+d.Length })
	if i < 0 {
		return nil
	}
	return &o.Descents[i]
}

// hardClimbs lists where the engine does not hold the assumed speed.
func (d *Driver) hardClimbs(o *Road) {
	if d.vehicle.Power == nil {
		return
	}
	var at measure.Distance
	for _, s := range d.driven {
		if s.Grade > 0 && s.Speed > 0 {
			if v, ok := d.vehicle.Holds(s, d.weather, s.Speed); v < s.Speed {
				o.climb(Slope{Spot: Spot{At: at}, Length: s.Length, Grade: s.Grade, Drop: s.Length * measure.Distance(s.Grade), Speed: v, Stuck: !ok})
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
func (o *Road) climb(s Slope) {
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
func (d *Driver) pullFindings(o *Road) []finding.Finding {
	var out []finding.Finding
	if r := d.rig; r.Described() {
		if o.Tank.Unknown != "" || o.Unknown != "" {
			out = append(out, finding.Finding{Rule: "fuel stops", Outcome: finding.Unknown, Ask: "the maker of the tow vehicle", Summary: "how far the tank goes is not known: " + cmp.Or(o.Unknown, o.Tank.Unknown)})
		}
		if r.Tow.Power == nil || o.Unknown != "" || o.FlatRoad > 0 {
			out = append(out, d.openClimbs(o))
		}
	}
	if n := len(o.Tank.Stops); n > 0 {
		out = append(out, finding.Finding{
			Rule: "fuel stops", Place: o.Tank.Stops[0].Place(), Outcome: finding.Review, Ask: "fuel stations on the way, for room to turn and a canopy that is high enough",
			Summary: fmt.Sprintf("fuel stops needed by the high figure, with the reserve kept: %d, the first after %s at the latest", n, o.Tank.Range),
		})
	}
	if n := len(o.Climbs); n > 0 {
		c := o.Climbs[0]
		f := finding.Finding{
			Rule: "climbs", Place: c.Spot.Place(), Outcome: finding.Review, Ask: "the maker of the tow vehicle, and someone who has driven it", Figures: say.Text(c.Speed.String()),
			Summary: fmt.Sprintf("on %s the engine may not hold the assumed speed; on the hardest, %s of %.1f %%, it holds %s", count(n, "climb", "climbs"), c.Length, 100*c.Grade, c.Speed),
		}
		if c.Stuck {
			f.Summary = fmt.Sprintf("on %s the engine may not hold the assumed speed; on the hardest, %s of %.1f %%, it may not climb at all", count(n, "climb", "climbs"), c.Length, 100*c.Grade)
		}
		out = append(out, f)
	}
	if n := len(o.Descents); n > 0 {
		worst := o.Descents[0]
		f := finding.Finding{Rule: "descents", Place: worst.Spot.Place(), Outcome: finding.Review, Ask: "the maker of the brakes, and someone who has driven it"}
		f.Summary = fmt.Sprintf("%s: low gear before they begin; the greatest drops %.0f m in %s at %.1f %%", count(n, "long or steep descent", "long or steep descents"), float64(worst.Drop), worst.Length, 100*worst.Grade)
		if worst.Steepest > 0 {
			f.Summary += fmt.Sprintf(", %.0f %% somewhere along it", 100*worst.Steepest)
		}
		if worst.Heat > 0 {
			f.Summary += fmt.Sprintf(", where engine and brakes take %.0f MJ, %s to hold %s", worst.Heat/1e6, worst.Power, holdBack)
		}
		out = append(out, f)
	}
	return out
}

// openClimbs says of which climbs and descents nothing is known.
func (d *Driver) openClimbs(o *Road) finding.Finding {
	var why []string
	if o.FlatRoad > 0 {
		why = append(why, fmt.Sprintf("%s of the way were taken as level, because the network does not know their climbs", o.FlatRoad))
	}
	if d.rig.Tow.Power == nil {
		why = append(why, "the power of the engine is not given")
	}
	if o.Unknown != "" {
		why = append(why, o.Unknown)
	}
	return finding.Finding{
		Rule: "climbs and descents", Outcome: finding.Unknown, Ask: "someone who has driven it with such a rig",
		Summary: "which climbs the engine holds and where brakes run hot is not, or not wholly, known: " + strings.Join(why, "; "),
	}
}

// Climbs says of what is known of the climbs of a leg what was not considered.
func (d *Driver) Climbs(l *standing.Ledger, jurisdiction string) []finding.Finding {
	if d.Network.Lacks(network.Grades) || l.Length == 0 {
		return nil
	}
	f := finding.Finding{Rule: string(network.Grades), Jurisdiction: jurisdiction, Outcome: finding.Unknown, Ask: "the maker of the tow vehicle, and someone who has driven it"}
	if l.Steep {
		f.Figures = say.Text(fmt.Sprintf("up %.0f m, down %.0f m, steepest %+.1f %%", l.Climb.Ascent, l.Climb.Descent, 100*l.Climb.Steepest))
	}
	open := "brakes"
	if d.rig.Tow.Power == nil {
		open += ", power"
	}
	if d.unpulled != "" {
		open += ", fuel"
	}
	f.Summary = "climbs and descents are known, but on them these were not considered: " + open
	if l.Climb.Unknown > 0 {
		f.Summary = fmt.Sprintf("climbs and descents of %s are not known, and on the rest these were not considered: %s", l.Climb.Unknown, open)
	}
	return []finding.Finding{f}
}
