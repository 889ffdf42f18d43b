package trip

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

// ledger gathers what the roads of a leg have to say, each thing once.
type ledger struct {
	order  []string
	said   map[string]*entry
	length map[network.Fact]measure.Distance // of roads that say nothing of a fact
	climb  Climb
	steep  bool // whether any climb is known
	signed []string
	alien  bool // the map does not say of a road that it is the jurisdiction's own
	whole  measure.Distance
	// bridges that are driven over and say nothing of mass, by way
	bridges []int64
	small   bool // a road below the trunk classes is on it
	roads   []roads.Road
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

func newLedger() *ledger {
	return &ledger{said: map[string]*entry{}, length: map[network.Fact]measure.Distance{}, met: map[roadKey]bool{}}
}

func (l *ledger) note(n note, at measure.Distance, of string) {
	key := n.rule + "\x00" + string(n.outcome) + "\x00" + n.words()
	if e, ok := l.said[key]; ok {
		e.times++
		return
	}
	l.said[key] = &entry{note: n, times: 1, at: at, of: of}
	l.order = append(l.order, key)
}

// drive takes in one piece of a leg; at is how far into the leg it begins.
func (b *builder) drive(l *ledger, p network.Piece, at measure.Distance) {
	n, e := b.Network, p.Arc.Edge()
	for _, note := range b.traveller.road(p.Arc).notes {
		l.note(note, at, element("way", n.Origin(e)))
	}
	for _, s := range n.Spots(e) {
		where := network.Position{Edge: e, Offset: s.Offset}
		if !n.Covers(p, where) {
			continue
		}
		for _, note := range b.traveller.spot(s, p.Arc.Reverse()).notes {
			l.note(note, at+n.Along(where, p.Arc)-p.Start, spotElement(s))
		}
	}
	r := n.Record(n.RoadID(e))
	l.whole += p.Length()
	l.small = l.small || !n.Class[e].Through()
	l.silent(network.Lanes, r.Lanes == 0 && r.Width == 0, p)
	l.silent(network.Surfaces, r.Paved == network.PavingUnknown, p)
	l.silent(network.Speeds, !r.Flags.Has(network.PostedSpeed), p)
	l.silent(network.OneWays, !r.Flags.Has(network.KnownDirection) && !r.Flags.Has(network.OnewayAlong), p)
	if r.Flags.Has(network.OnBridge) && !slices.ContainsFunc(r.Signs, func(s network.Sign) bool { return s.Subject.Mass() }) && !slices.Contains(l.bridges, n.Origin(e)) {
		l.bridges = append(l.bridges, n.Origin(e))
	}
	l.owner(n, r)
	l.road(n, e, r)
	l.rise(n, p)
}

// roadKey tells roads apart as far as rules can.
type roadKey struct {
	record    network.RoadID
	class     network.Class
	ref, name string
}

// road notes a road that the leg uses, each once.
func (l *ledger) road(n *network.Network, e network.EdgeID, r network.Record) {
	key := roadKey{n.RoadID(e), n.Class[e], n.Ref(e), n.Name(e)}
	if !l.met[key] {
		l.met[key] = true
		l.roads = append(l.roads, roadOf(n, e, r))
	}
}

// roadOf is what rules ask of a road. The lanes of a two-way road are those of
// both directions; only a freeway is surely divided. A road without a class may be
// of any, and so may what is perhaps a ferry.
func roadOf(n *network.Network, e network.EdgeID, r network.Record) roads.Road {
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

// element names an element of OpenStreetMap; "" where there is none.
func element(kind string, id int64) string {
	if id == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d", kind, id)
}

func spotElement(s network.Spot) string {
	switch {
	case s.Kind == network.UnreadTurn:
		return element("relation", s.OSM)
	case s.OnNode == 1:
		return element("node", s.OSM)
	default:
		return element("way", s.OSM)
	}
}

// mapID begins the id of a row that is an element of the map.
const mapID = "osm "

// mapRow says where a finding of the map comes from: nobody vouches for it.
func (b *builder) mapRow(of, published string) []finding.Citation {
	if of == "" {
		return nil
	}
	return []finding.Citation{{
		ID: mapID + of, Revision: b.Network.About.Revision, Published: published, Status: finding.Secondary,
		Source: "OpenStreetMap " + of, Year: b.Network.About.Vintage, Decides: true,
	}}
}

// ofNetwork gives findings that rest on no element of the map the network as their
// row. It decides what is to be looked at, never what is not known.
func (b *builder) ofNetwork(findings []finding.Finding) []finding.Finding {
	about := b.Network.About
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
func (l *ledger) silent(f network.Fact, says bool, p network.Piece) {
	if says {
		l.length[f] += p.Length()
	}
}

// ownWords are the values of ownership that make a road the jurisdiction's or
// its country's own (OpenStreetMap wiki, Key:ownership, 2025, from memory).
var ownWords = []string{"national", "state", "province", "provincial", "federal"}

// owner collects what is tagged of who runs the roads.
func (l *ledger) owner(n *network.Network, r network.Record) {
	l.alien = l.alien || !slices.Contains(ownWords, n.Text(r.Ownership)) || r.Flags.Has(network.Toll)
	for _, s := range []struct {
		label string
		text  network.StringID
	}{{"operator ", r.Operator}, {"ownership ", r.Ownership}, {"numbered in ", r.Signed}} {
		if text := n.Text(s.text); text != "" && !slices.Contains(l.signed, s.label+text) {
			l.signed = append(l.signed, s.label+text)
		}
	}
}

// rise adds up climbs. Of a part of an edge the same share is taken.
func (l *ledger) rise(n *network.Network, p network.Piece) {
	g, ok := n.Grade(p.Arc)
	length := n.Length[p.Arc.Edge()]
	if !ok || length == 0 {
		l.climb.Unknown += p.Length()
		return
	}
	share := float64(p.Length() / length)
	l.climb.Ascent += share * float64(g.Ascent)
	l.climb.Descent += share * float64(g.Descent)
	if s := float64(g.Steepest); !l.steep || s*s > l.climb.Steepest*l.climb.Steepest {
		l.climb.Steepest, l.steep = s, true
	}
}

// said puts the ledger of a leg into findings.
func (b *builder) said(l *ledger, codes []string) []finding.Finding {
	jurisdiction := strings.Join(codes, "/")
	var out []finding.Finding
	for _, key := range l.order {
		e := l.said[key]
		f := finding.Finding{
			Rule: e.rule, Jurisdiction: jurisdiction, Outcome: e.outcome, Demands: e.demands, Value: e.value, Summary: e.words(),
			Place: fmt.Sprintf("%s into the leg", e.at), Ask: "the road's authority",
		}
		if e.of != "" {
			f.Place += ", OpenStreetMap " + e.of
		}
		f.Citations = b.mapRow(e.of, cmp.Or(e.text, "as tagged"))
		if e.times > 1 {
			f.Place += fmt.Sprintf(", and %d times more", e.times-1)
		}
		out = append(out, f)
	}
	for _, fact := range []network.Fact{network.OneWays, network.Lanes, network.Surfaces, network.Speeds} {
		if length := l.length[fact]; length > 0 && !b.Network.Lacks(fact) {
			out = append(out, finding.Finding{
				Rule: string(fact), Jurisdiction: jurisdiction, Outcome: finding.Unknown, Ask: "the road's authority, and someone who has driven it",
				Summary: fmt.Sprintf("%s of this leg: %s", length, silence[fact]),
			})
		}
	}
	if n := len(l.bridges); n > 0 {
		out = append(out, finding.Finding{
			Rule: "bridges", Jurisdiction: jurisdiction, Outcome: finding.Unknown, Ask: "the road's authority",
			Summary: fmt.Sprintf("%d bridges that this leg drives over have no tagged limit of mass: what they carry is not known", n),
		})
	}
	return append(out, b.climbs(l, jurisdiction)...)
}

// silence says what follows where roads say nothing of a fact.
var silence = map[network.Fact]string{
	network.OneWays:  "whether the road is one-way is not tagged; it was taken to be open both ways",
	network.Lanes:    "the number and width of lanes is not tagged",
	network.Surfaces: "whether the road is paved is not tagged",
	network.Speeds:   "no posted speed is tagged: times rest on assumed towing speeds",
}

func (b *builder) climbs(l *ledger, jurisdiction string) []finding.Finding {
	if b.Network.Lacks(network.Grades) || l.whole == 0 {
		return nil
	}
	f := finding.Finding{Rule: string(network.Grades), Jurisdiction: jurisdiction, Outcome: finding.Unknown, Ask: "the maker of the tow vehicle, and someone who has driven it"}
	if l.steep {
		f.Value = fmt.Sprintf("up %.0f m, down %.0f m, steepest %+.1f %%", l.climb.Ascent, l.climb.Descent, 100*l.climb.Steepest)
	}
	open := "brakes"
	if b.request.Rig.Tow.Power == nil {
		open += ", power"
	}
	if b.unpulled != "" {
		open += ", fuel"
	}
	f.Summary = "climbs and descents are known, but on them these were not considered: " + open
	if l.climb.Unknown > 0 {
		f.Summary = fmt.Sprintf("climbs and descents of %s are not known, and on the rest these were not considered: %s", l.climb.Unknown, open)
	}
	return []finding.Finding{f}
}

// tall is the height above which wires, signals and branches are asked for on
// small roads: a rule of this project.
const tall = 4 * measure.Metre

// survey says of small roads what no map has.
func (b *builder) survey(l *ledger, codes []string) []finding.Finding {
	h, ok := b.request.Rig.Clear()
	if !l.small || ok && h.Length <= tall && !h.AtLeast {
		return nil
	}
	f := finding.Finding{
		Rule: "survey", Jurisdiction: strings.Join(codes, "/"), Outcome: finding.Unknown, Demands: finding.Demands{Survey: true},
		Summary: "wires, signals and branches over roads below the trunk classes are in no map: have the way driven with a height pole",
		Ask:     "the utilities along the way, and someone who has driven it with a height pole",
	}
	if ok {
		f.Value = h.Length.String()
	}
	return []finding.Finding{f}
}

// turnFindings says which forbidden turns the ways take: a given one may, and
// one that goes on from a stop.
func (b *builder) turnFindings(ways []way) {
	var pieces []network.Piece
	for i, w := range ways {
		if i > 0 {
			b.turningRound(ways[i-1], w)
		}
		pieces = append(pieces, w.pieces...)
		if w.gap != nil || i == len(ways)-1 {
			b.plan.Findings = append(b.plan.Findings, b.forbiddenTurns(pieces)...)
			pieces = nil
		}
	}
}

// turningRound says where a rig has to turn round at a stop to go on.
func (b *builder) turningRound(before, after way) {
	if len(before.pieces) == 0 || len(after.pieces) == 0 || before.pieces[len(before.pieces)-1].Arc.Back() != after.pieces[0].Arc {
		return
	}
	b.plan.Findings = append(b.plan.Findings, finding.Finding{
		Rule: "turning round", Place: after.from, Outcome: finding.Unknown, Ask: "whoever runs the stop, and someone who walks it",
		Summary: "the way goes on from this stop against the way it came: whether there is room to turn the rig round is not known",
	})
}

// forbiddenTurns lists the forbidden turns along pieces that follow each other.
func (b *builder) forbiddenTurns(pieces []network.Piece) []finding.Finding {
	t, at := b.Network.Turns(), network.TurnState(0)
	var out []finding.Finding
	for i, p := range pieces {
		if i > 0 && pieces[i-1].Arc == p.Arc {
			continue
		}
		at = t.Step(at, p.Arc)
		for _, ban := range t.Ends(at) {
			if !b.traveller.banned(ban) {
				continue
			}
			of, _ := b.Network.Ban(int(ban))
			f := finding.Finding{
				Rule: "turn rules", Jurisdiction: strings.Join(b.codes(pieces[i:i+1]), "/"), Outcome: finding.Forbidden, Ask: "the road's authority",
				Summary: fmt.Sprintf("a turn is forbidden onto %s", b.Network.RoadName(p.Arc.Edge())), Place: fmt.Sprintf("OpenStreetMap relation %d", of.OSM),
				Citations: b.mapRow(element("relation", of.OSM), "a turn restriction"),
			}
			if when := b.Network.Text(of.When); when != "" {
				f.Outcome, f.Summary = finding.Conditional, f.Summary+" at certain hours: "+when
				f.Demands.Hours = []say.Remark{say.That("hours.no_turn", "when", when)}
			}
			out = append(out, f)
		}
	}
	return out
}
