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
	Mark string `json:"mark,omitempty"`
	Edition
	Day      string         `json:"day"`
	Assumed  []string       `json:"assumed" doc:"What was taken for granted"`
	Tasks    Tasks          `json:"tasks" doc:"What is to be done about what is not clear"`
	Answers  []DesignAnswer `json:"answers"`
	Permits  []PermitNeed   `json:"permits,omitempty" doc:"What to ask for; left out where that was not asked, or nothing is"`
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
	Stated       *Stated        `json:"stated,omitempty" doc:"The smallest figure that is or may be the legal limit"`
	Proven       *Figure        `json:"proven,omitempty" doc:"The largest that is clear there, as it stands on the road"`
	ProvenBy     []string       `json:"proven_by,omitempty" doc:"The rows that clear it"`
	Next         *NextStep      `json:"next,omitempty" doc:"The next step up of the table"`
	ToClear      string         `json:"to_clear,omitempty" doc:"What would make it clear"`
}

// NextStep is a threshold above a value.
type NextStep struct {
	Mark     string          `json:"mark,omitempty"`
	Row      string          `json:"row"`
	Limit    string          `json:"limit"`
	Margin   string          `json:"margin" doc:"From the value to the threshold, rounded down"`
	MarginM  *float64        `json:"margin_m,omitempty" doc:"The length exactly"`
	MarginKG *float64        `json:"margin_kg,omitempty" doc:"The mass exactly"`
	Outcome  finding.Outcome `json:"outcome" doc:"Beyond it"`
	Demands  Demands         `json:"demands"`
	Firm     bool            `json:"firm" doc:"The row is verified and surely about such a rig"`
	Hangs    []string        `json:"hangs_on,omitempty"`
}

// LargestValue is the greatest value of a quantity in a set of jurisdictions.
type LargestValue struct {
	Mark           string         `json:"mark,omitempty"`
	Quantity       limit.Quantity `json:"quantity"`
	Proven         *Figure        `json:"proven,omitempty" doc:"Clear in all of them; left out where it is not established"`
	Decides        []string       `json:"decides,omitempty" doc:"Those that allow no more than is proven"`
	NotEstablished []string       `json:"not_established_in,omitempty"`
	Unproven       *Stated        `json:"unproven,omitempty" doc:"The smallest figure that any row states as the legal limit, or may mean as it, whether it can clear or not"`
	Unstated       []string       `json:"not_stated_in,omitempty" doc:"Where no row states a figure"`
	Open           []Finding      `json:"open,omitempty" doc:"At the unproven figure, one for each jurisdiction that establishes none: what would prove it"`
}

// Figure is a length or a mass.
type Figure struct {
	M    *float64 `json:"m,omitempty" doc:"A length"`
	KG   *float64 `json:"kg,omitempty" doc:"A mass"`
	Text string   `json:"text" doc:"Rounded down"`
}

// Stated is a figure that is or may be a legal limit.
type Stated struct {
	Figure
	Mark          string   `json:"mark,omitempty"`
	Under         bool     `json:"under,omitempty" doc:"What is at it is beyond it"`
	Published     string   `json:"published" doc:"As the source of the first row prints it"`
	Rows          []string `json:"rows"`
	Jurisdictions []string `json:"jurisdictions"`
}

// NewDesign writes the answer to a check as it stands in JSON.
func NewDesign(in *phrase.Language, d *regs.Design) *Design {
	tell := teller{in}
	out := &Design{
		Mark: mark(
			d.RestsOnInvented(),
		), Edition: NewEdition(d.Revision), Day: d.Day.Format(time.DateOnly), Assumed: append([]string{},
			tell.Each(d.Assumed)...),
		Tasks: tell.newTasks(d.Tasks()), Answers: []DesignAnswer{}, Free: tell.largest(d.Free),
		NoEscort: tell.largest(d.NoEscort), Cautions: tell.Each(trip.DesignCautions()),
	}
	if len(d.Permits) > 0 {
		out.Permits = each(d.Permits, tell.newPermitNeed)
	}
	for _, a := range d.Answers {
		one := DesignAnswer{
			Jurisdiction: a.Jurisdiction, Quantity: a.Quantity, Findings: tell.newFindings(a.Findings),
			Stated: tell.newStated(a.Stated), Proven: tell.newFigure(a.Proven), ProvenBy: deciding(a.Proof),
			ToClear: tell.Say(a.ToClear),
		}
		if n := a.Next; n != nil {
			m, kg := exactly(n.Margin)
			one.Next = &NextStep{mark(n.Invented), n.Row, n.Limit, tell.Down(n.Margin), m, kg, n.Outcome,
				tell.newDemands(n.Demands), n.Firm, tell.Each(n.Hangs)}
		}
		one.Mark = mark(a.Invented())
		out.Answers = append(out.Answers, one)
	}
	return out
}

func (tell teller) largest(in []regs.Largest) []LargestValue {
	return each(in, func(l regs.Largest) LargestValue {
		return LargestValue{
			mark(
				l.Invented,
			), l.Quantity, tell.newFigure(l.Proven), l.Decides, l.NotEstablished, tell.newStated(l.Unproven), l.Unstated,
			tell.newFindings(l.Open),
		}
	})
}

// deciding are the rows that decide findings.
func deciding(of []finding.Finding) (out []string) {
	for _, f := range of {
		for _, r := range f.Citations {
			if r.Decides {
				out = append(out, r.ID)
			}
		}
	}
	return out
}

func (tell teller) newFigure(q finding.Quantity) *Figure {
	if !q.Known() {
		return nil
	}
	m, kg := exactly(q)
	return &Figure{m, kg, tell.Down(q)}
}

func (tell teller) newStated(s *regs.Stated) *Stated {
	if s == nil {
		return nil
	}
	return &Stated{*tell.newFigure(s.Value), mark(s.Invented), s.Under, s.Published, s.Rows, s.In}
}
