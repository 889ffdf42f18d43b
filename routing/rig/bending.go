package rig

import (
	"math"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Obstacle is a part of a tow vehicle that a unit can touch as the rig bends.
type Obstacle string

// The obstacles.
const (
	Cab  Obstacle = "cab"
	Bed  Obstacle = "bed"
	Body Obstacle = "body" // all of it: where its cab begins is not given
)

// Term names the obstacle.
func (o Obstacle) Term() say.Code { return say.Word("obstacle", string(o)) }

// Touch is where a unit first touches its tow vehicle as the rig bends on level
// ground.
type Touch struct {
	Angle   float64 // degrees between the middle lines
	Right   bool    // its nose goes to the right of the tow vehicle
	Box     string  // of the outline
	Against Obstacle
	// Unsure names the field that would tell whether the obstacle is as high as it
	// was taken to be; "" for none.
	Unsure string
}

// Bending is what room a unit has over and behind its tow vehicle as it bends.
type Bending struct {
	// First is what it touches first of what is surely as high, else of what may be; nil:
	// nothing up to [Square].
	First *Touch
	// Near is what it comes nearer to than [elsewhere], and does not touch; nil: nothing.
	Near *Touch
	// Over is the least height that the unit keeps above what it reaches over on the
	// way to Square; nil: it reaches over nothing, or touches it.
	Over *measure.Length
}

// Square is how far a rig must bend, in degrees, to turn into a lane or to back
// onto a site: this project's choice.
const Square = 90

// overBed is how much room above the bed is asked for, so that the rig passes over a
// change of grade (common practice, no source: about 6 in).
const overBed = 6 * measure.Inch

// elsewhere is how near a unit as it is described may come to what it passes: it may be
// built otherwise by as much, as heights are taken to be where nothing else is said.
const elsewhere = 50 * measure.Millimetre

// rectangle is a box or an obstacle in plan: x ahead of the coupling point, y to
// the right, metres.
type rectangle struct{ rear, front, left, right float64 }

func (b Box) inPlan() rectangle {
	return rectangle{-b.To.Metres(), -b.From.Metres(), -b.Left.Metres(), b.Right.Metres()}
}

// obstacle is a part of the tow vehicle in plan, and how high it is.
type obstacle struct {
	rectangle
	what   Obstacle
	top    measure.Length
	unsure string
}

// obstacles lists what a unit can touch. What is not given is taken to be as high
// as the tow vehicle.
func (t Tow) obstacles() measure.Known[[]obstacle] {
	width, ok := t.Width.Least()
	switch {
	case t.Height == nil:
		return measure.Because[[]obstacle](say.That("rig.field_missing", "field", "tow.height"))
	case !ok:
		return measure.Because[[]obstacle](say.That("rig.field_missing", "field", "tow.width"))
	case t.Length == nil:
		return measure.Because[[]obstacle](say.That("rig.field_missing", "field", "tow.length"))
	case t.FrontToCoupling == nil:
		return measure.Because[[]obstacle](say.That("rig.field_missing", "field", "tow.front_to_coupling"))
	}
	half := width.Metres() / 2
	front, rear := t.FrontToCoupling.Metres(), (*t.FrontToCoupling - *t.Length).Metres()
	if t.CabToCoupling == nil {
		return measure.Exactly([]obstacle{{rectangle{rear, front, -half, half}, Body, *t.Height, "tow.cab_to_coupling"}})
	}
	cab := t.CabToCoupling.Metres()
	bed := obstacle{rectangle{rear, cab, -half, half}, Bed, *t.Height, "tow.bed_height"}
	if h := t.Truck.Bed; h != nil {
		bed.top, bed.unsure = *h, ""
	}
	return measure.Exactly([]obstacle{{rectangle{cab, front, -half, half}, Cab, *t.Height, ""}, bed})
}

// Bending works out where the unit touches its tow vehicle as the rig bends to
// either side. The outline is that of boxes as it travels; noses that are rounded
// keep more room, a neck that no box describes is not seen.
func (r Rig) Bending() measure.Known[Bending] {
	boxes := r.Unit.OutlineIn(Travelling, nil)
	if len(r.Unit.Outline) == 0 {
		return measure.Because[Bending](say.That("rig.field_missing", "field", "unit.outline"))
	}
	obstacles, ok := r.Tow.obstacles().Value()
	if !ok {
		return measure.Because[Bending](r.Tow.obstacles().Why())
	}
	var out Bending
	for _, o := range obstacles {
		var one Bending
		for _, b := range boxes {
			one.passes(b, o, false)
			one.passes(b, o, true)
		}
		out.take(one)
	}
	return measure.Exactly(out)
}

// take adds how a unit passes one obstacle. What it touches it does not pass over, though
// a part of its outline lies higher.
func (out *Bending) take(one Bending) {
	if t := one.First; t != nil && t.before(out.First) {
		out.First = t
	}
	if t := one.Near; t != nil && t.before(out.Near) {
		out.Near = t
	}
	if one.Over != nil && one.First == nil && (out.Over == nil || *one.Over < *out.Over) {
		out.Over = one.Over
	}
}

// passes takes in how a box passes an obstacle as the rig bends to one side.
func (out *Bending) passes(b Box, o obstacle, right bool) {
	angle, meets := b.inPlan().meets(o.rectangle, right)
	switch {
	case meets && b.Bottom >= o.top:
		if over := b.Bottom - o.top; out.Over == nil || over < *out.Over {
			out.Over = &over
		}
	case meets:
		if t := (Touch{angle, right, b.Name, o.what, o.unsure}); t.before(out.First) {
			out.First = &t
		}
	case b.Bottom < o.top:
		if angle, meets = b.inPlan().meets(o.wider(), right); meets {
			if t := (Touch{angle, right, b.Name, o.what, o.unsure}); t.before(out.Near) {
				out.Near = &t
			}
		}
	}
}

// before reports whether a touch counts before another: the one that is sure, then that
// at the lesser angle.
func (t Touch) before(o *Touch) bool {
	switch {
	case o == nil:
		return true
	case (t.Unsure == "") != (o.Unsure == ""):
		return t.Unsure == ""
	}
	return t.Angle < o.Angle
}

// wider is a rectangle with room beside it.
func (r rectangle) wider() rectangle {
	by := elsewhere.Metres()
	return rectangle{r.rear - by, r.front + by, r.left - by, r.right + by}
}

// step is how finely angles are looked at, in degrees: a corner 4 m from the
// coupling moves 17 mm in it, so what it could graze in between is less than 0.01
// mm deep.
const step = 0.25

// meets finds the least angle up to Square at which a box that turns about the
// coupling point meets an obstacle in plan.
func (b rectangle) meets(o rectangle, right bool) (angle float64, ok bool) {
	sign := -1.0
	if right {
		sign = 1
	}
	apart := func(degrees float64) bool { return b.apart(o, sign*degrees*math.Pi/180) }
	for a := 0.0; a <= Square; a += step {
		if apart(a) {
			continue
		}
		low, high := max(a-step, 0), a
		for range 20 {
			if middle := (low + high) / 2; apart(middle) {
				low = middle
			} else {
				high = middle
			}
		}
		return high, true
	}
	return 0, false
}

// apart reports whether a box turned by an angle, to the right positive, has
// nothing in common with an obstacle: some line parallel to a side of either lies
// between them.
func (b rectangle) apart(o rectangle, angle float64) bool {
	sin, cos := math.Sincos(angle)
	turned := b.corners()
	for i, p := range turned {
		turned[i] = [2]float64{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos}
	}
	if beside(turned, o) {
		return true
	}
	back := o.corners()
	for i, p := range back {
		back[i] = [2]float64{p[0]*cos + p[1]*sin, p[1]*cos - p[0]*sin}
	}
	return beside(back, b)
}

func (b rectangle) corners() [4][2]float64 {
	return [4][2]float64{{b.rear, b.left}, {b.rear, b.right}, {b.front, b.left}, {b.front, b.right}}
}

// beside reports whether all points lie to one side of a rectangle, or on it.
func beside(points [4][2]float64, r rectangle) bool {
	behind, ahead, left, right := true, true, true, true
	for _, p := range points {
		behind, ahead = behind && p[0] <= r.rear, ahead && p[0] >= r.front
		left, right = left && p[1] <= r.left, right && p[1] >= r.right
	}
	return behind || ahead || left || right
}

// bends answers whether the rig can turn square without touching. Of a unit that
// rests over its tow vehicle it must; one behind a ball bends until it touches, and
// the driver must know where.
func (r Rig) bends() []finding.Finding {
	rests := r.Unit.rests()
	if !rests && len(r.Unit.Outline) == 0 {
		return nil
	}
	f := finding.Finding{Topic: finding.Rig, Rule: RuleBending, Place: say.That("rig.rig"), Outcome: finding.Unknown}
	bending := r.Bending()
	b, ok := bending.Value()
	switch {
	case !ok:
		f.Answer(finding.Unknown, finding.NotDescribed, bending.Why())
		f.Settles = finding.By(describe(r.unbent()))
	case b.First != nil && b.First.Unsure != "":
		f.Answer(
			finding.Unknown,
			finding.NotDescribed,
			b.First.says(),
			say.That("rig.field_missing", "field", b.First.Unsure),
		)
		f.Settles = finding.By(describe(b.First.Unsure))
	case b.First != nil && rests:
		f.Answer(finding.Forbidden, finding.Exceeded, b.First.says())
		f.Settles = finding.By(judge(say.That("task.bending")))
	case b.First != nil:
		f.Answer(finding.Review, finding.Little, b.First.says())
		f.Settles = finding.By(seeTo(say.That("rig.walks_round"), say.That("task.bending_seen", "angle", b.First.Angle)))
	case b.Near != nil:
		f.Answer(finding.Review, finding.Little, say.That("rig.nearly_touches", "box", b.Near.named(),
			"against", b.Near.Against, "angle", b.Near.Angle, "asked", elsewhere))
		f.Settles = finding.By(seeTo(say.That("rig.walks_round"), say.That("task.bending_seen", "angle", b.Near.Angle)))
	case b.Over != nil && *b.Over < overBed:
		f.Answer(finding.Review, finding.Little, say.That("rig.little_over", "room", *b.Over, "asked", overBed))
		f.Margin = finding.Of(*b.Over - overBed)
		f.Settles = finding.By(judge(say.That("task.bending")))
	default:
		says := say.That("rig.bends", "angle", float64(Square))
		f.Citations = []finding.Citation{{
			ID: "unit.outline", Shows: says, Status: finding.Verified, Source: ofDescription, Decides: true,
		}}
		f.Answer(finding.Clear, "", says)
	}
	return []finding.Finding{f}
}

func (t Touch) says() say.Remark {
	return say.That("rig.touches", "box", t.named(), "against", t.Against, "angle", t.Angle, "right", t.Right)
}

// named is the box that touches.
func (t Touch) named() say.Remark { return say.Or(say.Text(t.Box), say.That("error.a_box")) }

// unbent is the field without which it is not known how far the rig bends.
func (r Rig) unbent() string {
	switch t := r.Tow; {
	case len(r.Unit.Outline) == 0:
		return "unit.outline"
	case t.Height == nil:
		return "tow.height"
	case t.Width.Open():
		return "tow.width"
	case t.Length == nil:
		return "tow.length"
	}
	return "tow.front_to_coupling"
}
