package regs

import (
	"testing"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
)

// The best row in force counts; rows of the country never do.
func TestCoverage(t *testing.T) {
	day := time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC)
	row := func(id, code string, q limit.Quantity, s finding.Status, read time.Time) limit.Row {
		return limit.Row{ID: id, Jurisdiction: code, Quantity: q, Tier: limit.Legal, Status: s, ReadOn: read, Threshold: 1}
	}
	past := row("past", "XA-A", limit.GrossMass, finding.Published, day)
	past.ValidTo = day.AddDate(0, 0, -1)
	further := row("further", "XA-A", limit.KingpinToRearAxle, finding.Published, day)
	further.Tier = limit.Beyond // says nothing of the limit itself
	thaw := row("thaw", "XA-A", limit.TandemMass, finding.Published, day.AddDate(0, 0, -31))
	thaw.Term = 30 * 24 * time.Hour
	tables := of(
		row("1", "XA-A", limit.Height, finding.Memory, time.Time{}), row("2", "XA-A", limit.Height, finding.Published, day),
		row("3", "XA-A", limit.Width, finding.Published, day.AddDate(-2, 0, 0)), row("4", "XA-A", limit.Width, finding.Secondary, day),
		row("5", "XA-A", limit.TrailerLength, finding.Verified, day), row("6", "XA-A", limit.TrailerLength, finding.Published, day),
		row("7", "XA-A", limit.CombinationLength, finding.Invented, day), past, further, thaw,
		row("8", "XA", limit.RearOverhang, finding.Published, day),
	)
	got := tables.Coverage("XA-A", day)
	for q, want := range map[limit.Quantity]Cover{
		limit.Height: CoverPublished, limit.Width: CoverStale, limit.TrailerLength: CoverVerified, limit.CombinationLength: CoverUnverified,
		limit.KingpinToRearAxle: CoverUnverified, limit.TandemMass: CoverStale,
		limit.GrossMass: CoverMissing, limit.RearOverhang: CoverMissing, limit.FrontOverhang: CoverMissing,
	} {
		if got[q] != want {
			t.Errorf("%s: %s, want %s", q, got[q], want)
		}
	}
	for _, q := range limit.Quantities() {
		if _, ok := got[q]; ok == q.OnlyWhereRuled() { // nothing is missing where no law has such a rule
			t.Errorf("%s: listed %v", q, ok)
		}
	}
	group := of(row("9", "XA-A", limit.BridgeFormula, finding.Memory, day)).Coverage("XA-A", day)
	if _, ok := group[limit.AxleGroupMass]; group[limit.BridgeFormula] != CoverUnverified || ok {
		t.Errorf("a row of a bridge formula: %v", group)
	}
	for q, c := range tables.Coverage("XA-B", day) {
		if c != CoverMissing {
			t.Errorf("%s of a jurisdiction without rows: %s", q, c)
		}
	}
	if codes := tables.Jurisdictions(); len(codes) != 2 || codes[0] != "XA" || codes[1] != "XA-A" {
		t.Errorf("jurisdictions %v", codes)
	}
}
