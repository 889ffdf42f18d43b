package trip

import (
	"context"
	"errors"
	"slices"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
	"wayhouse/routing/trip/choosing"
)

// A divided road, 22 m from carriageway to carriageway, with one break in its median, and stops on either side: only a
// U-turn leads from one to the other. It is named, whatever the rig; one that does not fit is forbidden.
func TestUTurnIsNamed(t *testing.T) {
	one := network.Road{Flags: network.OnewayAlong}
	w := world(t, []road{
		{ref: "9", from: [2]float64{-5, 0}, to: [2]float64{0, 0}, road: one},
		{ref: "9", from: [2]float64{0, 0}, to: [2]float64{5, 0}, road: one},
		{ref: "9", from: [2]float64{5, 0.02}, to: [2]float64{0, 0.02}, road: one},
		{ref: "9", from: [2]float64{0, 0.02}, to: [2]float64{-5, 0.02}, road: one},
		{from: [2]float64{0, 0}, to: [2]float64{0, 0.02}, class: network.Service},
	}, nil)
	across := func(r *Request) {
		r.Stops = []choosing.Stop{{Label: "A", Point: point([2]float64{-4, 0})}, {Label: "B", Point: point([2]float64{-4, 0.02})}}
	}
	for _, tc := range []struct {
		name string
		lock *measure.Length
		want finding.Outcome
	}{
		{"it fits", length(7_000), finding.Review},
		{"it does not fit", length(12_000), finding.Forbidden},
		{"the lock is not given", nil, finding.Unknown},
	} {
		p := plan(t, w, house(across, func(r *Request) { r.Rig.Tow.TurningRadius = tc.lock }))
		if got := len(p.Road.UTurns); got != 1 {
			t.Fatalf("%s: %d U-turns", tc.name, got)
		}
		if room := float64(p.Road.UTurns[0].Room); room < 22 || room > 22.5 {
			t.Errorf("%s: %v m of room", tc.name, room)
		}
		i := slices.IndexFunc(p.Road.Findings, func(f finding.Finding) bool { return f.Rule == "u-turn" })
		if i < 0 || p.Road.Findings[i].Outcome != tc.want {
			t.Errorf("%s: no finding %v: %v", tc.name, tc.want, p.Road.Findings)
		}
	}
	_, err := w.Plan(context.Background(), house(across, func(r *Request) { r.Wishes.NoUTurns = true }))
	var refused *RequestError
	if !errors.As(err, &refused) || refused.Field != "wishes.no_u_turns" {
		t.Errorf("no U-turns: %v, want wishes.no_u_turns to be refused", err)
	}
}

// Opposite carriageways of a road that part in a sharp wedge at a junction, where other roads go on: the network lists
// a U-turn, whose room is that 30 m on, where 1113 m in 4010 m make 8 m. A road that does bend so is none.
func TestComingBackAtAWedge(t *testing.T) {
	plans := func(of network.Road, none bool) (*Plan, error) {
		return world(t, []road{
			{ref: "9", from: [2]float64{-5, 0}, to: [2]float64{0, 0}, road: of},
			{ref: "9", from: [2]float64{0, 0}, to: [2]float64{-5, 1}, road: of},
			{from: [2]float64{0, 0}, to: [2]float64{5, 0}},
			{from: [2]float64{0, 0}, to: [2]float64{0, -5}},
		}, nil).Plan(context.Background(), house(func(r *Request) {
			a, b := point([2]float64{-4, 0}), point([2]float64{-4, 0.8})
			r.Stops = []choosing.Stop{{Label: "A", Point: a}, {Label: "B", Point: b}}
			r.Wishes.NoUTurns = none
		}))
	}
	p, err := plans(network.Road{Flags: network.OnewayAlong}, false)
	if err != nil {
		t.Fatal(err)
	}
	got := p.Road.UTurns
	if len(got) != 1 || got[0].Room < 7.9 || got[0].Room > 8.3 || geodesic.Between(got[0].Point, point([2]float64{0, 0})) > 1 {
		t.Fatalf("U-turns %+v, want one at the junction", got)
	}
	i := slices.IndexFunc(p.Road.Findings, func(f finding.Finding) bool { return f.Rule == "u-turn" })
	if i < 0 || p.Road.Findings[i].Outcome != finding.Unknown {
		t.Errorf("it is not unknown whether the rig turns back: %v", p.Road.Findings)
	}
	var refused *RequestError
	if _, err := plans(network.Road{Flags: network.OnewayAlong}, true); !errors.As(err, &refused) || refused.Field != "wishes.no_u_turns" {
		t.Errorf("no U-turns: %v, want wishes.no_u_turns to be refused", err)
	}
	if p, err := plans(network.Road{}, true); err != nil || len(p.Road.UTurns) != 0 {
		t.Errorf("a road that bends: %v, U-turns %+v", err, p.Road.UTurns)
	}
}

// A given line that turns round on its road is accepted, and that it does is named.
func TestGivenLineTurnsRound(t *testing.T) {
	p := plan(t, world(t, fork(road{}), nil), house(given([2]float64{-4, 0}, [2]float64{-1, 0}, [2]float64{-3, 0})))
	if got := p.Road.UTurns; len(got) != 1 || got[0].Room != 0 {
		t.Fatalf("U-turns %+v, want one on the road itself", got)
	}
	i := slices.IndexFunc(p.Road.Findings, func(f finding.Finding) bool { return f.Rule == "u-turn" })
	if i < 0 || p.Road.Findings[i].Outcome != finding.Unknown {
		t.Errorf("it is not unknown whether the rig turns round: %v", p.Road.Findings)
	}
}
