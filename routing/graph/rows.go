package graph

// rows are the hops of nodes in the order of their contraction.
type rows struct {
	first []uint32
	hops  []Hop
	via   []uint32
}

// keep appends links, nodes still by number.
func (r *rows) keep(links []link) {
	for _, l := range links {
		r.hops, r.via = append(r.hops, Hop{l.node, l.weight}), append(r.via, l.via)
	}
	r.first = append(r.first, uint32(len(r.hops)))
}

// finish turns numbers of nodes into ranks, and puts the rows in their order where they
// do not stand in it.
func (b *contractor) finish(order *Order, ordered bool) *Hierarchy {
	b.out, b.in = nil, nil // what follows takes their room
	for _, r := range [2]*rows{&b.up, &b.down} {
		r.rank(order)
		if !ordered {
			*r = r.sorted(b.order, order)
		}
	}
	h := &Hierarchy{
		UpFirst: b.up.first, Up: b.up.hops, UpVia: b.up.via,
		DownFirst: b.down.first, Down: b.down.hops, DownVia: b.down.via,
	}
	h.sort()
	return h
}

func (r *rows) rank(order *Order) {
	for i := range r.hops {
		r.hops[i].To = order.Rank[r.hops[i].To]
	}
	for i, v := range r.via {
		if v&viaArc == 0 {
			r.via[i] = order.Rank[v]
		}
	}
}

// sorted puts the rows of nodes in the order of ranks.
func (r *rows) sorted(nodes []uint32, order *Order) rows {
	row := make([]uint32, len(nodes)) // of a node
	for i, v := range nodes {
		row[v] = uint32(i)
	}
	out := rows{make([]uint32, 1, len(r.first)), make([]Hop, 0, len(r.hops)), make([]uint32, 0, len(r.via))}
	for _, v := range order.Node {
		from, until := r.first[row[v]], r.first[row[v]+1]
		out.hops, out.via = append(out.hops, r.hops[from:until]...), append(out.via, r.via[from:until]...)
		out.first = append(out.first, uint32(len(out.hops)))
	}
	return out
}
