package api

import (
	"context"

	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// Routes finds the ways of a request; the command line asks the same.
func (s *Service) Routes(ctx context.Context, q wire.RouteRequest) (*trip.Routes, error) {
	request, err := q.Read(s.known())
	if err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.TablesRevision)
	if err != nil {
		return nil, err
	}
	return p.Routes(ctx, request)
}
