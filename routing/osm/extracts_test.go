package osm_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

func networkOf(t *testing.T, paths ...string) (*network.Network, *osm.Report) {
	t.Helper()
	n, report, err := osm.Build(context.Background(), paths, osm.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return n, report
}

// built keeps what several tests read.
var built struct {
	sync.Once
	net    *network.Network
	report *osm.Report
}

func delawareNetwork(t *testing.T) (*network.Network, *osm.Report) {
	t.Helper()
	path := filepath.Join(extracts.Real(t), delaware)
	built.Do(func() { built.net, built.report = networkOf(t, path) })
	if built.net == nil {
		t.Fatal("the network was not built")
	}
	return built.net, built.report
}

// The counts of tagged ways in the extract of Delaware of 2016-08-10. Source:
// osmium tags-count, which the test runs again.
var delawareTags = []struct {
	tag  string // a key or key=value
	ways int
}{
	{"maxheight", 12},
	{"maxheight:physical", 17},
	{"maxweight", 7},
	{"hgv", 802},
	{"bridge", 1255},
	{"tunnel", 375},
	{"tunnel=culvert", 182},
}

func TestDelawareCounts(t *testing.T) {
	needs.Require(t, needs.Osmium)
	path := filepath.Join(extracts.Real(t), delaware)
	_, report := delawareNetwork(t)
	all := elements(t, path)

	equal := func(what string, got, want int) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %d, want %d", what, got, want)
		}
	}
	for _, row := range delawareTags {
		equal(row.tag+" in the report", report.Tagged[row.tag], row.ways)
		equal(row.tag+" by osmium tags-count", tagCount(t, path, row.tag), row.ways)
		equal(row.tag+" by osmium cat", countIf(all, 'w', row.tag), row.ways)
	}

	const ways, relations, restrictions, plain = 73_144, 1644, 543, 542
	equal("ways in the report", report.Elements["ways"], ways)
	equal("ways by osmium cat", countIf(all, 'w', ""), ways)
	equal("relations in the report", report.Elements["relations"], relations)
	equal("relations by osmium cat", countIf(all, 'r', ""), relations)

	equal("restrictions in the report", report.Turns.Relations, restrictions)
	equal("restrictions by osmium cat", countIf(all, 'r', "type=restriction"), restrictions)
	filtered := osmium(t, "tags-filter", "-R", "-f", "opl", "-o", "-", path, "r/type=restriction")
	equal("restrictions by osmium tags-filter", bytes.Count(filtered, []byte("\n")), restrictions)

	both := 0
	for _, e := range all {
		if e.kind == 'r' && e.tags["type"] == "restriction" && e.tags["restriction"] != "" {
			both++
		}
	}
	equal("plain restrictions in the report", report.Turns.Plain, plain)
	equal("plain restrictions by osmium cat", both, plain)
}

// tagCount asks osmium on how many ways a tag is.
func tagCount(t *testing.T, path, tag string) int {
	t.Helper()
	line := strings.TrimSpace(string(osmium(t, "tags-count", "-t", "way", path, tag)))
	number, _, _ := strings.Cut(line, "\t")
	n, err := strconv.Atoi(number)
	if err != nil || strings.Contains(line, "\n") {
		t.Fatalf("osmium tags-count of %s: %q", tag, line)
	}
	return n
}

// countIf counts the elements of a kind with a key, or key=value; "" is any.
func countIf(all []oplElement, kind byte, tag string) (n int) {
	key, value, exact := strings.Cut(tag, "=")
	for _, e := range all {
		v, ok := e.tags[key]
		if e.kind == kind && (tag == "" || ok && (!exact || v == value)) {
			n++
		}
	}
	return n
}

// Every road of the extract is in the network, with its class, its length and
// what is over it, and nothing else is.
func TestDelawareRoads(t *testing.T) {
	needs.Require(t, needs.Osmium)
	n, report := delawareNetwork(t)
	all := elements(t, filepath.Join(extracts.Real(t), delaware))

	// What became of each way.
	type road struct {
		metres  float64
		edges   int
		tunnels int
		name    string
	}
	roads := map[int64]*road{}
	overhead := map[int64]network.Kind{} // ways that are something over a road
	tunnels := 0
	for e := range network.EdgeID(n.Edges()) {
		id := n.Origin(e)
		r := roads[id]
		if r == nil {
			r = &road{name: n.Class[e].String()}
			roads[id] = r
		}
		if n.Record(n.RoadID(e)).Flags.Has(network.Link) {
			r.name = n.Class[e].String() + " link"
		}
		r.metres += float64(n.Length[e])
		r.edges++
		for _, s := range n.Spots(e) {
			if s.OnNode == 0 && s.Kind.Overhead() {
				overhead[s.OSM] = s.Kind
			}
			if s.Kind == network.Tunnel {
				tunnels++
				r.tunnels++
				if s.OSM != id {
					t.Errorf("way %d lies in the tunnel of way %d", id, s.OSM)
				}
			}
		}
	}

	at := map[int64]orb.Point{}
	var counted, became = map[string]int{}, map[string]int{}
	wanted, tunnelRoads, tunnelEdges, culverts := 0, 0, 0, 0
	for _, e := range all {
		if e.kind == 'n' {
			at[e.id] = e.point
			continue
		}
		if e.tags["tunnel"] == "culvert" && e.kind == 'w' {
			culverts++
			if kind, ok := overhead[e.id]; ok {
				t.Errorf("way %d is a culvert and became a %v", e.id, kind)
			}
		}
		highway, ok := e.drivable()
		r := roads[e.id]
		if !ok {
			if e.kind == 'w' && r != nil {
				t.Errorf("way %d is no road and became %d edges", e.id, r.edges)
			}
			continue
		}
		wanted++
		counted[highway]++
		if r == nil {
			t.Errorf("way %d, a %s, is lost", e.id, highway)
			continue
		}
		if r.name == networkName(highway) {
			became[highway]++
		} else {
			t.Errorf("way %d is a %s and became a %s", e.id, highway, r.name)
		}
		line := make([]orb.Point, len(e.refs))
		for i, ref := range e.refs {
			line[i] = at[ref]
		}
		// Below a few metres what counts is the error of one geodesic, 15 nm.
		if want := float64(geodesic.Length(line)); math.Abs(r.metres-want) > max(1e-9*want, 15e-9) {
			t.Errorf("way %d: edges of %.10f m, the way has %.10f m", e.id, r.metres, want)
		}
		if inTunnel(e.tags["tunnel"]) {
			tunnelRoads++
			tunnelEdges += r.edges
			if r.tunnels != r.edges {
				t.Errorf("way %d: %d edges in a tunnel, %d tunnels", e.id, r.edges, r.tunnels)
			}
		} else if r.tunnels > 0 {
			t.Errorf("way %d, tunnel=%q: %d tunnels", e.id, e.tags["tunnel"], r.tunnels)
		}
	}
	for highway, want := range counted {
		if became[highway] != want {
			t.Errorf("highway=%s: %d ways, %d became such roads", highway, want, became[highway])
		}
	}
	if report.Roads != wanted || len(roads) != wanted || report.Edges != n.Edges() || report.MissingNodes != 0 {
		t.Errorf("%d roads in the report, %d in the network, %d in the extract; %d edges in the report, %d in the network; %d nodes missing",
			report.Roads, len(roads), wanted, report.Edges, n.Edges(), report.MissingNodes)
	}
	if tunnels != tunnelEdges || report.Structures[network.Tunnel.String()] != tunnelEdges {
		t.Errorf("%d tunnels, %d in the report; %d roads with %d edges are in one", tunnels, report.Structures[network.Tunnel.String()], tunnelRoads, tunnelEdges)
	}
	// The tests of tunnels and culverts must have met some.
	if culverts != 182 || tunnelRoads == 0 || len(overhead) == 0 {
		t.Errorf("%d culverts, %d roads in tunnels, %d ways over roads", culverts, tunnelRoads, len(overhead))
	}
	t.Logf("%d roads, %d of them in tunnels with %d edges: %v", wanted, tunnelRoads, tunnelEdges, counted)
}

// networkName is how TestDelawareRoads names what a value of highway becomes.
func networkName(highway string) string {
	if highway == "ferry" {
		return network.Ferry.String()
	}
	name := classes[highway].String()
	if strings.HasSuffix(highway, "_link") {
		name += " link"
	}
	return name
}

// inTunnel tells whether a road is under ground. Source: OpenStreetMap wiki,
// Key:tunnel: a culvert leads water under the road, a passage leads through a
// building and an avalanche protector is a roof.
func inTunnel(tunnel string) bool {
	return !slices.Contains([]string{"", "no", "culvert", "building_passage", "avalanche_protector"}, tunnel)
}

// describe tells all that a network holds of its edges, bans and places, in
// words: the numbers of its tables may differ from one reading to the next.
// rounded tells it to 1e-7 degrees, in which the source gives its points, and
// to whole centimetres, for which the last bits of a point do not matter.
func describe(n *network.Network, rounded bool) []string {
	point, metres := "%v", "%v"
	if rounded {
		point, metres = "%.7f", "%.2f"
	}
	records := make([]string, n.Roads())
	for i := range records {
		r := n.Record(network.RoadID(i))
		var b strings.Builder
		fmt.Fprintf(&b, "%b %d %d %d", r.Flags, r.Lanes, r.Paved, int64(r.Width))
		for _, id := range []network.StringID{r.Surface, r.Smoothness, r.Tracktype, r.Incline, r.Operator, r.Ownership, r.Signed} {
			fmt.Fprintf(&b, " %q", n.Text(id))
		}
		for _, s := range r.Signs {
			fmt.Fprintf(&b, " [%v %v %v %v %v %d %q %q]", s.Subject, s.For, s.Bound, s.Word, s.State, s.Value, n.Text(s.Text), n.Text(s.When))
		}
		records[i] = b.String()
	}
	var out []string
	for e := range network.EdgeID(n.Edges()) {
		speed, _ := n.Speed(e)
		grade, ok := n.Grade(network.MakeArc(e, false))
		from, to := n.From[e], n.To[e]
		var b strings.Builder
		fmt.Fprintf(&b, "edge %d: way %d, nodes %d "+point+" to %d "+point+", "+metres+" m, %v, %v m/s, %q %q, %v %q %q, %v %t, line "+point+", road %s",
			e, n.Origin(e), from, n.Node[from], to, n.Node[to], float64(n.Length[e]), n.Class[e], float64(speed), n.Ref(e), n.Name(e),
			n.Jurisdictions(e), n.Zone(e), n.Town(e), grade, ok, n.Shape(e), records[n.RoadID(e)])
		for _, s := range n.Spots(e) {
			fmt.Fprintf(&b, "; at "+metres+" m a %v, element %d (node: %d), %q, road %s",
				float64(s.Offset), s.Kind, s.OSM, s.OnNode, n.Text(s.Name), records[s.Road])
		}
		out = append(out, b.String())
	}
	for i := range n.Bans() {
		b, arcs := n.Ban(i)
		out = append(out, fmt.Sprintf("ban %d: relation %d, %v, for %v but %b, %q", i, b.OSM, arcs, b.For, b.Except, n.Text(b.When)))
	}
	for p := range n.Places() {
		out = append(out, fmt.Sprintf("place %v %q "+point+" %v %d %d %t", p.Kind, p.Name, p.Point, p.Jurisdictions, p.Population, p.OSM, p.OnNode))
	}
	return out
}

// sameContents fails where two networks differ in what they hold.
func sameContents(t *testing.T, what string, got, want *network.Network, rounded bool) {
	t.Helper()
	const most = 3 // differences that are shown
	g, w := describe(got, rounded), describe(want, rounded)
	differences := 0
	for i := range min(len(g), len(w)) {
		if g[i] == w[i] {
			continue
		}
		if differences++; differences <= most {
			t.Errorf("%s:\n%s\nwant\n%s", what, g[i], w[i])
		}
	}
	if len(g) != len(w) || differences > most {
		t.Errorf("%s: %d entries for %d, %d of them differ", what, len(g), len(w), differences)
	}
}

// fileOf returns the bytes of the file of a network.
func fileOf(t *testing.T, n *network.Network) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := n.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// An extract gives the same network in each of its formats.
func TestAndorraFormats(t *testing.T) {
	needs.Require(t, needs.Osmium)
	t.Parallel()
	source := filepath.Join(extracts.Real(t), andorra)
	want, report := networkOf(t, source)
	if want.Edges() < 4000 || report.Roads != countRoads(elements(t, source)) || report.DataDate != "2018-03-01 (the newest edit in it)" {
		t.Errorf("%d edges of %d roads, data of %s; %d roads in the extract", want.Edges(), report.Roads, report.DataDate, countRoads(elements(t, source)))
	}
	dir := t.TempDir()
	for _, name := range []string{"andorra.osm.pbf", "andorra.osm"} {
		path := filepath.Join(dir, name)
		osmium(t, "cat", "-o", path, source)
		got, _ := networkOf(t, path)
		sameContents(t, name, got, want, true)
		for e := range min(got.Edges(), want.Edges()) {
			if g, w := float64(got.Length[e]), float64(want.Length[e]); math.Abs(g-w) > max(1e-9*w, 15e-9) {
				t.Errorf("%s: edge %d has %.10f m, want %.10f", name, e, g, w)
			}
		}
	}
}

func countRoads(all []oplElement) (n int) {
	for _, e := range all {
		if _, ok := e.drivable(); ok {
			n++
		}
	}
	return n
}

// Two imports of one extract write the same bytes.
func TestBuildTwice(t *testing.T) {
	first, _ := delawareNetwork(t)
	second, _ := networkOf(t, filepath.Join(extracts.Real(t), delaware))
	if a, b := fileOf(t, first), fileOf(t, second); len(a) < 1<<20 || !bytes.Equal(a, b) {
		t.Errorf("%d and %d bytes, which differ from byte %d on", len(a), len(b), differ(a, b))
	}
}

// differ returns the number of the first byte that differs.
func differ(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// Two overlapping parts of an extract, which have every element in one of them
// at least, join to the network of the whole, in either order.
func TestMergeHalves(t *testing.T) {
	needs.Require(t, needs.Osmium)
	t.Parallel()
	for _, tc := range []struct{ name, source, west, east string }{
		// Boxes as west, south, east, north; ours. Both overlap in the middle.
		{"Andorra", andorra, "0,42,1.56,43", "1.54,42,3,43"},
		{"Delaware", delaware, "-77,37,-75.5,41", "-75.6,37,-74,41"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if tc.source == delaware && !needs.Long {
				t.Skip("long form: go test -tags long")
			}
			dir := t.TempDir()
			source := filepath.Join(dir, "whole.osm.pbf") // one format, so that points agree to the last bit
			osmium(t, "cat", "-o", source, filepath.Join(extracts.Real(t), tc.source))
			west, east := filepath.Join(dir, "west.osm.pbf"), filepath.Join(dir, "east.osm.pbf")
			osmium(t, "extract", "--strategy", "complete_ways", "-b", tc.west, "-o", west, source)
			osmium(t, "extract", "--strategy", "complete_ways", "-b", tc.east, "-o", east, source)

			a, report := networkOf(t, west, east)
			b, _ := networkOf(t, east, west)
			if fa, fb := fileOf(t, a), fileOf(t, b); !bytes.Equal(fa, fb) {
				t.Errorf("in one order and the other %d and %d bytes, which differ from byte %d on", len(fa), len(fb), differ(fa, fb))
			}
			sameContents(t, "the other order", b, a, false)
			whole, _ := networkOf(t, source)
			sameContents(t, "the halves", a, whole, false)

			// The halves must be parts that overlap.
			inWest := map[int64]bool{}
			for _, e := range elements(t, west) {
				if _, ok := e.drivable(); ok {
					inWest[e.id] = true
				}
			}
			both, inEast := 0, 0
			for _, e := range elements(t, east) {
				if _, ok := e.drivable(); ok {
					if inEast++; inWest[e.id] {
						both++
					}
				}
			}
			if report.JoinedTwice != both || both == 0 || both == len(inWest) || both == inEast {
				t.Errorf("%d roads west, %d east, %d in both, %d joined", len(inWest), inEast, both, report.JoinedTwice)
			}
		})
	}
}

// Of an element in extracts of two dates the one edited last counts, in either
// order: its place, and that nothing stands there any more. The map is ours.
func TestMergeDates(t *testing.T) {
	dir := t.TempDir()
	save := func(name, middle string) string {
		path := filepath.Join(dir, name)
		text := `<osm version="0.6"><node id="1" version="1" lat="0" lon="0"/>` + middle + `<node id="3" version="1" lat="0" lon="0.02"/>
<way id="9" version="1"><nd ref="1"/><nd ref="2"/><nd ref="3"/><tag k="highway" v="primary"/></way></osm>`
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const older = `<node id="2" version="1" lat="0" lon="0.01"><tag k="barrier" v="gate"/></node>`
	const newer = `<node id="2" version="2" lat="0.001" lon="0.01"/>`
	for _, middles := range [][2]string{{older, newer}, {newer, older}} {
		a, b := save("a.osm", middles[0]), save("b.osm", middles[1])
		for _, paths := range [][]string{{a, b}, {b, a}} {
			n, _ := networkOf(t, paths...)
			if n.Edges() != 1 || len(n.Shape(0)) != 3 {
				t.Fatalf("%d edges, the first of %v", n.Edges(), n.Shape(0))
			}
			if at := n.Shape(0)[1]; at != (orb.Point{0.01, 0.001}) || len(n.Spots(0)) != 0 {
				t.Errorf("%s first, the newer is %s: the middle lies at %v, with %d things on the road",
					filepath.Base(paths[0]), map[bool]string{true: "b.osm", false: "a.osm"}[middles[1] == newer], at, len(n.Spots(0)))
			}
		}
	}
}

// Two junctions at one place are joined by a road that leads from one to the
// other, though it has no length. Way 310449835 of the extract of Delaware is
// one, in a roundabout.
func TestRoadWithoutLength(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.osm")
	const text = `<osm version="0.6"><node id="1" lat="0" lon="0"/><node id="2" lat="0" lon="0.01"/><node id="3" lat="0" lon="0.01"/><node id="4" lat="0" lon="0.02"/>
<way id="7"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/></way>
<way id="8"><nd ref="2"/><nd ref="3"/><tag k="highway" v="primary"/></way>
<way id="9"><nd ref="3"/><nd ref="4"/><tag k="highway" v="primary"/></way></osm>`
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	n, report := networkOf(t, path)
	if n.Edges() != 3 || report.Roads != 3 || report.Islands != 0 {
		t.Errorf("%d edges of %d roads, %d islands", n.Edges(), report.Roads, report.Islands)
	}
}

// A road that is tagged as a culvert leads over one: in Delaware only waters
// are tagged so, in this map a road is.
func TestCulvertRoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.osm")
	for tunnel, want := range map[string]int{"culvert": 0, "no": 0, "yes": 1} {
		text := `<osm version="0.6"><node id="1" lat="0" lon="0"/><node id="2" lat="0" lon="0.01"/>
<way id="7"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/><tag k="tunnel" v="` + tunnel + `"/></way></osm>`
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if n, _ := networkOf(t, path); n.Edges() != 1 || len(n.Spots(0)) != want {
			t.Errorf("tunnel=%s: %d edges, %d things on the first, want 1 and %d", tunnel, n.Edges(), len(n.Spots(0)), want)
		}
	}
}
