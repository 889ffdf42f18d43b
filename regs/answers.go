package regs

import (
	"slices"
	"strings"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/permit"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// A reply is an entry of the log as it bears on one rule in one case.
type reply struct {
	*permit.Contact
	sure    bool         // it surely is about this rig, on some of these roads and at some time on the way
	settles bool         // it says all that is to know of the rule
	hangs   []say.Remark // on what it hangs where it is not sure
}

// tightens reports whether a reply asks for anything, or refuses.
func (r reply) tightens() bool { return r.Outcome != finding.Clear }

// answered lets entries of the log bear on what was found of some rules in a
// jurisdiction and its municipalities.
//
//  1. What is unknown is settled by answers about just that: this rig, within
//     every size that was asked about, all of these roads, every day on which it
//     may be there, given recently or still good.
//  2. What is known is tightened by refusals, reviews and conditions, and never
//     made milder.
//  3. What asks for anything and found nothing to tighten, or is about this case
//     only perhaps, stands beside as a finding of its own.
func (c *checking) answered(code string, found []finding.Finding, rules []finding.Rule) []finding.Finding {
	var beside []finding.Finding
	for _, key := range append([]string{code}, c.townsThatAnswered(code)...) {
		for _, rule := range rules {
			replies := c.replies(key, rule)
			taken := map[string]bool{}
			for i, f := range found {
				if len(replies) > 0 && f.Rule == rule && f.Jurisdiction == key {
					found[i] = c.heed(f, replies, taken)
				}
			}
			for _, r := range replies {
				if r.tightens() && !taken[r.ID] && (r.Outcome == finding.Forbidden || !limit.OfEscorts(rule)) {
					beside = append(beside, c.beside(key, rule, r))
				}
			}
		}
	}
	return append(c.ownersAnswered(code, found), beside...)
}

// townsThatAnswered lists the municipalities of the place with entries in the log.
func (c *checking) townsThatAnswered(code string) []string {
	var out []string
	for _, town := range c.p.Towns {
		if key := c.t.key(code + "/" + town); len(c.t.contacts[key]) > 0 && !slices.Contains(out, key) {
			out = append(out, key)
		}
	}
	slices.Sort(out)
	return out
}

// replies lists the entries of a jurisdiction that bear on a rule.
func (c *checking) replies(key string, rule finding.Rule) []reply {
	var out []reply
	for _, k := range c.t.contacts[c.t.key(key)] {
		if k.Outcome == "" || !slices.Contains(k.Settles, rule) {
			continue
		}
		if r, ok := c.reply(k, rule); ok {
			out = append(out, r)
		}
	}
	return out
}

// reply works out how an entry bears on a rule; ok is false where it does not. A
// refusal holds whatever its sizes and its age.
func (c *checking) reply(k *permit.Contact, rule finding.Rule) (r reply, ok bool) {
	someDay, everyDay := c.holds(k.From, k.Expires)
	about, hangs := k.About(c.v.Subject)
	somewhere, everywhere := k.Over(c.p.Roads)
	if !someDay || about == limit.No || somewhere == limit.No {
		return r, false
	}
	r = reply{Contact: k, hangs: hangs}
	if somewhere == limit.Perhaps {
		r.hangs = append(r.hangs, say.That("answer.roads", "roads", k.Roads.String()))
	}
	if !everyDay && c.p.Until.IsZero() {
		r.hangs = append(r.hangs, say.That("answer.days", "days", rows.Days(k.From, k.Expires)))
	}
	if k.Outcome == finding.Forbidden {
		r.sure = len(r.hangs) == 0
		r.settles = r.sure
		return r, true
	}
	if why := c.beyondAnswer(k, rule); !why.None() {
		r.hangs = append(r.hangs, why)
	}
	r.sure = len(r.hangs) == 0
	r.settles = r.sure && everyDay && everywhere && c.fresh(k) && namesItsRoads(k, rule)
	return r, true
}

// namesItsRoads reports whether an answer says enough of roads for a rule: whose
// they are no jurisdiction answers for all of its roads at once.
func namesItsRoads(k *permit.Contact, rule finding.Rule) bool {
	return rule != permit.RoadOwner || !k.Roads.Any() || strings.Contains(k.Jurisdiction, "/")
}

// fresh reports whether an answer was there before the rig moves, and is still
// good or was given within the term of a row.
func (c *checking) fresh(k *permit.Contact) bool {
	old := rows.Stale(k.AnsweredOn, c.at, c.t.Term) || rows.Stale(k.AnsweredOn, c.last(), c.t.Term)
	return !(k.Expires.IsZero() && old) && !rows.DayOf(c.at).Before(k.AnsweredOn)
}

// beyondAnswer is in what the vehicle is or may be beyond what an office was asked
// about: a size that the entry states is less, or the rig's of one that it does not
// state is not clear there without it.
func (c *checking) beyondAnswer(k *permit.Contact, rule finding.Rule) say.Remark {
	for _, q := range k.Stated() {
		switch c.v.over(q, k.Sizes[q]) {
		case limit.Perhaps:
			return say.That("answer.size_open", "quantity", q, "most", q.Of(k.Sizes[q]))
		case limit.Yes:
			return say.That("answer.size", "quantity", q, "most", q.Of(k.Sizes[q]))
		}
	}
	for _, q := range permit.Rig() {
		if _, stated := k.Sizes[q]; stated {
			continue
		}
		if slices.Contains(permit.Needs(rule), q) || !c.isClear(k.Jurisdiction, q) {
			return say.That("answer.size_unstated", "quantity", q)
		}
	}
	return say.Remark{}
}

// isClear reports whether a quantity is clear by the rows of a jurisdiction, or of
// the one around a municipality, alone.
func (c *checking) isClear(key string, q limit.Quantity) bool {
	code, _, _ := strings.Cut(key, "/")
	found := c.quantity(code, q)
	return len(found) > 0 && !slices.ContainsFunc(found, func(f finding.Finding) bool {
		return f.Outcome != finding.Clear
	})
}

// heed is a finding as replies settle and tighten it: of several the gravest
// counts, and all show. It notes which were taken.
func (c *checking) heed(f finding.Finding, replies []reply, taken map[string]bool) finding.Finding {
	var heard []reply
	if f.Outcome == finding.Unknown {
		if heard = slices.DeleteFunc(slices.Clone(replies), func(r reply) bool { return !r.settles }); len(heard) == 0 {
			return f
		}
		f.Outcome, f.Reason, f.Says = "", "", nil
	}
	for _, r := range replies {
		if r.sure && r.tightens() && !slices.ContainsFunc(heard, func(h reply) bool { return h.Contact == r.Contact }) {
			heard = append(heard, r)
		}
	}
	for _, r := range heard {
		taken[r.ID] = true
	}
	return c.t.heard(f, heard)
}

// heard is a finding after replies that surely bear on it.
func (t *Tables) heard(f finding.Finding, replies []reply) finding.Finding {
	var said []finding.Citation
	for _, r := range replies {
		said = append(said, t.contactRow(r.Contact, say.That("answer.asked", "asked", r.Asked)))
		if r.Condition != "" {
			f.Demands = f.Demands.Union(finding.Demands{Conditions: []say.Remark{say.Text(r.Condition)}})
		}
		if worse := finding.Worse(f.Outcome, r.Outcome); worse != f.Outcome {
			f.Outcome, f.Settles = worse, t.Asks(f.Jurisdiction)
			if worse == finding.Conditional {
				f.SeeTo()
			}
			answer := say.That("answer.says", "rule", f.Rule, "by", r.AnsweredBy, "outcome", r.Outcome,
				"on", say.Day(r.AnsweredOn), "condition", r.Condition)
			if len(f.Says) > 0 {
				f.Says = []say.Remark{answer, say.That("answer.beside", "says", f.Says)}
			} else {
				f.Says = []say.Remark{answer}
			}
		}
	}
	f.Citations = append(said, f.Citations...)
	switch {
	case f.Outcome == finding.Clear:
		f.Settles, f.Reason = nil, ""
	case len(f.Settles) == 0:
		f.Settles = t.Asks(f.Jurisdiction)
	}
	return f
}

// beside is the finding of a reply that no other finding takes in.
func (c *checking) beside(key string, rule finding.Rule, r reply) finding.Finding {
	f := c.t.heard(finding.Finding{Topic: topicOf(rule), Rule: rule, Jurisdiction: key}, []reply{r})
	if !r.sure {
		f.Outcome, f.Reason, f.Settles = finding.Review, finding.Perhaps, c.t.Asks(key)
		f.Says = append(f.Says, say.That("answer.perhaps", "hangs", r.hangs))
	}
	return f
}

// topicOf is what a rule is about that an answer can settle.
func topicOf(rule finding.Rule) finding.Topic {
	switch rule {
	case permit.RoadOwner:
		return finding.Owner
	case permit.Hours:
		return finding.Hours
	}
	return finding.Limit
}

// ownersAnswered settles whose the roads are where they lie in municipalities
// alone and each of them answered for its own.
func (c *checking) ownersAnswered(code string, found []finding.Finding) []finding.Finding {
	i := slices.IndexFunc(found, func(f finding.Finding) bool {
		return f.Rule == permit.RoadOwner && f.Jurisdiction == code && f.Outcome == finding.Unknown
	})
	if i < 0 || len(c.p.Towns) == 0 {
		return found
	}
	var all []reply
	for _, town := range c.p.Towns {
		replies := c.replies(c.t.key(code+"/"+town), permit.RoadOwner)
		replies = slices.DeleteFunc(replies, func(r reply) bool { return !r.settles })
		if town == "" || len(replies) == 0 {
			return found
		}
		all = append(all, replies...)
	}
	found[i] = c.heed(found[i], all, map[string]bool{})
	return found
}
