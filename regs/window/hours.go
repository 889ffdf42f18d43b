package window

import (
	"slices"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Hours is one rule of when a rig may travel.
type Hours struct {
	ID           string
	Jurisdiction string // a municipality as CODE/Name
	For          For
	// Beyond are sizes; a rig beyond any of them falls under the rule. All nil:
	// whatever it measures.
	Beyond   Sizes
	Roads    roads.Set
	Open     *Schedule // when travel is allowed; nil: at any time
	Text     string
	Calendar string // the holidays that the rule means; "" for those of the jurisdiction
	Demand   string // what must hold on the way too, such as a visibility
	When     string // the season or the like in which the rule holds; "" for always
	Times    Condition
	From, To time.Time // days on which the rule is in force; zero: not stated
	Note     string
	rows.Proof
}

// For is whom a rule of hours binds.
type For string

// Whom.
const (
	Permitted For = "permit" // who travels under a permit
	Everyone  For = "all"
)

// Sizes are measurements; nil where none is given.
type Sizes struct {
	Height, Width, Length *measure.Length
	Mass                  *measure.Mass
}

// None reports whether nothing is given.
func (s Sizes) None() bool {
	return s.Height == nil && s.Width == nil && s.Length == nil && s.Mass == nil
}

// HoursTable is the table of hours of travel.
func HoursTable() rows.Table[Hours] {
	return rows.Table[Hours]{
		Name: "hours",
		Columns: append([]string{
			"id", "jurisdiction", "for", "over_height", "over_width", "over_length", "over_mass", "roads", "open",
			"calendar", "demand", "when",
			"valid_from", "valid_to", "note",
		}, rows.ProofColumns()...),
		Read: readHours,
	}
}

func readHours(c *rows.Cells) Hours {
	h := Hours{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"), For: rows.OneOf(c, "for", Permitted, Everyone),
		Beyond: Sizes{c.Length("over_height"), c.Length("over_width"), c.Length("over_length"), c.Mass("over_mass")},
		Text:   c.Get("open"), Calendar: c.Get("calendar"), Demand: c.Get("demand"), When: c.Get("when"),
		From: c.Day("valid_from"), To: c.Day("valid_to"), Note: c.Get("note"), Proof: rows.ReadProof(c),
	}
	h.Times = ParseCondition(h.When)
	var err error
	if h.Roads, err = roads.Read(c.Get("roads")); err != nil {
		c.Unusable("roads", err)
	}
	if h.Calendar == "" {
		h.Calendar = h.Jurisdiction
	}
	switch s, err := Parse(h.Text); {
	case h.Text == "" && h.Demand == "":
		c.Fail("open", say.That("error.empty_and_so_is_demand"), say.That("fix.say_when_travel_is"))
	case h.Text == "":
	case err != nil:
		c.Fail("open", say.That("error.no_hours", "why", say.Of(err)),
			say.That("fix.like", "text", `"Mo-Sa (sunrise-00:30)-(sunset+00:30); PH off"`))
	default:
		h.Open = s
	}
	if !h.From.IsZero() && !h.To.IsZero() && h.To.Before(h.From) {
		c.Fail("valid_to", say.That("error.before_valid_from"), say.That("fix.check_both_days"))
	}
	return h
}

// Through reports whether a schedule is open from one moment to another without a
// break: Open where it surely is, Closed where it surely is not at some moment.
func (s *Schedule) Through(from, to time.Time, env Env) State {
	out := Open
	s.each(from, to, env, func(_ time.Time, state State) bool {
		if state == Closed {
			out = Closed
			return false
		}
		if state == Unknown {
			out = Unknown
		}
		return true
	})
	return out
}

// NextOpen returns the first moment from one on at which the schedule is surely
// open for so long, by every one of some places; ok is false where there is none
// within a horizon.
func (s *Schedule) NextOpen(from time.Time, stay, horizon time.Duration, places []Env) (at time.Time, ok bool) {
	var moments []time.Time
	for _, env := range places {
		s.each(from, from.Add(horizon), env, func(t time.Time, state State) bool {
			if state == Open {
				moments = append(moments, t)
			}
			return true
		})
	}
	slices.SortFunc(moments, time.Time.Compare)
	for _, t := range slices.CompactFunc(moments, time.Time.Equal) {
		if !slices.ContainsFunc(places, func(env Env) bool { return s.Through(t, t.Add(stay), env) != Open }) {
			return t, true
		}
	}
	return at, false
}

// each visits moments from one to another between which the state does not
// turn, until visit returns false.
func (s *Schedule) each(from, to time.Time, env Env, visit func(time.Time, State) bool) {
	c := Condition{hours: []*Schedule{s}}
	for t := from; ; t = c.next(t, env) {
		if t.After(to) {
			t = to
		}
		if !visit(t, s.At(t, env)) || !t.Before(to) {
			return
		}
	}
}

// BySun reports whether any of the hours hang on sunrise or sunset.
func (s *Schedule) BySun() bool {
	for _, end := range (Condition{hours: []*Schedule{s}}).ends() {
		if end.event == sunrise || end.event == sunset {
			return true
		}
	}
	return false
}
