// Package service is what the program does for whoever asks, by either of its doors:
// the command line and HTTP. It takes requests as [wire.Decode] reads them, and knows
// nothing of flags, files, headers and statuses.
package service

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
	"wayhouse/routing/place"
	"wayhouse/routing/trip"
)

// Service answers questions from one network and the newest tables.
type Service struct {
	Planner *trip.Planner    // with the tables of the start; see Swap
	Places  *place.Gazetteer // nil where no way is asked about
	Clock   func() time.Time
	// Past reads the tables at an earlier revision; nil where none are kept.
	Past func(ctx context.Context, revision int) (*regs.Tables, error)

	swapped atomic.Pointer[trip.Planner]
}

// Swap lets requests that come from now on answer from other tables, unless
// newer ones are in use already. Those under way keep theirs.
func (s *Service) Swap(t *regs.Tables) {
	p := *s.Planner
	p.Tables = t
	for {
		before := s.swapped.Load()
		if before != nil && before.Tables.Number > t.Number || s.swapped.CompareAndSwap(before, &p) {
			return
		}
	}
}

// planner returns what a request answers from: one state of the tables, however
// often they change meanwhile.
func (s *Service) planner() *trip.Planner {
	if p := s.swapped.Load(); p != nil {
		return p
	}
	return s.Planner
}

// Newest are the tables that answers rest on.
func (s *Service) Newest() *regs.Tables { return s.planner().Tables }

// plannerAt returns a planner with the tables at a revision; 0 is the newest.
func (s *Service) plannerAt(ctx context.Context, revision int) (*trip.Planner, error) {
	p := s.planner()
	if revision == 0 || revision == p.Tables.Number {
		return p, nil
	}
	if s.Past == nil {
		return nil, &measure.FieldError{
			Field: "tables_revision", Value: fmt.Sprint(revision), Problem: say.That("error.no_earlier_tables_are"),
			Fix: say.That("fix.leave_it_out"),
		}
	}
	t, err := s.Past(ctx, revision)
	var none *store.NoRevisionError
	if errors.As(err, &none) {
		return nil, wire.Refuse(wire.FieldError{
			Field: "tables_revision", Value: revision,
			Problem: none.Remark(), Fix: say.That("fix.give_a_number_that_v1"),
		})
	}
	if err != nil {
		return nil, err
	}
	past := *p
	past.Tables = t
	return &past, nil
}

// read reads a request against what is known, and finds the planner that it is for.
func read[R any](ctx context.Context, s *Service, refused *wire.Refusal, revision int,
	read func(wire.Known) (R, error)) (out R, p *trip.Planner, err error) {
	known := wire.Known{Places: s.Places, Areas: s.Planner.Areas, Tables: s.Newest(), Now: s.Clock(), Refused: refused}
	if out, err = read(known); err == nil {
		p, err = s.plannerAt(ctx, revision)
	}
	return out, p, err
}

// Plan plans a trip, or checks a given route.
func (s *Service) Plan(ctx context.Context, q wire.Asked[wire.TripRequest]) (*trip.Plan, error) {
	return s.planSaved(ctx, q, "")
}

// planSaved plans a trip that was saved under a name, "" for none.
func (s *Service) planSaved(ctx context.Context, q wire.Asked[wire.TripRequest], name string) (*trip.Plan, error) {
	request, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	return forTrip(p, name).Plan(ctx, request)
}

// forTrip is a planner that counts what offices said of a saved trip alone.
func forTrip(p *trip.Planner, name string) *trip.Planner {
	if name == "" {
		return p
	}
	own := *p
	own.Tables = p.Tables.ForTrip(name)
	return &own
}

// Routes finds the ways of a trip.
func (s *Service) Routes(ctx context.Context, q wire.Asked[wire.RouteRequest]) (*trip.Routes, error) {
	request, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	return p.Routes(ctx, request)
}

// Ladders works out how large a rig may be on each way.
func (s *Service) Ladders(ctx context.Context, q wire.Asked[wire.LadderRequest]) (*trip.Ladders, error) {
	request, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	return p.Ladders(ctx, request, q.Said.Climbs())
}

// Moves plans how one crew moves several units.
func (s *Service) Moves(ctx context.Context, q wire.Asked[wire.MovesRequest]) (*trip.Moves, error) {
	revision := 0
	if len(q.Said.Moves) > 0 {
		revision = q.Said.Moves[0].TablesRevision
	}
	request, p, err := read(ctx, s, q.Refused, revision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	return p.MoveAll(ctx, request)
}
