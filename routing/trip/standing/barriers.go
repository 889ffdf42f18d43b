package standing

import (
	"fmt"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// Barrier is one thing that shuts the rig out of a road: a structure, a sign, or
// a wish of the user. One authority, or the user, could lift it.
type Barrier struct {
	What      say.Remark // with the place
	Kind      BarrierKind
	Wish      string             // the field of the request, and its value; "" for what is none
	Point     orb.Point          // where it was met first
	Structure *Passing           // nil where it is none
	Citations []finding.Citation // where it comes from; none for a wish, and where the network names no element
	Invented  bool
	When      string         // the hours at which it holds; "" always
	Met       bool           // they surely fall into the hours of a trip that goes well
	Trucks    bool           // it is all signs that bind only if the rig counts as a truck
	Zone      *time.Location // whose clock they are read on

	window.Condition
}

// BarrierKind is what a barrier is.
type BarrierKind string

// The kinds of barriers.
const (
	ByStructure BarrierKind = "structure"
	BySign      BarrierKind = "sign"
	ByWish      BarrierKind = "wish"
)

// BarrierKinds lists the kinds of barriers.
func BarrierKinds() []BarrierKind { return []BarrierKind{ByStructure, BySign, ByWish} }

// Barriers lists the structures and signs that shut the rig out of a piece. One
// barrier is the same pointer wherever it is met.
func (j *Judge) Barriers(p network.Piece) []*Barrier {
	return j.shutBySigns(p, j.shutByStructures(p))
}

func (j *Judge) shutByStructures(p network.Piece) (out []*Barrier) {
	if !j.structures.shut(p) {
		return nil
	}
	for _, s := range j.On(p) {
		if s.Passage.Outcome != finding.Forbidden && s.Passage.Shut == nil {
			continue
		}
		road := j.Network.RoadName(p.Arc.Edge())
		key := strings.Join([]string{"structure", s.Key(), road.String(), s.Passage.Sum().String()}, "\x00")
		out = append(out, j.barrier(key, func() Barrier { // one bridge may be over several roads, at other heights
			passing := j.Passing(s, 0, strings.Join(j.Network.Jurisdictions(p.Arc.Edge()), "/"))
			out := Barrier{
				What: say.That("named", "name", passing.Called, "says", passing.says()), Kind: ByStructure,
				Point: j.Network.Point(s.At), Structure: &passing,
				Citations: []finding.Citation{passing.Citation}, Invented: passing.Invented(),
			}
			if s.Passage.Shut != nil && s.Passage.Outcome != finding.Forbidden { // at the hour of passing, as a sign does
				out.When, out.Zone = s.Passage.Shut.When(), j.Atlas.Zone(j.Network.Jurisdictions(p.Arc.Edge()))
				out.Condition = window.ParseCondition(out.When)
				out.Met = out.During(j.signs.from.In(out.Zone), j.signs.to.In(out.Zone), window.Env{}) == window.Open
			}
			return out
		}))
	}
	return out
}

func (j *Judge) shutBySigns(p network.Piece, out []*Barrier) []*Barrier {
	j.judge(p, func(one *judgement) {
		if !one.shut && !one.hours {
			return
		}
		for _, n := range one.notes {
			if n.truck && n.shuts { // one answer about the rig lifts all of them
				out = append(out, j.barrier("trucks", func() Barrier {
					return Barrier{
						What: say.That("sign.trucks", "first", onRoad(j.Network.RoadName(p.Arc.Edge()), n)), Kind: BySign,
						Trucks: true, Citations: j.CiteWay(p.Arc.Edge(), "as tagged"), Point: j.Network.Line(p)[0], Met: true,
					}
				}))
				continue
			}
			if n.shuts || n.when != "" {
				what := onRoad(j.Network.RoadName(p.Arc.Edge()), n)
				zone := j.Network.Zone(p.Arc.Edge())
				key := strings.Join([]string{"sign", zone, what.String()}, "\x00")
				if j.Network.Ref(p.Arc.Edge()) == "" && j.Network.Name(p.Arc.Edge()) == "" { // others are called so too
					key += fmt.Sprint("\x00", j.Network.Origin(p.Arc.Edge()))
				}
				out = append(out, j.barrier(key, func() Barrier {
					return Barrier{
						What: what, Kind: BySign, Citations: j.CiteWay(p.Arc.Edge(), "as tagged"),
						Point: j.Network.Line(p)[0], When: n.when, Met: n.shuts,
						Condition: window.ParseCondition(n.when), Zone: j.signs.clock(zone),
					}
				}))
			}
		}
	})
	return out
}

// barrier returns the barrier of a key, made when it is first met.
func (j *Judge) barrier(key string, make func() Barrier) *Barrier {
	if known, ok := j.barriers[key]; ok {
		return known
	}
	out := make()
	j.barriers[key] = &out
	return &out
}
