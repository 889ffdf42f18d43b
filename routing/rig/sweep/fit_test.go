package sweep

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb/planar"

	"wayhouse/regs/measure"
)

// gooseneck is a rig like that of the example.
var gooseneck = Combination{
	Wheelbase: 4.4, HitchBehindRear: -0.2, CouplingToAxles: 5.55, FrontOverhang: 1, TowWidth: 2.44, UnitWidth: 2.55,
	UnitFront: 0.3, UnitRear: 2.75,
}

// A circle whose outer corner runs on Ro and whose innermost side on Ri goes round a right
// angle between ways of the width Ro - Ri / sqrt 2 (plane geometry: its centre lies Ri from
// the inner corner, on the bisector). For the WB-40 of AASHTO they are 39.9 and 19.3 ft (as
// quoted by an army's page of turning radii, read): 8.0 m. With 0.3 m more it gets through.
func TestRightAngleOfAASHTO(t *testing.T) {
	wb40 := Combination{
		Wheelbase: 3.81, CouplingToAxles: 8.38, FrontOverhang: 0.9, TowWidth: 2.44, UnitWidth: 2.44, UnitFront: 0.5,
		UnitRear: 0.8,
	}
	const feet = 0.3048
	width := measure.Distance(39.9*feet - 19.3*feet/math.Sqrt2)
	fit, err := wb40.Through(Place{From: width + 0.3, Into: width + 0.3, Angle: 90 * Degree, Side: Right}, 10.97, 0)
	if err != nil || !fit.Passes() {
		t.Errorf("in %.2f m: left %.2f m, right %.2f m, %v", width+0.3, fit.Left, fit.Right, err)
	}
	if fit.Swept.Cuts != Right {
		t.Errorf("in a right turn it cuts to the %s", fit.Swept.Cuts)
	}
}

// The ladder round the corner: a stick of a length L goes round a right angle between ways
// of the widths a and b only where L^(2/3) <= a^(2/3) + b^(2/3) (a textbook problem of
// calculus). Whatever rig is said to get through, neither body is longer than that. And the
// stances of its line stay within the edges, looked at point by point.
func TestNobodyBeatsTheLadder(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	passed := 0
	for range 16 {
		draw := func(low, high float64) measure.Distance { return measure.Distance(low + random.Float64()*(high-low)) }
		r := gooseneck
		r.CouplingToAxles, r.UnitRear = draw(4, 9), draw(0.5, 4)
		p := Place{From: draw(3, 9), Into: draw(3, 9), Angle: 90 * Degree, Side: Left}
		f, err := r.Through(p, 6, 0)
		if err != nil {
			t.Fatal(err)
		}
		if !f.Passes() {
			continue
		}
		passed++
		stick := math.Cbrt(float64(p.From*p.From)) + math.Cbrt(float64(p.Into*p.Into))
		for _, long := range []measure.Distance{r.UnitFront + r.CouplingToAxles + r.UnitRear, r.Wheelbase + r.FrontOverhang} {
			if math.Cbrt(float64(long*long)) > stick {
				t.Fatalf("%.2f m long, it goes round %.2f by %.2f m", long, p.From, p.Into)
			}
		}
		ground := p.lay(200)
		for _, s := range f.Course.Stances {
			for i := range s.Unit {
				a, b := s.Unit[i], s.Unit[(i+1)%4]
				for k := 0.0; k < 1; k += 0.05 {
					q := a
					q[0], q[1] = a[0]+k*(b[0]-a[0]), a[1]+k*(b[1]-a[1])
					if !planar.RingContains(ground.inside, q) {
						t.Fatalf("the unit reaches over an edge at %v", q)
					}
				}
			}
		}
	}
	if passed == 0 {
		t.Error("no rig gets through anything")
	}
}

// A turn to the right is the mirror image of one to the left.
func TestFitIsMirrored(t *testing.T) {
	p := Place{From: 7, Into: 5, Angle: 80 * Degree, Side: Left, GoesOn: true, Kerb: 2}
	left, err := gooseneck.Through(p, 7.4, 0)
	if err != nil {
		t.Fatal(err)
	}
	p.Side = Right
	right, err := gooseneck.Through(p, 7.4, 0)
	if err != nil {
		t.Fatal(err)
	}
	if left.Left != right.Right || left.Right != right.Left || left.Aside != right.Aside {
		t.Errorf("left %.3f %.3f, right %.3f %.3f", left.Left, left.Right, right.Left, right.Right)
	}
	a, b := left.Course.Stances[30], right.Course.Stances[30]
	if a.Unit[0][1] != -b.Unit[1][1] || a.Articulation != -b.Articulation {
		t.Errorf("%v, mirrored %v", a, b)
	}
}

// More room is never less: 1 m more on both ways, and a kerb that is rounded off, leave at
// least what was left before, but for what the search misses.
func TestMoreRoom(t *testing.T) {
	const missed = 0.1
	room := func(p Place) measure.Distance {
		f, err := gooseneck.Through(p, 7.4, 0)
		if err != nil {
			t.Fatal(err)
		}
		return min(f.Left, f.Right)
	}
	before := measure.Distance(-100)
	for w := measure.Distance(5); w <= 9; w++ {
		p := Place{From: w, Into: w, Angle: 90 * Degree, Side: Left}
		now := room(p)
		p.Kerb = 3
		if kerbed := room(p); kerbed < now-missed {
			t.Errorf("%.0f m: %.2f m, with rounded edges %.2f m", w, now, kerbed)
		}
		if now < before-missed {
			t.Errorf("%.0f m leave %.2f m, 1 m less %.2f m", w, now, before)
		}
		before = now
	}
}

// Worked by hand: straight through a gate 3.5 m wide in the middle of a way, a rig 2.55 m
// wide keeps 0.475 m on either side. One that stands aside has the same with room to swing,
// and a gate that is narrower than the unit lets nothing through.
func TestGate(t *testing.T) {
	for _, offset := range []measure.Distance{0, 1.5, -1.5} {
		f, err := gooseneck.Through(Place{From: 8, Into: 8, Gate: &Gate{Width: 3.5, Offset: offset}, Side: Left}, 7.4, 0)
		if err != nil || math.Abs(float64(f.Left)-0.475) > 0.03 || math.Abs(float64(f.Right)-0.475) > 0.03 {
			t.Errorf("offset %v m: left %.3f m, right %.3f m, %v", float64(offset), f.Left, f.Right, err)
		}
	}
	if f, err := gooseneck.Through(Place{From: 8, Into: 8, Gate: &Gate{Width: 2.4}, Side: Left}, 7.4, 0); err != nil || f.Passes() {
		t.Errorf("through 2.4 m: %.3f m, %.3f m, %v", f.Left, f.Right, err)
	}
}

// A rig that may bend no further than it does keeps within it, at the cost of room.
func TestBendsNoFurther(t *testing.T) {
	p := Place{From: 7, Into: 7, Angle: 90 * Degree, Side: Left}
	free, err := gooseneck.Through(p, 5, 0)
	if err != nil {
		t.Fatal(err)
	}
	most := free.Swept.Articulation - 8*Degree
	held, err := gooseneck.Through(p, 5, most)
	if err != nil {
		t.Fatal(err)
	}
	if held.Swept.Articulation > most+Degree || min(held.Left, held.Right) > min(free.Left, free.Right)+0.05 {
		t.Errorf("%.1f degrees of %.1f, %.2f m left, unhindered %.2f m", held.Swept.Articulation/Degree, most/Degree,
			min(held.Left, held.Right), min(free.Left, free.Right))
	}
}

func TestPlaceRefuses(t *testing.T) {
	for name, p := range map[string]Place{
		"no width": {Into: 5, Angle: 90 * Degree}, "turned back": {From: 5, Into: 5, Angle: 170 * Degree},
		"a gate wider than its way": {From: 5, Into: 5, Gate: &Gate{Width: 6}},
		"a gate in the hedge":       {From: 5, Into: 5, Gate: &Gate{Width: 4, Offset: 2}},
	} {
		if _, err := gooseneck.Through(p, 7, 0); err == nil {
			t.Errorf("%s is driven", name)
		}
	}
}
