package trip

import (
	stdcmp "cmp"
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// corridor is a road with some places on it.
func corridor() []road {
	var out []road
	for x := range 6 {
		out = append(
			out,
			road{name: fmt.Sprint(x), from: [2]float64{float64(x * 10), 0}, to: [2]float64{float64(x*10 + 10), 0}},
		)
	}
	return out
}

func placed(x float64) choosing.Stop {
	return choosing.Stop{Label: fmt.Sprint("at ", x), Point: point([2]float64{x, 0})}
}

// hauled is a unit to be moved from one place of the corridor to another.
func hauled(id string, from, to float64, change ...func(*Request)) Move {
	r := house(change...)
	r.Stops = []choosing.Stop{placed(from), placed(to)}
	return Move{ID: id, Asks: r}
}

func at(hour, minute int) choosing.Clock {
	return choosing.Clock{At: time.Date(2027, 5, 11, hour, minute, 0, 0, time.UTC), Local: true}
}

// permuted lists every order of n things.
func permuted(n int) (out [][]int) {
	if n == 0 {
		return [][]int{nil}
	}
	for _, rest := range permuted(n - 1) {
		for i := range n {
			out = append(out, slices.Insert(slices.Clone(rest), i, n-1))
		}
	}
	return out
}

// Two units and a way between them: what is driven with and without one adds up, and every
// run is judged by its own rig at the hours of the crew.
func TestMovesOfTwoUnits(t *testing.T) {
	w := world(t, corridor(), nil)
	base := placed(1)
	r := MovesRequest{Base: &base, Back: true, Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC), Local: true,
		Moves: []Move{
			hauled("A", 5, 25),
			hauled("B", 45, 30, func(r *Request) { r.Rig.Height = measure.Known[measure.Length]{} }),
		}}
	r.Moves[0].Asks.Stops[1].Visit.SetUp = 30 * time.Minute
	got, err := w.MoveAll(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, run := range got.Runs {
		ids = append(ids, run.ID)
	}
	if diff := cmp.Diff([]string{"", "A", "", "B", ""}, ids); diff != "" {
		t.Error(diff)
	}
	if got.Timetable == nil || !got.Steady || got.Timetable.Missed != nil {
		t.Fatalf("%+v", got.Timetable)
	}
	if sum := got.Loaded + got.Empty; sum < got.Length-1 || sum > got.Length+1 || got.Loaded <= 0 || got.Empty <= 0 {
		t.Errorf("%v with and %v without a unit of %v", got.Loaded, got.Empty, got.Length)
	}
	legs := 0
	for i, run := range got.Runs {
		begins := got.Timetable.Calls[run.First].Leave.Slow
		if l := run.Plan.Legs[0]; !l.StartSlow.Equal(begins) {
			t.Errorf("run %d leaves at %s, its leg begins at %s", i, begins, l.StartSlow)
		}
		legs += len(run.Plan.Legs)
		if alone := run.Move < 0; alone != (run.Plan.Rig.Unit.Height == nil) {
			t.Errorf("run %d, a unit: %t, has height %v", i, !alone, run.Plan.Rig.Unit.Height)
		}
	}
	if legs != len(got.Legs) {
		t.Errorf("%d legs of runs, %d of all", legs, len(got.Legs))
	}
	for _, e := range got.Timetable.Entries {
		if e.Drive < 0 {
			continue
		}
		l := got.Legs[e.Leg]
		if e.From.Before(l.StartSlow) || e.To.After(l.EndSlow) {
			t.Errorf("an entry from %s to %s is of a leg from %s to %s", e.From, e.To, l.StartSlow, l.EndSlow)
		}
	}
	if got.Verdict.Outcome() == finding.Clear {
		t.Error("a rig of no known height is clear")
	}
}

// The best order is that of the best timetable: no permutation that is given misses less, is
// over sooner or drives less.
func TestBestOrderOfMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := world(t, corridor(), nil)
		place := func(what string) float64 { return float64(rapid.IntRange(0, 11).Draw(t, what)) * 5 }
		r := MovesRequest{Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC), Local: true}
		if rapid.Bool().Draw(t, "base") {
			base := placed(place("base"))
			r.Base, r.Back = &base, rapid.Bool().Draw(t, "back")
		}
		for i := range rapid.IntRange(1, 3).Draw(t, "moves") {
			from, to := place("from"), place("to")
			if from == to {
				to += 2
			}
			m := hauled(fmt.Sprint(i), from, to)
			m.Asks.Departure, m.Ready = time.Date(
				2027,
				5,
				11,
				rapid.IntRange(7, 12).Draw(t, "ready"),
				0,
				0,
				0,
				time.UTC,
			), rapid.Bool().
				Draw(t, "readily")
			if rapid.Bool().Draw(t, "due") {
				m.Asks.Stops[1].Visit.By = at(rapid.IntRange(9, 16).Draw(t, "by"), 0)
			}
			r.Moves = append(r.Moves, m)
		}
		r.AnyOrder = true
		got, err := w.MoveAll(context.Background(), r)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Sure {
			t.Fatal("not every order was tried")
		}
		best := came(got)
		for _, order := range permuted(len(r.Moves)) {
			given := r
			given.AnyOrder, given.Moves = false, nil
			for _, i := range order {
				given.Moves = append(given.Moves, r.Moves[i])
			}
			given.Moves[0].Asks.Crew, given.Moves[0].Asks.Pace = r.Moves[0].Asks.Crew, r.Moves[0].Asks.Pace
			other, err := w.MoveAll(context.Background(), given)
			if err != nil {
				t.Fatal(err)
			}
			if o := came(other); o.Compare(best) < 0 {
				t.Fatalf("order %v comes to %+v, the best %v to %+v", order, o, got.Order, best)
			}
		}
	})
}

// came is what moves come to by their timetable.
func came(m *Moves) (out timetable.Outcome) {
	t := m.Timetable
	out.Never, out.Over = t.never(), t.Over.Slow
	for _, c := range t.Calls {
		out.Late += c.Late
	}
	for _, d := range t.Journey.Drives {
		for _, s := range d {
			out.Driving += s.Likely
		}
	}
	return out
}

// A crew that never reaches its end has the legs of its runs all the same.
func TestMovesThatNeverEnd(t *testing.T) {
	ctx := context.Background()
	base := placed(1)
	m, err := world(t, corridor(), nil).moving(MovesRequest{
		Base: &base, Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC), Local: true,
		Moves: []Move{hauled("A", 5, 25), hauled("B", 45, 30)},
	})
	if err == nil {
		err = stdcmp.Or(m.prepare(ctx), m.order(ctx))
	}
	if err == nil {
		err = m.settle(ctx)
	}
	if err != nil {
		t.Fatal(err)
	}
	j := m.table.Journey
	for i := range j.Drives[len(j.Drives)-1] {
		j.Drives[len(j.Drives)-1][i].Hours = &timetable.Hours{}
	}
	table, err := timetable.Plan(j)
	if err != nil {
		t.Fatal(err)
	}
	m.table = &Timetable{Journey: j, Table: *table}
	got, err := m.complete()
	if err != nil || !got.Timetable.never() || len(got.Runs) != 4 {
		t.Fatalf("%v, %+v", err, got)
	}
	for _, e := range got.Timetable.Entries {
		if e.Drive >= 0 && (e.Leg < e.Drive || e.Leg >= len(got.Legs)) {
			t.Errorf("drive %d is of leg %d of %d", e.Drive, e.Leg, len(got.Legs))
		}
	}
}
