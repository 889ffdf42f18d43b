package report

import (
	"slices"
	"strings"
	"time"
	"wayhouse/regs/finding"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

func (t *text) structures() {
	any := false
	for i, l := range t.plan.Legs {
		for _, s := range l.Structures {
			any = true
			t.structure(t.say("leg %d, %s", i+1, s.At), s)
		}
	}
	for _, a := range t.plan.Avoided {
		for _, s := range a.Structures {
			any = true
			t.structure("avoided", s)
		}
	}
	for at, f := range t.plan.All() {
		if at.Leg == 0 && f.Topic == finding.Structure {
			any = true
			t.line("  %s: %s: %s%s.", outcome(f.Outcome), t.in.Say(f.Place), t.in.Summary(f),
				t.ask(f))
			for _, r := range f.Citations {
				t.row(r)
			}
		}
	}
	lacks := slices.Contains(t.plan.About.Lacks, network.Structures)
	switch {
	case !any && lacks:
		t.line("  none was given for this way, and the network knows none: what hangs over it is UNKNOWN")
	case lacks:
		t.line("  Only the structures that were given are listed; the network knows no others, which does not " +
			"mean that there are none.")
	case !any:
		t.line("  the network has none over this way, which does not mean that there are none")
	default:
		t.line("  Those that were given and those that the network has are listed; there may be others.")
		var kinds []string
		for _, k := range network.OverheadKinds() {
			kinds = append(kinds, k.String())
		}
		t.line("  Below, those without a usable height come in this order of risk: %s.", strings.Join(kinds, ", "))
	}
}

func (t *text) structure(where string, s standing.Passing) {
	says := append(slices.Clone(s.Others), s.Sum(), s.Why)
	if s.Doubt.String() != s.Why.String() {
		says = append(says, s.Doubt)
	}
	read := "never read"
	if !s.ReadOn.IsZero() {
		read = "read " + s.ReadOn.Format(time.DateOnly)
	}
	ask := ""
	if len(s.Settles) > 0 {
		ask = ". Ask the office of " + codes(slices.DeleteFunc([]string{s.Jurisdiction},
			func(c string) bool { return c == "" })) + " named below"
	}
	source := strings.TrimSuffix(s.Source+", "+s.Section, ", ")
	t.line("  %s: %s (%s), %s: %s [%s, %s, %s]%s", outcome(s.Outcome), t.in.Say(s.Called),
		s.ID, where, t.in.All(says), source, status(s.Status), read, ask)
}

// onRoads writes what the signs of the roads ask for, each once, with the legs
// it stands on; unknowns are listed with the others.
func (t *text) onRoads() {
	any := false
	for at, f := range t.plan.All() {
		passed := f.Outcome == finding.Unknown || f.Outcome == finding.Clear
		if at.Leg == 0 || passed || ofLimits(f) || f.Topic == finding.Structure {
			continue
		}
		if !any {
			t.heading("Signs and roads")
			any = true
		}
		what := strings.TrimSpace(t.in.Term(f.Rule) + " " + t.in.Say(f.Place))
		t.line("  %s: %s, %s: %s%s.", outcome(f.Outcome), what, place(at), t.in.Summary(f),
			t.ask(f))
	}
}
