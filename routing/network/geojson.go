package network

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
)

// A bundled network is a GeoJSON FeatureCollection (RFC 7946) of lines. Each
// has the properties from and to (node numbers), class, ref and jurisdictions;
// a foreign member "network" describes the whole. It can be looked at with any
// map program.

// header is the foreign member "network".
type header struct {
	Name        string            `json:"name"`
	Vintage     string            `json:"vintage"`
	Caution     string            `json:"caution"`
	Attribution string            `json:"attribution"`
	Carries     []Fact            `json:"carries"`
	Lacks       []Fact            `json:"lacks"`
	Speeds      map[Class]float64 `json:"assumed_speeds_km_h"`
	Assumptions []string          `json:"assumptions"`
}

// ReadGeoJSON reads a bundled network. Errors name the feature that cannot be
// used.
func ReadGeoJSON(raw []byte) (*Network, error) {
	var shell struct {
		Network header `json:"network"`
	}
	if err := json.Unmarshal(raw, &shell); err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	n := &Network{About: shell.Network.about(raw), shapeStart: []int32{0}}
	sets := map[string]uint16{}
	for i, f := range fc.Features {
		if err := n.add(f, sets); err != nil {
			return nil, fmt.Errorf("network: feature %d: %w", i, err)
		}
	}
	if id := slices.Index(n.Node, orb.Point{}); id >= 0 {
		return nil, fmt.Errorf("network: no line ends at node %d", id)
	}
	if err := n.About.complete(); err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	n.link()
	return n, nil
}

func (h header) about(raw []byte) About {
	sum := sha256.Sum256(raw)
	a := About{
		Name: h.Name, Vintage: h.Vintage, Caution: h.Caution, Attribution: h.Attribution,
		Carries: h.Carries, Lacks: h.Lacks, Assumptions: h.Assumptions,
		Speeds: map[Class]measure.Speed{}, Revision: hex.EncodeToString(sum[:6]),
	}
	for c, kmh := range h.Speeds {
		a.Speeds[c] = measure.Speed(kmh) * measure.KilometrePerHour
	}
	return a
}

// complete checks that each fact is either carried or lacking: a network that
// says nothing about one would read as clear.
func (a About) complete() error {
	for _, f := range AllFacts() {
		if slices.Contains(a.Carries, f) == slices.Contains(a.Lacks, f) {
			return fmt.Errorf("the network must list %q as carried or as lacking, one of the two", f)
		}
	}
	return nil
}

// add appends one line.
func (n *Network) add(f *geojson.Feature, sets map[string]uint16) error {
	line, ok := f.Geometry.(orb.LineString)
	if !ok || len(line) < 2 {
		return fmt.Errorf("is no line")
	}
	areas, err := codes(f.Properties["jurisdictions"])
	if err != nil {
		return err
	}
	from, to := f.Properties.MustInt("from", -1), f.Properties.MustInt("to", -1)
	if err := n.node(from, line[0]); err != nil {
		return err
	}
	if err := n.node(to, line[len(line)-1]); err != nil {
		return err
	}
	key := strings.Join(areas, " ")
	if _, seen := sets[key]; !seen {
		sets[key] = uint16(len(n.AreaSets))
		n.AreaSets = append(n.AreaSets, areas)
	}
	n.From, n.To = append(n.From, NodeID(from)), append(n.To, NodeID(to))
	n.Length = append(n.Length, geodesic.Length(line))
	n.Class = append(n.Class, Class(f.Properties.MustString("class", "")))
	n.Ref = append(n.Ref, f.Properties.MustString("ref", ""))
	n.Areas = append(n.Areas, sets[key])
	n.shape = append(n.shape, line...)
	n.shapeStart = append(n.shapeStart, int32(len(n.shape)))
	return nil
}

// node records the place of a node, which every line that ends there repeats.
func (n *Network) node(id int, p orb.Point) error {
	const most = 100_000_000
	if id < 0 || id > most || id > len(n.Node)*2+2 {
		return fmt.Errorf("node number %d is out of order", id)
	}
	for len(n.Node) <= id {
		n.Node = append(n.Node, orb.Point{})
	}
	if n.Node[id] != (orb.Point{}) && n.Node[id] != p {
		return fmt.Errorf("node %d is at %v and at %v", id, n.Node[id], p)
	}
	n.Node[id] = p
	return nil
}

func codes(v any) ([]string, error) {
	list, _ := v.([]any)
	var out []string
	for _, item := range list {
		code, ok := item.(string)
		if !ok || code == "" {
			return nil, fmt.Errorf("jurisdiction %v is no code", item)
		}
		out = append(out, code)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("has no jurisdiction")
	}
	return out, nil
}
