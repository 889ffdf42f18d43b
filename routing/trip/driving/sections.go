package driving

import (
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig/drive"
)

// sections splits pieces of road into what a rig drives: of one grade, surface and
// speed. A road that rises and falls is taken as one climb and one descent of the
// same slope. Aboard a ferry nothing is driven.
func (d *Driver) sections(pieces []network.Piece, out []drive.Section) []drive.Section {
	n := d.Network
	for _, p := range pieces {
		e := p.Arc.Edge()
		if n.Class[e] == network.Ferry {
			continue
		}
		c := n.Class[e]
		s := drive.Section{Length: p.Length(), Surface: surfaceOf(n.Record(n.RoadID(e)), c), Flow: flowOf(c)}
		s.Speed, _ = d.Speed(e)
		if line := n.Line(p); d.conditions.WindFrom != nil && len(line) > 1 {
			s.Heading = geodesic.Bearing(line[0], line[len(line)-1])
		}
		out = append(out, slopes(n, p, s)...)
	}
	return out
}

// slopes splits a section into its climb and its descent.
func slopes(n *network.Network, p network.Piece, s drive.Section) []drive.Section {
	g, ok := n.Grade(p.Arc)
	length := float64(n.Length[p.Arc.Edge()])
	both := float64(g.Ascent + g.Descent)
	if s.NoGrade = !ok; !ok || length == 0 || both == 0 {
		return []drive.Section{s}
	}
	up, down := s, s
	share := float64(g.Ascent) / both
	up.Length, down.Length = s.Length*measure.Distance(share), s.Length*measure.Distance(1-share)
	up.Grade, down.Grade = both/length, -both/length
	switch share {
	case 0:
		return []drive.Section{down}
	case 1:
		return []drive.Section{up}
	}
	return []drive.Section{up, down}
}

// surfaceOf is the surface of a road. A main road that nobody says anything else of is
// paved.
func surfaceOf(r network.Record, c network.Class) drive.Surface {
	switch {
	case r.Paved == network.Paved:
		return drive.Paved
	case r.Paved == network.Unpaved:
		return drive.Gravel
	case c == network.Freeway || c == network.Trunk || c == network.Primary:
		return drive.Paved
	default:
		return drive.SurfaceUnknown
	}
}

// flowOf is how freely traffic runs on a road of a class.
func flowOf(c network.Class) drive.Flow {
	if c == network.Freeway || c == network.Trunk {
		return drive.Free
	}
	return drive.Broken
}

// Leg drives the rig along the pieces of a leg, after all legs before.
func (d *Driver) Leg(pieces []network.Piece) Fuel {
	from := len(d.driven)
	d.driven = d.sections(pieces, d.driven)
	if !d.pulled.Known() {
		return Fuel{Unknown: d.pulled.Why()}
	}
	run := d.vehicle.Over(d.driven[from:], d.weather, 0)
	d.run = d.run.Add(run)
	out := Fuel{Burn: run.Fuel}
	if run.Unknown > 0 {
		out.Unknown = noSpeed()
	}
	return out
}

func noSpeed() say.Remark { return say.That("road.no_speed") }

// NoRoad is why nothing is known of a gap.
func NoRoad() say.Remark { return say.That("road.unmatched") }
