package osm

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"wayhouse/routing/network"
)

// Report says what an import made of its extracts, and what it could not read.
type Report struct {
	Sources     []string `json:"sources"` // file names, without their folders
	DataDate    string   `json:"data_date"`
	Attribution string   `json:"attribution"`

	Elements map[string]int `json:"elements"` // of all extracts together: nodes kept, ways, relations
	Tagged   map[string]int `json:"tagged"`   // ways that bear a tag, whatever they are
	Roads    int            `json:"roads"`    // ways that became edges
	Nodes    int            `json:"nodes"`    // of the network
	Edges    int            `json:"edges"`

	KilometresByClass        map[string]float64 `json:"km_by_class"`
	KilometresByJurisdiction map[string]float64 `json:"km_by_jurisdiction"`
	KilometresClimbUnknown   float64            `json:"km_without_terrain"`

	Signs        map[string]int `json:"signs"`      // by what they limit
	Structures   map[string]int `json:"structures"` // over roads, by kind
	Unmeasured   map[string]int `json:"unmeasured"` // of those, without a usable figure
	Barriers     map[string]int `json:"barriers"`   // and crossings, by kind
	Turns        Turns          `json:"turns"`
	Boundaries   map[string]int `json:"boundaries"` // admin areas used, by level; and those left out
	Places       map[string]int `json:"places"`
	Malformed    []Malformed    `json:"malformed"`
	MissingNodes int            `json:"missing_nodes"` // named by roads and in no extract

	Islands     int            `json:"islands"` // parts of the network that no road joins to the largest
	IslandEdges int            `json:"island_edges"`
	IslandKm    float64        `json:"island_km"`
	Carries     []network.Fact `json:"carries"`
	Lacks       []network.Fact `json:"lacks"`
	Assumptions []string       `json:"assumptions"`
	JoinedTwice int            `json:"roads_in_more_than_one_extract"`
}

// Turns is what became of the turn restrictions.
type Turns struct {
	Relations int            `json:"relations"`
	Plain     int            `json:"with_plain_tag"`
	Bans      int            `json:"banned_sequences"`
	Kinds     map[string]int `json:"kinds"`
	Others    int            `json:"for_other_traffic"`
	Dropped   []Dropped      `json:"dropped"`
}

// Dropped is a turn restriction that was left out, and why.
type Dropped struct {
	ID     int64  `json:"id"`
	Kind   string `json:"kind"`
	Reason string `json:"reason"`
}

// shown is how many malformed values the text lists.
const shown = 40

// Text writes the report for people.
func (r *Report) Text(w io.Writer) error {
	p := &printer{w: w}
	p.line("sources       %s", strings.Join(r.Sources, ", "))
	p.line("data of       %s", r.DataDate)
	p.line("credit        %s", r.Attribution)
	p.line("network       %d nodes, %d edges of %d roads", r.Nodes, r.Edges, r.Roads)
	p.numbers("km by class", r.KilometresByClass)
	p.numbers("km by place", r.KilometresByJurisdiction)
	p.line("islands       %d, with %d edges, %.1f km, joined to the rest by no road", r.Islands, r.IslandEdges, r.IslandKm)
	p.counts("signs", r.Signs)
	p.counts("over roads", r.Structures)
	p.counts("unmeasured", r.Unmeasured)
	p.counts("on roads", r.Barriers)
	p.line("turn rules    %d relations, %d banned sequences, %d for other traffic, %d dropped", r.Turns.Relations,
		r.Turns.Bans, r.Turns.Others, len(r.Turns.Dropped))
	p.counts("  kinds", r.Turns.Kinds)
	reasons := map[string]int{}
	for _, d := range r.Turns.Dropped {
		reasons[d.Reason]++
	}
	p.counts("  dropped", reasons)
	p.counts("boundaries", r.Boundaries)
	p.counts("places", r.Places)
	p.line("not read      %d values or tags", len(r.Malformed))
	for _, m := range r.Malformed[:min(len(r.Malformed), shown)] {
		likely := ""
		if m.Likely != "" {
			likely = "  (perhaps " + m.Likely + ")"
		}
		if m.Taken != "" {
			likely = "  (read: " + m.Taken + ")"
		}
		p.line("  %s %d  %s=%s%s", m.Type, m.ID, m.Key, m.Value, likely)
	}
	if more := len(r.Malformed) - shown; more > 0 {
		p.line("  and %d more, all of them in the JSON form", more)
	}
	p.line("missing       %d nodes of roads are in no extract", r.MissingNodes)
	p.line("terrain       %.1f km without", r.KilometresClimbUnknown)
	p.line("carries       %s", join(r.Carries))
	p.line("lacks         %s", join(r.Lacks))
	return p.err
}

func join(facts []network.Fact) string {
	var out []string
	for _, f := range facts {
		out = append(out, string(f))
	}
	return strings.Join(out, ", ")
}

type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (p *printer) numbers(title string, m map[string]float64) {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		parts = append(parts, fmt.Sprintf("%s %.1f", k, m[k]))
	}
	p.line("%-13s %s", title, strings.Join(parts, ", "))
}

func (p *printer) counts(title string, m map[string]int) {
	var parts []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		parts = append(parts, fmt.Sprintf("%s %d", k, m[k]))
	}
	p.line("%-13s %s", title, strings.Join(parts, ", "))
}
