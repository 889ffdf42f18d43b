package anchors

import "wayhouse/regs/say"

// G is an acceleration in multiples of the standard one of free fall, or a force
// in multiples of the weight.
type G float64

// Direction is where a rule lets the cargo go.
type Direction string

// The directions of the rules. Upward is what a force that holds down is for.
const (
	Forward  Direction = "forward"
	Rearward Direction = "rearward"
	Sideways Direction = "sideways"
	Upward   Direction = "upward"
)

// Term names the direction among the words of ours.
func (d Direction) Term() say.Code { return say.Word("cargo", string(d)) }

// Term names the limit among the words of ours.
func (l Limit) Term() say.Code { return say.Word("cargo_limit", string(l)) }

// Limit is what of a fastener a rule compares the forces with.
type Limit string

// The limits. A downward force in 49 CFR 393.102(b) comes without one.
const (
	BreakingStrength Limit = "breaking strength"
	WorkingLoad      Limit = "working load limit"
	NoLimit          Limit = ""
)

// Rule is one figure that a rule names for cargo.
type Rule struct {
	Towards Direction
	Share   G
	Against Limit
	Source  string
	Known   string // how it is known
}

// Rules lists the figures. Canada asks for the accelerations of the breaking
// strength within the working load limit, which is stricter than the United
// States: [Cases] takes those for any rating.
//
// National Safety Code for motor carriers, standard 10, is the text that Quebec's
// regulation stands on; its section 5(1) was read second-hand, in an example that
// reckons with it, which does not say against which limit.
func Rules() []Rule {
	const (
		breaking = "49 CFR 393.102(a)(1), Federal Motor Carrier Safety Regulations"
		working  = "49 CFR 393.102(a)(2), Federal Motor Carrier Safety Regulations"
		down     = "49 CFR 393.102(b), Federal Motor Carrier Safety Regulations"
		canada   = "National Safety Code for motor carriers, standard 10, Cargo securement (June 2013), s. 5(1)"
		quebec   = "Quebec C-24.2, r. 30, Cargo Securement Standards Regulation, s. 3 (2019-05-21)"
		read     = "read"
		second   = "read second-hand"
	)
	return []Rule{
		{Forward, 0.8, BreakingStrength, breaking, read},
		{Rearward, 0.5, BreakingStrength, breaking, read},
		{Sideways, 0.5, BreakingStrength, breaking, read},
		{Forward, 0.435, WorkingLoad, working, read},
		{Rearward, 0.5, WorkingLoad, working, read},
		{Sideways, 0.25, WorkingLoad, working, read},
		{Upward, 0.2, NoLimit, down, read},
		{Forward, 0.8, WorkingLoad, quebec, read},
		{Rearward, 0.5, WorkingLoad, quebec, read},
		{Sideways, 0.5, WorkingLoad, quebec, read},
		{Upward, 0.2, WorkingLoad, quebec, read},
		{Forward, 0.8, NoLimit, canada, second},
		{Rearward, 0.5, NoLimit, canada, second},
		{Sideways, 0.5, NoLimit, canada, second},
	}
}

// Name is the name of a case.
type Name string

// The names of [Cases].
const (
	Braking    Name = "braking"
	SpeedingUp Name = "speeding_up"
	ToRight    Name = "to_right"
	ToLeft     Name = "to_left"
	Lifting    Name = "lifting"
)

// Term is the name with its acceleration.
func (n Name) Term() say.Code { return say.Word("case", string(n)) }

// LoadCase is one direction in which the body wants to go, relative to the deck.
type LoadCase struct {
	Name               Name
	Forward, Right, Up G // of its weight
	Gust               G // side that the wind pushes to: 1 right, -1 left, 0 none
	// Weightless leaves the weight out: the rule asks for a downward force beside
	// it.
	Weightless bool
}

// Cases lists the strictest of [Rules] in each direction, each applied by itself.
// The wind pushes the side when the body goes sideways and lifts the roof in all.
func Cases() []LoadCase {
	return []LoadCase{
		{Name: Braking, Forward: 0.8},
		{Name: SpeedingUp, Forward: -0.5},
		{Name: ToRight, Right: 0.5, Gust: 1},
		{Name: ToLeft, Right: -0.5, Gust: -1},
		{Name: Lifting, Up: 0.2, Weightless: true},
	}
}
