package main

import (
	"reflect"

	"github.com/spf13/pflag"

	"wayhouse/api/wire"
)

// wishFlags are the flags of what is asked of a way beside that the rig fits.
type wishFlags struct {
	NoFerries, NoTolls, NoUnpaved, NoUnmeasured bool
	NotIn, NotBy, By                            []string
	Hazmat, TopSpeed, PermitCost                string
}

func (w *wishFlags) flags(set *pflag.FlagSet) {
	set.BoolVar(&w.NoFerries, "no-ferries", false, "take no ferry, even where nothing else leads there")
	set.BoolVar(&w.NoTolls, "no-tolls", false, "use no toll road")
	set.BoolVar(&w.NoUnpaved, "no-unpaved", false, "use no road that is known to be unpaved")
	set.BoolVar(&w.NoUnmeasured, "no-unmeasured", false, "go under nothing without a usable clear height")
	set.StringArrayVar(&w.NotIn, "not-in", nil, "a jurisdiction to keep out of, such as US-NY; may be repeated")
	set.StringArrayVar(&w.NotBy, "not-by", nil, "a road not to use, by number or name; may be repeated")
	set.StringArrayVar(&w.By, "by", nil, "a road to use somewhere, by number or name; may be repeated")
	set.StringVar(&w.Hazmat, "hazmat", "", "yes or no: whether goods aboard, such as propane, count as hazardous (default: unknown)")
	set.StringVar(&w.TopSpeed, "top-speed", "", "drive no faster, such as \"90 km/h\" or \"55 mph\"")
	set.StringVar(&w.PermitCost, "permit-cost", "", "by what detour each permit is worth avoiding, such as \"30 min\" or \"2 h\"")
}

// overlay replaces what a flag was given for.
func (w wishFlags) overlay(q *wire.TripRequest) {
	if reflect.ValueOf(w).IsZero() {
		return
	}
	if q.Wishes == nil {
		q.Wishes = &wire.WishesRequest{}
	}
	to := q.Wishes
	to.NoFerries, to.NoTolls = to.NoFerries || w.NoFerries, to.NoTolls || w.NoTolls
	to.NoUnpaved, to.NoUnmeasured = to.NoUnpaved || w.NoUnpaved, to.NoUnmeasured || w.NoUnmeasured
	for _, list := range []struct {
		to   *[]string
		flag []string
	}{{&to.NotIn, w.NotIn}, {&to.NotBy, w.NotBy}, {&to.By, w.By}} {
		if len(list.flag) > 0 {
			*list.to = list.flag
		}
	}
	if w.Hazmat != "" {
		to.Hazmat = w.Hazmat
	}
	if w.TopSpeed != "" {
		to.TopSpeed = &w.TopSpeed
	}
	if w.PermitCost != "" {
		to.PermitCost = &w.PermitCost
	}
}
