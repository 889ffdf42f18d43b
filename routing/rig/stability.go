package rig

import (
	"cmp"
	"math"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/drive"
)

// Tip says how near a unit is to tipping over: lateral acceleration in g.
type Tip struct {
	// Rigid is what tips the unit if nothing gives way: the static stability factor, half
	// the track over the height of the centre of gravity less what that lies to one side,
	// with the coupling reckoned with. Nothing on springs and tires reaches it.
	Rigid float64
	// Low is what to reckon with: less the spread of heights and what springs and
	// tires take away.
	Low    float64
	Height Centre
	Track  measure.Length
	// Aside is how far to one side the centre of gravity may lie; Middle tells that it
	// is not known, and was taken to lie in the middle.
	Aside  measure.Distance
	Middle bool
}

// Between the rigid figure and a tilting vehicle: heavy vehicles reach 0.70 to
// 0.85 of it (C. B. Winkler and R. D. Ervin, Rollover of Heavy Commercial
// Vehicles, UMTRI-99-19, 1999, from memory). In motion about a quarter less than
// the static factor was found on average (SAE 2003-01-3385, read).
const (
	compliance = 0.70
	// asideShare of the lower figure is what a plan lets curves take: this
	// project's choice, for evasive steering, ruts and gusts.
	asideShare = 0.5
)

// tiltLevels are published levels of the tilt-test of tank trucks: regulators
// adopted 0.40 g as the least; of 17 tested 14 were below it and 7 below 0.35 g
// (J. H. F. Billing and J. D. Patten, An Assessment of Tank Truck Roll Stability,
// National Research Council Canada, read).
const (
	tiltAdopted = 0.40
	tiltLow     = 0.35
)

// Tip works out how near the unit is to tipping.
func (r Rig) Tip(s Statics) measure.Known[Tip] {
	track := r.Unit.track()
	switch {
	case track == nil || len(r.Unit.Frame.Axles) == 0:
		return measure.Because[Tip](say.That("rig.no_track"))
	case !s.Centre.Up.Known():
		return measure.Because[Tip](say.That("rig.no_place_up", "parts", list(s.Centre.Up.Missing)))
	case !s.Apart.None():
		return measure.Because[Tip](s.Apart)
	case s.Centre.Up.Low <= 0:
		return measure.Because[Tip](say.That("rig.centre_in_ground"))
	}
	t := Tip{Height: s.Centre.Up, Track: *track, Middle: !s.Centre.Across.Known()}
	likely := 0.0
	if across := s.Centre.Across; across.Known() {
		likely, t.Aside = math.Abs(float64(across.Likely)), max(across.High, -across.Low)
	}
	half, at := track.Metres()/2, r.Unit.Coupling.height()
	t.Rigid = tips(half, likely, float64(s.Centre.Up.Likely), s.Share.Likely, at)
	t.Low = compliance * min(tips(half, float64(t.Aside), float64(s.Centre.Up.High), s.Share.Low, at),
		tips(half, float64(t.Aside), float64(s.Centre.Up.High), s.Share.High, at))
	return measure.Exactly(t)
}

// tips is the lateral acceleration, in g, that lifts the tires of one side of a stiff
// unit, with half a track and how far aside and how high the centre of gravity lies, in
// m. A coupling resists no roll: it holds its share of the weight up in the middle and
// its share of the push aside at its own height (the derivation is in DECISIONS.md).
func tips(half, aside, up, share, coupling float64) float64 {
	share = min(max(share, 0), 1)
	return max((1-share)*half-aside, 0) / max(up-share*coupling, 0.1)
}

// height is how high a coupling is at the least, in m, from memory: balls behind a
// bumper, balls in a bed, and plates.
func (c Coupling) height() float64 {
	switch c {
	case Gooseneck:
		return 0.9
	case FifthWheel:
		return 1.1
	default:
		return 0.4
	}
}

// InCurve is the speed in a level curve that takes no more than half of what
// tips the unit by the lower figure.
func (t Tip) InCurve(radius measure.Distance) measure.Speed {
	return CurveSpeed(asideShare*t.Low, radius)
}

// CurveSpeed is the speed at which a level curve takes a lateral acceleration,
// in g.
func CurveSpeed(lateral float64, radius measure.Distance) measure.Speed {
	return measure.Speed(math.Sqrt(lateral * drive.Gravity * float64(radius)))
}

// The force of wind on the side of a box near the ground: its coefficient on the
// side area is 1.0 to 1.3, from memory; the higher counts.
const sideCoefficient = 1.3

// windwardShare is the share of what the unit's tires carry that is to stay on its
// windward side, where nothing else is set: half of it is there in still air. This
// project's choice.
const windwardShare = 0.3

// windyRoad is the speed that a gust meets the rig at: 90 km/h, the highest towing
// speed that the bundled roads assume. Slower is safer.
const windyRoad = 90 * measure.KilometrePerHour

// Winds are the levels of wind: from Slow on, in gusts, to drive no faster than SlowRoad;
// above Steady or Gust to stop; above Never not to stand where the wind reaches the unit.
type Winds struct {
	Slow         measure.Speed // 0: the unit may be driven as it is up to the stop
	SlowRoad     measure.Speed
	Steady, Gust measure.Speed
	Why          say.Remark // of the stop
	Never        measure.Speed
	// Computed is the gust square to the side at which the windward side falls to the
	// share that is to stay on it, at the speed of the road.
	Computed measure.Known[measure.Speed]
}

// The lowest limits of wind that were found published: no moves of manufactured
// homes in New Mexico in a steady wind above 25 mph or gusts above 30 mph (a
// summary of the state's trucking association, read second-hand). The
// Confederation Bridge restricts high vehicles and whatever is towed from 70
// km/h, gusts from 85 km/h (its operator's page, read).
const (
	stopSteady = 25 * measure.MilePerHour
	stopGust   = 30 * measure.MilePerHour
	neverGust  = 85 * measure.KilometrePerHour
)

// slowRoad is how slow a rig is driven in wind at the least: slower is no use on a road
// with others. This project's choice.
const slowRoad = 50 * measure.KilometrePerHour

// side is the side of a unit that the wind meets.
type side struct {
	area   measure.Area
	height measure.Distance // of its middle
}

// sideOf is the silhouette of the outline from the side: what lies behind something else
// from there counts once. It is cut into strips at every end of a box; in a strip the
// boxes are stretches of height that are put together.
func (u Unit) sideOf() (side, bool) {
	var s side
	var moment float64
	boxes := u.OutlineIn(Travelling, nil)
	slices.SortFunc(boxes, func(a, b Box) int { return cmp.Compare(a.Bottom, b.Bottom) })
	var cuts []measure.Length
	for _, b := range boxes {
		cuts = append(cuts, b.From, b.To)
	}
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		var up measure.Length // how far up the strip is counted
		for _, b := range boxes {
			bottom := max(b.Bottom, up)
			if b.From > cuts[i-1] || b.To < cuts[i] || b.Top <= bottom {
				continue
			}
			area := (cuts[i] - cuts[i-1]).Metres() * (b.Top - bottom).Metres()
			s.area += measure.Area(area)
			moment += area * (b.Top + bottom).Metres() / 2
			up = b.Top
		}
	}
	if s.area <= 0 {
		return s, false
	}
	s.height = measure.Distance(moment / float64(s.area))
	return s, true
}

// overturn is the share of what holds the unit upright that a wind square to the road
// takes at a speed: 1 lifts the windward tires. The wind that meets the rig is that of
// its own speed with the other; its force on the side goes with the sine of its angle,
// to first order, a law of yaw that was not checked against a paper (C. Baker, The
// calculation of the overturning wind speed of large road
// vehicles at exposed sites, Proceedings of the ICE, Transport, 2018, abstract read;
// the form from memory). What holds is what the tires carry, half a track from the
// leeward ones less what the centre of gravity lies to their side. The unit is taken as
// stiff, level and straight: real ones lean, and lift sooner.
func (u Unit) overturn(air measure.Density, onTires measure.Mass, arm measure.Distance, road,
	across measure.Speed) (float64, bool) {
	s, ok := u.sideOf()
	if !ok || onTires <= 0 || arm <= 0 {
		return 0, false
	}
	met := math.Hypot(float64(road), float64(across))
	force := 0.5 * float64(air) * sideCoefficient * float64(s.area) * met * float64(across)
	return force * float64(s.height) / (onTires.Kilograms() * drive.Gravity * float64(arm)), true
}

// Winds works out the levels of wind. What is published comes first, and what is computed
// can only lower it: at the speed of the road a gust square to the side that leaves the
// share on the windward tires asks for driving slower, at slowRoad for stopping; one that
// lifts them while the unit stands is one to keep out of altogether.
func (r Rig) Winds(s Statics) Winds {
	w := Winds{Steady: stopSteady, Gust: stopGust, Never: neverGust, Why: say.That("rig.published_wind")}
	track := r.Unit.track()
	group, carried := s.Group.Value()
	if track == nil || !carried {
		w.Computed = measure.Because[measure.Speed](say.That("rig.wind_takes_track"))
		return w
	}
	arm := measure.Distance(track.Metres() / 2)
	if across := s.Centre.Across; across.Known() { // the tires alone hold the whole of it upright
		arm -= max(across.High, -across.Low) * measure.Distance(float64(s.Unit.High)/float64(max(group.Low, 1)))
	}
	share, road, kelvins := r.windCase()
	air := drive.Air(0, kelvins)
	at := func(share float64, road measure.Speed) (measure.Speed, bool) {
		return leaves(share, func(gust measure.Speed) (float64, bool) {
			return r.Unit.overturn(air, group.Low, arm, road, gust)
		})
	}
	driving, ok := at(share, road)
	if !ok {
		w.Computed = measure.Because[measure.Speed](say.That("rig.wind_takes_outline"))
		return w
	}
	w.Computed = measure.Exactly(driving)
	slow := min(road, slowRoad)
	if creeping, _ := at(share, slow); creeping < w.Gust {
		w.Gust, w.Why = creeping, say.That("rig.computed_wind", "road", slow, "percent", 100*share)
		w.Steady = min(w.Steady, creeping*stopSteady/stopGust)
	}
	if driving < w.Gust-toldApart {
		w.Slow, w.SlowRoad = driving, slow
	}
	lifts, _ := at(0, 0)
	w.Never = max(min(w.Never, lifts), w.Gust)
	return w
}

// toldApart is how far below the stop a gust lies that asks for driving slower: nearer ones
// read as one.
const toldApart = 1 * measure.KilometrePerHour

// windCase is what winds are reckoned with, given or not: the share that stays on the
// windward tires, the speed of the road and the air.
func (r Rig) windCase() (share float64, road measure.Speed, kelvins float64) {
	return cmp.Or(r.WindwardShare, windwardShare), cmp.Or(r.WindRoad, windyRoad), cmp.Or(r.WindKelvins, coldest)
}

// leaves is the gust that leaves a share of what its tires carry on the windward ones,
// by the share of what holds the unit that each takes.
func leaves(share float64, taken func(measure.Speed) (float64, bool)) (measure.Speed, bool) {
	if _, ok := taken(1); !ok {
		return 0, false
	}
	low, high := measure.Speed(0), measure.Speed(100)
	for range 60 {
		middle := (low + high) / 2
		if lost, _ := taken(middle); (1-lost)/2 < share {
			high = middle
		} else {
			low = middle
		}
	}
	return low, true
}

// coldest is the air that winds are reckoned with, 253.15 K or -20 degrees
// Celsius: cold air presses harder.
const coldest = freezing - 20

// freezing is 0 degrees Celsius in kelvins, exact (SI brochure, 2.3.1).
const freezing = 273.15

// Stability answers tipping and wind as findings. Neither is ever clear.
func (r Rig) Stability(s Statics) []finding.Finding {
	return []finding.Finding{r.tipping(s), r.wind(s)}
}

func (r Rig) tipping(s Statics) finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleTipping, Place: say.That("rig.unit"), Outcome: finding.Unknown,
		Reason:  finding.NotDescribed,
		Settles: finding.By(judge(say.That("task.tilt_test"))),
	}
	known := r.Tip(s)
	t, ok := known.Value()
	if !ok {
		f.Says = []say.Remark{say.That("rig.tip_unknown", "why", known.Why())}
		return f
	}
	if t.Middle {
		f.Settles = finding.By(weigh(ofTicket, say.That("task.weigh_sides")), judge(say.That("task.tilt_test")))
	}
	f.Figures = say.That("rig.tip_figures", "rigid", t.Rigid, "low", t.Low)
	f.Citations = tiltRows()
	f.Outcome, f.Reason, f.Says = t.judged()
	if t.Middle {
		f.Says = append(f.Says, say.That("rig.side_unknown"))
	}
	return f
}

// judged compares the lower figure with the published levels.
func (t Tip) judged() (finding.Outcome, finding.Reason, []say.Remark) {
	switch {
	case t.Low < tiltLow:
		return finding.Review, finding.Exceeded, []say.Remark{say.That("rig.tips_below_worst", "level", tiltLow)}
	case t.Low < tiltAdopted:
		return finding.Review, finding.Exceeded, []say.Remark{say.That("rig.tips_below_adopted", "level", tiltAdopted)}
	default:
		return finding.Unknown, finding.NoRow, []say.Remark{say.That("rig.tips_above", "level", tiltAdopted)}
	}
}

// tiltRows are where the lower figure and the levels come from.
func tiltRows() []finding.Citation {
	return []finding.Citation{{
		ID: "springs-and-tires", Published: "0.70 of the rigid figure", Status: finding.Memory, Decides: true,
		Source: "C. B. Winkler, R. D. Ervin, Rollover of Heavy Commercial Vehicles, UMTRI-99-19", Year: "1999",
	}, {
		ID: "tilt-levels", Published: "0.40 g adopted; 7 of 17 below 0.35 g", Status: finding.Secondary,
		ReadOn: factsRead,
		Source: "J. H. F. Billing, J. D. Patten, An Assessment of Tank Truck Roll Stability, National Research " +
			"Council Canada",
	}}
}

func (r Rig) wind(s Statics) finding.Finding {
	w := r.Winds(s)
	gust, known := w.Computed.Value()
	lowers := known && w.Gust < stopGust
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleWind, Place: say.That("rig.unit"), Outcome: finding.Review, Reason: finding.Practice,
		Settles: finding.By(seeTo(say.That("rig.forecast"), say.That("task.wind", "steady", w.Steady, "gust", w.Gust))),
		Figures: say.That("rig.wind_figures", "steady", w.Steady, "gust", w.Gust),
		Says: []say.Remark{
			say.That("rig.stop_wind", "slows", w.Slow > 0, "slow", w.Slow, "road", w.SlowRoad, "steady", w.Steady,
				"gust", w.Gust,
				"never", w.Never, "why", w.Why),
		},
		Citations: []finding.Citation{{
			ID: "stop-wind", Published: "25 mph steady, 30 mph gusts", Status: finding.Secondary, ReadOn: factsRead,
			Decides: !lowers, Source: "New Mexico Trucking Association, summary of rules for manufactured homes",
		}, {
			ID: "side-of-a-box", Published: "coefficient 1.0 to 1.3", Status: finding.Memory, Decides: lowers,
			Source: "wind on a box near the ground",
		}},
	}
	if !known {
		f.Outcome, f.Reason = finding.Unknown, finding.NotDescribed
		f.Says = append(f.Says, w.Computed.Why())
		return f
	}
	share, road, kelvins := r.windCase()
	f.Says = append(f.Says, say.That("rig.wind_reckoned", "gust", gust, "road", road, "celsius", kelvins-freezing,
		"percent", 100*share))
	return f
}
