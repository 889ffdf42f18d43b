package regs

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Told is what somebody who knows the law said of a row of limits: whether it is about
// this vehicle, with the condition that it states. It settles what a person had to read
// and what the words of the row leave open of the vehicle, and nothing else: a row that
// was not verified clears no more than before.
type Told struct {
	Row   string
	Holds bool // else the row is not about this vehicle
	Who   string
	On    time.Time // the day
}

// told is what was said of a row before the vehicle moves, and recently enough. Of
// several the last counts.
func (c *checking) told(r *limit.Row) (last Told, ok bool) {
	term := c.t.Term
	if r.Term > 0 {
		term = r.Term
	}
	for _, t := range c.v.Told {
		if t.Row == r.ID && !t.On.Before(last.On) && !rows.DayOf(c.at).Before(t.On) &&
			!rows.Stale(t.On, c.at, term) && !rows.Stale(t.On, c.last(), term) {
			last, ok = t, true
		}
	}
	return last, ok
}

// settled is a row that holds for the vehicle, as somebody said: nothing of it is left to
// read, and it hangs on nothing of the vehicle.
func settled(r *limit.Row) *limit.Row {
	out := *r
	out.Condition, out.Tires = "", limit.TireTest{}
	return &out
}

// dismissed lists the rows of a quantity that somebody said are not about the vehicle:
// they show beside, and decide nothing.
func (c *checking) dismissed(code string, q limit.Quantity) []finding.Citation {
	var out []finding.Citation
	for _, key := range []string{code, country(code)} {
		for _, r := range c.t.rows[key][q] {
			if t, ok := c.told(r); ok && !t.Holds && r.InForce(c.at) {
				out = append(out, c.t.cited(r, false, []say.Remark{t.says()}))
			}
		}
	}
	return out
}

// Answers is whether the row holds, as a remark.
func (t Told) Answers() say.Remark {
	if t.Holds {
		return say.That("answer.holds", "who", t.Who)
	}
	return say.That("answer.holds_not", "who", t.Who)
}

// says is who said it, and when.
func (t Told) says() say.Remark {
	if t.Holds {
		return say.That("row.told_holds", "who", t.Who, "on", say.Day(t.On))
	}
	return say.That("row.told_not", "who", t.Who, "on", say.Day(t.On))
}
