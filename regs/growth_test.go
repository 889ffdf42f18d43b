package regs_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/testdata/needs"
)

// spreadRows are the shipped limits and so many more in all, copies of them under
// invented jurisdictions that have as many each as Ontario has.
func spreadRows(t testing.TB, n int) []*limit.Row {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/limits.csv")
	if err != nil {
		t.Fatal(err)
	}
	all, _, err := limit.Table().ReadCSV(raw)
	if err != nil {
		t.Fatal(err)
	}
	var out, ontario []*limit.Row
	for i := range all {
		out = append(out, &all[i])
		if all[i].Jurisdiction == "CA-ON" {
			ontario = append(ontario, &all[i])
		}
	}
	for i := 0; len(out) < n; i++ {
		r := *ontario[i%len(ontario)]
		r.ID, r.Jurisdiction = fmt.Sprintf("invented-%06d", i), fmt.Sprintf("ZZ-%05d", i/len(ontario))
		out = append(out, &r)
	}
	return out
}

// house is a tiny house behind a pickup, at a place in Ontario.
func house() (regs.Vehicle, regs.Stay, time.Time) {
	at := time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC)
	v := regs.Vehicle{
		Subject: limit.Subject{Kind: limit.TinyHome, Form: limit.Trailer, Axles: 4},
		Measures: map[limit.Quantity]regs.Measure{
			limit.Height: measure.Exactly(limit.Amount(4100 * measure.Millimetre)), limit.Width: measure.Exactly(limit.Amount(2590 * measure.Millimetre)),
			limit.CombinationLength: measure.Exactly(limit.Amount(14 * measure.Metre)), limit.TrailerLength: measure.Exactly(limit.Amount(9 * measure.Metre)), limit.GrossMass: measure.Exactly(limit.Amount(8 * measure.Tonne)),
		},
	}
	return v, regs.Stay{Jurisdictions: []string{"CA-ON"}, Until: at.Add(2 * time.Hour), Ends: []orb.Point{{-76, 45}, {-75, 45}}}, at
}

// What a vehicle is told at a place, and the work of telling it, do not depend
// on how many rows other jurisdictions have.
func TestCheckDoesNotGrow(t *testing.T) {
	v, p, at := house()
	few, many := regs.NewTables("x", regs.Rows{Limits: spreadRows(t, 0)}, nil), regs.NewTables("x", regs.Rows{Limits: spreadRows(t, 10_000)}, nil)
	if diff := cmp.Diff(few.Check(v, p, at), many.Check(v, p, at)); diff != "" {
		t.Errorf("(- few rows, + many) %s", diff)
	}
	work := func(tables *regs.Tables) float64 { return testing.AllocsPerRun(20, func() { tables.Check(v, p, at) }) }
	if a, b := work(few), work(many); a != b {
		t.Errorf("%v allocations with %d rows, %v with 10,000", a, len(few.Rows("")), b)
	}
}

func BenchmarkCheck(b *testing.B) {
	for _, n := range []int{0, 10_000, 100_000} {
		rows := spreadRows(b, n)
		b.Run(fmt.Sprint(len(rows)), func(b *testing.B) { checks(b, rows) })
	}
}

func checks(b *testing.B, rows []*limit.Row) {
	tables := regs.NewTables("x", regs.Rows{Limits: rows}, nil)
	v, p, at := house()
	b.ReportAllocs()
	for b.Loop() {
		tables.Check(v, p, at)
	}
}

// The cost of one vehicle at one place by the number of rows, printed.
func TestCheckGrowth(t *testing.T) {
	if !needs.Long {
		t.Skip("long form: go test -tags long")
	}
	var first float64
	for _, n := range []int{0, 10_000, 100_000} {
		rows := spreadRows(t, n)
		r := testing.Benchmark(func(b *testing.B) { checks(b, rows) })
		if first == 0 {
			first = float64(r.NsPerOp())
		}
		t.Logf("%d rows: %s a check, %d allocations, %.2f of the first", len(rows), time.Duration(r.NsPerOp()), r.AllocsPerOp(), float64(r.NsPerOp())/first)
	}
}

// crowd is so many rows of the height of one place, each other than the rest.
func crowd(n int, change func(i int, r *limit.Row)) *regs.Tables {
	var rows []*limit.Row
	_, _, at := house()
	for i := range n {
		r := &limit.Row{
			ID: fmt.Sprintf("r%07d", i), Jurisdiction: "CA-ON", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Height, Published: fmt.Sprint(i),
			Threshold: limit.Amount(5*measure.Metre) - limit.Amount(i), Outcome: finding.Conditional, Tier: limit.Legal, Status: finding.Published, Source: "invented", ReadOn: at,
		}
		change(i, r)
		rows = append(rows, r)
	}
	return regs.NewTables("x", regs.Rows{Limits: rows}, nil)
}

// The work of a check and of a design grows with the rows of one quantity in one
// place as they do, whatever the rows say of each other: four times the rows ask
// for little more than four times the allocations (slices that grow and a search by
// halves add some), where work by pairs would ask for sixteen times.
func TestOneQuantityInOnePlaceStaysLinear(t *testing.T) {
	v, p, at := house()
	beyond := limit.Amount(3 * measure.Metre)
	for name, change := range map[string]func(i int, r *limit.Row){
		"each clears":             func(int, *limit.Row) {},
		"each supersedes another": func(i int, r *limit.Row) { r.Supersedes = []string{fmt.Sprintf("r%07d", i-1)} },
		"each is recalled":        func(i int, r *limit.Row) { r.Status = finding.Memory },
		"each is exceeded":        func(i int, r *limit.Row) { r.Threshold = beyond - limit.Amount(i) },
		"each asks a condition": func(i int, r *limit.Row) {
			r.Threshold, r.Condition = beyond-limit.Amount(i), fmt.Sprint("condition ", i)
		},
		"each asks for a permit": func(i int, r *limit.Row) {
			r.Threshold, r.Demands.Permits = beyond-limit.Amount(i), say.Each([]string{fmt.Sprint(i)})
		},
		"each binds at other hours": func(i int, r *limit.Row) {
			r.Threshold, r.When, r.Outcome = beyond-limit.Amount(i), fmt.Sprint(i), finding.Forbidden
		},
	} {
		for what, work := range map[string]func(*regs.Tables){
			"check":  func(tables *regs.Tables) { tables.Check(v, p, at) },
			"design": func(tables *regs.Tables) { tables.Design(v, p.Jurisdictions, at) },
		} {
			cost := func(n int) float64 {
				tables := crowd(n, change)
				return testing.AllocsPerRun(1, func() { work(tables) })
			}
			if few, many := cost(250), cost(1000); many > 7*few {
				t.Errorf("%s, %s: %.0f allocations with 250 rows, %.0f with 1000", name, what, few, many)
			}
		}
	}
}

// Ten times the rows of one place take about ten times as long.
func BenchmarkOneQuantityInOnePlace(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			tables := crowd(n, func(i int, r *limit.Row) { r.Supersedes = []string{fmt.Sprintf("r%07d", i-1)} })
			v, p, at := house()
			for b.Loop() {
				tables.Check(v, p, at)
				tables.Design(v, p.Jurisdictions, at)
			}
		})
	}
}
