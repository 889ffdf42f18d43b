package report

import (
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/standing"
)

func (t *text) structures() {
	any := false
	for i, l := range t.plan.Legs {
		for _, s := range l.Structures {
			any = true
			t.structure(say.That("report.on_leg", "leg", i+1, "at", s.At), s)
		}
	}
	for _, a := range t.plan.Avoided {
		for _, s := range a.Structures {
			any = true
			t.structure(say.That("report.avoided_one"), s)
		}
	}
	for at, f := range t.plan.All() {
		if at.Leg == 0 && f.Topic == finding.Structure {
			any = true
			t.tell(1, say.That("report.about", "outcome", t.outcome(f.Outcome), "what", f.Place, "says", f.Says,
				"whom", t.in.Ask(f)))
			for _, r := range f.Citations {
				t.row(r)
			}
		}
	}
	lacks := slices.Contains(t.plan.About.Lacks, network.Structures)
	switch {
	case !any && lacks:
		t.tell(1, say.That("report.no_structures"))
	case lacks:
		t.tell(1, say.That("report.given_structures"))
	case !any:
		t.tell(1, say.That("report.none_over_way"))
	default:
		t.tell(1, say.That("report.all_structures"))
		var kinds []say.Term
		for _, k := range network.OverheadKinds() {
			kinds = append(kinds, k)
		}
		t.tell(1, say.That("report.order_of_risk", "kinds", kinds))
	}
}

func (t *text) structure(where say.Remark, s standing.Passing) {
	says := append(slices.Clone(s.Others), s.Sum(), s.Why)
	if s.Doubt.String() != s.Why.String() {
		says = append(says, s.Doubt)
	}
	ask := ""
	if len(s.Settles) > 0 {
		ask = t.codes(slices.DeleteFunc([]string{s.Jurisdiction}, func(c string) bool { return c == "" }))
	}
	t.tell(1, say.That("report.structure", "outcome", t.outcome(s.Outcome), "name", s.Called, "row", s.ID, "where", where,
		"says", says, "source", strings.TrimSuffix(s.Source+", "+s.Section, ", "), "status", t.status(s.Status),
		"read", readOn(s.ReadOn), "ask", ask))
}

// onRoads writes what is known of the trip as a whole and of the signs of its roads;
// what is unknown stands among what is to be done.
func (t *text) onRoads() {
	any := false
	for at, f := range t.plan.All() {
		passed := f.Outcome == finding.Unknown || f.Outcome == finding.Clear
		told := at.Rig || ofLimits(f) || f.Topic == finding.Structure || f.Topic == finding.Duty
		if passed || told {
			continue
		}
		if !any {
			t.heading(say.That("report.head_signs"))
			any = true
		}
		what := strings.TrimSpace(t.in.Term(f.Rule) + " " + t.in.Say(f.Place))
		t.tell(1, say.That("report.about_leg", "outcome", t.outcome(f.Outcome), "what", what, "leg", place(at),
			"says", f.Says, "whom", t.in.Ask(f)))
	}
}
