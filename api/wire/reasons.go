package wire

import (
	"slices"

	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// Reasons are what bent the way. Costs are driving times as the search reckons
// them, turns included; the price of roads that are no truck roads is no time and in none.
type Reasons struct {
	Mark     string        `json:"mark,omitempty"`
	Bent     []BarrierCost `json:"bent" doc:"What costs most now first"`
	Together *ReasonGroup  `json:"together" doc:"What matters only together; null where nothing does"`
	Closing  []Barrier     `json:"closing" doc:"What is enough to shut every way, nothing of it to spare; empty where there is a way"`
	Nearest  []NearestSize `json:"nearest" doc:"Where there is no way: sizes that would pass, each with all else as it is"`
	Trucks   *Preferred    `json:"truck_roads" doc:"What keeping to truck roads does to the way; null where it does nothing"`
	Complete bool          `json:"complete" doc:"False where there is more than was looked into"`
}

// Preferred is what preferring some roads costs, compared with a way on which all are alike.
type Preferred struct {
	ExtraM float64 `json:"extra_m" doc:"By how much the way is longer; below zero: shorter"`
	ExtraS float64 `json:"extra_s" doc:"By how much longer it takes, turns included"`
}

// Barrier is a structure, a sign or a wish that shuts the rig out of a road.
type Barrier struct {
	Mark string               `json:"mark,omitempty"`
	What string               `json:"what"`
	Kind standing.BarrierKind `json:"kind"`
	Lat  float64              `json:"lat" doc:"Where it was met first"`
	Lon  float64              `json:"lon"`
	When string               `json:"when,omitempty" doc:"The hours at which it holds; always when left out"`
	Rows []Citation           `json:"rows" doc:"Where it comes from; none for a wish"`
}

// BarrierCost is one barrier and what it costs.
type BarrierCost struct {
	Barrier
	AloneS float64 `json:"alone_s" doc:"What it would cost were it the only one"`
	SavesS float64 `json:"saves_s" doc:"What would be saved were it alone lifted"`
}

// ReasonGroup are barriers that cost something only together.
type ReasonGroup struct {
	Mark     string    `json:"mark,omitempty"`
	Barriers []Barrier `json:"barriers"`
	CostsS   float64   `json:"costs_s" doc:"More than with no barrier at all, were they the only ones"`
	SavesS   float64   `json:"saves_s" doc:"Now, were all of them lifted"`
}

// NearestSize is a size that would pass.
type NearestSize struct {
	Mark     string       `json:"mark,omitempty"`
	Quantity rig.Quantity `json:"quantity"`
	Is       string       `json:"is" doc:"What the rig has"`
	IsM      *float64     `json:"is_m,omitempty" doc:"The length exactly"`
	IsKG     *float64     `json:"is_kg,omitempty" doc:"The mass exactly"`
	Most     string       `json:"most" doc:"The greatest that passes, rounded down"`
	MostM    *float64     `json:"most_m,omitempty" doc:"The length exactly"`
	MostKG   *float64     `json:"most_kg,omitempty" doc:"The mass exactly"`
	By       string       `json:"by" doc:"What limits it"`
}

func (tell teller) newReasons(routes *trip.Routes) *Reasons {
	r := routes.Reasons
	if r == nil {
		return nil
	}
	out := &Reasons{
		Mark: mark(r.RestsOnInvented() || len(r.Nearest) > 0 && routes.Best.Invented),
		Bent: each(r.Bent, tell.newBarrierCost), Closing: tell.newBarriers(r.Closing), Complete: r.Complete,
		Nearest: each(r.Nearest, func(n choosing.Nearest) NearestSize {
			out := NearestSize{
				Mark: mark(n.Invented || routes.Best.Invented), Quantity: n.Quantity, Is: tell.Quantity(n.Is),
				Most: tell.Down(n.Most), By: tell.Say(n.By),
			}
			out.IsM, out.IsKG = exactly(n.Is)
			out.MostM, out.MostKG = exactly(n.Most)
			return out
		}),
	}
	if p := r.Preferred; p != nil {
		out.Trucks = &Preferred{round(float64(p.Extra)), seconds(p.ExtraTime)}
	}
	if g := r.Together; g != nil {
		out.Together = &ReasonGroup{
			Mark:     mark(slices.ContainsFunc(g.Barriers, func(b *standing.Barrier) bool { return b.Invented })),
			Barriers: tell.newBarriers(g.Barriers), CostsS: seconds(g.Costs), SavesS: seconds(g.Saves),
		}
	}
	return out
}

func (tell teller) newBarrierCost(r choosing.Reason) BarrierCost {
	return BarrierCost{tell.newBarrier(r.Barrier), seconds(r.Alone), seconds(r.Saves)}
}

func (tell teller) newBarriers(in []*standing.Barrier) []Barrier { return each(in, tell.newBarrier) }

func (tell teller) newBarrier(b *standing.Barrier) Barrier {
	return Barrier{
		Mark: mark(b.Invented), What: tell.Say(b.What), Kind: b.Kind, Lat: b.Point.Lat(),
		Lon: b.Point.Lon(), When: b.When, Rows: tell.newRows(b.Citations),
	}
}

func seconds(cost search.Millis) float64 { return round(float64(cost) / 1000) }
