package report_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/language"

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
	if err := report.Ladders(&b, report.View{In: phrase.English(), Full: true}, l,
		[]string{"credit of the roads"}); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

func TestExampleLadder(t *testing.T) {
	p, _ := planner()
	l, err := p.Ladders(t.Context(), exampleRequest(t), rig.Height)
	check(t, err)
	text := ladderText(t, l)
	checkColumns(t, text)
	if !strings.HasPrefix(text, wire.InventedMark) {
		t.Errorf("%s", text)
	}
	has(t, text, "Not clear for any rig", l.About.Caution, "structures, posted limits,", "it takes step 3")
	for i, s := range l.Open.Steps {
		row := strings.Index(text, "\n"+strconv.Itoa(i+1)+"  ")
		line, _, _ := strings.Cut(text[row+1:], "\n")
		most := "no known limit"
		if s.Most != 0 {
			most = phrase.In(language.English, measure.Metric).Down(rig.Height.Of(s.Most))
			has(t, line, phrase.English().Say(s.By))
		}
		has(t, line, most, phrase.English().Alone(s.Length), "0 or more", "CA-ON, CA-QC")
	}
	has(
		t,
		text,
		"CA-QC NOT KNOWN",
		"CA-ON up to "+phrase.English().Down(l.Legal[0].Most),
		"credit of the roads",
		"tables revision "+l.Tables,
		"(example-03): made up for this example, INVENTED",
	)
	for _, c := range phrase.English().Each(trip.LadderCautions()) {
		has(t, text, c)
	}
	hasNot(t, text, "any height")
	checkMarked(t, text, true)
}

func TestLadders(t *testing.T) {
	many := []string{"one", "two", "three", "four", "five", "six", "seven"}
	l := &trip.Ladders{
		Stops: []string{
			"Dover",
			"Lewes",
		}, Quantity: rig.Width, Unit: finding.Of(3 * measure.Metre), About: network.About{Name: "roads",
			Caution: "for tests"}, Cautions: trip.LadderCautions(),
		Open: choosing.Ladder{Steps: []choosing.Step{
			{
				Most:     2_900_000_000,
				By:       say.Text("a gate"),
				Binds:    []int{0},
				Length:   1500,
				Time:     driving.Duration{Duration: 10 * time.Minute},
				Ferry:    true,
				Unknowns: say.Each(many[:2]),
				Areas:    []string{"US-DE"},
			},
			{
				Most:     2_500_000_000,
				By:       say.Text("a sign"),
				Binds:    []int{0},
				Length:   1400,
				Time:     driving.Duration{Unknown: say.Text("no speed")},
				Unknowns: say.Each(many),
			},
		}},
		Shut:  choosing.Ladder{Complete: true, Why: say.That("ladder.all_unmeasured")},
		Legal: []trip.Legal{{Jurisdiction: "US-DE", Most: finding.Of(260 * measure.Centimetre), Invented: true}},
	}
	text := ladderText(t, l)
	if !strings.HasPrefix(text, wire.InventedMark) {
		t.Errorf("%.200s", text)
	}
	has(
		t,
		text,
		"Not clear for any rig: each step is the greatest width that passes as far as is known",
		"2.9 m (≈ 9 ft 6 1/8 in)",
		"US-DE, ferry",
		"step 1, NOT MEASURED: one; two",
		"step 2, driving time NOT KNOWN: no speed",
		"step 2, NOT MEASURED: one; two; three; four; five; six; seven",
		"passes by NONE of these",
		"more and greater steps",
		"Round no way leads there past nothing unmeasured",
		"US-DE up to 2.6 m",
	)
	hasNot(t, text, "or more", "takes step", "no known limit")
	l.Unit, l.Legal = finding.Quantity{}, nil
	text = ladderText(t, l)
	has(t, text, "its width is NOT KNOWN", "no jurisdiction is known on these ways")
	hasNot(t, text, "NONE of these", wire.InventedMark)
}

// A step of a tour says on the way to which stops it binds.
func TestLadderOfATour(t *testing.T) {
	text := ladderText(t, &trip.Ladders{
		Stops: []string{"Dover", "Smyrna", "Milford", "Lewes"}, Quantity: rig.Width, Cautions: trip.LadderCautions(),
		Open: choosing.Ladder{Complete: true, Steps: []choosing.Step{
			{
				By:    say.Remark{},
				Areas: []string{"US-DE"},
			}, {Most: 2_900_000_000, By: say.Text("a gate"), Binds: []int{0, 2}, Areas: []string{"US-DE"}},
		}},
	})
	has(t, text, "Dover to Lewes, by way of Smyrna and Milford", "limited by on the way to through",
		"- - US-DE", "a gate Smyrna and Lewes US-DE", "A ladder knows no dates")
}
