package regs

import (
	"slices"
	"time"

	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/trucks"
	"wayhouse/regs/window"
)

// Obstacles says why on a day a row of a table cannot clear anything, be it read
// and verified that day; none where nothing but the vehicle and the road decide,
// for a row that there is not, and for tables whose rows clear nothing by nature.
func (t *Tables) Obstacles(table, id string, at time.Time) []say.Remark {
	switch table {
	case limit.Table().Name:
		if r := withID(t.given.Limits, id, func(r *limit.Row) string { return r.ID }); r != nil {
			return t.limitObstacles(r, at)
		}
	case window.HoursTable().Name:
		if r := withID(t.given.Hours, id, func(r *window.Hours) string { return r.ID }); r != nil {
			return append(standing(obstacle{say.That("row.no_hours"), r.Open == nil}),
				t.proofObstacles(r.ID, r.Jurisdiction, r.Proof, at)...)
		}
	case clearance.Structures().Name:
		if s := withID(t.given.Clearances, id, func(s *clearance.Structure) string { return s.ID }); s != nil {
			return t.structureObstacles(s, at)
		}
	case duty.Table().Name:
		if r := withID(t.given.Duty, id, func(r *duty.Row) string { return r.ID }); r != nil {
			return append(standing(obstacle{say.That("row.note_to_read", "note", r.Note), r.Note != ""}),
				t.proofObstacles(r.ID, r.Jurisdiction, r.Proof, at)...)
		}
	case trucks.Table().Name:
		if r := withID(t.given.Trucks, id, func(r *trucks.Row) string { return r.ID }); r != nil {
			return t.proofObstacles(r.ID, r.Jurisdiction, r.Proof, at)
		}
	}
	return nil
}

// obstacle is a reason that stands in the way if it holds.
type obstacle struct {
	why   say.Remark
	holds bool
}

func standing(all ...obstacle) []say.Remark {
	var out []say.Remark
	for _, o := range all {
		if o.holds {
			out = append(out, o.why)
		}
	}
	return out
}

func (t *Tables) proofObstacles(id, jurisdiction string, p rows.Proof, at time.Time) []say.Remark {
	return standing(
		obstacle{say.That("row.country"), len(jurisdiction) == 2},
		obstacle{say.That("row.rival"), rows.IsRival(id, p.Status)},
		obstacle{say.That("row.stale"), p.Stale(at, t.Term)}, obstacle{say.That("row.unverified"), !p.Status.Trusted()},
	)
}

// withID finds a row among rows that are by id.
func withID[T any](all []*T, id string, of func(*T) string) *T {
	i := slices.IndexFunc(all, func(r *T) bool { return of(r) == id })
	if i < 0 {
		return nil
	}
	return all[i]
}

func (t *Tables) limitObstacles(r *limit.Row, at time.Time) []say.Remark {
	b := appliedLimit{row: r, stale: r.Stale(at, t.Term)}
	b.rejections()
	return append(b.rejected, standing(
		obstacle{say.That("row.country"), len(r.Jurisdiction) == 2},
		obstacle{say.That("row.times", "when", r.Times.Says()), r.When != ""},
		obstacle{say.That("row.roads", "roads", r.Road), r.Road != "" || !r.Roads.Any()},
		obstacle{say.That("row.not_in_force"), !r.InForce(at)},
	)...)
}

func (t *Tables) structureObstacles(s *clearance.Structure, at time.Time) []say.Remark {
	figure, _ := s.Figure()
	old := s.Stale(at, t.Term, clearance.DefaultAllowances())
	return standing(
		obstacle{say.That("structure.no_figure"), figure == nil && s.Width == nil && s.Mass == nil},
		obstacle{say.That("structure.to_read", "words", s.Words+s.Wind), s.Words+s.Wind != ""},
		obstacle{say.Text(s.Doubt), s.Doubt != ""}, obstacle{old, !old.None()},
		obstacle{say.That("structure.no_place"), s.Unplaced}, obstacle{say.That("row.ended"), s.Expired(at)},
		obstacle{say.That("row.rival"), rows.IsRival(s.ID, s.Status)},
		obstacle{say.That("row.unverified"), !s.Status.Trusted()},
	)
}

// Blocked is the row of a quantity that comes nearest to clearing, and why it
// cannot.
type Blocked struct {
	Row       string
	Published string
	Status    finding.Status
	Why       []say.Remark
}

// Blocked tells of each quantity of a jurisdiction that has rows, none of which can
// clear on a day, what stands in the way of the nearest. That a row is about some
// vehicles only is no obstacle.
func (t *Tables) Blocked(code string, at time.Time) map[limit.Quantity]Blocked {
	out := map[limit.Quantity]Blocked{}
	for q, list := range t.rows[code] {
		if b, any := t.blocked(list, at); any {
			out[q] = b
		}
	}
	return out
}

func (t *Tables) blocked(list []*limit.Row, at time.Time) (nearest Blocked, blocked bool) {
	for _, r := range list {
		why := t.limitObstacles(r, at)
		if len(why) == 0 {
			return nearest, false
		}
		if !blocked || len(why) < len(nearest.Why) {
			nearest, blocked = Blocked{r.ID, r.Published, r.Status, why}, true
		}
	}
	return nearest, blocked
}
