package choosing

import "wayhouse/regs/measure"

// Ground is what is known of the place where the unit stands at a stop.
type Ground struct {
	Slope  *float64        // the steepest, as a rise over a way; nil: not known
	Reach  *measure.Length // how much lower than another a corner may stand: of its jack, with what lies under it
	Circle *measure.Length // across the widest circle that is clear to turn in
	Out    WayOut
}

// WayOut is how the rig leaves a stop.
type WayOut string

// The ways out; "" is one that is not known.
const (
	Through WayOut = "through" // ahead, without turning
	Turning WayOut = "turning" // it turns round there
	Backing WayOut = "backing" // backwards
)

// WaysOut lists the ways out.
func WaysOut() []string { return []string{string(Through), string(Turning), string(Backing)} }

// Stands reports whether the unit stands at a stop, so that its ground matters.
func (v Visit) Stands() bool {
	return v.Stay > 0 || v.Nights > 0 || v.SetUp > 0 || !v.Until.At.IsZero() || v.Ground != Ground{}
}
