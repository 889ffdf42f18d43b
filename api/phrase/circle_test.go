package phrase

import (
	"strings"
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// A turning circle of which the map tells no diameter has none in the sentence, nor does a rig need what is not known.
func TestTurningCircleIsSaid(t *testing.T) {
	for _, lang := range []string{"en", "fr"} {
		in, err := Choose(lang, "", "metric")
		if err != nil {
			t.Fatal(err)
		}
		says := func(circle, needs measure.Length) string {
			return in.Say(say.That("way.turning_circle", "away", measure.Distance(158), "tagged", circle > 0,
				"circle", circle, "known", needs > 0, "needs", needs))
		}
		if bare := says(0, 0); !strings.HasSuffix(bare, map[string]string{"en": "158 m away", "fr": "à 158 m"}[lang]) {
			t.Errorf("%s: %s", lang, bare)
		}
		all := says(24*measure.Metre, 27*measure.Metre)
		if !strings.Contains(all, "158 m") || !strings.Contains(all, "24 m") || !strings.Contains(all, "27 m") {
			t.Errorf("%s: %s", lang, all)
		}
	}
}
