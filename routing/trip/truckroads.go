package trip

import (
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
)

// truckRoads measures how much of the way is truck roads, where the network knows of them.
func (b *builder) truckRoads(ways []way) {
	if b.Network.Lacks(network.TruckRoads) {
		return
	}
	var sum measure.Distance
	for _, w := range ways {
		for _, p := range w.Pieces {
			if b.Network.TruckRoad(p.Arc) {
				sum += p.Length()
			}
		}
	}
	b.plan.TruckRoads = measure.Exactly(sum)
}
