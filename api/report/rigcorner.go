package report

import (
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
)

// tried says in a line or two whether the rig gets through the corner that was to be
// tried, and where to turn.
func (s *screen) tried(m *rig.Manoeuvre) {
	if m == nil {
		return
	}
	part := s.part(say.That("screen.label.corner"))
	f, ok := m.Fit.Value()
	if !ok {
		part.keeps(say.That("screen.rig.not_known", "why", m.Fit.Why()))
		return
	}
	part.keeps(say.That("screen.rig.tried", "passes", f.Passes(), "place", triedPlace(m.Place), "left", long(f.Left),
		"right", long(f.Right), "assumed", m.Assumed, "lock", m.Lock))
	if m.Place.Angle > 0 {
		part.keeps(triedLine(f))
	}
}

// triedPlace is a corner, a driveway or a gate in words.
func triedPlace(p sweep.Place) say.Remark {
	var gate any
	if p.Gate != nil {
		gate = long(p.Gate.Width)
	}
	return say.That("report.tried_place", "straight", p.Angle == 0, "angle", float64(p.Angle/sweep.Degree),
		"right", p.Side == sweep.Right, "from", long(p.From), "into", long(p.Into), "gate", gate, "on", p.GoesOn)
}

// triedLine is where a line turns.
func triedLine(f sweep.Fit) say.Remark {
	turn := long(f.Turn)
	return say.That("report.tried_line", "radius", long(f.Radius), "turn", max(turn, -turn), "before", turn < 0,
		"aside", long(f.Aside))
}

// corner writes what came of a corner, a driveway or a gate.
func (t *text) corner(m *rig.Manoeuvre) {
	f, ok := m.Fit.Value()
	if !ok {
		t.unknown(m.Fit.Why())
		return
	}
	t.tell(1, say.That("screen.rig.tried", "passes", f.Passes(), "place", triedPlace(m.Place), "left", long(f.Left),
		"right", long(f.Right), "assumed", m.Assumed, "lock", m.Lock))
	if m.Place.Angle > 0 {
		t.tell(1, triedLine(f))
	}
	if f.Out+f.Over > sweep.Degree {
		t.tell(1, say.That("report.tried_swings", "out", float64(f.Out/sweep.Degree), "beyond", float64(f.Over/sweep.Degree)))
	}
	swept := f.Swept
	t.tell(1, say.That("report.tried_tracks", "in", long(swept.OffTracking), "cuts", swept.Cuts == sweep.Right,
		"by", long(swept.TailSwing), "swings", swept.Swings == sweep.Right, "bends", float64(swept.Articulation/sweep.Degree),
		"may", m.Bends))
	t.tell(1, say.That("report.tried_search"))
}
