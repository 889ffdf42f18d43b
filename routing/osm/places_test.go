package osm_test

import (
	"testing"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/network"
	"wayhouse/routing/osm"
)

// groundSaid is what a network says of a place to stop at.
type groundSaid struct {
	Kind                      network.PlaceKind
	Lots                      int // -1: not known
	Hours, Stay, Fee, Toilets string
	Signs                     []signText
}

// What is said of places to stop at (OpenStreetMap wiki, Tag:highway=rest_area,
// Tag:highway=services, Key:capacity, Key:maxstay, Key:opening_hours, Key:hgv).
func TestGround(t *testing.T) {
	s, _, _ := eastward()
	at := orb.Point{-60, 45.001}
	said := []string{"opening_hours=Mo-Su 06:00-22:00", "maxstay=2 hours", "fee=yes", "toilets=yes"}
	s.node(101, at, append(said, "highway=rest_area", "hgv=no", "maxheight=3.5", "maxlength=12")...)
	s.node(102, at, "amenity=parking", "hgv=designated", "capacity=80", "capacity:hgv=12", "maxstay:hgv=12 hours", "maxstay=1 hour")
	s.node(103, at, "amenity=parking", "hgv=only", "capacity=7")
	s.node(104, at, "amenity=parking", "capacity:hgv=3")
	s.node(105, at, "amenity=parking", "capacity:hgv=0") // for cars alone
	s.node(106, at, "amenity=truck_stop", "access=customers")
	s.node(107, at, "highway=services", "capacity:hgv=no", "capacity=40")
	s.node(108, at, "highway=services", "capacity:hgv=many", "capacity=40")
	n, r := made(t, osm.Options{}, s)
	got := map[int64]groundSaid{}
	for p := range n.Places() {
		g := groundSaid{p.Kind, -1, p.Hours, p.Stay, p.Fee, p.Toilets, signsOf(n, p.Signs)}
		if lots, ok := p.Trucks.Value(); ok {
			g.Lots = lots
		}
		got[p.OSM] = g
	}
	access := func(mode network.Mode, word network.Word, text string) signText {
		return signText{Subject: network.Access, For: mode, Word: word, Text: text}
	}
	trucks := func(text string) []signText { return []signText{access(network.HeavyGoods, network.Allowed, text)} }
	want := map[int64]groundSaid{
		101: {network.RestArea, -1, "Mo-Su 06:00-22:00", "2 hours", "yes", "yes", []signText{
			access(network.HeavyGoods, network.Refused, "no"), figure(network.MaxHeight, 3500*measure.Millimetre, "3.5"),
			figure(network.MaxLength, 12*measure.Metre, "12")}},
		102: {Kind: network.TruckParking, Lots: 12, Stay: "12 hours", Signs: trucks("designated")},
		103: {Kind: network.TruckParking, Lots: 7, Signs: []signText{access(network.HeavyGoods, network.Unread, "only")}},
		104: {Kind: network.TruckParking, Lots: 3},
		106: {Kind: network.TruckParking, Lots: -1, Signs: []signText{access(network.Everyone, network.Destination, "customers")}},
		107: {Kind: network.ServiceArea, Lots: 0}, 108: {Kind: network.ServiceArea, Lots: -1},
	}
	for id := range want {
		unlike(t, "place", got[id], want[id])
	}
	if len(got) != len(want) || r.Stopping != len(want) || n.Lacks(network.Stopping) {
		t.Errorf("%d places, %d counted, lacking: %v", len(got), r.Stopping, n.Lacks(network.Stopping))
	}
	bare, _, _ := eastward()
	bare.node(101, at, "amenity=fuel")
	if n, _ := made(t, osm.Options{}, bare); !n.Lacks(network.Stopping) {
		t.Error("an extract without a place to stop at is said to know them")
	}
}
