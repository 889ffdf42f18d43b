package limit

import (
	"regexp"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Across is how wide one axle of a unit stands on the road.
type Across struct {
	Over  measure.Length // over the outsides of its outer tires; 0: not known
	Tires int            // 0: not known
}

// TireTest is a condition on how wide every axle of a unit is over its tires. The
// zero value asks nothing.
type TireTest struct {
	least    measure.Length // 0: nothing is asked
	wideBase measure.Length // enough for an axle on two wide-base tires; 0: no less than for others
	not      bool           // it is met where an axle is narrower
}

var tireForm = regexp.MustCompile(`^(unless )?every axle >= (.+?) over tires(?:, or >= (.+) on 2 wide-base tires)?$`)

// parseTireTest reads a condition such as "every axle >= 2.5 m over tires, or >= 2.45
// m on 2 wide-base tires", and the contrary with "unless" before it. Other words ask
// nothing of tires: they are for a person to read.
func parseTireTest(text string) (t TireTest, err error) {
	if !strings.HasPrefix(strings.TrimPrefix(text, "unless "), "every axle >=") {
		return t, nil
	}
	m := tireForm.FindStringSubmatch(text)
	if m == nil {
		return t, say.Err(say.That("parse_error.no_tire_test", "like", "every axle >= 2.5 m over tires"))
	}
	t.not = m[1] != ""
	if t.least, err = measure.ParseLength(m[2]); err != nil {
		return t, err
	}
	if m[3] == "" {
		return t, nil
	}
	if t.wideBase, err = measure.ParseLength(m[3]); err == nil && t.wideBase >= t.least {
		err = say.Err(say.That("parse_error.wide_base", "wide", t.wideBase, "least", t.least))
	}
	return t, err
}

// Of tells how surely the axles of a unit meet the test; none: they are not described.
func (t TireTest) Of(axles []Across) Applies {
	if t.least == 0 {
		return Yes
	}
	out := Yes
	if len(axles) == 0 {
		out = Perhaps
	}
	for _, a := range axles {
		out = min(out, t.each(a))
	}
	if t.not {
		return Yes - out
	}
	return out
}

// each takes one axle. Whether two tires are wide-base ones within the load on their
// label is not known of them.
func (t TireTest) each(a Across) Applies {
	switch {
	case a.Over >= t.least:
		return Yes
	case a.Over == 0, t.wideBase > 0 && a.Over >= t.wideBase && (a.Tires == 0 || a.Tires == 2):
		return Perhaps
	default:
		return No
	}
}

// For returns what a row says of a unit with these axles: the row without its condition
// where they surely meet it, the row as it is where that is not known. ok is false where
// they surely do not meet it.
func (r *Row) For(axles []Across) (said *Row, ok bool) {
	met := r.Tires.Of(axles)
	if met != Yes || r.Tires == (TireTest{}) {
		return r, met != No
	}
	settled := *r
	settled.Condition, settled.Tires, settled.Met = "", TireTest{}, r.Condition
	return &settled, true
}
