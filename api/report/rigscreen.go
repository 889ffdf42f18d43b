package report

import (
	"cmp"
	"slices"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// rigScreen is the answer about a rig in ten lines: what it comes to, mass, balance,
// ratings, tipping, wind, turning, fuel, and what to do. What truck a unit takes stands
// there while none tows it. All else opens.
func rigScreen(v View, a *wire.RigAnswer) *screen {
	s := &screen{in: v.In}
	s.whole().briefly(say.That("screen.rig.title", "invented", a.Invented, "unit", s.clip(a.Rig.Unit.Name),
		"tow", s.clip(a.Rig.Tow.Name)))
	s.comesTo(a)
	s.weighs(a.Report)
	s.balance(a.Report)
	s.tightest(a.Findings)
	s.stands(a.Report)
	s.corners(a.Report)
	s.tried(a.Corner)
	if !towed(a.Rig) {
		s.asks(a.Needs)
	}
	if p := a.Plan; p != nil {
		s.part(say.That("screen.label.way")).briefly(say.That("screen.way", "length", p.Length, "shut", !p.Passable,
			"given", p.Given, "time", drivingTime(p.Time.Duration, p.Time.Unknown), "slow", ifSlow(p.Time), "roads",
			say.Remark{}))
		s.fuel(p)
	} else {
		s.burns(a.Burning)
	}
	s.first(a)
	foot := s.whole()
	foot.keeps(say.That("caution.aid"))
	if !v.Full {
		foot.keeps(s.fitting(screenWidth, s.rigExamples(a), func(examples []string) say.Remark {
			return say.That("screen.open", "examples", examples)
		}))
	}
	s.most = s.shortest()
	return s
}

// fitting says something with as many of some texts as one line has room for, at least one.
func (s *screen) fitting(wide int, texts []string, says func([]string) say.Remark) say.Remark {
	for len(texts) > 1 && len([]rune(s.in.Say(says(texts)))) > wide {
		texts = texts[:len(texts)-1]
	}
	return says(texts)
}

// shortest is how many lines a screen has of which each thing takes one where its beginning
// is enough.
func (s *screen) shortest() (lines int) {
	for _, p := range s.parts {
		labels := s.labels()
		if p.whole {
			labels = 0
		}
		for _, i := range p.items {
			if i.most == briefLines {
				lines++
			} else {
				lines += len(p.folded(i, labels))
			}
		}
	}
	return lines
}

// towed reports whether anything is known of what tows the unit.
func towed(r rig.Rig) bool {
	t := r.Tow
	return t.Name != "" || t.Length != nil || t.Height != nil || t.Mass != nil || len(t.Truck.Axles) > 0
}

// comesTo says what all answers come to, and the rules that make it so.
func (s *screen) comesTo(a *wire.RigAnswer) {
	all := a.Found()
	worst := finding.Roll(all).Outcome()
	var rules []say.Remark
	unknown := 0
	for _, f := range all {
		if stateOf(f.Outcome) == state(finding.Unknown) {
			unknown++
		}
		if stateOf(f.Outcome) == stateOf(worst) && worst != finding.Clear {
			rules = append(rules, say.Remark{Code: f.Rule.Term()})
			s.speaksOf(f)
		}
	}
	rules = say.Once(rules)
	n := s.some(fewRules, len(rules))
	s.part(say.That("screen.label.verdict")).keeps(say.That("screen.rig.comes_to", "state", stateOf(worst),
		"open", unknown > 0 && stateOf(worst) != state(finding.Forbidden), "rules", rules[:n], "more", len(rules)-n,
		"unknown", unknown, "all", len(all)))
}

// fewRules is how many rules are named that decide.
const fewRules = 2

// weighs says what the unit weighs and on what that rests, and what the rig does.
func (s *screen) weighs(r rig.Report) {
	part := s.part(say.That("screen.label.weighs"))
	on := r.Statics.Unit
	if on.High == 0 {
		part.keeps(say.That("screen.rig.not_weighed", "why", r.Statics.Unknown))
		return
	}
	var stated, whole any
	if m, ok := r.Rig.Unit.Mass.Value(); ok && r.Statics.Basis == rig.ByParts {
		stated = m
	}
	if m, ok := r.Rig.Mass.Least(); ok && towed(r.Rig) {
		whole = m
	}
	says := say.That("screen.rig.weighs", "mass", spread(on), "basis",
		say.Or(basis[r.Statics.Basis], say.That("screen.rig.as_stated")), "rig", whole, "least", r.Rig.Mass.AtLeast())
	if stated != nil {
		says = say.That("screen.rig.stated", "mass", stated, "parts", reaches(on), "rig", whole,
			"least", r.Rig.Mass.AtLeast())
	}
	part.keeps(says)
}

var basis = map[rig.Basis]say.Remark{
	rig.ByParts: say.That("screen.rig.by_parts"), rig.OnScale: say.That("screen.rig.on_scale"),
}

// spread is a mass with the ends between which it lies, the low one rounded down and
// the high one up.
func spread(e rig.Estimate) say.Remark {
	if e.Exact() {
		return say.That("screen.alone", "value", e.Likely)
	}
	return say.That("screen.rig.between", "likely", e.Likely, "low", e.Low, "high", e.High)
}

// reaches are the ends of a mass, the low one rounded down and the high one up.
func reaches(e rig.Estimate) say.Remark {
	if e.Exact() {
		return say.That("screen.alone", "value", e.Likely)
	}
	return say.That("screen.rig.ends", "low", e.Low, "high", e.High)
}

// balance says what rests on the coupling, and whether that is the share that is asked
// for.
func (s *screen) balance(r rig.Report) {
	part := s.part(say.That("screen.label.balance"))
	on, ok := r.Statics.Coupling.Value()
	if !ok {
		part.briefly(say.That("screen.rig.not_known", "why", r.Statics.Unknown))
		return
	}
	var share any
	for _, f := range r.Findings {
		if f.Rule == rig.RuleCouplingShare {
			share = stateOf(f.Outcome)
			s.speaksOf(f)
		}
	}
	part.keeps(say.That("screen.rig.balance", "mass", spread(on), "percent", 100*r.Statics.Share.Likely, "share", share))
}

// tightest says what is over its rating, else what has least left of it, and which
// ratings nobody gave.
func (s *screen) tightest(all []finding.Finding) {
	part := s.part(say.That("screen.label.ratings"))
	var over, within, missing []say.Remark
	weighed := true
	for _, f := range byRoom(closest(all)) {
		if f.Reason == finding.NotGiven && f.Figures.None() {
			missing = append(missing, say.Remark{Code: f.Rule.Term()})
			continue
		}
		weighed = weighed && f.Reason != finding.NotMeasured
		likely, high := carried(f)
		s.speaksOf(f)
		if _, is := beyond(f.Margin); is {
			if high.Code == "screen.no_answer" {
				high = say.Remark{}
			}
			over = append(over, say.That("screen.rig.beyond", "what", placeOf(f, all), "likely", likely, "high", high,
				"rated", ratedFor(f), "leaves", left(f), "state", stateOf(f.Outcome)))
		} else if f.Margin.Known() {
			within = append(within, say.That("screen.rig.within", "what", placeOf(f, all), "rated", ratedFor(f),
				"leaves", left(f)))
		}
	}
	part.keeps(over...)
	if len(over) == 0 && len(within) > 0 {
		part.keeps(say.That("screen.rig.least_left", "what", within[0], "count", len(within), "weighed", weighed,
			"missing", len(missing)))
	} else if len(missing) > 0 {
		part.briefly(say.That("screen.rig.no_ratings", "ratings", missing))
	}
}

// byRoom puts ratings in the order of the share that they leave.
func byRoom(all []finding.Finding) []finding.Finding {
	room := func(f finding.Finding) float64 {
		rated, _ := ratedFor(f).Get("value").(measure.Mass)
		if rated == 0 {
			return 1
		}
		return float64(kilos0(f.Margin)) / float64(rated)
	}
	slices.SortStableFunc(all, func(a, b finding.Finding) int { return cmp.Compare(room(a), room(b)) })
	return all
}

// stands says how near the unit is to tipping, and which wind stops it.
func (s *screen) stands(r rig.Report) {
	tip := say.That("screen.rig.not_known", "why", r.Tip.Why())
	if t, ok := r.Tip.Value(); ok {
		tip = say.That("screen.rig.tips", "low", t.Low, "rigid", t.Rigid)
	}
	s.part(say.That("screen.label.tipping")).briefly(tip)
	s.part(say.That("screen.label.wind")).briefly(say.That("screen.rig.wind", "slows", r.Winds.Slow > 0,
		"slow", r.Winds.Slow, "road", r.Winds.SlowRoad, "steady", r.Winds.Steady,
		"gust", r.Winds.Gust, "own", r.Winds.Computed.Known()))
}

// corners says how the rig turns a corner, and where it touches as it bends.
func (s *screen) corners(r rig.Report) {
	part := s.part(say.That("screen.label.turning"))
	if !r.Turning.Rig.Known() {
		part.briefly(say.That("screen.rig.not_known", "why", r.Turning.Rig.Why()))
		return
	}
	bent := say.Remark{}
	if b, ok := r.Bending.Value(); ok && b.First != nil {
		bent = say.That("screen.rig.touches", "angle", b.First.Angle, "against", b.First.Against, "box", b.First.Box,
			"unsure", b.First.Unsure)
	} else if ok {
		bent = say.That("screen.rig.free", "angle", float64(rig.Square))
	}
	circle := say.Remark{}
	for _, c := range r.Turning.Circles {
		if c.Radius == corner && c.Held {
			circle = say.That("screen.rig.corner", "radius", long(c.Radius), "in", long(c.OffTracking),
				"swept", long(c.Width))
		}
	}
	part.keeps(say.Text(s.in.All([]say.Remark{circle, bent})))
}

// asks says in a line what truck the unit takes.
func (s *screen) asks(n rig.Needs) {
	part := s.part(say.That("screen.label.truck"))
	towed, ok := n.Towed.Value()
	if !ok {
		part.keeps(say.That("screen.rig.not_known", "why", n.Why))
		return
	}
	var resting any
	if on, known := n.Resting.Value(); known {
		resting = on.High
	}
	part.keeps(say.That("screen.rig.takes", "needs", resting, "high", towed.High, "share", n.ByShare))
}

// burns says what the rig burns on a level road by speed, and how sure that is.
func (s *screen) burns(known measure.Known[rig.Burning]) {
	b, ok := known.Value()
	if !ok {
		return
	}
	var each []say.Remark
	for _, r := range b.Rates {
		if r.Grade == 0 && r.Held && slices.Contains(shownSpeeds, r.Speed) {
			each = append(each, say.That("screen.rig.rate", "likely", r.Burns.Likely, "first", len(each) == 0,
				"low", r.Burns.Low, "high", r.Burns.High, "speed", r.Speed))
		}
	}
	s.part(say.That("screen.label.fuel")).briefly(say.That("screen.rig.burns", "each", each, "logs", b.Logs))
}

// shownSpeeds are those of which a screen says what the rig burns.
var shownSpeeds = []measure.Speed{80 * measure.KilometrePerHour, 100 * measure.KilometrePerHour}

// first says what to do: how many tasks there are, the first of them, and how to open
// one.
func (s *screen) first(a *wire.RigAnswer) {
	part := s.part(say.That("screen.label.tasks"))
	l := a.Tasks()
	if l.Open == 0 || len(l.Tasks) == 0 {
		part.keeps(say.That("screen.no_tasks", "told", l.Told))
		return
	}
	var ids []string
	for _, t := range l.Tasks[:min(firstTasks, len(l.Tasks))] {
		ids = append(ids, t.ID)
	}
	part.keeps(s.fitting(screenWidth-s.labels(), ids, func(ids []string) say.Remark {
		return say.That("screen.rig.first", "tasks", len(l.Tasks), "open", l.Open, "settled",
			l.Tasks[len(l.Tasks)-1].Opened, "ids", ids)
	}))
}

// rigSubjects are the findings about a rig, and about it on the way.
func rigSubjects(a *wire.RigAnswer) (out []subject) {
	for _, f := range a.Findings {
		out = append(out, subject{Finding: f})
	}
	if a.Plan != nil {
		out = append(out, subjects(a.Plan)...)
	}
	return out
}

// rigExamples are things of a rig that --why opens: what the first findings are about
// that are not clear.
func (s *screen) rigExamples(a *wire.RigAnswer) (out []string) {
	var rules []finding.Rule
	for _, f := range a.Findings {
		if f.Outcome != finding.Clear && !slices.Contains(rules, f.Rule) && len(rules) < ofTopic {
			rules = append(rules, f.Rule)
			out = append(out, s.in.Term(f.Rule))
		}
	}
	return out
}
