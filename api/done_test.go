package api_test

import (
	"net/http"
	"strings"
	"testing"

	"wayhouse/api/wire"
	"wayhouse/regs/finding"
)

// The end of a task is told in a request, with what its asks say that it is about; what
// was not asked stays open.
func TestTasksAreEnded(t *testing.T) {
	k := keeping(t, nil)
	ask := object{"in": []string{"CA-QC"}, "use": "private",
		"unit": object{"height": "4 m", "width": "2.5 m", "length": "8 m", "mass": "6 t", "kind": "house_trailer", "coupling": "ball"},
		"rig":  object{"mass": "10 t", "length": "14 m", "rated_mass": "12 t"}, "tow": object{"form": "pickup"}}
	before := does[wire.Design](t, k, http.MethodPost, "/v1/checks", ask)
	var done []object
	for _, task := range before.Tasks.List {
		if task.ID != "office:CA-QC" || task.Takes == "" {
			continue
		}
		for _, a := range task.Asks {
			says := object{"task": task.ID, "says": "clear", "who": "J. Doe", "said_on": "2027-05-03", "about": a.About}
			if strings.Contains(a.Asks, "gross mass") {
				says["says"], says["condition"], says["until"] = "conditional", "by day", "2027-12-31"
			}
			done = append(done, says)
		}
	}
	if len(done) < 2 {
		t.Fatalf("no questions for an office: %+v", before.Tasks)
	}
	ask["done"] = done
	after := does[wire.Design](t, k, http.MethodPost, "/v1/checks", ask)
	if after.Tasks.Told == 0 || after.Tasks.Open >= before.Tasks.Open {
		t.Errorf("%d open and %d told, %d before", after.Tasks.Open, after.Tasks.Told, before.Tasks.Open)
	}
	var meets []object
	for _, task := range after.Tasks.List {
		if task.ID == "meet" {
			meets = append(meets, object{"task": task.ID, "says": "done", "who": "the driver", "said_on": "2027-05-03", "about": task.Asks[0].About})
		}
	}
	ask["done"] = append(done, meets...)
	met := 0
	for _, a := range does[wire.Design](t, k, http.MethodPost, "/v1/checks", ask).Answers {
		for _, f := range a.Findings {
			if f.Met {
				met++
				if f.Outcome != finding.Conditional || f.Told != finding.Conditional {
					t.Errorf("met: %+v", f)
				}
			}
		}
	}
	if len(meets) != 1 || met != 1 {
		t.Errorf("%d conditions to see to, %d met", len(meets), met)
	}
	ask["rig"] = object{"mass": "10 t", "length": "14 m", "rated_mass_kg": 12000.0}
	does[wire.Design](t, k, http.MethodPost, "/v1/checks", ask)
	ask["done"] = []object{{"task": "weigh", "says": "clear", "who": "x", "said_on": "2027-05-03", "about": []string{"x"}}}
	refused(t, k.ask(t, http.MethodPost, "/v1/checks", ask), 422, entry{"done[0].task", "weigh", "no task of which the end is told", "office:CA-ON"})
}
