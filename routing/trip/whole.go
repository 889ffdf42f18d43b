package trip

import (
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/match"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

// tripFindings answers for the trip as a whole.
func (b *builder) tripFindings() {
	p, s := b.plan, b.stands
	add := func(list []finding.Finding) { p.Findings = append(p.Findings, list...) }
	add(s.Unbound(b.listed))
	add(s.Rivals(b.rivals, func(one standing.Placed) bool {
		return slices.ContainsFunc(p.Legs, func(l Leg) bool { return l.passes(one) })
	}, b.listed))
	var stops []orb.Point
	for _, s := range b.request.Stops {
		stops = append(stops, s.Point)
	}
	var along []orb.Bound
	for _, l := range p.Legs {
		stops, along = append(stops, l.Line[0], l.Line[len(l.Line)-1]), append(along, l.Line.Bound())
	}
	add(s.Near(stops, say.That("structure.near_stop"), b.listed))
	if b.request.Given != nil {
		add(s.Near(match.Sample(b.request.Given.Line), say.That("structure.near_line"), b.listed))
	}
	add(s.Lost(p.edges, along, b.listed))
	add(b.customs())
	add(b.grounds())
	if !p.Passable {
		p.Findings = append(p.Findings, b.shutRoute())
	}
}

// shutRoute answers where every way is shut, with the structures and the signs
// that shut the one that is shown.
func (b *builder) shutRoute() finding.Finding {
	f := finding.Finding{
		Topic: finding.Route, Rule: "route", Outcome: finding.Forbidden, Reason: finding.Exceeded,
		Says: []say.Remark{say.That("route.shut")}, Settles: b.stands.Office(b.plan.Legs[0].Jurisdictions...),
	}
	for _, l := range b.plan.Legs {
		for _, s := range l.Structures {
			if s.Outcome == finding.Forbidden {
				f.Citations = append(f.Citations, s.Citation)
				f.Invented = f.Invented || s.Invented()
			}
		}
		for _, said := range l.Findings { // a rule of the tables shuts no road
			if said.Outcome == finding.Forbidden && said.Topic == finding.Sign {
				f.Citations = append(f.Citations, said.Citations...)
			}
		}
	}
	return f
}

// turnFindings says which forbidden turns the ways take: a given one may, and
// one that goes on from a stop.
func (b *builder) turnFindings(ways []way) {
	var pieces []network.Piece
	for i, w := range ways {
		if i > 0 {
			b.turningRound(ways[i-1], w)
		}
		pieces = append(pieces, w.Pieces...)
		if w.Gap != nil || i == len(ways)-1 {
			b.plan.Findings = append(b.plan.Findings, b.stands.ForbiddenTurns(pieces)...)
			pieces = nil
		}
	}
}

// turningRound says where a rig has to turn round at a stop to go on.
func (b *builder) turningRound(before, after way) {
	if len(before.Pieces) == 0 || len(after.Pieces) == 0 ||
		before.Pieces[len(before.Pieces)-1].Arc.Back() != after.Pieces[0].Arc {
		return
	}
	says := []say.Remark{say.That("way.turning_round")}
	if circle := b.turningCircle(after.Pieces[0]); !circle.None() {
		says = append(says, circle)
	}
	b.plan.Findings = append(b.plan.Findings, finding.Finding{
		Topic: finding.Road, Rule: "turning round", Place: after.From, Outcome: finding.Unknown, Reason: finding.NotMapped,
		Says: says, Settles: finding.By(standing.Surveying(say.That("task.walk", "stop", after.From))),
	})
}

// toTurn is how far from a stop a turning circle is named.
const toTurn measure.Distance = 500

// turningCircle names the nearest turning circle of the map on the road that a way leaves a stop by and those that
// meet it: nobody vouches for it, so that it clears nothing. None where there is none near.
func (b *builder) turningCircle(leaves network.Piece) (out say.Remark) {
	n, nearest := b.stands.Network, toTurn
	at := n.Line(leaves)[0]
	for _, arc := range slices.Concat(n.Out(n.Tail(leaves.Arc)), n.Out(n.Head(leaves.Arc))) {
		for _, s := range n.Spots(arc.Edge()) {
			away := geodesic.Between(at, n.Point(network.Position{Edge: s.Edge, Offset: s.Offset}))
			if s.Kind != network.TurningCircle || away >= nearest {
				continue
			}
			nearest = away
			width := n.Record(s.Road).Width
			needs, known := b.fullCircle()
			out = say.That("way.turning_circle", "away", away, "tagged", width > 0, "circle", width,
				"known", known, "needs", needs)
		}
	}
	return out
}
