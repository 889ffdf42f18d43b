package trip

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/trip/standing"
)

// What a permit is worth is no time on the clock: a road that is closed when the
// rig comes by is not driven because a price said that it is later.
func TestPricesAreNoClock(t *testing.T) {
	for _, cost := range []time.Duration{0, 2 * time.Hour} {
		roads := abroad()
		roads[1].signs = signs(access(everyone, refused).at("08:00-09:30"))
		roads[2].road.Flags, roads[3].road.Flags = network.OnewayAgainst, network.OnewayAgainst
		p := plan(t, world(t, roads, nil), house(func(r *Request) { r.Wishes.PermitCost = cost }))
		if waits := len(byRule(p, "waiting")) > 0; waits != (cost == 0) || p.Passable != (cost == 0) {
			t.Errorf("permit worth %v: waits %t, passable %t", cost, waits, p.Passable)
		}
	}
}

// A wait may lead into hours that the trip would not have met: they count too.
func TestWaitingMeetsOtherHours(t *testing.T) {
	roads := fork(road{signs: signs(access(everyone, refused).at("08:00-14:00"))})
	end := road{
		name:  "end",
		from:  [2]float64{10, 0},
		to:    [2]float64{15, 0},
		signs: signs(access(everyone, refused).at("14:00-18:00")),
	}
	p := plan(t, world(t, []road{roads[0], roads[1], end}, nil), house())
	waits := byRule(p, "waiting")
	if len(waits) == 0 || p.cost < 9*3600*1000 {
		t.Errorf("%d waits, %d ms; want until after 18:00", len(waits), p.cost)
	}
	for _, l := range p.Legs[1:] {
		if !l.Start.IsZero() {
			t.Errorf("a leg behind a wait starts at %s", l.Start)
		}
	}
}

// A given route over a road that is closed when the rig comes by is forbidden.
func TestGivenRouteAtClosedHours(t *testing.T) {
	for hours, want := range map[string]bool{"Jan-Jul": true, "20:00-21:00": false} {
		w := world(t, fork(road{signs: signs(access(everyone, refused).at(hours))}), nil)
		p := plan(t, w, house(given([2]float64{-4, 0}, [2]float64{0, 0}, [2]float64{10, 0}, [2]float64{14, 0})))
		if closed := p.Verdict.Outcome() == finding.Forbidden; closed != want {
			t.Errorf("%s: %s", hours, p.Verdict.Outcome())
		}
	}
}

// Many unmeasured things on the only way leave a way.
func TestManyUnmeasured(t *testing.T) {
	r := road{name: "way", from: [2]float64{-5, 0}, to: [2]float64{15, 0}}
	for i := range 700 {
		r.spots = append(r.spots, spot{kind: network.PowerLine, part: measure.Distance(i+1) / 800, osm: int64(i)})
	}
	p := plan(t, world(t, []road{r}, nil), house(func(r *Request) { r.AvoidUnmeasured = true }))
	if !p.Passable || len(p.Legs) == 0 {
		t.Errorf("passable %t", p.Passable)
	}
}

// A wish that leaves only ways that are shut to the rig is named, and the plan does
// not say that every way is shut.
func TestWishBesideALowBridge(t *testing.T) {
	w := world(t, fork(bridged(3), road{road: network.Road{Flags: network.Toll}}), nil)
	_, err := w.Plan(context.Background(), house(func(r *Request) { r.Wishes.NoTolls = true }))
	var refusal *RequestError
	if !errors.As(err, &refusal) || refusal.Field != "wishes" || refusal.Value != "no_tolls" {
		t.Errorf("%v", err)
	}
}

// The ladder of a rig that is higher than its measured unit takes off what a
// designed height asks for, as a plan does.
func TestLadderOfAMeasuredUnit(t *testing.T) {
	r := house(func(r *Request) {
		r.Rig.Unit.HeightMeasured, r.Allowances = true, clearance.DefaultAllowances()
		r.Rig.Unit.Height, r.Rig.Height = length(3700), measure.Given(length(3740))
	})
	w := world(t, fork(bridged(3.95), bridged(4.30)), nil)
	got, err := w.Ladders(context.Background(), r, rig.Height)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Open.Steps; len(s) != 2 || s[0].Most != int64(4100*measure.Millimetre) ||
		s[1].Most != int64(3750*measure.Millimetre) {
		t.Errorf("%+v", s)
	}
}

// What may limit the width and does not say how is named, and gone round where
// nothing unmeasured is wanted.
func TestLadderOfWidthAtAGate(t *testing.T) {
	w := world(t, fork(road{spots: []spot{{kind: network.Gate, part: 0.5, node: true}}}), nil)
	got, err := w.Ladders(context.Background(), house(), rig.Width)
	if err != nil {
		t.Fatal(err)
	}
	open, shut := got.Open.Steps, got.Shut.Steps
	if len(open) != 1 || len(open[0].Unknowns) != 1 || open[0].Unknowns[0].Get("kind") != network.Gate || len(shut) != 1 ||
		shut[0].Cost <= open[0].Cost {
		t.Errorf("open %+v, shut %+v", open, shut)
	}
}

// A rated mass is not the mass on the scale: it is unknown on a ladder of mass.
func TestLadderOfRatedMass(t *testing.T) {
	w := world(t, fork(road{signs: signs(tonnes(network.MaxRating, 9))}), nil)
	got, err := w.Ladders(context.Background(), house(), rig.Mass)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Open.Steps; len(s) != 2 || len(s[1].Unknowns) != 1 {
		t.Errorf("%+v", s)
	}
}

// An absolute ban of hazardous goods counts, whatever stands before it.
func TestHazmatBanBehindAMilderSign(t *testing.T) {
	list := signs(
		access(network.Hazmat, refused).at("20:00-21:00"),
		access(network.Hazmat, network.Destination),
		access(network.Hazmat, refused),
	)
	r := house(func(r *Request) { r.Wishes.Hazmat = standing.Yes })
	takes(t, "a ban behind others", plan(t, world(t, fork(road{signs: list}), nil), r), "long")
}

// A drawn side is straight in degrees: a wide box is as high in its middle as at
// its corners.
func TestDrawnSidesAreStraight(t *testing.T) {
	wide := [][2]float64{{-81, 44.95}, {-71, 44.95}, {-71, 45.02}, {-81, 45.02}, {-81, 44.95}}
	r := house(func(r *Request) { r.Wishes.NotThrough = polygon(wide) })
	_, err := world(t, fork(road{}), nil).Plan(context.Background(), r)
	var refusal *RequestError
	if !errors.As(err, &refusal) || refusal.Field != "wishes" {
		t.Errorf("a box over all roads leaves a way: %v", err)
	}
}

func polygon(ring [][2]float64) orb.MultiPolygon {
	var out orb.Ring
	for _, p := range ring {
		out = append(out, orb.Point(p))
	}
	return orb.MultiPolygon{{out}}
}

// Where prices are no clock a way waits for nothing: what is closed when it comes by
// is forbidden, though it was not expected to be met.
func TestClosedOnAPricedWay(t *testing.T) {
	roads := fork(road{signs: signs(access(everyone, refused).at("08:40-09:30"))})
	roads = roads[:2]                             // no other way
	roads[0].speed = 5 * measure.KilometrePerHour // slower than expected
	roads = append(roads, road{name: "end", from: [2]float64{10, 0}, to: [2]float64{15, 0}})
	p := plan(t, world(t, roads, nil), house(func(r *Request) { r.Wishes.PermitCost = time.Minute }))
	if p.Passable && len(byRule(p, "hours of signs")) == 0 {
		t.Errorf("a road that is closed when the rig comes by is driven without a word: %s", p.Verdict.Outcome())
	}
}
