package trip

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs"
	"wayhouse/regs/clearance"
	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
)

// Every structure, letter, notice and row of this file is invented, whatever
// its status says: a status decides what a row can do.

// with returns a planner whose tables have these rows beside those that it had.
func with(p *Planner, change func(*regs.Rows)) *Planner {
	out := *p
	r := regs.Rows{Limits: p.Tables.Rows("")}
	change(&r)
	out.Tables = regs.NewTables(p.Tables.Revision, r, nil)
	return &out
}

func withStructures(p *Planner, list ...clearance.Structure) *Planner {
	return with(p, func(r *regs.Rows) { r.Clearances = pointers(list) })
}

// over is a trusted structure in the middle of the short road of a fork, with a
// clear height; 0 is none.
func over(id string, mm int64, change ...func(*clearance.Structure)) clearance.Structure {
	s := clearance.Structure{
		ID: id, Name: "structure " + id, Point: point([2]float64{5, 0}), Road: "short", Direction: "both", Status: finding.Published, Source: "made up",
		ReadOn: time.Date(2027, 4, 1, 0, 0, 0, 0, time.UTC),
	}
	if mm > 0 {
		s.Posted = length(mm)
	}
	for _, f := range change {
		f(&s)
	}
	return s
}

// same tells how two plans differ, in every field.
func same(a, b *Plan) string {
	return cmp.Diff(a, b, cmp.Exporter(func(reflect.Type) bool { return true }))
}

// A structure of the tables does what the same one of a request does: it shuts,
// clears, limits and is listed in the same words, whatever it says.
func TestTablesLikeTheRequest(t *testing.T) {
	rig := house()
	rig.StructuresRevision = "empty"
	for _, tc := range []struct {
		name  string
		s     clearance.Structure
		takes string
	}{
		{"too low", over("s", 4299), "long"},
		{"high enough", over("s", 4301), "short"},
		{"no figure", over("s", 0), "short"},
		{"too narrow", over("s", 0, func(s *clearance.Structure) { s.Width = length(2500) }), "long"},
		{"too weak", over("s", 5000, func(s *clearance.Structure) { s.Mass = mass(7000) }), "long"},
		{"words", over("s", 5000, func(s *clearance.Structure) { s.Words = "left lane only" }), "short"},
		{"closed", over("s", 0, func(s *clearance.Structure) { s.Closed = true }), "long"},
		{"closed in another month", over("s", 0, func(s *clearance.Structure) {
			s.Closed, s.Until = true, time.Date(2027, 4, 30, 0, 0, 0, 0, time.UTC)
		}), "short"},
		{"a doubt", over("s", 3000, func(s *clearance.Structure) { s.Doubt = "it may be the ramp" }), "short"},
		{"of the other way", over("s", 3000, func(s *clearance.Structure) { s.Direction = "W" }), "short"},
		{"of another road", over("s", 3000, func(s *clearance.Structure) { s.Road = "elsewhere" }), "long"},
		{"by way", over("s", 3000, func(s *clearance.Structure) { s.Road, s.Way = "", 101 }), "long"},
		{"by a stop", over("s", 3000, func(s *clearance.Structure) { s.Road, s.Point = "none", point([2]float64{-4, 0.1}) }), ""},
	} {
		p := world(t, fork(road{}), nil)
		byRequest := rig
		byRequest.Structures = []clearance.Structure{tc.s}
		want, got := plan(t, p, byRequest), plan(t, withStructures(p, tc.s), rig)
		if diff := same(want, got); diff != "" {
			t.Errorf("%s: (- of the request, + of the tables) %s", tc.name, diff)
		}
		if tc.takes != "" {
			takes(t, tc.name, got, tc.takes)
		}
	}
}

// The same for structures drawn anywhere near the roads.
func TestTablesLikeTheRequestDrawn(t *testing.T) {
	p := world(t, fork(road{}), nil)
	outcomes := map[finding.Outcome]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := over("s", rapid.SampledFrom([]int64{0, 3000, 4299, 4300, 4400, 6000}).Draw(t, "posted"))
		s.Point = orb.Point{s.Point.Lon() + rapid.Float64Range(-0.05, 0.05).Draw(t, "east"), s.Point.Lat() + rapid.Float64Range(-0.004, 0.06).Draw(t, "north")}
		s.Road = rapid.SampledFrom([]string{"", "short", "long", "elsewhere", "start"}).Draw(t, "road")
		s.Direction = rapid.SampledFrom(append([]string{"both"}, clearance.Compass...)).Draw(t, "direction")
		s.Grade = rapid.SampledFrom([]clearance.Grade{clearance.AnyGrade, clearance.On, clearance.Under}).Draw(t, "grade")
		s.Way = rapid.SampledFrom([]int64{0, 0, 101, 102, 999}).Draw(t, "way")
		s.Closed = rapid.IntRange(0, 9).Draw(t, "closed") == 0
		if rapid.Bool().Draw(t, "has width") {
			s.Width = length(rapid.Int64Range(2400, 3000).Draw(t, "width"))
		}
		if roads, _ := p.RoadsUnder(s); len(roads) == 0 {
			return // one that a request names is then a finding of the trip, one of the tables is not
		}
		request := house()
		request.StructuresRevision = "empty"
		if rapid.Bool().Draw(t, "back") {
			back(&request)
		}
		byRequest := request
		byRequest.Structures = []clearance.Structure{s}
		want, errWant := p.Plan(t.Context(), byRequest)
		got, err := withStructures(p, s).Plan(t.Context(), request)
		if (err == nil) != (errWant == nil) {
			t.Fatalf("%v, %v", errWant, err)
		}
		if err != nil {
			return
		}
		if diff := same(want, got); diff != "" {
			t.Fatalf("(- of the request, + of the tables) %s", diff)
		}
		outcomes[got.Verdict.Worst]++
	})
	if len(outcomes) < 2 {
		t.Errorf("all alike: %v", outcomes)
	}
}

// Structures elsewhere change nothing, however many there are.
func TestManyStructuresElsewhere(t *testing.T) {
	p := withStructures(world(t, fork(road{}), nil), over("s", 4299))
	want := plan(t, p, house())
	list := []clearance.Structure{over("s", 4299)}
	for i := range 100_000 {
		s := over(fmt.Sprint("far", i), 1000, func(s *clearance.Structure) { s.Closed = true })
		s.Point = orb.Point{-100 + float64(i%400)*0.05, 30 + float64(i/400)*0.05}
		if d := orb.Point(s.Point); d.Lon() > -76.3 && d.Lon() < -75.7 && d.Lat() > 44.7 && d.Lat() < 45.3 {
			continue
		}
		list = append(list, s)
	}
	if diff := same(want, plan(t, withStructures(p, list...), house())); diff != "" {
		t.Errorf("with %d structures elsewhere: %s", len(list)-1, diff)
	}
}

// A structure without a clear height is listed in words that say what it limits,
// whether it is of the tables or of the request.
func TestStructureWithoutAHeight(t *testing.T) {
	onShort := given([2]float64{1, 0}, [2]float64{9, 0})
	on := func(change func(*clearance.Structure)) func(*clearance.Structure) {
		return func(s *clearance.Structure) { s.Grade = clearance.On; change(s) }
	}
	bridged := fork(road{road: network.Road{Flags: network.OnBridge}})
	for name, tc := range map[string]struct {
		change func(*clearance.Structure)
		r      Request
		want   finding.Outcome
		says   string
	}{
		"words":                   {func(s *clearance.Structure) { s.Words = "posted for load" }, house(), finding.Review, "posted for load"},
		"wind":                    {func(s *clearance.Structure) { s.Wind = "none above 70 km/h" }, house(), finding.Review, "70 km/h"},
		"wide enough":             {func(s *clearance.Structure) { s.Width = length(5000) }, house(), finding.Unknown, "passage.width(clear: 5 m"},
		"wide enough, a bridge":   {on(func(s *clearance.Structure) { s.Width = length(5000) }), house(), finding.Clear, "passage.width(clear: 5 m"},
		"strong enough, a bridge": {on(func(s *clearance.Structure) { s.Mass = mass(9000) }), house(), finding.Clear, "passage.mass(posted: 9000 kg"},
		"closed, prescribed":      {func(s *clearance.Structure) { s.Closed = true }, house(onShort), finding.Forbidden, "passage.closed(days: )"},
		"too narrow, prescribed":  {func(s *clearance.Structure) { s.Width = length(2000) }, house(onShort), finding.Forbidden, "passage.too_narrow("},
		"too weak, prescribed":    {func(s *clearance.Structure) { s.Mass = mass(7000) }, house(onShort), finding.Forbidden, "passage.mass(posted: 7000 kg"},
		"closed, by a stop":       {func(s *clearance.Structure) { s.Closed, s.Road, s.Point = true, "none", point([2]float64{-4, 0.1}) }, house(), finding.Forbidden, "passage.closed(days: )"},
	} {
		for _, whose := range []string{"tables", "request"} {
			p, r := world(t, bridged, nil), tc.r
			if whose == "tables" {
				p = withStructures(p, over("s", 0, tc.change))
			} else {
				r.Structures = []clearance.Structure{over("s", 0, tc.change)}
			}
			got := plan(t, p, r)
			answers(t, name+", of the "+whose, got, tc.want)
			for _, f := range byRule(got, "structure") {
				if !strings.Contains(told(f), tc.says) || f.Margin.Known() {
					t.Errorf("%s, of the %s: %q, margin %q", name, whose, told(f), f.Margin)
				}
			}
		}
	}
}

// A letter of the authority about a structure of the tables opens a way that a
// person must decide on.
func TestLetterOfTheTables(t *testing.T) {
	letter := clearance.Letter{ID: "l", Structure: "s", By: "the county", Height: *length(4400), Proof: rows.Proof{Status: finding.Verified, Source: "made up", ReadOn: over("", 0).ReadOn}}
	p := with(world(t, fork(road{}), nil), func(r *regs.Rows) {
		r.Clearances, r.Letters = pointers([]clearance.Structure{over("s", 4200)}), []*clearance.Letter{&letter}
	})
	got := plan(t, p, house())
	takes(t, "with a letter", got, "short")
	says(t, "with a letter", got, "structure", finding.Review)
	letter.Structure = "another"
	p = with(p, func(r *regs.Rows) {
		r.Clearances, r.Letters = pointers([]clearance.Structure{over("s", 4200)}), []*clearance.Letter{&letter}
	})
	takes(t, "with a letter about another", plan(t, p, house()), "long")
}

// A structure of the tables that is on no road near is a finding only where the
// trip stops or is given near it.
func TestStrayStructures(t *testing.T) {
	stray := func(at [2]float64) clearance.Structure {
		return over("s", 3000, func(s *clearance.Structure) { s.Road, s.Point = "", point(at) })
	}
	p := world(t, fork(road{}), nil)
	for _, tc := range []struct {
		name string
		at   [2]float64
		r    Request
		want bool
	}{
		{"far from everything", [2]float64{5, -2}, house(), false},
		{"beside the way, too far for a road", [2]float64{5, -0.3}, house(), false},
		{"by a given line off the roads", [2]float64{5, -2}, house(given([2]float64{-3, 0}, [2]float64{0, 0}, [2]float64{4, -2}, [2]float64{6, -2})), true},
		{"far from a given line", [2]float64{5, -4}, house(given([2]float64{-3, 0}, [2]float64{0, 0}, [2]float64{4, -2}, [2]float64{6, -2})), false},
	} {
		got := byRule(plan(t, withStructures(p, stray(tc.at)), tc.r), "structure")
		if (len(got) > 0) != tc.want {
			t.Errorf("%s: %+v", tc.name, got)
		}
		for _, f := range got {
			if f.Outcome != finding.Review || whom(f) == "" {
				t.Errorf("%s: %s, ask %q", tc.name, f.Outcome, whom(f))
			}
		}
	}
}

// Notices of the jurisdictions on the way are for a person to read; they shut
// nothing. Where it is known that their road is not used they are left out.
func TestNoticesOfTheTables(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2027, 5, d, 0, 0, 0, 0, time.UTC) }
	notice := func(change func(*clearance.Notice)) *clearance.Notice {
		n := &clearance.Notice{
			ID: "n", Jurisdiction: "CA-ON", Place: "west of the town", Text: "lanes narrowed", From: day(1), Until: day(31),
			Proof: rows.Proof{Status: finding.Published, Source: "made up", ReadOn: day(1)},
		}
		change(n)
		return n
	}
	for _, tc := range []struct {
		name   string
		notice *clearance.Notice
		want   finding.Outcome // "" for none
		says   string
	}{
		{"on any road", notice(func(*clearance.Notice) {}), finding.Review, "place: west of the town, says: [lanes narrowed"},
		{"on a road that is used", notice(func(n *clearance.Notice) { n.Roads = named(t, "name=short") }), finding.Review, "notice.perhaps("},
		{"on a road that is not", notice(func(n *clearance.Notice) { n.Roads = named(t, "name=elsewhere") }), "", ""},
		{"on roads in words", notice(func(n *clearance.Notice) { n.Roads = named(t, "the old bridge") }), finding.Review, "hangs.roads(roads: the old bridge, open: [start short end]"},
		{"closed", notice(func(n *clearance.Notice) { n.Closed = true }), finding.Review, "notice.closed"},
		{"too low for the rig", notice(func(n *clearance.Notice) { n.Height = length(4200) }), finding.Review, "notice.beyond(quantity: height, most: 4.2 m"},
		{"wide enough for the rig", notice(func(n *clearance.Notice) { n.Width = length(3000) }), finding.Review, "notice.within(quantity: width, most: 3 m"},
		{"too weak for the rig", notice(func(n *clearance.Notice) { n.Mass = mass(5000) }), finding.Review, "notice.beyond(quantity: gross_mass"},
		{"in another month", notice(func(n *clearance.Notice) { n.From, n.Until = day(12), time.Time{} }), "", ""},
		{"until the day before", notice(func(n *clearance.Notice) { n.From, n.Until = time.Time{}, day(10) }), "", ""},
		{"on the day", notice(func(n *clearance.Notice) { n.From, n.Until = day(11), day(11) }), finding.Review, ""},
		{"of another province", notice(func(n *clearance.Notice) { n.Jurisdiction = "CA-QC" }), "", ""},
	} {
		got := plan(t, with(world(t, fork(road{}), nil), func(r *regs.Rows) { r.Notices = []*clearance.Notice{tc.notice} }), house())
		takes(t, tc.name, got, "short")
		says(t, tc.name, got, "notice", tc.want)
		for _, f := range byRule(got, "notice") {
			if !strings.Contains(told(f), tc.says) || len(f.Citations) != 1 || f.Citations[0].ID != "n" || f.Place.String() != "west of the town" {
				t.Errorf("%s: %+v", tc.name, f)
			}
		}
	}
}

// What the rules ask a permit for is listed with the rows of the table, their
// fees worked out for the way, and the day by which to ask.
func TestPermitsOfTheTables(t *testing.T) {
	width := limit.Row{
		ID: "w", Jurisdiction: "CA-ON", Kind: limit.All, Form: limit.AnyForm, Quantity: limit.Width, Published: "2.5 m", Threshold: limit.Amount(2500 * measure.Millimetre),
		Outcome: finding.Conditional, Demands: finding.Demands{Permits: []say.Remark{limit.Permit("CA-ON")}}, Tier: limit.Legal, Status: finding.Published, Source: "made up", ReadOn: over("", 0).ReadOn,
	}
	read := func(text string) []*permit.Permit {
		list, _, err := permit.Permits().ReadCSV([]byte("id,jurisdiction,name,for,over_height,over_width,office,contact,currency,fee,fee_per_km,fee_per_tonne_km,fee_bands,fee_note,lead_days,lead_note,calendar,valid_days,validity,signs,insurance,wants,note,status,source,section,source_year,source_url,read_on\n" + text))
		if err != nil {
			t.Fatal(err)
		}
		return pointers(list)
	}
	p := with(world(t, fork(road{}), nil, width), func(r *regs.Rows) {
		r.Permits = read("a,CA-ON,permit for size,size,,,,,CAD,40,0.25,,width > 2.5 m: 10,,3,,,30,,,,,,published,made up,,,,2027-04-01\n" +
			"b,CA-ON,permit for mass,mass,,,,,CAD,90,,,,,,,,,,,,,,published,made up,,,,2027-04-01\n" +
			"c,CA-QC,permit of another province,size,,,,,CAD,1,,,,,,,,,,,,,,published,made up,,,,2027-04-01\n")
	})
	got := plan(t, p, house())
	if len(got.Permits) != 1 || got.Permits[0].Jurisdiction != "CA-ON" || !slices.Equal(got.Permits[0].Because, []finding.Rule{"width"}) || len(got.Permits[0].Permits) != 1 {
		t.Fatalf("permits %+v", got.Permits)
	}
	need, offer := got.Permits[0], got.Permits[0].Permits[0]
	want, unknown := offer.Permit.Fee.Of(permit.Case{Way: got.Length, Sizes: map[limit.Quantity]limit.Amount{limit.Width: limit.Amount(*length(2600))}})
	if offer.ID != "a" || !unknown.None() || offer.Fee != want || need.Length != got.Length || !need.From.Equal(got.Departure) || !after(need.Until, got.Departure.Add(got.Time.Slow)) {
		t.Errorf("offer %s, fee %q, want %q; from %s to %s", offer.ID, offer.Fee, want, need.From, need.Until)
	}
	// 40 and 10 dollars and a quarter for each of about 15.8 km
	if km := float64(got.Length) / 1000; !strings.HasSuffix(offer.Fee, " CAD") || km < 13 || km > 16 || offer.Fee[:3] != fmt.Sprintf("%.1f", 50+km/4)[:3] {
		t.Errorf("%s for %.3f km", offer.Fee, km)
	}
	// Three working days before Tuesday, 11 May: Monday, Friday, Thursday.
	if offer.AskBy.Format("Mon 2006-01-02") != "Thu 2027-05-06" {
		t.Errorf("ask by %s (%s)", offer.AskBy, offer.AskUnknown)
	}
	// What nothing asks a permit for lists none.
	narrow := house(func(r *Request) {
		r.Rig.Width, r.Rig.Unit.Width = measure.Given(length(2400)), measure.Given(length(2400))
	})
	if got := plan(t, p, narrow); len(got.Permits) != 0 {
		t.Errorf("a narrow rig: %+v", got.Permits)
	}
}

// named reads the roads that a notice is about.
func named(t *testing.T, text string) roads.Set {
	t.Helper()
	s, err := roads.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A bridge over ON 17 is perhaps one over a road that another source calls 17: it is
// never lost because a road beside it is written as the bridge has it.
func TestStructureOfARoadWrittenOtherwiseIsKept(t *testing.T) {
	for _, tc := range []struct {
		ref   string
		mm    int64
		grade clearance.Grade
		takes string
		want  finding.Outcome // of the structure on the way, "" for none
	}{
		{"17", 3000, clearance.AnyGrade, "long", ""},
		{"17", 5000, clearance.AnyGrade, "short", finding.Unknown},
		{"17", 3000, clearance.Under, "short", finding.Unknown}, // of an inventory: it is there, and nothing more is known
		{"Highway 17", 3000, clearance.AnyGrade, "long", ""},
		{"18", 3000, clearance.AnyGrade, "short", ""},
	} {
		beside := append(fork(road{ref: tc.ref}), road{name: "beside", ref: "ON 17", from: [2]float64{5, 0.03}, to: [2]float64{6, 0.03}})
		s := over("s", tc.mm, func(s *clearance.Structure) {
			s.Road, s.Grade, s.Point = "ON 17", tc.grade, point([2]float64{5.5, 0.03})
		})
		p := plan(t, withStructures(world(t, beside, nil), s), house())
		if round := slices.Contains(say.Strings(p.Legs[0].Roads), "long"); round != (tc.takes == "long") {
			t.Errorf("%s, %d mm, %s: goes by %v, want the %s one", tc.ref, tc.mm, tc.grade, p.Legs[0].Roads, tc.takes)
		}
		got := finding.Outcome("")
		for _, l := range p.Legs {
			for _, passing := range l.Structures {
				got = passing.Outcome
			}
		}
		if got != tc.want {
			t.Errorf("%s, %d mm, %s: the structure is %q, want %q", tc.ref, tc.mm, tc.grade, got, tc.want)
		}
	}
}
