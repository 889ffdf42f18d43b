package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// A pair that only a row with a condition speaks of is not cleared because a
// second row speaks of nearer axles alone.
func TestPairOfAConditionalRowIsNotTooFar(t *testing.T) {
	near := axleRow(t, "near", limit.TandemMass, "18 t", "", ">= 1.2 m and < 1.8 m", "")
	wide := axleRow(t, "wide", limit.TandemMass, "19 t", "", ">= 1.8 m and <= 3 m", "")
	wide.Condition = "with single tires"
	v := loaded(axles(2, 2*measure.Metre, 18_500*measure.Kilogram, limit.AxleLoad{Tires: 4})...)
	if f := answer(t, of(near, wide), v, "CA-XX", limit.TandemMass, june); f.Outcome != finding.Unknown {
		t.Errorf("%s, %q; the row that speaks of the pair cannot clear", f.Outcome, says(f))
	}
	if f := answer(t, of(wide), v, "CA-XX", limit.TandemMass, june); f.Outcome != finding.Unknown {
		t.Errorf("by that row alone: %s", f.Outcome)
	}
}

// A tire of unknown width may be wide: a row of narrow ones does not clear it.
func TestRowOfNarrowTiresDoesNotClearUnknownWidth(t *testing.T) {
	row := axleRow(t, "narrow", limit.SingleAxleMass, "6000 kg", "", "", "not steering, 2 tires, < 445 mm wide")
	l := like(0, 5*measure.Tonne)
	l.Tires, l.Width = 2, 0
	if f := answer(t, of(row), loaded(l), "CA-XX", limit.SingleAxleMass, june); f.Outcome != finding.Unknown {
		t.Errorf("%s, %q", f.Outcome, says(f))
	}
}

// Every rig steers: where no axle is said to, a row of axles that do not steer
// clears none for certain.
func TestSteeringThatIsNotSaid(t *testing.T) {
	row := axleRow(t, "rear", limit.SingleAxleMass, "9100 kg", "", "", "not steering")
	if f := answer(t, of(row), loaded(like(0, 8*measure.Tonne), like(4*measure.Metre, 8*measure.Tonne)), "CA-XX", limit.SingleAxleMass, june); f.Outcome == finding.Clear {
		t.Errorf("%s, %q", f.Outcome, says(f))
	}
}

// An answer settles what it was asked of: the province's nothing of a town, the
// town's its own.
func TestContactsSettleTheirOwnJurisdiction(t *testing.T) {
	town := clean(at("town", 415), inside("CA-XX/Town"), status(finding.Memory))
	for name, tc := range map[string]struct {
		code string
		want finding.Outcome
	}{"the province": {"CA-XX", finding.Unknown}, "the town": {"CA-XX/Town", finding.Clear}, "another town": {"CA-XX/Village", finding.Unknown}} {
		k := contact(t, map[string]string{"jurisdiction": tc.code, "outcome": "clear", "settles": "height", "height": "5 m"})
		tables := NewTables("test", Rows{Limits: []*limit.Row{&town}, Contacts: []*permit.Contact{&k}}, nil)
		place := leg(on("13:00"), winnipeg)
		place.Towns = []string{"Town"}
		found := tables.Check(measured(410, 260), place, on("12:00"))
		i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Rule == "height" && f.Jurisdiction == "CA-XX/Town" })
		if found[i].Outcome != tc.want {
			t.Errorf("an answer of %s: the height in the town is %s (%s), want %s", name, found[i].Outcome, says(found[i]), tc.want)
		}
	}
}

// Of two answers the sentence is that of the graver, and whom to ask stays.
func TestSummaryOfTwoContactsIsTheGraver(t *testing.T) {
	for _, order := range [][2]string{{"clear", "forbidden"}, {"forbidden", "clear"}, {"clear", "review"}, {"review", "clear"}} {
		var log []permit.Contact
		for i, o := range order {
			log = append(log, contact(t, map[string]string{"id": fmt.Sprint(i), "outcome": o, "settles": "height", "height": "5 m", "answered_by": "Person " + o}))
		}
		f := settling(t, measured(410, 260), log...)
		if graver := strings.Trim(order[0]+order[1], " "); whom(f) == "" || !strings.Contains(says(f), "outcome: "+string(f.Outcome)) {
			t.Errorf("%s: %s, ask %q, %q", graver, f.Outcome, whom(f), says(f))
		}
	}
}

// An answer without an end grows stale like any other row: 365 days after it was
// given it clears nothing, and still refuses.
func TestAnswersGrowStale(t *testing.T) {
	for answered, want := range map[string]map[string]finding.Outcome{
		"2026-06-22": {"clear": finding.Clear, "forbidden": finding.Forbidden}, "2026-06-20": {"clear": finding.Unknown, "forbidden": finding.Forbidden},
	} {
		for outcome, want := range want {
			k := contact(t, map[string]string{"answered_on": answered, "asked_on": answered, "outcome": outcome, "settles": "height", "height": "5 m"})
			if f := settling(t, measured(410, 260), k); f.Outcome != want {
				t.Errorf("answered %s on %s: %s, want %s", outcome, answered, f.Outcome, want)
			}
		}
	}
}

// An answer of tomorrow settles nothing today, by the clock of the place.
func TestAnswerOfTomorrow(t *testing.T) {
	row := clean(status(finding.Memory))
	k := contact(t, map[string]string{"answered_on": "2027-06-22", "outcome": "clear", "settles": "height", "height": "5 m"})
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: []*permit.Contact{&k}}, nil)
	if f := rule(t, tables.Check(measured(410, 260), leg(on("23:00"), winnipeg), on("22:00")), "height"); f.Outcome != finding.Unknown {
		t.Errorf("on 21 June at 22:00: %s, %q", f.Outcome, says(f))
	}
}

// An answer about a height says nothing of a mass.
func TestAnswerNamesTheSizeThatItSettles(t *testing.T) {
	row := read(t, map[string]string{"quantity": "gross_mass", "threshold": "60 t", "status": "memory"})
	table := permit.Contacts()
	cells := map[string]string{
		"id": "k", "jurisdiction": "CA-XX", "asked": "x", "answered_by": "A person", "answered_on": "2027-05-01", "outcome": "clear", "settles": "gross_mass", "height": "4.1 m",
	}
	var record []string
	for _, column := range table.Columns {
		record = append(record, cells[column])
	}
	k, err := table.Row(1, record)
	if err != nil {
		return // refused, which is as well
	}
	v := high(400)
	v.Measures[limit.GrossMass] = measure.Exactly(limit.Amount(55 * measure.Tonne))
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: []*permit.Contact{&k}}, nil)
	if f := rule(t, tables.Check(v, leg(on("13:00"), winnipeg), on("12:00")), "gross_mass"); f.Outcome != finding.Unknown {
		t.Errorf("55 t by an answer about 4.1 m: %s, %q", f.Outcome, says(f))
	}
}

// Days of a rule of hours are those of the place, as those of a limit are.
func TestHoursInForceByTheDayOfThePlace(t *testing.T) {
	for _, tc := range []struct {
		cells map[string]string
		want  bool
	}{{map[string]string{"valid_to": "2027-06-21"}, true}, {map[string]string{"valid_from": "2027-06-22"}, false}} {
		_, ok := by(hoursOf(withHours(hoursRow(t, tc.cells)), Vehicle{}, leg(on("22:30"), winnipeg), on("22:00"), true), "hours")
		if ok != tc.want {
			t.Errorf("%v, on 21 June at 22:00: in force %v", tc.cells, ok)
		}
	}
}

// A holiday that begins on the way is named.
func TestHolidayAfterMidnightIsNamed(t *testing.T) {
	closed := hoursRow(t, map[string]string{"open": "24/7; PH off"})
	feast := holiday(t, map[string]string{"name": "Midsummer", "date": "Jun 22"})
	tables := NewTables("test", Rows{Hours: []*window.Hours{&closed}, Holidays: []*window.Holiday{&feast}}, nil)
	f, _ := by(hoursOf(tables, Vehicle{}, leg(on("23:00").Add(2*time.Hour), winnipeg), on("23:00"), true), "hours")
	if f.Outcome != finding.Forbidden || !strings.Contains(says(f), "holiday.kept(day: 2027-06-22, names: [holiday.name(name: Midsummer, ") {
		t.Errorf("%s, %q", f.Outcome, says(f))
	}
}

// At the next opening that is named the hours are kept, at both ends of the way.
func TestNextOpeningIsKept(t *testing.T) {
	tables := withHours(hoursRow(t, nil))
	for _, ends := range [][]orb.Point{{winnipeg}, {east}, {winnipeg, east}, {east, winnipeg}} {
		for _, from := range []string{"21:10", "23:00", "02:00"} {
			const stay = 40 * time.Minute
			f, _ := by(hoursOf(tables, Vehicle{}, leg(on(from).Add(stay), ends...), on(from), true), "hours")
			parts := f.Says[0].Get("says").([]say.Remark)
			next, ok := parts[1].Get("at").(time.Time)
			if f.Outcome != finding.Forbidden || !ok {
				t.Errorf("%s at %v: %s, %q", from, ends, f.Outcome, says(f))
				continue
			}
			if then, _ := by(hoursOf(tables, Vehicle{}, leg(next.Add(stay), ends...), next, true), "hours"); then.Outcome != finding.Conditional {
				t.Errorf("%s at %v: next open from %s, and then %s, %q", from, ends, next, then.Outcome, says(then))
			}
		}
	}
}

// What is closed by one sun is closed, whatever the sun does at the other end.
func TestClosedAtOneEndIsClosed(t *testing.T) {
	north := orb.Point{-97, 72}
	for _, ends := range [][]orb.Point{{winnipeg, north}, {north, winnipeg}} {
		f, _ := by(hoursOf(withHours(hoursRow(t, nil)), Vehicle{}, leg(on("23:30"), ends...), on("23:00"), true), "hours")
		if f.Outcome != finding.Forbidden {
			t.Errorf("%v: %s, %q", ends, f.Outcome, says(f))
		}
	}
}

// What is over the legal mass comes from rows that bind this rig now; of a mass
// known as a least value it is not known.
func TestFeeByMassRestsOnRowsThatBind(t *testing.T) {
	row := permitRow(t, map[string]string{"for": "mass", "fee_per_tonne_km": "1"})
	rig := with(limit.Subject{Kind: limit.RecreationalTrailer, Form: limit.Trailer, Axles: 4}, limit.GrossMass, limit.Amount(12*measure.Tonne))
	legal := map[string]string{"id": "mass", "quantity": "gross_mass", "threshold": "10 t", "permit": "yes"}
	fee := func(v Vehicle, limits ...limit.Row) (string, string) {
		tables := NewTables("test", Rows{Limits: pointers(limits), Permits: []*permit.Permit{&row}}, nil)
		o := tables.Permits(v, []Passage{passage("CA-XX", 10, on("08:00"), on("09:00"), asking("gross_mass"))})[0].Permits[0]
		return o.Fee, o.FeeUnknown.String()
	}
	if amount, unknown := fee(rig, read(t, legal)); amount != "20.00 CAD" || unknown != "" {
		t.Errorf("2 t over 10 km: %q, %q", amount, unknown)
	}
	for name, change := range map[string]map[string]string{
		"of another kind": {"kind": "manufactured_home"}, "of other axles": {"axles": "5"}, "no longer in force": {"valid_to": "2027-06-20"},
		"not yet in force": {"valid_from": "2027-06-22"}, "of the tow vehicle alone": {"combination": "single_vehicle"},
	} {
		cells := map[string]string{"id": "other", "quantity": "gross_mass", "threshold": "5 t"}
		for column, text := range change {
			cells[column] = text
		}
		if amount, unknown := fee(rig, read(t, legal), read(t, cells)); amount != "20.00 CAD" || unknown != "" {
			t.Errorf("beside a row %s: %q, %q", name, amount, unknown)
		}
	}
	least := rig
	least.Measures = map[limit.Quantity]Measure{limit.GrossMass: measure.AtLeast(limit.Amount(12 * measure.Tonne))}
	if amount, unknown := fee(least, read(t, legal)); amount != "" || unknown == "" {
		t.Errorf("at least 12 t: %q, %q", amount, unknown)
	}
}

// A permit that has ended before the trip begins is no use, however long the
// trip takes.
func TestPermitThatHasEndedBeforeTheTrip(t *testing.T) {
	k := contact(t, map[string]string{"permit_number": "123", "expires_on": "2027-06-02"})
	tables := NewTables("test", Rows{Contacts: []*permit.Contact{&k}}, nil)
	needs := tables.Permits(Vehicle{}, []Passage{passage("CA-XX", 1, on("08:00"), time.Time{}, asking("width"))})
	if found := tables.PermitFindings(needs); len(found) != 1 || found[0].Outcome != finding.Review {
		t.Errorf("expired on 2 June, trip from 21 June: %+v", found)
	}
}

// A law that turns at midnight turns on the way: what ends there clears nothing
// beyond it, what begins there binds.
func TestLawsTurnOnTheWay(t *testing.T) {
	from, until := on("23:00"), on("23:00").Add(2*time.Hour)
	ends := read(t, map[string]string{"id": "ends", "valid_to": "2027-06-21"})
	begins := read(t, map[string]string{"id": "begins", "valid_from": "2027-06-22", "threshold": "4 m"})
	if f := rule(t, of(ends).Check(high(410), leg(until, winnipeg), from), "height"); f.Outcome != finding.Unknown {
		t.Errorf("past the end of the only row: %s, %q", f.Outcome, says(f))
	}
	if f := rule(t, of(ends, begins).Check(high(410), leg(until, winnipeg), from), "height"); f.Outcome != finding.Conditional {
		t.Errorf("into a stricter row: %s, %q", f.Outcome, says(f))
	}
}

// Whether a town asks for a permit of its own where it has no rows of limits is
// not known, and its hours show.
func TestHoursOfATownWithoutLimits(t *testing.T) {
	tables := whole(t)
	place := Stay{Jurisdictions: []string{"CA-AB"}, OwnerKnown: true, Towns: []string{"Airdrie"}, Until: on("13:00"), Ends: []orb.Point{winnipeg}}
	found := tables.Check(high(420), place, on("12:00"))
	if f := rule(t, found, "height"); len(f.Demands.Permits) == 0 {
		t.Fatalf("the province asks for no permit: %+v", f)
	}
	if _, ok := by(found, "ca-ab-airdrie-hours-01"); !ok {
		t.Error("nothing of Airdrie shows")
	}
}

// Notices of a town bind in it.
func TestNoticesOfTowns(t *testing.T) {
	n := notice(t, map[string]string{"jurisdiction": "CA-XX/Town"})
	place := leg(on("13:00"), winnipeg)
	place.Towns = []string{"Town"}
	if _, ok := by(NewTables("test", Rows{Notices: []*clearance.Notice{&n}}, nil).Check(high(400), place, on("12:00")), "notice"); !ok {
		t.Error("a notice of the town does not show in it")
	}
}

// What is beyond a step above the legal limit travels under a permit: 11 ft of
// width on an Interstate of Idaho, where the rows are of hours by permit (IDAPA
// 39.03.04.200, 2023; SEEN).
func TestBeyondALegalLimitIsUnderAPermit(t *testing.T) {
	place := Stay{Jurisdictions: []string{"US-ID"}, OwnerKnown: true, Roads: []roads.Road{{Refs: []string{"I 84"}}}, Until: on("23:30"), Ends: []orb.Point{near["US-ID"]}}
	found := whole(t).Check(with(limit.Subject{}, limit.Width, parse(t, limit.Width, "11 ft")), place, on("23:00"))
	if f := rule(t, found, "width"); len(f.Demands.Permits) == 0 {
		t.Errorf("width of 11 ft asks for no permit: %+v", f.Demands)
	}
	if f, ok := by(found, "us-id-hours-02"); !ok || f.Outcome != finding.Forbidden {
		t.Errorf("hours at night: %v, %s", ok, f.Outcome)
	}
}

// A holiday on every day of the week would leave an office no day to ask on.
func TestHolidaysOfEveryDayAreRefused(t *testing.T) {
	table := window.Holidays()
	for _, date := range []string{"Mo-Su", "Jan-Dec", "Jan 01-Dec 31", "week 1-53"} {
		cells := map[string]string{"id": "h", "calendar": "CA-XX", "name": "A day", "date": date, "status": "published", "source": "a law"}
		var record []string
		for _, column := range table.Columns {
			record = append(record, cells[column])
		}
		if _, err := table.Row(1, record); err == nil {
			t.Errorf("%q is read as a holiday", date)
		}
	}
}
