package paper

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"wayhouse/api/draw"
	"wayhouse/api/report"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
	"wayhouse/routing/trip/timetable"
)

// day is what is done on one day.
type day struct {
	head    say.Remark
	details []say.Remark
	marks   []mark
	drives  bool
}

// mark is one thing on the way that a driver does, passes or heeds.
type mark struct {
	at   measure.Distance
	says say.Remark
	far  measure.Distance // how far it goes on; 0: not said
	loud bool
	rank int // of those at one place

	around *trip.Site // to draw; nil: nothing is
}

// days cuts a trip into days, by its timetable; into one where it has none.
func (m *making) days(t *trip.Plan) (out []day) {
	marks := along(t)
	if t.Timetable == nil {
		from, to := t.Ends()
		return []day{{head: say.That("paper.day", "day", m.In.Weekday(t.Departure), "from", from, "to", to,
			"leaves", m.In.Clock(t.Departure)), marks: marks, drives: true}}
	}
	for i, d := range t.Timetable.Days {
		one := day{head: report.DayHead(m.In, t, d), details: slices.Concat(
			report.Doubts(t, t.Timetable.On(d)), report.DayDetails(m.In, t, d))}
		from, until := measure.Distance(0), measure.Distance(0)
		for _, e := range t.Timetable.On(d) {
			if e.Kind == timetable.Driving && !one.drives {
				from, one.drives = e.Begins, true
			}
			until = max(until, e.Ends)
		}
		for len(marks) > 0 && one.drives && (marks[0].until(until) || i == len(t.Timetable.Days)-1) {
			one.marks, marks = append(one.marks, marks[0]), marks[1:]
		}
		one.resume(from)
		out = append(out, one)
	}
	if len(marks) > 0 { // what the timetable does not come past is told all the same
		out = append(out, day{head: say.That("paper.not_in_days"), marks: marks, drives: true})
	}
	return out
}

// until reports whether a mark lies before an end, or on it; leaving it is after it.
func (m mark) until(end measure.Distance) bool {
	return m.at < end-1 || m.at <= end+1 && m.rank != leaving
}

// Ranks of marks at one place: the others have none.
const (
	arriving = -2
	leaving  = -1
)

// resume says where a day goes on that does not begin at a stop.
func (d *day) resume(from measure.Distance) {
	if d.drives && from > 0 && (len(d.marks) == 0 || d.marks[0].at-from > besides) {
		d.marks = slices.Insert(d.marks, 0, mark{at: from, says: say.That("paper.resume")})
	}
}

// day writes a day: when it begins and ends, and everything on its way in order.
func (m *making) day(t *trip.Plan, d day) {
	m.heading(d.head)
	if len(d.details) > 0 {
		m.add(List{Items: m.In.Each(d.details)})
	}
	var rows []Row
	for _, one := range d.marks {
		far := "–"
		if one.far > 0 {
			far = m.In.Alone(one.far)
		}
		row := Row{Cells: []string{m.In.Alone(one.at), far, m.say(one.says)}, Loud: one.loud}
		if one.around != nil {
			row.Picture = draw.Turn(m.In, t, *one.around)
			row.Says = m.say(say.That("paper.map", "at", one.at))
		}
		rows = append(rows, row)
	}
	m.table(rows, []float64{0.14, 0.14, 0.52, 0.2}, say.That("paper.head_at"), say.That("paper.head_far"),
		say.That("paper.head_what"), say.That("paper.head_map", "reach", draw.TurnReach))
}

// along is all that a driver heeds, in the order of the way.
func along(t *trip.Plan) []mark {
	var out []mark
	out = append(out, atLegs(t)...)
	if t.Road != nil {
		out = append(out, turnsOf(t)...)
		out = append(out, ofRoad(t.Road)...)
	}
	slices.SortStableFunc(out, func(a, b mark) int { return cmp.Or(cmp.Compare(a.at, b.at), a.rank-b.rank) })
	return out
}

// atLegs are the ends of legs, what stands over them, and where no road is known.
func atLegs(t *trip.Plan) (out []mark) {
	var at measure.Distance
	stops := map[string]bool{}
	for i := range calls(t) {
		stops[t.StopCalled(i).String()] = true
	}
	for i, l := range t.Legs {
		if i == 0 || stops[l.From.String()] {
			out = append(out, mark{at: at, rank: leaving, says: say.That("paper.leaves", "from", l.From)})
		}
		if l.Unmatched {
			out = append(out, mark{at: at, loud: true, says: say.That("paper.no_road", "length", l.Length)})
		}
		for _, s := range l.Structures {
			out = append(out, mark{at: at + s.At, says: passes(s), loud: s.Outcome != finding.Clear,
				around: siteOf(t.Sites, at+s.At, s.Point)})
		}
		at += l.Length
		switch {
		case i == len(t.Legs)-1 || stops[l.To.String()]:
			out = append(out, mark{at: at, rank: arriving, says: say.That("paper.arrives", "to", l.To)})
		case !slices.Equal(l.Jurisdictions, t.Legs[i+1].Jurisdictions): // where it is parked, its day tells
			out = append(out, mark{at: at, rank: arriving, says: l.To})
		}
	}
	return out
}

// siteOf is a place to look at before that lies where a mark does; nil: none.
func siteOf(sites []trip.Site, at measure.Distance, point orb.Point) *trip.Site {
	i := slices.IndexFunc(sites, func(s trip.Site) bool { return s.At == at && s.Point == point })
	if i < 0 {
		return nil
	}
	return &sites[i]
}

// calls is how many stops a timetable reaches.
func calls(t *trip.Plan) int {
	if t.Timetable == nil {
		return 0
	}
	return len(t.Timetable.Calls)
}

// passes is a structure with its clear height and what is left above the rig.
func passes(s standing.Passing) say.Remark {
	figure, of := s.Structure.Figure()
	if figure == nil || !s.Known {
		return say.That("paper.passes_unmeasured", "state", state(s.Outcome), "called", s.Called)
	}
	var left, short any
	if s.Margin >= 0 {
		left = s.Margin
	} else {
		short = -s.Margin
	}
	return say.That(
		"paper.passes",
		"state",
		state(s.Outcome),
		"called",
		s.Called,
		"of",
		of,
		"figure",
		*figure,
		"left",
		left,
		"short",
		short,
		"reason",
		s.Reason,
	)
}

// ofRoad is what the road does to the rig besides its turns.
func ofRoad(r *driving.Drive) (out []mark) {
	tell := func(s driving.Spot, loud bool, says say.Remark) {
		out = append(out, mark{at: s.At, says: says, loud: loud})
	}
	for _, one := range r.Corners {
		if !slices.ContainsFunc(r.Moves, func(m driving.Move) bool { return near(m.Spot, one.Spot) }) {
			tell(one.Spot, false, say.That("paper.corner", "left", one.Turn < 0, "takes", takes(one)))
		}
	}
	for _, one := range r.UTurns {
		tell(one.Spot, true, say.That("paper.u_turn", "from", one.Road, "onto", one.Onto))
	}
	for _, one := range r.Slower() {
		tell(one.Spot, true, say.That("paper.curve", "speed", one.Speed))
	}
	for _, one := range r.Climbs {
		tell(one.Spot, false, say.That("paper.climb", "percent", 100*one.Grade, "length", one.Length, "stuck", one.Stuck,
			"speed", one.Speed))
	}
	for _, one := range r.Descents {
		tell(one.Spot, true, say.That("paper.descent", "percent", 100*one.Grade, "length", one.Length))
	}
	for _, one := range r.Grounds {
		tell(one.Spot, true, say.That("paper.ground", "kind", one.Kind))
	}
	for _, one := range r.Tank.Stops {
		tell(one, true, say.That("paper.fill_up"))
	}
	return out
}
