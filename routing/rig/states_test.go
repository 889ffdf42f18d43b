package rig

import (
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func boxOf(from, to, side, bottom, top float64) *Box {
	return &Box{From: at(from), To: at(to), Left: at(side), Right: at(side), Bottom: at(bottom), Top: at(top)}
}

// movableUnit has a chimney that comes off, a deck that folds and a latch that
// reaches nowhere.
func movableUnit() Unit {
	u := unitOf(Equalized, []float64{6}, part("house", 5*measure.Tonne, 5))
	u.Outline = []Box{*boxOf(-0.3, 8, 1.27, 0.5, 4.0)}
	place := func(along, up float64) Coordinates {
		x, y, z := at(along), at(0), at(up)
		return Coordinates{&x, &y, &z}
	}
	u.Movables = []Movable{
		{Name: "chimney", Does: ComesOff, Mass: Exactly(12 * measure.Kilogram), Stand: &Position{place(4, 4.3), boxOf(3.9, 4.1, 0.1, 3.9, 4.6)}, Travel: &Position{Place: place(5, 1)}},
		{Name: "deck", Does: Folds, Mass: Exactly(60 * measure.Kilogram), Stand: &Position{place(8.6, 0.8), boxOf(8, 9.8, 1.1, 0.6, 0.8)}, Travel: &Position{place(8.1, 1.5), boxOf(8, 8.15, 1.1, 0.6, 2.4)}},
		{Name: "gas bottles", Does: ComesOff, Mass: Exactly(40 * measure.Kilogram), Stand: &Position{Place: place(0.5, 1)}, Check: "valves shut"},
		{Name: "door", Does: Latches, Stand: &Position{Box: boxOf(6, 7, 1.27, 1, 3)}, Travel: &Position{Box: boxOf(6, 7, 1.27, 1, 3)}},
	}
	return u
}

// What comes off, folds and stays behind changes outline and mass; what is
// forgotten shows as the size that hits.
func TestStates(t *testing.T) {
	r, err := Assemble(movableUnit(), Tow{}, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	wide, _ := r.Unit.Width.Least()
	if *r.Unit.Height != at(4.0) || *r.Unit.Length != at(8.45) || wide != at(2.54) || *r.Unit.CouplingToRear != at(8.15) {
		t.Errorf("travels %v high, %v long, %v wide", *r.Unit.Height, *r.Unit.Length, wide)
	}
	states := r.States()
	for i, want := range []struct {
		forgotten   string
		top, length float64
		kilograms   int64
		hits        bool
	}{
		{"", 4.0, 8.45, 5072, false}, {"", 4.6, 10.1, 5112, false},
		{"chimney", 4.6, 8.45, 5072, true}, {"deck", 4.0, 10.1, 5072, true}, {"gas bottles", 4.0, 8.45, 5112, false}, {"door", 4.0, 8.45, 5072, false},
	} {
		m := states[i]
		if m.Forgotten != want.forgotten || m.Extent.Top != at(want.top) || m.Extent.Length() != at(want.length) || m.Mass != Exactly(measure.Mass(want.kilograms)*measure.Kilogram) || m.Hits != want.hits {
			t.Errorf("%d %s: %v high, %v long, %v, hits %v", i, m.Forgotten, m.Extent.Top, m.Extent.Length(), m.Mass, m.Hits)
		}
	}
	changes := say.Strings(states[2].Changes(states[0]))
	if want := say.That("rig.height_changes", "is", at(4.6), "was", at(4)).String(); !slices.Contains(changes, want) {
		t.Errorf("%q, want %q among them", changes, want)
	}
	if of(states[1].Coupling) == of(states[0].Coupling) {
		t.Error("the coupling carries the same whether it stands or travels")
	}
	// Taking the deck for folded when it is not moves mass behind the axle.
	if of(states[3].Coupling).Likely >= of(states[0].Coupling).Likely {
		t.Errorf("with the deck down %v rests on the coupling, folded %v", states[3].Coupling, states[0].Coupling)
	}
}

// Each thing that hits is a finding for a person, and each movable is on the list of
// the departure.
func TestForgottenAndDeparture(t *testing.T) {
	r, _ := Assemble(movableUnit(), Tow{}, Overall{}, "")
	var hits []string
	for _, f := range r.Findings(r.Statics()) {
		if f.Rule == "forgotten" {
			hits = append(hits, f.Place.String())
			if f.Outcome != finding.Review || !asks(f) {
				t.Errorf("%+v", f)
			}
		}
	}
	if !slices.Equal(hits, []string{"chimney", "deck"}) {
		t.Errorf("hits %v", hits)
	}
	list := strings.Join(say.Strings(r.Departure()), "\n")
	for _, want := range []string{
		"rig.stowed(name: chimney", "rig.folded(name: deck", "rig.taken_off(name: gas bottles, check: valves shut)", "rig.latched(name: door",
		"rig.check_coupling", "rig.check_height",
	} {
		if !strings.Contains(list, want) {
			t.Errorf("the list lacks %q:\n%s", want, list)
		}
	}
}

// Sizes that contradict the description are refused by field; a height that was
// measured on the unit counts before the drawing.
func TestMeasuredAgainstDescribed(t *testing.T) {
	for want, change := range map[string]func(*Unit){
		"unit.height":                func(u *Unit) { u.Height = m(4.1) },
		"unit.width":                 func(u *Unit) { u.Width = measure.Given(m(2.5)) },
		"unit.length":                func(u *Unit) { u.Length = m(8.4) },
		"unit.coupling_to_rear":      func(u *Unit) { u.CouplingToRear = m(8) },
		"unit.axles":                 func(u *Unit) { u.Axles = 2 },
		"unit.coupling_to_last_axle": func(u *Unit) { u.CouplingToAxle = m(5) },
		"unit.mass": func(u *Unit) {
			u.Mass, u.Ticket = measure.Given(kg(5000)), &Ticket{Coupling: *kg(900), Axles: []measure.Mass{*kg(4000)}}
		},
	} {
		u := movableUnit()
		change(&u)
		if _, err := Assemble(u, Tow{}, Overall{}, ""); field(t, err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
	u := movableUnit()
	u.Height, u.HeightMeasured = m(4.03), true
	if r, err := Assemble(u, Tow{}, Overall{}, ""); err != nil || *r.Unit.Height != at(4.03) {
		t.Errorf("measured: %v, %v", r.Unit.Height, err)
	}
	tow := truck(*kg(2000), *kg(1500), 4, 4)
	tow.Mass = kg(3600)
	if _, err := Assemble(Unit{}, tow, Overall{}, ""); field(t, err) != "tow.mass" {
		t.Errorf("tow: %v", err)
	}
	tow.Mass, tow.Axles = nil, 3
	if _, err := Assemble(Unit{}, tow, Overall{}, ""); field(t, err) != "tow.axles" {
		t.Errorf("tow: %v", err)
	}
}
