package timetable

import (
	"time"

	"wayhouse/regs/say"
)

// On are the entries of a day.
func (t *Table) On(d Day) []Entry { return t.Entries[d.First : d.Last+1] }

// Driven is when the first driving of some entries begins and when the last is over; ok is
// false where there is none.
func Driven(of []Entry) (from time.Time, to Moment, ok bool) {
	for _, e := range of {
		if e.Kind != Driving {
			continue
		}
		if !ok {
			from, ok = e.From, true
		}
		to = Moment{Slow: e.To, Likely: e.Likely}
	}
	return from, to, ok
}

// Term is the word of a kind.
func (k Kind) Term() say.Code { return say.Word("entry", string(k)) }

// Term is the word of what makes the rig stand.
func (w Why) Term() say.Code { return say.Word("stands_for", string(w)) }

// Term is the word of what is tried.
func (r Remedying) Term() say.Code { return say.Word("remedy", string(r)) }
