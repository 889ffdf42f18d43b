package osm

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// layRoads adds the edges of every road.
func (b *build) layRoads(ctx context.Context) error {
	b.countArms()
	b.nodeOf = make([]network.NodeID, len(b.ids))
	for i := range b.nodeOf {
		b.nodeOf[i] = -1
	}
	edges := 0
	for i := range b.roads {
		if i%4096 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if b.options.Progress != nil {
				b.options.Progress("roads", int64(i), int64(len(b.roads)))
			}
		}
		r := &b.roads[i]
		r.first = edges
		for _, run := range b.runs(r) {
			if err := b.lay(r, run); err != nil {
				return err
			}
		}
		if edges += r.edges; r.edges > 0 {
			b.report.Roads++
		}
	}
	if b.options.Progress != nil {
		b.options.Progress("roads", int64(len(b.roads)), int64(len(b.roads)))
	}
	return nil
}

// runs splits a road where its nodes are in no extract, and drops nodes that
// repeat the one before.
func (b *build) runs(r *road) (out [][]int32) {
	var run []int32
	cut := false // the node before is in no extract
	flush := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for _, ref := range r.refs {
		i := b.number(ref)
		if b.missing(i) {
			b.report.MissingNodes++
			if len(run) > 0 {
				b.cutOff = append(b.cutOff, run[len(run)-1])
			}
			cut = true
			flush()
			continue
		}
		if len(run) > 0 && (run[len(run)-1] == i || b.point[run[len(run)-1]] == b.point[i]) {
			switch last := run[len(run)-1]; {
			case last == i:
			case b.uses[i] > 1 && b.uses[last] < 2: // of two nodes at one place the junction counts
				run[len(run)-1] = i
				b.alias(i, last)
			case b.uses[i] > 1: // two junctions at one place: an edge without length joins them
				run = append(run, i)
			default:
				b.alias(last, i)
			}
			continue
		}
		if cut {
			b.cutOff = append(b.cutOff, i)
			cut = false
		}
		run = append(run, i)
	}
	flush()
	return out
}

// alias lets one node stand for another at its place.
func (b *build) alias(kept, dropped int32) {
	b.standIn[dropped] = kept
	if ref := b.ids[dropped]; !slices.Contains(b.aliases[kept], ref) {
		b.aliases[kept] = append(b.aliases[kept], ref)
	}
}

// lay adds the edges of a run of nodes.
func (b *build) lay(r *road, run []int32) error {
	var climb *climber
	if b.options.Terrain != nil {
		climb = newClimber(b.options.Terrain, b.points(run), r.flags.Has(network.OnBridge) || r.flags.Has(network.InTunnel))
	}
	if r.ferry > 0 {
		r.speed = measure.Speed(float64(geodesic.Length(b.points(run))) / r.ferry)
	}
	start := 0
	for i := 1; i < len(run); i++ {
		if i == len(run)-1 || b.uses[run[i]] > 1 {
			if err := b.stretch(r, run[start:i+1], climb); err != nil {
				return err
			}
			start = i
		}
	}
	return nil
}

func (b *build) points(run []int32) []orb.Point {
	out := make([]orb.Point, len(run))
	for i, n := range run {
		out[i] = b.point[n]
	}
	return out
}

func (b *build) node(i int32) network.NodeID {
	if b.nodeOf[i] < 0 {
		b.nodeOf[i] = b.builder.Node(b.point[i])
	}
	return b.nodeOf[i]
}

// stretch adds a part of a road between two junctions, cut at borders.
func (b *build) stretch(r *road, run []int32, climb *climber) error {
	line, cuts, areas := b.borders.cut(b.points(run))
	things := b.things(r, run)
	from, begin := b.node(run[0]), 0
	for k, at := range append(cuts, len(line)-1) {
		if at == begin {
			continue
		}
		to := b.node(run[len(run)-1])
		if at < len(line)-1 {
			to = b.builder.Node(line[at])
		}
		part := line[begin : at+1]
		grade := climb.over(part)
		e, err := b.builder.Edge(network.Edge{
			From: from, To: to, Line: part, Class: r.class, Speed: r.speed, Road: r.record, Ref: r.ref, Name: r.name,
			Jurisdictions: areas[k].codes, Zone: areas[k].zone, Town: areas[k].town, Local: areas[k].local,
			Origin: r.id, Grade: grade,
		})
		if err != nil {
			return err
		}
		things = b.place(e, part, things, at == len(line)-1)
		b.whole(r, e)
		b.placeControls(e, part, run)
		r.edges++
		length := float64(geodesic.Length(part)) / 1000
		if grade.Known == 0 {
			b.report.KilometresClimbUnknown += length
		}
		if r.trucks {
			b.report.KilometresForTrucks += length
		}
		b.report.KilometresByClass[r.class.String()] += length
		b.report.KilometresByJurisdiction[cmp.Or(strings.Join(areas[k].codes, "/"), "unknown")] += length
		from, begin = to, at
	}
	return nil
}
