package wire

import (
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/driving"
)

// Drive is what the way does to the rig, and the rig to its tank.
type Drive struct {
	Mark         string        `json:"mark,omitempty"`
	Findings     []Finding     `json:"findings" doc:"Of the rig, and of the rig on this way"`
	Fuel         Fuel          `json:"fuel" doc:"Idling included"`
	CarbonKG     *float64      `json:"co2_likely_kg" doc:"Of the likely amount of fuel"`
	CarbonLowKG  *float64      `json:"co2_low_kg"`
	CarbonHighKG *float64      `json:"co2_high_kg"`
	DrivingS     *float64      `json:"driving_s"`
	Air          string        `json:"air" doc:"What was taken for it"`
	Drag         Drag          `json:"drag"`
	LevelM       float64       `json:"taken_as_level_m" doc:"Of roads whose climbs are not known"`
	Tank         TankRange     `json:"tank"`
	Speeds       []SpeedFuel   `json:"over_speed"`
	Noses        []NoseSaving  `json:"nose_saves" doc:"Against a flat front, on this way"`
	Moves        []Move        `json:"moves"`
	Corners      []Corner      `json:"corners" doc:"To look at, the widest first"`
	UTurns       []UTurn       `json:"u_turns" doc:"Where the way turns back within some metres, in the order of travel"`
	Curves       []RoadCurve   `json:"curves" doc:"Bends that are no corners, the slowest first"`
	NoCurves     string        `json:"curves_unknown,omitempty"`
	Coarse       *CoarseRoad   `json:"drawn_too_coarsely,omitempty"`
	Climbs       []Slope       `json:"climbs"`
	Descents     []Slope       `json:"descents"`
	Grounds      []GroundPlace `json:"ground" doc:"Level crossings and humps whose profile is not known"`
}

// Where is a place on the way.
type Where struct {
	AtM  float64 `json:"at_m" doc:"From the first stop"`
	Lat  float64 `json:"lat"`
	Lon  float64 `json:"lon"`
	Road string  `json:"road"`
}

// TankRange is how far the tank goes, by what the way takes at the most.
type TankRange struct {
	UsableL *float64 `json:"usable_l"`
	RangeM  *float64 `json:"range_m"`
	Stops   []Where  `json:"fill_up_before" doc:"Where it is down to its reserve"`
	Unknown string   `json:"unknown,omitempty"`
}

// SpeedFuel is the way at no more than a speed.
type SpeedFuel struct {
	TopKMH   float64 `json:"top_kmh"`
	DrivingS float64 `json:"driving_s"`
	LikelyL  float64 `json:"likely_l" doc:"Of fuel, with every figure at its likely value"`
	LowL     float64 `json:"low_l"`
	HighL    float64 `json:"high_l"`
}

// NoseSaving is what a nose saves.
type NoseSaving struct {
	Nose    drive.Nose `json:"nose"`
	LikelyL float64    `json:"likely_l" doc:"Of fuel, with every figure at its likely value"`
	LeastL  float64    `json:"least_l"`
	MostL   float64    `json:"most_l"`
}

// Corner is a corner that the rig has to be steered through; nulls are not known.
type Corner struct {
	Where
	Onto         string   `json:"onto"`
	TurnDegrees  float64  `json:"turn_degrees" doc:"To the right positive"`
	DrivenM      float64  `json:"driven_radius_m" doc:"Of the middle of the first axle"`
	SweptM       *float64 `json:"swept_width_m" doc:"Of the strip of road that the rig takes, cut and swing included"`
	OffTrackingM *float64 `json:"off_tracking_m" doc:"By which the unit's axles cut in beside the way of the first axle"`
	CutsTo       string   `json:"off_tracking_to,omitempty" enum:"left,right" doc:"The side that they cut in to"`
	TailSwingM   *float64 `json:"tail_swing_m"`
	SwingsTo     string   `json:"tail_swing_to,omitempty" enum:"left,right" doc:"The side that it swings out to"`
	SpeedKMH     *float64 `json:"speed_kmh" doc:"To take it at no more than half of what tips the unit"`
	RoadWidthM   *float64 `json:"road_width_m" doc:"The narrower of the tagged ones"`
	Circle       string   `json:"circle,omitempty" enum:"roundabout,mini-roundabout"`
	Tighter      bool     `json:"tighter_than_lock,omitempty" doc:"The road is drawn tighter than the tow vehicle turns"`
	Unknown      string   `json:"unknown,omitempty"`
}

// Move is a place where the way leaves a road for another, or turns sharply at a junction.
type Move struct {
	Where
	Onto        string  `json:"onto"`
	TurnDegrees float64 `json:"turn_degrees" doc:"To the right positive"`
	FarM        float64 `json:"far_m" doc:"Until the next one, or the next stop"`
}

// UTurn is a place where the way turns back; nulls are not known.
type UTurn struct {
	Where
	Onto   string   `json:"onto"`
	RoomM  *float64 `json:"room_m" doc:"From side to side, as far as the map knows it"`
	NeedsM *float64 `json:"needs_m" doc:"By the turning circle of the rig"`
}

// RoadCurve is a bend that is no corner.
type RoadCurve struct {
	Where
	RadiusM    float64  `json:"radius_m" doc:"At most, as the road is drawn"`
	SpeedKMH   float64  `json:"speed_kmh"`
	AssumedKMH *float64 `json:"assumed_kmh"`
	Slower     bool     `json:"slower" doc:"Than the plan assumes, or perhaps"`
}

// CoarseRoad is what of the way is drawn too coarsely to show how tightly it bends; the
// place is where it turns the most.
type CoarseRoad struct {
	Where
	Bends       int     `json:"bends" doc:"How many there are"`
	LengthM     float64 `json:"length_m" doc:"Of the lines before and after such bends"`
	TurnDegrees float64 `json:"turn_degrees" doc:"To the right positive"`
}

// Slope is a climb that slows the rig, or a long descent.
type Slope struct {
	Where
	LengthM  float64  `json:"length_m"`
	Grade    float64  `json:"grade" doc:"Mean, rise over run"`
	RiseM    float64  `json:"height_m"`
	Steepest *float64 `json:"steepest,omitempty"`
	SpeedKMH *float64 `json:"speed_kmh,omitempty" doc:"That the engine holds"`
	Stuck    bool     `json:"stuck,omitempty" doc:"It may not climb at all"`
	HeatMJ   *float64 `json:"heat_mj,omitempty" doc:"That engine and brakes take at 50 km/h"`
	PowerKW  *float64 `json:"holding_back_kw,omitempty"`
}

// GroundPlace is a level crossing or a hump.
type GroundPlace struct {
	Where
	Kind string `json:"kind"`
	Of   string `json:"element,omitempty"`
}

func (tell teller) newWhere(s driving.Spot) Where {
	return Where{float64(s.At), s.Point.Lat(), s.Point.Lon(), tell.Say(s.Road)}
}

func (tell teller) newMove(m driving.Move) Move {
	return Move{tell.newWhere(m.Spot), tell.Say(m.Onto), math.Round(m.Turn), round(float64(m.Far))}
}

func (tell teller) newRoad(r *driving.Drive) *Drive {
	if r == nil {
		return nil
	}
	out := &Drive{
		Mark:     mark(slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Invented })),
		Findings: tell.newFindings(r.Findings), Air: tell.Say(r.Air), Drag: tell.newDrag(r.Drag),
		Tank: tell.newTank(r), Speeds: []SpeedFuel{}, Noses: []NoseSaving{}, Corners: each(r.Corners, tell.newCorner),
		Moves:  each(r.Moves, tell.newMove),
		UTurns: each(r.UTurns, tell.newUTurn), Curves: each(r.Curves, tell.newCurve), NoCurves: tell.Say(r.NoCurves),
		Climbs: each(
			r.Climbs,
			tell.newSlope,
		), Descents: each(r.Descents, tell.newSlope), Grounds: each(r.Grounds, tell.newGround),
		Fuel: noFuel(tell.Say(r.Unknown)), LevelM: float64(r.FlatRoad),
	}
	if c := r.Coarse; c.Bends > 0 {
		out.Coarse = &CoarseRoad{tell.newWhere(c.Spot), c.Bends, float64(c.Length), c.Turn}
	}
	if r.Unknown.None() {
		tell.pulled(out, r)
	}
	return out
}

func (tell teller) pulled(out *Drive, r *driving.Drive) {
	out.Fuel = burnt(r.Fuel())
	if !r.Gap.None() {
		out.Fuel = noFuel(tell.Say(r.Gap))
		return
	}
	took := lasts(r.Run.Time)
	out.DrivingS = &took
	out.CarbonKG, out.CarbonLowKG, out.CarbonHighKG = &r.Carbon.Likely, &r.Carbon.Low, &r.Carbon.High
	out.Speeds = each(r.Speeds, func(s drive.AtSpeed) SpeedFuel {
		all := s.Fuel.Band()
		return SpeedFuel{kmh(s.Top), lasts(s.Time), float64(all.Likely / measure.Litre),
			float64(all.Low / measure.Litre), float64(all.High / measure.Litre)}
	})
	out.Noses = each(r.Noses, func(n driving.NoseSaving) NoseSaving {
		return NoseSaving{n.Nose, float64(n.Saves.Likely / measure.Litre), float64(n.Saves.Low / measure.Litre),
			float64(n.Saves.High / measure.Litre)}
	})
}

func (tell teller) newCurve(c driving.Curve) RoadCurve {
	return RoadCurve{tell.newWhere(c.Spot), float64(c.Radius), kmh(c.Speed), number(kmh(c.Assumed)), c.Slower}
}

func (tell teller) newUTurn(u driving.UTurn) UTurn {
	return UTurn{tell.newWhere(u.Spot), tell.Say(u.Onto), number(u.Room), number(u.Needs)}
}

func (tell teller) newGround(g driving.Ground) GroundPlace {
	return GroundPlace{tell.newWhere(g.Spot), g.Kind.String(), g.Of}
}

func (tell teller) newTank(r *driving.Drive) TankRange {
	return TankRange{
		Stops: each(r.Tank.Stops, tell.newWhere), Unknown: tell.Say(r.Tank.Unknown),
		UsableL: number(r.Tank.Usable / measure.Litre), RangeM: number(r.Tank.Range),
	}
}

func (tell teller) newCorner(c driving.Corner) Corner {
	out := Corner{
		Where: tell.newWhere(c.Spot), Onto: tell.Say(c.Onto), TurnDegrees: c.Turn, DrivenM: float64(c.Driven),
		RoadWidthM: number(c.RoadWidth.Metres()), SpeedKMH: number(kmh(c.Speed)), Tighter: c.Tighter,
		Unknown: tell.Say(c.Unknown),
	}
	switch {
	case c.Mini:
		out.Circle = "mini-roundabout"
	case c.Ring:
		out.Circle = "roundabout"
	}
	if c.Unknown.None() {
		swept, off, tail := float64(c.Swept), float64(c.OffTracking), float64(c.TailSwing)
		out.SweptM, out.OffTrackingM, out.TailSwingM = &swept, &off, &tail
		out.CutsTo, out.SwingsTo = c.Cuts.String(), c.Swings.String()
	}
	return out
}

func (tell teller) newSlope(s driving.Slope) Slope {
	return Slope{
		Where: tell.newWhere(s.Spot), LengthM: float64(s.Length), Grade: s.Grade, RiseM: float64(s.Drop),
		Steepest: number(s.Steepest), SpeedKMH: number(kmh(s.Speed)), Stuck: s.Stuck,
		HeatMJ: number(s.Heat / 1e6), PowerKW: number(float64(s.Power) / 1000),
	}
}
