package wire

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/say"
)

// kmlLine reads the lines and tracks of a KML document (OGC 12-007r2), which must
// follow each other. Of the rest of it nothing is read.
func kmlLine(in io.Reader) (orb.LineString, error) {
	d := xmlIn(in)
	var lines []orb.LineString
	for root := ""; ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) && root != "" {
			return joined(lines)
		}
		if err != nil {
			return nil, noXML(d, err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if root == "" {
			if root = start.Name.Local; root != "kml" {
				return nil, say.Err(say.That("error.no_kml", "root", root))
			}
		}
		if name := start.Name.Local; name == "LineString" || name == "Track" {
			line, err := kmlPositions(d, &start)
			if err != nil {
				return nil, err
			}
			lines = append(lines, line)
		}
	}
}

// kmlPositions reads the coordinates of a LineString, which stand in one text, or those
// of a Track, which stand in one each.
func kmlPositions(d *xml.Decoder, start *xml.StartElement) (line orb.LineString, _ error) {
	var of struct {
		Coordinates string   `xml:"coordinates"`
		Coord       []string `xml:"coord"`
	}
	if err := d.DecodeElement(&of, start); err != nil {
		return nil, noXML(d, err)
	}
	var all [][]string
	for _, at := range strings.Fields(of.Coordinates) {
		all = append(all, strings.Split(at, ","))
	}
	for _, at := range of.Coord {
		all = append(all, strings.Fields(at))
	}
	for i, at := range all {
		if len(at) < 2 {
			return nil, say.Err(say.That("error.position_bare", "n", i))
		}
		lon, errLon := strconv.ParseFloat(at[0], 64)
		lat, errLat := strconv.ParseFloat(at[1], 64)
		if errLon != nil || errLat != nil {
			return nil, say.Err(say.That("error.position_off", "n", i))
		}
		line = append(line, orb.Point{lon, lat})
	}
	return line, nil
}
