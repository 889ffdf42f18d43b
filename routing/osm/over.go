package osm

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/routing/network"
)

// over is a way that may hang over roads.
type over struct {
	id      int64
	version int
	kind    network.Kind
	layer   int8
	bridge  bool // tagged so
	wire    bool // hangs over whatever is not in a tunnel
	barrier bool // stands across the road that it meets
	record  network.RoadID
	figure  bool     // its own tags state a usable height
	height  bool     // they have a sign of height, usable or not
	tags    osm.Tags // of what has signs of its own, until they are read
	outline bool     // of a deck: around what it carries, over what is lower
	grade   bool     // a rail line with a contact wire: over the roads that it meets
	name    string
	refs    []int64
}

// overWay reports whether a way may hang over roads, and as what (OpenStreetMap
// wiki, Map features, 2025).
func overWay(tags osm.Tags) (o over, ok bool) {
	get := tags.Find
	is := func(key string) bool { v := get(key); return v != "" && v != "no" }
	o.layer = int8(layer(tags))
	o.name = cmp.Or(get("bridge:name"), get("name"))
	o.bridge = is("bridge")
	rail := is("railway") && !slices.Contains([]string{"razed", "dismantled", "proposed", "construction",
		"platform"}, get("railway"))
	switch power := get("power"); {
	case slices.Contains(acrossRoads, get("barrier")):
		kind, _ := nodeSpot(tags)
		o.kind, o.barrier, o.tags = kind, true, tags
	case slices.Contains([]string{"underground", "underwater"}, get("location")), is("tunnel") && !o.bridge:
		return o, false
	case power == "line":
		o.kind, o.wire = network.PowerLine, true
	case power == "minor_line", power == "cable" && (get("location") == "overhead" || get("location") == "overground"):
		o.kind, o.wire = network.MinorPowerLine, true
	case get("communication") == "line", get("telecom") == "line", get("telecom") == "cable" &&
		get("location") == "overhead", get("man_made") == "telecom_line":
		o.kind, o.wire = network.TelecomLine, true
	case is("aerialway") && get("aerialway") != "station" && get("aerialway") != "pylon":
		o.kind, o.wire = network.Aerialway, true
	case get("man_made") == "gantry", get("highway") == "gantry":
		o.kind, o.wire, o.tags = network.Gantry, true, tags
	case get("man_made") == "bridge":
		o.kind, o.outline, o.layer = network.OtherBridge, true, max(o.layer, 1)
	case o.bridge || o.layer > 0 && (rail || is("highway") || is("man_made") || is("aeroway")):
		o.kind = bridgeKind(tags, rail)
	case get("building") == "roof" || get("building") == "carport" || get("building") == "bridge" ||
		is("building") && o.layer > 0:
		o.kind, o.wire = network.CoveredWay, true
	case get("man_made") == "goods_conveyor", get("man_made") == "pipeline" && strings.HasPrefix(
		get("location"), "over"), get("man_made") == "pipeline" && get("location") == "aboveground":
		o.kind, o.wire = network.OtherBridge, true
	case rail && contactLine(tags):
		o.kind, o.grade = network.ContactLine, true
	default:
		return o, false
	}
	return o, true
}

// acrossRoads are the barriers that are drawn as a line across a road. Walls and
// fences are drawn along it.
var acrossRoads = []string{
	"height_restrictor", "gate", "lift_gate", "swing_gate", "sliding_gate", "chain", "bollard", "block",
	"toll_booth", "jersey_barrier", "log", "debris",
}

// contactLine reports whether a rail line has, or may have, a wire above it.
func contactLine(tags osm.Tags) bool {
	v := tags.Find("electrified")
	if rail := tags.Find("railway"); v == "" && (rail == "tram" || rail == "light_rail") {
		return true // nearly all have one
	}
	return strings.Contains(v, "contact_line") || v == "yes"
}

func bridgeKind(tags osm.Tags, rail bool) network.Kind {
	highway := tags.Find("highway")
	_, isRoad := roadClass(tags)
	switch {
	case rail:
		return network.RailBridge
	case isRoad:
		return network.RoadBridge
	case slices.Contains([]string{"footway", "path", "cycleway", "steps", "pedestrian", "bridleway", "corridor"}, highway):
		return network.FootBridge
	default:
		return network.OtherBridge
	}
}

// nodeSpot tells what a node on a road is to a vehicle.
func nodeSpot(tags osm.Tags) (k network.Kind, ok bool) {
	switch tags.Find("barrier") {
	case "height_restrictor":
		return network.Restrictor, true
	case "gate", "swing_gate", "sliding_gate", "sliding_beam", "hampshire_gate", "wicket_gate":
		return network.Gate, true
	case "lift_gate", "chain", "rope":
		return network.Gate, true
	case "bollard", "block", "cycle_barrier", "stile", "kissing_gate", "turnstile", "full-height_turnstile",
		"jersey_barrier", "log",
		"motorcycle_barrier", "horse_stile", "debris", "planter", "barrier_board", "wall", "fence", "guard_rail",
		"hedge", "ditch", "bump_gate", "tank_trap", "bus_trap", "sump_buster", "spikes", "yes":
		return network.Blocked, true
	case "toll_booth":
		return network.TollBooth, true
	case "border_control", "checkpoint":
		return network.Checkpoint, true
	case "", "no", "entrance", "kerb", "cattle_grid":
	default:
		return network.OtherBarrier, true
	}
	switch {
	case tags.Find("historic") == "city_gate":
		return network.Passage, true
	case tags.Find("railway") == "level_crossing" || tags.Find("railway") == "tram_level_crossing":
		return network.LevelCrossing, true
	case tags.Find("man_made") == "gantry" || tags.Find("highway") == "gantry":
		return network.Gantry, true
	case tags.Find("highway") == "mini_roundabout":
		return network.MiniRoundabout, true
	case tags.Find("highway") == "turning_circle" || tags.Find("highway") == "turning_loop":
		return network.TurningCircle, true
	case tags.Find("traffic_calming") != "" && tags.Find("traffic_calming") != "no":
		return calming(tags), true
	case tags.Find("ford") != "" && tags.Find("ford") != "no":
		return network.FordSpot, true
	case tags.Find("highway") == "toll_gantry":
		return network.Gantry, true
	case hasLimit(tags) || bindsAccess(tags):
		return network.SignPost, true
	}
	return k, false
}

// level are the things that calm traffic and leave the surface of the road level, or
// all but level (OpenStreetMap wiki, Key:traffic_calming, 2025: the bars of a rumble strip
// are a few centimetres at the most).
var level = []string{"chicane", "choker", "island", "painted_island", "rumble_strip", "median"}

// calming tells what calms traffic: a hump unless all that is said is level.
func calming(tags osm.Tags) network.Kind {
	for value := range strings.SplitSeq(tags.Find("traffic_calming"), ";") {
		if !slices.Contains(level, strings.TrimSpace(value)) {
			return network.Hump
		}
	}
	return network.Calming
}

// bindsAccess reports whether a node says who may pass it.
func bindsAccess(tags osm.Tags) bool {
	return slices.ContainsFunc(tags, func(t osm.Tag) bool {
		base, _, _ := strings.Cut(strings.ToLower(t.Key), ":")
		_, ok := modeOf[base]
		return ok
	})
}

// hasLimit reports whether a node bears a figure, or what may be one, as a sign at
// a height restriction may.
func hasLimit(tags osm.Tags) bool {
	return slices.ContainsFunc(tags, func(t osm.Tag) bool {
		base, _, _ := strings.Cut(t.Key, ":")
		_, other := otherLimits[base]
		return other || misspelt(base) != 0 || slices.Contains(doubts, t.Key)
	})
}

// overSegment is a straight part of something that may hang over roads.
type overSegment struct {
	over   int32
	a, b   int32 // numbers of its nodes
	pa, pb s2.Point
	box    [4]float64 // west, south, east, north
}

// cellSize of the grid in which segments are looked up, in degrees: about half
// a kilometre.
const cellSize = 0.005

// grid finds segments by place.
type grid struct {
	segments []overSegment
	cells    map[[2]int32][]int32
}

func (g *grid) add(s overSegment) {
	if g.cells == nil {
		g.cells = map[[2]int32][]int32{}
	}
	g.segments = append(g.segments, s)
	for _, c := range cells(s.box) {
		g.cells[c] = append(g.cells[c], int32(len(g.segments)-1))
	}
}

func cells(box [4]float64) [][2]int32 {
	at := func(v float64) int32 { return int32(math.Floor(v / cellSize)) }
	var out [][2]int32
	for x := at(box[0]); x <= at(box[2]); x++ {
		for y := at(box[1]); y <= at(box[3]); y++ {
			out = append(out, [2]int32{x, y})
		}
	}
	return out
}

// longest is how long a segment may be in the grid, in degrees; longer ones are
// laid in parts, so that a part is near its box and cells are few.
const longest = 0.02

// lay adds the parts of a segment.
func (g *grid) lay(o, na, nb int32, pa, pb orb.Point) {
	sa, sb := toS2(pa), toS2(pb)
	parts := 1 + int(sa.Distance(sb).Degrees()/longest)
	last, at := sa, pa
	for k := 1; k <= parts; k++ {
		next, to := sb, pb
		if k < parts {
			next = s2.Interpolate(float64(k)/float64(parts), sa, sb)
			ll := s2.LatLngFromPoint(next)
			to = orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
		}
		// A part across the antimeridian has no box in degrees; it is a few hundred
		// metres of a line over the ocean or at a pole.
		if math.Abs(to[0]-at[0]) < 1 {
			g.add(overSegment{over: o, a: na, b: nb, pa: last, pb: next, box: boxOf(at, to)})
		}
		last, at = next, to
	}
}

// slack widens boxes for the bow of a great circle over a segment: below 1e-5
// degrees, 1 m, for segments up to 4 km, twice the longest.
const slack = 1e-5

func boxOf(a, b orb.Point) [4]float64 {
	return [4]float64{
		min(a[0], b[0]) - slack, min(a[1], b[1]) - slack, max(a[0], b[0]) + slack, max(a[1], b[1]) + slack,
	}
}

func apart(a, b [4]float64) bool {
	return a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1]
}

// crossing lists the segments that cross the one from a to b and share none of
// its nodes, each once, with the place.
func (g *grid) crossing(a, b int32, pa, pb orb.Point, visit func(o int32, at orb.Point)) {
	box := boxOf(pa, pb)
	var seen []int32
	sa, sb := toS2(pa), toS2(pb)
	for _, c := range cells(box) {
		for _, i := range g.cells[c] {
			s := &g.segments[i]
			if apart(box, s.box) || s.a == a || s.a == b || s.b == a || s.b == b || slices.Contains(seen, i) {
				continue
			}
			seen = append(seen, i)
			at := pa
			switch s2.CrossingSign(sa, sb, s.pa, s.pb) {
			case s2.DoNotCross:
				continue
			case s2.Cross:
				ll := s2.LatLngFromPoint(s2.Intersection(sa, sb, s.pa, s.pb))
				at = orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
			default: // they share a place, though no node
				if s.pa == sb || s.pb == sb {
					at = pb
				}
			}
			visit(s.over, at)
		}
	}
}

func toS2(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// above reports whether something hangs over a road of a layer.
// A road in a tunnel has the tunnel over it and nothing else that counts.
func (o over) above(roadLayer int, f network.Flags) bool {
	switch {
	case f.Has(network.InTunnel):
		return false
	case o.wire:
		return true
	case o.outline:
		return roadLayer < int(o.layer)
	case o.bridge && !f.Has(network.OnBridge):
		return true // whatever the layers say
	default:
		return roadLayer <= int(o.layer)
	}
}
