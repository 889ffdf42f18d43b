package api

import (
	"context"

	"wayhouse/api/wire"
)

func (s *Server) coverage(ctx context.Context, in *struct {
	Viewing
	In []string `query:"in" doc:"Jurisdictions by code or name, such as CA-ON,Québec; all with an area or a row when left out" maxItems:"100"`
}) (*wire.Coverage, error) {
	return s.Coverage(viewOf(ctx).In, in.In)
}
