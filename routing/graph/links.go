package graph

// link is an arc between nodes that are not contracted yet.
type link struct {
	node   uint32 // its other end
	weight uint32
	via    uint32 // see Hierarchy; a node instead of a rank while contracting
	roads  uint32 // core arcs that it stands for
}

// shortcut is an arc to add: out of node from, link to.
type shortcut struct {
	from uint32
	link
}

// lay makes a link of every arc but loops, of parallel ones the cheapest. All
// lists start in two arrays and move out of them only when they grow.
func (b *contractor) lay(c *Core, weight []uint32) {
	outs, ins := make([]link, c.Arcs()), make([]link, c.Arcs())
	for v := range b.out {
		from, until := c.First[v], c.First[v+1]
		b.out[v] = outs[from:from:until]
		from, until = c.InFirst[v], c.InFirst[v+1]
		b.in[v] = ins[from:from:until]
	}
	for v := range b.out {
		for a := c.First[v]; a < c.First[v+1]; a++ {
			if weight[a] != Infinite && c.Head[a] != uint32(v) {
				b.join(uint32(v), link{node: c.Head[a], weight: weight[a], via: viaArc | a, roads: 1})
			}
		}
	}
}

// join adds an arc, or makes the one that is there cheaper.
func (b *contractor) join(from uint32, l link) {
	put := func(list []link, l link) []link {
		for i := range list {
			if list[i].node == l.node {
				if l.weight < list[i].weight {
					list[i] = l
				}
				return list
			}
		}
		return append(list, l)
	}
	b.out[from] = put(b.out[from], l)
	to := l.node
	l.node = from
	b.in[to] = put(b.in[to], l)
}

// without removes the link to a node.
func without(list []link, node uint32) []link {
	for i := range list {
		if list[i].node == node {
			list[i] = list[len(list)-1]
			return list[:len(list)-1]
		}
	}
	return list
}
