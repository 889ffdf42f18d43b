package trip

import (
	"context"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/timetable"
)

// mostSearches is how often ways are sought again at the hours of their own timetable.
const mostSearches = 3

// atTrueHours seeks ways again at the hours of their timetable, where one came by a road
// that is shut at certain hours, until they stay what they are. What does not settle is for
// a person to decide.
func (b *builder) atTrueHours(ctx context.Context, found *choosing.Found) (*choosing.Found, error) {
	for range mostSearches {
		moved, err := b.rehearse(b.waysOf(found.Paths))
		if err != nil || !moved {
			return found, err
		}
		again, err := b.chooses.Best(ctx)
		if err != nil {
			return nil, err
		}
		same := slices.Equal(arcsDriven(found.Paths), arcsDriven(again.Paths))
		if found = again; same {
			return found, nil
		}
	}
	b.plan.Findings = append(b.plan.Findings, finding.Finding{
		Topic: finding.Sign, Rule: "hours of signs", Outcome: finding.Review, Reason: finding.Perhaps,
		Says: []say.Remark{say.That("sign.unsettled")}, Settles: b.stands.Office(),
	})
	return found, nil
}

// rehearse has the chooser go by the timetable of ways, and reports whether roads that are
// shut at certain hours are met at others than those of a drive without a rest.
func (b *builder) rehearse(ways []way) (moved bool, err error) {
	if !b.chooses.Timed {
		return false, nil
	}
	t, _, err := b.schedule(ways, b.cuts(ways))
	if err != nil || t == nil || t.Arrival.Slow.IsZero() || !t.stands() && t.Departure.Equal(b.departure) {
		return false, err
	}
	b.chooses.Then = t.clock()
	return true, nil
}

// stands reports whether the rig does anything but drive on its way.
func (t *Timetable) stands() bool {
	return t.Journey.Habits.NotDriven > 0 || slices.ContainsFunc(t.Entries, func(e timetable.Entry) bool {
		return e.Kind != timetable.Driving && e.Kind != timetable.Ferry
	})
}

func arcsDriven(paths []search.Path) (out []network.Arc) {
	for _, path := range paths {
		for _, p := range path.Pieces {
			out = append(out, p.Arc)
		}
	}
	return out
}

// clock is when the rig has likely driven for so long, not counting where it stands.
func (t *Timetable) clock() func(driven time.Duration) time.Time {
	type run struct {
		from, to time.Duration // driven
		at, over time.Time
	}
	var runs []run
	likely, driven := t.Departure, time.Duration(0)
	for _, e := range t.Entries {
		if e.Kind == timetable.Driving || e.Kind == timetable.Ferry {
			s := t.Journey.Drives[e.Drive][e.Section]
			long := time.Duration(float64(s.Likely) * float64(e.Ends-e.Begins) / max(float64(s.Length), 1e-9))
			at := likely
			if full := e.To.Sub(e.From); e.Likely.Sub(at) > full { // it waited for its hours to begin
				at = e.Likely.Add(-full)
			}
			runs = append(runs, run{driven, driven + long, at, e.Likely})
			driven += long
		}
		likely = e.Likely
	}
	return func(at time.Duration) time.Time {
		i := slices.IndexFunc(runs, func(r run) bool { return at <= r.to })
		if i < 0 {
			i = len(runs) - 1
		}
		r := runs[i]
		if at >= r.to || r.to == r.from {
			return r.over.Add(at - r.to)
		}
		return partWay(r.at, r.over, at-r.from, r.to-r.from)
	}
}
