package draw

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

// Pounds worked by hand: 2310 kg over 0.453 592 37 is 5092.7 lb, 2100 is 4629.7 and
// 2600 is 5732.0.
func TestCarries(t *testing.T) {
	weighed := rig.Exactly(kg(2310))
	wide, doubtful := about(2100, 2310, 2600), about(-120, 40, 300)
	half := rig.Estimate{Low: kg(2100) + measure.Kilogram/2, Likely: kg(2101), High: kg(2599) + measure.Kilogram/2}
	nothing := rig.Exactly(0)
	for _, tc := range []struct {
		on   measure.Known[rig.Estimate]
		want string
	}{
		{measure.Known[rig.Estimate]{}, "not known"},
		{measure.Exactly(nothing), "0 kg (0 lb)"},
		{measure.Exactly(weighed), "2,310 kg (≈ 5,090 lb)"},
		{measure.Exactly(wide), "2,100 kg to 2,600 kg (≈ 4,620 lb to ≈ 5,740 lb)"},
		{measure.Exactly(half), "≈ 2,100 kg to ≈ 2,600 kg (≈ 4,630 lb to ≈ 5,740 lb)"},
		{measure.Exactly(doubtful), "-120 kg to 300 kg (≈ -270 lb to ≈ 670 lb)"},
	} {
		if got := carries(phrase.English(), tc.on); got != tc.want {
			t.Errorf("%v: %q, want %q", tc.on, got, tc.want)
		}
	}
}

func TestReach(t *testing.T) {
	for _, tc := range []struct {
		reach
		want string
	}{
		{reach{at(1.5), at(1.5), at(1.5)}, "1.5 m (≈ 4 ft 11 in)"},
		{reach{at(5.001), at(5.12), at(5.291)}, "5.12 m (≈ 16 ft 9 5/8 in) (≈ 5 m to ≈ 5.295 m)"},
		{reach{at(-0.051), at(0), at(0.051)}, "0 m (0 in) (-0.051 m to 0.051 m)"},
	} {
		if got := phrase.English().Say(tc.says()); got != tc.want {
			t.Errorf("%q, want %q", got, tc.want)
		}
	}
}

// What is not a number, or not on this Earth, is not known.
func TestReachOf(t *testing.T) {
	for name, c := range map[string]rig.Centre{
		"missing": {Missing: say.Each([]string{"stove"})}, "without mass": {Low: measure.Distance(math.NaN()), Likely: measure.Distance(math.NaN()), High: measure.Distance(math.NaN())},
		"endless": {High: measure.Distance(math.Inf(1))},
	} {
		if got, ok := reachOf(c); ok {
			t.Errorf("%s: %v is known", name, got)
		}
	}
	if got, ok := reachOf(rig.Centre{Low: -1.0004, Likely: 2, High: 3.0006}); !ok || got != (reach{at(-1), at(2), at(3.001)}) {
		t.Errorf("%v, %v", got, ok)
	}
}

func TestCentreWords(t *testing.T) {
	missing := rig.Centre{Missing: say.Each([]string{"stove", "tank", "bed", "sofa"})}
	known := rig.Centre{Low: 1, Likely: 1, High: 1}
	for _, tc := range []struct {
		c    rig.CentreOfGravity
		want string
	}{
		{rig.CentreOfGravity{Along: missing, Across: missing, Up: missing}, "Centre of gravity: not known (stove, tank, bed and 1 more)."},
		{rig.CentreOfGravity{Along: known, Across: known, Up: missing}, "Centre of gravity: 1 m (≈ 3 ft 3 3/8 in) behind the coupling; 1 m (≈ 3 ft 3 3/8 in) right of the middle line; its height not known (stove, tank, bed and 1 more)."},
	} {
		if got := phrase.English().Say(centreWords(tc.c)); got != tc.want {
			t.Errorf("%q, want %q", got, tc.want)
		}
	}
}

func TestHeightWords(t *testing.T) {
	r, _ := inventedRig(t)
	travel := r.States()[0]
	taped := r.Unit
	taped.Height = ptr(at(4.1))
	drawn := r.Unit
	drawn.Height, drawn.HeightMeasured = nil, false
	for _, tc := range []struct {
		u      rig.Unit
		travel rig.Measures
		want   string
	}{
		{rig.Unit{}, rig.Measures{}, "Height: not known."},
		{r.Unit, travel, "Height: 4.06 m (≈ 13 ft 3 7/8 in), measured on 2026-05-04."},
		{taped, travel, "Height: 4.1 m (≈ 13 ft 5 3/8 in), measured on 2026-05-04; the outline is drawn as described, 4.06 m (≈ 13 ft 3 7/8 in)."},
		{drawn, travel, "Height: 4.06 m (≈ 13 ft 3 7/8 in), not measured on the finished unit."},
	} {
		if got := phrase.English().Say(heightWords(tc.u, tc.travel)); got != tc.want {
			t.Errorf("%q, want %q", got, tc.want)
		}
	}
}

func TestMovables(t *testing.T) {
	r, _ := inventedRig(t)
	r.Unit.Frame.Movables = append(r.Unit.Frame.Movables,
		rig.Movable{Name: "door", Does: "latches", Travel: &rig.Position{}, Stand: &rig.Position{}},
		rig.Movable{Name: "table", Does: "folds", Stand: &rig.Position{Box: sided(3, 4, 0, 1, 1, 1.8)}})
	got := movables(phrase.English(), r.Unit, r.States())
	for i, want := range []string{
		"chimney: folds; STICKS OUT if forgotten: height 4.85 m (≈ 15 ft 11 in) instead of 4.06 m (≈ 13 ft 3 7/8 in)",
		"steps: comes off; STICKS OUT if forgotten: width 3.4 m (≈ 11 ft 1 7/8 in) instead of 2.6 m (≈ 8 ft 6 3/8 in); lowest point 0.02 m (≈ 13/16 in) instead of 0.62 m (≈ 2 ft 3/8 in)",
		"", "", "", "",
		"door: latches; the room it takes while the unit stands is not described, not drawn",
		"table: folds; if forgotten: no larger outline",
	} {
		if want != "" && got[i] != want {
			t.Errorf("%q, want %q", got[i], want)
		}
	}
}

// Lines are no longer than asked for, and no letter is lost.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`([a-zé≈]{1,12} ){0,12}[a-z]{0,40}`).Draw(t, "words")
		most := rapid.IntRange(1, 60).Draw(t, "most")
		lines := wrap(words, most)
		for _, l := range lines {
			if n := len([]rune(l)); n > most {
				t.Fatalf("%q has %d letters, not %d", l, n, most)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got := bare(strings.Join(lines, "")); got != bare(words) {
			t.Fatalf("%q, want %q", got, bare(words))
		}
	})
}

// Notes say of every mass whether it is known, and whether axles share alike.
func TestNotes(t *testing.T) {
	whole, _ := inventedRig(t)
	apart := whole
	apart.Unit.Suspension = rig.Independent
	weighed, _ := smallRig(t)
	const shared = "The axles of the unit are taken to share alike; whether they do is not known."
	for name, tc := range map[string]struct {
		r             rig.Rig
		first, second string
		shared        bool
	}{
		"nothing": {rig.Rig{}, "What axles and coupling carry is not known.", "Unit: not known.", false},
		"whole":   {whole, "Masses worked out from the parts, not weighed.", "Unit: ≈ 6,985 kg to ≈ 8,600 kg (≈ 15,400 lb to ≈ 18,960 lb).", false},
		"apart":   {apart, "Masses worked out from the parts, not weighed.", "Unit: ≈ 6,985 kg to ≈ 8,600 kg (≈ 15,400 lb to ≈ 18,960 lb).", true},
		"weighed": {weighed, "Masses as weighed: ticket 7 of 2026-05-04.", "Unit: 2,300 kg (≈ 5,070 lb).", false},
	} {
		got := notes(phrase.English(), tc.r, tc.r.Statics(), tc.r.States()[0])
		if got[0] != tc.first || got[1] != tc.second || slices.Contains(got, shared) != tc.shared {
			t.Errorf("%s: %q", name, got)
		}
	}
}
