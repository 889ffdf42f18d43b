package draw

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
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
			whole(t, v, scale)
		}
	})
}

func whole(t failer, v view, scale raster) {
	t.Helper()
	drawn := v.text(scale)
	for _, l := range v.levels {
		if !strings.Contains(drawn, v.beside(l)) {
			t.Fatalf("%q is not whole in\n%s", v.beside(l), drawn)
		}
	}
}

// A deck that lies near the height of the unit, as of a load on a high trailer, has its
// figure beside that of the height, in characters and in the picture.
func TestLevelsNearOneAnother(t *testing.T) {
	for _, below := range []float64{0, 0.02, 0.1, 0.2} {
		u := inventedUnit()
		deck := at(4.06 - below)
		u.Frame.Deck = &deck
		r, err := rig.Assemble(u, inventedTow(), rig.Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		p := newPlan(phrase.English(), r, r.Statics(), true)
		for _, columns := range []int{60, DefaultColumns} {
			whole(t, p.side, rasterFor(columns, p.side, p.rear))
		}
		tidy(t, Rig(phrase.English(), r, r.Statics(), true))
	}
}
