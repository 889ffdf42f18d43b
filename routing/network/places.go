package network

import (
	"fmt"
	"iter"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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

// Term names the kind.
func (k PlaceKind) Term() say.Code { return term("counted", k.String()) }

// Stands reports whether a rig may be meant to stand at places of the kind for long: rest and
// service areas and parking for trucks.
func (k PlaceKind) Stands() bool { return k == RestArea || k == ServiceArea || k == TruckParking }

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
	OnNode        bool // OSM is a node; otherwise a way or a relation
	Ground
}

// Ground is what the source says of a place to stop at. Texts are as it writes them, empty where it says nothing.
type Ground struct {
	Signs   RoadID             // record of who may go there, how high, long and heavy
	Trucks  measure.Known[int] // lots for heavy goods vehicles
	Hours   string             // when it is open
	Stay    string             // how long one may stay at the most
	Fee     string             // whether it costs money
	Toilets string             // whether there are any
}

// placeRow is a place as a column holds it.
type placeRow struct {
	Lon, Lat   float64
	OSM        int64
	Name       StringID
	Set        setID
	Population uint32
	Road       RoadID
	Trucks     uint32 // one more than there are lots; 0: not known
	Hours      StringID
	Stay       StringID
	Fee        StringID
	Toilets    StringID
	Kind       PlaceKind
	OnNode     uint8
	_          [2]byte
}

// Places lists the places that a network carries.
func (n *Network) Places() iter.Seq[Place] {
	return func(yield func(Place) bool) {
		for _, r := range n.places {
			if !yield(n.place(r)) {
				return
			}
		}
	}
}

func (n *Network) place(r placeRow) Place {
	codes, _, _ := strings.Cut(n.sets.text(uint32(r.Set)), "|")
	p := Place{
		Kind: r.Kind, Name: n.Text(r.Name), Point: r.point(), Jurisdictions: strings.Fields(codes),
		Population: r.Population, OSM: r.OSM, OnNode: r.OnNode == 1,
		Ground: Ground{
			Signs: r.Road, Hours: n.Text(r.Hours), Stay: n.Text(r.Stay), Fee: n.Text(r.Fee), Toilets: n.Text(r.Toilets),
		},
	}
	if r.Trucks > 0 {
		p.Trucks = measure.Exactly(int(r.Trucks) - 1)
	}
	return p
}

func (r placeRow) point() orb.Point { return orb.Point{r.Lon, r.Lat} }

// texts lists the strings that a place names.
func (r placeRow) texts() []StringID { return []StringID{r.Name, r.Hours, r.Stay, r.Fee, r.Toilets} }

// Place adds a place.
func (b *Builder) Place(p Place) {
	row := placeRow{
		Lon: p.Point.Lon(), Lat: p.Point.Lat(), OSM: p.OSM, Name: b.Text(p.Name), Set: b.area(p.Jurisdictions, ""),
		Population: p.Population, Kind: p.Kind, Road: p.Signs, Hours: b.Text(p.Hours), Stay: b.Text(p.Stay),
		Fee: b.Text(p.Fee), Toilets: b.Text(p.Toilets),
	}
	if lots, ok := p.Trucks.Value(); ok {
		row.Trucks = uint32(lots) + 1
	}
	if p.OnNode {
		row.OnNode = 1
	}
	b.places = append(b.places, row)
}
