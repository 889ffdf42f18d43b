package change_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/change"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// lines are an invented extract as osmium reads it: a line an element.
func lines(t testing.TB) []string {
	t.Helper()
	var opl bytes.Buffer
	if err := extracts.Grid(&opl, 9000, 7); err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSpace(opl.String()), "\n")
}

// built makes a network of an extract.
func built(t testing.TB, lines []string) *network.Network {
	t.Helper()
	needs.Require(t, needs.Osmium)
	dir := t.TempDir()
	opl, pbf := filepath.Join(dir, "a.opl"), filepath.Join(dir, "a.osm.pbf")
	if err := os.WriteFile(opl, []byte(strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	sorted := exec.Command("osmium", "sort", "-o", pbf, opl)
	if out, err := sorted.CombinedOutput(); err != nil {
		t.Fatalf("osmium: %v\n%s", err, out)
	}
	n, _, err := osm.Build(t.Context(), []string{pbf}, osm.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// edited changes the first line that a pattern finds, and returns the id of its element.
func edited(t testing.TB, lines []string, pattern string, edit func(line string) string) string {
	t.Helper()
	find := regexp.MustCompile(pattern)
	i := slices.IndexFunc(lines, find.MatchString)
	if i < 0 {
		t.Fatalf("no line is like %s", pattern)
	}
	id, _, _ := strings.Cut(lines[i], " ")
	lines[i] = edit(lines[i])
	return id
}

func replaced(old, new string) func(string) string {
	return func(line string) string { return strings.Replace(line, old, new, 1) }
}

// of says a change by its kind, what became of it and its element.
func of(c change.Change) string {
	return fmt.Sprintf("%s %s %s%d %v>%v", c.Kind, c.How, c.Element.Type[:1], c.Element.ID, c.Before, c.After)
}

// Every edit of a copy of an extract is found by its element, and nothing else is: roads
// that were cut, joined or got another id stay the same roads.
func TestBetween(t *testing.T) {
	older := lines(t)
	newer := slices.Clone(older)
	var want []string
	add := func(format string, args ...any) { want = append(want, fmt.Sprintf(format, args...)) }

	// Values.
	add("limit changed %s [4.1]>[3.9]", edited(t, newer, `^w.*maxheight=4\.1`, replaced("maxheight=4.1", "maxheight=3.9")))
	add("limit gone %s [7.5]>[]", edited(t, newer, `^w.*maxweight=7\.5`, replaced(",maxweight=7.5", "")))
	add(
		"limit added %s []>[10]",
		edited(
			t,
			newer,
			`^w.*highway=residential N`,
			replaced("highway=residential N", "highway=residential,maxweight=10 N"),
		),
	)
	add("closure gone %s [change.word(word: destination only)]>[]",
		edited(t, newer, `^w.*access=destination`, replaced(",access=destination", "")))
	add("direction gone %s [change.one_way]>[]", edited(t, newer, `^w.*oneway=yes N`, replaced(",oneway=yes", "")))

	// Elements.
	add("road gone %s []>[]", edited(t, newer, `^w.*highway=residential N`, func(string) string { return "" }))
	gone := edited(t, newer, `^r`, func(string) string { return "" })
	add("turn_rule gone %s []>[]", gone)
	newer = append(newer, "n900001 v1 x-79.9 y39.99", "n900002 v1 x-79.9 y39.98",
		"w900001 v1 Thighway=residential,name=New%20%Street Nn900001,n900002")
	add("road added w900001 []>[]")
	newer = slices.DeleteFunc(newer, func(line string) bool { return line == "" })

	// What is the same at its place: another id, and two halves.
	edited(
		t,
		newer,
		`^w.*highway=primary`,
		func(line string) string { return "w800001" + line[strings.Index(line, " "):] },
	)
	edited(t, newer, `^w.*highway=trunk`, func(line string) string { return "w800002" + line[strings.Index(line, " "):] })
	var half string
	edited(t, newer, `^w.*highway=residential N`, func(line string) string {
		head, refs, _ := strings.Cut(line, " N")
		nodes := strings.Split(refs, ",")
		tags := head[strings.Index(head, " "):]
		half = "w800003" + tags + " N" + strings.Join(nodes[6:], ",")
		return head + " N" + strings.Join(nodes[:7], ",")
	})
	newer = append(newer, half)

	var got []string
	a, b := built(t, older), built(t, newer)
	changes := change.Between(a, b)
	for _, c := range changes {
		got = append(got, of(c))
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
	if same := change.Between(a, a); len(same) > 0 {
		t.Errorf("a network differs from itself: %v", same)
	}
	back := change.Between(b, a)
	if len(back) != len(changes) {
		t.Errorf("%d changes there, %d back", len(changes), len(back))
	}
	counts := change.Counts(changes)
	if len(counts) != 5 || counts[0] != (change.Count{Kind: change.Limit, Gone: 1, Altered: 1, Added: 1}) {
		t.Errorf("%+v", counts)
	}
	for _, c := range changes {
		way := orb.LineString{{c.Point.Lon(), c.Point.Lat() - 0.002}, {c.Point.Lon() + 0.001, c.Point.Lat() - 0.002}}
		trips := []change.Trip{{Name: "near", Ways: []orb.LineString{way}}, {Name: "nowhere"}}
		if far := change.Along([]change.Change{c}, trips, 200); len(far) > 0 {
			t.Errorf("%s lies within 200 m of a way 222 m off", of(c))
		}
		near := change.Along([]change.Change{c}, trips, 230)
		if len(near) != 1 || !slices.Equal(near[0].Trips, []string{"near"}) {
			t.Errorf("%s does not lie within 230 m of a way 222 m off", of(c))
		}
		if len(change.Of(near, "near")) != 1 || len(change.Of(near, "nowhere")) != 0 {
			t.Errorf("%s is not of the trip that is near it alone", of(c))
		}
	}
}

// A new line over a road is a new structure, a height on what is under it a change of it.
func TestStructures(t *testing.T) {
	older := lines(t)
	newer := append(slices.Clone(older), "n900001 v1 x-79.9990 y39.9995", "n900002 v1 x-79.9990 y40.0005",
		"w900001 v1 Tpower=line Nn900001,n900002")
	got := change.Between(built(t, older), built(t, newer))
	if len(got) == 0 {
		t.Fatal("a new power line is no change")
	}
	for _, c := range got {
		if c.Kind != change.Structure || c.How != change.Added || c.Element != (change.Element{Type: "way", ID: 900001}) {
			t.Errorf("%s", of(c))
		}
	}
}
