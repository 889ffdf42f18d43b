package standing

import (
	"math"
	"slices"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// Room is the most of a quantity that passes a piece.
type Room struct {
	Most      int64 // nanometres or tens of micrograms
	By        say.Remark
	Citations []finding.Citation
	Invented  bool
	Unknown   bool // something on it may limit the quantity and does not say how
}

// Free is the room where nothing known limits anything.
var Free = Room{Most: math.MaxInt64}

// Room returns the most of a quantity that passes a piece.
func (j *Judge) Room(p network.Piece, q rig.Quantity) Room {
	out := j.underStructures(p, q, Free)
	j.judge(p, func(one *judgement) {
		for _, n := range one.notes {
			if n.limit > 0 && n.limit < out.Most && sizeOf(n.subject) == q {
				out = Room{
					Most: n.limit, By: onRoad(j.Network.RoadName(p.Arc.Edge()), n),
					Citations: j.CiteWay(p.Arc.Edge(), "as tagged"),
				}
			}
		}
	})
	out.Unknown = len(j.Unmeasured(p, q)) > 0
	return out
}

// sizeOf is the quantity of a whole rig that a sign limits; "" for none.
func sizeOf(s network.Subject) rig.Quantity {
	switch s {
	case network.MaxWidth, network.MaxWidthPhysical:
		return rig.Width
	case network.MaxLength:
		return rig.Length
	case network.MaxMass, network.MaxRating:
		return rig.Mass
	default:
		return ""
	}
}

// concerns reports whether a sign may limit a quantity, be it of a part of the rig.
func concerns(s network.Subject, q rig.Quantity) bool {
	return sizeOf(s) == q || s.Height() && q == rig.Height || s.Mass() && q == rig.Mass
}

// underStructures takes the room that structures leave.
func (j *Judge) underStructures(p network.Piece, q rig.Quantity, out Room) Room {
	if !j.structures.any(p) {
		return out
	}
	for _, s := range j.structures.on(p) {
		if s.Structure.Doubt != "" || !s.Doubt.None() && s.Structure.Grade != clearance.AnyGrade {
			continue // it shuts nobody out
		}
		var most int64
		switch {
		case q == rig.Height && s.Passage.Known:
			high, _ := j.Rig.Height.Least()
			most = int64(s.Passage.Margin + high)
		case q == rig.Width && s.Structure.Width != nil:
			most = int64(*s.Structure.Width)
		case q == rig.Mass && s.Structure.Mass != nil:
			most = int64(*s.Structure.Mass)
		default:
			continue
		}
		if most < out.Most {
			out = Room{
				Most: most, By: s.Called,
				Citations: []finding.Citation{j.Passing(s, 0, "").Citation}, Invented: s.Structure.Invented(),
			}
		}
	}
	return out
}

// Unmeasured names what on a piece may limit the quantity and does not say how.
func (j *Judge) Unmeasured(p network.Piece, q rig.Quantity) (out []say.Remark) {
	j.judge(p, func(one *judgement) {
		for _, n := range one.notes {
			if q == rig.Mass && n.subject == network.MaxRating && n.limit > 0 {
				out = append(out, say.That("unmeasured.rated_mass", "road", j.Network.RoadName(p.Arc.Edge())))
			}
			if n.outcome == finding.Unknown && n.limit == 0 && concerns(n.subject, q) {
				out = append(out, onRoad(j.Network.RoadName(p.Arc.Edge()), n))
			}
		}
	})
	switch q {
	case rig.Mass:
		out = append(out, j.bridgesOf(p)...)
	case rig.Width:
		out = append(out, j.gaps(p)...)
	}
	if !j.structures.any(p) {
		return out
	}
	for _, s := range j.structures.on(p) {
		if j.silent(s, q) {
			out = append(out, s.Called)
		}
	}
	return out
}

// silent reports whether a structure may limit the quantity and does not surely say
// how: because it names no figure, or because it may stand over another road.
func (j *Judge) silent(s Placed, q rig.Quantity) bool {
	doubt := s.Structure.Doubt != "" || !s.Doubt.None()
	switch q {
	case rig.Height:
		sag := s.Structure.SagRadius != nil && j.Rig.Unit.Length == nil
		if s.Structure.Grade == clearance.On {
			return !s.Passage.Known && !s.Structure.OpenAbove()
		}
		return !s.Passage.Known || doubt || sag
	case rig.Width:
		return s.Structure.Width != nil && doubt
	case rig.Mass:
		return s.Structure.Grade == clearance.On && s.Structure.Mass == nil || s.Structure.Mass != nil && doubt
	default:
		return false
	}
}

// gaps names what stands on a piece and leaves a gap of unknown width.
func (j *Judge) gaps(p network.Piece) (out []say.Remark) {
	for _, s := range j.Network.Spots(p.Arc.Edge()) {
		if s.Kind != network.Gate && s.Kind != network.Blocked && s.Kind != network.TollBooth ||
			!j.Network.Covers(p, network.Position{Edge: s.Edge, Offset: s.Offset}) {
			continue
		}
		signed := s.Own == 1 && slices.ContainsFunc(j.Network.Record(s.Road).Signs, func(o network.Sign) bool {
			return sizeOf(o.Subject) == rig.Width && o.State == network.Known
		})
		if !signed {
			out = append(out, say.That("unmeasured.gap", "kind", s.Kind, "road", j.Network.RoadName(s.Edge)))
		}
	}
	return out
}

// bridgesOf names the road of a piece where it is carried by a bridge that says
// nothing of mass.
func (j *Judge) bridgesOf(p network.Piece) []say.Remark {
	e := p.Arc.Edge()
	r := j.Network.Record(j.Network.RoadID(e))
	if !r.Flags.Has(network.OnBridge) || slices.ContainsFunc(r.Signs, func(s network.Sign) bool {
		return s.Subject.Mass()
	}) {
		return nil
	}
	return []say.Remark{say.That("unmeasured.bridge", "road", j.Network.RoadName(e), "element",
		Element("way", j.Network.Origin(e)))}
}

// any reports whether anything may stand over a piece.
func (pl *placements) any(p network.Piece) bool {
	if len(pl.net.Spots(p.Arc.Edge())) > 0 {
		return true
	}
	pl.around(p.Arc.Edge())
	return len(pl.byEdge[p.Arc.Edge()]) > 0
}
