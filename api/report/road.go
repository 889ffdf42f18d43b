package report

import (
	"math"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// holding writes what is asked of the anchors.
func (t *text) holding(h rig.Holding) {
	t.tell(1, say.That("report.comparison", "caution", anchors.Caution()))
	asked, ok := h.Asked.Value()
	if !ok {
		t.unknown(h.Asked.Why())
		return
	}
	t.tell(1, say.That("report.they_hold", "mass", h.House.Says()))
	for _, left := range asked.LeftOut {
		t.unknown(left)
	}
	for _, c := range asked.Cannot {
		t.tell(1, say.That("report.cannot_be_carried", "case", c))
	}
	var rows []entry
	for _, d := range asked.Demands {
		e := entry{cells: []string{
			t.in.Say(
				say.That("report.anchors", "name", d.Name, "count", d.Count, "kind", d.Kind),
			), t.in.Quantity(d.PullUp), t.in.Term(d.PullUpCase), t.in.Quantity(d.PushAside),
			t.in.Term(d.PushAsideCase), t.in.Term(d.Status()),
		}}
		if uses, ok := d.Uses(); ok {
			e.cells[5] = t.in.Say(say.That("report.of_rating", "percent", 100*uses))
		}
		rows = append(rows, e)
	}
	when := say.That("report.most_when")
	t.table(t.heads(say.That("report.each"), say.That("report.pulled_up"), when, say.That("report.pushed_aside"), when,
		say.That("report.compared_head")), rows)
}

func (t *text) drag(r rig.Report) {
	if drag, ok := r.Drag.Value(); ok {
		t.tell(1, say.That("report.drag_area", "likely", drag.Area.Likely, "low", drag.Area.Low, "high", drag.Area.High,
			"source", drag.Source))
	} else {
		t.unknown(r.Drag.Why())
	}
	t.rates(r.Burning)
	grades, ok := r.Grades.Value()
	if !ok {
		t.unknown(say.That("report.no_grades", "why", r.Grades.Why()))
		return
	}
	var held []say.Remark
	for _, h := range grades {
		if h.Climbs {
			held = append(held, say.That("report.grade_held", "percent", 100*h.Grade, "speed", h.Speed))
		} else {
			held = append(held, say.That("report.grade_not_held", "percent", 100*h.Grade))
		}
	}
	t.tell(1, say.That("report.grades", "most", 110*measure.KilometrePerHour, "held", held))
}

// rates writes what the rig burns by grade and speed, and what logs of the user changed.
func (t *text) rates(known measure.Known[rig.Burning]) {
	b, ok := known.Value()
	if !ok {
		t.unknown(known.Why())
		return
	}
	if b.Logs > 0 {
		t.tell(1, say.That("report.learnt", "logs", b.Logs, "drag", b.Now.Drag.Likely, "drag_was", b.Without.Drag.Likely,
			"rolling", b.Now.Rolling.Likely, "rolling_was", b.Without.Rolling.Likely,
			"engine", 100*b.Now.Engine.Likely, "engine_was", 100*b.Without.Engine.Likely))
	}
	var rows []entry
	for _, r := range b.Rates {
		burns := t.in.Say(say.That("report.perhaps_not_held"))
		if r.Held {
			burns = t.in.Say(say.That("report.likely_from_to", "likely", r.Burns.Likely, "low", r.Burns.Low,
				"high", r.Burns.High))
		}
		rows = append(rows, entry{cells: []string{
			t.in.Say(say.That("report.of_grade", "percent", 100*r.Grade)), t.in.Quantity(r.Speed), burns,
		}})
	}
	t.table(t.heads(say.That("report.grade_head"), say.That("report.speed_head"), say.That("report.fuel_head")), rows)
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
		t.unknown(say.That("report.no_drive", "why", r.Unknown))
	} else {
		t.pulled(r, most)
	}
	t.corners(r.Corners, most)
	if !r.NoCurves.None() {
		t.unknown(say.That("report.no_curves", "why", r.NoCurves))
	}
	slower := r.Slower()
	t.places(say.That("report.curves", "count", len(slower)), len(slower), most, func(i int) say.Remark {
		c := slower[i]
		return say.That("report.curve", "at", c.Spot.Place(), "speed", c.Speed, "radius", c.Radius)
	})
	if c := r.Coarse; c.Bends > 0 {
		t.unknown(say.That("road.drawn_coarsely", "bends", c.Bends, "length", c.Length, "degrees", math.Abs(c.Turn)))
	}
	t.places(say.That("report.climbs", "count", len(r.Climbs)), len(r.Climbs), most, func(i int) say.Remark {
		c := r.Climbs[i]
		if c.Stuck {
			return say.That("report.climb_stuck", "at", c.Spot.Place(), "length", c.Length, "percent", 100*c.Grade)
		}
		return say.That("report.climb", "at", c.Spot.Place(), "length", c.Length, "percent", 100*c.Grade, "speed", c.Speed)
	})
	t.places(say.That("report.descents", "count", len(r.Descents)), len(r.Descents), most,
		func(i int) say.Remark { return descent(r.Descents[i]) })
	t.places(say.That("report.grounds", "count", len(r.Grounds)), len(r.Grounds), most, func(i int) say.Remark {
		g := r.Grounds[i]
		return say.That("report.ground", "at", g.Spot.Place(), "kind", g.Kind, "of", g.Of)
	})
	if r.FlatRoad > 0 {
		t.unknown(say.That("report.taken_as_level", "length", r.FlatRoad))
	}
}

// descent is a descent; 0 stands for what it has not.
func descent(d driving.Slope) say.Remark {
	return say.That("report.descent", "at", d.Spot.Place(), "length", d.Length, "percent", 100*d.Grade,
		"drop", measure.Rise(d.Drop), "steepest", 100*d.Steepest, "heat", d.Heat/1e6)
}

func (t *text) pulled(r *driving.Drive, most int) {
	fuel := r.Fuel().Band()
	if !r.Gap.None() {
		t.unknown(say.That("report.no_fuel", "why", r.Gap))
		return
	}
	t.tell(1, say.That("report.fuel", "likely", fuel.Likely, "low", fuel.Low, "high", fuel.High, "carbon",
		measure.OfKilograms(r.Carbon.Likely), "worst", r.Fuel().Most(), "percent", 100*drive.Coverage, "air", r.Air))
	switch {
	case !r.Tank.Unknown.None():
		t.unknown(say.That("report.no_range", "why", r.Tank.Unknown))
	case len(r.Tank.Stops) == 0 && r.FlatRoad > 0:
		t.tell(1, say.That("report.tank_enough_if_level", "usable", r.Tank.Usable, "level", r.FlatRoad))
	case len(r.Tank.Stops) == 0:
		t.tell(1, say.That("report.tank_enough", "usable", r.Tank.Usable, "range", r.Tank.Range))
	default:
		t.tell(1, say.That("report.tank", "usable", r.Tank.Usable, "range", r.Tank.Range))
	}
	t.places(say.That("report.fill_up", "count", len(r.Tank.Stops)), len(r.Tank.Stops), most,
		func(i int) say.Remark { return r.Tank.Stops[i].Place() })
	var rows []entry
	for _, s := range r.Speeds {
		all := s.Fuel.Band()
		rows = append(rows, entry{
			cells: []string{t.in.Quantity(s.Top), t.duration(driving.Duration{Duration: s.Time}),
				t.in.Say(say.That("report.likely_from_to", "likely", all.Likely, "low", all.Low, "high", all.High))}})
	}
	t.table(t.heads(say.That("report.no_faster"), say.That("report.driving"), say.That("report.fuel_head")), rows)
	for _, n := range r.Noses {
		t.tell(1, say.That("report.nose", "nose", n.Nose, "likely", n.Saves.Likely, "low", n.Saves.Low, "high", n.Saves.High))
	}
}

func (t *text) corners(corners []driving.Corner, most int) {
	t.places(say.That("report.corners", "count", len(corners)), len(corners), most, func(i int) say.Remark {
		c := corners[i]
		if !c.Unknown.None() {
			return say.That("report.corner_unknown", "at", c.Place(), "why", c.Unknown)
		}
		road := say.That("report.road_width_unknown")
		if c.RoadWidth > 0 {
			road = say.That("report.road_width", "width", c.RoadWidth)
		}
		return say.That("report.corner", "at", c.Place(), "takes", c.Takes(), "radius", c.Driven, "road", road,
			"tighter", c.Tighter)
	})
}

// places lists places of a kind under what they are, and how many more there are.
func (t *text) places(what say.Remark, n, most int, of func(i int) say.Remark) {
	if n == 0 {
		return
	}
	t.tell(1, what)
	for i := range min(n, most) {
		t.tell(2, of(i))
	}
	if n > most {
		t.tell(2, say.That("report.more_in_json", "count", n-most))
	}
}
