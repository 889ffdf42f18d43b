package compare

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func at(jurisdiction string, outcome finding.Outcome, margin measure.Length) finding.Finding {
	return finding.Finding{
		Topic: finding.Limit, Rule: "height", Jurisdiction: jurisdiction, Outcome: outcome, Margin: finding.Of(margin),
		Says: []say.Remark{say.Text("said")},
	}
}

func side(findings ...finding.Finding) Side { return Side{Findings: findings} }

// Outcomes that turn come first, the gravest before all, then what demands differ in,
// then figures; what both have alike is counted alone.
func TestRowsInOrder(t *testing.T) {
	escorted := at("E", finding.Conditional, 1)
	escorted.Demands.EscortsRear = 1
	a := side(
		at("A", finding.Clear, 1),
		at("B", finding.Clear, 1),
		at("C", finding.Clear, 1),
		at("D", finding.Conditional, 1),
		at("E", finding.Conditional, 1),
		at("F", finding.Review, 1),
		at("G", finding.Conditional, 1),
	)
	b := side(
		at("A", finding.Clear, 1),
		at("B", finding.Clear, 2),
		at("C", finding.Unknown, 1),
		at("D", finding.Forbidden, 1),
		escorted,
		at("H", finding.Review, 1),
		at("G", finding.Conditional, 2),
	)
	c := Of(a, b)
	var got []string
	for _, r := range c.Rows {
		got = append(got, r.Finding().Jurisdiction)
	}
	if want := []string{"D", "C", "F", "H", "E", "G", "B"}; !slices.Equal(got, want) || c.Same != 1 {
		t.Errorf("%q, %d alike; want %q, 1", got, c.Same, want)
	}
	if c.Rows[2].B != nil || c.Rows[3].A != nil || !c.Rows[3].Turns() || c.Rows[4].Turns() {
		t.Errorf("%+v", c.Rows)
	}
}

// One rule may answer more than once at one place: what both sides have is left out and
// the gravest of the rest stand side by side.
func TestSeveralOfOneRule(t *testing.T) {
	a := side(at("A", finding.Clear, 1), at("A", finding.Clear, 1), at("A", finding.Clear, 2))
	b := side(at("A", finding.Clear, 2), at("A", finding.Review, 1), at("A", finding.Forbidden, 1))
	c := Of(a, b)
	if len(c.Rows) != 2 || c.Same != 1 || c.Rows[0].A == nil || c.Rows[0].B.Outcome != finding.Forbidden ||
		c.Rows[1].A != nil {
		t.Errorf("%d alike, %+v", c.Same, c.Rows)
	}
}

// A fact is compared by its name; one that a side has not is not one that it does not know.
func TestFacts(t *testing.T) {
	fact := func(name string, value any) Fact { return Fact{say.Text(name), value} }
	c := Of(
		Side{Facts: []Fact{fact("height", 4*measure.Metre), fact("width", nil), fact("use", "private"), fact("mass", nil)}},
		Side{
			Facts: []Fact{
				fact("width", 3*measure.Metre),
				fact("height", 4*measure.Metre),
				fact("escorts", 1),
				fact("mass", nil),
			},
		},
	)
	want := []Pair{
		{Name: say.Text("width"), B: 3 * measure.Metre}, {Name: say.Text("use"), A: "private", OnlyA: true},
		{Name: say.Text("escorts"), B: 1, OnlyB: true},
	}
	if !slices.EqualFunc(c.Facts, want, func(a, b Pair) bool {
		return a.Name.String() == b.Name.String() && a.A == b.A && a.B == b.B && a.OnlyA == b.OnlyA && a.OnlyB == b.OnlyB
	}) {
		t.Errorf("%+v", c.Facts)
	}
}

// Of several facts of one name the n-th is compared with the n-th, so that nothing differs
// from itself.
func TestFactsOfOneName(t *testing.T) {
	both := []Fact{{say.Text("haulage"), 250}, {say.Text("haulage"), 300}}
	if c := Of(Side{Facts: both}, Side{Facts: both}); len(c.Facts) != 0 {
		t.Errorf("%+v", c.Facts)
	}
	c := Of(
		Side{Facts: both},
		Side{Facts: append([]Fact{{say.Text("haulage"), 250}}, Fact{say.Text("haulage"), 310}, both[0])},
	)
	if len(c.Facts) != 2 || c.Facts[0].A != 300 || c.Facts[0].B != 310 || c.Facts[1].A != nil {
		t.Errorf("%+v", c.Facts)
	}
}

func findings(t *rapid.T, name string) []finding.Finding {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) finding.Finding {
		return at(
			rapid.SampledFrom([]string{"A", "B", "C"}).Draw(t, "jurisdiction"),
			rapid.SampledFrom(append(finding.Outcomes(), "odd")).
				Draw(t, "outcome"),
			measure.Length(rapid.IntRange(0, 2).Draw(t, "margin")),
		)
	}), 0, 12).Draw(t, name)
}

// Nothing differs from itself, what stands on either side is in a row or alike, the
// other way round the rows are the same with their sides changed, and no row that turns
// stands behind one that does not.
func TestNothingIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := side(findings(t, "a")...), side(findings(t, "b")...)
		if c := Of(a, a); len(c.Rows) != 0 {
			t.Fatalf("%+v differ from themselves", c.Rows)
		}
		c, back := Of(a, b), Of(b, a)
		if len(c.Rows) != len(back.Rows) || c.Same != back.Same {
			t.Fatalf("%d rows, %d alike; back %d and %d", len(c.Rows), c.Same, len(back.Rows), back.Same)
		}
		lefts := 0
		for i, r := range c.Rows {
			if r.A != nil {
				lefts++
			}
			if i > 0 && r.Turns() && !c.Rows[i-1].Turns() {
				t.Fatalf("%+v stands behind %+v", r, c.Rows[i-1])
			}
			if r.A != nil && r.B != nil && alike(*r.A)(*r.B) {
				t.Fatalf("%+v are alike", r)
			}
		}
		for _, f := range a.Findings {
			kept := slices.ContainsFunc(b.Findings, alike(f)) ||
				slices.ContainsFunc(c.Rows, func(r Row) bool { return r.A != nil && alike(f)(*r.A) })
			if !kept {
				t.Fatalf("%+v is lost", f)
			}
		}
		if once := len(slices.Concat(slicesOf(grouped(a.Findings))...)); lefts+c.Same != once {
			t.Fatalf("%d in rows and %d alike of %d", lefts, c.Same, once)
		}
	})
}

func slicesOf(m map[key][]finding.Finding) (out [][]finding.Finding) {
	for _, v := range m {
		out = append(out, v)
	}
	return out
}
