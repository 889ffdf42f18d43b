package rig

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func near(t testing.TB, name string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v within %v", name, got, want, tolerance)
	}
}

func lb(n float64) measure.Mass { return measure.Mass(math.Round(n * float64(measure.Pound))) }

func at(metres float64) measure.Length {
	return measure.Length(math.Round(metres * float64(measure.Metre)))
}

// part is something of a mass without doubt, so far behind the coupling.
func part(name string, mass measure.Mass, along float64) Part {
	x, y, z := at(along), at(0), at(1.5)
	return Part{Name: name, Mass: Exactly(mass), Place: Coordinates{&x, &y, &z}}
}

// unitOf is a unit with axles at some places behind the coupling.
func unitOf(suspension Suspension, axles []float64, parts ...Part) Unit {
	u := Unit{Frame: Frame{Suspension: suspension, Parts: parts}}
	for _, x := range axles {
		u.Frame.Axles = append(u.Frame.Axles, Axle{At: at(x)})
	}
	return u
}

// truck is a tow vehicle of two axles so far apart, with its coupling so far
// behind the first.
func truck(front, rear measure.Mass, wheelbase, coupling float64) Tow {
	c := at(coupling)
	return Tow{Truck: Truck{CouplingAt: &c, Axles: []Axle{{Empty: &front}, {At: at(wheelbase), Empty: &rear}}}}
}

func balance(t testing.TB, u Unit, tow Tow) Statics {
	t.Helper()
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	return r.Statics()
}

// Worked by hand from the balance of moments: 6,500 kg whose centre lies 6.1 m
// behind the coupling of a unit with its axles at 7.0 m puts 835.7 kg (12.857 %)
// on the coupling and 5,664.3 kg on the axles.
func TestBalanceByHand(t *testing.T) {
	s := balance(t, unitOf(Equalized, []float64{6.6, 7.4}, part("all", 6500*measure.Kilogram, 6.1)), Tow{})
	near(t, "coupling, kg", of(s.Coupling).Likely.Kilograms(), 835.714, 0.001)
	near(t, "axles, kg", of(s.Group).Likely.Kilograms(), 5664.286, 0.001)
	near(t, "share", s.Share.Likely, 0.12857, 0.00001)
	near(t, "each axle, kg", s.Axles[0].Likely.Kilograms(), 5664.286/2, 0.001)
}

// Trailer maker's owner manual, section 3.1 (read): a gooseneck of 12,000 lb
// should have 2,400 to 3,000 lb on its coupling. With the centre at 0.775 of the
// way to the axles it has 2,700 lb (worked by hand).
func TestGooseneckOfTheManual(t *testing.T) {
	u := unitOf(Equalized, []float64{20 * 0.3048}, part("all", 12_000*measure.Pound, 20*0.3048*0.775))
	u.Coupling = Gooseneck
	r, _ := Assemble(u, Tow{}, Overall{}, "")
	s := r.Statics()
	near(t, "coupling, lb", float64(of(s.Coupling).Likely)/float64(measure.Pound), 2700, 0.01)
	if f := r.couplingShare(s); f.Outcome != finding.Unknown || !strings.Contains(said(f), "rig.share_within") {
		t.Errorf("%+v", f)
	}
}

// The load that a coupling puts on a tow vehicle (facts of this project, worked by
// hand): on the rear axle W (B+b)/B, off the front one W b/B, with the wheelbase B
// and the coupling b behind the rear axle, or ahead of it as with a gooseneck.
func TestCouplingOnTowVehicle(t *testing.T) {
	// 1,000 kg on the coupling: 2,000 kg of unit with its middle half-way to the axles.
	u := unitOf(Equalized, []float64{6}, part("all", 2000*measure.Kilogram, 3))
	for name, tc := range map[string]struct{ wheelbase, coupling, front, rear float64 }{
		"ball 1.2 m behind":       {4, 5.2, 2000 - 300, 1500 + 1300},
		"gooseneck 0.2 m ahead":   {4, 3.8, 2000 + 50, 1500 + 950},
		"straight over the axle":  {4, 4, 2000, 2500},
		"far behind lifts it off": {4, 12, 0, 1500 + 3000},
	} {
		s := balance(t, u, truck(2000*measure.Kilogram, 1500*measure.Kilogram, tc.wheelbase, tc.coupling))
		near(t, name+": front", s.Tow[0].Likely.Kilograms(), tc.front, 1e-6)
		near(t, name+": rear", s.Tow[1].Likely.Kilograms(), tc.rear, 1e-6)
	}
}

// drawnPart is any part, light to heavy, anywhere on a unit.
func drawnPart(t *rapid.T, i int) Part {
	kg := func(name string) measure.Mass {
		return measure.Mass(rapid.Int64Range(1, 3_000_000_000_00).Draw(t, fmt.Sprint(name, i)))
	}
	length := func(name string, low, high int64) *measure.Length {
		l := measure.Length(rapid.Int64Range(low, high).Draw(t, fmt.Sprint(name, i))) * measure.Millimetre
		return &l
	}
	low, more, most := kg("low"), kg("more"), kg("most")
	return Part{
		Name: fmt.Sprint("part ", i), Mass: Estimate{low, low + more, low + more + most},
		Place: Coordinates{length("along", -2000, 12_000), length("across", -1300, 1300), length("up", 300, 4200)},
	}
}

func drawnUnit(t *rapid.T) Unit {
	u := Unit{Frame: Frame{Suspension: Equalized}}
	for i := range rapid.IntRange(1, 12).Draw(t, "parts") {
		u.Parts = append(u.Parts, drawnPart(t, i))
	}
	x := measure.Length(0)
	for i := range rapid.IntRange(1, 5).Draw(t, "axles") {
		x += measure.Length(rapid.Int64Range(700, 4000).Draw(t, fmt.Sprint("axle", i))) * measure.Millimetre
		track := 2 * measure.Metre
		u.Frame.Axles = append(u.Frame.Axles, Axle{At: x, Track: &track})
	}
	return u
}

// Over random rigs the masses on axles and coupling add up to the whole, to the
// last unit of mass, and the sides to what the axles carry.
func TestMassesAddUpExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		front, rear := lb(4713), lb(3391)
		tow := truck(front, rear, 4.4, rapid.Float64Range(2, 7).Draw(t, "coupling at"))
		tow.Truck.Axles = append(tow.Truck.Axles, Axle{At: at(5.7), Empty: &front})
		r, err := Assemble(u, tow, Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		s := r.Statics()
		if of(s.Coupling).Likely+of(s.Group).Likely != s.Unit.Likely {
			t.Fatalf("coupling %d and axles %d are not %d", of(s.Coupling).Likely, of(s.Group).Likely, s.Unit.Likely)
		}
		var axles, all measure.Mass
		for _, a := range s.Axles {
			axles += a.Likely
		}
		for _, a := range s.Tow {
			all += a.Likely
		}
		if axles != of(s.Group).Likely {
			t.Fatalf("axles %d are not the group %d", axles, of(s.Group).Likely)
		}
		if all+axles != of(s.Rig).Likely {
			t.Fatalf("all axles %d are not the rig %d", all+axles, of(s.Rig).Likely)
		}
	})
}

// Moving a part moves the masses as the lever says: by m d / L, from the axles to
// the coupling.
func TestMovingAPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		before := (Rig{Unit: u}).Statics()
		i := rapid.IntRange(0, len(u.Parts)-1).Draw(t, "which")
		by := measure.Length(rapid.Int64Range(-3000, 3000).Draw(t, "by")) * measure.Millimetre
		moved := *u.Parts[i].Place.Along - by // toward the coupling
		u.Parts[i].Place.Along = &moved
		after := (Rig{Unit: u}).Statics()
		middle := axlesAt(u.Frame.Axles).Metres() / float64(len(u.Frame.Axles))
		want := u.Parts[i].Mass.Likely.Kilograms() * by.Metres() / middle
		near := func(what string, got measure.Mass, want float64) {
			if math.Abs(got.Kilograms()-want) > 1e-7+1e-9*math.Abs(want) {
				t.Fatalf("%s moved by %v kg, want %v", what, got.Kilograms(), want)
			}
		}
		near("coupling", of(after.Coupling).Likely-of(before.Coupling).Likely, want)
		near("axles", of(after.Group).Likely-of(before.Group).Likely, -want)
		near("lever", u.lever(u.Parts[i]), u.Parts[i].Mass.Likely.Kilograms()/middle)
	})
}

// Whatever the parts weigh within their ends, axles, coupling, sides, share and
// centre stay within theirs.
func TestEndsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		wide := (Rig{Unit: u}).Statics()
		for i := range u.Parts {
			m := u.Parts[i].Mass
			u.Parts[i].Mass = Exactly(measure.Mass(rapid.Int64Range(int64(m.Low), int64(m.High)).Draw(t, fmt.Sprint("mass", i))))
		}
		s := (Rig{Unit: u}).Statics()
		within := func(what string, is, of Estimate) {
			const rounding = 8 // units of mass
			if is.Likely < of.Low-rounding || is.Likely > of.High+rounding {
				t.Fatalf("%s %v is outside %v", what, is.Likely, of)
			}
		}
		within("unit", s.Unit, wide.Unit)
		within("coupling", of(s.Coupling), of(wide.Coupling))
		within("group", of(s.Group), of(wide.Group))
		within("axle", s.Axles[0], wide.Axles[0])
		within("right", of(s.Right), of(wide.Right))
		for name, c := range map[string][2]Centre{"along": {s.Centre.Along, wide.Centre.Along}, "across": {s.Centre.Across, wide.Centre.Across}, "up": {s.Centre.Up, wide.Centre.Up}} {
			if c[0].Likely < c[1].Low-1e-9 || c[0].Likely > c[1].High+1e-9 {
				t.Fatalf("centre %s %v is outside %v to %v", name, c[0].Likely, c[1].Low, c[1].High)
			}
		}
		if s.Share.Likely < wide.Share.Low-1e-9 || s.Share.Likely > wide.Share.High+1e-9 {
			t.Fatalf("share %v is outside %v", s.Share.Likely, wide.Share)
		}
	})
}

// A part without a place, and what is not described, leave unknown what hangs on
// them and nothing else.
func TestWhatIsNotGivenIsUnknown(t *testing.T) {
	full := func() (Unit, Tow) {
		u := unitOf(Equalized, []float64{5, 6}, part("house", 4*measure.Tonne, 4.4), part("stove", 90*measure.Kilogram, 3))
		track := at(2)
		for i := range u.Frame.Axles {
			u.Frame.Axles[i].Track = &track
		}
		return u, truck(2*measure.Tonne, 1500*measure.Kilogram, 4, 3.8)
	}
	for name, tc := range map[string]struct {
		change                    func(*Unit, *Tow)
		coupling, tow, right, tip bool
		says                      string
	}{
		"all":          {func(*Unit, *Tow) {}, true, true, true, true, ""},
		"along":        {func(u *Unit, _ *Tow) { u.Parts[1].Place.Along = nil }, false, false, false, true, "rig.no_place_along(parts: rig.list(names: [stove], more: 0))"},
		"across":       {func(u *Unit, _ *Tow) { u.Parts[1].Place.Across = nil }, true, true, false, true, ""},
		"up":           {func(u *Unit, _ *Tow) { u.Parts[1].Place.Up = nil }, true, true, true, false, ""},
		"track":        {func(u *Unit, _ *Tow) { u.Frame.Axles[0].Track = nil }, true, true, false, false, ""},
		"unit's axles": {func(u *Unit, _ *Tow) { u.Frame.Axles = nil }, false, false, false, false, "rig.no_unit_axles"},
		"parts":        {func(u *Unit, _ *Tow) { u.Parts = nil }, false, false, false, false, "rig.nothing_weighed"},
		"tow's axles":  {func(_ *Unit, t *Tow) { t.Truck.Axles = nil }, true, false, true, true, "rig.no_tow_axles"},
		"coupling at":  {func(_ *Unit, t *Tow) { t.CouplingAt = nil }, true, false, true, true, "rig.no_tow_axles"},
		"empty":        {func(_ *Unit, t *Tow) { t.Truck.Axles[0].Empty = nil }, true, false, true, true, "rig.no_empty_axles"},
	} {
		u, tow := full()
		tc.change(&u, &tow)
		r, err := Assemble(u, tow, Overall{}, "")
		if err != nil {
			t.Fatal(name, err)
		}
		s := r.Statics()
		tip := r.Tip(s)
		if s.Coupling.Known() != tc.coupling || (len(s.Tow) > 0) != tc.tow || s.Right.Known() != tc.right || tip.Known() != tc.tip {
			t.Errorf("without %s: coupling %v, tow %v, right %v, tip %v", name, s.Coupling, s.Tow, s.Right, tip.Why())
		}
		if tc.says != "" && !strings.Contains(strings.Join(say.Strings(s.Unknown), "; "), tc.says) || tc.says == "" && len(s.Unknown) > 0 {
			t.Errorf("without %s: %q", name, s.Unknown)
		}
	}
}

// A scale's ticket counts before the parts; one mass for all axles together is
// shared only by what shares.
func TestTicketOverrides(t *testing.T) {
	for name, tc := range map[string]struct {
		suspension Suspension
		axles      []measure.Mass
		even       bool
	}{
		"each":                  {Independent, []measure.Mass{lb(5140), lb(5480)}, true},
		"together, equalized":   {Equalized, []measure.Mass{lb(10_620)}, true},
		"together, independent": {Independent, []measure.Mass{lb(10_620)}, false},
		"together, not known":   {SuspensionUnknown, []measure.Mass{lb(10_620)}, false},
	} {
		u := unitOf(tc.suspension, []float64{5, 6}, part("house", 9*measure.Tonne, 4.4))
		u.Ticket = &Ticket{Coupling: lb(1320), Axles: tc.axles}
		s := balance(t, u, Tow{})
		if s.Basis != OnScale || s.Unit != Exactly(lb(11_940)) || of(s.Coupling) != Exactly(lb(1320)) || s.Even != tc.even || s.Axles[0].Likely+s.Axles[1].Likely != lb(10_620) {
			t.Errorf("%s: %+v", name, s)
		}
		near(t, name+": share", s.Share.Likely, 1320.0/11_940, 1e-9)
		if known := s.Centre.Along.Known(); known != tc.even {
			t.Errorf("%s: centre of gravity known %v", name, known)
		} else if known { // the same share by the lever: 1 - x over the middle of the axles
			x := (float64(s.Axles[0].Likely)*5 + float64(s.Axles[1].Likely)*6) / float64(s.Unit.Likely)
			near(t, name+": centre", float64(s.Centre.Along.Likely), x, 1e-9)
		}
	}
}
