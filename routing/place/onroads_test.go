package place

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/network"
)

// invented is a network of two invented towns, Eastling and Westling of CA-ON: in each a Main
// Street that King Street crosses, ten kilometres apart; a road of number 7 joins them.
func invented(t testing.TB) *Gazetteer {
	t.Helper()
	b := network.NewBuilder()
	code := []string{"CA-ON"}
	edge := func(name, ref, town string, line ...orb.Point) {
		var ends [2]network.NodeID
		for i, p := range []orb.Point{line[0], line[len(line)-1]} {
			ends[i] = node(b, p)
		}
		if _, err := b.Edge(network.Edge{
			From: ends[0], To: ends[1], Line: line, Class: network.Residential, Name: name, Ref: ref, Local: town,
			Jurisdictions: code, Zone: "America/Toronto",
		}); err != nil {
			t.Fatal(err)
		}
	}
	nodes = map[orb.Point]network.NodeID{}
	for town, x := range map[string]float64{"Eastling": -75, "Westling": -75.13} {
		edge("Main Street", "", town, orb.Point{x, 45}, orb.Point{x + 0.01, 45})
		edge("Main Street", "", town, orb.Point{x + 0.01, 45}, orb.Point{x + 0.02, 45})
		edge("King Street", "", town, orb.Point{x + 0.01, 44.99}, orb.Point{x + 0.01, 45})
		edge("King Street", "", town, orb.Point{x + 0.01, 45}, orb.Point{x + 0.01, 45.01})
		edge("Rue de l'Église", "", town, orb.Point{x + 0.01, 45.01}, orb.Point{x + 0.02, 45.01})
		for i, number := range []string{"10", "12A", "14-18", "221"} {
			b.Address(network.Address{
				Number: number, Street: "Main St.", Town: town, Jurisdictions: code,
				Point: orb.Point{x + 0.001*float64(i), 45.0002},
			})
		}
	}
	edge("", "ON 7", "", orb.Point{-75.11, 45}, orb.Point{-75, 45})
	edge("North Mill Road", "", "Eastling", orb.Point{-75, 45}, orb.Point{-75, 45.01})
	edge("19 Mile Road", "", "Eastling", orb.Point{-75, 45.01}, orb.Point{-75, 45.02})
	n, err := b.Finish(network.About{Name: "invented", Lacks: network.AllFacts()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	g := shipped(t)
	g.Add([]Place{
		{Kind: Town, Name: "Eastling", Jurisdiction: "CA-ON", Point: orb.Point{-74.99, 45}},
		{Kind: Town, Name: "Westling", Jurisdiction: "CA-ON", Point: orb.Point{-75.12, 45}},
	})
	g.Roads = n
	return g
}

var nodes map[orb.Point]network.NodeID

func node(b *network.Builder, p orb.Point) network.NodeID {
	id, ok := nodes[p]
	if !ok {
		id = b.Node(p)
		nodes[p] = id
	}
	return id
}

// One place is named in many ways, in both languages, with and without postal code and
// country, and always found at its own coordinates.
func TestFindOnRoads(t *testing.T) {
	g := invented(t)
	for text, want := range map[string]struct {
		kind  Kind
		label string
		at    orb.Point
	}{
		"221 Main Street, Eastling, ON":                {House, "221 Main Street, Eastling, ON", orb.Point{-74.997, 45.0002}},
		"221 main st, westling":                        {House, "221 Main Street, Westling, ON", orb.Point{-75.127, 45.0002}},
		"221, Main St., Eastling, Ontario K1A 0B1, CA": {House, "221 Main Street, Eastling, ON", orb.Point{-74.997, 45.0002}},
		"12a Main Street, Eastling":                    {House, "12A Main Street, Eastling, ON", orb.Point{-74.999, 45.0002}},
		"16 Main Street, Eastling":                     {House, "14-18 Main Street, Eastling, ON", orb.Point{-74.998, 45.0002}},
		"Main Street, Eastling":                        {Road, "Main Street, Eastling, ON", orb.Point{-74.995, 45}},
		"King & Main Street, Eastling":                 {},
		"King Street & Main Street, Eastling":          {Crossing, "King Street & Main Street, Eastling, ON", orb.Point{-74.99, 45}},
		"corner of Main St and King St, Westling, ON":  {Crossing, "Main Street & King Street, Westling, ON", orb.Point{-75.12, 45}},
		"angle King Street et Main Street, Westling":   {Crossing, "King Street & Main Street, Westling, ON", orb.Point{-75.12, 45}},
		"r. de l'Eglise / King St, Eastling":           {Crossing, "Rue de l'Église & King Street, Eastling, ON", orb.Point{-74.99, 45.01}},
		"N. Mill Rd":                                   {Road, "North Mill Road, Eastling, ON", orb.Point{-75, 45.005}},
		"19 Mile Road":                                 {Road, "19 Mile Road, Eastling, ON", orb.Point{-75, 45.015}},
		"ON 7 & Main Street, Westling":                 {Crossing, "ON 7 & Main Street, Westling, ON", orb.Point{-75.11, 45}},
		"Eastling":                                     {Town, "Eastling, ON", orb.Point{-74.99, 45}},
	} {
		got, err := g.Find(text)
		if want.kind == "" {
			if err == nil {
				t.Errorf("%q is %v, though no street is called so", text, got)
			}
			continue
		}
		if err != nil || got.Kind != want.kind || want.label != "" && got.String() != want.label ||
			geodesic.Between(got.Point, want.at) > 1 {
			t.Errorf("%q: %s %q at %v, %v", text, got.Kind, got, got.Point, err)
		}
	}
}

// What is not there, or there more than once, is never taken: what may be meant is listed.
func TestFindOnRoadsRefuses(t *testing.T) {
	g := invented(t)
	for text, want := range map[string]string{
		"221 Main Street":                     "2 places",
		"Main Street, ON":                     "2 places",
		"King Street & Main Street":           "2 places",
		"220 Main Street, Eastling":           "221 Main Street, Eastling, ON",
		"221 Main Stret, Eastling":            "221 Main Street, Eastling, ON",
		"Mill Road, Eastling":                 "North Mill Road, Eastling, ON",
		"Main Street, Cornwall":               "Main Street, Eastling, ON",
		"Kink Street & Main Street, Westling": "King Street & Main Street, Westling, ON",
		"North Mill Road & King Street":       "place.do_not_meet",
		"Nowhere Lane & King Street":          "place.no_street",
		"5 King Street, Eastling":             "place.no_number",
		"Main Street, Eastling, QC":           "Main Street, Eastling, ON",
	} {
		got, err := g.Find(text)
		if err == nil {
			t.Errorf("%q was taken for %v", text, got)
			continue
		}
		var several *AmbiguousError
		if errors.As(err, &several) && want == "2 places" && len(several.Places) == 2 {
			continue
		}
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	g.Roads = nil
	if got, err := g.Find("221 Main Street, Eastling, ON"); err == nil {
		t.Errorf("without roads: %v", got)
	}
}

func TestSearchOnRoads(t *testing.T) {
	g := invented(t)
	for text, want := range map[string]string{
		"Main": "Main Street, Eastling, ON", "king stre": "King Street, Westling, ON", "221 Main Street": "221 Main Street, Westling, ON",
		"222 Main Street, Westling": "221 Main Street, Westling, ON", "Mian Street": "Main Street, Eastling, ON",
	} {
		got := g.Search(text, 20)
		if !slices.ContainsFunc(got, func(p Place) bool { return p.String() == want }) {
			t.Errorf("%q: %v, want %q among them", text, got, want)
		}
	}
}

func TestBeside(t *testing.T) {
	got := invented(t).Beside(orb.Point{-74.995, 45.0001}, 500, 3)
	if len(got) != 3 || got[0].String() != "Main Street, Eastling, ON" || got[1].String() != "Eastling, ON" {
		t.Errorf("%v", got)
	}
	const far measure.Distance = 500
	if got := invented(t).Beside(orb.Point{-100, 60}, far, 3); len(got) != 3 || got[0].Kind != Town {
		t.Errorf("far from every road: %v", got)
	}
}
