package export

import (
	"encoding/xml"
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/routing/network"
	"wayhouse/routing/trip"
)

// asGPX is for devices that follow a track (GPX 1.1). A ladder has none: its steps were
// not checked for any rig.
func asGPX() Format {
	return Format{"gpx", "application/gpx+xml", []writer{of(tripTrack), of(wayTracks)}}
}

// gpx and what is in it have the elements of topografix.com/GPX/1/1/gpx.xsd in the order
// that it asks for.
type gpx struct {
	XMLName  xml.Name      `xml:"http://www.topografix.com/GPX/1/1 gpx"`
	Version  string        `xml:"version,attr"`
	Creator  string        `xml:"creator,attr"`
	Metadata gpxText       `xml:"metadata"`
	Points   []gpxWaypoint `xml:"wpt"`
	Tracks   []gpxTrack    `xml:"trk"`
}

type gpxText struct {
	Name string `xml:"name"`
	Desc string `xml:"desc"`
}

type gpxPoint struct {
	Lat string `xml:"lat,attr"`
	Lon string `xml:"lon,attr"`
}

type gpxWaypoint struct {
	gpxPoint
	gpxText
	Type string `xml:"type"`
}

type gpxTrack struct {
	gpxText
	Points []gpxPoint `xml:"trkseg>trkpt"`
}

// tripTrack writes a trip as a track for each leg, with a waypoint for each thing to look
// at and for each task.
func tripTrack(w io.Writer, v report.View, p *trip.Plan) error {
	if !p.Drivable() {
		return errForbidden("gpx")
	}
	doc := gpxOf(v.In, p, p.RestsOnInvented())
	for _, s := range spots(p, wire.NewTrip(v.In, p)) {
		at := gpxWaypoint{gpxPoint: gpxAt(s.point), Type: s.feature}
		at.Name, at.Desc = v.In.Say(s.name), v.In.Say(s.says)
		doc.Points = append(doc.Points, at)
	}
	doc.Points = append(doc.Points, taskPoints(v.In, p)...)
	for i, leg := range lines(p) {
		says := append(about(p), legSays(p.Legs[i]))
		doc.Tracks = append(doc.Tracks, track(v.In, legName(i, p.Legs[i]), says, leg))
	}
	return writeGPX(w, doc)
}

// taskPoints are the tasks of a trip, each where the first leg that it is about begins.
func taskPoints(in *phrase.Language, p *trip.Plan) (out []gpxWaypoint) {
	starts := lines(p)
	for i, t := range p.Tasks().Tasks {
		at := starts[0][0]
		if len(t.Legs) > 0 {
			at = starts[t.Legs[0]-1][0]
		}
		var asks []say.Remark
		for _, a := range t.Asks {
			asks = append(asks, a.Says)
		}
		point := gpxWaypoint{gpxPoint: gpxAt(at), Type: "task"}
		point.Name = in.Say(say.That("export.task", "number", i+1, "id", t.ID))
		point.Desc = in.Say(say.That("export.task_says", "by", t.By, "whom", t.Whom, "asks", asks))
		out = append(out, point)
	}
	return out
}

// wayTracks writes the ways that may be driven, a track each.
func wayTracks(w io.Writer, v report.View, r *trip.Routes) error {
	if !r.Best.Drivable() {
		return errForbidden("gpx")
	}
	doc := gpxOf(v.In, r.Best, r.RestsOnInvented())
	for _, way := range ways(r) {
		if !way.drawn && way.plan.Drivable() {
			doc.Tracks = append(doc.Tracks, track(v.In, way.name, about(way.plan), whole(way.plan)))
		}
	}
	return writeGPX(w, doc)
}

// errForbidden refuses what leads a driver along without a word.
func errForbidden(format string) error {
	return &measure.FieldError{
		Field: "format", Value: format, Problem: say.That("error.trip_forbidden"),
		Fix: say.That("fix.trip_forbidden"),
	}
}

func gpxOf(in *phrase.Language, p *trip.Plan, invented bool) *gpx {
	desc := p.About.Attribution
	if invented {
		desc = in.Sentences([]say.Remark{say.That("head.invented")}) + " " + desc
	}
	return &gpx{Version: "1.1", Creator: "Wayhouse", Metadata: gpxText{in.Say(title(p)), desc}}
}

// whole is the line of a trip from end to end.
func whole(p *trip.Plan) (line orb.LineString) {
	for _, leg := range lines(p) {
		line = network.Join(line, leg)
	}
	return line
}

// track is a line in one segment. It says all that a driver must know, since devices keep
// tracks and not what stands beside them.
func track(in *phrase.Language, name say.Remark, says []say.Remark, line orb.LineString) gpxTrack {
	says = append([]say.Remark{say.That("export.as_drawn")}, says...)
	t := gpxTrack{gpxText: gpxText{in.Say(name), in.Sentences(says)}}
	for _, at := range line {
		t.Points = append(t.Points, gpxAt(at))
	}
	return t
}

// gpxAt writes decimals without an exponent. The schema has no longitude of 180: it is
// that of -180.
func gpxAt(p orb.Point) gpxPoint {
	if p.Lon() == 180 {
		p[0] = -180
	}
	return gpxPoint{strconv.FormatFloat(p.Lat(), 'f', -1, 64), strconv.FormatFloat(p.Lon(), 'f', -1, 64)}
}

func writeGPX(w io.Writer, doc *gpx) error {
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(doc); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}
