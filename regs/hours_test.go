package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// hoursRow reads a rule of hours from its cells; what they leave out is that of
// a published row of CA-XX (invented) for who travels under a permit.
func hoursRow(t fataler, changes map[string]string) window.Hours {
	t.Helper()
	return readCells(t, window.HoursTable(), map[string]string{
		"id": "hours", "jurisdiction": "CA-XX", "for": "permit", "open": "sunrise-sunset", "status": "published", "source": "a law", "read_on": "2027-05-01",
	}, changes)
}

func holiday(t fataler, changes map[string]string) window.Holiday {
	t.Helper()
	return readCells(t, window.Holidays(), map[string]string{
		"id": "holiday", "calendar": "CA-XX", "name": "A day", "date": "Jun 21", "status": "published", "source": "a law", "read_on": "2027-05-01",
	}, changes)
}

// hoursOf asks of hours alone: a rig that travels under a permit or not.
func hoursOf(tables *Tables, v Vehicle, p Stay, at time.Time, permit bool) []finding.Finding {
	return (&checking{t: tables, v: v, p: p, at: at}).hours("CA-XX", permit)
}

func withHours(rows ...window.Hours) *Tables {
	return NewTables("test", Rows{Hours: pointers(rows)}, nil)
}

// by returns the finding that a row of hours made; ok is false where it made
// none.
func by(found []finding.Finding, id string) (finding.Finding, bool) {
	i := slices.IndexFunc(found, func(f finding.Finding) bool { return len(f.Citations) > 0 && f.Citations[0].ID == id })
	if i < 0 {
		return finding.Finding{}, false
	}
	return found[i], true
}

// unsettled tells whether a finding says that no row settles the hours.
func unsettled(found []finding.Finding) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool {
		return f.Rule == "hours" && f.Outcome == finding.Unknown && len(f.Citations) == 0 && whom(f) != ""
	})
}

// Whom a rule binds. Under a permit hours that no row settles are unknown;
// without one nothing is asked that does not bind everyone.
func TestWhomHoursBind(t *testing.T) {
	day := leg(on("13:00"), winnipeg)
	for _, tc := range []struct {
		whom             string
		permit           bool
		binds, unsettled bool
	}{{"permit", true, true, false}, {"permit", false, false, false}, {"all", true, true, false}, {"all", false, true, false}} {
		found := hoursOf(withHours(hoursRow(t, map[string]string{"for": tc.whom})), Vehicle{}, day, on("12:00"), tc.permit)
		if f, ok := by(found, "hours"); ok != tc.binds || ok && f.Outcome != finding.Conditional || unsettled(found) != tc.unsettled {
			t.Errorf("for %s, permit %v: %+v", tc.whom, tc.permit, found)
		}
	}
	for permit, want := range map[bool]bool{true: true, false: false} {
		if found := hoursOf(withHours(), Vehicle{}, day, on("12:00"), permit); unsettled(found) != want || len(found) > 1 {
			t.Errorf("no rows, permit %v: %+v", permit, found)
		}
	}
}

// A permit that is asked for only perhaps brings its hours too.
func TestHoursOfAPermitThatIsPerhapsAsked(t *testing.T) {
	home := read(t, map[string]string{"kind": "manufactured_home", "permit": "yes"})
	tables := NewTables("test", Rows{Limits: []*limit.Row{&home}, Hours: pointers([]window.Hours{hoursRow(t, nil)})}, nil)
	for centimetres, want := range map[limit.Amount]bool{415: false, 416: true} {
		found := tables.Check(high(centimetres), leg(on("23:00"), winnipeg), on("22:00"))
		if f, ok := by(found, "hours"); ok != want || ok && f.Outcome != finding.Forbidden {
			t.Errorf("%d cm: %v, %+v", centimetres, ok, f)
		}
	}
}

// Kept, not kept, and not known.
func TestHoursKept(t *testing.T) {
	for _, tc := range []struct {
		open        string
		from, until string
		ends        []orb.Point
		want        finding.Outcome
		says        string
	}{
		{"sunrise-sunset", "12:00", "13:00", []orb.Point{winnipeg}, finding.Conditional, "hours.kept("},
		{"sunrise-sunset", "21:00", "22:00", []orb.Point{winnipeg}, finding.Forbidden, "from: 2027-06-21 21:00:00 -0500 CDT, until: 2027-06-21 22:00:00 -0500 CDT"},
		{"sunrise-sunset", "04:00", "04:30", []orb.Point{winnipeg}, finding.Forbidden, "hours.next(at: 2027-06-21 05:2"},
		{"sunrise-sunset", "21:00", "21:20", []orb.Point{winnipeg}, finding.Conditional, "hours.kept("},
		{"sunrise-sunset", "21:00", "21:20", []orb.Point{winnipeg, east}, finding.Forbidden, "hours.not_kept("}, // of two suns the stricter
		{"sunrise-sunset", "21:00", "21:20", []orb.Point{east, winnipeg}, finding.Forbidden, "hours.not_kept("},
		{"(sunrise-00:30)-(sunset+00:30)", "21:45", "22:05", []orb.Point{winnipeg}, finding.Conditional, "hours.kept("},
		{"(sunrise-00:30)-(sunset+00:30)", "21:45", "22:15", []orb.Point{winnipeg}, finding.Forbidden, "hours.not_kept("},
		{"Mo-Fr 09:00-15:30", "09:00", "15:29", []orb.Point{winnipeg}, finding.Conditional, "hours.kept("}, // 21 June 2027 is a Monday
		{"Mo-Fr 09:00-15:30", "08:59", "15:29", []orb.Point{winnipeg}, finding.Forbidden, "hours.not_kept("},
		{"Mo-Fr 09:00-15:30", "09:00", "15:31", []orb.Point{winnipeg}, finding.Forbidden, "hours.next_open(stay: 6h31m0s, days: 8)"},
		{"Tu-Fr 09:00-15:30", "09:00", "10:00", []orb.Point{winnipeg}, finding.Forbidden, "hours.next(at: 2027-06-22 09:00"},
		{"00:00-08:00,09:30-24:00", "07:00", "10:00", []orb.Point{winnipeg}, finding.Forbidden, "hours.next(at: 2027-06-21 09:30"},
		{"Mo-Sa; PH off", "12:00", "13:00", []orb.Point{winnipeg}, finding.Unknown, "calendar.none(calendar: CA-XX)"},
		{"sunrise-sunset", "12:00", "", []orb.Point{winnipeg}, finding.Unknown, "hours.time_open"},
		{"sunrise-sunset", "12:00", "13:00", nil, finding.Unknown, "hours.time_open"},
	} {
		var until time.Time
		if tc.until != "" {
			until = on(tc.until)
		}
		found := hoursOf(withHours(hoursRow(t, map[string]string{"open": tc.open})), Vehicle{}, leg(until, tc.ends...), on(tc.from), true)
		f, _ := by(found, "hours")
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) || !strings.Contains(says(f), tc.open) {
			t.Errorf("%s from %s to %s: %s, %q; want %s that says %q", tc.open, tc.from, tc.until, f.Outcome, says(f), tc.want, tc.says)
		}
		if whom(f) == "" || len(f.Demands.Hours) != 1 || f.Demands.Hours[0].Get("grammar") != tc.open || unsettled(found) {
			t.Errorf("%s from %s: ask %q, hours %q, %d findings", tc.open, tc.from, whom(f), f.Demands.Hours, len(found))
		}
	}
}

// Where the sun does not both rise and set a person must say what daylight is:
// polar night and midnight sun at 72 degrees north.
func TestHoursBySunNearThePole(t *testing.T) {
	north := orb.Point{-97, 72}
	for name, at := range map[string]time.Time{"midnight sun": on("12:00"), "polar night": time.Date(2026, 12, 21, 12, 0, 0, 0, cdt)} {
		for open, want := range map[string]finding.Outcome{
			"sunrise-sunset": finding.Review, "(sunrise-00:30)-(sunset+00:30)": finding.Review, "Mo-Su 09:00-15:30": finding.Conditional,
		} {
			row := hoursRow(t, map[string]string{"open": open, "read_on": "2026-12-01"})
			for _, ends := range [][]orb.Point{{north}, {north, winnipeg}, {winnipeg, north}} {
				f, _ := by(hoursOf(withHours(row), Vehicle{}, leg(at.Add(time.Hour), ends...), at, true), "hours")
				if f.Outcome != want || whom(f) == "" {
					t.Errorf("%s, %s: %s, %q; want %s", name, open, f.Outcome, says(f), want)
				}
			}
		}
	}
}

// A row that is not verified tightens and settles nothing: kept by it is
// unknown, not kept is forbidden, and whose hours count stays open.
func TestUnverifiedHoursNeverSettle(t *testing.T) {
	for name, change := range map[string]map[string]string{
		"secondary":  {"status": "secondary"},
		"memory":     {"status": "memory"},
		"invented":   {"status": "invented"},
		"stale":      {"read_on": "2026-06-20"},
		"never read": {"read_on": ""},
	} {
		tables := withHours(hoursRow(t, change))
		for until, want := range map[string]finding.Outcome{"13:00": finding.Unknown, "23:00": finding.Forbidden} {
			found := hoursOf(tables, Vehicle{}, leg(on(until), winnipeg), on("12:00"), true)
			if f, _ := by(found, "hours"); f.Outcome != want || !unsettled(found) {
				t.Errorf("%s, until %s: %s, %q, unsettled %v; want %s", name, until, f.Outcome, says(f), unsettled(found), want)
			}
		}
		if f, _ := by(hoursOf(tables, Vehicle{}, leg(on("13:00"), winnipeg), on("12:00"), true), "hours"); f.Invented != (name == "invented") {
			t.Errorf("%s: invented %v", name, f.Invented)
		}
	}
}

// A row for rigs beyond sizes binds beyond any of them, not at them; of a size
// that is not known it may.
func TestHoursBeyondSizes(t *testing.T) {
	row := hoursRow(t, map[string]string{"over_height": "15 ft", "over_width": "10 ft", "over_length": "100 ft", "over_mass": "80000 lb"})
	within := func() Vehicle {
		return Vehicle{Measures: map[limit.Quantity]Measure{
			limit.Height: measure.Exactly(limit.Amount(15 * measure.Foot)), limit.Width: measure.Exactly(limit.Amount(10 * measure.Foot)),
			limit.CombinationLength: measure.Exactly(limit.Amount(100 * measure.Foot)), limit.GrossMass: measure.Exactly(limit.Amount(80_000 * measure.Pound)),
		}}
	}
	night := leg(on("23:00"), winnipeg)
	found := hoursOf(withHours(row), within(), night, on("22:00"), true)
	if _, ok := by(found, "hours"); ok || !unsettled(found) {
		t.Errorf("at all of them: %+v", found)
	}
	for _, q := range []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength, limit.GrossMass} {
		over, unknown, least := within(), within(), within()
		amount, _ := over.Measures[q].Value()
		over.Measures[q] = measure.Exactly(amount + 1)
		delete(unknown.Measures, q)
		least.Measures[q] = measure.AtLeast[limit.Amount](1)
		if f, _ := by(hoursOf(withHours(row), over, night, on("22:00"), true), "hours"); f.Outcome != finding.Forbidden || strings.Contains(says(f), "hangs.over") {
			t.Errorf("%s beyond: %s, %q", q, f.Outcome, says(f))
		}
		for name, v := range map[string]Vehicle{"not known": unknown, "known as a least value": least} {
			found := hoursOf(withHours(row), v, night, on("22:00"), true)
			f, _ := by(found, "hours")
			if f.Outcome != finding.Review || !strings.Contains(says(f), "hangs.over(quantity: "+string(q)+", ") || !unsettled(found) {
				t.Errorf("%s %s: %s, %q, unsettled %v", q, name, f.Outcome, says(f), unsettled(found))
			}
			found = hoursOf(withHours(row), v, leg(on("13:00"), winnipeg), on("12:00"), true)
			if f, _ := by(found, "hours"); f.Outcome != finding.Conditional || !unsettled(found) {
				t.Errorf("%s %s, by day: %s, %q, unsettled %v", q, name, f.Outcome, says(f), unsettled(found))
			}
		}
		over.Measures[q] = measure.AtLeast(amount + 1)
		if f, _ := by(hoursOf(withHours(row), over, night, on("22:00"), true), "hours"); f.Outcome != finding.Forbidden {
			t.Errorf("%s at least beyond: %s, %q", q, f.Outcome, says(f))
		}
	}
}

// Roads of a rule: words may mean any road, and closed hours of a road that is
// only perhaps meant are for a person to decide.
func TestHoursOfSomeRoads(t *testing.T) {
	for _, tc := range []struct {
		roads string
		used  []roads.Road
		want  finding.Outcome // at night
		says  string
	}{
		{"ref=I *", []roads.Road{{Refs: []string{"I 84"}}}, finding.Forbidden, "hours.not_kept("},
		{"ref=I *", []roads.Road{{Refs: []string{"US 12"}}, {Refs: []string{"I 84"}}}, finding.Forbidden, "hours.not_kept("},
		{"ref=I *", []roads.Road{{Refs: []string{"US 12"}}}, "", ""},
		{"ref=I *", nil, finding.Review, "hangs.roads_open(roads: ref=I *)"},
		{"ref=I *", []roads.Road{{}}, finding.Review, "hangs.roads(roads: ref=I *, open: [road.unknown], more: 0)"},
		{"highways coded black on the map", []roads.Road{{Refs: []string{"I 84"}}}, finding.Review, "hangs.roads(roads: highways coded black"},
		{"highways coded black on the map", nil, finding.Review, "hangs.roads_open("},
	} {
		place := leg(on("23:00"), winnipeg)
		place.Roads = tc.used
		found := hoursOf(withHours(hoursRow(t, map[string]string{"roads": tc.roads})), Vehicle{}, place, on("22:00"), true)
		f, _ := by(found, "hours")
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) || unsettled(found) != (tc.want != finding.Forbidden) {
			t.Errorf("%q on %+v: %s, %q, unsettled %v; want %s", tc.roads, tc.used, f.Outcome, says(f), unsettled(found), tc.want)
		}
	}
}

// Seasons in which a rule holds.
func TestHoursOfASeason(t *testing.T) {
	for _, tc := range []struct {
		when  string
		place Stay
		want  finding.Outcome // at night
	}{
		{"Jun-Aug", leg(on("23:00"), winnipeg), finding.Forbidden},
		{"Nov-Mar", leg(on("23:00"), winnipeg), ""},
		{"Jun 21", leg(on("23:00"), winnipeg), finding.Forbidden},
		{"thaw", leg(on("23:00"), winnipeg), finding.Review},
		{"Jun-Aug and thaw", leg(on("23:00"), winnipeg), finding.Review},
		{"Nov-Mar and thaw", leg(on("23:00"), winnipeg), ""},
	} {
		f, _ := by(hoursOf(withHours(hoursRow(t, map[string]string{"when": tc.when})), Vehicle{}, tc.place, on("22:00"), true), "hours")
		if f.Outcome != tc.want {
			t.Errorf("%s: %s, %q; want %s", tc.when, f.Outcome, says(f), tc.want)
		}
	}
}

// Days on which a rule is in force, both included.
func TestHoursInForce(t *testing.T) {
	for _, tc := range []struct {
		from, to string
		want     bool
	}{{"", "", true}, {"2027-06-21", "", true}, {"2027-06-22", "", false}, {"", "2027-06-21", true}, {"", "2027-06-20", false}, {"2027-06-21", "2027-06-21", true}} {
		_, ok := by(hoursOf(withHours(hoursRow(t, map[string]string{"valid_from": tc.from, "valid_to": tc.to})), Vehicle{}, leg(on("13:00"), winnipeg), on("12:00"), true), "hours")
		if ok != tc.want {
			t.Errorf("from %q to %q: in force %v", tc.from, tc.to, ok)
		}
	}
}

// A rule of the country binds too and settles nothing of the jurisdiction; nor
// does the shipped version of a row that the user changed.
func TestHoursThatOnlyBind(t *testing.T) {
	for name, change := range map[string]map[string]string{"of the country": {"jurisdiction": "CA", "calendar": "CA"}, "a rival": {"id": "hours" + rows.RivalSuffix}} {
		row := hoursRow(t, change)
		for until, want := range map[string]finding.Outcome{"13:00": finding.Conditional, "23:00": finding.Forbidden} {
			if name == "a rival" && want == finding.Conditional {
				want = finding.Unknown
			}
			found := hoursOf(withHours(row), Vehicle{}, leg(on(until), winnipeg), on("12:00"), true)
			if f, _ := by(found, row.ID); f.Outcome != want || !unsettled(found) {
				t.Errorf("%s, until %s: %s, %q, unsettled %v", name, until, f.Outcome, says(f), unsettled(found))
			}
			found = hoursOf(withHours(row, hoursRow(t, map[string]string{"id": "own"})), Vehicle{}, leg(on(until), winnipeg), on("12:00"), true)
			if f, _ := by(found, row.ID); f.Outcome != want || unsettled(found) {
				t.Errorf("%s beside its own, until %s: %s, unsettled %v", name, until, f.Outcome, unsettled(found))
			}
		}
	}
	other := hoursRow(t, map[string]string{"jurisdiction": "US"})
	if found := hoursOf(withHours(other), Vehicle{}, leg(on("23:00"), winnipeg), on("12:00"), true); len(found) != 1 || !unsettled(found) {
		t.Errorf("of another country: %+v", found)
	}
}

// A rule that is in force on a part of the days of the way binds on it and does
// not settle it.
func TestHoursInForceOnSomeDays(t *testing.T) {
	tomorrow := on("12:00").AddDate(0, 0, 1)
	for name, tc := range map[string]struct {
		from, to           string
		binds, unsettledOf bool
	}{
		"all of them":    {"2027-06-21", "2027-06-22", true, false},
		"the first":      {"", "2027-06-21", true, true},
		"the second":     {"2027-06-22", "", true, true},
		"the day before": {"", "2027-06-20", false, true},
		"the day after":  {"2027-06-23", "", false, true},
	} {
		row := hoursRow(t, map[string]string{"open": "24/7", "valid_from": tc.from, "valid_to": tc.to})
		found := hoursOf(withHours(row), Vehicle{}, leg(tomorrow, winnipeg), on("12:00"), true)
		if _, ok := by(found, "hours"); ok != tc.binds || unsettled(found) != tc.unsettledOf {
			t.Errorf("in force on %s: binds %v, unsettled %v", name, ok, unsettled(found))
		}
	}
}

// Poor visibility and the like are a demand: nobody knows it ahead. Alone they
// say nothing of hours.
func TestDemandsBesideHours(t *testing.T) {
	const demand = "not when visibility is under 1 km"
	for open, settled := range map[string]bool{"sunrise-sunset": true, "": false} {
		found := hoursOf(withHours(hoursRow(t, map[string]string{"open": open, "demand": demand})), Vehicle{}, leg(on("13:00"), winnipeg), on("12:00"), true)
		f, _ := by(found, "hours")
		if f.Outcome != finding.Conditional || !slices.Equal(say.Strings(f.Demands.Conditions), []string{demand}) || !strings.Contains(says(f), demand) || unsettled(found) == settled {
			t.Errorf("open %q: %+v, unsettled %v", open, f, unsettled(found))
		}
		if (len(f.Demands.Hours) > 0) != settled {
			t.Errorf("open %q: demands hours %q", open, f.Demands.Hours)
		}
	}
	recalled := hoursRow(t, map[string]string{"open": "", "demand": demand, "status": "memory"})
	if f, _ := by(hoursOf(withHours(recalled), Vehicle{}, leg(on("13:00"), winnipeg), on("12:00"), true), "hours"); f.Outcome != finding.Unknown {
		t.Errorf("a recalled demand: %s, %q", f.Outcome, says(f))
	}
}

// A holiday closes by its name, however it is known; that a day is none is
// known only where every row of the calendar is firm.
func TestHoursOnHolidays(t *testing.T) {
	closed := hoursRow(t, map[string]string{"open": "Mo-Sa; PH off"})
	feast := holiday(t, map[string]string{"name": "Midsummer"})
	recalled := holiday(t, map[string]string{"name": "Midsummer", "status": "memory"})
	other := holiday(t, map[string]string{"id": "other", "name": "Another", "date": "Dec 25", "status": "memory"})
	tuesday := on("12:00").AddDate(0, 0, 1)
	for _, tc := range []struct {
		name string
		days []window.Holiday
		at   time.Time
		want finding.Outcome
		says string
	}{
		{"on it", []window.Holiday{feast}, on("12:00"), finding.Forbidden, "holiday.kept(day: 2027-06-21, names: [holiday.name(name: Midsummer, moved: false, status: published, doubt: )])"},
		{"on it, recalled", []window.Holiday{recalled}, on("12:00"), finding.Forbidden, "holiday.kept(day: 2027-06-21, names: [holiday.name(name: Midsummer, moved: false, status: memory, doubt: recalled)])"},
		{"the day after", []window.Holiday{feast}, tuesday, finding.Conditional, "hours.kept("},
		{"the day after, recalled", []window.Holiday{recalled}, tuesday, finding.Unknown, "calendar.all(calendar: CA-XX, how: recalled)"},
		{"one row not firm", []window.Holiday{feast, other}, tuesday, finding.Unknown, "calendar.some(calendar: CA-XX, how: recalled)"},
		{"no calendar", nil, tuesday, finding.Unknown, "calendar.none(calendar: CA-XX)"},
		{"a Sunday, whatever the calendar", nil, tuesday.AddDate(0, 0, 5), finding.Forbidden, "hours.not_kept("},
		{"the next day open", []window.Holiday{feast}, on("12:00"), finding.Forbidden, "hours.next(at: 2027-06-22 00:00"},
	} {
		tables := NewTables("test", Rows{Hours: []*window.Hours{&closed}, Holidays: pointers(tc.days)}, nil)
		f, _ := by(hoursOf(tables, Vehicle{}, leg(tc.at.Add(time.Hour), winnipeg), tc.at, true), "hours")
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) {
			t.Errorf("%s: %s, %q; want %s that says %q", tc.name, f.Outcome, says(f), tc.want, tc.says)
		}
	}
	// A rule may mean a calendar of its own.
	own := hoursRow(t, map[string]string{"open": "Mo-Sa; PH off", "calendar": "CA-XX permits"})
	tables := NewTables("test", Rows{Hours: []*window.Hours{&own}, Holidays: pointers([]window.Holiday{holiday(t, map[string]string{"calendar": "CA-XX permits", "date": "Dec 25"}), feast})}, nil)
	if f, _ := by(hoursOf(tables, Vehicle{}, leg(on("13:00"), winnipeg), on("12:00"), true), "hours"); f.Outcome != finding.Conditional {
		t.Errorf("a calendar of its own: %s, %q", f.Outcome, says(f))
	}
}

// Hours of a municipality count in it, by its own rows and its own permit.
func TestHoursOfTowns(t *testing.T) {
	town := hoursRow(t, map[string]string{"id": "town", "jurisdiction": "CA-XX/Town", "open": "00:00-08:00,09:30-24:00"})
	for _, tc := range []struct {
		name     string
		towns    []string
		whom     string
		permit   string // what the town's own row of height asks
		province string // what the province's asks
		want     bool
	}{
		{"its own permit", []string{"Town"}, "permit", "yes", "", true},
		{"no permit of its own", []string{"Town"}, "permit", "", "", false},
		{"everyone, no permit", []string{"Town"}, "all", "", "", true},
		{"elsewhere", []string{"Village"}, "all", "yes", "yes", false},
		{"not known where", []string{""}, "all", "yes", "yes", false},
	} {
		town.For = window.For(tc.whom)
		limits := []limit.Row{
			read(t, map[string]string{"id": "own", "jurisdiction": "CA-XX/Town", "permit": tc.permit}), read(t, map[string]string{"id": "province", "permit": tc.province}),
		}
		tables := NewTables("test", Rows{Limits: pointers(limits), Hours: []*window.Hours{&town}}, nil)
		place := leg(on("08:30"), winnipeg)
		place.Towns = tc.towns
		found := tables.Check(high(416), place, on("08:10"))
		if f, ok := by(found, "town"); ok != tc.want || ok && (f.Outcome != finding.Forbidden || f.Jurisdiction != "CA-XX/Town") {
			t.Errorf("%s: %v, %+v", tc.name, ok, f)
		}
	}
}

// Hours add up: each row that binds is a finding of its own.
func TestSeveralRowsOfHours(t *testing.T) {
	rows := []window.Hours{
		hoursRow(t, map[string]string{"id": "day", "open": "Mo-Fr sunrise-sunset"}), hoursRow(t, map[string]string{"id": "rush", "open": "00:00-07:00,09:00-24:00"}),
		hoursRow(t, map[string]string{"id": "hearsay", "open": "Mo-Fr 10:00-15:00", "status": "secondary"}),
	}
	found := hoursOf(withHours(rows...), Vehicle{}, leg(on("08:30"), winnipeg), on("08:00"), true)
	got := ""
	for _, id := range []string{"day", "rush", "hearsay"} {
		f, _ := by(found, id)
		got += fmt.Sprintf("%s ", f.Outcome)
	}
	if got != "conditional forbidden forbidden " || len(found) != 3 {
		t.Errorf("%s, %d findings", got, len(found))
	}
}
