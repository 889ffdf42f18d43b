package trip

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
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
}

// placements knows the structures of a trip by edge, and those that stand over
// no known road.
type placements struct {
	net      *network.Network
	byEdge   map[network.EdgeID][]placed
	unplaced []clearance.Structure
}

// place binds each structure to the roads it stands over, and works out how
// the rig passes under it.
func (p *Planner) place(r Request, departure time.Time) placements {
	out := placements{net: p.Network, byEdge: map[network.EdgeID][]placed{}}
	for _, s := range r.Structures {
		roads, doubt := p.roadsUnder(s)
		if len(roads) == 0 {
			out.unplaced = append(out.unplaced, s)
			continue
		}
		passage := pass(s, r, departure, p.Tables.Term)
		if doubt != "" && passage.Outcome == finding.Clear {
			passage.Outcome, passage.Why = finding.Unknown, doubt
		}
		for _, road := range roads {
			forward, backward := p.binds(s, road.Position)
			out.byEdge[road.Edge] = append(out.byEdge[road.Edge], placed{
				structure: s, passage: passage, at: road.Position, forward: forward, backward: backward, doubt: doubt,
			})
		}
	}
	return out
}

func pass(s clearance.Structure, r Request, day time.Time, term time.Duration) clearance.Passage {
	height, ok := r.Rig.Clear()
	if !ok {
		return clearance.Passage{Outcome: finding.Unknown, Why: "the height of the rig is not known"}
	}
	return clearance.Pass(s, height, r.Rig.Unit.Length, r.Allowances, day, term)
}

// roadsUnder returns the road a structure stands over: the nearest within
// reach that bears its number. Without a number, roads about as near are all
// taken, each in doubt.
func (p *Planner) roadsUnder(s clearance.Structure) (roads []network.Snapped, doubt string) {
	near := p.Index.Near(s.Point, structureReach)
	slices.SortStableFunc(near, func(a, b network.Snapped) int { return cmp.Compare(a.Distance, b.Distance) })
	if s.Road != "" {
		near = slices.DeleteFunc(near, func(n network.Snapped) bool { return !p.Network.IsRoad(n.Edge, s.Road) })
		return near[:min(len(near), 1)], ""
	}
	for _, n := range near {
		if n.Distance <= near[0].Distance+structureDoubt {
			roads = append(roads, n)
		}
	}
	if len(roads) > 1 {
		doubt = "its road is not named and several are near"
	}
	return roads, doubt
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
	// Within 10 degrees of square on, the direction does not tell: both bind.
	return off <= 100, off >= 80
}

// on lists the structures that a piece passes under, in the order of travel.
func (pl placements) on(piece network.Piece) []placed {
	var out []placed
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
	return slices.ContainsFunc(pl.on(piece), func(s placed) bool { return s.passage.Outcome == finding.Forbidden })
}

// passing describes a structure on a leg.
func (s placed) passing(r rig.Rig, at measure.Distance) Passing {
	h, ok := r.Clear()
	out := Passing{Structure: s.structure, Passage: s.passage, At: at, Doubt: s.doubt}
	if ok {
		out.Height = h.Length.String()
	}
	return out
}

// finding answers for a structure.
func (p Passing) finding(revision, ask string, jurisdiction string) finding.Finding {
	figure, name := p.Structure.Figure()
	f := finding.Finding{
		Rule: "structure", Jurisdiction: jurisdiction, Place: p.Name, Outcome: p.Outcome, Value: p.Height, Invented: p.Invented(),
		Ask:  ask,
		Rows: []finding.Row{p.row(revision, figure, name)},
	}
	if p.Known {
		f.Margin = p.Margin.String()
	}
	switch p.Outcome {
	case finding.Clear:
		f.Ask = ""
		f.Summary = fmt.Sprintf("the rig passes under the %s %s with %s to spare", name, figure.Metric(), p.Margin.Metric())
	case finding.Forbidden:
		f.Summary = fmt.Sprintf("too low: %s short under the %s %s", (-p.Margin).Metric(), name, figure.Metric())
	case finding.Review:
		f.Summary = fmt.Sprintf("%s to spare under the %s %s is little; a person must decide", p.Margin.Metric(), name, figure.Metric())
	default:
		f.Summary = "not known to pass: " + p.Why
	}
	if p.Doubt != "" {
		f.Summary += "; " + p.Doubt
	}
	return f
}

func (p Passing) row(revision string, figure *measure.Length, name string) finding.Row {
	r := finding.Row{
		ID: p.ID, Revision: revision, Published: "no figure", Status: p.Status, Source: p.Source, Section: p.Section, Year: p.Year,
		ReadOn: p.ReadOn, Decides: true, Words: p.Sum(),
	}
	if figure != nil {
		r.Published = figure.Metric() + " " + name
	}
	return r
}
