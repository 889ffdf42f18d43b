package report_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/data"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
	"wayhouse/routing/network"
	"wayhouse/routing/place"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

var update = flag.Bool("update", false, "write the golden report anew")

const (
	golden  = "../../testdata/example-report.txt"
	example = "../../data/example/"
)

// noon is the clock of the tests: the shipped rows are read recently enough to
// clear.
func noon() time.Time { return time.Date(2027, 5, 10, 16, 0, 0, 0, time.UTC) }

// planner reads the data that the command reads, once: the index of the roads
// takes a while.
var planner = sync.OnceValues(func() (*trip.Planner, *place.Gazetteer) {
	db := must(store.OpenMemory(context.Background(), noon))
	defer db.Close()
	areas := must(area.Read(file("areas/jurisdictions.bin")))
	p := must(trip.New(context.Background(), must(network.Read(file("roads/network.wayroads"))), areas,
		must(db.Snapshot(context.Background()))))
	return p, must(place.Read(file("places/places.csv"), areas.Called))
})

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func file(path string) []byte { return must(data.Files.ReadFile(path)) }

func check(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// examplePlan plans the trip of data/example. With invented false only its
// structures are invented.
func examplePlan(t testing.TB, invented bool) *trip.Plan {
	t.Helper()
	q := wire.TripRequest{Invented: invented, StructuresCSV: string(must(os.ReadFile(example + "structures.csv")))}
	for name, into := range map[string]any{"unit.yaml": &q.Unit, "tow.yaml": &q.Tow, "trip.yaml": &struct {
		Name, Depart *string
		Stops        *[]wire.StopRequest
	}{&q.Name, &q.Depart, &q.Stops}} {
		check(t, yaml.Unmarshal(must(os.ReadFile(example+name)), into))
	}
	p, towns := planner()
	request, err := q.Read(wire.Known{Places: towns, Areas: p.Areas, Now: noon()})
	check(t, err)
	plan, err := p.Plan(t.Context(), request)
	check(t, err)
	return plan
}

func printed(t testing.TB, p *trip.Plan) string {
	t.Helper()
	var credits []string
	for _, a := range wire.Attributions(phrase.English(), false) {
		credits = append(credits, a.String())
	}
	var b strings.Builder
	check(t, report.Text(&b, report.View{In: phrase.English()}, p, credits))
	return b.String()
}

func TestExampleReport(t *testing.T) {
	got := printed(t, examplePlan(t, true))
	if *update {
		check(t, os.WriteFile(golden, []byte(got), 0o644))
	}
	want, err := os.ReadFile(golden)
	check(t, err)
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("the report is not %s (-update writes it):\n%s", golden, diff)
	}
}

// What every report keeps to is checked on plans of all sorts.
func TestReports(t *testing.T) {
	for name, p := range map[string]*trip.Plan{
		"example": examplePlan(t, true), "structures alone invented": examplePlan(t, false),
		"nothing known": {Departure: noon(), Verdict: finding.Roll(nil)}, "odd": oddPlan(),
	} {
		t.Run(name, func(t *testing.T) {
			checkAll(t, p, printed(t, p))
		})
	}
}

func checkAll(t failer, p *trip.Plan, text string) {
	t.Helper()
	checkHead(t, p, text)
	checkWidth(t, text)
	checkSections(t, text)
	checkClear(t, p, text)
	checkMarks(t, p, text)
}

// oddPlan has what the example has not: a gap, a ferry, a shut way, a shorter
// way round, every demand.
func oddPlan() *trip.Plan {
	low := passing("Heron_Rise", finding.Invented, finding.Forbidden)
	unknown := finding.Finding{
		Topic: finding.Structure, Rule: "structure", Place: say.Text("Gannet_Skyway"), Outcome: finding.Unknown, Invented: true,
		Settles: finding.Asking(finding.Office, say.Text("the owner")), Says: say.Each([]string{"Gannet_Skyway could not be bound to a road"}),
	}
	all := finding.Demands{
		Permits: say.Each([]string{"permit of CA-ON"}), EscortsFront: 1, EscortsRear: 2, EscortsAny: 3, HeightPole: true, Survey: true,
		Hours: say.Each([]string{"not at night"}), Conditions: say.Each([]string{"a red flag"}),
	}
	gap := trip.Leg{From: say.Text("start"), To: say.Text("end"), Length: 1200, Unmatched: true, Time: driving.Duration{Unknown: say.Text("no road")}, Fuel: driving.Fuel{Unknown: say.Text("no road")},
		Findings: []finding.Finding{{
			Topic: finding.Limit, Rule: "height", Outcome: finding.Unknown, Reason: finding.NoRow, Value: finding.Of(4 * measure.Metre),
			Says: say.Each([]string{"the table has no row"}), Settles: finding.Asking(finding.Office, say.Text("the road authority")),
		}}}
	return &trip.Plan{
		Departure: noon(), Given: true, Legs: []trip.Leg{gap, {From: say.Text("a"), To: say.Text("b"), Structures: []standing.Passing{low}, Start: noon()}},
		Findings: []finding.Finding{unknown, {Topic: finding.Route, Rule: "route", Outcome: finding.Forbidden, Says: say.Each([]string{"every way is shut"})}},
		Avoided: []choosing.Avoided{
			{From: "a", To: "b", Structures: []standing.Passing{low}, Extra: -1500, ExtraTime: driving.Duration{Duration: time.Hour}},
			{From: "a", To: "b", Ferry: true, Extra: 900, ExtraTime: driving.Duration{Unknown: say.Text("no timetable")}},
		},
		Time: gap.Time, Fuel: gap.Fuel, Cautions: trip.Cautions(), Assumptions: say.Each([]string{"nothing"}),
		Verdict: finding.RollUp{Worst: finding.Forbidden, Unknowns: 2, Demands: all},
		About:   network.About{Name: "no roads", Caution: "for tests", Lacks: network.AllFacts()},
	}
}

func passing(name string, status finding.Status, outcome finding.Outcome) standing.Passing {
	figure := 4 * measure.Metre
	return standing.Passing{
		Called:    say.Text(name),
		Structure: clearance.Structure{ID: name, Point: orb.Point{-75, 45}, Posted: &figure, Status: status, Source: "a source"},
		Passage:   clearance.Passage{Outcome: outcome, Known: true, Margin: -50 * measure.Millimetre, Parts: []clearance.Part{{Of: clearance.Posted, Length: figure}}, Why: say.Text("of a reason")},
		At:        400,
	}
}

// failer is what tests and properties have in common.
type failer interface {
	Helper()
	Errorf(string, ...any)
}

// head is the first line. It is not folded: whoever sees it sees all of it.
func head(text string) string {
	first, _, _ := strings.Cut(text, "\n")
	return first
}

// The screen at the head says whether anything is invented, what the answers come to,
// how many are not known, and everything that the network lacks.
func checkHead(t failer, p *trip.Plan, text string) {
	t.Helper()
	if p.RestsOnInvented() != strings.HasPrefix(text, wire.InventedMark+". ") {
		t.Errorf("rests on invented data: %v, but the first line is %q", p.RestsOnInvented(), head(text))
	}
	unknown := 0
	for _, f := range p.All() {
		if f.Outcome == finding.Unknown {
			unknown++
		}
	}
	want := []string{"Verdict", p.About.Caution}
	if unknown > 0 {
		want = append(want, fmt.Sprintf("checks %d NOT KNOWN", unknown))
	}
	for _, fact := range p.About.Lacks {
		want = append(want, phrase.English().Term(fact))
	}
	screen, _, _ := strings.Cut(text, "\n\nLEGS\n")
	has(t, screen, want...)
}

const width = 100

// A line is no wider than a page; a single word cannot be folded.
func checkWidth(t failer, text string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		words := strings.Fields(line)
		if len([]rune(line)) > width && len(words) > 1 {
			t.Errorf("%d characters: %q", len([]rune(line)), line)
		}
	}
}

func checkSections(t failer, text string) {
	t.Helper()
	order := []string{"Verdict", "Way", "Rules", "To do", "LEGS", "WHAT THE RULES SAY", "STRUCTURES", "Data"}
	var got []string
	for _, line := range strings.Split(text, "\n") {
		label, _, _ := strings.Cut(line, "  ")
		if slices.Contains(order, label) {
			got = append(got, label)
		}
	}
	if diff := cmp.Diff(order, got); diff != "" {
		t.Errorf("sections:\n%s", diff)
	}
}

func section(text, name string) string {
	_, rest, _ := strings.Cut(text, "\n"+name+"\n")
	body, _, _ := strings.Cut(rest, "\n\n")
	return body
}

var (
	clearVerdict = regexp.MustCompile(`(?m)^Verdict +(SO FAR )?CLEAR\b`)
	clearLeg     = regexp.MustCompile(`(?i)\bclear, [1-9]\d* unknown`)
)

// As long as an answer is unknown, neither the trip nor a leg is called clear.
func checkClear(t failer, p *trip.Plan, text string) {
	t.Helper()
	if p.Verdict.Unknowns == 0 {
		return
	}
	if said := clearVerdict.FindString(text); said != "" {
		t.Errorf("with %d unknown it says %q", p.Verdict.Unknowns, said)
	}
	if said := clearLeg.FindString(strings.Join(strings.Fields(section(text, "LEGS")), " ")); said != "" {
		t.Errorf("a leg is called %q", said)
	}
}

// invented lists the names of the invented structures of a plan.
func invented(p *trip.Plan) (names []string) {
	add := func(structures []standing.Passing) {
		for _, s := range structures {
			if s.Invented() {
				names = append(names, s.Called.String(), s.ID)
			}
		}
	}
	for _, l := range p.Legs {
		add(l.Structures)
	}
	for _, a := range p.Avoided {
		add(a.Structures)
	}
	for _, f := range p.Findings {
		if f.Invented {
			names = append(names, f.Place.String())
		}
	}
	return names
}

func unfolded(text string) string { return strings.Join(strings.Fields(text), " ") }

// The head alone carries the mark, and each invented source is called so.
func checkMarks(t failer, p *trip.Plan, text string) {
	t.Helper()
	flat := unfolded(text)
	for _, name := range invented(p) {
		if !strings.Contains(flat, name) {
			t.Errorf("%s is on no line", name)
		}
	}
	checkMarked(t, text, p.RestsOnInvented())
}

// ofSource is the mark as the status of a source.
var ofSource = regexp.MustCompile(`(, |\()INVENTED[,)]`)

// checkMarked checks that a text begins with the mark where it rests on invented data,
// and that it stands nowhere else but with sources, which do not call themselves
// invented in another way.
func checkMarked(t failer, text string, invented bool) {
	t.Helper()
	rest, marked := strings.CutPrefix(text, wire.InventedMark+". ")
	if marked != invented {
		t.Errorf("rests on invented data: %t, but begins %q", invented, head(text))
	}
	rest = ofSource.ReplaceAllString(unfolded(rest), "")
	if strings.Contains(rest, wire.InventedMark) || strings.Contains(rest, ", invented, ") {
		t.Errorf("the mark stands beside head and sources in\n%s", text)
	}
	if !invented && ofSource.MatchString(unfolded(text)) {
		t.Errorf("an invented source, and no mark in the head of\n%s", text)
	}
}

// Names come from outside: whatever they are, the page keeps its width, its
// marks and its order.
func TestAnyNames(t *testing.T) {
	names := rapid.StringMatching(`[A-Za-zé0-9]{1,30}( [A-Za-zé0-9]{1,30}){0,12}`)
	rapid.Check(t, func(r *rapid.T) {
		p := oddPlan()
		name := "Zyx" + names.Draw(r, "structure")
		p.Avoided[0].Structures[0].Called, p.Legs[1].Structures[0].Called = say.Text(name), say.Text(name)
		p.Legs[1].Structures[0].Source = names.Draw(r, "source")
		p.Legs[0].Roads = say.Each(rapid.SliceOfN(names, 0, 30).Draw(r, "roads"))
		p.Rig = rig.Rig{Unit: rig.Unit{Name: names.Draw(r, "unit")}}
		p.Legs[0].From, p.Legs[1].To = say.Text(names.Draw(r, "from")), say.Text(names.Draw(r, "to"))
		var b strings.Builder
		if err := report.Text(&b, report.View{In: phrase.English()}, p, nil); err != nil {
			r.Fatal(err)
		}
		checkAll(r, p, b.String())
	})
}

// Only a plan without unknowns may say clear.
func TestClearPlanSaysSo(t *testing.T) {
	all := []finding.Finding{{Topic: finding.Limit, Rule: "height", Outcome: finding.Clear}}
	p := &trip.Plan{Departure: noon(), Findings: all, Verdict: finding.Roll(all)}
	has(t, printed(t, p), "Verdict CLEAR: of 1 check 1 clear")
	all = append(all, finding.Finding{Topic: finding.Limit, Rule: "width"})
	p.Findings, p.Verdict = all, finding.Roll(all)
	has(t, printed(t, p), "Verdict SO FAR NOT KNOWN: of 2 checks 1 NOT KNOWN, 1 clear")
}

// Every finding says as data what it is about, what it says and, where it is not clear,
// what would settle it; and why, where it is unknown.
func TestFindingsAreData(t *testing.T) {
	p := examplePlan(t, true)
	n := 0
	for at, f := range p.All() {
		n++
		open := f.Outcome != finding.Clear
		if f.Topic == "" || f.Rule == "" || len(f.Says) == 0 || open && len(f.Settles) == 0 || f.Outcome == finding.Unknown && f.Reason == "" {
			t.Errorf("%+v: %s %q: %s, reason %q, says %q, %d steps", at, f.Topic, f.Rule, f.Outcome, f.Reason, say.Strings(f.Says), len(f.Settles))
		}
	}
	if n < 50 {
		t.Errorf("%d findings", n)
	}
}
