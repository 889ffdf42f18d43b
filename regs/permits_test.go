package regs

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// permitRow reads a permit of CA-XX (invented); what its cells leave out is that
// of a published one for size, read recently.
func permitRow(t fataler, changes map[string]string) permit.Permit {
	t.Helper()
	return readCells(t, permit.Permits(), map[string]string{
		"id": "permit", "jurisdiction": "CA-XX", "name": "A permit", "for": "size", "currency": "CAD", "status": "published", "source": "a law", "read_on": "2027-05-01",
	}, changes)
}

// contact reads an entry of the log: CA-XX answered on 1 May, of a rig as wide,
// long and heavy as one that is [measured] (invented).
func contact(t fataler, changes map[string]string) permit.Contact {
	t.Helper()
	return readCells(t, permit.Contacts(), map[string]string{
		"id": "contact", "jurisdiction": "CA-XX", "asked": "may it pass", "asked_on": "2027-04-20", "answered_by": "A person", "answered_on": "2027-05-01",
		"width": "2.6 m", "length": "20 m", "mass": "10 t",
	}, changes)
}

// asking is a finding that asks for a permit.
func asking(q finding.Rule) finding.Finding {
	return finding.Finding{Rule: q, Demands: finding.Demands{Permits: say.Each([]string{"a permit"})}}
}

func passage(code string, km measure.Distance, from, until time.Time, found ...finding.Finding) Passage {
	return Passage{Jurisdiction: code, Length: km * 1000, From: from, Until: until, Findings: found}
}

// A permit is for all passages of its jurisdiction, in the order in which the
// way first meets them.
func TestPassagesAreMerged(t *testing.T) {
	var zero time.Time
	tables := of()
	way := []Passage{
		passage("CA-AA", 10, on("08:00"), on("09:00"), asking("height")),
		passage("CA-BB", 20, on("09:00"), on("10:00")),
		passage("CA-AA", 30, on("10:00"), on("11:00"), asking("width"), asking("height"), finding.Finding{Rule: "trailer_length"}),
		passage("CA-CC", 40, on("11:00"), zero, asking("gross_mass")),
		passage("CA-AA", 2.5, on("12:00"), on("13:00")),
	}
	before := fmt.Sprint(way)
	got := tables.Permits(Vehicle{}, way)
	if len(got) != 2 || got[0].Jurisdiction != "CA-AA" || got[1].Jurisdiction != "CA-CC" {
		t.Fatalf("%+v", got)
	}
	if n := got[0]; n.Length != 42_500 || !n.From.Equal(on("08:00")) || !n.Until.Equal(on("13:00")) || !slices.Equal(n.Because, []finding.Rule{"height", "width"}) || n.Office.None() {
		t.Errorf("%+v", n)
	}
	if n := got[1]; !n.Until.IsZero() || !slices.Equal(n.Because, []finding.Rule{"gross_mass"}) || len(n.Unknown) != 1 {
		t.Errorf("%+v", n)
	}
	if fmt.Sprint(way) != before {
		t.Error("the passages were changed")
	}
	// A last passage whose end is not known leaves the end of all unknown.
	way[4].Until = zero
	if n := tables.Permits(Vehicle{}, way)[0]; !n.Until.IsZero() {
		t.Errorf("ends %s, which is not known", n.Until)
	}
	if got := tables.Permits(Vehicle{}, nil); len(got) != 0 {
		t.Errorf("of no way: %+v", got)
	}
}

// What asks for a permit decides which permits are offered.
func TestOffersBySubject(t *testing.T) {
	size, mass, both := permitRow(t, map[string]string{"id": "size"}), permitRow(t, map[string]string{"id": "mass", "for": "mass"}), permitRow(t, map[string]string{"id": "both", "for": "size mass"})
	building, escort := permitRow(t, map[string]string{"id": "building", "for": "building"}), permitRow(t, map[string]string{"id": "escort", "for": "escort"})
	elsewhere := permitRow(t, map[string]string{"id": "elsewhere", "jurisdiction": "CA-YY"})
	tables := NewTables("test", Rows{Permits: pointers([]permit.Permit{size, mass, both, building, escort, elsewhere})}, nil)
	for because, want := range map[string]string{
		"height": "size both", "width": "size both", "rear_overhang": "size both", "kingpin_to_rear_axle": "size both",
		"gross_mass": "mass both", "tandem_mass": "mass both", "bridge_formula": "mass both", "tire_load_per_mm": "mass both",
		"height gross_mass": "size mass both",
	} {
		var found []finding.Finding
		for _, q := range strings.Fields(because) {
			found = append(found, asking(finding.Rule(q)))
		}
		// Only a recreational trailer is surely no building; who escorts is asked
		// for where escorts are.
		for _, k := range append(limit.UnitKinds(), limit.KindUnknown) {
			for _, d := range []finding.Demands{{}, {EscortsFront: 1}, {EscortsRear: 1}, {EscortsAny: 2}} {
				want := want
				if k != limit.RecreationalTrailer {
					want += " building"
				}
				if !reflect.DeepEqual(d, finding.Demands{}) {
					want += " escort"
				}
				n := tables.Permits(Vehicle{Subject: limit.Subject{Kind: k}}, []Passage{passage("CA-XX", 1, on("08:00"), on("09:00"), append(found, finding.Finding{Rule: "width", Demands: d})...)})[0]
				var got []string
				for _, o := range n.Permits {
					got = append(got, o.ID)
				}
				if strings.Join(got, " ") != want || len(n.Unknown) != 0 {
					t.Errorf("%s, %q, %+v: %q, unknown %q; want %q", because, k, d, got, n.Unknown, want)
				}
			}
		}
	}
	n := NewTables("test", Rows{Permits: pointers([]permit.Permit{building, escort})}, nil).Permits(Vehicle{Subject: limit.Subject{Kind: limit.RecreationalTrailer}}, []Passage{passage("CA-XX", 1, on("08:00"), on("09:00"), asking("width"))})[0]
	if len(n.Permits) != 0 || len(n.Unknown) != 1 || n.Unknown[0].Code != "permit.no_row" {
		t.Errorf("no permit of the table fits: %+v", n)
	}
}

// A permit that is asked from certain sizes on is left out where the vehicle is
// surely within them, and nowhere else.
func TestOffersBySizes(t *testing.T) {
	sized := func(height, width limit.Amount) Vehicle {
		return Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.Exactly(height * centi), limit.Width: measure.Exactly(width * centi)}}
	}
	least := sized(450, 400)
	least.Measures[limit.Width] = measure.AtLeast(3 * metre)
	for _, tc := range []struct {
		name          string
		height, width string
		v             Vehicle
		want          bool
	}{
		{"any size", "", "", sized(300, 200), true},
		{"at both", "4.5 m", "4 m", sized(450, 400), false},
		{"higher", "4.5 m", "4 m", sized(451, 400), true},
		{"wider", "4.5 m", "4 m", sized(450, 401), true},
		{"by height alone", "4.5 m", "", sized(450, 900), false},
		{"by width alone", "", "4 m", sized(900, 400), false},
		{"not measured", "4.5 m", "4 m", high(450), true},
		{"a least value", "4.5 m", "4 m", least, true},
		{"nothing measured", "4.5 m", "", Vehicle{}, true},
	} {
		row := permitRow(t, map[string]string{"over_height": tc.height, "over_width": tc.width})
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}}, nil)
		n := tables.Permits(tc.v, []Passage{passage("CA-XX", 1, on("08:00"), on("09:00"), asking("width"))})[0]
		if (len(n.Permits) == 1) != tc.want || (len(n.Unknown) == 0) != tc.want {
			t.Errorf("%s: %d offers, unknown %q", tc.name, len(n.Permits), n.Unknown)
		}
	}
}

// What is over the legal mass is known only where the legal rows that surely
// bind agree on it.
func TestFeeOfMassWhereRowsDisagree(t *testing.T) {
	mass := func(id, threshold string, more map[string]string) limit.Row {
		cells := map[string]string{"id": id, "quantity": "gross_mass", "threshold": threshold, "permit": "yes"}
		for column, text := range more {
			cells[column] = text
		}
		return read(t, cells)
	}
	row := permitRow(t, map[string]string{"for": "mass", "fee_per_tonne_km": "0.10"})
	for name, tc := range map[string]struct {
		rows   []limit.Row
		kg     limit.Amount
		amount string
	}{
		"one":                         {[]limit.Row{mass("a", "10 t", nil)}, 12_000, "20.00 CAD"},
		"two that agree":              {[]limit.Row{mass("a", "10 t", nil), mass("b", "10 t", nil)}, 12_000, "20.00 CAD"},
		"two that do not":             {[]limit.Row{mass("a", "10 t", nil), mass("b", "11 t", nil)}, 12_000, ""},
		"two, beyond one of them":     {[]limit.Row{mass("a", "10 t", nil), mass("b", "11 t", nil)}, 10_500, ""},
		"a recalled one":              {[]limit.Row{mass("a", "10 t", map[string]string{"status": "memory"})}, 12_000, ""},
		"the country's":               {[]limit.Row{mass("a", "10 t", map[string]string{"jurisdiction": "CA"})}, 12_000, ""},
		"the country's beside it":     {[]limit.Row{mass("a", "10 t", nil), mass("b", "11 t", map[string]string{"jurisdiction": "CA"})}, 12_000, ""},
		"within the country's":        {[]limit.Row{mass("a", "10 t", nil), mass("b", "20 t", map[string]string{"jurisdiction": "CA"})}, 12_000, "20.00 CAD"},
		"a rival beside the changed":  {[]limit.Row{mass("a", "10 t", nil), mass("a"+rows.RivalSuffix, "11 t", nil)}, 12_000, ""},
		"one of certain kinds":        {[]limit.Row{mass("a", "10 t", map[string]string{"kind": "manufactured_home"})}, 12_000, ""},
		"the other of a further step": {[]limit.Row{mass("a", "10 t", nil), mass("b", "11 t", map[string]string{"tier": "beyond"})}, 12_000, "20.00 CAD"},
	} {
		tables := NewTables("test", Rows{Limits: pointers(tc.rows), Permits: []*permit.Permit{&row}}, nil)
		v := with(limit.Subject{}, limit.GrossMass, tc.kg*limit.Amount(measure.Kilogram))
		o := tables.Permits(v, []Passage{passage("CA-XX", 100, on("08:00"), on("09:00"), asking("gross_mass"))})[0].Permits[0]
		if o.Fee != tc.amount || o.FeeUnknown.None() != (tc.amount != "") {
			t.Errorf("%s: %q, %q; want %q", name, o.Fee, o.FeeUnknown, tc.amount)
		}
	}
}

// The fee of an offer: what it hangs on comes from the way and the rig, and a
// row that is not firm says that it may be another by now.
func TestFeeOfAnOffer(t *testing.T) {
	legal := read(t, map[string]string{"id": "mass", "quantity": "gross_mass", "threshold": "10 t", "permit": "yes"})
	rig := Vehicle{Measures: map[limit.Quantity]Measure{
		limit.GrossMass: measure.Exactly(limit.Amount(12 * measure.Tonne)), limit.Width: measure.Exactly(3 * metre), limit.Height: measure.AtLeast(4 * metre),
	}}
	for _, tc := range []struct {
		name    string
		cells   map[string]string
		amount  string
		unknown string
	}{
		{"flat", map[string]string{"fee": "48"}, "48.00 CAD", ""},
		{"per km", map[string]string{"fee_per_km": "0.085"}, "8.50 CAD", ""},
		{"per tonne and km", map[string]string{"fee": "20", "fee_per_tonne_km": "0.10"}, "40.00 CAD", ""}, // 2 t over 100 km
		{"by a size", map[string]string{"fee_bands": "width <= 3 m: 55; width > 3 m: 95"}, "55.00 CAD", ""},
		{"by a size known as a least value", map[string]string{"fee_bands": "height <= 4 m: 55; height > 4 m: 95"}, "", "fee.size_open(quantity: height)"},
		{"by a size not measured", map[string]string{"fee_bands": "trailer_length > 12 m: 55"}, "", "fee.size_open(quantity: trailer_length)"},
		{"none", map[string]string{"fee_note": "amounts not read"}, "", "fee.open"},
		{"recalled", map[string]string{"fee": "48", "status": "memory"}, "48.00 CAD", "fee.not_verified"},
		{"stale", map[string]string{"fee": "48", "read_on": "2026-06-01"}, "48.00 CAD", "fee.not_verified"},
	} {
		row := permitRow(t, tc.cells)
		tables := NewTables("test", Rows{Limits: []*limit.Row{&legal}, Permits: []*permit.Permit{&row}}, nil)
		o := tables.Permits(rig, []Passage{passage("CA-XX", 100, on("08:00"), on("09:00"), asking("width"))})[0].Permits[0]
		if o.Fee != tc.amount || o.FeeUnknown.String() != tc.unknown || o.Row.ID != "permit" || o.Row.Revision != "test" {
			t.Errorf("%s: %q, %q (%+v); want %q, %q", tc.name, o.Fee, o.FeeUnknown, o.Row, tc.amount, tc.unknown)
		}
	}
	// Without a legal row that is exceeded it is not known what is over it.
	row := permitRow(t, map[string]string{"fee_per_tonne_km": "0.10"})
	for name, v := range map[string]Vehicle{"within": with(limit.Subject{}, limit.GrossMass, limit.Amount(9*measure.Tonne)), "not weighed": {}} {
		tables := NewTables("test", Rows{Limits: []*limit.Row{&legal}, Permits: []*permit.Permit{&row}}, nil)
		if o := tables.Permits(v, []Passage{passage("CA-XX", 100, on("08:00"), on("09:00"), asking("width"))})[0].Permits[0]; o.Fee != "" || o.FeeUnknown.None() {
			t.Errorf("%s: %q, %q", name, o.Fee, o.FeeUnknown)
		}
	}
}

// The last day on which to ask: so many working days of the office from it to
// the day before the move, weekends and known holidays left out. 21 June 2027 is
// a Monday; the holidays are invented.
func TestAskBy(t *testing.T) {
	days := []window.Holiday{
		holiday(t, map[string]string{"id": "friday", "date": "Jun 18"}), holiday(t, map[string]string{"id": "wednesday", "date": "Jun 16"}),
	}
	recalled := []window.Holiday{holiday(t, map[string]string{"id": "friday", "date": "Jun 18", "status": "memory"})}
	for _, tc := range []struct {
		name string
		lead string
		days []window.Holiday
		move time.Time
		want string
		says string
	}{
		{"the day itself", "0", days, on("08:00"), "2027-06-21", ""},
		{"one day over a weekend and a holiday", "1", days, on("08:00"), "2027-06-17", ""},
		{"two days", "2", days, on("08:00"), "2027-06-15", ""},
		{"three days", "3", days, on("08:00"), "2027-06-14", ""},
		{"four days, over another weekend", "4", days, on("08:00"), "2027-06-11", ""},
		{"one day, no holidays known", "1", nil, on("08:00"), "2027-06-18", "calendar.none(calendar: CA-XX)"},
		{"one day, a recalled holiday", "1", recalled, on("08:00"), "2027-06-17", "calendar.all(calendar: CA-XX, how: recalled)"},
		{"on a Sunday, the day itself", "0", days, on("08:00").AddDate(0, 0, -1), "2027-06-17", ""},
		{"on a Tuesday", "1", days, on("08:00").AddDate(0, 0, 1), "2027-06-21", ""},
		{"lead time not known", "", days, on("08:00"), "", "permit.lead_open(note: some weeks)"},
		{"move not known", "2", days, time.Time{}, "", "permit.day_open"},
	} {
		row := permitRow(t, map[string]string{"lead_days": tc.lead, "lead_note": "some weeks"})
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}, Holidays: pointers(tc.days)}, nil)
		o := tables.Permits(Vehicle{}, []Passage{passage("CA-XX", 1, tc.move, time.Time{}, asking("width"))})[0].Permits[0]
		got := ""
		if !o.AskBy.IsZero() {
			got = o.AskBy.Format(time.DateOnly)
		}
		if got != tc.want || o.AskUnknown.String() != tc.says {
			t.Errorf("%s: %s, %q; want %s, %q", tc.name, got, o.AskUnknown, tc.want, tc.says)
		}
	}
}

// An office that never works is said to be one.
func TestAskByOfAnOfficeThatNeverWorks(t *testing.T) {
	var days []window.Holiday
	for month := time.January; month <= time.December; month++ {
		name := month.String()[:3]
		days = append(days, holiday(t, map[string]string{"id": name, "date": name + " 01-31"}))
	}
	for _, lead := range []string{"0", "1", "99"} {
		row := permitRow(t, map[string]string{"lead_days": lead})
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}, Holidays: pointers(days)}, nil)
		o := tables.Permits(Vehicle{}, []Passage{passage("CA-XX", 1, on("08:00"), on("09:00"), asking("width"))})[0].Permits[0]
		if !o.AskBy.IsZero() || !strings.Contains(o.AskUnknown.String(), "permit.never_works") {
			t.Errorf("%s days: %s, %q", lead, o.AskBy, o.AskUnknown)
		}
	}
}

// Counted the other way: as many working days as asked for lie from the day to
// ask to the day before the move, and it is the last such day.
func TestAskByLeavesTheLeadTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var days []window.Holiday
		off := map[string]bool{}
		for i := range rapid.IntRange(0, 6).Draw(t, "holidays") {
			d := time.Date(2027, 6, rapid.IntRange(1, 30).Draw(t, "holiday"), 0, 0, 0, 0, time.UTC)
			off[d.Format(time.DateOnly)] = true
			days = append(days, holiday(t, map[string]string{"id": fmt.Sprint(i), "date": d.Format("Jan 02")}))
		}
		move := time.Date(2027, 6, rapid.IntRange(20, 30).Draw(t, "move"), rapid.IntRange(0, 23).Draw(t, "hour"), 0, 0, 0, cdt)
		lead := rapid.IntRange(0, 12).Draw(t, "lead")
		row := permitRow(t, map[string]string{"lead_days": fmt.Sprint(lead)})
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}, Holidays: pointers(days)}, nil)
		by := tables.Permits(Vehicle{}, []Passage{passage("CA-XX", 1, move, move, asking("width"))})[0].Permits[0].AskBy
		works := func(d time.Time) bool {
			return d.Weekday() != time.Saturday && d.Weekday() != time.Sunday && !off[d.Format(time.DateOnly)]
		}
		count := func(from time.Time) (n int) {
			for d := from; d.Format(time.DateOnly) < move.Format(time.DateOnly); d = d.AddDate(0, 0, 1) {
				if works(d) {
					n++
				}
			}
			return n
		}
		if !works(by) || count(by) < lead || by.After(move) {
			t.Fatalf("move %s, %d days: ask by %s, %d working days before it", move, lead, by, count(by))
		}
		for d := by.AddDate(0, 0, 1); d.Format(time.DateOnly) <= move.Format(time.DateOnly); d = d.AddDate(0, 0, 1) {
			if works(d) && count(d) >= lead {
				t.Fatalf("move %s, %d days: ask by %s, but %s is early enough", move, lead, by, d)
			}
		}
	})
}

// What the application wants to know; the rows name it, otherwise the usual.
func TestSizesOfAnApplication(t *testing.T) {
	row := permitRow(t, map[string]string{"wants": "front_overhang; steering_axle_mass"})
	tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}}, nil)
	v := Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.AtLeast(4 * metre), limit.FrontOverhang: measure.Exactly[limit.Amount](0)}}
	n := tables.Permits(v, []Passage{passage("CA-XX", 1, on("08:00"), on("09:00"), asking("width"))})[0]
	got := map[limit.Quantity]finding.Quantity{}
	for _, s := range n.Sizes {
		got[s.Quantity] = s.Value
	}
	want := map[limit.Quantity]finding.Quantity{
		limit.Height: limit.Height.Of(4 * metre).Least(), limit.FrontOverhang: limit.FrontOverhang.Of(0), limit.SteeringAxleMass: {}, limit.Width: {},
		limit.TrailerLength: {}, limit.CombinationLength: {}, limit.GrossMass: {}, limit.RearOverhang: {},
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A permit that ends before the trip does forbids it; one that holds for the
// whole of it is enough; a term in days that is too short is for a person.
func TestPermitsThatEndTooSoon(t *testing.T) {
	held := func(from, to string) map[string]string {
		return map[string]string{"permit_number": "123", "valid_from": from, "expires_on": to}
	}
	until := on("12:00").AddDate(0, 0, 1) // 22 June
	for _, tc := range []struct {
		name  string
		held  []map[string]string
		valid string
		until time.Time
		want  finding.Outcome
		says  string
	}{
		{"none held", nil, "", until, "", ""},
		{"holds", []map[string]string{held("2027-06-21", "2027-06-22")}, "", until, "", ""},
		{"ends the day before", []map[string]string{held("2027-06-01", "2027-06-21")}, "", until, finding.Forbidden, "from: 2027-06-01, to: 2027-06-21"},
		{"begins the day after", []map[string]string{held("2027-06-22", "2027-06-30")}, "", until, finding.Forbidden, "permit.number(number: 123, "},
		{"without days", []map[string]string{held("", "")}, "", until, "", ""},
		{"one of two holds", []map[string]string{held("2027-06-01", "2027-06-21"), held("2027-06-21", "2027-06-22")}, "", until, "", ""},
		{"neither holds all of it", []map[string]string{held("2027-06-01", "2027-06-21"), held("2027-06-22", "2027-06-30")}, "", until, finding.Forbidden, ""},
		{"entries without a number", []map[string]string{{"expires_on": "2027-01-01"}}, "", until, "", ""},
		{"end not known, held from the start on", []map[string]string{held("2027-06-01", "2027-06-30")}, "", time.Time{}, finding.Unknown, "permit.held_time_open"},
		{"end not known, none held", nil, "", time.Time{}, "", ""},
		{"expired before", []map[string]string{held("2027-05-01", "2027-06-20")}, "", until, finding.Review, "permit.held_not_on(day: 2027-06-21"},
		{"begins after", []map[string]string{held("2027-06-23", "2027-06-30")}, "", until, finding.Review, "permit.held_not_on(day: 2027-06-21"},
		{"one expired before, one that ends in the middle", []map[string]string{held("2027-05-01", "2027-06-20"), held("2027-06-01", "2027-06-21")}, "", until, finding.Forbidden, "to: 2027-06-21"},
		{"valid for two days", nil, "2", on("08:00").AddDate(0, 0, 2), "", ""},
		{"valid for two days, out on the fourth", nil, "2", on("08:00").AddDate(0, 0, 3), finding.Review, "permit.too_short(name: "},
	} {
		var log []permit.Contact
		for i, cells := range tc.held {
			cells["id"] = fmt.Sprint("contact ", i)
			log = append(log, contact(t, cells))
		}
		row := permitRow(t, map[string]string{"valid_days": tc.valid})
		tables := NewTables("test", Rows{Permits: []*permit.Permit{&row}, Contacts: pointers(log)}, nil)
		needs := tables.Permits(measured(410, 260), []Passage{passage("CA-XX", 1, on("08:00"), tc.until, asking("width"))})
		if len(needs[0].Log) != len(log) {
			t.Errorf("%s: %d entries of %d", tc.name, len(needs[0].Log), len(log))
		}
		found := tables.PermitFindings(needs)
		if tc.want == "" && len(found) > 0 || tc.want != "" && (len(found) != 1 || found[0].Outcome != tc.want || whom(found[0]) == "" || found[0].Rule != "permit") {
			t.Errorf("%s: %+v, want %s", tc.name, found, tc.want)
			continue
		}
		if tc.want != "" && !strings.Contains(says(found[0])+fmt.Sprint(found[0].Citations), tc.says) {
			t.Errorf("%s: %+v does not say %q", tc.name, found[0], tc.says)
		}
	}
}

// settling asks of a height in CA-XX that a recalled row leaves unknown, on a
// leg of 21 June, with entries of the log.
func settling(t fataler, v Vehicle, log ...permit.Contact) finding.Finding {
	t.Helper()
	row := clean(status(finding.Memory))
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: pointers(log)}, nil)
	return rule(t, tables.Check(v, leg(on("13:00"), winnipeg), on("12:00")), "height")
}

// An answer settles what is unknown, for rigs within all sizes that were asked
// about, while it holds.
func TestContactsSettle(t *testing.T) {
	sized := func(more map[string]string) map[string]string {
		out := map[string]string{"outcome": "clear", "settles": "height", "height": "4.1 m"}
		for column, text := range more {
			out[column] = text
		}
		return out
	}
	without := func(q limit.Quantity) Vehicle {
		v := measured(410, 260)
		delete(v.Measures, q)
		return v
	}
	least := measured(410, 260)
	least.Measures[limit.Height] = measure.AtLeast(410 * centi)
	for _, tc := range []struct {
		name  string
		v     Vehicle
		cells map[string]string
		want  finding.Outcome
	}{
		{"at the size", measured(410, 260), sized(nil), finding.Clear},
		{"beyond it", measured(411, 260), sized(nil), finding.Unknown},
		{"not measured", Vehicle{}, sized(nil), finding.Unknown},
		{"known as a least value", least, sized(nil), finding.Unknown},
		{"another size too, within", measured(410, 300), sized(map[string]string{"width": "3 m"}), finding.Clear},
		{"another size too, beyond", measured(410, 300), sized(map[string]string{"width": "2.99 m"}), finding.Unknown},
		{"another size too, not measured", without(limit.Width), sized(nil), finding.Unknown},
		{"a mass too, not weighed", without(limit.GrossMass), sized(nil), finding.Unknown},
		{"a length too, not measured", without(limit.CombinationLength), sized(nil), finding.Unknown},
		{"not of a width", measured(410, 260), sized(map[string]string{"width": ""}), finding.Unknown},
		{"another rule", measured(410, 260), sized(map[string]string{"settles": "width; trailer_length", "width": "3 m", "trailer_length": "12 m"}), finding.Unknown},
		{"its escorts only", measured(410, 260), sized(map[string]string{"settles": "height escorts"}), finding.Unknown},
		{"nothing", measured(410, 260), sized(map[string]string{"settles": ""}), finding.Unknown},
		{"another jurisdiction", measured(410, 260), sized(map[string]string{"jurisdiction": "CA-YY"}), finding.Unknown},
		{"a trailer length too, not measured", measured(410, 260), sized(map[string]string{"trailer_length": "12 m"}), finding.Unknown},
		{"of a municipality", measured(410, 260), sized(map[string]string{"jurisdiction": "CA-XX/Town"}), finding.Unknown},
		{"answered a year ago", measured(410, 260), sized(map[string]string{"answered_on": "2026-06-22"}), finding.Clear},
		{"answered longer ago", measured(410, 260), sized(map[string]string{"answered_on": "2026-06-20"}), finding.Unknown},
		{"answered longer ago, and still good", measured(410, 260), sized(map[string]string{"answered_on": "2026-06-20", "expires_on": "2027-12-31"}), finding.Clear},
		{"refused longer ago", measured(410, 260), sized(map[string]string{"outcome": "forbidden", "answered_on": "2020-06-20"}), finding.Forbidden},
		{"on its last day", measured(410, 260), sized(map[string]string{"expires_on": "2027-06-21"}), finding.Clear},
		{"the day after", measured(410, 260), sized(map[string]string{"expires_on": "2027-06-20"}), finding.Unknown},
		{"on its first day", measured(410, 260), sized(map[string]string{"valid_from": "2027-06-21"}), finding.Clear},
		{"the day before", measured(410, 260), sized(map[string]string{"valid_from": "2027-06-22"}), finding.Unknown},
		{"answered only later", measured(410, 260), sized(map[string]string{"answered_on": "2027-06-22"}), finding.Unknown},
		{"conditional", measured(410, 260), sized(map[string]string{"outcome": "conditional", "condition": "with an escort"}), finding.Conditional},
		{"for a person", measured(410, 260), sized(map[string]string{"outcome": "review"}), finding.Review},
		{"refused", measured(410, 260), sized(map[string]string{"outcome": "forbidden"}), finding.Forbidden},
		{"refused, whatever the size", measured(411, 260), sized(map[string]string{"outcome": "forbidden"}), finding.Forbidden},
		{"refused, not measured", Vehicle{}, sized(map[string]string{"outcome": "forbidden"}), finding.Forbidden},
		{"refused, no longer", measured(410, 260), sized(map[string]string{"outcome": "forbidden", "expires_on": "2027-06-20"}), finding.Unknown},
		{"no answer yet", measured(410, 260), map[string]string{"answered_by": "", "answered_on": ""}, finding.Unknown},
	} {
		f := settling(t, tc.v, contact(t, tc.cells))
		shown, ok := shows(f, "contact")
		if f.Outcome != tc.want || ok != (tc.want != finding.Unknown) || (whom(f) == "") != (tc.want == finding.Clear) {
			t.Errorf("%s: %s (%s), entry shown %v, ask %q; want %s", tc.name, f.Outcome, says(f), ok, whom(f), tc.want)
		}
		if ok && (shown.Status != finding.Verified || !shown.Decides || shown.Revision != "test" || !strings.HasPrefix(shown.Source, "A person") || len(f.Citations) != 2) {
			t.Errorf("%s: %+v", tc.name, f.Citations)
		}
		if conditions := f.Demands.Conditions; (tc.want == finding.Conditional) != slices.Equal(say.Strings(conditions), []string{"with an escort"}) {
			t.Errorf("%s: conditions %q", tc.name, conditions)
		}
	}
}

// An answer that lapses on the way settles nothing.
func TestContactsDoNotSettlePastTheirEnd(t *testing.T) {
	row := clean(status(finding.Memory))
	k := contact(t, map[string]string{"outcome": "clear", "settles": "height", "height": "4.1 m", "expires_on": "2027-06-21"})
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: []*permit.Contact{&k}}, nil)
	for until, want := range map[time.Time]finding.Outcome{on("23:59"): finding.Clear, on("23:59").Add(2 * time.Minute): finding.Unknown} {
		if f := rule(t, tables.Check(measured(410, 260), leg(until, winnipeg), on("22:00")), "height"); f.Outcome != want {
			t.Errorf("until %s: %s, want %s", until, f.Outcome, want)
		}
	}
}

// What a table says is not for an entry of the log to take back.
func TestContactsSettleOnlyWhatIsUnknown(t *testing.T) {
	k := contact(t, map[string]string{"outcome": "clear", "settles": "height", "height": "5 m"})
	row := clean()
	for centimetres, want := range map[limit.Amount]finding.Outcome{410: finding.Clear, 416: finding.Conditional} {
		tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: []*permit.Contact{&k}}, nil)
		f := rule(t, tables.Check(measured(centimetres, 260), leg(on("13:00"), winnipeg), on("12:00")), "height")
		if _, ok := shows(f, "contact"); f.Outcome != want || ok {
			t.Errorf("%d cm: %s by %s, want %s by the row alone", centimetres, f.Outcome, ids(f), want)
		}
	}
}

// Of two answers the graver counts, in whatever order they came; both show.
func TestOfTwoContactsTheGraverCounts(t *testing.T) {
	answers := map[string]map[string]string{
		"clear": {"outcome": "clear"}, "conditional": {"outcome": "conditional", "condition": "with an escort"}, "review": {"outcome": "review"}, "forbidden": {"outcome": "forbidden"},
	}
	for first, a := range answers {
		for second, b := range answers {
			var log []permit.Contact
			for i, cells := range []map[string]string{a, b} {
				all := map[string]string{"id": fmt.Sprint(i), "settles": "height", "height": "5 m"}
				for column, text := range cells {
					all[column] = text
				}
				log = append(log, contact(t, all))
			}
			f := settling(t, measured(410, 260), log...)
			want := finding.Worse(finding.Outcome(first), finding.Outcome(second))
			if f.Outcome != want || len(f.Citations) != 3 || (first == "conditional" || second == "conditional") != (len(f.Demands.Conditions) > 0) {
				t.Errorf("%s, then %s: %s by %s, conditions %q; want %s", first, second, f.Outcome, ids(f), f.Demands.Conditions, want)
			}
		}
	}
}

// The owner of a road and hours are rules that an answer can settle too.
func TestContactsSettleOwnerAndHours(t *testing.T) {
	k := contact(t, map[string]string{"outcome": "clear", "settles": "road owner; hours", "roads": "ref=7", "height": "4.2 m", "width": "2.6 m", "length": "20 m", "mass": "12 t"})
	limits := read(t, map[string]string{"permit": "yes", "escorts_any": "0"})
	place := Stay{Jurisdictions: []string{"CA-XX"}, Roads: []roads.Road{{Refs: []string{"7"}}}}
	tables := NewTables("test", Rows{Limits: []*limit.Row{&limits}, Contacts: []*permit.Contact{&k}}, nil)
	for centimetres, want := range map[limit.Amount]finding.Outcome{420: finding.Clear, 421: finding.Unknown} {
		v := high(centimetres)
		v.Measures[limit.Width], v.Measures[limit.CombinationLength] = measure.Exactly(260*centi), measure.Exactly(20*metre)
		v.Measures[limit.GrossMass] = measure.Exactly(limit.Amount(12 * measure.Tonne))
		found := tables.Check(v, place, on("12:00"))
		for _, q := range []limit.Quantity{limit.Width, limit.CombinationLength, limit.GrossMass} { // each of them must be known
			less := Vehicle{Measures: maps.Clone(v.Measures)}
			delete(less.Measures, q)
			for _, name := range []string{"road owner", "hours"} {
				if f := rule(t, tables.Check(less, place, on("12:00")), name); f.Outcome != finding.Unknown {
					t.Errorf("%d cm, the %s not known, %s: %s", centimetres, q, name, f.Outcome)
				}
			}
		}
		for _, name := range []string{"road owner", "hours"} {
			if f := rule(t, found, name); f.Outcome != want {
				t.Errorf("%d cm, %s: %s (%s), want %s", centimetres, name, f.Outcome, says(f), want)
			}
		}
		if f := rule(t, found, "height"); f.Outcome != finding.Conditional {
			t.Errorf("%d cm: %s, which the entry does not settle", centimetres, f.Outcome)
		}
	}
}
