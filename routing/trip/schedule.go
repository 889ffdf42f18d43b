package trip

import (
	"time"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/timetable"
)

// stage is a run of a cut that is driven without standing for long: it becomes a leg. Times
// are zero where the trip has no timetable.
type stage struct {
	cut        int
	pieces     []network.Piece
	start, end time.Time        // likely
	slow, late time.Time        // the same of a slow trip, as planned
	hours      *timetable.Hours // when it may be driven; nil: at any hour

	drive, section int     // where it begins
	share          float64 // of the section that is behind it
	on             bool    // it goes on in the cut of the stage before, where the rig stood
}

// standsLong is how long a rig stands on its way before a new leg begins: our choice.
const standsLong = time.Hour

// schedule makes the timetable of ways, and the stages that it cuts them into. Where a part
// has no known time, or no hours let the rig go on, the stages are the cuts themselves.
func (b *builder) schedule(ways []way, cuts []cut) (*Timetable, []stage, error) {
	s, j, ok := b.journey(ways, cuts)
	if !ok || b.plan.Waits {
		return nil, unscheduled(cuts), nil
	}
	table := b.along
	if table == nil {
		var err error
		if table, err = timetable.Plan(j); err != nil {
			return nil, nil, err
		}
	}
	t := &Timetable{Journey: j, Table: *table}
	if m := table.Missed; m != nil && m.Never {
		return t, unscheduled(cuts), nil
	}
	if b.along == nil {
		if err := s.atPlaces(t); err != nil {
			return nil, nil, err
		}
	}
	return t, s.stages(t), nil
}

func unscheduled(cuts []cut) (out []stage) {
	for i, c := range cuts {
		out = append(out, stage{cut: i, pieces: c.pieces})
	}
	return out
}

// stages cuts the cuts where the rig stands for long on its way, and has the entries of the
// table name them.
func (s *scheduling) stages(t *Timetable) (out []stage) {
	begins := s.begins()
	stood, likely := false, t.Departure
	for i := range t.Entries {
		e := &t.Entries[i]
		if e.Drive >= 0 {
			of := s.drives[e.Drive][e.Section]
			on := len(out) > 0 && out[len(out)-1].cut == of.cut
			if !on || stood {
				long := lengthOf(of.pieces)
				out = append(out, stage{cut: of.cut, drive: e.Drive, section: e.Section, on: on,
					share: float64((e.Begins - begins[e.Drive][e.Section]) / max(long, 1e-9)),
					hours: t.Journey.Drives[e.Drive][e.Section].Hours})
			}
			last := &out[len(out)-1]
			e.Leg, stood = len(out)-1, last.takes(*e, likely)
		}
		likely = e.Likely
	}
	for i := range out {
		out[i].pieces = s.piecesOf(out, i)
	}
	return out
}

// takes notes the times of an entry on the way, and reports whether the rig then stood for
// long.
func (s *stage) takes(e timetable.Entry, likely time.Time) bool {
	switch e.Kind {
	case timetable.Driving, timetable.Ferry:
		if s.start.IsZero() {
			s.start, s.slow = likely, e.From
		}
		s.end, s.late = e.Likely, e.To
		return false
	default:
		return !s.start.IsZero() && e.To.Sub(e.From) >= standsLong
	}
}

// stands reports whether the rig stands on its way for long before the next stage.
func (s *stage) stands(next stage) bool {
	return !s.late.IsZero() && next.drive == s.drive && next.slow.Sub(s.late) >= standsLong
}

// begins is how far along the journey each section begins.
func (s *scheduling) begins() (out [][]measure.Distance) {
	var at measure.Distance
	for _, drive := range s.drives {
		var of []measure.Distance
		for _, one := range drive {
			of = append(of, at)
			at += lengthOf(one.pieces)
		}
		out = append(out, of)
	}
	return out
}

// piecesOf is the road of a stage: to where the next one goes on in its cut, or to the end of
// that.
func (s *scheduling) piecesOf(stages []stage, i int) (out []network.Piece) {
	this := stages[i]
	last, share := len(s.drives[this.drive])-1, 1.0
	if i+1 < len(stages) && stages[i+1].on {
		last, share = stages[i+1].section, stages[i+1].share
	}
	for k := this.section; k <= last; k++ {
		of := s.drives[this.drive][k]
		if of.cut != this.cut {
			break
		}
		from, to := 0.0, 1.0
		if k == this.section {
			from = this.share
		}
		if k == last {
			to = share
		}
		out = append(out, of.between(from, to)...)
	}
	return out
}
