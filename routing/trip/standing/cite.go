package standing

import (
	"fmt"

	"wayhouse/regs/finding"
	"wayhouse/routing/network"
)

// Element names an element of OpenStreetMap; "" where there is none.
func Element(kind string, id int64) string {
	if id == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d", kind, id)
}

// SpotElement names the element of a spot.
func SpotElement(s network.Spot) string {
	switch {
	case s.Kind == network.UnreadTurn:
		return Element("relation", s.OSM)
	case s.OnNode == 1:
		return Element("node", s.OSM)
	default:
		return Element("way", s.OSM)
	}
}

// mapID begins the id of a row that is an element of the map.
const mapID = "osm "

// Cite says where a finding of the map comes from: nobody vouches for it.
func (a *Atlas) Cite(of, published string) []finding.Citation {
	if of == "" {
		return nil
	}
	return []finding.Citation{{
		ID: mapID + of, Revision: a.Network.About.Revision, Published: published, Status: finding.Secondary,
		Source: "OpenStreetMap " + of, Year: a.Network.About.Vintage, Decides: true,
	}}
}

// CiteNetwork gives findings that rest on no element of the map the network as their
// row. It decides what is to be looked at, never what is not known.
func (a *Atlas) CiteNetwork(findings []finding.Finding) []finding.Finding {
	about := a.Network.About
	for i := range findings {
		if f := &findings[i]; len(f.Citations) == 0 {
			f.Citations = []finding.Citation{{
				ID: "network", Revision: about.Revision, Published: "lines and levels of roads", Status: finding.Secondary,
				Source: about.Name, Year: about.Vintage, Decides: f.Outcome != finding.Unknown,
			}}
		}
	}
	return findings
}

// CiteWay says that a finding comes from the way of an edge.
func (a *Atlas) CiteWay(e network.EdgeID, published string) []finding.Citation {
	return a.Cite(Element("way", a.Network.Origin(e)), published)
}
