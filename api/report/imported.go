package report

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"wayhouse/api/phrase"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// malformed is how many values that could not be read the text lists.
const malformed = 40

// Import writes what an import made of its extracts, and what it could not read.
func Import(w io.Writer, in *phrase.Language, r *osm.Report) error {
	p := &lines{w: w, in: in}
	p.line(say.That("import.sources"), say.Text(strings.Join(r.Sources, ", ")))
	p.line(say.That("import.data_of"), say.Text(r.DataDate))
	p.line(say.That("import.credit"), say.Text(r.Attribution))
	p.line(say.That("import.network"), say.That("import.size", "nodes", r.Nodes, "edges", r.Edges, "roads", r.Roads))
	p.numbers(say.That("import.km_by_class"), r.KilometresByClass, "class")
	p.numbers(say.That("import.km_by_place"), r.KilometresByJurisdiction, "counted")
	p.line(
		say.That("import.islands"),
		say.That("import.of_islands", "islands", r.Islands, "edges", r.IslandEdges, "km", r.IslandKm),
	)
	p.counts(say.That("import.signs"), r.Signs, "subject")
	p.counts(say.That("import.over_roads"), r.Structures, "kind")
	p.counts(say.That("import.unmeasured"), r.Unmeasured, "kind")
	p.counts(say.That("import.on_roads"), r.Barriers, "kind")
	p.counts(say.That("import.delays"), r.Controls, "counted")
	p.turns(r.Turns)
	p.boundaries(r.Boundaries)
	p.counts(say.That("import.places"), r.Places, "counted")
	p.line(say.That("import.addresses"), say.That("import.of_addresses", "addresses", r.Addresses))
	p.unread(r.Malformed)
	p.line(say.That("import.missing"), say.That("import.missing_nodes", "nodes", r.MissingNodes))
	p.line(say.That("import.terrain"), say.That("import.without_terrain", "km", r.KilometresClimbUnknown))
	p.line(say.That("import.carries"), p.facts(r.Carries))
	p.line(say.That("import.lacks"), p.facts(r.Lacks))
	return p.err
}

// lines are labels with what is said of them.
type lines struct {
	w   io.Writer
	in  *phrase.Language
	err error
}

func (p *lines) write(text string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, text)
	}
}

func (p *lines) line(label, says say.Remark) {
	p.write(fmt.Sprintf("%-13s %s", p.in.Say(label), p.in.Say(says)))
}

func (p *lines) facts(facts []network.Fact) say.Remark {
	var out []string
	for _, f := range facts {
		out = append(out, p.in.Term(f))
	}
	return say.Text(strings.Join(out, ", "))
}

func (p *lines) numbers(label say.Remark, m map[string]float64, family string) {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		parts = append(parts, p.in.Say(say.That("import.number", "of", p.word(family, k), "value", m[k])))
	}
	p.line(label, say.Text(strings.Join(parts, ", ")))
}

// counts says how many there are of each of a family of words, in the order of their keys.
func (p *lines) counts(label say.Remark, m map[string]int, family string) {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		parts = append(parts, fmt.Sprintf("%s %d", p.word(family, k), m[k]))
	}
	p.line(label, say.Text(strings.Join(parts, ", ")))
}

// word is what a language has for a key of a report; a key that is no word of a family,
// such as the value of a tag, stays.
func (p *lines) word(family, key string) string {
	code := say.Word(family, strings.ReplaceAll(key, " ", "_"))
	if !p.in.Has(code) {
		return key
	}
	return p.in.Say(say.Remark{Code: code})
}

// boundaries counts areas by level, and those of a level that were left out.
func (p *lines) boundaries(m map[string]int) {
	said := map[string]int{}
	for key, n := range m {
		level, state, _ := strings.Cut(strings.TrimPrefix(key, "level "), " ")
		said[p.in.Say(say.That("import.level", "level", level, "state", p.word("counted", state)))] = n
	}
	p.counts(say.That("import.boundaries"), said, "")
}

// turns says what became of the turn restrictions.
func (p *lines) turns(t osm.Turns) {
	p.line(say.That("import.turn_rules"), say.That("import.turns", "relations", t.Relations, "bans", t.Bans,
		"others", t.Others, "dropped", len(t.Dropped)))
	p.counts(say.That("import.kinds"), t.Kinds, "")
	reasons := map[string]int{}
	for _, d := range t.Dropped {
		reasons[p.in.Ours(d.Reason)]++
	}
	p.counts(say.That("import.dropped"), reasons, "")
}

// unread lists the first values that could not be read.
func (p *lines) unread(all []osm.Malformed) {
	p.line(say.That("import.not_read"), say.That("import.values", "count", len(all)))
	for _, m := range all[:min(len(all), malformed)] {
		p.write(p.in.Say(say.That("import.malformed", "type", m.Type, "id", fmt.Sprint(m.ID), "key", m.Key,
			"value", m.Value, "likely", m.Likely, "taken", m.Taken)))
	}
	if more := len(all) - malformed; more > 0 {
		p.write(p.in.Say(say.That("import.more", "count", more)))
	}
}
