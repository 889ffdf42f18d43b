package report

import (
	"io"
	"strconv"

	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// Moves writes how one crew moves several units as plain text: one screen of it, one
// subject, or all. attributions are the credits of the data, a line each.
func Moves(w io.Writer, v View, m *trip.Moves, attributions []string) error {
	if v.Why != "" {
		return why(w, v, subjects(m.Plan), m.Tasks())
	}
	s := movesScreen(v, m)
	if v.Full {
		s.grounds(m.Assumptions, m.Cautions, m.About, m.Tables, attributions)
	}
	return s.write(w, v)
}

// movesScreen is the answer on one screen: what is moved in which order, what that comes to,
// every run with its own answer, the days of the crew, and what to do next.
func movesScreen(v View, m *trip.Moves) *screen {
	s := &screen{in: v.In, full: v.Full}
	s.whole().briefly(say.That("moves.title", "invented", m.RestsOnInvented(), "n", len(m.Order)))
	s.part(say.That("moves.label.order")).keeps(moveOrder(m))
	s.verdict(m.Plan, decisive)
	s.runs(m)
	s.part(say.That("moves.label.way")).keeps(say.That("moves.way", "length", m.Length, "loaded", m.Loaded,
		"empty", m.Empty, "time", drivingTime(m.Time.Duration, m.Time.Unknown), "slow", ifSlow(m.Time)))
	if m.Timetable != nil {
		s.days(m.Plan)
	} else {
		s.part(say.That("screen.label.times")).keeps(say.That("moves.no_timetable"))
	}
	if !m.Steady {
		s.part(say.Remark{}).keeps(say.That("moves.not_at_its_hours"))
	}
	s.roads(m.About)
	s.tasks(m.Tasks())
	s.foot(s.examples(m.Plan))
	s.credit(m.About)
	return s
}

// moveOrder says in which order the units are moved, and whether another is better.
func moveOrder(m *trip.Moves) say.Remark {
	never, late := false, any(nil)
	if m.Given != nil {
		never, late = m.Given.Given.Never, above0(m.Given.Given.Late-m.Given.Chosen.Late)
	}
	return say.That("moves.order", "ids", m.IDs(), "sought", m.Given != nil, "sure", m.Sure, "never", never, "saves", late)
}

// How many runs are candidates for a screen, and how many stay.
const (
	someRuns = 18
	sureRuns = 9
)

// runs writes a row for each run.
func (s *screen) runs(m *trip.Moves) {
	part := s.apart(say.That("moves.label.runs"))
	part.head(say.That("moves.column.unit"), say.That("moves.column.from"), say.That("moves.column.to"),
		say.That("screen.column.length"), say.That("screen.column.time"), say.That("moves.column.answer"))
	shown := s.some(someRuns, len(m.Runs))
	for i, r := range m.Runs {
		if i >= shown {
			part.hides(len(m.Runs) - shown)
			break
		}
		unit := s.clip(r.ID)
		if r.Move < 0 {
			unit = s.in.Say(say.That("moves.alone"))
		}
		answer := say.That("moves.answer", "state", stateOf(r.Plan.Verdict.Outcome()), "unknowns", r.Plan.Verdict.Unknowns)
		part.row(i < sureRuns, strconv.Itoa(i+1), unit, s.name(r.From), s.name(r.To), s.in.Alone(r.Plan.Length),
			s.driving(r.Plan.Time), s.in.Say(answer))
	}
}
