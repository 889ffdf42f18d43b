// Package needs says what a part of the test suite wants beside Go, skips it
// where that is missing, and lists in one line what was skipped.
package needs

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// Variable is the environment variable that turns every skip into a failure.
const Variable = "WAYHOUSE_TEST_ALL"

// Need is something that a test wants of the machine.
type Need struct {
	Name     string   // what is skipped without it
	Programs []string // that must be found
	Get      string   // how to get them
}

// PostgreSQL runs the store suite on a throwaway cluster.
var PostgreSQL = Need{
	Name:     "the store on PostgreSQL",
	Programs: []string{"initdb", "pg_ctl"},
	Get:      "put the programs of a PostgreSQL server on PATH (Debian: postgresql)",
}

// Osmium reads OpenStreetMap extracts independently of this project.
var Osmium = Need{
	Name:     "the check of extracts against another reader",
	Programs: []string{"osmium"},
	Get:      "put osmium on PATH (Debian: osmium-tool)",
}

// Poppler reads PDF independently of the library that writes it here.
var Poppler = Need{
	Name:     "the check of printed papers against a reader of PDF",
	Programs: []string{"pdftotext"},
	Get:      "put pdftotext on PATH (Debian: poppler-utils)",
}

// all lists every need; the closing line is made of it.
var all = []Need{PostgreSQL, Osmium, Poppler}

// missing returns the first program that is not found, "" if all are.
func (n Need) missing() string {
	for _, p := range n.Programs {
		if _, err := exec.LookPath(p); err != nil {
			return p
		}
	}
	return ""
}

// Require skips a test on a machine that lacks the need, or fails it where
// nothing may be skipped.
func Require(t testing.TB, n Need) {
	t.Helper()
	program := n.missing()
	if program == "" {
		return
	}
	if os.Getenv(Variable) != "" {
		t.Fatalf("%s needs %s: %s", n.Name, program, n.Get)
	}
	t.Skipf("%s needs %s: %s", n.Name, program, n.Get)
}

// Line says in one line what the suite skips on this machine, and how to get
// it.
func Line() string {
	var skipped []string
	for _, n := range all {
		if p := n.missing(); p != "" {
			skipped = append(skipped, fmt.Sprintf("%s (no %s: %s)", n.Name, p, n.Get))
		}
	}
	if len(skipped) == 0 {
		return "skipped: nothing"
	}
	return "skipped: " + strings.Join(skipped, "; ")
}
