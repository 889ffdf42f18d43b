package service

import (
	"context"
	"fmt"

	"wayhouse/api/phrase"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/limit"
)

// Rig works out what a rig weighs, how it stands, pulls and turns.
func (s *Service) Rig(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	out := &wire.RigAnswer{Report: asked.Rig.Report(), Invented: asked.Rig.Invented, Tables: p.Tables.Revision}
	for _, code := range asked.Codes {
		out.Findings = append(out.Findings, p.Tables.Duty(asked.Rig.Task(code, asked.Day))...)
	}
	for i := range out.Findings {
		out.Findings[i].Invented = out.Findings[i].Invented || out.Invented
	}
	if q.Said.Drives() {
		out.Plan, err = s.Plan(ctx, wire.Asked[wire.TripRequest]{Said: q.Said.TripRequest})
	}
	return out, err
}

// Check holds a design against jurisdictions.
func (s *Service) Check(ctx context.Context, q wire.Asked[wire.CheckRequest]) (*regs.Design, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	var assumed []string
	if asked.Alone {
		assumed = []string{"the tow vehicle is neither higher nor wider than the unit"}
	}
	v := asked.Rig.Vehicle(clearance.DefaultAllowances())
	d := p.Tables.Design(v, asked.Codes, asked.Day)
	d.Assumed = append(assumed, uncertain(v)...)
	return d, nil
}

// uncertain says by how much sizes may turn out more than they are given, which
// is kept before each limit.
func uncertain(v regs.Vehicle) []string {
	var out []string
	for _, q := range limit.Quantities() {
		if u := v.Uncertain[q]; u.By > 0 {
			word, basis := phrase.English().Term(q), "measured"
			if u.Designed {
				basis = "designed"
			}
			out = append(out, fmt.Sprintf("the %s is %s and may turn out %s more: so much is kept before each "+
				"limit, and in the largest %s", word, basis, q.Of(u.By).Up(), word))
		}
	}
	return out
}
