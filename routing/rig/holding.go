package rig

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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
	switch {
	case r.Statics().Apart != "":
		out.Unknown = r.Statics().Apart
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
	for i, body := range bodies(out.House, c, deck) {
		one, err := hold.Assess(body, u.Anchors, u.gust(deck))
		if err != nil {
			out.Result, out.Unknown = hold.Result{}, err.Error()
			return out
		}
		if i > 0 {
			one = hold.Worst(out.Result, one)
		}
		out.Result = one
	}
	return out
}

// bodies are the house with its mass and its centre of gravity at every end.
func bodies(house Estimate, c CentreOfGravity, deck measure.Distance) []hold.Body {
	var out []hold.Body
	for _, mass := range []measure.Mass{house.Low, house.High} {
		for _, along := range []measure.Distance{c.Along.Low, c.Along.High} {
			for _, across := range []measure.Distance{c.Across.Low, c.Across.High} {
				out = append(out, hold.Body{Mass: mass, Along: along, Across: across, Up: c.Up.High - deck})
			}
		}
	}
	return out
}

// gust is the wind that anchors are reckoned in, on what of the outline is described.
func (u Unit) gust(deck measure.Distance) hold.Wind {
	wind := hold.Wind{Air: drive.Air(0, coldest), Road: holdRoad, Across: holdAcross}
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
	f := finding.Finding{Rule: "holding together", Place: say.Text("anchors between house and trailer"), Outcome: finding.Review, Ask: "a structural engineer", Citations: cargoRows()}
	over, open := 0, 0
	for _, d := range h.Demands {
		switch d.Status() {
		case hold.Exceeds:
			over++
		case hold.NotRated:
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
	if len(h.LeftOut) > 0 {
		f.Summary += "; not reckoned with: " + strings.Join(h.LeftOut, "; ")
		if over == 0 {
			f.Outcome = finding.Unknown
		}
	}
	return f
}

// cargoRead is when the rules for cargo were read.
var cargoRead = time.Date(2026, time.November, 26, 0, 0, 0, 0, time.UTC)

// cargoRows are the rules for cargo that the accelerations come from.
func cargoRows() []finding.Citation {
	var out []finding.Citation
	for _, r := range hold.Rules() {
		published := fmt.Sprintf("%g g %s", float64(r.Share), r.Towards)
		if r.Against != hold.NoLimit {
			published += ", against the " + string(r.Against)
		}
		row := finding.Citation{ID: "cargo " + string(r.Towards), Published: published, Status: finding.Published, Source: r.Source, ReadOn: cargoRead, Decides: true}
		if r.Known != "read" {
			row.Status = finding.Secondary
		}
		out = append(out, row)
	}
	return out
}
