package rig

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// weighedUnit is a unit on a scale with three axles of 8,000 lb.
func weighedUnit(suspension Suspension, axles ...float64) Unit {
	u := unitOf(suspension, []float64{5, 6, 7})
	rating, tire := lb(8000), lb(4200)
	for i := range u.Frame.Axles {
		a := &u.Frame.Axles[i]
		a.Rating, a.Each, a.Tires = &rating, &tire, 2
	}
	u.Ticket = &Ticket{Coupling: lb(3000)}
	for _, n := range axles {
		u.Ticket.Axles = append(u.Ticket.Axles, lb(n))
	}
	return u
}

func axleOutcomes(t testing.TB, u Unit) (out []finding.Outcome) {
	t.Helper()
	r, err := Assemble(u, Tow{}, Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Ratings(r.Statics()) {
		if f.Rule == "unit axle rating" {
			out = append(out, f.Outcome)
		}
	}
	return out
}

// Common practice, no source: three axles of 8,000 lb carry 24,000 lb only when
// they share equally.
func TestThreeAxlesShareOnlyIfTheyDo(t *testing.T) {
	for name, tc := range map[string]struct {
		unit Unit
		want string
	}{
		"24,000 lb, equalized":              {weighedUnit(Equalized, 24_000), "[unknown unknown unknown]"},
		"24,001 lb, equalized":              {weighedUnit(Equalized, 24_001), "[forbidden forbidden forbidden]"},
		"24,000 lb, springs of their own":   {weighedUnit(Independent, 24_000), "[unknown unknown unknown]"},
		"24,000 lb, suspension not given":   {weighedUnit(SuspensionUnknown, 24_000), "[unknown unknown unknown]"},
		"24,000 lb, each weighed, alike":    {weighedUnit(Independent, 8000, 8000, 8000), "[clear clear clear]"},
		"24,000 lb, each weighed, unlike":   {weighedUnit(Independent, 7600, 8000, 8400), "[clear clear forbidden]"},
		"the lightest mass above one alone": {weighedUnit(Equalized, 8000, 8000, 8000.0001), "[clear clear forbidden]"},
	} {
		if got := fmt.Sprint(axleOutcomes(t, tc.unit)); got != tc.want {
			t.Errorf("%s: %s, want %s", name, got, tc.want)
		}
	}
}

// The lowest rating governs, and one that is missing keeps even the others from
// clearing.
func TestLowestRatingGoverns(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(*Axle)
		want   finding.Outcome
		says   string
	}{
		"axle":           {func(a *Axle) { r := lb(7000); a.Rating = &r }, finding.Forbidden, "running_gear[0].rating"},
		"tires":          {func(a *Axle) { r := lb(3000); a.Each = &r }, finding.Forbidden, "running_gear[0].tire_rating"},
		"fewer tires":    {func(a *Axle) { a.Tires = 1 }, finding.Forbidden, "running_gear[0].tire_rating"},
		"no tire rating": {func(a *Axle) { a.Each = nil }, finding.Unknown, "field_missing(field: unit.running_gear[0].tire_rating)"},
		"no tire count":  {func(a *Axle) { a.Tires = 0 }, finding.Unknown, "field_missing(field: unit.running_gear[0].tire_rating)"},
		"no rating":      {func(a *Axle) { a.Rating = nil }, finding.Unknown, "field_missing(field: unit.running_gear[0].rating)"},
		"neither":        {func(a *Axle) { a.Rating, a.Each = nil, nil }, finding.Unknown, "rig.no_rating("},
	} {
		u := weighedUnit(Equalized, 7500, 7500, 7500)
		tc.change(&u.Frame.Axles[0])
		r, _ := Assemble(u, Tow{}, Overall{}, "")
		for _, f := range r.Ratings(r.Statics()) {
			if f.Place.String() != "rig.unit_axle(number: 1)" {
				continue
			}
			if f.Outcome != tc.want || !strings.Contains(said(f), tc.says) || !asks(f) {
				t.Errorf("%s: %s, %q", name, f.Outcome, said(f))
			}
		}
	}
}

// What nobody weighed exceeds a rating for certain, perhaps, or would be within it;
// it is never clear of it.
func TestPartsNeverClear(t *testing.T) {
	for name, tc := range map[string]struct {
		mass Estimate
		want finding.Outcome
	}{
		"all of it below":  {Estimate{lb(5000), lb(5500), lb(5999)}, finding.Unknown},
		"at it":            {Estimate{lb(5000), lb(5500), lb(6000)}, finding.Unknown},
		"its end above":    {Estimate{lb(5000), lb(5500), lb(6001)}, finding.Review},
		"likely above":     {Estimate{lb(5900), lb(6100), lb(6200)}, finding.Review},
		"all of it above":  {Estimate{lb(6001), lb(6100), lb(6200)}, finding.Forbidden},
		"exact, below it":  {Exactly(lb(5000)), finding.Unknown},
		"exact, above it":  {Exactly(lb(6001)), finding.Forbidden},
		"exact, just over": {Exactly(lb(6000) + 1), finding.Forbidden},
	} {
		u := unitOf(Equalized, []float64{6}, part("all", 0, 5))
		u.Parts[0].Mass = tc.mass
		gross := lb(6000)
		u.Frame.Ratings.Gross = &gross
		r, _ := Assemble(u, Tow{}, Overall{}, "")
		f := r.Ratings(r.Statics())[0]
		if f.Rule != "unit rating" || f.Outcome != tc.want || !asks(f) || len(f.Citations) != 1 {
			t.Errorf("%s: %s, %q", name, f.Outcome, said(f))
		}
	}
}

// Over its rating a thing is surely, likely or perhaps, by which of its masses is.
func TestSurelyLikelyPerhapsOver(t *testing.T) {
	for want, mass := range map[say.Code]Estimate{
		"rig.over": {lb(6001), lb(6100), lb(6200)}, "rig.likely_over": {lb(6000), lb(6001), lb(6200)},
		"rig.perhaps_over": {lb(5000), lb(6000), lb(6001)}, "rig.would_be_within": {lb(5000), lb(5500), lb(6000)},
	} {
		u := unitOf(Equalized, []float64{6}, part("all", 0, 5))
		u.Parts[0].Mass = mass
		gross := lb(6000)
		u.Frame.Ratings.Gross = &gross
		r, _ := Assemble(u, Tow{}, Overall{}, "")
		if got := r.Ratings(r.Statics())[0].Says[0].Code; got != want {
			t.Errorf("%v: %s, want %s", mass, got, want)
		}
	}
}

// Trailer maker's owner manual, section 3.1 (read): on a ball 10 to 15 %, on a
// gooseneck 20 to 25 %; a truck owner's manual has 15 to 25 % (read second-hand).
// Common practice, no source: below 10 % units sway.
func TestCouplingShares(t *testing.T) {
	for name, tc := range map[string]struct {
		coupling Coupling
		share    float64
		want     finding.Outcome
		says     string
	}{
		"ball, 12 %":      {Ball, 0.12, finding.Unknown, "rig.share_within"},
		"ball, 8 %":       {Ball, 0.08, finding.Review, "rig.share_less"},
		"ball, 20 %":      {Ball, 0.20, finding.Review, "rig.share_more"},
		"gooseneck, 20 %": {Gooseneck, 0.20, finding.Unknown, "rig.share_within"},
		"gooseneck, 12 %": {Gooseneck, 0.12, finding.Review, "rig.share_less"},
		"gooseneck, 30 %": {Gooseneck, 0.30, finding.Review, "rig.share_more"},
		"not known":       {CouplingUnknown, 0.15, finding.Unknown, "rig.share_of_no_kind"},
	} {
		u := unitOf(Equalized, []float64{6}, part("all", 5*measure.Tonne, 6*(1-tc.share)))
		u.Coupling = tc.coupling
		r, _ := Assemble(u, Tow{}, Overall{}, "")
		if f := r.couplingShare(r.Statics()); f.Outcome != tc.want || !strings.Contains(said(f), tc.says) || !asks(f) {
			t.Errorf("%s: %+v", name, f)
		}
	}
	spread := unitOf(Equalized, []float64{6}, part("near", 0, 3), part("far", 5*measure.Tonne, 5.5))
	spread.Parts[0].Mass = Estimate{0, lb(200), lb(4000)}
	spread.Coupling = Ball
	r, _ := Assemble(spread, Tow{}, Overall{}, "")
	if f := r.couplingShare(r.Statics()); f.Outcome != finding.Review {
		t.Errorf("a share that may lie outside: %+v", f)
	}
}

// The heavier side is compared with half of what axles and tires may carry.
func TestSideBySide(t *testing.T) {
	for name, tc := range map[string]struct {
		left, right float64
		want        finding.Outcome
	}{
		"even":           {12_000, 12_000, finding.Clear},
		"heavy right":    {11_000, 13_000, finding.Review}, // each axle leans in its own way
		"heavy left":     {13_000, 11_000, finding.Review},
		"within its own": {11_400, 11_900, finding.Clear},
	} {
		u := weighedUnit(Equalized, (tc.left+tc.right)/3, (tc.left+tc.right)/3, (tc.left+tc.right)/3)
		left, right := lb(tc.left), lb(tc.right)
		u.Ticket.Left, u.Ticket.Right = &left, &right
		r, _ := Assemble(u, Tow{}, Overall{}, "")
		if f := r.sideBySide(r.Statics()); f.Outcome != tc.want {
			t.Errorf("%s: %s, %q", name, f.Outcome, said(f))
		}
	}
	// One axle alone may be beyond half of its own, though both sides together are not.
	u := weighedUnit(Independent, 7900, 4000, 4000)
	left, right := lb(7900), lb(8000)
	u.Ticket.Left, u.Ticket.Right = &left, &right
	lone, _ := Assemble(u, Tow{}, Overall{}, "")
	if f := lone.sideBySide(lone.Statics()); f.Outcome != finding.Clear || f.Place.String() != "rig.side_of_axle(side: right, number: 1)" {
		t.Errorf("%s, %q", f.Outcome, f.Place)
	}
	u.Ticket.Left, u.Ticket.Right = nil, nil
	left = lb(7400)
	u.Ticket.Left = &left
	lone, _ = Assemble(u, Tow{}, Overall{}, "")
	if f := lone.sideBySide(lone.Statics()); f.Outcome != finding.Review || f.Place.String() != "rig.side_of_axle(side: right, number: 1)" {
		t.Errorf("by the left side alone: %s, %q", f.Outcome, f.Place)
	}
	// Without what a side carries it is not known.
	r, _ := Assemble(weighedUnit(Equalized, 20_000), Tow{}, Overall{}, "")
	if f := r.sideBySide(r.Statics()); f.Outcome != finding.Unknown || !asks(f) {
		t.Errorf("%+v", f)
	}
}

// Whatever a rig is, each finding that is not clear says whom to ask, and a rig
// without ratings has none that is clear.
func TestNothingIsClearWithoutARating(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawnUnit(t)
		front := lb(4000)
		r, err := Assemble(u, truck(front, front, 4, 4.5), Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Findings(r.Statics()) {
			if f.Outcome == finding.Clear || !asks(f) || len(f.Says) == 0 {
				t.Fatalf("%+v", f)
			}
		}
	})
}

// A unit of which only the size is given has one finding, and it is unknown.
func TestUndescribed(t *testing.T) {
	r, _ := Assemble(Unit{Height: m(4), Width: measure.Given(m(2.5)), Mass: measure.Given(kg(5000))}, Tow{Mass: kg(3000)}, Overall{}, "")
	if f := r.Findings(r.Statics()); len(f) != 1 || f[0].Outcome != finding.Unknown || !asks(f[0]) {
		t.Errorf("%+v", f)
	}
}

// What is stated to be heavier counts before what was added up; a ticket older than a
// year clears nothing.
func TestStatedAndStale(t *testing.T) {
	gross := lb(14_000)
	u := unitOf(Equalized, []float64{6}, part("all", 0, 5))
	u.Parts[0].Mass, u.Mass, u.Frame.Ratings.Gross = Estimate{lb(12_000), lb(13_000), lb(14_500)}, measure.Given(kg(6351)), &gross
	r, _ := Assemble(u, Tow{}, Overall{}, "")
	if f := r.Ratings(r.Statics())[0]; f.Outcome != finding.Forbidden {
		t.Errorf("stated above it: %s, %q", f.Outcome, said(f))
	}
	old := weighedUnit(Equalized, 7000, 7000, 7000)
	old.Ticket.On = time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
	for day, want := range map[time.Time]string{{}: "[clear clear clear]", old.Ticket.On.AddDate(0, 11, 0): "[clear clear clear]", old.Ticket.On.AddDate(1, 1, 0): "[unknown unknown unknown]"} {
		r, _ := Assemble(old, Tow{}, Overall{}, "")
		r.Day = day
		var got []finding.Outcome
		for _, f := range r.Ratings(r.Statics()) {
			if f.Rule == "unit axle rating" {
				got = append(got, f.Outcome)
			}
		}
		if fmt.Sprint(got) != want {
			t.Errorf("on %v: %v, want %s", day, got, want)
		}
	}
}

// Where the scale of the whole rig and the unit's own ticket contradict each other,
// neither clears anything.
func TestDisputedScalesClearNothing(t *testing.T) {
	u := weighedUnit(Independent, 7000, 7000, 7000)
	gross, pull := lb(26_000), lb(5000)
	u.Frame.Ratings = Ratings{Gross: &gross, Vertical: &pull, Towed: &gross}
	left, right := lb(10_500), lb(10_500)
	u.Ticket.Left, u.Ticket.Right = &left, &right
	tow := truck(lb(4700), lb(3500), 4.4, 4.2)
	tow.Truck.Ratings = Ratings{Vertical: &pull, Towed: &gross}
	for share, clear := range map[float64]bool{7000: true, 5000: false} {
		var o Overall
		for i, n := range []float64{4800, 32_200 - 4800 - 3*share, share, share, share} {
			o.Loads = append(o.Loads, limit.AxleLoad{At: at([]float64{0, 4.4, 9.2, 10.2, 11.2}[i]), Mass: measure.Exactly(lb(n))})
		}
		r, err := Assemble(u, tow, o, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Ratings(r.Statics()) {
			if !clear && f.Outcome == finding.Clear {
				t.Errorf("%s at %s: %q", f.Rule, f.Place, said(f))
			}
			if of := f.Rule == "unit rating" || f.Rule == "towed rating" || f.Rule == "side to side"; clear && of && f.Outcome != finding.Clear {
				t.Errorf("%s is %s where all agree: %q", f.Rule, f.Outcome, said(f))
			}
		}
	}
}

// Every axle of the rig on a scale, coupled, counts before parts and tickets, and
// clears the tow vehicle too.
func TestScaledRig(t *testing.T) {
	u := unitOf(Independent, []float64{5, 6}, part("all", 5*measure.Tonne, 4.5))
	tow := truck(lb(4700), lb(3500), 4.4, 4.2)
	rating, tire := lb(7000), lb(3600)
	for _, axles := range [][]Axle{u.Frame.Axles, tow.Truck.Axles} {
		for i := range axles {
			axles[i].Rating, axles[i].Each, axles[i].Tires = &rating, &tire, 2
		}
	}
	scale := func(masses ...float64) Overall {
		var o Overall
		for i, n := range masses {
			o.Loads = append(o.Loads, limit.AxleLoad{At: at([]float64{0, 4.4, 9.2, 10.2}[i]), Mass: measure.Exactly(lb(n))})
		}
		return o
	}
	for want, o := range map[string]Overall{
		"[clear clear clear clear]": scale(4800, 5600, 4400, 4600), "[clear clear clear forbidden]": scale(4800, 5600, 1900, 7200),
		// The parts put some 9,020 lb on these two axles: one of the two is wrong.
		"[unknown unknown unknown unknown]": scale(4800, 5600, 3000, 3000),
	} {
		r, err := Assemble(u, tow, o, "")
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]finding.Outcome{}
		for _, f := range r.Ratings(r.Statics()) {
			got[f.Place.String()] = f.Outcome
		}
		if s := fmt.Sprint([]finding.Outcome{got["rig.tow_axle(number: 1)"], got["rig.tow_axle(number: 2)"], got["rig.unit_axle(number: 1)"], got["rig.unit_axle(number: 2)"]}); s != want {
			t.Errorf("%s, want %s", s, want)
		}
	}
}
