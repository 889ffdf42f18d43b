package draw

import (
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

func textOf(t failer, r rig.Rig, s rig.Statics, columns int) string {
	t.Helper()
	var b strings.Builder
	if err := Text(&b, phrase.English(), r, s, columns, true); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// smallDrawing was looked at line by line: by hand, at 0.15 m across the house of
// 1.2 to 6 m runs from column 8 to 40, at 0.3 m up its 0.5 to 3 m from row 2 to 10.
const smallDrawing = `INVENTED: Wren
Scale: 1 character = 0.15 m across, 0.3 m up.

SIDE VIEW

├──── unit 6 m (≈ 19 ft 8 1/4 in) ──────┤
╶┈┈┈┈┈┈┈┳━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┓ height 3 m
        ┃    ┌┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┐      ┃
        ┃    ┆         1         ┆      ┃
        ┃    └┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┘      ┃
        ┃                               ┃
        ┃                               ┃
        ┃                               ┃
        ┃                               ┃
        ┗━━━━━━━━━━━━╎━━━━━━━━━━━━━━━━━━┛
                     ╎  O
═════════════════════════════════════════
▲                       ▼
A                       B

A coupling, its height is not given: 300 kg (≈ 660 lb)
B axle 1, 3.6 m (≈ 11 ft 9 3/4 in) behind the coupling:
  2,000 kg (≈ 4,410 lb)
height 3 m (≈ 9 ft 10 1/8 in)
tow vehicle: not drawn, its length and height are not
  known
axles of the tow vehicle: not drawn, they or where its
  coupling sits are not described

REAR VIEW

├───────────────┤
┏━━━━━━━━━━━━━━━┳┈┈┈┈┈┈┈╴ height 3 m
┃               ┣┄┄┄┄┄┄┄┐
┃               ┃   1   ×
┃               ┣┄┄┄┄┄┄┄┘
┃               ┃
┃               ┃
┃               ┃
┃               ┃
┗━━━━━━━╎━━━━━━━┛
  O     ╎     O
═════════════════════════
  ▼           ▼
  A           B

A left tires, all axles of the unit: 950 kg (≈ 2,090 lb)
B right tires, all axles of the unit: 1,050 kg (≈ 2,310
  lb)
track 1.8 m (≈ 5 ft 10 7/8 in)
width 2.4 m (≈ 7 ft 10 1/2 in)

MOVABLES
1 awning: folds; STICKS OUT if forgotten: width 3.6 m (≈
  11 ft 9 3/4 in) instead of 2.4 m (≈ 7 ft 10 1/2 in)

NOTES
Masses as weighed: ticket 7 of 2026-05-04.
Unit: 2,300 kg (≈ 5,070 lb).
Tow vehicle with what rests on it: not known.
Rig: not known.
Centre of gravity: 3.13 m (≈ 10 ft 3 1/4 in) behind the
  coupling; 0.039 m (≈ 1 9/16 in) right of the middle line;
  its height not known (every part: none is described).
Height: 3 m (≈ 9 ft 10 1/8 in), not measured on the
  finished unit.
Not known: the axles of the tow vehicle, or where its
  coupling sits, are not described.
Wheels not to scale: drawn 0.76 m high.
Heavy lines: as it travels. Light: movable, as it travels.
  Dashed: only while it stands. Dotted: not described,
  overall size only. O: wheel. ⊕: centre of gravity. ×:
  sticks out if forgotten.
Planning sketch, not a working drawing. Weigh the rig,
  measure its height.
`

func TestSmallText(t *testing.T) {
	r, s := smallRig(t)
	if diff := cmp.Diff(strings.Split(smallDrawing, "\n"), strings.Split(textOf(t, r, s, 60), "\n")); diff != "" {
		t.Error(diff)
	}
}

// No line is longer than what it is to fit, for any rig.
func TestTextFits(t *testing.T) {
	all := rigs(t)
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(leastColumns, 200).Draw(t, "columns")
		for name, f := range all {
			r, s := f()
			drawn := textOf(t, r, s, columns)
			for _, line := range strings.Split(drawn, "\n") {
				if n := utf8.RuneCountInString(line); n > columns {
					t.Fatalf("%s: %d columns, not %d: %q", name, n, columns, line)
				}
			}
			if drawn != textOf(t, r, s, columns) {
				t.Fatalf("%s: drawn otherwise again", name)
			}
		}
	})
}

// The default is 100 columns.
func TestDefaultColumns(t *testing.T) {
	r, s := inventedRig(t)
	if textOf(t, r, s, 0) != textOf(t, r, s, 100) {
		t.Error("0 columns are not 100")
	}
}

// A box is as many columns and rows from edge to edge as its metres come to at the
// stated scale, to one.
func TestTextScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := box("house", rapid.Float64Range(0, 3).Draw(t, "from"), rapid.Float64Range(5, 14).Draw(t, "to"), 1.2, rapid.Float64Range(0.8, 1.2).Draw(t, "bottom"), rapid.Float64Range(2.5, 5).Draw(t, "top"))
		var r rig.Rig
		r.Unit.Outline = []rig.Box{b}
		drawn := textOf(t, r, r.Statics(), rapid.IntRange(60, 150).Draw(t, "columns"))
		drawn = drawn[:strings.Index(drawn, "REAR VIEW")]
		var across, upward float64
		_, scale, _ := strings.Cut(drawn, "1 character = ")
		if _, err := fmt.Sscanf(scale, "%g m across, %g m up", &across, &upward); err != nil || math.Abs(upward-2*across) > 1e-9 {
			t.Fatalf("scale %q: %v", scale, err)
		}
		var top, bottom, wide int
		for i, line := range strings.Split(drawn, "\n") {
			if a := strings.IndexRune(line, '┗'); a >= 0 {
				bottom, wide = i, utf8.RuneCountInString(line[a:strings.IndexRune(line, '┛')])
			}
			if strings.ContainsAny(line, "┏┳") {
				top = i
			}
		}
		if want := (b.To - b.From).Metres() / across; math.Abs(float64(wide)-want) > 1 {
			t.Fatalf("%d columns, want %.1f\n%s", wide, want, drawn)
		}
		if want := (b.Top - b.Bottom).Metres() / upward; math.Abs(float64(bottom-top)-want) > 1 {
			t.Fatalf("%d rows, want %.1f\n%s", bottom-top, want, drawn)
		}
	})
}

func TestRaster(t *testing.T) {
	for _, tc := range []struct {
		across measure.Length
		want   string
	}{
		{at(0.12), "Scale: 1 character = 0.12 m across, 0.24 m up."}, {at(0.2), "Scale: 1 character = 0.2 m across, 0.4 m up."},
		{at(0.015), "Scale: 1 character = 0.015 m across, 0.03 m up."}, {at(1), "Scale: 1 character = 1 m across, 2 m up."},
	} {
		if got := phrase.English().Say(raster{tc.across}.words()); got != tc.want {
			t.Errorf("%q, want %q", got, tc.want)
		}
	}
}

// The raster is the finest that fits: 16 columns beside 84 for a rig of 16.6 m are
// 0.2 m, for one of 16.7 m 0.25 m (worked by hand: 16.7/0.2 + 1 is above 84).
func TestRasterFor(t *testing.T) {
	for _, tc := range []struct{ length, want float64 }{{16.6, 0.2}, {16.8, 0.25}, {0.5, 0.01}, {8400, 120}} {
		v := view{in: phrase.English(), shapes: []shape{{rect: rect{0, at(tc.length), 0, at(1)}}}}
		if got := rasterFor(100, v); got.across != at(tc.want) {
			t.Errorf("%v m: %s, want %v m", tc.length, got.across, tc.want)
		}
	}
}

// A drawing of characters tells the same as the document.
func TestTextSaysAsMuch(t *testing.T) {
	for name, f := range rigs(t) {
		r, s := f()
		p := newPlan(phrase.English(), r, s, true)
		drawn := strings.Join(strings.Fields(textOf(t, r, s, 200)), " ")
		for _, l := range append(append(append([]string{p.title, p.in.Say(say.That("draw.footer"))}, p.notes...), p.movables...), append(p.side.missing, p.rear.missing...)...) {
			if !strings.Contains(drawn, strings.Join(strings.Fields(l), " ")) {
				t.Errorf("%s: lacks %q", name, l)
			}
		}
		for _, l := range append(append([]load(nil), p.side.loads...), p.rear.loads...) {
			if !strings.Contains(drawn, l.what+", "+l.where+": "+l.carries) {
				t.Errorf("%s: lacks %v", name, l)
			}
		}
	}
}

// A line of names drives no terminal.
func TestTextNames(t *testing.T) {
	r, s := smallRig(t)
	r.Unit.Name = "a\x1b[2Jb\u202ec\nd"
	r.Unit.Frame.Movables[0].Name = "x\x07y"
	if drawn := textOf(t, r, s, 100); strings.ContainsAny(drawn, "\x1b\x07\u202e") || !strings.HasPrefix(drawn, "INVENTED: a [2Jb c d\n") {
		t.Errorf("%q", drawn[:40])
	}
}

func BenchmarkText(b *testing.B) {
	r, s := inventedRig(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := Text(io.Discard, phrase.English(), r, s, 100, true); err != nil {
			b.Fatal(err)
		}
	}
}

// A drawing is at most 70 rows high, however high the unit is.
func TestTextHeight(t *testing.T) {
	v := view{in: phrase.English(), shapes: []shape{{rect: rect{0, at(1), 0, at(100)}}}}
	if s := rasterFor(100, v); s.row(at(100)) > mostRows || s.across != at(0.8) {
		t.Errorf("%s, want 0.80 m: 62.5 rows", s.words())
	}
}
