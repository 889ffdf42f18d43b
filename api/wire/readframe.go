package wire

import (
	"cmp"
	"fmt"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/drive"
)

func ratings(q RatingsRequest) rig.Ratings {
	return rig.Ratings{Gross: q.GrossRating.Is, Vertical: q.VerticalRating.Is, Towed: q.TowedRating.Is}
}

// frame reads the description of a unit that is said to have so many axles, 0 for not
// known.
func (r *reader) frame(q FrameRequest, axles int) rig.Frame {
	f := rig.Frame{
		Ratings: ratings(q.RatingsRequest), Suspension: rig.Suspension(q.Suspension), Nose: drive.Nose(q.Nose),
		Deck: q.DeckHeight.Is, CouplingHeight: q.CouplingHeight.Is, Brakes: rig.Brakes(q.Brakes),
		Clearance:     q.Clearance.Is,
		TailClearance: q.TailClearance.Is,
		RoofBox:       q.RoofBoxArea.Is,
		DragArea:      q.DragArea.Is,
		Ticket:        r.ticket(q.Ticket, cmp.Or(len(q.RunningGear), axles)),
	}
	for i, a := range q.RunningGear {
		field := fmt.Sprintf("unit.running_gear[%d]", i)
		axle := wheels(a.WheelsRequest)
		axle.BrakeRating, axle.Unbraked = a.BrakeRating.Is, a.Unbraked
		if at := a.BehindCoupling.Is; at != nil {
			axle.At = *at
		} else {
			r.fail(field+".behind_coupling", nil, say.That("error.missing"), say.That("fix.say_how_far_behind_the"))
		}
		f.Axles = r.behind(field+".behind_coupling", f.Axles, axle)
	}
	for i, b := range q.Outline {
		f.Outline = append(f.Outline, r.box(fmt.Sprintf("unit.outline[%d]", i), b))
	}
	for i, p := range q.Parts {
		f.Parts = append(f.Parts, r.part(fmt.Sprintf("unit.parts[%d]", i), p, f.Outline))
	}
	f.Parts = append(f.Parts, r.surfaces(q.Surfaces, f.Outline)...)
	for i, m := range q.Movables {
		f.Movables = append(f.Movables, r.movable(fmt.Sprintf("unit.movables[%d]", i), m))
	}
	for i, a := range q.Anchors {
		f.Anchors = append(f.Anchors, r.anchor(fmt.Sprintf("unit.anchors[%d]", i), a))
	}
	return f
}

func wheels(q WheelsRequest) rig.Axle {
	return rig.Axle{
		Tires: q.Tires, Rating: q.Rating.Is, Each: q.TireRating.Is, Track: q.Track.Is, Over: q.OverTires.Is,
		Width: q.TireWidth.Or(0),
		On: rig.Tires{
			For: rig.Service(q.For), Pressure: q.Pressure.Is, RatedAt: q.RatedAt.Is, SpeedSymbol: rig.Symbol(q.Symbol),
		},
	}
}

// trailer reads the trailer of a load by itself.
func trailer(q *TrailerRequest) rig.Own {
	if q == nil {
		return rig.Own{}
	}
	return rig.Own{
		Length: q.Length.Is, Width: q.Width.Is, Mass: q.Mass.Is,
	}
}

// behind adds an axle that must stand behind those before it.
func (r *reader) behind(field string, axles []rig.Axle, a rig.Axle) []rig.Axle {
	if n := len(axles); n > 0 && a.At <= axles[n-1].At {
		r.fail(field, a.At.String(), say.That("error.not_behind_the_axle"), say.That("fix.list_the_axles_from_the"))
	}
	return append(axles, a)
}

// must reads an offset that has to be there.
func (r *reader) must(field string, o Offset) measure.Length {
	if o.Is == nil {
		r.fail(field, nil, say.That("error.missing"), say.That("fix.give_it_with_a_unit"))
		return 0
	}
	return *o.Is
}

func placed(q PlaceRequest) rig.Coordinates {
	return rig.Coordinates{Along: q.Along.Is, Across: q.Across.Is, Up: q.Up.Is}
}

// box reads a box of the outline, which must have every side.
func (r *reader) box(field string, q BoxRequest) rig.Box {
	before := len(r.errs)
	b := rig.Box{
		Name: q.Name, From: r.must(field+".from", q.From), To: r.must(field+".to", q.To),
		Left: r.must(field+".left", q.Left), Right: r.must(field+".right", q.Right),
		Bottom: r.must(field+".bottom", q.Bottom), Top: r.must(field+".top", q.Top),
	}
	if len(r.errs) > before {
		return b
	}
	switch {
	case b.To <= b.From:
		r.fail(
			field+".to",
			b.To.String(),
			say.That("error.not_behind_from", "from", b.From.String()),
			say.That("fix.check_both_figures"),
		)
	case b.Left+b.Right <= 0:
		r.fail(field+".right", b.Right.String(), say.That("error.lies_left_of_left"), say.That("fix.both_count_from_the"))
	case b.Top <= b.Bottom:
		r.fail(
			field+".top",
			b.Top.String(),
			say.That("error.not_above_bottom", "bottom", b.Bottom.String()),
			say.That("fix.check_both_figures"),
		)
	case b.Bottom < 0:
		r.fail(
			field+".bottom",
			b.Bottom.String(),
			say.That("error.lies_in_the_ground"),
			say.That("fix.count_from_the_ground"),
		)
	}
	return b
}

func (r *reader) position(field string, q *PositionRequest) *rig.Position {
	if q == nil {
		return nil
	}
	p := rig.Position{Place: placed(q.PlaceRequest)}
	if q.Box != nil {
		b := r.box(field+".box", *q.Box)
		p.Box = &b
	}
	return &p
}

func (r *reader) movable(field string, q MovableRequest) rig.Movable {
	m := rig.Movable{
		Name: q.Name, Does: rig.Motion(q.Does), Check: q.Check, Travel: r.position(field+".travel", q.Travel),
		Stand: r.position(field+".stand", q.Stand),
	}
	if m.Travel == nil && m.Stand == nil {
		r.fail(field, q.Name, say.That("error.nowhere"), say.That("fix.give_travel_stand_or"))
	}
	if !q.MassRequest.empty() {
		m.Mass, m.Row = r.massOf(field, q.MassRequest)
	}
	return m
}

func (r *reader) anchor(field string, q AnchorRequest) anchors.Anchor {
	a := anchors.Anchor{
		Name: q.Name, Kind: anchors.Kind(q.Kind), Count: max(q.Count, 1),
		Along:  measure.Distance(r.must(field+".along", q.Along).Metres()),
		Across: measure.Distance(r.must(field+".across", q.Across).Metres()), Uplift: q.Uplift.Is,
		Shear: q.Shear.Is,
	}
	return a
}

// ticket reads a scale's ticket for a unit of so many described axles.
func (r *reader) ticket(q *TicketRequest, axles int) *rig.Ticket {
	if q == nil {
		return nil
	}
	const field = "unit.scale_ticket"
	t := rig.Ticket{Label: q.Label, Left: q.Left.Is, Right: q.Right.Is}
	t.On = r.date(field+".weighed_on", q.WeighedOn)
	if r.future(t.On) {
		r.fail(field+".weighed_on", q.WeighedOn, say.That("error.lies_in_the_future"), say.That("fix.give_the_day_of"))
	}
	if m := q.Coupling.Is; m != nil {
		t.Coupling = *m
	} else {
		r.fail(field+".coupling", nil, say.That("error.missing"), say.That("fix.weigh_what_rests_on"))
	}
	r.ticketAxles(field, q, &t, axles)
	return &t
}

// ticketAxles reads what the axles carried on a scale.
func (r *reader) ticketAxles(field string, q *TicketRequest, t *rig.Ticket, axles int) {
	for _, m := range q.Axles {
		t.Axles = append(t.Axles, m.Or(0))
	}
	switch n := len(q.Axles); {
	case n == 0:
		r.fail(field+".axles", nil, say.That("error.missing"), say.That("fix.give_what_each_axle"))
	case n > 1 && axles == 0:
		r.fail(field+".axles", n, say.That("error.cannot_be_all_of"),
			say.That("fix.describe_running_gear_or"))
	case n > 1 && n != axles:
		r.fail(field+".axles", n, say.That("error.other_axles", "axles", axles),
			say.That("fix.give_each_of_them"))
	}
}

func (r *reader) truck(q TruckRequest) rig.Truck {
	t := rig.Truck{
		Ratings: ratings(q.RatingsRequest), CouplingAt: q.CouplingAt.Is,
		CouplingHeight: q.CouplingHeight.Is, CabToCoupling: q.CabToCoupling.Is, TurningRadius: q.TurningRadius.Is,
		Bed:   q.BedHeight.Is,
		Power: q.Power.Is,
		Tank:  q.Tank.Is,
	}
	t.Ratings.Combined = q.CombinedRating.Is
	if d := q.Distribution; d != nil {
		t.Distribution = &rig.Distribution{Vertical: d.VerticalRating.Is, Towed: d.TowedRating.Is, Returns: d.Returned}
	}
	for i, l := range q.FuelLogs {
		t.Logs = append(t.Logs, r.fuelLog(fmt.Sprintf("tow.fuel_logs[%d]", i), l))
	}
	for i, a := range q.RunningGear {
		field := fmt.Sprintf("tow.running_gear[%d]", i)
		axle := wheels(a.WheelsRequest)
		axle.Steering, axle.Empty = a.Steering, a.Empty.Is
		at := a.BehindFirst.Is
		switch {
		case at != nil:
			axle.At = *at
		case i > 0:
			r.fail(field+".behind_first", nil, say.That("error.missing"), say.That("fix.say_how_far_behind"))
		}
		if i == 0 && axle.At != 0 {
			r.fail(field+".behind_first", axle.At.String(), say.That("error.not_0"), say.That("fix.places_count_from_the"))
		}
		t.Axles = r.behind(field+".behind_first", t.Axles, axle)
	}
	return t
}

// fuelLog reads a log of fuel, which must have fuel, distance and speed.
func (r *reader) fuelLog(field string, q FuelLogRequest) drive.Log {
	missing := func(name string, is bool) {
		if is {
			r.fail(field+"."+name, nil, say.That("error.missing"), say.That("fix.give_fuel_distance_speed"))
		}
	}
	missing("fuel", q.Fuel.Is == nil)
	missing("distance", q.Distance.Is == nil)
	missing("speed", q.Speed.Is == nil)
	out := drive.Log{
		Fuel: q.Fuel.Or(0), Distance: q.Distance.Or(0), Speed: q.Speed.Or(0), Mass: q.Mass.Is, Wind: q.Wind.Is,
	}
	if q.TemperatureC != nil {
		kelvins := *q.TemperatureC + 273.15
		out.Kelvins = &kelvins
	}
	return out
}
