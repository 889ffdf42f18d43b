package paper

import (
	"bytes"
	"context"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
	"golang.org/x/text/language"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/regs/store"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/timetable"
	"wayhouse/testdata/english"
	"wayhouse/testdata/needs"
)

var update = flag.Bool("update", false, "write the goldens of the papers anew")

const example = "../../data/example/"

func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

var known = sync.OnceValue(func() *service.Service {
	tables := must(store.Shipped())
	open := func(name string) []byte { return must(data.Files.ReadFile(name)) }
	areas := must(area.Read(open("areas/jurisdictions.bin")))
	p := must(trip.New(context.Background(), must(network.Read(open("roads/network.wayroads"))), areas, tables))
	return &service.Service{Planner: p, Places: must(place.Read(open("places/places.csv"), areas.Called)), Clock: noon}
})

// exampleTrip is the request of data/example, changed by a function.
func exampleTrip(change func(*wire.TripRequest)) wire.TripRequest {
	read := func(name string, into any) {
		if err := yaml.Unmarshal(must(os.ReadFile(example+name)), into); err != nil {
			panic(err)
		}
	}
	q := wire.TripRequest{
		Name: "Thimmerel to its first summer", Invented: true, Depart: "2027-05-11T08:00",
		Stops:         []wire.StopRequest{{Place: "Perth, ON"}, {Place: "Sorel-Tracy, QC"}},
		StructuresCSV: string(must(os.ReadFile(example + "structures.csv"))),
	}
	read("unit.yaml", &q.Unit)
	read("tow.yaml", &q.Tow)
	if change != nil {
		change(&q)
	}
	return q
}

// planned plans the example.
func planned(t testing.TB, change func(*wire.TripRequest)) *trip.Plan {
	t.Helper()
	p, err := known().Plan(t.Context(), wire.Asked[wire.TripRequest]{Said: exampleTrip(change)})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func printed(tag language.Tag, units measure.System) Print {
	return Print{In: phrase.In(tag, units), On: Sizes()[0], At: noon()}
}

// words are the words of an HTML document as they are read, a line for each block. The
// document is read by the parser of golang.org/x/net/html, as browsers read one (WHATWG
// HTML, section 13.2).
func words(t testing.TB, doc []byte) string {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(doc))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	breaks := []atom.Atom{atom.P, atom.Tr, atom.H2, atom.Li, atom.Dd, atom.Header, atom.Footer}
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch {
		case n.Type == html.TextNode && strings.TrimSpace(n.Data) != "":
			b.WriteString(n.Data)
		case n.DataAtom == atom.Style || n.DataAtom == atom.Title:
			return
		case n.DataAtom == atom.H2:
			b.WriteString("\n# ")
		case n.DataAtom == atom.Li:
			b.WriteString("- ")
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
		switch {
		case slices.Contains(breaks, n.DataAtom):
			b.WriteString("\n")
		case slices.Contains([]atom.Atom{atom.Td, atom.Th, atom.Dt, atom.B, atom.Strong}, n.DataAtom):
			b.WriteString(" | ")
		}
	}
	walk(root)
	return b.String()
}

func htmlOf(t testing.TB, docs ...Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, Sizes()[0], noon(), docs); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pdfOf(t testing.TB, docs ...Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := PDF(&b, Sizes()[0], noon(), docs); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The papers of the example are as they were looked at: their words, in both languages.
func TestExamplePapers(t *testing.T) {
	p := planned(t, nil)
	revisions := strings.NewReplacer(p.Tables, "TABLES", p.About.Revision, "ROADS") // which change each day
	theirs := append(untranslated(), p.Name)
	for _, m := range p.Rig.Unit.Movables {
		theirs = append(theirs, m.Check)
	}
	for _, tag := range phrase.Languages() {
		for _, d := range OfTrip(printed(tag, measure.Both), p) {
			golden := "../../testdata/paper-" + d.Name() + "." + tag.String() + ".txt"
			got := revisions.Replace(words(t, htmlOf(t, d)))
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(must(os.ReadFile(golden))), got); diff != "" {
				t.Errorf("%s:\n%s", golden, diff)
			}
			if tag == language.French {
				if said := english.In(got, theirs...); said != "" {
					t.Errorf("%s has English: %s", d.Name(), said)
				}
			}
		}
	}
}

// squeezed is a text without what lays it out.
func squeezed(s string) string {
	return strings.Join(
		strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" |\n\f\u00a0\u202f", r) }),
		"",
	)
}

// A PDF has the words of its HTML, in the letters of a reader of its own (pdftotext of
// poppler), and no "?" in the place of one.
func TestPDFHasTheSameWords(t *testing.T) {
	needs.Require(t, needs.Poppler)
	p := planned(t, nil)
	for _, tag := range phrase.Languages() {
		for _, d := range OfTrip(printed(tag, measure.Both), p) {
			file := filepath.Join(t.TempDir(), "paper.pdf")
			if err := os.WriteFile(file, pdfOf(t, d), 0o644); err != nil {
				t.Fatal(err)
			}
			text := squeezed(string(must(exec.Command("pdftotext", "-raw", file, "-").Output())))
			for _, b := range d.Blocks {
				for _, want := range wordsOf(b) {
					for _, word := range strings.Fields(want) {
						if !strings.Contains(text, squeezed(word)) {
							t.Errorf("%s in %v: no %q", d.Name(), tag, word)
						}
					}
				}
			}
			for _, s := range slices.Concat(d.Foot, d.Marks) {
				pages := strings.Count(text, squeezed(d.Title+d.About))
				if pages == 0 && d.Title != "" {
					pages = 1
				}
				if n := strings.Count(text, squeezed(s)); n < pages {
					t.Errorf("%s in %v: %q is on %d of %d pages", d.Name(), tag, s, n, pages)
				}
			}
		}
	}
}

// wordsOf are the texts of a block.
func wordsOf(b Block) (out []string) {
	switch b := b.(type) {
	case Heading:
		return []string{string(b)}
	case Text:
		return []string{b.Says}
	case List:
		return b.Items
	case Fields:
		for _, f := range b {
			out = append(out, f.Label, f.Value)
		}
	case Table:
		out = slices.Clone(b.Heads)
		for _, r := range b.Rows {
			out = append(out, r.Cells...)
		}
	}
	return out
}

// A move turns as far as the line of the way does on the ground, and moves follow each
// other to the end of the way. The bearings are those of the line, on the ellipsoid; what
// is drawn within 30 m of a corner is left to the hand that drew it.
func TestMovesTurnAsTheLineDoes(t *testing.T) {
	p := planned(t, nil)
	var line orb.LineString
	for _, l := range p.Legs {
		line = append(line, l.Line...)
	}
	point := func(at measure.Distance) orb.Point {
		for i := 1; i < len(line); i++ {
			d := geodesic.Between(line[i-1], line[i])
			if at <= d && d > 0 {
				part := float64(at / d)
				return orb.Point{line[i-1][0] + part*(line[i][0]-line[i-1][0]), line[i-1][1] + part*(line[i][1]-line[i-1][1])}
			}
			at -= d
		}
		return line[len(line)-1]
	}
	var next measure.Distance
	compared := 0
	for i, m := range p.Road.Moves {
		if i > 0 && math.Abs(float64(m.At-next)) > 1 {
			t.Errorf("%v after the start, and the one before goes on until %v", m.At, next)
		}
		next = m.At + m.Far
		if i == 0 || m.Far < 30 || p.Road.Moves[i-1].Far < 30 || m.Turn == 0 {
			continue
		}
		in := geodesic.Bearing(point(m.At-30), m.Point)
		out := geodesic.Bearing(m.Point, point(m.At+30))
		if turn := math.Remainder(out-in, 360); math.Abs(math.Remainder(turn-m.Turn, 360)) > 8 {
			t.Errorf("%v after the start: told as %.0f degrees, drawn as %.0f", m.At, m.Turn, turn)
		}
		compared++
	}
	if math.Abs(float64(next-p.Length)) > 1 || compared < 8 {
		t.Errorf("the last goes on until %v of %v; %d compared", next, p.Length, compared)
	}
}

// A trip of several days has each day with its own part of the way: every turn stands once,
// in order, on the day on which the timetable drives past it.
func TestDaysHaveTheirTurns(t *testing.T) {
	p := planned(t, func(q *wire.TripRequest) {
		q.Use = "commercial"
		q.Stops = []wire.StopRequest{
			{Place: "Perth, ON"},
			{Place: "Cornwall, ON", VisitRequest: wire.VisitRequest{Until: "2027-05-15T08:00"}},
			{Place: "Sorel-Tracy, QC"},
		}
		q.Depart = "2027-05-14T08:00"
	})
	if p.Timetable == nil || len(p.Timetable.Days) < 2 {
		t.Fatalf("%+v", p.Timetable)
	}
	m := printed(language.English, measure.Both).ofTrip(RouteSheet, p)
	days := m.days(p)
	if len(days) != len(p.Timetable.Days) {
		t.Fatalf("%d days of %d", len(days), len(p.Timetable.Days))
	}
	marks, before := 0, measure.Distance(0)
	for i, d := range days {
		var from, until measure.Distance = p.Length, 0
		for _, e := range p.Timetable.On(p.Timetable.Days[i]) {
			if e.Kind == timetable.Driving {
				from, until = min(from, e.Begins), max(until, e.Ends)
			}
		}
		for _, one := range d.marks {
			if one.at < before || one.at < from-1 || one.at > until+1 {
				t.Errorf("day %d, which drives from %v to %v, has %q after %v", i+1, from, until, m.say(one.says), one.at)
			}
			before = one.at
		}
		marks += len(d.marks)
	}
	if all := len(along(p)); marks != all {
		t.Errorf("%d marks on days, %d along the way", marks, all)
	}
}

// The same paper gives the same bytes.
func TestPDFIsTheSameAgain(t *testing.T) {
	p := planned(t, nil)
	docs := OfTrip(printed(language.English, measure.Metric), p)
	if !bytes.Equal(pdfOf(t, docs...), pdfOf(t, docs...)) {
		t.Error("two PDFs of the same papers differ")
	}
}
