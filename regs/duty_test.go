package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/data"
	"wayhouse/regs/duty"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Ways on either side of 60 degrees north, and across it.
var (
	southern = orb.LineString{{-75, 45}, {-74, 46}}
	northern = orb.LineString{{-135, 60.7}, {-139, 64}}
	across   = orb.LineString{{-120, 59}, {-120, 61}}
)

func dutyRows(t fataler) []duty.Row {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/duty.csv")
	if err != nil {
		t.Fatalf("%v", err)
	}
	rows, _, err := duty.Table().ReadCSV(raw)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return rows
}

func duties(rows ...duty.Row) *Tables { return NewTables("test", Rows{Duty: pointers(rows)}, nil) }

func kilograms(n int64) *measure.Mass {
	m := measure.Mass(n) * measure.Kilogram
	return &m
}

func pounds(n int64) *measure.Mass {
	m := measure.Mass(n) * measure.Pound
	return &m
}

// heavy is a commercial rig that every rule of hours binds.
func heavy(code string, way orb.LineString, driving time.Duration) Drive {
	return Drive{Jurisdiction: code, Use: limit.Commercial, Unit: measure.Given(kilograms(6350)), Rig: measure.Given(kilograms(13_000)), Driving: driving, Line: way, At: june}
}

const beyondShift = "duty.beyond_shift"

// Drivers' hours as they were read: SOR/2005-313 ss. 12 to 14 and 39, and the
// planner for 49 CFR 395.3 (rows 44, 45 and 47 of the check values, SEEN).
func TestHoursOfDriving(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for name, tc := range map[string]struct {
		code   string
		way    orb.LineString
		most   time.Duration
		prefix string   // of every row that binds
		says   []string // beside the hours of driving
	}{
		"south of 60":    {"CA-ON", southern, 13 * time.Hour, "ca-south-", []string{"at most 13 h of driving", "14 h on duty", "16 h since", "10 h off"}},
		"north of 60":    {"CA-YT", northern, 15 * time.Hour, "ca-north-", []string{"at most 15 h of driving", "18 h on duty", "20 h since", "80 h on duty in 7 days; 36 h off", "120 h on duty in 14 days, with 24 h off before 80 h; 72 h off", "24 h off in a row in any 14 days"}}, // SOR/2005-313 ss. 50 to 53
		"United States":  {"US-VT", southern, 11 * time.Hour, "us-", []string{"at most 11 h of driving", "14 h since", "10 h off", "30 min after 8 h", "60 h on duty in 7 days", "70 h in 8 days", "34 h off"}},
		"US, north too":  {"US-AK", northern, 11 * time.Hour, "us-", []string{"at most 11 h of driving"}},
		"both sides":     {"CA-NT", across, 13 * time.Hour, "ca-", []string{"at most 13 h of driving", "at most 15 h of driving"}},
		"Canadian cycle": {"CA-QC", southern, 13 * time.Hour, "ca-south-", []string{"70 h on duty in 7 days", "36 h off", "120 h on duty in 14 days", "72 h off"}}, // row 46, SEEN: ss. 26 to 28
	} {
		within := rule(t, tables.Duty(heavy(tc.code, tc.way, tc.most)), "hours of driving")
		over := rule(t, tables.Duty(heavy(tc.code, tc.way, tc.most+time.Minute)), "hours of driving")
		if within.Outcome != finding.Conditional || strings.Contains(says(within), beyondShift) {
			t.Errorf("%s, %v: %s, %s", name, tc.most, within.Outcome, says(within))
		}
		if over.Outcome != finding.Conditional || !strings.Contains(says(over), beyondShift) {
			t.Errorf("%s, a minute more: %s, %s", name, over.Outcome, says(over))
		}
		for _, want := range tc.says {
			if !strings.Contains(says(within), want) || !strings.Contains(strings.Join(say.Strings(within.Demands.Conditions), " "), want) {
				t.Errorf("%s: %q is not in %q, %q", name, want, says(within), within.Demands.Conditions)
			}
		}
		for _, r := range within.Citations {
			if !strings.HasPrefix(r.ID, tc.prefix) || r.Source == "" || r.Revision != "test" || len(r.Shows.Get("figures").([]say.Remark)) == 0 {
				t.Errorf("%s: row %+v", name, r)
			}
		}
	}
}

// The same figures as data, whatever the words around them say.
func TestHoursOfTheTable(t *testing.T) {
	hours := map[string]float64{
		"ca-south-driving": 13, "ca-south-on-duty": 14, "ca-south-elapsed": 16, "ca-north-driving": 15, "ca-north-on-duty": 18, "ca-north-elapsed": 20,
		"ca-south-cycle-1": 70, "ca-south-cycle-2": 120, "ca-north-cycle-1": 80, "ca-north-cycle-2": 120, "ca-north-rest-14": 24, "us-driving": 11, "us-elapsed": 14, "us-rest": 10, "us-break": 8, "us-cycle-7": 60, "us-cycle-8": 70,
	}
	days := map[string]int{"ca-south-cycle-1": 7, "ca-south-cycle-2": 14, "ca-north-cycle-1": 7, "ca-north-cycle-2": 14, "us-cycle-7": 7, "us-cycle-8": 8, "ca-north-rest-14": 14, "ca-south-driving": 1}
	off := map[string]float64{"ca-south-cycle-1": 36, "ca-south-cycle-2": 72, "ca-north-cycle-1": 36, "ca-north-cycle-2": 72, "us-break": 0.5, "us-cycle-7": 34, "us-cycle-8": 34}
	seen := 0
	for _, r := range dutyRows(t) {
		want, ok := hours[r.ID]
		if !ok {
			continue
		}
		seen++
		if r.Hours.Hours() != want || r.Days != days[r.ID] || r.Off.Hours() != off[r.ID] || !r.Status.Trusted() || (r.NorthOf == 60) != strings.HasPrefix(r.ID, "ca-north-") || (r.SouthOf == 60) != strings.HasPrefix(r.ID, "ca-south-") {
			t.Errorf("%s: %v in %d days, north of %v, south of %v, %s", r.ID, r.Hours, r.Days, r.NorthOf, r.SouthOf, r.Status)
		}
	}
	if seen != len(hours) {
		t.Errorf("%d of %d rows", seen, len(hours))
	}
}

// From which mass on a licence is asked: ICBC's class 5 and the Ministry's
// handbook, 5.4.1 (rows 48 and 49 of the check values, SEEN). Up to it nothing is
// settled: the row of British Columbia has a note, and Ontario has a second row.
func TestLicence(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for _, code := range []string{"CA-BC", "CA-ON"} {
		for kg, want := range map[int64]finding.Outcome{3000: finding.Unknown, 4600: finding.Unknown, 4601: finding.Conditional, 9000: finding.Conditional} {
			for _, use := range []limit.Use{limit.UseUnknown, limit.Private, limit.Commercial} {
				f := rule(t, tables.Duty(Drive{Jurisdiction: code, Use: use, Unit: measure.Given(kilograms(kg)), Rig: measure.Given(kilograms(11_000)), Line: southern, At: june}), "licence")
				if f.Outcome != want || whom(f) == "" || strings.Contains(whom(f), "permit") || len(f.Citations) == 0 {
					t.Errorf("%s, %d kg, use %q: %s, ask %q, %s", code, kg, use, f.Outcome, whom(f), says(f))
				}
				if len(f.Demands.Conditions) > 0 != (want == finding.Conditional) {
					t.Errorf("%s, %d kg: demands %+v", code, kg, f.Demands)
				}
			}
		}
		// The exact mass, written in pounds: 4600 kg is between 10 141 and 10 142 lb.
		for lb, want := range map[int64]finding.Outcome{10_141: finding.Unknown, 10_142: finding.Conditional} {
			if f := rule(t, tables.Duty(Drive{Jurisdiction: code, Unit: measure.Given(pounds(lb)), Rig: measure.Given(kilograms(11_000)), At: june}), "licence"); f.Outcome != want {
				t.Errorf("%s, %d lb: %s", code, lb, f.Outcome)
			}
		}
		if f := rule(t, tables.Duty(Drive{Jurisdiction: code, Unit: measure.Given(kilograms(4600)), At: june.AddDate(2, 0, 0)}), "licence"); f.Outcome != finding.Unknown {
			t.Errorf("%s, two years later: %s by a row read too long ago", code, f.Outcome)
		}
	}
}

// From which mass on hours bind: "registered gross mass" over 4 500 kg in
// Canada (from memory beside the rows), 10 001 lb itself in the United States (49
// CFR 390.5, from memory).
func TestHoursBindByMassAndUse(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for name, tc := range map[string]struct {
		code string
		use  limit.Use
		rig  *measure.Mass
		want finding.Outcome
		says string
	}{
		"Canada, at the mass":       {"CA-ON", limit.Commercial, kilograms(4500), finding.Unknown, "duty.hours_open"},
		"Canada, above":             {"CA-ON", limit.Commercial, kilograms(4501), finding.Conditional, "13 h"},
		"States, below":             {"US-VT", limit.Commercial, pounds(10_000), finding.Unknown, "duty.hours_open"},
		"States, at the mass":       {"US-VT", limit.Commercial, pounds(10_001), finding.Conditional, "11 h"},
		"private":                   {"CA-ON", limit.Private, kilograms(13_000), finding.Unknown, "duty.hours_open"},
		"use not known":             {"CA-ON", limit.UseUnknown, kilograms(13_000), finding.Conditional, "hangs.use(use: commercial)"},
		"use not known, light":      {"CA-ON", limit.UseUnknown, kilograms(4000), finding.Unknown, "duty.hours_open"},
		"mass not known":            {"CA-ON", limit.Commercial, nil, finding.Conditional, "duty.rig_over"},
		"mass not known, private":   {"US-VT", limit.Private, nil, finding.Unknown, "duty.hours_open"},
		"neither known":             {"US-VT", limit.UseUnknown, nil, finding.Conditional, "hangs.use(use: commercial)"},
		"neither known, and a mass": {"US-VT", limit.UseUnknown, nil, finding.Conditional, "duty.rig_over"},
	} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: tc.code, Use: tc.use, Rig: measure.Given(tc.rig), Driving: time.Hour, Line: southern, At: june}), "hours of driving")
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) || (whom(f) == "") != (tc.want == finding.Clear) {
			t.Errorf("%s: %s, ask %q, %s", name, f.Outcome, whom(f), says(f))
		}
	}
	// Where nothing binds, only rows of the place itself say so, all of them.
	over := func(kg int64) func(*duty.Row) {
		return func(r *duty.Row) {
			r.Use, r.UnitOver, r.RigOver, r.Hours = limit.Commercial, nil, kilograms(kg), 13*time.Hour
		}
	}
	own, country := dutyRow("own", "XA-A", duty.Driving, 0, over(4500)), dutyRow("country", "XA", duty.Rest, 0, over(4500))
	noted := dutyRow("noted", "XA-A", duty.Rest, 0, over(4500), func(r *duty.Row) { r.Note = "not for all" })
	for name, tc := range map[string]struct {
		rows []duty.Row
		kg   int64
		want finding.Outcome
	}{
		"its own":              {[]duty.Row{own}, 4500, finding.Clear},
		"beside the country's": {[]duty.Row{own, country}, 4500, finding.Unknown},
		"beside a note":        {[]duty.Row{own, noted}, 4500, finding.Unknown},
		"its own, above":       {[]duty.Row{own}, 4501, finding.Conditional},
	} {
		f := rule(t, duties(tc.rows...).Duty(heavyRig("XA-A", tc.kg)), "hours of driving")
		if f.Outcome == finding.Clear && (len(f.Citations) == 0 || !f.Citations[0].Decides || f.Citations[0].Source == "") {
			t.Errorf("clear by no row: %+v", f.Citations)
		}
		if f.Outcome != tc.want || (whom(f) == "") != (tc.want == finding.Clear) {
			t.Errorf("%s: %s, ask %q, %s", name, f.Outcome, whom(f), says(f))
		}
	}
	// The mass of the unit alone is a least mass of the rig: it can bind, never free.
	for kg, want := range map[int64]string{4000: "on: [duty.rig_over]", 4501: "on: [], demands: [at most 13 h"} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: "CA-ON", Use: limit.Commercial, Unit: measure.Given(kilograms(kg)), Line: southern, At: june}), "hours of driving")
		if f.Outcome != finding.Conditional || !strings.Contains(says(f), want) {
			t.Errorf("unit of %d kg: %s, %s", kg, f.Outcome, says(f))
		}
	}
}

// Where the way is not known, neither is on which side of 60 degrees it runs.
func TestHoursOfAnUnknownWay(t *testing.T) {
	tables := duties(dutyRows(t)...)
	f := rule(t, tables.Duty(heavy("CA-ON", nil, 14*time.Hour)), "hours of driving")
	if f.Outcome != finding.Conditional || !strings.Contains(says(f), "at most 13 h of driving") || !strings.Contains(says(f), "at most 15 h of driving") {
		t.Errorf("%s: %s", f.Outcome, says(f))
	}
}

// heavyRig is a commercial rig of some mass on a short way.
func heavyRig(code string, kg int64) Drive {
	return Drive{Jurisdiction: code, Use: limit.Commercial, Unit: measure.Given(kilograms(kg)), Rig: measure.Given(kilograms(kg)), Driving: time.Hour, Line: southern, At: june}
}

// A figure that is beyond another says so in words, however both are rounded.
func TestHoursBeyondAreShownAsBeyond(t *testing.T) {
	f := rule(t, duties(dutyRows(t)...).Duty(heavy("CA-ON", southern, 13*time.Hour+time.Minute)), "hours of driving")
	if !strings.HasPrefix(says(f), "duty.hours(asks: [duty.beyond_shift(driving: 13h1m0s) ") {
		t.Error(says(f))
	}
}

// That a table speaks of rest and of nothing else does not say how long somebody
// may drive.
func TestHoursWithoutARowOfDriving(t *testing.T) {
	private := func(r *duty.Row) { r.Use, r.UnitOver, r.Hours = limit.Private, nil, 8*time.Hour }
	f := rule(t, duties(dutyRow("rest", "XA", duty.Rest, 0, private)).Duty(heavy("XA-A", southern, 20*time.Hour)), "hours of driving")
	if f.Outcome == finding.Clear {
		t.Errorf("%s: %s", f.Outcome, says(f))
	}
}

// A row clears only what its source says of the whole rig. British Columbia
// asks for a daily report of a truck over 14 600 kg too, and for an inspection of
// every vehicle under the safety code (ICBC, Driving Commercial Vehicles, p. 210,
// SEEN); Ontario's class G ends at 11 000 kg together (weights-hours.md, beside
// the handbook's 5.4.1; not flagged by itself).
func TestARowOfTheUnitDoesNotClearTheTruck(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for _, tc := range []struct {
		code, topic string
		unit, rig   int64
	}{{"CA-BC", "inspection", 6000, 21_000}, {"CA-BC", "inspection", 6000, 10_000}, {"CA-ON", "licence", 4600, 11_001}} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: tc.code, Use: limit.Commercial, Unit: measure.Given(kilograms(tc.unit)), Rig: measure.Given(kilograms(tc.rig)), Line: southern, At: june}), tc.topic)
		if f.Outcome == finding.Clear {
			t.Errorf("%s, unit of %d kg, rig of %d kg: %s", tc.code, tc.unit, tc.rig, says(f))
		}
	}
}

func TestHoursOfAnUnknownDrivingTime(t *testing.T) {
	f := rule(t, duties(dutyRows(t)...).Duty(heavy("CA-ON", southern, 0)), "hours of driving")
	if f.Outcome != finding.Conditional || !strings.Contains(says(f), "duty.time_open") {
		t.Errorf("%s: %s", f.Outcome, says(f))
	}
}

// A mass that is not known clears nothing that hangs on it.
func TestDutyOfUnknownMasses(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for _, code := range []string{"CA-BC", "CA-ON", "CA-QC", "CA-NB", "US-VT"} {
		for _, f := range tables.Duty(Drive{Jurisdiction: code, Use: limit.Commercial, Line: southern, At: june}) {
			if f.Outcome == finding.Clear || whom(f) == "" {
				t.Errorf("%s, %s: %s, ask %q, %s", code, f.Rule, f.Outcome, whom(f), says(f))
			}
		}
	}
	f := rule(t, tables.Duty(Drive{Jurisdiction: "CA-BC", At: june}), "licence")
	if !strings.Contains(says(f), "duty.unit_over") {
		t.Error(says(f))
	}
}

// What is only recalled, or read second-hand, asks for something or leaves it
// open, whatever the masses.
func TestRecalledDutiesOnlyTighten(t *testing.T) {
	for _, r := range dutyRows(t) {
		if r.Status.Trusted() {
			continue
		}
		tables := duties(r)
		for _, m := range []*measure.Mass{nil, kilograms(500), kilograms(30_000)} {
			for _, use := range []limit.Use{limit.UseUnknown, limit.Private, limit.Commercial} {
				for _, f := range tables.Duty(Drive{Jurisdiction: r.Jurisdiction, Use: use, Unit: measure.Given(m), Rig: measure.Given(m), Driving: time.Hour, Line: southern, At: june}) {
					if f.Outcome == finding.Clear {
						t.Errorf("%s clears %s: %s", r.ID, f.Rule, says(f))
					}
				}
			}
		}
	}
	// Vermont goes by the row of the country (49 CFR 383.91(a)(1), 2015), which clears nothing there.
	tables := duties(dutyRows(t)...)
	for _, tc := range []struct {
		unit, rig int64
		want      finding.Outcome
	}{{11_000, 27_000, finding.Conditional}, {11_000, 26_000, finding.Unknown}, {9000, 30_000, finding.Unknown}} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: "US-VT", Unit: measure.Given(pounds(tc.unit)), Rig: measure.Given(pounds(tc.rig)), At: june}), "licence")
		if row, ok := shows(f, "us-licence-01"); f.Outcome != tc.want || !ok || row.Decides != (tc.want == finding.Conditional) || row.Status != finding.Published {
			t.Errorf("%d lb, %d lb: %s by %+v", tc.unit, tc.rig, f.Outcome, f.Citations)
		}
	}
}

// invented rows of duty, named, that can clear.
func dutyRow(id, code string, topic duty.Topic, kg int64, changes ...func(*duty.Row)) duty.Row {
	r := duty.Row{ID: id, Jurisdiction: code, Topic: topic, UnitOver: kilograms(kg), Demand: "demand of " + id,
		Proof: rows.Proof{Status: finding.Published, Source: "a law", ReadOn: june.AddDate(0, -1, 0)}}
	for _, change := range changes {
		change(&r)
	}
	return r
}

func TestDutyRowsOfItsOwnComeFirst(t *testing.T) {
	country, own := dutyRow("country", "XA", duty.Licence, 1000), dutyRow("own", "XA-A", duty.Licence, 3000)
	brakes := dutyRow("brakes", "XA", duty.Brakes, 1000)
	tables := duties(country, own, brakes)
	unit := kilograms(2000)
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XA-A", Unit: measure.Given(unit), At: june}), "licence"); f.Outcome != finding.Conditional || ids(f) != "own country!" || strings.Join(say.Strings(f.Demands.Conditions), "; ") != "duty.condition(topic: licence, where: XA-A, demand: demand of country)" {
		t.Errorf("with a row of its own: %s by %s, %q", f.Outcome, ids(f), f.Demands.Conditions)
	}
	// Both are asked for where both bind; where neither does, the country's row
	// clears nothing, and its own clears where it stands alone.
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XA-A", Unit: measure.Given(kilograms(4000)), At: june}), "licence"); f.Outcome != finding.Conditional || says(f) != "duty.asks(topic: licence, asks: [duty.demand(demand: demand of own, hangs: []) duty.demand(demand: demand of country, hangs: [])])" {
		t.Errorf("both: %s, %s", f.Outcome, says(f))
	}
	light := Drive{Jurisdiction: "XA-A", Unit: measure.Given(kilograms(500)), At: june}
	if f := rule(t, tables.Duty(light), "licence"); f.Outcome != finding.Unknown || whom(f) == "" {
		t.Errorf("neither: %s, %s", f.Outcome, says(f))
	}
	if f := rule(t, duties(own).Duty(light), "licence"); f.Outcome != finding.Clear || whom(f) != "" || len(f.Citations) == 0 || !f.Citations[0].Decides {
		t.Errorf("its own alone: %s, %s", f.Outcome, says(f))
	}
	for name, change := range map[string]func(*duty.Row){
		"with a note": func(r *duty.Row) { r.Note = "farmers excepted" }, "the shipped version of a changed row": func(r *duty.Row) { r.ID += rows.RivalSuffix },
	} {
		if f := rule(t, duties(dutyRow("own", "XA-A", duty.Licence, 3000, change)).Duty(light), "licence"); f.Outcome != finding.Unknown {
			t.Errorf("%s: %s, %s", name, f.Outcome, says(f))
		}
	}
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XA-B", Unit: measure.Given(unit), At: june}), "licence"); f.Outcome != finding.Conditional || ids(f) != "country!" {
		t.Errorf("without: %s by %s", f.Outcome, ids(f))
	}
	// A row of its own on one topic hides nothing of another.
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XA-A", Unit: measure.Given(unit), At: june}), "brakes"); f.Outcome != finding.Conditional || ids(f) != "brakes!" {
		t.Errorf("another topic: %s by %s", f.Outcome, ids(f))
	}
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XA", Unit: measure.Given(unit), At: june}), "licence"); f.Outcome != finding.Conditional || ids(f) != "country!" {
		t.Errorf("the country itself: %s by %s", f.Outcome, ids(f))
	}
	if f := rule(t, tables.Duty(Drive{Jurisdiction: "XB-A", Unit: measure.Given(unit), At: june}), "duty"); f.Outcome != finding.Unknown {
		t.Errorf("another country: %s", f.Outcome)
	}
}

// Of several rows on one topic those that bind are asked for together; one
// that may bind keeps another from clearing.
func TestSeveralRowsOfATopic(t *testing.T) {
	recalled := func(r *duty.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} }
	commercial := func(r *duty.Row) { r.Use = limit.Commercial }
	stale := func(r *duty.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }
	ofRig := func(r *duty.Row) { r.RigOver, r.UnitOver = r.UnitOver, nil }
	row := func(id string, kg int64, changes ...func(*duty.Row)) duty.Row {
		return dutyRow(id, "XA-A", duty.Licence, kg, changes...)
	}
	for name, tc := range map[string]struct {
		rows    []duty.Row
		want    finding.Outcome
		demands string
	}{
		"none binds":                           {[]duty.Row{row("a", 3000), row("b", 4000)}, finding.Clear, ""},
		"one of two binds":                     {[]duty.Row{row("a", 1000), row("b", 4000)}, finding.Conditional, "demand of a"},
		"both bind":                            {[]duty.Row{row("a", 1000), row("b", 1500)}, finding.Conditional, "demand of a; demand of b"},
		"a recalled one binds":                 {[]duty.Row{row("a", 3000), row("b", 1500, recalled)}, finding.Conditional, "demand of b"},
		"a stale one binds":                    {[]duty.Row{row("a", 1500, stale)}, finding.Conditional, "demand of a"},
		"a stale one does not":                 {[]duty.Row{row("a", 3000, stale)}, finding.Unknown, ""},
		"a recalled one does not":              {[]duty.Row{row("a", 3000, recalled)}, finding.Unknown, ""},
		"a firm and a recalled one do not":     {[]duty.Row{row("a", 3000), row("b", 4000, recalled)}, finding.Unknown, ""},
		"one of another use settles nothing":   {[]duty.Row{row("a", 1000, commercial)}, finding.Unknown, ""},
		"a recalled one may bind by the rig":   {[]duty.Row{row("a", 3000), row("b", 9000, recalled, ofRig)}, finding.Unknown, ""},
		"a firm one may bind by the rig alone": {[]duty.Row{row("a", 3000), row("b", 9000, ofRig)}, finding.Conditional, "demand of b"},
	} {
		f := rule(t, duties(tc.rows...).Duty(Drive{Jurisdiction: "XA-A", Use: limit.Private, Unit: measure.Given(kilograms(2000)), At: june}), "licence")
		if got := strings.Join(demanded(f), "; "); f.Outcome != tc.want || got != tc.demands || len(f.Citations) != len(tc.rows) {
			t.Errorf("%s: %s, %q, %d rows; %s", name, f.Outcome, got, len(f.Citations), says(f))
		}
	}
}

// What the table does not know is named, each once, with whom to ask.
func TestMissingDutiesAreNamed(t *testing.T) {
	shipped := duties(dutyRows(t)...)
	for code, tc := range map[string]struct {
		tables *Tables
		want   string
	}{
		"CA-NL": {shipped, "duty.no_row(topics: [licence brakes], where: CA-NL)"},
		"CA-SK": {shipped, "duty.no_row(topics: [brakes], where: CA-SK)"},
		"MX-SO": {shipped, "duty.no_row(topics: [licence brakes inspection hours of driving], where: MX-SO)"},
		"XA-A":  {duties(), "duty.no_row(topics: [licence brakes inspection hours of driving], where: XA-A)"},
		"":      {shipped, "duty.no_row(topics: [licence brakes inspection hours of driving], where: )"},
	} {
		f := rule(t, tc.tables.Duty(Drive{Jurisdiction: code, Unit: measure.Given(kilograms(6350)), Line: southern, At: june}), "duty")
		if f.Outcome != finding.Unknown || says(f) != tc.want || !strings.Contains(whom(f), code) {
			t.Errorf("%q: %s, %q, ask %q", code, f.Outcome, says(f), whom(f))
		}
	}
	for _, code := range []string{"CA-ON", "CA-BC", "US-VT"} {
		for _, f := range shipped.Duty(Drive{Jurisdiction: code, At: june}) {
			if f.Rule == "duty" {
				t.Errorf("%s: %s", code, says(f))
			}
		}
	}
}

// demanded lists the words of the rows whose demands a finding takes over.
func demanded(f finding.Finding) []string {
	var out []string
	for _, c := range f.Demands.Conditions {
		out = append(out, c.Get("demand").(string))
	}
	return out
}

// Every answer is known as one about the driver or the rig's making.
func TestDutyHasATopic(t *testing.T) {
	found := slices.Concat(duties(dutyRows(t)...).Duty(heavy("CA-NL", southern, time.Hour)), duties(dutyRows(t)...).Duty(heavy("CA-ON", southern, time.Hour)))
	rules := map[string]bool{}
	for _, f := range found {
		rules[string(f.Rule)] = true
		if f.Topic != finding.Duty || len(f.Says) == 0 || f.Reason == "" && f.Outcome == finding.Unknown {
			t.Errorf("%+v", f)
		}
	}
	if len(rules) != 5 { // three thresholds, the hours, what is missing
		t.Errorf("rules %v", rules)
	}
}

// drawDuty draws rows of a country and one of its parts. Their masses lie
// within those of the tasks.
func drawDuty(t *rapid.T) []duty.Row {
	var out []duty.Row
	for i := range rapid.IntRange(0, 5).Draw(t, "rows") {
		r := dutyRow(fmt.Sprint("r", i), rapid.SampledFrom([]string{"XA", "XA-A"}).Draw(t, "of"), rapid.SampledFrom(slices.Concat(duty.Hours(), duty.Thresholds())).Draw(t, "topic"), 0)
		r.UnitOver = nil
		if rapid.Bool().Draw(t, "by the unit") || !r.OfHours() {
			r.UnitOver = kilograms(rapid.Int64Range(1, 20).Draw(t, "unit over") * 1000)
		}
		if rapid.Bool().Draw(t, "by the rig") {
			r.RigOver = kilograms(rapid.Int64Range(1, 20).Draw(t, "rig over") * 1000)
		}
		if r.OfHours() {
			r.Hours = time.Duration(rapid.IntRange(1, 20).Draw(t, "hours")) * time.Hour
		}
		r.Inclusive = rapid.Bool().Draw(t, "inclusive")
		r.Use = rapid.SampledFrom([]limit.Use{limit.UseUnknown, limit.Commercial, limit.Private}).Draw(t, "use")
		r.Status = rapid.SampledFrom([]finding.Status{finding.Published, finding.Verified, finding.Secondary, finding.Memory}).Draw(t, "status")
		r.ReadOn = june.AddDate(0, -rapid.IntRange(0, 24).Draw(t, "months ago"), 0)
		out = append(out, r)
	}
	return out
}

func drawTask(t *rapid.T) Drive {
	unit := rapid.Int64Range(0, 20).Draw(t, "unit")
	return Drive{
		Jurisdiction: "XA-A", Use: rapid.SampledFrom([]limit.Use{limit.UseUnknown, limit.Commercial, limit.Private}).Draw(t, "asked use"),
		Unit: measure.Given(kilograms(unit * 1000)), Rig: measure.Given(kilograms((unit + rapid.Int64Range(0, 10).Draw(t, "tow vehicle")) * 1000)),
		Driving: time.Duration(rapid.IntRange(1, 20).Draw(t, "driving")) * time.Hour, Line: southern, At: june,
	}
}

// answersByRule are the answers that a task gets, each rule once.
func answersByRule(t fataler, found []finding.Finding) map[string]finding.Finding {
	out := map[string]finding.Finding{}
	for _, f := range found {
		if _, twice := out[string(f.Rule)]; twice {
			t.Fatalf("%s is answered twice", f.Rule)
		}
		out[string(f.Rule)] = f
	}
	return out
}

// A heavier rig, a longer drive or one more trusted row of the same place never
// gets a milder answer; and what clears rests on a row that can.
func TestDutyIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all, task := drawDuty(t), drawTask(t)
		tables := duties(all...)
		before := answersByRule(t, tables.Duty(task))
		more := task
		heavier := measure.Exactly(*kilograms(rapid.Int64Range(0, 5000).Draw(t, "more")))
		more.Unit, more.Rig = measure.Sum(task.Unit, heavier), measure.Sum(task.Rig, heavier)
		more.Driving += time.Duration(rapid.IntRange(0, 600).Draw(t, "minutes more")) * time.Minute
		after := answersByRule(t, tables.Duty(more))
		for name, f := range before {
			g := after[name]
			if gravity(g.Outcome) < gravity(f.Outcome) || strings.Contains(says(f), beyondShift) && !strings.Contains(says(g), beyondShift) {
				t.Fatalf("%s: %s (%s), with more %s (%s)", name, f.Outcome, says(f), g.Outcome, says(g))
			}
			if wrongSteps(f) != "" {
				t.Fatalf("%s: %s: %s", name, f.Outcome, wrongSteps(f))
			}
			loose := func(r duty.Row) bool {
				topic := name == string(r.Topic) || name == "hours of driving" && r.OfHours()
				return topic && (!r.Firm(task.At, DefaultTerm) || r.Jurisdiction != task.Jurisdiction)
			}
			if f.Outcome == finding.Clear && slices.ContainsFunc(all, loose) {
				t.Fatalf("%s is clear beside a row that cannot clear: %s", name, says(f))
			}
		}
	})
}

// A task of which less is known never gets an answer that clears where the
// whole truth would ask for something.
func TestUnknownDutyNeverClearsWrongly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables, truth := duties(drawDuty(t)...), drawTask(t)
		known := truth
		if rapid.Bool().Draw(t, "unit not known") {
			known.Unit = measure.Known[measure.Mass]{}
		}
		if rapid.Bool().Draw(t, "rig not known") {
			known.Rig = measure.Known[measure.Mass]{}
		}
		if rapid.Bool().Draw(t, "use not known") {
			known.Use = limit.UseUnknown
		}
		whole := answersByRule(t, tables.Duty(truth))
		for name, f := range answersByRule(t, tables.Duty(known)) {
			if f.Outcome == finding.Clear && whole[name].Outcome == finding.Conditional {
				t.Fatalf("%s reads as clear (%s) where it is %s (%s)", name, says(f), whole[name].Outcome, says(whole[name]))
			}
		}
	})
}

// No mass of the unit decides the licence in Quebec (SAAQ, class 5, 2014): what
// its words ask is for a person to read, whatever the unit weighs.
func TestALicenceThatNoMassDecides(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for _, mass := range []*measure.Mass{nil, kilograms(500), kilograms(4501), kilograms(20_000)} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: "CA-QC", Unit: measure.Given(mass), Rig: measure.Given(mass), Line: southern, At: june}), "licence")
		row, ok := shows(f, "ca-qc-licence-01")
		if f.Outcome != finding.Conditional || !ok || row.Decides || row.Shows.String() != "duty.figures(figures: [duty.no_mass_figure])" || !strings.Contains(says(f), "duty.worded") || strings.Contains(says(f), "class 1 for a trailer") {
			t.Errorf("%v: %s, %+v (%s)", mass, f.Outcome, row, says(f))
		}
		if f := rule(t, tables.Duty(Drive{Jurisdiction: "CA-AB", Unit: measure.Given(mass), Rig: measure.Given(mass), Line: southern, At: june}), "licence"); f.Outcome != finding.Unknown {
			t.Errorf("Alberta, %v: %s by a second-hand row", mass, f.Outcome)
		}
	}
}

// 49 CFR 390.3(f)(3): the federal rules do not reach an individual's own goods.
// That frees nobody: States have rules of their own.
func TestThatNoHoursBindFreesNobody(t *testing.T) {
	tables := duties(dutyRows(t)...)
	for use, want := range map[limit.Use]finding.Outcome{limit.Private: finding.Unknown, limit.UseUnknown: finding.Conditional, limit.Commercial: finding.Conditional} {
		f := rule(t, tables.Duty(Drive{Jurisdiction: "US-VT", Use: use, Rig: measure.Given(pounds(20_000)), Driving: 12 * time.Hour, Line: southern, At: june}), "hours of driving")
		row, ok := shows(f, "us-private-01")
		if f.Outcome != want || ok != (use == limit.Private) || row.Decides {
			t.Errorf("%q: %s by %s (%s); want %s", use, f.Outcome, ids(f), says(f), want)
		}
		if said := strings.Contains(says(f), "do not reach an individual"); said != (use == limit.Private) {
			t.Errorf("%q: %s", use, says(f))
		}
	}
}
