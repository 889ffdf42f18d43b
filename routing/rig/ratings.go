package rig

import (
	"fmt"
	"math"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// rated is one thing that carries a mass and has a rating.
type rated struct {
	rule   string
	what   string    // in words
	load   *Estimate // nil: not known
	rating *measure.Mass
	of     string // the field that the rating comes from
	exact  bool   // the load was weighed
	doubt  string // why even a load that was weighed does not settle it
	lifts  string // what else happens where it is lifted
	ask    string
}

// Whom to ask about ratings, and about masses.
const (
	askMaker = "the rating plate and the maker of the part"
	askScale = "a public scale, with the rig loaded as it travels"
)

// Ratings compares what everything carries with what it may. Of several ratings
// of one thing the lowest governs. A mass that nobody weighed can exceed a rating;
// it never clears one.
func (r Rig) Ratings(s Statics) []finding.Finding {
	var out []finding.Finding
	for _, c := range r.rated(s) {
		out = append(out, c.finding())
	}
	out = append(out, r.couplingShare(s), r.sideBySide(s))
	return append(out, r.statedMass(s)...)
}

// statedMass says where the mass that is given and the parts contradict each other.
func (r Rig) statedMass(s Statics) []finding.Finding {
	if s.Apart == "" {
		return nil
	}
	return []finding.Finding{{Rule: "mass of the parts", Place: say.Text("the unit"), Outcome: finding.Review, Value: finding.Of(*r.Unit.Mass), Ask: askScale, Summary: s.Apart}}
}

func (r Rig) rated(s Statics) []rated {
	u, t := r.Unit, r.Tow
	weighed := s.OfScale()
	var unit *Estimate
	if s.Unit.High > 0 {
		unit = heavier(s.Unit, u.Mass)
	}
	rig := s.Rig
	if rig != nil {
		rig = heavier(*rig, r.Mass)
	}
	out := []rated{
		{rule: "unit rating", what: "the unit", load: unit, rating: u.Frame.Ratings.Gross, of: "unit.gross_rating", exact: weighed, ask: askScale},
		lowest("coupling rating", "what rests on the coupling", s.Coupling, weighed, rating{"unit.coupling_vertical_rating", u.Frame.Ratings.Vertical}, rating{"tow.coupling_vertical_rating", t.Truck.Ratings.Vertical}),
		lowest("towed rating", "what the coupling pulls", unit, weighed, rating{"unit.coupling_towed_rating", u.Frame.Ratings.Towed}, rating{"tow.coupling_towed_rating", t.Truck.Ratings.Towed}),
	}
	out[1].lifts = t.unloaded(s)
	// What a tow vehicle carries empty is as it was given: only a scale that it stood
	// on with the unit can clear it.
	out = append(out, axleRatings("unit", u.Frame.Axles, s.Axles, weighed || s.Weighed, unequal(s))...)
	out = append(out, axleRatings("tow", t.Truck.Axles, s.Tow, s.Weighed, "")...)
	return append(out,
		rated{rule: "tow vehicle rating", what: "the tow vehicle with what rests on it", load: s.TowGross, rating: t.Truck.Ratings.Gross, of: "tow.gross_rating", exact: s.Weighed, ask: askScale},
		rated{rule: "combined rating", what: "the rig", load: rig, rating: t.Truck.Ratings.Combined, of: "tow.combined_rating", exact: s.Weighed, ask: askScale},
	)
}

// heavier is an estimate beside a mass that was stated: it is no less than that.
func heavier(e Estimate, stated *measure.Mass) *Estimate {
	if stated != nil {
		e = Estimate{max(e.Low, *stated), max(e.Likely, *stated), max(e.High, *stated)}
	}
	return &e
}

// unequal says why axles may not share alike.
func unequal(s Statics) string {
	switch {
	case s.Each:
		return ""
	case s.Even:
		return "beams and air share alike only while the unit stands level: weigh each axle"
	}
	return "the axles share alike only if the unit stands level and its springs are the same: weigh each axle"
}

// rating is a rating and the field that states it.
type rating struct {
	of   string
	mass *measure.Mass
}

// lowest compares with the lowest of several ratings; where one is missing, what
// is within the others is not known.
func lowest(rule, what string, load *Estimate, exact bool, ratings ...rating) rated {
	out := rated{rule: rule, what: what, load: load, exact: exact, ask: askScale}
	for _, r := range ratings {
		switch {
		case r.mass == nil:
			out.doubt = r.of + " is not given"
		case out.rating == nil || *r.mass < *out.rating:
			out.rating, out.of = r.mass, r.of
		}
	}
	if out.rating == nil {
		out.of = ratings[0].of
	}
	return out
}

// axleRatings compares each axle with its own rating and that of its tires.
func axleRatings(of string, axles []Axle, loads []Estimate, weighed bool, doubt string) []rated {
	if len(axles) == 0 {
		return []rated{{rule: of + " axle rating", what: "axles of the " + word(of), of: of + ".axles", ask: askMaker}}
	}
	var out []rated
	for i, a := range axles {
		field := fmt.Sprintf("%s.running_gear[%d]", of, i)
		ratings := []rating{{field + ".rating", a.Rating}, {field + ".tire_rating", a.tireRating()}}
		var load *Estimate
		if i < len(loads) {
			load = &loads[i]
		}
		r := lowest(of+" axle rating", fmt.Sprintf("axle %d of the %s", i+1, word(of)), load, weighed, ratings...)
		if doubt != "" {
			r.doubt = doubt
		}
		out = append(out, r)
	}
	return out
}

// unloaded says what a coupling that is lifted takes off the axles by which a tow vehicle
// drives: those behind its first, as most do.
func (t Tow) unloaded(s Statics) string {
	var empty measure.Mass
	var coupled Estimate
	for i, a := range t.Truck.Axles[min(1, len(t.Truck.Axles)):] {
		if a.Empty == nil || i+1 >= len(s.Tow) {
			empty = 0
			break
		}
		empty += *a.Empty
		coupled = coupled.Add(s.Tow[i+1])
	}
	if empty == 0 {
		return "; how much load that takes off the drive axle of the tow vehicle is not known"
	}
	loses := Estimate{max(empty-coupled.High, 0), max(empty-coupled.Likely, 0), max(empty-coupled.Low, 0)}
	return fmt.Sprintf("; that takes %s off what the axles of the tow vehicle behind its first carry empty, %s, by which it drives and brakes", loses, empty)
}

func word(of string) string {
	if of == "tow" {
		return "tow vehicle"
	}
	return of
}

// tireRating is what all tires of an axle may carry; nil: not known.
func (a Axle) tireRating() *measure.Mass {
	if a.Each == nil || a.Tires == 0 {
		return nil
	}
	all := measure.Mass(a.Tires) * *a.Each
	return &all
}

func (c rated) finding() finding.Finding {
	f := finding.Finding{Rule: c.rule, Place: say.Text(c.what), Outcome: finding.Unknown, Ask: c.ask}
	if c.load != nil {
		f.Figures = say.Text(c.load.String())
	}
	if c.rating != nil {
		f.Citations = []finding.Citation{described(c.of, *c.rating)}
	}
	switch {
	case c.load != nil && c.load.High < 0:
		f.Outcome, f.Summary = finding.Forbidden, fmt.Sprintf("%s is lifted instead of loaded, by all its ends%s", c.what, c.lifts)
	case c.load != nil && c.load.Low < 0 && (c.rating == nil || c.load.High <= *c.rating):
		f.Outcome, f.Summary = finding.Review, fmt.Sprintf("%s may be lifted instead of loaded%s", c.what, c.lifts)
	case c.rating == nil:
		f.Summary, f.Ask = fmt.Sprintf("the rating of %s is not given (%s)", c.what, c.of), askMaker
	case c.load == nil:
		f.Summary = fmt.Sprintf("what %s weighs is not known; it may weigh %s (%s)", c.what, *c.rating, c.of)
	case c.load.Low > *c.rating:
		f.Outcome, f.Margin = finding.Forbidden, finding.Of(*c.rating-c.load.Likely)
		f.Summary = fmt.Sprintf("%s weighs more than its rating of %s (%s)", c.what, *c.rating, c.of)
	case c.load.High > *c.rating:
		f.Outcome, f.Margin = finding.Review, finding.Of(*c.rating-c.load.High)
		f.Summary = fmt.Sprintf("%s may weigh more than its rating of %s (%s): its parts may be as heavy as that", c.what, *c.rating, c.of)
	default:
		c.within(&f)
	}
	return f
}

// within answers for what is within its rating.
func (c rated) within(f *finding.Finding) {
	f.Margin = finding.Of(*c.rating - c.load.High)
	switch {
	case c.doubt != "" && c.exact:
		f.Summary = fmt.Sprintf("%s is within the lowest rating that is given, %s (%s), but %s", c.what, *c.rating, c.of, c.doubt)
	case !c.exact:
		f.Summary = fmt.Sprintf("%s would be within its rating of %s (%s), by masses that nobody weighed", c.what, *c.rating, c.of)
		if c.doubt != "" {
			f.Summary += "; and " + c.doubt
		}
	default:
		f.Outcome, f.Ask = finding.Clear, ""
		f.Citations[0].Decides = true
		f.Summary = fmt.Sprintf("%s is within its rating of %s (%s)", c.what, *c.rating, c.of)
	}
}

// factsRead is when the figures of this package that were read were read.
var factsRead = time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC)

// ofDescription is the source of what the description of a rig states.
const ofDescription = "the description of the rig"

// described is the row of a figure that the description states.
func described(field string, m measure.Mass) finding.Citation {
	return finding.Citation{ID: field, Published: m.String(), Status: finding.Verified, Source: ofDescription, Decides: true}
}

// shareRange is what share of a unit's mass should rest on its coupling.
type shareRange struct {
	low, high float64
	row       finding.Citation
}

// couplingShares are those of trailer makers, on balls and pintles; on goosenecks
// and fifth wheels the wider range of two, read second-hand in the manual of a
// truck, stands beside the narrower that was read.
var couplingShares = map[Coupling]shareRange{
	Ball:       {0.10, 0.15, shareRow("10 to 15 %")},
	Pintle:     {0.10, 0.15, shareRow("10 to 15 %")},
	FifthWheel: {0.15, 0.25, shareRow("20 to 25 %, and 15 to 25 % in a truck owner's manual, read second-hand")},
	Gooseneck:  {0.15, 0.25, shareRow("20 to 25 %, and 15 to 25 % in a truck owner's manual, read second-hand")},
}

func shareRow(published string) finding.Citation {
	return finding.Citation{ID: "coupling share", Published: published, Status: finding.Secondary, Source: "a trailer maker's owner manual", Section: "3.1", ReadOn: factsRead, Decides: true}
}

// couplingShare compares the share on the coupling with what makers ask for. It
// never clears: makers of a coupling, a unit and a truck each have their own.
func (r Rig) couplingShare(s Statics) finding.Finding {
	f := finding.Finding{Rule: "coupling share", Place: say.Text("what rests on the coupling"), Outcome: finding.Unknown, Ask: askScale}
	want, known := couplingShares[r.Unit.Coupling]
	switch {
	case !s.Known():
		f.Summary = "what share rests on the coupling is not known: too little of the unit's parts and axles is described, and no scale's ticket is given"
		return f
	case !known:
		f.Summary = "what share should rest on the coupling is not known, because its kind is not given (unit.coupling)"
		return f
	}
	low, likely, high := s.Share.Low, s.Share.Likely, s.Share.High
	f.Citations = []finding.Citation{want.row}
	f.Figures = say.Text(fmt.Sprintf("%.1f %%", 100*likely))
	if low != high {
		f.Figures = say.Text(fmt.Sprintf("%.1f %%, from %.1f to %.1f %%", 100*likely, 100*low, 100*high))
	}
	usual := fmt.Sprintf("%.0f to %.0f %%", 100*want.low, 100*want.high)
	switch {
	case high < 0:
		f.Outcome, f.Summary = finding.Forbidden, "nothing rests on the coupling: the unit lifts it"
	case !(likely >= want.low):
		f.Outcome, f.Summary = finding.Review, "less rests on the coupling than the "+usual+" that makers ask for: such units sway"
	case likely > want.high:
		f.Outcome, f.Summary = finding.Review, "more rests on the coupling than the "+usual+" that makers ask for: it takes weight off the steering axle"
	case low < want.low || high > want.high:
		f.Outcome, f.Summary = finding.Review, "the share lies within the "+usual+" that makers ask for only if the parts weigh what is likely"
	default:
		f.Summary = "the share lies within the " + usual + " that makers ask for; those of your coupling, unit and truck decide"
		f.Ask = askMaker
	}
	return f
}

// sideBySide compares both sides of the unit's axles with half of what their
// tires may carry.
func (r Rig) sideBySide(s Statics) finding.Finding {
	f := finding.Finding{Rule: "side to side", Place: say.Text("tires of the unit"), Outcome: finding.Unknown, Ask: askScale}
	if s.Right == nil || s.Group == nil {
		f.Summary = "how much each side carries is not known: parts without a place across, or axles without a track"
		return f
	}
	left := Estimate{s.Group.Low - s.Right.High, s.Group.Likely - s.Right.Likely, s.Group.High - s.Right.Low}
	if s.Right.Exact() && s.Group.Exact() {
		left = Exactly(s.Group.Likely - s.Right.Likely)
	}
	side, heavy := "right", *s.Right
	if left.Likely > s.Right.Likely {
		side, heavy = "left", left
	}
	if s.Group.Likely <= 0 {
		f.Summary = "how much each side carries is not known: the axles carry nothing"
		return f
	}
	return r.heavySide(s, side, heavy)
}

// heavySide compares the tires of one side, axle by axle, as if each axle leaned as
// all of them do together.
func (r Rig) heavySide(s Statics, side string, heavy Estimate) finding.Finding {
	c := rated{rule: "side to side", what: "the " + side + " side of the unit's axles", of: "unit.running_gear", ask: askScale}
	c.exact = s.OfScale() && (r.Unit.Ticket.Right != nil || r.Unit.Ticket.Left != nil)
	c.doubt = unequal(s)
	worst := 0.0
	for i, a := range r.Unit.Frame.Axles {
		limit := a.Lowest()
		if limit == nil || i >= len(s.Axles) {
			c.rating, c.load = nil, &heavy
			break
		}
		half := *limit / 2
		on := func(axle, side, all measure.Mass) measure.Mass {
			return measure.Mass(math.Ceil(float64(axle) * float64(side) / float64(max(all, 1))))
		}
		share := func(side measure.Mass) measure.Mass { return on(s.Axles[i].Likely, side, s.Group.Likely) }
		load := Estimate{share(heavy.Low), share(heavy.Likely), share(heavy.High)}
		if use := float64(load.High) / float64(half); use > worst {
			worst = use
			c.load, c.rating = &load, &half
			c.what = fmt.Sprintf("the %s side of axle %d of the unit", side, i+1)
			c.of = fmt.Sprintf("half of unit.running_gear[%d]", i)
		}
	}
	f := c.finding()
	if f.Outcome == finding.Forbidden { // each axle leans in its own way
		f.Outcome = finding.Review
	}
	return f
}

// Lowest is the lower of an axle's own rating and that of its tires; nil where
// one is not known.
func (a Axle) Lowest() *measure.Mass {
	tires := a.tireRating()
	if tires == nil || a.Rating == nil {
		return nil
	}
	least := min(*tires, *a.Rating)
	return &least
}
