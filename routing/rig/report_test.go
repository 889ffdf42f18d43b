package rig

import (
	"fmt"
	"slices"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig/anchors"
)

// described40 is a rig with everything described, of 40 parts.
func described40() Rig {
	u := movableUnit()
	for i := range 40 {
		p := part(fmt.Sprint("part ", i), 60*measure.Kilogram, 0.5+0.15*float64(i))
		p.Mass.High += 10 * measure.Kilogram
		u.Parts = append(u.Parts, p)
	}
	track, rating, tire := at(2), lb(7000), lb(3600)
	u.Frame.Axles = nil
	for _, x := range []float64{4.6, 5.5, 6.4} {
		u.Frame.Axles = append(u.Frame.Axles, Axle{At: at(x), Track: &track, Rating: &rating, Each: &tire, Tires: 2})
	}
	u.Coupling, u.Clearance, u.TailClearance, u.Deck = Gooseneck, m(0.4), m(0.4), m(0.85)
	for _, x := range []measure.Distance{0.5, 4, 7.5} {
		u.Anchors = append(u.Anchors, anchors.Anchor{Name: "left", Along: x, Across: -1.1, Count: 2}, anchors.Anchor{Name: "right", Along: x, Across: 1.1, Count: 2})
	}
	tow := truck(lb(4700), lb(3500), 4.4, 4.2)
	tow.Width, tow.Height, tow.FrontToCoupling, tow.Fuel = measure.Given(m(2.4)), m(2), m(5.2), "diesel"
	r, err := Assemble(u, tow, Overall{}, "")
	if err != nil {
		panic(err)
	}
	return r
}

// A report answers everything that is described, and its findings hang together with
// its figures.
func TestReport(t *testing.T) {
	r := described40().Report()
	known := r.Statics.Coupling.Known() && r.Tip.Known() && r.Turning.Rig.Known() && r.Underneath.Known() && r.Drag.Known()
	if !known || r.Holding == nil || !r.Holding.Asked.Known() || r.Grades.Why().String() != "rig.no_power" {
		t.Errorf("%+v", r)
	}
	if len(r.Levers) != 43 || r.Levers[0].Part != "house" {
		t.Errorf("%d levers, %+v first", len(r.Levers), r.Levers[0])
	}
	for _, f := range r.Findings {
		clear := f.Rule == RuleSteering // its coupling stands ahead of the rear axle
		if (f.Outcome == finding.Clear) != clear || asks(f) == clear || f.Place.None() {
			t.Errorf("%+v", f)
		}
	}
}

// What holds the house is asked about the house alone, not about the trailer under it.
func TestHoldingTakesTheHouse(t *testing.T) {
	r := described40()
	all := r.Holding().House
	r.Unit.Parts[1].Trailer = true
	if rest := r.Holding().House; rest.High != all.High-r.Unit.Parts[1].Mass.High {
		t.Errorf("%v of %v", rest, all)
	}
	for name, change := range map[string]func(*Unit){
		"deck":    func(u *Unit) { u.Deck = nil },
		"a place": func(u *Unit) { u.Parts[3].Place.Up = nil },
	} {
		r := described40()
		change(&r.Unit)
		if h := r.Holding(); !h.Asked.Open() || h.Asked.Why().None() || h.finding().Outcome != finding.Unknown {
			t.Errorf("without %s: %+v", name, h)
		}
	}
	r.Unit.Anchors = nil
	if r.Holding() != nil {
		t.Error("no anchors hold")
	}
}

// Every finding that compares with a figure names its row, every row a source, and one
// that was read the day; what is invented says so.
func TestFindingsNameTheirRows(t *testing.T) {
	r := described40()
	r.Invented = true
	rows := 0
	for _, f := range r.Findings(r.Statics()) {
		if !f.Invented {
			t.Errorf("%s of an invented rig is not marked", f.Rule)
		}
		for _, row := range f.Citations {
			rows++
			if row.Source == "" || row.Status == finding.Verified {
				t.Errorf("%s: %+v", f.Rule, row)
			}
			if read := row.Status == finding.Published || row.Status == finding.Secondary; read == row.ReadOn.IsZero() {
				t.Errorf("%s: %s, read on %v", f.Rule, row.Status, row.ReadOn)
			}
		}
	}
	if rows == 0 {
		t.Error("no rows")
	}
}

// What moves on a unit of which nothing else is known is still looked at.
func TestMovablesAloneAreDescribed(t *testing.T) {
	r := Rig{Unit: Unit{Frame: Frame{Movables: movableUnit().Movables}}}
	if !r.Described() {
		t.Error("not described")
	}
	for _, rule := range []string{"coupling share", "side to side", "tipping over"} {
		i := slices.IndexFunc(r.Findings(r.Statics()), func(f finding.Finding) bool { return string(f.Rule) == rule })
		if i < 0 {
			t.Errorf("nothing is said of %s", rule)
		} else if f := r.Findings(r.Statics())[i]; f.Outcome != finding.Unknown || !asks(f) {
			t.Errorf("%+v", f)
		}
	}
}

func BenchmarkReport(b *testing.B) {
	r := described40()
	b.ReportAllocs()
	for b.Loop() {
		r.Report()
	}
}

func BenchmarkStatics(b *testing.B) {
	r := described40()
	b.ReportAllocs()
	for b.Loop() {
		r.Statics()
	}
}

func ExampleRig_Statics() {
	// A unit of 6,500 kg whose centre of gravity lies 6.1 m behind its coupling and
	// whose axles stand 6.6 m and 7.4 m behind it.
	along := 6100 * measure.Millimetre
	u := Unit{Frame: Frame{
		Suspension: Equalized, Axles: []Axle{{At: 6600 * measure.Millimetre}, {At: 7400 * measure.Millimetre}},
		Parts: []Part{{Name: "all of it", Mass: Exactly(6500 * measure.Kilogram), Place: Coordinates{Along: &along}}},
	}}
	r, err := Assemble(u, Tow{}, Overall{}, "")
	if err != nil {
		panic(err)
	}
	s := r.Statics()
	fmt.Printf("%.1f kg on the coupling, %.1f %% of the unit; %.1f kg on each axle\n", of(s.Coupling).Likely.Kilograms(), 100*s.Share.Likely, s.Axles[0].Likely.Kilograms())
	// Output: 835.7 kg on the coupling, 12.9 % of the unit; 2832.1 kg on each axle
}
