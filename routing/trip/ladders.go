package trip

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip/choosing"
)

// Ladders are the ways of a journey for rigs of every size of one quantity: once
// with unmeasured structures taken to be high enough, which holds only if none
// is lower, and once going round them all.
type Ladders struct {
	Name     string
	Stops    []string
	Quantity rig.Quantity
	Unit     finding.Quantity // how the given rig is in the quantity
	Open     choosing.Ladder  // unmeasured structures open
	Shut     choosing.Ladder  // unmeasured structures shut
	Legal    []Legal
	Off      []say.Remark // stops that lie far from the network
	About    network.About
	Tables   string // revision
	Cautions []say.Remark
	Invented bool
}

// Legal is what a jurisdiction allows in the quantity without a permit.
type Legal struct {
	Jurisdiction string
	Most         finding.Quantity // none where it is not established
	Settles      [][]finding.Step // what would establish it
	Invented     bool
}

// Ladders works out the ladders of the journey past all stops of a request, in their order
// and without their dates. What the rig is in the quantity itself does not matter: it is
// only compared with the steps. Letters that raise a sign do not count. Errors are
// [*RequestError] and that of the context.
func (p *Planner) Ladders(ctx context.Context, r Request, q rig.Quantity) (*Ladders, error) {
	if len(r.Stops) < 2 || r.Given != nil {
		return nil, fail("stops", fmt.Sprint(len(r.Stops)), say.That("error.a_ladder_is_of"),
			say.That("fix.give_a_start_and"))
	}
	if !slices.Contains(choosing.LadderQuantities(), q) {
		return nil, fail("quantity", string(q), say.That("error.nothing_that_a_ladder"), say.That("fix.use_height_width_or"))
	}
	unit, known := r.Rig.Size(q).Value()
	out := &Ladders{
		Name: r.Name, Quantity: q, About: p.Network.About,
		Tables: p.Tables.Revision, Cautions: LadderCautions(), Invented: r.Invented,
	}
	for _, stop := range r.Stops {
		out.Stops = append(out.Stops, stop.Label)
	}
	if known {
		out.Unit = q.Of(unit)
	}
	b, err := p.newBuilder(r)
	if err != nil {
		return nil, err
	}
	thin := r.Rig.Thinned(q).Vehicle(r.Allowances)
	for _, shut := range []bool{false, true} {
		l, err := b.chooses.Ladder(ctx, q, shut)
		if err != nil {
			return nil, err
		}
		for i := range l.Steps {
			s := &l.Steps[i]
			s.Passes = known && (s.Most == 0 || unit <= s.Most)
			out.Invented = out.Invented || s.Invented
			out.legal(b, thin, s.Areas)
		}
		out.Off = l.Off
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

// Alike reports whether going round what is unmeasured changes nothing, as where a
// network knows no structures.
func (l *Ladders) Alike() bool {
	return slices.EqualFunc(l.Open.Steps, l.Shut.Steps, func(a, b choosing.Step) bool {
		return a.Most == b.Most && a.Length == b.Length && a.Time.Duration == b.Time.Duration && len(a.Unknowns) == 0
	})
}

// legal notes what jurisdictions allow, each once.
func (l *Ladders) legal(b *builder, thin regs.Vehicle, codes []string) {
	for _, code := range codes {
		if slices.ContainsFunc(l.Legal, func(k Legal) bool { return k.Jurisdiction == code }) {
			continue
		}
		out := Legal{Jurisdiction: code, Settles: b.Tables.AskingLimit(code, l.Quantity.Legal())}
		for _, most := range b.Tables.Largest(thin, code, b.departure) {
			if most.Quantity == l.Quantity.Legal() {
				out.Most, out.Invented = most.Proven, most.Invented
			}
		}
		l.Legal = append(l.Legal, out)
	}
	slices.SortFunc(l.Legal, func(a, b Legal) int { return cmp.Compare(a.Jurisdiction, b.Jurisdiction) })
}
