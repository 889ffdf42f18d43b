package trip

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/golang/geo/s2"
	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Barrier is one thing that shuts the rig out of a road: a structure, a sign, or
// a wish of the user. One authority, or the user, could lift it.
type Barrier struct {
	What      string    // in words, with the place
	Kind      string    // structure, sign or wish
	Point     orb.Point // where it was met first
	Structure *Passing  // nil where it is none
	Invented  bool
	When      string // the hours at which it holds; "" always
	met       bool   // they surely fall into the hours of a trip that goes well

	id int // in the order met
	window.Condition
	zone *time.Location
}

// isOfRoad tells whether a barrier is there whatever the user wishes.
func isOfRoad(b *Barrier) bool { return b.Kind != byWish }

// The kinds of barriers.
const (
	byStructure = "structure"
	bySign      = "sign"
	byWish      = "wish"
)

// terms are what a search is asked under.
type terms struct {
	ferries bool
	// lifted tells which barriers do not count; nil: all count.
	lifted func(*Barrier) bool
	// dearer adds to what a piece costs; nil: nothing.
	dearer func(p network.Piece, cost search.Millis) search.Millis
	// above closes what leaves no more than this of a quantity; nil: nothing.
	above *floor
	// share divides what going round something unmeasured is worth; 0: whole.
	share search.Millis
	// unpermitted closes the jurisdictions in which the rig needs a permit.
	unpermitted bool
}

// barriers knows what shuts the rig out of each road.
type barriers struct {
	b      *builder
	known  map[string]*Barrier
	whole  map[network.Arc][]*Barrier
	areas  []*s2.Loop
	named  map[string]map[network.EdgeID]bool
	asking map[string]bool // whether a permit is asked for, by kind of road
	rooms  map[network.Arc]room
}

func newBarriers(b *builder) *barriers {
	out := &barriers{
		b: b, known: map[string]*Barrier{}, whole: map[network.Arc][]*Barrier{}, named: map[string]map[network.EdgeID]bool{},
		asking: map[string]bool{}, rooms: map[network.Arc]room{},
	}
	for _, polygon := range b.request.Wishes.NotThrough {
		out.areas = append(out.areas, loopOf(polygon))
	}
	return out
}

// check refuses wishes about roads that the network does not have.
func (bs *barriers) check() error {
	n := bs.b.Network
	for field, names := range map[string][]string{"wishes.by": bs.b.request.Wishes.By, "wishes.not_by": bs.b.request.Wishes.NotBy} {
		for i, name := range names {
			if !n.HasRoad(name) {
				return fail(fmt.Sprintf("%s[%d]", field, i), name, "is no road of this network", "check its number or its name")
			}
		}
	}
	return nil
}

// on lists what shuts the rig out of a piece, wishes included.
func (bs *barriers) on(p network.Piece) []*Barrier {
	whole := p == bs.b.Network.Whole(p.Arc)
	if out, ok := bs.whole[p.Arc]; ok && whole {
		return out
	}
	out := bs.wishes(p, bs.signs(p, bs.structures(p)))
	if whole {
		bs.whole[p.Arc] = out
	}
	return out
}

func (bs *barriers) structures(p network.Piece) (out []*Barrier) {
	b := bs.b
	if !b.structures.shut(p) {
		return nil
	}
	for _, s := range b.structures.on(p) {
		if s.passage.Outcome != finding.Forbidden {
			continue
		}
		key := strings.Join([]string{"structure", s.key(), b.Network.RoadName(p.Arc.Edge()), s.passage.Sum()}, "\x00")
		out = append(out, bs.barrier(key, func() Barrier { // one bridge may be over several roads, at other heights
			passing := b.passing(s, 0, strings.Join(b.Network.Jurisdictions(p.Arc.Edge()), "/"))
			figure, name := passing.Structure.Figure()
			return Barrier{What: passing.Name + ": " + passing.said(figure, name), Kind: byStructure, Point: b.Network.Point(s.at), Structure: &passing, Invented: passing.Invented()}
		}))
	}
	return out
}

func (bs *barriers) signs(p network.Piece, out []*Barrier) []*Barrier {
	b := bs.b
	b.judge(p, func(j *judgement) {
		if !j.shut && !j.hours {
			return
		}
		for _, n := range j.notes {
			if n.shuts || n.when != "" {
				what := b.Network.RoadName(p.Arc.Edge()) + ": " + n.words()
				zone := b.Network.Zone(p.Arc.Edge())
				key := strings.Join([]string{"sign", zone, what}, "\x00")
				if b.Network.Ref(p.Arc.Edge()) == "" && b.Network.Name(p.Arc.Edge()) == "" { // others are called so too
					key += fmt.Sprint("\x00", b.Network.Origin(p.Arc.Edge()))
				}
				out = append(out, bs.barrier(key, func() Barrier {
					return Barrier{
						What: what, Kind: bySign, Point: b.Network.Line(p)[0], When: n.when, met: n.shuts,
						Condition: window.ParseCondition(n.when), zone: b.traveller.clock(zone),
					}
				}))
			}
		}
	})
	return out
}

// wishes adds the wishes that a piece would break.
func (bs *barriers) wishes(p network.Piece, out []*Barrier) []*Barrier {
	b, w, e := bs.b, &bs.b.request.Wishes, p.Arc.Edge()
	breaks := func(broken bool, what string) {
		if broken {
			out = append(out, bs.barrier("wish "+what, func() Barrier { return Barrier{What: "your wish: " + what, Kind: byWish, Point: b.Network.Line(p)[0]} }))
		}
	}
	if w.NoTolls || w.NoUnpaved {
		r := b.Network.Record(b.Network.RoadID(e))
		breaks(w.NoTolls && r.Flags.Has(network.Toll), "no toll roads")
		breaks(w.NoUnpaved && r.Paved == network.Unpaved, "no unpaved roads")
	}
	breaks(w.NoUnmeasured && len(b.unmeasured(p, Height)) > 0, "nothing unmeasured overhead")
	for _, code := range w.NotIn {
		breaks(slices.Contains(b.Network.Jurisdictions(e), code), "not in "+code)
	}
	for _, road := range w.NotBy {
		breaks(bs.bears(e, road), "not by "+road)
	}
	breaks(bs.drawn(p), "not through the drawn areas")
	return out
}

// barrier returns the barrier of a key, made when it is first met.
func (bs *barriers) barrier(key string, make func() Barrier) *Barrier {
	if known, ok := bs.known[key]; ok {
		return known
	}
	out := make()
	out.id = len(bs.known)
	bs.known[key] = &out
	return &out
}

// bears tells whether an edge is called so, and remembers it.
func (bs *barriers) bears(e network.EdgeID, road string) bool {
	known := bs.named[road]
	if known == nil {
		known = map[network.EdgeID]bool{}
		bs.named[road] = known
	}
	yes, ok := known[e]
	if !ok {
		yes = bs.b.Network.Bears(e, road)
		known[e] = yes
	}
	return yes
}

// loopOf is the ring of a polygon on the sphere.
func loopOf(polygon orb.Polygon) *s2.Loop {
	var points []s2.Point
	for i, p := range polygon[0][:len(polygon[0])-1] { // the last is the first
		points = append(points, cut(p, polygon[0][i+1])...)
	}
	loop := s2.LoopFromPoints(points)
	loop.Normalize() // whichever way round it was drawn
	return loop
}

// cut returns the start of a side and points along it, near enough to each other
// for the side to be straight in degrees (RFC 7946), which it is not on the sphere.
func cut(from, to orb.Point) (out []s2.Point) {
	const step = 0.05 // degrees
	n := int(max(1, math.Ceil(max(math.Abs(to[0]-from[0]), math.Abs(to[1]-from[1]))/step)))
	for i := range n {
		r := float64(i) / float64(n)
		out = append(out, onSphere(orb.Point{from[0] + r*(to[0]-from[0]), from[1] + r*(to[1]-from[1])}))
	}
	return out
}

func onSphere(p orb.Point) s2.Point {
	return s2.PointFromLatLng(s2.LatLngFromDegrees(p.Lat(), p.Lon()))
}

// drawn tells whether a piece touches a drawn area.
func (bs *barriers) drawn(p network.Piece) bool {
	if len(bs.areas) == 0 {
		return false
	}
	var line s2.Polyline
	for _, at := range bs.b.Network.Line(p) {
		line = append(line, onSphere(at))
	}
	return slices.ContainsFunc(bs.areas, func(area *s2.Loop) bool { return touches(area, line) })
}

func touches(area *s2.Loop, line s2.Polyline) bool {
	if !area.RectBound().Intersects(line.RectBound()) {
		return false
	}
	for i := range line {
		if area.ContainsPoint(line[i]) {
			return true
		}
		for k := range area.NumEdges() {
			edge := area.Edge(k)
			if i > 0 && s2.CrossingSign(line[i-1], line[i], edge.V0, edge.V1) != s2.DoNotCross {
				return true
			}
		}
	}
	return false
}

// unwished is the error of a way that the roads have and the wishes leave none of:
// it names wishes that together leave none beside the barriers to keep. Where no wish
// is to blame it is [search.ErrNoRoute].
func (b *builder) unwished(ctx context.Context, from, to string, start, end network.Position, keep func(*Barrier) bool) error {
	var known []*Barrier
	for {
		path, err := b.first(ctx, start, end, terms{lifted: func(o *Barrier) bool { return !keep(o) && !slices.Contains(known, o) }})
		if errors.Is(err, search.ErrNoRoute) && len(known) == 0 {
			return b.unwishedRoads(ctx, from, to, start, end)
		}
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return err
		}
		met := len(known)
		for _, p := range path.Pieces {
			for _, barrier := range b.barriers.on(p) {
				if !isOfRoad(barrier) && !slices.Contains(known, barrier) {
					known = append(known, barrier)
				}
			}
		}
		if met == len(known) {
			return search.ErrNoRoute // cannot be: this way breaks no wish
		}
	}
	var names []string
	for _, barrier := range known {
		names = append(names, strings.TrimPrefix(barrier.What, "your wish: "))
	}
	return fail("wishes", strings.Join(names, "; "), "leave no way from "+from+" to "+to, "wish for less")
}

// unwishedRoads is the same for wishes that lift no barrier: which roads to use,
// and no ferry.
func (b *builder) unwishedRoads(ctx context.Context, from, to string, start, end network.Position) error {
	everything := terms{lifted: func(*Barrier) bool { return true }}
	for _, try := range []struct {
		field, value string
		wishes       Wishes
	}{
		{"wishes.no_ferries", "true", without(b.request.Wishes, func(w *Wishes) { w.NoFerries = false })},
		{"wishes.by", strings.Join(b.request.Wishes.By, ", "), without(b.request.Wishes, func(w *Wishes) { w.By = nil })},
	} {
		kept := b.request.Wishes
		if try.wishes.NoFerries == kept.NoFerries && len(try.wishes.By) == len(kept.By) {
			continue // it was not wished
		}
		b.request.Wishes = try.wishes
		everything.ferries = !try.wishes.NoFerries
		_, err := b.route(ctx, start, end, everything)
		b.request.Wishes = kept
		if !errors.Is(err, search.ErrNoRoute) {
			return cmp.Or(err, fail(try.field, try.value, "leaves no way from "+from+" to "+to, "wish for less"))
		}
	}
	return search.ErrNoRoute
}

// without returns wishes after a change.
func without(w Wishes, change func(*Wishes)) Wishes {
	change(&w)
	return w
}

// rules are what a search keeps to under terms. Past what is closed to everyone
// of its kind, the wrong way through a one-way road or by a forbidden turn it
// never goes, whatever is lifted.
func (b *builder) rules(t terms) search.Rules {
	w := &b.request.Wishes
	r := search.Rules{Cost: b.cost(t), Timed: b.barriers.timed, EndsOnly: b.endsOnly, Ferries: t.ferries, Top: w.Top, Turn: b.turn, Budget: budget}
	if b.Network.Bans() > 0 {
		r.Turns, r.Banned = b.Network.Turns(), b.traveller.banned
	}
	for _, road := range w.By {
		r.Uses = append(r.Uses, func(e network.EdgeID) bool { return b.barriers.bears(e, road) })
	}
	if h, ok := b.request.Rig.Clear(); ok && t.lifted == nil {
		r.Height = h.Length
	}
	if t.above != nil && t.above.quantity == Height {
		r.Height = max(r.Height, measure.Length(t.above.value))
	}
	return r
}

// budget is how many states one search may settle before it says that it was not
// finished: some ten seconds.
const budget = 10_000_000

// detour is how many milliseconds a route goes round something unmeasured for, where
// that is asked for.
const detour search.Millis = 3_600_000

// cost is what a piece costs, and whether it is open.
func (b *builder) cost(t terms) func(network.Piece, search.Millis) (search.Millis, bool) {
	return func(p network.Piece, at search.Millis) (search.Millis, bool) {
		e := p.Arc.Edge()
		closed := b.Network.Class[e].Water() && !t.ferries
		b.judge(p, func(j *judgement) { closed = closed || j.closed })
		if closed || b.shut(p, t) {
			return 0, false
		}
		cost := search.Millis(b.Network.Millis(p, b.request.Wishes.Top))
		if t.dearer != nil {
			cost = t.dearer(p, cost)
		}
		wait, opens := b.wait(p, at, t)
		if !opens {
			return 0, false
		}
		cost += wait
		if b.request.AvoidUnmeasured {
			cost += detour / max(t.share, 1) * search.Millis(b.structures.overhead.blind(p))
		}
		return cost, true
	}
}

// shut tells whether anything that counts under the terms shuts a piece.
func (b *builder) shut(p network.Piece, t terms) bool {
	for _, barrier := range b.barriers.on(p) {
		if barrier.When == "" && (t.lifted == nil || !t.lifted(barrier)) {
			return true
		}
	}
	return t.above != nil && !b.passes(p, t.above) || t.unpermitted && b.barriers.asks(p.Arc.Edge()) || b.barriers.in(p.Arc.Edge(), b.shutAreas)
}

// timed tells whether anything shuts an arc at certain hours.
func (bs *barriers) timed(a network.Arc) bool {
	return slices.ContainsFunc(bs.on(bs.b.Network.Whole(a)), func(b *Barrier) bool { return b.When != "" })
}

// patience is how long after the departure a road may open and be waited for; one
// that is closed for longer is shut for good.
const patience = 14 * 24 * time.Hour

// penalised tells whether a search charges more than time: its prices are then no
// clock, and what is shut at certain hours of the trip counts as shut throughout.
func (b *builder) penalised(t terms) bool {
	w := &b.request.Wishes
	return t.dearer != nil || b.request.AvoidUnmeasured || !w.Once && (w.PermitCost > 0 || len(w.PermitCosts) > 0)
}

// wait is how long a rig that comes to a piece so long after the start of the
// search waits until what shuts it at certain hours lets it through; opens is
// false where it does not in time.
func (b *builder) wait(p network.Piece, at search.Millis, t terms) (wait search.Millis, opens bool) {
	long := time.Duration(b.Network.Millis(p, b.request.Wishes.Top)) * time.Millisecond
	holds := slices.DeleteFunc(slices.Clone(b.barriers.on(p)), func(o *Barrier) bool { return o.When == "" || t.lifted != nil && t.lifted(o) })
	if len(holds) > 0 && b.penalised(t) {
		return 0, !slices.ContainsFunc(holds, func(o *Barrier) bool { return o.met })
	}
	for open := 0; open < len(holds); { // all must be open at the same moment
		for _, barrier := range holds {
			there := b.departure.Add(time.Duration(b.after+at+wait) * time.Millisecond).In(barrier.zone)
			on, ok := barrier.Pause(there, b.departure.Add(patience), long, window.Env{})
			switch {
			case !ok:
				return 0, false
			case on.After(there):
				wait, open = wait+search.Millis((on.Sub(there)+time.Millisecond-1)/time.Millisecond), 1
			default:
				open++
			}
		}
	}
	return wait, true
}

// waitFindings says where the ways wait for a road to open.
func (b *builder) waitFindings(ways []way) {
	b.after, b.waits = 0, false
	if b.penalised(terms{}) && b.request.Given == nil && b.plan.Passable {
		return // it waits for nothing
	}
	var at search.Millis
	for _, w := range ways {
		for i, p := range w.pieces {
			if i > 0 {
				at += b.turn(w.pieces[i-1].Arc, p.Arc)
			}
			wait, _ := b.wait(p, at, terms{})
			switch {
			case b.request.Given != nil || !b.plan.Passable:
				b.plan.Findings = append(b.plan.Findings, b.closedThen(p, at)...)
				wait = 0
			case wait > 0:
				b.waits = true
				b.plan.Findings = append(b.plan.Findings, b.waiting(p, wait))
			}
			at += wait + search.Millis(b.Network.Millis(p, b.request.Wishes.Top))
		}
	}
}

// closedThen says of a way that waits for nothing what is closed when the rig
// comes by.
func (b *builder) closedThen(p network.Piece, at search.Millis) (out []finding.Finding) {
	for _, barrier := range b.barriers.on(p) {
		there := b.departure.Add(time.Duration(at) * time.Millisecond)
		if barrier.When == "" || barrier.At(there.In(barrier.zone), window.Env{}) != window.Open {
			continue
		}
		codes := b.Network.Jurisdictions(p.Arc.Edge())
		out = append(out, finding.Finding{
			Rule: "hours of signs", Jurisdiction: strings.Join(codes, "/"), Place: b.Network.RoadName(p.Arc.Edge()), Outcome: finding.Forbidden,
			Summary: "closed when the rig comes by: " + barrier.What, Ask: b.Tables.Ask(firstOf(codes)),
			Demands: finding.Demands{Hours: []string{"not during " + barrier.When}},
		})
	}
	return out
}

func (b *builder) waiting(p network.Piece, wait search.Millis) finding.Finding {
	codes := b.Network.Jurisdictions(p.Arc.Edge())
	f := finding.Finding{
		Rule: "waiting", Jurisdiction: strings.Join(codes, "/"), Place: b.Network.RoadName(p.Arc.Edge()), Outcome: finding.Conditional,
		Ask: b.Tables.Ask(firstOf(codes)),
		Summary: fmt.Sprintf("the way waits about %s for hours at which the road is open; this is not in its driving time, and where to wait is not planned",
			(time.Duration(wait) * time.Millisecond).Round(time.Minute)),
	}
	for _, barrier := range b.barriers.on(p) {
		if barrier.When != "" {
			f.Demands.Hours = append(f.Demands.Hours, "not during "+barrier.When)
		}
	}
	return f
}

// asks tells whether a permit is asked for on a road, be it only perhaps; kinds of
// road that rules cannot tell apart are asked about once.
func (bs *barriers) asks(e network.EdgeID) bool {
	b := bs.b
	codes := b.Network.Jurisdictions(e)
	road := roadOf(b.Network, e, b.Network.Record(b.Network.RoadID(e)))
	road.Name = ""
	key := fmt.Sprint(codes, road)
	yes, known := bs.asking[key]
	if !known {
		found := b.Tables.Check(b.request.Rig.Vehicle(), regs.Place{Jurisdictions: codes, OwnerKnown: true, Roads: []limit.Road{road}}, b.departure)
		yes = slices.ContainsFunc(found, func(f finding.Finding) bool { return len(f.Demands.Permits) > 0 })
		bs.asking[key] = yes
	}
	return yes
}

// choosePermits tries every set of the jurisdictions whose permits cost something
// once, and keeps to the one with which the whole trip costs least.
func (b *builder) choosePermits(ctx context.Context) error {
	w := &b.request.Wishes
	if !w.Once {
		return nil
	}
	codes := slices.Sorted(maps.Keys(w.PermitCosts))
	best, least := []string(nil), search.Infinite
	for set := range 1 << len(codes) {
		cost, shut := search.Millis(0), []string{}
		for i, code := range codes {
			if set>>i&1 == 1 {
				cost += search.Millis(w.PermitCosts[code].Milliseconds())
			} else {
				shut = append(shut, code)
			}
		}
		b.shutAreas, b.after = shut, 0
		for i := 1; i < len(b.snapped) && cost < least; i++ {
			path, err := b.first(ctx, b.snapped[i-1].Position, b.snapped[i].Position, terms{})
			if errors.Is(err, search.ErrNoRoute) {
				path.Cost, err = search.Infinite, nil
			}
			if err != nil {
				return err
			}
			cost += path.Cost
			b.after += path.Cost
		}
		if cost < least {
			best, least = shut, cost
		}
	}
	b.shutAreas = best // none where no set opens a way: then it is said what shuts it
	return nil
}

// in tells whether an edge lies in one of the jurisdictions.
func (bs *barriers) in(e network.EdgeID, codes []string) bool {
	return len(codes) > 0 && slices.ContainsFunc(bs.b.Network.Jurisdictions(e), func(c string) bool { return slices.Contains(codes, c) })
}

// How much a turn at a junction costs: a long rig takes them slowly, and rather
// goes on. This project's choice, no source.
const (
	sharpTurn    search.Millis = 10_000 // from network.SharpTurn degrees
	hairpin      search.Millis = 40_000
	hairpinAngle               = 120.0 // degrees
)

// turn is what driving from one arc into another costs: the turn itself, and the
// permits of what is entered.
func (b *builder) turn(in, on network.Arc) search.Millis {
	cost := b.barriers.entry(in.Edge(), on.Edge())
	switch angle := b.Network.Deflection(in, on); {
	case angle > hairpinAngle:
		cost += hairpin
	case angle > network.SharpTurn:
		cost += sharpTurn
	}
	return cost
}

// entry is what entering the jurisdictions of an edge from another costs.
func (bs *barriers) entry(from, to network.EdgeID) (cost search.Millis) {
	w := &bs.b.request.Wishes
	if w.Once || w.PermitCost == 0 && len(w.PermitCosts) == 0 || bs.b.Network.SameArea(from, to) {
		return 0
	}
	before := bs.b.Network.Jurisdictions(from)
	for _, code := range bs.b.Network.Jurisdictions(to) {
		if !slices.Contains(before, code) {
			cost += search.Millis(w.entering(code).Milliseconds())
		}
	}
	return cost
}
