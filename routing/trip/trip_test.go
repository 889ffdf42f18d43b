package trip

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/data"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
	"wayhouse/routing/rig/drive"
	"wayhouse/routing/trip/choosing"
)

var shipped = sync.OnceValues(func() (*Planner, error) {
	file := func(name string) []byte {
		raw, err := data.Files.ReadFile(name)
		if err != nil {
			panic(err)
		}
		return raw
	}
	n, errRoads := network.Read(file("roads/network.wayroads"))
	areas, errAreas := area.Read(file("areas/jurisdictions.bin"))
	rows, _, errRows := limit.Table().ReadCSV(file("tables/limits.csv"))
	offices, _, errAsk := permit.Offices().ReadCSV(file("tables/offices.csv"))
	if err := errors.Join(errRoads, errAreas, errRows, errAsk); err != nil {
		return nil, err
	}
	return New(context.Background(), n, areas, regs.NewTables("test", regs.Rows{Limits: pointers(rows), Offices: pointers(offices)}, nil))
})

// pointers are the rows as tables hold them.
func pointers[T any](rows []T) []*T {
	var out []*T
	for i := range rows {
		out = append(out, &rows[i])
	}
	return out
}

func planner(t testing.TB) *Planner {
	t.Helper()
	p, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func length(mm int64) *measure.Length {
	l := measure.Length(mm) * measure.Millimetre
	return &l
}

// request is a trip through two provinces by a rig of the height.
func request(mm int64) Request {
	mass := 10 * measure.Tonne
	return Request{
		Rig: rig.Rig{
			Unit: rig.Unit{Height: length(mm), Width: measure.Given(length(2550)), Length: length(8600)}, Tow: rig.Tow{Fuel: drive.Diesel},
			Height: measure.Given(length(mm)), Width: measure.Given(length(2550)), Length: measure.Given(length(13_500)), Mass: measure.Given(&mass),
		},
		Stops: []choosing.Stop{
			{Label: "Perth, ON", Point: orb.Point{-76.24939, 44.90011}},
			{Label: "Sorel-Tracy, QC", Point: orb.Point{-73.11327, 46.04178}},
		},
		Departure: time.Date(2027, 5, 11, 8, 0, 0, 0, time.UTC), Local: true,
		Allowances: clearance.DefaultAllowances(),
	}
}

func plan(t testing.TB, p *Planner, r Request) *Plan {
	t.Helper()
	got, err := p.Plan(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// bridge stands on the 401 near Cornwall; every figure is invented.
func bridge(mm int64) clearance.Structure {
	return clearance.Structure{
		ID: "b", Name: "a bridge", Point: orb.Point{-74.63950, 45.07164}, Road: "401", Direction: "both", Posted: length(mm),
		Status: finding.Invented, Source: "made up", ReadOn: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
	}
}

func find(l Leg, rule string) (finding.Finding, bool) {
	for _, f := range l.Findings {
		if string(f.Rule) == rule {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// Ontario's height is published (Official MTO Truck Handbook, Clearances:
// 4.15 m) and clears; Quebec's is only recalled and does not. Every lack of the
// road data is unknown on every leg.
func TestTwoProvinces(t *testing.T) {
	p := plan(t, planner(t), request(4050))
	if len(p.Legs) != 2 || p.Legs[0].Jurisdictions[0] != "CA-ON" || p.Legs[1].Jurisdictions[0] != "CA-QC" {
		t.Fatalf("legs %v", p.Legs)
	}
	ontario, _ := find(p.Legs[0], "height")
	quebec, _ := find(p.Legs[1], "height")
	if ontario.Outcome != finding.Clear || ontario.Citations[0].Status != finding.Published {
		t.Errorf("Ontario: %+v", ontario)
	}
	if quebec.Outcome != finding.Unknown || quebec.Citations[0].Status != finding.Memory || quebec.Citations[0].Published != "4.15 m" || whom(quebec) == "" {
		t.Errorf("Quebec: %+v", quebec)
	}
	if p.Verdict.Outcome() == finding.Clear {
		t.Error("the trip reads as clear")
	}
	for _, fact := range network.AllFacts() {
		if notice := p.Notice(); !slices.Contains(notice[len(notice)-1].Get("lacks").([]say.Term), say.Term(fact)) {
			t.Errorf("the notice does not name %s: %s", fact, notice)
		}
		rule := string(fact)
		if fact == network.Owners {
			rule = "road owner"
		}
		for i, l := range p.Legs {
			if fact == network.Addresses || fact == network.TruckRoads || fact == network.Stopping {
				continue // of no leg: they name stops
			}
			if f, ok := find(l, rule); !ok || f.Outcome != finding.Unknown {
				t.Errorf("leg %d: %s is %q", i, rule, f.Outcome)
			}
		}
	}
}

func TestGoesRound(t *testing.T) {
	low := request(4650)
	low.Structures = []clearance.Structure{bridge(4450)}
	p := plan(t, planner(t), low)
	if len(p.Avoided) != 1 || p.Avoided[0].Structures[0].ID != "b" || p.Avoided[0].ExtraTime.Duration <= 0 || !p.RestsOnInvented() {
		t.Errorf("avoided %+v", p.Avoided)
	}
	for _, l := range p.Legs {
		if len(l.Structures) > 0 {
			t.Errorf("the way still passes %v", l.Structures)
		}
	}
	under := request(4050)
	under.Structures = []clearance.Structure{bridge(4450)}
	p = plan(t, planner(t), under)
	if len(p.Avoided) != 0 || len(p.Legs[0].Structures) != 1 || p.Legs[0].Structures[0].Outcome != finding.Unknown {
		t.Errorf("a lower rig: avoided %v, passes %v", p.Avoided, p.Legs[0].Structures)
	}
}

// Where every way is shut the plan is an answer, and it is forbidden.
func TestEveryWayShut(t *testing.T) {
	r := request(4650)
	r.Stops[1] = choosing.Stop{Label: "past the bridge", Point: orb.Point{-74.62, 45.0755}}
	for i, p := range []orb.Point{r.Stops[0].Point} {
		s := bridge(4450)
		s.Point, s.Road, s.ID = p, "", string(rune('a'+i))
		at, err := planner(t).Index.Snap(p, choosing.Reach, nil)
		if err != nil {
			t.Fatal(err)
		}
		s.Point = at.At // right where the trip starts: no way leads out
		r.Structures = append(r.Structures, s)
	}
	p := plan(t, planner(t), r)
	if p.Passable || p.Verdict.Outcome() != finding.Forbidden {
		t.Errorf("passable %v, %s", p.Passable, p.Verdict.Outcome())
	}
}

func TestEmptyTables(t *testing.T) {
	full := planner(t)
	empty := *full
	empty.Tables = regs.NewTables("empty", regs.Rows{}, nil)
	for i, l := range plan(t, &empty, request(4050)).Legs {
		for _, f := range l.Findings {
			if f.Outcome != finding.Unknown {
				t.Errorf("leg %d: %s is %s", i, f.Rule, f.Outcome)
			}
		}
	}
}

// A structure that stands near no road is not lost, and one that the rig would
// not pass is for a person to decide.
func TestUnplacedStructure(t *testing.T) {
	for mm, want := range map[int64]finding.Outcome{6000: finding.Unknown, 3000: finding.Review} {
		r := request(4050)
		s := bridge(mm)
		s.Point = orb.Point{-74.60, 45.20}
		r.Structures = []clearance.Structure{s}
		p := plan(t, planner(t), r)
		found := slices.DeleteFunc(p.Findings, func(f finding.Finding) bool { return f.Topic == finding.Duty }) // the driver is another matter
		if len(found) != 1 || found[0].Outcome != want || !found[0].Invented || !found[0].Margin.Known() || len(found[0].Citations) != 1 {
			t.Errorf("%d mm: findings %+v", mm, found)
		}
	}
}

// A number that no road near bears does not take a low structure off the way.
func TestOtherRoadName(t *testing.T) {
	r := request(4050)
	s := bridge(3000)
	s.Road = "Hwy 401"
	r.Structures = []clearance.Structure{s}
	p := plan(t, planner(t), r)
	if len(p.Avoided) != 1 {
		t.Errorf("avoided %v, legs pass %v", p.Avoided, p.Legs[0].Structures)
	}
}

// A structure at a junction stands over every edge of its road there, and one
// just outside a stop is not left out.
func TestStructureAtNodeAndStop(t *testing.T) {
	n := planner(t).Network
	var low clearance.Structure
	for e := range network.EdgeID(n.Edges()) {
		if n.Ref(e) == "401" {
			low = bridge(3000)
			low.Point = n.Node[n.From[e]]
			break
		}
	}
	roads, doubt := planner(t).RoadsUnder(low)
	if len(roads) < 2 || !doubt.None() {
		t.Errorf("%d roads at a junction, %q", len(roads), doubt)
	}
	r := request(4050)
	behind := bridge(3000)
	behind.Road, behind.Point = "", orb.Point{r.Stops[0].Point[0] + 0.001, r.Stops[0].Point[1] + 0.001}
	r.Structures = []clearance.Structure{behind}
	p := plan(t, planner(t), r)
	said := len(p.Avoided) > 0
	for _, f := range p.Findings {
		said = said || f.Place.String() == behind.Name && f.Outcome == finding.Review
	}
	if !said && len(p.Legs[0].Structures) == 0 {
		t.Errorf("a low bridge by the stop is not mentioned: %+v", p.Findings)
	}
}

// A low structure beside a stretch that matches no road is for a person.
func TestStructureByAGap(t *testing.T) {
	r := request(4050)
	n := planner(t).Network
	at, err := planner(t).Index.Snap(orb.Point{-74.60, 45.20}, 50_000, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Given = &Given{Line: append(n.Line(n.Whole(network.MakeArc(at.Edge, false))), orb.Point{-74.60, 45.20}, orb.Point{-74.59, 45.20})}
	s := bridge(3000)
	s.Road, s.Point = "", orb.Point{-74.595, 45.20}
	r.Stops, r.Structures = nil, []clearance.Structure{s}
	p := plan(t, planner(t), r)
	if p.Verdict.Worst != finding.Review {
		t.Errorf("%s, findings %+v", p.Verdict.Worst, p.Findings)
	}
}

// Snow is allowed for by the calendar of the place, and by the stricter day
// where the trip may last into another month.
func TestSnowByTheDayOfThePlace(t *testing.T) {
	sums := map[string]string{}
	for _, at := range []string{"2027-05-01T02:00:00Z", "2027-04-30T22:00:00-04:00", "2027-10-29T08:00:00-04:00", "2027-06-01T08:00:00-04:00"} {
		r := request(4050)
		r.Local = false
		r.Departure, _ = time.Parse(time.RFC3339, at)
		r.Structures = []clearance.Structure{bridge(5000)}
		sums[at] = plan(t, planner(t), r).Legs[0].Structures[0].Sum().String()
	}
	for at, sum := range sums {
		if snow := strings.Contains(sum, "snow"); snow != (at != "2027-06-01T08:00:00-04:00") {
			t.Errorf("%s: %s", at, sum)
		}
	}
}

// Legs hang together, and their lengths are those of their lines.
func TestLegsHangTogether(t *testing.T) {
	p := plan(t, planner(t), request(4050))
	at := p.Departure
	for i, l := range p.Legs {
		if d := geodesic.Length(l.Line) - l.Length; d > 1 || d < -1 {
			t.Errorf("leg %d: line %v, length %v", i, geodesic.Length(l.Line), l.Length)
		}
		if i > 0 && p.Legs[i-1].Line[len(p.Legs[i-1].Line)-1] != l.Line[0] {
			t.Errorf("leg %d does not start where leg %d ends", i, i-1)
		}
		if !l.Start.Equal(at) {
			t.Errorf("leg %d starts %v, want %v", i, l.Start, at)
		}
		at = at.Add(l.Time.Duration)
	}
	if p.Departure.Format(time.RFC3339) != "2027-05-11T08:00:00-04:00" {
		t.Errorf("departure %v is not on the clock of Perth", p.Departure)
	}
}

func TestGivenRoute(t *testing.T) {
	free := plan(t, planner(t), request(4050))
	var line orb.LineString
	for _, l := range free.Legs {
		line = append(line, l.Line...)
	}
	r := request(4650)
	r.Given, r.Structures = &Given{Line: line}, []clearance.Structure{bridge(4450)}
	p := plan(t, planner(t), r)
	if p.Verdict.Outcome() != finding.Forbidden || len(p.Avoided) != 0 {
		t.Errorf("a given route under a low bridge: %s, avoided %v", p.Verdict.Outcome(), p.Avoided)
	}
}

// A line that matches no road is refused, and one that matches in part says
// which metres do not.
func TestGivenLineOffTheRoads(t *testing.T) {
	r := request(4650)
	r.Given, r.Stops = &Given{Line: orb.LineString{{-60, 45}, {-59.9, 45}}}, nil
	_, err := planner(t).Plan(context.Background(), r)
	var refused *RequestError
	if !errors.As(err, &refused) || refused.Field != "route" || !strings.Contains(refused.Problem.String(), "error.matches_no_road_of") {
		t.Errorf("a line off the network: %v", err)
	}
	p := plan(t, world(t, fork(road{}), nil), house(given([2]float64{-3, 0}, [2]float64{0, 0}, [2]float64{4, -2}, [2]float64{6, -2})))
	off := byRule(p, "given route")
	if len(off) == 0 || off[len(off)-1].Outcome != finding.Unknown || off[len(off)-1].Says[0].Code != "given.no_road" {
		t.Errorf("a line that leaves the roads: %+v", off)
	}
	if len(p.Legs) != 2 || p.Legs[0].Unmatched || !p.Legs[1].Unmatched || p.Time.Unknown.None() || p.Verdict.Outcome() == finding.Clear {
		t.Errorf("a line that leaves the roads: %+v", p.Legs)
	}
}

func TestRefuses(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(*Request)
		want   string
	}{
		"one stop":      {func(r *Request) { r.Stops = r.Stops[:1] }, "error.a_trip_needs_two"},
		"same place":    {func(r *Request) { r.Stops[1] = r.Stops[0] }, "error.the_same_place_as"},
		"off network":   {func(r *Request) { r.Stops[1].Point = orb.Point{-79.38, 43.65} }, "off.too_far"},
		"many stops":    {func(r *Request) { r.Stops = make([]choosing.Stop, MaxStops+1) }, "error.too_many(bound: 25)"},
		"empty route":   {func(r *Request) { r.Given = &Given{} }, "error.empty"},
		"one point":     {func(r *Request) { r.Given = &Given{Line: orb.LineString{{-75, 45}}} }, "error.a_line_needs_two"},
		"skipped hour":  {func(r *Request) { r.Departure = time.Date(2027, 3, 14, 2, 30, 0, 0, time.UTC) }, "error.does_not_exist_at"},
		"antimeridian":  {func(r *Request) { r.Given = &Given{Line: orb.LineString{{179.9, 52}, {-179.9, 52}}} }, "antimeridian"},
		"long name":     {func(r *Request) { r.Given = &Given{Roads: []string{strings.Repeat("9", 50)}} }, "error.too_long_for_a"},
		"no known road": {func(r *Request) { r.Given = &Given{Roads: []string{"A86", "N7"}} }, "error.none_of_the_roads"},
		"other place":   {func(r *Request) { r.Given = &Given{Line: orb.LineString{{-76.2, 44.9}, {-76.1, 44.9}}} }, "error.off_line"},
		"no coordinate": {func(r *Request) { r.Given = &Given{Line: orb.LineString{{-75, 45}, {-75, 95}}} }, "route[1]"},
	} {
		r := request(4050)
		tc.change(&r)
		_, err := planner(t).Plan(context.Background(), r)
		var field *RequestError
		if !errors.As(err, &field) || !strings.Contains(err.Error(), tc.want) || field.Field == "" || field.Fix.None() {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := planner(t).Plan(ctx, request(4050)); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
