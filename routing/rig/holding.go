package rig

import (
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/rig/hold"
)

// Holding is what is asked of the anchors between house and trailer.
type Holding struct {
	hold.Result
	House   Estimate // what they hold
	Unknown string   // why it is not known
}

// The winds that anchors are reckoned in: 100 km/h on the road and a gust of 70
// km/h from the side, at which bridges restrict (see stopSteady).
const (
	holdRoad   = 100 * measure.KilometrePerHour
	holdAcross = 70 * measure.KilometrePerHour
)

// Holding works out what is asked of the anchors, by the high end of what the
// house weighs: the parts that are not of the trailer. It is nil where no anchors
// are described.
func (r Rig) Holding() *Holding {
	u := r.Unit
	if len(u.Anchors) == 0 {
		return nil
	}
	var house []Part
	for _, p := range u.PartsIn(Travelling, nil) {
		if !p.Trailer {
			p.Mass = Exactly(p.Mass.High)
			house = append(house, p)
		}
	}
	c := centreOfGravity(house)
	out := &Holding{House: total(house)}
	switch {
	case len(house) == 0:
		out.Unknown = "no parts of the house are described"
	case !c.Along.Known() || !c.Across.Known() || !c.Up.Known():
		out.Unknown = "the place of a part of the house is not given"
	case u.Deck == nil:
		out.Unknown = "the height of the deck is not given"
	}
	if out.Unknown != "" {
		return out
	}
	deck := measure.Distance(u.Deck.Metres())
	wind := hold.Wind{Air: drive.Air(0, coldest), Road: holdRoad, Across: holdAcross}
	if s, ok := u.sideOf(); ok {
		wind.Side, wind.SideUp = s.area, max(s.height-deck, 0)
	}
	if e, ok := u.extent(Travelling, nil); ok {
		wind.Roof = measure.Area(e.Width().Metres() * e.Length().Metres())
	}
	body := hold.Body{Mass: out.House.High, Along: c.Along.Likely, Across: c.Across.Likely, Up: c.Up.Likely - deck}
	result, err := hold.Assess(body, u.Anchors, wind)
	if err != nil {
		out.Unknown = err.Error()
	}
	out.Result = result
	return out
}

// finding answers the anchors: an engineer decides, whatever the figures.
func (h *Holding) finding() finding.Finding {
	f := finding.Finding{
		Rule: "holding together", Place: "anchors between house and trailer", Outcome: finding.Review, Ask: "a structural engineer",
		Rows: []finding.Row{{
			ID: "cargo accelerations", Published: "0.8 g forward, 0.5 g rearward, 0.5 g lateral, 20 % of the weight downward", Status: finding.Published,
			Source: "49 CFR 393.102(a)(1) and (b); Quebec C-24.2, r. 30, s. 3 (2019-05-21); National Safety Code standard 10 (2013)",
		}},
	}
	over, open := 0, 0
	for _, d := range h.Demands {
		switch uses, known := d.Uses(); {
		case uses > 1:
			over++
		case !known:
			open++
		}
	}
	switch {
	case h.Unknown != "":
		f.Outcome, f.Summary = finding.Unknown, "what the anchors must hold is not known: "+h.Unknown
	case len(h.Cannot) > 0:
		f.Summary = "the anchors as they are laid out cannot carry: " + list(h.Cannot)
	case over > 0:
		f.Summary = count(over, "anchor place takes", "anchor places take") + " more than its rating under the accelerations that rules name for cargo"
	case open > 0:
		f.Outcome, f.Summary = finding.Unknown, count(open, "anchor place has", "anchor places have")+" no rating to compare with"
	default:
		f.Summary = "all anchors are within their ratings under the accelerations that rules name for cargo, which is a comparison and no proof"
	}
	return f
}
