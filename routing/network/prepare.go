package network

import (
	"context"
	"math"
	"slices"

	"wayhouse/regs/measure"
	"wayhouse/routing/graph"
)

// Bucket is a set of searches that share one lower bound of what a way costs: no rig
// drives faster than Top (0: each road's own towing speed), none is lower than
// Floor, none goes by ferry where Ferries is false, and each pays Others or more for
// roads that are no truck roads.
type Bucket struct {
	Top     measure.Speed  `json:"top_m_s"`
	Floor   measure.Length `json:"floor_nm"`
	Ferries bool           `json:"ferries"`
	Others  Permille       `json:"others"`
}

// Buckets lists the buckets that a network is prepared for, the widest first.
// The first holds every search, the second every one without ferries. Tops and floors
// are this project's choice: trailer tires are often rated for 65 mph, and the heights
// lie about where rigs of this trade do (common practice, no source).
func Buckets() []Bucket {
	out := []Bucket{{Ferries: true, Others: Alike}, {Others: Alike}}
	for _, top := range []measure.Speed{0, 90 * measure.KilometrePerHour} {
		for _, floor := range []measure.Length{0, 3800 * measure.Millimetre, 4100 * measure.Millimetre,
			4300 * measure.Millimetre} {
			out = append(out, Bucket{Top: top, Floor: floor, Others: Preferred})
		}
	}
	return out
}

// Holds reports whether a search for a rig is of the bucket.
func (b Bucket) Holds(top measure.Speed, height measure.Length, ferries bool, others Permille) bool {
	fast := b.Top == 0 || top > 0 && top <= b.Top
	return fast && height >= b.Floor && (b.Ferries || !ferries) && others >= b.Others
}

// tariff is what makes two buckets weigh roads alike.
type tariff struct {
	top    measure.Speed
	others Permille
}

// tariffs lists those of the buckets, each once.
func tariffs() (out []tariff) {
	for _, b := range Buckets() {
		if t := (tariff{b.Top, b.Others}); !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// Prepared is what searches work on: the core of the network, and for every
// bucket a hierarchy. Its columns may be a mapped file.
type Prepared struct {
	Core        graph.Core
	Order       graph.Order
	Weight      [][]uint32 // ms that a core arc costs, by tariff
	Hierarchies []graph.Hierarchy
}

// WeightOf returns which of the weights are those of a bucket.
func WeightOf(b Bucket) int { return slices.Index(tariffs(), tariff{b.Top, b.Others}) }

// UnknownSpeed stands in where no speed is known, so that ways can be compared;
// the time of such a stretch is still answered as unknown.
const UnknownSpeed = 10 * measure.KilometrePerHour

// Millis returns the likely driving time of a piece in whole milliseconds,
// rounded down: at the assumed towing speed, never faster than top (0: no such
// limit), with what delays traffic there.
func (n *Network) Millis(p Piece, top measure.Speed) uint32 {
	v := n.speed[p.Arc.Edge()]
	if v <= 0 {
		v = UnknownSpeed
	}
	if top > 0 {
		v = min(v, top)
	}
	const tenthMs = 100
	ms := float64(p.Length())/float64(v)*1000 + n.share(p)*float64(n.delay[p.Arc].Likely)*tenthMs
	return uint32(min(ms, float64(graph.Infinite-1)))
}

// Prepared returns what searches work on, nil where the network was not
// prepared.
func (n *Network) Prepared() *Prepared {
	if n.prepared.Core.First == nil {
		return nil
	}
	return &n.prepared
}

// Prepare works out what searches work on: it compresses the network and builds
// the hierarchy of every bucket, all in the order of the first. progress hears
// which part is under way; nil hears nothing. The error is that of the context,
// or says that the network is too large.
func (n *Network) Prepare(ctx context.Context, progress func(done, total int64)) error {
	p := newPreparer(n)
	core, err := graph.Compress(p.edges())
	if err != nil {
		return err
	}
	out := Prepared{Core: *core}
	for _, t := range tariffs() {
		weight, err := core.Sum(func(road uint32) uint32 { return n.Price(n.Whole(Arc(road)), t.top, t.others) })
		if err != nil {
			return err
		}
		out.Weight = append(out.Weight, weight)
	}
	buckets := Buckets()
	for i, b := range buckets {
		if err := ctx.Err(); err != nil { // a small network is done before anything looks
			return err
		}
		hear := func(done, total int) {
			if progress != nil {
				progress(int64(i*total+done), int64(len(buckets)*total))
			}
		}
		weight := p.open(core, out.Weight[WeightOf(b)], b)
		if i == 0 {
			order, h, err := graph.Build(ctx, core, weight, hear)
			if err != nil {
				return err
			}
			out.Order, out.Hierarchies = *order, append(out.Hierarchies, *h)
			continue
		}
		h, err := graph.Rebuild(ctx, core, weight, &out.Order, hear)
		if err != nil {
			return err
		}
		out.Hierarchies = append(out.Hierarchies, *h)
	}
	n.prepared = out
	n.sealed.Store(false)
	return nil
}

// preparer knows what is closed to every rig.
type preparer struct {
	*Network
	records map[RoadID][2]bool // closed along the line and against it
}

func newPreparer(n *Network) *preparer {
	return &preparer{Network: n, records: map[RoadID][2]bool{}}
}

func (p *preparer) edges() *graph.Edges {
	e := &graph.Edges{Nodes: len(p.Node), From: asNumbers(p.From), To: asNumbers(p.To)}
	turning := p.turning()
	e.Open = func(arc uint32) bool { return !p.closedAll(Arc(arc)) }
	e.Part = func(edge uint32) bool { return !p.road(Arc(2*edge)) || !p.road(Arc(2*edge+1)) }
	e.Keep = func(node uint32) bool { return turning[node] }
	e.Joint = func(in, on uint32) bool { return p.joint(Arc(in), Arc(on)) }
	return e
}

// road reports whether the record of an arc closes it to every rig.
func (p *preparer) road(a Arc) bool {
	id := p.RoadID(a.Edge())
	closed, known := p.records[id]
	if !known {
		r := p.Record(id)
		closed = [2]bool{r.closed(false), r.closed(true)}
		p.records[id] = closed
	}
	return closed[a&1]
}

// closedAll reports whether no rig may drive all of an arc.
func (p *preparer) closedAll(a Arc) bool {
	if p.road(a) {
		return true
	}
	for _, s := range p.Spots(a.Edge()) {
		if s.Own == 0 {
			continue
		}
		otherwise := Allowed
		if s.Kind == Blocked {
			otherwise = Refused
		}
		if r := p.Record(s.Road); r.barred(a.Reverse(), otherwise) {
			return true
		}
	}
	return false
}

// turning returns the nodes inside sequences.
func (p *preparer) turning() []bool {
	out := make([]bool, len(p.Node))
	for i := range p.Sequences() {
		arcs := p.Sequence(i)
		for _, a := range arcs[:len(arcs)-1] {
			out[p.Head(a)] = true
		}
	}
	return out
}

// joint reports whether a node between two arcs must stay one: at a border, and
// where driving on counts as a turn.
func (p *preparer) joint(in, on Arc) bool {
	return p.set[in.Edge()] != p.set[on.Edge()] || math.Abs(p.Deflection(in, on)) > SharpTurn
}

// open returns the weights of a bucket: those of its tariff, with the arcs
// left out that none of its rigs may drive.
func (p *preparer) open(c *graph.Core, weight []uint32, b Bucket) []uint32 {
	out := make([]uint32, len(weight))
	for a := range out {
		out[a] = weight[a]
		c.Drive(uint32(a), func(road uint32) bool {
			if !b.Ferries && p.Class[road>>1].Water() || b.Floor > 0 && p.lowest(Arc(road)) < b.Floor {
				out[a] = graph.Infinite
			}
			return out[a] != graph.Infinite
		})
	}
	return out
}

// lowest returns the least clear height that the source states over an arc,
// the greatest length there is where it states none.
func (p *preparer) lowest(a Arc) measure.Length {
	least := measure.Length(math.MaxInt64)
	for _, s := range p.Spots(a.Edge()) {
		if !s.Kind.Overhead() {
			continue
		}
		for _, sign := range p.Record(s.Road).Signs {
			if sign.Subject.Height() && sign.State == Known && sign.Bound.Binds(a.Reverse()) {
				least = min(least, sign.Length())
			}
		}
	}
	return least
}
