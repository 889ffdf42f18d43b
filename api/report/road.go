package report

import (
	"cmp"
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// holding writes what is asked of the anchors.
func (t *text) holding(h rig.Holding) {
	t.line("  For comparison, not a proof. %s", t.in.Say(anchors.Caution()))
	asked, ok := h.Asked.Value()
	if !ok {
		t.line("  UNKNOWN: %s", t.in.Say(h.Asked.Why()))
		return
	}
	t.line("  they hold %s; both ends are asked", t.mass(h.House))
	for _, left := range asked.LeftOut {
		t.line("  UNKNOWN: %s", t.in.Say(left))
	}
	for _, c := range asked.Cannot {
		t.line("  CANNOT BE CARRIED by this layout: %s", t.in.Term(c))
	}
	var rows []entry
	for _, d := range asked.Demands {
		e := entry{cells: []string{
			fmt.Sprintf("%s, %d x %s", d.Name, d.Count, cmp.Or(string(d.Kind),
				"kind not given")), t.in.Quantity(d.PullUp), t.in.Term(d.PullUpCase), t.in.Quantity(d.PushAside),
			t.in.Term(d.PushAsideCase), t.in.Term(d.Status()),
		}}
		if uses, ok := d.Uses(); ok {
			e.cells[5] = fmt.Sprintf("%.0f %% of its rating", 100*uses)
		}
		rows = append(rows, e)
	}
	t.table([]string{"each", "pulled up", "most when", "pushed aside", "most when", "compared"}, rows)
}

func (t *text) drag(r rig.Report) {
	if drag, ok := r.Drag.Value(); ok {
		t.line("  drag area %s to %s: %s", drag.Area.Low, drag.Area.High,
			t.in.All(drag.Source))
	} else {
		t.line("  UNKNOWN: %s", t.in.Say(r.Drag.Why()))
	}
	grades, ok := r.Grades.Value()
	if !ok {
		t.line("  UNKNOWN: the speed it holds on grades: %s", t.in.Say(r.Grades.Why()))
		return
	}
	line := ""
	for i, h := range grades {
		if i > 0 {
			line += ", "
		}
		if !h.Climbs {
			line += fmt.Sprintf("%.0f %% not surely at all", 100*h.Grade)
			continue
		}
		line += t.say("%.0f %% %s", 100*h.Grade, h.Speed)
	}
	t.line("  the speed it holds, by all that resists at its high end (up to %s): %s", 110*measure.KilometrePerHour, line)
}

// few and many are how many places of a kind are written out.
const (
	few  = 3
	many = 12
)

// road writes what the way does to the rig, with so many places of a kind.
func (t *text) road(p *trip.Plan, most int) {
	r := p.Road
	if !r.Unknown.None() {
		t.line("  UNKNOWN: fuel, climbs and descents: %s", t.in.Say(r.Unknown))
	} else {
		t.pulled(r, most)
	}
	t.corners(r.Corners, most)
	if !r.NoCurves.None() {
		t.line("  UNKNOWN: speeds in curves: %s", t.in.Say(r.NoCurves))
	}
	slower := r.Slower()
	t.places("curves to be slower in than the plan assumes", len(slower), most, func(i int) string {
		c := slower[i]
		return t.say("%s: %s or less, radius %s at most", t.where(c.Spot), c.Speed, c.Radius)
	})
	t.places("climbs on which the engine may not hold the assumed speed", len(r.Climbs), most, func(i int) string {
		c := r.Climbs[i]
		if c.Stuck {
			return t.say("%s: %s of %.1f %%, it may not climb at all", t.where(c.Spot), c.Length, 100*c.Grade)
		}
		return t.say("%s: %s of %.1f %%, %s", t.where(c.Spot), c.Length, 100*c.Grade, c.Speed)
	})
	t.places("long or steep descents: low gear before they begin", len(r.Descents), most,
		func(i int) string { return t.descent(r.Descents[i]) })
	t.places("level crossings and humps of unknown profile", len(r.Grounds), most, func(i int) string {
		return fmt.Sprintf("%s: %s, %s", t.where(r.Grounds[i].Spot), r.Grounds[i].Kind, r.Grounds[i].Of)
	})
	if r.FlatRoad > 0 {
		t.line("  UNKNOWN: climbs and descents of %s, which was taken as level", r.FlatRoad)
	}
}

// where says where a spot or a corner is, for someone who looks it up.
func (t *text) where(s interface{ Place() say.Remark }) string { return t.in.Say(s.Place()) }

func (t *text) descent(d driving.Slope) string {
	out := t.say("%s: %s of %.1f %%, %s down", t.where(d.Spot), d.Length, 100*d.Grade, measure.Rise(d.Drop))
	if d.Steepest > 0 {
		out += fmt.Sprintf(", %.0f %% somewhere along it", 100*d.Steepest)
	}
	if d.Heat > 0 {
		out += fmt.Sprintf(", %.0f MJ for engine and brakes", d.Heat/1e6)
	}
	return out
}

func (t *text) pulled(r *driving.Drive, most int) {
	fuel := r.Run.Fuel.Add(r.Idle)
	if !r.Gap.None() {
		t.line("  UNKNOWN: fuel of all of the way: %s", t.in.Say(r.Gap))
		return
	}
	t.line("  fuel %s to %s, carbon dioxide %.0f to %.0f kg; %s", fuel.Low, fuel.High, r.Carbon.Low,
		r.Carbon.High, t.in.Say(r.Air))
	switch {
	case !r.Tank.Unknown.None():
		t.line("  UNKNOWN: how far the tank goes: %s", t.in.Say(r.Tank.Unknown))
	case len(r.Tank.Stops) == 0 && r.FlatRoad > 0:
		t.line("  %s of the tank, without its reserve, are enough by the high figure if %s of the way are as "+
			"level as they were taken", r.Tank.Usable, r.FlatRoad)
	case len(r.Tank.Stops) == 0:
		t.line("  %s of the tank, without its reserve, are enough by the high figure: they would go %s", r.Tank.Usable, r.Tank.Range)
	default:
		t.line("  by the high figure %s of the tank, without its reserve, go %s", r.Tank.Usable, r.Tank.Range)
	}
	t.places("fill up before", len(r.Tank.Stops), most, func(i int) string { return t.where(r.Tank.Stops[i]) })
	var rows []entry
	for _, s := range r.Speeds {
		rows = append(rows, entry{
			cells: []string{t.in.Quantity(s.Top), t.duration(driving.Duration{Duration: s.Time}),
				t.say("%s to %s", s.Fuel.Low, s.Fuel.High)}})
	}
	t.table([]string{"no faster than", "driving", "fuel"}, rows)
	for _, n := range r.Noses {
		t.line("  a %s nose saves %s to %s of what a flat one burns on this way", n.Nose,
			n.Saves.Low, n.Saves.High)
	}
}

func (t *text) corners(corners []driving.Corner, most int) {
	t.places("corners to look at, those that could not be driven first, then the widest", len(corners), most,
		func(i int) string {
			c := corners[i]
			if !c.Unknown.None() {
				return fmt.Sprintf("%s: UNKNOWN, %s", t.where(c), t.in.Say(c.Unknown))
			}
			road := "the width of the road is not tagged"
			if c.RoadWidth > 0 {
				road = "the road is tagged " + t.in.Quantity(c.RoadWidth) + " wide"
			}
			if c.Tighter {
				road += "; drawn tighter than the tow vehicle turns: look at the place itself"
			}
			return t.say("%s: takes %s on a radius of %s, cuts in by %s, tail out by %s; %s", t.where(c),
				c.Swept, c.Driven, c.OffTracking,
				c.TailSwing, road)
		})
}

// places lists places of a kind, and how many more there are.
func (t *text) places(what string, n, most int, of func(i int) string) {
	if n == 0 {
		return
	}
	t.line("  %d %s:", n, what)
	for i := range min(n, most) {
		t.line("    %s", of(i))
	}
	if n > most {
		t.line("    and %d more; --json has all", n-most)
	}
}
