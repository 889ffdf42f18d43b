package graph

// finish makes the hierarchy of what nodes led to when they were contracted, numbers of
// nodes turned into ranks.
func (b *contractor) finish(order *Order) *Hierarchy {
	h := &Hierarchy{}
	h.UpFirst, h.Up, h.UpVia = ranked(b.out, order)
	b.out = nil // what follows takes its room
	h.DownFirst, h.Down, h.DownVia = ranked(b.in, order)
	h.sort()
	return h
}

// ranked lays the links of nodes in the order of their ranks.
func ranked(links [][]link, order *Order) (first []uint32, hops []Hop, via []uint32) {
	sum := 0
	for _, list := range links {
		sum += len(list)
	}
	first, hops, via = make([]uint32, 1, len(links)+1), make([]Hop, 0, sum), make([]uint32, 0, sum)
	for _, v := range order.Node {
		for _, l := range links[v] {
			if l.via&viaArc == 0 {
				l.via = order.Rank[l.via]
			}
			hops, via = append(hops, Hop{order.Rank[l.node], l.weight}), append(via, l.via)
		}
		first = append(first, uint32(len(hops)))
	}
	return first, hops, via
}
