package driving

import (
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
)

// stretchOf is a road of some 7.9 km, eastward, on a network of nothing else.
func stretchOf(t interface{ Fatal(...any) }, g network.Grade, speed measure.Speed) *network.Network {
	b := network.NewBuilder()
	line := []orb.Point{{-76, 45}, {-75.9, 45}}
	if _, err := b.Edge(network.Edge{From: b.Node(line[0]), To: b.Node(line[1]), Line: line, Class: network.Primary, Speed: speed, Grade: g}); err != nil {
		t.Fatal(err)
	}
	n, err := b.Finish(network.About{Name: "a road for tests", Caution: "for tests only", Carries: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Time is length over speed, that of the road or the top one where it is slower; a
// speed that is not known leaves the time unknown and what is known counted.
func TestPace(t *testing.T) {
	n := stretchOf(t, network.Grade{}, 20)
	whole := n.Whole(network.MakeArc(0, false))
	for _, tc := range []struct{ top, want measure.Speed }{{0, 20}, {30, 20}, {10, 10}} {
		got := Pace{n, tc.top}.Time([]network.Piece{whole, whole})
		want := 2 * float64(whole.Length()) / float64(tc.want)
		slow := want / SlowShare
		if !got.Unknown.None() || math.Abs(got.Seconds()-want) > 1e-3 || math.Abs(got.Slow.Seconds()-slow) > 1e-3 {
			t.Errorf("top speed %v: %v, %v slow, want %v s, %v s", tc.top, got, got.Slow, want, slow)
		}
	}
}

// Times and amounts add up, and one part that is not known leaves the whole so.
func TestSums(t *testing.T) {
	known := Duration{Duration: time.Hour, Slow: 2 * time.Hour}
	open := Duration{Duration: time.Minute, Slow: time.Hour, Unknown: say.Text("no speed")}
	if got := known.Add(open); got.Duration != 61*time.Minute || got.Slow != 3*time.Hour || got.Unknown.String() != "no speed" {
		t.Errorf("%+v", got)
	}
	if got := known.Sub(open); got.Duration != 59*time.Minute || got.Slow != time.Hour || got.Unknown.String() != "no speed" {
		t.Errorf("%+v", got)
	}
	litres := Fuel{Burn: drive.Burn{Likely: 1}}
	if got := litres.Add(Fuel{Burn: litres.Burn, Unknown: say.Text("no drag")}); got.Likely != 2 || got.Unknown.String() != "no drag" {
		t.Errorf("%+v", got)
	}
}

// A road that rises and falls is one climb and one descent of the same slope: as
// long together as the road, and as high as it climbs and as deep as it drops.
func TestSlopesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := network.Grade{
			Known: 1, Ascent: float32(rapid.IntRange(0, 300).Draw(t, "up")), Descent: float32(rapid.IntRange(0, 300).Draw(t, "down")),
		}
		n := stretchOf(t, g, 20)
		whole := n.Whole(network.MakeArc(0, rapid.Bool().Draw(t, "back")))
		there, _ := n.Grade(whole.Arc)
		var length, up, down float64
		for _, s := range slopes(n, whole, drive.Section{Length: whole.Length()}) {
			length += float64(s.Length)
			up += max(0, float64(s.Length)*s.Grade)
			down += max(0, -float64(s.Length)*s.Grade)
		}
		if math.Abs(length-float64(whole.Length())) > 1e-6 || math.Abs(up-float64(there.Ascent)) > 1e-3 || math.Abs(down-float64(there.Descent)) > 1e-3 {
			t.Fatalf("%v m, up %v, down %v of a road of %v m with %+v", length, up, down, whole.Length(), there)
		}
	})
}
