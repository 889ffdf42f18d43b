package picture

import (
	"bytes"
	"encoding/xml"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// sketch has a filled box of 1000 by 500 with its corner at 0, and a word.
func sketch() *Picture {
	p := New(50)
	p.Title = "a < b"
	p.Box(Look{Fill: "#102030"}, "a box", Point{1000, 500}, Point{})
	p.Line(Look{Stroke: "#ff0000", Width: 0.2, Dash: []float64{1, 1}}, "", Point{0, 600}, Point{1000, 600})
	p.Words(Point{500, 700}, Middle, 1, "word")
	return p
}

// A picture of pixels is a PNG as the standard library reads one, as wide as asked for,
// with each mark where its place on the page says.
func TestPNG(t *testing.T) {
	var b bytes.Buffer
	p := sketch()
	if err := p.PNG(&b, 575); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(b.Bytes(), []byte("iTXtTitle\x00\x00\x00\x00\x00a < b")) {
		t.Error("no title")
	}
	img, err := png.Decode(&b) // which refuses chunks out of order or with a wrong check
	if err != nil {
		t.Fatal(err)
	}
	_, wide, high := p.Page()
	scale := 575 / wide
	if at := img.Bounds(); at.Dx() != 575 || at.Dy() != int(math.Ceil(high*scale)) {
		t.Errorf("%v of a page %v by %v", at, wide, high)
	}
	for name, tc := range map[string]struct {
		x, y float64
		want color.RGBA
	}{
		"within the box": {500, 250, color.RGBA{0x10, 0x20, 0x30, 255}}, "at its corner": {10, 10, color.RGBA{0x10, 0x20, 0x30, 255}},
		"beside it": {-20, 250, color.RGBA{255, 255, 255, 255}}, "on the line": {10, 600, color.RGBA{255, 0, 0, 255}},
		"in a gap of the line": {75, 600, color.RGBA{255, 255, 255, 255}},
	} {
		got := color.RGBAModel.Convert(img.At(int((tc.x+75)*scale), int((tc.y+75)*scale)))
		if got != tc.want {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
		}
	}
}

// A page that would be very high is narrower than asked for, and never without end.
func TestHighPNG(t *testing.T) {
	p := New(1)
	p.Line(Look{Stroke: "#000000", Width: 1}, "", Point{}, Point{0, 1e6})
	var b bytes.Buffer
	if err := p.PNG(&b, 1000); err != nil {
		t.Fatal(err)
	}
	at, err := png.DecodeConfig(&b)
	if err != nil || at.Height > most+1 {
		t.Errorf("%v %v", at, err)
	}
}

// A document is well-formed XML, and a title of any letters stays one.
func TestSVG(t *testing.T) {
	var b bytes.Buffer
	if err := sketch().SVG(&b); err != nil {
		t.Fatal(err)
	}
	doc := b.String()
	for d := xml.NewDecoder(&b); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{"a &lt; b", `width="1000" height="500"`, "<title>a box</title>", `stroke-dasharray="50 50"`} {
		if !strings.Contains(doc, want) {
			t.Errorf("no %s in %s", want, doc)
		}
	}
}

// What is placed is scaled about its own origin and moved; its words keep the size of
// the letters.
func TestPlace(t *testing.T) {
	p := New(50)
	p.Place(sketch(), Point{100, 10}, 0.5)
	if got := p.Marks[0].At; got[0] != (Point{100, 10}) || got[1] != (Point{600, 260}) {
		t.Errorf("%v", got)
	}
	if l := p.Labels()[0]; l.Foot-l.Top != 50*(above+under) {
		t.Errorf("%v", l)
	}
}

// Lines are no wider than asked for but for single letters, and lose no word.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`[a-zé≈0-9]{1,20}( [a-zé≈0-9]{1,20}){0,8}`).Draw(t, "words")
		most := rapid.Float64Range(0.1, 12).Draw(t, "most")
		lines := Wrap(words, most)
		for _, l := range lines {
			if WideAs(l) > most && utf8.RuneCountInString(l) > 1 {
				t.Fatalf("%q is %v wide", l, WideAs(l))
			}
		}
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(words, " ", "") {
			t.Fatalf("%q of %q", got, words)
		}
	})
}

// Figures are all of one width, as tables need them, and what a font lacks takes room.
func TestWideAs(t *testing.T) {
	if WideAs("1111") != WideAs("8888") || WideAs("i") >= WideAs("m") || WideAs("\u4e2d") != 1 || WideAs("") != 0 {
		t.Errorf("%v %v %v", WideAs("1111"), WideAs("8888"), WideAs("\u4e2d"))
	}
}

func TestMeets(t *testing.T) {
	p := New(10)
	a := p.LabelOf(Point{}, Start, 1, "word")
	for name, tc := range map[string]struct {
		l    Label
		want bool
	}{
		"itself": {a, true}, "under it": {p.LabelOf(Point{0, 11}, Start, 1, "word"), false},
		"behind it":    {p.LabelOf(Point{a.Right + 1, 0}, Start, 1, "word"), false},
		"over its end": {p.LabelOf(Point{a.Right + 1, 2}, End, 1, "word"), true},
	} {
		if got := a.Meets(tc.l); got != tc.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}
