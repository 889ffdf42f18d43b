package standing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Ledger gathers what the roads of a leg have to say, each thing once.
type Ledger struct {
	Climb  Climb
	Steep  bool     // whether any climb is known
	Owners []string // what the map says of who runs the roads
	Alien  bool     // the map does not say of a road that it is the jurisdiction's own
	Length measure.Distance
	Small  bool // a road below the trunk classes is on it
	Roads  []roads.Road

	order   []string
	said    map[string]*entry
	unsaid  map[network.Fact]measure.Distance // length of roads that say nothing of a fact
	bridges []int64                           // that are driven over and say nothing of mass, by way
	met     map[roadKey]bool
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
	return &Ledger{said: map[string]*entry{}, unsaid: map[network.Fact]measure.Distance{}, met: map[roadKey]bool{}}
}

func (l *Ledger) note(n note, at measure.Distance, of string) {
	key := n.rule + "\x00" + string(n.outcome) + "\x00" + n.said().String()
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
	if r.Flags.Has(network.OnBridge) && !slices.ContainsFunc(r.Signs, func(s network.Sign) bool { return s.Subject.Mass() }) && !slices.Contains(l.bridges, n.Origin(e)) {
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

// Element names an element of OpenStreetMap; "" where there is none.
func Element(kind string, id int64) string {
	if id == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d", kind, id)
}

// SpotElement names the element of a spot.
func SpotElement(s network.Spot) string {
	switch {
	case s.Kind == network.UnreadTurn:
		return Element("relation", s.OSM)
	case s.OnNode == 1:
		return Element("node", s.OSM)
	default:
		return Element("way", s.OSM)
	}
}

// mapID begins the id of a row that is an element of the map.
const mapID = "osm "

// Cite says where a finding of the map comes from: nobody vouches for it.
func (a *Atlas) Cite(of, published string) []finding.Citation {
	if of == "" {
		return nil
	}
	return []finding.Citation{{
		ID: mapID + of, Revision: a.Network.About.Revision, Published: published, Status: finding.Secondary,
		Source: "OpenStreetMap " + of, Year: a.Network.About.Vintage, Decides: true,
	}}
}

// CiteNetwork gives findings that rest on no element of the map the network as their
// row. It decides what is to be looked at, never what is not known.
func (a *Atlas) CiteNetwork(findings []finding.Finding) []finding.Finding {
	about := a.Network.About
	for i := range findings {
		if f := &findings[i]; len(f.Citations) == 0 {
			f.Citations = []finding.Citation{{
				ID: "network", Revision: about.Revision, Published: "lines and levels of roads", Status: finding.Secondary,
				Source: about.Name, Year: about.Vintage, Decides: f.Outcome != finding.Unknown,
			}}
		}
	}
	return findings
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
	for _, s := range []struct {
		label string
		text  network.StringID
	}{{"operator ", r.Operator}, {"ownership ", r.Ownership}, {"numbered in ", r.Signed}} {
		if text := n.Text(s.text); text != "" && !slices.Contains(l.Owners, s.label+text) {
			l.Owners = append(l.Owners, s.label+text)
		}
	}
}

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

// Said puts the ledger of a leg into findings.
func (j *Judge) Said(l *Ledger, codes []string) []finding.Finding {
	jurisdiction := strings.Join(codes, "/")
	var out []finding.Finding
	for _, key := range l.order {
		e := l.said[key]
		f := finding.Finding{
			Topic: e.topic, Rule: e.rule, Jurisdiction: jurisdiction, Outcome: e.outcome, Reason: e.reason, Demands: e.demands, Value: e.value,
			Place: e.place(), Says: []say.Remark{e.said()}, Settles: finding.Asking(finding.Office, say.That("ask.road")),
		}
		f.Citations = j.Cite(e.of, cmp.Or(e.text, "as tagged"))
		out = append(out, f)
	}
	for _, fact := range []network.Fact{network.OneWays, network.Lanes, network.Surfaces, network.Speeds} {
		if length := l.unsaid[fact]; length > 0 && !j.Network.Lacks(fact) {
			out = append(out, finding.Finding{
				Topic: finding.Network, Rule: string(fact), Jurisdiction: jurisdiction, Outcome: finding.Unknown, Reason: finding.NotMapped,
				Says: []say.Remark{silence(fact, length)}, Settles: finding.Asking(finding.Office, say.That("ask.road_driven")),
			})
		}
	}
	if n := len(l.bridges); n > 0 {
		out = append(out, finding.Finding{
			Topic: finding.Network, Rule: "bridges", Jurisdiction: jurisdiction, Outcome: finding.Unknown, Reason: finding.NotMapped,
			Says: []say.Remark{say.That("network.bridges", "count", n)}, Settles: finding.Asking(finding.Office, say.That("ask.road")),
		})
	}
	return out
}

// place is where a note holds first, and how often more.
func (e *entry) place() say.Remark {
	at := say.That("place.into_leg", "along", e.at)
	if e.of != "" {
		at = say.That("place.element", "at", at, "element", e.of)
	}
	if e.times > 1 {
		at = say.That("place.more", "at", at, "more", e.times-1)
	}
	return at
}

// silence says what follows where roads of a length say nothing of a fact.
func silence(f network.Fact, length measure.Distance) say.Remark {
	switch f {
	case network.OneWays:
		return say.That("network.untagged_one_ways", "length", length)
	case network.Lanes:
		return say.That("network.untagged_lanes", "length", length)
	case network.Surfaces:
		return say.That("network.untagged_surfaces", "length", length)
	default:
		return say.That("network.untagged_speeds", "length", length)
	}
}

// tall is the height above which wires, signals and branches are asked for on
// small roads: a rule of this project.
const tall = 4 * measure.Metre

// Survey says of small roads what no map has.
func (j *Judge) Survey(codes []string) []finding.Finding {
	h, ok := j.Rig.Clear()
	if ok && h.Length <= tall && !h.AtLeast {
		return nil
	}
	f := finding.Finding{
		Topic: finding.Network, Rule: "survey", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown, Reason: finding.NotMapped,
		Demands: finding.Demands{Survey: true}, Says: []say.Remark{say.That("network.survey")},
		Settles: finding.Asking(finding.Expert, say.That("ask.utilities")),
	}
	if ok {
		f.Value = finding.Of(h.Length)
	}
	return []finding.Finding{f}
}
