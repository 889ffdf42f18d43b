package word

import "testing"

// One name is written in several ways.
func TestFold(t *testing.T) {
	for _, names := range [][]string{
		{"Montréal", "MONTREAL", " montréal ", "Montre\u0301al"}, {"Trois-Rivières", "trois rivieres", "Trois–Rivières"}, {"St. Albert", "st albert"},
		{"Sacré-Cœur", "SACRE COEUR"}, {"L’Assomption", "l'assomption"}, {"", " ", "-"},
	} {
		for _, n := range names[1:] {
			if Fold(n) != Fold(names[0]) {
				t.Errorf("%q is %q, %q is %q", n, Fold(n), names[0], Fold(names[0]))
			}
		}
	}
}

func TestTown(t *testing.T) {
	for a, b := range map[string]string{
		"St. Catharines": "Saint Catharines", "Sault Ste. Marie": "SAULT SAINTE MARIE", "Sainte-Thérèse": "ste therese", "Québec": "quebec",
	} {
		if Town(a) != Town(b) {
			t.Errorf("%q is %q, %q is %q", a, Town(a), b, Town(b))
		}
	}
	if Town("Saint") == Town("Sainte") || Town("Main St") == Town("Main Saint") {
		t.Error("names of two towns are one")
	}
}

// Short forms are those of Publication 28 of the United States Postal Service,
// appendix C1 (2025; from memory).
func TestStreet(t *testing.T) {
	for a, b := range map[string]string{"Main St.": "main street", "Sussex Dr": "SUSSEX DRIVE", "Chemin Montée": "chemin montee"} {
		if Street(a) != Street(b) {
			t.Errorf("%q is %q, %q is %q", a, Street(a), b, Street(b))
		}
	}
	if Street("St") != "st" {
		t.Error("a name of one word has no ending")
	}
}

func TestNearest(t *testing.T) {
	among := []string{"freeway", "trunk", "track"}
	for s, want := range map[string]string{"freway": "freeway", "Trunk ": "trunk", "tracks": "track", "canal": "", "": ""} {
		if got, ok := Nearest(s, among); got != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}
