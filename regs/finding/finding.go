// Package finding holds the words in which every check answers: outcomes,
// demands, findings and their roll-up.
package finding

import (
	"slices"
	"time"

	"wayhouse/regs/say"
)

// Outcome is the answer of one rule at one place.
type Outcome string

// Term is the code of the outcome's name.
func (o Outcome) Term() say.Code { return say.Word("outcome", string(o)) }

// The outcomes. Unknown is an answer, not an error: nobody who has to decide
// may read it as clear.
const (
	Clear       Outcome = "clear"
	Conditional Outcome = "conditional" // allowed when the demands are met
	Review      Outcome = "review"      // a person must decide
	Forbidden   Outcome = "forbidden"
	Unknown     Outcome = "unknown"
)

// Outcomes lists the outcomes.
func Outcomes() []Outcome { return []Outcome{Clear, Conditional, Review, Forbidden, Unknown} }

// severity orders the known outcomes.
var severity = map[Outcome]int{Clear: 1, Conditional: 2, Review: 3, Forbidden: 4}

// Worse returns the graver of two outcomes. Unknown is no degree of gravity and
// gives way to any that is known; a RollUp counts it apart.
func Worse(a, b Outcome) Outcome {
	if severity[b] > severity[a] {
		return b
	}
	return a
}

// Status says how well a row or a figure is known.
type Status string

// The statuses. Only Published and Verified can clear anything.
const (
	Published Status = "published" // read in a government text
	Verified  Status = "verified"  // by the user, with source and date
	Secondary Status = "secondary" // read in a text about it
	Memory    Status = "memory"    // recalled
	Invented  Status = "invented"  // made up for an example
)

// Term is the code of the status's name.
func (s Status) Term() say.Code { return say.Word("status", string(s)) }

// Statuses lists the statuses.
func Statuses() []Status { return []Status{Published, Verified, Secondary, Memory, Invented} }

// Trusted reports whether a row of this status can clear.
func (s Status) Trusted() bool { return s == Published || s == Verified }

// Doubt is why a row of this status can clear nothing, "" where it can.
func (s Status) Doubt() Reason {
	switch {
	case s.Trusted():
		return ""
	case s == Memory:
		return Recalled
	case s == Secondary:
		return SecondHand
	}
	return Made
}

// Valid reports whether s is one of the statuses.
func (s Status) Valid() bool { return slices.Contains(Statuses(), s) }

// Demands is what must be done for a conditional outcome to hold. The zero
// value demands nothing.
type Demands struct {
	Permits      []say.Remark // from whom, for what
	EscortsFront int
	EscortsRear  int
	EscortsAny   int // place not stated
	HeightPole   bool
	Survey       bool
	Hours        []say.Remark // words of the rule
	Conditions   []say.Remark // what a person must read and see fulfilled
}

// Union returns what meets all demands: the highest number of escorts, every
// permit and condition once. It is linear in what they say.
func (d Demands) Union(others ...Demands) Demands {
	var out Demands
	for _, o := range append([]Demands{d}, others...) {
		out.Permits = append(out.Permits, o.Permits...)
		out.Hours = append(out.Hours, o.Hours...)
		out.Conditions = append(out.Conditions, o.Conditions...)
		out.EscortsFront = max(out.EscortsFront, o.EscortsFront)
		out.EscortsRear = max(out.EscortsRear, o.EscortsRear)
		out.EscortsAny = max(out.EscortsAny, o.EscortsAny)
		out.HeightPole = out.HeightPole || o.HeightPole
		out.Survey = out.Survey || o.Survey
	}
	out.Permits, out.Hours, out.Conditions = say.Once(out.Permits), say.Once(out.Hours), say.Once(out.Conditions)
	return out
}

// Escorts is how many are asked for, wherever they drive.
func (d Demands) Escorts() int { return d.EscortsAny + d.EscortsFront + d.EscortsRear }

// Citation is where a finding comes from: one row of a table, or one structure.
type Citation struct {
	ID        string
	Revision  string     // of the table it was read from
	Published string     // the figure as printed by the source
	Shows     say.Remark // what stands for it where no source prints a figure
	Status    Status
	Source    string
	Section   string
	Year      string
	URL       string
	ReadOn    time.Time    // zero: never read or not stated
	Tier      string       // where its threshold stands: "legal", "beyond", "unsure"; "" for a structure
	Decides   bool         // it made the outcome; otherwise it is shown beside
	Says      []say.Remark // how it bears on this case
}

// Finding is one answer about one rule at one place.
type Finding struct {
	Topic        Topic
	Rule         Rule
	Jurisdiction string     // ISO 3166-2, "" where none is known
	Place        say.Remark // where, when it is a single place
	Outcome      Outcome
	Reason       Reason // why it is not settled; "" where it is
	Demands      Demands
	Value        Quantity     // what was compared
	Figures      say.Remark   // the same in full, where it is more than one length or mass
	Margin       Quantity     // threshold minus value
	Says         []say.Remark // the answer, in the order in which it is told
	// Settles is what would settle it: ways, the best first, each the steps that are needed
	// together. It is set on every outcome but clear.
	Settles   [][]Step
	Citations []Citation
	Invented  bool // it rests on invented data
	// Told is the gravest that somebody answered of what would settle it, "" where nobody
	// did; Seen tells that somebody saw to something that it asks, Met that all of it is.
	Told      Outcome
	Seen, Met bool
}

// Answer sets an outcome, why it is not settled and what is told. What is clear has
// nothing left to settle.
func (f *Finding) Answer(o Outcome, why Reason, says ...say.Remark) {
	f.Outcome, f.Reason, f.Says = o, why, says
	if o == Clear {
		f.Settles = nil
	}
}

// Meets are the steps of seeing to the hours and conditions that a finding demands.
func (f Finding) Meets() []Step {
	var out []Step
	here := say.Jurisdiction(f.Jurisdiction)
	for _, asked := range slices.Concat(f.Demands.Hours, f.Demands.Conditions) {
		asks := say.That("task.meet", "rule", f.Rule, "where", here, "asks", asked)
		if f.Topic == Hours { // and what else is asked of who travels
			asks = say.That("task.keep", "where", here, "asks", asked)
		}
		out = append(out, Step{By: Meet, Of: f.Jurisdiction, Asks: asks})
	}
	return out
}

// SeeTo puts before the other ways that what a finding demands is seen to.
func (f *Finding) SeeTo() {
	if steps := f.Meets(); len(steps) > 0 {
		f.Settles = append([][]Step{steps}, f.Settles...)
	}
}

// RollUp sums findings up: the union of the demands, the worst known outcome
// and how many are unknown.
type RollUp struct {
	Worst    Outcome // of those known; Unknown when there are none
	Unknowns int
	Demands  Demands
}

// Roll sums up.
func Roll(findings []Finding) RollUp {
	r := RollUp{Worst: Unknown}
	for _, f := range findings {
		if severity[f.Outcome] == 0 { // unknown, or a word that is none of ours
			r.Unknowns++
		}
		r.Worst = Worse(r.Worst, f.Outcome)
		r.Demands = r.Demands.Union(f.Demands)
	}
	if len(findings) == 0 {
		r.Unknowns = 1 // nothing was asked, so nothing is known
	}
	return r
}

// Outcome returns the one word for the roll-up. It is Clear only when nothing
// is unknown.
func (r RollUp) Outcome() Outcome {
	if r.Worst == Clear && r.Unknowns > 0 {
		return Unknown
	}
	return r.Worst
}
