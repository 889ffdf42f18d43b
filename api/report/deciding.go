package report

import (
	"cmp"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

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
		return cmp.Or(forbids(a)-forbids(b), slices.Index(weight, a.Topic)-slices.Index(weight, b.Topic),
			slices.Index(finding.Outcomes(), b.Outcome)-slices.Index(finding.Outcomes(), a.Outcome))
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
