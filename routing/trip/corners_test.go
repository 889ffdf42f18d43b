package trip

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/sweep"
	"wayhouse/routing/trip/choosing"
	"wayhouse/routing/trip/driving"
)

// A structure of the tables that is called as one of the request, at the same
// place, is not hidden by it: the stricter answer counts.
func TestSameIDInTablesAndRequest(t *testing.T) {
	for name, tc := range map[string]struct {
		tables clearance.Structure
		want   finding.Outcome
	}{
		"a margin to review": {over("s", 4400), finding.Review}, "no figure": {over("s", 0), finding.Unknown},
	} {
		r := house(func(r *Request) { r.Allowances.Review = *length(200) })
		r.Structures = []clearance.Structure{over("s", 5000)}
		p := plan(t, withStructures(world(t, fork(road{}), nil), tc.tables), r)
		found := false
		for _, f := range byRule(p, "structure") {
			found = found || f.Outcome == tc.want
		}
		if !found {
			t.Errorf("%s in the tables, clear in the request: %s alone", name, told(byRule(p, "structure")[0]))
		}
	}
}

// junction is a road of 1 km eastward that meets another, of 1 km, which turns off
// by so many degrees, to the right positive.
func junction(degrees float64, main, side network.Road) []road {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return []road{
		{name: "main", from: off(-1000, 0), to: off(0, 0), road: main},
		{name: "side", from: off(0, 0), to: off(measure.Distance(1000*cos), measure.Distance(-1000*sin)), road: side},
	}
}

// round is a trip from end to end of a junction.
func round(degrees float64) func(*Request) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return from(off(-1000, 0), off(measure.Distance(1000*cos), measure.Distance(-1000*sin)))
}

// A junction at a right angle is a corner, with its place, its roads, and to which
// side it turns; the other way it turns to the other side.
func TestCorners(t *testing.T) {
	for _, tc := range []struct {
		name       string
		degrees    float64
		way        func(*Request)
		turn       float64
		road, onto string
		place      say.Code
	}{
		{"right", 90, func(*Request) {}, 90, "main", "side", "place.turn_right"},
		{"right, home", 90, back, -90, "side", "main", "place.turn_left"},
		{"left", -90, func(*Request) {}, -90, "main", "side", "place.turn_left"},
		{"sharp left", -120, func(*Request) {}, -120, "main", "side", "place.turn_left"},
		{"half right", 60, func(*Request) {}, 60, "main", "side", "place.turn_right"},
	} {
		p := plan(t, world(t, junction(tc.degrees, network.Road{}, network.Road{}), nil), described(round(tc.degrees), tc.way))
		said := ofRoad(p, "corners")
		if len(p.Road.Corners) != 1 || len(said) != 1 {
			t.Errorf("%s: %+v, says %+v", tc.name, p.Road.Corners, said)
			continue
		}
		c := p.Road.Corners[0]
		nearly(t, tc.name+": turn", c.Turn, tc.turn, 0.2)
		nearly(t, tc.name+": metres off", float64(geodesic.Between(c.Point, point(off(0, 0)))), 0, 0.1)
		nearly(t, tc.name+": after, m", float64(c.At), 1000, 2)
		nearly(t, tc.name+": driven on, m", float64(c.Driven), 8, 1e-9)
		if c.Road.String() != tc.road || c.Onto.String() != tc.onto || !c.Unknown.None() {
			t.Errorf("%s: from %q onto %q, %s", tc.name, c.Road, c.Onto, c.Unknown)
		}
		// The rig takes more than its own width, and off-tracking is a part of that.
		if !(c.Swept > 2.6 && c.Swept < 8 && c.OffTracking > 0 && c.OffTracking < c.Swept && c.TailSwing >= 0) {
			t.Errorf("%s: %+v", tc.name, c)
		}
		at := said[0].Place
		if degrees := at.Get("degrees").(float64); at.Code != tc.place || fmt.Sprint(at.Get("from")) != tc.road || fmt.Sprint(at.Get("onto")) != tc.onto ||
			math.Abs(degrees-math.Abs(tc.turn)) > 0.2 || at.Get("spot").(say.Remark).String() != c.Spot.Place().String() {
			t.Errorf("%s: at %s", tc.name, at)
		}
		inner, outer := sweep.Right, sweep.Left // the axles cut in, the tail swings out
		if tc.turn < 0 {
			inner, outer = outer, inner
		}
		if c.Cuts != inner || c.Swings != outer {
			t.Errorf("%s: cuts in to the %s, swings out to the %s", tc.name, c.Cuts, c.Swings)
		}
		if said[0].Outcome != finding.Review || !strings.Contains(told(said[0]), say.That("road.widest_corner", "takes", c.Takes()).String()) {
			t.Errorf("%s: %s, %q", tc.name, said[0].Outcome, told(said[0]))
		}
	}
}

// A straight road has no corner and no curve, nor has a faint bend.
func TestNoCorners(t *testing.T) {
	for _, degrees := range []float64{0, 2} {
		p := plan(t, world(t, junction(degrees, network.Road{}, network.Road{}), nil), described(round(degrees)))
		if n := len(p.Road.Corners) + len(p.Road.Curves) + len(ofRoad(p, "corners")) + len(ofRoad(p, "curves")); n > 0 || !p.Road.NoCurves.None() {
			t.Errorf("%v degrees: %+v", degrees, p.Road.Bends)
		}
	}
}

// reaches puts the axles of the unit so far back, and its tail as far behind them.
func reaches(mm int64) func(*Request) {
	return func(r *Request) {
		r.Rig.Unit.Frame.Axles = []rig.Axle{{At: *length(mm - 400), Track: length(2000)}, {At: *length(mm + 400), Track: length(2000)}}
		r.Rig.Unit.CouplingToRear = length(mm + 2600)
	}
}

// A longer unit sweeps more of a corner, and so does a wider one; a truck that needs
// more room to turn cuts in less.
func TestLongerSweepsMore(t *testing.T) {
	const steps = 0.005 // m that arcs drawn in steps of 0.1 m may add
	rapid.Check(t, func(rt *rapid.T) {
		degrees := rapid.Float64Range(56, 130).Draw(rt, "degrees") * float64(rapid.SampledFrom([]int{-1, 1}).Draw(rt, "side"))
		w := world(rt, junction(degrees, network.Road{}, network.Road{}), nil)
		corner := func(change ...func(*Request)) driving.Corner {
			p, err := w.Plan(t.Context(), described(append([]func(*Request){round(degrees)}, change...)...))
			if err != nil || len(p.Road.Corners) != 1 || !p.Road.Corners[0].Unknown.None() {
				rt.Fatalf("no corner, or an unknown one: %v", err)
			}
			return p.Road.Corners[0]
		}
		short := rapid.Int64Range(2500, 7000).Draw(rt, "mm")
		long := short + rapid.Int64Range(100, 3000).Draw(rt, "more")
		a, b := corner(reaches(short)), corner(reaches(long))
		// Axles that stand near the coupling cut in little, and the 2.6 m behind them
		// swing out more: up to some 3.7 m a longer unit takes less road there.
		tail := short < 4500
		if !(tail || a.Swept <= b.Swept+steps) || a.OffTracking >= b.OffTracking {
			rt.Fatalf("%d mm: %.4f m of road, %d mm: %.4f m", short, float64(a.Swept), long, float64(b.Swept))
		}
		if wide := corner(reaches(long), func(r *Request) { r.Rig.Unit.Width = measure.Given(length(3000)) }); wide.Swept <= b.Swept-steps {
			rt.Fatalf("wider by 0.4 m: %.4f m, %.4f m", float64(wide.Swept), float64(b.Swept))
		}
		if slow := corner(reaches(long), func(r *Request) { r.Rig.Tow.TurningRadius = length(12_000) }); slow.Swept >= b.Swept || slow.Driven != 12 {
			rt.Fatalf("on 12 m %.4f m of road, on 8 m %.4f m", float64(slow.Swept), float64(b.Swept))
		}
	})
}

// Where the lock is not given a stated radius is taken, and still the corner swept.
func TestCornerWithoutLock(t *testing.T) {
	w := world(t, junction(90, network.Road{}, network.Road{}), nil)
	c := plan(t, w, described(round(90), func(r *Request) { r.Rig.Tow.TurningRadius = nil })).Road.Corners[0]
	known := plan(t, w, described(round(90), func(r *Request) { r.Rig.Tow.TurningRadius = length(12_500) })).Road.Corners[0]
	if c.Driven != 12.5 || c.Swept == 0 || c.Swept != known.Swept {
		t.Errorf("%+v, with a lock of 12.5 m %+v", c, known)
	}
}

// A road that is tagged narrower than what the rig sweeps is said, with both
// figures; one that is wide enough, or that is not tagged, is not.
func TestNarrowCorners(t *testing.T) {
	for _, tc := range []struct {
		name       string
		main, side int64 // mm
		want       bool
	}{
		{"both narrow", 3500, 3500, true}, {"one narrow", 12_000, 3500, true}, {"the other", 3500, 12_000, true},
		{"narrow, and not tagged", 3500, 0, true}, {"not tagged, and narrow", 0, 3500, true},
		{"wide", 12_000, 12_000, false}, {"wide, and not tagged", 12_000, 0, false}, {"not tagged", 0, 0, false},
	} {
		roads := junction(90, network.Road{Width: *length(tc.main)}, network.Road{Width: *length(tc.side)})
		p := plan(t, world(t, roads, nil), described(round(90)))
		c, said := p.Road.Corners[0], ofRoad(p, "corners")[0]
		if c.TooWide() != tc.want || strings.Contains(told(said), "road.corner_too_wide") != tc.want {
			t.Errorf("%s: %+v, %q", tc.name, c, told(said))
		}
		if tc.want && (!strings.Contains(told(said), "width: "+c.RoadWidth.String()) || c.RoadWidth != *length(3500)) {
			t.Errorf("%s: %v, %q", tc.name, c.RoadWidth, told(said))
		}
	}
}

// A rig that is not described gets no figure, and an answer that says what is
// missing, for every part that is needed.
func TestCornerUnknown(t *testing.T) {
	w := world(t, junction(90, network.Road{Width: *length(2000)}, network.Road{Width: *length(2000)}), nil)
	for name, tc := range map[string]struct {
		why    string
		change func(*Request)
	}{
		"axles of the tow vehicle": {"rig.no_tow_axles", func(r *Request) { r.Rig.Tow.Truck.Axles = nil }},
		"where its coupling sits":  {"rig.no_tow_axles", func(r *Request) { r.Rig.Tow.CouplingAt = nil }},
		"axles of the unit":        {"rig.no_unit_axles", func(r *Request) { r.Rig.Unit.Frame.Axles = nil }},
		"width of the tow vehicle": {"rig.no_tow_width", func(r *Request) { r.Rig.Tow.Width = measure.Known[measure.Length]{} }},
		"how far its front":        {"rig.no_tow_width", func(r *Request) { r.Rig.Tow.FrontToCoupling = nil }},
		"width of the unit":        {"rig.no_unit_width", func(r *Request) { r.Rig.Unit.Width = measure.Known[measure.Length]{} }},
		"behind its coupling":      {"rig.no_unit_width", func(r *Request) { r.Rig.Unit.CouplingToRear = nil }},
		"nothing is described":     {"rig.no_tow_axles", func(r *Request) { r.Rig = house().Rig }},
	} {
		p := plan(t, w, described(round(90), tc.change))
		said := ofRoad(p, "corners")
		if len(p.Road.Corners) != 1 || len(said) != 1 {
			t.Errorf("%s: %+v, %+v", name, p.Road.Corners, said)
			continue
		}
		c := p.Road.Corners[0]
		if c.Unknown.String() != tc.why || c.Swept != 0 || c.TooWide() || said[0].Outcome != finding.Unknown || !strings.Contains(told(said[0]), c.Unknown.String()) || whom(said[0]) == "" {
			t.Errorf("%s: %+v, %+v", name, c, said[0])
		}
	}
}

// Of several corners the widest comes first; one that could not be driven, because
// the road turns back on itself, is not hidden behind it.
func TestSeveralCorners(t *testing.T) {
	roads := []road{
		{name: "a", from: off(-1000, 0), to: off(0, 0)}, {name: "b", from: off(0, 0), to: off(0, -1000)},
		{name: "c", from: off(0, -1000), to: off(900, -1500)}, {name: "d", from: off(900, -1500), to: off(5, -1020)},
	}
	straight := plan(t, world(t, roads[:3], nil), described(from(off(-1000, 0), off(900, -1500)))).Road.Corners
	if len(straight) != 2 || straight[0].Swept < straight[1].Swept || straight[0].Road.String() != "a" {
		t.Fatalf("%+v", straight)
	}
	for i, mm := range []int64{12_000, 12_000, 3000} {
		roads[i].road.Width = *length(mm)
	}
	narrow := ofRoad(plan(t, world(t, roads[:3], nil), described(from(off(-1000, 0), off(900, -1500)))), "corners")[0]
	if fmt.Sprint(narrow.Place.Get("from")) != "b" || fmt.Sprint(narrow.Place.Get("onto")) != "c" || !strings.Contains(told(narrow), say.That("road.widest_corner", "takes", straight[0].Takes()).String()) {
		t.Errorf("narrow %q, %q", narrow.Place.String(), told(narrow))
	}
	p := plan(t, world(t, roads, nil), described(from(off(-1000, 0), off(23, -1030))))
	said := ofRoad(p, "corners")[0]
	if len(p.Road.Corners) != 3 || !slices.ContainsFunc(p.Road.Corners, func(c driving.Corner) bool { return !c.Unknown.None() }) {
		t.Fatalf("%+v", p.Road.Corners)
	}
	if said.Outcome != finding.Unknown && !strings.Contains(told(said), "road.corners_unknown") && !strings.Contains(told(said), "corner.turns_back") {
		t.Errorf("%s: %q says nothing of the corner that no rig follows", said.Outcome, told(said))
	}
}

// A road that is drawn tighter than the tow vehicle turns is marked, where its lock
// is given. By hand: a turn of 160 degrees between tangents of 30 m has a radius of
// 30 m over the tangent of 80 degrees, 5.29 m.
func TestTighterThanTheLock(t *testing.T) {
	w := world(t, junction(160, network.Road{}, network.Road{}), nil)
	for _, tc := range []struct {
		lock    *measure.Length
		tighter bool
		driven  float64
	}{{nil, false, 5.29}, {length(5000), false, 5}, {length(8000), true, 5.29}} {
		c := plan(t, w, described(round(160), func(r *Request) { r.Rig.Tow.TurningRadius = tc.lock })).Road.Corners
		if len(c) != 1 || c[0].Tighter != tc.tighter {
			t.Errorf("a lock of %v: %+v", tc.lock, c)
			continue
		}
		nearly(t, "driven, m", float64(c[0].Driven), tc.driven, 0.02)
	}
}

// A right angle that is drawn with its edge cut off, by a chord of 7 m, is a corner
// as one that is drawn with a point: no road within some metres of either is wider.
func TestCutCorner(t *testing.T) {
	roads, end := arc(5, 90, 20)
	p := plan(t, world(t, roads, nil), described(from(off(-500, 0), end)))
	if len(p.Road.Corners) != 1 {
		t.Errorf("corners %+v, curves %+v", p.Road.Corners, p.Road.Curves)
	}
}

// A corner that no rig follows, or that this one jackknifes in, has no figure, and
// the answer says why.
func TestCornersThatCannotBeDriven(t *testing.T) {
	for why, degrees := range map[string]float64{"corner.jackknifes": 170, "corner.turns_back": 178} {
		w := world(t, junction(degrees, network.Road{}, network.Road{}), nil)
		p := plan(t, w, described(round(degrees), reaches(7000), func(r *Request) { r.Rig.Tow.TurningRadius = length(3000) }))
		c, said := p.Road.Corners, ofRoad(p, "corners")
		if len(c) != 1 || len(said) != 1 {
			t.Errorf("%s: %+v, says %+v", why, c, said)
			continue
		}
		if !strings.Contains(c[0].Unknown.String(), why) || c[0].Swept != 0 || said[0].Outcome != finding.Unknown || !strings.Contains(told(said[0]), why) {
			t.Errorf("%s: %q, says %+v", why, c[0].Unknown, said[0])
		}
	}
}

// Corners behind a stop are counted from the first one.
func TestCornersBehindAStop(t *testing.T) {
	r := described(round(90))
	r.Stops = slices.Insert(r.Stops, 1, choosing.Stop{Label: "between", Point: point(off(-400, 0))})
	c := plan(t, world(t, junction(90, network.Road{}, network.Road{}), nil), r).Road.Corners
	if len(c) != 1 {
		t.Fatalf("%+v", c)
	}
	nearly(t, "after, m", float64(c[0].At), 1000, 2)
}

// arc is a road that bends to the left on a radius, by chords of about 10 m, with
// 500 m straight on either side.
func arc(radius measure.Distance, degrees float64, speed measure.Speed) (roads []road, end [2]float64) {
	last := off(0, 0)
	add := func(to [2]float64) {
		roads = append(roads, road{name: "bend", from: last, to: to, speed: speed})
		last = to
	}
	roads = append(roads, road{name: "bend", from: off(-500, 0), to: last, speed: speed})
	turn := degrees * math.Pi / 180
	n := math.Ceil(float64(radius) * turn / 10)
	for i := 1.0; i <= n; i++ {
		sin, cos := math.Sincos(turn * i / n)
		add(off(radius*measure.Distance(sin), radius*measure.Distance(1-cos)))
	}
	sin, cos := math.Sincos(turn)
	add(off(radius*measure.Distance(sin)+measure.Distance(500*cos), radius*measure.Distance(1-cos)+measure.Distance(500*sin)))
	return roads, last
}

// A tight bend gets a speed below the one that the plan assumes, and is said; a wide
// one gets a speed above it.
func TestCurves(t *testing.T) {
	for _, tc := range []struct {
		radius measure.Distance
		speed  measure.Speed
		slower bool
	}{{60, 20, true}, {100, 20, true}, {100, 8, false}, {600, 20, false}} {
		roads, end := arc(tc.radius, 60, tc.speed)
		p := plan(t, world(t, roads, nil), described(from(off(-500, 0), end)))
		said := ofRoad(p, "curves")
		if len(p.Road.Curves) == 0 || p.Road.Curves[0].Slower != tc.slower || len(p.Road.Slower()) > 0 != tc.slower || len(said) > 0 != tc.slower || !p.Road.NoCurves.None() {
			t.Fatalf("%v at %v: %+v, says %+v", tc.radius, tc.speed, p.Road.Curves, said)
		}
		c := p.Road.Curves[0]
		// Worked by hand: what rests on the coupling is 1 - 5.3/6 of the unit, 0.1167, at
		// 0.4 m; 0.7 of 0.8833 x 1 m over 1.9 m - 0.1167 x 0.4 m, halved, is 0.1668 g; on a
		// radius of 60 m that is 35.7 km/h. The radius is that of the chords, to a tenth.
		nearly(t, "radius, m", float64(c.Radius), float64(tc.radius), 0.1*float64(tc.radius))
		nearly(t, "speed, m/s", float64(c.Speed), math.Sqrt(0.5*0.7*(5.3/6)/(1.9-(1-5.3/6)*0.4)*9.80665*float64(c.Radius)), 1e-3)
		if (c.Speed < c.Assumed) != tc.slower || c.Assumed != tc.speed || c.Road.String() != "bend" {
			t.Errorf("%+v", c)
		}
		if len(said) == 1 && (said[0].Outcome != finding.Review || said[0].Figures.Get("speed") != c.Speed || !strings.Contains(told(said[0]), "speed: "+c.Speed.String()) || said[0].Place.String() != c.Spot.Place().String()) {
			t.Errorf("%+v", said[0])
		}
		nearly(t, "metres off the bend", float64(geodesic.Between(c.Point, point(off(0, 0)))), 0, float64(tc.radius)*1.1)
	}
}

// bent is roads "a", "b" and so on from place to place, metres, one for each straight.
// The line has a point 40 m to either side of each bend: it shows how tight that is.
func bent(speed measure.Speed, places ...[2]float64) (roads []road) {
	at := func(i int, share float64) [2]float64 {
		a, b := places[i], places[i+1]
		return off(measure.Distance(a[0]+share*(b[0]-a[0])), measure.Distance(a[1]+share*(b[1]-a[1])))
	}
	for i := range len(places) - 1 {
		var cuts []float64
		if near := 40 / math.Hypot(places[i+1][0]-places[i][0], places[i+1][1]-places[i][1]); i == 0 {
			cuts = []float64{0, 1 - near, 1}
		} else if cuts = []float64{0, near, 1 - near, 1}; i == len(places)-2 {
			cuts = []float64{0, near, 1}
		}
		for k := range len(cuts) - 1 {
			roads = append(roads, road{name: string(rune('a' + i)), from: at(i, cuts[k]), to: at(i, cuts[k+1]), speed: speed})
		}
	}
	return roads
}

// Of several curves the slowest comes first.
func TestSeveralCurves(t *testing.T) {
	sin, cos := math.Sincos(20 * math.Pi / 180)
	roads := bent(25, [2]float64{-1000, 0}, [2]float64{}, [2]float64{1000 * cos, -1000 * sin}, [2]float64{2000 * cos, 0})
	p := plan(t, world(t, roads, nil), described(from(off(-1000, 0), roads[len(roads)-1].to)))
	c := p.Road.Curves
	if len(c) != 2 || c[0].Speed >= c[1].Speed || c[0].Road.String() != "b" {
		t.Fatalf("%+v", c)
	}
	if said := ofRoad(p, "curves")[0]; !strings.Contains(told(said), "road.slower_in_curves(curves: 2,") || said.Place.String() != c[0].Spot.Place().String() {
		t.Errorf("%+v", said)
	}
}

// A lower centre of gravity and a wider track allow more.
func TestLowerIsFasterInCurves(t *testing.T) {
	roads, end := arc(60, 60, 30)
	w := world(t, roads, nil)
	rapid.Check(t, func(rt *rapid.T) {
		at := func(up, track int64) measure.Speed {
			p, err := w.Plan(t.Context(), described(from(off(-500, 0), end), func(r *Request) {
				r.Rig.Unit.Parts[0].Place.Up = length(up)
				for i := range r.Rig.Unit.Frame.Axles {
					r.Rig.Unit.Frame.Axles[i].Track = length(track)
				}
			}))
			if err != nil || len(p.Road.Curves) == 0 {
				rt.Fatalf("no curve: %v", err)
			}
			return p.Road.Curves[0].Speed
		}
		up, track := rapid.Int64Range(1200, 2500).Draw(rt, "up"), rapid.Int64Range(1600, 2300).Draw(rt, "track")
		this := at(up, track)
		if lower, wider := at(up-100, track), at(up, track+100); !(lower > this && wider > this) {
			rt.Fatalf("%v; 0.1 m lower %v, 0.1 m wider %v", this, lower, wider)
		}
	})
}

// A curve between a slow road and a fast one is one to be slower in, whichever
// comes first: on a part of it the plan assumes the speed of the fast one.
func TestCurveAtAJunction(t *testing.T) {
	sin, cos := math.Sincos(30 * math.Pi / 180)
	roads := bent(25, [2]float64{-1000, 0}, [2]float64{}, [2]float64{1000 * cos, -1000 * sin})
	roads[2].speed, roads[3].speed = 10, 10
	for name, way := range map[string]func(*Request){"fast first": func(*Request) {}, "slow first": back} {
		c := plan(t, world(t, roads, nil), described(round(30), way)).Road.Slower()
		if len(c) != 1 || c[0].Assumed != 25 {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

// Bends on straights of 1 km, of which the line shows no tightness, are said once, with
// the greatest and how much of the way they are, and neither as curves nor with a speed.
func TestDrawnTooCoarsely(t *testing.T) {
	sin, cos := math.Sincos(20 * math.Pi / 180)
	a, b, end := off(0, 0), off(measure.Distance(1000*cos), measure.Distance(-1000*sin)), off(measure.Distance(2000*cos), measure.Distance(200-1000*sin))
	roads := []road{
		{name: "a", from: off(-1000, 0), to: a, speed: 25}, {name: "b", from: a, to: b, speed: 25}, {name: "c", from: b, to: end, speed: 25},
	}
	w := world(t, roads, nil)
	p := plan(t, w, described(from(off(-1000, 0), end)))
	c, said := p.Road.Coarse, ofRoad(p, "drawn curves")
	if c.Bends != 2 || len(p.Road.Curves)+len(p.Road.Corners)+len(ofRoad(p, "curves")) > 0 || len(said) != 1 {
		t.Fatalf("%+v, curves %+v, says %+v", c, p.Road.Curves, said)
	}
	if f := said[0]; f.Outcome != finding.Unknown || f.Says[0].Get("bends") != 2 || whom(f) == "" || f.Place.String() != c.Spot.Place().String() {
		t.Errorf("%+v", f)
	}
	nearly(t, "length, m", float64(c.Length), float64(p.Length), 1)
	nearly(t, "turns by", c.Turn, -32.01, 0.05) // 20 degrees, and 200 m beside 940 m, the other way: 12.01
	nearly(t, "metres off", float64(geodesic.Between(c.Point, point(b))), 0, 0.1)

	// With the metre that its lane leaves it the rig passes 20 degrees on 64.8 m, at 10.8 m/s.
	slow := described(from(off(-1000, 0), b), func(r *Request) { r.Wishes.Top = 10 })
	if c := plan(t, w, slow).Road.Coarse; c.Bends != 0 {
		t.Errorf("at 10 m/s: %+v", c)
	}
}

// A top speed that is wished for is what curves are compared with.
func TestCurvesAtATopSpeed(t *testing.T) {
	roads, end := arc(60, 60, 20)
	for top, slower := range map[measure.Speed]bool{8: false, 15: true} {
		c := plan(t, world(t, roads, nil), described(from(off(-500, 0), end), func(r *Request) { r.Wishes.Top = top })).Road.Curves
		if len(c) == 0 || c[0].Slower != slower || c[0].Assumed != top {
			t.Errorf("%v: %+v", top, c)
		}
	}
}

// Where the assumed speed is not known the curve is listed all the same, without it.
func TestCurveWithoutSpeed(t *testing.T) {
	roads, end := arc(60, 60, -1)
	c := plan(t, world(t, roads, nil), described(from(off(-500, 0), end))).Road.Curves
	if len(c) == 0 || c[0].Assumed != 0 || c[0].Speed <= 0 || !c[0].Slower {
		t.Errorf("%+v", c)
	}
}

// What curves hang on and is not given is said of a rig that is described, and not
// again of one of which nothing is.
func TestCurvesUnknown(t *testing.T) {
	roads, end := arc(60, 60, 20)
	w := world(t, roads, nil)
	for _, tc := range []struct {
		name   string
		change func(*Request)
		why    string
		says   bool
	}{
		{"no track", func(r *Request) { r.Rig.Unit.Frame.Axles = []rig.Axle{{At: *length(6000)}} }, "rig.no_track", true},
		{"no height", func(r *Request) { r.Rig.Unit.Parts[0].Place.Up = nil }, "rig.no_place_up", true},
		{"not described", func(r *Request) { r.Rig = house().Rig }, "rig.no_track", false},
	} {
		p := plan(t, w, described(from(off(-500, 0), end), tc.change))
		said := ofRoad(p, "curves")
		if !strings.Contains(p.Road.NoCurves.String(), tc.why) || len(p.Road.Curves) > 0 || len(said) > 0 != tc.says {
			t.Errorf("%s: %q, %+v, says %+v", tc.name, p.Road.NoCurves, p.Road.Curves, said)
		}
		if tc.says && (said[0].Outcome != finding.Unknown || !strings.Contains(told(said[0]), p.Road.NoCurves.String())) {
			t.Errorf("%s: %+v", tc.name, said[0])
		}
		if !tc.says && len(ofRoad(p, "ratings")) == 0 {
			t.Errorf("%s: silent", tc.name)
		}
	}
}

// A boat is not driven: where its line bends the rig has no corner and no curve.
func TestFerryHasNoBends(t *testing.T) {
	for radius, degrees := range map[measure.Distance]float64{60: 30, 25: 90} {
		bent, end := arc(radius, degrees, 20)
		for i := range bent {
			bent[i].name, bent[i].class = "boat", network.Ferry
		}
		before := road{name: "to", from: off(-1500, 0), to: off(-500, 0)}
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		after := off(measure.Distance(end[0]*788.47+1000*cos), measure.Distance(end[1]*1111.32+1000*sin))
		bent = append(bent, before, road{name: "on", from: end, to: after})
		p := plan(t, world(t, bent, nil), described(from(off(-1500, 0), after)))
		if n := len(p.Road.Corners) + len(p.Road.Curves); n > 0 || len(ofRoad(p, "corners"))+len(ofRoad(p, "curves")) > 0 {
			t.Errorf("%v degrees on %v: corners %+v, curves %+v", degrees, radius, p.Road.Corners, p.Road.Curves)
		}
	}
}

// humps is a level crossing and a hump, half and nine tenths along a road of 4 km.
func humps() []road {
	return []road{{name: "way", from: off(0, 0), to: off(4000, 0), spots: []spot{
		{kind: network.LevelCrossing, part: 0.5, node: true, osm: 71}, {kind: network.Hump, part: 0.9, osm: 72}, {kind: network.Calming, part: 0.92, osm: 74}, {kind: network.Gate, part: 0.95, osm: 73},
	}}}
}

// Level crossings and humps are listed with their place and the element of the
// map, home in the other order; other things on the road are not.
func TestGrounds(t *testing.T) {
	w := world(t, humps(), nil)
	for _, tc := range []struct {
		name     string
		way      func(*Request)
		of       []string
		at, east []float64 // along the way, and on the road
	}{
		{"out", func(*Request) {}, []string{"node 71", "way 72"}, []float64{2000, 3600}, []float64{2000, 3600}},
		{"home", back, []string{"way 72", "node 71"}, []float64{400, 2000}, []float64{3600, 2000}},
	} {
		p := plan(t, w, described(from(off(0, 0), off(4000, 0)), tc.way))
		said := ofRoad(p, "ground clearance")
		if len(p.Road.Grounds) != 2 || len(said) != 1 {
			t.Fatalf("%s: %+v, says %+v", tc.name, p.Road.Grounds, said)
		}
		for i, g := range p.Road.Grounds {
			nearly(t, tc.name+": after, m", float64(g.At), tc.at[i], 5)
			nearly(t, tc.name+": metres off", float64(geodesic.Between(g.Point, point(off(measure.Distance(tc.east[i]), 0)))), 0, 5)
			if g.Of != tc.of[i] || g.Road.String() != "way" || len(said[0].Citations) != 2 || said[0].Citations[i].ID != "osm "+tc.of[i] || said[0].Citations[i].Published != g.Kind.String() {
				t.Errorf("%s: %+v, rows %+v", tc.name, g, said[0].Citations)
			}
		}
		if said[0].Place.String() != p.Road.Grounds[0].Place().String() || math.Abs(said[0].Place.Get("lat").(float64)-45) > 0.00001 {
			t.Errorf("%s: %q", tc.name, said[0].Place.String())
		}
	}
}

// A rig that clears less than the steepest standard crossing needs is for a person;
// one that clears more passes that one, and what is built nobody knows; one of which
// the clearance is not known says so.
func TestGroundClearance(t *testing.T) {
	clears, _ := described().Rig.Underneath().Value()
	if clears.Crossing <= 0 || clears.Hump <= clears.Crossing {
		t.Fatalf("needs %v and %v", clears.Crossing, clears.Hump)
	}
	rail, hump := int64(1000*clears.Crossing), int64(1000*clears.Hump)
	both := humps()
	crossing := []road{{name: "way", from: off(0, 0), to: off(4000, 0), spots: both[0].spots[:1]}}
	for _, tc := range []struct {
		name      string
		roads     []road
		clearance *measure.Length
		want      finding.Outcome
		words     string
	}{
		{"none given", both, nil, finding.Unknown, "road.grounds_and_rig"},
		{"a millimetre or less too low for a crossing", crossing, length(rail), finding.Review, "road.needs_clearance"},
		{"high enough for it", crossing, length(rail + 1), finding.Unknown, "road.passes_crests"},
		{"and too low for a hump", both, length(hump), finding.Review, "road.needs_over_hump"},
		{"high enough for a hump", both, length(hump + 1), finding.Unknown, "road.passes_crests"},
		{"low", both, length(20), finding.Review, "clears: 0.02 m"},
	} {
		w := world(t, tc.roads, nil)
		p := plan(t, w, described(from(off(0, 0), off(4000, 0)), func(r *Request) { r.Rig.Unit.Clearance = tc.clearance }))
		f := ofRoad(p, "ground clearance")[0]
		if f.Outcome != tc.want || !strings.Contains(told(f), tc.words) || f.Says[0].Get("places") != len(p.Road.Grounds) {
			t.Errorf("%s: %s, %q", tc.name, f.Outcome, told(f))
		}
		if strings.Contains(told(f), "road.needs_clearance") != (tc.clearance != nil && *tc.clearance < *length(rail + 1)) {
			t.Errorf("%s: %q", tc.name, told(f))
		}
	}
	if p := plan(t, world(t, one(road{}), nil), described()); len(p.Road.Grounds)+len(ofRoad(p, "ground clearance")) > 0 {
		t.Errorf("nothing on the road: %+v", p.Road.Grounds)
	}
}

// Where a road is split at a crossing both parts have it: it is one crossing.
func TestGroundAtANode(t *testing.T) {
	crossing := func(part measure.Distance) []spot {
		return []spot{{kind: network.LevelCrossing, part: part, node: true, osm: 71}}
	}
	p := plan(t, world(t, []road{
		{name: "way", from: off(0, 0), to: off(2000, 0), spots: crossing(1)}, {name: "way", from: off(2000, 0), to: off(4000, 0), spots: crossing(0)},
	}, nil), described(from(off(0, 0), off(4000, 0))))
	if g := p.Road.Grounds; len(g) != 1 {
		t.Errorf("%d crossings: %+v", len(g), g)
	}
}

// On real roads each place that is listed lies where the way is after so far, and
// on the road that it names.
func TestPlacesLieOnTheWay(t *testing.T) {
	w := planner(t)
	b, err := w.newBuilder(described(func(r *Request) { r.Stops = request(4300).Stops }))
	if err != nil {
		t.Fatal(err)
	}
	ways, err := b.ways(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	p, err := b.complete(ways)
	if err != nil {
		t.Fatal(err)
	}
	var spots []driving.Spot
	for _, c := range p.Road.Corners {
		spots = append(spots, c.Spot)
	}
	for _, c := range p.Road.Curves {
		spots = append(spots, c.Spot)
	}
	if len(spots) < 10 {
		t.Fatalf("%d bends in %v", len(spots), p.Length)
	}
	for _, s := range spots {
		if off := geodesic.Between(s.Point, reached(w.Network, ways, s.At)); off > 5 {
			t.Errorf("%s lies %v from there", s.Place(), off)
		}
	}
}

// reached is where somebody is who drove so far along ways without a gap.
func reached(n *network.Network, ways []way, at measure.Distance) orb.Point {
	for _, w := range ways {
		for _, p := range w.Pieces {
			if at > p.Length() {
				at -= p.Length()
				continue
			}
			line := n.Line(network.Piece{Arc: p.Arc, Start: p.Start, End: p.Start + at})
			return line[len(line)-1]
		}
	}
	return orb.Point{}
}
