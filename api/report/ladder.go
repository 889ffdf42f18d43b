package report

import (
	"cmp"
	"fmt"
	"io"
	"strings"

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
	t.heading("Journey")
	t.line("  from %s to %s", l.From, l.To)
	t.heading("Rig")
	if !l.Unit.Known() {
		t.line("  its %s is UNKNOWN, and so is which step it takes", l.Quantity)
	} else {
		t.line("  %s %s", l.Quantity, t.in.Quantity(l.Unit))
	}
	t.heading("If nothing unmeasured " + map[rig.Quantity]string{rig.Height: "is lower", rig.Width: "is narrower",
		rig.Mass: "is weaker"}[l.Quantity])
	t.ladder(l, l.Open)
	if !l.Alike() {
		t.heading("Past nothing unmeasured")
		t.ladder(l, l.Shut)
	}
	if lacks := lacking(l.About); len(lacks) > 0 {
		var names []string
		for _, fact := range lacks {
			names = append(names, t.in.Term(fact))
		}
		t.line("  The network knows no %s: but for what was given, what limits the %s on these ways is UNKNOWN.",
			strings.Join(names, ", no "), l.Quantity)
	}
	t.heading(fmt.Sprintf("Legal %s without a permit", l.Quantity))
	t.legal(l.Legal)
	t.list("Cautions", t.in.Each(l.Cautions))
	t.data(l.About.Revision, l.Tables, attributions)
	_, err := io.WriteString(w, t.b.String())
	return err
}

// ladder writes the steps of one ladder..
func (t *text) ladder(all *trip.Ladders, l choosing.Ladder) {
	if len(l.Steps) == 0 {
		t.line("  no step: %s", t.in.Say(l.Why))
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
		entries[takes].below = append([]string{"the given rig takes this step"}, entries[takes].below...)
	}
	t.table([]string{"greatest " + string(all.Quantity), "driving", "length", "unmeasured"}, entries)
	if takes < 0 && all.Unit.Known() {
		t.line("  the given rig passes by NONE of these")
	}
	if !l.Complete {
		t.line("  there are more and greater steps, which were not sought")
	}
}

func (t *text) stepEntry(all *trip.Ladders, s *choosing.Step) entry {
	most, by := "nothing known limits it", ""
	if s.Most != 0 {
		most, by = t.in.Down(all.Quantity.Of(s.Most)), "limited by "+t.in.Say(s.By)
		for _, r := range s.Citations {
			by += " [" + r.ID + ": " + origin(r) + "]"
		}
	}
	driving := "UNKNOWN"
	if s.Time.Unknown.None() {
		driving = t.duration(s.Time)
	}
	count := fmt.Sprint(len(s.Unknowns))
	if len(lacking(all.About)) > 0 {
		count += " or more"
	}
	through := "jurisdiction UNKNOWN"
	if len(s.Areas) > 0 {
		through = "through " + strings.Join(s.Areas, ", ")
	}
	e := entry{cells: []string{most, driving, t.in.Quantity(s.Length), count}}
	for _, sentence := range []string{by, t.stepTime(s.Time), through, unmeasured(t.in.Each(s.Unknowns))} {
		if sentence != "" {
			e.below = append(e.below, sentence)
		}
	}
	if s.Ferry {
		e.below = append(e.below, "it uses a ferry")
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
func unmeasured(names []string) string {
	const few = 5
	switch n := len(names); {
	case n == 0:
		return ""
	case n <= few:
		return "UNKNOWN: " + strings.Join(names, "; ")
	default:
		return fmt.Sprintf("UNKNOWN: %s; and %d more", strings.Join(names[:few], "; "), n-few)
	}
}

func (t *text) legal(list []trip.Legal) {
	if len(list) == 0 {
		t.line("  not established: no jurisdiction is known on these ways")
	}
	for _, k := range list {
		most := cmp.Or(t.in.Down(k.Most), "not established")
		t.line("  %s: %s", k.Jurisdiction, most)
	}
}
