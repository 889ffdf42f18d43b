package trip

import (
	"slices"
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip/choosing"
)

// The unit of house is 8.6 m by 2.6 m: from corner to corner 8.984 m, which on a slope of
// 2 % is 0.1797 m.
func TestGroundOfAStop(t *testing.T) {
	slope, radius := 0.02, length(9000)
	for _, c := range []struct {
		name       string
		ground     choosing.Ground
		level, out finding.Outcome
		asks       []string // fields
	}{
		{"nothing known", choosing.Ground{}, finding.Unknown, finding.Unknown,
			[]string{"stops[1].ground.reach", "stops[1].ground.slope_percent", "stops[1].ground.way_out"}},
		{"at the reach", choosing.Ground{Slope: &slope, Reach: length(180), Out: choosing.Through}, finding.Clear, finding.Clear, nil},
		{"beyond it", choosing.Ground{Slope: &slope, Reach: length(179), Out: choosing.Backing}, finding.Conditional,
			finding.Review, []string{"", "survey"}},
		{"no circle", choosing.Ground{Slope: &slope, Reach: length(180), Out: choosing.Turning}, finding.Clear, finding.Unknown,
			[]string{"stops[1].ground.circle", "tow.turning_radius"}},
	} {
		p := plan(t, world(t, fork(road{}), nil), house(func(r *Request) {
			r.Stops[1].Visit = choosing.Visit{Stay: time.Hour, Ground: c.ground}
			r.Rig.Tow.TurningRadius = radius
		}))
		level, out := byRule(p, "level ground"), byRule(p, "way out")
		if len(level) != 1 || len(out) != 1 || level[0].Outcome != c.level || out[0].Outcome != c.out {
			t.Fatalf("%s: %+v, %+v", c.name, level, out)
		}
		var asks []string
		for _, step := range slices.Concat(slices.Concat(level[0].Settles...), slices.Concat(out[0].Settles...)) {
			asks = append(asks, step.Of)
		}
		if slices.Sort(asks); !slices.Equal(asks, c.asks) {
			t.Errorf("%s: asks %q", c.name, asks)
		}
	}
	p := plan(t, world(t, fork(road{}), nil), house())
	if found := byRule(p, "level ground"); len(found) > 0 {
		t.Errorf("of a stop that it only comes to: %+v", found)
	}
}

// A rig that turns sweeps no less than twice its radius at full lock.
func TestRoomToTurnOnTheGround(t *testing.T) {
	b := builder{request: described(), plan: &Plan{}}
	needs, known := b.fullCircle()
	if !known || needs <= 2**b.request.Rig.Tow.TurningRadius {
		t.Fatalf("%v, %v", needs, known)
	}
	for _, c := range []struct {
		circle measure.Length
		want   finding.Outcome
	}{{needs, finding.Clear}, {needs - measure.Millimetre, finding.Review}} {
		s := choosing.Stop{Visit: choosing.Visit{Ground: choosing.Ground{Circle: &c.circle, Out: choosing.Turning}}}
		if got := b.leaves(1, s).Outcome; got != c.want {
			t.Errorf("%v clear: %s", c.circle, got)
		}
	}
}
