package wire

import (
	"cmp"
	"fmt"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/rig/hold"
)

func (r *reader) ratings(of string, q RatingsRequest) rig.Ratings {
	return rig.Ratings{
		Gross:    r.mass(of+".gross_rating", q.GrossRatingKG, q.GrossRating),
		Vertical: r.mass(of+".coupling_vertical_rating", q.VerticalRatingKG, q.VerticalRating),
		Towed:    r.mass(of+".coupling_towed_rating", q.TowedRatingKG, q.TowedRating),
	}
}

// frame reads the description of a unit that is said to have so many axles, 0 for not
// known.
func (r *reader) frame(q FrameRequest, axles int) rig.Frame {
	var suspensions, noses []string
	for _, s := range rig.Suspensions() {
		suspensions = append(suspensions, string(s))
	}
	for _, n := range drive.Noses() {
		noses = append(noses, string(n))
	}
	r.oneOf("unit.suspension", q.Suspension, suspensions...)
	r.oneOf("unit.nose", q.Nose, noses...)
	f := rig.Frame{
		Ratings: r.ratings("unit", q.RatingsRequest), Suspension: rig.Suspension(q.Suspension), Nose: drive.Nose(q.Nose),
		Deck:          r.length("unit.deck_height", q.DeckHeightM, q.DeckHeight),
		Clearance:     r.length("unit.ground_clearance", q.ClearanceM, q.Clearance),
		TailClearance: r.length("unit.tail_clearance", q.TailClearanceM, q.TailClearance),
		RoofBox: noted(r, func() (*measure.Area, error) {
			return measure.AreaField("unit.roof_box_area", q.RoofBoxAreaM2, q.RoofBoxArea)
		}),
		Ticket: r.ticket(q.Ticket, cmp.Or(len(q.RunningGear), axles)),
	}
	for i, a := range q.RunningGear {
		field := fmt.Sprintf("unit.running_gear[%d]", i)
		axle := r.wheels(field, a.WheelsRequest)
		if at := r.length(field+".behind_coupling", a.BehindCouplingM, a.BehindCoupling); at != nil {
			axle.At = *at
		} else {
			r.fail(field+".behind_coupling", nil, "is missing", "say how far behind the coupling point the axle stands")
		}
		f.Axles = r.behind(field+".behind_coupling", f.Axles, axle)
	}
	for i, b := range q.Outline {
		f.Outline = append(f.Outline, r.box(fmt.Sprintf("unit.outline[%d]", i), b))
	}
	for i, p := range q.Parts {
		f.Parts = append(f.Parts, r.part(fmt.Sprintf("unit.parts[%d]", i), p))
	}
	for i, m := range q.Movables {
		f.Movables = append(f.Movables, r.movable(fmt.Sprintf("unit.movables[%d]", i), m))
	}
	for i, a := range q.Anchors {
		f.Anchors = append(f.Anchors, r.anchor(fmt.Sprintf("unit.anchors[%d]", i), a))
	}
	return f
}

// noted reads one value and notes what is wrong with it.
func noted[T any](r *reader, read func() (T, error)) T {
	v, err := read()
	r.note(err)
	return v
}

func (r *reader) wheels(field string, q WheelsRequest) rig.Axle {
	if q.Tires < 0 || q.Tires > 16 {
		r.fail(field+".tires", q.Tires, "is no number of tires on an axle", "give a number from 1 to 16, or leave it out")
	}
	a := rig.Axle{
		Tires: q.Tires, Rating: r.mass(field+".rating", q.RatingKG, q.Rating), Each: r.mass(field+".tire_rating", q.TireRatingKG, q.TireRating),
		Track: r.length(field+".track", q.TrackM, q.Track), Over: r.length(field+".over_tires", q.OverTiresM, q.OverTires),
	}
	if width := r.length(field+".tire_width", q.TireWidthM, q.TireWidth); width != nil {
		a.Width = *width
	}
	return a
}

// trailer reads the trailer of a load by itself.
func (r *reader) trailer(q *TrailerRequest) rig.Own {
	if q == nil {
		return rig.Own{}
	}
	return rig.Own{
		Length: r.length("unit.trailer.length", q.LengthM, q.Length), Width: r.length("unit.trailer.width", q.WidthM, q.Width), Mass: r.mass("unit.trailer.mass", q.MassKG, q.Mass),
	}
}

// behind adds an axle that must stand behind those before it.
func (r *reader) behind(field string, axles []rig.Axle, a rig.Axle) []rig.Axle {
	if n := len(axles); n > 0 && a.At <= axles[n-1].At {
		r.fail(field, a.At.String(), "is not behind the axle before it", "list the axles from the front")
	}
	return append(axles, a)
}

func (r *reader) offset(field string, metres *float64, text *string) *measure.Length {
	return noted(r, func() (*measure.Length, error) { return measure.OffsetField(field, metres, text) })
}

// must reads an offset that has to be there.
func (r *reader) must(field string, metres *float64, text *string) measure.Length {
	if metres == nil && text == nil {
		r.fail(field, nil, "is missing", "give it with a unit, such as 2.4 m")
		return 0
	}
	if l := r.offset(field, metres, text); l != nil {
		return *l
	}
	return 0
}

func (r *reader) place(field string, q PlaceRequest) rig.Place {
	return rig.Place{
		Along: r.offset(field+".along", q.AlongM, q.Along), Across: r.offset(field+".across", q.AcrossM, q.Across), Up: r.offset(field+".up", q.UpM, q.Up),
	}
}

// box reads a box of the outline, which must have every side.
func (r *reader) box(field string, q BoxRequest) rig.Box {
	before := len(r.errs)
	b := rig.Box{
		Name: q.Name, From: r.must(field+".from", q.FromM, q.From), To: r.must(field+".to", q.ToM, q.To),
		Left: r.must(field+".left", q.LeftM, q.Left), Right: r.must(field+".right", q.RightM, q.Right),
		Bottom: r.must(field+".bottom", q.BottomM, q.Bottom), Top: r.must(field+".top", q.TopM, q.Top),
	}
	if len(r.errs) > before {
		return b
	}
	switch {
	case b.To <= b.From:
		r.fail(field+".to", b.To.String(), "is not behind from, "+b.From.String(), "check both figures")
	case b.Left+b.Right <= 0:
		r.fail(field+".right", b.Right.String(), "lies left of left", "both count from the middle line; one may be negative")
	case b.Top <= b.Bottom:
		r.fail(field+".top", b.Top.String(), "is not above bottom, "+b.Bottom.String(), "check both figures")
	case b.Bottom < 0:
		r.fail(field+".bottom", b.Bottom.String(), "lies in the ground", "count from the ground")
	}
	return b
}

func (r *reader) position(field string, q *PositionRequest) *rig.Position {
	if q == nil {
		return nil
	}
	p := rig.Position{Place: r.place(field, q.PlaceRequest)}
	if q.Box != nil {
		b := r.box(field+".box", *q.Box)
		p.Box = &b
	}
	return &p
}

func (r *reader) movable(field string, q MovableRequest) rig.Movable {
	if q.Does == "" {
		r.fail(field+".does", nil, "is missing", fmt.Sprintf("use one of %v", rig.MovableWords()))
	}
	r.oneOf(field+".does", q.Does, rig.MovableWords()...)
	m := rig.Movable{Name: q.Name, Does: q.Does, Check: q.Check, Travel: r.position(field+".travel", q.Travel), Stand: r.position(field+".stand", q.Stand)}
	switch {
	case q.Name == "":
		r.fail(field+".name", nil, "is missing", "name it, such as chimney")
	case m.Travel == nil && m.Stand == nil:
		r.fail(field, q.Name, "is nowhere", "give travel, stand or both")
	}
	if !q.MassRequest.empty() {
		m.Mass, m.Row = r.massOf(field, q.MassRequest)
	}
	return m
}

func (r *reader) anchor(field string, q AnchorRequest) hold.Anchor {
	var kinds []string
	for _, k := range hold.Kinds() {
		kinds = append(kinds, string(k))
	}
	r.oneOf(field+".kind", q.Kind, kinds...)
	if q.Name == "" {
		r.fail(field+".name", nil, "is missing", "name it, such as front left")
	}
	a := hold.Anchor{
		Name: q.Name, Kind: hold.Kind(q.Kind), Count: max(q.Count, 1),
		Along: measure.Distance(r.must(field+".along", q.AlongM, q.Along).Metres()), Across: measure.Distance(r.must(field+".across", q.AcrossM, q.Across).Metres()),
		Uplift: noted(r, func() (*measure.Force, error) {
			return measure.ForceField(field+".uplift_rating", q.UpliftKN, q.Uplift)
		}),
		Shear: noted(r, func() (*measure.Force, error) { return measure.ForceField(field+".shear_rating", q.ShearKN, q.Shear) }),
	}
	if q.Count < 0 || q.Count > 100 {
		r.fail(field+".count", q.Count, "is no number of anchors at one place", "give a number from 1 to 100")
	}
	return a
}

// ticket reads a scale's ticket for a unit of so many described axles.
func (r *reader) ticket(q *TicketRequest, axles int) *rig.Ticket {
	if q == nil {
		return nil
	}
	const field = "unit.scale_ticket"
	t := rig.Ticket{Label: q.Label, Left: r.mass(field+".left", q.LeftKG, q.Left), Right: r.mass(field+".right", q.RightKG, q.Right)}
	on, err := time.Parse(time.DateOnly, q.WeighedOn)
	if err != nil {
		r.fail(field+".weighed_on", q.WeighedOn, "is no day", "write it like 2027-05-01")
	}
	t.On = on
	if !r.now.IsZero() && on.After(r.now.AddDate(0, 0, 1)) {
		r.fail(field+".weighed_on", q.WeighedOn, "lies in the future", "give the day of the ticket")
	}
	if m := r.mass(field+".coupling", q.CouplingKG, q.Coupling); m != nil {
		t.Coupling = *m
	} else if q.CouplingKG == nil && q.Coupling == nil {
		r.fail(field+".coupling", nil, "is missing", "weigh what rests on the coupling")
	}
	r.ticketAxles(field, q, &t, axles)
	return &t
}

// ticketAxles reads what the axles carried on a scale.
func (r *reader) ticketAxles(field string, q *TicketRequest, t *rig.Ticket, axles int) {
	if len(q.Axles) > 0 && len(q.AxlesKG) > 0 {
		r.fail(field+".axles", nil, "is given twice, as axles and as axles_kg", "give exactly one of them")
		return
	}
	for i := range max(len(q.Axles), len(q.AxlesKG)) {
		name := fmt.Sprintf("%s.axles[%d]", field, i)
		var m *measure.Mass
		if len(q.Axles) > 0 {
			m = r.mass(name, nil, &q.Axles[i])
		} else {
			m = r.mass(name, &q.AxlesKG[i], nil)
		}
		if m != nil {
			t.Axles = append(t.Axles, *m)
		}
	}
	switch n := max(len(q.Axles), len(q.AxlesKG)); {
	case n == 0:
		r.fail(field+".axles", nil, "is missing", "give what each axle carried, or one mass for all of them together")
	case n > 1 && axles == 0:
		r.fail(field+".axles", n, "cannot be all of them: how many axles the unit has is not given", "describe running_gear, or give axles of the unit")
	case n > 1 && n != axles:
		r.fail(field+".axles", n, fmt.Sprintf("is another number of axles than the running gear has, %d", axles), "give each of them, or one mass for all of them together")
	}
}

func (r *reader) truck(q TruckRequest) rig.Truck {
	t := rig.Truck{
		Ratings: r.ratings("tow", q.RatingsRequest), CouplingAt: r.length("tow.coupling_behind_first_axle", q.CouplingAtM, q.CouplingAt),
		CabToCoupling: r.length("tow.cab_to_coupling", q.CabToCouplingM, q.CabToCoupling), TurningRadius: r.length("tow.turning_radius", q.TurningRadiusM, q.TurningRadius),
		Power: noted(r, func() (*measure.Power, error) { return measure.PowerField("tow.power", q.PowerKW, q.Power) }),
		Tank:  noted(r, func() (*measure.Volume, error) { return measure.VolumeField("tow.tank", q.TankL, q.Tank) }),
	}
	t.Ratings.Combined = r.mass("tow.combined_rating", q.CombinedRatingKG, q.CombinedRating)
	for i, a := range q.RunningGear {
		field := fmt.Sprintf("tow.running_gear[%d]", i)
		axle := r.wheels(field, a.WheelsRequest)
		axle.Steering, axle.Empty = a.Steering, r.mass(field+".empty", a.EmptyKG, a.Empty)
		at := r.orZero(field+".behind_first", a.BehindFirstM, a.BehindFirst)
		switch {
		case at != nil:
			axle.At = *at
		case i > 0 && a.BehindFirstM == nil && a.BehindFirst == nil:
			r.fail(field+".behind_first", nil, "is missing", "say how far behind the first axle it stands")
		}
		if i == 0 && axle.At != 0 {
			r.fail(field+".behind_first", axle.At.String(), "is not 0", "places count from the first axle")
		}
		t.Axles = r.behind(field+".behind_first", t.Axles, axle)
	}
	return t
}
