// Package compare says in what two answers to one question differ.
package compare

import (
	"cmp"
	"reflect"
	"slices"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// Side is one of two answers.
type Side struct {
	Name     string
	Invented bool
	Verdict  finding.RollUp
	Facts    []Fact // what was asked about and what was worked out, by names that both sides have
	Findings []finding.Finding
}

// Fact is a figure of an answer that is no finding. A value is one that a remark may
// hold; nil is not known.
type Fact struct {
	Name  say.Remark
	Value any
}

// Comparison is in what two sides differ.
type Comparison struct {
	A, B  Side
	Facts []Pair       // that differ, in the order of the sides
	Moved []say.Remark // what moved a figure that others make up
	Rows  []Row        // findings that differ, those that matter most first
	Same  int          // findings that both have alike
}

// Pair is a fact of both sides.
type Pair struct {
	Name         say.Remark
	A, B         any
	OnlyA, OnlyB bool // the other side has no such figure, which is not one that it does not know
}

// Row is a finding of one rule at one place on each side, nil where that side has none.
type Row struct {
	A, B *finding.Finding
}

// Of compares two sides.
func Of(a, b Side) *Comparison {
	out := &Comparison{A: a, B: b, Facts: facts(a.Facts, b.Facts)}
	as, bs := grouped(a.Findings), grouped(b.Findings)
	for _, k := range keys(a.Findings, b.Findings) {
		rows, same := differing(as[k], bs[k])
		out.Rows, out.Same = append(out.Rows, rows...), out.Same+same
	}
	slices.SortStableFunc(out.Rows, func(a, b Row) int { return slices.Compare(b.weight(), a.weight()) })
	return out
}

// facts pairs those of one name, in their order where a side has several.
func facts(a, b []Fact) (out []Pair) {
	left := slices.Clone(b)
	for _, f := range a {
		p := Pair{Name: f.Name, A: f.Value}
		if i := slices.IndexFunc(left, f.named); i >= 0 {
			p.B = left[i].Value
			left = slices.Delete(left, i, i+1)
		} else {
			p.OnlyA = true
		}
		out = append(out, p)
	}
	for _, f := range left {
		out = append(out, Pair{Name: f.Name, B: f.Value, OnlyB: true})
	}
	return slices.DeleteFunc(out, func(p Pair) bool { return !p.OnlyA && !p.OnlyB && reflect.DeepEqual(p.A, p.B) })
}

func (f Fact) named(other Fact) bool { return f.Name.String() == other.Name.String() }

// key is what a finding is about.
type key struct {
	topic        finding.Topic
	rule         finding.Rule
	jurisdiction string
	place        string
}

func keyOf(f finding.Finding) key { return key{f.Topic, f.Rule, f.Jurisdiction, f.Place.String()} }

// keys are what the findings of two sides are about, each once.
func keys(a, b []finding.Finding) (out []key) {
	seen := map[key]bool{}
	for _, f := range slices.Concat(a, b) {
		if k := keyOf(f); !seen[k] {
			seen[k] = true
			out = append(out, k)
		}
	}
	return out
}

// grouped are findings by what they are about; those that say the same, as on two legs
// in one jurisdiction, once.
func grouped(findings []finding.Finding) map[key][]finding.Finding {
	out := map[key][]finding.Finding{}
	for _, f := range findings {
		k := keyOf(f)
		if !slices.ContainsFunc(out[k], alike(f)) {
			out[k] = append(out[k], f)
		}
	}
	return out
}

// alike reports whether findings about one thing answer the same.
func alike(f finding.Finding) func(finding.Finding) bool {
	return func(o finding.Finding) bool {
		return f.Outcome == o.Outcome && f.Reason == o.Reason && f.Value.Equal(o.Value) && f.Margin.Equal(o.Margin) &&
			say.Same(f.Says, o.Says) && f.Figures.String() == o.Figures.String() && reflect.DeepEqual(f.Demands, o.Demands)
	}
}

// differing pairs the findings of both sides about one thing, leaving out those that
// both have: the gravest with the gravest.
func differing(a, b []finding.Finding) (rows []Row, same int) {
	both := func(f finding.Finding) bool { return slices.ContainsFunc(b, alike(f)) }
	only := func(f finding.Finding) bool { return slices.ContainsFunc(a, alike(f)) }
	left, right := slices.DeleteFunc(slices.Clone(a), both), slices.DeleteFunc(slices.Clone(b), only)
	same = len(a) - len(left)
	graver := func(x, y finding.Finding) int { return cmp.Compare(gravity(&y), gravity(&x)) }
	slices.SortStableFunc(left, graver)
	slices.SortStableFunc(right, graver)
	for i := range max(len(left), len(right)) {
		var row Row
		if i < len(left) {
			row.A = &left[i]
		}
		if i < len(right) {
			row.B = &right[i]
		}
		rows = append(rows, row)
	}
	return rows, same
}

// gravity orders outcomes by how much they matter to whoever compares: what forbids,
// then what is not known, which is never clear; 0 for no finding.
func gravity(f *finding.Finding) int {
	if f == nil {
		return 0
	}
	ascending := []finding.Outcome{finding.Clear, finding.Conditional, finding.Review, finding.Unknown, finding.Forbidden}
	if i := slices.Index(ascending, f.Outcome); i >= 0 {
		return i + 1
	}
	return gravity(&finding.Finding{Outcome: finding.Unknown}) // a word that is none of ours
}

// Finding is what a row is about: of the second side where it has one.
func (r Row) Finding() finding.Finding {
	return *cmp.Or(r.B, r.A)
}

// Turns reports whether the outcome differs: a finding that one side alone has turns it
// unless it is clear.
func (r Row) Turns() bool {
	a, b := gravity(r.A), gravity(r.B)
	return a != b && max(a, b) > 1
}

// weight orders rows: outcomes that differ before all else, of these what a side forbids,
// then what both sides answer before what one does, the gravest first; then demands.
func (r Row) weight() []int {
	turns, forbids, both, demands := 0, 0, 0, 0
	if r.Turns() {
		turns = 1
	}
	if r.A != nil && r.B != nil {
		both = 1
		if !reflect.DeepEqual(r.A.Demands, r.B.Demands) {
			demands = 1
		}
	}
	grave := max(gravity(r.A), gravity(r.B))
	if grave == gravity(&finding.Finding{Outcome: finding.Forbidden}) {
		forbids = 1
	}
	return []int{turns, forbids, both, grave, demands}
}
