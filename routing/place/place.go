// Package place finds towns by name, and addresses, streets and crossings on the roads of a
// network.
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
	"wayhouse/routing/network"
)

// Kind is what a place is.
type Kind string

// The kinds, by the words that answers use.
const (
	Town     Kind = "town"
	House    Kind = "address"
	Road     Kind = "street"
	Crossing Kind = "crossing"
)

// Place is what a stop may name.
type Place struct {
	Kind         Kind
	Name         string // "Dover", "221 Main Street", "Main Street", "King Street & Main Street"
	In           string // municipality of what is no town; "" where none is known
	Near         bool   // In is not its municipality but the nearest settlement
	Jurisdiction string // ISO 3166-2; "" where a street lies in none that is known
	Point        orb.Point
	Street       string // on which it lies; "" for a town or a crossing

	codes string // of all jurisdictions that it may lie in
}

// String prints "Cornwall, ON" or "221 Main Street, Dover, DE".
func (p Place) String() string {
	out := p.Name
	if p.In != "" {
		out += ", " + p.In
	}
	if p.Jurisdiction != "" {
		out += ", " + p.Jurisdiction[strings.IndexByte(p.Jurisdiction, '-')+1:]
	}
	return out
}

// Gazetteer is a list of places, read-only once read.
type Gazetteer struct {
	Roads *network.Network // on which streets and addresses are found; nil: on none

	places []Place
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
		p := Place{
			Kind: Town, Name: c.Need("name"), Jurisdiction: c.Need("jurisdiction"),
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

func (g *Gazetteer) put(p Place) {
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
func (g *Gazetteer) Add(places []Place) {
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
	Nearby []Place    // of the same name elsewhere, or whose name is alike
	Why    say.Remark // what of it is there, and what is not; none where nothing is
}

func (e *NotFoundError) Error() string { return e.Remark().String() }

// Remark names the places that may be meant.
func (e *NotFoundError) Remark() say.Remark {
	return say.That("error.no_such_place", "name", e.Name, "why", e.Why, "near", list(e.Nearby))
}

// AmbiguousError lists the places that share the name.
type AmbiguousError struct {
	Name   string
	Places []Place
}

func (e *AmbiguousError) Error() string { return e.Remark().String() }

// Remark names the places.
func (e *AmbiguousError) Remark() say.Remark {
	return say.That("error.places", "name", e.Name, "n", len(e.Places), "places", list(e.Places))
}

func list(places []Place) []say.Remark {
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

// Find returns the one place that a text names: a town ("Cornwall, ON", "Cornwall,
// Ontario", "Cornwall, CA-ON", or the name alone where it is the only one), or else what
// lies on the roads: "221 Main Street, Dover, DE", "Main Street, Dover", "King Street &
// Main Street, Dover". Errors are [*NotFoundError] and [*AmbiguousError].
func (g *Gazetteer) Find(text string) (Place, error) {
	name, region, _ := strings.Cut(text, ",")
	named := g.named(name)
	var match []Place
	for _, p := range named {
		if g.inRegion(p, region) {
			match = append(match, p)
		}
	}
	if len(named) == 0 && g.Roads != nil {
		asked := g.read(text)
		if match = asked.find(); len(match) == 0 {
			return Place{}, asked.missing()
		}
	}
	switch len(match) {
	case 1:
		return match[0], nil
	case 0:
		return Place{}, &NotFoundError{Name: strings.TrimSpace(text), Nearby: g.meant(text, named)}
	default:
		return Place{}, &AmbiguousError{Name: strings.TrimSpace(text), Places: match}
	}
}

// meant lists the towns that a text may mean that names none: of its name elsewhere, or
// of one that is alike.
func (g *Gazetteer) meant(text string, named []Place) []Place {
	if len(named) > 0 {
		return named
	}
	if found := g.towns(text, 5); len(found) > 0 {
		return found
	}
	name, _, _ := strings.Cut(text, ",")
	return g.towns(name, 5)
}

func (g *Gazetteer) named(name string) []Place {
	var out []Place
	for _, i := range g.byName[word.Fold(name)] {
		out = append(out, g.places[i])
	}
	return out
}

// inRegion reports whether a place lies in what stands after the comma.
func (g *Gazetteer) inRegion(p Place, region string) bool {
	for part := range strings.SplitSeq(region, ",") {
		if word.Fold(part) != "" && !g.called(p.Jurisdiction, part) {
			return false
		}
	}
	return true
}

// Search lists places, most at the most: towns whose name starts with the text, those that
// are called exactly so first, then by name and jurisdiction; then what the text names or
// begins to name on the roads. Where there is neither it lists towns whose name is spelt
// alike, and streets.
func (g *Gazetteer) Search(text string, most int) []Place {
	out := g.starting(text)
	if g.Roads != nil && len(out) < most {
		out = append(out, g.read(text).search(most-len(out))...)
	}
	switch {
	case len(out) > 0:
	case g.Roads != nil:
		out = g.read(text).missing().Nearby
	default:
		out = g.towns(text, most)
	}
	return out[:min(len(out), most)]
}

// Beside lists what is called by a name beside a point: the nearest street within reach, then
// the nearest towns, most at the most.
func (g *Gazetteer) Beside(at orb.Point, reach measure.Distance, most int) []Place {
	var out []Place
	if street, ok := g.street(at, reach); ok {
		out = append(out, street)
	}
	type near struct {
		Place
		away measure.Distance
	}
	var towns []near
	for _, p := range g.places {
		towns = append(towns, near{p, geodesic.Between(at, p.Point)})
	}
	slices.SortStableFunc(towns, func(a, b near) int { return cmp.Compare(a.away, b.away) })
	for _, town := range towns[:min(len(towns), most-len(out))] {
		out = append(out, town.Place)
	}
	return out
}

// towns lists towns that start so, or else that are spelt alike.
func (g *Gazetteer) towns(text string, most int) []Place {
	out := g.starting(text)
	if name, region, _ := strings.Cut(text, ","); len(out) == 0 && word.Fold(name) != "" {
		out = g.alike(word.Fold(name), region)
	}
	return out[:min(len(out), most)]
}

// starting lists the towns whose name starts with a text.
func (g *Gazetteer) starting(text string) []Place {
	name, region, _ := strings.Cut(text, ",")
	want := word.Fold(name)
	if want == "" {
		return nil
	}
	var out []Place
	for i, p := range g.places {
		if strings.HasPrefix(g.folded[i], want) && g.inRegion(p, region) {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Place) int { // the exact name is the shortest and sorts first
		return cmp.Or(strings.Compare(word.Fold(a.Name), word.Fold(b.Name)), strings.Compare(a.Jurisdiction, b.Jurisdiction))
	})
	return out
}

// alike lists places whose name differs by a slip or two: one changed, missing
// or doubled letter for every four, three at the most. Whether a slip was made
// is for the asker: a plan is never made on a guess.
func (g *Gazetteer) alike(want, region string) []Place {
	type near struct {
		Place
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
	var out []Place
	for _, n := range found {
		out = append(out, n.Place)
	}
	return out
}
