package report

import (
	"fmt"
	"io"

	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// Ladders writes how large a rig may be on each way between two stops as plain text:
// one screen of it, one subject, or all: the two ladders, what the law allows, cautions
// and credits. attributions are the credits of the data, a line each.
func Ladders(w io.Writer, v View, l *trip.Ladders, attributions []string) error {
	switch {
	case v.Why != "":
		return why(w, v, ladderSubjects(l), l.Tasks())
	case !v.Full:
		return ladderScreen(v.In, l).write(w, v)
	}
	t := newText(v, nil)
	t.b.WriteString(Printable(t.in.Sentences(l.Notice())) + "\n")
	t.line("%s", t.in.Say(trip.Cautions()[0]))
	t.heading(say.That("report.head_journey"))
	t.tell(1, say.That("report.journey", "from", l.From, "to", l.To))
	t.heading(say.That("report.head_rig"))
	if !l.Unit.Known() {
		t.tell(1, say.That("report.ladder_rig_unknown", "quantity", l.Quantity))
	} else {
		t.tell(1, say.That("report.size", "quantity", l.Quantity, "value", t.in.Quantity(l.Unit)))
	}
	t.heading(map[rig.Quantity]say.Remark{rig.Height: say.That("report.if_none_lower"),
		rig.Width: say.That("report.if_none_narrower"), rig.Mass: say.That("report.if_none_weaker")}[l.Quantity])
	t.ladder(l, l.Open)
	if !l.Alike() {
		t.heading(say.That("report.past_none"))
		t.ladder(l, l.Shut)
	}
	if lacks := lacking(l.About); len(lacks) > 0 {
		t.tell(1, say.That("report.ladder_lacks", "lacks", lacks, "quantity", l.Quantity))
	}
	t.heading(say.That("report.head_legal", "quantity", l.Quantity))
	t.legal(l.Legal)
	t.list(say.That("report.head_cautions"), t.in.Each(l.Cautions))
	t.data(l.About.Revision, l.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// ladder writes the steps of one ladder..
func (t *text) ladder(all *trip.Ladders, l choosing.Ladder) {
	if len(l.Steps) == 0 {
		t.tell(1, say.That("report.no_step", "why", l.Why))
		return
	}
	takes := -1 // the fastest step by which the rig passes
	var entries []entry
	for i := range l.Steps {
		if l.Steps[i].Passes {
			takes = i
		}
		entries = append(entries, t.stepEntry(all, &l.Steps[i]))
	}
	if takes >= 0 {
		entries[takes].below = append([]string{t.in.Say(say.That("report.takes_step"))}, entries[takes].below...)
	}
	t.table(t.heads(say.That("report.greatest", "quantity", all.Quantity), say.That("report.driving"),
		say.That("report.length"), say.That("report.unmeasured")), entries)
	if takes < 0 && all.Unit.Known() {
		t.tell(1, say.That("report.takes_none"))
	}
	if !l.Complete {
		t.tell(1, say.That("report.more_steps"))
	}
}

func (t *text) stepEntry(all *trip.Ladders, s *choosing.Step) entry {
	most, by := t.in.Say(say.That("report.no_limit")), ""
	if s.Most != 0 {
		most, by = t.in.Down(all.Quantity.Of(s.Most)), t.in.Say(say.That("report.limited_by", "what", s.By))
		for _, r := range s.Citations {
			by += " [" + r.ID + ": " + t.origin(r) + "]"
		}
	}
	driving := t.notKnown()
	if s.Time.Unknown.None() {
		driving = t.duration(s.Time)
	}
	count := fmt.Sprint(len(s.Unknowns))
	if len(lacking(all.About)) > 0 {
		count = t.in.Say(say.That("report.or_more", "count", len(s.Unknowns)))
	}
	through := say.That("report.jurisdiction_unknown")
	if len(s.Areas) > 0 {
		through = say.That("report.through", "areas", s.Areas)
	}
	e := entry{cells: []string{most, driving, t.in.Quantity(s.Length), count}}
	for _, sentence := range []string{by, t.stepTime(s.Time), t.in.Say(through), t.in.Say(unmeasured(s.Unknowns))} {
		if sentence != "" {
			e.below = append(e.below, sentence)
		}
	}
	if s.Ferry {
		e.below = append(e.below, t.in.Say(say.That("report.uses_ferry")))
	}
	return e
}

func (t *text) stepTime(d driving.Duration) string {
	if d.Unknown.None() {
		return ""
	}
	return t.duration(d)
}

// unmeasured names the first few of what is not measured on a way.
func unmeasured(names []say.Remark) say.Remark {
	const few = 5
	switch n := len(names); {
	case n == 0:
		return say.Remark{}
	case n <= few:
		return say.That("report.unknown", "why", names)
	default:
		return say.That("report.unknown_few", "names", names[:few], "more", n-few)
	}
}

func (t *text) legal(list []trip.Legal) {
	if len(list) == 0 {
		t.tell(1, say.That("report.no_legal"))
	}
	for _, k := range list {
		t.tell(1, say.That("report.legal", "jurisdiction", say.Jurisdiction(k.Jurisdiction), "most", k.Most))
	}
}
