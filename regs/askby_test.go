package regs_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// An office that never works must not stop the program.
func TestAskByAnOfficeThatNeverWorks(t *testing.T) {
	var csv strings.Builder
	csv.WriteString("id,calendar,name,date,moved,school,from_year,to_year,status,source,section,source_year,source_url,read_on\n")
	for _, month := range []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"} {
		fmt.Fprintf(&csv, "h-%s,CA-ON,closed,%s,,,,,published,made up,,,,2027-01-01\n", month, month)
	}
	holidays, _, err := window.Holidays().ReadCSV([]byte(csv.String()))
	if err != nil {
		t.Fatal(err)
	}
	var closed []*window.Holiday
	for i := range holidays {
		closed = append(closed, &holidays[i])
	}
	tables := regs.NewTables("x", regs.Rows{
		Holidays: closed,
		Permits:  []*permit.Permit{{ID: "p", Jurisdiction: "CA-ON", For: []permit.Subject{permit.Size}, LeadDays: measure.Exactly(1), Calendar: "CA-ON", Proof: rows.Proof{Status: finding.Published}}},
	}, nil)
	v, _, at := house()
	way := []regs.Passage{{Jurisdiction: "CA-ON", From: at, Until: at, Findings: []finding.Finding{{Rule: finding.Rule(limit.Width), Demands: finding.Demands{Permits: say.Each([]string{"a permit"})}}}}}
	done := make(chan bool)
	go func() { tables.Permits(v, way); close(done) }()
	select {
	case <-done:
	case <-time.After(2 * time.Second):
		t.Error("the day by which to ask is looked for without an end")
	}
}
