package osm_test

import (
	"math"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
	"wayhouse/testdata/extracts"
	"wayhouse/testdata/needs"
)

// metres is a place so far east and north of the middle of an invented town.
func metres(east, north float64) orb.Point {
	const degree = math.Pi / 180 * float64(network.EarthRadius)
	return orb.Point{-75 + east/degree/math.Cos(39*math.Pi/180), 39 + north/degree}
}

// delayOf adds up what a way through nodes costs, by the nodes' ids of its edges'
// ends, and counts its signals and stop signs.
func delayOf(t *testing.T, n *network.Network, through ...orb.Point) (likely, slow time.Duration, signals, stops int) {
	t.Helper()
	for i := 1; i < len(through); i++ {
		a, ok := arcBetween(n, through[i-1], through[i])
		if !ok {
			t.Fatalf("no road from %v to %v", through[i-1], through[i])
		}
		l, s := n.Delay(n.Whole(a))
		ns, nt := n.Controls(a)
		likely, slow, signals, stops = likely+l, slow+s, signals+ns, stops+nt
	}
	return likely, slow, signals, stops
}

func arcBetween(n *network.Network, from, to orb.Point) (network.Arc, bool) {
	near := func(p, q orb.Point) bool { return math.Hypot(p[0]-q[0], p[1]-q[1]) < 1e-6 }
	for e := range network.EdgeID(n.Edges()) {
		for _, reverse := range []bool{false, true} {
			if a := network.MakeArc(e, reverse); near(n.Node[n.Tail(a)], from) && near(n.Node[n.Head(a)], to) {
				return a, true
			}
		}
	}
	return 0, false
}

// A junction of two dual carriageways is mapped with signals at each of its four
// nodes; whoever drives through, on any of the ways, meets it once (OpenStreetMap
// wiki, Tag:highway=traffic_signals: several nodes of one junction).
func TestFourSignalsAreOneCrossing(t *testing.T) {
	var s sketch
	lights := "highway=traffic_signals"
	sw, se, ne, nw := metres(-10, -10), metres(10, -10), metres(10, 10), metres(-10, 10)
	for i, p := range []orb.Point{sw, se, ne, nw} {
		s.node(int64(i+1), p, lights)
	}
	west, east, south, north := metres(-500, -10), metres(500, -10), metres(10, -500), metres(10, 500)
	west2, east2, south2, north2 := metres(-500, 10), metres(500, 10), metres(-10, -500), metres(-10, 500)
	for i, p := range []orb.Point{west, east, south, north, west2, east2, south2, north2} {
		s.node(int64(i+11), p)
	}
	one := "oneway=yes"
	s.way(1, []int64{11, 1, 2, 12}, "highway=primary", one) // eastbound
	s.way(2, []int64{16, 3, 4, 15}, "highway=primary", one) // westbound
	s.way(3, []int64{13, 2, 3, 14}, "highway=tertiary", one)
	s.way(4, []int64{18, 4, 1, 17}, "highway=tertiary", one)
	n, r := made(t, osm.Options{}, &s)
	for name, tc := range map[string]struct {
		way          []orb.Point
		likely, slow time.Duration
	}{
		"straight on the main road":     {[]orb.Point{west, sw, se, east}, 20 * time.Second, 40 * time.Second},
		"straight on the other":         {[]orb.Point{south, se, ne, north}, 32 * time.Second, 60 * time.Second},
		"left from the main road":       {[]orb.Point{west, sw, se, ne, north}, 20 * time.Second, 40 * time.Second},
		"left from the other":           {[]orb.Point{south, se, ne, nw, west2}, 32 * time.Second, 60 * time.Second},
		"right from the main road":      {[]orb.Point{east2, ne, north}, 20 * time.Second, 40 * time.Second},
		"only up to it":                 {[]orb.Point{west, sw}, 20 * time.Second, 40 * time.Second},
		"only away from it":             {[]orb.Point{se, east}, 0, 0},
		"all round it and back whence ": {[]orb.Point{west, sw, se, ne, nw, west2}, 20 * time.Second, 40 * time.Second},
	} {
		likely, slow, signals, _ := delayOf(t, n, tc.way...)
		if likely != tc.likely || slow != tc.slow || signals > 1 || (signals == 1) != (tc.likely > 0) {
			t.Errorf("%s: %v, %v slow, %d signals; want %v, %v", name, likely, slow, signals, tc.likely, tc.slow)
		}
	}
	if r.Controls["traffic signals"] != 4 || r.Controls["signalled crossings"] != 1 {
		t.Errorf("%v", r.Controls)
	}
}

// Signals before a junction bind whoever comes to it, not who leaves: as tagged,
// else towards the junction (OpenStreetMap wiki, Key:traffic_signals:direction).
func TestSignalsBeforeAJunction(t *testing.T) {
	for name, tags := range map[string][2][]string{
		"tagged":     {{"highway=traffic_signals", "traffic_signals:direction=forward"}, {"highway=traffic_signals", "traffic_signals:direction=backward"}},
		"not tagged": {{"highway=traffic_signals"}, {"highway=traffic_signals"}},
		"on foot":    {{"highway=crossing", "crossing=traffic_signals"}, {"highway=crossing", "crossing=traffic_signals"}},
	} {
		var s sketch
		west, before, middle, after, east := metres(-400, 0), metres(-15, 0), metres(0, 0), metres(15, 0), metres(400, 0)
		south, north := metres(0, -400), metres(0, 400)
		for i, p := range []orb.Point{west, before, middle, after, east, south, north} {
			of := []string{}
			if i == 1 || i == 3 {
				of = tags[i/2]
			}
			s.node(int64(i+1), p, of...)
		}
		s.way(1, []int64{1, 2, 3, 4, 5}, "highway=secondary")
		s.way(2, []int64{6, 3, 7}, "highway=residential")
		n, _ := made(t, osm.Options{}, &s)
		for _, way := range [][]orb.Point{{west, middle, east}, {east, middle, west}, {south, middle, north}, {west, middle, south}} {
			if _, _, signals, _ := delayOf(t, n, way...); signals != 1 {
				t.Errorf("%s, %v: %d signals", name, way, signals)
			}
		}
		if _, _, signals, _ := delayOf(t, n, middle, east); signals != 0 {
			t.Errorf("%s: %d signals on leaving the junction", name, signals)
		}
	}
}

// A crossing of people on foot in mid-block stops both directions; lights of a
// fire station and signals elsewhere do not.
func TestControlsAlongARoad(t *testing.T) {
	for name, tc := range map[string]struct {
		tags           []string
		along, against time.Duration
		signals, stops int // along
	}{
		"crossing with lights":   {[]string{"highway=crossing", "crossing=traffic_signals"}, 5 * time.Second, 5 * time.Second, 1, 0},
		"signals in mid-block":   {[]string{"highway=traffic_signals"}, 20 * time.Second, 20 * time.Second, 1, 0},
		"of a fire station":      {[]string{"highway=traffic_signals", "traffic_signals=emergency"}, 0, 0, 0, 0},
		"zebra":                  {[]string{"highway=crossing", "crossing=zebra"}, time.Second, time.Second, 0, 0},
		"crossing without marks": {[]string{"highway=crossing", "crossing=unmarked"}, 0, 0, 0, 0},
		"stop one way":           {[]string{"highway=stop", "direction=forward"}, 15 * time.Second, 0, 0, 1},
		"give way the other":     {[]string{"highway=give_way", "direction=backward"}, 0, 11 * time.Second, 0, 0},
		"level crossing":         {[]string{"railway=level_crossing"}, 5 * time.Second, 5 * time.Second, 0, 0},
		"toll booth":             {[]string{"barrier=toll_booth"}, 20 * time.Second, 20 * time.Second, 0, 0},
		"border control":         {[]string{"barrier=border_control"}, 10 * time.Minute, 10 * time.Minute, 0, 0},
		"bump":                   {[]string{"traffic_calming=bump"}, 3 * time.Second, 3 * time.Second, 0, 0},
	} {
		var s sketch
		s.node(1, metres(-300, 0))
		s.node(2, metres(0, 0), tc.tags...)
		s.node(3, metres(300, 0))
		s.way(1, []int64{1, 2, 3}, "highway=secondary")
		n, _ := made(t, osm.Options{}, &s)
		along, slow, signals, stops := delayOf(t, n, metres(-300, 0), metres(300, 0))
		against, _, _, _ := delayOf(t, n, metres(300, 0), metres(-300, 0))
		if along != tc.along || against != tc.against || signals != tc.signals || stops != tc.stops || slow < along {
			t.Errorf("%s: %v along, %v slow, %v against, %d signals, %d stops", name, along, slow, against, signals, stops)
		}
		if half, _ := n.Delay(network.Piece{Arc: 0, End: n.Length[0] / 2}); half != along/2 {
			t.Errorf("%s: half of the road costs %v of %v", name, half, along)
		}
	}
}

// Of roads that meet without a sign the lower gives way; a stop sign on a
// junction binds the lower ones, or all where it says so.
func TestGivingWay(t *testing.T) {
	west, middle, east, south := metres(-400, 0), metres(0, 0), metres(400, 0), metres(0, -400)
	for name, tc := range map[string]struct {
		tags               []string
		main, side         time.Duration
		mainStop, sideStop int
	}{
		"no sign":     {nil, 0, 11 * time.Second, 0, 0},
		"stop":        {[]string{"highway=stop"}, 0, 15 * time.Second, 0, 1},
		"all-way":     {[]string{"highway=stop", "stop=all"}, 15 * time.Second, 15 * time.Second, 1, 1},
		"roundabout?": {[]string{"highway=give_way"}, 0, 11 * time.Second, 0, 0},
	} {
		var s sketch
		s.node(1, west)
		s.node(2, middle, tc.tags...)
		s.node(3, east)
		s.node(4, south)
		s.way(1, []int64{1, 2, 3}, "highway=secondary")
		s.way(2, []int64{4, 2}, "highway=residential")
		n, _ := made(t, osm.Options{}, &s)
		main, _, _, mainStop := delayOf(t, n, west, middle, east)
		side, _, _, sideStop := delayOf(t, n, south, middle, east)
		if main != tc.main || side != tc.side || mainStop != tc.mainStop || sideStop != tc.sideStop {
			t.Errorf("%s: the main road %v, %d stops; the side road %v, %d", name, main, mainStop, side, sideStop)
		}
	}
}

// Streets every 200 m make a built-up area, a road across the country none; its
// speeds are lower, and lower still where that is posted.
func TestBuiltUp(t *testing.T) {
	var s sketch
	const rows = 12
	id := func(x, y int) int64 { return int64(1 + x + y*rows) }
	for y := range rows {
		for x := range rows {
			s.node(id(x, y), metres(float64(x)*180, float64(y)*180))
		}
	}
	for k := range rows {
		var across, up []int64
		for i := range rows {
			across, up = append(across, id(i, k)), append(up, id(k, i))
		}
		tags := []string{"highway=secondary"}
		if k%2 == 1 {
			tags = append(tags, "maxspeed=40")
		}
		s.way(int64(100+k), across, tags...)
		s.way(int64(200+k), up, "highway=residential")
	}
	s.node(900, metres(-9000, 0))
	s.way(300, []int64{900, 1}, "highway=secondary")
	n, _ := made(t, osm.Options{}, &s)
	for _, tc := range []struct {
		from, to orb.Point
		town     bool
		speed    measure.Speed
	}{
		{metres(900, 1080), metres(1080, 1080), true, 50 * measure.KilometrePerHour},
		{metres(900, 900), metres(1080, 900), true, 40 * measure.KilometrePerHour},
		{metres(-9000, 0), metres(0, 0), false, 70 * measure.KilometrePerHour},
	} {
		a, ok := arcBetween(n, tc.from, tc.to)
		if !ok {
			t.Fatal("no such road")
		}
		v, _ := n.Speed(a.Edge())
		if town := n.Record(n.RoadID(a.Edge())).Flags.Has(network.BuiltUp); town != tc.town || v != tc.speed {
			t.Errorf("%v: built-up %v, %v m/s", tc.from, town, v)
		}
	}
}

// carRoad are the values of highway of roads for cars (OpenStreetMap wiki,
// Key:highway, 2025).
var carRoad = regexp.MustCompile(
	`^((motorway|trunk|primary|secondary|tertiary)(_link)?|unclassified|residential|living_street|service|track|road)$`)

// Signals on roads in the extracts of Delaware and Andorra, by another reader:
// osmium lists nodes and ways, and a node counts where a road names it.
func TestSignalsAsOsmiumCounts(t *testing.T) {
	needs.Require(t, needs.Osmium)
	for _, name := range []string{delaware, "andorra-latest.osm.bz2"} {
		path := filepath.Join(extracts.Real(t), name)
		_, report := networkOf(t, path)
		all := elements(t, path)
		onRoad := map[int64]bool{}
		for _, e := range all {
			if e.kind == 'w' && carRoad.MatchString(e.tags["highway"]) && e.tags["area"] != "yes" {
				for _, id := range e.refs {
					onRoad[id] = true
				}
			}
		}
		for kind, is := range map[string]func(map[string]string) bool{
			"traffic signals": func(tags map[string]string) bool {
				return tags["highway"] == "traffic_signals" && tags["traffic_signals"] != "emergency" && tags["traffic_signals"] != "blinker"
			},
			"stop signs":     func(tags map[string]string) bool { return tags["highway"] == "stop" },
			"give-way signs": func(tags map[string]string) bool { return tags["highway"] == "give_way" },
		} {
			want := 0
			for _, e := range all {
				if e.kind == 'n' && onRoad[e.id] && is(e.tags) {
					want++
				}
			}
			if got := report.Controls[kind]; got != want || kind == "traffic signals" && want == 0 {
				t.Errorf("%s: %d %s, osmium %d", name, got, kind, want)
			}
		}
	}
}
