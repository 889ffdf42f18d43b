package needs

import (
	"flag"
	"os"
	"testing"
)

// Main runs the tests of the last package of the suite and then has the
// closing line printed. go test shows nothing that a passing package prints,
// so the line is written past it, after its own last line; where that cannot
// be done (no /proc), go test -v shows each skip.
func Main(m *testing.M) {
	if waiting() {
		printWhenDone()
		return
	}
	code := m.Run()
	spoilCache()
	announce()
	os.Exit(code)
}

// spoilCache leaves the log of files and variables that this package read
// unfinished, so that go test does not answer it from its cache and the line
// comes every time.
func spoilCache() {
	f := flag.Lookup("test.testlogfile")
	if f == nil || f.Value.String() == "" {
		return
	}
	log, err := os.OpenFile(f.Value.String(), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return
	}
	defer log.Close()
	log.WriteString("unfinished")
}
