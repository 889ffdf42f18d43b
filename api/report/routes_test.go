package report_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/routing/trip/standing"
)

// exampleRequest is the trip of data/example.
func exampleRequest(t testing.TB) trip.Request {
	t.Helper()
	q := wire.TripRequest{
		Invented:      true,
		StructuresCSV: string(must(os.ReadFile(example + "structures.csv"))),
		Depart:        "2027-05-11T08:00",
	}
	check(t, yaml.Unmarshal(must(os.ReadFile(example+"unit.yaml")), &q.Unit))
	check(t, yaml.Unmarshal(must(os.ReadFile(example+"tow.yaml")), &q.Tow))
	q.Stops = []wire.StopRequest{{Place: "Perth, ON"}, {Place: "Sorel-Tracy, QC"}}
	p, towns := planner()
	request, err := q.Read(wire.Known{Places: towns, Areas: p.Areas, Now: noon()})
	check(t, err)
	return request
}

func routesText(t failer, r *trip.Routes) string {
	t.Helper()
	var b strings.Builder
	view := report.View{In: phrase.English(), Full: true}
	if err := report.Routes(&b, view, r, []string{"credit of the roads"}); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

// has checks that a text says all of this, whatever the folding.
func has(t failer, text string, says ...string) {
	t.Helper()
	flat := unfolded(text)
	for _, want := range says {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}

func hasNot(t failer, text string, says ...string) {
	t.Helper()
	for _, bad := range says {
		if strings.Contains(unfolded(text), bad) {
			t.Errorf("%q stands in\n%s", bad, text)
		}
	}
}

func TestExampleRoutes(t *testing.T) {
	p, _ := planner()
	r, err := p.Routes(t.Context(), trip.RouteRequest{Request: exampleRequest(t), Alternatives: 2, Reasons: true})
	check(t, err)
	text := routesText(t, r)
	checkColumns(t, text)
	checkMarked(t, text, true)
	var names []string
	for line := range strings.Lines(text) {
		for _, name := range []string{"best", "other 1", "other 2", "unhindered"} {
			if strings.HasPrefix(line, name+" ") {
				names = append(names, name)
			}
		}
	}
	if !slices.Equal(names, []string{"best", "other 1", "other 2", "unhindered"}) {
		t.Errorf("%q in\n%s", names, text)
	}
	has(
		t,
		text,
		"NOT ONE TO DRIVE",
		"permit-free: "+phrase.English().Say(r.WithoutWhy),
		"Mill Lane railway bridge: too low",
		"credit of the roads",
		"tables revision "+r.Best.Tables,
		r.Best.About.Caution,
		"best, through CA-ON, CA-QC: 1, 43",
		"unhindered, through CA-ON, CA-QC (26 % on no way above)",
		"(example-03): made up for this example, INVENTED",
	)
	for _, f := range r.Best.About.Lacks {
		has(t, text, phrase.English().Term(f))
	}
	for _, c := range phrase.English().Each(append(trip.Cautions(), r.Best.Assumptions...)) {
		has(t, text, c)
	}
	for _, one := range r.Tasks().Tasks {
		has(t, text, one.ID)
	}
}

// checkColumns checks that no line is wider than a screen; a single word cannot be
// folded.
func checkColumns(t failer, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 && len(strings.Fields(line)) > 1 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

// shutPlan is a plan without a way, on nothing invented.
func shutPlan() *trip.Plan {
	return &trip.Plan{
		Departure: noon(), Verdict: finding.RollUp{Worst: finding.Forbidden, Unknowns: 1},
		Legs:   []trip.Leg{{From: say.Text("a"), To: say.Text("b"), Roads: say.Each([]string{"43"})}},
		Length: 1500, Time: driving.Duration{Unknown: say.Text("the speed is not known")},
		About: network.About{Name: "no roads", Caution: "for tests"}, Cautions: trip.Cautions(),
	}
}

func TestClosedRoutes(t *testing.T) {
	low := &standing.Barrier{What: say.Text("Heron_Rise: too low"), Kind: "structure", Invented: true}
	wish := &standing.Barrier{
		What:      say.Text("your wish: not by 401"),
		Kind:      "wish",
		When:      "Mo-Fr 07:00-09:00",
		Condition: window.ParseCondition("Mo-Fr 07:00-09:00"),
	}
	r := &trip.Routes{Best: shutPlan(), WithoutWhy: say.Text("of a reason"), Reasons: &choosing.Reasons{
		Closing: []*standing.Barrier{
			low,
			wish,
		}, Nearest: []choosing.Nearest{{Quantity: rig.Height, Is: finding.Of(5 * measure.Metre),
			Most: finding.Of(41 * measure.Metre / 10), By: say.Text("a wire")}},
	}}
	r.Best.Order = &trip.Order{Stops: []int{0, 2, 1}, Saves: &driving.Duration{Duration: 90 * time.Minute}}
	text := routesText(t, r)
	if !strings.HasPrefix(text, wire.InventedMark) || !strings.Contains(text, "FORBIDDEN: of") {
		t.Errorf("%.400s", text)
	}
	has(
		t,
		text,
		"EVERY WAY IS SHUT",
		"driven in the order 1, 3, 2 of those given, 1 h 30 min less driving",
		"Shut by 2 barriers leave no way, and none of them can be left out",
		"Heron_Rise: too low",
		"your wish: not by 401 (from 07:00 to 09:00, Monday to Friday)",
		"with a height of 4.1 m (≈ 13 ft 5 3/8 in) or less it would pass",
		"it has 5 m",
		"limited by a wire",
		"NOT ALL",
		"best: driving time NOT KNOWN: the speed is not known",
		"through a jurisdiction NOT KNOWN",
		"permit-free: of a reason",
	)
	hasNot(t, text, "Bent by", "nothing that is known")
	r.Reasons.Nearest = nil
	has(t, routesText(t, r), "no other size in one measurement alone was found that passes")
}

func TestRoutesReasons(t *testing.T) {
	twin := func() *standing.Barrier {
		return &standing.Barrier{What: say.Text("a bridge: too low"), Kind: "structure"}
	}
	best := shutPlan()
	best.Passable = true
	r := &trip.Routes{Best: best, Reasons: &choosing.Reasons{
		Complete: true, Bent: []choosing.Reason{{Barrier: twin(), Alone: 900_000}, {Barrier: twin(), Alone: 900_000},
			{Barrier: &standing.Barrier{What: say.Text("a sign")}, Alone: 5_430_000, Saves: 90_000}},
		Together: &choosing.Group{
			Barriers: []*standing.Barrier{twin(), {What: say.Text("a wire"), Invented: true}},
			Costs:    600_000,
		},
	}}
	text := routesText(t, r)
	checkColumns(t, text)
	has(
		t,
		text,
		"a bridge: too low: lifting it saves nothing; as the only one it costs 0 h 15 min",
		"a sign: lifting it saves 0 h 02 min; as the only one it costs 1 h 31 min",
		"only together these cost 0 h 10 min: a bridge: too low; a wire",
	)
	hasNot(t, text, "NOT ALL", "SHUT", "Shut by")
	if n := strings.Count(text, "a bridge: too low: lifting"); n != 1 {
		t.Errorf("two roads below one bridge are told %d times:\n%s", n, text)
	}
	r.Reasons.Together.Costs, r.Reasons.Together.Saves = 0, 300_000
	has(t, routesText(t, r), "only together lifting them saves 0 h 05 min")
	has(
		t,
		routesText(t, &trip.Routes{Best: best, Reasons: &choosing.Reasons{Complete: true}}),
		"nothing that is known; what is not known can still",
	)
	hasNot(t, routesText(t, &trip.Routes{Best: best}), "Bent by")
}

func TestRoutesOfTruckRoads(t *testing.T) {
	best := shutPlan()
	best.Passable, best.Length, best.TruckRoads = true, 200_000, measure.Exactly[measure.Distance](106_000)
	r := &trip.Routes{
		Best:    best,
		Reasons: &choosing.Reasons{Complete: true, Preferred: &choosing.Preferred{Extra: 2600, ExtraTime: 180_000}},
	}
	has(
		t,
		routesText(t, r),
		"truck roads: 53 % of the way",
		"for the sake of truck roads it is 2.6 km (1.6 mi) longer and 0 h 03 min slower (--truck-roads 1",
	)
	r.Reasons.Preferred = &choosing.Preferred{Extra: -2600}
	has(t, routesText(t, r), "for the sake of truck roads it is 2.6 km (1.6 mi) shorter (")
	hasNot(t, routesText(t, r), "nothing that is known; what is not known")
	best.TruckRoads = measure.Known[measure.Distance]{}
	hasNot(t, routesText(t, r), "of the way")
}

func TestRouteDifferenceText(t *testing.T) {
	given, best := shutPlan(), shutPlan()
	given.Given = true
	d := &trip.Difference{
		Best:      best,
		Extra:     -1500,
		ExtraTime: driving.Duration{Duration: 10 * time.Minute},
		Apart:     []trip.Stretch{{Roads: say.Each([]string{"43", "416"}), At: 2000, Length: 3000}},
	}
	text := routesText(t, &trip.Routes{Best: given, Difference: d})
	has(
		t,
		text,
		"against the best way it is 1.5 km (0.9 mi) shorter 0 h 10 min slower",
		"after 2.0 km it leaves the best way for 3.0 km, by 43, 416",
		" given ",
		" best ",
		"-0 h 10 min",
	)
	hasNot(t, text, "unhindered", wire.InventedMark)
	best.Invented = true
	if text := routesText(t, &trip.Routes{Best: given, Difference: d}); !strings.HasPrefix(text, wire.InventedMark) ||
		!strings.Contains(text, "  after 2.0 km") {
		t.Errorf("%s", text)
	}
	d.ExtraTime, d.Apart = driving.Duration{Unknown: say.Text("no speed")}, nil
	has(
		t,
		routesText(t, &trip.Routes{Best: given, Difference: d}),
		"by how much slower is NOT KNOWN: no speed",
		"leaves the best way nowhere",
	)
	has(
		t,
		routesText(t, &trip.Routes{Best: given, Difference: &trip.Difference{Why: say.Text("no road there")}}),
		"nothing to compare with: no road there",
	)
}

// Names come from outside: whatever they are, the page keeps its width and its
// marks.
func TestAnyRouteNames(t *testing.T) {
	// none with a Z: that is the barrier's
	names := rapid.StringMatching(`[A-Ya-zé0-9]{1,30}( [A-Ya-zé0-9]{1,30}){0,12}`)
	rapid.Check(t, func(rt *rapid.T) {
		name := "Zyx" + names.Draw(rt, "barrier")
		b := &standing.Barrier{What: say.Text(name), Invented: true}
		r := &trip.Routes{
			Best: shutPlan(),
			Reasons: &choosing.Reasons{
				Bent:     []choosing.Reason{{Barrier: b}},
				Together: &choosing.Group{Barriers: []*standing.Barrier{b}},
			},
		}
		r.Best.Legs[0].Roads = say.Each(rapid.SliceOfN(names, 0, 30).Draw(rt, "roads"))
		text := routesText(rt, r)
		checkColumns(rt, text)
		checkMarked(rt, text, true)
	})
}
