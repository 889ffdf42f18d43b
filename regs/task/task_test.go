package task

import (
	"fmt"
	"iter"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/say"
)

// on are findings of one leg.
func on(leg int, all ...finding.Finding) iter.Seq2[int, finding.Finding] {
	return func(yield func(int, finding.Finding) bool) {
		for _, f := range all {
			if !yield(leg, f) {
				return
			}
		}
	}
}

func by(way finding.Way, of string) finding.Step { return finding.Step{By: way, Of: of} }

func open(rule finding.Rule, ways ...[]finding.Step) finding.Finding {
	return finding.Finding{Rule: rule, Outcome: finding.Unknown, Settles: ways}
}

func ids(all []Task) (out []string) {
	for _, t := range all {
		out = append(out, t.ID)
	}
	return out
}

// Rows of one source are read together, an office is asked once for all, and what is
// measured, weighed or seen to is one task each.
func TestStepsThatAreOneTask(t *testing.T) {
	row := func(id, source string) finding.Finding {
		f := open("height", []finding.Step{by(finding.Verify, id)})
		f.Citations = []finding.Citation{{ID: id, Source: source}}
		return f
	}
	condition := row("c", "a law")
	condition.Settles = finding.By(by(finding.Confirm, "c"))
	l := Of(on(2, row("a", "a law"), row("b", "another"), condition,
		open("height", []finding.Step{by(finding.Office, "CA-ON")}), open("width", []finding.Step{by(finding.Office, "CA-ON")}),
		open("length", []finding.Step{by(finding.Office, "CA-QC")}),
		open("height", []finding.Step{by(finding.Measure, "unit.height")}), open("width", []finding.Step{by(finding.Measure, "unit.width")}),
		open("kind", []finding.Step{by(finding.Answer, "unit.kind")}), open("use", []finding.Step{by(finding.Answer, "use")}),
	))
	got := ids(l.Tasks)
	want := []string{"answer:unit.kind", "answer:use", "measure", "verify:a", "office:CA-ON", "verify:b", "office:CA-QC"}
	if !slices.Equal(got, want) || len(l.Other) != 0 || l.Open != 10 {
		t.Errorf("tasks %q and %q for %d findings; want %q", got, ids(l.Other), l.Open, want)
	}
	law, _ := l.Find("VERIFY:a")
	if len(law.Asks) != 2 || law.Asks[0].By != finding.Verify || law.Asks[1].By != finding.Confirm || law.Alone != 2 || !slices.Equal(law.Legs, []int{2}) {
		t.Errorf("the law: %+v", law)
	}
	office, _ := l.Find("office:CA-ON")
	if len(office.Asks) != 2 || len(office.Cases) != 2 || office.Asks[0].Says.String() != say.That("task.rule", "rule", finding.Rule("height")).String() {
		t.Errorf("the office: %+v", office)
	}
	if _, found := l.Find("office:CA-MB"); found {
		t.Error("a task of nobody")
	}
}

// Only what is unknown, conditional or for a person to decide is to be done.
func TestWhatCounts(t *testing.T) {
	for outcome, want := range map[finding.Outcome]int{
		finding.Clear: 0, finding.Forbidden: 0, finding.Unknown: 1, finding.Review: 1, finding.Conditional: 1,
	} {
		f := open("height", []finding.Step{by(finding.Office, "CA-ON")})
		f.Outcome = outcome
		if l := Of(on(0, f)); l.Open != want || len(l.Tasks) != want {
			t.Errorf("%s: %d open, %d tasks", outcome, l.Open, len(l.Tasks))
		}
	}
}

// Steps of one way are needed together; of several ways one suffices. The office is asked
// anyway here, so that nobody needs to read the row; the question is asked first, though
// it opens nothing by itself.
func TestFewTasksOpenAll(t *testing.T) {
	kind, office, row, tape := by(finding.Answer, "unit.kind"), by(finding.Office, "CA-ON"), by(finding.Verify, "r"), by(finding.Measure, "h")
	l := Of(on(1,
		open("a", []finding.Step{office}),
		open("b", []finding.Step{row}, []finding.Step{office}),
		open("c", []finding.Step{kind, row}, []finding.Step{kind, office}),
		open("d", []finding.Step{tape}, []finding.Step{by(finding.Expert, "survey")}),
	))
	if got, other := ids(l.Tasks), ids(l.Other); !slices.Equal(got, []string{"answer:unit.kind", "office:CA-ON", "measure"}) ||
		!slices.Equal(other, []string{"verify:r", "expert:survey"}) {
		t.Fatalf("tasks %q, others %q", got, other)
	}
	for i, want := range []struct{ alone, helps, opened int }{{0, 1, 0}, {2, 1, 3}, {1, 0, 4}} {
		if is := l.Tasks[i]; is.Alone != want.alone || is.Helps != want.helps || is.Opened != want.opened {
			t.Errorf("%s: alone %d, helps %d, opened %d; want %+v", is.ID, is.Alone, is.Helps, is.Opened, want)
		}
	}
}

// Against the definition, straight: a finding opens when all steps of a way are done.
// The list opens every finding that has a way, counts right, and nothing loses its task.
func TestTasksOpenEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []finding.Finding
		for i := range rapid.IntRange(1, 12).Draw(t, "findings") {
			var ways [][]finding.Step
			for range rapid.IntRange(1, 3).Draw(t, "ways") {
				var way []finding.Step
				for range rapid.IntRange(1, 3).Draw(t, "steps") {
					way = append(way, by(rapid.SampledFrom([]finding.Way{finding.Answer, finding.Office, finding.Expert, finding.Data}).Draw(t, "by"),
						rapid.SampledFrom([]string{"x", "y"}).Draw(t, "of")))
				}
				ways = append(ways, way)
			}
			all = append(all, open(finding.Rule(fmt.Sprint(i)), ways...))
		}
		l := Of(on(1, all...))
		done := map[string]bool{}
		for i, task := range l.Tasks {
			if i > 0 && task.By == finding.Answer && l.Tasks[i-1].By != finding.Answer {
				t.Fatalf("a question after %s", l.Tasks[i-1].ID)
			}
			done[task.ID] = true
			if want := reckoned(all, done); task.Opened != want {
				t.Fatalf("after %v: %d open no more; want %d", ids(l.Tasks[:i+1]), task.Opened, want)
			}
		}
		if l.Open != len(all) || reckoned(all, done) != len(all) {
			t.Fatalf("%v opens %d of %d, which are counted as %d", ids(l.Tasks), reckoned(all, done), len(all), l.Open)
		}
		for _, task := range slices.Concat(l.Tasks, l.Other) {
			alone := reckoned(all, map[string]bool{task.ID: true})
			if task.Alone != alone || task.Alone+task.Helps != len(task.Cases) || len(task.Cases) == 0 {
				t.Fatalf("%s: alone %d, want %d; helps %d of %d", task.ID, task.Alone, alone, task.Helps, len(task.Cases))
			}
		}
	})
}

// reckoned is how many findings tasks open, by going through every way.
func reckoned(all []finding.Finding, done map[string]bool) (n int) {
	for _, f := range all {
		some := false
		for _, way := range f.Settles {
			every := true
			for _, s := range way {
				every = every && done[string(s.By)+":"+s.Of]
			}
			some = some || every
		}
		if some {
			n++
		}
	}
	return n
}
