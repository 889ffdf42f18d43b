package phrase

import (
	"encoding/csv"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"wayhouse/data"
	"wayhouse/regs/say"
)

// What this project wrote of its own data is in French too, and no French is left of a
// text that is gone.
func TestOurTextsInFrench(t *testing.T) {
	var written []string
	for _, s := range data.Sources() {
		written = append(written, s.Name, s.From, s.Date, s.Changes)
	}
	raw, err := os.ReadFile("../../data/roads/network.geojson")
	if err != nil {
		t.Fatal(err)
	}
	var roads struct {
		Network struct {
			Name, Vintage, Caution string
			Assumptions            []string
		}
	}
	if err := json.Unmarshal(raw, &roads); err != nil {
		t.Fatal(err)
	}
	n := roads.Network
	written = append(append(written, n.Name, n.Vintage, n.Caution), n.Assumptions...)
	french := French()
	for _, text := range written {
		if text != "" && french.Ours(text) == text {
			t.Errorf("fr/ours.txt has nothing for %q", text)
		}
	}
	for _, of := range worded {
		cells := cellsOf(t, of.table, of.columns)
		for _, text := range cells {
			if text != "" && french.Ours(text) == text {
				t.Errorf("fr/ours.txt has nothing for %q of the table %s", text, of.table)
			}
		}
		written = append(written, cells...)
	}
	written = append(written, literals(t)...)
	for text := range french.ours {
		if !saidBy(text, written) {
			t.Errorf("nothing says %q any more", text)
		}
	}
	const caution = "a sample of about 2003, not to be driven by"
	if got := french.Say(say.Text(caution)); got != french.Ours(caution) || English().Say(say.Text(caution)) != caution {
		t.Errorf("%q", got)
	}
}

// worded are the columns of the shipped tables that hold words of ours which papers print.
var worded = []struct {
	table   string
	columns []string
}{
	{"duty", []string{"demand"}}, {"hours", []string{"demand"}}, {"trucks", []string{"words"}},
	{"permits", []string{"name", "fee_note", "lead_note", "validity", "signs", "insurance", "note"}},
	{"rates", []string{"name", "note", "ask"}},
}

// cellsOf are the cells of some columns of a shipped table.
func cellsOf(t *testing.T, table string, columns []string) (out []string) {
	t.Helper()
	f, err := data.Files.Open("tables/" + table + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range rows[0] {
		if slices.Contains(columns, name) {
			for _, row := range rows[1:] {
				out = append(out, row[i])
			}
		}
	}
	return out
}

// saidBy reports whether texts hold a text, or what stands before and after its star.
func saidBy(text string, written []string) bool {
	for part := range strings.SplitSeq(text, "*") {
		if part != "" && !slices.Contains(written, part) {
			return false
		}
	}
	return true
}

// What stands where a star is stays as it is, and a text that only begins alike too.
func TestOursAround(t *testing.T) {
	for text, want := range map[string]string{
		"made by volunteers, of 2018-03-01; no sign in it is official": "fait par des bénévoles, du 2018-03-01; " +
			"aucun panneau n'y est officiel",
		"made by volunteers, of 2018-03-01 (the newest edit in it); no sign in it is official": "fait par des bénévoles, " +
			"du 2018-03-01 (sa modification la plus récente); aucun panneau n'y est officiel",
		"made by volunteers, of ; no sign in it is official": "made by volunteers, of ; no sign in it is official",
		"made by volunteers, of 2018-03-01":                  "made by volunteers, of 2018-03-01",
		"OpenStreetMap extracts a.osm, b.osm":                "extraits d'OpenStreetMap a.osm, b.osm",
		"in part: it is of no known kind":                    "en partie : elle n'est d'aucun type connu",
	} {
		if got := French().Ours(text); got != French().Spaced(want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
		if English().Ours(text) != text {
			t.Errorf("%q is not itself in English", text)
		}
	}
}

// literals are the texts in the source, those joined by + as one.
func literals(t *testing.T) (out []string) {
	for _, file := range sources(t) {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			e, ok := n.(ast.Expr)
			if !ok {
				return true
			}
			text, ok := joined(e)
			if ok {
				out = append(out, text)
			}
			return !ok
		})
	}
	return out
}

func joined(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil && e.Kind == token.STRING
	case *ast.BinaryExpr:
		a, first := joined(e.X)
		b, second := joined(e.Y)
		return strings.Join([]string{a, b}, ""), first && second && e.Op == token.ADD
	}
	return "", false
}
