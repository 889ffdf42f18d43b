package trip

import (
	"iter"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/trip/standing"
)

// Tasks is what is to be done about the findings of a plan.
func (p *Plan) Tasks() task.List {
	return task.Of(func(yield func(int, finding.Finding) bool) {
		for at, f := range p.All() {
			if !yield(at.Leg, f) {
				return
			}
		}
	})
}

// Tasks is what is to be done about the best way.
func (r *Routes) Tasks() task.List { return r.Best.Tasks() }

// Tasks is what is to be done so that the ladders hold: what each jurisdiction allows,
// and what is not measured on their ways.
func (l *Ladders) Tasks() task.List { return task.Of(l.Findings()) }

// Findings lists what ladders leave open, each once and of no leg.
func (l *Ladders) Findings() iter.Seq2[int, finding.Finding] {
	return func(yield func(int, finding.Finding) bool) {
		q := l.Quantity.Legal()
		for _, k := range l.Legal {
			if !k.Most.Known() && !yield(0, finding.Finding{
				Topic: finding.Limit, Rule: finding.Rule(q), Jurisdiction: k.Jurisdiction,
				Outcome: finding.Unknown, Reason: finding.NoRow, Settles: k.Settles, Invented: k.Invented,
			}) {
				return
			}
		}
		var unknown []say.Remark
		for _, s := range l.Open.Steps {
			unknown = append(unknown, s.Unknowns...)
		}
		for _, what := range say.Once(unknown) {
			if !yield(0, finding.Finding{
				Topic: finding.Structure, Rule: "structure", Place: what, Outcome: finding.Unknown,
				Reason: finding.NotMeasured, Invented: l.Invented, Settles: [][]finding.Step{
					{standing.Surveying(what)}, {{By: finding.Data, Of: "structures", Asks: what}},
				},
			}) {
				return
			}
		}
	}
}
