package phrase

import (
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"text/template/parse"

	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// alike are the sentences that read the same in both languages: no words stand in
// them, or words that both languages have.
var alike = []string{
	"text", "duty.demand", "duty.figures", "duty.hours_figure", "hours.holidays", "limit.beyond_one",
	"limit.less", "passage.part", "passage.room", "passage.sum", "place.element", "place.of_map", "rig.mass",
	"rig.rating", "rig.refused",
	"change.kind", "change.road", "change.thing", "change.word",
	"compare.a", "compare.b", "compare.fact", "road.speed", "draw.at", "draw.degrees", "draw.scale_end",
	"draw.north", "draw.level", "command.source_date", "command.source_licence", "command.network_section",
	"import.sources", "import.number", "duty.topic.inspection", "use.commercial", "rule.inspection",
	"kind.tunnel", "counted.village",
	"office.named", "screen.alone", "screen.alone_down", "screen.alone_up", "screen.down", "screen.check.total",
	"screen.check.left",
	"screen.check.over", "screen.about", "day.details", "screen.enters", "screen.escorts_open",
	"screen.no_answer", "screen.row_says", "screen.time", "screen.where", "screen.ladder.most", "screen.ask",
	"screen.route.barrier",
	"unit.metre", "unit.kilometre", "unit.mile", "unit.kilogram", "unit.pound", "unit.kilometre_per_hour",
	"unit.litre", "unit.litre_per_100_kilometres",
	"rate.unit.km", "rate.unit.mi", "rate.unit.hour", "rate.unit.litre", "rate.unit.percent",
	"rate.units.km", "rate.units.mi", "rate.units.hour", "rate.units.litre", "rate.units.percent",
	"quote.heading.transport", "quote.heading.taxes", "quote.quantity", "quote.sum", "quote.terms", "quote.under",
	"quote.amount",
	"unit.square_metre", "amount.area", "error.and_fix", "amount.count", "amount.length", "measured.force",
	"measured.volume", "task.fact", "task.rule", "task.duty", "unit.kilowatt", "unit.horsepower",
	"unit.kilonewton", "unit.pound_force",
	"unit.kilopascal",
}

// Remarks that end with a full stop of their own have one all the same.
func TestSentencesHaveOneStop(t *testing.T) {
	for _, in := range []*Language{English(), French()} {
		got := in.Sentences([]say.Remark{say.Text("One."), say.Text("two"), say.Text("Three.")})
		if got != "One. two. Three." {
			t.Errorf("%q", got)
		}
	}
}

// The languages have the same sentences, of the same values, and none stands in
// another language than its own.
func TestSentencesOfBothLanguages(t *testing.T) {
	english, french := sentences(English()), sentences(French())
	for code, en := range english {
		fr := french[code]
		if fr == nil {
			t.Errorf("%s has no French sentence", code)
			continue
		}
		if got, want := fieldsIn(fr), fieldsIn(en); !slices.Equal(got, want) {
			t.Errorf("the French sentence of %s has the values %q, the English one %q", code, got, want)
		}
		if same := fr.String() == en.String(); same != slices.Contains(alike, code) {
			t.Errorf("%s: that both languages say the same is %t: %s", code, same, fr)
		}
	}
	for code := range french {
		if english[code] == nil {
			t.Errorf("%s has no English sentence", code)
		}
	}
	if len(english) < 700 {
		t.Errorf("%d sentences", len(english))
	}
}

func sentences(l *Language) map[string]parse.Node {
	out := map[string]parse.Node{}
	for _, s := range l.sentences.Templates() {
		if s.Tree != nil && s.Name() != "" && !strings.HasSuffix(s.Name(), ".tmpl") {
			out[s.Name()] = s.Root
		}
	}
	return out
}

func fieldsIn(n parse.Node) []string {
	fields := map[string]bool{}
	fieldsOf(n, fields)
	return slices.Sorted(maps.Keys(fields))
}

// The words for quantities are feminine and begin with a consonant, so that a
// sentence may write "la", "de" and "celle" around any of them.
func TestFrenchQuantities(t *testing.T) {
	feminine := regexp.MustCompile(`^(hauteur|largeur|longueur|distance|masse|charge)( |$)`)
	all := slices.Concat(terms(limit.Quantities()), terms([]rig.Quantity{rig.Height, rig.Width, rig.Length, rig.Mass}))
	for s := network.MaxHeight; s <= network.MaxAxleMass; s++ {
		all = append(all, s)
	}
	for _, q := range all {
		if word := French().Term(q); !feminine.MatchString(word) {
			t.Errorf("%s is %q", q.Term(), word)
		}
	}
}

// French of Canada has a space before a colon and none before a semicolon, writes
// decimals with a comma, and an apostrophe where a vowel follows (Office québécois de
// la langue française, Banque de dépannage linguistique: "Espacement", "Élision").
func TestFrenchIsWrittenAsFrench(t *testing.T) {
	wrong := regexp.MustCompile(`[^\s}]:(\s|$)|\s[;!?]` +
		`|(?i)(^|[\s'(])(de|le|la|que|ne|se|je|me|te) [aeiouyéèêâîôû]\w|\bsi ils?\b`)
	point := regexp.MustCompile(`\d\.\d`) // but in what is typed

	written := regexp.MustCompile(`(?s)\{\{.*?\}\}`)
	typed := regexp.MustCompile(`« [^»]*[:.][^»]*»;?|127\.0\.0\.1|GPX 1\.1`) // as a file or a standard has it
	check := func(code, says string) {
		text := strings.ReplaceAll(written.ReplaceAllString(says, "}"), "\u00a0", " ")
		text = typed.ReplaceAllString(text, "")
		if at := wrong.FindString(text); at != "" {
			t.Errorf("%s: %q in %s", code, at, text)
		}
		if at := point.FindString(text); at != "" && !strings.HasPrefix(code, "flag.") &&
			!strings.Contains(text, "45.42,") {
			t.Errorf("%s: %q in %s", code, at, text)
		}
		if strings.Contains(text, "}:") {
			t.Errorf("%s: no space before a colon: %s", code, text)
		}
	}
	for code, s := range sentences(French()) {
		check(code, s.String())
	}
	described, err := os.ReadFile("../wire/described.fr.txt")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(described)) {
		if says, ok := strings.CutPrefix(line, "  "); ok {
			check("described.fr.txt", strings.TrimSpace(says))
		}
	}
}

// One word means one thing: the way of a rig is "parcours", a given way "itinéraire", a trip
// "voyage".
func TestOneFrenchWordForOneThing(t *testing.T) {
	other := regexp.MustCompile(`(?i)\b(trajets?|chemins?)\b`)
	// a railway, paths of files, on the way, a track
	alsoSo := []string{"ask.railway", "error.path_no_folder", "help.config.long", "flag.via", "class.track"}
	for code, s := range sentences(French()) {
		if at := other.FindString(s.String()); at != "" && !slices.Contains(alsoSo, code) {
			t.Errorf("%s: %q in %s", code, at, s)
		}
	}
}

// No line breaks before a colon or inside quotation marks, and words of the data keep
// their spaces.
func TestSpacesOfFrench(t *testing.T) {
	for _, tc := range []struct {
		r    say.Remark
		want string
	}{
		{say.That("report.unknown", "why", "a : b"), "NON CONNU\u00a0: a : b"},
		{say.That("passage.status", "status", "x"), "le chiffre a le statut «\u00a0x\u00a0» et ne peut rien confirmer"},
		{say.That("rig.share", "percent", 12.5), "12,5\u00a0%"},
	} {
		if got := French().Say(tc.r); got != tc.want {
			t.Errorf("%q, want %q", got, tc.want)
		}
	}
	if got := English().Say(say.That("report.unknown", "why", "a : b")); got != "NOT KNOWN: a : b" {
		t.Errorf("%q", got)
	}
}
