package sweep

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

// Every point of the rig passes every station, however tight the bend and
// wherever the path ends.
func TestAllPass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := Angle(rapid.Float64Range(10, 170).Draw(t, "turn")) * Degree
		path := arc(turn, measure.Distance(rapid.Float64Range(3, 20).Draw(t, "radius")), measure.Distance(rapid.Float64Range(0.1, 30).Draw(t, "leg")))
		var d Driver
		if _, err := d.Drive(drawRig(t), path); err != nil {
			t.Fatal(err)
		}
		for i, tr := range d.tracers {
			if tr.next != len(d.stations) {
				t.Fatalf("point %d passed %d of %d stations", i, tr.next, len(d.stations))
			}
		}
	})
}

// A rig that cuts across the corner of a line without an arc is measured by
// its distance from the line. Followed here point by point: the trailer's axle
// gets 4.07 m away from both legs.
func TestAcrossTheCorner(t *testing.T) {
	r := pickup()
	r.HitchBehindRear = 1.2
	p := pose{front: vec{-60, 0}, tow: vec{1, 0}, unit: vec{1, 0}}
	far := 0.0
	for s := -60.0; s < 60; s += 0.01 {
		p = p.moved(r, vec{min(s, 0), max(s, 0)})
		axle := p.outline(r)[trailerAxle]
		if axle.x < 0 && axle.y > 0 {
			far = max(far, min(-axle.x, axle.y))
		}
	}
	s := drive(t, r, kink(90*Degree, 60))
	near(t, "by hand", far, 4.07, 0.01)
	near(t, "off-tracking", s.OffTracking, measure.Distance(far), 0.1)
	if s.Width < s.OffTracking+2.3 || s.Width > 8 {
		t.Errorf("width %v", float64(s.Width))
	}
	near(t, "steer", s.Steer, 90*Degree, 1e-9)
}

// The search that skips stations finds what looking at all of them finds.
func TestNearest(t *testing.T) {
	d := Driver{reach: 20}
	if _, err := d.lay(orb.LineString{{0, 0}, {30, 0}, {30, 12}, {22, 30}, {40, 31}}); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		d.front = rapid.IntRange(0, len(d.stations)-1).Draw(t, "front")
		at := vec{rapid.Float64Range(-10, 50).Draw(t, "x"), rapid.Float64Range(-10, 50).Draw(t, "y")}
		want := rapid.Float64Range(1, 60).Draw(t, "bound")
		got, index := d.nearest(at, want)
		if index >= 0 && got != d.stations[index].at.sub(at).length() {
			t.Fatalf("station %d is not at %v", index, got)
		}
		for i := range d.stations {
			if math.Abs(d.stations[i].s-d.stations[d.front].s) <= 40 {
				want = min(want, d.stations[i].at.sub(at).length())
			}
		}
		if math.Abs(got-want) > 1e-12 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}
