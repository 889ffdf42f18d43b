package rig

import (
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// The rules of findings about a rig.
const (
	RuleRatings       = "ratings" // all of them, of a rig that is not described
	RuleUnitRating    = "unit rating"
	RuleCoupling      = "coupling rating"
	RuleTowed         = "towed rating"
	RuleUnitAxle      = "unit axle rating"
	RuleTowAxle       = "tow axle rating"
	RuleTow           = "tow vehicle rating"
	RuleCombined      = "combined rating"
	RuleCouplingShare = "coupling share"
	RuleSides         = "side to side"
	RulePartsMass     = "mass of the parts"
	RuleTipping       = "tipping over"
	RuleWind          = "wind"
	RuleHolding       = "holding together"
	RuleForgotten     = "forgotten"
)

// Rated reports whether a finding compares a mass with one rating.
func Rated(f finding.Finding) bool {
	rules := []string{RuleUnitRating, RuleCoupling, RuleTowed, RuleUnitAxle, RuleTowAxle, RuleTow, RuleCombined}
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
