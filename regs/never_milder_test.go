package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
)

// Below: what more is known never makes an answer milder, but for a published or
// verified row of the place and an answer that names just this; and what less is
// known never makes one clear. Rows stand in a jurisdiction, its country and a town.

// A known world is a world with answers of offices.
type known struct {
	world
	contacts []permit.Contact
}

func (k known) check() []finding.Finding {
	return NewTables("test", Rows{Limits: pointers(k.limits), Hours: pointers(k.hours), Contacts: pointers(k.contacts)}, nil).Check(k.v, k.p, k.at)
}

var (
	drawnPlaces = []string{"CA-XX", "CA-XX", "CA", "CA-XX/Mill"}
	apartAs     = []string{">= 1 m and < 3 m; apart >= 3 m", "<= 1.85 m; apart > 1.85 m", "<= 1 m; apart > 2 m"}
)

func drawPlaced(t *rapid.T, id string) limit.Row {
	r := drawLimit(t, id)
	r.Jurisdiction = rapid.SampledFrom(drawnPlaces).Draw(t, "jurisdiction")
	groups := []limit.Quantity{limit.TandemMass, limit.TridemMass, limit.AxleGroupMass}
	if slices.Contains(groups, r.Quantity) && rapid.Bool().Draw(t, "apart") {
		said := axleRow(t, id, r.Quantity, "1 t", "", rapid.SampledFrom(apartAs).Draw(t, "spread"), "")
		r.Spread, r.Apart = said.Spread, said.Apart
	}
	return r
}

func drawAnswer(t *rapid.T, id string) permit.Contact {
	sizes := map[limit.Quantity]limit.Amount{}
	for _, q := range permit.Rig() {
		if rapid.IntRange(0, 3).Draw(t, string(q)+" stated") > 0 {
			sizes[q] = limit.Amount(rapid.IntRange(1, 6).Draw(t, string(q))) * metre
		}
	}
	k := permit.Contact{
		ID: id, Jurisdiction: rapid.SampledFrom(drawnPlaces).Draw(t, "asked in"), AnsweredBy: "a clerk", Asked: "sizes", Sizes: sizes,
		AnsweredOn: june.AddDate(0, 0, -rapid.SampledFrom([]int{1, 30, 800}).Draw(t, "days ago")),
		Outcome:    rapid.SampledFrom([]finding.Outcome{finding.Clear, finding.Conditional, finding.Review, finding.Forbidden}).Draw(t, "answer"),
		Settles:    rapid.SliceOfNDistinct(rapid.SampledFrom([]finding.Rule{"height", "width", "gross_mass", "road owner", "hours", "height escorts"}), 1, 3, rapid.ID).Draw(t, "settles"),
	}
	if k.Outcome == finding.Conditional {
		k.Condition = "by day"
	}
	return k
}

func drawKnown(t *rapid.T) known {
	k := known{world: drawWorld(t)}
	for i := range k.limits {
		k.limits[i] = drawPlaced(t, k.limits[i].ID)
	}
	if rapid.Bool().Draw(t, "town") {
		k.p.Towns = []string{"Mill"}
	}
	if rapid.Bool().Draw(t, "designed") {
		k.v.Uncertain = map[limit.Quantity]Uncertainty{limit.Height: {By: metre / 20, Designed: true}, limit.Width: {By: metre, Designed: true}}
	}
	for i := range rapid.IntRange(0, 1).Draw(t, "answers") {
		k.contacts = append(k.contacts, drawAnswer(t, fmt.Sprintf("k%d", i)))
	}
	return k
}

// about is what a finding is about.
func about(f finding.Finding) string { return f.Jurisdiction + " " + string(f.Rule) }

// milder lists what one set of findings answers more mildly than another: a
// graver outcome before, or fewer findings that are not clear beside one as grave: an
// unknown that became a demand is none the milder. Of what is forbidden no escort is
// asked.
func milder(before, after []finding.Finding) []string {
	sum := func(found []finding.Finding) (map[string]finding.Outcome, map[string]int) {
		named := slices.Clone(found)
		for i, f := range named {
			named[i].Rule = finding.Rule(about(f))
		}
		return worst(named)
	}
	was, open := sum(before)
	is, left := sum(after)
	var out []string
	for rule, o := range was {
		base := strings.TrimSuffix(rule, " escorts")
		if base != rule && is[base] == finding.Forbidden {
			continue
		}
		if rank(is[rule]) < rank(o) || rank(is[rule]) == rank(o) && left[rule] < open[rule] {
			out = append(out, rule)
		}
	}
	slices.Sort(out)
	return out
}

// told is what findings say of a rule.
func told(found []finding.Finding, rule string) (out []string) {
	for _, f := range found {
		if about(f) == rule {
			out = append(out, fmt.Sprintf("%s: %s", f.Outcome, says(f)))
		}
	}
	return out
}

// A row that is neither published nor verified, or is too old, and any row of a
// country, makes nothing milder; a firm one only what it is about.
func TestARowMakesNothingMilderUnlessItIsFirmAndAboutIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		extra := drawPlaced(t, "extra")
		if rapid.IntRange(0, 3).Draw(t, "names another") == 0 {
			extra.Supersedes = []string{"l0"}
		}
		before := k.check()
		k.limits = append(k.limits, extra)
		for _, rule := range milder(before, k.check()) {
			own := strings.HasPrefix(rule, extra.Jurisdiction+" "+string(extra.Quantity))
			// Where a firm row of single axles, tandems or tridems speaks of axles, they
			// need none for groups; a road whose limit is settled asks for no hours.
			of := extra.Quantity.OfAxles() && slices.ContainsFunc(ofAxles, func(q limit.Quantity) bool { return rule == extra.Jurisdiction+" "+string(q) })
			hours := rule == extra.Jurisdiction+" hours"
			if !firmly(extra.Status, extra.ReadOn) || extra.Jurisdiction == "CA" || !own && !of && !hours {
				t.Fatalf("%s of %s (%s) makes %q milder: %s; before %s", extra.Quantity, extra.Jurisdiction, extra.Status, rule, told(k.check(), rule), told(before, rule))
			}
		}
	})
}

// An answer makes milder only what it names, in its own place, and only for a
// vehicle that is surely within the sizes that it states.
func TestAnAnswerMakesNothingMilderButWhatItNames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		extra := drawAnswer(t, "extra")
		before := k.check()
		k.contacts = append(k.contacts, extra)
		for _, rule := range milder(before, k.check()) {
			place, what, _ := strings.Cut(rule, " ")
			within := true
			for q, most := range extra.Sizes {
				a, exact := k.v.Measures[q].Value()
				within = within && (exact || k.v.Measures[q].Open()) && a+k.v.Uncertain[q].By <= most
			}
			if place != extra.Jurisdiction || !slices.Contains(extra.Settles, finding.Rule(what)) || !within && extra.Outcome != finding.Forbidden || k.at.Sub(extra.AnsweredOn) > DefaultTerm && extra.Outcome != finding.Forbidden {
				t.Fatalf("an answer of %s on %v (%s) makes %q milder", extra.Jurisdiction, extra.Settles, extra.Outcome, rule)
			}
		}
	})
}

// ofTheLog reports whether a finding is what an office answered and nothing else.
func (k known) ofTheLog(f finding.Finding) bool {
	return len(f.Citations) > 0 && !slices.ContainsFunc(f.Citations, func(r finding.Citation) bool {
		return !slices.ContainsFunc(k.contacts, func(c permit.Contact) bool { return c.ID == r.ID })
	})
}

// A row whose removal makes an answer milder shows in that answer as deciding it:
// nothing tightens unseen, and whoever takes a row away sees what it asked.
func TestWhatTightensShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		if len(k.limits) == 0 {
			return
		}
		before := k.check()
		i := rapid.IntRange(0, len(k.limits)-1).Draw(t, "row")
		gone := k.limits[i]
		k.limits = slices.Delete(slices.Clone(k.limits), i, i+1)
		decides := map[string]bool{}
		for _, f := range before {
			for _, r := range f.Citations {
				if r.ID == gone.ID && r.Decides && f.Outcome != finding.Clear {
					decides[about(f)] = true
				}
			}
		}
		after := k.check()
		for _, rule := range milder(before, after) {
			// asked only where there are rows; what an office of the town answered stands all the same
			unasked := (gone.Quantity.OnlyWhereRuled() || strings.Contains(gone.Jurisdiction, "/")) &&
				!slices.ContainsFunc(after, func(f finding.Finding) bool { return about(f) == rule && !k.ofTheLog(f) })
			if !decides[rule] && !strings.HasSuffix(rule, " hours") && !unasked {
				t.Fatalf("without %+v %q is milder, and it did not show as deciding", gone, rule)
			}
			if strings.HasSuffix(rule, " hours") && !unasked && len(decides) == 0 { // asked of what travels under a permit
				t.Fatalf("without a row that decides nothing %q is milder", rule)
			}
		}
	})
}

// What less is known of the roads, the town and the axles clears nothing.
func TestToKnowLessOfAPlaceOrAnAxleClearsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKnown(t)
		was, _ := worst(k.check())
		forget := []string{"town", "end of stay", "all axles"}
		if len(k.p.Roads) > 0 {
			forget = append(forget, "refs", "lanes")
		}
		if len(k.v.Loads) > 0 {
			forget = append(forget, "mass", "tires", "width", "steering")
		}
		name := rapid.SampledFrom(forget).Draw(t, "forget")
		k.p.Roads, k.v.Loads = slices.Clone(k.p.Roads), slices.Clone(k.v.Loads)
		axle, road := 0, 0
		if len(k.v.Loads) > 0 {
			axle = rapid.IntRange(0, len(k.v.Loads)-1).Draw(t, "axle")
		}
		if len(k.p.Roads) > 0 {
			road = rapid.IntRange(0, len(k.p.Roads)-1).Draw(t, "of the roads")
		}
		switch name {
		case "town":
			k.p.Towns = nil
		case "end of stay":
			k.p.Until = time.Time{}
		case "all axles":
			k.v.Loads = nil
		case "refs":
			k.p.Roads[road].Refs = nil
		case "lanes":
			k.p.Roads[road].Lanes = 0
		case "mass":
			k.v.Loads[axle].Mass = measure.Known[measure.Mass]{}
		case "tires":
			k.v.Loads[axle].Tires = 0
		case "width":
			k.v.Loads[axle].Width = 0
		case "steering":
			k.v.Loads[axle].Steering = false
		}
		is, _ := worst(k.check())
		for rule, o := range is {
			if before, asked := was[rule]; o == finding.Clear && asked && before != finding.Clear && name != "town" {
				t.Fatalf("without the %s %s is clear, with it %s", name, rule, before)
			}
		}
	})
}
