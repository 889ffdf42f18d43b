package service_test

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"
	"wayhouse/api/phrase"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/standing"
)

func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

var because = wire.Reason{Who: "a user", Why: "invented for a test"}

// keeping is tables that were just seeded.
func keeping(t *testing.T) *service.Tables {
	t.Helper()
	s, err := store.OpenMemory(t.Context(), noon)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return &service.Tables{Store: s, Clock: noon}
}

// removal takes the height of Ontario out.
func removal() store.Edit { return store.Edit{Table: "limits", ID: "ca-on-height-01", Was: 1} }

func newest(t *testing.T, s *service.Tables) int {
	t.Helper()
	history, err := s.History(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return history[0].Number
}

// Every change says who made it and why, and is none where it would be forgotten.
func TestChangesAreRefused(t *testing.T) {
	for name, tc := range map[string]struct {
		unkept bool
		reason wire.Reason
	}{
		"that nobody makes": {false, wire.Reason{Who: " ", Why: "b"}},
		"without a reason":  {false, wire.Reason{Who: "a"}},
		"to be forgotten":   {true, because},
	} {
		t.Run(name, func(t *testing.T) {
			s := keeping(t)
			s.Unkept = tc.unkept
			sheet := func() store.Import { return store.Import{Table: "limits", CSV: strings.NewReader(""), All: true} }
			_, change := s.Change(t.Context(), tc.reason, removal())
			_, taken := s.Import(t.Context(), tc.reason, sheet(), func(store.Difference) {})
			_, restored := s.Restore(t.Context(), wire.RestoreRequest{Reason: tc.reason, Revision: 1})
			_, verified := s.Verify(t.Context(), "limits", "ca-qc-height-01", 0, wire.VerifyRequest{Reason: tc.reason, Source: "a text"})
			_, _, made := s.Make(t.Context(), tc.reason, store.Proposal{Edits: []store.Edit{removal()}}, false)
			for i, err := range []error{change, taken, restored, verified, made} {
				if _, refused := wire.AsRefusal(err); refused == tc.unkept || errors.Is(err, service.ErrNotKept) != tc.unkept {
					t.Errorf("%d: %v", i, err)
				}
			}
			if newest(t, s) != 1 {
				t.Error("something was written")
			}
		})
	}
}

// A change is followed by what answers rest on; a dry one by nothing.
func TestAnswersFollowChanges(t *testing.T) {
	s := keeping(t)
	tables, err := s.Snapshot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	known := &service.Service{Planner: &trip.Planner{Atlas: standing.Atlas{Tables: tables}}, Clock: noon}
	s.Follow(known, slog.New(slog.DiscardHandler))
	if _, made, err := s.Make(t.Context(), wire.Reason{}, store.Proposal{Revision: 1, Edits: []store.Edit{removal()}}, true); made || err != nil || known.Newest().Number != 1 {
		t.Errorf("dry: %v, %v, revision %d", made, err, known.Newest().Number)
	}
	if _, err := s.Change(t.Context(), because, removal()); err != nil || known.Newest().Number != 2 {
		t.Errorf("%v, revision %d", err, known.Newest().Number)
	}
	if _, err := s.Restore(t.Context(), wire.RestoreRequest{Reason: because, Revision: 1}); err != nil || known.Newest().Number != 3 {
		t.Errorf("%v, revision %d", err, known.Newest().Number)
	}
	known.Swap(tables) // older than what is in use
	if known.Newest().Number != 3 {
		t.Errorf("revision %d took the place of a newer one", known.Newest().Number)
	}
	_, err = s.Restore(t.Context(), wire.RestoreRequest{Reason: because, Revision: 3})
	if refusal, ok := wire.AsRefusal(err); !ok || refusal.Errors[0].Field != "tables_revision" {
		t.Errorf("to what they are: %v", err)
	}
}

// The cell that cannot be used is named as the request has it.
func TestCheckRow(t *testing.T) {
	s := keeping(t)
	kept, err := s.Row(t.Context(), "limits", "ca-on-height-01")
	if err != nil || service.CheckRow("limits", "cells.", kept.Record) != nil {
		t.Fatalf("%v", err)
	}
	limits, err := store.TableNamed("limits")
	if err != nil {
		t.Fatal(err)
	}
	bad := rows.Record(slices.Clone(kept.Record))
	bad[slices.Index(limits.ColumnNames(), "threshold")] = "4.1"
	refusal, ok := wire.AsRefusal(service.CheckRow("limits", "cells.", bad))
	if !ok || refusal.Errors[0].Field != "cells.threshold" || refusal.Errors[0].Value != "4.1" || refusal.Errors[0].Fix.None() {
		t.Errorf("%+v", refusal)
	}
}

// Earlier tables are answered from where they are kept; a revision that there is not
// is refused by the name of its field.
func TestEarlierTables(t *testing.T) {
	s := keeping(t)
	tables, err := s.Snapshot(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	raw, err := data.Files.ReadFile("areas/jurisdictions.bin")
	if err != nil {
		t.Fatal(err)
	}
	areas, err := area.Read(raw)
	if err != nil {
		t.Fatal(err)
	}
	known := &service.Service{Planner: &trip.Planner{Atlas: standing.Atlas{Areas: areas, Tables: tables}}, Clock: noon}
	for _, past := range []func(context.Context, int) (*regs.Tables, error){s.SnapshotAt, nil} {
		known.Past = past
		_, err := known.Check(t.Context(), wire.Decode[wire.CheckRequest]([]byte(`{"unit": {}, "in": ["CA-ON"], "tables_revision": 7}`)))
		if refusal, ok := wire.AsRefusal(err); !ok || len(refusal.Errors) != 1 || refusal.Errors[0].Field != "tables_revision" {
			t.Errorf("%v", err)
		}
	}
	known.Past = s.SnapshotAt
	d, err := known.Check(t.Context(), wire.Decode[wire.CheckRequest]([]byte(`{"unit": {}, "in": ["CA-ON"], "tables_revision": 1}`)))
	if err != nil || !strings.HasPrefix(d.Revision, "1-") {
		t.Errorf("%+v, %v", d, err)
	}
}

// What is wrong with a file is named in the words of whoever gave it; other errors stay.
func TestImportFault(t *testing.T) {
	words := service.ImportWords{File: "a.csv", Revision: "--since", Dry: "--try", Start: say.Text("an export")}
	kept := keeping(t)
	offices, err := store.TableNamed("offices")
	if err != nil {
		t.Fatal(err)
	}
	head := strings.Join(offices.ColumnNames(), ",")
	for name, tc := range map[string]struct{ csv, field, problem, fix string }{
		"no id":         {head + "\n,CA-XX" + strings.Repeat(",", strings.Count(head, ",")-1), "a.csv, line 2, column id", "is empty", "fill it in"},
		"a column less": {"id,jurisdiction\n", "a.csv", "lacks columns", "start from an export"},
	} {
		_, err := kept.Import(t.Context(), because, store.Import{Table: "offices", CSV: strings.NewReader(tc.csv)},
			func(store.Difference) { t.Errorf("%s: something differs", name) })
		refusal, ok := wire.AsRefusal(service.ImportFault(err, words))
		if !ok {
			t.Fatalf("%s: %v", name, err)
		}
		e := refusal.Errors[0].In(phrase.English())
		if e.Field != tc.field || !strings.Contains(e.Problem, tc.problem) || !strings.Contains(e.Fix, tc.fix) {
			t.Errorf("%s: %+v", name, e)
		}
	}
	refusal, _ := wire.AsRefusal(service.ImportFault(&store.UnnamedError{Table: "offices", ID: "b", Newest: 7}, words))
	if e := refusal.Errors[0].In(phrase.English()); e.Field != "--since" ||
		e.Fix != "look at what would change with --try, then give --since 7, or start from an export" {
		t.Errorf("%+v", e)
	}
	if err := service.ImportFault(context.Canceled, words); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}
