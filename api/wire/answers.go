package wire

import (
	"fmt"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/task"
	"wayhouse/routing/rig"
)

// told reads what was said of rows. A row that the tables do not have, a day that is not
// yet and a row of which two entries say different things on one day are refused.
func (r *reader) told(in []AnswerRequest) []regs.Told {
	var out []regs.Told
	for i, q := range in {
		field := fmt.Sprintf("unit.answers[%d]", i)
		t := regs.Told{Row: q.Row, Holds: q.Holds != nil && *q.Holds, Who: q.Who, On: r.date(field+".said_on", q.On)}
		if r.tables != nil && !r.tables.HasLimit(q.Row) {
			r.fail(field+".row", q.Row, say.That("error.no_row_of_the"), say.That("fix.give_the_id_of"))
		}
		if !r.now.IsZero() && t.On.After(r.now.AddDate(0, 0, 1)) {
			r.fail(field+".said_on", q.On, say.That("error.lies_in_the_future"), say.That("fix.give_the_day_of_the"))
		}
		for _, before := range out {
			if before.Row == t.Row && before.On.Equal(t.On) && before.Holds != t.Holds {
				r.fail(field+".holds", t.Holds, say.That("error.another_answer_of_the"), say.That("fix.keep_the_one_that"))
			}
		}
		out = append(out, t)
	}
	return out
}

// done reads what was told of tasks. A word that does not tell the end of such a task, and
// a condition that stands without one, are refused.
func (r *reader) done(list string, in []DoneRequest) []task.Done {
	var out []task.Done
	for i, q := range in {
		field := fmt.Sprintf("%s[%d]", list, i)
		d := task.Done{
			Task: q.Task, Says: task.Word(q.Says), Condition: q.Condition, Who: q.Who,
			On: r.date(field+".said_on", q.On), About: q.About,
		}
		if q.Until != "" {
			d.Until = r.date(field+".until", q.Until)
		}
		by, _, _ := strings.Cut(q.Task, ":")
		switch {
		case !task.Takes(finding.Way(by)):
			r.fail(field+".task", q.Task, say.That("error.no_end_is_told"), say.That("fix.tasks_that_end"))
		case !d.Says.Fits(finding.Way(by)):
			r.fail(field+".says", string(d.Says), say.That("error.tells_no_end", "task", q.Task),
				say.That("fix.words_that_end", "seen", string(task.Seen), "words", rows.Texts(task.Words()[1:])))
		case (d.Says == task.Conditional) != (d.Condition != ""):
			r.fail(field+".condition", q.Condition, say.That("error.condition_or_none"), say.That("fix.condition_or_none"))
		case !r.now.IsZero() && d.On.After(r.now.AddDate(0, 0, 1)):
			r.fail(field+".said_on", q.On, say.That("error.lies_in_the_future"), say.That("fix.give_the_day_of_the"))
		case !d.Until.IsZero() && d.Until.Before(d.On):
			r.fail(field+".until", q.Until, say.That("error.before_said_on"), say.That("fix.check_both_days"))
		}
		out = append(out, d)
	}
	return out
}

// combined refuses a combination that the coupling excludes.
func (r *reader) combined(u rig.Unit) {
	if by := u.Coupling.Form(); by != "" && u.Combination != "" && by != u.Combination {
		r.fail(
			"unit.combination",
			string(u.Combination),
			say.That("error.combination", "coupling", string(u.Coupling), "makes", by),
			say.That("fix.leave_it_out_or_give"),
		)
	}
}
