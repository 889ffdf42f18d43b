package api

import (
	"context"
	"slices"

	"wayhouse/api/export"
	"wayhouse/api/wire"
)

// drawn answers about a rig that is to be drawn, which needs no way.
func (s *Server) drawn(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	q.Said.Stops, q.Said.Route = nil, nil
	return s.Rig(ctx, q)
}

// drawings are the formats that are pictures.
func drawings() []export.Format {
	return slices.DeleteFunc(export.For[*wire.RigAnswer](), func(f export.Format) bool { return f.Name != "svg" })
}
