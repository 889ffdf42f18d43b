package draw

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/api/draw/picture"
	"wayhouse/api/phrase"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
	passing "wayhouse/routing/trip/standing"
)

// standsOver is a structure at a distance from the start of its leg.
func standsOver(name string, at measure.Distance, posted *measure.Length, margin measure.Length, o finding.Outcome) passing.Passing {
	p := passing.Passing{Called: say.Text(name), At: at}
	p.Posted, p.Outcome, p.Known, p.Margin = posted, o, posted != nil, margin
	return p
}

// straight is a trip of one leg of 30 km.
func straight(structures ...passing.Passing) *trip.Plan {
	p := &trip.Plan{
		Rig: rig.Rig{Height: measure.Exactly(4 * measure.Metre)}, Length: 30_000, Passable: true, Road: &driving.Drive{},
		Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC),
	}
	p.Legs = []trip.Leg{{From: say.Text("A"), To: say.Text("B"), Length: 30_000, Structures: structures}}
	return p
}

func marksOf(p *picture.Picture, kind picture.Kind, like func(picture.Mark) bool) (out []picture.Mark) {
	for _, m := range p.Marks {
		if m.Kind == kind && like(m) {
			out = append(out, m)
		}
	}
	return out
}

// A row of 20 km is 72 letters of 100 units: 5 km into the second row are 1,800 units.
// A metre over the road is 90 units: a lintel at 4.5 m is 405 over it.
func TestStripPlaces(t *testing.T) {
	at := 4500 * measure.Millimetre
	p := Strip(phrase.English(), straight(standsOver("bridge", 25_000, &at, 300*measure.Millimetre, finding.Clear)), nil)
	posts := marksOf(p, picture.Line, func(m picture.Mark) bool {
		return len(m.At) == 4 && m.At[0].Y-m.At[1].Y > 300
	})
	if len(posts) != 1 || math.Abs(posts[0].At[0].X+50-1800) > 1e-6 || math.Abs(posts[0].At[0].Y-posts[0].At[1].Y-405) > 1e-6 {
		t.Errorf("%v", posts)
	}
	if n := len(marksOf(p, picture.Line, func(m picture.Mark) bool { return m.Look.Width == 0.35 })); n != 2 {
		t.Errorf("%d rows of road, want 2", n)
	}
}

// What has no figure is told as not known, also where there are many, and what shuts the
// way out is red.
func TestStripTells(t *testing.T) {
	low := 3900 * measure.Millimetre
	p := Strip(phrase.English(), straight(standsOver("culvert", 1000, nil, 0, finding.Unknown),
		standsOver("overpass", 5000, nil, 0, finding.Unknown), standsOver("gantry", 5100, nil, 0, finding.Unknown),
		standsOver("viaduct", 9000, &low, -300*measure.Millimetre, finding.Forbidden)), nil)
	var words []string
	for _, l := range p.Labels() {
		words = append(words, l.Text)
	}
	for _, want := range []string{
		"culvert: no figure, NOT KNOWN", "2 structures without a figure: NOT KNOWN", "viaduct: 3.9 m, 0.3 m TOO LOW, forbidden",
	} {
		if !slices.Contains(words, want) {
			t.Errorf("no %q in %q", want, words)
		}
	}
	if n := len(marksOf(p, picture.Line, func(m picture.Mark) bool { return m.Look.Stroke == red && len(m.At) == 4 })); n != 1 {
		t.Errorf("%d red lintels, want 1", n)
	}
}

// Whatever stands over a way of whatever length and names, labels keep off one another
// and within the page, and each structure is drawn or counted.
func TestAnyStrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := straight()
		p.Legs = nil
		p.Length = 0
		known := 0
		for i := range rapid.IntRange(1, 4).Draw(t, "legs") {
			l := trip.Leg{From: say.Text(anyName.Draw(t, "from")), To: say.Text(anyName.Draw(t, "to")),
				Length: measure.Distance(rapid.Float64Range(1, 900_000).Draw(t, "length")), Unmatched: i == 2}
			for _, share := range rapid.SliceOfN(rapid.Float64Range(0, 1), 0, 8).Draw(t, "structures") {
				var posted *measure.Length
				outcome := finding.Unknown
				if rapid.Bool().Draw(t, "posted") {
					posted, outcome, known = ptr(at(rapid.Float64Range(2, 6).Draw(t, "height"))), finding.Clear, known+1
				}
				l.Structures = append(l.Structures, standsOver(anyName.Draw(t, "name"), measure.Distance(share)*l.Length, posted, 0, outcome))
			}
			p.Length += l.Length
			p.Legs = append(p.Legs, l)
		}
		for range rapid.IntRange(0, 8).Draw(t, "corners") {
			k := driving.Corner{Turn: rapid.Float64Range(-170, 170).Draw(t, "turn"), Onto: say.Text(anyName.Draw(t, "onto"))}
			k.At = p.Length * measure.Distance(rapid.Float64Range(0, 1).Draw(t, "at"))
			p.Road.Corners = append(p.Road.Corners, k)
		}
		drawn := Strip(phrase.In(rapid.SampledFrom(phrase.Languages()).Draw(t, "language"), measure.Both), p, []string{"credit"})
		tidy(t, drawn)
		if n := len(marksOf(drawn, picture.Line, func(m picture.Mark) bool {
			return len(m.At) == 4 && m.Look.Stroke == ink && m.Look.Dash == nil
		})); n != known {
			t.Fatalf("%d lintels of %d that have a figure", n, known)
		}
	})
}

var anyName = rapid.StringMatching(`[A-Z][a-zé]{0,12}( [A-Za-zé]{1,12}){0,4}`)

// A strip in French says nothing in English.
func TestFrenchStrip(t *testing.T) {
	at := 4500 * measure.Millimetre
	p := straight(standsOver("pont", 25_000, &at, 300*measure.Millimetre, finding.Clear), standsOver("x", 2_000, nil, 0, finding.Unknown))
	p.Road.Corners = []driving.Corner{{Spot: driving.Spot{At: 100}, Turn: 90, Onto: say.Text("rue")}}
	p.Road.Climbs = []driving.Slope{{Length: 900, Grade: 0.06}}
	p.Road.Tank.Stops = []driving.Spot{{At: 9000}}
	var b bytes.Buffer
	if err := Strip(phrase.French(), p, nil).SVG(&b); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{" the ", " onto ", "climb", "right", "fuel", "NOT KNOWN"} {
		if strings.Contains(b.String(), word) {
			t.Errorf("%q in %s", word, b.String())
		}
	}
}
