package api

import (
	"context"
	"net/http"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/say"
)

// drawn answers about a rig that is to be drawn, which needs no way.
func (s *Server) drawn(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	q.Said.Stops, q.Said.Route = nil, nil
	return s.Rig(ctx, q)
}

func (s *Server) listParts(ctx context.Context, _ *struct{ Speaking }) (*wire.PartList, error) {
	return service.Parts(viewOf(ctx).In)
}

type schemaInput struct {
	Speaking
	Name string `path:"name" doc:"unit, tow, trip or rig"`
}

func (s *Server) getSchema(ctx context.Context, in *schemaInput) (*reply[wire.Schema], error) {
	out, err := wire.NewSchema(in.Name, viewOf(ctx).In)
	if err != nil {
		return nil, plainProblem(http.StatusNotFound, say.That("problem.no_schema", "name", in.Name,
			"names", wire.SchemaNames()))
	}
	return &reply[wire.Schema]{Body: out}, nil
}
