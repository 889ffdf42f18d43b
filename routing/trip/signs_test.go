package trip

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/choosing"
)

// Every road, sign, structure and rig in this file is invented.

type fataler interface{ Fatal(...any) }

// sign is a network.Sign with its texts written out.
type sign struct {
	network.Sign
	text, when string
}

func access(m network.Mode, w network.Word) sign {
	return sign{Sign: network.Sign{Subject: network.Access, For: m, Word: w}, text: w.String()}
}

func metres(s network.Subject, l float64) sign {
	return sign{Sign: network.Sign{Subject: s, State: network.Known, Value: int64(measure.Length(l*1000) * measure.Millimetre)}, text: fmt.Sprint(l)}
}

func tonnes(s network.Subject, t float64) sign {
	return sign{Sign: network.Sign{Subject: s, State: network.Known, Value: int64(measure.Mass(t*1000) * measure.Kilogram)}, text: fmt.Sprint(t)}
}

func (s sign) at(when string) sign               { s.when = when; return s }
func (s sign) along() sign                       { s.Bound = network.Along; return s }
func (s sign) against() sign                     { s.Bound = network.Against; return s }
func (s sign) forMode(m network.Mode) sign       { s.For = m; return s }
func (s sign) state(x network.State) sign        { s.State = x; return s }
func signs(list ...sign) []sign                  { return list }
func only(m network.Mode, w network.Word) []sign { return signs(access(m, w)) }

// spot is a thing on a road, part of the way along it.
type spot struct {
	kind  network.Kind
	part  measure.Distance
	node  bool
	whole bool // over the road all along
	signs []sign
	osm   int64
	width measure.Length
}

// road is an edge between two points of the grid.
type road struct {
	name     string
	ref      string
	from, to [2]float64 // in hundredths of a degree from 76 W, 45 N
	speed    measure.Speed
	class    network.Class // primary where none is given
	road     network.Road
	signs    []sign
	spots    []spot
	grade    network.Grade
	delay    network.Delay // in its direction
	town     string
	code     string
}

type ban struct {
	arcs []network.Arc
	network.Ban
	when string
}

func point(at [2]float64) orb.Point { return orb.Point{-76 + 0.01*at[0], 45 + 0.01*at[1]} }

// world builds a planner on roads. It knows every kind of fact, truck roads where one is, and its
// tables are empty but for rows.
func world(t fataler, roads []road, bans []ban, rows ...limit.Row) *Planner {
	b := network.NewBuilder()
	nodes := map[[2]float64]network.NodeID{}
	node := func(at [2]float64) network.NodeID {
		if _, ok := nodes[at]; !ok {
			nodes[at] = b.Node(point(at))
		}
		return nodes[at]
	}
	record := func(r network.Road, list []sign) network.RoadID {
		out := network.Record{Road: r}
		for _, s := range list {
			s.Text, s.When = b.Text(s.text), b.Text(s.when)
			out.Signs = append(out.Signs, s.Sign)
		}
		return b.Record(out)
	}
	for i, r := range roads {
		if r.speed == 0 {
			r.speed = 20
		}
		if r.class == network.Unclassed {
			r.class = network.Primary
		}
		if r.code == "" {
			r.code = "CA-ON"
		}
		e, err := b.Edge(network.Edge{
			From: node(r.from), To: node(r.to), Line: []orb.Point{point(r.from), point(r.to)}, Class: r.class, Speed: r.speed,
			Road: record(r.road, r.signs), Ref: r.ref, Name: r.name, Jurisdictions: []string{r.code}, Zone: "America/Toronto", Town: r.town, Local: r.town,
			Origin: int64(100 + i), Grade: r.grade,
		})
		if err != nil {
			t.Fatal(err)
		}
		for k, s := range r.spots {
			one := network.Spot{Edge: e, Offset: b.Length(e) * s.part, Kind: s.kind, OSM: s.osm, Road: record(network.Road{Width: s.width}, s.signs)}
			if one.OSM == 0 {
				one.OSM = int64(1000 + 100*i + k)
			}
			if s.node {
				one.OnNode, one.Own = 1, 1
			}
			if s.whole {
				one.Along = 1
			}
			b.Spot(one)
		}
	}
	b.Graph()
	for i, r := range roads {
		b.Slow(network.EdgeID(i), cmp.Or(r.speed, 20), r.delay, network.Delay{})
	}
	for _, x := range bans {
		x.When = b.Text(x.when)
		b.Ban(x.arcs, x.Ban)
	}
	about := network.About{Name: "roads for tests", Caution: "for tests only", Carries: network.AllFacts()}
	if !slices.ContainsFunc(roads, func(r road) bool { return r.road.Flags&(network.TruckAlong|network.TruckAgainst) != 0 }) {
		about.Carries = slices.DeleteFunc(about.Carries, func(f network.Fact) bool { return f == network.TruckRoads })
		about.Lacks = []network.Fact{network.TruckRoads} // as of an extract without one
	}
	n, err := b.Finish(about, nil)
	if err != nil {
		t.Fatal(err)
	}
	box := orb.Polygon{{{-80, 40}, {-70, 40}, {-70, 50}, {-80, 50}, {-80, 40}}}
	areas, err := area.New([]area.Area{{
		Jurisdiction: area.Jurisdiction{Code: "CA-ON", Name: "Ontario", Country: "CA", TimeZone: "America/Toronto"}, Geometry: orb.MultiPolygon{box},
	}}, 10)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(context.Background(), n, areas, regs.NewTables("empty", regs.Rows{Limits: pointers(rows)}, nil))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// fork is two ways from one stop to the other: short, 7.9 km, and long, over
// two roads of 9.7 km each. Edges: 0 start, 1 short, 2 long, 3 long, 4 end.
func fork(short road, long ...road) []road {
	short.name, short.from, short.to = "short", [2]float64{0, 0}, [2]float64{10, 0}
	first := road{}
	if len(long) > 0 {
		first = long[0]
	}
	first.name, first.from, first.to = "long", [2]float64{0, 0}, [2]float64{5, 8}
	second := first
	second.from, second.to = first.to, [2]float64{10, 0}
	return []road{
		{name: "start", from: [2]float64{-5, 0}, to: [2]float64{0, 0}}, short, first, second, {name: "end", from: [2]float64{10, 0}, to: [2]float64{15, 0}},
	}
}

func mass(kg int64) *measure.Mass {
	m := measure.Mass(kg) * measure.Kilogram
	return &m
}

// house is a request between the ends of a fork, by a rig of which everything
// is known: 4.3 m high, 2.6 m wide, 14 m long, 8 t. Allowances are none, so that
// margins are plain differences.
func house(change ...func(*Request)) Request {
	r := Request{
		Rig: rig.Rig{
			Unit:   rig.Unit{Height: length(4300), Width: measure.Given(length(2600)), Length: length(8600), Mass: measure.Given(mass(5000)), Kind: limit.TinyHome, Coupling: rig.Ball},
			Tow:    rig.Tow{Fuel: drive.Diesel},
			Height: measure.Given(length(4300)), Width: measure.Given(length(2600)), Length: measure.Given(length(14_000)), Mass: measure.Given(mass(8000)),
		},
		Stops:     []choosing.Stop{{Label: "A", Point: point([2]float64{-4, 0})}, {Label: "B", Point: point([2]float64{14, 0})}},
		Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC), Local: true, // a Tuesday
	}
	for _, c := range change {
		c(&r)
	}
	return r
}

func weighs(kg int64) func(*Request) {
	return func(r *Request) { r.Rig.Mass, r.Rig.Unit.Mass = measure.Given(mass(kg)), measure.Known[measure.Mass]{} }
}
func massUnknown(r *Request)                { r.Rig.Mass = measure.Known[measure.Mass]{} }
func isA(k limit.Kind) func(*Request)       { return func(r *Request) { r.Rig.Unit.Kind = k } }
func coupled(c rig.Coupling) func(*Request) { return func(r *Request) { r.Rig.Unit.Coupling = c } }
func back(r *Request)                       { slices.Reverse(r.Stops) }
func given(points ...[2]float64) func(r *Request) {
	return func(r *Request) {
		r.Stops, r.Given = nil, &Given{}
		for _, p := range points {
			r.Given.Line = append(r.Given.Line, point(p))
		}
	}
}

func findings(p *Plan) []finding.Finding {
	out := slices.Clone(p.Findings)
	for _, l := range p.Legs {
		out = append(out, l.Findings...)
	}
	return out
}

func byRule(p *Plan, rule string) []finding.Finding {
	return slices.DeleteFunc(findings(p), func(f finding.Finding) bool { return string(f.Rule) != rule })
}

// told is what a finding says, for comparison.
func told(f finding.Finding) string {
	return strings.Join(say.Strings(f.Says), "; ")
}

// whom is whom a finding asks, for comparison.
func whom(f finding.Finding) string {
	for _, s := range slices.Concat(f.Settles...) {
		if !s.Whom.None() {
			return s.Whom.String()
		}
	}
	return ""
}

// settled reports whether a finding has ways to be settled, of steps that each say what
// to do.
func settled(f finding.Finding) bool {
	return len(f.Settles) > 0 && !slices.ContainsFunc(f.Settles, func(way []finding.Step) bool {
		return len(way) == 0 || slices.ContainsFunc(way, func(s finding.Step) bool { return s.Asks.None() })
	})
}

// takes wants a plan that goes by the named road of a fork.
func takes(t *testing.T, name string, p *Plan, want string) bool {
	t.Helper()
	other := map[string]string{"short": "long", "long": "short"}[want]
	var roads []string
	for _, l := range p.Legs {
		roads = append(roads, say.Strings(l.Roads)...)
	}
	if !slices.Contains(roads, want) || slices.Contains(roads, other) {
		t.Errorf("%s: goes by %v, want the %s one", name, roads, want)
		return false
	}
	return true
}

// says wants every finding of a rule to have an outcome and to name whom to
// ask; "" wants none.
func says(t *testing.T, name string, p *Plan, rule string, want finding.Outcome) {
	t.Helper()
	got := byRule(p, rule)
	if len(got) == 0 && want != "" {
		t.Errorf("%s: says nothing of %s, want %s", name, rule, want)
	}
	for _, f := range got {
		if f.Outcome != want || whom(f) == "" {
			t.Errorf("%s: %s is %q (ask %q), want %q: %s", name, rule, f.Outcome, whom(f), want, told(f))
		}
	}
}

const (
	everyone = network.Everyone
	motor    = network.MotorVehicles
	car      = network.Motorcars
	goods    = network.GoodsVehicles
	hgv      = network.HeavyGoods
	artic    = network.Articulated
	trailers = network.Trailers
	caravans = network.Caravans
	hazmat   = network.Hazmat
	refused  = network.Refused
	allowed  = network.Allowed
)

// The hierarchy of access keys is that of the OpenStreetMap wiki, Key:access
// (2025, from memory). What the rig is taken for is this project's.
func TestAccessByMode(t *testing.T) {
	for _, tc := range []struct {
		name  string
		signs []sign
		rig   []func(*Request)
		want  string
	}{
		{"nothing", nil, nil, "short"},
		{"access=no", only(everyone, refused), nil, "long"},
		{"vehicle=no", only(network.Vehicles, refused), nil, "long"},
		{"motor_vehicle=no", only(motor, refused), nil, "long"},
		{"motorcar=no", only(car, refused), nil, "long"},
		{"goods=no", only(goods, refused), nil, "long if a truck"},
		{"trailer=no", only(trailers, refused), []func(*Request){isA(limit.LoadOnTrailer)}, "long"},
		{"hgv=no, 8 t", only(hgv, refused), nil, "long if a truck"},
		{"hgv=no, mass not known", only(hgv, refused), []func(*Request){massUnknown}, "long if a truck"},
		{"hgv=no, only the unit's mass known", only(hgv, refused), []func(*Request){massUnknown, func(r *Request) { r.Rig.Unit.Mass = measure.Given(mass(1500)) }}, "long if a truck"},
		{"hgv=no, 3 t: no row says what counts", only(hgv, refused), []func(*Request){weighs(3000)}, "long if a truck"},
		{"hgv_articulated=no, on a ball", only(artic, refused), nil, "short"},
		{"hgv_articulated=no, fifth wheel", only(artic, refused), []func(*Request){coupled(rig.FifthWheel)}, "long if a truck"},
		{"hgv_articulated=no, gooseneck", only(artic, refused), []func(*Request){coupled(rig.Gooseneck)}, "long if a truck"},
		{"hgv_articulated=no, coupling not known", only(artic, refused), []func(*Request){coupled("")}, "long if a truck"},
		{"hgv_articulated=no, fifth wheel, 3 t", only(artic, refused), []func(*Request){coupled(rig.FifthWheel), weighs(3000)}, "long if a truck"},
		{"hgv_articulated=yes does not help a lorry", signs(access(hgv, refused), access(artic, allowed)), []func(*Request){coupled(rig.FifthWheel)}, "long if a truck"},
		{"caravan=no, tiny house", only(caravans, refused), nil, "long"},
		{"caravan=no, recreational trailer", only(caravans, refused), []func(*Request){isA(limit.RecreationalTrailer)}, "long"},
		{"caravan=no, house trailer", only(caravans, refused), []func(*Request){isA(limit.HouseTrailer)}, "long"},
		{"caravan=no, kind not known", only(caravans, refused), []func(*Request){isA(limit.KindUnknown)}, "long"},
		{"caravan=no, a load", only(caravans, refused), []func(*Request){isA(limit.LoadOnTrailer)}, "short"},
		{"motor_vehicle=no, hgv=yes: it may be no lorry", signs(access(motor, refused), access(hgv, allowed)), nil, "long"},
		{"motor_vehicle=no, all but trailers opened", signs(access(motor, refused), access(car, allowed), access(goods, allowed), access(hgv, allowed)), nil, "long"},
		{"motor_vehicle=no, all of its own opened", signs(access(motor, refused), access(car, allowed), access(goods, allowed), access(hgv, allowed), access(trailers, allowed)), nil, "short"},
		{"access=no, motor_vehicle=yes", signs(access(everyone, refused), access(motor, allowed)), nil, "short"},
		{"access=no, vehicle=yes", signs(access(everyone, refused), access(network.Vehicles, allowed)), nil, "short"},
		{"access=no, each of its own opened", signs(access(everyone, refused), access(car, allowed), access(goods, allowed), access(hgv, allowed), access(trailers, allowed)), nil, "short"},
		{"the order of signs does not matter", signs(access(car, allowed), access(trailers, allowed), access(goods, allowed), access(hgv, allowed), access(everyone, refused)), nil, "short"},
		{"access=no, one of its own left", signs(access(everyone, refused), access(car, allowed), access(goods, allowed), access(trailers, allowed)), nil, "long if a truck"},
		{"hgv=yes does not loosen caravan=no", signs(access(hgv, allowed), access(caravans, refused)), nil, "long"},
		{"hgv:forward=no, forward", signs(access(hgv, refused).along()), nil, "long if a truck"},
		{"hgv:forward=no, back", signs(access(hgv, refused).along()), []func(*Request){back}, "short"},
		{"hgv:backward=no, forward", signs(access(hgv, refused).against()), nil, "short"},
		{"hgv:backward=no, back", signs(access(hgv, refused).against()), []func(*Request){back}, "long if a truck"},
		{"hgv:forward=no beside hgv=yes", signs(access(hgv, allowed), access(hgv, refused).along()), nil, "long if a truck"},
		{"hgv:forward=no before hgv=yes", signs(access(hgv, refused).along(), access(hgv, allowed)), nil, "long if a truck"},
		{"hgv:forward=no beside hgv=yes, back", signs(access(hgv, allowed), access(hgv, refused).along()), []func(*Request){back}, "short"},
	} {
		p := plan(t, world(t, fork(road{signs: tc.signs}), nil), house(tc.rig...))
		want, perhaps := strings.CutSuffix(tc.want, " if a truck")
		takes(t, tc.name, p, want)
		if len(p.Avoided) > 0 != perhaps {
			t.Errorf("%s: a road is avoided that is closed to trucks alone, and none that is closed to all such rigs: %+v", tc.name, p.Avoided)
		}
	}
}

// What access words ask of a rig that goes by.
func TestAccessWords(t *testing.T) {
	for _, tc := range []struct {
		name  string
		signs []sign
		want  finding.Outcome
	}{
		{"discouraged", only(hgv, network.Discouraged), finding.Review},
		{"not understood", only(hgv, network.Unread), finding.Unknown},
		{"discouraged for a mode that it is not", only(artic, network.Discouraged), ""},
	} {
		p := plan(t, world(t, fork(road{signs: tc.signs}), nil), house())
		if takes(t, tc.name, p, "short") {
			says(t, tc.name, p, "access", tc.want)
		}
	}
	p := plan(t, world(t, fork(road{signs: only(hazmat, refused)}), nil), house())
	if takes(t, "hazmat=no", p, "short") {
		says(t, "hazmat=no", p, "hazardous goods", finding.Unknown)
	}
}

// The word for one mode does not take away what another asks for: a road that
// is discouraged for cars stays for a person to decide.
func TestAccessOfSeveralModes(t *testing.T) {
	for _, w := range []network.Word{network.Unread, network.Destination, network.Permission} {
		roads := []road{{name: "way", from: [2]float64{-5, 0}, to: [2]float64{15, 0}, signs: signs(access(car, network.Discouraged), access(trailers, w))}}
		p := plan(t, world(t, roads, nil), house())
		if p.Verdict.Worst != finding.Review {
			t.Errorf("cars discouraged, trailers %s: %s, want review", w, p.Verdict.Worst)
		}
	}
}

func TestEndsOnly(t *testing.T) {
	for _, w := range []network.Word{network.Permission, network.Destination} {
		want := map[network.Word]finding.Outcome{network.Permission: finding.Unknown, network.Destination: finding.Conditional}[w]
		p := plan(t, world(t, fork(road{signs: only(everyone, w)}), nil), house())
		takes(t, w.String()+" in between", p, "long")

		p = plan(t, world(t, fork(road{signs: only(everyone, w)}), nil), house(func(r *Request) { r.Stops[1].Point = point([2]float64{6, 0}) }))
		takes(t, w.String()+" at the end", p, "short")
		says(t, w.String()+" at the end", p, "access", want)

		p = plan(t, world(t, fork(road{spots: []spot{{kind: network.Gate, part: 0.5, node: true, signs: only(everyone, w)}}}), nil), house())
		takes(t, w.String()+" at a gate in between", p, "long")

		all := fork(road{})
		all[0].signs, all[4].signs = only(everyone, w), only(everyone, w)
		p = plan(t, world(t, all, nil), house())
		if takes(t, w.String()+" at both ends", p, "short") {
			says(t, w.String()+" at both ends", p, "access", want)
		}
		both := fork(road{signs: only(everyone, w)}, road{signs: only(everyone, w)})
		if _, err := world(t, both, nil).Plan(context.Background(), house()); err == nil || !strings.Contains(err.Error(), "error.unreached(from: ") {
			t.Errorf("only %s leads there: %v", w, err)
		}
	}
}

func TestOneWay(t *testing.T) {
	for _, tc := range []struct {
		name      string
		flags     network.Flags
		out, home string
	}{
		{"along", network.OnewayAlong | network.KnownDirection, "short", "long"},
		{"against", network.OnewayAgainst | network.KnownDirection, "long", "short"},
		{"varies", network.OnewayVaries | network.KnownDirection, "short", "short"},
	} {
		w := world(t, fork(road{road: network.Road{Flags: tc.flags}}), nil)
		out, home := plan(t, w, house()), plan(t, w, house(back))
		takes(t, tc.name, out, tc.out)
		takes(t, tc.name+", home", home, tc.home)
		if tc.name == "varies" {
			says(t, tc.name, out, "one-way", finding.Unknown)
		}
	}
}

func noMeasures(r *Request) {
	none := measure.Known[measure.Length]{}
	r.Rig.Height, r.Rig.Width, r.Rig.Length, r.Rig.Mass = none, none, none, measure.Known[measure.Mass]{}
	r.Rig.Unit = rig.Unit{Kind: limit.TinyHome, Coupling: rig.Ball}
}

func unitOnly(r *Request) {
	r.Rig.Height, r.Rig.Width = measure.Given(r.Rig.Unit.Height).OrMore(), r.Rig.Unit.Width.OrMore()
	r.Rig.Length, r.Rig.Mass = measure.Known[measure.Length]{}, measure.Known[measure.Mass]{}
}

// A figure of the map shuts a rig out that exceeds it, and never clears one.
func TestFigures(t *testing.T) {
	for _, tc := range []struct {
		name string
		sign sign
		rig  []func(*Request)
		want string          // road
		says finding.Outcome // where the short one is taken
	}{
		{"width exceeded", metres(network.MaxWidth, 2.59), nil, "long", ""},
		{"width just met", metres(network.MaxWidth, 2.6), nil, "short", finding.Unknown},
		{"physical width exceeded", metres(network.MaxWidthPhysical, 2.5), nil, "long", ""},
		{"width not known", metres(network.MaxWidth, 2), []func(*Request){noMeasures}, "short", finding.Unknown},
		{"width of the unit exceeds", metres(network.MaxWidth, 2.59), []func(*Request){unitOnly}, "long", ""},
		{"width of the unit does not", metres(network.MaxWidth, 9), []func(*Request){unitOnly}, "short", finding.Unknown},
		{"length exceeded", metres(network.MaxLength, 13.99), nil, "long", ""},
		{"length met", metres(network.MaxLength, 14), nil, "short", finding.Unknown},
		{"length of the unit exceeds", metres(network.MaxLength, 8), []func(*Request){unitOnly}, "long", ""},
		{"length of the unit does not", metres(network.MaxLength, 12), []func(*Request){unitOnly}, "short", finding.Unknown},
		{"mass exceeded", tonnes(network.MaxMass, 7.999), nil, "long", ""},
		{"mass met", tonnes(network.MaxMass, 8), nil, "short", finding.Unknown},
		{"mass of the unit exceeds", tonnes(network.MaxMass, 4.9), []func(*Request){unitOnly}, "long", ""},
		{"mass not known", tonnes(network.MaxMass, 1), []func(*Request){noMeasures}, "short", finding.Unknown},
		{"rated mass exceeded by the actual", tonnes(network.MaxRating, 7.5), nil, "long", ""},
		{"rated mass far above", tonnes(network.MaxRating, 60), nil, "short", finding.Unknown},
		{"axle mass", tonnes(network.MaxAxleMass, 1), nil, "short", finding.Unknown},
		{"no figure", metres(network.MaxWidth, 0).state(network.NoFigure), nil, "short", ""},
		{"unreadable", metres(network.MaxWidth, 0).state(network.Unreadable), nil, "short", finding.Unknown},
		{"mass of articulated lorries, on a ball", tonnes(network.MaxMass, 3).forMode(artic), nil, "short", ""},
		{"mass of lorries, 8 t", tonnes(network.MaxMass, 3).forMode(hgv), nil, "long", ""},
		{"length of caravans, a load", metres(network.MaxLength, 7).forMode(caravans), []func(*Request){isA(limit.LoadOnTrailer)}, "short", ""},
		{"length of caravans, tiny house", metres(network.MaxLength, 7).forMode(caravans), nil, "long", ""},
		{"width forward", metres(network.MaxWidth, 2).along(), nil, "long", ""},
		{"width forward, on the way back", metres(network.MaxWidth, 2).along(), []func(*Request){back}, "short", ""},
		{"width backward, on the way back", metres(network.MaxWidth, 2).against(), []func(*Request){back}, "long", ""},
	} {
		p := plan(t, world(t, fork(road{signs: signs(tc.sign)}), nil), house(tc.rig...))
		takes(t, tc.name, p, tc.want)
		if tc.want == "short" {
			says(t, tc.name, p, "posted "+tc.sign.Subject.String(), tc.says)
			continue
		}
		if len(p.Avoided) != 1 || len(p.Avoided[0].Signs) != 1 || p.Avoided[0].Extra <= 0 || p.Avoided[0].ExtraTime.Duration <= 0 {
			t.Errorf("%s: avoided %+v", tc.name, p.Avoided)
			continue
		}
		got := p.Avoided[0].Signs[0]
		tagged, ok := got.Get("says").(say.Remark)
		if !ok || fmt.Sprint(got.Get("name")) != "short" || tagged.Get("text") != tc.sign.text || !strings.Contains(tagged.String(), "quantity: "+tc.sign.Subject.String()) {
			t.Errorf("%s: avoided %q", tc.name, got)
		}
	}
}

// Where every way is shut the plan shows one and forbids it.
func TestEveryWayShutBySigns(t *testing.T) {
	narrow := road{signs: signs(metres(network.MaxWidth, 2))}
	p := plan(t, world(t, fork(narrow, narrow), nil), house())
	takes(t, "both too narrow", p, "short")
	if p.Passable || p.Verdict.Outcome() != finding.Forbidden {
		t.Errorf("passable %t, %s", p.Passable, p.Verdict.Outcome())
	}
	says(t, "both too narrow", p, "posted width", finding.Forbidden)
}

// The trip drives for less than half an hour from eight on a Tuesday.
func TestHours(t *testing.T) {
	no, narrow := access(everyone, refused), metres(network.MaxWidth, 2)
	for _, tc := range []struct {
		name string
		sign sign
		want string
		says finding.Outcome
	}{
		{"no always", no.at("00:00-24:00"), "long", ""},
		{"no within", no.at("Mo-Fr 07:30-09:00"), "long", ""},
		{"no an hour before", no.at("06:30-07:15"), "short", finding.Conditional},
		{"no long before", no.at("00:00-04:30"), "short", finding.Conditional},
		{"no long after", no.at("Mo-Fr 15:00-18:00"), "short", finding.Conditional},
		{"no on another day", no.at("Sa,Su 00:00-24:00"), "short", finding.Conditional},
		{"no by words", no.at("wet"), "short", finding.Unknown},
		{"no on holidays", no.at("PH"), "short", finding.Unknown},
		{"no by words outside the hours", no.at("15:00-18:00 AND wet"), "short", finding.Conditional},
		{"private within", access(everyone, network.Permission).at("08:00-09:00"), "long", ""},
		{"narrow within", narrow.at("08:00-09:00"), "long", ""},
		{"narrow outside", narrow.at("15:00-18:00"), "short", finding.Conditional},
		{"narrow by words", narrow.at("snow"), "short", finding.Unknown},
		{"wide enough within", metres(network.MaxWidth, 3).at("08:00-09:00"), "short", finding.Unknown},
		{"wide enough outside", metres(network.MaxWidth, 3).at("15:00-18:00"), "short", finding.Unknown},
	} {
		p := plan(t, world(t, fork(road{signs: signs(tc.sign)}), nil), house())
		if !takes(t, tc.name, p, tc.want) {
			continue
		}
		rule := "access at hours"
		if tc.sign.Subject != network.Access {
			rule = "posted width"
		}
		if tc.want == "short" {
			says(t, tc.name, p, rule, tc.says)
		}
	}
}

// What shuts the rig out is named, whether it is an access word or a figure,
// and what does not shut it out is not.
func TestAvoidedAtHours(t *testing.T) {
	for name, tc := range map[string]struct {
		signs []sign
		want  string
	}{
		"access": {signs(access(everyone, refused).at("08:00-09:00")), "08:00-09:00"},
		"width":  {signs(metres(network.MaxWidth, 2).at("08:00-09:00")), "08:00-09:00"},
		"width, beside an access word of other hours": {signs(metres(network.MaxWidth, 2), access(everyone, refused).at("20:00-21:00")), "text: 2)"},
	} {
		p := plan(t, world(t, fork(road{signs: tc.signs}), nil), house())
		if !takes(t, name, p, "long") {
			continue
		}
		if len(p.Avoided) != 1 || len(p.Avoided[0].Signs) != 1 {
			t.Errorf("%s: avoided %+v, want one sign", name, p.Avoided)
		} else if !strings.Contains(p.Avoided[0].Signs[0].String(), tc.want) {
			t.Errorf("%s: avoided %q", name, p.Avoided[0].Signs)
		}
	}
}

// Hours on signs are those of the clock where they stand, however the
// departure is written.
func TestHoursOfThePlace(t *testing.T) {
	no := access(everyone, refused).at("Mo-Fr 07:30-09:00")
	for _, at := range []string{"2027-05-11T08:00:00-04:00", "2027-05-11T12:00:00Z", "2027-05-11T21:00:00+09:00"} {
		when, err := time.Parse(time.RFC3339, at)
		if err != nil {
			t.Fatal(err)
		}
		p := plan(t, world(t, fork(road{signs: signs(no)}), nil), house(func(r *Request) { r.Departure, r.Local = when, false }))
		takes(t, at, p, "long")
	}
}

// One sign on one road is met once, though it binds every mode of the rig.
func TestConditionalSaidOnce(t *testing.T) {
	p := plan(t, world(t, fork(road{signs: signs(access(everyone, refused).at("20:00-21:00"))}), nil), house())
	got := byRule(p, "access at hours")
	if len(got) != 1 || strings.Contains(got[0].Place.String(), "more") {
		t.Errorf("%+v", got)
	}
}

// A slow trip that may meet the hours of a sign is told that it may.
func TestHoursOfASlowTrip(t *testing.T) {
	// 63 km at 15 km/h take more than four hours.
	roads := fork(road{signs: signs(access(everyone, refused).at("11:45-12:15"))})
	roads[0].from, roads[0].speed = [2]float64{-80, 0}, 15*measure.KilometrePerHour
	p := plan(t, world(t, roads, nil), house(func(r *Request) { r.Stops[0].Point = point([2]float64{-79, 0}) }))
	takes(t, "at noon", p, "short")
	says(t, "at noon", p, "access at hours", finding.Unknown)
}

// one is a single road with things on it, driven along its line.
func one(r road) []road {
	r.name, r.from, r.to = "way", [2]float64{-5, 0}, [2]float64{15, 0}
	return []road{r}
}

// The lower of what is posted and what is measured binds; the rig is 4.3 m
// high and nothing is taken off.
func TestHeights(t *testing.T) {
	h := func(s network.Subject, l float64) sign { return metres(s, l) }
	const posted, physical, legal = network.MaxHeight, network.MaxHeightPhysical, network.MaxHeightLegal
	for _, tc := range []struct {
		name      string
		signs     []sign
		out, home finding.Outcome
	}{
		{"nothing", nil, finding.Unknown, finding.Unknown},
		{"much to spare", signs(h(posted, 9)), finding.Unknown, finding.Unknown},
		{"a millimetre to spare", signs(h(posted, 4.301)), finding.Unknown, finding.Unknown},
		{"nothing to spare", signs(h(posted, 4.3)), finding.Review, finding.Review},
		{"too low", signs(h(posted, 4.299)), finding.Forbidden, finding.Forbidden},
		{"physically too low", signs(h(posted, 5), h(physical, 4.2)), finding.Forbidden, finding.Forbidden},
		{"posted too low", signs(h(posted, 4.2), h(physical, 5)), finding.Forbidden, finding.Forbidden},
		{"legally too low", signs(h(posted, 5), h(legal, 4.2)), finding.Forbidden, finding.Forbidden},
		{"low for one lane of two", signs(h(posted, 4.2), h(posted, 5)), finding.Forbidden, finding.Forbidden},
		{"low forward", signs(h(posted, 5), h(posted, 4.2).along()), finding.Forbidden, finding.Unknown},
		{"low backward", signs(h(physical, 4.2).against(), h(posted, 5)), finding.Unknown, finding.Forbidden},
		{"low at times", signs(h(posted, 4.2).at("20:00-21:00")), finding.Forbidden, finding.Forbidden},
		{"no figure", signs(h(posted, 0).state(network.NoFigure)), finding.Unknown, finding.Unknown},
		{"unreadable", signs(h(posted, 0).state(network.Unreadable)), finding.Unknown, finding.Unknown},
		{"unreadable beside low", signs(h(posted, 0).state(network.Unreadable), h(physical, 4)), finding.Forbidden, finding.Forbidden},
	} {
		w := world(t, one(road{spots: []spot{{kind: network.RoadBridge, part: 0.5, signs: tc.signs}}}), nil)
		says(t, tc.name, plan(t, w, house()), "structure", tc.out)
		says(t, tc.name+", home", plan(t, w, house(back)), "structure", tc.home)
		says(t, tc.name+", height not known", plan(t, w, house(noMeasures)), "structure", finding.Unknown)
		least := tc.out // of the unit alone: too low stays so, all else is not known
		if least != finding.Forbidden {
			least = finding.Unknown
		}
		says(t, tc.name+", unit only", plan(t, w, house(unitOnly)), "structure", least)
		if p := plan(t, w, house()); p.Passable != (tc.out != finding.Forbidden) {
			t.Errorf("%s: passable %t", tc.name, p.Passable)
		}
	}
}

func TestLowBridgeIsGoneRound(t *testing.T) {
	low := road{spots: []spot{{kind: network.RailBridge, part: 0.5, signs: signs(metres(network.MaxHeight, 4).along())}}}
	w := world(t, fork(low), nil)
	p := plan(t, w, house())
	takes(t, "low", p, "long")
	if len(p.Avoided) != 1 || len(p.Avoided[0].Structures) != 1 || len(p.Avoided[0].Signs) != 0 || !strings.Contains(p.Avoided[0].Structures[0].Called.String(), "structure.over(kind: rail bridge, name: , road: short)") {
		t.Errorf("avoided %+v", p.Avoided)
	}
	takes(t, "high enough the other way", plan(t, w, house(back)), "short")
}

// Structures are listed in the order of travel and answered for in the order
// of risk.
func TestOrderOfRisk(t *testing.T) {
	kinds := network.OverheadKinds()
	var spots []spot
	for i, k := range kinds { // on the way in the opposite order
		spots = append(spots, spot{kind: k, signs: signs(metres(network.MaxHeight, 5+float64(i))), part: 0.9 - 0.8*measure.Distance(i)/measure.Distance(len(kinds))})
	}
	p := plan(t, world(t, one(road{spots: spots}), nil), house())
	got := byRule(p, "structure")
	if len(got) != len(kinds) || len(p.Legs[0].Structures) != len(kinds) {
		t.Fatalf("%d findings, %d structures of %d", len(got), len(p.Legs[0].Structures), len(kinds))
	}
	for i, k := range kinds {
		if got[i].Place.Code != "structure.over" || got[i].Place.Get("kind") != k || got[i].Outcome != finding.Unknown {
			t.Errorf("finding %d is %s of %s, want unknown of %s", i, got[i].Outcome, got[i].Place.String(), k)
		}
		s := p.Legs[0].Structures
		if c := s[len(s)-1-i].Called; c.Code != "structure.over" || c.Get("kind") != k || i > 0 && s[i].At <= s[i-1].At {
			t.Errorf("structure %d from the end is %s, want %s", i, s[len(s)-1-i].Called, k)
		}
	}
}

// A tunnel over two edges is one structure; a bridge that is met twice is two.
func TestWholeStructures(t *testing.T) {
	for kind, want := range map[network.Kind]int{network.Tunnel: 1, network.CoveredWay: 1, network.PostedHeight: 1, network.RoadBridge: 2} {
		whole := want == 1
		roads := []road{
			{name: "way", from: [2]float64{-5, 0}, to: [2]float64{5, 0}, spots: []spot{{kind: kind, part: 0.5, whole: whole, osm: 7}}},
			{name: "way", from: [2]float64{5, 0}, to: [2]float64{15, 0}, spots: []spot{{kind: kind, part: 0.5, whole: whole, osm: 7}}},
		}
		if got := len(byRule(plan(t, world(t, roads, nil), house()), "structure")); got != want {
			t.Errorf("%s: %d findings, want %d", kind, got, want)
		}
	}
}

// Going round is worth an hour for each thing that is not measured.
func TestAvoidUnmeasured(t *testing.T) {
	bridges := func(n int, figure ...sign) (out []spot) {
		for i := range n {
			out = append(out, spot{kind: network.FootBridge, part: 0.2 + 0.2*measure.Distance(i), signs: figure})
		}
		return out
	}
	avoid := func(r *Request) { r.AvoidUnmeasured = true }
	// The long way is 2 x 9.7 km; short takes 394 s.
	minutes := func(m float64) measure.Speed { return measure.Speed(2 * 9740 / (60 * m)) }
	for _, tc := range []struct {
		name  string
		spots []spot
		long  measure.Speed
		ask   []func(*Request)
		want  string
	}{
		{"not asked for", bridges(1), minutes(10), nil, "short"},
		{"50 minutes for one", bridges(1), minutes(50 + 6.6), []func(*Request){avoid}, "long"},
		{"70 minutes for one", bridges(1), minutes(70 + 6.6), []func(*Request){avoid}, "short"},
		{"110 minutes for two", bridges(2), minutes(110 + 6.6), []func(*Request){avoid}, "long"},
		{"130 minutes for two", bridges(2), minutes(130 + 6.6), []func(*Request){avoid}, "short"},
		{"measured", bridges(2, metres(network.MaxHeight, 5)), minutes(30), []func(*Request){avoid}, "short"},
		{"unreadable", bridges(1, metres(network.MaxHeight, 0).state(network.Unreadable)), minutes(30), []func(*Request){avoid}, "long"},
		{"measured the other way only", bridges(1, metres(network.MaxHeight, 5).against()), minutes(30), []func(*Request){avoid}, "long"},
		{"a gate is nothing overhead", []spot{{kind: network.Gate, part: 0.5, node: true}}, minutes(30), []func(*Request){avoid}, "short"},
	} {
		p := plan(t, world(t, fork(road{spots: tc.spots}, road{speed: tc.long}), nil), house(tc.ask...))
		takes(t, tc.name, p, tc.want)
	}
}

// What stands on the road, at a node of it.
func TestBarriers(t *testing.T) {
	for _, tc := range []struct {
		kind  network.Kind
		signs []sign
		want  string
		says  finding.Outcome
	}{
		{network.Blocked, nil, "long", ""},
		{network.Blocked, only(everyone, allowed), "short", finding.Unknown},
		{network.Blocked, only(network.Vehicles, allowed), "short", finding.Unknown},
		{network.Blocked, only(hgv, allowed), "long", ""},
		{network.Blocked, only(network.Vehicles, network.Unread), "long", ""},
		{network.Blocked, only(everyone, network.Permission), "long", ""},
		{network.Blocked, signs(metres(network.MaxWidth, 5)), "long", ""},
		{network.Gate, nil, "short", finding.Unknown},
		{network.Gate, only(everyone, allowed), "short", finding.Unknown},
		{network.Gate, only(everyone, refused), "long", ""},
		{network.Gate, only(hgv, refused), "long", ""},
		{network.Gate, signs(metres(network.MaxWidth, 2)), "long", ""},
		{network.TollBooth, nil, "short", finding.Unknown},
		{network.Checkpoint, nil, "short", finding.Unknown},
		{network.LevelCrossing, nil, "short", finding.Unknown},
		{network.Calming, nil, "short", finding.Unknown},
		{network.Hump, nil, "short", finding.Unknown},
		{network.OtherBarrier, nil, "short", finding.Unknown},
		{network.FordSpot, nil, "short", finding.Review},
	} {
		name := fmt.Sprintf("%s, %v", tc.kind, tc.signs)
		p := plan(t, world(t, fork(road{spots: []spot{{kind: tc.kind, part: 0.5, node: true, signs: tc.signs}}}), nil), house())
		if takes(t, name, p, tc.want) && tc.want == "short" {
			says(t, name, p, tc.kind.String(), tc.says)
		}
	}
}

// A lock is never opened by an access word beside it.
func TestLockedGate(t *testing.T) {
	locked := sign{Sign: network.Sign{Subject: network.Access, Word: network.Permission}, text: "locked=yes"}
	gate := spot{kind: network.Gate, part: 0.5, node: true, signs: signs(access(everyone, allowed), locked)}
	takes(t, "locked", plan(t, world(t, fork(road{spots: []spot{gate}}), nil), house()), "long")
}

// A height posted at a node shuts the road, at a bar as at a gate, beside which
// the network has it as a sign.
func TestHeightsOfBarriers(t *testing.T) {
	for _, kind := range []network.Kind{network.Restrictor, network.Gantry, network.OtherBarrier, network.Gate, network.LevelCrossing} {
		low := spot{kind: kind, part: 0.5, node: true, signs: signs(metres(network.MaxHeight, 3))}
		spots := []spot{low}
		if !kind.Overhead() {
			low.kind = network.PostedHeight
			spots = append(spots, low)
		}
		takes(t, kind.String(), plan(t, world(t, fork(road{spots: spots}), nil), house()), "long")
	}
}

// A way and a node may say the same; only the node's words are of the place.
func TestSameRecordOnWayAndNode(t *testing.T) {
	same := signs(access(hgv, refused))
	roads := fork(road{spots: []spot{{kind: network.Restrictor, part: 0.5, node: true, signs: same}}})
	roads[0].spots = []spot{{kind: network.Restrictor, part: 0.9, signs: same}}
	takes(t, "the way first", plan(t, world(t, roads, nil), house()), "long")
}

// A given route is checked as it is.
func TestGivenAgainstTheRules(t *testing.T) {
	shortWay := [][2]float64{{-4, 0}, {0, 0}, {10, 0}, {14, 0}}
	turn := []network.Arc{network.MakeArc(0, false), network.MakeArc(1, false)}
	after := []network.Arc{network.MakeArc(0, false), network.MakeArc(1, false), network.MakeArc(4, false)}
	wrong := road{road: network.Road{Flags: network.OnewayAgainst | network.KnownDirection}}
	for _, tc := range []struct {
		name  string
		short road
		bans  []ban
		rule  string
		want  finding.Outcome
	}{
		{"the wrong way", wrong, nil, "one-way", finding.Forbidden},
		{"the right way", road{road: network.Road{Flags: network.OnewayAlong}}, nil, "one-way", ""},
		{"closed", road{signs: only(motor, refused)}, nil, "access", finding.Forbidden},
		{"too narrow", road{signs: signs(metres(network.MaxWidth, 2))}, nil, "posted width", finding.Forbidden},
		{"blocked", road{spots: []spot{{kind: network.Blocked, part: 0.5, node: true}}}, nil, "access", finding.Forbidden},
		{"too low", road{spots: []spot{{kind: network.RoadBridge, part: 0.5, signs: signs(metres(network.MaxHeight, 4))}}}, nil, "structure", finding.Forbidden},
		{"a banned turn", road{}, []ban{{arcs: turn}}, "turn rules", finding.Forbidden},
		{"a banned way", road{}, []ban{{arcs: after}}, "turn rules", finding.Forbidden},
		{"a turn banned at hours", road{}, []ban{{arcs: turn, when: "08:00-09:00"}}, "turn rules", finding.Conditional},
		{"a turn banned for others", road{}, []ban{{arcs: turn, Ban: network.Ban{For: hazmat}}}, "turn rules", ""},
		{"another turn", road{}, []ban{{arcs: []network.Arc{network.MakeArc(0, false), network.MakeArc(2, false)}}}, "turn rules", ""},
	} {
		w := world(t, fork(tc.short), tc.bans)
		p := plan(t, w, house(given(shortWay...)))
		if !takes(t, tc.name, p, "short") {
			continue
		}
		says(t, tc.name, p, tc.rule, tc.want)
		if (p.Verdict.Outcome() == finding.Forbidden) != (tc.want == finding.Forbidden) {
			t.Errorf("%s: the verdict is %s", tc.name, p.Verdict.Outcome())
		}
	}
}

func TestBannedTurnIsGoneRound(t *testing.T) {
	turn := []network.Arc{network.MakeArc(0, false), network.MakeArc(1, false)}
	for _, tc := range []struct {
		name string
		ban  network.Ban
		when string
		rig  []func(*Request)
		want string
	}{
		{"for all", network.Ban{}, "", nil, "long"},
		{"for all, the other way", network.Ban{}, "", []func(*Request){back}, "short"},
		{"at hours, always taken to hold", network.Ban{}, "20:00-21:00", nil, "long"},
		{"for lorries", network.Ban{For: hgv}, "", nil, "long"},
		{"for articulated lorries, on a ball", network.Ban{For: artic}, "", nil, "short"},
		{"for all but lorries", network.Ban{Except: 1 << hgv}, "", nil, "long"},
		{"for caravans, a load", network.Ban{For: caravans}, "", []func(*Request){isA(limit.LoadOnTrailer)}, "short"},
	} {
		takes(t, tc.name, plan(t, world(t, fork(road{}), []ban{{arcs: turn, Ban: tc.ban, when: tc.when}}), house(tc.rig...)), tc.want)
	}
}

func TestSurvey(t *testing.T) {
	high := func(mm int64) func(*Request) {
		return func(r *Request) { r.Rig.Height, r.Rig.Unit.Height = measure.Given(length(mm)), length(mm) }
	}
	for _, tc := range []struct {
		name  string
		class network.Class
		rig   func(*Request)
		want  finding.Outcome
	}{
		{"4.0 m", network.Primary, high(4000), ""},
		{"4.001 m", network.Primary, high(4001), finding.Unknown},
		{"4.001 m on a track", network.Track, high(4001), finding.Unknown},
		{"4.5 m on a trunk road", network.Trunk, high(4500), ""},
		{"4.5 m on a freeway", network.Freeway, high(4500), ""},
		{"not known", network.Secondary, noMeasures, finding.Unknown},
		{"not known on a freeway", network.Freeway, noMeasures, ""},
		{"low unit, tow vehicle not known", network.Primary, func(r *Request) { high(3000)(r); r.Rig.Height = r.Rig.Height.OrMore() }, finding.Unknown},
	} {
		p := plan(t, world(t, one(road{class: tc.class}), nil), house(tc.rig))
		says(t, tc.name, p, "survey", tc.want)
		if got := p.Verdict.Demands.Survey; got != (tc.want != "") {
			t.Errorf("%s: a survey is asked for: %t", tc.name, got)
		}
	}
}

func TestSurfaces(t *testing.T) {
	for _, tc := range []struct {
		name string
		road network.Road
		rule string
		want finding.Outcome
	}{
		{"unpaved", network.Road{Paved: network.Unpaved}, "surfaces", finding.Review},
		{"paved", network.Road{Paved: network.Paved}, "surfaces", ""},
		{"not known", network.Road{}, "surfaces", finding.Unknown},
		{"ford", network.Road{Flags: network.Ford}, "ford", finding.Review},
		{"toll", network.Road{Flags: network.Toll}, "toll", finding.Unknown},
		{"narrower than the rig", network.Road{Width: 2500 * measure.Millimetre}, "lanes", finding.Review},
		{"wider than the rig", network.Road{Width: 7 * measure.Metre}, "lanes", ""},
	} {
		says(t, tc.name, plan(t, world(t, one(road{road: tc.road}), nil), house()), tc.rule, tc.want)
	}
	narrow := world(t, one(road{road: network.Road{Width: 2500 * measure.Millimetre}}), nil)
	if got := byRule(plan(t, narrow, house(unitOnly)), "lanes"); len(got) == 0 || got[0].Outcome != finding.Review {
		t.Errorf("the unit alone is wider than the road: %+v", got)
	}
	if got := byRule(plan(t, narrow, house(noMeasures)), "lanes"); len(got) == 0 || got[0].Outcome != finding.Unknown {
		t.Errorf("a narrow road and a rig of unknown width: %+v", got)
	}
}

func TestFerries(t *testing.T) {
	for _, class := range []network.Class{network.Ferry, network.PossibleFerry} {
		p := plan(t, world(t, fork(road{class: class}), nil), house())
		takes(t, class.String(), p, "long")
		if len(p.Avoided) != 1 || !p.Avoided[0].Ferry || p.Avoided[0].Extra <= 0 {
			t.Errorf("%s: avoided %+v", class, p.Avoided)
		}
		says(t, class.String(), p, "ferry", "")
		roads := slices.Delete(fork(road{class: class}), 2, 4) // nothing else leads there
		p = plan(t, world(t, roads, nil), house())
		says(t, class.String()+" only", p, "ferry", finding.Unknown)
		if len(p.Avoided) != 0 {
			t.Errorf("%s only: avoided %+v", class, p.Avoided)
		}
	}
}

// A ferry is not what the rig would take if the low bridge were not there.
func TestLowBridgeBesideAFerry(t *testing.T) {
	roads := fork(road{spots: []spot{{kind: network.RailBridge, part: 0.5, signs: signs(metres(network.MaxHeight, 4))}}})
	roads = append(roads, road{name: "boat", from: [2]float64{0, 0}, to: [2]float64{10, 0}, class: network.Ferry, speed: 40})
	p := plan(t, world(t, roads, nil), house())
	takes(t, "a low bridge beside a ferry", p, "long")
	if !slices.ContainsFunc(p.Avoided, func(a choosing.Avoided) bool { return len(a.Structures) == 1 }) || !slices.ContainsFunc(p.Avoided, func(a choosing.Avoided) bool { return a.Ferry }) {
		t.Errorf("avoided %+v, want the bridge and the ferry", p.Avoided)
	}
}

// The rated mass is not known: the actual one is the least that it can be.
func TestRatedMassIsALeastValue(t *testing.T) {
	p := plan(t, world(t, one(road{signs: signs(tonnes(network.MaxRating, 60))}), nil), house())
	if got := byRule(p, "posted rated mass"); len(got) != 1 || got[0].Reason != finding.AtLeast || !strings.Contains(told(got[0]), "posted.rig_at_least(quantity: rated mass") {
		t.Errorf("%+v", got)
	}
}

// Silence adds up to the length of the roads that are silent.
func TestSilence(t *testing.T) {
	full := network.Road{Flags: network.PostedSpeed | network.KnownDirection, Lanes: 2, Paved: network.Paved}
	without := func(change func(*network.Road)) network.Road { r := full; change(&r); return r }
	roads := []road{
		{name: "all", from: [2]float64{-5, 0}, to: [2]float64{0, 0}, road: full},
		{name: "no lanes", from: [2]float64{0, 0}, to: [2]float64{2, 0}, road: without(func(r *network.Road) { r.Lanes = 0 })},
		{name: "a width", from: [2]float64{2, 0}, to: [2]float64{3, 0}, road: without(func(r *network.Road) { r.Lanes, r.Width = 0, 7*measure.Metre })},
		{name: "no surface", from: [2]float64{3, 0}, to: [2]float64{6, 0}, road: without(func(r *network.Road) { r.Paved = network.PavingUnknown })},
		{name: "no speed", from: [2]float64{6, 0}, to: [2]float64{10, 0}, road: without(func(r *network.Road) { r.Flags = network.KnownDirection })},
		{name: "no direction", from: [2]float64{10, 0}, to: [2]float64{11, 0}, road: without(func(r *network.Road) { r.Flags = network.PostedSpeed })},
		{name: "a circle", from: [2]float64{11, 0}, to: [2]float64{12, 0}, road: without(func(r *network.Road) { r.Flags = network.PostedSpeed | network.OnewayAlong })},
		{name: "nothing", from: [2]float64{12, 0}, to: [2]float64{15, 0}},
	}
	w := world(t, roads, nil)
	p := plan(t, w, house()) // the last road is driven for two thirds
	n := w.Network
	end := n.Length[7] * 2 / 3
	for rule, want := range map[string]measure.Distance{
		"lanes": n.Length[1] + end, "surfaces": n.Length[3] + end, "speed limits": n.Length[4] + end, "one-ways": n.Length[5] + end,
	} {
		got := byRule(p, rule)
		if len(got) != 1 || got[0].Outcome != finding.Unknown || fmt.Sprint(got[0].Says[0].Get("length")) != want.String() {
			t.Errorf("%s: %+v, want %s", rule, got, want)
		}
	}
	p = plan(t, world(t, one(road{road: full}), nil), house())
	for _, rule := range []string{"lanes", "surfaces", "speed limits", "one-ways"} {
		says(t, "all is said", p, rule, "")
	}
}

func TestClimbs(t *testing.T) {
	roads := []road{
		{name: "up", from: [2]float64{-5, 0}, to: [2]float64{5, 0}, grade: network.Grade{Ascent: 100, Descent: 10, Steepest: 0.06, Known: 1}},
		{name: "down", from: [2]float64{15, 0}, to: [2]float64{5, 0}, grade: network.Grade{Ascent: 40, Descent: 20, Steepest: 0.08, Known: 1}}, // drawn against the trip
	}
	w := world(t, roads, nil)
	near := func(got, want float64) bool { return got-want < 1e-3 && want-got < 1e-3 }
	for _, tc := range []struct {
		name        string
		rig         []func(*Request)
		up, down, s float64
	}{ // nine tenths of either road are driven
		{"out", nil, 0.9*100 + 0.9*20, 0.9*10 + 0.9*40, -0.08},
		{"home", []func(*Request){back}, 0.9*10 + 0.9*40, 0.9*100 + 0.9*20, 0.08},
	} {
		p := plan(t, w, house(tc.rig...))
		c := p.Legs[0].Climb
		if c == nil || !near(c.Ascent, tc.up) || !near(c.Descent, tc.down) || !near(c.Steepest, tc.s) || c.Unknown != 0 {
			t.Errorf("%s: %+v, want up %v, down %v, %v", tc.name, c, tc.up, tc.down, tc.s)
		}
		says(t, tc.name, p, "grades", finding.Unknown)
	}
	roads[1].grade = network.Grade{}
	w = world(t, roads, nil)
	p := plan(t, w, house())
	if c := p.Legs[0].Climb; !near(float64(c.Unknown), float64(0.9*w.Network.Length[1])) || !near(c.Ascent, 90) || !near(c.Steepest, 0.06) {
		t.Errorf("half unknown: %+v", c)
	}
}

// Rows of a municipality are checked where the network names the town.
func TestTowns(t *testing.T) {
	row := limit.Row{
		ID: "dufferin", Jurisdiction: "CA-ON/Dufferin County", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Width, Published: "2.5 m",
		Threshold: limit.Amount(2500 * measure.Millimetre), Outcome: finding.Review, Tier: limit.Legal, Status: finding.Invented, Source: "made up",
	}
	for town, want := range map[string]bool{
		"Dufferin County": true, "Orangeville;Dufferin County": true, "Dufferin County;Orangeville": true, "dufferin county": true, "DUFFERIN-COUNTY": true, "Dufferin": false, "": false,
	} {
		p := plan(t, world(t, one(road{town: town}), nil, row), house())
		checked := false
		for _, f := range byRule(p, "width") {
			if f.Jurisdiction == row.Jurisdiction {
				checked = f.Outcome == finding.Review && f.Invented
			}
		}
		if checked != want {
			t.Errorf("%q: checked %t", town, checked)
		}
		owner := byRule(p, "road owner")
		if mentioned := len(owner) == 1 && strings.Contains(told(owner[0]), "(towns: "); mentioned == want {
			t.Errorf("%q: owner says %+v", town, owner)
		}
		if p = plan(t, world(t, one(road{town: town, code: "CA-QC"}), nil, row), house()); len(byRule(p, "width")) != 1 {
			t.Errorf("%q in another province: %+v", town, byRule(p, "width"))
		}
	}
	roads := []road{
		{name: "one", from: [2]float64{-5, 0}, to: [2]float64{5, 0}, town: "Orangeville"},
		{name: "two", from: [2]float64{5, 0}, to: [2]float64{15, 0}, town: "Dufferin County"},
	}
	p := plan(t, world(t, roads, nil, row), house())
	if len(p.Legs) != 1 || !slices.Equal(p.Legs[0].Towns, []string{"Orangeville", "Dufferin County"}) || len(byRule(p, "width")) != 2 {
		t.Errorf("two towns on one leg: %v", p.Legs[0].Towns)
	}
}

// figure draws a sign that limits something, around what rigs measure.
func figure(t *rapid.T) sign {
	subject := network.Subject(rapid.IntRange(int(network.MaxHeight), int(network.MaxAxleMass)).Draw(t, "subject"))
	value := float64(rapid.IntRange(20, 160).Draw(t, "value")) / 10
	s := metres(subject, value)
	if subject.Mass() {
		s = tonnes(subject, value)
	}
	s.For = network.Mode(rapid.IntRange(0, int(hazmat)).Draw(t, "for"))
	s.Bound = network.Bound(rapid.IntRange(0, 2).Draw(t, "bound"))
	s.State = rapid.SampledFrom([]network.State{network.Known, network.Known, network.Known, network.Unreadable, network.NoFigure}).Draw(t, "state")
	return s.at(when(t))
}

func when(t *rapid.T) string {
	return rapid.SampledFrom([]string{"", "", "", "08:00-09:00", "20:00-21:00", "wet"}).Draw(t, "when")
}

// own are the modes that are no others' parents among those a rig may be, but
// for the articulated among the heavy.
var own = []network.Mode{car, goods, hgv, artic, trailers, caravans}

func word(t *rapid.T, m network.Mode) sign {
	s := access(m, network.Word(rapid.IntRange(0, int(refused)).Draw(t, "word")))
	s.Bound = network.Bound(rapid.IntRange(0, 2).Draw(t, "bound"))
	return s.at(when(t))
}

// posted draws the signs of a road and, half of the time, something over it
// that bears the same ones.
func posted(t *rapid.T, most int) (list []sign, spots []spot) {
	for range rapid.IntRange(0, most).Draw(t, "signs") {
		if rapid.IntRange(0, 2).Draw(t, "kind") == 0 {
			list = append(list, word(t, rapid.SampledFrom(own).Draw(t, "mode")))
		} else {
			list = append(list, figure(t))
		}
	}
	if rapid.Bool().Draw(t, "over") {
		kind := rapid.SampledFrom([]network.Kind{network.PostedHeight, network.RoadBridge, network.Gate}).Draw(t, "over")
		spots = []spot{{kind: kind, part: 0.5, node: kind == network.Gate, signs: list}}
	}
	return list, spots
}

// A rig that is higher, wider, longer or heavier never has a faster way.
func TestLargerIsNeverFaster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		roads := []road{ // the stops are on roads without a sign, so that both rigs start there
			{name: "start", from: [2]float64{-5, 0}, to: [2]float64{0, 0}}, {name: "end", from: [2]float64{10, 0}, to: [2]float64{15, 0}},
		}
		nodes := [][2]float64{{0, 0}, {10, 0}, {3, 4}, {7, 4}, {3, -4}, {7, -4}}
		for range rapid.IntRange(2, 12).Draw(t, "roads") {
			i := rapid.IntRange(0, len(nodes)-1).Draw(t, "from")
			k := (i + rapid.IntRange(1, len(nodes)-1).Draw(t, "to")) % len(nodes)
			r := road{name: "way", from: nodes[i], to: nodes[k], speed: measure.Speed(rapid.IntRange(5, 25).Draw(t, "speed"))}
			r.signs, r.spots = posted(t, 3)
			if rapid.IntRange(0, 4).Draw(t, "one-way") == 0 {
				r.road.Flags = network.OnewayAlong
			}
			roads = append(roads, r)
		}
		w := world(t, roads, nil)
		tenth := func(most int) int64 { return int64(rapid.IntRange(0, most).Draw(t, "more")) * 100 }
		small := house(func(r *Request) {
			r.Rig.Height, r.Rig.Width = measure.Given(length(2500+tenth(30))), measure.Given(length(2000+tenth(15)))
			r.Rig.Length, r.Rig.Mass = measure.Given(length(6000+tenth(90))), measure.Given(mass(2000+tenth(90)))
			r.Rig.Unit = rig.Unit{Kind: limit.TinyHome, Coupling: rapid.SampledFrom([]rig.Coupling{rig.Ball, rig.FifthWheel}).Draw(t, "coupling")}
		})
		large := small
		more := func(l measure.Known[measure.Length]) measure.Known[measure.Length] {
			return measure.Sum(l, measure.Exactly(measure.Length(tenth(20))*measure.Millimetre))
		}
		large.Rig.Mass = measure.Sum(small.Rig.Mass, measure.Exactly(measure.Mass(tenth(40))*measure.Kilogram))
		large.Rig.Height, large.Rig.Width, large.Rig.Length = more(small.Rig.Height), more(small.Rig.Width), more(small.Rig.Length)
		big, err := w.Plan(context.Background(), large)
		if err != nil || !big.Passable {
			return
		}
		little, err := w.Plan(context.Background(), small)
		if err != nil || !little.Passable {
			t.Fatalf("%v: the larger rig passes, the smaller does not", err)
		}
		if big.cost < little.cost {
			t.Fatalf("the larger rig takes %v by %v, the smaller %v by %v", big.Time, big.Legs[0].Roads, little.Time, little.Legs[0].Roads)
		}
	})
}

// gravity orders verdicts. What is only unknown and what is only allowed under
// conditions are not compared.
var gravity = map[finding.Outcome]int{finding.Clear: 0, finding.Unknown: 1, finding.Conditional: 1, finding.Review: 2, finding.Forbidden: 3}

// furtherSign adds a sign to one road of a given route and wants no milder
// verdict. Signs that open a road to a part of those whom another one keeps out
// are left out: they are milder by design.
func furtherSign(t *rapid.T, there func(*rapid.T) ([]sign, []spot), draw func(t *rapid.T, there []sign) (sign, bool)) {
	var roads []road
	for i := range rapid.IntRange(1, 2).Draw(t, "roads") {
		r := road{name: "way", from: [2]float64{float64(4*i - 5), 0}, to: [2]float64{float64(4*i - 1), 0}}
		r.signs, r.spots = there(t)
		roads = append(roads, r)
	}
	r := house(given([2]float64{-4, 0}, [2]float64{roads[len(roads)-1].to[0] - 1, 0}))
	if rapid.Bool().Draw(t, "unknown") {
		unitOnly(&r)
	}
	before, err := world(t, roads, nil).Plan(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	at := &roads[rapid.IntRange(0, len(roads)-1).Draw(t, "at")]
	s, ok := draw(t, at.signs)
	if !ok {
		return
	}
	at.signs = append(slices.Clone(at.signs), s)
	for i := range at.spots {
		at.spots[i].signs = at.signs
	}
	after, err := world(t, roads, nil).Plan(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	if gravity[after.Verdict.Worst] < gravity[before.Verdict.Worst] {
		t.Fatalf("%+v makes %s of %s", s, after.Verdict.Worst, before.Verdict.Worst)
	}
}

func TestFurtherFigureIsNeverMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		there := func(t *rapid.T) ([]sign, []spot) { return posted(t, 3) }
		furtherSign(t, there, func(t *rapid.T, _ []sign) (sign, bool) { return figure(t), true })
	})
}

// A word for a mode that no sign speaks of yet.
func TestFurtherWordIsNeverMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := func(t *rapid.T) (list []sign, _ []spot) {
			for range rapid.IntRange(0, 2).Draw(t, "words") {
				list = append(list, word(t, rapid.SampledFrom(own).Draw(t, "of")))
			}
			return list, nil
		}
		furtherSign(t, words, func(t *rapid.T, there []sign) (sign, bool) {
			m := rapid.SampledFrom(own).Draw(t, "mode")
			spoken := slices.ContainsFunc(there, func(s sign) bool { return s.Subject == network.Access && s.For == m })
			return word(t, m), !spoken
		})
	})
}

// A refusal of the way of travel beside whatever else is said, of any mode that
// the rig may be.
func TestRefusalAlwaysCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom([]network.Mode{car, goods, hgv, trailers, caravans}).Draw(t, "mode")
		list, _ := posted(t, 4)
		list = append(list, access(m, refused).along())
		p, err := world(t, fork(road{signs: list}), nil).Plan(context.Background(), house())
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range p.Legs {
			if slices.Contains(say.Strings(l.Roads), "short") {
				t.Fatalf("goes by a road that refuses %s: %+v", m, list)
			}
		}
	})
}

// Where the way goes on from a stop against the way it came, nobody knows
// whether there is room to turn.
func TestTurningRoundAtAStop(t *testing.T) {
	stop := func(label string, x float64) choosing.Stop {
		return choosing.Stop{Label: label, Point: point([2]float64{x, 0})}
	}
	for _, tc := range []struct {
		stops []choosing.Stop
		want  int
	}{
		{[]choosing.Stop{stop("a", 1), stop("b", 6), stop("c", 9)}, 0},
		{[]choosing.Stop{stop("a", 1), stop("b", 6), stop("c", 2)}, 1},
		{[]choosing.Stop{stop("a", 1), stop("b", 6), stop("c", 2), stop("d", 8)}, 2},
	} {
		p := plan(t, world(t, one(road{}), nil), house(func(r *Request) { r.Stops = tc.stops }))
		got := byRule(p, "turning round")
		if len(got) != tc.want || len(got) > 0 && (got[0].Outcome != finding.Unknown || got[0].Place.String() != "b") {
			t.Errorf("%d stops: %+v, want %d", len(tc.stops), got, tc.want)
		}
	}
}

// A stop with an address is put onto the street of its address past a nearer road; where
// that is closed to the rig or not there, onto the nearest, which is said.
func TestAddressOnItsOwnStreet(t *testing.T) {
	lane := func(signs ...sign) []road {
		return append(fork(road{}), road{name: "Mill Lane", from: [2]float64{0, 0}, to: [2]float64{-4, 0.1}, signs: signs})
	}
	for name, tc := range map[string]struct {
		roads  []road
		street string
		onto   string
		said   say.Code
	}{
		"own street":    {lane(), "Mill Ln.", "Mill Lane", ""},
		"no address":    {lane(), "", "start", ""},
		"no such road":  {lane(), "King Street", "start", "off.other_street"},
		"a closed road": {lane(only(network.Vehicles, network.Refused)...), "Mill Lane", "start", "off.own_closed"},
	} {
		p := plan(t, world(t, tc.roads, nil), house(func(r *Request) {
			r.Stops[0] = choosing.Stop{Label: "1 Mill Lane", Point: point([2]float64{-3.9, 0.01}), Street: tc.street}
		}))
		if got := say.Strings(p.Legs[0].Roads); len(got) == 0 || got[0] != tc.onto {
			t.Errorf("%s: the way begins on %v, want %s", name, got, tc.onto)
		}
		if got := slices.ContainsFunc(p.Off, func(r say.Remark) bool { return r.Code == tc.said }); got != (tc.said != "") {
			t.Errorf("%s: %v, want %s", name, say.Strings(p.Off), tc.said)
		}
	}
}
