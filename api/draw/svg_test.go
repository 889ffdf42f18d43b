package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/regs/measure"
	"wayhouse/routing/rig"
)

// element of a document, moved to where it is drawn.
type element struct {
	name, words string
	attr        map[string]string
	dx, dy      float64
}

func (e element) number(t failer, key string) float64 {
	t.Helper()
	var v float64
	if _, err := fmt.Sscan(e.attr[key], &v); err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		t.Fatalf("%s of %v: %v", key, e, err)
	}
	return v
}

type failer interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// decode reads a document; it must be well-formed.
func decode(t failer, doc []byte) []element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(doc))
	var out []element
	var stack []int
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		} else if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attr: map[string]string{}}
			if len(stack) > 0 {
				above := out[stack[len(stack)-1]]
				e.dx, e.dy = above.dx, above.dy
			}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			var dx, dy float64
			if n, _ := fmt.Sscanf(e.attr["transform"], "translate(%g %g)", &dx, &dy); n == 2 {
				e.dx, e.dy = e.dx+dx, e.dy+dy
			}
			stack = append(stack, len(out))
			out = append(out, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 {
				out[stack[len(stack)-1]].words += string(x)
				if n := len(stack); n > 1 && out[stack[n-1]].name == "title" { // of the shape around it
					out[stack[n-2]].words += string(x)
				}
			}
		}
	}
}

func svgOf(t failer, r rig.Rig, s rig.Statics) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := SVG(&b, phrase.English(), r, s, true); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// rigs are drawn in every test of documents.
func rigs(t testing.TB) map[string]func() (rig.Rig, rig.Statics) {
	changed := func(change func(*rig.Unit)) func() (rig.Rig, rig.Statics) {
		return func() (rig.Rig, rig.Statics) {
			u := inventedUnit()
			change(&u)
			r, err := rig.Assemble(u, inventedTow(), rig.Overall{}, "")
			if err != nil {
				t.Fatal(err)
			}
			return r, r.Statics()
		}
	}
	return map[string]func() (rig.Rig, rig.Statics){
		"invented": func() (rig.Rig, rig.Statics) { return inventedRig(t) },
		"bare":     func() (rig.Rig, rig.Statics) { return bareRig(t) },
		"small":    func() (rig.Rig, rig.Statics) { return smallRig(t) },
		"nothing":  func() (rig.Rig, rig.Statics) { return rig.Rig{}, rig.Rig{}.Statics() },
		"no masses": changed(func(u *rig.Unit) {
			clear(u.Parts)
			u.Frame.Movables = nil
			u.Parts = []rig.Part{{Name: "air", Place: place(1, 0, 1)}}
		}),
		"no height of the centre": changed(func(u *rig.Unit) { u.Parts[0].Place.Up = nil }),
		"one far wide": changed(func(u *rig.Unit) {
			u.Outline = append(u.Outline, box("mast", 3, 3.1, 0.1, 3, 30))
			u.HeightMeasured = false
		}),
	}
}

// Every document is well-formed, all of it lies in the view box, no number is NaN,
// and letters have 9 px or more where the picture is 1200 px wide.
func TestSVGDocuments(t *testing.T) {
	for name, f := range rigs(t) {
		r, s := f()
		doc := svgOf(t, r, s)
		all := decode(t, doc)
		if bytes.Contains(doc, []byte("NaN")) || bytes.Contains(doc, []byte("Inf")) {
			t.Errorf("%s: a number is none", name)
		}
		if again := svgOf(t, r, s); !bytes.Equal(doc, again) {
			t.Errorf("%s: another document for the same rig", name)
		}
		var x, y, w, h float64
		if _, err := fmt.Sscan(all[0].attr["viewBox"], &x, &y, &w, &h); err != nil {
			t.Fatal(err)
		}
		for _, e := range all {
			switch e.name {
			case "rect":
				left, top := e.number(t, "x")+e.dx, e.number(t, "y")+e.dy
				if left < x-0.2 || top < y-0.2 || left+e.number(t, "width") > x+w+0.2 || top+e.number(t, "height") > y+h+0.2 {
					t.Errorf("%s: %v lies outside", name, e)
				}
			case "text":
				if px := e.number(t, "font-size") / w * 1200; px < 8 || e.attr["font-size"] != "" && px > 40 {
					t.Errorf("%s: letters of %.1f px", name, px)
				}
			}
		}
		for _, e := range all {
			if dashes := e.attr["stroke-dasharray"] != ""; e.name == "rect" && e.words == "only while it stands" && !dashes {
				t.Errorf("%s: the key has no dashes", name)
			}
		}
		for _, want := range []string{"INVENTED: ", "Planning sketch, not a working drawing.", "Side view", "Rear view"} {
			if !contains(all, want) {
				t.Errorf("%s: lacks %q", name, want)
			}
		}
	}
}

func contains(all []element, words string) bool {
	for _, e := range all {
		if strings.Contains(e.words, words) {
			return true
		}
	}
	return false
}

// One unit is 1 mm in both views: each box is as wide and high as it is described,
// and stands where it is.
func TestSVGScale(t *testing.T) {
	r, s := inventedRig(t)
	all := decode(t, svgOf(t, r, s))
	for _, b := range r.Unit.OutlineIn(rig.Travelling, nil) {
		views := 0
		for _, e := range all {
			if e.name != "rect" || e.words != b.Name || e.attr["stroke-dasharray"] != "" {
				continue
			}
			wide := []measure.Length{b.To - b.From, b.Left + b.Right}[min(views, 1)]
			near(t, b.Name+" width", e.number(t, "width"), wide.Metres()*1000)
			near(t, b.Name+" height", e.number(t, "height"), (b.Top-b.Bottom).Metres()*1000)
			if views == 0 {
				near(t, b.Name+" place", e.number(t, "x")+e.dx, b.From.Metres()*1000)
				near(t, b.Name+" top", e.number(t, "y")+e.dy, -b.Top.Metres()*1000)
			} else {
				near(t, b.Name+" side", e.number(t, "x"), -b.Left.Metres()*1000)
			}
			views++
		}
		if views != 2 {
			t.Errorf("%s is drawn in %d views, not 2", b.Name, views)
		}
	}
}

func near(t *testing.T, name string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 0.11) { // numbers are written to 0.1 mm
		t.Errorf("%s: %v mm, want %v", name, got, want)
	}
}

// A step of the scale bar is 1 m or 5 ft, and the numbers at its ends tell so.
func TestSVGScaleBar(t *testing.T) {
	r, s := inventedRig(t)
	steps := map[string]int{}
	at := map[string]float64{}
	for _, e := range decode(t, svgOf(t, r, s)) {
		if e.name == "rect" && e.words == "" {
			steps[e.attr["width"]]++
		}
		at[e.words] = 0
		if e.name == "text" {
			at[e.words] = e.number(t, "x")
		}
	}
	if steps["1000"] != 5 || steps["1524"] != 3 {
		t.Errorf("steps %v, want 5 of 1000 mm and 3 of 1524 mm", steps)
	}
	near(t, "5 m", at["5 m"]-at["0"], 5000)
	near(t, "15 ft", at["15 ft"]-at["0"], 4572)
}

func TestSVGNames(t *testing.T) {
	u := inventedUnit()
	u.Name = "</title><script>\x1b[31m\x00\u202e & \"quotes\" 'n' ]]>"
	u.Outline[1].Name = "a\"><b\u202e"
	r, err := rig.Assemble(u, inventedTow(), rig.Overall{}, "")
	if err != nil {
		t.Fatal(err)
	}
	doc := svgOf(t, r, r.Statics())
	all := decode(t, doc)
	for _, e := range all {
		if e.name == "script" || e.name == "b" {
			t.Errorf("a name became an element %v", e)
		}
	}
	if !contains(all, `</title><script> [31m   & "quotes" 'n' ]]>`) || !contains(all, `a"><b`) {
		t.Error("a name is not whole")
	}
	if bytes.ContainsAny(doc, "\x1b\x00\u202e") {
		t.Error("a control character is written")
	}
}

// Words never lie on words, whatever stands where: their width as reckoned, their
// height from a little under their foot to their size above it.
func TestSVGLabelsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := inventedUnit()
		first := rapid.Float64Range(3.5, 7).Draw(t, "first axle")
		apart := rapid.Float64Range(0.6, 1.2).Draw(t, "apart")
		for i := range u.Frame.Axles {
			u.Frame.Axles[i].At = at(first + float64(i)*apart)
		}
		w := inventedTow()
		w.CouplingAt = ptr(at(rapid.Float64Range(3, 6).Draw(t, "coupling")))
		r, err := rig.Assemble(u, w, rig.Overall{}, "")
		if err != nil {
			t.Fatal(err)
		}
		labelsApart(t, decode(t, svgOf(t, r, r.Statics())))
	})
}

func TestSVGLabelsApartOfAll(t *testing.T) {
	for _, f := range rigs(t) {
		r, s := f()
		labelsApart(t, decode(t, svgOf(t, r, s)))
	}
}

func labelsApart(t failer, all []element) {
	t.Helper()
	type label struct{ left, right, top, foot float64 }
	var labels []label
	var words []string
	for _, e := range all {
		if e.name != "text" {
			continue
		}
		size := e.number(t, "font-size")
		wide := 0.58 * size * float64(len([]rune(e.words)))
		left := e.number(t, "x") + e.dx - wide*map[string]float64{"start": 0, "middle": 0.5, "end": 1}[e.attr["text-anchor"]]
		foot := e.number(t, "y") + e.dy
		labels, words = append(labels, label{left, left + wide, foot - 0.75*size, foot + 0.2*size}), append(words, e.words)
	}
	for i, a := range labels {
		for j, b := range labels[:i] {
			if a.left < b.right && b.left < a.right && a.top < b.foot && b.top < a.foot {
				t.Fatalf("%q lies on %q", words[i], words[j])
			}
		}
	}
}

// What would stick out is marked in the view in which it does: the chimney above in
// both, the steps to the left only from behind.
func TestSVGStrikes(t *testing.T) {
	r, s := inventedRig(t)
	p := newPlan(phrase.English(), r, s, false)
	if got, want := len(p.side.strikes), 6; got != want {
		t.Errorf("from the side %d, want %d", got, want)
	}
	if got, want := len(p.rear.strikes), 7; got != want {
		t.Errorf("from behind %d, want %d", got, want)
	}
	marks := 0
	for _, e := range decode(t, svgOf(t, r, s)) {
		if e.name == "polyline" && e.words == "sticks out if forgotten" {
			marks++
		}
	}
	if marks != 13 {
		t.Errorf("%d marks, want 13", marks)
	}
}

// The quartered circle lies at the likely centre, the bars from end to end.
func TestSVGCentre(t *testing.T) {
	c := newCanvas(phrase.English(), 100)
	c.gravity(&gravity{x: reach{at(5), at(6), at(6.5)}, up: &reach{at(1), at(1.5), at(1.8)}}, rect{})
	all := decode(t, []byte("<g>"+c.shapes.String()+"</g>"))
	near(t, "x", all[1].number(t, "cx"), 6000)
	near(t, "y", all[1].number(t, "cy"), -1500)
	var along, upward bool
	for _, e := range all {
		along = along || e.attr["points"] == "5000,-1380 6500,-1380"
		upward = upward || e.attr["points"] == "6120,-1000 6120,-1800"
	}
	if !along || !upward {
		t.Errorf("bars: along %v, upward %v", along, upward)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestErrors(t *testing.T) {
	r, s := smallRig(t)
	if err := SVG(broken{}, phrase.English(), r, s, false); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("SVG: %v", err)
	}
	if err := Text(broken{}, phrase.English(), r, s, 0, false); !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("Text: %v", err)
	}
	for _, columns := range []int{-1, 1, 39} {
		if err := Text(io.Discard, phrase.English(), r, s, columns, false); !errors.Is(err, ErrColumns) {
			t.Errorf("%d columns: %v", columns, err)
		}
	}
}

func BenchmarkSVG(b *testing.B) {
	r, s := inventedRig(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := SVG(io.Discard, phrase.English(), r, s, true); err != nil {
			b.Fatal(err)
		}
	}
}

// A lower side that is not known is not drawn, and what only stands while the unit
// stands lies in front of the wheels.
func TestSVGOrder(t *testing.T) {
	r, s := inventedRig(t)
	cab, wheel, steps := 0, 0, 0
	for i, e := range decode(t, svgOf(t, r, s)) {
		switch {
		case e.name == "title": // the shape around it has its words too
		case e.words == "cab of the tow vehicle":
			cab = i
			if want := "-4700,0 -4700,-2050 -1100,-2050 -1100,0"; e.name != "polyline" || e.attr["points"] != want {
				t.Errorf("cab %v, want a line %s", e, want)
			}
		case e.name == "circle" && e.attr["r"] == "380":
			wheel = i
		case e.words == "steps" && steps == 0:
			steps = i
		}
	}
	if !(0 < cab && cab < wheel && wheel < steps) {
		t.Errorf("cab %d, last wheel %d, steps %d", cab, wheel, steps)
	}
}
