package report_test

import (
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs/measure"
)

// The word that a line of the first screen begins with opens what stands behind it, in
// either language; what opens nothing names those words.
func TestLinesOfARigOpen(t *testing.T) {
	a := exampleRig(t, true)
	for tag, words := range map[string]map[string]string{
		"en": {
			"mass": "centre of gravity: 4.56 m", "Balance": "on the coupling: ≈ 905 kg", "ratings": "7,080 kg",
			"TIPPING": "0.35 g",
			"turning": "12.5 m", "fuel": "6 %    60 km/h",
		},
		"fr": {"carburant": "6 %", "virage": "12,5 m", "masse": "4,56 m"},
	} {
		for _, l := range phrase.Languages() {
			if l.String() != tag {
				continue
			}
			for word, want := range words {
				v := report.View{In: phrase.In(l, measure.Both), Why: word}
				got := strings.ReplaceAll(rigText(t, v, a), "\u00a0", " ")
				if !strings.Contains(got, want) || strings.Contains(got, "--why") {
					t.Errorf("--why %s does not tell %q:\n%s", word, want, got)
				}
			}
		}
	}
	got := rigText(t, report.View{In: phrase.English(), Why: "nothing"}, a)
	if !strings.Contains(got, "lines: Mass, Balance, Ratings, Tipping, Turning, Fuel") || strings.Contains(got, "\n  \n") {
		t.Error(got)
	}
}
