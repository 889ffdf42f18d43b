// Package limit holds the table of size and mass limits: its rows, how they
// are read, and which of them a vehicle falls under.
package limit

import (
	"time"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// Kind is what the law takes a unit for. The same words name what a row is
// for.
type Kind string

// Kinds of units, and the further kinds that rows name.
const (
	KindUnknown         Kind = ""
	RecreationalTrailer Kind = "recreational_trailer"
	HouseTrailer        Kind = "house_trailer"
	ManufacturedHome    Kind = "manufactured_home"
	TinyHome            Kind = "tiny_home"
	LoadOnTrailer       Kind = "load_on_trailer"

	All           Kind = "all"            // rows only
	CommercialUse Kind = "commercial"     // rows only; asked of Use
	Building      Kind = "building"       // rows only
	FarmEquipment Kind = "farm_equipment" // rows only
)

// Term is the code of the kind's name.
func (k Kind) Term() say.Code { return say.Word("kind", string(k)) }

// UnitKinds lists the kinds that a unit can be given.
func UnitKinds() []Kind {
	return []Kind{RecreationalTrailer, HouseTrailer, ManufacturedHome, TinyHome, LoadOnTrailer}
}

// Use is in what trade a rig travels.
type Use string

// The uses.
const (
	UseUnknown Use = ""
	Commercial Use = "commercial"
	Private    Use = "private"
)

// Term is the code of the use's name.
func (u Use) Term() say.Code { return say.Word("use", string(u)) }

// If is the condition that a rig of an unknown use counts as one of this use.
func (u Use) If() say.Remark { return say.That("hangs.use", "use", u) }

// Form is how the vehicles of a combination are joined.
type Form string

// Term is the code of the form's name.
func (f Form) Term() say.Code { return say.Word("form", string(f)) }

// The forms. A semitrailer's front rests on the tow vehicle; a trailer is
// drawn by a ball or a pintle. A row for a single vehicle or a tractor is
// about the tow vehicle by itself.
const (
	FormUnknown           Form = ""
	AnyForm               Form = "any" // rows only
	Semitrailer           Form = "semitrailer"
	Trailer               Form = "trailer"
	NotTractorSemitrailer Form = "not_tractor_semitrailer" // rows only: any but a semitrailer behind a truck tractor
	SingleVehicle         Form = "single_vehicle"          // rows only
	Tractor               Form = "tractor"                 // rows only
)

// Tier is where a threshold stands among those of its quantity.
type Tier string

// The tiers. Only a legal one can clear.
const (
	Legal  Tier = "legal"  // up to it no permit is asked
	Beyond Tier = "beyond" // a step further up, where something else is asked
	Unsure Tier = "unsure" // the source does not say which
)

// Row is one row of the table.
type Row struct {
	ID           string
	Jurisdiction string // ISO 3166-2, "CA" or "US" for an umbrella, CODE/Name for a municipality
	Kind         Kind
	Form         Form
	Tows         Tows // the tow vehicles that it names
	Quantity     Quantity
	Axles        int    // of the whole combination; 0: any number
	Published    string // the figure as the source prints it
	Threshold    Amount
	Text         string   // the threshold, exact, with its unit
	PerWidth     PerWidth // the threshold of loads on tire width
	Bridge       Bridge   // the threshold of bridge formulas
	Count        Count    // of the axles of a group
	Spread       Range    // of a group, from its first axle to its last
	Apart        Range    // at which the row says that axles do not count together; not given: it is silent
	Axle         AxleTest // what its axles must be
	Inclusive    bool     // the threshold itself is already beyond
	Outcome      finding.Outcome
	Tier         Tier
	Demands      finding.Demands
	EscortsSaid  bool   // the row states escorts, even if none
	When         string // binds at these times only, as words
	Times        window.Condition
	Road         string    // binds on these roads only, as words
	Roads        roads.Set // the same as data; zero where Road is words alone
	Condition    string    // a person must read it; the row does not clear
	Tires        TireTest  // Condition as data, where it asks for a width over tires
	Met          string    // a condition that the tires of the unit meet, see [Row.For]
	Note         string
	ValidFrom    time.Time     // zero: not stated
	ValidTo      time.Time     // last day; zero: not stated
	Term         time.Duration // after which it is stale; 0: that of the tables
	Supersedes   []string      // ids of rows that this one replaces
	Status       finding.Status
	Source       string
	Section      string
	Year         string
	URL          string
	ReadOn       time.Time // zero: never
}

// Bound tells how surely a row binds somewhere on driven roads and everywhere on
// them.
func (r Row) Bound(driven []roads.Road) (somewhere Applies, everywhere bool) {
	return r.On().Over(driven)
}

// On is of which roads the row speaks, under the words of its source. Words alone
// may mean any road.
func (r Row) On() roads.Set { return r.Roads.Called(r.Road) }

// Exceeded reports whether an amount is beyond the threshold.
func (r Row) Exceeded(a Amount) bool {
	return a > r.Threshold || r.Inclusive && a == r.Threshold
}

// InForce reports whether the row holds on a day.
func (r Row) InForce(day time.Time) bool {
	y, m, d := day.Date() // the calendar day where the vehicle is
	day = time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	if !r.ValidFrom.IsZero() && day.Before(r.ValidFrom) {
		return false
	}
	return r.ValidTo.IsZero() || day.Before(r.ValidTo.AddDate(0, 0, 1))
}

// Stale reports whether on a day the row was read or verified longer ago than its
// term allows, or never. A row without a term of its own has the one given;
// what holds for a season, such as a thaw, has a short one.
func (r Row) Stale(day time.Time, term time.Duration) bool {
	if r.Term > 0 {
		term = r.Term
	}
	return rows.Stale(r.ReadOn, day, term)
}

// Applies is how surely a row is about a vehicle.
type Applies = roads.Applies

// The degrees.
const (
	No      = roads.No
	Perhaps = roads.Perhaps
	Yes     = roads.Yes
)

// Over tells how surely a mass is over that of a row, or at it where the row holds from
// there on; a row without one holds for every mass.
func Over(most *measure.Mass, mass measure.Known[measure.Mass], inclusive bool) Applies {
	if most == nil {
		return Yes
	}
	switch least, ok := mass.Least(); {
	case ok && (least > *most || inclusive && least == *most):
		return Yes
	case mass.Known():
		return No
	default:
		return Perhaps
	}
}

// Subject is what decides which rows a vehicle falls under.
type Subject struct {
	Kind  Kind
	Use   Use
	Form  Form
	Tow   Tow
	Axles int // of the whole rig, 0 unknown
}

// Match tells how surely the row is about the subject, whenever and wherever
// it travels. Where it is only perhaps, remarks say on what that hangs: whether it
// counts as a recreational trailer.
func (r Row) Match(s Subject) (Applies, []say.Remark) {
	var hangs []say.Remark
	sure := Yes
	for _, part := range []match{
		r.matchKind(s), r.matchForm(s), r.matchTow(s), r.matchAxles(s),
	} {
		sure = min(sure, part.applies)
		if part.applies == Perhaps {
			hangs = append(hangs, part.hangs)
		}
	}
	if sure == No {
		return No, nil
	}
	return sure, hangs
}

type match struct {
	applies Applies
	hangs   say.Remark // on what, where it applies only perhaps
}

func (r Row) matchKind(s Subject) match {
	counts := match{Perhaps, say.That("hangs.kind", "kind", r.Kind)}
	switch r.Kind {
	case All, s.Kind:
		return match{applies: Yes}
	case FarmEquipment:
		return match{applies: No}
	case CommercialUse:
		return matchUse(s.Use)
	case Building:
		if s.Kind == KindUnknown || s.Kind == TinyHome || s.Kind == LoadOnTrailer {
			return counts
		}
		return match{applies: No}
	}
	switch {
	case s.Kind == KindUnknown, s.Kind == TinyHome:
		return counts
	case r.Kind == HouseTrailer && s.Kind == RecreationalTrailer, r.Kind == RecreationalTrailer && s.Kind == HouseTrailer:
		return counts // one law's house trailer is another's recreational trailer
	default:
		return match{applies: No}
	}
}

func matchUse(u Use) match {
	switch u {
	case Commercial:
		return match{applies: Yes}
	case Private:
		return match{applies: No}
	default:
		return match{Perhaps, Commercial.If()}
	}
}

func (r Row) matchForm(s Subject) match {
	switch {
	case r.Form == AnyForm, r.Form == s.Form:
		return match{applies: Yes}
	case r.Form == SingleVehicle && r.Quantity == SingleVehicleLength:
		return match{applies: Yes}
	case r.Form == SingleVehicle, r.Form == Tractor:
		return match{applies: No}
	case r.Form == NotTractorSemitrailer:
		return matchOthers(s)
	case s.Form == FormUnknown:
		return match{Perhaps, say.That("hangs.form", "form", r.Form)}
	default:
		return match{applies: No}
	}
}

func (r Row) matchAxles(s Subject) match {
	switch {
	case r.Axles == 0, r.Axles == s.Axles:
		return match{applies: Yes}
	case s.Axles == 0:
		return match{Perhaps, say.That("hangs.axles", "axles", r.Axles)}
	default:
		return match{applies: No}
	}
}
