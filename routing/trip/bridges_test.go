package trip

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
)

// The roads and bridges of this file are invented, and placed where no bridge
// of the United States is.

// crossing is US 9 on a bridge over I 87, with a way round for each. Edges: 0
// to 2 I 87 northward, 1 passes below; 3, 4 a way round it; 5 to 9 US 9
// eastward, 7 is the bridge; 10, 11 a way round it.
func crossing() []road {
	return []road{
		{name: "I 87", from: [2]float64{5, -8}, to: [2]float64{5, -6}},
		{name: "I 87", from: [2]float64{5, -6}, to: [2]float64{5, 6}},
		{name: "I 87", from: [2]float64{5, 6}, to: [2]float64{5, 8}},
		{name: "round I 87", from: [2]float64{5, -6}, to: [2]float64{20, 0}},
		{name: "round I 87", from: [2]float64{20, 0}, to: [2]float64{5, 6}},
		{name: "US 9", from: [2]float64{-4, 0}, to: [2]float64{0, 0}},
		{name: "US 9", from: [2]float64{0, 0}, to: [2]float64{4.9, 0}},
		{name: "US 9", from: [2]float64{4.9, 0}, to: [2]float64{5.1, 0}, road: network.Road{Flags: network.OnBridge}},
		{name: "US 9", from: [2]float64{5.1, 0}, to: [2]float64{10, 0}},
		{name: "US 9", from: [2]float64{10, 0}, to: [2]float64{14, 0}},
		{name: "round US 9", from: [2]float64{0, 0}, to: [2]float64{5, 10}},
		{name: "round US 9", from: [2]float64{5, 10}, to: [2]float64{10, 0}},
	}
}

// northward passes under the bridge, eastward over it.
func northward(r *Request) {
	r.Stops = []choosing.Stop{{Label: "south", Point: point([2]float64{5, -7})}, {Label: "north", Point: point([2]float64{5, 7})}}
}

func eastward(r *Request) {
	r.Stops = []choosing.Stop{{Label: "west", Point: point([2]float64{-3, 0})}, {Label: "east", Point: point([2]float64{13, 0})}}
}

// inventory reads records of a bridge inventory, each given by the first column
// of its items, into rows as the tables have them. Items that are not given say
// that the bridge carries US 9 over I 87, limits nothing and stands at the
// crossing.
func inventory(t *testing.T, records ...map[int]string) []clearance.Structure {
	t.Helper()
	var raw bytes.Buffer
	for _, change := range records {
		line := bytes.Repeat([]byte(" "), 432)
		for first, value := range map[int]string{
			1: "362", 4: "100", 19: "1", 20: "2", 22: "00009", 38: "I-87", 63: "US 9", 106: "9999", 130: "45000000", 138: "075570000", 199: "A", 215: "120", 235: "0120", 243: "9999", 247: "H9999", 275: "5",
		} {
			copy(line[first-1:], value)
		}
		for first, value := range change {
			copy(line[first-1:], value)
		}
		raw.Write(append(line, '\n'))
	}
	taken, err := clearance.ReadInventory(raw.Bytes(), clearance.Inventory{Year: "2026", ReadOn: time.Date(2027, 4, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	all, err := clearance.Structures().Rows(taken.Records)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// goesRound tells whether a plan leaves the roads of the crossing.
func goesRound(p *Plan) bool {
	return slices.ContainsFunc(p.Legs, func(l Leg) bool {
		return slices.ContainsFunc(say.Strings(l.Roads), func(name string) bool { return strings.HasPrefix(name, "round") })
	})
}

// answers wants every answer about a structure to have an outcome; "" wants
// none.
func answers(t *testing.T, name string, p *Plan, want finding.Outcome) {
	t.Helper()
	got := byRule(p, "structure")
	if len(got) == 0 && want != "" {
		t.Errorf("%s: no structure is listed, want one that is %s", name, want)
	}
	for _, f := range got {
		if f.Outcome != want || told(f) == "" || (whom(f) == "") != (want == finding.Clear) {
			t.Errorf("%s: %q (ask %q), want %q: %s", name, f.Outcome, whom(f), want, told(f))
		}
	}
}

// Item 53 of the inventory binds the road on the bridge, item 54 the one under
// it: each by its name, and by which of the two is on a bridge.
func TestInventoryBindsByGrade(t *testing.T) {
	const none = finding.Outcome("")
	for _, tc := range []struct {
		name         string
		record       map[int]string
		north, east  bool // goes round
		below, above finding.Outcome
	}{
		{"nothing limited", map[int]string{}, false, false, none, none},
		{"low below", map[int]string{247: "H0420"}, true, false, none, none},
		{"high enough below", map[int]string{247: "H0440"}, false, false, finding.Clear, none},
		{"not measured below", map[int]string{247: "H0000"}, false, false, finding.Unknown, none},
		{"a railway below", map[int]string{247: "R0420"}, false, false, none, none},
		{"low above", map[int]string{243: "0420"}, false, true, none, none},
		{"high enough above", map[int]string{243: "0440"}, false, false, none, finding.Clear},
		{"low above by item 10", map[int]string{106: "0420"}, false, true, none, none},
		{"low both", map[int]string{243: "0420", 247: "H0425"}, true, true, none, none},
		{"closed", map[int]string{199: "K"}, false, true, none, none},
		{"low below, by a record of the road below", map[int]string{19: "2", 20: "1", 22: "00087", 106: "0420"}, true, false, none, none},
		{"one of several records below", map[int]string{19: "B", 20: "1", 22: "00087", 106: "0440"}, false, false, finding.Review, none},

		{"posted for load", map[int]string{199: "P"}, false, false, none, finding.Review},

		// Where no road near bears the name, it may be either: there, and nothing
		// more is known of it.
		{"low below another street", map[int]string{38: "MILL STREET", 247: "H0420"}, false, false, finding.Unknown, finding.Unknown},
		{"high enough below another street", map[int]string{38: "MILL STREET", 247: "H0600"}, false, false, finding.Unknown, finding.Unknown},
		{"low above another road", map[int]string{20: "3", 22: "00999", 243: "0420"}, false, false, finding.Unknown, finding.Unknown},
		{"closed above another road", map[int]string{20: "3", 22: "00999", 199: "K"}, false, false, finding.Unknown, finding.Unknown},
	} {
		p := withStructures(world(t, crossing(), nil), inventory(t, tc.record)...)
		for _, way := range []struct {
			name   string
			stops  func(*Request)
			round  bool
			listed finding.Outcome
		}{{"northward", northward, tc.north, tc.below}, {"eastward", eastward, tc.east, tc.above}} {
			got := plan(t, p, house(way.stops))
			if goesRound(got) != way.round || !got.Passable {
				t.Errorf("%s, %s: goes round %v", tc.name, way.name, !way.round)
			}
			if way.round {
				if len(got.Avoided) != 1 || len(got.Avoided[0].Structures) != 1 {
					t.Errorf("%s, %s: avoided %+v", tc.name, way.name, got.Avoided)
				}
				continue
			}
			answers(t, tc.name+", "+way.name, got, way.listed)
		}
	}
}

// What the inventory says is shown with its source, and clears only as long as
// it was read recently.
func TestInventoryIsCited(t *testing.T) {
	p := withStructures(world(t, crossing(), nil), inventory(t, map[int]string{247: "H0440"})...)
	got := byRule(plan(t, p, house(northward)), "structure")
	if len(got) != 1 || got[0].Citations[0].ID != "nbi-362-100-under" || got[0].Citations[0].Source != "National Bridge Inventory, Federal Highway Administration" || got[0].Citations[0].Year != "2026" || got[0].Citations[0].Revision != "empty" {
		t.Errorf("%+v", got)
	}
	later := plan(t, p, house(northward, func(r *Request) { r.Departure = r.Departure.AddDate(1, 0, 0) }))
	says(t, "a year later", later, "structure", finding.Unknown)
}

// Two rows of one bridge about the road below both bind, and the lower decides.
func TestTwoRowsOfOneBridge(t *testing.T) {
	second := map[int]string{19: "2", 20: "1", 22: "00087", 106: "0420"}
	p := withStructures(world(t, crossing(), nil), inventory(t, map[int]string{247: "H0440"}, second)...)
	if got := plan(t, p, house(northward)); !goesRound(got) {
		t.Error("passes under the lower of two heights")
	}
	second[106] = "0450"
	p = withStructures(world(t, crossing(), nil), inventory(t, map[int]string{247: "H0440"}, second)...)
	got := byRule(plan(t, p, house(northward)), "structure")
	if len(got) != 2 {
		t.Errorf("%d answers, want one for each row: %+v", len(got), got)
	}
}

// A name in the inventory is that of the map in capitals and with its ending
// cut short.
func TestInventoryStreetNames(t *testing.T) {
	roads := crossing()
	for i := range roads[:3] {
		roads[i].name = "Mill Street"
	}
	for text, round := range map[string]bool{"MILL ST": true, "'MILL STREET'": true, "MILL  ST.": true, "MILL": false, "MILL RD": false, "OLD MILL ST": false} {
		p := withStructures(world(t, roads, nil), inventory(t, map[int]string{38: text + strings.Repeat(" ", 24-len(text)), 247: "H0420"})...)
		got := plan(t, p, house(northward))
		if goesRound(got) != round {
			t.Errorf("%q: goes round %v", text, !round)
		}
		if !round {
			says(t, text, got, "structure", finding.Unknown)
		}
	}
}

// A bridge whose place is not known, or lies by other roads or in another
// jurisdiction, is somewhere on its road: where that is driven it is one unmeasured
// structure of the trip, where it is not, none. It shuts nothing.
func TestBadlyPlacedBridgesOfADrivenRoad(t *testing.T) {
	in := func(s clearance.Structure) clearance.Structure { s.Jurisdiction = "CA-ON"; return s }
	below := func(change func(*clearance.Structure)) clearance.Structure {
		s := in(inventory(t, map[int]string{247: "H0380"})[0])
		change(&s)
		return s
	}
	for _, tc := range []struct {
		name        string
		s           clearance.Structure
		north, east bool // is a finding
	}{
		{"no place", below(func(s *clearance.Structure) { s.Unplaced, s.Point = true, orb.Point{} }), true, false},
		{"by another road", below(func(s *clearance.Structure) { s.Point = point([2]float64{12, 0}) }), true, false},
		{"by no road, near the way", below(func(s *clearance.Structure) { s.Point = point([2]float64{8, -4}) }), true, false},
		{"in another jurisdiction", below(func(s *clearance.Structure) { s.Point = orb.Point{-100, 40} }), true, false},
		{"of another jurisdiction", below(func(s *clearance.Structure) { s.Unplaced, s.Jurisdiction = true, "US-NY" }), false, false},
		{"no place, its row ended", below(func(s *clearance.Structure) {
			s.Unplaced, s.Until = true, time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
		}), true, false},
		{"no place, closed until last year", below(func(s *clearance.Structure) {
			s.Unplaced, s.Measured, s.Grade, s.Closed, s.Until = true, nil, clearance.On, true, time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)
		}), false, false},
	} {
		p := withStructures(world(t, crossing(), nil), tc.s)
		for _, way := range []struct {
			name string
			to   func(*Request)
			want bool
		}{{"north", northward, tc.north}, {"east", eastward, tc.east}} {
			r := house(way.to)
			for _, how := range []string{"of the tables", "of the trip"} {
				got := plan(t, p, r)
				if how == "of the trip" {
					own := r
					own.Structures = []clearance.Structure{tc.s}
					got = plan(t, world(t, crossing(), nil), own)
				}
				found := byRule(&Plan{Findings: got.Findings}, "structure")
				unknown := slices.ContainsFunc(found, func(f finding.Finding) bool {
					return f.Outcome == finding.Unknown && f.Says[0].Code == "structure.lost" && whom(f) != "" && len(f.Citations) == 1
				})
				if how == "of the trip" && len(found) > 0 { // what the user lists and no road is found for is told anyway
					unknown = way.want
				}
				if unknown != way.want || goesRound(got) && tc.s.Unplaced {
					t.Errorf("%s, %s, %s: %+v", tc.name, how, way.name, found)
				}
			}
		}
	}
}

// Many such bridges of one road are one finding, which names some and counts all.
func TestManyBadlyPlacedBridgesAreOneFinding(t *testing.T) {
	var all []clearance.Structure
	for i := range 50 {
		s := inventory(t, map[int]string{247: "H0380"})[0]
		s.ID, s.Jurisdiction, s.Unplaced = fmt.Sprint(i), "CA-ON", true
		all = append(all, s)
	}
	found := byRule(plan(t, withStructures(world(t, crossing(), nil), all...), house(northward)), "structure")
	if len(found) != 1 || len(found[0].Citations) != 20 || !strings.HasPrefix(told(found[0]), "structure.lost(count: 50, road: I 87, jurisdiction: CA-ON") || !strings.Contains(told(found[0]), "structure.more(count: 30)") {
		t.Errorf("%+v", found)
	}
}
