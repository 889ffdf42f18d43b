package api

import (
	"context"

	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// Routes finds the ways of a request; the command line asks the same.
func (s *Service) Routes(ctx context.Context, q wire.Asked[wire.RouteRequest]) (*trip.Routes, error) {
	request, err := q.Said.Read(s.known(q.Refused))
	if err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.Said.TablesRevision)
	if err != nil {
		return nil, err
	}
	return p.Routes(ctx, request)
}
