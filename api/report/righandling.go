package report

import (
	"math"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
)

// handling writes what the coupling does to the tow vehicle.
func (t *text) handling(r rig.Report) {
	if k, ok := r.Steering.Value(); ok {
		t.tell(1, say.That("report.steering", "coupled", k.Coupled.Says(), "empty", k.Empty, "remains", 100*k.Remains.Likely,
			"share", 100*k.Share.Likely))
	} else {
		t.unknown(say.That("rig.steering_unknown", "why", r.Steering.Why()))
	}
	if b := r.Statics.Bars; b != nil {
		t.tell(1, say.That("report.bars", "low", 100*b.Returned.Low, "high", 100*b.Returned.High, "first", b.ToFirst.Says(),
			"unit", b.ToUnit.Says()))
	}
	t.level(r)
	t.stopping(r.Stops)
}

// level writes how the unit stands on its coupling.
func (t *text) level(r rig.Report) {
	l, ok := r.Level.Value()
	if !ok {
		t.unknown(say.That("rig.level_unknown", "why", r.Level.Why()))
		return
	}
	t.tell(1, say.That("rig.level", "up", l.Off > 0, "off", max(l.Off, -l.Off), "degrees", math.Abs(l.Pitch),
		"over", l.Higher, "raised", l.Higher > 0))
	if l.Onto != nil {
		t.tell(1, l.Leans())
	}
}

// stopping writes how far the rig goes until it stands.
func (t *text) stopping(known measure.Known[rig.Stops]) {
	s, ok := known.Value()
	if !ok {
		t.unknown(say.That("rig.stopping_unknown", "why", known.Why()))
		return
	}
	if !s.Unknown.None() {
		t.unknown(say.That("rig.stopping_unknown", "why", s.Unknown))
	}
	var rows []entry
	for _, at := range s.At {
		e := entry{cells: []string{t.in.Quantity(at.Speed), t.notKnown(), t.notKnown(), t.far(at.Alone)}}
		if s.Unknown.None() {
			e.cells[1], e.cells[2] = t.far(at.Dry), t.far(at.Wet)
		}
		rows = append(rows, e)
	}
	t.table(t.heads(say.That("report.stops_from"), say.That("report.stops_dry"), say.That("report.stops_wet"),
		say.That("report.stops_alone")), rows)
}

// far is a distance with the ends that nine of ten lie between.
func (t *text) far(b drive.Band[measure.Distance]) string {
	return t.in.Say(say.That("report.stops_within", "likely", measure.Rise(b.Likely), "low", measure.Rise(b.Low),
		"high", measure.Rise(b.High)))
}
