package rig

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/drive"
)

// Holding is what is asked of the anchors between house and trailer.
type Holding struct {
	House Estimate // what they hold
	Asked measure.Known[anchors.Result]
}

// The winds that anchors are reckoned in: 100 km/h on the road and a gust of 70
// km/h from the side, at which bridges restrict (see stopSteady).
const (
	holdRoad   = 100 * measure.KilometrePerHour
	holdAcross = 70 * measure.KilometrePerHour
)

// Holding works out what is asked of the anchors, by both ends of what the house
// weighs: the parts that are not of the trailer. A heavy house is shaken harder, a
// light one is lifted sooner. It is nil where no anchors are described.
func (r Rig) Holding() *Holding {
	u := r.Unit
	if len(u.Anchors) == 0 {
		return nil
	}
	house := slices.DeleteFunc(u.PartsIn(Travelling, nil), func(p Part) bool { return p.Trailer })
	c := centreOfGravity(house)
	out := &Holding{House: total(house)}
	unknown := func(why say.Remark) *Holding {
		out.Asked = measure.Because[anchors.Result](why)
		return out
	}
	switch apart := r.Statics().Apart; {
	case !apart.None():
		return unknown(apart)
	case len(house) == 0:
		return unknown(say.That("rig.no_house_parts"))
	case !c.Along.Known() || !c.Across.Known() || !c.Up.Known():
		return unknown(say.That("rig.no_house_place"))
	case u.Deck == nil:
		return unknown(say.That("rig.no_deck"))
	}
	deck := measure.Distance(u.Deck.Metres())
	var worst anchors.Result
	for i, body := range bodies(out.House, c, deck) {
		one, err := anchors.Assess(body, u.Anchors, u.gust(deck))
		if err != nil {
			return unknown(say.That("rig.refused", "problem", say.Of(err)))
		}
		if i > 0 {
			one = anchors.Worst(worst, one)
		}
		worst = one
	}
	out.Asked = measure.Exactly(worst)
	return out
}

// bodies are the house with its mass and its centre of gravity at every end.
func bodies(house Estimate, c CentreOfGravity, deck measure.Distance) []anchors.Body {
	var out []anchors.Body
	for _, mass := range []measure.Mass{house.Low, house.High} {
		for _, along := range []measure.Distance{c.Along.Low, c.Along.High} {
			for _, across := range []measure.Distance{c.Across.Low, c.Across.High} {
				out = append(out, anchors.Body{Mass: mass, Along: along, Across: across, Up: c.Up.High - deck})
			}
		}
	}
	return out
}

// gust is the wind that anchors are reckoned in, on what of the outline is described.
func (u Unit) gust(deck measure.Distance) anchors.Wind {
	wind := anchors.Wind{Air: drive.Air(0, coldest), Road: holdRoad, Across: holdAcross}
	if s, ok := u.sideOf(); ok {
		wind.Side, wind.SideUp = s.area, max(s.height-deck, 0)
	}
	if e, ok := u.extent(Travelling, nil); ok {
		wind.Roof = measure.Area(e.Width().Metres() * e.Length().Metres())
	}
	return wind
}

// finding answers the anchors: an engineer decides, whatever the figures.
func (h *Holding) finding() finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleHolding, Place: say.That("rig.anchors"), Outcome: finding.Unknown,
		Reason:    finding.NotDescribed,
		Settles:   finding.By(judge(say.That("task.anchors"))),
		Citations: cargoRows(),
	}
	asked, ok := h.Asked.Value()
	if !ok {
		f.Says = []say.Remark{say.That("rig.holding_unknown", "why", h.Asked.Why())}
		return f
	}
	over, open := asked.Count(anchors.Exceeds), asked.Count(anchors.NotRated)
	switch {
	case len(asked.Cannot) > 0:
		var cases []say.Remark
		for _, c := range asked.Cannot {
			cases = append(cases, say.Remark{Code: c.Term()})
		}
		f.Answer(finding.Review, finding.Contradicts, say.That("rig.anchors_cannot", "cases", list(cases)))
	case over > 0:
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.anchors_over", "places", over))
	case open > 0:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.anchors_not_rated", "places", open))
	default:
		f.Answer(finding.Review, finding.Practice, say.That("rig.anchors_within"))
	}
	if len(asked.LeftOut) > 0 {
		f.Says = append(f.Says, say.That("rig.not_reckoned", "what", asked.LeftOut))
		if over == 0 {
			f.Outcome, f.Reason = finding.Unknown, finding.NotDescribed
		}
	}
	return f
}

// cargoRead is when the rules for cargo were read.
var cargoRead = time.Date(2026, time.November, 26, 0, 0, 0, 0, time.UTC)

// cargoRows are the rules for cargo that the accelerations come from.
func cargoRows() []finding.Citation {
	var out []finding.Citation
	for _, r := range anchors.Rules() {
		row := finding.Citation{
			ID: "cargo-" + string(r.Towards), Status: finding.Published, Source: r.Source,
			Shows:  say.That("figure.cargo", "share", float64(r.Share), "towards", r.Towards, "against", r.Against),
			ReadOn: cargoRead, Decides: true,
		}
		if r.Known != "read" {
			row.Status = finding.Secondary
		}
		out = append(out, row)
	}
	return out
}
