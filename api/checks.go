package api

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/routing/trip"
)

// CheckRequest is a design to check, without a route.
type CheckRequest struct {
	Unit           UnitRequest `json:"unit"`
	Tow            *TowRequest `json:"tow,omitempty"`
	Rig            *RigRequest `json:"rig,omitempty"`
	Use            string      `json:"use,omitempty" enum:"commercial,private"`
	In             []string    `json:"in,omitempty" maxItems:"100" doc:"Jurisdictions, such as CA-ON"`
	Everywhere     bool        `json:"everywhere,omitempty" doc:"All jurisdictions with an area or a row, instead of in"`
	Day            string      `json:"day,omitempty" format:"date" doc:"The day of the move; today when left out"`
	TablesRevision int         `json:"tables_revision,omitempty" minimum:"0"`
	Confirm        []string    `json:"confirm,omitempty"`
}

// Design is the answer to a check.
type Design struct {
	plain
	Mark     string         `json:"mark,omitempty"`
	Revision string         `json:"tables_revision"`
	Day      string         `json:"day"`
	Assumed  []string       `json:"assumed" doc:"What was taken for granted"`
	Answers  []DesignAnswer `json:"answers"`
	Free     []LargestValue `json:"largest_without_permit" doc:"For all of these jurisdictions"`
	NoEscort []LargestValue `json:"largest_without_escort" doc:"With a permit, and surely without an escort"`
	Cautions []string       `json:"cautions"`
}

// DesignAnswer is what one jurisdiction says of one quantity.
type DesignAnswer struct {
	Mark         string         `json:"mark,omitempty"`
	Jurisdiction string         `json:"jurisdiction"`
	Quantity     limit.Quantity `json:"quantity"`
	Findings     []Finding      `json:"findings"`
	Next         *NextStep      `json:"next,omitempty" doc:"The next step up of the table"`
	ToClear      string         `json:"to_clear,omitempty" doc:"What would make it clear"`
}

// NextStep is a threshold above a value.
type NextStep struct {
	Mark    string          `json:"mark,omitempty"`
	Row     string          `json:"row"`
	Limit   string          `json:"limit"`
	Margin  string          `json:"margin" doc:"From the value to the threshold"`
	Outcome finding.Outcome `json:"outcome" doc:"Beyond it"`
	Demands Demands         `json:"demands"`
	Firm    bool            `json:"firm" doc:"The row is verified and surely about such a rig"`
	Hangs   []string        `json:"hangs_on,omitempty"`
}

// LargestValue is the greatest value of a quantity in a set of jurisdictions.
type LargestValue struct {
	Mark           string         `json:"mark,omitempty"`
	Quantity       limit.Quantity `json:"quantity"`
	Value          string         `json:"value,omitempty" doc:"Left out where it is not established"`
	Decides        []string       `json:"decides,omitempty"`
	NotEstablished []string       `json:"not_established_in,omitempty"`
}

// Check answers a check; the command line asks the same.
func (s *Service) Check(ctx context.Context, q CheckRequest) (*regs.Design, error) {
	r := &reader{now: s.Clock()}
	coupled, whole := r.coupled(q.Unit, q.Tow, q.Rig, q.Use)
	day := r.day(s.Clock(), q.Day)
	codes, err := Codes(s.Planner.Areas, s.planner().Tables, q.In)
	r.note(err)
	switch {
	case len(q.In) == 0 && !q.Everywhere:
		r.fail("in", nil, "no jurisdiction is given", "give some, such as CA-ON, or everywhere")
	case len(q.In) > 0 && q.Everywhere:
		r.fail("everywhere", true, "stands beside jurisdictions", "give one of the two")
	}
	if q.Everywhere { // nothing is settled for a whole country
		codes = slices.DeleteFunc(codes, func(code string) bool { return len(code) == len("CA") })
	}
	if len(r.errs) > 0 {
		return nil, unusable(r.errs...)
	}
	if err := confirmed(coupled.Unit, whole, q.Confirm); err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.TablesRevision)
	if err != nil {
		return nil, err
	}
	var assumed []string
	if q.Rig == nil && unmeasured(q.Tow) {
		coupled, assumed = coupled.Alone(), []string{"the tow vehicle is neither higher nor wider than the unit"}
	}
	v := coupled.Vehicle(clearance.DefaultAllowances())
	d := p.Tables.Design(v, codes, day)
	d.Assumed = append(assumed, uncertain(v)...)
	return d, nil
}

// unmeasured tells whether nothing is said of a tow vehicle but what it is.
func unmeasured(t *TowRequest) bool {
	return t == nil || t.Form != "" && reflect.DeepEqual(*t, TowRequest{Form: t.Form})
}

// uncertain says by how much sizes may turn out more than they are given, which
// is kept before each limit.
func uncertain(v regs.Vehicle) []string {
	var out []string
	for _, q := range limit.Quantities() {
		if u := v.Uncertain[q]; u.By > 0 {
			basis := "measured"
			if u.Designed {
				basis = "designed"
			}
			out = append(out, fmt.Sprintf("the %s is %s and may turn out %s more: so much is kept before each limit, and in the largest %s", q.Words(), basis, q.PrintUp(u.By), q.Words()))
		}
	}
	return out
}

// NewDesign writes the answer to a check as it stands in JSON.
func NewDesign(d *regs.Design) *Design {
	out := &Design{
		Revision: d.Revision, Day: d.Day.Format(time.DateOnly), Assumed: append([]string{}, d.Assumed...), Answers: []DesignAnswer{}, Free: largest(d.Free), NoEscort: largest(d.NoEscort),
		Cautions: trip.DesignCautions(),
	}
	for _, a := range d.Answers {
		one := DesignAnswer{Jurisdiction: a.Jurisdiction, Quantity: a.Quantity, Findings: newFindings(a.Findings), ToClear: a.ToClear}
		if n := a.Next; n != nil {
			one.Next = &NextStep{mark(n.Invented), n.Row, n.Limit, n.Margin, n.Outcome, Demands(n.Demands), n.Firm, n.Hangs}
		}
		one.Mark = mark(a.Invented())
		if a.Invented() {
			out.Mark = InventedMark
		}
		out.Answers = append(out.Answers, one)
	}
	return out
}

func largest(in []regs.Largest) []LargestValue {
	out := []LargestValue{}
	for _, l := range in {
		out = append(out, LargestValue{mark(l.Invented), l.Quantity, l.Value, l.Decides, l.NotEstablished})
	}
	return out
}

func (s *Service) check(ctx context.Context, in *struct{ Body CheckRequest }) (*reply[*Design], error) {
	d, err := s.Check(ctx, in.Body)
	if err != nil {
		return nil, s.problem(err)
	}
	return &reply[*Design]{Body: NewDesign(d)}, nil
}
