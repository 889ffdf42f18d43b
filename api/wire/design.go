package wire

import (
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/routing/trip"
)

// Design is the answer to a check.
type Design struct {
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

// NewDesign writes the answer to a check as it stands in JSON.
func NewDesign(in *phrase.Language, d *regs.Design) *Design {
	tell := teller{in}
	out := &Design{
		Revision: d.Revision, Day: d.Day.Format(time.DateOnly), Assumed: append([]string{}, tell.Each(d.Assumed)...),
		Answers: []DesignAnswer{}, Free: tell.largest(d.Free),
		NoEscort: tell.largest(d.NoEscort), Cautions: tell.Each(trip.DesignCautions()),
	}
	for _, a := range d.Answers {
		one := DesignAnswer{
			Jurisdiction: a.Jurisdiction, Quantity: a.Quantity, Findings: tell.newFindings(a.Findings),
			ToClear: tell.Say(a.ToClear),
		}
		if n := a.Next; n != nil {
			one.Next = &NextStep{mark(n.Invented), n.Row, n.Limit, tell.Down(n.Margin), n.Outcome, tell.newDemands(n.Demands),
				n.Firm, tell.Each(n.Hangs)}
		}
		one.Mark = mark(a.Invented())
		if a.Invented() {
			out.Mark = InventedMark
		}
		out.Answers = append(out.Answers, one)
	}
	return out
}

func (tell teller) largest(in []regs.Largest) []LargestValue {
	return each(in, func(l regs.Largest) LargestValue {
		return LargestValue{mark(l.Invented), l.Quantity, tell.Down(l.Value), l.Decides, l.NotEstablished}
	})
}
