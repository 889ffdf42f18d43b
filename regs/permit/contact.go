package permit

import (
	"slices"
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Contact is one entry of the log of what was asked of an office and what it
// answered. An answer settles, for the rules that it names, what the tables do
// not know; it counts as verified by the user, for sizes up to those that were
// asked about, on the roads, for the kind and use, and until it expires. A
// permit that is held is an entry with a number.
type Contact struct {
	ID            string
	Jurisdiction  string
	Asked         string // what
	AskedOn       time.Time
	AnsweredBy    string
	AnsweredOn    time.Time // zero: no answer yet
	Outcome       finding.Outcome
	Settles       []finding.Rule                  // as findings name them: "height", "road owner", "hours"
	Condition     string                          // on which the answer hangs
	Sizes         map[limit.Quantity]limit.Amount // up to which; what is missing was not stated
	Kind          limit.Kind                      // that was asked about; "" for any
	Use           limit.Use                       // likewise
	Roads         roads.Set                       // likewise, as limits write them, or in words
	Reference     string
	PermitNumber  string
	Document      string
	From, Expires time.Time // days, both included; zero: not stated
	Note          string
	Trip          string // the saved trip that it is about; "" for any
}

// Contacts is the table of contacts.
func Contacts() rows.Table[Contact] {
	return rows.Table[Contact]{
		Name: "contacts",
		Columns: []string{
			"id", "jurisdiction", "asked", "asked_on", "answered_by", "answered_on", "outcome", "settles", "condition",
			"height", "width", "length", "trailer_length", "mass",
			"reference", "permit_number", "document", "valid_from", "expires_on", "note", "front_overhang",
			"rear_overhang", "kind", "use", "roads", "trip",
		},
		Optional: []string{"front_overhang", "rear_overhang", "kind", "use", "roads", "trip"},
		Read:     readContact,
	}
}

func readContact(c *rows.Cells) Contact {
	k := Contact{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), Asked: c.Need("asked"), AskedOn: c.Day("asked_on"),
		AnsweredBy: c.Get("answered_by"), AnsweredOn: c.Day("answered_on"),
		Outcome: rows.OneOf(c, "outcome", "", finding.Clear, finding.Conditional, finding.Review, finding.Forbidden),
		Settles: list[finding.Rule](c.Get("settles")), Condition: c.Get("condition"),
		Sizes: readSizes(c), Kind: rows.OneOf(c, "kind", append(limit.UnitKinds(), limit.KindUnknown)...),
		Use:       rows.OneOf(c, "use", limit.UseUnknown, limit.Commercial, limit.Private),
		Reference: c.Get("reference"), PermitNumber: c.Get("permit_number"), Document: c.Get("document"),
		From: c.Day("valid_from"), Expires: c.Day("expires_on"), Note: c.Get("note"), Trip: c.Get("trip"),
	}
	var err error
	if k.Roads, err = roads.Read(c.Get("roads")); err != nil {
		c.Unusable("roads", err)
	}
	k.check(c)
	return k
}

func (k Contact) check(c *rows.Cells) {
	for _, rule := range k.Settles {
		if !slices.Contains(Rules(), rule) {
			var known []string
			for _, r := range Rules() {
				known = append(known, string(r))
			}
			c.Fail("settles", say.That("error.no_rule", "rule", string(rule)),
				say.That("fix.semicolons", "words", known))
		}
	}
	switch {
	case k.Outcome != "" && (k.AnsweredOn.IsZero() || k.AnsweredBy == ""):
		c.Fail("answered_on", say.That("error.empty_or_answered_by"), say.That("fix.say_who_answered_and"))
	case k.Outcome == "" && len(k.Settles) > 0:
		c.Fail("settles", say.That("error.stands_without_an_outcome"), say.That("fix.leave_it_empty_until"))
	case k.Outcome == finding.Conditional && k.Condition == "":
		c.Fail("condition", say.That("error.empty_beside_a_conditional"), say.That("fix.say_on_what_the"))
	case k.Outcome == finding.Clear && k.Condition != "":
		c.Fail("condition", say.That("error.stands_beside_a_clear"), say.That("fix.make_the_outcome_conditional"))
	case k.lacks() != "":
		c.Fail(k.lacks(), say.That("error.empty_while_the_answer"), say.That("fix.say_up_to_which"))
	case !k.From.IsZero() && !k.Expires.IsZero() && k.Expires.Before(k.From):
		c.Fail("expires_on", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
	}
}

// size is a quantity and the column of its size.
type size struct {
	column string
	q      limit.Quantity
}

// sizes are the quantities of which an answer can state a size, by column.
var sizes = []size{
	{"height", limit.Height}, {"width", limit.Width}, {"length", limit.CombinationLength},
	{"trailer_length", limit.TrailerLength}, {"mass", limit.GrossMass},
	{"front_overhang", limit.FrontOverhang}, {"rear_overhang", limit.RearOverhang},
}

func readSizes(c *rows.Cells) map[limit.Quantity]limit.Amount {
	out := map[limit.Quantity]limit.Amount{}
	for _, s := range sizes {
		if s.q == limit.GrossMass {
			if m := c.Mass(s.column); m != nil {
				out[s.q] = limit.Amount(*m)
			}
		} else if l := c.Length(s.column); l != nil {
			out[s.q] = limit.Amount(*l)
		}
	}
	return out
}

// Stated lists the quantities of which an entry states a size, in the order of
// the columns.
func (k Contact) Stated() []limit.Quantity {
	var out []limit.Quantity
	for _, s := range sizes {
		if _, ok := k.Sizes[s.q]; ok {
			out = append(out, s.q)
		}
	}
	return out
}

// About tells how surely the entry is about such a vehicle. Where it is only
// perhaps, remarks say on what that hangs.
func (k Contact) About(s limit.Subject) (limit.Applies, []say.Remark) {
	row := limit.Row{Kind: k.Kind, Form: limit.AnyForm}
	if k.Kind == limit.KindUnknown {
		row.Kind = limit.All
	}
	applies, hangs := row.Match(s)
	switch {
	case k.Use == limit.UseUnknown || k.Use == s.Use || applies == limit.No:
	case s.Use != limit.UseUnknown:
		return limit.No, nil
	default:
		applies, hangs = limit.Perhaps, append(hangs, k.Use.If())
	}
	return applies, hangs
}

// Meant names the kind and the use that were asked about.
func (k Contact) Meant() []say.Term {
	return slices.DeleteFunc([]say.Term{k.Kind, k.Use}, func(t say.Term) bool { return t.Term() == "" })
}

// Over tells how surely the entry is about some of the roads that are used, and
// whether it surely is about all. One that names none is about all.
func (k Contact) Over(used []roads.Road) (somewhere limit.Applies, everywhere bool) {
	return k.Roads.Over(used)
}

// The rules that are about the rig as a whole, as findings name them.
const (
	RoadOwner = "road owner"
	Hours     = "hours"
)

// Rules lists the rules that an answer can settle. Whose roads they are and
// when they may be used is settled for a rig of stated height, width, length and
// mass.
func Rules() []finding.Rule {
	out := []finding.Rule{RoadOwner, Hours}
	for _, s := range sizes {
		out = append(out, finding.Rule(s.q), s.q.Escorts())
	}
	return out
}

// Needs lists the quantities whose size an answer that settles a rule must
// state.
func Needs(rule finding.Rule) []limit.Quantity {
	for _, s := range sizes {
		if rule == finding.Rule(s.q) || rule == s.q.Escorts() {
			return []limit.Quantity{s.q}
		}
	}
	return Rig()
}

// Rig lists the quantities that say how big a rig is, as an office asks first.
func Rig() []limit.Quantity {
	return []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.GrossMass}
}

// lacks names the column of a size that the answer must state, "" where none is
// missing. A refusal needs none.
func (k Contact) lacks() string {
	if k.Outcome == finding.Forbidden {
		return ""
	}
	for _, rule := range k.Settles {
		for _, q := range Needs(rule) {
			if _, ok := k.Sizes[q]; ok {
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
