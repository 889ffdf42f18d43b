package report

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// A column of the table of rules holds what is answered about one thing.
type column struct {
	name say.Remark
	of   func(finding.Finding) bool
}

func columns() []column {
	about := func(quantities ...limit.Quantity) func(finding.Finding) bool {
		return func(f finding.Finding) bool {
			return f.Topic == finding.Limit && slices.Contains(quantities, limit.Quantity(f.Rule))
		}
	}
	topics := func(all ...finding.Topic) func(finding.Finding) bool {
		return func(f finding.Finding) bool { return slices.Contains(all, f.Topic) }
	}
	return []column{
		{say.That("screen.column.height"), about(limit.Height)},
		{say.That("screen.column.width"), about(limit.Width)},
		{say.That("screen.column.lengths"), about(limit.TrailerLength, limit.CombinationLength, limit.SingleVehicleLength,
			limit.FrontOverhang, limit.RearOverhang, limit.KingpinToRearAxle)},
		{say.That("screen.column.masses"), func(f finding.Finding) bool {
			return f.Topic == finding.Limit && limit.Quantity(f.Rule).IsMass() || limit.Quantity(f.Rule) == limit.BridgeFormula
		}},
		{say.That("screen.column.driving"), topics(finding.Hours, finding.Duty)},
	}
}

// rules writes a table of what each jurisdiction says, in the order of the way; with
// the margins where they have room.
func (s *screen) rules(p *trip.Plan) {
	var order []string
	by := map[string][]finding.Finding{}
	for _, f := range p.All() {
		if !ofLimits(f) && f.Topic != finding.Duty {
			continue
		}
		if by[f.Jurisdiction] == nil {
			order = append(order, f.Jurisdiction)
		}
		by[f.Jurisdiction] = append(by[f.Jurisdiction], f)
	}
	part := s.apart(say.That("screen.label.rules"))
	var heads []say.Remark
	for _, c := range columns() {
		heads = append(heads, c.name)
	}
	part.head(append(heads, say.That("screen.column.unknown"))...)
	if len(order) > sure { // then the gravest come first
		slices.SortStableFunc(order, func(a, b string) int { return gravity(by[b]) - gravity(by[a]) })
	}
	for i, code := range order {
		s.ruleRow(part, i < sure || finding.Roll(by[code]).Worst == finding.Forbidden, code, by[code])
	}
}

// sure is how many jurisdictions have their row in any case.
const sure = 4

func (s *screen) ruleRow(part *part, stays bool, code string, all []finding.Finding) {
	var cells, rich []string
	for _, c := range columns() {
		word, margin := s.cell(all, c.of)
		cells, rich = append(cells, word), append(rich, cmp.Or(margin, word))
	}
	n := strconv.Itoa(unknowns(all))
	part.richRow(stays, s.in.Say(say.That("screen.jurisdiction", "code", code)), append(cells, n), append(rich, n))
}

// gravity orders jurisdictions by the gravest of their findings that is known.
func gravity(all []finding.Finding) int {
	return slices.Index([]finding.Outcome{finding.Conditional, finding.Review, finding.Forbidden}, finding.Roll(all).Worst)
}

func unknowns(all []finding.Finding) (n int) {
	for _, f := range all {
		if stateOf(f.Outcome) == state(finding.Unknown) {
			n++
		}
	}
	return n
}

// cell is the gravest state of the findings of a column, and the same with its margin
// where it is one finding's. What is not known is graver than what is clear.
func (s *screen) cell(all []finding.Finding, of func(finding.Finding) bool) (word, margin string) {
	order := []finding.Outcome{finding.Clear, finding.Unknown, finding.Conditional, finding.Review, finding.Forbidden}
	worst, n := finding.Finding{}, 0
	for _, f := range all {
		if !of(f) {
			continue
		}
		f.Outcome = finding.Outcome(stateOf(f.Outcome))
		if n++; n == 1 || slices.Index(order, f.Outcome) > slices.Index(order, worst.Outcome) {
			worst = f
		}
	}
	if n == 0 {
		return s.in.Say(say.That("screen.no_answer")), ""
	}
	s.speaksOf(worst)
	state := cell(worst.Outcome)
	if over, is := beyond(worst.Margin); n == 1 && is {
		margin = s.in.Say(say.That("screen.cell_over", "state", state, "over", over))
	} else if n == 1 && worst.Margin.Known() && worst.Outcome != finding.Unknown {
		margin = s.in.Say(say.That("screen.cell_left", "state", state, "left", worst.Margin))
	}
	return s.in.Term(state), margin
}

// drivingTime is a time in words, also where it is not, or not wholly, known.
func drivingTime(d time.Duration, unknown say.Remark) say.Remark {
	if !unknown.None() {
		return say.That("screen.time_not_known", "why", unknown)
	}
	return say.That("screen.time", "time", d)
}

// ifSlow is the time of a slow trip, nil where it is not known.
func ifSlow(d driving.Duration) any {
	if !d.Unknown.None() {
		return nil
	}
	return above0(d.Slow)
}
