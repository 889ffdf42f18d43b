package regs

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
	"wayhouse/regs/measure"
	"wayhouse/regs/permit"
	"wayhouse/regs/roads"
	"wayhouse/regs/say"
)

// asked is what the tables say of a height in CA-XX with entries of the log, on
// the afternoon of 21 June.
func asked(t fataler, row limit.Row, v Vehicle, change func(*Stay), log ...map[string]string) []finding.Finding {
	t.Helper()
	var entries []permit.Contact
	for i, cells := range log {
		all := map[string]string{"id": fmt.Sprint("k", i), "settles": "height", "height": "4.1 m"}
		for column, text := range cells {
			all[column] = text
		}
		entries = append(entries, contact(t, all))
	}
	p := leg(on("13:00"), winnipeg)
	if change != nil {
		change(&p)
	}
	tables := NewTables("test", Rows{Limits: []*limit.Row{&row}, Contacts: pointers(entries)}, nil)
	return slices.DeleteFunc(tables.Check(v, p, on("12:00")), func(f finding.Finding) bool { return f.Rule != "height" })
}

// outcomes lists what findings answer.
func outcomes(found []finding.Finding) string {
	var out []string
	for _, f := range found {
		out = append(out, string(f.Outcome))
	}
	return strings.Join(out, " ")
}

func driving(refs ...string) func(*Stay) {
	return func(p *Stay) {
		for _, ref := range refs {
			p.Roads = append(p.Roads, roads.Road{Refs: []string{ref}})
		}
	}
}

// A refusal and a condition of an office tighten what the tables know, and show;
// they never make it milder.
func TestAnswersTightenWhatIsKnown(t *testing.T) {
	refused, conditional := map[string]string{"outcome": "forbidden"}, map[string]string{"outcome": "conditional", "condition": "with an escort"}
	review, cleared := map[string]string{"outcome": "review"}, map[string]string{"outcome": "clear"}
	for _, tc := range []struct {
		name string
		row  limit.Row
		log  []map[string]string
		want finding.Outcome
	}{
		{"refused what is clear", clean(), []map[string]string{refused}, finding.Forbidden},
		{"refused what is conditional", clean(at("low", 400)), []map[string]string{refused}, finding.Forbidden},
		{"a condition on what is clear", clean(), []map[string]string{conditional}, finding.Conditional},
		{"a condition on what is conditional", clean(at("low", 400)), []map[string]string{conditional}, finding.Conditional},
		{"a condition on what is forbidden", clean(at("low", 400), asks(finding.Forbidden)), []map[string]string{conditional}, finding.Forbidden},
		{"a review of what is clear", clean(), []map[string]string{review}, finding.Review},
		{"clear to the office, conditional by a row", clean(at("low", 400)), []map[string]string{cleared}, finding.Conditional},
		{"cleared once and refused once", clean(), []map[string]string{cleared, refused}, finding.Forbidden},
	} {
		found := asked(t, tc.row, measured(410, 260), nil, tc.log...)
		f := found[0]
		last := tc.log[len(tc.log)-1]
		_, shown := shows(f, fmt.Sprint("k", len(tc.log)-1))
		if len(found) != 1 || f.Outcome != tc.want || whom(f) == "" || shown == (last["outcome"] == "clear") {
			t.Errorf("%s: %s by %s (%s), want %s", tc.name, outcomes(found), ids(f), says(f), tc.want)
		}
		if condition := last["condition"]; condition != "" && !slices.Contains(say.Strings(f.Demands.Conditions), condition) {
			t.Errorf("%s: asks %q", tc.name, f.Demands.Conditions)
		}
	}
}

// An answer settles what was asked: for the roads, kind and use that it names.
// What it asks of others is for a person to read.
func TestAnswersBindWhatWasAskedAbout(t *testing.T) {
	recalled := clean(status(finding.Memory))
	home := func(kind limit.Kind, use limit.Use) Vehicle {
		v := measured(410, 260)
		v.Kind, v.Use = kind, use
		return v
	}
	for _, tc := range []struct {
		name    string
		v       Vehicle
		place   func(*Stay)
		cells   map[string]string
		settles string // an answer that clears
		refuses string // the same that refuses
	}{
		{"any road", home("", ""), driving("7"), nil, "clear", "forbidden"},
		{"this road", home("", ""), driving("7"), map[string]string{"roads": "ref=7"}, "clear", "forbidden"},
		{"another road", home("", ""), driving("7"), map[string]string{"roads": "ref=8"}, "unknown", "unknown"},
		{"one street of several roads", home("", ""), driving("7", "8"), map[string]string{"roads": "ref=7"}, "unknown", "forbidden"},
		{"a street, roads not known", home("", ""), nil, map[string]string{"roads": "ref=7"}, "unknown", "unknown review"},
		{"a street in words", home("", ""), driving("7"), map[string]string{"roads": "the old bridge"}, "unknown", "unknown review"},
		{"its kind", home(limit.HouseTrailer, ""), nil, map[string]string{"kind": "house_trailer"}, "clear", "forbidden"},
		{"another kind", home(limit.ManufacturedHome, ""), nil, map[string]string{"kind": "house_trailer"}, "unknown", "unknown"},
		{"a kind that it may count as", home(limit.TinyHome, ""), nil, map[string]string{"kind": "house_trailer"}, "unknown", "unknown review"},
		{"its use", home("", limit.Private), nil, map[string]string{"use": "private"}, "clear", "forbidden"},
		{"another use", home("", limit.Commercial), nil, map[string]string{"use": "private"}, "unknown", "unknown"},
		{"a use not given", home("", ""), nil, map[string]string{"use": "private"}, "unknown", "unknown review"},
	} {
		for outcome, want := range map[string]string{"clear": tc.settles, "forbidden": tc.refuses} {
			cells := map[string]string{"outcome": outcome}
			for column, text := range tc.cells {
				cells[column] = text
			}
			found := asked(t, recalled, tc.v, tc.place, cells)
			if got := outcomes(found); got != want {
				t.Errorf("%s, %s: %s (%s), want %s", tc.name, outcome, got, says(found[len(found)-1]), want)
			}
			for _, f := range found {
				if (whom(f) == "") != (f.Outcome == finding.Clear) {
					t.Errorf("%s, %s: ask %q", tc.name, outcome, whom(f))
				}
			}
		}
	}
}

// An answer about a height that names no width settles nothing of a rig that is
// not known to be clear without it.
func TestAnswerAboutAHeightDoesNotSettleAWiderRig(t *testing.T) {
	row := clean(status(finding.Memory))
	wide := clean(func(r *limit.Row) {
		r.ID, r.Quantity, r.Threshold, r.Published = "wide", limit.Width, 260*centi, "2.6 m"
	})
	for _, tc := range []struct {
		name  string
		width limit.Amount
		cells map[string]string
		want  finding.Outcome
	}{
		{"names the width", 350, map[string]string{"width": "3.5 m"}, finding.Clear},
		{"names a smaller width", 350, map[string]string{"width": "3.4 m"}, finding.Unknown},
		{"names none, wider than the law has it", 350, map[string]string{"width": ""}, finding.Unknown},
		{"names none, within the law", 260, map[string]string{"width": ""}, finding.Clear},
		{"names none of a mass that no row clears", 260, map[string]string{"mass": ""}, finding.Unknown},
	} {
		cells := map[string]string{"outcome": "clear", "settles": "height", "height": "4.1 m"}
		for column, text := range tc.cells {
			cells[column] = text
		}
		k := contact(t, cells)
		tables := NewTables("test", Rows{Limits: []*limit.Row{&row, &wide}, Contacts: []*permit.Contact{&k}}, nil)
		if f := rule(t, tables.Check(measured(410, tc.width), leg(on("13:00"), winnipeg), on("12:00")), "height"); f.Outcome != tc.want {
			t.Errorf("%s: %s (%s), want %s", tc.name, f.Outcome, says(f), tc.want)
		}
	}
}

// A town answers for itself: it refuses though no row of it is in the tables, and
// settles whose its roads are where the way lies in it alone. A province does so
// only for roads that it names.
func TestATownAnswersForItself(t *testing.T) {
	for _, tc := range []struct {
		name  string
		towns []string
		log   map[string]string // outcomes by jurisdiction
		want  string            // of the road owner, by jurisdiction
	}{
		{"the town", []string{"Town"}, map[string]string{"CA-XX/Town": "clear"}, "CA-XX clear"},
		{"the town, of a way through another too", []string{"Town", "Village"}, map[string]string{"CA-XX/Town": "clear"}, "CA-XX unknown"},
		{"both towns", []string{"Town", "Village"}, map[string]string{"CA-XX/Town": "clear", "CA-XX/Village": "review"}, "CA-XX review, CA-XX/Village review"},
		{"the town, of a way that leaves it", []string{"Town", ""}, map[string]string{"CA-XX/Town": "clear"}, "CA-XX unknown"},
		{"another town", []string{"Village"}, map[string]string{"CA-XX/Town": "clear"}, "CA-XX unknown"},
		{"the town refuses", []string{"Town", ""}, map[string]string{"CA-XX/Town": "forbidden"}, "CA-XX unknown, CA-XX/Town forbidden"},
		{"the province, for no road in particular", []string{"Town"}, map[string]string{"CA-XX": "clear"}, "CA-XX unknown"},
	} {
		var log []permit.Contact
		for _, code := range []string{"CA-XX", "CA-XX/Town", "CA-XX/Village"} {
			if outcome := tc.log[code]; outcome != "" {
				log = append(log, contact(t, map[string]string{"id": code[3:], "jurisdiction": code, "outcome": outcome, "settles": "road owner", "height": "4.1 m"}))
			}
		}
		p := leg(on("13:00"), winnipeg)
		p.OwnerKnown, p.Towns = false, tc.towns
		var got []string
		for _, f := range NewTables("test", Rows{Contacts: pointers(log)}, nil).Check(measured(410, 260), p, on("12:00")) {
			if f.Rule == permit.RoadOwner {
				got = append(got, f.Jurisdiction+" "+string(f.Outcome))
			}
		}
		if strings.Join(got, ", ") != tc.want {
			t.Errorf("%s: %q, want %q", tc.name, got, tc.want)
		}
	}
}

// One more entry of the log never makes an answer milder, but that one that clears
// may settle what was unknown.
func TestOneMoreAnswerNeverMakesMilder(t *testing.T) {
	drawn := func(t *rapid.T, id string) permit.Contact {
		one := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
		cells := map[string]string{
			"id": id, "jurisdiction": one("in", "CA-XX", "CA-XX", "CA-XX/Town"), "outcome": one("outcome", "clear", "conditional", "review", "forbidden"),
			"settles": one("settles", "height", "width", "width escorts", "hours", "road owner", "gross_mass; height"), "height": one("height", "1 m", "4 m"),
			"width": one("width", "2 m", "3 m"), "mass": one("mass", "3 t", "12 t"), "answered_on": one("answered", "2027-05-01", "2026-05-01"),
			"expires_on": one("expires", "", "2027-06-21", "2027-12-31"), "valid_from": one("from", "", "2027-06-22"),
			"kind": one("kind", "", "tiny_home", "house_trailer"), "use": one("use", "", "private"), "roads": one("roads", "", "lanes=1", "red roads"),
		}
		if cells["outcome"] == "conditional" {
			cells["condition"] = "with an escort"
		}
		if cells["valid_from"] != "" && cells["expires_on"] == "2027-06-21" {
			cells["expires_on"] = ""
		}
		return contact(t, cells)
	}
	rapid.Check(t, func(t *rapid.T) {
		w := drawWorld(t)
		w.v.Measures[limit.CombinationLength] = measure.Exactly(12 * metre)
		w.p.Towns = rapid.SampledFrom([][]string{nil, {"Town"}, {"Town", ""}}).Draw(t, "towns")
		var log []permit.Contact
		for i := range rapid.IntRange(0, 2).Draw(t, "entries") {
			log = append(log, drawn(t, fmt.Sprint("k", i)))
		}
		check := func(log []permit.Contact) []finding.Finding {
			return NewTables("test", Rows{Limits: pointers(w.limits), Hours: pointers(w.hours), Contacts: pointers(log)}, nil).Check(w.v, w.p, w.at)
		}
		extra := drawn(t, "extra")
		isMilder(t, check(log), check(append(log, extra)), extra.Outcome == finding.Clear, extra.ID)
		for _, f := range check(append(log, extra)) {
			if wrongSteps(f) != "" || says(f) == "" || rank(f.Outcome) < 0 {
				t.Fatalf("%s: %+v", wrongSteps(f), f)
			}
		}
	})
}
