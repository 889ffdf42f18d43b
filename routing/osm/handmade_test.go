package osm_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	godiff "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/routing/terrain"
)

// All extracts here are invented: places, names, ids and codes are made up.
// What tags mean is from the OpenStreetMap wiki, from memory; the pages are
// named at the tables.

// sketch is an invented extract. Elements take the version that is set when
// they are added.
type sketch struct {
	version                int
	nodes, ways, relations strings.Builder
}

// via and the like are members of a relation: type, id and role.
type memberOf struct {
	kind string
	id   int64
	role string
}

func quoted(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer takes everything
	return b.String()
}

// pairs cuts "key=value" at the first sign.
func pairs(tags []string) (out [][2]string) {
	for _, t := range tags {
		k, v, _ := strings.Cut(t, "=")
		out = append(out, [2]string{k, v})
	}
	return out
}

func (s *sketch) element(b *strings.Builder, kind, attributes string, id int64, inner string, tags [][2]string) {
	fmt.Fprintf(b, `<%s id="%d" version="%d"%s>%s`, kind, id, max(s.version, 1), attributes, inner)
	for _, t := range tags {
		fmt.Fprintf(b, `<tag k="%s" v="%s"/>`, quoted(t[0]), quoted(t[1]))
	}
	fmt.Fprintf(b, "</%s>\n", kind)
}

func (s *sketch) node(id int64, p orb.Point, tags ...string) {
	s.element(&s.nodes, "node", fmt.Sprintf(` lat="%v" lon="%v"`, p.Lat(), p.Lon()), id, "", pairs(tags))
}

func (s *sketch) way(id int64, refs []int64, tags ...string) { s.wayOf(id, refs, pairs(tags)) }

func (s *sketch) wayOf(id int64, refs []int64, tags [][2]string) {
	inner := ""
	for _, r := range refs {
		inner += fmt.Sprintf(`<nd ref="%d"/>`, r)
	}
	s.element(&s.ways, "way", "", id, inner, tags)
}

func (s *sketch) relation(id int64, members []memberOf, tags ...string) {
	inner := ""
	for _, m := range members {
		inner += fmt.Sprintf(`<member type="%s" ref="%d" role="%s"/>`, m.kind, m.id, m.role)
	}
	s.element(&s.relations, "relation", "", id, inner, pairs(tags))
}

func (s *sketch) xml() string {
	return "<?xml version=\"1.0\"?>\n<osm version=\"0.6\">\n" + s.nodes.String() + s.ways.String() + s.relations.String() + "</osm>\n"
}

func put(t testing.TB, name string, raw []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func paths(t testing.TB, extracts ...*sketch) (out []string) {
	t.Helper()
	for i, s := range extracts {
		out = append(out, put(t, fmt.Sprintf("part%d.osm", i+1), []byte(s.xml())))
	}
	return out
}

// imported builds a network that has to be sound.
func imported(t testing.TB, o osm.Options, files ...string) (*network.Network, *osm.Report) {
	t.Helper()
	n, r, err := osm.Build(t.Context(), files, o)
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Verify(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	return n, r
}

func made(t testing.TB, o osm.Options, extracts ...*sketch) (*network.Network, *osm.Report) {
	t.Helper()
	return imported(t, o, paths(t, extracts...)...)
}

// edgesOf lists the edges of a way in their order.
func edgesOf(n *network.Network, way int64) (out []network.EdgeID) {
	for e := range network.EdgeID(n.Edges()) {
		if n.Origin(e) == way {
			out = append(out, e)
		}
	}
	return out
}

func onlyEdge(t testing.TB, n *network.Network, way int64) network.EdgeID {
	t.Helper()
	es := edgesOf(n, way)
	if len(es) != 1 {
		t.Fatalf("way %d became %d edges, want 1", way, len(es))
	}
	return es[0]
}

func unlike(t testing.TB, what string, got, want any) {
	t.Helper()
	if d := godiff.Diff(want, got); d != "" {
		t.Errorf("%s (-want +got):\n%s", what, d)
	}
}

// The test road runs north along a meridian, so that its distances are those
// of the meridian.
const (
	westOf  = -60.0
	southOf = 45.0
	northOf = 45.01 // about 1111 m on
)

func onRoad(lat float64) orb.Point { return orb.Point{westOf, lat} }

// roadWith is way 1 with the given tags, from node 1 to node 2.
func roadWith(tags ...string) *sketch {
	s := &sketch{}
	s.node(1, onRoad(southOf))
	s.node(2, onRoad(northOf))
	s.way(1, []int64{1, 2}, tags...)
	return s
}

func recordOf(n *network.Network, e network.EdgeID) network.Record { return n.Record(n.RoadID(e)) }

func kmh(v float64) measure.Speed { return measure.Speed(v) * measure.KilometrePerHour }

func sameSpeed(a, b measure.Speed) bool { return math.Abs(float64(a-b)) < 1e-9 }

// Classes and assumed speeds (wiki, Key:highway).
func TestRoadClasses(t *testing.T) {
	for _, c := range []struct {
		highway string
		class   network.Class
		kmh     float64
		link    bool
	}{
		{"motorway", network.Freeway, 90, false}, {"trunk", network.Trunk, 85, false}, {"primary", network.Primary, 80, false},
		{"secondary", network.Secondary, 70, false}, {"tertiary", network.Tertiary, 60, false}, {"unclassified", network.Minor, 50, false},
		{"residential", network.Residential, 30, false}, {"living_street", network.Living, 10, false}, {"service", network.Service, 15, false},
		{"track", network.Track, 10, false}, {"road", network.Unclassed, 30, false},
		{"motorway_link", network.Freeway, 50, true}, {"trunk_link", network.Trunk, 50, true}, {"primary_link", network.Primary, 50, true},
		{"secondary_link", network.Secondary, 50, true}, {"tertiary_link", network.Tertiary, 50, true},
	} {
		n, r := made(t, osm.Options{}, roadWith("highway="+c.highway, "name=Madeup Way", "ref=X 1"))
		e := onlyEdge(t, n, 1)
		v, ok := n.Speed(e)
		if n.Class[e] != c.class || !ok || !sameSpeed(v, kmh(c.kmh)) || recordOf(n, e).Flags.Has(network.Link) != c.link {
			t.Errorf("%s: %v, %v, link %t", c.highway, n.Class[e], v, recordOf(n, e).Flags.Has(network.Link))
		}
		if n.Name(e) != "Madeup Way" || n.Ref(e) != "X 1" || r.Roads != 1 || r.Edges != 1 || r.Nodes != 2 {
			t.Errorf("%s: %q, %q, %d roads, %d edges, %d nodes", c.highway, n.Name(e), n.Ref(e), r.Roads, r.Edges, r.Nodes)
		}
		if want := geodesic.Between(onRoad(southOf), onRoad(northOf)); n.Length[e] != want {
			t.Errorf("%s: %v long, want %v", c.highway, n.Length[e], want)
		}
	}
}

func TestNoRoads(t *testing.T) {
	for _, tags := range [][]string{
		{"highway=footway"}, {"highway=path"}, {"highway=cycleway"}, {"highway=steps"}, {"highway=pedestrian"}, {"highway=bridleway"},
		{"highway=construction", "construction=primary"}, {"highway=proposed"}, {"highway=raceway"}, {"highway=platform"}, {"highway=service", "area=yes"},
		{"railway=rail"}, {"waterway=river"}, {}, {"route=ferry", "motor_vehicle=no"}, {"route=ferry", "vehicle=no"},
	} {
		_, _, err := osm.Build(t.Context(), paths(t, roadWith(tags...)), osm.Options{})
		var in *osm.InputError
		if !errors.As(err, &in) {
			t.Errorf("%v alone: %v, want an InputError", tags, err)
		}
	}
}

// Directions (wiki, Key:oneway).
func TestOneway(t *testing.T) {
	const along, against, varies, said = network.OnewayAlong, network.OnewayAgainst, network.OnewayVaries, network.KnownDirection
	all := along | against | varies | said
	for _, c := range []struct {
		tags []string
		want network.Flags
	}{
		{[]string{"highway=primary"}, 0},
		{[]string{"highway=primary", "oneway=yes"}, along | said},
		{[]string{"highway=primary", "oneway=true"}, along | said},
		{[]string{"highway=primary", "oneway=1"}, along | said},
		{[]string{"highway=primary", "oneway=-1"}, against | said},
		{[]string{"highway=primary", "oneway=reverse"}, against | said},
		{[]string{"highway=primary", "oneway=no"}, said},
		{[]string{"highway=primary", "oneway=reversible"}, varies | said},
		{[]string{"highway=primary", "oneway=alternating"}, varies | said},
		{[]string{"highway=primary", "oneway=perhaps"}, varies},
		{[]string{"highway=primary", "oneway=yes", "oneway:hgv=no"}, along | said | varies},
		{[]string{"highway=primary", "oneway:conditional=yes @ (Mo-Fr)"}, varies},
		{[]string{"highway=primary", "oneway=YES"}, along | said},
		{[]string{"highway=primary", "oneway:bicycle=yes"}, 0},
		{[]string{"highway=primary", "junction=roundabout"}, along},
		{[]string{"highway=primary", "junction=circular"}, along},
		{[]string{"highway=primary", "junction=roundabout", "oneway=no"}, said},
		{[]string{"highway=primary", "junction=yes"}, 0},
		{[]string{"highway=motorway"}, along},
		{[]string{"highway=motorway", "oneway=no"}, said},
		{[]string{"highway=motorway", "oneway=-1"}, against | said},
		{[]string{"highway=motorway_link"}, 0},
		{[]string{"highway=trunk"}, 0},
	} {
		n, _ := made(t, osm.Options{}, roadWith(c.tags...))
		f := recordOf(n, onlyEdge(t, n, 1)).Flags
		if f&all != c.want {
			t.Errorf("%v: flags %b, want %b", c.tags, f&all, c.want)
		}
		if round := len(c.tags) > 1 && (c.tags[1] == "junction=roundabout" || c.tags[1] == "junction=circular"); f.Has(network.Roundabout) != round {
			t.Errorf("%v: a roundabout: %t", c.tags, !round)
		}
	}
}

// signText is a sign with its strings.
type signText struct {
	Subject network.Subject
	For     network.Mode
	Bound   network.Bound
	Word    network.Word
	State   network.State
	Value   int64
	Text    string
	When    string
}

func signsOf(n *network.Network, id network.RoadID) (out []signText) {
	for _, s := range n.Record(id).Signs {
		out = append(out, signText{s.Subject, s.For, s.Bound, s.Word, s.State, s.Value, n.Text(s.Text), n.Text(s.When)})
	}
	return out
}

func access(mode network.Mode, word network.Word, text string) signText {
	return signText{For: mode, Word: word, Text: text}
}

func (s signText) bound(b network.Bound) signText     { s.Bound = b; return s }
func (s signText) when(w string) signText             { s.When = w; return s }
func (s signText) only(m network.Mode) signText       { s.For = m; return s }
func (s signText) about(q network.Subject) signText   { s.Subject = q; return s }
func (s signText) state(state network.State) signText { s.State = state; s.Value = 0; return s }

func figure[T ~int64](q network.Subject, v T, text string) signText {
	return signText{Subject: q, State: network.Known, Value: int64(v), Text: text}
}

func bad(key, value, likely string) []osm.Malformed {
	return []osm.Malformed{{Type: "way", ID: 1, Key: key, Value: value, Likely: likely}}
}

// Access, with direction and condition, and words that nobody knows (wiki,
// Key:access and Conditional restrictions).
func TestAccessSigns(t *testing.T) {
	for _, c := range []struct {
		tag  string
		want []signText
		bad  []osm.Malformed
	}{
		{"access=no", []signText{access(network.Everyone, network.Refused, "no")}, nil},
		{"vehicle=no", []signText{access(network.Vehicles, network.Refused, "no")}, nil},
		{"motor_vehicle=private", []signText{access(network.MotorVehicles, network.Permission, "private")}, nil},
		{"motorcar=yes", []signText{access(network.Motorcars, network.Allowed, "yes")}, nil},
		{"goods=destination", []signText{access(network.GoodsVehicles, network.Destination, "destination")}, nil},
		{"hgv=designated", []signText{access(network.HeavyGoods, network.Allowed, "designated")}, nil},
		{"hgv=discouraged", []signText{access(network.HeavyGoods, network.Discouraged, "discouraged")}, nil},
		{"hgv_articulated=no", []signText{access(network.Articulated, network.Refused, "no")}, nil},
		{"trailer=no", []signText{access(network.Trailers, network.Refused, "no")}, nil},
		{"caravan=permissive", []signText{access(network.Caravans, network.Allowed, "permissive")}, nil},
		{"hazmat=no", []signText{access(network.Hazmat, network.Refused, "no")}, nil},
		{"access=customers", []signText{access(network.Everyone, network.Destination, "customers")}, nil},
		{"access=delivery", []signText{access(network.Everyone, network.Destination, "delivery")}, nil},
		{"access=permit", []signText{access(network.Everyone, network.Permission, "permit")}, nil},
		{"access=residents", []signText{access(network.Everyone, network.Permission, "residents")}, nil},
		{"access=agricultural", []signText{access(network.Everyone, network.Refused, "agricultural")}, nil},
		{"access=forestry", []signText{access(network.Everyone, network.Refused, "forestry")}, nil},
		{"access=military", []signText{access(network.Everyone, network.Refused, "military")}, nil},
		{"access=emergency", []signText{access(network.Everyone, network.Refused, "emergency")}, nil},
		{"hgv=NO", []signText{access(network.HeavyGoods, network.Refused, "NO")}, nil},
		{"hgv:forward=no", []signText{access(network.HeavyGoods, network.Refused, "no").bound(network.Along)}, nil},
		{"hgv:backward=destination", []signText{access(network.HeavyGoods, network.Destination, "destination").bound(network.Against)}, nil},
		{"access:both_ways=no", []signText{access(network.Everyone, network.Refused, "no")}, nil},
		{
			"hgv:conditional=no @ (Mo-Fr 07:00-09:00); destination @ (Sa)",
			[]signText{access(network.HeavyGoods, network.Refused, "no").when("Mo-Fr 07:00-09:00"), access(network.HeavyGoods, network.Destination, "destination").when("Sa")}, nil,
		},
		{"motor_vehicle:backward:conditional=no @ (22:00-06:00)", []signText{access(network.MotorVehicles, network.Refused, "no").bound(network.Against).when("22:00-06:00")}, nil},
		{"access:conditional=private @ winter", []signText{access(network.Everyone, network.Permission, "private").when("winter")}, nil},
		{"access=destination;private", []signText{access(network.Everyone, network.Permission, "destination;private")}, nil},
		{"access=yes; no", []signText{access(network.Everyone, network.Refused, "yes; no")}, nil},
		// Nobody knows what is not said: an unknown word is shown, not passed over.
		{"access=unknown", []signText{access(network.Everyone, network.Unread, "unknown")}, nil},
		{"hgv=sometimes", []signText{access(network.HeavyGoods, network.Unread, "sometimes")}, bad("hgv", "sometimes", "")},
		{"access=yes;sometimes", []signText{access(network.Everyone, network.Unread, "yes;sometimes")}, bad("access", "yes;sometimes", "")},
		{"hgv:lanes=no|yes", []signText{access(network.HeavyGoods, network.Unread, "no|yes")}, bad("hgv:lanes", "no|yes", "")},
		{"hgv:strange=no", []signText{access(network.HeavyGoods, network.Unread, "no")}, bad("hgv:strange", "no", "")},
		{"hgv:conditional=no", []signText{access(network.HeavyGoods, network.Unread, "no").when("no")}, bad("hgv:conditional", "no", "")},
		{"hgv:conditional=no @", []signText{access(network.HeavyGoods, network.Unread, "no @").when("no @")}, bad("hgv:conditional", "no @", "")},
		{"hgv:conditional=sometimes @ (Sa)", []signText{access(network.HeavyGoods, network.Unread, "sometimes").when("Sa")}, bad("hgv:conditional", "sometimes", "")},
		// For other traffic, or about the tag.
		{"bicycle=no", nil, nil}, {"psv=no", nil, nil}, {"access:bus=no", nil, nil}, {"hgv:note=steep", nil, nil}, {"hgv:national_network=yes", nil, nil},
		{"source:hgv=survey", nil, nil}, {"source:maxheight=survey", nil, nil},
		// A note beside a figure may say what the figure does not.
		{"maxheight:note=low", []signText{{Subject: network.MaxHeight, State: network.Unreadable, Text: "low"}}, bad("maxheight:note", "low", "")},
		{"HGV=no", []signText{access(network.Everyone, network.Unread, "HGV=no")}, bad("HGV", "no", "")},
		{"towing=no", []signText{access(network.Everyone, network.Unread, "towing=no")}, bad("towing", "no", "")},
	} {
		n, r := made(t, osm.Options{}, roadWith("highway=primary", c.tag))
		unlike(t, c.tag, signsOf(n, n.RoadID(onlyEdge(t, n, 1))), c.want)
		unlike(t, c.tag+": not read", slices.Clip(r.Malformed), append([]osm.Malformed{}, c.bad...))
	}
}

// A limit under a key that is spelt wrong is shown, not read.
func TestMisspeltKeys(t *testing.T) {
	n, r := made(t, osm.Options{}, roadWith("highway=primary", "max_height=3.2", "MaxWeight=5"))
	unlike(t, "not read", r.Malformed, append(bad("MaxWeight", "5", ""), bad("max_height", "3.2", "")...))
	signs := recordOf(n, onlyEdge(t, n, 1)).Signs
	if len(signs) != 2 || signs[0].State != network.Unreadable || signs[0].Subject != network.MaxHeight || signs[1].Subject != network.MaxMass {
		t.Errorf("signs %+v", signs)
	}
}

// In a list, an unknown word may be stricter than the known ones beside it: it
// has to be listed.
func TestAccessListWithUnknownWord(t *testing.T) {
	_, r := made(t, osm.Options{}, roadWith("highway=primary", "access=destination;sometimes"))
	unlike(t, "not read", r.Malformed, bad("access", "destination;sometimes", ""))
}

// Every sign of the hierarchy stands side by side; whom it binds is for whoever
// asks.
func TestAccessHierarchy(t *testing.T) {
	n, r := made(t, osm.Options{}, roadWith("highway=primary", "hazmat=no", "hgv=yes", "access=no", "trailer=private", "motor_vehicle=destination"))
	unlike(t, "signs", signsOf(n, n.RoadID(onlyEdge(t, n, 1))), []signText{
		access(network.Everyone, network.Refused, "no"), access(network.MotorVehicles, network.Destination, "destination"),
		access(network.HeavyGoods, network.Allowed, "yes"), access(network.Trailers, network.Permission, "private"), access(network.Hazmat, network.Refused, "no"),
	})
	if r.Signs["access"] != 5 {
		t.Errorf("signs %v", r.Signs)
	}
}

// Figures (wiki, Key:maxheight, Key:maxwidth, Key:maxlength, Key:maxweight,
// Key:maxweightrating, Key:maxaxleload).
func TestLimitSigns(t *testing.T) {
	m, mm, kg := measure.Metre, measure.Millimetre, measure.Kilogram
	height := figure(network.MaxHeight, 4150*mm, "4.15")
	for _, c := range []struct {
		tag  string
		want []signText
		bad  []osm.Malformed
	}{
		{"maxheight=4.15", []signText{height}, nil},
		{"maxheight=4.15 m", []signText{figure(network.MaxHeight, 4150*mm, "4.15 m")}, nil},
		{`maxheight=13'6"`, []signText{figure(network.MaxHeight, 162*measure.Inch, `13'6"`)}, nil},
		{"maxheight:physical=4.15", []signText{height.about(network.MaxHeightPhysical)}, nil},
		{"maxheight:legal=4.15", []signText{height.about(network.MaxHeightLegal)}, nil},
		{"maxheight:forward=4.15", []signText{height.bound(network.Along)}, nil},
		{"maxheight:backward=4.15", []signText{height.bound(network.Against)}, nil},
		{"maxheight:physical:backward=4.15", []signText{height.about(network.MaxHeightPhysical).bound(network.Against)}, nil},
		{"maxheight:hgv=4.15", []signText{height.only(network.HeavyGoods)}, nil},
		{"maxheight:conditional=4.15 @ (Sa)", []signText{height.when("Sa")}, nil},
		{"maxheight:hgv:conditional=4.15 @ (Sa)", []signText{height.only(network.HeavyGoods).when("Sa")}, nil},
		{"maxheight=default", []signText{{Subject: network.MaxHeight, State: network.NoFigure, Text: "default"}}, nil},
		{"maxheight=none", []signText{{Subject: network.MaxHeight, State: network.NoFigure, Text: "none"}}, nil},
		{"maxheight=below_default", []signText{{Subject: network.MaxHeight, State: network.NoFigure, Text: "below_default"}}, nil},
		{"maxwidth=2.6", []signText{figure(network.MaxWidth, 2600*mm, "2.6")}, nil},
		{"maxwidth:physical=2.6", []signText{figure(network.MaxWidthPhysical, 2600*mm, "2.6")}, nil},
		{"maxwidth=8'6\"", []signText{figure(network.MaxWidth, 102*measure.Inch, `8'6"`)}, nil},
		{"maxlength=12", []signText{figure(network.MaxLength, 12*m, "12")}, nil},
		{"maxlength=40 ft", []signText{figure(network.MaxLength, 40*measure.Foot, "40 ft")}, nil},
		{"maxlength:trailer=10", []signText{figure(network.MaxLength, 10*m, "10").only(network.Trailers)}, nil},
		{"maxweight=7.5", []signText{figure(network.MaxMass, 7500*kg, "7.5")}, nil},
		{"maxweight=10000 lbs", []signText{figure(network.MaxMass, 10000*measure.Pound, "10000 lbs")}, nil},
		{"maxweight=10 st", []signText{figure(network.MaxMass, 10*measure.ShortTon, "10 st")}, nil},
		{"maxweight:hgv=7.5", []signText{figure(network.MaxMass, 7500*kg, "7.5").only(network.HeavyGoods)}, nil},
		{"maxweight:forward=7.5", []signText{figure(network.MaxMass, 7500*kg, "7.5").bound(network.Along)}, nil},
		{
			"maxweight:hgv:conditional=7.5 @ (Mar-May); 12 @ (Jun-Feb)",
			[]signText{figure(network.MaxMass, 7500*kg, "7.5").only(network.HeavyGoods).when("Mar-May"), figure(network.MaxMass, 12000*kg, "12").only(network.HeavyGoods).when("Jun-Feb")}, nil,
		},
		{"maxweightrating=3.5", []signText{figure(network.MaxRating, 3500*kg, "3.5")}, nil},
		{"maxweightrating:hgv=12", []signText{figure(network.MaxRating, 12000*kg, "12").only(network.HeavyGoods)}, nil},
		{"maxaxleload=8", []signText{figure(network.MaxAxleMass, 8000*kg, "8")}, nil},
		{"maxaxleload:conditional=5 @ (Mar-May)", []signText{figure(network.MaxAxleMass, 5000*kg, "5").when("Mar-May")}, nil},
		{"maxheight:bus=3", nil, nil},
		{"maxweight:signed=no", nil, nil},
		// No plausible figure: listed, with what was probably meant.
		{"maxheight=12", []signText{height.state(network.Unreadable).textIs("12")}, bad("maxheight", "12", "12 ft")},
		{"maxheight=14'6", []signText{height.state(network.Unreadable).textIs("14'6")}, bad("maxheight", "14'6", "14 ft 6 in")},
		{"maxheight=tall", []signText{height.state(network.Unreadable).textIs("tall")}, bad("maxheight", "tall", "")},
		{"maxheight=", []signText{height.state(network.Unreadable).textIs("")}, bad("maxheight", "", "")},
		{"maxheight=0", []signText{height.state(network.Unreadable).textIs("0")}, bad("maxheight", "0", "")},
		{"maxwidth=250", []signText{height.about(network.MaxWidth).state(network.Unreadable).textIs("250")}, bad("maxwidth", "250", "250 cm")},
		{"maxlength=long", []signText{height.about(network.MaxLength).state(network.Unreadable).textIs("long")}, bad("maxlength", "long", "")},
		{"maxweight=7500", []signText{height.about(network.MaxMass).state(network.Unreadable).textIs("7500")}, bad("maxweight", "7500", "7500 kg")},
		{"maxweight:hgv:conditional=heavy @ (Sa)", []signText{height.about(network.MaxMass).only(network.HeavyGoods).state(network.Unreadable).textIs("heavy").when("Sa")}, bad("maxweight:hgv:conditional", "heavy", "")},
		{"maxheight:strange=4", []signText{height.state(network.Unreadable).textIs("4")}, bad("maxheight:strange", "4", "")},
		{"maxheight:lanes=4|3", []signText{height.state(network.Unreadable).textIs("4|3")}, bad("maxheight:lanes", "4|3", "")},
		{"maxheight:conditional=4", []signText{height.state(network.Unreadable).textIs("4").when("4")}, bad("maxheight:conditional", "4", "")},
	} {
		n, r := made(t, osm.Options{}, roadWith("highway=primary", c.tag))
		unlike(t, c.tag, signsOf(n, n.RoadID(onlyEdge(t, n, 1))), c.want)
		unlike(t, c.tag+": not read", slices.Clip(r.Malformed), append([]osm.Malformed{}, c.bad...))
	}
}

func (s signText) textIs(text string) signText { s.Text = text; return s }

// Malformed values of nodes and ways stand in one order, each once.
func TestMalformedOrder(t *testing.T) {
	s := roadWith("highway=primary", "maxweight=7500", "maxheight=tall")
	s.node(3, onRoad(45.005), "barrier=height_restrictor", "maxheight=low")
	s.way(2, []int64{2, 3, 1}, "highway=service", "hgv=sometimes", "maxspeed=fast")
	_, r := made(t, osm.Options{}, s)
	unlike(t, "not read", r.Malformed, []osm.Malformed{
		{Type: "node", ID: 3, Key: "maxheight", Value: "low"},
		{Type: "way", ID: 1, Key: "maxheight", Value: "tall"}, {Type: "way", ID: 1, Key: "maxweight", Value: "7500", Likely: "7500 kg"},
		{Type: "way", ID: 2, Key: "hgv", Value: "sometimes"}, {Type: "way", ID: 2, Key: "maxspeed", Value: "fast"},
	})
}

// Width, lanes, surface and the like (wiki, Key:width, Key:lanes, Key:surface,
// Key:tracktype, Key:toll).
func TestRoadRecord(t *testing.T) {
	for _, c := range []struct {
		tags []string
		want func(n *network.Network, r network.Record) bool
	}{
		{[]string{"width=5.5"}, func(_ *network.Network, r network.Record) bool { return r.Width == 5500*measure.Millimetre }},
		{[]string{"width=20'"}, func(_ *network.Network, r network.Record) bool { return r.Width == 20*measure.Foot }},
		{[]string{"width=wide"}, func(_ *network.Network, r network.Record) bool { return r.Width == 0 }},
		{[]string{"lanes=2"}, func(_ *network.Network, r network.Record) bool { return r.Lanes == 2 }},
		{[]string{"lanes=two"}, func(_ *network.Network, r network.Record) bool { return r.Lanes == 0 }},
		{[]string{"lanes=300"}, func(_ *network.Network, r network.Record) bool { return r.Lanes == 0 }},
		{[]string{"surface=asphalt"}, func(n *network.Network, r network.Record) bool {
			return r.Paved == network.Paved && n.Text(r.Surface) == "asphalt"
		}},
		{[]string{"surface=gravel"}, func(n *network.Network, r network.Record) bool {
			return r.Paved == network.Unpaved && n.Text(r.Surface) == "gravel"
		}},
		{[]string{"surface=asphalt;gravel"}, func(_ *network.Network, r network.Record) bool { return r.Paved == network.Unpaved }},
		{[]string{"surface=moss"}, func(_ *network.Network, r network.Record) bool { return r.Paved == network.PavingUnknown }},
		{nil, func(_ *network.Network, r network.Record) bool {
			return r.Paved == network.PavingUnknown && r.Lanes == 0 && r.Width == 0 && r.Flags == 0
		}},
		{[]string{"tracktype=grade1"}, func(n *network.Network, r network.Record) bool {
			return r.Paved == network.Paved && n.Text(r.Tracktype) == "grade1"
		}},
		{[]string{"tracktype=grade3"}, func(_ *network.Network, r network.Record) bool { return r.Paved == network.Unpaved }},
		{[]string{"tracktype=grade1", "surface=gravel"}, func(_ *network.Network, r network.Record) bool { return r.Paved == network.Unpaved }},
		{[]string{"toll=yes"}, func(_ *network.Network, r network.Record) bool { return r.Flags.Has(network.Toll) }},
		{[]string{"toll:hgv=yes"}, func(_ *network.Network, r network.Record) bool { return r.Flags.Has(network.Toll) }},
		{[]string{"toll=no"}, func(_ *network.Network, r network.Record) bool { return r.Flags == 0 }},
		{[]string{"ford=yes"}, func(_ *network.Network, r network.Record) bool { return r.Flags.Has(network.Ford) }},
		{[]string{"bridge=viaduct"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.OnBridge }},
		{[]string{"tunnel=yes"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.InTunnel }},
		{[]string{"tunnel=culvert"}, func(_ *network.Network, r network.Record) bool { return r.Flags == 0 }},
		{[]string{"service=driveway"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.AtEnds }},
		{[]string{"service=parking_aisle"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.AtEnds }},
		{[]string{"service=alley"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.AtEnds }},
		{[]string{"service=drive-through"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.AtEnds }},
		{[]string{"traffic_calming=table"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.Calmed|network.Humped }},
		{[]string{"traffic_calming=choker;island"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.Calmed }},
		{[]string{"traffic_calming=choker;table"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.Calmed|network.Humped }},
		{[]string{"tunnel=building_passage"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.ThroughBuilding }},
		{[]string{"covered=yes"}, func(_ *network.Network, r network.Record) bool { return r.Flags == network.Covered }},
		{[]string{"covered=no", "bridge=no", "tunnel=no"}, func(_ *network.Network, r network.Record) bool { return r.Flags == 0 }},
		{[]string{"operator=Madeup Roads", "ownership=municipal", "smoothness=bad", "incline=10%", "network=XA:town"}, func(n *network.Network, r network.Record) bool {
			return n.Text(r.Operator) == "Madeup Roads" && n.Text(r.Ownership) == "municipal" && n.Text(r.Smoothness) == "bad" && n.Text(r.Incline) == "10%" && n.Text(r.Signed) == "XA:town"
		}},
	} {
		n, _ := made(t, osm.Options{}, roadWith(append([]string{"highway=service"}, c.tags...)...))
		if r := recordOf(n, onlyEdge(t, n, 1)); !c.want(n, r) {
			t.Errorf("%v: %+v", c.tags, r)
		}
	}
}

// The speed is the lower of the class's and the posted one (wiki, Key:maxspeed:
// a bare number is km/h).
func TestTowingSpeed(t *testing.T) {
	mph := func(v float64) measure.Speed { return measure.Speed(v * 0.44704) } // NIST SP 811, B.8
	for _, c := range []struct {
		tags   []string
		want   measure.Speed
		posted bool
	}{
		{nil, kmh(80), false},
		{[]string{"maxspeed=60"}, kmh(60), true},
		{[]string{"maxspeed=35 mph"}, mph(35), true},
		{[]string{"maxspeed=35mph"}, mph(35), true},
		{[]string{"maxspeed=70 mph"}, kmh(80), true},
		{[]string{"maxspeed=49 mph"}, mph(49), true},
		{[]string{"maxspeed=50 mph"}, kmh(80), true}, // 80.5 km/h
		{[]string{"maxspeed=none"}, kmh(80), false},
		{[]string{"maxspeed=XA:urban"}, kmh(80), false},
		{[]string{"maxspeed=fast"}, kmh(80), false},
		{[]string{"maxspeed=80", "maxspeed:hgv=50"}, kmh(50), true},
		{[]string{"maxspeed=80", "maxspeed:trailer=40"}, kmh(40), true},
		{[]string{"maxspeed:forward=70", "maxspeed:backward=50"}, kmh(50), true},
		{[]string{"maxspeed:advisory=20 mph"}, mph(20), false},
	} {
		n, r := made(t, osm.Options{}, roadWith(append([]string{"highway=primary"}, c.tags...)...))
		e := onlyEdge(t, n, 1)
		v, ok := n.Speed(e)
		if !ok || !sameSpeed(v, c.want) || recordOf(n, e).Flags.Has(network.PostedSpeed) != c.posted {
			t.Errorf("%v: %v, posted %t; want %v, %t", c.tags, v, recordOf(n, e).Flags.Has(network.PostedSpeed), c.want, c.posted)
		}
		if fast := slices.Contains(c.tags, "maxspeed=fast"); fast != (len(r.Malformed) == 1) {
			t.Errorf("%v: not read %v", c.tags, r.Malformed)
		}
	}
}

// A ferry is as fast as its crossing takes (wiki, Key:duration).
func TestFerry(t *testing.T) {
	length := float64(geodesic.Between(onRoad(southOf), onRoad(northOf)))
	for duration, seconds := range map[string]float64{
		"00:20": 1200, "20": 1200, "1:30": 5400, "01:00:30": 3630, "PT20M": 1200, "PT1H30M": 5400, "PT1H": 3600,
		"": 0, "soon": 0, "0": 0, "-20": 0,
	} {
		n, _ := made(t, osm.Options{}, roadWith("route=ferry", "motor_vehicle=yes", "duration="+duration))
		e := onlyEdge(t, n, 1)
		v, ok := n.Speed(e)
		switch {
		case n.Class[e] != network.Ferry:
			t.Errorf("%q: %v", duration, n.Class[e])
		case seconds == 0 && ok:
			t.Errorf("%q: %v, want an unknown speed", duration, v)
		case seconds > 0 && math.Abs(float64(v)-length/seconds) > 1e-9:
			t.Errorf("%q: %v m/s, want %v", duration, float64(v), length/seconds)
		}
	}
	// A ferry of several edges takes its time once.
	s := roadWith("route=ferry", "duration=00:20")
	s.node(3, onRoad(45.004))
	s.way(1, []int64{1, 3, 2}, "route=ferry", "duration=00:20")
	s.way(2, []int64{3, 4}, "highway=service")
	s.node(4, orb.Point{westOf + 0.001, 45.004})
	s.version = 2
	s.way(1, []int64{1, 3, 2}, "route=ferry", "duration=00:20")
	n, _ := made(t, osm.Options{}, s)
	total := 0.0
	for _, e := range edgesOf(n, 1) {
		v, _ := n.Speed(e)
		total += float64(n.Length[e]) / float64(v)
	}
	if len(edgesOf(n, 1)) != 2 || math.Abs(total-1200) > 1e-6 {
		t.Errorf("%d edges take %v s", len(edgesOf(n, 1)), total)
	}
}

// spotAt is a spot with where it must be, by latitude on the test road.
type spotAt struct {
	kind   network.Kind
	osm    int64
	onNode bool
	lat    float64
}

// wantSpots compares the spots of way 1, all on its first edge. Places may be
// off by a centimetre: what crosses is a great circle, not a parallel.
func wantSpots(t *testing.T, n *network.Network, want []spotAt) {
	t.Helper()
	e := onlyEdge(t, n, 1)
	got := n.Spots(e)
	var kinds, wanted []string
	for _, s := range got {
		kinds = append(kinds, fmt.Sprintf("%v %d %t", s.Kind, s.OSM, s.OnNode == 1))
	}
	for _, s := range want {
		wanted = append(wanted, fmt.Sprintf("%v %d %t", s.kind, s.osm, s.onNode))
	}
	unlike(t, "spots", kinds, wanted)
	if t.Failed() {
		return
	}
	for i, s := range got {
		if w := geodesic.Between(onRoad(southOf), onRoad(want[i].lat)); math.Abs(float64(s.Offset-w)) > 0.01 {
			t.Errorf("%s is %.3f m along, want %.3f", kinds[i], float64(s.Offset), float64(w))
		}
	}
}

// middle is the latitude in the middle of the test road, close enough.
const middle = 45.005

// A mini-roundabout lies on each road that meets there, a raised junction too, whatever
// their classes, and its diameter is kept (wiki, Tag:highway=mini_roundabout).
func TestMiniRoundabouts(t *testing.T) {
	for _, c := range []struct {
		tags     []string
		kind     network.Kind
		diameter measure.Length
	}{
		{[]string{"highway=mini_roundabout", "diameter=14"}, network.MiniRoundabout, 14 * measure.Metre},
		{[]string{"highway=mini_roundabout", "diameter=wide"}, network.MiniRoundabout, 0},
		{[]string{"highway=mini_roundabout"}, network.MiniRoundabout, 0},
		{[]string{"traffic_calming=table"}, network.Hump, 0},
	} {
		s := roadWith("highway=primary")
		s.node(3, onRoad(middle), c.tags...)
		s.node(4, orb.Point{onRoad(middle)[0], onRoad(middle)[1] + 0.01})
		s.version = 2
		s.way(1, []int64{1, 3, 2}, "highway=primary")
		s.way(5, []int64{3, 4}, "highway=residential")
		n, _ := made(t, osm.Options{}, s)
		if n.Edges() != 3 {
			t.Fatalf("%v: %d edges", c.tags, n.Edges())
		}
		for e := range network.EdgeID(n.Edges()) {
			spots := n.Spots(e)
			if len(spots) != 1 || spots[0].Kind != c.kind || spots[0].OSM != 3 || spots[0].Own != 1 || n.Record(spots[0].Road).Width != c.diameter {
				t.Errorf("%v: edge %d has %+v", c.tags, e, spots)
			}
		}
	}
}

// Barriers and what else stands on roads (wiki, Key:barrier,
// Tag:railway=level_crossing, Key:traffic_calming).
func TestNodesOnRoads(t *testing.T) {
	for _, c := range []struct {
		tags  []string
		kind  network.Kind
		signs []signText
		low   bool // counted as without a figure
	}{
		{[]string{"barrier=height_restrictor", "maxheight=2.1"}, network.Restrictor, []signText{figure(network.MaxHeight, 2100*measure.Millimetre, "2.1")}, false},
		{[]string{"barrier=height_restrictor", "maxheight:physical=2.1"}, network.Restrictor, []signText{figure(network.MaxHeightPhysical, 2100*measure.Millimetre, "2.1")}, false},
		{[]string{"barrier=height_restrictor"}, network.Restrictor, nil, true},
		{[]string{"barrier=height_restrictor", "maxheight=default"}, network.Restrictor, []signText{{Subject: network.MaxHeight, State: network.NoFigure, Text: "default"}}, true},
		{[]string{"barrier=gate", "access=private"}, network.Gate, []signText{access(network.Everyone, network.Permission, "private")}, false},
		{[]string{"barrier=gate", "locked=yes"}, network.Gate, []signText{access(network.Everyone, network.Permission, "locked=yes")}, false},
		{[]string{"barrier=lift_gate", "motor_vehicle=no"}, network.Gate, []signText{access(network.MotorVehicles, network.Refused, "no")}, false},
		{[]string{"barrier=swing_gate"}, network.Gate, nil, false},
		{[]string{"barrier=bollard"}, network.Blocked, nil, false},
		{[]string{"barrier=bollard", "maxwidth=2"}, network.Blocked, []signText{figure(network.MaxWidth, 2*measure.Metre, "2")}, false},
		{[]string{"barrier=block"}, network.Blocked, nil, false},
		{[]string{"barrier=toll_booth"}, network.TollBooth, nil, false},
		{[]string{"barrier=border_control"}, network.Checkpoint, nil, false},
		{[]string{"barrier=something_new"}, network.OtherBarrier, nil, false},
		{[]string{"railway=level_crossing"}, network.LevelCrossing, nil, false},
		{[]string{"traffic_calming=hump"}, network.Hump, nil, false},
		{[]string{"traffic_calming=yes"}, network.Hump, nil, false},
		{[]string{"traffic_calming=chicane"}, network.Calming, nil, false},
		{[]string{"highway=mini_roundabout"}, network.MiniRoundabout, nil, false},
		{[]string{"ford=yes"}, network.FordSpot, nil, false},
		{[]string{"man_made=gantry"}, network.Gantry, nil, true},
		{[]string{"highway=toll_gantry"}, network.Gantry, nil, true},
		{[]string{"maxheight=3"}, network.SignPost, []signText{figure(network.MaxHeight, 3*measure.Metre, "3")}, false},
	} {
		t.Run(strings.Join(c.tags, " "), func(t *testing.T) {
			s := roadWith("highway=service")
			s.node(3, onRoad(middle), c.tags...)
			s.version = 2
			s.way(1, []int64{1, 3, 2}, "highway=service")
			n, r := made(t, osm.Options{}, s)
			want := []spotAt{{c.kind, 3, true, middle}}
			if c.tags[0] == "maxheight=3" { // the sign, and the post it may stand on
				want = []spotAt{{network.PostedHeight, 3, true, middle}, {c.kind, 3, true, middle}}
			}
			wantSpots(t, n, want)
			unlike(t, "signs", signsOf(n, n.Spots(onlyEdge(t, n, 1))[0].Road), c.signs)
			unmeasured, counted := map[string]int{}, r.Barriers
			if c.kind.Overhead() {
				counted = r.Structures
			}
			if c.low {
				unmeasured[c.kind.String()] = 1
			}
			unlike(t, "unmeasured", r.Unmeasured, unmeasured)
			unlike(t, "counted", counted, map[string]int{c.kind.String(): 1})
		})
	}
	for _, tags := range [][]string{{"barrier=entrance"}, {"barrier=cattle_grid"}, {"barrier=kerb"}, {"barrier=no"}, {"highway=crossing"}, {"traffic_calming=no"}, {"highway=stop"}, nil} {
		s := roadWith("highway=service")
		s.node(3, onRoad(middle), tags...)
		s.version = 2
		s.way(1, []int64{1, 3, 2}, "highway=service")
		n, _ := made(t, osm.Options{}, s)
		if got := n.Spots(onlyEdge(t, n, 1)); len(got) > 0 {
			t.Errorf("%v: %v", tags, got)
		}
	}
	// A barrier beside the road is not on it.
	s := roadWith("highway=service")
	s.node(3, onRoad(middle), "barrier=bollard")
	n, r := made(t, osm.Options{}, s)
	if len(n.Spots(onlyEdge(t, n, 1))) > 0 || len(r.Barriers) > 0 {
		t.Errorf("a bollard on no road: %v", r.Barriers)
	}
}

// across adds a way that crosses the test road at a latitude, on nodes of its
// own.
func across(s *sketch, id int64, lat float64, tags ...string) {
	s.node(10*id+1, orb.Point{westOf - 0.0005, lat})
	s.node(10*id+2, orb.Point{westOf + 0.0005, lat})
	s.way(id, []int64{10*id + 1, 10*id + 2}, tags...)
}

// What hangs over a road (wiki, Key:bridge, Key:layer, Tag:power=line,
// Tag:power=minor_line, Tag:communication=line, Key:aerialway,
// Tag:man_made=gantry, Key:covered, Key:tunnel).
func TestStructures(t *testing.T) {
	const at = 45.003
	one := func(k network.Kind) []spotAt { return []spotAt{{k, 50, false, at}} }
	whole := func(k network.Kind) []spotAt { return []spotAt{{k, 1, false, middle}} }
	for _, c := range []struct {
		name string
		road []string // beside highway
		over []string // of way 50; nil: none
		want []spotAt
	}{
		{"nothing", nil, nil, nil},
		{"road bridge", nil, []string{"highway=tertiary", "bridge=yes", "layer=1"}, one(network.RoadBridge)},
		{"road bridge without a layer", nil, []string{"highway=tertiary", "bridge=yes"}, one(network.RoadBridge)},
		{"bridge without a layer over a raised road", []string{"layer=1"}, []string{"highway=footway", "bridge=yes"}, one(network.FootBridge)},
		{"road of a higher layer", nil, []string{"highway=tertiary", "layer=1"}, one(network.RoadBridge)},
		{"rail bridge", nil, []string{"railway=rail", "bridge=yes", "layer=1"}, one(network.RailBridge)},
		{"electrified rail bridge", nil, []string{"railway=rail", "bridge=yes", "layer=1", "electrified=contact_line"}, one(network.RailBridge)},
		{"tram viaduct", nil, []string{"railway=tram", "bridge=viaduct"}, one(network.RailBridge)},
		{"foot bridge", nil, []string{"highway=footway", "bridge=yes"}, one(network.FootBridge)},
		{"steps over the road", nil, []string{"highway=steps", "bridge=yes"}, one(network.FootBridge)},
		{"aqueduct", nil, []string{"waterway=canal", "bridge=aqueduct"}, one(network.OtherBridge)},
		{"power line", nil, []string{"power=line"}, one(network.PowerLine)},
		{"minor line", nil, []string{"power=minor_line"}, one(network.MinorPowerLine)},
		{"buried cable", nil, []string{"power=cable"}, nil},
		{"power line under ground", nil, []string{"power=line", "location=underground"}, nil},
		{"communication line", nil, []string{"communication=line"}, one(network.TelecomLine)},
		{"telecom line", nil, []string{"telecom=line"}, one(network.TelecomLine)},
		{"aerialway", nil, []string{"aerialway=gondola"}, one(network.Aerialway)},
		{"pylon of an aerialway", nil, []string{"aerialway=pylon"}, nil},
		{"gantry", nil, []string{"man_made=gantry"}, one(network.Gantry)},
		{"conveyor", nil, []string{"man_made=goods_conveyor"}, one(network.OtherBridge)},
		{"pipe overhead", nil, []string{"man_made=pipeline", "location=overhead"}, one(network.OtherBridge)},
		{"pipe in the ground", nil, []string{"man_made=pipeline"}, nil},
		{"rail that crosses on no node", nil, []string{"railway=rail", "electrified=contact_line"}, one(network.ContactLine)},
		{"dismantled rail", nil, []string{"railway=dismantled", "layer=1"}, nil},
		{"river", nil, []string{"waterway=river"}, nil},
		{"bridge below", []string{"bridge=yes", "layer=2"}, []string{"highway=footway", "bridge=yes", "layer=1"}, nil},
		{"bridge above a bridge", []string{"bridge=yes", "layer=1"}, []string{"railway=rail", "bridge=yes", "layer=2"}, one(network.RailBridge)},
		{"tunnel below", nil, []string{"highway=footway", "tunnel=yes", "layer=-1"}, nil},
		{"bridge=no", nil, []string{"highway=tertiary", "bridge=no"}, nil},
		{"wire over a bridge", []string{"bridge=yes", "layer=2"}, []string{"power=line"}, one(network.PowerLine)},
		{"wire over a tunnel", []string{"tunnel=yes", "layer=-1"}, []string{"power=line"}, whole(network.Tunnel)},
		{"tunnel", []string{"tunnel=yes"}, nil, whole(network.Tunnel)},
		{"culvert", []string{"tunnel=culvert"}, nil, nil},
		{"covered", []string{"covered=yes"}, nil, whole(network.CoveredWay)},
		{"trolleybus", []string{"trolley_wire=yes"}, nil, whole(network.ContactLine)},
		// The kind for it is network.Passage, a way through a building.
		{"building passage", []string{"tunnel=building_passage"}, nil, whole(network.Passage)},
		{"own bridge", []string{"bridge=yes"}, nil, nil},
		{"tunnel under power line and bridge of its own", []string{"covered=yes"}, []string{"highway=footway", "bridge=yes"}, []spotAt{{network.FootBridge, 50, false, at}, {network.CoveredWay, 1, false, middle}}},
	} {
		for _, figure := range []string{"", "maxheight=4.5", "maxheight=default", "maxheight:physical=4.5", "maxheight:conditional=4.5 @ (Sa)"} {
			t.Run(c.name+" "+figure, func(t *testing.T) {
				tags := append([]string{"highway=primary"}, c.road...)
				if figure != "" {
					tags = append(tags, figure)
				}
				s := roadWith(tags...)
				if c.over != nil {
					across(s, 50, at, c.over...)
				}
				n, r := made(t, osm.Options{}, s)
				usable := figure == "maxheight=4.5" || figure == "maxheight:physical=4.5"
				unmeasured, structures := map[string]int{}, map[string]int{}
				want := slices.Clone(c.want)
				if figure != "" && figure != "maxheight=default" { // the sign itself, usable or not
					want = append(want, spotAt{network.PostedHeight, 1, false, middle})
					slices.SortStableFunc(want, func(a, b spotAt) int { return cmp.Or(cmp.Compare(a.lat, b.lat), cmp.Compare(a.kind, b.kind)) })
				}
				for _, w := range c.want {
					structures[w.kind.String()]++
					if !usable {
						unmeasured[w.kind.String()]++
					}
				}
				wantSpots(t, n, want)
				unlike(t, "structures", r.Structures, structures)
				unlike(t, "unmeasured", r.Unmeasured, unmeasured)
				for _, sp := range n.Spots(onlyEdge(t, n, 1)) {
					unlike(t, "what the road under it says", sp.Road, n.RoadID(onlyEdge(t, n, 1)))
				}
			})
		}
	}
}

// A deck drawn as an area (wiki, Tag:man_made=bridge) is under the road that
// it carries, not over it.
func TestOwnBridgeOutline(t *testing.T) {
	s := roadWith("highway=primary", "bridge=yes", "layer=1")
	for i, p := range []orb.Point{{westOf - 0.0001, 45.001}, {westOf + 0.0001, 45.001}, {westOf + 0.0001, 45.009}, {westOf - 0.0001, 45.009}} {
		s.node(int64(31+i), p)
	}
	s.way(50, []int64{31, 32, 33, 34, 31}, "man_made=bridge", "layer=1")
	n, _ := made(t, osm.Options{}, s)
	wantSpots(t, n, nil)
}

func TestNamesOfStructures(t *testing.T) {
	s := roadWith("highway=primary")
	across(s, 50, 45.002, "highway=tertiary", "bridge=yes", "name=Madeup Street", "bridge:name=Madeup Bridge")
	across(s, 51, 45.004, "railway=rail", "bridge=yes", "name=Madeup Line")
	n, _ := made(t, osm.Options{}, s)
	var names []string
	for _, sp := range n.Spots(onlyEdge(t, n, 1)) {
		names = append(names, n.Text(sp.Name))
	}
	unlike(t, "names", names, []string{"Madeup Bridge", "Madeup Line"})
}

// The contact line of a railway hangs over the road where they meet.
func TestContactLineAtLevelCrossing(t *testing.T) {
	for _, c := range []struct {
		electrified string
		want        []spotAt
	}{
		{"contact_line", []spotAt{{network.ContactLine, 50, false, middle}, {network.LevelCrossing, 3, true, middle}}},
		{"rail", []spotAt{{network.LevelCrossing, 3, true, middle}}},
		{"no", []spotAt{{network.LevelCrossing, 3, true, middle}}},
	} {
		s := &sketch{}
		s.node(1, onRoad(southOf))
		s.node(2, onRoad(northOf))
		s.node(3, onRoad(middle), "railway=level_crossing")
		s.node(4, orb.Point{westOf - 0.001, middle})
		s.node(5, orb.Point{westOf + 0.001, middle})
		s.way(1, []int64{1, 3, 2}, "highway=primary")
		s.way(50, []int64{4, 3, 5}, "railway=rail", "electrified="+c.electrified)
		n, _ := made(t, osm.Options{}, s)
		wantSpots(t, n, c.want)
	}
}

func TestBridgeThatSharesANode(t *testing.T) {
	s := &sketch{}
	s.node(1, onRoad(southOf))
	s.node(2, onRoad(northOf))
	s.node(3, onRoad(middle))
	s.node(4, orb.Point{westOf - 0.001, middle})
	s.node(5, orb.Point{westOf + 0.001, middle})
	s.way(1, []int64{1, 3, 2}, "highway=primary")
	s.way(50, []int64{4, 3, 5}, "highway=footway", "bridge=yes")
	n, r := made(t, osm.Options{}, s)
	wantSpots(t, n, nil)
	unlike(t, "structures", r.Structures, map[string]int{})
}

// Nodes of a road and of a bridge may lie at one place without being one.
func TestBridgeNodeAboveRoadNode(t *testing.T) {
	s := &sketch{}
	s.node(1, onRoad(southOf))
	s.node(2, onRoad(northOf))
	s.node(3, onRoad(45.004))
	s.node(4, orb.Point{westOf - 0.001, 45.004})
	s.node(5, orb.Point{westOf + 0.001, 45.004})
	s.node(6, onRoad(45.004))
	s.way(1, []int64{1, 3, 2}, "highway=primary")
	s.way(50, []int64{4, 6, 5}, "highway=footway", "bridge=yes")
	n, _ := made(t, osm.Options{}, s)
	spots := n.Spots(onlyEdge(t, n, 1))
	if len(spots) == 0 {
		t.Error("the bridge is not found")
	}
	for _, sp := range spots {
		if w := geodesic.Between(onRoad(southOf), onRoad(45.004)); math.Abs(float64(sp.Offset-w)) > 0.01 {
			t.Errorf("%v %.2f m along, want %.2f", sp.Kind, float64(sp.Offset), float64(w))
		}
	}
}

// A node of the road that lies right under a bridge is found once.
func TestRoadNodeUnderBridge(t *testing.T) {
	for _, d := range []float64{0, 1e-7, -1e-7} {
		s := &sketch{}
		s.node(1, onRoad(southOf))
		s.node(2, onRoad(northOf))
		s.node(3, onRoad(45.004+d))
		s.way(1, []int64{1, 3, 2}, "highway=primary")
		across(s, 50, 45.004, "railway=rail", "bridge=yes")
		n, _ := made(t, osm.Options{}, s)
		wantSpots(t, n, []spotAt{{network.RailBridge, 50, false, 45.004}})
	}
}

func TestStackedBridges(t *testing.T) {
	s := roadWith("highway=primary")
	across(s, 50, 45.003, "railway=rail", "bridge=yes", "layer=1")
	across(s, 51, 45.006, "highway=secondary", "bridge=yes", "layer=2")
	across(s, 52, 45.006, "highway=footway", "bridge=yes", "layer=1")
	n, r := made(t, osm.Options{}, s)
	wantSpots(t, n, []spotAt{{network.RailBridge, 50, false, 45.003}, {network.RoadBridge, 51, false, 45.006}, {network.FootBridge, 52, false, 45.006}})
	unlike(t, "unmeasured", r.Unmeasured, map[string]int{"rail bridge": 1, "road bridge": 1, "foot bridge": 1})

	// The upper one stands over the lower one too, and not the other way round.
	s = roadWith("highway=primary", "bridge=yes", "layer=1")
	across(s, 51, 45.006, "highway=secondary", "bridge=yes", "layer=2")
	n, _ = made(t, osm.Options{}, s)
	wantSpots(t, n, []spotAt{{network.RoadBridge, 51, false, 45.006}})
	if up := n.Spots(onlyEdge(t, n, 51)); len(up) > 0 {
		t.Errorf("over the upper bridge: %v", up)
	}
}

// A long span that crosses far from its ends, and a road of several parts.
func TestLongSpan(t *testing.T) {
	s := &sketch{}
	s.node(1, onRoad(southOf))
	s.node(3, onRoad(45.002))
	s.node(4, onRoad(45.004))
	s.node(2, onRoad(northOf))
	s.way(1, []int64{1, 3, 4, 2}, "highway=primary")
	s.node(11, orb.Point{westOf - 0.02, 45.0})
	s.node(12, orb.Point{westOf + 0.02, 45.006})
	s.way(50, []int64{11, 12}, "power=line")
	n, _ := made(t, osm.Options{}, s)
	spots := n.Spots(onlyEdge(t, n, 1))
	// A straight line in degrees crosses at 45.003; the great circle bows by
	// half of d² tan(lat) / (2R), some 20 cm for d of 1.6 km.
	w := geodesic.Between(onRoad(southOf), onRoad(45.003))
	if len(spots) != 1 || math.Abs(float64(spots[0].Offset-w)) > 0.5 {
		t.Errorf("%v, want one %v m along", spots, w)
	}
}

// Two roads that cross on the ground without a node: neither is over the other.
func TestCrossingWithoutNode(t *testing.T) {
	s := roadWith("highway=primary")
	across(s, 50, 45.003, "highway=residential")
	n, _ := made(t, osm.Options{}, s)
	wantSpots(t, n, nil)
}

// The crossing for turns: 1 west, 2 east, 3 north, 4 south of node 5. Ways 10
// and 20 run east, 30 and 40 away from node 5.
func crossroads() *sketch {
	s := &sketch{}
	at := func(x, y float64) orb.Point { return orb.Point{westOf + x/100, southOf + y/100} }
	s.node(1, at(-1, 0))
	s.node(2, at(1, 0))
	s.node(3, at(0, 1))
	s.node(4, at(0, -1))
	s.node(5, at(0, 0))
	s.way(10, []int64{1, 5}, "highway=primary")
	s.way(20, []int64{5, 2}, "highway=primary")
	s.way(30, []int64{5, 3}, "highway=primary")
	s.way(40, []int64{5, 4}, "highway=primary")
	// Beyond node 2: 60 on to node 6, 61 drawn back from 8 to 6, 70 and 80 off.
	s.node(6, at(2, 0))
	s.node(7, at(2, 1))
	s.node(8, at(3, 0))
	s.node(9, at(3, 1))
	s.node(16, at(1.5, 0))
	s.node(17, at(1.5, 1))
	s.way(60, []int64{2, 16, 6}, "highway=primary")
	s.way(61, []int64{8, 6}, "highway=primary")
	s.way(70, []int64{6, 7}, "highway=primary")
	s.way(80, []int64{8, 9}, "highway=primary")
	s.way(90, []int64{16, 17}, "highway=primary") // cuts way 60 in two
	return s
}

// sequences writes bans as the ways that they run over, + along and - against
// their lines.
func sequences(n *network.Network) (out []string) {
	for i := range n.Bans() {
		_, arcs := n.Ban(i)
		var parts []string
		for _, a := range arcs {
			sign := "+"
			if a.Reverse() {
				sign = "-"
			}
			parts = append(parts, fmt.Sprint(n.Origin(a.Edge()), sign))
		}
		out = append(out, strings.Join(parts, " "))
	}
	slices.Sort(out)
	return out
}

func from(id int64) memberOf    { return memberOf{"way", id, "from"} }
func to(id int64) memberOf      { return memberOf{"way", id, "to"} }
func viaNode(id int64) memberOf { return memberOf{"node", id, "via"} }
func viaWay(id int64) memberOf  { return memberOf{"way", id, "via"} }

// Turn restrictions (wiki, Relation:restriction).
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		name    string
		members []memberOf
		kind    string
		want    []string
	}{
		{"no by node", []memberOf{from(10), viaNode(5), to(30)}, "no_left_turn", []string{"10+ 30+"}},
		{"no by node, against the line", []memberOf{from(20), viaNode(5), to(10)}, "no_straight_on", []string{"20- 10-"}},
		{"no turning round", []memberOf{from(10), viaNode(5), to(10)}, "no_u_turn", []string{"10+ 10-"}},
		{"only by node", []memberOf{from(10), viaNode(5), to(20)}, "only_straight_on", []string{"10+ 10-", "10+ 30+", "10+ 40+"}},
		{"no by one way", []memberOf{from(20), viaWay(60), to(70)}, "no_left_turn", []string{"20+ 60+ 60+ 70+"}},
		{"no by one way, the other way round", []memberOf{from(70), viaWay(60), to(20)}, "no_right_turn", []string{"70- 60- 60- 20-"}},
		{"no by two ways", []memberOf{from(20), viaWay(60), viaWay(61), to(80)}, "no_left_turn", []string{"20+ 60+ 60+ 61- 80+"}},
		{"no by two ways, listed backwards", []memberOf{from(20), viaWay(61), viaWay(60), to(80)}, "no_left_turn", []string{"20+ 60+ 60+ 61- 80+"}},
		{"only by one way", []memberOf{from(20), viaWay(60), to(70)}, "only_left_turn", []string{"20+ 60+ 60+ 60-", "20+ 60+ 60+ 61-"}},
		{"no entry from several", []memberOf{from(10), from(30), from(40), viaNode(5), to(20)}, "no_entry", []string{"10+ 20+", "30- 20+", "40- 20+"}},
		{"no exit to several", []memberOf{from(10), viaNode(5), to(20), to(30)}, "no_exit", []string{"10+ 20+", "10+ 30+"}},
		{"members in another order", []memberOf{to(30), viaNode(5), from(10)}, "no_left_turn", []string{"10+ 30+"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := crossroads()
			s.relation(500, c.members, "type=restriction", "restriction="+c.kind)
			n, r := made(t, osm.Options{}, s)
			unlike(t, "bans", sequences(n), c.want)
			if len(r.Turns.Dropped) > 0 || r.Turns.Relations != 1 || r.Turns.Plain != 1 || r.Turns.Bans != len(c.want) || r.Turns.Kinds[c.kind] != 1 {
				t.Errorf("%+v", r.Turns)
			}
			for i := range n.Bans() {
				if b, _ := n.Ban(i); b.OSM != 500 || b.For != network.MotorVehicles || b.Except != 0 || n.Text(b.When) != "" {
					t.Errorf("%+v", b)
				}
			}
		})
	}
}

// A one-way street leaves one reading of a way that both ends could mean.
func TestTurnAtOneway(t *testing.T) {
	s := crossroads()
	s.version = 2
	s.way(30, []int64{3, 5, 40}, "highway=primary", "oneway=yes")
	s.node(40, orb.Point{westOf, southOf - 0.005})
	s.relation(500, []memberOf{from(10), viaNode(5), to(30)}, "type=restriction", "restriction=no_right_turn")
	n, r := made(t, osm.Options{}, s)
	unlike(t, "bans", sequences(n), []string{"10+ 30+"})
	unlike(t, "dropped", r.Turns.Dropped, []osm.Dropped(nil))
}

// Whom a restriction binds, and when.
func TestTurnScope(t *testing.T) {
	for _, c := range []struct {
		tags   []string
		mode   network.Mode
		except uint16
		when   string
		others int
	}{
		{[]string{"restriction=no_left_turn", "except=hgv;psv"}, network.MotorVehicles, 1 << network.HeavyGoods, "", 0},
		{[]string{"restriction=no_left_turn", "except=psv"}, network.MotorVehicles, 0, "", 0},
		{[]string{"restriction=no_left_turn", "except=motorcar; caravan"}, network.MotorVehicles, 1<<network.Motorcars | 1<<network.Caravans, "", 0},
		{[]string{"restriction:hgv=no_left_turn"}, network.HeavyGoods, 0, "", 0},
		{[]string{"restriction:caravan=no_left_turn"}, network.Caravans, 0, "", 0},
		{[]string{"restriction:conditional=no_left_turn @ (Mo-Fr 07:00-09:00)"}, network.MotorVehicles, 0, "Mo-Fr 07:00-09:00", 0},
		{[]string{"restriction:hgv:conditional=no_left_turn @ (22:00-06:00)"}, network.HeavyGoods, 0, "22:00-06:00", 0},
		{[]string{"restriction:bicycle=no_left_turn"}, 0, 0, "", 1},
		{[]string{"restriction:bus=no_left_turn"}, 0, 0, "", 1},
	} {
		s := crossroads()
		s.relation(500, []memberOf{from(10), viaNode(5), to(30)}, append([]string{"type=restriction"}, c.tags...)...)
		n, r := made(t, osm.Options{}, s)
		if r.Turns.Others != c.others || n.Bans() != 1-c.others || len(r.Turns.Dropped) > 0 {
			t.Errorf("%v: %d bans, %+v", c.tags, n.Bans(), r.Turns)
			continue
		}
		if c.others > 0 {
			continue
		}
		b, _ := n.Ban(0)
		when := strings.TrimSuffix(strings.TrimPrefix(n.Text(b.When), "("), ")") // brackets may stay
		if b.For != c.mode || b.Except != c.except || when != c.when {
			t.Errorf("%v: for %v, except %b, when %q", c.tags, b.For, b.Except, when)
		}
		unlike(t, fmt.Sprint(c.tags), sequences(n), []string{"10+ 30+"})
	}
	// Two rules in one relation.
	s := crossroads()
	s.relation(500, []memberOf{from(10), viaNode(5), to(30)}, "type=restriction", "restriction:hgv=no_left_turn", "restriction:caravan=no_left_turn")
	n, _ := made(t, osm.Options{}, s)
	unlike(t, "two rules", sequences(n), []string{"10+ 30+", "10+ 30+"})
}

func TestDroppedTurns(t *testing.T) {
	for _, c := range []struct {
		name    string
		kind    string
		members []memberOf
		reason  string
	}{
		{"kind", "perhaps_left", []memberOf{from(10), viaNode(5), to(30)}, "no known kind"},
		{"no from", "no_left_turn", []memberOf{viaNode(5), to(30)}, "a member is missing"},
		{"no via", "no_left_turn", []memberOf{from(10), to(30)}, "a member is missing"},
		{"no to", "no_left_turn", []memberOf{from(10), viaNode(5)}, "a member is missing"},
		{"from in no extract", "no_left_turn", []memberOf{from(999), viaNode(5), to(30)}, "no road of the extracts"},
		{"to in no extract", "no_left_turn", []memberOf{from(10), viaNode(5), to(999)}, "no road of the extracts"},
		{"via in no extract", "no_left_turn", []memberOf{from(10), viaNode(999), to(30)}, "via node is on no road"},
		{"via elsewhere", "no_left_turn", []memberOf{from(10), viaNode(6), to(30)}, "does not meet the via node"},
		{"via way in no extract", "no_left_turn", []memberOf{from(20), viaWay(999), to(70)}, "no chain of roads"},
		{"via ways apart", "no_left_turn", []memberOf{from(20), viaWay(60), viaWay(30), to(70)}, "no chain of roads"},
		{"via way elsewhere", "no_left_turn", []memberOf{from(10), viaWay(61), to(30)}, "do not meet the via ways"},
		{"to runs through", "only_left_turn", []memberOf{from(90), viaNode(16), to(60)}, "two turns could be meant"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := crossroads()
			s.relation(500, c.members, "type=restriction", "restriction="+c.kind)
			n, r := made(t, osm.Options{}, s)
			if n.Bans() != 0 || r.Turns.Bans != 0 || len(r.Turns.Dropped) != 1 {
				t.Fatalf("%d bans, %+v", n.Bans(), r.Turns)
			}
			if d := r.Turns.Dropped[0]; d.ID != 500 || d.Kind != c.kind || !strings.Contains(d.Reason, c.reason) {
				t.Errorf("%+v, want a reason with %q", d, c.reason)
			}
		})
	}
}

// bytesOf is the network file.
func bytesOf(t testing.TB, n *network.Network) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := n.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// whatever the order of the extracts, the network is the same.
func bothOrders(t *testing.T, one, two *sketch, look func(t *testing.T, n *network.Network, r *osm.Report)) {
	t.Helper()
	files := paths(t, one, two)
	n, r := imported(t, osm.Options{}, files...)
	m, q := imported(t, osm.Options{}, files[1], files[0])
	t.Run("older first", func(t *testing.T) { look(t, n, r) })
	t.Run("newer first", func(t *testing.T) { look(t, m, q) })
	if !bytes.Equal(bytesOf(t, n), bytesOf(t, m)) {
		t.Errorf("the network depends on the order of the extracts: revisions %s and %s", n.About.Revision, m.About.Revision)
	}
	unlike(t, "report", q, r)
}

func TestMergeNeighbours(t *testing.T) {
	t.Run("a road in both", func(t *testing.T) {
		one, two := roadWith("highway=primary", "name=Madeup Way"), roadWith("highway=primary", "name=Madeup Way")
		for i, s := range []*sketch{one, two} {
			id := int64(3 + i)
			s.node(id, orb.Point{westOf + 0.001*float64(id), southOf})
			s.way(id, []int64{1, id}, "highway=service", fmt.Sprintf("name=Invented Lane %d", id))
		}
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, r *osm.Report) {
			if n.Edges() != 3 || len(n.Node) != 4 || r.JoinedTwice != 1 || r.Islands != 0 || r.Roads != 3 {
				t.Errorf("%d edges, %d nodes, %d twice, %d islands, %d roads", n.Edges(), len(n.Node), r.JoinedTwice, r.Islands, r.Roads)
			}
		})
	})
	// Strings and records of the two must not be numbered in the order of reading.
	t.Run("signs of their own", func(t *testing.T) {
		one, two := roadWith("highway=primary", "hgv=no", "surface=asphalt"), &sketch{}
		two.node(3, orb.Point{westOf + 0.001, southOf})
		two.node(4, orb.Point{westOf + 0.002, southOf})
		two.way(2, []int64{3, 4}, "highway=service", "maxheight=3.5", "surface=gravel")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			if n.Edges() != 2 {
				t.Errorf("%d edges", n.Edges())
			}
		})
	})
	t.Run("a newer way", func(t *testing.T) {
		one, two := roadWith("highway=primary", "name=Old Way", "maxheight=3"), &sketch{version: 2}
		two.node(1, onRoad(southOf))
		two.node(2, onRoad(northOf))
		two.way(1, []int64{1, 2}, "highway=secondary", "name=New Way")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			e := onlyEdge(t, n, 1)
			if n.Class[e] != network.Secondary || n.Name(e) != "New Way" || len(recordOf(n, e).Signs) > 0 || len(n.Spots(e)) > 0 {
				t.Errorf("%v %q %v", n.Class[e], n.Name(e), recordOf(n, e).Signs)
			}
		})
	})
	t.Run("a value that the newer way mended", func(t *testing.T) {
		one, two := roadWith("highway=primary", "maxheight=tall"), &sketch{version: 2}
		two.node(1, onRoad(southOf))
		two.node(2, onRoad(northOf))
		two.way(1, []int64{1, 2}, "highway=primary", "maxheight=4")
		bothOrders(t, one, two, func(t *testing.T, _ *network.Network, r *osm.Report) {
			unlike(t, "not read", r.Malformed, []osm.Malformed{})
		})
	})
	t.Run("a node that moved", func(t *testing.T) {
		one, two := roadWith("highway=primary"), &sketch{version: 2}
		two.node(2, onRoad(45.02))
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			if e, want := onlyEdge(t, n, 1), geodesic.Between(onRoad(southOf), onRoad(45.02)); n.Length[e] != want {
				t.Errorf("%v long, want %v", n.Length[e], want)
			}
		})
	})
	t.Run("a barrier that went", func(t *testing.T) {
		one, two := &sketch{}, &sketch{version: 2}
		one.node(1, onRoad(southOf))
		one.node(2, onRoad(northOf))
		one.node(3, onRoad(middle), "barrier=bollard")
		one.way(1, []int64{1, 3, 2}, "highway=service")
		two.node(3, onRoad(middle))
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) { wantSpots(t, n, nil) })
	})
	t.Run("a barrier that came", func(t *testing.T) {
		one, two := &sketch{}, &sketch{version: 2}
		one.node(1, onRoad(southOf))
		one.node(2, onRoad(northOf))
		one.node(3, onRoad(middle), "barrier=gate")
		one.way(1, []int64{1, 3, 2}, "highway=service")
		two.node(3, onRoad(middle), "barrier=bollard")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			wantSpots(t, n, []spotAt{{network.Blocked, 3, true, middle}})
		})
	})
	t.Run("a way that is no road any more", func(t *testing.T) {
		one, two := roadWith("highway=primary"), &sketch{version: 2}
		one.node(3, orb.Point{westOf + 0.001, southOf})
		one.way(3, []int64{1, 3}, "highway=service")
		two.way(1, []int64{1, 2}, "highway=footway")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			if got := edgesOf(n, 1); len(got) > 0 {
				t.Errorf("it still is one: %v", got)
			}
		})
	})
	t.Run("a bridge that was built away", func(t *testing.T) {
		one, two := roadWith("highway=primary"), &sketch{version: 2}
		across(one, 50, middle, "highway=footway", "bridge=yes")
		two.way(50, []int64{501, 502}, "highway=footway")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) { wantSpots(t, n, nil) })
	})
	t.Run("a place that is none any more", func(t *testing.T) {
		one, two := roadWith("highway=primary"), &sketch{version: 2}
		one.node(9, onRoad(middle), "amenity=fuel")
		two.node(9, onRoad(middle), "shop=books")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			for p := range n.Places() {
				t.Errorf("%+v", p)
			}
		})
	})
	t.Run("a turn that may be taken again", func(t *testing.T) {
		one, two := crossroads(), &sketch{version: 2}
		one.relation(500, []memberOf{from(10), viaNode(5), to(30)}, "type=restriction", "restriction=no_left_turn")
		two.relation(500, []memberOf{from(10), viaNode(5), to(40)}, "type=restriction", "restriction=no_right_turn")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			unlike(t, "bans", sequences(n), []string{"10+ 40+"})
		})
	})
	t.Run("a relation that is no restriction any more", func(t *testing.T) {
		one, two := crossroads(), &sketch{version: 2}
		one.relation(500, []memberOf{from(10), viaNode(5), to(30)}, "type=restriction", "restriction=no_left_turn")
		two.relation(500, []memberOf{from(10), viaNode(5), to(30)}, "type=note")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			unlike(t, "bans", sequences(n), []string(nil))
		})
	})
	t.Run("a numbered route that left the road", func(t *testing.T) {
		one, two := roadWith("highway=primary"), &sketch{version: 2}
		one.relation(600, []memberOf{{"way", 1, ""}}, "type=route", "route=road", "network=XA:test", "ref=7")
		two.relation(600, []memberOf{{"way", 99, ""}}, "type=route", "route=road", "network=XA:test", "ref=7")
		bothOrders(t, one, two, func(t *testing.T, n *network.Network, _ *osm.Report) {
			if got := n.Text(recordOf(n, onlyEdge(t, n, 1)).Signed); got != "" {
				t.Errorf("signed %q", got)
			}
		})
	})
}

// Nodes that are in no extract split a road, and are counted.
func TestMissingNodes(t *testing.T) {
	s := &sketch{}
	lat := func(i int64) float64 { return southOf + float64(i)/1000 }
	for _, i := range []int64{1, 2, 3, 5, 6, 8} {
		s.node(i, onRoad(lat(i)))
	}
	s.way(1, []int64{1, 2, 3, 4, 5, 6, 7, 8}, "highway=primary")
	n, r := made(t, osm.Options{}, s)
	es := edgesOf(n, 1)
	if len(es) != 2 || r.MissingNodes != 2 || r.Edges != 2 || r.Roads != 1 {
		t.Fatalf("%d edges, %d nodes missing", len(es), r.MissingNodes)
	}
	for i, ends := range [][2]int64{{1, 3}, {5, 6}} {
		if want := geodesic.Between(onRoad(lat(ends[0])), onRoad(lat(ends[1]))); math.Abs(float64(n.Length[es[i]]-want)) > 1e-6 {
			t.Errorf("part %d is %v, want %v", i+1, n.Length[es[i]], want)
		}
	}
	// The data ends beside the nodes that are missing, not where a driveway does; a road that
	// leads on ends it anyhow.
	for highway, want := range map[string][]int64{"service": {3, 5, 6}, "primary": {1, 3, 5, 6}} {
		cut := &sketch{}
		for _, i := range []int64{1, 2, 3, 5, 6, 8} {
			cut.node(i, onRoad(lat(i)))
		}
		cut.way(1, []int64{1, 2, 3, 4, 5, 6, 7, 8}, "highway="+highway)
		n, _ := made(t, osm.Options{}, cut)
		var got []int64
		for _, id := range n.DataEnds() {
			got = append(got, int64(math.Round((n.Node[id].Lat()-southOf)*1000)))
		}
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Errorf("%s: the data ends at %v, want %v", highway, got, want)
		}
	}
	// A road without any node is none.
	s = roadWith("highway=primary")
	s.way(2, []int64{101, 102}, "highway=primary")
	n, r = made(t, osm.Options{}, s)
	if n.Edges() != 1 || r.Roads != 1 || r.MissingNodes != 2 {
		t.Errorf("%d edges of %d roads, %d nodes missing", n.Edges(), r.Roads, r.MissingNodes)
	}
}

// Nodes that repeat, at one place or by id, make no edge of their own; a road
// that meets itself is cut there.
func TestOddLines(t *testing.T) {
	s := roadWith("highway=primary")
	s.node(3, onRoad(southOf))
	s.node(4, onRoad(middle))
	s.version = 2
	s.way(1, []int64{1, 1, 3, 4, 4, 2}, "highway=primary")
	n, _ := made(t, osm.Options{}, s)
	total := measure.Distance(0)
	for _, e := range edgesOf(n, 1) {
		if n.Length[e] == 0 {
			t.Error("an edge without length")
		}
		total += n.Length[e]
	}
	if want := geodesic.Between(onRoad(southOf), onRoad(northOf)); math.Abs(float64(total-want)) > 1e-6 {
		t.Errorf("%v long, want %v", total, want)
	}
	s = &sketch{}
	s.node(1, orb.Point{westOf, southOf})
	s.node(2, orb.Point{westOf + 0.01, southOf})
	s.node(3, orb.Point{westOf + 0.02, southOf + 0.01})
	s.node(4, orb.Point{westOf + 0.02, southOf - 0.01})
	s.way(1, []int64{1, 2, 3, 4, 2}, "highway=primary")
	n, _ = made(t, osm.Options{}, s)
	if es := edgesOf(n, 1); len(es) != 2 || n.From[es[1]] != n.To[es[1]] || n.To[es[0]] != n.From[es[1]] {
		t.Errorf("a lollipop became %d edges", len(es))
	}
	s = &sketch{}
	s.node(1, orb.Point{westOf, southOf})
	s.node(2, orb.Point{westOf, southOf})
	s.way(1, []int64{1, 2}, "highway=primary")
	if _, _, err := osm.Build(t.Context(), paths(t, s), osm.Options{}); err != nil {
		t.Errorf("a road without length: %v", err)
	}
}

func square(west, south, east, north float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
}

// invented are three square jurisdictions that meet at 60 W; XA-CC lies apart.
func invented(t testing.TB, tolerance float64) *area.Index {
	t.Helper()
	of := func(code, zone string, g orb.MultiPolygon) area.Area {
		return area.Area{Jurisdiction: area.Jurisdiction{Code: code, Name: code + " (invented)", Country: "XA", TimeZone: zone}, Geometry: g}
	}
	ix, err := area.New([]area.Area{
		of("XA-AA", "America/Toronto", square(-61, 44, -60, 46)),
		of("XA-BB", "America/Winnipeg", square(-60, 44, -59, 46)),
		of("XA-CC", "America/Halifax", square(-50, 44, -49, 46)),
	}, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// eastward is way 1 along the 45th parallel from 0.02 degrees west of the
// border to 0.01 east of it.
func eastward(tags ...string) (s *sketch, west, east orb.Point) {
	s = &sketch{}
	west, east = orb.Point{-60.02, 45}, orb.Point{-59.99, 45}
	s.node(1, west)
	s.node(2, east)
	s.way(1, []int64{1, 2}, append([]string{"highway=primary"}, tags...)...)
	return s, west, east
}

func TestBorderCuts(t *testing.T) {
	for _, tolerance := range []float64{0, 10, 50} {
		t.Run(fmt.Sprint(tolerance), func(t *testing.T) {
			s, west, east := eastward()
			across := func(id int64, lon float64) { // bridges on either side of the border
				s.node(10*id+1, orb.Point{lon, 44.999})
				s.node(10*id+2, orb.Point{lon, 45.001})
				s.way(id, []int64{10*id + 1, 10*id + 2}, "railway=rail", "bridge=yes")
			}
			across(50, -60.015)
			across(51, -59.995)
			n, r := made(t, osm.Options{Areas: invented(t, tolerance)}, s)
			border := orb.Point{-60, 45}
			before, after := float64(geodesic.Between(west, border)), float64(geodesic.Between(border, east))
			type part struct {
				codes, zone string
				metres      float64
			}
			want := []part{{"XA-AA", "America/Toronto", before}, {"XA-BB", "America/Winnipeg", after}}
			if tolerance > 0 {
				want = []part{{"XA-AA", "America/Toronto", before - tolerance}, {"XA-AA XA-BB", "America/Toronto", 2 * tolerance}, {"XA-BB", "America/Winnipeg", after - tolerance}}
			}
			es := edgesOf(n, 1)
			slack := 1 + 0.007*tolerance // a metre, and a sphere that is up to 0.6 % off
			if tolerance > 0 && len(es) == 2 {
				// Where both sides are answered is narrower than the steps in which
				// a road is asked, so it may be passed over.
				want = []part{{"XA-AA", "America/Toronto", before}, {"XA-BB", "America/Winnipeg", after}}
				slack = 1 + tolerance*1.007
			}
			if len(es) != len(want) {
				t.Fatalf("%d parts, want %d", len(es), len(want))
			}
			total := 0.0
			for i, e := range es {
				codes := strings.Join(n.Jurisdictions(e), " ")
				if codes != want[i].codes || n.Zone(e) != want[i].zone || math.Abs(float64(n.Length[e])-want[i].metres) > 2*slack {
					t.Errorf("part %d: %s, %s, %v m; want %+v", i+1, codes, n.Zone(e), float64(n.Length[e]), want[i])
				}
				if i > 0 && n.To[es[i-1]] != n.From[e] {
					t.Errorf("part %d does not start where the one before ends", i+1)
				}
				total += float64(n.Length[e])
			}
			if whole := float64(geodesic.Between(west, east)); math.Abs(total-whole) > 0.01 {
				t.Errorf("the parts are %v m, the road is %v", total, whole)
			}
			if first := float64(n.Length[es[0]]); math.Abs(first-want[0].metres) > slack {
				t.Errorf("the first part is %v m, want %v", first, want[0].metres)
			}
			// Each bridge is on the part that runs under it, at its place.
			last := es[len(es)-1]
			for _, c := range []struct {
				e     network.EdgeID
				osm   int64
				start float64
				lon   float64
			}{{es[0], 50, 0, -60.015}, {last, 51, total - float64(n.Length[last]), -59.995}} {
				sp := n.Spots(c.e)
				at := float64(geodesic.Between(west, orb.Point{c.lon, 45}))
				if len(sp) != 1 || sp[0].OSM != c.osm || math.Abs(c.start+float64(sp[0].Offset)-at) > 0.1 {
					t.Errorf("bridge %d: %+v from %v; want it %v along", c.osm, sp, c.start, at)
				}
			}
			if r.Structures["rail bridge"] != 2 {
				t.Errorf("%v", r.Structures)
			}
			km := 0.0
			for _, v := range r.KilometresByJurisdiction {
				km += v
			}
			if math.Abs(km*1000-total) > 0.01 || len(r.KilometresByJurisdiction) != len(want) {
				t.Errorf("%v", r.KilometresByJurisdiction)
			}
		})
	}
}

// Near a border both sides are answered, so that no stretch of road is given to
// the wrong side alone.
func TestNoStretchOnTheWrongSide(t *testing.T) {
	for _, tolerance := range []float64{0, 10, 30, 50, 200, 1000} {
		s, _, _ := eastward()
		n, _ := made(t, osm.Options{Areas: invented(t, tolerance)}, s)
		for _, e := range edgesOf(n, 1) {
			wrong := 0
			for d := measure.Distance(0); d <= n.Length[e]; d++ {
				p := n.Point(network.Position{Edge: e, Offset: d})
				side := "XA-AA"
				if p.Lon() > -60 {
					side = "XA-BB"
				}
				if math.Abs(p.Lon()+60) > 2e-5 && !slices.Contains(n.Jurisdictions(e), side) { // 1.6 m
					wrong++
				}
			}
			if wrong > 0 {
				t.Errorf("tolerance %v m: %d m of %s are given to %v alone", tolerance, wrong, map[bool]string{true: "XA-AA", false: "XA-BB"}[n.Jurisdictions(e)[0] == "XA-BB"], n.Jurisdictions(e))
			}
		}
	}
}

// A turn from a road that is cut at a border bans its last part.
func TestTurnNextToBorder(t *testing.T) {
	s, _, east := eastward()
	s.node(3, orb.Point{east.Lon(), 45.01})
	s.way(2, []int64{2, 3}, "highway=primary")
	s.relation(500, []memberOf{from(1), viaNode(2), to(2)}, "type=restriction", "restriction=no_left_turn")
	n, r := made(t, osm.Options{Areas: invented(t, 0)}, s)
	unlike(t, "bans", sequences(n), []string{"1+ 2+"})
	if _, arcs := n.Ban(0); arcs[0].Edge() != edgesOf(n, 1)[1] || len(r.Turns.Dropped) > 0 {
		t.Errorf("%v, %v", arcs, r.Turns.Dropped)
	}
}

// outline adds a boundary relation of two ways around a rectangle.
func outline(s *sketch, id int64, west, south, east, north float64, tags ...string) {
	for i, p := range square(west, south, east, north)[0][0][:4] {
		s.node(10*id+int64(i), p)
	}
	s.way(10*id, []int64{10 * id, 10*id + 1, 10*id + 2})
	s.way(10*id+1, []int64{10 * id, 10*id + 3, 10*id + 2}) // drawn the other way round
	s.relation(id, []memberOf{{"way", 10 * id, "outer"}, {"way", 10*id + 1, "outer"}}, append([]string{"type=boundary", "boundary=administrative"}, tags...)...)
}

// ownTolerance is how far from its own borders an import answers both sides, in
// metres, as it says.
const ownTolerance = 30.0

func TestTown(t *testing.T) {
	s, west, _ := eastward()
	outline(s, 700, -60.01, 44.99, -59.9, 45.01, "admin_level=8", "name=Newmade")
	n, r := made(t, osm.Options{Areas: invented(t, 0)}, s)
	var towns []string
	for _, e := range edgesOf(n, 1) {
		towns = append(towns, strings.Join(n.Jurisdictions(e), " ")+" "+n.Town(e))
	}
	unlike(t, "towns", towns, []string{"XA-AA ", "XA-AA Newmade", "XA-BB Newmade"})
	want := float64(geodesic.Between(west, orb.Point{-60.01, 45})) - ownTolerance
	if got := float64(n.Length[edgesOf(n, 1)[0]]); math.Abs(got-want) > 1.5 {
		t.Errorf("the town begins after %v m, want %v", got, want)
	}
	unlike(t, "boundaries", r.Boundaries, map[string]int{"level 8": 1})
}

// The border that the extract draws is finer than the shipped one (wiki,
// Tag:boundary=administrative).
func TestOwnProvince(t *testing.T) {
	s, west, _ := eastward()
	outline(s, 700, -60.005, 44.9, -59.9, 45.1, "admin_level=4", "name=Madeup Province", "ISO3166-2=XA-CC")
	n, r := made(t, osm.Options{Areas: invented(t, 0)}, s)
	var got []string
	for _, e := range edgesOf(n, 1) {
		got = append(got, strings.Join(n.Jurisdictions(e), " ")+" "+n.Zone(e))
	}
	// Near the border of the extract the shipped polygons count too; that one of
	// theirs, at 60 W, is well inside and must not.
	unlike(t, "areas", got, []string{"XA-AA America/Toronto", "XA-AA XA-CC America/Toronto", "XA-CC America/Halifax"})
	want := float64(geodesic.Between(west, orb.Point{-60.005, 45}))
	if first := float64(n.Length[edgesOf(n, 1)[0]]); math.Abs(first-(want-ownTolerance)) > 1.5 {
		t.Errorf("the province begins after %v m, want %v", first, want-ownTolerance)
	}
	unlike(t, "boundaries", r.Boundaries, map[string]int{"level 4": 1})
}

func TestBoundariesThatCannotBeUsed(t *testing.T) {
	missingWay := func(s *sketch, id int64, tags ...string) {
		outline(s, id, -60.01, 44.9, -59.9, 45.1, tags...)
		s.version = 2
		s.relation(id, []memberOf{{"way", 10 * id, "outer"}, {"way", 10*id + 1, "outer"}, {"way", 99999, "outer"}}, append([]string{"type=boundary", "boundary=administrative"}, tags...)...)
		s.version = 1
	}
	open := func(s *sketch, id int64, tags ...string) {
		outline(s, id, -60.01, 44.9, -59.9, 45.1, tags...)
		s.version = 2
		s.relation(id, []memberOf{{"way", 10 * id, "outer"}}, append([]string{"type=boundary", "boundary=administrative"}, tags...)...)
		s.version = 1
	}
	missingNode := func(s *sketch, id int64, tags ...string) {
		outline(s, id, -60.01, 44.9, -59.9, 45.1, tags...)
		s.version = 2
		s.way(10*id, []int64{10 * id, 99998, 10*id + 2})
		s.version = 1
	}
	whole := func(s *sketch, id int64, tags ...string) { outline(s, id, -60.01, 44.9, -59.9, 45.1, tags...) }
	for _, c := range []struct {
		name  string
		draw  func(s *sketch, id int64, tags ...string)
		tags  []string
		count map[string]int
	}{
		{"town, way missing", missingWay, []string{"admin_level=8", "name=Newmade"}, map[string]int{"level 8 incomplete": 1}},
		{"town, not closed", open, []string{"admin_level=8", "name=Newmade"}, map[string]int{"level 8 incomplete": 1}},
		{"town, node missing", missingNode, []string{"admin_level=8", "name=Newmade"}, map[string]int{"level 8 incomplete": 1}},
		{"province, way missing", missingWay, []string{"admin_level=4", "name=Madeup Province", "ISO3166-2=XA-CC"}, map[string]int{"level 4 incomplete": 1}},
		{"province without a code", whole, []string{"admin_level=4", "name=Madeup Province"}, map[string]int{"level 4 without a code of its own": 1}},
		{"nation", whole, []string{"admin_level=2", "name=Madeup Land"}, map[string]int{}},
		{"no name", whole, []string{"admin_level=8"}, map[string]int{}},
		{"no level", whole, []string{"name=Newmade"}, map[string]int{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _, _ := eastward()
			c.draw(s, 700, c.tags...)
			n, r := made(t, osm.Options{Areas: invented(t, 0)}, s)
			unlike(t, "boundaries", r.Boundaries, c.count)
			var got []string
			for _, e := range edgesOf(n, 1) {
				got = append(got, strings.Join(n.Jurisdictions(e), " ")+n.Town(e))
			}
			unlike(t, "areas", got, []string{"XA-AA", "XA-BB"})
		})
	}
}

// A boundary that is drawn badly must not take the import down.
func TestDegenerateBoundary(t *testing.T) {
	for name, refs := range map[string][]int64{
		"there and back": {31, 32, 33, 32, 31}, "a node twice": {31, 31, 32, 33, 31}, "a bow": {31, 33, 32, 34, 31}, "a point": {31, 31, 31, 31},
	} {
		t.Run(name, func(t *testing.T) {
			s, _, _ := eastward()
			for i, p := range square(-60.01, 44.9, -59.9, 45.1)[0][0][:4] {
				s.node(int64(31+i), p)
			}
			s.way(50, refs)
			s.relation(700, []memberOf{{"way", 50, "outer"}}, "boundary=administrative", "admin_level=8", "name=Newmade")
			if _, _, err := osm.Build(t.Context(), paths(t, s), osm.Options{Areas: invented(t, 0)}); err != nil {
				t.Error(err)
			}
		})
	}
}

// Route relations say in which network a road is numbered (wiki,
// Relation:route).
func TestNumberedRoutes(t *testing.T) {
	s := roadWith("highway=primary", "network=said by the road")
	s.node(3, orb.Point{westOf + 0.001, southOf})
	s.way(3, []int64{1, 3}, "highway=primary", "network=XA:own")
	member := []memberOf{{"way", 1, ""}}
	s.relation(600, member, "type=route", "route=road", "network=XA:test", "ref=7")
	s.relation(601, member, "type=route", "route=road", "network=XA:old")
	s.relation(602, member, "type=route", "route=bus", "network=XA:bus", "ref=1")
	s.relation(603, member, "type=route", "route=road", "ref=9")
	n, _ := made(t, osm.Options{}, s)
	if got := n.Text(recordOf(n, onlyEdge(t, n, 1)).Signed); got != "XA:old;XA:test 7" {
		t.Errorf("signed %q", got)
	}
	if got := n.Text(recordOf(n, onlyEdge(t, n, 3)).Signed); got != "XA:own" {
		t.Errorf("signed %q", got)
	}
}

// Places and stops (wiki, Key:place, Tag:amenity=fuel, Tag:highway=rest_area,
// Tag:amenity=parking, Tag:amenity=weighbridge).
func TestPlaces(t *testing.T) {
	s, _, _ := eastward()
	west := orb.Point{-60.5, 45}
	s.node(101, west, "place=city", "name=Newmade", "population=12345")
	s.node(102, west, "place=town", "name=Lesser Newmade", "population=many")
	s.node(103, west, "place=village")
	s.node(104, orb.Point{-59.5, 45}, "amenity=fuel", "name=Madeup Fuel")
	s.node(105, west, "highway=rest_area")
	s.node(106, west, "highway=services", "name=Madeup Plaza")
	s.node(107, west, "amenity=parking", "hgv=yes")
	s.node(108, west, "amenity=parking")
	s.node(109, west, "amenity=weighbridge")
	s.node(110, west, "amenity=parking", "hgv=no")
	s.node(111, west, "place=hamlet", "name=Least Newmade")
	for i, p := range square(-60.2, 44.8, -60.1, 44.9)[0][0][:4] {
		s.node(int64(121+i), p)
	}
	s.way(60, []int64{121, 122, 123, 124}, "amenity=fuel")
	s.way(61, []int64{991, 992}, "amenity=fuel") // its nodes are in no extract
	n, r := made(t, osm.Options{Areas: invented(t, 0)}, s)
	got := map[int64]network.Place{}
	for p := range n.Places() {
		got[p.OSM] = p
	}
	aa := []string{"XA-AA"}
	want := map[int64]network.Place{
		101: {Kind: network.City, Name: "Newmade", Population: 12345}, 102: {Kind: network.TownPlace, Name: "Lesser Newmade"},
		104: {Kind: network.FuelStation, Name: "Madeup Fuel", Point: orb.Point{-59.5, 45}, Jurisdictions: []string{"XA-BB"}},
		105: {Kind: network.RestArea}, 106: {Kind: network.ServiceArea, Name: "Madeup Plaza"}, 107: {Kind: network.TruckParking}, 109: {Kind: network.WeighStation},
		111: {Kind: network.Hamlet, Name: "Least Newmade"}, 60: {Kind: network.FuelStation, Point: orb.Point{-60.15, 44.85}},
	}
	for id, p := range want {
		if p.OSM, p.OnNode = id, id != 60; p.Point == (orb.Point{}) {
			p.Point = west
		}
		if p.Jurisdictions == nil {
			p.Jurisdictions = aa
		}
		want[id] = p
	}
	near := godiff.Comparer(func(a, b orb.Point) bool { return math.Abs(a[0]-b[0]) < 1e-9 && math.Abs(a[1]-b[1]) < 1e-9 })
	if d := godiff.Diff(want, got, near, cmpopts.IgnoreTypes(network.Ground{})); d != "" {
		t.Errorf("places (-want +got):\n%s", d)
	}
	unlike(t, "counted", r.Places, map[string]int{
		"city": 1, "town": 1, "hamlet": 1, "fuel station": 2, "rest area": 1, "service area": 1, "truck parking": 1, "weigh station": 1,
	})
	// A closed outline names its first corner twice; its middle is the same.
	s, _, _ = eastward()
	for i, p := range square(-60.2, 44.8, -60.1, 44.9)[0][0][:4] {
		s.node(int64(121+i), p)
	}
	s.way(60, []int64{121, 122, 123, 124, 121}, "amenity=fuel")
	n, _ = made(t, osm.Options{}, s)
	for p := range n.Places() {
		if math.Abs(p.Point[0]+60.15) > 1e-9 || math.Abs(p.Point[1]-44.85) > 1e-9 {
			t.Errorf("the middle of a closed square is at %v", p.Point)
		}
	}
}

func TestIslands(t *testing.T) {
	s := crossroads()
	s.node(201, orb.Point{westOf, 46})
	s.node(202, orb.Point{westOf, 46.01})
	s.node(203, orb.Point{westOf, 46.02})
	s.node(204, orb.Point{westOf + 1, 46})
	s.node(205, orb.Point{westOf + 1, 46.01})
	s.way(101, []int64{201, 202}, "highway=primary")
	s.way(102, []int64{202, 203}, "highway=primary")
	s.way(103, []int64{204, 205}, "highway=primary")
	_, r := made(t, osm.Options{}, s)
	want := float64(geodesic.Between(orb.Point{0, 46}, orb.Point{0, 46.02})+geodesic.Between(orb.Point{0, 46}, orb.Point{0, 46.01})) / 1000
	if r.Islands != 2 || r.IslandEdges != 3 || math.Abs(r.IslandKm-want) > 1e-6 {
		t.Errorf("%d islands, %d edges, %v km; want 2, 3, %v", r.Islands, r.IslandEdges, r.IslandKm, want)
	}
}

// The report is in the network.
func TestReport(t *testing.T) {
	s := roadWith("highway=primary", "maxheight=12")
	n, r := made(t, osm.Options{}, s)
	var kept osm.Report
	if err := json.Unmarshal(n.Report(), &kept); err != nil {
		t.Fatal(err)
	}
	unlike(t, "report in the network", kept.Malformed, r.Malformed)
	if n.About.Attribution != osm.Attribution || n.About.Licence != osm.Licence || !n.Lacks(network.Grades) || !n.Lacks(network.Notices) || n.Lacks(network.Structures) {
		t.Errorf("%+v", n.About)
	}
}

// A binary extract of few elements, as the wiki's PBF Format page has it (from
// memory): blocks of protocol buffers, not compressed.

func varint(v uint64) []byte { return binary.AppendUvarint(nil, v) }

func zigzag(v int64) []byte { return binary.AppendVarint(nil, v) }

func number(field int, v uint64) []byte { return append(varint(uint64(field)<<3), varint(v)...) }

func chunk(field int, raw []byte) []byte {
	return append(append(varint(uint64(field)<<3|2), varint(uint64(len(raw)))...), raw...)
}

func packed(field int, values [][]byte) []byte { return chunk(field, bytes.Join(values, nil)) }

func block(kind string, raw []byte) []byte {
	blob := append(chunk(1, raw), number(2, uint64(len(raw)))...)
	head := append(chunk(1, []byte(kind)), number(3, uint64(len(blob)))...)
	out := binary.BigEndian.AppendUint32(nil, uint32(len(head)))
	return append(append(out, head...), blob...)
}

// binaryRoad is way 1, a primary road of the test road's nodes, in three
// blocks: head, nodes, ways.
func binaryRoad() (raw []byte, ends []int) {
	table := func(texts ...string) []byte {
		var out []byte
		for _, s := range texts {
			out = append(out, chunk(1, []byte(s))...)
		}
		return chunk(1, out)
	}
	add := func(b []byte) {
		raw = append(raw, b...)
		ends = append(ends, len(raw))
	}
	add(block("OSMHeader", append(chunk(4, []byte("OsmSchema-V0.6")), chunk(4, []byte("DenseNodes"))...)))
	units := func(degrees float64) int64 { return int64(math.Round(degrees * 1e7)) } // of 100 nanodegrees
	dense := slices.Concat(
		packed(1, [][]byte{zigzag(1), zigzag(1)}),
		packed(8, [][]byte{zigzag(units(southOf)), zigzag(units(northOf - southOf))}),
		packed(9, [][]byte{zigzag(units(westOf)), zigzag(0)}),
	)
	add(block("OSMData", append(table(""), chunk(2, chunk(2, dense))...)))
	way := slices.Concat(number(1, 1), packed(2, [][]byte{varint(1)}), packed(3, [][]byte{varint(2)}), packed(8, [][]byte{zigzag(1), zigzag(1)}))
	add(block("OSMData", append(table("", "highway", "primary"), chunk(2, chunk(3, way))...)))
	return raw, ends
}

// packedRoad is a road of two nodes, one primary way named Madeup Way, as
// bzip2.
const packedRoad = "QlpoOTFBWSZTWfokSkYAAC3fgAAQUAP3BwACAIAn79+gIACSCUk0YgAAAaGglNIkyDaj0yjNQ0AS1r+WZeHQR3TSJrZe/JVIPOMHizEaOGBhc41S4fJEUBUhQmNkm1YmWd39n3wLnS0kkCts4nb2QOVRj08H2jvSwF9kg2t9iey/AsRQxtAjugqLRgLwgyYhWE9IUERKRsEiqmkRqvxdyRThQkPokSkY"

func unpacked(t testing.TB) []byte {
	t.Helper()
	raw, err := base64.StdEncoding.DecodeString(packedRoad)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func TestFormats(t *testing.T) {
	pbf, _ := binaryRoad()
	for name, raw := range map[string][]byte{"a.osm": []byte(roadWith("highway=primary").xml()), "a.osm.bz2": unpacked(t), "a.osm.pbf": pbf, "a.pbf": pbf} {
		n, r := imported(t, osm.Options{}, put(t, name, raw))
		e := onlyEdge(t, n, 1)
		if want := geodesic.Between(onRoad(southOf), onRoad(northOf)); n.Class[e] != network.Primary || math.Abs(float64(n.Length[e]-want)) > 0.01 || r.Sources[0] != name {
			t.Errorf("%s: %v, %v", name, n.Class[e], n.Length[e])
		}
	}
}

// An extract that cannot be read whole is refused: what is missing in it would
// be missing on the road.
func TestUnreadableExtracts(t *testing.T) {
	refuse := func(t *testing.T, what, name string, raw []byte) {
		t.Helper()
		n, r, err := osm.Build(t.Context(), []string{put(t, name, raw)}, osm.Options{})
		var in *osm.InputError
		if !errors.As(err, &in) || in.Problem.None() || in.Fix.None() || !strings.Contains(in.Path, name) || n != nil || r != nil {
			t.Errorf("%s: %v, want an InputError", what, err)
		}
	}
	t.Run("names", func(t *testing.T) {
		for _, name := range []string{"a.txt", "a", "a.osm.gz", "a.osm.zip", "a.bz2", "a.osc", "a.xml"} {
			refuse(t, name, name, []byte(roadWith("highway=primary").xml()))
		}
	})
	t.Run("contents", func(t *testing.T) {
		for name, raw := range map[string]string{
			"empty.osm": "", "words.osm": "no extract at all", "empty.osm.bz2": "", "words.osm.bz2": "no extract", "empty.osm.pbf": "", "words.osm.pbf": "no extract at all",
			"html.osm": "<html><p>not found</html>", "numbers.osm": `<osm><node id="x" lat="y" lon="z"/></osm>`, "none.osm": "<osm></osm>",
		} {
			refuse(t, name, name, []byte(raw))
		}
	})
	t.Run("xml cut short", func(t *testing.T) {
		whole := roadWith("highway=primary", "name=Madeup Way").xml()
		end := strings.LastIndex(whole, "</osm>")
		for i := 1; i < end+5; i += 7 {
			refuse(t, fmt.Sprintf("%d of %d bytes", i, len(whole)), "a.osm", []byte(whole[:i]))
		}
		refuse(t, "without its end", "a.osm", []byte(whole[:end]))
	})
	t.Run("bzip2 cut short", func(t *testing.T) {
		whole := unpacked(t)
		for i := 0; i < len(whole); i += 11 {
			refuse(t, fmt.Sprintf("%d of %d bytes", i, len(whole)), "a.osm.bz2", whole[:i])
		}
		refuse(t, "a byte short", "a.osm.bz2", whole[:len(whole)-1])
		broken := bytes.Clone(whole)
		broken[len(broken)/2] ^= 0x10
		refuse(t, "damaged", "a.osm.bz2", broken)
	})
	// Cut between two blocks, a binary extract is whole as far as it tells; here
	// another block of roads follows, so the rest alone would make a network.
	t.Run("pbf cut short", func(t *testing.T) {
		raw, ends := binaryRoad()
		whole := append(bytes.Clone(raw), raw[ends[1]:]...)
		last := ends[2]
		head := 4 + int(binary.BigEndian.Uint32(whole[last:]))
		for _, i := range []int{1, 4, 10, ends[0] - 1, ends[0] + 4, ends[1] - 1, ends[1] + 9, last + 1, last + 3, last + 4, last + 5, last + head - 1, last + head, last + head + 1, len(whole) - 1} {
			refuse(t, fmt.Sprintf("%d of %d bytes, the last block at %d", i, len(whole), last), "a.osm.pbf", whole[:i])
		}
	})
	t.Run("one of two", func(t *testing.T) {
		whole := roadWith("highway=primary").xml()
		good, bad := put(t, "good.osm", []byte(whole)), put(t, "bad.osm", []byte(whole[:len(whole)-20]))
		for _, files := range [][]string{{good, bad}, {bad, good}} {
			_, _, err := osm.Build(t.Context(), files, osm.Options{})
			var in *osm.InputError
			if !errors.As(err, &in) || in.Path != bad {
				t.Errorf("%v: %v", files, err)
			}
		}
	})
	if _, _, err := osm.Build(t.Context(), nil, osm.Options{}); err == nil {
		t.Error("no extract at all is taken")
	}
	if _, _, err := osm.Build(t.Context(), []string{filepath.Join(t.TempDir(), "none.osm")}, osm.Options{}); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
}

// Places off the Earth are refused, or the network that holds them is unsound.
func TestPointsOffTheEarth(t *testing.T) {
	for _, p := range []string{`lat="95" lon="-60"`, `lat="45" lon="-200"`, `lat="NaN" lon="-60"`, `lat="45" lon="Inf"`} {
		text := strings.Replace(roadWith("highway=primary").xml(), `lat="45.01" lon="-60"`, p, 1)
		if !strings.Contains(text, p) {
			t.Fatal("the node was not changed")
		}
		n, _, err := osm.Build(t.Context(), []string{put(t, "a.osm", []byte(text))}, osm.Options{})
		if err != nil {
			continue
		}
		if err := n.Verify(t.Context(), nil); err != nil {
			t.Errorf("%s: a network that does not verify: %v", p, err)
		}
	}
}

// Whenever a caller gives up, it hears that it did, and nothing is left.
func TestCancel(t *testing.T) {
	pbf, _ := binaryRoad()
	for name, raw := range map[string][]byte{"a.osm": []byte(crossroads().xml()), "a.osm.bz2": unpacked(t), "a.osm.pbf": pbf} {
		path := put(t, name, raw)
		stages := map[string]int{}
		count := func(stage string, _, _ int64) { stages[stage]++ }
		if _, _, err := osm.Build(t.Context(), []string{path}, osm.Options{Progress: count}); err != nil {
			t.Fatal(err)
		}
		want := []string{"nodes", "relations", "roads", "ways"}
		if strings.HasSuffix(name, ".pbf") {
			want = append([]string{"checking"}, want...)
		}
		unlike(t, name+": stages", slices.Sorted(maps.Keys(stages)), want)
		for stage := range stages {
			ctx, cancel := context.WithCancel(t.Context())
			n, r, err := osm.Build(ctx, []string{path}, osm.Options{Progress: func(s string, _, _ int64) {
				if s == stage {
					cancel()
				}
			}})
			cancel()
			if !errors.Is(err, context.Canceled) || n != nil || r != nil {
				t.Errorf("%s, given up at %s: %v, %t, %t", name, stage, err, n != nil, r != nil)
			}
		}
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		if n, r, err := osm.Build(ctx, []string{path}, osm.Options{}); !errors.Is(err, context.Canceled) || n != nil || r != nil {
			t.Errorf("%s, given up before: %v", name, err)
		}
		left, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(left) != 1 {
			t.Errorf("beside the extract: %v, %v", left, err)
		}
	}
}

// Whatever tags say, an import ends, and with a network that is sound.
func FuzzTags(f *testing.F) {
	for _, tags := range []string{
		"highway=primary", "highway=motorway;oneway=-1", "maxheight=4.1;maxheight:physical=13'6\"", "hgv:conditional=no @ (Mo-Fr 07:00-09:00)",
		"route=ferry;duration=PT1H30M", "bridge=yes;layer=5", "tunnel=building_passage", "maxspeed=55 mph", "lanes=999", "width=1e9", "maxweight:hgv=;",
		"access:::=@", "restriction=no_u_turn", "barrier=bollard;maxheight=x", "place=city;population=99999999999",
	} {
		parts := strings.SplitN(tags+";;", ";", 3)
		k1, v1, _ := strings.Cut(parts[0], "=")
		k2, v2, _ := strings.Cut(parts[1], "=")
		f.Add(k1, v1, k2, v2)
	}
	folder := f.TempDir()
	f.Fuzz(func(t *testing.T, k1, v1, k2, v2 string) {
		tags := [][2]string{{k1, v1}, {k2, v2}}
		s := roadWith("highway=primary")
		s.node(3, onRoad(middle))
		s.version = 2
		s.element(&s.nodes, "node", fmt.Sprintf(` lat="%v" lon="%v"`, middle, westOf), 3, "", tags)
		s.wayOf(1, []int64{1, 3, 2}, append(slices.Clone(tags), [2]string{"highway", "primary"}))
		s.node(41, orb.Point{westOf - 0.001, 45.002})
		s.node(42, orb.Point{westOf + 0.001, 45.002})
		s.wayOf(50, []int64{41, 42}, tags)
		s.relation(500, []memberOf{from(1), viaNode(2), to(1)}, "type=restriction", k1+"="+v1)
		path := filepath.Join(folder, fmt.Sprintf("%d.osm", os.Getpid()))
		if err := os.WriteFile(path, []byte(s.xml()), 0o600); err != nil {
			t.Fatal(err)
		}
		n, _, err := osm.Build(t.Context(), []string{path}, osm.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := n.Verify(t.Context(), nil); err != nil {
			t.Fatal(err)
		}
		for e := range network.EdgeID(n.Edges()) {
			for _, s := range recordOf(n, e).Signs {
				if s.State == network.Known && s.Subject != network.Access && s.Value <= 0 {
					t.Fatalf("a known figure of %d", s.Value)
				}
			}
		}
	})
}

// slope saves a tile at three arc-seconds. Its posts are whole metres, so that
// there is no rounding; columns run east, rows south.
func slope(t testing.TB, folder, name string, height func(col, row int) int) {
	t.Helper()
	const size = 1201
	raw := make([]byte, 2*size*size)
	for row := range size {
		for col := range size {
			binary.BigEndian.PutUint16(raw[2*(row*size+col):], uint16(int16(height(col, row))))
		}
	}
	if err := os.WriteFile(filepath.Join(folder, name), raw, 0o600); err != nil {
		t.Fatal(err)
	}
}

func ground(t testing.TB, folder string) *terrain.Tiles {
	t.Helper()
	tiles, err := terrain.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return tiles
}

// steady is the latitude where a degree of longitude is 96 000 m, so that 4 m
// every three arc-seconds, 80 m, are 5 %: from the length of a degree on WGS84,
// pi/180 a cos(lat) / sqrt(1 - e² sin²(lat)).
func steady() float64 {
	const a, e2 = 6378137.0, 0.00669437999014
	k := 96000 / (math.Pi / 180 * a)
	return math.Asin(math.Sqrt((1-k*k)/(1-k*k*e2))) * 180 / math.Pi
}

func near(t *testing.T, what string, got float32, want, within float64) {
	t.Helper()
	if math.Abs(float64(got)-want) > within {
		t.Errorf("%s: %v, want %v within %v", what, got, want, within)
	}
}

func TestSteadyClimb(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N30W061.hgt", func(col, _ int) int { return 4 * col })
	tiles := ground(t, folder)
	lat := steady()
	// 1200 m east, in parts of 120 m so that it keeps to the parallel; then a
	// road of its own back down, and one along the slope.
	s := &sketch{}
	var up, down []int64
	for i := range int64(11) {
		s.node(i+1, orb.Point{-60.5 + float64(i)*0.00125, lat})
		s.node(i+101, orb.Point{-60.5 + float64(i)*0.00125, lat})
		up, down = append(up, i+1), append(down, i+101)
	}
	s.node(20, orb.Point{-60.5, lat + 0.005})
	slices.Reverse(down)
	s.way(1, up, "highway=primary")
	s.way(2, down, "highway=track")
	s.way(3, []int64{1, 20}, "highway=track")
	n, r := made(t, osm.Options{Terrain: tiles}, s)
	if n.Lacks(network.Grades) || r.KilometresClimbUnknown != 0 {
		t.Errorf("lacks %v, %v km unknown", n.About.Lacks, r.KilometresClimbUnknown)
	}
	e := onlyEdge(t, n, 1)
	g, ok := n.Grade(network.MakeArc(e, false))
	if !ok {
		t.Fatal("the climb is not known")
	}
	near(t, "length", float32(n.Length[e]), 1200, 0.01)
	near(t, "ascent", g.Ascent, 60, 0.01)
	near(t, "descent", g.Descent, 0, 0.01)
	near(t, "steepest", g.Steepest, 0.05, 1e-4)
	back, _ := n.Grade(network.MakeArc(e, true))
	near(t, "descent back", back.Descent, 60, 0.01)
	near(t, "steepest back", back.Steepest, -0.05, 1e-4)
	g, _ = n.Grade(network.MakeArc(onlyEdge(t, n, 2), false))
	near(t, "ascent down", g.Ascent, 0, 0.01)
	near(t, "descent down", g.Descent, 60, 0.01)
	near(t, "steepest down", g.Steepest, -0.05, 1e-4)
	g, ok = n.Grade(network.MakeArc(onlyEdge(t, n, 3), false))
	if !ok {
		t.Error("the level road is not known")
	}
	near(t, "ascent along", g.Ascent, 0, 0.01)
	near(t, "steepest along", g.Steepest, 0, 1e-4)
}

// Over a ridge, up and down count apart.
func TestRidge(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N30W061.hgt", func(col, _ int) int { return 4 * (600 - max(col-600, 600-col)) })
	lat := steady()
	s := &sketch{}
	var refs []int64
	for i := range int64(13) { // 480 m up, 960 m down; the top lies at 60.5 W
		s.node(i+1, orb.Point{-60.505 + float64(i)*0.00125, lat})
		refs = append(refs, i+1)
	}
	s.way(1, refs, "highway=primary")
	n, _ := made(t, osm.Options{Terrain: ground(t, folder)}, s)
	g, ok := n.Grade(network.MakeArc(onlyEdge(t, n, 1), false))
	if !ok {
		t.Fatal("the climb is not known")
	}
	// The top lies between two places where heights are read, some 30 m apart:
	// at most 0.75 m of it is missed.
	near(t, "ascent", g.Ascent, 24, 0.76)
	near(t, "descent", g.Descent, 48, 0.76)
	near(t, "difference", g.Ascent-g.Descent, -24, 0.01)
	near(t, "steepest", float32(math.Abs(float64(g.Steepest))), 0.05, 1e-4)
}

// The steepest is taken over 100 m or so: a rise of 160 m of road in a plain
// shows in full.
func TestSteepPart(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N30W061.hgt", func(col, _ int) int { return 4 * min(max(col-600, 0), 2) })
	lat := steady()
	s := &sketch{}
	var refs []int64
	for i := range int64(21) { // 1200 m of plain, the rise, and plain again
		s.node(i+1, orb.Point{-60.5125 + float64(i)*0.00125, lat})
		refs = append(refs, i+1)
	}
	s.way(1, refs, "highway=primary")
	n, _ := made(t, osm.Options{Terrain: ground(t, folder)}, s)
	g, _ := n.Grade(network.MakeArc(onlyEdge(t, n, 1), false))
	near(t, "ascent", g.Ascent, 8, 0.01)
	near(t, "descent", g.Descent, 0, 0.01)
	near(t, "steepest", g.Steepest, 0.05, 1e-4)
}

// Over a valley whose heights are void, a bridge runs straight from one end to
// the other; a road on the ground does not know.
func TestBridgeOverValley(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N30W061.hgt", func(col, _ int) int {
		switch {
		case col > 605 && col < 655:
			return math.MinInt16
		case col > 630:
			return 160
		default:
			return 100
		}
	})
	lat := steady()
	s := &sketch{}
	s.node(1, orb.Point{-61 + 600.0/1200, lat})
	s.node(2, orb.Point{-61 + 660.0/1200, lat}) // 60 posts, 4800 m
	s.node(3, orb.Point{-61 + 630.0/1200, lat}) // the way 5 meets there
	s.node(4, orb.Point{-61 + 630.0/1200, lat + 0.01})
	s.way(1, []int64{1, 3, 2}, "highway=primary", "bridge=yes")
	s.way(2, []int64{1, 2}, "highway=primary")
	s.way(3, []int64{1, 2}, "highway=primary", "tunnel=yes")
	s.way(5, []int64{3, 4}, "highway=primary", "bridge=yes") // ends in the void
	n, r := made(t, osm.Options{Terrain: ground(t, folder)}, s)
	es := edgesOf(n, 1)
	if len(es) != 2 {
		t.Fatalf("the bridge became %d edges", len(es))
	}
	for _, e := range es {
		g, ok := n.Grade(network.MakeArc(e, false))
		if !ok {
			t.Fatal("the climb of the bridge is not known")
		}
		near(t, "ascent", g.Ascent, 30, 0.05)
		near(t, "descent", g.Descent, 0, 0.01)
		near(t, "steepest", g.Steepest, 60.0/4800, 1e-5)
	}
	if g, ok := n.Grade(network.MakeArc(onlyEdge(t, n, 3), false)); !ok || math.Abs(float64(g.Ascent)-60) > 0.05 {
		t.Errorf("the tunnel: %+v, %t", g, ok)
	}
	unknown := 0.0
	for _, way := range []int64{2, 5} {
		e := onlyEdge(t, n, way)
		if g, ok := n.Grade(network.MakeArc(e, false)); ok || g.Ascent != 0 || g.Steepest != 0 {
			t.Errorf("way %d over the void: %+v", way, g)
		}
		unknown += float64(n.Length[e]) / 1000
	}
	if math.Abs(r.KilometresClimbUnknown-unknown) > 0.01 {
		t.Errorf("%v km without terrain, want %v", r.KilometresClimbUnknown, unknown)
	}
}

func TestNoTile(t *testing.T) {
	folder := t.TempDir()
	slope(t, folder, "N30W061.hgt", func(int, int) int { return 100 })
	s := roadWith("highway=primary") // at 45 N
	s.way(2, []int64{1, 2}, "highway=primary", "bridge=yes")
	n, r := made(t, osm.Options{Terrain: ground(t, folder)}, s)
	unknown := 0.0
	for _, way := range []int64{1, 2} {
		e := onlyEdge(t, n, way)
		if g, ok := n.Grade(network.MakeArc(e, false)); ok || g != (network.Grade{}) {
			t.Errorf("way %d: %+v", way, g)
		}
		unknown += float64(n.Length[e]) / 1000
	}
	if math.Abs(r.KilometresClimbUnknown-unknown) > 1e-6 {
		t.Errorf("%v km without terrain, want %v", r.KilometresClimbUnknown, unknown)
	}
}

// Mappers put what stands on a side road on the junction itself: it binds the
// lowest road there and is not known to bind the others.
func TestBarrierAtAJunction(t *testing.T) {
	s := roadWith("highway=primary")
	s.version = 2
	s.node(3, onRoad(middle), "barrier=gate", "access=private")
	s.node(4, orb.Point{westOf + 0.01, middle})
	s.way(1, []int64{1, 3, 2}, "highway=primary")
	s.way(7, []int64{3, 4}, "highway=service")
	n, _ := made(t, osm.Options{}, s)
	got := map[int64][]string{}
	for e := range network.EdgeID(n.Edges()) {
		for _, sp := range n.Spots(e) {
			got[n.Origin(e)] = append(got[n.Origin(e)], sp.Kind.String())
		}
	}
	unlike(t, "things", got, map[int64][]string{1: {"thing at a junction", "thing at a junction"}, 7: {"gate"}})
}

// Barriers drawn as lines across a road, with a node of it or without, bring
// signs of their own.
func TestBarriersAcross(t *testing.T) {
	for _, shared := range []bool{true, false} {
		s := roadWith("highway=primary")
		s.version = 2
		s.node(3, onRoad(middle))
		s.way(1, []int64{1, 3, 2}, "highway=primary")
		s.node(51, orb.Point{westOf - 0.0005, middle + 0.0001})
		s.node(52, orb.Point{westOf + 0.0005, middle + 0.0001})
		refs := []int64{51, 52}
		if shared {
			refs = []int64{51, 3, 52}
		}
		s.way(50, refs, "barrier=gate", "maxheight=3.5", "locked=yes")
		n, _ := made(t, osm.Options{}, s)
		spots := n.Spots(onlyEdge(t, n, 1))
		if len(spots) != 2 || spots[0].Kind != network.PostedHeight || spots[1].Kind != network.Gate {
			t.Fatalf("shared %t: %+v", shared, spots)
		}
		unlike(t, "signs", signsOf(n, spots[0].Road), []signText{figure(network.MaxHeight, 3500*measure.Millimetre, "3.5"), access(network.Everyone, network.Permission, "locked=yes")})
	}
}

// A rule under a type of its own, or that cannot be read, is listed and shown at
// its junction.
func TestTurnRulesOfOtherForms(t *testing.T) {
	for _, c := range []struct {
		tags    []string
		bans    int
		dropped int
	}{
		{[]string{"type=restriction:hgv", "restriction:hgv=no_left_turn"}, 1, 0},
		{[]string{"type=Restriction", "restriction=No_Left_Turn"}, 1, 0},
		{[]string{"type=restriction", "restriction:truck=no_left_turn"}, 0, 1},
		{[]string{"type=restriction", "restriction:conditional=none @ (Su); no_left_turn"}, 0, 1},
		{[]string{"type=restriction", "restriction:conditional=no_left_turn @ (Sa); no_u_turn @ (Su)"}, 2, 0},
		{[]string{"type=restriction", "restriction=none", "restriction:hgv=no_left_turn"}, 1, 0},
	} {
		s := crossroads()
		s.relation(500, []memberOf{from(10), viaNode(5), to(30)}, c.tags...)
		n, r := made(t, osm.Options{}, s)
		marked := false
		for e := range network.EdgeID(n.Edges()) {
			marked = marked || slices.ContainsFunc(n.Spots(e), func(sp network.Spot) bool { return sp.Kind == network.UnreadTurn })
		}
		if n.Bans() != c.bans || len(r.Turns.Dropped) != c.dropped || marked != (c.dropped > 0) {
			t.Errorf("%v: %d bans, dropped %+v, marked %t", c.tags, n.Bans(), r.Turns.Dropped, marked)
		}
	}
}
