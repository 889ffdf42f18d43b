package rig

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/anchors"
)

// drawWhole draws a rig of which everything is described: a unit as drawLeaning draws it,
// on anchors, behind a pickup.
func drawWhole(t *rapid.T) Rig {
	u := drawLeaning(t).Unit
	u.Deck, u.Clearance, u.TailClearance = m(0.85), m(0.4), m(0.4)
	for range rapid.IntRange(2, 5).Draw(t, "anchors") {
		u.Anchors = append(u.Anchors, anchors.Anchor{
			Name: "anchor", Along: measure.Distance(rapid.Float64Range(0.5, 8).Draw(t, "anchor along")),
			Across: measure.Distance(rapid.Float64Range(-1.2, 1.2).Draw(t, "anchor across")), Count: 2,
		})
	}
	tow := truck(lb(4700), lb(3500), 4.4, 4.2)
	tow.Width, tow.Height, tow.Length, tow.FrontToCoupling = measure.Given(m(2)), m(2), m(6.5), m(5.2)
	tow.Fuel, tow.Truck.CabToCoupling, tow.Truck.Bed = "diesel", m(1.4), m(1.5)
	return assembled(t, u, tow)
}

func assembled(t *rapid.T, u Unit, tow Tow) Rig {
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		t.Skip(err)
	}
	return r
}

// again is a rig with its unit changed and put together anew.
func again(t *rapid.T, r Rig, change func(*Unit)) Rig {
	u := r.Unit
	u.Height, u.Width, u.Length = nil, measure.Known[measure.Length]{}, nil
	change(&u)
	return assembled(t, u, r.Tow)
}

// figures are those of a report that have no left and right, and outcomes those of its
// findings.
func figures(r Report) (all []float64, outcomes []string) {
	add := func(v ...float64) { all = append(all, v...) }
	tip, bends := of(r.Tip), of(r.Bending)
	add(tip.Rigid, tip.Low, float64(r.Winds.Steady), float64(r.Winds.Gust), float64(r.Winds.Slow),
		float64(r.Winds.Never), float64(of(r.Winds.Computed)))
	for _, c := range r.Turning.Circles {
		add(float64(c.OffTracking), float64(c.Width), float64(c.Inner))
	}
	if bends.First != nil {
		add(bends.First.Angle)
	}
	if bends.Over != nil {
		add(bends.Over.Metres())
	}
	drag := of(r.Drag).Area
	add(float64(drag.Low), float64(drag.Likely), float64(drag.High))
	for _, s := range r.States {
		e := s.Extent
		add(e.Top.Metres(), e.Bottom.Metres(), e.Front.Metres(), e.Rear.Metres(), (e.Left + e.Right).Metres())
	}
	for _, b := range of(r.Burning).Rates {
		add(float64(b.Burns.Low), float64(b.Burns.Likely), float64(b.Burns.High))
	}
	for _, d := range of(r.Holding.Asked).Demands {
		add(float64(d.PullUp), float64(d.PushAside))
	}
	for _, f := range r.Findings {
		outcomes = append(outcomes, fmt.Sprint(f.Rule, f.Outcome, f.Reason))
	}
	slices.Sort(outcomes)
	return all, outcomes
}

func alike(t *rapid.T, what string, a, b Rig) {
	t.Helper()
	one, findings := figures(a.Report())
	other, found := figures(b.Report())
	if !slices.Equal(findings, found) {
		t.Fatalf("%s: findings %v, %v", what, findings, found)
	}
	if len(one) != len(other) {
		t.Fatalf("%s: %d figures, %d", what, len(one), len(other))
	}
	for i := range one {
		if math.Abs(one[i]-other[i]) > 1e-4*max(1, math.Abs(one[i])) {
			t.Fatalf("%s: figure %d is %v, %v", what, i, one[i], other[i])
		}
	}
}

// The whole report of a rig and that of its mirror image are alike.
func TestReportMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawWhole(t)
		alike(t, "mirrored", r, again(t, r, func(u *Unit) {
			*u = mirrored(Rig{Unit: *u}).Unit
			u.Anchors = slices.Clone(u.Anchors)
			for i := range u.Anchors {
				u.Anchors[i].Across = -u.Anchors[i].Across
			}
		}))
	})
}

// The whole report of a rig is the same however its outline is drawn: whole, in two lengths,
// in two storeys, as a left and a right half, or twice.
func TestReportOfASplitOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawWhole(t)
		alike(t, "split", r, again(t, r, func(u *Unit) {
			var parts []Box
			for _, b := range u.Outline {
				parts = append(parts, halves(b, rapid.IntRange(0, 4).Draw(t, "how"))...)
			}
			u.Outline = parts
		}))
	})
}

func halves(b Box, how int) []Box {
	one, other := b, b
	switch how {
	case 0:
		one.To = b.From + (b.To-b.From)/3
		other.From = one.To
	case 1:
		one.Top = b.Bottom + (b.Top-b.Bottom)/3
		other.Bottom = one.Top
	case 2: // both meet 0.1 m to the right of the middle line
		one.Right = 100 * measure.Millimetre
		other.Left = -one.Right
	case 3: // the same box twice
	default:
		return []Box{b}
	}
	return []Box{one, other}
}
