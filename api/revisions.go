package api

import (
	"cmp"
	"context"
	"errors"
	"time"

	"wayhouse/regs/store"
)

// numbered names the field that carries the number of a revision that there is
// not.
func (s *Service) numbered(field string, err error) error {
	var none *store.NoRevisionError
	if errors.As(err, &none) {
		return unusable(FieldError{Field: field, Value: none.Number, Problem: none.Error(), Fix: "give one that /v1/revisions lists"})
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

// Difference is how one row differs. Before is left out for a row that was
// added, after for one that was removed.
type Difference struct {
	Table  string            `json:"table"`
	ID     string            `json:"id"`
	Before map[string]string `json:"before,omitempty"`
	After  map[string]string `json:"after,omitempty"`
}

func newDifferences(in []store.Difference) []Difference {
	out := []Difference{}
	for _, d := range in {
		out = append(out, rowDifference(d))
	}
	return out
}

func rowDifference(d store.Difference) Difference {
	return Difference{d.Table, d.ID, cells(d.Table, d.Before), cells(d.Table, d.After)}
}

// Revisions is the history of the tables.
type Revisions struct {
	plain
	Revisions []Revision `json:"revisions"`
}

// Revision is one change.
type Revision struct {
	Number int    `json:"number"`
	MadeAt string `json:"made_at"`
	Who    string `json:"who"`
	Why    string `json:"why"`
}

func (s *Service) listRevisions(ctx context.Context, _ *struct{}) (*reply[Revisions], error) {
	history, err := s.Store.History(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	out := Revisions{Revisions: []Revision{}}
	for _, r := range history {
		out.Revisions = append(out.Revisions, Revision{r.Number, r.MadeAt.Format(time.RFC3339), r.Who, r.Why})
	}
	return &reply[Revisions]{Body: out}, nil
}

// Compared is what differs between two revisions.
type Compared struct {
	plain
	Differences []Difference `json:"differences"`
}

func (s *Service) compareRevisions(ctx context.Context, in *struct {
	Before int `query:"before" required:"true" minimum:"1"`
	After  int `query:"after" minimum:"0" doc:"The newest when left out"`
}) (*reply[Compared], error) {
	d, err := s.Store.Compare(ctx, in.Before, in.After)
	if err != nil {
		return nil, s.numbered(whichOf(err, in.Before), err)
	}
	return &reply[Compared]{Body: Compared{Differences: newDifferences(d)}}, nil
}

func (s *Service) restoreRevision(ctx context.Context, in *struct {
	Body struct {
		Reason
		Revision int `json:"revision" minimum:"1"`
	}
}) (*reply[Made], error) {
	if err := cmp.Or(s.keeps(), in.Body.Reason.check()); err != nil {
		return nil, err
	}
	made, err := s.Store.Restore(ctx, in.Body.Revision, in.Body.Who, in.Body.Why)
	var nothing *store.EditError
	if errors.As(err, &nothing) && nothing.ID == "" {
		return nil, unusable(FieldError{Field: "revision", Value: in.Body.Revision, Problem: nothing.Problem, Fix: "the rows are as they were at that revision already"})
	}
	if err != nil {
		return nil, s.numbered("revision", err)
	}
	s.refresh(ctx)
	return &reply[Made]{Body: newMade(made).Body}, nil
}
