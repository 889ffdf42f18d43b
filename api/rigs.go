package api

import (
	"context"
	"slices"

	"wayhouse/api/export"
	"wayhouse/api/wire"
)

// Rig answers a question about a rig; the command line asks the same.
func (s *Service) Rig(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	coupled, codes, err := q.Said.Read(s.known(q.Refused))
	if err != nil {
		return nil, err
	}
	p, err := s.plannerAt(ctx, q.Said.Revision)
	if err != nil {
		return nil, err
	}
	out := &wire.RigAnswer{Report: coupled.Report(), Invented: coupled.Invented, Tables: p.Tables.Revision}
	for _, code := range codes {
		out.Findings = append(out.Findings, p.Tables.Duty(coupled.Task(code, coupled.Day))...)
	}
	for i := range out.Findings {
		out.Findings[i].Invented = out.Findings[i].Invented || out.Invented
	}
	if way, ok := q.Said.Trip(); ok {
		out.Plan, err = s.Plan(ctx, wire.Asked[wire.TripRequest]{Said: way})
	}
	return out, err
}

// drawn answers about a rig that is to be drawn, which needs no way.
func (s *Service) drawn(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	q.Said.Stops, q.Said.Route = nil, nil
	return s.Rig(ctx, q)
}

// drawings are the formats that are pictures.
func drawings() []export.Format {
	return slices.DeleteFunc(export.For[*wire.RigAnswer](), func(f export.Format) bool { return f.Name != "svg" })
}
