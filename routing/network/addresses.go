package network

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// Address is a house number on a street.
type Address struct {
	Number        string
	Street, Town  string // Town "": not said
	Jurisdictions []string
	Point         orb.Point
}

// addressRow is an address as a column holds it, in the order of numbers on its street.
type addressRow struct {
	Lon, Lat int32 // 1e-7 degrees
	Number   StringID
}

func (r addressRow) point() orb.Point {
	return orb.Point{float64(r.Lon) / boxUnit, float64(r.Lat) / boxUnit}
}

// Addresses lists the addresses on a street, by number.
func (s Street) Addresses() iter.Seq[Address] {
	return func(yield func(Address) bool) {
		for _, rows := range s.addresses {
			for _, r := range rows {
				if !yield(s.address(r)) {
					return
				}
			}
		}
	}
}

func (s Street) address(r addressRow) Address {
	return Address{
		Number: s.net.Text(r.Number), Street: s.Name, Town: s.Town, Jurisdictions: s.Jurisdictions, Point: r.point(),
	}
}

// HasAddresses reports whether any address is on a street.
func (n *Network) HasAddresses() bool { return len(n.addresses) > 0 }

func (n *Network) checkAddresses() error {
	for i, r := range n.addresses {
		if !onEarth(r.point()) || int(r.Number) >= n.strings.len() {
			return damaged("address %d is out of range", i)
		}
	}
	return nil
}

// addressed is an address while a network is built.
type addressed struct {
	row          addressRow
	street, town StringID
	set          setID
}

// Address adds an address, which names a street.
func (b *Builder) Address(a Address) {
	b.addresses = append(b.addresses, addressed{
		row: addressRow{
			Lon: int32(math.Round(a.Point.Lon() * boxUnit)), Lat: int32(math.Round(a.Point.Lat() * boxUnit)),
			Number: b.Text(a.Number),
		},
		street: b.Text(a.Street), town: b.Text(a.Town), set: b.area(a.Jurisdictions, ""),
	})
}

// compareNumbers orders addresses by house number, then by place.
func (b *Builder) compareNumbers(a, c addressRow) int {
	x, y := b.text(a.Number), b.text(c.Number)
	return cmp.Or(cmp.Compare(HouseNumber(x), HouseNumber(y)), strings.Compare(x, y), cmp.Compare(a.Lon, c.Lon),
		cmp.Compare(a.Lat, c.Lat))
}

// HouseNumber returns the digits that a house number begins with, 0 where there are none.
func HouseNumber(text string) int {
	end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		end = len(text)
	}
	n, _ := strconv.Atoi(text[:end])
	return n
}

// nearest finds the settlement that is nearest to what lies in no municipality.
type nearest struct {
	b     *Builder
	cells map[[2]int32][]placeRow
}

// cellSize is the side of a cell in degrees: the nearest settlement is looked for in the
// cell of a point and those around, so up to 5 km away at 45 degrees north and at least
// that far anywhere south of it.
const cellSize = 0.07

func newNearest(b *Builder) nearest {
	out := nearest{b, map[[2]int32][]placeRow{}}
	for _, p := range b.places {
		if p.Kind.Settlement() && p.Name != 0 {
			cell := cellOf(orb.Point{p.Lon, p.Lat})
			out.cells[cell] = append(out.cells[cell], p)
		}
	}
	return out
}

func cellOf(p orb.Point) [2]int32 {
	return [2]int32{int32(math.Floor(p.Lon() / cellSize)), int32(math.Floor(p.Lat() / cellSize))}
}

// of returns the municipality of something at a point: the one that is said, or the
// nearest settlement; near is 1 then.
func (n nearest) of(town StringID, p orb.Point) (name StringID, near uint32) {
	if town != 0 {
		return town, 0
	}
	cell, best := cellOf(p), math.Inf(1)
	shrink := math.Cos(p.Lat() * math.Pi / 180)
	for dx := int32(-1); dx <= 1; dx++ {
		for dy := int32(-1); dy <= 1; dy++ {
			for _, s := range n.cells[[2]int32{cell[0] + dx, cell[1] + dy}] {
				if d := math.Hypot((s.Lon-p.Lon())*shrink, s.Lat-p.Lat()); d < best {
					best, name, near = d, s.Name, 1
				}
			}
		}
	}
	return name, near
}

// middle is the corner in the middle of a line.
func middle(line []orb.Point) orb.Point { return line[len(line)/2] }

// Named returns the address of a number, and where the street has none of it those whose
// numbers are nearest to it, most at the most.
func (s Street) Named(number string, most int) (found, near []Address) {
	want := foldNumber(number)
	for a := range s.Addresses() {
		if fold := foldNumber(a.Number); fold == want || spans(fold, want) {
			found = append(found, a)
		}
		near = append(near, a)
	}
	if len(found) > 0 {
		return found, nil
	}
	away := func(a Address) int {
		return max(HouseNumber(a.Number)-HouseNumber(number), HouseNumber(number)-HouseNumber(a.Number))
	}
	slices.SortStableFunc(near, func(a, c Address) int { return cmp.Compare(away(a), away(c)) })
	return nil, near[:min(len(near), most)]
}

// foldNumber takes case and blanks off a house number: "12 A" is "12a".
func foldNumber(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), "")) }

// spans reports whether a number such as "12-16" holds another: even numbers an even one.
func spans(span, number string) bool {
	low, high, ok := strings.Cut(span, "-")
	from, errFrom := strconv.Atoi(low)
	to, errTo := strconv.Atoi(high)
	n, err := strconv.Atoi(number)
	const most = 100
	return ok && errFrom == nil && errTo == nil && err == nil && from <= n && n <= to && to-from <= most && (n-from)%2 == 0
}
