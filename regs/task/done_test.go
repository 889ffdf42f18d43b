package task

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

var (
	move = time.Date(2027, 6, 1, 12, 0, 0, 0, time.UTC)
	when = time.Date(2027, 5, 20, 0, 0, 0, 0, time.UTC)
)

const year = 365 * 24 * time.Hour

func ends(word Word, f finding.Finding, steps ...finding.Step) Done {
	d := Done{Task: "a task", Says: word, Who: "J. Doe", On: when}
	if word == Conditional {
		d.Condition = "by day"
	}
	for _, s := range steps {
		d.About = append(d.About, Key(f, s))
	}
	return d
}

// What was told bears on a finding by all steps of one of its ways, and never makes clear
// what is known to ask for something, or what was only seen to.
func TestHeed(t *testing.T) {
	office, other, see, row := by(finding.Office, "CA-ON"), by(finding.Office, "CA-QC"), by(finding.Meet, ""), by(finding.Verify, "r")
	of := func(o finding.Outcome, ways ...[]finding.Step) finding.Finding {
		f := open("width", ways...)
		f.Outcome, f.Says = o, []say.Remark{say.Text("2.6 m")}
		return f
	}
	asked := of(finding.Unknown, []finding.Step{office})
	for name, tc := range map[string]struct {
		f       finding.Finding
		done    []Done
		outcome finding.Outcome
		open    bool
	}{
		"nobody told":                     {asked, nil, finding.Unknown, true},
		"an office, clear":                {asked, []Done{ends(Clear, asked, office)}, finding.Clear, false},
		"an office, with conditions":      {asked, []Done{ends(Conditional, asked, office)}, finding.Conditional, true},
		"an office, forbidden":            {asked, []Done{ends(Forbidden, asked, office)}, finding.Forbidden, false},
		"of another office":               {asked, []Done{ends(Clear, asked, other)}, finding.Unknown, true},
		"an office's question as seen to": {asked, []Done{ends(Seen, asked, office)}, finding.Unknown, true},
		"for a person, clear":             {of(finding.Review, []finding.Step{office}), []Done{ends(Clear, asked, office)}, finding.Clear, false},
		"a permit, clear":                 {of(finding.Conditional, []finding.Step{office}), []Done{ends(Clear, asked, office)}, finding.Conditional, false},
		"a permit, forbidden":             {of(finding.Conditional, []finding.Step{office}), []Done{ends(Forbidden, asked, office)}, finding.Forbidden, false},
		"seen to":                         {of(finding.Conditional, []finding.Step{see}), []Done{ends(Seen, asked, see)}, finding.Conditional, false},
		"seen to, for a person":           {of(finding.Review, []finding.Step{see}), []Done{ends(Seen, asked, see)}, finding.Conditional, false},
		"seen to, as an answer":           {of(finding.Conditional, []finding.Step{see}), []Done{ends(Clear, asked, see)}, finding.Conditional, true},
		"one of two steps":                {of(finding.Unknown, []finding.Step{office, other}), []Done{ends(Clear, asked, office)}, finding.Unknown, true},
		"one of two, forbidden":           {of(finding.Unknown, []finding.Step{office, other}), []Done{ends(Forbidden, asked, office)}, finding.Forbidden, false},
		"both steps":                      {of(finding.Unknown, []finding.Step{office, other}), []Done{ends(Clear, asked, office), ends(Clear, asked, other)}, finding.Clear, false},
		"both, one with conditions":       {of(finding.Unknown, []finding.Step{office, other}), []Done{ends(Conditional, asked, office), ends(Clear, asked, other)}, finding.Conditional, true},
		"one of two ways":                 {of(finding.Unknown, []finding.Step{row}, []finding.Step{office}), []Done{ends(Clear, asked, office)}, finding.Clear, false},
		"told after the move":             {asked, []Done{func() Done { d := ends(Clear, asked, office); d.On = move.AddDate(0, 0, 2); return d }()}, finding.Unknown, true},
		"told long ago":                   {asked, []Done{func() Done { d := ends(Clear, asked, office); d.On = move.AddDate(-2, 0, 0); return d }()}, finding.Unknown, true},
		"until the day before":            {asked, []Done{func() Done { d := ends(Clear, asked, office); d.Until = move.AddDate(0, 0, -1); return d }()}, finding.Unknown, true},
		"until that day": {asked, []Done{func() Done {
			d := ends(Clear, asked, office)
			d.Until = time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC)
			return d
		}()}, finding.Clear, false},
	} {
		list := []finding.Finding{tc.f}
		Heed(list, tc.done, move, year)
		if f := list[0]; f.Outcome != tc.outcome || Counts(f) != tc.open {
			t.Errorf("%s: %s, open %t, settled by %v; want %s, %t", name, f.Outcome, Counts(f), f.Settles, tc.outcome, tc.open)
		}
	}
}

// A condition of an answer is to be seen to, and once it was nothing is left.
func TestConditionsOfAnswersAreSeenTo(t *testing.T) {
	office := by(finding.Office, "CA-ON")
	f := open("width", []finding.Step{office})
	first := ends(Conditional, f, office)
	list := []finding.Finding{f}
	Heed(list, []Done{first}, move, year)
	l := Of(on(1, list...))
	if len(l.Tasks) != 1 || l.Tasks[0].ID != "meet" || len(l.Tasks[0].Asks[0].About) != 1 {
		t.Fatalf("tasks %+v", l.Tasks)
	}
	second := Done{Task: "meet", Says: Seen, Who: "the driver", On: when, About: l.Tasks[0].Asks[0].About}
	list = []finding.Finding{f}
	Heed(list, []Done{first, second}, move, year)
	if l := Of(on(1, list...)); l.Open != 0 || l.Told != 1 || list[0].Outcome != finding.Conditional || !list[0].Met {
		t.Errorf("%+v of %+v", l, list[0])
	}
}

// Whatever changes in a finding opens it again.
func TestAnAnswerIsAboutWhatWasAsked(t *testing.T) {
	office := by(finding.Office, "CA-ON")
	was := open("width", []finding.Step{office})
	was.Jurisdiction, was.Says, was.Citations = "CA-ON", []say.Remark{say.Text("2.6 m")}, []finding.Citation{{ID: "r", Published: "2.6 m"}}
	for name, change := range map[string]func(*finding.Finding){
		"rule":   func(f *finding.Finding) { f.Rule = "height" },
		"where":  func(f *finding.Finding) { f.Jurisdiction = "CA-QC" },
		"place":  func(f *finding.Finding) { f.Place = say.Text("a bridge") },
		"figure": func(f *finding.Finding) { f.Value = finding.Of(2 * measure.Metre) },
		"words":  func(f *finding.Finding) { f.Says = []say.Remark{say.Text("2.5 m")} },
		"row":    func(f *finding.Finding) { f.Citations = []finding.Citation{{ID: "r", Published: "2.5 m"}} },
		"asks": func(f *finding.Finding) {
			f.Settles = finding.By(finding.Step{By: finding.Office, Of: "CA-ON", Asks: say.Text("more")})
		},
	} {
		is := was
		change(&is)
		list := []finding.Finding{is}
		Heed(list, []Done{ends(Clear, was, office)}, move, year)
		if list[0].Outcome != finding.Unknown {
			t.Errorf("another %s: %s", name, list[0].Outcome)
		}
	}
}

// The end of every task of a list leaves no finding open that it opens, changes none that
// it is not about, and says no known demand away. The order does not matter.
func TestEndsOfTasks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []finding.Finding
		for i := range rapid.IntRange(1, 8).Draw(t, "findings") {
			var way []finding.Step
			for range rapid.IntRange(1, 3).Draw(t, "steps") {
				way = append(way, by(rapid.SampledFrom([]finding.Way{finding.Office, finding.Expert, finding.Meet, finding.Data}).Draw(t, "by"),
					rapid.SampledFrom([]string{"x", "y"}).Draw(t, "of")))
			}
			f := open(finding.Rule(fmt.Sprint(i)), way)
			f.Outcome = rapid.SampledFrom([]finding.Outcome{finding.Unknown, finding.Review, finding.Conditional}).Draw(t, "outcome")
			all = append(all, f)
		}
		var done []Done
		for _, task := range Of(on(1, all...)).Tasks {
			word := Clear
			if task.By == finding.Meet {
				word = Seen
			}
			for _, ask := range task.Asks {
				if Takes(ask.By) {
					done = append(done, Done{Task: task.ID, Says: word, Who: "J. Doe", On: when, About: ask.About})
				}
			}
		}
		done = rapid.Permutation(done).Draw(t, "order")
		after := slices.Clone(all)
		Heed(after, done, move, year)
		for i, f := range after {
			data := slices.ContainsFunc(all[i].Settles[0], func(s finding.Step) bool { return s.By == finding.Data })
			meets := slices.ContainsFunc(all[i].Settles[0], func(s finding.Step) bool { return s.By == finding.Meet })
			switch {
			case data != Counts(f):
				t.Fatalf("%+v became %+v", all[i], f)
			case (meets || data || all[i].Outcome == finding.Conditional) && f.Outcome == finding.Clear:
				t.Fatalf("%+v became clear", all[i])
			case f.Outcome != finding.Clear && !data && !f.Met:
				t.Fatalf("%+v is neither clear nor met", f)
			}
		}
	})
}
