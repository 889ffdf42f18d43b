package network

import (
	"cmp"
	"iter"
	"slices"
	"sort"
	"strings"

	"wayhouse/regs/roads"
	"wayhouse/regs/word"
)

// Street is a road of one name or number in one municipality, with the addresses on it.
type Street struct {
	Name          string // as the source first writes it; a road number where it has no name
	Town          string // municipality; several near a border, ";" between them
	Near          bool   // Town is not its municipality but the nearest settlement
	Jurisdictions []string
	Edges         []EdgeID // none: only addresses name it
	addresses     [][]addressRow
	net           *Network
}

// streetRow is a street as a column holds it, in the order of Key. Its edges and addresses
// begin where those of the row before end.
type streetRow struct {
	Key, Name, Town  StringID
	Set              setID
	Edges, Addresses uint32 // ends
	Near             uint32 // 1: Town is the nearest settlement
}

// numberMark begins the keys of road numbers, apart from names.
const numberMark = "#"

// streetKeys are the keys that a text may have.
func streetKeys(text string) []string {
	return []string{word.Street(text), numberMark + roads.Number(text)}
}

// Streets lists the streets that a text calls by name or number, those that are one street
// across the pieces of a border as one, in the order of towns.
func (n *Network) Streets(text string) []Street {
	var out []Street
	for _, key := range streetKeys(text) {
		for i := n.firstStreet(key); i < len(n.streets) && n.streetKey(i) == key; i++ {
			s := n.street(i)
			if !strings.HasPrefix(key, numberMark) || roads.Same(s.Name, text) == roads.Yes {
				out = joinStreet(out, s)
			}
		}
	}
	return out
}

// joinStreet adds a street to a list, to the one of the same town where there is one.
func joinStreet(list []Street, s Street) []Street {
	for i, known := range list {
		if known.Name == s.Name && word.Town(known.Town) == word.Town(s.Town) && meet(known.Jurisdictions, s.Jurisdictions) {
			list[i].Edges = slices.Concat(known.Edges, s.Edges)
			list[i].addresses = slices.Concat(known.addresses, s.addresses)
			if len(s.Jurisdictions) < len(known.Jurisdictions) {
				list[i].Jurisdictions = s.Jurisdictions
			}
			return list
		}
	}
	return append(list, s)
}

// meet reports whether two lists share a word; two empty ones do.
func meet(a, b []string) bool {
	return len(a)+len(b) == 0 || slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// StreetNames lists the folded names of streets from the first that does not sort before
// a text, each once, in order; numbers of roads come before all names.
func (n *Network) StreetNames(from string) iter.Seq[string] {
	return func(yield func(string) bool) {
		last := ""
		for i := n.firstStreet(from); i < len(n.streets); i++ {
			if key := n.streetKey(i); key != last {
				if last = key; !yield(key) {
					return
				}
			}
		}
	}
}

func (n *Network) streetKey(i int) string { return n.Text(n.streets[i].Key) }

// firstStreet returns the number of the first street whose key is not before a text.
func (n *Network) firstStreet(key string) int {
	return sort.Search(len(n.streets), func(i int) bool { return n.streetKey(i) >= key })
}

func (n *Network) street(i int) Street {
	row, before := n.streets[i], streetRow{}
	if i > 0 {
		before = n.streets[i-1]
	}
	codes, _, _ := strings.Cut(n.sets.text(uint32(row.Set)), "|")
	return Street{
		Name: n.Text(row.Name), Town: n.Text(row.Town), Near: row.Near == 1, Jurisdictions: strings.Fields(codes),
		Edges: n.streetEdges[before.Edges:row.Edges], net: n,
		addresses: [][]addressRow{n.addresses[before.Addresses:row.Addresses]},
	}
}

// checkStreets wants streets in order, and every number in them to point to something.
func (n *Network) checkStreets() error {
	before := streetRow{}
	for i, r := range n.streets {
		text := func(id StringID) bool { return int(id) < n.strings.len() }
		switch {
		case !text(r.Key) || !text(r.Name) || !text(r.Town) || int(r.Set) >= n.sets.len() || r.Near > 1:
			return damaged("street %d is out of range", i)
		case r.Edges < before.Edges || r.Addresses < before.Addresses || i > 0 && n.streetKey(i-1) > n.streetKey(i):
			return damaged("street %d is out of order", i)
		}
		before = r
	}
	for _, e := range n.streetEdges {
		if e < 0 || int(e) >= n.Edges() {
			return damaged("a street has edge %d of %d", e, n.Edges())
		}
	}
	return n.checkAddresses()
}

// streetEnds wants the last street to end where the columns do.
func (n *Network) streetEnds() error {
	last := streetRow{}
	if len(n.streets) > 0 {
		last = n.streets[len(n.streets)-1]
	}
	if int(last.Edges) != len(n.streetEdges) || int(last.Addresses) != len(n.addresses) {
		return damaged("streets have %d edges and %d addresses, not %d and %d", last.Edges, last.Addresses,
			len(n.streetEdges), len(n.addresses))
	}
	return nil
}

// onStreet is an edge or an address on a street, while a network is built.
type onStreet struct {
	key, town StringID // town folded
	set       setID
	edge      EdgeID // -1: an address
	address   addressRow
	name      StringID
	written   StringID // the town as it is written
	near      uint32
}

// nameStreets makes the columns of streets and addresses.
func (b *Builder) nameStreets() {
	keys := map[[2]StringID][]onStreet{} // of edges of one number and name
	towns := newNearest(b)
	var all []onStreet
	for e := range EdgeID(len(b.net.From)) {
		called := [2]StringID{b.net.ref[e], b.net.name[e]}
		found, ok := keys[called]
		if !ok {
			found = b.called(called)
			keys[called] = found
		}
		if len(found) == 0 {
			continue
		}
		town, near := towns.of(b.local[e], middle(b.net.Shape(e)))
		for _, s := range found {
			s.edge, s.set, s.written, s.near = e, b.codes(b.net.set[e]), town, near
			all = append(all, s)
		}
	}
	for _, a := range b.addresses {
		town, near := towns.of(a.town, a.row.point())
		all = append(all, onStreet{
			key: b.Text(word.Street(b.text(a.street))), set: b.codes(a.set), edge: -1, address: a.row, name: a.street,
			written: town, near: near,
		})
	}
	folded := map[StringID]StringID{}
	for i, s := range all {
		if _, ok := folded[s.written]; !ok {
			folded[s.written] = b.Text(word.Town(b.text(s.written)))
		}
		all[i].town = folded[s.written]
	}
	b.sortStreets(all)
}

// called lists what edges of a number and a name are called.
func (b *Builder) called(of [2]StringID) (out []onStreet) {
	for _, ref := range apart(b.text(of[0])) {
		out = append(out, onStreet{key: b.Text(numberMark + roads.Number(ref)), name: b.Text(ref)})
	}
	if key := word.Street(b.text(of[1])); key != "" {
		out = append(out, onStreet{key: b.Text(key), name: of[1]})
	}
	return out
}

// sortStreets sorts what lies on streets and writes the columns.
func (b *Builder) sortStreets(all []onStreet) {
	texts := b.ranks(all)
	slices.SortFunc(all, func(a, c onStreet) int {
		return cmp.Or(
			cmp.Compare(texts[a.key], texts[c.key]),
			cmp.Compare(texts[a.town], texts[c.town]),
			cmp.Compare(
				a.near,
				c.near,
			),
			cmp.Compare(a.set, c.set),
			b.sameNumber(a, c),
			cmp.Compare(uint32(a.edge), uint32(c.edge)), // addresses last
			b.compareNumbers(a.address, c.address),
		)
	})
	n := b.net
	for i, s := range all {
		if i == 0 || s.key != all[i-1].key || s.town != all[i-1].town || s.near != all[i-1].near || s.set != all[i-1].set ||
			b.sameNumber(s, all[i-1]) != 0 {
			n.streets = append(n.streets, streetRow{
				Key: s.key, Name: s.name, Town: s.written, Set: s.set, Near: s.near,
			})
		}
		row := &n.streets[len(n.streets)-1]
		if s.edge >= 0 {
			n.streetEdges = append(n.streetEdges, s.edge)
		} else {
			n.addresses = append(n.addresses, s.address)
		}
		row.Edges, row.Addresses = uint32(len(n.streetEdges)), uint32(len(n.addresses))
	}
}

// sameNumber orders roads of one number by how it is written: US 13 is not DE 13.
func (b *Builder) sameNumber(a, c onStreet) int {
	if !strings.HasPrefix(b.text(a.key), numberMark) {
		return 0
	}
	return cmp.Compare(a.name, c.name)
}

// ranks numbers the keys and towns by their text, so that they sort fast.
func (b *Builder) ranks(all []onStreet) map[StringID]int {
	seen := map[StringID]int{}
	for _, s := range all {
		seen[s.key], seen[s.town] = 0, 0
	}
	ids := make([]StringID, 0, len(seen))
	for id := range seen {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(a, c StringID) int { return strings.Compare(b.text(a), b.text(c)) })
	for i, id := range ids {
		seen[id] = i
	}
	return seen
}

func (b *Builder) text(id StringID) string { return b.strings.text(uint32(id)) }

// codes is the set of the same jurisdictions without a time zone.
func (b *Builder) codes(s setID) setID {
	codes, _, _ := strings.Cut(b.sets.text(uint32(s)), "|")
	return setID(b.sets.id(codes + "|"))
}
