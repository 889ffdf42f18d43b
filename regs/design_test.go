package regs

import (
	"fmt"
	"math"
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
	"wayhouse/regs/say"
)

func inclusive(r *limit.Row) { r.Inclusive = true }
func further(r *limit.Row)   { r.Tier = limit.Beyond }
func escorts(n int) rowChange {
	return func(r *limit.Row) { r.EscortsSaid, r.Demands.EscortsAny = true, n }
}
func hangsOn(words string) rowChange { return func(r *limit.Row) { r.Condition = words } }

type rowChange = func(*limit.Row)

// designed asks of one quantity in one jurisdiction.
func designed(t fataler, tables *Tables, v Vehicle, code string, q limit.Quantity) Answer {
	t.Helper()
	for _, a := range tables.Design(v, []string{code}, june).Answers {
		if a.Jurisdiction == code && a.Quantity == q {
			return a
		}
	}
	t.Fatalf("no answer on %s in %s", q, code)
	return Answer{}
}

// The next step is the lowest threshold that the value is not beyond yet,
// whether it is the legal limit or one further up.
func TestNextStep(t *testing.T) {
	recalled := func(r *limit.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} }
	ban := clean(at("ban", 460), further, asks(finding.Forbidden))
	type step struct {
		row, margin string
		outcome     finding.Outcome
		firm        bool
	}
	for name, tc := range map[string]struct {
		centimetres limit.Amount
		rows        []limit.Row
		want        *step
	}{
		"below the first":         {390, []limit.Row{ban, clean(at("legal", 415))}, &step{"legal", "0.25 m", finding.Conditional, true}},
		"at the first":            {415, []limit.Row{ban, clean(at("legal", 415))}, &step{"legal", "0 m", finding.Conditional, true}},
		"at it, inclusive":        {415, []limit.Row{ban, clean(at("legal", 415), inclusive)}, &step{"ban", "0.45 m", finding.Forbidden, true}},
		"below it, inclusive":     {414, []limit.Row{ban, clean(at("legal", 415), inclusive)}, &step{"legal", "0.01 m", finding.Conditional, true}},
		"between two":             {416, []limit.Row{ban, clean(at("legal", 415))}, &step{"ban", "0.44 m", finding.Forbidden, true}},
		"beyond the last":         {461, []limit.Row{ban, clean(at("legal", 415))}, nil},
		"no row":                  {390, nil, nil},
		"no legal row below it":   {390, []limit.Row{ban}, nil},
		"a legal row above it":    {390, []limit.Row{ban, clean(at("legal", 470))}, nil},
		"perhaps the legal one":   {390, []limit.Row{ban, clean(at("unsure", 415), func(r *limit.Row) { r.Tier = limit.Unsure })}, &step{"unsure", "0.25 m", finding.Conditional, true}},
		"only recalled":           {390, []limit.Row{clean(at("legal", 415), recalled)}, &step{"legal", "0.25 m", finding.Conditional, false}},
		"read too long ago":       {390, []limit.Row{clean(at("legal", 415), func(r *limit.Row) { r.ReadOn = june.AddDate(-2, 0, 0) })}, &step{"legal", "0.25 m", finding.Conditional, false}},
		"perhaps of such a kind":  {390, []limit.Row{clean(at("legal", 415), kind(limit.TinyHome))}, &step{"legal", "0.25 m", finding.Conditional, false}},
		"under a condition":       {390, []limit.Row{clean(at("legal", 415), hangsOn("with air brakes"))}, &step{"legal", "0.25 m", finding.Conditional, false}},
		"of the whole country":    {390, []limit.Row{clean(at("legal", 415), inside("CA"))}, &step{"legal", "0.25 m", finding.Conditional, false}},
		"a country's beside it":   {390, []limit.Row{clean(at("country", 400), inside("CA")), clean(at("legal", 415))}, &step{"country", "0.1 m", finding.Conditional, false}},
		"a country's of the same": {390, []limit.Row{clean(at("country", 415), inside("CA")), clean(at("legal", 415))}, &step{"legal", "0.25 m", finding.Conditional, true}},
		"a floor is not used":     {390, []limit.Row{clean(at("floor", 400), inside("CA"), func(r *limit.Row) { r.Tier = limit.Unsure }), clean(at("legal", 415))}, &step{"legal", "0.25 m", finding.Conditional, true}},
		"no longer in force":      {390, []limit.Row{clean(at("past", 400), func(r *limit.Row) { r.ValidTo = dayFromJune(-1) }), clean(at("legal", 415))}, &step{"legal", "0.25 m", finding.Conditional, true}},
	} {
		got := designed(t, of(tc.rows...), high(tc.centimetres), "CA-XX", limit.Height).Next
		if tc.want == nil {
			if got != nil {
				t.Errorf("%s: %+v, want none", name, *got)
			}
			continue
		}
		if got == nil {
			t.Errorf("%s: none, want %+v", name, *tc.want)
			continue
		}
		margin := metric(got.Margin)
		if have := (step{got.Row, margin, got.Outcome, got.Firm}); have != *tc.want || got.Limit == "" {
			t.Errorf("%s: %+v by %q, want %+v", name, have, got.Limit, *tc.want)
		}
	}
	// What is asked beyond it, and on what it hangs, stands with it.
	row := clean(at("legal", 415), kind(limit.TinyHome), escorts(2), hangsOn("with air brakes"))
	got := designed(t, of(row), high(390), "CA-XX", limit.Height).Next
	if got.Demands.EscortsAny != 2 || !slices.Equal(say.Strings(got.Demands.Conditions), []string{"with air brakes"}) || !slices.Equal(say.Strings(got.Hangs), []string{"hangs.kind(kind: tiny_home)"}) {
		t.Errorf("%+v", got)
	}
	// A value that is not given has no next step; a least value has one.
	if got := designed(t, of(clean()), Vehicle{}, "CA-XX", limit.Height); got.Next != nil || !got.ToClear.None() {
		t.Errorf("nothing given: %+v", got)
	}
	least := Vehicle{Measures: map[limit.Quantity]Measure{limit.Height: measure.AtLeast(4 * metre)}}
	if got := designed(t, of(clean()), least, "CA-XX", limit.Height); got.Next == nil || !got.ToClear.None() {
		t.Errorf("a least value: %+v", got)
	}
}

func TestToClear(t *testing.T) {
	recalled := func(r *limit.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} }
	less := func(millimetres limit.Amount, within bool) string {
		by := limit.Height.Of(millimetres * centi / 10)
		if within {
			return say.That("limit.less_within", "by", by, "how", limit.Height.Less()).String()
		}
		return say.That("limit.less", "by", by, "how", limit.Height.Less()).String()
	}
	for name, tc := range map[string]struct {
		centimetres limit.Amount
		rows        []limit.Row
		want        string
	}{
		"clear":                        {415, []limit.Row{clean()}, ""},
		"beyond the legal limit":       {427, []limit.Row{clean()}, less(120, false)},
		"at it, inclusive":             {415, []limit.Row{clean(inclusive)}, less(1, false)},
		"beyond two":                   {465, []limit.Row{clean(), clean(at("ban", 460), further, asks(finding.Forbidden))}, less(500, false)},
		"the stricter of two":          {427, []limit.Row{clean(), clean(at("other", 410))}, less(170, false)},
		"a recalled one is stricter":   {427, []limit.Row{clean(), clean(at("other", 410), recalled)}, less(170, false)},
		"only a recalled one":          {427, []limit.Row{clean(recalled)}, less(120, true)},
		"two recalled ones":            {427, []limit.Row{clean(recalled), clean(at("other", 410), recalled)}, less(170, true)},
		"three, the last not exceeded": {417, []limit.Row{clean(at("high", 420), recalled), clean(at("other", 410), recalled), clean(recalled)}, less(70, true)},
		"within a recalled one":        {400, []limit.Row{clean(recalled)}, ""},
		"within it, under a condition": {400, []limit.Row{clean(hangsOn("with air brakes"))}, ""},
		"a country's alone":            {427, []limit.Row{clean(inside("CA"))}, less(120, true)},
		"no row":                       {427, nil, ""},
	} {
		got := designed(t, of(tc.rows...), high(tc.centimetres), "CA-XX", limit.Height)
		if got.ToClear.String() != tc.want || !got.ToClear.None() && got.Findings[0].Outcome == finding.Clear {
			t.Errorf("%s: %q, want %q", name, got.ToClear, tc.want)
		}
	}
}

// Every size is made less by its own excess; what axles carry is not.
func TestToClearOfEveryQuantity(t *testing.T) {
	for _, q := range limit.Quantities() {
		legal, excess := 2*metre, 12*centi
		if q == limit.GrossMass {
			legal, excess = 2000*limit.Amount(measure.Kilogram), 120*limit.Amount(measure.Kilogram)
		}
		row := clean(func(r *limit.Row) { r.Quantity, r.Threshold = q, legal })
		got, want := designed(t, of(row), with(limit.Subject{}, q, legal+excess), "CA-XX", q).ToClear, say.Remark{}
		if !q.OfAxles() {
			want = say.That("limit.less", "by", q.Of(excess), "how", q.Less())
		}
		if got.String() != want.String() {
			t.Errorf("%s: %s, want %s", q, got, want)
		}
	}
}

// An answer of the office that settles a quantity leaves nothing to be made
// less; a refusal is not mended by a smaller unit within the rows.
func TestToClearAfterAnAnswer(t *testing.T) {
	contact := settlingRow("asked", limit.Height, finding.Clear, 4*metre+50*centi)
	recalled := clean(func(r *limit.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} })
	tables := NewTables("test", Rows{Limits: pointers([]limit.Row{recalled}), Contacts: pointers(contact)}, nil)
	got := designed(t, tables, measured(400, 260), "CA-XX", limit.Height)
	if got.Findings[0].Outcome != finding.Clear || !got.ToClear.None() {
		t.Errorf("%s, %q", got.Findings[0].Outcome, got.ToClear)
	}
	contact = settlingRow("asked", limit.Height, finding.Forbidden, 0)
	tables = NewTables("test", Rows{Limits: pointers([]limit.Row{recalled}), Contacts: pointers(contact)}, nil)
	got = designed(t, tables, high(400), "CA-XX", limit.Height)
	if got.Findings[0].Outcome != finding.Forbidden || !got.ToClear.None() {
		t.Errorf("%s, %q", got.Findings[0].Outcome, got.ToClear)
	}
}

// settling is an invented answer of an office on one quantity, for sizes up to
// a height and those of a rig that is [measured].
func settlingRow(id string, q limit.Quantity, o finding.Outcome, most limit.Amount) []permit.Contact {
	k := permit.Contact{
		ID: id, Jurisdiction: "CA-XX", Asked: "the height", AnsweredBy: "a clerk", AnsweredOn: june.AddDate(0, -1, 0), Outcome: o, Settles: []finding.Rule{finding.Rule(q)},
	}
	if most > 0 {
		k.Sizes = map[limit.Quantity]limit.Amount{limit.Height: most, limit.Width: 3 * metre, limit.CombinationLength: 20 * metre, limit.GrossMass: limit.Amount(10 * measure.Tonne)}
	}
	return []permit.Contact{k}
}

// largestOf is the line of an envelope on one quantity.
func largestOf(t fataler, lines []Largest, q limit.Quantity) Largest {
	t.Helper()
	i := slices.IndexFunc(lines, func(l Largest) bool { return l.Quantity == q })
	if i < 0 {
		t.Fatalf("no line on %s", q)
	}
	return lines[i]
}

func TestLargest(t *testing.T) {
	recalled := func(r *limit.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} }
	in := func(code string, changes ...rowChange) limit.Row { return clean(append(changes, inside(code))...) }
	for name, tc := range map[string]struct {
		rows []limit.Row
		want string // without a permit
		most string // without an escort
	}{
		"one of two decides":            {[]limit.Row{in("CA-XX"), in("CA-YY", at("y", 400))}, "up to 4 m, by CA-YY", "up to 4 m, by CA-YY"},
		"both decide":                   {[]limit.Row{in("CA-XX"), in("CA-YY", at("y", 415))}, "up to 4.15 m, by CA-XX, CA-YY", "up to 4.15 m, by CA-XX, CA-YY"},
		"inclusive":                     {[]limit.Row{in("CA-XX", inclusive), in("CA-YY")}, "up to 4.149 m, by CA-XX", "up to 4.149 m, by CA-XX"},
		"a recalled one is stricter":    {[]limit.Row{in("CA-XX"), in("CA-XX", at("x", 400), recalled), in("CA-YY")}, "up to 4 m, by CA-XX", "up to 4 m, by CA-XX"},
		"a recalled one is milder":      {[]limit.Row{in("CA-XX"), in("CA-XX", at("x", 430), recalled), in("CA-YY")}, "up to 4.15 m, by CA-XX, CA-YY", "up to 4.15 m, by CA-XX, CA-YY"},
		"one knows nothing":             {[]limit.Row{in("CA-XX")}, "not established in CA-YY", "not established in CA-YY"},
		"one only recalls":              {[]limit.Row{in("CA-XX"), in("CA-YY", at("y", 415), recalled)}, "not established in CA-YY", "not established in CA-YY"},
		"one is under a condition":      {[]limit.Row{in("CA-XX", hangsOn("c")), in("CA-YY", at("y", 415))}, "not established in CA-XX", "not established in CA-XX"},
		"a step further up alone":       {[]limit.Row{in("CA-XX", further), in("CA-YY", at("y", 415))}, "not established in CA-XX", "not established in CA-XX"},
		"another kind":                  {[]limit.Row{in("CA-XX", kind(limit.ManufacturedHome)), in("CA-YY", at("y", 415))}, "not established in CA-XX", "not established in CA-XX"},
		"nothing at all":                {nil, "not established in CA-XX, CA-YY", "not established in CA-XX, CA-YY"},
		"the country's alone":           {[]limit.Row{in("CA")}, "not established in CA-XX, CA-YY", "not established in CA-XX, CA-YY"},
		"no escort up to the next step": {[]limit.Row{in("CA-XX", escorts(0)), in("CA-XX", at("x2", 430), further, escorts(1)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.3 m, by CA-XX"},
		"escorts are not spoken of":     {[]limit.Row{in("CA-XX"), in("CA-XX", at("x2", 430), further, escorts(1)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"spoken of by one not verified": {[]limit.Row{in("CA-XX"), in("CA-XX", at("x1", 415), escorts(0), recalled), in("CA-XX", at("x2", 430), further, escorts(1)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"an escort at once":             {[]limit.Row{in("CA-XX", escorts(1)), in("CA-XX", at("x2", 430), further, escorts(0)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"one in front at once":          {[]limit.Row{in("CA-XX", escorts(0), func(r *limit.Row) { r.Demands.EscortsFront = 1 }), in("CA-XX", at("x2", 430), further), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"one behind at once":            {[]limit.Row{in("CA-XX", escorts(0), func(r *limit.Row) { r.Demands.EscortsRear = 1 }), in("CA-XX", at("x2", 430), further), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"a person must decide":          {[]limit.Row{in("CA-XX", escorts(0), asks(finding.Review)), in("CA-XX", at("x2", 430), further), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.15 m, by CA-XX"},
		"forbidden at the next step":    {[]limit.Row{in("CA-XX", escorts(0)), in("CA-XX", at("x2", 430), further, asks(finding.Forbidden)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.3 m, by CA-XX"},
		"a condition under the permit":  {[]limit.Row{in("CA-XX", escorts(0)), in("CA-XX", at("x1", 420), further, escorts(0), hangsOn("c")), in("CA-XX", at("x2", 430), further, escorts(1)), in("CA-YY", at("y", 460))}, "up to 4.15 m, by CA-XX", "up to 4.2 m, by CA-XX"},
		"one replaces the other":        {[]limit.Row{in("CA-XX"), in("CA-XX", at("x2", 430), func(r *limit.Row) { r.Supersedes = []string{"clean"} }), in("CA-YY", at("y", 460))}, "up to 4.3 m, by CA-XX", "up to 4.3 m, by CA-XX"},
	} {
		d := of(tc.rows...).Design(high(390), []string{"CA-XX", "CA-YY"}, june)
		for _, one := range []struct {
			lines []Largest
			want  string
		}{{d.Free, tc.want}, {d.NoEscort, tc.most}} {
			l := largestOf(t, one.lines, limit.Height)
			got := fmt.Sprintf("up to %s, by %s", metric(l.Proven), strings.Join(l.Decides, ", "))
			if len(l.NotEstablished) > 0 {
				got = "not established in " + strings.Join(l.NotEstablished, ", ")
			}
			if got != one.want || l.Proven.Known() == (len(l.NotEstablished) > 0) || l.Proven.Known() == (len(l.Decides) == 0) {
				t.Errorf("%s: %q, want %q; %+v", name, got, one.want, l)
			}
		}
	}
}

// The envelope says every size that a unit is drawn by, whatever is given, and
// does not hang on what is given.
func TestLargestOfEverySize(t *testing.T) {
	want := of(clean()).Design(Vehicle{}, []string{"CA-XX"}, june).Envelope
	var quantities []limit.Quantity
	for _, l := range want.Free {
		quantities = append(quantities, l.Quantity)
	}
	if !slices.Equal(quantities, []limit.Quantity{limit.Height, limit.Width, limit.TrailerLength, limit.CombinationLength, limit.GrossMass}) || len(want.NoEscort) != len(want.Free) {
		t.Errorf("%v", quantities)
	}
	for _, v := range []Vehicle{high(100), high(900), {Measures: map[limit.Quantity]Measure{limit.Height: measure.AtLeast(4 * metre)}}} {
		if got := of(clean()).Design(v, []string{"CA-XX"}, june).Envelope; !reflect.DeepEqual(got, want) {
			t.Errorf("%+v: %+v, want %+v", v, got, want)
		}
	}
}

// The largest tiny home that Vermont and Maine both leave free: 13 ft 6 in
// high and 8 ft 6 in wide (29-A M.R.S. 2380(2) and (3), 23 V.S.A. 1431), 65 ft
// together in Maine (29-A M.R.S. 2390(1)), whose vehicle may have 45 ft. Rows 33
// to 35 of the check values, SEEN; Maine's width is SEEN in the row itself.
func TestLargestOfVermontAndMaine(t *testing.T) {
	tables := shipped(t)
	v := Vehicle{Subject: limit.Subject{Kind: limit.TinyHome, Use: limit.Private, Form: limit.Trailer, Axles: 5}}
	for _, tc := range []struct {
		codes []string
		q     limit.Quantity
		want  string
	}{
		{[]string{"US-VT", "US-ME"}, limit.Height, "up to 4.1148 m (13 ft 6 in), by US-VT, US-ME"},
		{[]string{"US-VT", "US-ME"}, limit.Width, "up to 2.5908 m (8 ft 6 in), by US-VT, US-ME"},
		{[]string{"US-VT", "US-ME"}, limit.CombinationLength, "up to 19.812 m (65 ft 0 in), by US-ME"},
		{[]string{"US-VT", "US-ME"}, limit.TrailerLength, "not established in US-VT"},
		{[]string{"US-ME"}, limit.TrailerLength, "up to 13.716 m (45 ft 0 in), by US-ME"},
		// Rows 30, 31 and 39, SEEN: Service NS directory, SGI handbook 2017, MnDOT page.
		{[]string{"CA-NS"}, limit.Height, "up to 4.15 m"},
		{[]string{"CA-NS"}, limit.Width, "up to 2.6 m"},
		{[]string{"CA-NS", "CA-SK"}, limit.CombinationLength, "up to 23 m"},
		{[]string{"US-MN"}, limit.Height, "up to 4.1148 m (13 ft 6 in), by US-MN"},
		{[]string{"US-MN"}, limit.Width, "up to 2.5908 m (8 ft 6 in), by US-MN"},
		{[]string{"US-MN", "US-ME"}, limit.CombinationLength, "up to 19.812 m (65 ft 0 in), by US-ME"},
		// Row 15, SEEN: Official MTO Truck Handbook. Quebec's 4.15 m is recalled only.
		{[]string{"CA-ON"}, limit.Height, "up to 4.15 m"},
		{[]string{"CA-ON", "CA-QC"}, limit.Height, "not established in CA-QC"},
	} {
		l := largestOf(t, tables.Design(v, tc.codes, june).Free, tc.q)
		got := fmt.Sprintf("up to %s, by %s", l.Proven, strings.Join(l.Decides, ", "))
		if !l.Proven.Known() {
			got = "not established in " + strings.Join(l.NotEstablished, ", ")
		}
		if !strings.HasPrefix(got, tc.want) {
			t.Errorf("%v: %q, want %q", tc.codes, got, tc.want)
		}
	}
	// A day on which every reading is too old establishes nothing.
	for _, l := range tables.Design(v, []string{"US-VT", "US-ME"}, june.AddDate(3, 0, 0)).Free {
		if l.Proven.Known() || len(l.NotEstablished) != 2 {
			t.Errorf("three years later: %+v", l)
		}
	}
}

// A check of a whole jurisdiction says of each quantity what a check of a place
// in it says.
func TestDesignAnswersAsACheck(t *testing.T) {
	tables := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.SampledFrom([]string{"CA-ON", "CA-QC", "CA-MB", "US-VT", "US-NY", "US-MN", "CA-ZZ"}).Draw(t, "place")
		q := rapid.SampledFrom(limit.Quantities()[:9]).Draw(t, "quantity")
		a := limit.Amount(rapid.IntRange(1, 40_000).Draw(t, "millimetres or kilograms")) * oneStep(q)
		v := with(drawSubject(t), q, a)
		want := tables.Check(v, Stay{Jurisdictions: []string{code}, OwnerKnown: true}, june)
		var got []finding.Finding
		for _, a := range tables.Design(v, []string{code}, june).Answers {
			if len(a.Findings) == 0 || string(a.Findings[0].Rule) != string(a.Quantity) || a.Jurisdiction != code {
				t.Fatalf("%+v", a)
			}
			got = append(got, a.Findings...)
		}
		want = slices.DeleteFunc(want, func(f finding.Finding) bool { return f.Rule == "hours" })
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

// drawSized draws rows of each of two jurisdictions and, now and then, of their
// country. Most are such as can clear, so that largest values are established;
// thresholds are whole metres or tonnes, or a millimetre or kilogram beside them.
func drawSized(t *rapid.T) []limit.Row {
	var rows []limit.Row
	for _, code := range []string{"CA-XX", "CA-YY", "CA"} {
		for i := range rapid.IntRange(0, 4).Draw(t, "rows of "+code) {
			r := drawRow(t, fmt.Sprintf("%s-%d", code, i))
			r.Jurisdiction = code
			if rapid.IntRange(0, 5).Draw(t, "plain") > 0 {
				r.Kind, r.Form, r.Axles, r.When, r.Road, r.Condition, r.Quantity = limit.All, limit.AnyForm, 0, "", "", "", limit.Height
				r.Status, r.ReadOn, r.ValidFrom, r.ValidTo = finding.Published, june, time.Time{}, time.Time{}
			}
			if i == 0 {
				r.Tier = limit.Legal
			}
			r.Threshold = r.Threshold*1000*oneStep(r.Quantity) + limit.Amount(rapid.SampledFrom([]int{0, 0, -1, 1}).Draw(t, "beside"))*oneStep(r.Quantity)
			r.Published = r.Quantity.Of(r.Threshold).String()
			r.Demands.EscortsAny = rapid.SampledFrom([]int{0, 0, 1}).Draw(t, "escorts")
			rows = append(rows, r)
		}
	}
	return rows
}

// lessBy is how much less an answer asks for, as far as it does.
func lessBy(a Answer) finding.Quantity {
	by, _ := a.ToClear.Get("by").(finding.Quantity)
	return by
}

// amountOf is a value that is known exactly.
func amountOf(t fataler, value finding.Quantity) limit.Amount {
	t.Helper()
	if l, ok := value.Length(); ok {
		return limit.Amount(l)
	}
	m, ok := value.Mass()
	if !ok || value.AtLeast {
		t.Fatalf("%q is no exact amount", value)
	}
	return limit.Amount(m)
}

var designCodes = []string{"CA-XX", "CA-YY", "CA-ZZ"}

// The vehicle at the largest free value is clear everywhere; one millimetre or
// one kilogram more is not clear somewhere. Where none is established nothing is.
func TestLargestIsClearAndNoLarger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, s := drawSized(t), drawSubject(t)
		tables := of(rows...)
		codes := rapid.SliceOfNDistinct(rapid.SampledFrom(designCodes[:2]), 1, 2, rapid.ID).Draw(t, "codes")
		d := tables.Design(Vehicle{Subject: s}, codes, june)
		for _, q := range drawnQuantities {
			free, most := largestOf(t, d.Free, q), largestOf(t, d.NoEscort, q)
			notClear := func(a limit.Amount) (out []string) {
				for _, code := range codes {
					if answer(t, tables, with(s, q, a), code, q, june).Outcome != finding.Clear {
						out = append(out, code)
					}
				}
				return out
			}
			if !free.Proven.Known() {
				if len(free.NotEstablished) == 0 {
					t.Fatalf("%+v, %+v", free, most)
				}
				for _, code := range free.NotEstablished { // nothing is clear there, however small
					for _, r := range rows {
						for _, a := range []limit.Amount{1, r.Threshold - oneStep(q), r.Threshold} {
							if f := answer(t, tables, with(s, q, a), code, q, june); f.Outcome == finding.Clear {
								t.Fatalf("%+v, but %+v is clear in %+v by %+v", free, q.Of(a), code, ids(f))
							}
						}
					}
				}
				continue
			}
			a := amountOf(t, free.Proven)
			if bad := notClear(a); len(bad) > 0 {
				t.Fatalf("%+v: not clear in %v", free, bad)
			}
			if bad := notClear(a + oneStep(q)); len(bad) == 0 || !slices.ContainsFunc(bad, func(code string) bool { return slices.Contains(free.Decides, code) }) {
				t.Fatalf("%+v: a step more is not clear in %v", free, bad)
			}
			if !most.Proven.Known() || amountOf(t, most.Proven) < a {
				t.Fatalf("free %+v, but without an escort %+v", free, most)
			}
		}
	})
}

// The smallest figure that is stated is that of a row about such a vehicle which is no
// step further up; none is smaller. Beside it stands what is open at it, for each
// jurisdiction that proves none.
func TestUnprovenIsTheSmallestStated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, s := drawSized(t), drawSubject(t)
		tables := of(rows...)
		codes := rapid.SliceOfNDistinct(rapid.SampledFrom(designCodes), 1, 3, rapid.ID).Draw(t, "codes")
		for _, l := range tables.Design(Vehicle{Subject: s}, codes, june).Free {
			stated, silent := map[string]limit.Amount{}, []string(nil)
			for _, code := range codes {
				for _, r := range answer(t, tables, with(s, l.Quantity, 1), code, l.Quantity, june).Citations {
					row := rows[slices.IndexFunc(rows, func(o limit.Row) bool { return o.ID == r.ID })]
					most := row.Threshold
					if row.Inclusive {
						most -= oneStep(l.Quantity)
					}
					if old, ok := stated[code]; row.Tier != limit.Beyond && (!ok || most < old) {
						stated[code] = most
					}
				}
				if _, ok := stated[code]; !ok {
					silent = append(silent, code)
				}
			}
			if !slices.Equal(silent, l.Unstated) || (len(stated) == 0) != (l.Unproven == nil) || len(l.Open) != len(l.NotEstablished) {
				t.Fatalf("stated in %v: %+v", stated, l)
			}
			for _, f := range l.Open {
				if f.Outcome == finding.Clear || !slices.Contains(l.NotEstablished, f.Jurisdiction) {
					t.Fatalf("%+v of %+v", f, l)
				}
			}
			if l.Unproven == nil {
				continue
			}
			least := amountOf(t, l.Unproven.Value)
			if l.Unproven.Under {
				least -= oneStep(l.Quantity)
			}
			for code, most := range stated {
				if most < least || (most == least) != slices.Contains(l.Unproven.In, code) {
					t.Fatalf("%s states %s: %+v", code, l.Quantity.Of(most), l.Unproven)
				}
			}
			if l.Proven.Known() && amountOf(t, l.Proven) > least && !sleeping(rows) {
				t.Fatalf("%s is proven, and %s is stated", l.Proven, l.Unproven.Value)
			}
		}
	})
}

// What proves a value is a finding that is clear, of a row that clears it.
func TestProofIsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, a := range of(drawSized(t)...).Design(Vehicle{Subject: drawSubject(t)}, designCodes[:2], june).Answers {
			if a.Proven.Known() != (len(a.Proof) == 1) {
				t.Fatalf("%+v", a)
			}
			for _, f := range a.Proof {
				if f.Outcome != finding.Clear || f.Value != a.Proven || !slices.ContainsFunc(f.Citations, func(r finding.Citation) bool { return r.Decides }) {
					t.Fatalf("%+v by %+v", a.Proven, f)
				}
			}
		}
	})
}

// sleeping reports whether any of the rows binds at some times only.
func sleeping(rows []limit.Row) bool {
	return slices.ContainsFunc(rows, func(r limit.Row) bool { return r.When != "" })
}

// Only what is asked about is answered, and the largest of nothing else is looked for.
func TestDesignOfSomeQuantities(t *testing.T) {
	d := of(clean()).Design(measured(400, 260), []string{"CA-XX"}, june, limit.Width, limit.RearOverhang)
	var asked []limit.Quantity
	for _, a := range d.Answers {
		asked = append(asked, a.Quantity)
	}
	if !slices.Equal(asked, []limit.Quantity{limit.Width, limit.RearOverhang}) || len(d.Free) != 1 || d.Free[0].Quantity != limit.Width {
		t.Errorf("%v, %+v", asked, d.Free)
	}
}

// At the largest value without an escort no jurisdiction asks for one, forbids
// it or leaves anything open.
func TestLargestWithoutEscortAsksForNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables, s := of(drawSized(t)...), drawSubject(t)
		codes := designCodes[:2]
		for _, l := range tables.Design(Vehicle{Subject: s}, codes, june).NoEscort {
			if !l.Proven.Known() {
				continue
			}
			a := amountOf(t, l.Proven)
			for _, code := range codes {
				for _, f := range designed(t, tables, with(s, l.Quantity, a), code, l.Quantity).Findings {
					if f.Outcome != finding.Clear && f.Outcome != finding.Conditional || f.Demands.EscortsAny+f.Demands.EscortsFront+f.Demands.EscortsRear > 0 || len(f.Demands.Conditions) > 0 {
						t.Fatalf("%+v: %+v in %+v asks %+v", l, f.Outcome, code, f.Demands)
					}
				}
			}
		}
	})
}

// A value that is good in one place may be too small for another: between the
// limit of CA-XX and its next step no row says which escorts are asked for.
func TestLargestWithoutEscortIsGoodEverywhere(t *testing.T) {
	tables := of(clean(at("silent", 400)), clean(at("said", 410), escorts(0)), clean(at("top", 500), further, asks(finding.Forbidden)), clean(at("other", 405), inside("CA-YY")))
	if l := largestOf(t, tables.Design(Vehicle{}, []string{"CA-XX", "CA-YY"}, june).NoEscort, limit.Height); metric(l.Proven) != "4 m" {
		t.Error(l)
	}
}

// Rows of a whole country establish nothing for a part of it: they neither clear
// nor say surely that no escort is asked for.
func TestCountryEstablishesNoEscort(t *testing.T) {
	tables := of(clean(at("legal", 400), inside("CA"), escorts(0)), clean(at("step", 430), inside("CA"), further, escorts(1)))
	if l := largestOf(t, tables.Design(Vehicle{}, []string{"CA-XX"}, june).NoEscort, limit.Height); l.Proven.Known() {
		t.Error(l)
	}
	if f := rule(t, tables.Check(high(410), Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: true}, june), "height escorts"); f.Outcome != finding.Unknown {
		t.Errorf("%+v", f)
	}
}

// Whoever takes off what an answer says is clear then, or within every row where
// it says so.
func TestToClearIsEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables, s := of(drawSized(t)...), drawSubject(t)
		q := rapid.SampledFrom(drawnQuantities).Draw(t, "quantity")
		a := limit.Amount(rapid.IntRange(1000, 6000).Draw(t, "value")) * oneStep(q)
		got := designed(t, tables, with(s, q, a), "CA-XX", q)
		if got.ToClear.None() {
			return
		}
		after := answer(t, tables, with(s, q, a-amountOf(t, lessBy(got))), "CA-XX", q, june)
		if got.ToClear.Code == "limit.less_within" {
			for _, r := range after.Citations {
				if exceeded(r) {
					t.Fatalf("%q leaves %s exceeded", got.ToClear, r.ID)
				}
			}
		} else if after.Outcome != finding.Clear {
			t.Fatalf("%q leaves %s by %s", got.ToClear, after.Outcome, ids(after))
		}
	})
}

// Of two rows at one threshold the inclusive one is stricter by the least step.
func TestToClearOfATie(t *testing.T) {
	recalled := func(r *limit.Row) { r.Status, r.ReadOn = finding.Memory, time.Time{} }
	tables := of(clean(at("a", 415), recalled), clean(at("b", 415), recalled, inclusive))
	if got := designed(t, tables, high(427), "CA-XX", limit.Height); lessBy(got) != finding.Of(121*measure.Millimetre) {
		t.Errorf("%s, want 0.121 m", got.ToClear)
	}
}

// The same of any few jurisdictions of the shipped table.
func TestLargestOfShippedJurisdictions(t *testing.T) {
	tables := shipped(t)
	codes := slices.DeleteFunc(tables.Jurisdictions(), func(code string) bool { return len(code) == 2 })
	established := map[limit.Quantity]bool{}
	try := func(t fataler, s limit.Subject, few, more []string) {
		free, wider := tables.Design(Vehicle{Subject: s}, few, june).Free, tables.Design(Vehicle{Subject: s}, slices.Compact(more), june).Free
		for i, l := range free {
			if wider[i].Proven.Known() && (!l.Proven.Known() || amountOf(t, wider[i].Proven) > amountOf(t, l.Proven)) {
				t.Fatalf("in %v %+v, in %v %+v", few, l, more, wider[i])
			}
			if !l.Proven.Known() {
				continue
			}
			established[l.Quantity] = true
			a := amountOf(t, l.Proven)
			clear := func(a limit.Amount) bool {
				return !slices.ContainsFunc(few, func(code string) bool {
					return answer(t, tables, with(s, l.Quantity, a), code, l.Quantity, june).Outcome != finding.Clear
				})
			}
			if !clear(a) || clear(a+oneStep(l.Quantity)) {
				t.Fatalf("%v: %+v; at it clear is %t, a step more %t", few, l, clear(a), clear(a+oneStep(l.Quantity)))
			}
		}
	}
	for i, code := range codes { // each of them once, so that every quantity is established somewhere
		try(t, limit.Subject{Kind: limit.LoadOnTrailer, Form: limit.Trailer, Tow: limit.Pickup}, codes[i:i+1], []string{codes[0], code})
	}
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SliceOfNDistinct(rapid.SampledFrom(codes), 1, 3, rapid.ID).Draw(t, "codes")
		more := append(slices.Clone(few), rapid.SampledFrom(codes).Draw(t, "another"))
		try(t, drawSubject(t), few, more)
	})
	for _, q := range []limit.Quantity{limit.Height, limit.Width, limit.CombinationLength} {
		if !established[q] {
			t.Errorf("the %s was never established: the test tests nothing", q)
		}
	}
}

// The largest that is proven is what trying sizes finds, one after the other and around
// every threshold of the table, by asking what a design of that size comes to: all up to
// it are clear everywhere, none beyond it is.
func TestLargestByTryingSizes(t *testing.T) {
	tables := shipped(t)
	subject := limit.Subject{Kind: limit.TinyHome, Use: limit.Private, Form: limit.Trailer, Axles: 5}
	proven := 0
	for _, codes := range [][]string{{"CA-ON"}, {"US-VT", "US-ME"}, {"CA-NS", "CA-SK"}, {"CA-ON", "CA-QC", "CA-MB", "CA-BC"}} {
		for _, l := range tables.Design(Vehicle{Subject: subject}, codes, june).Free {
			q, step := l.Quantity, oneStep(l.Quantity)
			tried := map[limit.Amount]bool{}
			for n := range limit.Amount(200) {
				tried[(n+1)*200*step] = true
			}
			for _, code := range codes {
				for _, f := range tables.Check(with(subject, q, step), Stay{Jurisdictions: []string{code}, OwnerKnown: true}, june) {
					for _, r := range f.Citations {
						if a, err := q.Parse(r.Published); err == nil && f.Rule == finding.Rule(q) {
							tried[a-step], tried[a], tried[a+step] = true, true, true
						}
					}
				}
			}
			if l.Proven.Known() {
				a := amountOf(t, l.Proven)
				tried[a], tried[a+step], proven = true, true, proven+1
			}
			for a := range tried {
				clear := a > 0
				for _, answer := range tables.Design(with(subject, q, a), codes, june, q).Answers {
					clear = clear && answer.Findings[0].Outcome == finding.Clear
				}
				if within := l.Proven.Known() && a <= amountOf(t, l.Proven); a > 0 && clear != within {
					t.Fatalf("%v, %s: %s is clear: %t; the largest is %q", codes, q, q.Of(a), clear, l.Proven)
				}
			}
		}
	}
	if proven < 5 {
		t.Errorf("only %d were proven: the test tests nothing", proven)
	}
}

// One more jurisdiction never raises a largest value, and their order does not
// matter.
func TestMoreJurisdictionsNeverRaise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tables, s := of(drawSized(t)...), drawSubject(t)
		codes := rapid.Permutation(designCodes).Draw(t, "codes")
		n := rapid.IntRange(1, 2).Draw(t, "first")
		few, all := tables.Design(Vehicle{Subject: s}, codes[:n], june), tables.Design(Vehicle{Subject: s}, codes, june)
		sorted := tables.Design(Vehicle{Subject: s}, designCodes, june)
		for _, pair := range []struct{ few, all, sorted []Largest }{{few.Free, all.Free, sorted.Free}, {few.NoEscort, all.NoEscort, sorted.NoEscort}} {
			for i, l := range pair.all {
				before := pair.few[i]
				if l.Proven.Known() && (!before.Proven.Known() || amountOf(t, l.Proven) > amountOf(t, before.Proven)) {
					t.Fatalf("in %v %+v, in %v %+v", codes[:n], before, codes, l)
				}
				if l.Proven != pair.sorted[i].Proven {
					t.Fatalf("%+v in another order than %+v", l, pair.sorted[i])
				}
			}
		}
	})
}

// The next step is a row of the table, and one millimetre or kilogram beyond it
// the answer rests on that row.
func TestNextStepIsTheNext(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, s := drawSized(t), drawSubject(t)
		tables := of(rows...)
		q := rapid.SampledFrom(drawnQuantities).Draw(t, "quantity")
		a := limit.Amount(rapid.IntRange(1000, 6000).Draw(t, "value")) * oneStep(q)
		got := designed(t, tables, with(s, q, a), "CA-XX", q)
		if got.Next == nil { // nothing is left to be beyond, or nothing says what is legal below it
			next, legal := limit.Amount(math.MaxInt64), limit.Amount(math.MaxInt64)
			for _, r := range got.Findings[0].Citations {
				row := rows[slices.IndexFunc(rows, func(o limit.Row) bool { return o.ID == r.ID })]
				if !over(row, a) {
					next = min(next, row.Threshold)
				}
				if row.Tier != limit.Beyond {
					legal = min(legal, row.Threshold)
				}
			}
			if next < math.MaxInt64 && legal <= next {
				t.Fatalf("no next step, but one at %s above the legal limit at %s", q.Of(next), q.Of(legal))
			}
			return
		}
		i := slices.IndexFunc(rows, func(r limit.Row) bool { return r.ID == got.Next.Row })
		if i < 0 || over(rows[i], a) || got.Next.Limit != rows[i].Published {
			t.Fatalf("%+v at %s", got.Next, q.Of(a))
		}
		if rest := rows[i].Threshold - a; rest > 0 && amountOf(t, got.Next.Margin) != rest {
			t.Fatalf("margin %s, want %s", got.Next.Margin, q.Of(rest))
		}
		past := answer(t, tables, with(s, q, rows[i].Threshold+oneStep(q)), "CA-XX", q, june)
		if r, ok := shows(past, rows[i].ID); !ok || !exceeded(r) {
			t.Fatalf("past %s: %s", rows[i].ID, ids(past))
		}
		for _, r := range got.Findings[0].Citations {
			other := rows[slices.IndexFunc(rows, func(o limit.Row) bool { return o.ID == r.ID })]
			if !exceeded(r) && other.Threshold < rows[i].Threshold {
				t.Fatalf("%s at %s comes before %s", other.ID, other.Published, rows[i].ID)
			}
		}
	})
}
