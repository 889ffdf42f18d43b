package finding

import "wayhouse/regs/say"

// Topic is what a finding is about.
type Topic string

// The topics.
const (
	Limit     Topic = "limit"     // a size or a mass before the law
	Hours     Topic = "hours"     // when a rig may travel
	Duty      Topic = "duty"      // drivers, brakes and inspections
	Permits   Topic = "permit"    // a permit of the log or to ask for
	Owner     Topic = "owner"     // whose the roads are
	Notice    Topic = "notice"    // works and closures
	Structure Topic = "structure" // what stands over the way or carries it
	Sign      Topic = "sign"      // what the road itself forbids
	Rig       Topic = "rig"       // ratings, balance, anchors, wind
	Road      Topic = "road"      // what the way does to the rig: corners, climbs, fuel, the way to a stop
	Network   Topic = "network"   // what the road data does not know
	Given     Topic = "given"     // a route that was given
	Route     Topic = "route"     // whether there is a way at all
)

// Rule is what was asked within a topic: "height", "structure", "road owner".
type Rule string

// Term is the code of the rule's name.
func (r Rule) Term() say.Code { return say.Word("rule", string(r)) }

// Reason is why a finding is not settled.
type Reason string

// The reasons.
const (
	NotGiven     Reason = "not_given"     // the user did not say
	AtLeast      Reason = "at_least"      // known only as a least value
	Uncertain    Reason = "uncertain"     // within what a measure is uncertain by
	NoRow        Reason = "no_row"        // no row of the tables speaks of it
	Recalled     Reason = "recalled"      // by rows from memory only
	SecondHand   Reason = "second_hand"   // by rows that were read in a text about the source
	Stale        Reason = "stale"         // by rows that were read too long ago
	Made         Reason = "invented"      // by invented data
	ToRead       Reason = "condition"     // a condition or a note must be read
	KindOpen     Reason = "kind_open"     // it hangs on what the rig counts as
	Perhaps      Reason = "perhaps"       // whether it is about this rig, road or time is open
	TimeOpen     Reason = "time_open"     // when the rig is there is not known
	NotMapped    Reason = "not_mapped"    // the road data does not say
	NotMeasured  Reason = "not_measured"  // nobody measured or weighed it
	NotDescribed Reason = "not_described" // too little of the rig is described
	Contradicts  Reason = "contradicts"   // what is known contradicts itself
	Exceeded     Reason = "exceeded"      // it is beyond a figure
	Little       Reason = "little"        // it is within a figure, by little
	Practice     Reason = "practice"      // only a person who knows can judge it
)

// Term is the code of how a row is known that can clear nothing for the reason.
func (r Reason) Term() say.Code { return say.Word("reason", string(r)) }

// Way is by what something is settled.
type Way string

// The ways, the cheapest first.
const (
	Answer  Way = "answer"  // the user answers a question
	Measure Way = "measure" // somebody measures
	Weigh   Way = "weigh"   // on a scale
	Confirm Way = "confirm" // somebody who knows tells whether a row is about the rig
	Verify  Way = "verify"  // a row is read in its source
	Office  Way = "office"  // an authority is asked
	Expert  Way = "expert"  // a maker, an engineer, a driver is asked
	Data    Way = "data"    // road data or a table is brought
	Meet    Way = "meet"    // what is asked is seen to, before the rig leaves or on its way
)

// Ways lists the ways, the cheapest first.
func Ways() []Way { return []Way{Answer, Measure, Weigh, Confirm, Verify, Office, Expert, Data, Meet} }

// Term is the code of the way's name.
func (w Way) Term() say.Code { return say.Word("by", string(w)) }

// Step is one thing that helps to settle a finding.
type Step struct {
	By    Way
	Whom  say.Remark // who is asked; none for what the user does alone
	Of    string     // the field, the row, the office that it is about; "" for the whole finding
	In    string     // the table of a row
	Among []string   // the words that answer it; none: any
	Asks  say.Remark // what is asked, measured, read or seen to; none where the finding itself says it
}

// Asking is how a finding is settled by asking somebody alone.
func Asking(by Way, whom say.Remark) [][]Step { return By(Step{By: by, Whom: whom}) }

// By is how a finding is settled by steps that are all needed.
func By(steps ...Step) [][]Step { return [][]Step{steps} }
