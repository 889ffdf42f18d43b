package wire

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/anchors"
)

// Stability is how near the unit is to tipping over; nulls are not known.
type Stability struct {
	RigidG *float64     `json:"rigid_g" doc:"Half the track over the height of the centre of gravity: no unit on springs reaches it"`
	LowerG *float64     `json:"lower_g" doc:"What to reckon with"`
	TrackM *float64     `json:"track_m"`
	Curves []CurveSpeed `json:"curves" doc:"Speeds in level curves that take half of the lower figure"`
}

// CurveSpeed is a speed in a curve.
type CurveSpeed struct {
	RadiusM  float64 `json:"radius_m"`
	SpeedKMH float64 `json:"speed_kmh"`
}

// Wind is when to drive slower, when to stop and when to keep out of the wind.
type Wind struct {
	SlowKMH     *float64 `json:"slow_down_above_gusts_kmh" doc:"To the speed beside it; null where the stop comes first"`
	SlowRoadKMH *float64 `json:"slow_to_kmh"`
	SteadyKMH   float64  `json:"stop_above_steady_kmh"`
	GustKMH     float64  `json:"stop_above_gusts_kmh"`
	NeverKMH    float64  `json:"never_above_gusts_kmh" doc:"Not even to stand where the wind reaches it"`
	Why         string   `json:"why"`
	ComputedKMH *float64 `json:"computed_gust_kmh" doc:"Square to the side, at which the windward tires carry no more than the share; null where not known"`
	Unknown     string   `json:"unknown,omitempty"`
}

// UnderneathSide is what passes under the unit.
type UnderneathSide struct {
	SpanM      *float64 `json:"span_m" doc:"Between the supports"`
	ClearanceM *float64 `json:"clearance_m"`
	CrestM     *float64 `json:"least_crest_radius_m"`
	CrossingM  *float64 `json:"crossing_needs_m" doc:"Of clearance, on the steepest level crossing within the usual standard"`
	Departure  *float64 `json:"departure_grade" doc:"Rise over run that the tail passes"`
	Unknown    string   `json:"unknown,omitempty"`
}

// Bending is what room a unit has over and behind its tow vehicle.
type Bending struct {
	Touches *Touch   `json:"touches,omitempty" doc:"Where it first touches; left out where it does not"`
	OverM   *float64 `json:"over_m,omitempty" doc:"The least height above what it reaches over; left out where it reaches over nothing"`
	Unknown string   `json:"unknown,omitempty"`
}

// Touch is where a unit first touches its tow vehicle.
type Touch struct {
	AngleDeg float64 `json:"angle_deg" doc:"Between the middle lines of both"`
	Right    bool    `json:"right" doc:"The nose of the unit goes to the right of the tow vehicle"`
	Box      string  `json:"box" doc:"Of the outline"`
	Against  string  `json:"against" enum:"cab,bed,body" doc:"What of the tow vehicle: body where its cab begins nowhere that is given"`
	Unsure   string  `json:"unsure,omitempty" doc:"The field that would tell whether it is as high as it was taken to be"`
}

// Turning is what the rig sweeps in steady circles.
type Turning struct {
	Circles []SweptCircle `json:"circles"`
	Unknown string        `json:"unknown,omitempty"`
}

// SweptCircle is a steady circle of the middle of the first axle; nulls where no
// such rig holds it.
type SweptCircle struct {
	RadiusM      float64  `json:"radius_m"`
	OffTrackingM *float64 `json:"off_tracking_m"`
	InnerM       *float64 `json:"inner_radius_m"`
	SweptM       *float64 `json:"swept_width_m"`
}

// Holding is what is asked of the anchors, for comparison and not as a proof.
type Holding struct {
	House   *MassRange     `json:"house_mass"`
	Anchors []AnchorDemand `json:"anchors"`
	Cannot  []string       `json:"cannot_carry" doc:"Cases that the layout cannot carry"`
	LeftOut []string       `json:"left_out" doc:"What of the wind is in no figure because it is not given"`
	Unknown string         `json:"unknown,omitempty"`
	Caution string         `json:"caution"`
}

// AnchorDemand is what is asked of one fastener at a place.
type AnchorDemand struct {
	Name       string       `json:"name"`
	Kind       anchors.Kind `json:"kind,omitempty"`
	Count      int          `json:"count"`
	UpliftKN   float64      `json:"uplift_kn" doc:"Of each"`
	UpliftCase string       `json:"uplift_case,omitempty"`
	ShearKN    float64      `json:"shear_kn" doc:"Of each"`
	ShearCase  string       `json:"shear_case,omitempty"`
	Uses       *float64     `json:"share_of_rating" doc:"The greater of both; null where it is not known"`
	Status     string       `json:"status"`
}

// Drag is what the air meets.
type Drag struct {
	LikelyM2 *float64 `json:"likely_m2" doc:"Drag coefficient times area"`
	LowM2    *float64 `json:"low_m2" doc:"Of the ends that nine of ten such areas lie between"`
	HighM2   *float64 `json:"high_m2"`
	Source   string   `json:"source,omitempty"`
	Unknown  string   `json:"unknown,omitempty"`
}

// HeldGrade is the speed that the engine holds on a grade.
type HeldGrade struct {
	Grade    float64 `json:"grade" doc:"Rise over run"`
	SpeedKMH float64 `json:"speed_kmh"`
	Climbs   bool    `json:"climbs" doc:"False: it may not even hold a crawl"`
}

func newStability(r rig.Report) Stability {
	out := Stability{Curves: []CurveSpeed{}}
	tip, ok := r.Tip.Value()
	if !ok {
		return out
	}
	track := tip.Track.Metres()
	out.RigidG, out.LowerG, out.TrackM = &tip.Rigid, &tip.Low, &track
	for _, radius := range []measure.Distance{15, 30, 60, 120, 250, 500} {
		out.Curves = append(out.Curves, CurveSpeed{float64(radius), kmh(tip.InCurve(radius))})
	}
	return out
}

func kmh(v measure.Speed) float64 { return float64(v / measure.KilometrePerHour) }

func (tell teller) newWind(w rig.Winds) Wind {
	return Wind{
		SlowKMH: number(kmh(w.Slow)), SlowRoadKMH: number(kmh(w.SlowRoad)), NeverKMH: kmh(w.Never),
		SteadyKMH: kmh(w.Steady), GustKMH: kmh(w.Gust), Why: tell.Say(w.Why),
		Unknown:     tell.Say(w.Computed.Why()),
		ComputedKMH: given(w.Computed.Pointer(), kmh),
	}
}

// number is a figure that is known where it is above 0.
func number[T ~float64](v T) *float64 {
	if v <= 0 {
		return nil
	}
	f := float64(v)
	return &f
}

func (tell teller) newUnderneath(clears measure.Known[rig.Underneath]) UnderneathSide {
	u, _ := clears.Value()
	return UnderneathSide{number(u.Span), number(u.Clearance), number(u.Crest), number(u.Crossing),
		number(u.Departure), tell.Say(clears.Why())}
}

func (tell teller) newTurning(t rig.Turning) Turning {
	out := Turning{Circles: []SweptCircle{}, Unknown: tell.Say(t.Rig.Why())}
	for _, c := range t.Circles {
		s := SweptCircle{RadiusM: float64(c.Radius)}
		if c.Held {
			off, inner, swept := float64(c.OffTracking), float64(c.Inner), float64(c.Width)
			s.OffTrackingM, s.InnerM, s.SweptM = &off, &inner, &swept
		}
		out.Circles = append(out.Circles, s)
	}
	return out
}

func (tell teller) newBending(k measure.Known[rig.Bending]) Bending {
	b, ok := k.Value()
	out := Bending{Unknown: tell.Say(k.Why())}
	if !ok {
		return out
	}
	if b.Over != nil {
		over := b.Over.Metres()
		out.OverM = &over
	}
	if t := b.First; t != nil {
		out.Touches = &Touch{math.Round(10*t.Angle) / 10, t.Right, t.Box, string(t.Against), t.Unsure}
	}
	return out
}

func (tell teller) newHolding(h *rig.Holding) *Holding {
	if h == nil {
		return nil
	}
	l := tell
	cannot := func(c anchors.Name) string { return l.Term(c) }
	asked, _ := h.Asked.Value()
	return &Holding{
		House: tell.massIfAny(
			h.House,
		), Anchors: each(asked.Demands, tell.newAnchorDemand), Cannot: each(asked.Cannot, cannot),
		LeftOut: append([]string{}, l.Each(asked.LeftOut)...), Unknown: l.Say(h.Asked.Why()),
		Caution: l.Say(anchors.Caution()),
	}
}

func (tell teller) newAnchorDemand(d anchors.Demand) AnchorDemand {
	l := tell
	out := AnchorDemand{
		Name: d.Name, Kind: d.Kind, Count: d.Count, UpliftKN: float64(d.PullUp) / 1000,
		UpliftCase: l.Term(d.PullUpCase), ShearKN: float64(d.PushAside) / 1000,
		ShearCase: l.Term(d.PushAsideCase), Status: l.Term(d.Status()),
	}
	if uses, ok := d.Uses(); ok {
		out.Uses = &uses
	}
	return out
}

func (tell teller) newDrag(drag measure.Known[rig.Drag]) Drag {
	d, _ := drag.Value()
	return Drag{number(d.Area.Likely), number(d.Area.Low), number(d.Area.High), tell.All(d.Source), tell.Say(drag.Why())}
}

func heldGrades(grades measure.Known[[]rig.Held]) []HeldGrade {
	in, _ := grades.Value()
	return each(in, func(h rig.Held) HeldGrade { return HeldGrade{h.Grade, kmh(h.Speed), h.Climbs} })
}
