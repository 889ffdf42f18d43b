package draw

import (
	"math"
	"testing"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

func at(metres float64) measure.Length {
	return measure.Length(math.Round(metres*10_000)) * measure.Millimetre / 10
}

func ptr[T any](v T) *T { return &v }

func kg(n float64) measure.Mass {
	return measure.Mass(math.Round(n)) * measure.Kilogram
}

func about(low, likely, high float64) rig.Estimate {
	return rig.Estimate{Low: kg(low), Likely: kg(likely), High: kg(high)}
}

func place(along, across, up float64) rig.Coordinates {
	return rig.Coordinates{Along: ptr(at(along)), Across: ptr(at(across)), Up: ptr(at(up))}
}

// box of a unit, from the middle line equally far to both sides.
func box(name string, from, to, half, bottom, top float64) rig.Box {
	return rig.Box{Name: name, From: at(from), To: at(to), Left: at(half), Right: at(half), Bottom: at(bottom), Top: at(top)}
}

// sided is a box that lies from left to right of the middle line, right positive.
func sided(from, to, left, right, bottom, top float64) *rig.Box {
	return &rig.Box{From: at(from), To: at(to), Left: at(-left), Right: at(right), Bottom: at(bottom), Top: at(top)}
}

// invented is a house on a gooseneck trailer with three axles: a loft above its
// roof, a chimney that folds, steps that come off, four jacks. No such house
// exists.
func inventedRig(t testing.TB) (rig.Rig, rig.Statics) {
	t.Helper()
	r, err := rig.Assemble(inventedUnit(), inventedTow(), rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	return r, r.Statics()
}

func inventedUnit() rig.Unit {
	u := rig.Unit{Name: "Heron & <Reed>", Coupling: rig.Gooseneck, HeightMeasured: true, MeasuredOn: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)}
	u.Frame = rig.Frame{
		Suspension: rig.Equalized, Deck: ptr(at(0.72)),
		Outline: []rig.Box{
			box("bedroom over the neck", -0.3, 2.2, 1.22, 1.45, 3.5), box("house", 2.2, 10.4, 1.28, 0.62, 3.7), box("loft", 4.6, 7.8, 1.1, 3.7, 4.06), box("eaves", 2.1, 10.55, 1.3, 3.55, 3.7),
		},
		Parts: []rig.Part{
			{Name: "trailer", Mass: rig.Exactly(kg(2100)), Place: place(5.6, 0, 0.7), Trailer: true},
			{Name: "walls and roof", Mass: about(4200, 4700, 5400), Place: place(6.3, 0.02, 2.3)},
			{Name: "kitchen", Mass: about(500, 620, 800), Place: place(8.4, 0.7, 1.6)},
			{Name: "bed", Mass: about(120, 160, 220), Place: place(1.1, 0, 2)},
		},
		Movables: []rig.Movable{
			{Name: "chimney", Does: "folds", Mass: about(12, 15, 20), Travel: &rig.Position{Place: place(9, 0.5, 3.9), Box: sided(8.6, 9.8, 0.4, 0.6, 3.75, 3.95)},
				Stand: &rig.Position{Place: place(9.7, 0.5, 4.2), Box: sided(9.6, 9.8, 0.4, 0.6, 3.7, 4.85)}},
			{Name: "steps", Does: "comes_off", Mass: about(25, 30, 40), Stand: &rig.Position{Place: place(9, -1.6, 0.4), Box: sided(8.4, 9.5, -2.1, -1.28, 0.02, 0.7)}},
		},
	}
	for _, x := range []float64{6.5, 7.4, 8.3} {
		u.Frame.Axles = append(u.Frame.Axles, rig.Axle{At: at(x), Tires: 4, Track: ptr(at(2.05)), Width: at(0.235)})
	}
	for i, j := range []struct{ along, across float64 }{{2.5, -1.1}, {2.5, 1.0}, {10, -1.1}, {10, 1.0}} {
		stand := sided(j.along, j.along+0.15, j.across, j.across+0.1, 0, 0.62)
		name := []string{"jack, front left", "jack, front right", "jack, rear left", "jack, rear right"}[i]
		u.Frame.Movables = append(u.Frame.Movables, rig.Movable{
			Name: name, Does: "slides", Mass: rig.Exactly(kg(14)), Check: "pin in",
			Travel: &rig.Position{Place: place(j.along, j.across, 0.6)}, Stand: &rig.Position{Place: place(j.along, j.across, 0.4), Box: stand},
		})
	}
	return u
}

func inventedTow() rig.Tow {
	return rig.Tow{
		Name: "a truck with \"double\" tires", Height: ptr(at(2.05)), Width: measure.Given(ptr(at(2.4))), Length: ptr(at(6.6)), FrontToCoupling: ptr(at(4.7)),
		Truck: rig.Truck{CouplingAt: ptr(at(3.7)), CabToCoupling: ptr(at(1.1)), Axles: []rig.Axle{{Empty: ptr(kg(2150))}, {At: at(4.1), Empty: ptr(kg(1650))}}},
	}
}

// bareRig is a rig of which only overall measurements are given.
func bareRig(t testing.TB) (rig.Rig, rig.Statics) {
	t.Helper()
	u := rig.Unit{Name: "bare", Height: ptr(at(4.1)), Width: measure.Given(ptr(at(2.6))), Length: ptr(at(9))}
	r, err := rig.Assemble(u, rig.Tow{Length: ptr(at(6))}, rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	return r, r.Statics()
}

// smallRig is a unit that fits a few characters, weighed, without a tow vehicle.
func smallRig(t testing.TB) (rig.Rig, rig.Statics) {
	t.Helper()
	u := rig.Unit{Name: "Wren"}
	u.Frame = rig.Frame{
		Outline:  []rig.Box{box("house", 1.2, 6, 1.2, 0.5, 3)},
		Axles:    []rig.Axle{{At: at(3.6), Track: ptr(at(1.8))}},
		Ticket:   &rig.Ticket{Label: "7", On: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC), Coupling: kg(300), Axles: []measure.Mass{kg(2000)}, Right: ptr(kg(1050))},
		Movables: []rig.Movable{{Name: "awning", Does: "folds", Stand: &rig.Position{Box: sided(2, 5, 1.2, 2.4, 2.2, 2.6)}}},
	}
	r, err := rig.Assemble(u, rig.Tow{}, rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	return r, r.Statics()
}
