package wire

import (
	"fmt"

	"wayhouse/regs"
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
			r.fail(field+".row", q.Row, "is no row of the limits", "give the id of one, as findings name it")
		}
		if !r.now.IsZero() && t.On.After(r.now.AddDate(0, 0, 1)) {
			r.fail(field+".said_on", q.On, "lies in the future", "give the day of the answer")
		}
		for _, before := range out {
			if before.Row == t.Row && before.On.Equal(t.On) && before.Holds != t.Holds {
				r.fail(field+".holds", t.Holds, "is another answer of the same day", "keep the one that counts")
			}
		}
		out = append(out, t)
	}
	return out
}

// combined refuses a combination that the coupling excludes.
func (r *reader) combined(u rig.Unit) {
	if by := u.Coupling.Form(); by != "" && u.Combination != "" && by != u.Combination {
		r.fail("unit.combination", string(u.Combination), "is not what the coupling "+string(u.Coupling)+" makes it, a "+string(by),
			"leave it out, or give another coupling")
	}
}
