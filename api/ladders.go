package api

import (
	"context"

	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// Ladders works out the ladders of a request; the command line asks the same.
func (s *Service) Ladders(ctx context.Context, q wire.LadderRequest) (*trip.Ladders, error) {
	request, quantity, err := q.Read(s.known())
	if err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.TablesRevision)
	if err != nil {
		return nil, err
	}
	return p.Ladders(ctx, request, quantity)
}
