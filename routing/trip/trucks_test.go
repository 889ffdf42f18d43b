package trip

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/trucks"
	"wayhouse/routing/network"
)

func rated(tow, unit measure.Mass) func(*Request) {
	return func(r *Request) {
		tow, unit := tow*measure.Kilogram, unit*measure.Kilogram
		r.Rig.Tow.Truck.Ratings.Gross, r.Rig.Unit.Frame.Ratings.Gross = &tow, &unit
		r.Rig.Rated = measure.Exactly(tow + unit)
	}
}

// ofTrucks has a row from which rating on signs mean a rig.
func ofTrucks(t *testing.T, list []sign, bans []ban) *Planner {
	p := world(t, fork(road{signs: list}), bans)
	over := 4500 * measure.Kilogram
	p.Tables = regs.NewTables("trucks", regs.Rows{Trucks: []*trucks.Row{{
		ID: "xa-trucks", Jurisdiction: "CA-ON", VehicleOver: &over, Inclusive: true, Words: "trucks",
		Proof: rows.Proof{Status: finding.Published, Source: "an invented law", ReadOn: time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)},
	}}}, nil)
	return p
}

// A rig that is no truck passes signs for trucks, one that is keeps to them as to any
// sign, and of one that may be one both ways are told.
func TestSignsForTrucksByRating(t *testing.T) {
	overMass := func() []sign { return signs(tonnes(network.MaxMass, 5).forMode(hgv)) }
	for _, tc := range []struct {
		name, want string
		signs      []sign
		rig        []func(*Request)
		avoided    bool
	}{
		{"hgv=no, light", "short", only(hgv, refused), []func(*Request){weighs(4000), rated(3000, 3400)}, false},
		{"hgv=no, heavy", "long", only(hgv, refused), []func(*Request){rated(3000, 4500)}, false},
		{"hgv=no, not rated", "long", only(hgv, refused), []func(*Request){weighs(4000)}, true},
		{"hgv_articulated=no, light", "short", only(artic, refused), []func(*Request){coupled("fifth_wheel"), weighs(4000), rated(3000, 3400)}, false},
		{"goods=no, light: no row tells of them", "long", only(goods, refused), []func(*Request){weighs(4000), rated(3000, 3400)}, true},
		{"access=no, light", "long", only(everyone, refused), []func(*Request){weighs(4000), rated(3000, 3400)}, false},
		{"maxweight:hgv=5, light", "short", overMass(), []func(*Request){weighs(6000), rated(3000, 3400)}, false},
		{"maxweight:hgv=5, heavy", "long", overMass(), []func(*Request){weighs(6000), rated(3000, 5000)}, true},
		{"maxweight:hgv=5, not rated", "long", overMass(), []func(*Request){massUnknown, weighs(6000)}, true},
		{"maxweightrating=7, rated for less", "short", signs(tonnes(network.MaxRating, 7)), []func(*Request){weighs(6000), rated(3000, 3400)}, false},
		{"maxweightrating=7, rated for more", "long", signs(tonnes(network.MaxRating, 7)), []func(*Request){weighs(6000), rated(3000, 4400)}, true},
	} {
		p := plan(t, ofTrucks(t, tc.signs, nil), house(tc.rig...))
		takes(t, tc.name, p, tc.want)
		if len(p.Avoided) > 0 != tc.avoided {
			t.Errorf("%s: avoided %+v", tc.name, p.Avoided)
		}
	}
}

// Driven all the same, a sign for trucks is for a person to decide; the rating settles
// whether it binds where a row tells, and else whoever runs the road.
func TestAskingForTheRating(t *testing.T) {
	given := func(r *Request) {
		r.Given = &Given{Line: orb.LineString{point([2]float64{-5, 0}), point([2]float64{0, 0}), point([2]float64{10, 0}), point([2]float64{15, 0})}}
	}
	for name, tc := range map[string]struct {
		planner *Planner
		rig     []func(*Request)
		want    finding.Outcome
		settles string // the first way
	}{
		"a row tells":              {ofTrucks(t, only(hgv, refused), nil), []func(*Request){given, weighs(4000)}, finding.Review, "tow.gross_rating unit.gross_rating"},
		"no row tells":             {world(t, fork(road{signs: only(hgv, refused)}), nil), []func(*Request){given, weighs(4000)}, finding.Review, "tow.gross_rating unit.gross_rating roads"},
		"no row, the rating given": {world(t, fork(road{signs: only(hgv, refused)}), nil), []func(*Request){given, rated(3000, 9000)}, finding.Review, "roads"},
		"it is a truck":            {ofTrucks(t, only(hgv, refused), nil), []func(*Request){given, rated(3000, 9000)}, finding.Forbidden, "roads"},
		"only its ends":            {ofTrucks(t, only(hgv, network.Destination), nil), []func(*Request){given, weighs(4000)}, finding.Unknown, "tow.gross_rating unit.gross_rating"},
	} {
		p := plan(t, tc.planner, house(tc.rig...))
		found := byRule(p, "access")
		if len(found) != 1 || found[0].Outcome != tc.want {
			t.Fatalf("%s: %+v, want %s", name, found, tc.want)
		}
		var of []string
		for _, s := range found[0].Settles[0] {
			of = append(of, s.Of)
		}
		if got := strings.Join(of, " "); got != tc.settles {
			t.Errorf("%s: settled by %q, want %q", name, got, tc.settles)
		}
	}
	light := plan(t, ofTrucks(t, only(hgv, refused), nil), house(given, weighs(4000), rated(3000, 3400)))
	if got := byRule(light, "access"); len(got) > 0 {
		t.Errorf("no truck: %+v", got)
	}
}

// Of all signs for trucks one answer lifts all: they are one reason of a way, with what
// it costs.
func TestSignsForTrucksAreOneReason(t *testing.T) {
	r, err := ofTrucks(t, only(hgv, refused), nil).Routes(context.Background(), RouteRequest{Request: house(weighs(4000)), Reasons: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Reasons.Bent) != 1 || !r.Reasons.Bent[0].Trucks || r.Reasons.Bent[0].Saves <= 0 {
		t.Errorf("reasons %+v", r.Reasons)
	}
}
