package api

import (
	"context"
	"errors"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// numbered names the field that carries the number of a revision that there is
// not.
func (s *Service) numbered(field string, err error) error {
	var none *store.NoRevisionError
	if errors.As(err, &none) {
		return unusable(wire.FieldError{Field: field, Value: none.Number, Problem: none.Error(), Fix: "give one that /v1/revisions lists"})
	}
	return s.problem(err)
}

// whichOf tells which of two revisions an error is about.
func whichOf(err error, before int) string {
	var none *store.NoRevisionError
	if errors.As(err, &none) && none.Number == before {
		return "before"
	}
	return "after"
}

func (s *Service) listRevisions(ctx context.Context, _ *struct{}) (*reply[wire.Revisions], error) {
	history, err := s.Store.History(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	out := wire.Revisions{Revisions: []wire.Revision{}}
	for _, r := range history {
		out.Revisions = append(out.Revisions, wire.Revision{Number: r.Number, MadeAt: r.MadeAt.Format(time.RFC3339), Who: r.Who, Why: r.Why})
	}
	return &reply[wire.Revisions]{Body: out}, nil
}

func (s *Service) compareRevisions(ctx context.Context, in *struct {
	Before int `query:"before" required:"true" minimum:"1"`
	After  int `query:"after" minimum:"0" doc:"The newest when left out"`
}) (*reply[wire.Compared], error) {
	d, err := s.Store.Compare(ctx, in.Before, in.After)
	if err != nil {
		return nil, s.numbered(whichOf(err, in.Before), err)
	}
	return &reply[wire.Compared]{Body: wire.Compared{Differences: wire.NewDifferences(d)}}, nil
}

func (s *Service) restoreRevision(ctx context.Context, in *change[wire.RestoreRequest]) (*reply[wire.Made], error) {
	if err := s.may(in.Body.Said.Reason); err != nil {
		return nil, err
	}
	made, err := s.Store.Restore(ctx, in.Body.Said.Revision, in.Body.Said.Who, in.Body.Said.Why)
	var nothing *store.EditError
	if errors.As(err, &nothing) && nothing.ID == "" {
		return nil, unusable(wire.FieldError{Field: "revision", Value: in.Body.Said.Revision, Problem: nothing.Problem, Fix: "the rows are as they were at that revision already"})
	}
	if err != nil {
		return nil, s.numbered("revision", err)
	}
	s.refresh(ctx)
	return &reply[wire.Made]{Body: newMade(made).Body}, nil
}
