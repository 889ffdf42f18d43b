package report

import (
	"cmp"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
)

func (t *text) rig(r rig.Rig) {
	var basis say.Remark
	switch {
	case r.Unit.Height == nil:
	case r.Unit.HeightMeasured:
		basis = say.That("report.measured_on", "on", say.Day(r.Unit.MeasuredOn))
	default:
		basis = say.That("report.designed")
	}
	t.tell(1, say.That("report.unit", "name", r.Unit.Name, "height", known(t, r.Unit.Height), "basis", basis,
		"width", t.across(r.Unit), "length", known(t, r.Unit.Length), "mass", known(t, r.Unit.Mass.Pointer())))
	if r.Unit.Kind == limit.LoadOnTrailer {
		t.tell(1, say.That("report.load", "size", t.own(r.Unit.Load)))
		t.tell(1, say.That("report.trailer", "size", t.own(r.Unit.Trailer)))
	}
	t.tell(1, say.That("report.tow", "name", r.Tow.Name, "height", known(t, r.Tow.Height), "width", least(t, r.Tow.Width),
		"length", known(t, r.Tow.Length), "mass", known(t, r.Tow.Mass)))
	t.tell(1, say.That("report.rig", "height", known(t, r.Height.Pointer()), "width", known(t, r.Width.Pointer()),
		"length", known(t, r.Length.Pointer()), "mass", known(t, r.Mass.Pointer())))
	t.tell(1, say.That("report.counts_as", "kind", t.word(r.Unit.Kind), "use", t.word(r.Use),
		"coupling", t.word(r.Unit.Coupling), "tow", t.word(r.Tow.Form)))
}

func (t *text) own(o rig.Own) say.Remark {
	return say.That("report.own", "width", known(t, o.Width), "length", known(t, o.Length), "mass", known(t, o.Mass))
}

// across is the width of a unit with what it rests on.
func (t *text) across(u rig.Unit) say.Remark {
	out := say.Text(least(t, u.Width))
	if u.Width.AtLeast() {
		out = say.That("report.width_at_least", "width", out)
	}
	if u.House != nil && u.Kind != limit.LoadOnTrailer {
		out = say.That("report.width_over_tires", "width", out, "house", *u.House)
	}
	return out
}

func known[T measure.Length | measure.Mass](t *text, v *T) string {
	if v == nil {
		return t.notKnown()
	}
	return t.in.Quantity(*v)
}

// word is a word of ours, or that it is not known.
func (t *text) word(s say.Term) string { return cmp.Or(t.in.Term(s), t.notKnown()) }

// least is a value, or what it is at least.
func least[T measure.Length | measure.Mass](t *text, k measure.Known[T]) string {
	if v, ok := k.Least(); ok {
		return t.in.Quantity(v)
	}
	return t.notKnown()
}
