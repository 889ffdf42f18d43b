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
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip"
)

// asked checks what a request asks.
func asked(t testing.TB, q wire.CheckRequest) *regs.Design {
	t.Helper()
	p, _ := planner()
	d, err := (&service.Service{Planner: p, Clock: noon}).Check(t.Context(), wire.Asked[wire.CheckRequest]{Said: q})
	check(t, err)
	return d
}

func checkText(t failer, v report.View, d *regs.Design) string {
	t.Helper()
	var b strings.Builder
	if err := report.Design(&b, v, d); err != nil {
		t.Errorf("%v", err)
	}
	return b.String()
}

// provinces are those for which it is asked how high, wide, long and heavy a unit can be.
var provinces = []string{"CA-ON", "CA-QC", "CA-MB", "CA-BC"}

func TestCheckScreens(t *testing.T) {
	everywhere := asked(t, wire.CheckRequest{Everywhere: true})
	for name, d := range map[string]*regs.Design{
		"check": exampleCheck(t, provinces[:2]...), "check-how-large": asked(t, wire.CheckRequest{In: provinces}),
		"check-proven":     asked(t, wire.CheckRequest{In: []string{"US-VT", "US-ME"}, Unit: wire.UnitRequest{Kind: "tiny_home", Coupling: "ball"}, Use: "private"}),
		"check-everywhere": exampleCheck(t, everywhere.Codes...), "check-how-large-everywhere": everywhere,
	} {
		t.Run(name, func(t *testing.T) {
			for _, v := range views() {
				text := checkText(t, v, d)
				fits(t, text)
				tellsDesign(t, v.In, d, text)
			}
			for _, l := range phrase.Languages() {
				isGolden(t, name, l, checkText(t, report.View{In: phrase.In(l, measure.Both)}, d))
			}
		})
	}
	fits(t, checkText(t, report.View{In: phrase.English()}, &regs.Design{Day: noon()}))
}

// squeezed is a text with one space wherever any kind of space stands.
func squeezed(text string) string { return strings.Join(strings.Fields(text), " ") }

// tellsDesign checks what every screen of a check tells: the mark of invented data first
// of all, that nothing is clear while anything is not known, the caution, and the largest
// of each quantity, proven where it is and apart from that what is not.
func tellsDesign(t failer, in *phrase.Language, d *regs.Design, text string) {
	t.Helper()
	mark := in.Say(say.That("head.invented"))
	if got := strings.HasPrefix(text, mark+". "); got != d.RestsOnInvented() || strings.Count(text, mark) > 1 {
		t.Errorf("invented: %t\n%s", d.RestsOnInvented(), text)
	}
	flat := squeezed(text)
	if !strings.Contains(flat, squeezed(in.Say(trip.Cautions()[0]))) {
		t.Errorf("no caution in\n%s", text)
	}
	lines := strings.Split(text, "\n")
	for _, l := range d.Free {
		if !slices.ContainsFunc(lines, func(line string) bool {
			label, rest, _ := strings.Cut(strings.TrimSpace(line), "  ")
			return label == in.Say(say.Remark{Code: say.Word("heading", string(l.Quantity))}) &&
				(!l.Proven.Known() || strings.Contains(rest, in.Down(l.Proven))) &&
				(l.Proven.Known() || l.Unproven == nil || strings.Contains(rest, in.Down(l.Unproven.Value)))
		}) {
			t.Errorf("%s: no line on %+v in\n%s", l.Quantity, l, text)
		}
	}
}

// The question of how large a unit can be in four provinces is answered on one screen:
// every figure that the tables have for it, proven ones apart from the others.
func TestHowLargeIsOnOneScreen(t *testing.T) {
	d := asked(t, wire.CheckRequest{In: provinces})
	in := phrase.English()
	text := checkText(t, report.View{In: in}, d)
	lines := strings.Split(text, "\n")
	for _, code := range provinces {
		i := slices.IndexFunc(lines, func(line string) bool { return strings.HasPrefix(line, code+" ") })
		if i < 0 {
			t.Fatalf("no line on %s in\n%s", code, text)
		}
		proven, unproven := 0, 0
		for _, a := range d.Answers {
			if a.Jurisdiction != code || !slices.Contains(regs.DrawnBy(), a.Quantity) {
				continue
			}
			switch {
			case a.Proven.Known():
				proven++
			case a.Stated != nil:
				unproven++
			}
			if a.Stated != nil && !strings.Contains(lines[i], in.Alone(a.Stated.Value)) {
				t.Errorf("%s, %s: %s is not in %q", code, a.Quantity, in.Alone(a.Stated.Value), lines[i])
			}
		}
		words := strings.Fields(lines[i+1])
		count := func(word string) (n int) {
			for _, w := range words {
				if w == word {
					n++
				}
			}
			return n
		}
		if count("proven") != proven || count("UNPROVEN") != unproven {
			t.Errorf("%s: %d proven, %d not; %q", code, proven, unproven, lines[i+1])
		}
	}
}

// Where nothing is given of what is asked about, that is not known, and not nothing to do.
func TestCheckOfAxlesAlone(t *testing.T) {
	text := checkText(t, report.View{In: phrase.English()}, asked(t, wire.CheckRequest{In: []string{"CA-ON"}, Quantities: []wire.LegalQuantity{"tandem_mass"}}))
	has(t, text, "SO FAR NOT KNOWN", "weigh")
	hasNot(t, text, "nothing is open")
}

// notKnown is how each language begins the words for what is not known.
var notKnown = map[language.Tag]string{language.English: "NOT KNOWN", language.French: "NON CONNU"}

// Whatever is asked where, the answer is one screen.
func TestCheckScreensOfAnything(t *testing.T) {
	p, _ := planner()
	codes := asked(t, wire.CheckRequest{Everywhere: true}).Codes
	rapid.Check(t, func(t *rapid.T) {
		v := regs.Vehicle{Measures: map[limit.Quantity]regs.Measure{}}
		v.Kind = rapid.SampledFrom(append(limit.UnitKinds(), "")).Draw(t, "kind")
		for _, q := range rapid.SliceOfDistinct(rapid.SampledFrom(limit.Quantities()[:9]), rapid.ID).Draw(t, "given") {
			step := limit.Amount(measure.Millimetre)
			if q.IsMass() {
				step = limit.Amount(measure.Kilogram)
			}
			v.Measures[q] = measure.Exactly(step * limit.Amount(rapid.IntRange(1, 40_000).Draw(t, "size")))
		}
		in := rapid.SliceOfNDistinct(rapid.SampledFrom(codes), 1, 12, rapid.ID).Draw(t, "codes")
		only := rapid.SliceOfDistinct(rapid.SampledFrom(limit.Quantities()), rapid.ID).Draw(t, "quantities")
		d := p.Tables.Design(v, in, noon(), only...)
		view := rapid.SampledFrom(views()).Draw(t, "view")
		text := checkText(t, view, d)
		fits(t, text)
		tellsDesign(t, view.In, d, text)
		if finding.Roll(d.Found()).Unknowns > 0 && len(d.Found()) > 0 && !strings.Contains(text, notKnown[view.In.Tag()]) {
			t.Fatalf("something is not known, and nothing says so:\n%s", text)
		}
	})
}
