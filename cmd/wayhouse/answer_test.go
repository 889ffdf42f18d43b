package main

import (
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/finding"
	"wayhouse/regs/task"
	"wayhouse/routing/trip"
)

// copied is the example in a folder of its own.
func copied(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"trip.yaml", "unit.yaml", "tow.yaml", "structures.csv"} {
		raw, err := os.ReadFile(example(t, name))
		noError(t, err)
		noError(t, os.WriteFile(filepath.Join(dir, name), raw, 0o600))
	}
	return dir
}

func contents(t *testing.T, path string) string {
	t.Helper()
	raw, err := os.ReadFile(path)
	noError(t, err)
	return string(raw)
}

// An answer goes into the file that takes it, and the rest of the example stays as it
// was written; the plan then cites who said so.
func TestAnswer(t *testing.T) {
	dir := copied(t)
	at := func(name string) string { return filepath.Join(dir, name) }
	unit, whole := contents(t, at("unit.yaml")), contents(t, at("trip.yaml"))
	out := prints(t, "answer", at("trip.yaml"), "unit.kind=manufactured_home", "use=private", "unit.running_gear[1].over_tires=2.21 m",
		"ca-on-width-01=yes", "--who", "the permit office, J. Doe", "--on", "2027-05-03")
	if strings.Count(out, "\n") != 4 || !strings.Contains(out, "J. Doe") {
		t.Errorf("it printed %q", out)
	}
	wantUnit := strings.Replace(unit, "tire_rated_pressure: 550 kPa}\n  - {behind_coupling: 6.40 m",
		"tire_rated_pressure: 550 kPa, over_tires: \"2.21 m\"}\n  - {behind_coupling: 6.40 m", 1) +
		"kind: manufactured_home\nanswers:\n  - {row: ca-on-width-01, holds: true, who: \"the permit office, J. Doe\", said_on: \"2027-05-03\"}\n"
	if got := contents(t, at("unit.yaml")); got != wantUnit {
		t.Errorf("unit.yaml:\n%s", got)
	}
	if got := contents(t, at("trip.yaml")); got != whole+"use: private\n" {
		t.Errorf("trip.yaml:\n%s", got)
	}
	p := planned(t, "plan", at("trip.yaml"))
	i := slices.IndexFunc(p.Legs[0].Findings, func(f wire.Finding) bool { return f.Rule == "width" })
	if width := p.Legs[0].Findings[i]; width.Outcome != finding.Clear || !strings.Contains(width.Rows[0].Words, "answered by the permit office, J. Doe on 2027-05-03") {
		t.Errorf("the width: %+v", width)
	}
	if len(p.Tasks.List) > 12 || slices.ContainsFunc(p.Tasks.List, func(task wire.Task) bool { return task.ID == "answer:unit.kind" || task.ID == "answer:use" }) {
		t.Errorf("%d tasks: %+v", len(p.Tasks.List), p.Tasks.List)
	}
	// what is refused leaves the files as they are
	for name, args := range map[string][]string{
		"a kind of no unit":      {"unit.kind=palace"},
		"a field of nothing":     {"unit.colour=red"},
		"a row without a name":   {"ca-on-width-01=no"},
		"neither yes nor no":     {"ca-on-width-01=perhaps", "--who", "x"},
		"in the future":          {"ca-on-width-01=no", "--who", "x", "--on", "2028-01-01"},
		"another on one day":     {"ca-on-width-01=no", "--who", "x", "--on", "2027-05-03"},
		"no such row":            {"unit.answers=ca-on-width-99"},
		"no value":               {"unit.kind="},
		"no field":               {"kind"},
		"against the coupling":   {"unit.combination=trailer", "unit.coupling=fifth_wheel"},
		"one good and one wrong": {"unit.combination=trailer", "unit.kind=palace"},
	} {
		before := contents(t, at("unit.yaml"))
		if code, _, errs := wayhouse(t, append([]string{"answer", at("trip.yaml")}, args...)...); code != exitInput || errs == "" {
			t.Errorf("%s: exit code %d, %s", name, code, errs)
		}
		if contents(t, at("unit.yaml")) != before {
			t.Errorf("%s: the file changed", name)
		}
	}
	if got := prints(t, "answer", at("tow.yaml"), "tow.form=truck"); !strings.Contains(contents(t, at("tow.yaml")), "form: truck\n") {
		t.Errorf("a tow vehicle: %s", got)
	}
}

// about says what a finding is about and where it stands.
func about(leg int, f finding.Finding) string {
	return fmt.Sprint(leg, f.Topic, f.Rule, f.Jurisdiction, f.Place)
}

// choice is answers to some tasks.
type choice struct {
	done   map[string]bool // tasks that are answered: whether every row of theirs holds
	fields map[string]any  // by path
}

// choices draws answers to some of the tasks that the files of a trip take, whatever
// they are. A load on a trailer is another description, whose sizes are those of the load.
func choices(list task.List) *rapid.Generator[choice] {
	values := map[string][]string{
		"unit.kind": {"recreational_trailer", "house_trailer", "manufactured_home", "tiny_home"},
		"use":       {"commercial", "private"}, "unit.combination": {"trailer", "semitrailer"},
		"rig.front_overhang": {"0 m", "0.5 m", "2 m"},
	}
	taken := func(a task.Ask) bool { return a.By == finding.Confirm || values[a.Of] != nil }
	return rapid.Custom(func(t *rapid.T) choice {
		out := choice{map[string]bool{}, map[string]any{}}
		var rows []any
		for _, todo := range slices.Concat(list.Tasks, list.Other) {
			if slices.ContainsFunc(todo.Asks, func(a task.Ask) bool { return !taken(a) }) || !rapid.Bool().Draw(t, todo.ID) {
				continue
			}
			yes := true
			for _, ask := range todo.Asks {
				if ask.By != finding.Confirm {
					out.fields[ask.Of] = rapid.SampledFrom(values[ask.Of]).Draw(t, ask.Of)
					continue
				}
				holds := rapid.Bool().Draw(t, ask.Of)
				yes = yes && holds
				rows = append(rows, map[string]any{"row": ask.Of, "holds": holds, "who": "a clerk", "said_on": "2027-05-03"})
			}
			out.done[todo.ID] = yes
		}
		if rows != nil {
			out.fields["unit.answers"] = rows
		}
		return out
	})
}

// laid is fields of a request with answers over them.
func (c choice) laid(fields string) map[string]any {
	q := &asked{flags: map[string]string{}}
	_ = json.Unmarshal([]byte(fields), &q.fields) // of an example
	for _, path := range slices.Sorted(maps.Keys(c.fields)) {
		q.put(path, "", c.fields[path])
	}
	return q.fields
}

// settles holds what stands after answers against what the tasks before them said: what
// they settle is known, whatever the answers were but that a row does not hold, and
// nothing is unknown of which no answered task spoke. It returns how many were settled.
func (c choice) settles(t interface{ Fatalf(string, ...any) }, list task.List, before, after iter.Seq2[int, finding.Finding]) (settled int) {
	left := map[string]int{} // of each that is not opened, or not unknown and spoken of
	for leg, f := range before {
		switch key := about(leg, f); {
		case f.Outcome == finding.Unknown && opened(f, list, c.done):
			settled++
		case f.Outcome == finding.Unknown, touched(list, c.done, key):
			left[key]++
		}
	}
	for leg, f := range after {
		if f.Outcome != finding.Unknown {
			continue
		}
		key := about(leg, f)
		if left[key]--; left[key] < 0 {
			t.Fatalf("%v: %s is unknown now, though it was settled or no task spoke of it: %v, settled by %+v", c, key, f.Says, f.Settles)
		}
	}
	return settled
}

// For any of the tasks of the example that its files take, in a check of many
// jurisdictions and, for a few of them, on the way.
func TestAnsweredTasksSettleWhatTheySay(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	base, err := tripOf(example(t, "trip.yaml"))
	noError(t, err)
	check := text(t, map[string]any{"unit": base.fields["unit"], "tow": base.fields["tow"],
		"in": []any{"CA-ON", "CA-QC", "CA-BC", "CA-AB", "CA-NB", "US-VT", "US-ME", "US-MI"}})
	design := func(c choice) *regs.Design {
		d, err := known.Check(t.Context(), wire.DecodeValue[wire.CheckRequest](c.laid(check)))
		noError(t, err)
		return d
	}
	first, settled := design(choice{}), 0
	rapid.Check(t, func(t *rapid.T) {
		list := first.Tasks()
		c := choices(list).Draw(t, "answers")
		settled += c.settles(t, list, ofNoLeg(first.Found()), ofNoLeg(design(c).Found()))
	})
	if settled == 0 {
		t.Error("no answer to a check settled anything")
	}
	way := text(t, base.fields)
	planned := func(c choice) *trip.Plan {
		p, err := known.Plan(t.Context(), wire.DecodeValue[wire.TripRequest](c.laid(way)))
		noError(t, err)
		return p
	}
	plan := planned(choice{})
	for seed := range 6 {
		list := plan.Tasks()
		c := choices(list).Example(seed)
		settled += c.settles(t, list, legs(plan), legs(planned(c)))
	}
}

// text is a value as JSON.
func text(t *testing.T, v any) string {
	t.Helper()
	raw, err := json.Marshal(v)
	noError(t, err)
	return string(raw)
}

// ofNoLeg are findings that stand on no leg.
func ofNoLeg(found []finding.Finding) iter.Seq2[int, finding.Finding] {
	return func(yield func(int, finding.Finding) bool) {
		for _, f := range found {
			if !yield(0, f) {
				return
			}
		}
	}
}

// legs are the findings of a plan, each with the number of its leg.
func legs(p *trip.Plan) iter.Seq2[int, finding.Finding] {
	return func(yield func(int, finding.Finding) bool) {
		for at, f := range p.All() {
			if !yield(at.Leg, f) {
				return
			}
		}
	}
}

// touched reports whether a task that was answered spoke of a finding.
func touched(list task.List, done map[string]bool, of string) bool {
	for id := range done {
		todo, _ := list.Find(id)
		if slices.ContainsFunc(todo.Cases, func(c task.Case) bool { return about(c.Leg, c.Finding) == of }) {
			return true
		}
	}
	return false
}

// opened reports whether every step of a way is a part of a task that was answered so
// that its rows hold.
func opened(f finding.Finding, list task.List, done map[string]bool) bool {
	return slices.ContainsFunc(f.Settles, func(way []finding.Step) bool {
		return !slices.ContainsFunc(way, func(s finding.Step) bool {
			return !slices.ContainsFunc(slices.Concat(list.Tasks, list.Other), func(todo task.Task) bool {
				return done[todo.ID] && slices.ContainsFunc(todo.Asks, func(a task.Ask) bool { return a.By == s.By && a.Of == s.Of })
			})
		})
	})
}

// takes reports whether a field is one of a request.
func takes(in reflect.Type, path string) bool {
	for in.Kind() == reflect.Pointer || in.Kind() == reflect.Slice {
		in = in.Elem()
	}
	if path == "" {
		return true
	}
	name, rest, _ := strings.Cut(path, ".")
	name, _, _ = strings.Cut(name, "[")
	if in.Kind() != reflect.Struct {
		return false
	}
	for _, f := range reflect.VisibleFields(in) {
		if tag, _, _ := strings.Cut(f.Tag.Get("json"), ","); tag == name {
			return takes(f.Type, rest)
		}
	}
	return false
}

// Nothing that is open in a plan, a check of everywhere or a rig is without a task, the
// list opens all of it, and a trip of two provinces has few. Each question that a file
// takes has its command.
func TestEverythingOpenHasATask(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	fields := func() map[string]any {
		base, err := tripOf(example(t, "trip.yaml"))
		noError(t, err)
		return base.fields
	}
	p, err := known.Plan(t.Context(), wire.DecodeValue[wire.TripRequest](fields()))
	noError(t, err)
	d, err := known.Check(t.Context(), wire.DecodeValue[wire.CheckRequest](map[string]any{
		"unit": fields()["unit"], "tow": fields()["tow"], "everywhere": true,
	}))
	noError(t, err)
	r, err := known.Rig(t.Context(), wire.DecodeValue[wire.RigQuestion](map[string]any{"unit": fields()["unit"], "tow": fields()["tow"]}))
	noError(t, err)
	bare, err := known.Check(t.Context(), wire.DecodeValue[wire.CheckRequest](map[string]any{"in": []any{"CA-ON", "CA-QC"}}))
	noError(t, err)
	var ofPlan, ofCheck, ofBare []finding.Finding
	ofBare = bare.Found()
	for _, f := range p.All() {
		ofPlan = append(ofPlan, f)
	}
	ofCheck = d.Found()
	for name, tc := range map[string]struct {
		found []finding.Finding
		list  task.List
		most  int
	}{
		"plan": {ofPlan, p.Tasks(), 12}, "check of nothing": {ofBare, bare.Tasks(), 12}, "check": {ofCheck, d.Tasks(), 100}, "rig": {r.Findings, r.Tasks(), 5},
	} {
		open := 0
		for _, f := range tc.found {
			if !task.Counts(f) {
				continue
			}
			open++
			if len(f.Settles) == 0 || slices.ContainsFunc(f.Settles, func(way []finding.Step) bool { return len(way) == 0 }) {
				t.Errorf("%s: nothing settles %s of %s: %+v", name, f.Rule, f.Jurisdiction, f.Settles)
			}
		}
		n := len(tc.list.Tasks)
		if n == 0 || n > tc.most || tc.list.Open != open || tc.list.Tasks[n-1].Opened != open {
			t.Errorf("%s: %d tasks open %d of %d, counted as %d", name, n, tc.list.Tasks[n-1].Opened, open, tc.list.Open)
		}
		for _, todo := range slices.Concat(tc.list.Tasks, tc.list.Other) {
			for _, ask := range todo.Asks {
				if slices.Contains([]finding.Way{finding.Answer, finding.Measure, finding.Weigh}, ask.By) && !takes(reflect.TypeFor[wire.TripRequest](), ask.Of) {
					t.Errorf("%s: no field of a request takes %s", name, ask.Of)
				}
				if slices.Contains([]finding.Way{finding.Confirm, finding.Verify}, ask.By) && len(ask.Command()) == 0 {
					t.Errorf("%s: %s has no command for %+v", name, todo.ID, ask)
				}
			}
			if again, found := tc.list.Find(todo.ID); !found || again.ID != todo.ID {
				t.Errorf("%s: no task is found as %s", name, todo.ID)
			}
		}
	}
}

// An end that was told of a task goes into the trip file, settles what it is about and
// nothing else, and is open again once that has changed.
func TestAnswerTasks(t *testing.T) {
	dir := copied(t)
	file := filepath.Join(dir, "trip.yaml")
	before := planned(t, "plan", file)
	out := prints(t, "answer", file, "office:CA-QC:drivers=clear", "expert:rig=forbidden", "--who", "J. Doe", "--on", "2027-05-03")
	if strings.Count(out, "\n") != 2 || !strings.Contains(out, "J. Doe") {
		t.Errorf("it printed %q", out)
	}
	prints(t, "answer", file, "meet=done", "--ask", "2", "--who", "the driver", "--on", "2027-05-03", "--until", "2027-06-01")
	prints(t, "answer", file, "office:CA-ON=conditional", "--condition", "by day", "--who", "J. Doe", "--on", "2027-05-03")
	after := planned(t, "plan", file)
	told := func(p wire.Trip) (out []string) {
		for _, f := range append(slices.Clone(p.Findings), p.Road.Findings...) {
			if f.Told != "" || f.Met {
				out = append(out, fmt.Sprintf("%s %s %s %t", f.Rule, f.Jurisdiction, f.Outcome, f.Met))
			}
		}
		return out
	}
	got := told(after)
	want := []string{
		"licence CA-QC conditional true", "brakes CA-ON conditional true", "brakes CA-QC conditional true",
		"inspection CA-QC conditional true", "tipping over  forbidden false", "holding together  forbidden false", "coupling share  forbidden false",
	}
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("nothing became %q: %q", w, got)
		}
	}
	for _, f := range after.Legs[0].Findings {
		if f.Rule == "width" && (f.Outcome != finding.Conditional || f.Met || !strings.Contains(f.Summary, "J. Doe told on 2027-05-03: by day")) {
			t.Errorf("the width: %+v", f)
		}
	}
	if len(told(before)) > 0 || after.Tasks.Told == 0 || after.Tasks.Open >= before.Tasks.Open {
		t.Errorf("%q before; %d open and %d told after, %d open before", told(before), after.Tasks.Open, after.Tasks.Told, before.Tasks.Open)
	}
	text := contents(t, file)
	for name, args := range map[string][]string{
		"no task":                 {"office:CA-MB=clear", "--who", "x"},
		"a question to the user":  {"answer:use=clear", "--who", "x"},
		"a row":                   {"verify:ca-on-width-01=clear", "--who", "x"},
		"nobody":                  {"meet=done"},
		"an office, seen to":      {"office:CA-QC=done", "--who", "x"},
		"seen to, as an answer":   {"meet=clear", "--who", "x"},
		"a condition alone":       {"office:CA-QC=clear", "--condition", "by day", "--who", "x"},
		"conditional of nothing":  {"office:CA-QC=conditional", "--who", "x"},
		"no such question":        {"office:CA-QC=clear", "--who", "x", "--ask", "99"},
		"in the future":           {"office:CA-QC=clear", "--who", "x", "--on", "2028-01-01"},
		"until before it is told": {"office:CA-QC=clear", "--who", "x", "--until", "2026-01-01"},
	} {
		if code, _, _ := wayhouse(t, append([]string{"answer", file}, args...)...); code != exitInput || contents(t, file) != text {
			t.Errorf("%s: exit %d", name, code)
		}
	}
	// another width is another question
	unit := filepath.Join(dir, "unit.yaml")
	noError(t, os.WriteFile(unit, []byte(strings.ReplaceAll(contents(t, unit), "1.275 m", "1.285 m")), 0o600))
	for _, f := range planned(t, "plan", file).Legs[0].Findings {
		if f.Rule == "width" && f.Told != "" {
			t.Errorf("the width after it changed: %+v", f)
		}
	}
}
