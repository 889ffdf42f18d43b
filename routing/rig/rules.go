package rig

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// The rules of findings about a rig.
const (
	RuleRatings       finding.Rule = "ratings" // all of them, of a rig that is not described
	RuleUnitRating    finding.Rule = "unit rating"
	RuleCoupling      finding.Rule = "coupling rating"
	RuleTowed         finding.Rule = "towed rating"
	RuleUnitAxle      finding.Rule = "unit axle rating"
	RuleTowAxle       finding.Rule = "tow axle rating"
	RuleTow           finding.Rule = "tow vehicle rating"
	RuleCombined      finding.Rule = "combined rating"
	RuleCouplingShare finding.Rule = "coupling share"
	RuleSides         finding.Rule = "side to side"
	RulePartsMass     finding.Rule = "mass of the parts"
	RuleTipping       finding.Rule = "tipping over"
	RuleWind          finding.Rule = "wind"
	RuleHolding       finding.Rule = "holding together"
	RuleBending       finding.Rule = "bending"
	RuleSteering      finding.Rule = "steering axle"
	RuleTires         finding.Rule = "tires"
	RuleLevel         finding.Rule = "level"
	RuleStopping      finding.Rule = "stopping"
	RuleCorner        finding.Rule = "corner to try"
	RuleForgotten     finding.Rule = "forgotten"
)

// Rated reports whether a finding compares a mass with one rating.
func Rated(f finding.Finding) bool {
	rules := []finding.Rule{RuleUnitRating, RuleCoupling, RuleTowed, RuleUnitAxle, RuleTowAxle, RuleTow, RuleCombined}
	return f.Topic == finding.Rig && slices.Contains(rules, f.Rule)
}

// weigh is the step of weighing, of a field that takes it.
func weigh(of string, asks say.Remark) finding.Step {
	return finding.Step{By: finding.Weigh, Whom: say.That("rig.scale"), Of: of, Asks: asks}
}

// The fields that take what a scale says: of the unit, and of every axle of the rig.
const (
	ofTicket = "unit.scale_ticket"
	ofAxles  = "rig.axles"
)

// tell is the step of saying what a rating is.
func tell(field string) finding.Step {
	return finding.Step{By: finding.Answer, Of: field, Asks: say.That("task.rating", "field", field)}
}

// describe is the step of describing more of the rig.
func describe(field string) finding.Step {
	return finding.Step{By: finding.Answer, Of: field, Asks: say.That("task.describe", "field", field)}
}

// judge is the step of having an engineer judge the rig.
func judge(asks say.Remark) finding.Step {
	return finding.Step{By: finding.Expert, Whom: say.That("rig.engineer"), Of: "rig", Asks: asks}
}

// seeTo is the step of seeing to something each time before the rig leaves.
func seeTo(whom, asks say.Remark) finding.Step {
	return finding.Step{By: finding.Meet, Whom: whom, Asks: asks}
}
