package permit

import (
	"slices"
	"strings"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// Contact is one entry of the log of what was asked of an office and what it
// answered. An answer settles, for the rules that it names, what the tables do
// not know; it counts as verified by the user, for sizes up to those that were
// asked about and until it expires.
type Contact struct {
	ID            string
	Jurisdiction  string
	Asked         string // what
	AskedOn       time.Time
	AnsweredBy    string
	AnsweredOn    time.Time // zero: no answer yet
	Outcome       finding.Outcome
	Settles       []string // rules, as findings name them: "height", "road owner", "hours"
	Condition     string   // on which the answer hangs
	Height, Width *measure.Length
	Length        *measure.Length // of the combination
	TrailerLength *measure.Length
	Mass          *measure.Mass // of the combination
	Reference     string
	PermitNumber  string
	Document      string
	From, Expires time.Time // days, both included; zero: not stated
	Note          string
}

// Contacts is the table of contacts.
func Contacts() rows.Table[Contact] {
	return rows.Table[Contact]{
		Name: "contacts",
		Columns: []string{
			"id", "jurisdiction", "asked", "asked_on", "answered_by", "answered_on", "outcome", "settles", "condition", "height", "width", "length", "trailer_length", "mass",
			"reference", "permit_number", "document", "valid_from", "expires_on", "note",
		},
		Read: readContact,
	}
}

func readContact(c *rows.Cells) Contact {
	k := Contact{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), Asked: c.Need("asked"), AskedOn: c.Day("asked_on"),
		AnsweredBy: c.Get("answered_by"), AnsweredOn: c.Day("answered_on"),
		Outcome: rows.OneOf(c, "outcome", "", finding.Clear, finding.Conditional, finding.Review, finding.Forbidden),
		Settles: list(c.Get("settles")), Condition: c.Get("condition"),
		Height: c.Length("height"), Width: c.Length("width"), Length: c.Length("length"), TrailerLength: c.Length("trailer_length"), Mass: c.Mass("mass"),
		Reference: c.Get("reference"), PermitNumber: c.Get("permit_number"), Document: c.Get("document"),
		From: c.Day("valid_from"), Expires: c.Day("expires_on"), Note: c.Get("note"),
	}
	k.check(c)
	return k
}

func (k Contact) check(c *rows.Cells) {
	for _, rule := range k.Settles {
		if !slices.Contains(Rules(), rule) {
			c.Fail("settles", "names "+rule+", which is no rule an answer can settle", "use "+strings.Join(Rules(), ", ")+", with semicolons between")
		}
	}
	switch {
	case k.Outcome != "" && (k.AnsweredOn.IsZero() || k.AnsweredBy == ""):
		c.Fail("answered_on", "is empty, or answered_by is, beside an outcome", "say who answered, and when")
	case k.Outcome == "" && len(k.Settles) > 0:
		c.Fail("settles", "stands without an outcome", "leave it empty until there is an answer")
	case k.Outcome == finding.Conditional && k.Condition == "":
		c.Fail("condition", "is empty beside a conditional outcome", "say on what the answer hangs")
	case k.Outcome == finding.Clear && k.Condition != "":
		c.Fail("condition", "stands beside a clear outcome", "make the outcome conditional")
	case k.lacks() != "":
		c.Fail(k.lacks(), "is empty, while the answer settles what hangs on it", "say up to which size the office answered")
	case !k.From.IsZero() && !k.Expires.IsZero() && k.Expires.Before(k.From):
		c.Fail("expires_on", "is before valid_from", "check both days")
	}
}

// sizes are the quantities of which an answer can state a size, by column.
var sizes = []struct {
	column string
	q      limit.Quantity
}{
	{"height", limit.Height}, {"width", limit.Width}, {"length", limit.CombinationLength}, {"trailer_length", limit.TrailerLength}, {"mass", limit.GrossMass},
}

// Most returns up to which size of a quantity the office answered; ok is false
// where it said nothing of it.
func (k Contact) Most(q limit.Quantity) (most limit.Amount, ok bool) {
	var l *measure.Length
	switch q {
	case limit.Height:
		l = k.Height
	case limit.Width:
		l = k.Width
	case limit.CombinationLength:
		l = k.Length
	case limit.TrailerLength:
		l = k.TrailerLength
	case limit.GrossMass:
		if k.Mass != nil {
			return limit.Amount(*k.Mass), true
		}
	}
	if l == nil {
		return 0, false
	}
	return limit.Amount(*l), true
}

// Rules lists the rules that an answer can settle. Whose roads they are and
// when they may be used is settled for a rig of stated height, width, length and
// mass.
func Rules() []string {
	out := []string{"road owner", "hours"}
	for _, s := range sizes {
		out = append(out, string(s.q), string(s.q)+" escorts")
	}
	return out
}

// Needs lists the quantities whose size an answer that settles a rule must
// state.
func Needs(rule string) []limit.Quantity {
	q := limit.Quantity(strings.TrimSuffix(rule, " escorts"))
	if rule == "road owner" || rule == "hours" {
		return []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.GrossMass}
	}
	return []limit.Quantity{q}
}

// lacks names the column of a size that the answer must state, "" where none is
// missing. A refusal needs none.
func (k Contact) lacks() string {
	if k.Outcome == finding.Forbidden {
		return ""
	}
	for _, rule := range k.Settles {
		for _, q := range Needs(rule) {
			if _, ok := k.Most(q); ok {
				continue
			}
			for _, s := range sizes {
				if s.q == q {
					return s.column
				}
			}
		}
	}
	return ""
}

// Holds tells whether the entry holds on every day from one moment to another.
func (k Contact) Holds(from, to time.Time) bool {
	_, all := rows.Holds(k.From, k.Expires, from, to)
	return all
}

// Meets tells whether it holds on some of them.
func (k Contact) Meets(from, to time.Time) bool {
	some, _ := rows.Holds(k.From, k.Expires, from, to)
	return some
}
