package trip

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/search"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/standing"
)

// bridged is a road under a bridge that is posted so many metres.
func bridged(metresHigh float64) road {
	return road{spots: []spot{{kind: network.RoadBridge, part: 0.5, signs: signs(metres(network.MaxHeight, metresHigh))}}}
}

// web is a tangle of roads between the stops, some under bridges.
func web(t *rapid.T, over func() []spot) []road {
	out := []road{
		{
			name: "start",
			from: [2]float64{-5, 0},
			to:   [2]float64{0, 0},
		}, {name: "end", from: [2]float64{10, 0}, to: [2]float64{15, 0}},
	}
	nodes := [][2]float64{{0, 0}, {10, 0}, {3, 4}, {7, 4}, {3, -4}, {7, -4}, {5, 8}}
	for range rapid.IntRange(4, 14).Draw(t, "roads") {
		i := rapid.IntRange(0, len(nodes)-1).Draw(t, "from")
		k := (i + rapid.IntRange(1, len(nodes)-1).Draw(t, "to")) % len(nodes)
		out = append(
			out,
			road{
				name:  "way",
				from:  nodes[i],
				to:    nodes[k],
				speed: measure.Speed(rapid.IntRange(5, 25).Draw(t, "speed")),
				spots: over(),
			},
		)
	}
	return out
}

func drawBridges(t *rapid.T) func() []spot {
	ways := int64(0)
	return func() []spot {
		ways++
		if rapid.Bool().Draw(t, "open") {
			return nil
		}
		if rapid.IntRange(0, 5).Draw(t, "unmeasured") == 0 {
			return []spot{{kind: network.RoadBridge, part: 0.5, osm: ways}}
		}
		h := float64(rapid.IntRange(30, 50).Draw(t, "height")) / 10
		return []spot{{kind: network.RailBridge, part: 0.3, osm: ways, signs: signs(metres(network.MaxHeight, h))}}
	}
}

// A rig as high as a step passes all stops by a way that costs what the step does; one that
// is a hair higher takes the next step, and above the last none. Whatever drive takes
// longer then is one that the step names.
func TestLadderStepsAreFreshQueries(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		roads := web(rt, drawBridges(rt))
		w := world(rt, roads, nil)
		measured := rapid.Bool().Draw(rt, "measured")
		r := house(func(r *Request) { r.Rig.Unit.HeightMeasured, r.Allowances = measured, clearance.DefaultAllowances() })
		for range rapid.IntRange(0, 2).Draw(rt, "between") {
			at := point(roads[rapid.IntRange(0, len(roads)-1).Draw(rt, "at")].from)
			if n := len(r.Stops) - 1; at != r.Stops[n-1].Point {
				r.Stops = slices.Insert(r.Stops, n, choosing.Stop{Label: fmt.Sprint(at), Point: at})
			}
		}
		ladders, err := w.Ladders(context.Background(), r, rig.Height)
		if err != nil {
			rt.Fatal(err)
		}
		for _, l := range []struct {
			choosing.Ladder
			shut bool
		}{{ladders.Open, false}, {ladders.Shut, true}} {
			for i, step := range l.Steps {
				if i > 0 && (step.Cost >= l.Steps[i-1].Cost || step.Most >= l.Steps[i-1].Most && l.Steps[i-1].Most != 0) {
					rt.Fatalf(
						"step %d takes %d ms for %d, the one above %d for %d",
						i,
						step.Cost,
						step.Most,
						l.Steps[i-1].Cost,
						l.Steps[i-1].Most,
					)
				}
				if step.Most == 0 {
					continue
				}
				at, above := fresh(rt, w, r, step.Most, l.shut), fresh(rt, w, r, step.Most+1, l.shut)
				if got := sum(at); got != step.Cost {
					rt.Fatalf("step %d takes %d ms, a rig of its height %d", i, step.Cost, got)
				}
				for drive := range at {
					if above[drive] != at[drive] && !slices.Contains(step.Binds, drive) {
						rt.Fatalf("step %d binds on %v, and drive %d takes longer above it", i, step.Binds, drive)
					}
				}
				want := search.Infinite
				if i > 0 {
					want = l.Steps[i-1].Cost
				}
				if got := sum(above); got != want {
					rt.Fatalf("above step %d a rig takes %d ms, the next step %d", i, got, want)
				}
			}
		}
	})
}

func sum(costs []search.Millis) (out search.Millis) {
	for _, c := range costs {
		out = min(out+c, search.Infinite)
	}
	return out
}

// fresh is what each drive of a rig of a height costs.
func fresh(t fataler, w *Planner, r Request, height int64, shut bool) (out []search.Millis) {
	h := measure.Length(height)
	r.Rig.Height, r.Rig.Unit.Height, r.Wishes.NoUnmeasured = measure.Given(&h), &h, shut
	b, err := w.newBuilder(r)
	if err != nil {
		t.Fatal(err)
	}
	at, err := b.chooses.Snap()
	if err != nil {
		t.Fatal(err)
	}
	for i := range at[1:] {
		path, err := b.chooses.First(context.Background(), at[i].Position, at[i+1].Position, choosing.Terms{})
		if errors.Is(err, search.ErrNoRoute) {
			path.Cost = search.Infinite
		} else if err != nil {
			t.Fatal(err)
		}
		out = append(out, path.Cost)
	}
	return out
}

// A ladder worked out by hand: the short way lets 3.75 m pass (3.95 m less 0.20 m
// for a designed rig in May), the long one 4.10 m.
func TestLadderByHand(t *testing.T) {
	w := world(t, fork(bridged(3.95), bridged(4.30)), nil)
	r := house(func(r *Request) { r.Allowances = clearance.DefaultAllowances() })
	got, err := w.Ladders(context.Background(), r, rig.Height)
	if err != nil {
		t.Fatal(err)
	}
	var most []int64
	for _, s := range got.Open.Steps {
		most = append(most, s.Most/int64(measure.Millimetre))
		if len(s.Unknowns) > 0 || !slices.Equal(s.Areas, []string{"CA-ON"}) {
			t.Errorf("%+v", s)
		}
	}
	if !slices.Equal(most, []int64{4100, 3750}) {
		t.Errorf("steps up to %v mm, want 4100 and 3750", most)
	}
	if got.Open.Steps[0].Passes || !got.Unit.Known() { // 4.3 m
		t.Errorf("a rig of %s passes at 4.10 m", got.Unit)
	}
}

// Width and mass climb by signs and by structures.
func TestLadderOfWidthAndMass(t *testing.T) {
	for _, tc := range []struct {
		quantity rig.Quantity
		sign     sign
		want     int64
	}{
		{rig.Width, metres(network.MaxWidth, 2.5), int64(2500 * measure.Millimetre)},
		{rig.Mass, tonnes(network.MaxMass, 5), int64(5000 * measure.Kilogram)},
	} {
		w := world(t, fork(road{signs: signs(tc.sign)}), nil)
		got, err := w.Ladders(context.Background(), house(), tc.quantity)
		if err != nil {
			t.Fatal(err)
		}
		if s := got.Open.Steps; len(s) != 2 || s[0].Most != 0 || s[1].Most != tc.want {
			t.Errorf("%s: %+v", tc.quantity, s)
		}
	}
}

// What nothing is known of is open in one ladder and gone round in the other.
func TestLadderOfUnmeasured(t *testing.T) {
	w := world(t, fork(road{spots: []spot{{kind: network.RailBridge, part: 0.5}}}), nil)
	got, err := w.Ladders(context.Background(), house(), rig.Height)
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Open.Steps; len(s) != 1 || s[0].Most != 0 || len(s[0].Unknowns) != 1 {
		t.Errorf("open: %+v", s)
	}
	if s := got.Shut.Steps; len(s) != 1 || len(s[0].Unknowns) != 0 || s[0].Cost <= got.Open.Steps[0].Cost {
		t.Errorf("shut: %+v", s)
	}
}

func routes(t *testing.T, w *Planner, r RouteRequest) *Routes {
	t.Helper()
	out, err := w.Routes(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Two bridges on the short way, then one.
func TestReasons(t *testing.T) {
	short := bridged(3)
	short.spots = append(
		short.spots,
		spot{kind: network.RailBridge, part: 0.7, signs: signs(metres(network.MaxHeight, 3.1))},
	)
	got := routes(t, world(t, fork(short), nil), RouteRequest{Request: house(), Reasons: true}).Reasons
	// Either alone shuts the way: as the only one each costs the whole detour, and
	// lifting one saves nothing while the other stands.
	if got == nil || len(got.Bent) != 2 || got.Together != nil || !got.Complete {
		t.Fatalf("%+v", got)
	}
	for _, b := range got.Bent {
		if b.Saves != 0 || b.Alone <= 0 || b.Kind != standing.ByStructure {
			t.Errorf("%+v", b)
		}
	}
	got = routes(t, world(t, fork(bridged(3)), nil), RouteRequest{Request: house(), Reasons: true}).Reasons
	if len(got.Bent) != 1 || got.Bent[0].Saves != got.Bent[0].Alone || got.Bent[0].Saves <= 0 {
		t.Errorf("%+v", got.Bent)
	}
}

// Two bridges on each of two ways that are as good: none costs anything alone, and
// lifting one saves nothing; together they cost the whole detour.
func TestReasonsTogether(t *testing.T) {
	twice := bridged(3)
	twice.spots = append(
		twice.spots,
		spot{kind: network.RailBridge, part: 0.7, signs: signs(metres(network.MaxHeight, 3.1))},
	)
	roads := append(fork(twice), twice)
	roads[len(roads)-1].name, roads[len(roads)-1].from, roads[len(roads)-1].to = "twin", [2]float64{
		0,
		0,
	}, [2]float64{
		10,
		0,
	}
	got := routes(t, world(t, roads, nil), RouteRequest{Request: house(), Reasons: true}).Reasons
	if got.Together == nil || len(got.Together.Barriers) != 4 || got.Together.Costs <= 0 || len(got.Bent) != 0 {
		t.Errorf("%+v", got)
	}
}

// Where every way is shut, what closes them is named, and nothing that is not
// needed for that; and the height that would pass.
func TestClosing(t *testing.T) {
	short := bridged(3.6)
	short.signs = signs(metres(network.MaxWidth, 2))
	got := routes(t, world(t, fork(short, bridged(3.9)), nil), RouteRequest{Request: house(), Reasons: true})
	r := got.Reasons
	if got.Best.Passable || len(r.Closing) < 2 || len(r.Closing) > 3 {
		t.Fatalf("passable %t, closing %+v", got.Best.Passable, r.Closing)
	}
	if len(r.Nearest) != 1 || r.Nearest[0].Quantity != rig.Height ||
		!r.Nearest[0].Most.Equal(finding.Of(39*measure.Metre/10)) {
		t.Errorf("nearest %+v", r.Nearest)
	}
}

// Of barriers that close the way none can be left out.
func TestClosingIsLeast(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := world(rt, web(rt, drawBridges(rt)), nil)
		got, err := w.Routes(context.Background(), RouteRequest{Request: house(), Reasons: true})
		if err != nil {
			return // roads that nothing joins
		}
		r := got.Reasons
		if (len(r.Closing) > 0) == got.Best.Passable && r.Complete {
			rt.Fatalf("passable %t, closing %v", got.Best.Passable, r.Closing)
		}
		b, err := w.newBuilder(house())
		if err != nil {
			rt.Fatal(err)
		}
		at, err := b.chooses.Snap()
		if err != nil {
			rt.Fatal(err)
		}
		names := func(but int) func(*standing.Barrier) bool {
			return func(o *standing.Barrier) bool {
				return !slices.ContainsFunc(r.Closing, func(c *standing.Barrier) bool {
					return c != r.Closing[but] && c.What.String() == o.What.String() && c.Structure.ID == o.Structure.ID
				})
			}
		}
		for i := range r.Closing {
			if _, err := b.chooses.First(context.Background(), at[0].Position, at[1].Position,
				choosing.Terms{Lifted: names(i)}); err != nil {
				rt.Fatalf("without %q the way is still closed: %v", r.Closing[i].What, err)
			}
		}
	})
}

// Each wish is kept, and one that cannot be is an error or a shut plan that says
// so.
func TestWishes(t *testing.T) {
	toll := road{road: network.Road{Flags: network.Toll}}
	gravel := road{road: network.Road{Paved: network.Unpaved}}
	blind := road{spots: []spot{{kind: network.RailBridge, part: 0.5}}}
	area := orb.MultiPolygon{{{{-75.96, 44.99}, {-75.94, 44.99}, {-75.94, 45.01}, {-75.96, 45.01}, {-75.96, 44.99}}}}
	for _, tc := range []struct {
		name  string
		short road
		wish  choosing.Wishes
		want  string
	}{
		{"none", toll, choosing.Wishes{}, "short"},
		{"no tolls", toll, choosing.Wishes{NoTolls: true}, "long"},
		{"no unpaved", gravel, choosing.Wishes{NoUnpaved: true}, "long"},
		{"nothing unmeasured", blind, choosing.Wishes{NoUnmeasured: true}, "long"},
		{"not by a road", road{}, choosing.Wishes{NotBy: []string{"short"}}, "long"},
		{"by a road", road{}, choosing.Wishes{By: []string{"long"}}, "long"},
		{"not through an area", road{}, choosing.Wishes{NotThrough: area}, "long"},
		{"hazardous goods", road{signs: only(network.Hazmat, refused)}, choosing.Wishes{Hazmat: standing.Yes}, "long"},
		{"hazardous goods, none aboard", road{signs: only(network.Hazmat, refused)},
			choosing.Wishes{Hazmat: standing.No}, "short"},
	} {
		r := house(func(r *Request) { r.Wishes = tc.wish })
		takes(t, tc.name, plan(t, world(t, fork(tc.short), nil), r), tc.want)
	}
}

// Wishes that leave no way are named, those that do no harm are not.
func TestWishesThatLeaveNoWay(t *testing.T) {
	toll := road{road: network.Road{Flags: network.Toll}}
	water := fork(road{})
	for i := range water {
		water[i].class = network.Ferry
	}
	water[0].class, water[4].class = network.Primary, network.Primary
	for _, tc := range []struct {
		name         string
		roads        []road
		wish         choosing.Wishes
		field, value string
	}{
		{"both ways cost toll", fork(toll, toll), choosing.Wishes{NoTolls: true, NoUnpaved: true}, "wishes", "no_tolls"},
		{"one costs toll, the other is not wished", fork(toll), choosing.Wishes{NoTolls: true,
			NotBy: []string{"long"}}, "wishes", "no_tolls; not_by long"},
		{"only ferries", water, choosing.Wishes{NoFerries: true}, "wishes.no_ferries", "true"},
	} {
		_, err := world(t, tc.roads, nil).Plan(context.Background(), house(func(r *Request) { r.Wishes = tc.wish }))
		var refused *RequestError
		if !errors.As(err, &refused) || refused.Field != tc.field || refused.Value != tc.value {
			t.Errorf("%s: %v", tc.name, err)
		}
	}
}

// A road of a wish may be told apart by where it is.
func TestWishesOfStreetsInTowns(t *testing.T) {
	roads := fork(road{}, road{town: "Longtown"})
	roads[1].town = "Shorttown"
	for i := 1; i < 4; i++ {
		roads[i].name = "Main Street"
	}
	short := func(p *Plan) bool { return p.Length < 17_000 }
	for name, tc := range map[string]struct {
		wish  choosing.Wishes
		short bool
	}{
		"none":                   {choosing.Wishes{}, true},
		"by the short":           {choosing.Wishes{By: []string{"Main St, shorttown"}}, true},
		"by the long":            {choosing.Wishes{By: []string{"Main St, Longtown, ON"}}, false},
		"not by the short":       {choosing.Wishes{NotBy: []string{"Main Street, Shorttown, Ontario"}}, false},
		"not by the long":        {choosing.Wishes{NotBy: []string{"Main Street, Longtown"}}, true},
		"by one of them, in all": {choosing.Wishes{By: []string{"Main Street, CA-ON"}}, true},
	} {
		p := plan(t, world(t, roads, nil), house(func(r *Request) { r.Wishes = tc.wish }))
		if short(p) != tc.short {
			t.Errorf("%s: %v m, short wanted: %v", name, p.Length, tc.short)
		}
	}
	_, err := world(
		t,
		roads,
		nil,
	).Plan(context.Background(), house(func(r *Request) { r.Wishes.By = []string{"Main Street, Nowhere"} }))
	if err == nil || !strings.Contains(err.Error(), "Shorttown") {
		t.Errorf("a town without the street: %v", err)
	}
}

func TestWishesRefused(t *testing.T) {
	w := world(t, fork(road{}), nil)
	for field, wish := range map[string]choosing.Wishes{
		"wishes.by[0]":       {By: []string{"nowhere street"}},
		"wishes.not_by[0]":   {NotBy: []string{"nowhere street"}},
		"wishes.by":          {By: []string{"a", "b", "c", "d", "e"}},
		"wishes.once":        {Once: true},
		"wishes.permit_cost": {PermitCost: -time.Second},
	} {
		_, err := w.Plan(context.Background(), house(func(r *Request) { r.Wishes = wish }))
		var refused *RequestError
		if !errors.As(err, &refused) || refused.Field != field || refused.Fix.None() {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// abroad puts the short way through another province.
func abroad() []road {
	roads := fork(road{code: "CA-QC"})
	for i := range roads {
		if roads[i].code == "" {
			roads[i].code = "CA-ON"
		}
	}
	return roads
}

// A permit that is worth the detour is not asked for, one that is not is; and at
// each entry or once comes to the same where there is one entry.
func TestPermitCosts(t *testing.T) {
	for _, tc := range []struct {
		cost time.Duration
		want string
	}{{time.Second, "short"}, {5 * time.Hour, "long"}} {
		for _, once := range []bool{false, true} {
			wish := choosing.Wishes{PermitCosts: map[string]time.Duration{"CA-QC": tc.cost}, Once: once}
			takes(t, tc.want, plan(t, world(t, abroad(), nil), house(func(r *Request) { r.Wishes = wish })), tc.want)
		}
	}
}

// A road that opens in five minutes is waited for where the way round takes
// longer, and the plan says so; one that opens in hours is gone round.
func TestHourOfPassing(t *testing.T) {
	for _, tc := range []struct{ hours, want string }{
		{"08:00-08:05", "short"}, {"08:00-12:00", "long"}, {"00:00-24:00", "long"}, {"09:00-12:00", "short"},
	} {
		w := world(t, fork(road{signs: signs(access(everyone, refused).at(tc.hours))}), nil)
		p := plan(t, w, house())
		takes(t, tc.hours, p, tc.want)
		if waits := len(byRule(p, "waiting")); (waits > 0) != (tc.hours == "08:00-08:05") {
			t.Errorf("%s: %d findings of waiting", tc.hours, waits)
		}
	}
}

// Who leaves later never arrives earlier, whatever opens when.
func TestFirstInFirstOut(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		hours := func() []spot { return nil }
		roads := web(rt, hours)
		for i := range roads[2:] {
			if rapid.IntRange(0, 2).Draw(rt, "timed") == 0 {
				from := rapid.IntRange(0, 40).Draw(rt, "minute")
				until := from + rapid.IntRange(1, 60).Draw(rt, "minutes")
				when := time.Date(2027, 1, 1, 8, from, 0, 0, time.UTC).
					Format("15:04") +
					"-" + time.Date(2027, 1, 1, 8, until, 0, 0, time.UTC).
					Format("15:04")
				roads[i+2].signs = signs(access(everyone, refused).at(when))
			}
		}
		w := world(rt, roads, nil)
		last := time.Time{}
		for minute := range 8 {
			r := house(func(r *Request) { r.Departure = r.Departure.Add(time.Duration(7*minute) * time.Minute) })
			p, err := w.Plan(context.Background(), r)
			if err != nil || !p.Passable {
				return
			}
			arrival := p.Departure.Add(time.Duration(p.cost) * time.Millisecond)
			if arrival.Before(last) {
				rt.Fatalf(
					"leaving at %s arrives at %s, leaving earlier at %s",
					p.Departure.Format("15:04"),
					arrival.Format("15:04:05"),
					last.Format("15:04:05"),
				)
			}
			last = arrival
		}
	})
}

// Alternatives take at most a quarter longer and are a fifth new, on real roads.
func TestAlternatives(t *testing.T) {
	p := planner(t)
	r := request(3500)
	got := routes(t, p, RouteRequest{Request: r, Alternatives: 3})
	if len(got.Others) == 0 {
		t.Fatal("no alternative between Ottawa and Montreal")
	}
	for _, o := range got.Others {
		if longer := o.Plan.Time.Seconds() / got.Best.Time.Seconds(); longer > 1.26 || o.New < 0.2 ||
			o.Extra != o.Plan.Length-got.Best.Length {
			t.Errorf("%.2f times as long, %.2f new, %v extra", longer, o.New, o.Extra)
		}
	}
}

// The best order of stops is the best of all orders.
func TestOrder(t *testing.T) {
	p := planner(t)
	r := request(3500)
	for _, at := range []orb.Point{{-74.72815, 45.01809}, {-73.58781, 45.50884}, {-75.69812, 45.41117}, {-74.61595,
		45.60009}} {
		r.Stops = slices.Insert(r.Stops, 1, choosing.Stop{Label: "between", Point: at})
	}
	r.AnyOrder = true
	got := routes(t, p, RouteRequest{Request: r})
	least := got.Best.cost
	between := r.Stops[1 : len(r.Stops)-1]
	orders(len(between), func(order []int) {
		one := r
		one.Stops = []choosing.Stop{r.Stops[0]}
		for _, i := range order {
			one.Stops = append(one.Stops, between[i])
		}
		one.Stops = append(one.Stops, r.Stops[len(r.Stops)-1])
		b, err := p.newBuilder(one)
		if err != nil {
			t.Fatal(err)
		}
		ways, err := b.best(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		var cost search.Millis
		for _, w := range ways {
			cost += w.Cost
		}
		if cost < least {
			t.Errorf("order %v costs %d, the best %v costs %d", order, cost, got.Order, least)
		}
	})
}

// orders visits every order of so many things.
func orders(n int, visit func([]int)) {
	order := make([]int, 0, n)
	var place func()
	place = func() {
		if len(order) == n {
			visit(order)
			return
		}
		for i := range n {
			if !slices.Contains(order, i) {
				order = append(order, i)
				place()
				order = order[:len(order)-1]
			}
		}
	}
	place()
}

// A given route is compared with the best way between its ends.
func TestDifference(t *testing.T) {
	w := world(t, fork(road{}), nil)
	r := house(given([2]float64{-4, 0}, [2]float64{0, 0}, [2]float64{5, 8}, [2]float64{10, 0}, [2]float64{14, 0}))
	d := routes(t, w, RouteRequest{Request: r}).Difference
	if d == nil || d.Best == nil || d.Extra <= 0 || len(d.Apart) != 1 ||
		!slices.Equal(say.Strings(d.Apart[0].Roads), []string{"long"}) {
		t.Errorf("%+v", d)
	}
}

// A top speed that is wished for makes the plan's time longer, not only the search's.
func TestTopSpeed(t *testing.T) {
	w := world(t, fork(road{}), nil)
	fast := plan(t, w, house())
	slow := plan(t, w, house(func(r *Request) { r.Wishes.Top = 10 }))
	if ratio := slow.Time.Seconds() / fast.Time.Seconds(); ratio < 1.99 || ratio > 2.01 {
		t.Errorf("at 10 m/s instead of 20 it takes %.2f times as long", ratio)
	}
}

// A sign that holds at other minutes than that of passing is not said to be
// avoided: the way drives by it.
func TestNothingAvoidedAtOtherHours(t *testing.T) {
	p := plan(t, world(t, fork(road{signs: signs(access(everyone, refused).at("08:00-08:01"))}), nil), house())
	if takes(t, "after the minute", p, "short") && len(p.Avoided) > 0 {
		t.Errorf("avoided %+v", p.Avoided)
	}
}

// What is said of a way does not hang on how it was searched: the plan of the way
// that Dijkstra's search finds on the plain network says the same, wherever both
// find the same way.
func TestFindingsOnPlainAndCompressed(t *testing.T) {
	same, all := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		w := world(rt, web(rt, drawBridges(rt)), nil)
		r := house()
		want, err := w.Plan(context.Background(), r)
		if err != nil || !want.Passable {
			return
		}
		b, err := w.newBuilder(r)
		if err != nil {
			rt.Fatal(err)
		}
		at, err := b.chooses.Snap()
		if err != nil {
			rt.Fatal(err)
		}
		path, err := search.Plain(
			context.Background(),
			w.Network,
			at[0].Position,
			at[1].Position,
			b.chooses.Rules(choosing.Terms{}),
		)
		if err != nil || path.Cost != want.cost {
			rt.Fatalf("%d ms, %v; the plan's way costs %d", path.Cost, err, want.cost)
		}
		got, err := b.complete(b.waysOf([]search.Path{b.chooses.Travelled(path)}))
		if err != nil {
			rt.Fatal(err)
		}
		if all++; !slices.Equal(got.edges, want.edges) {
			return // as good a way
		}
		same++
		if diff := cmp.Diff(want.Legs[0].Findings, got.Legs[0].Findings); diff != "" || got.Length != want.Length {
			rt.Fatal(diff)
		}
	})
	if same < all/2 {
		t.Errorf("the same way in %d of %d", same, all)
	}
}

// Where roads leave the data on both sides of a gap, the answer names the ends: the way may
// lead out of the data and in again.
func TestEndsOfTheData(t *testing.T) {
	gap := []road{
		{
			name: "west",
			from: [2]float64{-5, 0},
			to:   [2]float64{0, 0},
		}, {name: "east", from: [2]float64{5, 0}, to: [2]float64{15, 0}},
	}
	lanes := slices.Clone(gap)
	for i := range lanes {
		lanes[i].class = network.Service
	}
	for name, tc := range map[string]struct {
		roads []road
		want  bool
	}{"roads that lead on": {gap, true}, "driveways": {lanes, false}} {
		_, err := world(t, tc.roads, nil).Plan(context.Background(), house())
		if err == nil || strings.Contains(err.Error(), "off.end(road: west") != tc.want {
			t.Errorf("%s: %v", name, err)
		}
	}
	end := func(at float64) func(*Request) {
		return func(r *Request) { r.Stops[0].Point = point([2]float64{at, 0}) }
	}
	w := world(t, fork(road{}), nil)
	for at, want := range map[float64]bool{-4.99: true, -2: false} {
		p := plan(t, w, house(end(at)))
		if got := slices.ContainsFunc(p.Off, func(r say.Remark) bool {
			return strings.Contains(r.String(),
				"off.data_ends(stop: A")
		}); got != want {
			t.Errorf("a stop at %v: %v", at, say.Strings(p.Off))
		}
	}
	for name, tc := range map[string]struct {
		to   [2]float64
		want string
	}{"off the roads within the data": {[2]float64{9, 7}, "beyond: false"}, "out of the data": {[2]float64{40, 0},
		"beyond: true"}} {
		p := plan(t, w, house(given([2]float64{-4, 0}, [2]float64{8, 0}, tc.to)))
		if off := byRule(p, "given route"); !slices.ContainsFunc(off, func(f finding.Finding) bool {
			return strings.Contains(told(f), "given.no_road") && strings.Contains(told(f), tc.want)
		}) {
			t.Errorf("a given route %s: %v", name, off)
		}
	}
	_, err := w.Plan(context.Background(), house(end(-90)))
	if err == nil || !strings.Contains(err.Error(), "beyond: true") {
		t.Errorf("a stop outside: %v", err)
	}
}
