package english

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestIn(t *testing.T) {
	const their = "the chapter on vehicles; ask whether it holds"
	for text, found := range map[string]bool{
		"la hauteur est connue, et rien de plus":                                           false,
		"la hauteur is known":                                                              true,
		"--from \"the mill\" : aucun lieu ne s'appelle ainsi":                              false,
		"« that is it » n'est pas un nombre":                                               false,
		"une condition doit être lue : the chapter on vehicles;\n    ask whether it holds": false,
		"une condition doit être lue : the chapter on veh…  règle 1":                       false,
		"une condition doit être lue : the chapter on boats…":                              true,
		"exigé : what is needed":                                                           true,
		"by-pass, with_unit, wayhouse.it, donnez of ou layers":                             false,
	} {
		if got := In(text, their); (got != "") != found {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// The screens in French have no English in them but that of rows.
func TestScreensInFrench(t *testing.T) {
	files, err := filepath.Glob("../screen-*.fr.txt")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d screens, %v", len(files), err)
	}
	rows := append(Rows(), "a place in CA-NS", "the end of US-CO") // names of stops of the test
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if at := In(string(raw), rows...); at != "" {
			t.Errorf("%s: %s", file, at)
		}
		english, err := os.ReadFile(strings.Replace(file, ".fr.", ".en.", 1))
		if err != nil {
			t.Fatal(err)
		}
		if In(string(english), rows...) == "" {
			t.Errorf("no English is found in the English of %s", file)
		}
	}
}
