package anchors

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

func drawBody(t *rapid.T) Body {
	return Body{
		Mass:   measure.Mass(rapid.Int64Range(int64(500*measure.Kilogram), int64(20*measure.Tonne)).Draw(t, "mass")),
		Along:  measure.Distance(rapid.Float64Range(-2, 15).Draw(t, "centre along")),
		Across: measure.Distance(rapid.Float64Range(-1, 1).Draw(t, "centre across")),
		Up:     measure.Distance(rapid.Float64Range(0.1, 3).Draw(t, "centre up")),
	}
}

func drawAnchors(t *rapid.T) []Anchor {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Anchor {
		return Anchor{
			Along:  measure.Distance(rapid.Float64Range(-2, 15).Draw(t, "along")),
			Across: measure.Distance(rapid.Float64Range(-1.5, 1.5).Draw(t, "across")),
			Count:  rapid.IntRange(1, 8).Draw(t, "count"),
		}
	}), 1, 16).Draw(t, "anchors")
}

func drawWind(t *rapid.T) Wind {
	return Wind{
		Air:    measure.Density(rapid.Float64Range(0.8, 1.5).Draw(t, "air")),
		Road:   measure.Speed(rapid.Float64Range(0, 35).Draw(t, "road")),
		Across: measure.Speed(rapid.Float64Range(0, 35).Draw(t, "side wind")),
		Side:   measure.Area(rapid.Float64Range(0, 50).Draw(t, "side")),
		SideUp: measure.Distance(rapid.Float64Range(0, 3).Draw(t, "side up")),
		Roof:   measure.Area(rapid.Float64Range(0, 40).Draw(t, "roof")),
	}
}

// Anchors of a layout that is alike on all sides share alike.
func TestSymmetricSharesAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, w := drawBody(t), drawWind(t)
		b.Across = 0
		half := measure.Distance(rapid.Float64Range(0.5, 1.5).Draw(t, "half width"))
		reach := measure.Distance(rapid.Float64Range(0.5, 5).Draw(t, "half length"))
		anchors := []Anchor{at(b.Along-reach, -half), at(b.Along-reach, half), at(b.Along+reach, -half), at(b.Along+reach, half)}
		d := assess(t, b, anchors, w).Demands
		for i := range d {
			// Front and rear differ in what braking and speeding up pull.
			near(t, "pull", d[i].PullUp, d[i^1].PullUp, slack(b))
			near(t, "push", d[i].PushAside, d[0].PushAside, slack(b))
		}
	})
}

// slack is what rounding may make of a force.
func slack(b Body) measure.Force { return measure.Force(1e-7 * b.Mass.Kilograms()) }

// Twice the fasteners at each place: each takes half, the place as much.
func TestDoublingHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, anchors, w := drawBody(t), drawAnchors(t), drawWind(t)
		single := assess(t, b, anchors, w)
		for i := range anchors {
			anchors[i].Count *= 2
		}
		double := assess(t, b, anchors, w)
		if len(single.Cannot) != len(double.Cannot) {
			t.Errorf("cannot carry %q, then %q", single.Cannot, double.Cannot)
		}
		for i, d := range single.Demands {
			relative(t, "pull", double.Demands[i].PullUp, d.PullUp/2, slack(b))
			relative(t, "push", double.Demands[i].PushAside, d.PushAside/2, slack(b))
		}
	})
}

// relative compares within 1e-9, and within what rounding makes of small forces.
func relative(t failer, name string, got, want, least measure.Force) {
	t.Helper()
	near(t, name, got, want, max(least, 1e-9*want))
}

// Two fasteners at one place are as one each at two anchors there.
func TestCountIsSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, anchors, w := drawBody(t), drawAnchors(t), drawWind(t)
		whole := assess(t, b, anchors, w)
		var split []Anchor
		for _, a := range anchors {
			for range a.Count {
				split = append(split, at(a.Along, a.Across))
			}
		}
		r, i := assess(t, b, split, w), 0
		for _, d := range whole.Demands {
			relative(t, "pull", r.Demands[i].PullUp, d.PullUp, slack(b))
			relative(t, "push", r.Demands[i].PushAside, d.PushAside, slack(b))
			i += d.Count
		}
	})
}

// Left and right exchanged: the same forces, left and right exchanged.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, anchors, w := drawBody(t), drawAnchors(t), drawWind(t)
		r := assess(t, b, anchors, w)
		b.Across = -b.Across
		for i := range anchors {
			anchors[i].Across = -anchors[i].Across
		}
		m := assess(t, b, anchors, w)
		for i, d := range r.Demands {
			relative(t, "pull", m.Demands[i].PullUp, d.PullUp, slack(b))
			relative(t, "push", m.Demands[i].PushAside, d.PushAside, slack(b))
		}
	})
}

// Where the coupling point is changes nothing.
func TestOriginDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, anchors, w := drawBody(t), drawAnchors(t), drawWind(t)
		r := assess(t, b, anchors, w)
		b.Along += 3
		for i := range anchors {
			anchors[i].Along += 3
		}
		m := assess(t, b, anchors, w)
		for i, d := range r.Demands {
			// Adding 3 m rounds a place to 1e-15 m, which a narrow layout makes more of.
			near(t, "pull", m.Demands[i].PullUp, d.PullUp, slack(b)+1e-8*d.PullUp)
			near(t, "push", m.Demands[i].PushAside, d.PushAside, slack(b)+1e-8*d.PushAside)
		}
	})
}

// More wind never asks for less than still air, and no answer is without a number.
func TestWindNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, anchors := drawBody(t), drawAnchors(t)
		still, windy := assess(t, b, anchors, Wind{}), assess(t, b, anchors, drawWind(t))
		if len(windy.Cannot) < len(still.Cannot) {
			t.Errorf("cannot carry %q in still air and %q in wind", still.Cannot, windy.Cannot)
		}
		for i, d := range windy.Demands {
			if !windy.Demands[i].Partial && (d.PullUp < still.Demands[i].PullUp || d.PushAside < still.Demands[i].PushAside) {
				t.Errorf("%+v, in still air %+v", d, still.Demands[i])
			}
			for _, f := range []measure.Force{d.PullUp, d.PushAside} {
				if math.IsNaN(float64(f)) || math.IsInf(float64(f), 0) || f < 0 {
					t.Errorf("a force of %v", float64(f))
				}
			}
		}
	})
}

// In pounds and feet the same house gets the very same answer.
func TestPounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pounds := rapid.Int64Range(1000, 40_000).Draw(t, "pounds")
		inches := rapid.Int64Range(1, 120).Draw(t, "inches")
		units := int64(45_359_237) * pounds
		metric := fmt.Sprintf("%d.%08d kg", units/100_000_000, units%100_000_000)
		customary := fmt.Sprintf("%d lb", pounds)
		var got [2]Result
		for i, text := range []string{metric, customary} {
			mass, err := measure.ParseMass(text)
			if err != nil {
				t.Fatal(err)
			}
			up, err := measure.ParseLength([]string{fmt.Sprintf("%d.%d mm", 254*inches/10, 254*inches%10), fmt.Sprintf("%d in", inches)}[i])
			if err != nil {
				t.Fatal(err)
			}
			got[i] = assess(t, Body{Mass: mass, Along: 5.3, Across: 0.1, Up: measure.Distance(up.Metres())}, corners(), breeze())
		}
		for i, d := range got[0].Demands {
			if d != got[1].Demands[i] {
				t.Errorf("%+v in metric units, %+v in pounds", d, got[1].Demands[i])
			}
		}
	})
}

// Nothing that comes in is changed.
func TestInputStays(t *testing.T) {
	anchors := corners()
	assess(t, house(), anchors, breeze())
	for i, want := range corners() {
		if anchors[i] != want {
			t.Errorf("%+v, was %+v", anchors[i], want)
		}
	}
}
