package wire

import (
	"fmt"

	"wayhouse/regs"
	"wayhouse/regs/say"
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
