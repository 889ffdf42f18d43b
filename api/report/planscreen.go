package report

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// planScreen is the answer to a plan on one screen: what was asked, what it comes to
// and what decides that; the way and when it is driven; what the rules say, what to
// ask for and to pass under; fuel; what to do next.
func planScreen(v View, p *trip.Plan) *screen {
	s := &screen{in: v.In, full: v.Full}
	s.asked(p)
	s.verdict(p, decisive)
	s.way(p)
	s.rules(p)
	s.permits(p)
	s.escorts(p)
	s.overhead(p)
	s.fuel(p)
	s.tasks(p.Tasks())
	s.foot(s.examples(p))
	return s
}

// asked says what was asked: from where to where, when, and with what.
func (s *screen) asked(p *trip.Plan) {
	from, to := ends(p)
	s.whole().briefly(say.That("screen.plan.title", "invented", p.RestsOnInvented(), "name", s.clip(p.Name),
		"from", s.name(from), "to", s.name(to)))
	s.rig(p.Rig)
}

func (s *screen) name(r say.Remark) string { return s.clip(s.in.Say(r)) }

// rig says how large a rig is and what it counts as; of its height and its width only
// what is not the unit's own.
func (s *screen) rig(r rig.Rig) {
	u := r.Unit
	s.part(say.That("screen.label.unit")).keeps(say.That("screen.unit", "name", s.clip(u.Name), "height", given(u.Height),
		"measured", u.HeightMeasured, "designed", u.Height != nil && !u.HeightMeasured, "width", leastOf(u.Width),
		"length", given(u.Length), "mass", leastOf(u.Mass)))
	var height, width any
	if h, ok := r.Height.Value(); !ok || u.Height == nil || h != *u.Height {
		height = leastOf(r.Height)
	}
	if w, ok := r.Width.Value(); !ok || w != *cmp.Or(u.Width.Pointer(), new(measure.Length)) {
		width = leastOf(r.Width)
	}
	s.part(say.That("screen.label.rig")).keeps(say.That("screen.rig", "name", s.clip(r.Tow.Name), "form", r.Tow.Form,
		"height", height, "width", width, "length", leastOf(r.Length), "mass", leastOf(r.Mass),
		"kind", u.Kind, "use", r.Use))
}

// size is a length or a mass, or that it is not known.
func size(q finding.Quantity) any {
	if !q.Known() {
		return say.That("screen.size_not_known")
	}
	return q
}

func given[T measure.Length | measure.Mass](v *T) any {
	if v == nil {
		return size(finding.Quantity{})
	}
	return size(finding.Of(*v))
}

func leastOf[T measure.Length | measure.Mass](k measure.Known[T]) any {
	v, some := k.Least()
	switch {
	case !some:
		return size(finding.Quantity{})
	case k.AtLeast():
		return size(finding.Of(v).Least())
	default:
		return size(finding.Of(v))
	}
}

// verdict says what the answers come to, and the few that decide it most.
func (s *screen) verdict(p *trip.Plan, most int) {
	c := counts{}
	var all []finding.Finding
	for _, f := range p.All() {
		c.add(f.Outcome)
		all = append(all, f)
	}
	part := s.apart(say.That("screen.label.verdict"))
	part.keeps(c.verdict(p.Verdict.Outcome()))
	if missing := missing(all); len(missing) > 0 {
		part.keeps(say.That("screen.not_given", "quantities", missing))
		most--
	}
	for _, f := range deciding(all, s.some(most, len(all))) {
		part.briefly(s.decides(f))
		s.speaksOf(f)
	}
}

// missing are the sizes that every rule asks for and that nobody gave.
func missing(all []finding.Finding) (out []say.Term) {
	for _, q := range []limit.Quantity{limit.Height, limit.Width, limit.TrailerLength, limit.GrossMass} {
		if slices.ContainsFunc(all, func(f finding.Finding) bool { return notGiven(f) && f.Rule == finding.Rule(q) }) {
			out = append(out, q)
		}
	}
	return out
}

// How many findings are shown to decide a plan, and how many of one topic.
const (
	decisive = 3
	ofTopic  = 2
)

// weight is the order in which known findings of a topic decide.
var weight = []finding.Topic{
	finding.Route, finding.Structure, finding.Sign, finding.Limit, finding.Permits, finding.Notice, finding.Owner,
	finding.Rig, finding.Hours, finding.Road, finding.Duty, finding.Network, finding.Given,
}

// deciding are the known findings that decide: those that forbid first, else by their
// topics, of one rule in one jurisdiction the gravest.
func deciding(all []finding.Finding, most int) (out []finding.Finding) {
	grave := slices.DeleteFunc(slices.Clone(all), func(f finding.Finding) bool {
		return stateOf(f.Outcome) == state(finding.Unknown) || f.Outcome == finding.Clear
	})
	slices.SortStableFunc(grave, func(a, b finding.Finding) int {
		return cmp.Or(forbids(a)-forbids(b), slices.Index(weight, a.Topic)-slices.Index(weight, b.Topic))
	})
	topics := map[finding.Topic]int{}
	for _, f := range grave {
		told := slices.ContainsFunc(out, func(o finding.Finding) bool {
			return o.Rule == f.Rule && o.Jurisdiction == f.Jurisdiction && o.Topic != finding.Structure
		})
		if told || len(out) == most || topics[f.Topic] == ofTopic {
			continue
		}
		topics[f.Topic]++
		out = append(out, f)
	}
	return out
}

func forbids(f finding.Finding) int {
	if f.Outcome == finding.Forbidden {
		return 0
	}
	return 1
}

// decides tells a finding that decides. One about a size says by how much.
func (s *screen) decides(f finding.Finding) say.Remark {
	if over, ok := beyond(f.Margin); ok && f.Topic == finding.Limit {
		return say.That("screen.over", "state", stateOf(f.Outcome), "about", about(f), "value", f.Value, "over", over,
			"asks", asks(f.Demands))
	}
	var says say.Remark
	if len(f.Says) > 0 {
		says = f.Says[0]
	}
	about := about(f)
	if f.Topic == finding.Hours || f.Topic == finding.Duty { // what they say begins with their rule
		about = say.That("screen.where", "jurisdiction", f.Jurisdiction)
	}
	return say.That("screen.decides", "state", stateOf(f.Outcome), "about", about, "says", says)
}

// about is what a finding is about.
func about(f finding.Finding) say.Remark {
	return say.That("screen.about", "jurisdiction", f.Jurisdiction, "rule", f.Rule, "place", f.Place)
}

// beyond is by how much something is over, where it is.
func beyond(margin finding.Quantity) (finding.Quantity, bool) {
	if l, ok := margin.Length(); ok && l < 0 {
		return finding.Of(-l), true
	}
	if m, ok := margin.Mass(); ok && m < 0 {
		return finding.Of(-m), true
	}
	return finding.Quantity{}, false
}

// asks is what demands ask for, without hours and what a person must read.
func asks(d finding.Demands) []say.Remark {
	return append(append(slices.Clone(d.Permits), vehicles(d)), alongside(d)...)
}

// way says which way is taken, past what, how long it takes, and what the road data
// does not know of it.
func (s *screen) way(p *trip.Plan) {
	part := s.apart(say.That("screen.label.way"))
	part.briefly(say.That("screen.way", "length", p.Length, "shut", !p.Passable, "given", p.Given, "time", drivingTime(p.Time.Duration,
		p.Time.Unknown), "roads", s.listed(s.in.Each(roads(p)))))
	n := s.some(few, len(p.Avoided))
	for _, a := range p.Avoided[:n] {
		part.hints(avoids(a))
	}
	part.hides(len(p.Avoided) - n)
	s.offs(part, p.Off)
	s.part(say.That("screen.label.times")).keeps(s.times(p))
	s.roads(p.About)
}

// lacked is how many kinds of fact that the road data lacks are named.
const lacked = 6

// roads says what the road data is and does not know.
func (s *screen) roads(about network.About) {
	var lacks []say.Term
	for _, fact := range about.Lacks {
		lacks = append(lacks, fact)
	}
	more := len(lacks) - s.some(lacked, len(lacks))
	s.part(say.That("screen.label.roads")).keeps(say.That("screen.roads", "caution", about.Caution,
		"lacks", lacks[:len(lacks)-more], "more", more))
}

// roads are what the roads of a plan are called, in the order of travel.
func roads(p *trip.Plan) (out []say.Remark) {
	for _, l := range p.Legs {
		out = append(out, l.Roads...)
	}
	return slices.CompactFunc(out, sameRemark)
}

func sameRemark(a, b say.Remark) bool { return a.String() == b.String() }

// avoids says what a way leaves the shortest for, and what that costs.
func avoids(a choosing.Avoided) say.Remark {
	what := slices.Clone(a.Signs)
	for _, one := range a.Structures {
		if one.Known && one.Margin < 0 {
			what = append(what, say.That("screen.too_low", "what", one.Called, "short", -one.Margin))
		} else {
			what = append(what, one.Called)
		}
	}
	if a.Ferry {
		what = append(what, say.That("screen.ferry"))
	}
	return say.That("screen.avoids", "what", say.Once(what), "longer", above0(a.Extra), "shorter", above0(-a.Extra), "time",
		drivingTime(a.ExtraTime.Duration, a.ExtraTime.Unknown))
}

// listed is a list of words in one.
func (s *screen) listed(all []string) string { return strings.Join(all, ", ") }

// above0 is a quantity, nil where it is none.
func above0[T measure.Length | measure.Distance | time.Duration](v T) any {
	if v <= 0 {
		return nil
	}
	return v
}

// times says when each jurisdiction is entered and when the trip ends, where that is
// known.
func (s *screen) times(p *trip.Plan) say.Remark {
	var entered []say.Remark
	var in []string
	for _, l := range p.Legs {
		if !l.Start.IsZero() && !slices.Equal(in, l.Jurisdictions) && in != nil {
			entered = append(entered, say.That("screen.enters", "where", l.Jurisdictions, "at", s.clock(l.Start, p.Departure)))
		}
		in = l.Jurisdictions
	}
	if len(entered) > s.some(few, len(entered)) {
		entered = nil
	}
	depart := s.in.WeekdayMoment(p.Departure)
	n := len(p.Legs)
	if n == 0 || p.Legs[n-1].Start.IsZero() || !p.Time.Unknown.None() {
		return say.That("screen.arrival_not_known", "depart", depart, "enters", entered)
	}
	return say.That("screen.arrival", "depart", depart, "enters", entered,
		"arrive", s.clock(p.Departure.Add(p.Time.Duration+time.Minute-1), p.Departure))
}

// clock is a moment on the clock of another: the time alone where the day is the same.
func (s *screen) clock(t, as time.Time) string {
	t = t.In(as.Location())
	if t.Format(time.DateOnly) == as.Format(time.DateOnly) {
		return s.in.Clock(t)
	}
	return s.in.Moment(t)
}

// examples are things of a plan that --why opens.
func (s *screen) examples(p *trip.Plan) (out []string) {
	for _, l := range p.Legs {
		out = append(out, l.Jurisdictions...)
	}
	slices.Sort(out)
	if out = slices.Compact(out); len(out) > 1 {
		out = out[len(out)-1:]
	}
	out = append(out, s.in.Say(say.That("screen.leg", "n", 1)), s.in.Term(limit.Width))
	for _, one := range passings(p) {
		return append(out, one.ID)
	}
	return out
}

// passed is a structure on a leg, or one that the way avoids.
type passed struct {
	standing.Passing
	leg int
}

// passings are the structures on a plan's legs.
func passings(p *trip.Plan) (out []passed) {
	for i, l := range p.Legs {
		for _, one := range l.Structures {
			out = append(out, passed{one, i + 1})
		}
	}
	return out
}

// tightest are how many structures are shown.
const tightest = 3

// overhead shows the structures with the least room, and counts the others.
func (s *screen) overhead(p *trip.Plan) {
	part := s.part(say.That("screen.label.overhead"))
	all := passings(p)
	slices.SortStableFunc(all, func(a, b passed) int { return cmp.Or(a.rank()-b.rank(), cmp.Compare(a.Margin, b.Margin)) })
	unmeasured, shown := 0, s.some(tightest, len(all))
	for i, one := range all {
		if !one.Known {
			unmeasured++
		}
		if i >= shown {
			continue
		}
		tells := part.tells
		if i == 0 || one.Outcome == finding.Forbidden {
			tells = part.keeps
		}
		tells(one.tells())
		s.speaksOf(one.Finding())
	}
	part.hides(len(all) - shown)
	if unmeasured > 0 {
		part.keeps(say.That("screen.unmeasured", "count", unmeasured))
	}
	if slices.Contains(p.About.Lacks, network.Structures) {
		part.keeps(say.That("screen.overhead_not_known", "listed", len(all)))
	} else if len(all) == 0 {
		part.keeps(say.That("screen.overhead_none"))
	}
}

// rank is what is shown first: what forbids, then what is measured.
func (p passed) rank() int {
	switch {
	case p.Outcome == finding.Forbidden:
		return 0
	case p.Known:
		return 1
	default:
		return 2
	}
}

// doubt is the word for why a figure is not enough, nothing where there is none.
func doubt(why finding.Reason) any {
	if slices.Contains([]finding.Reason{finding.Recalled, finding.SecondHand, finding.Stale, finding.Made}, why) {
		return why
	}
	return nil
}

func (p passed) tells() say.Remark {
	figure, of := p.Structure.Figure()
	why := doubt(p.Reason)
	if !p.Known || figure == nil {
		return say.That("screen.passes_unmeasured", "state", stateOf(p.Outcome), "called", p.Called, "leg", p.leg, "at", p.At,
			"reason", why)
	}
	var left any
	if p.Margin >= 0 {
		left = p.Margin
	}
	return say.That("screen.passes", "state", stateOf(p.Outcome), "called", p.Called, "leg", p.leg, "at", p.At, "of", of,
		"figure", *figure, "left", left, "short", above0(-p.Margin), "reason", why)
}

// surePermits is how many jurisdictions' permits are shown in any case.
const surePermits = 2

// permits says what to ask for, of whom and by when.
func (s *screen) permits(p *trip.Plan) {
	part := s.part(say.That("screen.label.permits"))
	for i, n := range p.Permits {
		tells := part.hints
		if i < surePermits {
			tells = part.briefly
		}
		tells(askFor(n))
		for _, o := range n.Permits {
			s.shown = append(s.shown, finding.Finding{Topic: finding.Permits, Jurisdiction: n.Jurisdiction,
				Citations: []finding.Citation{o.Row}})
		}
	}
	if len(p.Permits) == 0 {
		part.keeps(say.That("screen.no_permit", "unknown", p.Verdict.Unknowns))
	}
}

func askFor(n regs.Need) say.Remark {
	var because []say.Term
	for _, rule := range n.Because {
		because = append(because, rule)
	}
	var by, fee say.Remark
	for _, o := range n.Permits {
		if !o.AskBy.IsZero() && by.None() {
			by = say.That("screen.ask_by", "day", say.Day(o.AskBy))
		}
		if o.Fee != "" && fee.None() {
			fee = say.That("screen.fee", "fee", o.Fee)
		}
	}
	return say.That("screen.permit", "jurisdiction", n.Jurisdiction, "because", because, "office", named(n.Office),
		"by", say.Or(by, say.That("screen.ask_by_not_known")), "fee", say.Or(fee, say.That("screen.fee_not_known")),
		"held", len(n.Held))
}

// named is an office by its name alone.
func named(office say.Remark) say.Remark {
	if name, ok := office.Get("name").(string); ok {
		return say.Text(name)
	}
	return office
}

// escorts says which vehicles go along, and where that is not known.
func (s *screen) escorts(p *trip.Plan) {
	var open []say.Remark
	for _, f := range p.All() {
		for _, q := range limit.Quantities() {
			if f.Rule == q.Escorts() && f.Outcome == finding.Unknown {
				open = append(open, say.That("screen.escorts_open", "jurisdiction", f.Jurisdiction, "quantity", q))
				s.speaksOf(f)
			}
		}
	}
	d := p.Verdict.Demands
	s.part(say.That("screen.label.escorts")).briefly(say.That("screen.along", "escorts", vehicles(d), "open", say.Once(open),
		"others", alongside(d)))
}

// vehicles are the escorts that are asked for.
func vehicles(d finding.Demands) say.Remark {
	if d.Escorts() == 0 {
		return say.Remark{}
	}
	return say.That("screen.escorts", "front", d.EscortsFront, "rear", d.EscortsRear, "any", d.EscortsAny)
}

// alongside is what is asked for beside escorts.
func alongside(d finding.Demands) (out []say.Remark) {
	if d.HeightPole {
		out = append(out, say.That("screen.pole"))
	}
	if d.Survey {
		out = append(out, say.That("screen.survey"))
	}
	return out
}

// fuel says what the way takes and how far the tank goes.
func (s *screen) fuel(p *trip.Plan) {
	part := s.part(say.That("screen.label.fuel"))
	if !p.Fuel.Unknown.None() {
		part.tells(say.That("screen.fuel_not_known", "why", p.Fuel.Unknown))
		return
	}
	part.keeps(say.That("screen.fuel", "low", p.Fuel.Low, "high", p.Fuel.High, "middle", (p.Fuel.Low+p.Fuel.High)/2,
		"tank", tank(p.Road)))
}

// tank says how far the tank goes on a way.
func tank(d *driving.Drive) say.Remark {
	switch {
	case d == nil:
		return say.Remark{}
	case !d.Tank.Unknown.None():
		return say.That("screen.tank_not_known", "why", d.Tank.Unknown)
	case len(d.Tank.Stops) > 0:
		return say.That("screen.fill_up", "stops", len(d.Tank.Stops), "range", d.Tank.Range)
	default:
		return say.That("screen.tank_enough", "range", d.Tank.Range)
	}
}
