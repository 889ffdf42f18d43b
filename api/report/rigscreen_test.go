package report_test

import (
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
)

// exampleRig is the unit of data/example, with or without its tow vehicle.
func exampleRig(t testing.TB, towed bool) *wire.RigAnswer {
	t.Helper()
	var q wire.RigQuestion
	check(t, yaml.Unmarshal(must(os.ReadFile(example+"unit.yaml")), &q.Unit))
	if towed {
		check(t, yaml.Unmarshal(must(os.ReadFile(example+"tow.yaml")), &q.Tow))
		q.In = []string{"CA-ON", "CA-QC"}
	}
	p, _ := planner()
	a, err := (&service.Service{Planner: p, Clock: noon}).Rig(t.Context(), wire.Asked[wire.RigQuestion]{Said: q})
	check(t, err)
	return a
}

// answerOf is the answer about a rig of which only this is said.
func answerOf(u rig.Unit, t rig.Tow) *wire.RigAnswer {
	return &wire.RigAnswer{Report: must(rig.Assemble(u, t, rig.Overall{}, "")).Report(), Tables: "1-x"}
}

func rigText(t failer, v report.View, a *wire.RigAnswer) string {
	t.Helper()
	var b strings.Builder
	if err := report.Rig(&b, v, a); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

func TestRigScreens(t *testing.T) {
	ball := rig.Unit{Coupling: rig.Ball, Mass: measure.Exactly(4 * measure.Tonne)}
	driven := *exampleRig(t, true)
	driven.Plan = examplePlan(t, true)
	for name, a := range map[string]*wire.RigAnswer{
		"rig": exampleRig(t, true), "rig-on-a-way": &driven, "rig-unit-alone": exampleRig(t, false),
		"rig-mass-alone":    answerOf(ball, rig.Tow{}),
		"rig-nothing-given": answerOf(rig.Unit{}, rig.Tow{}),
	} {
		t.Run(name, func(t *testing.T) {
			for _, v := range views() {
				text := rigText(t, v, a)
				fits(t, text)
				tellsRig(t, v.In, a, text)
			}
			if name == "rig" {
				tenLines(t, a)
			}
			for _, l := range phrase.Languages() {
				isGolden(t, name, l, rigText(t, report.View{In: phrase.In(l, measure.Both)}, a))
			}
		})
	}
}

// tenLines checks that the answer about a rig stands in ten lines above its foot, in every
// language and choice of units, and that hours of driving are not among them.
func tenLines(t *testing.T, a *wire.RigAnswer) {
	t.Helper()
	for _, v := range views() {
		text := rigText(t, v, a)
		above, _, _ := strings.Cut(text, v.In.Say(trip.Cautions()[0]))
		if n := strings.Count(above, "\n"); n > 10 {
			t.Errorf("%d lines:\n%s", n, text)
		}
	}
	for _, f := range a.Findings {
		if f.Rule == finding.Rule(duty.AllHours) {
			t.Errorf("%v of a rig that drives nowhere", f)
		}
	}
}

// tellsRig checks what every screen of a rig tells: the mark of invented data first of
// all, the caution, each rating that is exceeded, and what truck the unit takes, where
// that is known.
func tellsRig(t failer, in *phrase.Language, a *wire.RigAnswer, text string) {
	t.Helper()
	mark := in.Say(say.That("head.invented"))
	if got := strings.HasPrefix(text, mark+". "); got != a.Invented || strings.Count(text, mark) > 1 {
		t.Errorf("invented: %t\n%s", a.Invented, text)
	}
	flat := squeezed(text)
	if !strings.Contains(flat, squeezed(in.Say(trip.Cautions()[0]))) {
		t.Errorf("no caution in\n%s", text)
	}
	for _, needs := range []measure.Known[rig.Estimate]{a.Needs.Resting, a.Needs.Towed} {
		one := in.EachSystem()[0]
		if e, ok := needs.Value(); ok && len(a.Rig.Tow.Truck.Axles) == 0 &&
			!strings.Contains(flat, squeezed(one.Up(e.High))) {
			t.Errorf("what truck: %s is not in\n%s", one.Up(e.High), text)
		}
	}
	if finding.Roll(a.Findings).Unknowns > 0 && !strings.Contains(flat, squeezed(notKnown[in.Tag()])) {
		t.Errorf("something is not known, and nothing says so:\n%s", text)
	}
}

// A rating that is exceeded stands on the screen with by how much, whatever else there
// is to say, and of several axles the one that is over its rating by most.
func TestRigScreenShowsWhatIsOver(t *testing.T) {
	u := rig.Unit{Frame: rig.Frame{Axles: []rig.Axle{{At: 5 * measure.Metre}, {At: 6 * measure.Metre}}}}
	rated := []measure.Mass{2000 * measure.Kilogram, 1700 * measure.Kilogram}
	for i := range u.Frame.Axles {
		u.Frame.Axles[i].Rating, u.Frame.Axles[i].Each, u.Frame.Axles[i].Tires = &rated[i], &rated[0], 2
	}
	u.Ticket = &rig.Ticket{
		Coupling: 500 * measure.Kilogram,
		Axles:    []measure.Mass{2100 * measure.Kilogram, 1950 * measure.Kilogram},
	}
	text := rigText(t, report.View{In: phrase.English()}, answerOf(u, rig.Tow{}))
	has(t, text, "axle 2 of the unit (of 2)", "1,950 kg", "1,700 kg", "OVER by 250 kg", "forbidden")
	hasNot(t, text, "OVER by 100 kg")
}

// Whatever a unit is called and how many parts it has, the screen keeps its size.
func TestAnyRigOnScreen(t *testing.T) {
	of := exampleRig(t, true)
	names := rapid.StringMatching(`[A-Za-zé0-9]{1,30}( [A-Za-zé0-9]{1,30}){0,12}`)
	rapid.Check(t, func(r *rapid.T) {
		a := *of
		a.Rig.Unit.Name, a.Rig.Tow.Name = names.Draw(r, "unit"), names.Draw(r, "tow")
		a.Findings = nil
		for range rapid.IntRange(0, 4).Draw(r, "times") {
			a.Findings = append(a.Findings, of.Findings...)
		}
		for i := range a.Findings {
			a.Findings[i].Outcome = rapid.SampledFrom(finding.Outcomes()).Draw(r, "outcome")
		}
		view := rapid.SampledFrom(views()).Draw(r, "view")
		text := rigText(r, view, &a)
		fits(r, text)
		tellsRig(r, view.In, &a, text)
	})
}

// The answer about a rig is ten lines and two of the foot, in every language and system of
// units, with a tow vehicle and without.
func TestRigScreenIsTenLines(t *testing.T) {
	for _, towed := range []bool{false, true} {
		a := exampleRig(t, towed)
		for _, view := range views() {
			text := strings.TrimSpace(rigText(t, view, a))
			if n := strings.Count(text, "\n") + 1; n > 12 {
				t.Errorf("towed %t: %d lines\n%s", towed, n, text)
			}
		}
	}
}
