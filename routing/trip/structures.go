package trip

import (
	"cmp"
	"fmt"
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
	risk      int  // orders findings
	whole     bool // it stands over a road all along
}

// placements knows the structures of a trip by edge, and those that stand over
// no known road.
type placements struct {
	net      *network.Network
	overhead *overhead
	byEdge   map[network.EdgeID][]placed
	unplaced []placed
}

// place binds each structure to the roads it stands over, and works out how
// the rig passes under it.
func (p *Planner) place(r Request, departure time.Time) placements {
	out := placements{net: p.Network, byEdge: map[network.EdgeID][]placed{}, overhead: &overhead{
		net: p.Network, request: &r, day: departure, term: p.Tables.Term, known: map[judged]heights{},
	}}
	for _, s := range r.Structures {
		roads, doubt := p.roadsUnder(s)
		day := departure.In(p.zone(p.Areas.At(s.Point)))
		one := placed{structure: s, passage: pass(s, r, day, p.Tables.Term), doubt: doubt, risk: firstRisk}
		if doubt != "" && one.passage.Outcome == finding.Clear {
			one.passage.Outcome, one.passage.Why = finding.Unknown, doubt
		}
		if len(roads) == 0 {
			out.unplaced = append(out.unplaced, one)
		}
		for _, road := range roads {
			one.at = road.Position
			one.forward, one.backward = p.binds(s, road.Position)
			out.byEdge[road.Edge] = append(out.byEdge[road.Edge], one)
		}
	}
	return out
}

// travelDays is for how long after the departure a structure is judged: the
// hour of passing is known only once a route is, so the stricter of the two
// days counts, as when snow is allowed for.
const travelDays = 7

func pass(s clearance.Structure, r Request, day time.Time, term time.Duration) clearance.Passage {
	height, ok := r.Rig.Clear()
	if !ok {
		return clearance.Passage{Outcome: finding.Unknown, Why: "the height of the rig is not known"}
	}
	first := clearance.Pass(s, height, r.Rig.Unit.Length, r.Allowances, day, term)
	last := clearance.Pass(s, height, r.Rig.Unit.Length, r.Allowances, day.AddDate(0, 0, travelDays), term)
	if last.Known && last.Margin < first.Margin || last.Outcome == finding.Unknown && first.Outcome == finding.Clear {
		return last
	}
	return first
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
	if s.Road != "" {
		var named []network.Snapped
		for _, n := range near {
			if p.Network.IsRoad(n.Edge, s.Road) {
				named = append(named, n)
			}
		}
		if len(named) > 0 {
			return aboutAsNear(named), ""
		}
		return near, fmt.Sprintf("no road near it is numbered %s, so it may stand over any of them", s.Road)
	}
	roads = aboutAsNear(near)
	if len(roads) > 1 {
		doubt = "its road is not named and several are near"
	}
	return roads, doubt
}

// aboutAsNear keeps what lies little farther than the nearest.
func aboutAsNear(near []network.Snapped) []network.Snapped {
	for i, n := range near {
		if n.Distance > near[0].Distance+structureDoubt {
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
func (pl placements) on(piece network.Piece) []placed {
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

// shut tells whether a structure shuts a piece.
func (pl placements) shut(piece network.Piece) bool {
	if pl.overhead.shut(piece) {
		return true
	}
	if len(pl.byEdge[piece.Arc.Edge()]) == 0 {
		return false
	}
	return slices.ContainsFunc(pl.on(piece), func(s placed) bool { return s.passage.Outcome == finding.Forbidden })
}

// passing describes a structure on a leg.
func (b *builder) passing(s placed, at measure.Distance, jurisdiction string) Passing {
	out := Passing{Structure: s.structure, Passage: s.passage, At: at, Doubt: s.doubt, Jurisdiction: jurisdiction, risk: s.risk}
	if h, ok := b.request.Rig.Clear(); ok {
		out.Height = h.Length.String()
	}
	out.Row = out.row(b.request.StructuresRevision)
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
		Ask: p.Ask, Rows: []finding.Row{p.Row},
	}
	if p.Known {
		f.Margin = p.Margin.String()
	}
	switch p.Outcome {
	case finding.Clear:
		f.Summary = fmt.Sprintf("the rig passes under the %s %s with %s to spare", name, figure.Metric(), p.Margin.Metric())
	case finding.Forbidden:
		f.Summary = fmt.Sprintf("too low: %s short under the %s %s", (-p.Margin).Metric(), name, figure.Metric())
	case finding.Review:
		f.Summary = fmt.Sprintf("%s to spare under the %s %s is little; a person must decide", p.Margin.Metric(), name, figure.Metric())
	default:
		f.Summary = "not known to pass: " + p.Why
	}
	if p.Doubt != "" && p.Doubt != p.Why {
		f.Summary += "; " + p.Doubt
	}
	return f
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
	for _, s := range b.everyPlaced() {
		if b.listed[s.structure.ID] {
			continue
		}
		for _, p := range points {
			if geodesic.Between(p, s.structure.Point) <= structureReach {
				b.listed[s.structure.ID] = true
				b.aside(s, why)
				break
			}
		}
	}
}

// everyPlaced lists each structure once, in the order of the request.
func (b *builder) everyPlaced() []placed {
	byID := map[string]placed{}
	for _, list := range b.structures.byEdge {
		for _, s := range list {
			byID[s.structure.ID] = s
		}
	}
	for _, s := range b.structures.unplaced {
		byID[s.structure.ID] = s
	}
	var out []placed
	for _, s := range b.request.Structures {
		if one, ok := byID[s.ID]; ok {
			out = append(out, one)
		}
	}
	return out
}

func (p Passing) row(revision string) finding.Row {
	figure, name := p.Structure.Figure()
	r := finding.Row{
		ID: p.ID, Revision: revision, Published: "no figure", Status: p.Status, Source: p.Source, Section: p.Section, Year: p.Year,
		ReadOn: p.ReadOn, Decides: true, Words: p.Sum(),
	}
	if figure != nil {
		r.Published = figure.Metric() + " " + name
	}
	return r
}
