package graph

// How many nodes a probe looks at before a search, and what share of what the
// search has settled it may have looked at later.
const (
	firstProbe = 64
	probeShare = 8
)

// probe looks back from the goals over whatever is not closed for good. When it
// runs dry without having met a seed, no way leads to a goal, and a search need
// not exhaust the whole network to find that out.
type probe struct {
	seen  []uint32 // round in which a node was met
	round uint32
	queue []uint32
	next  int // of the queue
	idle  bool
}

func (p *probe) start(goals []Goal) {
	tick(&p.round, p.seen)
	p.queue, p.next, p.idle = p.queue[:0], 0, false
	for _, g := range goals {
		p.meet(g.Node)
	}
}

func (p *probe) meet(v uint32) {
	if p.seen[v] != p.round {
		p.seen[v] = p.round
		p.queue = append(p.queue, v)
	}
}

// walled looks on until it has looked at so many nodes; it reports whether the
// goals are walled off.
func (s *Search) walled(most int) bool {
	p := &s.probe
	for !p.idle && p.next < most {
		if p.next == len(p.queue) {
			return true
		}
		v := p.queue[p.next]
		p.next++
		for _, seed := range s.seeds {
			p.idle = p.idle || s.node(seed.State) == v
		}
		for _, a := range s.core.In[s.core.InFirst[v]:s.core.InFirst[v+1]] {
			if s.rules.Pay(0, a, 0) != Infinite {
				p.meet(s.core.Tail[a])
			}
		}
	}
	return false
}
