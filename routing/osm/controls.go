package osm

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// control is what a node on a road is to whoever drives there in time.
type control struct {
	kind  controlKind
	bound network.Bound // by its way, where it is on one; [network.BothWays] where nothing is said
	told  bool          // its tags say which direction it binds, or that it binds both
	all   bool          // a stop of every road that meets there
}

// controlKind is what delays traffic at a node.
type controlKind uint8

const (
	signals         controlKind = iota
	crossingSignals             // of people on foot, with lights
	stopSign
	giveWay
	crossing // of people on foot, marked, without lights
	levelCrossing
	tollBooth
	borderControl
	hump   // and other things that calm traffic
	atRest // lights that stop nobody most of the time: of a fire station, blinking
	controlKinds
)

// controlNames name the kinds in the report of an import.
var controlNames = [controlKinds]string{
	"traffic signals", "crossings with signals", "stop signs", "give-way signs", "marked crossings", "level crossings",
	"toll booths", "border controls", "traffic calming", "signals at rest",
}

// readControl tells what delays traffic at a node (OpenStreetMap wiki,
// Tag:highway=traffic_signals, Key:traffic_signals:direction, Tag:highway=stop,
// Key:crossing, 2025).
func readControl(tags osm.Tags) (c control, ok bool) {
	get := tags.Find
	calmed := get("traffic_calming")
	switch highway := get("highway"); {
	case highway == "traffic_signals":
		c.kind = signals
		if v := get("traffic_signals"); v == "emergency" || v == "blinker" {
			c.kind = atRest
		}
	case highway == "stop":
		c.kind, c.all = stopSign, get("stop") == "all" || get("stop") == "4way"
	case highway == "give_way":
		c.kind = giveWay
	case get("barrier") == "toll_booth":
		c.kind = tollBooth
	case get("barrier") == "border_control":
		c.kind = borderControl
	case get("railway") == "level_crossing" || get("railway") == "tram_level_crossing":
		c.kind = levelCrossing
	case get("crossing") == "traffic_signals" || highway == "crossing" && get("crossing:signals") == "yes":
		c.kind = crossingSignals
	case calmed != "" && calmed != "no":
		c.kind = hump
	case highway == "crossing" && marked(tags):
		c.kind = crossing
	default:
		return c, false
	}
	c.bound, c.told = controlled(tags)
	return c, true
}

// marked reports whether drivers have to look out for people at a crossing.
func marked(tags osm.Tags) bool {
	return slices.Contains([]string{"uncontrolled", "marked", "zebra"}, tags.Find("crossing")) ||
		tags.HasTag("crossing:markings") && tags.Find("crossing:markings") != "no"
}

// controlled reads which direction of its way a node binds.
func controlled(tags osm.Tags) (b network.Bound, told bool) {
	value := tags.Find("traffic_signals:direction")
	if value == "" {
		value = tags.Find("direction")
	}
	switch strings.ToLower(value) {
	case "forward":
		return network.Along, true
	case "backward":
		return network.Against, true
	case "both":
		return network.BothWays, true
	default: // nothing, or where it faces by the compass
		return network.BothWays, false
	}
}

// placedControl is a control within an edge.
type placedControl struct {
	control
	edge    network.EdgeID
	offset  measure.Distance
	cluster int32 // of signals
}

// controlAt returns what delays traffic at a node, or at one in its place.
func (b *build) controlAt(n int32) (control, bool) {
	if c, ok := b.controls[b.ids[n]]; ok {
		return c, true
	}
	for _, ref := range b.aliases[n] {
		if c, ok := b.controls[ref]; ok {
			return c, true
		}
	}
	return control{}, false
}

// placeControls notes what stands within an edge: a part of a run of nodes. What
// stands at its ends is found at the nodes.
func (b *build) placeControls(e network.EdgeID, part []orb.Point, run []int32) {
	for _, n := range run[1 : len(run)-1] {
		c, ok := b.controlAt(n)
		if !ok {
			continue
		}
		if i := slices.Index(part, b.point[n]); i > 0 && i < len(part)-1 {
			b.placed = append(b.placed, placedControl{control: c, edge: e, offset: geodesic.Length(part[:i+1])})
		}
	}
}
