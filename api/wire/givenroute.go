package wire

import (
	"encoding/xml"
	"io"
	"strings"

	"github.com/paulmach/orb"

	"wayhouse/regs/measure"
	"wayhouse/regs/say"
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
		r.fail("route", nil, say.That("error.forms", "n", given), say.That("fix.give_exactly_one_of"))
		return nil
	}
	var line orb.LineString
	var err error
	switch {
	case q.GeoJSON != nil:
		if line, err = geoJSONLine(q.GeoJSON); err != nil {
			r.fail("route.geojson", nil, say.Of(err), say.That("fix.give_a_linestring_with"))
		}
	case q.GPX != "":
		if line, err = gpxLine(strings.NewReader(q.GPX)); err != nil {
			r.fail("route.gpx", nil, say.Of(err), say.That("fix.give_a_gpx_1"))
		}
	case q.KML != "":
		if line, err = kmlLine(strings.NewReader(q.KML)); err != nil {
			r.fail("route.kml", nil, say.Of(err), say.That("fix.give_a_kml_document"))
		}
	default:
		return &trip.Given{Roads: q.Roads}
	}
	return &trip.Given{Line: line}
}

var errNoLine = say.Err(say.That("error.no_line_of_two"))

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
				return nil, say.Err(say.That("error.lines_apart", "n", len(lines), "at", i+1))
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
		return nil, say.Err(say.That("error.charset", "name", name))
	}
	return d
}
