package network_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

func TestMillis(t *testing.T) {
	n := small(t)
	const kmh = measure.KilometrePerHour
	for _, tc := range []struct {
		name string
		edge network.EdgeID
		top  measure.Speed
		want float64 // m/s
	}{
		{"as fast as the road", 2, 0, 25},
		{"slower than the road", 2, 10, 10},
		{"faster than the road", 2, 90 * kmh, 25},
		{"no speed known", 1, 0, 10 / 3.6},
		{"no speed known, slower still", 1, 1, 1},
		{"a ferry", 4, 0, 3},
	} {
		piece := n.Whole(network.MakeArc(tc.edge, true))
		want := uint32(1000 * float64(n.Length[tc.edge]) / tc.want)
		if got := n.Millis(piece, tc.top); got != want || want == 0 {
			t.Errorf("%s: %d ms, want %d", tc.name, got, want)
		}
		piece.Start = piece.End / 2
		if got := n.Millis(piece, tc.top); got < want/2-1 || got > want/2+1 {
			t.Errorf("%s: half of it takes %d ms, the whole %d", tc.name, got, want)
		}
	}
}

// crossing builds a junction at the date line: one road from the south, and others
// that leave it in directions given in degrees from north, clockwise. At 30 N a
// degree of longitude is shorter, which must not show; nor must it that all of
// them bend a little farther on.
func crossing(t *testing.T, directions ...float64) *network.Network {
	t.Helper()
	b := network.NewBuilder()
	on := func(from orb.Point, direction float64) orb.Point {
		const far = 0.001
		east, north := far*math.Sin(direction*math.Pi/180), far*math.Cos(direction*math.Pi/180)
		return orb.Point{math.Remainder(from[0]+east/math.Cos(30*math.Pi/180), 360), from[1] + north}
	}
	at := orb.Point{179.9999, 30}
	b.Node(at)
	for i, d := range append([]float64{180}, directions...) {
		bend := on(at, d)
		line := []orb.Point{at, bend, on(bend, d+40)}
		e := network.Edge{From: 0, To: b.Node(line[2]), Line: line, Class: network.Residential, Speed: 10}
		if i%2 == 0 { // lines run either way
			e.From, e.To = e.To, e.From
			slices.Reverse(e.Line)
		}
		if _, err := b.Edge(e); err != nil {
			t.Fatal(err)
		}
	}
	n, err := b.Finish(lacking(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestDeflection(t *testing.T) {
	for _, tc := range []struct {
		name       string
		directions []float64 // of the roads but the one from the south; the first is taken
		want       float64
	}{
		{"straight on", []float64{0, 90}, 0},
		{"right", []float64{90, 0}, 90},
		{"left", []float64{270, 0}, -90},
		{"half left", []float64{315, 0}, -45},
		{"half right", []float64{45, 0}, 45},
		{"back, beside where it came from", []float64{180, 0}, 180},
		{"nearly back, on the right", []float64{170, 0}, 170},
		{"nearly back, on the left", []float64{190, 0}, -170},
		{"a bend of one road", []float64{90}, 0},
		{"a hairpin of one road", []float64{180}, 0},
	} {
		n := crossing(t, tc.directions...)
		leaving := func(e network.EdgeID) network.Arc { return network.MakeArc(e, n.From[e] != 0) }
		in, on := leaving(0).Back(), leaving(1)
		if got := n.Deflection(in, on); math.Abs(got-tc.want) > 0.1 && math.Abs(got) < 179.9 {
			t.Errorf("%s: %.2f degrees, want %.0f", tc.name, got, tc.want)
		}
		if got, back := n.Deflection(in, on), n.Deflection(on.Back(), in.Back()); math.Abs(got+back) > 0.01 && math.Abs(got) < 179.9 { // a flat map differs a little from end to end
			t.Errorf("%s: %v degrees, driven the other way %v", tc.name, got, back)
		}
		if got := n.Deflection(in, in.Back()); len(tc.directions) > 1 && math.Abs(math.Abs(got)-180) > 1e-9 {
			t.Errorf("%s: turning round is %v degrees", tc.name, got)
		}
	}
}
