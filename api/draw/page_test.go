package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/draw/picture"
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
	if err := Rig(phrase.English(), r, s, true).SVG(&b); err != nil {
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
	middle := middleBehind(t, all, r.Unit.Outline[1])
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
				near(t, b.Name+" side", e.number(t, "x")-middle, -b.Left.Metres()*1000)
			}
			views++
		}
		if views != 2 {
			t.Errorf("%s is drawn in %d views, not 2", b.Name, views)
		}
	}
}

// middleBehind is where the middle line is in the rear view, by a box.
func middleBehind(t *testing.T, all []element, b rig.Box) (x float64) {
	for _, e := range all {
		if e.name == "rect" && e.words == b.Name { // the last of them
			x = e.number(t, "x") + b.Left.Metres()*1000
		}
	}
	return x
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
		if _, before := at[e.words]; e.name == "text" && !before { // those of the views come first
			at[e.words] = e.number(t, "x")
		}
	}
	if steps["1000"] != 5 || steps["1524"] != 4 {
		t.Errorf("steps %v, want 5 of 1000 mm and 4 of 1524 mm", steps)
	}
	near(t, "5 m", at["5 m"]-at["0"], 5000)
	near(t, "20 ft", at["20 ft"]-at["0"], 6096)
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

// Words never lie on words, and nothing lies beyond the page, whatever stands where.
func TestLabelsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRig(t)
		tag := rapid.SampledFrom(phrase.Languages()).Draw(t, "language")
		units := rapid.SampledFrom([]measure.System{measure.Both, measure.Metric, measure.Customary}).Draw(t, "units")
		tidy(t, Rig(phrase.In(tag, units), r, r.Statics(), true))
	})
}

// anyRig is a house with any running gear behind, or on, any tow vehicle.
func anyRig(t *rapid.T) rig.Rig {
	metres := func(low, high float64, name string) measure.Length {
		return at(rapid.Float64Range(low, high).Draw(t, name))
	}
	u, w := inventedUnit(), inventedTow()
	u.Coupling = rapid.SampledFrom(rig.Couplings()).Draw(t, "coupling")
	size := rapid.Float64Range(0.3, 2).Draw(t, "size")
	scaled := func(l measure.Length) measure.Length { return at(l.Metres() * size) }
	for i, b := range u.Outline {
		u.Outline[i] = rig.Box{Name: b.Name, From: scaled(b.From), To: scaled(b.To), Left: b.Left, Right: b.Right,
			Bottom: b.Bottom, Top: b.Top}
	}
	first, apart := metres(3.5*size, 7*size, "first axle"), metres(0.6, 1.2, "apart")
	n := rapid.IntRange(0, 5).Draw(t, "axles")
	axle := u.Frame.Axles[0]
	u.Frame.Axles = nil
	for i := range n {
		axle.At = first + measure.Length(i)*apart
		u.Frame.Axles = append(u.Frame.Axles, axle)
	}
	deck := metres(0.3, 4.05, "deck")
	u.Frame.Deck = &deck
	u.Frame.Movables = u.Frame.Movables[:rapid.IntRange(0, len(u.Frame.Movables)).Draw(t, "movables")]
	coupling := metres(3, 4.6, "coupling at")
	w.CouplingAt = &coupling
	if rapid.Bool().Draw(t, "bare") {
		w.CabToCoupling = nil
	}
	r, err := rig.Assemble(u, w, rig.Overall{}, "")
	if err != nil {
		t.Skip(err)
	}
	return r
}

func TestLabelsApartOfAll(t *testing.T) {
	for _, f := range rigs(t) {
		for _, units := range []measure.System{measure.Both, measure.Metric, measure.Customary} {
			for _, l := range phrase.Languages() {
				r, s := f()
				tidy(t, Rig(phrase.In(l, units), r, s, true))
			}
		}
	}
}

// tidy checks that no two labels of a picture have room in common, and that all marks
// lie on the page.
func tidy(t failer, p *picture.Picture) {
	t.Helper()
	labels := p.Labels()
	for i, a := range labels {
		for _, b := range labels[:i] {
			if a.Meets(b) {
				t.Fatalf("%q lies on %q", a.Text, b.Text)
			}
		}
	}
	var tags []picture.Mark
	for _, m := range p.Marks {
		if m.Kind != picture.Disc || m.Look.Fill != tagLook.Fill || m.Look.Width != tagLook.Width {
			continue
		}
		for _, o := range tags {
			if math.Hypot(m.At[0].X-o.At[0].X, m.At[0].Y-o.At[0].Y) <= m.Radius+o.Radius {
				t.Fatalf("the tag of %q touches that of %q", m.Name, o.Name)
			}
		}
		tags = append(tags, m)
	}
	corner, wide, high := p.Page()
	for _, l := range labels {
		if l.Left < corner.X || l.Top < corner.Y || l.Right > corner.X+wide || l.Foot > corner.Y+high {
			t.Fatalf("%q is not on the page", l.Text)
		}
	}
	for _, m := range p.Marks {
		for _, at := range m.At {
			if at.X-m.Radius < corner.X || at.Y-m.Radius < corner.Y || at.X+m.Radius > corner.X+wide ||
				at.Y+m.Radius > corner.Y+high {
				t.Fatalf("%v is not on the page", m)
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
func TestCentre(t *testing.T) {
	c := newCanvas(phrase.English(), 100)
	c.gravity(&gravity{x: reach{at(5), at(6), at(6.5)}, up: &reach{at(1), at(1.5), at(1.8)}}, rect{})
	if m := c.Marks[0]; m.Kind != picture.Disc || m.At[0] != (point{X: 6000, Y: -1500}) {
		t.Errorf("%v", m)
	}
	var along, upward bool
	for _, m := range c.Marks {
		along = along || slices.Equal(m.At, []point{{X: 5000, Y: -1380}, {X: 6500, Y: -1380}})
		upward = upward || slices.Equal(m.At, []point{{X: 6120, Y: -1000}, {X: 6120, Y: -1800}})
	}
	if !along || !upward {
		t.Errorf("bars: along %v, upward %v", along, upward)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestErrors(t *testing.T) {
	r, s := smallRig(t)
	if err := Rig(phrase.English(), r, s, false).SVG(broken{}); !errors.Is(err, io.ErrClosedPipe) {
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
		if err := Rig(phrase.English(), r, s, true).SVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

// A lower side that is not known is not drawn, and what only stands while the unit
// stands lies in front of the wheels.
func TestOrder(t *testing.T) {
	r, s := inventedRig(t)
	cab, wheel, steps := 0, 0, 0
	for i, m := range newPlan(phrase.English(), r, s, false).side.drawing(190).Marks {
		switch {
		case m.Name == "cab of the tow vehicle":
			cab = i
			if want := []point{{X: -4700}, {X: -4700, Y: -2050}, {X: -1100, Y: -2050}, {X: -1100}}; m.Kind != picture.Line ||
				!slices.Equal(m.At, want) {
				t.Errorf("cab %v, want a line %v", m, want)
			}
		case m.Kind == picture.Disc && m.Radius == 380:
			wheel = i
		case m.Name == "steps" && steps == 0:
			steps = i
		}
	}
	if !(0 < cab && cab < wheel && wheel < steps) {
		t.Errorf("cab %d, last wheel %d, steps %d", cab, wheel, steps)
	}
}
