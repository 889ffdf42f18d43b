package standing

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// How far a structure may stand from the road it is bound to, and how much
// farther another road may be before the nearer one is taken for certain.
const (
	Reach          measure.Distance = 300
	structureDoubt measure.Distance = 50
)

// Placed is a structure on a road.
type Placed struct {
	Structure clearance.Structure
	Called    say.Remark
	Passage   clearance.Passage
	At        network.Position
	Doubt     say.Remark // why it may not stand over this road
	Whole     bool       // it stands over a road all along
	Asleep    bool       // it binds on other days
	Revision  string     // of what names it

	forward, backward bool // binds travel along the line of the edge, and against it
	risk              int  // orders findings
}

// Key tells a structure from others, also from one of another table with its id.
func (p Placed) Key() string { return p.Revision + "\x00" + p.Structure.ID }

// placements knows the structures of a trip by edge, and those that stand over
// no known road. Those of the tables are bound when a road near them is asked
// about first: there may be a million of them.
type placements struct {
	net      *network.Network
	overhead *overhead
	byEdge   map[network.EdgeID][]Placed
	unplaced []Placed
	atlas    *Atlas
	of       *Case
	day      time.Time               // of departure
	last     time.Time               // on which the trip may still be under way
	asked    map[network.EdgeID]bool // whose neighbourhood is bound
	bound    map[*clearance.Structure]bool
	stray    []Placed // of the tables, over no known road
}

// place binds each structure of a request to the roads it stands over, and
// works out how the rig passes it on any day until the last.
func (a *Atlas) place(c *Case, last time.Time) *placements {
	out := &placements{
		net: a.Network, byEdge: map[network.EdgeID][]Placed{}, atlas: a, of: c, day: c.Departure, last: last,
		asked: map[network.EdgeID]bool{}, bound: map[*clearance.Structure]bool{},
		overhead: &overhead{
			net: a.Network, of: c, day: c.Departure, last: last, term: a.Tables.Term, known: map[judged]heights{},
		},
	}
	for _, s := range c.Structures {
		if s.Unplaced {
			continue // it is looked for on its road
		}
		if !out.bind(s, c.Revision) {
			out.unplaced = append(out.unplaced, out.judge(s, c.Revision))
		}
	}
	return out
}

// judge works out how the rig passes a structure, wherever it stands.
func (pl *placements) judge(s clearance.Structure, revision string) Placed {
	zone := pl.atlas.Zone(pl.atlas.Areas.At(s.Point))
	passage, binds := pass(s, pl.of, pl.day.In(zone), pl.last.In(zone), pl.atlas.Tables.Term,
		pl.atlas.Tables.Letters(s.ID))
	return Placed{
		Structure: s, Called: say.Text(s.Name), Passage: passage, Asleep: !binds, risk: firstRisk, Revision: revision,
	}
}

// bind binds a structure to the roads near it; it reports whether there is any.
func (pl *placements) bind(s clearance.Structure, revision string) bool {
	one := pl.judge(s, revision)
	if one.Asleep {
		return true // it binds on other days
	}
	roads, doubt := pl.atlas.RoadsUnder(s)
	one.Doubt = doubt
	one.doubted()
	pl.over(one, roads)
	if doubt.None() && len(roads) > 0 {
		one.Doubt = say.That("structure.number_alone", "road", s.Road)
		one.doubted()
		pl.over(one, pl.atlas.alike(s, roads[0].Distance))
	}
	return len(roads) > 0
}

// over puts a structure over roads.
func (pl *placements) over(one Placed, roads []network.Snapped) {
	for _, road := range roads {
		one.At = road.Position
		one.forward, one.backward = pl.atlas.binds(one.Structure, road.Position)
		pl.byEdge[road.Edge] = append(pl.byEdge[road.Edge], one)
	}
}

// doubted takes back what is not known where it is not known over which road the
// structure stands. One that the user names binds every road that it may stand
// over. One of an inventory whose road is not found is there, and nothing more is
// known.
func (p *Placed) doubted() {
	guess := p.Structure.Grade != clearance.AnyGrade && p.Passage.Outcome == finding.Forbidden
	if p.Doubt.None() {
		return
	}
	if guess || p.Passage.Outcome == finding.Clear {
		p.Passage.Outcome, p.Passage.Reason, p.Passage.Why = finding.Unknown, finding.Perhaps, p.Doubt
	}
	if p.Structure.Grade != clearance.AnyGrade {
		p.Passage.Shut = nil
	}
}

// around binds the structures of the tables that may stand over an edge.
func (pl *placements) around(e network.EdgeID) {
	if pl.atlas.Tables.Clearances().Len() == 0 || pl.asked[e] {
		return
	}
	pl.asked[e] = true
	pl.near(orb.MultiPoint(pl.net.Shape(e)).Bound())
}

// near binds the structures of the tables within reach of a bound.
func (pl *placements) near(bound orb.Bound) {
	pad := float64(Reach) * padding / float64(network.EarthRadius) * 180 / math.Pi
	wide := pad / math.Max(math.Cos(bound.Max.Lat()*math.Pi/180), 0.1)
	bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1] = bound.Min[0]-wide, bound.Min[1]-pad, bound.Max[0]+wide,
		bound.Max[1]+pad
	pl.atlas.Tables.Clearances().In(bound, func(s *clearance.Structure) {
		if pl.bound[s] {
			return
		}
		pl.bound[s] = true
		if !pl.bind(*s, pl.atlas.Tables.Revision) {
			pl.stray = append(pl.stray, pl.judge(*s, pl.atlas.Tables.Revision))
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
func pass(s clearance.Structure, of *Case, day, last time.Time, term time.Duration,
	letters []*clearance.Letter) (p clearance.Passage, ok bool) {
	r := of.Rig
	return clearance.Through(s, clearance.Case{
		Body:       clearance.Body{Height: r.Clear(), Span: r.Unit.Length, Width: r.Passing(), Mass: r.Weighs()},
		Allowances: of.Allowances, From: day, Until: last, Term: term, Letters: letters,
	})
}

// on lists the structures that a piece passes under, in the order of travel:
// those of the request and those of the network.
func (pl *placements) on(piece network.Piece) []Placed {
	pl.around(piece.Arc.Edge())
	out := pl.overhead.on(piece)
	for _, s := range pl.byEdge[piece.Arc.Edge()] {
		if (piece.Arc.Reverse() && s.backward || !piece.Arc.Reverse() && s.forward) && pl.net.Covers(piece, s.At) {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Placed) int {
		return cmp.Compare(pl.net.Along(a.At, piece.Arc), pl.net.Along(b.At, piece.Arc))
	})
	return out
}

// shut reports whether a structure shuts a piece, be it on some days only.
func (pl *placements) shut(piece network.Piece) bool {
	if pl.overhead.shut(piece) {
		return true
	}
	pl.around(piece.Arc.Edge())
	if len(pl.byEdge[piece.Arc.Edge()]) == 0 {
		return false
	}
	return slices.ContainsFunc(pl.on(piece), func(s Placed) bool {
		return s.Passage.Outcome == finding.Forbidden || s.Passage.Shut != nil
	})
}

// every lists each structure that is bound once: those of the trip in its order,
// then those of the tables by id.
func (j *Judge) every() []Placed {
	byID := map[string]Placed{}
	for _, list := range j.structures.byEdge {
		for _, s := range list {
			byID[s.Key()] = s
		}
	}
	for _, s := range slices.Concat(j.structures.unplaced, j.structures.stray) {
		byID[s.Key()] = s
	}
	var out []Placed
	for _, s := range j.Structures {
		key := Placed{Structure: s, Revision: j.Revision}.Key()
		if one, ok := byID[key]; ok {
			out = append(out, one)
			delete(byID, key)
		}
	}
	rest := slices.Collect(maps.Values(byID))
	slices.SortFunc(rest, func(a, b Placed) int { return strings.Compare(a.Structure.ID, b.Structure.ID) })
	return append(out, rest...)
}
