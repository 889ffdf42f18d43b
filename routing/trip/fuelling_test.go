package trip

import (
	"slices"
	"testing"
	"time"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/trip/timetable"
)

// fuelled are the places of the fuel stops of a plan, in metres from its start.
func fuelled(p *Plan) (out []float64) {
	for _, e := range p.Timetable.Entries {
		if e.Kind == timetable.Fuel {
			out = append(out, float64(e.Begins))
		}
	}
	return out
}

// stopsFor is a request whose fuel stops take a time.
func stopsFor(long time.Duration, every measure.Distance) func(*Request) {
	return func(r *Request) { r.Pace.Fuel, r.Pace.FuelEvery = long, every }
}

// The timetable fills up where the drive finds that the tank is down with all at its worst,
// within a minute of driving before, and idling counts.
func TestTheTimetableFillsUpByTheTank(t *testing.T) {
	w, ends := world(t, far(), nil), from(off(0, 0), off(80_000, 0))
	for name, change := range map[string]func(*Request){
		"as it drives": func(*Request) {}, "with idling": func(r *Request) { r.Conditions.Idle = 2 * time.Hour },
	} {
		p := plan(t, w, described(ends, holds(20*measure.Litre), stopsFor(20*time.Minute, 0), change))
		got, driven := fuelled(p), p.Road.Tank.Stops
		if p.Timetable.Fuelling() != ByTank || len(got) == 0 || len(got) != len(driven) {
			t.Errorf("%s: %v, %v; the drive finds %v", name, p.Timetable.Fuelling(), got, driven)
			continue
		}
		const minute = 2000 // metres at the most
		if d := float64(driven[0].At) - got[0]; d < 0 || d > minute {
			t.Errorf("%s: at %v, the tank is down at %v", name, got[0], driven[0].At)
		}
		untimed := plan(t, w, described(ends, holds(20*measure.Litre), change))
		took := p.Timetable.Arrival.Slow.Sub(untimed.Timetable.Arrival.Slow)
		if !slices.ContainsFunc(untimed.Assumptions, func(r say.Remark) bool { return r.Code == "assume.fuel_time" }) {
			t.Errorf("%s: nobody says that no time is planned", name)
		}
		if want := 20 * time.Minute * time.Duration(len(got)); took < want || untimed.Timetable.Fuelling() != Untimed {
			t.Errorf("%s: the stops take %v, want %v", name, took, want)
		}
	}
}

// Where nobody can tell how far a tank goes, or it goes nowhere, the timetable has no fuel stop
// and says so; a spacing that is given goes before the tank.
func TestWhatFuelStopsRestOn(t *testing.T) {
	w, ends := world(t, far(), nil), from(off(0, 0), off(80_000, 0))
	for name, tc := range map[string]struct {
		change func(*Request)
		by     Fuelling
		stops  bool
	}{
		"no tank":      {func(r *Request) { stopsFor(20*time.Minute, 0)(r) }, NotKnown, false},
		"a drop":       {func(r *Request) { holds(measure.Litre / 10)(r); stopsFor(20*time.Minute, 0)(r) }, NotKnown, false},
		"a large tank": {func(r *Request) { holds(200 * measure.Litre)(r); stopsFor(20*time.Minute, 0)(r) }, ByTank, false},
		"as it is said": {func(r *Request) {
			holds(200 * measure.Litre)(r)
			stopsFor(20*time.Minute, 30_000)(r)
		}, ByPace, true},
	} {
		p := plan(t, w, described(ends, tc.change))
		if got := fuelled(p); p.Timetable.Fuelling() != tc.by || len(got) > 0 != tc.stops {
			t.Errorf("%s: by %v at %v", name, p.Timetable.Fuelling(), got)
		}
	}
}
