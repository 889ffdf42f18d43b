package clearance

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Case is a passage of a rig on one of some days.
type Case struct {
	Body
	Allowances
	From, Until time.Time // first and last day on which it may pass, on the clock of the place
	Term        time.Duration
	Letters     []*Letter // of the authority, about the structure
}

// Through works out how a rig passes a structure: under it, beside it, over it,
// and whether the road is open. The gravest answer counts, and the passage says
// the others. ok is false where the structure does not bind on those days; one
// whose row ended before is unmeasured.
//
// Of several days the strictest counts.
func Through(s Structure, c Case) (p Passage, ok bool) {
	if !s.Binds(c.From, c.Until) {
		return expired(s), s.Expired(c.From)
	}
	switch height, _ := s.Figure(); {
	case height == nil && s.OpenAbove():
		p.Outcome, p.Reason = c.trusted(s)
	default:
		p = c.under(s)
	}
	for _, part := range []part{c.beside(s), c.over(s), c.closed(s), words(s.Words), words(s.Wind)} {
		if part.says.None() {
			continue
		}
		p.Others = append(p.Others, part.says)
		if worse := graver(p.Outcome, part.outcome); worse != p.Outcome {
			p.Outcome, p.Reason = worse, part.reason
		}
	}
	if p.Outcome == finding.Clear && s.Expired(c.Until) {
		p.Outcome, p.Reason, p.Why = finding.Unknown, finding.Stale, expired(s).Why
	}
	if _, all := rows.Holds(s.From, s.Until, c.From, c.Until); s.Closed && !all && s.Doubt == "" {
		p.Shut = &Days{s.From, s.Until}
	}
	if s.Doubt != "" {
		p.Outcome, p.Reason = doubtful(p.Outcome), finding.Perhaps
		p.Others = append(p.Others, say.Text(s.Doubt))
	}
	return p, true
}

// expired is the passage of a structure whose row ended: it still stands, and is
// as good as unmeasured.
func expired(s Structure) Passage {
	return Passage{
		Outcome: finding.Unknown, Reason: finding.Stale,
		Why: say.That("passage.row_ended", "until", say.Day(s.Until)),
	}
}

// Days are the first and the last of some days, zero where not stated.
type Days struct{ First, Last time.Time }

// Cover reports whether they are all of those from one moment to another.
func (d Days) Cover(from, until time.Time) bool {
	_, all := rows.Holds(d.First, d.Last, from, until)
	return all
}

// When writes the days as a condition that [window.ParseCondition] reads.
func (d Days) When() string {
	first, last := "2000 Jan 01", "9999 Dec 31"
	if !d.First.IsZero() {
		first = d.First.Format("2006 Jan 02")
	}
	if !d.Last.IsZero() {
		last = d.Last.Format("2006 Jan 02")
	}
	return first + "-" + last
}

// OpenAbove reports whether a structure without a height leaves it to the sky: one
// that carries the road and limits something, or a mere closure, word or wind.
func (s Structure) OpenAbove() bool {
	other := s.Closed || s.Wind != "" || s.Words != ""
	if s.Grade == On {
		return other || s.Width != nil || s.Mass != nil
	}
	return other && s.Grade == AnyGrade && s.Width == nil && s.Mass == nil
}

// graver is the worse of two outcomes; what is not known is worse than clear.
func graver(a, b finding.Outcome) finding.Outcome {
	if a == finding.Unknown && (b == finding.Clear || b == "") {
		return a
	}
	if b == finding.Unknown && a == finding.Clear {
		return b
	}
	return finding.Worse(a, b)
}

// doubtful is what an answer is worth where the structure may bind another
// road: it neither clears nor shuts.
func doubtful(o finding.Outcome) finding.Outcome {
	switch o {
	case finding.Clear:
		return finding.Unknown
	case finding.Forbidden:
		return finding.Review
	default:
		return o
	}
}

// part is what something other than the height makes of a passage; it says nothing
// where the structure asks nothing of it.
type part struct {
	outcome finding.Outcome
	reason  finding.Reason
	says    say.Remark
}

// words are for a person to read and see fulfilled.
func words(text string) part {
	if text == "" {
		return part{}
	}
	return part{finding.Review, finding.ToRead, say.Text(text)}
}

// under is the passage below the structure. Nothing but a letter of the
// authority lets a rig pass that the figure does not, and a person decides then.
func (c Case) under(s Structure) Passage {
	p := c.strictest(s)
	if p.Outcome == finding.Clear || p.Outcome == finding.Unknown && p.Known {
		return c.doubted(s, p)
	}
	if p.Outcome != finding.Forbidden {
		return p
	}
	for _, l := range c.Letters {
		if !l.holds(c.From, c.Until) || !l.firm(c) {
			continue
		}
		raised := s
		raised.Posted, raised.Measured = &l.Height, nil
		if by := c.strictest(raised); by.Outcome != finding.Forbidden {
			p.Outcome, p.Reason = finding.Review, finding.ToRead
			p.Why = say.That("passage.letter", "letter", l.ID, "by", l.By, "allows", l.Height)
			return p
		}
	}
	return p
}

// doubted is a clear passage for a person to decide where a letter allows less
// than the figure, and too little for the rig.
func (c Case) doubted(s Structure, p Passage) Passage {
	for _, l := range c.Letters {
		if some, _ := rows.Holds(l.From, l.Until, c.From, c.Until); !some {
			continue
		}
		lowered := s
		lowered.Posted, lowered.Measured = &l.Height, nil
		if by := c.strictest(lowered); by.Outcome == finding.Forbidden || by.Outcome == finding.Review {
			p.Outcome, p.Reason = finding.Review, finding.Contradicts
			p.Why = say.That("passage.letter_low", "letter", l.ID, "by", l.By, "allows", l.Height)
		}
	}
	return p
}

// strictest is the passage on the stricter of the two ends of the days.
func (c Case) strictest(s Structure) Passage {
	first := Pass(s, c.Height, c.Span, c.Allowances, c.From, c.Term)
	last := Pass(s, c.Height, c.Span, c.Allowances, c.Until, c.Term)
	if last.Known && last.Margin < first.Margin || last.Outcome == finding.Unknown && first.Outcome == finding.Clear {
		return last
	}
	return first
}

// beside is what is left to either side.
func (c Case) beside(s Structure) part {
	if s.Width == nil {
		return part{}
	}
	width, some := c.Width.Least()
	if !some || c.Width.AtLeast() && width <= *s.Width {
		return part{finding.Unknown, finding.NotGiven, say.That("passage.width_open", "clear", *s.Width)}
	}
	left := *s.Width - width - 2*c.Side
	sum := say.That("passage.width", "clear", *s.Width, "rig", width, "side", c.Side, "left", left)
	switch {
	case *s.Width < width:
		return part{finding.Forbidden, finding.Exceeded, say.That("passage.too_narrow", "sum", sum)}
	case left < 0:
		return part{finding.Review, finding.Little, sum}
	default:
		return c.part(s, sum)
	}
}

// over is what the structure may carry.
func (c Case) over(s Structure) part {
	if s.Mass == nil {
		return part{}
	}
	mass, some := c.Mass.Least()
	if !some || c.Mass.AtLeast() && mass <= *s.Mass {
		return part{finding.Unknown, finding.NotGiven, say.That("passage.mass_open", "posted", *s.Mass)}
	}
	said := say.That("passage.mass", "posted", *s.Mass, "rig", mass)
	if mass > *s.Mass {
		return part{finding.Forbidden, finding.Exceeded, said}
	}
	return c.part(s, said)
}

// closed shuts the road where it is closed on every day of passing; where only
// on some of them, a person decides.
func (c Case) closed(s Structure) part {
	if !s.Closed {
		return part{}
	}
	days := rows.Days(s.From, s.Until)
	if _, all := rows.Holds(s.From, s.Until, c.From, c.Until); !all {
		return part{finding.Review, finding.TimeOpen, say.That("passage.closed_some_days", "days", days)}
	}
	return part{finding.Forbidden, finding.Exceeded, say.That("passage.closed", "days", days)}
}

// part is what is kept by a figure, which is clear where that may clear.
func (c Case) part(s Structure, says say.Remark) part {
	outcome, reason := c.trusted(s)
	return part{outcome, reason, says}
}

// trusted is clear where the figure of a structure may clear, else why it may not.
func (c Case) trusted(s Structure) (finding.Outcome, finding.Reason) {
	stale := func(day time.Time) bool { return !s.Stale(day, c.Term, c.Allowances).None() }
	switch {
	case !s.Status.Trusted():
		return finding.Unknown, s.Status.Doubt()
	case rows.IsRival(s.ID, s.Status):
		return finding.Unknown, finding.Contradicts
	case stale(c.From) || stale(c.Until):
		return finding.Unknown, finding.Stale
	}
	return finding.Clear, ""
}

// Letter is what an authority wrote about one structure.
type Letter struct {
	ID        string
	Structure string // id in the table of clearances
	By        string // who wrote it
	Height    measure.Length
	Document  string
	From      time.Time
	Until     time.Time
	Note      string
	rows.Proof
}

// Letters is the table of letters.
func Letters() rows.Table[Letter] {
	return rows.Table[Letter]{
		Name: "letters",
		Columns: append([]string{"id", "structure", "by", "height", "document", "valid_from", "valid_to", "note"},
			rows.ProofColumns()...),
		Read: func(c *rows.Cells) Letter {
			l := Letter{
				ID: c.Need("id"), Structure: c.Need("structure"), By: c.Need("by"), Document: c.Get("document"),
				From: c.Day("valid_from"), Until: c.Day("valid_to"), Note: c.Get("note"), Proof: rows.ReadProof(c),
			}
			c.Need("height")
			if h := c.Length("height"); h != nil {
				l.Height = *h
			}
			return l
		},
	}
}

// holds reports whether the letter holds on every day of passing.
func (l *Letter) holds(from, until time.Time) bool {
	_, all := rows.Holds(l.From, l.Until, from, until)
	return all
}

func (l *Letter) firm(c Case) bool { return l.Firm(c.From, c.Term) && l.Firm(c.Until, c.Term) }
