package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"

	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// csvFile is a table as a file.
type csvFile struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

func (s *Service) exportTable(ctx context.Context, in *struct {
	TableAddress
	Revision int `query:"revision" minimum:"0"`
}) (*csvFile, error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return nil, err
	}
	kept, number, _, err := s.Store.Page(ctx, in.Table, in.Revision, "", math.MaxInt, func(rows.Record) bool { return true })
	if err != nil {
		return nil, s.numbered("revision", err)
	}
	sheet := rows.Sheet{Revision: number}
	for _, k := range kept {
		sheet.Records = append(sheet.Records, k.Record)
	}
	var out bytes.Buffer
	if err := table.WriteSheet(&out, sheet); err != nil {
		return nil, s.problem(err)
	}
	return &csvFile{"text/csv; charset=utf-8", fmt.Sprintf("attachment; filename=%q", in.Table+".csv"), out.Bytes()}, nil
}

func (s *Service) importTable(ctx context.Context, in *struct {
	TableAddress
	Body struct {
		Reason
		CSV           string `json:"csv"`
		DryRun        bool   `json:"dry_run,omitempty" doc:"Say what would change and change nothing"`
		RemoveMissing bool   `json:"remove_missing,omitempty" doc:"Remove the rows that are not in the CSV"`
		Expect        int    `json:"expect_revision,omitempty" doc:"Refuse if the tables are at another revision than this one, such as that of the dry run. A CSV with a column tables_revision, as it is exported, needs none: what was changed since stays, and what both changed is refused"`
	}
}) (*reply[Made], error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return nil, err
	}
	sheet, err := table.Sheet([]byte(in.Body.CSV))
	var cell *rows.CellError
	switch {
	case errors.As(err, &cell):
		return nil, unusable(FieldError{Field: fmt.Sprintf("csv line %d, column %s", cell.Line, cell.Column), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix})
	case err != nil:
		return nil, unusable(FieldError{Field: "csv", Problem: err.Error(), Fix: "start from /v1/tables/" + in.Table + "/csv"})
	}
	if sheet.Revision == 0 {
		sheet.Revision = in.Body.Expect
	}
	p, err := s.proposed(ctx, in.Table, sheet, in.Body.RemoveMissing, in.Body.DryRun)
	if err != nil {
		return nil, err
	}
	return s.make(ctx, p, in.Body.Reason, in.Body.Expect, in.Body.DryRun)
}

// proposed is what a sheet changes. A dry run also says what one of no revision
// would change.
func (s *Service) proposed(ctx context.Context, table string, sheet rows.Sheet, all, dry bool) (store.Proposal, error) {
	propose := func() (store.Proposal, error) { return s.Store.ProposeSheet(ctx, table, sheet, all) }
	if dry && sheet.Revision == 0 {
		propose = func() (store.Proposal, error) { return s.Store.Propose(ctx, table, sheet.Records, all) }
	}
	p, err := propose()
	var unnamed *store.UnnamedError
	switch {
	case err == nil:
		return p, nil
	case errors.As(err, &unnamed):
		return p, unusable(FieldError{Field: "expect_revision", Problem: unnamed.Error(), Fix: fmt.Sprintf("look at what would change with dry_run, then give expect_revision %d, or start from /v1/tables/%s/csv", unnamed.Newest, table)})
	default:
		return p, s.numbered("csv", err)
	}
}

// make makes a proposal true unless it is dry or nothing differs. Its revision
// is then the one that it was worked out for.
func (s *Service) make(ctx context.Context, p store.Proposal, r Reason, expect int, dry bool) (*reply[Made], error) {
	if expect != 0 && expect != p.Revision {
		return nil, plainProblem(http.StatusPreconditionFailed, fmt.Sprintf("the tables are at revision %d, not %d; look at what changed", p.Revision, expect))
	}
	out := Made{Revision: p.Revision, Differences: newDifferences(p.Differences)}
	if dry || len(p.Edits) == 0 {
		return &reply[Made]{Body: out}, nil
	}
	made, err := s.change(ctx, r, p.Edits)
	if err != nil {
		return nil, err
	}
	out.Revision, out.MadeAt = made.Body.Revision, made.Body.MadeAt
	return &reply[Made]{Body: out}, nil
}

// Upgraded is what an upgrade changed or would change.
type Upgraded struct {
	Made
	Conflicts []UpgradeConflict `json:"conflicts"`
}

// UpgradeConflict is a row that the user changed and that is shipped changed.
type UpgradeConflict struct {
	Table string `json:"table"`
	ID    string `json:"id"`
	Rival string `json:"rival,omitempty" doc:"The id under which the shipped version comes in; left out where it is no longer shipped"`
}

func (s *Service) upgradeTables(ctx context.Context, in *struct {
	Body struct {
		Reason
		DryRun bool `json:"dry_run,omitempty"`
	}
}) (*reply[Upgraded], error) {
	u, err := s.Store.ProposeUpgrade(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	made, err := s.make(ctx, u.Proposal, in.Body.Reason, 0, in.Body.DryRun)
	if err != nil {
		return nil, err
	}
	out := Upgraded{Made: made.Body, Conflicts: []UpgradeConflict{}}
	for _, c := range u.Conflicts {
		out.Conflicts = append(out.Conflicts, UpgradeConflict{c.Table, c.ID, c.Rival})
	}
	return &reply[Upgraded]{Body: out}, nil
}
