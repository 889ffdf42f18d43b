package report_test

import (
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
)

// What each foot of the house weighs stands beside the rule of the trade. By hand: the
// example's parts are likely 6,025 kg, 13,283 lb, on 8.6 m, 28.2 ft: 471 lb for each.
func TestMassByTheFoot(t *testing.T) {
	got := rigText(t, report.View{In: phrase.English(), Full: true}, exampleRig(t, false))
	got = strings.Join(strings.Fields(got), " ")
	const want = "for each foot of its 8.6 m (≈ 28 ft 2 5/8 in): ≈ 215 kg (≈ 470 lb); as built, houses have " +
		"≈ 205 kg (450 lb) to ≈ 225 kg (500 lb) dry"
	if !strings.Contains(got, want) {
		t.Errorf("does not say %q", want)
	}
}
