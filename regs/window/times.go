package window

import "wayhouse/regs/say"

// timeAhead reports whether a time stands next.
func (p *parser) timeAhead() bool {
	return p.ahead(func(q *parser) bool {
		if q.take("(") || q.oneOf("sunrise", "sunset", "dawn", "dusk") >= 0 {
			return true
		}
		n := 0
		for digit(q.rest) && n < 3 {
			q.rest, n = q.rest[1:], n+1
		}
		return n > 0 && n < 3 && q.take(":") && digit(q.rest)
	})
}

// spans takes times with commas between them.
func (p *parser) spans() []span {
	out := []span{p.span()}
	for {
		before := p.rest
		p.space()
		if !p.take(",") {
			p.rest = before
			return out
		}
		p.space()
		if !p.timeAhead() {
			p.rest = before // a comma before a rule
			return out
		}
		out = append(out, p.span())
	}
}

func (p *parser) span() span {
	s := span{from: p.clock(24)}
	p.space()
	if p.take("+") {
		s.to, s.openEnd = s.from, true
		return s
	}
	if !p.take("-") {
		p.fail(say.That("hours_error.no_end"))
	}
	p.space()
	if !p.timeAhead() {
		p.fail(say.That("hours_error.time_end"))
	}
	s.to = p.clock(48)
	s.openEnd = p.take("+")
	if s.openEnd && s.to.nominal() <= s.from.nominal() {
		s.to.minutes += minutesPerDay
	}
	return s
}

// clock takes a time of day of at most so many hours.
func (p *parser) clock(hours int) clock {
	if p.take("(") {
		c := p.clock(hours)
		sign := 1.0
		switch {
		case c.event == midnight:
			p.fail(say.That("hours_error.brackets"))
		case p.take("-"):
			sign = -1
		case !p.take("+"):
			p.fail(say.That("hours_error.sign"))
		}
		c.minutes = sign * p.minutes(24)
		if !p.take(")") {
			p.fail(say.That("hours_error.bracket"))
		}
		return c
	}
	if i := p.oneOf("sunrise", "sunset", "dawn", "dusk"); i >= 0 {
		return clock{event: []event{sunrise, sunset, dawn, dusk}[i]}
	}
	return clock{minutes: p.minutes(hours)}
}

// minutes takes HH:MM.
func (p *parser) minutes(hours int) float64 {
	h := p.number(0, hours)
	if !p.take(":") {
		p.fail(say.That("hours_error.colon"))
	}
	if len(p.rest) < 2 || !digit(p.rest[1:]) {
		p.fail(say.That("hours_error.minutes"))
	}
	m := p.number(0, 59)
	if h == hours && m > 0 {
		p.fail(say.That("hours_error.late", "hours", hours))
	}
	return float64(h*60 + m)
}
