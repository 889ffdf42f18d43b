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
	RuleForgotten     finding.Rule = "forgotten"
)

// Rated reports whether a finding compares a mass with one rating.
func Rated(f finding.Finding) bool {
	rules := []finding.Rule{RuleUnitRating, RuleCoupling, RuleTowed, RuleUnitAxle, RuleTowAxle, RuleTow, RuleCombined}
	return f.Topic == finding.Rig && slices.Contains(rules, f.Rule)
}

// weigh is the step that settles what a mass is, of a field or "" for all of the rig.
func weigh(of string) finding.Step {
	return finding.Step{By: finding.Weigh, Whom: say.That("rig.scale"), Of: of}
}

// readPlate is the step that settles what a rating is.
func readPlate(of string) finding.Step {
	return finding.Step{By: finding.Expert, Whom: say.That("rig.maker"), Of: of}
}
