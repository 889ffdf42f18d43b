package paper

import (
	"math"
	"testing"

	"golang.org/x/text/language"

	"wayhouse/api/draw"
	"wayhouse/api/draw/picture"
	"wayhouse/regs/measure"
)

// Every turn by which the rig leaves its road has a map beside it, and a line goes through
// its middle. A jog is one thing to do.
func TestTurnsHaveMaps(t *testing.T) {
	p := planned(t, nil)
	in := printed(language.English, measure.Metric).In
	told := 0
	for _, m := range turnsOf(p) {
		if m.around == nil {
			continue
		}
		told++
		drawn := draw.Turn(in, p, *m.around)
		perMetre := drawn.Wide() / 2 / float64(draw.TurnReach)
		nearest := math.Inf(1)
		for _, mark := range drawn.Marks {
			if mark.Kind != picture.Line || len(mark.At) < 2 {
				continue
			}
			for i := range mark.At[1:] {
				nearest = min(nearest, toMiddle(mark.At[i], mark.At[i+1])/perMetre)
			}
		}
		if nearest > 2 {
			t.Errorf("after %v: the nearest line is %.1f m from the turn", m.at, nearest)
		}
	}
	turning, jogs := 0, 0
	for i, m := range p.Road.Moves {
		if math.Abs(m.Turn) >= slight {
			turning++
		}
		if i > 0 && p.Road.Moves[i-1].Far <= jog && m.Onto.String() == p.Road.Moves[i-1].Road.String() {
			jogs++
		}
	}
	if jogs != 2 || told != turning-jogs {
		t.Errorf("%d maps, %d turns, %d of them the second of a jog", told, turning, jogs)
	}
}

// toMiddle is how far a line passes from the middle of a map.
func toMiddle(a, b picture.Point) float64 {
	x, y := b.X-a.X, b.Y-a.Y
	part := 0.0
	if long := x*x + y*y; long > 0 {
		part = max(0, min(1, -(a.X*x+a.Y*y)/long))
	}
	return math.Hypot(a.X+part*x, a.Y+part*y)
}

// A row without a picture is as wide as one that has one.
func TestSharesFillTheRow(t *testing.T) {
	table := Table{Heads: []string{"a", "b", "c"}, Shares: []float64{0.2, 0.5, 0.3}}
	for _, r := range []Row{{Cells: []string{"1", "2", "3"}}, {Cells: []string{"1", "2"}}, {Cells: []string{"1"}}} {
		sum := 0.0
		for _, s := range table.shares(r) {
			sum += s
		}
		if math.Abs(sum-1) > 1e-9 || len(table.shares(r)) != len(r.Cells) {
			t.Errorf("%v has %v", r.Cells, table.shares(r))
		}
	}
	if got := table.shares(Row{Cells: []string{"1", "2"}, Picture: picture.New(1)}); got[1] != 0.5 {
		t.Errorf("beside a picture %v", got)
	}
}
