package wire

import (
	"encoding/xml"
	"errors"
	"io"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/geodesic"
)

// gpxDocument is what is read of a GPX 1.1 document (topografix.com/GPX/1/1).
type gpxDocument struct {
	XMLName xml.Name   `xml:"gpx"`
	Tracks  []gpxTrack `xml:"trk"`
	Routes  []struct {
		Points []gpxPoint `xml:"rtept"`
	} `xml:"rte"`
}

type gpxTrack struct {
	Segments []struct {
		Points []gpxPoint `xml:"trkpt"`
	} `xml:"trkseg"`
}

type gpxPoint struct {
	Lat *float64 `xml:"lat,attr"`
	Lon *float64 `xml:"lon,attr"`
}

// segmentGap is how far apart two segments of a track may be and still be one
// line, as after a pause.
const segmentGap measure.Distance = 1000

// gpxLine reads the points of the tracks of a GPX document in order, which must follow
// each other as those of legs do. A document without a track is read for the points of its
// route: what lies between two of them is found on the roads as of any other line, or is
// not known.
func gpxLine(in io.Reader) (orb.LineString, error) {
	var doc gpxDocument
	d := xmlIn(in)
	if err := d.Decode(&doc); err != nil {
		var other xml.UnmarshalError // its root is another
		if errors.As(err, &other) {
			return nil, say.Err(say.That("error.no_gpx"))
		}
		return nil, noXML(d, err)
	}
	var lines []orb.LineString
	for _, t := range doc.Tracks {
		line, err := t.line()
		if err != nil {
			return nil, err
		}
		lines = append(lines, line)
	}
	if len(doc.Tracks) == 0 {
		if len(doc.Routes) > 1 {
			return nil, say.Err(say.That("error.routes", "n", len(doc.Routes)))
		}
		for _, r := range doc.Routes {
			line, err := gpxPoints(nil, r.Points)
			if err != nil {
				return nil, err
			}
			lines = append(lines, line)
		}
	}
	return joined(lines)
}

// line reads the segments of a track, between which there may be a pause.
func (t gpxTrack) line() (line orb.LineString, err error) {
	for i, s := range t.Segments {
		from := len(line)
		if line, err = gpxPoints(line, s.Points); err != nil {
			return nil, err
		}
		if from == 0 || from == len(line) {
			continue
		}
		if gap := geodesic.Between(line[from-1], line[from]); gap > segmentGap {
			return nil, say.Err(say.That("error.segments", "gap", gap, "one", i, "other", i+1))
		}
	}
	return line, nil
}

func gpxPoints(line orb.LineString, points []gpxPoint) (orb.LineString, error) {
	for _, p := range points {
		if p.Lat == nil || p.Lon == nil {
			return nil, say.Err(say.That("error.a_point_without_lat"))
		}
		line = append(line, orb.Point{*p.Lon, *p.Lat})
	}
	return line, nil
}
