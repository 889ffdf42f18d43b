package api

import (
	"context"

	"wayhouse/api/wire"
)

func (s *Server) coverage(_ context.Context, in *struct {
	In []string `query:"in" doc:"Jurisdictions, such as CA-ON,CA-QC; all with an area or a row when left out" maxItems:"100"`
}) (*wire.Coverage, error) {
	return s.Coverage(in.In)
}
