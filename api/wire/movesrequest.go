package wire

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// MovesRequest asks how one crew moves several units.
type MovesRequest struct {
	Moves     []MoveRequest `json:"moves" minItems:"1" maxItems:"8" doc:"A trip for each unit"`
	BestOrder bool          `json:"best_order,omitempty" doc:"Move them in the best order, not in that of the list"`
	Base      string        `json:"base,omitempty" maxLength:"200"`
	Back      bool          `json:"back,omitempty" doc:"The crew returns to its base"`
	Begin     string        `json:"begin,omitempty" maxLength:"40"`
}

// MoveRequest is a unit to be moved: a trip, whose departure is when the unit may be taken at
// the earliest. Tow vehicle, crew and pace are those of the first.
type MoveRequest struct {
	ID string `json:"id,omitempty" maxLength:"80" doc:"A name of its own in the answer"`
	TripRequest
}

// Read reads what [TripRequest.Read] does of every move.
func (q MovesRequest) Read(k Known) (out trip.MovesRequest, err error) {
	r := k.reader()
	r.errs = slices.DeleteFunc(r.errs, func(e FieldError) bool { return strings.HasPrefix(e.Field, "moves[") })
	out.AnyOrder, out.Back = q.BestOrder, q.Back
	for i, m := range q.Moves {
		field := fmt.Sprintf("moves[%d].", i)
		r.sharesCrew(field, q.Moves[0], &m)
		request, err := m.TripRequest.Read(k.within(field))
		if refusal, ok := AsRefusal(err); ok {
			for _, e := range refusal.Errors {
				e.Field = field + e.Field
				r.errs = append(r.errs, e)
			}
		} else if err != nil {
			return out, err
		}
		id := m.ID
		if id == "" {
			id = fmt.Sprint(i + 1)
		}
		out.Moves = append(out.Moves, trip.Move{ID: id, Asks: request, Ready: m.Depart != ""})
	}
	if q.Base != "" {
		base := &reader{}
		if stops := base.stops([]StopRequest{{Place: q.Base}}, k.Places); len(stops) > 0 {
			out.Base = &stops[0]
		}
		for _, e := range base.errs {
			e.Field = "base"
			r.errs = append(r.errs, e)
		}
	} else if q.Back {
		r.fail("back", true, say.That("error.no_base"), say.That("fix.give_base"))
	}
	if q.Begin != "" {
		out.Departure, out.Local = r.clock("begin", q.Begin)
	}
	if len(r.errs) > 0 {
		return out, Refuse(r.errs...)
	}
	return out, nil
}

// sharesCrew gives a move what it leaves out of tow vehicle, crew and pace, and refuses others
// than those of the first.
func (r *reader) sharesCrew(field string, first MoveRequest, m *MoveRequest) {
	if m.Tow == nil {
		m.Tow = first.Tow
	}
	if m.Crew == nil {
		m.Crew = first.Crew
	}
	if m.Pace == nil {
		m.Pace = first.Pace
	}
	for name, same := range map[string]bool{
		"tow": reflect.DeepEqual(m.Tow, first.Tow), "crew": reflect.DeepEqual(m.Crew, first.Crew),
		"pace": reflect.DeepEqual(m.Pace, first.Pace), "tables_revision": m.TablesRevision == first.TablesRevision,
	} {
		if !same {
			r.fail(field+name, nil, say.That("error.not_that_of_the_first"), say.That("fix.leave_it_out"))
		}
	}
}

// within is what is known of a part of a request.
func (k Known) within(field string) Known {
	if k.Refused == nil {
		return k
	}
	part := *k.Refused
	part.Errors = nil
	for _, e := range k.Refused.Errors {
		if inside, ok := strings.CutPrefix(e.Field, field); ok {
			e.Field = inside
			part.Errors = append(part.Errors, e)
		}
	}
	k.Refused = &part
	return k
}
