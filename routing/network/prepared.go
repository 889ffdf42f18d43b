package network

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"wayhouse/routing/graph"
)

// sections lists the sections of what searches work on: the buckets, so that a
// file of another family is told apart, then the core, then a weight for every
// tariff and six columns for every hierarchy.
func (p *Prepared) sections() []section {
	weight, hierarchies := p.Weight, p.Hierarchies
	if len(weight) == 0 { // to be filled by who reads; who writes changes nothing
		weight, hierarchies = make([][]uint32, len(tariffs())), make([]graph.Hierarchy, len(Buckets()))
	}
	c, o := &p.Core, &p.Order
	out := []section{
		{"buckets", 1, bucketsJSON(), func(raw []byte) error {
			p.Weight, p.Hierarchies = weight, hierarchies
			return sameBuckets(raw)
		}},
		of("core starts", &c.First), of("core heads", &c.Head), of("core tails", &c.Tail), of("core chains", &c.Chain),
		of("core in starts", &c.InFirst), of("core in", &c.In), of("chain starts", &c.ChainFirst), of("chain arcs", &c.Links),
		of("node in core", &c.At), of("edge in core", &c.Place), of("ranks", &o.Rank), of("ranked", &o.Node),
	}
	for i := range weight {
		out = append(out, of(fmt.Sprint("weight ", i), &weight[i]))
	}
	for i := range hierarchies {
		h := &hierarchies[i]
		out = append(out, of(fmt.Sprint("up starts ", i), &h.UpFirst), of(fmt.Sprint("up ", i), &h.Up),
			of(fmt.Sprint("up via ", i), &h.UpVia),
			of(fmt.Sprint("down starts ", i), &h.DownFirst), of(fmt.Sprint("down ", i), &h.Down),
			of(fmt.Sprint("down via ", i), &h.DownVia))
	}
	return out
}

// bucketsJSON describes the buckets; they are numbers, so that it cannot fail.
func bucketsJSON() []byte {
	raw, _ := json.Marshal(Buckets())
	return raw
}

func sameBuckets(raw []byte) error {
	if !bytes.Equal(raw, bucketsJSON()) {
		return errors.New("it was prepared for other rigs")
	}
	return nil
}

// checkPrepared wants what searches work on to fit to the network: every number
// points to something that is there, every arc drives a chain of the network,
// every hierarchy only climbs, and what it says of an arc is what the arc weighs.
func (n *Network) checkPrepared() error {
	p := n.Prepared()
	if p == nil {
		return n.checkUnprepared()
	}
	e := &graph.Edges{Nodes: len(n.Node), From: asNumbers(n.From), To: asNumbers(n.To)}
	if err := p.Core.Check(e); err != nil {
		return damaged("%v", err)
	}
	if err := p.Order.Check(p.Core.Nodes()); err != nil {
		return damaged("%v", err)
	}
	again := newPreparer(n)
	if core, err := graph.Compress(again.edges()); err != nil || !core.Same(&p.Core) {
		return damaged("its core is not that of its roads, or of another version of this program")
	}
	for i, t := range tariffs() {
		weight, err := p.Core.Sum(func(road uint32) uint32 { return n.Price(n.Whole(Arc(road)), t.top, t.others) })
		if err != nil {
			return damaged("%v", err)
		}
		if len(weight) != len(p.Weight[i]) {
			return damaged("%d weights of %d core arcs", len(p.Weight[i]), len(weight))
		}
		for a := range weight {
			if weight[a] != p.Weight[i][a] {
				return damaged("core arc %d does not weigh what its roads do", a)
			}
		}
	}
	for i, b := range Buckets() {
		weight := again.open(&p.Core, p.Weight[WeightOf(b)], b)
		if err := p.Hierarchies[i].Check(&p.Core, &p.Order, weight); err != nil {
			return damaged("hierarchy %d: %v", i, err)
		}
	}
	return nil
}

// checkUnprepared wants nothing to be left of what searches work on where the
// core is missing.
func (n *Network) checkUnprepared() error {
	for _, s := range n.prepared.sections()[1:] { // all but the buckets
		if len(s.bytes) > 0 {
			return damaged("section %q is there without a core", s.name)
		}
	}
	return nil
}

// asNumbers copies node numbers.
func asNumbers(ids []NodeID) []uint32 {
	out := make([]uint32, len(ids))
	for i, id := range ids {
		out[i] = uint32(id)
	}
	return out
}
