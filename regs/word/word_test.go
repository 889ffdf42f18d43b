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

// Short forms are those of Publication 28 of the United States Postal Service, appendices
// B and C1, and of the Addressing Guidelines of Canada Post (2025; from memory).
func TestStreet(t *testing.T) {
	for a, b := range map[string]string{
		"Main St.": "main street", "Sussex Dr": "SUSSEX DRIVE", "Chemin Montée": "chemin montee",
		"N. Main St": "North Main Street", "Main St N": "Main Street North", "Bank St. S.": "bank street south",
		"boul. St-Laurent E": "Boulevard Saint-Laurent Est", "r. Sherbrooke O.": "rue Sherbrooke Ouest",
		"rue Sherbrooke W": "Rue Sherbrooke Ouest", "ch. de la Montagne": "Chemin de la Montagne",
		"av. du Parc": "Avenue du Parc", "Park Av": "park avenue", "2e Av": "2ieme avenue", "First Ave": "1st Avenue",
		"Mt Pleasant Rd": "Mount Pleasant Road", "St Clair Ave W": "Saint Clair Avenue West", "N Main": "north main",
		"rte 148": "Route 148", "1ère Avenue": "1re avenue", "Old Rte": "old route", "West St": "West Street",
		"Prince Of Wales Dr SE": "prince of wales drive southeast", "North West St": "N West Street",
	} {
		if Street(a) != Street(b) {
			t.Errorf("%q is %q, %q is %q", a, Street(a), b, Street(b))
		}
	}
	for a, b := range map[string]string{
		"North Main Street": "South Main Street", "West Street": "W Street", "E Street": "East Street",
		"North Street": "Street", "Main Street N": "North Main Street", "Court Street": "Ct", "Avenue N": "Avenue",
		"St Street": "Street Street", "R Street": "Rue Street",
	} {
		if Street(a) == Street(b) {
			t.Errorf("%q and %q are both %q", a, b, Street(a))
		}
	}
	for one, want := range map[string]string{"St": "st", "North": "north", "": "", "Avenue N": "avenue n"} {
		if got := Street(one); got != want {
			t.Errorf("%q is %q, want %q", one, got, want)
		}
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
