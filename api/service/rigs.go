package service

import (
	"context"
	"slices"
	"time"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
)

// Rig works out what a rig weighs, how it stands, pulls and turns.
func (s *Service) Rig(ctx context.Context, q wire.Asked[wire.RigQuestion]) (*wire.RigAnswer, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	if w := q.Said.Wishes; w != nil {
		asked.Rig.WindRoad = w.TopSpeed.Or(0)
	}
	out := &wire.RigAnswer{Report: asked.Rig.Report(), Invented: asked.Rig.Invented, Tables: p.Tables.Revision}
	if asked.Corner != nil {
		if out.Corner, err = asked.Rig.Try(*asked.Corner); err != nil {
			return nil, err
		}
		out.Findings = append(out.Findings, out.Corner.Finding())
	}
	for _, code := range asked.Codes {
		found := p.Tables.Duty(asked.Rig.Drive(code, asked.Day))
		out.Findings = append(out.Findings, slices.DeleteFunc(found, ofHours)...)
	}
	task.Heed(out.Findings, asked.Done, asked.Day, p.Tables.Term)
	for i := range out.Findings {
		out.Findings[i].Invented = out.Findings[i].Invented || out.Invented
	}
	if q.Said.Drives() {
		out.Plan, err = s.Plan(ctx, wire.Asked[wire.TripRequest]{Said: q.Said.TripRequest})
	}
	return out, err
}

// ofHours reports whether a finding is about hours of driving: they are asked of a trip,
// not of a rig.
func ofHours(f finding.Finding) bool { return f.Rule == finding.Rule(duty.AllHours) }

// Check holds a design against jurisdictions.
func (s *Service) Check(ctx context.Context, q wire.Asked[wire.CheckRequest]) (*regs.Design, error) {
	asked, p, err := read(ctx, s, q.Refused, q.Said.TablesRevision, q.Said.Read)
	if err != nil {
		return nil, err
	}
	var assumed []say.Remark
	if asked.Alone && len(asked.Rig.Vehicle(clearance.DefaultAllowances()).Measures) > 0 {
		assumed = []say.Remark{say.That("check.tow_within_unit")}
	}
	v := asked.Rig.Vehicle(clearance.DefaultAllowances())
	d := p.Tables.Design(v, asked.Codes, asked.Day, asked.Only...)
	d.Name, d.Invented = asked.Rig.Unit.Name, asked.Rig.Invented
	d.Assumed = append(assumed, uncertain(v)...)
	d.Heed(asked.Done, p.Tables.Term)
	if q.Said.Permits {
		from := time.Time{}
		if q.Said.Day != "" {
			from = asked.Day
		}
		d.AskPermits(p.Tables, from)
	}
	return d, nil
}

// uncertain says by how much sizes may turn out more than they are given, which
// is kept before each limit.
func uncertain(v regs.Vehicle) []say.Remark {
	var out []say.Remark
	for _, q := range limit.Quantities() {
		if u := v.Uncertain[q]; u.By > 0 {
			by := q.Of(u.By)
			remark := say.That("check.measured_uncertain", "quantity", q, "by", by)
			if u.Designed {
				remark = say.That("check.designed_uncertain", "quantity", q, "by", by)
			}
			out = append(out, remark)
		}
	}
	return out
}
