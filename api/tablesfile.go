package api

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"wayhouse/api/export"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

func (s *Server) exportTable(ctx context.Context, in *struct {
	TableAddress
	Revision int `query:"tables_revision" minimum:"0"`
}) (export.Table, error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return export.Table{}, err
	}
	out, err := export.TableAt(ctx, s.Tables.Store, table, in.Revision)
	if err != nil {
		err = s.numbered("tables_revision", err)
	}
	return out, err
}

func (s *Server) importTable(ctx context.Context, in *struct {
	TableAddress
	change[wire.ImportRequest]
}) (*reply[wire.Made], error) {
	b := in.Body.Said
	return s.take(ctx, b.Reason, store.Import{
		Table: in.Table, CSV: strings.NewReader(b.CSV), Dry: b.DryRun, All: b.RemoveMissing, Expect: b.Expect,
	})
}

// csvBody is a body that is read as it comes in.
type csvBody struct{ in io.Reader }

// Resolve is asked by the library before the request is answered.
func (b *csvBody) Resolve(ctx huma.Context) []error {
	b.in = http.MaxBytesReader(nil, io.NopCloser(ctx.BodyReader()), maxStream)
	return nil
}

func (s *Server) streamTable(ctx context.Context, in *struct {
	TableAddress
	csvBody
	Who           string `query:"who" required:"true" minLength:"1" maxLength:"200"`
	Why           string `query:"why" required:"true" minLength:"1" maxLength:"2000"`
	DryRun        bool   `query:"dry_run" doc:"Say what would change and change nothing"`
	RemoveMissing bool   `query:"remove_missing" doc:"Remove the rows that are not in the CSV"`
	Expect        int    `query:"expect_revision" minimum:"0" doc:"Refuse if the tables are at another revision than this one"`
}) (*reply[wire.Made], error) {
	return s.take(ctx, wire.Reason{Who: in.Who, Why: in.Why}, store.Import{
		Table: in.Table, CSV: in.csvBody.in, Dry: in.DryRun, All: in.RemoveMissing, Expect: in.Expect,
	})
}

// take takes a file of rows in.
func (s *Server) take(ctx context.Context, r wire.Reason, q store.Import) (*reply[wire.Made], error) {
	if _, err := tableAt(q.Table); err != nil {
		return nil, err
	}
	out := wire.Made{Differences: []wire.Difference{}}
	done, err := s.Tables.Import(ctx, r, q, out.Note)
	if err != nil {
		return nil, s.fileProblem(q.Table, err)
	}
	if out.Revision = done.Revision.Number; done.Made {
		out.MadeAt = done.Revision.MadeAt.Format(time.RFC3339)
	}
	return &reply[wire.Made]{Body: out}, nil
}

// fileProblem names what is wrong with a file of rows.
func (s *Server) fileProblem(table string, err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return plainProblem(http.StatusRequestEntityTooLarge,
			say.That("problem.large_csv", "bound", int(large.Limit)))
	}
	return s.numbered("csv", service.ImportFault(err, service.ImportWords{
		File: "csv", Revision: "expect_revision", Dry: "dry_run", Start: say.Text("/v1/tables/" + table + "/csv"),
	}))
}

func (s *Server) upgradeTables(ctx context.Context, in *change[wire.UpgradeRequest]) (*reply[wire.Upgraded], error) {
	u, err := s.Tables.ProposeUpgrade(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	revision, made, err := s.Tables.Make(ctx, in.Body.Said.Reason, u.Proposal, in.Body.Said.DryRun)
	if err != nil {
		return nil, s.problem(err)
	}
	out := wire.Upgraded{
		Made:      wire.Made{Revision: revision.Number, Differences: []wire.Difference{}},
		Conflicts: []wire.UpgradeConflict{},
	}
	if made {
		out.MadeAt = revision.MadeAt.Format(time.RFC3339)
	}
	for _, d := range u.Differences {
		out.Note(d)
	}
	for _, c := range u.Conflicts {
		out.Conflicts = append(out.Conflicts, wire.UpgradeConflict{Table: c.Table, ID: c.ID, Rival: c.Rival})
	}
	return &reply[wire.Upgraded]{Body: out}, nil
}
