package wire

import (
	"wayhouse/api/phrase"
	"wayhouse/routing/trip"
)

// Moves is how one crew moves several units.
type Moves struct {
	Mark       string     `json:"mark,omitempty" doc:"INVENTED where any of it rests on invented data"`
	Notice     string     `json:"notice" doc:"The first thing to read"`
	Verdict    Verdict    `json:"verdict" doc:"Of all runs together"`
	Order      MoveOrder  `json:"order" doc:"In which units are moved"`
	LengthM    float64    `json:"length_m"`
	LoadedM    float64    `json:"loaded_m" doc:"Of it with a unit"`
	EmptyM     float64    `json:"empty_m" doc:"Of it with the tow vehicle alone"`
	DrivingS   *float64   `json:"driving_s"`
	SlowS      *float64   `json:"driving_slow_s"`
	DrivingWhy string     `json:"driving_unknown,omitempty"`
	Timetable  *Timetable `json:"timetable" doc:"Of the crew over all runs; its legs are those of all, in a row"`
	AtItsHours bool       `json:"at_its_hours" doc:"Every run was asked about at the hours of the timetable"`
	Runs       []MoveRun  `json:"runs" doc:"In the order in which they are driven"`
	Tasks      Tasks      `json:"tasks" doc:"What is to be done about what is not clear"`
	Network    Network    `json:"network"`
	Edition
	Cautions     []string      `json:"cautions"`
	Attributions []Attribution `json:"attributions"`
}

// MoveOrder is the order in which units are moved.
type MoveOrder struct {
	Moves []string `json:"moves" doc:"Their ids"`
	Best  bool     `json:"best" doc:"No other order is better as far as times are known, or none was asked for"`
	LateS *float64 `json:"late_s" doc:"After all deadlines together; null where no order was sought"`
	Given *float64 `json:"given_late_s" doc:"The same of the order of the list; null where it never ends"`
}

// MoveRun is a part that is driven with one unit, or with none.
type MoveRun struct {
	ID      string `json:"id,omitempty" doc:"Of the move; left out of the tow vehicle alone"`
	Loaded  bool   `json:"loaded" doc:"It moves a unit"`
	From    string `json:"from"`
	To      string `json:"to"`
	First   int    `json:"first_stop" doc:"Of the timetable, from 1"`
	Last    int    `json:"last_stop" doc:"Of the timetable, from 1"`
	Planned *Trip  `json:"plan" doc:"As /v1/trips answers"`
}

// NewMoves puts moves into their wire form.
func NewMoves(in *phrase.Language, m *trip.Moves) *Moves {
	tell := teller{in}
	out := &Moves{
		Mark: mark(m.RestsOnInvented()), Notice: tell.Sentences(m.Notice()), Verdict: tell.newVerdict(m.Verdict),
		Order: newMoveOrder(m), LengthM: round(float64(m.Length)), LoadedM: round(float64(m.Loaded)),
		EmptyM: round(float64(m.Empty)), AtItsHours: m.Steady, Tasks: tell.newTasks(m.Tasks()),
		Network: tell.newNetwork(m.About), Edition: NewEdition(m.Tables), Cautions: tell.Each(m.Cautions),
		Attributions: Credits(tell.Language, m.About, false),
	}
	out.DrivingS, out.DrivingWhy = tell.newDuration(m.Time)
	out.SlowS = newSlow(m.Time)
	out.Timetable = tell.newTimetable(m.Plan, out.Mark)
	for _, r := range m.Runs {
		out.Runs = append(out.Runs, MoveRun{
			r.ID, r.Move >= 0, tell.Say(r.From), tell.Say(r.To), r.First + 1, r.Last + 1, NewTrip(in, r.Plan),
		})
	}
	return out
}

func newMoveOrder(m *trip.Moves) MoveOrder {
	out := MoveOrder{Moves: m.IDs(), Best: m.Sure}
	if m.Given == nil {
		return out
	}
	late := lasts(m.Given.Chosen.Late)
	out.LateS = &late
	if !m.Given.Given.Never {
		given := lasts(m.Given.Given.Late)
		out.Given = &given
	}
	return out
}
