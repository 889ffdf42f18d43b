package graph

// Hop is an arc of a hierarchy: to or from a node of higher rank.
type Hop struct {
	To     uint32 // a rank
	Weight uint32
}

// Order is the order in which the nodes of a core are contracted, from streets
// that nobody needs to pass to the motorways that everybody uses.
type Order struct {
	Rank []uint32 // of a core node
	Node []uint32 // of a rank
}

// Hierarchy is a contraction hierarchy: R. Geisberger, P. Sanders, D. Schultes,
// D. Delling, "Contraction Hierarchies: Faster and Simpler Hierarchical Routing
// in Road Networks", WEA 2008, LNCS 5038. A shortest way is one that climbs in
// rank and then descends. Its columns may be a mapped file and are read-only.
//
// Via tells what a hop stands for: the rank of the node that it was made at
// when that one was contracted, or, with the top bit set, a core arc.
type Hierarchy struct {
	UpFirst   []uint32 // rank r climbs by Up[UpFirst[r]:UpFirst[r+1]]
	Up        []Hop
	UpVia     []uint32
	DownFirst []uint32 // rank r is descended to by Down[DownFirst[r]:DownFirst[r+1]]
	Down      []Hop
	DownVia   []uint32
}

const viaArc = uint32(1) << 31

// hop returns what the hop between two ranks stands for.
func (h *Hierarchy) hop(from, to uint32) uint32 {
	if from < to {
		return find(h.Up, h.UpVia, h.UpFirst[from], h.UpFirst[from+1], to)
	}
	return find(h.Down, h.DownVia, h.DownFirst[to], h.DownFirst[to+1], from)
}

func find(hops []Hop, via []uint32, from, until, to uint32) uint32 {
	for i := from; i < until; i++ {
		if hops[i].To == to {
			return via[i]
		}
	}
	return None
}

// unpack appends the core arcs that the hop between two ranks stands for.
func (h *Hierarchy) unpack(from, to uint32, arcs []uint32) []uint32 {
	via := h.hop(from, to)
	if via&viaArc != 0 {
		return append(arcs, via&^viaArc)
	}
	return h.unpack(via, to, h.unpack(from, via, arcs))
}

// sort puts the hops of every rank in the order of what they lead to, so that
// the same core gives the same bytes however its lists grew.
func (h *Hierarchy) sort() {
	sortHops(h.UpFirst, h.Up, h.UpVia)
	sortHops(h.DownFirst, h.Down, h.DownVia)
}

// sortHops sorts by insertion: the lists are short.
func sortHops(first []uint32, hops []Hop, via []uint32) {
	for r := range len(first) - 1 {
		for i := first[r] + 1; i < first[r+1]; i++ {
			for k := i; k > first[r] && hops[k].To < hops[k-1].To; k-- {
				hops[k], hops[k-1] = hops[k-1], hops[k]
				via[k], via[k-1] = via[k-1], via[k]
			}
		}
	}
}
