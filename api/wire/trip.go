package wire

import (
	"math"
	"slices"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// Trip is a planned trip. Lengths are metres, masses kilograms, times seconds,
// fuel litres; a null is not known.
type Trip struct {
	Mark       string       `json:"mark,omitempty" doc:"INVENTED where the trip rests on invented data"`
	Name       string       `json:"name,omitempty"`
	Notice     string       `json:"notice" doc:"The first thing to read"`
	Verdict    Verdict      `json:"verdict"`
	Rig        Rig          `json:"rig"`
	Departure  time.Time    `json:"departure"`
	Arrival    *time.Time   `json:"arrival" doc:"At the last stop, by the timetable; null where it is not known"`
	Late       *time.Time   `json:"arrival_slow" doc:"The same of a slow trip"`
	GivenRoute bool         `json:"given_route"`
	LengthM    float64      `json:"length_m"`
	TruckRoadM *float64     `json:"truck_roads_m"`
	DrivingS   *float64     `json:"driving_s"`
	SlowS      *float64     `json:"driving_slow_s"`
	DrivingWhy string       `json:"driving_unknown,omitempty"`
	Fuel       Fuel         `json:"fuel"`
	Road       *Drive       `json:"road" doc:"What the way does to the rig: corners, curves, climbs, fuel over speed"`
	Legs       []Leg        `json:"legs"`
	StopOrder  *StopOrder   `json:"stop_order"`
	Timetable  *Timetable   `json:"timetable"`
	Permits    []PermitNeed `json:"permits" doc:"What to ask for, in the order of the way"`
	Tasks      Tasks        `json:"tasks" doc:"What is to be done about what is not clear"`
	Findings   []Finding    `json:"findings" doc:"Of the trip as a whole; each leg has its own"`
	Avoided    []Avoided    `json:"avoided"`
	Network    Network      `json:"network"`
	Edition
	Assumptions  []string      `json:"assumptions"`
	Cautions     []string      `json:"cautions"`
	Attributions []Attribution `json:"attributions"`
}

// Fuel is an amount in litres that is not known exactly.
type Fuel struct {
	LikelyL  *float64 `json:"likely_l" doc:"With every figure that it rests on at its likely value"`
	LowL     *float64 `json:"low_l" doc:"Of the ends that the covered share of such ways lies between"`
	HighL    *float64 `json:"high_l" doc:"Of the same ends"`
	Coverage float64  `json:"coverage" doc:"The share of such ways that lies between both ends"`
	MostL    *float64 `json:"most_l" doc:"With every figure at its dear end at once, for filling the tank"`
	Unknown  string   `json:"unknown,omitempty" doc:"Why it is not known"`
}

// Leg is a stretch inside one jurisdiction.
type Leg struct {
	Mark          string      `json:"mark,omitempty"`
	From          string      `json:"from"`
	To            string      `json:"to"`
	Jurisdictions []string    `json:"jurisdictions" doc:"None: not known. Several: both sides of a border are checked"`
	Towns         []string    `json:"towns" doc:"Municipalities, where the network names them"`
	Roads         []string    `json:"roads"`
	Climb         *Climb      `json:"climb,omitempty" doc:"Left out where the network has no terrain"`
	Unmatched     bool        `json:"unmatched,omitempty" doc:"A part of the given route that matches no road"`
	LengthM       float64     `json:"length_m"`
	Start         *time.Time  `json:"start"`
	StartSlow     *time.Time  `json:"start_slow" doc:"When the leg starts on a slow trip"`
	End           *time.Time  `json:"end"`
	EndSlow       *time.Time  `json:"end_slow" doc:"When the leg ends on a slow trip"`
	DrivingS      *float64    `json:"driving_s"`
	SlowS         *float64    `json:"driving_slow_s"`
	DrivingWhy    string      `json:"driving_unknown,omitempty"`
	Signals       *int        `json:"signals"`
	StopSigns     *int        `json:"stop_signs" doc:"null where the network does not know of them"`
	Fuel          Fuel        `json:"fuel"`
	Verdict       Verdict     `json:"verdict"`
	Findings      []Finding   `json:"findings"`
	Structures    []Structure `json:"structures"`
}

// Climb is how a leg climbs.
type Climb struct {
	AscentM         float64 `json:"ascent_m"`
	DescentM        float64 `json:"descent_m"`
	SteepestPercent float64 `json:"steepest_percent" doc:"In the direction of travel; below zero is downhill"`
	UnknownM        float64 `json:"unknown_m" doc:"How much of the leg has no terrain"`
}

// NewTrip puts a plan into its wire form.
func NewTrip(in *phrase.Language, p *trip.Plan) *Trip {
	tell := teller{in}
	t := &Trip{
		Name: p.Name, Notice: tell.Sentences(p.Notice()), Verdict: tell.newVerdict(p.Verdict),
		Rig: newRig(p.Rig), Departure: second(p.Departure), Road: tell.newRoad(p.Road), GivenRoute: p.Given,
		LengthM: round(float64(p.Length)), Fuel: tell.newFuel(p.Fuel), Findings: tell.newFindings(p.Findings),
		Tasks:   tell.newTasks(p.Tasks()),
		Edition: NewEdition(p.Tables), Assumptions: tell.Each(p.Assumptions),
		Cautions: tell.Each(p.Cautions), Attributions: Credits(tell.Language, p.About, false),
		Mark: mark(p.RestsOnInvented()), Network: tell.newNetwork(p.About), Legs: each(p.Legs, tell.newLeg),
		Permits: each(p.Permits, tell.newPermitNeed), Avoided: each(p.Avoided, tell.newAvoided),
	}
	t.Timetable, t.StopOrder = tell.newTimetable(p, t.Mark), tell.newStopOrder(p.Order, t.Mark)
	t.DrivingS, t.DrivingWhy = tell.newDuration(p.Time)
	t.SlowS = newSlow(p.Time)
	if length, ok := p.TruckRoads.Value(); ok {
		metres := round(float64(length))
		t.TruckRoadM = &metres
	}
	if likely, slow, known := p.Arrival(); known {
		t.Arrival, t.Late = instant(likely), instant(slow)
	}
	if !slices.Contains(p.About.Lacks, network.Controls) {
		for i := range t.Legs {
			t.Legs[i].Signals, t.Legs[i].StopSigns = &p.Legs[i].Signals, &p.Legs[i].Stops
		}
	}
	return t
}

// round keeps tenths: nothing along a road is known finer.
func round(v float64) float64 { return math.Round(v*10) / 10 }

func (tell teller) newFuel(f driving.Fuel) Fuel {
	if !f.Unknown.None() {
		return noFuel(tell.Say(f.Unknown))
	}
	return burnt(f.Burn)
}

func noFuel(why string) Fuel { return Fuel{Coverage: drive.Coverage, Unknown: why} }

func burnt(b drive.Burn) Fuel {
	all := b.Band()
	return Fuel{litres(all.Likely), litres(all.Low), litres(all.High), drive.Coverage, litres(b.Most()), ""}
}

func litres(v measure.Volume) *float64 {
	l := round(float64(v / measure.Litre))
	return &l
}

func (tell teller) newDuration(d driving.Duration) (*float64, string) {
	if !d.Unknown.None() {
		return nil, tell.Say(d.Unknown)
	}
	v := lasts(d.Duration)
	return &v, ""
}

// newSlow is the time of a slow drive.
func newSlow(d driving.Duration) *float64 {
	if !d.Unknown.None() {
		return nil
	}
	v := lasts(d.Slow)
	return &v
}

func (tell teller) newLeg(l trip.Leg) Leg {
	out := Leg{
		From: tell.Say(l.From), To: tell.Say(l.To),
		Jurisdictions: append([]string{}, l.Jurisdictions...), Roads: append([]string{}, tell.Each(l.Roads)...),
		Unmatched: l.Unmatched, LengthM: round(float64(l.Length)), Fuel: tell.newFuel(l.Fuel),
		Verdict: tell.newVerdict(l.Verdict()), Findings: tell.newFindings(l.Findings),
		Structures: each(l.Structures, tell.newStructure), Mark: mark(l.RestsOnInvented()),
	}
	out.Start, out.StartSlow = instant(l.Start), instant(l.StartSlow)
	out.End, out.EndSlow = instant(l.End), instant(l.EndSlow)
	out.Towns = slices.DeleteFunc(append([]string{}, l.Towns...), func(s string) bool { return s == "" })
	if c := l.Climb; c != nil {
		out.Climb = &Climb{round(c.Ascent), round(c.Descent), round(100 * c.Steepest), round(float64(c.Unknown))}
	}
	out.DrivingS, out.DrivingWhy = tell.newDuration(l.Time)
	out.SlowS = newSlow(l.Time)
	return out
}
