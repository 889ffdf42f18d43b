// Package phrase makes sentences of what is said as data. The sentences of a
// language stand in templates, one for each code, and nowhere else.
package phrase

import (
	"cmp"
	"embed"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"text/template"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

//go:embed en/*.tmpl fr/*.tmpl
var files embed.FS

// Language makes the sentences of one language, with quantities in a choice of
// units. It is safe for use by many goroutines.
type Language struct {
	tag       language.Tag
	units     measure.System
	sentences *template.Template
	numbers   *message.Printer
	symbols   map[string]string // of units, by their names in the templates
	ours      map[string]string // texts of ours in data, by their English
	frames    []string          // those of them with a star
}

// Languages lists the languages that have sentences, the one that this project is
// written in first.
func Languages() []language.Tag { return []language.Tag{language.English, language.French} }

// English returns the language that this project is written in, with both systems of
// units.
func English() *Language { return In(language.English, measure.Both) }

// French returns the French of Canada, in the terms of the rules of Québec, with both
// systems of units.
func French() *Language { return In(language.French, measure.Both) }

// spoken are the languages that were read, by tag: of each one with every system of units.
var spoken sync.Map

// In returns one of [Languages] that prints quantities in a choice of units; English
// for a tag that is none of them.
func In(tag language.Tag, units measure.System) *Language {
	if !slices.Contains(Languages(), tag) {
		tag = language.English
	}
	all, ok := spoken.Load(tag)
	if !ok {
		all, _ = spoken.LoadOrStore(tag, inEachSystem(read(tag, files, tag.String()+"/*.tmpl")))
	}
	return all.([]*Language)[units]
}

// inEachSystem are a language with both systems of units, and with each of them.
func inEachSystem(both *Language) []*Language {
	out := []*Language{measure.Both: both, measure.Metric: nil, measure.Customary: nil}
	for _, units := range []measure.System{measure.Metric, measure.Customary} {
		l := *both
		l.units = units
		l.sentences = template.Must(both.sentences.Clone()).Funcs(l.functions()) // they are of this language
		out[units] = &l
	}
	return out
}

// Tag names the language.
func (l *Language) Tag() language.Tag { return l.tag }

// Units are the systems in which the language prints quantities.
func (l *Language) Units() measure.System { return l.units }

// Has reports whether the language has a sentence for a code.
func (l *Language) Has(code say.Code) bool { return l.sentences.Lookup(string(code)) != nil }

// read reads the sentences of a language, with both systems of units; a test parses every
// one that is embedded, so that it panics in no build that passed.
func read(tag language.Tag, from fs.FS, pattern string) *Language {
	l := &Language{tag: tag, numbers: message.NewPrinter(tag), symbols: map[string]string{}}
	l.sentences = template.Must(template.New("").Funcs(l.functions()).Option("missingkey=error").ParseFS(from, pattern))
	for _, t := range l.sentences.Templates() {
		if name, ok := strings.CutPrefix(t.Name(), "unit."); ok {
			l.symbols[name] = t.Root.String()
		}
	}
	if tag == language.French {
		l.ours = l.Pairs(oursInFrench)
		l.frames = framesOf(l.ours)
	}
	l.bind()
	return l
}

// Say makes the sentence of a remark, without a full stop. What has no sentence
// comes out as [say.Remark.String] writes it: ugly, and nothing is lost.
func (l *Language) Say(r say.Remark) string {
	if r.None() {
		return ""
	}
	values := make(map[string]any, len(r.Args))
	for _, a := range r.Args {
		values[a.Name] = l.value(a.Value)
	}
	var b strings.Builder
	if err := l.sentences.ExecuteTemplate(&b, string(r.Code), values); err != nil {
		return r.String()
	}
	return b.String()
}

// value is what a template gets to see: words where the language makes a
// difference, else the value itself.
func (l *Language) value(v any) any {
	switch v := v.(type) {
	case say.Remark:
		return l.Say(v)
	case []say.Remark:
		return list(l.Each(v))
	case []say.Term:
		var out words
		for _, t := range v {
			out = append(out, l.Term(t))
		}
		return out
	case string:
		return l.Ours(v)
	case []string:
		return words(v)
	case say.Term:
		return l.Term(v)
	case time.Time:
		return l.Moment(v)
	case say.Day:
		return l.Day(time.Time(v))
	default:
		return l.Shown(v)
	}
}

// A list of what is said prints with semicolons between; a template may range
// over it.
type list []string

func (l list) String() string { return strings.Join(l, "; ") }

// words print with commas between; a template may range over them.
type words []string

func (w words) String() string { return commas(w) }

// Term is a word of ours in the language, "" for the zero value of a type that
// has none.
func (l *Language) Term(t say.Term) string { return l.Say(say.Remark{Code: t.Term()}) }

// All says several remarks in one sentence.
func (l *Language) All(remarks []say.Remark) string { return strings.Join(l.Each(remarks), "; ") }

// Sentences says remarks one after the other, each with its full stop.
func (l *Language) Sentences(remarks []say.Remark) string {
	said := l.Each(remarks)
	for i := range said {
		said[i] = strings.TrimSuffix(said[i], ".")
	}
	return strings.Join(said, ". ") + "."
}

// Each says remarks one by one and leaves out those that say nothing.
func (l *Language) Each(remarks []say.Remark) []string {
	var out []string
	for _, r := range remarks {
		if s := l.Say(r); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Summary is the answer of a finding.
func (l *Language) Summary(f finding.Finding) string { return l.All(f.Says) }

// Value is what a finding compared, in full.
func (l *Language) Value(f finding.Finding) string {
	if !f.Figures.None() {
		return l.Say(f.Figures)
	}
	return l.Quantity(f.Value)
}

// Ask names whom the first step asks that asks anybody.
func (l *Language) Ask(f finding.Finding) string { return l.Whom(f.Settles) }

// Whom names whom the first step asks that asks anybody.
func (l *Language) Whom(ways [][]finding.Step) string {
	for _, s := range slices.Concat(ways...) {
		if !s.Whom.None() {
			return l.Say(s.Whom)
		}
	}
	return ""
}

// Figure is what a citation shows: as its source prints it, or in words of ours.
func (l *Language) Figure(c finding.Citation) string {
	return cmp.Or(l.Ours(c.Published), l.Say(c.Shows))
}

// Bearing says how a citation bears on the case.
func (l *Language) Bearing(c finding.Citation) string { return l.All(c.Says) }
