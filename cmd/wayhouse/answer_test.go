package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wayhouse/api/service"
	"wayhouse/api/wire"
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
	wantUnit := strings.Replace(unit, "tires: 2, tire_rating: 1285 kg, tire_width: 235 mm, track: 1.98 m}\n  - {behind_coupling: 6.40 m",
		"tires: 2, tire_rating: 1285 kg, tire_width: 235 mm, track: 1.98 m, over_tires: \"2.21 m\"}\n  - {behind_coupling: 6.40 m", 1) +
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

// shippedTrip is the shipped trip with answers laid over it.
type shippedTrip struct {
	known  *service.Service
	fields string // of the trip, as JSON
}

func (a shippedTrip) plan(t *rapid.T, set func(*asked)) *trip.Plan {
	q := &asked{flags: map[string]string{}}
	if err := json.Unmarshal([]byte(a.fields), &q.fields); err != nil {
		t.Fatal(err)
	}
	set(q)
	p, err := a.known.Plan(context.Background(), wire.DecodeValue[wire.TripRequest](q.fields))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// lay answers one task; yes is whether conditions hold. It reports whether the task can be
// answered in the files of a trip, and does what it says if so.
func lay(t *rapid.T, q *asked, todo task.Task) (can, yes bool) {
	yes = true
	var rows []any
	for _, ask := range todo.Asks {
		switch {
		case ask.By == finding.Confirm:
			holds := rapid.Bool().Draw(t, ask.Of)
			yes = yes && holds
			rows = append(rows, map[string]any{"row": ask.Of, "holds": holds, "who": "a clerk", "said_on": "2027-05-03"})
		case ask.By == finding.Answer:
			values := map[string][]string{
				"unit.kind": {"recreational_trailer", "house_trailer", "manufactured_home", "tiny_home", "load_on_trailer"},
				"use":       {"commercial", "private"}, "unit.combination": {"trailer", "semitrailer"},
			}[ask.Of]
			if values == nil {
				return false, yes
			}
			q.put(ask.Of, "", rapid.SampledFrom(values).Draw(t, ask.Of))
		default:
			return false, yes
		}
	}
	if before, _ := q.at("unit.answers").([]any); rows != nil {
		q.put("unit.answers", "", append(before, rows...))
	}
	return true, yes
}

// For any of the tasks of the example that its files take: once they are answered, what
// they say that they settle is known, whatever the answers were but that a row does not
// hold; and nothing is unknown of which no task spoke.
func TestAnsweredTasksSettleWhatTheySay(t *testing.T) {
	known, tables, err := load(t.Context(), sources{}, noon, withRoads)
	noError(t, err)
	defer tables.Close()
	base, err := tripOf(example(t, "trip.yaml"))
	noError(t, err)
	raw, err := json.Marshal(base.fields)
	noError(t, err)
	a := shippedTrip{known, string(raw)}
	var settled, left int
	rapid.Check(t, func(t *rapid.T) {
		before := a.plan(t, func(*asked) {})
		list := before.Tasks()
		done := map[string]bool{}
		after := a.plan(t, func(q *asked) {
			for _, todo := range slices.Concat(list.Tasks, list.Other) {
				trial := &asked{fields: map[string]any{}, flags: map[string]string{}}
				if can, _ := lay(t, trial, todo); can && rapid.Bool().Draw(t, todo.ID) {
					_, yes := lay(t, q, todo)
					done[todo.ID] = yes
				}
			}
		})
		was := map[string]finding.Finding{}
		for at, f := range before.All() {
			was[about(at.Leg, f)] = f
		}
		for at, f := range after.All() {
			b, stood := was[about(at.Leg, f)]
			if f.Outcome != finding.Unknown {
				continue
			}
			if !stood || b.Outcome == finding.Clear && !touched(list, done, about(at.Leg, f)) {
				t.Fatalf("%v: %s is unknown now, and no task spoke of it: %v", done, about(at.Leg, f), f.Says)
			}
			if b.Outcome == finding.Unknown && opened(b, at.Leg, list, done) {
				t.Fatalf("%v: %s is still unknown: %v, settled by %+v; before by %+v", done, about(at.Leg, f), f.Says, f.Settles, b.Settles)
			}
			left++
		}
		for _, f := range was {
			if f.Outcome == finding.Unknown && opened(f, 0, list, done) {
				settled++
			}
		}
	})
	if settled == 0 || left == 0 {
		t.Errorf("%d findings were settled and %d left", settled, left)
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
func opened(f finding.Finding, _ int, list task.List, done map[string]bool) bool {
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
	for _, a := range bare.Answers {
		ofBare = append(ofBare, a.Findings...)
	}
	for _, f := range p.All() {
		ofPlan = append(ofPlan, f)
	}
	for _, a := range d.Answers {
		ofCheck = append(ofCheck, a.Findings...)
	}
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
