package sweep

import "math"

// A tracer is a point of the rig on its way past the stations.
type tracer struct {
	last vec
	next int // the first station that it has not passed
}

// A trail is what a point of the rig leaves at the stations that it passes in one step.
type trail struct {
	low, high   float64 // the range of its offsets, 0 included
	right, left float64 // how far it goes beyond the unit's sides at its axles there, and beyond half its width
}

// pass moves a point of the rig and returns the trail that it leaves.
func (d *Driver) pass(i int, to vec) (out trail) {
	t := &d.tracers[i]
	for ; t.next < len(d.stations); t.next++ {
		s := &d.stations[t.next]
		at, after := to, to.sub(s.at).dot(s.along)
		if after < 0 && !d.cuts(t.next, to) {
			break
		}
		if after >= 0 {
			at = t.last
			if before := at.sub(s.at).dot(s.along); before < 0 {
				at = at.add(to.sub(at).times(before / (before - after)))
			}
		}
		offset := d.offset(s, at)
		s.low, s.high = min(s.low, offset), max(s.high, offset)
		out.low, out.high = min(out.low, offset), max(out.high, offset)
		switch i {
		case axleLeft, axleRight:
			s.right, s.left = max(s.right, -offset), max(s.left, offset)
		case rearLeft, rearRight:
			out.right = max(out.right, -offset-max(d.half, s.right))
			out.left = max(out.left, offset-max(d.half, s.left))
		}
	}
	t.last = to
	return out
}

// cuts reports whether a point before the normal of a station has passed the
// station all the same, because it cut across the centre of a bend and is
// nearer to a later one.
func (d *Driver) cuts(i int, at vec) bool {
	to := at.sub(d.stations[i].at)
	if math.Abs(d.stations[i].along.cross(to)) <= d.tightest {
		return false
	}
	_, nearest := d.nearest(at, to.length())
	return nearest > i
}

// offset returns the signed distance from the path, left positive, of a point
// on the normal of a station. That is the distance along the normal, unless it
// is more than the radius of the tightest bend: then another place of the path
// near the rig may be nearer and counts instead.
func (d *Driver) offset(s *station, at vec) float64 {
	along := s.along.cross(at.sub(s.at))
	if math.Abs(along) <= d.tightest {
		return along
	}
	distance, _ := d.nearest(at, math.Abs(along))
	return math.Copysign(distance, along)
}

// nearest returns the station nearest to a point of the rig among those within
// two rig lengths of the front axle, and its distance; or the bound and -1 if
// none is nearer than that. Stations that cannot be nearer, because the path is
// too short to get there, are skipped.
func (d *Driver) nearest(at vec, bound float64) (distance float64, index int) {
	index = -1
	from := d.stations[d.front].s
	for way := -1; way <= 1; way += 2 {
		for k := d.front; 0 <= k && k < len(d.stations) && math.Abs(d.stations[k].s-from) <= 2*d.reach; {
			there := d.stations[k].at.sub(at).length()
			if there < bound {
				bound, index = there, k
			}
			k += way * (1 + int((there-bound)/stationStep))
		}
	}
	return bound, index
}
