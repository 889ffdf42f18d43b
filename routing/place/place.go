// Package place finds towns by name.
package place

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
	"wayhouse/routing/geodesic"
)

// Town is a settlement that a stop may name.
type Town struct {
	Name         string
	Jurisdiction string // ISO 3166-2
	Point        orb.Point
}

// String prints "Cornwall, ON".
func (p Town) String() string {
	return p.Name + ", " + p.Jurisdiction[strings.IndexByte(p.Jurisdiction, '-')+1:]
}

// Gazetteer is a list of places, read-only once read.
type Gazetteer struct {
	places []Town
	folded []string // name of each place, folded
	byName map[string][]int
	called func(code, text string) bool // whether a text names a jurisdiction or its country
}

// Read reads the columns name, lat, lon and jurisdiction. called reports whether a
// text names the jurisdiction of a code or its country, so that "Cornwall, Ontario"
// is understood.
func Read(raw []byte, called func(code, text string) bool) (*Gazetteer, error) {
	g := &Gazetteer{byName: map[string][]int{}, called: called}
	err := rows.Each(raw, []string{"name", "lat", "lon", "jurisdiction"}, func(c *rows.Cells) error {
		p := Town{
			Name: c.Need("name"), Jurisdiction: c.Need("jurisdiction"),
			Point: orb.Point{c.Degrees("lon", 180), c.Degrees("lat", 90)},
		}
		if !strings.Contains(p.Jurisdiction, "-") {
			return c.Fail("jurisdiction", say.That("error.no_iso_3166_2"), say.That("fix.like", "text", "CA-ON"))
		}
		g.put(p)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("places: %w", err)
	}
	return g, nil
}

func (g *Gazetteer) put(p Town) {
	key := word.Fold(p.Name)
	g.byName[key] = append(g.byName[key], len(g.places))
	g.folded = append(g.folded, key)
	g.places = append(g.places, p)
}

// sameTown is how far apart two places of one name in one jurisdiction may lie
// and be one town.
const sameTown measure.Distance = 10_000

// Add adds places, but for those that the list has already. It must come
// before the first look-up.
func (g *Gazetteer) Add(places []Town) {
	for _, p := range places {
		known := slices.ContainsFunc(g.byName[word.Fold(p.Name)], func(i int) bool {
			return g.places[i].Jurisdiction == p.Jurisdiction && geodesic.Between(g.places[i].Point, p.Point) < sameTown
		})
		if !known {
			g.put(p)
		}
	}
}

// NotFoundError says that no place has the name.
type NotFoundError struct {
	Name   string
	Nearby []Town // of the same name elsewhere, or whose name is alike
}

func (e *NotFoundError) Error() string { return e.Remark().String() }

// Remark names the places that may be meant.
func (e *NotFoundError) Remark() say.Remark {
	return say.That("error.no_such_place", "name", e.Name, "near", list(e.Nearby))
}

// AmbiguousError lists the places that share the name.
type AmbiguousError struct {
	Name   string
	Places []Town
}

func (e *AmbiguousError) Error() string { return e.Remark().String() }

// Remark names the places.
func (e *AmbiguousError) Remark() say.Remark {
	return say.That("error.places", "name", e.Name, "n", len(e.Places), "places", list(e.Places))
}

func list(places []Town) []say.Remark {
	const most = 8
	var s []say.Remark
	for _, p := range places[:min(len(places), most)] {
		s = append(s, say.Text(fmt.Sprintf("%s (%.4f, %.4f)", p, p.Point.Lat(), p.Point.Lon())))
	}
	if len(places) > most {
		s = append(s, say.That("error.and_more", "n", len(places)-most))
	}
	return s
}

// Coordinates reads a latitude and a longitude in degrees, in this order and with a comma
// between, such as "45.42,-75.69"; ok is false for every other text. Whether they are on
// Earth is for the caller to see.
func Coordinates(text string) (at orb.Point, ok bool) {
	lat, lon, _ := strings.Cut(text, ",")
	y, errLat := strconv.ParseFloat(strings.TrimSpace(lat), 64)
	x, errLon := strconv.ParseFloat(strings.TrimSpace(lon), 64)
	return orb.Point{x, y}, errLat == nil && errLon == nil
}

// Find returns the one place that a text names: "Cornwall, ON", "Cornwall,
// Ontario", "Cornwall, CA-ON", or the name alone where it is the only one.
// Errors are [*NotFoundError] and [*AmbiguousError].
func (g *Gazetteer) Find(text string) (Town, error) {
	name, region, _ := strings.Cut(text, ",")
	named := g.named(name)
	var match []Town
	for _, p := range named {
		if g.inRegion(p, region) {
			match = append(match, p)
		}
	}
	switch len(match) {
	case 1:
		return match[0], nil
	case 0:
		if len(named) == 0 {
			if named = g.Search(text, 5); len(named) == 0 {
				named = g.Search(name, 5)
			}
		}
		return Town{}, &NotFoundError{Name: strings.TrimSpace(text), Nearby: named}
	default:
		return Town{}, &AmbiguousError{Name: strings.TrimSpace(text), Places: match}
	}
}

func (g *Gazetteer) named(name string) []Town {
	var out []Town
	for _, i := range g.byName[word.Fold(name)] {
		out = append(out, g.places[i])
	}
	return out
}

// inRegion reports whether a place lies in what stands after the comma.
func (g *Gazetteer) inRegion(p Town, region string) bool {
	for part := range strings.SplitSeq(region, ",") {
		if word.Fold(part) != "" && !g.called(p.Jurisdiction, part) {
			return false
		}
	}
	return true
}

// Search lists places whose name starts with the text, those that are called
// exactly so first, then by name and jurisdiction, most at the most. Where none
// does, it lists those whose name is spelt alike, the likest first.
func (g *Gazetteer) Search(text string, most int) []Town {
	name, region, _ := strings.Cut(text, ",")
	want := word.Fold(name)
	if want == "" {
		return nil
	}
	var out []Town
	for i, p := range g.places {
		if strings.HasPrefix(g.folded[i], want) && g.inRegion(p, region) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Town) int { // the exact name is the shortest and sorts first
		return cmp.Or(strings.Compare(word.Fold(a.Name), word.Fold(b.Name)), strings.Compare(a.Jurisdiction, b.Jurisdiction))
	})
	if len(out) == 0 {
		out = g.alike(want, region)
	}
	return out[:min(len(out), most)]
}

// alike lists places whose name differs by a slip or two: one changed, missing
// or doubled letter for every four, three at the most. Whether a slip was made
// is for the asker: a plan is never made on a guess.
func (g *Gazetteer) alike(want, region string) []Town {
	type near struct {
		Town
		slips int
	}
	allowed := min(1+len(want)/4, 3)
	var found []near
	for i, p := range g.places {
		if diff := len(g.folded[i]) - len(want); diff > allowed || -diff > allowed || !g.inRegion(p, region) {
			continue
		}
		if n := levenshtein.ComputeDistance(want, g.folded[i]); n <= allowed {
			found = append(found, near{p, n})
		}
	}
	slices.SortFunc(found, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.slips, b.slips), strings.Compare(a.Name, b.Name),
			strings.Compare(a.Jurisdiction, b.Jurisdiction))
	})
	var out []Town
	for _, n := range found {
		out = append(out, n.Town)
	}
	return out
}
