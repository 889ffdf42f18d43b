package parts

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

func shippedBytes(t testing.TB) []byte {
	t.Helper()
	raw, err := data.Files.ReadFile("parts/parts.csv")
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func shipped(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Read(shippedBytes(t))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestFind(t *testing.T) {
	c, err := Read(csvOf(t, record(map[string]string{"id": "b"}), record(map[string]string{"id": "a", "name": "another"})))
	if err != nil {
		t.Fatal(err)
	}
	if r, ok := c.Find("a"); !ok || r.ID != "a" || r.Name != "another" {
		t.Errorf("a: %+v, %v", r, ok)
	}
	for _, id := range []string{"", "c", "A", " a", "a "} {
		if r, ok := c.Find(id); ok || r != (Entry{}) {
			t.Errorf("%q: %+v", id, r)
		}
	}
	if got := c.Near(" "); got != nil { // "a" is one letter away from nothing
		t.Errorf("near nothing: %q", got)
	}
	all := c.All()
	if len(all) != 2 || all[0].ID != "b" || all[1].ID != "a" {
		t.Errorf("all: %+v", all)
	}
	all[0].ID = "changed"
	if c.All()[0].ID != "b" {
		t.Error("a caller changes the catalogue")
	}
}

func TestReadBad(t *testing.T) {
	good := string(csvOf(t, record(nil)))
	for name, tc := range map[string]struct{ raw, says string }{
		"nothing":             {"", "parts: the file error.head_empty"},
		"another head":        {strings.Replace(good, "typical", "usual", 1), "parts: the file error.head_strange(columns: [usual]); fix.head(head: id,name,group,per,low,typical,high,layers,published,note,status"},
		"an id twice":         {string(csvOf(t, record(nil), record(nil))), "line 3, column id: \"a-part\" error.stands_twice"},
		"a layer not there":   {string(csvOf(t, layered("osb-9mm"))), "wall-of-layers.layers \"osb-9mm\": error.no_plain_entry"},
		"a layer in a layer":  {string(csvOf(t, layered("wall-of-layers"))), "wall-of-layers.layers \"wall-of-layers\": error.no_plain_entry"},
		"studs without space": {string(csvOf(t, stud(), layered("a-stud"))), "wall-of-layers.layers \"a-stud\": error.layer_without_size"},
		"studs with depth":    {string(csvOf(t, stud(), layered("a-stud 89 mm"))), "wall-of-layers.layers \"a-stud\": error.layer_without_size"},
		"a size in words":     {string(csvOf(t, stud(), layered("a-stud every foot"))), "wall-of-layers.layers \"a-stud every foot\": error.and_fix(problem: error.not_a"},
		"lighter than layers": {string(csvOf(t, record(map[string]string{"id": "b", "typical": "3 kg"}), layeredAtMost("b", "2 kg"))), "error.below_its_layers"},
		"a cell less":         {strings.TrimSuffix(good, ",\n") + "\n", "parse_error.fields"},
	} {
		if c, err := Read([]byte(tc.raw)); c != nil || err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v, want %q", name, err, tc.says)
		}
	}
}

// stud is a part by the metre, layered and layeredAtMost are rows of layers.
func stud() rows.Record { return record(map[string]string{"id": "a-stud", "per": "m"}) }

func layered(of string) rows.Record { return layeredAtMost(of, "") }

func layeredAtMost(of, high string) rows.Record {
	return record(map[string]string{"id": "wall-of-layers", "low": "", "typical": "", "high": high, "layers": of})
}

// What is stated above the layers is the high end, else it is theirs; the framing
// counts 1.1 for each spacing.
func TestLayered(t *testing.T) {
	for _, tc := range []struct {
		layers, high string
		want         [3]measure.Mass
	}{
		{"a-part", "", [3]measure.Mass{1, 2, 3}},
		{"a-part; a-part", "7 kg", [3]measure.Mass{2, 4, 7}},
		{"a-part; a-part", "5 kg", [3]measure.Mass{2, 4, 6}},
		{"a-stud every 110 mm", "", [3]measure.Mass{10, 20, 30}},
	} {
		c, err := Read(csvOf(t, layeredAtMost(tc.layers, tc.high), record(nil), stud()))
		if err != nil {
			t.Fatal(err)
		}
		r := part(t, c, "wall-of-layers")
		for i, got := range []measure.Mass{r.Low, r.Typical, r.High} {
			if got != tc.want[i]*measure.Kilogram {
				t.Errorf("%s: end %d is %v, want %d kg", tc.layers, i, got, tc.want[i])
			}
		}
	}
}

// The same bytes give the same revision, others another.
func TestRevision(t *testing.T) {
	one, again, other := csvOf(t, record(nil)), csvOf(t, record(nil)), csvOf(t, record(map[string]string{"high": "4 kg"}))
	revision := func(raw []byte) string {
		c, err := Read(raw)
		if err != nil {
			t.Fatal(err)
		}
		return c.Revision
	}
	if a, b := revision(one), revision(again); a != b || len(a) != 12 {
		t.Errorf("%q and %q", a, b)
	}
	if a, b := revision(one), revision(other); a == b {
		t.Errorf("twice %q", a)
	}
}

func TestNear(t *testing.T) {
	c := shipped(t)
	for _, tc := range []struct {
		asked string
		want  []string
	}{
		{"refridgerator", []string{"refrigerator"}},
		{"Wall 2x4 Bare", []string{"wall-2x4-bare", "wall-2x6-bare"}},
		{"wall_2x6_bear", []string{"wall-2x6-bare", "wall-2x4-bare"}},
		{"WALL 2X4 BARE", []string{"wall-2x4-bare", "wall-2x6-bare"}},
		{"wall_2x4_bear", []string{"wall-2x4-bare", "wall-2x6-bare"}},
		{"glazing-dubble-3mm", []string{"glazing-double-3mm"}},
		{"plywood", []string{"plywood-birch", "plywood-spruce", "plywood-softwood", "plywood-softwood-12mm"}},
		{"steel stud", []string{"stud-steel-92-18mil", "stud-steel-92-33mil"}},
		{"osb-11", []string{"osb-11mm"}},
		{"zzzzzzzz", nil},
		{"plywood-of-gold", nil},
		{"", nil},
		{" -- ", nil},
		{"steel" + strings.Repeat(" ", longest-5), []string{"steel"}},
		{"steel" + strings.Repeat(" ", longest-4), nil},
	} {
		if got := c.Near(tc.asked); !slices.Equal(got, tc.want) {
			t.Errorf("%q: %q, want %q", tc.asked, got, tc.want)
		}
	}
	if got := c.Near("3mm"); len(got) != 3 {
		t.Errorf("3mm: %q", got)
	}
	if got := c.Near("wood"); len(got) != mostNear {
		t.Errorf("wood: %q, want %d", got, mostNear)
	}
}

// One letter wrong anywhere still finds the part, first or beside others as
// close.
func TestNearOneSlip(t *testing.T) {
	c := shipped(t)
	all := c.All()
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.SampledFrom(all).Draw(t, "part").ID
		at := rapid.IntRange(0, len(id)-1).Draw(t, "at")
		asked := id[:at] + "q" + id[at+1:]
		got := c.Near(asked)
		if !slices.Contains(got, id) {
			t.Fatalf("%q: %q", asked, got)
		}
		for _, g := range got {
			if _, ok := c.Find(g); !ok {
				t.Fatalf("%q is suggested and is not there", g)
			}
		}
	})
}

// All or nothing, and what is read holds what the package says of a row.
func FuzzRead(f *testing.F) {
	f.Add([]byte(strings.Join(strings.SplitAfter(string(shippedBytes(f)), "\n")[:4], ""))) // all of it is slow to cut down
	f.Add(csvOf(f, record(nil), record(map[string]string{"id": "b", "low": "1/2 in", "note": "two\nlines"})))
	f.Add(csvOf(f, record(map[string]string{"low": "1 lb", "typical": "1 lb", "high": "0.5 t", "status": "verified", "published": "1 lb"})))
	f.Fuzz(func(t *testing.T, raw []byte) {
		c, err := Read(raw)
		if err != nil {
			if c != nil {
				t.Fatalf("a catalogue beside %v", err)
			}
			return
		}
		var records []rows.Record
		if records, err = Table().Records(raw); err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := Table().WriteCSV(&out, records); err != nil {
			t.Fatal(err)
		}
		again, err := Read(out.Bytes())
		if err != nil || !slices.Equal(again.All(), c.All()) {
			t.Fatalf("it comes back otherwise: %v", err)
		}
		for _, r := range c.All() {
			found, ok := c.Find(r.ID)
			if !ok || found != r || !(0 < r.Low && r.Low <= r.Typical && r.Typical <= r.High && r.High <= measure.MaxMass) || r.Source == "" {
				t.Fatalf("%+v", r)
			}
			if low, typical, high, err := r.Mass(1); err != nil || high < typical || typical < low || low <= 0 {
				t.Fatalf("%+v weighs %d, %d, %d, %v", r, low, typical, high, err)
			}
			c.Near(r.ID + "x")
		}
	})
}

func ExampleRead() {
	raw, err := data.Files.ReadFile("parts/parts.csv")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := Read(raw)
	if err != nil {
		fmt.Println(err)
		return
	}
	wall, ok := c.Find("wall-2x4-lap-wood")
	if !ok {
		fmt.Println("did you mean", c.Near("wall-2x4-lap-wood"))
		return
	}
	low, typical, high, err := wall.Mass(52.6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("designed for", wall.Published, "and likely, per", wall.Per, wall.Typical)
	fmt.Println("52.6", wall.Per, "weigh", typical, "from", low.Metric(), "to", high.Metric())
	fmt.Println(wall.Status)
	// Output:
	// designed for 8 psf and likely, per m2 ≈ 28 kg (≈ 62 lb)
	// 52.6 m2 weigh ≈ 1470.4 kg (≈ 3,242 lb) from ≈ 1314.1 kg to ≈ 2054.5 kg
	// secondary
}

func BenchmarkRead(b *testing.B) {
	raw := shippedBytes(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(raw); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNear(b *testing.B) {
	c := shipped(b)
	b.ReportAllocs()
	for b.Loop() {
		if len(c.Near("wall-2x4-lapwood")) == 0 {
			b.Fatal("nothing")
		}
	}
}
