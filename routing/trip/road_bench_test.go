package trip

import (
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// winding is an invented road of some 190 km, straight for 500 m and then round a curve
// or, at every fourth, a corner; it goes up and down by turns.
func winding() (roads []road, end [2]float64) {
	east, north := measure.Distance(0), measure.Distance(0)
	last := off(0, 0)
	add := func(e, n measure.Distance, rise float32) {
		east, north = east+e, north+n
		to := off(east, north)
		roads = append(roads, road{name: "winding", from: last, to: to, road: tarred, grade: network.Grade{Known: 1, Ascent: max(rise, 0), Descent: max(-rise, 0)}})
		last = to
	}
	for i := range 100 {
		rise := float32(40 * (i%3 - 1))
		add(500, 0, rise)
		if i%4 == 0 {
			add(0, 500, -rise) // a right angle
			add(500, 0, rise)
			continue
		}
		for _, step := range []measure.Distance{4, 8, 12, 16} { // into a curve and out of it
			add(20, step, 0)
		}
		add(500, 300, rise)
		add(500, 0, -rise)
		add(400, 0, 0)
	}
	return roads, last
}

// roadPart builds a plan's ways and all that the road needs of them, once.
func roadPart(b *testing.B, w *Planner, r Request) (*builder, []way) {
	b.Helper()
	builder, err := w.newBuilder(r)
	if err != nil {
		b.Fatal(err)
	}
	ways, err := builder.ways(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	if _, err := builder.complete(ways); err != nil {
		b.Fatal(err)
	}
	return builder, ways
}

// BenchmarkRoad is what a plan's road takes apart from the search and the rules:
// fuel of each leg, climbs and the tank; corners, curves and grounds; and both
// with their findings.
func BenchmarkRoad(b *testing.B) {
	roads, end := winding()
	tank := holds(0.1)
	for _, way := range []struct {
		name string
		w    *Planner
		r    Request
	}{
		{"bundled", planner(b), described(tank, func(r *Request) { r.Stops = request(4300).Stops })},
		{"winding", world(b, roads, nil), described(tank, from(off(0, 0), end))},
	} {
		builder, ways := roadPart(b, way.w, way.r)
		legs := func() {
			builder.drives.Begin()
			for _, w := range ways {
				builder.drives.Pass(w.Way)
				for _, pieces := range builder.atBorders(w.Pieces) {
					builder.drives.Leg(pieces)
				}
			}
		}
		for _, part := range []struct {
			name string
			do   func()
		}{
			{"legs", legs},
			{"bends", func() { builder.drives.Bends() }},
			{"all", func() { legs(); builder.plan.Road = builder.drives.Road() }},
		} {
			b.Run(way.name+"/"+part.name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					part.do()
				}
				thousands := float64(builder.plan.Length) / 1e6
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/thousands, "ns/1000km")
				b.ReportMetric(float64(len(builder.plan.Road.Corners))/thousands, "corners/1000km")
				b.ReportMetric(float64(len(builder.plan.Road.Curves))/thousands, "curves/1000km")
			})
		}
	}
}
