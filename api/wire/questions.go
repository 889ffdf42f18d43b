package wire

import (
	"cmp"
	"reflect"
	"slices"
	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
	"wayhouse/routing/trip"
)

// RouteRequest asks for the ways of a trip and not only for one. For a given
// route there is only the difference from the best way.
type RouteRequest struct {
	TripRequest
	Alternatives int  `json:"alternatives,omitempty" minimum:"0" maximum:"3" doc:"How many ways beside the best one"`
	Reasons      bool `json:"reasons,omitempty" doc:"Say what bent the way, and what that costs"`
}

// Read reads what [TripRequest.Read] does.
func (q RouteRequest) Read(k Known) (trip.RouteRequest, error) {
	request, err := q.TripRequest.Read(k)
	return trip.RouteRequest{Request: request, Alternatives: q.Alternatives, Reasons: q.Reasons}, err
}

// LadderRequest asks how large a rig may be on each way past its stops. It
// takes no route, and needs nothing about avoid_unmeasured: the answer has both.
type LadderRequest struct {
	TripRequest
	Quantity LadderQuantity `json:"quantity,omitempty" doc:"What to climb in; height when left out"`
}

// Read reads what [TripRequest.Read] does.
func (q LadderRequest) Read(k Known) (trip.Request, error) {
	r := k.reader()
	if q.AvoidUnmeasured {
		r.fail("avoid_unmeasured", true, say.That("error.nothing_to_ask_of"), say.That("fix.leave_it_out_there"))
	}
	if q.AnyOrder {
		r.fail("any_order", true, say.That("error.nothing_to_ask_of"), say.That("fix.leave_it_out"))
	}
	return q.TripRequest.read(r, k)
}

// Climbs is the quantity to climb in.
func (q LadderRequest) Climbs() rig.Quantity { return cmp.Or(rig.Quantity(q.Quantity), rig.Height) }

// RigDescription describes a rig: what is left out is unknown.
type RigDescription struct {
	Invented bool        `json:"invented,omitempty" doc:"The rig is an example"`
	Unit     UnitRequest `json:"unit"`
	Tow      *TowRequest `json:"tow,omitempty"`
	Rig      *RigRequest `json:"rig,omitempty" doc:"Measurements of the whole rig, where no tow vehicle is described"`
	Use      Use         `json:"use,omitempty"`
}

// RigQuestion asks what a rig weighs, how it stands, pulls and turns; with stops
// or a route, on that way too.
type RigQuestion struct {
	TripRequest
	In  []string `json:"in,omitempty" maxItems:"100"`
	Day string   `json:"day,omitempty" format:"date" doc:"The day of the move; today when left out"`
	// Corner is tried without a way.
	Corner *CornerRequest `json:"corner,omitempty" doc:"A corner, a driveway or a gate to try the rig in"`
}

// Read reads the rig on its day, and the jurisdictions that are asked about; Alone is
// not asked.
func (q RigQuestion) Read(k Known) (out RigAsked, err error) {
	r := k.reader()
	coupled, whole := r.coupled(q.Unit, q.Tow, q.Rig, q.Use)
	in := r.conditions(q.Conditions)
	coupled.WindwardShare = in.WindwardShare
	if in.Kelvins != nil {
		coupled.WindKelvins = *in.Kelvins
	}
	out.Day = r.day(k.Now, q.Day)
	r.measuredBefore(out.Day, q.Unit)
	out.Rig = coupled.On(out.Day)
	out.Rig.Invented = invented(q.Invented, q.Unit, q.Tow)
	if len(q.In) > 0 {
		out.Codes = r.within("in", q.In, k)
	}
	out.Done = slices.Concat(coupled.Unit.Done, r.done("done", q.Done))
	out.Corner = r.tried(q.Corner)
	if len(r.errs) > 0 {
		return out, Refuse(r.errs...)
	}
	return out, confirmed(coupled.Unit, whole, q.Confirm)
}

// Drives reports whether the question asks about a way too.
func (q RigQuestion) Drives() bool { return len(q.Stops) > 0 || q.Route != nil }

// CheckRequest is a design to check, without a route. Without any size it asks how
// large a unit may be.
type CheckRequest struct {
	Invented       bool            `json:"invented,omitempty" doc:"The rig is an example"`
	Unit           UnitRequest     `json:"unit,omitzero"`
	Tow            *TowRequest     `json:"tow,omitempty"`
	Rig            *RigRequest     `json:"rig,omitempty"`
	Use            Use             `json:"use,omitempty"`
	In             []string        `json:"in,omitempty" maxItems:"100"`
	Everywhere     bool            `json:"everywhere,omitempty"`
	Quantities     []LegalQuantity `json:"quantities,omitempty" maxItems:"20" doc:"Only these; all when left out"`
	Day            string          `json:"day,omitempty" format:"date" doc:"The day of the move; today when left out"`
	Permits        bool            `json:"permits,omitempty" doc:"List what permits to ask for, too"`
	TablesRevision int             `json:"tables_revision,omitempty" minimum:"0"`
	Confirm        []string        `json:"confirm,omitempty"`
	Done           []DoneRequest   `json:"done,omitempty" maxItems:"500" doc:"What was answered of tasks of this check"`
}

// RigAsked is a question about a rig as it was read. Alone is set where nothing is
// known of what tows but its form: then the rig is the unit by itself.
type RigAsked struct {
	Rig   rig.Rig
	Codes []string
	Day   time.Time
	Alone bool
	Only  []limit.Quantity // what is asked about; none: all
	Done  []task.Done
	// Corner is a place to try the rig in; nil: none.
	Corner *sweep.Place
}

// Read reads the rig, the jurisdictions and the day.
func (q CheckRequest) Read(k Known) (out RigAsked, err error) {
	r := k.reader()
	coupled, whole := r.coupled(q.Unit, q.Tow, q.Rig, q.Use)
	out.Day = r.day(k.Now, q.Day)
	r.measuredBefore(out.Day, q.Unit)
	out.Codes, out.Done = r.within("in", q.In, k), slices.Concat(coupled.Unit.Done, r.done("done", q.Done))
	switch {
	case len(q.In) == 0 && !q.Everywhere:
		r.fail("in", nil, say.That("error.no_jurisdiction_is_given"), say.That("fix.give_some_such_as"))
	case len(q.In) > 0 && q.Everywhere:
		r.fail("everywhere", true, say.That("error.stands_beside_jurisdictions"), say.That("fix.give_one_of_the"))
	}
	if len(r.errs) > 0 {
		return out, Refuse(r.errs...)
	}
	for _, only := range q.Quantities {
		out.Only = append(out.Only, limit.Quantity(only))
	}
	if out.Rig, out.Alone = coupled, q.Rig == nil && unmeasured(q.Tow); out.Alone {
		out.Rig = coupled.Alone()
	}
	out.Rig.Invented = invented(q.Invented, q.Unit, q.Tow)
	return out, confirmed(coupled.Unit, whole, q.Confirm)
}

// unmeasured reports whether nothing is said of a tow vehicle but what it is.
func unmeasured(t *TowRequest) bool {
	return t == nil || t.Form != "" && reflect.DeepEqual(*t, TowRequest{Form: t.Form})
}

// day reads the day of a move; today where none is given.
func (r *reader) day(today time.Time, text string) time.Time {
	if text == "" {
		return today
	}
	day := r.date("day", text)
	if !day.IsZero() {
		r.move("day", text, day)
	}
	return day
}
