package limit

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/measure"
)

const inch = measure.Inch

// Ends of ranges to the nanometre. 40 in is still a single axle, over 40 in and
// up to 96 in is a tandem (23 CFR 658.5 by the questions and answers of the
// FHWA on 658.17; SEEN, check values 5 and 6).
func TestRangeAtItsEnds(t *testing.T) {
	const mm = measure.Millimetre
	for text, ends := range map[string][]struct {
		at   measure.Length
		want bool
	}{
		"<= 40 in":              {{0, true}, {39 * inch, true}, {40*inch - 1, true}, {40 * inch, true}, {40*inch + 1, false}, {41 * inch, false}},
		"> 40 in and <= 96 in":  {{0, false}, {40 * inch, false}, {40*inch + 1, true}, {41 * inch, true}, {96 * inch, true}, {96*inch + 1, false}},
		"<= 96 in and > 40 in":  {{40 * inch, false}, {41 * inch, true}, {96 * inch, true}, {97 * inch, false}},
		"< 3.0 m":               {{0, true}, {3000*mm - 1, true}, {3000 * mm, false}},
		">= 2.4 m and < 3.0 m":  {{2400*mm - 1, false}, {2400 * mm, true}, {3000*mm - 1, true}, {3000 * mm, false}},
		">= 3.6 m and <= 3.7 m": {{3600*mm - 1, false}, {3600 * mm, true}, {3700 * mm, true}, {3700*mm + 1, false}},
		"> 8 ft":                {{96 * inch, false}, {96*inch + 1, true}, {measure.MaxLength, true}},
		">= 1.8 m":              {{1800*mm - 1, false}, {1800 * mm, true}, {measure.MaxLength, true}},
		"":                      {{0, true}, {measure.MaxLength, true}},
		"  ":                    {{0, true}},
	} {
		r, err := ParseRange(text)
		if err != nil || r.Given != (strings.TrimSpace(text) != "") {
			t.Errorf("%q: %+v, %v", text, r, err)
		}
		for _, end := range ends {
			if got := r.Holds(end.at); got != end.want {
				t.Errorf("%q holds %d nm: %v", text, end.at, got)
			}
		}
	}
}

// At which distances axles count together, and at which a source says that they do
// not: a nanometre below 96 in, there, above.
func TestSpreadThatSaysWhenAxlesAreApart(t *testing.T) {
	for text, want := range map[string]struct{ together, apart [3]bool }{
		"<= 96 in":                              {[3]bool{true, true, false}, [3]bool{}},
		"<= 96 in; apart > 96 in":               {[3]bool{true, true, false}, [3]bool{false, false, true}},
		"> 40 in and < 96 in; apart >= 96 in":   {[3]bool{true, false, false}, [3]bool{false, true, true}},
		"> 40 in and <= 72 in ;apart  > 8 ft":   {[3]bool{}, [3]bool{false, false, true}},
		"> 40 in and <= 72 in; apart > 2.43 m ": {[3]bool{}, [3]bool{true, true, true}},
	} {
		together, apart, err := parseSpread(text)
		r := Row{Count: Count{2, 2}, Spread: together, Apart: apart}
		for i, at := range []measure.Length{96*inch - 1, 96 * inch, 96*inch + 1} {
			loads := []AxleLoad{{}, {At: at}}
			if got := r.SetsApart(loads, Group{First: 1, Last: 2, Spread: at}); err != nil || got != want.apart[i] || together.Holds(at) != want.together[i] {
				t.Errorf("%q, %d nm: together %v, apart %v, %v; want %v", text, at, together.Holds(at), got, err, want)
			}
		}
	}
	for _, text := range []string{
		"; apart > 96 in", "<= 96 in;", "<= 96 in; > 96 in", "<= 96 in; apart", "<= 96 in; apart 96 in", "<= 96 in; apart >= 96 in", "<= 96 in; apart > 95 in",
		"<= 96 in; apart < 200 in", "<= 96 in; apart > 100 in and < 200 in", "> 40 in; apart > 96 in", "<= 96 in; apart > 96 in; apart > 97 in", "<= 96; apart > 96 in",
	} {
		if together, apart, err := parseSpread(text); err == nil {
			t.Errorf("%q is read as %+v and %+v", text, together, apart)
		}
	}
}

// A row says nothing of axles that it may not be about, nor of another number.
func TestOnlyItsOwnAxlesAreSetApart(t *testing.T) {
	r := axleRow(t, TandemMass, "17 t", "", "<= 1.85 m; apart > 1.85 m", "4 tires")
	for name, tc := range map[string]struct {
		tires []int
		want  bool
	}{"its own": {[]int{4, 4}, true}, "others": {[]int{4, 2}, false}, "not counted": {[]int{0, 4}, false}, "three": {[]int{4, 4, 4}, false}} {
		var loads []AxleLoad
		for i, n := range tc.tires {
			loads = append(loads, AxleLoad{At: measure.Length(i) * 2 * measure.Metre, Tires: n})
		}
		if got := r.SetsApart(loads, Group{First: 1, Last: len(loads), Spread: loads[len(loads)-1].At}); got != tc.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestParseRangeBad(t *testing.T) {
	for _, text := range []string{
		"40 in", "= 40 in", "=< 40 in", "<> 40 in", "<=", "<= 40", "<= 40 kg", "<= -40 in", "<= 0 in", "> 96 in and <= 40 in", "> 40 in and", "and <= 96 in",
		"> 40 in or <= 96 in", "> 40 in, <= 96 in", "40 in to 96 in", "40-96 in", "between", "<= 4,150 m",
	} {
		if r, err := ParseRange(text); err == nil {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}

func TestParseCount(t *testing.T) {
	for _, tc := range []struct {
		q    Quantity
		text string
		want Count
	}{
		{SingleAxleMass, "", Count{1, 1}}, {SteeringAxleMass, "", Count{1, 1}}, {TireLoadPerWidth, "", Count{1, 1}},
		{TandemMass, "", Count{2, 2}}, {TridemMass, "", Count{3, 3}}, {AxleGroupMass, "", Count{2, 0}}, {BridgeFormula, "", Count{2, 0}},
		{SingleAxleMass, "1+", Count{1, 0}}, {TandemMass, "2", Count{2, 2}}, {TandemMass, "2+", Count{2, 0}}, {AxleGroupMass, "4", Count{4, 4}},
		{AxleGroupMass, "12+", Count{12, 0}},
	} {
		got, ok := parseCount(tc.q, tc.text)
		if !ok || got != tc.want {
			t.Errorf("%s, %q: %+v, %v; want %+v", tc.q, tc.text, got, ok, tc.want)
		}
	}
	for _, text := range []string{"0", "0+", "-2", "+2", "2-3", "two", "2.0", "2 +", "100", "2++"} {
		if got, ok := parseCount(TandemMass, text); ok {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}

func TestCountHolds(t *testing.T) {
	for _, tc := range []struct {
		c    Count
		want string // of 0 to 5 axles
	}{{Count{1, 1}, "010000"}, {Count{2, 2}, "001000"}, {Count{2, 0}, "001111"}, {Count{1, 0}, "011111"}, {Count{3, 4}, "000110"}} {
		got := ""
		for n := range 6 {
			got += map[bool]string{true: "1", false: "0"}[tc.c.holds(n)]
		}
		if got != tc.want {
			t.Errorf("%+v: %s, want %s", tc.c, got, tc.want)
		}
	}
}

// What an axle is not known to be, it may be; what it is known not to be, it is
// not.
func TestAxleTest(t *testing.T) {
	const mm = measure.Millimetre
	single := AxleLoad{Tires: 2, Width: 235 * mm}
	dual := AxleLoad{Tires: 4, Width: 235 * mm}
	wide := AxleLoad{Tires: 2, Width: 445 * mm}
	steering := AxleLoad{Tires: 2, Width: 235 * mm, Steering: true}
	bare := AxleLoad{}
	some := AxleLoad{Tires: 2}
	for text, want := range map[string][6]Applies{ // single, dual, wide, steering, bare, some
		"":                                    {Yes, Yes, Yes, Yes, Yes, Yes},
		"steering":                            {No, No, No, Yes, No, No},
		"not steering":                        {Yes, Yes, Yes, No, Yes, Yes},
		"2 tires":                             {Yes, No, Yes, Yes, Perhaps, Yes},
		"4 tires":                             {No, Yes, No, No, Perhaps, No},
		">= 445 mm wide":                      {No, No, Yes, No, Perhaps, Perhaps},
		"not steering, 2 tires":               {Yes, No, Yes, No, Perhaps, Yes},
		"not steering,2 tires,>= 445 mm wide": {No, No, Yes, No, Perhaps, Perhaps},
	} {
		a, err := parseAxleTest(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
		for i, l := range []AxleLoad{single, dual, wide, steering, bare, some} {
			if got := a.of(l, true); got != want[i] {
				t.Errorf("%q of %+v: %d, want %d", text, l, got, want[i])
			}
		}
	}
	for _, text := range []string{"steer", "two tires", "0 tires", "17 tires", "-2 tires", "tires", "2 wheels", "445 mm wide", "< 445 wide", "steering and 2 tires"} {
		if _, err := parseAxleTest(text); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// row reads a row of axles from its cells; what they leave out is that of a row
// that clears.
func axleRow(t testing.TB, q Quantity, threshold, group, spread, axle string) Row {
	t.Helper()
	r, err := Table().Row(2, good(map[string]string{"quantity": string(q), "threshold": threshold, "published": threshold, "group": group, "spread": spread, "axle": axle}))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func names(groups []Group) string {
	var out []string
	for _, g := range groups {
		out = append(out, fmt.Sprintf("%d-%d", g.First, g.Last))
	}
	return strings.Join(out, " ")
}

// A tow vehicle with a single axle and a tandem 48 in apart, and a trailer with
// a tandem at 40 in (invented): feet behind the first axle 0, 14, 18, 40, 43 1/3.
func TestGroups(t *testing.T) {
	loads := stand([]measure.Length{0, 14, 18, 40, 43}, 10_000, 9_000, 9_000, 8_000, 8_000)
	loads[4].At = loads[3].At + 40*inch
	loads[0].Steering, loads[0].Tires = true, 2
	for _, tc := range []struct {
		q                   Quantity
		group, spread, axle string
		want                string
		sure                Applies
	}{
		{SingleAxleMass, "", "", "", "1-1 2-2 3-3 4-4 5-5", Yes},
		{SingleAxleMass, "1+", "<= 40 in", "", "1-1 2-2 3-3 4-4 4-5 5-5", Yes},
		{SingleAxleMass, "", "", "steering", "1-1", Yes},
		{SingleAxleMass, "", "", "not steering", "2-2 3-3 4-4 5-5", Yes},
		{SteeringAxleMass, "", "", "steering", "1-1", Yes},
		{TandemMass, "", "> 40 in and <= 96 in", "", "2-3", Yes},
		{TandemMass, "2+", "> 40 in and <= 96 in", "", "2-3", Yes},
		{TandemMass, "", ">= 40 in and <= 96 in", "", "2-3 4-5", Yes},
		{TandemMass, "", "", "", "1-2 2-3 3-4 4-5", Perhaps}, // how near is not said
		{TandemMass, "", "<= 96 in", "not steering, 4 tires", "2-3 4-5", Yes},
		{TandemMass, "", "<= 96 in", "steering", "", Yes},
		{TridemMass, "", "<= 20 ft", "", "1-3", Yes},
		{TridemMass, "", "<= 30 ft", "not steering", "2-4 3-5", Yes},
		{AxleGroupMass, "", ">= 18 ft and <= 30 ft", "", "1-3 2-4 2-5 3-4 3-5", Yes},
		{AxleGroupMass, "4+", "<= 100 ft", "", "1-4 1-5 2-5", Yes},
		{AxleGroupMass, "6", "<= 100 ft", "", "", Yes},
		{SingleAxleMass, "", "", "2 tires", "1-1", Yes},
	} {
		r := axleRow(t, tc.q, "20000 lb", tc.group, tc.spread, tc.axle)
		got, sure := r.Groups(loads)
		if names(got) != tc.want || sure != tc.sure {
			t.Errorf("%s %q %q %q: %q, sure %d; want %q, %d", tc.q, tc.group, tc.spread, tc.axle, names(got), sure, tc.want, tc.sure)
		}
		for _, g := range got {
			var mass measure.Mass
			for _, l := range loads[g.First-1 : g.Last] {
				one, _ := l.Mass.Value()
				mass += one
			}
			if of, ok := g.Mass.Value(); !ok || of != mass || g.Spread != loads[g.Last-1].At-loads[g.First-1].At || g.Limit != Amount(20_000*pounds) {
				t.Errorf("%s of row %s: %+v", g.Name(), tc.q, g)
			}
		}
	}
}

// Tires that nobody counted: the row may speak of the axle, and of the group
// that it is in.
func TestGroupsOfUnknownTires(t *testing.T) {
	loads := stand([]measure.Length{0, 4, 20}, 1, 1, 1)
	loads[1].Tires = 0
	for _, tc := range []struct {
		axle, want string
		sure       Applies
	}{{"4 tires", "1-2", Perhaps}, {"2 tires", "", Yes}, {"< 445 mm wide", "1-2", Yes}, {"", "1-2", Yes}} {
		got, sure := axleRow(t, TandemMass, "10 t", "", "<= 96 in", tc.axle).Groups(loads)
		if names(got) != tc.want || sure != tc.sure {
			t.Errorf("%q: %q, sure %d; want %q, %d", tc.axle, names(got), sure, tc.want, tc.sure)
		}
	}
}

func TestBeyondAGroup(t *testing.T) {
	for _, inclusive := range []bool{false, true} {
		r := axleRow(t, TandemMass, "34000 lb", "", "> 40 in and <= 96 in", "")
		r.Inclusive = inclusive
		for by, want := range map[measure.Mass]bool{-1: false, 0: inclusive, 1: true} {
			loads := stand([]measure.Length{0, 4}, 17_000, 17_000)
			loads[0].Mass = heavier(loads[0], by)
			groups, _ := r.Groups(loads)
			if got := len(r.Beyond(groups)) == 1; got != want {
				t.Errorf("inclusive %v, 34 000 lb and %d tens of micrograms: beyond %v", inclusive, by, got)
			}
			loads[1].Mass = measure.Known[measure.Mass]{}
			if groups, _ := r.Groups(loads); len(groups) != 1 || len(r.Beyond(groups)) != 0 {
				t.Errorf("of unknown mass: %+v", groups)
			}
		}
	}
}

func TestParsePerWidth(t *testing.T) {
	for text, want := range map[string]PerWidth{
		"10 kg/mm":   {10 * measure.Kilogram, measure.Millimetre},
		"500 lb/in":  {500 * measure.Pound, measure.Inch},
		"100 kg/cm":  {100 * measure.Kilogram, measure.Centimetre},
		"10 kg / mm": {10 * measure.Kilogram, measure.Millimetre},
	} {
		if got, err := parsePerWidth(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "10 kg", "10 kg/", "/mm", "10/mm", "10 kg/kg", "10 mm/kg", "0 kg/mm", "10 kg per mm", "10 kg/mm/mm"} {
		if got, err := parsePerWidth(text); err == nil {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}

// What tires may carry is exact and rounded down: a load may weigh as much and
// not one unit more. By hand: 4 tires of 235 mm at 10 kg/mm carry 9400 kg; at
// 500 lb/in, 940 mm are 37.007874 in and carry 18 503.937 lb.
func TestTireLoad(t *testing.T) {
	mass := measure.Exactly(measure.Tonne)
	dual := AxleLoad{Mass: mass, Tires: 4, Width: 235 * measure.Millimetre}
	for text, want := range map[string]Amount{
		"10 kg/mm":  Amount(9400 * measure.Kilogram),
		"11 kg/mm":  Amount(10_340 * measure.Kilogram),
		"500 lb/in": Amount(839_324_464_173), // 940 x 500 x 45 359 237 / 25.4 = 839 324 464 173.228
	} {
		groups, sure := axleRow(t, TireLoadPerWidth, text, "", "", "").Groups([]AxleLoad{dual})
		if len(groups) != 1 || groups[0].Limit != want || sure != Yes {
			t.Errorf("%s: %v allow %d, sure %d; want %d", text, groups, groups[0].Limit, sure, want)
		}
	}
	for name, l := range map[string]AxleLoad{"no tires": {Mass: mass, Width: dual.Width}, "no width": {Mass: mass, Tires: 4}, "neither": {Mass: mass}} {
		groups, _ := axleRow(t, TireLoadPerWidth, "10 kg/mm", "", "", "").Groups([]AxleLoad{l})
		if len(groups) != 1 || groups[0].Limit != 0 {
			t.Errorf("%s: %+v, want a limit that is not known", name, groups)
		}
	}
	// Of a group that a row names, all tires count, and one unknown spoils it.
	pair := axleRow(t, TireLoadPerWidth, "10 kg/mm", "2", "<= 2 m", "")
	if groups, _ := pair.Groups([]AxleLoad{dual, dual}); len(groups) != 1 || groups[0].Limit != Amount(18_800*measure.Kilogram) {
		t.Errorf("a pair: %v allow %d", groups, groups[0].Limit)
	}
	if groups, _ := pair.Groups([]AxleLoad{dual, {Mass: mass, Tires: 4}}); len(groups) != 1 || groups[0].Limit != 0 {
		t.Errorf("a pair of which one width is not known: %+v", groups)
	}
}

func TestTireLoadIsRoundedDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := PerWidth{
			Mass:  measure.Mass(rapid.Int64Range(1, int64(measure.MaxMass)).Draw(t, "mass")),
			Width: rapid.SampledFrom([]measure.Length{1, measure.Millimetre, measure.Inch, measure.Metre}).Draw(t, "per"),
		}
		width := measure.Length(rapid.Int64Range(1, int64(20*measure.Metre)).Draw(t, "width"))
		want := new(big.Int).Mul(big.NewInt(int64(p.Mass)), big.NewInt(int64(width)))
		want.Div(want, big.NewInt(int64(p.Width)))
		got := p.over(width)
		if want.IsInt64() && int64(got) != want.Int64() || !want.IsInt64() && int64(got) != 1<<63-1 {
			t.Fatalf("%+v over %d: %d, want %s", p, width, got, want)
		}
	})
}

// Columns of axles say nothing of a height.
func TestAxleColumnsAreForAxles(t *testing.T) {
	for column, text := range map[string]string{"group": "2", "spread": "<= 40 in", "axle": "steering"} {
		if _, err := Table().Row(2, good(map[string]string{column: text})); err == nil || !strings.Contains(err.Error(), "column "+column) {
			t.Errorf("%s %q of a height: %v", column, text, err)
		}
	}
	for _, cells := range []map[string]string{
		{"quantity": "tandem_mass", "threshold": "10 t", "group": "two"},
		{"quantity": "tandem_mass", "threshold": "10 t", "spread": "40 in"},
		{"quantity": "single_axle_mass", "threshold": "10 t", "spread": "<= 1 m; apart > 1 m"},
		{"quantity": "tandem_mass", "threshold": "10 t", "axle": "dually"},
		{"quantity": "tandem_mass", "threshold": "10 kg/mm"},
		{"quantity": "tire_load_per_mm", "threshold": "10 t"},
		{"quantity": "bridge_formula", "threshold": "36000 kg"},
	} {
		if r, err := Table().Row(2, good(cells)); err == nil {
			t.Errorf("%v is read as %+v", cells, r)
		}
	}
}

func TestNameOfAGroup(t *testing.T) {
	for want, g := range map[string]Group{
		"axles.one(axle: 3)": {First: 3, Last: 3},
		"axles.run(first: 2, last: 5, apart: 10.668 m (35 ft 0 in))": {First: 2, Last: 5, Spread: 35 * feet},
	} {
		if got := g.Name().String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A range that is read holds what each of its parts holds.
func FuzzParseRange(f *testing.F) {
	for _, text := range []string{"", "> 40 in and <= 96 in", "< 3.0 m", ">= 1.8 m", "<= 13'6\"", "> 96 in and < 40 in", ">=< 1 m", " and ", "> 1 m and  <= 2 m"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseRange(text)
		if err != nil || !r.Given {
			if err == nil && strings.TrimSpace(text) != "" {
				t.Fatalf("%q is read as any length", text)
			}
			return
		}
		type part struct {
			sign string
			end  measure.Length
		}
		var parts []part
		for _, words := range strings.Split(text, " and ") {
			words = strings.TrimSpace(words)
			end := strings.TrimLeft(words, "<>=")
			l, err := measure.ParseLength(end)
			if err != nil {
				t.Fatalf("%q is read although %q is no length", text, end)
			}
			parts = append(parts, part{strings.TrimSuffix(words, end), l})
		}
		for _, p := range parts {
			for _, at := range []measure.Length{p.end - 1, p.end, p.end + 1} {
				want := true
				for _, q := range parts {
					want = want && map[string]bool{"<": at < q.end, "<=": at <= q.end, ">": at > q.end, ">=": at >= q.end}[q.sign]
				}
				if got := r.Holds(at); got != want {
					t.Fatalf("%q holds %d nm: %v", text, at, got)
				}
			}
		}
	})
}
