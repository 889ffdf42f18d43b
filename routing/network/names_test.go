package network_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"wayhouse/routing/network"
)

// called is a network of one road with a number and a name, each "" for none.
func called(t interface{ Fatal(...any) }, ref, name string) *network.Network {
	b := network.NewBuilder()
	line := []orb.Point{{-75, 45}, {-75.01, 45}}
	if _, err := b.Edge(network.Edge{From: b.Node(line[0]), To: b.Node(line[1]), Line: line, Class: network.Primary, Ref: ref, Name: name}); err != nil {
		t.Fatal(err)
	}
	n, err := b.Finish(network.About{Name: "one road", Caution: "for tests only", Carries: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// What an inspector, a clerk and a map call a road is the same road where only
// capitals, dots, blanks and the cut of the last word differ (short forms: United
// States Postal Service, Publication 28, appendix C1; from memory).
func TestBears(t *testing.T) {
	for _, tc := range []struct {
		ref, name, road string
		want            bool
	}{
		{"", "Mill Street", "Mill Street", true},
		{"", "Mill Street", "MILL STREET", true},
		{"", "Mill Street", "MILL ST", true},
		{"", "Mill Street", "MILL ST.", true},
		{"", "Mill St", "Mill Street", true},
		{"", "Mill Street", "  mill   street ", true},
		{"", "Mill Road", "MILL RD", true},
		{"", "Mill Avenue", "MILL AVE", true},
		{"", "Mill Avenue", "MILL AV", true},
		{"", "Lincoln Highway", "LINCOLN HWY", true},
		{"", "Queen Elizabeth Driveway", "QUEEN ELIZABETH DR", false},
		{"", "Court Drive", "COURT DR", true},
		{"", "St. John Street", "ST JOHN ST", true},   // the saint is no street
		{"", "Saint John Street", "ST JOHN ST", true}, // written in short and in full
		{"", "Rue de l'Église", "RUE DE L'ÉGLISE", true},
		{"", "Mill Street", "MILL", false},
		{"", "Mill Street", "MILL RD", false},
		{"", "Mill Street", "OLD MILL ST", false},
		{"", "Mill Street", "", false},
		{"", "", "Mill Street", false},
		{"", "", "", false},
		{"", "St", "Street", false}, // one word is a name, not an ending
		{"I 87", "Northway", "I 87", true},
		{"I 87", "Northway", "i87", true},
		{"I 87", "Northway", "NORTHWAY", true},
		{"I 87", "Northway", "US 9", false},
		{"I 87;US 9", "", "US 9", true},
		{"US 9W", "", "US 9", false},
		{"NY 32", "", "NY 32", true},
		{"417", "", "417", true},
		{"417", "", "17", false},
		{"417", "17", "17", true}, // a street may be called by a number
	} {
		if got := called(t, tc.ref, tc.name).Bears(0, tc.road); got != tc.want {
			t.Errorf("road %q, %q is called %q: %v", tc.ref, tc.name, tc.road, got)
		}
	}
}

// Capitals, dots and blanks never matter, and every road bears its own name.
func TestBearsItsOwnName(t *testing.T) {
	word := rapid.StringMatching(`[A-Za-z][a-z]{0,7}`)
	ending := rapid.SampledFrom([]string{"St", "Street", "Rd", "Road", "Ave", "Blvd", "Pkwy", "Lane", "Hwy", "North"})
	rapid.Check(t, func(t *rapid.T) {
		words := append(rapid.SliceOfN(word, 1, 3).Draw(t, "words"), ending.Draw(t, "ending"))
		name := strings.Join(words, " ")
		n := called(t, "", name)
		for _, other := range []string{name, strings.ToUpper(name), strings.ToLower(name), name + ".", strings.ReplaceAll(name, " ", "  ")} {
			if !n.Bears(0, other) {
				t.Fatalf("%q is not called %q", name, other)
			}
		}
		if extra := word.Draw(t, "extra"); n.Bears(0, extra+" "+name) {
			t.Fatalf("%q is called %q", name, extra+" "+name)
		}
	})
}
