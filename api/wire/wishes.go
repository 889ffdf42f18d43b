package wire

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/area"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// WishesRequest is what the user asks of a way beside that the rig fits. A way
// that breaks one is never taken.
type WishesRequest struct {
	NoFerries    bool     `json:"no_ferries,omitempty"`
	NoTolls      bool     `json:"no_tolls,omitempty"`
	NoUnpaved    bool     `json:"no_unpaved,omitempty" doc:"No road that is known to be unpaved"`
	NoUnmeasured bool     `json:"no_unmeasured,omitempty" doc:"Under nothing without a usable clear height"`
	NoUTurns     bool     `json:"no_u_turns,omitempty" doc:"Turn back nowhere on the way, be it through a break in the median or round a small loop"`
	TruckRoads   *float64 `json:"truck_roads,omitempty" minimum:"1" maximum:"3" doc:"By what factor roads are dearer that are no truck roads, a price and no time: 1.3 when left out, 1 prefers none"`
	NotIn        []string `json:"not_in,omitempty" maxItems:"100" doc:"Jurisdictions by code or name, such as US-NY or New York; near a border the roads of both sides count"`
	NotThrough   any      `json:"not_through,omitempty" doc:"Drawn areas: GeoJSON, a Polygon or MultiPolygon, or a Feature or FeatureCollection with some"`
	NotBy        []string `json:"not_by,omitempty" maxItems:"20" doc:"Roads by number or name; a town, province or state may follow a comma"`
	By           []string `json:"by,omitempty" maxItems:"4" doc:"Roads by number or name, each to be used between every two stops"`
	Hazmat       Hazmat   `json:"hazmat,omitempty" doc:"Whether goods aboard, such as propane, count as hazardous; unknown when left out"`
	TopSpeed     Speed    `json:"top_speed,omitzero" minimum:"10" maximum:"150" doc:"The rig drives no faster, such as 90 km/h or 55 mph"`

	PermitCost  Time            `json:"permit_cost,omitzero" doc:"By what detour, such as 30 min or 2 h, each entry into a jurisdiction is worth avoiding for the permit that it asks for"`
	PermitCosts map[string]Time `json:"permit_costs,omitempty" doc:"The same by jurisdiction, instead of permit_cost there"`
	Once        bool            `json:"once,omitempty" doc:"Charge each of permit_costs once and not at each entry; for a few jurisdictions"`
}

// wishes reads wishes; none is no wish.
func (r *reader) wishes(q *WishesRequest, areas *area.Index) choosing.Wishes {
	if q == nil {
		return choosing.Wishes{}
	}
	return choosing.Wishes{
		NoFerries: q.NoFerries, NoTolls: q.NoTolls, NoUnpaved: q.NoUnpaved, NoUnmeasured: q.NoUnmeasured,
		NoUTurns: q.NoUTurns, Others: others(q.TruckRoads),
		NotIn: r.areas("wishes.not_in", q.NotIn, areas), NotThrough: r.drawn("wishes.not_through", q.NotThrough),
		NotBy: r.names("wishes.not_by", q.NotBy), By: r.names("wishes.by", q.By),
		Hazmat: standing.Answer(q.Hazmat), Top: q.TopSpeed.Or(0),
		PermitCost: q.PermitCost.Or(0), PermitCosts: r.permitCosts("wishes.permit_costs", q.PermitCosts, areas), Once: q.Once,
	}
}

// others reads a factor for roads that are no truck roads; none is the usual one.
func others(factor *float64) network.Permille {
	if factor == nil {
		return 0
	}
	return network.Permille(math.Round(*factor * float64(network.Alike)))
}

// areas reads jurisdictions whose borders are known, by code or by name.
func (r *reader) areas(field string, in []string, areas *area.Index) (out []string) {
	for i, text := range in {
		if code, ok := r.area(fmt.Sprintf("%s[%d]", field, i), text, areas); ok {
			out = append(out, code)
		}
	}
	return out
}

func (r *reader) names(field string, in []string) (out []string) {
	for i, name := range in {
		if name = strings.TrimSpace(name); name == "" {
			r.fail(fmt.Sprintf("%s[%d]", field, i), in[i], say.That("error.empty"), say.That("fix.name_a_road_by"))
			continue
		}
		out = append(out, name)
	}
	return out
}

// permitCosts reads what the permits of jurisdictions are worth, in the order of
// their codes so that mistakes are named in one order.
func (r *reader) permitCosts(field string, in map[string]Time, areas *area.Index) map[string]time.Duration {
	if len(in) == 0 {
		return nil
	}
	out := map[string]time.Duration{}
	for _, key := range slices.Sorted(maps.Keys(in)) {
		code, ok := r.area(field, key, areas)
		if _, twice := out[code]; ok && twice {
			r.fail(field, key, say.That("error.given_twice"), say.That("fix.give_one_of_the"))
		}
		out[code] = in[key].Or(0)
	}
	return out
}

// drawn reads drawn areas.
func (r *reader) drawn(field string, doc any) orb.MultiPolygon {
	if doc == nil {
		return nil
	}
	out, err := geoJSONAreas(doc)
	if err != nil {
		r.fail(field, nil, say.Of(err), say.That("fix.give_a_closed_polygon"))
	}
	return out
}

// geoJSONAreas collects the polygons of a geometry, a feature or a collection.
func geoJSONAreas(doc any) (orb.MultiPolygon, error) {
	object, err := readGeoJSON(doc)
	if err != nil {
		return nil, err
	}
	var out orb.MultiPolygon
	for _, g := range object.geometries() {
		found, err := g.polygons()
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	if len(out) == 0 {
		return nil, say.Err(say.That("error.no_polygon"))
	}
	return out, nil
}

func (g *geoJSONObject) polygons() (out orb.MultiPolygon, err error) {
	var all [][]json.RawMessage
	switch g.Type {
	case "Polygon":
		all = make([][]json.RawMessage, 1)
		err = json.Unmarshal(g.Coordinates, &all[0])
	case "MultiPolygon":
		err = json.Unmarshal(g.Coordinates, &all)
	default:
		return nil, say.Err(say.That("error.no_area", "type", g.Type))
	}
	if err != nil {
		return nil, say.Err(say.That("error.coordinates_that_are_no"))
	}
	for _, rings := range all {
		if len(rings) != 1 {
			return nil, say.Err(say.That("error.rings", "n", len(rings)))
		}
		line, err := positions(rings[0])
		if err != nil {
			return nil, err
		}
		if err := checkRing(line); err != nil {
			return nil, err
		}
		out = append(out, orb.Polygon{orb.Ring(line)})
	}
	return out, nil
}

// checkRing refuses what bounds no area: a wish about it would keep the way out
// of nothing without a word.
func checkRing(line orb.LineString) error {
	distinct := map[orb.Point]bool{}
	for i, p := range line {
		if !(p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180) {
			return say.Err(say.That("error.position_off", "n", i))
		}
		distinct[p] = true
	}
	if len(distinct) < 3 {
		return say.Err(say.That("error.ring_points", "n", len(distinct)))
	}
	if line[0] != line[len(line)-1] {
		return say.Err(say.That("error.a_ring_whose_last"))
	}
	return nil
}
