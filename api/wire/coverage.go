package wire

import (
	"time"

	"wayhouse/api/phrase"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
)

// Coverage is how well the tables know what.
type Coverage struct {
	Edition
	Day      string                                   `json:"day"`
	Coverage map[string]map[limit.Quantity]regs.Cover `json:"coverage"`
	Blocked  map[string]map[limit.Quantity]Blocked    `json:"cannot_clear" doc:"Quantities with rows none of which can clear, whatever the vehicle: the nearest row, and why"`
	Caution  string                                   `json:"caution"`

	Codes []string `json:"-"` // as they were asked for
}

// Blocked is the row of a quantity that comes nearest to clearing, and why it
// cannot.
type Blocked struct {
	Row       string         `json:"row"`
	Published string         `json:"published"`
	Status    finding.Status `json:"status"`
	Why       []string       `json:"why"`
}

// NewCoverage says how well tables know each quantity of jurisdictions on a day.
func NewCoverage(in *phrase.Language, t *regs.Tables, codes []string, on time.Time) *Coverage {
	tell := teller{in}
	out := &Coverage{
		Edition: NewEdition(t.Revision), Day: on.Format(time.DateOnly), Codes: codes,
		Caution:  tell.Say(say.That("list.no_row")),
		Coverage: map[string]map[limit.Quantity]regs.Cover{}, Blocked: map[string]map[limit.Quantity]Blocked{},
	}
	for _, code := range codes {
		out.Coverage[code], out.Blocked[code] = t.Coverage(code, on), map[limit.Quantity]Blocked{}
		for q, b := range t.Blocked(code, on) {
			out.Blocked[code][q] = Blocked{b.Row, b.Published, b.Status, tell.Each(b.Why)}
		}
	}
	return out
}
