package limit

import (
	"slices"
	"strings"

	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Tow is what the law takes a tow vehicle for.
type Tow string

// The tow vehicles. A truck tractor is made for drawing others and carries no
// load but a part of theirs (23 CFR 658.5, "truck tractor"); a pickup with a
// coupling in its bed is none, unless a law says so.
const (
	TowUnknown   Tow = ""
	AnyTow       Tow = "any" // rows only
	TruckTractor Tow = "truck_tractor"
	Truck        Tow = "truck" // with a bed or body of its own, larger than a pickup
	Pickup       Tow = "pickup"
	Car          Tow = "car" // van and sport utility vehicle included
)

// TowVehicles lists what a tow vehicle can be given as.
func TowVehicles() []Tow { return []Tow{TruckTractor, Truck, Pickup, Car} }

// Term is the code of the tow vehicle's name.
func (t Tow) Term() say.Code { return say.Word("tow", string(t)) }

// Tows are the tow vehicles that a row names; none: its text names none.
type Tows []Tow

// readTows reads tow vehicles with spaces between them.
func readTows(c *rows.Cells) Tows {
	var out Tows
	for _, word := range strings.Fields(c.Get("tow")) {
		if t := Tow(word); t == AnyTow || slices.Contains(TowVehicles(), t) {
			out = append(out, t)
			continue
		}
		c.Fail("tow", say.That("error.no_tow", "word", word),
			say.That("fix.tows", "words", rows.Texts(TowVehicles())))
	}
	if slices.Contains(out, AnyTow) && len(out) > 1 {
		c.Fail("tow", say.That("error.names_tow_vehicles_beside"), say.That("fix.give_any_alone"))
	}
	return out
}

// matchTow compares the tow vehicle. A text that says "semitrailer" and nothing
// of what draws it means a truck tractor's for certain and any other perhaps;
// every other text that names no tow vehicle takes any.
func (r Row) matchTow(s Subject) match {
	switch {
	case len(r.Tows) == 0 && (r.Form != Semitrailer || s.Tow == TruckTractor):
		return match{applies: Yes}
	case len(r.Tows) == 0 && s.Tow == TowUnknown:
		return match{Perhaps, say.That("hangs.semitrailers_of_which")}
	case len(r.Tows) == 0:
		return match{Perhaps, say.That("hangs.semitrailers", "tow", s.Tow)}
	case slices.Contains(r.Tows, AnyTow), slices.Contains(r.Tows, s.Tow):
		return match{applies: Yes}
	case s.Tow == TowUnknown:
		return match{Perhaps, say.That("hangs.tow", "tows", r.Tows.terms())}
	case s.Tow == Pickup && slices.Contains(r.Tows, Truck):
		return match{Perhaps, say.That("hangs.pickup")}
	default:
		return match{applies: No}
	}
}

func (t Tows) terms() []say.Term {
	var out []say.Term
	for _, one := range t {
		out = append(out, one)
	}
	return out
}

// matchOthers compares a rig with all combinations but a semitrailer behind a
// truck tractor.
func matchOthers(s Subject) match {
	switch {
	case s.Form == Trailer, s.Tow != TowUnknown && s.Tow != TruckTractor:
		return match{applies: Yes}
	case s.Form == Semitrailer && s.Tow == TruckTractor:
		return match{applies: No}
	default:
		return match{Perhaps, say.That("hangs.no_semitrailer")}
	}
}
