package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/testdata/needs"
)

// manyLimits are invented rows of widths, a hundred for each jurisdiction.
func manyLimits(n int) []rows.Record {
	return filled(limit.Table().Columns, n, func(i int, set func(column, value string)) {
		set("id", fmt.Sprintf("zz-width-%07d", i))
		set("jurisdiction", manyCode(i/100))
		for column, value := range map[string]string{
			"kind": "all", "combination": "any", "quantity": "width", "beyond": "over", "outcome": "conditional", "tier": "beyond", "permit": "yes",
			"status": "invented", "source": "made up for a test", "read_on": "2026-11-25",
		} {
			set(column, value)
		}
		set("published", fmt.Sprintf("%d mm", 2500+i%100))
		set("threshold", fmt.Sprintf("%d mm", 2500+i%100))
	})
}

// manyCode is a code of an invented jurisdiction, of three letters or digits.
func manyCode(i int) string {
	return "XZ-" + strings.ToUpper(strconv.FormatInt(int64(i)+36*36, 36))
}

// manyClearances are invented structures all over a continent.
func manyClearances(n int) []rows.Record { return clearancesFrom(0, n) }

// clearancesFrom are those of them from one on and before another.
func clearancesFrom(first, n int) []rows.Record {
	return filled(clearance.Structures().Columns, n-first, func(i int, set func(column, value string)) {
		i += first
		set("id", fmt.Sprintf("zz-%07d-under", i))
		set("name", fmt.Sprintf("a bridge over road %d", i))
		set("lat", strconv.FormatFloat(25+float64(i/2000)*0.02, 'f', 6, 64))
		set("lon", strconv.FormatFloat(-125+float64(i%2000)*0.02, 'f', 6, 64))
		set("road", fmt.Sprintf("ZZ %d", i%1000))
		set("direction", "both")
		set("measured", fmt.Sprintf("4.%02d m", i%100))
		set("grade", "under")
		set("status", "invented")
		set("source", "made up for a test")
		set("read_on", "2026-11-25")
	})
}

func filled(columns []string, n int, fill func(i int, set func(column, value string))) []rows.Record {
	at := map[string]int{}
	for i, name := range columns {
		at[name] = i
	}
	out := make([]rows.Record, n)
	for i := range out {
		r := make(rows.Record, len(columns))
		fill(i, func(column, value string) { r[at[column]] = value })
		out[i] = r
	}
	return out
}

// take takes rows into a table as the commands do.
func take(t testing.TB, s *Store, table string, records []rows.Record) {
	t.Helper()
	p, err := s.Propose(context.Background(), table, records, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Change(context.Background(), "a test", "rows made up", p.Edits); err != nil {
		t.Fatal(err)
	}
}

// cost is what a step took.
type cost struct {
	time       time.Duration
	peak, kept float64 // MB: the most on the heap meanwhile, and what stays
}

func (c cost) String() string {
	return fmt.Sprintf("%.1f s, at most %.0f MB on the heap, %.0f MB stay", c.time.Seconds(), c.peak, c.kept)
}

// measured runs a step and looks at the heap all the while.
func measured(step func()) cost {
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	const mega = 1 << 20
	runtime.GC()
	before := heap()
	var peak atomic.Uint64
	done, stopped := make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		for {
			peak.Store(max(peak.Load(), heap()))
			select {
			case <-done:
				return
			case <-time.After(10 * time.Millisecond):
			}
		}
	}()
	start := time.Now()
	step()
	took := time.Since(start)
	close(done)
	<-stopped
	runtime.GC()
	return cost{took, float64(peak.Load()) / mega, (float64(heap()) - float64(before)) / mega}
}

// What large tables cost in a SQLite file, printed: taking the rows in, reading
// the whole state as a service does when it starts, and following a change of
// one row.
func TestStoreGrowth(t *testing.T) {
	if !needs.Long {
		t.Skip("long form: go test -tags long")
	}
	for _, tc := range []struct {
		table   string
		records func(int) []rows.Record
		n       int
	}{
		{"limits", manyLimits, 10_000}, {"limits", manyLimits, 100_000}, {"clearances", manyClearances, 10_000}, {"clearances", manyClearances, 100_000}, {"clearances", manyClearances, 1_000_000},
	} {
		path := filepath.Join(t.TempDir(), "tables.db")
		records := tc.records(tc.n)
		s := openedFile(t, path)
		t.Logf("%d %s: taken in: %s", tc.n, tc.table, measured(func() { take(t, s, tc.table, records) }))
		s.Close()
		if info, err := os.Stat(path); err == nil {
			t.Logf("%d %s: the file has %.0f MB", tc.n, tc.table, float64(info.Size())/(1<<20))
		}
		change := records[tc.n/2]
		records = nil

		s = openedFile(t, path)
		var tables *regs.Tables
		t.Logf("%d %s: the first snapshot: %s", tc.n, tc.table, measured(func() { tables = snapshot(t, s) }))
		for i, name := range tableOf(t, tc.table).ColumnNames() {
			if name == "source" {
				change[i] = "made up anew"
			}
		}
		take(t, s, tc.table, []rows.Record{change})
		t.Logf("%d %s: after a change of one row: %s", tc.n, tc.table, measured(func() { tables = snapshot(t, s) }))
		if tc.table == "clearances" && tables.Clearances().Len() != tc.n || tc.table == "limits" && len(tables.Rows(manyCode(0))) != 100 {
			t.Errorf("%d %s: not all are there", tc.n, tc.table)
		}
		s.Close()
		runtime.KeepAlive(tables)
	}
}

func tableOf(t testing.TB, name string) Table {
	t.Helper()
	table, err := TableNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// openedFile is a store that the caller closes.
func openedFile(t testing.TB, path string) *Store {
	t.Helper()
	s, err := OpenFile(context.Background(), path, clock)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func BenchmarkTakeRows(b *testing.B) {
	records := manyClearances(1000)
	b.ReportAllocs()
	for b.Loop() {
		s, err := OpenMemory(context.Background(), clock)
		if err != nil {
			b.Fatal(err)
		}
		take(b, s, "clearances", records)
		s.Close()
	}
}

// A snapshot after a change reads the change alone.
func BenchmarkSnapshotAfterChange(b *testing.B) {
	for _, n := range []int{100, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s, err := OpenMemory(context.Background(), clock)
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			records := manyClearances(n)
			take(b, s, "clearances", records)
			if _, err := s.Snapshot(context.Background()); err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				one := append(rows.Record(nil), records[0]...)
				one[1] = fmt.Sprint("renamed ", i)
				take(b, s, "clearances", []rows.Record{one})
				b.StartTimer()
				if _, err := s.Snapshot(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
