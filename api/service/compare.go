package service

import (
	"context"

	"wayhouse/api/keep"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/compare"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/quote"
)

// Compare says in what the answers to two requests differ.
func (s *Service) Compare(ctx context.Context, q wire.Asked[wire.ComparisonRequest]) (*compare.Comparison, error) {
	checks, rigs, trips, quotes := q.Said.Checks, q.Said.Rigs, q.Said.Trips, q.Said.Quotes
	given := 0
	for _, is := range []bool{checks != nil, rigs != nil, trips != nil, quotes != nil} {
		if is {
			given++
		}
	}
	switch {
	case q.Refused != nil:
		return nil, q.Refused
	case given != 1:
		return nil, wire.Refuse(wire.FieldError{
			Field: "body", Problem: say.That("error.no_two_of_a_kind"), Fix: say.That("fix.one_kind"),
		})
	case checks != nil:
		return both(ctx, "checks", checks, s.Check, Checks)
	case rigs != nil:
		return both(ctx, "rigs", rigs, s.Rig, Rigs)
	case quotes != nil:
		return both(ctx, "quotes", quotes, s.Quote, Quotes)
	default:
		return both(ctx, "trips", trips, s.Plan, Plans)
	}
}

func both[Q, A any](ctx context.Context, field string, of *wire.Opposed[Q],
	ask func(context.Context, wire.Asked[Q]) (A, error),
	compared func(a, b A) *compare.Comparison) (*compare.Comparison, error) {
	a, err := ask(ctx, wire.Asked[Q]{Said: of.A})
	if err != nil {
		return nil, wire.Within(field+".a", err)
	}
	b, err := ask(ctx, wire.Asked[Q]{Said: of.B})
	if err != nil {
		return nil, wire.Within(field+".b", err)
	}
	return compared(a, b), nil
}

// Checks are two checks to compare.
func Checks(a, b *regs.Design) *compare.Comparison { return compare.Of(checked(a), checked(b)) }

// Rigs are two rigs to compare.
func Rigs(a, b *wire.RigAnswer) *compare.Comparison { return compare.Of(described(a), described(b)) }

// Plans are two plans to compare.
func Plans(a, b *trip.Plan) *compare.Comparison { return compare.Of(planned(a), planned(b)) }

// Quotes are two quotes to compare.
func Quotes(a, b *trip.Priced) *compare.Comparison {
	none := func(quote.Line) int { return 0 } // a request does not say in which revision its rates were written
	left, right := quoted(a), quoted(b)
	moved := keep.Prices(&left, &right, keep.NewQuoted(a, none), keep.NewQuoted(b, none))
	out := compare.Of(left, right)
	out.Moved = moved
	return out
}

func checked(d *regs.Design) compare.Side {
	out := compare.Side{Name: d.Name, Invented: d.RestsOnInvented()}
	for _, a := range d.Answers {
		out.Findings = append(out.Findings, a.Findings...)
	}
	out.Verdict = finding.Roll(out.Findings)
	out.Facts = []compare.Fact{
		fact(say.That("compare.kind"), d.Vehicle.Kind), fact(say.That("compare.use"), d.Vehicle.Use),
	}
	for _, q := range limit.Quantities() {
		out.Facts = append(out.Facts, size(say.That("compare.fact", "value", q), q.Known(d.Vehicle.Measures[q])))
	}
	return out
}

func described(a *wire.RigAnswer) compare.Side {
	out := compare.Side{
		Name: a.Rig.Unit.Name, Invented: a.Invented || a.Plan != nil && a.Plan.RestsOnInvented(),
		Facts: rigFacts(a.Rig), Findings: a.Findings,
	}
	if on, ok := a.Statics.Coupling.Value(); ok {
		out.Facts = append(out.Facts, compare.Fact{Name: say.That("rig.on_coupling"), Value: finding.Of(on.Likely)})
	}
	if a.Plan != nil {
		way := planned(a.Plan)
		out.Facts, out.Findings = append(out.Facts, keep.NewDigest(a.Plan).Way()...), append(out.Findings, way.Findings...)
	}
	out.Verdict = finding.Roll(out.Findings)
	return out
}

func planned(p *trip.Plan) compare.Side {
	out := compare.Side{
		Name: p.Name, Invented: p.RestsOnInvented(), Verdict: p.Verdict,
		Facts: append(rigFacts(p.Rig), keep.NewDigest(p).Way()...),
	}
	for _, f := range p.All() {
		out.Findings = append(out.Findings, f)
	}
	return out
}

// rigFacts are the sizes of a rig and its unit, and what they count as.
func rigFacts(r rig.Rig) []compare.Fact {
	out := []compare.Fact{fact(say.That("compare.kind"), r.Unit.Kind), fact(say.That("compare.use"), r.Use)}
	for _, q := range rig.Quantities() {
		out = append(out, size(say.That("compare.of_rig", "quantity", q), finding.Sized(r.Size(q), q.Of)))
	}
	return out
}

// fact is a word that is not known where it is none.
func fact[T interface {
	comparable
	say.Term
}](name say.Remark, word T) compare.Fact {
	if word == *new(T) {
		return compare.Fact{Name: name}
	}
	return compare.Fact{Name: name, Value: word}
}

func size(name say.Remark, q finding.Quantity) compare.Fact {
	if !q.Known() {
		return compare.Fact{Name: name}
	}
	return compare.Fact{Name: name, Value: q}
}
