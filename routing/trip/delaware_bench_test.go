package trip

import (
	"context"
	"math/rand/v2"
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
)

// BenchmarkDelaware searches between places of Delaware, as a plan does: rig and
// signs are judged anew for each.
func BenchmarkDelaware(b *testing.B) {
	p := delawarePlanner(b)
	for i, name := range []string{"low", "tall"} {
		b.Run(name, func(b *testing.B) {
			r := rigs()[3*i]
			r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
			builder, err := p.newBuilder(r)
			if err != nil {
				b.Fatal(err)
			}
			random := rand.New(rand.NewPCG(1, 1))
			position := func() network.Position {
				for {
					if e := network.EdgeID(random.IntN(p.Network.Edges())); builder.stands.Drivable(e) {
						return network.Position{Edge: e, Offset: p.Network.Length[e] * measure.Distance(random.Float64())}
					}
				}
			}
			rules := builder.chooses.Rules(choosing.Terms{})
			settled := 0
			b.ReportAllocs()
			for b.Loop() {
				found, _ := p.Engine.Route(context.Background(), position(), position(), rules)
				settled += found.Settled
			}
			b.ReportMetric(float64(settled)/float64(b.N), "settled/op")
		})
	}
}
