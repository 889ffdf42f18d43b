package rig

import (
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig/anchors"
	"wayhouse/routing/rig/parts"
)

// house is a unit of one box, 6 m long, its floor at 0.8 m, with one part.
func house(p Part) Unit {
	var u Unit
	u.Outline = []Box{{Name: "house", From: metres(2), To: metres(8), Left: metres(1.2), Right: metres(1.2), Bottom: metres(0.8), Top: metres(4)}}
	p.Field = "unit.parts[0]"
	u.Parts = []Part{p}
	return u
}

func placeAt(along, across, up float64) Coordinates {
	return Corner{metres(along), metres(across), metres(up)}.Place()
}

// Each slip, and what is just no slip beside it.
func TestImplausible(t *testing.T) {
	kg := func(n int) Estimate { return Exactly(measure.Mass(n) * measure.Kilogram) }
	for name, tc := range map[string]struct {
		part  Part
		asks  string
		field string
	}{
		"within":                    {Part{Mass: kg(50), Place: placeAt(5, 0, 2)}, "", ""},
		"0.3 m behind":              {Part{Mass: kg(50), Place: placeAt(8.3, 0, 2)}, "", ""},
		"further behind":            {Part{Mass: kg(50), Place: placeAt(8.301, 0, 2)}, "outside_outline", "unit.parts[0].along"},
		"beside it":                 {Part{Mass: kg(50), Place: placeAt(5, -1.6, 2)}, "outside_outline", "unit.parts[0].across"},
		"above it":                  {Part{Mass: kg(50), Place: placeAt(5, 0, 4.5)}, "outside_outline", "unit.parts[0].up"},
		"axles below it":            {Part{Mass: kg(400), Place: placeAt(5, 0, 0.35), Trailer: true}, "", ""},
		"its place not known":       {Part{Mass: kg(50)}, "", ""},
		"a roof on top":             {Part{Mass: kg(50), Place: placeAt(5, 0, 4), Group: parts.Roof}, "", ""},
		"a roof below the floor":    {Part{Mass: kg(50), Place: placeAt(5, 0, 0.79), Group: parts.Roof}, "roof_below_floor", "unit.parts[0].up"},
		"a floor below the floor":   {Part{Mass: kg(50), Place: placeAt(5, 0, 0.79), Group: parts.Floor}, "", ""},
		"nothing of a stove":        {Part{Place: placeAt(5, 0, 2), Group: parts.Appliance}, "weighs_nothing", "unit.parts[0].count"},
		"an empty tank":             {Part{Place: placeAt(5, 0, 2), Group: parts.Fluid}, "", ""},
		"a tank of 1,500 L":         {Part{Mass: kg(1500), Place: placeAt(5, 0, 2), Group: parts.Fluid}, "", ""},
		"a tank of 15,000 L":        {Part{Mass: kg(15_000), Place: placeAt(5, 0, 2), Group: parts.Fluid}, "large_tank", "unit.parts[0].volume"},
		"15,000 kg of what is told": {Part{Mass: kg(15_000), Place: placeAt(5, 0, 2)}, "", ""},
	} {
		got := Questions(house(tc.part), Overall{})
		switch {
		case tc.asks == "" && len(got) > 0:
			t.Errorf("%s: asks %v", name, got)
		case tc.asks != "" && (len(got) != 1 || got[0].Confirm != tc.asks || got[0].Field != tc.field):
			t.Errorf("%s: %v, want %s at %s", name, got, tc.asks, tc.field)
		}
	}
}

func TestImplausibleAnchorsAndMovables(t *testing.T) {
	u := house(Part{Mass: Exactly(measure.Kilogram), Place: placeAt(5, 0, 2)})
	u.Anchors = []anchors.Anchor{{Name: "front", Along: 2.1, Across: 1.1}, {Name: "far", Along: 12, Across: 1.1}}
	away := Position{Place: placeAt(10, 0, 2)}
	u.Movables = []Movable{{Name: "deck", Travel: &away}, {Name: "steps", Stand: &away}}
	got := Questions(u, Overall{})
	if len(got) != 2 || got[0].Field != "unit.movables[0].travel.along" || got[1].Field != "unit.anchors[1].along" {
		t.Errorf("%v", got)
	}
	u.Outline = nil
	if got := Questions(u, Overall{}); len(got) > 0 {
		t.Errorf("without an outline: %v", got)
	}
}

// A part in any of the boxes is never asked about, and the mirror image of a unit
// is asked about alike.
func TestImplausibleMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		along, across, up := draw("along", 0, 10), draw("across", -2, 2), draw("up", 0, 5)
		asked := func(across float64) int {
			return len(Questions(house(Part{Mass: Exactly(measure.Kilogram), Place: placeAt(along, across, up)}), Overall{}))
		}
		within := along >= 2 && along <= 8 && across >= -1.2 && across <= 1.2 && up >= 0.8 && up <= 4
		if n := asked(across); n != asked(-across) || within && n > 0 {
			t.Fatalf("asked %d times, mirrored %d", n, asked(-across))
		}
	})
}
