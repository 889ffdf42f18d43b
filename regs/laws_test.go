package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/roads"
	"wayhouse/regs/window"
)

// Below: what holds of any tables with rows of axles, roads, times and hours.
// All rows stand in CA-XX: a row of the jurisdiction hides those of the country,
// which never clear, and so may make an answer milder by design.

// A world is one question and the tables that it is asked of.
type world struct {
	limits []limit.Row
	hours  []window.Hours
	v      Vehicle
	p      Stay
	at     time.Time
}

func (w world) check() []finding.Finding {
	days := []*window.Holiday{}
	return NewTables("test", Rows{Limits: pointers(w.limits), Hours: pointers(w.hours), Holidays: days}, nil).Check(w.v, w.p, w.at)
}

// level orders what a roll-up says as someone reads it who wants to go: unknown
// is worse than clear and better than anything that is asked.
func level(found []finding.Finding) int { return rank(finding.Roll(found).Outcome()) }

func rank(o finding.Outcome) int {
	return slices.Index([]finding.Outcome{finding.Clear, finding.Unknown, finding.Conditional, finding.Review, finding.Forbidden}, o)
}

// worst is the gravest outcome of each rule, and how many of its findings are not clear.
func worst(found []finding.Finding) (outcome map[string]finding.Outcome, open map[string]int) {
	outcome, open = map[string]finding.Outcome{}, map[string]int{}
	for _, f := range found {
		if o, ok := outcome[string(f.Rule)]; !ok || rank(f.Outcome) > rank(o) {
			outcome[string(f.Rule)] = f.Outcome
		}
		if f.Outcome != finding.Clear {
			open[string(f.Rule)]++
		}
	}
	return outcome, open
}

// firmly is a row that may clear by how it is known.
func firmly(s finding.Status, read time.Time) bool {
	return s.Trusted() && !read.IsZero() && june.Sub(read) <= DefaultTerm
}

var (
	drawnSpreads = []string{"", "<= 1 m", "> 1 m and <= 2 m", ">= 1 m and < 3 m", "> 2 m", "<= 30 m"}
	drawnAxles   = []string{"", "", "steering", "not steering", "2 tires", "4 tires", ">= 300 mm wide"}
	drawnReads   = []string{"2027-05-01", "2027-05-01", "2027-05-01", "2025-05-01", ""}
)

func drawLimit(t *rapid.T, id string) limit.Row {
	one := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	c := map[string]string{
		"id": id, "kind": one("kind", "all", "all", "all", "tiny_home", "manufactured_home"), "combination": one("form", "any", "any", "trailer"),
		"outcome": one("outcome", "conditional", "review", "forbidden"), "tier": one("tier", "legal", "legal", "beyond", "unsure"),
		"status": one("status", "published", "published", "verified", "secondary", "memory", "invented"), "read_on": one("read", drawnReads...),
		"beyond": one("beyond", "over", "at_or_over"), "permit": one("permit", "", "yes"), "escorts_any": one("escorts", "", "0", "1"),
		"when": one("when", "", "", "", "sunset-sunrise", "sunrise-sunset", "thaw"), "condition": one("condition", "", "", "", "with air brakes", "every axle >= 2.5 m over tires, or >= 2.45 m on 2 wide-base tires", "unless every axle >= 2.5 m over tires"),
		"roads": one("roads", "", "", "", "lanes=1", "lanes=2+", "ref!=I *"),
	}
	if c["roads"] == "" {
		c["road"] = one("road", "", "", "", "bridges")
	}
	q := rapid.SampledFrom(append([]limit.Quantity{limit.Height, limit.Width, limit.GrossMass}, ofAxles...)).Draw(t, "quantity")
	c["quantity"] = string(q)
	switch {
	case q == limit.BridgeFormula:
		c["threshold"] = one("formula", "100 kg (L N/(N-1) + 12 N + 36), L in ft", "250 kg (L N/(N-1) + 6 N + 20), L in ft; two tandems of > 1 m and <= 2 m, 5 m or more apart, 8 t each")
	case q == limit.TireLoadPerWidth:
		c["threshold"] = one("per width", "5 kg/mm", "10 kg/mm")
	case q.OfAxles():
		c["threshold"] = one("mass", "3 t", "5 t", "8 t", "12 t")
	case q == limit.GrossMass:
		c["threshold"] = one("mass", "3 t", "9 t", "12 t")
	default:
		c["threshold"] = one("length", "2 m", "3 m", "4 m")
	}
	if q.OfAxles() {
		c["group"], c["axle"] = one("group", "", "", "1+", "2", "2+"), one("axle", drawnAxles...)
		c["spread"] = one("spread", drawnSpreads...)
	}
	c["published"] = c["threshold"]
	return read(t, c)
}

func drawHours(t *rapid.T, id string) window.Hours {
	one := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	return hoursRow(t, map[string]string{
		"id": id, "for": one("for", "permit", "all"), "over_width": one("over width", "", "", "2 m", "3 m"), "over_mass": one("over mass", "", "", "9 t"),
		"roads": one("roads", "", "", "lanes=1", "red roads"), "open": one("open", "sunrise-sunset", "Mo-Fr 09:00-15:30", "24/7", "Mo-Sa; PH off"),
		"when": one("when", "", "", "Jun", "Dec", "thaw"), "status": one("status", "published", "published", "secondary", "memory"), "read_on": one("read", drawnReads...),
	})
}

func drawLoads(t *rapid.T) []limit.AxleLoad {
	var loads []limit.AxleLoad
	at := measure.Length(0)
	for i := range rapid.IntRange(0, 5).Draw(t, "axles") {
		if i > 0 {
			at += rapid.SampledFrom([]measure.Length{900, 1000, 1500, 2000, 2500, 6000}).Draw(t, "distance") * measure.Millimetre
		}
		l := limit.AxleLoad{
			At: at, Steering: i == 0 && rapid.Bool().Draw(t, "steering"), Tires: rapid.SampledFrom([]int{2, 4, 4, 0}).Draw(t, "tires"),
			Width: rapid.SampledFrom([]measure.Length{235, 445, 235, 0}).Draw(t, "width") * measure.Millimetre,
		}
		if rapid.IntRange(0, 7).Draw(t, "weighed") > 0 {
			l.Mass = measure.Exactly(rapid.SampledFrom([]measure.Mass{1, 2, 3, 4, 6, 8}).Draw(t, "mass") * measure.Tonne)
		}
		loads = append(loads, l)
	}
	return loads
}

func drawWorld(t *rapid.T) world {
	w := world{v: Vehicle{Subject: drawSubject(t), Measures: map[limit.Quantity]Measure{}, Loads: drawLoads(t)}}
	for range rapid.IntRange(0, 2).Draw(t, "axles across") {
		w.v.Across = append(w.v.Across, limit.Across{Over: rapid.SampledFrom([]measure.Length{0, 2400, 2450, 2500}).Draw(t, "over tires") * measure.Millimetre, Tires: rapid.SampledFrom([]int{0, 2, 4}).Draw(t, "tires")})
	}
	for i := range rapid.IntRange(0, 7).Draw(t, "limits") {
		w.limits = append(w.limits, drawLimit(t, fmt.Sprintf("l%d", i)))
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "rules of hours") {
		w.hours = append(w.hours, drawHours(t, fmt.Sprintf("h%d", i)))
	}
	for _, q := range []limit.Quantity{limit.Height, limit.Width, limit.GrossMass} {
		unit := metre
		if q == limit.GrossMass {
			unit = limit.Amount(3 * measure.Tonne)
		}
		if rapid.IntRange(0, 5).Draw(t, "given") > 0 {
			w.v.Measures[q] = drawMeasure(t, unit*limit.Amount(rapid.IntRange(1, 5).Draw(t, "value")), 9)
		}
	}
	w.at = on(rapid.SampledFrom([]string{"12:00", "23:00", "21:00"}).Draw(t, "at"))
	w.p = Stay{Jurisdictions: []string{"CA-XX"}, OwnerKnown: rapid.Bool().Draw(t, "owner known")}
	if rapid.IntRange(0, 4).Draw(t, "known when") > 0 {
		w.p.Until, w.p.Ends = w.at.Add(rapid.SampledFrom([]time.Duration{0, time.Hour, 4 * time.Hour}).Draw(t, "stay")), []orb.Point{winnipeg, east}
	}
	roads := []roads.Road{{Lanes: 1}, {Lanes: 2, Refs: []string{"I 5"}}, {Refs: []string{"US 1"}}, {}}
	for range rapid.IntRange(0, 2).Draw(t, "roads") {
		w.p.Roads = append(w.p.Roads, roads[rapid.IntRange(0, len(roads)-1).Draw(t, "road")])
	}
	return w
}

// One more row of limits never makes an answer milder, but that a firm one may
// settle what was unknown. A row that is not firm leaves as much unknown as
// before, save where it forbids: then escorts are not asked about.
func TestOneMoreRowNeverMakesMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		extra := drawLimit(t, "extra")
		before := w.check()
		w.limits = append(w.limits, extra)
		isMilder(t, before, w.check(), firmly(extra.Status, extra.ReadOn), extra.ID)
	})
}

// The same of a row of hours.
func TestOneMoreRowOfHoursNeverMakesMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		extra := drawHours(t, "extra")
		before := w.check()
		w.hours = append(w.hours, extra)
		isMilder(t, before, w.check(), firmly(extra.Status, extra.ReadOn), extra.ID)
	})
}

// isMilder fails where the findings after one more row are milder than those
// before by more than that row may bring about.
func isMilder(t *rapid.T, before, after []finding.Finding, firm bool, id string) {
	t.Helper()
	if was, is := level(before), level(after); is < was && !(firm && was == rank(finding.Unknown)) {
		t.Fatalf("with %s the trip is %s, without it %s", id, finding.Roll(after).Outcome(), finding.Roll(before).Outcome())
	}
	was, open := worst(before)
	is, left := worst(after)
	for rule, o := range was {
		if base, ok := strings.CutSuffix(rule, " escorts"); ok && (firm || is[base] == finding.Forbidden) {
			continue
		}
		if rank(is[rule]) < rank(o) && !(firm && o == finding.Unknown) {
			t.Fatalf("with %s the %s is %s, without it %s", id, rule, is[rule], o)
		}
		if !firm && left[rule] < open[rule] && rank(is[rule]) <= rank(o) {
			t.Fatalf("with %s, which is not firm, %s is not clear %d times, without it %d", id, rule, left[rule], open[rule])
		}
	}
}

// A rig that is bigger or heavier in one respect never fares better.
func TestBiggerNeverFaresBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		small := w.check()
		what := ""
		if loads := slices.Clone(w.v.Loads); len(loads) > 0 && rapid.Bool().Draw(t, "an axle") {
			i := rapid.IntRange(0, len(loads)-1).Draw(t, "axle")
			if loads[i].Mass.Open() {
				return
			}
			more := measure.Exactly(rapid.SampledFrom([]measure.Mass{1, measure.Tonne, 5 * measure.Tonne}).Draw(t, "more"))
			loads[i].Mass, w.v.Loads, what = measure.Sum(loads[i].Mass, more), loads, fmt.Sprintf("axle %d", i+1)
		} else {
			q := rapid.SampledFrom([]limit.Quantity{limit.Height, limit.Width, limit.GrossMass}).Draw(t, "quantity")
			m, given := w.v.Measures[q]
			if !given {
				return
			}
			more := rapid.SampledFrom([]limit.Amount{1, metre, limit.Amount(5 * measure.Tonne)}).Draw(t, "more")
			w.v.Measures[q], what = measure.Sum(m, measure.Exactly(more)), string(q)
		}
		big := w.check()
		if level(big) < level(small) {
			t.Fatalf("bigger in %s: %s, smaller: %s", what, finding.Roll(big).Outcome(), finding.Roll(small).Outcome())
		}
		was, _ := worst(small)
		is, _ := worst(big)
		for rule, o := range was {
			if strings.HasSuffix(rule, " escorts") {
				continue // a centi further up may say which
			}
			if rank(is[rule]) < rank(o) {
				t.Fatalf("bigger in %s: %s is %s, smaller: %s", what, rule, is[rule], o)
			}
		}
	})
}

// To know less clears nothing that was not clear.
func TestToKnowLessClearsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		was, _ := worst(w.check())
		less, name := w, ""
		less.v.Loads = slices.Clone(w.v.Loads)
		forget := []string{"roads", "until", "ends", "kind", "use", "form", "tow", "axles", "height", "width", "gross_mass", "loads", "owner", "across"}
		if len(w.v.Loads) > 0 {
			forget = append(forget, "mass", "tires", "tire width")
		}
		axle := 0
		if len(w.v.Loads) > 1 {
			axle = rapid.IntRange(0, len(w.v.Loads)-1).Draw(t, "axle")
		}
		switch name = rapid.SampledFrom(forget).Draw(t, "forget"); name {
		case "roads":
			less.p.Roads = nil
		case "until":
			less.p.Until = time.Time{}
		case "ends":
			less.p.Ends = nil
		case "kind":
			less.v.Kind = limit.KindUnknown
		case "use":
			less.v.Use = limit.UseUnknown
		case "form":
			less.v.Form = limit.FormUnknown
		case "tow":
			less.v.Tow = limit.TowUnknown
		case "axles":
			less.v.Axles = 0
		case "loads":
			less.v.Loads = nil
		case "across":
			less.v.Across = nil
		case "owner":
			less.p.OwnerKnown = false
		case "mass":
			less.v.Loads[axle].Mass = measure.Known[measure.Mass]{}
		case "tires":
			less.v.Loads[axle].Tires = 0
		case "tire width":
			less.v.Loads[axle].Width = 0
		default:
			less.v.Measures = map[limit.Quantity]Measure{}
			for q, m := range w.v.Measures {
				if string(q) != name {
					less.v.Measures[q] = m
				}
			}
		}
		is, _ := worst(less.check())
		for rule, o := range is {
			if before, asked := was[rule]; o == finding.Clear && asked && before != finding.Clear {
				t.Fatalf("without the %s %s is clear, with it %s", name, rule, before)
			}
		}
	})
}

// Whatever is asked, each finding that is not clear says what settles it, and each
// clear one rests on a firm row or names none.
func TestEveryFindingOfAWorldCanBeChecked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, f := range drawWorld(t).check() {
			if f.Topic == "" || f.Rule == "" || says(f) == "" || rank(f.Outcome) < 0 || wrongSteps(f) != "" {
				t.Fatalf("%s: %+v", wrongSteps(f), f)
			}
			if unsettled := f.Outcome == finding.Unknown || f.Outcome == finding.Review; unsettled && f.Reason == "" || f.Outcome == finding.Clear && f.Reason != "" {
				t.Fatalf("%s for the reason %q: %+v", f.Outcome, f.Reason, f)
			}
			firm := false
			for _, r := range f.Citations {
				if r.ID == "" || r.Revision != "test" || !r.Status.Valid() || r.Source == "" || r.Published == "" && r.Shows.None() {
					t.Fatalf("%s: %+v", f.Rule, r)
				}
				firm = firm || r.Decides && firmly(r.Status, r.ReadOn)
			}
			if f.Outcome == finding.Clear && !firm {
				t.Fatalf("%s is clear by %s", f.Rule, ids(f))
			}
		}
	})
}

// Without rows everything that is asked is unknown: of a rig that is described
// in full, on a way that is, and nothing is known of permits either.
func TestEmptyTablesKnowNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		w.limits, w.hours = nil, nil
		found := w.check()
		for _, f := range found {
			if f.Outcome != finding.Unknown || len(f.Citations) > 0 || whom(f) == "" || !asksNothing(f.Demands) {
				t.Fatalf("%+v", f)
			}
		}
		asked := 0
		for _, q := range limit.Quantities() {
			if !q.OnlyWhereRuled() {
				asked++
			}
		}
		if len(found) < asked || finding.Roll(found).Outcome() != finding.Unknown {
			t.Fatalf("%d findings, %s", len(found), finding.Roll(found).Outcome())
		}
		tables := of()
		needs := tables.Permits(w.v, []Passage{{Jurisdiction: "CA-XX", Findings: found}, {Jurisdiction: "CA-YY", Findings: []finding.Finding{asking("width")}}})
		if len(needs) != 1 || len(needs[0].Permits) != 0 || len(needs[0].Unknown) == 0 || needs[0].Office.None() || len(tables.PermitFindings(needs)) != 0 {
			t.Fatalf("%+v", needs)
		}
	})
}

func asksNothing(d finding.Demands) bool {
	return fmt.Sprint(d) == fmt.Sprint(finding.Demands{})
}
