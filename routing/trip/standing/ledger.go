package standing

import (
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Ledger gathers what the roads of a leg have to say, each thing once.
type Ledger struct {
	Climb  Climb
	Steep  bool         // whether any climb is known
	Owners []say.Remark // what the map says of who runs the roads
	Alien  bool         // the map does not say of a road that it is the jurisdiction's own
	Length measure.Distance
	Small  bool // a road below the trunk classes is on it
	Roads  []roads.Road

	order   []string
	said    map[string]*entry
	unsaid  map[network.Fact]measure.Distance // length of roads that say nothing of a fact
	bridges []int64                           // that are driven over and say nothing of mass, by way
	met     map[roadKey]bool
	owned   map[owners]bool
}

// entry is one note and where it holds.
type entry struct {
	note
	times int
	at    measure.Distance // from the start of the leg, first
	of    string           // the element that says it, such as "way 123"; "" where the network names none
}

// Climb is how a leg climbs; what is unknown is as long as Unknown says.
type Climb struct {
	Ascent, Descent float64 // metres
	Steepest        float64 // rise over run, signed, in the direction of travel
	Unknown         measure.Distance
}

// NewLedger returns an empty Ledger.
func NewLedger() *Ledger {
	return &Ledger{
		said: map[string]*entry{}, unsaid: map[network.Fact]measure.Distance{}, met: map[roadKey]bool{},
		owned: map[owners]bool{},
	}
}

func (l *Ledger) note(n note, at measure.Distance, of string) {
	key := string(n.rule) + "\x00" + string(n.outcome) + "\x00" + n.said().String()
	if e, ok := l.said[key]; ok {
		e.times++
		return
	}
	l.said[key] = &entry{note: n, times: 1, at: at, of: of}
	l.order = append(l.order, key)
}

// Drive takes in one piece of a leg; at is how far into the leg it begins.
func (j *Judge) Drive(l *Ledger, p network.Piece, at measure.Distance) {
	n, e := j.Network, p.Arc.Edge()
	for _, note := range j.signs.road(p.Arc).notes {
		l.note(note, at, Element("way", n.Origin(e)))
	}
	for _, s := range n.Spots(e) {
		where := network.Position{Edge: e, Offset: s.Offset}
		if !n.Covers(p, where) {
			continue
		}
		for _, note := range j.signs.spot(s, p.Arc.Reverse()).notes {
			l.note(note, at+n.Along(where, p.Arc)-p.Start, SpotElement(s))
		}
	}
	r := n.Record(n.RoadID(e))
	l.Length += p.Length()
	l.Small = l.Small || !n.Class[e].Through()
	l.silent(network.Lanes, r.Lanes == 0 && r.Width == 0, p)
	l.silent(network.Surfaces, r.Paved == network.PavingUnknown, p)
	l.silent(network.Speeds, !r.Flags.Has(network.PostedSpeed), p)
	l.silent(network.OneWays, !r.Flags.Has(network.KnownDirection) && !r.Flags.Has(network.OnewayAlong), p)
	if r.Flags.Has(network.OnBridge) && !slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Mass()
	}) && !slices.Contains(l.bridges, n.Origin(e)) {
		l.bridges = append(l.bridges, n.Origin(e))
	}
	l.owner(n, r)
	l.road(n, e)
	l.rise(n, p)
}

// roadKey tells roads apart as far as rules can.
type roadKey struct {
	record    network.RoadID
	class     network.Class
	ref, name string
}

// road notes a road that the leg uses, each once.
func (l *Ledger) road(n *network.Network, e network.EdgeID) {
	key := roadKey{n.RoadID(e), n.Class[e], n.Ref(e), n.Name(e)}
	if !l.met[key] {
		l.met[key] = true
		l.Roads = append(l.Roads, RoadOf(n, e))
	}
}

// RoadOf is what rules ask of a road. The lanes of a two-way road are those of
// both directions; only a freeway is surely divided. A road without a class may be
// of any, and so may what is perhaps a ferry.
func RoadOf(n *network.Network, e network.EdgeID) roads.Road {
	r := n.Record(n.RoadID(e))
	out := roads.Road{Refs: n.Refs(e), Name: n.Name(e)}
	if class := n.Class[e]; class != network.Unclassed && class != network.PossibleFerry {
		out.Class = class.String()
	}
	oneway := r.Flags.Has(network.OnewayAlong) || r.Flags.Has(network.OnewayAgainst)
	switch {
	case oneway:
		out.Lanes = int(r.Lanes)
	case r.Lanes%2 == 0:
		out.Lanes = int(r.Lanes) / 2
	}
	if n.Class[e] == network.Freeway {
		out.Divided = "yes"
	}
	return out
}

// silent adds up the length of roads that say nothing of a fact.
func (l *Ledger) silent(f network.Fact, says bool, p network.Piece) {
	if says {
		l.unsaid[f] += p.Length()
	}
}

// ownWords are the values of ownership that make a road the jurisdiction's or
// its country's own (OpenStreetMap wiki, Key:ownership, 2025, from memory).
var ownWords = []string{"national", "state", "province", "provincial", "federal"}

// owner collects what is tagged of who runs the roads.
func (l *Ledger) owner(n *network.Network, r network.Record) {
	l.Alien = l.Alien || !slices.Contains(ownWords, n.Text(r.Ownership)) || r.Flags.Has(network.Toll)
	told := owners{r.Operator, r.Ownership, r.Signed}
	if l.owned[told] {
		return
	}
	l.owned[told] = true
	for _, one := range []say.Remark{
		say.That("owner.operator", "name", n.Text(r.Operator)),
		say.That("owner.ownership", "kind", n.Text(r.Ownership)),
		say.That("owner.numbered_in", "network", n.Text(r.Signed)),
	} {
		if one.Args[0].Value != "" && !slices.Contains(say.Strings(l.Owners), one.String()) {
			l.Owners = append(l.Owners, one)
		}
	}
}

// owners are what a road says of who runs it.
type owners struct{ operator, ownership, signed network.StringID }

// rise adds up climbs. Of a part of an edge the same share is taken.
func (l *Ledger) rise(n *network.Network, p network.Piece) {
	g, ok := n.Grade(p.Arc)
	length := n.Length[p.Arc.Edge()]
	if !ok || length == 0 {
		l.Climb.Unknown += p.Length()
		return
	}
	share := float64(p.Length() / length)
	l.Climb.Ascent += share * float64(g.Ascent)
	l.Climb.Descent += share * float64(g.Descent)
	if s := float64(g.Steepest); !l.Steep || s*s > l.Climb.Steepest*l.Climb.Steepest {
		l.Climb.Steepest, l.Steep = s, true
	}
}
