package wire

import (
	"time"

	"wayhouse/regs"
	"wayhouse/regs/limit"
)

// Coverage is how well the tables know what.
type Coverage struct {
	Revision string                                     `json:"tables_revision"`
	Day      string                                     `json:"day"`
	Coverage map[string]map[limit.Quantity]regs.Cover   `json:"coverage"`
	Blocked  map[string]map[limit.Quantity]regs.Blocked `json:"cannot_clear" doc:"Quantities with rows none of which can clear, whatever the vehicle: the nearest row, and why"`
	Caution  string                                     `json:"caution"`

	Codes []string `json:"-"` // as they were asked for
}

// NewCoverage says how well tables know each quantity of jurisdictions on a day.
func NewCoverage(t *regs.Tables, codes []string, on time.Time) *Coverage {
	out := &Coverage{
		Revision: t.Revision, Day: on.Format(time.DateOnly), Codes: codes, Caution: "No row is not no rule. The permit office decides.",
		Coverage: map[string]map[limit.Quantity]regs.Cover{}, Blocked: map[string]map[limit.Quantity]regs.Blocked{},
	}
	for _, code := range codes {
		out.Coverage[code], out.Blocked[code] = t.Coverage(code, on), t.Blocked(code, on)
	}
	return out
}
