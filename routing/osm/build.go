// Package osm turns OpenStreetMap extracts into a network.
//
// Tags are read as the OpenStreetMap wiki defines them. What it does not say,
// or what no figure can be made of, becomes something unknown that is listed:
// nothing is guessed and nothing is dropped in silence.
package osm

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"
	"github.com/paulmach/osm"

	"wayhouse/regs/area"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Attribution is what every use of the data has to show (Open Database License
// 1.0, section 4.3; the foundation's attribution guidelines, 2021).
const (
	Attribution = "© OpenStreetMap contributors"
	Licence     = "Open Database License 1.0 (opendatacommons.org/licenses/odbl)"
)

// Options are what an import needs beside the extracts.
type Options struct {
	Name     string      // "": the names of the files
	Areas    *area.Index // jurisdictions where the extract has none of its own; nil: none
	Terrain  Terrain     // nil: no grades
	Progress Progress    // nil: none
}

// Terrain tells how high the ground is.
type Terrain interface {
	// Height returns metres above the tile's datum; ok is false where it is not
	// known.
	Height(p orb.Point) (metres float64, ok bool)
}

// Build makes a network of extracts that may overlap: elements are joined by
// their ids, the one edited last counts. The same extracts give the same
// network, byte for byte, in whatever order they come.
//
//  1. Collect the roads and what bears on them, in three readings.
//  2. Join the boundaries of the extracts to areas.
//  3. Lay a grid over what may hang over roads.
//  4. Cut each road at junctions and borders; find what it passes under and
//     what stands on it; measure its climb.
//  5. Find out what delays traffic: controls, junctions, built-up areas.
//  6. Put the turn restrictions, the places and the addresses in.
//  7. Count, and complete the network.
//
// Memory grows with the roads, not with the extracts. The error is an
// [*InputError], that of the file or that of the context.
func Build(ctx context.Context, paths []string, o Options) (*network.Network, *Report, error) {
	if len(paths) == 0 {
		return nil, nil, errors.New("no extract is given")
	}
	b := newBuild(o)
	if err := b.collect(ctx, paths, o.Progress); err != nil {
		return nil, nil, err
	}
	if len(b.roads) == 0 {
		return nil, nil, &InputError{
			strings.Join(paths, ", "),
			say.That("error.holds_no_road"),
			say.That("fix.give_an_extract_with"),
		}
	}
	if err := b.joinBorders(); err != nil {
		return nil, nil, err
	}
	b.layGrid()
	if err := b.layRoads(ctx); err != nil {
		return nil, nil, err
	}
	b.graph = b.builder.Graph()
	b.slow()
	b.ban()
	b.endData(len(paths))
	b.putPlaces()
	b.putAddresses()
	b.count(paths)
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	report, err := json.Marshal(b.report)
	if err != nil {
		return nil, nil, err
	}
	n, err := b.builder.Finish(b.about(paths), report)
	return n, b.report, err
}

// build is the state of an import.
type build struct {
	*collector
	options Options
	borders borders
	grid    grid
	meets   map[int64][]int32 // things above or across, by the nodes at which roads may meet them
	aliases map[int32][]int64 // nodes at the place of another that stands for them
	standIn map[int32]int32   // the other way round
	arms    map[int64]arms    // of nodes on which something stands
	nodeOf  []network.NodeID
	cutOff  []int32 // nodes beside one that is in no extract
	graph   *network.Network
	placed  []placedControl // within edges
}

func newBuild(o Options) *build {
	return &build{
		options: o,
		collector: &collector{
			builder: network.NewBuilder(), lines: map[int64]line{}, signed: map[int64][]string{},
			trucks: map[int64]network.Flags{}, spots: map[int64]nodeThing{}, housesOf: map[osm.FeatureID]string{},
			controls: map[int64]control{},
			report: &Report{
				Attribution: Attribution, Elements: map[string]int{}, Tagged: map[string]int{},
				Signs: map[string]int{}, Structures: map[string]int{}, Unmeasured: map[string]int{},
				Barriers: map[string]int{}, Controls: map[string]int{}, Boundaries: map[string]int{}, Places: map[string]int{},
				KilometresByClass: map[string]float64{}, KilometresByJurisdiction: map[string]float64{},
				Malformed: []Malformed{},
			},
		},
		meets: map[int64][]int32{}, aliases: map[int32][]int64{}, standIn: map[int32]int32{}, arms: map[int64]arms{},
		borders: borders{shipped: o.Areas, cells: map[s2.CellID]cellAnswer{}, keys: map[string]where{}},
	}
}

func (b *build) head(a network.Arc) network.NodeID { return b.graph.Head(a) }
func (b *build) tail(a network.Arc) network.NodeID { return b.graph.Tail(a) }

// open reports whether one-way tags leave a direction open.
func (b *build) open(a network.Arc) bool {
	f := b.graph.Record(b.graph.RoadID(a.Edge())).Flags
	return !(f.Has(network.OnewayAlong) && a.Reverse() || f.Has(network.OnewayAgainst) && !a.Reverse())
}

func (b *build) number(ref int64) int32 {
	i, _ := slices.BinarySearch(b.ids, ref)
	return int32(i)
}

func (b *build) missing(i int32) bool { return math.IsNaN(b.point[i][0]) }

func (b *build) nodeOfRef(ref int64) (network.NodeID, bool) {
	i, ok := slices.BinarySearch(b.ids, ref)
	if ok && b.nodeOf[i] < 0 {
		if kept, is := b.standIn[int32(i)]; is {
			i = int(kept)
		}
	}
	if !ok || b.nodeOf[i] < 0 {
		return 0, false
	}
	return b.nodeOf[i], true
}

// joinBorders makes areas of the boundaries whose ways are all there.
func (b *build) joinBorders() error {
	var provinces, towns []area.Area
	seen := map[string]bool{}
	for _, bound := range b.boundaries {
		g, ok := b.geometry(bound)
		level := fmt.Sprintf("level %d", bound.level)
		if !ok {
			b.report.Boundaries[level+" incomplete"]++
			continue
		}
		code := bound.code
		if bound.level != provinceLevel {
			code = fmt.Sprintf("%d %d %s", bound.level, bound.id, bound.name)
		}
		a := area.Area{Jurisdiction: area.Jurisdiction{Code: code, Name: bound.name}, Geometry: g}
		switch {
		case bound.level == provinceLevel && (code == "" || seen[code]):
			b.report.Boundaries[level+" without a code of its own"]++
			continue
		case bound.level == provinceLevel:
			provinces = append(provinces, a)
		default:
			towns = append(towns, a)
		}
		seen[code] = true
		b.report.Boundaries[level]++
	}
	var err error
	if len(provinces) > 0 {
		if b.borders.own, err = area.New(provinces, extractTolerance); err != nil {
			return err
		}
	}
	if len(towns) > 0 {
		b.borders.towns, err = area.New(towns, extractTolerance)
	}
	return err
}

func (b *build) geometry(bound boundary) (orb.MultiPolygon, bool) {
	var ways [][]orb.Point
	for _, id := range bound.ways {
		points := make([]orb.Point, 0, len(b.lines[id].refs))
		for _, ref := range b.lines[id].refs {
			i := b.number(ref)
			if b.missing(i) {
				return nil, false
			}
			points = append(points, b.point[i])
		}
		ways = append(ways, points)
	}
	rs, ok := rings(ways)
	return polygon(rs), ok
}
