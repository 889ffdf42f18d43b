package trip

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// How far a structure may stand from the road it is bound to, and how much
// farther another road may be before the nearer one is taken for certain.
const (
	structureReach measure.Distance = 300
	structureDoubt measure.Distance = 50
)

// placed is a structure on a road.
type placed struct {
	structure clearance.Structure
	passage   clearance.Passage
	at        network.Position
	forward   bool // binds travel along the line of the edge
	backward  bool
	doubt     string
	risk      int    // orders findings
	whole     bool   // it stands over a road all along
	asleep    bool   // it binds on other days
	revision  string // of what names it
}

// key tells a structure from others, also from one of another table with its id.
func (p placed) key() string { return p.revision + "\x00" + p.structure.ID }

// placements knows the structures of a trip by edge, and those that stand over
// no known road. Those of the tables are bound when a road near them is asked
// about first: there may be a million of them.
type placements struct {
	net      *network.Network
	overhead *overhead
	byEdge   map[network.EdgeID][]placed
	unplaced []placed
	planner  *Planner
	request  *Request
	day      time.Time               // of departure
	last     time.Time               // on which the trip may still be under way
	asked    map[network.EdgeID]bool // whose neighbourhood is bound
	bound    map[*clearance.Structure]bool
	stray    []placed // of the tables, over no known road
}

// place binds each structure of a request to the roads it stands over, and
// works out how the rig passes it on any day until the last.
func (p *Planner) place(r Request, departure, last time.Time) *placements {
	out := &placements{
		net: p.Network, byEdge: map[network.EdgeID][]placed{}, planner: p, request: &r, day: departure, last: last,
		asked: map[network.EdgeID]bool{}, bound: map[*clearance.Structure]bool{},
		overhead: &overhead{net: p.Network, request: &r, day: departure, last: last, term: p.Tables.Term, known: map[judged]heights{}},
	}
	for _, s := range r.Structures {
		if s.Unplaced {
			continue // it is looked for on its road
		}
		if !out.bind(s, r.StructuresRevision) {
			out.unplaced = append(out.unplaced, out.judge(s, r.StructuresRevision))
		}
	}
	return out
}

// judge works out how the rig passes a structure, wherever it stands.
func (pl *placements) judge(s clearance.Structure, revision string) placed {
	zone := pl.planner.zone(pl.planner.Areas.At(s.Point))
	passage, binds := pass(s, *pl.request, pl.day.In(zone), pl.last.In(zone), pl.planner.Tables.Term, pl.planner.Tables.Letters(s.ID))
	return placed{structure: s, passage: passage, asleep: !binds, risk: firstRisk, revision: revision}
}

// bind binds a structure to the roads near it; it tells whether there is any.
func (pl *placements) bind(s clearance.Structure, revision string) bool {
	one := pl.judge(s, revision)
	if one.asleep {
		return true // it binds on other days
	}
	roads, doubt := pl.planner.roadsUnder(s)
	one.doubt = doubt
	one.doubted()
	pl.over(one, roads)
	if doubt == "" && len(roads) > 0 {
		one.doubt = "its road is " + s.Road + ", and of a road near it only the number is the same"
		one.doubted()
		pl.over(one, pl.planner.alike(s, roads[0].Distance))
	}
	return len(roads) > 0
}

// over puts a structure over roads.
func (pl *placements) over(one placed, roads []network.Snapped) {
	for _, road := range roads {
		one.at = road.Position
		one.forward, one.backward = pl.planner.binds(one.structure, road.Position)
		pl.byEdge[road.Edge] = append(pl.byEdge[road.Edge], one)
	}
}

// doubted takes back what is not known where it is not known over which road the
// structure stands. One that the user names binds every road that it may stand
// over. One of an inventory whose road is not found is there, and nothing more is
// known.
func (p *placed) doubted() {
	guess := p.structure.Grade != clearance.AnyGrade && p.passage.Outcome == finding.Forbidden
	if p.doubt != "" && (guess || p.passage.Outcome == finding.Clear) {
		p.passage.Outcome, p.passage.Why = finding.Unknown, p.doubt
	}
	if p.doubt != "" && p.structure.Grade != clearance.AnyGrade {
		p.passage.Shut = nil
	}
}

// around binds the structures of the tables that may stand over an edge.
func (pl *placements) around(e network.EdgeID) {
	if pl.planner.Tables.Clearances().Len() == 0 || pl.asked[e] {
		return
	}
	pl.asked[e] = true
	pl.near(orb.MultiPoint(pl.net.Shape(e)).Bound())
}

// near binds the structures of the tables within reach of a bound.
func (pl *placements) near(bound orb.Bound) {
	pad := float64(structureReach) * padding / float64(network.EarthRadius) * 180 / math.Pi
	wide := pad / math.Max(math.Cos(bound.Max.Lat()*math.Pi/180), 0.1)
	bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1] = bound.Min[0]-wide, bound.Min[1]-pad, bound.Max[0]+wide, bound.Max[1]+pad
	pl.planner.Tables.Clearances().In(bound, func(s *clearance.Structure) {
		if pl.bound[s] {
			return
		}
		pl.bound[s] = true
		if !pl.bind(*s, pl.planner.Tables.Revision) {
			pl.stray = append(pl.stray, pl.judge(*s, pl.planner.Tables.Revision))
		}
	})
}

// padding makes up for the sphere and for edges that bend between their points.
const padding = 1.2

// travelDays is for how long after the departure a structure is judged: the
// hour of passing is known only once a route is, so the stricter of the two
// days counts, as when snow is allowed for. Where the hours of the trip are not
// known then, they are those until it is over at the latest.
const travelDays = 7

// pass works out how the rig passes a structure within the days of travel; ok is
// false where it binds on none of them.
func pass(s clearance.Structure, r Request, day, last time.Time, term time.Duration, letters []*clearance.Letter) (p clearance.Passage, ok bool) {
	c := clearance.Case{
		Rig: clearance.Rig{Span: r.Rig.Unit.Length, Mass: r.Rig.LeastMass(), MassAtLeast: r.Rig.Mass == nil}, Allowances: r.Allowances,
		From: day, Until: last, Term: term, Letters: letters,
	}
	c.Width, c.WidthAtLeast = r.Rig.Passing()
	if height, known := r.Rig.Clear(); known {
		c.Height = &height
	}
	return clearance.Through(s, c)
}

// zone returns the time zone of the first jurisdiction that has one, UTC where
// none has.
func (p *Planner) zone(codes []string) *time.Location {
	for _, code := range codes {
		if j, ok := p.Areas.ByCode(code); ok {
			if loc, err := time.LoadLocation(j.TimeZone); err == nil {
				return loc
			}
		}
	}
	return time.UTC
}

// roadsUnder returns the roads that a structure may stand over: those that
// bear its number, of any edge that is about as near as the nearest, because a
// structure at a junction stands over every edge that meets there. Where no
// number is given, or none near bears it, all roads about as near are taken,
// in doubt.
func (p *Planner) roadsUnder(s clearance.Structure) (roads []network.Snapped, doubt string) {
	near := p.Index.Near(s.Point, structureReach)
	slices.SortStableFunc(near, func(a, b network.Snapped) int { return cmp.Compare(a.Distance, b.Distance) })
	if s.Way != 0 {
		if own := p.those(near, func(e network.EdgeID) bool { return p.Network.Origin(e) == s.Way }); len(own) > 0 {
			return aboutAsNear(own), ""
		}
	}
	graded := p.those(near, func(e network.EdgeID) bool { return p.atGrade(e, s.Grade) })
	told := len(graded) > 0
	if !told {
		graded = near // the network does not tell which road is on a bridge
	}
	named := p.those(graded, func(e network.EdgeID) bool { return p.Network.Bears(e, s.Road) })
	switch {
	case len(named) > 0 && s.Grade != clearance.AnyGrade:
		return within(named, carriageways), "" // one bridge is over both carriageways
	case len(named) > 0:
		return aboutAsNear(named), ""
	case s.Road == "" && !told:
		return aboutAsNear(graded), "its road is not named, and none near it is known to be " + string(s.Grade) + " the bridge"
	case s.Road == "":
		roads = aboutAsNear(graded)
		if len(roads) > 1 {
			doubt = "its road is not named and several are near"
		}
		return roads, doubt
	}
	return near, fmt.Sprintf("no road near it is called %s, so it may stand over any of them", s.Road)
}

// alike lists the roads that bear the number of a structure's road with other
// letters before it, and that lie no farther than the road that bears it as it is
// written, or little.
func (p *Planner) alike(s clearance.Structure, far measure.Distance) []network.Snapped {
	if s.Road == "" || s.Way != 0 {
		return nil
	}
	return p.those(p.Index.Near(s.Point, far+structureDoubt), func(e network.EdgeID) bool {
		return p.atGrade(e, s.Grade) && p.Network.MayBear(e, s.Road)
	})
}

func (p *Planner) those(near []network.Snapped, keep func(network.EdgeID) bool) []network.Snapped {
	var out []network.Snapped
	for _, n := range near {
		if keep(n.Edge) {
			out = append(out, n)
		}
	}
	return out
}

// atGrade tells whether an edge may be the road that a structure binds: what it
// carries is on a bridge, what passes under it is not.
func (p *Planner) atGrade(e network.EdgeID, g clearance.Grade) bool {
	onBridge := p.Network.Record(p.Network.RoadID(e)).Flags.Has(network.OnBridge)
	switch g {
	case clearance.On:
		return onBridge
	case clearance.Under:
		return !onBridge
	default:
		return true
	}
}

// aboutAsNear keeps what lies little farther than the nearest.
func aboutAsNear(near []network.Snapped) []network.Snapped { return within(near, structureDoubt) }

// carriageways is how much farther than the nearer one the other carriageway of
// a divided road may lie.
const carriageways measure.Distance = 150

// within keeps what lies at most so much farther than the nearest.
func within(near []network.Snapped, more measure.Distance) []network.Snapped {
	for i, n := range near {
		if n.Distance > near[0].Distance+more {
			return near[:i]
		}
	}
	return near
}

// binds tells which ways of travel on an edge a structure's direction means.
func (p *Planner) binds(s clearance.Structure, at network.Position) (forward, backward bool) {
	i := slices.Index(clearance.Compass, s.Direction)
	if i < 0 {
		return true, true
	}
	const step measure.Distance = 20
	piece := network.Piece{Arc: network.MakeArc(at.Edge, false), Start: max(at.Offset-step, 0), End: min(at.Offset+step, p.Network.Length[at.Edge])}
	line := p.Network.Line(piece)
	heading := geodesic.Bearing(line[0], line[len(line)-1])
	off := math.Abs(math.Remainder(heading-45*float64(i), 360))
	// A road that is signed east runs north here and there. Only where it runs
	// within 45 degrees of the other way is a way of travel left out.
	return off <= 135, off >= 45
}

// on lists the structures that a piece passes under, in the order of travel:
// those of the request and those of the network.
func (pl *placements) on(piece network.Piece) []placed {
	pl.around(piece.Arc.Edge())
	out := pl.overhead.on(piece)
	for _, s := range pl.byEdge[piece.Arc.Edge()] {
		if (piece.Arc.Reverse() && s.backward || !piece.Arc.Reverse() && s.forward) && pl.net.Covers(piece, s.at) {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b placed) int {
		return cmp.Compare(pl.net.Along(a.at, piece.Arc), pl.net.Along(b.at, piece.Arc))
	})
	return out
}

// shut tells whether a structure shuts a piece, be it on some days only.
func (pl *placements) shut(piece network.Piece) bool {
	if pl.overhead.shut(piece) {
		return true
	}
	pl.around(piece.Arc.Edge())
	if len(pl.byEdge[piece.Arc.Edge()]) == 0 {
		return false
	}
	return slices.ContainsFunc(pl.on(piece), func(s placed) bool { return s.passage.Outcome == finding.Forbidden || s.passage.Shut != nil })
}

// passing describes a structure on a leg.
func (b *builder) passing(s placed, at measure.Distance, jurisdiction string) Passing {
	out := Passing{Structure: s.structure, Passage: s.passage, At: at, Doubt: s.doubt, Jurisdiction: jurisdiction, risk: s.risk}
	if h, ok := b.request.Rig.Clear(); ok {
		out.Height = h.Length.String()
	}
	out.Row = out.row(s.revision)
	if s.passage.Outcome != finding.Clear {
		out.Ask = b.Tables.Ask(jurisdiction)
	}
	return out
}

// finding answers for a structure.
func (p Passing) finding() finding.Finding {
	figure, name := p.Structure.Figure()
	f := finding.Finding{
		Rule: "structure", Jurisdiction: p.Jurisdiction, Place: p.Name, Outcome: p.Outcome, Value: p.Height, Invented: p.Invented(),
		Ask: p.Ask, Citations: []finding.Citation{p.Row},
	}
	if p.Known {
		f.Margin = p.Margin.Down()
	}
	f.Summary = p.said(figure, name)
	if p.Doubt != "" && p.Doubt != p.Why {
		f.Summary += "; " + p.Doubt
	}
	return f
}

// said says how the rig passes. What is asked beside the height comes first.
func (p Passing) said(figure *measure.Length, name string) string {
	var parts []string
	parts = append(parts, p.Others...)
	switch {
	case figure == nil && p.Why != "":
		parts = append(parts, "not known to pass: "+p.Why)
	case figure == nil:
	case len(p.Others) > 0:
		parts = append(parts, strings.TrimPrefix(p.Why+"; ", "; ")+"height: "+p.Sum())
	case p.Outcome == finding.Clear:
		parts = append(parts, fmt.Sprintf("the rig passes under the %s %s with %s to spare", name, figure.Metric(), p.Margin.Metric()))
	case p.Outcome == finding.Forbidden:
		parts = append(parts, fmt.Sprintf("too low: %s short under the %s %s", (-p.Margin).Metric(), name, figure.Metric()))
	case p.Outcome == finding.Review && p.Why != "":
		parts = append(parts, p.Why)
	case p.Outcome == finding.Review:
		parts = append(parts, fmt.Sprintf("%s to spare under the %s %s is little; a person must decide", p.Margin.Metric(), name, figure.Metric()))
	default:
		parts = append(parts, "not known to pass: "+p.Why)
	}
	return strings.Join(parts, "; ")
}

// aside turns a structure that is near the way, but not known to be on it,
// into a finding of the trip: never clear, and for a person to decide where
// the rig would not pass.
func (b *builder) aside(s placed, why string) {
	s.doubt = why
	p := b.passing(s, 0, firstOf(b.Areas.At(s.structure.Point)))
	f := p.finding()
	f.Outcome, f.Ask = finding.Unknown, b.Tables.Ask(p.Jurisdiction)
	if s.passage.Outcome == finding.Forbidden || s.passage.Outcome == finding.Review {
		f.Outcome = finding.Review
	}
	if !strings.Contains(f.Summary, why) {
		f.Summary += "; " + why
	}
	b.plan.Findings = append(b.plan.Findings, f)
}

// asides answers for every structure that no leg lists and that stands within
// reach of a stop or of a given line: positions are no better than that.
func (b *builder) asides(points []orb.Point, why string) {
	if b.Tables.Clearances().Len() > 0 {
		for _, p := range points {
			b.structures.near(p.Bound())
		}
	}
	for _, s := range b.everyPlaced() {
		if b.listed[s.key()] {
			continue
		}
		for _, p := range points {
			if geodesic.Between(p, s.structure.Point) <= structureReach {
				b.listed[s.key()] = true
				b.aside(s, why)
				break
			}
		}
	}
}

// everyPlaced lists each structure once: those of the request in its order, then
// those of the tables by id.
func (b *builder) everyPlaced() []placed {
	byID := map[string]placed{}
	for _, list := range b.structures.byEdge {
		for _, s := range list {
			byID[s.key()] = s
		}
	}
	for _, s := range slices.Concat(b.structures.unplaced, b.structures.stray) {
		byID[s.key()] = s
	}
	var out []placed
	for _, s := range b.request.Structures {
		key := placed{structure: s, revision: b.request.StructuresRevision}.key()
		if one, ok := byID[key]; ok {
			out = append(out, one)
			delete(byID, key)
		}
	}
	rest := slices.Collect(maps.Values(byID))
	slices.SortFunc(rest, func(a, b placed) int { return strings.Compare(a.structure.ID, b.structure.ID) })
	return append(out, rest...)
}

func (p Passing) row(revision string) finding.Citation {
	figure, name := p.Structure.Figure()
	r := finding.Citation{
		ID: p.ID, Revision: revision, Published: "no figure", Status: p.Status, Source: p.Source, Section: p.Section, Year: p.Year,
		ReadOn: p.ReadOn, Decides: true, Words: p.Sum(),
	}
	if p.Structure.Note != "" && figure == nil {
		r.Words = "note: " + p.Structure.Note
	}
	if figure != nil {
		r.Published = figure.Metric() + " " + name
	}
	return r
}
