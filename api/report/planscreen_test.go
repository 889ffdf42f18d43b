package report_test

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/driving"
)

// views are those in which the first screens are shown: each language, with both
// systems of units, which take most room, and with one.
func views() (out []report.View) {
	for _, tag := range phrase.Languages() {
		for _, units := range []measure.System{measure.Both, measure.Metric, measure.Customary} {
			out = append(out, report.View{In: phrase.In(tag, units)})
		}
	}
	return out
}

// fits checks that a text is one screen: 40 lines of 100 columns.
func fits(t failer, text string) {
	t.Helper()
	if n := strings.Count(text, "\n"); n > 40 {
		t.Errorf("%d lines:\n%s", n, text)
	}
	for line := range strings.Lines(text) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

func planText(t failer, v report.View, p *trip.Plan) string {
	t.Helper()
	var b strings.Builder
	if err := report.Plan(&b, v, p, nil); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

// isGolden compares a first screen with the one that is kept.
func isGolden(t *testing.T, name string, tag language.Tag, got string) {
	t.Helper()
	file := "../../testdata/screen-" + name + "." + tag.String() + ".txt"
	if *update {
		check(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	check(t, err)
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("the screen is not %s (-update writes it):\n%s", file, diff)
	}
}

// longPlan drives through fourteen jurisdictions, each with what its rules say.
func longPlan(t testing.TB) *trip.Plan {
	t.Helper()
	planner, _ := planner()
	of := examplePlan(t, false)
	p := &trip.Plan{
		Name: "Across", Rig: of.Rig, Departure: noon(), Passable: true, About: of.About, Road: of.Road, Avoided: of.Avoided, Off: of.Off,
		Time: driving.Duration{Duration: 70 * time.Hour, Slow: 80 * time.Hour}, Fuel: of.Fuel, Length: 5_000_000,
	}
	var way []regs.Passage
	var all []finding.Finding
	v := p.Rig.Vehicle(clearance.DefaultAllowances())
	for i, code := range strings.Fields("CA-NS CA-NB CA-QC CA-ON CA-MB CA-SK CA-AB CA-BC US-WA US-OR US-CA US-NV US-UT US-CO") {
		l := trip.Leg{
			From: say.Text("a place in " + code), To: say.Text("the end of " + code), Jurisdictions: []string{code}, Length: 400_000,
			Start: noon().Add(time.Duration(i) * 5 * time.Hour), Roads: say.Each([]string{"1", "17", "a road with a long name in " + code}),
			Findings:   planner.Tables.Check(v, regs.Stay{Jurisdictions: []string{code}, OwnerKnown: true}, noon()),
			Structures: of.Legs[0].Structures,
		}
		p.Legs, all = append(p.Legs, l), append(all, l.Findings...)
		way = append(way, regs.Passage{Jurisdiction: code, Length: l.Length, From: l.Start, Findings: l.Findings})
	}
	last := &p.Legs[len(p.Legs)-1]
	last.End, last.EndSlow = noon().Add(p.Time.Duration), noon().Add(p.Time.Slow)
	p.Permits = planner.Tables.Permits(v, way)
	p.Verdict = finding.Roll(all)
	return p
}

// forbiddenPlan is the way of the example past what shuts the rig out.
func forbiddenPlan(t testing.TB) *trip.Plan {
	t.Helper()
	p, _ := planner()
	r, err := p.Routes(t.Context(), trip.RouteRequest{Request: exampleRequest(t)})
	check(t, err)
	if r.Free == nil || r.Free.Plan.Verdict.Worst != finding.Forbidden {
		t.Fatal("no way of the example is forbidden")
	}
	return r.Free.Plan
}

// nothingGiven is a plan of a rig of which nothing is said.
func nothingGiven(t testing.TB) *trip.Plan {
	t.Helper()
	q := exampleRequest(t)
	q.Rig, q.Invented, q.Structures = must(rig.Assemble(rig.Unit{}, rig.Tow{}, rig.Overall{}, "")), false, nil
	p, _ := planner()
	plan, err := p.Plan(t.Context(), q)
	check(t, err)
	return plan
}

func TestPlanScreens(t *testing.T) {
	for name, p := range map[string]*trip.Plan{
		"plan": examplePlan(t, true), "plan-long": longPlan(t), "plan-nothing-given": nothingGiven(t), "plan-forbidden": forbiddenPlan(t),
	} {
		t.Run(name, func(t *testing.T) {
			for _, v := range views() {
				text := planText(t, v, p)
				fits(t, text)
				checkScreen(t, v, p, text)
			}
			for _, tag := range phrase.Languages() {
				isGolden(t, name, tag, planText(t, report.View{In: phrase.In(tag, measure.Both)}, p))
			}
		})
	}
	fits(t, planText(t, report.View{In: phrase.English()}, &trip.Plan{Departure: noon(), Verdict: finding.Roll(nil)}))
	fits(t, planText(t, report.View{In: phrase.English()}, oddPlan()))
}

// checkScreen checks what every screen of a plan tells: the mark of invented data first
// of all, that it is not clear while anything is not known, and the caution.
func checkScreen(t failer, v report.View, p *trip.Plan, text string) {
	t.Helper()
	has(t, text, p.About.Attribution, wire.CreditOf("places"))
	mark := v.In.Say(say.That("head.invented"))
	if got := strings.HasPrefix(text, mark+". "); got != p.RestsOnInvented() || strings.Count(text, mark) > 1 {
		t.Errorf("rests on invented data: %v\n%s", p.RestsOnInvented(), text)
	}
	if p.Verdict.Unknowns > 0 && strings.Contains(text, strings.ToUpper(v.In.Say(say.Remark{Code: "state.clear"}))) {
		t.Errorf("%d answers are not known:\n%s", p.Verdict.Unknowns, text)
	}
}

// Names come from outside: whatever they are, the screen keeps its size.
func TestAnyNamesOnScreen(t *testing.T) {
	names := rapid.StringMatching(`[A-Za-zé0-9]{1,30}( [A-Za-zé0-9]{1,30}){0,12}`)
	rapid.Check(t, func(r *rapid.T) {
		p := oddPlan()
		p.Name, p.About.Caution = names.Draw(r, "plan"), names.Draw(r, "caution")
		p.Avoided[0].Structures[0].Called, p.Legs[1].Structures[0].Called = say.Text(names.Draw(r, "a")), say.Text(names.Draw(r, "b"))
		p.Legs[0].Roads = say.Each(rapid.SliceOfN(names, 0, 30).Draw(r, "roads"))
		p.Rig = rig.Rig{Unit: rig.Unit{Name: names.Draw(r, "unit")}, Tow: rig.Tow{Name: names.Draw(r, "tow")}}
		p.Legs[0].From, p.Legs[1].To = say.Text(names.Draw(r, "from")), say.Text(names.Draw(r, "to"))
		for i := range rapid.IntRange(0, 30).Draw(r, "structures") {
			p.Legs[1].Structures = append(p.Legs[1].Structures, passing(names.Draw(r, "structure")+strconv.Itoa(i), finding.Published, finding.Forbidden))
		}
		for range rapid.IntRange(0, 25).Draw(r, "stops") {
			p.Off = append(p.Off, say.That("off.open_road", "stop", names.Draw(r, "stop"), "distance", measure.Distance(900)))
		}
		for _, v := range views() {
			fits(r, planText(r, v, p))
		}
	})
}

// --why opens one subject with every row that its findings cite, and says what there is
// to open where it names none.
func TestWhyOpensEverything(t *testing.T) {
	p := examplePlan(t, true)
	why := func(x string) string { return planText(t, report.View{In: phrase.English(), Why: x}, p) }
	for x, only := range map[string]func(trip.Where, finding.Finding) bool{
		"CA-QC": func(_ trip.Where, f finding.Finding) bool { return f.Jurisdiction == "CA-QC" },
		"leg 2": func(at trip.Where, _ finding.Finding) bool { return at.Leg == 2 },
		"WIDTH": func(_ trip.Where, f finding.Finding) bool { return f.Rule == "width" || f.Rule == "width escorts" },
		"ca-qc-width-04": func(_ trip.Where, f finding.Finding) bool {
			return slices.ContainsFunc(f.Citations, func(r finding.Citation) bool { return r.ID == "ca-qc-width-04" })
		},
	} {
		text := why(x)
		n := 0
		for at, f := range p.All() {
			if !only(at, f) {
				continue
			}
			n++
			has(t, text, phrase.English().Summary(f))
			for _, r := range f.Citations {
				has(t, text, "("+r.ID+")", r.Source)
			}
		}
		if first := head(text); n == 0 || !strings.Contains(first, fmt.Sprintf("%s: of %d check", x, n)) {
			t.Errorf("%d findings of %s: %s", n, x, first)
		}
		hasNot(t, text, "Nothing here")
	}
	p0, _ := planner()
	v := report.View{In: phrase.English(), Why: "Québec", Called: p0.Areas.Called}
	if got, want := planText(t, v, p), strings.ReplaceAll(why("CA-QC"), "CA-QC: of", "Québec: of"); got != want {
		t.Errorf("Québec opens\n%s", got)
	}
	has(t, why("example-03"), "INVENTED", "FORBIDDEN (avoided)", "Mill Lane railway bridge")
	has(t, why("nowhere"), `Nothing here is called "nowhere"`, "CA-ON, CA-QC", "leg 1 to leg 2", "height", "ca-qc-width-04", "example-03")
}

// --rows prints the sources of what the screen shows below it.
func TestRowsOfScreen(t *testing.T) {
	p := examplePlan(t, true)
	screen := planText(t, report.View{In: phrase.English()}, p)
	text := planText(t, report.View{In: phrase.English(), Rows: true}, p)
	if !strings.HasPrefix(text, screen) {
		t.Errorf("the screen changes:\n%s", text)
	}
	has(t, text[len(screen):], "(ca-qc-width-04)", "Editeur officiel du Quebec", "(ca-on-height-01)", "read 2026-11-25", "(ca-qc-permit-01)")
}
