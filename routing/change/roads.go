package change

import (
	"maps"
	"slices"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
)

// key names something that is said of a road.
type key struct {
	kind    Kind
	subject network.Subject
	mode    network.Mode
	bound   network.Bound
	when    string
}

// fact is one thing that is said of a road.
type fact struct {
	key
	text  string // as it is compared
	value say.Remark
}

// roads compares the roads of both sides.
func (d *differ) roads() {
	for _, id := range d.ids {
		edges := [2][]network.EdgeID{d.sides[0].edges[id], d.sides[1].edges[id]}
		switch {
		case len(edges[0]) == 0:
			d.road(id, Added, d.sides[1], edges[1])
		case len(edges[1]) == 0:
			d.road(id, Gone, d.sides[0], edges[0])
		default:
			d.said(id, edges)
		}
	}
}

// road says that a road is there or not any more.
func (d *differ) road(id int64, how How, s *side, edges []network.EdgeID) {
	e := longest(s.net, edges)
	var length float64
	for _, one := range edges {
		length += float64(s.net.Length[one])
	}
	d.out = append(d.out, s.where(Change{
		Kind: Road, How: how, Element: Element{"way", id},
		What: say.That("change.road", "class", s.net.Class[e], "km", length/1000),
	}, e))
}

// said compares what is said of one road.
func (d *differ) said(id int64, edges [2][]network.EdgeID) {
	var facts [2]map[key][]fact
	var at [2]map[key]network.EdgeID
	for i, s := range d.sides {
		facts[i], at[i] = s.facts(edges[i])
	}
	for k := range union(facts) {
		before, after := facts[0][k], facts[1][k]
		if same(before, after) {
			continue
		}
		s, e := d.sides[1], at[1][k]
		if len(after) == 0 {
			s, e = d.sides[0], at[0][k]
		}
		c := Change{
			Kind: k.kind, How: how(len(before), len(after)), Element: Element{"way", id}, What: k.what(),
			Before: values(before), After: values(after),
		}
		d.out = append(d.out, s.where(c, e))
	}
}

// what names what a fact is about.
func (k key) what() say.Remark {
	if k.kind == Direction {
		return say.That("change.direction")
	}
	return say.That("change.sign", "subject", k.subject, "mode", k.mode, "for_all", k.mode == network.Everyone,
		"when", window.ParseCondition(k.when).Says())
}

func how(before, after int) How {
	switch {
	case before == 0:
		return Added
	case after == 0:
		return Gone
	default:
		return Altered
	}
}

func union[K comparable, V any](of [2]map[K]V) map[K]bool {
	out := map[K]bool{}
	for _, m := range of {
		for k := range m {
			out[k] = true
		}
	}
	return out
}

func same(a, b []fact) bool {
	return slices.EqualFunc(a, b, func(x, y fact) bool { return x.text == y.text })
}

func values(facts []fact) (out []say.Remark) {
	for _, f := range facts {
		out = append(out, f.value)
	}
	return out
}

// facts is what is said of a road on any of its edges, each value once, and one edge each
// where it is said.
func (s *side) facts(edges []network.EdgeID) (map[key][]fact, map[key]network.EdgeID) {
	out, at := map[key][]fact{}, map[key]network.EdgeID{}
	seen := map[network.RoadID]bool{}
	for _, e := range edges {
		id := s.net.RoadID(e)
		if seen[id] {
			continue
		}
		seen[id] = true
		for _, f := range s.record(id) {
			if !slices.ContainsFunc(out[f.key], func(known fact) bool { return known.text == f.text }) {
				out[f.key] = append(out[f.key], f)
			}
			if _, ok := at[f.key]; !ok {
				at[f.key] = e
			}
		}
	}
	for _, list := range out {
		slices.SortFunc(list, func(a, b fact) int { return strings.Compare(a.text, b.text) })
	}
	return out, at
}

// record is what a record says, read once.
func (s *side) record(id network.RoadID) []fact {
	if known, ok := s.says[id]; ok {
		return known
	}
	r := s.net.Record(id)
	var out []fact
	for flag, says := range map[network.Flags]say.Remark{
		network.OnewayAlong: say.That("change.one_way"), network.OnewayAgainst: say.That("change.one_way_against"),
		network.OnewayVaries: say.That("change.one_way_varies"),
	} {
		if r.Flags.Has(flag) {
			out = append(out, fact{key{kind: Direction}, says.String(), says})
		}
	}
	for _, sign := range r.Signs {
		out = append(out, s.sign(sign))
	}
	s.says[id] = out
	return out
}

// sign is a sign as it is compared: by its word, or by its figure as the source writes it.
func (s *side) sign(sign network.Sign) fact {
	f := fact{key: key{
		kind: Limit, subject: sign.Subject, mode: sign.For, bound: sign.Bound, when: s.net.Text(sign.When),
	}}
	if f.value = say.Text(s.net.Text(sign.Text)); sign.Subject == network.Access {
		f.kind, f.value = Closure, say.That("change.word", "word", sign.Word)
	}
	f.text = f.value.String()
	return f
}

// sortedKeys are the keys of a map in order.
func sortedKeys[V any](m map[int64]V) []int64 { return slices.Sorted(maps.Keys(m)) }
