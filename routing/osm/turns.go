package osm

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/osm"

	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// restriction is a turn restriction relation.
type restriction struct {
	id      int64
	version int
	rules   []turnRule
	plain   bool // it has the tag "restriction"
	except  uint16
	from    []int64
	to      []int64
	vias    []int64 // ways
	via     int64   // node, 0: none
	reason  string  // why it cannot be used at all
}

// turnRule is what one tag of a restriction says.
type turnRule struct {
	kind string // such as no_left_turn
	mode network.Mode
	when string
}

// readRestriction reads a relation (OpenStreetMap wiki, Relation:restriction,
// 2025).
func readRestriction(r *osm.Relation) restriction {
	out := restriction{id: int64(r.ID), version: r.Version, plain: r.Tags.HasTag("restriction")}
	for _, v := range strings.Split(r.Tags.Find("except"), ";") {
		if mode, ok := modeOf[strings.TrimSpace(v)]; ok {
			out.except |= 1 << mode
		}
	}
	for _, t := range r.Tags {
		out.rules = append(out.rules, turnRules(t)...)
	}
	for _, m := range r.Members {
		m.Role = strings.ToLower(m.Role)
		switch {
		case m.Role == "via" && m.Type == osm.TypeNode && out.via != 0:
			out.reason = "it has two via nodes"
		case m.Role == "from" && m.Type == osm.TypeWay:
			out.from = append(out.from, m.Ref)
		case m.Role == "to" && m.Type == osm.TypeWay:
			out.to = append(out.to, m.Ref)
		case m.Role == "via" && m.Type == osm.TypeWay:
			out.vias = append(out.vias, m.Ref)
		case m.Role == "via" && m.Type == osm.TypeNode:
			out.via = m.Ref
		}
	}
	if len(out.from) == 0 || len(out.to) == 0 || out.via == 0 && len(out.vias) == 0 {
		out.reason = "a member is missing: from, via or to"
	}
	return out
}

// turnRules reads one tag: restriction, restriction:hgv, and the two with
// :conditional. Rules for other traffic are none.
func turnRules(t osm.Tag) []turnRule {
	parts := strings.Split(strings.ToLower(t.Key), ":")
	if parts[0] != "restriction" {
		return nil
	}
	rule := turnRule{mode: network.MotorVehicles, kind: strings.ToLower(strings.TrimSpace(t.Value))}
	conditional := false
	for _, p := range parts[1:] {
		mode, ok := modeOf[p]
		switch {
		case p == "conditional":
			conditional = true
		case ok:
			rule.mode = mode
		case isAnother(p):
			return nil
		default:
			return []turnRule{{kind: "not read: " + t.Key}}
		}
	}
	if !conditional && (rule.kind == "none" || rule.kind == "no") {
		return nil
	}
	if !conditional {
		return []turnRule{rule}
	}
	holds, err := window.ParseConditional(t.Value)
	if err != nil {
		return []turnRule{{kind: "not read: " + t.Value}}
	}
	var out []turnRule
	for _, c := range holds {
		if c.Value != "none" && c.Value != "no" {
			out = append(out, turnRule{mode: rule.mode, kind: strings.ToLower(c.Value), when: c.When})
		}
	}
	return out
}

// ban puts the restrictions into the network.
func (b *build) ban() {
	t := &b.report.Turns
	t.Kinds = map[string]int{}
	for _, r := range b.turns {
		t.Relations++
		if r.plain {
			t.Plain++
		}
		if len(r.rules) == 0 {
			t.Others++
			continue
		}
		for _, rule := range r.rules {
			t.Kinds[rule.kind]++
			if reason := b.banOne(r, rule); reason != "" {
				t.Dropped = append(t.Dropped, Dropped{r.id, rule.kind, reason})
				b.unreadTurn(r)
			}
		}
	}
}

// closedAlready is the reason of a rule for a turn that cannot be driven anyway.
const closedAlready = "one-way roads close it already"

// unreadTurn marks where a rule that was dropped, or a part of one, would hold:
// at its via node, or at the ends of its via ways.
func (b *build) unreadTurn(r restriction) {
	mark := func(node network.NodeID) {
		for _, a := range b.graph.Out(node) {
			s := network.Spot{OSM: r.id, Edge: a.Edge(), Kind: network.UnreadTurn}
			if a.Reverse() {
				s.Offset = b.builder.Length(a.Edge())
			}
			b.builder.Spot(s)
		}
	}
	if node, ok := b.nodeOfRef(r.via); ok && r.via != 0 {
		mark(node)
	}
	if r.via == 0 && len(r.vias) == 0 { // where its roads meet, or all along where they do not
		for _, way := range slices.Concat(r.from, r.to) {
			for _, e := range b.edgesOf(way) {
				mark(b.graph.From[e])
				mark(b.graph.To[e])
			}
		}
	}
	for _, way := range r.vias {
		for _, e := range b.edgesOf(way) {
			mark(b.graph.From[e])
			mark(b.graph.To[e])
		}
	}
}

// banOne bans what one rule forbids; the reason is "" unless it, or a part of
// it, was dropped.
func (b *build) banOne(r restriction, rule turnRule) (reason string) {
	only := strings.HasPrefix(rule.kind, "only_")
	if !only && !strings.HasPrefix(rule.kind, "no_") {
		return "it is of no known kind"
	}
	if r.reason != "" {
		return r.reason
	}
	ban := network.Ban{OSM: r.id, Except: r.except, For: rule.mode, When: b.builder.Text(rule.when)}
	used := false
	for _, from := range r.from {
		for _, to := range r.to {
			why := b.banPair(from, to, r, only, ban)
			if why == closedAlready { // nothing to ban
				why = ""
			}
			used = used || why == ""
			reason = cmp.Or(reason, why)
		}
	}
	if used && reason != "" { // of several members some may not meet the rest
		return "in part: " + reason
	}
	return reason
}

// banPair bans the way from one member to another.
func (b *build) banPair(from, to int64, r restriction, only bool, ban network.Ban) string {
	in, out := b.edgesOf(from), b.edgesOf(to)
	if in == nil || out == nil {
		return "from or to is no road of the extracts"
	}
	var through [][]network.Arc
	if len(r.vias) > 0 {
		through = b.through(r.vias)
		if through == nil {
			return "its via ways are no chain of roads"
		}
	} else {
		node, ok := b.nodeOfRef(r.via)
		if !ok {
			return "its via node is on no road"
		}
		return b.banAt(node, in, nil, out, only, ban)
	}
	reason := "its from and to do not meet the via ways"
	for _, arcs := range through {
		why := b.banAt(b.head(arcs[len(arcs)-1]), in, arcs, out, only, ban)
		if why == "" {
			return ""
		}
	}
	return reason
}

// banAt bans from, the arcs of the via ways if any, and to, which leaves the
// node.
func (b *build) banAt(node network.NodeID, in edgeRange, through []network.Arc, out edgeRange, only bool,
	ban network.Ban) string {
	entry := node
	if len(through) > 0 {
		entry = b.tail(through[0])
	}
	arriving, leaving := b.arriving(in, entry), b.leaving(out, node)
	switch {
	case len(b.meeting(in, entry, b.head, true)) == 0 || len(b.meeting(out, node, b.tail, true)) == 0:
		return "from or to does not meet the via node"
	case len(arriving) == 0 || len(leaving) == 0:
		return closedAlready
	case only && (len(arriving) > 1 || len(leaving) > 1):
		return "from or to is not split at the via node, so two turns could be meant"
	}
	// Of a road that is not split there every turn that could be meant is banned.
	for _, first := range arriving {
		for _, last := range b.forbidden(node, leaving, only) {
			arcs := append(append([]network.Arc{first}, through...), last)
			b.builder.Ban(arcs, ban)
			b.report.Turns.Bans++
		}
	}
	return ""
}

// forbidden lists the arcs that a rule forbids to leave a node by.
func (b *build) forbidden(node network.NodeID, to []network.Arc, only bool) []network.Arc {
	if !only {
		return to
	}
	var out []network.Arc
	for _, a := range b.graph.Out(node) {
		if !slices.Contains(to, a) {
			out = append(out, a)
		}
	}
	return out
}

// edgeRange is the edges that a way became, in its order.
type edgeRange []network.EdgeID

func (b *build) edgesOf(way int64) edgeRange {
	i, ok := slices.BinarySearchFunc(b.roads, way, func(r road, id int64) int { return int(min(max(r.id-id, -1), 1)) })
	if !ok || b.roads[i].edges == 0 {
		return nil
	}
	out := make(edgeRange, b.roads[i].edges)
	for k := range out {
		out[k] = network.EdgeID(b.roads[i].first + k)
	}
	return out
}

// arriving lists the arcs of a way that reach a node in a direction that is
// open; leaving those that leave it.
func (b *build) arriving(edges edgeRange, node network.NodeID) []network.Arc {
	return b.meeting(edges, node, b.head, false)
}

func (b *build) leaving(edges edgeRange, node network.NodeID) []network.Arc {
	return b.meeting(edges, node, b.tail, false)
}

// meeting lists the arcs of a way whose end is at a node, closed ones too if
// any.
func (b *build) meeting(edges edgeRange, node network.NodeID, end func(network.Arc) network.NodeID,
	any bool) (out []network.Arc) {
	for _, e := range edges {
		for _, a := range []network.Arc{network.MakeArc(e, false), network.MakeArc(e, true)} {
			if end(a) == node && (any || b.open(a)) {
				out = append(out, a)
			}
		}
	}
	return out
}

// through lists the ways to drive all via ways, one after the other, in either
// order.
func (b *build) through(vias []int64) (out [][]network.Arc) {
	for _, order := range [][]int64{vias, reversed(vias)} {
		for _, start := range []bool{false, true} {
			if arcs := b.chain(order, start); arcs != nil {
				out = append(out, arcs)
			}
		}
		if len(vias) == 1 {
			break
		}
	}
	return out
}

func reversed(ids []int64) []int64 {
	out := slices.Clone(ids)
	slices.Reverse(out)
	return out
}

// chain drives the ways in their order, the first one against its line if back.
func (b *build) chain(ways []int64, back bool) []network.Arc {
	var out []network.Arc
	for i, id := range ways {
		edges := b.edgesOf(id)
		if edges == nil {
			return nil
		}
		along := arcsOf(edges, back)
		if i > 0 {
			at := b.head(out[len(out)-1])
			if along = arcsOf(edges, false); b.tail(along[0]) != at {
				along = arcsOf(edges, true)
			}
			if b.tail(along[0]) != at {
				return nil
			}
		}
		out = append(out, along...)
	}
	for i := 1; i < len(out); i++ {
		if b.head(out[i-1]) != b.tail(out[i]) {
			return nil // a part of a way is in no extract
		}
	}
	return out
}

func arcsOf(edges edgeRange, back bool) []network.Arc {
	out := make([]network.Arc, len(edges))
	for i, e := range edges {
		if back {
			out[len(edges)-1-i] = network.MakeArc(e, true)
		} else {
			out[i] = network.MakeArc(e, false)
		}
	}
	return out
}
