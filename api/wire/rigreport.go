package wire

import (
	"slices"

	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// RigReport is the answer about a rig.
type RigReport struct {
	Mark       string         `json:"mark,omitempty" doc:"INVENTED where the rig is an example"`
	Verdict    Verdict        `json:"verdict" doc:"Of the findings of the rig, not of a way"`
	Rig        Rig            `json:"rig"`
	Basis      rig.Basis      `json:"basis" doc:"What the masses rest on: parts, the scale, or empty for nothing"`
	Unit       *MassRange     `json:"unit_mass"`
	Parts      *MassRange     `json:"parts_mass" doc:"What the parts add up to, also beside a scale's ticket"`
	Centre     Centre         `json:"centre_of_gravity"`
	Coupling   *MassRange     `json:"on_coupling"`
	Share      *ShareRange    `json:"share_on_coupling"`
	Group      *MassRange     `json:"on_unit_axles" doc:"All axles of the unit together"`
	Axles      []AxleMass     `json:"axles" doc:"From the front of the rig; empty where none is described"`
	Right      *MassRange     `json:"on_right_tires" doc:"Of the unit"`
	Whole      *MassRange     `json:"rig_mass"`
	Needs      TruckNeeds     `json:"truck_needs" doc:"Of whatever tows it, from the unit alone"`
	Missing    []string       `json:"not_known" doc:"Why masses on axles are not known"`
	PartList   []PartMass     `json:"parts" doc:"As it travels, with what moving each does"`
	States     []RigState     `json:"states"`
	Stability  Stability      `json:"stability"`
	Wind       Wind           `json:"wind"`
	Underneath UnderneathSide `json:"underneath"`
	Turning    Turning        `json:"turning"`
	Bending    Bending        `json:"bending" doc:"What room it has over and behind the tow vehicle as the rig bends on level ground, to 90 degrees"`
	Steering   *SteeringAxle  `json:"steering_axle" doc:"What the coupling leaves on the first axle of the tow vehicle; null where it is not known"`
	Bars       *HitchBars     `json:"hitch_bars" doc:"What the bars of a load-distributing hitch move; null for none"`
	Level      Level          `json:"level" doc:"How the unit stands on its coupling"`
	Stopping   Stopping       `json:"stopping" doc:"How the rig stops on a level paved road, with brakes that work"`
	Holding    *Holding       `json:"holding" doc:"Forces between house and trailer; null where no anchors are described"`
	Drag       Drag           `json:"drag"`
	Grades     []HeldGrade    `json:"speed_on_grades"`
	Burning    Burning        `json:"fuel_rates" doc:"What it burns at a steady speed on a paved road, in air and wind that nobody told of"`
	NoGrades   string         `json:"speed_on_grades_unknown,omitempty"`
	Tasks      Tasks          `json:"tasks" doc:"What is to be done about what is not clear of the rig"`
	Findings   []Finding      `json:"findings"`
	Departure  []string       `json:"before_it_leaves"`
	Corner     *CornerAnswer  `json:"corner" doc:"The corner, driveway or gate that was to be tried; null for none"`
	Trip       *Trip          `json:"trip" doc:"The way that was asked about, with its road; null for none"`
	Edition
	Cautions []string `json:"cautions"`
}

// MassRange is a mass with the ends between which it lies.
type MassRange struct {
	LowKG    float64 `json:"low_kg"`
	LikelyKG float64 `json:"likely_kg"`
	HighKG   float64 `json:"high_kg"`
	Text     string  `json:"text" doc:"In both systems"`
}

// TruckNeeds is what a unit asks of whatever tows it: each rating is to be no less than
// the high end.
type TruckNeeds struct {
	Payload *MassRange `json:"least_payload,omitempty" doc:"What rests on the coupling, and its least vertical rating; driver, passengers, tools and a coupling in the bed come on top"`
	Towed   *MassRange `json:"least_towed_rating,omitempty" doc:"Of truck and coupling; a gross combined rating is to be no less than this and what the truck itself weighs as it drives"`
	ByShare bool       `json:"by_share,omitempty" doc:"What rests on the coupling is only the share of the unit's mass that makers ask for"`
	Unknown string     `json:"unknown,omitempty"`
}

// ShareRange is a share with its ends.
type ShareRange struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// Centre is the centre of gravity; a null is not known.
type Centre struct {
	Along  *LengthRange `json:"along" doc:"Behind the coupling point"`
	Across *LengthRange `json:"across" doc:"To the right of the middle line"`
	Up     *LengthRange `json:"up" doc:"Above the ground"`
	// Missing names the parts without which each is not known.
	Missing []string `json:"missing"`
}

// LengthRange is a length with its ends.
type LengthRange struct {
	LowM    float64 `json:"low_m"`
	LikelyM float64 `json:"likely_m"`
	HighM   float64 `json:"high_m"`
}

// AxleMass is what one axle carries.
type AxleMass struct {
	Of     Vehicle    `json:"of"`
	Number int        `json:"number" doc:"From the front of its vehicle, from 1"`
	Mass   *MassRange `json:"mass"`
	Tire   *MassRange `json:"on_each_tire" doc:"Where all of them carry alike"`
	Empty  *float64   `json:"empty_kg,omitempty" doc:"Of a tow vehicle: uncoupled"`
	Rating *float64   `json:"rating_kg" doc:"The lower of axle and tires; null where one is not given"`
	Tires  *float64   `json:"tires_carry_kg" doc:"What its tires carry together at the pressure they have, at the least; null where that is not known"`
}

// PartMass is a part and what moving it does.
type PartMass struct {
	Name   string    `json:"name"`
	Mass   MassRange `json:"mass"`
	Lever  *float64  `json:"to_coupling_kg_per_m" doc:"What goes from the axles to the coupling when it moves 1 m toward the coupling"`
	Row    *Citation `json:"row,omitempty" doc:"Of the catalogue"`
	Stated bool      `json:"stated,omitempty" doc:"The mass was given, not taken from the catalogue"`
}

// RigState is the unit in one state.
type RigState struct {
	State     rig.State  `json:"state"`
	Forgotten string     `json:"forgotten,omitempty" doc:"A movable that was not made ready"`
	HeightM   *float64   `json:"height_m"`
	WidthM    *float64   `json:"width_m"`
	LengthM   *float64   `json:"length_m"`
	LowestM   *float64   `json:"lowest_m" doc:"Of the outline, above the ground"`
	Mass      *MassRange `json:"mass"`
	Coupling  *MassRange `json:"on_coupling"`
	Hits      bool       `json:"hits,omitempty" doc:"It reaches beyond the unit that travels"`
	Words     string     `json:"words,omitempty"`
}

// RigAnswer is what a rig is, and the way that was asked about.
type RigAnswer struct {
	rig.Report
	Plan     *trip.Plan     // nil: no way was asked about
	Corner   *rig.Manoeuvre // nil: none was to be tried
	Invented bool
	Tables   string // revision
}

// Tasks is what is to be done about the findings of the rig; its way has tasks of its
// own.
func (a *RigAnswer) Tasks() task.List {
	return task.Of(func(yield func(int, finding.Finding) bool) {
		for _, f := range a.Found() {
			if !yield(0, f) {
				return
			}
		}
	})
}

// Found are the findings about the rig, and about it on the way that was asked about.
func (a *RigAnswer) Found() []finding.Finding {
	out := slices.Clone(a.Findings)
	if a.Plan != nil && a.Plan.Road != nil {
		out = append(out, a.Plan.Road.Findings...)
	}
	return out
}

// NewRigReport writes an answer about a rig as it stands in JSON.
func NewRigReport(in *phrase.Language, a *RigAnswer) *RigReport {
	tell := teller{in}
	r, s := a.Report, a.Statics
	out := &RigReport{
		Mark: mark(a.Invented), Verdict: tell.newVerdict(finding.Roll(r.Findings)), Rig: newRig(r.Rig),
		Basis: s.Basis, Edition: NewEdition(a.Tables), Unit: tell.massIfAny(s.Unit), Parts: tell.massIfAny(s.Parts),
		Centre: tell.newCentre(s.Centre), Coupling: tell.massKnown(s.Coupling), Group: tell.massKnown(s.Group),
		Right: tell.massKnown(s.Right), Whole: tell.massKnown(s.Rig), Axles: tell.axleMasses(r.Rig, s),
		Needs: TruckNeeds{
			tell.massKnown(r.Needs.Resting), tell.massKnown(r.Needs.Towed), r.Needs.ByShare, tell.Say(r.Needs.Why),
		},
		Missing: append([]string{}, tell.Each(s.Unknown)...), PartList: tell.partMasses(r),
		States: tell.rigStates(r.States), Stability: newStability(r), Wind: tell.newWind(r.Winds),
		Underneath: tell.newUnderneath(
			r.Underneath,
		), Turning: tell.newTurning(r.Turning), Bending: tell.newBending(r.Bending), Holding: tell.newHolding(r.Holding),
		Drag: tell.newDrag(r.Drag), Grades: heldGrades(r.Grades), NoGrades: tell.Say(r.Grades.Why()),
		Burning: tell.newBurning(
			r.Burning,
		), Steering: tell.newSteering(r.Steering), Bars: tell.newBars(s.Bars), Corner: tell.newTried(a.Corner),
		Level: tell.newLevel(r.Level), Stopping: tell.newStopping(r.Stops),
		Tasks: tell.newTasks(a.Tasks()), Findings: tell.newFindings(r.Findings), Departure: tell.Each(r.Departure),
		Cautions: tell.Each(r.Cautions),
	}
	if s.Coupling.Known() {
		out.Share = &ShareRange{s.Share.Low, s.Share.Likely, s.Share.High}
	}
	if a.Plan != nil {
		out.Trip = NewTrip(tell.Language, a.Plan)
	}
	return out
}

// massIfAny is a mass range, nil for nothing.
func (tell teller) massIfAny(e rig.Estimate) *MassRange {
	if e.High == 0 {
		return nil
	}
	return tell.massRange(e)
}

func (tell teller) massKnown(k measure.Known[rig.Estimate]) *MassRange {
	if e, ok := k.Value(); ok {
		return tell.massRange(e)
	}
	return nil
}

func (tell teller) massRange(e rig.Estimate) *MassRange {
	return &MassRange{e.Low.Kilograms(), e.Likely.Kilograms(), e.High.Kilograms(), tell.Say(e.Says())}
}

func (tell teller) newCentre(c rig.CentreOfGravity) Centre {
	return Centre{newLengthRange(c.Along), newLengthRange(c.Across), newLengthRange(c.Up),
		append([]string{}, tell.Each(missing(c))...)}
}

func newLengthRange(c rig.Centre) *LengthRange {
	if !c.Known() {
		return nil
	}
	return &LengthRange{float64(c.Low), float64(c.Likely), float64(c.High)}
}

// missing is what a centre of gravity lacks, each once.
func missing(c rig.CentreOfGravity) []say.Remark {
	var out []say.Remark
	for _, r := range slices.Concat(c.Along.Missing, c.Across.Missing, c.Up.Missing) {
		if !slices.ContainsFunc(out, func(o say.Remark) bool { return o.String() == r.String() }) {
			out = append(out, r)
		}
	}
	return out
}

func (tell teller) axleMasses(r rig.Rig, s rig.Statics) []AxleMass {
	out := []AxleMass{}
	add := func(of Vehicle, axles []rig.Axle, masses []rig.Estimate) {
		for i, a := range axles {
			m := AxleMass{Of: of, Number: i + 1, Empty: kilograms(a.Empty), Rating: kilograms(a.Lowest())}
			if low, _, ok := a.Now(r.Tow.Form == limit.Car && of == TowVehicle); ok {
				m.Tires = kilograms(&low)
			}
			if i < len(masses) {
				m.Mass = tell.massRange(masses[i])
				if a.Tires > 0 {
					m.Tire = tell.massRange(masses[i].Over(a.Tires))
				}
			}
			out = append(out, m)
		}
	}
	add(TowVehicle, r.Tow.Truck.Axles, s.Tow)
	add(TowedUnit, r.Unit.Frame.Axles, s.Axles)
	return out
}

func (tell teller) partMasses(r rig.Report) []PartMass {
	out := []PartMass{}
	for i, p := range r.Rig.Unit.PartsIn(rig.Travelling, nil) {
		m := PartMass{Name: p.Name, Mass: *tell.massRange(p.Mass), Stated: p.Row.ID == ""}
		if len(r.Levers) > 0 { // they stand in the order of the parts
			m.Lever = kilograms(&r.Levers[i].ToCoupling)
		}
		if p.Row.ID != "" {
			row := tell.newRows([]finding.Citation{p.Row})[0]
			m.Row = &row
		}
		out = append(out, m)
	}
	return out
}

func (tell teller) rigStates(in []rig.Measures) []RigState {
	out := []RigState{}
	for _, m := range in {
		s := RigState{
			State: m.State, Forgotten: m.Forgotten, Mass: tell.massIfAny(m.Mass), Coupling: tell.massKnown(m.Coupling),
			Hits: m.Hits,
		}
		if m.Shaped {
			height, width, length, lowest := m.Extent.Top.Metres(), m.Extent.Width().Metres(), m.Extent.Length().Metres(),
				m.Extent.Bottom.Metres()
			s.HeightM, s.WidthM, s.LengthM, s.LowestM = &height, &width, &length, &lowest
		}
		if m.State == rig.Standing || m.Forgotten != "" {
			s.Words = tell.All(m.Changes(in[0]))
		}
		out = append(out, s)
	}
	return out
}
