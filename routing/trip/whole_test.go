package trip

import (
	"context"
	"slices"
	"testing"
	"time"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/rig"
)

// A plan that rests on an invented row says so at its head, in whichever table
// the row stands, and so does the leg that it is about.
func TestPlanOnAnInventedRowIsMarked(t *testing.T) {
	wide := limit.Row{
		ID: "w", Jurisdiction: "CA-ON", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Width, Published: "2.5 m", Text: "2.5 m",
		Threshold: limit.Amount(2500 * measure.Millimetre), Outcome: finding.Conditional, Tier: limit.Legal, Status: finding.Published, Source: "made up",
		ReadOn: time.Date(2027, 4, 1, 0, 0, 0, 0, time.UTC), Demands: finding.Demands{Permits: []say.Remark{limit.Permit("CA-ON")}},
	}
	for _, tc := range []struct {
		name   string
		change func(*regs.Rows)
		leg    bool
	}{
		{"a limit", func(r *regs.Rows) { one := wide; one.Status = finding.Invented; r.Limits = []*limit.Row{&one} }, true},
		{"a limit that is not exceeded", func(r *regs.Rows) {
			one := wide
			one.Status, one.Threshold = finding.Invented, limit.Amount(3*measure.Metre)
			r.Limits = []*limit.Row{&one}
		}, true},
		{"a notice", func(r *regs.Rows) {
			n := clearance.Notice{ID: "n", Jurisdiction: "CA-ON", Place: "somewhere", Text: "works"}
			n.Status = finding.Invented
			r.Notices = []*clearance.Notice{&n}
		}, true},
		{"a structure", func(r *regs.Rows) {
			r.Clearances = pointers([]clearance.Structure{over("s", 5000, func(s *clearance.Structure) { s.Status = finding.Invented })})
		}, true},
		{"a permit", func(r *regs.Rows) {
			one := permit.Permit{ID: "p", Jurisdiction: "CA-ON", Name: "a permit", For: []permit.Subject{permit.Size}}
			one.Status = finding.Invented
			r.Limits, r.Permits = []*limit.Row{&wide}, []*permit.Permit{&one}
		}, false},
		{"none", func(r *regs.Rows) { r.Limits = []*limit.Row{&wide} }, false},
	} {
		p := plan(t, with(world(t, fork(road{}), nil), tc.change), house())
		if want := tc.name != "none"; p.RestsOnInvented() != want || (p.Notice()[0].Code == "head.invented") != want {
			t.Errorf("%s: marked %t, %q", tc.name, p.RestsOnInvented(), p.Notice())
		}
		if got := p.Legs[0].RestsOnInvented(); got != tc.leg {
			t.Errorf("%s: the leg is marked %t", tc.name, got)
		}
	}
}

// What the map says stands under the network's revision, not that of a table.
func TestStructuresOfTheMapNameTheNetworksRevision(t *testing.T) {
	p := world(t, fork(road{spots: []spot{{kind: network.RoadBridge, part: 0.5}}}), nil)
	p.Network.About.Revision = "network-1"
	r := house()
	r.StructuresRevision = "structures-1"
	structures := plan(t, p, r).Legs[0].Structures
	if len(structures) == 0 {
		t.Fatal("the plan has no structure")
	}
	if s := structures[0]; s.Citation.Revision != "network-1" {
		t.Errorf("%s stands under %q", s.ID, s.Citation.Revision)
	}
}

// A stop far from the network, and a line that leaves it, stand at the head of
// every answer.
func TestStopFarOffStandsAtTheHead(t *testing.T) {
	p := world(t, fork(road{}), nil)
	off := func(hundredths float64) func(*Request) {
		return func(r *Request) { r.Stops[1].Point = point([2]float64{14, hundredths}) }
	}
	for _, tc := range []struct {
		north float64 // hundredths of a degree of latitude, 1.11 km each
		says  bool
	}{{0, false}, {0.25, false}, {0.3, true}, {4, true}} {
		r := house(off(tc.north))
		ladders, err := p.Ladders(context.Background(), r, rig.Height)
		if err != nil {
			t.Fatal(err)
		}
		ways, err := p.Routes(context.Background(), RouteRequest{Request: r})
		if err != nil {
			t.Fatal(err)
		}
		for name, notice := range map[string][]say.Remark{"plan": plan(t, p, r).Notice(), "ladder": ladders.Notice(), "route": ways.Best.Notice()} {
			said := slices.ContainsFunc(notice, func(r say.Remark) bool { return r.Code == "off.open_road" && r.Get("stop") == "B" })
			others := slices.ContainsFunc(notice, func(r say.Remark) bool { return r.Code == "off.open_road" && r.Get("stop") != "B" })
			if said != tc.says || others {
				t.Errorf("%s, %v: %q", name, tc.north, notice)
			}
		}
	}
	line := house(given([2]float64{-4, 0}, [2]float64{14, 0}, [2]float64{14, 20}))
	if got := plan(t, p, line).Notice(); !slices.ContainsFunc(got, func(r say.Remark) bool { return r.Code == "head.unmatched" }) {
		t.Error(got)
	}
}
