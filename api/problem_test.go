package api_test

import (
	"fmt"
	"strings"
	"testing"
	"wayhouse/api/phrase"
	"wayhouse/regs/say"

	"wayhouse/api"
	"wayhouse/regs/store"
)

// What the store refuses is told as what it is, also through the words that
// the errors were wrapped in.
func TestProblemsOfTheStore(t *testing.T) {
	for _, tc := range []struct {
		err    error
		status int
		says   []string
	}{
		{&store.NoRevisionError{Number: 7, Newest: 2}, 422, []string{"tables_revision", `"7"`, "the newest is 2"}},
		{&store.NoRowError{Table: "limits", ID: "zz-1"}, 404, []string{`limits: there is no row "zz-1"`}},
		{&store.ConflictError{Table: "limits", ID: "zz-1", Was: 2, Is: 3}, 412, []string{`limits: row "zz-1"`, "revision 3 changed it since", "make the change again"}},
		{&store.ConflictError{Table: "limits", ID: "zz-1", Was: 2}, 412, []string{"it was removed since"}},
		{&store.ConflictError{Table: "limits", ID: "zz-1", Is: 3}, 412, []string{"revision 3 added it since"}},
		{&store.EditError{Table: "limits", ID: "zz-1", Problem: say.That("error.edited_twice")}, 422, []string{"limits zz-1", "is edited twice", "nothing was changed"}},
		{&store.EditError{Problem: say.That("error.nothing_is_to_be")}, 422, []string{"nothing is to be changed"}},
	} {
		p, known := api.AsProblem(fmt.Errorf("store in memory: change: %w", tc.err))
		if !known || p.Status != tc.status {
			t.Errorf("%v: known %t, %+v, want status %d", tc.err, known, p, tc.status)
			continue
		}
		p = p.In(phrase.English())
		for _, want := range tc.says {
			if all := p.Detail + "\n" + fmt.Sprint(p.Errors); !strings.Contains(all, want) {
				t.Errorf("%v: %q does not say %q", tc.err, all, want)
			}
		}
		if strings.Contains(p.Detail, "in memory") {
			t.Errorf("%v: names the store: %s", tc.err, p.Detail)
		}
	}
}
