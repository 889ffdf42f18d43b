package roads

import (
	"strings"
	"testing"
)

func roads(t testing.TB, text string) Set {
	t.Helper()
	r, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What a road is not known to be, it may be.
func TestRoadsOf(t *testing.T) {
	interstate := Road{
		Class:   "freeway",
		Refs:    []string{"I-95", "US 1"},
		Name:    "Turnpike",
		Owner:   "State DOT",
		Lanes:   3,
		Divided: "yes",
	}
	street := Road{
		Class:   "residential street",
		Refs:    []string{"1234"},
		Name:    "Main Street",
		Owner:   "Peel Region",
		Lanes:   1,
		Divided: "no",
	}
	bare := Road{}
	for text, want := range map[string][3]Applies{ // interstate, street, nothing known
		"":                                {Yes, Yes, Yes},
		" ; ":                             {Yes, Yes, Yes},
		"ref=I *":                         {Yes, Perhaps, Perhaps},
		"ref=i-*":                         {Yes, Perhaps, Perhaps},
		"ref=I *|US *":                    {Yes, Perhaps, Perhaps},
		"ref=US 1":                        {Yes, No, Perhaps},
		"ref=US 12":                       {No, No, Perhaps},
		"ref=US":                          {No, No, Perhaps},
		"ref=1*":                          {Perhaps, Yes, Perhaps},
		"ref!=I *":                        {No, Perhaps, Perhaps}, // one of its numbers is enough
		"ref != I *":                      {No, Perhaps, Perhaps},
		"ref!=I *|1234":                   {No, No, Perhaps},
		"lanes=1":                         {No, Yes, Perhaps},
		"lanes=1|3":                       {Yes, Yes, Perhaps},
		"lanes=2+":                        {Yes, No, Perhaps},
		"lanes=1+":                        {Yes, Yes, Perhaps},
		"lanes=4+":                        {No, No, Perhaps},
		"lanes!=2+":                       {No, Yes, Perhaps},
		"divided=yes":                     {Yes, No, Perhaps},
		"divided!=yes":                    {No, Yes, Perhaps},
		"lanes=2+; divided=yes":           {Yes, No, Perhaps},
		"lanes=1;divided=yes":             {No, No, Perhaps},
		"class=freeway|trunk":             {Yes, No, Perhaps},
		"class!=residential street":       {Yes, No, Perhaps},
		"name=*street*":                   {No, Yes, Perhaps},
		"owner=peel region":               {No, Yes, Perhaps},
		"owner!=Peel Region":              {Yes, No, Perhaps},
		"ref=I *; owner=State DOT":        {Yes, No, Perhaps},
		"ref=I *; owner=another":          {No, No, Perhaps},
		"ref=I *; lanes=2+; divided=yes;": {Yes, No, Perhaps},
	} {
		r := roads(t, text)
		for i, road := range []Road{interstate, street, bare} {
			if got := r.Of(road); got != want[i] {
				t.Errorf("%q of %+v: %d, want %d", text, road, got, want[i])
			}
		}
		if r.Any() != (strings.Trim(text, " ;") == "") {
			t.Errorf("%q: any road %v", text, r.Any())
		}
	}
}

// A term that fails for certain decides, whatever else is not known.
func TestRoadsOfARoadHalfKnown(t *testing.T) {
	for _, tc := range []struct {
		text string
		road Road
		want Applies
	}{
		{"lanes=2+; divided=yes", Road{Lanes: 1}, No},
		{"lanes=2+; divided=yes", Road{Lanes: 2}, Perhaps},
		{"lanes=2+; divided=yes", Road{Divided: "no"}, No},
		{"ref=I *", Road{Refs: []string{""}}, Perhaps},
		{"ref=I *", Road{Refs: []string{"", "I 5"}}, Yes},
		{"ref!=I *", Road{Refs: []string{"", "2"}}, Perhaps}, // in whose numbers is not said,
		{"lanes=1", Road{Lanes: 11}, No},
	} {
		if got := roads(t, tc.text).Of(tc.road); got != tc.want {
			t.Errorf("%q of %+v: %d, want %d", tc.text, tc.road, got, tc.want)
		}
	}
}

// On a leg with several roads a row binds if one of them is meant, and it holds
// for the leg only if all are.
func TestRoadsOverALeg(t *testing.T) {
	one, two, open := Road{Lanes: 1}, Road{Lanes: 2}, Road{}
	for _, tc := range []struct {
		text       string
		roads      []Road
		somewhere  Applies
		everywhere bool
	}{
		{"", nil, Yes, true},
		{"", []Road{one, open}, Yes, true},
		{"lanes=2+", nil, Perhaps, false},
		{"lanes=2+", []Road{}, Perhaps, false},
		{"lanes=2+", []Road{two}, Yes, true},
		{"lanes=2+", []Road{two, two}, Yes, true},
		{"lanes=2+", []Road{one}, No, false},
		{"lanes=2+", []Road{one, two}, Yes, false},
		{"lanes=2+", []Road{two, one}, Yes, false},
		{"lanes=2+", []Road{open}, Perhaps, false},
		{"lanes=2+", []Road{one, open}, Perhaps, false},
		{"lanes=2+", []Road{two, open}, Yes, false},
	} {
		if somewhere, everywhere := roads(t, tc.text).Over(tc.roads); somewhere != tc.somewhere ||
			everywhere != tc.everywhere {
			t.Errorf(
				"%q over %+v: %d and %v, want %d and %v",
				tc.text,
				tc.roads,
				somewhere,
				everywhere,
				tc.somewhere,
				tc.everywhere,
			)
		}
	}
}

// One road is written in several ways, a star stands for any letters, and what
// means something to shells and pathnames is a letter like any other.
func TestRoadsAreWrittenInSeveralWays(t *testing.T) {
	for text, numbers := range map[string]map[string]Applies{
		"ref=I95":     {"I95": Yes, "I-95": Yes, "I 95": Yes, "i  95": Yes, "I 950": No, "II 95": Perhaps, "95": Perhaps},
		"ref=I-95":    {"I95": Yes, "I 95": Yes, "I-95": Yes, "I-9": No},
		"ref=I 9*":    {"I95": Yes, "I-9": Yes, "I 84": No},
		"ref=*":       {"I-95": Yes, "a/b": Yes},
		"ref=NY*":     {"NY 9/20": Yes, "NY-9": Yes, "VT 9": No},
		"ref=a/b":     {"A/B": Yes, "a": No, "b": No, "a/b/c": No},
		"ref=[":       {"[": Yes, "a": No},
		"ref=[a-c]":   {"b": No, "[a c]": Yes, "[A-C]": Yes},
		"ref=a?b":     {"a?b": Yes, "axb": No, "b": No},
		"ref=a.b":     {"a.b": Yes, "axb": No},
		"ref!=I95|X*": {"I-95": No, "X/Y": No, "US 1": Yes},
	} {
		for ref, want := range numbers {
			if got := roads(t, text).Of(Road{Refs: []string{ref}}); got != want {
				t.Errorf("%q of %q: %d, want %d", text, ref, got, want)
			}
		}
	}
}

// The same road is "17" in one source, "ON 17" or "Highway 17" in another. A row
// that names it never fails to bind silently; accents and case tell nothing.
func TestRowNeverMissesItsRoadSilently(t *testing.T) {
	for _, tc := range []struct {
		text string
		road Road
		want Applies
	}{
		{"ref=17", Road{Refs: []string{"ON 17"}}, Perhaps},
		{"ref=ON 17", Road{Refs: []string{"17"}}, Perhaps},
		{"ref=ON 17", Road{Refs: []string{"on-17"}}, Yes},
		{"ref=Highway 17", Road{Refs: []string{"ON 17"}}, Perhaps},
		{"ref=17", Road{Refs: []string{"17B"}}, No},
		{"ref=17", Road{Refs: []string{"ON 417"}}, No},
		{"ref=I *", Road{Refs: []string{"87"}}, Perhaps},
		{"ref=I *", Road{Refs: []string{"US 87"}}, No},
		{"ref=I *", Road{Refs: []string{"US 87", "87"}}, Perhaps},
		{"ref!=ON 17", Road{Refs: []string{"17"}}, Perhaps},
		{"name=chemin de la montee", Road{Name: "Chemin de la Montée"}, Yes},
		{"name=CHEMIN DE LA MONTÉE", Road{Name: "chemin de la montee"}, Yes},
		{"name=Main St", Road{Name: "Main Street"}, Yes},
		{"name=boul. Sacre-Coeur", Road{Name: "Boul Sacré-Cœur"}, Yes},
		{"owner=Ville de Montreal", Road{Owner: "Ville de Montréal"}, Yes},
		{"class=Residential_Street", Road{Class: "residential street"}, Yes},
	} {
		if got := roads(t, tc.text).Of(tc.road); got != tc.want {
			t.Errorf("%q of %+v: %d, want %d", tc.text, tc.road, got, tc.want)
		}
	}
}

// A class that no network has would bind nowhere: it is refused, with the near
// word.
func TestUnknownClassIsRefused(t *testing.T) {
	for text, near := range map[string]string{
		"class=motorway": "meant: freeway, ", "class=Motorway|trunk": "meant: freeway, ", "class=trunk_link": "meant: " +
			"trunk, ",
		"class!=residental street": "meant: residential street, ", "class=living_street": "meant: shared street, " +
			"", "class=x*": "meant: , classes: [freeway",
		"class=possible ferry": "", "class=road without a class": "",
	} {
		if r, err := Parse(text); err == nil || !strings.Contains(err.Error(), near) {
			t.Errorf("%q is read as %+v, %v; want an error that says %q", text, r, err, near)
		}
	}
	for _, text := range []string{"class=freeway", "class=*street", "class=minor_road|track"} {
		if _, err := Parse(text); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Roads in words may be any; what begins like a term is none.
func TestReadTellsTermsFromWords(t *testing.T) {
	for text, words := range map[string]bool{
		"highways coded black": true, "roads where a=b": true, "": false, "ref=I *": false, "lanes!=2+ ; divided=yes": false,
	} {
		s, err := Read(text)
		if got := s.Of(Road{Refs: []string{"I 5"}, Lanes: 1, Divided: "yes"}); err != nil || (got == Perhaps) != words ||
			s.Any() != (text == "") ||
			s.String() != text {
			t.Errorf("%q: %d, %v, any %t", text, got, err, s.Any())
		}
	}
	for _, text := range []string{"class=motorway", "Ref=I *", "ref = ", "class!=motorway"} {
		if s, err := Read(text); err == nil {
			t.Errorf("%q is read as %+v", text, s)
		}
	}
}

// The doubt names the roads that it is about.
func TestDoubtNamesTheRoads(t *testing.T) {
	driven := []Road{{Refs: []string{"I 5"}}, {Refs: []string{"17"}}, {Name: "Main Street"}, {Class: "track"}, {}}
	for text, want := range map[string]string{
		"ref=I *":     "hangs.roads(roads: ref=I *, open: [17 Main Street road.unnumbered(class: track)], more: 1)",
		"class=track": "hangs.roads(roads: class=track, open: [I 5 17 Main Street], more: 1)",
	} {
		if got := roads(t, text).Doubt(driven).String(); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	if got := roads(t, "name=*La Fontaine*|*Viger*").Doubt(nil).String(); got != "hangs.roads_open(roads: La "+
		"Fontaine, Viger)" {
		t.Error(got)
	}
	if got := roads(t, "ref=I *").Doubt(nil).String(); got != "hangs.roads_open(roads: ref=I *)" {
		t.Error(got)
	}
}

func TestParseRoadsBad(t *testing.T) {
	for _, text := range []string{
		"bridges", "ref", "ref=", "ref= ", "ref=I *|", "=I *", "!=I *", "colour=red", "ref=I *; bridges", "ref=US " +
			"1||I *", "name=Main;ref=", "Ref=I *",
		"highways coded black on the map of the rule",
	} {
		if r, err := Parse(text); err == nil {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}

// A star takes any letters; names and numbers of roads have strokes in them.
func TestRoadsOfNamesWithStrokes(t *testing.T) {
	for text, road := range map[string]Road{
		"name=*bridge*": {Name: "Rue Main / Main Bridge"},
		"ref=I *":       {Refs: []string{"I 95/US 1"}},
		"name=*":        {Name: "A/B"},
	} {
		if got := roads(t, text).Of(road); got != Yes {
			t.Errorf("%q of %+v: %d, want %d", text, road, got, Yes)
		}
	}
}

// A value that no road can have is a slip: the row would bind nowhere.
func TestParseRoadsRefusesValuesThatNoRoadHas(t *testing.T) {
	for _, text := range []string{"lanes=two", "lanes=2 or more", "lanes=2 " +
		"+", "lanes=>1", "lanes=0", "lanes=+", "lanes=2x+", "divided=true", "divided=median", "divided=1"} {
		if r, err := Parse(text); err == nil {
			t.Errorf("%q is read as %+v", text, r)
		}
	}
}

// Of a road of which nothing is known a selector says perhaps, of any road it
// says something, and a single term turns round where it is negated.
func FuzzParseRoads(f *testing.F) {
	for _, text := range []string{"", "ref=I *|US *; lanes=1; owner!=Peel " +
		"Region", "lanes=2+", "name=*a?b*", "ref=[a-c]", `name=\*`, "divided!=yes"} {
		f.Add(text, "I-95", "Main Street", 2)
	}
	f.Fuzz(func(t *testing.T, text, ref, name string, lanes int) {
		r, err := Parse(text)
		if err != nil {
			return
		}
		if got := r.Of(Road{}); r.Any() && got != Yes || !r.Any() && got != Perhaps {
			t.Fatalf("%q of a road of which nothing is known: %d", text, got)
		}
		road := Road{Refs: []string{ref}, Name: name, Lanes: lanes, Class: name, Owner: ref, Divided: "yes"}
		got := r.Of(road)
		if somewhere, everywhere := r.Over([]Road{road}); somewhere != got || everywhere != (got == Yes) {
			t.Fatalf("%q: %d of a road, over it alone %d and %v", text, got, somewhere, everywhere)
		}
		if r.Any() || strings.ContainsAny(text, ";!") {
			return
		}
		key, values, _ := strings.Cut(text, "=")
		if turned := roads(t, key+"!="+values).Of(road); turned !=
			map[Applies]Applies{Yes: No, No: Yes, Perhaps: Perhaps}[got] {
			t.Fatalf("%q is %d, negated %d", text, got, turned)
		}
	})
}

// Roads that are words stay words, however often they are so called.
func TestWordsStayWords(t *testing.T) {
	s := Set{}.Called("bridges").Called("bridges")
	if somewhere, everywhere := s.Over([]Road{{Class: "freeway"}}); somewhere != Perhaps || everywhere {
		t.Errorf("%v, everywhere %v", somewhere, everywhere)
	}
}
