package place

import (
	"regexp"
	"slices"
	"strings"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/word"
	"wayhouse/routing/geodesic"
)

// asked is a text that names something on the roads.
type asked struct {
	g       *Gazetteer
	text    string
	number  string   // of a house; "": none
	streets []string // one; two of a crossing
	in      []string // municipality, province, country: what follows the street
	whole   string   // the street where what seems a number or a crossing is part of its name
}

var (
	// houseNumber is a number with a letter or a second number: "12", "12A", "12-16", "12 1/2".
	houseNumber = regexp.MustCompile(`^\d+(?:[A-Za-z]|[-/]\d+[A-Za-z]?| 1/2)?$`)
	numbered    = regexp.MustCompile(`^(\d+(?:[A-Za-z]|[-/]\d+[A-Za-z]?| 1/2)?)\s+(\S.*)$`)
	// crossing parts two streets, in English and French.
	crossing = regexp.MustCompile(`(?i)\s*[&@]\s*|\s+(?:and|at|et|/)\s+`)
	// corner may stand before them.
	corner = regexp.MustCompile(`(?i)^(?:corner of|angle|coin|à l'angle de)\s+`)
	// postal is a postal code of the United States or Canada.
	postal = regexp.MustCompile(`(?i)\s*\b(?:\d{5}(?:-\d{4})?|[a-z]\d[a-z] ?\d[a-z]\d)$`)
)

// read takes a text apart: "221 Main Street, Dover, DE 19901", "221, rue Principale,
// Granby", "King Street & Main Street, Dover".
func (g *Gazetteer) read(text string) asked {
	out := asked{g: g, text: strings.TrimSpace(text)}
	var parts []string
	for i, part := range strings.Split(text, ",") {
		if part = strings.TrimSpace(part); i > 0 {
			part = strings.TrimSpace(postal.ReplaceAllString(part, ""))
		}
		if part != "" {
			parts = append(parts, part)
		}
	}
	if len(parts) > 1 && houseNumber.MatchString(parts[0]) {
		out.number, parts = parts[0], parts[1:]
	}
	if len(parts) == 0 {
		return out
	}
	street := parts[0]
	out.whole, out.in = street, parts[1:]
	if m := numbered.FindStringSubmatch(street); m != nil && out.number == "" {
		out.number, street = m[1], m[2]
	}
	out.streets = []string{street}
	if two := crossing.Split(corner.ReplaceAllString(street, ""), -1); len(two) == 2 && out.number == "" {
		out.streets = two
	}
	return out
}

// find lists what the text names: places that may be meant, each once. A street whose name
// seems to be a number or a crossing is one: "19 Mile Road" has no number 19.
func (a asked) find() []Place {
	if len(a.streets) == 0 {
		return nil
	}
	if a.number == "" || a.whole != a.streets[0] {
		if street := a.within(a.roads(a.whole)); len(street) > 0 {
			return street
		}
	}
	return a.within(a.all())
}

// all lists what is called so, wherever it is.
func (a asked) all() []Place {
	switch {
	case len(a.streets) == 2:
		return a.crossings()
	case a.number != "":
		found, _ := a.houses(a.streets[0])
		return found
	default:
		return a.roads(a.streets[0])
	}
}

// townReach is how far from the middle of a town a place may lie that is asked for by
// that town, though its municipality is called otherwise: postal towns reach out so far.
const townReach measure.Distance = 10_000

// within keeps the places that lie in what stands behind the street: in a municipality or
// a jurisdiction called so, or else near a town that is.
func (a asked) within(all []Place) []Place {
	for _, part := range a.in {
		kept := filter(all, func(p Place) bool { return a.lies(p, part) })
		if len(kept) == 0 {
			kept = filter(all, func(p Place) bool { return a.around(p, part) })
		}
		all = kept
	}
	return once(all)
}

func filter(all []Place, keep func(Place) bool) []Place {
	return slices.DeleteFunc(slices.Clone(all), func(p Place) bool { return !keep(p) })
}

// lies reports whether a place is in a municipality or a jurisdiction of a name.
func (a asked) lies(p Place, part string) bool {
	for town := range strings.SplitSeq(p.In, ";") {
		if town != "" && word.Town(town) == word.Town(part) {
			return true
		}
	}
	return slices.ContainsFunc(strings.Fields(p.codes), func(code string) bool { return a.g.called(code, part) })
}

// around reports whether a place is near a town of a name.
func (a asked) around(p Place, part string) bool {
	return slices.ContainsFunc(a.g.named(part), func(town Place) bool {
		return geodesic.Between(town.Point, p.Point) <= townReach
	})
}

// sameHouse is how far apart two entries of one address may lie: the door and the
// building.
const sameHouse measure.Distance = 150

// once drops what is listed twice: one address, street or crossing on two pieces of the
// network. The one whose municipality is known stays.
func once(all []Place) []Place {
	var out []Place
	for _, p := range all {
		i := slices.IndexFunc(out, func(known Place) bool {
			return known.Kind == p.Kind && sameName(known.Name, p.Name) &&
				geodesic.Between(known.Point, p.Point) <= sameHouse
		})
		switch {
		case i < 0:
			out = append(out, p)
		case out[i].Near && !p.Near:
			out[i] = p
		}
	}
	return out
}

// sameName reports whether two names are one; of a crossing its streets stand in either order.
func sameName(a, b string) bool {
	if word.Street(a) == word.Street(b) {
		return true
	}
	first, second, ok := strings.Cut(a, meets)
	return ok && second+meets+first == b
}

// missing says what is not there of a text that names nothing, and what may be meant.
func (a asked) missing() *NotFoundError {
	const most = 5
	out := &NotFoundError{Name: a.text}
	out.Nearby = a.alike(most)
	switch {
	case len(a.streets) == 2:
		out.Why = a.apart()
	case a.number != "" && len(a.within(a.roads(a.streets[0]))) > 0:
		_, near := a.houses(a.streets[0])
		out.Nearby = append(a.within(near), out.Nearby...)
		if len(out.Nearby) == 0 {
			out.Nearby = a.within(a.roads(a.streets[0]))
		}
		out.Why = say.That("place.no_number", "street", a.streets[0], "number", a.number)
		if !a.g.Roads.HasAddresses() {
			out.Why = say.That("place.no_addresses")
		}
	case a.number == "" && len(a.in) == 0:
		out.Nearby = append(a.g.meant(a.text, nil), out.Nearby...)
	}
	if len(out.Nearby) == 0 {
		out.Nearby = once(a.all())
	}
	if len(out.Nearby) == 0 {
		out.Nearby = a.g.meant(a.text, nil)
	}
	return out
}

// apart says why two streets have no crossing.
func (a asked) apart() say.Remark {
	for _, street := range a.streets {
		if len(a.within(a.roads(street))) == 0 {
			return say.That("place.no_street", "street", street)
		}
	}
	return say.That("place.do_not_meet", "a", a.streets[0], "b", a.streets[1])
}
