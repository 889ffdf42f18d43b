package wire

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/routing/geodesic"
	"wayhouse/routing/trip"
)

func (r *reader) route(q *GivenRequest) *trip.Given {
	if q == nil {
		return nil
	}
	given := 0
	for _, has := range []bool{q.GeoJSON != nil, q.GPX != "", q.KML != "", len(q.Roads) > 0} {
		if has {
			given++
		}
	}
	if given != 1 {
		r.fail("route", nil, fmt.Sprintf("is given in %d forms", given), "give exactly one of geojson, gpx, kml, roads")
		return nil
	}
	var line orb.LineString
	var err error
	switch {
	case q.GeoJSON != nil:
		if line, err = geoJSONLine(q.GeoJSON); err != nil {
			r.fail("route.geojson", nil, err.Error(), "give a LineString with longitude first")
		}
	case q.GPX != "":
		if line, err = gpxLine(strings.NewReader(q.GPX)); err != nil {
			r.fail("route.gpx", nil, err.Error(), "give a GPX 1.1 document with one track, or with one route")
		}
	case q.KML != "":
		if line, err = kmlLine(strings.NewReader(q.KML)); err != nil {
			r.fail("route.kml", nil, err.Error(), "give a KML document with one LineString")
		}
	default:
		return &trip.Given{Roads: q.Roads}
	}
	return &trip.Given{Line: line}
}

var errNoLine = errors.New("has no line of two points or more")

// lineGap is how far apart two lines may be and still be one, as those of legs that
// follow each other: coordinates are written to a metre or finer.
const lineGap measure.Distance = 1

// joined makes one line of lines that follow each other; of less than two points there is
// no line.
func joined(lines []orb.LineString) (out orb.LineString, err error) {
	for i, line := range lines {
		if len(line) < 2 {
			continue
		}
		if n := len(out); n > 0 {
			if geodesic.Between(out[n-1], line[0]) > lineGap {
				return nil, fmt.Errorf("has %d lines, of which number %d does not start where the one before it ends",
					len(lines), i+1)
			}
			line = line[1:]
		}
		out = append(out, line...)
	}
	if len(out) < 2 {
		return nil, errNoLine
	}
	return out, nil
}

// xmlIn reads XML that is written as UTF-8.
func xmlIn(in io.Reader) *xml.Decoder {
	d := xml.NewDecoder(in)
	d.CharsetReader = func(name string, _ io.Reader) (io.Reader, error) {
		return nil, fmt.Errorf("it is written in %s; save it as UTF-8", name)
	}
	return d
}
