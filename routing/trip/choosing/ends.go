package choosing

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// besideEnd is how near to a stop an end of the data is named: the way may lead out of it
// there, over roads that were not looked at.
const besideEnd measure.Distance = 1000

// atEnd says that the data ends beside a stop; nothing where it does not.
func (c *Chooser) atEnd(s Stop, at network.Snapped) []say.Remark {
	for _, id := range c.Network.EndsNear(at.At, besideEnd) {
		return []say.Remark{say.That("off.data_ends", "stop", s.Label, "end", c.end(id))}
	}
	return nil
}

// end names an end of the data.
func (c *Chooser) end(id network.NodeID) say.Remark {
	n, p := c.Network, c.Network.Node[id]
	return say.That("off.end", "road", n.RoadName(n.Out(id)[0].Edge()), "lat", p.Lat(), "lon", p.Lon())
}

// mostEnds is how many ends of the data are named where no way is found, and mostNodes how
// many nodes are looked at for them.
const (
	mostEnds  = 3
	mostNodes = 1_000_000
)

// ends names where the data ends on the roads that are joined to two places which no road
// joins to each other: the way may lead out there and in again. None where roads join them.
func (c *Chooser) ends(from, to network.Position) []say.Remark {
	joined, whole := c.joined(from.Edge)
	if !whole || joined[c.Network.From[to.Edge]] {
		return nil
	}
	others, whole := c.joined(to.Edge)
	if !whole || c.countEnds(others, 1) == nil {
		return nil
	}
	return c.countEnds(joined, mostEnds)
}

// countEnds names the first ends among nodes.
func (c *Chooser) countEnds(among map[network.NodeID]bool, most int) (out []say.Remark) {
	for _, id := range c.Network.DataEnds() {
		if among[id] && len(out) < most {
			out = append(out, c.end(id))
		}
	}
	return out
}

// joined is the nodes that roads join to an edge, whatever is open; whole is false where
// there are too many to look at.
func (c *Chooser) joined(e network.EdgeID) (out map[network.NodeID]bool, whole bool) {
	n := c.Network
	out = map[network.NodeID]bool{n.From[e]: true, n.To[e]: true}
	for open := []network.NodeID{n.From[e], n.To[e]}; len(open) > 0; {
		id := open[len(open)-1]
		open = open[:len(open)-1]
		if len(out) > mostNodes {
			return out, false
		}
		for _, a := range n.Out(id) {
			if to := n.Head(a); !out[to] {
				out[to] = true
				open = append(open, to)
			}
		}
	}
	return out, true
}
