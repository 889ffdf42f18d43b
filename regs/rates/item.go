package rates

import (
	"slices"

	"wayhouse/regs/say"
)

// Item is what a price is for.
type Item string

// The items. Those of a truck and of escorts on the way, what is paid to others, what is a
// share of other prices, and terms, which are in no sum.
const (
	Haulage       Item = "haulage"     // the rig on its way, loaded
	Deadhead      Item = "deadhead"    // the truck, empty, to the unit
	Return        Item = "return_trip" // the truck, empty, back from the last stop
	Fuel          Item = "fuel"        // of the rig on its way
	FuelSurcharge Item = "fuel_surcharge"
	Standby       Item = "standby"     // the rig waits with its crew
	WeatherDay    Item = "weather_day" // no travel for wind, ice or fog
	Lodging       Item = "lodging"     // of the crew
	Escort        Item = "escort"      // an escort vehicle on the way
	EscortReturn  Item = "escort_return"
	EscortNight   Item = "escort_night"
	EscortStandby Item = "escort_standby" // it waits with the rig, by day
	Permit        Item = "permit"         // the fee of an authority, where the card knows better than the table of permits
	PermitAgent   Item = "permit_agent"
	Survey        Item = "survey" // of the route
	Toll          Item = "toll"
	Ferry         Item = "ferry"
	Insurance     Item = "insurance" // of the goods
	Other         Item = "other"
	Contingency   Item = "contingency"
	Margin        Item = "margin"
	Tax           Item = "tax"
	Validity      Item = "validity" // of a quote
	Payment       Item = "payment"  // within so many days
	Deposit       Item = "deposit"
	Cancellation  Item = "cancellation" // within so many days before the move
)

// Unit is what a price is for one of.
type Unit string

// The units.
const (
	KM      Unit = "km"
	Mile    Unit = "mi"
	Hour    Unit = "hour"
	Day     Unit = "day"
	Night   Unit = "night"
	Litre   Unit = "litre"
	USGal   Unit = "us_gal"
	Metre   Unit = "metre" // of the length of the rig
	Foot    Unit = "foot"
	Each    Unit = "each"
	Percent Unit = "percent"
)

// kind is what a table says of an item: the units that its price may have, and whether it is
// a term of the contract.
type kind struct {
	item  Item
	units []Unit
	term  bool
}

var kinds = []kind{
	{Haulage, []Unit{KM, Mile, Hour, Day, Each}, false},
	{Deadhead, []Unit{KM, Mile, Each}, false},
	{Return, []Unit{KM, Mile, Each}, false},
	{Fuel, []Unit{Litre, USGal}, false},
	{FuelSurcharge, []Unit{Percent}, false},
	{Standby, []Unit{Hour, Day}, false},
	{WeatherDay, []Unit{Day}, false},
	{Lodging, []Unit{Night}, false},
	{Escort, []Unit{KM, Mile, Hour, Day, Each}, false},
	{EscortReturn, []Unit{KM, Mile, Each}, false},
	{EscortNight, []Unit{Night}, false},
	{EscortStandby, []Unit{Hour, Day}, false},
	{Permit, []Unit{Each}, false},
	{PermitAgent, []Unit{Each, Percent}, false},
	{Survey, []Unit{Each, KM, Mile}, false},
	{Toll, []Unit{Each}, false},
	{Ferry, []Unit{Each, Metre, Foot}, false},
	{Insurance, []Unit{Percent, Each}, false},
	{Other, []Unit{Each}, false},
	{Contingency, []Unit{Percent, Each}, false},
	{Margin, []Unit{Percent, Each}, false},
	{Tax, []Unit{Percent}, false},
	{Validity, []Unit{Day}, true},
	{Payment, []Unit{Day}, true},
	{Deposit, []Unit{Percent, Each}, true},
	{Cancellation, []Unit{Percent, Each}, true},
}

// Items lists the items in the order in which a quote has them.
func Items() []Item {
	var out []Item
	for _, k := range kinds {
		out = append(out, k.item)
	}
	return out
}

// Parts lists the items that a move has, and taxes: no share of others and no term.
func Parts() []Item {
	return slices.DeleteFunc(Items(), func(i Item) bool {
		return i.IsTerm() || i == FuelSurcharge || i == PermitAgent || i == Insurance || i == Contingency || i == Margin
	})
}

// Units lists the units, each once.
func Units() []Unit {
	return []Unit{KM, Mile, Hour, Day, Night, Litre, USGal, Metre, Foot, Each, Percent}
}

// Term is the code of the item's name.
func (i Item) Term() say.Code { return say.Word("rate.item", string(i)) }

// Term is the code of the unit's name.
func (u Unit) Term() say.Code { return say.Word("rate.unit", string(u)) }

// Several is a unit in a quantity, which can be more than one.
type Several Unit

// Term is the code of the name of more than one of the unit.
func (s Several) Term() say.Code { return say.Word("rate.units", string(s)) }

// Units lists what a price of the item may be for one of.
func (i Item) Units() []Unit {
	if at := i.at(); at >= 0 {
		return kinds[at].units
	}
	return nil
}

// IsTerm reports whether the item is a term of the contract and in no sum.
func (i Item) IsTerm() bool {
	at := i.at()
	return at >= 0 && kinds[at].term
}

func (i Item) at() int { return slices.IndexFunc(kinds, func(k kind) bool { return k.item == i }) }
