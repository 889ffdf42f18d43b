package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/regs/area"
	"wayhouse/routing/network"
)

// classes translates the source's CLASS. The source does not explain its
// numbers; the reading follows the roads that carry them (401 and 417 are 1).
var classes = map[int]network.Class{
	1: network.Freeway, 2: network.Primary, 3: network.Secondary, 4: network.Local, 200: network.PossibleFerry,
}

// provinces translates the source's PROV_EN.
var provinces = map[string]string{"Ontario": "CA-ON", "Quebec": "CA-QC"}

// about is what the bundled network says of itself.
var about = map[string]any{
	"name":        "Roads around Ottawa and Montreal",
	"vintage":     "about 2003",
	"caution":     "a sample of about 2003, not to be driven by",
	"attribution": "© Her Majesty the Queen in Right of Canada, Department of Natural Resources. All rights reserved.",
	"carries":     []network.Fact{},
	"lacks":       network.AllFacts(),
	"assumed_speeds_km_h": map[network.Class]float64{
		network.Freeway: 90, network.Primary: 80, network.Secondary: 70, network.Local: 60,
	},
	"assumptions": []string{
		"towing speeds by road class are this project's assumption, not posted limits: freeway 90 km/h, primary " +
			"80, secondary 70, local connector 60",
		"every road is open both ways, because the source has no one-ways",
		"lines that end at the same place (to about 1 m) meet there, bridges included",
		"a line of class 200 is taken for a ferry: used only where nothing else leads on, its crossing time unknown",
	},
}

// buildRoads makes the network: nodes where line ends meet, the province as
// the source names it, the polygons only where it names none.
func buildRoads(path string, areas []byte) ([]byte, error) {
	fc, err := readSource(path)
	if err != nil {
		return nil, err
	}
	index, err := area.Read(areas)
	if err != nil {
		return nil, err
	}
	nodes := nodeSet{}
	var out []*geojson.Feature
	for i, f := range fc.Features {
		road, err := nodes.road(f, index)
		if err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", path, i, err)
		}
		out = append(out, road)
	}
	head, err := json.Marshal(about)
	if err != nil {
		return nil, err
	}
	return collection(`"network":`+string(head)+",\n", out)
}

// readyRoads makes a network file of the bundled roads, prepared for searches.
func readyRoads(roads []byte) ([]byte, error) {
	n, err := network.ReadGeoJSON(roads)
	if err != nil {
		return nil, err
	}
	if err := n.Prepare(context.Background(), nil); err != nil {
		return nil, err
	}
	if err := n.Verify(context.Background(), nil); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	_, err = n.WriteTo(&out)
	return out.Bytes(), err
}

// nodeSet numbers line ends in the order they come.
type nodeSet map[[2]int64]node

type node struct {
	id int
	at orb.Point
}

// place returns the node at p; ends that agree to 1e-5 degree, about 1 m, are
// one node.
func (s nodeSet) place(p orb.Point) node {
	key := [2]int64{int64(math.Round(p[0] * 1e5)), int64(math.Round(p[1] * 1e5))}
	if _, ok := s[key]; !ok {
		s[key] = node{id: len(s), at: p}
	}
	return s[key]
}

func (s nodeSet) road(f *geojson.Feature, index *area.Index) (*geojson.Feature, error) {
	line, ok := f.Geometry.(orb.LineString)
	if !ok || len(line) < 2 {
		return nil, fmt.Errorf("is no line")
	}
	class, ok := classes[f.Properties.MustInt("CLASS", 0)]
	if !ok {
		return nil, fmt.Errorf("class %v is not known", f.Properties["CLASS"])
	}
	codes, err := jurisdictionsOf(f, line, index)
	if err != nil {
		return nil, err
	}
	from, to := s.place(line[0]), s.place(line[len(line)-1])
	line = slices.Clone(line)
	line[0], line[len(line)-1] = from.at, to.at
	road := geojson.NewFeature(line)
	road.Properties = geojson.Properties{"from": from.id, "to": to.id, "class": class, "jurisdictions": codes}
	if ref, _ := f.Properties["ROAD_"].(string); ref != "" {
		road.Properties["ref"] = ref
	}
	return road, nil
}

// jurisdictionsOf takes the province that the source names. Where it names
// none, every jurisdiction that the polygons give to either end; where the
// polygons give some point of the line to others alone, those too, because the
// source may be wrong (it is, for one road along the Ottawa river).
func jurisdictionsOf(f *geojson.Feature, line orb.LineString, index *area.Index) ([]string, error) {
	var codes []string
	if name, _ := f.Properties["PROV_EN"].(string); name != "" {
		code, ok := provinces[name]
		if !ok {
			return nil, fmt.Errorf("province %q is not known", name)
		}
		codes = append(codes, code)
		for _, p := range line {
			if at := index.At(p); !slices.Contains(at, code) {
				codes = append(codes, at...)
			}
		}
	} else {
		codes = append(index.At(line[0]), index.At(line[len(line)-1])...)
	}
	slices.Sort(codes)
	codes = slices.Compact(codes)
	if len(codes) == 0 {
		return nil, fmt.Errorf("lies in no jurisdiction")
	}
	return codes, nil
}
