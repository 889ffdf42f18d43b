package window

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"wayhouse/regs/say"
)

// ParseError says why a text is no schedule.
type ParseError struct {
	Text    string
	Offset  int // in bytes
	Problem say.Remark
}

func (e *ParseError) Error() string { return e.Remark().String() }

// Remark says where in the text what is wrong.
func (e *ParseError) Remark() say.Remark {
	return say.That("hours_error.at", "text", e.Text, "byte", e.Offset, "problem", e.Problem)
}

// maxText is beyond any value that a tag can hold, 255 characters of four
// bytes.
const maxText = 1020

// Parse reads a value of the opening_hours grammar. It takes what the
// specification defines but times without an end, repeated times (/90),
// "nearest weekday" and comments before a rule. The error is a [*ParseError].
func Parse(text string) (s *Schedule, err error) {
	if len(text) > maxText || !utf8.ValidString(text) {
		return nil, &ParseError{Text: text, Problem: say.That("hours_error.no_text")}
	}
	p := &parser{text: text, rest: text}
	defer func() {
		switch r := recover().(type) {
		case nil:
		case *ParseError:
			s, err = nil, r
		default:
			panic(r)
		}
	}()
	return p.schedule(), nil
}

// parser walks through a text. It stops by a panic with a *ParseError, which
// never leaves Parse.
type parser struct{ text, rest string }

func (p *parser) fail(problem say.Remark) {
	panic(&ParseError{Text: p.text, Offset: len(p.text) - len(p.rest), Problem: problem})
}

func (p *parser) space() { p.rest = strings.TrimLeft(p.rest, " \t") }

// take takes a word or sign if it is next.
func (p *parser) take(s string) bool {
	rest, ok := strings.CutPrefix(p.rest, s)
	if ok {
		p.rest = rest
	}
	return ok
}

// oneOf takes the first of the words that is next and returns its number, -1
// where none is. A word does not end within letters.
func (p *parser) oneOf(words ...string) int {
	for i, w := range words {
		if len(p.rest) >= len(w) && strings.EqualFold(p.rest[:len(w)], w) && !letter(p.rest[len(w):]) {
			p.rest = p.rest[len(w):]
			return i
		}
	}
	return -1
}

func letter(s string) bool {
	return s != "" && (s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z')
}

func digit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// number takes digits.
func (p *parser) number(least, most int) int {
	n := 0
	for n < len(p.rest) && digit(p.rest[n:]) {
		n++
	}
	v, err := strconv.Atoi(p.rest[:n])
	if n == 0 || n > 4 || err != nil || v < least || v > most {
		p.fail(say.That("hours_error.number", "from", least, "to", most))
	}
	p.rest = p.rest[n:]
	return v
}

// ahead reports whether a test passes without taking anything.
func (p *parser) ahead(test func(*parser) bool) bool {
	q := *p
	return test(&q)
}

func (p *parser) schedule() *Schedule {
	s := &Schedule{text: strings.TrimSpace(p.text)}
	joined := instead
	for {
		s.rules = append(s.rules, p.rule(joined))
		p.space()
		switch {
		case p.rest == "":
			return s
		case p.take("||"):
			joined = otherwise
		case p.take(";"):
			joined = instead
			if p.space(); p.rest == "" {
				return s
			}
		case p.take(","):
			joined = besides
		default:
			p.fail(say.That("hours_error.no_rule"))
		}
	}
}

func (p *parser) rule(joined join) rule {
	r := rule{join: joined, state: Open}
	start := len(p.rest)
	p.space()
	if !p.always() {
		r.days = p.days()
		p.space()
		p.take(":")
		p.space()
		if p.timeAhead() {
			r.spans = p.spans()
		}
	}
	p.space()
	r.state, r.note = p.modifier()
	if strings.TrimSpace(p.text[len(p.text)-start:len(p.text)-len(p.rest)]) == "" {
		p.fail(say.That("hours_error.empty_rule"))
	}
	return r
}

func (p *parser) always() bool { return p.take("24/7") }

// modifier takes what a rule says of its hours: open where it says nothing,
// and unknown where it has only a comment.
func (p *parser) modifier() (state State, note string) {
	state, said := Open, true
	switch p.oneOf("open", "closed", "off", "unknown") {
	case 1, 2:
		state = Closed
	case 3:
		state = Unknown
	case -1:
		said = false
	}
	p.space()
	if p.take(`"`) {
		end := strings.IndexByte(p.rest, '"')
		if end < 0 {
			p.fail(say.That("hours_error.comment"))
		}
		note, p.rest = p.rest[:end], p.rest[end+1:]
		if !said {
			state = Unknown
		}
	}
	return state, note
}

// days takes the selectors of days: years, dates, weeks, weekdays and
// holidays, each a list, all of which must hold.
func (p *parser) days() []selector {
	var out []selector
	for {
		p.space()
		switch {
		case p.yearAhead():
			out = append(out, p.list(p.yearTest, p.yearAhead))
		case p.dateAhead():
			out = append(out, p.list(p.dateTest, p.dateAhead))
		case p.oneOf("week") == 0:
			p.space()
			out = append(out, p.list(p.weekTest, func() bool { return digit(p.rest) }))
		case p.weekdayAhead():
			out = append(out, p.list(p.weekdayTest, p.weekdayAhead))
		default:
			return out
		}
		p.space()
		p.take(":")
	}
}

// list takes items with commas between them, as long as what follows a comma
// is one.
func (p *parser) list(item func() selector, next func() bool) selector {
	all := anyOf{item()}
	for {
		before := p.rest
		p.space()
		if !p.take(",") {
			p.rest = before
			return all
		}
		p.space()
		if !next() {
			p.rest = before
			return all
		}
		all = append(all, item())
	}
}

var weekdays = []string{"Su", "Mo", "Tu", "We", "Th", "Fr", "Sa"}

func (p *parser) weekdayAhead() bool {
	return p.ahead(func(q *parser) bool { return q.oneOf(append(slices.Clone(weekdays), "PH", "SH")...) >= 0 })
}

func (p *parser) weekdayTest() selector {
	switch p.oneOf("PH", "SH") {
	case 0:
		return p.shift(holidays{})
	case 1:
		return p.shift(holidays{school: true})
	}
	first := time.Weekday(p.oneOf(weekdays...))
	if first < 0 {
		p.fail(say.That("hours_error.weekday"))
	}
	if p.take("[") {
		return p.shift(nthWeekday{first, p.which()})
	}
	last := first
	if p.take("-") {
		if last = time.Weekday(p.oneOf(weekdays...)); last < 0 {
			p.fail(say.That("hours_error.weekday"))
		}
	}
	return weekdayRange{first, last}
}

// which takes the numbers of weekdays in their month, up to the bracket.
func (p *parser) which() []int {
	var out []int
	for {
		if p.take("-") {
			out = append(out, -p.number(1, 5))
		} else {
			first := p.number(1, 5)
			last := first
			if p.take("-") {
				last = p.number(first, 5)
			}
			for n := first; n <= last; n++ {
				out = append(out, n)
			}
		}
		if p.take("]") {
			return out
		}
		if !p.take(",") {
			p.fail(say.That("hours_error.weekday_number"))
		}
	}
}

// shift takes " +1 day" or " -2 days".
func (p *parser) shift(of selector) selector {
	if n := p.shiftDays(); n != 0 {
		return shifted{of, n}
	}
	return of
}

func (p *parser) shiftDays() int {
	follows := func(q *parser) bool {
		q.space()
		signed := q.take("+") || q.take("-")
		digits := 0
		for digit(q.rest) {
			q.rest, digits = q.rest[1:], digits+1
		}
		q.space()
		return signed && digits > 0 && q.oneOf("days", "day") >= 0
	}
	if !p.ahead(follows) {
		return 0
	}
	p.space()
	sign := 1
	if !p.take("+") {
		p.take("-")
		sign = -1
	}
	n := p.number(1, 366)
	p.space()
	p.oneOf("days", "day")
	return sign * n
}

// yearAhead reports whether a year, or a range of years, stands next: four
// digits that are no time.
func (p *parser) yearAhead() bool {
	return len(p.rest) >= 4 && digit(p.rest) && digit(p.rest[1:]) && digit(p.rest[2:]) && digit(p.rest[3:]) &&
		!p.ahead(func(q *parser) bool { q.rest = q.rest[4:]; q.space(); return q.dateAhead() })
}

const lastYear = 9999

func (p *parser) yearTest() selector {
	n := numbers{first: p.number(1000, lastYear), step: 1}
	n.last = n.first
	switch {
	case p.take("+"):
		n.last = lastYear
	case p.take("-"):
		n.last = p.number(n.first, lastYear)
	}
	if p.take("/") {
		n.step = p.number(1, lastYear)
	}
	return years(n)
}

func (p *parser) weekTest() selector {
	n := numbers{first: p.number(1, 53), step: 1}
	n.last = n.first
	if p.take("-") {
		n.last = p.number(n.first, 53)
		if p.take("/") {
			n.step = p.number(1, 53)
		}
	}
	return weeks(n)
}

var months = []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

func (p *parser) dateAhead() bool {
	return p.ahead(func(q *parser) bool {
		if len(q.rest) >= 4 && digit(q.rest) {
			for range 4 {
				if !digit(q.rest) {
					return false
				}
				q.rest = q.rest[1:]
			}
			q.space()
		}
		return q.oneOf(append(slices.Clone(months), "easter")...) >= 0
	})
}

func (p *parser) dateTest() selector {
	from := p.date()
	to := from
	if p.take("-") || p.spacedDash() {
		switch {
		case p.dateAhead():
			to = p.date()
		case digit(p.rest) && from.day > 0:
			to.day = p.number(from.day, 31)
		default:
			p.fail(say.That("hours_error.date_end"))
		}
	}
	if from.day == 0 && to.day > 0 && !from.easter {
		p.fail(say.That("hours_error.month_and_day"))
	}
	return dates{from, to}
}

func (p *parser) spacedDash() bool {
	follows := func(q *parser) bool {
		q.space()
		dash := q.take("-")
		q.space()
		return dash && q.dateAhead()
	}
	if p.ahead(follows) {
		p.space()
		p.take("-")
		p.space()
		return true
	}
	return false
}

func (p *parser) date() date {
	var d date
	if digit(p.rest) {
		d.year = p.number(1000, 9999)
		p.space()
	}
	switch i := p.oneOf(append(slices.Clone(months), "easter")...); {
	case i < 0:
		p.fail(say.That("hours_error.month"))
	case i == len(months):
		d.easter = true
		d.shift = p.shiftDays()
	default:
		d.month = time.Month(i + 1)
		if p.ahead(func(q *parser) bool { q.space(); return digit(q.rest) && !q.timeAhead() }) {
			p.space()
			d.day = p.number(1, 31)
			d.shift = p.shiftDays()
		}
	}
	return d
}
