package regs

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

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

// june lies within a year of the reading of every shipped row.
var june = time.Date(2027, 6, 1, 12, 0, 0, 0, time.UTC)

const metre, centi = limit.Amount(measure.Metre), limit.Amount(measure.Centimetre)

// fataler is what a test and a property have in common.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

func shippedRows(t fataler) []limit.Row {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/limits.csv")
	if err != nil {
		t.Fatalf("%v", err)
	}
	rows, _, err := limit.Table().ReadCSV(raw)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return rows
}

func shipped(t fataler) *Tables {
	t.Helper()
	raw, err := data.Files.ReadFile("tables/offices.csv")
	if err != nil {
		t.Fatalf("%v", err)
	}
	offices, _, err := permit.Offices().ReadCSV(raw)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return NewTables("shipped", Rows{Limits: pointers(shippedRows(t)), Offices: pointers(offices)}, nil)
}

func of(rows ...limit.Row) *Tables { return NewTables("test", Rows{Limits: pointers(rows)}, nil) }

// pointers are the rows as tables hold them.
func pointers[T any](rows []T) []*T {
	var out []*T
	for i := range rows {
		out = append(out, &rows[i])
	}
	return out
}

// clean returns a row that can clear a height up to 4.15 m in CA-XX, changed
// by each of changes.
func clean(changes ...func(*limit.Row)) limit.Row {
	r := limit.Row{
		ID: "clean", Jurisdiction: "CA-XX", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Height, Published: "4.15 m", Text: "4.15 m",
		Threshold: 4*metre + 15*centi, Outcome: finding.Conditional, Tier: limit.Legal, Status: finding.Published, Source: "a law", ReadOn: june.AddDate(0, -1, 0),
	}
	for _, change := range changes {
		change(&r)
	}
	return r
}

// at names a row and sets its threshold in centimetres.
func at(id string, centimetres limit.Amount) func(*limit.Row) {
	return func(r *limit.Row) {
		r.ID, r.Threshold, r.Published = id, centimetres*centi, fmt.Sprintf("%d cm", centimetres)
	}
}

func inside(code string) func(*limit.Row)      { return func(r *limit.Row) { r.Jurisdiction = code } }
func status(s finding.Status) func(*limit.Row) { return func(r *limit.Row) { r.Status = s } }
func kind(k limit.Kind) func(*limit.Row)       { return func(r *limit.Row) { r.Kind = k } }
func asks(o finding.Outcome) func(*limit.Row)  { return func(r *limit.Row) { r.Outcome = o } }

func supersedes(ids ...string) func(*limit.Row) {
	return func(r *limit.Row) { r.Supersedes = ids }
}

func with(s limit.Subject, q limit.Quantity, a limit.Amount) Vehicle {
	return Vehicle{Subject: s, Measures: map[limit.Quantity]Measure{q: measure.Exactly(a)}}
}

// high is a vehicle of which only the height is known.
func high(centimetres limit.Amount) Vehicle {
	return with(limit.Subject{}, limit.Height, centimetres*centi)
}

func parse(t fataler, q limit.Quantity, text string) limit.Amount {
	t.Helper()
	a, err := q.Parse(text)
	if err != nil {
		t.Fatalf("%s: %v", q, err)
	}
	return a
}

// answer returns the finding on one quantity.
func answer(t fataler, tables *Tables, v Vehicle, code string, q limit.Quantity, when time.Time) finding.Finding {
	t.Helper()
	found := tables.Check(v, Stay{Jurisdictions: []string{code}, OwnerKnown: true, Until: when}, when)
	return rule(t, found, string(q))
}

// answerAshore asks on a road that is surely no ferry.
func answerAshore(t fataler, tables *Tables, v Vehicle, code string, q limit.Quantity, when time.Time) finding.Finding {
	t.Helper()
	roads := []roads.Road{{Class: "primary", Refs: []string{"112"}, Name: "Route 112"}}
	return rule(t, tables.Check(v, Stay{Jurisdictions: []string{code}, OwnerKnown: true, Roads: roads}, when), string(q))
}

// answerHeight asks of a height in CA-XX.
func answerHeight(t fataler, v Vehicle, when time.Time, rows ...limit.Row) finding.Finding {
	t.Helper()
	return answer(t, of(rows...), v, "CA-XX", limit.Height, when)
}

func rule(t fataler, found []finding.Finding, name string) finding.Finding {
	t.Helper()
	i := slices.IndexFunc(found, func(f finding.Finding) bool { return string(f.Rule) == name })
	if i < 0 {
		t.Fatalf("no finding on %s", name)
	}
	return found[i]
}

func ids(f finding.Finding) string {
	var out []string
	for _, r := range f.Citations {
		id := r.ID
		if r.Decides {
			id += "!"
		}
		out = append(out, id)
	}
	return strings.Join(out, " ")
}

// shows returns how a row appears in a finding.
func shows(f finding.Finding, id string) (finding.Citation, bool) {
	i := slices.IndexFunc(f.Citations, func(r finding.Citation) bool { return r.ID == id })
	if i < 0 {
		return finding.Citation{}, false
	}
	return f.Citations[i], true
}

func exceeded(r finding.Citation) bool { return len(r.Says) > 0 && r.Says[0].Code == "row.exceeded" }

// gravity orders outcomes: unknown is no graver than clear.
func gravity(o finding.Outcome) int {
	return slices.Index([]finding.Outcome{finding.Conditional, finding.Review, finding.Forbidden}, o) + 1
}

func cite(r limit.Row) string {
	return fmt.Sprintf("%s (%s; %s, %s, %s)", r.ID, r.Published, r.Source, r.Section, r.Year)
}

// A try is a value as a user writes it, and whether it is beyond a row.
type try struct {
	text string
	over bool
}

var (
	oneUnit = regexp.MustCompile(`^(\d+)(?:\.(\d+))? (m|kg|lb|ft|in)$`)
	twoUnit = regexp.MustCompile(`^(\d+) ft (\d+) in$`)
)

// tries returns a value one unit of the last digit below, at and above a row's
// threshold, in its own unit; the nearest ones below and above it in 1/16 in or
// lb; and the nearest that can be told apart at all, a nanometre or 10
// micrograms away.
func tries(t fataler, r limit.Row) []try {
	t.Helper()
	if r.Quantity == limit.TireLoadPerWidth {
		return ratios(t, r)
	}
	if r.Quantity == limit.BridgeFormula {
		r.Text, r.Threshold = "34000 lb", limit.Amount(34_000*measure.Pound) // two axles on 1.3 m are a tandem: 23 CFR 658.17(d)
	}
	unit, finest, name := limit.Amount(measure.Kilogram), 8, " kg"
	if !r.Quantity.OfAxles() && r.Quantity != limit.GrossMass {
		unit, finest, name = metre, 9, " m"
	}
	metric := func(a limit.Amount) string { return fmt.Sprintf("%d.%0*d%s", a/unit, finest, a%unit, name) }
	below, above := customary(name == " m", r.Threshold)
	own := ownUnit(t, r)
	return []try{
		{own(-1), false}, {own(0), r.Inclusive}, {own(1), true}, {below, false}, {above, true}, {metric(r.Threshold - 1), false}, {metric(r.Threshold + 1), true},
	}
}

// scan reads figures that a pattern has found.
func scan(t fataler, text string, into ...any) {
	t.Helper()
	if _, err := fmt.Sscan(text, into...); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
}

// ownUnit returns texts of a row's threshold and so many of its last digit
// more.
func ownUnit(t fataler, r limit.Row) func(more int) string {
	t.Helper()
	if m := twoUnit.FindStringSubmatch(r.Text); m != nil {
		var ft, in int
		scan(t, m[1]+" "+m[2], &ft, &in)
		return func(more int) string { return fmt.Sprintf("%d in", 12*ft+in+more) }
	}
	m := oneUnit.FindStringSubmatch(r.Text)
	if m == nil {
		t.Fatalf("%s: %q is in no unit", cite(r), r.Text)
	}
	decimals, digits := len(m[2]), 0
	scan(t, m[1]+m[2], &digits)
	return func(more int) string {
		text := fmt.Sprintf("%0*d", decimals+1, digits+more)
		if decimals > 0 {
			text = text[:len(text)-decimals] + "." + text[len(text)-decimals:]
		}
		return text + " " + m[3]
	}
}

// customary returns the nearest texts in feet and inches, or pounds, that are
// just below and just above an amount.
func customary(length bool, a limit.Amount) (below, above string) {
	if !length {
		pound := limit.Amount(measure.Pound)
		return fmt.Sprintf("%d lb", (a-1)/pound), fmt.Sprintf("%d lb", a/pound+1)
	}
	sixteenth := limit.Amount(measure.Inch) / 16
	text := func(n limit.Amount) string { return fmt.Sprintf("%d ft %d %d/16 in", n/192, n%192/16, n%16) }
	return text((a - 1) / sixteenth), text(a/sixteenth + 1)
}

// named returns a subject that a row is surely about.
func named(r limit.Row) limit.Subject {
	s := limit.Subject{Kind: limit.LoadOnTrailer, Use: limit.Private, Form: limit.Trailer, Axles: 4}
	if slices.Contains(limit.UnitKinds(), r.Kind) {
		s.Kind = r.Kind
	}
	if r.Kind == limit.CommercialUse {
		s.Use = limit.Commercial
	}
	s.Tow = limit.Pickup
	if r.Form == limit.Semitrailer {
		s.Form, s.Tow = limit.Semitrailer, limit.TruckTractor
	}
	if len(r.Tows) > 0 && r.Tows[0] != limit.AnyTow {
		s.Tow = r.Tows[0]
	}
	if r.Axles != 0 {
		s.Axles = r.Axles
	}
	return s
}

// unnamed returns subjects that a row is not about, each in one respect.
func unnamed(r limit.Row) []limit.Subject {
	var out []limit.Subject
	but := func(change func(*limit.Subject)) {
		s := named(r)
		change(&s)
		out = append(out, s)
	}
	switch {
	case r.Kind == limit.ManufacturedHome:
		but(func(s *limit.Subject) { s.Kind = limit.RecreationalTrailer })
	case r.Kind == limit.CommercialUse:
		but(func(s *limit.Subject) { s.Use = limit.Private })
	case r.Kind != limit.All:
		but(func(s *limit.Subject) { s.Kind = limit.ManufacturedHome })
	}
	switch r.Form {
	case limit.Semitrailer:
		but(func(s *limit.Subject) { s.Form = limit.Trailer })
	case limit.NotTractorSemitrailer:
		but(func(s *limit.Subject) { s.Form, s.Tow = limit.Semitrailer, limit.TruckTractor })
	case limit.Trailer:
		but(func(s *limit.Subject) { s.Form = limit.Semitrailer })
	}
	if len(r.Tows) > 0 && r.Tows[0] != limit.AnyTow && !slices.Contains(r.Tows, limit.Car) {
		but(func(s *limit.Subject) { s.Tow = limit.Car })
	}
	if r.Axles != 0 {
		but(func(s *limit.Subject) { s.Axles = r.Axles + 1 })
	}
	return out
}

// ofTowVehicle tells whether a row is about the tow vehicle by itself in a
// quantity that is asked of the whole rig: such a row is about no rig.
func ofTowVehicle(r limit.Row) bool {
	return r.Form == limit.Tractor || r.Form == limit.SingleVehicle && r.Quantity != limit.SingleVehicleLength
}

// mayClear tells, from the text of the rule alone, whether a row may clear a
// case that it surely is about.
func mayClear(r limit.Row) bool {
	near := r.Count.Least < 2 || r.Spread.Given // otherwise nothing says how near axles must be to count together
	return r.Tier == limit.Legal && (r.Status == finding.Published || r.Status == finding.Verified) && r.Condition == "" && r.When == "" && r.Road == "" &&
		near && r.Kind != limit.Building && len(r.Jurisdiction) > 2
}

// outcome is what an exceeded row asks by the text of the rule where roads are not
// known: what is forbidden at some times is allowed at others, and what is
// forbidden on some roads is for a person to decide.
func outcome(r limit.Row) finding.Outcome {
	switch {
	case r.Outcome == finding.Forbidden && r.When != "":
		return finding.Conditional
	case r.Outcome == finding.Forbidden && r.Road != "":
		return finding.Review
	}
	return r.Outcome
}

// Every figure that ships, tried around its threshold in its own unit and in
// both systems. The outside source of each is the one that its row names,
// printed by cite.
func TestPublishedThresholds(t *testing.T) {
	all := shipped(t)
	tried := map[finding.Status]int{}
	for _, row := range all.Rows("") {
		r := *row
		tried[r.Status]++
		for _, try := range tries(t, r) {
			v := measuring(t, r, try)
			if ofTowVehicle(r) || r.Kind == limit.FarmEquipment {
				v.Subject = limit.Subject{}
				notShown(t, all, r, v)
				continue
			}
			aloneAnswers(t, r, try, answer(t, of(r), v, r.Jurisdiction, r.Quantity, june))
			amongAllAnswers(t, r, try, answer(t, all, v, r.Jurisdiction, r.Quantity, june))
			for _, s := range unnamed(r) {
				v.Subject = s
				notShown(t, all, r, v)
				notShown(t, of(r), r, v)
			}
		}
	}
	want := map[finding.Status]int{finding.Published: 376, finding.Secondary: 43, finding.Memory: 55}
	if !reflect.DeepEqual(tried, want) {
		t.Errorf("tried %v rows, want %v", tried, want)
	}
}

// aloneAnswers checks a table of one row: it decides beyond its threshold, and
// up to it only a row without any reservation clears.
func aloneAnswers(t *testing.T, r limit.Row, try try, f finding.Finding) {
	t.Helper()
	want := finding.Unknown
	if try.over {
		want = outcome(r)
	} else if mayClear(r) {
		want = finding.Clear
	}
	row, ok := shows(f, r.ID)
	if f.Outcome != want || !ok || row.Decides != (want != finding.Unknown) || exceeded(row) != try.over {
		t.Errorf("%s alone, %s: %s with row %+v, want %s", cite(r), try.text, f.Outcome, row, want)
	}
	if try.over && r.When != "" && r.Outcome == finding.Forbidden && !strings.Contains(strings.Join(say.Strings(f.Demands.Hours), " "), r.When) {
		t.Errorf("%s alone, %s: hours %q do not say %q", cite(r), try.text, f.Demands.Hours, r.When)
	}
	if try.over && r.Condition != "" && !slices.Contains(say.Strings(f.Demands.Conditions), r.Condition) {
		t.Errorf("%s alone, %s: conditions %q lack that of the row", cite(r), try.text, f.Demands.Conditions)
	}
}

// amongAllAnswers checks a row among the others: it shows, beyond it the answer
// is at least as grave as its own, and up to it the row does not tighten.
func amongAllAnswers(t *testing.T, r limit.Row, try try, f finding.Finding) {
	t.Helper()
	row, ok := shows(f, r.ID)
	other := slices.ContainsFunc(f.Citations, func(o finding.Citation) bool { return o.ID != r.ID && exceeded(o) })
	switch {
	case !ok:
		t.Errorf("%s, %s: not among %s", cite(r), try.text, ids(f))
	case try.over && (!row.Decides || !exceeded(row) || gravity(f.Outcome) < gravity(outcome(r))):
		t.Errorf("%s, %s: %s with row %+v, want at least %s by it", cite(r), try.text, f.Outcome, row, outcome(r))
	case !try.over && exceeded(row):
		t.Errorf("%s, %s: counts as exceeded", cite(r), try.text)
	case !try.over && !other && mayClear(r) && f.Outcome != finding.Clear:
		t.Errorf("%s, %s: %s (%s), want clear", cite(r), try.text, f.Outcome, says(f))
	case other && gravity(f.Outcome) == 0:
		t.Errorf("%s, %s: %s although a row of %s is exceeded", cite(r), try.text, f.Outcome, ids(f))
	}
}

func notShown(t *testing.T, tables *Tables, r limit.Row, v Vehicle) {
	t.Helper()
	f := answer(t, tables, v, r.Jurisdiction, r.Quantity, june)
	if _, ok := shows(f, r.ID); ok {
		t.Errorf("%s: shown for %+v, which it does not name", cite(r), v.Subject)
	}
}

// The figures that a reader looks up first, by hand from their sources.
func TestHeadlineFigures(t *testing.T) {
	tables := shipped(t)
	none := limit.Subject{}
	rv := limit.Subject{Kind: limit.RecreationalTrailer, Use: limit.Private, Form: limit.Trailer, Axles: 4}
	fifthWheel := limit.Subject{Kind: limit.RecreationalTrailer, Use: limit.Private, Form: limit.Semitrailer, Axles: 4}
	home := limit.Subject{Kind: limit.ManufacturedHome, Form: limit.Trailer}
	for _, tc := range []struct {
		code string
		q    limit.Quantity
		s    limit.Subject
		text string
		want finding.Outcome
		by   string // a row that must decide, or show where nothing does
	}{
		// Official MTO Truck Handbook, Clearances: 4.15 m.
		{"CA-ON", limit.Height, none, "4.14 m", finding.Clear, "ca-on-height-01"},
		{"CA-ON", limit.Height, none, "4.15 m", finding.Clear, "ca-on-height-01"},
		{"CA-ON", limit.Height, none, "4.16 m", finding.Conditional, "ca-on-height-01"},
		{"CA-ON", limit.Height, none, `13'7 3/8"`, finding.Clear, "ca-on-height-01"},
		{"CA-ON", limit.Height, none, `13'7 7/16"`, finding.Conditional, "ca-on-height-01"},
		// MTO, Recreational Vehicle Information, Maximum Vehicle Dimensions,
		// 2010: hitch-pull 12.5 m, fifth wheel 14.65 m, combination 23 m, 2.6 m wide.
		{"CA-ON", limit.TrailerLength, rv, "12,5 m", finding.Clear, "ca-on-trailer-length-03"},
		{"CA-ON", limit.TrailerLength, rv, "12,6 m", finding.Conditional, "ca-on-trailer-length-03"},
		{"CA-ON", limit.TrailerLength, fifthWheel, "14.65 m", finding.Clear, "ca-on-trailer-length-01"},
		{"CA-ON", limit.TrailerLength, fifthWheel, "14.66 m", finding.Conditional, "ca-on-trailer-length-01"},
		{"CA-ON", limit.CombinationLength, rv, "23 m", finding.Clear, "ca-on-combination-length-04"},
		{"CA-ON", limit.CombinationLength, rv, "24 m", finding.Conditional, "ca-on-combination-length-04"},
		{"CA-ON", limit.Width, rv, `8'6"`, finding.Clear, "ca-on-width-06"},
		{"CA-ON", limit.Width, rv, `8'6 7/16"`, finding.Conditional, "ca-on-width-06"},
		// HTA s. 109 by a municipal summary, 2014: 12.5 m, second-hand.
		{"CA-ON", limit.SingleVehicleLength, none, "12.5 m", finding.Unknown, "ca-on-single-vehicle-length-01"},
		{"CA-ON", limit.SingleVehicleLength, none, "12.6 m", finding.Conditional, "ca-on-single-vehicle-length-01"},
		// MTO, Oversize/Overweight Permits: rear overhang of 4.65 m at most.
		{"CA-ON", limit.RearOverhang, none, "4.65 m", finding.Unknown, "ca-on-rear-overhang-01"},
		{"CA-ON", limit.RearOverhang, none, "4.66 m", finding.Forbidden, "ca-on-rear-overhang-01"},
		// C-24.2 r.31 s.5, 2024-04-11: any trailer 12.5 m.
		{"CA-QC", limit.TrailerLength, rv, "12.5 m", finding.Clear, "ca-qc-trailer-length-03"},
		{"CA-QC", limit.TrailerLength, rv, "12.6 m", finding.Conditional, "ca-qc-trailer-length-03"},
		// C-24.2 r.31 s.4: 23 m with one trailer, on conditions to be read.
		{"CA-QC", limit.CombinationLength, rv, "23 m", finding.Unknown, "ca-qc-combination-length-05"},
		{"CA-QC", limit.CombinationLength, rv, "24 m", finding.Conditional, "ca-qc-combination-length-05"},
		// C-24.2 r.31 s.10, 2013: 2,5 m unless every axle measures as much.
		{"CA-QC", limit.Width, rv, "2,5 m", finding.Unknown, "ca-qc-width-07"},
		{"CA-QC", limit.Width, rv, "2,6 m", finding.Conditional, "ca-qc-width-07"},
		// C-24.2 r.35 s.11, 2019-05-21: over 3.75 m wide and 27.50 m long not at night.
		{"CA-QC", limit.Width, home, "3.76 m", finding.Conditional, "ca-qc-width-02"},
		{"CA-QC", limit.CombinationLength, home, "27.6 m", finding.Conditional, "ca-qc-combination-length-07"},
		// C-24.2 r.35 s.3, 2019-05-21: over 5 m high only after a study.
		{"CA-QC", limit.Height, none, "5.1 m", finding.Review, "ca-qc-height-02"},
		// 23 V.S.A. 1431(a), 2024: 13 ft 6 in high, 8.5 ft wide.
		{"US-VT", limit.Height, none, "4.1148 m", finding.Clear, "us-vt-height-01"},
		{"US-VT", limit.Height, none, "4.115 m", finding.Conditional, "us-vt-height-01"},
		{"US-VT", limit.Width, none, "8 ft 6 in", finding.Clear, "us-vt-width-01"},
		{"US-VT", limit.Width, none, "2.6 m", finding.Conditional, "us-vt-width-01"},
		// 17 NYCRR 154-1.12, 2024: an escort at 14 ft or more, 80 ft or more.
		{"US-NY", limit.Height, none, "13 ft 6 in", finding.Unknown, "us-ny-height-01"},
		{"US-NY", limit.Height, none, "14 ft", finding.Conditional, "us-ny-height-02"},
		{"US-NY", limit.CombinationLength, none, "80 ft", finding.Conditional, "us-ny-combination-length-01"},
	} {
		f := answerAshore(t, tables, with(tc.s, tc.q, parse(t, tc.q, tc.text)), tc.code, tc.q, june)
		row, ok := shows(f, tc.by)
		if f.Outcome != tc.want || !ok || row.Decides != (tc.want != finding.Unknown) {
			t.Errorf("%s %s %s: %s by %s (%s), want %s by %s", tc.code, tc.q, tc.text, f.Outcome, ids(f), says(f), tc.want, tc.by)
		}
	}
}

// 17 NYCRR 154-1.12, 2024: "14 ft or more" demands the escort at 14 ft and not
// a sixteenth of an inch below.
func TestInclusiveThresholdBringsItsDemands(t *testing.T) {
	for text, want := range map[string]int{"13 ft 11 15/16 in": 0, "14 ft": 1, "4.2672 m": 1} {
		f := answer(t, shipped(t), with(limit.Subject{}, limit.Height, parse(t, limit.Height, text)), "US-NY", limit.Height, june)
		if f.Demands.EscortsAny != want {
			t.Errorf("%s: %d escorts, want %d", text, f.Demands.EscortsAny, want)
		}
	}
}

// The height of Quebec is only recalled (C-24.2 r.31 ss. 2-8 were not read):
// 4.15 m may tighten, and clears nothing.
func TestRecalledHeightOfQuebec(t *testing.T) {
	for text, want := range map[string]finding.Outcome{
		"2 m": finding.Unknown, "4.14 m": finding.Unknown, "4.15 m": finding.Unknown, `13'7 3/8"`: finding.Unknown,
		`13'7 7/16"`: finding.Conditional, "4.16 m": finding.Conditional, "5 m": finding.Conditional,
	} {
		f := answerAshore(t, shipped(t), with(limit.Subject{}, limit.Height, parse(t, limit.Height, text)), "CA-QC", limit.Height, june)
		row, ok := shows(f, "ca-qc-height-01")
		if f.Outcome != want || !ok || row.Status != finding.Memory || row.Published != "4.15 m" || len(f.Settles) == 0 {
			t.Errorf("%s: %s, ask %q, row %+v; want %s", text, f.Outcome, whom(f), row, want)
		}
		if want == finding.Unknown && !strings.Contains(bears(row), "row.recalled") {
			t.Errorf("%s: %q does not say that the figure is only recalled", text, bears(row))
		}
	}
}

// What keeps a row from clearing a height below it, and that nothing keeps it
// from tightening above it.
func TestWhatCanClear(t *testing.T) {
	const none = ""
	axles := func(n int) func(*limit.Row) { return func(r *limit.Row) { r.Axles = n } }
	read := func(when time.Time) func(*limit.Row) { return func(r *limit.Row) { r.ReadOn = when } }
	valid := func(from, to int) func(*limit.Row) {
		return func(r *limit.Row) { r.ValidFrom, r.ValidTo = dayFromJune(from), dayFromJune(to) }
	}
	for _, tc := range []struct {
		name   string
		change func(*limit.Row)
		s      limit.Subject
		below  finding.Outcome
		above  finding.Outcome
		says   string // in the words of the row below the threshold
	}{
		{"published", status(finding.Published), limit.Subject{}, finding.Clear, finding.Conditional, none},
		{"verified", status(finding.Verified), limit.Subject{}, finding.Clear, finding.Conditional, none},
		{"secondary", status(finding.Secondary), limit.Subject{}, finding.Unknown, finding.Conditional, "row.second_hand"},
		{"memory", status(finding.Memory), limit.Subject{}, finding.Unknown, finding.Conditional, "row.recalled"},
		{"invented", status(finding.Invented), limit.Subject{}, finding.Unknown, finding.Conditional, "row.invented"},
		{"no status", status(""), limit.Subject{}, finding.Unknown, finding.Conditional, "row.invented"},
		{"beyond", func(r *limit.Row) { r.Tier = limit.Beyond }, limit.Subject{}, finding.Unknown, finding.Conditional, "row.beyond"},
		{"unsure", func(r *limit.Row) { r.Tier = limit.Unsure }, limit.Subject{}, finding.Unknown, finding.Conditional, "row.unsure"},
		{"condition", func(r *limit.Row) { r.Condition = "with air brakes" }, limit.Subject{}, finding.Unknown, finding.Conditional, "with air brakes"},
		{"when", func(r *limit.Row) { r.When, r.Times = "night", window.ParseCondition("night") }, limit.Subject{}, finding.Unknown, finding.Conditional, "night"},
		{"road", func(r *limit.Row) { r.Road = "two_lane" }, limit.Subject{}, finding.Unknown, finding.Conditional, "two-lane"},

		{"read 365 days ago", read(june.Add(-DefaultTerm)), limit.Subject{}, finding.Clear, finding.Conditional, none},
		{"read 366 days ago", read(june.Add(-DefaultTerm - 24*time.Hour)), limit.Subject{}, finding.Unknown, finding.Conditional, "row.stale"},
		{"read a second too long ago", read(june.Add(-DefaultTerm - time.Second)), limit.Subject{}, finding.Unknown, finding.Conditional, "row.stale"},
		{"never read", read(time.Time{}), limit.Subject{}, finding.Unknown, finding.Conditional, "row.stale"},
		{"verified too long ago", func(r *limit.Row) { r.Status, r.ReadOn = finding.Verified, june.AddDate(-2, 0, 0) }, limit.Subject{}, finding.Unknown, finding.Conditional, "row.stale"},

		{"from tomorrow", valid(1, 30), limit.Subject{}, finding.Unknown, finding.Unknown, none},
		{"from today", valid(0, 30), limit.Subject{}, finding.Clear, finding.Conditional, none},
		{"to today", valid(-30, 0), limit.Subject{}, finding.Clear, finding.Conditional, none},
		{"to yesterday", valid(-30, -1), limit.Subject{}, finding.Unknown, finding.Unknown, none},

		{"these axles", axles(5), limit.Subject{Axles: 5}, finding.Clear, finding.Conditional, none},
		{"other axles", axles(5), limit.Subject{Axles: 4}, finding.Unknown, finding.Unknown, none},
		{"axles not known", axles(5), limit.Subject{}, finding.Unknown, finding.Conditional, "hangs.axles(axles: 5)"},
		{"this kind", kind(limit.TinyHome), limit.Subject{Kind: limit.TinyHome}, finding.Clear, finding.Conditional, none},
		{"another kind", kind(limit.ManufacturedHome), limit.Subject{Kind: limit.RecreationalTrailer}, finding.Unknown, finding.Unknown, none},
		{"kind not known", kind(limit.ManufacturedHome), limit.Subject{}, finding.Unknown, finding.Conditional, "hangs.kind(kind: manufactured_home)"},
		{"commercial", kind(limit.CommercialUse), limit.Subject{Use: limit.Commercial}, finding.Clear, finding.Conditional, none},
		{"private", kind(limit.CommercialUse), limit.Subject{Use: limit.Private}, finding.Unknown, finding.Unknown, none},
		{"use not known", kind(limit.CommercialUse), limit.Subject{}, finding.Unknown, finding.Conditional, "hangs.use(use: commercial)"},
	} {
		r := clean(tc.change)
		for centimetres, want := range map[limit.Amount]finding.Outcome{414: tc.below, 415: tc.below, 416: tc.above} {
			f := answerHeight(t, with(tc.s, limit.Height, centimetres*centi), june, r)
			if f.Outcome != want {
				t.Errorf("%s, %d cm: %s (%s), want %s", tc.name, centimetres, f.Outcome, says(f), want)
			}
			if row, ok := shows(f, r.ID); ok != (tc.above != finding.Unknown) || centimetres < 416 && !strings.Contains(bears(row), tc.says) {
				t.Errorf("%s, %d cm: shown %v with words %q, want %q", tc.name, centimetres, ok, bears(row), tc.says)
			}
		}
	}
}

func dayFromJune(days int) time.Time { return june.Truncate(24*time.Hour).AddDate(0, 0, days) }

// A stale row tightens and says that it is stale.
func TestStaleRowTightens(t *testing.T) {
	f := answerHeight(t, high(416), june, clean(func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }))
	if row, _ := shows(f, "clean"); f.Outcome != finding.Conditional || !strings.Contains(bears(row), "row.stale") {
		t.Errorf("%s with words %q", f.Outcome, bears(row))
	}
}

// The term is that of the table.
func TestTermOfTheTable(t *testing.T) {
	tables := of(clean(func(r *limit.Row) { r.ReadOn = june.AddDate(0, 0, -10) }))
	for days, want := range map[time.Duration]finding.Outcome{9: finding.Unknown, 10: finding.Clear} {
		tables.Term = days * 24 * time.Hour
		if f := answer(t, tables, high(400), "CA-XX", limit.Height, june); f.Outcome != want {
			t.Errorf("read 10 days ago with a term of %d: %s, want %s", days, f.Outcome, want)
		}
	}
}

// A country's law stands beside a jurisdiction's own, what is no law for certain
// only where the jurisdiction surely has no rule; both tighten and never clear,
// wherever they are asked.
func TestUmbrellaRows(t *testing.T) {
	umbrella := clean(inside("CA"), at("umbrella", 415))
	floor := clean(inside("CA"), at("floor", 415), func(r *limit.Row) { r.Tier = limit.Unsure })
	width := clean(at("width", 260), func(r *limit.Row) { r.Quantity = limit.Width })
	for _, tc := range []struct {
		name        string
		code        string
		rows        []limit.Row
		centimetres limit.Amount
		want        finding.Outcome
		ids         string
	}{
		{"no own row, below", "CA-XX", []limit.Row{umbrella}, 400, finding.Unknown, "umbrella"},
		{"no own row, above", "CA-XX", []limit.Row{umbrella}, 416, finding.Conditional, "umbrella!"},
		{"an own row of another quantity", "CA-XX", []limit.Row{umbrella, width}, 400, finding.Unknown, "umbrella"},
		{"an own row, below", "CA-XX", []limit.Row{umbrella, clean(at("own", 430))}, 400, finding.Clear, "umbrella own!"},
		{"an own row, between", "CA-XX", []limit.Row{umbrella, clean(at("own", 430))}, 420, finding.Conditional, "umbrella! own"},
		{"an own row of the same figure", "CA-XX", []limit.Row{umbrella, clean(at("own", 415))}, 415, finding.Clear, "own! umbrella"},
		{"an own row that names the country's", "CA-XX", []limit.Row{umbrella, clean(at("own", 430), supersedes("umbrella"))}, 420, finding.Conditional, "umbrella! own"},
		{"an own row that cannot clear", "CA-XX", []limit.Row{umbrella, clean(at("own", 430), status(finding.Memory))}, 400, finding.Unknown, "umbrella own"},
		{"a floor, no own row", "CA-XX", []limit.Row{floor}, 420, finding.Conditional, "floor!"},
		{"a floor, an own row", "CA-XX", []limit.Row{floor, clean(at("own", 430))}, 420, finding.Clear, "own!"},
		{"a floor, an own row under a condition", "CA-XX", []limit.Row{floor, clean(at("own", 430), hangsOn("with air brakes"))}, 420, finding.Unknown, "own"},
		{"a floor, a recalled row", "CA-XX", []limit.Row{floor, clean(at("own", 430), status(finding.Memory))}, 420, finding.Conditional, "floor! own"},
		{"a floor, a row of perhaps another kind", "CA-XX", []limit.Row{floor, clean(at("own", 430), kind(limit.TinyHome))}, 420, finding.Conditional, "floor! own"},
		{"another country", "US-XX", []limit.Row{umbrella}, 416, finding.Unknown, ""},
		{"the United States", "US-XX", []limit.Row{clean(inside("US"), at("umbrella", 415))}, 400, finding.Unknown, "umbrella"},
		{"another jurisdiction's row", "CA-YY", []limit.Row{clean()}, 416, finding.Unknown, ""},
		{"no jurisdiction", "", []limit.Row{umbrella, clean()}, 416, finding.Unknown, ""},
		{"the country itself, below", "CA", []limit.Row{umbrella}, 400, finding.Unknown, "umbrella"},
		{"the country itself, above", "CA", []limit.Row{umbrella}, 416, finding.Conditional, "umbrella!"},
	} {
		f := answer(t, of(tc.rows...), high(tc.centimetres), tc.code, limit.Height, june)
		if f.Outcome != tc.want || ids(f) != tc.ids {
			t.Errorf("%s: %s by %q, want %s by %q", tc.name, f.Outcome, ids(f), tc.want, tc.ids)
		}
		if row, ok := shows(f, "umbrella"); ok && !row.Decides && !strings.Contains(bears(row), "row.country") {
			t.Errorf("%s: %q does not say that the row is of the whole country", tc.name, bears(row))
		}
	}
}

// The 20 000 lb of a single axle on interstates (23 CFR 658.17(c)) bind beside a
// state's verified 24 000 lb (invented): there the federal row decides, on other
// roads the state's, and where the road is not known the federal one may.
func TestCountrysRowBindsOnItsRoadsBesideTheStates(t *testing.T) {
	federal := read(t, map[string]string{
		"id": "federal", "jurisdiction": "US", "quantity": "single_axle_mass", "threshold": "20000 lb", "published": "20 000 lb", "road": "Interstate", "roads": "ref=I *",
	})
	state := read(t, map[string]string{"id": "state", "jurisdiction": "US-XX", "quantity": "single_axle_mass", "threshold": "24000 lb", "published": "24 000 lb", "status": "verified"})
	tables := of(federal, state)
	interstate, county := roads.Road{Refs: []string{"I 90"}}, roads.Road{Refs: []string{"CR 5"}}
	for _, tc := range []struct {
		name  string
		pound measure.Mass
		roads []roads.Road
		want  finding.Outcome
		ids   string
	}{
		{"an interstate, within both", 20_000, []roads.Road{interstate}, finding.Clear, "federal state!"},
		{"an interstate, between", 20_001, []roads.Road{interstate}, finding.Conditional, "federal! state"},
		{"an interstate, beyond both", 24_001, []roads.Road{interstate}, finding.Conditional, "federal! state!"},
		{"partly an interstate", 22_000, []roads.Road{county, interstate}, finding.Conditional, "federal! state"},
		{"another road", 22_000, []roads.Road{county}, finding.Clear, "state!"},
		{"an interstate, and no row of the state", 20_000, []roads.Road{interstate}, finding.Unknown, "federal"},
	} {
		rows := tables
		if strings.Contains(tc.name, "no row") {
			rows = of(federal)
		}
		v := Vehicle{Loads: []limit.AxleLoad{like(0, tc.pound*measure.Pound)}}
		f := rule(t, rows.Check(v, Stay{Jurisdictions: []string{"US-XX"}, OwnerKnown: true, Roads: tc.roads}, june), string(limit.SingleAxleMass))
		if f.Outcome != tc.want || ids(f) != tc.ids {
			t.Errorf("%s: %s by %q (%s), want %s by %q", tc.name, f.Outcome, ids(f), says(f), tc.want, tc.ids)
		}
	}
	v := Vehicle{Loads: []limit.AxleLoad{like(0, 22_000*measure.Pound)}}
	f := rule(t, tables.Check(v, Stay{Jurisdictions: []string{"US-XX"}, OwnerKnown: true}, june), string(limit.SingleAxleMass))
	if f.Outcome == finding.Clear || f.Outcome == finding.Unknown || !strings.Contains(says(f), "hangs.roads_open(roads: Interstate") {
		t.Errorf("roads not known: %s, %q", f.Outcome, says(f))
	}
}

// A country's row is asked with the jurisdiction, not once more with each town.
func TestTownDoesNotAskTheCountryAgain(t *testing.T) {
	town := clean(at("town", 450), inside("CA-XX/Mill"))
	found := of(clean(at("umbrella", 400), inside("CA")), town).Check(high(420), Stay{Jurisdictions: []string{"CA-XX"}, Towns: []string{"Mill"}, OwnerKnown: true}, june)
	for _, f := range found {
		if _, ok := shows(f, "umbrella"); string(f.Rule) == string(limit.Height) && ok != (f.Jurisdiction == "CA-XX") {
			t.Errorf("%s: %s by %q", f.Jurisdiction, f.Outcome, ids(f))
		}
	}
}

// A row replaces another by naming it, not by being younger, stricter or
// looser.
func TestSupersedes(t *testing.T) {
	old := clean(at("old", 400))
	later := func(r *limit.Row) { r.ValidFrom = dayFromJune(1) }
	ended := func(r *limit.Row) { r.ValidTo = dayFromJune(-1) }
	young := func(r *limit.Row) { r.ValidFrom, r.Year, r.ReadOn = dayFromJune(-1), "2027", june }
	for _, tc := range []struct {
		name string
		row  limit.Row
		want finding.Outcome
		ids  string
	}{
		{"younger, names nothing", clean(at("new", 415), young), finding.Conditional, "old! new"},
		{"names the old one", clean(at("new", 415), supersedes("old")), finding.Clear, "new!"},
		{"names the old one among others", clean(at("new", 415), supersedes("x", "old")), finding.Clear, "new!"},
		{"names another", clean(at("new", 415), supersedes("older")), finding.Conditional, "old! new"},
		{"names only its beginning", clean(at("new", 415), supersedes("ol")), finding.Conditional, "old! new"},
		{"not yet in force", clean(at("new", 415), supersedes("old"), later), finding.Conditional, "old!"},
		{"no longer in force", clean(at("new", 415), supersedes("old"), ended), finding.Conditional, "old!"},
		{"the shipped version of a changed row", clean(at("new"+rows.RivalSuffix, 415), supersedes("old")), finding.Conditional, "old! new" + rows.RivalSuffix},
	} {
		f := answerHeight(t, high(410), june, old, tc.row)
		if f.Outcome != tc.want || ids(f) != tc.ids {
			t.Errorf("%s: %s by %q, want %s by %q", tc.name, f.Outcome, ids(f), tc.want, tc.ids)
		}
	}
}

// A row that may only tighten cannot take a stricter row away by naming it.
func TestUntrustedRowCannotSupersede(t *testing.T) {
	old, loose := clean(at("old", 400)), clean(at("loose", 420))
	for name, change := range map[string]func(*limit.Row){
		"memory":     status(finding.Memory),
		"secondary":  status(finding.Secondary),
		"invented":   status(finding.Invented),
		"stale":      func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) },
		"never read": func(r *limit.Row) { r.ReadOn = time.Time{} },
	} {
		row := clean(at("new", 415), supersedes("old"), change)
		if f := answerHeight(t, high(410), june, old, row); f.Outcome != finding.Conditional {
			t.Errorf("%s: %s by %q; the row it names, published and exceeded, asks conditional", name, f.Outcome, ids(f))
		}
		if f := answerHeight(t, high(410), june, old, loose, row); f.Outcome != finding.Conditional {
			t.Errorf("%s, beside a looser row: %s by %q; the row it names asks conditional", name, f.Outcome, ids(f))
		}
	}
}

// What holds at some times, on a part of the roads or on some of the days only
// replaces nothing and clears nothing.
func TestRowsThatHoldPartlyReplaceNothing(t *testing.T) {
	old := clean(at("old", 400))
	timed := func(when string) func(*limit.Row) {
		return func(r *limit.Row) { r.When, r.Times = when, window.ParseCondition(when) }
	}
	interstates := func(r *limit.Row) {
		var err error
		if r.Roads, err = roads.Parse("ref=I *"); err != nil {
			t.Fatal(err)
		}
		r.Road = "Interstates"
	}
	until := func(day int) func(*limit.Row) {
		return func(r *limit.Row) { r.ValidTo = time.Date(2027, 6, day, 0, 0, 0, 0, time.UTC) }
	}
	from := func(r *limit.Row) { r.ValidFrom = time.Date(2027, 6, 22, 0, 0, 0, 0, time.UTC) }
	mixed, pure := []roads.Road{{Refs: []string{"I 84"}}, {Refs: []string{"US 12"}}}, []roads.Road{{Refs: []string{"I 84"}}}
	for _, tc := range []struct {
		name   string
		change func(*limit.Row)
		roads  []roads.Road
		whole  bool // it holds for the whole way, from 21 June to the next day
	}{
		{"on weekdays, which these are", timed("Mo-Fr"), pure, false},
		{"in a season, which it is", timed("Jun-Aug"), pure, false},
		{"at a time that is not known", timed("thaw"), pure, false},
		{"on a part of the roads", interstates, mixed, false},
		{"on all of them", interstates, pure, true},
		{"on roads that are not known", interstates, nil, false},
		{"on the first day", until(21), pure, false},
		{"on the second day", from, pure, false},
		{"on both days", until(22), pure, true},
	} {
		place := leg(on("12:00").AddDate(0, 0, 1), winnipeg)
		place.Roads = tc.roads
		both := of(old, clean(at("new", 415), supersedes("old"), tc.change)).Check(high(410), place, on("12:00"))
		want := map[bool]string{true: "new!", false: "old! new"}[tc.whole]
		if f := rule(t, both, "height"); ids(f) != want || (f.Outcome == finding.Clear) != tc.whole {
			t.Errorf("%s: %s by %q, want it by %q", tc.name, f.Outcome, ids(f), want)
		}
		alone := of(clean(at("new", 415), tc.change))
		if f := rule(t, alone.Check(high(410), place, on("12:00")), "height"); (f.Outcome == finding.Clear) != tc.whole || !tc.whole && f.Outcome != finding.Unknown {
			t.Errorf("%s, alone: %s", tc.name, f.Outcome)
		}
		if f := rule(t, alone.Check(high(416), place, on("12:00")), "height"); f.Outcome != finding.Conditional {
			t.Errorf("%s, beyond it: %s", tc.name, f.Outcome)
		}
	}
}

// The shipped version of a row that the user changed tightens and never clears.
func TestShippedVersionsOfChangedRows(t *testing.T) {
	rival := clean(at("row"+rows.RivalSuffix, 415))
	for _, tc := range []struct {
		rows        []limit.Row
		centimetres limit.Amount
		want        finding.Outcome
	}{
		{[]limit.Row{rival}, 410, finding.Unknown}, {[]limit.Row{rival}, 416, finding.Conditional},
		{[]limit.Row{rival, clean(at("row", 420))}, 410, finding.Clear}, {[]limit.Row{rival, clean(at("row", 420))}, 416, finding.Conditional},
		{[]limit.Row{rival, clean(at("row", 420), status(finding.Memory))}, 410, finding.Unknown},
	} {
		if f := answerHeight(t, high(tc.centimetres), june, tc.rows...); f.Outcome != tc.want {
			t.Errorf("%d cm of %d rows: %s by %q, want %s", tc.centimetres, len(tc.rows), f.Outcome, ids(f), tc.want)
		}
	}
}

// Rivals: of two legal rows of one quantity and kind the stricter decides, and
// both show. Tiers add up.
func TestRivalsAndTiers(t *testing.T) {
	escorts := func(front, rear int) func(*limit.Row) {
		return func(r *limit.Row) {
			r.EscortsSaid = true
			r.Demands = finding.Demands{EscortsFront: front, EscortsRear: rear}
		}
	}
	beyond := func(r *limit.Row) { r.Tier = limit.Beyond }
	strict, loose := clean(at("strict", 410), escorts(1, 0)), clean(at("loose", 420), escorts(0, 2))
	second := clean(at("second", 420), status(finding.Memory), escorts(0, 2))
	hearsay := clean(at("hearsay", 410), status(finding.Secondary))
	high45, high50 := clean(at("permit", 450), beyond, asks(finding.Review), escorts(0, 1)), clean(at("top", 500), beyond, asks(finding.Forbidden))
	for _, tc := range []struct {
		name        string
		rows        []limit.Row
		centimetres limit.Amount
		want        finding.Outcome
		ids         string
		front, rear int
	}{
		{"below both", []limit.Row{strict, loose}, 405, finding.Clear, "strict! loose", 0, 0},
		{"in the other order", []limit.Row{loose, strict}, 405, finding.Clear, "strict! loose", 0, 0},
		{"between", []limit.Row{strict, loose}, 415, finding.Conditional, "strict! loose", 1, 0},
		{"beyond both", []limit.Row{strict, loose}, 425, finding.Conditional, "strict! loose!", 1, 2},
		{"strict and a recalled looser one", []limit.Row{strict, second}, 405, finding.Clear, "strict! second", 0, 0},
		{"second-hand and stricter, below", []limit.Row{hearsay, loose}, 405, finding.Clear, "hearsay loose!", 0, 0},
		{"second-hand and stricter, between", []limit.Row{hearsay, loose}, 415, finding.Conditional, "hearsay! loose", 0, 0},
		{"tiers, below", []limit.Row{high45, strict}, 410, finding.Clear, "strict! permit", 0, 0},
		{"tiers, first", []limit.Row{high45, strict, high50}, 450, finding.Conditional, "strict! permit top", 1, 0},
		{"tiers, second", []limit.Row{high45, strict, high50}, 451, finding.Review, "strict! permit! top", 1, 1},
		{"tiers, all", []limit.Row{high45, strict, high50}, 501, finding.Forbidden, "strict! permit! top!", 1, 1},
		{"a graver step below a milder one", []limit.Row{clean(at("ban", 400), beyond, asks(finding.Forbidden)), strict}, 415, finding.Forbidden, "ban! strict!", 1, 0},
		{"steps without a legal limit", []limit.Row{high45}, 300, finding.Unknown, "permit", 0, 0},
	} {
		f := answerHeight(t, high(tc.centimetres), june, tc.rows...)
		if f.Outcome != tc.want || ids(f) != tc.ids || f.Demands.EscortsFront != tc.front || f.Demands.EscortsRear != tc.rear {
			t.Errorf("%s: %s by %q, escorts %d and %d; want %s by %q, %d and %d",
				tc.name, f.Outcome, ids(f), f.Demands.EscortsFront, f.Demands.EscortsRear, tc.want, tc.ids, tc.front, tc.rear)
		}
	}
}

// Where an exceeded row is silent on escorts, a finding of its own says so.
func TestSilenceOnEscortsIsUnknown(t *testing.T) {
	said := func(r *limit.Row) { r.EscortsSaid = true }
	for name, tc := range map[string]struct {
		row         limit.Row
		centimetres limit.Amount
		want        bool
	}{
		"silent":                {clean(), 416, true},
		"silent, not exceeded":  {clean(), 415, false},
		"says none":             {clean(said), 416, false},
		"forbidden needs none":  {clean(asks(finding.Forbidden)), 416, false},
		"review, silent":        {clean(asks(finding.Review)), 416, true},
		"height not even given": {clean(), 0, false},
	} {
		v := high(tc.centimetres)
		if tc.centimetres == 0 {
			v.Measures = nil
		}
		found := of(tc.row).Check(v, Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true}, june)
		i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Rule == "height escorts" })
		if (i >= 0) != tc.want {
			t.Errorf("%s: says that escorts are unknown %v, want %v", name, i >= 0, tc.want)
		} else if tc.want && (found[i].Outcome != finding.Unknown || len(found[i].Settles) == 0) {
			t.Errorf("%s: %+v", name, found[i])
		}
	}
}

// While the kind is unknown every kind that could apply is checked, and the
// strictest shows with the words on which it hangs.
func TestKindUnknown(t *testing.T) {
	rv := clean(at("rv", 400), kind(limit.RecreationalTrailer))
	home := clean(at("home", 430), kind(limit.ManufacturedHome), asks(finding.Review))
	farm := clean(at("farm", 300), kind(limit.FarmEquipment), asks(finding.Forbidden))
	every := clean(at("every", 420))
	for _, tc := range []struct {
		name        string
		rows        []limit.Row
		centimetres limit.Amount
		want        finding.Outcome
		ids, says   string
	}{
		{"below all", []limit.Row{rv, home}, 390, finding.Unknown, "rv home", "hangs.kind(kind: recreational_trailer)"},
		{"beyond the strictest", []limit.Row{rv, home}, 410, finding.Conditional, "rv! home", "hangs.kind(kind: recreational_trailer)"},
		{"beyond both", []limit.Row{rv, home}, 440, finding.Review, "rv! home!", "hangs.kind(kind: manufactured_home)"},
		{"a row of all kinds clears", []limit.Row{rv, home, every}, 390, finding.Clear, "rv every! home", ""},
		{"a stricter kind outweighs it", []limit.Row{rv, home, every}, 410, finding.Conditional, "rv! every home", "hangs.kind(kind: recreational_trailer)"},
		{"no house is farm equipment", []limit.Row{rv, farm}, 390, finding.Unknown, "rv", "hangs.kind(kind: recreational_trailer)"},
	} {
		for _, k := range []limit.Kind{limit.KindUnknown, limit.TinyHome} {
			f := answerHeight(t, with(limit.Subject{Kind: k}, limit.Height, tc.centimetres*centi), june, tc.rows...)
			if f.Outcome != tc.want || ids(f) != tc.ids || !strings.Contains(says(f), tc.says) {
				t.Errorf("%s, kind %q: %s by %q, %q; want %s by %q, %q", tc.name, k, f.Outcome, ids(f), says(f), tc.want, tc.ids, tc.says)
			}
			if row, _ := shows(f, "rv"); !strings.Contains(bears(row), "hangs.kind(kind: recreational_trailer)") {
				t.Errorf("%s, kind %q: the row says %q", tc.name, k, bears(row))
			}
		}
	}
}

// A trailer of unknown kind in Ontario: the 12.5 m of hitch-pull house
// trailers (MTO, Recreational Vehicle Information, 2010) shows with its "if".
func TestKindUnknownInOntario(t *testing.T) {
	s := limit.Subject{Form: limit.Trailer}
	for text, want := range map[string]finding.Outcome{"12.5 m": finding.Unknown, "12.6 m": finding.Conditional} {
		f := answer(t, shipped(t), with(s, limit.TrailerLength, parse(t, limit.TrailerLength, text)), "CA-ON", limit.TrailerLength, june)
		if f.Outcome != want || !strings.Contains(says(f), "hangs.kind(kind: recreational_trailer)") || len(f.Settles) == 0 {
			t.Errorf("%s: %s, %q; want %s", text, f.Outcome, says(f), want)
		}
	}
}

// A value that may be higher exceeds, and clears nothing.
func TestAtLeast(t *testing.T) {
	for _, tc := range []struct {
		rows        []limit.Row
		centimetres limit.Amount
		want        finding.Outcome
	}{
		{[]limit.Row{clean()}, 100, finding.Unknown},
		{[]limit.Row{clean()}, 415, finding.Unknown},
		{[]limit.Row{clean()}, 416, finding.Conditional},
		{nil, 100, finding.Unknown},
	} {
		v := high(tc.centimetres)
		v.Measures[limit.Height] = measure.AtLeast(tc.centimetres * centi)
		f := answerHeight(t, v, june, tc.rows...)
		if f.Outcome != tc.want || f.Margin.Known() || f.Value != limit.Height.Of(tc.centimetres*centi).Least() || len(f.Settles) == 0 {
			t.Errorf("at least %d cm: %s, value %q, margin %q, ask %q; want %s", tc.centimetres, f.Outcome, f.Value, f.Margin, whom(f), tc.want)
		}
	}
}

// What nobody measured is unknown, and the rows that wait for it show.
func TestMissingMeasures(t *testing.T) {
	for name, v := range map[string]Vehicle{"no measures": {}, "another one only": with(limit.Subject{}, limit.Width, 2*metre)} {
		f := answerHeight(t, v, june, clean())
		if f.Outcome != finding.Unknown || f.Value.Known() || f.Margin.Known() || ids(f) != "clean" || len(f.Settles) == 0 {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

// Loads on tire width are compared with nothing where no axle is described:
// whatever is measured, the answer is unknown and the figure shows.
func TestTireLoadIsComparedWithNothing(t *testing.T) {
	s := limit.Subject{Form: limit.Semitrailer}
	for _, a := range []limit.Amount{1, 1_000_000, 1_000_000_000_000} {
		f := answer(t, shipped(t), with(s, limit.TireLoadPerWidth, a), "CA-ON", limit.TireLoadPerWidth, june)
		if _, ok := shows(f, "ca-on-tire-load-per-mm-01"); f.Outcome != finding.Unknown || !ok || f.Margin.Known() {
			t.Errorf("%d: %s, margin %q, %s", a, f.Outcome, f.Margin, ids(f))
		}
	}
}

// The margin is from the value to the nearest legal threshold, below zero beyond it.
func TestMarginAndValue(t *testing.T) {
	beyond := clean(at("beyond", 400), func(r *limit.Row) { r.Tier = limit.Beyond })
	for _, tc := range []struct {
		rows        []limit.Row
		centimetres limit.Amount
		margin      string
	}{
		{[]limit.Row{clean()}, 405, "0.1 m"},
		{[]limit.Row{clean()}, 415, "0 m"},
		{[]limit.Row{clean()}, 425, "-0.1 m"},
		{[]limit.Row{clean(), clean(at("loose", 430))}, 405, "0.1 m"},
		{[]limit.Row{clean(), beyond}, 405, "0.1 m"},
		{[]limit.Row{beyond}, 405, ""},
		{nil, 405, ""},
	} {
		f := answerHeight(t, high(tc.centimetres), june, tc.rows...)
		if want := limit.Height.Of(tc.centimetres * centi); metric(f.Margin) != tc.margin || f.Value != want {
			t.Errorf("%d cm of %d rows: value %q, margin %q; want %q, %q", tc.centimetres, len(tc.rows), f.Value, f.Margin, want, tc.margin)
		}
	}
}

// metric prints a quantity in the metric system alone, "" for none.
func metric(q finding.Quantity) string {
	text, _, _ := strings.Cut(q.String(), " (")
	return text
}

// A finding that rests on an invented row says so, that no example is taken
// for the law.
func TestInventedRowsMarkTheFinding(t *testing.T) {
	for centimetres, want := range map[limit.Amount]bool{400: true, 416: true} {
		if f := answerHeight(t, high(centimetres), june, clean(status(finding.Invented))); f.Invented != want {
			t.Errorf("%d cm against an invented row: invented %v, want %v", centimetres, f.Invented, want)
		}
		if f := answerHeight(t, high(centimetres), june, clean()); f.Invented {
			t.Errorf("%d cm against a published row: invented", centimetres)
		}
	}
}

// Without rows nothing is clear, for one jurisdiction, several and none.
func TestEmptyTable(t *testing.T) {
	v := Vehicle{Measures: map[limit.Quantity]Measure{}}
	for _, q := range limit.Quantities() {
		v.Measures[q] = measure.Exactly[limit.Amount](1)
	}
	for _, codes := range [][]string{{"CA-ON"}, {"CA-ON", "CA-QC"}, {"CA-ON", "US-NY", "X"}, {""}, {}, nil} {
		for _, owner := range []bool{false, true} {
			found := of().Check(v, Stay{Jurisdictions: codes, OwnerKnown: owner}, june)
			per := 0
			for _, q := range limit.Quantities() {
				if !q.OnlyWhereRuled() {
					per++
				}
			}
			if !owner {
				per++
			}
			if want := per * max(len(codes), 1); len(found) != want {
				t.Errorf("%q: %d findings, want %d", codes, len(found), want)
			}
			for _, f := range found {
				if f.Outcome != finding.Unknown || len(f.Settles) == 0 || len(f.Says) == 0 || len(f.Citations) != 0 {
					t.Errorf("%q: %+v", codes, f)
				}
			}
			if got := finding.Roll(found).Outcome(); got != finding.Unknown {
				t.Errorf("%q rolls up as %s", codes, got)
			}
		}
	}
}

// Near a border each jurisdiction is checked with its own rows.
func TestSeveralJurisdictions(t *testing.T) {
	found := of(clean(), clean(inside("CA-YY"), at("yy", 400))).Check(high(410), Stay{Jurisdictions: []string{"CA-XX", "CA-YY", "CA-ZZ"}}, june)
	got := map[string]finding.Outcome{}
	for _, f := range found {
		if f.Rule == "height" {
			got[f.Jurisdiction] = f.Outcome
		}
	}
	want := map[string]finding.Outcome{"CA-XX": finding.Clear, "CA-YY": finding.Conditional, "CA-ZZ": finding.Unknown}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Rows bind the roads of their authority: who owns the road is a question of
// its own, and a town's rows show by name and bind nobody who may not be there.
func TestRoadOwner(t *testing.T) {
	tables := shipped(t)
	v := with(limit.Subject{}, limit.Width, 3*metre+6*centi)
	for code, town := range map[string]string{"CA-ON": "Dufferin County", "CA-SK": "Prince Albert", "US-VT": "", "": ""} {
		found := tables.Check(v, Stay{Jurisdictions: []string{code}}, june)
		f := rule(t, found, "road owner")
		if f.Outcome != finding.Unknown || len(f.Settles) == 0 || !strings.Contains(says(f), town) || f.Jurisdiction != code {
			t.Errorf("%q: %+v, want unknown that names %q", code, f, town)
		}
		for _, f := range found {
			if i := slices.IndexFunc(f.Citations, func(r finding.Citation) bool { return strings.Contains(r.ID, "dufferin") }); i >= 0 {
				t.Errorf("%q %s: shows %s", code, f.Rule, f.Citations[i].ID)
			}
		}
	}
	for _, f := range tables.Check(v, Stay{Jurisdictions: []string{"CA-ON"}, OwnerKnown: true}, june) {
		if f.Rule == "road owner" {
			t.Error("asks who owns a road whose owner is known")
		}
	}
}

func TestRowsOfAJurisdiction(t *testing.T) {
	tables := shipped(t)
	for code, want := range map[string]int{"": 474, "CA-ON": 34 + 3, "CA-ON/Dufferin County": 3, "CA-QC": 29, "CA": 18, "US": 10, "CA-O": 0, "XX": 0} {
		rows := tables.Rows(code)
		sorted := slices.IsSortedFunc(rows, func(a, b *limit.Row) int { return strings.Compare(a.ID, b.ID) })
		if len(rows) != want || !sorted {
			t.Errorf("%q: %d rows, sorted %v; want %d", code, len(rows), sorted, want)
		}
	}
}

func TestAsk(t *testing.T) {
	tables := NewTables("test", Rows{Offices: []*permit.Office{{Jurisdiction: "CA-XX", Name: "The office", Contact: "555"}}}, nil)
	for code, want := range map[string]string{"CA-XX": "(name: The office, contact: 555)", "CA-YY": "CA-YY", "": "office.road"} {
		if got := tables.Office(code).String(); !strings.Contains(got, want) {
			t.Errorf("%q: %q, want one that says %q", code, got, want)
		}
	}
}

// Below: what holds of any table. The tables are small and their values few,
// so that rows meet, tie and exclude each other often.

var (
	drawnCodes      = []string{"CA-XX", "CA-YY", "CA"}
	drawnQuantities = []limit.Quantity{limit.Height, limit.GrossMass}
	untrusted       = []finding.Status{finding.Secondary, finding.Memory, finding.Invented}
)

func drawRow(t *rapid.T, id string) limit.Row {
	reading := []time.Time{june, june.AddDate(0, 0, -300), june.AddDate(-2, 0, 0), {}}
	r := limit.Row{
		ID: id, Published: "as printed", Source: "a text",
		Jurisdiction: rapid.SampledFrom([]string{"CA-XX", "CA-XX", "CA-XX", "CA-YY", "CA"}).Draw(t, "row in"),
		Kind:         rapid.SampledFrom([]limit.Kind{limit.All, limit.All, limit.All, limit.TinyHome, limit.ManufacturedHome, limit.CommercialUse}).Draw(t, "row kind"),
		Form:         rapid.SampledFrom([]limit.Form{limit.AnyForm, limit.AnyForm, limit.Trailer, limit.Semitrailer, limit.NotTractorSemitrailer}).Draw(t, "row form"),
		Tows:         rapid.SampledFrom([]limit.Tows{nil, nil, {limit.AnyTow}, {limit.TruckTractor}, {limit.Truck}}).Draw(t, "row tow"),
		Quantity:     rapid.SampledFrom([]limit.Quantity{limit.Height, limit.Height, limit.GrossMass}).Draw(t, "row quantity"),
		Axles:        rapid.SampledFrom([]int{0, 0, 3}).Draw(t, "row axles"),
		Threshold:    limit.Amount(rapid.IntRange(2, 5).Draw(t, "threshold")),
		Inclusive:    rapid.Bool().Draw(t, "inclusive"),
		Outcome:      rapid.SampledFrom([]finding.Outcome{finding.Conditional, finding.Review, finding.Forbidden}).Draw(t, "outcome"),
		Tier:         rapid.SampledFrom([]limit.Tier{limit.Legal, limit.Legal, limit.Beyond, limit.Unsure}).Draw(t, "tier"),
		When:         rapid.SampledFrom([]string{"", "", "night"}).Draw(t, "when"),
		Road:         rapid.SampledFrom([]string{"", "", "bridges"}).Draw(t, "road"),
		Condition:    rapid.SampledFrom([]string{"", "", "with air brakes"}).Draw(t, "condition"),
		Status:       rapid.SampledFrom(append([]finding.Status{finding.Published, finding.Verified}, untrusted...)).Draw(t, "status"),
		EscortsSaid:  rapid.Bool().Draw(t, "escorts said"),
		ReadOn:       rapid.SampledFrom(reading).Draw(t, "read"),
	}
	switch rapid.IntRange(0, 9).Draw(t, "validity") {
	case 0:
		r.ValidTo = dayFromJune(-1)
	case 1:
		r.ValidFrom = dayFromJune(1)
	}
	return r
}

func drawRows(t *rapid.T) []limit.Row {
	var rows []limit.Row
	for i := range rapid.IntRange(0, 6).Draw(t, "rows") {
		rows = append(rows, drawRow(t, fmt.Sprintf("r%d", i)))
	}
	return rows
}

func drawSubject(t *rapid.T) limit.Subject {
	return limit.Subject{
		Kind:  rapid.SampledFrom([]limit.Kind{limit.KindUnknown, limit.TinyHome, limit.ManufacturedHome, limit.LoadOnTrailer}).Draw(t, "kind"),
		Use:   rapid.SampledFrom([]limit.Use{limit.UseUnknown, limit.Commercial, limit.Private}).Draw(t, "use"),
		Form:  rapid.SampledFrom([]limit.Form{limit.FormUnknown, limit.Trailer, limit.Semitrailer}).Draw(t, "form"),
		Tow:   rapid.SampledFrom(append(limit.TowVehicles(), limit.TowUnknown)).Draw(t, "tow"),
		Axles: rapid.SampledFrom([]int{0, 3, 4}).Draw(t, "axles"),
	}
}

// drawMeasure is an amount, known as a least value in one of so many cases.
func drawMeasure(t *rapid.T, a limit.Amount, cases int) Measure {
	if rapid.IntRange(0, cases).Draw(t, "at least") == 0 {
		return measure.AtLeast(a)
	}
	return measure.Exactly(a)
}

func drawVehicle(t *rapid.T) Vehicle {
	v := Vehicle{Subject: drawSubject(t), Measures: map[limit.Quantity]Measure{}}
	for _, q := range drawnQuantities {
		if rapid.IntRange(0, 5).Draw(t, "given") > 0 {
			v.Measures[q] = drawMeasure(t, limit.Amount(rapid.IntRange(1, 6).Draw(t, "value")), 5)
		}
	}
	return v
}

// surely tells from the text of the rule whether a row names all that it asks
// of a subject; it is written apart from the code it checks.
func surely(r limit.Row, s limit.Subject) bool {
	kind := r.Kind == limit.All || r.Kind == s.Kind || r.Kind == limit.CommercialUse && s.Use == limit.Commercial
	tractorSemitrailer := s.Form == limit.Semitrailer && s.Tow == limit.TruckTractor
	form := r.Form == limit.AnyForm || r.Form == s.Form
	if r.Form == limit.NotTractorSemitrailer {
		form = s.Form == limit.Trailer || s.Tow != limit.TowUnknown && s.Tow != limit.TruckTractor
	}
	tow := slices.Contains(r.Tows, limit.AnyTow) || slices.Contains(r.Tows, s.Tow) || len(r.Tows) == 0 && (r.Form != limit.Semitrailer || tractorSemitrailer)
	return kind && form && tow && (r.Axles == 0 || r.Axles == s.Axles)
}

func inForce(r limit.Row) bool { return r.ValidTo.IsZero() && r.ValidFrom.IsZero() }

func over(r limit.Row, a limit.Amount) bool {
	return a > r.Threshold || a == r.Threshold && r.Inclusive
}

// Clear rests on a row of the jurisdiction that may clear and names the
// vehicle, on a whole value, and on no exceeded row.
func TestClearIsEarned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, v := drawRows(t), drawVehicle(t)
		code := rapid.SampledFrom([]string{"CA-XX", "CA-YY", "CA-ZZ"}).Draw(t, "place")
		for _, q := range drawnQuantities {
			f := answer(t, of(rows...), v, code, q, june)
			m := v.Measures[q]
			least, given := m.Least()
			earned, exceeds := false, false
			for _, r := range rows {
				if r.Jurisdiction != code || r.Quantity != q || !inForce(r) || !surely(r, v.Subject) {
					continue
				}
				fresh := !r.ReadOn.IsZero() && june.Sub(r.ReadOn) <= DefaultTerm
				exceeds = exceeds || given && over(r, least)
				earned = earned || m.Known() && fresh && mayClear(r) && !over(r, least)
			}
			if f.Outcome == finding.Clear && (!earned || exceeds) {
				t.Fatalf("%s %+v: clear by %s of %+v", q, m, ids(f), rows)
			}
			if exceeds && gravity(f.Outcome) == 0 {
				t.Fatalf("%s %+v: %s although a row is exceeded: %+v", q, m, f.Outcome, rows)
			}
		}
	})
}

// The source shows in every row, and whom to ask in everything that is not clear.
func TestEveryFindingCanBeChecked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := Stay{
			Jurisdictions: rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"CA-XX", "CA-YY", "CA-ZZ", ""}), 0, 3, rapid.ID).Draw(t, "places"),
			OwnerKnown:    rapid.Bool().Draw(t, "owner known"),
		}
		rows := drawRows(t)
		if rapid.Bool().Draw(t, "with the shipped rows") {
			rows = append(rows, shippedRows(t)...)
			place.Jurisdictions = append(place.Jurisdictions, "CA-ON", "CA-QC", "US-NY")
		}
		for _, f := range of(rows...).Check(drawVehicle(t), place, june) {
			if f.Outcome != finding.Clear && len(f.Settles) == 0 || len(f.Says) == 0 || f.Rule == "" || f.Outcome == "" {
				t.Fatalf("%+v", f)
			}
			for _, r := range f.Citations {
				if r.ID == "" || r.Revision != "test" || r.Published == "" || !r.Status.Valid() || r.Source == "" || r.Tier == "" {
					t.Fatalf("%s: row %+v", f.Rule, r)
				}
			}
		}
	})
}

// A higher value never fares better.
func TestHigherIsNeverLessGrave(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables, s := of(drawRows(t)...), drawSubject(t)
		code := rapid.SampledFrom([]string{"CA-XX", "CA-YY", "CA-ZZ"}).Draw(t, "place")
		q := rapid.SampledFrom(drawnQuantities).Draw(t, "quantity")
		var before finding.Finding
		for a := limit.Amount(1); a <= 6; a++ {
			f := answer(t, tables, with(s, q, a), code, q, june)
			if a > 1 && (gravity(f.Outcome) < gravity(before.Outcome) || f.Outcome == finding.Clear && before.Outcome != finding.Clear) {
				t.Fatalf("%s by %s at %d, %s by %s below it", f.Outcome, ids(f), a, before.Outcome, ids(before))
			}
			before = f
		}
	})
}

// A row that cannot be trusted only tightens. It may hide rows of the whole
// country, which never clear, so those are left out where gravity counts.
func TestUntrustedRowOnlyTightens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, v, extra := drawRows(t), drawVehicle(t), drawRow(t, "extra")
		if rapid.Bool().Draw(t, "by age") {
			extra.ReadOn = june.AddDate(-2, 0, 0)
		} else {
			extra.Status = rapid.SampledFrom(untrusted).Draw(t, "extra status")
		}
		umbrella := slices.ContainsFunc(rows, func(r limit.Row) bool { return r.Jurisdiction == "CA" })
		for _, code := range []string{"CA-XX", "CA-YY"} {
			for _, q := range drawnQuantities {
				before := answer(t, of(rows...), v, code, q, june)
				after := answer(t, of(append(slices.Clone(rows), extra)...), v, code, q, june)
				if before.Outcome != finding.Clear && after.Outcome == finding.Clear {
					t.Fatalf("%s became clear by %s", before.Outcome, ids(after))
				}
				if !umbrella && gravity(after.Outcome) < gravity(before.Outcome) {
					t.Fatalf("%s by %s became %s by %s", before.Outcome, ids(before), after.Outcome, ids(after))
				}
			}
		}
	})
}

// The same tables give the same answer, in whatever order their rows came.
func TestOrderOfRowsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, v := drawRows(t), drawVehicle(t)
		place := Stay{Jurisdictions: drawnCodes}
		want := of(rows...).Check(v, place, june)
		if got := of(rapid.Permutation(rows).Draw(t, "order")...).Check(v, place, june); !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

// A length of whole 1/64 in and a mass of whole pounds are exact in both
// systems: 396 875 nm and 45 359 237 tens of micrograms (NIST SP 811, 2008,
// B.8). However they are written, every finding of the shipped table is the
// same.
func TestUnitsNeverChangeAFinding(t *testing.T) {
	tables := shipped(t)
	codes := []string{"CA-ON", "CA-QC", "CA-NB", "US-NY", "US-VT", "US-MN"}
	rapid.Check(t, func(t *rapid.T) {
		s, q := drawSubject(t), rapid.SampledFrom(limit.Quantities()[:13]).Draw(t, "quantity")
		place := Stay{Jurisdictions: []string{rapid.SampledFrom(codes).Draw(t, "place")}}
		texts := sameLength(t)
		if q == limit.GrossMass || q.OfAxles() {
			texts = sameMass(t)
		}
		var want []finding.Finding
		for i, text := range texts {
			v := with(s, q, parse(t, q, text))
			if q.OfAxles() {
				v.Loads = axles(2, 1200*measure.Millimetre, measure.Mass(parse(t, q, text)), limit.AxleLoad{Tires: 4, Width: 235 * measure.Millimetre})
			}
			got := tables.Check(v, place, june)
			if i == 0 {
				want = got
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%s: %q gives %+v\n%q gives %+v", q, text, got, texts[0], want)
			}
		}
	})
}

// sameLength draws a length and writes it in several ways, some of them near
// 102 in, 162 in and 23 m, where thresholds lie.
func sameLength(t *rapid.T) []string {
	n := rapid.OneOf(
		rapid.IntRange(1, 130*768), rapid.IntRange(102*64-3, 102*64+3), rapid.IntRange(162*64-3, 162*64+3), rapid.IntRange(57_950, 57_956),
	).Draw(t, "sixty-fourths of an inch")
	nm := n * 396_875
	return []string{
		fmt.Sprintf("%d.%09d m", nm/1_000_000_000, nm%1_000_000_000),
		fmt.Sprintf("%d.%06d mm", nm/1_000_000, nm%1_000_000),
		fmt.Sprintf("%d ft %d %d/64 in", n/768, n%768/64, n%64),
		fmt.Sprintf(`%d'%d %d/64"`, n/768, n%768/64, n%64),
		fmt.Sprintf("%d %d/64 in", n/64, n%64),
	}
}

func sameMass(t *rapid.T) []string {
	n := rapid.OneOf(rapid.IntRange(1, 200_000), rapid.SampledFrom([]int{12_000, 20_000, 34_000, 79_999, 80_000, 80_001})).Draw(t, "pounds")
	tens := n * 45_359_237
	return []string{
		fmt.Sprintf("%d.%08d kg", tens/100_000_000, tens%100_000_000),
		fmt.Sprintf("%d lb", n),
		fmt.Sprintf("%d.%04d short tons", n/2000, n%2000*5),
	}
}
