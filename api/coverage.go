package api

import (
	"context"

	"wayhouse/api/wire"
)

func (s *Service) coverage(_ context.Context, in *struct {
	In []string `query:"in" doc:"Jurisdictions, such as CA-ON,CA-QC; all with an area or a row when left out" maxItems:"100"`
}) (*wire.Coverage, error) {
	tables := s.planner().Tables
	codes, err := wire.Codes(s.Planner.Areas, tables, in.In)
	if err != nil {
		return nil, err
	}
	return wire.NewCoverage(tables, codes, s.Clock()), nil
}
