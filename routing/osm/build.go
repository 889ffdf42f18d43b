// Package osm turns OpenStreetMap extracts into a network.
//
// Tags are read as the OpenStreetMap wiki defines them. What it does not say,
// or what no figure can be made of, becomes something unknown that is listed:
// nothing is guessed and nothing is dropped in silence.
package osm

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/area"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
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
//  5. Put the turn restrictions and the places in.
//  6. Count, and complete the network.
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
		return nil, nil, &InputError{strings.Join(paths, ", "), "holds no road", "give an extract with roads"}
	}
	if err := b.joinBorders(); err != nil {
		return nil, nil, err
	}
	b.layGrid()
	if err := b.layRoads(ctx); err != nil {
		return nil, nil, err
	}
	b.graph = b.builder.Graph()
	b.ban()
	b.putPlaces()
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
	nodeOf  []network.NodeID
	graph   *network.Network
}

func newBuild(o Options) *build {
	return &build{
		options: o,
		collector: &collector{
			builder: network.NewBuilder(), lines: map[int64]line{}, signed: map[int64][]string{}, spots: map[int64]nodeThing{},
			report: &Report{
				Attribution: Attribution, Elements: map[string]int{}, Tagged: map[string]int{}, Signs: map[string]int{},
				Structures: map[string]int{}, Unmeasured: map[string]int{}, Barriers: map[string]int{}, Boundaries: map[string]int{},
				Places: map[string]int{}, KilometresByClass: map[string]float64{}, KilometresByJurisdiction: map[string]float64{},
				Malformed: []Malformed{},
			},
		},
		meets: map[int64][]int32{}, aliases: map[int32][]int64{},
		borders: borders{shipped: o.Areas, cells: map[s2.CellID]cellAnswer{}, keys: map[string]where{}},
	}
}

func (b *build) head(a network.Arc) network.NodeID { return b.graph.Head(a) }
func (b *build) tail(a network.Arc) network.NodeID { return b.graph.Tail(a) }

// open tells whether one-way tags leave a direction open.
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
			code = fmt.Sprintf("%d %s", bound.id, bound.name)
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

// layGrid makes everything that may hang over roads findable by place.
func (b *build) layGrid() {
	for k, o := range b.overs {
		if o.grade || o.wire || o.barrier {
			for _, ref := range o.refs {
				if b.uses[b.number(ref)] > 0 {
					b.meets[ref] = append(b.meets[ref], int32(k))
				}
			}
		}
		for i := 1; i < len(o.refs); i++ {
			na, nb := b.number(o.refs[i-1]), b.number(o.refs[i])
			if b.missing(na) || b.missing(nb) || na == nb {
				continue
			}
			b.grid.lay(int32(k), na, nb, b.point[na], b.point[nb])
		}
	}
}

// layRoads adds the edges of every road.
func (b *build) layRoads(ctx context.Context) error {
	b.nodeOf = make([]network.NodeID, len(b.ids))
	for i := range b.nodeOf {
		b.nodeOf[i] = -1
	}
	edges := 0
	for i := range b.roads {
		if i%4096 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if b.options.Progress != nil {
				b.options.Progress("roads", int64(i), int64(len(b.roads)))
			}
		}
		r := &b.roads[i]
		r.first = edges
		for _, run := range b.runs(r) {
			if err := b.lay(r, run); err != nil {
				return err
			}
		}
		if edges += r.edges; r.edges > 0 {
			b.report.Roads++
		}
	}
	if b.options.Progress != nil {
		b.options.Progress("roads", int64(len(b.roads)), int64(len(b.roads)))
	}
	return nil
}

// runs splits a road where its nodes are in no extract, and drops nodes that
// repeat the one before.
func (b *build) runs(r *road) (out [][]int32) {
	var run []int32
	flush := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for _, ref := range r.refs {
		i := b.number(ref)
		if b.missing(i) {
			b.report.MissingNodes++
			flush()
			continue
		}
		if len(run) > 0 && (run[len(run)-1] == i || b.point[run[len(run)-1]] == b.point[i]) {
			switch last := run[len(run)-1]; {
			case last == i:
			case b.uses[i] > 1 && b.uses[last] < 2: // of two nodes at one place the junction counts
				run[len(run)-1] = i
				b.alias(i, last)
			case b.uses[i] > 1: // two junctions at one place: an edge without length joins them
				run = append(run, i)
			default:
				b.alias(last, i)
			}
			continue
		}
		run = append(run, i)
	}
	flush()
	return out
}

// alias lets one node stand for another at its place.
func (b *build) alias(kept, dropped int32) {
	if ref := b.ids[dropped]; !slices.Contains(b.aliases[kept], ref) {
		b.aliases[kept] = append(b.aliases[kept], ref)
	}
}

// lay adds the edges of a run of nodes.
func (b *build) lay(r *road, run []int32) error {
	var climb *climber
	if b.options.Terrain != nil {
		climb = newClimber(b.options.Terrain, b.points(run), r.flags.Has(network.OnBridge) || r.flags.Has(network.InTunnel))
	}
	if r.ferry > 0 {
		r.speed = measure.Speed(float64(geodesic.Length(b.points(run))) / r.ferry)
	}
	start := 0
	for i := 1; i < len(run); i++ {
		if i == len(run)-1 || b.uses[run[i]] > 1 {
			if err := b.stretch(r, run[start:i+1], climb); err != nil {
				return err
			}
			start = i
		}
	}
	return nil
}

func (b *build) points(run []int32) []orb.Point {
	out := make([]orb.Point, len(run))
	for i, n := range run {
		out[i] = b.point[n]
	}
	return out
}

func (b *build) node(i int32) network.NodeID {
	if b.nodeOf[i] < 0 {
		b.nodeOf[i] = b.builder.Node(b.point[i])
	}
	return b.nodeOf[i]
}

// stretch adds a part of a road between two junctions, cut at borders.
func (b *build) stretch(r *road, run []int32, climb *climber) error {
	line, cuts, areas := b.borders.cut(b.points(run))
	things := b.things(r, run)
	from, begin := b.node(run[0]), 0
	for k, at := range append(cuts, len(line)-1) {
		if at == begin {
			continue
		}
		to := b.node(run[len(run)-1])
		if at < len(line)-1 {
			to = b.builder.Node(line[at])
		}
		part := line[begin : at+1]
		grade := climb.over(part)
		e, err := b.builder.Edge(network.Edge{
			From: from, To: to, Line: part, Class: r.class, Speed: r.speed, Road: r.record, Ref: r.ref, Name: r.name,
			Jurisdictions: areas[k].codes, Zone: areas[k].zone, Town: areas[k].town, Origin: r.id, Grade: grade,
		})
		if err != nil {
			return err
		}
		things = b.place(e, part, things, at == len(line)-1)
		b.whole(r, e)
		r.edges++
		length := float64(geodesic.Length(part)) / 1000
		if grade.Known == 0 {
			b.report.KilometresClimbUnknown += length
		}
		b.report.KilometresByClass[r.class.String()] += length
		b.report.KilometresByJurisdiction[cmp.Or(strings.Join(areas[k].codes, "/"), "unknown")] += length
		from, begin = to, at
	}
	return nil
}

// thing is something that stands on or over a stretch of road.
type thing struct {
	at    orb.Point
	node  bool // an OSM node
	id    int64
	kind  network.Kind
	road  network.RoadID
	name  string
	low   bool // no usable figure
	along bool // all along the edge
	own   bool // road is the record of the thing, not of the road under it
}

// things lists what stands on or over a stretch, in its order.
func (b *build) things(r *road, run []int32) (out []thing) {
	for i, n := range run {
		out = append(out, b.thingsAt(r, n, b.ids[n])...)
		for _, ref := range b.aliases[n] {
			out = append(out, b.thingsAt(r, n, ref)...)
		}
		if i+1 == len(run) {
			break
		}
		b.grid.crossing(n, run[i+1], b.point[n], b.point[run[i+1]], func(k int32, at orb.Point) {
			if o := b.overs[k]; o.id != r.id && !o.barrier && o.above(int(r.layer), r.flags) {
				out = append(out, thing{at: at, id: o.id, kind: o.kind, road: r.record, name: o.name, low: !r.figure})
			}
		})
	}
	return out
}

// thingsAt lists what stands at a node: what the node is, and what meets the
// road there.
func (b *build) thingsAt(r *road, n int32, ref int64) (out []thing) {
	if t, ok := b.thingAt(ref); ok {
		out = append(out, thing{at: b.point[n], node: true, id: ref, kind: t.kind, road: t.record, name: t.name, low: !t.figure && !r.figure, own: true})
		if t.height && !t.kind.Overhead() {
			out = append(out, thing{at: b.point[n], node: true, id: ref, kind: network.PostedHeight, road: t.record, name: t.name, low: !t.figure, own: true})
		}
	}
	for _, k := range b.meets[ref] {
		o := b.overs[k]
		if o.id == r.id || !o.barrier && !o.above(int(r.layer), r.flags) {
			continue
		}
		found := thing{at: b.point[n], id: o.id, kind: o.kind, road: r.record, name: o.name, low: !r.figure}
		if o.barrier {
			found.road, found.low, found.own = o.record, !o.figure && !r.figure, true
		}
		out = append(out, found)
	}
	return out
}

// whole adds what an edge is in or under along its whole length, at its
// middle: what its tags say, and its sign of height, whether or not anything
// known stands over it and whether or not the sign could be read.
func (b *build) whole(r *road, e network.EdgeID) {
	add := func(kind network.Kind) {
		b.spot(e, b.builder.Length(e)/2, thing{id: r.id, kind: kind, road: r.record, low: !r.figure, along: true})
	}
	for _, w := range []struct {
		flag network.Flags
		kind network.Kind
	}{
		{network.InTunnel, network.Tunnel}, {network.Covered, network.CoveredWay}, {network.ThroughBuilding, network.Passage},
		{network.TrolleyWire, network.ContactLine},
	} {
		if r.flags.Has(w.flag) {
			add(w.kind)
		}
	}
	if r.layer < 0 && !r.flags.Has(network.InTunnel) && !r.flags.Has(network.Covered) {
		add(network.Underpass)
	}
	if r.height {
		add(network.PostedHeight)
	}
}

// place adds the things of a stretch to the edge that they are on, and returns
// those that lie beyond it.
func (b *build) place(e network.EdgeID, line []orb.Point, things []thing, last bool) (rest []thing) {
	total := geodesic.Length(line)
	for _, t := range things {
		offset, off := locate(line, t.at)
		if !last && off > 1 {
			rest = append(rest, t)
			continue
		}
		b.spot(e, min(offset, total), t)
	}
	return rest
}

// spot adds one thing.
func (b *build) spot(e network.EdgeID, offset measure.Distance, t thing) {
	s := network.Spot{Offset: offset, OSM: t.id, Edge: e, Road: t.road, Name: b.builder.Text(t.name), Kind: t.kind}
	if t.node {
		s.OnNode = 1
	}
	if t.own {
		s.Own = 1
	}
	if t.along {
		s.Along = 1
	}
	b.builder.Spot(s)
	switch kind := t.kind.String(); {
	case t.kind == network.PostedHeight: // a sign is counted as one
	case !t.kind.Overhead():
		b.report.Barriers[kind]++
	default:
		b.report.Structures[kind]++
		if t.low {
			b.report.Unmeasured[kind]++
		}
	}
}

// locate finds how far along a line a point on it lies, and how far off.
func locate(line []orb.Point, p orb.Point) (offset, off measure.Distance) {
	target := toS2(p)
	best, found := s2.Point{}, 0
	angle := math.Inf(1)
	for i := 1; i < len(line); i++ {
		at := s2.Project(target, toS2(line[i-1]), toS2(line[i]))
		if d := float64(at.Distance(target)); d < angle {
			angle, best, found = d, at, i
		}
	}
	ll := s2.LatLngFromPoint(best)
	at := orb.Point{ll.Lng.Degrees(), ll.Lat.Degrees()}
	return geodesic.Length(line[:found]) + geodesic.Between(line[found-1], at), measure.Distance(angle) * network.EarthRadius
}

// putPlaces adds settlements and what drivers stop at; an area lies in the
// middle of its corners.
func (b *build) putPlaces() {
	for _, p := range b.places {
		if !p.OnNode && !b.middle(&p) {
			continue
		}
		p.Jurisdictions = b.borders.at(p.Point).codes
		b.report.Places[p.Kind.String()]++
		b.builder.Place(p.Place)
	}
}

func (b *build) middle(p *place) bool {
	n := 0.0
	var sum orb.Point
	refs := p.refs
	if len(refs) > 1 && refs[0] == refs[len(refs)-1] {
		refs = refs[1:] // the corner that closes an area is one corner
	}
	for _, ref := range refs {
		if i := b.number(ref); !b.missing(i) {
			sum[0], sum[1], n = sum[0]+b.point[i][0], sum[1]+b.point[i][1], n+1
		}
	}
	if n == 0 {
		return false
	}
	p.Point = orb.Point{sum[0] / n, sum[1] / n}
	return true
}

// count completes the report.
func (b *build) count(paths []string) {
	r := b.report
	for _, p := range paths {
		r.Sources = append(r.Sources, filepath.Base(p))
	}
	slices.Sort(r.Sources)
	r.DataDate = dateOf(b.header, b.newest)
	r.Nodes, r.Edges = len(b.graph.Node), b.graph.Edges()
	b.countSigns()
	b.countIslands()
	slices.SortFunc(r.Malformed, func(a, b Malformed) int {
		return cmp.Or(cmp.Compare(a.Type, b.Type), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Key, b.Key))
	})
	r.Malformed = slices.Compact(r.Malformed)
	r.Carries, r.Lacks = b.facts()
	r.Assumptions = b.assumptions()
}

// countSigns counts signs on edges by what they limit.
func (b *build) countSigns() {
	counts := make([]int, b.builder.Records())
	for e := range network.EdgeID(b.graph.Edges()) {
		counts[b.graph.RoadID(e)]++
	}
	for id, n := range counts {
		for _, s := range b.graph.Record(network.RoadID(id)).Signs {
			b.report.Signs[s.Subject.String()] += n
		}
	}
}

// countIslands finds the parts that no road joins to the largest.
func (b *build) countIslands() {
	parent := make([]int32, len(b.graph.Node))
	for i := range parent {
		parent[i] = int32(i)
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for e := range b.graph.From {
		if a, c := find(int32(b.graph.From[e])), find(int32(b.graph.To[e])); a != c {
			parent[max(a, c)] = min(a, c)
		}
	}
	edges, metres := map[int32]int{}, map[int32]float64{}
	for e := range b.graph.From {
		root := find(int32(b.graph.From[e]))
		edges[root]++
		metres[root] += float64(b.graph.Length[e])
	}
	largest := int32(-1)
	for root, n := range edges {
		if largest < 0 || n > edges[largest] || n == edges[largest] && root < largest {
			largest = root
		}
	}
	roots := slices.Sorted(func(yield func(int32) bool) {
		for root := range edges {
			if root != largest && !yield(root) {
				return
			}
		}
	})
	for _, root := range roots {
		b.report.Islands++
		b.report.IslandEdges += edges[root]
		b.report.IslandKm += metres[root] / 1000
	}
}

func (b *build) facts() (carries, lacks []network.Fact) {
	for _, f := range network.AllFacts() {
		// An extract without a relation was cut: it cannot know of turn rules.
		noTurns := f == network.TurnRules && b.report.Elements["relations"] == 0
		if f == network.Notices || f == network.Grades && b.options.Terrain == nil || noTurns {
			lacks = append(lacks, f)
		} else {
			carries = append(carries, f)
		}
	}
	return carries, lacks
}

func (b *build) assumptions() []string {
	return []string{
		"towing speeds by road class are this project's assumption: freeway 90 km/h, trunk 85, primary 80, secondary 70, tertiary 60, minor 50, residential 30, " +
			"service 15, ramps 50; a posted speed that is lower counts instead",
		"a road that says nothing of direction is open both ways, but freeways and roundabouts are one-way",
		"restrictions that hold at certain hours or under conditions are asked for each trip; turns that are forbidden at certain hours are never taken",
		"OpenStreetMap is edited by volunteers: a sign that nobody entered is not there, so what a road carries no tag for is not known to be free",
	}
}

func (b *build) about(paths []string) network.About {
	name := b.options.Name
	if name == "" {
		name = "OpenStreetMap extracts " + strings.Join(b.report.Sources, ", ")
	}
	speeds := map[network.Class]measure.Speed{}
	for c, v := range towing {
		speeds[c] = v
	}
	return network.About{
		Name: name, Vintage: b.report.DataDate, Caution: "made by volunteers, of " + b.report.DataDate + "; no sign in it is official",
		Attribution: Attribution, Licence: Licence, Carries: b.report.Carries, Lacks: b.report.Lacks, Speeds: speeds, Assumptions: b.report.Assumptions,
	}
}
