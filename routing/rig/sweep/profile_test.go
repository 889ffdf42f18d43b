package sweep

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// Needs of simple shapes, worked by hand.
//   - A sharp peak of grade g each side: g span/2, at the middle.
//   - A break from level to a grade g down: one support goes down the slope
//     while the other stays, so the rise at the break is g u (1 - u/span), most
//     at u = span/2: g span/4.
//   - A flat top of half length a, span beyond about 3.4 a: the supports stand
//     u and span-2a-u down the slopes; at the near edge the rise is 2 g u
//     (span-a-u)/span, most at u = (span-a)/2: g (span-a)^2 / (2 span), which
//     is g a^2/(2 span) more than at the middle of the hump.
func TestNeedByHand(t *testing.T) {
	for _, tc := range []struct {
		name  string
		p     Profile
		span  measure.Distance
		want  measure.Distance
		where measure.Distance
	}{
		{"level", Profile{{0, 3}, {50, 3}}, 8, 0, 0},
		{"even grade", Profile{{0, 0}, {10, 1}, {50, 5}}, 8, 0, 0},
		{"valley", Profile{{0, 1}, {20, 0}, {40, 1}}, 8, 0, 0},
		{"peak", Profile{{0, 0}, {20, 1}, {40, 0}}, 8, 0.2, 20},
		{"peak on a grade", Profile{{0, 0}, {20, 2}, {40, 2}}, 8, 0.2, 20},
		{"break", Profile{{0, 1}, {20, 1}, {40, 0}}, 8, 0.1, 20},
		{"short step up in the middle", Profile{{0, 0}, {19.9, 0}, {20, 0.15}, {20.1, 0}, {40, 0}}, 8, 0.15, 20},
		{"just as long as the span", Profile{{0, 0}, {4, 0.3}, {8, 0}}, 8, 0.3, 4},
	} {
		got, ok := tc.p.Need(tc.span)
		if !ok {
			t.Errorf("%s: no answer", tc.name)
		}
		near(t, tc.name, got.Need, tc.want, 1e-12)
		near(t, tc.name+", where", got.At, tc.where, 1e-12)
	}
	h := RailCrossing()
	for _, tc := range []struct {
		grade      Grade
		span, want measure.Distance
	}{{h.Grade, 8, 0.02485}, {h.Grade, 10, 0.03358}, {0.05, 8, 0.13915}} {
		h.Grade = tc.grade
		got, ok := h.Profile().Need(tc.span)
		closed := measure.Distance(h.Grade) * (tc.span - h.HalfTop) * (tc.span - h.HalfTop) / (2 * tc.span)
		if !ok {
			t.Fatal("no answer")
		}
		near(t, "flat top", got.Need, closed, 1e-12)
		near(t, "flat top, by hand", got.Need, tc.want, 0.00001)
	}
}

func TestNeedNoAnswer(t *testing.T) {
	nan := measure.Distance(math.NaN())
	good := Profile{{0, 0}, {20, 1}, {40, 0}}
	for name, tc := range map[string]struct {
		p    Profile
		span measure.Distance
	}{
		"empty":           {nil, 8},
		"one point":       {good[:1], 8},
		"too short":       {good, 40.001},
		"no span":         {good, 0},
		"span NaN":        {good, nan},
		"span infinite":   {good, measure.Distance(math.Inf(1))},
		"height NaN":      {Profile{{0, 0}, {20, nan}, {40, 0}}, 8},
		"height infinite": {Profile{{0, 0}, {20, measure.Distance(math.Inf(-1))}, {40, 0}}, 8},
		"distance NaN":    {Profile{{0, 0}, {nan, 1}, {40, 0}}, 8},
		"goes back":       {Profile{{0, 0}, {20, 1}, {10, 0}}, 8},
		"vertical":        {Profile{{0, 0}, {20, 1}, {20, 0}, {40, 0}}, 8},
	} {
		if got, ok := tc.p.Need(tc.span); ok || got != (Touch{}) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func drawProfile(t *rapid.T) Profile {
	p := Profile{{Distance: measure.Distance(rapid.Float64Range(-50, 50).Draw(t, "start"))}}
	for range rapid.IntRange(1, 12).Draw(t, "vertices") {
		p = append(p, ProfilePoint{
			Distance: p[len(p)-1].Distance + measure.Distance(rapid.Float64Range(0.2, 8).Draw(t, "step")),
			Height:   measure.Distance(rapid.Float64Range(-1, 1).Draw(t, "height")),
		})
	}
	return p
}

// The exact answer is what many positions tried one by one come close to and
// never exceed.
func TestNeedByTrial(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProfile(t)
		span := measure.Distance(rapid.Float64Range(1, 12).Draw(t, "span"))
		got, ok := p.Need(span)
		first, room := float64(p[0].Distance), float64(p[len(p)-1].Distance-p[0].Distance-span)
		if ok != (room >= 0) {
			t.Fatalf("room %v, answer %v", room, ok)
		}
		if !ok {
			return
		}
		const n = 4000
		tried := 0.0
		for k := 0.0; k <= n; k++ {
			rear := first + room*k/n
			a, b := p.height(rear), p.height(rear+float64(span))
			for _, v := range p {
				if f := (float64(v.Distance) - rear) / float64(span); 0 < f && f < 1 {
					tried = max(tried, float64(v.Height)-a-f*(b-a))
				}
			}
		}
		// A vertex that is passed at 10 to 1 falls by that slope in a step.
		if need := float64(got.Need); tried > need+1e-9 || tried < need-20*room/n-1e-9 {
			t.Fatalf("need %v, tried %v", need, tried)
		}
	})
}

// A profile driven the other way, lifted or tilted a little needs the same; a
// longer span over one crest needs no less.
func TestNeedUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProfile(t)
		span := measure.Distance(rapid.Float64Range(1, 12).Draw(t, "span"))
		want, ok := p.Need(span)
		tilt := measure.Distance(rapid.Float64Range(-0.1, 0.1).Draw(t, "tilt"))
		var back, tilted Profile
		for i, v := range p {
			tilted = append(tilted, ProfilePoint{v.Distance, v.Height + 7 + tilt*v.Distance})
			w := p[len(p)-1-i]
			back = append(back, ProfilePoint{-w.Distance, w.Height})
		}
		got, ok2 := back.Need(span)
		other, ok3 := tilted.Need(span)
		if ok2 != ok || ok3 != ok || math.Abs(float64(got.Need-want.Need)) > 1e-9 || math.Abs(float64(other.Need-want.Need)) > 1e-9 {
			t.Fatalf("%+v, back %+v, tilted %+v", want, got, other)
		}
	})
}

// A crest cut into chords of 1 m comes close to the parabola's closed form.
func TestNeedOfCrest(t *testing.T) {
	var p Profile
	for x := measure.Distance(-30); x <= 30; x++ {
		p = append(p, ProfilePoint{x, -x * x / (2 * 50)})
	}
	got, ok := p.Need(8)
	if !ok {
		t.Fatal("no answer")
	}
	near(t, "crest", got.Need, 0.160, 0.0026) // the sag of a chord of 1 m: 1/(8*50)
}

func BenchmarkNeed(b *testing.B) {
	var p Profile
	for i := range 100 {
		p = append(p, ProfilePoint{measure.Distance(i), measure.Distance(math.Sin(float64(i)))})
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := p.Need(8); !ok {
			b.Fatal("no answer")
		}
	}
}
