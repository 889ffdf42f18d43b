package report_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
	"sigs.k8s.io/yaml"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// goldenCheck is what `wayhouse check data/example/unit.yaml --in CA-ON,CA-QC,US-VT`
// prints; the command is held to it too.
const goldenCheck = "../../testdata/example-check.txt"

// exampleCheck checks the unit of data/example.
func exampleCheck(t testing.TB, in ...string) *regs.Design {
	t.Helper()
	q := wire.CheckRequest{In: in}
	check(t, yaml.Unmarshal(must(os.ReadFile(example+"unit.yaml")), &q.Unit))
	p, _ := planner()
	known := &service.Service{Planner: p, Clock: noon}
	d, err := known.Check(t.Context(), wire.Asked[wire.CheckRequest]{Said: q})
	check(t, err)
	return d
}

func designText(t failer, d *regs.Design, rows bool) string {
	t.Helper()
	var b strings.Builder
	if err := report.Design(&b, report.View{In: phrase.English(), Full: true, Rows: rows}, d); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

func TestExampleCheck(t *testing.T) {
	got := designText(t, exampleCheck(t, "CA-ON", "CA-QC", "US-VT"), false)
	if *update {
		check(t, os.WriteFile(goldenCheck, []byte(got), 0o644))
	}
	want, err := os.ReadFile(goldenCheck)
	check(t, err)
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("the check is not %s (-update writes it):\n%s", goldenCheck, diff)
	}
}

// What a check says, its text says: the caution first, each jurisdiction once
// and in order, every answer, and everything under the largest values.
func TestCheckText(t *testing.T) {
	codes := []string{"US-VT", "CA-ON", "CA-QC", "CA-NU"}
	d := exampleCheck(t, codes...)
	for _, rows := range []bool{false, true} {
		text := designText(t, d, rows)
		checkWidth(t, text)
		flat := strings.Join(strings.Fields(text), " ")
		if !strings.Contains(strings.SplitN(text, "\n"+codes[0]+"\n", 2)[0], "Planning aid only") {
			t.Errorf("%.300s", text)
		}
		at := -1
		for _, code := range codes {
			i := strings.Index(text, "\n"+code+"\n")
			if i <= at || strings.Count(text, "\n"+code+"\n") != 1 {
				t.Errorf("%s stands at %d, after %d", code, i, at)
			}
			at = i
		}
		for _, a := range d.Answers {
			for _, f := range a.Findings {
				if said := phrase.English().Summary(f); f.Reason != finding.NotGiven && !strings.Contains(flat, said) {
					t.Errorf("%s, %s: %q is missing", a.Jurisdiction, a.Quantity, said)
				}
			}
			if !strings.Contains(flat, phrase.English().Say(a.ToClear)) {
				t.Errorf("%s, %s: %q is missing", a.Jurisdiction, a.Quantity, a.ToClear)
			}
			if n := a.Next; n != nil &&
				!strings.Contains(flat, "next step: "+phrase.English().Down(n.Margin)+" more to "+n.Limit+" ("+n.Row+")") {
				t.Errorf("%s, %s: %+v is missing", a.Jurisdiction, a.Quantity, n)
			}
		}
		for _, want := range slices.Concat(phrase.English().Each(d.Assumed),
			phrase.English().Each(trip.DesignCautions()), []string{
				"NOT KNOWN because not given: combination length, gross mass, tow vehicle length"}) {
			if !strings.Contains(flat, want) {
				t.Errorf("%q is missing", want)
			}
		}
		for _, l := range slices.Concat(d.Free, d.NoEscort) {
			if l.Proven.Known() && !strings.Contains(flat, phrase.English().Down(l.Proven)) {
				t.Errorf("%+v is missing", l)
			}
			if !l.Proven.Known() && l.Unproven != nil &&
				!strings.Contains(flat, phrase.English().Down(l.Unproven.Value)+", "+strings.Join(l.Unproven.In, ", ")) {
				t.Errorf("%+v is missing", l)
			}
		}
	}
}

// With rows every row stands with its source and its state; without, those that
// decide do, and the others of an unknown are named.
func TestCheckRows(t *testing.T) {
	d := exampleCheck(t, "CA-ON", "CA-QC")
	brief, full := designText(t, d, false), strings.Join(strings.Fields(designText(t, d, true)), " ")
	for _, a := range d.Answers {
		if a.Findings[0].Reason == finding.NotGiven {
			continue
		}
		for _, r := range a.Findings[0].Citations {
			further := r.Tier == string(limit.Beyond) && !r.Decides
			if !strings.Contains(full, r.ID) ||
				!further && !strings.Contains(full, strings.Join(strings.Fields(r.Source), " ")) {
				t.Errorf("%s or %q is missing", r.ID, r.Source)
			}
			flat := strings.Join(strings.Fields(brief), " ")
			switch {
			case r.Decides:
				source := strings.Join(strings.Fields(r.Source), " ")
				_, after, ok := strings.Cut(flat, "decides: "+r.Published+" ("+r.ID+"): "+source)
				if !ok || !strings.Contains(after, ", "+string(r.Status)+", read "+r.ReadOn.Format(time.DateOnly)) {
					t.Errorf("%s decides, without its source %q, status or day", r.ID, r.Source)
				}
			case a.Findings[0].Outcome == finding.Unknown:
				if !strings.Contains(flat, r.ID+" ("+string(r.Status)+")") {
					t.Errorf("%s is not named", r.ID)
				}
			}
		}
	}
	if len(full) <= len(brief) || strings.Contains(brief, "beside: ") || !strings.Contains(full, "beside: ") {
		t.Errorf("%d characters with rows, %d without", len(full), len(brief))
	}
}

// Nothing reads as clear that is not, whatever stands in the answer; no text
// drives a terminal or runs off the page.
func TestAnyCheckText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SampledFrom([]string{"", "x", "clear: all", "\x1b[2J", "a\nclear: b", strings.Repeat("long ", 60)})
		outcome := rapid.SampledFrom([]finding.Outcome{finding.Clear, finding.Conditional, finding.Review,
			finding.Forbidden, finding.Unknown}).
			Draw(t, "outcome")
		f := finding.Finding{
			Topic: finding.Limit, Rule: "height", Jurisdiction: "XA", Outcome: outcome,
			Says: say.Each([]string{"s " + words.Draw(t, "summary")}),
			Settles: finding.Asking(
				finding.Office,
				say.Text(words.Draw(t, "ask")),
			), Margin: finding.Of(measure.Length(rapid.Int64().Draw(t, "margin"))),
			Demands: finding.Demands{Permits: say.Each([]string{words.Draw(t, "permit")}), EscortsFront: 1},
			Citations: []finding.Citation{
				{
					ID:        "r " + words.Draw(t, "id"),
					Source:    words.Draw(t, "source"),
					Published: words.Draw(t, "figure"),
					Status:    finding.Published,
					Decides:   rapid.Bool().Draw(t, "decides"),
				},
			},
		}
		d := &regs.Design{
			Revision: words.Draw(t, "revision"),
			Day:      noon(),
			Answers: []regs.Answer{
				{
					Jurisdiction: "XA",
					Quantity:     limit.Height,
					Findings:     []finding.Finding{f},
					ToClear:      say.Text(words.Draw(t, "to clear")),
				},
			},
		}
		d.Free = []regs.Largest{{Quantity: limit.Height, NotEstablished: []string{"XA"}}}
		text := designText(t, d, rapid.Bool().Draw(t, "rows"))
		for _, line := range strings.Split(text, "\n") {
			if outcome != finding.Clear && strings.HasPrefix(line, "    clear:") { // where outcomes stand
				t.Fatalf("%s reads %q", outcome, line)
			}
			if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' }) {
				t.Fatalf("%q", line)
			}
		}
		if !strings.Contains(text, "\n    ") || strings.Contains(text, "\n    clear: s") != (outcome == finding.Clear) {
			t.Fatalf("%s reads\n%s", outcome, text)
		}
	})
}

// Whoever reads that something is not clear reads whom to ask, as the cautions
// say.
func TestCheckTextSaysWhomToAsk(t *testing.T) {
	d := exampleCheck(t, "CA-ON", "CA-QC", "US-VT")
	for _, rows := range []bool{false, true} {
		flat, asked := strings.Join(strings.Fields(designText(t, d, rows)), " "), false
		missing := map[string]bool{}
		for _, a := range d.Answers {
			for _, f := range a.Findings {
				ask := strings.Join(strings.Fields(phrase.English().Ask(f)), " ")
				asked = asked || ask != ""
				if !strings.Contains(flat, ask) {
					missing[ask] = true
				}
			}
		}
		if !asked {
			t.Error("no finding asks anybody")
		}
		for ask := range missing {
			t.Errorf("rows %t: nobody is told to ask %s", rows, ask)
		}
	}
}

// What rests on invented rows says so once in its head and with each of the rows.
func TestCheckTextMarksInvented(t *testing.T) {
	row := finding.Citation{
		ID:        "zz-row",
		Published: "3.9 m",
		Source:    "made up",
		Status:    finding.Invented,
		Tier:      "legal",
		Decides:   true,
	}
	f := finding.Finding{
		Topic: finding.Limit, Rule: "height", Jurisdiction: "XA", Outcome: finding.Conditional,
		Says:    say.Each([]string{"height 4 m is beyond 3.9 m"}),
		Settles: finding.Asking(finding.Office, say.Text("the office")), Citations: []finding.Citation{row}, Invented: true,
	}
	d := &regs.Design{Revision: "1-x", Day: noon(), Answers: []regs.Answer{{
		Jurisdiction: "XA", Quantity: limit.Height, Findings: []finding.Finding{f},
		Next: &regs.NextStep{Row: "zz-step", Limit: "4.4 m", Margin: finding.Of(40 * measure.Centimetre),
			Outcome: finding.Forbidden},
	}}}
	for _, rows := range []bool{false, true} {
		text := designText(t, d, rows)
		checkMarked(t, text, true)
		has(t, text, "3.9 m (zz-row): made up, INVENTED, never read")
	}
	d.Answers[0].Findings[0].Citations[0].Status, d.Answers[0].Findings[0].Invented = finding.Verified, false
	checkMarked(t, designText(t, d, true), false)
	d.NoEscort = []regs.Largest{{Quantity: limit.Height, Invented: true}}
	checkMarked(t, designText(t, d, true), true)
}
