package regs

import (
	"strings"
	"testing"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
)

// A row clears what its text names. The sources are those that the rows name;
// each was read for which combination and which tow vehicle it speaks of.
func TestClearsOnlyWhatTheTextNames(t *testing.T) {
	tables := shipped(t)
	ball := func(tow limit.Tow) limit.Subject {
		return limit.Subject{Kind: limit.LoadOnTrailer, Form: limit.Trailer, Tow: tow}
	}
	fifth := func(tow limit.Tow) limit.Subject {
		return limit.Subject{Kind: limit.LoadOnTrailer, Form: limit.Semitrailer, Tow: tow}
	}
	travel := func(s limit.Subject) limit.Subject { s.Kind = limit.RecreationalTrailer; return s }
	clear, conditional, unknown := finding.Clear, finding.Conditional, finding.Unknown
	for _, tc := range []struct {
		code string
		s    limit.Subject
		q    limit.Quantity
		at   string
		want finding.Outcome
		says string
	}{
		// Wis. Stat. 348.07(2)(fs): 75 ft for a tractor-semitrailer; (1): any other two vehicles 70 ft.
		{"US-WI", fifth(limit.TruckTractor), limit.CombinationLength, "75 ft", clear, ""},
		{"US-WI", fifth(limit.Pickup), limit.CombinationLength, "72 ft", conditional, "limit.beyond_one(limit: 70 ft"},
		{"US-WI", fifth(limit.TowUnknown), limit.CombinationLength, "72 ft", conditional, "limit.beyond_one(limit: 70 ft"},
		{"US-WI", fifth(limit.Pickup), limit.CombinationLength, "70 ft", unknown, ""},
		// 348.07(2)(g): a semitrailer or trailer of two vehicles 48 ft.
		{"US-WI", fifth(limit.Pickup), limit.TrailerLength, "48 ft", clear, ""},
		// GAO-15-235SP, Delaware: "semitrailer" and no word of what draws it.
		{"US-DE", fifth(limit.TruckTractor), limit.TrailerLength, "53 ft", clear, ""},
		{"US-DE", fifth(limit.Pickup), limit.TrailerLength, "40 ft", unknown, "hangs.semitrailers(tow: pickup)"},
		{"US-DE", fifth(limit.TowUnknown), limit.TrailerLength, "40 ft", unknown, "hangs.semitrailers_of_which"},
		{"US-DE", limit.Subject{Tow: limit.Pickup}, limit.TrailerLength, "40 ft", unknown, "hangs.form(form: semitrailer)"}, // a gooseneck
		{"US-DE", ball(limit.TowUnknown), limit.TrailerLength, "40 ft", unknown, "limit.no_row("},
		// MCA 61-10-104(2)(a): a semitrailer behind a tractor.
		{"US-MT", fifth(limit.TruckTractor), limit.TrailerLength, "53 ft", clear, ""},
		{"US-MT", fifth(limit.Pickup), limit.TrailerLength, "53 ft", unknown, "limit.no_row("},
		// MTO, Recreational Vehicle Information, 2010: the fifth-wheel house trailer, whatever draws it.
		{"CA-ON", travel(fifth(limit.TowUnknown)), limit.TrailerLength, "14.65 m", clear, ""},
		// SGI handbook, 2017: combinations other than A, B and C trains.
		{"CA-SK", fifth(limit.TowUnknown), limit.CombinationLength, "23 m", clear, ""},
		// 75 Pa.C.S. 4923(b.1)(1): behind a truck or truck tractor.
		{"US-PA", ball(limit.Truck), limit.TrailerLength, "53 ft", clear, ""},
		{"US-PA", ball(limit.Pickup), limit.TrailerLength, "40 ft", unknown, "hangs.pickup"},
		{"US-PA", ball(limit.TowUnknown), limit.TrailerLength, "40 ft", unknown, "hangs.tow(tows: [truck truck_tractor])"},
		{"US-PA", ball(limit.Car), limit.TrailerLength, "40 ft", unknown, "limit.no_row("},
		// Texas DMV, size limits: two vehicles, but for truck tractors.
		{"US-TX", ball(limit.Pickup), limit.CombinationLength, "65 ft", clear, ""},
		{"US-TX", fifth(limit.TruckTractor), limit.CombinationLength, "66 ft", unknown, "limit.no_row("},
		{"US-TX", ball(limit.TowUnknown), limit.CombinationLength, "65 ft", unknown, "hangs.tow(tows: ["},
		// Utah Highway Patrol: combinations but for semi tractors and trailers.
		{"US-UT", ball(limit.TowUnknown), limit.CombinationLength, "65 ft", clear, ""},
		{"US-UT", fifth(limit.Pickup), limit.CombinationLength, "65 ft 1 in", conditional, "limit.beyond_one(limit: 65"},
		{"US-UT", fifth(limit.TowUnknown), limit.CombinationLength, "60 ft", unknown, "hangs.no_semitrailer"},
		// Fla. Stat. 316.515(3): two units that do not qualify as commercial 65 ft; (3)(a) a straight truck 40 ft.
		{"US-FL", travel(fifth(limit.Pickup)), limit.CombinationLength, "65 ft", clear, ""},
		{"US-FL", ball(limit.Pickup), limit.SingleVehicleLength, "20 ft", unknown, "hangs.pickup"},
		{"US-FL", ball(limit.Truck), limit.SingleVehicleLength, "40 ft", clear, ""},
		// RCW 46.44.030(1): 40 ft; travel trailers 46 ft; (2)(a): behind a tractor 53 ft; (3): truck and trailer 75 ft.
		{"US-WA", ball(limit.Pickup), limit.TrailerLength, "40 ft", clear, ""},
		{"US-WA", ball(limit.Pickup), limit.TrailerLength, "41 ft", conditional, "limit.beyond_one(limit: forty feet"},
		{"US-WA", travel(ball(limit.Pickup)), limit.TrailerLength, "46 ft", clear, ""},
		{"US-WA", fifth(limit.TruckTractor), limit.TrailerLength, "53 ft", clear, ""},
		{"US-WA", fifth(limit.Pickup), limit.TrailerLength, "53 ft", conditional, "limit.beyond_one(limit: forty feet"},
		{"US-WA", ball(limit.Truck), limit.CombinationLength, "75 ft", clear, ""},
		{"US-WA", fifth(limit.Truck), limit.CombinationLength, "75 ft", unknown, ""},
		// Mass. G.L. c. 90 s. 19: a house trailer 40 ft, others 33 ft.
		{"US-MA", limit.Subject{Kind: limit.HouseTrailer, Form: limit.Trailer}, limit.TrailerLength, "40 ft", clear, ""},
		{"US-MA", ball(limit.Pickup), limit.TrailerLength, "34 ft", conditional, "limit.beyond_one(limit: thirty-three feet"},
	} {
		f := answer(t, tables, with(tc.s, tc.q, parse(t, tc.q, tc.at)), tc.code, tc.q, june)
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) {
			t.Errorf("%s %+v %s %s: %s (%s), want %s with %q", tc.code, tc.s, tc.q, tc.at, f.Outcome, says(f), tc.want, tc.says)
		}
	}
}

// RCW 46.44.092(5), last amended 2006: on a two-lane state highway 14 ft to 16
// ft is a matter of a permit, in daylight; only beyond 16 ft it is closed but for
// named cases.
func TestTwoLaneHighwaysOfWashington(t *testing.T) {
	narrow, wide := roads.Road{Class: "primary", Lanes: 1}, roads.Road{Class: "primary", Lanes: 2}
	for _, tc := range []struct {
		road roads.Road
		text string
		want finding.Outcome
		day  bool
	}{
		{narrow, "14 ft", finding.Conditional, false}, {narrow, "14 ft 1 in", finding.Conditional, true},
		{narrow, "16 ft", finding.Conditional, true}, {narrow, "16 ft 1 in", finding.Forbidden, true}, {wide, "16 ft", finding.Conditional, false},
	} {
		place := Stay{Jurisdictions: []string{"US-WA"}, OwnerKnown: true, Roads: []roads.Road{tc.road}}
		f := rule(t, shipped(t).Check(with(limit.Subject{Kind: limit.LoadOnTrailer}, limit.Width, parse(t, limit.Width, tc.text)), place, june), "width")
		if f.Outcome != tc.want || strings.Contains(strings.Join(say.Strings(f.Demands.Hours), " "), "daylight") != tc.day {
			t.Errorf("%s on %d lanes: %s, hours %q; want %s, daylight %v", tc.text, tc.road.Lanes, f.Outcome, f.Demands.Hours, tc.want, tc.day)
		}
	}
}
