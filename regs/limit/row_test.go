package limit

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/say"
)

func day(text string) time.Time {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return t
}

func TestExceeded(t *testing.T) {
	for _, tc := range []struct {
		inclusive        bool
		below, at, above bool
	}{
		{false, false, false, true}, // "over 4.15 m"
		{true, false, true, true},   // "14 ft or more": 17 NYCRR 154-1.12, 2024
	} {
		r := Row{Threshold: 4_150_000_000, Inclusive: tc.inclusive}
		for amount, want := range map[Amount]bool{r.Threshold - 1: tc.below, r.Threshold: tc.at, r.Threshold + 1: tc.above} {
			if got := r.Exceeded(amount); got != want {
				t.Errorf("inclusive %v, %d nm beyond: exceeded %v, want %v", tc.inclusive, amount-r.Threshold, got, want)
			}
		}
	}
}

func TestInForce(t *testing.T) {
	zero := time.Time{}
	first, last := day("2027-03-01"), day("2027-06-30")
	for _, tc := range []struct {
		name     string
		from, to time.Time
		at       time.Time
		want     bool
	}{
		{"no dates", zero, zero, first, true},
		{"the day before", first, last, first.Add(-time.Second), false},
		{"first moment", first, last, first, true},
		{"first day, evening", first, last, first.Add(20 * time.Hour), true},
		{"last day, morning", first, last, last, true},
		{"last day, last second", first, last, last.Add(24*time.Hour - time.Second), true},
		{"the day after", first, last, last.AddDate(0, 0, 1), false},
		{"no first day", zero, last, day("1990-01-01"), true},
		{"no last day", first, zero, day("2090-01-01"), true},
		{"one day only", first, first, first.Add(12 * time.Hour), true},
	} {
		r := Row{ValidFrom: tc.from, ValidTo: tc.to}
		if got := r.InForce(tc.at); got != tc.want {
			t.Errorf("%s: in force %v, want %v", tc.name, got, tc.want)
		}
	}
}

// A law begins and ends at midnight of the place, which is what the zone of
// the asked time states. Offsets: Pacific daylight -7 h, Newfoundland daylight
// -2 h 30 min; +9 h stands for a server elsewhere.
func TestInForceByTheDayOfThePlace(t *testing.T) {
	r := Row{ValidFrom: day("2027-06-01"), ValidTo: day("2027-06-30")}
	for _, zone := range []*time.Location{
		time.UTC, time.FixedZone("PDT", -7*3600), time.FixedZone("NDT", -9000), time.FixedZone("east", 9*3600),
	} {
		for _, tc := range []struct {
			name string
			at   time.Time
			want bool
		}{
			{"last minute before", time.Date(2027, 5, 31, 23, 59, 0, 0, zone), false},
			{"first minute", time.Date(2027, 6, 1, 0, 1, 0, 0, zone), true},
			{"last minute", time.Date(2027, 6, 30, 23, 59, 0, 0, zone), true},
			{"first minute after", time.Date(2027, 7, 1, 0, 1, 0, 0, zone), false},
		} {
			if got := r.InForce(tc.at); got != tc.want {
				t.Errorf("%s, %s: in force %v, want %v", zone, tc.name, got, tc.want)
			}
		}
	}
}

func TestStale(t *testing.T) {
	const term = 365 * 24 * time.Hour
	read := day("2026-11-25")
	for _, tc := range []struct {
		name string
		read time.Time
		at   time.Time
		want bool
	}{
		{"never read", time.Time{}, read, true},
		{"the same day", read, read.Add(8 * time.Hour), false},
		{"364 days", read, read.AddDate(0, 0, 364), false},
		{"365 days", read, read.Add(term), false},
		{"a moment longer", read, read.Add(term + time.Nanosecond), true},
		{"366 days", read, read.AddDate(0, 0, 366), true},
	} {
		r := Row{ReadOn: tc.read}
		if got := r.Stale(tc.at, term); got != tc.want {
			t.Errorf("%s: stale %v, want %v", tc.name, got, tc.want)
		}
	}
}

func TestMatchKind(t *testing.T) {
	units := append([]Kind{KindUnknown}, UnitKinds()...)
	for _, tc := range []struct {
		row          Kind
		yes, perhaps []Kind // units; for the others the row is not about them
	}{
		{All, units, nil},
		{RecreationalTrailer, []Kind{RecreationalTrailer}, []Kind{KindUnknown, TinyHome, HouseTrailer}},
		{HouseTrailer, []Kind{HouseTrailer}, []Kind{KindUnknown, TinyHome, RecreationalTrailer}},
		{ManufacturedHome, []Kind{ManufacturedHome}, []Kind{KindUnknown, TinyHome}},
		{TinyHome, []Kind{TinyHome}, []Kind{KindUnknown}},
		{LoadOnTrailer, []Kind{LoadOnTrailer}, []Kind{KindUnknown, TinyHome}},
		{Building, nil, []Kind{KindUnknown, TinyHome, LoadOnTrailer}},
		{FarmEquipment, nil, nil},
	} {
		for _, unit := range units {
			want := No
			if slices.Contains(tc.yes, unit) {
				want = Yes
			} else if slices.Contains(tc.perhaps, unit) {
				want = Perhaps
			}
			got, hangs := Row{Kind: tc.row, Form: AnyForm}.Match(Subject{Kind: unit})
			if got != want {
				t.Errorf("row of %q, unit %q: %d, want %d", tc.row, unit, got, want)
			}
			said := strings.Join(say.Strings(hangs), "; ")
			if wanted := "hangs.kind(kind: " + string(tc.row) + ")"; got == Perhaps && said != wanted {
				t.Errorf("row of %q, unit %q: says %q, want %q", tc.row, unit, said, wanted)
			}
		}
	}
}

func TestMatch(t *testing.T) {
	for _, tc := range []struct {
		name  string
		row   Row
		s     Subject
		want  Applies
		words string
	}{
		{"commercial row, commercial", Row{Kind: CommercialUse}, Subject{Use: Commercial}, Yes, ""},
		{"commercial row, private", Row{Kind: CommercialUse}, Subject{Use: Private}, No, ""},
		{"commercial row, not said", Row{Kind: CommercialUse}, Subject{}, Perhaps, "hangs.use(use: commercial)"},
		{"any form", Row{}, Subject{Form: Semitrailer}, Yes, ""},
		{"same form", Row{Form: Semitrailer}, Subject{Form: Semitrailer, Tow: TruckTractor}, Yes, ""},
		{"a semitrailer of a text that names no tow vehicle, behind a pickup", Row{Form: Semitrailer}, Subject{Form: Semitrailer, Tow: Pickup}, Perhaps, "hangs.semitrailers(tow: pickup)"},
		{"and behind it is not said what", Row{Form: Semitrailer}, Subject{Form: Semitrailer}, Perhaps,
			"hangs.semitrailers_of_which"},
		{"a semitrailer behind anything", Row{Form: Semitrailer, Tows: Tows{AnyTow}}, Subject{Form: Semitrailer, Tow: Pickup}, Yes, ""},
		{"tractor-semitrailer, a pickup is none", Row{Form: Semitrailer, Tows: Tows{TruckTractor}}, Subject{Form: Semitrailer, Tow: Pickup}, No, ""},
		{"tractor-semitrailer, not said", Row{Form: Semitrailer, Tows: Tows{TruckTractor}}, Subject{Form: Semitrailer}, Perhaps, "hangs.tow(tows: [truck_tractor])"},
		{"truck, and a pickup", Row{Tows: Tows{Truck, TruckTractor}}, Subject{Tow: Pickup}, Perhaps, "hangs.pickup"},
		{"truck or truck tractor, not said", Row{Tows: Tows{Truck, TruckTractor}}, Subject{}, Perhaps, "hangs.tow(tows: [truck truck_tractor])"},
		{"truck, and a car", Row{Tows: Tows{Truck}}, Subject{Tow: Car}, No, ""},
		{"a trailer behind whatever", Row{Form: Trailer}, Subject{Form: Trailer}, Yes, ""},
		{"any but a tractor-semitrailer: one", Row{Form: NotTractorSemitrailer}, Subject{Form: Semitrailer, Tow: TruckTractor}, No, ""},
		{"any but a tractor-semitrailer: a pickup with a fifth wheel", Row{Form: NotTractorSemitrailer}, Subject{Form: Semitrailer, Tow: Pickup}, Yes, ""},
		{"any but a tractor-semitrailer: a trailer behind whatever", Row{Form: NotTractorSemitrailer}, Subject{Form: Trailer}, Yes, ""},
		{"any but a tractor-semitrailer: a gooseneck behind whatever", Row{Form: NotTractorSemitrailer}, Subject{}, Perhaps, "hangs.no_semitrailer"},
		{"other form", Row{Form: Semitrailer}, Subject{Form: Trailer}, No, ""},
		{"the other way round", Row{Form: Trailer}, Subject{Form: Semitrailer}, No, ""},
		{"form not said", Row{Form: Trailer}, Subject{}, Perhaps, "hangs.form(form: trailer)"},
		{"single vehicle, its own length", Row{Form: SingleVehicle, Quantity: SingleVehicleLength}, Subject{Form: Trailer}, Yes, ""},
		{"single vehicle, length of a trailer", Row{Form: SingleVehicle, Quantity: TrailerLength}, Subject{Form: Trailer}, No, ""},
		{"single vehicle, form not said", Row{Form: SingleVehicle, Quantity: CombinationLength}, Subject{}, No, ""},
		{"any number of axles", Row{}, Subject{Axles: 4}, Yes, ""},
		{"these axles", Row{Axles: 5}, Subject{Axles: 5}, Yes, ""},
		{"other axles", Row{Axles: 5}, Subject{Axles: 4}, No, ""},
		{"axles not said", Row{Axles: 5}, Subject{}, Perhaps, "hangs.axles(axles: 5)"},
		{"at night", Row{When: "night"}, Subject{}, Yes, ""}, // whenever and wherever is asked apart
		{"on some roads", Row{Road: "two_lane"}, Subject{}, Yes, ""},
		{"all at once", Row{Kind: TinyHome, Form: Trailer, Axles: 3, When: "night"}, Subject{}, Perhaps,
			"hangs.kind(kind: tiny_home); hangs.form(form: trailer); hangs.axles(axles: 3)"},
		{"one no outweighs the rest", Row{Kind: TinyHome, Form: Trailer, Axles: 3, Road: "bridges"}, Subject{Kind: TinyHome, Form: Semitrailer, Axles: 3}, No, ""},
	} {
		if tc.row.Kind == "" {
			tc.row.Kind = All
		}
		if tc.row.Form == "" {
			tc.row.Form = AnyForm
		}
		got, hangs := tc.row.Match(tc.s)
		if said := strings.Join(say.Strings(hangs), "; "); got != tc.want || said != tc.words {
			t.Errorf("%s: %d %q, want %d %q", tc.name, got, said, tc.want, tc.words)
		}
	}
}

// What hangs on something says on what, and only that; and to know less of a
// vehicle never takes a row away from it.
func TestMatchLaws(t *testing.T) {
	kinds := append([]Kind{All, CommercialUse, Building}, UnitKinds()...)
	rapid.Check(t, func(t *rapid.T) {
		r := Row{
			Kind:     rapid.SampledFrom(kinds).Draw(t, "row kind"),
			Form:     rapid.SampledFrom([]Form{AnyForm, Semitrailer, Trailer, NotTractorSemitrailer}).Draw(t, "row form"),
			Tows:     rapid.SampledFrom([]Tows{nil, {AnyTow}, {TruckTractor}, {Truck}, {Truck, Pickup, Car}}).Draw(t, "row tow"),
			Axles:    rapid.SampledFrom([]int{0, 3, 5}).Draw(t, "row axles"),
			Quantity: Height,
		}
		s := Subject{
			Kind:  rapid.SampledFrom(append(UnitKinds(), KindUnknown)).Draw(t, "kind"),
			Use:   rapid.SampledFrom([]Use{UseUnknown, Commercial, Private}).Draw(t, "use"),
			Form:  rapid.SampledFrom([]Form{FormUnknown, Semitrailer, Trailer}).Draw(t, "form"),
			Tow:   rapid.SampledFrom(append(TowVehicles(), TowUnknown)).Draw(t, "tow"),
			Axles: rapid.SampledFrom([]int{0, 3, 5}).Draw(t, "axles"),
		}
		got, hangs := r.Match(s)
		if (got == Perhaps) != (len(hangs) > 0) || slices.ContainsFunc(hangs, say.Remark.None) {
			t.Fatalf("%+v of %+v: %d with words %v", r, s, got, hangs)
		}
		for _, forget := range []func(*Subject){
			func(s *Subject) { s.Kind = "" }, func(s *Subject) { s.Use = "" }, func(s *Subject) { s.Form = "" },
			func(s *Subject) { s.Tow = "" }, func(s *Subject) { s.Axles = 0 }, func(s *Subject) { *s = Subject{} },
		} {
			less := s
			forget(&less)
			if applies, _ := r.Match(less); got != No && applies == No {
				t.Fatalf("%+v is about %+v and not about %+v", r, s, less)
			}
		}
	})
}
