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
	t.line("  %sthey hold %s; both ends are asked", marked(t.plan.Invented), t.mass(h.House))
	for _, left := range asked.LeftOut {
		t.line("  UNKNOWN: %s", t.in.Say(left))
	}
	for _, c := range asked.Cannot {
		t.line("  %sCANNOT BE CARRIED by this layout: %s", marked(t.plan.Invented), t.in.Term(c))
	}
	var rows []entry
	for _, d := range asked.Demands {
		e := entry{invented: t.plan.Invented, cells: []string{
			fmt.Sprintf("%s, %d x %s", d.Name, d.Count, cmp.Or(string(d.Kind),
				"kind not given")), newtons(d.PullUp), t.in.Term(d.PullUpCase), newtons(d.PushAside),
			t.in.Term(d.PushAsideCase), t.in.Term(d.Status()),
		}}
		if uses, ok := d.Uses(); ok {
			e.cells[5] = fmt.Sprintf("%.0f %% of its rating", 100*uses)
		}
		rows = append(rows, e)
	}
	t.table([]string{"each", "pulled up", "most when", "pushed aside", "most when", "compared"}, rows)
}

func newtons(f measure.Force) string { return fmt.Sprintf("%.1f kN", float64(f)/1000) }

func (t *text) drag(r rig.Report) {
	invented := marked(t.plan.Invented)
	if drag, ok := r.Drag.Value(); ok {
		t.line("  %sdrag area %.1f to %.1f m2: %s", invented, float64(drag.Area.Low), float64(drag.Area.High),
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
		line += fmt.Sprintf("%.0f %% %.0f km/h", 100*h.Grade, float64(h.Speed/measure.KilometrePerHour))
	}
	t.line("  %sthe speed it holds, by all that resists at its high end (up to 110 km/h): %s", invented, line)
}

// few and many are how many places of a kind are written out.
const (
	few  = 3
	many = 12
)

// road writes what the way does to the rig, with so many places of a kind.
func (t *text) road(p *trip.Plan, most int) {
	r := p.Road
	invented := marked(p.Invented)
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
		return fmt.Sprintf("%s: %s or less, radius %.0f m at most", t.where(c.Spot), c.Speed, float64(c.Radius))
	})
	t.places("climbs on which the engine may not hold the assumed speed", len(r.Climbs), most, func(i int) string {
		c := r.Climbs[i]
		if c.Stuck {
			return fmt.Sprintf("%s: %s of %.1f %%, it may not climb at all", t.where(c.Spot), c.Length, 100*c.Grade)
		}
		return fmt.Sprintf("%s: %s of %.1f %%, %s", t.where(c.Spot), c.Length, 100*c.Grade, c.Speed)
	})
	t.places("long or steep descents: low gear before they begin", len(r.Descents), most,
		func(i int) string { return t.descent(r.Descents[i]) })
	t.places("level crossings and humps of unknown profile", len(r.Grounds), most, func(i int) string {
		return fmt.Sprintf("%s: %s, %s", t.where(r.Grounds[i].Spot), r.Grounds[i].Kind, r.Grounds[i].Of)
	})
	if r.FlatRoad > 0 {
		t.line("  %sUNKNOWN: climbs and descents of %s, which was taken as level", invented, r.FlatRoad)
	}
}

// where says where a spot or a corner is, for someone who looks it up.
func (t *text) where(s interface{ Place() say.Remark }) string { return t.in.Say(s.Place()) }

func (t *text) descent(d driving.Slope) string {
	out := fmt.Sprintf("%s: %s of %.1f %%, %.0f m down", t.where(d.Spot), d.Length, 100*d.Grade, float64(d.Drop))
	if d.Steepest > 0 {
		out += fmt.Sprintf(", %.0f %% somewhere along it", 100*d.Steepest)
	}
	if d.Heat > 0 {
		out += fmt.Sprintf(", %.0f MJ for engine and brakes", d.Heat/1e6)
	}
	return out
}

func (t *text) pulled(r *driving.Drive, most int) {
	invented := marked(t.plan.Invented)
	fuel := r.Run.Fuel.Add(r.Idle)
	if !r.Gap.None() {
		t.line("  UNKNOWN: fuel of all of the way: %s", t.in.Say(r.Gap))
		return
	}
	t.line("  %sfuel %s to %s, carbon dioxide %.0f to %.0f kg; %s", invented, fuel.Low, fuel.High, r.Carbon.Low,
		r.Carbon.High, t.in.Say(r.Air))
	switch {
	case !r.Tank.Unknown.None():
		t.line("  UNKNOWN: how far the tank goes: %s", t.in.Say(r.Tank.Unknown))
	case len(r.Tank.Stops) == 0 && r.FlatRoad > 0:
		t.line("  %s%s of the tank, without its reserve, are enough by the high figure if %s of the way are as "+
			"level as they were taken", invented, r.Tank.Usable, r.FlatRoad)
	case len(r.Tank.Stops) == 0:
		t.line("  %s%s of the tank, without its reserve, are enough by the high figure: they would go %s", invented,
			r.Tank.Usable, r.Tank.Range)
	default:
		t.line("  %sby the high figure %s of the tank, without its reserve, go %s", invented, r.Tank.Usable, r.Tank.Range)
	}
	t.places("fill up before", len(r.Tank.Stops), most, func(i int) string { return t.where(r.Tank.Stops[i]) })
	var rows []entry
	for _, s := range r.Speeds {
		rows = append(rows, entry{invented: t.plan.Invented,
			cells: []string{s.Top.String(), t.duration(driving.Duration{Duration: s.Time}),
				fmt.Sprintf("%.0f to %.0f L", float64(s.Fuel.Low/measure.Litre), float64(s.Fuel.High/measure.Litre))}})
	}
	t.table([]string{"no faster than", "driving", "fuel"}, rows)
	for _, n := range r.Noses {
		t.line("  %sa %s nose saves %.0f to %.0f L of what a flat one burns on this way", invented, n.Nose,
			float64(n.Saves.Low/measure.Litre), float64(n.Saves.High/measure.Litre))
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
				road = "the road is tagged " + c.RoadWidth.String() + " wide"
			}
			if c.Tighter {
				road += "; drawn tighter than the tow vehicle turns: look at the place itself"
			}
			return fmt.Sprintf("%s: takes %.1f m on a radius of %.1f m, cuts in by %.1f m, tail out by %.2f m; %s",
				t.where(c), float64(c.Swept), float64(c.Driven), float64(c.OffTracking), float64(c.TailSwing), road)
		})
}

// places lists places of a kind, and how many more there are.
func (t *text) places(what string, n, most int, of func(i int) string) {
	if n == 0 {
		return
	}
	t.line("  %s%d %s:", marked(t.plan.Invented), n, what)
	for i := range min(n, most) {
		t.line("    %s%s", marked(t.plan.Invented), of(i))
	}
	if n > most {
		t.line("    and %d more; --json has all", n-most)
	}
}
