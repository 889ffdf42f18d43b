package api

import (
	"context"
	"slices"
	"strings"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
)

// Coverage is how well the tables know what.
type Coverage struct {
	plain
	Revision string                                     `json:"tables_revision"`
	Day      string                                     `json:"day"`
	Coverage map[string]map[limit.Quantity]regs.Cover   `json:"coverage"`
	Blocked  map[string]map[limit.Quantity]regs.Blocked `json:"cannot_clear" doc:"Quantities with rows none of which can clear, whatever the vehicle: the nearest row, and why"`
	Caution  string                                     `json:"caution"`
}

func (s *Service) coverage(_ context.Context, in *struct {
	In []string `query:"in" doc:"Jurisdictions, such as CA-ON,CA-QC; all with an area or a row when left out" maxItems:"100"`
}) (*reply[Coverage], error) {
	tables := s.planner().Tables
	codes, err := Codes(s.Planner.Areas, tables, in.In)
	if err != nil {
		return nil, s.problem(err)
	}
	now := s.Clock()
	out := Coverage{Revision: tables.Revision, Day: now.Format(time.DateOnly), Coverage: map[string]map[limit.Quantity]regs.Cover{}, Blocked: map[string]map[limit.Quantity]regs.Blocked{}, Caution: "No row is not no rule. The permit office decides."}
	for _, code := range codes {
		out.Coverage[code], out.Blocked[code] = tables.Coverage(code, now), tables.Blocked(code, now)
	}
	return &reply[Coverage]{Body: out}, nil
}

// Codes reads a list of jurisdictions; none is all that have an area or a row.
// Municipalities are written CODE/Name. The error is a [*measure.FieldError].
func Codes(areas *area.Index, t *regs.Tables, in []string) ([]string, error) {
	known := t.Jurisdictions()
	for _, j := range areas.All() {
		known = append(known, j.Code)
	}
	slices.Sort(known)
	known = slices.Compact(known)
	if len(in) == 0 {
		return known, nil
	}
	var out []string
	for _, text := range in {
		code, town, _ := strings.Cut(strings.TrimSpace(text), "/")
		code = strings.TrimSuffix(strings.ToUpper(code)+"/"+town, "/")
		if !slices.Contains(known, code) {
			return nil, &measure.FieldError{Field: "in", Value: text, Problem: "is no jurisdiction with an area or a row", Fix: "use codes such as CA-ON"}
		}
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out, nil
}
