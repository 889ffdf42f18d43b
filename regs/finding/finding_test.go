package finding

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"wayhouse/regs/say"

	"pgregory.net/rapid"
)

func TestWorse(t *testing.T) {
	for _, tc := range []struct{ a, b, want Outcome }{
		{Clear, Clear, Clear},
		{Clear, Conditional, Conditional},
		{Clear, Review, Review},
		{Clear, Forbidden, Forbidden},
		{Conditional, Review, Review},
		{Conditional, Forbidden, Forbidden},
		{Review, Forbidden, Forbidden},
		// Unknown is no degree of gravity: whatever is known beside it stays.
		{Unknown, Clear, Clear},
		{Unknown, Conditional, Conditional},
		{Unknown, Review, Review},
		{Unknown, Forbidden, Forbidden},
		{Unknown, Unknown, Unknown},
	} {
		for _, got := range []Outcome{Worse(tc.a, tc.b), Worse(tc.b, tc.a)} {
			if got != tc.want {
				t.Errorf("worse of %q and %q = %q, want %q", tc.a, tc.b, got, tc.want)
			}
		}
	}
}

func TestStatus(t *testing.T) {
	for _, tc := range []struct {
		s              Status
		trusted, valid bool
	}{
		{Published, true, true},
		{Verified, true, true},
		{Secondary, false, true},
		{Memory, false, true},
		{Invented, false, true},
		{"", false, false},
		{"Published", false, false},
		{"rumour", false, false},
	} {
		if tc.s.Trusted() != tc.trusted || tc.s.Valid() != tc.valid {
			t.Errorf("%q: trusted %v, valid %v; want %v, %v", tc.s, tc.s.Trusted(), tc.s.Valid(), tc.trusted, tc.valid)
		}
	}
}

// demands draws demands as they come from rows and roll-ups: no list says a
// thing twice.
func demands(t *rapid.T, name string) Demands {
	list := func(what string) []say.Remark {
		return say.Each(rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b", "c", "d"}), 0, 3, rapid.ID).Draw(t, name+" "+what))
	}
	escorts := rapid.IntRange(0, 3)
	return Demands{
		Permits: list("permits"), Hours: list("hours"), Conditions: list("conditions"),
		EscortsFront: escorts.Draw(t, name+" front"), EscortsRear: escorts.Draw(t, name+" rear"), EscortsAny: escorts.Draw(t, name+" any"),
		HeightPole: rapid.Bool().Draw(t, name+" pole"), Survey: rapid.Bool().Draw(t, name+" survey"),
	}
}

// ordered returns the same demands with sorted lists, empty ones as nil, so
// that two can be compared whatever the order they were added up in.
func ordered(d Demands) Demands {
	for _, list := range []*[]say.Remark{&d.Permits, &d.Hours, &d.Conditions} {
		*list = slices.SortedFunc(slices.Values(*list), func(a, b say.Remark) int { return strings.Compare(a.String(), b.String()) })
	}
	return d
}

func same(t *rapid.T, law string, got, want Demands) {
	if !reflect.DeepEqual(ordered(got), ordered(want)) {
		t.Fatalf("%s: got %+v, want %+v", law, ordered(got), ordered(want))
	}
}

func TestUnionLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := demands(t, "a"), demands(t, "b"), demands(t, "c")
		same(t, "commutative", a.Union(b), b.Union(a))
		same(t, "associative", a.Union(b).Union(c), a.Union(b.Union(c)))
		same(t, "idempotent", a.Union(a), a)
		same(t, "nothing added", a.Union(Demands{}), a)
		same(t, "nothing to add to", Demands{}.Union(a), a)
	})
}

// Meeting the union meets each part, so nothing that one rule asks gets lost.
func TestUnionHoldsBoth(t *testing.T) {
	holds := func(all, part []say.Remark) bool {
		said := say.Strings(all)
		return !slices.ContainsFunc(part, func(r say.Remark) bool { return !slices.Contains(said, r.String()) })
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := demands(t, "a"), demands(t, "b")
		u := a.Union(b)
		for _, part := range []Demands{a, b} {
			switch {
			case !holds(u.Permits, part.Permits), !holds(u.Hours, part.Hours), !holds(u.Conditions, part.Conditions):
				t.Fatalf("%+v lost a text of %+v", u, part)
			case u.EscortsFront < part.EscortsFront, u.EscortsRear < part.EscortsRear, u.EscortsAny < part.EscortsAny:
				t.Fatalf("%+v has fewer escorts than %+v", u, part)
			case part.HeightPole && !u.HeightPole, part.Survey && !u.Survey:
				t.Fatalf("%+v lost the pole or the survey of %+v", u, part)
			}
		}
	})
}

// Every text stands once, whichever side says it twice, and an empty one says
// nothing.
func TestUnionSaysEachOnce(t *testing.T) {
	for name, tc := range map[string]struct{ a, b, want []string }{
		"the same on both sides": {[]string{"x"}, []string{"x"}, []string{"x"}},
		"twice on the right":     {nil, []string{"x", "x"}, []string{"x"}},
		"twice on the left":      {[]string{"x", "x"}, nil, []string{"x"}},
		"empty on the right":     {[]string{"x"}, []string{""}, []string{"x"}},
		"empty on the left":      {[]string{""}, []string{"x"}, []string{"x"}},
		"order as first said":    {[]string{"y", "x"}, []string{"z", "x"}, []string{"y", "x", "z"}},
	} {
		got := say.Strings(Demands{Permits: say.Each(tc.a)}.Union(Demands{Permits: say.Each(tc.b)}).Permits)
		if !slices.Equal(got, tc.want) {
			t.Errorf("%s: %q and %q make %q, want %q", name, tc.a, tc.b, got, tc.want)
		}
	}
}

// A union that wrote into its arguments would change the demands of a shared
// row for everybody.
func TestUnionLeavesItsArgumentsAlone(t *testing.T) {
	room := append(make([]say.Remark, 0, 8), say.Text("x"))
	a := Demands{Permits: room}
	first, second := a.Union(Demands{Permits: []say.Remark{say.Text("y")}}), a.Union(Demands{Permits: []say.Remark{say.Text("z")}})
	if want := []string{"x", "y"}; !slices.Equal(say.Strings(first.Permits), want) {
		t.Errorf("the first union became %q after the second, want %q", first.Permits, want)
	}
	if want := []string{"x", "z"}; !slices.Equal(say.Strings(second.Permits), want) || len(a.Permits) != 1 {
		t.Errorf("second %q, argument %q; want %q, one entry", second.Permits, a.Permits, want)
	}
}

func of(outcomes ...Outcome) []Finding {
	var out []Finding
	for _, o := range outcomes {
		out = append(out, Finding{Outcome: o})
	}
	return out
}

func TestRoll(t *testing.T) {
	for name, tc := range map[string]struct {
		findings []Finding
		unknowns int
		want     Outcome
	}{
		"nothing asked":         {nil, 1, Unknown},
		"an empty list":         {[]Finding{}, 1, Unknown},
		"clear":                 {of(Clear), 0, Clear},
		"all clear":             {of(Clear, Clear, Clear), 0, Clear},
		"unknown":               {of(Unknown), 1, Unknown},
		"one of many unknown":   {of(Clear, Unknown, Clear), 1, Unknown},
		"conditional":           {of(Clear, Conditional), 0, Conditional},
		"conditional, unknowns": {of(Unknown, Conditional, Unknown), 2, Conditional},
		"review over both":      {of(Conditional, Review, Clear, Unknown), 1, Review},
		"forbidden over all":    {of(Unknown, Forbidden, Review, Conditional, Clear), 1, Forbidden},
	} {
		r := Roll(tc.findings)
		if got := r.Outcome(); got != tc.want || r.Unknowns != tc.unknowns {
			t.Errorf("%s: %q with %d unknowns, want %q with %d", name, got, r.Unknowns, tc.want, tc.unknowns)
		}
	}
}

// Absence is unknown: a finding whose outcome nobody set, or set to a word
// that is none of ours, must not read as clear.
func TestRollOfAnUnsetOutcomeIsNotClear(t *testing.T) {
	for name, findings := range map[string][]Finding{
		"unset":              {{}},
		"unset beside clear": {{Outcome: Clear}, {}},
		"no word of ours":    of("ok"),
	} {
		if got := Roll(findings).Outcome(); got == Clear {
			t.Errorf("%s: rolls up as %q", name, got)
		}
	}
	if got := (RollUp{}).Outcome(); got == Clear {
		t.Errorf("a roll-up of nothing says %q", got)
	}
}

func TestRollLaws(t *testing.T) {
	outcome := rapid.SampledFrom([]Outcome{Clear, Conditional, Review, Forbidden, Unknown})
	one := rapid.Custom(func(t *rapid.T) Finding {
		return Finding{Outcome: outcome.Draw(t, "outcome"), Demands: demands(t, "finding")}
	})
	rapid.Check(t, func(t *rapid.T) {
		findings := rapid.SliceOfN(one, 1, 6).Draw(t, "findings")
		r := Roll(findings)
		unclear := slices.ContainsFunc(findings, func(f Finding) bool { return f.Outcome != Clear })
		if (r.Outcome() == Clear) == unclear {
			t.Fatalf("%v rolls up as %q", findings, r.Outcome())
		}
		backwards := slices.Clone(findings)
		slices.Reverse(backwards)
		b := Roll(backwards)
		if b.Worst != r.Worst || b.Unknowns != r.Unknowns {
			t.Fatalf("in the other order: %q %d, want %q %d", b.Worst, b.Unknowns, r.Worst, r.Unknowns)
		}
		same(t, "order of findings", b.Demands, r.Demands)
	})
}
