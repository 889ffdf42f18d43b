package task

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Done is a task of which somebody told the end: that it was seen to, or what an office
// or an expert said. It is about findings as they were then, and about nothing else: one
// that has changed since, be it in one figure, is open again.
type Done struct {
	Task      string
	Says      Word
	Condition string // on which it hangs
	Who       string
	On, Until time.Time // days; Until zero: for the term of a row
	About     []string  // findings, by [Key]
}

// Word is what was told.
type Word string

// The words. Seen is of what is to be seen to, the others are what was answered.
const (
	Seen        Word = "done"
	Clear       Word = Word(finding.Clear)
	Conditional Word = Word(finding.Conditional)
	Forbidden   Word = Word(finding.Forbidden)
)

// Words lists what can be told.
func Words() []Word { return []Word{Seen, Clear, Conditional, Forbidden} }

// Term is the word in words.
func (w Word) Term() say.Code { return say.Word("told", string(w)) }

// Takes reports whether the end of a step is told. Others are fields of a request, rows
// and data, which speak for themselves.
func Takes(by finding.Way) bool {
	return by == finding.Office || by == finding.Expert || by == finding.Meet
}

// Fits reports whether a word tells the end of a step.
func (w Word) Fits(by finding.Way) bool { return Takes(by) && (w == Seen) == (by == finding.Meet) }

// told is the code of what somebody told, which is no part of what a finding is about.
const told say.Code = "told.by"

// Key names a step of a finding by all that it is about: what was asked where, the
// figures, what is said of them and the rows that it rests on.
func Key(f finding.Finding, s finding.Step) string {
	says := slices.DeleteFunc(slices.Clone(f.Says), func(r say.Remark) bool { return r.Code == told })
	sum := sha256.New()
	fmt.Fprintf(sum, "%s\n%s\n%s\n%s\n%s\n%s\n%q\n", f.Topic, f.Rule, f.Jurisdiction, f.Place, f.Value, f.Margin,
		say.Strings(says))
	for _, c := range f.Citations {
		fmt.Fprintf(sum, "%q %q %q\n", c.ID, c.Published, c.Status)
	}
	fmt.Fprintf(sum, "%s\n%s\n%s\n", s.By, s.Of, s.Asks)
	return hex.EncodeToString(sum.Sum(nil)[:5])
}

// Heed lets what was told bear on findings on a day, in the order in which it was told.
func Heed(findings []finding.Finding, done []Done, day time.Time, term time.Duration) {
	for _, d := range done {
		if !d.counts(day, term) {
			continue
		}
		for i := range findings {
			if Counts(findings[i]) {
				d.heed(&findings[i])
			}
		}
	}
}

// counts reports whether it was told by a day, and not too long ago.
func (d Done) counts(day time.Time, term time.Duration) bool {
	today := rows.DayOf(day)
	if !d.Until.IsZero() {
		return !today.Before(d.On) && !today.After(d.Until)
	}
	return !today.Before(d.On) && !rows.Stale(d.On, day, term)
}

// condition is what a step is of that sees to the condition of an answer.
const condition = "condition"

// heed takes the steps that were told of out of the ways of a finding, and puts the
// condition of an answer in their place. One of which a way has no step left is settled.
func (d Done) heed(f *finding.Finding) {
	var left [][]finding.Step
	took, settled := false, false
	for _, way := range f.Settles {
		rest := slices.DeleteFunc(slices.Clone(way), func(s finding.Step) bool {
			return d.Says.Fits(s.By) && slices.Contains(d.About, Key(*f, s))
		})
		if len(rest) < len(way) && d.Condition != "" {
			rest = append(rest, finding.Step{By: finding.Meet, Of: condition, Asks: say.That("task.meet", "rule", f.Rule,
				"where", say.Jurisdiction(f.Jurisdiction), "asks", say.Text(d.Condition))})
		}
		took, settled = took || !slices.EqualFunc(rest, way, same), settled || len(rest) == 0
		left = append(left, rest)
	}
	if !took {
		return
	}
	f.Says = append([]say.Remark{say.That("told.by", "word", d.Says, "who", d.Who, "on", say.Day(d.On),
		"condition", d.Condition)}, f.Says...)
	if d.Says == Seen {
		f.Seen = true
	} else {
		f.Told = finding.Worse(f.Told, finding.Outcome(d.Says))
	}
	if d.Condition != "" {
		f.Demands = f.Demands.Union(finding.Demands{Conditions: []say.Remark{say.Text(d.Condition)}})
	}
	switch {
	case f.Told == finding.Forbidden:
		f.Outcome, f.Reason = finding.Forbidden, ""
	case settled:
		settle(f)
	default:
		f.Settles = left
		if i := slices.IndexFunc(left, conditions); i >= 0 { // no other way makes an answer milder
			f.Outcome, f.Reason, f.Settles = finding.Conditional, "", left[i:i+1]
		}
	}
}

// conditions reports whether all that is left of a way are conditions of answers.
func conditions(way []finding.Step) bool {
	return !slices.ContainsFunc(way, func(s finding.Step) bool { return s.Of != condition })
}

func same(a, b finding.Step) bool {
	return a.By == b.By && a.Of == b.Of && a.Asks.String() == b.Asks.String()
}

// settle answers a finding of which nothing is left to be told. What was seen to is
// allowed with its conditions, never clear, and stays unknown where nobody answered; what
// is known to ask for something goes on asking for it.
func settle(f *finding.Finding) {
	f.Settles = nil
	switch {
	case f.Outcome == finding.Conditional, f.Seen && (f.Outcome == finding.Review || f.Told != ""):
		f.Outcome, f.Reason, f.Met = finding.Conditional, "", true
	case f.Seen:
		f.Met = true
	default:
		f.Outcome, f.Reason = finding.Clear, ""
	}
}
