package report_test

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/compare"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func compared(t failer, v report.View, c *compare.Comparison) string {
	t.Helper()
	var b strings.Builder
	if err := report.Comparison(&b, v, c); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

// The example against itself with a higher roof: what differs is its height alone, and
// what has another outcome for it stands first.
func TestExampleComparison(t *testing.T) {
	low, high := exampleCheck(t, "CA-ON", "CA-QC", "US-VT"), exampleCheck(t, "CA-ON", "CA-QC", "US-VT")
	high.Vehicle.Measures = map[limit.Quantity]regs.Measure{
		limit.Height: measure.Exactly(limit.Amount(43 * measure.Metre / 10)),
	}
	high.Answers = slices.Clone(high.Answers)
	over := slices.IndexFunc(
		high.Answers,
		func(a regs.Answer) bool { return a.Jurisdiction == "CA-ON" && a.Quantity == limit.Height },
	)
	f := high.Answers[over].Findings[0]
	f.Outcome, f.Margin, f.Value = finding.Conditional, finding.Of(
		-15*measure.Centimetre,
	), finding.Of(
		43*measure.Metre/10,
	)
	high.Answers[over].Findings = append([]finding.Finding{f}, high.Answers[over].Findings[1:]...)
	text := compared(t, report.View{In: phrase.English()}, service.Checks(low, high))
	has(
		t,
		text,
		"height 4.05 m (≈ 13 ft 3 1/2 in) 4.3 m (≈ 14 ft 1 1/4 in)",
		"CA-ON height clear, 0.1 m left with conditions, 0.15 m too much",
	)
	fits(t, text)
	same := compared(t, report.View{In: phrase.English()}, service.Checks(low, low))
	has(t, same, "nothing differs")
	if strings.Count(text, "INVENTED") != 1 || !strings.HasPrefix(same, "INVENTED") {
		t.Errorf("%s", text)
	}
}

// What a side has no line for, such as a tax of another province, is none; what it has one
// for without a figure is NOT KNOWN.
func TestAFigureOfOneSideAlone(t *testing.T) {
	fact := func(name string, value any) compare.Fact { return compare.Fact{Name: say.Text(name), Value: value} }
	c := compare.Of(compare.Side{Name: "one", Facts: []compare.Fact{fact("toll", nil), fact("survey", 12)}},
		compare.Side{Name: "two", Facts: []compare.Fact{fact("toll", 5), fact("escort", nil)}})
	text := compared(t, report.View{In: phrase.English()}, c)
	has(t, text, "toll NOT KNOWN 5", "survey 12 -", "escort - NOT KNOWN")
	var only []string
	for _, f := range wire.NewComparison(phrase.English(), c).Facts {
		only = append(only, f.Only)
	}
	if !slices.Equal(only, []string{"", "a", "b"}) {
		t.Errorf("%q", only)
	}
}

// Whatever differs, it is one screen in each language and system of units; in full no
// row is left out.
func TestAnyComparisonIsOneScreen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) compare.Side {
			out := compare.Side{
				Name:  name,
				Facts: []compare.Fact{{Name: say.That("compare.length"), Value: measure.Distance(len(name) * 1000)}},
			}
			for i := range rapid.IntRange(0, 60).Draw(t, name) {
				f := finding.Finding{
					Topic: finding.Limit, Rule: "height", Jurisdiction: "J" + strings.Repeat("x", i),
					Outcome: rapid.SampledFrom(finding.Outcomes()).Draw(t, "outcome"),
					Says:    []say.Remark{say.Text(strings.Repeat("word ", rapid.IntRange(1, 40).Draw(t, "words")))},
				}
				if rapid.Bool().Draw(t, "compared") {
					f.Margin = finding.Of(measure.Length(rapid.Int64Range(-5e9, 5e9).Draw(t, "margin")))
				}
				out.Findings = append(out.Findings, f)
			}
			out.Verdict = finding.Roll(out.Findings)
			return out
		}
		c := compare.Of(side("a"), side("bb"))
		in := phrase.In(rapid.SampledFrom([]language.Tag{language.English, language.French}).Draw(t, "language"),
			rapid.SampledFrom([]measure.System{measure.Both, measure.Metric, measure.Customary}).Draw(t, "units"))
		fits(t, compared(t, report.View{In: in}, c))
		full := compared(t, report.View{In: in, Full: true}, c)
		for _, r := range c.Rows {
			if j := r.Finding().Jurisdiction; len(j) < 30 && !strings.Contains(full, j+" ") {
				t.Fatalf("%s is left out of\n%s", j, full)
			}
		}
	})
}
