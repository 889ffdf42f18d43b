package api

import (
	"context"
	"errors"

	"wayhouse/api/wire"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// numbered names the field that carries the number of a revision that there is
// not.
func (s *Server) numbered(field string, err error) error {
	var none *store.NoRevisionError
	if errors.As(err, &none) {
		return unusable(wire.FieldError{
			Field: field, Value: none.Number, Problem: none.Remark(), Fix: say.That("fix.give_one_that_v1"),
		})
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

func (s *Server) listRevisions(ctx context.Context, _ *struct{}) (wire.Revisions, error) {
	history, err := s.Tables.History(ctx)
	return wire.NewRevisions(history), err
}

func (s *Server) compareRevisions(ctx context.Context, in *struct {
	Before int `query:"before" required:"true" minimum:"1"`
	After  int `query:"after" minimum:"0" doc:"The newest when left out"`
}) (wire.Compared, error) {
	d, err := s.Tables.Compare(ctx, in.Before, in.After)
	if err != nil {
		err = s.numbered(whichOf(err, in.Before), err)
	}
	return wire.Compared{Differences: wire.NewDifferences(d)}, err
}

func (s *Server) restoreRevision(ctx context.Context, in *change[wire.RestoreRequest]) (*reply[wire.Made], error) {
	made, err := s.Tables.Restore(ctx, in.Body.Said)
	if err != nil {
		return nil, s.numbered("tables_revision", err)
	}
	return &reply[wire.Made]{Body: newMade(made).Body}, nil
}
