package api

import (
	"context"

	"wayhouse/api/wire"
	"wayhouse/routing/trip"
)

// Ladders works out the ladders of a request; the command line asks the same.
func (s *Service) Ladders(ctx context.Context, q wire.Asked[wire.LadderRequest]) (*trip.Ladders, error) {
	request, quantity, err := q.Said.Read(s.known(q.Refused))
	if err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.Said.TablesRevision)
	if err != nil {
		return nil, err
	}
	return p.Ladders(ctx, request, quantity)
}
