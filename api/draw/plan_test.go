package draw

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

func TestBeyond(t *testing.T) {
	whole := rect{at(0), at(8), at(0.5), at(4)}
	for name, tc := range map[string]struct {
		r    rect
		want []spot
	}{
		"within":   {rect{at(1), at(2), at(1), at(4)}, nil},
		"higher":   {rect{at(1), at(2), at(3), at(5)}, []spot{{at(1.5), at(5)}}},
		"lower":    {rect{at(1), at(2), 0, at(1)}, []spot{{at(1.5), 0}}},
		"to left":  {rect{at(-1), at(2), at(1), at(2)}, []spot{{at(-1), at(1.5)}}},
		"to right": {rect{at(7), at(9), at(1), at(2)}, []spot{{at(9), at(1.5)}}},
	} {
		if got := beyond(tc.r, whole); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
		}
	}
}

// A movable is solid where it travels, dashed where it stands, once where both are
// one; what would stick out is told apart.
func TestUnitShapes(t *testing.T) {
	r, _ := inventedRig(t)
	shelf := sided(3, 3.5, 0.5, 1, 1, 1.2)
	r.Unit.Frame.Movables = append(r.Unit.Frame.Movables,
		rig.Movable{Name: "shelf", Travel: &rig.Position{Box: shelf}, Stand: &rig.Position{Box: shelf}},
		rig.Movable{Name: "table", Stand: &rig.Position{Box: shelf}})
	shapes, strikes := unitShapes(r.Unit, r.States(), fromSide)
	var got []string
	for _, s := range shapes {
		got = append(got, []string{"solid", "thin", "dashed", "hits", "dotted"}[s.style]+" "+s.name)
	}
	want := []string{
		"solid bedroom over the neck", "solid house", "solid loft", "solid eaves", "thin chimney", "hits chimney", "hits steps",
		"hits jack, front left", "hits jack, front right", "hits jack, rear left", "hits jack, rear right", "thin shelf", "dashed table",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if want := (spot{at(9.7), at(4.85)}); len(strikes) != 6 || strikes[0] != want {
		t.Errorf("%v, want 6 from %v on", strikes, want)
	}
}

// From behind the right side is at the right.
func TestFromBehind(t *testing.T) {
	b := rig.Box{Left: at(1), Right: at(2), Bottom: at(0.5), Top: at(3)}
	if got, want := fromBehind(b), (rect{at(-1), at(2), at(0.5), at(3)}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// Left and right add up to all axles where they are sure, and each end of one side
// goes with the other end of the other. Worked by hand: 5,500 to 6,500 kg on the
// axles, 3,000 to 3,400 of them right, leave 2,600 to 3,000 left.
func TestSideLoads(t *testing.T) {
	group, right := measure.Exactly(about(5500, 6000, 6500)), measure.Exactly(about(3000, 3200, 3400))
	left, _ := sideLoads(rig.Unit{}, rig.Statics{Group: group, Right: right})
	if got, _ := left.Value(); got != about(2600, 2800, 3000) {
		t.Errorf("%v, want 2600 to 3000 kg", got)
	}
	if left, right := sideLoads(rig.Unit{}, rig.Statics{Group: group}); left.Known() || right.Known() {
		t.Errorf("%v and %v are not known", left, right)
	}
	var u rig.Unit
	u.Ticket = &rig.Ticket{Left: ptr(kg(2700))}
	left, _ = sideLoads(u, rig.Statics{Group: group, Right: right})
	if got, _ := left.Value(); got != rig.Exactly(kg(2700)) {
		t.Errorf("%v, want what was weighed", got)
	}
}

// What is not known is said, and nothing is drawn for it.
func TestMissing(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(*rig.Unit, *rig.Tow)
		want   string
		absent string // the start of a shape's name
	}{
		"outline": {func(u *rig.Unit, _ *rig.Tow) {
			u.Outline, u.Frame.Movables = nil, nil
			u.Height, u.Width, u.Length = ptr(at(4)), measure.Given(ptr(at(2.5))), ptr(at(9))
		}, "outline not described", "house"},
		"outline and height": {func(u *rig.Unit, _ *rig.Tow) { u.Outline, u.Frame.Movables = nil, nil; u.Length = ptr(at(9)) }, "unit: not drawn, its height is not known", "unit"},
		"outline and length": {func(u *rig.Unit, _ *rig.Tow) { u.Outline, u.Frame.Movables = nil, nil; u.Height = ptr(at(4)) }, "neither its outline nor its length is known", "unit"},
		"axles":              {func(u *rig.Unit, _ *rig.Tow) { u.Frame.Axles = nil }, "axles of the unit: not drawn", ""},
		"all axles but one":  {func(u *rig.Unit, _ *rig.Tow) { u.Frame.Axles = nil; u.CouplingToAxle, u.Axles = ptr(at(8)), 3 }, "only the last is drawn", ""},
		"track":              {func(u *rig.Unit, _ *rig.Tow) { u.Frame.Axles[1].Track = nil }, "the track is not known", ""},
		"tow height":         {func(_ *rig.Unit, w *rig.Tow) { w.Height = nil }, "tow vehicle: not drawn, its height is not known", "cab"},
		"tow length":         {func(_ *rig.Unit, w *rig.Tow) { w.Length = nil }, "tow vehicle: not drawn, its length is not known", "cab"},
		"tow size":           {func(_ *rig.Unit, w *rig.Tow) { w.Length, w.Height = nil, nil }, "its length and height are not known", "cab"},
		"tow overhang":       {func(_ *rig.Unit, w *rig.Tow) { w.FrontToCoupling = nil }, "where the coupling sits in its 6.6 m", "cab"},
		"cab":                {func(_ *rig.Unit, w *rig.Tow) { w.CabToCoupling = nil }, "tow vehicle: outline not described", "cab"},
		"a cab that fits":    {func(_ *rig.Unit, w *rig.Tow) { w.CabToCoupling = ptr(at(5)) }, "tow vehicle: outline not described", "cab"},
		"tow axles":          {func(_ *rig.Unit, w *rig.Tow) { w.CouplingAt = nil }, "axles of the tow vehicle: not drawn", ""},
	} {
		u, w := inventedUnit(), inventedTow()
		tc.change(&u, &w)
		r, err := rig.Assemble(u, w, rig.Overall{}, "")
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		p := newPlan(phrase.English(), r, r.Statics(), false)
		if all := strings.Join(append(p.side.missing, p.rear.missing...), "\n"); !strings.Contains(all, tc.want) {
			t.Errorf("without %s: %q, want %q", name, all, tc.want)
		}
		for _, s := range append(p.side.shapes, p.rear.shapes...) {
			if tc.absent != "" && strings.HasPrefix(s.name, tc.absent) && s.style != unsure {
				t.Errorf("without %s: %q is drawn as known", name, s.name)
			}
		}
	}
}

// A mass that is not known is never written as a number.
func TestNotKnown(t *testing.T) {
	u, w := inventedUnit(), inventedTow()
	u.Parts[1].Place.Along = nil
	r, err := rig.Assemble(u, w, rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	p := newPlan(phrase.English(), r, r.Statics(), false)
	if p.side.centre != nil {
		t.Errorf("a centre of gravity is drawn: %v", p.side.centre)
	}
	for _, l := range p.side.loads {
		if l.carries != "not known" {
			t.Errorf("%s: %s, want %s", l.what, l.carries, "not known")
		}
	}
}

// Places of the tow vehicle are moved to the coupling point: worked by hand, its
// first axle stands 3.7 m before it, its second 0.4 m behind it, its front at 4.7 m.
func TestTowPlaces(t *testing.T) {
	r, s := inventedRig(t)
	v := sideView(phrase.English(), r, s, r.States())
	var got []measure.Length
	for _, l := range v.loads {
		got = append(got, l.at)
	}
	if want := []measure.Length{at(-3.7), 0, at(0.4), at(6.5), at(7.4), at(8.3)}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if cab := v.shapes[0]; cab.rect != (rect{at(-4.7), at(-1.1), 0, at(2.05)}) || !cab.open {
		t.Errorf("cab %v", cab)
	}
	if bed := v.shapes[1]; bed.style != unsure || bed.left != at(-1.1) || bed.right != at(1.9) {
		t.Errorf("bed %v", bed)
	}
}

// spans of a view in metres, with their words.
func spans(all []span) []string {
	var out []string
	for _, s := range all {
		out = append(out, fmt.Sprintf("%g to %g %s", s.from.Metres(), s.to.Metres(), s.words))
	}
	return out
}

func TestDimensions(t *testing.T) {
	whole, _ := inventedRig(t)
	drawn := whole // not assembled: only the outline says how large it is
	drawn.Unit.Height, drawn.Unit.Width, drawn.Unit.Length, drawn.Tow = nil, measure.Known[measure.Length]{}, nil, rig.Tow{}
	bare, _ := bareRig(t)
	rear := bare
	rear.Unit.CouplingToRear = ptr(at(8.5))
	unit, over := "-0.3 to 10.55 unit 10.85 m (≈ 35 ft 7 1/8 in)", "-4.7 to 10.55 rig 15.25 m (≈ 50 ft 3/8 in)"
	for name, tc := range map[string]struct {
		r          rig.Rig
		side, rear []string
	}{
		"whole": {whole, []string{unit, over}, []string{"-1.3 to 1.3 width 2.6 m (≈ 8 ft 6 3/8 in)"}},
		"drawn": {drawn, []string{unit}, []string{"-1.3 to 1.3 width 2.6 m (≈ 8 ft 6 3/8 in)"}},
		"bare":  {bare, []string{"0 to 9 unit 9 m (≈ 29 ft 6 3/8 in)"}, []string{"-1.3 to 1.3 width 2.6 m (≈ 8 ft 6 3/8 in)"}},
		"rear":  {rear, []string{"-0.5 to 8.5 unit 9 m (≈ 29 ft 6 3/8 in)"}, []string{"-1.3 to 1.3 width 2.6 m (≈ 8 ft 6 3/8 in)"}},
	} {
		p := newPlan(phrase.English(), tc.r, tc.r.Statics(), false)
		if got := spans(p.side.above); !slices.Equal(got, tc.side) {
			t.Errorf("%s, from the side: %q, want %q", name, got, tc.side)
		}
		if got := spans(p.rear.above); !slices.Equal(got, tc.rear) {
			t.Errorf("%s, from behind: %q, want %q", name, got, tc.rear)
		}
	}
}

// The first axles and the last have dimension lines, each axle an arrow.
func TestManyAxles(t *testing.T) {
	var r rig.Rig
	for i := range 6 {
		r.Unit.Frame.Axles = append(r.Unit.Frame.Axles, rig.Axle{At: at(5 + float64(i)), Track: ptr(at(2 - 0.1*float64(i))), Width: at(0.2)})
	}
	p := newPlan(phrase.English(), r, r.Statics(), false)
	var got []measure.Length
	for _, s := range p.side.below {
		got = append(got, s.to)
	}
	if want := []measure.Length{at(5), at(6), at(7), at(10)}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if len(p.side.loads) != 7 {
		t.Errorf("%d arrows, want 7", len(p.side.loads))
	}
	if want := []string{"-0.75 to 0.75 track 1.5 m (≈ 4 ft 11 in)"}; !slices.Equal(spans(p.rear.below), want) {
		t.Errorf("%q, want %q", spans(p.rear.below), want)
	}
}

// The deck lies under the house, not under what is over the neck.
func TestLevels(t *testing.T) {
	r, s := inventedRig(t)
	v := sideView(phrase.English(), r, s, r.States())
	want := []level{{at(4.06), at(-4.7), at(10.55), "height", true}, {at(0.72), at(2.2), at(10.4), "deck", false}}
	if !slices.Equal(v.levels, want) {
		t.Errorf("%v, want %v", v.levels, want)
	}
}
