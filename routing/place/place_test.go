package place

import (
	"errors"
	"strings"
	"testing"

	"wayhouse/data"
	"wayhouse/regs/area"
)

func shipped(t testing.TB) *Gazetteer {
	t.Helper()
	raw, err := data.Files.ReadFile("places/places.csv")
	if err != nil {
		t.Fatal(err)
	}
	shapes, err := data.Files.ReadFile("areas/jurisdictions.bin")
	if err != nil {
		t.Fatal(err)
	}
	areas, err := area.Read(shapes)
	if err != nil {
		t.Fatal(err)
	}
	g, err := Read(raw, areas.Called)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestFind(t *testing.T) {
	g := shipped(t)
	for text, want := range map[string]string{
		"Cornwall, ON":                   "CA-ON",
		"cornwall,ontario":               "CA-ON",
		"CORNWALL, CA-ON":                "CA-ON",
		"Cornwall, PE":                   "CA-PE",
		"Cornwall, ON, Canada":           "CA-ON",
		"montreal, qc":                   "CA-QC",
		"Moncton, Nouveau-Brunswick, CA": "CA-NB",
		"Sacramento, CA, USA":            "US-CA",
		"Montréal, Quebec":               "CA-QC",
		"  Saint-Hyacinthe , QC":         "CA-QC",
		"saint hyacinthe":                "CA-QC",
		"Hawkesbury, Canada":             "CA-ON",
		"Carleton Place, ca-on, ca":      "CA-ON",
	} {
		got, err := g.Find(text)
		if err != nil || got.Jurisdiction != want {
			t.Errorf("Find(%q) = %v (%s), %v; want %s", text, got, got.Jurisdiction, err, want)
		}
	}
}

// Numbers alone are coordinates, and every other text is a name.
func TestCoordinates(t *testing.T) {
	if at, ok := Coordinates(" 45.42, -75.69"); !ok || at.Lat() != 45.42 || at.Lon() != -75.69 {
		t.Errorf("%v, %v", at, ok)
	}
	for _, text := range []string{"", "45.42", "45.42 -75.69", "45.42, ON", "45,42,-75,69", "45.42N,75.69W", ","} {
		if at, ok := Coordinates(text); ok {
			t.Errorf("%q is %v", text, at)
		}
	}
}

func TestFindRefuses(t *testing.T) {
	g := shipped(t)
	var ambiguous *AmbiguousError
	if _, err := g.Find("Cornwall"); !errors.As(err, &ambiguous) || len(ambiguous.Places) != 4 || !strings.Contains(err.Error(), "Cornwall, NY") {
		t.Errorf("Cornwall: %v", err)
	}
	var missing *NotFoundError
	if _, err := g.Find("Cornwall, TX"); !errors.As(err, &missing) || !strings.Contains(err.Error(), "Cornwall, ON") {
		t.Errorf("Cornwall, TX: %v", err)
	}
	if _, err := g.Find("Xyzzy"); !errors.As(err, &missing) {
		t.Errorf("Xyzzy: %v", err)
	}
	if _, err := g.Find(""); !errors.As(err, &missing) {
		t.Errorf("empty: %v", err)
	}
}

func TestSearch(t *testing.T) {
	got := shipped(t).Search("cornw", 3)
	if len(got) != 3 || got[0].Name != "Cornwall" {
		t.Errorf("got %v", got)
	}
}

func TestReadRefuses(t *testing.T) {
	for _, bad := range []string{"", "name,lat,lon,jurisdiction\nA,north,0,CA-ON\n", "name,lat,lon,jurisdiction\nA,45\n"} {
		if _, err := Read([]byte(bad), nil); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("name,lat,lon,jurisdiction\nA,45,-75,CA-ON\n"), "a, on")
	f.Fuzz(func(t *testing.T, raw []byte, text string) {
		g, err := Read(raw, func(_, text string) bool { return text == "on" })
		if err == nil {
			_, _ = g.Find(text)
			g.Search(text, 5)
		}
	})
}

// A slip of the pen is answered with what may be meant, the likest first, and
// never taken for it.
func TestFindOffersWhatIsSpeltAlike(t *testing.T) {
	g := shipped(t)
	for text, want := range map[string]string{
		"Cornwal, ON":       "Cornwall, ON",
		"Cronwall, ON":      "Cornwall, ON",
		"Montreel, QC":      "Montréal, QC",
		"saint hyacinth":    "Saint-Hyacinthe, QC",
		"Hawksbury, ON":     "Hawkesbury, ON",
		"Carlton Place, ON": "Carleton Place, ON",
	} {
		var missing *NotFoundError
		if _, err := g.Find(text); !errors.As(err, &missing) || len(missing.Nearby) == 0 || missing.Nearby[0].String() != want {
			t.Errorf("%q: %v, want %s offered first", text, err, want)
		}
	}
	for _, text := range []string{"Qqqqqq, ON", "", "x"} {
		var missing *NotFoundError
		if _, err := g.Find(text); err == nil || errors.As(err, &missing) && len(missing.Nearby) > 5 {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Places of a network join the list; those that it has already do not.
func TestAdd(t *testing.T) {
	g := shipped(t)
	known, err := g.Find("Cornwall, ON")
	if err != nil {
		t.Fatal(err)
	}
	near, far, hamlet := known, known, known
	near.Point[0] += 0.01
	far.Point[0] += 1
	hamlet.Name = "Invented Corners"
	g.Add([]Place{near, hamlet})
	if got, err := g.Find("Cornwall, ON"); err != nil || got != known {
		t.Errorf("after one beside it: %v, %v", got, err)
	}
	if got, err := g.Find("invented corners"); err != nil || got != hamlet {
		t.Errorf("the new one: %v, %v", got, err)
	}
	g.Add([]Place{far})
	var ambiguous *AmbiguousError
	if _, err := g.Find("Cornwall, ON"); !errors.As(err, &ambiguous) || len(ambiguous.Places) != 2 {
		t.Errorf("after another of the name: %v", err)
	}
}
