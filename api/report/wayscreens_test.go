package report_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

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
	"wayhouse/routing/trip/timetable"
)

func routeScreen(t failer, v report.View, r *trip.Routes) string {
	t.Helper()
	var b strings.Builder
	if err := report.Routes(&b, v, r, nil); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

func ladderScreen(t failer, v report.View, l *trip.Ladders) string {
	t.Helper()
	var b strings.Builder
	if err := report.Ladders(&b, v, l, nil); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

// The ways of the example, and those of a rig that every way is shut to.
func TestRouteScreens(t *testing.T) {
	p, _ := planner()
	best, err := p.Routes(t.Context(), trip.RouteRequest{Request: exampleRequest(t), Alternatives: 2, Reasons: true})
	check(t, err)
	shut := &trip.Routes{
		Best:       forbiddenPlan(t),
		WithoutWhy: say.That("routes.all_shut"),
		Reasons: &choosing.Reasons{
			Closing: []*standing.Barrier{
				{What: say.Text("a low bridge"), Kind: "structure"},
				{What: say.Text("a wish"), Kind: "wish", When: "Mo-Fr", Condition: window.ParseCondition("Mo-Fr")},
			},
			Nearest: []choosing.Nearest{
				{
					Quantity: rig.Height,
					Is:       finding.Of(405 * measure.Centimetre),
					Most:     finding.Of(391 * measure.Centimetre),
					By:       say.Text("a bridge"),
				},
			},
		},
	}
	shut.Best.Order = &trip.Order{Stops: []int{0, 2, 1}, Dates: &trip.Dates{
		Chosen: timetable.Outcome{Over: noon(), Driving: 5 * time.Hour},
		Given:  timetable.Outcome{Over: noon().Add(3 * time.Hour), Late: 90 * time.Minute, Driving: 6 * time.Hour},
	}}
	shut.Best.Passable = false
	for name, r := range map[string]*trip.Routes{"route": best, "route-forbidden": shut} {
		for _, v := range views() {
			text := routeScreen(t, v, r)
			fits(t, text)
			has(t, text, r.Best.About.Attribution, wire.CreditOf("places"))
			if strings.HasPrefix(text, v.In.Say(say.That("head.invented"))) != r.RestsOnInvented() {
				t.Errorf("rests on invented data: %v\n%s", r.RestsOnInvented(), text)
			}
		}
		for _, tag := range phrase.Languages() {
			isGolden(t, name, tag, routeScreen(t, report.View{In: phrase.In(tag, measure.Both)}, r))
		}
	}
	has(
		t,
		routeScreen(t, report.View{In: phrase.English()}, shut),
		"EVERY WAY IS SHUT",
		"in the order 1, 3, 2",
		"2 barriers leave no way",
		"a low bridge",
		"a wish (Monday to Friday)",
		"3.91 m",
		"FORBIDDEN:",
	)
	has(t, routeScreen(t, report.View{In: phrase.English(), Why: "CA-QC"}, best), "CA-QC width", "ca-qc-width-04")
}

// Each step of the ladder of the example stands in the screen, and the second ladder
// only where it is another.
func TestLadderScreens(t *testing.T) {
	p, _ := planner()
	l, err := p.Ladders(t.Context(), exampleRequest(t), rig.Height)
	check(t, err)
	for _, v := range views() {
		text := ladderScreen(t, v, l)
		fits(t, text)
		has(t, text, l.About.Attribution, wire.CreditOf("places"))
		for _, s := range l.Open.Steps {
			if s.Most != 0 && v.In == phrase.English() && !strings.Contains(text, v.In.Say(s.By)) {
				t.Errorf("%s is missing in\n%s", v.In.Say(s.By), text)
			}
		}
	}
	for _, tag := range phrase.Languages() {
		isGolden(t, "ladder", tag, ladderScreen(t, report.View{In: phrase.In(tag, measure.Both)}, l))
	}
	english := report.View{In: phrase.English()}
	if text := ladderScreen(t, english, l); !l.Alike() || strings.Contains(text, "\nRound") {
		t.Errorf("alike: %v\n%s", l.Alike(), text)
	}
	has(t, ladderScreen(t, report.View{In: phrase.English(), Why: "example-01"}, l), "FORBIDDEN (step 3)", "example-01")
	l.Open.Steps[0].Unknowns = say.Each([]string{"a wire"})
	if text := ladderScreen(t, english, l); l.Alike() || !strings.Contains(text, "\nRound") {
		t.Errorf("alike: %v\n%s", l.Alike(), text)
	}
}

// Names come from outside: whatever they are, and however many, the screens keep their
// size.
func TestAnyNamesOfWays(t *testing.T) {
	names := rapid.StringMatching(`[A-Za-zé0-9]{1,30}( [A-Za-zé0-9]{1,30}){0,12}`)
	rapid.Check(t, func(rt *rapid.T) {
		name := func(what string) say.Remark { return say.Text(names.Draw(rt, what)) }
		b := &standing.Barrier{What: name("barrier"), When: names.Draw(rt, "when")}
		r := &trip.Routes{
			Best:       shutPlan(),
			WithoutWhy: name("why"),
			Reasons:    &choosing.Reasons{Together: &choosing.Group{Barriers: []*standing.Barrier{b, b}}},
		}
		for range rapid.IntRange(0, 3).Draw(rt, "others") {
			r.Others = append(
				r.Others,
				trip.Option{
					Plan:      shutPlan(),
					Permits:   []string{"CA-ON"},
					Spared:    []string{"CA-QC"},
					ExtraTime: driving.Duration{Duration: -3},
				},
			)
		}
		for range rapid.IntRange(0, 24).Draw(rt, "reasons") {
			r.Reasons.Bent = append(
				r.Reasons.Bent,
				choosing.Reason{Barrier: &standing.Barrier{What: name("bent")}, Alone: 900_000},
			)
		}
		for range rapid.IntRange(0, 24).Draw(rt, "closing") {
			r.Reasons.Closing = append(r.Reasons.Closing, &standing.Barrier{What: name("closing")})
		}
		r.Best.Legs[0].Roads = []say.Remark{name("road"), name("road")}
		l := &trip.Ladders{
			Stops:    rapid.SliceOfN(names, 2, 4).Draw(rt, "stops"),
			Quantity: rig.Width,
			About:    network.About{Caution: names.Draw(rt, "caution"), Lacks: network.AllFacts()},
		}
		for i := range rapid.IntRange(0, 40).Draw(rt, "steps") {
			l.Open.Steps = append(
				l.Open.Steps,
				choosing.Step{
					Most:     int64(1 + i),
					By:       name("by"),
					Areas:    []string{"US-DE", "CA-QC" + strconv.Itoa(i)},
					Unknowns: []say.Remark{name("unknown")},
					Passes:   i < 20,
					Binds:    []int{i % (len(l.Stops) - 1)},
				},
			)
		}
		l.Shut = l.Open
		for _, v := range views() {
			fits(rt, routeScreen(rt, v, r))
			fits(rt, ladderScreen(rt, v, l))
		}
	})
}
