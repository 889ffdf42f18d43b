package api_test

import (
	"maps"
	"net/http"
	"slices"
	"testing"

	"wayhouse/api/wire"
	"wayhouse/regs/rows"
)

// What a table says of its columns is true of its rows: a word that is named is taken,
// one that is not is refused, and so is an empty cell that is needed.
func TestColumnsAreAsDescribed(t *testing.T) {
	k := keeping(t, nil)
	words, needed := 0, 0
	for _, table := range gets[wire.TableList](t, k, "/v1/tables").Tables {
		good := goodRows()[table.Name]
		refuses := func(column, text string) bool {
			c := maps.Clone(good)
			c[column] = text
			w := k.ask(t, http.MethodPut, rowAt(table.Name, "zz")+"?dry_run=true", put(c), ifNone...)
			return w.Code == http.StatusUnprocessableEntity
		}
		for _, c := range table.Columns {
			if !slices.Contains(rows.Forms(), c.Form) || (len(c.Among) > 0) != (c.Form == rows.Word) {
				t.Errorf("%s.%s: %+v", table.Name, c.Name, c)
			}
			if c.Form == rows.Word {
				words++
				if !refuses(c.Name, "no such word") || good[c.Name] != "" && !slices.Contains(c.Among, good[c.Name]) {
					t.Errorf("%s.%s takes other words than %q", table.Name, c.Name, c.Among)
				}
			}
			if c.Needed && c.Name != "id" {
				needed++
				if !refuses(c.Name, "") {
					t.Errorf("%s.%s is said to be needed and may be empty", table.Name, c.Name)
				}
			}
			if c.Form != rows.Words && !refuses(c.Name, "~") {
				t.Errorf("%s.%s takes anything, and is said to be %s", table.Name, c.Name, c.Form)
			}
		}
	}
	if words < 10 || needed < 20 {
		t.Errorf("only %d columns of words and %d that are needed", words, needed)
	}
}

// A row tells what became of it, whoever changed it and why.
func TestVersionsOfARow(t *testing.T) {
	k := keeping(t, nil)
	at := rowAt("offices", "zz-office")
	path := at + "/versions"
	refused(t, k.ask(t, http.MethodGet, path, nil), 404, entry{problem: "no row"})
	first := does[wire.Made](t, k, http.MethodPut, at, put(goodRows()["offices"]), ifNone...)
	changed := maps.Clone(goodRows()["offices"])
	changed["contact"] = "another window"
	second := does[wire.Made](t, k, http.MethodPut, at, put(changed), ifMatch(first.Revision)...)
	does[wire.Made](t, k, http.MethodDelete, at+because, nil, ifMatch(second.Revision)...)
	got := gets[wire.RowVersions](t, k, path).Versions
	if len(got) != 3 || !got[0].Removed || got[1].Removed || got[2].Removed {
		t.Fatalf("%+v", got)
	}
	if got[0].Cells["contact"] != "another window" || got[1].Cells["contact"] != "another window" || got[2].Cells["contact"] != "a window" {
		t.Errorf("cells %+v", got)
	}
	if got[2].Number != first.Revision || got[1].Number != second.Revision || got[1].Who != "a user" || got[1].Why != "invented for a test" {
		t.Errorf("%+v", got)
	}
}

// A dry run of a row answers as the change would, and changes nothing.
func TestPutSaysWhatWouldChange(t *testing.T) {
	every(t, func(t *testing.T, k keeper, table string, good cells) {
		at, before := rowAt(table, "zz"), k.newest(t)
		would := does[wire.Made](t, k, http.MethodPut, at+"?dry_run=true", put(good), ifNone...)
		if would.Added != 1 || len(would.Differences) != 1 || would.Differences[0].ID != "zz" || k.newest(t) != before {
			t.Fatalf("%+v at %d, newest %d", would, before, k.newest(t))
		}
		expect(t, k.ask(t, http.MethodGet, at, nil), http.StatusNotFound, "application/problem+json")
		made := does[wire.Made](t, k, http.MethodPut, at, put(good), ifNone...)
		same := does[wire.Made](t, k, http.MethodPut, at+"?dry_run=true", put(good), ifMatch(made.Revision)...)
		if same.Changed+same.Added+same.Removed != 0 {
			t.Errorf("the same row would change %+v", same)
		}
		expect(t, k.ask(t, http.MethodPut, at+"?dry_run=true", put(good), ifNone...), http.StatusPreconditionFailed, "application/problem+json")
		expect(t, k.ask(t, http.MethodPut, at+"?dry_run=true", put(good), ifMatch(made.Revision-1)...), http.StatusPreconditionFailed, "application/problem+json")
	})
}
