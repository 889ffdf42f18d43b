package report

import (
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
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
}
