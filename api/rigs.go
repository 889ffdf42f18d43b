package api

import (
	"bytes"
	"context"

	"wayhouse/api/draw"
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

// drawRig answers with the drawing of a rig.
func (s *Service) drawRig(ctx context.Context, in *body[wire.RigQuestion]) (*picture, error) {
	q := in.Body.Asked
	q.Said.Stops, q.Said.Route = nil, nil // a drawing needs no way
	a, err := s.Rig(ctx, q)
	if err != nil {
		return nil, s.problem(err)
	}
	var out bytes.Buffer
	if err := draw.SVG(&out, a.Report.Rig, a.Statics, a.Invented); err != nil {
		return nil, s.problem(err)
	}
	return &picture{ContentType: "image/svg+xml", Body: out.Bytes()}, nil
}

// picture is an answer that is no JSON.
type picture struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}
