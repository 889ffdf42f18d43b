package network

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"wayhouse/regs/measure"
)

// A bundled network is a GeoJSON FeatureCollection (RFC 7946) of lines. Each
// has the properties from and to (node numbers), class, ref and jurisdictions;
// a foreign member "network" describes the whole. It can be looked at with any
// map program.

// collection is the foreign member "network".
type collection struct {
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
		Network collection `json:"network"`
	}
	if err := json.Unmarshal(raw, &shell); err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	fc, err := geojson.UnmarshalFeatureCollection(raw)
	if err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	b := NewBuilder()
	b.net.About = shell.Network.about(raw)
	for i, f := range fc.Features {
		if err := b.addFeature(f); err != nil {
			return nil, fmt.Errorf("network: feature %d: %w", i, err)
		}
	}
	if id := slices.Index(b.net.Node, orb.Point{}); id >= 0 {
		return nil, fmt.Errorf("network: no line ends at node %d", id)
	}
	n, err := b.Finish(b.net.About, nil)
	if err != nil {
		return nil, fmt.Errorf("network: %w", err)
	}
	return n, nil
}

func (h collection) about(raw []byte) About {
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

// complete checks that each fact is either carried or lacking, since a network
// that says nothing about one would read as clear, and that speeds are speeds.
func (a About) complete() error {
	for _, f := range AllFacts() {
		if slices.Contains(a.Carries, f) == slices.Contains(a.Lacks, f) {
			return fmt.Errorf("the network must list %q as carried or as lacking, one of the two", f)
		}
	}
	for c, v := range a.Speeds {
		if v <= 0 {
			return fmt.Errorf("the speed of a %s is %v; leave it out where it is not known", c, v)
		}
	}
	return nil
}

// properties of one line.
type properties struct {
	From, To      *int
	Class         Class
	Ref           string
	Jurisdictions []string
}

func (p properties) check() error {
	switch {
	case p.From == nil || p.To == nil:
		return fmt.Errorf("has no from or no to")
	case p.Class == Unclassed:
		return fmt.Errorf("has no class")
	case len(p.Jurisdictions) == 0 || slices.Contains(p.Jurisdictions, ""):
		return fmt.Errorf("has no jurisdiction")
	default:
		return nil
	}
}

// addFeature adds one line.
func (b *Builder) addFeature(f *geojson.Feature) error {
	if f == nil {
		return fmt.Errorf("is null")
	}
	line, ok := f.Geometry.(orb.LineString)
	if !ok || len(line) < 2 {
		return fmt.Errorf("is no line")
	}
	for _, p := range line {
		if !(p.Lat() >= -90 && p.Lat() <= 90 && p.Lon() >= -180 && p.Lon() <= 180) {
			return fmt.Errorf("%v is no longitude and latitude", p)
		}
	}
	var p properties
	raw, err := json.Marshal(f.Properties)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(raw, &p); err != nil {
		return err
	}
	if err := p.check(); err != nil {
		return err
	}
	if err := b.placeNode(*p.From, line[0]); err != nil {
		return err
	}
	if err := b.placeNode(*p.To, line[len(line)-1]); err != nil {
		return err
	}
	_, err = b.Edge(Edge{
		From: NodeID(*p.From), To: NodeID(*p.To), Line: line, Class: p.Class, Speed: b.net.About.Speeds[p.Class],
		Ref: p.Ref, Jurisdictions: p.Jurisdictions,
	})
	return err
}

// placeNode records the place of a node, which every line that ends there repeats.
func (b *Builder) placeNode(id int, p orb.Point) error {
	n := b.net
	const most = 100_000_000
	if id < 0 || id > most || id > len(n.Node)+1 {
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
