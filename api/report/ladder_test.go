package report_test

import (
	"strings"
	"testing"
	"time"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

func ladderText(t failer, l *trip.Ladders) string {
	t.Helper()
	var b strings.Builder
	if err := report.Ladders(&b, report.View{In: phrase.English(), Full: true}, l, []string{"credit of the roads"}); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

func TestExampleLadder(t *testing.T) {
	p, _ := planner()
	l, err := p.Ladders(t.Context(), exampleRequest(t), rig.Height)
	check(t, err)
	text := ladderText(t, l)
	checkWidth(t, text)
	if first := head(text); !strings.HasPrefix(first, "INVENTED. Not clear for any rig") || !strings.Contains(first, l.About.Caution) || !strings.Contains(first, "it knows no structures, no posted limits,") {
		t.Errorf("%s", first)
	}
	open := section(text, "IF NOTHING UNMEASURED IS LOWER")
	for _, s := range l.Open.Steps {
		most := "nothing known limits it"
		if s.Most != 0 {
			most = phrase.English().Down(rig.Height.Of(s.Most))
			has(t, open, "limited by "+phrase.English().Say(s.By))
		}
		has(t, open, most, s.Length.String())
	}
	if strings.Count(text, "the given rig takes this step") != 1 || strings.Count(open, "0 or more") != len(l.Open.Steps) {
		t.Errorf("%s", text)
	}
	if at := strings.Index(open, "takes this step"); at < strings.Index(open, "4.25 m") || at > strings.Index(open, "Heron Rise") {
		t.Errorf("the rig takes another step in\n%s", open)
	}
	has(t, text, "CA-QC: not established", "CA-ON: "+phrase.English().Down(l.Legal[0].Most), "knows no structures, no posted limits: but for what was given", "credit of the roads", "tables revision "+l.Tables)
	for _, c := range phrase.English().Each(trip.LadderCautions()) {
		has(t, text, c)
	}
	hasNot(t, text, "any height")
	checkMarked(t, text, true)
}

func TestLadders(t *testing.T) {
	many := []string{"one", "two", "three", "four", "five", "six", "seven"}
	l := &trip.Ladders{
		Quantity: rig.Width, Unit: finding.Of(3 * measure.Metre), About: network.About{Name: "roads", Caution: "for tests"}, Cautions: trip.LadderCautions(),
		Open: choosing.Ladder{Steps: []choosing.Step{
			{Most: 2_900_000_000, By: say.Text("a gate"), Length: 1500, Time: driving.Duration{Duration: 10 * time.Minute}, Ferry: true, Unknowns: say.Each(many[:2]), Areas: []string{"US-DE"}},
			{Most: 2_500_000_000, By: say.Text("a sign"), Length: 1400, Time: driving.Duration{Unknown: say.Text("no speed")}, Unknowns: say.Each(many)},
		}},
		Shut:  choosing.Ladder{Complete: true, Why: say.That("ladder.all_unmeasured")},
		Legal: []trip.Legal{{Jurisdiction: "US-DE", Most: finding.Of(260 * measure.Centimetre), Invented: true}},
	}
	text := ladderText(t, l)
	if !strings.HasPrefix(text, "INVENTED. Not clear for any rig: each step is the greatest width that passes as far as is known. The road data (roads) is for tests.\n") {
		t.Errorf("%.200s", text)
	}
	has(t, text, "IF NOTHING UNMEASURED IS NARROWER", "2.9 m (≈ 9 ft 6 1/8 in)", "through US-DE UNKNOWN: one; two it uses a ferry", "UNKNOWN time (no speed)", "jurisdiction UNKNOWN",
		"UNKNOWN: one; two; three; four; five; and 2 more", "passes by NONE of these", "more and greater steps", "no step: no way leads there past nothing unmeasured", "US-DE: 2.6 m")
	hasNot(t, text, "or more", "takes this step", "nothing known limits it")
	l.Unit, l.Legal = finding.Quantity{}, nil
	text = ladderText(t, l)
	has(t, text, "its width is UNKNOWN", "not established: no jurisdiction is known")
	hasNot(t, text, "NONE of these", wire.InventedMark)
}
