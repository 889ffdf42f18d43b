package api

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// RowAddress is the row of an address.
type RowAddress struct {
	TableAddress
	ID string `path:"id" maxLength:"200"`
}

// Matching are the conditions of a change (RFC 9110, section 13.1).
type Matching struct {
	IfMatch     string `header:"If-Match" doc:"The ETag of the row as you know it"`
	IfNoneMatch string `header:"If-None-Match" doc:"* to add a row that there is not"`
}

// was is the revision for which a change is made, 0 to add a row.
func (m Matching) was() (int, error) {
	if m.IfMatch == "" {
		if strings.TrimSpace(m.IfNoneMatch) == "*" {
			return 0, nil
		}
		return 0, plainProblem(http.StatusPreconditionRequired, say.That("problem.no_state"))
	}
	n, err := strconv.Atoi(strings.Trim(strings.TrimPrefix(strings.TrimSpace(m.IfMatch), "W/"), `"`))
	if err != nil || n < 1 {
		return 0, unusable(wire.FieldError{
			Field: "If-Match", Value: m.IfMatch, Problem: say.That("error.no_etag_of_a"),
			Fix: say.That("fix.send_it_as_it"),
		})
	}
	return n, nil
}

// tagged is an answer with the ETag of a row.
type tagged[T any] struct {
	ETag string `header:"ETag"`
	Body T
}

func etag(revision int) string { return strconv.Quote(strconv.Itoa(revision)) }

func (s *Server) listRows(ctx context.Context, in *struct {
	TableAddress
	Jurisdiction string `query:"jurisdiction" maxLength:"100" doc:"By code or name, such as CA-ON or Ontario; its municipalities are included"`
	Revision     int    `query:"tables_revision" minimum:"0" doc:"As the table was at this revision; the newest when left out"`
	After        string `query:"after" maxLength:"200" doc:"Rows after this id"`
	Limit        int    `query:"limit" minimum:"1" maximum:"1000" default:"200"`
}) (out wire.RowList, err error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return out, err
	}
	column := slices.Index(table.ColumnNames(), "jurisdiction")
	var code string
	if in.Jurisdiction != "" {
		if column < 0 {
			return out, unusable(wire.FieldError{
				Field: "jurisdiction", Value: in.Jurisdiction, Problem: say.That("error.no_column", "table", in.Table),
				Fix: say.That("fix.leave_it_out"),
			})
		}
		codes, err := wire.Codes("jurisdiction", s.Planner.Areas, s.Newest(), []string{in.Jurisdiction})
		if err != nil {
			return out, s.problem(err)
		}
		code = codes[0]
	}
	page, number, more, err := s.Tables.Page(ctx, in.Table, in.Revision, in.After, in.Limit, func(r rows.Record) bool {
		return code == "" || r[column] == code || strings.HasPrefix(r[column], code+"/")
	})
	if err != nil {
		return out, s.numbered("tables_revision", err)
	}
	out = wire.NewRowList(number, page)
	if more {
		out.After = page[len(page)-1].ID()
	}
	return out, nil
}

func (s *Server) getRow(ctx context.Context, in *RowAddress) (*tagged[wire.KeptRow], error) {
	if _, err := tableAt(in.Table); err != nil {
		return nil, err
	}
	kept, err := s.Tables.Row(ctx, in.Table, in.ID)
	if err != nil {
		return nil, s.problem(err)
	}
	return &tagged[wire.KeptRow]{ETag: etag(kept.Revision), Body: wire.NewKept(kept)}, nil
}

func (s *Server) listVersions(ctx context.Context, in *RowAddress) (out wire.RowVersions, err error) {
	if _, err := tableAt(in.Table); err != nil {
		return out, err
	}
	versions, err := s.Tables.Versions(ctx, in.Table, in.ID)
	return wire.NewRowVersions(in.Table, in.ID, versions), err
}

// change makes an edit and answers what was made.
func (s *Server) change(ctx context.Context, r wire.Reason, edit store.Edit) (*tagged[wire.Made], error) {
	made, err := s.Tables.Change(ctx, r, edit)
	if err != nil {
		return nil, s.problem(err)
	}
	return newMade(made), nil
}

func newMade(r store.Revision) *tagged[wire.Made] {
	return &tagged[wire.Made]{Body: wire.Made{Revision: r.Number, MadeAt: r.MadeAt.Format(time.RFC3339)}}
}

func (s *Server) putRow(ctx context.Context, in *struct {
	RowAddress
	Matching
	DryRun bool `query:"dry_run" doc:"Say what would change and change nothing"`
	change[wire.RowRequest]
}) (*tagged[wire.Made], error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return nil, err
	}
	was, err := in.was()
	if err != nil {
		return nil, err
	}
	r, err := record(table, in.ID, in.Body.Said.Cells)
	if err != nil {
		return nil, err
	}
	if err := service.CheckRow(in.Table, "cells.", r); err != nil {
		return nil, s.problem(err)
	}
	if in.DryRun {
		return s.wouldPut(ctx, store.Edit{Table: in.Table, ID: in.ID, Record: r, Was: was})
	}
	made, err := s.change(ctx, in.Body.Said.Reason, store.Edit{Table: in.Table, ID: in.ID, Record: r, Was: was})
	if err != nil {
		return nil, err
	}
	made.ETag = etag(made.Body.Revision)
	return made, nil
}

// wouldPut answers what an edit of a row would change.
func (s *Server) wouldPut(ctx context.Context, edit store.Edit) (*tagged[wire.Made], error) {
	would, err := s.Tables.WouldChange(ctx, edit)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &tagged[wire.Made]{Body: wire.Made{Revision: would.Revision}}
	if edit.Was > 0 {
		out.ETag = etag(edit.Was)
	}
	for _, d := range would.Differences {
		out.Body.Note(d)
	}
	return out, nil
}

func (s *Server) removeRow(ctx context.Context, in *struct {
	RowAddress
	Matching
	Who string `query:"who" required:"true" minLength:"1" maxLength:"200"`
	Why string `query:"why" required:"true" minLength:"1" maxLength:"2000"`
}) (*tagged[wire.Made], error) {
	if _, err := tableAt(in.Table); err != nil {
		return nil, err
	}
	was, err := in.was()
	if err != nil {
		return nil, err
	}
	return s.change(ctx, wire.Reason{Who: in.Who, Why: in.Why}, store.Edit{Table: in.Table, ID: in.ID, Was: was})
}

func (s *Server) verifyRow(ctx context.Context, in *struct {
	RowAddress
	Matching
	change[wire.VerifyRequest]
}) (*tagged[wire.Made], error) {
	if _, err := tableAt(in.Table); err != nil {
		return nil, err
	}
	was, err := in.was()
	if err != nil {
		return nil, err
	}
	done, err := s.Tables.Verify(ctx, in.Table, in.ID, was, in.Body.Said)
	if err != nil {
		return nil, s.problem(err)
	}
	made := newMade(done.Made)
	made.Body.CannotClear, made.ETag = viewOf(ctx).In.Each(done.CannotClear), etag(done.Made.Number)
	return made, nil
}
