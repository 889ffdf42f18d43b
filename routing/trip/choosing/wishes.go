package choosing

import (
	"fmt"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/standing"
)

// Wishes are what the user asks of a route beside that the rig fits. A way that
// breaks one is never taken; where that leaves no way, the wish is named.
type Wishes struct {
	NoFerries, NoTolls, NoUnpaved bool
	// NoUTurns turns back nowhere on the way.
	NoUTurns bool
	// Others is what roads cost that are no truck roads; 0: network.Preferred.
	Others network.Permille
	// NoUnmeasured goes under nothing without a usable clear height.
	NoUnmeasured bool
	NotIn        []string         // jurisdictions by code; near a border roads of both sides count
	NotThrough   orb.MultiPolygon // drawn areas, WGS84
	NotBy, By    []string         // roads by number or name; each of By is used between every two stops
	Hazmat       standing.Answer  // whether goods aboard count as hazardous
	Top          measure.Speed    // the rig drives no faster; 0: as the roads allow

	// PermitCost is by what detour each entry into a jurisdiction is worth
	// avoiding, for the permit it asks for; of all jurisdictions but those that
	// PermitCosts names.
	PermitCost  time.Duration
	PermitCosts map[string]time.Duration
	// Once charges each of PermitCosts once and not at each entry, by trying every
	// set of them: for MaxOnce jurisdictions at most.
	Once bool
}

// Bounds of wishes.
const (
	MaxOnce       = 6
	maxNotBy      = 20
	maxAreaPoints = 2_000
	maxPermitCost = 24 * time.Hour
	maxOthers     = 3 * network.Alike
)

// Check refuses wishes that are beyond their bounds.
func (w *Wishes) Check() error {
	points := 0
	for i, polygon := range w.NotThrough {
		if len(polygon) != 1 || len(polygon[0]) < 4 || polygon[0][0] != polygon[0][len(polygon[0])-1] {
			return fail(
				fmt.Sprintf("wishes.not_through[%d]", i),
				"",
				say.That("error.no_closed_ring_of"),
				say.That("fix.draw_it_as_one"),
			)
		}
		points += len(polygon[0])
	}
	switch {
	case len(w.By) > search.MaxUses:
		return fail("wishes.by", fmt.Sprint(len(w.By)), say.That("error.too_many", "bound", search.MaxUses),
			say.That("fix.name_fewer_or_give"))
	case len(w.NotBy) > maxNotBy:
		return fail("wishes.not_by", fmt.Sprint(len(w.NotBy)), say.That("error.too_many", "bound", maxNotBy),
			say.That("fix.name_fewer_or_draw"))
	case points > maxAreaPoints:
		return fail("wishes.not_through", fmt.Sprint(points), say.That("error.points", "bound", maxAreaPoints),
			say.That("fix.draw_it_more_coarsely"))
	case w.Others != 0 && (w.Others < network.Alike || w.Others > maxOthers):
		return fail("wishes.truck_roads", fmt.Sprint(float64(w.Others)/float64(network.Alike)),
			say.That("error.no_preference"), say.That("fix.give_from_1_to_3"))
	case w.Once && len(w.PermitCosts) > MaxOnce:
		return fail("wishes.permit_costs", fmt.Sprint(len(w.PermitCosts)),
			say.That("error.too_many_once", "bound", MaxOnce), say.That("fix.name_fewer_or_charge"))
	case w.Once && (len(w.PermitCosts) == 0 || w.PermitCost > 0):
		return fail("wishes.once", "true", say.That("error.wants_the_jurisdictions_that"), say.That("fix.name_them"))
	}
	return w.checkCosts()
}

func (w *Wishes) checkCosts() error {
	bad := func(d time.Duration) bool { return d < 0 || d > maxPermitCost }
	if bad(w.PermitCost) {
		return fail("wishes.permit_cost", w.PermitCost.String(), say.That("error.no_detour_that_a"),
			say.That("fix.give_from_0_to"))
	}
	for code, d := range w.PermitCosts {
		if bad(d) {
			return fail("wishes.permit_costs."+code, d.String(), say.That("error.no_detour_that_a"),
				say.That("fix.give_from_0_to"))
		}
	}
	return nil
}

// entering returns what entering a jurisdiction costs.
func (w *Wishes) entering(code string) time.Duration {
	if d, ok := w.PermitCosts[code]; ok {
		return d
	}
	return w.PermitCost
}
