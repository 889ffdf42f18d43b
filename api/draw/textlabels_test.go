package draw

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
)

// Nothing lies on the figures of lines across in a drawing of characters, whatever sticks
// out beside them.
func TestTextLevelsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRig(t)
		tag := rapid.SampledFrom(phrase.Languages()).Draw(t, "language")
		p := newPlan(phrase.In(tag, measure.Both), r, r.Statics(), true)
		scale := rasterFor(DefaultColumns, p.side, p.rear)
		for _, v := range []view{p.side, p.rear} {
			drawn := v.text(scale)
			for _, l := range v.levels {
				if !strings.Contains(drawn, v.beside(l)) {
					t.Fatalf("%q is not whole in\n%s", v.beside(l), drawn)
				}
			}
		}
	})
}
