package api

import (
	"context"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/limit"
)

func (s *Service) coverage(_ context.Context, in *struct {
	In []string `query:"in" doc:"Jurisdictions, such as CA-ON,CA-QC; all with an area or a row when left out" maxItems:"100"`
}) (*reply[wire.Coverage], error) {
	tables := s.planner().Tables
	codes, err := wire.Codes(s.Planner.Areas, tables, in.In)
	if err != nil {
		return nil, s.problem(err)
	}
	now := s.Clock()
	out := wire.Coverage{Revision: tables.Revision, Day: now.Format(time.DateOnly), Coverage: map[string]map[limit.Quantity]regs.Cover{}, Blocked: map[string]map[limit.Quantity]regs.Blocked{}, Caution: "No row is not no rule. The permit office decides."}
	for _, code := range codes {
		out.Coverage[code], out.Blocked[code] = tables.Coverage(code, now), tables.Blocked(code, now)
	}
	return &reply[wire.Coverage]{Body: out}, nil
}
