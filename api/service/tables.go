package service

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// Tables are the tables that users keep. What reads them is the store's; what changes
// them is here.
type Tables struct {
	*store.Store
	Clock func() time.Time
	// Unkept is set where the store ends with the process. Changes are then refused:
	// one that is forgotten with the next start would make answers milder again.
	Unkept bool
	// Changed is called after each change, which is made then; nil for nothing to do.
	Changed func(context.Context)
}

// Follow lets a service answer from the newest tables after each change. The change is
// made, so that whoever asked for it may be gone, or that reading fails, is no error
// of it.
func (t *Tables) Follow(s *Service, log *slog.Logger) {
	t.Changed = func(ctx context.Context) {
		snapshot, err := t.Snapshot(context.WithoutCancel(ctx))
		if err != nil {
			log.Error("the newest tables could not be read; answers go on with those before", "error", err)
			return
		}
		s.Swap(snapshot)
	}
}

// NotKept says why changes are refused where the tables are a copy in memory.
func NotKept() say.Remark { return say.That("problem.not_kept") }

// ErrNotKept is the error of a change that would be forgotten.
var ErrNotKept = say.Err(NotKept())

// may refuses a change that would be forgotten, or that nobody gives a reason for.
func (t *Tables) may(r wire.Reason) error {
	if t.Unkept {
		return ErrNotKept
	}
	return r.Check()
}

func (t *Tables) changed(ctx context.Context) {
	if t.Changed != nil {
		t.Changed(ctx)
	}
}

// Change makes edits as one revision.
func (t *Tables) Change(ctx context.Context, r wire.Reason, edits ...store.Edit) (store.Revision, error) {
	if err := t.may(r); err != nil {
		return store.Revision{}, err
	}
	made, err := t.Store.Change(ctx, r.Who, r.Why, edits)
	if err == nil {
		t.changed(ctx)
	}
	return made, err
}

// Import takes a file of rows in, all or none, and tells what differs.
func (t *Tables) Import(ctx context.Context, r wire.Reason, q store.Import,
	differs func(store.Difference)) (store.Imported, error) {
	if !q.Dry {
		if err := t.may(r); err != nil {
			return store.Imported{}, err
		}
	}
	q.Who, q.Why = r.Who, r.Why
	done, err := t.Store.Import(ctx, q, differs)
	if err == nil && done.Made {
		t.changed(ctx)
	}
	return done, err
}

// ImportWords are how those who ask for an import know what they gave for it, and a file
// to start from.
type ImportWords struct {
	File, Revision, Dry string
	Start               say.Remark
}

// ImportFault names what is wrong with a file of rows; the error is err where it is
// about something else.
func ImportFault(err error, w ImportWords) error {
	var file *store.FileError
	var head *rows.HeadError
	var cell *rows.CellError
	var unnamed *store.UnnamedError
	switch {
	case errors.As(err, &unnamed):
		return wire.Refuse(wire.FieldError{
			Field: w.Revision, Problem: unnamed.Remark(),
			Fix: say.That("fix.unnamed", "dry", w.Dry, "revision", w.Revision, "newest", unnamed.Newest, "start", w.Start),
		})
	case errors.As(err, &cell):
		return wire.Refuse(wire.FieldError{
			Field: w.File, At: cell.At(), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix,
		})
	case errors.As(err, &head):
		return wire.Refuse(
			wire.FieldError{
				Field:   w.File,
				Problem: head.Problem,
				Fix:     say.That("fix.head_start", "head", head.Fix, "start", w.Start),
			},
		)
	case errors.As(err, &file):
		return wire.Refuse(
			wire.FieldError{Field: w.File, Problem: say.Of(file), Fix: say.That("fix.start", "start", w.Start)},
		)
	}
	return err
}

// Make makes a proposal true unless it is dry or nothing differs; made tells which.
// Otherwise the revision is the one that it was worked out for.
func (t *Tables) Make(ctx context.Context, r wire.Reason, p store.Proposal,
	dry bool) (revision store.Revision, made bool, err error) {
	if dry || len(p.Edits) == 0 {
		return store.Revision{Number: p.Revision}, false, nil
	}
	revision, err = t.Change(ctx, r, p.Edits...)
	return revision, err == nil, err
}

// Restore makes the tables what they were at a revision, as a new one.
func (t *Tables) Restore(ctx context.Context, q wire.RestoreRequest) (store.Revision, error) {
	if err := t.may(q.Reason); err != nil {
		return store.Revision{}, err
	}
	made, err := t.Store.Restore(ctx, q.Revision, q.Who, q.Why)
	var nothing *store.EditError
	if errors.As(err, &nothing) && nothing.ID == "" {
		return made, wire.Refuse(wire.FieldError{
			Field: "tables_revision", Value: q.Revision,
			Problem: nothing.Problem, Fix: say.That("fix.the_rows_are_as"),
		})
	}
	if err == nil {
		t.changed(ctx)
	}
	return made, err
}

// Verified is a row that somebody read in its source.
type Verified struct {
	Made       store.Revision
	Difference store.Difference
	// CannotClear says why the row still cannot.
	CannotClear []say.Remark
}

// Verify says that somebody read a row in its source, as it was at a revision; 0 is
// the newest.
func (t *Tables) Verify(ctx context.Context, table, id string, was int,
	q wire.VerifyRequest) (out Verified, err error) {
	kept, err := t.Row(ctx, table, id)
	if err != nil {
		return out, err
	}
	edit, err := t.Verification(ctx, table, id, map[string]string{
		"source": q.Source, "section": q.Section, "source_year": q.Year, "source_url": q.URL,
		"read_on": q.ReadOn, "published": q.Published, "threshold": q.Threshold,
	})
	if err != nil {
		return out, err
	}
	if was != 0 {
		edit.Was = was
	}
	if err := CheckRow(table, "", edit.Record); err != nil {
		return out, err
	}
	if out.Made, err = t.Change(ctx, q.Reason, edit); err != nil {
		return out, err
	}
	out.Difference = store.Difference{Table: table, ID: id, Before: kept.Record, After: edit.Record}
	snapshot, err := t.Snapshot(ctx)
	if err != nil {
		return out, err
	}
	out.CannotClear = snapshot.Obstacles(table, id, t.Clock())
	return out, nil
}

// CheckRow refuses a row of a table, and names the cell behind a prefix.
func CheckRow(table, prefix string, r rows.Record) error {
	named, err := store.TableNamed(table)
	if err != nil {
		return err
	}
	var cell *rows.CellError
	if err = named.Check(r); errors.As(err, &cell) {
		return wire.Refuse(wire.FieldError{
			Field: prefix + cell.Column, Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix,
		})
	}
	return err
}
