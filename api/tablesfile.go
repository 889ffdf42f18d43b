package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
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
	kept, err := s.Store.Records(ctx, in.Table, in.Revision)
	if err != nil {
		return nil, s.numbered("revision", err)
	}
	var records []rows.Record
	for _, k := range kept {
		records = append(records, k.Record)
	}
	var out bytes.Buffer
	if err := table.WriteCSV(&out, records); err != nil {
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
		Expect        int    `json:"expect_revision,omitempty" doc:"Refuse if the tables are at another revision than this one, such as that of the dry run"`
	}
}) (*reply[Made], error) {
	table, err := tableAt(in.Table)
	if err != nil {
		return nil, err
	}
	records, err := table.Records([]byte(in.Body.CSV))
	var cell *rows.CellError
	switch {
	case errors.As(err, &cell):
		return nil, unusable(FieldError{Field: fmt.Sprintf("csv line %d, column %s", cell.Line, cell.Column), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix})
	case err != nil:
		return nil, unusable(FieldError{Field: "csv", Problem: err.Error(), Fix: "start from /v1/tables/" + in.Table + "/csv"})
	}
	p, err := s.Store.Propose(ctx, in.Table, records, in.Body.RemoveMissing)
	if err != nil {
		return nil, s.problem(err)
	}
	return s.make(ctx, p, in.Body.Reason, in.Body.Expect, in.Body.DryRun)
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
