package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// shod is an axle of a track and tires of a width, in metres.
func shod(behind, track, tire float64) Axle {
	return Axle{At: at(behind), Tires: 2, Track: m(track), Width: at(tire)}
}

// A vehicle is as wide as its widest part, and tires are a part of it: laws take the
// total outside width (MCL 257.717; RCW 46.44.010). Track is between the middles of the
// outer tires, so half a tire is beyond it at each side, of duals as of single ones.
func TestWidthIsTheGreaterOfHouseAndTires(t *testing.T) {
	house := []Box{*boxOf(-0.3, 8, 1.22, 0.5, 4.0)}
	wide := shod(6, 2.45, 0.235) // 2.685 m
	half := wide
	half.Width = 0
	measured := half
	measured.Over = m(2.70)
	tow := Tow{Width: measure.Given(m(2.0))}
	for name, tc := range map[string]struct {
		unit    Unit
		want    float64
		atLeast bool
	}{
		"outline, wider tires":                {Unit{Frame: Frame{Outline: house, Axles: []Axle{wide}}}, 2.685, false},
		"outline, the last axle wider":        {Unit{Frame: Frame{Outline: house, Axles: []Axle{shod(5, 2, 0.235), wide}}}, 2.685, false},
		"outline, narrower tires":             {Unit{Frame: Frame{Outline: house, Axles: []Axle{shod(6, 2, 0.235)}}}, 2.44, false},
		"outline, tires not described":        {Unit{Frame: Frame{Outline: house}}, 2.44, true},
		"outline, one axle not known":         {Unit{Frame: Frame{Outline: house, Axles: []Axle{{At: at(5)}, wide}}}, 2.685, true},
		"outline, tires of unknown width":     {Unit{Frame: Frame{Outline: house, Axles: []Axle{half}}}, 2.45, true},
		"outline, no tire reaches so far":     {Unit{Frame: Frame{Outline: house, Axles: []Axle{{At: at(6), Track: m(1.8)}}}}, 2.44, false},
		"outline, measured over tires":        {Unit{Frame: Frame{Outline: house, Axles: []Axle{measured}}}, 2.70, false},
		"given as the house's":                {Unit{Width: measure.Given(m(2.44)), Frame: Frame{Axles: []Axle{wide}}}, 2.685, false},
		"given as the outline's":              {Unit{Width: measure.Given(m(2.44)), Frame: Frame{Outline: house, Axles: []Axle{wide}}}, 2.685, false},
		"given over all":                      {Unit{Width: measure.Given(m(2.685)), Frame: Frame{Outline: house, Axles: []Axle{wide}}}, 2.685, false},
		"given over all, tires not described": {Unit{Width: measure.Given(m(2.44))}, 2.44, false},
		"given, and a track alone is wider":   {Unit{Width: measure.Given(m(2.44)), Frame: Frame{Axles: []Axle{half}}}, 2.45, true},
		"nothing but tires":                   {Unit{Frame: Frame{Axles: []Axle{wide}}}, 2.685, true},
	} {
		r, err := Assemble(tc.unit, tow, Overall{}, "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want := finding.Of(*m(tc.want))
		if tc.atLeast {
			want = want.Least()
		}
		if got := limit.Width.Known(r.Vehicle(clearance.DefaultAllowances()).Measures[limit.Width]); got != want {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
		passing := r.Passing()
		if width, _ := passing.Least(); width != *m(tc.want) || passing.AtLeast() != tc.atLeast {
			t.Errorf("%s: passes with %+v", name, passing)
		}
	}
}

// Tires of a tow vehicle count as those of a unit; mirrors count between things, and no
// law counts them into the width (RCW 46.44.010; 23 CFR 658.16).
func TestWidthOfATowVehicle(t *testing.T) {
	unit := Unit{Width: measure.Given(m(2.44))}
	dual := Axle{Tires: 4, Track: m(2.3), Width: at(0.25)}
	for name, tc := range map[string]struct {
		tow     Tow
		law     float64
		passing float64
	}{
		"body":                      {Tow{Width: measure.Given(m(2.5))}, 2.5, 2.5},
		"duals":                     {Tow{Width: measure.Given(m(2.03)), Truck: Truck{Axles: []Axle{{}, dual}}}, 2.55, 2.55},
		"mirrors":                   {Tow{Width: measure.Given(m(2.03)), OverMirrors: m(2.7)}, 2.44, 2.7},
		"mirrors behind wide duals": {Tow{Width: measure.Given(m(2.03)), OverMirrors: m(2.5), Truck: Truck{Axles: []Axle{{}, dual}}}, 2.55, 2.55},
	} {
		r, err := Assemble(unit, tc.tow, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		passing, _ := r.Passing().Least()
		law, _ := r.Vehicle(clearance.DefaultAllowances()).Measures[limit.Width].Least()
		if law != limit.Amount(*m(tc.law)) || passing != *m(tc.passing) {
			t.Errorf("%s: %v, passes with %v", name, law, passing)
		}
	}
	if _, err := Assemble(Unit{Frame: Frame{Axles: []Axle{shod(6, 2.45, 0.235)}}}, Tow{}, Overall{Width: m(2.6)}, ""); field(t, err) != "rig.width" {
		t.Errorf("a rig narrower than its tires: %v", err)
	}
	tooWide := shod(6, 2.45, 0)
	tooWide.Over = m(2.45)
	if err := CheckBounds(Unit{Frame: Frame{Axles: []Axle{tooWide}}}, Tow{}, Overall{}); field(t, err) != "unit.running_gear[0].over_tires" {
		t.Errorf("no wider than its track: %v", err)
	}
}

// Whatever is forgotten of tires, the rig is not known to be narrower than before, but
// where its width over all is stated.
func TestToKnowLessOfTiresIsNoNarrowerRig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		drawn := func(name string, low, high int) float64 {
			return float64(rapid.IntRange(low, high).Draw(t, name)) / 1000
		}
		u := Unit{Frame: Frame{Outline: []Box{*boxOf(-0.3, 8, drawn("half", 1000, 1300), 0.5, 4)}}}
		for i := range rapid.IntRange(1, 3).Draw(t, "axles") {
			u.Frame.Axles = append(u.Frame.Axles, shod(5+float64(i), drawn("track", 1800, 2500), drawn("tire", 200, 445)))
		}
		tow := Tow{Width: measure.Given(m(2))}
		full, err := Assemble(u, tow, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		less := append([]Axle(nil), u.Frame.Axles...)
		i := rapid.IntRange(0, len(less)-1).Draw(t, "axle")
		if rapid.Bool().Draw(t, "track") {
			less[i].Track = nil
		} else {
			less[i].Width = 0
		}
		u.Frame.Axles = less
		r, err := Assemble(u, tow, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		whole, known := full.Vehicle(clearance.DefaultAllowances()).Measures[limit.Width].Value()
		if !known || whole < limit.Amount(of(full.Unit.Width)) {
			t.Fatalf("all is known: %v, %v", whole, known)
		}
		if got, known := r.Vehicle(clearance.DefaultAllowances()).Measures[limit.Width].Value(); known && got < whole {
			t.Fatalf("without the tires of axle %d: %v", i+1, got)
		}
	})
}

// What turns takes the tires with it, what the air meets does not, and what was
// forgotten hits whether the tires reach as far or not.
func TestTiresInPlan(t *testing.T) {
	u := movableUnit()
	u.Coupling = Gooseneck
	u.Frame.Axles[0] = shod(6, 2.8, 0.3)
	u.Movables = append(u.Movables, Movable{Name: "shutter", Does: Latches, Stand: &Position{Box: boxOf(6, 7, 1.4, 1, 3)}})
	tow := truck(*kg(2000), *kg(1500), 4, 4)
	tow.Width, tow.Height, tow.FrontToCoupling = measure.Given(m(2)), m(2), m(5)
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	if p, known := r.inPlan().Value(); !known || p.UnitWidth != 3.1 {
		t.Errorf("known %v, %v wide in plan", known, p.UnitWidth)
	}
	if area := of(r.Drag()).Shape.Outline; area != measure.Area(4.0*2.54) {
		t.Errorf("the air meets %v", area)
	}
	states := r.States()
	last := states[len(states)-1]
	if states[0].Extent.Width() != at(3.1) || !last.Hits || len(last.Changes(states[0])) == 0 {
		t.Errorf("%v wide; forgotten: hits %v, %q", states[0].Extent.Width(), last.Hits, last.Changes(states[0]))
	}
}
