package osm

import (
	"strconv"
	"strings"

	"github.com/paulmach/osm"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// classOf are the road classes that vehicles use, by the value of highway
// (OpenStreetMap wiki, Key:highway, 2025).
var classOf = map[string]network.Class{
	"motorway": network.Freeway, "trunk": network.Trunk, "primary": network.Primary, "secondary": network.Secondary,
	"tertiary": network.Tertiary, "unclassified": network.Minor, "residential": network.Residential,
	"living_street": network.Living, "service": network.Service, "track": network.Track, "road": network.Unclassed,
	"motorway_link": network.Freeway, "trunk_link": network.Trunk, "primary_link": network.Primary,
	"secondary_link": network.Secondary, "tertiary_link": network.Tertiary,
}

// forEnds are the service roads that lead to a place and nowhere else (OpenStreetMap
// wiki, Key:service, 2025).
var forEnds = map[string]bool{"driveway": true, "parking_aisle": true, "alley": true, "drive-through": true}

// towing are the speeds that are assumed on a class where no lower one is
// posted: this project's assumption, not posted limits.
var towing = map[network.Class]measure.Speed{
	network.Freeway: 90 * measure.KilometrePerHour, network.Trunk: 85 * measure.KilometrePerHour,
	network.Primary: 80 * measure.KilometrePerHour, network.Secondary: 70 * measure.KilometrePerHour,
	network.Tertiary: 60 * measure.KilometrePerHour, network.Minor: 50 * measure.KilometrePerHour,
	network.Residential: 30 * measure.KilometrePerHour, network.Living: 10 * measure.KilometrePerHour,
	network.Service: 15 * measure.KilometrePerHour, network.Track: 10 * measure.KilometrePerHour,
	network.Unclassed: 30 * measure.KilometrePerHour,
}

// rampSpeed is assumed on links.
const rampSpeed = 50 * measure.KilometrePerHour

// roadClass reports whether a way is a road or a ferry that vehicles may use,
// and of which class. Roads that are planned or being built are none; whether
// one may be used is for its access tags.
func roadClass(tags osm.Tags) (c network.Class, ok bool) {
	if tags.Find("area") == "yes" {
		return c, false
	}
	if tags.Find("route") == "ferry" {
		// Ferries for people on foot say so; the others are listed, and what
		// they take is asked.
		return network.Ferry, tags.Find("motor_vehicle") != "no" && tags.Find("vehicle") != "no"
	}
	c, ok = classOf[tags.Find("highway")]
	return c, ok
}

// way is what the tags of a road say.
type way struct {
	class  network.Class
	record network.Record
	speed  measure.Speed
	ref    string
	name   string
	ferry  float64 // seconds that a crossing takes; 0: not known
	layer  int
}

// readWay reads the tags of a road. what is malformed is handed to note.
func readWay(tags osm.Tags, class network.Class, text func(string) network.StringID, note func(Malformed)) way {
	w := way{class: class, ref: tags.Find("ref"), name: tags.Find("name"), layer: layer(tags)}
	r := &w.record
	r.Flags = flags(tags, class, note)
	r.Lanes = lanes(tags)
	r.Paved = paving(tags)
	width := ReadWidth(tags.Find("width"))
	if r.Width = width.Value; width.State == network.Unreadable {
		note(Malformed{Key: "width", Value: tags.Find("width"), Likely: width.Likely})
	}
	if v := tags.Find("lanes"); v != "" && r.Lanes == 0 {
		note(Malformed{Key: "lanes", Value: v})
	}
	r.Surface, r.Smoothness = text(tags.Find("surface")), text(tags.Find("smoothness"))
	r.Tracktype, r.Incline = text(tags.Find("tracktype")), text(tags.Find("incline"))
	r.Operator, r.Ownership, r.Signed = text(tags.Find("operator")), text(tags.Find("ownership")),
		text(tags.Find("network"))
	r.Signs = signs(tags, text, note)
	if width.State == network.Unreadable { // shown on every trip that drives there
		r.Signs = append(r.Signs, network.Sign{
			Subject: network.MaxWidthPhysical, State: network.Unreadable, Text: text("width=" + tags.Find("width")),
		})
	}
	w.speed, w.ferry = speedOf(tags, class, r, note), duration(tags.Find("duration"))
	return w
}

// flags reads what a road has or lacks.
func flags(tags osm.Tags, class network.Class, note func(Malformed)) (f network.Flags) {
	set := func(flag network.Flags, on bool) {
		if on {
			f |= flag
		}
	}
	is := func(key string) bool { v := tags.Find(key); return v != "" && v != "no" }
	junction := tags.Find("junction")
	set(network.Link, strings.HasSuffix(tags.Find("highway"), "_link"))
	set(network.Roundabout, junction == "roundabout" || junction == "circular")
	set(network.OnBridge, is("bridge"))
	set(network.InTunnel, is("tunnel") && tags.Find("tunnel") != "culvert" &&
		tags.Find("tunnel") != "building_passage" && tags.Find("tunnel") != "avalanche_protector")
	set(network.Covered, is("covered") || tags.Find("bridge") == "covered" || tags.Find("tunnel") == "avalanche_protector")
	set(network.ThroughBuilding, tags.Find("tunnel") == "building_passage")
	set(network.Ford, is("ford"))
	set(network.Calmed, is("traffic_calming"))
	set(network.Humped, is("traffic_calming") && calming(tags) == network.Hump)
	set(network.Toll, is("toll") || is("toll:hgv") || is("toll:trailer"))
	set(network.AtEnds, class == network.Service && forEnds[tags.Find("service")])
	tram := is("railway") && contactLine(tags) // on the road itself
	set(network.TrolleyWire, is("trolley_wire") || is("trolley_wire:forward") || is("trolley_wire:backward") || tram)
	return f | oneway(tags, class, f, note)
}

// oneway reads the direction of travel (OpenStreetMap wiki, Key:oneway, 2025):
// circular junctions and freeways are one-way where nothing else is said.
//
// A direction that hangs on the hour or on who drives, or that is not
// understood, is one that varies.
func oneway(tags osm.Tags, class network.Class, f network.Flags, note func(Malformed)) network.Flags {
	varies := network.Flags(0)
	for _, t := range tags {
		base, of, qualified := strings.Cut(t.Key, ":")
		if _, binds := modeOf[strings.Split(of, ":")[0]]; base == "oneway" && qualified &&
			(binds || strings.HasSuffix(of, "conditional")) && !strings.HasPrefix(of, "bus") &&
			!strings.HasPrefix(of, "psv") && !strings.HasPrefix(of, "bicycle") {
			varies = network.OnewayVaries
			note(Malformed{Key: t.Key, Value: t.Value})
		}
	}
	return varies | direction(tags, class, f, note)
}

func direction(tags osm.Tags, class network.Class, f network.Flags, note func(Malformed)) network.Flags {
	switch value := strings.ToLower(tags.Find("oneway")); value {
	case "":
	case "yes", "true", "1":
		return network.OnewayAlong | network.KnownDirection
	case "-1", "reverse":
		return network.OnewayAgainst | network.KnownDirection
	case "no", "false", "0":
		return network.KnownDirection
	case "reversible", "alternating":
		return network.OnewayVaries | network.KnownDirection
	default:
		note(Malformed{Key: "oneway", Value: tags.Find("oneway")})
		return network.OnewayVaries
	}
	if f.Has(network.Roundabout) || class == network.Freeway && tags.Find("highway") == "motorway" {
		return network.OnewayAlong
	}
	return 0
}

func lanes(tags osm.Tags) uint8 {
	n, err := strconv.ParseUint(tags.Find("lanes"), 10, 8)
	if err != nil || n > 20 {
		return 0
	}
	return uint8(n)
}

// pavings of the values of surface (OpenStreetMap wiki, Key:surface, 2025).
var pavings = map[string]network.Paving{
	"paved": network.Paved, "asphalt": network.Paved, "concrete": network.Paved, "chipseal": network.Paved,
	"paving_stones": network.Paved, "sett": network.Paved, "cobblestone": network.Paved,
	"unhewn_cobblestone": network.Paved, "metal": network.Paved, "bricks": network.Paved,
	"concrete:plates": network.Paved, "concrete:lanes": network.Paved, "wood": network.Paved,
	"unpaved": network.Unpaved, "gravel": network.Unpaved, "fine_gravel": network.Unpaved,
	"compacted": network.Unpaved, "dirt": network.Unpaved, "earth": network.Unpaved,
	"ground": network.Unpaved, "grass": network.Unpaved, "sand": network.Unpaved, "mud": network.Unpaved,
	"pebblestone": network.Unpaved, "rock": network.Unpaved, "ice": network.Unpaved, "snow": network.Unpaved,
	"grass_paver": network.Unpaved, "clay": network.Unpaved, "woodchips": network.Unpaved,
}

// paving reads whether a road is paved: the worst of what its surface says,
// and a track of grade 2 or more is not.
func paving(tags osm.Tags) network.Paving {
	out := network.PavingUnknown
	for _, s := range strings.Split(tags.Find("surface"), ";") {
		out = max(out, pavings[strings.TrimSpace(s)]) // unpaved is the highest
	}
	if g := tags.Find("tracktype"); g == "grade1" {
		out = max(out, network.Paved)
	} else if g != "" {
		out = network.Unpaved
	}
	return out
}

// layer is the height order of a way: as tagged, a bridge is above and a tunnel
// below where it is not (OpenStreetMap wiki, Key:layer, 2025).
func layer(tags osm.Tags) int {
	if n, err := strconv.Atoi(tags.Find("layer")); err == nil && n >= -5 && n <= 5 {
		return n
	}
	is := func(key string) bool { v := tags.Find(key); return v != "" && v != "no" }
	switch {
	case is("bridge"):
		return 1
	case is("tunnel") && tags.Find("tunnel") != "building_passage" && tags.Find("tunnel") != "culvert":
		return -1
	default:
		return 0
	}
}

// speedOf is the speed assumed when towing: that of the class, or what is
// posted where that is lower; of both directions the lower.
func speedOf(tags osm.Tags, class network.Class, r *network.Record, note func(Malformed)) measure.Speed {
	v := towing[class]
	if r.Flags.Has(network.Link) {
		v = min(v, rampSpeed)
	}
	for _, key := range []string{"maxspeed", "maxspeed:forward", "maxspeed:backward", "maxspeed:hgv", "maxspeed:trailer"} {
		value := tags.Find(key)
		switch posted := ReadSpeed(value); posted.State {
		case network.Known:
			r.Flags |= network.PostedSpeed
			v = min(v, posted.Value)
		case network.Unreadable:
			note(Malformed{Key: key, Value: value})
		}
	}
	if a := tags.Find("maxspeed:advisory"); a != "" {
		if posted := ReadSpeed(a); posted.State == network.Known {
			v = min(v, posted.Value)
		}
	}
	return v
}

// duration reads the time of a ferry: minutes, hours and minutes, or an ISO
// 8601 duration (OpenStreetMap wiki, Key:duration, 2025). 0: not known.
func duration(text string) float64 {
	if s, ok := strings.CutPrefix(strings.ToUpper(text), "PT"); ok {
		hours, rest, found := strings.Cut(s, "H")
		if !found {
			hours, rest = "0", s
		}
		minutes, err := strconv.ParseUint(strings.TrimSuffix(rest, "M"), 10, 16)
		if rest == "" {
			minutes, err = 0, nil
		}
		h, errH := strconv.ParseUint(hours, 10, 8)
		if err != nil || errH != nil {
			return 0
		}
		return float64(h*3600 + minutes*60)
	}
	total := 0.0
	parts := strings.Split(text, ":")
	if len(parts) > 3 {
		return 0
	}
	for _, p := range parts {
		n, err := strconv.ParseUint(p, 10, 16)
		if err != nil {
			return 0
		}
		total = total*60 + float64(n)
	}
	if len(parts) < 3 {
		total *= 60 // hours and minutes, or minutes alone
	}
	return total
}
