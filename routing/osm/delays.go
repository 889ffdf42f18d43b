package osm

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// figure is what something costs whoever comes by, in seconds.
type figure struct{ likely, slow float64 }

// What delays a rig. Control delays are those of the Highway Capacity Manual
// (Transportation Research Board, 2000 and 2010, the tables of level of service),
// averages over all who come, on green and red: at signals A up to 10 s, B 10 to
// 20, C 20 to 35, D 35 to 55; at stop signs A up to 10 s, B 10 to 15, C 15 to 25,
// D 25 to 35. A rig starts slower: 5 s at signals and 3 s at signs are added, our
// estimate; a car behind a truck took 9.5 s longer through signals (T. H.
// Yurysta, The Effect of Commercial Vehicles on Intersection Capacity and Delay,
// Purdue University, 1974).
var (
	signalsOnMajor = figure{15 + 5, 35 + 5} // middle of B; end of C
	signalsOnMinor = figure{27 + 5, 55 + 5} // middle of C; end of D
	atStop         = figure{12 + 3, 30 + 3} // B; middle of D
	atGiveWay      = figure{8 + 3, 20 + 3}  // A; middle of C
	atBorder       = figure{600, 1200}      // what the Canada Border Services Agency aims at (Service standards, 2023)
)

// Our own estimates, no source.
var (
	atCrossingSignals = figure{5, 15}
	atCrossing        = figure{1, 3}
	atLevelCrossing   = figure{5, 30}
	atTollBooth       = figure{20, 90}
	atHump            = figure{3, 5}
	pastOnArterial    = figure{0.5, 1} // a junction without control in a built-up area
	pastOnCollector   = figure{2, 5}
	pastOnLocal       = figure{4, 8}
)

// delay is what an arc was found to cost.
type delay struct {
	figure
	signals, stops int
}

func (d *delay) add(f figure) { d.likely, d.slow = d.likely+f.likely, d.slow+f.slow }

func (d *delay) stored() network.Delay {
	const most = 255
	out := network.Delay{Signals: uint8(min(d.signals, most)), Stops: uint8(min(d.stops, most))}
	out.Set(time.Duration(d.likely*float64(time.Second)), time.Duration(d.slow*float64(time.Second)))
	return out
}

// slow finds what delays traffic on every edge, and how fast streets are:
//
//  1. Count the arms of each node.
//  2. Tell built-up areas by their junctions.
//  3. Bring the controls to nodes and directions; join signals to crossings.
//  4. Add up what each arc meets.
func (b *build) slow() {
	c := newCrossings(b)
	c.place()
	for e := range network.EdgeID(b.graph.Edges()) {
		if b.graph.Class[e].Water() {
			continue
		}
		town := c.towns.builtUp(c.middle(e))
		along, against := c.arc(network.MakeArc(e, false), town), c.arc(network.MakeArc(e, true), town)
		b.builder.Slow(e, c.street(e, town), along.stored(), against.stored())
		if town {
			b.builder.Mark(e, network.BuiltUp)
		}
	}
	b.graph = b.builder.Graph()
}

// street is the assumed speed of an edge, lower in a built-up area: what is posted
// there is a limit, and not what a rig holds between junctions.
func (c *crossings) street(e network.EdgeID, town bool) measure.Speed {
	v, _ := c.graph.Speed(e)
	if in, ok := streetSpeed[c.graph.Class[e]]; ok && town {
		v = min(v, in)
	}
	return v
}

// arc adds up what an arc meets, in its order, its end included.
func (c *crossings) arc(a network.Arc, town bool) delay {
	var d delay
	in := c.inside(c.graph.Tail(a))
	sign := atRest
	for _, p := range c.along(a) {
		if !p.bound.Binds(a.Reverse()) {
			continue
		}
		switch p.kind {
		case signals, crossingSignals:
			in = c.signals(&d, a, p.cluster, in)
		case stopSign, giveWay:
			sign = p.kind
		default:
			d.add(passing(p.kind))
		}
	}
	head := c.graph.Head(a)
	if k, ok := c.cluster[head]; ok {
		if k != in {
			c.signals(&d, a, k, in)
		}
		return d
	}
	if at, ok := c.at[head]; ok {
		if at.kind != stopSign && at.kind != giveWay {
			d.add(passing(at.kind))
		} else if c.obeys(a, at) {
			sign = at.kind
		}
	}
	c.junction(&d, a, sign, town)
	return d
}

// signals adds the signals of a crossing that an arc comes to from elsewhere, and
// returns the crossing that it is in then.
func (c *crossings) signals(d *delay, a network.Arc, to, from int32) int32 {
	if to == from {
		return from
	}
	d.signals++
	switch group := c.groups[to]; {
	case !group.junction:
		d.add(atCrossingSignals)
	case c.rank(a.Edge()) <= group.best:
		d.add(signalsOnMajor)
	default:
		d.add(signalsOnMinor)
	}
	return to
}

// passing is what something costs that is neither a signal nor a sign.
func passing(k controlKind) figure {
	switch k {
	case crossing:
		return atCrossing
	case levelCrossing:
		return atLevelCrossing
	case tollBooth:
		return atTollBooth
	case borderControl:
		return atBorder
	case hump:
		return atHump
	default:
		return figure{}
	}
}

// junction adds what an arc's end costs where no signals stand: what its sign
// says, or way that is given to a road of a higher class, or a roundabout, or the
// traffic of a town.
func (c *crossings) junction(d *delay, a network.Arc, sign controlKind, town bool) {
	head := c.graph.Head(a)
	n := c.nodes[head]
	switch round := c.flags(a.Edge()).Has(network.Roundabout); {
	case sign == stopSign:
		d.stops++
		d.add(atStop)
	case sign == giveWay, n.roundabout && !round, !round && n.arms >= 3 && c.gives(a.Edge(), n):
		d.add(atGiveWay)
	case town && n.streets >= 3 && !round:
		d.add(past(c.graph.Class[a.Edge()]))
	}
}

// gives reports whether a road gives way at a node without a sign: to one of a
// higher class. Ramps merge into freeways.
func (c *crossings) gives(e network.EdgeID, n crossingNode) bool {
	if c.flags(e).Has(network.Link) {
		return n.best > network.Freeway && n.best < unranked
	}
	return c.rank(e) > n.best
}

func past(class network.Class) figure {
	switch {
	case class == network.Freeway:
		return figure{}
	case class <= network.Secondary:
		return pastOnArterial
	case class <= network.Local:
		return pastOnCollector
	default:
		return pastOnLocal
	}
}
