package rig

import (
	"cmp"
	"fmt"
	"math"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// rated is one thing that carries a mass and has a rating.
type rated struct {
	rule   finding.Rule
	what   say.Remark
	load   measure.Known[Estimate]
	rating measure.Known[measure.Mass]
	of     string // the field that the rating comes from
	// missing are the fields of ratings that are not stated.
	missing []string
	half    bool       // half of what the field says, for one side
	exact   bool       // the load was weighed
	doubt   say.Remark // why even a load that was weighed does not settle it
	lifts   say.Remark // what else happens where it is lifted
}

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
	said, _ := r.Unit.Mass.Value()
	if s.Apart.None() {
		return nil
	}
	return []finding.Finding{{
		Topic: finding.Rig, Rule: RulePartsMass, Place: say.That("rig.unit"), Outcome: finding.Review,
		Reason: finding.Contradicts, Value: finding.Of(said),
		Says: []say.Remark{s.Apart}, Settles: finding.By(weigh(ofTicket, say.That("task.weigh_unit"))),
	}}
}

func (r Rig) rated(s Statics) []rated {
	u, t := r.Unit, r.Tow
	weighed := s.OfScale()
	var unit measure.Known[Estimate]
	if s.Unit.High > 0 {
		unit = measure.Exactly(heavier(s.Unit, u.Mass))
	}
	rig := s.Rig
	if e, ok := rig.Value(); ok {
		rig = measure.Exactly(heavier(e, r.Mass))
	}
	resting := rated{
		rule: RuleCoupling, what: say.That("rig.on_coupling"), load: s.Coupling, exact: weighed,
		lifts: t.unloaded(s),
	}
	pulled := rated{rule: RuleTowed, what: say.That("rig.pulled"), load: unit, exact: weighed}
	onBall, onBars := []rating{
		{
			"unit.coupling_vertical_rating",
			u.Frame.Ratings.Vertical,
		}, {"tow.coupling_vertical_rating", t.Truck.Ratings.Vertical},
	}, []rating{
		{"unit.coupling_towed_rating", u.Frame.Ratings.Towed}, {"tow.coupling_towed_rating", t.Truck.Ratings.Towed},
	}
	if d := t.Truck.Distribution; d != nil {
		onBall = append(onBall, rating{"tow.load_distribution.vertical_rating", d.Vertical})
		onBars = append(onBars, rating{"tow.load_distribution.towed_rating", d.Towed})
	}
	gross := rated{rule: RuleTow, what: say.That("rig.tow_loaded"), load: s.TowGross, exact: s.Weighed}
	combined := rated{rule: RuleCombined, what: say.That("rig.rig"), load: rig, exact: s.Weighed}
	out := []rated{
		rated{rule: RuleUnitRating, what: say.That("rig.unit"), load: unit, exact: weighed}.lowest(
			rating{"unit.gross_rating", u.Frame.Ratings.Gross}),
		resting.lowest(onBall...), pulled.lowest(onBars...),
	}
	// What a tow vehicle carries empty is as it was given: only a scale that it stood
	// on with the unit can clear it.
	out = append(out, axleRatings("unit", u.Frame.Axles, s.Axles, weighed && s.Bars == nil || s.Weighed, unequal(s))...)
	out = append(out, axleRatings("tow", t.Truck.Axles, s.Tow, s.Weighed, say.Remark{})...)
	return append(out,
		gross.lowest(rating{"tow.gross_rating", t.Truck.Ratings.Gross}),
		combined.lowest(rating{"tow.combined_rating", t.Truck.Ratings.Combined}),
	)
}

// heavier is an estimate beside a mass that was stated: it is no less than that.
func heavier(e Estimate, stated measure.Known[measure.Mass]) Estimate {
	mass, ok := stated.Value()
	if !ok {
		return e
	}
	return Estimate{max(e.Low, mass), max(e.Likely, mass), max(e.High, mass)}
}

// unequal says why axles may not share alike.
func unequal(s Statics) say.Remark {
	switch {
	case s.Bars != nil && !s.Weighed:
		return say.That("rig.bars_load_unit")
	case s.Each:
		return say.Remark{}
	case s.Even:
		return say.That("rig.alike_while_level")
	}
	return say.That("rig.alike_if_same_springs")
}

// rating is a rating and the field that states it.
type rating struct {
	of   string
	mass *measure.Mass
}

// lowest compares with the lowest of several ratings; where one is missing, what
// is within the others is not known.
func (c rated) lowest(ratings ...rating) rated {
	for _, r := range ratings {
		least, known := c.rating.Value()
		switch {
		case r.mass == nil:
			c.doubt = say.That("rig.field_missing", "field", r.of)
			c.missing = append(c.missing, r.of)
		case !known || *r.mass < least:
			c.rating, c.of = measure.Exactly(*r.mass), r.of
		}
	}
	if c.rating.Open() {
		c.of = ratings[0].of
	}
	return c
}

// axleRatings compares each axle with its own rating and that of its tires.
func axleRatings(of string, axles []Axle, loads []Estimate, weighed bool, doubt say.Remark) []rated {
	rule, all, axle := RuleUnitAxle, say.That("rig.unit_axles"), unitAxle
	if of == "tow" {
		rule, all, axle = RuleTowAxle, say.That("rig.tow_axles"), towAxle
	}
	if len(axles) == 0 {
		return []rated{{rule: rule, what: all, of: of + ".running_gear"}}
	}
	var out []rated
	for i, a := range axles {
		field := fmt.Sprintf("%s.running_gear[%d]", of, i)
		c := rated{rule: rule, what: axle(i + 1), exact: weighed}
		if i < len(loads) {
			c.load = measure.Exactly(loads[i])
		}
		c = c.lowest(rating{field + ".rating", a.Rating}, rating{field + ".tire_rating", a.tireRating()})
		if !doubt.None() {
			c.doubt = doubt
		}
		out = append(out, c)
	}
	return out
}

func unitAxle(n int) say.Remark { return say.That("rig.unit_axle", "number", n) }
func towAxle(n int) say.Remark  { return say.That("rig.tow_axle", "number", n) }

// unloaded says what a coupling that is lifted takes off the axles by which a tow vehicle
// drives: those behind its first, as most do.
func (t Tow) unloaded(s Statics) say.Remark {
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
		return say.That("rig.unloads_unknown")
	}
	loses := Estimate{max(empty-coupled.High, 0), max(empty-coupled.Likely, 0), max(empty-coupled.Low, 0)}
	return say.That("rig.unloads", "loses", loses.Says(), "empty", empty)
}

// tireRating is what all tires of an axle may carry; nil: not known.
func (a Axle) tireRating() *measure.Mass {
	if a.Each == nil || a.Tires == 0 {
		return nil
	}
	all := measure.Mass(a.Tires) * *a.Each
	return &all
}

// settles is what settles whether a thing carries no more than its rating: the ratings
// that are missing, and a scale.
func (c rated) settles() [][]finding.Step {
	var out []finding.Step
	for _, field := range c.missing {
		out = append(out, tell(field))
	}
	if c.rating.Open() && len(out) == 0 {
		out = append(out, describe(c.of))
	}
	if c.exact && len(out) > 0 {
		return [][]finding.Step{out}
	}
	switch c.rule {
	case RuleTow, RuleCombined, RuleTowAxle:
		return [][]finding.Step{append(out, weigh(ofAxles, say.That("task.weigh_rig")))}
	case RuleSides:
		return [][]finding.Step{append(out, weigh(ofTicket, say.That("task.weigh_sides")))}
	}
	return [][]finding.Step{append(out, weigh(ofTicket, say.That("task.weigh_unit")))}
}

func (c rated) finding() finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: c.rule, Place: c.what, Outcome: finding.Unknown,
		Settles: c.settles(),
	}
	field := say.Text(c.of)
	if c.half {
		field = say.That("rig.half_of", "field", c.of)
	}
	load, weighs := c.load.Value()
	may, rated := c.rating.Value()
	if weighs {
		f.Figures = load.Says()
	}
	if rated {
		f.Citations = []finding.Citation{c.described(may)}
	}
	switch {
	case weighs && load.High < 0:
		f.Answer(finding.Forbidden, finding.Exceeded, say.That("rig.lifted", "what", c.what), c.lifts)
	case weighs && load.Low < 0 && (!rated || load.High <= may):
		f.Answer(finding.Review, finding.Little, say.That("rig.may_be_lifted", "what", c.what), c.lifts)
	case !rated:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.no_rating", "what", c.what, "field", field))
	case !weighs:
		f.Answer(finding.Unknown, finding.NotMeasured, say.That("rig.no_load", "what", c.what, "rating", may, "field", field))
	case load.Low > may:
		f.Margin = finding.Of(may - load.Likely)
		f.Answer(finding.Forbidden, finding.Exceeded, say.That("rig.over", "what", c.what, "rating", may, "field", field))
	case load.Likely > may:
		f.Margin = finding.Of(may - load.Likely)
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.likely_over", "what", c.what, "rating", may, "field", field))
	case load.High > may:
		f.Margin = finding.Of(may - load.High)
		f.Answer(
			finding.Review,
			finding.Exceeded,
			say.That("rig.perhaps_over", "what", c.what, "rating", may, "field", field),
		)
	default:
		f.Margin = finding.Of(may - load.High)
		c.within(&f, may, field)
	}
	return f
}

// within answers for what is within its rating.
func (c rated) within(f *finding.Finding, may measure.Mass, field say.Remark) {
	switch {
	case !c.exact:
		f.Answer(finding.Unknown, finding.NotMeasured,
			say.That("rig.would_be_within", "what", c.what, "rating", may, "field", field))
		if !c.doubt.None() {
			f.Says = append(f.Says, say.That("rig.and", "doubt", c.doubt))
		}
	case !c.doubt.None():
		f.Answer(finding.Unknown, finding.NotDescribed,
			say.That("rig.within_but", "what", c.what, "rating", may, "field", field, "doubt", c.doubt))
	default:
		f.Citations[0].Decides = true
		f.Answer(finding.Clear, "", say.That("rig.within", "what", c.what, "rating", may, "field", field))
	}
}

// handlingRead is when the figures of steering, stopping, tires and hitches were read.
var handlingRead = time.Date(2026, time.November, 29, 0, 0, 0, 0, time.UTC)

// factsRead is when the figures of this package that were read were read.
var factsRead = time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC)

// ofDescription is the source of what the description of a rig states.
const ofDescription = "the description of the rig"

// described is the citation of a rating that the description states.
func (c rated) described(rating measure.Mass) finding.Citation {
	out := finding.Citation{
		ID: c.of, Shows: say.That("rig.rating", "rating", rating), Status: finding.Verified, Source: ofDescription,
		Decides: true,
	}
	if c.half {
		out.ID += "/2"
	}
	return out
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
	return finding.Citation{
		ID: "coupling-share", Published: published, Status: finding.Secondary,
		Source: "a trailer maker's owner manual", Section: "3.1", ReadOn: factsRead, Decides: true,
	}
}

// couplingShare compares the share on the coupling with what makers ask for. It
// never clears: makers of a coupling, a unit and a truck each have their own.
func (r Rig) couplingShare(s Statics) finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleCouplingShare, Place: say.That("rig.on_coupling"),
		Outcome: finding.Unknown, Settles: finding.By(weigh(ofTicket, say.That("task.weigh_coupling")),
			judge(say.That("task.share"))),
	}
	want, known := couplingShares[r.Unit.Coupling]
	switch {
	case s.Coupling.Open():
		f.Answer(finding.Unknown, finding.NotDescribed, say.That("rig.share_unknown"))
		return f
	case !known:
		f.Answer(finding.Unknown, finding.NotGiven, say.That("rig.share_of_no_kind"))
		return f
	}
	low, likely, high := s.Share.Low, s.Share.Likely, s.Share.High
	f.Citations = []finding.Citation{want.row}
	f.Figures = say.That("rig.share", "percent", 100*likely)
	if low != high {
		f.Figures = say.That("rig.share_between", "percent", 100*likely, "low", 100*low, "high", 100*high)
	}
	from, to := 100*want.low, 100*want.high
	switch {
	case high < 0:
		f.Answer(finding.Forbidden, finding.Exceeded, say.That("rig.share_lifts"))
	case !(likely >= want.low):
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.share_less", "from", from, "to", to))
	case likely > want.high:
		f.Answer(finding.Review, finding.Exceeded, say.That("rig.share_more", "from", from, "to", to))
	case low < want.low || high > want.high:
		f.Answer(finding.Review, finding.Little, say.That("rig.share_if_likely", "from", from, "to", to))
	default:
		f.Answer(finding.Unknown, finding.SecondHand, say.That("rig.share_within", "from", from, "to", to))
		f.Settles = finding.By(judge(say.That("task.share")))
	}
	return f
}

// sideBySide compares both sides of the unit's axles with half of what their
// tires may carry.
func (r Rig) sideBySide(s Statics) finding.Finding {
	f := finding.Finding{
		Topic: finding.Rig, Rule: RuleSides, Place: say.That("rig.tires"), Outcome: finding.Unknown,
		Reason: finding.NotDescribed, Settles: finding.By(weigh(ofTicket, say.That("task.weigh_sides"))),
		Says: []say.Remark{say.That("rig.sides_unknown")},
	}
	right, halved := s.Right.Value()
	group, carried := s.Group.Value()
	if !halved || !carried {
		return f
	}
	if group.Likely <= 0 {
		f.Says = []say.Remark{say.That("rig.sides_carry_nothing")}
		return f
	}
	left, _ := s.Left.Value()
	if cmp.Or(cmp.Compare(left.Likely, right.Likely), cmp.Compare(left.High, right.High)) > 0 {
		return r.heavySide(s, Left, left)
	}
	return r.heavySide(s, Right, right)
}

// Side is a side of a unit, looking ahead.
type Side string

// The sides.
const (
	Left  Side = "left"
	Right Side = "right"
)

// Term names the side.
func (s Side) Term() say.Code { return say.Word("side", string(s)) }

// heavySide compares the tires of one side, axle by axle, as if each axle leaned as
// all of them do together.
func (r Rig) heavySide(s Statics, side Side, heavy Estimate) finding.Finding {
	c := rated{rule: RuleSides, what: say.That("rig.side", "side", side), of: "unit.running_gear", doubt: unequal(s)}
	c.exact = s.OfScale() && (r.Unit.Ticket.Right != nil || r.Unit.Ticket.Left != nil)
	group, _ := s.Group.Value()
	worst := 0.0
	for i, a := range r.Unit.Frame.Axles {
		limit := a.Lowest()
		if limit == nil || i >= len(s.Axles) {
			c.rating, c.load = measure.Known[measure.Mass]{}, measure.Exactly(heavy)
			break
		}
		half := *limit / 2
		share := func(side measure.Mass) measure.Mass {
			return measure.Mass(math.Ceil(float64(s.Axles[i].Likely) * float64(side) / float64(max(group.Likely, 1))))
		}
		load := Estimate{share(heavy.Low), share(heavy.Likely), share(heavy.High)}
		if use := float64(load.High) / float64(half); use > worst {
			worst = use
			c.load, c.rating = measure.Exactly(load), measure.Exactly(half)
			c.what = say.That("rig.side_of_axle", "side", side, "number", i+1)
			c.of, c.half = fmt.Sprintf("unit.running_gear[%d]", i), true
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
