package regs

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wayhouse/data"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
)

// axles are n axles, the outer ones so far apart and the others evenly between,
// that share a mass; each is like the one given.
func axles(n int, spread measure.Length, mass measure.Mass, like limit.AxleLoad) []limit.AxleLoad {
	out := make([]limit.AxleLoad, n)
	for i := range out {
		out[i] = like
		if i > 0 {
			out[i].At = spread * measure.Length(i) / measure.Length(n-1)
		}
		share := mass / measure.Mass(n)
		if i == n-1 {
			share = mass - share*measure.Mass(n-1)
		}
		out[i].Mass = measure.Exactly(share)
	}
	return out
}

// limitRecords are the records of the shipped limits, by id.
var limitRecords = sync.OnceValues(func() (map[string]rows.Record, error) {
	raw, err := data.Files.ReadFile("tables/limits.csv")
	if err != nil {
		return nil, err
	}
	_, records, err := limit.Table().ReadCSV(raw)
	out := map[string]rows.Record{}
	for _, r := range records {
		out[r[0]] = r
	}
	return out, err
})

// cells are the cells of a shipped row, by column.
func cells(t fataler, id string) map[string]string {
	t.Helper()
	records, err := limitRecords()
	if err != nil || records[id] == nil {
		t.Fatalf("no row %s: %v", id, err)
	}
	out := map[string]string{}
	for i, column := range limit.Table().Columns {
		out[column] = records[id][i]
	}
	return out
}

// measuring returns a vehicle that measures what is tried: in a quantity of
// axles one whose only axles are those that the row speaks of.
func measuring(t fataler, r limit.Row, try try) Vehicle {
	t.Helper()
	if !r.Quantity.OfAxles() {
		return with(named(r), r.Quantity, parse(t, r.Quantity, try.text))
	}
	c := cells(t, r.ID)
	v := Vehicle{Subject: named(r)}
	group := grouped(t, r.Quantity, c)
	v.Loads = axles(len(group), group[len(group)-1].At, try.mass(t, tires(group)), group[0])
	return v
}

// grouped returns the fewest axles that the cells of a row ask for, read from
// its words apart from the code: "2+", ">= 1.2 m and < 3 m", "not steering, 2
// tires, < 445 mm wide". They have no mass.
func grouped(t fataler, q limit.Quantity, c map[string]string) []limit.AxleLoad {
	t.Helper()
	n := map[limit.Quantity]int{limit.TandemMass: 2, limit.TridemMass: 3, limit.BridgeFormula: 2}[q]
	if c["group"] != "" {
		n = int(c["group"][0] - '0')
	}
	like := limit.AxleLoad{Tires: 4, Width: 235 * measure.Millimetre}
	for _, word := range strings.Split(c["axle"], ", ") {
		switch word {
		case "steering":
			like.Steering, like.Tires = true, 2
		case "2 tires":
			like.Tires = 2
		case "4 tires", "not steering", "":
		case "< 445 mm wide":
			like.Width = 444 * measure.Millimetre
		case ">= 445 mm wide":
			like.Width = 445 * measure.Millimetre
		default:
			t.Fatalf("%s: axles of %q", c["id"], word)
		}
	}
	out := axles(max(n, 1), apart(t, c["spread"], n), 0, like)
	if strings.Contains(c["axle"], "not steering") { // the first axle may steer
		for i := range out {
			out[i].At += 4 * measure.Metre
		}
	}
	return out
}

// apart returns a spread at a closed end of a range, the lower one before the
// upper, and 1.3 m where there is none.
func apart(t fataler, words string, n int) measure.Length {
	t.Helper()
	closed := regexp.MustCompile(`[<>]= ([\d.]+ \w+)`).FindStringSubmatch(words)
	if words == "" || n < 2 {
		return 1300 * measure.Millimetre
	}
	if closed == nil {
		t.Fatalf("%q has no closed end", words)
	}
	l, err := measure.ParseLength(closed[1])
	if err != nil {
		t.Fatalf("%v", err)
	}
	return l
}

// tires is the width of all tires together.
func tires(loads []limit.AxleLoad) (width measure.Length) {
	for _, l := range loads {
		width += measure.Length(l.Tires) * l.Width
	}
	return width
}

var ratio = regexp.MustCompile(`^([\d.]+) (kg/mm|lb/in)$`)

// ratios returns loads on tire width a hundredth of their own unit below, at
// and above the threshold of a row.
func ratios(t fataler, r limit.Row) []try {
	t.Helper()
	m := ratio.FindStringSubmatch(r.Text)
	if m == nil {
		t.Fatalf("%s: %q is no load on a width", cite(r), r.Text)
	}
	var whole int
	scan(t, m[1], &whole)
	text := func(hundredths int) string {
		return fmt.Sprintf("%d.%02d %s", hundredths/100, hundredths%100, m[2])
	}
	return []try{{text(100*whole - 1), false}, {text(100 * whole), r.Inclusive}, {text(100*whole + 1), true}}
}

// mass is what is tried as a mass; a load on tire width is one over a width, to
// the unit of mass rounded down.
func (y try) mass(t fataler, width measure.Length) measure.Mass {
	t.Helper()
	if m := ratio.FindStringSubmatch(y.text); m != nil {
		load, ok := new(big.Rat).SetString(m[1])
		if !ok {
			t.Fatalf("%q", y.text)
		}
		unit := map[string]*big.Rat{
			"kg/mm": big.NewRat(int64(measure.Kilogram), int64(measure.Millimetre)),
			"lb/in": big.NewRat(int64(measure.Pound), int64(measure.Inch)),
		}[m[2]]
		load.Mul(load, unit).Mul(load, big.NewRat(int64(width), 1))
		return measure.Mass(new(big.Int).Div(load.Num(), load.Denom()).Int64())
	}
	m, err := measure.ParseMass(y.text)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return m
}

// read reads a limit from its cells; what they leave out is that of a published
// row of CA-XX (invented) about any rig, read recently.
func read(t fataler, changes map[string]string) limit.Row {
	t.Helper()
	return readCells(t, limit.Table(), map[string]string{
		"id": "row", "jurisdiction": "CA-XX", "kind": "all", "combination": "any", "quantity": "height", "published": "4.15 m", "threshold": "4.15 m",
		"beyond": "over", "outcome": "conditional", "tier": "legal", "status": "published", "source": "a law", "read_on": "2027-05-01",
	}, changes)
}

// readCells reads a row of any table from cells by column.
func readCells[T any](t fataler, table rows.Table[T], cells, changes map[string]string) T {
	t.Helper()
	record := make(rows.Record, len(table.Columns))
	for i, column := range table.Columns {
		record[i] = cells[column]
		if text, ok := changes[column]; ok {
			record[i] = text
		}
	}
	for column := range changes {
		if !slices.Contains(table.Columns, column) {
			t.Fatalf("%s has no column %s", table.Name, column)
		}
	}
	row, err := table.Row(1, record)
	if err != nil {
		t.Fatalf("%s %v: %v", table.Name, changes, err)
	}
	return row
}

// axleRow reads a limit of axles in CA-XX.
func axleRow(t fataler, id string, q limit.Quantity, threshold, group, spread, axle string) limit.Row {
	t.Helper()
	return read(t, map[string]string{
		"id": id, "quantity": string(q), "threshold": threshold, "published": threshold, "group": group, "spread": spread, "axle": axle,
	})
}

// loaded is a vehicle of which only the axles are known.
func loaded(loads ...limit.AxleLoad) Vehicle { return Vehicle{Loads: loads} }

// like is an axle so far behind the first, with dual tires of 235 mm (invented).
func like(at measure.Length, mass measure.Mass) limit.AxleLoad {
	return limit.AxleLoad{At: at, Mass: measure.Exactly(mass), Tires: 4, Width: 235 * measure.Millimetre}
}

// Axles up to 40 in apart count as a single one of 20 000 lb, over that and up
// to 96 in as a tandem of 34 000 lb (23 CFR 658.17 by the questions and answers
// of the FHWA; SEEN, check values 4 to 6). The rows stand in CA-XX, since those
// of a whole country never clear. Whether it is a pound or the last unit of
// mass over, it is beyond.
func TestSingleOrTandemByTheirDistance(t *testing.T) {
	tables := of(
		axleRow(t, "single", limit.SingleAxleMass, "20000 lb", "1+", "<= 40 in", ""),
		axleRow(t, "tandem", limit.TandemMass, "34000 lb", "2+", "> 40 in and <= 96 in; apart > 96 in", ""),
	)
	const inch = measure.Inch
	single, tandem := measure.Mass(20_000), measure.Mass(34_000)
	for _, tc := range []struct {
		apart  measure.Length
		most   measure.Mass // lb, of both together
		beyond limit.Quantity
	}{
		{30 * inch, single, limit.SingleAxleMass},
		{40 * inch, single, limit.SingleAxleMass},
		{40*inch + 1, tandem, limit.TandemMass},
		{41 * inch, tandem, limit.TandemMass},
		{96 * inch, tandem, limit.TandemMass},
		{96*inch + 1, 2 * single, limit.SingleAxleMass},
		{40 * measure.Foot, 2 * single, limit.SingleAxleMass},
	} {
		for _, over := range []measure.Mass{-measure.Pound, 0, 1, measure.Pound} {
			v := loaded(axles(2, tc.apart, tc.most*measure.Pound+over, limit.AxleLoad{Tires: 4})...)
			for _, q := range []limit.Quantity{limit.SingleAxleMass, limit.TandemMass} {
				want := finding.Clear
				if over > 0 && q == tc.beyond {
					want = finding.Conditional
				}
				if f := answer(t, tables, v, "CA-XX", q, june); f.Outcome != want {
					t.Errorf("%s apart, %d lb and %d: %s %s (%s), want %s", tc.apart, tc.most, over, q, f.Outcome, says(f), want)
				}
			}
		}
	}
}

// A row of some axles says nothing of the others: each must be covered.
func TestClearOnlyWhereEveryAxleIsCovered(t *testing.T) {
	steer, drive := like(0, 5*measure.Tonne), like(4*measure.Metre, 8*measure.Tonne)
	steer.Steering, steer.Tires = true, 2
	rear := like(9*measure.Metre, 8*measure.Tonne)
	front := axleRow(t, "front", limit.SingleAxleMass, "5500 kg", "", "", "steering")
	dual := axleRow(t, "dual", limit.SingleAxleMass, "9100 kg", "", "", "not steering, 4 tires")
	recalled := axleRow(t, "recalled", limit.SingleAxleMass, "9100 kg", "", "", "not steering, 4 tires")
	recalled.Status = finding.Memory
	lone := axleRow(t, "lone", limit.SingleAxleMass, "9100 kg", "", "", "not steering, 2 tires")
	for _, tc := range []struct {
		name string
		rows []limit.Row
		want finding.Outcome
		says string
	}{
		{"both", []limit.Row{front, dual}, finding.Clear, ""},
		{"only the driven ones", []limit.Row{dual}, finding.Unknown, "axles.one(axle: 1)"},
		{"only the front", []limit.Row{front}, finding.Unknown, "axles.one(axle: 2)"},
		{"a recalled row beside", []limit.Row{front, recalled}, finding.Unknown, "axles.one(axle: 3)"},
		{"a row of other tires beside", []limit.Row{front, lone}, finding.Unknown, "axles.one(axle: 2)"},
		{"none", nil, finding.Unknown, "limit.no_row("},
	} {
		f := answer(t, of(tc.rows...), loaded(steer, drive, rear), "CA-XX", limit.SingleAxleMass, june)
		if f.Outcome != tc.want || !strings.Contains(says(f), tc.says) {
			t.Errorf("%s: %s, %q; want %s that says %q", tc.name, f.Outcome, says(f), tc.want, tc.says)
		}
	}
}

// Which axle steers must be given where it is asked about.
func TestSteeringAxle(t *testing.T) {
	row := axleRow(t, "steer", limit.SteeringAxleMass, "5500 kg", "", "", "steering")
	a, b := like(0, 5*measure.Tonne), like(4*measure.Metre, 8*measure.Tonne)
	if f := answer(t, of(row), loaded(a, b), "CA-XX", limit.SteeringAxleMass, june); f.Outcome != finding.Unknown || !strings.Contains(says(f), "row.axles_open") {
		t.Errorf("no steering axle: %s, %q", f.Outcome, says(f))
	}
	a.Steering = true
	if f := answer(t, of(row), loaded(a, b), "CA-XX", limit.SteeringAxleMass, june); f.Outcome != finding.Clear {
		t.Errorf("5 t: %s, %q", f.Outcome, says(f))
	}
	a.Mass = measure.Exactly(5500*measure.Kilogram + 1)
	if f := answer(t, of(row), loaded(a, b), "CA-XX", limit.SteeringAxleMass, june); f.Outcome != finding.Conditional {
		t.Errorf("10 micrograms over 5500 kg: %s, %q", f.Outcome, says(f))
	}
}

// axleTables has a row of every quantity of axles, each of which allows far
// more than any axle of the tests weighs.
func axleTables(t fataler) *Tables {
	return of(
		axleRow(t, "steer", limit.SteeringAxleMass, "100 t", "", "", "steering"),
		axleRow(t, "single", limit.SingleAxleMass, "100 t", "", "", ""),
		axleRow(t, "tandem", limit.TandemMass, "100 t", "", "<= 100 m", ""),
		axleRow(t, "tridem", limit.TridemMass, "100 t", "", "<= 100 m", ""),
		axleRow(t, "group", limit.AxleGroupMass, "100 t", "2+", "<= 100 m", ""),
		axleRow(t, "bridge", limit.BridgeFormula, "100 t (L N/(N-1) + 12 N + 36), L in ft", "", "", ""),
		axleRow(t, "tires", limit.TireLoadPerWidth, "1 t/mm", "", "", ""),
	)
}

var ofAxles = slices.DeleteFunc(limit.Quantities(), func(q limit.Quantity) bool { return !q.OfAxles() })

// An axle that nobody weighed leaves unknown whatever it is a part of, worked
// out or not.
func TestUnknownMassNeverClears(t *testing.T) {
	tables := axleTables(t)
	whole := func() []limit.AxleLoad {
		loads := axles(4, 12*measure.Metre, 20*measure.Tonne, limit.AxleLoad{Tires: 4, Width: 235 * measure.Millimetre})
		loads[0].Steering = true
		return loads
	}
	for _, q := range ofAxles {
		if f := answer(t, tables, loaded(whole()...), "CA-XX", q, june); f.Outcome != finding.Clear {
			t.Errorf("%s, all weighed: %s, %q", q, f.Outcome, says(f))
		}
		for i := range 4 {
			loads := whole()
			loads[i].Mass = measure.Known[measure.Mass]{}
			want := finding.Unknown
			if q == limit.SteeringAxleMass && i > 0 {
				want = finding.Clear
			}
			f := answer(t, tables, loaded(loads...), "CA-XX", q, june)
			if f.Outcome != want || want == finding.Unknown && (len(f.Settles) == 0 || !strings.Contains(says(f), "axles.not_known(")) {
				t.Errorf("%s, axle %d not weighed: %s, %q; want %s", q, i+1, f.Outcome, says(f), want)
			}
		}
		loads := whole()
		loads[0].Mass = loads[0].Mass.OrMore() // the steering one, which every quantity is about
		if f := answer(t, tables, loaded(loads...), "CA-XX", q, june); f.Outcome != finding.Unknown || len(f.Settles) == 0 || !strings.Contains(says(f), "axles.worked_out(") {
			t.Errorf("%s, axle 1 worked out: %s, %q", q, f.Outcome, says(f))
		}
		if f := answer(t, tables, Vehicle{}, "CA-XX", q, june); f.Outcome != finding.Unknown || len(f.Settles) == 0 || len(f.Citations) != 1 {
			t.Errorf("%s, no axles: %+v", q, f)
		}
	}
}

// What is known to weigh too much is beyond, whatever else is not known.
func TestKnownAxleIsBeyondBesideUnknownOnes(t *testing.T) {
	row := axleRow(t, "single", limit.SingleAxleMass, "9100 kg", "", "", "")
	heavy, unknown := like(4*measure.Metre, 9101*measure.Kilogram), limit.AxleLoad{At: 9 * measure.Metre}
	f := answer(t, of(row), loaded(like(0, measure.Tonne), heavy, unknown), "CA-XX", limit.SingleAxleMass, june)
	if shown, _ := shows(f, "single"); f.Outcome != finding.Conditional || !strings.Contains(bears(shown), "axles.one(axle: 2)") || strings.Contains(bears(shown), "axles.one(axle: 1)") {
		t.Errorf("%s, %q", f.Outcome, bears(shown))
	}
}

// Tires that nobody counted make a row one that may be about the axle: it
// tightens with its "if" and never clears.
func TestUnknownTiresArePerhaps(t *testing.T) {
	row := axleRow(t, "lone", limit.SingleAxleMass, "6000 kg", "", "", "2 tires")
	for mass, want := range map[measure.Mass]finding.Outcome{6000: finding.Unknown, 6001: finding.Conditional} {
		for tires, want := range map[int]finding.Outcome{0: want, 2: map[measure.Mass]finding.Outcome{6000: finding.Clear, 6001: finding.Conditional}[mass], 4: finding.Unknown} {
			l := like(0, mass*measure.Kilogram)
			l.Tires = tires
			f := answer(t, of(row), loaded(l), "CA-XX", limit.SingleAxleMass, june)
			shown, _ := shows(f, "lone")
			if f.Outcome != want || (tires == 0) != strings.Contains(bears(shown), "axles_") {
				t.Errorf("%d kg on %d tires: %s, %q; want %s", mass, tires, f.Outcome, bears(shown), want)
			}
		}
	}
}

// 10 kg for each mm of tire: 4 of 235 mm carry 9400 kg, and not 10 micrograms
// more. Without a width it is not known what they carry.
func TestTireLoadOfAVehicle(t *testing.T) {
	tables := of(axleRow(t, "tires", limit.TireLoadPerWidth, "10 kg/mm", "", "", ""))
	for by, want := range map[measure.Mass]finding.Outcome{-1: finding.Clear, 0: finding.Clear, 1: finding.Conditional} {
		if f := answer(t, tables, loaded(like(0, 9400*measure.Kilogram+by)), "CA-XX", limit.TireLoadPerWidth, june); f.Outcome != want {
			t.Errorf("9400 kg and %d: %s, %q; want %s", by, f.Outcome, says(f), want)
		}
	}
	for _, spoil := range []func(*limit.AxleLoad){func(l *limit.AxleLoad) { l.Width = 0 }, func(l *limit.AxleLoad) { l.Tires = 0 }} {
		l := like(0, measure.Kilogram)
		spoil(&l)
		if f := answer(t, tables, loaded(like(0, measure.Tonne), l), "CA-XX", limit.TireLoadPerWidth, june); f.Outcome != finding.Unknown || !strings.Contains(says(f), "axles.one(axle: 2)") {
			t.Errorf("%+v: %s, %q", l, f.Outcome, says(f))
		}
	}
}

// A pair between the spreads of two rows, one nearer than any of them and one
// further apart is one that no row speaks of, until a row says from where on two
// axles are none.
func TestPairsBetweenRows(t *testing.T) {
	tables := of(
		axleRow(t, "near", limit.TandemMass, "17 t", "", ">= 1.2 m and <= 1.85 m", ""),
		axleRow(t, "wide", limit.TandemMass, "18 t", "", ">= 2.4 m and < 3.0 m; apart >= 3.5 m", ""),
	)
	for mm, want := range map[measure.Length]finding.Outcome{
		1199: finding.Unknown, 1200: finding.Clear, 1850: finding.Clear, 1851: finding.Unknown, 2399: finding.Unknown, 2400: finding.Clear, 2999: finding.Clear,
		3000: finding.Unknown, 3499: finding.Unknown, 3500: finding.Clear, 9000: finding.Clear,
	} {
		v := loaded(axles(2, mm*measure.Millimetre, 16*measure.Tonne, limit.AxleLoad{Tires: 4})...)
		if f := answer(t, tables, v, "CA-XX", limit.TandemMass, june); f.Outcome != want {
			t.Errorf("%d mm: %s, %q; want %s", mm, f.Outcome, says(f), want)
		}
	}
}

// What groups count beside tandems and tridems only rows say: without any the
// question is not asked, with one it is.
func TestGroupsAreAskedAboutWhereRowsAre(t *testing.T) {
	v := loaded(axles(5, 51*measure.Foot, 80_000*measure.Pound, limit.AxleLoad{Tires: 4})...)
	bridge := axleRow(t, "bridge", limit.BridgeFormula, "500 lb (L N/(N-1) + 12 N + 36), L in ft", "", "", "")
	other := clean(inside("CA-YY"))
	for _, tc := range []struct {
		rows []limit.Row
		code string
		want int
	}{{nil, "CA-XX", 0}, {[]limit.Row{other}, "CA-XX", 0}, {[]limit.Row{bridge}, "CA-XX", 1}, {[]limit.Row{bridge}, "CA-YY", 0}, {[]limit.Row{bridge}, "", 0}} {
		found := of(tc.rows...).Check(v, Stay{Jurisdictions: []string{tc.code}, OwnerKnown: true}, june)
		got := 0
		for _, f := range found {
			if string(f.Rule) == string(limit.BridgeFormula) || string(f.Rule) == string(limit.AxleGroupMass) {
				got++
			}
		}
		if got != tc.want {
			t.Errorf("%d rows, %q: %d findings of groups, want %d", len(tc.rows), tc.code, got, tc.want)
		}
	}
	// 80 000 lb on 51 ft, evenly: the whole may weigh as much (check value 9),
	// its pairs of 32 000 lb on 12.75 ft may too.
	if f := answer(t, of(bridge), v, "CA-XX", limit.BridgeFormula, june); f.Outcome != finding.Clear {
		t.Errorf("80 000 lb on 51 ft: %s, %q", f.Outcome, says(f))
	}
	v.Loads[2].Mass = measure.Sum(v.Loads[2].Mass, measure.Exactly[measure.Mass](1))
	f := answer(t, of(bridge), v, "CA-XX", limit.BridgeFormula, june)
	if shown, _ := shows(f, "bridge"); f.Outcome != finding.Conditional || !strings.Contains(bears(shown), "axles.run(first: 1, last: 5, ") {
		t.Errorf("10 micrograms more: %s, %q", f.Outcome, bears(shown))
	}
}

// Rows without a spread speak of any axles that follow each other: they tighten
// and never clear, since how near is not said.
func TestRowsWithoutASpread(t *testing.T) {
	row := axleRow(t, "tandem", limit.TandemMass, "18 t", "", "", "")
	for tonnes, want := range map[measure.Mass]finding.Outcome{18: finding.Unknown, 19: finding.Conditional} {
		v := loaded(axles(2, 10*measure.Metre, tonnes*measure.Tonne, limit.AxleLoad{})...)
		if f := answer(t, of(row), v, "CA-XX", limit.TandemMass, june); f.Outcome != want {
			t.Errorf("%d t: %s, %q; want %s", tonnes, f.Outcome, says(f), want)
		}
	}
}

// The margin is that of the group that has the least left.
func TestMarginOfAxles(t *testing.T) {
	row := axleRow(t, "single", limit.SingleAxleMass, "9100 kg", "", "", "")
	f := answer(t, of(row), loaded(like(0, 9000*measure.Kilogram), like(4*measure.Metre, 9090*measure.Kilogram)), "CA-XX", limit.SingleAxleMass, june)
	if want := finding.Of(10 * measure.Kilogram); f.Margin != want || !strings.Contains(f.Figures.String(), "axles.one(axle: 2)") {
		t.Errorf("value %q, margin %q; want %q of axle 2", f.Figures, f.Margin, want)
	}
}

// Axles so near each other that a row for single axles speaks of them are no
// tandem; a row that cannot clear says so to nobody.
func TestCountsAsOneOnlyByARowThatClears(t *testing.T) {
	tandem := axleRow(t, "tandem", limit.TandemMass, "34000 lb", "", "> 40 in and <= 96 in", "")
	v := loaded(axles(2, 30*measure.Inch, 18_000*measure.Pound, limit.AxleLoad{Tires: 4})...)
	for name, tc := range map[string]struct {
		change func(*limit.Row)
		want   finding.Outcome
	}{
		"published":     {func(*limit.Row) {}, finding.Clear},
		"recalled":      {status(finding.Memory), finding.Unknown},
		"stale":         {func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }, finding.Unknown},
		"conditional":   {func(r *limit.Row) { r.Condition = "with air brakes" }, finding.Unknown},
		"of one axle":   {func(r *limit.Row) { r.Count = limit.Count{Least: 1, Most: 1} }, finding.Unknown},
		"of any spread": {func(r *limit.Row) { r.Spread = limit.Range{} }, finding.Unknown},
	} {
		single := axleRow(t, "single", limit.SingleAxleMass, "20000 lb", "1+", "<= 40 in", "")
		tc.change(&single)
		if f := answer(t, of(single, tandem), v, "CA-XX", limit.TandemMass, june); f.Outcome != tc.want {
			t.Errorf("%s: %s, %q; want %s", name, f.Outcome, says(f), tc.want)
		}
	}
}

// Rows of axles bind at their times as others do.
func TestAxleRowsOfTheNight(t *testing.T) {
	for outcome, want := range map[string][2]finding.Outcome{ // by day, at night
		"conditional": {finding.Unknown, finding.Conditional}, "forbidden": {finding.Conditional, finding.Forbidden},
	} {
		row := read(t, map[string]string{"quantity": "single_axle_mass", "threshold": "5 t", "when": "sunset-sunrise", "outcome": outcome})
		for i, from := range []string{"12:00", "22:00"} {
			f := rule(t, of(row).Check(loaded(like(0, 6*measure.Tonne)), leg(on(from).Add(time.Hour), winnipeg), on(from)), "single_axle_mass")
			if f.Outcome != want[i] {
				t.Errorf("%s at %s: %s, %q; want %s", outcome, from, f.Outcome, says(f), want[i])
			}
		}
	}
}

// A formula of pairs alone leaves greater groups open.
func TestFormulaOfPairsDoesNotClearGreaterGroups(t *testing.T) {
	for group, want := range map[string]map[int]finding.Outcome{
		"2": {2: finding.Clear, 3: finding.Unknown}, "2+": {2: finding.Clear, 3: finding.Clear}, "3": {2: finding.Unknown, 3: finding.Unknown},
	} {
		row := axleRow(t, "bridge", limit.BridgeFormula, "500 lb (L N/(N-1) + 12 N + 36), L in ft", group, "", "")
		for n, want := range want {
			v := loaded(axles(n, 10*measure.Metre, 3*measure.Tonne, limit.AxleLoad{Tires: 4})...)
			if f := answer(t, of(row), v, "CA-XX", limit.BridgeFormula, june); f.Outcome != want {
				t.Errorf("of %s axles, a rig of %d: %s, %q; want %s", group, n, f.Outcome, says(f), want)
			}
		}
	}
}

// Three axles of 11 t at 1.6 m: the rows speak of nearer pairs, of tridems of other
// spreads and of greater groups. None of them clears what it does not speak of.
func TestWeighedGroupIsNotClearedByRowsThatDoNotSpeakOfIt(t *testing.T) {
	tables := of(
		axleRow(t, "tandem", limit.TandemMass, "17 t", "", ">= 1.0 m and <= 1.2 m", ""),
		axleRow(t, "tridem", limit.TridemMass, "21 t", "", ">= 2.4 m and <= 3.0 m", ""),
		axleRow(t, "group", limit.AxleGroupMass, "40 t", "6+", "<= 10 m", ""),
	)
	v := loaded(axles(3, 3200*measure.Millimetre, 33*measure.Tonne, limit.AxleLoad{Tires: 4})...)
	for _, q := range []limit.Quantity{limit.TandemMass, limit.TridemMass, limit.AxleGroupMass} {
		f := answer(t, tables, v, "CA-XX", q, june)
		if f.Outcome != finding.Unknown || !strings.Contains(says(f), "axles.no_row_apart(axles: axles.run(") {
			t.Errorf("%s: %s, %q", q, f.Outcome, says(f))
		}
	}
}

// That axles stand too far apart to be a group, only a firm row says that says so.
func TestTooFarApartNeedsAFirmRowThatSaysSo(t *testing.T) {
	v := loaded(axles(2, 4*measure.Metre, 16*measure.Tonne, limit.AxleLoad{Tires: 4})...)
	const near = ">= 1.2 m and <= 1.85 m"
	for name, tc := range map[string]struct {
		spread, axle string
		change       func(*limit.Row)
		want         finding.Outcome
	}{
		"it says so":                    {near + "; apart > 1.85 m", "", func(*limit.Row) {}, finding.Clear},
		"it does not":                   {near, "", func(*limit.Row) {}, finding.Unknown},
		"from further on":               {near + "; apart > 4 m", "", func(*limit.Row) {}, finding.Unknown},
		"of other axles":                {near + "; apart > 1.85 m", "2 tires", func(*limit.Row) {}, finding.Unknown},
		"recalled":                      {near + "; apart > 1.85 m", "", status(finding.Memory), finding.Unknown},
		"stale":                         {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) }, finding.Unknown},
		"with a condition":              {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.Condition = "with air brakes" }, finding.Unknown},
		"a step above the legal limit":  {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.Tier = limit.Beyond }, finding.Unknown},
		"of three axles or more":        {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.Count = limit.Count{Least: 3} }, finding.Unknown},
		"if it counts as a semitrailer": {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.Form = limit.Semitrailer }, finding.Unknown},
		"on roads that are not known":   {near + "; apart > 1.85 m", "", func(r *limit.Row) { r.Road = "bridges" }, finding.Unknown},
	} {
		row := axleRow(t, "tandem", limit.TandemMass, "17 t", "", tc.spread, tc.axle)
		tc.change(&row)
		beside := axleRow(t, "beside", limit.TandemMass, "17 t", "", near, "")
		if f := answer(t, of(row, beside), v, "CA-XX", limit.TandemMass, june); f.Outcome != tc.want {
			t.Errorf("%s: %s, %q; want %s", name, f.Outcome, says(f), tc.want)
		}
	}
}

// A pair or three that the law answers as a tandem or tridem needs no row for
// groups; a greater group does.
func TestGroupOfATandemIsAnsweredByItsRow(t *testing.T) {
	tandem := axleRow(t, "tandem", limit.TandemMass, "17 t", "", "<= 1.85 m", "")
	group := axleRow(t, "group", limit.AxleGroupMass, "26 t", "3", "<= 4 m", "")
	recalled := tandem
	recalled.Status = finding.Memory
	for name, tc := range map[string]struct {
		rows  []limit.Row
		axles int
		want  finding.Outcome
	}{
		"both":                {[]limit.Row{tandem, group}, 3, finding.Clear},
		"the group alone":     {[]limit.Row{group}, 3, finding.Unknown},
		"a recalled tandem":   {[]limit.Row{recalled, group}, 3, finding.Unknown},
		"four axles, of both": {[]limit.Row{tandem, group}, 4, finding.Unknown},
	} {
		v := loaded(axles(tc.axles, measure.Length(tc.axles-1)*1300*measure.Millimetre, 12*measure.Tonne, limit.AxleLoad{Tires: 4})...)
		if f := answer(t, of(tc.rows...), v, "CA-XX", limit.AxleGroupMass, june); f.Outcome != tc.want {
			t.Errorf("%s: %s, %q; want %s", name, f.Outcome, says(f), tc.want)
		}
	}
}
