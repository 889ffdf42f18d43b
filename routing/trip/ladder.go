package trip

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
)

// Quantity is what a ladder climbs in: a measurement of the rig.
type Quantity string

// The quantities.
const (
	Height Quantity = "height"
	Width  Quantity = "width"
	Length Quantity = "length"
	Mass   Quantity = "mass"
)

// LadderQuantities lists what a ladder can climb in.
func LadderQuantities() []Quantity { return []Quantity{Height, Width, Mass} }

// Print writes a value of the quantity in both unit systems, rounded down.
func (q Quantity) Print(v int64) string {
	if q == Mass {
		return limit.GrossMass.PrintDown(limit.Amount(v))
	}
	return limit.Height.PrintDown(limit.Amount(v))
}

// legal is the quantity of the rules.
func (q Quantity) legal() limit.Quantity {
	return map[Quantity]limit.Quantity{Height: limit.Height, Width: limit.Width, Length: limit.CombinationLength, Mass: limit.GrossMass}[q]
}

// Ladders are the ways of a journey for rigs of every size of one quantity: once
// with unmeasured structures taken to be high enough, which holds only if none
// is lower, and once going round them all.
type Ladders struct {
	Name     string
	From, To string // stops
	Quantity Quantity
	Unit     string // how the given rig is in the quantity, "" where not known
	Open     Ladder // unmeasured structures open
	Shut     Ladder // unmeasured structures shut
	Legal    []Legal
	Off      []string // stops that lie far from the network, in words
	About    network.About
	Tables   string // revision
	Cautions []string
	Invented bool
}

// Ladder is a list of steps from the greatest rig that passes to the fastest way.
type Ladder struct {
	Steps    []Step
	Complete bool   // false: there are more steps than were sought
	Why      string // where there is no step
	off      []string
}

// Step is the best way for rigs up to a size.
type Step struct {
	Most      int64 // nanometres or tens of micrograms; 0: nothing known limits it
	By        string
	Citations []finding.Citation // where what limits it comes from
	Path      search.Path
	Length    measure.Distance
	Time      Duration
	Ferry     bool
	Unknowns  []string // unmeasured structures and signs on the way, each once
	Passes    bool     // whether the given rig passes by it; false where its size is not known
	Areas     []string // jurisdictions on the way
	Invented  bool     // what limits it was made up
}

// Legal is what a jurisdiction allows in the quantity without a permit.
type Legal struct {
	Jurisdiction string
	Most         string // "" where it is not established
	Invented     bool
}

// maxSteps is how many steps are sought.
const maxSteps = 200

// floor closes what leaves no more than a value of a quantity.
type floor struct {
	quantity Quantity
	value    int64
	known    bool // what says nothing of the quantity is closed too
}

// room is the most of a quantity that passes a piece.
type room struct {
	most     int64
	by       string
	rows     []finding.Citation
	invented bool
	unknown  bool // something on it may limit the quantity and does not say how
}

// free is the room where nothing known limits anything.
var free = room{most: math.MaxInt64}

// Ladders works out the ladders of the journey between the first two stops of a
// request. What the rig is in the quantity itself does not matter: it is only
// compared with the steps. Letters that raise a sign do not count. Errors are
// [*RequestError] and that of the context.
func (p *Planner) Ladders(ctx context.Context, r Request, q Quantity) (*Ladders, error) {
	if len(r.Stops) != 2 || r.Given != nil {
		return nil, fail("stops", fmt.Sprint(len(r.Stops)), "a ladder is of one way between two stops", "give a start and an end, and no route")
	}
	if !slices.Contains(LadderQuantities(), q) {
		return nil, fail("quantity", string(q), "is nothing that a ladder climbs in", "use height, width or mass")
	}
	unit, known := sizeOf(r, q)
	out := &Ladders{
		Name: r.Name, From: r.Stops[0].Label, To: r.Stops[1].Label, Quantity: q, About: p.Network.About, Tables: p.Tables.Revision, Cautions: LadderCautions(), Invented: r.Invented,
	}
	if known {
		out.Unit = q.Print(unit)
	}
	thin := thinned(r, q)
	for _, shut := range []bool{false, true} {
		l, err := p.ladder(ctx, thin, q, shut)
		if err != nil {
			return nil, err
		}
		for i := range l.Steps {
			s := &l.Steps[i]
			s.Passes = known && (s.Most == 0 || unit <= s.Most)
			out.Invented = out.Invented || s.Invented
			out.legal(p, thin, s.Areas)
		}
		out.Off = l.off
		if shut {
			out.Shut = l
		} else {
			out.Open = l
		}
	}
	return out, nil
}

// RestsOnInvented reports whether anything of the ladders was made up.
func (l *Ladders) RestsOnInvented() bool {
	return l.Invented || slices.ContainsFunc(l.Legal, func(k Legal) bool { return k.Invented })
}

// Notice is the first line: what no step is, which stops the ways do not reach,
// and what the network does not know.
func (l *Ladders) Notice() string {
	notice := ""
	if l.RestsOnInvented() {
		notice = "INVENTED. "
	}
	notice += fmt.Sprintf("Not clear for any rig: each step is the greatest %s that passes as far as is known.", l.Quantity)
	for _, off := range l.Off {
		notice += " " + off + "."
	}
	notice += fmt.Sprintf(" The road data (%s) is %s", l.About.Name, l.About.Caution)
	for i, fact := range l.About.Lacks {
		if i == 0 {
			notice += "; it knows"
		}
		notice += " no " + string(fact) + ","
	}
	return strings.TrimSuffix(notice, ",") + "."
}

// LadderCautions lists what every answer with ladders says.
func LadderCautions() []string {
	return append([]string{
		"A step holds only if nothing unmeasured on its way leaves less; the second ladder goes round what is unmeasured.",
		"What a map or a table does not know is in no step.",
	}, Cautions()...)
}

// sizeOf is the rig's own value of a quantity.
func sizeOf(r Request, q Quantity) (v int64, known bool) {
	var length *measure.Length
	switch q {
	case Height:
		if h, ok := r.Rig.Clear(); ok && !h.AtLeast {
			length = &h.Length
		}
	case Width:
		if width, atLeast := r.Rig.Passing(); !atLeast {
			length = width
		}
	case Length:
		length = r.Rig.Length
	case Mass:
		if r.Rig.Mass != nil {
			return int64(*r.Rig.Mass), true
		}
	}
	if length == nil {
		return 0, false
	}
	return int64(*length), true
}

// least is a size that everything lets pass.
const least = 1

// thinned makes the rig of a request so small in a quantity that it passes
// everywhere, and leaves all else as it is.
func thinned(r Request, q Quantity) Request {
	size, mass := measure.Length(least), measure.Mass(least)
	switch q {
	case Height:
		h, _ := r.Rig.Clear()
		r.Rig.Unit.HeightMeasured = h.Measured // the unit may be measured and the rig not
		if r.Rig.Unit.Height != nil {
			r.Rig.Unit.Height = &size
		}
		if r.Rig.Height != nil || r.Rig.Unit.Height == nil {
			r.Rig.Height = &size
		}
	case Width:
		r.Rig.Width, r.Rig.Tow.OverMirrors = &size, nil
	case Length:
		r.Rig.Length = &size
	case Mass:
		r.Rig.Mass = &mass
	}
	return r
}

// ladder climbs from the fastest way: each next way must leave more room than the
// one before, until none does.
func (p *Planner) ladder(ctx context.Context, r Request, q Quantity, shut bool) (Ladder, error) {
	b, err := p.newBuilder(r)
	if err != nil {
		return Ladder{}, err
	}
	at, err := b.snapStops()
	if err != nil {
		return Ladder{}, err
	}
	out, above := Ladder{Complete: true, off: b.off}, &floor{quantity: q, known: shut}
	for len(out.Steps) < maxSteps {
		step, err := b.climb(ctx, at, above)
		if errors.Is(err, search.ErrNoRoute) {
			break
		}
		if err != nil {
			return out, err
		}
		if n := len(out.Steps); n > 0 && out.Steps[n-1].Path.Cost == step.Path.Cost && out.Steps[n-1].Ferry == step.Ferry {
			out.Steps = out.Steps[:n-1] // as soon, and with more room
		}
		out.Steps = append(out.Steps, step)
		if step.Most == 0 {
			break
		}
		above.value = step.Most
	}
	out.Complete = len(out.Steps) < maxSteps
	slices.Reverse(out.Steps)
	if len(out.Steps) == 0 {
		out.Why = "no way leads there, whatever the " + string(q)
		if shut {
			out.Why = "no way leads there past nothing unmeasured"
		}
	}
	return out, nil
}

// climb finds the fastest way that leaves more room than the floor.
func (b *builder) climb(ctx context.Context, at []network.Snapped, above *floor) (Step, error) {
	path, err := b.first(ctx, at[0].Position, at[1].Position, terms{above: above})
	if err != nil {
		return Step{}, err
	}
	s := Step{Path: path, Length: path.Length(), Time: b.time(path.Pieces)}
	most := free
	seen := map[string]bool{}
	for _, p := range path.Pieces {
		if r := b.barriers.room(p, above.quantity); r.most < most.most {
			most = r
		}
		s.Ferry = s.Ferry || b.Network.Class[p.Arc.Edge()].Water()
		for _, u := range b.unmeasured(p, above.quantity) {
			if !seen[u] {
				seen[u] = true
				s.Unknowns = append(s.Unknowns, u)
			}
		}
		for _, c := range b.Network.Jurisdictions(p.Arc.Edge()) {
			if !slices.Contains(s.Areas, c) {
				s.Areas = append(s.Areas, c)
			}
		}
	}
	if most.most < free.most {
		s.Most, s.By, s.Citations, s.Invented = most.most, most.by, most.rows, most.invented
	}
	return s, nil
}

// passes tells whether a piece leaves more room than a floor.
func (b *builder) passes(p network.Piece, f *floor) bool {
	r := b.barriers.room(p, f.quantity)
	return r.most > f.value && !(f.known && r.unknown)
}

// room returns the most of a quantity that passes a piece; of whole arcs it is
// remembered, for one quantity.
func (bs *barriers) room(p network.Piece, q Quantity) room {
	whole := p == bs.b.Network.Whole(p.Arc)
	if out, ok := bs.rooms[p.Arc]; ok && whole {
		return out
	}
	out := bs.b.underStructures(p, q, free)
	bs.b.judge(p, func(j *judgement) {
		for _, n := range j.notes {
			if n.limit > 0 && n.limit < out.most && q.of(n.subject) {
				out = room{
					most: n.limit, by: bs.b.Network.RoadName(p.Arc.Edge()) + ": " + n.words(),
					rows: bs.b.mapRow(element("way", bs.b.Network.Origin(p.Arc.Edge())), "as tagged"),
				}
			}
		}
	})
	out.unknown = len(bs.b.unmeasured(p, q)) > 0
	if whole {
		bs.rooms[p.Arc] = out
	}
	return out
}

// of tells whether a sign limits the quantity.
func (q Quantity) of(s network.Subject) bool {
	switch s {
	case network.MaxWidth, network.MaxWidthPhysical:
		return q == Width
	case network.MaxLength:
		return q == Length
	case network.MaxMass, network.MaxRating:
		return q == Mass
	default:
		return false
	}
}

// underStructures takes the room that structures leave.
func (b *builder) underStructures(p network.Piece, q Quantity, out room) room {
	if !b.structures.any(p) {
		return out
	}
	for _, s := range b.structures.on(p) {
		if s.structure.Doubt != "" || s.doubt != "" && s.structure.Grade != clearance.AnyGrade {
			continue // it shuts nobody out
		}
		var most int64
		switch {
		case q == Height && s.passage.Known:
			h, _ := b.request.Rig.Clear()
			most = int64(s.passage.Margin + h.Length)
		case q == Width && s.structure.Width != nil:
			most = int64(*s.structure.Width)
		case q == Mass && s.structure.Mass != nil:
			most = int64(*s.structure.Mass)
		default:
			continue
		}
		if most < out.most {
			out = room{most: most, by: s.structure.Name, rows: []finding.Citation{b.passing(s, 0, "").Row}, invented: s.structure.Invented()}
		}
	}
	return out
}

// unmeasured names what on a piece may limit the quantity and does not say how.
func (b *builder) unmeasured(p network.Piece, q Quantity) (out []string) {
	b.judge(p, func(j *judgement) {
		for _, n := range j.notes {
			if q == Mass && n.subject == network.MaxRating && n.limit > 0 {
				out = append(out, b.Network.RoadName(p.Arc.Edge())+": a limit of rated mass, which is not that on the scale")
			}
			if n.outcome == finding.Unknown && n.limit == 0 && strings.HasPrefix(n.rule, "posted ") && strings.Contains(n.rule, string(q)) {
				out = append(out, b.Network.RoadName(p.Arc.Edge())+": "+n.words())
			}
		}
	})
	switch q {
	case Mass:
		out = append(out, b.bridgesOf(p)...)
	case Width:
		out = append(out, b.gaps(p)...)
	}
	if !b.structures.any(p) {
		return out
	}
	for _, s := range b.structures.on(p) {
		if b.silent(s, q) {
			out = append(out, s.structure.Name)
		}
	}
	return out
}

// silent tells whether a structure may limit the quantity and does not surely say
// how: because it names no figure, or because it may stand over another road.
func (b *builder) silent(s placed, q Quantity) bool {
	doubt := s.structure.Doubt != "" || s.doubt != ""
	switch q {
	case Height:
		sag := s.structure.SagRadius != nil && b.request.Rig.Unit.Length == nil
		if s.structure.Grade == clearance.On {
			return !s.passage.Known && !s.structure.OpenAbove()
		}
		return !s.passage.Known || doubt || sag
	case Width:
		return s.structure.Width != nil && doubt
	case Mass:
		return s.structure.Grade == clearance.On && s.structure.Mass == nil || s.structure.Mass != nil && doubt
	default:
		return false
	}
}

// gaps names what stands on a piece and leaves a gap of unknown width.
func (b *builder) gaps(p network.Piece) (out []string) {
	for _, s := range b.Network.Spots(p.Arc.Edge()) {
		if s.Kind != network.Gate && s.Kind != network.Blocked && s.Kind != network.TollBooth || !b.Network.Covers(p, network.Position{Edge: s.Edge, Offset: s.Offset}) {
			continue
		}
		signed := s.Own == 1 && slices.ContainsFunc(b.Network.Record(s.Road).Signs, func(o network.Sign) bool { return Width.of(o.Subject) && o.State == network.Known })
		if !signed {
			out = append(out, fmt.Sprintf("%s on %s", s.Kind, b.Network.RoadName(s.Edge)))
		}
	}
	return out
}

// bridgesOf names the road of a piece where it is carried by a bridge that says
// nothing of mass.
func (b *builder) bridgesOf(p network.Piece) []string {
	e := p.Arc.Edge()
	r := b.Network.Record(b.Network.RoadID(e))
	if !r.Flags.Has(network.OnBridge) || slices.ContainsFunc(r.Signs, func(s network.Sign) bool { return s.Subject.Mass() }) {
		return nil
	}
	return []string{fmt.Sprintf("bridge of %s without a limit of mass (%s)", b.Network.RoadName(e), cmp.Or(element("way", b.Network.Origin(e)), "not named"))}
}

// any tells whether anything may stand over a piece.
func (pl *placements) any(p network.Piece) bool {
	if len(pl.net.Spots(p.Arc.Edge())) > 0 {
		return true
	}
	pl.around(p.Arc.Edge())
	return len(pl.byEdge[p.Arc.Edge()]) > 0
}

// legal notes what jurisdictions allow, each once.
func (l *Ladders) legal(p *Planner, r Request, codes []string) {
	for _, code := range codes {
		if slices.ContainsFunc(l.Legal, func(k Legal) bool { return k.Jurisdiction == code }) {
			continue
		}
		out := Legal{Jurisdiction: code}
		for _, most := range p.Tables.Largest(r.Rig.Vehicle(r.Allowances), code, p.departure(&r)) {
			if most.Quantity == l.Quantity.legal() {
				out.Most, out.Invented = most.Value, most.Invented
			}
		}
		l.Legal = append(l.Legal, out)
	}
	slices.SortFunc(l.Legal, func(a, b Legal) int { return cmp.Compare(a.Jurisdiction, b.Jurisdiction) })
}
