package trip

import (
	"fmt"
	"math"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig/sweep"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// The questions of the ground at a stop.
const (
	levelGround finding.Rule = "level ground"
	wayOut      finding.Rule = "way out"
)

// grounds asks of each stop that the unit stands at whether it can stand level there, and
// how the rig leaves.
func (b *builder) grounds() (out []finding.Finding) {
	for i, s := range b.request.Stops {
		if i > 0 && s.Visit.Stands() {
			out = append(out, b.levels(i, s), b.leaves(i, s))
		}
	}
	return out
}

func onGround(rule finding.Rule, s choosing.Stop) finding.Finding {
	return finding.Finding{
		Topic: finding.Road, Rule: rule, Place: say.Text(s.Label), Outcome: finding.Unknown, Reason: finding.NotMeasured,
	}
}

// measuring is the step of measuring what a field of a stop's ground states.
func measuring(stop int, field string, asks say.Remark) finding.Step {
	return finding.Step{By: finding.Measure, Of: fmt.Sprintf("stops[%d].ground.%s", stop, field), Asks: asks}
}

// levels compares how much lower the low corner of the unit stands than the high one, the
// slope lying from corner to corner, with what its jacks reach.
func (b *builder) levels(i int, s choosing.Stop) finding.Finding {
	f, g := onGround(levelGround, s), s.Visit.Ground
	var steps []finding.Step
	if g.Slope == nil {
		steps = append(steps, measuring(i, "slope_percent", say.That("task.slope", "stop", s.Label)))
	}
	if g.Reach == nil {
		steps = append(steps, measuring(i, "reach", say.That("task.jacks", "stop", s.Label)))
	}
	long := b.request.Rig.Unit.Length
	width, wide := b.request.Rig.Unit.Width.Value()
	if long == nil {
		steps = append(steps, finding.Step{By: finding.Measure, Of: "unit.length", Asks: say.That("task.plan")})
	}
	if !wide {
		steps = append(steps, finding.Step{By: finding.Measure, Of: "unit.width", Asks: say.That("task.plan")})
	}
	if len(steps) > 0 {
		f.Says, f.Settles = []say.Remark{say.That("ground.not_measured")}, finding.By(steps...)
		return f
	}
	low := measure.OfMetres(*g.Slope * math.Hypot(long.Metres(), width.Metres()))
	says := say.That("ground.low_corner", "slope", *g.Slope*100, "needs", low, "reach", *g.Reach)
	if low <= *g.Reach {
		f.Answer(finding.Clear, "", says)
		return f
	}
	f.Answer(finding.Conditional, finding.Exceeded, says)
	f.Demands.Conditions = []say.Remark{say.That("ground.blocks", "short", low-*g.Reach, "stop", s.Label)}
	f.SeeTo()
	return f
}

// leaves answers whether the rig comes out of a stop again.
func (b *builder) leaves(i int, s choosing.Stop) finding.Finding {
	f, g := onGround(wayOut, s), s.Visit.Ground
	switch g.Out {
	case choosing.Through:
		f.Answer(finding.Clear, "", say.That("ground.through"))
	case choosing.Backing:
		f.Outcome, f.Reason, f.Says = finding.Review, finding.Practice, []say.Remark{say.That("ground.backing")}
		f.Settles = finding.By(standing.Surveying(say.That("task.back_out", "stop", s.Label)))
	case choosing.Turning:
		b.turns(&f, i, s)
	default:
		f.Reason, f.Says = finding.NotGiven, []say.Remark{say.That("ground.no_way_out")}
		f.Settles = finding.By(finding.Step{
			By: finding.Answer, Of: fmt.Sprintf("stops[%d].ground.way_out", i), Among: choosing.WaysOut(),
			Asks: say.That("task.way_out", "stop", s.Label, "among", choosing.WaysOut()),
		})
	}
	return f
}

// turns compares the circle that the rig sweeps at full lock with the one that is clear.
func (b *builder) turns(f *finding.Finding, i int, s choosing.Stop) {
	needs, known := b.fullCircle()
	var steps []finding.Step
	if s.Visit.Ground.Circle == nil {
		steps = append(steps, measuring(i, "circle", say.That("task.circle", "stop", s.Label)))
	}
	if !known {
		steps = append(steps, finding.Step{By: finding.Measure, Of: "tow.turning_radius", Asks: say.That("task.lock")})
	}
	if len(steps) > 0 {
		f.Says, f.Settles = []say.Remark{say.That("ground.no_circle")}, finding.By(steps...)
		return
	}
	says := say.That("ground.circle", "needs", needs, "circle", *s.Visit.Ground.Circle)
	if needs <= *s.Visit.Ground.Circle {
		f.Answer(finding.Clear, "", says)
		return
	}
	f.Answer(finding.Review, finding.Exceeded, says)
	f.Settles = finding.By(standing.Surveying(say.That("task.turn_at", "stop", s.Label)))
}

// fullCircle is the diameter that the outermost corner of the rig sweeps at full lock.
func (b *builder) fullCircle() (measure.Length, bool) {
	turning := b.request.Rig.Turning()
	plan, ok := turning.Rig.Value()
	if !ok || turning.Radius == nil {
		return 0, false
	}
	c, held := sweep.Steady(plan, measure.Distance(turning.Radius.Metres()))
	return measure.OfMetres(2 * float64(max(c.FrontCorner, c.UnitFront, c.Tail))), held
}
