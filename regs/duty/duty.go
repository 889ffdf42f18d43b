// Package duty holds what binds the driver and the making of a rig rather than
// its size: hours of driving, licences, brakes, inspections.
package duty

import (
	"strconv"
	"time"

	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Topic is what a row is about.
type Topic string

// The topics. Those of hours say how long, all others from which mass on
// something is asked.
const (
	Driving    Topic = "driving"          // at most so many hours between rests
	OnDuty     Topic = "on_duty"          // at most so many hours of work between rests
	Elapsed    Topic = "elapsed"          // no driving so many hours after a rest ended
	Rest       Topic = "rest"             // at least so many hours off in a row
	Break      Topic = "break"            // after so many hours of driving
	Cycle      Topic = "cycle"            // at most so many hours of work in so many days
	Licence    Topic = "licence"          // of the driver
	Brakes     Topic = "brakes"           // of the unit
	Inspection Topic = "inspection"       // of the rig, and its record
	AllHours   Topic = "hours of driving" // what the topics of hours say together; no row has it
)

// Term is the code of the topic's name.
func (t Topic) Term() say.Code { return say.Word("duty.topic", string(t)) }

// Hours lists the topics of hours, Thresholds those of mass.
func Hours() []Topic      { return []Topic{Driving, OnDuty, Elapsed, Rest, Break, Cycle} }
func Thresholds() []Topic { return []Topic{Licence, Brakes, Inspection} }

// Row is one row of the table.
type Row struct {
	ID           string
	Jurisdiction string // ISO 3166-2, or the country where the rule is the country's
	Topic        Topic
	Use          limit.Use     // whom it binds; "" for everyone
	Hours        time.Duration // of a topic of hours
	Free         bool          // of a topic of hours: none bind whom the row names
	Days         int           // of a cycle; of a rest: once in so many; of driving: the same in each
	Off          time.Duration // how long a break is; what rest begins a new cycle; how long is off in a day with a rest
	NorthOf      float64       // degrees of latitude; 0: anywhere
	SouthOf      float64
	Worded       bool          // no mass decides whether it binds, its words do
	UnitOver     *measure.Mass // the unit weighs more; nil: whatever it weighs
	RigOver      *measure.Mass // the rig weighs more
	Inclusive    bool          // the masses themselves are over
	Demand       string        // what is asked then
	Note         string
	rows.Proof
}

// Table is the table of duties.
func Table() rows.Table[Row] {
	return rows.Table[Row]{
		Name: "duty",
		Columns: append([]string{
			"id", "jurisdiction", "topic", "use", "hours", "days", "off", "north_of", "south_of", "unit_over", "rig_over",
			"beyond", "demand", "note",
		}, rows.ProofColumns()...),
		Optional: []string{"off"},
		Read:     read,
	}
}

// none stands where a rule names no figure: no hours bind, or no mass decides.
const none = "none"

func read(c *rows.Cells) Row {
	r := Row{
		ID: c.Need("id"), Jurisdiction: c.Code("jurisdiction"),
		Topic: rows.OneOf(c, "topic", append(Hours(), Thresholds()...)...),
		Use: rows.OneOf(
			c,
			"use",
			"",
			limit.Commercial,
			limit.Private,
		), Hours: hours(c, "hours"), Days: c.Count("days"), Off: hours(c, "off"),
		Free: c.Get("hours") == none, Worded: c.Get("unit_over") == none, NorthOf: latitude(c, "north_of"),
		SouthOf: latitude(c, "south_of"), RigOver: c.Mass("rig_over"),
		Inclusive: rows.OneOf(c, "beyond", "over", "at_or_over") == "at_or_over", Demand: c.Need("demand"),
		Note: c.Get("note"), Proof: rows.ReadProof(c),
	}
	if !r.Worded {
		r.UnitOver = c.Mass("unit_over")
	}
	switch {
	case (r.Hours > 0 || r.Free) != r.OfHours():
		c.Fail("hours", say.That("error.topic", "topic", string(r.Topic)), say.That("fix.give_hours_to_driving"))
	case r.Free && r.Use == "":
		c.Fail("use", say.That("error.empty_beside_hours_of"), say.That("fix.say_for_whom_no"))
	case r.Topic != Rest && r.Topic != Driving && (r.Topic == Cycle && !r.Free) != (r.Days > 0),
		r.Topic == Driving && r.Days > 1:
		c.Fail("days", say.That("error.topic", "topic", string(r.Topic)), say.That("fix.give_days_to_a"))
	case r.Off > 0 && r.Topic != Break && r.Topic != Cycle && r.Topic != Rest:
		c.Fail("off", say.That("error.topic", "topic", string(r.Topic)), say.That("fix.give_off_to_a"))
	case r.OfHours() && r.Worded:
		c.Fail("unit_over", say.That("error.topic", "topic", string(r.Topic)), say.That("fix.give_a_mass_or"))
	case !r.OfHours() && !r.Worded && r.UnitOver == nil && r.RigOver == nil:
		c.Fail("unit_over", say.That("error.empty_and_so_is"), say.That("fix.say_from_which_mass"))
	}
	return r
}

// OfHours reports whether the row is about hours.
func (r Row) OfHours() bool {
	switch r.Topic {
	case Licence, Brakes, Inspection:
		return false
	}
	return true
}

func hours(c *rows.Cells, column string) time.Duration {
	if c.Get(column) == "" || c.Get(column) == none && column == "hours" {
		return 0
	}
	h, err := strconv.ParseFloat(c.Get(column), 64)
	if err != nil || !(h > 0 && h <= 1000) {
		c.Fail(column, say.That("error.no_number_of_hours"), say.That("fix.write_it_like_13"))
		return 0
	}
	return time.Duration(h * float64(time.Hour))
}

func latitude(c *rows.Cells, column string) float64 {
	if c.Get(column) == "" {
		return 0
	}
	return c.Degrees(column, 90)
}

// Case is what a row is asked about.
type Case struct {
	Use       limit.Use
	Unit, Rig measure.Known[measure.Mass]
	MostNorth float64 // of the way, degrees
	MostSouth float64
}

// Binds tells how surely the row binds, and on what that hangs. Hours bind by
// the use and the masses of the row; they are over them or not.
func (r Row) Binds(c Case) (limit.Applies, []say.Remark) {
	out := limit.Yes
	var hangs []say.Remark
	note := func(a limit.Applies, on say.Remark) {
		out = min(out, a)
		if a == limit.Perhaps {
			hangs = append(hangs, on)
		}
	}
	switch {
	case r.Use == "" || r.Use == c.Use:
	case c.Use == limit.UseUnknown:
		note(limit.Perhaps, r.Use.If())
	default:
		note(limit.No, say.Remark{})
	}
	if r.NorthOf != 0 && c.MostNorth < r.NorthOf || r.SouthOf != 0 && c.MostSouth >= r.SouthOf {
		note(limit.No, say.Remark{})
	}
	if r.Worded {
		note(limit.Perhaps, say.That("duty.worded"))
	}
	note(limit.Over(r.UnitOver, c.Unit, r.Inclusive), say.That("duty.unit_over"))
	note(limit.Over(r.RigOver, c.Rig, r.Inclusive), say.That("duty.rig_over"))
	return out, hangs
}
