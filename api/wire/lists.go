package wire

import (
	"slices"
	"strings"

	"wayhouse/routing/rig/parts"
)

// Status is the answer of the health routes.
type Status struct {
	Status string `json:"status"`
	Tables string `json:"tables,omitempty"`
	Roads  string `json:"network,omitempty"`
	Edits  string `json:"edits,omitempty" doc:"Whether changes of the tables are kept, or why they are refused"`

	Version string `json:"version" doc:"Which build of the program answers"`
}

// Jurisdiction is an area with rules of its own.
type Jurisdiction struct {
	Code       string   `json:"code"`
	Name       string   `json:"name"`
	French     string   `json:"name_fr,omitempty" doc:"Its name in French, where that is another"`
	TimeZone   string   `json:"time_zone"`
	OtherZones []string `json:"other_zones"`
	Ask        string   `json:"ask"`
	Rows       int      `json:"rows" doc:"Rows of limits that the tables hold, municipalities included"`
}

// Jurisdictions is a list of them, with the credit it must carry.
type Jurisdictions struct {
	Jurisdictions []Jurisdiction `json:"jurisdictions"`
	Attribution   string         `json:"attribution"`
}

// Place is a town, or what lies on the roads of the network.
type Place struct {
	Kind         string  `json:"kind" doc:"town, address, street or crossing"`
	Name         string  `json:"name"`
	Town         string  `json:"town,omitempty" doc:"Municipality of what is no town itself"`
	Nearest      bool    `json:"town_is_nearest,omitempty" doc:"The town is the nearest settlement: no municipality is known"`
	Jurisdiction string  `json:"jurisdiction"`
	Lat          float64 `json:"lat"`
	Lon          float64 `json:"lon"`
}

// Called prints "Cornwall, CA-ON" or "221 Main Street, Dover, US-DE".
func (p Place) Called() string {
	return strings.Join(slices.DeleteFunc([]string{p.Name, p.Town, p.Jurisdiction}, func(s string) bool {
		return s == ""
	}), ", ")
}

// Places is a list of them, with the credit it must carry.
type Places struct {
	Places      []Place `json:"places"`
	Attribution string  `json:"attribution"`
}

// Sources is where the shipped data comes from.
type Sources struct {
	Sources []Attribution `json:"sources"`
	Notices string        `json:"notices,omitempty" doc:"The licences of the Go modules that the program is linked of"`
}

// PartList is the catalogue of parts.
type PartList struct {
	Revision string      `json:"revision"`
	Parts    []PartEntry `json:"parts"`
	Caution  string      `json:"caution"`
}

// PartEntry is one entry of the catalogue.
type PartEntry struct {
	ID        string     `json:"id"`
	Name      string     `json:"name"`
	Group     string     `json:"group"`
	Per       parts.Unit `json:"per" doc:"What the masses are of"`
	LowKG     float64    `json:"low_kg"`
	TypicalKG float64    `json:"typical_kg"`
	HighKG    float64    `json:"high_kg"`
	Layers    string     `json:"layers,omitempty" doc:"What it is made of: low and typical are theirs, high may be a load that buildings are designed for"`
	Published string     `json:"published,omitempty" doc:"The figure as the source prints it"`
	Note      string     `json:"note,omitempty"`
	Status    string     `json:"status"`
	Source    string     `json:"source"`
}

// Settings are what holds where a flag of the command line is not given.
type Settings struct {
	File     string    `json:"file" doc:"The configuration file"`
	There    bool      `json:"there" doc:"Whether there is such a file"`
	Settings []Setting `json:"settings"`
}

// Setting is one of them.
type Setting struct {
	Flag     string `json:"flag"`
	Variable string `json:"variable"`
	Key      string `json:"key" doc:"In the configuration file"`
	Value    string `json:"value,omitempty" doc:"Left out where neither says anything"`
	By       string `json:"by,omitempty" doc:"The variable or the file that says it"`
}
