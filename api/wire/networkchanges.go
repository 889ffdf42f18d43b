package wire

import (
	"wayhouse/api/phrase"
	"wayhouse/regs/say"
	"wayhouse/routing/change"
	"wayhouse/routing/network"
)

// NetworkChanges is what differs between two network files.
type NetworkChanges struct {
	Before  NetworkEdition  `json:"before"`
	After   NetworkEdition  `json:"after"`
	Trips   []ChangedTrip   `json:"trips,omitempty"`
	Counts  []ChangeCount   `json:"counts"`
	Changes []NetworkChange `json:"changes"`
}

// NetworkEdition names a network file.
type NetworkEdition struct {
	Name        string `json:"name"`
	Vintage     string `json:"vintage"`
	Revision    string `json:"revision"`
	Attribution string `json:"attribution"`
}

// ChangedTrip is a trip along which changes are.
type ChangedTrip struct {
	Name   string        `json:"name"`
	Counts []ChangeCount `json:"counts"`
	Why    string        `json:"why,omitempty"` // why its way is not known
}

// ChangeCount counts the changes of a kind.
type ChangeCount struct {
	Kind    string `json:"kind"`
	Gone    int    `json:"gone"`
	Changed int    `json:"changed"`
	Added   int    `json:"added"`
}

// NetworkChange is one difference.
type NetworkChange struct {
	Kind          string   `json:"kind"` // structure, limit, closure, turn_rule, direction or road
	How           string   `json:"how"`  // gone, changed or added
	What          string   `json:"what"`
	Before        []string `json:"before"`
	After         []string `json:"after"`
	ElementType   string   `json:"element_type"`
	ElementID     int64    `json:"element_id"`
	Road          string   `json:"road"`
	Jurisdictions []string `json:"jurisdictions"`
	Lat           float64  `json:"lat"`
	Lon           float64  `json:"lon"`
	Trips         []string `json:"trips,omitempty"`
}

// NewNetworkChanges says changes in a language, along trips if there are any.
func NewNetworkChanges(in *phrase.Language, before, after network.About, changes []change.Change,
	trips []change.Trip) NetworkChanges {
	edition := func(a network.About) NetworkEdition {
		return NetworkEdition{in.Ours(a.Name), in.Ours(a.Vintage), a.Revision, a.Attribution}
	}
	said := func(all []say.Remark) []string {
		out := []string{}
		for _, r := range all {
			out = append(out, in.Say(r))
		}
		return out
	}
	out := NetworkChanges{
		Before: edition(before), After: edition(after), Counts: changeCounts(changes), Changes: []NetworkChange{},
	}
	for _, t := range trips {
		out.Trips = append(out.Trips, ChangedTrip{t.Name, changeCounts(change.Of(changes, t.Name)), in.Say(t.Why)})
	}
	for _, c := range changes {
		out.Changes = append(out.Changes, NetworkChange{
			Kind: string(c.Kind), How: string(c.How), What: in.Say(c.What), Before: said(c.Before), After: said(c.After),
			ElementType: c.Element.Type, ElementID: c.Element.ID, Road: in.Say(c.Road),
			Jurisdictions: append([]string{}, c.Jurisdictions...), Lat: c.Point.Lat(), Lon: c.Point.Lon(),
			Trips: c.Trips,
		})
	}
	return out
}

func changeCounts(changes []change.Change) []ChangeCount {
	out := []ChangeCount{}
	for _, c := range change.Counts(changes) {
		out = append(out, ChangeCount{string(c.Kind), c.Gone, c.Altered, c.Added})
	}
	return out
}
