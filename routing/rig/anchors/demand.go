package anchors

import (
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Demand is the most that is asked of one fastener at a place, in newtons, and in
// which case. The two may come from different cases.
type Demand struct {
	Anchor
	PullUp, PushAside         measure.Force
	PullUpCase, PushAsideCase Name // none where nothing is asked
	// Partial: the layout cannot carry some case, so the most is not known.
	Partial bool
}

// raisePull keeps the greater pull and its case.
func (d *Demand) raisePull(f measure.Force, name Name) {
	if f > d.PullUp {
		d.PullUp, d.PullUpCase = f, name
	}
}

// raisePush keeps the greater push and its case.
func (d *Demand) raisePush(f measure.Force, name Name) {
	if f > d.PushAside {
		d.PushAside, d.PushAsideCase = f, name
	}
}

// Place returns what is asked of all fasteners at the place together.
func (d Demand) Place() (pullUp, pushAside measure.Force) {
	n := measure.Force(d.Count)
	return n * d.PullUp, n * d.PushAside
}

// UsesUplift returns the pull as a share of its rating. Where known is false, the
// share is no more than what is known of it: 0 without a rating, and too low where
// a case cannot be carried. A rating that nothing asks for need not be known.
func (d Demand) UsesUplift() (share float64, known bool) { return d.uses(d.PullUp, d.Uplift) }

// UsesShear returns the push as a share of its rating, as [Demand.UsesUplift].
func (d Demand) UsesShear() (share float64, known bool) { return d.uses(d.PushAside, d.Shear) }

// Uses returns the greater of both shares; known is false where one is not.
func (d Demand) Uses() (share float64, known bool) {
	up, upKnown := d.UsesUplift()
	aside, asideKnown := d.UsesShear()
	return max(up, aside), upKnown && asideKnown
}

func (d Demand) uses(asked measure.Force, rating *measure.Force) (share float64, known bool) {
	if rating == nil || !(*rating > 0) {
		return 0, asked == 0 && !d.Partial
	}
	return float64(asked / *rating), !d.Partial
}

// Status is how a demand compares with the ratings. None of them says that an
// anchor is safe.
type Status string

// The statuses.
const (
	Exceeds    Status = "exceeds"
	Within     Status = "within"
	NotRated   Status = "not_rated"
	NotCarried Status = "not_carried" // this layout cannot carry a case
)

// Term is the status in words.
func (s Status) Term() say.Code { return say.Word("anchor", string(s)) }

// Status compares both demands. One that is beyond a rating exceeds it whatever
// else is not known.
func (d Demand) Status() Status {
	share, known := d.Uses()
	switch {
	case share > 1:
		return Exceeds
	case d.Partial:
		return NotCarried
	case !known:
		return NotRated
	}
	return Within
}

// Worst joins two answers about the same anchors, such as for both ends of a mass: the
// greater demand of each, and what either cannot carry or leaves out.
func Worst(a, b Result) Result {
	out := Result{
		Demands: slices.Clone(a.Demands), Cannot: slices.Clone(a.Cannot),
		LeftOut: say.Once(slices.Concat(a.LeftOut, b.LeftOut)),
	}
	for _, c := range b.Cannot {
		if !slices.Contains(out.Cannot, c) {
			out.Cannot = append(out.Cannot, c)
		}
	}
	for i := range out.Demands {
		d, o := &out.Demands[i], b.Demands[i]
		d.raisePull(o.PullUp, o.PullUpCase)
		d.raisePush(o.PushAside, o.PushAsideCase)
		d.Partial = d.Partial || o.Partial
	}
	return out
}
