package standing

import (
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// truck is how surely signs for trucks bind the rig on an edge.
func (t *traveller) truck(e network.EdgeID) regs.Trucks {
	codes, town := t.net.Jurisdictions(e), t.net.Town(e)
	key := strings.Join(append(codes[:len(codes):len(codes)], town), "\x00")
	out, known := t.trucks[key]
	if !known {
		out = t.Tables.Trucks(t.rig.Truck(), codes, town, t.from)
		t.trucks[key] = out
	}
	return out
}

// split lists the modes whose signs surely bind the rig where signs for trucks do so as
// surely as told, and those of which that is open: nothing tells when a rig counts as a
// light goods vehicle.
func (t *traveller) split(truck limit.Applies) (sure, open []network.Mode) {
	heavy := []network.Mode{network.HeavyGoods}
	if t.rig.Unit.Form() != limit.Trailer {
		heavy = append(heavy, network.Articulated)
	}
	sure, open = slices.Clone(t.modes), []network.Mode{network.GoodsVehicles}
	switch truck {
	case limit.Yes:
		sure = append(sure, heavy...)
	case limit.Perhaps:
		open = append(heavy, open...)
	}
	return sure, open
}

// signs judges all signs of a record: those for trucks count twice, for a rig that is
// none and for one that is.
func (t *traveller) signs(j *judgement, r network.Record, key judged, otherwise network.Word) {
	sure, open := t.split(key.truck)
	t.access(j, r, key, sure, otherwise)
	t.hazmat(j, r, key.reverse)
	t.figures(j, r, key, sure)
	if len(r.Signs) == 0 {
		return
	}
	var perhaps judgement
	t.access(&perhaps, r, key, open, otherwise)
	t.figures(&perhaps, r, key, open)
	j.fold(&perhaps)
}

// fold takes in what holds only if the rig counts as a truck, where nothing says so
// anyway. What would shut it out is for a person to decide, and what would ask for
// anything is not known.
func (j *judgement) fold(perhaps *judgement) {
	for _, n := range perhaps.notes {
		if slices.ContainsFunc(
			j.notes,
			func(o note) bool { return o.rule == n.rule && o.said().String() == n.said().String() },
		) {
			continue
		}
		n.truck, n.reason = true, finding.KindOpen
		switch n.outcome {
		case finding.Forbidden:
			n.outcome, n.shuts = finding.Review, true
			j.shut, j.trucks = true, true
		case finding.Conditional:
			n.outcome, n.demands = finding.Unknown, finding.Demands{}
		}
		n.says = say.That("sign.if_truck", "says", n.says)
		j.say(n)
	}
	j.ends, j.hours = j.ends || perhaps.ends, j.hours || perhaps.hours
}

// banned tells how surely a sequence of the network is a forbidden turn that binds the rig: a
// U-turn is none. One that holds under a condition is taken to hold always.
func (t *traveller) banned(i int32) limit.Applies {
	if int(i) >= t.net.Bans() {
		return limit.No
	}
	if bound, known := t.bans[i]; known {
		return bound
	}
	b, arcs := t.net.Ban(int(i))
	sure, open := t.split(t.truck(arcs[len(arcs)-1].Edge()).Binds)
	out := limit.No
	switch {
	case b.Binds(sure):
		out = limit.Yes
	case b.Binds(open):
		out = limit.Perhaps
	}
	t.bans[i] = out
	return out
}

// TruckSigns lists what shuts the rig out of a piece only if it counts as a truck.
func (j *Judge) TruckSigns(p network.Piece) (out []say.Remark) {
	j.judge(p, func(one *judgement) {
		for _, n := range one.notes {
			if n.truck && n.shuts {
				out = append(out, onRoad(j.Network.RoadName(p.Arc.Edge()), n))
			}
		}
	})
	return out
}

// ofTrucks is what settles whether a sign for trucks binds the rig: its rating, where a
// row tells from it, or whoever runs the road.
func (j *Judge) ofTrucks(asks say.Remark, codes []string) [][]finding.Step {
	var rating []finding.Step
	for _, field := range j.Rig.Unrated() {
		rating = append(rating, finding.Step{
			By: finding.Answer, Of: field, Asks: say.That("task.rating", "field", field),
		})
	}
	office := append(rating[:len(rating):len(rating)], regs.AskingRoads(asks))
	if len(rating) > 0 && j.Tables.Trucks(j.Rig.Truck(), codes, "", j.Departure).ByRating {
		return [][]finding.Step{rating, office}
	}
	return finding.By(office...)
}
