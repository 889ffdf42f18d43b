package api

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/export"
	"wayhouse/api/wire"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// registerTables adds the routes of the tables that users keep.
func (s *Server) registerTables(api huma.API) {
	if s.Tables == nil {
		return
	}
	get := func(id, path, summary string) huma.Operation {
		return huma.Operation{OperationID: id, Method: http.MethodGet, Path: path, Summary: summary}
	}
	post := func(id, path, summary string) huma.Operation {
		return huma.Operation{
			OperationID: id, Method: http.MethodPost, Path: path, Summary: summary, MaxBodyBytes: maxTable,
			BodyReadTimeout: tablesTime, DefaultStatus: http.StatusOK,
		}
	}
	offer[wire.TableList](s, api, get("list-tables", "/v1/tables", "The tables, with their columns"), s.listTables)
	offer[wire.RowList](s, api, get("list-rows", "/v1/tables/{table}/rows", "Rows of a table, by id"), s.listRows)
	register(api, get("get-row", "/v1/tables/{table}/rows/{id}", "One row; its ETag is the revision that wrote it"),
		s.getRow)
	offer[wire.RowVersions](
		s,
		api,
		get("list-versions", "/v1/tables/{table}/rows/{id}/versions", "What became of a row, the newest first"),
		s.listVersions,
	)
	register(api, huma.Operation{
		OperationID: "put-row", Method: http.MethodPut,
		Path: "/v1/tables/{table}/rows/{id}", Summary: "Change a row (If-Match) or add one (If-None-Match: *)",
	}, s.putRow)
	register(api, huma.Operation{
		OperationID: "remove-row", Method: http.MethodDelete, Path: "/v1/tables/{table}/rows/{id}",
		Summary: "Remove a row (If-Match)", DefaultStatus: http.StatusOK,
	}, s.removeRow)
	register(api, post("verify-row", "/v1/tables/{table}/rows/{id}/verify", "Say that you read a row in its "+
		"source (If-Match)"), s.verifyRow)
	offer[export.Table](s, api, get("export-table", "/v1/tables/{table}/csv", "A table as CSV"), s.exportTable)
	register(api, post("import-table", "/v1/tables/{table}/import", "Take the rows of a CSV, all or none; or "+
		"say what would change"), s.importTable)
	stream := post("stream-table", "/v1/tables/{table}/csv", "Take the rows of a CSV of any size, all or "+
		"none, as it comes in; or say what would change")
	stream.RequestBody = &huma.RequestBody{
		Required: true, Description: "The table, as GET gives it",
		Content: map[string]*huma.MediaType{"text/csv": {Schema: &huma.Schema{Type: huma.TypeString}}},
	}
	register(api, stream, s.streamTable)
	register(api, post("upgrade-tables", "/v1/upgrade", "Take over the rows that come with this version, or "+
		"say what would change"), s.upgradeTables)
	offer[wire.Revisions](
		s,
		api,
		get("list-revisions", "/v1/revisions", "Every change of the tables, the newest first"),
		s.listRevisions,
	)
	offer[wire.Compared](s, api, get("compare-revisions", "/v1/revisions/compare", "What changed between two revisions"),
		s.compareRevisions)
	register(api, post("restore-revision", "/v1/revisions/restore", "Make the tables what they were, as a "+
		"new revision"), s.restoreRevision)
	offer[*wire.Coverage](s, api, get("coverage", "/v1/coverage", "How well the tables know each quantity in "+
		"each jurisdiction"), s.coverage)
}

// Bounds of a request that carries a table: in JSON, and as a CSV that is never held
// whole.
const (
	maxTable  = 64 << 20
	maxStream = 4 << 30
)

// record puts cells into the order of a table. The error names a column that
// there is not.
func record(t store.Table, id string, in map[string]string) (rows.Record, error) {
	out := make(rows.Record, len(t.ColumnNames()))
	for name, text := range in {
		i := slices.Index(t.ColumnNames(), name)
		if i < 0 {
			return nil, unusable(wire.FieldError{
				Field: "cells." + name, Value: text, Problem: say.That("error.no_column", "table", t.TableName()),
				Fix: say.That("fix.one_of", "words", t.ColumnNames()),
			})
		}
		out[i] = text
	}
	if out[0] == "" {
		out[0] = id
	}
	if out[0] != id {
		return nil, unusable(wire.FieldError{
			Field: "cells.id", Value: out[0], Problem: say.That("error.other_id", "id", id), Fix: say.That("fix.leave_it_out"),
		})
	}
	return out, nil
}

func (s *Server) listTables(context.Context, *struct{}) (wire.TableList, error) {
	out := wire.TableList{Edition: wire.NewEdition(s.Newest().Revision), Tables: []wire.TableInfo{}}
	for _, t := range store.Tables() {
		out.Tables = append(out.Tables, wire.NewTableInfo(t))
	}
	return out, nil
}

// TableAddress is the table of an address.
type TableAddress struct {
	Table string `path:"table" doc:"Such as limits; see /v1/tables"`
}

// tableAt finds the table of an address.
func tableAt(name string) (store.Table, error) {
	t, err := store.TableNamed(name)
	if err != nil {
		return nil, plainProblem(http.StatusNotFound, say.That("problem.no_table", "table", name))
	}
	return t, nil
}
