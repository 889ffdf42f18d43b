package trip

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// LadderQuantities lists what a ladder can climb in.
func LadderQuantities() []rig.Quantity { return []rig.Quantity{rig.Height, rig.Width, rig.Mass} }

// Ladders are the ways of a journey for rigs of every size of one quantity: once
// with unmeasured structures taken to be high enough, which holds only if none
// is lower, and once going round them all.
type Ladders struct {
	Name     string
	From, To string // stops
	Quantity rig.Quantity
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
	Time      driving.Duration
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
	quantity rig.Quantity
	value    int64
	known    bool // what says nothing of the quantity is closed too
}

// Ladders works out the ladders of the journey between the first two stops of a
// request. What the rig is in the quantity itself does not matter: it is only
// compared with the steps. Letters that raise a sign do not count. Errors are
// [*RequestError] and that of the context.
func (p *Planner) Ladders(ctx context.Context, r Request, q rig.Quantity) (*Ladders, error) {
	if len(r.Stops) != 2 || r.Given != nil {
		return nil, fail("stops", fmt.Sprint(len(r.Stops)), "a ladder is of one way between two stops", "give a start and an end, and no route")
	}
	if !slices.Contains(LadderQuantities(), q) {
		return nil, fail("quantity", string(q), "is nothing that a ladder climbs in", "use height, width or mass")
	}
	unit, known := r.Rig.Size(q)
	out := &Ladders{
		Name: r.Name, From: r.Stops[0].Label, To: r.Stops[1].Label, Quantity: q, About: p.Network.About, Tables: p.Tables.Revision, Cautions: LadderCautions(), Invented: r.Invented,
	}
	if known {
		out.Unit = q.Print(unit)
	}
	thin := r
	thin.Rig = r.Rig.Thinned(q)
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

// ladder climbs from the fastest way: each next way must leave more room than the
// one before, until none does.
func (p *Planner) ladder(ctx context.Context, r Request, q rig.Quantity, shut bool) (Ladder, error) {
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
	s := Step{Path: path, Length: path.Length(), Time: b.drives.Time(path.Pieces)}
	most := standing.Free
	seen := map[string]bool{}
	for _, p := range path.Pieces {
		if r := b.barriers.room(p, above.quantity); r.Most < most.Most {
			most = r
		}
		s.Ferry = s.Ferry || b.Network.Class[p.Arc.Edge()].Water()
		for _, u := range b.stands.Unmeasured(p, above.quantity) {
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
	if most.Most < standing.Free.Most {
		s.Most, s.By, s.Citations, s.Invented = most.Most, most.By, most.Citations, most.Invented
	}
	return s, nil
}

// passes tells whether a piece leaves more room than a floor.
func (b *builder) passes(p network.Piece, f *floor) bool {
	r := b.barriers.room(p, f.quantity)
	return r.Most > f.value && !(f.known && r.Unknown)
}

// legal notes what jurisdictions allow, each once.
func (l *Ladders) legal(p *Planner, r Request, codes []string) {
	for _, code := range codes {
		if slices.ContainsFunc(l.Legal, func(k Legal) bool { return k.Jurisdiction == code }) {
			continue
		}
		out := Legal{Jurisdiction: code}
		for _, most := range p.Tables.Largest(r.Rig.Vehicle(r.Allowances), code, p.departure(&r)) {
			if most.Quantity == l.Quantity.Legal() {
				out.Most, out.Invented = most.Value, most.Invented
			}
		}
		l.Legal = append(l.Legal, out)
	}
	slices.SortFunc(l.Legal, func(a, b Legal) int { return cmp.Compare(a.Jurisdiction, b.Jurisdiction) })
}
