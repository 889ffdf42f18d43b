package network

import (
	"fmt"
	"iter"
	"strings"

	"github.com/paulmach/orb"
)

// PlaceKind is what a place is.
type PlaceKind uint8

// The kinds: settlements, largest first, and what a driver stops at.
const (
	City PlaceKind = iota
	TownPlace
	Village
	Hamlet
	RestArea
	ServiceArea
	TruckParking
	FuelStation
	WeighStation
	placeKinds
)

var placeNames = [placeKinds]string{
	"city", "town", "village", "hamlet", "rest area", "service area", "truck parking", "fuel station", "weigh station",
}

func (k PlaceKind) String() string {
	if k >= placeKinds {
		return fmt.Sprintf("place of kind %d", uint8(k))
	}
	return placeNames[k]
}

// MarshalText writes the name of a kind.
func (k PlaceKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Settlement reports whether people live there.
func (k PlaceKind) Settlement() bool { return k <= Hamlet }

// Place is a settlement or something that a driver stops at.
type Place struct {
	Kind          PlaceKind
	Name          string // "" where the source names none
	Point         orb.Point
	Jurisdictions []string
	Population    uint32 // 0: not known
	OSM           int64
	OnNode        bool // OSM is a node; otherwise a way
}

// placeRow is a place as a column holds it.
type placeRow struct {
	Lon, Lat   float64
	OSM        int64
	Name       StringID
	Set        setID
	Population uint32
	Kind       PlaceKind
	OnNode     uint8
	_          [2]byte
}

// Places lists the places that a network carries.
func (n *Network) Places() iter.Seq[Place] {
	return func(yield func(Place) bool) {
		for _, r := range n.places {
			codes, _, _ := strings.Cut(n.sets.text(uint32(r.Set)), "|")
			p := Place{
				Kind: r.Kind, Name: n.Text(r.Name), Point: orb.Point{r.Lon, r.Lat}, Jurisdictions: strings.Fields(codes),
				Population: r.Population, OSM: r.OSM, OnNode: r.OnNode == 1,
			}
			if !yield(p) {
				return
			}
		}
	}
}

// Place adds a place.
func (b *Builder) Place(p Place) {
	row := placeRow{
		Lon: p.Point.Lon(), Lat: p.Point.Lat(), OSM: p.OSM, Name: b.Text(p.Name), Set: b.area(p.Jurisdictions, ""),
		Population: p.Population, Kind: p.Kind,
	}
	if p.OnNode {
		row.OnNode = 1
	}
	b.places = append(b.places, row)
}
