package regs

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/window"
)

// readShipped reads a table that ships.
func readShipped[T any](t fataler, table rows.Table[T]) []*T {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/" + table.Name + ".csv")
	if err != nil {
		t.Fatalf("%v", err)
	}
	read, _, err := table.ReadCSV(raw)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return pointers(read)
}

// whole are all tables that ship.
func whole(t fataler) *Tables {
	t.Helper()
	return NewTables("shipped", Rows{
		Limits: readShipped(t, limit.Table()), Hours: readShipped(t, window.HoursTable()), Holidays: readShipped(t, window.Holidays()),
		Permits: readShipped(t, permit.Permits()), Offices: readShipped(t, permit.Offices()),
	}, nil)
}

// Places near which the sun of a check is taken: in June it is up at noon and
// down from 23:00 to 3:00 in all of them.
var near = map[string]orb.Point{"CA-QC": {-73.57, 45.50}, "CA-MB": winnipeg, "US-ID": {-116.2, 43.6}}

// A check is a rig of one size in one jurisdiction, and what a rule answers by
// day and by night. Escorts are those in front, behind
// and wherever.
type check struct {
	row         string // of the research table of check values
	code        string
	s           limit.Subject
	q           limit.Quantity
	text        string
	roads       []roads.Road
	day, night  finding.Outcome
	escortDay   [3]int
	escortNight [3]int
}

// At noon and at 23:00 on Tuesday 22 June 2027.
func (c check) ask(t *testing.T, tables *Tables, hour int) finding.Finding {
	t.Helper()
	at := time.Date(2027, 6, 22, hour, 0, 0, 0, cdt)
	place := Stay{Jurisdictions: []string{c.code}, OwnerKnown: true, Roads: c.roads, Until: at.Add(30 * time.Minute), Ends: []orb.Point{near[c.code]}}
	return rule(t, tables.Check(with(c.s, c.q, parse(t, c.q, c.text)), place, at), string(c.q))
}

// Check values 19 and 20: a special permit of Quebec allows no travel at night
// beyond 3.75 m of width and 27.50 m of two vehicles (C-24.2, r. 35, s.
// 11(1)(a) and (c), version of 2019-05-21; SEEN). Check values 25 to 27:
// Manitoba asks an escort by day over 4.60 m, two at night over 3.7 m, and lets
// none over 4.45 m or over 30.0 m travel at night; over 30.0 m one escort
// follows (Escort Vehicle Policy; Overlength Permits, before 2019; SEEN). At the
// figure itself the rule does not bind.
func TestNightOfQuebecAndManitoba(t *testing.T) {
	tables := whole(t)
	home := limit.Subject{Kind: limit.ManufacturedHome, Form: limit.Trailer}
	house := limit.Subject{Kind: limit.HouseTrailer, Form: limit.Trailer}
	load := limit.Subject{Kind: limit.LoadOnTrailer, Form: limit.Trailer}
	none := [3]int{}
	conditional, forbidden := finding.Conditional, finding.Forbidden
	divided, narrow := []roads.Road{{Lanes: 2, Divided: "yes"}}, []roads.Road{{Lanes: 1, Divided: "no"}}
	for _, c := range []check{
		{"19", "CA-QC", home, limit.Width, "3.76 m", nil, conditional, finding.Review, none, none}, // divided autoroutes are excepted, and the roads are not known
		{"19", "CA-QC", home, limit.Width, "3.75 m", nil, conditional, conditional, none, none},
		{"20", "CA-QC", home, limit.CombinationLength, "27.6 m", nil, conditional, forbidden, none, none},
		{"20", "CA-QC", home, limit.CombinationLength, "27.50 m", nil, conditional, conditional, none, none},
		{"25", "CA-MB", load, limit.Width, "4.61 m", narrow, conditional, forbidden, [3]int{0, 0, 1}, [3]int{1, 1, 0}},
		{"25", "CA-MB", load, limit.Width, "4.60 m", narrow, conditional, forbidden, none, [3]int{1, 1, 0}},
		{"25", "CA-MB", load, limit.Width, "4.45 m", narrow, conditional, conditional, none, [3]int{1, 1, 0}},
		{"26", "CA-MB", load, limit.Width, "3.71 m", narrow, conditional, conditional, none, [3]int{1, 1, 0}},
		{"26", "CA-MB", load, limit.Width, "3.7 m", narrow, conditional, conditional, none, none},
		{"27", "CA-MB", load, limit.CombinationLength, "30.1 m", narrow, conditional, forbidden, [3]int{0, 1, 0}, [3]int{0, 1, 0}},
		{"27", "CA-MB", load, limit.CombinationLength, "30.0 m", narrow, conditional, conditional, none, none},
		{"house trailers", "CA-MB", house, limit.Width, "5.01 m", divided, conditional, forbidden, [3]int{0, 0, 1}, [3]int{1, 1, 0}},
	} {
		for hour, want := range map[int]finding.Outcome{12: c.day, 23: c.night} {
			escorts := map[int][3]int{12: c.escortDay, 23: c.escortNight}[hour]
			f := c.ask(t, tables, hour)
			if got := [3]int{f.Demands.EscortsFront, f.Demands.EscortsRear, f.Demands.EscortsAny}; f.Outcome != want || got != escorts {
				t.Errorf("%s: %s %s of %s at %d:00: %s, escorts %v (%s); want %s, %v", c.row, c.code, c.q, c.text, hour, f.Outcome, got, says(f), want, escorts)
			}
		}
	}
}

// Check value 21: no special permit of Quebec on Sundays (r. 35, s. 11(2),
// 2019-05-21; SEEN), nor on holidays. A weekday is open only where it is known
// to be no holiday, and the list that ships is recalled.
func TestSundayOfQuebec(t *testing.T) {
	tables := whole(t)
	home := limit.Subject{Kind: limit.ManufacturedHome, Form: limit.Trailer}
	for day, want := range map[int]finding.Outcome{
		20: finding.Forbidden, // Sunday
		21: finding.Unknown, 22: finding.Unknown, 26: finding.Unknown,
		24: finding.Forbidden, // the National Holiday (National Holiday Act, CQLR c. F-1.1, s. 1; from memory)
		27: finding.Forbidden, // Sunday
	} {
		at := time.Date(2027, 6, day, 12, 0, 0, 0, cdt)
		place := Stay{Jurisdictions: []string{"CA-QC"}, OwnerKnown: true, Until: at.Add(time.Hour), Ends: []orb.Point{near["CA-QC"]}}
		for text, asked := range map[string]bool{"12.5 m": false, "12.6 m": true} {
			f, ok := by(tables.Check(with(home, limit.TrailerLength, parse(t, limit.TrailerLength, text)), place, at), "ca-qc-hours-01")
			if ok != asked || asked && f.Outcome != want {
				t.Errorf("%s, trailer of %s: %v, %s (%s); want %s", at.Format("Mon 2 Jan"), text, ok, f.Outcome, says(f), want)
			}
			if asked && day == 24 && !strings.Contains(says(f), "name: National Holiday, moved: false, status: memory, doubt: recalled") {
				t.Errorf("%s: %q does not name the holiday", at.Format("Mon 2 Jan"), says(f))
			}
			if asked && !slices.ContainsFunc(say.Strings(f.Demands.Conditions), func(s string) bool { return strings.Contains(s, "visibility is under 1 km") }) {
				t.Errorf("%s: conditions %q", at.Format("Mon 2 Jan"), f.Demands.Conditions)
			}
		}
	}
}

// Check value 42: 10 ft wide, 15 ft high and 100 ft long on a black route may
// travel at night (IDAPA 39.03.04.200.02, 2023; SEEN); beyond one of them, or
// beyond 120 ft on an Interstate, not. Which highways are black only a map
// says, so of those a closed hour is for a person to decide.
func TestNightOfIdaho(t *testing.T) {
	tables := whole(t)
	at := time.Date(2027, 6, 22, 23, 0, 0, 0, time.FixedZone("MDT", -6*3600))
	within := map[limit.Quantity]string{limit.Width: "10 ft", limit.Height: "15 ft", limit.CombinationLength: "100 ft"}
	interstate, other := roads.Road{Refs: []string{"I 84"}}, roads.Road{Refs: []string{"US 95"}}
	for _, tc := range []struct {
		road         roads.Road
		q            limit.Quantity
		text         string
		black, inter finding.Outcome // of the rows of black highways and of Interstates; "" where they do not bind
	}{
		{other, "", "", "", ""},
		{other, limit.Width, "10 ft 1/16 in", finding.Review, ""},
		{other, limit.Height, "15 ft 1/16 in", finding.Review, ""},
		{other, limit.CombinationLength, "100 ft 1/16 in", finding.Review, ""},
		{interstate, "", "", "", ""},
		{interstate, limit.Width, "10 ft 1/16 in", finding.Review, finding.Forbidden},
		{interstate, limit.Height, "15 ft 1/16 in", finding.Review, finding.Forbidden},
		{interstate, limit.CombinationLength, "120 ft", finding.Review, ""},
		{interstate, limit.CombinationLength, "120 ft 1/16 in", finding.Review, finding.Forbidden},
	} {
		v := Vehicle{Measures: map[limit.Quantity]Measure{limit.GrossMass: measure.Exactly(parse(t, limit.GrossMass, "10 t"))}}
		for q, text := range within {
			v.Measures[q] = measure.Exactly(parse(t, q, text))
		}
		if tc.q != "" {
			v.Measures[tc.q] = measure.Exactly(parse(t, tc.q, tc.text))
		}
		c := &checking{t: tables, v: v, p: Stay{Until: at.Add(time.Hour), Ends: []orb.Point{near["US-ID"]}, Roads: []roads.Road{tc.road}}, at: at}
		found := c.hours("US-ID", true)
		black, _ := by(found, "us-id-hours-01")
		inter, _ := by(found, "us-id-hours-02")
		if black.Outcome != tc.black || inter.Outcome != tc.inter {
			t.Errorf("%s %s on %v: black %s, Interstate %s; want %s and %s", tc.q, tc.text, tc.road.Refs, black.Outcome, inter.Outcome, tc.black, tc.inter)
		}
		if tc.inter == "" && slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Outcome == finding.Forbidden }) {
			t.Errorf("%s %s on %v: forbidden at night: %+v", tc.q, tc.text, tc.road.Refs, found)
		}
	}
}

// Vermont's rule for weekdays keeps the holidays of the country, of which alone a
// list was read.
func TestHolidaysOfVermontHours(t *testing.T) {
	i := slices.IndexFunc(whole(t).hours["US-VT"], func(r *window.Hours) bool { return r.ID == "us-vt-hours-02" })
	if i < 0 {
		t.Fatal("no such row")
	}
	if r := whole(t).hours["US-VT"][i]; r.Text != "Mo-Fr; PH off" || r.Calendar != "US" {
		t.Errorf("%q by the holidays of %q", r.Text, r.Calendar)
	}
}

// The check values of sizes and masses that were SEEN in their sources and that
// no test above holds, at the figure and just beyond it. Those of height and
// length in Ontario, Quebec, Vermont and New York are among the headline
// figures.
func TestCheckValuesOfSizes(t *testing.T) {
	tables := shipped(t)
	any := limit.Subject{Form: limit.Trailer}
	home := limit.Subject{Kind: limit.ManufacturedHome, Form: limit.Trailer}
	tiny := limit.Subject{Kind: limit.TinyHome, Form: limit.Trailer}
	business := limit.Subject{Kind: limit.LoadOnTrailer, Use: limit.Commercial, Form: limit.Trailer}
	semi := limit.Subject{Kind: limit.LoadOnTrailer, Form: limit.Semitrailer, Tow: limit.TruckTractor}
	clear, conditional, review, forbidden, unknown := finding.Clear, finding.Conditional, finding.Review, finding.Forbidden, finding.Unknown
	for _, tc := range []struct {
		row, code string
		s         limit.Subject
		q         limit.Quantity
		at        string
		atIs      finding.Outcome
		beyond    string
		beyondIs  finding.Outcome
		by        string // decides beyond
		escorts   int    // wherever they drive, beyond; none at the figure
	}{
		// 23 CFR 658.15(a), to 2007-02-20. A row of the country never clears.
		{"1", "US", business, limit.Width, "102 in", unknown, "102 1/16 in", conditional, "us-width-01", 0},
		{"1", "US", business, limit.Width, "2.5908 m", unknown, "2.59080001 m", conditional, "us-width-01", 0},
		// 23 CFR 658.15(c): a State may permit manufactured housing over it.
		{"2", "US", home, limit.Width, "102 in", unknown, "103 in", conditional, "us-width-02", 0},
		// FHWA questions and answers on 658.17.
		{"4", "US", business, limit.GrossMass, "80000 lb", unknown, "80001 lb", conditional, "us-gross-mass-01", 0},
		// gnb.ca, special permits page: what a trip permit covers, eaves included.
		{"28", "CA-NB", home, limit.Width, "5.50 m", conditional, "5.51 m", review, "ca-nb-width-04", 0},
		{"29", "CA-NB", home, limit.Height, "4.88 m", conditional, "4.89 m", review, "ca-nb-height-03", 0},
		{"29", "CA-NB", home, limit.CombinationLength, "32.0 m", conditional, "32.01 m", review, "ca-nb-combination-length-01", 0},
		// Service NS directory.
		{"30", "CA-NS", any, limit.Height, "4.15 m", clear, "4.16 m", conditional, "ca-ns-height-01", 0},
		{"30", "CA-NS", any, limit.Width, "2.6 m", clear, "2.61 m", conditional, "ca-ns-width-01", 0},
		{"30", "CA-NS", any, limit.CombinationLength, "23 m", clear, "23.01 m", conditional, "ca-ns-combination-length-01", 0},
		{"30", "CA-NS", any, limit.FrontOverhang, "1 m", clear, "1.01 m", conditional, "ca-ns-front-overhang-01", 0},
		{"30", "CA-NS", any, limit.RearOverhang, "2 m", unknown, "2.01 m", conditional, "ca-ns-rear-overhang-01", 0},
		// SGI handbook, 2017; the single vehicle on provincial highways.
		{"31", "CA-SK", any, limit.CombinationLength, "23 m", clear, "23.01 m", conditional, "ca-sk-combination-length-02", 0},
		{"31", "CA-SK", any, limit.SingleVehicleLength, "12.5 m", unknown, "12.51 m", conditional, "ca-sk-single-vehicle-length-01", 0},
		// 29-A M.R.S. 2390(1): truck and tiny home.
		{"33", "US-ME", tiny, limit.CombinationLength, "65 ft", clear, "65 ft 1/16 in", conditional, "us-me-combination-length-04", 0},
		{"33", "US-ME", tiny, limit.CombinationLength, "19.812 m", clear, "19.8121 m", conditional, "us-me-combination-length-04", 0},
		{"33", "US-ME", tiny, limit.TrailerLength, "13.716 m", clear, "13.7161 m", conditional, "us-me-trailer-length-03", 0},
		// 29-A M.R.S. 2380(2).
		{"34", "US-ME", any, limit.Height, "13 ft 6 in", clear, "13 ft 6 1/16 in", conditional, "us-me-height-01", 0},
		{"34", "US-ME", any, limit.Height, "14 ft", conditional, "14 ft 1/16 in", conditional, "us-me-height-02", 0},
		// RSA 266:11 IV.
		{"36", "US-NH", home, limit.CombinationLength, "110 ft", unknown, "110 ft 1/16 in", forbidden, "us-nh-combination-length-02", 0},
		// 17 NYCRR 154-1.12, 2024-11: a certified escort.
		{"37", "US-NY", any, limit.Width, "12 ft", conditional, "12 ft 1/16 in", conditional, "us-ny-width-03", 1},
		{"37", "US-NY", any, limit.CombinationLength, "79 ft 11 15/16 in", conditional, "80 ft", conditional, "us-ny-combination-length-01", 1},
		{"37", "US-NY", any, limit.RearOverhang, "9 ft 11 15/16 in", unknown, "10 ft", conditional, "us-ny-rear-overhang-01", 1},
		// 17 NYCRR 154-1.11: over 14 ft on the corridor routes only.
		{"38", "US-NY", home, limit.Width, "12 ft", conditional, "15 ft", review, "us-ny-width-04", 1},
		// MnDOT page.
		{"39", "US-MN", any, limit.Width, "8 ft 6 in", clear, "8 ft 6 1/16 in", conditional, "us-mn-width-01", 0},
		{"39", "US-MN", any, limit.Height, "13 ft 6 in", clear, "13 ft 6 1/16 in", conditional, "us-mn-height-01", 0},
		{"39", "US-MN", any, limit.SingleVehicleLength, "45 ft", clear, "45 ft 1/16 in", conditional, "us-mn-single-vehicle-length-01", 0},
		{"39", "US-MN", any, limit.CombinationLength, "75 ft", clear, "75 ft 1/16 in", conditional, "us-mn-combination-length-03", 0},
		// axle limits may allow less, so the gross mass alone is not clear
		{"39", "US-MN", any, limit.GrossMass, "80000 lb", unknown, "80001 lb", conditional, "us-mn-gross-mass-01", 0},
		// Trans 260.15(3)(am).
		{"40", "US-WI", home, limit.Width, "15 ft", conditional, "15 ft 1 in", conditional, "us-wi-width-03", 1},
		// Wis. Stat. 348.07(2)(g), (fs).
		{"41", "US-WI", any, limit.TrailerLength, "48 ft", clear, "48 ft 1/16 in", conditional, "us-wi-trailer-length-03", 0},
		{"41", "US-WI", semi, limit.CombinationLength, "75 ft", clear, "75 ft 1/16 in", conditional, "us-wi-combination-length-02", 0},
		// ARM 18.8.512, 2024: single-trip permits only.
		{"43", "US-MT", any, limit.Height, "15 ft 6 in", unknown, "15 ft 7 in", conditional, "us-mt-height-01", 0},
	} {
		for text, want := range map[string]finding.Outcome{tc.at: tc.atIs, tc.beyond: tc.beyondIs} {
			f := answer(t, tables, with(tc.s, tc.q, parse(t, tc.q, text)), tc.code, tc.q, june)
			shown, ok := shows(f, tc.by)
			escorts := 0
			if text == tc.beyond {
				escorts = tc.escorts
			}
			if f.Outcome != want || !ok || exceeded(shown) != (text == tc.beyond) || f.Demands.EscortsAny != escorts {
				t.Errorf("%s: %s %s %s: %s by %s, %d escorts (%s); want %s by %s, %d", tc.row, tc.code, tc.q, text, f.Outcome, ids(f), f.Demands.EscortsAny, says(f), want, tc.by, escorts)
			}
		}
	}
	// Check value 3: the federal width is no rule for a private recreational
	// vehicle (FHWA questions and answers on 658.15).
	rv := limit.Subject{Kind: limit.RecreationalTrailer, Use: limit.Private, Form: limit.Trailer}
	if f := answer(t, tables, with(rv, limit.Width, parse(t, limit.Width, "110 in")), "US", limit.Width, june); f.Outcome != unknown || len(f.Citations) != 0 {
		t.Errorf("3: a private recreational trailer of 110 in: %s by %s", f.Outcome, ids(f))
	}
	// Check value 2: the permit is that of the State.
	if f := answer(t, tables, with(home, limit.Width, parse(t, limit.Width, "103 in")), "US-XX", limit.Width, june); !slices.Equal(say.Strings(f.Demands.Permits), []string{limit.Permit("US-XX").String()}) {
		t.Errorf("2: permits %q", f.Demands.Permits)
	}
}

// Check values 4 to 6 on the rows that ship: at most 20 000 lb on a single axle
// and on axles up to 40 in apart, 34 000 lb on a tandem over that and up to 96 in
// (FHWA questions and answers on 658.17). They are rows of the country, so what
// is within them is unknown.
func TestCheckValuesOfAxles(t *testing.T) {
	tables := shipped(t)
	for _, tc := range []struct {
		n     int
		apart measure.Length
		q     limit.Quantity
		most  measure.Mass // lb
	}{
		{1, 0, limit.SingleAxleMass, 20_000}, {2, 40 * measure.Inch, limit.SingleAxleMass, 20_000},
		{2, 41 * measure.Inch, limit.TandemMass, 34_000}, {2, 96 * measure.Inch, limit.TandemMass, 34_000},
	} {
		for by, want := range map[measure.Mass]finding.Outcome{0: finding.Unknown, 1: finding.Conditional} {
			v := loaded(axles(tc.n, tc.apart, tc.most*measure.Pound+by, limit.AxleLoad{Tires: 4, Width: 235 * measure.Millimetre})...)
			for _, code := range []string{"US", "US-XX"} {
				if f := answer(t, tables, v, code, tc.q, june); f.Outcome != want || len(f.Citations) == 0 {
					t.Errorf("%d axles on %s, %d lb and %d, in %s: %s (%s), want %s", tc.n, tc.apart, tc.most, by, code, f.Outcome, says(f), want)
				}
			}
		}
	}
	// Check value 13: two tandems of 34 000 lb on 35 ft, and 12 on 36 ft.
	for feet, want := range map[measure.Length]finding.Outcome{35: finding.Conditional, 36: finding.Unknown} {
		var loads []limit.AxleLoad
		for _, at := range []measure.Length{0, 4, feet - 4, feet} {
			loads = append(loads, like(at*measure.Foot, 17_000*measure.Pound))
		}
		if f := answer(t, tables, loaded(loads...), "US-XX", limit.BridgeFormula, june); f.Outcome != want {
			t.Errorf("two tandems on %d ft: %s (%s), want %s", feet, f.Outcome, says(f), want)
		}
	}
}
