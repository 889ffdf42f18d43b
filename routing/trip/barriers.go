package trip

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// Barrier is one thing that shuts the rig out of a road: a structure, a sign, or
// a wish of the user. One authority, or the user, could lift it.
type Barrier struct {
	What      string             // in words, with the place
	Kind      string             // structure, sign or wish
	Point     orb.Point          // where it was met first
	Structure *Passing           // nil where it is none
	Citations []finding.Citation // where it comes from; none for a wish, and where the network names no element
	Invented  bool
	When      string // the hours at which it holds; "" always
	met       bool   // they surely fall into the hours of a trip that goes well

	window.Condition
	zone *time.Location
}

// isOfRoad tells whether a barrier is there whatever the user wishes.
func isOfRoad(b *Barrier) bool { return b.Kind != byWish }

// The kinds of barriers.
const (
	byStructure = "structure"
	bySign      = "sign"
	byWish      = "wish"
)

// barriers knows what shuts the rig out of each road.
type barriers struct {
	b      *builder
	known  map[string]*Barrier
	whole  map[network.Arc][]*Barrier
	areas  []*s2.Loop
	named  map[string]map[network.EdgeID]bool
	asking map[string]bool // whether a permit is asked for, by kind of road
	rooms  map[network.Arc]room
}

func newBarriers(b *builder) *barriers {
	out := &barriers{
		b: b, known: map[string]*Barrier{}, whole: map[network.Arc][]*Barrier{}, named: map[string]map[network.EdgeID]bool{},
		asking: map[string]bool{}, rooms: map[network.Arc]room{},
	}
	for _, polygon := range b.request.Wishes.NotThrough {
		out.areas = append(out.areas, loopOf(polygon))
	}
	return out
}

// check refuses wishes about roads that the network does not have.
func (bs *barriers) check() error {
	n := bs.b.Network
	for field, names := range map[string][]string{"wishes.by": bs.b.request.Wishes.By, "wishes.not_by": bs.b.request.Wishes.NotBy} {
		for i, name := range names {
			if !n.HasRoad(name) {
				return fail(fmt.Sprintf("%s[%d]", field, i), name, "is no road of this network", "check its number or its name")
			}
		}
	}
	return nil
}

// on lists what shuts the rig out of a piece, wishes included.
func (bs *barriers) on(p network.Piece) []*Barrier {
	whole := p == bs.b.Network.Whole(p.Arc)
	if out, ok := bs.whole[p.Arc]; ok && whole {
		return out
	}
	out := bs.wishes(p, bs.signs(p, bs.structures(p)))
	if whole {
		bs.whole[p.Arc] = out
	}
	return out
}

func (bs *barriers) structures(p network.Piece) (out []*Barrier) {
	b := bs.b
	if !b.structures.shut(p) {
		return nil
	}
	for _, s := range b.structures.on(p) {
		if s.passage.Outcome != finding.Forbidden && s.passage.Shut == nil {
			continue
		}
		key := strings.Join([]string{"structure", s.key(), b.Network.RoadName(p.Arc.Edge()), s.passage.Sum()}, "\x00")
		out = append(out, bs.barrier(key, func() Barrier { // one bridge may be over several roads, at other heights
			passing := b.passing(s, 0, strings.Join(b.Network.Jurisdictions(p.Arc.Edge()), "/"))
			figure, name := passing.Structure.Figure()
			out := Barrier{What: passing.Name + ": " + passing.said(figure, name), Kind: byStructure, Point: b.Network.Point(s.at), Structure: &passing, Citations: []finding.Citation{passing.Row}, Invented: passing.Invented()}
			if s.passage.Shut != nil && s.passage.Outcome != finding.Forbidden { // at the hour of passing, as a sign does
				out.When, out.zone = s.passage.Shut.When(), b.zone(b.Network.Jurisdictions(p.Arc.Edge()))
				out.Condition = window.ParseCondition(out.When)
				out.met = out.During(b.traveller.from.In(out.zone), b.traveller.to.In(out.zone), window.Env{}) == window.Open
			}
			return out
		}))
	}
	return out
}

func (bs *barriers) signs(p network.Piece, out []*Barrier) []*Barrier {
	b := bs.b
	b.judge(p, func(j *judgement) {
		if !j.shut && !j.hours {
			return
		}
		for _, n := range j.notes {
			if n.shuts || n.when != "" {
				what := b.Network.RoadName(p.Arc.Edge()) + ": " + n.words()
				zone := b.Network.Zone(p.Arc.Edge())
				key := strings.Join([]string{"sign", zone, what}, "\x00")
				if b.Network.Ref(p.Arc.Edge()) == "" && b.Network.Name(p.Arc.Edge()) == "" { // others are called so too
					key += fmt.Sprint("\x00", b.Network.Origin(p.Arc.Edge()))
				}
				out = append(out, bs.barrier(key, func() Barrier {
					return Barrier{
						What: what, Kind: bySign, Citations: b.mapRow(element("way", b.Network.Origin(p.Arc.Edge())), "as tagged"), Point: b.Network.Line(p)[0], When: n.when, met: n.shuts,
						Condition: window.ParseCondition(n.when), zone: b.traveller.clock(zone),
					}
				}))
			}
		}
	})
	return out
}

// wishes adds the wishes that a piece would break.
func (bs *barriers) wishes(p network.Piece, out []*Barrier) []*Barrier {
	b, w, e := bs.b, &bs.b.request.Wishes, p.Arc.Edge()
	breaks := func(broken bool, what string) {
		if broken {
			out = append(out, bs.barrier("wish "+what, func() Barrier { return Barrier{What: "your wish: " + what, Kind: byWish, Point: b.Network.Line(p)[0]} }))
		}
	}
	if w.NoTolls || w.NoUnpaved {
		r := b.Network.Record(b.Network.RoadID(e))
		breaks(w.NoTolls && r.Flags.Has(network.Toll), "no toll roads")
		breaks(w.NoUnpaved && r.Paved == network.Unpaved, "no unpaved roads")
	}
	breaks(w.NoUnmeasured && len(b.unmeasured(p, Height)) > 0, "nothing unmeasured overhead")
	for _, code := range w.NotIn {
		breaks(slices.Contains(b.Network.Jurisdictions(e), code), "not in "+code)
	}
	for _, road := range w.NotBy {
		breaks(bs.bears(e, road), "not by "+road)
	}
	breaks(bs.drawn(p), "not through the drawn areas")
	return out
}

// barrier returns the barrier of a key, made when it is first met.
func (bs *barriers) barrier(key string, make func() Barrier) *Barrier {
	if known, ok := bs.known[key]; ok {
		return known
	}
	out := make()
	bs.known[key] = &out
	return &out
}

// bears tells whether an edge is called so, and remembers it.
func (bs *barriers) bears(e network.EdgeID, road string) bool {
	known := bs.named[road]
	if known == nil {
		known = map[network.EdgeID]bool{}
		bs.named[road] = known
	}
	yes, ok := known[e]
	if !ok {
		yes = bs.b.Network.Bears(e, road)
		known[e] = yes
	}
	return yes
}
