package draw

import (
	"regexp"
	"testing"

	"golang.org/x/text/language"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
)

// Where customary units are asked for, every figure of the drawing is in them, also the
// bars of the scales; where metric ones are, in those.
func TestFiguresInTheUnitsThatAreAsked(t *testing.T) {
	metric := regexp.MustCompile(`\d (m|mm|kg|km/h)\b`)
	customary := regexp.MustCompile(`\d (ft|in|lb|mph)\b`)
	r, s := inventedRig(t)
	for units, tc := range map[measure.System]struct{ has, lacks *regexp.Regexp }{
		measure.Customary: {customary, metric}, measure.Metric: {metric, customary},
	} {
		found := 0
		for _, l := range Rig(phrase.In(language.English, units), r, s, true).Labels() {
			if tc.has.MatchString(l.Text) {
				found++
			}
			if tc.lacks.MatchString(l.Text) {
				t.Errorf("%v: %q", units, l.Text)
			}
		}
		if found < 20 {
			t.Errorf("%v: %d figures", units, found)
		}
	}
}
