package drive

import (
	"math"

	"wayhouse/regs/measure"
)

// Wheels are those of a vehicle, or of a part of a rig, with what they carry and the mass
// that their brakes are made for; 0 is for wheels that nothing brakes.
type Wheels struct {
	Carry, Made Band[measure.Mass]
	Strength    Band[float64] // braking force over the weight of Made
}

// Stopping is what stops a rig on a level paved road.
type Stopping struct{ Tow, Unit Wheels }

// How hard brakes pull that work, as a share of the weight of the mass that they are made
// for. The low end of a tow vehicle is what 49 CFR 393.52 asks of those in use above
// 10,000 lb (a state's table of the same figures, 67 Pa. Code chapter 175, table I, read);
// its likely and high values, and all of a unit's, are from memory.
var (
	OfTow  = Band[float64]{Likely: 0.60, Low: 0.435, High: 0.80}
	OfUnit = Band[float64]{Likely: 0.45, Low: 0.30, High: 0.60}
)

// Wet tells how a paved road is.
type Wet bool

// grips is what tires hold of what they carry: dry, 17 studies of cars came to 0.76 on the
// average, nine of ten above 0.66 (W. Bartlett, Skidding Friction: A Review of Recent
// Research, read), tires for trucks less (from memory); wet, from memory.
var grips = map[Wet]Band[float64]{
	false: {Likely: 0.70, Low: 0.60, High: 0.80}, true: {Likely: 0.45, Low: 0.35, High: 0.60},
}

// reacts is how long a driver takes from what is seen to the pedal, in s: half of all take
// 0.9 or more, 2.5 hold nine of ten and are what roads are laid out for (AASHTO, as two
// handbooks quote it, read). answers is how long brakes take to pull, in s: between what
// 49 CFR 393.52 leaves of its distances, 0.15 s for one vehicle and 0.32 s for several
// (TestLagOfTheRule), and from memory.
var (
	reacts  = Band[float64]{Likely: 1.5, Low: 0.9, High: 2.5}
	answers = Band[float64]{Likely: 0.3, Low: 0.15, High: 0.6}
)

// stop is a stop with every figure at one place, in steps of [Band.at].
type stop struct{ grip, tow, unit, mass, made, react, lag float64 }

// causesOfStop are the figures that err on their own.
var causesOfStop = []func(*stop) *float64{
	func(p *stop) *float64 { return &p.grip }, func(p *stop) *float64 { return &p.tow },
	func(p *stop) *float64 { return &p.unit }, func(p *stop) *float64 { return &p.mass },
	func(p *stop) *float64 { return &p.made }, func(p *stop) *float64 { return &p.react },
	func(p *stop) *float64 { return &p.lag },
}

// slows is the deceleration, in g: each part brakes no harder than its brakes or than its
// tires hold. Brakes of the unit that are not adjusted to what they carry are not seen.
func (s Stopping) slows(wet Wet, p stop) float64 {
	grip := grips[wet].at(p.grip)
	part := func(w Wheels, strength float64) (force, carried float64) {
		carried = w.Carry.at(p.mass).Kilograms()
		return min(grip*carried, w.Strength.at(strength)*w.Made.at(p.made).Kilograms()), carried
	}
	tow, onTow := part(s.Tow, p.tow)
	unit, onUnit := part(s.Unit, p.unit)
	return (tow + unit) / (onTow + onUnit)
}

// Slows is the deceleration that the rig reaches, in g: likely, and the ends that nine of
// ten lie between.
func (s Stopping) Slows(wet Wet) Band[float64] {
	return around(func(p stop) float64 { return s.slows(wet, p) })
}

// Distance is how far the rig goes from what the driver sees to where it stands.
func (s Stopping) Distance(from measure.Speed, wet Wet) Band[measure.Distance] {
	v := float64(from)
	out := around(func(p stop) float64 {
		return v*(reacts.at(p.react)+answers.at(p.lag)) + v*v/(2*Gravity*s.slows(wet, p))
	})
	return Band[measure.Distance]{
		Likely: measure.Distance(out.Likely), Low: measure.Distance(out.Low), High: measure.Distance(out.High),
	}
}

// around puts together what each figure alone does at its ends: they err independently,
// so ends are roots of sums of squares, as those of fuel are.
func around(of func(stop) float64) Band[float64] {
	likely := of(stop{})
	var less, more float64
	for _, cause := range causesOfStop {
		var low, high stop
		*cause(&low), *cause(&high) = -1, 1
		a, b := of(low)-likely, of(high)-likely
		down, up := min(a, b, 0), max(a, b, 0)
		less, more = less+down*down, more+up*up
	}
	return Band[float64]{Likely: likely, Low: likely - math.Sqrt(less), High: likely + math.Sqrt(more)}
}
