package trip

import (
	"context"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
	"wayhouse/testdata/extracts"
)

// corridors are the average travel speeds of urban streets from the lower end of
// level of service D to that of A. Source: Highway Capacity Manual 2000, levels of
// service of urban streets by class, in mi/h; as quoted by the City of Pleasanton
// (Table A-IV): class I over 21 and 42, II over 17 and 35, III over 14 and 30, IV
// over 9 and 25; level E ends at 16, 13, 10 and 7. The class of a street is by its
// free-flow speed: 45 to 55 mi/h, 35 to 45, 30 to 35, 25 to 35. Which class of
// road is which is ours.
var corridors = map[network.Class]struct{ slowest, low, high measure.Speed }{
	network.Trunk:       {13 * measure.MilePerHour, 17 * measure.MilePerHour, 42 * measure.MilePerHour}, // I or II
	network.Primary:     {10 * measure.MilePerHour, 14 * measure.MilePerHour, 35 * measure.MilePerHour}, // II or III
	network.Secondary:   {10 * measure.MilePerHour, 14 * measure.MilePerHour, 35 * measure.MilePerHour},
	network.Tertiary:    {7 * measure.MilePerHour, 9 * measure.MilePerHour, 30 * measure.MilePerHour}, // III or IV
	network.Residential: {7 * measure.MilePerHour, 9 * measure.MilePerHour, 25 * measure.MilePerHour}, // IV
}

// town is how far and how long ways were driven.
type town struct {
	length measure.Distance
	time   driving.Duration
}

func (d town) mean() measure.Speed { return measure.Speed(float64(d.length) / d.time.Seconds()) }
func (d town) slow() measure.Speed { return measure.Speed(float64(d.length) / d.time.Slow.Seconds()) }

// Random routes drive below 40 km/h through towns, and as fast as such streets are
// driven: likely at level of service A to D, if slow no worse than E.
func TestSpeedsInTown(t *testing.T) {
	for _, name := range []string{extracts.Delaware, "andorra-latest.osm.bz2"} {
		p := plannerOf(t, filepath.Join(extracts.Real(t), name))
		towns, by := inTown(t, p, 200)
		if v := towns.mean(); v >= 40*measure.KilometrePerHour || v < 15*measure.KilometrePerHour {
			t.Errorf("%s: %.1f km/h in towns", name, v/measure.KilometrePerHour)
		}
		t.Logf("%s: %.1f km/h in towns, %.1f if slow, over %.0f km", name, towns.mean()/measure.KilometrePerHour,
			towns.slow()/measure.KilometrePerHour, towns.length/1000)
		for class, band := range corridors {
			d := by[class]
			t.Logf("  %s: %.1f km/h, %.1f if slow, over %.0f km", class, d.mean()/measure.KilometrePerHour,
				d.slow()/measure.KilometrePerHour, d.length/1000)
			if v := d.mean(); d.length > 20_000 && (v < band.low || v > band.high || d.slow() < band.slowest) {
				t.Errorf("%s: %s driven at %.1f km/h, %.1f if slow", name, class, v/measure.KilometrePerHour,
					d.slow()/measure.KilometrePerHour)
			}
		}
	}
}

// inTown drives random routes and sums up what of them lies in built-up areas, but
// freeways: all, and by class.
func inTown(t *testing.T, p *Planner, routes int) (all town, by map[network.Class]town) {
	random := rand.New(rand.NewPCG(15, 4))
	r := rigs()[0]
	r.Stops[0].Point, r.Stops[1].Point = p.Network.Node[0], p.Network.Node[1]
	b, err := p.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	position := func() network.Position {
		for {
			e := network.EdgeID(random.IntN(p.Network.Edges()))
			if b.stands.Drivable(e) {
				return network.Position{Edge: e, Offset: p.Network.Length[e] / 2}
			}
		}
	}
	by = map[network.Class]town{}
	rules, pace := b.chooses.Rules(choosing.Terms{}), driving.Pace{Network: p.Network}
	for range routes {
		found, err := p.Engine.Route(context.Background(), position(), position(), rules)
		if errors.Is(err, search.ErrNoRoute) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		for i, piece := range found.Pieces {
			e := piece.Arc.Edge()
			class := p.Network.Class[e]
			if !p.Network.Record(p.Network.RoadID(e)).Flags.Has(network.BuiltUp) || class == network.Freeway {
				continue
			}
			before := found.Pieces[max(i-1, 0):i] // with the turn between them
			one := town{piece.Length(), pace.Time(found.Pieces[max(i-1, 0) : i+1]).Sub(pace.Time(before))}
			add := func(d town) town { return town{d.length + one.length, d.time.Add(one.time)} }
			all, by[class] = add(all), add(by[class])
		}
	}
	return all, by
}
