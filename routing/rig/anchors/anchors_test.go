package anchors

import (
	"fmt"
	"math"
	"testing"

	"wayhouse/regs/measure"
)

type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

func near[T ~float64](t failer, name string, got, want, tolerance T) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= float64(tolerance)) {
		t.Errorf("%s: %v, want %v within %v", name, float64(got), float64(want), float64(tolerance))
	}
}

// house is 5000 kg over the middle of corners, 1.5 m up.
func house() Body { return Body{Mass: 5 * measure.Tonne, Along: 5, Up: 1.5} }

func at(along, across measure.Distance) Anchor {
	return Anchor{Along: along, Across: across, Count: 1}
}

// corners are four anchors 6 m apart along and 2 m across.
func corners() []Anchor { return []Anchor{at(2, -1), at(2, 1), at(8, -1), at(8, 1)} }

// breeze is 25 m/s against the side and the roof of a house.
func breeze() Wind { return Wind{Air: 1.2, Road: 15, Across: 20, Side: 30, SideUp: 1.8, Roof: 20} }

func assess(t interface{ Fatal(args ...any) }, b Body, anchors []Anchor, w Wind) Result {
	r, err := Assess(b, anchors, w)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Worked by hand from the formulas: 5000 kg weigh 49 033.25 N, 12 258.3125 N on
// each of four anchors 2 m from side to side and 6 m from front to rear.
//
//	braking        F = 0.8 W = 39 226.6 N, 9806.65 N each; M = 1.5 F = 58 839.9 Nm, over 4 x 3^2 = 36 m2 times 3 m
//	               4903.325 N at the rear: less than the weight on it, no pull
//	to either side F = 0.5 W = 24 516.625 N, 6129.15625 N each; M = 36 774.9375 Nm, over 4 x 1^2 = 4 m2 times 1 m
//	               9193.734375 N: less than the weight on it, no pull
//	upward         0.2 W = 9806.65 N, 2451.6625 N each, which is the most
//	               that pulls
func TestLowHouseByHand(t *testing.T) {
	for i, d := range assess(t, house(), corners(), Wind{}).Demands {
		near(t, fmt.Sprint("push ", i), d.PushAside, 9806.65, 1e-6)
		near(t, fmt.Sprint("pull ", i), d.PullUp, 2451.6625, 1e-6)
		if d.PushAsideCase != Braking || d.PullUpCase != Lifting {
			t.Errorf("most when %q and %q", d.PushAsideCase, d.PullUpCase)
		}
	}
}

// The same house with its centre 3 m up, worked by hand: to a side M = 73 549.875
// Nm, 18 387.46875 N less 12 258.3125 N = 6129.15625 N on the side it leaves. With
// 0.5 m of height more it would brake up its rear: 137 293.1/36 x 3 = 11 441.09 N,
// still less than the weight on it.
func TestHighHouseByHand(t *testing.T) {
	b := house()
	b.Up = 3
	for _, d := range assess(t, b, corners(), Wind{}).Demands {
		near(t, "pull", d.PullUp, 6129.15625, 1e-6)
		want := ToRight // the left side lifts
		if d.Across > 0 {
			want = ToLeft
		}
		if d.PullUpCase != want {
			t.Errorf("anchor at %v: most when %q, want %q", d.Across, d.PullUpCase, want)
		}
	}
}

// In the wind, worked by hand: roof 7500 N, side 11 700 N at 1.8 m. To a side the
// push is 36 216.625/4 = 9054.15625 N, less than braking; the moment 36 774.9375 +
// 21 060 = 57 834.9375 Nm makes 14 458.734375 N less (49 033.25 - 7500)/4 =
// 10 383.3125 N, so 4075.421875 N; upward (9806.65 + 7500)/4 = 4326.6625 N.
func TestWindyHouseByHand(t *testing.T) {
	r := assess(t, house(), corners(), breeze())
	for _, d := range r.Demands {
		near(t, "push", d.PushAside, 9806.65, 1e-6)
		near(t, "pull", d.PullUp, 4326.6625, 1e-6)
	}
	g := groupOf(corners())
	l := g.load(house(), breeze(), Cases()[2])
	p, _ := g.pull(l)
	near(t, "left when it goes right", p.at(-3, -1), 4075.421875, 1e-6)
	q, _ := g.push(l)
	near(t, "push to the right", q.at(-3, -1), 9054.15625, 1e-6)
	if len(r.Cannot)+len(r.LeftOut) != 0 {
		t.Errorf("%+v", r)
	}
}

// A high centre over a short base: braking lifts the rear. By hand: anchors 2 m
// apart along, centre 2 m up: M = 78 453.2 Nm over 4 m2 times 1 m = 19 613.3 N less
// 12 258.3125 N = 7354.9875 N; speeding up 12 258.3125 N less as much: none, so the
// front is pulled by the upward case, 2451.6625 N.
func TestBrakingLiftsTheRear(t *testing.T) {
	b := Body{Mass: 5 * measure.Tonne, Along: 5, Up: 2}
	anchors := []Anchor{at(4, -3), at(4, 3), at(6, -3), at(6, 3)}
	for _, d := range assess(t, b, anchors, Wind{}).Demands {
		want, in := measure.Force(7354.9875), Braking
		if d.Along < 5 {
			want, in = 2451.6625, Lifting
		}
		near(t, "pull", d.PullUp, want, 1e-6)
		if d.PullUpCase != in {
			t.Errorf("anchor at %v: most when %q, want %q", d.Along, d.PullUpCase, in)
		}
	}
}

// Around a twist, by hand: the centre 0.6 m behind the middle, 24 516.625 N to the
// right make 14 709.975 Nm over 4 (9 + 1) = 40 m2. At the rear the push is 6129.15625
// + 3 x 367.749375 = 7232.404375 N across and 367.749375 N along.
func TestTwistByHand(t *testing.T) {
	b := house()
	b.Along = 5.6
	g := groupOf(corners())
	p, ok := g.push(g.load(b, Wind{}, Cases()[2]))
	along, across := p.parts(3, 1)
	near(t, "along", along, -367.749375, 1e-6)
	near(t, "across", across, 7232.404375, 1e-6)
	if !ok {
		t.Error("not carried")
	}
}

func ExampleAssess() {
	uplift, shear := measure.Force(8000), measure.Force(7500)
	var anchors []Anchor
	for _, a := range []Anchor{
		{Name: "front left", Along: 2, Across: -1}, {Name: "front right", Along: 2, Across: 1},
		{Name: "rear left", Along: 8, Across: -1}, {Name: "rear right", Along: 8, Across: 1},
	} {
		a.Kind, a.Count, a.Uplift = HoldDown, 2, &uplift
		if a.Along > 5 {
			a.Shear = &shear
		}
		anchors = append(anchors, a)
	}
	body := Body{Mass: 5 * measure.Tonne, Along: 5.5, Across: 0.1, Up: 1.8}
	wind := Wind{Air: 1.29, Road: 100 * measure.KilometrePerHour, Across: 70 * measure.KilometrePerHour, Side: 22, SideUp: 1.6, Roof: 18}
	r, err := Assess(body, anchors, wind)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range r.Demands {
		fmt.Printf("%s, each of %d: %.1f kN up (%s), %.1f kN aside (%s): %s\n", d.Name, d.Count,
			float64(d.PullUp)/1000, d.PullUpCase, float64(d.PushAside)/1000, d.PushAsideCase, d.Status())
	}
	// Output:
	// front left, each of 2: 4.7 kN up (to_right), 4.9 kN aside (braking): not_rated
	// front right, each of 2: 3.8 kN up (to_left), 5.0 kN aside (braking): not_rated
	// rear left, each of 2: 3.2 kN up (to_right), 5.3 kN aside (to_right): within
	// rear right, each of 2: 3.7 kN up (lifting), 5.3 kN aside (to_right): within
}

func BenchmarkAssess(b *testing.B) {
	var anchors []Anchor
	rating := measure.Force(20e3)
	for i := range 12 {
		a := at(2+measure.Distance(i/2), 1.1*measure.Distance(2*(i%2)-1))
		a.Kind, a.Count, a.Uplift, a.Shear = Bolt, 2, &rating, &rating
		anchors = append(anchors, a)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Assess(house(), anchors, breeze()); err != nil {
			b.Fatal(err)
		}
	}
}
