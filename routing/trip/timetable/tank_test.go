package timetable

import (
	"testing"
	"time"

	"wayhouse/regs/measure"
)

// evenly is 4 h over 400 km in so many sections alike, on which such a share of a tank is burnt.
func evenly(share float64, sections int) Journey {
	j := straight(4*h, Limits{})
	whole := j.Drives[0][0]
	j.Drives[0] = nil
	for range sections {
		s := whole
		s.Length, s.Slow, s.Likely = 400_000, 4*h/time.Duration(sections), 4*h/time.Duration(sections)
		s.Length /= measure.Distance(sections)
		s.Burns = []Burnt{{s.Length / 2, share / 2 / float64(sections)}, {s.Length, share / float64(sections)}}
		j.Drives[0] = append(j.Drives[0], s)
	}
	j.Habits.Fuel = 20 * m
	return j
}

func fills(table *Table) (out []Entry) {
	for _, e := range table.Entries {
		if e.Kind == Fuel {
			out = append(out, e)
		}
	}
	return out
}

// A tank is filled as often as the way asks for at the least: at what it holds and below, never.
func TestTheTankAtBelowAndAboveItsReach(t *testing.T) {
	for _, sections := range []int{1, 3, 40, 240} {
		for _, tc := range []struct {
			share float64
			want  int
		}{{0.5, 0}, {1, 0}, {1.02, 1}, {1.9, 1}, {3.5, 3}} {
			table := plan(t, evenly(tc.share, sections))
			got := fills(table)
			if len(got) != tc.want {
				t.Errorf("%v of a tank in %d sections: %d stops, want %d", tc.share, sections, len(got), tc.want)
			}
			full := 400_000 / tc.share // metres
			at := 0.0
			for _, e := range append(got, Entry{Begins: 400_000}) {
				if far := float64(e.Begins) - at; far > full*1.000001 {
					t.Errorf("%v of a tank in %d sections: %v m between two, it lasts %v m", tc.share, sections, far, full)
				}
				at = float64(e.Begins)
			}
		}
	}
}

// What burns fast on its first half is filled up there: the tank is not taken to last by the mean.
func TestATankGoesByWhereItIsBurnt(t *testing.T) {
	j := evenly(1.5, 1)
	j.Drives[0][0].Burns = []Burnt{{100_000, 1.25}, {400_000, 1.5}}
	got := fills(plan(t, j))
	if len(got) != 1 || got[0].Begins > 80_000 || got[0].Begins < 78_000 {
		t.Errorf("%+v", got)
	}
}

// Nothing is filled up where the tank is not known on some of the way, a stop takes no time, or
// the tank is so small that no stop serves it; and nothing is endless.
func TestATankThatNoStopServes(t *testing.T) {
	unknown := evenly(3, 3)
	unknown.Drives[0][1].Burns = nil
	if unknown.Burns() || len(fills(plan(t, unknown))) > 0 {
		t.Error("filled by a tank that is not known")
	}
	untimed := evenly(3, 3)
	untimed.Habits.Fuel = 0
	if len(fills(plan(t, untimed))) > 0 {
		t.Error("filled in no time")
	}
	if n := len(fills(plan(t, evenly(1e6, 1)))); n != 239 {
		t.Errorf("%d fillings in 240 minutes", n)
	}
}

// The tank is carried over a stop.
func TestATankIsCarriedOverAStop(t *testing.T) {
	j := evenly(0.6, 1)
	j.Stops = append(j.Stops, Stop{Zone: time.UTC})
	j.Drives = append(j.Drives, j.Drives[0])
	got := fills(plan(t, j))
	if len(got) != 1 || got[0].Begins < 660_000 || got[0].Begins > 667_000 {
		t.Errorf("%+v", got)
	}
}

// A section that is cut in two burns what it burnt whole.
func TestBurnsOfASectionCutInTwo(t *testing.T) {
	s := Section{Length: 400, Burns: []Burnt{{100, 0.5}, {400, 0.8}}}
	rest := Section{Length: 350, Burns: s.BurnsAfter(50)}
	for _, way := range []measure.Distance{0, 50, 200, 350} {
		if got, want := s.Burnt(50)+rest.Burnt(way), s.Burnt(50+way); got-want > 1e-9 || want-got > 1e-9 {
			t.Errorf("after %v: %v, want %v", way, got, want)
		}
	}
}
