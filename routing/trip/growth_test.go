package trip

import (
	"fmt"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/testdata/needs"
)

// elsewhere is so many invented structures, a kilometre or more apart, none of
// them on the bundled roads between Ottawa and Montreal.
func elsewhere(n int) []*clearance.Structure {
	out := make([]*clearance.Structure, n)
	for i := range out {
		s := over(fmt.Sprintf("far-%07d", i), 4000)
		s.Point = orb.Point{-125 + float64(i%2000)*0.02, 25 + float64(i/2000)*0.02}
		out[i] = &s
	}
	return out
}

// planning is how long a plan on the bundled roads takes with so many
// structures elsewhere.
func planning(b *testing.B, n int) {
	p := *planner(b)
	p.Tables = regs.NewTables("test", regs.Rows{Limits: p.Tables.Rows(""), Clearances: elsewhere(n)}, nil)
	b.ReportAllocs()
	for b.Loop() {
		plan(b, &p, request(4050))
	}
}

func BenchmarkPlanWithStructuresElsewhere(b *testing.B) {
	for _, n := range []int{0, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { planning(b, n) })
	}
}

// What a million structures elsewhere add to a plan, printed.
func TestPlanWithAMillionStructuresElsewhere(t *testing.T) {
	if !needs.Long {
		t.Skip("long form: go test -tags long")
	}
	took := func(n int) time.Duration {
		r := testing.Benchmark(func(b *testing.B) { planning(b, n) })
		t.Logf("%d structures: %s a plan, %d allocations", n, time.Duration(r.NsPerOp()), r.AllocsPerOp())
		return time.Duration(r.NsPerOp())
	}
	none, some, many := took(0), took(10_000), took(1_000_000)
	t.Logf("10,000 elsewhere: %.2f of none; 1,000,000 elsewhere: %.2f", float64(some)/float64(none), float64(many)/float64(none))
}
